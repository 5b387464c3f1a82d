/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/line.h"

#include "chart/axis.h"
#include "chart/text-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define PLOT 150.0    /* height of the field without the words of the marks */
#define A_TICK 80.0
#define PAD 6.0

static double
or_zero (double x)
{
  return isnan (x) ? 0 : CLAMP (x, -CHART_MOST, CHART_MOST);
}

static double
gain_at (const ChartLine *line, double x)
{
  return or_zero (or_zero (line->gain) + or_zero (line->slope) * (x - or_zero (line->at)));
}

/* What the picture must hold, and a seventh more, from zero where nothing lies below. */
static void
find_range (const ChartLine *line, double *low, double *high)
{
  if (isfinite (line->low) && isfinite (line->high) && line->low < line->high)
    {
      *low = line->low;
      *high = line->high;
      return;
    }
  *low = MIN (0, or_zero (line->at));
  *high = MAX (0, or_zero (line->at));
  if (isfinite (line->crossing))
    {
      *low = MIN (*low, or_zero (line->crossing));
      *high = MAX (*high, or_zero (line->crossing));
    }
  for (gsize i = 0; i < line->n_marks; i++)
    if (isfinite (line->mark[i].at))
      {
        *low = MIN (*low, or_zero (line->mark[i].at));
        *high = MAX (*high, or_zero (line->mark[i].at));
      }
  *high += (*high - *low) / 7;
}

/* The words of the marks stand above the field, each in the first row where it meets no other. */
static double
plan_marks (const ChartPaper *paper, const ChartLine *line, ChartLinePlan *plan, double width)
{
  g_autofree double *end = g_new0 (double, line->n_marks + 1);
  double h;
  int rows = 0;

  chart_text_size (paper, "Xg", CHART_SMALL, NULL, &h);
  for (gsize i = 0; i < line->n_marks; i++)
    {
      ChartBox *label = &plan->mark_label[i];
      double at = line->mark[i].at;
      gsize row = 0;
      plan->mark_x[i] = isnan (at) || at < plan->x.low || at > plan->x.high ? NAN : chart_scale_at (&plan->x, at);
      if (isnan (plan->mark_x[i]))
        continue;
      chart_text_size (paper, line->mark[i].words, CHART_SMALL, &label->w, NULL);
      label->w = MIN (label->w, width);
      label->h = h;
      label->x = CLAMP (plan->mark_x[i] - label->w / 2, 0, MAX (width - label->w, 0));
      while (row < line->n_marks && end[row] > 0 && end[row] + PAD > label->x)
        row++;
      end[row] = chart_box_end (label);
      label->y = (double) row * (h + 2);
      rows = MAX (rows, (int) row + 1);
    }
  return rows * (h + 2);
}

/* The ends of the line where it leaves the field. */
static void
plan_ends (const ChartLine *line, ChartLinePlan *plan)
{
  double a = plan->x.low, b = plan->x.high;

  plan->x0 = chart_scale_at (&plan->x, a);
  plan->x1 = chart_scale_at (&plan->x, b);
  plan->y0 = chart_scale_at (&plan->y, gain_at (line, a));
  plan->y1 = chart_scale_at (&plan->y, gain_at (line, b));
}

/* Whether the line of a mark would run through a label. */
static gboolean
struck (const ChartLine *line, const ChartLinePlan *plan, double x, double w)
{
  for (gsize i = 0; i < line->n_marks; i++)
    if (!isnan (plan->mark_x[i]) && plan->mark_x[i] > x - 2 && plan->mark_x[i] < x + w + 2)
      return TRUE;
  return FALSE;
}

/* Beside the point, on the side of the zero line away from the gain's line, where there is room and no mark's line. */
static void
plan_cross (const ChartPaper *paper, const ChartLine *line, ChartLinePlan *plan, double width)
{
  ChartBox *label = &plan->cross_label;
  gboolean inside = isfinite (line->crossing) && line->crossing >= plan->x.low && line->crossing <= plan->x.high;
  gboolean fits_right, fits_left;
  double right, left;

  plan->cross_x = inside ? chart_scale_at (&plan->x, line->crossing) : NAN;
  if (!inside || !line->crossing_words)
    return;
  chart_text_size (paper, line->crossing_words, CHART_BOLD, &label->w, &label->h);
  label->w = MIN (label->w, width);
  right = plan->cross_x + PAD;
  left = plan->cross_x - PAD - label->w;
  fits_right = right + label->w <= width;
  fits_left = left >= plan->x.from;
  /* A rising line leaves the room below it to the right, above it to the left. */
  if (fits_right && (!struck (line, plan, right, label->w) || !fits_left || struck (line, plan, left, label->w)))
    {
      label->x = right;
      label->y = line->slope > 0 ? plan->zero_y + 4 : plan->zero_y - 4 - label->h;
    }
  else
    {
      label->x = CLAMP (left, 0, width - label->w);
      label->y = line->slope > 0 ? plan->zero_y - 4 - label->h : plan->zero_y + 4;
    }
  label->y = CLAMP (label->y, plan->top, MAX (plan->bottom - label->h, plan->top));
}

static double
plan_y_ticks (const ChartPaper *paper, const ChartScale *y, ChartBox *tick)
{
  double widest = 0;

  for (int i = 0; i < chart_scale_n_ticks (y); i++)
    {
      g_autofree char *words = chart_scale_print (y, chart_scale_tick (y, i));
      chart_text_size (paper, words, CHART_SMALL, &tick[i].w, &tick[i].h);
      widest = MAX (widest, tick[i].w);
    }
  return widest;
}

void
chart_line_plan (const ChartPaper *paper, const ChartLine *line, double width, ChartLinePlan *plan)
{
  double low, high, left, words;

  *plan = (ChartLinePlan) { .mark_x = g_new0 (double, line->n_marks + 1), .mark_label = g_new0 (ChartBox, line->n_marks + 1) };
  width = isfinite (width) ? MAX (width, 1) : 1;
  find_range (line, &low, &high);
  /* The gains shown are those at the ends of the axis, which is widened to whole steps; their words give its left end. */
  chart_scale_init (&plan->x, low, high, 0, width, MAX ((int) (width / A_TICK), 1));
  chart_scale_init (&plan->y, MIN (0, MIN (gain_at (line, plan->x.low), gain_at (line, plan->x.high))),
                    MAX (0, MAX (gain_at (line, plan->x.low), gain_at (line, plan->x.high))), PLOT, 0, 4);
  plan->y_tick = g_new0 (ChartBox, (gsize) chart_scale_n_ticks (&plan->y));
  left = MIN (plan_y_ticks (paper, &plan->y, plan->y_tick) + PAD, width / 2);
  plan->x.from = left;
  plan->x.to = MAX (width - 2, left + 1);
  words = plan_marks (paper, line, plan, width);
  plan->top = words + 2;
  plan->bottom = plan->top + PLOT;
  plan->y.from = plan->bottom;
  plan->y.to = plan->top;
  for (int i = 0; i < chart_scale_n_ticks (&plan->y); i++)
    {
      plan->y_tick[i].x = MAX (left - PAD - plan->y_tick[i].w, 0);
      plan->y_tick[i].y = chart_scale_at (&plan->y, chart_scale_tick (&plan->y, i)) - plan->y_tick[i].h / 2;
    }
  plan->zero_y = chart_scale_at (&plan->y, 0);
  plan_ends (line, plan);
  plan_cross (paper, line, plan, width);
  plan->x_tick = chart_axis_plan (paper, &plan->x, plan->bottom + PAD, width);
  plan->height = plan->bottom + PAD + chart_axis_height (paper, line->words);
}

void
chart_line_plan_clear (ChartLinePlan *plan)
{
  g_clear_pointer (&plan->mark_x, g_free);
  g_clear_pointer (&plan->mark_label, g_free);
  g_clear_pointer (&plan->x_tick, g_free);
  g_clear_pointer (&plan->y_tick, g_free);
}

double
chart_line_height (const ChartPaper *paper, const ChartLine *line, double width)
{
  ChartLinePlan plan;

  chart_line_plan (paper, line, width, &plan);
  chart_line_plan_clear (&plan);
  return plan.height;
}

/* From its words down, leaving out the words of others that stand in its way. */
static void
draw_mark_line (const ChartPaper *paper, const ChartLine *line, const ChartLinePlan *plan, gsize i, const ChartColour *colour)
{
  double x = plan->mark_x[i], from = plan->mark_label[i].y + plan->mark_label[i].h;

  for (double row = from; row < plan->top; row += plan->mark_label[i].h + 2)
    for (gsize k = 0; k < line->n_marks; k++)
      {
        const ChartBox *other = &plan->mark_label[k];
        if (k == i || isnan (plan->mark_x[k]) || fabs (other->y - row) > other->h / 2 || x < other->x - 2 || x > chart_box_end (other) + 2)
          continue;
        /* A dash in the gap between two words would look as if it struck them. */
        if (other->y > from + 4)
          chart_stroke (paper, colour, x, from, x, other->y, 1);
        from = MAX (from, other->y + other->h);
      }
  chart_stroke (paper, colour, x, from, x, plan->bottom + PAD, 1);
}

static void
draw_marks (const ChartPaper *paper, const ChartLine *line, const ChartLinePlan *plan)
{
  static const double dashed[] = { 5, 3 }, dotted[] = { 1.5, 3 };

  for (gsize i = 0; i < line->n_marks; i++)
    {
      gboolean doubtful = line->mark[i].doubtful;
      const ChartColour *colour = doubtful ? &paper->palette->warning : &paper->palette->text;
      const ChartBox *label = &plan->mark_label[i];
      if (isnan (plan->mark_x[i]))
        continue;
      cairo_set_dash (paper->cr, doubtful ? dotted : dashed, 2, 0);
      draw_mark_line (paper, line, plan, i, colour);
      cairo_set_dash (paper->cr, NULL, 0, 0);
      chart_text (paper, line->mark[i].words, CHART_SMALL, colour, label->x, label->y, label->w + 0.5);
    }
}

void
chart_line_draw (const ChartPaper *paper, const ChartLine *line, double width)
{
  const ChartPalette *palette = paper->palette;
  ChartLinePlan plan;

  chart_line_plan (paper, line, width, &plan);
  for (int i = 0; i < chart_scale_n_ticks (&plan.y); i++)
    {
      g_autofree char *words = chart_scale_print (&plan.y, chart_scale_tick (&plan.y, i));
      chart_text (paper, words, CHART_SMALL, &palette->dim, plan.y_tick[i].x, plan.y_tick[i].y, 0);
    }
  chart_stroke (paper, &palette->dim, plan.x.from, plan.zero_y, plan.x.to, plan.zero_y, 1);
  draw_marks (paper, line, &plan);
  cairo_save (paper->cr);
  cairo_rectangle (paper->cr, plan.x.from, plan.top - 1, plan.x.to - plan.x.from, plan.bottom - plan.top + 2);
  cairo_clip (paper->cr);
  chart_stroke (paper, &palette->accent, plan.x0, plan.y0, plan.x1, plan.y1, 2);
  cairo_restore (paper->cr);
  if (!isnan (plan.cross_x))
    {
      cairo_new_path (paper->cr);
      cairo_arc (paper->cr, plan.cross_x, plan.zero_y, 4.5, 0, 2 * G_PI);
      cairo_set_source_rgba (paper->cr, palette->accent.r, palette->accent.g, palette->accent.b, palette->accent.a);
      cairo_fill (paper->cr);
      if (plan.cross_label.w > 0)
        chart_text (paper, line->crossing_words, CHART_BOLD, &palette->text, plan.cross_label.x, plan.cross_label.y,
                    plan.cross_label.w + 0.5);
    }
  chart_axis_draw (paper, &plan.x, plan.x_tick, plan.bottom + PAD, line->words, width);
  chart_line_plan_clear (&plan);
}

/* ---- as text ---- */

typedef struct
{
  double x;
  const char *words;
} Point;

static int
by_x (gconstpointer a, gconstpointer b)
{
  const Point *p = a, *q = b;

  return p->x < q->x ? -1 : p->x > q->x;
}

/* Everything that has words, in order: ticks, marks and the crossing. */
static GArray *
find_points (const ChartLine *line, const ChartScale *x)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (Point));
  Point p;

  for (int i = 0; i < chart_scale_n_ticks (x); i++)
    {
      p = (Point) { chart_scale_tick (x, i), "" };
      g_array_append_val (points, p);
    }
  for (gsize i = 0; i < line->n_marks; i++)
    if (isfinite (line->mark[i].at))
      {
        p = (Point) { line->mark[i].at, line->mark[i].words };
        g_array_append_val (points, p);
      }
  if (isfinite (line->crossing))
    {
      p = (Point) { line->crossing, line->crossing_words };
      g_array_append_val (points, p);
    }
  g_array_sort (points, by_x);
  return points;
}

char *
chart_line_table (const ChartLine *line)
{
  g_autoptr (ChartTable) table = chart_table_new ("rrl");
  g_autoptr (GArray) points = NULL;
  double low, high;
  ChartScale x;

  find_range (line, &low, &high);
  chart_scale_init (&x, low, high, 0, 1, 5);
  points = find_points (line, &x);
  chart_table_add (table, line->figure);
  chart_table_add (table, line->gain_words);
  chart_table_add (table, "");
  for (guint i = 0; i < points->len; i++)
    {
      const Point *p = &g_array_index (points, Point, i);
      chart_table_take (table, chart_figure (or_zero (p->x), x.step < 0.02 ? 4 : 2));
      chart_table_take (table, chart_figure (gain_at (line, or_zero (p->x)), 2));
      chart_table_add (table, p->words);
    }
  return chart_table_print (table);
}

#define DOT 4.5 /* half of the box around a point */

GPtrArray *
chart_line_spots (const ChartPaper *paper, const ChartLine *line, double width)
{
  GPtrArray *spots = chart_spots_new ();
  g_autoptr (GArray) points = NULL;
  ChartLinePlan plan;

  chart_line_plan (paper, line, width, &plan);
  points = find_points (line, &plan.x);
  for (guint i = 0; i < points->len; i++)
    {
      const Point *p = &g_array_index (points, Point, i);
      double at = or_zero (p->x);
      if (at < plan.x.low || at > plan.x.high)
        continue;
      g_autofree char *value = chart_scale_figure (&plan.x, at), *gain = chart_scale_figure (&plan.y, gain_at (line, at));
      ChartBox box = { chart_scale_at (&plan.x, at) - DOT, chart_scale_at (&plan.y, gain_at (line, at)) - DOT, 2 * DOT, 2 * DOT };
      chart_spots_add (spots, &box, *p->words ? g_strdup_printf (_ ("%s %s: %s %s; %s"), line->figure, value, line->gain_words, gain, p->words)
                                              : g_strdup_printf (_ ("%s %s: %s %s"), line->figure, value, line->gain_words, gain));
    }
  chart_line_plan_clear (&plan);
  return spots;
}

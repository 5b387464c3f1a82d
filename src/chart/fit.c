/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/fit.h"

#include "chart/axis.h"
#include "chart/series.h"
#include "chart/text-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define PLOT 220.0 /* height of the field */
#define A_TICK 80.0
#define PAD 6.0
#define MARK 8.0
#define TABLE_ROWS 6

static gboolean
sound (double v)
{
  return isfinite (v) && fabs (v) <= CHART_MOST;
}

static void
take (double v, double *low, double *high)
{
  if (!sound (v))
    return;
  *low = isnan (*low) ? v : MIN (*low, v);
  *high = isnan (*high) ? v : MAX (*high, v);
}

/* Everything that is drawn; the dashed band may leave the field where it is wider than twice what the points span. */
static void
find_ranges (const ChartFit *fit, double x[2], double y[2])
{
  double y_span[2] = { NAN, NAN }, span;

  x[0] = x[1] = y[0] = y[1] = NAN;
  for (gsize i = 0; i < fit->n_series; i++)
    {
      const ChartFitSeries *s = &fit->series[i];
      for (gsize k = 0; k < s->n; k++)
        if (sound (s->x[k]) && sound (s->y[k]))
          {
            take (s->x[k], &x[0], &x[1]);
            take (s->y[k], &y[0], &y[1]);
          }
      for (gsize k = 0; s->at && k < s->n_at; k++)
        {
          take (s->at[k], &x[0], &x[1]);
          take (s->mean[k], &y[0], &y[1]);
          take (s->mean[k] - s->new_half[k], &y_span[0], &y_span[1]);
          take (s->mean[k] + s->new_half[k], &y_span[0], &y_span[1]);
        }
    }
  if (!isnan (y_span[0]) && !isnan (y[0]))
    {
      span = MAX (y[1] - y[0], 1e-9);
      y[0] = MIN (y[0], MAX (y_span[0], y[0] - span));
      y[1] = MAX (y[1], MIN (y_span[1], y[1] + span));
    }
  for (int i = 0; i < 2; i++)
    {
      x[i] = isnan (x[i]) ? i : x[i];
      y[i] = isnan (y[i]) ? i : y[i];
    }
  /* Minutes that start near nothing are shown from nothing. */
  if (y[0] > 0 && y[0] < 0.25 * y[1])
    y[0] = 0;
}

static gboolean
has_name (const ChartFitSeries *s)
{
  return s->name && *s->name;
}

/* The keys in rows above the field; their height. */
static double
plan_keys (const ChartPaper *paper, const ChartFit *fit, ChartFitPlan *plan, double width)
{
  double x = 0, y = 0, h = 0;

  for (gsize i = 0; i < fit->n_series; i++)
    {
      ChartBox *key = &plan->key[i];
      if (!has_name (&fit->series[i]))
        continue;
      chart_text_size (paper, fit->series[i].name, CHART_SMALL, &key->w, &h);
      key->w = MIN (key->w + MARK + 2 * PAD, width);
      key->h = h;
      if (x > 0 && x + key->w > width)
        {
          x = 0;
          y += h + 4;
        }
      key->x = x;
      key->y = y;
      x += key->w + 2 * PAD;
    }
  return h > 0 ? y + h + 4 : 0;
}

void
chart_fit_plan (const ChartPaper *paper, const ChartFit *fit, double width, ChartFitPlan *plan)
{
  double x[2], y[2], left = 0, words_h;

  *plan = (ChartFitPlan) { .key = g_new0 (ChartBox, fit->n_series + 1) };
  width = isfinite (width) ? MAX (width, 1) : 1;
  find_ranges (fit, x, y);
  plan->words_y = plan_keys (paper, fit, plan, width);
  chart_text_size (paper, fit->y_words ? fit->y_words : "", CHART_SMALL, NULL, &words_h);
  plan->top = plan->words_y + words_h + PAD;
  plan->bottom = plan->top + PLOT;
  chart_scale_init (&plan->y, y[0], y[1], plan->bottom, plan->top, 5);
  plan->y_tick = g_new0 (ChartBox, (gsize) chart_scale_n_ticks (&plan->y) + 1);
  for (int i = 0; i < chart_scale_n_ticks (&plan->y); i++)
    {
      g_autofree char *words = chart_scale_print (&plan->y, chart_scale_tick (&plan->y, i));
      chart_text_size (paper, words, CHART_SMALL, &plan->y_tick[i].w, &plan->y_tick[i].h);
      left = MAX (left, plan->y_tick[i].w);
    }
  left = MIN (left + PAD, width / 2);
  for (int i = 0; i < chart_scale_n_ticks (&plan->y); i++)
    {
      plan->y_tick[i].x = MAX (left - PAD - plan->y_tick[i].w, 0);
      plan->y_tick[i].y = chart_scale_at (&plan->y, chart_scale_tick (&plan->y, i)) - plan->y_tick[i].h / 2;
    }
  chart_scale_init (&plan->x, x[0], x[1], left, MAX (width - MARK, left + 1), MAX ((int) (width / A_TICK), 1));
  plan->x_tick = chart_axis_plan (paper, &plan->x, plan->bottom + PAD, width);
  plan->band_y = plan->bottom + PAD + chart_axis_height (paper, fit->x_words);
  plan->height = plan->band_y + (fit->band_words && *fit->band_words ? words_h + 2 : 0);
}

void
chart_fit_plan_clear (ChartFitPlan *plan)
{
  g_clear_pointer (&plan->key, g_free);
  g_clear_pointer (&plan->x_tick, g_free);
  g_clear_pointer (&plan->y_tick, g_free);
}

double
chart_fit_height (const ChartPaper *paper, const ChartFit *fit, double width)
{
  ChartFitPlan plan;

  chart_fit_plan (paper, fit, width, &plan);
  chart_fit_plan_clear (&plan);
  return plan.height;
}

/* ---- drawing ---- */

/* A place in the picture; far outside stays so near that nothing overflows. */
static double
place (const ChartScale *scale, double v)
{
  double share = (v - scale->low) / (scale->high - scale->low);

  return scale->from + CLAMP (share, -10, 11) * (scale->to - scale->from);
}

static gboolean
drawable (const ChartFitSeries *s, gsize k)
{
  return sound (s->at[k]) && sound (s->mean[k]) && sound (s->mean_half[k]) && sound (s->new_half[k]);
}

/* Out along the upper edge and back along the lower. */
static void
draw_band (const ChartPaper *paper, const ChartFitPlan *plan, const ChartFitSeries *s, guint i)
{
  ChartColour c = chart_series_colour (paper->palette, i);

  cairo_new_path (paper->cr);
  for (gsize k = 0; k < s->n_at; k++)
    if (drawable (s, k))
      cairo_line_to (paper->cr, place (&plan->x, s->at[k]), place (&plan->y, s->mean[k] + s->mean_half[k]));
  for (gsize k = s->n_at; k-- > 0;)
    if (drawable (s, k))
      cairo_line_to (paper->cr, place (&plan->x, s->at[k]), place (&plan->y, s->mean[k] - s->mean_half[k]));
  cairo_close_path (paper->cr);
  cairo_set_source_rgba (paper->cr, c.r, c.g, c.b, 0.22);
  cairo_fill (paper->cr);
}

static void
draw_edges (const ChartPaper *paper, const ChartFitPlan *plan, const ChartFitSeries *s, guint i)
{
  static const double dashed[] = { 5, 4 };
  ChartColour c = chart_series_colour (paper->palette, i);

  cairo_save (paper->cr);
  cairo_set_source_rgba (paper->cr, c.r, c.g, c.b, c.a);
  cairo_set_line_width (paper->cr, 1);
  cairo_set_dash (paper->cr, dashed, 2, 0);
  for (int side = -1; side <= 1; side += 2)
    {
      cairo_new_path (paper->cr);
      for (gsize k = 0; k < s->n_at; k++)
        if (drawable (s, k))
          cairo_line_to (paper->cr, place (&plan->x, s->at[k]), place (&plan->y, s->mean[k] + side * s->new_half[k]));
      cairo_stroke (paper->cr);
    }
  cairo_set_dash (paper->cr, NULL, 0, 0);
  cairo_set_line_width (paper->cr, 2);
  cairo_new_path (paper->cr);
  for (gsize k = 0; k < s->n_at; k++)
    if (drawable (s, k))
      cairo_line_to (paper->cr, place (&plan->x, s->at[k]), place (&plan->y, s->mean[k]));
  cairo_stroke (paper->cr);
  cairo_restore (paper->cr);
}

static void
draw_field (const ChartPaper *paper, const ChartFit *fit, const ChartFitPlan *plan)
{
  cairo_save (paper->cr);
  cairo_rectangle (paper->cr, plan->x.from - MARK, plan->top - MARK / 2, plan->x.to - plan->x.from + 2 * MARK, PLOT + MARK);
  cairo_clip (paper->cr);
  for (gsize i = 0; i < fit->n_series; i++)
    if (fit->series[i].at)
      draw_band (paper, plan, &fit->series[i], (guint) i);
  for (gsize i = 0; i < fit->n_series; i++)
    if (fit->series[i].at)
      draw_edges (paper, plan, &fit->series[i], (guint) i);
  for (gsize i = 0; i < fit->n_series; i++)
    for (gsize k = 0; k < fit->series[i].n; k++)
      if (sound (fit->series[i].x[k]) && sound (fit->series[i].y[k]))
        chart_series_mark (paper, (guint) i, place (&plan->x, fit->series[i].x[k]), place (&plan->y, fit->series[i].y[k]), MARK);
  cairo_restore (paper->cr);
}

void
chart_fit_draw (const ChartPaper *paper, const ChartFit *fit, double width)
{
  const ChartPalette *palette = paper->palette;
  ChartFitPlan plan;

  chart_fit_plan (paper, fit, width, &plan);
  for (gsize i = 0; i < fit->n_series; i++)
    if (plan.key[i].w > 0)
      {
        const ChartBox *key = &plan.key[i];
        chart_series_mark (paper, (guint) i, key->x + MARK / 2 + 1, key->y + key->h / 2, MARK);
        chart_text (paper, fit->series[i].name, CHART_SMALL, &palette->text, key->x + MARK + PAD, key->y,
                    key->w - MARK - PAD + 0.5);
      }
  if (fit->y_words)
    chart_text (paper, fit->y_words, CHART_SMALL, &palette->dim, 0, plan.words_y, width);
  for (int i = 0; i < chart_scale_n_ticks (&plan.y); i++)
    {
      double tick = chart_scale_tick (&plan.y, i), y = chart_scale_at (&plan.y, tick);
      g_autofree char *words = chart_scale_print (&plan.y, tick);
      chart_stroke (paper, &palette->line, plan.x.from, y, plan.x.to, y, 0.5);
      chart_text (paper, words, CHART_SMALL, &palette->dim, plan.y_tick[i].x, plan.y_tick[i].y, 0);
    }
  draw_field (paper, fit, &plan);
  chart_axis_draw (paper, &plan.x, plan.x_tick, plan.bottom + PAD, fit->x_words, width);
  if (fit->band_words && *fit->band_words)
    chart_text (paper, fit->band_words, CHART_SMALL, &palette->dim, 0, plan.band_y, width);
  chart_fit_plan_clear (&plan);
}

/* ---- as text ---- */

static void
add_number (ChartTable *table, double v)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];

  chart_table_add (table, sound (v) ? g_ascii_formatd (text, sizeof text, "%.2f", v) : "");
}

char *
chart_fit_table (const ChartFit *fit)
{
  g_autoptr (ChartTable) table = chart_table_new ("lrrrrrr");
  const char *const heads[] = { "", fit->x_words, fit->y_words, _ ("mean from"), _ ("to"), _ ("one more from"), _ ("to") };

  for (gsize i = 0; i < G_N_ELEMENTS (heads); i++)
    chart_table_add (table, heads[i]);
  for (gsize i = 0; i < fit->n_series; i++)
    {
      const ChartFitSeries *s = &fit->series[i];
      for (gsize row = 0; s->at && s->n_at > 0 && row < MIN (TABLE_ROWS, s->n_at); row++)
        {
          gsize k = s->n_at > TABLE_ROWS ? row * (s->n_at - 1) / (TABLE_ROWS - 1) : row;
          chart_table_take (table, has_name (s) ? g_strdup_printf (_ ("fit, %s"), s->name) : g_strdup (_ ("fit")));
          add_number (table, s->at[k]);
          add_number (table, s->mean[k]);
          add_number (table, s->mean[k] - s->mean_half[k]);
          add_number (table, s->mean[k] + s->mean_half[k]);
          add_number (table, s->mean[k] - s->new_half[k]);
          add_number (table, s->mean[k] + s->new_half[k]);
        }
    }
  for (gsize i = 0; i < fit->n_series; i++)
    for (gsize k = 0; k < fit->series[i].n; k++)
      {
        const ChartFitSeries *s = &fit->series[i];
        const char *words = s->words && s->words[k] ? s->words[k] : _ ("reading");
        chart_table_take (table, has_name (s) ? g_strdup_printf ("%s, %s", words, s->name) : g_strdup (words));
        add_number (table, s->x[k]);
        add_number (table, s->y[k]);
        for (int empty = 0; empty < 4; empty++)
          chart_table_add (table, "");
      }
  return chart_table_print (table);
}

GPtrArray *
chart_fit_spots (const ChartPaper *paper, const ChartFit *fit, double width)
{
  GPtrArray *spots = chart_spots_new ();
  ChartFitPlan plan;

  chart_fit_plan (paper, fit, width, &plan);
  for (gsize i = 0; i < fit->n_series; i++)
    for (gsize k = 0; k < fit->series[i].n; k++)
      {
        const ChartFitSeries *s = &fit->series[i];
        if (!sound (s->x[k]) || !sound (s->y[k]))
          continue;
        g_autofree char *x = chart_scale_figure (&plan.x, s->x[k]), *y = chart_scale_figure (&plan.y, s->y[k]);
        g_autofree char *what = has_name (s) ? g_strdup_printf ("%s, ", s->name) : g_strdup ("");
        ChartBox box = { place (&plan.x, s->x[k]) - MARK / 2, place (&plan.y, s->y[k]) - MARK / 2, MARK, MARK };
        chart_spots_add (spots, &box,
                         g_strdup_printf (_ ("%s%s: %s %s at %s %s"), what,
                                          s->words && s->words[k] ? s->words[k] : _ ("reading"), fit->y_words, y,
                                          fit->x_words, x));
      }
  chart_fit_plan_clear (&plan);
  return spots;
}

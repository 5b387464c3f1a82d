/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/swing.h"

#include "chart/axis.h"
#include "chart/text-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define BAR 16.0
#define BETWEEN 10.0
#define BESIDE 10.0    /* from a name to what stands right of it */
#define WORDS 5.0      /* from the end of a bar to its words */
#define MOST_NAME 0.42
#define NARROW 180.0   /* less than this for the bars: names go above them */
#define A_TICK 80.0
#define SWATCH 10.0

static const char *
name_of (const ChartSwing *swing, gboolean high)
{
  if (high)
    return swing->high_name ? swing->high_name : _ ("at its high end");
  return swing->low_name ? swing->low_name : _ ("at its low end");
}

static void
find_ends (const ChartSwing *swing, double *low, double *high)
{
  double centre = isnan (swing->centre) ? 0 : swing->centre;

  *low = *high = centre;
  for (gsize i = 0; i < swing->n; i++)
    {
      *low = fmin (*low, fmin (swing->bar[i].low, swing->bar[i].high));
      *high = fmax (*high, fmax (swing->bar[i].low, swing->bar[i].high));
    }
}

static ChartBox
half (const ChartSwingPlan *plan, double value, double y, double h)
{
  double at;

  if (isnan (value))
    return (ChartBox) { plan->centre_x, y, 0, h };
  at = chart_scale_at (&plan->scale, value);
  return (ChartBox) { MIN (at, plan->centre_x), y, fabs (at - plan->centre_x), h };
}

/* Words outside the end that a value reaches, or none when there are none. */
static void
place_words (const ChartPaper *paper, const ChartSwingPlan *plan, const char *words, double value, const ChartBox *end, gboolean right,
             double width, ChartBox *box)
{
  *box = (ChartBox) { end->x, end->y, 0, 0 };
  if (!words || !*words || isnan (value))
    return;
  chart_text_size (paper, words, CHART_SMALL, &box->w, &box->h);
  box->w = MIN (box->w, width / 4);
  box->x = right ? chart_box_end (end) + WORDS : end->x - WORDS - box->w;
  box->x = CLAMP (box->x, plan->above ? 0 : plan->name[0].x, MAX (width - box->w, 0));
  box->y = end->y + (end->h - box->h) / 2;
}

static void
plan_bar (const ChartPaper *paper, const ChartSwing *swing, gsize i, double y, double width, ChartSwingPlan *plan)
{
  const ChartSwingBar *b = &swing->bar[i];
  double centre = isnan (swing->centre) ? 0 : swing->centre;
  gboolean low_right = b->low > centre, high_right = b->high > centre;
  gboolean same = !isnan (b->low) && !isnan (b->high) && b->low != centre && b->high != centre && low_right == high_right;

  plan->low[i] = half (plan, b->low, y, same ? BAR / 2 : BAR);
  plan->high[i] = half (plan, b->high, same ? y + BAR / 2 : y, same ? BAR / 2 : BAR);
  /* An end at the centre takes the free side. */
  if (!same && b->low == centre)
    low_right = !high_right;
  if (!same && b->high == centre)
    high_right = !low_right;
  if (same)
    {
      /* One place for words on that side: the farther end has it. */
      gboolean high_far = plan->high[i].w >= plan->low[i].w;
      ChartBox whole = high_far ? plan->high[i] : plan->low[i];
      whole.y = y;
      whole.h = BAR;
      place_words (paper, plan, high_far ? b->high_words : b->low_words, b->high, &whole, high_right, width,
                   high_far ? &plan->high_words[i] : &plan->low_words[i]);
      return;
    }
  place_words (paper, plan, b->low_words, b->low, &plan->low[i], low_right, width, &plan->low_words[i]);
  place_words (paper, plan, b->high_words, b->high, &plan->high[i], high_right, width, &plan->high_words[i]);
}

static double
widest_words (const ChartPaper *paper, const ChartSwing *swing)
{
  double widest = 0, w;

  for (gsize i = 0; i < swing->n; i++)
    {
      chart_text_size (paper, swing->bar[i].low_words, CHART_SMALL, &w, NULL);
      widest = MAX (widest, w);
      chart_text_size (paper, swing->bar[i].high_words, CHART_SMALL, &w, NULL);
      widest = MAX (widest, w);
    }
  return widest;
}

static void
plan_legend (const ChartPaper *paper, const ChartSwing *swing, double width, ChartSwingPlan *plan)
{
  double first, second, line, whole;

  chart_text_size (paper, name_of (swing, FALSE), CHART_SMALL, &first, &line);
  chart_text_size (paper, name_of (swing, TRUE), CHART_SMALL, &second, NULL);
  whole = first + second + 2 * (SWATCH + WORDS) + 2 * BESIDE;
  plan->legend[0] = (ChartBox) { CLAMP ((plan->scale.from + plan->scale.to - whole) / 2, 0, MAX (width - whole, 0)),
                                 plan->height + 4 + (line - SWATCH) / 2, SWATCH, SWATCH };
  plan->legend[1] = plan->legend[0];
  plan->legend[1].x += SWATCH + WORDS + first + 2 * BESIDE;
  plan->height += 4 + line + 2;
}

void
chart_swing_plan (const ChartPaper *paper, const ChartSwing *swing, double width, ChartSwingPlan *plan)
{
  double names = 0, words = widest_words (paper, swing), line, low, high, from, to, y = 0;

  *plan = (ChartSwingPlan) { .name = g_new0 (ChartBox, swing->n + 1),
                             .low = g_new0 (ChartBox, swing->n + 1),
                             .high = g_new0 (ChartBox, swing->n + 1),
                             .low_words = g_new0 (ChartBox, swing->n + 1),
                             .high_words = g_new0 (ChartBox, swing->n + 1) };
  width = isfinite (width) ? MAX (width, 1) : 1;
  words = words > 0 ? MIN (words, width / 4) + WORDS : 0;
  chart_text_size (paper, "Xg", CHART_PLAIN, NULL, &line);
  for (gsize i = 0; i < swing->n; i++)
    {
      chart_text_size (paper, swing->bar[i].name, CHART_PLAIN, &plan->name[i].w, &plan->name[i].h);
      names = MAX (names, plan->name[i].w);
    }
  plan->above = names > width * MOST_NAME || width - names - 2 * words - BESIDE < NARROW;
  from = (plan->above ? 0 : names + BESIDE) + words;
  to = MAX (width - MAX (words, 2), from + 1);
  find_ends (swing, &low, &high);
  chart_scale_init (&plan->scale, low, high, from, to, MAX ((int) ((to - from) / A_TICK), 1));
  plan->centre_x = chart_scale_at (&plan->scale, swing->centre);
  for (gsize i = 0; i < swing->n; i++)
    {
      double row = MAX (BAR, line);
      plan->name[i].w = MIN (plan->name[i].w, plan->above ? width : names);
      plan->name[i].x = plan->above ? 0 : names - plan->name[i].w;
      plan->name[i].y = plan->above ? y : y + (row - plan->name[i].h) / 2;
      y += plan->above ? plan->name[i].h + 2 : 0;
      plan_bar (paper, swing, i, y + (row - BAR) / 2, width, plan);
      y += row + BETWEEN;
    }
  plan->axis_y = y;
  plan->tick = chart_axis_plan (paper, &plan->scale, y, width);
  plan->height = y + chart_axis_height (paper, swing->axis);
  plan_legend (paper, swing, width, plan);
}

void
chart_swing_plan_clear (ChartSwingPlan *plan)
{
  g_clear_pointer (&plan->name, g_free);
  g_clear_pointer (&plan->low, g_free);
  g_clear_pointer (&plan->high, g_free);
  g_clear_pointer (&plan->low_words, g_free);
  g_clear_pointer (&plan->high_words, g_free);
  g_clear_pointer (&plan->tick, g_free);
}

double
chart_swing_height (const ChartPaper *paper, const ChartSwing *swing, double width)
{
  ChartSwingPlan plan;

  chart_swing_plan (paper, swing, width, &plan);
  chart_swing_plan_clear (&plan);
  return plan.height;
}

/* An upright over all bars; where names stand between the bars, over each bar alone. */
static void
upright (const ChartPaper *paper, const ChartSwing *swing, const ChartSwingPlan *plan, const ChartColour *colour, double x, double width)
{
  if (!plan->above)
    chart_stroke (paper, colour, x, 0, x, plan->axis_y, width);
  for (gsize i = 0; plan->above && i < swing->n; i++)
    {
      double y = MIN (plan->low[i].y, plan->high[i].y);
      chart_stroke (paper, colour, x, y - 2, x, i + 1 < swing->n ? y + BAR + 3 : plan->axis_y, width);
    }
}

void
chart_swing_draw (const ChartPaper *paper, const ChartSwing *swing, double width)
{
  const ChartPalette *palette = paper->palette;
  ChartSwingPlan plan;

  chart_swing_plan (paper, swing, width, &plan);
  for (gsize i = 0; i < swing->n; i++)
    {
      const ChartSwingBar *b = &swing->bar[i];
      chart_text (paper, b->name, CHART_PLAIN, &palette->text, plan.name[i].x, plan.name[i].y, plan.name[i].w + 0.5);
      chart_fill (paper, &plan.low[i], CHART_HATCH);
      chart_fill (paper, &plan.high[i], CHART_SOLID);
      if (plan.low_words[i].w > 0)
        chart_text (paper, b->low_words, CHART_SMALL, &palette->dim, plan.low_words[i].x, plan.low_words[i].y, plan.low_words[i].w + 0.5);
      if (plan.high_words[i].w > 0)
        chart_text (paper, b->high_words, CHART_SMALL, &palette->dim, plan.high_words[i].x, plan.high_words[i].y,
                    plan.high_words[i].w + 0.5);
    }
  chart_axis_draw (paper, &plan.scale, plan.tick, plan.axis_y, swing->axis, width);
  if (plan.scale.low < 0 && plan.scale.high > 0)
    {
      static const double dotted[] = { 1.5, 3 };
      double zero = chart_scale_at (&plan.scale, 0);
      cairo_set_dash (paper->cr, dotted, 2, 0);
      upright (paper, swing, &plan, &palette->warning, zero, 1);
      cairo_set_dash (paper->cr, NULL, 0, 0);
    }
  upright (paper, swing, &plan, &palette->text, plan.centre_x, 2);
  for (int k = 0; k < 2; k++)
    {
      double h;
      chart_text_size (paper, name_of (swing, k), CHART_SMALL, NULL, &h);
      chart_fill (paper, &plan.legend[k], k ? CHART_SOLID : CHART_HATCH);
      chart_text (paper, name_of (swing, k), CHART_SMALL, &palette->dim, chart_box_end (&plan.legend[k]) + WORDS,
                  plan.legend[k].y + (SWATCH - h) / 2, 0);
    }
  chart_swing_plan_clear (&plan);
}

static char *
figure (const ChartScale *scale, double value)
{
  return isnan (value) ? g_strdup ("") : chart_scale_figure (scale, value);
}

static char *
with_words (const ChartScale *scale, double value, const char *words)
{
  g_autofree char *number = figure (scale, value);

  return words && *words && *number ? g_strdup_printf (_ ("%s (%s)"), number, words) : g_strdup (number);
}

char *
chart_swing_table (const ChartSwing *swing)
{
  g_autoptr (ChartTable) table = chart_table_new ("lrrr");
  double low, high;
  ChartScale scale;

  find_ends (swing, &low, &high);
  chart_scale_init (&scale, low, high, 0, 1, 5);
  chart_table_take (table, g_strdup_printf (_ ("%s: %s"), swing->name, swing->axis));
  chart_table_add (table, name_of (swing, FALSE));
  chart_table_add (table, _ ("as it stands"));
  chart_table_add (table, name_of (swing, TRUE));
  for (gsize i = 0; i < swing->n; i++)
    {
      const ChartSwingBar *b = &swing->bar[i];
      chart_table_add (table, b->name);
      chart_table_take (table, with_words (&scale, b->low, b->low_words));
      chart_table_take (table, figure (&scale, swing->centre));
      chart_table_take (table, with_words (&scale, b->high, b->high_words));
    }
  return chart_table_print (table);
}

GPtrArray *
chart_swing_spots (const ChartPaper *paper, const ChartSwing *swing, double width)
{
  GPtrArray *spots = chart_spots_new ();
  ChartSwingPlan plan;

  chart_swing_plan (paper, swing, width, &plan);
  for (gsize i = 0; i < swing->n; i++)
    for (int k = 0; k < 2; k++)
      {
        const ChartSwingBar *b = &swing->bar[i];
        double value = k ? b->high : b->low;
        g_autofree char *words = with_words (&plan.scale, value, k ? b->high_words : b->low_words);
        if (!isnan (value))
          chart_spots_add (spots, k ? &plan.high[i] : &plan.low[i],
                           g_strdup_printf (_ ("%s, %s: %s (%s)"), b->name, name_of (swing, k), words, swing->axis));
      }
  chart_swing_plan_clear (&plan);
  return spots;
}

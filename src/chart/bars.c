/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/bars.h"

#include "chart/axis.h"
#include "chart/text-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define BAR 16.0
#define BETWEEN 12.0   /* from one bar to the next */
#define BESIDE 10.0    /* from a name to the bars, from a bar to its value */
#define MOST_NAME 0.42  /* names that need more than this share of the width go above the bars, */
#define NARROW 140.0   /* and where less than this would be left for the bars */
#define A_TICK 80.0

static gboolean
has_range (const ChartBar *bar)
{
  return !isnan (bar->low) && !isnan (bar->high);
}

/* The figures of all bars, zero among them unless every bar has a range. */
static void
find_ends (const ChartBars *bars, double *low, double *high)
{
  gboolean from_zero = bars->n == 0;

  *low = INFINITY;
  *high = -INFINITY;
  for (gsize i = 0; i < bars->n; i++)
    {
      const ChartBar *b = &bars->bar[i];
      if (isnan (b->value) && !has_range (b))
        continue;
      from_zero = from_zero || !has_range (b);
      *low = MIN (*low, fmin (b->value, fmin (b->low, b->high)));
      *high = MAX (*high, fmax (b->value, fmax (b->low, b->high)));
    }
  if (from_zero || *low > *high)
    {
      *low = MIN (*low, 0);
      *high = MAX (*high, 0);
    }
}

/* What stands behind a bar: where it ends at a high, the value is another one and is called by its name. */
static char *
label_of (const ChartBar *b)
{
  return has_range (b) && !isnan (b->value) && b->text ? g_strdup_printf (_ ("likely %s"), b->text) : g_strdup (b->text ? b->text : "");
}

static void
plan_bar (const ChartBar *b, ChartBarsPlan *plan, gsize i, double y)
{
  const ChartScale *scale = &plan->scale;
  double a = chart_scale_at (scale, has_range (b) ? b->low : 0), e = chart_scale_at (scale, has_range (b) ? b->high : b->value);

  plan->bar[i] = (ChartBox) { MIN (a, e), y, fabs (e - a), BAR };
  if (!has_range (b) && isnan (b->value))
    plan->bar[i].w = 0;
  plan->mark[i] = has_range (b) && !isnan (b->value) ? chart_scale_at (scale, b->value) : NAN;
  plan->value[i].x = chart_box_end (&plan->bar[i]) + BESIDE;
  if (!isnan (plan->mark[i]))
    plan->value[i].x = MAX (plan->value[i].x, plan->mark[i] + BESIDE);
  plan->value[i].y = y + (BAR - plan->value[i].h) / 2;
}

void
chart_bars_plan (const ChartPaper *paper, const ChartBars *bars, double width, ChartBarsPlan *plan)
{
  double names = 0, values = 0, line, low, high, from, to, y = 0;

  *plan = (ChartBarsPlan) { .name = g_new0 (ChartBox, bars->n + 1),
                            .bar = g_new0 (ChartBox, bars->n + 1),
                            .value = g_new0 (ChartBox, bars->n + 1),
                            .mark = g_new0 (double, bars->n + 1) };
  width = isfinite (width) ? MAX (width, 1) : 1;
  chart_text_size (paper, "Xg", CHART_PLAIN, NULL, &line);
  for (gsize i = 0; i < bars->n; i++)
    {
      chart_text_size (paper, bars->bar[i].name, CHART_PLAIN, &plan->name[i].w, &plan->name[i].h);
      g_autofree char *label = label_of (&bars->bar[i]);
      chart_text_size (paper, label, CHART_BOLD, &plan->value[i].w, &plan->value[i].h);
      names = MAX (names, plan->name[i].w);
      values = MAX (values, plan->value[i].w);
    }
  plan->above = names > width * MOST_NAME || width - names - values - 2 * BESIDE < NARROW;
  from = plan->above ? 0 : names + BESIDE;
  to = MAX (width - MIN (values, width / 2) - BESIDE, from + 1);
  find_ends (bars, &low, &high);
  chart_scale_init (&plan->scale, low, high, from, to, MAX ((int) ((to - from) / A_TICK), 1));
  for (gsize i = 0; i < bars->n; i++)
    {
      double row = MAX (BAR, line);
      plan->name[i].w = MIN (plan->name[i].w, plan->above ? width : names);
      plan->value[i].w = MIN (plan->value[i].w, width / 2);
      plan->name[i].x = plan->above ? 0 : names - plan->name[i].w;
      plan->name[i].y = plan->above ? y : y + (row - plan->name[i].h) / 2;
      y += plan->above ? plan->name[i].h + 2 : 0;
      plan_bar (&bars->bar[i], plan, i, y + (row - BAR) / 2);
      y += row + BETWEEN;
    }
  plan->axis_y = y;
  plan->n_ticks = chart_scale_n_ticks (&plan->scale);
  plan->tick = chart_axis_plan (paper, &plan->scale, y, width);
  plan->height = y + chart_axis_height (paper, bars->axis);
}

void
chart_bars_plan_clear (ChartBarsPlan *plan)
{
  g_clear_pointer (&plan->name, g_free);
  g_clear_pointer (&plan->bar, g_free);
  g_clear_pointer (&plan->value, g_free);
  g_clear_pointer (&plan->mark, g_free);
  g_clear_pointer (&plan->tick, g_free);
}

double
chart_bars_height (const ChartPaper *paper, const ChartBars *bars, double width)
{
  ChartBarsPlan plan;

  chart_bars_plan (paper, bars, width, &plan);
  chart_bars_plan_clear (&plan);
  return plan.height;
}

void
chart_bars_draw (const ChartPaper *paper, const ChartBars *bars, double width)
{
  const ChartPalette *palette = paper->palette;
  ChartBarsPlan plan;

  chart_bars_plan (paper, bars, width, &plan);
  for (gsize i = 0; i < bars->n; i++)
    {
      const ChartBar *b = &bars->bar[i];
      const ChartBox *bar = &plan.bar[i];
      g_autofree char *label = label_of (b);
      chart_text (paper, b->name, CHART_PLAIN, &palette->text, plan.name[i].x, plan.name[i].y, plan.name[i].w + 0.5);
      chart_fill (paper, bar, b->baseline ? CHART_HATCH : CHART_FILL);
      if (!isnan (plan.mark[i]))
        chart_stroke (paper, &palette->text, plan.mark[i], bar->y - 3, plan.mark[i], bar->y + bar->h + 3, 2);
      chart_text (paper, label, CHART_BOLD, isnan (b->value) ? &palette->warning : &palette->text, plan.value[i].x,
                  plan.value[i].y, plan.value[i].w + 0.5);
    }
  chart_axis_draw (paper, &plan.scale, plan.tick, plan.axis_y, bars->axis, width);
  if (plan.scale.low < 0 && plan.scale.high > 0)
    chart_stroke (paper, &palette->dim, chart_scale_at (&plan.scale, 0), 0, chart_scale_at (&plan.scale, 0), plan.axis_y, 1);
  chart_bars_plan_clear (&plan);
}

char *
chart_bars_table (const ChartBars *bars)
{
  gboolean ranges = FALSE;

  for (gsize i = 0; i < bars->n; i++)
    ranges = ranges || has_range (&bars->bar[i]);
  g_autoptr (ChartTable) table = chart_table_new (ranges ? "lrrr" : "lr");
  chart_table_add (table, bars->name);
  /* With ranges the headings are short and the unit stands once, above. */
  chart_table_add (table, ranges ? _ ("likely") : bars->axis);
  if (ranges)
    {
      chart_table_add (table, _ ("low"));
      chart_table_add (table, _ ("high"));
    }
  for (gsize i = 0; i < bars->n; i++)
    {
      const ChartBar *b = &bars->bar[i];
      chart_table_take (table, b->baseline ? g_strdup_printf (_ ("%s (baseline)"), b->name) : g_strdup (b->name));
      chart_table_add (table, b->text);
      if (ranges)
        {
          chart_table_take (table, chart_figure (b->low, 2));
          chart_table_take (table, chart_figure (b->high, 2));
        }
    }
  g_autofree char *printed = chart_table_print (table), *axis = g_utf8_make_valid (bars->axis ? bars->axis : "", -1);
  return ranges && *axis ? g_strconcat (axis, "\n", printed, NULL) : g_steal_pointer (&printed);
}

GPtrArray *
chart_bars_spots (const ChartPaper *paper, const ChartBars *bars, double width)
{
  GPtrArray *spots = chart_spots_new ();
  ChartBarsPlan plan;

  chart_bars_plan (paper, bars, width, &plan);
  for (gsize i = 0; i < bars->n; i++)
    {
      const ChartBar *b = &bars->bar[i];
      g_autofree char *name = b->baseline ? g_strdup_printf (_ ("%s (baseline)"), b->name) : g_strdup (b->name);
      ChartBox box = plan.bar[i].w > 0 ? plan.bar[i] : plan.value[i];
      if (!has_range (b))
        chart_spots_add (spots, &box, g_strdup_printf (_ ("%s: %s (%s)"), name, b->text, bars->axis));
      else
        {
          g_autofree char *low = chart_scale_figure (&plan.scale, b->low), *high = chart_scale_figure (&plan.scale, b->high);
          g_autofree char *label = label_of (b);
          chart_spots_add (spots, &box, g_strdup_printf (_ ("%s: %s, from %s to %s (%s)"), name, label, low, high, bars->axis));
        }
    }
  chart_bars_plan_clear (&plan);
  return spots;
}

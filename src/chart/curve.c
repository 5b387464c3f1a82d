/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/curve.h"

#include "chart/axis.h"
#include "chart/series.h"
#include "chart/text-table.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define PLOT 230.0
#define A_TICK 90.0
#define PAD 8.0
#define SAMPLE 30.0 /* of a line, before its name */
#define MARK 8.0
#define NARROW 520.0 /* below it names stand beneath */

static double
tame (double x)
{
  return isnan (x) ? 0 : CLAMP (x, -CHART_MOST, CHART_MOST);
}

static double
share_of (double x)
{
  return isnan (x) ? 0 : CLAMP (x, 0, 1);
}

/* The figure of a line at a share, straight between its points. */
static double
value_at (const ChartCurve *curve, gsize line, double share)
{
  const double *value = curve->line[line].value;

  if (curve->n_points == 0)
    return 0;
  if (!(share > share_of (curve->share[0])))
    return tame (value[0]);
  for (gsize i = 1; i < curve->n_points; i++)
    {
      double a = share_of (curve->share[i - 1]), b = share_of (curve->share[i]);
      if (share <= b)
        return b > a ? tame (value[i - 1]) + (tame (value[i]) - tame (value[i - 1])) * (share - a) / (b - a)
                     : tame (value[i]);
    }
  return tame (value[curve->n_points - 1]);
}

static char *
percent (double share)
{
  return g_strdup_printf (_ ("%.4g %%"), share_of (share) * 100);
}

static void
find_range (const ChartCurve *curve, double *low, double *high)
{
  *low = *high = 0;
  for (gsize k = 0; k < curve->n; k++)
    for (gsize i = 0; i < curve->n_points; i++)
      {
        double x = tame (curve->line[k].value[i]);
        *low = k + i == 0 ? x : MIN (*low, x);
        *high = k + i == 0 ? x : MAX (*high, x);
      }
}

/* Words of the shares at the left. */
static double
plan_shares (const ChartPaper *paper, const ChartCurve *curve, ChartCurvePlan *plan)
{
  double widest = 0;

  for (gsize i = 0; i < curve->n_marks; i++)
    {
      g_autofree char *words = percent (curve->mark[i]);
      chart_text_size (paper, words, CHART_SMALL, &plan->y_tick[i].w, &plan->y_tick[i].h);
      widest = MAX (widest, plan->y_tick[i].w);
    }
  return widest;
}

static gsize *
order_of (const ChartCurve *curve)
{
  gsize *order = g_new (gsize, curve->n + 1);

  for (gsize k = 0; k < curve->n; k++)
    {
      gsize at = k;
      for (; at > 0 && value_at (curve, order[at - 1], 1) < value_at (curve, k, 1); at--)
        order[at] = order[at - 1];
      order[at] = k;
    }
  return order;
}

/* Names in a column at the right, in the order of the ends of their lines, the farthest right on top: so leads from the
 * ends slant down and do not cross each other, and none runs level like a line of the grid. Or in rows beneath. */
static double
plan_names (const ChartPaper *paper, const ChartCurve *curve, ChartCurvePlan *plan, double width, double column)
{
  g_autofree gsize *order = order_of (curve);
  double y = plan->axis_y + chart_axis_height (paper, curve->axis) + PAD;

  for (gsize i = 0; i < curve->n; i++)
    {
      gsize k = order[i];
      ChartBox *label = &plan->label[k];
      /* from 95 % down, as far apart as a name is high */
      double lead = plan->top + PLOT * 0.05 + (double) i * MAX (label->h + 4, PLOT * 0.75 / (double) MAX (curve->n, 1));
      plan->lead_y[k] = column > 0 ? MIN (lead, plan->bottom - 2) : NAN;
      if (column > 0)
        {
          *label = (ChartBox){ width - column + SAMPLE + PAD, plan->lead_y[k] - label->h / 2,
                               MIN (label->w, column - SAMPLE - PAD), label->h };
          plan->lead_x[k] = chart_scale_at (&plan->x, value_at (curve, k, 1));
          continue;
        }
      *label = (ChartBox){ SAMPLE + PAD, y, MIN (label->w, MAX (width - SAMPLE - PAD, 1)), label->h };
      y += label->h + 3;
    }
  return column > 0 ? plan->axis_y + chart_axis_height (paper, curve->axis) : y;
}

static void
plan_points (const ChartCurve *curve, ChartCurvePlan *plan)
{
  for (gsize k = 0; k < curve->n; k++)
    {
      plan->point[k] = g_new0 (double, 2 * curve->n_points + 1);
      for (gsize i = 0; i < curve->n_points; i++)
        {
          plan->point[k][2 * i] = chart_scale_at (&plan->x, tame (curve->line[k].value[i]));
          plan->point[k][2 * i + 1] = chart_scale_at (&plan->y, share_of (curve->share[i]));
        }
      for (gsize i = 0; i < curve->n_marks; i++)
        {
          plan->at_x[k * curve->n_marks + i] =
              chart_scale_at (&plan->x, value_at (curve, k, share_of (curve->mark[i])));
          plan->at_y[k * curve->n_marks + i] = chart_scale_at (&plan->y, share_of (curve->mark[i]));
        }
    }
}

void
chart_curve_plan (const ChartPaper *paper, const ChartCurve *curve, double width, ChartCurvePlan *plan)
{
  gsize marks = curve->n * curve->n_marks;
  double low, high, left, widest = 0, column;

  *plan = (ChartCurvePlan){ .point = g_new0 (double *, curve->n + 1),
                            .at_x = g_new0 (double, marks + 1),
                            .at_y = g_new0 (double, marks + 1),
                            .label = g_new0 (ChartBox, curve->n + 1),
                            .lead_y = g_new0 (double, curve->n + 1),
                            .lead_x = g_new0 (double, curve->n + 1),
                            .y_tick = g_new0 (ChartBox, curve->n_marks + 1) };
  width = isfinite (width) ? MAX (width, 1) : 1;
  for (gsize k = 0; k < curve->n; k++)
    {
      chart_text_size (paper, curve->line[k].name, CHART_SMALL, &plan->label[k].w, &plan->label[k].h);
      widest = MAX (widest, plan->label[k].w);
    }
  left = MIN (plan_shares (paper, curve, plan) + PAD, width / 2);
  column = width >= NARROW ? MIN (widest + SAMPLE + 2 * PAD, width * 0.42) : 0;
  plan->top = PAD;
  plan->bottom = plan->top + PLOT;
  plan->axis_y = plan->bottom + 4;
  find_range (curve, &low, &high);
  chart_scale_init (&plan->x, low, high, left, MAX (width - column - PAD, left + 1),
                    MAX ((int) ((width - column - left) / A_TICK), 1));
  plan->y = (ChartScale){ 0, 1, 1, plan->bottom, plan->top };
  for (gsize i = 0; i < curve->n_marks; i++)
    {
      plan->y_tick[i].x = MAX (left - PAD - plan->y_tick[i].w, 0);
      plan->y_tick[i].y = chart_scale_at (&plan->y, share_of (curve->mark[i])) - plan->y_tick[i].h / 2;
    }
  plan_points (curve, plan);
  plan->height = plan_names (paper, curve, plan, width, column);
  plan->x_tick = chart_axis_plan (paper, &plan->x, plan->axis_y, width);
}

void
chart_curve_plan_clear (ChartCurvePlan *plan, const ChartCurve *curve)
{
  for (gsize k = 0; k < curve->n; k++)
    g_free (plan->point[k]);
  g_clear_pointer (&plan->point, g_free);
  g_clear_pointer (&plan->at_x, g_free);
  g_clear_pointer (&plan->at_y, g_free);
  g_clear_pointer (&plan->label, g_free);
  g_clear_pointer (&plan->lead_y, g_free);
  g_clear_pointer (&plan->lead_x, g_free);
  g_clear_pointer (&plan->x_tick, g_free);
  g_clear_pointer (&plan->y_tick, g_free);
}

double
chart_curve_height (const ChartPaper *paper, const ChartCurve *curve, double width)
{
  ChartCurvePlan plan;

  chart_curve_plan (paper, curve, width, &plan);
  chart_curve_plan_clear (&plan, curve);
  return plan.height;
}

/* Level lines at the shares that are marked, and their words. */
static void
draw_shares (const ChartPaper *paper, const ChartCurve *curve, const ChartCurvePlan *plan)
{
  for (gsize i = 0; i < curve->n_marks; i++)
    {
      double y = chart_scale_at (&plan->y, share_of (curve->mark[i]));
      g_autofree char *words = percent (curve->mark[i]);
      chart_stroke (paper, &paper->palette->line, plan->x.from, y, plan->x.to, y, 0.5);
      chart_text (paper, words, CHART_SMALL, &paper->palette->dim, plan->y_tick[i].x, plan->y_tick[i].y, 0);
    }
}

/* A name with a piece of its line before it, joined to the end of the curve where it stands at the side. */
static void
draw_name (const ChartPaper *paper, const ChartCurve *curve, const ChartCurvePlan *plan, gsize k)
{
  const ChartCurveLine *line = &curve->line[k];
  const ChartBox *label = &plan->label[k];
  double y = label->y + label->h / 2, x = label->x - PAD / 2;
  gsize n = curve->n_points;

  chart_series_stroke (paper, line->series, x - SAMPLE, y, x, y, 2);
  chart_series_mark (paper, line->series, x - SAMPLE / 2, y, MARK);
  chart_text (paper, line->name, CHART_SMALL, &paper->palette->text, label->x, label->y, label->w + 0.5);
  if (!isnan (plan->lead_y[k]) && n > 0)
    chart_stroke (paper, &paper->palette->line, plan->lead_x[k], plan->point[k][2 * n - 1], x - SAMPLE - 3, y, 0.75);
}

void
chart_curve_draw (const ChartPaper *paper, const ChartCurve *curve, double width)
{
  ChartCurvePlan plan;

  chart_curve_plan (paper, curve, width, &plan);
  draw_shares (paper, curve, &plan);
  for (gsize k = 0; k < curve->n; k++)
    draw_name (paper, curve, &plan, k);
  for (gsize k = 0; k < curve->n; k++)
    {
      chart_series_path (paper, curve->line[k].series, plan.point[k], curve->n_points, 2);
      for (gsize i = 0; i < curve->n_marks; i++)
        chart_series_mark (paper, curve->line[k].series, plan.at_x[k * curve->n_marks + i],
                           plan.at_y[k * curve->n_marks + i], MARK);
    }
  chart_axis_draw (paper, &plan.x, plan.x_tick, plan.axis_y, curve->axis, width);
  chart_curve_plan_clear (&plan, curve);
}

/* Words of a figure as fine as the axis asks. */
static ChartScale
plain_scale (const ChartCurve *curve)
{
  ChartScale scale;
  double low, high;

  find_range (curve, &low, &high);
  chart_scale_init (&scale, low, high, 0, 1, 5);
  return scale;
}

char *
chart_curve_table (const ChartCurve *curve)
{
  g_autofree char *align = g_strnfill (curve->n_marks + 1, 'r');
  g_autoptr (ChartTable) table = NULL;
  ChartScale scale = plain_scale (curve);

  align[0] = 'l';
  table = chart_table_new (align);
  chart_table_take (table, g_strdup_printf (_ ("%s; %s at most"), curve->name ? curve->name : "",
                                            curve->axis ? curve->axis : ""));
  for (gsize i = 0; i < curve->n_marks; i++)
    chart_table_take (table, percent (curve->mark[i]));
  for (gsize k = 0; k < curve->n; k++)
    {
      chart_table_add (table, curve->line[k].name);
      for (gsize i = 0; i < curve->n_marks; i++)
        chart_table_take (table, chart_scale_figure (&scale, value_at (curve, k, share_of (curve->mark[i]))));
    }
  return chart_table_print (table);
}

GPtrArray *
chart_curve_spots (const ChartPaper *paper, const ChartCurve *curve, double width)
{
  GPtrArray *spots = chart_spots_new ();
  ChartScale scale = plain_scale (curve);
  ChartCurvePlan plan;

  chart_curve_plan (paper, curve, width, &plan);
  for (gsize k = 0; k < curve->n; k++)
    for (gsize i = 0; i < curve->n_marks; i++)
      {
        const ChartCurveLine *line = &curve->line[k];
        ChartBox box = { plan.at_x[k * curve->n_marks + i] - MARK, plan.at_y[k * curve->n_marks + i] - MARK, 2 * MARK,
                         2 * MARK };
        g_autofree char *share = percent (curve->mark[i]);
        g_autofree char *figure = chart_scale_figure (&scale, value_at (curve, k, share_of (curve->mark[i])));
        if (!line->low || !line->high)
          chart_spots_add (spots, &box,
                           g_strdup_printf (_ ("%s: in %s at most %s (%s)"), line->name, share, figure, curve->axis));
        else
          {
            g_autofree char *low = chart_scale_figure (&scale, tame (line->low[i])),
                            *high = chart_scale_figure (&scale, tame (line->high[i]));
            chart_spots_add (spots, &box,
                             g_strdup_printf (_ ("%s: in %s at most %s, that figure between %s and %s (%s)"),
                                              line->name, share, figure, low, high, curve->axis));
          }
      }
  chart_curve_plan_clear (&plan, curve);
  return spots;
}

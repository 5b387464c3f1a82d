/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/risk/risk-pictures.h"

#include "chart/bars.h"
#include "chart/curve.h"
#include "window/walk.h"

#include <glib/gi18n.h>
#include <math.h>

/* ---- curves ---- */

typedef struct
{
  ChartCurve curve;
  ChartCurveLine *line;
  RiskWaySum *way; /* copies */
  char **name;
  char *axis;
  double share[RISK_N_POINTS];
} Curves;

static void
curves_free (gpointer data)
{
  Curves *c = data;

  g_strfreev (c->name);
  g_free (c->line);
  g_free (c->way);
  g_free (c->axis);
  g_free (c);
}

static double
curves_height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_curve_height (paper, &((Curves *) data)->curve, width);
}

static void
curves_draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_curve_draw (paper, &((Curves *) data)->curve, width);
}

static GPtrArray *
curves_spots (const ChartPaper *paper, double width, gpointer data)
{
  return chart_curve_spots (paper, &((Curves *) data)->curve, width);
}

static char *
walk_of (const RiskAnswer *answer, const char *figure, guint way)
{
  const JobRiskWay *w = job_risk_way (answer->risk, way);

  return tally_walk_line (figure, w->key, way > 0 ? job_risk_way (answer->risk, 0)->key : NULL, w->what_if, "job");
}

void
tally_risk_curve_set (TallyChartArea *area, const RiskAnswer *answer)
{
  guint n = answer->risk->ways->len;
  Curves *c = g_new0 (Curves, 1);
  GPtrArray *walks = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *table = NULL;

  c->line = g_new0 (ChartCurveLine, n);
  c->way = g_memdup2 (answer->way, sizeof (RiskWaySum) * n);
  c->name = g_new0 (char *, n + 1);
  c->axis = g_strdup_printf (_ ("cost and tooling, %s"), answer->risk->currency);
  for (int k = 0; k < RISK_N_POINTS; k++)
    c->share[k] = (k + 0.5) / RISK_N_POINTS;
  for (guint i = 0; i < n; i++)
    {
      c->name[i] = g_strdup (job_risk_way (answer->risk, i)->name);
      c->line[i] = (ChartCurveLine){ c->name[i], c->way[i].curve, c->way[i].cost_low, c->way[i].cost_high, i };
    }
  c->curve = (ChartCurve){ c->line, n, c->share, RISK_N_POINTS, risk_marks, RISK_N_MARKS, c->axis, _ ("method") };
  table = chart_curve_table (&c->curve);
  tally_chart_area_set (area, curves_height, curves_draw, c, curves_free, table);
  tally_chart_area_set_spots (area, curves_spots);
  for (guint i = 0; i < n; i++)
    for (int k = 0; k < RISK_N_MARKS; k++)
      g_ptr_array_add (walks, walk_of (answer, "cost", i));
  tally_chart_area_set_walks (area, walks);
}

/* ---- ranked bars ---- */

typedef struct
{
  ChartBars bars;
  ChartBar *bar;
  char **name, **text;
} Ranked;

static void
ranked_free (gpointer data)
{
  Ranked *r = data;

  g_strfreev (r->name);
  g_strfreev (r->text);
  g_free (r->bar);
  g_free (r);
}

static double
ranked_height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_bars_height (paper, &((Ranked *) data)->bars, width);
}

static void
ranked_draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_bars_draw (paper, &((Ranked *) data)->bars, width);
}

static GPtrArray *
ranked_spots (const ChartPaper *paper, double width, gpointer data)
{
  return chart_bars_spots (paper, &((Ranked *) data)->bars, width);
}

void
tally_risk_drivers_set (TallyChartArea *area, const RiskAnswer *answer, guint way)
{
  const GArray *drivers = answer->way[way].drivers;
  Ranked *r = g_new0 (Ranked, 1);
  GPtrArray *walks = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *table = NULL, *title = NULL;

  r->bar = g_new0 (ChartBar, RISK_N_DRIVERS);
  r->name = g_new0 (char *, RISK_N_DRIVERS + 1);
  r->text = g_new0 (char *, RISK_N_DRIVERS + 1);
  for (guint i = 0; i < drivers->len && r->bars.n < RISK_N_DRIVERS; i++)
    {
      const RiskDriver *d = &g_array_index (drivers, RiskDriver, i);
      gsize k = r->bars.n;
      /* A thousandth of the spread moves nothing. */
      if (d->share < 0.001)
        continue;
      r->name[k] = job_risk_input_say (answer->risk, d->input);
      r->text[k] = session_figure (d->share * 100, 1, FALSE);
      r->bar[k] =
          (ChartBar){ .name = r->name[k], .text = r->text[k], .value = d->share * 100, .low = NAN, .high = NAN };
      r->bars.n++;
      g_autofree char *figure = job_risk_input_figure (answer->risk, d->input);
      g_ptr_array_add (walks, walk_of (answer, figure, way));
    }
  r->bars.bar = r->bar;
  r->bars.axis = _ ("share of the variance, %");
  r->bars.name = _ ("what moves it");
  title = g_strdup_printf (way > 0 ? _ ("What moves the gain of %s") : _ ("What moves the cost of %s"),
                           job_risk_way (answer->risk, way)->name);
  table = chart_bars_table (&r->bars);
  tally_chart_area_set_title (area, title);
  tally_chart_area_set (area, ranked_height, ranked_draw, r, ranked_free, table);
  tally_chart_area_set_spots (area, ranked_spots);
  tally_chart_area_set_walks (area, walks);
}

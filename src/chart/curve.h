/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"
#include "chart/scale.h"

G_BEGIN_DECLS

/* One cumulative curve: the figure at each of the shares of the picture, rising. */
typedef struct
{
  const char *name;          /* borrowed */
  const double *value;       /* borrowed: n_points */
  const double *low, *high;  /* borrowed, (nullable): n_marks, sampling interval of the figure at each mark */
  guint series;              /* number of its dashes, lightness and mark, the same in every picture of a page */
} ChartCurveLine;

/* Shares of trials (or of anything counted) that stay at or below a figure, one line for each way; marks at a few
 * shares. Each line has its own dashes, lightness and mark (see series.h) and its name at its side. */
typedef struct
{
  const ChartCurveLine *line; /* borrowed */
  gsize n;
  const double *share;        /* borrowed: n_points, rising, 0 to 1 */
  gsize n_points;
  const double *mark;         /* borrowed: shares at which marks stand, 0.1 0.5 0.8 0.9 */
  gsize n_marks;
  const char *axis;           /* borrowed: figure and unit, "cost, $" */
  const char *name;           /* borrowed: heading of the names, for the table */
} ChartCurve;

typedef struct
{
  ChartScale x, y;
  double **point;      /* n: x, y, x, y ... of n_points */
  double *at_x, *at_y; /* n x n_marks: places of the marks */
  ChartBox *label;     /* n: the name */
  double *lead_y;      /* n: height of the thin line from the curve to its name; NAN: names stand beneath */
  double *lead_x;      /* n: where it leaves the curve */
  ChartBox *x_tick, *y_tick; /* ticks of x; n_marks */
  double top, bottom, axis_y, height;
} ChartCurvePlan;

void chart_curve_plan (const ChartPaper *paper, const ChartCurve *curve, double width, ChartCurvePlan *plan);
void chart_curve_plan_clear (ChartCurvePlan *plan, const ChartCurve *curve);

double chart_curve_height (const ChartPaper *paper, const ChartCurve *curve, double width);
/* Draws with its top left at 0, 0. */
void chart_curve_draw (const ChartPaper *paper, const ChartCurve *curve, double width);
/* The figures at the marks, a line a curve, aligned. (transfer full) */
char *chart_curve_table (const ChartCurve *curve);
/* A spot for each mark, curve after curve, from the lowest share up. (transfer full) */
GPtrArray *chart_curve_spots (const ChartPaper *paper, const ChartCurve *curve, double width);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"
#include "chart/scale.h"

G_BEGIN_DECLS

/* Readings over a size with the line fitted through them, the band of its mean (filled) and that of one new observation (dashed).
 * Several series differ by mark, dashes and lightness. */
typedef struct
{
  const char *name;          /* borrowed; NULL or "": no key is drawn */
  const double *x, *y;       /* points, borrowed */
  const char *const *words;  /* (nullable) borrowed: what a point is, "24x12, 2026-03-09" */
  gsize n;
  const double *at, *mean;   /* the line at rising places; NULL without a fit */
  const double *mean_half, *new_half; /* half-widths there */
  gsize n_at;
} ChartFitSeries;

typedef struct
{
  const ChartFitSeries *series; /* borrowed */
  gsize n_series;
  const char *x_words;    /* borrowed: "girth, ft" */
  const char *y_words;    /* borrowed: "worker-minutes of one" */
  const char *band_words; /* (nullable) borrowed: "filled: 95 % band of the mean; dashed: of one new reading" */
} ChartFit;

typedef struct
{
  ChartScale x, y;
  ChartBox *key;       /* n_series; width 0: none */
  ChartBox *x_tick, *y_tick;
  double words_y;      /* of y_words */
  double band_y;       /* of band_words, below the axis */
  double top, bottom, height;
} ChartFitPlan;

void chart_fit_plan (const ChartPaper *paper, const ChartFit *fit, double width, ChartFitPlan *plan);
void chart_fit_plan_clear (ChartFitPlan *plan);

double chart_fit_height (const ChartPaper *paper, const ChartFit *fit, double width);
/* Draws with its top left at 0, 0. */
void chart_fit_draw (const ChartPaper *paper, const ChartFit *fit, double width);
/* The line and its bands at some places, then the points. (transfer full) */
char *chart_fit_table (const ChartFit *fit);
/* A spot for each point, series after series, left to right as they were given. (transfer full) */
GPtrArray *chart_fit_spots (const ChartPaper *paper, const ChartFit *fit, double width);

G_END_DECLS

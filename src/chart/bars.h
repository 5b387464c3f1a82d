/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"
#include "chart/scale.h"

G_BEGIN_DECLS

typedef struct
{
  const char *name;  /* borrowed */
  double value;      /* NAN: no bar, the words stand alone */
  const char *text;  /* borrowed: the value in words, behind the bar */
  double low, high;  /* likely range, NAN both: none. With it the bar goes from low to high and a mark stands at the value */
  gboolean baseline; /* hatched */
} ChartBar;

/* One figure by name. Without a range bars start at zero; with ranges alone the axis need not show zero. */
typedef struct
{
  const ChartBar *bar; /* borrowed */
  gsize n;
  const char *axis;    /* borrowed: figure and unit, "cost, $" */
  const char *name;    /* borrowed: heading of the names, for the table */
} ChartBars;

typedef struct
{
  ChartScale scale;
  gboolean above;    /* too narrow for names beside the bars: they stand above them */
  ChartBox *name, *bar, *value; /* n */
  double *mark;      /* n: place of the likely value, NAN none */
  int n_ticks;
  ChartBox *tick;    /* n_ticks: the words of a tick; width 0: no room for them */
  double axis_y, height;
} ChartBarsPlan;

void chart_bars_plan (const ChartPaper *paper, const ChartBars *bars, double width, ChartBarsPlan *plan);
void chart_bars_plan_clear (ChartBarsPlan *plan);

double chart_bars_height (const ChartPaper *paper, const ChartBars *bars, double width);
/* Draws with its top left at 0, 0. */
void chart_bars_draw (const ChartPaper *paper, const ChartBars *bars, double width);
/* The same data as lines of text, aligned. (transfer full) */
char *chart_bars_table (const ChartBars *bars);
/* A spot a bar, top to bottom: name, value, likely range and axis. (transfer full) */
GPtrArray *chart_bars_spots (const ChartPaper *paper, const ChartBars *bars, double width);

G_END_DECLS

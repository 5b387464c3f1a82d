/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"
#include "chart/scale.h"

G_BEGIN_DECLS

/* A figure worth pointing at: today's, a trial's, a claim. */
typedef struct
{
  double at;
  const char *words;  /* borrowed: "today 92.00" */
  gboolean doubtful;  /* dotted and in the colour of a warning; else dashed */
} ChartMark;

/* What one way gains over another as one figure moves: gain (x) = gain + slope * (x - at). */
typedef struct
{
  double at, gain, slope;
  double low, high;         /* figures shown; NAN: chosen so that everything below is in the picture, from zero */
  double crossing;          /* where the gain is zero, NAN nowhere */
  const char *crossing_words; /* borrowed: "pays above 3.9" */
  const ChartMark *mark;    /* borrowed */
  gsize n_marks;
  const char *figure;       /* borrowed: "field rate, $ an hour" */
  const char *words;        /* borrowed: beneath the axis, the figure and what the line shows */
  const char *gain_words;   /* borrowed: "gain, $", for the table */
} ChartLine;

typedef struct
{
  ChartScale x, y;
  double zero_y;            /* of the line of no gain */
  double x0, y0, x1, y1;    /* ends of the gain's line, within the picture */
  double cross_x;           /* NAN: not in the picture */
  ChartBox cross_label;     /* width 0: none */
  double *mark_x;           /* n_marks; NAN: not in the picture */
  ChartBox *mark_label;     /* n_marks */
  ChartBox *x_tick;         /* ticks of x */
  ChartBox *y_tick;         /* ticks of y */
  double top, bottom, height;
} ChartLinePlan;

void chart_line_plan (const ChartPaper *paper, const ChartLine *line, double width, ChartLinePlan *plan);
void chart_line_plan_clear (ChartLinePlan *plan);

double chart_line_height (const ChartPaper *paper, const ChartLine *line, double width);
/* Draws with its top left at 0, 0. */
void chart_line_draw (const ChartPaper *paper, const ChartLine *line, double width);
/* The gain at the ticks of the axis, at the marks and the crossing, in order. (transfer full) */
char *chart_line_table (const ChartLine *line);
/* A spot for each row of the table that is in the picture, left to right: ticks, marks and the crossing. (transfer full) */
GPtrArray *chart_line_spots (const ChartPaper *paper, const ChartLine *line, double width);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"
#include "chart/scale.h"

G_BEGIN_DECLS

/* How far an answer moves with one cause: its figure with the cause at its low and at its high end. */
typedef struct
{
  const char *name;                   /* borrowed: "minutes of hanging" */
  double low, high;                   /* the answer at either end of the cause; NAN: not known, no bar on that side */
  const char *low_words, *high_words; /* borrowed, (nullable): at the ends of the bar, "8 min" and "12 min" */
} ChartSwingBar;

/* Bars around the answer as it stands, ranked by the caller. The part at the low end is hatched, that at the high end solid, and a
 * legend beneath says so; ends on the same side of the centre lie one over the other in half the height each. */
typedef struct
{
  const ChartSwingBar *bar; /* borrowed */
  gsize n;
  double centre;            /* the answer as it stands */
  const char *axis;         /* borrowed: figure and unit, "saving, $" */
  const char *name;         /* borrowed: heading of the names, for the table: "cause" */
  const char *low_name, *high_name; /* borrowed, (nullable): "at its low", "at its high" for the legend and the table */
} ChartSwing;

typedef struct
{
  ChartScale scale;
  gboolean above;            /* too narrow for names beside the bars: they stand above them */
  ChartBox *name;            /* n */
  ChartBox *low, *high;      /* n: from the centre to either end; width 0: none */
  ChartBox *low_words, *high_words; /* n; width 0: none */
  ChartBox legend[2];        /* swatch of low and of high; the words stand right of it */
  ChartBox *tick;
  double centre_x, axis_y, height;
} ChartSwingPlan;

void chart_swing_plan (const ChartPaper *paper, const ChartSwing *swing, double width, ChartSwingPlan *plan);
void chart_swing_plan_clear (ChartSwingPlan *plan);

double chart_swing_height (const ChartPaper *paper, const ChartSwing *swing, double width);
/* Draws with its top left at 0, 0. */
void chart_swing_draw (const ChartPaper *paper, const ChartSwing *swing, double width);
/* The same data as lines of text, aligned. (transfer full) */
char *chart_swing_table (const ChartSwing *swing);
/* Two spots a bar, the low end and the high end, top to bottom; one where an end is not known. (transfer full) */
GPtrArray *chart_swing_spots (const ChartPaper *paper, const ChartSwing *swing, double width);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"
#include "chart/scale.h"

G_BEGIN_DECLS

/* Words of the ticks of a level axis at @y, chart_scale_n_ticks() boxes; where two would touch, every second, third ... is left
 * out (width 0), the same everywhere. None stands beyond 0 to @width. (transfer full) */
ChartBox *chart_axis_plan (const ChartPaper *paper, const ChartScale *scale, double y, double width);
/* The line, its ticks and words, and what the axis means in @words beneath, in the middle. */
void chart_axis_draw (const ChartPaper *paper, const ChartScale *scale, const ChartBox *tick, double y, const char *words,
                      double width);
/* Height of all that stands under the line. */
double chart_axis_height (const ChartPaper *paper, const char *words);

G_END_DECLS

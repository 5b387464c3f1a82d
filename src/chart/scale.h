/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Figures beyond this are drawn as this; no price or hour comes near it. */
#define CHART_MOST 1e15

/* Round steps of an axis: the step of 1, 2 or 5 times a power of ten that gives at most @most steps from @low to @high. */
double chart_nice_step (double low, double high, int most);

/* A linear axis: figures low to high lie at from to to; low and high are whole steps. */
typedef struct
{
  double low, high, step;
  double from, to;
} ChartScale;

/* Takes in @low to @high (either order; NAN counts as 0, what is beyond CHART_MOST as that) and widens to whole steps, at most
 * @most of them and two more. One figure alone gets room around it. */
void chart_scale_init (ChartScale *scale, double low, double high, double from, double to, int most);
/* Place of a figure; one outside lies at the end, NAN at the place of zero or the end next to it. */
double chart_scale_at (const ChartScale *scale, double value);
int chart_scale_n_ticks (const ChartScale *scale);
double chart_scale_tick (const ChartScale *scale, int i);
/* A tick in words: as many decimals as the steps need, thousands grouped by commas; "-" before what is below zero. */
char *chart_scale_print (const ChartScale *scale, double tick);
/* A figure between ticks in words, a hundred times as fine as the steps, two decimals at least and six at most. */
char *chart_scale_figure (const ChartScale *scale, double value);

/* A figure of a table, with so many decimals and thousands commas; "" for NAN. (transfer full) */
char *chart_figure (double value, int decimals);

G_END_DECLS

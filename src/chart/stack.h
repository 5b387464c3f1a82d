/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"

G_BEGIN_DECLS

/* One part of a whole. A part of zero, below zero or NAN has no place in the bar but keeps its words. */
typedef struct
{
  const char *name; /* borrowed: "field and site" */
  double value;     /* any unit, the same for all */
  const char *text; /* borrowed: the value in words, "80,413.20" */
} ChartPart;

/* One horizontal bar in parts, "where the price goes": each part with its own filling, its name and value beneath; labels that
 * would overlap go to a row further down, with a thin line to their part. */
typedef struct
{
  const ChartPart *part; /* borrowed, in order */
  gsize n;
} ChartStack;

typedef struct
{
  ChartBox *bar;   /* n; width 0: no place in the bar */
  ChartBox *label; /* n: name over value */
  int *row;        /* n */
  double height;   /* of the whole picture */
} ChartStackPlan;

/* Where everything goes at this width; clear with chart_stack_plan_clear(). */
void chart_stack_plan (const ChartPaper *paper, const ChartStack *stack, double width, ChartStackPlan *plan);
void chart_stack_plan_clear (ChartStackPlan *plan);

/* Height that the picture takes at this width. */
double chart_stack_height (const ChartPaper *paper, const ChartStack *stack, double width);
/* Draws with its top left at 0, 0. */
void chart_stack_draw (const ChartPaper *paper, const ChartStack *stack, double width);
/* The same data as lines of text, aligned. (transfer full) */
char *chart_stack_table (const ChartStack *stack);
/* A spot a part: its place in the bar, or its words where it has none. (transfer full) */
GPtrArray *chart_stack_spots (const ChartPaper *paper, const ChartStack *stack, double width);

G_END_DECLS

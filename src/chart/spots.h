/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"

G_BEGIN_DECLS

typedef enum
{
  CHART_FIRST,
  CHART_LAST,
  CHART_NEXT,     /* in reading order */
  CHART_PREVIOUS,
  CHART_ABOVE,    /* the nearest whose middle lies higher, those in line with it before others */
  CHART_BELOW,
} ChartWalk;

/* Where a walk over @spots (ChartSpot *) goes from @from (-1: none yet, so to the first, or the last for CHART_LAST and
 * CHART_PREVIOUS). At an end it stays. -1 when there are none. CHART_ABOVE and CHART_BELOW where all stand in one row go on in
 * reading order, back and forth, so that every arrow key does something. */
int chart_spots_walk (const GPtrArray *spots, int from, ChartWalk walk);
/* The spot at a place: the smallest one that holds it, else the nearest within @near, else -1. */
int chart_spots_at (const GPtrArray *spots, double x, double y, double near);
/* A ring around a spot, kept within 0 to @width and @height. */
void chart_spot_ring (const ChartPaper *paper, const ChartSpot *spot, double width, double height);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"

G_BEGIN_DECLS

/* Series of lines and points that differ without colour: each has its own mark, its own dashes and its own lightness. */
#define CHART_N_SERIES 6 /* further ones begin anew */

/* Colour of a series: any two differ in lightness by a tenth of the way from ink to paper at least. */
ChartColour chart_series_colour (const ChartPalette *palette, guint series);
/* Its mark about a point, some @size across: disc, ring square, triangle, diamond, cross, ring. */
void chart_series_mark (const ChartPaper *paper, guint series, double x, double y, double size);
/* A piece of its line with its dashes; leaves the context without dashes. */
void chart_series_stroke (const ChartPaper *paper, guint series, double x0, double y0, double x1, double y1, double width);
/* The same for a line through @n points (x, y, x, y ...). */
void chart_series_path (const ChartPaper *paper, guint series, const double *xy, gsize n, double width);

G_END_DECLS

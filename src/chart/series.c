/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/series.h"

#include <math.h>

ChartColour
chart_series_colour (const ChartPalette *palette, guint series)
{
  static const double alpha[CHART_N_SERIES] = { 1, 1, 0.42, 0.35, 0.82, 0.54 };
  gboolean accent = series % CHART_N_SERIES == 0 || series % CHART_N_SERIES == 3;
  ChartColour c = accent ? palette->accent : palette->text;

  c.a *= alpha[series % CHART_N_SERIES];
  return c;
}

static void
use_colour (const ChartPaper *paper, guint series)
{
  ChartColour c = chart_series_colour (paper->palette, series);

  cairo_set_source_rgba (paper->cr, c.r, c.g, c.b, c.a);
}

static void
polygon (cairo_t *cr, double x, double y, double r, int corners, double turn)
{
  for (int i = 0; i < corners; i++)
    {
      double a = turn + 2 * G_PI * i / corners;
      cairo_line_to (cr, x + r * cos (a), y + r * sin (a));
    }
  cairo_close_path (cr);
}

void
chart_series_mark (const ChartPaper *paper, guint series, double x, double y, double size)
{
  cairo_t *cr = paper->cr;
  double r = size / 2;

  cairo_save (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  cairo_set_line_width (cr, MAX (size / 5, 1));
  use_colour (paper, series);
  cairo_new_path (cr);
  switch (series % CHART_N_SERIES)
    {
    case 0:
      cairo_arc (cr, x, y, r, 0, 2 * G_PI);
      cairo_fill (cr);
      break;
    case 1:
      cairo_rectangle (cr, x - r * 0.85, y - r * 0.85, r * 1.7, r * 1.7);
      cairo_stroke (cr);
      break;
    case 2:
      polygon (cr, x, y, r * 1.15, 3, -G_PI / 2);
      cairo_fill (cr);
      break;
    case 3:
      polygon (cr, x, y, r * 1.15, 4, 0);
      cairo_fill (cr);
      break;
    case 4:
      cairo_move_to (cr, x - r, y - r);
      cairo_line_to (cr, x + r, y + r);
      cairo_move_to (cr, x - r, y + r);
      cairo_line_to (cr, x + r, y - r);
      cairo_stroke (cr);
      break;
    default:
      cairo_arc (cr, x, y, r * 0.85, 0, 2 * G_PI);
      cairo_stroke (cr);
      break;
    }
  cairo_restore (cr);
}

void
chart_series_path (const ChartPaper *paper, guint series, const double *xy, gsize n, double width)
{
  static const double dash[CHART_N_SERIES][4] = { { 0 },          { 7, 3, 0, 0 }, { 2, 3, 0, 0 },
                                                  { 9, 3, 2, 3 }, { 4, 2, 0, 0 }, { 1, 2, 0, 0 } };
  static const int n_dash[CHART_N_SERIES] = { 0, 2, 2, 4, 2, 2 };
  guint which = series % CHART_N_SERIES;

  if (n < 2)
    return;
  use_colour (paper, series);
  cairo_set_line_width (paper->cr, width);
  cairo_set_dash (paper->cr, dash[which], n_dash[which], 0);
  cairo_new_path (paper->cr);
  for (gsize i = 0; i < n; i++)
    cairo_line_to (paper->cr, xy[2 * i], xy[2 * i + 1]);
  cairo_stroke (paper->cr);
  cairo_set_dash (paper->cr, NULL, 0, 0);
}

void
chart_series_stroke (const ChartPaper *paper, guint series, double x0, double y0, double x1, double y1, double width)
{
  const double xy[] = { x0, y0, x1, y1 };

  chart_series_path (paper, series, xy, 2, width);
}

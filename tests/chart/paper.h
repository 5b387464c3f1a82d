/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* An image surface to draw on, and a look at its pixels; for the tests of chart. */

#include "chart/chart.h"

#include <math.h>
#include <pango/pangocairo.h>
#include <string.h>

typedef struct
{
  cairo_surface_t *surface;
  ChartPaper paper;
  int width, height;
} Sheet;

/* Colours that no blending of others gives by chance. */
static const ChartPalette sheet_palette = {
  .text = { 0, 0, 0, 1 },   .dim = { 0.5, 0.5, 0.5, 1 }, .accent = { 0, 0, 1, 1 }, .accent_fill = { 0, 1, 0, 1 },
  .line = { 0, 0.5, 1, 1 }, .warning = { 1, 0, 0, 1 },
};

static inline void
sheet_init (Sheet *sheet, int width, int height)
{
  sheet->width = width;
  sheet->height = height;
  sheet->surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  sheet->paper.cr = cairo_create (sheet->surface);
  sheet->paper.palette = &sheet_palette;
  sheet->paper.context = pango_cairo_create_context (sheet->paper.cr);
  PangoFontDescription *font = pango_font_description_from_string ("Sans 10");
  pango_context_set_font_description (sheet->paper.context, font);
  pango_font_description_free (font);
  sheet->paper.font = NULL;
  cairo_set_source_rgb (sheet->paper.cr, 1, 1, 1);
  cairo_paint (sheet->paper.cr);
}

static inline void
sheet_clear (Sheet *sheet)
{
  g_assert_cmpint (cairo_status (sheet->paper.cr), ==, CAIRO_STATUS_SUCCESS);
  g_object_unref (sheet->paper.context);
  cairo_destroy (sheet->paper.cr);
  cairo_surface_destroy (sheet->surface);
}

/* The colour at a pixel, 0xrrggbb. */
static inline guint32
sheet_pixel (Sheet *sheet, double x, double y)
{
  const unsigned char *data;
  guint32 pixel;

  g_assert_true (x >= 0 && y >= 0 && x < sheet->width && y < sheet->height);
  cairo_surface_flush (sheet->surface);
  data = cairo_image_surface_get_data (sheet->surface) + (gsize) y * (gsize) cairo_image_surface_get_stride (sheet->surface)
         + (gsize) x * 4;
  memcpy (&pixel, data, sizeof pixel);
  return pixel & 0xffffff;
}

static inline gboolean
boxes_touch (const ChartBox *a, const ChartBox *b)
{
  return a->w > 0 && b->w > 0 && a->x < b->x + b->w - 0.01 && b->x < a->x + a->w - 0.01 && a->y < b->y + b->h - 0.01
         && b->y < a->y + a->h - 0.01;
}

/* Values that a picture must survive. */
static const double hostile[] = { NAN, 0, -0.0, -1, 1, INFINITY, -INFINITY, 1e300, -1e300, 1e-300, 1e15, 123456.78, G_MAXDOUBLE };

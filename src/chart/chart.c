/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/chart.h"

#include <math.h>
#include <pango/pangocairo.h>

const ChartPalette chart_ink = {
  .text = { 0, 0, 0, 1 },
  .dim = { 0.35, 0.35, 0.35, 1 },
  .accent = { 0.1, 0.42, 0.39, 1 },
  .accent_fill = { 0.66, 0.83, 0.81, 1 },
  .line = { 0.6, 0.6, 0.6, 1 },
  .warning = { 0.6, 0.3, 0, 1 },
};

static PangoLayout *
layout_new (const ChartPaper *paper, const char *text, ChartLook look)
{
  PangoLayout *layout = pango_layout_new (paper->context);
  const PangoFontDescription *base = paper->font ? paper->font : pango_context_get_font_description (paper->context);
  PangoFontDescription *font = base ? pango_font_description_copy (base) : pango_font_description_from_string ("Sans 10");
  g_autofree char *valid = g_utf8_make_valid (text ? text : "", -1);
  PangoAttrList *attributes = pango_attr_list_new ();
  int size = pango_font_description_get_size (font);

  if (look & CHART_BOLD)
    pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  if ((look & CHART_SMALL) && size > 0)
    {
      if (pango_font_description_get_size_is_absolute (font))
        pango_font_description_set_absolute_size (font, size * 0.9);
      else
        pango_font_description_set_size (font, (int) (size * 0.9));
    }
  pango_layout_set_font_description (layout, font);
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_text (layout, valid, -1);
  pango_attr_list_unref (attributes);
  pango_font_description_free (font);
  return layout;
}

void
chart_text_size (const ChartPaper *paper, const char *text, ChartLook look, double *w, double *h)
{
  g_autoptr (PangoLayout) layout = layout_new (paper, text, look);
  int width, height;

  pango_layout_get_size (layout, &width, &height);
  if (w)
    *w = (double) width / PANGO_SCALE;
  if (h)
    *h = (double) height / PANGO_SCALE;
}

static void
set_colour (cairo_t *cr, const ChartColour *c)
{
  cairo_set_source_rgba (cr, c->r, c->g, c->b, c->a);
}

void
chart_text (const ChartPaper *paper, const char *text, ChartLook look, const ChartColour *colour, double x, double y, double width)
{
  g_autoptr (PangoLayout) layout = layout_new (paper, text, look);

  if (width > 0)
    {
      pango_layout_set_width (layout, (int) ceil (width * PANGO_SCALE));
      pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
    }
  set_colour (paper->cr, colour);
  cairo_move_to (paper->cr, x, y);
  pango_cairo_show_layout (paper->cr, layout);
}

void
chart_stroke (const ChartPaper *paper, const ChartColour *colour, double x0, double y0, double x1, double y1, double width)
{
  set_colour (paper->cr, colour);
  cairo_set_line_width (paper->cr, width);
  cairo_move_to (paper->cr, x0, y0);
  cairo_line_to (paper->cr, x1, y1);
  cairo_stroke (paper->cr);
}

/* Slanted lines over a box that is the clip. @slope: 1 rising, -1 falling. */
static void
slanted (cairo_t *cr, const ChartBox *box, double gap, int slope)
{
  for (double x = box->x - box->h; x < box->x + box->w + box->h; x += gap)
    {
      cairo_move_to (cr, x, slope > 0 ? box->y + box->h : box->y);
      cairo_line_to (cr, x + box->h, slope > 0 ? box->y : box->y + box->h);
    }
}

void
chart_fill (const ChartPaper *paper, const ChartBox *box, ChartFill fill)
{
  cairo_t *cr = paper->cr;

  if (!(box->w > 0) || !(box->h > 0))
    return;
  cairo_save (cr);
  cairo_rectangle (cr, box->x, box->y, box->w, box->h);
  cairo_clip (cr);
  if (fill == CHART_FILL || fill == CHART_SOLID)
    {
      set_colour (cr, fill == CHART_FILL ? &paper->palette->accent_fill : &paper->palette->accent);
      cairo_paint (cr);
    }
  set_colour (cr, &paper->palette->accent);
  cairo_set_line_width (cr, 1);
  if (fill == CHART_HATCH || fill == CHART_CROSS)
    slanted (cr, box, fill == CHART_HATCH ? 8 : 5, 1);
  if (fill == CHART_CROSS)
    slanted (cr, box, 5, -1);
  for (double y = box->y + 2.5; fill == CHART_LINES && y < box->y + box->h; y += 5)
    {
      cairo_move_to (cr, box->x, y);
      cairo_line_to (cr, box->x + box->w, y);
    }
  cairo_stroke (cr);
  cairo_restore (cr);
  set_colour (cr, &paper->palette->accent);
  cairo_set_line_width (cr, 1);
  cairo_rectangle (cr, box->x + 0.5, box->y + 0.5, MAX (box->w - 1, 0), MAX (box->h - 1, 0));
  cairo_stroke (cr);
}

void
chart_spot_free (ChartSpot *spot)
{
  g_free (spot->words);
  g_free (spot);
}

GPtrArray *
chart_spots_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) chart_spot_free);
}

void
chart_spots_add (GPtrArray *spots, const ChartBox *box, char *words)
{
  ChartSpot *spot = g_new (ChartSpot, 1);

  *spot = (ChartSpot) { *box, words };
  g_ptr_array_add (spots, spot);
}

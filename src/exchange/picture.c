/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/picture.h"

#include "exchange/safe-file.h"

#include <cairo-pdf.h>
#include <glib/gi18n.h>
#include <math.h>
#include <pango/pangocairo.h>
#include <stdio.h>

#define MARGIN 16.0
#define GAP 10.0
#define POINTS 0.75 /* a pixel of 96 an inch in points */
#define FINE 2.0    /* pixels of a PNG a pixel of the screen */

double
picture_words (const ChartPaper *paper, const char *words, ChartLook look, const ChartColour *colour, double x, double y, double width)
{
  return picture_words_at (paper, words, look, colour, x, y, width, FALSE);
}

double
picture_words_at (const ChartPaper *paper, const char *words, ChartLook look, const ChartColour *colour, double x, double y, double width,
                  gboolean right)
{
  g_autoptr (PangoLayout) layout = pango_layout_new (paper->context);
  const PangoFontDescription *base = paper->font ? paper->font : pango_context_get_font_description (paper->context);
  PangoFontDescription *font = base ? pango_font_description_copy (base) : pango_font_description_from_string ("Sans 10");
  g_autofree char *valid = g_utf8_make_valid (words ? words : "", -1);
  int height;

  if (!*valid)
    {
      pango_font_description_free (font);
      return 0;
    }
  if (look & CHART_BOLD)
    pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  if (look & CHART_SMALL)
    pango_font_description_set_size (font, (int) (pango_font_description_get_size (font) * 0.9));
  pango_layout_set_font_description (layout, font);
  pango_layout_set_width (layout, (int) (MAX (width, 1) * PANGO_SCALE));
  pango_layout_set_alignment (layout, right ? PANGO_ALIGN_RIGHT : PANGO_ALIGN_LEFT);
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_set_text (layout, valid, -1);
  pango_layout_get_size (layout, NULL, &height);
  if (paper->cr)
    {
      cairo_set_source_rgba (paper->cr, colour->r, colour->g, colour->b, colour->a);
      cairo_move_to (paper->cr, x, y);
      pango_cairo_show_layout (paper->cr, layout);
    }
  pango_font_description_free (font);
  return (double) height / PANGO_SCALE;
}

cairo_status_t
picture_stream (void *closure, const unsigned char *data, unsigned int length)
{
  return fwrite (data, 1, length, closure) == length ? CAIRO_STATUS_SUCCESS : CAIRO_STATUS_WRITE_ERROR;
}

/* Everything, or without a cr its height only. */
static double
paint (const Picture *p, const ChartPaper *paper, double width)
{
  double y = MARGIN, taken;

  taken = picture_words (paper, p->title, CHART_BOLD, &paper->palette->text, MARGIN, y, width);
  y += taken > 0 ? taken + GAP : 0;
  if (paper->cr)
    {
      cairo_save (paper->cr);
      cairo_translate (paper->cr, MARGIN, y);
      p->draw (paper, width, p->data);
      cairo_restore (paper->cr);
    }
  y += p->height (paper, width, p->data);
  taken = picture_words (paper, p->note, CHART_SMALL, &paper->palette->dim, MARGIN, y + GAP, width);
  y += taken > 0 ? taken + GAP : 0;
  return ceil (y + MARGIN);
}

PangoContext *
picture_context_new (double resolution, const char *font_words)
{
  PangoContext *context = pango_font_map_create_context (pango_cairo_font_map_get_default ());
  PangoFontDescription *font = pango_font_description_from_string (font_words);

  pango_cairo_context_set_resolution (context, resolution);
  pango_context_set_font_description (context, font);
  pango_font_description_free (font);
  return context;
}

static gboolean
finish (cairo_t *cr, cairo_surface_t *surface, FILE *file, PictureFormat format, GError **error)
{
  cairo_status_t status = cairo_status (cr);

  cairo_destroy (cr);
  if (status == CAIRO_STATUS_SUCCESS && format == PICTURE_PNG)
    status = cairo_surface_write_to_png_stream (surface, picture_stream, file);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (fclose (file) != 0 && status == CAIRO_STATUS_SUCCESS)
    status = CAIRO_STATUS_WRITE_ERROR;
  if (status == CAIRO_STATUS_SUCCESS)
    return TRUE;
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("the picture could not be written: %s"), cairo_status_to_string (status));
  return FALSE;
}

gboolean
picture_write (const Picture *picture, PictureFormat format, const char *path, GError **error)
{
  g_autoptr (SafeFile) safe = safe_file_new (path, error);
  double width = CLAMP (picture->width, 320, 2000), page = width + 2 * MARGIN, height;
  ChartPaper paper = { .palette = &chart_ink };
  cairo_surface_t *surface;
  FILE *file;

  if (!safe)
    return FALSE;
  file = safe_file_open (safe, error);
  if (!file)
    return FALSE;
  paper.context = picture_context_new (96, "Sans 10");
  height = paint (picture, &paper, width);
  if (format == PICTURE_PDF)
    {
      surface = cairo_pdf_surface_create_for_stream (picture_stream, file, page * POINTS, height * POINTS);
      cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, picture->title ? picture->title : "");
      if (picture->date)
        cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, picture->date);
    }
  else
    surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int) ceil (page * FINE), (int) ceil (height * FINE));
  paper.cr = cairo_create (surface);
  cairo_scale (paper.cr, format == PICTURE_PDF ? POINTS : FINE, format == PICTURE_PDF ? POINTS : FINE);
  cairo_set_source_rgb (paper.cr, 1, 1, 1);
  cairo_paint (paper.cr);
  paint (picture, &paper, width);
  g_object_unref (paper.context);
  return finish (paper.cr, surface, file, format, error) && safe_file_commit (safe, error);
}

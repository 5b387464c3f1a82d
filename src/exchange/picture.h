/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"

#include <gio/gio.h>

G_BEGIN_DECLS

typedef enum
{
  PICTURE_PNG, /* twice as fine as on the screen, white ground */
  PICTURE_PDF, /* one page of the picture's own size, words as words */
} PictureFormat;

/* A picture of chart/ as a file: its title above, the note on its figures beneath, in ink on white. Everything borrowed. */
typedef struct
{
  const char *title, *note; /* (nullable) */
  double width;             /* of the picture in pixels of a screen of 96 an inch; 320 to 2000 */
  double (*height) (const ChartPaper *paper, double width, gpointer data);
  void (*draw) (const ChartPaper *paper, double width, gpointer data);
  gpointer data;
  const char *date;         /* (nullable): "2026-11-25T00:00:00", the date inside a PDF, so that the same picture gives the same file */
} Picture;

/* Writes @picture to @path, which appears whole or not at all. FALSE with G_IO_ERROR: nothing was written. */
gboolean picture_write (const Picture *picture, PictureFormat format, const char *path, GError **error);

/* ---- for others that paint pages ---- */

/* Words in lines of at most @width, their top left at @x, @y (not drawn without @paper->cr): the height they take. */
double picture_words (const ChartPaper *paper, const char *words, ChartLook look, const ChartColour *colour, double x, double y,
                      double width);
/* The same, with @right lines that end at @x + @width. */
double picture_words_at (const ChartPaper *paper, const char *words, ChartLook look, const ChartColour *colour, double x, double y,
                         double width, gboolean right);
/* A context of its own: @resolution units an inch, @font_words as Pango reads them ("Sans 10"). (transfer full) */
PangoContext *picture_context_new (double resolution, const char *font_words);
/* A cairo writer that appends to a file; closure: FILE *. */
cairo_status_t picture_stream (void *closure, const unsigned char *data, unsigned int length);

G_END_DECLS

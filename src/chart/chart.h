/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>
#include <glib.h>
#include <pango/pango.h>

G_BEGIN_DECLS

/* Colours as the caller has them: of a theme on the screen, ink on paper. 0 to 1, not premultiplied. */
typedef struct
{
  double r, g, b, a;
} ChartColour;

typedef struct
{
  ChartColour text, dim, accent, accent_fill, line, warning;
} ChartPalette;

/* What every picture is drawn on. Units are those of the cairo context: pixels on the screen, points on a page. The same paper
 * without @cr serves for measuring. Everything borrowed. */
typedef struct
{
  cairo_t *cr;                      /* (nullable) for measuring */
  const ChartPalette *palette;
  PangoContext *context;
  const PangoFontDescription *font; /* (nullable): that of @context */
} ChartPaper;

typedef struct
{
  double x, y, w, h;
} ChartBox;

/* Black ink, greys and one accent, for pages. */
extern const ChartPalette chart_ink;

/* How a surface is filled; one and the next differ in pattern and in lightness, so that grey print tells them apart. */
typedef enum
{
  CHART_FILL,
  CHART_HATCH,
  CHART_EMPTY,
  CHART_SOLID,
  CHART_CROSS,
  CHART_LINES,
  CHART_N_FILLS,
} ChartFill;

/* ---- helps for painters ---- */

typedef enum
{
  CHART_PLAIN,
  CHART_BOLD = 1 << 0,
  CHART_SMALL = 1 << 1,
} ChartLook;

/* Size of one line of text. */
void chart_text_size (const ChartPaper *paper, const char *text, ChartLook look, double *w, double *h);
/* One line, its top left at x, y; shortened with an ellipsis at @width (0 and less: never). */
void chart_text (const ChartPaper *paper, const char *text, ChartLook look, const ChartColour *colour, double x, double y,
                 double width);
void chart_stroke (const ChartPaper *paper, const ChartColour *colour, double x0, double y0, double x1, double y1, double width);
/* A box filled and outlined with the accent. */
void chart_fill (const ChartPaper *paper, const ChartBox *box, ChartFill fill);

/* A place in a picture with what it says: for the pointer, the keyboard and ears. */
typedef struct
{
  ChartBox box;
  char *words; /* "Slip-on flange, bolted corners: 174,857.16" */
} ChartSpot;

void chart_spot_free (ChartSpot *spot);
/* An empty list of ChartSpot *, and one more in it; takes @words. */
GPtrArray *chart_spots_new (void);
void chart_spots_add (GPtrArray *spots, const ChartBox *box, char *words);

static inline double
chart_box_end (const ChartBox *box)
{
  return box->x + box->w;
}

G_END_DECLS

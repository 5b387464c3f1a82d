/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The memo as a page: the same painter for the screen and for the file. */
#include "config.h"

#include "exchange/memo.h"

#include "exchange/picture.h"
#include "exchange/safe-file.h"

#include <cairo-pdf.h>
#include <glib/gi18n.h>
#include <langinfo.h>
#include <math.h>
#include <stdint.h>
#include <stdio.h>

#define MARGIN 42.0
#define MOST_LETTERS 9.5
#define LEAST_LETTERS 5.5
#define STEP 0.25
#define PICTURE_TEXT (40.0 / 3) /* pixels of the letters in a picture of 96 an inch, "Sans 10" */

typedef struct
{
  const Memo *memo;
  ChartPaper paper;   /* of words */
  ChartPaper picture; /* of pictures, before they are scaled */
  double letters, width, y;
} Page;

MemoPaper
memo_paper (void)
{
  /* glibc gives the number as the value of the pointer: millimetres. */
  intptr_t width = (intptr_t) nl_langinfo (_NL_PAPER_WIDTH);

  return width == 216 ? MEMO_LETTER : MEMO_A4;
}

void
memo_page_size (MemoPaper paper, double *width, double *height)
{
  *width = paper == MEMO_LETTER ? 612 : 595.28;
  *height = paper == MEMO_LETTER ? 792 : 841.89;
}

static void
put (Page *p, const char *words, ChartLook look, const ChartColour *colour, double before)
{
  p->y += before;
  p->y += picture_words (&p->paper, words, look, colour, MARGIN, p->y, p->width);
}

/* With larger letters. */
static void
put_title (Page *p)
{
  ChartPaper paper = p->paper;
  PangoFontDescription *font = pango_font_description_copy (pango_context_get_font_description (paper.context));

  pango_font_description_set_size (font, (int) (p->letters * 1.5 * PANGO_SCALE));
  paper.font = font;
  p->y += picture_words (&paper, p->memo->title, CHART_BOLD, &chart_ink.text, MARGIN, p->y, p->width);
  pango_font_description_set_size (font, (int) (p->letters * 1.15 * PANGO_SCALE));
  p->y += p->letters * 0.4;
  p->y += picture_words (&paper, p->memo->question, CHART_PLAIN, &chart_ink.dim, MARGIN, p->y, p->width);
  p->y += p->letters * 0.5;
  p->y += picture_words (&paper, p->memo->answer, CHART_BOLD, &chart_ink.text, MARGIN, p->y, p->width);
  pango_font_description_free (font);
}

/* ---- the table ---- */

static void
put_cell (Page *p, const char *words, ChartLook look, double x, double width, gboolean right)
{
  double w;

  chart_text_size (&p->paper, words, look, &w, NULL);
  w = MIN (w + 0.5, width);
  if (p->paper.cr)
    chart_text (&p->paper, words, look, &chart_ink.text, right ? x + width - w : x, p->y, w);
}

static void
put_rule (Page *p, double before, double after)
{
  p->y += before;
  if (p->paper.cr)
    chart_stroke (&p->paper, &chart_ink.line, MARGIN, p->y, MARGIN + p->width, p->y, 0.5);
  p->y += after;
}

/* Heads may take two lines, figures one. */
static void
put_table (Page *p)
{
  static const double from[] = { 0, 0.30, 0.57, 0.84 }, share[] = { 0.29, 0.25, 0.25, 0.16 };
  const char *heads[] = { p->memo->name[0], p->memo->name[1] };
  double line, tall = 0;

  chart_text_size (&p->paper, "Xg", CHART_PLAIN, NULL, &line);
  p->y += p->letters * 0.9;
  for (int k = 0; k < 2; k++)
    tall = MAX (tall, picture_words_at (&p->paper, heads[k], CHART_BOLD, &chart_ink.text, MARGIN + p->width * (from[k + 1] + 0.03), p->y,
                                        p->width * (share[k + 1] - 0.03), TRUE));
  put_cell (p, _ ("difference"), CHART_BOLD, MARGIN + p->width * from[3], p->width * share[3], TRUE);
  p->y += tall;
  put_rule (p, 1.5, 1.5);
  for (guint i = 0; i < p->memo->row->len; i++)
    {
      const MemoRow *row = g_ptr_array_index (p->memo->row, i);
      for (int k = 0; k < 4; k++)
        put_cell (p, row->cell[k], k == 3 ? CHART_BOLD : CHART_PLAIN, MARGIN + p->width * from[k], p->width * share[k], k > 0);
      p->y += line + 0.5;
    }
}

/* ---- pictures ---- */

/* One beside the other, each in half of the width, drawn smaller so that its letters are of the page's size. */
static void
put_pictures (Page *p)
{
  double scale = p->letters * 0.9 / PICTURE_TEXT, gap = 22, half = (p->width - (p->memo->has_line ? gap : 0)) / (p->memo->has_line ? 2 : 1);
  double top, tall[2] = { 0 };

  p->y += p->letters * 0.9;
  top = p->y;
  for (int k = 0; k < (p->memo->has_line ? 2 : 1); k++)
    {
      double x = MARGIN + k * (half + gap), y = top;
      y += picture_words (&p->paper, k ? p->memo->line_title : p->memo->bars_title, CHART_BOLD, &chart_ink.text, x, y, half) + 3;
      if (p->paper.cr)
        {
          cairo_save (p->paper.cr);
          cairo_translate (p->paper.cr, x, y);
          cairo_scale (p->paper.cr, scale, scale);
          p->picture.cr = p->paper.cr;
          if (k)
            chart_line_draw (&p->picture, &p->memo->line, half / scale);
          else
            chart_bars_draw (&p->picture, &p->memo->bars, half / scale);
          p->picture.cr = NULL;
          cairo_restore (p->paper.cr);
        }
      y += (k ? chart_line_height (&p->picture, &p->memo->line, half / scale) : chart_bars_height (&p->picture, &p->memo->bars, half / scale))
           * scale;
      tall[k] = y - top;
    }
  p->y += MAX (tall[0], tall[1]);
}

/* ---- the page ---- */

static void
put_section (Page *p, const MemoSection *section)
{
  put (p, section->heading, CHART_BOLD, &chart_ink.accent, p->letters * 0.75);
  for (guint i = 0; i < section->line->len; i++)
    {
      double dot = p->letters * 0.9, taken;
      if (p->paper.cr)
        chart_text (&p->paper, "•", CHART_PLAIN, &chart_ink.dim, MARGIN, p->y, 0);
      taken = picture_words (&p->paper, g_ptr_array_index (section->line, i), CHART_PLAIN, &chart_ink.text, MARGIN + dot, p->y, p->width - dot);
      p->y += taken + 0.5;
    }
}

/* Paints, or without a cr measures: where the page ends. */
static double
paint (const Memo *memo, MemoPaper paper, cairo_t *cr, double letters)
{
  double width, height;
  g_autofree char *font = g_strdup_printf ("Sans %d", 10), *foot = NULL;
  PangoFontDescription *description = pango_font_description_from_string ("Sans");
  Page p = { .memo = memo, .letters = letters, .y = MARGIN };

  memo_page_size (paper, &width, &height);
  p.width = width - 2 * MARGIN;
  pango_font_description_set_size (description, (int) (letters * PANGO_SCALE));
  p.paper = (ChartPaper) { cr, &chart_ink, picture_context_new (72, "Sans"), NULL };
  pango_context_set_font_description (p.paper.context, description);
  p.picture = (ChartPaper) { NULL, &chart_ink, picture_context_new (96, font), NULL };
  put_title (&p);
  put_table (&p);
  put_pictures (&p);
  for (guint i = 0; i < memo->section->len; i++)
    put_section (&p, g_ptr_array_index (memo->section, i));
  put_rule (&p, letters * 0.9, 2);
  put (&p, memo->foot, CHART_SMALL, &chart_ink.dim, 0);
  pango_font_description_free (description);
  g_object_unref (p.paper.context);
  g_object_unref (p.picture.context);
  return p.y;
}

double
memo_fit (const Memo *memo, MemoPaper paper, double *bottom)
{
  double width, height, end = 0, letters;

  memo_page_size (paper, &width, &height);
  for (letters = MOST_LETTERS; letters >= LEAST_LETTERS; letters -= STEP)
    {
      end = paint (memo, paper, NULL, letters);
      if (end <= height - MARGIN)
        break;
    }
  if (bottom)
    *bottom = end;
  return MAX (letters, LEAST_LETTERS);
}

void
memo_paint (const Memo *memo, MemoPaper paper, cairo_t *cr)
{
  double width, height;

  memo_page_size (paper, &width, &height);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  paint (memo, paper, cr, memo_fit (memo, paper, NULL));
  cairo_restore (cr);
}

gboolean
memo_write_pdf (const Memo *memo, MemoPaper paper, const char *path, GError **error)
{
  g_autoptr (SafeFile) safe = safe_file_new (path, error);
  g_autofree char *date = *memo->date ? g_strdup_printf ("%sT00:00:00Z", memo->date) : NULL;
  double width, height;
  cairo_status_t status;
  cairo_surface_t *surface;
  cairo_t *cr;
  FILE *file;

  if (!safe)
    return FALSE;
  file = safe_file_open (safe, error);
  if (!file)
    return FALSE;
  memo_page_size (paper, &width, &height);
  surface = cairo_pdf_surface_create_for_stream (picture_stream, file, width, height);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, memo->title);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, memo->answer);
  if (date)
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, date);
  cr = cairo_create (surface);
  memo_paint (memo, paper, cr);
  cairo_show_page (cr);
  status = cairo_status (cr);
  cairo_destroy (cr);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (fclose (file) != 0 && status == CAIRO_STATUS_SUCCESS)
    status = CAIRO_STATUS_WRITE_ERROR;
  if (status == CAIRO_STATUS_SUCCESS)
    return safe_file_commit (safe, error);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("the memo could not be written: %s"), cairo_status_to_string (status));
  return FALSE;
}

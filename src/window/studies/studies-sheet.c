/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/studies/studies-private.h"

#include "chart/chart.h"

#include <glib/gi18n.h>
#include <pango/pangocairo.h>
#include <string.h>

#define MARGIN 40.0
#define ROW 27.0

typedef struct
{
  char *key;
  GPtrArray *elements; /* char *: what is timed, one or more */
} Sheet;

static void
sheet_free (gpointer data, GClosure *closure)
{
  Sheet *sheet = data;

  (void) closure;
  g_ptr_array_unref (sheet->elements);
  g_free (sheet->key);
  g_free (sheet);
}

/* A label with a line to write on, from @x to @end. */
static void
blank (const ChartPaper *paper, const char *label, double x, double y, double end)
{
  double w, h;

  chart_text_size (paper, label, CHART_PLAIN, &w, &h);
  chart_text (paper, label, CHART_PLAIN, &paper->palette->text, x, y, 0);
  chart_stroke (paper, &paper->palette->dim, x + w + 5, y + h + 1, end, y + h + 1, 0.6);
}

static double
head (const ChartPaper *paper, const char *key, double width)
{
  double end = width - MARGIN, half = (width - 2 * MARGIN) / 2, y = MARGIN;
  g_autofree char *title = g_strdup_printf (_ ("Time study: %s"), key);

  chart_text (paper, title, CHART_BOLD, &paper->palette->text, MARGIN, y, width - 2 * MARGIN);
  y += 26;
  blank (paper, _ ("Date"), MARGIN, y, MARGIN + half - 12);
  blank (paper, _ ("Observer"), MARGIN + half, y, end);
  y += 24;
  blank (paper, _ ("Heads in the crew"), MARGIN, y, MARGIN + half - 12);
  blank (paper, _ ("Place, height, lift"), MARGIN + half, y, end);
  y += 26;
  chart_text (paper,
              _ ("Timing at height is nobody's reason to work unsafely: stand clear, follow the site's rules, and stop "
                 "the watch"),
              CHART_SMALL, &paper->palette->text, MARGIN, y, width - 2 * MARGIN);
  y += 13;
  chart_text (paper, _ ("rather than hurry anybody. Tell the crew what is timed and why."), CHART_SMALL,
              &paper->palette->text, MARGIN, y, width - 2 * MARGIN);
  y += 18;
  chart_text (paper,
              _ ("Minutes on the clock for all heads together, not worker-minutes: the program multiplies. Rating 100 "
                 "is a normal pace."),
              CHART_SMALL, &paper->palette->dim, MARGIN, y, width - 2 * MARGIN);
  return y + 20;
}

void
studies_sheet_draw (cairo_t *cr, double width, double height, const char *key, const GPtrArray *elements)
{
  const char *const titles[] = { _ ("Timed"), _ ("Size"),       _ ("Method"), _ ("Heads"),
                                 _ ("Count"), _ ("Clock, min"), _ ("Rating"), _ ("Remarks; why struck") };
  const double share[] = { 0.17, 0.10, 0.17, 0.07, 0.07, 0.10, 0.08, 0.24 };
  PangoContext *context = pango_cairo_create_context (cr);
  PangoFontDescription *font = pango_font_description_from_string ("Sans 9");
  ChartPaper paper = { cr, &chart_ink, context, font };
  double inner = width - 2 * MARGIN, top, y, x;
  int rows;

  pango_cairo_context_set_resolution (context, 72); /* a unit of the page is a point */
  top = head (&paper, key, width);
  rows = MAX ((int) ((height - MARGIN - top - 18) / ROW), 1);
  x = MARGIN;
  for (gsize c = 0; c < G_N_ELEMENTS (titles); c++)
    {
      chart_text (&paper, titles[c], CHART_BOLD | CHART_SMALL, &chart_ink.text, x + 3, top, share[c] * inner - 4);
      x += share[c] * inner;
    }
  y = top + 16;
  for (int i = 0; i <= rows; i++)
    chart_stroke (&paper, &chart_ink.line, MARGIN, y + i * ROW, width - MARGIN, y + i * ROW, i == 0 ? 1 : 0.6);
  for (int i = 0; i < rows && elements->len > 0; i++)
    chart_text (&paper, g_ptr_array_index (elements, (guint) i % elements->len), CHART_SMALL, &chart_ink.dim,
                MARGIN + 3, y + i * ROW + 8, share[0] * inner - 6);
  x = MARGIN;
  for (gsize c = 0; c <= G_N_ELEMENTS (titles); c++)
    {
      chart_stroke (&paper, &chart_ink.line, x, y, x, y + rows * ROW, 0.6);
      x += c < G_N_ELEMENTS (titles) ? share[c] * inner : 0;
    }
  pango_font_description_free (font);
  g_object_unref (context);
}

static void
draw_page_cb (GtkPrintOperation *operation, GtkPrintContext *context, int page, Sheet *sheet)
{
  (void) operation;
  (void) page;
  studies_sheet_draw (gtk_print_context_get_cairo_context (context), gtk_print_context_get_width (context),
                      gtk_print_context_get_height (context), sheet->key, sheet->elements);
}

/* What the study has timed, each once; whole joints where nothing is timed yet. */
static GPtrArray *
elements_of (TallyDraft *draft, const char *key)
{
  const CsvTable *table = draft_tables (draft)[CATALOGUE_OBSERVATIONS];
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < table->row->len; i++)
    {
      const char *timed = csv_cell (table, i, csv_column (table, "timed"));
      if (*timed && g_str_equal (csv_cell (table, i, csv_column (table, "study")), key)
          && !g_ptr_array_find_with_equal_func (out, timed, g_str_equal, NULL))
        g_ptr_array_add (out, g_strdup (timed));
    }
  if (out->len == 0)
    g_ptr_array_add (out, g_strdup (LABOUR_WHOLE));
  return out;
}

void
studies_print (TallyDraft *draft, const char *key, GtkWindow *parent, TallySession *session)
{
  GtkPrintOperation *operation = gtk_print_operation_new ();
  g_autoptr (GError) error = NULL;
  Sheet *sheet = g_new0 (Sheet, 1);

  sheet->key = g_strdup (key);
  sheet->elements = elements_of (draft, key);
  gtk_print_operation_set_n_pages (operation, 1);
  gtk_print_operation_set_unit (operation, GTK_UNIT_POINTS);
  gtk_print_operation_set_use_full_page (operation, TRUE);
  gtk_print_operation_set_job_name (operation, key);
  gtk_print_operation_set_allow_async (operation, TRUE);
  g_signal_connect_data (operation, "draw-page", G_CALLBACK (draw_page_cb), sheet, sheet_free, 0);
  if (gtk_print_operation_run (operation, GTK_PRINT_OPERATION_ACTION_PRINT_DIALOG, parent, &error)
      == GTK_PRINT_OPERATION_RESULT_ERROR)
    session_say (session, SESSION_REFUSED, _ ("The sheet cannot be printed: %s"), error->message);
  g_object_unref (operation);
}

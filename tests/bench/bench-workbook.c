/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long a workbook takes beside the library alone: the calls that wrote the cells are noted (the linker puts itself
 * between, see tests/meson.build) and the same cells are then written by the library with nothing around it. */
#include "bench/bench.h"

#include "exchange/workbook.h"

#include <glib/gstdio.h>
#include <stdio.h>
#include <time.h>
#include <xlsxwriter.h>

typedef struct
{
  lxw_worksheet *ws;
  guint32 row;
  lxw_col_t col;
  char kind;          /* n, s, f, t, b */
  const void *format; /* only told apart */
  double number;
  char *text, *value;
} Call;

static GArray *calls; /* NULL: not noted */

static void
note (lxw_worksheet *ws, lxw_row_t row, lxw_col_t col, char kind, double number, const char *text, const char *value,
      const lxw_format *format)
{
  if (!calls)
    return;
  Call call = { ws, row, col, kind, format, number, g_strdup (text), g_strdup (value) };
  g_array_append_val (calls, call);
}

lxw_error __real_worksheet_write_number (lxw_worksheet *, lxw_row_t, lxw_col_t, double, lxw_format *);
lxw_error __real_worksheet_write_string (lxw_worksheet *, lxw_row_t, lxw_col_t, const char *, lxw_format *);
lxw_error __real_worksheet_write_blank (lxw_worksheet *, lxw_row_t, lxw_col_t, lxw_format *);
lxw_error __real_worksheet_write_formula_num (lxw_worksheet *, lxw_row_t, lxw_col_t, const char *, lxw_format *,
                                              double);
lxw_error __real_worksheet_write_formula_str (lxw_worksheet *, lxw_row_t, lxw_col_t, const char *, lxw_format *,
                                              const char *);
lxw_error __wrap_worksheet_write_number (lxw_worksheet *, lxw_row_t, lxw_col_t, double, lxw_format *);
lxw_error __wrap_worksheet_write_string (lxw_worksheet *, lxw_row_t, lxw_col_t, const char *, lxw_format *);
lxw_error __wrap_worksheet_write_blank (lxw_worksheet *, lxw_row_t, lxw_col_t, lxw_format *);
lxw_error __wrap_worksheet_write_formula_num (lxw_worksheet *, lxw_row_t, lxw_col_t, const char *, lxw_format *,
                                              double);
lxw_error __wrap_worksheet_write_formula_str (lxw_worksheet *, lxw_row_t, lxw_col_t, const char *, lxw_format *,
                                              const char *);

lxw_error
__wrap_worksheet_write_number (lxw_worksheet *ws, lxw_row_t row, lxw_col_t col, double number, lxw_format *format)
{
  note (ws, row, col, 'n', number, NULL, NULL, format);
  return __real_worksheet_write_number (ws, row, col, number, format);
}

lxw_error
__wrap_worksheet_write_string (lxw_worksheet *ws, lxw_row_t row, lxw_col_t col, const char *text, lxw_format *format)
{
  note (ws, row, col, 's', 0, text, NULL, format);
  return __real_worksheet_write_string (ws, row, col, text, format);
}

lxw_error
__wrap_worksheet_write_blank (lxw_worksheet *ws, lxw_row_t row, lxw_col_t col, lxw_format *format)
{
  note (ws, row, col, 'b', 0, NULL, NULL, format);
  return __real_worksheet_write_blank (ws, row, col, format);
}

lxw_error
__wrap_worksheet_write_formula_num (lxw_worksheet *ws, lxw_row_t row, lxw_col_t col, const char *text,
                                    lxw_format *format, double number)
{
  note (ws, row, col, 'f', number, text, NULL, format);
  return __real_worksheet_write_formula_num (ws, row, col, text, format, number);
}

lxw_error
__wrap_worksheet_write_formula_str (lxw_worksheet *ws, lxw_row_t row, lxw_col_t col, const char *text,
                                    lxw_format *format, const char *value)
{
  note (ws, row, col, 't', 0, text, value, format);
  return __real_worksheet_write_formula_str (ws, row, col, text, format, value);
}

static void
replay_cell (lxw_worksheet *ws, const Call *c, lxw_format *f)
{
  if (c->kind == 'n')
    __real_worksheet_write_number (ws, c->row, c->col, c->number, f);
  else if (c->kind == 's')
    __real_worksheet_write_string (ws, c->row, c->col, c->text, f);
  else if (c->kind == 'b')
    __real_worksheet_write_blank (ws, c->row, c->col, f);
  else if (c->kind == 'f')
    __real_worksheet_write_formula_num (ws, c->row, c->col, c->text, f, c->number);
  else
    __real_worksheet_write_formula_str (ws, c->row, c->col, c->text, f, c->value);
}

/* The noted cells, in the same kind of workbook. */
static void
replay (const char *path, const char *folder)
{
  g_autofree char *tmpdir = g_strdup (folder);
  lxw_workbook_options options = { .constant_memory = LXW_TRUE, .tmpdir = tmpdir };
  lxw_workbook *book = workbook_new_opt (path, &options);
  g_autoptr (GHashTable) sheets = g_hash_table_new (NULL, NULL), formats = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < calls->len; i++)
    {
      const Call *c = &g_array_index (calls, Call, i);
      lxw_worksheet *ws = g_hash_table_lookup (sheets, c->ws);
      if (!ws)
        g_hash_table_insert (sheets, c->ws, ws = workbook_add_worksheet (book, NULL));
      lxw_format *format = g_hash_table_lookup (formats, c->format);
      if (!format)
        {
          /* As many formats as there were, all unlike. */
          g_hash_table_insert (formats, (gpointer) c->format, format = workbook_add_format (book));
          format_set_font_size (format, 10 + g_hash_table_size (formats));
        }
      replay_cell (ws, c, format);
    }
  if (workbook_close (book) != LXW_NO_ERROR)
    g_error ("the library could not write");
}

static void
write_job (TallyJob *job, const char *path)
{
  const int methods[] = { 0, 1, 2, 3 };
  g_autoptr (GError) error = NULL;

  if (!workbook_write (job, methods, G_N_ELEMENTS (methods), 0, path, NULL, NULL, &error))
    g_error ("%s", error->message);
}

int
main (int argc, char **argv)
{
  guint rows = argc > 1 ? (guint) g_ascii_strtoull (argv[1], NULL, 10) : 100000;
  g_autoptr (TallyJob) job = bench_job (rows, FALSE);
  g_autofree char *folder = g_dir_make_tmp ("bench-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "bid.xlsx", NULL),
                  *other = g_build_filename (folder, "cells.xlsx", NULL);
  double whole = 1e9, alone = 1e9;

  calls = g_array_new (FALSE, FALSE, sizeof (Call));
  write_job (job, path);
  GArray *noted = g_steal_pointer (&calls);
  /* Turn about, and in processor time: what else the machine does must not fall on one of the two. */
  for (int i = 0; i < 4; i++)
    {
      clock_t from = clock ();
      write_job (job, path);
      whole = MIN (whole, (double) (clock () - from) / CLOCKS_PER_SEC);
      calls = noted;
      from = clock ();
      replay (other, folder);
      alone = MIN (alone, (double) (clock () - from) / CLOCKS_PER_SEC);
      calls = NULL;
    }
  printf ("workbook of %u runs, %u cells: %.2f s; the library alone with the same cells: %.2f s; ratio %.2f\n", rows,
          noted->len, whole, alone, whole / alone);
  g_unlink (path);
  g_unlink (other);
  g_rmdir (folder);
  return 0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "exchange/read-back.h"
#include "exchange/safe-file.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <locale.h>
#include <string.h>

#define MOST_RUNS 1000000 /* a sheet has 1 048 576 rows */
#define ROW_BYTES 2600    /* XML of a run's row, on the large side */
#define OTHER_BYTES 2000000

static void
clear_item (gpointer data)
{
  BookItem *item = data;

  g_free (item->label);
  g_free (item->unit);
}

static void
book_clear (Book *book)
{
  if (book->book)
    lxw_workbook_free (book->book);
  if (book->own)
    {
      g_array_set_clear_func (book->own, clear_item);
      g_array_unref (book->own);
    }
  g_clear_pointer (&book->cells, g_array_unref);
  g_clear_pointer (&book->cell_index, g_hash_table_unref);
  g_clear_pointer (&book->figures, g_array_unref);
  g_clear_pointer (&book->names, g_hash_table_unref);
  g_clear_pointer (&book->buildup, buildup_free);
  g_free (book->used_method);
  g_free (book->used_gauge);
  g_free (book->used_round);
  g_free (book->used_sheet);
  if (book->scratch)
    g_string_free (book->scratch, TRUE);
  job_totals_clear (&book->totals);
  g_clear_error (&book->error);
}

static void
book_init (Book *book, TallyJob *job)
{
  const JobRecord *head = job_head (job);
  JobScope whole = { 0, 0 };

  book->job = job;
  book->basis = job_basis (job);
  book->catalogue = book->basis->catalogue;
  book->decimals = job_decimals (job);
  book->metric = head->num[HEAD_UNITS] == 1;
  book->currency = head->text[HEAD_CURRENCY] ? head->text[HEAD_CURRENCY] : "";
  book->names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  book->scratch = g_string_new (NULL);
  book->used_method = g_new0 (guint8, MAX ((gsize) book->basis->n_methods * DUCT_N_KINDS, 1));
  book->used_gauge = g_new0 (guint8, MAX (book->catalogue->rules->gauge_rows->len, 1));
  book->used_round = g_new0 (guint8, MAX (book->catalogue->rules->round_gauges->len, 1));
  book->used_sheet = g_new0 (guint8, MAX (book->catalogue->rules->sheets->len, 1));
  for (int i = 0; i < COST_N_GROUPS; i++)
    book->items_first[i] = book->items_last[i] = -1;
  for (int i = 0; i < 2; i++)
    book->labour_first[i] = book->labour_last[i] = -1;
  job_totals (job, &whole, JOB_OWN_METHOD, &book->totals);
  book->buildup = buildup_new (book->basis, &book->totals.sums, book->decimals);
}

static gboolean
cancelled (Book *book, double share, GError **error)
{
  if (!book->progress || book->progress (share, book->data))
    return FALSE;
  g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _ ("writing the workbook was cancelled"));
  return TRUE;
}

/* Every sheet; later ones use what earlier ones gathered. FALSE with the error. */
static gboolean
write_sheets (Book *book, GError **error)
{
  if (!book_write_runs (book))
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, _ ("writing the workbook was cancelled"));
      return FALSE;
    }
  if (!book->error)
    {
      book_write_materials (book);
      book_write_minutes (book);
      book_write_buildup (book);
      book_collect_figures (book);
      book_write_price (book);
      book_write_methods (book);
      book_write_construction (book);
      book_write_sources (book);
    }
  if (book->error)
    {
      g_propagate_error (error, g_steal_pointer (&book->error));
      return FALSE;
    }
  return !cancelled (book, 0.92, error);
}

static gboolean
write_part (Book *book, const SafeFile *file, GError **error)
{
  guint64 rows[BOOK_N_SHEETS];
  lxw_error code;

  if (!book_open (book, file->part, file->folder))
    {
      g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("the workbook could not be started"));
      return FALSE;
    }
  if (!write_sheets (book, error))
    return FALSE;
  code = workbook_close (g_steal_pointer (&book->book)); /* frees it in any case */
  if (code != LXW_NO_ERROR)
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_FAILED, _ ("the workbook could not be finished: %s"),
                   lxw_strerror (code));
      return FALSE;
    }
  for (int i = 0; i < BOOK_N_SHEETS; i++)
    rows[i] = book->sheet[i].rows;
  return workbook_check_rows (file->part, rows, BOOK_N_SHEETS, error) && !cancelled (book, 0.98, error);
}

gboolean
workbook_write (TallyJob *job, const int *methods, gsize n_methods, int baseline, const char *path,
                WorkbookProgress progress, gpointer data, GError **error)
{
  g_autoptr (SafeFile) file = NULL;
  guint n = job_n (job, JOB_RUN);
  Book book = { .methods = methods, .n_methods = n_methods, .baseline = baseline, .progress = progress, .data = data };
  locale_t plain, before;
  gboolean good;

  if (n > MOST_RUNS)
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED,
                   _ ("a sheet of a workbook holds %d runs at most and this job has %u; write the runs as CSV instead"),
                   MOST_RUNS, n);
      return FALSE;
    }
  file = safe_file_new (path, error);
  if (!file || !safe_file_need (file, 3 * ((guint64) n * ROW_BYTES + OTHER_BYTES), error))
    return FALSE;
  book_init (&book, job);
  /* The library prints figures in the decimal style of the locale, the file wants a point. For this thread alone; words stay
   * in the user's language. */
  before = uselocale ((locale_t) 0);
  plain = newlocale (LC_NUMERIC_MASK, "C", duplocale (before));
  if (plain)
    uselocale (plain);
  good = write_part (&book, file, error);
  uselocale (before);
  if (plain)
    freelocale (plain);
  book_clear (&book);
  good = good && safe_file_commit (file, error);
  if (good && progress)
    progress (1.0, data); /* too late to cancel: the file is in its place */
  return good;
}

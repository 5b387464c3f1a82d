/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sheet "Construction" of the workbook of the demo job (invented demo). */
#include "exchange/runs-csv.h"
#include "exchange/workbook-private.h"
#include "job/construction.h"

#include <glib/gstdio.h>
#include <string.h>
#include <zip.h>

/* Text of a part of a workbook of @job. */
static char *
written (TallyJob *job, const char *part)
{
  g_autofree char *folder = g_dir_make_tmp ("construction-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "bid.xlsx", NULL);
  g_autoptr (GError) error = NULL;
  int method = 0;
  zip_stat_t info;
  zip_t *zip;

  g_assert_true (workbook_write (job, &method, 1, 0, path, NULL, NULL, &error));
  g_assert_no_error (error);
  zip = zip_open (path, ZIP_RDONLY | ZIP_CHECKCONS, NULL);
  g_assert_nonnull (zip);
  g_assert_cmpint (zip_stat (zip, part, 0, &info), ==, 0);
  zip_file_t *file = zip_fopen (zip, part, 0);
  g_assert_nonnull (file);
  char *text = g_malloc0 (info.size + 1);
  g_assert_cmpint ((int) zip_fread (file, text, info.size), ==, (int) info.size);
  zip_fclose (file);
  zip_discard (zip);
  g_remove (path);
  g_rmdir (folder);
  return text;
}

static char *
sheet_of (TallyJob *job)
{
  g_autofree char *part = g_strdup_printf ("xl/worksheets/sheet%d.xml", BOOK_CONSTRUCTION + 1);

  return written (job, part);
}

/* It says what the report says, every row of it, and ends with the engineer's last word. */
static void
test_built (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  g_autoptr (JobConstruction) report = job_construction (job);
  g_autofree char *words = job_construction_words (report), *sheet = sheet_of (job), *book = written (job, "xl/workbook.xml");

  g_assert_nonnull (strstr (book, "name=\"Construction\""));
  g_assert_nonnull (strstr (sheet, words));
  g_assert_null (strstr (sheet, "Not built"));
  for (guint i = 0; i < report->rests->len; i++)
    {
      g_autofree char *cell = g_markup_escape_text (((JobRest *) g_ptr_array_index (report->rests, i))->words, -1);
      g_assert_nonnull (strstr (sheet, cell));
    }
  g_assert_nonnull (strstr (strstr (sheet, "Cautions"), job_construction_caution ()));
}

/* A run of a class past the end of the demo's ladder stands first, with its reason. */
static void
test_not_built (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  JobEdit *edit = job_edit_new ("set up");
  const JobRecord *first = job_at (job, JOB_RUN, 0);
  JobRecord *after = job_record_copy (first);

  after->num[RUN_CLASS] = 10000;
  job_edit_add (edit, job_record_ref (first), after);
  g_assert_true (job_apply (job, edit, NULL));
  g_autofree char *sheet = sheet_of (job);
  const char *missing = strstr (sheet, "Not built: no table answered");
  g_assert_nonnull (missing);
  g_assert_nonnull (strstr (missing, "run 1, "));
  g_assert_nonnull (strstr (missing, "has no row for class 10"));
  g_assert_true (missing < strstr (sheet, "What the construction rests on"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/construction-sheet/built", test_built);
  g_test_add_func ("/construction-sheet/not-built", test_not_built);
  return g_test_run ();
}

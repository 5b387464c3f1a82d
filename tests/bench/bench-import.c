/* SPDX-License-Identifier: GPL-3.0-or-later */
/* 100 000 lines of CSV into a job of an office file, phase by phase, beside a frame of 16 ms: what takes longer than some frames
 * needs a bar and a way to stop. With a file name as argument the lines are written there, to be imported by hand. */
#include "bench/bench.h"

#include "exchange/runs-csv.h"
#include "job/append.h"
#include "store/store.h"

#include <glib/gstdio.h>
#include <stdio.h>

#define LINES 100000

static void
report (const char *what, double seconds)
{
  printf ("%-46s %10.1f ms   %8.1f frames\n", what, seconds * 1e3, seconds / 0.016);
}

int
main (int argc, char **argv)
{
  g_autofree char *folder = g_dir_make_tmp ("seamtally-bench-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "office.seam", NULL), *text = NULL;
  g_autoptr (TallyJob) made = bench_job (LINES, TRUE);
  g_autoptr (GError) error = NULL;
  g_autoptr (CsvTable) table = NULL;
  g_autoptr (RunsImport) import = NULL;
  g_autoptr (GArray) twice = NULL;
  JobEdit *edit = NULL;
  gint64 id, id2;

  text = exchange_runs_csv (made);
  if (argc > 1)
    return g_file_set_contents (argv[1], text, -1, NULL) ? 0 : 1;
  g_autoptr (Store) store = store_open (path, TRUE, &error);
  g_autoptr (TallyJob) empty = exchange_demo_job (catalogue_starter ());
  /* What the lines inherit, so that they are priced. */
  job_edit_field (empty, JOB_HEAD, 1, job_field_find (JOB_HEAD, "class"), "2", NULL, &error);
  id = store_create_job (store, empty, 0, &error);
  g_autoptr (TallyJob) job = store_open_job (store, id, &error);
  report ("parse", bench_best (1, table = csv_parse (text, -1, "runs.csv", NULL)));
  import = runs_import_new (job, table);
  report ("read", bench_best (1, runs_import_read (import, job)));
  report ("make the edit", bench_best (1, edit = runs_import_edit (import, job, TRUE)));
  report ("apply", bench_best (1, job_apply (job, edit, &error)));
  edit = runs_import_edit (import, empty, TRUE);
  report ("of it without the file", bench_best (1, job_apply (empty, edit, &error)));
  job_undo (empty, &error);
  report ("undo", bench_best (1, job_undo (job, &error)));
  report ("redo", bench_best (1, job_redo (job, &error)));
  id2 = store_create_job (store, empty, 0, &error);
  g_autoptr (TallyJob) other = NULL;
  g_autoptr (TallyJob) to = store_open_job (store, id2, &error);
  report ("open the other job", bench_best (1, other = store_open_job (store, id, &error)));
  report ("look for likely duplicates", bench_best (1, twice = job_likely_duplicates (to, other)));
  for (guint i = 0; i < twice->len; i++)
    g_array_index (twice, gboolean, i) = TRUE;
  report ("make the append", bench_best (1, edit = job_append_runs (to, other, (const gboolean *) (void *) twice->data)));
  report ("apply the append", bench_best (1, job_apply (to, edit, &error)));
  return error != NULL;
}

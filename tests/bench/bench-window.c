/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a keystroke to the new totals with 100 000 runs: one field of one run set through the session of the window, with the
 * model of the run table and the totals line attached, the job in an office file. What a frame takes to draw is not in it.
 * Needs a display. */
#include "bench/bench.h"

#include "window/runs/run-model.h"
#include "window/session.h"
#include "window/totals-line.h"

#include <glib/gstdio.h>
#include <gtk/gtk.h>
#include <stdio.h>
#include <stdlib.h>

#define ROWS 100000
#define EDITS 60
#define FRAME_MS 16.0

static int
compare (gconstpointer a, gconstpointer b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

/* Milliseconds of one edit; the row is read again as the table does before it draws it. */
static double
one_edit (TallySession *session, TallyRunModel *model, guint i)
{
  TallyGridModel *grid = TALLY_GRID_MODEL (model);
  guint row = (i * 7919) % ROWS;
  gint64 id = run_model_run (model, row)->id, from = g_get_monotonic_time ();

  if (!session_edit_field (session, JOB_RUN, id, job_field_find (JOB_RUN, "size"), i % 2 ? "26x14" : "30x20", NULL))
    g_error ("the edit was refused");
  for (guint column = 0; column < grid_model_n_columns (grid); column++)
    g_free (grid_model_text (grid, row, column));
  return (double) (g_get_monotonic_time () - from) / 1e3;
}

static void
clear_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);

  for (const char *name; dir && (name = g_dir_read_name (dir));)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_unlink (path);
    }
  g_rmdir (folder);
}

int
main (void)
{
  g_autofree char *folder = g_dir_make_tmp ("seamtally-bench-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "office.seam", NULL);
  g_autoptr (TallySession) session = NULL;
  g_autoptr (GError) error = NULL;
  double ms[EDITS];
  gint64 id = 0;

  /* What the window remembers goes there too. */
  g_setenv ("XDG_CONFIG_HOME", folder, TRUE);
  if (!gtk_init_check ())
    {
      printf ("no display: skipped\n");
      clear_folder (folder);
      return 77;
    }
  session = session_new ();
  if (session_open_office (session, path, TRUE, &error))
    {
      g_autoptr (TallyJob) job = bench_job (ROWS, TRUE);
      id = store_create_job (session_store (session), job, 0, &error);
    }
  if (id <= 0 || !session_open_job (session, id, &error))
    g_error ("%s", error->message);

  TallyRunModel *model = run_model_new (session);
  GtkWidget *totals = g_object_ref_sink (tally_totals_line_new (session));
  for (guint i = 0; i < EDITS; i++)
    ms[i] = one_edit (session, model, i);
  qsort (ms, EDITS, sizeof *ms, compare);
  printf ("keystroke to totals, in the office file,  %d rows  best %.3f ms  median %.3f ms  frame %.1f ms  ratio %.3f\n", ROWS,
          ms[0], ms[EDITS / 2], FRAME_MS, ms[EDITS / 2] / FRAME_MS);
  g_object_unref (totals);
  g_object_unref (model);
  session_close_job (session);
  g_clear_object (&session);
  clear_folder (folder);
  return 0;
}

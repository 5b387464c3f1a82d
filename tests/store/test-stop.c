/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A large edit that is given up while it is written. The runs are invented. */
#include "helper.h"

#define RUNS 1000

typedef struct
{
  char *folder, *path;
  Store *store;
  TallyJob *job;
  gint64 id;
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (Catalogue) catalogue = NULL;
  g_autoptr (TallyJob) job = NULL;

  (void) data;
  f->folder = folder_new ();
  f->path = g_build_filename (f->folder, "office.seam", NULL);
  f->store = office_open (f->path);
  catalogue = store_catalogue (f->store, 0, NULL);
  job = job_new (catalogue, "Depot");
  f->id = store_create_job (f->store, job, 0, NULL);
  f->job = store_open_job (f->store, f->id, NULL);
  g_assert_nonnull (f->job);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  (void) data;
  g_object_unref (f->job);
  store_close (f->store);
  g_free (f->path);
  folder_free (f->folder);
}

typedef struct
{
  double stop, last; /* give up from this share on; told last */
  guint told;
} Watch;

static gboolean
watch (gpointer data, double share)
{
  Watch *w = data;

  g_assert_cmpfloat (share, >=, w->last);
  g_assert_cmpfloat (share, <=, 1);
  w->last = share;
  w->told++;
  return share < w->stop;
}

static JobEdit *
many_runs (TallyJob *job, Watch *w)
{
  JobEdit *edit = job_edit_new ("many runs");

  for (gint64 i = 0; i < RUNS; i++)
    {
      JobRecord *run = job_record_new (JOB_RUN, job_take_id (job, JOB_RUN), i << 20);
      run->num[RUN_KIND] = DUCT_COUNTED;
      run->num[RUN_COUNT] = 1000;
      job_edit_add (edit, NULL, run);
    }
  edit->progress = watch;
  edit->progress_data = w;
  return edit;
}

/* Half written, it is not there at all: neither in memory nor in the file, nor in the history; and edits go on. */
static void
test_stopped (Fixture *f, gconstpointer data)
{
  Watch w = { 0.5, 0, 0 };
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) log = NULL, later = NULL;

  (void) data;
  g_assert_false (job_apply (f->job, many_runs (f->job, &w), &error));
  g_assert_error (error, JOB_ERROR, JOB_ERROR_STOPPED);
  g_clear_error (&error);
  g_assert_cmpuint (w.told, >, 2);
  g_assert_cmpuint (job_n (f->job, JOB_RUN), ==, 0);
  g_assert_null (job_undo_label (f->job));
  assert_kept (f->path, f->id, f->job);
  log = store_job_log (f->store, f->id, NULL);
  w = (Watch) { 2, 0, 0 };
  g_assert_true (job_apply (f->job, many_runs (f->job, &w), &error));
  g_assert_no_error (error);
  g_assert_cmpuint (w.told, >, 4);
  g_assert_cmpuint (job_n (f->job, JOB_RUN), ==, RUNS);
  assert_kept (f->path, f->id, f->job);
  later = store_job_log (f->store, f->id, NULL);
  g_assert_cmpuint (later->len, ==, log->len + 1);
  /* Taking it back asks nobody. */
  g_assert_true (job_undo (f->job, &error));
  assert_kept (f->path, f->id, f->job);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/store/stop/stopped", Fixture, NULL, set_up, test_stopped, tear_down);
  return g_test_run ();
}

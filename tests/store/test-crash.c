/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A child of this program dies before its n-th statement, for every n until it lives to the end. What it reported as
 * done is in the file, and the file is sound. Linked with the store that can die (STORE_TEST_DEATH). */
#include "helper.h"

#include <stdio.h>
#include <sys/wait.h>
#include <unistd.h>

#define N_STEPS 9
#define DIED 9

/* The same edits of the same job, in the child and, to know what must be there, in memory. */
static gboolean
step (TallyJob *job, int k)
{
  JobEdit *edit = job_edit_new ("step");
  gint64 id;

  if (k == 5 || k == 6)
    {
      job_edit_free (edit);
      return k == 5 ? job_undo (job, NULL) : job_redo (job, NULL);
    }
  if (k == 3)
    job_edit_add (edit, job_record_ref (job_at (job, JOB_RUN, 0)), NULL);
  else if (k == 4 || k == 7)
    {
      JobRecord *after = job_record_copy (job_at (job, JOB_RUN, 1));
      job_record_read (after, job_field_find (JOB_RUN, "size"), k == 4 ? "wide" : "30x16", NULL, NULL);
      job_edit_add (edit, job_record_ref (job_at (job, JOB_RUN, 1)), after);
    }
  else
    for (int i = 0; i < 3; i++)
      {
        JobRecord *run = job_record_new (JOB_RUN, id = job_take_id (job, JOB_RUN), 100 * k + i);
        job_record_read (run, job_field_find (JOB_RUN, "size"), "24x12", NULL, NULL);
        run->num[RUN_LENGTH] = id * LENGTH_NM_PER_FT;
        job_record_set_text (run, RUN_NOTE, "step");
        job_edit_add (edit, NULL, run);
      }
  return job_apply (job, edit, NULL);
}

#define KNOWN 4

static const StoreMigration *
next_version (void)
{
  static StoreMigration list[KNOWN + 1];
  int n;

  memcpy (list, store_migrations (&n), KNOWN * sizeof *list);
  g_assert_cmpint (n, ==, KNOWN);
  list[KNOWN].version = KNOWN + 1;
  list[KNOWN].sql = "CREATE TABLE a (b INTEGER) STRICT; INSERT INTO a VALUES (1); ALTER TABLE job ADD c TEXT";
  return list;
}

/* Reports each thing done with one byte, written at once. */
static void
report (void)
{
  if (write (STDOUT_FILENO, "+", 1) != 1)
    _exit (3);
}

static int
child (const char *what, const char *path)
{
  StoreOptions options = { .migration = next_version (), .n_migrations = KNOWN + 1 };
  gboolean migrate = g_str_equal (what, "migrate");
  Store *store = migrate ? store_open_with (path, FALSE, &options, NULL) : store_open (path, TRUE, NULL);
  TallyJob *job;

  if (store == NULL)
    return 4;
  if (!g_str_equal (what, "edit"))
    report ();
  else
    {
      job = store_open_job (store, 1, NULL);
      for (int k = 0; k < N_STEPS; k++)
        {
          if (!step (job, k))
            return 5;
          report ();
        }
      if (store_duplicate_job (store, 1, "Copy", NULL) == 0)
        return 6;
      report ();
      g_object_unref (job);
    }
  store_close (store);
  return 0;
}

/* Runs the child; gives the number of its reports, *dead when it died as planned. */
static int
run_child (const char *what, const char *path, int n, gboolean *dead)
{
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *at = g_strdup_printf ("%d", n);
  char *argv[] = { self, (char *) "--child", (char *) what, (char *) path, NULL };
  g_auto (GStrv) env = g_environ_setenv (g_get_environ (), "SEAMTALLY_DIE_AT", at, TRUE);
  g_autofree char *out = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  g_spawn_sync (NULL, argv, env, G_SPAWN_DEFAULT, NULL, NULL, &out, NULL, &status, &error);
  g_assert_no_error (error);
  g_assert_true (WIFEXITED (status));
  g_assert_true (WEXITSTATUS (status) == 0 || WEXITSTATUS (status) == DIED);
  *dead = WEXITSTATUS (status) == DIED;
  return (int) strlen (out);
}

typedef struct
{
  char *folder, *path;
  GBytes *fresh;       /* an office with one job, as one file */
  GPtrArray *state;    /* the job in memory after 0, 1, ... steps */
} Fixture;

static TallyJob *
job_in_memory (Catalogue *catalogue, int steps)
{
  TallyJob *job = job_new (catalogue, "Depot");

  for (int k = 0; k < steps; k++)
    g_assert_true (step (job, k));
  return job;
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (Store) store = NULL;
  g_autoptr (Catalogue) catalogue = NULL;

  (void) data;
  fixture->folder = folder_new ();
  fixture->path = g_build_filename (fixture->folder, "office.seam", NULL);
  store = office_open (fixture->path);
  catalogue = store_catalogue (store, 0, NULL);
  fixture->state = g_ptr_array_new_with_free_func (g_object_unref);
  for (int k = 0; k <= N_STEPS; k++)
    g_ptr_array_add (fixture->state, job_in_memory (catalogue, k));
  g_assert_cmpint (store_create_job (store, g_ptr_array_index (fixture->state, 0), 0, NULL), ==, 1);
  g_clear_pointer (&store, store_close);
  plant_single (fixture->path);
  fixture->fresh = file_bytes (fixture->path);
  g_remove (fixture->path);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  (void) data;
  g_ptr_array_unref (fixture->state);
  g_bytes_unref (fixture->fresh);
  g_free (fixture->path);
  folder_free (fixture->folder);
}

/* Nothing but an empty folder. */
static void
clean (Fixture *fixture)
{
  g_autoptr (GDir) dir = g_dir_open (fixture->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (fixture->folder, name, NULL);
      g_assert_cmpint (g_remove (path), ==, 0);
    }
}

static void
assert_sound (Store *store)
{
  gint64 value;

  g_assert_true (db_int (store->db, &value, NULL, "SELECT integrity_check = 'ok' FROM pragma_integrity_check", ""));
  g_assert_cmpint (value, ==, 1);
  g_assert_true (db_int (store->db, &value, NULL, "SELECT count (*) FROM pragma_foreign_key_check", ""));
  g_assert_cmpint (value, ==, 0);
}

static gboolean
same_job (TallyJob *a, TallyJob *b)
{
  if (job_n (a, JOB_RUN) != job_n (b, JOB_RUN))
    return FALSE;
  for (guint i = 0; i < job_n (a, JOB_RUN); i++)
    if (!job_record_equal (job_at (a, JOB_RUN, i), job_at (b, JOB_RUN, i)))
      return FALSE;
  return TRUE;
}

static void
check_edits (Fixture *fixture, int done)
{
  g_autoptr (Store) store = office_open (fixture->path);
  g_autoptr (TallyJob) job = store_open_job (store, 1, NULL), copy = NULL;
  int steps = MIN (done, N_STEPS), more = MIN (done + 1, N_STEPS);
  gint64 copy_id = store_find_job (store, "Copy"), seq;

  assert_sound (store);
  g_assert_nonnull (job);
  g_assert_true (same_job (job, g_ptr_array_index (fixture->state, steps)) ||
                 same_job (job, g_ptr_array_index (fixture->state, more)));
  /* The history tells the same. */
  g_assert_true (db_int (store->db, &seq, NULL, "SELECT edit_seq FROM job WHERE id = 1", ""));
  g_assert_cmpint (seq, >=, steps);
  g_assert_cmpint (seq, <=, more);
  g_assert_true (same_job (job, g_ptr_array_index (fixture->state, (guint) seq)));
  g_assert_true (db_int (store->db, &seq, NULL,
                         "SELECT max (seq) - edit_seq FROM change_log JOIN job ON job_id = job.id"
                                                " WHERE job_id = 1", ""));
  g_assert_cmpint (seq, ==, 0);
  g_assert_true (copy_id != 0 || done <= N_STEPS);
  if (copy_id == 0)
    return;
  copy = store_open_job (store, copy_id, NULL);
  g_assert_true (same_job (copy, g_ptr_array_index (fixture->state, N_STEPS)));
}

static void
test_edits (Fixture *fixture, gconstpointer data)
{
  gboolean dead = TRUE;
  int n, between = 0;

  (void) data;
  for (n = 1; dead && n < 1000; n++)
    {
      int done;

      clean (fixture);
      file_write (fixture->path, fixture->fresh);
      done = run_child ("edit", fixture->path, n, &dead);
      between += done > 0 && done <= N_STEPS;
      check_edits (fixture, done);
    }
  g_test_message ("died before %d statements, %d of them between edits", n - 2, between);
  g_assert_false (dead);
  g_assert_cmpint (between, >, 5 * N_STEPS);
}

/* There is a whole office or none. */
static void
test_create (Fixture *fixture, gconstpointer data)
{
  gboolean dead = TRUE;
  int whole = 0, none = 0;

  (void) data;
  for (int n = 1; dead; n += n < 20 ? 1 : n / 6)
    {
      int done;

      g_assert_cmpint (n, <, 100000);
      clean (fixture);
      done = run_child ("create", fixture->path, n, &dead);
      if (!g_file_test (fixture->path, G_FILE_TEST_EXISTS))
        {
          g_assert_cmpint (done, ==, 0);
          none++;
        }
      else
        {
          g_autoptr (Store) store = store_open (fixture->path, FALSE, NULL);
          g_assert_nonnull (store);
          assert_sound (store);
          g_assert_cmpint (store_newest_revision (store, NULL), ==, 1);
          whole++;
        }
      g_assert_true (dead || done == 1);
    }
  g_assert_cmpint (whole, >, 0);
  g_assert_cmpint (none, >, 20);
}

/* The old version or the new one, whole either way. */
static void
test_migrate (Fixture *fixture, gconstpointer data)
{
  StoreOptions options = { .migration = next_version (), .n_migrations = KNOWN + 1 };
  g_autofree char *backup = g_strdup_printf ("%s.before-v%d.bak", fixture->path, KNOWN + 1);
  gboolean dead = TRUE;
  int old = 0, new = 0;

  (void) data;
  for (int n = 1; dead; n++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (Store) store = NULL;

      g_assert_cmpint (n, <, 1000);
      clean (fixture);
      file_write (fixture->path, fixture->fresh);
      run_child ("migrate", fixture->path, n, &dead);
      store = store_open (fixture->path, FALSE, &error);
      old += store != NULL;
      if (store == NULL)
        {
          g_assert_error (error, STORE_ERROR, STORE_ERROR_NEWER);
          new ++;
          assert_kept (backup, 1, g_ptr_array_index (fixture->state, 0));
          store = store_open_with (fixture->path, FALSE, &options, NULL);
        }
      g_assert_nonnull (store);
      assert_sound (store);
      g_assert_cmpint (store_find_job (store, "Depot"), ==, 1);
    }
  g_assert_cmpint (old, >, 5);
  g_assert_cmpint (new, >, 0);
}

int
main (int argc, char **argv)
{
  if (argc == 4 && g_str_equal (argv[1], "--child"))
    return child (argv[2], argv[3]);
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/store/crash/edits", Fixture, NULL, set_up, test_edits, tear_down);
  g_test_add ("/store/crash/create", Fixture, NULL, set_up, test_create, tear_down);
  g_test_add ("/store/crash/migrate", Fixture, NULL, set_up, test_migrate, tear_down);
  return g_test_run ();
}

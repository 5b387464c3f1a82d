/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Jobs in and out of an office file; the file always holds what memory holds. */
#include "helper.h"

typedef struct
{
  char *folder, *path;
  Store *store;
  Catalogue *catalogue;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  (void) data;
  fixture->folder = folder_new ();
  fixture->path = g_build_filename (fixture->folder, "office.seam", NULL);
  fixture->store = office_open (fixture->path);
  fixture->catalogue = store_catalogue (fixture->store, 0, NULL);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  (void) data;
  catalogue_unref (fixture->catalogue);
  g_clear_pointer (&fixture->store, store_close);
  g_free (fixture->path);
  folder_free (fixture->folder);
}

static TallyJob *
open_job (Store *store, gint64 id)
{
  g_autoptr (GError) error = NULL;
  TallyJob *job = store_open_job (store, id, &error);

  g_assert_no_error (error);
  return job;
}

/* A new job of the office with one system, one area and @runs runs. */
static gint64
make_job (Fixture *fixture, const char *name, guint runs)
{
  g_autoptr (TallyJob) job = job_new (fixture->catalogue, name);
  g_autoptr (GError) error = NULL;
  JobEdit *edit = job_edit_new ("fill");
  JobRecord *system = job_record_new (JOB_SYSTEM, job_take_id (job, JOB_SYSTEM), 10);
  JobRecord *area = job_record_new (JOB_AREA, job_take_id (job, JOB_AREA), 10);
  gint64 id;

  job_record_set_text (system, SYSTEM_KEY, "S-1");
  job_record_set_text (area, AREA_KEY, "Level 1");
  job_edit_add (edit, NULL, system);
  job_edit_add (edit, NULL, area);
  for (guint i = 0; i < runs; i++)
    {
      JobRecord *run = job_record_new (JOB_RUN, job_take_id (job, JOB_RUN), 10 * (gint64) (i + 1));
      run->num[RUN_SYSTEM] = system->id;
      run->num[RUN_AREA] = area->id;
      g_assert_true (job_record_read (run, job_field_find (JOB_RUN, "kind"), "straight", NULL, NULL));
      g_assert_true (job_record_read (run, job_field_find (JOB_RUN, "size"), "24x12", NULL, NULL));
      g_assert_true (job_record_read (run, job_field_find (JOB_RUN, "length"), "46", NULL, NULL));
      job_edit_add (edit, NULL, run);
    }
  g_assert_true (job_apply (job, edit, &error));
  g_assert_no_error (error);
  id = store_create_job (fixture->store, job, 0, &error);
  g_assert_no_error (error);
  g_assert_cmpint (id, >, 0);
  assert_kept (fixture->path, id, job);
  return id;
}

static gboolean
set_field (TallyJob *job, JobType type, gint64 id, const char *key, const char *text, GError **error)
{
  return job_edit_field (job, type, id, job_field_find (type, key), text, NULL, error);
}

static void
test_list (Fixture *fixture, gconstpointer data)
{
  gint64 a = make_job (fixture, "Depot", 3), b = make_job (fixture, "Annex", 0), c;
  g_autoptr (GPtrArray) list = store_jobs (fixture->store, NULL);
  g_autoptr (GPtrArray) fewer = NULL, log = NULL, with_note = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (TallyJob) job = NULL, copy = NULL, gone = NULL;
  const StoreJobInfo *first, *second;
  JobRecord *note;
  JobEdit *edit;

  (void) data;
  g_assert_cmpuint (list->len, ==, 2);
  first = g_ptr_array_index (list, 0);
  second = g_ptr_array_index (list, 1);
  g_assert_cmpstr (first->name, ==, "Annex");
  g_assert_cmpint (first->id, ==, b);
  g_assert_cmpint (first->runs, ==, 0);
  g_assert_cmpstr (second->name, ==, "Depot");
  g_assert_cmpint (second->runs, ==, 3);
  g_assert_cmpint (second->revision, ==, 1);
  g_assert_cmpuint (strlen (second->uid), ==, 32);
  g_assert_cmpstr (first->uid, !=, second->uid);
  g_assert_cmpint (store_find_job (fixture->store, "Depot"), ==, a);
  g_assert_cmpint (store_find_job (fixture->store, "depot!"), ==, 0);

  job = open_job (fixture->store, a);
  g_assert_true (set_field (job, JOB_RUN, 2, "length", "about ten", &error));
  g_assert_true (set_field (job, JOB_HEAD, 1, "class", "high", &error));
  c = store_duplicate_job (fixture->store, a, "Depot, second try", &error);
  g_assert_no_error (error);
  copy = open_job (fixture->store, c);
  g_assert_cmpstr (job_head (copy)->text[HEAD_NAME], ==, "Depot, second try");
  g_assert_cmpstr (job_record_raw (job_head (copy), job_field_find (JOB_HEAD, "class")), ==, "high");
  g_assert_cmpstr (job_record_raw (job_find (copy, JOB_RUN, 2), job_field_find (JOB_RUN, "length")), ==, "about ten");
  g_assert_true (set_field (copy, JOB_HEAD, 1, "name", "Depot", &error));
  assert_same_job (job, copy);
  /* Two of one name: the older is found. */
  g_assert_cmpint (store_find_job (fixture->store, "Depot"), ==, a);

  /* A note is no run, and is kept like one. */
  note = job_record_new (JOB_RUN, job_take_id (copy, JOB_RUN), 99);
  note->num[RUN_KIND] = DUCT_REMARK;
  job_record_set_text (note, RUN_NOTE, "-- second floor --");
  edit = job_edit_new ("entry of a note");
  job_edit_add (edit, NULL, note);
  g_assert_true (job_apply (copy, edit, &error));
  g_assert_no_error (error);
  assert_kept (fixture->path, c, copy);
  with_note = store_jobs (fixture->store, NULL);
  for (guint i = 0; i < with_note->len; i++)
    g_assert_cmpint (((StoreJobInfo *) g_ptr_array_index (with_note, i))->runs, ==,
                     ((StoreJobInfo *) g_ptr_array_index (with_note, i))->id == b ? 0 : 3);

  g_assert_true (store_delete_job (fixture->store, a, &error));
  g_assert_null (store_open_job (fixture->store, a, &error));
  assert_refused (&error, STORE_ERROR_NOT_FOUND, fixture->path);
  g_assert_false (store_delete_job (fixture->store, a, &error));
  assert_refused (&error, STORE_ERROR_NOT_FOUND, fixture->path);
  g_assert_cmpint (store_duplicate_job (fixture->store, a, "x", &error), ==, 0);
  assert_refused (&error, STORE_ERROR_NOT_FOUND, fixture->path);
  fewer = store_jobs (fixture->store, NULL);
  g_assert_cmpuint (fewer->len, ==, 2);
  /* The window that still shows the deleted job can no longer edit it. */
  g_assert_false (set_field (job, JOB_HEAD, 1, "note", "late", &error));
  assert_refused (&error, STORE_ERROR_CONFLICT, fixture->path);
  log = store_job_log (fixture->store, a, NULL);
  g_assert_cmpuint (log->len, ==, 4);
  assert_kept (fixture->path, c, copy);
}

/* Every table has rows of no job left over after a deletion. */
static void
test_delete_leaves_nothing (Fixture *fixture, gconstpointer data)
{
  static const char *const tables[] = { "job", "system", "area", "cell", "job_change", "run", "raw", "last_id" };
  gint64 id = make_job (fixture, "Depot", 5);
  g_autoptr (TallyJob) job = open_job (fixture->store, id);

  (void) data;
  g_assert_true (set_field (job, JOB_RUN, 1, "size", "wide", NULL));
  for (int round = 0; round < 2; round++)
    {
      gint64 rows = 0;
      for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
        {
          g_autofree char *sql = g_strdup_printf ("SELECT count (*) FROM %s", tables[i]);
          gint64 n;
          g_assert_true (db_int (fixture->store->db, &n, NULL, sql, ""));
          rows += n;
        }
      if (round == 0)
        g_assert_cmpint (rows, ==, 1 + 1 + 1 + 5 + 1 + 3);
      else
        g_assert_cmpint (rows, ==, 0);
      if (round == 0)
        g_assert_true (store_delete_job (fixture->store, id, NULL));
    }
}

/* Every type of record with values, unread text and open fields, several hundred times. */
static void
test_round_trip (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);
  guint seen[JOB_N_TYPES] = { 0 }, raw = 0, unset = 0;

  (void) data;
  for (int round = 0; round < 12; round++)
    {
      g_autoptr (TallyJob) job = job_new (fixture->catalogue, "Depot");
      g_autoptr (GError) error = NULL;
      gint64 id;

      for (int i = 0; i < 60; i++)
        {
          JobType type = i < 4 ? JOB_SYSTEM : i < 8 ? JOB_AREA : (JobType) g_rand_int_range (rand, JOB_CELL,
                                                                                             JOB_N_TYPES);
          JobRecord *record = job_record_new (type, job_take_id (job, type), g_rand_int_range (rand, -5, 500));
          JobEdit *edit = job_edit_new ("add");

          random_record (rand, job, record, fixture->catalogue);
          raw += record->raw != NULL;
          for (int k = 0; k < job_type_info (type)->n_num; k++)
            unset += record->num[k] == JOB_UNSET;
          job_edit_add (edit, NULL, record);
          seen[type] += job_apply (job, edit, NULL) ? 1 : 0;
        }
      id = store_create_job (fixture->store, job, 0, &error);
      g_assert_no_error (error);
      assert_kept (fixture->path, id, job);
    }
  for (JobType type = JOB_SYSTEM; type < JOB_N_TYPES; type++)
    g_assert_cmpuint (seen[type], >, 15);
  g_assert_cmpuint (raw, >, 50);
  g_assert_cmpuint (unset, >, 50);
}

/* ---- edits ---- */

static JobEdit *
random_edit (GRand *rand, TallyJob *job, Catalogue *catalogue)
{
  JobEdit *edit = job_edit_new ("random");
  int n = g_rand_int_range (rand, 1, 4);

  for (int i = 0; i < n; i++)
    {
      JobType type = (JobType) g_rand_int_range (rand, JOB_HEAD, JOB_N_TYPES);
      int what = g_rand_int_range (rand, 0, 4);
      guint rows = job_n (job, type);
      const JobRecord *present = NULL;
      JobRecord *after;

      if (type != JOB_HEAD && (what == 0 || rows == 0))
        {
          after = job_record_new (type, job_take_id (job, type), g_rand_int_range (rand, 0, 1000));
          random_record (rand, job, after, catalogue);
          job_edit_add (edit, NULL, after);
          continue;
        }
      present = job_at (job, type, (guint) g_rand_int_range (rand, 0, (gint32) rows));
      /* An edit names a row once. */
      for (guint k = 0; k < edit->deltas->len; k++)
        if (g_array_index (edit->deltas, JobDelta, k).before == present)
          present = NULL;
      if (present == NULL)
        continue;
      if (type != JOB_HEAD && what == 1)
        {
          job_edit_add (edit, job_record_ref (present), NULL);
          continue;
        }
      after = job_record_copy (present);
      random_record (rand, job, after, catalogue);
      job_edit_add (edit, job_record_ref (present), after);
    }
  return edit;
}

static void
test_random_edits (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  gint64 id = make_job (fixture, "Depot", 6);
  g_autoptr (TallyJob) job = open_job (fixture->store, id);
  gint64 seq, last[JOB_N_TYPES] = { 0 };
  int done = 0, undone = 0, redone = 0;
  g_autoptr (GPtrArray) log = NULL;

  (void) data;
  for (int round = 0; round < 600; round++)
    {
      int what = g_rand_int_range (rand, 0, 10);
      g_autoptr (GError) error = NULL;

      if (what < 2 && job_undo_label (job) != NULL)
        {
          undone += job_undo (job, &error);
          g_assert_no_error (error);
        }
      else if (what < 3 && job_redo_label (job) != NULL)
        {
          redone += job_redo (job, &error);
          g_assert_no_error (error);
        }
      else if (job_apply (job, random_edit (rand, job, fixture->catalogue), &error))
        done++;
      else
        g_assert_true (error->domain == JOB_ERROR); /* the job's own rules, never trouble with the file */
      g_assert_true (job_check_totals (job));
      if (round % 10 == 0)
        assert_kept (fixture->path, id, job);
    }
  g_assert_cmpint (done, >, 150);
  g_assert_cmpint (undone, >, 40);
  g_assert_cmpint (redone, >, 10);
  assert_kept (fixture->path, id, job);
  g_assert_true (job_check_totals (job));

  g_assert_true (db_int (fixture->store->db, &seq, NULL, "SELECT edit_seq FROM job", ""));
  g_assert_cmpint (seq, ==, done + undone + redone);
  log = store_job_log (fixture->store, id, NULL);
  g_assert_cmpint (log->len, ==, seq + 1);

  /* Ids are not given twice, not after everything is undone and the job is opened anew either. */
  for (JobType type = JOB_SYSTEM; type < JOB_N_TYPES; type++)
    last[type] = job_take_id (job, type);
  while (job_undo_label (job) != NULL)
    {
      g_autoptr (GError) error = NULL;
      job_undo (job, &error);
      g_assert_no_error (error);
    }
  assert_kept (fixture->path, id, job);
  g_clear_object (&job);
  job = open_job (fixture->store, id);
  g_assert_cmpuint (job_n (job, JOB_RUN), ==, 6);
  for (JobType type = JOB_SYSTEM; type < JOB_N_TYPES; type++)
    {
      gint64 stored;
      g_assert_true (db_int (fixture->store->db, &stored, NULL, "SELECT id FROM last_id WHERE type = ?1", "t",
                             fixture->store->table[type]->name));
      g_assert_cmpint (job_take_id (job, type), ==, stored + 1);
      g_assert_cmpint (stored, <=, last[type]);
    }
  g_assert_cmpint (job_take_id (job, JOB_RUN), >, 7);
}

static void
test_log (Fixture *fixture, gconstpointer data)
{
  gint64 id = make_job (fixture, "Depot", 1);
  g_autoptr (TallyJob) job = open_job (fixture->store, id);
  g_autoptr (GPtrArray) log = NULL;
  const StoreLogLine *line;

  (void) data;
  g_assert_true (set_field (job, JOB_RUN, 1, "length", "60", NULL));
  log = store_job_log (fixture->store, id, NULL);
  g_assert_cmpuint (log->len, ==, 2);
  line = g_ptr_array_index (log, 1);
  g_assert_cmpint (line->seq, ==, 1);
  g_assert_cmpstr (line->detail, ==, "run 1: length 46 -> 60\n");
  g_assert_cmpstr (line->who, ==, g_get_user_name ());
  g_assert_nonnull (strstr (line->label, "Length"));
}

/* ---- others at the same file ---- */

static void
test_conflict (Fixture *fixture, gconstpointer data)
{
  gint64 id = make_job (fixture, "Depot", 2), other_id = make_job (fixture, "Annex", 1);
  g_autoptr (Store) elsewhere = office_open (fixture->path);
  g_autoptr (TallyJob) ours = open_job (fixture->store, id);
  g_autoptr (TallyJob) theirs = open_job (elsewhere, id);
  g_autoptr (TallyJob) annex = open_job (elsewhere, other_id);
  g_autoptr (JobRecord) before = job_record_copy (job_find (ours, JOB_RUN, 1));
  g_autoptr (GError) error = NULL;

  (void) data;
  /* An edit of another job is no conflict. */
  g_assert_true (set_field (annex, JOB_RUN, 1, "length", "9", &error));
  g_assert_true (set_field (ours, JOB_RUN, 1, "note", "ours", &error));
  g_assert_false (set_field (theirs, JOB_RUN, 2, "note", "theirs", &error));
  assert_refused (&error, STORE_ERROR_CONFLICT, fixture->path);
  g_assert_true (job_record_equal (job_find (theirs, JOB_RUN, 1), before));
  assert_kept (fixture->path, id, ours);

  g_clear_object (&theirs);
  theirs = open_job (elsewhere, id);
  g_assert_true (set_field (theirs, JOB_RUN, 2, "note", "theirs", &error));
  assert_kept (fixture->path, id, theirs);
  g_assert_false (set_field (ours, JOB_HEAD, 1, "note", "late", &error));
  assert_refused (&error, STORE_ERROR_CONFLICT, fixture->path);
  /* Two windows of one program too. */
  g_clear_object (&ours);
  ours = open_job (elsewhere, id);
  g_assert_true (set_field (ours, JOB_RUN, 2, "note", "again", &error));
  g_assert_false (set_field (theirs, JOB_RUN, 1, "note", "no", &error));
  assert_refused (&error, STORE_ERROR_CONFLICT, fixture->path);
}

/* A change by hand does not count itself: the rows are compared. */
static void
test_changed_by_hand (Fixture *fixture, gconstpointer data)
{
  gint64 id = make_job (fixture, "Depot", 2);
  g_autoptr (TallyJob) job = open_job (fixture->store, id);
  g_autoptr (GError) error = NULL;

  (void) data;
  plant (fixture->path, "UPDATE run SET note = 'by hand' WHERE id = 1");
  g_assert_true (set_field (job, JOB_RUN, 2, "note", "ours", &error));
  g_assert_false (set_field (job, JOB_RUN, 1, "note", "ours", &error));
  assert_refused (&error, STORE_ERROR_CONFLICT, fixture->path);
  plant (fixture->path, "DELETE FROM run WHERE id = 2");
  g_assert_false (set_field (job, JOB_RUN, 2, "note", "still", &error));
  assert_refused (&error, STORE_ERROR_CONFLICT, fixture->path);
}

static void
test_busy (Fixture *fixture, gconstpointer data)
{
  gint64 id = make_job (fixture, "Depot", 1);
  g_autoptr (Store) store = store_open (fixture->path, FALSE, NULL);
  g_autoptr (TallyJob) job = open_job (store, id);
  g_autoptr (TallyJob) before = open_job (fixture->store, id);
  g_autoptr (GError) error = NULL;

  (void) data;
  gint64 began, waited;

  /* As long as the caller has patience: a window less than the 5 s that a program does. */
  store_set_patience (store, 20);
  g_assert_true (db_begin (fixture->store->db, NULL));
  began = g_get_monotonic_time ();
  g_assert_false (set_field (job, JOB_RUN, 1, "note", "x", &error));
  waited = g_get_monotonic_time () - began;
  g_assert_cmpint (waited, <, 4 * G_USEC_PER_SEC);
  assert_refused (&error, STORE_ERROR_LOCKED, fixture->path);
  assert_same_job (job, before);
  db_rollback (fixture->store->db);
  g_assert_true (set_field (job, JOB_RUN, 1, "note", "x", &error));
  assert_kept (fixture->path, id, job);
}

/* ---- a full disk ---- */

static void
test_full (Fixture *fixture, gconstpointer data)
{
  gint64 id = make_job (fixture, "Depot", 1), pages, limit;
  g_autoptr (TallyJob) job = open_job (fixture->store, id);
  g_autofree char *text = g_strnfill (3000, 'x');
  g_autofree char *sql = NULL;
  g_autoptr (GError) error = NULL;
  int done = 0;

  (void) data;
  g_assert_true (db_int (fixture->store->db, &pages, NULL, "PRAGMA page_count", ""));
  sql = g_strdup_printf ("PRAGMA max_page_count = %d", (int) pages + 10);
  g_assert_true (db_int (fixture->store->db, &limit, NULL, sql, ""));
  for (; done < 100; done++)
    {
      JobEdit *edit = job_edit_new ("add");
      JobRecord *run = job_record_new (JOB_RUN, job_take_id (job, JOB_RUN), 100 + done);

      job_record_set_text (run, RUN_NOTE, text);
      job_edit_add (edit, NULL, run);
      if (!job_apply (job, edit, &error))
        break;
    }
  g_assert_cmpint (done, >, 0);
  g_assert_cmpint (done, <, 100);
  assert_refused (&error, STORE_ERROR_FULL, fixture->path);
  g_assert_cmpint (job_n (job, JOB_RUN), ==, done + 1);
  assert_kept (fixture->path, id, job);
  /* What was refused left no trace, and with room again it goes on. */
  g_assert_true (db_int (fixture->store->db, &limit, NULL, "PRAGMA max_page_count = 100000", ""));
  g_assert_true (set_field (job, JOB_RUN, 1, "note", text, &error));
  assert_kept (fixture->path, id, job);
  g_assert_true (job_undo (job, &error));
  assert_kept (fixture->path, id, job);
}

/* ---- values that nobody can have typed ---- */

static void
test_bad_values (Fixture *fixture, gconstpointer data)
{
  static const struct
  {
    const char *set, *words;
  } cases[] = {
    { "UPDATE run SET kind = 99 WHERE id = 1", "table run, id 1, column kind" },
    { "UPDATE run SET kind = -1 WHERE id = 1", "table run, id 1, column kind" },
    { "UPDATE run SET first_end = 6 WHERE id = 2", "table run, id 2, column first_end" },
    { "UPDATE run SET exposure = 2 WHERE id = 2", "table run, id 2, column exposure" },
    { "UPDATE run SET metal = 4 WHERE id = 2", "table run, id 2, column metal" },
    { "UPDATE run SET on_edge = 2 WHERE id = 2", "table run, id 2, column on_edge" },
    { "UPDATE run SET count = 0 WHERE id = 2", "table run, id 2, column count" },
    { "UPDATE run SET count = 9223372036854775807 WHERE id = 2", "table run, id 2, column count" },
    { "UPDATE run SET price = -1 WHERE id = 2", "table run, id 2, column price" },
    { "UPDATE run SET fit_pieces = 1000001 WHERE id = 2", "table run, id 2, column fit_pieces" },
    { "UPDATE run SET angle = 180000001 WHERE id = 2", "table run, id 2, column angle" },
    { "UPDATE run SET class = 0 WHERE id = 2", "table run, id 2, column class" },
    { "UPDATE run SET size_h = NULL WHERE id = 2", "table run, id 2, column size_w" },
    { "UPDATE run SET note = CAST (x'41ff' AS TEXT) WHERE id = 2", "table run, id 2, column note" },
    { "UPDATE run SET note = CAST (x'410042' AS TEXT) WHERE id = 2", "table run, id 2, column note" },
    { "UPDATE area SET share_joints_on_floor = -1", "table area, id 1, column share_joints_on_floor" },
    { "UPDATE job SET units = 2", "table job, id 1, column units" },
    { "INSERT INTO raw VALUES (1, 'run', 1, 'colour', 'x')", "table run, id 1, column raw" },
    { "INSERT INTO raw VALUES (1, 'run', 77, 'size', 'x')", "id 77, column raw" },
    { "INSERT INTO raw VALUES (1, 'walk', 1, 'size', 'x')", "id 1, column raw" },
    { "INSERT INTO raw VALUES (1, 'run', 1, 'size', CAST (x'ff' AS TEXT))", "table run, id 1, column raw" },
    { "PRAGMA foreign_keys = OFF; DELETE FROM system; DELETE FROM last_id", "contradicts itself" },
    { "INSERT INTO job_change VALUES (1, 1, 1, 'item', 'no such item', 'price', '1')", "contradicts itself" },
  };
  g_autofree char *copy = g_build_filename (fixture->folder, "copy.seam", NULL);

  (void) data;
  g_assert_cmpint (make_job (fixture, "Depot", 3), ==, 1);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (Store) store = NULL;
      g_autoptr (TallyJob) job = NULL;

      g_assert_true (store_backup (fixture->store, copy, NULL));
      plant (copy, cases[i].set);
      store = office_open (copy);
      job = store_open_job (store, 1, &error);
      g_test_message ("%s", cases[i].set);
      g_assert_null (job);
      g_assert_nonnull (strstr (error->message, cases[i].words));
      assert_refused (&error, STORE_ERROR_DAMAGED, copy);
    }
}

/* What could not be read back is not taken either. */
static void
test_bad_writes (Fixture *fixture, gconstpointer data)
{
  gint64 id = make_job (fixture, "Depot", 1);
  g_autoptr (TallyJob) job = open_job (fixture->store, id);

  (void) data;
  for (int i = 0; i < 3; i++)
    {
      g_autoptr (GError) error = NULL;
      JobEdit *edit = job_edit_new ("bad");
      JobRecord *after = job_record_copy (job_find (job, JOB_RUN, 1));

      if (i == 0)
        job_record_set_text (after, RUN_NOTE, "\xFF");
      else if (i == 1)
        after->num[RUN_COUNT] = -1;
      else
        job_record_set_raw (after, job_field_find (JOB_RUN, "size"), "\xC3");
      job_edit_add (edit, job_record_ref (job_find (job, JOB_RUN, 1)), after);
      g_assert_false (job_apply (job, edit, &error));
      assert_refused (&error, STORE_ERROR_INVALID, fixture->path);
      assert_kept (fixture->path, id, job);
    }
}

/* A job holds its office open. */
static void
test_close_before_job (Fixture *fixture, gconstpointer data)
{
  gint64 id = make_job (fixture, "Depot", 1);
  g_autoptr (TallyJob) job = open_job (fixture->store, id);
  g_autoptr (GError) error = NULL;

  (void) data;
  g_clear_pointer (&fixture->store, store_close);
  g_assert_true (set_field (job, JOB_RUN, 1, "note", "late", &error));
  assert_kept (fixture->path, id, job);
  g_clear_object (&job);
  g_assert_cmpuint (folder_count (fixture->folder), ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add ("/store/jobs/" name, Fixture, NULL, set_up, run, tear_down)
  ADD ("list", test_list);
  ADD ("delete-leaves-nothing", test_delete_leaves_nothing);
  ADD ("round-trip", test_round_trip);
  ADD ("random-edits", test_random_edits);
  ADD ("log", test_log);
  ADD ("conflict", test_conflict);
  ADD ("changed-by-hand", test_changed_by_hand);
  ADD ("busy", test_busy);
  ADD ("full", test_full);
  ADD ("bad-values", test_bad_values);
  ADD ("bad-writes", test_bad_writes);
  ADD ("close-before-job", test_close_before_job);
#undef ADD
  return g_test_run ();
}

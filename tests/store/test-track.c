/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hours and ticks in an office file. All data here is invented. */
#include "helper.h"

typedef struct
{
  char *folder, *path;
  Store *store;
  gint64 job;
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
  f->job = store_create_job (f->store, job, 0, NULL);
  g_assert_cmpint (f->job, >, 0);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  (void) data;
  store_close (f->store);
  g_free (f->path);
  folder_free (f->folder);
}

static HoursEdit *
two_days (void)
{
  HoursEdit *edit = hours_edit_new ("two days");
  HoursEntry *second = hours_entry_new (740001, 4, LABOUR_HANG_AND_JOIN, 7500, "it's; \"so\"");

  second->batch = 2;
  hours_edit_add (edit, NULL, second);
  hours_edit_add (edit, NULL, hours_entry_new (740000, 0, LABOUR_GENERAL, 250, ""));
  return edit;
}

/* Entries as they stand, through another connection. */
static GPtrArray *
kept (Fixture *f)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) other = office_open (f->path);
  GPtrArray *hours = store_hours (other, f->job, &error);

  g_assert_no_error (error);
  return hours;
}

static void
apply (Fixture *f, HoursEdit *edit)
{
  g_autoptr (GError) error = NULL;

  store_hours_apply (f->store, f->job, edit, &error);
  g_assert_no_error (error);
}

static void
test_hours (Fixture *f, gconstpointer data)
{
  g_autoptr (HoursEdit) add = two_days (), change = hours_edit_new ("change"), back = NULL;
  g_autoptr (GPtrArray) before = NULL, after = NULL, again = NULL;
  HoursEntry *more;

  (void) data;
  g_assert_cmpint (store_hours_new_batch (f->store, f->job, NULL), ==, 1);
  apply (f, add);
  before = kept (f);
  g_assert_cmpuint (before->len, ==, 2);
  /* By day, not in the order of entry; ids are given to the edit. */
  g_assert_true (hours_entry_equal (g_ptr_array_index (before, 0), g_array_index (add->deltas, HoursDelta, 1).after));
  g_assert_true (hours_entry_equal (g_ptr_array_index (before, 1), g_array_index (add->deltas, HoursDelta, 0).after));
  g_assert_cmpint (store_hours_new_batch (f->store, f->job, NULL), ==, 3);

  more = hours_entry_copy (g_ptr_array_index (before, 0));
  more->worker_mh = 9000;
  more->day = 740007;
  hours_edit_add (change, hours_entry_copy (g_ptr_array_index (before, 0)), more);
  hours_edit_add (change, hours_entry_copy (g_ptr_array_index (before, 1)), NULL);
  apply (f, change);
  after = kept (f);
  g_assert_cmpuint (after->len, ==, 1);
  g_assert_true (hours_entry_equal (g_ptr_array_index (after, 0), more));

  /* Taken back, with the ids of before. */
  back = hours_edit_inverse (change);
  apply (f, back);
  again = kept (f);
  g_assert_cmpuint (again->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    g_assert_true (hours_entry_equal (g_ptr_array_index (again, i), g_ptr_array_index (before, i)));
}

static void
refused (Fixture *f, gint64 job, HoursEdit *edit, int code)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) before = kept (f), after = NULL;

  g_assert_false (store_hours_apply (f->store, job, edit, &error));
  assert_refused (&error, code, f->path);
  after = kept (f);
  g_assert_cmpuint (after->len, ==, before->len);
  for (guint i = 0; i < after->len; i++)
    g_assert_true (hours_entry_equal (g_ptr_array_index (after, i), g_ptr_array_index (before, i)));
}

/* All or nothing: a sound delta before the bad one does not stay. */
static void
test_refused (Fixture *f, gconstpointer data)
{
  static const struct
  {
    gint64 day, area;
    int group;
    gint64 mh;
  } bad[] = { { 0, 0, 0, 1000 }, { 740000, -1, 0, 1000 }, { 740000, 0, LABOUR_N_GROUPS, 1000 }, { 740000, 0, 0, 0 },
              { 740000, 0, 0, -5 }, { 740000, 0, 0, HOURS_MOST + 1 }, { G_MAXINT64, 0, 0, 5 } };
  g_autoptr (HoursEdit) first = two_days (), stranger = two_days (), stale = hours_edit_new ("stale");
  HoursEntry *before, *after;

  (void) data;
  apply (f, first);
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (HoursEdit) edit = two_days ();
      hours_edit_add (edit, NULL, hours_entry_new (bad[i].day, bad[i].area, (LabourGroup) bad[i].group, bad[i].mh, ""));
      refused (f, f->job, edit, STORE_ERROR_INVALID);
      g_assert_cmpint (g_array_index (edit->deltas, HoursDelta, 0).after->id, ==, 0);
    }
  refused (f, 77, stranger, STORE_ERROR_NOT_FOUND);

  before = hours_entry_copy (g_array_index (first->deltas, HoursDelta, 0).after);
  after = hours_entry_copy (before);
  before->worker_mh++;
  after->worker_mh += 1000;
  hours_edit_add (stale, before, after);
  refused (f, f->job, stale, STORE_ERROR_CONFLICT);
}

static void
test_done (Fixture *f, gconstpointer data)
{
  static const DoneTick set[] = { { 5, DONE_TESTED, 250000, 740000 }, { 3, DONE_FABRICATED, DONE_ALL, 740000 } };
  static const DoneTick more[] = { { 5, DONE_TESTED, DONE_ALL, 740002 }, { 3, DONE_FABRICATED, 0, 740002 } };
  static const DoneTick bad[] = { { 6, DONE_HUNG, DONE_ALL, 740000 }, { 7, DONE_HUNG, DONE_ALL + 1, 740000 } };
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) ticks = NULL, after = NULL;
  const DoneTick *first;

  (void) data;
  g_assert_true (store_done_set (f->store, f->job, set, 2, "ticks", &error));
  ticks = store_done (f->store, f->job, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (ticks->len, ==, 2);
  first = &g_array_index (ticks, DoneTick, 0);
  g_assert_cmpint (first->run, ==, 3);
  g_assert_cmpint (first->stage, ==, DONE_FABRICATED);
  g_assert_cmpint (first->ppm, ==, DONE_ALL);
  g_assert_cmpint (first->day, ==, 740000);

  g_assert_true (store_done_set (f->store, f->job, more, 2, "ticks", &error));
  g_assert_false (store_done_set (f->store, f->job, bad, 2, "ticks", &error));
  assert_refused (&error, STORE_ERROR_INVALID, f->path);
  after = store_done (f->store, f->job, &error);
  g_assert_cmpuint (after->len, ==, 1);
  g_assert_cmpint (g_array_index (after, DoneTick, 0).run, ==, 5);
  g_assert_cmpint (g_array_index (after, DoneTick, 0).ppm, ==, DONE_ALL);
  g_assert_cmpint (g_array_index (after, DoneTick, 0).day, ==, 740002);
}

/* Booking hours is no edit of the take-off: an open job goes on, and the history tells of it. */
static void
test_beside_edits (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TallyJob) job = store_open_job (f->store, f->job, &error);
  g_autoptr (HoursEdit) edit = two_days ();
  g_autoptr (GPtrArray) log = NULL;

  (void) data;
  apply (f, edit);
  g_assert_true (job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "note"), "after", NULL, &error));
  g_assert_no_error (error);
  log = store_job_log (f->store, f->job, NULL);
  g_assert_cmpstr (((StoreLogLine *) g_ptr_array_index (log, log->len - 2))->label, ==, "two days");
}

static gint64
count (Fixture *f, const char *sql)
{
  gint64 n = -1;

  g_assert_true (db_int (f->store->db, &n, NULL, sql, ""));
  return n;
}

static void
test_copy_and_delete (Fixture *f, gconstpointer data)
{
  static const DoneTick tick = { 5, DONE_TESTED, 250000, 740000 };
  g_autoptr (HoursEdit) edit = two_days ();
  g_autoptr (GPtrArray) hours = NULL;
  g_autoptr (GArray) ticks = NULL;
  gint64 copy;

  (void) data;
  apply (f, edit);
  g_assert_true (store_done_set (f->store, f->job, &tick, 1, "ticks", NULL));
  copy = store_duplicate_job (f->store, f->job, "Copy", NULL);
  hours = store_hours (f->store, copy, NULL);
  ticks = store_done (f->store, copy, NULL);
  g_assert_cmpuint (hours->len, ==, 0);
  g_assert_cmpuint (ticks->len, ==, 0);

  g_assert_cmpint (count (f, "SELECT count (*) FROM hours") + count (f, "SELECT count (*) FROM done"), ==, 3);
  g_assert_true (store_delete_job (f->store, f->job, NULL));
  g_assert_cmpint (count (f, "SELECT count (*) FROM hours") + count (f, "SELECT count (*) FROM done"), ==, 0);
}

/* Values that the tables take but the program never wrote. */
static void
test_damaged (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  (void) data;
  plant (f->path, "INSERT INTO hours VALUES (1, 1, 740000, 0, 99, 1000, '', 0)");
  g_assert_null (store_hours (f->store, f->job, &error));
  assert_refused (&error, STORE_ERROR_DAMAGED, f->path);
  plant (f->path, "UPDATE hours SET step_group = 0, note = CAST (X'FF' AS TEXT)");
  g_assert_null (store_hours (f->store, f->job, &error));
  assert_refused (&error, STORE_ERROR_DAMAGED, f->path);
  plant (f->path, "INSERT INTO done VALUES (1, 1, 9, 1000, 740000)");
  g_assert_null (store_done (f->store, f->job, &error));
  assert_refused (&error, STORE_ERROR_DAMAGED, f->path);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add ("/store/track/" name, Fixture, NULL, set_up, run, tear_down)
  ADD ("hours", test_hours);
  ADD ("refused", test_refused);
  ADD ("done", test_done);
  ADD ("beside-edits", test_beside_edits);
  ADD ("copy-and-delete", test_copy_and_delete);
  ADD ("damaged", test_damaged);
#undef ADD
  return g_test_run ();
}

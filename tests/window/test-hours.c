/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The models behind the view Hours, on the invented demo job in a temporary office; no display. */
#include "window/hours/done-model.h"
#include "window/hours/hours-words.h"
#include "window/hours/week-model.h"

#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

typedef struct
{
  char *folder;
  TallySession *session;
  TallyHoursBook *book;
  TallyGridModel *week, *done;
  char *refused;
} Fixture;

static void
said_cb (TallySession *session, const char *text, int how, Fixture *f)
{
  (void) session;
  if (how != SESSION_REFUSED)
    return;
  g_free (f->refused);
  f->refused = g_strdup (text);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  gint64 monday;

  (void) data;
  f->folder = g_dir_make_tmp ("seamtally-hours-XXXXXX", NULL);
  path = g_build_filename (f->folder, "office.seam", NULL);
  f->session = session_new ();
  g_assert_true (session_open_office (f->session, path, TRUE, &error));
  g_assert_true (session_open_demo (f->session, &error));
  g_assert_no_error (error);
  g_signal_connect (f->session, "said", G_CALLBACK (said_cb), f);
  f->book = hours_book_of (f->session);
  f->week = TALLY_GRID_MODEL (week_model_new (f->session));
  f->done = TALLY_GRID_MODEL (done_model_new (f->session));
  week_model_reset (TALLY_WEEK_MODEL (f->week));
  g_assert_true (hours_day_parse ("2030-01-07", &monday, NULL));
  week_model_set_monday (TALLY_WEEK_MODEL (f->week), monday);
  done_model_reset (TALLY_DONE_MODEL (f->done));
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  g_autoptr (GDir) dir = g_dir_open (f->folder, 0, NULL);
  const char *name;

  (void) data;
  g_object_unref (f->week);
  g_object_unref (f->done);
  g_assert_finalize_object (f->session);
  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (f->folder, name, NULL);
      g_remove (path);
    }
  g_rmdir (f->folder);
  g_free (f->folder);
  g_free (f->refused);
}

static gboolean
type (TallyGridModel *model, guint row, guint column, const char *text)
{
  GridPatchCell cell = { row, column, (char *) text };

  return grid_model_apply (model, &cell, 1, "typing");
}

static void
assert_text (TallyGridModel *model, guint row, guint column, const char *expected)
{
  g_autofree char *text = grid_model_text (model, row, column);

  g_assert_cmpstr (text, ==, expected);
}

/* What another connection finds in the file, thousandths of an hour. */
static gint64
kept (Fixture *f)
{
  g_autoptr (Store) store = store_open (store_path (session_store (f->session)), FALSE, NULL);
  g_autoptr (GPtrArray) hours = store_hours (store, session_job_id (f->session), NULL);

  return hours_sum (hours, -1, -1, 1, G_MAXINT32);
}

static void
test_week (Fixture *f, gconstpointer data)
{
  GridPatchCell paste[] = { { 0, WEEK_DAY, (char *) "8" }, { 0, WEEK_DAY + 1, (char *) "7:30" }, { 1, WEEK_DAY, (char *) "much" } };
  g_autofree char *words = NULL;

  (void) data;
  /* A row for each step group that is estimated, on the whole job. */
  g_assert_cmpuint (grid_model_n_rows (f->week), ==, LABOUR_N_GROUPS);
  assert_text (f->week, 0, WEEK_GROUP, "fabricate");
  g_assert_true (grid_model_apply (f->week, paste, G_N_ELEMENTS (paste), "paste"));
  assert_text (f->week, 0, WEEK_DAY + 1, "7.5");
  assert_text (f->week, 0, WEEK_SUM, "15.5");
  g_assert_cmpint (kept (f), ==, 15500);
  /* Text that is no figure stays where it was typed, and says why; the rest counts. */
  assert_text (f->week, 1, WEEK_DAY, "much");
  g_assert_true (grid_model_flags (f->week, 1, WEEK_DAY) & GRID_CELL_FAULTY);
  words = grid_model_message (f->week, 1, WEEK_DAY);
  g_assert_nonnull (words);
  g_assert_true (type (f->week, 1, WEEK_DAY, "2"));
  g_assert_cmpint (kept (f), ==, 17500);

  hours_book_undo (f->book);
  hours_book_undo (f->book);
  g_assert_cmpint (kept (f), ==, 0);
  g_assert_null (hours_book_undo_label (f->book));
}

static void
test_codes (Fixture *f, gconstpointer data)
{
  guint row = grid_model_n_rows (f->week);

  (void) data;
  /* A new code: its area, hours before the step group is said, then the step group. */
  g_assert_true (type (f->week, row, WEEK_AREA, "level 1"));
  g_assert_cmpuint (grid_model_n_rows (f->week), ==, row + 1);
  assert_text (f->week, row, WEEK_AREA, "Level 1");
  g_assert_true (type (f->week, row, WEEK_DAY, "16"));
  g_assert_cmpint (kept (f), ==, 0);
  g_assert_true (type (f->week, row, WEEK_GROUP, "hang"));
  assert_text (f->week, row, WEEK_GROUP, "hang and join");
  g_assert_cmpint (kept (f), ==, 16000);
  g_assert_cmpint (hours_sum (hours_book_entries (f->book), hours_book_find_area (f->book, "Level 1"), LABOUR_HANG_AND_JOIN, 1,
                              G_MAXINT32), ==, 16000);

  /* Another area: the week's hours go along. A second row of one code is refused. */
  g_assert_true (type (f->week, row, WEEK_AREA, "Plant"));
  g_assert_cmpint (hours_sum (hours_book_entries (f->book), hours_book_find_area (f->book, "Plant"), LABOUR_HANG_AND_JOIN, 1,
                              G_MAXINT32), ==, 16000);
  g_assert_false (type (f->week, row, WEEK_AREA, ""));
  g_assert_nonnull (f->refused);
  g_clear_pointer (&f->refused, g_free);
  g_assert_false (type (f->week, row, WEEK_AREA, "Cellar"));
  g_assert_nonnull (strstr (f->refused, "Cellar"));
  g_assert_cmpint (kept (f), ==, 16000);

  g_assert_true (grid_model_delete_rows (f->week, &row, 1));
  g_assert_cmpint (kept (f), ==, 0);
  g_assert_cmpuint (grid_model_n_rows (f->week), ==, row);
}

static void
test_twelve (Fixture *f, gconstpointer data)
{
  static const char *const areas[] = { "Plant", "Level 1", "Level 2" };
  guint row = grid_model_n_rows (f->week);

  (void) data;
  for (guint i = 0; i < HOURS_MOST_CODES; i++)
    if (i < row)
      g_assert_true (type (f->week, i, WEEK_DAY, "1"));
    else
      {
        GridPatchCell cells[] = { { i, WEEK_AREA, (char *) areas[(i - row) / LABOUR_N_GROUPS] },
                                  { i, WEEK_GROUP, (char *) labour_group_keys[(i - row) % LABOUR_N_GROUPS] },
                                  { i, WEEK_DAY, (char *) "1" } };
        g_assert_true (grid_model_apply (f->week, cells, G_N_ELEMENTS (cells), "paste"));
      }
  g_assert_cmpint (kept (f), ==, HOURS_MOST_CODES * 1000);
  g_assert_false (type (f->week, HOURS_MOST_CODES, WEEK_AREA, "Level 2"));
  g_assert_nonnull (f->refused);
  g_assert_cmpuint (grid_model_n_rows (f->week), ==, HOURS_MOST_CODES);
  /* A code moved to an unused one stays within the twelve. */
  g_assert_true (type (f->week, HOURS_MOST_CODES - 1, WEEK_AREA, "Level 2"));
}

static void
test_done (Fixture *f, gconstpointer data)
{
  Earned before, after, undone;
  double hours[DONE_N_STAGES], sum = 0;

  (void) data;
  g_assert_cmpuint (grid_model_n_rows (f->done), ==, job_n (session_job (f->session), JOB_RUN));
  standing_get (hours_book_standing (f->book), -1, -1, &before);
  g_assert_cmpfloat (before.ev, ==, 0);
  standing_run (hours_book_standing (f->book), session_job (f->session), job_at (session_job (f->session), JOB_RUN, 0), hours);
  for (int i = 0; i < DONE_N_STAGES; i++)
    sum += hours[i];

  g_assert_true (type (f->done, 0, DONE_COLUMN_STAGE + DONE_TESTED, "x"));
  standing_get (hours_book_standing (f->book), -1, -1, &after);
  g_assert_cmpfloat_with_epsilon (after.ev, sum, 1e-9);
  /* The stages before follow, and look inherited. */
  assert_text (f->done, 0, DONE_COLUMN_STAGE + DONE_HUNG, "\xE2\x9C\x93");
  g_assert_true (grid_model_flags (f->done, 0, DONE_COLUMN_STAGE + DONE_HUNG) & GRID_CELL_INHERITED);
  g_assert_false (grid_model_flags (f->done, 0, DONE_COLUMN_STAGE + DONE_TESTED) & GRID_CELL_INHERITED);

  g_assert_false (type (f->done, 1, DONE_COLUMN_STAGE, "half"));
  g_assert_nonnull (f->refused);
  g_assert_false (done_model_fill (TALLY_DONE_MODEL (f->done), 0, 0, 3, DONE_COLUMN_HOURS, DONE_ALL));
  g_assert_true (done_model_fill (TALLY_DONE_MODEL (f->done), 1, 0, 3, DONE_N_COLUMNS - 1, DONE_ALL));
  assert_text (f->done, 3, DONE_COLUMN_STAGE, "\xE2\x9C\x93");
  hours_book_undo (f->book);
  assert_text (f->done, 3, DONE_COLUMN_STAGE, "");
  standing_get (hours_book_standing (f->book), -1, -1, &undone);
  g_assert_cmpfloat_with_epsilon (undone.ev, sum, 1e-9);
}

/* The part looked at narrows the list; a job that is closed empties it. */
static void
test_scope (Fixture *f, gconstpointer data)
{
  guint all = grid_model_n_rows (f->done);

  (void) data;
  session_set_scope (f->session, 0, hours_book_find_area (f->book, "Plant"));
  done_model_reset (TALLY_DONE_MODEL (f->done));
  g_assert_cmpuint (grid_model_n_rows (f->done), >, 0);
  g_assert_cmpuint (grid_model_n_rows (f->done), <, all);
  session_close_job (f->session);
  g_assert_false (hours_book_ready (f->book));
  done_model_reset (TALLY_DONE_MODEL (f->done));
  week_model_reset (TALLY_WEEK_MODEL (f->week));
  g_assert_cmpuint (grid_model_n_rows (f->done), ==, 0);
  g_assert_cmpuint (grid_model_n_rows (f->week), ==, 0);
  g_assert_false (grid_model_flags (f->week, 0, WEEK_DAY) & GRID_CELL_EDITABLE);
}

static void
test_words (void)
{
  const Earned some = { .bac = 1245, .pv = NAN, .ev = 220.5, .ac = 212 }, none = { .bac = 0 }, few = { .bac = 1245, .ev = 9, .ac = 12 };
  g_autofree char *a = hours_words_conclusion (&some), *b = hours_words_conclusion (&none), *c = hours_words_conclusion (&few);
  g_autofree char *dash = hours_words_ratio (NAN);
  gboolean attention;

  /* 1245 x 212 / 220.5 = 1197.0; 212 + 1245 - 220.5 = 1236.5, rounded half away from zero. */
  g_assert_cmpstr (a, ==, "Spent 212 of 1,245 estimated worker-hours; earned 1.04 per hour spent, so the job heads for 1,197 to 1,237.");
  g_assert_nonnull (strstr (b, "Nothing is estimated"));
  g_assert_nonnull (strstr (c, "too few hours"));
  g_assert_cmpstr (dash, ==, "\xE2\x80\x93");
  g_assert_cmpstr (hours_words_reading (&some, &attention), ==, "as estimated");
  g_assert_false (attention);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add ("/window/hours/" name, Fixture, NULL, set_up, run, tear_down)
  ADD ("week", test_week);
  ADD ("codes", test_codes);
  ADD ("twelve", test_twelve);
  ADD ("done", test_done);
  ADD ("scope", test_scope);
#undef ADD
  g_test_add_func ("/window/hours/words", test_words);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The table of runs, without a display. Figures: the demo job (invented demo). */
#include "job/note-line.h"
#include "window/runs/run-columns.h"
#include "window/runs/run-model.h"

#include <glib/gstdio.h>
#include <string.h>

typedef struct
{
  char *folder;
  TallySession *session;
  TallyRunModel *model;
} Fixture;

static void
remove_folder (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_remove (path);
    }
  g_rmdir (folder);
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;

  (void) data;
  f->folder = g_dir_make_tmp ("seamtally-runs-XXXXXX", &error);
  g_autofree char *path = g_build_filename (f->folder, "office.seam", NULL);
  f->session = session_new ();
  g_assert_true (session_open_office (f->session, path, TRUE, &error));
  g_assert_true (session_open_demo (f->session, &error));
  g_assert_no_error (error);
  f->model = run_model_new (f->session);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  (void) data;
  g_object_unref (f->model);
  g_object_unref (f->session);
  remove_folder (f->folder);
  g_free (f->folder);
}

static guint
column_of_all (const char *key)
{
  int found = run_column_find (key);

  g_assert_cmpint (found, >=, 0);
  return (guint) found;
}

static guint
column (Fixture *f, const char *key)
{
  const GArray *shown = run_model_columns (f->model);

  for (guint i = 0; i < shown->len; i++)
    if (strcmp (run_column (g_array_index (shown, guint, i))->key, key) == 0)
      return i;
  g_error ("no column %s", key);
}

/* Shows a column that is not there at the start. */
static void
show (Fixture *f, const char *key)
{
  g_autoptr (GArray) columns = g_array_copy ((GArray *) run_model_columns (f->model));
  guint more = (guint) run_column_find (key);

  g_array_append_val (columns, more);
  run_model_set_columns (f->model, (const guint *) (gpointer) columns->data, columns->len);
}

static void
type (Fixture *f, guint row, const char *key, const char *text)
{
  GridPatchCell cell = { row, column (f, key), (char *) text };

  g_assert_true (grid_model_apply (TALLY_GRID_MODEL (f->model), &cell, 1, "typing"));
}

static void
assert_text (Fixture *f, guint row, const char *key, const char *text)
{
  g_autofree char *is = grid_model_text (TALLY_GRID_MODEL (f->model), row, column (f, key));

  g_assert_cmpstr (is, ==, text);
}

static guint
n_rows (Fixture *f)
{
  return grid_model_n_rows (TALLY_GRID_MODEL (f->model));
}

/* Words under Size, nothing in what is computed or inherited, no mark of a fault anywhere. */
static void
assert_note (Fixture *f, guint row, const char *words)
{
  TallyGridModel *grid = TALLY_GRID_MODEL (f->model);

  g_assert_true (job_is_note_line (run_model_run (f->model, row)));
  assert_text (f, row, "size", words);
  assert_text (f, row, "kind", "note");
  for (guint c = 0; c < grid_model_n_columns (grid); c++)
    {
      const RunColumn *info = run_column (run_model_column (f->model, c));
      GridCellFlags flags = grid_model_flags (grid, row, c);
      g_autofree char *text = grid_model_text (grid, row, c);
      g_assert_cmpint (flags & (GRID_CELL_FAULTY | GRID_CELL_INHERITED | GRID_CELL_OVERRIDDEN | GRID_CELL_COMPUTED), ==, 0);
      if (info->field < 0 || strcmp (info->key, "class") == 0 || strcmp (info->key, "method") == 0)
        g_assert_cmpstr (text, ==, "");
    }
  g_assert_true (grid_model_flags (grid, row, column (f, "size")) & GRID_CELL_BOLD);
  g_assert_false (grid_model_flags (grid, row, column (f, "size")) & GRID_CELL_FIGURE);
}

static void
assert_counts (Fixture *f, gint64 runs, gint64 not_priced, gint64 notes)
{
  JobScope all = { 0, 0 };
  JobTotals totals;

  job_totals (session_job (f->session), &all, JOB_OWN_METHOD, &totals);
  g_assert_cmpint (totals.runs, ==, runs);
  g_assert_cmpint (totals.not_priced, ==, not_priced);
  g_assert_cmpint (totals.notes, ==, notes);
  job_totals_clear (&totals);
}

static void
test_note (Fixture *f, gconstpointer data)
{
  guint row = n_rows (f);
  const JobRecord *last = run_model_run (f->model, row - 1);
  gint64 system = last->num[RUN_SYSTEM];

  (void) data;
  /* In the cell of the kind of a new row. */
  type (f, row, "kind", "# second floor");
  assert_note (f, row, "second floor");
  g_assert_cmpint (run_model_run (f->model, row)->num[RUN_SYSTEM], ==, system);
  assert_counts (f, 115, 0, 1);
  /* The words are typed over where they stand, whatever they look like. */
  type (f, row, "size", "24x12 by others");
  assert_note (f, row, "24x12 by others");
  type (f, row, "size", "24x12");
  assert_note (f, row, "24x12");
  assert_counts (f, 115, 0, 1);
  /* Another kind: now it is a run, and what it lacks is told. */
  type (f, row, "kind", "str");
  g_assert_true (grid_model_flags (TALLY_GRID_MODEL (f->model), row, column (f, "size")) & GRID_CELL_FAULTY);
  assert_counts (f, 115, 1, 0);
  type (f, row, "kind", "note");
  assert_note (f, row, "24x12");
  for (int i = 0; i < 5; i++)
    g_assert_true (job_undo (session_job (f->session), NULL));
  g_assert_cmpuint (n_rows (f), ==, row);
}

static void
test_note_alone (Fixture *f, gconstpointer data)
{
  guint row = n_rows (f);

  (void) data;
  show (f, "note");
  type (f, row, "note", "riser by others");
  assert_note (f, row, "riser by others");
  assert_counts (f, 115, 0, 1);
  /* A size makes it a run that has no kind yet. */
  type (f, row, "size", "24x12");
  assert_text (f, row, "size", "24x12");
  assert_text (f, row, "note", "riser by others");
  assert_counts (f, 115, 1, 0);
  g_assert_true (job_undo (session_job (f->session), NULL));
  type (f, row, "size", "riser by us");
  assert_note (f, row, "riser by us");
  assert_counts (f, 115, 0, 1);
}

/* Copied, found, sorted, moved and deleted like any row. */
static void
test_note_rows (Fixture *f, gconstpointer data)
{
  guint row = n_rows (f), before;
  JobQuery *query = run_model_query (f->model);

  (void) data;
  type (f, row, "kind", "#-- second floor --");
  g_assert_true (grid_model_duplicate_rows (TALLY_GRID_MODEL (f->model), &row, 1));
  assert_note (f, row + 1, "-- second floor --");
  g_assert_true (grid_model_move_rows (TALLY_GRID_MODEL (f->model), &row, 1, -1));
  assert_note (f, row - 1, "-- second floor --");
  query->find = g_strdup ("SECOND FLOOR");
  run_model_refresh (f->model);
  g_assert_cmpuint (n_rows (f), ==, 2);
  assert_note (f, 0, "-- second floor --");
  g_clear_pointer (&query->find, g_free);
  query->not_priced = TRUE;
  run_model_refresh (f->model);
  g_assert_cmpuint (n_rows (f), ==, 0);
  query->not_priced = FALSE;
  query->sort_field = job_field_find (JOB_RUN, "size");
  run_model_refresh (f->model);
  assert_note (f, n_rows (f) - 1, "-- second floor --");
  query->sort_field = -1;
  run_model_refresh (f->model);
  before = n_rows (f);
  row = before - 1;
  g_assert_true (grid_model_delete_rows (TALLY_GRID_MODEL (f->model), &row, 1));
  g_assert_cmpuint (n_rows (f), ==, before - 1);
  assert_counts (f, 115, 0, 1);
}

/* A length on an elbow is told beside the cell; the run stays priced. */
static void
test_unused (Fixture *f, gconstpointer data)
{
  guint row = 0;

  (void) data;
  while (run_model_run (f->model, row)->num[RUN_KIND] != DUCT_RADIUS_ELBOW)
    row++;
  type (f, row, "length", "4");
  g_autofree char *message = grid_model_message (TALLY_GRID_MODEL (f->model), row, column (f, "length"));
  g_assert_nonnull (message);
  g_assert_nonnull (strstr (message, "Length is not used by the kind"));
  g_assert_true (grid_model_flags (TALLY_GRID_MODEL (f->model), row, column (f, "length")) & GRID_CELL_DIM);
  g_assert_false (grid_model_flags (TALLY_GRID_MODEL (f->model), row, column (f, "size")) & GRID_CELL_DIM);
  assert_counts (f, 115, 0, 0);
}

static guint
column_id (const char *key)
{
  return (guint) run_column (column_of_all (key))->column;
}

/* The ids shown, from the first row on. */
static GArray *
ids_shown (Fixture *f)
{
  return g_array_copy ((GArray *) run_model_shown (f->model));
}

static void
assert_same_order (const GArray *a, const GArray *b)
{
  g_assert_cmpuint (a->len, ==, b->len);
  for (guint i = 0; i < a->len; i++)
    g_assert_cmpint (g_array_index (a, gint64, i), ==, g_array_index (b, gint64, i));
}

static guint
count_text (Fixture *f, const char *key, const char *text)
{
  guint n = 0;

  for (guint row = 0; row < n_rows (f); row++)
    {
      g_autofree char *is = grid_model_text (TALLY_GRID_MODEL (f->model), row, column (f, key));
      n += strcmp (is, text) == 0 ? 1 : 0;
    }
  return n;
}

/* By what a cell shows, entered there or not. */
static void
test_filter (Fixture *f, gconstpointer data)
{
  static const char *const wanted[][2] = { { "class", "6" }, { "gauge", "18" }, { "field_h", "13.8" }, { "kind", "tap" } };
  JobQuery *query = run_model_query (f->model);

  (void) data;
  for (gsize i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      guint all = n_rows (f), alike = count_text (f, wanted[i][0], wanted[i][1]);
      g_assert_cmpuint (alike, >, 0);
      g_assert_cmpuint (alike, <, all);
      job_query_filter (query, (int) column_id (wanted[i][0]), &wanted[i][1], 1, NULL);
      run_model_refresh (f->model);
      g_assert_cmpuint (n_rows (f), ==, alike);
      g_assert_cmpuint (count_text (f, wanted[i][0], wanted[i][1]), ==, alike);
      /* Rows keep the number they have in the job. */
      g_assert_cmpuint (grid_model_number (TALLY_GRID_MODEL (f->model), alike - 1), ==,
                        (guint) job_position (session_job (f->session), run_model_run (f->model, alike - 1)->id) + 1);
      g_assert_cmpuint (grid_model_number (TALLY_GRID_MODEL (f->model), alike), ==, all + 1);
      job_query_show_all (query);
      run_model_refresh (f->model);
      g_assert_cmpuint (n_rows (f), ==, all);
    }
}

static double
figure_at (Fixture *f, guint row, const char *key)
{
  g_autofree char *text = grid_model_text (TALLY_GRID_MODEL (f->model), row, column (f, key));
  g_auto (GStrv) parts = g_strsplit (text, ",", -1);
  g_autofree char *plain = g_strjoinv ("", parts);

  g_assert_cmpstr (plain, !=, "");
  return g_ascii_strtod (plain, NULL);
}

static void
test_sort (Fixture *f, gconstpointer data)
{
  static const char *const keys[] = { "cost", "field_h" };
  JobQuery *query = run_model_query (f->model);

  (void) data;
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      query->sort_field = (int) column_id (keys[i]);
      query->descending = i == 1;
      run_model_refresh (f->model);
      g_assert_cmpuint (n_rows (f), ==, 115);
      for (guint row = 1; row < n_rows (f); row++)
        if (query->descending)
          g_assert_cmpfloat (figure_at (f, row, keys[i]), <=, figure_at (f, row - 1, keys[i]));
        else
          g_assert_cmpfloat (figure_at (f, row, keys[i]), >=, figure_at (f, row - 1, keys[i]));
    }
  /* Inherited classes among the entered ones; what has none stands last. */
  query->sort_field = (int) column_id ("class");
  query->descending = FALSE;
  run_model_refresh (f->model);
  assert_text (f, 0, "class", "-2");
  guint empty = count_text (f, "class", ""), last = n_rows (f) - empty;
  g_assert_cmpuint (empty, >, 0);
  assert_text (f, last, "class", "");
  assert_text (f, last - 1, "class", "6");
}

/* Taken back under a find or a sort, rows stand where they stood. */
static void
test_undo_order (Fixture *f, gconstpointer data)
{
  JobQuery *query = run_model_query (f->model);
  TallyJob *job = session_job (f->session);
  const guint some[] = { 1, 2, 5, 9 };

  (void) data;
  for (int sorted = 0; sorted < 2; sorted++)
    {
      g_free (query->find);
      query->find = g_strdup ("M-301");
      query->sort_field = sorted ? (int) column_id ("cost") : -1;
      run_model_refresh (f->model);
      g_autoptr (GArray) before = ids_shown (f);
      g_autofree guint *every = g_new (guint, before->len);
      for (guint i = 0; i < before->len; i++)
        every[i] = i;
      g_assert_cmpuint (before->len, >, 10);
      g_assert_true (grid_model_delete_rows (TALLY_GRID_MODEL (f->model), some, G_N_ELEMENTS (some)));
      g_assert_cmpuint (n_rows (f), ==, before->len - 4);
      g_assert_true (grid_model_delete_rows (TALLY_GRID_MODEL (f->model), every, before->len - 4));
      g_assert_cmpuint (n_rows (f), ==, 0);
      g_assert_true (job_undo (job, NULL));
      g_assert_true (job_undo (job, NULL));
      g_autoptr (GArray) after = ids_shown (f);
      assert_same_order (before, after);
    }
}

/* A row typed under a filter stays in sight, a copy stands behind its row; what comes back from elsewhere must pass the filter. */
static void
test_coming (Fixture *f, gconstpointer data)
{
  JobQuery *query = run_model_query (f->model);
  const char *tap = "tap";
  guint row = 0, n;

  (void) data;
  while (run_model_run (f->model, row)->num[RUN_KIND] == DUCT_TAP)
    row++;
  g_assert_true (grid_model_delete_rows (TALLY_GRID_MODEL (f->model), &row, 1));
  job_query_filter (query, (int) column_id ("kind"), &tap, 1, NULL);
  run_model_refresh (f->model);
  n = n_rows (f);
  g_assert_true (job_undo (session_job (f->session), NULL));
  g_assert_cmpuint (n_rows (f), ==, n);
  type (f, n, "kind", "straight");
  g_assert_cmpuint (n_rows (f), ==, n + 1);
  assert_text (f, n, "kind", "straight");
  row = 2;
  gint64 id = run_model_run (f->model, row)->id;
  g_assert_true (grid_model_duplicate_rows (TALLY_GRID_MODEL (f->model), &row, 1));
  g_assert_cmpint (run_model_run (f->model, row)->id, ==, id);
  g_assert_cmpint (run_model_run (f->model, row + 1)->id, >, id);
  assert_text (f, row + 1, "kind", "tap");
}

/* Feet with feet, money with money; classes and gauges have no sum. */
static void
test_sums (Fixture *f, gconstpointer data)
{
  guint filled, numbers;
  double sum, by_hand = 0;

  (void) data;
  for (guint row = 0; row < 5; row++)
    by_hand += figure_at (f, row, "cost");
  run_model_sum (f->model, 0, 4, column (f, "cost"), &filled, &numbers, &sum);
  g_assert_cmpuint (filled, ==, 5);
  g_assert_cmpuint (numbers, ==, 5);
  /* Each cell shows whole money. */
  g_assert_cmpfloat_with_epsilon (sum, by_hand, 2.5);
  /* The first five of the demo: 14, none, 2.5, 18, none (invented demo). */
  run_model_sum (f->model, 0, 4, column (f, "length"), &filled, &numbers, &sum);
  g_assert_cmpuint (numbers, ==, 3);
  g_assert_cmpfloat_with_epsilon (sum, 34.5, 1e-9);
  run_model_sum (f->model, 0, 4, column (f, "class"), &filled, &numbers, &sum);
  g_assert_cmpuint (filled, ==, 5);
  g_assert_cmpuint (numbers, ==, 0);
  run_model_sum (f->model, 0, 4, column (f, "gauge"), &filled, &numbers, &sum);
  g_assert_cmpuint (numbers, ==, 0);
}

static void
reset_cb (TallyGridModel *model, guint *n)
{
  (void) model;
  ++*n;
}

static void
assert_unit (Fixture *f, const char *key, const char *unit)
{
  g_autofree char *is = grid_model_unit (TALLY_GRID_MODEL (f->model), column (f, key));

  g_assert_cmpstr (is, ==, unit);
}

/* Headings, figures and what is typed change together, at once. 2 in w.g. is named 500 Pa, 6 is 1500 (metric names of pressure
 * classes: published up to 4, 6 and 10 rounded alike); 14 ft are 4.2672 m (exact). */
static void
test_units (Fixture *f, gconstpointer data)
{
  TallyJob *job = session_job (f->session);
  int units = job_field_find (JOB_HEAD, "units");
  guint resets = 0, row = n_rows (f);

  (void) data;
  g_signal_connect (f->model, "reset", G_CALLBACK (reset_cb), &resets);
  assert_unit (f, "class", "in w.g.");
  assert_text (f, 0, "class", "6");
  g_assert_true (session_edit_field (f->session, JOB_HEAD, job_head (job)->id, units, "metric", NULL));
  g_assert_cmpuint (resets, ==, 1);
  assert_unit (f, "class", "Pa");
  assert_unit (f, "size", "mm");
  assert_unit (f, "length", "m");
  assert_text (f, 0, "class", "1500");
  assert_text (f, 0, "length", "4.2672");
  type (f, 0, "class", "500");
  g_assert_cmpint (run_model_run (f->model, 0)->num[RUN_CLASS], ==, 2000);
  assert_text (f, 0, "class", "500");
  type (f, 0, "class", "2 in w.g.");
  g_assert_cmpint (run_model_run (f->model, 0)->num[RUN_CLASS], ==, 2000);
  /* Inches meant by a bare figure are asked back, not taken for 2 Pa. */
  type (f, 0, "class", "2");
  g_assert_true (grid_model_flags (TALLY_GRID_MODEL (f->model), 0, column (f, "class")) & GRID_CELL_FAULTY);
  g_assert_true (session_edit_field (f->session, JOB_HEAD, job_head (job)->id, units, "inch-pound", NULL));
  assert_unit (f, "class", "in w.g.");
  g_assert_cmpuint (n_rows (f), ==, row);
}

int
main (int argc, char **argv)
{
  g_autofree char *folder = g_dir_make_tmp ("seamtally-runs-XXXXXX", NULL);
  g_autofree char *own = g_build_filename (folder, "seamtally", NULL);
  int status;

  /* The columns that are shown are remembered: not in the settings of whoever runs this. */
  g_setenv ("XDG_CONFIG_HOME", folder, TRUE);
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add ("/runs/" name, Fixture, NULL, set_up, run, tear_down)
  ADD ("note", test_note);
  ADD ("note-alone", test_note_alone);
  ADD ("note-rows", test_note_rows);
  ADD ("unused", test_unused);
  ADD ("filter", test_filter);
  ADD ("sort", test_sort);
  ADD ("undo-order", test_undo_order);
  ADD ("coming", test_coming);
  ADD ("sums", test_sums);
  ADD ("units", test_units);
#undef ADD
  status = g_test_run ();
  remove_folder (own);
  g_rmdir (folder);
  return status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lines of words between the runs of the demo job, and fields that a kind has no use for. Figures: invented demo. */
#include "exchange/runs-csv.h"
#include "job/append.h"
#include "job/drawing.h"
#include "job/note-line.h"
#include "job/open-points.h"
#include "job/query.h"

#include <string.h>

#define DEMO_RUNS 115

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

/* A run from "key=text" pairs between semicolons, behind the last. Its id. */
static gint64
add (TallyJob *job, const char *pairs)
{
  gint64 id = job_take_id (job, JOB_RUN), ord, step;
  g_auto (GStrv) each = g_strsplit (pairs, ";", -1);
  JobEdit *edit = job_edit_new ("entry of a run");
  JobRecord *run;

  g_assert_true (job_ord_before (job, JOB_RUN, job_n (job, JOB_RUN), 1, &ord, &step));
  run = job_record_new (JOB_RUN, id, ord);
  for (char **pair = each; *pair && **pair; pair++)
    {
      g_auto (GStrv) halves = g_strsplit (*pair, "=", 2);
      job_record_read (run, job_field_find (JOB_RUN, halves[0]), halves[1], job_names (job), NULL);
    }
  job_edit_add (edit, NULL, run);
  g_assert_true (job_apply (job, edit, NULL));
  return id;
}

static void
set (TallyJob *job, gint64 id, const char *key, const char *text)
{
  g_assert_true (job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, key), text, NULL, NULL));
}

static void
assert_counts (TallyJob *job, gint64 runs, gint64 not_priced, gint64 notes)
{
  JobScope all = { 0, 0 };
  JobTotals totals;

  for (int m = JOB_OWN_METHOD; m < job_basis (job)->n_methods; m++)
    {
      job_totals (job, &all, m, &totals);
      g_assert_cmpint (totals.runs, ==, runs);
      g_assert_cmpint (totals.not_priced, ==, not_priced);
      g_assert_cmpint (totals.notes, ==, notes);
      job_totals_clear (&totals);
    }
  g_assert_true (job_check_totals (job));
}

static void
test_totals (void)
{
  g_autoptr (TallyJob) job = demo ();
  gsize bytes = sizeof (gint64) * (gsize) job_basis (job)->n_vector;
  JobScope all = { 0, 0 }, roof = { 0, -1 };
  JobTotals before, after, nowhere;

  job_totals (job, &all, JOB_OWN_METHOD, &before);
  assert_counts (job, DEMO_RUNS, 0, 0);
  add (job, "kind=note;note=-- second floor --;system=SA-1;area=Level 2;drawing=M-202");
  add (job, "note=riser by others");
  add (job, "kind=note");
  assert_counts (job, DEMO_RUNS, 0, 3);
  job_totals (job, &all, JOB_OWN_METHOD, &after);
  g_assert_true (memcmp (before.vector, after.vector, bytes) == 0);
  g_assert_true (before.sums.items[COST_MATERIAL] == after.sums.items[COST_MATERIAL]);
  /* Two of them stand without an area: that part of the job has notes and nothing else. */
  job_totals (job, &roof, JOB_OWN_METHOD, &nowhere);
  g_assert_cmpint (nowhere.runs + nowhere.not_priced, ==, 0);
  g_assert_cmpint (nowhere.notes, ==, 2);
  job_totals_clear (&before);
  job_totals_clear (&after);
  job_totals_clear (&nowhere);
  g_assert_true (job_undo (job, NULL));
  g_assert_true (job_undo (job, NULL));
  assert_counts (job, DEMO_RUNS, 0, 1);
  g_assert_true (job_undo (job, NULL));
  assert_counts (job, DEMO_RUNS, 0, 0);
  g_assert_true (job_redo (job, NULL));
  assert_counts (job, DEMO_RUNS, 0, 1);
}

static void
test_computed (void)
{
  g_autoptr (TallyJob) job = demo ();
  const JobRecord *run = job_find (job, JOB_RUN, add (job, "kind=note;note=by others"));
  JobTotals *totals = g_new0 (JobTotals, (gsize) job_basis (job)->n_methods + 1);
  JobRunResult r;

  g_assert_true (job_compute (job, run, JOB_OWN_METHOD, &r));
  g_assert_cmpint (r.method, ==, -1);
  g_assert_null (r.fault);
  for (int i = 0; i < job_basis (job)->n_vector; i++)
    g_assert_cmpint (r.vector[i], ==, 0);
  job_run_result_clear (&r);
  job_totals_of_runs (job, &run->id, 1, totals);
  for (int m = 0; m <= job_basis (job)->n_methods; m++)
    {
      g_assert_cmpint (totals[m].runs + totals[m].not_priced, ==, 0);
      job_totals_clear (&totals[m]);
    }
  g_free (totals);
}

/* What could have been counted is not lost behind words. */
static void
test_no_note (void)
{
  static const struct
  {
    const char *pairs, *field;
  } more[] = {
    { "kind=note;note=x;size=24x12", "size" },
    { "kind=note;length=46", "length" },
    { "kind=note;note=x;price=950", "price" },
    { "kind=note;note=x;item=access door 12 in", "item" },
    { "kind=note;count=3", "count" },
    { "note=x;size=24x12", "kind" },
    { "note=x;class=2", "kind" },
    { "kind=note;note=x;system=no such system", "system" },
    { "kind=strait;note=x", "kind" },
    { "drawing=M-1", "kind" },
    { "", "kind" },
  };
  g_autoptr (TallyJob) job = demo ();

  for (gsize i = 0; i < G_N_ELEMENTS (more); i++)
    {
      const JobRecord *run = job_find (job, JOB_RUN, add (job, more[i].pairs));
      JobRunResult r;
      g_assert_false (job_is_note_line (run));
      g_assert_false (job_compute (job, run, JOB_OWN_METHOD, &r));
      g_assert_cmpint (r.fault_field, ==, job_field_find (JOB_RUN, more[i].field));
      g_assert_cmpstr (r.fault->remedy, !=, "");
      job_run_result_clear (&r);
      assert_counts (job, DEMO_RUNS, (gint64) i + 1, 0);
    }
}

/* A class or a method that stands on all lines counts nothing; filled and cleared fields move the line to and fro. */
static void
test_becomes (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 id = add (job, "kind=note;note=x;class=2;method=slip-on-bolted;first_end=open");

  assert_counts (job, DEMO_RUNS, 0, 1);
  set (job, id, "size", "24x12");
  assert_counts (job, DEMO_RUNS, 1, 0);
  set (job, id, "kind", "end cap");
  assert_counts (job, DEMO_RUNS + 1, 0, 0);
  set (job, id, "size", "");
  set (job, id, "kind", "note");
  assert_counts (job, DEMO_RUNS, 0, 1);
  /* Without a kind nothing but a note makes a note. */
  set (job, id, "kind", "");
  assert_counts (job, DEMO_RUNS, 1, 0);
  for (int i = 0; i < 3; i++)
    set (job, id, (const char *[]){ "class", "method", "first_end" }[i], "");
  assert_counts (job, DEMO_RUNS, 0, 1);
  set (job, id, "note", "");
  assert_counts (job, DEMO_RUNS, 1, 0);
  while (job_undo_label (job))
    g_assert_true (job_undo (job, NULL));
  assert_counts (job, DEMO_RUNS, 0, 0);
}

static guint
found (TallyJob *job, const JobQuery *query, gint64 id)
{
  g_autoptr (GArray) rows = job_query_run (job, query);
  guint n = 0;

  for (guint i = 0; i < rows->len; i++)
    n += job_at (job, JOB_RUN, g_array_index (rows, guint, i))->id == id;
  return n == 1 ? rows->len : 0;
}

static void
test_queried (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 id = add (job, "kind=note;note=Riser by others");
  JobQuery query;

  job_query_init (&query);
  query.find = g_strdup ("riser BY");
  g_assert_cmpuint (found (job, &query, id), ==, 1);
  job_query_clear (&query);
  job_query_filter (&query, job_field_find (JOB_RUN, "kind"), (const char *const[]) { "note" }, 1, NULL);
  g_assert_cmpuint (found (job, &query, id), ==, 1);
  job_query_clear (&query);
  query.not_priced = TRUE;
  g_assert_cmpuint (found (job, &query, id), ==, 0);
  job_query_clear (&query);
  /* "note" comes between "mitred elbow" and "offset". */
  query.sort_field = job_field_find (JOB_RUN, "kind");
  g_autoptr (GArray) rows = job_query_run (job, &query);
  for (guint i = 1; i + 1 < rows->len; i++)
    if (job_at (job, JOB_RUN, g_array_index (rows, guint, i))->id == id)
      {
        g_assert_cmpint (job_at (job, JOB_RUN, g_array_index (rows, guint, i - 1))->num[RUN_KIND], ==, DUCT_MITRED_ELBOW);
        g_assert_cmpint (job_at (job, JOB_RUN, g_array_index (rows, guint, i + 1))->num[RUN_KIND], ==, DUCT_OFFSET);
        return;
      }
  g_assert_not_reached ();
}

/* A method, an issue of a drawing, another job's runs. */
static void
test_around (void)
{
  g_autoptr (TallyJob) job = demo (), other = demo ();
  gint64 id = add (job, "kind=note;note=x;drawing=M-999");
  JobScope unplaced = { -1, -1 };
  JobEdit *edit = job_edit_method_of_runs (job, &id, 1, "slip-and-drive", "method");

  g_assert_cmpuint (edit->deltas->len, ==, 0);
  job_edit_free (edit);
  edit = job_edit_method (job, &unplaced, "slip-and-drive", "method");
  g_assert_cmpuint (edit->deltas->len, ==, 0);
  job_edit_free (edit);

  g_assert_true (job_apply (job, job_drawing_reissue (job, "M-999"), NULL));
  g_autoptr (GPtrArray) drawings = job_drawings (job);
  gboolean seen = FALSE;
  for (guint i = 0; i < drawings->len; i++)
    {
      const JobDrawing *drawing = g_ptr_array_index (drawings, i);
      if (strcmp (drawing->key, "M-999") != 0)
        continue;
      seen = TRUE;
      g_assert_cmpuint (drawing->runs + drawing->recheck, ==, 0);
    }
  g_assert_true (seen);

  /* Two notes are alike only by their words. */
  add (other, "kind=note;note=y");
  add (other, "kind=note;note=x");
  g_autoptr (GArray) twice = job_likely_duplicates (job, other);
  g_assert_false (g_array_index (twice, gboolean, DEMO_RUNS));
  g_assert_true (g_array_index (twice, gboolean, DEMO_RUNS + 1));
}

static void
test_open_points (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = job_new (catalogue, "words alone");
  g_autoptr (GArray) points = NULL;

  add (job, "kind=note;note=nothing is counted yet");
  points = job_open_points (job);
  g_assert_cmpint (g_array_index (points, JobPoint, 0).kind, ==, JOB_POINT_EMPTY);
  for (guint i = 0; i < points->len; i++)
    g_assert_cmpint (g_array_index (points, JobPoint, i).kind, !=, JOB_POINT_NOT_PRICED);
}

/* ---- what a kind does not use ---- */

static void
test_unused (void)
{
  static const struct
  {
    const char *pairs, *words;
  } lines[] = {
    { "kind=radius elbow;size=24x12;length=4;class=1", "Length is not used by the kind “radius elbow”" },
    { "kind=straight;size=24x12;length=4;angle=90;throat=6;class=1", "Angle, Throat radius are not used by the kind “straight”" },
    { "kind=straight;size=24x12;length=4;price=950;class=1", "Price is not used by the kind “straight”" },
    { "kind=end cap;size=24x12;size2=18x10;class=1", "Second size is not used by the kind “end cap”" },
    { "kind=counted;item=access door 12 in;size=24x12;angle=90", "Size, Angle are not used by the kind “counted”" },
    { "kind=transition;size=24x12;size2=18x10;length=2;shift=2;class=1", NULL },
    { "kind=counted;item=flexible connector;length=24;price=3;count=2;field_minutes=4", NULL },
    { "kind=offset;size=24x12;length=4;offset=12;count=2;class=2;gauge=22;fit_pieces=1;note=x", NULL },
    { "kind=note;note=x;class=2", NULL },
    { "note=x", NULL },
  };
  g_autoptr (TallyJob) job = demo ();

  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      const JobRecord *run = job_find (job, JOB_RUN, add (job, lines[i].pairs));
      g_autofree char *words = job_unused_words (run);
      JobRunResult r;
      g_assert_cmpstr (words, ==, lines[i].words);
      /* A caution: the run is priced all the same. */
      g_assert_true (job_compute (job, run, JOB_OWN_METHOD, &r));
      job_run_result_clear (&r);
    }
}

static void
test_demo_is_used (void)
{
  g_autoptr (TallyJob) job = demo ();

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    g_assert_null (job_unused_words (job_at (job, JOB_RUN, i)));
}

/* A figure that cannot be is told as such, and stands at its own cell. */
static void
test_fault_cells (void)
{
  static const struct
  {
    const char *pairs, *field, *what, *remedy;
  } lines[] = {
    { "kind=straight;size=24x12;length=-3;class=1", "length", "not over 0", "positive length" },
    { "kind=straight;size=24x12;length=0;class=1", "length", "not over 0", "positive length" },
    { "kind=radius elbow;size=24x12;throat=-2;class=1", "throat", "below 0", "positive" },
    { "kind=straight;size=24x12;length=4;metal=stainless;class=1;system=SA-1", "metal", "no rows for stainless", "gauge" },
    { "kind=straight;size=24x12;length=4;class=40;system=SA-1", "class", "class 40", "gauge" },
  };
  g_autoptr (TallyJob) job = demo ();

  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      const JobRecord *run = job_find (job, JOB_RUN, add (job, lines[i].pairs));
      JobRunResult r;
      g_assert_false (job_compute (job, run, JOB_OWN_METHOD, &r));
      g_assert_cmpstr (job_type_info (JOB_RUN)->field[r.fault_field].key, ==, lines[i].field);
      g_assert_nonnull (strstr (r.fault->what, lines[i].what));
      g_assert_nonnull (strstr (r.fault->remedy, lines[i].remedy));
      job_run_result_clear (&r);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/note-line/totals", test_totals);
  g_test_add_func ("/job/note-line/computed", test_computed);
  g_test_add_func ("/job/note-line/no-note", test_no_note);
  g_test_add_func ("/job/note-line/becomes", test_becomes);
  g_test_add_func ("/job/note-line/queried", test_queried);
  g_test_add_func ("/job/note-line/around", test_around);
  g_test_add_func ("/job/note-line/open-points", test_open_points);
  g_test_add_func ("/job/note-line/unused", test_unused);
  g_test_add_func ("/job/note-line/demo-is-used", test_demo_is_used);
  g_test_add_func ("/job/note-line/fault-cells", test_fault_cells);
  return g_test_run ();
}

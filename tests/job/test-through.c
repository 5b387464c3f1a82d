/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Lengths measured through fittings: what is taken off which straight, by hand, and the totals after every edit against
 * full recomputation. Geometry and the project's own rule of counting; sizes and lengths are made up. */
#include "fixture.h"
#include "job/check.h"
#include "job/job.h"

static void
set (JobRecord *record, const char *field, const char *text, TallyJob *job)
{
  g_assert_true (job_record_read (record, job_field_find (record->type, field), text, job_names (job), NULL));
}

static void
put (TallyJob *job, JobRecord *record)
{
  JobEdit *edit = job_edit_new ("new row");

  job_edit_add (edit, NULL, record);
  g_assert_true (job_apply (job, edit, NULL));
}

/* Appends a row; @length, @count: NULL for the default. Its id. */
static gint64
row (TallyJob *job, const char *system, const char *kind, const char *size, const char *length, const char *count)
{
  JobRecord *run = job_record_new (JOB_RUN, job_take_id (job, JOB_RUN), 0);
  gint64 step, id = run->id;

  g_assert_true (job_ord_before (job, JOB_RUN, job_n (job, JOB_RUN), 1, &run->ord, &step));
  set (run, "kind", kind, job);
  set (run, "size", size, job);
  if (system)
    set (run, "system", system, job);
  if (length)
    set (run, "length", length, job);
  if (count)
    set (run, "count", count, job);
  put (job, run);
  return id;
}

static TallyJob *
new_job (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  TallyJob *job = job_new (catalogue, "through");
  static const char *const head[][2] = { { "class", "2" }, { "rule_set", "demo" }, { "method", "slip-on-bolted" } };

  for (gsize i = 0; i < G_N_ELEMENTS (head); i++)
    g_assert_true (job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, head[i][0]), head[i][1], NULL, NULL));
  for (int i = 0; i < 2; i++)
    {
      JobRecord *system = job_record_new (JOB_SYSTEM, job_take_id (job, JOB_SYSTEM), i + 1);
      set (system, "system", i ? "RA-1" : "SA-1", job);
      put (job, system);
    }
  return job;
}

static void
switch_on (TallyJob *job, const char *yes)
{
  g_assert_true (job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "lengths_through_fittings"), yes, NULL,
                                 NULL));
  g_assert_true (job_check_totals (job));
}

static gboolean
compute (TallyJob *job, gint64 id, gint64 *laid, gint64 *deducted)
{
  JobRunResult r;
  gboolean priced = job_compute (job, job_find (job, JOB_RUN, id), JOB_OWN_METHOD, &r);

  *deducted = r.deducted;
  *laid = priced ? r.shape.dim[DUCT_DIM_LENGTH] : 0;
  if (!priced)
    {
      g_assert_cmpint (r.fault_field, ==, job_field_find (JOB_RUN, "length"));
      g_assert_cmpstr (r.fault->what, !=, "");
      g_assert_cmpstr (r.fault->remedy, !=, "");
    }
  job_run_result_clear (&r);
  return priced;
}

static void
assert_run (TallyJob *job, gint64 id, double laid_in, double deducted_in)
{
  gint64 laid, deducted;

  g_assert_true (compute (job, id, &laid, &deducted));
  assert_near ((double) laid / IN, laid_in, 1e-6);
  assert_near ((double) deducted / IN, deducted_in, 1e-6);
}

/* 24x12 elbows of throat 24 (the kind's default, the turning side) have R = 36 and take 72 off; transitions are 30 long
 * unless told (invented demo). Rows of another system stand between and change nothing. */
static void
test_rows (void)
{
  g_autoptr (TallyJob) job = new_job ();
  gint64 early = row (job, "SA-1", "transition", "24x12", NULL, NULL),
         other = row (job, "RA-1", "straight", "20x10", "10", NULL);
  gint64 a = row (job, "SA-1", "straight", "24x12", "20", NULL), tap, b, pair;

  job_edit_field (job, JOB_RUN, early, job_field_find (JOB_RUN, "size2"), "20x12", NULL, NULL);
  row (job, "SA-1", "radius elbow", "24x12", NULL, NULL);
  tap = row (job, "SA-1", "tap", "12x8", NULL, NULL);
  b = row (job, "SA-1", "straight", "24x12", "30", NULL);
  row (job, "SA-1", "radius elbow", "24x12", NULL, "2");
  pair = row (job, "SA-1", "straight", "24x12", "40", "4");
  row (job, "SA-1", "offset", "24x12", "36 in", "2");

  assert_run (job, a, 240, 0);
  switch_on (job, "yes");
  assert_run (job, a, 240 - 30 - 72, 102); /* the transition above it too: there is no straight above that */
  assert_run (job, b, 360 - 144, 144);
  assert_run (job, pair, 480 - 18, 18); /* two of 36 over four runs */
  assert_run (job, other, 120, 0);
  assert_run (job, tap, 6, 0);

  /* An elbow that cannot be measured takes nothing off. */
  job_edit_field (job, JOB_RUN, job_at (job, JOB_RUN, 3)->id, job_field_find (JOB_RUN, "size"), "0x4", NULL, NULL);
  assert_run (job, a, 240 - 30, 30);
  g_assert_true (job_check_totals (job));
  job_undo (job, NULL);
  assert_run (job, a, 240 - 102, 102);
  switch_on (job, "no");
  assert_run (job, a, 240, 0);
  job_undo (job, NULL);
  g_assert_true (job_check_totals (job));
  assert_run (job, a, 240 - 102, 102);
}

/* A run that its fittings use up is not priced, and counted so. */
static void
test_used_up (void)
{
  g_autoptr (TallyJob) job = new_job ();
  gint64 a = row (job, "SA-1", "straight", "24x12", "6", NULL), laid, deducted;
  JobScope all = { 0, 0 };
  JobTotals totals;

  row (job, "SA-1", "radius elbow", "24x12", NULL, NULL);
  switch_on (job, "yes");
  g_assert_false (compute (job, a, &laid, &deducted));
  assert_near ((double) deducted / IN, 72, 1e-6);
  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  g_assert_cmpint (totals.not_priced, ==, 1);
  g_assert_cmpint (totals.runs, ==, 1);
  job_totals_clear (&totals);
  job_edit_field (job, JOB_RUN, a, job_field_find (JOB_RUN, "length"), "6.5", NULL, NULL);
  assert_run (job, a, 6, 72);
  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  g_assert_cmpint (totals.not_priced, ==, 0);
  job_totals_clear (&totals);
}

/* The switch changes what is laid and with it the price; off again everything is as it was. */
static void
test_totals (void)
{
  g_autoptr (TallyJob) job = new_job ();
  JobScope all = { 0, 0 };
  JobTotals before, on, after;

  row (job, "SA-1", "straight", "24x12", "40", NULL);
  row (job, "SA-1", "radius elbow", "24x12", NULL, NULL);
  job_totals (job, &all, JOB_OWN_METHOD, &before);
  switch_on (job, "yes");
  job_totals (job, &all, JOB_OWN_METHOD, &on);
  switch_on (job, "");
  job_totals (job, &all, JOB_OWN_METHOD, &after);
  g_assert_true (on.sums.items[COST_MATERIAL] < before.sums.items[COST_MATERIAL]);
  g_assert_true (on.sums.labour[0] < before.sums.labour[0]);
  g_assert_true (after.sums.items[COST_MATERIAL] == before.sums.items[COST_MATERIAL]);
  g_assert_true (after.sums.labour[0] == before.sums.labour[0]);
  job_totals_clear (&before);
  job_totals_clear (&on);
  job_totals_clear (&after);
}

/* Random edits with undo and redo while the switch is on. */
static void
test_random (void)
{
  static const char *const kinds[] = { "straight", "radius elbow", "transition", "tee",
                                       "damper",   "end cap",      "counted",    "straight" };
  static const char *const sizes[] = { "24x12", "18x10", "30x20", "0x4", "12x12" };
  static const char *const counts[] = { "1", "2", "3", "0", "", "2.5" };
  static const char *const lengths[] = { "40", "3", "12 ft 6 in", "", "100", "x" };
  g_autoptr (TallyJob) job = new_job ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (77);

  for (int i = 0; i < 24; i++)
    row (job, g_rand_boolean (rand) ? "SA-1" : "RA-1", kinds[g_rand_int_range (rand, 0, 8)],
         sizes[g_rand_int_range (rand, 0, 3)], "40", NULL);
  switch_on (job, "yes");
  for (int i = 0; i < 300; i++)
    {
      gint64 id = job_at (job, JOB_RUN, (guint) g_rand_int_range (rand, 0, (int) job_n (job, JOB_RUN)))->id;
      JobEdit *edit;
      switch (g_rand_int_range (rand, 0, 9))
        {
        case 0:
          job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "kind"), kinds[g_rand_int_range (rand, 0, 8)],
                          NULL, NULL);
          break;
        case 1:
          job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "size"), sizes[g_rand_int_range (rand, 0, 5)],
                          NULL, NULL);
          break;
        case 2:
          job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "count"), counts[g_rand_int_range (rand, 0, 6)],
                          NULL, NULL);
          break;
        case 3:
          job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "length"), lengths[g_rand_int_range (rand, 0, 6)],
                          NULL, NULL);
          break;
        case 4:
          job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "system"), g_rand_boolean (rand) ? "SA-1" : "RA-1",
                          NULL, NULL);
          break;
        case 5:
          edit = job_edit_new ("delete");
          job_edit_add (edit, job_record_ref (job_find (job, JOB_RUN, id)), NULL);
          g_assert_true (job_apply (job, edit, NULL));
          row (job, "SA-1", kinds[g_rand_int_range (rand, 0, 8)], "24x12", "30", "2");
          break;
        case 6:
          job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "lengths_through_fittings"),
                          g_rand_int_range (rand, 0, 3) ? "yes" : "no", NULL, NULL);
          break;
        case 7:
          g_assert_true (job_undo (job, NULL));
          break;
        default:
          g_assert_true (job_redo (job, NULL));
          break;
        }
      g_assert_true (job_check_totals (job));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/through/rows", test_rows);
  g_test_add_func ("/through/used-up", test_used_up);
  g_test_add_func ("/through/totals", test_totals);
  g_test_add_func ("/through/random", test_random);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Choosing the construction of a job: pins as one edit, back again, gauges entered by hand, wishes. The demo job and the set
 * "demo-complete" are an invented demo. */
#include "exchange/runs-csv.h"
#include "job/choose.h"

#include <string.h>

static const JobScope all = { 0, 0 };

static TallyJob *
demo (const char *rules)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  TallyJob *job = exchange_demo_job (catalogue);

  g_assert_true (job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "rule_set"), rules, NULL, NULL));
  return job;
}

static double
cost (TallyJob *job, gint64 *not_priced)
{
  JobTotals totals;

  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  double value = buildup_smooth (job_basis (job), &totals.sums, buildup_find (job_basis (job), "cost"));
  *not_priced = totals.not_priced;
  job_totals_clear (&totals);
  return value;
}

static gint64
net (TallyJob *job)
{
  JobTotals totals;

  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  gint64 mg = totals.vector[cost_measure_slot (job_basis (job), COST_NET_MG)];
  job_totals_clear (&totals);
  return mg;
}

/* Runs that had no construction get one, the whole gets cheaper, what each run was told adds up to the cost; one step back undoes it. */
static void
test_pin (void)
{
  g_autoptr (TallyJob) job = demo ("demo-complete");
  gint64 open, left;
  double before = cost (job, &open), told = 0;
  g_autoptr (GArray) chosen = NULL;
  CostSums none = { 0 };

  g_assert_cmpint (open, >, 0);
  JobEdit *edit = job_edit_cheapest (job, &all, "cheapest", &chosen);
  g_assert_cmpuint (edit->deltas->len, ==, 104);
  g_assert_cmpuint (chosen->len, ==, 104);
  g_assert_true (job_apply (job, edit, NULL));
  double after = cost (job, &left);
  g_assert_cmpint (left, ==, 0);
  g_assert_true (job_check_totals (job));

  for (guint i = 0; i < chosen->len; i++)
    {
      const JobChosen *c = &g_array_index (chosen, JobChosen, i);
      g_assert_true (c->pinned);
      g_assert_nonnull (strstr (c->words, "reinforcement line"));
      told += c->cost;
    }
  /* The counted lines of the demo and the fixed amounts are no construction. */
  double lines = 0;
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      JobRunResult r;
      CostSums sums = { 0 };
      if (run->num[RUN_KIND] != DUCT_COUNTED)
        continue;
      g_assert_true (job_compute (job, run, JOB_OWN_METHOD, &r));
      job_run_sums (job, run, r.vector, &sums);
      int line = buildup_find (job_basis (job), "cost");
      lines += buildup_smooth (job_basis (job), &sums, line) - buildup_smooth (job_basis (job), &none, line);
      job_run_result_clear (&r);
    }
  double fixed = buildup_smooth (job_basis (job), &none, buildup_find (job_basis (job), "cost"));
  g_assert_cmpfloat_with_epsilon (told + lines + fixed, after, 0.01);

  /* Chosen again, nothing changes. */
  g_autoptr (JobEdit) again = job_edit_cheapest (job, &all, "cheapest", NULL);
  g_assert_cmpuint (again->deltas->len, ==, 0);
  /* The pin stands although a price moves: steel at no price would favour heavier sheet without parts. */
  gint64 weight = net (job);
  g_autoptr (GPtrArray) what_if = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  g_ptr_array_add (what_if, cost_change_new ("item", "tie rod", "price", "400"));
  g_assert_true (job_set_what_if (job, what_if, NULL));
  g_assert_cmpint (net (job), ==, weight);
  g_autoptr (JobEdit) other = job_edit_cheapest (job, &all, "cheapest", NULL);
  g_assert_cmpuint (other->deltas->len, >, 0);
  g_assert_true (job_set_what_if (job, NULL, NULL));

  g_assert_true (job_undo (job, NULL));
  g_assert_cmpfloat_with_epsilon (cost (job, &left), before, 1e-6);
  g_assert_cmpint (left, ==, open);
  g_assert_true (job_redo (job, NULL));
  g_assert_true (job_apply (job, job_edit_unpin (job, &all, "back"), NULL));
  g_assert_cmpfloat_with_epsilon (cost (job, &left), before, 1e-6);
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    g_assert_null (job_at (job, JOB_RUN, i)->text[RUN_CONSTRUCTION]);
}

/* Under a set that has no reinforcement rows there is one gauge a run; the choice is the width of coil and never dearer. */
static void
test_plain_set (void)
{
  g_autoptr (TallyJob) job = demo ("demo");
  gint64 open;
  double before = cost (job, &open);

  g_assert_cmpint (open, ==, 0);
  g_assert_true (job_apply (job, job_edit_cheapest (job, &all, "cheapest", NULL), NULL));
  g_assert_cmpfloat (cost (job, &open), <=, before + 1e-6);
  g_assert_cmpint (open, ==, 0);
}

/* A gauge entered by hand is kept through choosing, choosing anew and taking back. */
static void
test_own_gauge (void)
{
  g_autoptr (TallyJob) job = demo ("demo-complete");
  gint64 id = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN) && id == 0; i++)
    if (job_at (job, JOB_RUN, i)->num[RUN_KIND] == DUCT_STRAIGHT && job_at (job, JOB_RUN, i)->num[RUN_W] > 40 * LENGTH_NM_PER_IN)
      id = job_at (job, JOB_RUN, i)->id;
  g_assert_true (job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "gauge"), "16", NULL, NULL));
  for (int times = 0; times < 2; times++)
    {
      JobEdit *edit = job_edit_cheapest_of_runs (job, &id, 1, "cheapest", NULL);
      if (edit->deltas->len > 0)
        g_assert_true (job_apply (job, edit, NULL));
      else
        job_edit_free (edit);
      g_assert_cmpstr (job_find (job, JOB_RUN, id)->text[RUN_GAUGE], ==, "16");
      g_assert_nonnull (job_find (job, JOB_RUN, id)->text[RUN_CONSTRUCTION]);
      JobRunResult r;
      g_assert_true (job_compute (job, job_find (job, JOB_RUN, id), JOB_OWN_METHOD, &r));
      g_assert_cmpuint (r.measure.notes & DUCT_NOTE_NOT_BY_SET, ==, 0);
      job_run_result_clear (&r);
    }
  g_assert_true (job_apply (job, job_edit_unpin (job, &all, "back"), NULL));
  g_assert_cmpstr (job_find (job, JOB_RUN, id)->text[RUN_GAUGE], ==, "16");
  g_assert_null (job_find (job, JOB_RUN, id)->text[RUN_CONSTRUCTION]);
}

/* What the job wishes is heeded; what cannot be read is said, and nothing is chosen. A scope is kept to. */
static void
test_wishes (void)
{
  g_autoptr (TallyJob) job = demo ("demo-complete");
  int field = job_field_find (JOB_HEAD, "construction");
  g_autoptr (GArray) chosen = NULL;

  g_assert_true (job_edit_field (job, JOB_HEAD, 1, field, "no rods; 48 in pieces", NULL, NULL));
  JobEdit *edit = job_edit_cheapest (job, &all, "cheapest", NULL);
  g_assert_cmpuint (edit->deltas->len, >, 0);
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobRecord *after = g_array_index (edit->deltas, JobDelta, i).after;
      g_assert_null (strstr (after->text[RUN_CONSTRUCTION], "rod"));
      if (after->num[RUN_KIND] == DUCT_STRAIGHT)
        g_assert_nonnull (strstr (after->text[RUN_CONSTRUCTION], "48 in pieces"));
    }
  job_edit_free (edit);

  g_assert_true (job_edit_field (job, JOB_HEAD, 1, field, "something nice", NULL, NULL));
  g_autoptr (JobEdit) none = job_edit_cheapest (job, &all, "cheapest", &chosen);
  g_assert_cmpuint (none->deltas->len, ==, 0);
  g_assert_nonnull (strstr (g_array_index (chosen, JobChosen, 0).words, "something nice"));
  g_assert_true (job_edit_field (job, JOB_HEAD, 1, field, "", NULL, NULL));

  JobScope one = { job_at (job, JOB_SYSTEM, 1)->id, 0 };
  g_autoptr (JobEdit) part = job_edit_cheapest (job, &one, "cheapest", NULL);
  g_assert_cmpuint (part->deltas->len, >, 0);
  for (guint i = 0; i < part->deltas->len; i++)
    g_assert_cmpint (g_array_index (part->deltas, JobDelta, i).after->num[RUN_SYSTEM], ==, one.system);
}

/* A pin that the set stops to allow stays priced and says so: class 10 asks for more. */
static void
test_outlived (void)
{
  g_autoptr (TallyJob) job = demo ("demo-complete");
  const JobRecord *run = NULL;
  JobRunResult r;

  for (guint i = 0; i < job_n (job, JOB_RUN) && !run; i++)
    if (job_at (job, JOB_RUN, i)->num[RUN_KIND] == DUCT_STRAIGHT && job_at (job, JOB_RUN, i)->num[RUN_W] > 40 * LENGTH_NM_PER_IN)
      run = job_at (job, JOB_RUN, i);
  gint64 id = run->id;
  g_assert_true (job_apply (job, job_edit_cheapest_of_runs (job, &id, 1, "cheapest", NULL), NULL));
  g_assert_true (job_compute (job, job_find (job, JOB_RUN, id), JOB_OWN_METHOD, &r));
  g_assert_cmpuint (r.measure.notes & DUCT_NOTE_NOT_BY_SET, ==, 0);
  job_run_result_clear (&r);
  g_assert_true (job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "class"), "10", NULL, NULL));
  g_assert_true (job_compute (job, job_find (job, JOB_RUN, id), JOB_OWN_METHOD, &r));
  g_assert_cmpuint (r.measure.notes & DUCT_NOTE_NOT_BY_SET, ==, DUCT_NOTE_NOT_BY_SET);
  job_run_result_clear (&r);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/choose/pin", test_pin);
  g_test_add_func ("/choose/plain-set", test_plain_set);
  g_test_add_func ("/choose/own-gauge", test_own_gauge);
  g_test_add_func ("/choose/wishes", test_wishes);
  g_test_add_func ("/choose/outlived", test_outlived);
  return g_test_run ();
}

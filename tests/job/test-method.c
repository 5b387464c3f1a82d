/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Methods over some runs, and choosing one for a job, a part and runs. The demo job is an invented demo. */
#include "exchange/runs-csv.h"
#include "job/job.h"

#include <string.h>

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

static JobTotals *
totals_of (TallyJob *job, const gint64 *ids, gsize n)
{
  JobTotals *totals = g_new0 (JobTotals, (gsize) job_basis (job)->n_methods + 1);

  job_totals_of_runs (job, ids, n, totals);
  return totals;
}

static void
totals_free (TallyJob *job, JobTotals *totals)
{
  for (int m = 0; m <= job_basis (job)->n_methods; m++)
    job_totals_clear (&totals[m]);
  g_free (totals);
}

static void
assert_totals (TallyJob *job, const JobTotals *a, const JobTotals *b)
{
  const CostBasis *basis = job_basis (job);

  g_assert_true (memcmp (a->vector, b->vector, sizeof (gint64) * (gsize) basis->n_vector) == 0);
  g_assert_cmpint (a->runs, ==, b->runs);
  g_assert_cmpint (a->not_priced, ==, b->not_priced);
  g_assert_true (memcmp (a->sums.items, b->sums.items, sizeof a->sums.items) == 0);
  g_assert_true (memcmp (a->sums.labour, b->sums.labour, sizeof a->sums.labour) == 0);
  g_assert_true (memcmp (a->sums.time, b->sums.time, sizeof a->sums.time) == 0);
  g_assert_true (memcmp (a->slot_time, b->slot_time, sizeof (NumWide) * (gsize) basis->n_slots) == 0);
}

/* Each run on its own, added up: the other way to the same figures. */
static void
add_one_by_one (TallyJob *job, const gint64 *ids, gsize n, int method, JobTotals *totals)
{
  const CostBasis *basis = job_basis (job);

  memset (totals, 0, sizeof *totals);
  totals->vector = g_new0 (gint64, (gsize) basis->n_vector);
  totals->slot_time = g_new0 (NumWide, (gsize) basis->n_slots);
  for (gsize i = 0; i < n; i++)
    {
      const JobRecord *run = job_find (job, JOB_RUN, ids[i]);
      LabourFactors factors;
      gint64 floor_ppm, times;
      JobRunResult r;
      job_run_conditions (job, run, &factors, &floor_ppm, &times);
      if (job_compute (job, run, method, &r))
        {
          totals->sums.slot_time = totals->slot_time;
          cost_sums_add (&totals->sums, basis, r.vector, &factors, floor_ppm, times);
          for (int k = 0; k < basis->n_vector; k++)
            totals->vector[k] += r.vector[k] * times;
          totals->runs++;
          totals->by_fallback += r.method >= 0 && r.method != r.asked;
        }
      else
        totals->not_priced++;
      job_run_result_clear (&r);
    }
}

static void
test_of_runs (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  Fault *fault = NULL;

  /* one run that is not priced, one area built three times */
  g_assert_true (job_edit_field (job, JOB_RUN, job_at (job, JOB_RUN, 4)->id, job_field_find (JOB_RUN, "size"), "0x4", &fault, NULL));
  g_clear_pointer (&fault, fault_free);
  g_assert_true (job_edit_field (job, JOB_AREA, job_at (job, JOB_AREA, 1)->id, job_field_find (JOB_AREA, "times"), "3", NULL, NULL));
  for (int round = 0; round < 20; round++)
    {
      g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
      for (guint i = 0; i < job_n (job, JOB_RUN); i++)
        if (round == 0 || g_rand_boolean (rand))
          g_array_append_val (ids, job_at (job, JOB_RUN, i)->id);
      JobTotals *totals = totals_of (job, (const gint64 *) (gconstpointer) ids->data, ids->len);
      for (int m = 0; m <= job_basis (job)->n_methods; m++)
        {
          int method = m < job_basis (job)->n_methods ? m : JOB_OWN_METHOD;
          JobTotals other;
          add_one_by_one (job, (const gint64 *) (gconstpointer) ids->data, ids->len, method, &other);
          assert_totals (job, &totals[m], &other);
          g_assert_cmpint (totals[m].by_fallback, ==, other.by_fallback);
          job_totals_clear (&other);
          if (round == 0)
            {
              JobScope all = { 0, 0 };
              job_totals (job, &all, method, &other);
              assert_totals (job, &totals[m], &other);
              g_assert_cmpint (totals[m].by_fallback, ==, other.by_fallback);
              g_assert_cmpint (totals[m].not_priced, ==, 1);
              job_totals_clear (&other);
            }
        }
      totals_free (job, totals);
    }
  g_assert_true (job_check_totals (job));
}

/* Strange ids, none, and the same twice. */
static void
test_of_strange_runs (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 id = job_at (job, JOB_RUN, 0)->id, ids[] = { id, -1, id, 0, G_MAXINT64 };
  JobTotals *one = totals_of (job, ids, 1), *many = totals_of (job, ids, 5), *none = totals_of (job, NULL, 0);

  for (int m = 0; m <= job_basis (job)->n_methods; m++)
    assert_totals (job, &one[m], &many[m]);
  g_assert_cmpint (one[0].runs, ==, 1);
  g_assert_cmpint (none[0].runs + none[0].not_priced, ==, 0);
  totals_free (job, one);
  totals_free (job, many);
  totals_free (job, none);
  g_assert_true (job_check_totals (job));
}

/* After the edit the scope's runs, each by its own method, give what that method gave before; every run outside keeps its own. */
static void
assert_used (TallyJob *job, JobScope scope, const char *key)
{
  int method = catalogue_find_method (job_basis (job)->catalogue, key);
  JobScope all = { 0, 0 };
  JobTotals wanted, own, whole, part, rest;

  g_assert_cmpint (job_method_exceptions (job, &scope, key), ==, 0);
  job_totals (job, &scope, method, &wanted);
  job_totals (job, &all, JOB_OWN_METHOD, &whole);
  job_totals (job, &scope, JOB_OWN_METHOD, &part);
  g_assert_true (job_apply (job, job_edit_method (job, &scope, key, "method"), NULL));
  job_totals (job, &scope, JOB_OWN_METHOD, &own);
  assert_totals (job, &own, &wanted);
  job_totals (job, &all, JOB_OWN_METHOD, &rest);
  for (int i = 0; i < job_basis (job)->n_vector; i++)
    g_assert_cmpint (rest.vector[i] - own.vector[i], ==, whole.vector[i] - part.vector[i]);
  job_totals_clear (&own);
  job_totals_clear (&wanted);
  job_totals_clear (&whole);
  job_totals_clear (&part);
  job_totals_clear (&rest);

  /* again: nothing to do */
  g_autoptr (JobEdit) again = job_edit_method (job, &scope, key, "method");
  g_assert_cmpuint (again->deltas->len, ==, 0);
}

static void
test_use (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 system = job_at (job, JOB_SYSTEM, 0)->id, area = job_at (job, JOB_AREA, 1)->id;
  gint64 first = job_at (job, JOB_RUN, 0)->id;
  JobScope all = { 0, 0 };
  JobTotals before, after;

  job_totals (job, &all, JOB_OWN_METHOD, &before);
  assert_used (job, all, "integral-bolted");
  assert_used (job, (JobScope) { system, 0 }, "slip-and-drive");
  assert_used (job, (JobScope) { system, area }, "slip-on-driven");
  assert_used (job, (JobScope) { 0, area }, "slip-on-bolted");
  /* what stands nearer is taken back */
  assert_used (job, (JobScope) { system, 0 }, "integral-bolted");
  assert_used (job, all, "slip-and-drive-driven");
  g_assert_true (job_edit_field (job, JOB_RUN, first, job_field_find (JOB_RUN, "system"), "", NULL, NULL));
  assert_used (job, (JobScope) { -1, 0 }, "slip-on-driven");
  /* a run's own line is an exception of the job's choice, and stays */
  g_assert_cmpint (job_method_exceptions (job, &all, "slip-on-bolted"), ==, 1);
  g_assert_cmpint (job_method_exceptions (job, &all, "slip-on-driven"), ==, 0);
  g_assert_true (job_apply (job, job_edit_method (job, &all, "slip-on-bolted", "method"), NULL));
  g_assert_cmpstr (job_find (job, JOB_RUN, first)->text[RUN_METHOD], ==, "slip-on-driven");
  g_assert_true (job_check_totals (job));
  while (job_undo_label (job))
    g_assert_true (job_undo (job, NULL));
  job_totals (job, &all, JOB_OWN_METHOD, &after);
  assert_totals (job, &before, &after);
  job_totals_clear (&before);
  job_totals_clear (&after);
}

static void
test_use_for_runs (void)
{
  g_autoptr (TallyJob) job = demo ();
  gint64 ids[6];
  int method = catalogue_find_method (job_basis (job)->catalogue, "slip-on-driven");
  Fault *fault = NULL;

  for (int i = 0; i < 5; i++)
    ids[i] = job_at (job, JOB_RUN, (guint) i * 7)->id;
  ids[5] = 999999;
  /* text that is no method is replaced too */
  g_assert_true (job_edit_field (job, JOB_RUN, ids[1], job_field_find (JOB_RUN, "method"), "none such", &fault, NULL));
  g_clear_pointer (&fault, fault_free);
  JobTotals *before = totals_of (job, ids, 6);
  g_assert_true (job_apply (job, job_edit_method_of_runs (job, ids, 6, "slip-on-driven", "method"), NULL));
  JobTotals *after = totals_of (job, ids, 6);
  g_assert_cmpint (after[job_basis (job)->n_methods].not_priced, ==, 0);
  g_assert_cmpint (after[job_basis (job)->n_methods].runs, ==, 5);
  assert_totals (job, &after[job_basis (job)->n_methods], &after[method]);
  totals_free (job, before);
  totals_free (job, after);
  g_assert_true (job_check_totals (job));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/method/of-runs", test_of_runs);
  g_test_add_func ("/job/method/of-strange-runs", test_of_strange_runs);
  g_test_add_func ("/job/method/use", test_use);
  g_test_add_func ("/job/method/use-for-runs", test_use_for_runs);
  return g_test_run ();
}

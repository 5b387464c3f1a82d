/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long measuring and choosing the construction of a large job take, each as a ratio to recomputing all of its totals in the same
 * run: the machine is noisy, ratios count and not seconds. */
#include "bench/bench.h"
#include "job/choose.h"

#include <stdio.h>

static gint64 sink; /* keeps the work from being thrown away */

/* Every run measured by its own method: shape, build and measure, no money. */
static void
measure_all (TallyJob *job)
{
  const CostBasis *basis = job_basis (job);

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      JobRunResult r;
      if (job_compute (job, job_at (job, JOB_RUN, i), JOB_OWN_METHOD, &r))
        sink += r.vector[cost_measure_slot (basis, COST_NET_MG)];
      job_run_result_clear (&r);
    }
}

static void
choose_all (TallyJob *job)
{
  JobScope all = { 0, 0 };
  JobEdit *edit = job_edit_cheapest (job, &all, "cheapest", NULL);

  sink += edit->deltas->len;
  job_edit_free (edit);
}

static void
edit_and_choose (TallyJob *job, guint i)
{
  gint64 id = job_at (job, JOB_RUN, (i * 7919) % job_n (job, JOB_RUN))->id;

  job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "size"), i % 2 ? "56x18" : "48x20", NULL, NULL);
  JobEdit *edit = job_edit_cheapest_of_runs (job, &id, 1, "cheapest", NULL);
  if (edit->deltas->len > 0)
    job_apply (job, edit, NULL);
  else
    job_edit_free (edit);
}

#define EDITS 200

/* Many runs in turn, of every kind and size. */
static void
edit_many (TallyJob *job)
{
  for (guint i = 0; i < EDITS; i++)
    edit_and_choose (job, i);
}

/* @argv: number of runs, 100000 unless given. */
int
main (int argc, char **argv)
{
  guint rows = argc > 1 ? (guint) g_ascii_strtoull (argv[1], NULL, 10) : 100000;
  static const char *const sets[] = { "demo", "demo-complete" };
  JobScope all = { 0, 0 };

  for (gsize s = 0; s < G_N_ELEMENTS (sets); s++)
    {
      g_autoptr (TallyJob) job = bench_job (rows, TRUE);
      job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "rule_set"), sets[s], NULL, NULL);
      double whole = bench_best (2, job_recompute (job)), measured = bench_best (2, measure_all (job));
      double chosen = bench_best (1, choose_all (job));
      printf ("%-13s recompute, all totals,     %7u rows  %10.3f ms   ratio %8.4f\n", sets[s], rows, whole * 1e3, 1.0);
      printf ("%-13s measure and price each,    %7u rows  %10.3f ms   ratio %8.4f\n", sets[s], rows, measured * 1e3, measured / whole);
      printf ("%-13s choose all constructions,  %7u rows  %10.3f ms   ratio %8.4f\n", sets[s], rows, chosen * 1e3, chosen / whole);
      job_apply (job, job_edit_cheapest (job, &all, "cheapest", NULL), NULL);
      double pinned = bench_best (2, job_recompute (job)), one = bench_best (2, edit_many (job)) / EDITS;
      printf ("%-13s recompute with pins,       %7u rows  %10.3f ms   ratio %8.4f\n", sets[s], rows, pinned * 1e3, pinned / whole);
      printf ("%-13s one edit, chosen anew,     %7u rows  %10.3f ms   ratio %8.4f\n", sets[s], rows, one * 1e3, one / whole);
    }
  return sink == 1;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Four methods beside each other on many runs: the comparison, and what is broken out of it, against one recompute of the totals that it
 * reads. The machine is noisy: ratios count, not seconds. */
#include "bench/bench.h"
#include "job/compare.h"
#include "job/heat.h"
#include "job/sensitivity.h"

#include <stdio.h>

static gint64 sink;

static const JobWay ways[] = { { "slip-on-bolted", NULL }, { "slip-on-driven", NULL }, { "integral-bolted", NULL },
                               { "slip-and-drive", NULL } };

static void
one_comparison (TallyJob *job)
{
  g_autoptr (JobComparison) c = job_compare (job, ways, G_N_ELEMENTS (ways), 0, NULL);

  sink += job_comparison_way (c, job_comparison_best (c))->whole;
}

static void
one_break_out (const JobComparison *c, JobBy by)
{
  g_autoptr (JobBreakout) b = job_break_out (c, by);

  sink += job_breakout_at (b, 0, 0)->cost;
}

static void
one_heat (TallyJob *job)
{
  g_autoptr (JobHeat) heat = job_heat (job, FALSE, NULL);

  sink += heat->cell[0].winner;
}

static void
one_sensitivity (const JobComparison *c)
{
  g_autoptr (GPtrArray) drives = job_sensitivity (c, 0, 1);

  sink += drives->len;
}

static void
one_size (guint rows, gboolean distinct)
{
  g_autoptr (TallyJob) job = bench_job (rows, distinct);
  double whole = bench_best (3, job_recompute (job)), once = bench_best (20, one_comparison (job)), heat = bench_best (3, one_heat (job));
  g_autoptr (JobComparison) c = job_compare (job, ways, G_N_ELEMENTS (ways), 0, NULL);
  const char *what = distinct ? "all distinct," : "few pieces,";

  printf ("compare four methods, %-13s %7u rows  %9.3f ms   recompute %9.3f ms   ratio %6.4f\n", what, rows, once * 1e3, whole * 1e3,
          once / whole);
  for (int by = 0; by < JOB_N_BY; by++)
    {
      double parts = bench_best (3, one_break_out (c, (JobBy) by));
      printf ("broken out by %-6s  %-13s %7u rows  %9.3f ms   recompute %9.3f ms   ratio %6.4f\n", job_by_keys[by], what, rows, parts * 1e3,
              whole * 1e3, parts / whole);
    }
  double drives = bench_best (1, one_sensitivity (c));
  printf ("what would change it, %-13s %7u rows  %9.3f ms   recompute %9.3f ms   ratio %6.4f\n", what, rows, drives * 1e3, whole * 1e3,
          drives / whole);
  printf ("winner by size, class %-13s %7u rows  %9.3f ms   recompute %9.3f ms   ratio %6.4f\n", what, rows, heat * 1e3, whole * 1e3,
          heat / whole);
}

int
main (void)
{
  one_size (10000, TRUE);
  one_size (100000, FALSE);
  one_size (100000, TRUE);
  return sink == 1;
}

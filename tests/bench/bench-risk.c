/* SPDX-License-Identifier: GPL-3.0-or-later */
/* 100,000 trials of 40 steps by four methods against bare sampling of as many draws: uniform numbers of the same
 * generator, and betas by the library's rejection. Ratios count and not seconds. */
#include "bench/bench.h"
#include "cost/risk.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <stdio.h>

#define TRIALS 100000
#define STEPS 40

static double sink; /* keeps the work from being thrown away */

static void
bare (gboolean beta)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  double sum = 0;

  gsl_rng_set (rng, 1);
  for (int i = 0; i < TRIALS * STEPS; i++)
    sum += beta ? gsl_ran_beta (rng, 2.3, 3.7) : gsl_rng_uniform (rng);
  sink += sum;
  gsl_rng_free (rng);
}

/* Forty steps of forty shapes under one common factor; cost and hours of @ways. */
static RiskProblem *
problem_new (int ways)
{
  RiskProblem *p = risk_problem_new ();
  const Spread crew = { SPREAD_PERT, 0.88, 1, 1.2 };
  int factor = risk_problem_add_input (p, "crew", &crew, NULL);

  for (int w = 0; w < 2 * ways; w++)
    risk_problem_add_response (p, w % 2 ? "hours" : "cost", 1000);
  for (int i = 0; i < STEPS; i++)
    {
      g_autofree char *name = g_strdup_printf ("step %d", i);
      const Spread s = { SPREAD_PERT, 10, 12 + 0.2 * i, 24 };
      int input = risk_problem_add_input (p, name, &s, NULL);
      for (int r = 0; r < 2 * ways; r++)
        {
          RiskTerm term;
          risk_term_init (&term, p, input, r % 2 ? 1 : 92 + r);
          term.common[0] = factor;
          risk_problem_add_term (p, r, &term);
        }
    }
  return p;
}

static void
simulate (const RiskProblem *p)
{
  RiskRun run = { TRIALS, 1, NULL, NULL };
  g_autoptr (RiskResult) result = risk_run (p, &run, NULL);

  sink += risk_sample_quantile (risk_result_sample (result, 0), 0.8).value;
}

static void
print (const char *what, double seconds, double uniform, double beta)
{
  printf ("%-46s %9.3f ms   ratio to uniform %7.3f, to beta %7.3f\n", what, seconds * 1e3, seconds / uniform,
          seconds / beta);
}

int
main (void)
{
  double uniform = bench_best (5, bare (FALSE)), beta = bench_best (3, bare (TRUE));
  g_autoptr (RiskProblem) one = problem_new (1), four = problem_new (4);

  print ("bare uniform numbers, 100,000 x 40", uniform, uniform, beta);
  print ("bare betas, 100,000 x 40", beta, uniform, beta);
  print ("risk, 1 method, tables and sorting included", bench_best (3, simulate (one)), uniform, beta);
  print ("risk, 4 methods, tables and sorting included", bench_best (3, simulate (four)), uniform, beta);
  return sink == 1;
}

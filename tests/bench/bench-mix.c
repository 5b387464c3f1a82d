/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The mix of a large job: grouping and pricing it, and the whole answer (best, next best, one more hour, least hours, single methods),
 * each as a ratio to recomputing all totals of the job in the same run. Then problems in which every run is a group of its own, against
 * a plain model of the same in GLPK. All data invented. */
#include "bench/bench.h"
#include "job/mix.h"
#include "job/setting.h"

#include <glpk.h>
#include <math.h>
#include <stdio.h>

static void
set (TallyJob *job, const char *key, double value)
{
  JobEdit *edit = job_edit_new (key);
  g_autofree char *text = g_strdup_printf ("%.1f", value);

  job_edit_setting (job, edit, key, text);
  job_apply (job, edit, NULL);
}

static void
job_of (guint rows)
{
  g_autoptr (TallyJob) job = bench_job (rows, TRUE);
  g_autoptr (JobMix) first = job_mix_new (job, NULL);
  g_autoptr (CostMixReport) whole = cost_mix_report_new (first->mix, NULL, NULL);
  /* A limit halfway between the least hours and those of the cheapest mix, and two methods at most. */
  const CostMixPlan *free = whole->best->plan->pdata[0];
  set (job, "mix.hours", (double) (whole->least_hours + free->hours) / 2 / (double) COST_MIX_HOUR + 1);
  set (job, "mix.methods", 3);
  double yard = bench_best (3, job_recompute (job));
  double built = bench_best (3, job_mix_free (job_mix_new (job, NULL)));
  g_autoptr (JobMix) mix = job_mix_new (job, NULL);
  g_autoptr (CostMixReport) report = NULL;
  double answered = bench_best (2, {
    g_clear_pointer (&report, cost_mix_report_free);
    report = cost_mix_report_new (mix->mix, NULL, NULL);
  });

  printf ("%5u runs  recompute, all totals         %10.3f ms   ratio %8.4f\n", rows, yard * 1e3, 1.0);
  printf ("%5u runs  group and price              %10.3f ms   ratio %8.4f   %u groups, %u boundaries\n", rows,
          built * 1e3, built / yard, mix->mix->n_groups, mix->mix->boundary->len);
  if (report)
    printf ("%5u runs  answer with all beside it    %10.3f ms   ratio %8.4f   gap %.4f\n", rows, answered * 1e3,
            answered / yard,
            (double) (((CostMixPlan *) report->best->plan->pdata[0])->cost - report->best->bound) / 1e4);
}

/* Groups of like sizes: dearer hardware saves minutes. */
static CostMix *
problem_of (guint n, guint m, gboolean joints)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (n);
  CostMix *mix = cost_mix_new (n, m);
  double hours = 0;

  for (guint g = 0; g < n; g++)
    {
      double size = g_rand_double_range (rand, 1, 10), count = g_rand_double_range (rand, 0.2, 2);
      for (guint k = 0; k < m; k++)
        {
          gsize at = (gsize) g * m + k;
          double h = count * (3 + (1 - 0.1 * k) * size * g_rand_double_range (rand, 0.9, 1.1)) / 10;
          mix->hours[at] = llround (h * (double) COST_MIX_HOUR);
          mix->cost[at] =
              llround ((h * 92 + count * (1 + 0.12 * k) * size * 10 * g_rand_double_range (rand, 0.97, 1.03)) * 1e4);
          hours += h;
        }
    }
  for (guint k = 0; k < m; k++)
    mix->setup[k] = k % 2 ? 19000000 : 0;
  for (guint g = 1; joints && g < n; g++)
    cost_mix_add_boundary (mix, g - 1, g, g_rand_int_range (rand, 0, 3), NULL);
  mix->boundary_cost = 300000;
  mix->boundary_hours = 1200000;
  mix->most_hours = llround (hours / m * 0.98 * (double) COST_MIX_HOUR);
  mix->most_methods = 3;
  return mix;
}

/* min cx + Sy, shares of a group add up to 1, sum over groups of x <= n y, hours, number of methods: the model as one would write it. */
static double
by_glpk (const CostMix *mix, double limit, gboolean *proven)
{
  int n = (int) mix->n_groups, m = (int) mix->n_methods;
  glp_prob *lp = glp_create_prob ();
  glp_iocp how;

  glp_add_rows (lp, n + m + 2);
  glp_add_cols (lp, n * m + m);
  for (int g = 1; g <= n; g++)
    glp_set_row_bnds (lp, g, GLP_FX, 1, 1);
  for (int k = 1; k <= m; k++)
    glp_set_row_bnds (lp, n + k, GLP_UP, 0, 0);
  glp_set_row_bnds (lp, n + m + 1, GLP_UP, 0, (double) mix->most_hours / (double) COST_MIX_HOUR);
  glp_set_row_bnds (lp, n + m + 2, GLP_UP, 0, mix->most_methods);
  for (int i = 0; i < n * m; i++)
    {
      int row[] = { 0, i / m + 1, n + i % m + 1, n + m + 1 };
      double value[] = { 0, 1, 1, (double) mix->hours[i] / (double) COST_MIX_HOUR };
      glp_set_col_kind (lp, i + 1, GLP_BV);
      glp_set_obj_coef (lp, i + 1, (double) mix->cost[i] / 1e4);
      glp_set_mat_col (lp, i + 1, 3, row, value);
    }
  for (int k = 0; k < m; k++)
    {
      int row[] = { 0, n + k + 1, n + m + 2 };
      double value[] = { 0, -n, 1 };
      glp_set_col_kind (lp, n * m + k + 1, GLP_BV);
      glp_set_obj_coef (lp, n * m + k + 1, (double) mix->setup[k] / 1e4);
      glp_set_mat_col (lp, n * m + k + 1, 2, row, value);
    }
  glp_init_iocp (&how);
  how.presolve = GLP_ON;
  how.msg_lev = GLP_MSG_OFF;
  how.tm_lim = (int) (limit * 1000);
  gint64 from = g_get_monotonic_time ();
  *proven = glp_intopt (lp, &how) == 0 && glp_mip_status (lp) == GLP_OPT;
  double seconds = (double) (g_get_monotonic_time () - from) / 1e6;
  glp_delete_prob (lp);
  return seconds;
}

static void
groups_of (guint n)
{
  g_autoptr (CostMix) alone = problem_of (n, 4, FALSE), joined = problem_of (n, 4, TRUE);
  gboolean proven;
  gint64 sum = 0;
  double read = bench_best (5, for (gsize i = 0; i < (gsize) n * 4; i++) sum += alone->cost[i] + alone->hours[i]);
  double glpk = by_glpk (alone, 20, &proven);
  const CostMix *mixes[] = { alone, joined };

  printf ("%5u groups  read every figure once     %10.3f ms (%d)\n", n, read * 1e3, (int) (sum % 10));
  printf ("%5u groups  plain model in GLPK        %10.3f ms   ratio %8.4f   %s\n", n, glpk * 1e3, 1.0,
          proven ? "solved" : "given up after 20 s");
  for (int i = 0; i < 2; i++)
    {
      CostMixHow how = { .wanted = 2, .seconds = 20 };
      g_autoptr (CostMixResult) result = NULL;
      double ours = bench_best (1, result = cost_mix_solve (mixes[i], &how));
      printf ("%5u groups  mix, best and next%s %10.3f ms   ratio %8.4f   gap %.4f\n", n, i ? ", joints" : "        ",
              ours * 1e3, ours / glpk,
              result->plan->len > 0 ? (double) (((CostMixPlan *) result->plan->pdata[0])->cost - result->bound) / 1e4
                                    : -1);
    }
}

int
main (void)
{
  glp_term_out (GLP_OFF);
  job_of (500);
  job_of (5000);
  groups_of (500);
  groups_of (5000);
  return 0;
}

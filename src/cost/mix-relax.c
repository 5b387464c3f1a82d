/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

#include <glpk.h>
#include <math.h>

#define MOST_PAIRS 2000

/* Rows: one a group (its shares add up to one), one a pair (x - y <= 0), hours, number of methods. */
static void
load (glp_prob *lp, const CostMix *mix)
{
  guint n = mix->n_groups, m = mix->n_methods;
  int pairs = (int) (n * m), hours = (int) n + pairs + 1, methods = hours + 1;

  glp_add_rows (lp, methods);
  glp_add_cols (lp, pairs + (int) m);
  for (guint g = 0; g < n; g++)
    glp_set_row_bnds (lp, (int) g + 1, GLP_FX, 1, 1);
  for (int i = 0; i < pairs; i++)
    glp_set_row_bnds (lp, (int) n + 1 + i, GLP_UP, 0, 0);
  glp_set_row_bnds (lp, hours, GLP_UP, 0, (double) (mix->most_hours - mix->rest_hours) / (double) COST_MIX_HOUR);
  glp_set_row_bnds (lp, methods, mix->most_methods > 0 ? GLP_UP : GLP_FR, 0, mix->most_methods);
  for (int i = 0; i < pairs; i++)
    {
      double hour = (double) mix->hours[i] / (double) COST_MIX_HOUR;
      int row[] = { 0, i / (int) m + 1, (int) n + 1 + i, hours };
      double value[] = { 0, 1, 1, hour };
      gboolean allowed = mix->cost[i] != COST_MIX_NONE;
      glp_set_col_bnds (lp, i + 1, allowed ? GLP_DB : GLP_FX, 0, allowed ? 1 : 0);
      glp_set_obj_coef (lp, i + 1, allowed ? (double) mix->cost[i] / COST_MIX_MONEY : 0);
      glp_set_mat_col (lp, i + 1, 3, row, value);
    }
  for (guint k = 0; k < m; k++)
    {
      g_autofree int *row = g_new (int, n + 2);
      g_autofree double *value = g_new (double, n + 2);
      for (guint g = 0; g < n; g++)
        {
          row[g + 1] = (int) (n + 1 + g * m + k);
          value[g + 1] = -1;
        }
      row[n + 1] = methods;
      value[n + 1] = 1;
      glp_set_col_bnds (lp, pairs + (int) k + 1, GLP_DB, 0, 1);
      glp_set_obj_coef (lp, pairs + (int) k + 1, (mix->maximise ? -1 : 1) * (double) mix->setup[k] / COST_MIX_MONEY);
      glp_set_mat_col (lp, pairs + (int) k + 1, (int) n + 1, row, value);
    }
}

gboolean
cost_mix_relax (const CostMix *mix, double *value, double *hour)
{
  gsize pairs = (gsize) mix->n_groups * mix->n_methods;
  glp_prob *lp;
  glp_smcp how;
  gboolean solved;

  if (mix->most_hours == COST_MIX_NONE || pairs > MOST_PAIRS)
    return FALSE;
  lp = glp_create_prob ();
  glp_set_obj_dir (lp, mix->maximise ? GLP_MAX : GLP_MIN);
  load (lp, mix);
  glp_init_smcp (&how);
  how.msg_lev = GLP_MSG_OFF;
  how.tm_lim = 500;
  solved = glp_simplex (lp, &how) == 0 && glp_get_status (lp) == GLP_OPT;
  if (solved)
    {
      *value = glp_get_obj_val (lp) * COST_MIX_MONEY;
      *hour = glp_get_row_dual (lp, (int) (mix->n_groups + pairs) + 1) * COST_MIX_MONEY;
    }
  glp_delete_prob (lp);
  return solved;
}

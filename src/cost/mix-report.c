/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

#include "base/decimal.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A part of the whole answer: how far all of it has come, and what is left of the time. */
typedef struct
{
  const CostMixHow *how;
  gint64 started;
  double from, to;
  gboolean stopped;
} Stage;

static gboolean
stage_progress (gpointer data, double share, const CostMixPlan *best)
{
  Stage *stage = data;

  stage->stopped =
      stage->stopped || !stage->how->progress (stage->how->data, stage->from + (stage->to - stage->from) * share, best);
  return !stage->stopped;
}

static CostMixResult *
solve_part (const CostMix *mix, Stage *stage, guint wanted, double to)
{
  CostMixHow how = { wanted, 0, stage->how->progress ? stage_progress : NULL, stage };
  CostMixResult *out;

  if (stage->how->seconds > 0)
    how.seconds = MAX (stage->how->seconds - (double) (g_get_monotonic_time () - stage->started) / 1e6, 0.001);
  stage->from = stage->to;
  stage->to = to;
  out = cost_mix_solve (mix, &how);
  stage->stopped = stage->stopped || out->stopped;
  return out;
}

/* The best of another problem, NULL when there is none; nothing is looked for once it was stopped. */
static CostMixPlan *
best_of (const CostMix *mix, Stage *stage, double to)
{
  if (stage->stopped)
    return NULL;
  g_autoptr (CostMixResult) result = solve_part (mix, stage, 1, to);
  if (result->plan->len == 0 || !result->proven)
    return NULL;
  return g_ptr_array_steal_index (result->plan, 0);
}

/* The fewest hours: the same problem with hours for money. */
static gint64
least_hours (const CostMix *mix, Stage *stage, double to)
{
  g_autoptr (CostMix) other = cost_mix_copy (mix);

  other->most_hours = COST_MIX_NONE;
  other->maximise = FALSE;
  other->boundary_cost = mix->boundary_hours;
  for (gsize i = 0; i < (gsize) mix->n_groups * mix->n_methods; i++)
    if (other->cost[i] != COST_MIX_NONE)
      other->cost[i] = mix->hours[i];
  for (guint m = 0; m < mix->n_methods; m++)
    other->setup[m] = 0;
  g_autoptr (CostMixPlan) plan = best_of (other, stage, to);
  return plan ? plan->hours : COST_MIX_NONE;
}

/* The fewest methods that do. */
static guint
least_methods (const CostMix *mix, Stage *stage, double to)
{
  g_autoptr (CostMix) other = cost_mix_copy (mix);

  other->most_methods = 0;
  other->most_hours = COST_MIX_NONE;
  other->maximise = FALSE;
  other->boundary_cost = 0;
  for (gsize i = 0; i < (gsize) mix->n_groups * mix->n_methods; i++)
    if (other->cost[i] != COST_MIX_NONE)
      other->cost[i] = 0;
  for (guint m = 0; m < mix->n_methods; m++)
    {
      other->setup[m] = 1;
      other->tool[m] = -1;
    }
  g_autoptr (CostMixPlan) plan = best_of (other, stage, to);
  return plan ? plan->methods : 0;
}

static char *
hours_words (gint64 ms)
{
  /* As fine as a limit can be written, rounded up, so that the limit named can be kept. */
  gint64 unit = COST_MIX_HOUR / 10000;

  return decimal_print ((ms + unit - 1) / unit, 4, 0, TRUE);
}

/* Nothing keeps the limits: says which, and the nearest that can be kept. */
static void
tell_infeasible (const CostMix *mix, Stage *stage, Fault **fault)
{
  gint64 least = least_hours (mix, stage, 0.7);
  guint methods;

  if (least != COST_MIX_NONE)
    {
      g_autofree char *limit = decimal_print (num_div (mix->most_hours, 360), 4, 0, TRUE),
                      *nearest = hours_words (least);
      g_autofree char *remedy = g_strdup_printf (_ ("allow %s hours, or more methods"), nearest);
      if (mix->most_methods > 0)
        fault_set (fault,
                   fault_new (-1, remedy, _ ("no mix of at most %u methods keeps within %s hours; the least is %s"),
                              mix->most_methods, limit, nearest));
      else
        {
          g_autofree char *allow = g_strdup_printf (_ ("allow %s hours"), nearest);
          fault_set (fault, fault_new (-1, allow, _ ("no mix keeps within %s hours; the least is %s"), limit, nearest));
        }
      return;
    }
  if (stage->stopped)
    {
      fault_set (fault,
                 fault_new (-1, _ ("let it run longer"), _ ("stopped before any mix within the limits was found")));
      return;
    }
  methods = least_methods (mix, stage, 1);
  if (methods > mix->most_methods && mix->most_methods > 0)
    {
      g_autofree char *remedy = g_strdup_printf (_ ("allow %u methods, or more methods on a group"), methods);
      fault_set (fault, fault_new (-1, remedy, _ ("no %u methods serve every group; the least is %u"),
                                   mix->most_methods, methods));
    }
  else
    fault_set (fault, fault_new (-1, _ ("raise a capacity, or allow more methods on a group"),
                                 _ ("the capacities do not hold all groups")));
}

CostMixReport *
cost_mix_report_new (const CostMix *mix, const CostMixHow *how, Fault **fault)
{
  static const CostMixHow plain;
  Stage stage = { .how = how ? how : &plain, .started = g_get_monotonic_time () };
  gboolean limited = mix->most_hours != COST_MIX_NONE;
  CostMixReport *out;

  if (!cost_mix_check (mix, fault))
    return NULL;
  CostMixResult *best = solve_part (mix, &stage, stage.how->wanted, limited ? 0.4 : 0.8);
  if (best->plan->len == 0)
    {
      tell_infeasible (mix, &stage, fault);
      cost_mix_result_free (best);
      return NULL;
    }
  out = g_new0 (CostMixReport, 1);
  out->best = best;
  out->relaxed = out->hour_relaxed = NAN;
  out->least_hours = COST_MIX_NONE;
  g_autoptr (CostMix) other = cost_mix_copy (mix);
  if (limited)
    {
      other->most_hours = mix->most_hours + COST_MIX_HOUR;
      out->more = best_of (other, &stage, 0.7);
      if (out->more && best->proven)
        out->hour_saves = ABS (out->more->cost - ((CostMixPlan *) g_ptr_array_index (best->plan, 0))->cost);
      other->most_hours = COST_MIX_NONE;
      out->free = best_of (other, &stage, 0.8);
      cost_mix_relax (mix, &out->relaxed, &out->hour_relaxed);
    }
  if (!stage.stopped)
    out->least_hours = least_hours (mix, &stage, 0.9);
  other->most_methods = 1;
  other->most_hours = mix->most_hours;
  out->one = best_of (other, &stage, 0.95);
  other->most_hours = COST_MIX_NONE;
  out->one_free = best_of (other, &stage, 1);
  out->stopped = stage.stopped;
  return out;
}

void
cost_mix_report_free (CostMixReport *report)
{
  cost_mix_result_free (report->best);
  g_clear_pointer (&report->more, cost_mix_plan_free);
  g_clear_pointer (&report->free, cost_mix_plan_free);
  g_clear_pointer (&report->one, cost_mix_plan_free);
  g_clear_pointer (&report->one_free, cost_mix_plan_free);
  g_free (report);
}

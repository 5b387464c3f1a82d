/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
boundary_clear (gpointer data)
{
  g_free (((CostMixBoundary *) data)->unmated);
}

CostMix *
cost_mix_new (guint n_groups, guint n_methods)
{
  CostMix *mix = g_new0 (CostMix, 1);
  gsize pairs = (gsize) n_groups * n_methods;

  mix->n_groups = n_groups;
  mix->n_methods = n_methods;
  mix->group = g_new0 (char *, (gsize) n_groups + 1);
  mix->method = g_new0 (char *, (gsize) n_methods + 1);
  mix->cost = g_new (gint64, MAX (pairs, 1));
  mix->hours = g_new0 (gint64, MAX (pairs, 1));
  mix->use = g_new0 (gint64, MAX (pairs, 1));
  mix->setup = g_new0 (gint64, (gsize) n_methods + 1);
  mix->tool = g_new (int, (gsize) n_methods + 1);
  mix->connection = g_new (int, (gsize) n_methods + 1);
  mix->capacity = g_new (gint64, (gsize) n_methods + 1);
  mix->boundary = g_array_new (FALSE, TRUE, sizeof (CostMixBoundary));
  g_array_set_clear_func (mix->boundary, boundary_clear);
  mix->most_hours = COST_MIX_NONE;
  for (gsize i = 0; i < pairs; i++)
    mix->cost[i] = COST_MIX_NONE;
  for (guint g = 0; g < n_groups; g++)
    mix->group[g] = g_strdup ("");
  for (guint m = 0; m < n_methods; m++)
    {
      mix->method[m] = g_strdup ("");
      mix->tool[m] = -1;
      mix->connection[m] = (int) m;
      mix->capacity[m] = COST_MIX_NONE;
    }
  return mix;
}

CostMix *
cost_mix_copy (const CostMix *from)
{
  CostMix *mix = cost_mix_new (from->n_groups, from->n_methods);
  gsize pairs = sizeof (gint64) * from->n_groups * from->n_methods;

  for (guint g = 0; g < from->n_groups; g++)
    cost_mix_set_group (mix, g, from->group[g]);
  for (guint m = 0; m < from->n_methods; m++)
    cost_mix_set_method (mix, m, from->method[m]);
  memcpy (mix->cost, from->cost, pairs);
  memcpy (mix->hours, from->hours, pairs);
  memcpy (mix->use, from->use, pairs);
  if (from->same)
    mix->same = g_memdup2 (from->same, sizeof (int) * from->n_groups * from->n_methods);
  memcpy (mix->setup, from->setup, sizeof (gint64) * from->n_methods);
  memcpy (mix->tool, from->tool, sizeof (int) * from->n_methods);
  memcpy (mix->connection, from->connection, sizeof (int) * from->n_methods);
  memcpy (mix->capacity, from->capacity, sizeof (gint64) * from->n_methods);
  for (guint i = 0; i < from->boundary->len; i++)
    {
      const CostMixBoundary *b = &g_array_index (from->boundary, CostMixBoundary, i);
      gsize bytes = sizeof (gint64) * from->n_methods * from->n_methods;
      cost_mix_add_boundary (mix, b->a, b->b, b->joints, b->unmated ? g_memdup2 (b->unmated, bytes) : NULL);
    }
  mix->boundary_cost = from->boundary_cost;
  mix->boundary_hours = from->boundary_hours;
  mix->most_hours = from->most_hours;
  mix->rest_hours = from->rest_hours;
  mix->most_methods = from->most_methods;
  mix->maximise = from->maximise;
  return mix;
}

void
cost_mix_free (CostMix *mix)
{
  g_strfreev (mix->group);
  g_strfreev (mix->method);
  g_free (mix->cost);
  g_free (mix->hours);
  g_free (mix->same);
  g_free (mix->use);
  g_free (mix->setup);
  g_free (mix->tool);
  g_free (mix->connection);
  g_free (mix->capacity);
  g_array_unref (mix->boundary);
  g_free (mix);
}

void
cost_mix_set_group (CostMix *mix, guint group, const char *name)
{
  g_free (mix->group[group]);
  mix->group[group] = g_strdup (name);
}

void
cost_mix_set_method (CostMix *mix, guint method, const char *name)
{
  g_free (mix->method[method]);
  mix->method[method] = g_strdup (name);
}

void
cost_mix_add_boundary (CostMix *mix, guint a, guint b, gint64 joints, gint64 *unmated)
{
  CostMixBoundary boundary = { a, b, joints, unmated };

  if (a == b)
    g_free (unmated);
  else
    g_array_append_val (mix->boundary, boundary);
}

/* ---- bounds of figures ---- */

/* Sums of figures up to this stay whole when weighted. */
#define MOST_SUM (G_GINT64_CONSTANT (1) << 55)

static gboolean
check_group (const CostMix *mix, guint g, gint64 *cost, gint64 *hours, Fault **fault)
{
  gboolean any = FALSE;
  gint64 most_cost = 0, most_hours = 0;

  for (guint m = 0; m < mix->n_methods; m++)
    {
      gsize at = (gsize) g * mix->n_methods + m;
      if (mix->cost[at] == COST_MIX_NONE)
        continue;
      any = TRUE;
      if (mix->cost[at] > MOST_SUM || mix->cost[at] < -MOST_SUM || mix->hours[at] > MOST_SUM || mix->use[at] > MOST_SUM)
        return fault_set (fault, fault_new (-1, _ ("check the row"), _ ("a figure of group “%s” is too large"),
                                            mix->group[g]));
      if (mix->hours[at] < 0 || mix->use[at] < 0)
        return fault_set (fault,
                          fault_new (-1, _ ("enter 0 or more"), _ ("hours or use of group “%s” under “%s” are below 0"),
                                     mix->group[g], mix->method[m]));
      most_cost = MAX (most_cost, ABS (mix->cost[at]));
      most_hours = MAX (most_hours, mix->hours[at]);
    }
  *cost += most_cost;
  *hours += most_hours;
  if (!any)
    return fault_set (fault, fault_new (-1, _ ("allow at least one method there"),
                                        _ ("no method is allowed on group “%s”"), mix->group[g]));
  if (*cost > MOST_SUM || *hours > MOST_SUM)
    return fault_set (fault, fault_new (-1, _ ("check the figures, or split the job"),
                                        _ ("all groups together are too large")));
  return TRUE;
}

gboolean
cost_mix_check (const CostMix *mix, Fault **fault)
{
  gint64 cost = 0, hours = 0;

  if (mix->n_groups == 0 || mix->n_methods == 0)
    return fault_set (fault,
                      fault_new (-1, _ ("enter at least one group and one method"), _ ("there is nothing to choose")));
  if (mix->n_groups > COST_MIX_MOST_GROUPS || mix->n_methods > COST_MIX_MOST_METHODS)
    return fault_set (fault, fault_new (-1, _ ("join groups that are alike, or leave methods out"),
                                        _ ("%u groups and %u methods are too many; %d and %d can be solved"),
                                        mix->n_groups, mix->n_methods, COST_MIX_MOST_GROUPS, COST_MIX_MOST_METHODS));
  for (guint m = 0; m < mix->n_methods; m++)
    if (mix->setup[m] < 0 || mix->setup[m] > MOST_SUM || mix->capacity[m] < 0)
      return fault_set (fault, fault_new (-1, _ ("enter 0 or more"), _ ("the set-up or capacity of “%s” is below 0"),
                                          mix->method[m]));
  for (guint m = 0; mix->same && m < mix->n_methods; m++)
    if (mix->capacity[m] != COST_MIX_NONE)
      return fault_set (
          fault, fault_new (-1, _ ("leave one of the two out"),
                            _ ("capacities and methods that are the same thing on a group cannot be told apart")));
  if (mix->boundary_cost < 0 || mix->boundary_hours < 0 || mix->rest_hours < 0 || mix->rest_hours > MOST_SUM)
    return fault_set (
        fault,
        fault_new (
            -1, _ ("enter 0 or more"),
            _ ("what a joint between two connections costs, or hours beside the groups, are below 0 or too large")));
  for (guint g = 0; g < mix->n_groups; g++)
    if (!check_group (mix, g, &cost, &hours, fault))
      return FALSE;
  for (guint i = 0; i < mix->boundary->len; i++)
    {
      const CostMixBoundary *b = &g_array_index (mix->boundary, CostMixBoundary, i);
      NumWide money = (NumWide) b->joints * mix->boundary_cost + cost,
              time = (NumWide) b->joints * mix->boundary_hours + hours;
      if (b->joints < 0 || b->a >= mix->n_groups || b->b >= mix->n_groups || money > MOST_SUM || time > MOST_SUM)
        return fault_set (fault, fault_new (-1, _ ("check the joints between groups"),
                                            _ ("joints between groups cannot be read, "
                                               "or are too many")));
      cost = (gint64) money;
      hours = (gint64) time;
    }
  MixOrder *order = mix_order_new (mix);
  guint slots = order ? order->n_slots : 65;
  if (order)
    mix_order_free (order);
  if (slots * mix_bits (mix->n_methods) > 64)
    return fault_set (fault, fault_new (-1, _ ("join groups that are alike, or leave methods out"),
                                        _ ("too many groups meet too many others")));
  return TRUE;
}

/* ---- plans ---- */

CostMixPlan *
cost_mix_plan_new (const CostMix *mix, const guint *method)
{
  CostMixPlan *plan = g_new0 (CostMixPlan, 1);
  guint32 set = 0;

  for (guint g = 0; g < mix->n_groups; g++)
    {
      gsize at = (gsize) g * mix->n_methods + method[g];
      if (method[g] >= mix->n_methods || mix->cost[at] == COST_MIX_NONE)
        {
          g_free (plan);
          return NULL;
        }
      plan->cost += mix->cost[at];
      plan->hours += mix->hours[at];
      set |= 1u << method[g];
    }
  for (guint i = 0; i < mix->boundary->len; i++)
    {
      const CostMixBoundary *b = &g_array_index (mix->boundary, CostMixBoundary, i);
      plan->unmated += mix_unmated (mix, b, method[b->a], method[b->b]);
    }
  plan->method = g_memdup2 (method, sizeof (guint) * mix->n_groups);
  plan->boundary_cost = plan->unmated * mix->boundary_cost;
  plan->hours += plan->unmated * mix->boundary_hours + mix->rest_hours;
  plan->setup = mix_setup (mix, set);
  plan->cost += (mix->maximise ? -1 : 1) * (plan->boundary_cost + plan->setup);
  plan->methods = (guint) __builtin_popcount (set);
  return plan;
}

void
cost_mix_plan_free (CostMixPlan *plan)
{
  g_free (plan->method);
  g_free (plan);
}

gboolean
cost_mix_keeps (const CostMix *mix, const CostMixPlan *plan)
{
  gint64 used[COST_MIX_MOST_METHODS + 1] = { 0 };

  if (plan->hours > mix->most_hours || (mix->most_methods > 0 && plan->methods > mix->most_methods))
    return FALSE;
  for (guint g = 0; g < mix->n_groups; g++)
    used[plan->method[g]] += mix->use[(gsize) g * mix->n_methods + plan->method[g]];
  for (guint m = 0; m < mix->n_methods; m++)
    if (used[m] > mix->capacity[m])
      return FALSE;
  return TRUE;
}

int
cost_mix_next_best (const CostMix *mix, const CostMixPlan *plan, guint group, gint64 *more)
{
  g_autofree guint *method = g_memdup2 (plan->method, sizeof (guint) * mix->n_groups);
  int best = -1;

  *more = G_MAXINT64;
  for (guint m = 0; m < mix->n_methods; m++)
    {
      if (m == plan->method[group] || mix_same (mix, group, m, plan->method[group]))
        continue;
      method[group] = m;
      g_autoptr (CostMixPlan) other = cost_mix_plan_new (mix, method);
      if (!other || !cost_mix_keeps (mix, other))
        continue;
      gint64 dearer = mix->maximise ? plan->cost - other->cost : other->cost - plan->cost;
      if (dearer < *more)
        {
          *more = dearer;
          best = (int) m;
        }
    }
  return best;
}

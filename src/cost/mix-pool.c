/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

static int
by_value (gconstpointer a, gconstpointer b, gpointer data)
{
  const CostMixPlan *x = *(CostMixPlan *const *) a, *y = *(CostMixPlan *const *) b;
  const CostMix *mix = data;

  if (x->cost != y->cost)
    return (x->cost < y->cost) != mix->maximise ? -1 : 1;
  if (x->hours != y->hours)
    return x->hours < y->hours ? -1 : 1;
  for (guint g = 0; g < mix->n_groups; g++)
    if (x->method[g] != y->method[g])
      return x->method[g] < y->method[g] ? -1 : 1;
  return 0;
}

/* Another used method that is the same as @method on a group, the one with the most groups; @method when there is none. */
static guint
twin_in_use (const CostMix *mix, const guint *count, guint group, guint method)
{
  guint best = method;

  for (guint m = 0; m < mix->n_methods; m++)
    if (m != method && count[m] > 0 && mix_same (mix, group, m, method) && mix_cost (mix, group, m) != COST_MIX_NONE
        && (best == method || count[m] > count[best]))
      best = m;
  return best;
}

/* Takes out of use every method whose groups can all have a twin in use: the same work, fewer names and set-ups. */
static void
tidy (const CostMix *mix, guint *method)
{
  guint count[COST_MIX_MOST_METHODS] = { 0 }, order[COST_MIX_MOST_METHODS];

  for (guint g = 0; g < mix->n_groups; g++)
    count[method[g]]++;
  for (guint m = 0; m < mix->n_methods; m++)
    {
      guint at = m;
      for (; at > 0 && count[order[at - 1]] > count[m]; at--)
        order[at] = order[at - 1];
      order[at] = m;
    }
  for (guint i = 0; i < mix->n_methods; i++)
    {
      guint m = order[i];
      gboolean all = count[m] > 0;
      for (guint g = 0; g < mix->n_groups && all; g++)
        all = method[g] != m || twin_in_use (mix, count, g, m) != m;
      for (guint g = 0; g < mix->n_groups && all; g++)
        if (method[g] == m)
          {
            method[g] = twin_in_use (mix, count, g, m);
            count[method[g]]++;
            count[m]--;
          }
    }
}

static gboolean
same_plan (const CostMix *mix, const guint *a, const guint *b)
{
  for (guint g = 0; g < mix->n_groups; g++)
    if (!mix_same (mix, g, a[g], b[g]))
      return FALSE;
  return TRUE;
}

void
mix_pool_offer (MixPool *pool, const guint *chosen)
{
  const CostMix *mix = pool->mix;
  g_autofree guint *method = g_memdup2 (chosen, sizeof (guint) * mix->n_groups);

  if (mix->same)
    tidy (mix, method);
  g_autoptr (CostMixPlan) plan = cost_mix_plan_new (mix, method);
  if (!plan || !cost_mix_keeps (mix, plan))
    return;
  for (guint i = 0; i < pool->plan->len; i++)
    {
      const CostMixPlan *known = g_ptr_array_index (pool->plan, i);
      if (!same_plan (mix, known->method, method))
        continue;
      /* The same work may be named so that less set-up counts. */
      if (by_value (&known, &plan, (gpointer) mix) <= 0)
        return;
      g_ptr_array_remove_index (pool->plan, i);
      break;
    }
  g_ptr_array_add (pool->plan, g_steal_pointer (&plan));
  g_ptr_array_sort_with_data (pool->plan, by_value, (gpointer) pool->mix);
  if (pool->plan->len > pool->wanted)
    g_ptr_array_set_size (pool->plan, (int) pool->wanted);
}

gint64
mix_pool_ceiling (const MixPool *pool)
{
  if (pool->plan->len < pool->wanted)
    return COST_MIX_NONE;
  const CostMixPlan *last = g_ptr_array_index (pool->plan, pool->wanted - 1);
  return pool->mix->maximise ? -last->cost : last->cost;
}

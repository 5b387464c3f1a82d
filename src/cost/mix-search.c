/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

#include <string.h>

/* ---- weights ---- */

static void
add_limit (MixSearch *s, gint64 limit, int method)
{
  const CostMix *mix = s->mix;
  gint64 total = 0;

  s->limit[s->n_limits] = limit;
  s->limit_method[s->n_limits] = method;
  for (guint g = 0; g < mix->n_groups; g++)
    {
      gint64 most = 0;
      for (guint m = 0; m < mix->n_methods; m++)
        if (mix_cost (mix, g, m) != COST_MIX_NONE)
          most = MAX (most, mix_use (s, s->n_limits, g, m));
      total += most;
    }
  for (guint i = 0; method < 0 && i < mix->boundary->len; i++)
    total += g_array_index (mix->boundary, CostMixBoundary, i).joints * mix->boundary_hours;
  if (total <= limit)
    return; /* can never be too much */
  s->limit_total[s->n_limits++] = total;
}

/* Weighted sums stay below 2^61: money takes half of that, the limits share the rest. */
static void
set_scale (MixSearch *s)
{
  const CostMix *mix = s->mix;
  gint64 total = 1, room = MIX_INF / 8;

  for (guint g = 0; g < mix->n_groups; g++)
    {
      gint64 most = 0;
      for (guint m = 0; m < mix->n_methods; m++)
        {
          gint64 cost = mix_cost (mix, g, m);
          if (cost != COST_MIX_NONE)
            most = MAX (most, ABS (cost));
        }
      total += most;
    }
  for (guint m = 0; m < mix->n_methods; m++)
    total += mix->setup[m];
  for (guint i = 0; i < mix->boundary->len; i++)
    total += g_array_index (mix->boundary, CostMixBoundary, i).joints * mix->boundary_cost;
  s->scale = CLAMP (room / total, 1, 1 << 20);
  for (guint r = 0; r < s->n_limits; r++)
    s->most_price[r] = room / (s->limit_total[r] + ABS (s->limit[r]) + 1) / s->n_limits;
}

MixSearch *
mix_search_new (const CostMix *mix, MixPool *pool, const CostMixHow *how)
{
  MixSearch *s = g_new0 (MixSearch, 1);
  gsize limits = (gsize) mix->n_methods + 2, positions = (gsize) mix->n_groups + 1;

  s->mix = mix;
  s->pool = pool;
  s->how = how;
  s->started = s->told = g_get_monotonic_time ();
  s->order = mix_order_new (mix);
  s->limit = g_new0 (gint64, limits);
  s->limit_method = g_new0 (int, limits);
  s->limit_total = g_new0 (gint64, limits);
  s->price = g_new0 (gint64, limits);
  s->most_price = g_new0 (gint64, limits);
  s->chosen_use = g_new0 (gint64, limits);
  if (mix->most_hours != COST_MIX_NONE)
    add_limit (s, mix->most_hours - mix->rest_hours, -1);
  for (guint m = 0; m < mix->n_methods; m++)
    if (mix->capacity[m] != COST_MIX_NONE)
      add_limit (s, mix->capacity[m], (int) m);
  set_scale (s);
  s->method = g_new0 (guint, mix->n_methods);
  s->offset = g_new0 (gsize, positions);
  s->codes = g_new0 (guint32 *, positions);
  s->n_codes = g_new0 (guint, positions);
  s->chosen = g_new0 (guint, mix->n_groups);
  return s;
}

static void
forget_tables (MixSearch *s)
{
  for (guint i = 0; i <= s->mix->n_groups; i++)
    g_clear_pointer (&s->codes[i], g_free);
  g_clear_pointer (&s->to_come, g_free);
  g_clear_pointer (&s->hours_to_come, g_free);
}

void
mix_search_free (MixSearch *s)
{
  forget_tables (s);
  mix_search_blunt (s);
  mix_order_free (s->order);
  g_free (s->limit);
  g_free (s->limit_method);
  g_free (s->limit_total);
  g_free (s->price);
  g_free (s->most_price);
  g_free (s->chosen_use);
  g_free (s->method);
  g_free (s->offset);
  g_free (s->codes);
  g_free (s->n_codes);
  g_free (s->chosen);
  g_free (s);
}

/* Every code that the slots open in front of a position can have, as far as tables reach. */
static void
list_codes (MixSearch *s, guint at, guint64 open)
{
  guint n = 1, slots = 0;

  for (guint slot = 0; slot < s->table_slots; slot++)
    if (open >> slot & 1)
      {
        n *= s->n_set;
        slots++;
      }
  s->codes[at] = g_new (guint32, n);
  s->n_codes[at] = n;
  s->codes[at][0] = 0;
  n = 1;
  for (guint slot = 0; slots > 0 && slot < s->table_slots; slot++)
    if (open >> slot & 1)
      {
        for (guint k = 1; k < s->n_set; k++)
          for (guint i = 0; i < n; i++)
            s->codes[at][k * n + i] = s->codes[at][i] | k << (slot * s->bits);
        n *= s->n_set;
      }
}

void
mix_search_set (MixSearch *s, guint32 set)
{
  gsize total = 0;

  forget_tables (s);
  mix_search_blunt (s);
  s->set = set;
  s->n_set = 0;
  for (guint m = 0; m < s->mix->n_methods; m++)
    if (set >> m & 1)
      s->method[s->n_set++] = m;
  s->bits = mix_bits (s->n_set);
  s->table_slots = MIN (s->order->n_slots, MIX_TABLE_BITS / s->bits);
  for (guint at = 0; at <= s->mix->n_groups; at++)
    {
      guint64 open = at > 0 ? s->order->open[at - 1] : 0;
      guint used = 0;
      for (guint slot = 0; slot < s->table_slots; slot++)
        if (open >> slot & 1)
          used = slot + 1;
      s->offset[at] = total;
      total += (gsize) 1 << (used * s->bits);
      list_codes (s, at, open);
    }
  s->to_come = g_new0 (gint64, total);
  s->hours_to_come = g_new0 (gint64, total);
}

/* ---- the relaxation at given prices ---- */

gint64
mix_unmated (const CostMix *mix, const CostMixBoundary *b, guint method_a, guint method_b)
{
  if (b->unmated)
    return b->unmated[(gsize) method_a * mix->n_methods + method_b];
  return mix->connection[method_a] != mix->connection[method_b] ? b->joints : 0;
}

gint64
mix_setup (const CostMix *mix, guint32 set)
{
  gint64 sum = 0;

  for (guint m = 0; m < mix->n_methods; m++)
    {
      gboolean counted = FALSE;
      if (!(set >> m & 1))
        continue;
      /* Of methods with one tool the dearest counts, the first of those alike. */
      for (guint k = 0; mix->tool[m] >= 0 && k < mix->n_methods; k++)
        if (k != m && (set >> k & 1) && mix->tool[k] == mix->tool[m])
          counted = counted || mix->setup[k] > mix->setup[m] || (mix->setup[k] == mix->setup[m] && k < m);
      if (!counted)
        sum += mix->setup[m];
    }
  return sum;
}

static guint
digit (const MixSearch *s, guint64 code, guint slot)
{
  return (guint) (code >> (slot * s->bits)) & ((1u << s->bits) - 1);
}

/* Weight of one unmated joint and of one pair. */
static gint64
joint_weight (const MixSearch *s, gboolean hours)
{
  gint64 weight = s->mix->boundary_cost * s->scale;

  if (hours)
    return s->mix->boundary_hours;
  return s->n_limits > 0 && s->limit_method[0] < 0 ? weight + s->price[0] * s->mix->boundary_hours : weight;
}

static gint64
pair_weight (const MixSearch *s, guint group, guint k, gboolean hours)
{
  guint method = s->method[k];
  gint64 cost = mix_cost (s->mix, group, method);

  if (cost == COST_MIX_NONE || mix_twin (s, group, k))
    return MIX_INF;
  if (hours)
    return s->mix->hours[(gsize) group * s->mix->n_methods + method];
  cost *= s->scale;
  for (guint r = 0; r < s->n_limits; r++)
    cost += s->price[r] * mix_use (s, r, group, method);
  return cost;
}

void
mix_search_fill (MixSearch *s)
{
  gsize n = (gsize) s->mix->n_groups * s->n_set;

  mix_search_blunt (s);
  s->unary = g_new (gint64, MAX (n, 1));
  for (guint g = 0; g < s->mix->n_groups; g++)
    for (guint k = 0; k < s->n_set; k++)
      s->unary[(gsize) g * s->n_set + k] = pair_weight (s, g, k, FALSE);
}

void
mix_search_blunt (MixSearch *s)
{
  for (guint i = 0; s->joint && i < s->mix->boundary->len; i++)
    g_free (s->joint[i]);
  g_clear_pointer (&s->joint, g_free);
  g_clear_pointer (&s->unary, g_free);
  s->sharp = FALSE;
}

gint64
mix_joint_weight (const MixSearch *s, const MixArc *arc, guint other, guint k)
{
  gint64 unmated;

  if (s->joint)
    {
      const CostMixBoundary *all = (const CostMixBoundary *) (gconstpointer) s->mix->boundary->data;
      const gint64 *table = s->joint[arc->boundary - all];
      return arc->first ? table[other * s->n_set + k] : table[k * s->n_set + other];
    }
  unmated = arc->first ? mix_unmated (s->mix, arc->boundary, s->method[other], s->method[k])
                       : mix_unmated (s->mix, arc->boundary, s->method[k], s->method[other]);
  return unmated * joint_weight (s, FALSE);
}

/* Weights of the joints between one group and those placed before it, as far as tables reach. */
static gint64
joints_before (const MixSearch *s, guint group, guint k, guint64 code)
{
  const GArray *arcs = s->order->arcs[group];
  gint64 sum = 0;

  for (guint i = 0; i < arcs->len; i++)
    {
      const MixArc *arc = &g_array_index (arcs, MixArc, i);
      if (arc->slot < s->table_slots)
        sum += mix_joint_weight (s, arc, digit (s, code, arc->slot), k);
    }
  return sum;
}

/* Joints that do not mate between one group and those placed before it; @code tells their methods. */
static gint64
unmated_before (const MixSearch *s, guint group, guint method, guint64 code, guint slots)
{
  const GArray *arcs = s->order->arcs[group];
  gint64 n = 0;

  for (guint i = 0; arcs && i < arcs->len; i++)
    {
      const MixArc *arc = &g_array_index (arcs, MixArc, i);
      if (arc->slot >= slots)
        continue;
      guint other = s->method[digit (s, code, arc->slot)];
      n += arc->first ? mix_unmated (s->mix, arc->boundary, other, method)
                      : mix_unmated (s->mix, arc->boundary, method, other);
    }
  return n;
}

static guint32
next_code (const MixSearch *s, guint at, guint32 code, guint k)
{
  guint group = s->order->group[at], slot = s->order->slot[group];
  guint64 freed = s->order->freed[at];

  for (guint i = 0; freed && i < s->table_slots; i++)
    if (freed >> i & 1)
      code &= ~(((1u << s->bits) - 1) << (i * s->bits));
  return slot < s->table_slots ? code | k << (slot * s->bits) : code;
}

/* Best choice at a position for one code: weight of it and all that follows. */
static gint64
best_at (const MixSearch *s, guint at, guint32 code, const gint64 *pair, gint64 joint, const gint64 *table,
         guint *choice)
{
  guint group = s->order->group[at];
  gint64 best = MIX_INF;

  for (guint k = 0; k < s->n_set; k++)
    {
      gint64 w = pair[k], rest = table[s->offset[at + 1] + next_code (s, at, code, k)];
      if (w >= MIX_INF || rest >= MIX_INF)
        continue;
      w += rest;
      if (s->order->arcs[group])
        w += joint < 0 ? joints_before (s, group, k, code)
                       : joint * unmated_before (s, group, s->method[k], code, s->table_slots);
      if (w < best)
        {
          best = w;
          *choice = k;
        }
    }
  return best;
}

gint64
mix_search_weigh (MixSearch *s, gboolean hours)
{
  const MixOrder *o = s->order;
  gboolean sharp = s->sharp && !hours;
  /* Below 0: by the tables of joints. */
  gint64 *table = hours ? s->hours_to_come : s->to_come, joint = sharp ? -1 : joint_weight (s, hours), sum;
  g_autofree gint64 *pair = g_new (gint64, (gsize) MAX (o->n, 1) * s->n_set);
  guint32 code = 0;
  guint k = 0;

  table[s->offset[o->n]] = 0;
  for (guint at = o->n; at-- > 0;)
    {
      gint64 *own = pair + (gsize) at * s->n_set;
      for (k = 0; k < s->n_set; k++)
        own[k] = sharp ? s->unary[(gsize) o->group[at] * s->n_set + k] : pair_weight (s, o->group[at], k, hours);
      for (guint i = 0; i < s->n_codes[at]; i++)
        {
          code = s->codes[at][i];
          table[s->offset[at] + code] = best_at (s, at, code, own, joint, table, &k);
        }
    }
  sum = table[s->offset[0]];
  if (sum >= MIX_INF)
    return MIX_INF;
  s->chosen_cost = 0;
  memset (s->chosen_use, 0, sizeof (gint64) * (s->mix->n_methods + 1));
  code = 0;
  for (guint at = 0; at < o->n; at++)
    {
      guint group = o->group[at], method;
      gint64 unmated;
      best_at (s, at, code, pair + (gsize) at * s->n_set, joint, table, &k);
      s->chosen[group] = method = s->method[k];
      unmated = unmated_before (s, group, method, code, s->table_slots);
      s->chosen_cost += mix_cost (s->mix, group, method) + unmated * s->mix->boundary_cost;
      for (guint r = 0; r < s->n_limits; r++)
        s->chosen_use[r] +=
            mix_use (s, r, group, method) + (s->limit_method[r] < 0 ? unmated * s->mix->boundary_hours : 0);
      code = next_code (s, at, code, k);
    }
  for (guint r = 0; !hours && r < s->n_limits; r++)
    sum -= s->price[r] * s->limit[r];
  return sum;
}

/* ---- prices of the limits ---- */

/* One limit: the bound is a concave line of straight pieces in the price, each the money and use of one assignment. Two pieces on
 * both sides of the top meet at the next price to try, until nothing lies below their meeting. */
static gint64
price_one (MixSearch *s)
{
  gint64 best, over_cost, over_use, under_cost, under_use;

  s->price[0] = 0;
  best = mix_search_weigh (s, FALSE);
  if (best >= MIX_INF)
    return MIX_INF;
  mix_pool_offer (s->pool, s->chosen);
  if (s->chosen_use[0] <= s->limit[0])
    return best;
  over_cost = s->chosen_cost;
  over_use = s->chosen_use[0];
  if (s->limit_method[0] < 0)
    {
      if (mix_search_weigh (s, TRUE) > s->limit[0])
        return MIX_INF;
      mix_pool_offer (s->pool, s->chosen);
    }
  else
    {
      s->price[0] = s->most_price[0];
      best = MAX (best, mix_search_weigh (s, FALSE));
      mix_pool_offer (s->pool, s->chosen);
      if (s->chosen_use[0] > s->limit[0])
        return best;
    }
  under_cost = s->chosen_cost;
  under_use = s->chosen_use[0];
  gint64 at_best = 0;
  for (int i = 0; i < 60 && over_use > under_use; i++)
    {
      NumWide price = ((NumWide) under_cost - over_cost) * s->scale / (over_use - under_use);
      s->price[0] = (gint64) CLAMP (price, 0, (NumWide) s->most_price[0]);
      gint64 sum = mix_search_weigh (s, FALSE);
      NumWide meeting = (NumWide) over_cost * s->scale + (NumWide) s->price[0] * (over_use - s->limit[0]);
      if (sum > best)
        {
          best = sum;
          at_best = s->price[0];
        }
      mix_pool_offer (s->pool, s->chosen);
      if (sum >= meeting - s->scale / 1024)
        break;
      if (s->chosen_use[0] > s->limit[0])
        {
          over_cost = s->chosen_cost;
          over_use = s->chosen_use[0];
        }
      else
        {
          under_cost = s->chosen_cost;
          under_use = s->chosen_use[0];
        }
    }
  s->price[0] = at_best;
  return best;
}

/* Several limits: steps along what is used too much, each as long as the distance to a value hoped for says (Polyak). */
static gint64
price_several (MixSearch *s)
{
  g_autofree gint64 *at_best = g_new0 (gint64, s->n_limits);
  double pace = 1;
  gint64 best = -MIX_INF;

  memset (s->price, 0, sizeof (gint64) * s->n_limits);
  for (int i = 0, still = 0; i < 300; i++)
    {
      gint64 sum = mix_search_weigh (s, FALSE), ceiling = mix_pool_ceiling (s->pool);
      double length = 0, goal;
      if (sum >= MIX_INF)
        return MIX_INF;
      mix_pool_offer (s->pool, s->chosen);
      if (sum > best)
        {
          best = sum;
          memcpy (at_best, s->price, sizeof (gint64) * s->n_limits);
          still = 0;
        }
      else if (++still == 10)
        {
          pace /= 2;
          still = 0;
        }
      for (guint r = 0; r < s->n_limits; r++)
        {
          double over = (double) (s->chosen_use[r] - s->limit[r]);
          if (over > 0 || s->price[r] > 0)
            length += over * over;
        }
      if (length <= 0)
        break;
      goal = ceiling != COST_MIX_NONE && (double) ceiling * (double) s->scale > (double) best
                 ? (double) (ceiling - mix_setup (s->mix, 0)) * (double) s->scale
                 : (double) best + 0.05 * ABS ((double) best) + (double) s->scale;
      for (guint r = 0; r < s->n_limits; r++)
        {
          double over = (double) (s->chosen_use[r] - s->limit[r]);
          double price = (double) s->price[r] + pace * (goal - (double) sum) / length * over;
          s->price[r] = (gint64) CLAMP (price, 0, (double) s->most_price[r]);
        }
      if (!mix_search_tick (s))
        break;
    }
  memcpy (s->price, at_best, sizeof (gint64) * s->n_limits);
  return best;
}

gint64
mix_search_price (MixSearch *s)
{
  if (s->n_limits == 0)
    {
      gint64 sum = mix_search_weigh (s, FALSE);
      if (sum < MIX_INF)
        mix_pool_offer (s->pool, s->chosen);
      return sum;
    }
  if (s->n_limits > 1)
    {
      for (guint r = 0; r < s->n_limits; r++)
        if (s->limit_method[r] < 0 && mix_search_weigh (s, TRUE) > s->limit[r])
          return MIX_INF;
      return price_several (s);
    }
  return price_one (s);
}

gboolean
mix_search_tick (MixSearch *s)
{
  gint64 now = g_get_monotonic_time ();

  if (s->stopped || now - s->told < 20000)
    return !s->stopped;
  s->told = now;
  if (s->how->seconds > 0 && (double) (now - s->started) > s->how->seconds * 1e6)
    s->stopped = TRUE;
  if (!s->stopped && s->how->progress)
    s->stopped = !s->how->progress (s->how->data, s->share,
                                    s->pool->plan->len > 0 ? g_ptr_array_index (s->pool->plan, 0) : NULL);
  return !s->stopped;
}

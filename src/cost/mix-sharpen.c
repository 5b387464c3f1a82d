/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

#include <string.h>

#define MOST_PASSES 60

static const CostMixBoundary *
boundary_at (const MixSearch *s, guint i)
{
  return &g_array_index (s->mix->boundary, CostMixBoundary, i);
}

static gint64 *
pairs_of (const MixSearch *s, guint group)
{
  return s->unary + (gsize) group * s->n_set;
}

static gint64
half (gint64 x)
{
  return x >= 0 ? x / 2 : -((1 - x) / 2);
}

/* Weights of joints as tables of their own. */
static void
make_tables (MixSearch *s)
{
  guint n = s->n_set, len = s->mix->boundary->len;
  gint64 weight = s->mix->boundary_cost * s->scale;

  if (s->n_limits > 0 && s->limit_method[0] < 0)
    weight += s->price[0] * s->mix->boundary_hours;
  s->joint = g_new0 (gint64 *, MAX (len, 1));
  for (guint i = 0; i < len; i++)
    {
      s->joint[i] = g_new (gint64, (gsize) n * n);
      for (guint x = 0; x < n; x++)
        for (guint y = 0; y < n; y++)
          s->joint[i][x * n + y] = weight * mix_unmated (s->mix, boundary_at (s, i), s->method[x], s->method[y]);
    }
}

/* One edge: what both groups and the joint weigh together is parted in halves. Whole numbers, so that sums stay the same. */
static void
part_edge (MixSearch *s, guint i)
{
  guint n = s->n_set;
  const CostMixBoundary *b = boundary_at (s, i);
  gint64 *a = pairs_of (s, b->a), *c = pairs_of (s, b->b), *table = s->joint[i];
  gint64 least_a[COST_MIX_MOST_METHODS], least_c[COST_MIX_MOST_METHODS];

  for (guint k = 0; k < n; k++)
    least_a[k] = least_c[k] = MIX_INF;
  for (guint x = 0; x < n; x++)
    for (guint y = 0; y < n; y++)
      {
        if (a[x] >= MIX_INF || c[y] >= MIX_INF)
          continue;
        gint64 f = a[x] + c[y] + table[x * n + y];
        least_a[x] = MIN (least_a[x], f);
        least_c[y] = MIN (least_c[y], f);
      }
  for (guint x = 0; x < n; x++)
    for (guint y = 0; y < n; y++)
      if (a[x] < MIX_INF && c[y] < MIX_INF)
        table[x * n + y] += a[x] + c[y] - half (least_a[x]) - half (least_c[y]);
  for (guint k = 0; k < n; k++)
    {
      if (a[k] < MIX_INF)
        a[k] = half (least_a[k]);
      if (c[k] < MIX_INF)
        c[k] = half (least_c[k]);
    }
}

/* The sum of the least of every group, and which that is. */
static gint64
least_sum (MixSearch *s)
{
  gint64 sum = 0;

  for (guint g = 0; g < s->mix->n_groups; g++)
    {
      const gint64 *own = pairs_of (s, g);
      guint best = 0;
      for (guint k = 1; k < s->n_set; k++)
        if (own[k] < own[best])
          best = k;
      if (own[best] >= MIX_INF)
        return MIX_INF;
      sum += own[best];
      s->chosen[g] = s->method[best];
    }
  return sum;
}

/* Takes out what would lift the bound to the ceiling. */
static void
take_out (MixSearch *s, gint64 bound)
{
  gint64 ceiling = mix_pool_ceiling (s->pool);

  if (ceiling == COST_MIX_NONE)
    return;
  for (guint g = 0; g < s->mix->n_groups; g++)
    {
      gint64 *own = pairs_of (s, g), least = MIX_INF;
      for (guint k = 0; k < s->n_set; k++)
        least = MIN (least, own[k]);
      for (guint k = 0; k < s->n_set; k++)
        if (own[k] < MIX_INF && bound + own[k] - least > (ceiling - 1) * s->scale)
          own[k] = MIX_INF;
    }
}

gint64
mix_sharpen (MixSearch *s, gint64 base)
{
  gint64 sum = -MIX_INF, last;

  make_tables (s);
  s->sharp = TRUE;
  for (int pass = 0; pass < MOST_PASSES && mix_search_tick (s); pass++)
    {
      for (guint i = 0; i < s->mix->boundary->len; i++)
        part_edge (s, pass % 2 ? s->mix->boundary->len - 1 - i : i);
      last = sum;
      sum = least_sum (s);
      if (sum >= MIX_INF)
        return MIX_INF;
      if (pass % 10 == 9 || pass == 2)
        mix_pool_offer (s->pool, s->chosen);
      if (sum - last <= s->scale / 4)
        break;
    }
  sum = least_sum (s);
  if (sum >= MIX_INF)
    return MIX_INF;
  mix_pool_offer (s->pool, s->chosen);
  mix_polish (s);
  take_out (s, base + sum);
  return sum;
}

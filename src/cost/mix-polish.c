/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

#include <stdlib.h>

/* Giving one or two groups another method, while that makes the best assignment found better. What it finds is only a start: it
 * lowers the ceiling, so that the search leaves more out. */

typedef struct
{
  guint group, k;
  gint64 cost, hours; /* change */
} Move;

/* The two best moves, of different groups, among those up to some place of the order. */
typedef struct
{
  gint32 first, second;
} BestTwo;

typedef struct
{
  MixSearch *s;
  guint *method; /* by group */
  GArray **near; /* by group: guint, boundary; NULL: none */
  GArray *move;  /* Move, by hours */
  BestTwo *best; /* by move */
} Polish;

static GArray **
boundaries_of (const CostMix *mix)
{
  GArray **out = g_new0 (GArray *, MAX (mix->n_groups, 1));

  for (guint i = 0; i < mix->boundary->len; i++)
    {
      const CostMixBoundary *b = &g_array_index (mix->boundary, CostMixBoundary, i);
      guint ends[] = { b->a, b->b };
      for (int e = 0; e < 2; e++)
        {
          if (!out[ends[e]])
            out[ends[e]] = g_array_new (FALSE, FALSE, sizeof (guint));
          g_array_append_val (out[ends[e]], i);
        }
    }
  return out;
}

/* Joints of a group that would not mate by @method. */
static gint64
unmated_at (const Polish *p, guint group, guint method)
{
  const CostMix *mix = p->s->mix;
  gint64 n = 0;

  for (guint i = 0; p->near[group] && i < p->near[group]->len; i++)
    {
      const CostMixBoundary *b =
          &g_array_index (mix->boundary, CostMixBoundary, g_array_index (p->near[group], guint, i));
      n +=
          b->a == group ? mix_unmated (mix, b, method, p->method[b->b]) : mix_unmated (mix, b, p->method[b->a], method);
    }
  return n;
}

static int
by_hours (gconstpointer a, gconstpointer b)
{
  const Move *x = a, *y = b;

  if (x->hours != y->hours)
    return x->hours < y->hours ? -1 : 1;
  if (x->group != y->group)
    return x->group < y->group ? -1 : 1;
  return x->k < y->k ? -1 : x->k > y->k;
}

static const Move *
move_at (const Polish *p, gint64 i)
{
  return &g_array_index (p->move, Move, i);
}

static void
list_moves (Polish *p)
{
  const CostMix *mix = p->s->mix;

  g_array_set_size (p->move, 0);
  for (guint g = 0; g < mix->n_groups; g++)
    {
      guint now = p->method[g];
      gsize row = (gsize) g * mix->n_methods;
      gint64 joints = unmated_at (p, g, now);
      for (guint k = 0; k < p->s->n_set; k++)
        {
          guint method = p->s->method[k];
          if (method == now || mix_cost (mix, g, method) == COST_MIX_NONE || mix_same (mix, g, now, method))
            continue;
          gint64 more = p->near[g] ? unmated_at (p, g, method) - joints : 0;
          Move move = { g, k, mix_cost (mix, g, method) - mix_cost (mix, g, now) + more * mix->boundary_cost,
                        mix->hours[row + method] - mix->hours[row + now] + more * mix->boundary_hours };
          g_array_append_val (p->move, move);
        }
    }
  g_array_sort (p->move, by_hours);
  p->best = g_renew (BestTwo, p->best, MAX (p->move->len, 1));
  BestTwo two = { -1, -1 };
  for (guint i = 0; i < p->move->len; i++)
    {
      const Move *m = move_at (p, i);
      if (two.first < 0 || m->cost < move_at (p, two.first)->cost)
        {
          if (two.first >= 0 && move_at (p, two.first)->group != m->group)
            two.second = two.first;
          two.first = (gint32) i;
        }
      else if (m->group != move_at (p, two.first)->group && (two.second < 0 || m->cost < move_at (p, two.second)->cost))
        two.second = (gint32) i;
      p->best[i] = two;
    }
}

/* The last move that takes at most @hours, -1. */
static gint64
last_within (const Polish *p, gint64 hours)
{
  guint low = 0, high = p->move->len;

  while (low < high)
    {
      guint middle = (low + high) / 2;
      if (move_at (p, middle)->hours <= hours)
        low = middle + 1;
      else
        high = middle;
    }
  return (gint64) low - 1;
}

/* The best one or two moves that keep the limit; FALSE: none saves anything. */
static gboolean
best_moves (const Polish *p, gint64 slack, gint64 *one, gint64 *two)
{
  gint64 most = 0;

  *one = *two = -1;
  for (gint64 i = 0; i < p->move->len; i++)
    {
      const Move *m = move_at (p, i);
      gint64 last = last_within (p, slack - m->hours), other = -1;
      if (m->hours <= slack && m->cost < most)
        {
          most = m->cost;
          *one = i;
          *two = -1;
        }
      if (last < 0)
        continue;
      other = p->best[last].first;
      if (move_at (p, other)->group == m->group)
        other = p->best[last].second;
      if (other >= 0 && m->cost + move_at (p, other)->cost < most)
        {
          most = m->cost + move_at (p, other)->cost;
          *one = i;
          *two = other;
        }
    }
  return *one >= 0;
}

static void
make_move (Polish *p, gint64 i)
{
  if (i >= 0)
    p->method[move_at (p, i)->group] = p->s->method[move_at (p, i)->k];
}

static void
polish (Polish *p, gint64 limit)
{
  const CostMix *mix = p->s->mix;
  guint rounds = 2000000 / (mix->n_groups * p->s->n_set + 1) + 1;

  for (guint i = 0; i < MIN (rounds, 300) && mix_search_tick (p->s); i++)
    {
      g_autoptr (CostMixPlan) before = cost_mix_plan_new (mix, p->method), after = NULL;
      gint64 one, two;
      if (!before || before->hours > limit)
        return;
      list_moves (p);
      if (!best_moves (p, limit - before->hours, &one, &two))
        return;
      make_move (p, one);
      make_move (p, two);
      mix_pool_offer (p->s->pool, p->method);
      /* Of two neighbours the joint between them was counted for neither: both figures may be off. */
      after = cost_mix_plan_new (mix, p->method);
      if (!after || (mix->maximise ? after->cost <= before->cost : after->cost >= before->cost))
        return;
    }
}

void
mix_polish (MixSearch *s)
{
  const CostMixPlan *best = s->pool->plan->len > 0 ? g_ptr_array_index (s->pool->plan, 0) : NULL;
  Polish p = { .s = s };

  if (!best || s->n_limits > 1 || (s->n_limits == 1 && s->limit_method[0] >= 0))
    return;
  for (guint g = 0; g < s->mix->n_groups; g++)
    if (!(s->set >> best->method[g] & 1))
      return; /* another set's */
  p.method = g_memdup2 (best->method, sizeof (guint) * s->mix->n_groups);
  p.near = boundaries_of (s->mix);
  p.move = g_array_new (FALSE, FALSE, sizeof (Move));
  polish (&p, s->mix->most_hours);
  for (guint g = 0; g < s->mix->n_groups; g++)
    if (p.near[g])
      g_array_unref (p.near[g]);
  g_free (p.near);
  g_free (p.method);
  g_free (p.best);
  g_array_unref (p.move);
}

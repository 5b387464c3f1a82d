/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

#include <stdlib.h>
#include <string.h>

/* Groups are placed one after another. A state is what can be told apart behind a position: methods of groups that still have
 * neighbours to come, money, and use of every limit. Of states that agree in the methods those are kept that fewer than so many
 * others (as many as assignments are wanted) equal or beat in money and in every limit; states whose bound reaches the ceiling of the
 * pool are left out. Both lose no assignment that is among the best. */
typedef struct
{
  guint64 code;
  gint64 first; /* use of the first limit */
  gint64 cost;
  gint64 weight, key; /* weighted sum so far; bound of what can come of it */
  guint32 node;       /* into the log; of a new state that of its parent */
  guint32 choice;
  guint32 row; /* of more limits: into use */
} State;

typedef struct
{
  guint32 before;
  guint8 choice;
} Node;

typedef struct
{
  MixSearch *s;
  GArray *state, *grown, *spare; /* State, ordered by code, first use, money */
  GArray *use, *grown_use;       /* gint64, of the limits behind the first, n_more a row */
  GArray *log;                   /* Node */
  GArray *keys;                  /* gint64 */
  guint n_more;
  gint64 base; /* weighted: limits taken off */
  gint64 setup;
  guint width;
  gint64 left_out; /* least key of a state dropped for want of room */
} Sweep;

#define MOST_NODES 30000000u

static gint64
whole_units (gint64 key, gint64 scale)
{
  return key >= 0 ? (key + scale - 1) / scale : -(-key / scale);
}

/* What one choice at one position does to every state alike. */
typedef struct
{
  guint at, group, method, k;
  gint64 cost, first, most_key, weight;
  guint64 keep, own; /* masks of the code */
  guint64 seen;
  const GArray *arcs;
  gboolean hours; /* the first limit is that on hours */
} Choice;

/* Joints with groups placed before that do not mate; adds their weight. */
static gint64
unmated_with (const MixSearch *s, const Choice *c, guint64 code, gint64 *weight)
{
  guint64 mask = (G_GUINT64_CONSTANT (1) << s->bits) - 1;
  gint64 unmated = 0;

  for (guint i = 0; i < c->arcs->len; i++)
    {
      const MixArc *arc = &g_array_index (c->arcs, MixArc, i);
      guint k = (guint) (code >> (arc->slot * s->bits) & mask), other = s->method[k];
      unmated += arc->first ? mix_unmated (s->mix, arc->boundary, other, c->method)
                            : mix_unmated (s->mix, arc->boundary, c->method, other);
      *weight += mix_joint_weight (s, arc, k, c->k);
    }
  return unmated;
}

/* The limits behind the first: appends their use; FALSE when one is passed. */
static gboolean
grow_more (Sweep *w, const Choice *c, const State *from, State *to)
{
  const MixSearch *s = w->s;
  gint64 use[COST_MIX_MOST_METHODS + 1];

  for (guint i = 0; i < w->n_more; i++)
    {
      use[i] =
          g_array_index (w->use, gint64, (gsize) from->row * w->n_more + i) + mix_use (s, i + 1, c->group, c->method);
      if (use[i] > s->limit[i + 1])
        return FALSE;
    }
  if (to->key > c->most_key)
    return FALSE;
  to->row = w->grown_use->len / w->n_more;
  g_array_append_vals (w->grown_use, use, w->n_more);
  return TRUE;
}

static void
grow (Sweep *w, const Choice *c, const State *from)
{
  const MixSearch *s = w->s;
  State to = {
    from->code & c->keep, from->first + c->first, from->cost + c->cost, from->weight + c->weight, 0, from->node, c->k, 0
  };
  gsize entry;

  to.code |= c->own;
  if (c->arcs)
    {
      gint64 unmated = unmated_with (s, c, from->code, &to.weight);
      to.cost += unmated * s->mix->boundary_cost;
      if (c->hours)
        to.first += unmated * s->mix->boundary_hours;
    }
  entry = s->offset[c->at + 1] + (gsize) (to.code & c->seen);
  if (s->to_come[entry] >= MIX_INF)
    return;
  to.key = w->base + to.weight + s->to_come[entry];
  if (s->n_limits > 0 && to.first + (c->hours ? s->hours_to_come[entry] : 0) > s->limit[0])
    return;
  if (w->n_more > 0 ? grow_more (w, c, from, &to) : to.key <= c->most_key)
    g_array_append_val (w->grown, to);
}

/* Every choice for the group at a position. FALSE: stopped. */
static gboolean
grow_all (Sweep *w, guint at)
{
  MixSearch *s = w->s;
  guint group = s->order->group[at], slot = s->order->slot[group], seen = s->table_slots * s->bits;
  gint64 ceiling = mix_pool_ceiling (s->pool);
  guint64 mask = (G_GUINT64_CONSTANT (1) << s->bits) - 1, freed = s->order->freed[at];
  Choice c = { .at = at, .group = group, .arcs = s->order->arcs[group], .keep = G_MAXUINT64, .most_key = G_MAXINT64 };

  /* What could still become better than the ceiling by a whole unit. */
  if (ceiling != COST_MIX_NONE)
    c.most_key = (ceiling - 1) * s->scale;
  c.seen = seen < 64 ? (G_GUINT64_CONSTANT (1) << seen) - 1 : G_MAXUINT64;
  c.hours = s->n_limits > 0 && s->limit_method[0] < 0;
  for (guint i = 0; i < s->order->n_slots; i++)
    if (freed >> i & 1)
      c.keep &= ~(mask << (i * s->bits));
  for (c.k = 0; c.k < s->n_set; c.k++)
    {
      c.method = s->method[c.k];
      c.cost = mix_cost (s->mix, group, c.method);
      c.weight = s->unary[(gsize) group * s->n_set + c.k];
      if (c.weight >= MIX_INF)
        continue;
      c.first = s->n_limits > 0 ? mix_use (s, 0, group, c.method) : 0;
      c.own = slot != G_MAXUINT ? (guint64) c.k << (slot * s->bits) : 0;
      for (guint i = 0; i < w->state->len; i++)
        {
          grow (w, &c, &g_array_index (w->state, State, i));
          if ((i & 1023) == 1023 && !mix_search_tick (s))
            return FALSE;
        }
    }
  return TRUE;
}

static gboolean
in_order (const State *x, const State *y)
{
  if (x->code != y->code)
    return x->code < y->code;
  if (x->first != y->first)
    return x->first < y->first;
  return x->cost <= y->cost;
}

/* Merges runs that are in order already: what one choice made of ordered states mostly is. */
static void
order_states (Sweep *w)
{
  guint n = w->grown->len, runs = 2;

  g_array_set_size (w->spare, n);
  while (runs > 1)
    {
      const State *from = (const State *) (gconstpointer) w->grown->data;
      State *to = (State *) (gpointer) w->spare->data;
      guint start = 0, out = 0;
      runs = 0;
      while (start < n)
        {
          guint middle = start + 1, end, i = start, j;
          while (middle < n && in_order (&from[middle - 1], &from[middle]))
            middle++;
          end = middle < n ? middle + 1 : n;
          while (end < n && in_order (&from[end - 1], &from[end]))
            end++;
          for (j = middle; i < middle || j < end;)
            to[out++] = j >= end || (i < middle && in_order (&from[i], &from[j])) ? from[i++] : from[j++];
          start = end;
          runs++;
        }
      GArray *other = w->grown;
      w->grown = w->spare;
      w->spare = other;
    }
}

/* Whether enough of the states kept since @first (same code, no more use of the first limit) are as good in everything. */
static gboolean
beaten (const Sweep *w, guint first, const State *state)
{
  guint wanted = w->s->pool->wanted, better = 0;
  const gint64 *use = &g_array_index (w->grown_use, gint64, (gsize) state->row * w->n_more);
  /* Only a way to save time: after so many comparisons a state is kept. */
  guint from = w->state->len - first > 500 ? w->state->len - 500 : first;

  for (guint k = w->state->len; k-- > from && better < wanted;)
    {
      const State *kept = &g_array_index (w->state, State, k);
      const gint64 *other = &g_array_index (w->grown_use, gint64, (gsize) kept->row * w->n_more);
      gboolean as_good = kept->cost <= state->cost;
      for (guint i = 0; as_good && i < w->n_more; i++)
        as_good = other[i] <= use[i];
      better += as_good ? 1 : 0;
    }
  return better >= wanted;
}

/* With one limit or none, the lowest money so far tells: @low holds the least sums of money, at most as many as wanted. */
static gboolean
beaten_by_money (gint64 *low, guint wanted, gint64 cost)
{
  guint at = wanted;

  if (low[wanted - 1] <= cost)
    return TRUE;
  while (at > 0 && low[at - 1] > cost)
    at--;
  memmove (low + at + 1, low + at, sizeof *low * (wanted - 1 - at));
  low[at] = cost;
  return FALSE;
}

static int
by_value (gconstpointer a, gconstpointer b)
{
  gint64 x = *(const gint64 *) a, y = *(const gint64 *) b;

  return x < y ? -1 : x > y;
}

/* Keeps the states of the lowest bounds, in their order. */
static void
make_room (Sweep *w)
{
  gint64 most;
  guint kept = 0, level = 0;

  g_array_set_size (w->keys, 0);
  for (guint i = 0; i < w->state->len; i++)
    g_array_append_val (w->keys, g_array_index (w->state, State, i).key);
  g_array_sort (w->keys, by_value);
  most = g_array_index (w->keys, gint64, w->width);
  w->left_out = MIN (w->left_out, most);
  /* Of those on the edge the first. */
  for (guint i = w->width; i > 0 && g_array_index (w->keys, gint64, i - 1) == most; i--)
    level++;
  for (guint i = 0; i < w->state->len; i++)
    {
      State state = g_array_index (w->state, State, i);
      if (state.key > most || (state.key == most && level == 0))
        continue;
      level -= state.key == most ? 1 : 0;
      g_array_index (w->state, State, kept++) = state;
    }
  g_array_set_size (w->state, kept);
}

/* Sorts out what has grown; the survivors become the states. */
static void
sift (Sweep *w)
{
  guint wanted = w->s->pool->wanted, first = 0;
  guint64 code = 0;
  gint64 low[17];
  GArray *use = w->use;

  order_states (w);
  g_array_set_size (w->state, 0);
  for (guint i = 0; i < w->grown->len; i++)
    {
      const State *state = &g_array_index (w->grown, State, i);
      if (i == 0 || state->code != code)
        {
          first = w->state->len;
          code = state->code;
          for (guint k = 0; k < wanted; k++)
            low[k] = G_MAXINT64;
        }
      if (w->n_more > 0 ? !beaten (w, first, state) : !beaten_by_money (low, wanted, state->cost))
        g_array_append_vals (w->state, state, 1);
    }
  if (w->state->len > w->width)
    make_room (w);
  w->use = w->grown_use;
  w->grown_use = use;
  for (guint i = 0; i < w->state->len; i++)
    {
      State *state = &g_array_index (w->state, State, i);
      Node node = { state->node, (guint8) state->choice };
      g_array_append_val (w->log, node);
      state->node = w->log->len - 1;
    }
}

static void
offer_states (Sweep *w)
{
  const MixOrder *o = w->s->order;
  g_autofree guint *method = g_new0 (guint, MAX (o->n, 1));

  for (guint i = 0; i < w->state->len; i++)
    {
      guint32 node = g_array_index (w->state, State, i).node;
      gint64 ceiling = mix_pool_ceiling (w->s->pool);
      if (ceiling != COST_MIX_NONE && whole_units (g_array_index (w->state, State, i).key, w->s->scale) >= ceiling)
        continue;
      for (guint at = o->n; at-- > 0; node = g_array_index (w->log, Node, node).before)
        method[o->group[at]] = w->s->method[g_array_index (w->log, Node, node).choice];
      mix_pool_offer (w->s->pool, method);
    }
}

/* One pass over all groups with room for so many states. TRUE: nothing was dropped for want of room. */
static gboolean
pass (Sweep *w, guint width)
{
  MixSearch *s = w->s;
  State start = { .cost = w->setup, .weight = w->setup * w->s->scale };
  g_autofree gint64 *nothing = g_new0 (gint64, w->n_more + 1);

  w->width = width;
  w->left_out = G_MAXINT64;
  g_array_set_size (w->log, 0);
  g_array_set_size (w->state, 0);
  g_array_set_size (w->use, 0);
  g_array_append_val (w->state, start);
  g_array_append_vals (w->use, nothing, w->n_more);
  for (guint at = 0; at < s->order->n && w->state->len > 0; at++)
    {
      g_array_set_size (w->grown, 0);
      g_array_set_size (w->grown_use, 0);
      if (!grow_all (w, at))
        return FALSE;
      sift (w);
      if (w->log->len > MOST_NODES)
        w->width = MIN (w->width, 1000);
      if (!mix_search_tick (s))
        return FALSE;
    }
  offer_states (w);
  return w->left_out == G_MAXINT64;
}

/* What the second best choice of a group costs over its best, weighted. */
typedef struct
{
  guint group;
  gint64 spread;
} Alone;

static int
by_spread (gconstpointer a, gconstpointer b)
{
  const Alone *x = a, *y = b;

  if (x->spread != y->spread)
    return x->spread > y->spread ? -1 : 1;
  return x->group < y->group ? -1 : x->group > y->group;
}

/* Groups without boundaries whose choice is clear come first: they branch into nothing. */
static void
clear_ones_first (MixSearch *s)
{
  guint n = s->order->n_alone;
  g_autofree Alone *alone = g_new (Alone, MAX (n, 1));

  for (guint i = 0; i < n; i++)
    {
      gint64 best = MIX_INF, second = MIX_INF;
      alone[i].group = s->order->group[i];
      for (guint k = 0; k < s->n_set; k++)
        {
          gint64 weight = mix_cost (s->mix, alone[i].group, s->method[k]);
          if (weight == COST_MIX_NONE || mix_twin (s, alone[i].group, k))
            continue;
          weight *= s->scale;
          for (guint r = 0; r < s->n_limits; r++)
            weight += s->price[r] * mix_use (s, r, alone[i].group, s->method[k]);
          if (weight < best)
            {
              second = best;
              best = weight;
            }
          else
            second = MIN (second, weight);
        }
      alone[i].spread = second - best;
    }
  qsort (alone, n, sizeof *alone, by_spread);
  for (guint i = 0; i < n; i++)
    s->order->group[i] = alone[i].group;
}

gint64
mix_sweep (MixSearch *s)
{
  static const guint widths[] = { 16, 500, 20000, 400000 };
  Sweep w = { .s = s };
  gint64 open = G_MAXINT64, bound;

  w.setup = mix_setup (s->mix, s->set);
  for (guint r = 0; r < s->n_limits; r++)
    w.base -= s->price[r] * s->limit[r];
  clear_ones_first (s);
  mix_search_fill (s);
  /* Where tables do not reach, joints are left out of the bound: then they are better parted before. */
  if (s->order->n_slots > s->table_slots)
    {
      bound = mix_sharpen (s, w.base + w.setup * s->scale);
      if (bound >= MIX_INF)
        return G_MAXINT64;
    }
  bound = mix_search_weigh (s, FALSE);
  if (bound >= MIX_INF)
    return G_MAXINT64;
  mix_search_weigh (s, TRUE);
  bound += w.setup * s->scale;
  w.n_more = s->n_limits > 1 ? s->n_limits - 1 : 0;
  GArray **arrays[] = { &w.state, &w.grown, &w.spare, &w.use, &w.grown_use, &w.log, &w.keys };
  static const guint size[] = { sizeof (State),  sizeof (State), sizeof (State), sizeof (gint64),
                                sizeof (gint64), sizeof (Node),  sizeof (gint64) };
  for (gsize i = 0; i < G_N_ELEMENTS (arrays); i++)
    *arrays[i] = g_array_new (FALSE, FALSE, size[i]);
  for (gsize i = 0; i < G_N_ELEMENTS (widths); i++)
    {
      gboolean whole = pass (&w, widths[i]);
      open = whole ? G_MAXINT64 : whole_units (MAX (bound, s->stopped ? bound : w.left_out), s->scale);
      if (whole || s->stopped)
        break;
      mix_polish (s);
      gint64 ceiling = mix_pool_ceiling (s->pool);
      if (ceiling != COST_MIX_NONE && open >= ceiling)
        {
          open = G_MAXINT64;
          break;
        }
    }
  for (gsize i = 0; i < G_N_ELEMENTS (arrays); i++)
    g_array_unref (*arrays[i]);
  return open;
}

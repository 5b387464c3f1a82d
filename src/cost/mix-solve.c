/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/mix-private.h"

#include <math.h>

/* Some methods are in (their set-up is paid), some out, some not decided. The bound of a node lets the undecided ones be used
 * without their set-up. */
typedef struct
{
  guint32 in, free;
  gint64 sum;    /* weighted bound without set-up */
  gint64 bound;  /* money units */
  guint32 used;  /* methods that the relaxation used */
  gint64 *price; /* of the limits */
} MixNode;

static void
node_free (gpointer data)
{
  MixNode *node = data;

  g_free (node->price);
  g_free (node);
}

static guint
count (guint32 set)
{
  return (guint) __builtin_popcount (set);
}

static gint64
units_above (gint64 sum, gint64 scale)
{
  return sum >= 0 ? (sum + scale - 1) / scale : -(-sum / scale);
}

/* A heap by bound; of equal bounds the one with less undecided, then the smaller set, so that runs are alike. */
static gboolean
before (const MixNode *a, const MixNode *b)
{
  if (a->bound != b->bound)
    return a->bound < b->bound;
  if (count (a->free) != count (b->free))
    return count (a->free) < count (b->free);
  return a->in < b->in;
}

static void
push (GPtrArray *heap, MixNode *node)
{
  guint i = heap->len;

  g_ptr_array_add (heap, node);
  for (; i > 0 && before (node, g_ptr_array_index (heap, (i - 1) / 2)); i = (i - 1) / 2)
    heap->pdata[i] = heap->pdata[(i - 1) / 2];
  heap->pdata[i] = node;
}

static MixNode *
pop (GPtrArray *heap)
{
  MixNode *top = g_ptr_array_index (heap, 0), *last = g_ptr_array_index (heap, heap->len - 1);
  guint i = 0, n = heap->len - 1;

  heap->len = n;
  while (n > 0)
    {
      guint child = 2 * i + 1;
      if (child + 1 < n && before (heap->pdata[child + 1], heap->pdata[child]))
        child++;
      if (child >= n || !before (heap->pdata[child], last))
        break;
      heap->pdata[i] = heap->pdata[child];
      i = child;
    }
  if (n > 0)
    heap->pdata[i] = last;
  return top;
}

/* A node whose methods have changed: its bound anew. NULL: nothing can come of it. */
static MixNode *
node_new (MixSearch *s, guint32 in, guint32 open)
{
  MixNode *node;
  gint64 sum;

  if (s->mix->most_methods > 0 && count (in) >= s->mix->most_methods)
    open = 0;
  if ((in | open) == 0)
    return NULL;
  mix_search_set (s, in | open);
  sum = mix_search_price (s);
  if (sum >= MIX_INF)
    return NULL;
  node = g_new0 (MixNode, 1);
  node->in = in;
  node->free = open;
  node->sum = sum;
  node->bound = units_above (sum + mix_setup (s->mix, in) * s->scale, s->scale);
  node->price = g_memdup2 (s->price, sizeof (gint64) * (s->n_limits + 1));
  for (guint g = 0; g < s->mix->n_groups; g++)
    node->used |= 1u << s->chosen[g];
  return node;
}

/* The same methods with one more of them decided for. */
static MixNode *
node_with (MixSearch *s, const MixNode *of, guint32 method)
{
  MixNode *node;
  guint32 in = of->in | method, open = of->free & ~method;

  if (s->mix->most_methods > 0 && count (in) >= s->mix->most_methods && open != 0)
    return node_new (s, in, 0);
  node = g_new0 (MixNode, 1);
  *node = *of;
  node->in = in;
  node->free = open;
  node->bound = units_above (of->sum + mix_setup (s->mix, in) * s->scale, s->scale);
  node->price = g_memdup2 (of->price, sizeof (gint64) * (s->n_limits + 1));
  return node;
}

/* The undecided method to decide on: one that the relaxation uses, the dearest to set up. */
static guint32
to_decide (const MixSearch *s, const MixNode *node)
{
  guint32 best = 0;
  gint64 most = -1;

  for (guint m = 0; m < s->mix->n_methods; m++)
    {
      gint64 weight = s->mix->setup[m] * 2 + ((node->used >> m & 1) ? G_MAXINT64 / 4 : 0);
      if ((node->free >> m & 1) && weight > most)
        {
          most = weight;
          best = 1u << m;
        }
    }
  return best;
}

/* Money an hour: what the price of the limit on hours is on the margin of the set closed last. */
static double
hour_of (const MixSearch *s)
{
  if (s->n_limits == 0 || s->limit_method[0] >= 0 || s->price[0] == 0)
    return NAN;
  return (double) s->price[0] / (double) s->scale * (double) COST_MIX_HOUR;
}

static void
close_node (MixSearch *s, const MixNode *node, gint64 *left_open, double *hour)
{
  const MixPool *pool = s->pool;
  const CostMixPlan *best = pool->plan->len > 0 ? g_ptr_array_index (pool->plan, 0) : NULL, *now;
  gint64 known = best ? best->cost : 0, open;

  mix_search_set (s, node->in);
  for (guint r = 0; r < s->n_limits; r++)
    s->price[r] = node->price[r];
  open = mix_sweep (s);
  *left_open = MIN (*left_open, open);
  now = pool->plan->len > 0 ? g_ptr_array_index (pool->plan, 0) : NULL;
  if (now && (!best || now->cost != known || isnan (*hour)))
    *hour = hour_of (s);
}

/* What no assignment is below: the least of what was left open and what was not looked at. */
static gint64
end_bound (const MixSearch *s, const GPtrArray *heap, gint64 left_open)
{
  gint64 bound = left_open, ceiling = mix_pool_ceiling (s->pool);

  for (guint i = 0; i < heap->len; i++)
    {
      const MixNode *node = g_ptr_array_index (heap, i);
      if (ceiling == COST_MIX_NONE || node->bound < ceiling)
        bound = MIN (bound, node->bound);
    }
  return bound;
}

static void
search (MixSearch *s, CostMixResult *out)
{
  g_autoptr (GPtrArray) heap = g_ptr_array_new_with_free_func (node_free);
  gint64 left_open = G_MAXINT64, first = G_MAXINT64;
  guint32 all = s->mix->n_methods == 32 ? G_MAXUINT32 : (1u << s->mix->n_methods) - 1;
  MixNode *root = node_new (s, 0, all);

  out->hour = NAN;
  if (root)
    push (heap, root);
  first = root ? root->bound : 0;
  while (heap->len > 0 && mix_search_tick (s))
    {
      MixNode *node = pop (heap), *next[2] = { NULL, NULL };
      gint64 ceiling = mix_pool_ceiling (s->pool);
      if (ceiling != COST_MIX_NONE && node->bound >= ceiling)
        {
          /* And so is every other one. */
          node_free (node);
          g_ptr_array_set_size (heap, 0);
          break;
        }
      if (ceiling != COST_MIX_NONE && ceiling > first)
        s->share = CLAMP ((double) (node->bound - first) / (double) (ceiling - first), s->share, 0.99);
      if (node->free == 0)
        close_node (s, node, &left_open, &out->hour);
      else
        {
          guint32 method = to_decide (s, node);
          next[0] = node_with (s, node, method);
          next[1] = node_new (s, node->in, node->free & ~method);
        }
      for (int i = 0; i < 2; i++)
        if (next[i])
          push (heap, next[i]);
      if (s->stopped && node->free == 0)
        push (heap, node);
      else
        node_free (node);
    }
  out->bound = end_bound (s, heap, left_open);
  out->stopped = s->stopped;
}

CostMixResult *
cost_mix_solve (const CostMix *mix, const CostMixHow *how)
{
  static const CostMixHow plain;
  CostMixResult *out = g_new0 (CostMixResult, 1);
  guint wanted = how && how->wanted > 0 ? MIN (how->wanted, 16) : 2;
  MixPool pool = { mix, g_ptr_array_new_with_free_func ((GDestroyNotify) cost_mix_plan_free), wanted };
  MixSearch *s = mix_search_new (mix, &pool, how ? how : &plain);
  gint64 best;

  search (s, out);
  out->plan = pool.plan;
  out->proven = out->bound == G_MAXINT64;
  best = pool.plan->len > 0 ? ((CostMixPlan *) g_ptr_array_index (pool.plan, 0))->cost : 0;
  if (mix->maximise)
    out->bound = out->bound == G_MAXINT64 ? best : MAX (best, -out->bound);
  else
    out->bound = pool.plan->len > 0 ? MIN (best, out->bound) : out->bound;
  mix_search_free (s);
  return out;
}

void
cost_mix_result_free (CostMixResult *result)
{
  g_ptr_array_unref (result->plan);
  g_free (result);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/num.h"
#include "cost/mix.h"

G_BEGIN_DECLS

/* Above every bound and below the end of 63 bits, so that a table entry can be added to it. */
#define MIX_INF (G_GINT64_CONSTANT (1) << 61)
/* Bits of a table of what is still to come; boundaries that would need more are left out of bounds, never of answers. */
#ifndef MIX_TABLE_BITS
#define MIX_TABLE_BITS 9
#endif

/* A boundary to a group that was placed before. */
typedef struct
{
  guint slot;    /* of that group */
  guint earlier; /* that group */
  const CostMixBoundary *boundary;
  gboolean first; /* that group is the boundary's a */
} MixArc;

/* Groups one after another, so that few of them still have neighbours to come at any time; each of those holds a slot meanwhile.
 * Groups without boundaries come first. */
typedef struct
{
  guint *group;   /* by position */
  guint *slot;    /* by group; G_MAXUINT: needs none */
  GArray **arcs;  /* by group: MixArc; NULL: none */
  guint64 *open;  /* by position: slots held behind it, bit by bit */
  guint64 *freed; /* by position: slots given back behind it */
  guint n, n_alone, n_slots;
} MixOrder;

MixOrder *mix_order_new (const CostMix *mix);
void mix_order_free (MixOrder *order);
guint mix_bits (guint n_methods);

/* The best assignments found, different ones. */
typedef struct
{
  const CostMix *mix;
  GPtrArray *plan; /* CostMixPlan *, best first */
  guint wanted;
} MixPool;

/* Takes an assignment in if it keeps the limits and is among the best. */
void mix_pool_offer (MixPool *pool, const guint *method);
/* Money that a plan must stay below to be taken in: as a sum to be made small. */
gint64 mix_pool_ceiling (const MixPool *pool);

/* What a search works on: a set of methods that may be used, and what its figures weigh. */
typedef struct
{
  const CostMix *mix;
  MixOrder *order;
  MixPool *pool;
  const CostMixHow *how;
  gint64 started; /* monotonic */
  gint64 told;
  gboolean stopped;
  double share;
  /* limits */
  guint n_limits;
  gint64 *limit;       /* hours first if limited, then capacities */
  int *limit_method;   /* -1: hours */
  gint64 *limit_total; /* bound of any sum of it */
  /* weights: money x scale + sum of price x use of a limit, whole */
  gint64 scale;
  gint64 *price, *most_price;
  /* the set */
  guint32 set;
  guint n_set, bits, table_slots;
  guint *method; /* n_set */
  /* tables: what is still to come behind a position, by the code of the slots */
  gsize *offset; /* by position + 1 */
  gint64 *to_come, *hours_to_come;
  guint32 **codes; /* by position + 1 */
  guint *n_codes;
  /* a set that is closed: weights of its pairs, and of joints between them; the same sums parted otherwise (mix_sharpen()) */
  gboolean sharp;
  gint64 *unary;  /* [group * n_set + k], MIX_INF: not to be had */
  gint64 **joint; /* (nullable) by boundary: [k of a * n_set + k of b] */
  /* what the last evaluation chose, boundaries outside the tables left out */
  guint *chosen; /* by group: method */
  gint64 chosen_cost;
  gint64 *chosen_use; /* by limit */
} MixSearch;

/* Signed so that less is better. */
static inline gint64
mix_cost (const CostMix *mix, guint group, guint method)
{
  gint64 cost = mix->cost[(gsize) group * mix->n_methods + method];

  return cost == COST_MIX_NONE ? COST_MIX_NONE : mix->maximise ? -cost : cost;
}

/* How much of a limit one pair uses. */
static inline gint64
mix_use (const MixSearch *s, guint limit, guint group, guint method)
{
  gsize at = (gsize) group * s->mix->n_methods + method;

  if (s->limit_method[limit] < 0)
    return s->mix->hours[at];
  return (guint) s->limit_method[limit] == method ? s->mix->use[at] : 0;
}

/* Whether two methods are one and the same thing on a group. */
static inline gboolean
mix_same (const CostMix *mix, guint group, guint a, guint b)
{
  const int *same = mix->same ? mix->same + (gsize) group * mix->n_methods : NULL;

  return a == b || (same && same[a] == same[b]);
}

/* Whether a method of the set before the k-th is the same there and allowed. */
static inline gboolean
mix_twin (const MixSearch *s, guint group, guint k)
{
  for (guint i = 0; s->mix->same && i < k; i++)
    if (mix_same (s->mix, group, s->method[i], s->method[k]) && mix_cost (s->mix, group, s->method[i]) != COST_MIX_NONE)
      return TRUE;
  return FALSE;
}

gint64 mix_unmated (const CostMix *mix, const CostMixBoundary *boundary, guint method_a, guint method_b);
/* Set-up of a set of methods, shared tools once. */
gint64 mix_setup (const CostMix *mix, guint32 set);

MixSearch *mix_search_new (const CostMix *mix, MixPool *pool, const CostMixHow *how);
void mix_search_free (MixSearch *s);
void mix_search_set (MixSearch *s, guint32 set);
/* The least weighted sum of the set at the prices in force (limits taken off), MIX_INF when a group has no method; fills what was
 * chosen and the tables. @hours: weighs hours alone, into hours_to_come. */
gint64 mix_search_weigh (MixSearch *s, gboolean hours);
/* Prices of the limits that make the bound of the set large: exact for one limit, by subgradients for several. Returns the bound as
 * a weighted sum, MIX_INF when nothing keeps the limit on hours. Offers what it meets to the pool. */
gint64 mix_search_price (MixSearch *s);
/* FALSE: stop. */
gboolean mix_search_tick (MixSearch *s);

/* Makes the best assignment found better by changes of one and two groups, under a limit on hours. */
void mix_polish (MixSearch *s);

/* Weights of the pairs of the set into unary, at the prices in force. */
void mix_search_fill (MixSearch *s);
void mix_search_blunt (MixSearch *s); /* forgets unary and joint */
/* Weight of a joint between a group placed before, by its k-th method @other, and one by its @k-th. */
gint64 mix_joint_weight (const MixSearch *s, const MixArc *arc, guint other, guint k);
/* Parts the weights of joints between the two groups, so that the least of every group alone says most of the sum; takes out pairs
 * that no assignment below the ceiling has. Returns the bound, weighted, limits not taken off. Messages along edges (max-product
 * linear programming, Globerson and Jaakkola 2007). */
gint64 mix_sharpen (MixSearch *s, gint64 base);

/* Closes the set: every assignment to its methods is compared, or left out by a bound. Returns what no assignment that was left
 * open is below, G_MAXINT64 when none was. */
gint64 mix_sweep (MixSearch *s);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/buildup.h"
#include "duct/candidates.h"

G_BEGIN_DECLS

/* A way to build a run and what it costs. */
typedef struct
{
  DuctCandidate candidate;
  double cost;     /* of one run, in the currency: the build-up's line "cost" without its fixed amounts, not rounded */
  gint64 net_mg;   /* sheet of one run */
  gboolean priced; /* allowed by the tables, and could be measured */
} CostCandidate;

typedef struct
{
  GArray *list;    /* CostCandidate, the cheapest first, those that are not priced behind */
  int best;        /* 0, or -1 when none is priced */
} CostChoice;

/* Prices every candidate of a resolved @shape (its own stiffening and, where it is a pin, its gauge cleared) by a method whose
 * connection it may have, with the basis' prices and likely minutes under the conditions given. Equal costs: the lighter one, then
 * the one with the lighter gauge and the fewer parts. @refused: with those that the tables refuse. (transfer full) */
CostChoice *cost_choose (const CostBasis *basis, int method, int set, const DuctShape *shape, const DuctWishes *wishes,
                         const LabourFactors *factors, gint64 floor_ppm, gboolean refused);
void cost_choice_free (CostChoice *choice);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CostChoice, cost_choice_free)

static inline const CostCandidate *
cost_choice_at (const CostChoice *choice, int i)
{
  return &g_array_index (choice->list, CostCandidate, i);
}

G_END_DECLS

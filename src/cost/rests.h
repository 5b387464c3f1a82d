/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/buildup.h"

G_BEGIN_DECLS

/* What an answer rests on, by status of its figures. */
typedef struct
{
  int items, steps;   /* figures used: items with a quantity, steps with time */
  NumWide money;      /* material and rental at those prices, 1e-10 */
  NumWide ms;         /* worker ms at those minutes, before conditions */
} CostRests;

/* Fills @rests[DUCT_N_STATUSES] for a vector of totals. A step's status that is not a known word counts as the shop's own. */
void cost_rests (const CostBasis *basis, const gint64 *vector, CostRests rests[DUCT_N_STATUSES]);

/* TRUE for figures that no bid should rest on unsaid: invented demo and from memory. */
gboolean cost_status_weak (DuctStatus status);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/compare.h"

G_BEGIN_DECLS

/* Parts of an option's cost (the build-up line "cost") that follow one figure in proportion, in currency units without rounding: what
 * is added to the sums, with the rates of later lines (tax, site general) that follow it. */
double cost_part_of_sums (const CostBasis *basis, const CostSums *sums);
double cost_part_item (const CostOption *option, int item);
double cost_part_labour (const CostOption *option, gboolean shop);
/* Minutes of one step, at all its places; the option needs slot_time. @slot_time: of another state of the minutes (their low or high
 * end) on the same slots, NULL: the option's own. */
double cost_part_step (const CostOption *option, int step, const NumWide *slot_time);
/* The whole: cost without rounding, and the tooling. */
double cost_part_whole (const CostOption *option);

/* What the gain of one way over another does while one figure moves, all others as they are. */
typedef struct
{
  double low, now, high;       /* the figure */
  double gain_low, gain, gain_high; /* currency, tooling included */
  gboolean turns;              /* the gain changes sign at a figure of zero or above */
  double even;                 /* that figure, NAN */
} CostSwing;

/* A gain that is linear in the figure: @slope a unit of it. Even point: now - gain / slope. */
void cost_swing_linear (CostSwing *swing, double low, double now, double high, double gain, double slope);
static inline double
cost_swing_width (const CostSwing *swing)
{
  double width = swing->gain_high - swing->gain_low;

  return width < 0 ? -width : width;
}

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/sensitivity.h"

#include "cost/solve.h"

#include <math.h>

static int
cost_line (const CostBasis *basis)
{
  int line = buildup_find (basis, "cost");

  return line >= 0 ? line : cost_price_line (basis);
}

double
cost_part_of_sums (const CostBasis *basis, const CostSums *sums)
{
  static const CostSums empty;
  int line = cost_line (basis);

  return line < 0 ? 0 : buildup_smooth (basis, sums, line) - buildup_smooth (basis, &empty, line);
}

double
cost_part_item (const CostOption *o, int item)
{
  const CostBasis *basis = o->buildup->basis;
  CostSums part = { 0 };

  part.items[catalogue_item (basis->catalogue, item)->group] = (NumWide) o->vector[item] * basis->price[item];
  return cost_part_of_sums (basis, &part);
}

double
cost_part_labour (const CostOption *o, gboolean shop)
{
  CostSums part = { 0 };

  part.labour[shop] = o->sums.labour[shop];
  return cost_part_of_sums (o->buildup->basis, &part);
}

double
cost_part_step (const CostOption *o, int step, const NumWide *slot_time)
{
  const CostBasis *basis = o->buildup->basis;
  const NumWide *time = slot_time ? slot_time : o->sums.slot_time;
  CostSums part = { 0 };

  for (int s = 0; time && s < basis->n_slots; s++)
    if (basis->slots[s].step == step)
      part.labour[basis->slots[s].place == LABOUR_SHOP] += time[s] * basis->rate[basis->slots[s].crew];
  return cost_part_of_sums (basis, &part);
}

double
cost_part_whole (const CostOption *o)
{
  int line = cost_line (o->buildup->basis);
  double cost = line < 0 ? 0 : buildup_smooth (o->buildup->basis, &o->sums, line);

  return cost + (double) o->once / pow (10, o->buildup->decimals);
}

/* Sums of binary fractions that should be zero. */
#define NOTHING 1e-9

void
cost_swing_linear (CostSwing *swing, double low, double now, double high, double gain, double slope)
{
  if (fabs (slope) < NOTHING)
    slope = 0;
  if (fabs (gain) < NOTHING)
    gain = 0;
  *swing = (CostSwing) { .low = low,
                         .now = now,
                         .high = high,
                         .gain_low = gain + slope * (low - now),
                         .gain = gain,
                         .gain_high = gain + slope * (high - now),
                         .even = NAN };
  if (slope == 0)
    return;
  swing->even = now - gain / slope;
  swing->turns = swing->even >= 0;
  if (!swing->turns)
    swing->even = NAN;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/basis.h"

G_BEGIN_DECLS

/* Exact money and time of a set of totals, before any rounding. */
typedef struct
{
  NumWide items[COST_N_GROUPS]; /* 1e-10 of the currency */
  NumWide labour[2];            /* [0] field, [1] shop: worker ms x ppm x ten-thousandths an hour */
  NumWide time[2];              /* worker ms x ppm */
  NumWide joint_time;           /* of steps placed at the joint, ms x ppm */
  NumWide joint_hardware;       /* 1e-10: items that serve the joint */
  NumWide *slot_time;           /* (nullable) borrowed, n_slots: worker ms x ppm by slot, added to like the rest; break-evens by
                                   step need it */
} CostSums;

/* Rounding of labour[] to minor units needs this divisor at 0 decimals: 3600 s, 1000 ms, 1e6 ppm, 1e4. */
#define COST_LABOUR_DEN ((NumWide) 3600 * 1000 * 1000000 * 10000)
#define COST_TIME_DEN 3.6e12 /* ms x ppm in an hour */

/* Adds a vector times @times (typical floors) under the conditions of its cell. @floor_ppm: share of joints made on the floor. */
void cost_sums_add (CostSums *sums, const CostBasis *basis, const gint64 *vector, const LabourFactors *factors,
                    gint64 floor_ppm, gint64 times);
/* The factor of a slot under the conditions of a cell, ppm ("joint" mixes floor and air by the share; learning and the share of
 * joints remade are in it; of a shared slot it is what is saved, so not above 0). */
gint64 cost_slot_factor (const CostSlot *slot, const LabourFactors *factors, gint64 floor_ppm);
/* What is bought of an item where a share of the joints is remade: the quantity of the runs, and of what a remade joint takes again
 * that share once more, rounded to a whole millionth. Figures of a cell are rounded together, so the runs of a cell, each by itself,
 * may differ from it by a millionth of a unit a run; without remakes nothing is rounded. */
gint64 cost_item_quantity (const CostItem *item, gint64 quantity, const LabourFactors *factors);

typedef struct
{
  gint64 value; /* minor units */
} BuildUpValue;

typedef struct
{
  const CostBasis *basis; /* borrowed */
  int decimals;
  gsize n;
  gint64 *value;          /* minor units, by build-up line */
} BuildUp;

/* Every line rounded once to the currency's decimals, half away from zero; later lines are sums or rounded rates of lines. */
BuildUp *buildup_new (const CostBasis *basis, const CostSums *sums, int decimals);
void buildup_free (BuildUp *buildup);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (BuildUp, buildup_free)
/* Line index by key ("cost", "price"), -1 when the build-up has none. */
int buildup_find (const CostBasis *basis, const char *key);
/* Value of a line by key in minor units, 0 when there is none. */
gint64 buildup_get (const BuildUp *buildup, const char *key);

/* Splits every line over @n parts (systems, areas) by what each part puts into it, largest remainder; the parts of a line
 * add up to the line. @parts: sums of each part, which together are the whole. Result: value[line * n + part]. */
gint64 *buildup_break_out (const BuildUp *whole, const CostSums *parts, gsize n);

/* The line without any rounding, in currency units: for solving, never for printing. */
double buildup_smooth (const CostBasis *basis, const CostSums *sums, int line);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/buildup.h"

G_BEGIN_DECLS

/* Reading a build-up backwards: from a price that is wanted to what it leaves. Lines are found by key where the table has the
 * usual ones and by what they do where it has not. All indices are build-up lines, -1 when there is none. */

/* The line that is the price: the one of that key, else the last. */
int cost_price_line (const CostBasis *basis);
/* The line that is the profit: the one of that key, else the last markup or margin. */
int cost_profit_line (const CostBasis *basis);
/* The amount that ends the build-up: the line "adjustment", else the last amount behind the profit that the price counts. */
int cost_adjustment_line (const CostBasis *basis);

/* Share of the cost below (markup u) and share of the price that includes it (margin m), ppm: u = m / (1 - m), m = u / (1 + u).
 * Rounded half away from zero. Source: contractor-finance article on markup and margin, January 2026 (80,000 at 20 %). */
gint64 cost_markup_of_margin (gint64 margin_ppm); /* margin_ppm < 1 000 000 */
gint64 cost_margin_of_markup (gint64 markup_ppm); /* markup_ppm > -1 000 000 */

/* Profit as it stands. The final adjustment is given out of the profit, so that what is left is both together. */
typedef struct
{
  gint64 profit;        /* minor units: profit line and final adjustment */
  gint64 margin_ppm;    /* of the price */
  gint64 markup_ppm;    /* of the price less the profit */
} CostProfit;

void cost_profit (const BuildUp *buildup, CostProfit *out);

/* Rate of a worker-hour of the shop or the field, ten-thousandths: the average of the hours in @sums, rounded, or where all crews
 * there have one rate that rate. @mixed: (out) (optional): whether it is an average of different rates. 0 without a crew there. */
gint64 cost_crew_rate (const CostBasis *basis, const CostSums *sums, gboolean shop, gboolean *mixed);

/* What one more worker-hour in the field costs, in currency units: the average rate of the field hours in @sums (where there
 * are none, of the first field crew) x (1 + the rates within the cost that follow field labour, "site general"). */
double cost_field_hour (const CostBasis *basis, const CostSums *sums);

typedef struct
{
  int line;             /* the final adjustment */
  gint64 adjustment;    /* ten-thousandths: what that line must say */
  gint64 price;         /* minor units: the price it gives; differs from the wanted one where a rate behind it cannot hit it */
  CostProfit left;
  double overrun_hours; /* field worker-hours that the profit left would pay; below 0: the price is under cost already */
} CostSolution;

/* Solves for a price: what the final adjustment must be, what is left of the profit, and the overrun in the field that this
 * profit would pay: profit / (field rate x (1 + site general)). @wanted: minor units. FALSE with a fault when the build-up has
 * no line for it or the price does not follow it. */
gboolean cost_solve_price (const CostBasis *basis, const CostSums *sums, int decimals, gint64 wanted, CostSolution *out,
                           Fault **fault);

/* Items of a group with a quantity in a vector of totals. */
int cost_count_items (const CostBasis *basis, const gint64 *vector, CostGroup group);

G_END_DECLS

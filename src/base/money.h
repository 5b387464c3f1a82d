/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/num.h"

G_BEGIN_DECLS

/* Prices and rates are whole ten-thousandths of the currency unit, quantities whole millionths of the priced unit, so
 * that a product is a whole number of 1e-10 of the currency unit and sums are exact. */
#define MONEY_PRICE_DECIMALS 4
#define MONEY_QUANTITY_DECIMALS 6
#define MONEY_EXACT_DECIMALS 10

/* Rounds an exact amount (1e-10) to the currency's @decimals (0 to 4), halves away from zero. An amount
 * beyond 64 bits stops at their ends (readers of prices and quantities keep far below). */
gint64 money_round (NumWide exact, int decimals);

/* Whole minor units as text: (20759042, 2, TRUE) gives "207,590.42". */
char *money_print (gint64 minor, int decimals, gboolean group);

/* rate_ppm of @minor, rounded half away from zero: 72500 of 5538079 is 401511 (7.25 %). */
gint64 money_rate (gint64 minor, gint64 rate_ppm);

G_END_DECLS

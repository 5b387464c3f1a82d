/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/money.h"

#include "base/decimal.h"

/* Money that does not fit 64 bits stops at the ends: the readers of prices and quantities keep amounts far below. */
static gint64
narrow_or_end (NumWide amount)
{
  gint64 out;

  if (num_narrow (amount, &out))
    return out;
  return amount < 0 ? G_MININT64 : G_MAXINT64;
}

gint64
money_round (NumWide exact, int decimals)
{
  NumWide unit = 1;

  for (int i = CLAMP (decimals, 0, MONEY_PRICE_DECIMALS); i < MONEY_EXACT_DECIMALS; i++)
    unit *= 10;
  return narrow_or_end (num_wide_div (exact, unit));
}

char *
money_print (gint64 minor, int decimals, gboolean group)
{
  return decimal_print (minor, decimals, decimals, group);
}

gint64
money_rate (gint64 minor, gint64 rate_ppm)
{
  return narrow_or_end (num_wide_div ((NumWide) minor * rate_ppm, 1000000));
}

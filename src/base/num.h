/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* 128 bits for sums and products of exact quantities. */
__extension__ typedef __int128 NumWide;

/* a / b rounded to the nearest whole number, halves away from zero (as a spreadsheet's ROUND does). b must not be 0. */
NumWide num_wide_div (NumWide a, NumWide b);

/* The same for 64 bits; inline because the pricing loop uses it. b > 0. */
static inline gint64
num_div (gint64 a, gint64 b)
{
  gint64 q = a / b, r = a % b;
  if (r >= 0)
    return q + (r >= b - r);
  return q - (-r >= b + r);
}

/* a * b / d, rounded half away from zero, exact in between. FALSE when d <= 0 or the result does not fit. */
gboolean num_mul_div (gint64 a, gint64 b, gint64 d, gint64 *out);

/* Rounds @x to the nearest whole number, halves away from zero; FALSE for NaN, infinities and |x| >= 9.0e18. */
gboolean num_from_double (double x, gint64 *out);

/* Narrows; FALSE when it does not fit. */
gboolean num_narrow (NumWide a, gint64 *out);

double num_wide_to_double (NumWide a);

/* Decimal digits of @a with @decimals digits after the point, no grouping, "-" in front when negative. */
char *num_wide_print (NumWide a, int decimals);

/* Splits @total into n whole parts in proportion to @weights (>= 0; all zero: as equal parts), the parts adding up to
 * @total: floor of each share, what is left over to the largest remainders, ties to the first in order.
 * A negative total is split as its positive twin. @weights NULL: equal parts; a negative weight counts as 0.
 * Source: methods of apportionment, largest remainder (Hamilton). */
void num_apportion (gint64 total, const NumWide *weights, gsize n, gint64 *parts);

G_END_DECLS

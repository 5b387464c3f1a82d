/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/fault.h"

G_BEGIN_DECLS

/* Exact decimal text <-> whole number of 10^-decimals; never passes through a binary floating point number.
 *
 * Parse accepts surrounding blanks, a sign (+, -, U+2212), digits with optional well-placed thousands commas
 * ("1,900.00"), a decimal point (".98" and "12." too). Digits beyond @decimals are refused unless they are zeros. At
 * most 18 digits in all, zeros in front not counted. A decimal comma is refused with words that say to use a point. */
gboolean decimal_parse (const char *text, int decimals, gint64 *out, Fault **fault);

/* As decimal_parse(), and also a fraction "1/481"; gives a reduced numerator and denominator (den > 0). */
gboolean decimal_parse_ratio (const char *text, gint64 *num, gint64 *den, Fault **fault);

/* At least @min_decimals digits after the point, then no trailing zeros: (98000, 5, 2) gives "0.98".
 * @group: thousands commas. */
char *decimal_print (gint64 value, int decimals, int min_decimals, gboolean group);

/* A floating point figure in decimal notation to @digits significant digits, C locale, trailing zeros dropped, never
 * an exponent: for JSON lines and CSV. A figure that is no number (NaN, an infinity) gives "null", JSON's word. */
char *decimal_print_significant (double value, int digits);

G_END_DECLS

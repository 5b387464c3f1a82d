/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/fault.h"

G_BEGIN_DECLS

/* Entered lengths are whole nanometres: 1 in = 25 400 000, 1/64 in = 396 875, exactly. */
#define LENGTH_NM_PER_IN G_GINT64_CONSTANT (25400000)
#define LENGTH_NM_PER_FT G_GINT64_CONSTANT (304800000)
#define LENGTH_NM_PER_MM G_GINT64_CONSTANT (1000000)
#define LENGTH_NM_PER_M G_GINT64_CONSTANT (1000000000)

typedef enum
{
  LENGTH_IN,
  LENGTH_FT,
  LENGTH_MM,
  LENGTH_M,
} LengthUnit;

typedef enum
{
  LENGTH_STYLE_IN,       /* "24", "12 1/2", else decimal inches */
  LENGTH_STYLE_FT,       /* decimal feet, "46", "2.5" */
  LENGTH_STYLE_FT_IN,    /* 2'-6 1/2" */
  LENGTH_STYLE_MM,
  LENGTH_STYLE_M,
} LengthStyle;

/* A length as people type it; a bare number is in @unit. Accepts decimals (".5"), fractions ("1/2", "12 1/2",
 * "12-1/2"), marks and words in any mix that is unambiguous: 2'-6 1/2", 2' 6", 2 ft 6 in, 30", 30 in, 30 inches, 6.5ft,
 * 600 mm, 60 cm, 0.75 m; typographic primes and quotes too; a leading sign. Any power-of-two denominator to 64 and
 * decimals are exact; a decimal with more digits than a nanometre holds is rounded. At most about 9e9 m (fits 64
 * bits), else a fault. No commas: "1,200" and "12,5" are refused.
 * Inches of 12 or more behind feet are taken as they stand: 2'-14" is 38 in.
 * @fault: points at the first character that was not understood. */
gboolean length_parse (const char *text, LengthUnit unit, gint64 *nm, Fault **fault);

/* As above for the start of @text; *end is set behind what was read (blanks skipped). For the size grammar. */
gboolean length_parse_prefix (const char *text, LengthUnit unit, gint64 *nm, const char **end, Fault **fault);

/* Whole tenths of a millimetre that are no 64ths of an inch: entered in metric units, surely. */
gboolean length_is_metric (gint64 nm);

/* Text that length_parse() reads back to the same nanometres when the default unit is that of the style; a metric figure in a
 * style of inches or feet keeps its unit ("600 mm"). */
char *length_print (gint64 nm, LengthStyle style);

/* The same with the unit behind it ("24 in", "2.5 ft", "600 mm"). */
char *length_print_unit (gint64 nm, LengthStyle style);

G_END_DECLS

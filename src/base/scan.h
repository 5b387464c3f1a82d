/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Small steps shared by the readers of typed figures; for base/ only. All text is NUL-terminated and may hold any
 * bytes: nothing here reads behind the NUL. */

#include "base/fault.h"
#include "base/num.h"

G_BEGIN_DECLS

/* A figure as a fraction, den > 0. */
typedef struct
{
  NumWide num;
  NumWide den;
} ScanValue;

/* Behind blanks: ASCII ones and the no-break, thin and narrow no-break space that copied text brings along. */
const char *scan_blanks (const char *p);

/* Behind an optional sign (+, -, U+2212) and blanks. */
const char *scan_sign (const char *p, gboolean *negative);

/* Behind the first of @words (NULL-terminated, longest first) that starts at @p, without ASCII case; NULL when none. */
const char *scan_any (const char *p, const char *const *words);

/* An unsigned figure: "12", "12.", ".5", "1/2", "12 1/2", "12-1/2". *p is moved behind it. The denominator has at most
 * 6 digits; 28 digits are read of a decimal, further ones behind the point are dropped. */
gboolean scan_value (const char *text, const char **p, ScanValue *out, Fault **fault);

/* The fault for whatever stands at @p: the end of the text, a comma, a second point, any other character. */
Fault *scan_unexpected (const char *text, const char *p, const char *remedy);

/* Place of @p in @text for a Fault. */
int scan_at (const char *text, const char *p);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Quantile of a sorted sample by linear interpolation at 1 + (n - 1) p (labelled choice L10, "type 7" of Hyndman and
 * Fan 1996). NAN for an empty sample. */
double quantile_of_sorted (const double *sorted, gsize n, double p);

/* Distribution-free interval of the p-quantile from order statistics (Hahn and Meeker, Statistical Intervals, 1991):
 * the largest l with B (l - 1; n, p) <= (1 - confidence) / 2 and the smallest u with B (u - 1; n, p) >= (1 +
 * confidence) / 2; the interval is the l-th to the u-th of the sorted sample, counted from 1. l = 0 or u = n + 1: so
 * small a sample gives no bound on that side. */
typedef struct
{
  gsize l, u;
  double coverage; /* B (u - 1) - B (l - 1), exact */
} QuantileOrder;

void quantile_order (gsize n, double p, double confidence, QuantileOrder *order);
/* The values there; -INFINITY, INFINITY where there is no bound. */
void quantile_interval (const double *sorted, gsize n, double p, double confidence, double *low, double *high);

/* Half the width of the band around the whole sample curve: sqrt (ln (2 / (1 - confidence)) / (2 n)), the inequality
 * of Dvoretzky, Kiefer and Wolfowitz with Massart's constant (Annals of Probability 18, 1990). */
double quantile_band (gsize n, double confidence);

/* Wilson's interval of a share, @k of @n. */
void quantile_share (gsize k, gsize n, double confidence, double *low, double *high);

G_END_DECLS

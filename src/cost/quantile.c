/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/quantile.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

double
quantile_of_sorted (const double *sorted, gsize n, double p)
{
  double at = (double) (n - 1) * CLAMP (p, 0, 1);
  gsize i = (gsize) at;

  if (n == 0)
    return NAN;
  if (i + 1 >= n)
    return sorted[n - 1];
  return sorted[i] + (at - (double) i) * (sorted[i + 1] - sorted[i]);
}

/* B (k; n, p), none below k = 0. */
static double
below (gint64 k, gsize n, double p)
{
  return k < 0 ? 0 : k >= (gint64) n ? 1 : gsl_cdf_binomial_P ((unsigned int) k, p, (unsigned int) n);
}

/* The smallest k with B (k) >= q, @strict: > q. */
static gint64
first_at (gsize n, double p, double q, gboolean strict)
{
  gint64 low = -1, high = (gint64) n; /* B (low) is too little, B (high) = 1 is enough */

  while (high - low > 1)
    {
      gint64 middle = low + (high - low) / 2;
      double b = below (middle, n, p);
      if (strict ? b > q : b >= q)
        high = middle;
      else
        low = middle;
    }
  return high;
}

void
quantile_order (gsize n, double p, double confidence, QuantileOrder *order)
{
  double tail = (1 - confidence) / 2;

  if (n == 0)
    {
      *order = (QuantileOrder){ 0, 1, 1 };
      return;
    }
  /* The first k with B (k) > tail is l itself, as B (l - 1) is the last that is not. */
  order->l = (gsize) first_at (n, p, tail, TRUE);
  order->u = (gsize) first_at (n, p, 1 - tail, FALSE) + 1;
  order->coverage = below ((gint64) order->u - 1, n, p) - below ((gint64) order->l - 1, n, p);
}

void
quantile_interval (const double *sorted, gsize n, double p, double confidence, double *low, double *high)
{
  QuantileOrder order;

  quantile_order (n, p, confidence, &order);
  *low = order.l < 1 ? -INFINITY : sorted[order.l - 1];
  *high = order.u > n ? INFINITY : sorted[order.u - 1];
}

double
quantile_band (gsize n, double confidence)
{
  return sqrt (log (2 / (1 - confidence)) / (2 * (double) n));
}

void
quantile_share (gsize k, gsize n, double confidence, double *low, double *high)
{
  double z = gsl_cdf_ugaussian_Pinv ((1 + confidence) / 2), m = (double) n, p = (double) k / m;
  double middle = (p + z * z / (2 * m)) / (1 + z * z / m);
  double half = z / (1 + z * z / m) * sqrt (p * (1 - p) / m + z * z / (4 * m * m));

  *low = k == 0 ? 0 : MAX (middle - half, 0);
  *high = k == n ? 1 : MIN (middle + half, 1);
}

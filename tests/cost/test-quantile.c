/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Quantiles of samples and their intervals. Sources of the formulas: Hyndman and Fan 1996 (type 7); Hahn and Meeker
 * 1991 (order statistics); Massart 1990 (band). Values computed apart from this program. */
#include "cost/quantile.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>

#define near(x, wanted, within) g_assert_cmpfloat_with_epsilon ((x), (wanted), (within))

static const double sample[] = { 2.7, 2.9, 3.1, 3.3, 3.6, 3.8, 4.0, 5.2 };

static void
test_type_7 (void)
{
  static const double rows[][2] = { { 0.1, 2.84 }, { 0.25, 3.05 }, { 0.5, 3.45 }, { 0.8, 3.92 },
                                    { 0.9, 4.36 }, { 0, 2.7 },     { 1, 5.2 } };
  double last = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    near (quantile_of_sorted (sample, 8, rows[i][0]), rows[i][1], 1e-12);
  /* Against GSL's own, and rising. */
  for (double p = 0; p <= 1; p += 1 / 64.0)
    {
      double x = quantile_of_sorted (sample, 8, p);
      near (x, gsl_stats_quantile_from_sorted_data (sample, 1, 8, p), 1e-12);
      g_assert_cmpfloat (x, >=, last);
      last = x;
    }
  g_assert_cmpfloat (quantile_of_sorted (sample, 1, 0.8), ==, 2.7);
  g_assert_true (isnan (quantile_of_sorted (sample, 0, 0.8)));
}

static void
test_order (void)
{
  static const struct
  {
    gsize n;
    double p;
    gsize l, u;
    double coverage;
  } rows[] = {
    { 20, 0.5, 6, 15, 0.958611 },
    { 100, 0.5, 40, 61, 0.964800 },
    { 1000, 0.8, 775, 825, 0.951900 },
    { 100000, 0.5, 49690, 50311, 0.950444 },
    { 100000, 0.8, 79752, 80249, 0.950537 },
    { 100000, 0.9, 89814, 90187, 0.950690 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      QuantileOrder order;
      quantile_order (rows[i].n, rows[i].p, 0.95, &order);
      g_assert_cmpuint (order.l, ==, rows[i].l);
      g_assert_cmpuint (order.u, ==, rows[i].u);
      near (order.coverage, rows[i].coverage, 6e-7);
    }
}

/* Five values bound no median at 95 %: B (0; 5, 1/2) = 1/32 > 0.025. */
static void
test_too_few (void)
{
  QuantileOrder order;
  double low, high;

  quantile_order (5, 0.5, 0.95, &order);
  g_assert_cmpuint (order.l, ==, 0);
  g_assert_cmpuint (order.u, ==, 6);
  quantile_interval (sample, 5, 0.5, 0.95, &low, &high);
  g_assert_true (isinf (low) && low < 0 && isinf (high) && high > 0);
  /* Six do: B (0; 6, 1/2) = 1/64. */
  quantile_interval (sample, 6, 0.5, 0.95, &low, &high);
  g_assert_cmpfloat (low, ==, 2.7);
  g_assert_cmpfloat (high, ==, 3.8);
}

static void
test_band (void)
{
  near (quantile_band (1000, 0.95), 0.042947, 5e-7);
  near (quantile_band (100000, 0.95), 0.004295, 5e-7);
}

/* Wilson's interval solves (p - k/n)^2 = z^2 p (1 - p) / n at both ends; z of 95 % is 1.959964. */
static void
test_share (void)
{
  static const gsize rows[][2] = { { 1, 10 }, { 57, 100 }, { 769, 1000 }, { 76879, 100000 } };
  double low, high;

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double n = (double) rows[i][1], share = (double) rows[i][0] / n;
      quantile_share (rows[i][0], rows[i][1], 0.95, &low, &high);
      near ((share - low) / sqrt (low * (1 - low) / n), 1.959964, 1e-6);
      near ((high - share) / sqrt (high * (1 - high) / n), 1.959964, 1e-6);
    }
  quantile_share (0, 100, 0.95, &low, &high);
  g_assert_cmpfloat (low, ==, 0);
  quantile_share (100, 100, 0.95, &low, &high);
  g_assert_cmpfloat (high, ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/quantile/type-7", test_type_7);
  g_test_add_func ("/quantile/order", test_order);
  g_test_add_func ("/quantile/too-few", test_too_few);
  g_test_add_func ("/quantile/band", test_band);
  g_test_add_func ("/quantile/share", test_share);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Low, likely, high. Check values: published where named, else computed by numerical integration and closed forms
 * independent of this program. */
#include "cost/spread.h"

#include <math.h>
#include <string.h>

#define near(x, wanted, within) g_assert_cmpfloat_with_epsilon ((x), (wanted), (within))

/* Published: Russell and Taylor, Operations Management, project management, solved example of seven activities; the
 * four on the critical path have mean 24 and variance 4 + 4/9 + 4/9 + 1/9 = 5. The other two spreads computed. */
static void
test_moments (void)
{
  static const double path[][3] = { { 5, 8, 17 }, { 3, 5, 7 }, { 4, 6, 8 }, { 3, 4, 5 } };
  static const struct
  {
    SpreadKind kind;
    double mean, variance, each[4];
  } rows[] = { { SPREAD_PERT_CLASSICAL, 24, 5, { 4, 4 / 9.0, 4 / 9.0, 1 / 9.0 } },
               { SPREAD_TRIANGULAR, 25, 8, { 6.5, 2 / 3.0, 2 / 3.0, 1 / 6.0 } },
               { SPREAD_PERT, 24, 5.857143, { 4.571429, 0.571429, 0.571429, 0.142857 } } };

  for (gsize r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      double mean = 0, variance = 0;
      for (int i = 0; i < 4; i++)
        {
          Spread s = { rows[r].kind, path[i][0], path[i][1], path[i][2] };
          mean += spread_mean (&s);
          variance += spread_variance (&s);
          near (spread_variance (&s), rows[r].each[i], 5e-7);
        }
      near (mean, rows[r].mean, 1e-12);
      near (variance, rows[r].variance, 5e-7);
    }
  /* Symmetric: exact over classical variance is 9/7. */
  Spread exact = { SPREAD_PERT, 2, 3, 4 }, classical = { SPREAD_PERT_CLASSICAL, 2, 3, 4 };
  near (spread_variance (&exact) / spread_variance (&classical), 9 / 7.0, 1e-12);
}

/* Computed: single (5, 8, 17). */
static void
test_quantiles (void)
{
  static const struct
  {
    SpreadKind kind;
    double p10, p50, p90;
  } rows[] = { { SPREAD_TRIANGULAR, 6.897367, 9.651531, 13.713665 }, { SPREAD_PERT, 6.346820, 8.765722, 12.006685 } };

  for (gsize r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      Spread s = { rows[r].kind, 5, 8, 17 };
      near (spread_quantile (&s, 0.1), rows[r].p10, 6e-7);
      near (spread_quantile (&s, 0.5), rows[r].p50, 6e-7);
      near (spread_quantile (&s, 0.9), rows[r].p90, 6e-7);
      near (spread_below (&s, rows[r].p10), 0.1, 1e-6);
    }
}

/* The classical shape drawn has the classical mean and variance: its quantiles are integrated. */
static void
test_classical_shape (void)
{
  static const double likely[] = { 0, 0.15, 0.5, 1 };

  for (gsize i = 0; i < G_N_ELEMENTS (likely); i++)
    {
      Spread s = { SPREAD_PERT_CLASSICAL, 0, likely[i], 1 };
      double mean = 0, square = 0;
      const int n = 20000;
      for (int k = 0; k < n; k++)
        {
          double x = spread_quantile (&s, (k + 0.5) / n);
          mean += x / n;
          square += x * x / n;
        }
      near (mean, spread_mean (&s), 2e-6);
      near (square - mean * mean, 1 / 36.0, 2e-6);
    }
}

/* Every shape at every depth: the table against the inverse itself, 1e-6 of the value above low where it is small,
 * and rising. */
static void
test_tables (void)
{
  for (int kind = 0; kind < SPREAD_N_KINDS; kind++)
    for (int m = 0; m <= 20; m++)
      {
        Spread s = { (SpreadKind) kind, 0, m / 20.0, 1 };
        g_autoptr (SpreadTable) table = spread_table_new (&s);
        double last = -1;
        for (int i = 1; i < 4000; i++)
          {
            /* dense at both ends, to 1e-9 */
            double z = i / 4000.0, u = z < 0.5 ? 0.5 * pow (10, (2 * z - 1) * 9) : 1 - 0.5 * pow (10, (1 - 2 * z) * 9),
                   x, wanted;
            spread_table_fill (table, &u, &x, 1);
            wanted = spread_quantile (&s, u);
            if (fabs (x - wanted) > 1e-6 * MIN (wanted, 1 - wanted) + 1e-12)
              g_test_message ("%s, likely %g, u %.12g: %.12g, not %.12g", spread_keys[kind], s.likely, u, x, wanted);
            g_assert_cmpfloat (fabs (x - wanted), <=, 1e-6 * MIN (wanted, 1 - wanted) + 1e-12);
            g_assert_cmpfloat (x, >=, last);
            last = x;
          }
      }
}

static void
test_ends (void)
{
  Spread s = { SPREAD_PERT, 2, 2, 5 };
  g_autoptr (SpreadTable) table = spread_table_new (&s);
  static const double u[] = { 0, 1e-12, 0.5, 1 };
  double x[4];
  Spread constant = { SPREAD_PERT, 3, 3, 3 };

  spread_table_fill (table, u, x, 4);
  g_assert_cmpfloat (x[0], ==, 0);
  g_assert_cmpfloat (x[1], >, 0);
  g_assert_cmpfloat (x[1], <, 1e-11);
  near (2 + 3 * x[2], spread_quantile (&s, 0.5), 1e-8);
  g_assert_cmpfloat (x[3], ==, 1);
  g_assert_true (spread_check (&constant, "x", NULL));
  g_assert_cmpint (spread_shape (&constant), ==, -1);
  g_assert_cmpfloat (spread_variance (&constant), ==, 0);
  g_assert_cmpfloat (spread_quantile (&constant, 0.3), ==, 3);
  for (int kind = 0; kind < SPREAD_N_KINDS; kind++)
    {
      Spread end = { (SpreadKind) kind, 0, 1, 1 };
      g_assert_true (spread_check (&end, NULL, NULL));
      g_assert_cmpfloat (spread_quantile (&end, 1), ==, 1);
      near (spread_below (&end, spread_quantile (&end, 0.25)), 0.25, 1e-12);
    }
}

static void
test_refused (void)
{
  static const struct
  {
    double low, likely, high;
    const char *words, *remedy;
  } rows[] = { { 9, 8, 17, "low 9 is above likely 8", "8, 9, 17" },
               { 5, 18, 17, "likely 18 is above high 17", "5, 17, 18" },
               { NAN, 8, 17, "not all numbers", "enter low, likely and high" } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      Spread s = { SPREAD_PERT, rows[i].low, rows[i].likely, rows[i].high };
      g_autoptr (Fault) fault = NULL;
      g_assert_false (spread_check (&s, "raise and hold", &fault));
      g_assert_nonnull (strstr (fault->what, rows[i].words));
      g_assert_nonnull (strstr (fault->what, "raise and hold"));
      g_assert_nonnull (strstr (fault->remedy, rows[i].remedy));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/spread/moments", test_moments);
  g_test_add_func ("/spread/quantiles", test_quantiles);
  g_test_add_func ("/spread/classical-shape", test_classical_shape);
  g_test_add_func ("/spread/tables", test_tables);
  g_test_add_func ("/spread/ends", test_ends);
  g_test_add_func ("/spread/refused", test_refused);
  return g_test_run ();
}

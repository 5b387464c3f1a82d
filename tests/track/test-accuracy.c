/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Measures of accuracy against a published example: Hyndman and Athanasopoulos, Forecasting: Principles and Practice, 2nd ed. 2018,
 * section on forecast accuracy, quarterly beer production (ausbeer): three simple forecasts of 2008 Q1 to 2010 Q2 from 1992 Q1 on. */
#include "base/csv.h"
#include "track/accuracy.h"

#include <math.h>
#include <string.h>

#define TRAIN 64
#define TEST 10
#define NEAR(x, wanted, places) g_assert_cmpfloat_with_epsilon (x, wanted, 0.5001 * pow (10, -(places)))

static void
read_series (double *value)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "ausbeer_1992_2010.csv", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (CsvTable) table = csv_read_file (path, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (table->row->len, ==, TRAIN + TEST);
  for (guint i = 0; i < table->row->len; i++)
    {
      value[i] = g_ascii_strtod (csv_cell (table, i, csv_column (table, "value")), NULL);
      g_assert_cmpstr (csv_cell (table, i, csv_column (table, "set")), ==, i < TRAIN ? "train" : "test");
    }
}

/* Mean error of "the same quarter last year" over the training set, which MASE divides by. */
static double
scale (const double *value)
{
  double sum = 0;

  for (int i = 4; i < TRAIN; i++)
    sum += fabs (value[i] - value[i - 4]);
  return sum / (TRAIN - 4);
}

typedef struct
{
  double rmse, mae, mape, mase, typical, wape, within_10;
  int digits; /* behind the point of the first four, as published */
} Expected;

static void
check (const double *value, const double *forecast, const Expected *expected)
{
  AccuracyPair pair[TEST];
  Accuracy a;

  for (int i = 0; i < TEST; i++)
    pair[i] = (AccuracyPair) { forecast[i], value[TRAIN + i] };
  accuracy_of (pair, TEST, &a);
  g_assert_cmpuint (a.n, ==, TEST);
  g_assert_cmpuint (a.left_out, ==, 0);
  NEAR (a.rmse, expected->rmse, expected->digits);
  NEAR (a.mae, expected->mae, expected->digits);
  NEAR (a.mape * 100, expected->mape, expected->digits);
  NEAR (a.mae / scale (value), expected->mase, expected->digits);
  /* Recomputed from the data by an independent program, not printed in the book. */
  NEAR (a.typical * 100, expected->typical, 6);
  NEAR (a.wape * 100, expected->wape, 6);
  NEAR (a.within_10, expected->within_10, 6);
}

static void
test_beer (void)
{
  /* A public transcript of the book's example, seven digits. */
  static const Expected mean = { 38.44724, 34.82500, 8.283390, 2.435315, 7.789864, 8.260199, 0.6, 5 };
  /* The book's table, two decimals (from memory). */
  static const Expected last = { 62.69, 57.40, 14.18, 4.01, 14.113556, 13.614801, 0.2, 2 };
  static const Expected year = { 14.31, 13.40, 3.17, 0.94, 3.073770, 3.178368, 1.0, 2 };
  double value[TRAIN + TEST], forecast[TEST], sum = 0;

  read_series (value);
  NEAR (scale (value), 14.3, 6);
  for (int i = 0; i < TRAIN; i++)
    sum += value[i];
  for (int i = 0; i < TEST; i++)
    forecast[i] = sum / TRAIN;
  check (value, forecast, &mean);
  for (int i = 0; i < TEST; i++)
    forecast[i] = value[TRAIN - 1];
  check (value, forecast, &last);
  for (int i = 0; i < TEST; i++)
    forecast[i] = value[TRAIN - 4 + i % 4];
  check (value, forecast, &year);
}

/* By hand. Ratios 2 and 1/2: ln 2 + ln 1/2 = 0, so the bias is 1 although each was far off; |e|/actual is 1/2 and 1, typical 3/4. */
static void
test_by_hand (void)
{
  static const AccuracyPair pair[] = { { 10, 20 }, { 20, 10 }, { 0, 5 }, { 5, 0 } };
  static const AccuracyPair low[] = { { 100, 110 }, { 100, 110 }, { 100, 110 } };
  Accuracy a;

  accuracy_of (pair, 4, &a);
  g_assert_cmpuint (a.n, ==, 2);
  g_assert_cmpuint (a.left_out, ==, 2);
  NEAR (a.bias, 1, 12);
  NEAR (a.typical, 0.75, 12);
  NEAR (a.ratio, 1, 12);
  g_assert_cmpfloat (a.within_25, ==, 0);

  accuracy_of (low, 3, &a);
  NEAR (a.bias, 1.1, 12);
  NEAR (a.ratio, 1.1, 12);
  NEAR (a.typical, 10 / 110.0, 12);
  g_assert_cmpfloat (a.within_10, ==, 1);
}

static void
test_none (void)
{
  static const AccuracyPair pair[] = { { 0, 5 } };
  Accuracy a;

  accuracy_of (NULL, 0, &a);
  g_assert_cmpuint (a.n, ==, 0);
  g_assert_true (isnan (a.bias) && isnan (a.typical) && isnan (a.ratio));
  accuracy_of (pair, 1, &a);
  g_assert_cmpuint (a.n, ==, 0);
  g_assert_cmpuint (a.left_out, ==, 1);
  g_assert_true (isnan (a.within_10));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/track/accuracy/beer", test_beer);
  g_test_add_func ("/track/accuracy/by-hand", test_by_hand);
  g_test_add_func ("/track/accuracy/none", test_none);
  return g_test_run ();
}

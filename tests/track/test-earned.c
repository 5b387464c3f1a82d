/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Earned value against published figures. */
#include "base/csv.h"
#include "track/earned.h"

#include <math.h>

#define NEAR(x, wanted, places) g_assert_cmpfloat_with_epsilon (x, wanted, 0.5001 * pow (10, -(places)))

/* A public course sheet on earned-value forecasting, BAC 100, PV 50, EV 40, AC 45: CPI .89, SPI .80, forecasts 112.5 and "about 129",
 * variance at completion -12.5, to-complete index 1.09. The further digits, (2) and (4): computed from the same four figures. */
static void
test_course_sheet (void)
{
  const Earned e = { .bac = 100, .pv = 50, .ev = 40, .ac = 45 };

  NEAR (earned_cost_index (&e), 0.89, 2);
  NEAR (earned_cost_index (&e), 0.888889, 6);
  NEAR (earned_actual_ratio (&e), 1.125, 6); /* 45 / 40 */
  NEAR (earned_schedule_index (&e), 0.80, 6);
  NEAR (e.ev - e.ac, -5, 6);
  NEAR (e.ev - e.pv, -10, 6);
  NEAR (earned_forecast (&e, EARNED_AT_THIS_RATE), 112.5, 6);
  NEAR (earned_forecast (&e, EARNED_AS_ESTIMATED), 105, 6);
  NEAR (earned_forecast (&e, EARNED_RATE_AND_PACE), 129.375, 6);
  NEAR (earned_forecast (&e, EARNED_WEIGHTED), 113.877551, 6);
  NEAR (e.bac - earned_forecast (&e, EARNED_AT_THIS_RATE), -12.5, 6);
  NEAR (earned_to_complete (&e, e.bac), 1.090909, 6);
  NEAR (earned_to_complete (&e, earned_forecast (&e, EARNED_AT_THIS_RATE)), 0.888889, 6);
}

/* Documentation of a public risk-analysis package: BAC 100,000 at CPI 0.83 gives 120,481.9; AC 63,000 with EV 35,000 gives 128,000. */
static void
test_package (void)
{
  const Earned rate = { .bac = 100000, .pv = NAN, .ev = 83, .ac = 100 };
  const Earned rest = { .bac = 100000, .pv = NAN, .ev = 35000, .ac = 63000 };

  NEAR (earned_forecast (&rate, EARNED_AT_THIS_RATE), 120481.9, 1);
  NEAR (earned_forecast (&rest, EARNED_AS_ESTIMATED), 128000, 6);
}

static CsvTable *
fixture (const char *name)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", name, NULL);
  g_autoptr (GError) error = NULL;
  CsvTable *table = csv_read_file (path, NULL, &error);

  g_assert_no_error (error);
  return table;
}

static double
figure (const CsvTable *table, guint row, const char *heading)
{
  int column = csv_column (table, heading);

  g_assert_cmpint (column, >=, 0);
  return g_ascii_strtod (csv_cell (table, row, column), NULL);
}

/* Public solution of a university homework (course IE 5411, homework 9), status reports to period 12, BAC 248: EV, AC and the
 * indices to two decimals; the further digits computed from the same figures. PV of period 10 is inferred. */
static void
test_homework (void)
{
  static const double cpi[] = { 1, 0.8, 0.756757, 0.690909, 0.725806, 0.704762 };
  static const double spi[] = { 1, 1, 0.736842, 0.520548, 0.833333, 0.936709 };
  static const double share[] = { 0.016129, 0.032258, 0.112903, 0.153226, 0.362903, 0.596774 };
  g_autoptr (CsvTable) table = fixture ("evm_periods.csv");
  Earned e = { .bac = 248 };

  g_assert_cmpuint (table->row->len, ==, G_N_ELEMENTS (cpi));
  for (guint i = 0; i < table->row->len; i++)
    {
      e.pv = figure (table, i, "pv");
      e.ev = figure (table, i, "ev");
      e.ac = figure (table, i, "ac");
      NEAR (earned_cost_index (&e), cpi[i], 6);
      NEAR (earned_schedule_index (&e), spi[i], 6);
      NEAR (earned_share (&e), share[i], 6);
    }
  NEAR (e.ev - e.ac, -62, 6);
  NEAR (e.ev - e.pv, -10, 6);
  NEAR (earned_forecast (&e, EARNED_AT_THIS_RATE), 352, 0);
  NEAR (earned_forecast (&e, EARNED_AT_THIS_RATE), 351.891892, 6);
  NEAR (earned_forecast (&e, EARNED_AS_ESTIMATED), 310, 6);
  NEAR (earned_forecast (&e, EARNED_RATE_AND_PACE), 361.479182, 6);
  NEAR (earned_forecast (&e, EARNED_WEIGHTED), 343.128972, 6);
  NEAR (e.bac - earned_forecast (&e, EARNED_AT_THIS_RATE), -103.891892, 6);
  NEAR (earned_to_complete (&e, e.bac), 2.631579, 6);
}

/* The same homework by task: the tasks of period 12 add up to its line. */
static void
test_homework_tasks (void)
{
  g_autoptr (CsvTable) table = fixture ("evm_tasks_period12.csv");
  Earned sum = { .bac = 248 };

  for (guint i = 0; i < table->row->len; i++)
    {
      sum.pv += figure (table, i, "pv");
      sum.ev += figure (table, i, "ev");
      sum.ac += figure (table, i, "ac");
    }
  g_assert_cmpfloat (sum.ev, ==, 148);
  g_assert_cmpfloat (sum.ac, ==, 210);
  g_assert_cmpfloat (sum.pv, ==, 158);
  NEAR (earned_cost_index (&sum), 0.704762, 6);
}

/* Where nothing is spent or earned an index does not exist: DAU reference card, ratios with a zero below. */
static void
test_undefined (void)
{
  const Earned none = { .bac = 100, .pv = NAN, .ev = 0, .ac = 0 };
  const Earned spent = { .bac = 100, .pv = NAN, .ev = 0, .ac = 8 };
  const Earned gone = { .bac = 100, .pv = NAN, .ev = 50, .ac = 100 };

  g_assert_true (isnan (earned_cost_index (&none)));
  g_assert_true (isnan (earned_actual_ratio (&none)));
  g_assert_true (isnan (earned_schedule_index (&none)));
  g_assert_true (isnan (earned_forecast (&none, EARNED_AT_THIS_RATE)));
  g_assert_cmpfloat (earned_forecast (&none, EARNED_AS_ESTIMATED), ==, 100);
  g_assert_cmpfloat (earned_cost_index (&spent), ==, 0);
  g_assert_true (isnan (earned_forecast (&spent, EARNED_AT_THIS_RATE)));
  g_assert_cmpfloat (earned_forecast (&spent, EARNED_AS_ESTIMATED), ==, 108);
  g_assert_true (isnan (earned_forecast (&spent, EARNED_RATE_AND_PACE)));
  g_assert_true (isnan (earned_forecast (&spent, EARNED_WEIGHTED)));
  g_assert_true (isnan (earned_to_complete (&gone, 100)));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/track/earned/course-sheet", test_course_sheet);
  g_test_add_func ("/track/earned/package", test_package);
  g_test_add_func ("/track/earned/homework", test_homework);
  g_test_add_func ("/track/earned/homework-tasks", test_homework_tasks);
  g_test_add_func ("/track/earned/undefined", test_undefined);
  return g_test_run ();
}

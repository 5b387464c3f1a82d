/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Axes: round steps, places, words. */
#include "chart/scale.h"

#include "paper.h"

static void
assert_near (double a, double b, double loose)
{
  g_assert_cmpfloat (fabs (a - b), <=, loose);
}

static void
test_step (void)
{
  static const struct
  {
    double low, high;
    int most;
    double step;
  } rows[] = {
    { 0, 10, 10, 1 },  { 0, 10, 5, 2 },      { 0, 10, 4, 5 },        { 0, 10, 1, 10 },    { 0, 23, 10, 5 },
    { 0, 21, 10, 5 },  { 0, 19, 10, 2 },     { 0, 0.3, 3, 0.1 },     { 0, 0.7, 3, 0.5 },  { -50, 50, 10, 10 },
    { 50, -50, 10, 10 }, { 0, 207590, 4, 1e5 }, { 0, 207590, 5, 5e4 }, { 3, 3, 5, 1 },    { 0, 1, 0, 1 },
    { NAN, 1, 5, 1 },  { 0, INFINITY, 5, 1 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_test_message ("row %d", (int) i);
      assert_near (chart_nice_step (rows[i].low, rows[i].high, rows[i].most), rows[i].step, rows[i].step * 1e-9);
    }
}

/* Whatever the ends: the step is 1, 2 or 5 of a power of ten, no more steps than asked, and the next finer one would be too many. */
static void
test_step_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);

  for (int i = 0; i < 5000; i++)
    {
      double range = pow (10, g_rand_double_range (rand, -6, 9));
      int most = g_rand_int_range (rand, 1, 20);
      double step = chart_nice_step (0, range, most), mantissa = step / pow (10, floor (log10 (step) + 1e-9));
      double finer = fabs (mantissa - 5) < 1e-6 ? step / 2.5 : step / 2;
      g_assert_true (fabs (mantissa - 1) < 1e-6 || fabs (mantissa - 2) < 1e-6 || fabs (mantissa - 5) < 1e-6);
      g_assert_cmpfloat (range / step, <=, most * (1 + 1e-9));
      g_assert_cmpfloat (range / finer, >, most * (1 - 1e-9));
    }
}

static void
test_places (void)
{
  ChartScale s;

  chart_scale_init (&s, 3, 97, 100, 300, 10);
  assert_near (s.low, 0, 0);
  assert_near (s.high, 100, 0);
  g_assert_cmpint (chart_scale_n_ticks (&s), ==, 11);
  assert_near (chart_scale_at (&s, 0), 100, 1e-9);
  assert_near (chart_scale_at (&s, 50), 200, 1e-9);
  assert_near (chart_scale_at (&s, 100), 300, 1e-9);
  assert_near (chart_scale_at (&s, 1e9), 300, 1e-9);
  assert_near (chart_scale_at (&s, -INFINITY), 100, 1e-9);
  assert_near (chart_scale_at (&s, NAN), 100, 1e-9);
  assert_near (chart_scale_tick (&s, 3), 30, 1e-9);
  chart_scale_init (&s, 0, 1, 150, 0, 4); /* upside down, as a vertical axis */
  assert_near (chart_scale_at (&s, 0), 150, 1e-9);
  assert_near (chart_scale_at (&s, 1), 0, 1e-9);
}

static void
test_words (void)
{
  static const struct
  {
    double low, high;
    int most, at;
    const char *words;
  } rows[] = {
    { 0, 200000, 4, 1, "50,000" }, { 0, 1, 5, 1, "0.2" }, { 0, 10, 5, 0, "0" },         { -20, 20, 4, 0, "-20" },
    { -20, 20, 4, 2, "0" },        { 0, 0.04, 4, 1, "0.01" }, { 0, 4e6, 4, 1, "1,000,000" }, { -3000, 0, 3, 0, "-3,000" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      ChartScale s;
      chart_scale_init (&s, rows[i].low, rows[i].high, 0, 100, rows[i].most);
      g_autofree char *words = chart_scale_print (&s, chart_scale_tick (&s, rows[i].at));
      g_assert_cmpstr (words, ==, rows[i].words);
    }
}

/* Any two figures make an axis with some ticks that holds both, as far as they can be drawn. */
static void
test_hostile (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (hostile); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (hostile); k++)
      {
        ChartScale s;
        chart_scale_init (&s, hostile[i], hostile[k], 10, 90, 5);
        g_test_message ("%g to %g", hostile[i], hostile[k]);
        g_assert_true (isfinite (s.low) && isfinite (s.high) && s.low < s.high && s.step > 0);
        g_assert_cmpint (chart_scale_n_ticks (&s), >=, 2);
        g_assert_cmpint (chart_scale_n_ticks (&s), <=, 8);
        for (gsize j = 0; j < G_N_ELEMENTS (hostile); j++)
          {
            double at = chart_scale_at (&s, hostile[j]);
            g_assert_true (at >= 10 && at <= 90);
          }
        if (fabs (hostile[i]) <= CHART_MOST)
          g_assert_true (s.low <= hostile[i] + s.step * 1e-6 && s.high >= hostile[i] - s.step * 1e-6);
        g_autofree char *words = chart_scale_print (&s, s.high);
        g_assert_cmpstr (words, !=, "");
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/scale/step", test_step);
  g_test_add_func ("/chart/scale/step-random", test_step_random);
  g_test_add_func ("/chart/scale/places", test_places);
  g_test_add_func ("/chart/scale/words", test_words);
  g_test_add_func ("/chart/scale/hostile", test_hostile);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/measure.h"

#include "fuzz.h"

/* Factors: 1 lb = 453.59237 g and 1 ft = 0.3048 m exactly, international yard and pound agreement, 1959. */
static void
test_factors (void)
{
  g_assert_cmpfloat_with_epsilon (measure_lb (453592370), 1000, 1e-9);
  g_assert_cmpfloat_with_epsilon (measure_lb (45359237), 100, 1e-10);
  g_assert_cmpfloat_with_epsilon (measure_ft2 (92903040), 1000, 1e-9);
  g_assert_cmpfloat_with_epsilon (measure_ft (304800), 1, 1e-15);
  g_assert_cmpfloat_with_epsilon (MEASURE_MM2_PER_FT2, 304.8 * 304.8, 1e-9);
  g_assert_cmpfloat_with_epsilon (MEASURE_MM2_PER_IN2 * 144, MEASURE_MM2_PER_FT2, 1e-9);
  g_assert_cmpfloat_with_epsilon (MEASURE_MPA_PER_INWG / 1000.0, 1000 * 9.80665 * 0.0254, 0.01);
  /* 1 lb/ft2 = 4.88243 kg/m2: trade.md section 2. */
  g_assert_cmpfloat_with_epsilon (MEASURE_MG_PER_LB / 1e6 / (MEASURE_MM2_PER_FT2 / 1e6), 4.88243, 5e-6);
}

/* trade.md section 1, set pressure_classes: SMACNA, HVAC Duct Construction Standards, Metal and Flexible (public
 * extract), the metric figures of 6 and 10 in rounded the same way (computed there). */
static const struct
{
  gint64 milli;
  const char *inch;
  const char *pa;
} classes[] = {
  { 500, "1/2", "125 Pa" }, { 1000, "1", "250 Pa" }, { 2000, "2", "500 Pa" }, { 3000, "3", "750 Pa" },
  { 4000, "4", "1000 Pa" },
  { 6000, "6", "1500 Pa" }, { 10000, "10", "2500 Pa" },
};

static void
test_classes (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (classes); i++)
    for (int sign = -1; sign <= 1; sign += 2)
      {
        const char *mark = sign < 0 ? "-" : "";
        g_autofree char *inch = g_strconcat (mark, classes[i].inch, NULL);
        g_autofree char *pa = g_strconcat (mark, classes[i].pa, NULL);
        g_autofree char *inch_printed = pressure_print (sign * classes[i].milli, FALSE);
        g_autofree char *pa_printed = pressure_print (sign * classes[i].milli, TRUE);
        gint64 from_inch = 0, from_pa = 0;

        g_assert_true (pressure_parse (inch, &from_inch, NULL));
        g_assert_true (pressure_parse (pa, &from_pa, NULL));
        g_assert_cmpint (from_inch, ==, sign * classes[i].milli);
        g_assert_cmpint (from_pa, ==, sign * classes[i].milli);
        g_assert_cmpstr (inch_printed, ==, inch);
        g_assert_cmpstr (pa_printed, ==, pa);
      }
}

static void
test_pressure_good (void)
{
  static const struct
  {
    const char *text;
    gint64 milli;
  } rows[] = {
    { "2", 2000 }, { "-1/2", -500 }, { "+4", 4000 }, { "0.5", 500 }, { ".5", 500 }, { "1 1/2", 1500 },
    { "1-1/2", 1500 },
    { "2 in", 2000 }, { "2 in.", 2000 }, { "2 in w.g.", 2000 }, { "2 in. w.g.", 2000 }, { "2 in wg", 2000 },
    { "2\"", 2000 },
    { "2\" w.g.", 2000 }, { "2\u2033", 2000 }, { "2 IN W.G.", 2000 }, { "500 Pa", 500 * 4 }, { "-0.25 kPa", -1000 },
    { "0.125kpa", 500 }, { "2.5 kPa", 10000 }, { "\u22122", -2000 }, { "100", 100000 }, { "0.001", 1 },
    /* 311 / 249.089 = 1.248549 (computed by hand). */
    { "311 Pa", 1249 }, { "126 Pa", 506 }, { "24908.9 Pa", 100000 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gint64 milli = 77;
      g_autoptr (Fault) fault = NULL;

      g_test_message ("row %d", (int) i);
      g_assert_true (pressure_parse (rows[i].text, &milli, &fault));
      g_assert_cmpint (milli, ==, rows[i].milli);
    }
}

typedef struct
{
  const char *text;
  int at;
  const char *word;
} Bad;

static void
assert_bad (const Bad *rows, gsize n, gboolean (*parse) (const char *, gint64 *, Fault **))
{
  for (gsize i = 0; i < n; i++)
    {
      gint64 out = 77;
      g_autoptr (Fault) fault = NULL;

      g_test_message ("row %d", (int) i);
      g_assert_false (parse (rows[i].text, &out, &fault));
      g_assert_cmpint (out, ==, 77);
      g_assert_cmpint (fault->at, ==, rows[i].at);
      g_assert_nonnull (strstr (fault->what, rows[i].word));
      assert_fault_usable (fault, rows[i].text != NULL ? rows[i].text : "");
    }
}

/* In a metric job a figure alone is pascals: the metric names of the classes (published, above), the rest by 249.089. */
static void
test_pressure_bare (void)
{
  static const struct
  {
    const char *text;
    gint64 milli;
  } good[] = { { "500", 2000 }, { "-125", -500 }, { "1000", 4000 }, { "300", 1204 }, { "2 in w.g.", 2000 }, { "-1/2 in", -500 },
               { "0.5 kPa", 2000 }, { "500 Pa", 2000 } };
  static const char *const bad[] = { "2", "-1/2", "24.9", "0", "", "x" };
  gint64 milli;

  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_assert_true (pressure_parse_bare (good[i].text, TRUE, &milli, NULL));
      g_assert_cmpint (milli, ==, good[i].milli);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_assert_false (pressure_parse_bare (bad[i], TRUE, &milli, &fault));
      g_assert_cmpstr (fault->remedy, !=, "");
    }
  g_assert_true (pressure_parse_bare ("2", FALSE, &milli, NULL));
  g_assert_cmpint (milli, ==, 2000);
  g_autofree char *both = pressure_print_both (-2000);
  g_assert_cmpstr (both, ==, "-2 in w.g. (-500 Pa)");
}

static void
test_pressure_bad (void)
{
  static const Bad rows[] = {
    { "", -1, "missing" }, { NULL, -1, "missing" }, { "-", 1, "missing" }, { "low", 0, "“low”" }, { "12x", 2, "“x”" },
    { "2 psi", 2, "“psi”" }, { "1.2.3", 3, "second point" }, { "0,5", 1, "comma" }, { "0", 0, "zero" },
    { "-0", 1, "zero" },
    { "0 Pa", 0, "zero" }, { "0.1 Pa", 0, "zero" }, { "100.001", 0, "too large" }, { "500", 0, "too large" },
    { "-30 kPa", 1, "too large" }, { "0.0005", 0, "finer" }, { "1/3", 0, "finer" }, { "1/0", 2, "zero" },
    { "2 .", 2, "point" }, { "2 . Pa", 2, "point" }, { "2 in w.g. x", 2, "“in”" },
    { "99999999999999999999999999999", 28, "too many" },
  };

  assert_bad (rows, G_N_ELEMENTS (rows), pressure_parse);
}

/* Every thousandth from 0.001 to 12 in w.g. reads back, in inches and in pascals. */
static void
test_pressure_round_trip (void)
{
  for (gint64 milli = -12000; milli <= 12000; milli++)
    {
      g_autofree char *inch = pressure_print (milli, FALSE), *pa = pressure_print (milli, TRUE);
      gint64 back = 0;

      if (milli == 0)
        continue;
      g_assert_true (pressure_parse (inch, &back, NULL));
      g_assert_cmpint (back, ==, milli);
      g_assert_true (pressure_parse (pa, &back, NULL));
      g_assert_cmpint (back, ==, milli);
    }
}

static void
test_pressure_print (void)
{
  static const struct
  {
    gint64 milli;
    gboolean pascal;
    const char *text;
  } rows[] = {
    { -500, FALSE, "-1/2" }, { 2000, FALSE, "2" }, { 1500, FALSE, "1 1/2" }, { -1500, FALSE, "-1 1/2" },
    { 1250, FALSE, "1.25" },
    { -250, FALSE, "-0.25" }, { -500, TRUE, "-125 Pa" }, { 1500, TRUE, "373.6 Pa" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = pressure_print (rows[i].milli, rows[i].pascal);

      g_assert_cmpstr (text, ==, rows[i].text);
    }
}

static void
test_angle (void)
{
  static const struct
  {
    const char *text;
    gint64 udeg;
    const char *printed;
  } good[] = {
    { "90", 90000000, "90" }, { "45 deg", 45000000, "45" }, { "22.5\u00b0", 22500000, "22.5" },
    { "22 1/2", 22500000, "22.5" },
    { "180", 180000000, "180" }, { "0.000001", 1, "0.000001" }, { "30 degrees", 30000000, "30" },
    { "45 deg.", 45000000, "45" },
  };
  static const Bad bad[] = {
    { "", -1, "missing" }, { "elbow", 0, "“elbow”" }, { "0", 0, "range" }, { "-90", 1, "range" }, { "180.1", 0, "range" },
    { "12x", 2, "“x”" }, { "1.2.3", 3, "second point" }, { "22,5", 2, "comma" }, { "1/3", 0, "finer" },
    { "0.0000001", 0, "finer" },
    { "45 rad", 3, "“rad”" }, { "99999999999999999999999999999", 28, "too many" },
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (12);

  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      gint64 udeg = 0;
      g_autofree char *printed = NULL;

      g_assert_true (angle_parse (good[i].text, &udeg, NULL));
      g_assert_cmpint (udeg, ==, good[i].udeg);
      printed = angle_print (udeg);
      g_assert_cmpstr (printed, ==, good[i].printed);
    }
  assert_bad (bad, G_N_ELEMENTS (bad), angle_parse);
  for (int i = 0; i < 20000; i++)
    {
      gint64 udeg = g_rand_int_range (rand, 1, 180000001), back = 0;
      g_autofree char *text = angle_print (udeg);

      g_assert_true (angle_parse (text, &back, NULL));
      g_assert_cmpint (back, ==, udeg);
    }
}

static void
test_any_text (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (13);
  int good = 0;

  for (int i = 0; i < FUZZ_ROUNDS; i++)
    {
      g_autofree char *text = fuzz_text (rand);
      g_autoptr (Fault) fault = NULL, angle_fault = NULL;
      gint64 milli, udeg;

      if (pressure_parse (text, &milli, &fault))
        {
          g_assert_true (milli != 0 && ABS (milli) <= 100000);
          good++;
        }
      else
        assert_fault_usable (fault, text);
      if (angle_parse (text, &udeg, &angle_fault))
        g_assert_true (udeg > 0 && udeg <= 180000000);
      else
        assert_fault_usable (angle_fault, text);
    }
  g_assert_cmpint (good, >, 100);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/measure/factors", test_factors);
  g_test_add_func ("/measure/classes", test_classes);
  g_test_add_func ("/measure/pressure-good", test_pressure_good);
  g_test_add_func ("/measure/pressure-bare", test_pressure_bare);
  g_test_add_func ("/measure/pressure-bad", test_pressure_bad);
  g_test_add_func ("/measure/pressure-round-trip", test_pressure_round_trip);
  g_test_add_func ("/measure/pressure-print", test_pressure_print);
  g_test_add_func ("/measure/angle", test_angle);
  g_test_add_func ("/measure/any-text", test_any_text);
  return g_test_run ();
}

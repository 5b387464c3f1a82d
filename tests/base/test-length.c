/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/length.h"

#include "fuzz.h"

#define IN LENGTH_NM_PER_IN

static const LengthUnit unit_of_style[] = {
  [LENGTH_STYLE_IN] = LENGTH_IN, [LENGTH_STYLE_FT] = LENGTH_FT, [LENGTH_STYLE_FT_IN] = LENGTH_IN,
  [LENGTH_STYLE_MM] = LENGTH_MM, [LENGTH_STYLE_M] = LENGTH_M,
};

/* 1 in = 25.4 mm exactly and 1 ft = 304.8 mm exactly: international yard and pound agreement, 1959 (yard 0.9144 m). */
static void
test_exact_units (void)
{
  gint64 inch, mm, foot, metre;

  g_assert_true (length_parse ("1 in", LENGTH_MM, &inch, NULL));
  g_assert_true (length_parse ("25.4", LENGTH_MM, &mm, NULL));
  g_assert_true (length_parse ("3 ft", LENGTH_MM, &foot, NULL));
  g_assert_true (length_parse ("0.9144", LENGTH_M, &metre, NULL));
  g_assert_cmpint (inch, ==, mm);
  g_assert_cmpint (foot, ==, metre);
  g_assert_cmpint (inch, ==, LENGTH_NM_PER_IN);
  g_assert_true (length_parse ("1/64", LENGTH_IN, &inch, NULL));
  g_assert_cmpint (inch, ==, 396875);
}

static void
test_parse_good (void)
{
  static const struct
  {
    const char *text;
    LengthUnit unit;
    gint64 nm;
  } rows[] = {
    { "24", LENGTH_IN, 24 * IN }, { "24", LENGTH_FT, 288 * IN }, { "24", LENGTH_MM, 24000000 },
    { "24", LENGTH_M, 24000000000 },
    { ".5", LENGTH_IN, IN / 2 }, { "1/2", LENGTH_IN, IN / 2 }, { "12 1/2", LENGTH_IN, 25 * IN / 2 },
    { "12-1/2", LENGTH_IN, 25 * IN / 2 }, { "2' - 6\"", LENGTH_IN, 30 * IN }, { "3/2", LENGTH_IN, 3 * IN / 2 },
    { "2'-6 1/2\"", LENGTH_MM, 61 * IN / 2 }, { "2' 6\"", LENGTH_MM, 30 * IN }, { "2'6", LENGTH_MM, 30 * IN },
    { "2' 6", LENGTH_MM, 30 * IN }, { "2'-6", LENGTH_MM, 30 * IN }, { "2 ft 6 in", LENGTH_MM, 30 * IN },
    { "2ft6in", LENGTH_MM, 30 * IN }, { "2 ft. 6 in.", LENGTH_MM, 30 * IN }, { "2 FEET 6 INCHES", LENGTH_MM, 30 * IN },
    { "2'-6-1/2\"", LENGTH_MM, 61 * IN / 2 }, { "2 1/2'", LENGTH_IN, 30 * IN }, { "2.5' 6\"", LENGTH_IN, 36 * IN },
    { "2'-14\"", LENGTH_IN, 38 * IN }, { "2' 1/2\"", LENGTH_IN, 49 * IN / 2 }, { "0'-0\"", LENGTH_IN, 0 },
    { "30\"", LENGTH_MM, 30 * IN }, { "30 in", LENGTH_MM, 30 * IN }, { "30 inches", LENGTH_MM, 30 * IN },
    { "1 inch", LENGTH_MM, IN }, { "30''", LENGTH_MM, 30 * IN }, { "6.5ft", LENGTH_IN, 78 * IN },
    { "1 foot", LENGTH_IN, 12 * IN },
    { "600 mm", LENGTH_IN, 600000000 }, { "60 cm", LENGTH_IN, 600000000 }, { "0.75 m", LENGTH_IN, 750000000 },
    { "2 metres", LENGTH_IN, 2000000000 }, { "5 millimeters", LENGTH_IN, 5000000 }, { "600MM", LENGTH_IN, 600000000 },
    { "2\u2032\u20096\u2033", LENGTH_MM, 30 * IN }, { "2\u2019-6\u201d", LENGTH_MM, 30 * IN },
    { "6\u2032\u2032", LENGTH_MM, 6 * IN },
    { "-6", LENGTH_IN, -6 * IN }, { "\u2212 6", LENGTH_IN, -6 * IN }, { "+6", LENGTH_IN, 6 * IN },
    { "-2'-6\"", LENGTH_IN, -30 * IN }, { " 24 ", LENGTH_IN, 24 * IN }, { "1/3", LENGTH_IN, 8466667 },
    { "0.00000002", LENGTH_IN, 1 }, { "0.0000005", LENGTH_MM, 1 }, { "0.0000004999", LENGTH_MM, 0 },
    { "0.33333333333333333333333333333333333333333", LENGTH_IN, 8466667 }, { "12.", LENGTH_IN, 12 * IN },
    { "1234567890.1234567890123456789012345678", LENGTH_IN, 31358024409135802 },
    { "9223372036.854775807", LENGTH_M, G_MAXINT64 }, { "-9223372036.854775808", LENGTH_M, G_MININT64 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gint64 nm = 77;
      g_autoptr (Fault) fault = NULL;

      g_test_message ("row %d", (int) i);
      g_assert_true (length_parse (rows[i].text, rows[i].unit, &nm, &fault));
      g_assert_null (fault);
      g_assert_cmpint (nm, ==, rows[i].nm);
    }
}

static void
test_parse_bad (void)
{
  static const struct
  {
    const char *text;
    int at;
    const char *word;
  } rows[] = {
    { "", -1, "missing" }, { NULL, -1, "missing" }, { "  ", -1, "missing" }, { "-", 1, "missing" }, { "abc", 0, "“abc”" },
    { "12x", 2, "“x”" }, { "1.2.3", 3, "second point" }, { ".", 0, "without digits" }, { "12,5", 2, "comma" },
    { "1,200", 1, "comma" }, { "1/0", 2, "zero" }, { "1/", 2, "missing" }, { "12 3/2", 3, "not below 1" },
    { "12 2/2", 3, "not below 1" },
    { "12 - 1/2", 3, "“-”" }, { "12.5 1/2", 5, "“1/2”" }, { "1/2 1/2", 4, "“1/2”" }, { "24 25", 3, "“25”" },
    { "2-6", 1, "“-6”" }, { "6\" 2'", 3, "“2'”" },
    { "2' 6'", 3, "“6'”" }, { "2 ft 6 mm", 5, "“6”" }, { "30 inx", 5, "“x”" }, { "30 furlongs", 3, "“furlongs”" },
    { "30 min", 3, "“min”" },
    { "--6", 1, "“-6”" }, { "24\xFF", 2, "cannot be shown" }, { "½", 0, "“½”" }, { "1e5", 1, "“e5”" },
    { "1/1000000000", 8, "too many digits" }, { "12345678901234567890123456789", 28, "too many digits" },
    { "1234567890123456789 1/2", 0, "too many digits" }, { "9223372036.854775808 m", 0, "too large" },
    { "-9223372036.854775809 m", 1, "too large" }, { "40000000000'", 0, "too large" }, { "600 mm.", 6, "point" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gint64 nm = 77;
      g_autoptr (Fault) fault = NULL;

      g_test_message ("row %d", (int) i);
      g_assert_false (length_parse (rows[i].text, LENGTH_IN, &nm, &fault));
      g_assert_cmpint (nm, ==, 77);
      g_assert_cmpint (fault->at, ==, rows[i].at);
      g_assert_nonnull (strstr (fault->what, rows[i].word));
      assert_fault_usable (fault, rows[i].text != NULL ? rows[i].text : "");
      g_assert_false (length_parse (rows[i].text, LENGTH_IN, &nm, NULL));
    }
}

static void
test_prefix (void)
{
  static const struct
  {
    const char *text;
    gint64 nm;
    const char *rest;
  } rows[] = {
    { "24x12", 24 * IN, "x12" }, { "24 x 12", 24 * IN, "x 12" }, { "24inx12in", 24 * IN, "x12in" },
    { "24\"x12\"", 24 * IN, "x12\"" },
    { "12 1/2x6", 25 * IN / 2, "x6" }, { "2'6x1'", 30 * IN, "x1'" }, { "2' x 1'", 24 * IN, "x 1'" },
    { "24", 24 * IN, "" },
    { "40 ft 24x12", 480 * IN, "24x12" }, { "20 ft 2 elbows", 240 * IN, "2 elbows" },
    { "600 mm dia", 600000000, "dia" },
    { "24 round", 24 * IN, "round" }, { "2' 6, 24", 30 * IN, ", 24" }, { "2'-6 1/2\" long", 61 * IN / 2, "long" },
    { "12 \u00d7 6", 12 * IN, "\u00d7 6" }, { "24/12", 2 * IN, "" }, { "2-6", 2 * IN, "-6" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gint64 nm = 77;
      const char *end = NULL;
      g_autoptr (Fault) fault = NULL;

      g_test_message ("row %d", (int) i);
      g_assert_true (length_parse_prefix (rows[i].text, LENGTH_IN, &nm, &end, &fault));
      g_assert_cmpint (nm, ==, rows[i].nm);
      g_assert_cmpstr (end, ==, rows[i].rest);
    }
}

static void
assert_round_trip (gint64 nm, LengthStyle style)
{
  g_autofree char *text = length_print (nm, style), *with_unit = length_print_unit (nm, style);
  gint64 back;

  g_assert_true (length_parse (text, unit_of_style[style], &back, NULL));
  g_assert_cmpint (back, ==, nm);
  /* With its unit behind it the text stands by itself, whatever the default. */
  for (LengthUnit unit = LENGTH_IN; unit <= LENGTH_M; unit++)
    {
      g_assert_true (length_parse (with_unit, unit, &back, NULL));
      g_assert_cmpint (back, ==, nm);
    }
}

/* Every 1/64 in from 0 to 20 ft, both signs, in every style; on a tape each is a fraction, never a decimal. */
static void
test_every_64th (void)
{
  for (gint64 k = 0; k <= 20 * 12 * 64; k++)
    for (LengthStyle style = LENGTH_STYLE_IN; style <= LENGTH_STYLE_M; style++)
      {
        g_autofree char *text = length_print (k * IN / 64, style);

        if (style == LENGTH_STYLE_IN || style == LENGTH_STYLE_FT_IN)
          g_assert_null (strchr (text, '.'));
        assert_round_trip (k * IN / 64, style);
        assert_round_trip (-k * IN / 64, style);
      }
}

static void
test_random_round_trip (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (10);

  for (int i = 0; i < 20000; i++)
    for (LengthStyle style = LENGTH_STYLE_IN; style <= LENGTH_STYLE_M; style++)
      assert_round_trip (fuzz_int64 (rand), style);
  for (LengthStyle style = LENGTH_STYLE_IN; style <= LENGTH_STYLE_M; style++)
    {
      assert_round_trip (G_MAXINT64, style);
      assert_round_trip (G_MININT64, style);
    }
}

static void
test_print (void)
{
  static const struct
  {
    gint64 nm;
    LengthStyle style;
    const char *text;
    const char *with_unit;
  } rows[] = {
    { 24 * IN, LENGTH_STYLE_IN, "24", "24 in" }, { 25 * IN / 2, LENGTH_STYLE_IN, "12 1/2", "12 1/2 in" },
    { IN / 64, LENGTH_STYLE_IN, "1/64", "1/64 in" }, { -IN / 2, LENGTH_STYLE_IN, "-1/2", "-1/2 in" },
    { 0, LENGTH_STYLE_IN, "0", "0 in" }, { IN / 10, LENGTH_STYLE_IN, "0.1", "0.1 in" },
    { 12 * 46 * IN, LENGTH_STYLE_FT, "46", "46 ft" }, { 30 * IN, LENGTH_STYLE_FT, "2.5", "2.5 ft" },
    { 61 * IN / 2, LENGTH_STYLE_FT_IN, "2'-6 1/2\"", "2'-6 1/2\"" },
    { 24 * IN, LENGTH_STYLE_FT_IN, "2'-0\"", "2'-0\"" },
    { 13 * IN / 2, LENGTH_STYLE_FT_IN, "6 1/2\"", "6 1/2\"" }, { 0, LENGTH_STYLE_FT_IN, "0\"", "0\"" },
    { -61 * IN / 2, LENGTH_STYLE_FT_IN, "-2'-6 1/2\"", "-2'-6 1/2\"" },
    { 49 * IN / 2, LENGTH_STYLE_FT_IN, "2'-0 1/2\"", "2'-0 1/2\"" },
    { 600000000, LENGTH_STYLE_MM, "600", "600 mm" }, { 25400000, LENGTH_STYLE_MM, "25.4", "25.4 mm" },
    { 750000000, LENGTH_STYLE_M, "0.75", "0.75 m" }, { 1, LENGTH_STYLE_M, "0.000000001", "0.000000001 m" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = length_print (rows[i].nm, rows[i].style);
      g_autofree char *with_unit = length_print_unit (rows[i].nm, rows[i].style);

      g_assert_cmpstr (text, ==, rows[i].text);
      g_assert_cmpstr (with_unit, ==, rows[i].with_unit);
    }
}

static void
test_any_text (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  int good = 0;

  for (int i = 0; i < FUZZ_ROUNDS; i++)
    {
      g_autofree char *text = fuzz_text (rand);
      LengthUnit unit = (LengthUnit) g_rand_int_range (rand, LENGTH_IN, LENGTH_M + 1);
      g_autoptr (Fault) fault = NULL, prefix_fault = NULL;
      const char *end = NULL;
      gint64 nm, prefix_nm = 0;
      gboolean prefix = length_parse_prefix (text, unit, &prefix_nm, &end, &prefix_fault);

      if (prefix)
        g_assert_true (end > text && end <= text + strlen (text));
      else
        assert_fault_usable (prefix_fault, text);
      if (length_parse (text, unit, &nm, &fault))
        {
          g_assert_true (prefix && *end == '\0' && nm == prefix_nm);
          assert_round_trip (nm, LENGTH_STYLE_FT_IN);
          good++;
        }
      else
        assert_fault_usable (fault, text);
    }
  g_assert_cmpint (good, >, 100);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/length/exact-units", test_exact_units);
  g_test_add_func ("/length/parse-good", test_parse_good);
  g_test_add_func ("/length/parse-bad", test_parse_bad);
  g_test_add_func ("/length/prefix", test_prefix);
  g_test_add_func ("/length/every-64th", test_every_64th);
  g_test_add_func ("/length/random-round-trip", test_random_round_trip);
  g_test_add_func ("/length/print", test_print);
  g_test_add_func ("/length/any-text", test_any_text);
  return g_test_run ();
}

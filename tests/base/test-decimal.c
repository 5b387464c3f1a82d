/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/decimal.h"

#include "fuzz.h"

#include <math.h>
#include <stdlib.h>

static void
test_parse_good (void)
{
  static const struct
  {
    const char *text;
    int decimals;
    gint64 value;
  } rows[] = {
    { "0", 0, 0 }, { "1,900.00", 2, 190000 }, { "1900", 2, 190000 }, { ".98", 5, 98000 }, { "12.", 1, 120 },
    { "-0.5", 1, -5 }, { "+3", 0, 3 }, { "\u22123.25", 2, -325 }, { "  7 ", 0, 7 }, { "\u00a07\u202f", 0, 7 },
    { "1,234,567.8", 1, 12345678 }, { "12.5000000000000000000000000000", 1, 125 },
    { "000000000000000000000012", 0, 12 },
    { "999999999999999999", 0, 999999999999999999 }, { "-999999999999999999", 0, -999999999999999999 },
    { "0.000000000000000001", 18, 1 }, { "1,000", 0, 1000 }, { "100,000", 0, 100000 }, { "-0", 3, 0 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gint64 value = 77;
      g_autoptr (Fault) fault = NULL;

      g_assert_true (decimal_parse (rows[i].text, rows[i].decimals, &value, &fault));
      g_assert_null (fault);
      g_assert_cmpint (value, ==, rows[i].value);
    }
}

/* Bad input, the byte of the first offending character, and a word that the message must hold. */
static void
test_parse_bad (void)
{
  static const struct
  {
    const char *text;
    int decimals;
    int at;
    const char *word;
  } rows[] = {
    { "", 2, -1, "missing" }, { NULL, 2, -1, "missing" }, { "   ", 2, -1, "missing" }, { "-", 2, 1, "missing" },
    { "abc", 2, 0, "“abc”" }, { "12x", 2, 2, "“x”" }, { " 12x", 2, 3, "“x”" }, { "1.2.3", 2, 3, "second point" },
    { "1..2", 2, 2, "second point" }, { "..", 2, 1, "second point" }, { ".", 2, 0, "without digits" },
    { "12,5", 2, 2, "comma" }, { "0,980", 3, 1, "comma" }, { "1.900,00", 2, 5, "comma" },
    { "12,50,000", 2, 2, "comma" },
    { "1234,567", 2, 4, "comma" }, { ",5", 2, 0, "comma" }, { "1,", 2, 1, "comma" }, { "1,2345", 2, 1, "comma" },
    { "1 900", 2, 2, "second number" }, { "--1", 2, 1, "“-1”" }, { "1-", 2, 1, "“-”" }, { "1e5", 2, 1, "“e5”" },
    { "12.345", 2, 5, "behind the point" }, { "1.5", 0, 2, "behind the point" }, { "$5", 2, 0, "“$5”" },
    { "5%", 2, 1, "“%”" }, { "½", 2, 0, "“½”" }, { "1\xFF", 2, 1, "cannot be shown" },
    { "1000000000000000000", 0, 18, "too many digits" }, { "0.1234567890123456789", 18, 20, "too many digits" },
    { "0.0000000000000000001", 18, 20, "too many digits" }, { "1,234,56", 0, 5, "comma" },
    { "999999999999999999", 2, 0, "too large" }, { "-100000000000000000", 18, 1, "too large" },
    { "nan", 2, 0, "“nan”" }, { "0x10", 2, 1, "“x10”" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gint64 value = 77;
      g_autoptr (Fault) fault = NULL;

      g_test_message ("row %d", (int) i);
      g_assert_false (decimal_parse (rows[i].text, rows[i].decimals, &value, &fault));
      g_assert_cmpint (value, ==, 77);
      g_assert_cmpint (fault->at, ==, rows[i].at);
      g_assert_nonnull (strstr (fault->what, rows[i].word));
      assert_fault_usable (fault, rows[i].text != NULL ? rows[i].text : "");
      g_assert_false (decimal_parse (rows[i].text, rows[i].decimals, &value, NULL));
    }
}

static void
test_comma_remedy (void)
{
  g_autoptr (Fault) fault = NULL;
  gint64 value;

  g_assert_false (decimal_parse ("12,5", 2, &value, &fault));
  g_assert_nonnull (strstr (fault->remedy, "point"));
}

static void
test_print (void)
{
  static const struct
  {
    gint64 value;
    int decimals;
    int least;
    gboolean group;
    const char *text;
  } rows[] = {
    { 98000, 5, 2, FALSE, "0.98" }, { 100000, 5, 2, FALSE, "1.00" }, { 98765, 5, 2, FALSE, "0.98765" },
    { 12340000, 4, 0, FALSE, "1234" }, { 12345000, 4, 0, TRUE, "1,234.5" }, { -1000000, 0, 0, TRUE, "-1,000,000" },
    { 100, 0, 0, TRUE, "100" }, { 0, 4, 0, FALSE, "0" }, { 0, 4, 2, FALSE, "0.00" }, { -5, 4, 2, FALSE, "-0.0005" },
    { 7, 0, 2, FALSE, "7.00" }, { 75, 1, 3, FALSE, "7.500" }, { G_MAXINT64, 0, 0, TRUE, "9,223,372,036,854,775,807" },
    { G_MININT64, 18, 0, FALSE, "-9.223372036854775808" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = decimal_print (rows[i].value, rows[i].decimals, rows[i].least, rows[i].group);

      g_assert_cmpstr (text, ==, rows[i].text);
    }
}

static void
test_round_trip (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);

  for (int i = 0; i < 50000; i++)
    {
      gint64 value = fuzz_int64 (rand) % 1000000000000000000, back = 0;
      int decimals = g_rand_int_range (rand, 0, 19);
      g_autofree char *text = decimal_print (value, decimals, g_rand_int_range (rand, 0, 6), g_rand_boolean (rand));

      g_assert_true (decimal_parse (text, decimals, &back, NULL));
      g_assert_cmpint (back, ==, value);
    }
}

static void
test_ratio_good (void)
{
  static const struct
  {
    const char *text;
    gint64 num;
    gint64 den;
  } rows[] = {
    { "1/481", 1, 481 }, { "0.98", 49, 50 }, { "2/4", 1, 2 }, { "-6/4", -3, 2 }, { "0", 0, 1 }, { "0/5", 0, 1 },
    { " 1 / 3 ", 1, 3 }, { "1.5/2", 3, 4 }, { "1/0.5", 2, 1 }, { "1,000/3", 1000, 3 }, { "12", 12, 1 },
    { "1\u20443", 1, 3 },
    { "999999999999999999/999999999999999998", 999999999999999999, 999999999999999998 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gint64 num = 77, den = 77;
      g_autoptr (Fault) fault = NULL;

      g_assert_true (decimal_parse_ratio (rows[i].text, &num, &den, &fault));
      g_assert_cmpint (num, ==, rows[i].num);
      g_assert_cmpint (den, ==, rows[i].den);
    }
}

static void
test_ratio_bad (void)
{
  static const struct
  {
    const char *text;
    int at;
    const char *word;
  } rows[] = {
    { "", -1, "missing" }, { "1/0", 2, "zero" }, { "1/", 2, "missing" }, { "/2", 0, "“/2”" }, { "1/2/3", 3, "“/3”" },
    { "1/-2", 2, "“-2”" }, { "1/x", 2, "“x”" }, { "1 1/2", 2, "second number" }, { "1.2.3", 3, "second point" },
    { "12,5", 2, "comma" }, { "1/1.2.3", 5, "second point" },
    { "0.0000000000000000001", 20, "too many digits" }, { "1/0.0000000000000000001", 22, "too many digits" },
    { "999999999999999999/0.000000000000000001", 0, "too many digits" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gint64 num, den;
      g_autoptr (Fault) fault = NULL;

      g_assert_false (decimal_parse_ratio (rows[i].text, &num, &den, &fault));
      g_assert_cmpint (fault->at, ==, rows[i].at);
      g_assert_nonnull (strstr (fault->what, rows[i].word));
      assert_fault_usable (fault, rows[i].text);
    }
}

static void
test_significant (void)
{
  static const struct
  {
    double value;
    int digits;
    const char *text;
  } rows[] = {
    { 0, 6, "0" }, { -0.0, 6, "0" }, { 1, 6, "1" }, { 1234.5678, 6, "1234.57" }, { 1234567, 3, "1230000" },
    { 0.000012345, 3, "0.0000123" }, { -2.5, 9, "-2.5" }, { 99999.5, 5, "100000" },
    { 1e21, 4, "1000000000000000000000" },
    { 0.1, 17, "0.10000000000000001" }, { 0.1, 15, "0.1" }, { NAN, 6, "null" }, { INFINITY, 6, "null" },
    { 120, 1, "100" },
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (8);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = decimal_print_significant (rows[i].value, rows[i].digits);

      g_assert_cmpstr (text, ==, rows[i].text);
    }
  /* 17 significant digits give every double back. */
  for (int i = 0; i < 20000; i++)
    {
      double value = ldexp (g_rand_double_range (rand, -1, 1), g_rand_int_range (rand, -1000, 1000));
      g_autofree char *text = decimal_print_significant (value, 17);

      g_assert_null (strpbrk (text, "eE,"));
      g_assert_cmpfloat (g_ascii_strtod (text, NULL), ==, value);
    }
}

static void
test_any_text (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (9);

  for (int i = 0; i < FUZZ_ROUNDS; i++)
    {
      g_autofree char *text = fuzz_text (rand);
      g_autoptr (Fault) fault = NULL, ratio_fault = NULL;
      gint64 value, back, num, den;

      if (decimal_parse (text, 6, &value, &fault))
        {
          g_autofree char *printed = decimal_print (value, 6, 0, FALSE);

          g_assert_null (fault);
          g_assert_true (decimal_parse (printed, 6, &back, NULL));
          g_assert_cmpint (back, ==, value);
          /* What is a decimal is a ratio of the same size. */
          g_assert_true (decimal_parse_ratio (text, &num, &den, NULL));
          g_assert_true ((__int128_t) value * den == (__int128_t) num * 1000000);
        }
      else
        assert_fault_usable (fault, text);
      if (decimal_parse_ratio (text, &num, &den, &ratio_fault))
        g_assert_cmpint (den, >, 0);
      else
        assert_fault_usable (ratio_fault, text);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/decimal/parse-good", test_parse_good);
  g_test_add_func ("/decimal/parse-bad", test_parse_bad);
  g_test_add_func ("/decimal/comma-remedy", test_comma_remedy);
  g_test_add_func ("/decimal/print", test_print);
  g_test_add_func ("/decimal/round-trip", test_round_trip);
  g_test_add_func ("/decimal/ratio-good", test_ratio_good);
  g_test_add_func ("/decimal/ratio-bad", test_ratio_bad);
  g_test_add_func ("/decimal/significant", test_significant);
  g_test_add_func ("/decimal/any-text", test_any_text);
  return g_test_run ();
}

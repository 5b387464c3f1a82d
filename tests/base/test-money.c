/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/money.h"

#include "base/decimal.h"
#include "fuzz.h"

/* An amount typed as text, rounded: no binary figure on the way. */
static void
assert_rounded (const char *text, int decimals, const char *wanted)
{
  gint64 exact;
  g_autofree char *got = NULL;

  g_assert_true (decimal_parse (text, MONEY_EXACT_DECIMALS, &exact, NULL));
  got = money_print (money_round (exact, decimals), decimals, FALSE);
  g_assert_cmpstr (got, ==, wanted);
}

/* methods.md 13e and L8: halves away from zero; figures as printed there. */
static void
test_round_published (void)
{
  assert_rounded ("2.00005", 4, "2.0001");
  assert_rounded ("-2.00005", 4, "-2.0001");
  assert_rounded ("2.00015", 4, "2.0002");
  assert_rounded ("0.125", 2, "0.13");
  assert_rounded ("0.135", 2, "0.14");
  assert_rounded ("19958.625", 2, "19958.63");
  assert_rounded ("0.5", 0, "1");
  assert_rounded ("-0.5", 0, "-1");
  assert_rounded ("0.4999999999", 0, "0");
}

static void
test_round_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (5);

  for (int i = 0; i < 20000; i++)
    {
      NumWide exact = (NumWide) fuzz_int64 (rand) * g_rand_int_range (rand, 1, 1000);
      int decimals = g_rand_int_range (rand, 0, 5);
      NumWide unit = 1, rest;

      for (int k = decimals; k < 10; k++)
        unit *= 10;
      rest = exact - (NumWide) money_round (exact, decimals) * unit;
      /* Nearest, and on a tie the rest points back towards zero. */
      g_assert_true (2 * (rest < 0 ? -rest : rest) <= unit);
      if (2 * rest == unit || 2 * rest == -unit)
        g_assert_true ((rest < 0) == (exact > 0));
    }
  g_assert_cmpint (money_round ((NumWide) 1 << 120, 2), ==, G_MAXINT64);
  g_assert_cmpint (money_round (-((NumWide) 1 << 120), 2), ==, G_MININT64);
}

static void
assert_printed (gint64 minor, int decimals, gboolean group, const char *wanted)
{
  g_autofree char *text = money_print (minor, decimals, group);

  g_assert_cmpstr (text, ==, wanted);
}

static void
test_print (void)
{
  assert_printed (20759042, 2, TRUE, "207,590.42");
  assert_printed (20759042, 2, FALSE, "207590.42");
  assert_printed (-20759000, 2, TRUE, "-207,590.00");
  assert_printed (5, 2, TRUE, "0.05");
  assert_printed (1234567, 0, TRUE, "1,234,567");
  assert_printed (0, 2, TRUE, "0.00");
  assert_printed (G_MININT64, 2, TRUE, "-92,233,720,368,547,758.08");
}

/* 7.25 % of 55,380.79 is 4,015.107275 (computed by hand), so 4,015.11. */
static void
test_rate (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (6);

  g_assert_cmpint (money_rate (5538079, 72500), ==, 401511);
  g_assert_cmpint (money_rate (-5538079, 72500), ==, -401511);
  g_assert_cmpint (money_rate (1, 500000), ==, 1);
  g_assert_cmpint (money_rate (-1, 500000), ==, -1);
  g_assert_cmpint (money_rate (1, 499999), ==, 0);
  g_assert_cmpint (money_rate (G_MAXINT64, 1000000), ==, G_MAXINT64);
  g_assert_cmpint (money_rate (G_MAXINT64, 2000000), ==, G_MAXINT64);
  g_assert_cmpint (money_rate (G_MAXINT64, -2000000), ==, G_MININT64);
  for (int i = 0; i < 20000; i++)
    {
      gint64 minor = fuzz_int64 (rand) >> 2, rate = g_rand_int_range (rand, -2000000, 2000000);
      NumWide rest = (NumWide) minor * rate - (NumWide) money_rate (minor, rate) * 1000000;

      g_assert_true (2 * (rest < 0 ? -rest : rest) <= 1000000);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/money/round-published", test_round_published);
  g_test_add_func ("/money/round-random", test_round_random);
  g_test_add_func ("/money/print", test_print);
  g_test_add_func ("/money/rate", test_rate);
  return g_test_run ();
}

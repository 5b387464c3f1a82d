/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/num.h"

#include "fuzz.h"

#include <math.h>

__extension__ typedef unsigned __int128 Unsigned;

#define WIDE_MAX ((NumWide) (((Unsigned) 1 << 127) - 1))
#define WIDE_MIN (-WIDE_MAX - 1)

/* Does q = a / b, rounded with halves away from zero? By the definition, without a division: twice the rest is below
 * the divisor, or equal to it when q lies further out than a / b. All sizes small enough for 128 bits. */
static gboolean
is_rounded (NumWide a, NumWide b, NumWide q)
{
  NumWide rest = a - q * b, twice = 2 * (rest < 0 ? -rest : rest), size = b < 0 ? -b : b;

  if (twice != size)
    return twice < size;
  return (q < 0 ? -q : q) * size > (a < 0 ? -a : a);
}

/* The ties of methods.md 13e (common practice of spreadsheets): halves go away from zero. */
static void
test_div_ties (void)
{
  static const gint64 rows[][3] = {
    { 5, 2, 3 }, { -5, 2, -3 }, { 1, 2, 1 }, { -1, 2, -1 }, { 4, 3, 1 }, { 5, 3, 2 }, { -4, 3, -1 }, { -5, 3, -2 },
    { 0, 7, 0 }, { 7, 1, 7 }, { -7, 1, -7 }, { G_MAXINT64, 1, G_MAXINT64 }, { G_MININT64, 1, G_MININT64 },
    { G_MAXINT64, G_MAXINT64, 1 }, { G_MAXINT64 / 2, G_MAXINT64, 0 }, { G_MAXINT64 / 2 + 1, G_MAXINT64, 1 },
    { 125, 10, 13 }, { 135, 10, 14 }, { 200005, 10, 20001 }, { -200005, 10, -20001 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_assert_cmpint (num_div (rows[i][0], rows[i][1]), ==, rows[i][2]);
      g_assert_true (num_wide_div (rows[i][0], rows[i][1]) == rows[i][2]);
      g_assert_true (num_wide_div (-(NumWide) rows[i][0], -rows[i][1]) == rows[i][2]);
      g_assert_true (num_wide_div (rows[i][0], -rows[i][1]) == -(NumWide) rows[i][2]);
    }
}

static void
test_div_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1);

  for (int i = 0; i < 50000; i++)
    {
      gint64 a = fuzz_int64 (rand), b = fuzz_int64 (rand), c = fuzz_int64 (rand);
      NumWide wide = (NumWide) a * c / 4;

      if (b == 0)
        continue;
      g_assert_true (is_rounded (wide, b, num_wide_div (wide, b)));
      g_assert_true (is_rounded (a, b, num_wide_div (a, b)));
      if (b > 0)
        g_assert_true (is_rounded (a, b, num_div (a, b)));
    }
  g_assert_true (num_wide_div (WIDE_MIN, 1) == WIDE_MIN);
  g_assert_true (num_wide_div (WIDE_MAX, WIDE_MIN) == -1);
  g_assert_true (num_wide_div (WIDE_MIN, 2) == WIDE_MIN / 2);
}

static void
test_mul_div (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (2);
  gint64 out = 99;
  int fitted = 0, refused = 0;

  for (int i = 0; i < 50000; i++)
    {
      gint64 a = fuzz_int64 (rand) / 2, b = fuzz_int64 (rand) / 2, d = fuzz_int64 (rand);
      gint64 got;

      if (d > 0 && num_mul_div (a, b, d, &got))
        {
          g_assert_true (is_rounded ((NumWide) a * b, d, got));
          fitted++;
        }
      else if (d > 0)
        {
          NumWide product = (NumWide) a * b;

          /* What does not fit really lies at or beyond 2^63 - 1/2. */
          g_assert_true ((product < 0 ? -product : product) / d >= G_MAXINT64);
          refused++;
        }
    }
  g_assert_cmpint (fitted, >, 1000);
  g_assert_cmpint (refused, >, 1000);
  g_assert_false (num_mul_div (1, 1, 0, &out));
  g_assert_false (num_mul_div (1, 1, -1, &out));
  g_assert_false (num_mul_div (G_MAXINT64, 2, 1, &out));
  g_assert_cmpint (out, ==, 99);
  g_assert_true (num_mul_div (G_MININT64, G_MAXINT64, G_MAXINT64, &out));
  g_assert_cmpint (out, ==, G_MININT64);
}

static void
test_from_double (void)
{
  static const struct
  {
    double x;
    gint64 out;
  } rows[] = { { 0.5, 1 }, { -0.5, -1 }, { 2.5, 3 }, { -2.5, -3 }, { 0.49999999999999994, 0 },
  { 1e15 + 0.5, 1000000000000001 },
               { -0.0, 0 }, { 8.9e18, 8900000000000000000 }, { 9007199254740993.0, 9007199254740992 } };
  static const double bad[] = { NAN, INFINITY, -INFINITY, 9.0e18, -9.0e18, 1e300 };
  gint64 out = 42;

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_false (num_from_double (bad[i], &out));
  g_assert_cmpint (out, ==, 42);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_assert_true (num_from_double (rows[i].x, &out));
      g_assert_cmpint (out, ==, rows[i].out);
    }
}

static void
test_narrow (void)
{
  gint64 out = 42;

  g_assert_false (num_narrow ((NumWide) G_MAXINT64 + 1, &out));
  g_assert_false (num_narrow ((NumWide) G_MININT64 - 1, &out));
  g_assert_cmpint (out, ==, 42);
  g_assert_true (num_narrow (G_MAXINT64, &out));
  g_assert_cmpint (out, ==, G_MAXINT64);
  g_assert_true (num_narrow (G_MININT64, &out));
  g_assert_cmpint (out, ==, G_MININT64);
  g_assert_cmpfloat (num_wide_to_double ((NumWide) 1 << 100), ==, ldexp (1.0, 100));
  g_assert_cmpfloat (num_wide_to_double (-((NumWide) 1 << 100)), ==, -ldexp (1.0, 100));
}

static void
assert_wide (NumWide value, int decimals, const char *wanted)
{
  g_autofree char *text = num_wide_print (value, decimals);

  g_assert_cmpstr (text, ==, wanted);
}

static void
test_wide_print (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (3);

  assert_wide (0, 0, "0");
  assert_wide (0, 3, "0.000");
  assert_wide (5, 2, "0.05");
  assert_wide (-5, 2, "-0.05");
  assert_wide (-1234, 2, "-12.34");
  assert_wide (1234, 0, "1234");
  assert_wide (WIDE_MAX, 0, "170141183460469231731687303715884105727");
  assert_wide (WIDE_MIN, 38, "-1.70141183460469231731687303715884105728");
  for (int i = 0; i < 5000; i++)
    {
      gint64 value = fuzz_int64 (rand);
      g_autofree char *wanted = g_strdup_printf ("%" G_GINT64_FORMAT, value);

      assert_wide (value, 0, wanted);
    }
}

/* Largest remainder, methods.md 13c: figures and rule. */
static void
test_apportion_published (void)
{
  NumWide equal[7] = { 1, 1, 1, 1, 1, 1, 1 };
  NumWide none[3] = { 0, 0, 0 };
  gint64 parts[7];

  num_apportion (13654617, equal, 7, parts);
  for (int i = 0; i < 7; i++)
    g_assert_cmpint (parts[i], ==, i < 4 ? 1950660 : 1950659);
  num_apportion (10000, none, 3, parts);
  g_assert_cmpint (parts[0], ==, 3334);
  g_assert_cmpint (parts[1], ==, 3333);
  g_assert_cmpint (parts[2], ==, 3333);
  num_apportion (-10000, NULL, 3, parts);
  g_assert_cmpint (parts[0], ==, -3334);
  g_assert_cmpint (parts[2], ==, -3333);
  num_apportion (5, equal, 0, parts);
  num_apportion (G_MININT64, equal, 1, parts);
  g_assert_cmpint (parts[0], ==, G_MININT64);
}

/* By the definition: parts add up, each is the floor of its share or one more, and no part that was passed over has a
 * larger remainder than one that got a unit more (ties: the first in order). Weights and totals up to 2^63, their
 * sums on both sides of 64 bits. */
static void
test_apportion_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (4);

  for (int round = 0; round < 3000; round++)
    {
      gsize n = (gsize) g_rand_int_range (rand, 1, 12);
      gint64 any_total = fuzz_int64 (rand), parts[12], small[12];
      gint64 total = g_rand_boolean (rand) ? any_total : G_MAXINT64 - (ABS (any_total) >> 2);
      NumWide weight[12], scaled[12], sum = 0, added = 0;
      Unsigned remainder[12];
      gboolean extra[12], large = g_rand_boolean (rand);
      guint64 size = (guint64) ABS (total);
      NumWide scale = ((NumWide) 1 << g_rand_int_range (rand, 1, 60)) + g_rand_int_range (rand, 0, 2);

      for (gsize i = 0; i < n; i++)
        {
          gint64 any = fuzz_int64 (rand);

          weight[i] = g_rand_int_range (rand, 0, 4) == 0 ? 0 : ABS (any);
          if (large && weight[i] != 0)
            weight[i] = G_MAXINT64 - (weight[i] >> 1);
          scaled[i] = weight[i] * scale;
          sum += weight[i];
        }
      num_apportion (total, weight, n, parts);
      if (sum == 0)
        continue;
      for (gsize i = 0; i < n; i++)
        {
          Unsigned product = (Unsigned) size * (Unsigned) weight[i];
          gint64 floor_part = (gint64) (product / (Unsigned) sum);

          remainder[i] = product % (Unsigned) sum;
          g_assert_true (ABS (parts[i]) == floor_part || ABS (parts[i]) == floor_part + 1);
          g_assert_true (parts[i] == 0 || (parts[i] < 0) == (total < 0));
          extra[i] = ABS (parts[i]) != floor_part;
          added += parts[i];
        }
      g_assert_true (added == total);
      for (gsize i = 0; i < n; i++)
        for (gsize j = 0; j < n; j++)
          if (extra[i] && !extra[j])
            g_assert_true (remainder[i] > remainder[j] || (remainder[i] == remainder[j] && i < j));
      /* The same weights in another unit, beyond 64 bits, split alike. */
      num_apportion (total, scaled, n, small);
      for (gsize i = 0; i < n; i++)
        g_assert_cmpint (small[i], ==, parts[i]);
    }
}

/* Shares that come out even, with weights beyond 64 bits: no remainder is left to hand out. */
static void
test_apportion_even (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (16);

  for (int round = 0; round < 3000; round++)
    {
      NumWide scale = ((NumWide) 1 << g_rand_int_range (rand, 50, 90)) + g_rand_int_range (rand, 0, 1000), weight[5];
      gint64 each = g_rand_int_range (rand, 0, 1000000), share[5], total = 0, parts[5];

      for (int i = 0; i < 5; i++)
        {
          share[i] = g_rand_int_range (rand, 0, 1000000);
          weight[i] = share[i] * scale;
          total += share[i] * each;
        }
      num_apportion (total, weight, 5, parts);
      for (int i = 0; i < 5; i++)
        g_assert_cmpint (parts[i], ==, share[i] * each);
    }
}

/* Weights whose sum leaves 128 bits are still shared in proportion. */
static void
test_apportion_huge (void)
{
  NumWide huge[4] = { WIDE_MAX, WIDE_MAX, WIDE_MAX, WIDE_MAX };
  NumWide odd[3] = { WIDE_MAX, -5, 0 };
  gint64 parts[4];

  num_apportion (10, huge, 4, parts);
  g_assert_cmpint (parts[0], ==, 3);
  g_assert_cmpint (parts[1], ==, 3);
  g_assert_cmpint (parts[2], ==, 2);
  g_assert_cmpint (parts[3], ==, 2);
  num_apportion (G_MAXINT64, odd, 3, parts);
  g_assert_cmpint (parts[0], ==, G_MAXINT64);
  g_assert_cmpint (parts[1], ==, 0);
  g_assert_cmpint (parts[2], ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/num/div-ties", test_div_ties);
  g_test_add_func ("/num/div-random", test_div_random);
  g_test_add_func ("/num/mul-div", test_mul_div);
  g_test_add_func ("/num/from-double", test_from_double);
  g_test_add_func ("/num/narrow", test_narrow);
  g_test_add_func ("/num/wide-print", test_wide_print);
  g_test_add_func ("/num/apportion-published", test_apportion_published);
  g_test_add_func ("/num/apportion-random", test_apportion_random);
  g_test_add_func ("/num/apportion-even", test_apportion_even);
  g_test_add_func ("/num/apportion-huge", test_apportion_huge);
  return g_test_run ();
}

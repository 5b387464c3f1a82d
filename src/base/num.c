/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/num.h"

#include <math.h>
#include <stdlib.h>

__extension__ typedef unsigned __int128 NumUnsigned;

/* The size of @a without its sign; also right for the most negative number, whose positive twin does not exist. */
static NumUnsigned
magnitude (NumWide a)
{
  return a < 0 ? 0 - (NumUnsigned) a : (NumUnsigned) a;
}

NumWide
num_wide_div (NumWide a, NumWide b)
{
  NumUnsigned ua = magnitude (a), ub = magnitude (b), q, r;

  g_return_val_if_fail (b != 0, 0);

  q = ua / ub;
  r = ua % ub;
  if (r >= ub - r)
    q++;
  return (a < 0) != (b < 0) ? (NumWide) (0 - q) : (NumWide) q;
}

gboolean
num_mul_div (gint64 a, gint64 b, gint64 d, gint64 *out)
{
  if (d <= 0)
    return FALSE;
  return num_narrow (num_wide_div ((NumWide) a * b, d), out);
}

gboolean
num_from_double (double x, gint64 *out)
{
  if (!isfinite (x) || fabs (x) >= 9.0e18)
    return FALSE;
  *out = (gint64) round (x);
  return TRUE;
}

gboolean
num_narrow (NumWide a, gint64 *out)
{
  if (a < G_MININT64 || a > G_MAXINT64)
    return FALSE;
  *out = (gint64) a;
  return TRUE;
}

double
num_wide_to_double (NumWide a)
{
  return (double) a;
}

char *
num_wide_print (NumWide a, int decimals)
{
  char digits[48]; /* 39 digits at most, filled from the end */
  gsize first = sizeof digits;
  NumUnsigned rest = magnitude (a);
  GString *out = g_string_new (a < 0 ? "-" : NULL);
  int count = 0;

  decimals = CLAMP (decimals, 0, 38);
  while (rest != 0 || count <= decimals)
    {
      digits[--first] = (char) ('0' + (int) (rest % 10));
      rest /= 10;
      count++;
    }
  g_string_append_len (out, digits + first, count - decimals);
  if (decimals > 0)
    {
      g_string_append_c (out, '.');
      g_string_append_len (out, digits + sizeof digits - decimals, decimals);
    }
  return g_string_free (out, FALSE);
}

typedef struct
{
  NumUnsigned remainder;
  gsize index;
} Share;

static int
by_remainder (const void *a, const void *b)
{
  const Share *x = a, *y = b;

  if (x->remainder != y->remainder)
    return x->remainder > y->remainder ? -1 : 1;
  return x->index < y->index ? -1 : x->index > y->index;
}

/* floor (total * weight / sum) with the remainder; 0 <= weight <= sum, sum > 0. The product may need more than 128
 * bits: then the total is taken bit by bit and the running remainder never leaves 0 to sum - 1. */
static guint64
floor_share (guint64 total, NumUnsigned weight, NumUnsigned sum, NumUnsigned *remainder)
{
  NumUnsigned r = 0;
  guint64 q = 0;

  if (sum <= G_MAXUINT64)
    {
      *remainder = (NumUnsigned) total * weight % sum;
      return (guint64) ((NumUnsigned) total * weight / sum);
    }
  for (int bit = 63; bit >= 0; bit--)
    {
      q <<= 1;
      if (r >= sum - r)
        {
          r -= sum - r;
          q++;
        }
      else
        r += r;
      if ((total >> bit & 1) == 0)
        continue;
      if (r >= sum - weight)
        {
          r -= sum - weight;
          q++;
        }
      else
        r += weight;
    }
  *remainder = r;
  return q;
}

/* A weight as it counts: negative ones as 0, and scaled down by @shift bits. */
static NumUnsigned
weight_of (const NumWide *weights, gsize i, int shift)
{
  if (weights == NULL)
    return 1;
  return weights[i] > 0 ? (NumUnsigned) weights[i] >> shift : 0;
}

/* The sum of the weights, with the smallest shift that makes it fit; the shift is 0 for any real money. */
static NumUnsigned
sum_weights (const NumWide *weights, gsize n, int *shift)
{
  const NumUnsigned most = ~(NumUnsigned) 0;

  for (*shift = 0;; (*shift)++)
    {
      NumUnsigned sum = 0;
      gsize i;

      for (i = 0; i < n; i++)
        {
          NumUnsigned weight = weight_of (weights, i, *shift);

          if (weight > most - sum)
            break;
          sum += weight;
        }
      if (i == n)
        return sum;
    }
}

void
num_apportion (gint64 total, const NumWide *weights, gsize n, gint64 *parts)
{
  guint64 size = total < 0 ? 0 - (guint64) total : (guint64) total;
  guint64 left = size;
  g_autofree Share *share = g_new (Share, n);
  int shift = 0;
  NumUnsigned sum = sum_weights (weights, n, &shift);

  if (n == 0)
    return;
  if (sum == 0)
    {
      weights = NULL;
      sum = n;
    }
  for (gsize i = 0; i < n; i++)
    {
      guint64 part = floor_share (size, weight_of (weights, i, shift), sum, &share[i].remainder);

      share[i].index = i;
      parts[i] = (gint64) part;
      left -= part;
    }
  qsort (share, n, sizeof *share, by_remainder);
  for (gsize i = 0; i < left && i < n; i++)
    parts[share[i].index] = (gint64) ((guint64) parts[share[i].index] + 1);
  if (total < 0)
    for (gsize i = 0; i < n; i++)
      parts[i] = (gint64) (0 - (guint64) parts[i]);
}

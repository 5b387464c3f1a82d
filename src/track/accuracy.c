/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "track/accuracy.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return (x > y) - (x < y);
}

static double
median (double *x, gsize n)
{
  qsort (x, n, sizeof *x, compare);
  return n % 2 ? x[n / 2] : (x[n / 2 - 1] + x[n / 2]) / 2;
}

static void
no_figures (Accuracy *out)
{
  out->ratio = out->bias = out->typical = out->within_10 = out->within_25 = out->wape = out->mae = out->rmse = out->mape
      = (double) NAN;
}

void
accuracy_of (const AccuracyPair *pair, gsize n, Accuracy *out)
{
  g_autofree double *share = g_new (double, MAX (n, 1));
  double estimates = 0, actuals = 0, logs = 0, errors = 0, squares = 0, shares = 0, near = 0, fair = 0, m;

  memset (out, 0, sizeof *out);
  for (gsize i = 0; i < n; i++)
    {
      double error = fabs (pair[i].actual - pair[i].estimate);
      if (!(pair[i].estimate > 0 && pair[i].actual > 0))
        continue;
      share[out->n] = error / pair[i].actual;
      near += share[out->n] <= 0.10;
      fair += share[out->n] <= 0.25;
      shares += share[out->n++];
      estimates += pair[i].estimate;
      actuals += pair[i].actual;
      logs += log (pair[i].actual / pair[i].estimate);
      errors += error;
      squares += error * error;
    }
  out->left_out = n - out->n;
  if (out->n == 0)
    {
      no_figures (out);
      return;
    }
  m = (double) out->n;
  out->ratio = actuals / estimates;
  out->bias = exp (logs / m);
  out->typical = median (share, out->n);
  out->within_10 = near / m;
  out->within_25 = fair / m;
  out->wape = errors / actuals;
  out->mae = errors / m;
  out->rmse = sqrt (squares / m);
  out->mape = shares / m;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/learning.h"

#include "base/num.h"

#include <glib/gi18n-lib.h>
#include <math.h>

const char *const labour_learning_keys[LABOUR_N_LEARNINGS] = { "none", "unit", "cumulative-average" };

/* Terms summed one by one before Euler and Maclaurin's formula takes over. */
#define SUMMED 10000

const char *
labour_learning_say (LabourLearning model)
{
  static const char *const say[LABOUR_N_LEARNINGS] = { N_ ("no learning"), N_ ("unit curve (Crawford)"),
                                                       N_ ("cumulative average (Wright)") };

  return _ (say[model]);
}

gboolean
labour_learning_parse (const char *text, LabourLearning *model)
{
  for (int i = 0; i < LABOUR_N_LEARNINGS; i++)
    if (g_ascii_strcasecmp (text, labour_learning_keys[i]) == 0)
      {
        *model = (LabourLearning) i;
        return TRUE;
      }
  return FALSE;
}

static double
exponent (double slope)
{
  return log2 (slope);
}

/* Sum of k^b for k = 1 to n. */
static double
sum_of_powers (double b, gint64 n)
{
  gint64 last = MIN (n, SUMMED);
  double sum = 0;

  /* Smallest first, so that little is lost. */
  for (gint64 k = last; k >= 1; k--)
    sum += pow ((double) k, b);
  if (n <= SUMMED)
    return sum;
  /* From SUMMED (already in the sum) to n: integral, half the ends, first correction of their slopes. */
  double x = SUMMED, y = (double) n;
  double integral = fabs (b + 1) < 1e-12 ? log (y / x) : (pow (y, b + 1) - pow (x, b + 1)) / (b + 1);
  return sum + integral + (pow (y, b) - pow (x, b)) / 2 + b * (pow (y, b - 1) - pow (x, b - 1)) / 12;
}

double
labour_learning_total (LabourLearning model, double first, double slope, gint64 n)
{
  double b = exponent (slope);

  if (n <= 0)
    return 0;
  if (model == LABOUR_LEARNING_NONE)
    return first * (double) n;
  return model == LABOUR_LEARNING_UNIT ? first * sum_of_powers (b, n) : first * pow ((double) n, b + 1);
}

double
labour_learning_unit (LabourLearning model, double first, double slope, gint64 n)
{
  if (n <= 0)
    return 0;
  if (model == LABOUR_LEARNING_UNIT)
    return first * pow ((double) n, exponent (slope));
  return labour_learning_between (model, first, slope, n, n);
}

double
labour_learning_between (LabourLearning model, double first, double slope, gint64 from, gint64 to)
{
  return labour_learning_total (model, first, slope, to) - labour_learning_total (model, first, slope, from - 1);
}

gint64
labour_learning_factor (LabourLearning model, double slope, gint64 units, double known)
{
  double b, factor;
  gint64 ppm = 1000000, slow;

  if (model == LABOUR_LEARNING_NONE || units <= 0 || known <= 0 || slope >= 1)
    return ppm;
  b = exponent (slope);
  slow = MIN (units, (gint64) known);
  if (model == LABOUR_LEARNING_UNIT)
    factor = (sum_of_powers (b, slow) / pow (known, b) + (double) (units - slow)) / (double) units;
  else
    factor = (double) units < known ? pow ((double) units / known, b) : 1;
  return num_from_double (factor * 1e6, &ppm) ? MAX (ppm, 1) : 1000000;
}

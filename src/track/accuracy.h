/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  double estimate, actual;
} AccuracyPair;

/* How well estimates met what came. Errors are actual less estimate, percentages divide by the actual. Measures as in Hyndman and
 * Koehler 2006. A figure that does not exist is NAN. */
typedef struct
{
  gsize n;          /* pairs with both figures above zero; all that follows is over these */
  gsize left_out;
  double ratio;     /* sum of actuals / sum of estimates */
  double bias;      /* exp (mean of ln (actual / estimate)): 1.10 is "ten per cent over, typically" */
  double typical;   /* median of |error| / actual */
  double within_10, within_25; /* share of pairs whose |error| / actual is at most 10 or 25 % */
  double wape;      /* sum of |error| / sum of actuals */
  double mae, rmse, mape;
} Accuracy;

void accuracy_of (const AccuracyPair *pair, gsize n, Accuracy *out);

/* Below this many pairs a bias says little: a convention of this program. */
#define ACCURACY_FEW 5

G_END_DECLS

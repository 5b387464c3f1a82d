/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/fault.h"

G_BEGIN_DECLS

/* Least squares y = X b + e by QR of scaled columns, never by the normal equations. With s^2 = RSS/(n - p), se (b_j) =
 * s sqrt ((X'X)^-1_jj). R^2 = 1 - RSS/TSS, TSS about the mean, or of y itself without intercept. */
typedef struct
{
  gsize n, p;          /* observations, coefficients */
  gboolean intercept;  /* then b[0] */
  double *b, *se;      /* p each */
  double *inverse;     /* (X'X)^-1, p x p, rows after rows */
  double rss, ess;     /* residual and regression sums of squares */
  double s, r2, f;     /* f NAN where there is nothing to test */
} LabourFit;

/* @x: n rows of k columns; k may be 0 with an intercept. NULL with @fault: fewer than p + 2 observations, figures that are not
 * finite, a column without spread or one that follows from the others (named by @names, nullable, k of them). */
LabourFit *labour_fit_new (const double *y, const double *x, gsize n, gsize k, gboolean intercept, const char *const *names,
                           Fault **fault);
void labour_fit_free (LabourFit *fit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LabourFit, labour_fit_free)

typedef struct
{
  double mean;
  double mean_half; /* half-width of the interval of the mean there */
  double new_half;  /* of one new observation */
} LabourBandAt;

/* At @x (k figures): x0'b +- t s sqrt (x0'(X'X)^-1 x0), for a new observation 1 more under the root. */
LabourBandAt labour_fit_at (const LabourFit *fit, const double *x, double confidence);
/* Quantile of Student's t; p in (0, 1). */
double labour_t (double p, double freedom);

/* Minutes that depend on size, minutes = fixed + per foot x ft + per pound x lb, apart for each band of handling. */
typedef struct
{
  double over_lb, upto_lb;  /* upto_lb INFINITY in the last */
  gsize n;
  LabourFit *fit;           /* NULL: refused */
  Fault *fault;             /* why it is refused, or NULL */
  char *doubt;              /* coefficients below zero, named; NULL none */
} LabourFitBand;

/* @limits: rising, in pounds, inclusive, n_limits of them: n_limits + 1 bands (one, two, three persons). Without @ft the minutes
 * are fixed and per pound alone. Bands are refused one by one. NULL with @fault when the limits do not rise. GPtrArray of
 * LabourFitBand *. (transfer full) */
GPtrArray *labour_fit_bands (const double *minutes, const double *ft, const double *lb, gsize n, const double *limits,
                             gsize n_limits, Fault **fault);

G_END_DECLS

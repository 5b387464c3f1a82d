/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/fault.h"

G_BEGIN_DECLS

/* Rank correlation among columns of draws after Iman, R. L., Conover, W. J., Communications in Statistics B 11
 * (1982) 311-334. n trials x k columns, target C. Scores a_i = inverse normal of i / (n + 1); M: k columns, each a
 * permutation of the scores; E = corr (M) = F F', C = P P' (lower Cholesky); S = M (F^-1)' P'. Each column of draws
 * is put in the order of the ranks of S: corr (S) is C exactly, the rank correlation of the result near it. A column
 * keeps its values. */

/* FALSE with a fault when @c (k x k, row after row) is no correlation matrix, or @n trials are too few: not
 * symmetric, a diagonal that is not 1, an entry beyond -1 to 1, not positive definite (the smallest eigenvalue is
 * named, and how far all correlations must shrink to be feasible), n <= k. */
gboolean rank_correlation_check (const double *c, int k, gsize n, Fault **fault);
/* Of a symmetric matrix. */
double rank_correlation_least_eigenvalue (const double *c, int k);

/* What the method makes on its way, for those who check it; each may be NULL. */
typedef struct
{
  double *e;       /* k x k: correlation of the scores as they were drawn */
  double *p;       /* k x k: lower Cholesky of the target */
  double **s;      /* k columns of n */
  guint **order;   /* k columns of n: rank of S in each row, from 1 */
} RankCorrelationSteps;

/* Puts the columns of @x, k of n, in order. @rank: k columns of n, rank of the score that stands in each row, each a
 * permutation of 1 to n. FALSE with a fault: the check above, or scores that depend on each other (draw them again). */
gboolean rank_correlate (double *const *x, gsize n, int k, const double *target, const guint *const *rank,
                         const RankCorrelationSteps *steps, Fault **fault);

/* Ranks of a column, from 1; equal values in the order of their rows, or (@mean) the mean of their ranks. */
void rank_correlation_ranks (const double *x, gsize n, gboolean mean, double *rank);
/* Spearman's rank correlation of two columns, ties at mean ranks. */
double rank_correlation_of (const double *x, const double *y, gsize n);

G_END_DECLS

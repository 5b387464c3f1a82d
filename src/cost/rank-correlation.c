/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/rank-correlation.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_eigen.h>
#include <math.h>

#define AT(m, i, j) ((m)[(gsize) (i) * (gsize) k + (gsize) (j)])
/* An eigenvalue below this is zero in double precision. */
#define LEAST 1e-10

double
rank_correlation_least_eigenvalue (const double *c, int k)
{
  gsl_matrix *m = gsl_matrix_alloc ((gsize) k, (gsize) k);
  gsl_vector *value = gsl_vector_alloc ((gsize) k);
  gsl_eigen_symm_workspace *work = gsl_eigen_symm_alloc ((gsize) k);
  double least;

  for (int i = 0; i < k; i++)
    for (int j = 0; j < k; j++)
      gsl_matrix_set (m, (gsize) i, (gsize) j, AT (c, i, j));
  gsl_eigen_symm (m, value, work);
  least = gsl_vector_min (value);
  gsl_eigen_symm_free (work);
  gsl_vector_free (value);
  gsl_matrix_free (m);
  return least;
}

static gboolean
check_entries (const double *c, int k, Fault **fault)
{
  for (int i = 0; i < k; i++)
    {
      if (!(fabs (AT (c, i, i) - 1) <= 1e-12))
        return fault_set (fault, fault_new (-1, _ ("write 1 there"),
                                            _ ("the diagonal of a correlation matrix is 1; row %d has %.6g"), i + 1,
                                            AT (c, i, i)));
      for (int j = 0; j < i; j++)
        {
          if (!(fabs (AT (c, i, j) - AT (c, j, i)) <= 1e-12))
            return fault_set (
                fault, fault_new (-1, _ ("write the same figure on both sides of the diagonal"),
                                  _ ("the matrix is not symmetric: row %d, column %d has %.6g and its mirror %.6g"),
                                  i + 1, j + 1, AT (c, i, j), AT (c, j, i)));
          if (!(fabs (AT (c, i, j)) <= 1))
            return fault_set (fault, fault_new (-1, AT (c, i, j) > 0 ? _ ("1 is the most") : _ ("-1 is the least"),
                                                _ ("row %d, column %d has %.6g, which is no correlation"), i + 1, j + 1,
                                                AT (c, i, j)));
        }
    }
  return TRUE;
}

gboolean
rank_correlation_check (const double *c, int k, gsize n, Fault **fault)
{
  double least;

  if (k < 1)
    return fault_set (fault, fault_new (-1, _ ("name at least one input"), _ ("the correlation matrix is empty")));
  if (!check_entries (c, k, fault))
    return FALSE;
  least = rank_correlation_least_eigenvalue (c, k);
  if (!(least > LEAST))
    {
      /* Off-diagonals times t have the eigenvalues 1 + t (lambda - 1): feasible while t (1 - least) < 1. */
      double most = floor (1000 / (1 - least) - 1e-9) / 1000;
      g_autofree char *remedy = NULL;
      if (1 + most * (least - 1) <= LEAST)
        most -= 0.001;
      remedy = g_strdup_printf (_ ("multiply all correlations by at most %.3f"), most);
      return fault_set (fault,
                        fault_new (-1, remedy,
                                   _ ("the matrix is no correlation matrix: it is not positive definite, its smallest "
                                      "eigenvalue is %.6f"),
                                   least));
    }
  if (n <= (gsize) k)
    {
      g_autofree char *remedy = g_strdup_printf (_ ("ask for at least %d trials"), k + 1);
      return fault_set (fault,
                        fault_new (-1, remedy,
                                   _ ("%" G_GSIZE_FORMAT " trials cannot hold the correlations of %d inputs"), n, k));
    }
  return TRUE;
}

/* Lower triangle with l l' = m; FALSE when m is not positive definite. Left-looking, a row at a time. */
static gboolean
cholesky (const double *m, int k, double *l)
{
  for (int i = 0; i < k; i++)
    for (int j = 0; j < k; j++)
      {
        double sum = AT (m, i, j);
        AT (l, i, j) = 0;
        if (j > i)
          continue;
        for (int q = 0; q < j; q++)
          sum -= AT (l, i, q) * AT (l, j, q);
        if (i == j && !(sum > 1e-14))
          return FALSE;
        AT (l, i, j) = i == j ? sqrt (sum) : sum / AT (l, j, j);
      }
  return TRUE;
}

/* P F^-1, lower triangular: what a row of scores is multiplied by, s = (P F^-1) m. */
static void
transform_of (const double *p, const double *f, int k, double *t)
{
  for (int i = 0; i < k; i++)
    for (int j = k - 1; j >= 0; j--)
      {
        /* t f = p, solved from the right, as f is lower triangular */
        double sum = AT (p, i, j);
        for (int q = j + 1; q <= i; q++)
          sum -= AT (t, i, q) * AT (f, q, j);
        AT (t, i, j) = j > i ? 0 : sum / AT (f, j, j);
      }
}

typedef struct
{
  double value;
  guint row;
} Keyed;

static int
by_value (gconstpointer a, gconstpointer b)
{
  const Keyed *x = a, *y = b;

  if (x->value != y->value)
    return x->value < y->value ? -1 : 1;
  return x->row < y->row ? -1 : x->row > y->row;
}

static Keyed *
sorted_rows (const double *x, gsize n)
{
  Keyed *key = g_new (Keyed, MAX (n, 1));

  for (gsize i = 0; i < n; i++)
    key[i] = (Keyed){ x[i], (guint) i };
  qsort (key, n, sizeof *key, by_value);
  return key;
}

void
rank_correlation_ranks (const double *x, gsize n, gboolean mean, double *rank)
{
  g_autofree Keyed *key = sorted_rows (x, n);

  for (gsize i = 0; i < n;)
    {
      gsize end = i + 1;
      while (mean && end < n && key[end].value == key[i].value)
        end++;
      for (gsize j = i; j < end; j++)
        rank[key[j].row] = (double) (i + 1 + end) / 2;
      i = end;
    }
}

static double
correlation (const double *x, const double *y, gsize n)
{
  double mx = 0, my = 0, xx = 0, yy = 0, xy = 0;

  for (gsize i = 0; i < n; i++)
    {
      mx += x[i];
      my += y[i];
    }
  mx /= (double) n;
  my /= (double) n;
  for (gsize i = 0; i < n; i++)
    {
      xx += (x[i] - mx) * (x[i] - mx);
      yy += (y[i] - my) * (y[i] - my);
      xy += (x[i] - mx) * (y[i] - my);
    }
  return xy / sqrt (xx * yy);
}

double
rank_correlation_of (const double *x, const double *y, gsize n)
{
  g_autofree double *rx = g_new (double, MAX (n, 1)), *ry = g_new (double, MAX (n, 1));

  rank_correlation_ranks (x, n, TRUE, rx);
  rank_correlation_ranks (y, n, TRUE, ry);
  return correlation (rx, ry, n);
}

/* The j-th column of x in the order of the ranks of s. */
static void
reorder (double *x, const double *s, gsize n, guint *order)
{
  g_autofree Keyed *values = sorted_rows (x, n), *places = sorted_rows (s, n);

  for (gsize i = 0; i < n; i++)
    {
      x[places[i].row] = values[i].value;
      if (order)
        order[places[i].row] = (guint) i + 1;
    }
}

gboolean
rank_correlate (double *const *x, gsize n, int k, const double *target, const guint *const *rank,
                const RankCorrelationSteps *steps, Fault **fault)
{
  gsize kk = (gsize) k * (gsize) k;
  g_autofree double *score = NULL, *e = NULL, *f = NULL, *p = NULL, *t = NULL, *s = NULL;
  g_autoptr (GPtrArray) m = g_ptr_array_new_with_free_func (g_free);

  if (!rank_correlation_check (target, k, n, fault))
    return FALSE;
  score = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    score[i] = gsl_cdf_ugaussian_Pinv ((double) (i + 1) / (double) (n + 1));
  for (int j = 0; j < k; j++)
    {
      double *column = g_new (double, n);
      for (gsize i = 0; i < n; i++)
        column[i] = score[rank[j][i] - 1];
      g_ptr_array_add (m, column);
    }
  e = g_new0 (double, kk);
  f = g_new0 (double, kk);
  p = g_new0 (double, kk);
  t = g_new0 (double, kk);
  for (int i = 0; i < k; i++)
    for (int j = 0; j < k; j++)
      AT (e, i, j) = i == j ? 1 : correlation (m->pdata[i], m->pdata[j], n);
  if (!cholesky (e, k, f) || !cholesky (target, k, p))
    return fault_set (fault, fault_new (-1, _ ("draw again with another seed or more trials"),
                                        _ ("the scores drawn depend on each other")));
  transform_of (p, f, k, t);
  s = g_new (double, n);
  for (int j = 0; j < k; j++)
    {
      for (gsize i = 0; i < n; i++)
        {
          double sum = 0;
          for (int q = 0; q <= j; q++)
            sum += AT (t, j, q) * ((double *) m->pdata[q])[i];
          s[i] = sum;
        }
      reorder (x[j], s, n, steps && steps->order ? steps->order[j] : NULL);
      for (gsize i = 0; steps && steps->s && i < n; i++)
        steps->s[j][i] = s[i];
    }
  for (gsize i = 0; steps && i < kk; i++)
    {
      if (steps->e)
        steps->e[i] = e[i];
      if (steps->p)
        steps->p[i] = p[i];
    }
  return TRUE;
}

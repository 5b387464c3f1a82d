/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/fit.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

/* A column that is shorter than this beside the others, once they are taken out of it, follows from them. */
#define RANK 1e-11

/* GSL aborts by default; the answers are checked instead. */
static void
quiet_gsl (void)
{
  static gsize done;

  if (g_once_init_enter (&done))
    {
      gsl_set_error_handler_off ();
      g_once_init_leave (&done, 1);
    }
}

double
labour_t (double p, double freedom)
{
  quiet_gsl ();
  return gsl_cdf_tdist_Pinv (p, freedom);
}

void
labour_fit_free (LabourFit *fit)
{
  g_free (fit->b);
  g_free (fit->se);
  g_free (fit->inverse);
  g_free (fit);
}

static gboolean
check_figures (const double *y, const double *x, gsize n, gsize k, gsize p, Fault **fault)
{
  if (p == 0)
    return fault_set (fault, fault_new (-1, _ ("name at least one column, or leave the intercept in"),
                                        _ ("there is nothing to fit")));
  if (n < p + 2)
    return fault_set (fault, fault_new (-1, _ ("take more readings, or fit fewer coefficients"),
                                        _ ("too few points: %zu, and a fit of %zu coefficients needs %zu"), n, p, p + 2));
  for (gsize i = 0; i < n; i++)
    for (gsize j = 0; j <= k; j++)
      if (!isfinite (j == k ? y[i] : x[i * k + j]))
        return fault_set (fault, fault_new (-1, _ ("enter a plain number"), _ ("point %zu is no number"), i + 1));
  return TRUE;
}

/* What a column is called in a fault. */
static char *
column_name (gsize j, gboolean intercept, const char *const *names)
{
  gsize k = intercept ? j - 1 : j;

  if (intercept && j == 0)
    return g_strdup (_ ("the intercept"));
  return names ? g_strdup_printf ("“%s”", names[k]) : g_strdup_printf ("x%zu", k + 1);
}

/* Columns scaled to length 1; @scale gets their lengths. */
static gsl_matrix *
design (const double *x, gsize n, gsize k, gboolean intercept, double *scale)
{
  gsize p = k + (intercept ? 1 : 0);
  gsl_matrix *m = gsl_matrix_alloc (n, p);

  for (gsize j = 0; j < p; j++)
    {
      double sum = 0, most = 0;
      for (gsize i = 0; i < n; i++)
        {
          double v = intercept ? (j == 0 ? 1 : x[i * k + j - 1]) : x[i * k + j];
          gsl_matrix_set (m, i, j, v);
          most = MAX (most, fabs (v));
        }
      for (gsize i = 0; most > 0 && i < n; i++)
        sum += gsl_matrix_get (m, i, j) / most * (gsl_matrix_get (m, i, j) / most);
      scale[j] = most > 0 ? most * sqrt (sum) : 1;
      for (gsize i = 0; i < n; i++)
        gsl_matrix_set (m, i, j, gsl_matrix_get (m, i, j) / scale[j]);
    }
  return m;
}

/* (X'X)^-1 = R^-1 R^-T, columns unscaled again. */
static void
invert (LabourFit *fit, const gsl_matrix *qr, const double *scale)
{
  gsize p = fit->p;
  g_autofree double *r = g_new0 (double, p * p);

  for (gsize c = 0; c < p; c++)
    for (gsize i = c + 1; i-- > 0;)
      {
        double v = i == c ? 1 : 0;
        for (gsize j = i + 1; j <= c; j++)
          v -= gsl_matrix_get (qr, i, j) * r[j * p + c];
        r[i * p + c] = v / gsl_matrix_get (qr, i, i);
      }
  for (gsize i = 0; i < p; i++)
    for (gsize j = 0; j < p; j++)
      {
        double sum = 0;
        for (gsize c = MAX (i, j); c < p; c++)
          sum += r[i * p + c] * r[j * p + c];
        fit->inverse[i * p + j] = sum / scale[i] / scale[j];
      }
}

static void
answer (LabourFit *fit, const double *y, const gsl_vector *residual)
{
  double mean = 0, total = 0, rss = 0, free = (double) (fit->n - fit->p), tested = (double) (fit->p - (fit->intercept ? 1 : 0));

  for (gsize i = 0; i < fit->n && fit->intercept; i++)
    mean += y[i] / (double) fit->n;
  for (gsize i = 0; i < fit->n; i++)
    {
      total += (y[i] - mean) * (y[i] - mean);
      rss += gsl_vector_get (residual, i) * gsl_vector_get (residual, i);
    }
  fit->rss = rss;
  fit->ess = total - rss;
  fit->s = sqrt (rss / free);
  fit->r2 = total > 0 ? 1 - rss / total : NAN;
  fit->f = tested > 0 && rss > 0 ? fit->ess / tested / (rss / free) : NAN;
  for (gsize j = 0; j < fit->p; j++)
    fit->se[j] = fit->s * sqrt (fit->inverse[j * fit->p + j]);
}

LabourFit *
labour_fit_new (const double *y, const double *x, gsize n, gsize k, gboolean intercept, const char *const *names, Fault **fault)
{
  gsize p = k + (intercept ? 1 : 0);
  g_autofree double *scale = g_new0 (double, p + 1);
  g_autoptr (LabourFit) fit = NULL;
  gsl_matrix *m;
  gsl_vector *tau, *b, *residual, *right;
  gboolean whole = TRUE;

  quiet_gsl ();
  if (!check_figures (y, x, n, k, p, fault))
    return NULL;
  fit = g_new0 (LabourFit, 1);
  *fit = (LabourFit) { .n = n, .p = p, .intercept = intercept, .b = g_new0 (double, p), .se = g_new0 (double, p),
                       .inverse = g_new0 (double, p * p) };
  m = design (x, n, k, intercept, scale);
  tau = gsl_vector_alloc (p);
  b = gsl_vector_alloc (p);
  residual = gsl_vector_alloc (n);
  right = gsl_vector_alloc (n);
  for (gsize i = 0; i < n; i++)
    gsl_vector_set (right, i, y[i]);
  gsl_linalg_QR_decomp (m, tau);
  for (gsize j = 0; j < p && whole; j++)
    if (!(fabs (gsl_matrix_get (m, j, j)) > RANK))
      {
        g_autofree char *name = column_name (j, intercept, names);
        whole = fault_set (
            fault,
            fault_new (-1, _ ("take readings over a range of it, or leave the column out"),
                       _ ("%s has no spread of its own: it is the same everywhere or follows from the others"), name));
      }
  if (whole && gsl_linalg_QR_lssolve (m, tau, right, b, residual) == GSL_SUCCESS)
    {
      for (gsize j = 0; j < p; j++)
        fit->b[j] = gsl_vector_get (b, j) / scale[j];
      invert (fit, m, scale);
      answer (fit, y, residual);
    }
  gsl_matrix_free (m);
  gsl_vector_free (tau);
  gsl_vector_free (b);
  gsl_vector_free (residual);
  gsl_vector_free (right);
  return whole ? g_steal_pointer (&fit) : NULL;
}

LabourBandAt
labour_fit_at (const LabourFit *fit, const double *x, double confidence)
{
  double t = labour_t ((1 + confidence) / 2, (double) (fit->n - fit->p)), quadratic = 0;
  LabourBandAt at = { 0 };

  for (gsize i = 0; i < fit->p; i++)
    {
      double xi = fit->intercept ? (i == 0 ? 1 : x[i - 1]) : x[i];
      at.mean += fit->b[i] * xi;
      for (gsize j = 0; j < fit->p; j++)
        quadratic += xi * fit->inverse[i * fit->p + j] * (fit->intercept ? (j == 0 ? 1 : x[j - 1]) : x[j]);
    }
  at.mean_half = t * fit->s * sqrt (MAX (quadratic, 0));
  at.new_half = t * fit->s * sqrt (1 + MAX (quadratic, 0));
  return at;
}

/* ---- bands of handling ---- */

static void
band_free (gpointer data)
{
  LabourFitBand *band = data;

  g_clear_pointer (&band->fit, labour_fit_free);
  g_clear_pointer (&band->fault, fault_free);
  g_free (band->doubt);
  g_free (band);
}

static void
fit_band (LabourFitBand *band, const double *minutes, const double *ft, const double *lb, gsize n)
{
  const char *const names[] = { ft ? "ft" : "lb", "lb" };
  const char *const words[] = { _ ("fixed minutes"), ft ? _ ("minutes a foot") : _ ("minutes a pound"), _ ("minutes a pound") };
  gsize k = ft ? 2 : 1;
  g_autofree double *x = g_new0 (double, n * k + 1), *y = g_new0 (double, n + 1);
  g_autoptr (GString) doubt = g_string_new (NULL);

  for (gsize i = 0; i < n; i++)
    {
      /* Written so that a pound that is no number falls into no band. */
      if (!(lb[i] > band->over_lb && lb[i] <= band->upto_lb))
        continue;
      y[band->n] = minutes[i];
      if (ft)
        x[band->n * k] = ft[i];
      x[band->n * k + k - 1] = lb[i];
      band->n++;
    }
  band->fit = labour_fit_new (y, x, band->n, k, TRUE, names, &band->fault);
  for (gsize j = 0; band->fit && j < band->fit->p; j++)
    if (band->fit->b[j] < 0)
      g_string_append_printf (doubt, "%s%s", doubt->len ? ", " : "", words[j]);
  if (doubt->len > 0)
    band->doubt =
        g_strdup_printf (_ ("below zero: %s; do not use them, take readings over a wider range or fit without"),
                         doubt->str);
}

GPtrArray *
labour_fit_bands (const double *minutes, const double *ft, const double *lb, gsize n, const double *limits, gsize n_limits,
                  Fault **fault)
{
  GPtrArray *bands;

  for (gsize i = 0; i < n_limits; i++)
    if (!(limits[i] > (i ? limits[i - 1] : 0)) || !isfinite (limits[i]))
      {
        fault_set (fault, fault_new (-1, _ ("give them from light to heavy, as 60,150"),
                                     _ ("the limits of the bands do not rise")));
        return NULL;
      }
  bands = g_ptr_array_new_with_free_func (band_free);
  for (gsize i = 0; i <= n_limits; i++)
    {
      LabourFitBand *band = g_new0 (LabourFitBand, 1);
      band->over_lb = i ? limits[i - 1] : -INFINITY;
      band->upto_lb = i < n_limits ? limits[i] : INFINITY;
      fit_band (band, minutes, ft, lb, n);
      g_ptr_array_add (bands, band);
    }
  return bands;
}

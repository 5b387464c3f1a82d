/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/study.h"

#include "labour/fit.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

double
labour_standard_time (double normal, double allowance, LabourAllowance basis)
{
  return basis == LABOUR_NORMAL ? normal * (1 + allowance) : normal / (1 - allowance);
}

double
labour_need_ilo (const double *x, gsize n, double accuracy)
{
  double sum = 0, squares = 0, root;

  for (gsize i = 0; i < n; i++)
    {
      sum += x[i];
      squares += x[i] * x[i];
    }
  if (n < 3 || sum <= 0)
    return NAN;
  root = 2 / accuracy * sqrt (MAX ((double) n * squares - sum * sum, 0)) / sum;
  return root * root;
}

static double
mean_of (const double *x, gsize n)
{
  double sum = 0;

  for (gsize i = 0; i < n; i++)
    sum += x[i];
  return n > 0 ? sum / (double) n : NAN;
}

/* Divisor n - 1; NAN below three readings. */
static double
deviation_of (const double *x, gsize n)
{
  double mean = mean_of (x, n), sum = 0;

  if (n < 3)
    return NAN;
  for (gsize i = 0; i < n; i++)
    sum += (x[i] - mean) * (x[i] - mean);
  return sqrt (sum / (double) (n - 1));
}

double
labour_need_t (const double *x, gsize n, double accuracy, double confidence)
{
  double root;

  if (n < 3)
    return NAN;
  root = labour_t ((1 + confidence) / 2, (double) (n - 1)) * deviation_of (x, n) / (accuracy * mean_of (x, n));
  return root * root;
}

static int
by_size (gconstpointer a, gconstpointer b)
{
  const double *x = a, *y = b;

  return *x < *y ? -1 : *x > *y;
}

/* Sorts @x. */
static double
median_of (double *x, gsize n)
{
  qsort (x, n, sizeof *x, by_size);
  return n % 2 ? x[n / 2] : (x[n / 2 - 1] + x[n / 2]) / 2;
}

void
labour_flag_outliers (const double *x, gsize n, gboolean *flag)
{
  g_autofree double *work = g_memdup2 (x, n * sizeof *x);
  double median, scale, sum = 0;

  memset (flag, 0, n * sizeof *flag);
  if (n < 3)
    return;
  median = median_of (work, n);
  for (gsize i = 0; i < n; i++)
    sum += work[i] = fabs (x[i] - median);
  scale = 1.4826 * median_of (work, n);
  /* More than half at one value, as when all are read to the minute: MAD says nothing then. */
  if (!(scale > 0))
    scale = 1.253314 * sum / (double) n;
  for (gsize i = 0; i < n; i++)
    flag[i] = fabs (x[i] - median) > 3.5 * scale;
}

/* ---- elements ---- */

static gboolean
same (const LabourElement *e, const LabourReading *r)
{
  return strcmp (e->timed, r->timed) == 0 && strcmp (e->method, r->method) == 0;
}

static guint
more_of (double need, guint n)
{
  return isnan (need) ? 0 : (guint) CLAMP (ceil (need - 1e-9) - n, 0, 1e6);
}

/* Figures of one element; what is kept and flagged goes into @outlier, one a reading of the study. */
static void
answer_element (const LabourStudy *study, LabourElement *e, gboolean *outlier)
{
  g_autofree double *x = g_new (double, study->readings->len);
  g_autofree double *all = g_new (double, study->readings->len);
  g_autofree guint *at = g_new (guint, study->readings->len);
  g_autofree gboolean *flag = g_new (gboolean, study->readings->len);
  double rated = 0, observed = 0, factor = labour_standard_time (1, study->allowance, study->basis);
  double half;

  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      if (!same (e, r))
        continue;
      if (*r->struck)
        {
          e->struck++;
          continue;
        }
      x[e->n] = r->minutes;
      at[e->n++] = i;
      e->average = e->average || r->average;
      observed += r->minutes;
      rated += r->minutes * r->rating;
    }
  e->mean = mean_of (x, e->n);
  e->rating = e->n > 0 ? rated / observed : NAN;
  e->normal = e->mean * e->rating;
  e->standard = labour_standard_time (e->normal, study->allowance, study->basis);
  e->s = deviation_of (x, e->n);
  half = e->n < 3 ? NAN : labour_t ((1 + study->confidence) / 2, e->n - 1) * e->s / sqrt (e->n);
  e->low = e->mean - half;
  e->high = e->mean + half;
  e->error = e->s / sqrt (e->n) * e->rating * factor;
  e->need_ilo = labour_need_ilo (x, e->n, study->accuracy);
  e->need_t = labour_need_t (x, e->n, study->accuracy, study->confidence);
  e->more_ilo = more_of (e->need_ilo, e->n);
  e->more_t = more_of (e->need_t, e->n);
  memcpy (all, x, e->n * sizeof *x);
  labour_flag_outliers (all, e->n, flag);
  for (guint i = 0; i < e->n; i++)
    if (flag[i])
      {
        outlier[at[i]] = TRUE;
        e->outliers++;
      }
}

/* ---- totals ---- */

/* Whole joints where they were timed, else the elements summed. */
static LabourTotal
total_of (const LabourResult *result, const char *method)
{
  double factor = labour_standard_time (1, result->study->allowance, result->study->basis);
  LabourTotal t = { .method = method, .n = G_MAXUINT };
  double scatter = 0, error = 0, error90 = 0;

  for (guint i = 0; i < result->elements->len; i++)
    {
      const LabourElement *e = &g_array_index (result->elements, LabourElement, i);
      t.whole = t.whole || (e->n > 0 && strcmp (e->method, method) == 0 && strcmp (e->timed, LABOUR_WHOLE) == 0);
    }
  for (guint i = 0; i < result->elements->len; i++)
    {
      const LabourElement *e = &g_array_index (result->elements, LabourElement, i);
      double at90;
      if (e->n == 0 || strcmp (e->method, method) != 0 || (strcmp (e->timed, LABOUR_WHOLE) == 0) != t.whole)
        continue;
      at90 = e->n < 3 ? NAN : labour_t (0.9, e->n - 1) * e->error;
      t.elements++;
      t.n = MIN (t.n, e->n);
      t.normal += e->normal;
      t.standard += e->standard;
      scatter += e->s * e->rating * factor * e->s * e->rating * factor;
      error += e->error * e->error;
      error90 += at90 * at90;
    }
  t.scatter = sqrt (scatter);
  t.error = sqrt (error);
  t.error90 = sqrt (error90);
  return t;
}

LabourResult *
labour_study_result (const LabourStudy *study)
{
  LabourResult *result = g_new0 (LabourResult, 1);

  result->study = study;
  result->elements = g_array_new (FALSE, TRUE, sizeof (LabourElement));
  result->totals = g_array_new (FALSE, TRUE, sizeof (LabourTotal));
  result->outlier = g_new0 (gboolean, study->readings->len + 1);
  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      gboolean known = FALSE;
      for (guint k = 0; k < result->elements->len && !known; k++)
        known = same (&g_array_index (result->elements, LabourElement, k), r);
      if (!known)
        {
          LabourElement e = { .timed = r->timed, .method = r->method };
          answer_element (study, &e, result->outlier);
          g_array_append_val (result->elements, e);
        }
    }
  g_autoptr (GPtrArray) methods = labour_study_methods (study);
  for (guint i = 0; i < methods->len; i++)
    {
      LabourTotal t = total_of (result, g_ptr_array_index (methods, i));
      g_array_append_val (result->totals, t);
    }
  return result;
}

void
labour_result_free (LabourResult *result)
{
  g_array_unref (result->elements);
  g_array_unref (result->totals);
  g_free (result->outlier);
  g_free (result);
}

const LabourTotal *
labour_result_total (const LabourResult *result, const char *method)
{
  for (guint i = 0; i < result->totals->len; i++)
    if (strcmp (g_array_index (result->totals, LabourTotal, i).method, method) == 0)
      return &g_array_index (result->totals, LabourTotal, i);
  return NULL;
}

GPtrArray *
labour_study_methods (const LabourStudy *study)
{
  GPtrArray *out = g_ptr_array_new ();

  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      if (!*r->struck && !g_ptr_array_find_with_equal_func (out, r->method, g_str_equal, NULL))
        g_ptr_array_add (out, r->method);
    }
  return out;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/study-unlike.h"

#include "cost/study-private.h"
#include "labour/fit.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define FEWEST 6      /* readings */
#define EXPLAINED 0.5 /* share of the sum of squares */
#define SURE 0.9995   /* two-sided 99.9 % */

typedef struct
{
  double *x, *y;
  guint *at; /* place in the study */
  gsize n;
} Points;

/* FALSE when a kept reading of the element tells no pounds (or size): the others would not speak for it. */
static gboolean
collect (Points *p, const LabourStudy *study, const LabourElement *e, gboolean pounds, LengthUnit unit)
{
  p->n = 0;
  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      if (*r->struck || strcmp (r->timed, e->timed) != 0 || strcmp (r->method, e->method) != 0)
        continue;
      if (pounds ? isnan (r->lb) : !cost_study_girth (r->size, unit, &p->x[p->n]))
        return FALSE;
      if (pounds)
        p->x[p->n] = r->lb;
      p->y[p->n] = r->minutes;
      p->at[p->n++] = i;
    }
  return p->n >= FEWEST;
}

static gboolean
explains (const LabourFit *fit)
{
  return fit->r2 >= EXPLAINED && fabs (fit->b[1]) > labour_t (SURE, (double) (fit->n - fit->p)) * fit->se[1];
}

static void
flag_anew (LabourResult *result, LabourElement *e, const Points *p, const LabourFit *fit)
{
  g_autofree double *left = g_new (double, p->n);
  g_autofree gboolean *flag = g_new (gboolean, p->n);

  for (gsize i = 0; i < p->n; i++)
    left[i] = p->y[i] - fit->b[0] - fit->b[1] * p->x[i];
  labour_flag_outliers (left, p->n, flag);
  e->outliers = 0;
  for (gsize i = 0; i < p->n; i++)
    {
      result->outlier[p->at[i]] = flag[i];
      e->outliers += flag[i] ? 1 : 0;
    }
}

static char *
words_of (const LabourElement *e, const LabourFit *fit, gboolean pounds)
{
  if (pounds)
    return g_strdup_printf (
      _ ("“%s”%s%s: a line over the pounds of the piece explains %.0f %% of the spread (scatter %.2f min about the line, %.2f "
         "about the mean). The mean is that of the pieces that were timed, and more readings would not sharpen it: “Over "
         "size” has the minutes by the pound. Readings are flagged by how far they lie from the line."),
      e->timed, *e->method ? ", " : "", e->method, fit->r2 * 100, fit->s, e->s);
  return g_strdup_printf (
    _ ("“%s”%s%s: a line over the girth of the duct explains %.0f %% of the spread (scatter %.2f min about the line, %.2f "
       "about the mean). The mean is that of the sizes that were timed, and more readings would not sharpen it: “Over "
       "size” has the minutes by the foot. Readings are flagged by how far they lie from the line."),
    e->timed, *e->method ? ", " : "", e->method, fit->r2 * 100, fit->s, e->s);
}

GPtrArray *
cost_study_unlike (LabourResult *result, LengthUnit unit)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);
  const LabourStudy *study = result->study;
  gsize most = study->readings->len + 1;
  Points p = { g_new (double, most), g_new (double, most), g_new (guint, most), 0 };

  for (guint i = 0; i < result->elements->len; i++)
    {
      LabourElement *e = &g_array_index (result->elements, LabourElement, i);
      for (int pounds = 1; pounds >= 0; pounds--)
        {
          g_autoptr (LabourFit) fit = NULL;
          Fault *fault = NULL;
          if (!collect (&p, study, e, pounds != 0, unit))
            continue;
          fit = labour_fit_new (p.y, p.x, p.n, 1, TRUE, NULL, &fault);
          g_clear_pointer (&fault, fault_free);
          if (!fit || !explains (fit))
            continue;
          flag_anew (result, e, &p, fit);
          e->unlike = pounds ? LABOUR_BY_POUNDS : LABOUR_BY_GIRTH;
          e->explained = fit->r2;
          g_ptr_array_add (out, words_of (e, fit, pounds != 0));
          break;
        }
    }
  g_free (p.x);
  g_free (p.y);
  g_free (p.at);
  return out;
}

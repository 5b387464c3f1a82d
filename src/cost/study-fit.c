/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/study-fit.h"

#include "cost/study-private.h"

#include "base/length.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Quantile of the normal distribution at 90 %, tabulated. */
#define Z90 1.2815515655446004

static void
fit_free (gpointer data)
{
  CostStudyFit *f = data;

  g_free (f->girth);
  g_free (f->minutes);
  g_ptr_array_unref (f->words);
  g_clear_pointer (&f->fit, labour_fit_free);
  g_clear_pointer (&f->fault, fault_free);
  g_free (f->doubt);
  g_free (f);
}

gboolean
cost_study_girth (const char *size, LengthUnit unit, double *ft)
{
  gint64 w, h;

  if (!*size || !duct_size_parse (size, unit, &w, &h, NULL))
    return FALSE;
  *ft = h > 0 ? 2. * (double) (w + h) / (double) LENGTH_NM_PER_FT : G_PI * (double) w / (double) LENGTH_NM_PER_FT;
  return TRUE;
}

const char *
cost_study_timing (const LabourStudy *study, const char *method)
{
  const char *first = NULL;

  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      if (*r->struck || strcmp (r->method, method) != 0)
        continue;
      if (strcmp (r->timed, LABOUR_WHOLE) == 0)
        return LABOUR_WHOLE;
      first = first ? first : r->timed;
    }
  return first;
}

static void
collect (CostStudyFit *f, const LabourStudy *study, const char *timed, LengthUnit unit)
{
  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      if (*r->struck || strcmp (r->method, f->method) != 0 || g_strcmp0 (r->timed, timed) != 0)
        continue;
      if (!cost_study_girth (r->size, unit, &f->girth[f->n]))
        {
          f->left_out++;
          continue;
        }
      f->minutes[f->n++] = labour_standard_time (r->minutes * r->rating, study->allowance, study->basis);
      g_ptr_array_add (f->words, *r->date ? g_strdup_printf ("%s, %s", r->size, r->date) : g_strdup (r->size));
    }
}

static void
sample (CostStudyFit *f, double confidence)
{
  double low = f->girth[0], high = f->girth[0];

  for (gsize i = 0; i < f->n; i++)
    {
      low = MIN (low, f->girth[i]);
      high = MAX (high, f->girth[i]);
    }
  for (int k = 0; k < COST_FIT_PLACES; k++)
    {
      LabourBandAt here;
      f->at[k] = low + (high - low) * k / (COST_FIT_PLACES - 1);
      here = labour_fit_at (f->fit, &f->at[k], confidence);
      f->mean[k] = here.mean;
      f->mean_half[k] = here.mean_half;
      f->new_half[k] = here.new_half;
    }
}

static CostStudyFit *
fit_method (const LabourStudy *study, const char *method, const char *timed, LengthUnit unit)
{
  const char *const names[] = { _ ("girth") };
  CostStudyFit *f = g_new0 (CostStudyFit, 1);

  f->method = method;
  f->girth = g_new0 (double, study->readings->len + 1);
  f->minutes = g_new0 (double, study->readings->len + 1);
  f->words = g_ptr_array_new_with_free_func (g_free);
  collect (f, study, timed ? timed : cost_study_timing (study, method), unit);
  f->fit = labour_fit_new (f->minutes, f->girth, f->n, 1, TRUE, names, &f->fault);
  if (!f->fit)
    return f;
  sample (f, study->confidence);
  if (f->fit->b[0] < 0 || f->fit->b[1] < 0)
    f->doubt = g_strdup_printf (_ ("below zero: %s; take readings over a wider range before it is used"),
                                f->fit->b[0] >= 0  ? _ ("minutes a foot")
                                : f->fit->b[1] >= 0 ? _ ("fixed minutes")
                                                    : _ ("fixed minutes, minutes a foot"));
  return f;
}

GPtrArray *
cost_study_fits (const LabourStudy *study, const char *timed, LengthUnit unit)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (fit_free);
  g_autoptr (GPtrArray) methods = labour_study_methods (study);

  for (guint i = 0; i < methods->len; i++)
    g_ptr_array_add (out, fit_method (study, g_ptr_array_index (methods, i), timed, unit));
  return out;
}

/* ---- into a step ---- */

/* The one row of the step, -1 with @fault. */
static int
find_row (const CsvTable *steps, const char *step, Fault **fault)
{
  int at = -1;
  guint n = 0;

  for (guint i = 0; i < steps->row->len; i++)
    if (strcmp (csv_cell (steps, i, csv_column (steps, "step")), step) == 0)
      {
        at = (int) i;
        n++;
      }
  if (n != 1)
    fault_set (fault,
               fault_new (-1, _ ("choose a step of the catalogue that has one row"),
                          n == 0 ? _ ("there is no step “%s”") : _ ("“%s” has bands by the pounds of a piece"), step));
  return n == 1 ? at : -1;
}

void
cost_study_put_points (CsvTable *steps, guint row, const char *kind, double likely, double share)
{
  static const char *const points[] = { "low", "likely", "high" };

  for (int p = 0; p < 3; p++)
    {
      g_autofree char *heading = g_strdup_printf ("%s_%s_min", kind, points[p]);
      char text[G_ASCII_DTOSTR_BUF_SIZE];
      g_ascii_formatd (text, sizeof text, "%.4f", MAX (likely * (1 + (p - 1) * share), 0));
      csv_set_cell (steps, row, csv_column (steps, heading), text);
    }
}

double
cost_study_share (const LabourFit *fit, const double *x, const LabourStudy *study)
{
  LabourBandAt at = labour_fit_at (fit, x, 0.8); /* two-sided 80 %: its ends are the 10 % and 90 % points */
  double mean90 = at.mean_half / at.mean;

  return sqrt (mean90 * mean90 + Z90 * study->job_spread * Z90 * study->job_spread);
}

gboolean
cost_study_fit_put (const CostStudyFit *f, const LabourStudy *study, const char *date, const char *step,
                    CsvTable *steps, Fault **fault)
{
  double middle = 0, share;
  g_autofree char *source = *date ? g_strdup_printf ("time study %s, fit over girth, %s", study->key, date)
                                  : g_strdup_printf ("time study %s, fit over girth", study->key);
  int row;

  if (!f->fit || f->doubt)
    return fault_set (fault, f->fault ? fault_copy (f->fault)
                                      : fault_new (-1, _ ("take readings over a wider range of sizes"), "%s",
                                                   f->doubt ? f->doubt : ""));
  row = find_row (steps, step, fault);
  if (row < 0)
    return FALSE;
  for (gsize i = 0; i < f->n; i++)
    middle += f->girth[i] / (double) f->n;
  share = cost_study_share (f->fit, &middle, study);
  cost_study_put_points (steps, (guint) row, "fixed", f->fit->b[0], share);
  cost_study_put_points (steps, (guint) row, "per_ft", f->fit->b[1], share);
  csv_set_cell (steps, (guint) row, csv_column (steps, "source"), source);
  csv_set_cell (steps, (guint) row, csv_column (steps, "status"), labour_study_step_status (study));
  return TRUE;
}

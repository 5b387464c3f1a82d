/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/study.h"

#include "labour/fit.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Quantile of the normal distribution at 90 %, tabulated. */
#define Z90 1.2815515655446004

static const LabourElement *
find_element (const LabourResult *result, const char *method, const char *timed)
{
  for (guint i = 0; i < result->elements->len; i++)
    {
      const LabourElement *e = &g_array_index (result->elements, LabourElement, i);
      if (e->n > 0 && strcmp (e->method, method) == 0 && strcmp (e->timed, timed) == 0)
        return e;
    }
  return NULL;
}

gboolean
labour_study_accept (const LabourStudy *study, const char *method, const char *timed, LabourAccepted *a, Fault **fault)
{
  g_autoptr (LabourResult) result = labour_study_result (study);
  const LabourTotal *total = labour_result_total (result, method);
  const LabourElement *e = timed ? find_element (result, method, timed) : NULL;
  double mean90, spread90, half;

  memset (a, 0, sizeof *a);
  if (timed ? !e : !total || total->elements == 0)
    return fault_set (fault, fault_new (-1, _ ("time it, or restore a reading that is struck"),
                                        _ ("the study has no reading that is kept of %s"),
                                        timed     ? timed
                                        : *method ? method
                                                  : study->key));
  a->likely = e ? e->standard : total->standard;
  a->scatter = e ? e->s * e->rating * labour_standard_time (1, study->allowance, study->basis) : total->scatter;
  a->error = e ? e->error : total->error;
  a->job_spread = study->job_spread;
  mean90 = !e ? total->error90 : e->n < 3 ? NAN : labour_t (0.9, e->n - 1) * e->error;
  spread90 = Z90 * study->job_spread * a->likely;
  half = isnan (mean90) ? spread90 : sqrt (mean90 * mean90 + spread90 * spread90);
  a->low = MAX (a->likely - half, 0);
  a->high = a->likely + half;
  return TRUE;
}

/* ---- into the sheet of steps ---- */

static gboolean
is_weak (const char *status)
{
  return strcmp (status, "invented demo") == 0 || strcmp (status, "from memory") == 0;
}

const char *
labour_study_step_status (const LabourStudy *study)
{
  if (is_weak (study->status))
    return study->status;
  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      if (!*r->struck && is_weak (r->status))
        return r->status;
    }
  return "shop's own";
}

static gboolean
has_minutes (const CsvTable *steps, guint row, const char *kind)
{
  static const char *const points[] = { "low", "likely", "high" };

  for (gsize p = 0; p < G_N_ELEMENTS (points); p++)
    {
      g_autofree char *heading = g_strdup_printf ("%s_%s_min", kind, points[p]);
      const char *text = csv_cell (steps, row, csv_column (steps, heading));
      if (*text && strspn (text, "0.") != strlen (text))
        return TRUE;
    }
  return FALSE;
}

/* The row of the step; -1 with @fault. */
static int
find_row (const CsvTable *steps, const char *step, Fault **fault)
{
  int key = csv_column (steps, "step"), at = -1;
  guint n = 0;

  for (guint i = 0; i < steps->row->len; i++)
    if (strcmp (csv_cell (steps, i, key), step) == 0)
      {
        at = (int) i;
        n++;
      }
  if (n == 1)
    return at;
  if (n == 0)
    fault_set (fault, fault_new (-1, _ ("choose a step of the catalogue, or add it there first"),
                                 _ ("there is no step “%s”"), step));
  else
    fault_set (fault, fault_new (-1, _ ("fit the minutes over size instead, a band at a time"),
                                 _ ("“%s” has bands by the pounds of a piece, and a study gives one figure"), step));
  return -1;
}

gboolean
labour_study_put (const LabourStudy *study, const LabourAccepted *a, const char *date, const char *step, CsvTable *steps,
                  Fault **fault)
{
  static const char *const kinds[] = { "fixed", "per_ft", "per_lb" };
  static const char *const points[] = { "low", "likely", "high" };
  const char *kind = strcmp (study->unit, "ft") == 0 ? "per_ft" : strcmp (study->unit, "lb") == 0 ? "per_lb" : "fixed";
  const double value[] = { a->low, a->likely, a->high };
  g_autofree char *source = *date ? g_strdup_printf ("time study %s, %s", study->key, date)
                                  : g_strdup_printf ("time study %s", study->key);
  int row = find_row (steps, step, fault);

  if (row < 0)
    return FALSE;
  for (gsize k = 0; k < G_N_ELEMENTS (kinds); k++)
    if (strcmp (kinds[k], kind) != 0 && has_minutes (steps, (guint) row, kinds[k]))
      return fault_set (fault, fault_new (-1, _ ("clear those figures in the catalogue first, or fit the minutes over size"),
                                          _ ("“%s” has minutes %s beside, which the study has timed already"), step,
                                          k == 0 ? _ ("fixed") : k == 1 ? _ ("a foot") : _ ("a pound")));
  for (gsize p = 0; p < G_N_ELEMENTS (points); p++)
    {
      g_autofree char *heading = g_strdup_printf ("%s_%s_min", kind, points[p]);
      char text[G_ASCII_DTOSTR_BUF_SIZE];
      /* Hundredths of a minute are finer than any watch on site. */
      g_ascii_formatd (text, sizeof text, fabs (a->likely) < 1 ? "%.4f" : "%.2f", value[p]);
      csv_set_cell (steps, (guint) row, csv_column (steps, heading), text);
    }
  csv_set_cell (steps, (guint) row, csv_column (steps, "source"), source);
  csv_set_cell (steps, (guint) row, csv_column (steps, "status"), labour_study_step_status (study));
  return TRUE;
}

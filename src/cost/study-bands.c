/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/study-bands.h"

#include "cost/study-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static void
handling_clear (gpointer data)
{
  CostHandling *h = data;

  g_free (h->lb);
  g_free (h->minutes);
  g_ptr_array_unref (h->words);
}

void
cost_study_bands_free (CostStudyBands *bands)
{
  g_array_unref (bands->handling);
  g_clear_pointer (&bands->bands, g_ptr_array_unref);
  g_free (bands);
}

GArray *
cost_step_limits (const CsvTable *steps, const char *step)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 0; i < steps->row->len; i++)
    {
      const char *limit = csv_cell (steps, i, csv_column (steps, "band_to_lb"));
      double lb = g_ascii_strtod (limit, NULL);
      if (strcmp (csv_cell (steps, i, csv_column (steps, "step")), step) == 0 && lb > 0)
        g_array_append_val (out, lb);
    }
  return out;
}

/* The readings that a fit takes, side by side. */
typedef struct
{
  double *minutes, *ft, *lb;
  char **words;
  gsize n;
} Taken;

static void
take (Taken *t, CostStudyBands *bands, const LabourStudy *study, const char *method, LengthUnit unit)
{
  const char *timed = cost_study_timing (study, method);

  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      double ft = 0;
      if (*r->struck || strcmp (r->method, method) != 0 || g_strcmp0 (r->timed, timed) != 0)
        continue;
      if (isnan (r->lb) || (bands->with_ft && !cost_study_girth (r->size, unit, &ft)))
        {
          bands->left_out++;
          continue;
        }
      t->minutes[t->n] = labour_standard_time (r->minutes * r->rating, study->allowance, study->basis);
      t->ft[t->n] = ft;
      t->lb[t->n] = r->lb;
      t->words[t->n++] = g_strdup_printf ("%s%s%g lb", r->size, *r->size ? ", " : "", r->lb);
    }
}

static void
sample (CostHandling *h, gboolean with_ft, double confidence)
{
  double low = INFINITY, high = -INFINITY;

  for (gsize i = 0; i < h->n; i++)
    {
      low = MIN (low, h->lb[i]);
      high = MAX (high, h->lb[i]);
    }
  for (int k = 0; k < COST_FIT_PLACES; k++)
    {
      double x[2] = { h->girth, 0 };
      LabourBandAt here;
      h->at[k] = low + (high - low) * k / (COST_FIT_PLACES - 1);
      x[with_ft ? 1 : 0] = h->at[k];
      here = labour_fit_at (h->band->fit, x, confidence);
      h->mean[k] = here.mean;
      h->mean_half[k] = here.mean_half;
      h->new_half[k] = here.new_half;
    }
}

static void
add_handling (CostStudyBands *bands, LabourFitBand *band, const Taken *t, double confidence)
{
  CostHandling h = { .band = band, .lb = g_new0 (double, t->n + 1), .minutes = g_new0 (double, t->n + 1),
                     .words = g_ptr_array_new_with_free_func (g_free), .girth = NAN };
  double girth = 0;

  for (gsize i = 0; i < t->n; i++)
    if (t->lb[i] > band->over_lb && t->lb[i] <= band->upto_lb)
      {
        h.lb[h.n] = t->lb[i];
        h.minutes[h.n++] = t->minutes[i];
        girth += t->ft[i];
        g_ptr_array_add (h.words, g_strdup (t->words[i]));
      }
  if (bands->with_ft && h.n > 0)
    h.girth = girth / (double) h.n;
  if (band->fit)
    sample (&h, bands->with_ft, confidence);
  g_array_append_val (bands->handling, h);
}

CostStudyBands *
cost_study_bands_new (const LabourStudy *study, const char *method, const GArray *limits, gboolean with_ft, LengthUnit unit)
{
  CostStudyBands *bands = g_new0 (CostStudyBands, 1);
  gsize most = study->readings->len;
  Taken t = { g_new0 (double, most + 1), g_new0 (double, most + 1), g_new0 (double, most + 1), g_new0 (char *, most + 1), 0 };
  g_autoptr (Fault) fault = NULL;

  bands->with_ft = with_ft;
  bands->handling = g_array_new (FALSE, TRUE, sizeof (CostHandling));
  g_array_set_clear_func (bands->handling, handling_clear);
  take (&t, bands, study, method, unit);
  bands->n = t.n;
  if (t.n > 0)
    bands->bands = labour_fit_bands (t.minutes, with_ft ? t.ft : NULL, t.lb, t.n,
                                     (const double *) (void *) limits->data, limits->len, &fault);
  for (guint i = 0; bands->bands && i < bands->bands->len; i++)
    add_handling (bands, g_ptr_array_index (bands->bands, i), &t, study->confidence);
  g_strfreev (t.words);
  g_free (t.minutes);
  g_free (t.ft);
  g_free (t.lb);
  if (!bands->bands)
    g_clear_pointer (&bands, cost_study_bands_free);
  return bands;
}

/* ---- into a step ---- */

/* Row of a step with this upper limit (INFINITY: none), -1. */
static int
find_row (const CsvTable *steps, const char *step, double upto)
{
  for (guint i = 0; i < steps->row->len; i++)
    {
      const char *limit = csv_cell (steps, i, csv_column (steps, "band_to_lb"));
      if (strcmp (csv_cell (steps, i, csv_column (steps, "step")), step) == 0
          && (*limit ? fabs (g_ascii_strtod (limit, NULL) - upto) < 1e-6 : isinf (upto)))
        return (int) i;
    }
  return -1;
}

static void
put_band (const CostHandling *h, gboolean with_ft, const LabourStudy *study, const char *source, CsvTable *steps, guint row)
{
  const LabourFit *fit = h->band->fit;
  double x[2] = { h->girth, 0 }, middle = 0, share;

  for (gsize i = 0; i < h->n; i++)
    middle += h->lb[i] / (double) h->n;
  x[with_ft ? 1 : 0] = middle;
  share = cost_study_share (fit, x, study);
  cost_study_put_points (steps, row, "fixed", fit->b[0], share);
  if (with_ft)
    cost_study_put_points (steps, row, "per_ft", fit->b[1], share);
  cost_study_put_points (steps, row, "per_lb", fit->b[with_ft ? 2 : 1], share);
  csv_set_cell (steps, row, csv_column (steps, "source"), source);
  csv_set_cell (steps, row, csv_column (steps, "status"), labour_study_step_status (study));
}

guint
cost_study_bands_put (const CostStudyBands *bands, const LabourStudy *study, const char *date, const char *step, CsvTable *steps,
                      Fault **fault)
{
  g_autofree char *source = *date ? g_strdup_printf ("time study %s, fit over pounds, %s", study->key, date)
                                  : g_strdup_printf ("time study %s, fit over pounds", study->key);
  guint n = 0;

  for (guint i = 0; i < bands->handling->len; i++)
    {
      const CostHandling *h = &g_array_index (bands->handling, CostHandling, i);
      int row = find_row (steps, step, h->band->upto_lb);
      if (row < 0)
        {
          fault_set (fault, fault_new (-1, _ ("choose the step whose bands they are"),
                                       _ ("“%s” has no row for a band of these limits"), step));
          return 0;
        }
      if (!bands->with_ft && *csv_cell (steps, (guint) row, csv_column (steps, "per_ft_likely_min")))
        {
          fault_set (fault, fault_new (-1, _ ("fit with the girth too, or clear them in the catalogue first"),
                                       _ ("“%s” has minutes a foot beside, which the study has timed already"), step));
          return 0;
        }
    }
  for (guint i = 0; i < bands->handling->len; i++)
    {
      const CostHandling *h = &g_array_index (bands->handling, CostHandling, i);
      if (!h->band->fit || h->band->doubt)
        continue;
      put_band (h, bands->with_ft, study, source, steps, (guint) find_row (steps, step, h->band->upto_lb));
      n++;
    }
  if (n == 0)
    fault_set (fault, fault_new (-1, _ ("take more readings, over a wider range of pounds"),
                                 _ ("no band has a line that can be used")));
  return n;
}

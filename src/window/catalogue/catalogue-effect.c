/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/catalogue/catalogue-private.h"

#include <glib/gi18n.h>

static void
figures_of (TallyJob *job, int decimals, CatalogueFigures *out)
{
  const JobScope all = { 0, 0 };
  JobTotals totals;

  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  g_autoptr (BuildUp) b = buildup_new (job_basis (job), &totals.sums, decimals);
  out->price = buildup_get (b, "price");
  out->cost = buildup_get (b, "cost");
  out->not_priced = totals.not_priced;
  out->field_hours = num_wide_to_double (totals.sums.time[0]) / COST_TIME_DEN;
  out->shop_hours = num_wide_to_double (totals.sums.time[1]) / COST_TIME_DEN;
  job_totals_clear (&totals);
}

gboolean
catalogue_effect (TallySession *session, Catalogue *catalogue, CatalogueFigures *figures, char **words)
{
  TallyJob *job = session_job (session);
  g_autoptr (GPtrArray) records = NULL;
  g_autoptr (TallyJob) copy = NULL;
  g_autoptr (GError) error = NULL;

  if (!catalogue)
    {
      figures_of (job, session_decimals (session), figures);
      return TRUE;
    }
  records = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
  for (int type = 0; type < JOB_N_TYPES; type++)
    for (guint i = 0; i < job_n (job, (JobType) type); i++)
      g_ptr_array_add (records, job_record_ref (job_at (job, (JobType) type, i)));
  copy = job_new_from_records (catalogue, records, NULL, &error);
  if (!copy)
    {
      *words = g_strdup_printf (_ ("The open job does not fit this draft: %s"), error->message);
      return FALSE;
    }
  figures_of (copy, session_decimals (session), figures);
  return TRUE;
}

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

char *
catalogue_effect_words (TallySession *session, TallyDraft *draft)
{
  g_autoptr (Catalogue) catalogue = NULL;
  CatalogueFigures now, then;
  char *words = NULL;

  if (!session_job (session))
    return g_strdup (_ ("No job is open to try the draft on."));
  if (draft_faults (draft)->len > 0)
    return g_strdup (_ ("The effect is shown when the draft has no fault left."));
  catalogue = draft_compile (draft);
  if (!catalogue || !catalogue_effect (session, catalogue, &then, &words))
    return words ? words : g_strdup ("");
  catalogue_effect (session, NULL, &now, &words);
  g_autofree char *before = session_money (session, now.price), *after = session_money (session, then.price);
  g_autofree char *moved = session_money (session, ABS (then.price - now.price));
  g_autofree char *hours = session_figure (then.field_hours + then.shop_hours - now.field_hours - now.shop_hours, 1, TRUE);
  if (then.price == now.price && then.not_priced == now.not_priced)
    return g_strdup_printf (_ ("Effect on the open job: none, its price stays %s."), before);
  words = g_strdup_printf (_ ("Effect on the open job: price %s, now %s (%s%s), worker-hours %s"), after, before,
                           then.price < now.price ? "−" : "+", moved, hours);
  if (then.not_priced != now.not_priced)
    {
      g_autofree char *first = words;
      words = g_strdup_printf (_ ("%s; runs not priced: %d, now %d"), first, (int) then.not_priced, (int) now.not_priced);
    }
  return words;
}

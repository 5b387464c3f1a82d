/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/figures-note.h"

#include "cost/rests.h"

#include <glib/gi18n.h>

void
job_figures_count (TallyJob *job, const gint64 *vector, JobFiguresNote *note)
{
  CostRests rests[DUCT_N_STATUSES];

  *note = (JobFiguresNote) { 0 };
  cost_rests (job_basis (job), vector, rests);
  for (int s = 0; s < DUCT_N_STATUSES; s++)
    {
      note->n[s] = rests[s].items + rests[s].steps;
      note->used += note->n[s];
      if (cost_status_weak ((DuctStatus) s))
        note->weak += note->n[s];
    }
}

char *
job_figures_words (const JobFiguresNote *note)
{
  g_autoptr (GString) s = g_string_new (NULL);
  gboolean told[DUCT_N_STATUSES] = { FALSE };

  g_string_printf (s, g_dngettext (GETTEXT_PACKAGE, "%d figure used", "%d figures used", (gulong) note->used), note->used);
  for (int k = 0; k < DUCT_N_STATUSES; k++)
    {
      int most = -1;
      for (int i = 0; i < DUCT_N_STATUSES; i++)
        if (!told[i] && note->n[i] > 0 && (most < 0 || note->n[i] > note->n[most]))
          most = i;
      if (most < 0)
        break;
      told[most] = TRUE;
      g_string_append_printf (s, "%s%d %s", k == 0 ? ": " : ", ", note->n[most], _ (duct_status_key ((DuctStatus) most)));
    }
  return g_string_free (g_steal_pointer (&s), FALSE);
}

char *
job_figures_note (TallyJob *job)
{
  const char *name = job_head (job)->text[HEAD_NAME];
  g_autofree char *words = NULL;
  JobScope all = { 0, 0 };
  JobFiguresNote note;
  JobTotals totals;

  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  job_figures_count (job, totals.vector, &note);
  job_totals_clear (&totals);
  words = job_figures_words (&note);
  return g_strdup_printf (note.weak > 0 ? _ ("%s; %s. Replace the invented and remembered ones before a bid rests on them.") : _ ("%s; %s."),
                          name && *name ? name : _ ("A job without a name"), words);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Reads one-line entries from standard input, the n-th for the n-th run of the demo job, each under the run above it. Says of
 * each "same" when it makes that very run (place, size, count, and every quantity it is priced by), else what differs.
 * Exits with 1 when any differs. */
#include "exchange/runs-csv.h"
#include "job/entry.h"

#include <stdio.h>
#include <string.h>

/* Whether @mine is priced as @run is: (transfer full) what differs, or NULL. */
static char *
difference (TallyJob *job, const JobRecord *run, const JobRecord *mine)
{
  static const int places[] = { RUN_SYSTEM, RUN_AREA, RUN_KIND, RUN_W, RUN_H };
  JobRunResult wanted, got;
  char *words = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (places) && !words; i++)
    if (run->num[places[i]] != mine->num[places[i]])
      words = g_strdup_printf ("another value of field %d", places[i]);
  if (!words && g_strcmp0 (run->text[RUN_DRAWING], mine->text[RUN_DRAWING]) != 0)
    words = g_strdup_printf ("drawing %s", mine->text[RUN_DRAWING]);
  if (words)
    return words;
  job_compute (job, run, JOB_OWN_METHOD, &wanted);
  if (!job_compute (job, mine, JOB_OWN_METHOD, &got))
    words = g_strdup_printf ("not priced: %s", got.fault->what);
  else if (wanted.count != got.count
           || memcmp (wanted.vector, got.vector, (gsize) job_basis (job)->n_vector * sizeof *got.vector) != 0)
    words = g_strdup ("other quantities");
  job_run_result_clear (&wanted);
  job_run_result_clear (&got);
  return words;
}

int
main (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  char line[1024];
  guint n = 0, bad = 0;

  for (; fgets (line, sizeof line, stdin); n++)
    {
      JobEntry entry = { NULL, NULL, NULL };
      g_autofree char *words = NULL;
      line[strcspn (line, "\n")] = '\0';
      if (n >= job_n (job, JOB_RUN))
        return 2;
      job_entry_read (job, line, n > 0 ? job_at (job, JOB_RUN, n - 1) : NULL, &entry);
      if (entry.query)
        words = fault_words (entry.query, line);
      else
        words = difference (job, job_at (job, JOB_RUN, n), entry.run);
      bad += words != NULL;
      printf ("%s\n", words ? words : "same");
      job_entry_clear (&entry);
    }
  return n == 0 || bad > 0;
}

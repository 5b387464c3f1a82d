/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "exchange/workbook.h"

#include <glib/gi18n.h>

int
cli_workbook (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  const GOptionEntry more[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o.output, N_ ("The workbook to write"), N_ ("FILE") },
    { "baseline", 0, 0, G_OPTION_ARG_STRING, &o.baseline, N_ ("Method the others are held against"), N_ ("KEY") },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (TallyJob) job = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) methods = NULL;
  int baseline;
  JobTotals totals;
  JobScope all = { 0, 0 };
  gint64 faults;

  if (!cli_options_read (&o, argc, argv, "-o FILE --demo | --runs FILE | --job NAME", _ ("Writes the bid of a job as a workbook."),
                         more))
    return o.status;
  if (o.rest[0] || !o.output)
    {
      cli_complain (_ ("name the workbook with -o FILE"));
      return CLI_USAGE;
    }
  job = cli_options_job (&o);
  if (!job)
    return o.status;
  baseline = cli_options_baseline (&o, job);
  if (baseline < 0)
    return CLI_USAGE;
  methods = job_methods_listed (job, baseline);
  if (!workbook_write (job, (const int *) (gconstpointer) methods->data, methods->len, baseline, o.output, NULL, NULL, &error))
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  faults = totals.not_priced;
  job_totals_clear (&totals);
  if (faults > 0)
    cli_complain (g_dngettext (GETTEXT_PACKAGE, "%u run is not priced", "%u runs are not priced", (gulong) faults),
                  (guint) faults);
  g_autofree char *path = g_canonicalize_filename (o.output, NULL);
  cli_print ("%s\n", path);
  return faults > 0 ? CLI_FAULTS : o.status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include <glib/gi18n.h>

int
cli_compare (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  const GOptionEntry more[] = {
    { "baseline", 0, 0, G_OPTION_ARG_STRING, &o.baseline, N_ ("Method the others are held against"), N_ ("KEY") },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (TallyJob) job = NULL;
  CliFormat format;
  int baseline;
  guint faults;

  if (!cli_options_read (&o, argc, argv, "--demo | --runs FILE | --job NAME",
                         _ ("Sets all methods side by side against a baseline: money, hours, minutes and hardware a joint, pieces, "
                            "pounds, and the figures at which they change places."),
                         more))
    return o.status;
  if (o.rest[0])
    {
      cli_complain (_ ("compare takes no word “%s”"), o.rest[0]);
      return CLI_USAGE;
    }
  job = cli_options_job (&o);
  if (!job)
    return o.status;
  baseline = cli_options_baseline (&o, job);
  if (baseline < 0)
    return CLI_USAGE;
  format = cli_options_format (&o);
  cli_page_compare (job, baseline, format);
  if (format != CLI_JSONL)
    cli_print ("\n");
  faults = cli_page_not_priced (job, format);
  return faults > 0 ? CLI_FAULTS : o.status;
}

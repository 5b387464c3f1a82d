/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include <glib/gi18n.h>

/* A blank line between the tables; none in JSON lines, where each line names its table. */
static void
gap (CliFormat format)
{
  if (format != CLI_JSONL)
    cli_print ("\n");
}

int
cli_price (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_autoptr (TallyJob) job = NULL;
  CliFormat format;
  guint faults;

  if (!cli_options_read (&o, argc, argv, "--demo | --runs FILE | --job NAME",
                         _ ("Prices a job: totals by system and area, the build-up from cost to price, runs that are not priced, and "
                            "what the figures rest on."),
                         NULL))
    return o.status;
  if (o.rest[0])
    {
      cli_complain (_ ("price takes no word “%s”"), o.rest[0]);
      return CLI_USAGE;
    }
  job = cli_options_job (&o);
  if (!job)
    return o.status;
  format = cli_options_format (&o);
  cli_page_totals (job, format);
  gap (format);
  cli_page_buildup (job, format);
  gap (format);
  cli_page_notes (job, format);
  faults = cli_page_not_priced (job, format);
  gap (format);
  cli_page_rests (job, format);
  return faults > 0 ? CLI_FAULTS : o.status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "exchange/workbook.h"

#include <glib/gi18n.h>

static void
gap (CliFormat format)
{
  if (format != CLI_JSONL)
    cli_print ("\n");
}

int
cli_demo (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  const GOptionEntry more[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &o.output, N_ ("The workbook (default: seamtally-demo.xlsx here)"), N_ ("FILE") },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (TallyJob) job = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  g_autoptr (GArray) methods = NULL;
  const JobRecord *head;
  CliFormat format;
  int baseline;
  guint faults;

  if (!cli_options_read (&o, argc, argv, "", _ ("Prices the invented demo job and writes its workbook."), more))
    return o.status;
  o.demo = !o.demo_round;
  job = cli_options_job (&o);
  if (!job)
    return o.status;
  baseline = cli_options_baseline (&o, job);
  if (baseline < 0)
    return CLI_USAGE;
  head = job_head (job);
  format = cli_options_format (&o);
  if (format == CLI_TEXT)
    {
      cli_print ("%s\n", head->text[HEAD_NAME]);
      cli_print (_ ("%s, for %s; engineer of record: %s\n"), head->text[HEAD_PLACE], head->text[HEAD_CLIENT],
                 head->text[HEAD_ENGINEER]);
      cli_print ("%s\n\n", head->text[HEAD_NOTE]);
    }
  cli_page_totals (job, format);
  gap (format);
  cli_page_buildup (job, format);
  gap (format);
  cli_page_compare (job, baseline, format);
  gap (format);
  cli_page_notes (job, format);
  faults = cli_page_not_priced (job, format);
  gap (format);
  cli_page_rests (job, format);
  gap (format);

  path = g_canonicalize_filename (o.output ? o.output : "seamtally-demo.xlsx", NULL);
  methods = job_methods_listed (job, baseline);
  if (!workbook_write (job, (const int *) (gconstpointer) methods->data, methods->len, baseline, path, NULL, NULL, &error))
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  cli_print ("%s\n", path);
  return faults > 0 ? CLI_FAULTS : CLI_DONE;
}

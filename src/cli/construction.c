/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/measure.h"
#include "job/construction.h"

#include <glib/gi18n.h>

static const CliColumn rest_columns[] = {
  { "of_table", N_ ("table"), FALSE },
  { "row", N_ ("row"), FALSE },
  { "status", N_ ("status"), FALSE },
  { "runs", N_ ("runs"), TRUE },
  { "net_lb", N_ ("net lb"), TRUE },
  { "source", N_ ("source"), FALSE },
};

static void
print_rests (const JobConstruction *c, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("construction", rest_columns, G_N_ELEMENTS (rest_columns));

  for (guint i = 0; i < c->rests->len; i++)
    {
      const JobRest *rest = g_ptr_array_index (c->rests, i);
      cli_table_add (t, rest->table);
      cli_table_add (t, rest->words);
      cli_table_add (t, duct_status_key (rest->status));
      cli_table_int (t, rest->runs);
      cli_table_fixed (t, measure_lb (rest->net_mg), 1);
      cli_table_add (t, rest->source);
    }
  cli_table_print (t, format);
}

static const CliColumn open_columns[] = {
  { "run", N_ ("run"), FALSE },
  { "what", N_ ("no answer"), FALSE },
  { "remedy", N_ ("what to do"), FALSE },
};

static void
print_unanswered (TallyJob *job, const JobConstruction *c, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("unanswered", open_columns, G_N_ELEMENTS (open_columns));

  for (guint i = 0; i < c->unanswered->len; i++)
    {
      const JobUnanswered *u = g_ptr_array_index (c->unanswered, i);
      cli_table_take (t, job_construction_run (job, u->run));
      cli_table_add (t, u->what);
      cli_table_add (t, u->remedy);
    }
  if (c->unanswered->len > 0 || format != CLI_TEXT)
    cli_table_print (t, format);
}

static const CliColumn caution_columns[] = {
  { "runs", N_ ("runs"), TRUE },
  { "caution", N_ ("caution"), FALSE },
};

static void
print_cautions (const JobConstruction *c, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("cautions", caution_columns, G_N_ELEMENTS (caution_columns));

  for (guint i = 0; i < c->cautions->len; i++)
    {
      const JobCaution *caution = &g_array_index (c->cautions, JobCaution, i);
      cli_table_int (t, caution->runs);
      cli_table_add (t, duct_note_words (caution->note));
    }
  if (c->cautions->len > 0 || format != CLI_TEXT)
    cli_table_print (t, format);
}

int
cli_construction (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_autoptr (TallyJob) job = NULL;
  g_autoptr (JobConstruction) c = NULL;
  CliFormat format;

  if (!cli_options_read (&o, argc, argv, "--demo | --runs FILE | --job NAME",
                         _ ("Reports what the construction of a job rests on: for each table row its status, source, runs and pounds; the "
                            "look-ups that no table answered; cautions."),
                         NULL))
    return o.status;
  if (o.rest[0])
    {
      cli_complain (_ ("construction takes no word “%s”"), o.rest[0]);
      return CLI_USAGE;
    }
  job = cli_options_job (&o);
  if (!job)
    return o.status;
  format = cli_options_format (&o);
  c = job_construction (job);
  if (format == CLI_TEXT)
    {
      g_autofree char *words = job_construction_words (c);
      cli_print ("%s\n\n", words);
    }
  print_unanswered (job, c, format);
  print_rests (c, format);
  print_cautions (c, format);
  if (format == CLI_TEXT)
    cli_print ("\n%s\n", job_construction_caution ());
  return c->unanswered->len > 0 ? CLI_FAULTS : o.status;
}

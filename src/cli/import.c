/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "store/store.h"

#include <glib/gi18n.h>

typedef struct
{
  CliOptions options;
  gboolean accept, keep;
} Import;

/* The job to read into: one that is there, or a new one of that name. */
static TallyJob *
open_job (Store *store, const CliOptions *o, gboolean *fresh, GError **error)
{
  gint64 id = store_find_job (store, o->job);

  *fresh = id == 0;
  if (id > 0)
    return store_open_job (store, id, error);
  g_autoptr (Catalogue) catalogue = store_catalogue (store, 0, error);
  return catalogue ? job_new (catalogue, o->job) : NULL;
}

/* A new job takes what --method and --rules say, else the same defaults as a file of runs. */
static void
set_up (TallyJob *job, const CliOptions *o)
{
  job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "method"), o->method ? o->method : "slip-on-bolted", NULL, NULL);
  job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "rule_set"), o->rules ? o->rules : "demo", NULL, NULL);
}

static int
import_table (Store *store, const Import *i, const CsvTable *table, const GPtrArray *lost, const char *path)
{
  g_autoptr (GError) error = NULL;
  gboolean fresh;
  g_autoptr (TallyJob) job = open_job (store, &i->options, &fresh, &error);
  g_autoptr (RunsImport) import = NULL;
  guint before, added, not_priced;
  gboolean clean;

  if (!job)
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  if (fresh)
    set_up (job, &i->options);
  import = runs_import_new (job, table);
  runs_import_read (import, job);
  cli_complain_faults (import->faults);
  clean = lost->len == 0 && import->faults->len == 0;
  if (!clean && !i->accept && !i->keep)
    {
      cli_complain (_ ("nothing was imported; --accept imports the whole lines, --keep also the others, as typed and not priced"));
      return CLI_FAULTS;
    }
  before = job_n (job, JOB_RUN);
  if (!job_apply (job, runs_import_edit (import, job, i->keep), &error)
      || (i->keep && !cli_keep_lost_lines (job, lost, &error)))
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  added = job_n (job, JOB_RUN) - before;
  not_priced = cli_complain_not_priced (job, before);
  if (fresh && store_create_job (store, job, 0, &error) == 0)
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  cli_print (g_dngettext (GETTEXT_PACKAGE, "%u run imported into “%s” of %s\n", "%u runs imported into “%s” of %s\n", added),
             added, i->options.job, path);
  return clean && not_priced == 0 ? CLI_DONE : CLI_FAULTS;
}

int
cli_import (int argc, char **argv)
{
  Import i = { { 0 }, FALSE, FALSE };
  const GOptionEntry more[] = {
    { "accept", 0, 0, G_OPTION_ARG_NONE, &i.accept, N_ ("Import the whole lines although others are faulty"), NULL },
    { "keep", 0, 0, G_OPTION_ARG_NONE, &i.keep, N_ ("Import every line; faulty cells stay as typed"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (CsvTable) table = NULL;
  g_autoptr (Store) store = NULL;
  g_autofree char *path = NULL;
  int status = CLI_USAGE;

  if (!cli_options_read (&i.options, argc, argv, "RUNS.csv --job NAME",
                         _ ("Reads runs into a job of an office file; both are made when they are not there. Nothing is imported while "
                            "a line is faulty, unless accepted."),
                         more))
    status = i.options.status;
  else if (g_strv_length (i.options.rest) != 1 || !i.options.job)
    cli_complain (_ ("name one file of runs and the job: import RUNS.csv --job NAME"));
  else
    {
      table = csv_read_file (i.options.rest[0], faults, &error);
      cli_complain_faults (faults);
      path = cli_options_office (&i.options);
      if (table)
        store = store_open (path, TRUE, &error);
      if (error)
        cli_complain ("%s", error->message);
      status = error ? CLI_FILE : !table ? CLI_FAULTS : import_table (store, &i, table, faults, path);
    }
  cli_options_clear (&i.options);
  return status;
}

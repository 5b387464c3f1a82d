/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "cost/retire.h"
#include "job/what-if.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

gboolean
cli_options_read (CliOptions *o, int argc, char **argv, const char *usage, const char *about, const GOptionEntry *more)
{
  const GOptionEntry entries[] = {
    { "demo", 0, 0, G_OPTION_ARG_NONE, &o->demo, N_ ("The invented demo job"), NULL },
    { "demo-round", 0, 0, G_OPTION_ARG_NONE, &o->demo_round, N_ ("The invented demo job of round duct"), NULL },
    { "runs", 0, 0, G_OPTION_ARG_FILENAME, &o->runs, N_ ("The runs of a CSV file, with the starter catalogue"), N_ ("FILE") },
    { "office", 0, 0, G_OPTION_ARG_FILENAME, &o->office, N_ ("Office file (default: in your data folder)"), N_ ("FILE") },
    { "job", 0, 0, G_OPTION_ARG_STRING, &o->job, N_ ("A job of the office file"), N_ ("NAME") },
    { "method", 0, 0, G_OPTION_ARG_STRING, &o->method, N_ ("Method of runs that name none"), N_ ("KEY") },
    { "rules", 0, 0, G_OPTION_ARG_STRING, &o->rules, N_ ("Rule set of the gauges"), N_ ("KEY") },
    { "set", 0, 0, G_OPTION_ARG_STRING_ARRAY, &o->set,
      N_ ("Change a figure for this answer: item.KEY.price, item.KEY.overage, step.KEY.low|likely|high[_per_ft|_per_lb], "
          "rate.field, rate.shop, rate.CREW.hour, buildup.LINE.rate|amount|op, system.NAME.FIELD, area.NAME.FIELD, "
          "cell.SYSTEM/AREA.FIELD, run.NUMBER.FIELD, area.NAME.fit_pieces, setting.KEY. A step's minutes change in all of its handling "
          "bands, its likely minutes carry low and high along"),
      N_ ("NAME=VALUE") },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &o->csv, N_ ("Tables as CSV"), NULL },
    { "jsonl", 0, 0, G_OPTION_ARG_NONE, &o->jsonl, N_ ("Tables as JSON lines"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (GOptionContext) context = g_option_context_new (usage);
  g_auto (GStrv) words = g_new0 (char *, (gsize) argc + 1);
  g_autoptr (GError) error = NULL;
  gboolean help = FALSE;

  for (int i = 0; i < argc; i++)
    {
      words[i] = g_strdup (argv[i]);
      help = help || strcmp (argv[i], "--help") == 0 || strcmp (argv[i], "-h") == 0;
    }
  g_free (words[0]);
  words[0] = g_strdup_printf ("seamtally %s", argv[0]);
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  g_option_context_set_summary (context, about);
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  if (more)
    g_option_context_add_main_entries (context, more, GETTEXT_PACKAGE);
  g_option_context_set_help_enabled (context, FALSE);
  g_set_prgname (words[0]);
  if (help)
    {
      g_autofree char *text = g_option_context_get_help (context, TRUE, NULL);
      cli_print ("%s", text);
      o->status = CLI_DONE;
      return FALSE;
    }
  if (!g_option_context_parse_strv (context, &words, &error))
    {
      cli_complain (_ ("%s; seamtally %s --help lists the options"), error->message, argv[0]);
      o->status = CLI_USAGE;
      return FALSE;
    }
  if (o->csv && o->jsonl)
    {
      cli_complain (_ ("choose --csv or --jsonl, not both"));
      o->status = CLI_USAGE;
      return FALSE;
    }
  o->rest = g_strdupv (words + 1);
  return TRUE;
}

void
cli_options_clear (CliOptions *o)
{
  g_free (o->runs);
  g_free (o->office);
  g_free (o->job);
  g_free (o->method);
  g_free (o->rules);
  g_free (o->baseline);
  g_free (o->output);
  g_strfreev (o->set);
  g_strfreev (o->rest);
}

gboolean
cli_options_no_job (const CliOptions *o, const char *command)
{
  const struct
  {
    const char *option;
    gboolean given;
  } of_job[] = { { "--demo", o->demo },           { "--demo-round", o->demo_round },     { "--runs", o->runs != NULL },
                 { "--office", o->office != NULL }, { "--job", o->job != NULL },         { "--method", o->method != NULL },
                 { "--rules", o->rules != NULL }, { "--baseline", o->baseline != NULL }, { "--output", o->output != NULL },
                 { "--set", o->set && *o->set } };

  for (gsize i = 0; i < G_N_ELEMENTS (of_job); i++)
    if (of_job[i].given)
      {
        cli_complain (_ ("%s takes no %s, as it reads no job: leave it out"), command, of_job[i].option);
        return FALSE;
      }
  return TRUE;
}

CliFormat
cli_options_format (const CliOptions *o)
{
  return o->csv ? CLI_CSV : o->jsonl ? CLI_JSONL : CLI_TEXT;
}

char *
cli_options_office (const CliOptions *o)
{
  return o->office ? g_strdup (o->office) : store_default_path ();
}

static TallyJob *
give_up (CliOptions *o, int status)
{
  o->status = status;
  return NULL;
}

gboolean
cli_keep_lost_lines (TallyJob *job, const GPtrArray *faults, GError **error)
{
  JobEdit *edit = job_edit_new (_ ("lines that could not be read"));
  gint64 first, step;

  job_ord_before (job, JOB_RUN, job_n (job, JOB_RUN), MAX (faults->len, 1), &first, &step);
  for (guint i = 0; i < faults->len; i++)
    {
      const CsvFault *fault = g_ptr_array_index (faults, i);
      JobRecord *run = job_record_new (JOB_RUN, job_take_id (job, JOB_RUN), first + step * (gint64) i);
      g_autofree char *line = g_strdup_printf (_ ("(line %d of %s)"), fault->line, fault->file);
      job_record_set_raw (run, job_field_find (JOB_RUN, "kind"), line);
      job_record_set_text (run, RUN_NOTE, fault->what);
      job_edit_add (edit, NULL, run);
    }
  return job_apply (job, edit, error);
}

guint
cli_complain_not_priced (TallyJob *job, guint first)
{
  guint n = 0;

  for (guint i = first; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      JobRunResult r;
      if (!job_compute (job, run, JOB_OWN_METHOD, &r))
        {
          g_autofree char *name = cli_run_name (job, run, i + 1);
          g_autofree char *text = r.fault_field >= 0 ? job_record_print (run, r.fault_field, job_names (job)) : g_strdup ("");
          g_autofree char *words = fault_words (r.fault, text);
          cli_complain (_ ("%s is not priced: %s"), name, words);
          n++;
        }
      job_run_result_clear (&r);
    }
  return n;
}

/* A job of nothing but the runs of a file; lines that are not whole are kept as typed and not priced. */
static TallyJob *
job_of_runs (CliOptions *o)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autofree char *name = g_path_get_basename (o->runs);
  g_autoptr (CsvTable) table = csv_read_file (o->runs, faults, &error);
  g_autoptr (TallyJob) job = NULL;
  g_autoptr (RunsImport) import = NULL;

  cli_complain_faults (faults);
  if (error)
    {
      cli_complain ("%s", error->message);
      return give_up (o, CLI_FILE);
    }
  if (faults->len > 0)
    o->status = CLI_FAULTS;
  if (!table)
    return give_up (o, CLI_FAULTS);
  job = job_new (catalogue, name);
  import = runs_import_new (job, table);
  runs_import_read (import, job);
  cli_complain_faults (import->faults);
  if (import->faults->len > 0)
    o->status = CLI_FAULTS;
  if (csv_column (table, "kind") < 0)
    return give_up (o, CLI_FAULTS);
  if (!job_apply (job, runs_import_edit (import, job, TRUE), &error) || !cli_keep_lost_lines (job, faults, &error))
    {
      cli_complain ("%s", error->message);
      return give_up (o, CLI_FAULTS);
    }
  if (!o->method)
    o->method = g_strdup ("slip-on-bolted");
  if (!o->rules)
    o->rules = g_strdup ("demo");
  return g_steal_pointer (&job);
}

static TallyJob *
job_of_office (CliOptions *o)
{
  g_autofree char *path = cli_options_office (o);
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = store_open (path, FALSE, &error);
  gint64 id = store ? store_find_job (store, o->job) : 0;
  TallyJob *job = id > 0 ? store_open_job (store, id, &error) : NULL;

  if (!job)
    {
      if (error && g_error_matches (error, STORE_ERROR, STORE_ERROR_NOT_FOUND) && !store)
        cli_complain (_ ("there is no office file %s yet; seamtally import RUNS.csv --job NAME makes one"), path);
      else if (error)
        cli_complain ("%s", error->message);
      else
        cli_complain (_ ("%s holds no job “%s”; seamtally jobs lists them"), path, o->job);
      return give_up (o, CLI_FILE);
    }
  /* Whatever a command changes is for its answer only. */
  job_set_sink (job, NULL);
  return job;
}

/* Puts @text into one text field of the head and clears it wherever it would be overridden but on runs. */
static gboolean
set_everywhere (TallyJob *job, const char *key, const char *text)
{
  static const JobType types[] = { JOB_HEAD, JOB_SYSTEM, JOB_CELL };
  JobEdit *edit = job_edit_new (key);

  for (gsize t = 0; t < G_N_ELEMENTS (types); t++)
    for (guint i = 0; i < job_n (job, types[t]); i++)
      {
        const JobRecord *before = job_at (job, types[t], i);
        int field = job_field_find (types[t], key);
        if (field < 0)
          continue;
        JobRecord *after = job_record_copy (before);
        job_record_read (after, field, types[t] == JOB_HEAD ? text : "", job_names (job), NULL);
        job_edit_add (edit, job_record_ref (before), after);
      }
  return job_apply (job, edit, NULL);
}

static gboolean
apply_sets (TallyJob *job, char **set)
{
  g_autoptr (GPtrArray) changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  Fault *fault = NULL;

  for (char **s = set; s && *s && !fault; s++)
    {
      CostChange *change = cost_change_parse (*s, &fault);
      if (change)
        g_ptr_array_add (changes, change);
    }
  if (!fault)
    job_apply_figures (job, changes, &fault);
  if (fault)
    {
      g_autofree char *words = fault_words (fault, NULL);
      fault_free (fault);
      cli_complain ("--set: %s", words);
      return FALSE;
    }
  return TRUE;
}

static gboolean
apply_rules (TallyJob *job, const char *rules)
{
  const DuctRules *all = job_basis (job)->catalogue->rules;

  if (duct_rules_find_set (all, rules) >= 0)
    return set_everywhere (job, "rule_set", rules);
  g_autoptr (GString) keys = g_string_new (NULL);
  for (guint i = 0; i < all->sets->len; i++)
    g_string_append_printf (keys, "%s%s", i ? ", " : "", ((DuctRuleSet *) g_ptr_array_index (all->sets, i))->key);
  cli_complain (_ ("there is no rule set “%s”; there are %s"), rules, keys->str);
  return FALSE;
}

TallyJob *
cli_options_job (CliOptions *o)
{
  g_autoptr (TallyJob) job = NULL;

  if (o->demo + o->demo_round + (o->runs != NULL) + (o->job != NULL) != 1)
    {
      cli_complain (_ ("name one job: --demo, --demo-round, --runs FILE, or --job NAME of an office file"));
      return give_up (o, CLI_USAGE);
    }
  if (o->demo || o->demo_round)
    {
      g_autoptr (Catalogue) catalogue = catalogue_starter ();
      job = o->demo ? exchange_demo_job (catalogue) : exchange_demo_round_job (catalogue);
    }
  else
    job = o->runs ? job_of_runs (o) : job_of_office (o);
  if (!job)
    return NULL;
  if (o->method && (cli_method (job, o->method) < 0 || !set_everywhere (job, "method", o->method)))
    return give_up (o, CLI_USAGE);
  if (o->rules && !apply_rules (job, o->rules))
    return give_up (o, CLI_USAGE);
  if (!apply_sets (job, o->set))
    return give_up (o, CLI_USAGE);
  return g_steal_pointer (&job);
}

int
cli_method (TallyJob *job, const char *key)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  int method = catalogue_find_method (catalogue, key);
  g_autoptr (GString) keys = g_string_new (NULL);

  if (method >= 0)
    return method;
  for (int i = 0; i < (int) catalogue->methods->len; i++)
    if (job_offers_method (job, i))
      g_string_append_printf (keys, "%s%s", keys->len ? ", " : "", catalogue_method (catalogue, i)->key);
  cli_complain (_ ("there is no method “%s”; there are %s"), key, keys->str);
  return -1;
}

int
cli_options_baseline (const CliOptions *o, TallyJob *job)
{
  const char *own = job_head (job)->text[HEAD_METHOD];

  if (o->baseline)
    return cli_method (job, o->baseline);
  int method = own ? catalogue_find_method (job_basis (job)->catalogue, own) : -1;

  return method >= 0 ? method : MAX (catalogue_first_method (job_basis (job)->catalogue), 0);
}

char *
cli_run_name (TallyJob *job, const JobRecord *run, guint number)
{
  const JobNames *names = job_names (job);
  g_autofree char *kind = job_record_print (run, job_field_find (JOB_RUN, "kind"), names);
  g_autofree char *size = job_record_print (run, job_field_find (JOB_RUN, "size"), names);
  const char *item = run->text[RUN_ITEM];

  return g_strstrip (g_strdup_printf (_ ("run %u, %s %s"), number, kind, *size || !item ? size : item));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/measure.h"
#include "job/choose.h"
#include "store/store.h"

#include <glib/gi18n.h>

typedef struct
{
  CliOptions options;
  gboolean dry_run, unpin;
  int run;
  char *system, *area;
} Choose;

static const CliColumn candidate_columns[] = {
  { "run", N_ ("run"), TRUE },         { "rank", N_ ("rank"), TRUE },     { "construction", N_ ("construction"), FALSE },
  { "cost", N_ ("cost of one run"), TRUE }, { "net_lb", N_ ("net lb"), TRUE }, { "allowed", N_ ("allowed"), FALSE },
  { "rule", N_ ("rule"), FALSE },
};

static const CliColumn chosen_columns[] = {
  { "run", N_ ("run"), FALSE }, { "gauge", N_ ("gauge"), TRUE }, { "construction", N_ ("construction"), FALSE },
  { "cost", N_ ("cost"), TRUE }, { "new", N_ ("new"), FALSE },    { "reason", N_ ("reason"), FALSE },
};

static int
page_candidates (TallyJob *job, int number, CliFormat format)
{
  const JobRecord *run = number <= (int) job_n (job, JOB_RUN) ? job_at (job, JOB_RUN, (guint) number - 1) : NULL;
  const DuctRules *rules = job_basis (job)->catalogue->rules;
  JobChoice c;

  if (!run)
    {
      cli_complain (_ ("the job has no run %d"), number);
      return CLI_USAGE;
    }
  gboolean found = job_choose (job, run, TRUE, &c);
  g_autoptr (CliTable) t = cli_table_new ("candidates", candidate_columns, G_N_ELEMENTS (candidate_columns));
  for (int i = 0; c.choice && i < (int) c.choice->list->len; i++)
    {
      const CostCandidate *candidate = cost_choice_at (c.choice, i);
      cli_table_int (t, number);
      if (candidate->priced)
        cli_table_int (t, i + 1);
      else
        cli_table_add (t, "");
      cli_table_take (t, candidate->candidate.fault ? g_strdup ("") : duct_candidate_print (rules, &candidate->candidate));
      if (candidate->priced)
        {
          cli_table_fixed (t, candidate->cost, 2);
          cli_table_fixed (t, measure_lb (candidate->net_mg), 2);
        }
      else
        {
          cli_table_add (t, "");
          cli_table_add (t, "");
        }
      cli_table_add (t, candidate->priced ? _ ("yes") : _ ("no"));
      cli_table_take (t, duct_candidate_words (rules, &c.shape, &candidate->candidate));
    }
  if (c.choice)
    cli_table_print (t, format);
  if (!found)
    {
      g_autofree char *words = fault_words (c.fault, NULL);
      cli_complain (_ ("run %d: %s"), number, words);
    }
  job_choice_clear (&c);
  return found ? CLI_DONE : CLI_FAULTS;
}

/* The runs as they stand now, after the edit. TRUE when every one has a construction. */
static gboolean
page_chosen (TallyJob *job, const GArray *chosen, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("chosen", chosen_columns, G_N_ELEMENTS (chosen_columns));
  gboolean all = TRUE;

  for (guint i = 0; i < chosen->len; i++)
    {
      const JobChosen *c = &g_array_index (chosen, JobChosen, i);
      const JobRecord *run = c->run ? job_find (job, JOB_RUN, c->run) : NULL;
      gboolean has = c->cost > 0;
      all = all && has;
      cli_table_take (t, run ? cli_run_name (job, run, (guint) job_position (job, c->run) + 1) : g_strdup (""));
      cli_table_add (t, run && has && run->text[RUN_GAUGE] ? run->text[RUN_GAUGE] : "");
      cli_table_add (t, run && has && run->text[RUN_CONSTRUCTION] ? run->text[RUN_CONSTRUCTION] : "");
      if (has)
        cli_table_fixed (t, c->cost, 2);
      else
        cli_table_add (t, "");
      cli_table_add (t, !has ? _ ("not chosen") : c->pinned ? _ ("yes") : _ ("no"));
      cli_table_add (t, c->words);
    }
  cli_table_print (t, format);
  return all;
}

static gboolean
find_scope (TallyJob *job, const Choose *x, JobScope *scope)
{
  const JobNames *names = job_names (job);

  scope->system = x->system ? names->find (names->data, JOB_SYSTEM, x->system) : 0;
  scope->area = x->area ? names->find (names->data, JOB_AREA, x->area) : 0;
  if (x->system && scope->system == 0)
    cli_complain (_ ("the job has no system “%s”"), x->system);
  if (x->area && scope->area == 0)
    cli_complain (_ ("the job has no area “%s”"), x->area);
  return (!x->system || scope->system != 0) && (!x->area || scope->area != 0);
}

/* With the store behind it, so that the edit is kept. */
static TallyJob *
open_to_keep (const CliOptions *o, int *status)
{
  g_autofree char *path = cli_options_office (o);
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = store_open (path, FALSE, &error);
  gint64 id = store ? store_find_job (store, o->job) : 0;
  TallyJob *job = id > 0 ? store_open_job (store, id, &error) : NULL;

  if (job)
    return job;
  if (error)
    cli_complain ("%s", error->message);
  else
    cli_complain (_ ("%s holds no job “%s”; seamtally jobs lists them"), path, o->job);
  *status = CLI_FILE;
  return NULL;
}

static int
choose (TallyJob *job, const Choose *x, CliFormat format)
{
  g_autoptr (GError) error = NULL;
  GArray *chosen = NULL;
  JobScope scope;

  if (!find_scope (job, x, &scope))
    return CLI_USAGE;
  JobEdit *edit = x->unpin ? job_edit_unpin (job, &scope, _ ("construction as the rule set has it"))
                           : job_edit_cheapest (job, &scope, _ ("cheapest construction"), &chosen);
  if (edit->deltas->len == 0)
    job_edit_free (edit);
  else if (!job_apply (job, edit, &error))
    {
      cli_complain ("%s", error->message);
      g_clear_pointer (&chosen, g_array_unref);
      return CLI_FILE;
    }
  gboolean all = !chosen || page_chosen (job, chosen, format);
  g_clear_pointer (&chosen, g_array_unref);
  if (format == CLI_TEXT && !x->unpin)
    cli_print ("\n");
  cli_page_totals (job, format);
  return all ? CLI_DONE : CLI_FAULTS;
}

int
cli_choose (int argc, char **argv)
{
  Choose x = { .run = 0 };
  const GOptionEntry more[] = {
    { "dry-run", 0, 0, G_OPTION_ARG_NONE, &x.dry_run, N_ ("Show the choice and keep nothing"), NULL },
    { "unpin", 0, 0, G_OPTION_ARG_NONE, &x.unpin, N_ ("Take the choices back instead"), NULL },
    { "run", 0, 0, G_OPTION_ARG_INT, &x.run, N_ ("Only list the candidates of one run, the refused ones too"), N_ ("NUMBER") },
    { "system", 0, 0, G_OPTION_ARG_STRING, &x.system, N_ ("Only the runs of a system"), N_ ("NAME") },
    { "area", 0, 0, G_OPTION_ARG_STRING, &x.area, N_ ("Only the runs of an area"), N_ ("NAME") },
    G_OPTION_ENTRY_NULL,
  };
  int status = CLI_USAGE;

  if (!cli_options_read (&x.options, argc, argv, _ ("[JOB]"),
                         _ ("Prices every construction that the rule set allows for each run (gauge, width of coil, members, tie rods) and pins the "
                            "cheapest one on the run, as one edit of the job in the office file. With --dry-run, --demo or --runs nothing is "
                            "kept. What the job wishes of its construction is heeded."),
                         more))
    status = x.options.status;
  else if (g_strv_length (x.options.rest) > 1 || x.run < 0)
    cli_complain (_ ("choose takes one job"));
  else
    {
      gboolean keep;
      if (x.options.rest[0] && !x.options.job)
        x.options.job = g_strdup (x.options.rest[0]);
      keep = x.options.job && !x.dry_run && x.run == 0;
      if (keep && (x.options.set || x.options.method || x.options.rules))
        cli_complain (_ ("--set, --method and --rules change figures for one answer only: add --dry-run"));
      else
        {
          g_autoptr (TallyJob) job = keep ? open_to_keep (&x.options, &status) : cli_options_job (&x.options);
          if (!job)
            status = keep ? status : x.options.status;
          else if (x.run > 0)
            status = page_candidates (job, x.run, cli_options_format (&x.options));
          else
            status = choose (job, &x, cli_options_format (&x.options));
        }
    }
  g_free (x.system);
  g_free (x.area);
  cli_options_clear (&x.options);
  return status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/decimal.h"
#include "base/money.h"
#include "job/mix.h"
#include "job/setting.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

typedef struct
{
  char *problem, *assignment, *hours, *methods, *setup, *fixed, *boundary_cost, *boundary_hours;
  gboolean maximise;
  int best;
  double seconds;
} MixAsk;

static void
mix_ask_clear (MixAsk *ask)
{
  g_free (ask->problem);
  g_free (ask->assignment);
  g_free (ask->hours);
  g_free (ask->methods);
  g_free (ask->setup);
  g_free (ask->fixed);
  g_free (ask->boundary_cost);
  g_free (ask->boundary_hours);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (MixAsk, mix_ask_clear)

static const CliColumn plan_columns[] = {
  { "rank", N_ ("rank"), TRUE },       { "cost", N_ ("cost"), TRUE },
  { "more", N_ ("worse by"), TRUE },   { "hours", N_ ("field h"), TRUE },
  { "setup", N_ ("set-up"), TRUE },    { "unmated", N_ ("joints between unlike"), TRUE },
  { "methods", N_ ("methods"), TRUE }, { "assignment", N_ ("method of each group in turn"), FALSE },
};

static const CliColumn figure_columns[] = {
  { "figure", NULL, FALSE },
  { "words", N_ ("what"), FALSE },
  { "value", N_ ("value"), TRUE },
};

static const CliColumn group_columns[] = {
  { "group", N_ ("group"), FALSE },
  { "key", NULL, FALSE },
  { "now", N_ ("now"), FALSE },
  { "method", N_ ("method"), FALSE },
  { "cost", N_ ("cost"), TRUE },
  { "hours", N_ ("field h"), TRUE },
  { "next_best", N_ ("next best there"), FALSE },
  { "next_best_more", N_ ("costs more"), TRUE },
};

static const CliColumn part_columns[] = {
  { "part", NULL, FALSE },
  { "words", N_ ("of the best"), FALSE },
  { "cost", N_ ("cost"), TRUE },
  { "hours", N_ ("field h"), TRUE },
};

/* ---- printing ---- */

/* What is printed, and how: figures of a job to the currency's decimals and hundredths of an hour, those of a file as exact as they
 * were. */
typedef struct
{
  const CostMix *mix;
  const CostMixReport *report;
  const JobMix *of;  /* (nullable) */
  char *const *keys; /* of methods */
  CliFormat format;
} Printed;

static char *
units_text (const Printed *p, gint64 units)
{
  return p->of ? money_print (money_round ((NumWide) units * 1000000, p->of->decimals), p->of->decimals, FALSE)
               : decimal_print (units, 4, 2, FALSE);
}

/* Of the whole job, what is no group included. */
static char *
whole_text (const Printed *p, gint64 units)
{
  return units_text (p, units + (p->of ? p->of->rest_cost : 0));
}

static char *
hours_text (const Printed *p, gint64 ms)
{
  return p->of ? decimal_print (num_div (ms, 36000), 2, 2, FALSE) : decimal_print (num_div (ms, 360), 4, 1, FALSE);
}

static char *
assignment_text (const CostMix *mix, const CostMixPlan *plan, char *const *keys)
{
  GString *out = g_string_new (NULL);

  for (guint g = 0; g < mix->n_groups; g++)
    g_string_append_printf (out, "%s%s", g > 0 ? " " : "", keys[plan->method[g]]);
  return g_string_free (out, FALSE);
}

/* @brief: without the column of all groups, which a text of a job has in a table of its own. */
static void
print_plans (const Printed *p)
{
  gboolean brief = p->of && p->format == CLI_TEXT;
  g_autoptr (CliTable) table = cli_table_new ("mix", plan_columns, G_N_ELEMENTS (plan_columns) - (brief ? 1 : 0));
  const GPtrArray *plans = p->report->best->plan;
  const CostMixPlan *first = g_ptr_array_index (plans, 0);

  for (guint i = 0; i < plans->len; i++)
    {
      const CostMixPlan *plan = g_ptr_array_index (plans, i);
      cli_table_int (table, (gint64) i + 1);
      cli_table_take (table, whole_text (p, plan->cost));
      cli_table_take (table, units_text (p, ABS (plan->cost - first->cost)));
      cli_table_take (table, hours_text (p, plan->hours));
      cli_table_take (table, units_text (p, plan->setup));
      cli_table_int (table, plan->unmated);
      cli_table_int (table, plan->methods);
      if (!brief)
        cli_table_take (table, assignment_text (p->mix, plan, p->keys));
    }
  cli_table_print (table, p->format);
}

static void
add_figure (CliTable *table, const char *key, const char *words, char *value)
{
  cli_table_add (table, key);
  cli_table_add (table, words);
  cli_table_take (table, value);
}

static void
add_limit_figures (CliTable *t, const Printed *p)
{
  const CostMixReport *report = p->report;
  gint64 dual = 0, value = 0;

  add_figure (t, "limit_hours", _ ("limit on hours"), hours_text (p, p->mix->most_hours));
  if (report->more)
    add_figure (t, "hour_saves", _ ("one more hour saves, solved"), units_text (p, report->hour_saves));
  if (isnan (report->hour_relaxed))
    return;
  num_from_double (report->hour_relaxed, &dual);
  num_from_double (report->relaxed, &value);
  add_figure (t, "hour_relaxed", _ ("one more hour, by the linear relaxation (a local guide)"), units_text (p, dual));
  add_figure (t, "relaxed", _ ("value of the linear relaxation"), whole_text (p, value));
}

static void
print_figures (const Printed *p)
{
  const CostMixReport *report = p->report;
  g_autoptr (CliTable) t = cli_table_new ("mix_figures", figure_columns, G_N_ELEMENTS (figure_columns));
  const CostMixPlan *best = g_ptr_array_index (report->best->plan, 0);
  const struct
  {
    const char *key, *words;
    const CostMixPlan *plan;
  } beside[] = { { "free", _ ("best without the limit on hours"), report->free },
                 { "one", _ ("best single method within the limits"), report->one },
                 { "one_free", _ ("best single method without the limit on hours"), report->one_free } };

  add_figure (t, "bound", _ ("proven: nothing is better than"), whole_text (p, report->best->bound));
  add_figure (t, "gap", report->best->proven ? _ ("gap to it: proven, the ranks too") : _ ("gap to it: stopped early"),
              units_text (p, ABS (best->cost - report->best->bound)));
  if (report->least_hours != COST_MIX_NONE)
    {
      /* Rounded up: what is printed can be kept. */
      gint64 unit = p->of ? 36000 : 360;
      add_figure (t, "least_hours", _ ("least hours that can be kept"),
                  hours_text (p, (report->least_hours + unit - 1) / unit * unit));
    }
  if (p->mix->most_hours != COST_MIX_NONE)
    add_limit_figures (t, p);
  for (gsize i = 0; i < G_N_ELEMENTS (beside); i++)
    if (beside[i].plan && (i != 0 || p->mix->most_hours != COST_MIX_NONE)
        && (i != 2 || p->mix->most_hours != COST_MIX_NONE))
      add_figure (t, beside[i].key, beside[i].words, whole_text (p, beside[i].plan->cost));
  if (p->of)
    add_figure (t, "now", _ ("the job as it stands"), units_text (p, p->of->own_cost));
  cli_table_print (t, p->format);
}

static void
print_groups (const Printed *p)
{
  g_autoptr (CliTable) t = cli_table_new ("mix_groups", group_columns, G_N_ELEMENTS (group_columns));
  const CostMix *mix = p->mix;
  const CostMixPlan *best = g_ptr_array_index (p->report->best->plan, 0);

  for (guint g = 0; g < mix->n_groups; g++)
    {
      const JobMixGroup *group = p->of ? job_mix_group (p->of, g) : NULL;
      gsize at = (gsize) g * mix->n_methods + best->method[g];
      gint64 more;
      int next = cost_mix_next_best (mix, best, g, &more);
      cli_table_add (t, mix->group[g]);
      cli_table_add (t, group ? group->key : mix->group[g]);
      cli_table_add (t, !group ? "" : group->own >= 0 ? p->keys[group->own] : _ ("several"));
      cli_table_add (t, p->keys[best->method[g]]);
      cli_table_take (t, units_text (p, mix->cost[at]));
      cli_table_take (t, hours_text (p, mix->hours[at]));
      cli_table_add (t, next >= 0 ? p->keys[next] : "");
      cli_table_take (t, next >= 0 ? units_text (p, more) : g_strdup (""));
    }
  cli_table_print (t, p->format);
}

/* What the best comes to, so that the figures of the groups can be added up to it. */
static void
print_parts (const Printed *p)
{
  g_autoptr (CliTable) t = cli_table_new ("mix_parts", part_columns, G_N_ELEMENTS (part_columns));
  g_autoptr (GArray) parts = job_mix_parts (p->of, p->mix, g_ptr_array_index (p->report->best->plan, 0));

  for (guint i = 0; i < parts->len; i++)
    {
      const JobMixPart *part = &g_array_index (parts, JobMixPart, i);
      cli_table_add (t, part->key);
      cli_table_add (t, part->name);
      cli_table_take (t, units_text (p, part->cost));
      cli_table_take (t, hours_text (p, part->hours));
    }
  cli_table_print (t, p->format);
}

static int
print_all (const Printed *p)
{
  print_plans (p);
  if (p->format != CLI_JSONL)
    cli_print ("\n");
  print_figures (p);
  if (p->format != CLI_JSONL)
    cli_print ("\n");
  print_parts (p);
  if (p->format != CLI_JSONL)
    cli_print ("\n");
  print_groups (p);
  return CLI_DONE;
}

static CostMixReport *
solve (const CostMix *mix, const MixAsk *ask)
{
  CostMixHow how = { (guint) ask->best, isnan (ask->seconds) ? 0 : ask->seconds, NULL, NULL };
  g_autoptr (Fault) fault = NULL;
  CostMixReport *report = cost_mix_report_new (mix, &how, &fault);

  if (!report)
    {
      g_autofree char *words = fault_words (fault, NULL);
      cli_complain ("%s", words);
    }
  return report;
}

/* ---- a problem in a file ---- */

/* "A=0,B=450". */
static gboolean
read_setup (CostMix *mix, const char *text)
{
  g_auto (GStrv) parts = g_strsplit (text, ",", -1);

  for (char **p = parts; *p; p++)
    {
      char *equal = strchr (*p, '=');
      guint m = 0;
      g_autoptr (Fault) fault = NULL;
      if (equal)
        *equal = '\0';
      while (m < mix->n_methods && strcmp (mix->method[m], g_strstrip (*p)) != 0)
        m++;
      if (!equal || m == mix->n_methods || !decimal_parse (equal + 1, 4, &mix->setup[m], &fault))
        {
          cli_complain (_ ("--setup: “%s” names no method of the file with its money, like A=450"), *p);
          return FALSE;
        }
    }
  return TRUE;
}

/* What a joint between unlike connections takes, of a table that says where they are. */
static gboolean
read_boundary (CostMix *mix, const MixAsk *ask)
{
  const struct
  {
    const char *option, *text;
    gint64 *to, unit;
  } part[] = { { "--boundary-cost", ask->boundary_cost, &mix->boundary_cost, 1 },
               { "--boundary-hours", ask->boundary_hours, &mix->boundary_hours, 360 } };

  for (gsize i = 0; i < G_N_ELEMENTS (part); i++)
    {
      gint64 parts;
      if (!part[i].text)
        continue;
      if (!decimal_parse (part[i].text, 4, &parts, NULL) || parts < 0 || parts > G_GINT64_CONSTANT (1000000000000))
        {
          cli_complain (_ ("%s takes a figure from 0 to 100,000,000, at most four decimals, not “%s”"), part[i].option,
                        part[i].text);
          return FALSE;
        }
      if (mix->boundary->len == 0)
        {
          cli_complain (_ ("%s has no joint to stand for: say in the columns next and joints which groups meet"),
                        part[i].option);
          return FALSE;
        }
      *part[i].to = parts * part[i].unit;
    }
  return TRUE;
}

static gboolean
read_limits (CostMix *mix, const MixAsk *ask)
{
  g_autoptr (Fault) fault = NULL;
  gint64 parts;

  if (ask->hours && (!decimal_parse (ask->hours, 4, &parts, &fault) || parts < 0 || parts > G_MAXINT64 / 1000))
    cli_complain (_ ("--hours takes hours of 0 or more, at most four decimals, not “%s”"), ask->hours);
  else if (ask->methods
           && (!decimal_parse (ask->methods, 0, &parts, &fault) || parts < 1 || parts > COST_MIX_MOST_METHODS))
    cli_complain (_ ("--methods takes a whole number of methods, 1 or more, not “%s”"), ask->methods);
  else
    {
      if (ask->methods)
        mix->most_methods = (guint) parts;
      if (ask->hours && decimal_parse (ask->hours, 4, &parts, NULL))
        mix->most_hours = parts * 360;
      mix->maximise = ask->maximise;
      return read_boundary (mix, ask) && (!ask->setup || read_setup (mix, ask->setup));
    }
  return FALSE;
}

static CostMix *
read_table (const MixAsk *ask, GPtrArray *faults, GError **error)
{
  g_autoptr (CsvTable) table = csv_read_file (ask->problem, faults, error);
  gint64 fixed;

  if (!table || faults->len > 0)
    return NULL;
  if (!ask->fixed)
    return cost_mix_read (table, ask->hours != NULL, faults);
  if (decimal_parse (ask->fixed, 4, &fixed, NULL) && fixed >= 0)
    return cost_mix_read_places (table, fixed, faults);
  g_ptr_array_add (faults, csv_fault_new ("--fixed", 0, 0, NULL, _ ("the fixed cost is no amount of 0 or more"),
                                          _ ("give an amount, like 30")));
  return NULL;
}

static int
run_problem (const MixAsk *ask, CliFormat format)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (CostMix) mix = NULL;
  g_autofree char *text = NULL;

  if (ask->problem)
    mix = read_table (ask, faults, &error);
  else if (g_file_get_contents (ask->assignment, &text, NULL, &error))
    mix = cost_mix_read_assignment (text, ask->assignment, faults);
  if (error)
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  if (!mix)
    {
      cli_complain_faults (faults);
      return CLI_FAULTS;
    }
  if (!read_limits (mix, ask))
    return CLI_USAGE;
  g_autoptr (CostMixReport) report = solve (mix, ask);
  return report ? print_all (&(Printed){ mix, report, NULL, mix->method, format }) : CLI_FAULTS;
}

/* ---- the open job ---- */

static gboolean
apply_limit (TallyJob *job, const char *key, const char *typed)
{
  g_autoptr (Fault) fault = NULL;
  g_autofree char *value = typed ? job_setting_read (key, typed, &fault) : NULL;

  if (fault)
    {
      g_autofree char *words = fault_words (fault, NULL);
      cli_complain ("%s", words);
      return FALSE;
    }
  if (!typed)
    return TRUE;
  JobEdit *edit = job_edit_new (key);
  job_edit_setting (job, edit, key, value);
  return job_apply (job, edit, NULL);
}

static int
run_job (CliOptions *o, const MixAsk *ask)
{
  g_autoptr (TallyJob) job = cli_options_job (o);
  g_autoptr (Fault) fault = NULL;
  CliFormat format = cli_options_format (o);

  if (!job)
    return o->status;
  if (!apply_limit (job, "mix.hours", ask->hours) || !apply_limit (job, "mix.methods", ask->methods))
    return CLI_USAGE;
  g_autoptr (JobMix) mix = job_mix_new (job, &fault);
  if (!mix)
    {
      g_autofree char *words = fault_words (fault, NULL);
      cli_complain ("%s", words);
      return CLI_FAULTS;
    }
  g_autoptr (CostMixReport) report = solve (mix->mix, ask);
  if (!report)
    return CLI_FAULTS;
  g_autofree char *conclusion = job_mix_conclusion (mix, report);
  g_autoptr (GPtrArray) keys = g_ptr_array_new (), choices = job_mix_choices (job, mix);
  for (guint m = 0; m < mix->method->len; m++)
    g_ptr_array_add (keys, catalogue_method (job_basis (job)->catalogue, g_array_index (mix->method, int, m))->key);
  if (format == CLI_TEXT)
    {
      g_autofree char *now = job_mix_money (mix, mix->own_cost), *less = NULL;
      less = job_mix_money (mix, mix->own_cost - job_mix_cost (mix, report->best->plan->pdata[0]));
      cli_print ("%s\n", conclusion);
      cli_print (_ ("The job as it stands: %s; the mix is %s less."), now, less);
      g_autofree char *beside = job_mix_beside (mix, report->best->plan->pdata[0]);
      cli_print ("\n%s%s\n", beside, *beside ? "\n" : "");
    }
  print_all (&(Printed){ mix->mix, report, mix, (char *const *) keys->pdata, format });
  if (format == CLI_TEXT)
    cli_print ("\n");
  for (guint i = 0; i < choices->len && format == CLI_TEXT; i++)
    cli_print ("%s\n", (char *) g_ptr_array_index (choices, i));
  guint faults = cli_page_not_priced (job, format);
  for (guint i = 0; i < mix->said->len; i++)
    cli_complain ("%s", (char *) g_ptr_array_index (mix->said, i));
  return faults + mix->said->len > 0 ? CLI_FAULTS : o->status;
}

/* FALSE with a message where an option would change nothing, or its figure is none. */
static gboolean
ask_fits (const CliOptions *o, const MixAsk *ask)
{
  gboolean file = ask->problem || ask->assignment,
           job = o->demo || o->demo_round || o->runs || o->office || o->job || o->method || o->rules || o->set;
  const struct
  {
    gboolean given;
    const char *words;
  } bad[] = {
    { ask->best < 1 || ask->best > 16, N_ ("--best takes a whole number of answers from 1 to 16") },
    { !isnan (ask->seconds) && !(ask->seconds > 0 && ask->seconds <= 86400),
      N_ ("--seconds takes more than 0 seconds, at most 86400") },
    { ask->problem && ask->assignment, N_ ("--problem and --assignment do not go together: name one file") },
    { file && job, N_ ("a job, or what changes one, does not go with --problem or --assignment: leave one of them out") },
    { !file && ask->maximise, N_ ("--maximise goes with --problem or --assignment: the money of a job is a cost") },
    { !file && ask->setup, N_ ("--setup goes with --problem: the set-up of a job's methods is their tooling, "
                               "--set item.KEY.price=") },
    { !ask->problem && ask->fixed, N_ ("--fixed goes with --problem: a table of places") },
    { (!ask->problem || ask->fixed) && (ask->boundary_cost || ask->boundary_hours),
      N_ ("--boundary-cost and --boundary-hours go with --problem: of a job they are the settings mix.boundary_money "
          "and mix.boundary_minutes") },
    { (ask->fixed || ask->assignment) && ask->hours, N_ ("--hours has no hours to limit in such a file: leave it out") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    if (bad[i].given)
      {
        cli_complain ("%s", _ (bad[i].words));
        return FALSE;
      }
  return TRUE;
}

int
cli_mix (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_auto (MixAsk) ask = { .best = 2, .seconds = NAN };
  const GOptionEntry more[] = {
    { "problem", 0, 0, G_OPTION_ARG_FILENAME, &ask.problem, N_ ("Groups in a table instead of a job"),
      N_ ("FILE.csv") },
    { "assignment", 0, 0, G_OPTION_ARG_FILENAME, &ask.assignment, N_ ("A generalised assignment instead of a job"),
      N_ ("FILE") },
    { "hours", 0, 0, G_OPTION_ARG_STRING, &ask.hours, N_ ("At most so many field worker-hours"), N_ ("H") },
    { "methods", 0, 0, G_OPTION_ARG_STRING, &ask.methods, N_ ("At most so many methods"), N_ ("K") },
    { "setup", 0, 0, G_OPTION_ARG_STRING, &ask.setup, N_ ("Set-up of methods of the table"), N_ ("A=0,B=450") },
    { "fixed", 0, 0, G_OPTION_ARG_STRING, &ask.fixed,
      N_ ("The table is “who, place, place”: each place used costs this"), N_ ("MONEY") },
    { "boundary-cost", 0, 0, G_OPTION_ARG_STRING, &ask.boundary_cost,
      N_ ("Money of one joint between unlike connections, of the columns next and joints; without it they are counted "
          "only"),
      N_ ("MONEY") },
    { "boundary-hours", 0, 0, G_OPTION_ARG_STRING, &ask.boundary_hours, N_ ("Field hours of one such joint"),
      N_ ("H") },
    { "maximise", 0, 0, G_OPTION_ARG_NONE, &ask.maximise, N_ ("Money of the file is a gain"), NULL },
    { "best", 0, 0, G_OPTION_ARG_INT, &ask.best, N_ ("So many best answers, 1 to 16, 2 unless given"), N_ ("N") },
    { "seconds", 0, 0, G_OPTION_ARG_DOUBLE, &ask.seconds, N_ ("Stop after so long, with the gap that is left"),
      N_ ("S") },
    G_OPTION_ENTRY_NULL,
  };

  if (!cli_options_read (
          &o, argc, argv, "--demo | --runs FILE | --job NAME | --problem FILE.csv | --assignment FILE",
          _ ("Which method where: the cheapest mix of methods over groups of runs, under limits on field hours and on "
             "the number of methods, proven, with the next best and what one more hour would save.\n"
             "A table has the columns group, cost_M and hours_M for each method M (an empty cost: not allowed there), "
             "perhaps use_M; rows named setup, capacity, tool and connection say that of each method in its cost "
             "column; columns next and joints say how many joints lead to another group, and --boundary-cost and "
             "--boundary-hours what such a joint takes where the two methods have different connections."),
          more))
    return o.status;
  if (o.rest[0])
    {
      cli_complain (_ ("mix takes no word “%s”"), o.rest[0]);
      return CLI_USAGE;
    }
  if (!ask_fits (&o, &ask))
    return CLI_USAGE;
  return ask.problem || ask.assignment ? run_problem (&ask, cli_options_format (&o)) : run_job (&o, &ask);
}

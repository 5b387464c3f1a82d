/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "cli/risk-pages.h"
#include "job/setting.h"
#include "job/what-if.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

/* What the command line asks. */
typedef struct
{
  CliOptions o;
  char *methods, *spread, *problem, *correlation, *sample, *trials, *seed, *confidence, *base;
  char **what_if, **at, **quantile;
} Asked;

static void
asked_clear (Asked *a)
{
  cli_options_clear (&a->o);
  g_free (a->methods);
  g_free (a->spread);
  g_free (a->problem);
  g_free (a->correlation);
  g_free (a->sample);
  g_free (a->trials);
  g_free (a->seed);
  g_free (a->confidence);
  g_free (a->base);
  g_strfreev (a->what_if);
  g_strfreev (a->at);
  g_strfreev (a->quantile);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Asked, asked_clear)

static int
complain_fault (Fault *fault, int status)
{
  g_autofree char *words = fault_words (fault, NULL);

  cli_complain ("%s", words);
  fault_free (fault);
  return status;
}

/* ---- of a job ---- */

/* Options go over the job's settings, read by the same rules. */
static gboolean
apply_options (const Asked *a, TallyJob *job)
{
  const struct
  {
    const char *key, *value;
  } set[] = { { "spread", a->spread },
              { "risk.trials", a->trials },
              { "risk.seed", a->seed },
              { "risk.confidence", a->confidence },
              { "risk.base", a->base } };
  JobEdit *edit = job_edit_new ("risk");

  for (gsize i = 0; i < G_N_ELEMENTS (set); i++)
    if (set[i].value)
      {
        Fault *fault = NULL;
        g_autofree char *value = job_setting_read (set[i].key, set[i].value, &fault);
        if (!value)
          {
            complain_fault (fault, CLI_USAGE);
            job_edit_free (edit);
            return FALSE;
          }
        job_edit_setting (job, edit, set[i].key, value);
      }
  return job_apply (job, edit, NULL);
}

static void
add_ask (GArray *asks, const char *method, const char *name, const GPtrArray *changes)
{
  JobRiskAsk ask = { method, name, changes };

  g_array_append_val (asks, ask);
}

/* The baseline, then the methods asked for or all that are listed, then the what-ifs by the baseline. @keep holds
 * what is borrowed. */
static GArray *
find_ways (const Asked *a, TallyJob *job, int baseline, GPtrArray *keep)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  g_autoptr (GArray) asks = g_array_new (FALSE, TRUE, sizeof (JobRiskAsk));
  g_auto (GStrv) words = g_strsplit (a->methods ? a->methods : "", ",", -1);
  g_autoptr (GArray) listed = job_methods_listed (job, baseline);
  g_autoptr (GPtrArray) names = job_what_ifs (job);

  add_ask (asks, catalogue_method (catalogue, baseline)->key, NULL, NULL);
  for (guint i = 0; !a->methods && i < listed->len; i++)
    if (g_array_index (listed, int, i) != baseline)
      add_ask (asks, catalogue_method (catalogue, g_array_index (listed, int, i))->key, NULL, NULL);
  for (char **w = words; *w; w++)
    {
      int method = *g_strstrip (*w) ? cli_method (job, *w) : -1;
      if (method < 0 && **w)
        return NULL;
      if (method >= 0)
        add_ask (asks, catalogue_method (catalogue, method)->key, NULL, NULL);
    }
  for (char **w = a->what_if; w && *w; w++)
    {
      GPtrArray *changes = NULL;
      if (!g_ptr_array_find_with_equal_func (names, *w, g_str_equal, NULL))
        {
          g_autofree char *all = names->len > 0 ? g_strdup (names->pdata[0]) : g_strdup (_ ("none"));
          cli_complain (_ ("the job holds no what-if “%s”; the first it holds: %s"), *w, all);
          return NULL;
        }
      changes = job_what_if_changes (job, *w);
      g_ptr_array_add (keep, changes);
      add_ask (asks, catalogue_method (catalogue, baseline)->key, *w, changes);
    }
  return g_steal_pointer (&asks);
}

static int
risk_of_job (Asked *a)
{
  g_autoptr (TallyJob) job = cli_options_job (&a->o);
  g_autoptr (GPtrArray) keep = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  g_autoptr (GArray) asks = NULL;
  g_autoptr (JobRisk) risk = NULL;
  g_autoptr (RiskResult) result = NULL;
  CliFormat format = cli_options_format (&a->o);
  Fault *fault = NULL;
  int baseline;
  guint faults;

  if (!job)
    return a->o.status;
  baseline = cli_options_baseline (&a->o, job);
  if (baseline < 0 || !apply_options (a, job))
    return CLI_USAGE;
  asks = find_ways (a, job, baseline, keep);
  if (!asks)
    return CLI_USAGE;
  risk = job_risk_new (job, &g_array_index (asks, JobRiskAsk, 0), asks->len, &fault);
  result = risk ? job_risk_run (risk, NULL, NULL, &fault) : NULL;
  if (!result)
    return complain_fault (fault, CLI_USAGE);
  cli_page_risk_job (risk, result, format);
  if (format == CLI_TEXT)
    cli_print ("\n");
  faults = cli_page_not_priced (job, format);
  return faults > 0 ? CLI_FAULTS : a->o.status;
}

/* ---- of files ---- */

static gboolean
read_file (const char *path, char **text)
{
  g_autoptr (GError) error = NULL;

  if (g_file_get_contents (path, text, NULL, &error))
    return TRUE;
  cli_complain ("%s", error->message);
  return FALSE;
}

static CsvTable *
read_table (const char *path, int *status)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (CsvTable) table = csv_read_file (path, faults, &error);

  cli_complain_faults (faults);
  if (error)
    cli_complain ("%s", error->message);
  *status = error ? CLI_FILE : CLI_FAULTS;
  return table && faults->len == 0 ? g_steal_pointer (&table) : NULL;
}

static gboolean
read_number (const char *option, const char *text, double least, double most, double *out)
{
  char *end = NULL;
  double x = text ? g_ascii_strtod (text, &end) : *out;

  if (!text)
    return TRUE;
  if (end == text || *g_strchug (end) || !isfinite (x) || x < least || x > most)
    {
      cli_complain (_ ("%s cannot be “%s”: enter a number from %.10g to %.10g"), option, text, least, most);
      return FALSE;
    }
  *out = x;
  return TRUE;
}

static int
risk_of_file (const Asked *a)
{
  double trials = 100000, seed = 1, confidence = 80;
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (CsvTable) table = NULL;
  g_autoptr (RiskProblem) problem = NULL;
  g_autoptr (RiskResult) result = NULL;
  g_autofree char *matrix = NULL;
  SpreadKind kind = SPREAD_PERT;
  Fault *fault = NULL;
  int status;

  if (!read_number ("--trials", a->trials, 2, 1e7, &trials) || !read_number ("--seed", a->seed, 0, 4294967295.0, &seed)
      || !read_number ("--confidence", a->confidence, 0.1, 99.9, &confidence))
    return CLI_USAGE;
  if (a->spread && !spread_parse (a->spread, &kind, &fault))
    return complain_fault (fault, CLI_USAGE);
  table = read_table (a->problem, &status);
  if (!table)
    return status;
  problem = risk_problem_read (table, kind, faults);
  cli_complain_faults (faults);
  if (!problem)
    return CLI_FAULTS;
  if (a->correlation && !read_file (a->correlation, &matrix))
    return CLI_FILE;
  if (matrix && !risk_problem_read_correlation (problem, matrix, &fault))
    return complain_fault (fault, CLI_FAULTS);
  RiskRun run = { (gsize) trials, (guint64) seed, NULL, NULL };
  result = risk_run (problem, &run, &fault);
  if (!result)
    return complain_fault (fault, CLI_FAULTS);
  CliRiskFile page = { problem,        result,           kind,
                       (guint64) seed, confidence / 100, a->base && strcmp (a->base, "mean") == 0,
                       a->at,          a->quantile };
  cli_page_risk_file (&page, cli_options_format (&a->o));
  return CLI_DONE;
}

static int
risk_of_sample (const Asked *a)
{
  g_autofree char *matrix = NULL;
  int status = CLI_USAGE;
  g_autoptr (CsvTable) table = read_table (a->sample, &status);
  CliFormat format = cli_options_format (&a->o);

  if (!table)
    return status;
  if (!a->correlation)
    return cli_page_quantiles (table, a->quantile, format);
  return read_file (a->correlation, &matrix) ? cli_page_sample (table, matrix, format) : CLI_FILE;
}

/* ---- what goes with what ---- */

typedef struct
{
  const char *option;
  gboolean given;
} Given;

/* FALSE with a message where an option was given that would change nothing. */
static gboolean
none_given (const Given *given, gsize n, const char *with)
{
  for (gsize i = 0; i < n; i++)
    if (given[i].given)
      {
        cli_complain (_ ("%s does not go with %s: leave one of them out"), given[i].option, with);
        return FALSE;
      }
  return TRUE;
}

static gboolean
numbers_fit (char *const *asked, const char *option, double least, double most)
{
  double x = 0;

  for (char *const *w = asked; w && *w; w++)
    if (!read_number (option, *w, least, most, &x))
      return FALSE;
  return TRUE;
}

static gboolean
asked_fits (const Asked *a)
{
  const Given job[] = { { "--demo", a->o.demo },
                        { "--demo-round", a->o.demo_round },
                        { "--runs", a->o.runs != NULL },
                        { "--office", a->o.office != NULL },
                        { "--job", a->o.job != NULL },
                        { "--method", a->o.method != NULL },
                        { "--rules", a->o.rules != NULL },
                        { "--set", a->o.set != NULL },
                        { "--baseline", a->o.baseline != NULL },
                        { "--methods", a->methods != NULL },
                        { "--what-if", a->what_if != NULL } },
              draws[] = { { "--problem", a->problem != NULL },
                          { "--trials", a->trials != NULL },
                          { "--seed", a->seed != NULL },
                          { "--spread", a->spread != NULL },
                          { "--confidence", a->confidence != NULL },
                          { "--base", a->base != NULL },
                          { "--at", a->at != NULL } },
              of_job[] = { { "--at", a->at != NULL },
                           { "--quantile", a->quantile != NULL } },
              of_order[] = { { "--quantile", a->quantile != NULL } };

  if (!numbers_fit (a->quantile, "--quantile", 0, 100) || !numbers_fit (a->at, "--at", -1e300, 1e300))
    return FALSE;
  if (a->sample)
    return none_given (job, G_N_ELEMENTS (job), "--sample") && none_given (draws, G_N_ELEMENTS (draws), "--sample")
           && (!a->correlation || none_given (of_order, G_N_ELEMENTS (of_order), _ ("--correlation of a --sample")));
  if (a->problem)
    return none_given (job, G_N_ELEMENTS (job), "--problem");
  return none_given (of_job, G_N_ELEMENTS (of_job), _ ("a job, only with a file"));
}

int
cli_risk (int argc, char **argv)
{
  g_auto (Asked) a = { 0 };
  const GOptionEntry more[] = {
    { "baseline", 0, 0, G_OPTION_ARG_STRING, &a.o.baseline, N_ ("Method the others are held against"), N_ ("KEY") },
    { "methods", 0, 0, G_OPTION_ARG_STRING, &a.methods,
      N_ ("Methods beside the baseline (default: all that are listed)"), N_ ("A,B") },
    { "what-if", 0, 0, G_OPTION_ARG_STRING_ARRAY, &a.what_if, N_ ("A what-if that the job keeps, beside the baseline"),
      N_ ("NAME") },
    { "trials", 0, 0, G_OPTION_ARG_STRING, &a.trials, N_ ("Trials (default: the job's, else 100,000)"), N_ ("N") },
    { "seed", 0, 0, G_OPTION_ARG_STRING, &a.seed, N_ ("Seed of the draws (default: the job's, else 1)"), N_ ("S") },
    { "spread", 0, 0, G_OPTION_ARG_STRING, &a.spread, N_ ("Spread: pert, pert-classical or triangular"), N_ ("WORD") },
    { "confidence", 0, 0, G_OPTION_ARG_STRING, &a.confidence, N_ ("Contingency to this confidence, %"), N_ ("PCT") },
    { "base", 0, 0, G_OPTION_ARG_STRING, &a.base, N_ ("Contingency over: likely or mean"), N_ ("WORD") },
    { "problem", 0, 0, G_OPTION_ARG_FILENAME, &a.problem,
      N_ ("A problem of its own instead of a job: columns name, low, likely, high; optional spread, common, responses"),
      N_ ("FILE") },
    { "correlation", 0, 0, G_OPTION_ARG_FILENAME, &a.correlation,
      N_ ("Rank correlations of the first inputs of the problem: a square of figures"), N_ ("FILE") },
    { "sample", 0, 0, G_OPTION_ARG_FILENAME, &a.sample,
      N_ ("Quantiles of the columns of a file; with --correlation its columns x1, x2, … put in that order, with the "
          "steps"),
      N_ ("FILE") },
    { "at", 0, 0, G_OPTION_ARG_STRING_ARRAY, &a.at, N_ ("Of a problem: also the share of the trials at this figure and below"),
      N_ ("X") },
    { "quantile", 0, 0, G_OPTION_ARG_STRING_ARRAY, &a.quantile, N_ ("Of a problem or a sample: also this quantile, %"), N_ ("PCT") },
    G_OPTION_ENTRY_NULL,
  };

  if (!cli_options_read (&a.o, argc, argv, "--demo | --runs FILE | --job NAME | --problem FILE",
                         _ ("What a job may come to: cost and field hours by method from draws of low, likely and "
                            "high, with the chance that "
                            "one method beats another."),
                         more))
    return a.o.status;
  if (a.o.rest[0])
    {
      cli_complain (_ ("risk takes no word “%s”"), a.o.rest[0]);
      return CLI_USAGE;
    }
  if (a.base && strcmp (a.base, "likely") != 0 && strcmp (a.base, "mean") != 0)
    {
      cli_complain (_ ("--base cannot be “%s”: write likely or mean"), a.base);
      return CLI_USAGE;
    }
  if (!asked_fits (&a))
    return CLI_USAGE;
  if (a.sample)
    return risk_of_sample (&a);
  if (a.correlation && !a.problem)
    {
      cli_complain (_ ("--correlation goes with --problem or --sample; a job's correlations are its settings risk.*"));
      return CLI_USAGE;
    }
  return a.problem ? risk_of_file (&a) : risk_of_job (&a);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/risk-pages.h"

#include "cli/cli.h"

#include <glib/gi18n.h>
#include <math.h>

static const CliColumn quantile_columns[] = {
  { "of", N_ ("of"), FALSE },          { "percent", N_ ("%"), TRUE }, { "value", N_ ("at most"), TRUE },
  { "low", N_ ("from (95 %)"), TRUE }, { "high", N_ ("to"), TRUE },
};

static const CliColumn sample_columns[] = {
  { "of", N_ ("of"), FALSE },
  { "likely", N_ ("likely"), TRUE },
  { "mean", N_ ("mean"), TRUE },
  { "error", N_ ("± st. error"), TRUE },
  { "sd", N_ ("st. deviation"), TRUE },
  { "exact_mean", N_ ("exact mean"), TRUE },
  { "exact_variance", N_ ("exact variance"), TRUE },
  { "value_variance", N_ ("variance by correlation of values"), TRUE },
};

static const CliColumn beat_columns[] = {
  { "a", N_ ("of"), FALSE },          { "b", N_ ("against"), FALSE },     { "below", N_ ("below, %"), TRUE },
  { "above", N_ ("above, %"), TRUE }, { "equal", N_ ("equal, %"), TRUE }, { "low", N_ ("below, from (95 %)"), TRUE },
  { "high", N_ ("to"), TRUE },        { "normal_percent", N_ ("normal of the exact moments, %"), TRUE },
};

static const CliColumn driver_columns[] = {
  { "of", N_ ("of"), FALSE },
  { "input", N_ ("what moves it"), FALSE },
  { "share_percent", N_ ("share of variance, %"), TRUE },
};

static const CliColumn contingency_columns[] = {
  { "of", N_ ("of"), FALSE },     { "confidence", N_ ("to, %"), TRUE },   { "value", N_ ("figure"), TRUE },
  { "base", N_ ("base"), FALSE }, { "base_value", N_ ("base is"), TRUE }, { "contingency", N_ ("contingency"), TRUE },
};

static const CliColumn below_columns[] = {
  { "of", N_ ("of"), FALSE },
  { "at", N_ ("at"), TRUE },
  { "below_percent", N_ ("at it and below, %"), TRUE },
  { "low", N_ ("from (95 %)"), TRUE },
  { "high", N_ ("to"), TRUE },
  { "normal_percent", N_ ("normal of the exact moments, %"), TRUE },
};

static const CliColumn verdict_columns[] = {
  { "method", N_ ("method"), FALSE },
  { "what_if", N_ ("what if"), FALSE },
  { "baseline", NULL, FALSE },
  { "likely_gain", N_ ("likely gain"), TRUE },
  { "gain_10", N_ ("gain 10 %"), TRUE },
  { "gain_50", N_ ("50 %"), TRUE },
  { "gain_90", N_ ("90 %"), TRUE },
  { "mean_gain", N_ ("mean"), TRUE },
  { "mean_error", N_ ("± st. error"), TRUE },
  { "cheaper_percent", N_ ("cheaper, %"), TRUE },
  { "low", N_ ("from (95 %)"), TRUE },
  { "high", N_ ("to"), TRUE },
  { "dearer_percent", N_ ("dearer, %"), TRUE },
  { "equal_percent", N_ ("equal, %"), TRUE },
  { "verdict", N_ ("verdict"), FALSE },
};

static const CliColumn choice_columns[] = { { "choice", N_ ("Choices"), FALSE } };

/* Six digits behind the point for files, the decimals asked for eyes. */
static void
add_figure (CliTable *t, double x, int decimals, CliFormat format)
{
  if (!isfinite (x))
    cli_table_add (t, "");
  else
    cli_table_fixed (t, x, format == CLI_TEXT ? decimals : 6);
}

static void
add_percent (CliTable *t, double share)
{
  cli_table_fixed (t, share * 100, 3);
}

static void
add_quantile (CliTable *t, const char *of, const RiskSample *sample, double p, int decimals, CliFormat format)
{
  RiskQuantile q = risk_sample_quantile (sample, p);

  cli_table_add (t, of);
  cli_table_figure (t, p * 100, 6);
  add_figure (t, q.value, decimals, format);
  add_figure (t, q.low, decimals, format);
  add_figure (t, q.high, decimals, format);
}

static void
add_drivers (CliTable *t, const char *of, const RiskResult *result, const double *weight,
             char *(*say) (gconstpointer, int), gconstpointer data, RiskDriversHow *how, guint most)
{
  g_autoptr (GArray) drivers = risk_result_drivers (result, weight, how);

  for (guint i = 0;
       i < drivers->len && i < most && (most == G_MAXUINT || g_array_index (drivers, RiskDriver, i).share >= 0.0005);
       i++)
    {
      const RiskDriver *d = &g_array_index (drivers, RiskDriver, i);
      cli_table_add (t, of);
      cli_table_take (t, say (data, d->input));
      if (most < G_MAXUINT)
        cli_table_fixed (t, d->share * 100, 1);
      else
        cli_table_fixed (t, d->share * 100, 6);
    }
}

static void
next (CliFormat format)
{
  if (format != CLI_JSONL)
    cli_print ("\n");
}

/* ---- a job ---- */

static char *
say_input (gconstpointer data, int input)
{
  return job_risk_input_say (data, input);
}

static gboolean
any_what_if (const JobRisk *risk)
{
  for (guint i = 0; i < risk->ways->len; i++)
    if (job_risk_way (risk, i)->what_if)
      return TRUE;
  return FALSE;
}

static void
print_verdicts (const JobRisk *risk, const RiskResult *result, CliFormat format)
{
  g_autofree CliColumn *shown = cli_way_columns (verdict_columns, G_N_ELEMENTS (verdict_columns), any_what_if (risk));
  g_autoptr (CliTable) t = cli_table_new ("verdicts", shown, G_N_ELEMENTS (verdict_columns));
  const char *base = job_risk_way (risk, 0)->key;

  for (guint i = 1; i < risk->ways->len; i++)
    {
      const JobRiskWay *way = job_risk_way (risk, i);
      JobRiskGain g;
      job_risk_gain (risk, result, i, &g);
      cli_table_add (t, way->key);
      cli_table_add (t, way->what_if ? way->what_if : "");
      cli_table_add (t, base);
      cli_table_fixed (t, g.gain, risk->decimals);
      cli_table_fixed (t, g.low.value, risk->decimals);
      cli_table_fixed (t, g.middle.value, risk->decimals);
      cli_table_fixed (t, g.high.value, risk->decimals);
      cli_table_fixed (t, g.mean, risk->decimals);
      cli_table_fixed (t, g.error, risk->decimals);
      add_percent (t, g.beats.less);
      add_percent (t, g.beats.low);
      add_percent (t, g.beats.high);
      add_percent (t, g.beats.more);
      add_percent (t, g.beats.tie);
      cli_table_take (t, g.gain < 0 && g.verdict >= JOB_VERDICT_LIKELY
                             ? g_strdup_printf (_ ("%s, dearer"), job_verdict_say (g.verdict))
                             : g_strdup (job_verdict_say (g.verdict)));
    }
  if (risk->ways->len > 1)
    {
      cli_table_print (t, format);
      next (format);
    }
}

static void
print_ways (const JobRisk *risk, const RiskResult *result, CliFormat format)
{
  static const CliColumn columns[] = {
    { "method", N_ ("method"), FALSE },
    { "what_if", N_ ("what if"), FALSE },
    { "likely", N_ ("cost and tooling, likely"), TRUE },
    { "mean", N_ ("mean"), TRUE },
    { "mean_error", N_ ("± st. error"), TRUE },
    { "p10", N_ ("10 %"), TRUE },
    { "p50", N_ ("50 %"), TRUE },
    { "p80", N_ ("80 %"), TRUE },
    { "p90", N_ ("90 %"), TRUE },
    { "p90_low", N_ ("90 % from"), TRUE },
    { "p90_high", N_ ("to (95 %)"), TRUE },
    { "contingency", N_ ("contingency"), TRUE },
    { "field_likely", N_ ("field h, likely"), TRUE },
    { "field_p10", N_ ("10 %"), TRUE },
    { "field_p90", N_ ("90 %"), TRUE },
  };
  g_autofree CliColumn *shown = cli_way_columns (columns, G_N_ELEMENTS (columns), any_what_if (risk));
  g_autoptr (CliTable) t = cli_table_new ("ways", shown, G_N_ELEMENTS (columns));
  static const double points[] = { 0.1, 0.5, 0.8, 0.9 };

  for (guint i = 0; i < risk->ways->len; i++)
    {
      const JobRiskWay *way = job_risk_way (risk, i);
      const RiskSample *s = risk_result_sample (result, way->cost), *h = risk_result_sample (result, way->hours);
      JobRiskContingency c;
      job_risk_contingency (risk, result, i, &c);
      cli_table_add (t, way->key);
      cli_table_add (t, way->what_if ? way->what_if : "");
      cli_table_fixed (t, way->likely, risk->decimals);
      cli_table_fixed (t, s->mean, risk->decimals);
      cli_table_fixed (t, s->error, risk->decimals);
      for (gsize k = 0; k < G_N_ELEMENTS (points); k++)
        cli_table_fixed (t, risk_sample_quantile (s, points[k]).value, risk->decimals);
      cli_table_fixed (t, risk_sample_quantile (s, 0.9).low, risk->decimals);
      cli_table_fixed (t, risk_sample_quantile (s, 0.9).high, risk->decimals);
      cli_table_fixed (t, c.contingency, risk->decimals);
      cli_table_fixed (t, way->likely_hours, 1);
      cli_table_fixed (t, risk_sample_quantile (h, 0.1).value, 1);
      cli_table_fixed (t, risk_sample_quantile (h, 0.9).value, 1);
    }
  cli_table_print (t, format);
  next (format);
}

/* Of the baseline's cost, and of the gain of the way that the sentence names. */
static void
print_job_drivers (const JobRisk *risk, const RiskResult *result, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("drivers", driver_columns, G_N_ELEMENTS (driver_columns));
  g_autofree double *weight = g_new0 (double, (gsize) risk_problem_n_responses (risk->problem));
  guint best = job_risk_best (risk);
  g_autofree char *of = NULL;
  RiskDriversHow how;

  weight[job_risk_way (risk, 0)->cost] = 1;
  of = g_strdup_printf (_ ("cost, %s"), job_risk_way (risk, 0)->key);
  add_drivers (t, of, result, weight, say_input, risk, &how, 8);
  if (best > 0)
    {
      g_autofree char *gain = g_strdup_printf (_ ("gain, %s"), job_risk_way (risk, best)->key);
      weight[job_risk_way (risk, best)->cost] = -1;
      add_drivers (t, gain, result, weight, say_input, risk, &how, 8);
    }
  cli_table_print (t, format);
  if (format == CLI_TEXT)
    cli_print ("%s\n", risk_drivers_say (how));
  next (format);
}

static void
print_lines (char *const *lines, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("choices", choice_columns, G_N_ELEMENTS (choice_columns));

  for (char *const *line = lines; *line; line++)
    cli_table_add (t, *line);
  cli_table_print (t, format);
}

void
cli_page_risk_job (const JobRisk *risk, const RiskResult *result, CliFormat format)
{
  g_autofree char *sentence = job_risk_sentence (risk, result);
  g_auto (GStrv) choices = job_risk_choices (risk);

  if (format == CLI_TEXT)
    cli_print ("%s\n\n", sentence);
  print_verdicts (risk, result, format);
  print_ways (risk, result, format);
  print_job_drivers (risk, result, format);
  print_lines (choices, format);
}

/* ---- a problem of a file ---- */

static char *
say_name (gconstpointer data, int input)
{
  return g_strdup (input < 0 ? _ ("several together") : risk_problem_input_name (data, input));
}

static double
normal_below (double z)
{
  return 0.5 * erfc (-z / sqrt (2));
}

static void
print_samples (const CliRiskFile *page, CliFormat format)
{
  static const double points[] = { 0.05, 0.1, 0.2, 0.5, 0.8, 0.9, 0.95 };
  g_autoptr (CliTable) t = cli_table_new ("responses", sample_columns, G_N_ELEMENTS (sample_columns));
  g_autoptr (CliTable) q = cli_table_new ("quantiles", quantile_columns, G_N_ELEMENTS (quantile_columns));
  g_autoptr (CliTable) below = cli_table_new ("below", below_columns, G_N_ELEMENTS (below_columns));
  double x, low, high;

  for (int r = 0; r < risk_problem_n_responses (page->problem); r++)
    {
      const RiskSample *s = risk_result_sample (page->result, r);
      const char *name = risk_problem_response_name (page->problem, r);
      double mean, variance;
      gboolean exact = risk_problem_moments (page->problem, r, &mean, &variance);
      cli_table_add (t, name);
      add_figure (t, risk_problem_likely (page->problem, r), 3, format);
      add_figure (t, s->mean, 3, format);
      add_figure (t, s->error, 4, format);
      add_figure (t, s->sd, 4, format);
      add_figure (t, isnan (variance) ? NAN : mean, 4, format);
      add_figure (t, exact ? variance : NAN, 4, format);
      add_figure (t, exact ? NAN : variance, 4, format);
      for (gsize i = 0; i < G_N_ELEMENTS (points); i++)
        add_quantile (q, name, s, points[i], 3, format);
      for (char **w = page->quantile; w && *w; w++)
        {
          x = g_ascii_strtod (*w, NULL);
          add_quantile (q, name, s, CLAMP (x / 100, 0, 1), 3, format);
        }
      for (char **w = page->at; w && *w; w++)
        {
          x = g_ascii_strtod (*w, NULL);
          cli_table_add (below, name);
          add_figure (below, x, 3, format);
          add_percent (below, risk_sample_below (s, x, &low, &high));
          add_percent (below, low);
          add_percent (below, high);
          add_figure (below, exact && variance > 0 ? 100 * normal_below ((x - mean) / sqrt (variance)) : NAN, 4,
                      format);
        }
    }
  cli_table_print (t, format);
  next (format);
  cli_table_print (q, format);
  next (format);
  if (page->at)
    {
      cli_table_print (below, format);
      next (format);
    }
}

static void
print_pairs (const CliRiskFile *page, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("beats", beat_columns, G_N_ELEMENTS (beat_columns));
  g_autoptr (CliTable) c = cli_table_new ("contingency", contingency_columns, G_N_ELEMENTS (contingency_columns));
  int n = risk_problem_n_responses (page->problem);

  for (int a = 0; a < n; a++)
    for (int b = 0; b < n; b++)
      if (a != b)
        {
          RiskBeats beats = risk_result_beats (page->result, a, b);
          cli_table_add (t, risk_problem_response_name (page->problem, a));
          cli_table_add (t, risk_problem_response_name (page->problem, b));
          add_percent (t, beats.less);
          add_percent (t, beats.more);
          add_percent (t, beats.tie);
          add_percent (t, beats.low);
          add_percent (t, beats.high);
          double mean, variance;
          gboolean exact = risk_problem_difference (page->problem, a, b, &mean, &variance);
          add_figure (t, exact && variance > 0 ? 100 * normal_below (-mean / sqrt (variance)) : NAN, 3, format);
        }
  for (int r = 0; r < n; r++)
    {
      const RiskSample *s = risk_result_sample (page->result, r);
      double value = risk_sample_quantile (s, page->confidence).value;
      double base = page->over_mean ? s->mean : risk_problem_likely (page->problem, r);
      cli_table_add (c, risk_problem_response_name (page->problem, r));
      cli_table_figure (c, page->confidence * 100, 6);
      add_figure (c, value, 3, format);
      cli_table_add (c, page->over_mean ? _ ("mean") : _ ("likely"));
      add_figure (c, base, 3, format);
      add_figure (c, value - base, 3, format);
    }
  if (n > 1)
    {
      cli_table_print (t, format);
      next (format);
    }
  cli_table_print (c, format);
  next (format);
}

static void
print_file_drivers (const CliRiskFile *page, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("drivers", driver_columns, G_N_ELEMENTS (driver_columns));
  int n = risk_problem_n_responses (page->problem);
  g_autofree double *weight = g_new0 (double, (gsize) n);
  RiskDriversHow how = RISK_DRIVERS_EXACT;

  for (int r = 0; r < n; r++)
    {
      weight[r] = 1;
      add_drivers (t, risk_problem_response_name (page->problem, r), page->result, weight, say_name, page->problem,
                   &how, G_MAXUINT);
      weight[r] = 0;
    }
  cli_table_print (t, format);
  if (format == CLI_TEXT)
    cli_print ("%s\n", risk_drivers_say (how));
  next (format);
}

void
cli_page_risk_file (const CliRiskFile *page, CliFormat format)
{
  gsize n = risk_result_trials (page->result);
  const RiskSample *first = risk_result_sample (page->result, 0);
  g_autofree char *spread = g_strdup_printf (_ ("Spread (L3), where a row names none: %s."), spread_say (page->spread));
  g_autofree char *run = g_strdup_printf (_ ("%" G_GSIZE_FORMAT " trials, seed %" G_GUINT64_FORMAT
                                             "; each input is drawn once a trial for all "
                                             "responses."),
                                          n, page->seed);
  g_autofree char *band = g_strdup_printf (
      _ ("Every share of a whole curve is within %.4f of the true one (95 %%, Dvoretzky, Kiefer, Wolfowitz)."),
      quantile_band (n, RISK_INTERVAL));
  char *const lines[] = {
    spread,
    run,
    (char *) _ (
        "Quantiles by linear interpolation at 1 + (n − 1) p (L10, type 7); intervals are 95 % from order statistics."),
    band,
    (char *) (risk_problem_is_correlated (page->problem) ? _ ("Rank correlation by Iman and Conover.")
                                                         : _ ("Inputs are independent but for common factors.")),
    NULL
  };

  if (format == CLI_TEXT)
    cli_print (_ ("%s: half of the trials come to at most %.6g, %.4g %% to at most %.6g.\n\n"),
               risk_problem_response_name (page->problem, 0), risk_sample_quantile (first, 0.5).value,
               page->confidence * 100, risk_sample_quantile (first, page->confidence).value);
  print_samples (page, format);
  print_pairs (page, format);
  print_file_drivers (page, format);
  print_lines (lines, format);
}

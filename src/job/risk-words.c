/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a risk run says: gains with their verdict, contingency, the sentence, the choices named beside the figures. */
#include "config.h"

#include "job/risk.h"

#include "base/money.h"

#include <glib/gi18n-lib.h>
#include <math.h>

JobVerdict
job_verdict (const RiskBeats *beats)
{
  if (beats->tie >= 1)
    return JOB_VERDICT_EQUAL;
  return beats->less >= 0.9 ? JOB_VERDICT_CLEAR : beats->less >= 0.75 ? JOB_VERDICT_LIKELY : JOB_VERDICT_NOT_CLEAR;
}

const char *
job_verdict_say (JobVerdict verdict)
{
  static const char *const say[] = { N_ ("equal"), N_ ("not clear: run the trial"), N_ ("likely"), N_ ("clear") };

  return _ (say[verdict]);
}

void
job_risk_gain (const JobRisk *risk, const RiskResult *result, guint index, JobRiskGain *gain)
{
  const JobRiskWay *base = job_risk_way (risk, 0), *way = job_risk_way (risk, index);
  g_autoptr (RiskSample) sample = risk_result_difference (result, base->cost, way->cost);

  *gain = (JobRiskGain){ .gain = base->likely - way->likely };
  /* Two rounded figures: what is below the last digit printed is nothing. */
  gain->gain = round (gain->gain * pow (10, risk->decimals)) / pow (10, risk->decimals);
  gain->low = risk_sample_quantile (sample, 0.1);
  gain->middle = risk_sample_quantile (sample, 0.5);
  gain->high = risk_sample_quantile (sample, 0.9);
  gain->mean = sample->mean;
  gain->error = sample->error;
  gain->beats = risk_result_beats (result, way->cost, base->cost);
  gain->better = gain->gain >= 0 ? gain->beats : risk_result_beats (result, base->cost, way->cost);
  gain->verdict = job_verdict (&gain->better);
}

void
job_risk_contingency (const JobRisk *risk, const RiskResult *result, guint index, JobRiskContingency *c)
{
  const JobRiskWay *way = job_risk_way (risk, index);
  const RiskSample *sample = risk_result_sample (result, way->cost);
  RiskQuantile q = risk_sample_quantile (sample, risk->confidence);

  c->base = risk->over_mean ? sample->mean : way->likely;
  c->quantile = q.value;
  c->low = q.low;
  c->high = q.high;
  c->contingency = q.value - c->base;
}

static char *
money (double x)
{
  gint64 whole;

  return num_from_double (x, &whole) ? money_print (whole, 0, TRUE) : g_strdup ("—");
}

guint
job_risk_best (const JobRisk *risk)
{
  guint best = risk->ways->len > 1 ? 1 : 0;

  for (guint i = 2; i < risk->ways->len; i++)
    if (job_risk_way (risk, i)->likely < job_risk_way (risk, best)->likely)
      best = i;
  return best;
}

static char *
alone (const JobRisk *risk, const RiskResult *result)
{
  const JobRiskWay *way = job_risk_way (risk, 0);
  const RiskSample *sample = risk_result_sample (result, way->cost);
  g_autofree char *likely = money (way->likely), *half = money (risk_sample_quantile (sample, 0.5).value);
  g_autofree char *most = money (risk_sample_quantile (sample, risk->confidence).value);

  return g_strdup_printf (_ ("%s: likely cost with tooling %s; half of the trials come below %s, %.4g %% below %s."),
                          way->name, likely, half, risk->confidence * 100, most);
}

char *
job_risk_sentence_of (const JobRisk *risk, const RiskResult *result, guint way)
{
  const JobRiskWay *base = job_risk_way (risk, 0);
  JobRiskGain gain;

  if (way == 0)
    return alone (risk, result);
  job_risk_gain (risk, result, way, &gain);
  g_autofree char *amount = money (fabs (gain.gain));
  const char *name = job_risk_way (risk, way)->name, *verdict = job_verdict_say (gain.verdict);
  if (gain.verdict == JOB_VERDICT_EQUAL)
    return g_strdup_printf (_ ("%s and %s cost the same in every trial."), name, base->name);
  if (gain.gain > 0)
    return g_strdup_printf (
        _ ("%s saves a likely %s after tooling against %s and is cheaper in %.0f %% of the trials: %s."), name, amount,
        base->name, gain.beats.less * 100, verdict);
  return g_strdup_printf (
      _ ("%s costs a likely %s more after tooling than %s and is dearer in %.0f %% of the trials: %s."), name, amount,
      base->name, gain.beats.more * 100, verdict);
}

char *
job_risk_sentence (const JobRisk *risk, const RiskResult *result)
{
  return job_risk_sentence_of (risk, result, job_risk_best (risk));
}

/* Prices that move by themselves, and those that only a common factor moves. */
static char *
prices_words (const JobRisk *risk)
{
  if (risk->ranged > 0 && risk->money_factors)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                         "%u price has a low and a high of its own; the common factors above move "
                                         "metal and what hangs on the schedule; the others are fixed.",
                                         "%u prices have a low and a high of their own; the common factors above move "
                                         "metal and what hangs on the schedule; the others are fixed.",
                                         risk->ranged),
                            risk->ranged);
  if (risk->ranged > 0)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u price has a low and a high; the others are fixed.",
                                         "%u prices have a low and a high; the others are fixed.", risk->ranged),
                            risk->ranged);
  return g_strdup (risk->money_factors
                       ? _ ("No price has a low and a high of its own: prices move by the common factors above alone.")
                       : _ ("Prices are fixed."));
}

char **
job_risk_choices (const JobRisk *risk)
{
  g_autoptr (GStrvBuilder) lines = g_strv_builder_new ();
  g_autofree char *trials = money ((double) risk->trials);
  g_autofree char *spread = g_strdup_printf (_ ("Spread of low, likely and high (L3): %s."), spread_say (risk->spread));
  g_autofree char *count = g_strdup_printf (_ ("%s trials, seed %" G_GUINT64_FORMAT
                                               "; common causes are sampled once a trial for all methods; steps "
                                               "are independent of each other."),
                                            trials, risk->seed);
  g_autofree char *common = *risk->factors
                                ? g_strdup_printf (_ ("Common factors (low, likely, high): %s."), risk->factors)
                                : g_strdup (_ ("No common factor moves."));
  g_autofree char *prices = prices_words (risk);
  g_autofree char *base =
      g_strdup_printf (risk->over_mean ? _ ("Contingency to %.4g %%, over the mean cost of the trials.")
                                       : _ ("Contingency to %.4g %%, over the likely cost."),
                       risk->confidence * 100);
  g_autofree char *rests =
      g_strdup_printf (_ ("Rests on invented or remembered figures: %u of %u steps, %u of %u prices."),
                       risk->weak_steps, risk->steps, risk->weak_prices, risk->prices);

  for (guint i = 0; i < risk->in_force->len; i++)
    g_strv_builder_add (lines, risk->in_force->pdata[i]);
  g_strv_builder_add (lines, spread);
  g_strv_builder_add (lines, count);
  g_strv_builder_add (lines, common);
  g_strv_builder_add (lines, prices);
  g_strv_builder_add (lines, _ ("Quantiles by linear interpolation at 1 + (n − 1) p (L10, type 7); intervals are 95 % "
                                "from order statistics."));
  g_strv_builder_add (lines, base);
  g_strv_builder_add (lines, _ ("Verdict: clear from 90 % of the trials, likely from 75 %, else not clear."));
  if (risk->weak_steps + risk->weak_prices > 0)
    g_strv_builder_add (lines, rests);
  return g_strv_builder_end (lines);
}

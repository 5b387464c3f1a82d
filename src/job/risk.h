/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/risk.h"
#include "job/job.h"

G_BEGIN_DECLS

/* The risk of a job by several methods and what-ifs, on the same draws.
 *
 * Inputs: each step (one draw a trial moves
 * all its minutes, at every place and in every method), each item whose price has a low and a high, and the common
 * factors of the job's settings: field crew (all field minutes), shop (all shop minutes), metal (money of items of
 * use "sheet"), schedule (the build-up line "general" and what is rented). Each way has its own low, likely and high
 * worker-minutes of a step, totals under its conditions (job_copy() at the three points); it takes them at the same
 * quantile as the step's draw. Two ways with the same geometry so share a step's draw exactly; where the mix of
 * minutes a piece, a foot and a pound differs between two ways, the shapes differ a little and the quantile is what
 * they share.
 *
 * A what-if changes figures of the job; spread, trials and common factors are those of the job itself for all ways.
 *
 * Responses, two a way: cost (the build-up line "cost") with the tooling, and field worker-hours. */

/* One way to be set beside others. */
typedef struct
{
  const char *method;       /* key; NULL: every run by its own */
  const char *name;         /* (nullable): for the reader; else the method's name */
  const GPtrArray *changes; /* (nullable): CostChange *, a what-if */
} JobRiskAsk;

typedef struct
{
  int method;               /* JOB_OWN_METHOD, or index */
  char *key, *name;         /* key of the method; NULL for each run by its own */
  char *what_if;            /* (nullable): the name of its changes */
  int cost, hours;          /* responses of the problem */
  double likely;            /* cost and tooling of the build-up, rounded as printed, currency */
  double once;              /* tooling in it */
  double likely_hours;      /* field worker-hours */
  gint64 not_priced;        /* runs */
} JobRiskWay;

typedef struct
{
  RiskProblem *problem;
  GPtrArray *ways;          /* JobRiskWay *, the first is the baseline */
  SpreadKind spread;
  gsize trials;
  guint64 seed;
  double confidence;        /* 0.8: contingency to it */
  gboolean over_mean;       /* contingency over the mean, not the likely cost */
  int decimals;
  char *currency;
  guint steps, prices;          /* steps with minutes; items with money */
  guint weak_steps, weak_prices; /* of them those that rest on invented or remembered figures */
  guint ranged;                 /* items whose price has a low and a high */
  gboolean money_factors;       /* a common factor moves the price of metal, or what hangs on the schedule */
  GPtrArray *in_force;          /* char *: job_in_force() */
  char *factors;                /* common factors and their correlations in words; "" none */
} JobRisk;

/* The problem of the job under its settings, as a copy that needs the job no more. NULL with a fault: an unknown
 * method, a what-if that cannot be applied, factors out of order, correlations that are none. Costs two
 * job_recompute(), three more a what-if. */
JobRisk *job_risk_new (TallyJob *job, const JobRiskAsk *ask, gsize n, Fault **fault);
void job_risk_free (JobRisk *risk);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobRisk, job_risk_free)

static inline const JobRiskWay *
job_risk_way (const JobRisk *risk, guint i)
{
  return g_ptr_array_index (risk->ways, i);
}

/* Runs it; may be called in a thread. As risk_run(). */
RiskResult *job_risk_run (const JobRisk *risk, RiskProgress progress, gpointer data, Fault **fault);

/* How sure it is that the better of two is better. Common practice of this program: clear from 90 % of the trials,
 * likely from 75 %. */
typedef enum
{
  JOB_VERDICT_EQUAL,     /* the same in every trial */
  JOB_VERDICT_NOT_CLEAR,
  JOB_VERDICT_LIKELY,
  JOB_VERDICT_CLEAR,
} JobVerdict;

/* @beats: of the one that is likely better. */
JobVerdict job_verdict (const RiskBeats *beats);
/* "clear", "likely", "not clear: run the trial", "equal"; translated. */
const char *job_verdict_say (JobVerdict verdict);

/* One way against the baseline. */
typedef struct
{
  double gain;              /* likely: baseline less this one, tooling included */
  RiskQuantile low, middle, high; /* of the gain over the trials, at 10, 50 and 90 % */
  double mean, error;       /* of the gain; standard error */
  RiskBeats beats;          /* less: this way is cheaper than the baseline */
  RiskBeats better;         /* the same of the one with the likely gain */
  JobVerdict verdict;
} JobRiskGain;

void job_risk_gain (const JobRisk *risk, const RiskResult *result, guint way, JobRiskGain *gain);

/* The way beside the baseline with the largest likely gain; 0: there is none beside it. */
guint job_risk_best (const JobRisk *risk);

/* Contingency of a way to the confidence over the base of the settings, currency, with the interval of the quantile. */
typedef struct
{
  double base, quantile, low, high, contingency;
} JobRiskContingency;

void job_risk_contingency (const JobRisk *risk, const RiskResult *result, guint way, JobRiskContingency *contingency);

/* An input in words for a reader: "minutes of “bolt and nut”", "field crew". (transfer full) */
char *job_risk_input_say (const JobRisk *risk, int input);
/* The same as job_figure_parse() reads it: "step:NAME", "item:KEY"; "field-hours" and "shop-hours" of the crews, else "cost". (transfer full) */
char *job_risk_input_figure (const JobRisk *risk, int input);

/* The answer in one sentence: the way with the largest likely gain over the baseline, chance and verdict; or, with
 * one way, its cost at 50 and at the confidence. (transfer full) */
char *job_risk_sentence (const JobRisk *risk, const RiskResult *result);
/* The same about one way beside the baseline; 0: the baseline alone. (transfer full) */
char *job_risk_sentence_of (const JobRisk *risk, const RiskResult *result, guint way);
/* Choices that changed the result, a line each, and what it rests on. (transfer full): NULL-terminated. */
char **job_risk_choices (const JobRisk *risk);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/csv.h"
#include "cost/quantile.h"
#include "cost/spread.h"

G_BEGIN_DECLS

/* Simulation of sums whose parts are known as low, likely and high. A problem is a list of inputs, each with one
 * draw a trial, and of responses, each a constant and a sum of terms
 *     coefficient x amount of an input [x common factor [x common factor]]
 * where a common factor is an input too. Draws are made once a trial and serve all responses: what is slow is slow
 * in all of them. A term may have a low, likely and high of its own: it then takes its figure at the same share
 * (quantile) as the input's draw.
 *
 * Every input has a stream of random numbers of its
 * own (MT19937), started from the seed and the input's name: adding an input or a response changes no other one's
 * draws. Nothing here knows of a job; a problem may be run in a thread of its own. */
typedef struct _RiskProblem RiskProblem;

RiskProblem *risk_problem_new (void);
void risk_problem_free (RiskProblem *problem);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (RiskProblem, risk_problem_free)

/* Adds an input; its index, -1 with a fault (spread_check(), a name that stands already). */
int risk_problem_add_input (RiskProblem *problem, const char *name, const Spread *spread, Fault **fault);
int risk_problem_n_inputs (const RiskProblem *problem);
int risk_problem_find_input (const RiskProblem *problem, const char *name); /* -1 */
const char *risk_problem_input_name (const RiskProblem *problem, int input);
const Spread *risk_problem_input_spread (const RiskProblem *problem, int input);

/* Adds a response; its index. */
int risk_problem_add_response (RiskProblem *problem, const char *name, double constant);
int risk_problem_n_responses (const RiskProblem *problem);
int risk_problem_find_response (const RiskProblem *problem, const char *name); /* -1 */
const char *risk_problem_response_name (const RiskProblem *problem, int response);

typedef struct
{
  int input;         /* -1: the coefficient alone, for what only a common factor moves */
  double coefficient;
  Spread spread;     /* of this term's amount; low = likely = high is a constant */
  int common[2];     /* inputs, -1 none */
} RiskTerm;

/* Amount of the input as it is, no common factor. */
void risk_term_init (RiskTerm *term, const RiskProblem *problem, int input, double coefficient);
void risk_problem_add_term (RiskProblem *problem, int response, const RiskTerm *term);

/* Target rank correlation (Iman and Conover 1982) among @k inputs; @matrix k x k, copied. Replaces an earlier one.
 * FALSE with a fault (rank_correlation_check()). */
gboolean risk_problem_correlate (RiskProblem *problem, const int *inputs, int k, const double *matrix, Fault **fault);
gboolean risk_problem_is_correlated (const RiskProblem *problem);

/* The response with every input at its likely value, and the exact mean and variance. FALSE when the variance is not
 * known exactly: a term has a common factor that is no constant, or inputs are correlated (@variance is then that of
 * the same correlations taken as those of the values, sum of rho s s; NAN where common factors come in). */
double risk_problem_likely (const RiskProblem *problem, int response);
gboolean risk_problem_moments (const RiskProblem *problem, int response, double *mean, double *variance);
/* The same of response @a less response @b. */
gboolean risk_problem_difference (const RiskProblem *problem, int a, int b, double *mean, double *variance);

/* ---- running ---- */

/* Told now and then how far it has come, 0 to 1, from the thread that runs. FALSE: it is to be given up. */
typedef gboolean (*RiskProgress) (gpointer data, double share);

#define RISK_MOST_VALUES 40000000 /* trials x responses that are kept */

typedef struct
{
  gsize trials;
  guint64 seed;
  RiskProgress progress; /* (nullable) */
  gpointer data;
} RiskRun;

typedef struct _RiskResult RiskResult;

/* NULL with a fault: no response, too few or too many trials; NULL without one: given up. @problem must outlive the
 * result. */
RiskResult *risk_run (const RiskProblem *problem, const RiskRun *run, Fault **fault);
void risk_result_free (RiskResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (RiskResult, risk_result_free)

gsize risk_result_trials (const RiskResult *result);
/* By trial; borrowed. */
const double *risk_result_values (const RiskResult *result, int response);

/* A sample in order with what is told of it. */
typedef struct
{
  gsize n;
  double *sorted;
  double mean, error, sd; /* error: standard error of the mean, sd / sqrt (n) */
} RiskSample;

/* Of a response; made once, borrowed. */
const RiskSample *risk_result_sample (const RiskResult *result, int response);
/* Of @a less @b in the same trials. (transfer full) */
RiskSample *risk_result_difference (const RiskResult *result, int a, int b);
void risk_sample_free (RiskSample *sample);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (RiskSample, risk_sample_free)

/* Confidence of every sampling interval. */
#define RISK_INTERVAL 0.95

/* Quantile (type 7) with its distribution-free interval. */
typedef struct
{
  double p, value, low, high;
} RiskQuantile;

RiskQuantile risk_sample_quantile (const RiskSample *sample, double p);
/* Share of the sample at @x and below, with Wilson's interval. */
double risk_sample_below (const RiskSample *sample, double x, double *low, double *high);

/* Of the trials those in which @a is below @b, above it, and equal; with the interval of the first (Wilson). The
 * three shares add up to 1. */
typedef struct
{
  double less, more, tie, low, high;
} RiskBeats;

RiskBeats risk_result_beats (const RiskResult *result, int a, int b);

/* What moves a response, or a difference of responses, largest first. */
typedef struct
{
  int input;     /* -1: joint effects of several inputs, and the rounding of the draws */
  double share;  /* of the variance */
} RiskDriver;

typedef enum
{
  RISK_DRIVERS_EXACT,  /* independent inputs, no products: shares of the exact variance, they add up to 1 */
  RISK_DRIVERS_FIRST,  /* independent inputs, products: first-order shares of the variance of the draws; the rest
                          stands beside them */
  RISK_DRIVERS_RANKED, /* correlated inputs: first-order shares, those of correlated inputs from the draws in 50
                          classes; each takes in what moves with it, so that they may add up to more than 1 */
} RiskDriversHow;

const char *risk_drivers_say (RiskDriversHow how);
/* Of sum weight[r] x response r. @how: (out). (transfer full): GArray of RiskDriver; inputs without effect are left out. */
GArray *risk_result_drivers (const RiskResult *result, const double *weight, RiskDriversHow *how);

/* ---- problems from files ---- */

/* Columns: name (or activity, input, else the first), low, likely, high; optional spread, common (name of the row
 * that multiplies this one), on_critical_path (rows with 0 are left out). Every other column is a response with its
 * coefficients, empty 0; without one there is the response "total", each row once. A row that is the common factor
 * of another is no part of a sum by itself. NULL with @faults (CsvFault *). */
RiskProblem *risk_problem_read (const CsvTable *table, SpreadKind spread, GPtrArray *faults);
/* A square of figures without heading, as many rows as inputs; text as it stands in the file. Sets the correlation
 * of the first k inputs of the problem, in order. */
gboolean risk_problem_read_correlation (RiskProblem *problem, const char *text, Fault **fault);
/* The matrix alone. (transfer full), k in @k; NULL with a fault. */
double *risk_matrix_read (const char *text, int *k, Fault **fault);

G_END_DECLS

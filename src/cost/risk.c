/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/risk-private.h"

#include "cost/rank-correlation.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static void
input_free (gpointer data)
{
  RiskInput *input = data;

  g_free (input->name);
  g_free (input);
}

static void
response_free (gpointer data)
{
  RiskResponse *response = data;

  g_free (response->name);
  g_array_unref (response->terms);
  g_free (response);
}

RiskProblem *
risk_problem_new (void)
{
  RiskProblem *p = g_new0 (RiskProblem, 1);

  p->inputs = g_ptr_array_new_with_free_func (input_free);
  p->responses = g_ptr_array_new_with_free_func (response_free);
  return p;
}

void
risk_problem_free (RiskProblem *p)
{
  g_ptr_array_unref (p->inputs);
  g_ptr_array_unref (p->responses);
  g_free (p->correlated);
  g_free (p->matrix);
  g_free (p);
}

int
risk_problem_add_input (RiskProblem *p, const char *name, const Spread *spread, Fault **fault)
{
  if (!spread_check (spread, name, fault))
    return -1;
  if (risk_problem_find_input (p, name) >= 0)
    {
      fault_set (fault, fault_new (-1, _ ("give each input its own name"), _ ("the input “%s” stands twice"), name));
      return -1;
    }
  RiskInput *input = g_new0 (RiskInput, 1);
  input->name = g_strdup (name);
  input->spread = *spread;
  g_ptr_array_add (p->inputs, input);
  return (int) p->inputs->len - 1;
}

int
risk_problem_n_inputs (const RiskProblem *p)
{
  return (int) p->inputs->len;
}

int
risk_problem_find_input (const RiskProblem *p, const char *name)
{
  for (int i = 0; i < (int) p->inputs->len; i++)
    if (strcmp (risk_input (p, i)->name, name) == 0)
      return i;
  return -1;
}

const char *
risk_problem_input_name (const RiskProblem *p, int input)
{
  return risk_input (p, input)->name;
}

const Spread *
risk_problem_input_spread (const RiskProblem *p, int input)
{
  return &risk_input (p, input)->spread;
}

int
risk_problem_add_response (RiskProblem *p, const char *name, double constant)
{
  RiskResponse *response = g_new0 (RiskResponse, 1);

  response->name = g_strdup (name);
  response->constant = constant;
  response->terms = g_array_new (FALSE, TRUE, sizeof (RiskTerm));
  g_ptr_array_add (p->responses, response);
  return (int) p->responses->len - 1;
}

int
risk_problem_n_responses (const RiskProblem *p)
{
  return (int) p->responses->len;
}

int
risk_problem_find_response (const RiskProblem *p, const char *name)
{
  for (int i = 0; i < (int) p->responses->len; i++)
    if (strcmp (risk_response (p, i)->name, name) == 0)
      return i;
  return -1;
}

const char *
risk_problem_response_name (const RiskProblem *p, int response)
{
  return risk_response (p, response)->name;
}

void
risk_term_init (RiskTerm *term, const RiskProblem *p, int input, double coefficient)
{
  *term = (RiskTerm){ .input = input, .coefficient = coefficient, .common = { -1, -1 } };
  term->spread = input < 0 ? (Spread){ SPREAD_PERT, 1, 1, 1 } : risk_input (p, input)->spread;
}

void
risk_problem_add_term (RiskProblem *p, int response, const RiskTerm *term)
{
  g_return_if_fail (term->input < (int) p->inputs->len && term->common[0] < (int) p->inputs->len
                    && term->common[1] < (int) p->inputs->len);
  g_return_if_fail (term->common[0] < 0 || term->common[0] != term->common[1]);
  g_array_append_val (risk_response (p, response)->terms, *term);
}

gboolean
risk_problem_correlate (RiskProblem *p, const int *inputs, int k, const double *matrix, Fault **fault)
{
  /* How many trials there are is known when it runs. */
  if (!rank_correlation_check (matrix, k, G_MAXSIZE, fault))
    return FALSE;
  g_free (p->correlated);
  g_free (p->matrix);
  p->k = k;
  p->correlated = g_memdup2 (inputs, sizeof (int) * (gsize) k);
  p->matrix = g_memdup2 (matrix, sizeof (double) * (gsize) k * (gsize) k);
  return TRUE;
}

gboolean
risk_problem_is_correlated (const RiskProblem *p)
{
  return p->k > 0;
}

int
risk_correlated_place (const RiskProblem *p, int input)
{
  for (int j = 0; j < p->k; j++)
    if (p->correlated[j] == input)
      return j;
  return -1;
}

/* ---- closed form ---- */

double
risk_problem_likely (const RiskProblem *p, int response)
{
  const RiskResponse *r = risk_response (p, response);
  double sum = r->constant;

  for (guint i = 0; i < r->terms->len; i++)
    {
      const RiskTerm *t = &g_array_index (r->terms, RiskTerm, i);
      double x = t->coefficient * t->spread.likely;
      for (int c = 0; c < 2; c++)
        if (t->common[c] >= 0)
          x *= risk_input (p, t->common[c])->spread.likely;
      sum += x;
    }
  return sum;
}

/* Coefficient with the means of its common factors in it; FALSE when one of them is no constant. */
static gboolean
folded (const RiskProblem *p, const RiskTerm *t, double *coefficient)
{
  gboolean plain = TRUE;

  *coefficient = t->coefficient;
  for (int c = 0; c < 2; c++)
    if (t->common[c] >= 0)
      {
        const Spread *s = &risk_input (p, t->common[c])->spread;
        *coefficient *= spread_mean (s);
        plain = plain && risk_is_constant (s);
      }
  return plain;
}

/* What the terms of a response add, @sign times, to the mean and to the deviation that each input brings with its
 * sign. FALSE where a product or terms of unlike shapes come in. */
static gboolean
add_moments (const RiskProblem *p, int response, double sign, double *mean, double *sd)
{
  const RiskResponse *r = risk_response (p, response);
  gboolean plain = TRUE;

  *mean += sign * r->constant;
  for (guint i = 0; i < r->terms->len; i++)
    {
      const RiskTerm *t = &g_array_index (r->terms, RiskTerm, i);
      double coefficient;
      plain = folded (p, t, &coefficient) && plain;
      *mean += sign * coefficient * spread_mean (&t->spread);
      if (t->input >= 0)
        {
          /* Terms of one input move together: their deviations add up with their signs, where they have one shape. */
          gint64 shape = spread_shape (&t->spread);
          plain = plain && (shape < 0 || shape == spread_shape (&risk_input (p, t->input)->spread));
          sd[t->input] += sign * coefficient * sqrt (spread_variance (&t->spread));
        }
    }
  return plain;
}

/* Variance of deviations that belong to inputs; @related: some of them are correlated. */
static double
variance_of (const RiskProblem *p, const double *sd, gboolean *related)
{
  double variance = 0;

  for (guint i = 0; i < p->inputs->len; i++)
    {
      int place = risk_correlated_place (p, (int) i);
      variance += sd[i] * sd[i];
      for (guint j = 0; place >= 0 && j < i; j++)
        {
          int other = risk_correlated_place (p, (int) j);
          double rho = other >= 0 ? p->matrix[place * p->k + other] : 0;
          variance += 2 * rho * sd[i] * sd[j];
          *related = *related || (rho != 0 && sd[i] != 0 && sd[j] != 0);
        }
    }
  return variance;
}

gboolean
risk_problem_moments (const RiskProblem *p, int response, double *mean, double *variance)
{
  g_autofree double *sd = g_new0 (double, p->inputs->len + 1);
  gboolean related = FALSE, plain;

  *mean = 0;
  plain = add_moments (p, response, 1, mean, sd);
  *variance = variance_of (p, sd, &related);
  if (!plain)
    *variance = NAN;
  return plain && !related;
}

gboolean
risk_problem_difference (const RiskProblem *p, int a, int b, double *mean, double *variance)
{
  g_autofree double *sd = g_new0 (double, p->inputs->len + 1);
  gboolean related = FALSE, plain;

  *mean = 0;
  plain = add_moments (p, a, 1, mean, sd);
  plain = add_moments (p, b, -1, mean, sd) && plain;
  *variance = variance_of (p, sd, &related);
  if (!plain)
    *variance = NAN;
  return plain && !related;
}

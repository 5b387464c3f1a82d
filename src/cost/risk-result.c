/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/risk-private.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_sort.h>
#include <math.h>

gsize
risk_result_trials (const RiskResult *result)
{
  return result->n;
}

const double *
risk_result_values (const RiskResult *result, int response)
{
  return result->value[response];
}

const RiskSample *
risk_result_sample (const RiskResult *result, int response)
{
  return &result->sample[response];
}

void
risk_sample_init (RiskSample *sample, const double *value, gsize n)
{
  double sum = 0, square = 0, first = value[0];

  /* About the first value: a constant has no variance to the last digit. */
  for (gsize i = 0; i < n; i++)
    sum += value[i] - first;
  sample->n = n;
  sample->mean = first + sum / (double) n;
  for (gsize i = 0; i < n; i++)
    square += (value[i] - sample->mean) * (value[i] - sample->mean);
  sample->sd = n > 1 ? sqrt (square / (double) (n - 1)) : 0;
  sample->error = sample->sd / sqrt ((double) n);
  sample->sorted = g_memdup2 (value, sizeof (double) * n);
  gsl_sort (sample->sorted, 1, n);
}

RiskSample *
risk_result_difference (const RiskResult *result, int a, int b)
{
  RiskSample *sample = g_new0 (RiskSample, 1);
  g_autofree double *value = g_new (double, result->n);

  for (gsize i = 0; i < result->n; i++)
    value[i] = result->value[a][i] - result->value[b][i];
  risk_sample_init (sample, value, result->n);
  return sample;
}

void
risk_sample_free (RiskSample *sample)
{
  g_free (sample->sorted);
  g_free (sample);
}

RiskQuantile
risk_sample_quantile (const RiskSample *sample, double p)
{
  RiskQuantile q = { .p = p, .value = quantile_of_sorted (sample->sorted, sample->n, p) };

  quantile_interval (sample->sorted, sample->n, p, RISK_INTERVAL, &q.low, &q.high);
  return q;
}

double
risk_sample_below (const RiskSample *sample, double x, double *low, double *high)
{
  gsize from = 0, to = sample->n; /* the first value above x lies there */

  while (from < to)
    {
      gsize middle = from + (to - from) / 2;
      if (sample->sorted[middle] <= x)
        from = middle + 1;
      else
        to = middle;
    }
  quantile_share (from, sample->n, RISK_INTERVAL, low, high);
  return (double) from / (double) sample->n;
}

RiskBeats
risk_result_beats (const RiskResult *result, int a, int b)
{
  const double *x = result->value[a], *y = result->value[b];
  gsize less = 0, more = 0;
  RiskBeats beats;

  for (gsize i = 0; i < result->n; i++)
    {
      less += x[i] < y[i];
      more += x[i] > y[i];
    }
  beats.less = (double) less / (double) result->n;
  beats.more = (double) more / (double) result->n;
  beats.tie = (double) (result->n - less - more) / (double) result->n;
  quantile_share (less, result->n, RISK_INTERVAL, &beats.low, &beats.high);
  return beats;
}

/* ---- what moves it ---- */

#define CLASSES 50
#define STEPS 4096 /* of a numerical mean over the share */
#define NOTHING 5e-4

const char *
risk_drivers_say (RiskDriversHow how)
{
  static const char *const say[] = {
    N_ ("shares of the variance, exact: the inputs are independent and only added"),
    N_ ("first-order shares of the variance: independent inputs, some multiplied by a common factor"),
    N_ ("first-order shares of the variance; an input that is correlated takes in what moves with it, so the shares "
        "may pass 100 %"),
  };

  return _ (say[how]);
}

/* What the mean of the weighted sum is made of, as one input moves: sum of range x place in a shape's range. */
typedef struct
{
  Spread spread; /* of one shape */
  double range;
} Pull;

static void
add_pull (GArray *pulls, const Spread *spread, double coefficient)
{
  double range = coefficient * (spread->high - spread->low);

  if (risk_is_constant (spread) || range == 0)
    return;
  for (guint i = 0; i < pulls->len; i++)
    {
      Pull *pull = &g_array_index (pulls, Pull, i);
      if (spread_shape (&pull->spread) == spread_shape (spread))
        {
          pull->range += range;
          return;
        }
    }
  Pull pull = { *spread, range };
  g_array_append_val (pulls, pull);
}

/* Mean of a common factor, or of the product of two. */
static double
mean_of_common (RiskResult *result, int a, int b)
{
  const RiskProblem *p = result->problem;
  int i = a < 0 ? -1 : risk_correlated_place (p, a), j = b < 0 ? -1 : risk_correlated_place (p, b);
  double mean = 1;

  if (i >= 0 && j >= 0 && !risk_is_constant (&risk_input (p, a)->spread)
      && !risk_is_constant (&risk_input (p, b)->spread))
    {
      g_autofree double *x = g_new (double, result->n), *y = g_new (double, result->n);
      risk_fill (risk_table (&result->tables, &risk_input (p, a)->spread), &risk_input (p, a)->spread, result->share[i],
                 x, result->n);
      risk_fill (risk_table (&result->tables, &risk_input (p, b)->spread), &risk_input (p, b)->spread, result->share[j],
                 y, result->n);
      mean = 0;
      for (gsize t = 0; t < result->n; t++)
        mean += x[t] * y[t];
      return mean / (double) result->n;
    }
  if (a >= 0)
    mean *= spread_mean (&risk_input (p, a)->spread);
  if (b >= 0)
    mean *= spread_mean (&risk_input (p, b)->spread);
  return mean;
}

static GArray **
find_pulls (RiskResult *result, const double *weight, gboolean *products)
{
  const RiskProblem *p = result->problem;
  GArray **pulls = g_new0 (GArray *, p->inputs->len + 1);

  for (guint i = 0; i < p->inputs->len; i++)
    pulls[i] = g_array_new (FALSE, TRUE, sizeof (Pull));
  for (int r = 0; r < result->n_responses; r++)
    for (guint i = 0; weight[r] != 0 && i < risk_response (p, r)->terms->len; i++)
      {
        const RiskTerm *t = &g_array_index (risk_response (p, r)->terms, RiskTerm, i);
        double w = weight[r] * t->coefficient;
        if (t->input >= 0)
          add_pull (pulls[t->input], &t->spread, w * mean_of_common (result, t->common[0], t->common[1]));
        for (int c = 0; c < 2; c++)
          if (t->common[c] >= 0)
            {
              const Spread *s = &risk_input (p, t->common[c])->spread;
              add_pull (pulls[t->common[c]], s,
                        w * spread_mean (&t->spread) * mean_of_common (result, -1, t->common[1 - c]));
              *products = *products || !risk_is_constant (s);
            }
      }
  return pulls;
}

/* Variance of the pulls together, all at one share. */
static double
variance_of (RiskResult *result, const GArray *pulls)
{
  g_autofree double *u = NULL, *x = NULL, *sum = NULL;
  double mean = 0, square = 0;

  if (pulls->len == 0)
    return 0;
  if (pulls->len == 1)
    {
      const Pull *pull = &g_array_index (pulls, Pull, 0);
      double r = pull->spread.high - pull->spread.low;
      return spread_variance (&pull->spread) / (r * r) * pull->range * pull->range;
    }
  u = g_new (double, STEPS);
  x = g_new (double, STEPS);
  sum = g_new0 (double, STEPS);
  for (int i = 0; i < STEPS; i++)
    u[i] = (i + 0.5) / STEPS;
  for (guint k = 0; k < pulls->len; k++)
    {
      const Pull *pull = &g_array_index (pulls, Pull, k);
      spread_table_fill (risk_table (&result->tables, &pull->spread), u, x, STEPS);
      for (int i = 0; i < STEPS; i++)
        sum[i] += pull->range * x[i];
    }
  for (int i = 0; i < STEPS; i++)
    mean += sum[i] / STEPS;
  for (int i = 0; i < STEPS; i++)
    square += (sum[i] - mean) * (sum[i] - mean) / STEPS;
  return square;
}

/* Variance between the means of equal classes of a correlated input's draws, less what chance alone puts between them. */
static double
variance_between (const double *share, const double *y, gsize n, double variance)
{
  double sum[CLASSES] = { 0 }, mean = 0, between = 0;
  gsize count[CLASSES] = { 0 };

  for (gsize i = 0; i < n; i++)
    {
      int c = CLAMP ((int) (share[i] * CLASSES), 0, CLASSES - 1);
      sum[c] += y[i];
      count[c]++;
      mean += y[i];
    }
  mean /= (double) n;
  for (int c = 0; c < CLASSES; c++)
    if (count[c] > 0)
      {
        double off = sum[c] / (double) count[c] - mean;
        between += (double) count[c] / (double) n * off * off;
      }
  return MAX (between - (CLASSES - 1) * MAX (variance - between, 0) / (double) n, 0);
}

static int
by_share (gconstpointer a, gconstpointer b)
{
  const RiskDriver *x = a, *y = b;

  if (x->share != y->share)
    return x->share > y->share ? -1 : 1;
  return x->input - y->input;
}

/* The weighted sum by trial; its variance. */
static double *
weighted (const RiskResult *result, const double *weight, double *variance)
{
  double *y = g_new0 (double, result->n), mean = 0;

  for (int r = 0; r < result->n_responses; r++)
    for (gsize i = 0; weight[r] != 0 && i < result->n; i++)
      y[i] += weight[r] * result->value[r][i];
  for (gsize i = 0; i < result->n; i++)
    mean += y[i] / (double) result->n;
  *variance = 0;
  for (gsize i = 0; i < result->n; i++)
    *variance += (y[i] - mean) * (y[i] - mean) / (double) (result->n - 1);
  return y;
}

GArray *
risk_result_drivers (const RiskResult *const_result, const double *weight, RiskDriversHow *how)
{
  RiskResult *result = (RiskResult *) const_result; /* its tables are a cache */
  const RiskProblem *p = result->problem;
  GArray *drivers = g_array_new (FALSE, TRUE, sizeof (RiskDriver));
  gboolean products = FALSE;
  GArray **pulls = find_pulls (result, weight, &products);
  g_autofree double *part = g_new0 (double, p->inputs->len + 1);
  g_autofree double *y = NULL;
  double total = 0, rest = 1;

  *how = p->k > 0 ? RISK_DRIVERS_RANKED : products ? RISK_DRIVERS_FIRST : RISK_DRIVERS_EXACT;
  for (guint i = 0; i < p->inputs->len; i++)
    {
      part[i] = variance_of (result, pulls[i]);
      total += part[i];
      g_array_unref (pulls[i]);
    }
  g_free (pulls);
  if (*how != RISK_DRIVERS_EXACT)
    y = weighted (result, weight, &total);
  for (int j = 0; j < p->k; j++)
    part[p->correlated[j]] = variance_between (result->share[j], y, result->n, total);
  for (guint i = 0; total > 0 && i < p->inputs->len; i++)
    {
      RiskDriver d = { (int) i, part[i] / total };
      rest -= d.share;
      if (part[i] > 0)
        g_array_append_val (drivers, d);
    }
  g_array_sort (drivers, by_share);
  if (*how == RISK_DRIVERS_FIRST && total > 0 && rest > NOTHING)
    {
      RiskDriver d = { -1, rest };
      g_array_append_val (drivers, d);
    }
  return drivers;
}

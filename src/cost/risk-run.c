/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The trials. They are made block by block: all draws of one input for a block, then what each term makes of them,
 * so that tables stay near and nothing is looked up twice. */
#include "config.h"

#include "cost/risk-private.h"

#include "cost/rank-correlation.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>
#include <math.h>
#include <string.h>

#define BLOCK 512

/* ---- tables ---- */

const SpreadTable *
risk_table (RiskTables *tables, const Spread *spread)
{
  gint64 shape = spread_shape (spread);
  SpreadTable *table = g_hash_table_lookup (tables->by_shape, &shape);

  if (!table)
    {
      table = spread_table_new (spread);
      g_hash_table_insert (tables->by_shape, g_memdup2 (&shape, sizeof shape), table);
    }
  return table;
}

void
risk_fill (const SpreadTable *table, const Spread *spread, const double *u, double *out, gsize n)
{
  spread_table_fill (table, u, out, n);
  for (gsize i = 0; i < n; i++)
    out[i] = spread->low + (spread->high - spread->low) * out[i];
}

/* ---- random numbers ---- */

/* A generator of its own for a name: Fowler, Noll and Vo's hash of it, mixed with the seed by the steps of splitmix64. */
static gsl_rng *
stream_new (guint64 seed, const char *name)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  guint64 x = G_GUINT64_CONSTANT (0xcbf29ce484222325);

  for (const char *c = name; *c; c++)
    x = (x ^ (guint8) *c) * G_GUINT64_CONSTANT (0x100000001b3);
  x += (seed + 1) * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
  x = (x ^ (x >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  x = (x ^ (x >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  x ^= x >> 31;
  gsl_rng_set (rng, (unsigned long) (x & 0xffffffff));
  return rng;
}

/* Shares in the middle of 2^32 equal steps: never 0, never 1, exact in double precision. */
static void
draw (gsl_rng *rng, double *u, gsize n)
{
  for (gsize i = 0; i < n; i++)
    u[i] = ((double) gsl_rng_get (rng) + 0.5) / 4294967296.0;
}

/* ---- a problem made ready ---- */

/* Terms of one response with the same common factors. */
typedef struct
{
  int response;
  int common[2]; /* inputs that are no constants, -1 */
  double constant;
  double *sum; /* BLOCK */
} Group;

/* What one input adds to a group: range x place in the range; the low end stands in the group's constant. */
typedef struct
{
  guint group;
  gint64 shape;
  double range;
  const SpreadTable *table;
} Share;

typedef struct
{
  const RiskProblem *problem;
  RiskTables *tables;
  GArray *groups;   /* Group */
  GArray **shares;  /* by input: Share */
  gboolean *common; /* by input: a factor of some group */
  gsl_rng **rng;    /* by input, NULL: correlated, constant, or without effect */
  double **factor;  /* by input that is a common factor: BLOCK */
  double **share;   /* by correlated input: all trials; NULL without correlation */
} Ready;

static guint
group_of (Ready *ready, int response, const int *common)
{
  for (guint i = 0; i < ready->groups->len; i++)
    {
      const Group *g = &g_array_index (ready->groups, Group, i);
      if (g->response == response && g->common[0] == common[0] && g->common[1] == common[1])
        return i;
    }
  Group g = { response, { common[0], common[1] }, 0, g_new (double, BLOCK) };
  g_array_append_val (ready->groups, g);
  return ready->groups->len - 1;
}

static void
add_term (Ready *ready, int response, const RiskTerm *term)
{
  const RiskProblem *p = ready->problem;
  double coefficient = term->coefficient;
  int common[2] = { -1, -1 }, n = 0;
  guint group;

  for (int c = 0; c < 2; c++)
    if (term->common[c] >= 0)
      {
        const Spread *s = &risk_input (p, term->common[c])->spread;
        if (risk_is_constant (s))
          coefficient *= s->likely;
        else
          common[n++] = term->common[c];
      }
  if (n == 2 && common[0] > common[1])
    {
      int first = common[1];
      common[1] = common[0];
      common[0] = first;
    }
  for (int c = 0; c < n; c++)
    ready->common[common[c]] = TRUE;
  group = group_of (ready, response, common);
  g_array_index (ready->groups, Group, group).constant += coefficient * term->spread.low;
  if (term->input < 0 || risk_is_constant (&term->spread) || coefficient == 0)
    return;
  /* One share a table and group: an input may come in by several terms. */
  const SpreadTable *table = risk_table (ready->tables, &term->spread);
  double range = coefficient * (term->spread.high - term->spread.low);
  for (guint i = 0; i < ready->shares[term->input]->len; i++)
    {
      Share *s = &g_array_index (ready->shares[term->input], Share, i);
      if (s->group == group && s->table == table)
        {
          s->range += range;
          return;
        }
    }
  Share share = { group, spread_shape (&term->spread), range, table };
  g_array_append_val (ready->shares[term->input], share);
}

/* By shape, not by where a table lies: sums must come out alike in every run. */
static int
by_shape (gconstpointer a, gconstpointer b)
{
  const Share *x = a, *y = b;

  return x->shape != y->shape ? (x->shape < y->shape ? -1 : 1) : (int) x->group - (int) y->group;
}

static void
ready_init (Ready *ready, const RiskProblem *p, RiskTables *tables, guint64 seed)
{
  gsize n = p->inputs->len;

  *ready = (Ready){ .problem = p,
                    .tables = tables,
                    .groups = g_array_new (FALSE, TRUE, sizeof (Group)),
                    .shares = g_new0 (GArray *, n + 1),
                    .common = g_new0 (gboolean, n + 1),
                    .rng = g_new0 (gsl_rng *, n + 1),
                    .factor = g_new0 (double *, n + 1) };
  for (gsize i = 0; i < n; i++)
    ready->shares[i] = g_array_new (FALSE, TRUE, sizeof (Share));
  for (int r = 0; r < (int) p->responses->len; r++)
    {
      const GArray *terms = risk_response (p, r)->terms;
      static const int none[2] = { -1, -1 };
      guint plain = group_of (ready, r, none);
      g_array_index (ready->groups, Group, plain).constant += risk_response (p, r)->constant;
      for (guint i = 0; i < terms->len; i++)
        add_term (ready, r, &g_array_index (terms, RiskTerm, i));
    }
  for (gsize i = 0; i < n; i++)
    {
      g_array_sort (ready->shares[i], by_shape);
      if (ready->common[i])
        ready->factor[i] = g_new (double, BLOCK);
      if ((ready->common[i] || ready->shares[i]->len > 0) && risk_correlated_place (p, (int) i) < 0)
        ready->rng[i] = stream_new (seed, risk_input (p, (int) i)->name);
    }
}

static void
ready_clear (Ready *ready)
{
  for (guint i = 0; i < ready->groups->len; i++)
    g_free (g_array_index (ready->groups, Group, i).sum);
  g_array_unref (ready->groups);
  for (guint i = 0; i < ready->problem->inputs->len; i++)
    {
      g_array_unref (ready->shares[i]);
      g_clear_pointer (&ready->rng[i], gsl_rng_free);
      g_free (ready->factor[i]);
    }
  g_free (ready->shares);
  g_free (ready->common);
  g_free (ready->rng);
  g_free (ready->factor);
}

/* All draws of the correlated inputs, put in order. */
static gboolean
correlate (const RiskProblem *p, gsize n, guint64 seed, double **share, Fault **fault)
{
  g_autofree guint **rank = g_new0 (guint *, (gsize) p->k);
  gboolean done;

  for (int j = 0; j < p->k; j++)
    {
      const char *name = risk_input (p, p->correlated[j])->name;
      g_autofree char *ranks = g_strconcat (name, "\n", NULL);
      gsl_rng *rng = stream_new (seed, name);
      share[j] = g_new (double, n);
      draw (rng, share[j], n);
      gsl_rng_free (rng);
      rng = stream_new (seed, ranks);
      rank[j] = g_new (guint, n);
      for (gsize i = 0; i < n; i++)
        rank[j][i] = (guint) i + 1;
      gsl_ran_shuffle (rng, rank[j], n, sizeof (guint));
      gsl_rng_free (rng);
    }
  done = rank_correlate (share, n, p->k, p->matrix, (const guint *const *) rank, NULL, fault);
  for (int j = 0; j < p->k; j++)
    g_free (rank[j]);
  return done;
}

/* ---- one block ---- */

static void
add_shares (const Ready *ready, int input, const double *u, double *place, gsize n)
{
  const GArray *shares = ready->shares[input];
  const SpreadTable *last = NULL;

  for (guint i = 0; i < shares->len; i++)
    {
      const Share *s = &g_array_index (shares, Share, i);
      double *sum = g_array_index (ready->groups, Group, s->group).sum, range = s->range;
      if (s->table != last)
        spread_table_fill (s->table, u, place, n);
      last = s->table;
      for (gsize t = 0; t < n; t++)
        sum[t] += range * place[t];
    }
}

static void
run_block (const Ready *ready, gsize from, gsize n, double **value)
{
  const RiskProblem *p = ready->problem;
  double u[BLOCK], place[BLOCK];

  for (guint i = 0; i < ready->groups->len; i++)
    {
      const Group *g = &g_array_index (ready->groups, Group, i);
      for (gsize t = 0; t < n; t++)
        g->sum[t] = g->constant;
    }
  for (int i = 0; i < (int) p->inputs->len; i++)
    {
      int place_of = ready->share ? risk_correlated_place (p, i) : -1;
      const double *shares = u;
      if (place_of >= 0)
        shares = ready->share[place_of] + from;
      else if (ready->rng[i])
        draw (ready->rng[i], u, n);
      else
        continue;
      if (ready->common[i])
        {
          const Spread *s = &risk_input (p, i)->spread;
          risk_fill (risk_table (ready->tables, s), s, shares, ready->factor[i], n);
        }
      add_shares (ready, i, shares, place, n);
    }
  for (int r = 0; r < (int) p->responses->len; r++)
    memset (value[r] + from, 0, sizeof (double) * n);
  for (guint i = 0; i < ready->groups->len; i++)
    {
      const Group *g = &g_array_index (ready->groups, Group, i);
      double *out = value[g->response] + from;
      for (int c = 0; c < 2; c++)
        for (gsize t = 0; g->common[c] >= 0 && t < n; t++)
          g->sum[t] *= ready->factor[g->common[c]][t];
      for (gsize t = 0; t < n; t++)
        out[t] += g->sum[t];
    }
}

/* ---- the whole ---- */

static gboolean
check_run (const RiskProblem *p, gsize n, Fault **fault)
{
  gsize responses = p->responses->len, most;

  if (responses == 0)
    return fault_set (fault, fault_new (-1, _ ("name something to be computed"), _ ("there is nothing to simulate")));
  most = RISK_MOST_VALUES / responses;
  if (n < 2)
    return fault_set (fault,
                      fault_new (-1, _ ("ask for at least 2"), _ ("%" G_GSIZE_FORMAT " trials tell nothing"), n));
  if (n > most)
    {
      g_autofree char *remedy = g_strdup_printf (_ ("ask for at most %" G_GSIZE_FORMAT), most);
      return fault_set (fault, fault_new (-1, remedy, _ ("%" G_GSIZE_FORMAT " trials do not fit into memory"), n));
    }
  return p->k == 0 || rank_correlation_check (p->matrix, p->k, n, fault);
}

static gboolean
told (const RiskRun *run, double share)
{
  return !run->progress || run->progress (run->data, share);
}

static gboolean
run_trials (const Ready *ready, const RiskRun *run, RiskResult *result)
{
  for (gsize from = 0, block = 0; from < result->n; from += BLOCK, block++)
    {
      if (block % 8 == 0 && !told (run, 0.05 + 0.75 * (double) from / (double) result->n))
        return FALSE;
      run_block (ready, from, MIN (BLOCK, result->n - from), result->value);
    }
  for (int r = 0; r < result->n_responses; r++)
    {
      if (!told (run, 0.8 + 0.2 * r / result->n_responses))
        return FALSE;
      risk_sample_init (&result->sample[r], result->value[r], result->n);
    }
  return told (run, 1);
}

RiskResult *
risk_run (const RiskProblem *p, const RiskRun *run, Fault **fault)
{
  g_autoptr (RiskResult) result = NULL;
  gboolean done = TRUE;
  Ready ready;

  if (!check_run (p, run->trials, fault))
    return NULL;
  result = g_new0 (RiskResult, 1);
  result->problem = p;
  result->n = run->trials;
  result->n_responses = (int) p->responses->len;
  result->value = g_new0 (double *, p->responses->len);
  result->sample = g_new0 (RiskSample, p->responses->len);
  result->tables.by_shape =
      g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) spread_table_free);
  for (int r = 0; r < result->n_responses; r++)
    result->value[r] = g_new (double, result->n);
  if (p->k > 0)
    {
      result->share = g_new0 (double *, (gsize) p->k);
      done = told (run, 0) && correlate (p, result->n, run->seed, result->share, fault);
    }
  if (!done)
    return NULL;
  ready_init (&ready, p, &result->tables, run->seed);
  ready.share = result->share;
  done = run_trials (&ready, run, result);
  ready_clear (&ready);
  return done ? g_steal_pointer (&result) : NULL;
}

void
risk_result_free (RiskResult *result)
{
  for (int r = 0; r < result->n_responses; r++)
    {
      g_free (result->value[r]);
      g_free (result->sample[r].sorted);
    }
  for (int j = 0; result->share && j < result->problem->k; j++)
    g_free (result->share[j]);
  g_free (result->share);
  g_free (result->value);
  g_free (result->sample);
  g_hash_table_unref (result->tables.by_shape);
  g_free (result);
}

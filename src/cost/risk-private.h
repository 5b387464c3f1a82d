/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/risk.h"

G_BEGIN_DECLS

typedef struct
{
  char *name;
  Spread spread;
} RiskInput;

typedef struct
{
  char *name;
  double constant;
  GArray *terms; /* RiskTerm */
} RiskResponse;

struct _RiskProblem
{
  GPtrArray *inputs;    /* RiskInput * */
  GPtrArray *responses; /* RiskResponse * */
  int k;                /* correlated inputs, 0 none */
  int *correlated;      /* k */
  double *matrix;       /* k x k */
};

/* Tables by shape, made once each. */
typedef struct
{
  GHashTable *by_shape; /* gint64 * -> SpreadTable * */
} RiskTables;

struct _RiskResult
{
  const RiskProblem *problem;
  gsize n;
  int n_responses;
  double **value;       /* by response, by trial */
  RiskSample *sample;   /* by response */
  RiskTables tables;
  double **share;       /* by correlated input: the draws in order of the trials; NULL without correlation */
};

static inline const RiskInput *
risk_input (const RiskProblem *problem, int i)
{
  return g_ptr_array_index (problem->inputs, (guint) i);
}

static inline const RiskResponse *
risk_response (const RiskProblem *problem, int i)
{
  return g_ptr_array_index (problem->responses, (guint) i);
}

static inline gboolean
risk_is_constant (const Spread *spread)
{
  return !(spread->high > spread->low);
}

/* Which of the correlated inputs this is, -1. */
int risk_correlated_place (const RiskProblem *problem, int input);
/* The table of a spread that is no constant, made when it is not there yet. */
const SpreadTable *risk_table (RiskTables *tables, const Spread *spread);
/* Figures of a spread at the shares @u. */
void risk_fill (const SpreadTable *table, const Spread *spread, const double *u, double *out, gsize n);
void risk_sample_init (RiskSample *sample, const double *value, gsize n);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/table.h"
#include "job/risk.h"

G_BEGIN_DECLS

/* What the command risk prints. */

void cli_page_risk_job (const JobRisk *risk, const RiskResult *result, CliFormat format);

/* A problem of a file and what is asked of it. */
typedef struct
{
  const RiskProblem *problem;
  const RiskResult *result;
  SpreadKind spread;
  guint64 seed;
  double confidence;
  gboolean over_mean;
  char **at, **quantile; /* (nullable): as typed, numbers */
} CliRiskFile;

void cli_page_risk_file (const CliRiskFile *page, CliFormat format);

/* Columns x1, x2, ... of @table (and ranks rank_m1, ... from 1, else shuffled from seed 1) put in the order of the
 * correlations of @matrix, a square of figures as text. Gives the exit status. */
int cli_page_sample (const CsvTable *table, const char *matrix, CliFormat format);

/* Quantiles (type 7) of each column of @table that is all numbers, with the interval from order statistics: at 10, 25,
 * 50, 80, 90 % and those @asked (nullable, as typed). Gives the exit status. */
int cli_page_quantiles (const CsvTable *table, char **asked, CliFormat format);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/compare.h"
#include "window/session.h"

G_BEGIN_DECLS

/* What the Methods view shows, without a widget: every method over the whole job, the part shown or the selected runs. */
typedef enum
{
  METHODS_JOB,
  METHODS_PART,
  METHODS_RUNS,
  METHODS_N_OF,
} MethodsOf;

typedef struct
{
  TallyJob *job;
  CostBasis *basis;
  MethodsOf of;
  int n;               /* methods of the catalogue */
  gboolean *offered;   /* by method: FALSE for retired ones that the job does not name */
  JobTotals *totals;   /* n + 1: the last by each run's own method */
  gboolean *listed;    /* n: whether a comparison lists the method */
  CostOption *option;  /* n + 1 */
  gint64 runs;         /* rows asked about, priced or not */
  int decimals;
  char *currency;
} MethodsData;

/* NULL when no job is open. */
MethodsData *methods_data_new (TallySession *session, MethodsOf of);
void methods_data_free (MethodsData *data);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (MethodsData, methods_data_free)

const char *methods_name (const MethodsData *data, int method);
/* Cost with tooling in minor units: what methods are held against each other by. */
gint64 methods_whole (const MethodsData *data, int method);
/* The cheapest of those shown (all but @without, -1: all), tooling included; the baseline where it is as cheap. -1 none. */
int methods_best (const MethodsData *data, const gboolean *shown, int baseline, int without);

/* ---- words ---- */

/* The answer in one sentence; what is not priced in a second. */
char *methods_conclusion (const MethodsData *data, const gboolean *shown, int baseline);
/* What stands between the minutes of the catalogue and those of this job, in sentences, the first @most of them; "" nothing does.
 * (transfer full) */
char *methods_in_force (const MethodsData *data, guint most);
/* All of it where methods_about() has not room for all, else "". (transfer full) */
char *methods_rest_in_force (const MethodsData *data);
/* "Whole job · 104 runs · baseline …", and a line of what is in force. @part: name of the part shown. */
char *methods_about (const MethodsData *data, int baseline, const char *part);
/* What the figures of a method rest on, by status. */
char *methods_rests (const MethodsData *data, int method);
/* "SA-1, Level 1" of the part shown; "whole job" where nothing is narrowed. */
char *methods_part_name (TallySession *session);

/* Whole units of the currency, grouped. */
char *methods_money (const MethodsData *data, gint64 minor);
/* Grouped, with so many decimals (0 to 6); "" when it is not finite. */
char *methods_number (double x, int decimals);
/* "−3,622 less", "+39 more", "same". @text: of the figure without its sign. */
char *methods_difference (double difference, const char *text);

/* ---- break-evens ---- */

char *methods_even_name (const MethodsData *data, const CostEven *even);
char *methods_even_unit (const MethodsData *data, const CostEven *even);
char *methods_even_figure (const CostEven *even, double figure);
/* "pays above 3.9", "never pays", "pays at any figure". */
char *methods_even_words (const CostEven *even);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* What a table shows of a run: its fields, by their index of JOB_RUN, and behind them what is computed of it. */
typedef enum
{
  JOB_COLUMN_COMPUTED = 1000,
  JOB_COLUMN_PIECES = JOB_COLUMN_COMPUTED,
  JOB_COLUMN_JOINTS,
  JOB_COLUMN_NET,     /* lb, kg in a metric job */
  JOB_COLUMN_SHIPPED,
  JOB_COLUMN_SHOP,    /* worker-hours */
  JOB_COLUMN_FIELD,
  JOB_COLUMN_COST,
} JobColumn;

/* Text of a column as a table shows it below a heading that names the unit: what is entered, else what holds without an entry.
 * A size has its second one behind it, an item stands in its place, and so do the words of a note. @result: of job_compute(),
 * also when not priced. (transfer full): "" where there is nothing. */
char *job_column_text (TallyJob *job, const JobRecord *run, int column, const JobRunResult *result);
/* What holds in a field without an entry on the run, in the same form; NULL where runs inherit nothing. (transfer full) */
char *job_column_inherited (TallyJob *job, const JobRecord *run, int field, const JobRunResult *result);
/* Whether a column shows more than what is entered, so that job_compute() is needed for it. */
gboolean job_column_needs_result (int column);

/* Whether the figures of a column make sense as a sum: lengths, counts, weights, hours and money do, classes do not. */
gboolean job_column_adds_up (int column);
/* The figure of a column, in the unit of its heading. FALSE where it shows none, or where it does not add up. */
gboolean job_column_figure (TallyJob *job, const JobRecord *run, int column, const JobRunResult *result, double *figure);
/* Money, weights and hours as texts, "1,245.5". (transfer full) */
char *job_figure_print (double value, int decimals);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/column.h"

G_BEGIN_DECLS

/* What a column must show: one of some texts, or text with some words in it. */
typedef struct
{
  int column;        /* a field of JOB_RUN or a JobColumn */
  GPtrArray *values; /* (nullable): char *; "" stands for nothing */
  char *words;       /* (nullable): found anywhere in the text, case folded */
} JobFilter;

/* Which runs are shown and in what order: an index over the rows of a job. */
typedef struct
{
  JobScope scope;
  int sort_field;      /* a field of JOB_RUN or a JobColumn, by what it shows; -1: the job's own order */
  gboolean descending;
  char *find;          /* (nullable): text that any printed field must contain, case folded */
  GPtrArray *filters;  /* (nullable): JobFilter, one a column; all must hold */
  gboolean not_priced; /* only runs that are not priced */
} JobQuery;

void job_query_init (JobQuery *query);
void job_query_clear (JobQuery *query);
/* Positions (guint) of the runs in order; ties keep the job's order. (transfer full) GArray of guint. */
GArray *job_query_run (TallyJob *job, const JobQuery *query);
/* Whether one run is among them. */
gboolean job_query_holds (TallyJob *job, const JobQuery *query, const JobRecord *run);

/* Sets what a column must show, instead of what was asked of it before: @values (n of them, copied; 0: any) and @words (NULL or
 * "": any). With neither the column is free again. */
void job_query_filter (JobQuery *query, int column, const char *const *values, gsize n, const char *words);
/* What is asked of a column; NULL: nothing. */
const JobFilter *job_query_filter_of (const JobQuery *query, int column);
/* No filter, nothing to find, priced or not; scope and order stay. */
void job_query_show_all (JobQuery *query);

/* A text that a column shows, and on how many runs. */
typedef struct
{
  char *text;
  guint n;
} JobValue;

/* The texts of a column over the runs that all else of the query lets through, in the order of the column; "" last.
 * (transfer full) GPtrArray of JobValue. */
GPtrArray *job_query_values (TallyJob *job, const JobQuery *query, int column);

G_END_DECLS

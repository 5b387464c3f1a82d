/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* Which runs are shown and in what order: an index over the rows of a job. */
typedef struct
{
  JobScope scope;
  int sort_field;      /* field of JOB_RUN, -1: the job's own order */
  gboolean descending;
  char *find;          /* (nullable): text that any printed field must contain, case folded */
  int filter_field;    /* field that must print as filter_text, -1 none */
  char *filter_text;
  gboolean not_priced; /* only runs that are not priced */
} JobQuery;

void job_query_init (JobQuery *query);
void job_query_clear (JobQuery *query);
/* Positions (guint) of the runs in order; ties keep the job's order. (transfer full) GArray of guint. */
GArray *job_query_run (TallyJob *job, const JobQuery *query);

G_END_DECLS

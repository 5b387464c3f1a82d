/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* One run typed as one line: "elbow 24x12 90 @2 x3". Grammar in entry.c. */
typedef struct
{
  JobRecord *run;  /* a new run (id 0) with what was understood; NULL when queried */
  char *reading;   /* what was understood, in words: "3 radius elbows 24x12, 90 degrees, class 2" */
  Fault *query;    /* what is not clear and how to write it, pointing at the word; NULL when understood */
} JobEntry;

/* @above: (nullable): the row above; system, area, drawing (and size, when none is typed) are taken from it. */
void job_entry_read (TallyJob *job, const char *line, const JobRecord *above, JobEntry *entry);
void job_entry_clear (JobEntry *entry);

G_END_DECLS

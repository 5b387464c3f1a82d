/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* How many of the catalogue figures behind a vector of totals bear each status. */
typedef struct
{
  int used;              /* items with a quantity and steps with time */
  int weak;              /* of them invented demo or from memory */
  int n[DUCT_N_STATUSES];
} JobFiguresNote;

void job_figures_count (TallyJob *job, const gint64 *vector, JobFiguresNote *note);
/* "64 figures used: 60 invented demo, 4 common practice", by number. (transfer full) */
char *job_figures_words (const JobFiguresNote *note);
/* One line under a picture or a table that leaves the house: the job, and what its figures rest on, every run by its own method.
 * (transfer full) */
char *job_figures_note (TallyJob *job);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* A table row and the runs that rest on it. */
typedef struct
{
  const char *table;  /* key of the sheet, "gauges" */
  char *words;        /* what it answered */
  char *source;
  DuctStatus status;
  guint runs;
  gint64 net_mg;      /* sheet of those runs, areas' times left out */
  gint64 first_run;   /* id of the first of them */
} JobRest;

/* A look-up that a run needed and no table answered, or another reason why it is not built. */
typedef struct
{
  gint64 run;         /* id */
  int field;          /* of JOB_RUN, -1 */
  char *what, *remedy;
} JobUnanswered;

/* Something to know about the construction of some runs. */
typedef struct
{
  DuctNote note;
  guint runs;
  gint64 first_run;
} JobCaution;

typedef struct
{
  GPtrArray *rests;      /* JobRest *, by table in the order met, weakest status first within a table */
  GPtrArray *unanswered; /* JobUnanswered *, in the order of the runs */
  GArray *cautions;      /* JobCaution */
  guint runs;            /* measured runs, built */
  guint weak;            /* of them resting on a remembered or invented construction figure */
  guint next;            /* position of the run that is looked at next, while it is being made */
  GHashTable *known;     /* (nullable): rows met, while it is being made */
} JobConstruction;

/* What every measured run of a job rests on, by its own method. Costs computing each run once. */
JobConstruction *job_construction (TallyJob *job);
/* The same in steps, for large jobs: looks at @n more runs; FALSE when all were and the report is complete. The job must not change
 * in between. */
JobConstruction *job_construction_begin (void);
gboolean job_construction_step (JobConstruction *construction, TallyJob *job, guint n);
void job_construction_free (JobConstruction *construction);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobConstruction, job_construction_free)

/* "104 runs are built, 96 of them on remembered or invented figures; 2 are not built." Translated. (transfer full) */
char *job_construction_words (const JobConstruction *construction);
/* "run 12, straight 24x12"; an id that is gone gives "". (transfer full) */
char *job_construction_run (TallyJob *job, gint64 id);
/* The whole report as text: paragraphs, and tables with a tab between the cells, so that it pastes into letters and spreadsheets;
 * mass in the job's units. (transfer full) */
char *job_construction_text (TallyJob *job, const JobConstruction *construction);

/* Who has the last word, for the end of every construction report. Translated. */
const char *job_construction_caution (void);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* A mark: what a job came to at one moment ("before addendum 2"), light enough to keep many. It is figures only; the job cannot
 * be brought back from it. */

typedef struct
{
  char *system;            /* its name in the job; NULL: runs without one */
  gint64 price, cost;      /* minor units */
  gint64 field_ms, shop_ms; /* worker milliseconds, conditions included */
  gint64 net_mg;           /* installed */
  gint64 not_priced;       /* runs */
} MarkPart;

typedef struct
{
  char *name;
  gint64 at;        /* seconds since 1970, UTC */
  int decimals;     /* of the money */
  GArray *parts;    /* MarkPart, by system in the job's order; systems without runs are left out */
  MarkPart all;
} JobMark;

/* Takes a mark of the job as it is now, every run by its own method. Money by system is the build-up shared out
 * (buildup_break_out()), so that the parts add up to the whole. */
JobMark *job_mark_take (TallyJob *job, const char *name, gint64 at);
void job_mark_free (JobMark *mark);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobMark, job_mark_free)

/* What changed between two marks: now less before, by system (those of @now in order, then those that are gone) and in all.
 * Money in the decimals of @now. Systems that did not change are left out. The result's name and time are those of @before. */
JobMark *job_mark_compare (const JobMark *before, const JobMark *now);

/* As text for a file, and back; NULL with a fault when the text is none. */
char *job_mark_print (const JobMark *mark);
JobMark *job_mark_parse (const char *text, Fault **fault);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* What is still open before a price goes out, in the order in which it should be settled. */
typedef enum
{
  JOB_POINT_EMPTY,      /* no run at all */
  JOB_POINT_NOT_PRICED, /* n runs */
  JOB_POINT_UNREAD,     /* n texts of systems, areas, cells or the job itself that could not be read */
  JOB_POINT_NO_PROFIT,  /* profit with the final adjustment is nothing or a loss */
  JOB_POINT_WEAK,       /* n figures used that no bid should rest on unsaid (cost_status_weak()) */
  JOB_POINT_ENGINEER,   /* no engineer of record is named */
  JOB_POINT_CLIENT,     /* no client is named */
  JOB_POINT_ADJUSTED,   /* a final adjustment other than zero */
  JOB_POINT_CHANGED,    /* n figures differ from the catalogue for this job only, the final adjustment not counted */
  JOB_POINT_LABOUR,     /* n choices and cautions on conditions, learning and overtime: job_labour_words() and _cautions() */
} JobPointKind;

typedef struct
{
  JobPointKind kind;
  gint64 n;        /* how many; of JOB_POINT_ADJUSTED and JOB_POINT_NO_PROFIT the money, minor units */
  gboolean must;   /* keeps the price from going out; else it is to be known */
} JobPoint;

/* GArray of JobPoint. (transfer full) */
GArray *job_open_points (TallyJob *job);

G_END_DECLS

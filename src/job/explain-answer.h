/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/compare.h"
#include "labour/study.h"

G_BEGIN_DECLS

/* A figure of the comparison taken apart: what it is made of, which runs carry it, and, between two ways, what the difference is
 * made of. From a run the walk goes on to its recipe lines (cost/explain.h). */
typedef enum
{
  JOB_FIGURE_COST,            /* the build-up line "cost" without rounding, currency; tooling stands beside it */
  JOB_FIGURE_FIELD_HOURS,     /* worker-hours */
  JOB_FIGURE_MINUTES_A_JOINT, /* worker-minutes of the steps at the joint, over the joints */
  JOB_FIGURE_PRICE,           /* the build-up line "price" without rounding, currency */
  JOB_FIGURE_SHOP_HOURS,      /* worker-hours */
  JOB_FIGURE_CREW_DAYS,       /* field worker-hours over those of the crew's day */
  JOB_FIGURE_HARDWARE_A_JOINT, /* currency: items that serve the joint, before tax, over the joints */
  JOB_FIGURE_STEP,            /* worker-hours of one step */
  JOB_FIGURE_ITEM,            /* quantity of one item */
} JobFigureKind;

typedef struct
{
  JobFigureKind kind;
  int target; /* of a step or an item */
} JobFigure;

/* Reads "cost", "price", "field-hours", "shop-hours", "crew-days", "minutes-a-joint", "hardware-a-joint", "step:NAME", "item:NAME".
 * FALSE with a fault. */
gboolean job_figure_parse (TallyJob *job, const char *text, JobFigure *figure, Fault **fault);
/* "cost, USD", "field hours", "hours of “bolt and nut”". (transfer full) */
char *job_figure_title (TallyJob *job, const JobFigure *figure);
/* Whether it is a line of the build-up: cost or price. */
gboolean job_figure_line (const JobFigure *figure);
/* (transfer none) */
const char *job_figure_unit (TallyJob *job, const JobFigure *figure);

typedef enum
{
  JOB_PART_ITEM,
  JOB_PART_STEP,
  JOB_PART_COUNTED,  /* prices and minutes entered on counted lines */
  JOB_PART_AMOUNTS,  /* amounts that the build-up adds as such */
  JOB_PART_REST,     /* what is in none of the parts: remakes, and binary fractions */
} JobPartKind;

/* One step or item; of two ways [0] is the way explained, [1] the one it is held against. */
typedef struct
{
  JobPartKind kind;
  int target;            /* -1 */
  gboolean shop;         /* step: of the shop */
  char *name;
  double quantity[2];    /* units of an item, worker-hours of a step under conditions */
  const char *unit;
  double rate[2];        /* price of a unit, all-in rate of an hour; NAN where there is no one rate */
  double amount[2];      /* in the unit of the figure; cost with what later lines of the build-up take from it (tax, site general) */
  const char *source, *status; /* borrowed from the catalogue */
  const LabourStudy *study;    /* (nullable): of which the minutes of the step are */
} JobAnswerPart;

typedef struct
{
  JobFigure figure;
  gboolean against;      /* two ways */
  char *name[2];
  double whole[2];       /* the parts add up to it */
  double once[2];        /* tooling, currency; beside the figure */
  GPtrArray *part;       /* JobAnswerPart *, the largest first; of two ways those that differ, the largest difference first */
  gint64 not_priced[2];  /* runs */
} JobAnswer;

/* @against: -1 none. Both ways must be without fault. (transfer full) */
JobAnswer *job_answer_new (const JobComparison *comparison, guint way, int against, const JobFigure *figure);
void job_answer_free (JobAnswer *answer);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobAnswer, job_answer_free)

static inline const JobAnswerPart *
job_answer_part (const JobAnswer *answer, guint i)
{
  return g_ptr_array_index (answer->part, i);
}

/* The figure, or with two ways the difference (way less the other one). */
static inline double
job_answer_of (const JobAnswer *answer, const double two[2])
{
  return answer->against ? two[0] - two[1] : two[0];
}

/* The time study of which the minutes of a step are; NULL: none. (transfer none) */
const LabourStudy *job_answer_study (TallyJob *job, int step);

/* The answer in one sentence: what the figure is and what carries most of it. (transfer full) */
char *job_answer_sentence (TallyJob *job, const JobAnswer *answer);

/* What one run puts in. */
typedef struct
{
  gint64 id;
  guint position;   /* from 0 */
  double amount[2];
} JobAnswerRun;

/* The runs that carry the figure, the largest (or the largest difference) first; of a figure a joint over all joints. They add up to
 * the figure but for amounts of the build-up, and for learning, whose factor a run takes from the job's own methods. Costs pricing
 * each run once a way. (transfer full): GArray of JobAnswerRun. */
GArray *job_answer_runs (const JobComparison *comparison, guint way, int against, const JobFigure *figure);

G_END_DECLS

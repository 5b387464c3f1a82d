/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/compare.h"
#include "job/job.h"

G_BEGIN_DECLS

/* Which method is cheapest on which size and class: one whole piece of straight duct with its joint, by what the office's catalogue,
 * the job's rules and one part's conditions say. Cost a foot (the build-up line "cost"), tooling left out. */
typedef struct
{
  int winner, second;    /* methods, -1: none priced; second -1: no other is allowed */
  double cost;           /* of the winner, currency a foot */
  double margin;         /* what the second costs more, currency a foot; 0: as cheap */
  int allowed;           /* methods that could be priced */
} JobHeatCell;

typedef struct
{
  gint64 system, area;   /* whose conditions: the part with the most joints; 0 none */
  char *where;           /* "SA-1, Level 1" */
  double aspect;         /* longer over shorter side of the sizes below */
  guint n_sizes, n_classes;
  gint64 *longer, *shorter; /* n_sizes: nm */
  gint64 *pressure;         /* n_classes: thousandths of an inch w.g. */
  JobHeatCell *cell;        /* n_classes x n_sizes: class by class */
  GArray *methods;          /* int: those compared */
} JobHeat;

/* To the cent a foot. */
static inline gboolean
job_heat_ties (const JobHeatCell *cell)
{
  return cell->second >= 0 && cell->margin < 0.005;
}

/* @square: both sides alike; else in the proportion that the job's straight ducts have together. @methods: (nullable): those to be
 * compared; NULL: those that a comparison of the job lists. (transfer full) */
JobHeat *job_heat (TallyJob *job, gboolean square, const GArray *methods);
void job_heat_free (JobHeat *heat);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobHeat, job_heat_free)

static inline const JobHeatCell *
job_heat_at (const JobHeat *h, guint class, guint size)
{
  return &h->cell[class * h->n_sizes + size];
}

/* One cell: @cost by method (n_methods, currency a foot), NAN where it is not allowed or not priced. */
void job_heat_cost (TallyJob *job, const JobHeat *heat, gint64 w, gint64 h, gint64 pressure, double *cost);
/* The mark of a method in the picture: "A" for the first of the catalogue, "B" ..., so that it is the same in every picture; "" for one that is not compared. (transfer full) */
char *job_heat_mark (const JobHeat *heat, int method);
/* Who wins most of the table, in one sentence, with what it rests on. (transfer full) */
char *job_heat_words (TallyJob *job, const JobHeat *heat);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/mix.h"
#include "job/job.h"

G_BEGIN_DECLS

/* Which method where: the open job as a problem for cost/mix.h, and its answer back as an edit.
 *
 * Rectangular runs are grouped by system, area, pressure class and band of the longest side (setting mix.bands). Rows that follow one
 * another in one system and area count as connected; two such rows of different groups are one joint between the groups, which costs
 * more (settings mix.boundary_money, mix.boundary_minutes) when the connections that they get differ; but not where one method by
 * itself makes just this pair by falling back, as its figures carry that. Both are common
 * practice and said beside the answer (job_mix_choices()). */

typedef struct
{
  gint64 system, area; /* 0: runs without one */
  gint64 pressure;     /* class, thousandths of an inch w.g., sign left out */
  guint band;          /* index into the bands; their number: above the last */
  char *key;           /* "SA-1/Level 1/2/18": as setting mix.not names it; the last part "over" above the last band */
  char *name;          /* for a screen */
  GArray *runs;        /* gint64: ids, in order */
  int own;             /* method of the job as it stands, index among the problem's methods; -1: several, or another */
  gint64 own_cost, own_hours; /* of these runs as the job stands: as in the problem */
} JobMixGroup;

typedef struct
{
  CostMix *mix;               /* names of methods are their names for a screen */
  GPtrArray *group;           /* JobMixGroup *, in the order of the problem's groups */
  GArray *method;             /* int: catalogue index, in the order of the problem's methods */
  GArray *bands;              /* gint64: upper ends of the size bands, nm */
  gint64 rest_cost;           /* of all that is no group (round duct, counted lines), as it stands; ten-thousandths */
  gint64 own_cost, own_hours; /* the whole job as it stands: tooling and joints between unlike connections included */
  gint64 own_unmated;
  gint64 round, counted, not_priced, notes; /* rows that are in no group */
  int decimals;                             /* of the currency */
  double limit_hours;                       /* field worker-hours, NAN: none; the tighter of hours and crew-weeks */
  GPtrArray *said; /* char *: what of the settings could not be used, "no group “…” ..." */
} JobMix;

/* Builds the problem. NULL with a fault when no rectangular run is priced, or its figures cannot be used. Costs pricing each distinct
 * shape once a group. */
JobMix *job_mix_new (TallyJob *job, Fault **fault);
void job_mix_free (JobMix *mix);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobMix, job_mix_free)

static inline const JobMixGroup *
job_mix_group (const JobMix *mix, guint i)
{
  return g_ptr_array_index (mix->group, i);
}

/* Money of a plan over the whole job: its groups, set-up, boundary joints, and the rest; ten-thousandths. */
gint64 job_mix_cost (const JobMix *mix, const CostMixPlan *plan);
/* An edit that writes a plan's methods on the runs that have another now. (transfer full); no delta: the job is so already. */
JobEdit *job_edit_mix (TallyJob *job, const JobMix *mix, const CostMixPlan *plan, const char *label);
/* Whether setting mix.not keeps a method from a group; and the edit that allows or forbids it. */
gboolean job_mix_forbids (TallyJob *job, const JobMixGroup *group, int method);
void job_edit_mix_not (TallyJob *job, JobEdit *edit, const JobMixGroup *group, int method, gboolean forbid);
/* The choices that the answer hangs on, one sentence each, translated. (transfer full): GPtrArray of char *, freed with it. */
GPtrArray *job_mix_choices (TallyJob *job, const JobMix *mix);
/* Methods by size in words: "Integral flange on duct over 18 in; slip and drive up to 18 in". One method: "X everywhere";
 * "X up to 18 in, to class 1; Y elsewhere". Where size and class do not tell, how many groups each has. (transfer full) */
char *job_mix_words (const JobMix *mix, const CostMixPlan *plan);
/* Ten-thousandths in words, rounded to the currency's decimals: "163,900.12". (transfer full) */
char *job_mix_money (const JobMix *mix, gint64 units);
/* What is in no group, in words: "2 round runs, 11 counted lines"; "" nothing. (transfer full) */
char *job_mix_left_out (const JobMix *mix);

/* What a plan comes to, taken apart: groups, joints between unlike connections, set-up, what is not part of the choice,
 * and all of it together, last. Of a job they are rounded as they are printed, so that they add up to the last. */
typedef struct
{
  char *name;         /* for a screen */
  const char *key;    /* "groups", "joints", "setup", "rest", "whole" */
  gint64 cost, hours; /* ten-thousandths; milliseconds */
} JobMixPart;

/* @of: (nullable): NULL for a problem that is no job's. (transfer full): GArray of JobMixPart, freed with it. */
GArray *job_mix_parts (const JobMix *of, const CostMix *mix, const CostMixPlan *plan);
/* What of a plan's cost stands beside the bid, in a sentence; "" when there is none. (transfer full) */
char *job_mix_beside (const JobMix *mix, const CostMixPlan *plan);
/* The answer in plain sentences: what where, what it costs, what it saves over the best single method, how sure, and what one more
 * field hour would save. (transfer full) */
char *job_mix_conclusion (const JobMix *mix, const CostMixReport *report);

G_END_DECLS

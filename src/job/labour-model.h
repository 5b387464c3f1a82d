/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"
#include "labour/learning.h"
#include "labour/money.h"

G_BEGIN_DECLS

/* The choices of a job that stand between the minutes of the catalogue and those of the bid, read from its settings. */
typedef struct
{
  LabourJoin join;           /* conditions.join */
  gint64 cap;                /* conditions.cap, ppm: a joint factor above it is warned of, never clipped */
  LabourLearning learning;   /* learning.model */
  double slope, known;       /* learning.slope as a fraction, learning.known in joints */
  double hours, premium;     /* overtime.hours a week, overtime.premium */
  int weeks;                 /* overtime.weeks */
  gboolean shop_too;         /* overtime.places */
  gint64 paid;               /* paid hours over hours worked that follow, 1e-12; LABOUR_PAID_ONE without overtime */
  const char *table;         /* overtime.table, "" none. Borrowed from the job */
  gboolean lost;             /* a loss of output counts: table, weeks and rows for the hours are there */
  LabourLoss loss;           /* while lost */
} JobLabour;

/* The model in force. (transfer none): valid until the job changes. */
const JobLabour *job_labour (TallyJob *job);
/* Rate of a crew as the catalogue and the week that the job works make it, before the job changes it; ten-thousandths an hour. */
gint64 job_crew_rate (TallyJob *job, int crew);
/* Factor of learning over the joints of the job with every run by @method, or JOB_OWN_METHOD, ppm; 1 000 000 without learning. @joints:
 * (out) (optional): how many there are. */
gint64 job_learning (TallyJob *job, int method, gint64 *joints);

/* One line of words for each choice that changes this job's result, as a screen and the terminal print them beside figures:
 * "conditions add (1.32)", "learning by the unit curve, 90 %, over 534 joints: x 0.872 on steps at the joint". Empty while every choice
 * is the plain one. (transfer full): GPtrArray of char *, freed with it. */
GPtrArray *job_labour_words (TallyJob *job);
/* The same choices by name alone, in one line, for where there is little room: "learning by the unit curve (Crawford), overtime of 50 h a
 * week". NULL while every choice is the plain one. (transfer full) */
char *job_labour_names (TallyJob *job);
/* What is to be known but changes nothing by itself: a joint factor over the cap, a table without rows for these hours, a new crew named
 * beside learning in an old file. (transfer full): GPtrArray of char *. */
GPtrArray *job_labour_cautions (TallyJob *job);
/* Places (system, area and conditions on runs) whose joint factor is over the cap. */
guint job_over_cap (TallyJob *job);

/* A condition in force on a run, and where it was named. Texts are borrowed from the job, the catalogue or the program. */
typedef struct
{
  const char *from;           /* "job", "area", "system", "run", translated */
  const char *key, *reason, *source, *status;
  gint64 factor_ppm;
} JobConditionUse;

/* Conditions of a run in the order in which they are joined; an area's own factor among them. (transfer full): GArray. */
GArray *job_conditions_of (TallyJob *job, const JobRecord *run);

/* What the labour model of a job puts on top of its minutes. */
typedef struct
{
  double field_hours, shop_hours; /* worker-hours in force */
  double plain_field, plain_shop; /* the same with no condition, area factor, learning, overtime loss or remake, and each piece raised
                                     by itself */
} JobLabourEffect;

void job_labour_effect (TallyJob *job, int method, JobLabourEffect *effect);
/* The same in one sentence: "Conditions add 41.2 field worker-hours, 5.3 %: 819.7 instead of 778.5". (transfer full) */
char *job_labour_conclusion (TallyJob *job);
/* Whether the catalogue has every condition of a list that is joined with ";" (NULL: none is named); else FALSE with a fault. */
gboolean job_conditions_known (TallyJob *job, const char *list, Fault **fault);
/* Whether a list of conditions, joined with ";", names @key; and the list with it put in or taken out. (transfer full) */
gboolean job_conditions_name (const char *list, const char *key);
char *job_conditions_with (const char *list, const char *key, gboolean named);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/choose.h"
#include "job/job.h"

G_BEGIN_DECLS

/* The cheapest construction is looked for on demand and kept as a pin: the gauge and the construction (width of coil, members,
 * rods) stand on the run from then on, so that a later price or rule changes no duct behind the user's back. A run with a
 * construction is pinned; a gauge without one was entered by hand and is kept, the rest is chosen around it ("own gauge" stands in
 * front of such a construction). Where a rule set has
 * reinforcement rows, a run without a pin takes the lightest gauge that passes with its own piece length and nothing between the
 * joints; where none does it is not priced until a construction is chosen. A pin that the set no longer allows stays priced, with
 * a note (DUCT_NOTE_NOT_BY_SET). */

typedef struct
{
  DuctShape shape;  /* resolved, without the pin */
  int method, set;
  CostChoice *choice; /* (nullable) */
  int field;        /* of JOB_RUN, -1 */
  Fault *fault;     /* why there is nothing to choose, or NULL */
} JobChoice;

void job_choice_clear (JobChoice *choice);
/* The candidates of one run, priced with the job's basis under the conditions of its cell (one run, its area once). @refused: those
 * that the tables refuse too. FALSE with the fault: the run cannot be computed, or nothing that the tables allow is priced. */
gboolean job_choose (TallyJob *job, const JobRecord *run, gboolean refused, JobChoice *choice);
/* Text of the pin, for the fields "gauge" and "construction" of the run. */
void job_choice_pin (TallyJob *job, const CostCandidate *candidate, char **gauge, char **construction);
/* "24 ga; 60 in pieces at 412.31; next 22 ga; 60 in pieces at 430.02; RULE" (transfer full) */
char *job_choice_reason (TallyJob *job, const JobChoice *choice);

/* What an edit of the cheapest construction did to one run. */
typedef struct
{
  gint64 run;
  char *words;      /* the reason, or why it was passed over */
  gboolean pinned;  /* its pin is new or another one */
  double cost;      /* of all its runs, its area's times included; 0 when passed over */
} JobChosen;

/* An edit that pins the cheapest construction on the runs of a scope. @chosen: (out) (optional): GArray of JobChosen for every run
 * of ductwork looked at. (transfer full); no delta in it: nothing would change. Like runs are priced once. @label: translated. */
JobEdit *job_edit_cheapest (TallyJob *job, const JobScope *scope, const char *label, GArray **chosen);
/* The same for some runs. */
JobEdit *job_edit_cheapest_of_runs (TallyJob *job, const gint64 *ids, gsize n, const char *label, GArray **chosen);
/* Pins one candidate of a run by hand. */
JobEdit *job_edit_pin (TallyJob *job, const JobRecord *run, const CostCandidate *candidate, const char *label);
/* Takes the pins of a scope back; gauges entered by hand stay. */
JobEdit *job_edit_unpin (TallyJob *job, const JobScope *scope, const char *label);
/* The same for some runs. */
JobEdit *job_edit_unpin_of_runs (TallyJob *job, const gint64 *ids, gsize n, const char *label);

G_END_DECLS

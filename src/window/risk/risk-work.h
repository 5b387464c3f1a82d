/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/risk.h"
#include "window/session.h"

G_BEGIN_DECLS

#define RISK_N_MARKS 4     /* 10, 50, 80, 90 % */
#define RISK_N_POINTS 100  /* of a curve: 0.5 %, 1.5 %, ... */
#define RISK_N_DRIVERS 8

extern const double risk_marks[RISK_N_MARKS];

/* One way as the page shows it. */
typedef struct
{
  RiskQuantile cost[RISK_N_MARKS];
  double cost_low[RISK_N_MARKS], cost_high[RISK_N_MARKS]; /* their intervals, side by side */
  double hours[2];            /* field worker-hours at 10 and 90 % */
  double curve[RISK_N_POINTS];
  JobRiskContingency contingency;
  JobRiskGain gain;           /* against the baseline; of the baseline itself nothing */
  char *sentence;             /* of this way against the baseline */
  GArray *drivers;            /* RiskDriver: of the gain, of the baseline's cost in its own */
} RiskWaySum;

/* What a run came to; the draws themselves are let go. */
typedef struct
{
  JobRisk *risk;
  RiskWaySum *way;            /* by way of the risk */
  guint best;                 /* way with the largest likely gain, 0 none */
  RiskDriversHow how;
  char **choices;
} RiskAnswer;

void risk_answer_free (RiskAnswer *answer);

/* A run on its way in a thread of its own, on a copy of the job. */
typedef struct _RiskWork RiskWork;

/* Called once in the main thread: an answer (transfer full), or NULL with a fault (borrowed), or NULL without: it
 * was given up. */
typedef void (*RiskDone) (gpointer page, RiskWork *work, RiskAnswer *answer, const Fault *fault);

/* The methods that a comparison lists, against @baseline (index), and the what-ifs that the job keeps. @page:
 * watched; when it is gone nobody is told. (transfer none): lives until @done was called. */
RiskWork *risk_work_start (TallySession *session, int baseline, GObject *page, RiskDone done);
void risk_work_stop (RiskWork *work);
/* How far it is, 0 to 1. */
double risk_work_share (const RiskWork *work);

G_END_DECLS

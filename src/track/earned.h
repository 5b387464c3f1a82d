/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Earned value. Terms and indices: DoD acquisition university reference card; forecasts as in EIA-748 practice and
 * NASA/SP-2012-599. All in one unit, here worker-hours. */
typedef struct
{
  double bac; /* budget at completion: what was estimated */
  double pv;  /* planned by now; NAN where there is no plan by date */
  double ev;  /* earned: the estimate of what is done */
  double ac;  /* spent */
} Earned;

/* Ways to forecast what is spent at completion. None is best everywhere (review by Christensen, Antolini and McKinney 1995), so
 * more than one is shown. */
typedef enum
{
  EARNED_AT_THIS_RATE,     /* BAC / CPI: the rest goes as what is done went */
  EARNED_AS_ESTIMATED,     /* AC + BAC - EV: the rest goes as estimated */
  EARNED_RATE_AND_PACE,    /* AC + (BAC - EV) / (CPI SPI) */
  EARNED_WEIGHTED,         /* AC + (BAC - EV) / (0.8 CPI + 0.2 SPI) */
  EARNED_N_FORECASTS,
} EarnedForecast;

/* Each gives NAN where the figure does not exist: show a dash. */
double earned_cost_index (const Earned *e);     /* CPI = EV / AC: earned per hour spent, above 1 is good */
double earned_actual_ratio (const Earned *e);   /* AC / EV: actual over the estimate of what is done, below 1 is good */
double earned_schedule_index (const Earned *e); /* SPI = EV / PV */
double earned_share (const Earned *e);          /* EV / BAC */
double earned_forecast (const Earned *e, EarnedForecast how);
/* The index that the rest must reach so that @target is spent in all: (BAC - EV) / (target - AC). */
double earned_to_complete (const Earned *e, double target);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "track/earned.h"

#include <math.h>

static double
ratio (double a, double b)
{
  return b > 0 ? a / b : (double) NAN;
}

double
earned_cost_index (const Earned *e)
{
  return ratio (e->ev, e->ac);
}

double
earned_actual_ratio (const Earned *e)
{
  return ratio (e->ac, e->ev);
}

double
earned_schedule_index (const Earned *e)
{
  return ratio (e->ev, e->pv);
}

double
earned_share (const Earned *e)
{
  return ratio (e->ev, e->bac);
}

double
earned_forecast (const Earned *e, EarnedForecast how)
{
  double cpi = earned_cost_index (e), spi = earned_schedule_index (e), rest = e->bac - e->ev;

  switch (how)
    {
    case EARNED_AT_THIS_RATE:
      return ratio (e->bac, cpi);
    case EARNED_AS_ESTIMATED:
      return e->ac + rest;
    case EARNED_RATE_AND_PACE:
      return e->ac + ratio (rest, cpi * spi);
    case EARNED_WEIGHTED:
      return e->ac + ratio (rest, 0.8 * cpi + 0.2 * spi);
    case EARNED_N_FORECASTS:
    default:
      return (double) NAN;
    }
}

double
earned_to_complete (const Earned *e, double target)
{
  return ratio (e->bac - e->ev, target - e->ac);
}

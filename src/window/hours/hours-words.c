/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/hours/hours-words.h"

#include "window/session.h"

#include <glib/gi18n.h>
#include <math.h>

#define DASH "\xE2\x80\x93"

char *
hours_words_figure (double worker_h)
{
  if (isnan (worker_h))
    return g_strdup (DASH);
  return session_figure (worker_h, fabs (worker_h) < 9.95 && worker_h != 0 ? 1 : 0, FALSE);
}

char *
hours_words_ratio (double ratio)
{
  return isnan (ratio) ? g_strdup (DASH) : session_figure (ratio, 2, FALSE);
}

char *
hours_words_percent (double share)
{
  g_autofree char *figure = NULL;

  if (isnan (share))
    return g_strdup (DASH);
  figure = session_figure (share * 100, 0, FALSE);
  return g_strdup_printf ("%s %%", figure);
}

/* Both forecasts as a range; NULL where the first does not exist. */
static char *
range_words (const Earned *e)
{
  double a = earned_forecast (e, EARNED_AT_THIS_RATE), b = earned_forecast (e, EARNED_AS_ESTIMATED);
  g_autofree char *low = hours_words_figure (MIN (a, b)), *high = hours_words_figure (MAX (a, b));

  if (isnan (a))
    return NULL;
  return g_str_equal (low, high) ? g_strdup (low) : g_strdup_printf (_ ("%s to %s"), low, high);
}

char *
hours_words_conclusion (const Earned *e)
{
  g_autofree char *estimated = hours_words_figure (e->bac), *spent = hours_words_figure (e->ac);
  g_autofree char *earned = hours_words_figure (e->ev), *ratio = hours_words_ratio (earned_cost_index (e));
  g_autofree char *range = range_words (e);

  if (e->bac <= 0 && e->ac > 0)
    return g_strdup_printf (_ ("Spent %s worker-hours; nothing is estimated that they could be held against."), spent);
  if (e->bac <= 0)
    return g_strdup (_ ("Nothing is estimated yet: hours have nothing to be held against."));
  if (e->ac <= 0 && e->ev <= 0)
    return g_strdup_printf (_ ("%s worker-hours are estimated; none are spent and no run is ticked yet."), estimated);
  if (e->ac <= 0)
    return g_strdup_printf (_ ("Earned %s of %s estimated worker-hours; no hours are booked yet."), earned, estimated);
  if (e->ev <= 0)
    return g_strdup_printf (_ ("Spent %s of %s estimated worker-hours; no run is ticked, so nothing is earned yet."), spent,
                            estimated);
  if (e->ac < HOURS_FEW * e->bac)
    return g_strdup_printf (_ ("Spent %s of %s estimated worker-hours; earned %s per hour spent, too few hours to forecast by."),
                            spent, estimated, ratio);
  return g_strdup_printf (_ ("Spent %s of %s estimated worker-hours; earned %s per hour spent, so the job heads for %s."), spent,
                          estimated, ratio, range);
}

const char *
hours_words_reading (const Earned *e, gboolean *attention)
{
  double ratio = earned_cost_index (e);

  *attention = FALSE;
  if (e->ac <= 0 && e->ev <= 0)
    return _ ("not begun");
  if (e->bac <= 0)
    return _ ("not estimated");
  if (e->ac <= 0)
    return _ ("no hours booked");
  if (e->ev <= 0)
    return _ ("nothing ticked");
  if (e->ac < HOURS_FEW * e->bac)
    return _ ("few hours yet");
  if (ratio < HOURS_OVER)
    {
      *attention = TRUE;
      return _ ("runs over");
    }
  return ratio > HOURS_AHEAD ? _ ("ahead") : _ ("as estimated");
}

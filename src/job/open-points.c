/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/open-points.h"

#include "cost/rests.h"
#include "cost/solve.h"
#include "job/figure.h"
#include "job/labour-model.h"

static void
add (GArray *points, JobPointKind kind, gint64 n, gboolean must)
{
  JobPoint point = { kind, n, must };

  g_array_append_val (points, point);
}

static gint64
count_unread (TallyJob *job)
{
  static const JobType types[] = { JOB_HEAD, JOB_SYSTEM, JOB_AREA, JOB_CELL };
  gint64 n = 0;

  for (gsize t = 0; t < G_N_ELEMENTS (types); t++)
    for (guint i = 0; i < job_n (job, types[t]); i++)
      {
        const JobRecord *record = job_at (job, types[t], i);
        n += record->raw ? record->raw->len : 0;
      }
  return n;
}

static gint64
count_weak (TallyJob *job, const JobTotals *totals)
{
  CostRests rests[DUCT_N_STATUSES];
  gint64 n = 0;

  cost_rests (job_basis (job), totals->vector, rests);
  for (int s = 0; s < DUCT_N_STATUSES; s++)
    if (cost_status_weak ((DuctStatus) s))
      n += rests[s].items + rests[s].steps;
  return n;
}

/* Figures changed for this job; the final adjustment is no catalogue figure. */
static gint64
count_changed (TallyJob *job, int adjustment)
{
  const CostBuildLine *line = adjustment >= 0 ? g_ptr_array_index (job_basis (job)->buildup, (guint) adjustment) : NULL;
  gint64 n = 0;

  for (guint i = 0; i < job_n (job, JOB_CHANGE); i++)
    {
      const JobRecord *r = job_at (job, JOB_CHANGE, i);
      const char *key = r->text[CHANGE_KEY];
      gboolean buildup = g_strcmp0 (r->text[CHANGE_OBJECT], "buildup") == 0;
      if (buildup && line && g_strcmp0 (key, line->key) == 0)
        continue;
      /* How a rate is meant is no second figure beside the rate. */
      if (buildup && key && g_strcmp0 (r->text[CHANGE_FIELD], "op") == 0 && job_find_change (job, "buildup", key, "rate"))
        continue;
      n++;
    }
  return n;
}

/* What the job comes to, at the decimals of its currency. */
static BuildUp *
build_up (TallyJob *job, const JobTotals *totals)
{
  return buildup_new (job_basis (job), &totals->sums, job_decimals (job));
}

GArray *
job_open_points (TallyJob *job)
{
  GArray *points = g_array_new (FALSE, FALSE, sizeof (JobPoint));
  int adjustment = cost_adjustment_line (job_basis (job));
  const JobRecord *head = job_head (job);
  JobScope whole = { 0, 0 };
  JobTotals totals;
  CostProfit profit;
  gint64 n;

  job_totals (job, &whole, JOB_OWN_METHOD, &totals);
  g_autoptr (BuildUp) up = build_up (job, &totals);
  cost_profit (up, &profit);
  if (totals.runs == 0 && totals.not_priced == 0)
    add (points, JOB_POINT_EMPTY, 0, TRUE);
  if (totals.not_priced > 0)
    add (points, JOB_POINT_NOT_PRICED, totals.not_priced, TRUE);
  if ((n = count_unread (job)) > 0)
    add (points, JOB_POINT_UNREAD, n, TRUE);
  if (totals.runs > 0 && profit.profit <= 0)
    add (points, JOB_POINT_NO_PROFIT, profit.profit, TRUE);
  if ((n = count_weak (job, &totals)) > 0)
    add (points, JOB_POINT_WEAK, n, TRUE);
  if (!head->text[HEAD_ENGINEER])
    add (points, JOB_POINT_ENGINEER, 0, TRUE);
  if (!head->text[HEAD_CLIENT])
    add (points, JOB_POINT_CLIENT, 0, FALSE);
  if (adjustment >= 0 && up->value[adjustment] != 0)
    add (points, JOB_POINT_ADJUSTED, up->value[adjustment], FALSE);
  if ((n = count_changed (job, adjustment)) > 0)
    add (points, JOB_POINT_CHANGED, n, FALSE);
  g_autoptr (GPtrArray) words = job_labour_words (job), cautions = job_labour_cautions (job);
  if (words->len + cautions->len > 0)
    add (points, JOB_POINT_LABOUR, words->len + cautions->len, FALSE);
  job_totals_clear (&totals);
  return points;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/risk/risk-work.h"

#include "job/what-if.h"

#include <gio/gio.h>
#include <glib/gi18n.h>

const double risk_marks[RISK_N_MARKS] = { 0.1, 0.5, 0.8, 0.9 };

/* The thread works on records of its own; of the rest it touches share and stop (atomic), catalogue, baseline,
 * answer and fault. */
struct _RiskWork
{
  GObject *page; /* weak */
  RiskDone done;
  GPtrArray *records; /* JobRecord *, copies */
  Catalogue *catalogue;
  int baseline;
  gint share; /* per mille */
  gint stop;
  RiskAnswer *answer;
  Fault *fault;
};

void
risk_answer_free (RiskAnswer *answer)
{
  for (guint i = 0; i < answer->risk->ways->len; i++)
    {
      g_free (answer->way[i].sentence);
      g_clear_pointer (&answer->way[i].drivers, g_array_unref);
    }
  g_free (answer->way);
  job_risk_free (answer->risk);
  g_strfreev (answer->choices);
  g_free (answer);
}

static void
work_free (gpointer data)
{
  RiskWork *work = data;

  g_clear_weak_pointer (&work->page);
  g_ptr_array_unref (work->records);
  catalogue_unref (work->catalogue);
  g_clear_pointer (&work->answer, risk_answer_free);
  g_clear_pointer (&work->fault, fault_free);
  g_free (work);
}

/* ---- in the thread ---- */

static gboolean
progress_cb (gpointer data, double share)
{
  RiskWork *work = data;

  g_atomic_int_set (&work->share, 100 + (gint) (share * 850));
  return g_atomic_int_get (&work->stop) == 0;
}

static void
sum_way (const RiskAnswer *answer, const RiskResult *result, guint i)
{
  const JobRiskWay *way = job_risk_way (answer->risk, i);
  const RiskSample *cost = risk_result_sample (result, way->cost), *hours = risk_result_sample (result, way->hours);
  RiskWaySum *sum = &answer->way[i];

  for (int k = 0; k < RISK_N_MARKS; k++)
    {
      sum->cost[k] = risk_sample_quantile (cost, risk_marks[k]);
      sum->cost_low[k] = sum->cost[k].low;
      sum->cost_high[k] = sum->cost[k].high;
    }
  for (int k = 0; k < RISK_N_POINTS; k++)
    sum->curve[k] = quantile_of_sorted (cost->sorted, cost->n, (k + 0.5) / RISK_N_POINTS);
  sum->hours[0] = quantile_of_sorted (hours->sorted, hours->n, 0.1);
  sum->hours[1] = quantile_of_sorted (hours->sorted, hours->n, 0.9);
  job_risk_contingency (answer->risk, result, i, &sum->contingency);
  if (i > 0)
    job_risk_gain (answer->risk, result, i, &sum->gain);
}

/* Of the cost by the baseline, and of what each other way gains over it. */
static void
find_drivers (RiskAnswer *answer, const RiskResult *result)
{
  const JobRisk *risk = answer->risk;
  g_autofree double *weight = g_new0 (double, (gsize) risk_problem_n_responses (risk->problem));

  weight[job_risk_way (risk, 0)->cost] = 1;
  for (guint i = 0; i < risk->ways->len; i++)
    {
      int cost = job_risk_way (risk, i)->cost;
      weight[cost] = i == 0 ? 1 : -1;
      answer->way[i].drivers = risk_result_drivers (result, weight, &answer->how);
      weight[cost] = i == 0 ? 1 : 0;
      answer->way[i].sentence = job_risk_sentence_of (risk, result, i);
    }
  answer->best = job_risk_best (risk);
}

static GArray *
find_ways (TallyJob *job, int baseline, GPtrArray *keep)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  g_autoptr (GArray) listed = job_methods_listed (job, baseline);
  g_autoptr (GPtrArray) names = job_what_ifs (job);
  GArray *asks = g_array_new (FALSE, TRUE, sizeof (JobRiskAsk));
  JobRiskAsk ask = { catalogue_method (catalogue, baseline)->key, NULL, NULL };

  g_array_append_val (asks, ask);
  for (guint i = 0; i < listed->len; i++)
    if (g_array_index (listed, int, i) != baseline)
      {
        ask.method = catalogue_method (catalogue, g_array_index (listed, int, i))->key;
        g_array_append_val (asks, ask);
      }
  for (guint i = 0; i < names->len; i++)
    {
      char *name = g_strdup (names->pdata[i]);
      GPtrArray *changes = job_what_if_changes (job, name);
      g_ptr_array_add (keep, changes);
      g_object_set_data_full (G_OBJECT (job), name, name, g_free);
      ask = (JobRiskAsk){ catalogue_method (catalogue, baseline)->key, name, changes };
      g_array_append_val (asks, ask);
    }
  return asks;
}

static void
run (RiskWork *work, TallyJob *job)
{
  g_autoptr (GPtrArray) keep = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  g_autoptr (GArray) asks = find_ways (job, work->baseline, keep);
  g_autoptr (JobRisk) risk = job_risk_new (job, &g_array_index (asks, JobRiskAsk, 0), asks->len, &work->fault);
  g_autoptr (RiskResult) result =
      risk && progress_cb (work, 0) ? job_risk_run (risk, progress_cb, work, &work->fault) : NULL;
  RiskAnswer *answer;

  if (!result)
    return;
  answer = g_new0 (RiskAnswer, 1);
  answer->way = g_new0 (RiskWaySum, risk->ways->len);
  answer->choices = job_risk_choices (risk);
  answer->risk = g_steal_pointer (&risk);
  for (guint i = 0; i < answer->risk->ways->len; i++)
    sum_way (answer, result, i);
  find_drivers (answer, result);
  work->answer = answer;
}

static void
run_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  RiskWork *work = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TallyJob) job = job_new_from_records (work->catalogue, work->records, NULL, &error);

  (void) source;
  (void) cancellable;
  if (job && g_atomic_int_get (&work->stop) == 0)
    run (work, job);
  else if (!job)
    work->fault = fault_new (-1, _ ("open the job again"), "%s", error->message);
  g_task_return_boolean (task, TRUE);
}

/* ---- in the main thread ---- */

static void
done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  RiskWork *work = g_task_get_task_data (G_TASK (result));
  gboolean stopped = g_atomic_int_get (&work->stop) != 0;

  (void) source;
  (void) data;
  if (!work->page)
    return;
  if (stopped)
    work->done (work->page, work, NULL, NULL);
  else
    work->done (work->page, work, g_steal_pointer (&work->answer), work->fault);
}

RiskWork *
risk_work_start (TallySession *session, int baseline, GObject *page, RiskDone done)
{
  TallyJob *job = session_job (session);
  RiskWork *work = g_new0 (RiskWork, 1);
  g_autoptr (GTask) task = g_task_new (NULL, NULL, done_cb, NULL);

  work->done = done;
  work->baseline = baseline;
  work->catalogue = catalogue_ref (job_basis (job)->catalogue);
  work->records = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
  for (int type = 0; type < JOB_N_TYPES; type++)
    for (guint i = 0; i < job_n (job, (JobType) type); i++)
      g_ptr_array_add (work->records, job_record_copy (job_at (job, (JobType) type, i)));
  g_set_weak_pointer (&work->page, page);
  g_task_set_task_data (task, work, work_free);
  g_task_run_in_thread (task, run_in_thread);
  return work;
}

void
risk_work_stop (RiskWork *work)
{
  g_atomic_int_set (&work->stop, 1);
}

double
risk_work_share (const RiskWork *work)
{
  return g_atomic_int_get (&work->share) / 1000.0;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-chance.h"

#include "job/setting.h"

#include <gio/gio.h>
#include <glib/gi18n.h>

/* One run in a thread; the task owns it. */
typedef struct
{
  JobRisk *risk;
  GArray *out;          /* MethodsChance */
  MethodsChances *owner; /* main loop only; NULL: nobody waits any more */
  int stop;             /* atomic */
} Work;

struct MethodsChances
{
  void (*done) (gpointer owner);
  gpointer owner;
  Work *running;        /* borrowed from its task */
  gboolean stale, asked; /* the job has changed since; something was asked */
  guint shown;
  int baseline;
  GArray *known;        /* MethodsChance */
  char *words;
};

static void
work_free (gpointer data)
{
  Work *work = data;

  g_clear_pointer (&work->risk, job_risk_free);
  g_array_unref (work->out);
  g_free (work);
}

static gboolean
progress_cb (gpointer data, double share)
{
  (void) share;
  return !g_atomic_int_get (&((Work *) data)->stop);
}

static void
run (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Work *work = data;
  g_autoptr (RiskResult) result = NULL;
  Fault *fault = NULL;

  (void) source;
  (void) cancellable;
  result = job_risk_run (work->risk, progress_cb, work, &fault);
  g_clear_pointer (&fault, fault_free);
  for (guint i = 0; result && i < work->risk->ways->len; i++)
    {
      const JobRiskWay *way = job_risk_way (work->risk, i);
      const RiskSample *cost = risk_result_sample (result, way->cost);
      MethodsChance chance = { .method = way->method,
                               .low = risk_sample_quantile (cost, 0.1).value,
                               .high = risk_sample_quantile (cost, 0.9).value };
      JobRiskGain gain;
      if (i > 0)
        {
          job_risk_gain (work->risk, result, i, &gain);
          chance.chance = gain.beats.less;
          chance.verdict = gain.verdict;
          chance.gains = gain.gain > 0;
        }
      g_array_append_val (work->out, chance);
    }
  g_task_return_boolean (task, result != NULL);
}

static void
done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Work *work = g_task_get_task_data (G_TASK (result));
  MethodsChances *self = work->owner;

  (void) source;
  (void) data;
  /* Given up, or another was asked since. */
  if (!self)
    return;
  self->running = NULL;
  g_array_set_size (self->known, 0);
  g_array_append_vals (self->known, work->out->data, work->out->len);
  self->done (self->owner);
}

static void
give_up (MethodsChances *self)
{
  if (!self->running)
    return;
  g_atomic_int_set (&self->running->stop, 1);
  self->running->owner = NULL;
  self->running = NULL;
}

MethodsChances *
methods_chances_new (void (*done) (gpointer owner), gpointer owner)
{
  MethodsChances *self = g_new0 (MethodsChances, 1);

  self->done = done;
  self->owner = owner;
  self->known = g_array_new (FALSE, FALSE, sizeof (MethodsChance));
  return self;
}

void
methods_chances_free (MethodsChances *self)
{
  give_up (self);
  g_array_unref (self->known);
  g_free (self->words);
  g_free (self);
}

static guint
bits_of (const MethodsData *data, const gboolean *shown)
{
  guint bits = 0;

  for (int m = 0; m < data->n; m++)
    bits = bits * 31 + (shown[m] && data->listed[m] ? 2 : 1);
  return bits;
}

static void
start (MethodsChances *self, const MethodsData *data, const gboolean *shown, int baseline)
{
  g_autoptr (GArray) asks = g_array_new (FALSE, TRUE, sizeof (JobRiskAsk));
  JobRiskAsk ask = { catalogue_method (data->basis->catalogue, baseline)->key, NULL, NULL };
  Work *work;
  GTask *task;
  JobRisk *risk;
  Fault *fault = NULL;

  g_array_append_val (asks, ask);
  for (int m = 0; m < data->n; m++)
    if (m != baseline && shown[m] && data->listed[m])
      {
        ask.method = catalogue_method (data->basis->catalogue, m)->key;
        g_array_append_val (asks, ask);
      }
  /* Settings that make no problem are told on the page Risk. */
  risk = job_risk_new (data->job, (const JobRiskAsk *) (gpointer) asks->data, asks->len, &fault);
  g_clear_pointer (&fault, fault_free);
  if (!risk)
    {
      g_array_set_size (self->known, 0);
      return;
    }
  g_free (self->words);
  self->words = g_strdup_printf (_ ("Chance to beat the baseline: on the same draws, %" G_GSIZE_FORMAT " trials, seed %" G_GUINT64_FORMAT
                                    ", %s; verdict words: clear from 90 %%, likely from 75 %%. More under “Risk”."),
                                 risk->trials, risk->seed, job_setting_say (data->job, "spread"));
  work = g_new0 (Work, 1);
  work->risk = risk;
  work->out = g_array_new (FALSE, FALSE, sizeof (MethodsChance));
  work->owner = self;
  self->running = work;
  task = g_task_new (NULL, NULL, done_cb, NULL);
  g_task_set_task_data (task, work, work_free);
  g_task_run_in_thread (task, run);
  g_object_unref (task);
}

void
methods_chances_ask (MethodsChances *self, const MethodsData *data, const gboolean *shown, int baseline)
{
  gboolean whole = data && data->of == METHODS_JOB && baseline >= 0 && data->totals[baseline].runs > 0;
  guint bits = whole ? bits_of (data, shown) : 0;

  if (whole && self->asked && !self->stale && bits == self->shown && baseline == self->baseline)
    return;
  give_up (self);
  /* The same after an edit stands until the new ones are there, so that nothing jumps. */
  if (!whole || !self->asked || bits != self->shown || baseline != self->baseline)
    g_array_set_size (self->known, 0);
  self->asked = whole;
  self->stale = FALSE;
  self->shown = bits;
  self->baseline = baseline;
  if (whole)
    start (self, data, shown, baseline);
}

void
methods_chances_stale (MethodsChances *self)
{
  self->stale = TRUE;
}

const MethodsChance *
methods_chances_of (const MethodsChances *self, int method)
{
  for (guint i = 0; i < self->known->len; i++)
    if (g_array_index (self->known, MethodsChance, i).method == method)
      return &g_array_index (self->known, MethodsChance, i);
  return NULL;
}

const char *
methods_chances_words (const MethodsChances *self)
{
  return self->known->len > 0 && self->words ? self->words : "";
}

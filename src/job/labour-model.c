/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/labour-model.h"

#include "base/decimal.h"
#include "job/job-private.h"
#include "job/setting.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define MILLION 1000000

/* ---- reading the settings ---- */

static void
read_labour (TallyJob *job, JobLabour *l)
{
  *l = (JobLabour) { .join = (LabourJoin) job_setting_word (job, "conditions.join"),
                     .learning = (LabourLearning) job_setting_word (job, "learning.model"),
                     .slope = job_setting_number (job, "learning.slope") / 100,
                     .known = job_setting_number (job, "learning.known"),
                     .hours = job_setting_number (job, "overtime.hours"),
                     .premium = job_setting_number (job, "overtime.premium"),
                     .weeks = (int) job_setting_number (job, "overtime.weeks"),
                     .shop_too = job_setting_word (job, "overtime.places") == 1,
                     .table = job_setting (job, "overtime.table") };
  num_from_double (job_setting_number (job, "conditions.cap") * 1e6, &l->cap);
  l->paid = labour_paid (l->hours, l->premium);
  l->lost = *l->table && l->weeks > 0
            && labour_loss_average (job->catalogue->labour, l->table, l->hours, l->weeks,
                                    (LabourLossBasis) job_setting_word (job, "overtime.loss"), &l->loss, NULL);
}

const JobLabour *
job_labour (TallyJob *job)
{
  if (!job->labour_known)
    {
      read_labour (job, &job->labour);
      job->labour_known = TRUE;
    }
  return &job->labour;
}

void
job_labour_stale (TallyJob *job)
{
  job->labour_known = job->learned_known = FALSE;
}

void
job_labour_changes (TallyJob *job, GPtrArray *changes)
{
  JobLabour l;

  /* Not from what is kept: the settings may just be tried out. */
  read_labour (job, &l);
  if (l.paid == LABOUR_PAID_ONE)
    return;
  g_autofree char *paid = decimal_print (l.paid, LABOUR_PAID_DECIMALS, 0, FALSE);
  g_ptr_array_add (changes, cost_change_new ("overtime", "field", "paid", paid));
  if (l.shop_too)
    g_ptr_array_add (changes, cost_change_new ("overtime", "shop", "paid", paid));
}

gint64
job_crew_rate (TallyJob *job, int crew)
{
  const LabourCrew *c = g_ptr_array_index (job->catalogue->labour->crews, (guint) crew);
  const JobLabour *l = job_labour (job);

  return l->paid != LABOUR_PAID_ONE && (!c->shop || l->shop_too) ? labour_crew_rate_for (c, l->paid) : c->rate;
}

/* ---- learning ---- */

static gint64
joints_of (TallyJob *job, int column)
{
  const CostBasis *basis = job->basis;
  gsize at = (gsize) column * (gsize) basis->n_vector + (gsize) cost_measure_slot (basis, COST_JOINTS);
  GHashTableIter iter;
  gint64 joints = 0;
  JobBucket *b;

  g_hash_table_iter_init (&iter, job->buckets);
  while (g_hash_table_iter_next (&iter, (gpointer *) &b, NULL))
    joints += b->vector[at] * job_bucket (job, b)->times;
  return joints / 1000;
}

gint64
job_learned (TallyJob *job, int method)
{
  const JobLabour *l = job_labour (job);
  int n = job->basis->n_methods;

  if (l->learning == LABOUR_LEARNING_NONE)
    return MILLION;
  if (!job->learned_known)
    {
      g_free (job->learned);
      job->learned = g_new (gint64, (gsize) n + 1);
      for (int m = 0; m <= n; m++)
        job->learned[m] = labour_learning_factor (l->learning, l->slope, joints_of (job, m), l->known);
      job->learned_known = TRUE;
    }
  return job->learned[method == JOB_OWN_METHOD ? n : method];
}

gint64
job_learning (TallyJob *job, int method, gint64 *joints)
{
  if (joints)
    *joints = joints_of (job, method == JOB_OWN_METHOD ? job->basis->n_methods : method);
  return job_learned (job, method);
}

/* ---- conditions ---- */

void
job_join_conditions (TallyJob *job, LabourFactors *factors, const char *keys)
{
  const LabourTables *labour = job->catalogue->labour;

  if (!keys)
    return;
  g_auto (GStrv) words = g_strsplit (keys, ";", -1);
  for (char **w = words; *w; w++)
    {
      int i = labour_find_condition (labour, g_strstrip (*w));
      if (i >= 0)
        labour_factors_join (factors, g_ptr_array_index (labour->conditions, (guint) i), job_labour (job)->join);
    }
}

/* Order: job, area, system, run (the design's rule); the area's own factor reaches all that is done in the field. */
void
job_bucket_conditions (TallyJob *job, const JobBucket *b, LabourFactors *factors)
{
  const JobRecord *system = job_find (job, JOB_SYSTEM, b->system), *area = job_find (job, JOB_AREA, b->area);

  labour_factors_init (factors);
  job_join_conditions (job, factors, job_head (job)->text[HEAD_CONDITION]);
  if (area)
    {
      job_join_conditions (job, factors, area->text[AREA_CONDITION]);
      if (area->num[AREA_FACTOR] != JOB_UNSET)
        {
          LabourCondition field = { .factor_ppm = area->num[AREA_FACTOR],
                                    .places = (1u << LABOUR_FLOOR) | (1u << LABOUR_AIR) | (1u << LABOUR_SITE_FIT),
                                    .groups = (1u << LABOUR_N_GROUPS) - 1 };
          labour_factors_join (factors, &field, job_labour (job)->join);
        }
    }
  if (system)
    job_join_conditions (job, factors, system->text[SYSTEM_CONDITION]);
  job_join_conditions (job, factors, b->condition);
}

/* What overtime loses multiplies whatever the rule for conditions; then what the area says of joints and raising. */
void
job_resolve_factors (TallyJob *job, JobBucket *b)
{
  const JobRecord *area = job_find (job, JOB_AREA, b->area);
  const JobLabour *labour = job_labour (job);
  LabourCondition loss = { .factor_ppm = labour->loss.factor_ppm,
                           .places = (1u << LABOUR_FLOOR) | (1u << LABOUR_AIR) | (1u << LABOUR_SITE_FIT)
                                     | (labour->shop_too ? 1u << LABOUR_SHOP : 0),
                           .groups = (1u << LABOUR_N_GROUPS) - 1 };

  job_bucket_conditions (job, b, &b->factors);
  if (labour->lost)
    {
      labour_factors_apply (&b->factors, &loss);
      b->factors.lost[0] = loss.factor_ppm;
      b->factors.lost[1] = labour->shop_too ? loss.factor_ppm : MILLION;
    }
  if (!area)
    return;
  if (area->num[AREA_REMADE] != JOB_UNSET && !b->counted)
    b->factors.remade = CLAMP (area->num[AREA_REMADE], 0, 1000000);
  if (area->num[AREA_RAISED] != JOB_UNSET)
    b->factors.raised = MAX (area->num[AREA_RAISED], 1);
}

/* ---- checks of an edit ---- */

static const char *
condition_text (const JobRecord *r)
{
  static const int slots[JOB_N_TYPES] = { [JOB_HEAD] = HEAD_CONDITION + 1, [JOB_SYSTEM] = SYSTEM_CONDITION + 1,
                                          [JOB_AREA] = AREA_CONDITION + 1, [JOB_RUN] = RUN_CONDITION + 1 };

  return slots[r->type] > 0 ? r->text[slots[r->type] - 1] : NULL;
}

static gboolean
refuse (GError **error, char *what)
{
  g_set_error_literal (error, JOB_ERROR, JOB_ERROR_INVALID, what);
  g_free (what);
  return FALSE;
}

/* A condition that the catalogue does not have would change nothing, silently. */
gboolean
job_conditions_known (TallyJob *job, const char *list, Fault **fault)
{
  g_auto (GStrv) keys = g_strsplit (list ? list : "", ";", -1);

  for (char **key = keys; *key; key++)
    if (labour_find_condition (job->catalogue->labour, g_strstrip (*key)) < 0)
      return fault_set (fault, fault_new (-1, _ ("write one of its conditions, several joined with ;"),
                                          _ ("the catalogue has no condition “%s”"), *key));
  return TRUE;
}

static gboolean
check_conditions (TallyJob *job, const JobRecord *before, const JobRecord *after, GError **error)
{
  const char *text = condition_text (after);
  Fault *fault = NULL;

  if (!text || (before && condition_text (before) == text) || job_conditions_known (job, text, &fault))
    return TRUE;
  char *words = fault_words (fault, NULL);
  fault_free (fault);
  return refuse (error, words);
}

const LabourCondition *
job_new_crew (TallyJob *job, const JobRecord *r)
{
  const LabourTables *labour = job->catalogue->labour;
  const char *text = condition_text (r);
  const LabourCondition *found = NULL;

  if (!text)
    return NULL;
  g_auto (GStrv) keys = g_strsplit (text, ";", -1);
  for (char **key = keys; *key && !found; key++)
    {
      int i = labour_find_condition (labour, g_strstrip (*key));
      const LabourCondition *c = i >= 0 ? g_ptr_array_index (labour->conditions, (guint) i) : NULL;
      if (c && g_ascii_strcasecmp (c->key, "new crew") == 0
          && (c->places & ((1u << LABOUR_JOINT) | (1u << LABOUR_AIR) | (1u << LABOUR_FLOOR))))
        found = c;
    }
  return found;
}

static const JobDelta *
delta_of (const JobEdit *edit, const JobRecord *r)
{
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      if (d->before && d->before->type == r->type && d->before->id == r->id)
        return d;
    }
  return NULL;
}

const JobRecord *
job_find_new_crew (TallyJob *job, const JobEdit *edit)
{
  static const JobType types[] = { JOB_HEAD, JOB_SYSTEM, JOB_AREA, JOB_RUN };

  for (gsize t = 0; t < G_N_ELEMENTS (types); t++)
    for (guint i = 0; i < job_n (job, types[t]); i++)
      {
        const JobRecord *r = job_at (job, types[t], i);
        if (job_new_crew (job, r) && !(edit && delta_of (edit, r)))
          return r;
      }
  return NULL;
}

char *
job_record_name (TallyJob *job, const JobRecord *r)
{
  if (r->type == JOB_SYSTEM)
    return g_strdup_printf (_ ("the system %s"), r->text[SYSTEM_KEY]);
  if (r->type == JOB_AREA)
    return g_strdup_printf (_ ("the area %s"), r->text[AREA_KEY]);
  return r->type == JOB_RUN ? g_strdup_printf (_ ("run %d"), job_position (job, r->id) + 1) : g_strdup (_ ("the job"));
}

static gboolean
check_learning (TallyJob *job, const JobEdit *edit, GError **error)
{
  LabourLearning model = job_labour (job)->learning;
  const JobRecord *named = NULL;
  gboolean turned = FALSE;

  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      const JobRecord *any = d->after ? d->after : d->before;
      if (any->type == JOB_SETTING && g_strcmp0 (any->text[SETTING_KEY], "learning.model") == 0)
        {
          turned = TRUE;
          if (!d->after || !d->after->text[SETTING_VALUE] || !labour_learning_parse (d->after->text[SETTING_VALUE], &model))
            model = LABOUR_LEARNING_NONE;
        }
      if (d->after && !named && job_new_crew (job, d->after)
          && (turned || !d->before || condition_text (d->before) != condition_text (d->after)))
        named = d->after;
    }
  if (model == LABOUR_LEARNING_NONE)
    return TRUE;
  if (!named && turned)
    named = job_find_new_crew (job, edit);
  if (!named)
    return TRUE;
  g_autofree char *where = job_record_name (job, named);
  return refuse (error, g_strdup_printf (_ ("learning by the %s and the condition “%s” of %s would both slow the same hours: take that "
                                            "condition off, or set learning to none"),
                                         labour_learning_say (model), job_new_crew (job, named)->key, where));
}

static gboolean
has_table (TallyJob *job, const char *key, GError **error)
{
  const GPtrArray *losses = job->catalogue->labour->losses;
  LabourLoss loss;
  Fault *fault = NULL;

  for (guint i = 0; i < losses->len; i++)
    if (strcmp (((const LabourLossRow *) g_ptr_array_index (losses, i))->table, key) == 0)
      return TRUE;
  labour_loss_average (job->catalogue->labour, key, 0, 0, LABOUR_LOSS_DIVIDE, &loss, &fault);
  char *words = fault_words (fault, NULL);
  fault_free (fault);
  return refuse (error, words);
}

gboolean
job_check_labour (TallyJob *job, const JobEdit *edit, GError **error)
{
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      if (!d->after)
        continue;
      if (!check_conditions (job, d->before, d->after, error))
        return FALSE;
      if (d->after->type == JOB_SETTING && g_strcmp0 (d->after->text[SETTING_KEY], "overtime.table") == 0
          && d->after->text[SETTING_VALUE] && !has_table (job, d->after->text[SETTING_VALUE], error))
        return FALSE;
    }
  return check_learning (job, edit, error);
}

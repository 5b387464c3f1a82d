/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/what-if.h"

#include "job/setting.h"

#include <glib/gi18n-lib.h>
#include <string.h>

const JobRecord *
job_find_cell_named (TallyJob *job, const char *key, gint64 *system, gint64 *area)
{
  const JobNames *names = job_names (job);
  g_auto (GStrv) words = g_strsplit (key, "/", 2);

  *system = *area = 0;
  if (g_strv_length (words) != 2)
    return NULL;
  *system = names->find (names->data, JOB_SYSTEM, words[0]);
  *area = names->find (names->data, JOB_AREA, words[1]);
  return job_find_cell (job, *system, *area);
}

/* The record of a cell; one is made where system and area are there and it is not. */
static const JobRecord *
need_cell (TallyJob *job, const char *key)
{
  gint64 system, area, ord, step;
  const JobRecord *present = job_find_cell_named (job, key, &system, &area);

  if (present)
    return present;
  if (system == 0 || area == 0)
    return NULL;
  job_ord_before (job, JOB_CELL, job_n (job, JOB_CELL), 1, &ord, &step);
  JobRecord *cell = job_record_new (JOB_CELL, job_take_id (job, JOB_CELL), ord);
  JobEdit *edit = job_edit_new (_ ("cell"));
  cell->num[CELL_SYSTEM] = system;
  cell->num[CELL_AREA] = area;
  job_edit_add (edit, NULL, cell);
  return job_apply (job, edit, NULL) ? job_at (job, JOB_CELL, job_n (job, JOB_CELL) - 1) : NULL;
}

static gboolean
refuse (const CostChange *change, GError *error, Fault **fault)
{
  fault_set (fault, fault_new (-1, _ ("choose another value"), "%s.%s: %s", change->object, change->field, error->message));
  g_error_free (error);
  return FALSE;
}

static gboolean
set_setting (TallyJob *job, const CostChange *change, Fault **fault)
{
  g_autofree char *key = *change->key ? g_strdup_printf ("%s.%s", change->key, change->field) : g_strdup (change->field);
  g_autofree char *value = job_setting_read (key, change->value, fault);
  JobEdit *edit;
  GError *error = NULL;

  if (!value)
    return FALSE;
  edit = job_edit_new (key);
  job_edit_setting (job, edit, key, value);
  return job_apply (job, edit, &error) ? TRUE : refuse (change, error, fault);
}

static gboolean
priced (TallyJob *job, const JobRecord *run)
{
  JobRunResult r;
  gboolean well = job_compute (job, run, JOB_OWN_METHOD, &r);

  job_run_result_clear (&r);
  return well;
}

/* How many pieces of each straight run of a place are cut on site; all at once, then what could not be is put back. */
static gboolean
set_fit_pieces (TallyJob *job, const JobRecord *place, const CostChange *change, Fault **fault)
{
  int field = job_field_find (JOB_RUN, "fit_pieces");
  JobEdit *edit = job_edit_new (change->field), *back = job_edit_new (change->field);
  g_autoptr (GPtrArray) before = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      JobRecord *run = (JobRecord *) job_at (job, JOB_RUN, i), *after;
      gboolean there = place->type == JOB_HEAD || run->num[place->type == JOB_SYSTEM ? RUN_SYSTEM : RUN_AREA] == place->id;
      if (!there || run->num[RUN_KIND] != DUCT_STRAIGHT || !priced (job, run))
        continue;
      after = job_record_copy (run);
      job_edit_add (edit, job_record_ref (run), after);
      g_ptr_array_add (before, job_record_ref (run));
      if (!job_record_read (after, field, change->value, job_names (job), fault))
        {
          job_edit_free (edit);
          job_edit_free (back);
          return FALSE;
        }
    }
  job_apply (job, edit, NULL);
  for (guint i = 0; i < before->len; i++)
    {
      JobRecord *was = before->pdata[i], *is = (JobRecord *) job_find (job, JOB_RUN, was->id);
      if (!priced (job, is))
        job_edit_add (back, job_record_ref (is), job_record_ref (was));
    }
  job_apply (job, back, NULL);
  return before->len > 0 ? TRUE
                         : fault_set (fault, fault_new (-1, _ ("name a place with straight runs"),
                                                        _ ("no straight run stands in “%s”"), change->key));
}

/* system.NAME.FIELD, area.NAME.FIELD, cell.SYSTEM/AREA.FIELD, job.FIELD. */
static gboolean
set_record (TallyJob *job, const CostChange *change, Fault **fault)
{
  const JobNames *names = job_names (job);
  const JobRecord *record = NULL;
  GError *error = NULL;
  Fault *inner = NULL;
  int field;

  if (strcmp (change->object, "job") == 0)
    record = job_head (job);
  else if (strcmp (change->object, "cell") == 0)
    record = need_cell (job, change->key);
  else if (strcmp (change->object, "run") == 0)
    {
      guint64 number = g_ascii_strtoull (change->key, NULL, 10);
      record = number >= 1 && number <= job_n (job, JOB_RUN) ? job_at (job, JOB_RUN, (guint) number - 1) : NULL;
    }
  else
    {
      JobType type = strcmp (change->object, "system") == 0 ? JOB_SYSTEM : JOB_AREA;
      gint64 id = names->find (names->data, type, change->key);
      record = id > 0 ? job_find (job, type, id) : NULL;
    }
  if (record && record->type != JOB_RUN && record->type != JOB_CELL && strcmp (change->field, "fit_pieces") == 0)
    return set_fit_pieces (job, record, change, fault);
  field = record ? job_field_find (record->type, change->field) : -1;
  if (!record || field < 0)
    return fault_set (fault, fault_new (-1, _ ("use the name of a system or area, or the number of a run, and the heading of one of its columns"),
                                        _ ("there is no figure “%s.%s.%s” in this job"), change->object, change->key,
                                        change->field));
  if (!job_edit_field (job, record->type, record->id, field, change->value, &inner, &error))
    {
      g_clear_pointer (&inner, fault_free);
      return refuse (change, error, fault);
    }
  if (inner)
    {
      fault_set (fault, fault_new (inner->at, inner->remedy, "%s.%s: %s", change->object, change->field, inner->what));
      fault_free (inner);
      return FALSE;
    }
  return TRUE;
}

gboolean
job_apply_figures (TallyJob *job, const GPtrArray *changes, Fault **fault)
{
  static const char *const records[] = { "system", "area", "cell", "job", "run", NULL };
  g_autoptr (GPtrArray) figures = g_ptr_array_new ();

  for (guint i = 0; i < changes->len; i++)
    {
      CostChange *change = g_ptr_array_index (changes, i);
      if (strcmp (change->object, "setting") == 0)
        {
          if (!set_setting (job, change, fault))
            return FALSE;
        }
      else if (!g_strv_contains (records, change->object))
        g_ptr_array_add (figures, change);
      else if (!set_record (job, change, fault))
        return FALSE;
    }
  return figures->len == 0 || job_set_what_if (job, figures, fault);
}

TallyJob *
job_with (TallyJob *job, const GPtrArray *changes, LabourPoint point, Fault **fault)
{
  g_autoptr (TallyJob) copy = job_copy (job, point);

  if (changes && changes->len > 0 && !job_apply_figures (copy, changes, fault))
    return NULL;
  return g_steal_pointer (&copy);
}

/* ---- what the job keeps ---- */

static const char *
text_or_none (const char *text)
{
  return text ? text : "";
}

GPtrArray *
job_what_ifs (TallyJob *job)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < job_n (job, JOB_WHAT_IF); i++)
    {
      const char *name = text_or_none (job_at (job, JOB_WHAT_IF, i)->text[WHAT_IF_SET]);
      if (!g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
        g_ptr_array_add (names, g_strdup (name));
    }
  return names;
}

GPtrArray *
job_what_if_changes (TallyJob *job, const char *name)
{
  GPtrArray *changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);

  for (guint i = 0; i < job_n (job, JOB_WHAT_IF); i++)
    {
      const JobRecord *r = job_at (job, JOB_WHAT_IF, i);
      if (strcmp (text_or_none (r->text[WHAT_IF_SET]), name) == 0)
        g_ptr_array_add (changes, cost_change_new (text_or_none (r->text[WHAT_IF_OBJECT]), text_or_none (r->text[WHAT_IF_KEY]),
                                                   text_or_none (r->text[WHAT_IF_FIELD]), text_or_none (r->text[WHAT_IF_VALUE])));
    }
  return changes;
}

void
job_edit_what_if (TallyJob *job, JobEdit *edit, const char *name, const CostChange *change, const char *value)
{
  const JobRecord *present = NULL;
  JobRecord *after = NULL;
  gint64 ord, step;

  for (guint i = 0; i < job_n (job, JOB_WHAT_IF) && !present; i++)
    {
      const JobRecord *r = job_at (job, JOB_WHAT_IF, i);
      if (strcmp (text_or_none (r->text[WHAT_IF_SET]), name) == 0 && g_strcmp0 (r->text[WHAT_IF_OBJECT], change->object) == 0
          && strcmp (text_or_none (r->text[WHAT_IF_KEY]), change->key) == 0
          && g_strcmp0 (r->text[WHAT_IF_FIELD], change->field) == 0)
        present = r;
    }
  if (!present ? !value : g_strcmp0 (present->text[WHAT_IF_VALUE], value) == 0)
    return;
  if (value && present)
    after = job_record_copy (present);
  else if (value)
    {
      job_ord_before (job, JOB_WHAT_IF, job_n (job, JOB_WHAT_IF), 1, &ord, &step);
      after = job_record_new (JOB_WHAT_IF, job_take_id (job, JOB_WHAT_IF), ord);
      job_record_set_text (after, WHAT_IF_SET, name);
      job_record_set_text (after, WHAT_IF_OBJECT, change->object);
      job_record_set_text (after, WHAT_IF_KEY, change->key);
      job_record_set_text (after, WHAT_IF_FIELD, change->field);
    }
  if (after)
    job_record_set_text (after, WHAT_IF_VALUE, value);
  job_edit_add (edit, present ? job_record_ref (present) : NULL, after);
}

void
job_edit_drop_what_if (TallyJob *job, JobEdit *edit, const char *name)
{
  for (guint i = 0; i < job_n (job, JOB_WHAT_IF); i++)
    {
      const JobRecord *r = job_at (job, JOB_WHAT_IF, i);
      if (strcmp (text_or_none (r->text[WHAT_IF_SET]), name) == 0)
        job_edit_add (edit, job_record_ref ((JobRecord *) r), NULL);
    }
}

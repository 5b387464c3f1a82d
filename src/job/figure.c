/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/figure.h"

#include "base/decimal.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *
text_or_none (const char *text)
{
  return text ? text : "";
}

static CostChange *
change_of (const JobRecord *r)
{
  return cost_change_new (text_or_none (r->text[CHANGE_OBJECT]), r->text[CHANGE_KEY], text_or_none (r->text[CHANGE_FIELD]),
                          text_or_none (r->text[CHANGE_VALUE]));
}

const JobRecord *
job_find_change (TallyJob *job, const char *object, const char *key, const char *field)
{
  for (guint i = 0; i < job_n (job, JOB_CHANGE); i++)
    {
      const JobRecord *r = job_at (job, JOB_CHANGE, i);
      if (g_strcmp0 (r->text[CHANGE_OBJECT], object) == 0 && strcmp (text_or_none (r->text[CHANGE_KEY]), key) == 0
          && g_strcmp0 (r->text[CHANGE_FIELD], field) == 0)
        return r;
    }
  return NULL;
}

void
job_edit_figure (TallyJob *job, JobEdit *edit, const char *object, const char *key, const char *field, const char *value)
{
  const JobRecord *present = job_find_change (job, object, key, field);
  JobRecord *after = NULL;
  gint64 ord, step;

  if (!present ? !value : g_strcmp0 (present->text[CHANGE_VALUE], value) == 0)
    return;
  if (value && present)
    after = job_record_copy (present);
  else if (value)
    {
      job_ord_before (job, JOB_CHANGE, job_n (job, JOB_CHANGE), 1, &ord, &step);
      after = job_record_new (JOB_CHANGE, job_take_id (job, JOB_CHANGE), ord);
      job_record_set_text (after, CHANGE_OBJECT, object);
      job_record_set_text (after, CHANGE_KEY, key);
      job_record_set_text (after, CHANGE_FIELD, field);
    }
  if (after)
    job_record_set_text (after, CHANGE_VALUE, value);
  job_edit_add (edit, present ? job_record_ref (present) : NULL, after);
}

gboolean
job_check_figure (TallyJob *job, const char *object, const char *key, const char *field, const char *value, Fault **fault)
{
  g_autoptr (GPtrArray) changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  const JobRecord *present = job_find_change (job, object, key, field);
  CostBasis *basis;

  for (guint i = 0; i < job_n (job, JOB_CHANGE); i++)
    {
      const JobRecord *r = job_at (job, JOB_CHANGE, i);
      g_ptr_array_add (changes, r == present ? cost_change_new (object, key, field, value) : change_of (r));
    }
  if (!present)
    g_ptr_array_add (changes, cost_change_new (object, key, field, value));
  basis = cost_basis_new (job_basis (job)->catalogue, changes, NULL, fault);
  if (!basis)
    return FALSE;
  cost_basis_unref (basis);
  return TRUE;
}

char *
job_figure_read (const char *typed, gboolean percent, Fault **fault)
{
  g_autofree char *text = g_strstrip (g_strdup (typed));
  gsize length = strlen (text);
  gint64 value;

  if (percent && length > 0 && text[length - 1] == '%')
    text[length - 1] = '\0';
  if (!decimal_parse (text, 4, &value, fault))
    return NULL;
  return decimal_print (value, 4, 0, FALSE);
}

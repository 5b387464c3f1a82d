/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/drawing.h"

#include "job/note-line.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
drawing_free (gpointer data)
{
  JobDrawing *drawing = data;

  g_free (drawing->key);
  g_free (drawing);
}

static const JobRecord *
find_record (TallyJob *job, const char *key)
{
  for (guint i = 0; i < job_n (job, JOB_DRAWING); i++)
    {
      const JobRecord *r = job_at (job, JOB_DRAWING, i);
      if (g_strcmp0 (r->text[DRAWING_KEY], key) == 0)
        return r;
    }
  return NULL;
}

static gint64
issue_of (const JobRecord *record)
{
  return record && record->num[DRAWING_ISSUE] != JOB_UNSET ? record->num[DRAWING_ISSUE] : 1;
}

static gint64
checked_of (const JobRecord *run)
{
  return run->num[RUN_CHECKED] == JOB_UNSET ? 1 : run->num[RUN_CHECKED];
}

static JobDrawing *
get (GHashTable *by_key, GPtrArray *all, TallyJob *job, const char *key)
{
  JobDrawing *drawing = g_hash_table_lookup (by_key, key);
  const JobRecord *record;

  if (drawing)
    return drawing;
  record = find_record (job, key);
  drawing = g_new0 (JobDrawing, 1);
  drawing->key = g_strdup (key);
  drawing->issue = issue_of (record);
  drawing->done = record && record->num[DRAWING_DONE] == 1;
  g_ptr_array_add (all, drawing);
  g_hash_table_insert (by_key, drawing->key, drawing);
  return drawing;
}

static int
compare (gconstpointer a, gconstpointer b)
{
  return g_utf8_collate ((*(JobDrawing *const *) a)->key, (*(JobDrawing *const *) b)->key);
}

GPtrArray *
job_drawings (TallyJob *job)
{
  GPtrArray *all = g_ptr_array_new_with_free_func (drawing_free);
  g_autoptr (GHashTable) by_key = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < job_n (job, JOB_DRAWING); i++)
    if (job_at (job, JOB_DRAWING, i)->text[DRAWING_KEY])
      get (by_key, all, job, job_at (job, JOB_DRAWING, i)->text[DRAWING_KEY]);
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      if (!run->text[RUN_DRAWING])
        continue;
      JobDrawing *drawing = get (by_key, all, job, run->text[RUN_DRAWING]);
      if (job_is_note_line (run))
        continue;
      drawing->runs++;
      drawing->recheck += checked_of (run) < drawing->issue;
    }
  g_ptr_array_sort (all, compare);
  return all;
}

/* The drawing's record as it shall be: a copy, or a first one. */
static JobRecord *
next_record (TallyJob *job, const char *key, JobEdit *edit)
{
  const JobRecord *before = find_record (job, key);
  JobRecord *after;
  gint64 ord, step;

  if (before)
    after = job_record_copy (before);
  else
    {
      job_ord_before (job, JOB_DRAWING, job_n (job, JOB_DRAWING), 1, &ord, &step);
      after = job_record_new (JOB_DRAWING, job_take_id (job, JOB_DRAWING), ord);
      job_record_set_text (after, DRAWING_KEY, key);
    }
  job_edit_add (edit, before ? job_record_ref (before) : NULL, after);
  return after;
}

JobEdit *
job_drawing_reissue (TallyJob *job, const char *key)
{
  g_autofree char *label = g_strdup_printf (_ ("new issue of %s"), key);
  JobEdit *edit = job_edit_new (label);
  JobRecord *after = next_record (job, key, edit);

  after->num[DRAWING_ISSUE] = issue_of (find_record (job, key)) + 1;
  after->num[DRAWING_DONE] = 0;
  return edit;
}

JobEdit *
job_drawing_set_done (TallyJob *job, const char *key, gboolean done)
{
  g_autofree char *label = g_strdup_printf (_ ("tick of %s"), key);
  JobEdit *edit = job_edit_new (label);

  next_record (job, key, edit)->num[DRAWING_DONE] = done ? 1 : 0;
  return edit;
}

JobEdit *
job_drawing_checked (TallyJob *job, const char *key)
{
  g_autofree char *label = g_strdup_printf (_ ("check of %s"), key);
  gint64 issue = issue_of (find_record (job, key));
  JobEdit *edit = job_edit_new (label);

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      if (g_strcmp0 (run->text[RUN_DRAWING], key) != 0 || checked_of (run) >= issue
          || job_is_note_line (run))
        continue;
      JobRecord *after = job_record_copy (run);
      after->num[RUN_CHECKED] = issue;
      job_edit_add (edit, job_record_ref (run), after);
    }
  return edit;
}

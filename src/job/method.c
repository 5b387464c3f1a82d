/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/job-private.h"

/* Puts the method into a text slot of a record, if it is another one there. */
static void
set_method (JobEdit *edit, const JobRecord *record, int slot, const char *key)
{
  JobRecord *after;

  if (g_strcmp0 (record->text[slot], key) == 0)
    return;
  after = job_record_copy (record);
  job_record_set_text (after, slot, key);
  if (record->type == JOB_RUN)
    job_record_set_raw (after, job_field_find (JOB_RUN, "method"), NULL);
  job_edit_add (edit, job_record_ref (record), after);
}

static gint64
part_of (gint64 id)
{
  return id == JOB_UNSET ? 0 : id;
}

static gboolean
in_scope (const JobScope *scope, const JobRecord *run)
{
  gint64 system = part_of (run->num[RUN_SYSTEM]), area = part_of (run->num[RUN_AREA]);

  return (scope->system == 0 || system == (scope->system < 0 ? 0 : scope->system))
         && (scope->area == 0 || area == (scope->area < 0 ? 0 : scope->area));
}

static const JobRecord *
find_cell (TallyJob *job, gint64 system, gint64 area)
{
  for (guint i = 0; i < job_n (job, JOB_CELL); i++)
    {
      const JobRecord *cell = job_at (job, JOB_CELL, i);
      if (cell->num[CELL_SYSTEM] == system && cell->num[CELL_AREA] == area)
        return cell;
    }
  return NULL;
}

static void
set_cell (TallyJob *job, JobEdit *edit, gint64 system, gint64 area, const char *key, gint64 *ord)
{
  const JobRecord *cell = find_cell (job, system, area);
  JobRecord *after;

  if (cell)
    {
      set_method (edit, cell, CELL_METHOD, key);
      return;
    }
  if (*ord == 0)
    {
      gint64 step;
      job_ord_before (job, JOB_CELL, job_n (job, JOB_CELL), 1, ord, &step);
    }
  after = job_record_new (JOB_CELL, job_take_id (job, JOB_CELL), (*ord)++);
  after->num[CELL_SYSTEM] = system;
  after->num[CELL_AREA] = area;
  job_record_set_text (after, CELL_METHOD, key);
  job_edit_add (edit, NULL, after);
}

/* One area over all systems, or one cell: what is written down once for each system. */
static void
set_cells (TallyJob *job, JobEdit *edit, const JobScope *scope, const char *key)
{
  g_autoptr (GHashTable) done = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  gint64 ord = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      gint64 system = part_of (run->num[RUN_SYSTEM]), area = part_of (run->num[RUN_AREA]);
      if (!in_scope (scope, run) || run->num[RUN_KIND] == DUCT_COUNTED)
        continue;
      if (system == 0 || area == 0)
        set_method (edit, run, RUN_METHOD, key);
      else if (g_hash_table_add (done, g_memdup2 (&system, sizeof system)))
        set_cell (job, edit, system, area, key, &ord);
    }
}

/* Takes a nearer choice away, so that what is inherited reaches the runs. */
static void
inherit (JobEdit *edit, const JobRecord *record, int slot, const char *key)
{
  if (record->text[slot] && g_strcmp0 (record->text[slot], key) != 0)
    set_method (edit, record, slot, NULL);
}

/* @system 0: every one. */
static void
inherit_below (TallyJob *job, JobEdit *edit, gint64 system, const char *key)
{
  for (guint i = 0; system == 0 && i < job_n (job, JOB_SYSTEM); i++)
    inherit (edit, job_at (job, JOB_SYSTEM, i), SYSTEM_METHOD, key);
  for (guint i = 0; i < job_n (job, JOB_CELL); i++)
    if (system == 0 || job_at (job, JOB_CELL, i)->num[CELL_SYSTEM] == system)
      inherit (edit, job_at (job, JOB_CELL, i), CELL_METHOD, key);
}

JobEdit *
job_edit_method (TallyJob *job, const JobScope *scope, const char *key, const char *label)
{
  JobEdit *edit = job_edit_new (label);

  if (scope->system == 0 && scope->area == 0)
    {
      set_method (edit, job_head (job), HEAD_METHOD, key);
      inherit_below (job, edit, 0, key);
    }
  else if (scope->system > 0 && scope->area == 0 && job_find (job, JOB_SYSTEM, scope->system))
    {
      set_method (edit, job_find (job, JOB_SYSTEM, scope->system), SYSTEM_METHOD, key);
      inherit_below (job, edit, scope->system, key);
    }
  else
    set_cells (job, edit, scope, key);
  return edit;
}

JobEdit *
job_edit_method_of_runs (TallyJob *job, const gint64 *ids, gsize n, const char *key, const char *label)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  JobEdit *edit = job_edit_new (label);

  for (gsize i = 0; i < n; i++)
    {
      const JobRecord *run = job_find (job, JOB_RUN, ids[i]);
      if (run && run->num[RUN_KIND] != DUCT_COUNTED && g_hash_table_add (seen, (gpointer) run))
        set_method (edit, run, RUN_METHOD, key);
    }
  return edit;
}

gint64
job_method_exceptions (TallyJob *job, const JobScope *scope, const char *key)
{
  gint64 n = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      gboolean alone = part_of (run->num[RUN_SYSTEM]) == 0 || part_of (run->num[RUN_AREA]) == 0;
      gboolean told = (scope->system < 0 || scope->area != 0) && alone; /* these get it on their own line */
      if (in_scope (scope, run) && run->num[RUN_KIND] != DUCT_COUNTED && !told)
        n += run->text[RUN_METHOD] && g_strcmp0 (run->text[RUN_METHOD], key) != 0;
    }
  return n;
}

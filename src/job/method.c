/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/job-private.h"
#include "job/note-line.h"

#include "cost/retire.h"

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

/* Counted lines and notes are made by no method. */
static gboolean
has_method (const JobRecord *run)
{
  return run->num[RUN_KIND] != DUCT_COUNTED && !job_is_note_line (run);
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

static void
set_cell (TallyJob *job, JobEdit *edit, gint64 system, gint64 area, const char *key, gint64 *ord)
{
  const JobRecord *cell = job_find_cell (job, system, area);
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
      if (!in_scope (scope, run) || !has_method (run))
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

/* A method for round duct is not allowed on rectangular runs. */
static gboolean
fits (TallyJob *job, const char *key, const JobRecord *run)
{
  int method = key ? catalogue_find_method (job->catalogue, key) : -1;
  int connection = method >= 0 ? catalogue_method (job->catalogue, method)->connection : -1;

  return connection < 0 || duct_rules_connection (job->catalogue->rules, connection)->section != DUCT_ROUND
         || run->num[RUN_H] == 0 || run->num[RUN_H] == JOB_UNSET;
}

/* Whether rectangular runs stand in the scope that @key is not for: then it is written on the round ones alone. */
static gboolean
for_some (TallyJob *job, const JobScope *scope, const char *key)
{
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      if (in_scope (scope, run) && has_method (run) && !fits (job, key, run))
        return TRUE;
    }
  return FALSE;
}

JobEdit *
job_edit_method (TallyJob *job, const JobScope *scope, const char *key, const char *label)
{
  JobEdit *edit = job_edit_new (label);

  if (for_some (job, scope, key))
    {
      for (guint i = 0; i < job_n (job, JOB_RUN); i++)
        {
          const JobRecord *run = job_at (job, JOB_RUN, i);
          if (in_scope (scope, run) && has_method (run) && fits (job, key, run))
            set_method (edit, run, RUN_METHOD, key);
        }
    }
  else if (scope->system == 0 && scope->area == 0)
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
      if (run && has_method (run) && fits (job, key, run) && g_hash_table_add (seen, (gpointer) run))
        set_method (edit, run, RUN_METHOD, key);
    }
  return edit;
}

gint64
job_method_exceptions (TallyJob *job, const JobScope *scope, const char *key)
{
  gint64 n = 0;

  if (for_some (job, scope, key))
    return 0; /* it is written on each of them */
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      gboolean alone = part_of (run->num[RUN_SYSTEM]) == 0 || part_of (run->num[RUN_AREA]) == 0;
      gboolean told = (scope->system < 0 || scope->area != 0) && alone; /* these get it on their own line */
      if (in_scope (scope, run) && has_method (run) && !told)
        n += run->text[RUN_METHOD] && g_strcmp0 (run->text[RUN_METHOD], key) != 0;
    }
  return n;
}

gboolean
job_offers_method (TallyJob *job, int method)
{
  static const int slots[JOB_N_TYPES] = { [JOB_HEAD] = HEAD_METHOD + 1, [JOB_SYSTEM] = SYSTEM_METHOD + 1,
                                          [JOB_CELL] = CELL_METHOD + 1, [JOB_RUN] = RUN_METHOD + 1 };
  const char *key = catalogue_method (job->catalogue, method)->key;

  if (!catalogue_is_retired (job->catalogue, CATALOGUE_METHODS, key))
    return TRUE;
  for (int type = 0; type < JOB_N_TYPES; type++)
    for (guint i = 0; slots[type] > 0 && i < job_n (job, (JobType) type); i++)
      {
        const char *named = job_at (job, (JobType) type, i)->text[slots[type] - 1];
        if (named && g_ascii_strcasecmp (named, key) == 0)
          return TRUE;
      }
  return FALSE;
}

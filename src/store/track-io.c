/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include <glib/gi18n.h>

/* Hours spent and what is done: beside the records of a job, so that booking hours is no edit of the take-off. */

#define COLUMNS "id, day, area_id, step_group, worker_mh, note, batch_id"

static gboolean
fail_row (Store *store, const char *table, gint64 id, int code, GError **error)
{
  g_autofree char *name = g_filename_display_name (store->db->path);

  g_set_error (error, STORE_ERROR, code,
               code == STORE_ERROR_DAMAGED
               ? _("%s holds a value that cannot be (table %s, id %" G_GINT64_FORMAT "): go back to a backup")
               : code == STORE_ERROR_CONFLICT
               ? _("%s was changed elsewhere meanwhile (table %s, id %" G_GINT64_FORMAT "): open the job again; nothing was"
                   " changed")
               : _("%s cannot keep a value (table %s, id %" G_GINT64_FORMAT "): enter another; nothing was changed"),
               name, table, id);
  return FALSE;
}

/* ---- hours ---- */

static gboolean
entry_ok (const HoursEntry *entry)
{
  return hours_day_ok (entry->day) && entry->area >= 0 && (int) entry->group >= 0 && entry->group < LABOUR_N_GROUPS &&
         entry->worker_mh > 0 && entry->worker_mh <= HOURS_MOST && entry->batch >= 0 &&
         g_utf8_validate (entry->note, -1, NULL);
}

/* NULL for a row that cannot be. */
static HoursEntry *
read_entry (sqlite3_stmt *statement)
{
  gboolean bad;
  const char *note = db_column_text (statement, 5, &bad);
  gint64 group = db_column_int (statement, 3);
  HoursEntry *entry = hours_entry_new (db_column_int (statement, 1), db_column_int (statement, 2),
                                       group >= 0 && group < LABOUR_N_GROUPS ? (LabourGroup) group : LABOUR_N_GROUPS,
                                       db_column_int (statement, 4), note);

  entry->id = db_column_int (statement, 0);
  entry->batch = db_column_int (statement, 6);
  if (!bad && entry_ok (entry))
    return entry;
  hours_entry_free (entry);
  return NULL;
}

GPtrArray *
store_hours (Store *store, gint64 job_id, GError **error)
{
  g_autoptr (GPtrArray) out = hours_list_new ();
  sqlite3_stmt *statement;
  DbStep step;

  g_return_val_if_fail (store != NULL, NULL);

  statement = db_prepare (store->db, "SELECT " COLUMNS " FROM hours WHERE job_id = ?1 ORDER BY day, id", error);
  if (statement == NULL)
    return NULL;
  db_bind (statement, "i", job_id);
  while ((step = db_step (store->db, statement, error)) == DB_ROW)
    {
      HoursEntry *entry = read_entry (statement);

      if (entry == NULL)
        {
          fail_row (store, "hours", db_column_int (statement, 0), STORE_ERROR_DAMAGED, error);
          db_reset (statement);
          return NULL;
        }
      g_ptr_array_add (out, entry);
    }
  return step == DB_DONE ? g_steal_pointer (&out) : NULL;
}

/* Whether the row is still as it was when the edit was made. */
static gboolean
check_before (Store *store, gint64 job_id, const HoursEntry *before, GError **error)
{
  sqlite3_stmt *statement = db_prepare (store->db, "SELECT " COLUMNS " FROM hours WHERE job_id = ?1 AND id = ?2", error);
  g_autoptr (GError) local = NULL;
  HoursEntry *now = NULL;
  gboolean same;

  if (statement == NULL)
    return FALSE;
  db_bind (statement, "ii", job_id, before->id);
  if (db_step (store->db, statement, &local) == DB_ROW)
    {
      now = read_entry (statement);
      db_reset (statement);
    }
  if (local != NULL)
    {
      g_propagate_error (error, g_steal_pointer (&local));
      return FALSE;
    }
  same = now != NULL && hours_entry_equal (now, before);
  hours_entry_free (now);
  return same || fail_row (store, "hours", before->id, STORE_ERROR_CONFLICT, error);
}

static gboolean
write_delta (Store *store, gint64 job_id, const HoursDelta *delta, GError **error)
{
  const HoursEntry *before = delta->before;
  HoursEntry *after = delta->after;

  if (before != NULL && !check_before (store, job_id, before, error))
    return FALSE;
  if (after != NULL && !entry_ok (after))
    return fail_row (store, "hours", after->id, STORE_ERROR_INVALID, error);
  if (after == NULL)
    return db_do (store->db, error, "DELETE FROM hours WHERE id = ?1", "i", before->id);
  if (before != NULL)
    {
      after->id = before->id;
      return db_do (store->db, error, "UPDATE hours SET day = ?2, area_id = ?3, step_group = ?4, worker_mh = ?5, note = ?6,"
                                      " batch_id = ?7 WHERE id = ?1", "iiiiiti", after->id, after->day, after->area,
                    (gint64) after->group, after->worker_mh, after->note, after->batch);
    }
  if (!db_do (store->db, error, "INSERT INTO hours (id, job_id, day, area_id, step_group, worker_mh, note, batch_id)"
                                " VALUES (?1, ?2, ?3, ?4, ?5, ?6, ?7, ?8)", "iiiiiiti",
              after->id != 0 ? after->id : JOB_UNSET, job_id, after->day, after->area, (gint64) after->group,
              after->worker_mh, after->note, after->batch))
    return FALSE;
  after->id = sqlite3_last_insert_rowid (store->db->handle);
  return TRUE;
}

/* A line of the job's history; the count of its edits stays. Refuses for a job that is not there. */
static gboolean
log_line (Store *store, gint64 job_id, const char *label, GError **error)
{
  g_autoptr (GError) local = NULL;
  gint64 seq;

  if (db_int (store->db, &seq, &local, "SELECT edit_seq FROM job WHERE id = ?1", "i", job_id))
    return store_log (store, job_id, seq, label, "", error);
  if (local == NULL)
    return store_no_job (store, job_id, error);
  g_propagate_error (error, g_steal_pointer (&local));
  return FALSE;
}

static gboolean
write_hours (Store *store, gint64 job_id, const HoursEdit *edit, GError **error)
{
  if (!log_line (store, job_id, edit->label, error))
    return FALSE;
  for (guint i = 0; i < edit->deltas->len; i++)
    if (!write_delta (store, job_id, &g_array_index (edit->deltas, HoursDelta, i), error))
      return FALSE;
  return TRUE;
}

/* Ids given in a transaction that did not last. */
static void
forget_ids (HoursEdit *edit, const gboolean *fresh)
{
  for (guint i = 0; i < edit->deltas->len; i++)
    if (fresh[i])
      g_array_index (edit->deltas, HoursDelta, i).after->id = 0;
}

gboolean
store_hours_apply (Store *store, gint64 job_id, HoursEdit *edit, GError **error)
{
  g_autofree gboolean *fresh = NULL;

  g_return_val_if_fail (store != NULL && edit != NULL, FALSE);

  fresh = g_new0 (gboolean, edit->deltas->len + 1);
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const HoursDelta *delta = &g_array_index (edit->deltas, HoursDelta, i);
      fresh[i] = delta->before == NULL && delta->after->id == 0;
    }
  if (!db_begin (store->db, error))
    return FALSE;
  if (!write_hours (store, job_id, edit, error))
    {
      db_rollback (store->db);
      forget_ids (edit, fresh);
      return FALSE;
    }
  if (db_commit (store->db, error))
    return TRUE;
  forget_ids (edit, fresh);
  return FALSE;
}

gint64
store_hours_new_batch (Store *store, gint64 job_id, GError **error)
{
  gint64 last;

  g_return_val_if_fail (store != NULL, 0);

  if (!db_int (store->db, &last, error, "SELECT coalesce (max (batch_id), 0) FROM hours WHERE job_id = ?1", "i", job_id))
    return 0;
  return last + 1;
}

/* ---- done ---- */

static gboolean
tick_ok (const DoneTick *tick)
{
  return tick->run > 0 && (int) tick->stage >= 0 && tick->stage < DONE_N_STAGES && tick->ppm >= 0 && tick->ppm <= DONE_ALL &&
         hours_day_ok (tick->day);
}

GArray *
store_done (Store *store, gint64 job_id, GError **error)
{
  g_autoptr (GArray) out = g_array_new (FALSE, FALSE, sizeof (DoneTick));
  sqlite3_stmt *statement;
  DbStep step;

  g_return_val_if_fail (store != NULL, NULL);

  statement = db_prepare (store->db, "SELECT run_id, stage, ppm, day FROM done WHERE job_id = ?1 ORDER BY run_id, stage", error);
  if (statement == NULL)
    return NULL;
  db_bind (statement, "i", job_id);
  while ((step = db_step (store->db, statement, error)) == DB_ROW)
    {
      gint64 stage = db_column_int (statement, 1);
      DoneTick tick = { db_column_int (statement, 0),
                        stage >= 0 && stage < DONE_N_STAGES ? (DoneStage) stage : DONE_N_STAGES,
                        db_column_int (statement, 2), db_column_int (statement, 3) };

      if (!tick_ok (&tick))
        {
          fail_row (store, "done", tick.run, STORE_ERROR_DAMAGED, error);
          db_reset (statement);
          return NULL;
        }
      g_array_append_val (out, tick);
    }
  return step == DB_DONE ? g_steal_pointer (&out) : NULL;
}

static gboolean
write_tick (Store *store, gint64 job_id, const DoneTick *tick, GError **error)
{
  if (!tick_ok (tick))
    return fail_row (store, "done", tick->run, STORE_ERROR_INVALID, error);
  if (tick->ppm == 0)
    return db_do (store->db, error, "DELETE FROM done WHERE job_id = ?1 AND run_id = ?2 AND stage = ?3", "iii", job_id,
                  tick->run, (gint64) tick->stage);
  return db_do (store->db, error, "INSERT INTO done (job_id, run_id, stage, ppm, day) VALUES (?1, ?2, ?3, ?4, ?5)"
                                  " ON CONFLICT (job_id, run_id, stage) DO UPDATE SET ppm = excluded.ppm, day = excluded.day",
                "iiiii", job_id, tick->run, (gint64) tick->stage, tick->ppm, tick->day);
}

gboolean
store_done_set (Store *store, gint64 job_id, const DoneTick *tick, gsize n, const char *label, GError **error)
{
  gboolean good;

  g_return_val_if_fail (store != NULL && label != NULL, FALSE);

  if (!db_begin (store->db, error))
    return FALSE;
  good = log_line (store, job_id, label, error);
  for (gsize i = 0; good && i < n; i++)
    good = write_tick (store, job_id, &tick[i], error);
  if (good)
    return db_commit (store->db, error);
  db_rollback (store->db);
  return FALSE;
}

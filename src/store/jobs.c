/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include <glib/gi18n.h>

/* The list of an office's jobs: making, copying and deleting whole ones. */

void
store_job_info_free (StoreJobInfo *info)
{
  if (info == NULL)
    return;
  g_free (info->uid);
  g_free (info->name);
  g_free (info->created_at);
  g_free (info->edited_at);
  g_free (info);
}

static char *
dup_text (sqlite3_stmt *statement, int at)
{
  const char *text = db_column_text (statement, at, NULL);

  return g_strdup (text != NULL ? text : "");
}

GPtrArray *
store_jobs (Store *store, GError **error)
{
  g_autoptr (GPtrArray) out = g_ptr_array_new_with_free_func ((GDestroyNotify) store_job_info_free);
  g_autofree char *sql = g_strdup_printf ("SELECT id, uid, name, revision_id, created_at, edited_at,"
                                          " (SELECT count (*) FROM run WHERE job_id = job.id AND kind IS NOT %d) FROM job"
                                          " ORDER BY name COLLATE NOCASE, id", (int) DUCT_REMARK);
  sqlite3_stmt *statement;
  DbStep step;

  g_return_val_if_fail (store != NULL, NULL);

  statement = db_prepare (store->db, sql, error);
  if (statement == NULL)
    return NULL;
  while ((step = db_step (store->db, statement, error)) == DB_ROW)
    {
      StoreJobInfo *info = g_new0 (StoreJobInfo, 1);

      info->id = db_column_int (statement, 0);
      info->uid = dup_text (statement, 1);
      info->name = dup_text (statement, 2);
      info->revision = db_column_int (statement, 3);
      info->created_at = dup_text (statement, 4);
      info->edited_at = dup_text (statement, 5);
      info->runs = db_column_int (statement, 6);
      g_ptr_array_add (out, info);
    }
  return step == DB_DONE ? g_steal_pointer (&out) : NULL;
}

gint64
store_find_job (Store *store, const char *name)
{
  gint64 id;

  g_return_val_if_fail (store != NULL && name != NULL, 0);

  if (!db_int (store->db, &id, NULL, "SELECT min (id) FROM job WHERE name = ?1", "t", name) || id == JOB_UNSET)
    return 0;
  return id;
}

/* ---- making ---- */

/* The row of a new job, its fields still open. */
static gint64
insert_job (Store *store, gint64 revision, GError **error)
{
  static const char digit[] = "0123456789abcdef";
  g_autofree char *now = store_now ();
  guint8 random[16];
  char uid[33] = "";

  sqlite3_randomness (sizeof random, random);
  for (gsize i = 0; i < sizeof random; i++)
    {
      uid[2 * i] = digit[random[i] >> 4];
      uid[2 * i + 1] = digit[random[i] & 15];
    }
  if (!db_do (store->db, error, "INSERT INTO job (uid, revision_id, created_at, edited_at) VALUES (?1, ?2, ?3, ?3)",
              "tit",
              uid, revision, now))
    return 0;
  return sqlite3_last_insert_rowid (store->db->handle);
}

/* Ends the transaction of a new job: 0 when it must not stay. */
static gint64
finish_job (Store *store, gint64 id, GError **error)
{
  if (id != 0)
    return db_commit (store->db, error) ? id : 0;
  db_rollback (store->db);
  return 0;
}

static gint64
write_job (Store *store, TallyJob *job, gint64 revision, GError **error)
{
  g_autoptr (JobRecord) blank = job_record_new (JOB_HEAD, job_head (job)->id, 0);
  gint64 id = insert_job (store, revision, error);

  if (id == 0 || !store_write_record (store, id, blank, job_head (job), FALSE, error))
    return 0;
  for (JobType type = JOB_HEAD + 1; type < JOB_N_TYPES; type++)
    for (guint i = 0; i < job_n (job, type); i++)
      if (!store_write_record (store, id, NULL, job_at (job, type, i), FALSE, error))
        return 0;
  return store_log (store, id, 0, _("new job"), "", error) ? id : 0;
}

gint64
store_create_job (Store *store, TallyJob *job, gint64 revision, GError **error)
{
  g_return_val_if_fail (store != NULL && TALLY_IS_JOB (job), 0);

  if (revision == 0)
    revision = store_newest_revision (store, error);
  if (revision == 0 || !db_begin (store->db, error))
    return 0;
  return finish_job (store, write_job (store, job, revision, error), error);
}

static gint64
copy_job (Store *store, gint64 from, const char *name, GError **error)
{
  g_autoptr (GError) local = NULL;
  gint64 revision, id;

  if (!db_int (store->db, &revision, &local, "SELECT revision_id FROM job WHERE id = ?1", "i", from))
    {
      if (local == NULL)
        store_no_job (store, from, &local);
      g_propagate_error (error, g_steal_pointer (&local));
      return 0;
    }
  id = insert_job (store, revision, error);
  if (id == 0)
    return 0;
  for (JobType type = 0; type < JOB_N_TYPES; type++)
    if (!db_do (store->db, error, store->table[type]->copy, "ii", from, id))
      return 0;
  if (!db_do (store->db, error, "UPDATE job SET name = ?2 WHERE id = ?1", "it", id, name) ||
      !db_do (store->db, error, "INSERT INTO raw (job_id, type, record_id, field, text)"
                                " SELECT ?2, type, record_id, field, text FROM raw WHERE job_id = ?1", "ii", from,
                                id) ||
      !db_do (store->db, error, "INSERT INTO last_id (job_id, type, id)"
                                " SELECT ?2, type, id FROM last_id WHERE job_id = ?1", "ii", from, id) ||
      !store_log (store, id, 0, _("copy of a job"), "", error))
    return 0;
  return id;
}

gint64
store_duplicate_job (Store *store, gint64 id, const char *name, GError **error)
{
  g_return_val_if_fail (store != NULL && name != NULL && g_utf8_validate (name, -1, NULL), 0);

  if (!db_begin (store->db, error))
    return 0;
  return finish_job (store, copy_job (store, id, name, error), error);
}

static gboolean
remove_job (Store *store, gint64 id, GError **error)
{
  g_autoptr (GError) local = NULL;
  gint64 seq;

  if (!db_int (store->db, &seq, &local, "SELECT edit_seq FROM job WHERE id = ?1", "i", id))
    {
      if (local == NULL)
        store_no_job (store, id, &local);
      g_propagate_error (error, g_steal_pointer (&local));
      return FALSE;
    }
  return store_log (store, id, seq + 1, _("job deleted"), "", error) &&
         db_do (store->db, error, "DELETE FROM job WHERE id = ?1", "i", id);
}

gboolean
store_delete_job (Store *store, gint64 id, GError **error)
{
  g_return_val_if_fail (store != NULL, FALSE);

  if (!db_begin (store->db, error))
    return FALSE;
  if (remove_job (store, id, error))
    return db_commit (store->db, error);
  db_rollback (store->db);
  return FALSE;
}

/* ---- the history ---- */

void
store_log_line_free (StoreLogLine *line)
{
  if (line == NULL)
    return;
  g_free (line->at);
  g_free (line->who);
  g_free (line->label);
  g_free (line->detail);
  g_free (line);
}

GPtrArray *
store_job_log (Store *store, gint64 id, GError **error)
{
  g_autoptr (GPtrArray) out = g_ptr_array_new_with_free_func ((GDestroyNotify) store_log_line_free);
  sqlite3_stmt *statement;
  DbStep step;

  g_return_val_if_fail (store != NULL, NULL);

  statement = db_prepare (store->db, "SELECT seq, at, who, label, detail FROM change_log WHERE job_id = ?1 ORDER BY id",
                          error);
  if (statement == NULL)
    return NULL;
  db_bind (statement, "i", id);
  while ((step = db_step (store->db, statement, error)) == DB_ROW)
    {
      StoreLogLine *line = g_new0 (StoreLogLine, 1);

      line->seq = db_column_int (statement, 0);
      line->at = dup_text (statement, 1);
      line->who = dup_text (statement, 2);
      line->label = dup_text (statement, 3);
      line->detail = dup_text (statement, 4);
      g_ptr_array_add (out, line);
    }
  return step == DB_DONE ? g_steal_pointer (&out) : NULL;
}

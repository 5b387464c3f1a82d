/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include <glib/gi18n.h>

void
store_mark_free (StoreMark *mark)
{
  if (mark == NULL)
    return;
  g_clear_pointer (&mark->mark, job_mark_free);
  g_free (mark);
}

GPtrArray *
store_marks (Store *store, gint64 job_id, GError **error)
{
  g_autoptr (GPtrArray) out = g_ptr_array_new_with_free_func ((GDestroyNotify) store_mark_free);
  sqlite3_stmt *statement;
  DbStep step;

  g_return_val_if_fail (store != NULL, NULL);

  statement = db_prepare (store->db, "SELECT id, figures FROM mark WHERE job_id = ?1 ORDER BY id", error);
  if (statement == NULL)
    return NULL;
  db_bind (statement, "i", job_id);
  while ((step = db_step (store->db, statement, error)) == DB_ROW)
    {
      StoreMark *mark = g_new0 (StoreMark, 1);
      const char *text = db_column_text (statement, 1, NULL);

      mark->id = db_column_int (statement, 0);
      mark->mark = text != NULL ? job_mark_parse (text, NULL) : NULL;
      g_ptr_array_add (out, mark);
    }
  return step == DB_DONE ? g_steal_pointer (&out) : NULL;
}

gint64
store_add_mark (Store *store, gint64 job_id, const JobMark *mark, GError **error)
{
  g_autofree char *text = NULL;
  g_autoptr (GError) local = NULL;
  gint64 seq, id;

  g_return_val_if_fail (store != NULL && mark != NULL, 0);

  text = job_mark_print (mark);
  if (!g_utf8_validate (text, -1, NULL))
    {
      g_set_error_literal (error, STORE_ERROR, STORE_ERROR_INVALID, _ ("the name of the mark is no text; type another name"));
      return 0;
    }
  if (!db_begin (store->db, error))
    return 0;
  if (!db_int (store->db, &seq, &local, "SELECT edit_seq FROM job WHERE id = ?1", "i", job_id))
    {
      if (local == NULL)
        store_no_job (store, job_id, &local);
      g_propagate_error (error, g_steal_pointer (&local));
      db_rollback (store->db);
      return 0;
    }
  if (!store_log (store, job_id, seq, _ ("mark set"), mark->name, error)
      || !db_do (store->db, error, "INSERT INTO mark (job_id, figures) VALUES (?1, ?2)", "it", job_id, text))
    {
      db_rollback (store->db);
      return 0;
    }
  id = sqlite3_last_insert_rowid (store->db->handle);
  return db_commit (store->db, error) ? id : 0;
}

gboolean
store_remove_mark (Store *store, gint64 id, GError **error)
{
  g_return_val_if_fail (store != NULL, FALSE);

  if (!db_begin (store->db, error))
    return FALSE;
  if (db_do (store->db, error, "DELETE FROM mark WHERE id = ?1", "i", id))
    return db_commit (store->db, error);
  db_rollback (store->db);
  return FALSE;
}

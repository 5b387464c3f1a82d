/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include <glib/gi18n.h>

void
store_draft_free (StoreDraft *draft)
{
  if (draft == NULL)
    return;
  for (int sheet = 0; sheet < CATALOGUE_N_SHEETS; sheet++)
    g_clear_pointer (&draft->table[sheet], csv_table_free);
  g_free (draft->at);
  g_free (draft->who);
  g_free (draft);
}

/* The draft stands in the table "office": "draft.revision", "draft.at" and "draft.who" are there while there is one, and
 * "draft.sheet.items" holds a sheet that differs from the revision, as the text of a CSV file. "draft.count" counts the changes and
 * stays, so that no id comes twice. */
#define SHEET_KEY "draft.sheet."

/* ---- reading ---- */

/* "" when there is no such key; NULL with @error. */
static char *
value_of (Db *db, const char *key, GError **error)
{
  sqlite3_stmt *statement = db_prepare (db, "SELECT value FROM office WHERE key = ?1", error);
  g_autofree char *value = g_strdup ("");
  DbStep step;

  if (statement == NULL)
    return NULL;
  db_bind (statement, "t", key);
  while ((step = db_step (db, statement, error)) == DB_ROW)
    {
      g_free (value);
      value = g_strdup (db_column_text (statement, 0, NULL));
    }
  return step == DB_DONE ? g_steal_pointer (&value) : NULL;
}

/* Id of the draft, 0 when there is none; FALSE with @error. */
static gboolean
present_draft (Db *db, gint64 *id, GError **error)
{
  return db_int (db, id, error, "SELECT coalesce (max (CAST (value AS INTEGER)), 0) FROM office WHERE key = 'draft.count'"
                                " AND EXISTS (SELECT 1 FROM office WHERE key = 'draft.revision')", "");
}

static gboolean
fail_damaged (Db *db, const char *words, GError **error)
{
  g_autofree char *file = g_filename_display_name (db->path);

  g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
               _("The draft of the catalogue in %s cannot be read (%s): the next change begins a new one"), file, words);
  return FALSE;
}

static gboolean
read_sheet (Db *db, CatalogueSheet sheet, CsvTable **table, GError **error)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autofree char *key = g_strconcat (SHEET_KEY, catalogue_sheet_key (sheet), NULL);
  g_autofree char *name = g_strconcat (catalogue_sheet_key (sheet), ".csv", NULL), *text = value_of (db, key, error);

  if (text == NULL)
    return FALSE;
  if (*text == '\0')
    return TRUE;
  *table = csv_parse (text, -1, name, faults);
  if (faults->len == 0)
    return TRUE;
  g_autofree char *words = csv_fault_words (g_ptr_array_index (faults, 0));
  return fail_damaged (db, words, error);
}

static gboolean
read_draft (Db *db, StoreDraft *draft, GError **error)
{
  g_autofree char *revision = value_of (db, "draft.revision", error);

  draft->at = revision != NULL ? value_of (db, "draft.at", error) : NULL;
  draft->who = draft->at != NULL ? value_of (db, "draft.who", error) : NULL;
  if (draft->who == NULL)
    return FALSE;
  draft->revision = g_ascii_strtoll (revision, NULL, 10);
  if (draft->revision < 1)
    return fail_damaged (db, "draft.revision", error);
  for (CatalogueSheet sheet = 0; sheet < CATALOGUE_N_SHEETS; sheet++)
    if (!read_sheet (db, sheet, &draft->table[sheet], error))
      return FALSE;
  return TRUE;
}

gboolean
store_read_draft (Store *store, StoreDraft **draft, GError **error)
{
  gint64 id;
  gboolean done;

  g_return_val_if_fail (store != NULL && draft != NULL, FALSE);

  *draft = NULL;
  if (!db_do (store->db, error, "BEGIN", ""))
    return FALSE;
  done = present_draft (store->db, &id, error);
  if (done && id > 0)
    {
      *draft = g_new0 (StoreDraft, 1);
      (*draft)->id = id;
      done = read_draft (store->db, *draft, error);
    }
  /* Nothing was written: it only ends the view of one state. */
  db_rollback (store->db);
  if (!done)
    g_clear_pointer (draft, store_draft_free);
  return done;
}

/* ---- writing ---- */

static gboolean
check_seen (Db *db, gint64 seen, GError **error)
{
  gint64 id;

  if (!present_draft (db, &id, error))
    return FALSE;
  if (id == seen || seen == STORE_ANY_DRAFT)
    return TRUE;
  g_autofree char *name = g_filename_display_name (db->path);
  g_set_error (error, STORE_ERROR, STORE_ERROR_CONFLICT,
               _("The draft of the catalogue in %s was changed in another window or program: open the catalogue again to see "
                 "it as it is now"), name);
  return FALSE;
}

static gboolean
remove_draft (Db *db, GError **error)
{
  return db_do (db, error, "DELETE FROM office WHERE substr (key, 1, 6) = 'draft.' AND key <> 'draft.count'", "");
}

static gboolean
set_value (Db *db, const char *key, const char *value, GError **error)
{
  return db_do (db, error, "INSERT INTO office (key, value) VALUES (?1, ?2)", "tt", key, value);
}

static gboolean
write_sheet (Db *db, CatalogueSheet sheet, const CsvTable *table, GError **error)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *key = g_strconcat (SHEET_KEY, catalogue_sheet_key (sheet), NULL);

  csv_append_row (text, (const char *const *) table->head->pdata, table->head->len);
  for (guint i = 0; i < table->row->len; i++)
    {
      const GPtrArray *cell = ((const CsvRow *) g_ptr_array_index (table->row, i))->cell;
      csv_append_row (text, (const char *const *) cell->pdata, cell->len);
    }
  return set_value (db, key, text->str, error);
}

static gint64
write_draft (Db *db, gint64 revision, CsvTable *const table[CATALOGUE_N_SHEETS], GError **error)
{
  g_autofree char *now = store_now (), *who = g_utf8_make_valid (g_get_user_name (), -1);
  g_autofree char *begun = g_strdup_printf ("%" G_GINT64_FORMAT, revision);
  gint64 id;

  if (!db_do (db, error, "INSERT INTO office (key, value) VALUES ('draft.count', '1') ON CONFLICT (key) DO UPDATE"
                         " SET value = CAST (CAST (value AS INTEGER) + 1 AS TEXT)", "")
      || !set_value (db, "draft.revision", begun, error) || !set_value (db, "draft.at", now, error)
      || !set_value (db, "draft.who", who, error))
    return 0;
  for (CatalogueSheet sheet = 0; sheet < CATALOGUE_N_SHEETS; sheet++)
    if (table[sheet] != NULL && !write_sheet (db, sheet, table[sheet], error))
      return 0;
  return present_draft (db, &id, error) ? id : 0;
}

gint64
store_keep_draft (Store *store, gint64 seen, gint64 revision, CsvTable *const table[CATALOGUE_N_SHEETS], GError **error)
{
  gint64 id = 0;

  g_return_val_if_fail (store != NULL && table != NULL && revision > 0, 0);

  if (!db_begin (store->db, error))
    return 0;
  if (check_seen (store->db, seen, error) && remove_draft (store->db, error))
    id = write_draft (store->db, revision, table, error);
  if (id != 0)
    return db_commit (store->db, error) ? id : 0;
  db_rollback (store->db);
  return 0;
}

gboolean
store_drop_draft (Store *store, gint64 seen, GError **error)
{
  g_return_val_if_fail (store != NULL, FALSE);

  if (!db_begin (store->db, error))
    return FALSE;
  if (check_seen (store->db, seen, error) && remove_draft (store->db, error))
    return db_commit (store->db, error);
  db_rollback (store->db);
  return FALSE;
}

gint64
store_accept_draft (Store *store, gint64 seen, CsvTable *const table[CATALOGUE_N_SHEETS], const char *reason,
                    const char *source, GError **error)
{
  gint64 revision = 0;

  g_return_val_if_fail (store != NULL && table != NULL && reason != NULL && source != NULL, 0);

  if (!db_begin (store->db, error))
    return 0;
  if (check_seen (store->db, seen, error))
    revision = store_write_revision (store->db, table, reason, source, error);
  if (revision != 0 && remove_draft (store->db, error))
    return db_commit (store->db, error) ? revision : 0;
  db_rollback (store->db);
  return 0;
}

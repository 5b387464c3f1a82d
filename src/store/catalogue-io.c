/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include <glib/gi18n.h>

static gboolean
write_line (Db *db, gint64 revision, const char *sheet, guint ord, GPtrArray *cell, GError **error)
{
  g_autoptr (GString) line = g_string_new (NULL);

  csv_append_row (line, (const char *const *) cell->pdata, cell->len);
  g_string_truncate (line, line->len - 1);
  return db_do (db, error, "INSERT INTO catalogue_row (revision_id, sheet, ord, line) VALUES (?1, ?2, ?3, ?4)", "itit",
                revision, sheet, (gint64) ord, line->str);
}

static gboolean
write_sheet (Db *db, gint64 revision, CatalogueSheet sheet, const CsvTable *table, GError **error)
{
  const char *key = catalogue_sheet_key (sheet);

  if (!write_line (db, revision, key, 0, table->head, error))
    return FALSE;
  for (guint i = 0; i < table->row->len; i++)
    {
      const CsvRow *row = g_ptr_array_index (table->row, i);
      if (!write_line (db, revision, key, i + 1, row->cell, error))
        return FALSE;
    }
  return TRUE;
}

/* The sheet as the text of a CSV file; "" when it is not there. NULL with @error. */
static char *
sheet_text (Db *db, gint64 revision, CatalogueSheet sheet, GError **error)
{
  g_autoptr (GString) out = g_string_new (NULL);
  sqlite3_stmt *statement = db_prepare (db, "SELECT line FROM catalogue_row WHERE revision_id = ?1 AND sheet = ?2"
                                            " ORDER BY ord", error);
  DbStep step;

  if (statement == NULL)
    return NULL;
  db_bind (statement, "it", revision, catalogue_sheet_key (sheet));
  while ((step = db_step (db, statement, error)) == DB_ROW)
    {
      g_string_append_len (out, (const char *) sqlite3_column_text (statement, 0), sqlite3_column_bytes (statement, 0));
      g_string_append_c (out, '\n');
    }
  return step == DB_DONE ? g_string_free (g_steal_pointer (&out), FALSE) : NULL;
}

static gboolean
fail_faults (Db *db, gint64 revision, GPtrArray *faults, GError **error)
{
  g_autofree char *name = g_filename_display_name (db->path);
  g_autofree char *first = faults->len > 0 ? csv_fault_words (g_ptr_array_index (faults, 0)) : g_strdup ("");

  g_set_error (error, STORE_ERROR, STORE_ERROR_INVALID,
               g_dngettext (GETTEXT_PACKAGE, "Revision %" G_GINT64_FORMAT " of the catalogue in %s has %u fault: %s",
                            "Revision %" G_GINT64_FORMAT " of the catalogue in %s has %u faults, the first: %s",
                            faults->len), revision, name, faults->len, first);
  return FALSE;
}

static Catalogue *
read_revision (Db *db, gint64 revision, GError **error)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  CsvTable *table[CATALOGUE_N_SHEETS] = { NULL };
  Catalogue *catalogue = NULL;
  gboolean whole = TRUE;

  for (CatalogueSheet sheet = 0; whole && sheet < CATALOGUE_N_SHEETS; sheet++)
    {
      g_autofree char *text = sheet_text (db, revision, sheet, error);
      g_autofree char *name = g_strdup_printf ("%s.csv", catalogue_sheet_key (sheet));

      /* A revision from before this table was known has none of its rows. */
      if (text != NULL && *text == '\0' && sheet > CATALOGUE_BUILDUP)
        {
          g_free (text);
          text = catalogue_headings (sheet);
        }
      if (text != NULL)
        table[sheet] = csv_parse (text, -1, name, faults);
      if (text != NULL && (table[sheet] == NULL || faults->len > 0))
        fail_faults (db, revision, faults, error);
      whole = table[sheet] != NULL && faults->len == 0;
    }
  if (!whole)
    {
      for (CatalogueSheet sheet = 0; sheet < CATALOGUE_N_SHEETS; sheet++)
        g_clear_pointer (&table[sheet], csv_table_free);
      return NULL;
    }
  catalogue = catalogue_new (table, faults);
  if (catalogue == NULL)
    fail_faults (db, revision, faults, error);
  return catalogue;
}

gint64
store_write_revision (Db *db, CsvTable *const table[CATALOGUE_N_SHEETS], const char *reason, const char *source,
                      GError **error)
{
  g_autofree char *now = store_now ();
  g_autoptr (Catalogue) catalogue = NULL;
  gint64 revision;

  if (!db_do (db, error, "INSERT INTO revision (at, reason, source, state) VALUES (?1, ?2, ?3, 'draft')", "ttt", now,
              reason,
              source))
    return 0;
  revision = sqlite3_last_insert_rowid (db->handle);
  for (CatalogueSheet sheet = 0; sheet < CATALOGUE_N_SHEETS; sheet++)
    if (!write_sheet (db, revision, sheet, table[sheet], error))
      return 0;
  /* What was written is what must be sound, not what was meant. */
  catalogue = read_revision (db, revision, error);
  if (catalogue == NULL ||
      !db_do (db, error, "UPDATE revision SET state = 'accepted' WHERE id = ?1", "i", revision))
    return 0;
  return revision;
}

gint64
store_add_revision (Store *store, CsvTable *const table[CATALOGUE_N_SHEETS], const char *reason, const char *source,
                    GError **error)
{
  gint64 revision;

  g_return_val_if_fail (store != NULL && table != NULL && reason != NULL && source != NULL, 0);

  if (!db_begin (store->db, error))
    return 0;
  revision = store_write_revision (store->db, table, reason, source, error);
  if (revision != 0)
    return db_commit (store->db, error) ? revision : 0;
  db_rollback (store->db);
  return 0;
}

static gboolean
no_revision (Store *store, gint64 revision, GError **error)
{
  g_autofree char *name = g_filename_display_name (store->db->path);

  g_set_error (error, STORE_ERROR, STORE_ERROR_NOT_FOUND,
               _("There is no accepted revision %" G_GINT64_FORMAT " of the catalogue in %s: choose one of its list"),
               revision, name);
  return FALSE;
}

gint64
store_newest_revision (Store *store, GError **error)
{
  gint64 revision;

  if (!db_int (store->db, &revision, error, "SELECT max (id) FROM revision WHERE state = 'accepted'", ""))
    return 0;
  if (revision != JOB_UNSET)
    return revision;
  no_revision (store, 0, error);
  return 0;
}

Catalogue *
store_catalogue (Store *store, gint64 revision, GError **error)
{
  g_autoptr (GError) local = NULL;
  Catalogue *catalogue;
  gint64 found;

  g_return_val_if_fail (store != NULL, NULL);

  if (revision == 0)
    revision = store_newest_revision (store, error);
  if (revision == 0)
    return NULL;
  catalogue = g_hash_table_lookup (store->catalogue, &revision);
  if (catalogue != NULL)
    return catalogue_ref (catalogue);
  if (!db_int (store->db, &found, &local, "SELECT id FROM revision WHERE id = ?1 AND state = 'accepted'", "i",
               revision))
    {
      if (local == NULL)
        no_revision (store, revision, &local);
      g_propagate_error (error, g_steal_pointer (&local));
      return NULL;
    }
  catalogue = read_revision (store->db, revision, error);
  if (catalogue != NULL)
    g_hash_table_insert (store->catalogue, g_memdup2 (&revision, sizeof revision), catalogue_ref (catalogue));
  return catalogue;
}

void
store_revision_free (StoreRevision *revision)
{
  if (revision == NULL)
    return;
  g_free (revision->at);
  g_free (revision->reason);
  g_free (revision->source);
  g_free (revision);
}

GPtrArray *
store_revisions (Store *store, GError **error)
{
  g_autoptr (GPtrArray) out = g_ptr_array_new_with_free_func ((GDestroyNotify) store_revision_free);
  sqlite3_stmt *statement = db_prepare (store->db,
                                        "SELECT id, at, reason, source FROM revision WHERE state = 'accepted'"
                                                   " ORDER BY id", error);
  DbStep step;

  if (statement == NULL)
    return NULL;
  while ((step = db_step (store->db, statement, error)) == DB_ROW)
    {
      StoreRevision *revision = g_new0 (StoreRevision, 1);

      revision->id = db_column_int (statement, 0);
      revision->at = g_strdup (db_column_text (statement, 1, NULL));
      revision->reason = g_strdup (db_column_text (statement, 2, NULL));
      revision->source = g_strdup (db_column_text (statement, 3, NULL));
      g_ptr_array_add (out, revision);
    }
  return step == DB_DONE ? g_steal_pointer (&out) : NULL;
}

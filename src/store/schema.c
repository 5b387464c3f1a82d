/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include "store/sql-resources.h"

#include <glib/gi18n.h>

/* By JobType. */
static const char *const table_name[JOB_N_TYPES] = { "job", "system", "area", "cell", "job_change", "run", "drawing",
                                                        "setting", "what_if", "stock" };

static const char *
resource_text (const char *name)
{
  g_autofree char *path = g_strconcat ("/store/", name, NULL);
  g_autoptr (GBytes) bytes = g_resource_lookup_data (store_sql_get_resource (), path, 0, NULL);

  g_assert (bytes != NULL);
  /* The text lies in the program and ends with a NUL, as every file compiled in does. */
  return g_bytes_get_data (bytes, NULL);
}

/* Append only: a version that left the house is never changed again. */
const StoreMigration *
store_migrations (int *n)
{
  static StoreMigration list[] = { { 1, "001.sql" }, { 2, "002.sql" }, { 3, "003.sql" }, { 4, "004.sql" } };
  static gsize ready;

  if (g_once_init_enter (&ready))
    {
      for (gsize i = 0; i < G_N_ELEMENTS (list); i++)
        list[i].sql = resource_text (list[i].sql);
      g_once_init_leave (&ready, 1);
    }
  *n = (int) G_N_ELEMENTS (list);
  return list;
}

/* ---- statements from descriptors ---- */

static void
clear_column (gpointer data)
{
  g_free (((StoreColumn *) data)->name);
}

static void
add_column (GArray *column, int field, int slot, gboolean text, const char *key, const char *suffix)
{
  StoreColumn made = { g_strconcat (key, suffix, NULL), field, slot, text };

  g_array_append_val (column, made);
}

static GArray *
columns_new (const JobTypeInfo *info)
{
  GArray *column = g_array_new (FALSE, FALSE, sizeof (StoreColumn));

  g_array_set_clear_func (column, clear_column);
  for (int i = 0; i < info->n_fields; i++)
    {
      const JobField *field = &info->field[i];

      if (field->as == JOB_AS_SIZE)
        {
          add_column (column, i, field->slot, FALSE, field->key, "_w");
          add_column (column, i, field->slot + 1, FALSE, field->key, "_h");
        }
      else
        add_column (column, i, field->slot, field->as == JOB_AS_TEXT, field->key, NULL);
    }
  return column;
}

/* Names come from the program alone: descriptors and table_name. Values are bound. */
static void
make_statements (StoreTable *table, gboolean head)
{
  const char *owner = head ? "id" : "job_id", *id = head ? "1" : "id";
  g_autoptr (GString) names = g_string_new (NULL);
  g_autoptr (GString) marks = g_string_new (NULL);
  g_autoptr (GString) sets = g_string_new (NULL);

  for (guint i = 0; i < table->column->len; i++)
    {
      const char *name = g_array_index (table->column, StoreColumn, i).name;

      g_string_append_printf (names, ", \"%s\"", name);
      g_string_append_printf (marks, ", ?%u", i + 4);
      g_string_append_printf (sets, ", \"%s\" = ?%u", name, i + 4);
    }
  table->select = g_strdup_printf ("SELECT %s, ord%s FROM \"%s\" WHERE %s = ?1 ORDER BY id", id, names->str,
                                   table->name,
                                   owner);
  table->select_one = g_strdup_printf ("SELECT %s, ord%s FROM \"%s\" WHERE %s = ?1 AND %s = ?2", id, names->str,
                                       table->name, owner, id);
  table->update = g_strdup_printf ("UPDATE \"%s\" SET ord = ?3%s WHERE %s = ?1 AND %s = ?2", table->name, sets->str,
                                   owner, id);
  if (head)
    {
      table->copy = g_strdup_printf ("UPDATE \"%s\" SET (ord%s) = (SELECT ord%s FROM \"%s\" WHERE id = ?1)"
                                     " WHERE id = ?2",
                                     table->name, names->str, names->str, table->name);
      return;
    }
  table->insert = g_strdup_printf ("INSERT INTO \"%s\" (job_id, id, ord%s) VALUES (?1, ?2, ?3%s)", table->name,
                                   names->str, marks->str);
  table->remove = g_strdup_printf ("DELETE FROM \"%s\" WHERE job_id = ?1 AND id = ?2", table->name);
  table->copy = g_strdup_printf ("INSERT INTO \"%s\" (job_id, id, ord%s) SELECT ?2, id, ord%s FROM \"%s\""
                                 " WHERE job_id = ?1", table->name, names->str, names->str, table->name);
}

StoreTable *
store_table_new (JobType type)
{
  StoreTable *table = g_new0 (StoreTable, 1);

  table->name = table_name[type];
  table->column = columns_new (job_type_info (type));
  make_statements (table, type == JOB_HEAD);
  return table;
}

void
store_table_free (StoreTable *table)
{
  g_array_unref (table->column);
  g_free (table->select);
  g_free (table->select_one);
  g_free (table->insert);
  g_free (table->update);
  g_free (table->remove);
  g_free (table->copy);
  g_free (table);
}

/* ---- versions ---- */

static gboolean
migrate_step (Db *db, const StoreMigration *step, GError **error)
{
  g_autofree char *mark = g_strdup_printf ("PRAGMA user_version = %d", step->version);
  g_autoptr (GError) local = NULL;
  gint64 now, fault;

  if (!db_begin (db, error))
    return FALSE;
  /* Another process may have been faster. */
  if (!db_int (db, &now, error, "PRAGMA user_version", ""))
    goto failed;
  if (now >= step->version)
    return db_commit (db, error);
  if (!db_exec (db, step->sql, error) || !db_exec (db, mark, error))
    goto failed;
  if (db_int (db, &fault, &local, "SELECT 1 FROM pragma_foreign_key_check LIMIT 1", ""))
    db_fail (db, SQLITE_CORRUPT, &local);
  if (local == NULL)
    return db_commit (db, error);
  g_propagate_error (error, g_steal_pointer (&local));

failed:
  db_rollback (db);
  return FALSE;
}

gboolean
store_schema_migrate (Db *db, const StoreMigration *migration, int n, GError **error)
{
  gint64 now;

  if (!db_int (db, &now, error, "PRAGMA user_version", ""))
    return FALSE;
  for (int i = 0; i < n; i++)
    if (migration[i].version > now && !migrate_step (db, &migration[i], error))
      return FALSE;
  return TRUE;
}

static char *
schema_text (Db *db, GError **error)
{
  g_autoptr (GString) out = g_string_new (NULL);
  sqlite3_stmt *statement = db_prepare (db, "SELECT type, name, sql FROM sqlite_schema"
                                            " WHERE substr (name, 1, 7) <> 'sqlite_' ORDER BY type, name", error);
  DbStep step;

  if (statement == NULL)
    return NULL;
  while ((step = db_step (db, statement, error)) == DB_ROW)
    for (int i = 0; i < 3; i++)
      {
        const char *text = db_column_text (statement, i, NULL);
        g_string_append_printf (out, "%s\n", text != NULL ? text : "");
      }
  return step == DB_DONE ? g_strdup (out->str) : NULL;
}

gboolean
store_schema_check (Db *db, const StoreMigration *migration, int n, GError **error)
{
  g_autoptr (Db) fresh = db_open (":memory:", SQLITE_OPEN_READWRITE | SQLITE_OPEN_CREATE, NULL, 0, error);
  g_autofree char *ours = NULL, *theirs = NULL, *name = NULL;

  if (fresh == NULL || !store_schema_migrate (fresh, migration, n, error))
    return FALSE;
  ours = schema_text (fresh, error);
  theirs = ours != NULL ? schema_text (db, error) : NULL;
  if (theirs == NULL)
    return FALSE;
  if (g_str_equal (ours, theirs))
    return TRUE;
  name = g_filename_display_name (db->path);
  g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
               _("The tables of %s are not those of an office file: go back to a backup; the file was left as it is"),
               name);
  return FALSE;
}

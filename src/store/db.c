/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/db.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

/* No cell of an office file is longer: bounds what a hostile file can make us allocate. */
#define MAX_CELL (16 * 1024 * 1024)

G_DEFINE_QUARK (store-error-quark, store_error)

#ifdef STORE_TEST_DEATH
/* For the test of crashes alone: the process ends without a word before its SEAMTALLY_DIE_AT-th statement. */
static void
count_statement (void)
{
  static gint64 left = -1;
  static gboolean ready;

  if (!ready)
    {
      const char *text = g_getenv ("SEAMTALLY_DIE_AT");
      left = text != NULL ? g_ascii_strtoll (text, NULL, 10) : -1;
      ready = TRUE;
    }
  if (left > 0 && --left == 0)
    _exit (9);
}
#else
static void
count_statement (void)
{
}
#endif

static void
finalize_statement (gpointer statement)
{
  sqlite3_finalize (statement);
}

gboolean
db_fail (Db *db, int code, GError **error)
{
  g_autofree char *name = g_filename_display_name (db->path);
  /* It may quote the schema of a damaged file. */
  g_autofree char *why = g_utf8_make_valid (sqlite3_errmsg (db->handle), -1);

  g_debug ("%s: SQLite %d: %s", name, code, why);
  switch (code & 0xff)
    {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      g_set_error (error, STORE_ERROR, STORE_ERROR_LOCKED,
                   _("%s is being written by another program: close it there or wait, then try again"), name);
      break;
    case SQLITE_READONLY:
      g_set_error (error, STORE_ERROR, STORE_ERROR_READ_ONLY,
                   _("%s may not be written: ask for the right to write to it and its folder, or work on a copy"),
                   name);
      break;
    case SQLITE_CORRUPT:
    case SQLITE_NOTADB: /* a file is opened only after its header was found to be ours */
      g_set_error (error, STORE_ERROR, STORE_ERROR_DAMAGED,
                   _("%s is damaged (%s): go back to a backup; the file was left as it is"), name, why);
      break;
    case SQLITE_FULL:
      g_set_error (error, STORE_ERROR, STORE_ERROR_FULL,
                   _("There is no room left on the disk for %s: make room, then try again; nothing was changed"), name);
      break;
    case SQLITE_CONSTRAINT:
    case SQLITE_MISMATCH:
    case SQLITE_TOOBIG:
      g_set_error (error, STORE_ERROR, STORE_ERROR_INVALID,
                   _("%s did not take the change (%s): undo what was typed and try again; nothing was changed"), name,
                   why);
      break;
    default:
      g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED,
                   _("%s could not be read or written (%s): check the disk and the folder, then try again"), name, why);
      break;
    }
  return FALSE;
}

Db *
db_open (const char *path, int flags, const char *vfs, int busy_ms, GError **error)
{
  Db *db = g_new0 (Db, 1);
  int code;

  db->path = g_strdup (path);
  db->owner = g_thread_self ();
  db_use_lasting_locks ();
  db->cache = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, finalize_statement);
  code = sqlite3_open_v2 (path, &db->handle, flags | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE, vfs);
  if (code == SQLITE_OK)
    {
      sqlite3_busy_timeout (db->handle, busy_ms);
      sqlite3_limit (db->handle, SQLITE_LIMIT_LENGTH, MAX_CELL);
      sqlite3_db_config (db->handle, SQLITE_DBCONFIG_DQS_DML, 0, NULL);
      sqlite3_db_config (db->handle, SQLITE_DBCONFIG_DQS_DDL, 0, NULL);
      sqlite3_db_config (db->handle, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL);
      sqlite3_db_config (db->handle, SQLITE_DBCONFIG_TRUSTED_SCHEMA, 0, NULL);
      sqlite3_db_config (db->handle, SQLITE_DBCONFIG_ENABLE_LOAD_EXTENSION, 0, NULL);
      return db;
    }
  db_fail (db, code, error);
  db_close (db);
  return NULL;
}

void
db_close (Db *db)
{
  if (db == NULL)
    return;
  g_hash_table_unref (db->cache);
  if (sqlite3_close (db->handle) != SQLITE_OK)
    g_critical ("a statement of %s was left open", db->path);
  g_free (db->path);
  g_free (db);
}

sqlite3_stmt *
db_prepare (Db *db, const char *sql, GError **error)
{
  sqlite3_stmt *statement = g_hash_table_lookup (db->cache, sql);
  int code;

  g_assert (db->owner == g_thread_self ());
  if (statement != NULL)
    {
      g_assert (!sqlite3_stmt_busy (statement));
      return statement;
    }
  code = sqlite3_prepare_v3 (db->handle, sql, -1, SQLITE_PREPARE_PERSISTENT, &statement, NULL);
  if (code != SQLITE_OK)
    {
      g_debug ("in: %s", sql);
      db_fail (db, code, error);
      return NULL;
    }
  g_hash_table_insert (db->cache, g_strdup (sql), statement);
  return statement;
}

void
db_bind_int (sqlite3_stmt *statement, int at, gint64 value)
{
  int code = value == JOB_UNSET ? sqlite3_bind_null (statement, at) : sqlite3_bind_int64 (statement, at, value);

  g_assert (code == SQLITE_OK);
}

void
db_bind_text (sqlite3_stmt *statement, int at, const char *text)
{
  /* Too long a text is refused by the statement then: bound as nothing it would be lost without a word. */
  int code = sqlite3_bind_text (statement, at, text, -1, SQLITE_STATIC);

  if (code == SQLITE_TOOBIG)
    code = sqlite3_bind_zeroblob (statement, at, 1);
  g_assert (code == SQLITE_OK);
}

static void
bind_list (sqlite3_stmt *statement, const char *format, va_list args)
{
  for (int at = 1; *format != '\0'; at++, format++)
    if (*format == 'i')
      db_bind_int (statement, at, va_arg (args, gint64));
    else if (*format == 't')
      db_bind_text (statement, at, va_arg (args, const char *));
    else
      g_assert_not_reached ();
}

void
db_bind (sqlite3_stmt *statement, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  bind_list (statement, format, args);
  va_end (args);
}

void
db_reset (sqlite3_stmt *statement)
{
  sqlite3_reset (statement);
  sqlite3_clear_bindings (statement);
}

DbStep
db_step (Db *db, sqlite3_stmt *statement, GError **error)
{
  int code;

  g_assert (db->owner == g_thread_self ());
  if (!sqlite3_stmt_busy (statement))
    count_statement ();
  code = sqlite3_step (statement);
  if (code == SQLITE_ROW)
    return DB_ROW;
  if (code != SQLITE_DONE)
    {
      g_debug ("in: %s", sqlite3_sql (statement));
      db_fail (db, code, error);
    }
  db_reset (statement);
  return code == SQLITE_DONE ? DB_DONE : DB_FAILED;
}

gint64
db_column_int (sqlite3_stmt *statement, int at)
{
  if (sqlite3_column_type (statement, at) == SQLITE_NULL)
    return JOB_UNSET;
  return sqlite3_column_int64 (statement, at);
}

const char *
db_column_text (sqlite3_stmt *statement, int at, gboolean *bad)
{
  const char *text = (const char *) sqlite3_column_text (statement, at);
  int length = sqlite3_column_bytes (statement, at);
  gboolean faulty = text != NULL && !g_utf8_validate (text, length, NULL);

  if (bad != NULL)
    *bad = faulty;
  return faulty ? NULL : text;
}

gboolean
db_run (Db *db, sqlite3_stmt *statement, GError **error)
{
  DbStep step;

  while ((step = db_step (db, statement, error)) == DB_ROW)
    ;
  return step == DB_DONE;
}

gboolean
db_do (Db *db, GError **error, const char *sql, const char *format, ...)
{
  sqlite3_stmt *statement = db_prepare (db, sql, error);
  va_list args;

  if (statement == NULL)
    return FALSE;
  va_start (args, format);
  bind_list (statement, format, args);
  va_end (args);
  return db_run (db, statement, error);
}

gboolean
db_int (Db *db, gint64 *out, GError **error, const char *sql, const char *format, ...)
{
  sqlite3_stmt *statement = db_prepare (db, sql, error);
  va_list args;

  if (statement == NULL)
    return FALSE;
  va_start (args, format);
  bind_list (statement, format, args);
  va_end (args);
  if (db_step (db, statement, error) != DB_ROW)
    return FALSE;
  *out = db_column_int (statement, 0);
  db_reset (statement);
  return TRUE;
}

gboolean
db_exec (Db *db, const char *sql, GError **error)
{
  while (*sql != '\0')
    {
      sqlite3_stmt *statement = NULL;
      const char *rest;
      int code = sqlite3_prepare_v2 (db->handle, sql, -1, &statement, &rest);

      if (code != SQLITE_OK)
        return db_fail (db, code, error);
      sql = rest;
      if (statement == NULL) /* blanks or a comment */
        continue;
      count_statement ();
      while ((code = sqlite3_step (statement)) == SQLITE_ROW)
        ;
      if (code != SQLITE_DONE)
        db_fail (db, code, error);
      sqlite3_finalize (statement);
      if (code != SQLITE_DONE)
        return FALSE;
    }
  return TRUE;
}

gboolean
db_begin (Db *db, GError **error)
{
  return db_do (db, error, "BEGIN IMMEDIATE", "");
}

gboolean
db_commit (Db *db, GError **error)
{
  if (db_do (db, error, "COMMIT", ""))
    return TRUE;
  db_rollback (db);
  return FALSE;
}

/* SQLite may have rolled back by itself (a full disk does that), so there may be nothing left to do. */
void
db_rollback (Db *db)
{
  if (!sqlite3_get_autocommit (db->handle))
    db_do (db, NULL, "ROLLBACK", "");
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A thin coat over SQLite: cached statements, and every result turned into a GError of STORE_ERROR. For store/ only. */

#include "store/store.h"

#include <sqlite3.h>

G_BEGIN_DECLS

typedef struct
{
  sqlite3 *handle;
  char *path;
  GHashTable *cache; /* SQL -> sqlite3_stmt */
  GThread *owner;
} Db;

typedef enum
{
  DB_FAILED,
  DB_ROW,
  DB_DONE,
} DbStep;

/* @vfs: NULL for the usual one. Sets what keeps a file from elsewhere harmless (no extensions, no functions with
 * side effects in its schema, no writing to the schema by hand) and the time to wait for a lock. Runs no statement. */
Db *db_open (const char *path, int flags, const char *vfs, int busy_ms, GError **error);
/* From here on a lock goes with the connection that took it and not with whatever else of this process closes the
 * file; db_open() asks for it. */
void db_use_lasting_locks (void);
/* Does nothing to the file but what SQLite has to finish. */
void db_close (Db *db);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Db, db_close)

/* A statement ready to be bound; the same text gives the same statement again, so it must have come to its end
 * (DB_DONE, DB_FAILED or db_reset()) before it is asked for anew. Owned by @db. NULL with @error. */
sqlite3_stmt *db_prepare (Db *db, const char *sql, GError **error);
/* Binds the parameters of a statement from the first on by a format: t a text or NULL, i a gint64, where
 * JOB_UNSET = NULL. A text must live until the statement has run. */
void db_bind (sqlite3_stmt *statement, const char *format, ...);
void db_bind_int (sqlite3_stmt *statement, int at, gint64 value);  /* JOB_UNSET binds NULL */
void db_bind_text (sqlite3_stmt *statement, int at, const char *text);
DbStep db_step (Db *db, sqlite3_stmt *statement, GError **error);
void db_reset (sqlite3_stmt *statement);
/* NULL gives JOB_UNSET. */
gint64 db_column_int (sqlite3_stmt *statement, int at);
/* Borrowed until the next step; NULL for NULL, and for text that is not UTF-8 or holds a NUL byte: *bad (if given)
 * tells. */
const char *db_column_text (sqlite3_stmt *statement, int at, gboolean *bad);

/* Runs a statement to its end without reading rows. */
gboolean db_run (Db *db, sqlite3_stmt *statement, GError **error);
/* Prepares, binds as db_bind() and runs. */
gboolean db_do (Db *db, GError **error, const char *sql, const char *format, ...);
/* First column of the first row; FALSE without @error set when there is no row. */
gboolean db_int (Db *db, gint64 *out, GError **error, const char *sql, const char *format, ...);
/* Several statements, no parameters. */
gboolean db_exec (Db *db, const char *sql, GError **error);

/* A write transaction from here on, so that nobody else writes between our look and our change. */
gboolean db_begin (Db *db, GError **error);
/* Rolls back when it cannot commit. */
gboolean db_commit (Db *db, GError **error);
void db_rollback (Db *db);

/* Sets @error from a result code of SQLite, in words that name the file and the remedy. Always FALSE. */
gboolean db_fail (Db *db, int code, GError **error);

G_END_DECLS

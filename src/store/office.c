/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#define BUSY_MS 5000

/* Places in the header of a database: SQLite's "Database File Format", section 1.3. */
#define HEADER_BYTES 100
#define HEADER_MAGIC "SQLite format 3"
#define HEADER_VERSION 60
#define HEADER_APPLICATION 68

char *
store_default_path (void)
{
  return g_build_filename (g_get_user_data_dir (), "seamtally", "office.seam", NULL);
}

char *
store_now (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();

  return g_date_time_format (now, "%Y-%m-%dT%H:%M:%SZ");
}

const char *
store_path (Store *store)
{
  return store->db->path;
}

void
store_set_patience (Store *store, int ms)
{
  sqlite3_busy_timeout (store->db->handle, ms);
}

/* ---- looking before opening ---- */

static guint32
big_endian (const guint8 *at)
{
  return (guint32) at[0] << 24 | (guint32) at[1] << 16 | (guint32) at[2] << 8 | (guint32) at[3];
}

static gboolean
refuse (const char *path, int code, const char *format, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);

#pragma GCC diagnostic push
#pragma GCC diagnostic ignored "-Wformat-nonliteral"
  g_set_error (error, STORE_ERROR, code, format, name);
#pragma GCC diagnostic pop
  return FALSE;
}

static gboolean
refuse_foreign (const char *path, GError **error)
{
  return refuse (path, STORE_ERROR_FOREIGN, _("%s is not an office file: choose another file; it was left as it is"),
                 error);
}

static gboolean
refuse_newer (const char *path, GError **error)
{
  return refuse (path, STORE_ERROR_NEWER,
                 _("%s was written by a newer version of this program: open it with that one; it was left as it is"),
                 error);
}

static gboolean
refuse_read_only (const char *path, GError **error)
{
  return refuse (path, STORE_ERROR_READ_ONLY,
                 _("%s may not be written: ask for the right to write to it and its folder, or work on a copy"), error);
}

/* Reads the header by hand, since SQLite may already write beside a file that it opens. */
static gboolean
check_header (const char *path, int newest, GError **error)
{
  guint8 head[HEADER_BYTES];
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK);
  gssize got;

  if (fd < 0)
    {
      g_autofree char *name = g_filename_display_name (path);
      int code = errno;

      g_set_error (error, STORE_ERROR, code == ENOENT || code == ENOTDIR ? STORE_ERROR_NOT_FOUND : STORE_ERROR_FAILED,
                   _("%s could not be opened (%s): check the name and the rights to it"), name, g_strerror (code));
      return FALSE;
    }
  got = read (fd, head, sizeof head);
  close (fd);
  if (got != HEADER_BYTES || memcmp (head, HEADER_MAGIC, sizeof HEADER_MAGIC) != 0 ||
      big_endian (head + HEADER_APPLICATION) != STORE_APPLICATION_ID)
    return refuse_foreign (path, error);
  if (big_endian (head + HEADER_VERSION) > (guint32) newest)
    return refuse_newer (path, error);
  return TRUE;
}

/* A log beside the file would be worked into it when it is closed: not before we know that the file is ours. */
static void
keep_log (Db *db, gboolean keep)
{
  g_autofree char *log = g_strconcat (db->path, "-wal", NULL);
  GStatBuf status;

  if (!keep || (g_stat (log, &status) == 0 && status.st_size > 0))
    sqlite3_db_config (db->handle, SQLITE_DBCONFIG_NO_CKPT_ON_CLOSE, keep ? 1 : 0, NULL);
}

static gboolean
check_rights (Db *db, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (db->path);

  if (sqlite3_db_readonly (db->handle, "main") == 1 || g_access (folder, W_OK) != 0)
    return refuse_read_only (db->path, error);
  return TRUE;
}

static gboolean
check_contents (Db *db, int newest, gint64 *version, GError **error)
{
  gint64 id, sound;

  if (!db_int (db, &id, error, "PRAGMA application_id", "") || !db_int (db, version, error, "PRAGMA user_version", ""))
    return FALSE;
  if (id != STORE_APPLICATION_ID)
    return refuse_foreign (db->path, error);
  if (*version > newest)
    return refuse_newer (db->path, error);
  if (!db_int (db, &sound, error, "SELECT quick_check = 'ok' FROM pragma_quick_check", ""))
    return FALSE;
  if (!sound || *version < 1)
    return refuse (db->path, STORE_ERROR_DAMAGED, _("%s is damaged: go back to a backup; the file was left as it is"),
                   error);
  return TRUE;
}

/* ---- opening ---- */

static gboolean
foreign_keys_on (Db *db, GError **error)
{
  gint64 on;

  if (!db_exec (db, "PRAGMA foreign_keys = ON", error) || !db_int (db, &on, error, "PRAGMA foreign_keys", ""))
    return FALSE;
  return on == 1 || db_fail (db, SQLITE_ERROR, error);
}

/* A write-ahead log where the file system can do it, else a rollback journal; either way an edit is on the disk when
 * it is reported. Refused or busy, the mode stays what it was. */
static gboolean
set_journal (Db *db, GError **error)
{
  g_autoptr (GError) refused = NULL;
  gint64 level;

  if (!db_exec (db, "PRAGMA journal_mode = WAL", &refused) && !g_error_matches (refused, STORE_ERROR,
                                                                                STORE_ERROR_LOCKED))
    {
      g_propagate_error (error, g_steal_pointer (&refused));
      return FALSE;
    }
  if (!db_exec (db, "PRAGMA synchronous = FULL", error) || !db_int (db, &level, error, "PRAGMA synchronous", ""))
    return FALSE;
  return level == 2 || db_fail (db, SQLITE_ERROR, error);
}

static gboolean
bring_up_to_date (Db *db, gint64 version, const StoreOptions *options, GError **error)
{
  int newest = options->n_migrations;
  g_autofree char *backup = g_strdup_printf ("%s.before-v%d.bak", db->path, newest);

  if (version == newest)
    return TRUE;
  /* The new version goes into the header too, where an older program looks for it. */
  return store_copy_file (db, backup, error) &&
         store_schema_migrate (db, options->migration, newest, error) &&
         db_exec (db, "PRAGMA wal_checkpoint (TRUNCATE)", error);
}

static Db *
open_checked (const char *path, const StoreOptions *options, GError **error)
{
  g_autoptr (Db) db = NULL;
  gint64 version;

  if (!check_header (path, options->n_migrations, error))
    return NULL;
  db = db_open (path, SQLITE_OPEN_READWRITE, options->vfs, options->busy_ms, error);
  if (db == NULL || !check_rights (db, error))
    return NULL;
  keep_log (db, TRUE);
  if (!check_contents (db, options->n_migrations, &version, error) || !foreign_keys_on (db, error) ||
      !store_schema_check (db, options->migration, (int) version, error))
    return NULL;
  keep_log (db, FALSE);
  if (!set_journal (db, error) || !bring_up_to_date (db, version, options, error))
    return NULL;
  return g_steal_pointer (&db);
}

/* ---- a new office ---- */

static gboolean
fill_part (const char *part, const StoreOptions *options, GError **error)
{
  g_autoptr (Db) db = db_open (part, SQLITE_OPEN_READWRITE, options->vfs, options->busy_ms, error);
  g_autoptr (Catalogue) starter = catalogue_starter ();
  g_autofree char *now = store_now ();

  if (db == NULL || !foreign_keys_on (db, error) ||
      !store_schema_migrate (db, options->migration, options->n_migrations, error) || !db_begin (db, error))
    return FALSE;
  if (store_write_revision (db, starter->table, _("starter catalogue"), _("came with the program"), error) == 0 ||
      !db_do (db, error, "INSERT INTO office (key, value) VALUES ('created_at', ?1)", "t", now))
    {
      db_rollback (db);
      return FALSE;
    }
  return db_commit (db, error);
}

/* Makes the whole file beside its place and puts it there at the end, unless somebody else was faster. */
static gboolean
create_office (const char *path, const StoreOptions *options, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);
  g_autofree char *part = NULL;
  gboolean done;

  g_mkdir_with_parents (folder, 0700);
  if (g_access (folder, W_OK) != 0)
    return refuse (path, STORE_ERROR_READ_ONLY,
                   _("%s cannot be made, its folder may not be written: choose another folder"), error);
  part = store_part_file (path, error);
  if (part == NULL)
    return FALSE;
  done = fill_part (part, options, error) && store_sync_file (part, error);
  if (done && link (part, path) != 0 && errno != EEXIST)
    {
      /* Some file systems know no links. */
      if (g_rename (part, path) != 0)
        {
          int code = errno;
          g_autofree char *name = g_filename_display_name (path);
          g_set_error (error, STORE_ERROR, STORE_ERROR_FAILED,
                       _("%s could not be made (%s): choose another folder"), name, g_strerror (code));
          done = FALSE;
        }
    }
  g_unlink (part);
  return done && store_sync_file (path, error);
}

Store *
store_open_with (const char *path, gboolean create, const StoreOptions *given, GError **error)
{
  StoreOptions options = *given;
  g_autofree char *whole = g_canonicalize_filename (path, NULL);
  g_autofree char *real = NULL;
  Store *store;
  Db *db;

  if (options.busy_ms == 0)
    options.busy_ms = BUSY_MS;
  if (options.migration == NULL)
    options.migration = store_migrations (&options.n_migrations);
  if (create && !g_file_test (whole, G_FILE_TEST_EXISTS) && !create_office (whole, &options, error))
    return NULL;
  /* Logs and backups lie beside the file itself, not beside a link to it. */
  real = realpath (whole, NULL);
  db = open_checked (real != NULL ? real : whole, &options, error);
  if (db == NULL)
    return NULL;

  store = g_new0 (Store, 1);
  g_ref_count_init (&store->refs);
  store->db = db;
  for (JobType type = 0; type < JOB_N_TYPES; type++)
    store->table[type] = store_table_new (type);
  store->catalogue = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, (GDestroyNotify) catalogue_unref);
  store->known = store_known_new ();
  return store;
}

Store *
store_open (const char *path, gboolean create, GError **error)
{
  StoreOptions options = { 0 };

  g_return_val_if_fail (path != NULL && *path != '\0', NULL);

  return store_open_with (path, create, &options, error);
}

void
store_close (Store *store)
{
  if (store == NULL || !g_ref_count_dec (&store->refs))
    return;
  for (JobType type = 0; type < JOB_N_TYPES; type++)
    store_table_free (store->table[type]);
  g_hash_table_unref (store->catalogue);
  g_hash_table_unref (store->known);
  db_close (store->db);
  g_free (store);
}

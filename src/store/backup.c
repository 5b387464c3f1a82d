/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "store/private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <sys/stat.h>
#include <unistd.h>

static gboolean
fail_file (const char *path, int code, GError **error)
{
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, STORE_ERROR, code == ENOSPC || code == EDQUOT ? STORE_ERROR_FULL : STORE_ERROR_FAILED,
               _("%s could not be written (%s): check the disk and the folder, then try again"), name,
               g_strerror (code));
  return FALSE;
}

static gboolean
sync_one (const char *path, int flags, GError **error)
{
  int fd = open (path, flags | O_CLOEXEC), code = 0;

  /* Some file systems cannot sync a folder; they do it by themselves. */
  if (fd < 0 || (fsync (fd) != 0 && errno != EINVAL))
    code = errno;
  if (fd >= 0)
    close (fd);
  return code == 0 || fail_file (path, code, error);
}

gboolean
store_sync_file (const char *path, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (path);

  return sync_one (path, O_RDWR, error) && sync_one (folder, O_RDONLY | O_DIRECTORY, error);
}

char *
store_part_file (const char *path, GError **error)
{
  g_autofree char *part = g_strconcat (path, ".XXXXXX.part", NULL);
  int fd = g_mkstemp_full (part, O_RDWR | O_CLOEXEC, 0600);

  if (fd < 0)
    {
      fail_file (part, errno, error);
      return NULL;
    }
  close (fd);
  return g_steal_pointer (&part);
}

/* Copies all pages as of now, and looks whether the copy is sound. */
static gboolean
copy_pages (Db *db, const char *part, GError **error)
{
  g_autoptr (Db) to = db_open (part, SQLITE_OPEN_READWRITE, NULL, 0, error);
  sqlite3_backup *copy;
  gint64 sound;
  int code;

  if (to == NULL)
    return FALSE;
  copy = sqlite3_backup_init (to->handle, "main", db->handle, "main");
  if (copy == NULL)
    return db_fail (to, sqlite3_extended_errcode (to->handle), error);
  code = sqlite3_backup_step (copy, -1);
  sqlite3_backup_finish (copy);
  if (code != SQLITE_DONE)
    return db_fail (to, code, error);
  if (!db_int (to, &sound, error, "SELECT quick_check = 'ok' FROM pragma_quick_check", ""))
    return FALSE;
  return sound || db_fail (to, SQLITE_CORRUPT, error);
}

gboolean
store_copy_file (Db *db, const char *path, GError **error)
{
  g_autofree char *part = store_part_file (path, error);
  gboolean done;

  if (part == NULL)
    return FALSE;
  done = copy_pages (db, part, error) && store_sync_file (part, error);
  if (done && g_rename (part, path) != 0)
    done = fail_file (path, errno, error);
  if (!done)
    g_unlink (part);
  return done && store_sync_file (path, error);
}

gboolean
store_backup (Store *store, const char *path, GError **error)
{
  GStatBuf from, to;

  g_return_val_if_fail (store != NULL && path != NULL, FALSE);

  if (g_stat (path, &to) == 0 && g_stat (store->db->path, &from) == 0 && from.st_dev == to.st_dev &&
      from.st_ino == to.st_ino)
    {
      g_autofree char *name = g_filename_display_name (path);
      g_set_error (error, STORE_ERROR, STORE_ERROR_INVALID, _("%s is the office file itself: choose another name"),
                   name);
      return FALSE;
    }
  return store_copy_file (store->db, path, error);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/safe-file.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <limits.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

/* Sets an error from errno; always FALSE. */
static gboolean
refuse (GError **error, const char *what, const char *path)
{
  int saved = errno;
  g_autofree char *name = g_filename_display_name (path);

  g_set_error (error, G_IO_ERROR, (gint) g_io_error_from_errno (saved), "%s %s: %s", what, name, g_strerror (saved));
  return FALSE;
}

/* The name behind symbolic links, so that a link to the bid is not replaced by the bid. */
static char *
real_target (const char *path)
{
  char *found = realpath (path, NULL);
  char *copy = found ? g_strdup (found) : g_canonicalize_filename (path, NULL);

  free (found);
  return copy;
}

/* Permissions of an existing target, else what the process gives to new files. */
static guint
wanted_mode (const char *path)
{
  struct stat info;
  mode_t mask;

  if (stat (path, &info) == 0)
    return info.st_mode & 0777;
  mask = umask (0);
  umask (mask);
  return 0666 & ~mask;
}

SafeFile *
safe_file_new (const char *path, GError **error)
{
  g_autoptr (SafeFile) file = g_new0 (SafeFile, 1);
  int fd;

  file->path = real_target (path);
  file->folder = g_path_get_dirname (file->path);
  if (g_file_test (file->path, G_FILE_TEST_IS_DIR))
    {
      errno = EISDIR;
      refuse (error, _ ("cannot write the file"), path);
      return NULL;
    }
  file->mode = wanted_mode (file->path);
  file->part = g_strconcat (file->path, ".XXXXXX.part", NULL);
  fd = g_mkstemp_full (file->part, O_RDWR | O_CLOEXEC, 0600);
  if (fd < 0)
    {
      g_clear_pointer (&file->part, g_free); /* nothing of ours to remove */
      refuse (error, _ ("cannot write in the folder of"), path);
      return NULL;
    }
  close (fd);
  return g_steal_pointer (&file);
}

FILE *
safe_file_open (const SafeFile *file, GError **error)
{
  FILE *out = fopen (file->part, "wb");

  if (!out)
    refuse (error, _ ("cannot write the file"), file->path);
  return out;
}

gboolean
safe_file_need (const SafeFile *file, guint64 bytes, GError **error)
{
  struct statvfs info;
  guint64 room;
  g_autofree char *folder = NULL, *need = NULL, *have = NULL;

  /* A file system that does not tell is not refused: the count of rows finds what was cut. */
  if (statvfs (file->folder, &info) != 0 || info.f_frsize == 0)
    return TRUE;
  room = (guint64) info.f_bavail > G_MAXUINT64 / info.f_frsize ? G_MAXUINT64 : (guint64) info.f_bavail * info.f_frsize;
  if (room >= bytes)
    return TRUE;
  folder = g_filename_display_name (file->folder);
  need = g_format_size (bytes);
  have = g_format_size (room);
  g_set_error (
      error, G_IO_ERROR, G_IO_ERROR_NO_SPACE,
      _ ("not enough space in %s: about %s are needed while writing, %s are free; make room or choose another folder"),
      folder, need, have);
  return FALSE;
}

/* What was written to @path must be on the disk before a name points at it. */
static gboolean
sync_path (const char *path, int flags, GError **error)
{
  int fd = open (path, flags | O_CLOEXEC);
  gboolean good;

  if (fd < 0)
    return refuse (error, _ ("cannot open again"), path);
  good = fsync (fd) == 0 || errno == EINVAL || errno == ENOTSUP; /* some file systems know no fsync of a folder */
  if (!good)
    refuse (error, _ ("cannot put on the disk"), path);
  close (fd);
  return good;
}

gboolean
safe_file_commit (SafeFile *file, GError **error)
{
  if (!sync_path (file->part, O_RDWR, error))
    return FALSE;
  if (g_chmod (file->part, file->mode) != 0)
    return refuse (error, _ ("cannot set the permissions of"), file->part);
  if (g_rename (file->part, file->path) != 0)
    return refuse (error, _ ("cannot put the finished file in the place of"), file->path);
  g_clear_pointer (&file->part, g_free);
  /* The file is whole and in place; a folder that cannot be synchronised is no reason to call it failed. */
  sync_path (file->folder, O_RDONLY | O_DIRECTORY, NULL);
  return TRUE;
}

void
safe_file_free (SafeFile *file)
{
  if (!file)
    return;
  if (file->part)
    g_unlink (file->part);
  g_free (file->part);
  g_free (file->folder);
  g_free (file->path);
  g_free (file);
}

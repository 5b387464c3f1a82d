/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>
#include <stdio.h>

G_BEGIN_DECLS

/* A file that appears whole or not at all: it is written under another name in the folder of its target ("bid.xlsx" as
 * "bid.xlsx.XXXXXX.part") and renamed when it is complete and on the disk. Until then an existing target stays as it is.
 * Errors are G_IO_ERROR with the name of the file in the words. */
typedef struct
{
  char *path; /* target, symbolic links followed */
  char *folder;
  char *part; /* what is written; NULL once it was renamed */
  guint mode; /* permissions that the target gets */
} SafeFile;

/* Makes the part file, empty. NULL when @path is a folder, its folder does not exist or cannot be written. */
SafeFile *safe_file_new (const char *path, GError **error);
/* The part opened for writing; NULL when it cannot be. The caller closes it before safe_file_commit(). */
FILE *safe_file_open (const SafeFile *file, GError **error);
/* FALSE when the folder's file system has fewer than @bytes free for us. */
gboolean safe_file_need (const SafeFile *file, guint64 bytes, GError **error);
/* Puts the part on the disk, renames it to the target, and puts the folder's entry on the disk. On failure the part is
 * removed by safe_file_free() and the target is untouched. */
gboolean safe_file_commit (SafeFile *file, GError **error);
/* Removes a part that was not committed. */
void safe_file_free (SafeFile *file);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SafeFile, safe_file_free)

G_END_DECLS

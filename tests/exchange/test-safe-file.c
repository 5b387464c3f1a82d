/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange/safe-file.h"

#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct
{
  char *folder, *path;
} Place;

static void
set_up (Place *place, gconstpointer data)
{
  (void) data;
  place->folder = g_dir_make_tmp ("safe-XXXXXX", NULL);
  place->path = g_build_filename (place->folder, "bid.xlsx", NULL);
}

static int
count_files (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  int n = 0;

  while (g_dir_read_name (dir))
    n++;
  return n;
}

static void
tear_down (Place *place, gconstpointer data)
{
  g_autoptr (GDir) dir = g_dir_open (place->folder, 0, NULL);
  const char *name;

  (void) data;
  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (place->folder, name, NULL);
      g_remove (path);
    }
  g_rmdir (place->folder);
  g_free (place->folder);
  g_free (place->path);
}

static void
assert_holds (const char *path, const char *text)
{
  g_autofree char *found = NULL;

  g_assert_true (g_file_get_contents (path, &found, NULL, NULL));
  g_assert_cmpstr (found, ==, text);
}

static void
test_replace (Place *place, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SafeFile) file = NULL;
  struct stat info;

  (void) data;
  g_assert_true (g_file_set_contents (place->path, "old", -1, NULL));
  g_assert_cmpint (g_chmod (place->path, 0640), ==, 0);
  file = safe_file_new (place->path, &error);
  g_assert_no_error (error);
  g_assert_true (g_str_has_suffix (file->part, ".part"));
  g_assert_true (g_file_set_contents (file->part, "new", -1, NULL));
  assert_holds (place->path, "old");
  g_assert_true (safe_file_commit (file, &error));
  assert_holds (place->path, "new");
  g_assert_cmpint (count_files (place->folder), ==, 1);
  g_assert_cmpint (stat (place->path, &info), ==, 0);
  g_assert_cmpuint (info.st_mode & 0777, ==, 0640);
}

static void
test_abandon (Place *place, gconstpointer data)
{
  SafeFile *file;

  (void) data;
  g_assert_true (g_file_set_contents (place->path, "old", -1, NULL));
  file = safe_file_new (place->path, NULL);
  g_assert_cmpint (count_files (place->folder), ==, 2);
  safe_file_free (file);
  g_assert_cmpint (count_files (place->folder), ==, 1);
  assert_holds (place->path, "old");
}

/* A part that vanished cannot be committed, and the old file stays. */
static void
test_lost_part (Place *place, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (SafeFile) file = NULL;

  (void) data;
  g_assert_true (g_file_set_contents (place->path, "old", -1, NULL));
  file = safe_file_new (place->path, &error);
  g_unlink (file->part);
  g_assert_false (safe_file_commit (file, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  assert_holds (place->path, "old");
}

static void
test_link (Place *place, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *link = g_build_filename (place->folder, "link", NULL);
  g_autoptr (SafeFile) file = NULL;

  (void) data;
  g_assert_true (g_file_set_contents (place->path, "old", -1, NULL));
  g_assert_cmpint (symlink ("bid.xlsx", link), ==, 0);
  file = safe_file_new (link, &error);
  g_assert_true (g_file_set_contents (file->part, "new", -1, NULL));
  g_assert_true (safe_file_commit (file, &error));
  g_assert_true (g_file_test (link, G_FILE_TEST_IS_SYMLINK));
  assert_holds (place->path, "new");
}

static void
test_refusals (Place *place, gconstpointer data)
{
  g_autofree char *below = g_build_filename (place->folder, "not-there", "bid.xlsx", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (SafeFile) file = NULL;

  (void) data;
  g_assert_null (safe_file_new (below, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, "bid.xlsx"));
  g_clear_error (&error);
  g_assert_null (safe_file_new (place->folder, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_IS_DIRECTORY);
  g_clear_error (&error);
  file = safe_file_new (place->path, &error);
  g_assert_true (safe_file_need (file, 1, &error));
  g_assert_false (safe_file_need (file, G_MAXUINT64, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NO_SPACE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function) g_test_add ("/safe-file/" name, Place, NULL, set_up, function, tear_down)
  ADD ("replaces only when committed", test_replace);
  ADD ("leaves nothing when abandoned", test_abandon);
  ADD ("a lost part", test_lost_part);
  ADD ("follows a symbolic link", test_link);
  ADD ("says what it cannot do", test_refusals);
  return g_test_run ();
}

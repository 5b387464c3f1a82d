/* SPDX-License-Identifier: GPL-3.0-or-later */
/* An open office stays locked whatever else its process does with the files; without that another program takes its log away
 * (SQLite, "How To Corrupt An SQLite Database File", 2.2). Other programs are children of this one. */
#include "helper.h"

#include <fcntl.h>
#include <sys/wait.h>
#include <unistd.h>

typedef struct
{
  char *folder, *path, *log;
  Store *store;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  (void) data;
  fixture->folder = folder_new ();
  fixture->path = g_build_filename (fixture->folder, "office.seam", NULL);
  fixture->log = g_strconcat (fixture->path, "-wal", NULL);
  fixture->store = office_open (fixture->path);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  (void) data;
  g_clear_pointer (&fixture->store, store_close);
  g_free (fixture->log);
  g_free (fixture->path);
  folder_free (fixture->folder);
}

static void
add_job (Fixture *fixture, const char *name)
{
  g_autoptr (Catalogue) catalogue = store_catalogue (fixture->store, 0, NULL);
  g_autoptr (TallyJob) job = job_new (catalogue, name);

  g_assert_cmpint (store_create_job (fixture->store, job, 0, NULL), >, 0);
}

/* How many jobs another program finds that opens the office and closes it again; -1: it could not. */
static int
jobs_seen_by_another (Fixture *fixture)
{
  g_autofree char *self = g_file_read_link ("/proc/self/exe", NULL);
  char *argv[] = { self, (char *) "--child", fixture->path, NULL };
  g_autoptr (GError) error = NULL;
  int status;

  g_spawn_sync (NULL, argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status, &error);
  g_assert_no_error (error);
  return WIFEXITED (status) && WEXITSTATUS (status) < 100 ? WEXITSTATUS (status) : -1;
}

static int
child (const char *path)
{
  g_autoptr (Store) store = store_open (path, FALSE, NULL);
  gint64 n;

  return store != NULL && db_int (store->db, &n, NULL, "SELECT count (*) FROM job", "") ? (int) n : 100;
}

/* As a file chooser does to tell what kind of file each one is. */
static void
look_into_all (const char *folder)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      int fd = open (path, O_RDONLY | O_CLOEXEC);
      char byte;

      g_assert_cmpint (fd, >=, 0);
      g_assert_cmpint (read (fd, &byte, 1), >=, 0);
      close (fd);
    }
}

static void
assert_still_locked (Fixture *fixture)
{
  g_assert_cmpint (jobs_seen_by_another (fixture), ==, 1);
  g_assert_true (g_file_test (fixture->log, G_FILE_TEST_EXISTS)); /* the last one to close would have taken it away */
  add_job (fixture, "Second");
  g_assert_cmpint (jobs_seen_by_another (fixture), ==, 2);
  g_clear_pointer (&fixture->store, store_close);
  g_assert_cmpuint (folder_count (fixture->folder), ==, 1);
  g_assert_cmpint (jobs_seen_by_another (fixture), ==, 2);
}

static void
test_looked_into (Fixture *fixture, gconstpointer data)
{
  (void) data;
  add_job (fixture, "First");
  look_into_all (fixture->folder);
  assert_still_locked (fixture);
}

/* The header of an office is read by hand before it is opened. */
static void
test_opened_again (Fixture *fixture, gconstpointer data)
{
  Store *again;

  (void) data;
  add_job (fixture, "First");
  again = store_open (fixture->path, FALSE, NULL);
  g_assert_nonnull (again);
  store_close (again);
  assert_still_locked (fixture);
}

int
main (int argc, char **argv)
{
  if (argc == 3 && g_str_equal (argv[1], "--child"))
    return child (argv[2]);
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/store/lock/looked-into", Fixture, NULL, set_up, test_looked_into, tear_down);
  g_test_add ("/store/lock/opened-again", Fixture, NULL, set_up, test_opened_again, tear_down);
  return g_test_run ();
}

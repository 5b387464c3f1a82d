/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Opening, refusing, moving on and copying office files. What a header holds: SQLite, "Database File Format", 1.3. */
#include "helper.h"

#include <fcntl.h>
#include <grp.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

typedef struct
{
  char *folder, *path;
} Fixture;

/* Newest version of the schema. */
#define KNOWN 4

static void
set_up (Fixture *fixture, gconstpointer data)
{
  (void) data;
  fixture->folder = folder_new ();
  fixture->path = g_build_filename (fixture->folder, "office.seam", NULL);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  (void) data;
  g_free (fixture->path);
  folder_free (fixture->folder);
}

/* A closed office of one job in a single file. */
static void
make_office (const char *path)
{
  g_autoptr (Store) store = office_open (path);
  g_autoptr (Catalogue) catalogue = store_catalogue (store, 0, NULL);
  g_autoptr (TallyJob) job = job_new (catalogue, "Depot");

  g_assert_cmpint (store_create_job (store, job, 0, NULL), ==, 1);
  g_clear_pointer (&store, store_close);
  plant_single (path);
}

static void
test_create (Fixture *fixture, gconstpointer data)
{
  static const guint8 id[4] = { 'S', 'm', 'T', 'y' };
  g_autoptr (Store) store = office_open (fixture->path);
  g_autoptr (Catalogue) catalogue = store_catalogue (store, 0, NULL);
  g_autoptr (Catalogue) again = store_catalogue (store, 1, NULL);
  g_autoptr (Catalogue) starter = catalogue_starter ();
  g_autoptr (GPtrArray) revisions = store_revisions (store, NULL);
  g_autoptr (GBytes) bytes = NULL;
  g_autofree char *mode = NULL;
  gint64 value;

  (void) data;
  g_assert_nonnull (catalogue);
  g_assert_true (catalogue == again);
  g_assert_cmpuint (catalogue->items->len, ==, starter->items->len);
  g_assert_cmpuint (catalogue->recipes->len, ==, starter->recipes->len);
  g_assert_cmpint (store_newest_revision (store, NULL), ==, 1);
  g_assert_cmpuint (revisions->len, ==, 1);
  for (CatalogueSheet sheet = 0; sheet < CATALOGUE_N_SHEETS; sheet++)
    {
      const CsvTable *a = starter->table[sheet], *b = catalogue->table[sheet];

      g_assert_cmpuint (a->head->len, ==, b->head->len);
      g_assert_cmpuint (a->row->len, ==, b->row->len);
      for (guint i = 0; i < a->row->len; i++)
        for (int column = 0; column < (int) a->head->len; column++)
          g_assert_cmpstr (csv_cell (a, i, column), ==, csv_cell (b, i, column));
    }

  g_assert_true (db_int (store->db, &value, NULL, "PRAGMA foreign_keys", ""));
  g_assert_cmpint (value, ==, 1);
  g_assert_true (db_int (store->db, &value, NULL, "PRAGMA synchronous", ""));
  g_assert_cmpint (value, ==, 2);
  g_assert_true (db_int (store->db, &value, NULL, "SELECT journal_mode = 'wal' FROM pragma_journal_mode", ""));
  g_assert_cmpint (value, ==, 1);
  /* A name in double quotes is a name, never a text by mistake. */
  g_assert_false (db_exec (store->db, "SELECT \"no_such_column\"", NULL));

  g_clear_pointer (&store, store_close);
  g_assert_cmpuint (folder_count (fixture->folder), ==, 1);
  bytes = file_bytes (fixture->path);
  g_assert_true (memcmp ((const guint8 *) g_bytes_get_data (bytes, NULL) + 68, id, sizeof id) == 0);
  g_assert_cmpint (((const guint8 *) g_bytes_get_data (bytes, NULL))[63], ==, KNOWN);
}

static void
test_missing (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *deep = g_build_filename (fixture->folder, "none", "office.seam", NULL);

  (void) data;
  g_assert_null (store_open (fixture->path, FALSE, &error));
  assert_refused (&error, STORE_ERROR_NOT_FOUND, fixture->path);
  g_assert_null (store_open (deep, FALSE, &error));
  assert_refused (&error, STORE_ERROR_NOT_FOUND, deep);
  g_assert_cmpuint (folder_count (fixture->folder), ==, 0);
}

static void
assert_left_alone (Fixture *fixture, int code)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) before = file_bytes (fixture->path);
  guint files = folder_count (fixture->folder);
  g_autoptr (Store) store = NULL;
  StoreOptions options = { .busy_ms = 20 };

  store = store_open_with (fixture->path, TRUE, &options, &error);
  g_assert_null (store);
  assert_refused (&error, code, fixture->path);
  assert_file_is (fixture->path, before);
  g_assert_cmpuint (folder_count (fixture->folder), ==, files);
}

static void
test_foreign (Fixture *fixture, gconstpointer data)
{
  static const char *const text[] = { "", "not a database", "SQLite format 3" };
  g_autofree char *long_text = g_strnfill (5000, 'x');
  g_autoptr (GBytes) bytes = g_bytes_new (long_text, 5000);
  g_autoptr (GError) error = NULL;

  (void) data;
  for (gsize i = 0; i < G_N_ELEMENTS (text); i++)
    {
      g_autoptr (GBytes) some = g_bytes_new (text[i], strlen (text[i]));
      file_write (fixture->path, some);
      assert_left_alone (fixture, STORE_ERROR_FOREIGN);
    }
  file_write (fixture->path, bytes);
  assert_left_alone (fixture, STORE_ERROR_FOREIGN);
  g_remove (fixture->path);
  plant (fixture->path, "CREATE TABLE a (b); INSERT INTO a VALUES (1)");
  assert_left_alone (fixture, STORE_ERROR_FOREIGN);
  plant (fixture->path, "PRAGMA application_id = 7; PRAGMA journal_mode = WAL");
  assert_left_alone (fixture, STORE_ERROR_FOREIGN);

  g_assert_null (store_open (fixture->folder, TRUE, &error));
  assert_refused (&error, STORE_ERROR_FOREIGN, fixture->folder);
}

static void
test_newer (Fixture *fixture, gconstpointer data)
{
  (void) data;
  make_office (fixture->path);
  plant (fixture->path, "PRAGMA user_version = 99");
  assert_left_alone (fixture, STORE_ERROR_NEWER);
  plant (fixture->path, "PRAGMA user_version = -1");
  assert_left_alone (fixture, STORE_ERROR_NEWER);
}

/* The newer version stands only in the log that a killed program left: neither file nor log may change. */
static void
test_newer_in_log (Fixture *fixture, gconstpointer data)
{
  g_autofree char *first = g_build_filename (fixture->folder, "first.seam", NULL);
  g_autofree char *first_log = g_strconcat (first, "-wal", NULL);
  g_autofree char *log = g_strconcat (fixture->path, "-wal", NULL);
  g_autoptr (GBytes) file_copy = NULL, log_copy = NULL;
  g_autoptr (GError) error = NULL;
  sqlite3 *handle;

  (void) data;
  make_office (first);
  g_assert_cmpint (sqlite3_open (first, &handle), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (handle, "PRAGMA journal_mode = WAL; PRAGMA user_version = 99", NULL, NULL, NULL), ==,
                   0);
  file_copy = file_bytes (first);
  log_copy = file_bytes (first_log);
  sqlite3_close (handle);
  g_assert_cmpuint (g_bytes_get_size (log_copy), >, 0);
  file_write (fixture->path, file_copy);
  file_write (log, log_copy);

  g_assert_null (store_open (fixture->path, FALSE, &error));
  assert_refused (&error, STORE_ERROR_NEWER, fixture->path);
  assert_file_is (fixture->path, file_copy);
  assert_file_is (log, log_copy);
}

static void
test_damaged (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GBytes) sound = NULL, half = NULL;
  g_autofree guint8 *broken = NULL;
  gsize size;

  (void) data;
  make_office (fixture->path);
  sound = file_bytes (fixture->path);
  broken = g_memdup2 (g_bytes_get_data (sound, &size), g_bytes_get_size (sound));
  g_assert_cmpuint (size, >, 3 * 4096);

  half = g_bytes_new (broken, size / 2);
  file_write (fixture->path, half);
  assert_left_alone (fixture, STORE_ERROR_DAMAGED);

  memset (broken + 4096, 0xFF, 2 * 4096);
  g_clear_pointer (&half, g_bytes_unref);
  half = g_bytes_new (broken, size);
  file_write (fixture->path, half);
  assert_left_alone (fixture, STORE_ERROR_DAMAGED);

  /* A header whose page size cannot be. */
  memcpy (broken, g_bytes_get_data (sound, NULL), size);
  broken[16] = 0x33;
  g_clear_pointer (&half, g_bytes_unref);
  half = g_bytes_new (broken, size);
  file_write (fixture->path, half);
  assert_left_alone (fixture, STORE_ERROR_DAMAGED);

  file_write (fixture->path, sound);
  plant (fixture->path, "PRAGMA user_version = 0");
  assert_left_alone (fixture, STORE_ERROR_DAMAGED);
}

/* Flipped bytes anywhere are either found or harmless: never a crash, and a refused file stays as it is. */
static void
test_damaged_anywhere (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (11);
  g_autoptr (GBytes) sound = NULL;
  g_autofree char *log = g_strconcat (fixture->path, "-wal", NULL);
  gsize size;
  int refused = 0;

  (void) data;
  make_office (fixture->path);
  sound = file_bytes (fixture->path);
  size = g_bytes_get_size (sound);
  for (int round = 0; round < 150; round++)
    {
      g_autofree guint8 *bytes = g_memdup2 (g_bytes_get_data (sound, NULL), size);
      g_autoptr (GBytes) broken = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (Store) store = NULL;
      gsize page = (gsize) g_rand_int_range (rand, 0, (gint32) (size / 4096));

      for (int i = 0; i < 4; i++)
        bytes[page * 4096 + (gsize) g_rand_int_range (rand, 0, i < 2 ? 120 : 4096)] ^=
          (guint8) g_rand_int_range (rand, 1, 256);
      broken = g_bytes_new (bytes, size);
      file_write (fixture->path, broken);
      store = store_open (fixture->path, FALSE, &error);
      if (store == NULL)
        {
          g_assert_true (error->domain == STORE_ERROR);
          g_assert_true (g_utf8_validate (error->message, -1, NULL));
          assert_file_is (fixture->path, broken);
          refused++;
        }
      else
        {
          g_autoptr (TallyJob) job = store_open_job (store, 1, &error);
          g_assert_true (job != NULL || error != NULL);
        }
      g_clear_pointer (&store, store_close);
      g_remove (log);
    }
  g_assert_cmpint (refused, >, 50);
}

/* Tables of another making: a trigger that would act on our edits. */
static void
test_strange_schema (Fixture *fixture, gconstpointer data)
{
  (void) data;
  make_office (fixture->path);
  plant (fixture->path, "CREATE TRIGGER t AFTER UPDATE ON run BEGIN DELETE FROM run; END");
  assert_left_alone (fixture, STORE_ERROR_DAMAGED);
  plant (fixture->path, "DROP TRIGGER t; DROP TABLE raw");
  assert_left_alone (fixture, STORE_ERROR_DAMAGED);
}

static void
test_locked (Fixture *fixture, gconstpointer data)
{
  g_autoptr (Store) store = NULL;
  sqlite3 *handle;

  (void) data;
  make_office (fixture->path);
  g_assert_cmpint (sqlite3_open (fixture->path, &handle), ==, SQLITE_OK);
  g_assert_cmpint (sqlite3_exec (handle, "BEGIN EXCLUSIVE", NULL, NULL, NULL), ==, SQLITE_OK);
  assert_left_alone (fixture, STORE_ERROR_LOCKED);
  sqlite3_close (handle);
  store = office_open (fixture->path);
}

/* ---- rights: tried by a child without those of root, for whom nothing is read-only ---- */

/* Exit status: 100 + the code of the refusal, 99 when it opened, 98 for another trouble. */
static int
open_as_nobody (const char *path, gboolean create)
{
  pid_t child = fork ();
  int status;

  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    {
      GError *error = NULL;

      if (geteuid () == 0 && (setgroups (0, NULL) != 0 || setgid (65534) != 0 || setuid (65534) != 0))
        _exit (98);
      if (store_open (path, create, &error) != NULL)
        _exit (99);
      _exit (error->domain == STORE_ERROR && strstr (error->message, "office.seam") != NULL ? 100 + error->code : 98);
    }
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  return WEXITSTATUS (status);
}

static void
test_read_only (Fixture *fixture, gconstpointer data)
{
  g_autofree char *other = g_build_filename (fixture->folder, "new-office.seam", NULL);
  g_autoptr (GBytes) before = NULL;

  (void) data;
  make_office (fixture->path);
  before = file_bytes (fixture->path);

  /* All may write: the child opens it, so that the refusals below are those of the rights taken away. */
  g_assert_cmpint (chmod (fixture->folder, 0777), ==, 0);
  g_assert_cmpint (chmod (fixture->path, 0666), ==, 0);
  g_assert_cmpint (open_as_nobody (fixture->path, FALSE), ==, 99);
  plant_single (fixture->path);
  g_clear_pointer (&before, g_bytes_unref);
  before = file_bytes (fixture->path);

  g_assert_cmpint (chmod (fixture->path, 0444), ==, 0);
  g_assert_cmpint (open_as_nobody (fixture->path, FALSE), ==, 100 + STORE_ERROR_READ_ONLY);
  g_assert_cmpint (chmod (fixture->path, 0666), ==, 0);
  g_assert_cmpint (chmod (fixture->folder, 0555), ==, 0);
  g_assert_cmpint (open_as_nobody (fixture->path, FALSE), ==, 100 + STORE_ERROR_READ_ONLY);
  g_assert_cmpint (open_as_nobody (other, TRUE), ==, 100 + STORE_ERROR_READ_ONLY);
  g_assert_cmpint (chmod (fixture->path, 0000), ==, 0);
  g_assert_cmpint (open_as_nobody (fixture->path, FALSE), ==, 100 + STORE_ERROR_FAILED);

  g_assert_cmpint (chmod (fixture->path, 0666), ==, 0);
  g_assert_cmpint (chmod (fixture->folder, 0700), ==, 0);
  assert_file_is (fixture->path, before);
  g_assert_cmpuint (folder_count (fixture->folder), ==, 1);
}

/* Several programs started at once make one office. */
static void
test_made_at_once (Fixture *fixture, gconstpointer data)
{
  pid_t child[4];
  g_autoptr (Store) store = NULL;
  gint64 n;

  (void) data;
  for (gsize i = 0; i < G_N_ELEMENTS (child); i++)
    if ((child[i] = fork ()) == 0)
      {
        Store *own = store_open (fixture->path, TRUE, NULL);
        _exit (own != NULL ? 0 : 1);
      }
  for (gsize i = 0; i < G_N_ELEMENTS (child); i++)
    {
      int status;
      g_assert_cmpint (waitpid (child[i], &status, 0), ==, child[i]);
      g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) == 0);
    }
  store = office_open (fixture->path);
  g_assert_true (db_int (store->db, &n, NULL, "SELECT count (*) FROM revision", ""));
  g_assert_cmpint (n, ==, 1);
  g_clear_pointer (&store, store_close);
  g_assert_cmpuint (folder_count (fixture->folder), ==, 1);
}

/* A file system without shared memory: the lock files of this VFS stand for it. */
static void
test_no_log (Fixture *fixture, gconstpointer data)
{
  StoreOptions options = { .vfs = "unix-dotfile" };
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = store_open_with (fixture->path, TRUE, &options, &error);
  g_autoptr (Catalogue) catalogue = NULL;
  g_autoptr (TallyJob) job = NULL;
  gint64 value;

  (void) data;
  g_assert_no_error (error);
  g_assert_true (db_int (store->db, &value, NULL, "SELECT journal_mode = 'delete' FROM pragma_journal_mode", ""));
  g_assert_cmpint (value, ==, 1);
  g_assert_true (db_int (store->db, &value, NULL, "PRAGMA synchronous", ""));
  g_assert_cmpint (value, ==, 2);
  catalogue = store_catalogue (store, 0, NULL);
  job = job_new (catalogue, "Depot");
  g_assert_cmpint (store_create_job (store, job, 0, NULL), ==, 1);
  g_clear_pointer (&store, store_close);
  assert_kept (fixture->path, 1, job);
}

/* ---- versions ---- */

static gint64
file_version (const char *path)
{
  g_autoptr (Db) db = db_open (path, SQLITE_OPEN_READWRITE, NULL, 0, NULL);
  gint64 version;

  g_assert_true (db_int (db, &version, NULL, "PRAGMA user_version", ""));
  return version;
}

/* With @n versions that are planted behind those of the program. */
static Store *
open_version (const char *path, const char *const *sql, int n, GError **error)
{
  g_autofree StoreMigration *list = g_new0 (StoreMigration, (gsize) (KNOWN + n));
  StoreOptions options = { .migration = list, .n_migrations = KNOWN + n };
  int known;

  memcpy (list, store_migrations (&known), KNOWN * sizeof *list);
  g_assert_cmpint (known, ==, KNOWN);
  for (int i = 0; i < n; i++)
    list[KNOWN + i] = (StoreMigration) { KNOWN + 1 + i, sql[i] };
  return store_open_with (path, FALSE, &options, error);
}

/* A file as the program of version 1 wrote it: its first statements, its job, and no table that came later. */
static void
make_office_1 (const char *path)
{
  int known;
  StoreOptions options = { .migration = store_migrations (&known), .n_migrations = 1 };
  g_autoptr (Store) store = store_open_with (path, TRUE, &options, NULL);

  g_clear_pointer (&store, store_close);
  plant (path, "INSERT INTO job (uid, revision_id, created_at, edited_at, name, units, decimals)"
               " VALUES ('0123456789abcdef0123456789abcdef', 1, '2026-01-05T08:00:00Z', '2026-01-05T08:00:00Z', 'Depot', 0, 2)");
  plant_single (path);
}

static void
test_from_version_1 (Fixture *fixture, gconstpointer data)
{
  g_autofree char *backup = g_strdup_printf ("%s.before-v%d.bak", fixture->path, KNOWN);
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = NULL;
  g_autoptr (GPtrArray) hours = NULL;
  g_autoptr (HoursEdit) edit = hours_edit_new ("one day");
  gint64 value;

  (void) data;
  make_office_1 (fixture->path);
  g_assert_cmpint (file_version (fixture->path), ==, 1);

  store = store_open (fixture->path, FALSE, &error);
  g_assert_no_error (error);
  g_assert_true (db_int (store->db, &value, NULL, "PRAGMA user_version", ""));
  g_assert_cmpint (value, ==, KNOWN);
  g_assert_cmpint (store_find_job (store, "Depot"), ==, 1);
  hours_edit_add (edit, NULL, hours_entry_new (741000, 0, LABOUR_DELIVER, 7500, "lorry"));
  g_assert_true (store_hours_apply (store, 1, edit, &error));
  hours = store_hours (store, 1, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (hours->len, ==, 1);
  g_clear_pointer (&store, store_close);

  /* The copy beside it is the old file, still of version 1 and with the same job. */
  g_assert_cmpint (file_version (backup), ==, 1);
  g_remove (fixture->path);
  g_assert_cmpint (g_rename (backup, fixture->path), ==, 0);
  store = store_open (fixture->path, FALSE, &error);
  g_assert_no_error (error);
  g_assert_cmpint (store_find_job (store, "Depot"), ==, 1);
}

static void
test_migration (Fixture *fixture, gconstpointer data)
{
  static const char *const sql[] = { "ALTER TABLE job ADD COLUMN planted INTEGER; UPDATE job SET planted = 42",
                                     "CREATE TABLE planted (id INTEGER PRIMARY KEY) STRICT" };
  g_autofree char *backup = g_strdup_printf ("%s.before-v%d.bak", fixture->path, KNOWN + 2);
  g_autoptr (GBytes) before = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = NULL, old = NULL;
  gint64 value;

  (void) data;
  make_office (fixture->path);
  store = open_version (fixture->path, sql, 2, &error);
  g_assert_no_error (error);
  g_assert_true (db_int (store->db, &value, NULL, "SELECT planted FROM job", ""));
  g_assert_cmpint (value, ==, 42);
  g_assert_true (db_int (store->db, &value, NULL, "SELECT count (*) FROM planted", ""));
  g_assert_cmpint (store_find_job (store, "Depot"), ==, 1);

  /* The header says so at once, for programs that look before they open. */
  before = file_bytes (fixture->path);
  g_assert_cmpint (((const guint8 *) g_bytes_get_data (before, NULL))[63], ==, KNOWN + 2);
  g_clear_pointer (&store, store_close);
  assert_left_alone (fixture, STORE_ERROR_NEWER);
  /* What was moved on is what a new file of that version would be. */
  store = open_version (fixture->path, sql, 2, &error);
  g_assert_no_error (error);

  g_assert_cmpint (file_version (backup), ==, KNOWN);
  old = store_open (backup, FALSE, &error);
  g_assert_no_error (error);
  g_assert_cmpint (store_find_job (old, "Depot"), ==, 1);
  g_clear_pointer (&old, store_close);
  g_clear_pointer (&store, store_close);
  g_assert_cmpuint (folder_count (fixture->folder), ==, 2);
}

static void
test_migration_fails (Fixture *fixture, gconstpointer data)
{
  static const char *const broken[] = { "ALTER TABLE job ADD COLUMN planted INTEGER; CREATE TABLE run (id)" };
  static const char *const orphan[] = {
    "CREATE TABLE c (id INTEGER PRIMARY KEY, p INTEGER REFERENCES job (id)) STRICT; INSERT INTO c VALUES (1, 99)"
  };
  static const char *const sound[] = { "CREATE TABLE planted (id INTEGER) STRICT" };
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = NULL;

  (void) data;
  make_office (fixture->path);
  g_assert_null (open_version (fixture->path, broken, 1, &error));
  assert_refused (&error, STORE_ERROR_FAILED, fixture->path);
  g_assert_cmpint (file_version (fixture->path), ==, KNOWN);
  g_assert_null (open_version (fixture->path, orphan, 1, &error));
  g_assert_true (error->domain == STORE_ERROR);
  g_clear_error (&error);
  g_assert_cmpint (file_version (fixture->path), ==, KNOWN);
  plant (fixture->path, "INSERT INTO system (job_id, id, ord) VALUES (77, 1, 1)");
  g_assert_null (open_version (fixture->path, sound, 1, &error));
  assert_refused (&error, STORE_ERROR_DAMAGED, fixture->path);
  g_assert_cmpint (file_version (fixture->path), ==, KNOWN);
  plant (fixture->path, "DELETE FROM system WHERE job_id = 77");
  /* Nothing of either was kept, or this would be refused as a strange schema. */
  store = store_open (fixture->path, FALSE, &error);
  g_assert_no_error (error);
  g_assert_cmpint (store_find_job (store, "Depot"), ==, 1);
}

/* ---- copies ---- */

static void
test_backup (Fixture *fixture, gconstpointer data)
{
  g_autofree char *copy = g_build_filename (fixture->folder, "copy.seam", NULL);
  g_autofree char *nowhere = g_build_filename (fixture->folder, "none", "copy.seam", NULL);
  g_autofree char *name = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = NULL, other = NULL;
  g_autoptr (TallyJob) job = NULL;

  (void) data;
  make_office (fixture->path);
  store = office_open (fixture->path);
  job = store_open_job (store, 1, NULL);
  g_assert_true (job_edit_field (job, JOB_HEAD, 1, job_field_find (JOB_HEAD, "note"), "by the log", NULL, NULL));
  g_file_set_contents (copy, "older", -1, NULL);
  g_assert_true (store_backup (store, copy, &error));
  g_assert_no_error (error);
  assert_kept (copy, 1, job);

  g_assert_false (store_backup (store, fixture->path, &error));
  assert_refused (&error, STORE_ERROR_INVALID, fixture->path);
  name = g_build_filename (fixture->folder, ".", "office.seam", NULL);
  g_assert_false (store_backup (store, name, &error));
  assert_refused (&error, STORE_ERROR_INVALID, fixture->path);
  g_assert_false (store_backup (store, nowhere, &error));
  assert_refused (&error, STORE_ERROR_FAILED, nowhere);
  assert_kept (fixture->path, 1, job);
}

/* A copy that is not sound does not take the place of an older one. */
static void
test_backup_of_damage (Fixture *fixture, gconstpointer data)
{
  g_autofree char *copy = g_build_filename (fixture->folder, "copy.seam", NULL);
  g_autoptr (GBytes) bytes = NULL, broken = NULL, older = g_bytes_new_static ("older", 5);
  g_autoptr (GError) error = NULL;
  g_autoptr (Db) db = NULL;
  g_autofree guint8 *changed = NULL;
  gsize size;

  (void) data;
  make_office (fixture->path);
  bytes = file_bytes (fixture->path);
  size = g_bytes_get_size (bytes);
  changed = g_memdup2 (g_bytes_get_data (bytes, NULL), size);
  memset (changed + size - 3 * 4096, 0xFF, 2 * 4096);
  broken = g_bytes_new (changed, size);
  file_write (fixture->path, broken);
  file_write (copy, older);
  db = db_open (fixture->path, SQLITE_OPEN_READWRITE, NULL, 0, &error);
  g_assert_false (store_copy_file (db, copy, &error));
  assert_refused (&error, STORE_ERROR_DAMAGED, copy);
  assert_file_is (copy, older);
  g_clear_pointer (&db, db_close);
  g_assert_cmpuint (folder_count (fixture->folder), ==, 2);
}

int
main (int argc, char **argv)
{
  static const struct
  {
    const char *name;
    void (*run) (Fixture *, gconstpointer);
  } tests[] = {
    { "create", test_create },
    { "missing", test_missing },
    { "foreign", test_foreign },
    { "newer", test_newer },
    { "newer-in-log", test_newer_in_log },
    { "damaged", test_damaged },
    { "damaged-anywhere", test_damaged_anywhere },
    { "strange-schema", test_strange_schema },
    { "locked", test_locked },
    { "read-only", test_read_only },
    { "made-at-once", test_made_at_once },
    { "no-log", test_no_log },
    { "from-version-1", test_from_version_1 },
    { "migration", test_migration },
    { "migration-fails", test_migration_fails },
    { "backup", test_backup },
    { "backup-of-damage", test_backup_of_damage },
  };

  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (tests); i++)
    {
      g_autofree char *path = g_strconcat ("/store/office/", tests[i].name, NULL);
      g_test_add (path, Fixture, NULL, set_up, tests[i].run, tear_down);
    }
  return g_test_run ();
}

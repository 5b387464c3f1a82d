/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The tables against the descriptors of records, and what the tables themselves refuse. */
#include "helper.h"

typedef struct
{
  char *folder, *path;
  Store *store;
} Fixture;

static void
set_up (Fixture *fixture, gconstpointer data)
{
  (void) data;
  fixture->folder = folder_new ();
  fixture->path = g_build_filename (fixture->folder, "office.seam", NULL);
  fixture->store = office_open (fixture->path);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  (void) data;
  store_close (fixture->store);
  g_free (fixture->path);
  folder_free (fixture->folder);
}

/* name -> type of the columns that a table has. */
static GHashTable *
columns_of (Db *db, const char *table)
{
  GHashTable *columns = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  sqlite3_stmt *statement = db_prepare (db, "SELECT name, type FROM pragma_table_info (?1)", NULL);

  db_bind (statement, "t", table);
  while (db_step (db, statement, NULL) == DB_ROW)
    g_hash_table_insert (columns, g_strdup (db_column_text (statement, 0, NULL)),
                         g_strdup (db_column_text (statement, 1, NULL)));
  return columns;
}

static void
take_column (GHashTable *columns, const char *name, const char *type)
{
  g_assert_cmpstr (g_hash_table_lookup (columns, name), ==, type);
  g_hash_table_remove (columns, name);
}

static void
test_descriptors (Fixture *fixture, gconstpointer data)
{
  static const char *const names[JOB_N_TYPES] = { "job", "system", "area", "cell", "job_change", "run", "drawing",
                                                    "setting", "what_if", "stock" };

  (void) data;
  for (JobType type = 0; type < JOB_N_TYPES; type++)
    {
      const JobTypeInfo *info = job_type_info (type);
      g_autoptr (GHashTable) columns = columns_of (fixture->store->db, names[type]);
      g_autofree gboolean *num = g_new0 (gboolean, (gsize) info->n_num + 1);
      g_autofree gboolean *text = g_new0 (gboolean, (gsize) info->n_text + 1);

      for (int i = 0; i < info->n_fields; i++)
        {
          const JobField *field = &info->field[i];
          g_autofree char *w = g_strconcat (field->key, "_w", NULL), *h = g_strconcat (field->key, "_h", NULL);

          if (field->as == JOB_AS_TEXT)
            {
              take_column (columns, field->key, "TEXT");
              text[field->slot] = TRUE;
              continue;
            }
          num[field->slot] = TRUE;
          if (field->as != JOB_AS_SIZE)
            {
              take_column (columns, field->key, "INTEGER");
              continue;
            }
          num[field->slot + 1] = TRUE;
          take_column (columns, w, "INTEGER");
          take_column (columns, h, "INTEGER");
        }
      take_column (columns, "id", "INTEGER");
      take_column (columns, "ord", "INTEGER");
      if (type != JOB_HEAD)
        take_column (columns, "job_id", "INTEGER");
      else
        {
          take_column (columns, "uid", "TEXT");
          take_column (columns, "revision_id", "INTEGER");
          take_column (columns, "created_at", "TEXT");
          take_column (columns, "edited_at", "TEXT");
          take_column (columns, "edit_seq", "INTEGER");
        }
      /* No column without a field, no slot of a record without a column. */
      g_assert_cmpuint (g_hash_table_size (columns), ==, 0);
      for (int i = 0; i < info->n_num; i++)
        g_assert_true (num[i]);
      for (int i = 0; i < info->n_text; i++)
        g_assert_true (text[i]);
    }
}

/* Tables beside the records of a job: their columns are those of track/hours.h and track/done.h. */
static void
test_track (Fixture *fixture, gconstpointer data)
{
  static const char *const hours[] = { "id", "job_id", "day", "area_id", "step_group", "worker_mh", "batch_id" };
  static const char *const done[] = { "job_id", "run_id", "stage", "ppm", "day" };
  g_autoptr (GHashTable) of_hours = columns_of (fixture->store->db, "hours");
  g_autoptr (GHashTable) of_done = columns_of (fixture->store->db, "done");

  (void) data;
  for (gsize i = 0; i < G_N_ELEMENTS (hours); i++)
    take_column (of_hours, hours[i], "INTEGER");
  take_column (of_hours, "note", "TEXT");
  for (gsize i = 0; i < G_N_ELEMENTS (done); i++)
    take_column (of_done, done[i], "INTEGER");
  g_assert_cmpuint (g_hash_table_size (of_hours), ==, 0);
  g_assert_cmpuint (g_hash_table_size (of_done), ==, 0);
}

static void
test_strict (Fixture *fixture, gconstpointer data)
{
  gint64 n;

  (void) data;
  g_assert_true (db_int (fixture->store->db, &n, NULL,
                         "SELECT count (*) FROM pragma_table_list WHERE schema = 'main' AND type = 'table'"
                         " AND strict = 0 AND name NOT LIKE 'sqlite%'", ""));
  g_assert_cmpint (n, ==, 0);
  g_assert_true (db_int (fixture->store->db, &n, NULL,
                         "SELECT count (*) FROM pragma_table_list WHERE schema = 'main' AND strict = 1", ""));
  g_assert_cmpint (n, >, JOB_N_TYPES);
}

static void
refused (Fixture *fixture, const char *sql)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (db_exec (fixture->store->db, sql, &error));
  assert_refused (&error, STORE_ERROR_INVALID, fixture->path);
}

static void
test_immutable (Fixture *fixture, gconstpointer data)
{
  gint64 before, after;
  static const char count[] = "SELECT count (*) + sum (length (line)) FROM catalogue_row";

  (void) data;
  g_assert_true (db_int (fixture->store->db, &before, NULL, count, ""));
  refused (fixture, "UPDATE revision SET reason = 'x' WHERE id = 1");
  refused (fixture, "UPDATE revision SET state = 'draft' WHERE id = 1");
  refused (fixture, "DELETE FROM revision WHERE id = 1");
  refused (fixture, "INSERT OR REPLACE INTO revision VALUES (1, '', '', '', 'draft')");
  refused (fixture, "UPDATE catalogue_row SET line = 'x'");
  refused (fixture, "DELETE FROM catalogue_row WHERE sheet = 'items'");
  refused (fixture, "INSERT INTO catalogue_row VALUES (1, 'items', 999999, 'x')");
  refused (fixture, "INSERT OR REPLACE INTO catalogue_row VALUES (1, 'items', 0, 'x')");

  /* A draft may change, but there is only one, and its rows do not move into an accepted revision. */
  g_assert_true (db_exec (fixture->store->db,
                          "INSERT INTO revision VALUES (2, '', '', '', 'draft');"
                          "INSERT INTO catalogue_row VALUES (2, 'items', 0, 'x');"
                          "UPDATE catalogue_row SET line = 'y' WHERE revision_id = 2", NULL));
  refused (fixture, "UPDATE catalogue_row SET revision_id = 1, ord = 999999 WHERE revision_id = 2");
  refused (fixture, "INSERT INTO revision VALUES (3, '', '', '', 'draft')");
  refused (fixture, "INSERT INTO revision VALUES (3, '', '', '', 'proposed')");
  g_assert_true (db_exec (fixture->store->db, "DELETE FROM revision WHERE id = 2", NULL));
  g_assert_true (db_int (fixture->store->db, &after, NULL, count, ""));
  g_assert_cmpint (before, ==, after);
}

/* ---- revisions ---- */

static CsvTable *
reread (const CsvTable *table, const char *more)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);

  csv_append_row (text, (const char *const *) table->head->pdata, table->head->len);
  for (guint i = 0; i < table->row->len; i++)
    {
      const CsvRow *row = g_ptr_array_index (table->row, i);
      csv_append_row (text, (const char *const *) row->cell->pdata, row->cell->len);
    }
  g_string_append (text, more);
  return csv_parse (text->str, -1, "items.csv", faults);
}

static void
test_revisions (Fixture *fixture, gconstpointer data)
{
  g_autoptr (Catalogue) first = store_catalogue (fixture->store, 0, NULL);
  g_autoptr (Catalogue) second = NULL;
  g_autoptr (GPtrArray) list = NULL;
  g_autoptr (GError) error = NULL;
  CsvTable *table[CATALOGUE_N_SHEETS];
  g_autoptr (CsvTable) fewer = NULL, faulty = NULL;
  guint last;

  (void) data;
  memcpy (table, first->table, sizeof table);
  /* Without its last item, whatever it is: used by a recipe it would be refused, so one is looked for that is not. */
  fewer = reread (first->table[CATALOGUE_CONDITIONS], "");
  last = fewer->row->len;
  g_assert_cmpuint (last, >, 1);
  g_ptr_array_remove_index (fewer->row, last - 1);
  table[CATALOGUE_CONDITIONS] = fewer;
  g_assert_cmpint (store_add_revision (fixture->store, table, "one condition less", "shop's own", &error), ==, 2);
  g_assert_no_error (error);
  g_assert_cmpint (store_newest_revision (fixture->store, NULL), ==, 2);
  second = store_catalogue (fixture->store, 0, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (second->table[CATALOGUE_CONDITIONS]->row->len, ==, last - 1);
  g_assert_cmpuint (first->table[CATALOGUE_CONDITIONS]->row->len, ==, last);

  faulty = reread (first->table[CATALOGUE_ITEMS], "nonsense,,,,\n");
  table[CATALOGUE_ITEMS] = faulty;
  g_assert_cmpint (store_add_revision (fixture->store, table, "faulty", "shop's own", &error), ==, 0);
  g_assert_error (error, STORE_ERROR, STORE_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, "items.csv"));
  g_clear_error (&error);
  g_assert_null (store_catalogue (fixture->store, 3, &error));
  assert_refused (&error, STORE_ERROR_NOT_FOUND, fixture->path);

  list = store_revisions (fixture->store, NULL);
  g_assert_cmpuint (list->len, ==, 2);
  g_assert_cmpstr (((StoreRevision *) g_ptr_array_index (list, 1))->reason, ==, "one condition less");
  g_assert_cmpstr (((StoreRevision *) g_ptr_array_index (list, 1))->source, ==, "shop's own");
  g_assert_cmpuint (strlen (((StoreRevision *) g_ptr_array_index (list, 1))->at), ==, strlen ("2030-01-31T12:00:00Z"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add ("/store/schema/" name, Fixture, NULL, set_up, run, tear_down)
  ADD ("descriptors", test_descriptors);
  ADD ("track", test_track);
  ADD ("strict", test_strict);
  ADD ("immutable", test_immutable);
  ADD ("revisions", test_revisions);
#undef ADD
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A job moved to another revision of the catalogue. Figures: the starter catalogue (invented demo). */
#include "exchange/runs-csv.h"
#include "helper.h"

typedef struct
{
  char *folder, *path;
  Store *store;
  gint64 id, revision; /* the demo job; a revision where galvanised sheet costs 1.98 instead of 0.98 a lb */
} Fixture;

static void
set_cell (CsvTable *table, const char *key, const char *heading, const char *text)
{
  int column = csv_column (table, heading);

  for (guint i = 0; i < table->row->len; i++)
    {
      GPtrArray *cell = ((CsvRow *) g_ptr_array_index (table->row, i))->cell;
      if (strcmp (g_ptr_array_index (cell, 0), key) != 0)
        continue;
      g_free (g_ptr_array_index (cell, column));
      g_ptr_array_index (cell, column) = g_strdup (text);
      return;
    }
  g_assert_not_reached ();
}

static void
set_up (Fixture *f, gconstpointer data)
{
  g_autoptr (Catalogue) catalogue = NULL;
  g_autoptr (TallyJob) demo = NULL;
  CsvTable *table[CATALOGUE_N_SHEETS];

  (void) data;
  f->folder = folder_new ();
  f->path = g_build_filename (f->folder, "office.seam", NULL);
  f->store = office_open (f->path);
  catalogue = store_catalogue (f->store, 0, NULL);
  demo = exchange_demo_job (catalogue);
  f->id = store_create_job (f->store, demo, 0, NULL);
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    table[i] = catalogue_data (catalogue_sheet_key ((CatalogueSheet) i), NULL);
  set_cell (table[CATALOGUE_ITEMS], "galvanised sheet", "price_usd", "1.98");
  f->revision = store_add_revision (f->store, table, "dearer sheet", "invented demo", NULL);
  g_assert_cmpint (f->revision, >, 1);
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    csv_table_free (table[i]);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  (void) data;
  store_close (f->store);
  g_free (f->path);
  folder_free (f->folder);
}

static gint64
material (TallyJob *job)
{
  const JobScope all = { 0, 0 };
  JobTotals totals;
  gint64 value;

  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  g_autoptr (BuildUp) b = buildup_new (job_basis (job), &totals.sums, 2);
  value = buildup_get (b, "material");
  job_totals_clear (&totals);
  return value;
}

static gint64
revision_of (Store *store, gint64 id)
{
  g_autoptr (GPtrArray) jobs = store_jobs (store, NULL);

  for (guint i = 0; i < jobs->len; i++)
    if (((StoreJobInfo *) g_ptr_array_index (jobs, i))->id == id)
      return ((StoreJobInfo *) g_ptr_array_index (jobs, i))->revision;
  return 0;
}

/* 30,588.5253 lb of sheet at one unit of money more: material rises by 30,588.53 (invented demo); edits go on; so it is read again. */
static void
test_move (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TallyJob) job = store_open_job (f->store, f->id, &error), again = NULL;
  gint64 before = material (job);
  g_autoptr (GPtrArray) log = NULL;

  (void) data;
  g_assert_true (store_set_job_revision (job, f->revision, &error));
  g_assert_no_error (error);
  g_assert_cmpint (material (job) - before, ==, 3058853);
  g_assert_true (job_check_totals (job));
  g_assert_cmpint (revision_of (f->store, f->id), ==, f->revision);
  g_assert_true (job_edit_field (job, JOB_RUN, job_at (job, JOB_RUN, 0)->id, job_field_find (JOB_RUN, "length"), "20", NULL, &error));
  g_assert_no_error (error);
  again = store_open_job (f->store, f->id, &error);
  g_assert_cmpint (material (again), ==, material (job));
  log = store_job_log (f->store, f->id, NULL);
  g_assert_nonnull (strstr (((StoreLogLine *) g_ptr_array_index (log, 1))->label, "revision"));
}

/* Another window has the job: its next edit is refused, and moving there is too. */
static void
test_conflict (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) other = store_open (f->path, FALSE, NULL);
  g_autoptr (TallyJob) job = store_open_job (f->store, f->id, NULL), there = store_open_job (other, f->id, NULL);
  gint64 before = material (there);

  (void) data;
  g_assert_true (store_set_job_revision (job, f->revision, NULL));
  g_assert_false (job_edit_field (there, JOB_RUN, job_at (there, JOB_RUN, 0)->id, job_field_find (JOB_RUN, "length"), "20", NULL, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_CONFLICT);
  g_clear_error (&error);
  g_assert_false (store_set_job_revision (there, f->revision, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_CONFLICT);
  g_assert_cmpint (material (there), ==, before);
}

/* A revision that is not there changes nothing. */
static void
test_missing (Fixture *f, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TallyJob) job = store_open_job (f->store, f->id, NULL);
  gint64 before = material (job), at = revision_of (f->store, f->id);

  (void) data;
  g_assert_false (store_set_job_revision (job, 77, &error));
  g_assert_error (error, STORE_ERROR, STORE_ERROR_NOT_FOUND);
  g_assert_cmpint (material (job), ==, before);
  g_assert_cmpint (revision_of (f->store, f->id), ==, at);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/store/revision/move", Fixture, NULL, set_up, test_move, tear_down);
  g_test_add ("/store/revision/conflict", Fixture, NULL, set_up, test_conflict, tear_down);
  g_test_add ("/store/revision/missing", Fixture, NULL, set_up, test_missing, tear_down);
  return g_test_run ();
}

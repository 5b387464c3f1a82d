/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The draft of the catalogue in the office file, and retired rows in revisions. Figures: the starter catalogue (invented demo). */
#include "cost/catalogue-diff.h"
#include "cost/retire.h"
#include "exchange/runs-csv.h"
#include "helper.h"

typedef struct
{
  char *folder, *path;
  Store *store;
  CsvTable *table[CATALOGUE_N_SHEETS]; /* the starter's, to be changed */
} Fixture;

static void
set_up (Fixture *f, gconstpointer data)
{
  (void) data;
  f->folder = folder_new ();
  f->path = g_build_filename (f->folder, "office.seam", NULL);
  f->store = office_open (f->path);
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    f->table[i] = catalogue_data (catalogue_sheet_key ((CatalogueSheet) i), NULL);
}

static void
tear_down (Fixture *f, gconstpointer data)
{
  (void) data;
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    csv_table_free (f->table[i]);
  store_close (f->store);
  g_free (f->path);
  folder_free (f->folder);
}

static void
set_cell (CsvTable *table, guint row, guint column, const char *text)
{
  GPtrArray *cell = ((CsvRow *) g_ptr_array_index (table->row, row))->cell;

  g_free (g_ptr_array_index (cell, column));
  g_ptr_array_index (cell, column) = g_strdup (text);
}

static guint
row_of (const CsvTable *table, const char *heading, const char *key)
{
  for (guint row = 0; row < table->row->len; row++)
    if (strcmp (csv_cell (table, row, csv_column (table, heading)), key) == 0)
      return row;
  g_assert_not_reached ();
  return 0;
}

static gint64
newest (Store *store)
{
  return store_newest_revision (store, NULL);
}

/* What a person may have typed, faulty or not, comes back cell by cell, also for who opens the file anew. */
static void
test_kept (Fixture *f, gconstpointer data)
{
  static const char *const typed[] = { "#dear", "two\nlines", "\"a\", b;\tc", "12x", "", " Z\xC3\xBCrich ", "'=1+1" };
  CsvTable *kept[CATALOGUE_N_SHEETS] = { NULL };
  CsvTable *items = f->table[CATALOGUE_ITEMS];
  g_autoptr (GError) error = NULL;
  g_autoptr (StoreDraft) none = NULL, draft = NULL;
  gint64 id;

  (void) data;
  g_assert_true (store_read_draft (f->store, &none, &error));
  g_assert_null (none);
  for (guint i = 0; i < G_N_ELEMENTS (typed); i++)
    set_cell (items, i, i % 2, typed[i]);
  for (guint c = 0; c < items->head->len; c++)
    set_cell (items, 10, c, ""); /* a new row before anything is typed */
  kept[CATALOGUE_ITEMS] = items;
  id = store_keep_draft (f->store, 0, 1, kept, &error);
  g_assert_no_error (error);
  g_assert_cmpint (id, >, 0);
  store_close (f->store);
  f->store = office_open (f->path);
  g_assert_true (store_read_draft (f->store, &draft, &error));
  g_assert_no_error (error);
  g_assert_cmpint (draft->id, ==, id);
  g_assert_cmpint (draft->revision, ==, 1);
  g_assert_cmpuint (strlen (draft->at), ==, strlen ("2030-01-31T12:00:00Z"));
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    g_assert_true ((draft->table[i] != NULL) == (i == CATALOGUE_ITEMS));
  g_assert_cmpuint (draft->table[CATALOGUE_ITEMS]->row->len, ==, items->row->len);
  for (guint row = 0; row < items->row->len; row++)
    for (guint c = 0; c < items->head->len; c++)
      g_assert_cmpstr (csv_cell (draft->table[CATALOGUE_ITEMS], row, (int) c), ==, csv_cell (items, row, (int) c));
  /* Nothing of it is in the catalogue. */
  g_assert_cmpint (newest (f->store), ==, 1);
}

/* Each keeping replaces the one before; who has not seen it is refused and changes nothing. */
static void
test_overtaken (Fixture *f, gconstpointer data)
{
  CsvTable *kept[CATALOGUE_N_SHEETS] = { [CATALOGUE_ITEMS] = f->table[CATALOGUE_ITEMS] };
  CsvTable *other[CATALOGUE_N_SHEETS] = { [CATALOGUE_STEPS] = f->table[CATALOGUE_STEPS] };
  g_autoptr (Store) there = store_open (f->path, FALSE, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (StoreDraft) draft = NULL;
  gint64 first, second, third;

  (void) data;
  first = store_keep_draft (f->store, 0, 1, kept, &error);
  g_assert_cmpint (store_keep_draft (there, 0, 1, other, &error), ==, 0);
  assert_refused (&error, STORE_ERROR_CONFLICT, f->path);
  second = store_keep_draft (there, first, 1, other, &error);
  g_assert_no_error (error);
  g_assert_cmpint (second, !=, first);
  g_assert_cmpint (store_keep_draft (f->store, first, 1, kept, &error), ==, 0);
  assert_refused (&error, STORE_ERROR_CONFLICT, f->path);
  g_assert_false (store_drop_draft (f->store, first, &error));
  assert_refused (&error, STORE_ERROR_CONFLICT, f->path);
  g_assert_cmpint (store_accept_draft (f->store, first, f->table, "late", "invented demo", &error), ==, 0);
  assert_refused (&error, STORE_ERROR_CONFLICT, f->path);
  g_assert_cmpint (newest (f->store), ==, 1);
  g_assert_true (store_read_draft (f->store, &draft, &error));
  g_assert_null (draft->table[CATALOGUE_ITEMS]);
  g_assert_nonnull (draft->table[CATALOGUE_STEPS]);
  /* An id does not come back with the next draft. */
  g_assert_true (store_drop_draft (f->store, second, &error));
  third = store_keep_draft (f->store, 0, 1, kept, &error);
  g_assert_cmpint (third, !=, first);
  g_assert_cmpint (third, !=, second);
}

/* Accepted, the draft is a revision and gone; refused, it is still there, as typed. */
static void
test_accepted (Fixture *f, gconstpointer data)
{
  CsvTable *kept[CATALOGUE_N_SHEETS] = { [CATALOGUE_ITEMS] = f->table[CATALOGUE_ITEMS] };
  int price = csv_column (f->table[CATALOGUE_ITEMS], "price_usd");
  g_autoptr (GError) error = NULL;
  g_autoptr (StoreDraft) draft = NULL, none = NULL;
  g_autoptr (Catalogue) catalogue = NULL;
  gint64 id;

  (void) data;
  set_cell (f->table[CATALOGUE_ITEMS], 0, (guint) price, "dear");
  id = store_keep_draft (f->store, 0, 1, kept, &error);
  g_assert_cmpint (store_accept_draft (f->store, id, f->table, "prices", "invented demo", &error), ==, 0);
  g_assert_error (error, STORE_ERROR, STORE_ERROR_INVALID);
  g_clear_error (&error);
  g_assert_true (store_read_draft (f->store, &draft, &error));
  g_assert_cmpstr (csv_cell (draft->table[CATALOGUE_ITEMS], 0, price), ==, "dear");
  g_assert_cmpint (draft->id, ==, id);
  set_cell (f->table[CATALOGUE_ITEMS], 0, (guint) price, "1.04");
  g_assert_cmpint (store_accept_draft (f->store, id, f->table, "prices", "invented demo", &error), ==, 2);
  g_assert_no_error (error);
  g_assert_true (store_read_draft (f->store, &none, &error));
  g_assert_null (none);
  catalogue = store_catalogue (f->store, 0, &error);
  g_assert_cmpint (catalogue_item (catalogue, 0)->price, ==, 10400);
}

/* A revision of somebody else's does not touch the draft, which still says what it was begun on. */
static void
test_stale (Fixture *f, gconstpointer data)
{
  CsvTable *kept[CATALOGUE_N_SHEETS] = { [CATALOGUE_STEPS] = f->table[CATALOGUE_STEPS] };
  g_autoptr (StoreDraft) draft = NULL;
  g_autoptr (GError) error = NULL;

  (void) data;
  g_assert_cmpint (store_keep_draft (f->store, 0, 1, kept, &error), >, 0);
  g_assert_cmpint (store_add_revision (f->store, f->table, "from elsewhere", "invented demo", &error), ==, 2);
  g_assert_no_error (error);
  g_assert_true (store_read_draft (f->store, &draft, &error));
  g_assert_nonnull (draft);
  g_assert_cmpint (draft->revision, ==, 1);
  g_assert_cmpint (newest (f->store), ==, 2);
}

/* What cannot be read is said, and can be discarded. */
static void
test_damaged (Fixture *f, gconstpointer data)
{
  CsvTable *kept[CATALOGUE_N_SHEETS] = { [CATALOGUE_STEPS] = f->table[CATALOGUE_STEPS] };
  g_autoptr (StoreDraft) draft = NULL;
  g_autoptr (GError) error = NULL;

  (void) data;
  g_assert_cmpint (store_keep_draft (f->store, 0, 1, kept, &error), >, 0);
  plant (f->path, "UPDATE office SET value = 'step,step' || char (10) WHERE key = 'draft.sheet.steps'");
  g_assert_false (store_read_draft (f->store, &draft, &error));
  assert_refused (&error, STORE_ERROR_DAMAGED, f->path);
  g_assert_null (draft);
  g_assert_true (store_drop_draft (f->store, STORE_ANY_DRAFT, &error));
  g_assert_true (store_read_draft (f->store, &draft, &error));
  g_assert_null (draft);
}

/* ---- retired rows ---- */

/* Refused while a recipe line uses it, naming sheet and line; with that line retired it is taken, and old revisions have it as it
 * was. Restored, it is offered again. */
static void
test_retired (Fixture *f, gconstpointer data)
{
  CsvTable *items = f->table[CATALOGUE_ITEMS], *recipes = f->table[CATALOGUE_RECIPES];
  guint item = row_of (items, "item", "driven fastener"), line = row_of (recipes, "target", "driven fastener");
  g_autofree char *place = g_strdup_printf ("recipes.csv:%u", line + 2);
  g_autoptr (GError) error = NULL;
  g_autoptr (Catalogue) old = NULL, fresh = NULL, again = NULL;

  (void) data;
  catalogue_retire_row (items, item, TRUE);
  g_assert_cmpint (store_add_revision (f->store, f->table, "no more drivers", "invented demo", &error), ==, 0);
  g_assert_error (error, STORE_ERROR, STORE_ERROR_INVALID);
  g_assert_nonnull (strstr (error->message, place));
  g_assert_nonnull (strstr (error->message, "driven fastener"));
  g_clear_error (&error);
  catalogue_retire_row (recipes, line, TRUE);
  g_assert_cmpint (store_add_revision (f->store, f->table, "no more drivers", "invented demo", &error), ==, 2);
  g_assert_no_error (error);
  fresh = store_catalogue (f->store, 2, &error);
  old = store_catalogue (f->store, 1, &error);
  g_assert_true (catalogue_is_retired (fresh, CATALOGUE_ITEMS, "driven fastener"));
  g_assert_true (catalogue_row_retired (fresh->table[CATALOGUE_RECIPES], line));
  g_assert_cmpuint (fresh->recipes->len, ==, old->recipes->len - 1);
  g_assert_false (catalogue_is_retired (old, CATALOGUE_ITEMS, "driven fastener"));
  catalogue_retire_row (items, item, FALSE);
  catalogue_retire_row (recipes, line, FALSE);
  g_assert_cmpint (store_add_revision (f->store, f->table, "drivers again", "invented demo", &error), ==, 3);
  again = store_catalogue (f->store, 3, &error);
  g_assert_false (catalogue_is_retired (again, CATALOGUE_ITEMS, "driven fastener"));
  g_assert_cmpuint (again->recipes->len, ==, old->recipes->len);
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

/* A job that counts an item keeps it: in its own revision, and when it moves to the one where the item is retired. */
static void
test_old_job (Fixture *f, gconstpointer data)
{
  g_autoptr (Catalogue) catalogue = store_catalogue (f->store, 1, NULL);
  g_autoptr (TallyJob) demo = exchange_demo_job (catalogue), job = NULL, again = NULL;
  g_autoptr (GError) error = NULL;
  JobEdit *edit;
  JobRecord *run;
  gint64 id, before;

  (void) data;
  id = store_create_job (f->store, demo, 1, &error);
  job = store_open_job (f->store, id, &error);
  g_assert_no_error (error);
  before = material (job);
  run = job_record_new (JOB_RUN, job_take_id (job, JOB_RUN), G_GINT64_CONSTANT (1) << 50);
  run->num[RUN_KIND] = DUCT_COUNTED;
  run->num[RUN_COUNT] = 3000;
  job_record_set_text (run, RUN_ITEM, "leakage test");
  edit = job_edit_new ("three tests");
  job_edit_add (edit, NULL, run);
  g_assert_true (job_apply (job, edit, &error));
  g_assert_cmpint (material (job) - before, ==, 3 * 95000); /* 950 each: invented demo */
  catalogue_retire_row (f->table[CATALOGUE_ITEMS], row_of (f->table[CATALOGUE_ITEMS], "item", "leakage test"), TRUE);
  g_assert_cmpint (store_add_revision (f->store, f->table, "tests are bought in", "invented demo", &error), ==, 2);
  again = store_open_job (f->store, id, &error);
  g_assert_cmpint (material (again) - before, ==, 3 * 95000);
  g_assert_true (store_set_job_revision (again, 2, &error));
  g_assert_no_error (error);
  g_assert_cmpint (material (again) - before, ==, 3 * 95000);
  g_assert_true (catalogue_is_retired (job_basis (again)->catalogue, CATALOGUE_ITEMS, "leakage test"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add ("/store/" name, Fixture, NULL, set_up, run, tear_down)
  ADD ("draft/kept", test_kept);
  ADD ("draft/overtaken", test_overtaken);
  ADD ("draft/accepted", test_accepted);
  ADD ("draft/stale", test_stale);
  ADD ("draft/damaged", test_damaged);
  ADD ("retired/revision", test_retired);
  ADD ("retired/old-job", test_old_job);
#undef ADD
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two states of the catalogue held against each other. Figures: the starter catalogue (invented demo). */
#include "fixture.h"

#include "cost/catalogue-diff.h"

typedef struct
{
  CsvTable *a[CATALOGUE_N_SHEETS], *b[CATALOGUE_N_SHEETS];
} Two;

static void
set_up (Two *two, gconstpointer data)
{
  (void) data;
  fixture_tables (two->a);
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    two->b[i] = catalogue_copy_table (two->a[i]);
}

static void
tear_down (Two *two, gconstpointer data)
{
  (void) data;
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    {
      csv_table_free (two->a[i]);
      csv_table_free (two->b[i]);
    }
}

static const CatalogueChange *
change_at (GPtrArray *changes, guint i)
{
  return g_ptr_array_index (changes, i);
}

static void
test_same (Two *two, gconstpointer data)
{
  g_autoptr (GPtrArray) changes = catalogue_diff (two->a, two->b);

  (void) data;
  g_assert_cmpuint (changes->len, ==, 0);
  /* The copy reads as the original does. */
  Catalogue *catalogue = fixture_catalogue (two->b);
  g_assert_cmpint (catalogue_item (catalogue, 0)->price, ==, 9800);
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    two->b[i] = catalogue_copy_table (two->a[i]);
  catalogue_unref (catalogue);
}

static void
test_cell (Two *two, gconstpointer data)
{
  (void) data;
  fixture_set (two->b[CATALOGUE_ITEMS], "galvanised sheet", "price_usd", "1.04");
  g_autoptr (GPtrArray) changes = catalogue_diff (two->a, two->b);
  g_assert_cmpuint (changes->len, ==, 1);
  g_assert_cmpint (change_at (changes, 0)->sheet, ==, CATALOGUE_ITEMS);
  g_assert_cmpint (change_at (changes, 0)->kind, ==, CATALOGUE_CELL_CHANGED);
  g_assert_cmpint (change_at (changes, 0)->at, ==, 0);
  g_assert_cmpstr (change_at (changes, 0)->row, ==, "galvanised sheet");
  g_assert_cmpstr (change_at (changes, 0)->heading, ==, "price_usd");
  g_assert_cmpstr (change_at (changes, 0)->before, ==, ".98");
  g_assert_cmpstr (change_at (changes, 0)->after, ==, "1.04");
}

/* A row taken away shifts the others, which are not called changed; held the other way round it is one added. */
static void
test_rows (Two *two, gconstpointer data)
{
  (void) data;
  g_ptr_array_remove_index (two->b[CATALOGUE_RECIPES]->row, 5);
  g_autoptr (GPtrArray) gone = catalogue_diff (two->a, two->b), come = catalogue_diff (two->b, two->a);
  g_assert_cmpuint (gone->len, ==, 1);
  g_assert_cmpint (change_at (gone, 0)->kind, ==, CATALOGUE_ROW_REMOVED);
  g_assert_cmpint (change_at (gone, 0)->at, ==, 5);
  g_assert_nonnull (change_at (gone, 0)->before);
  g_assert_null (change_at (gone, 0)->after);
  g_assert_cmpuint (come->len, ==, 1);
  g_assert_cmpint (change_at (come, 0)->kind, ==, CATALOGUE_ROW_ADDED);
  g_assert_cmpstr (change_at (come, 0)->after, ==, change_at (gone, 0)->before);
}

/* Order counts nowhere; a row with another key is another row. */
static void
test_keys (Two *two, gconstpointer data)
{
  GPtrArray *row = two->b[CATALOGUE_GAUGES]->row;
  gpointer first = g_ptr_array_steal_index (row, 0);

  (void) data;
  g_ptr_array_add (row, first);
  g_autoptr (GPtrArray) moved = catalogue_diff (two->a, two->b);
  g_assert_cmpuint (moved->len, ==, 0);
  fixture_set (two->b[CATALOGUE_CONDITIONS], "high work", "condition", "very high work");
  g_autoptr (GPtrArray) renamed = catalogue_diff (two->a, two->b);
  g_assert_cmpuint (renamed->len, ==, 2);
  g_assert_cmpint (change_at (renamed, 0)->kind, ==, CATALOGUE_ROW_ADDED);
  g_assert_cmpint (change_at (renamed, 1)->kind, ==, CATALOGUE_ROW_REMOVED);
}

/* The key columns are headings of the starter tables, and no two rows of it share a key where one is expected to be found. */
static void
test_headings (Two *two, gconstpointer data)
{
  (void) data;
  for (int s = 0; s < CATALOGUE_N_SHEETS; s++)
    g_assert_cmpint (catalogue_n_keys ((CatalogueSheet) s), >, 0);
  /* Another key than the headings have would make every row equal: then a removed first row would show as many changed cells. */
  for (int s = 0; s < CATALOGUE_N_SHEETS; s++)
    {
      if (two->b[s]->row->len == 0)
        continue; /* a table that a shop fills */
      g_ptr_array_remove_index (two->b[s]->row, 0);
      g_autoptr (GPtrArray) changes = catalogue_diff (two->a, two->b);
      guint of_sheet = 0;
      for (guint i = 0; i < changes->len; i++)
        of_sheet += change_at (changes, i)->sheet == (CatalogueSheet) s;
      g_assert_cmpuint (of_sheet, ==, 1);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add ("/catalogue-diff/" name, Two, NULL, set_up, run, tear_down)
  ADD ("same", test_same);
  ADD ("cell", test_cell);
  ADD ("rows", test_rows);
  ADD ("keys", test_keys);
  ADD ("headings", test_headings);
  return g_test_run ();
}

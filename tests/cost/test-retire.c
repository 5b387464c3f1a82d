/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Rows that are retired: what still reads them, what may not name them. Figures: the starter catalogue (invented demo). */
#include "cost/retire.h"
#include "priced.h"

#include "cost/catalogue-diff.h"

static guint
row_of (const CsvTable *table, int column, const char *key, guint from)
{
  for (guint row = from; row < table->row->len; row++)
    if (strcmp (csv_cell (table, row, column), key) == 0)
      return row;
  return G_MAXUINT;
}

/* The recipe lines that give @target. */
static GArray *
lines_of (const CsvTable *recipes, const char *target)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint row = 0; row < recipes->row->len; row++)
    if (strcmp (csv_cell (recipes, row, csv_column (recipes, "target")), target) == 0)
      g_array_append_val (out, row);
  return out;
}

static guint
n_faults (CsvTable *table[CATALOGUE_N_SHEETS], GPtrArray *faults)
{
  CsvTable *copy[CATALOGUE_N_SHEETS];
  Catalogue *catalogue;

  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    copy[i] = catalogue_copy_table (table[i]);
  g_ptr_array_set_size (faults, 0);
  catalogue = catalogue_new (copy, faults);
  g_assert_true ((catalogue == NULL) == (faults->len > 0));
  g_clear_pointer (&catalogue, catalogue_unref);
  return faults->len;
}

static void
tables_free (CsvTable *table[CATALOGUE_N_SHEETS])
{
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    csv_table_free (table[i]);
}

/* Every live recipe line that names a retired item is complained of, with its place; with those lines retired too it is sound. */
static void
test_item (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  g_autoptr (GPtrArray) faults = fixture_faults ();
  guint row;

  fixture_tables (table);
  g_autoptr (GArray) lines = lines_of (table[CATALOGUE_RECIPES], "driven fastener");
  g_autoptr (GArray) uses = catalogue_uses (table, CATALOGUE_ITEMS, "driven fastener");
  g_assert_cmpuint (lines->len, ==, 1); /* in the starter file: 4 a flanged joint */
  g_assert_cmpuint (uses->len, ==, 1);
  g_assert_cmpint (g_array_index (uses, CatalogueUse, 0).sheet, ==, CATALOGUE_RECIPES);
  g_assert_cmpuint (g_array_index (uses, CatalogueUse, 0).row, ==, g_array_index (lines, guint, 0));

  row = row_of (table[CATALOGUE_ITEMS], 0, "driven fastener", 0);
  g_assert_false (catalogue_row_retired (table[CATALOGUE_ITEMS], row));
  catalogue_retire_row (table[CATALOGUE_ITEMS], row, TRUE);
  g_assert_true (catalogue_row_retired (table[CATALOGUE_ITEMS], row));
  g_assert_false (catalogue_row_retired (table[CATALOGUE_ITEMS], row + 1));
  g_assert_cmpuint (n_faults (table, faults), ==, 1);
  const CsvFault *fault = g_ptr_array_index (faults, 0);
  g_assert_cmpstr (fault->file, ==, "recipes.csv");
  g_assert_cmpint (fault->line, ==, (int) g_array_index (lines, guint, 0) + 2);
  g_assert_cmpstr (fault->heading, ==, "target");
  g_assert_nonnull (strstr (fault->what, "driven fastener"));

  catalogue_retire_row (table[CATALOGUE_RECIPES], g_array_index (lines, guint, 0), TRUE);
  g_assert_cmpuint (n_faults (table, faults), ==, 0);
  g_autoptr (GArray) none = catalogue_uses (table, CATALOGUE_ITEMS, "driven fastener");
  g_assert_cmpuint (none->len, ==, 0);

  Catalogue *catalogue = fixture_catalogue (table);
  g_assert_true (catalogue_is_retired (catalogue, CATALOGUE_ITEMS, "driven fastener"));
  g_assert_false (catalogue_is_retired (catalogue, CATALOGUE_ITEMS, "screw"));
  g_assert_false (catalogue_is_retired (catalogue, CATALOGUE_ITEMS, "no such item"));
  /* Old runs that name it still find it at its price. */
  g_assert_cmpint (catalogue_item (catalogue, catalogue_find_item (catalogue, "driven fastener"))->price, ==, 13000);
  catalogue_unref (catalogue);
}

/* The retired line gives nothing any more; the others give what they gave: 4 fasteners at 1.30 a joint, and not one else. */
static void
test_recipe_line (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  DuctShape piece = hand_piece (), again = hand_piece ();

  starter = catalogue_starter ();
  g_autoptr (CostBasis) before = basis_new (NULL);
  g_autofree gint64 *was = price (before, "slip-on-driven", &piece, LABOUR_LIKELY);
  catalogue_unref (starter);
  fixture_tables (table);
  g_autoptr (GArray) lines = lines_of (table[CATALOGUE_RECIPES], "driven fastener");
  catalogue_retire_row (table[CATALOGUE_RECIPES], g_array_index (lines, guint, 0), TRUE);
  starter = fixture_catalogue (table);
  g_autoptr (CostBasis) after = basis_new (NULL);
  g_autofree gint64 *is = price (after, "slip-on-driven", &again, LABOUR_LIKELY);
  /* One joint, 4 fasteners, 2 % overage. */
  g_assert_cmpfloat_with_epsilon (quantity (before, was, "driven fastener"), 4.08, 1e-6);
  g_assert_cmpfloat_with_epsilon (quantity (after, is, "driven fastener"), 0, 1e-6);
  g_assert_cmpint (after->n_items, ==, before->n_items);
  for (int i = 0; i < before->n_items; i++)
    if (i != catalogue_find_item (starter, "driven fastener"))
      g_assert_cmpint (is[i], ==, was[i]);
  catalogue_unref (starter);
}

/* A step or crew with several rows: one row may go; with the last the whole is retired, and what names it is complained of. */
static void
test_many_rows (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  g_autoptr (GPtrArray) faults = fixture_faults ();
  guint row;

  /* Three bands of piece mass in the starter file. */
  fixture_tables (table);
  row = row_of (table[CATALOGUE_STEPS], 0, "raise and hold", 0);
  catalogue_retire_row (table[CATALOGUE_STEPS], row, TRUE);
  Catalogue *catalogue = fixture_catalogue (table);
  const LabourStep *step = catalogue_step (catalogue, labour_find_step (catalogue->labour, "raise and hold"));
  g_assert_cmpuint (step->bands->len, ==, 2);
  g_assert_false (catalogue_is_retired (catalogue, CATALOGUE_STEPS, "raise and hold"));
  catalogue_unref (catalogue);

  fixture_tables (table);
  for (guint i = row; i != G_MAXUINT; i = row_of (table[CATALOGUE_STEPS], 0, "raise and hold", i + 1))
    catalogue_retire_row (table[CATALOGUE_STEPS], i, TRUE);
  g_autoptr (GArray) uses = catalogue_uses (table, CATALOGUE_STEPS, "raise and hold");
  g_assert_cmpuint (uses->len, >, 0);
  g_assert_cmpuint (n_faults (table, faults), ==, uses->len);
  for (guint i = 0; i < uses->len; i++)
    catalogue_retire_row (table[CATALOGUE_RECIPES], g_array_index (uses, CatalogueUse, i).row, TRUE);
  catalogue = fixture_catalogue (table);
  step = catalogue_step (catalogue, labour_find_step (catalogue->labour, "raise and hold"));
  g_assert_true (catalogue_is_retired (catalogue, CATALOGUE_STEPS, "raise and hold"));
  g_assert_cmpuint (step->bands->len, ==, 3); /* still whole, for jobs that count it */
  catalogue_unref (catalogue);
}

/* Crews, connections, fallbacks and tooling are named too. */
static void
test_named (void)
{
  static const struct
  {
    CatalogueSheet sheet;
    const char *key;
    CatalogueSheet user;
    const char *heading;
  } cases[] = {
    { CATALOGUE_CREWS, "field", CATALOGUE_STEPS, "crew" },
    { CATALOGUE_CONNECTIONS, "integral", CATALOGUE_METHODS, "connection" },
    { CATALOGUE_METHODS, "slip-on-bolted", CATALOGUE_METHODS, "fallback" },
    { CATALOGUE_ITEMS, "driver tooling and training", CATALOGUE_METHODS, "tooling" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      CsvTable *table[CATALOGUE_N_SHEETS];
      g_autoptr (GPtrArray) faults = fixture_faults ();
      fixture_tables (table);
      g_autoptr (GArray) uses = catalogue_uses (table, cases[i].sheet, cases[i].key);
      catalogue_retire_row (table[cases[i].sheet], row_of (table[cases[i].sheet], 0, cases[i].key, 0), TRUE);
      g_assert_cmpuint (uses->len, >, 0);
      g_assert_cmpuint (n_faults (table, faults), ==, uses->len);
      for (guint k = 0; k < faults->len; k++)
        {
          const CsvFault *fault = g_ptr_array_index (faults, k);
          g_assert_cmpstr (fault->file, ==, table[cases[i].user]->name);
          g_assert_cmpstr (fault->heading, ==, cases[i].heading);
        }
      tables_free (table);
    }
}

/* A condition and a rule set are named by jobs alone: nothing stands in the way, and they are still found. */
static void
test_of_jobs (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];

  fixture_tables (table);
  catalogue_retire_row (table[CATALOGUE_CONDITIONS], 0, TRUE);
  catalogue_retire_row (table[CATALOGUE_RULE_SETS], 0, TRUE);
  catalogue_retire_row (table[CATALOGUE_METHODS], row_of (table[CATALOGUE_METHODS], 0, "slip-on-driven", 0), TRUE);
  catalogue_retire_row (table[CATALOGUE_METHODS], row_of (table[CATALOGUE_METHODS], 0, "slip-and-drive-driven", 0), TRUE);
  Catalogue *catalogue = fixture_catalogue (table);
  const char *condition = csv_cell (table[CATALOGUE_CONDITIONS], 0, 0), *set = csv_cell (table[CATALOGUE_RULE_SETS], 0, 0);
  g_assert_true (catalogue_is_retired (catalogue, CATALOGUE_CONDITIONS, condition));
  g_assert_cmpint (labour_find_condition (catalogue->labour, condition), ==, 0);
  g_assert_true (catalogue_is_retired (catalogue, CATALOGUE_RULE_SETS, set));
  g_assert_cmpint (duct_rules_find_set (catalogue->rules, set), ==, 0);
  g_assert_cmpint (catalogue_first_rule_set (catalogue), ==, 1);
  g_assert_cmpint (catalogue_first_method (catalogue), ==, 0);
  g_assert_cmpint (catalogue_find_method (catalogue, "slip-on-driven"), ==, 1);
  catalogue_unref (catalogue);
}

/* Rows that nothing names by key just count no longer: a screw spacing; one that everything needs is missed. */
static void
test_rules (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  g_autoptr (GPtrArray) faults = fixture_faults ();
  guint n;

  fixture_tables (table);
  n = table[CATALOGUE_SCREWS]->row->len;
  catalogue_retire_row (table[CATALOGUE_SCREWS], 0, TRUE);
  Catalogue *catalogue = fixture_catalogue (table);
  g_assert_cmpuint (catalogue->rules->screws->len, ==, n - 1);
  g_assert_cmpuint (catalogue->table[CATALOGUE_SCREWS]->row->len, ==, n);
  catalogue_unref (catalogue);

  fixture_tables (table);
  catalogue_retire_row (table[CATALOGUE_ALLOWANCES], 0, TRUE);
  g_assert_cmpuint (n_faults (table, faults), ==, 1);
  tables_free (table);
}

/* Restored, a row differs in nothing from what it was; another word in the cell is no retirement. */
static void
test_restore (void)
{
  CsvTable *before[CATALOGUE_N_SHEETS], *table[CATALOGUE_N_SHEETS];
  g_autoptr (GPtrArray) faults = fixture_faults ();
  guint n;

  fixture_tables (before);
  fixture_tables (table);
  n = table[CATALOGUE_ITEMS]->head->len;
  catalogue_retire_row (table[CATALOGUE_ITEMS], 3, FALSE);
  g_assert_cmpuint (table[CATALOGUE_ITEMS]->head->len, ==, n);
  catalogue_retire_row (table[CATALOGUE_ITEMS], 3, TRUE);
  g_autoptr (GPtrArray) retired = catalogue_diff (before, table);
  g_assert_cmpuint (retired->len, ==, 1);
  g_assert_cmpstr (((CatalogueChange *) g_ptr_array_index (retired, 0))->heading, ==, CATALOGUE_RETIRED);
  g_assert_cmpstr (((CatalogueChange *) g_ptr_array_index (retired, 0))->after, ==, CATALOGUE_RETIRED);
  catalogue_retire_row (table[CATALOGUE_ITEMS], 3, FALSE);
  g_autoptr (GPtrArray) restored = catalogue_diff (before, table);
  g_assert_cmpuint (restored->len, ==, 0);
  g_assert_cmpuint (table[CATALOGUE_ITEMS]->head->len, ==, n);
  g_assert_cmpstr (csv_cell (table[CATALOGUE_ITEMS], 3, 1), ==, csv_cell (before[CATALOGUE_ITEMS], 3, 1));
  g_assert_cmpuint (n_faults (table, faults), ==, 0);
  catalogue_retire_row (table[CATALOGUE_ITEMS], row_of (table[CATALOGUE_ITEMS], 0, "leakage test", 0), TRUE);
  g_assert_cmpuint (n_faults (table, faults), ==, 0);
  fixture_set (table[CATALOGUE_ITEMS], "screw", CATALOGUE_RETIRED, "perhaps");
  g_assert_cmpuint (n_faults (table, faults), ==, 1);
  g_assert_cmpstr (((CsvFault *) g_ptr_array_index (faults, 0))->heading, ==, CATALOGUE_RETIRED);
  tables_free (before);
  tables_free (table);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/cost/retire/item", test_item);
  g_test_add_func ("/cost/retire/recipe-line", test_recipe_line);
  g_test_add_func ("/cost/retire/many-rows", test_many_rows);
  g_test_add_func ("/cost/retire/named", test_named);
  g_test_add_func ("/cost/retire/of-jobs", test_of_jobs);
  g_test_add_func ("/cost/retire/rules", test_rules);
  g_test_add_func ("/cost/retire/restore", test_restore);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/catalogue-diff.h"

#include <string.h>

/* Headings that tell one row of a sheet from the others. */
static const char *const keys[CATALOGUE_N_SHEETS][7] = {
  [CATALOGUE_SHEETS] = { "metal", "gauge" },
  [CATALOGUE_RULE_SETS] = { "rule_set" },
  [CATALOGUE_GAUGES] = { "rule_set", "metal", "class_from", "class_to", "side_to_in" },
  [CATALOGUE_CONNECTIONS] = { "connection" },
  [CATALOGUE_SCREWS] = { "class_to", "connection", "end", "side_to_in" },
  [CATALOGUE_CLEATS] = { "class_to", "connection", "end", "side_to_in" },
  [CATALOGUE_VANES] = { "vane_to_in" },
  [CATALOGUE_PROFILES] = { "sheet_to_in" },
  [CATALOGUE_ALLOWANCES] = { "allowance" },
  [CATALOGUE_CREWS] = { "crew", "class" },
  [CATALOGUE_STEPS] = { "step", "band_to_lb" },
  [CATALOGUE_CONDITIONS] = { "condition" },
  [CATALOGUE_ITEMS] = { "item" },
  [CATALOGUE_METHODS] = { "method" },
  [CATALOGUE_RECIPES] = { "part", "kinds", "driver", "type", "target", "where" },
  [CATALOGUE_BUILDUP] = { "line" },
  [CATALOGUE_STIFFNESS] = { "class" },
  [CATALOGUE_MEMBERS] = { "member" },
  [CATALOGUE_JOINT_RATINGS] = { "connection", "height_in", "gauge" },
  [CATALOGUE_REINFORCEMENT] = { "rule_set", "pressure_in_wg", "sign", "side_from_in", "spacing_ft", "gauge" },
  [CATALOGUE_TIE_RODS] = { "rule_set", "pressure_in_wg", "side_to_in" },
  [CATALOGUE_ROUND_GAUGES] = { "rule_set", "metal", "pressure_in_wg", "sign", "seam", "dia_to_in" },
  [CATALOGUE_GORES] = { "angle_to", "dia_to_in" },
  [CATALOGUE_WRAPS] = { "label_in" },
  [CATALOGUE_LINER_PINS] = { "speed_to_fpm" },
  [CATALOGUE_SEAL_CLASSES] = { "edition", "seal_class" },
  [CATALOGUE_LEAKAGE] = { "edition", "seal_class", "class_to" },
  [CATALOGUE_SUPPORTS] = { "rule_set", "section", "half_perimeter_to_in", "side_to_in" },
  [CATALOGUE_HANGER_LOADS] = { "hanger" },
  [CATALOGUE_GASKETS] = { "connection", "end", "class_to" },
  [CATALOGUE_PRESSURE_CLASSES] = { "class_in_wg" },
  [CATALOGUE_STUDIES] = { "study" },
  [CATALOGUE_OBSERVATIONS] = { "study", "date", "timed", "method", "size" },
  [CATALOGUE_CLAIMS] = { "claim" },
  [CATALOGUE_BURDENS] = { "crew", "class", "component" },
  [CATALOGUE_OVERTIME_LOSS] = { "table", "hours_a_week", "week" },
};

int
catalogue_n_keys (CatalogueSheet sheet)
{
  int n = 0;

  while (keys[sheet][n])
    n++;
  return n;
}

void
catalogue_change_free (CatalogueChange *change)
{
  if (!change)
    return;
  g_free (change->row);
  g_free (change->heading);
  g_free (change->before);
  g_free (change->after);
  g_free (change);
}

static char *
join (const CsvTable *table, guint row, CatalogueSheet sheet, const char *with)
{
  GString *out = g_string_new (NULL);

  for (int k = 0; keys[sheet][k]; k++)
    {
      const char *text = csv_cell (table, row, csv_column (table, keys[sheet][k]));
      if (*with == ',' && !*text)
        continue;
      if (out->len > 0 || (*with != ',' && k > 0))
        g_string_append (out, with);
      g_string_append (out, text);
    }
  return g_string_free (out, FALSE);
}

/* Key text -> GArray of rows, in order. */
static GHashTable *
index_rows (const CsvTable *table, CatalogueSheet sheet)
{
  GHashTable *out = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_array_unref);

  for (guint row = 0; row < table->row->len; row++)
    {
      char *key = join (table, row, sheet, "\t");
      GArray *rows = g_hash_table_lookup (out, key);
      if (!rows)
        g_hash_table_insert (out, g_strdup (key), rows = g_array_new (FALSE, FALSE, sizeof (guint)));
      g_array_append_val (rows, row);
      g_free (key);
    }
  return out;
}

static char *
whole_row (const CsvTable *table, guint row)
{
  GString *out = g_string_new (NULL);

  for (guint c = 0; c < table->head->len; c++)
    if (*csv_cell (table, row, (int) c))
      g_string_append_printf (out, "%s%s: %s", out->len ? "; " : "", (const char *) g_ptr_array_index (table->head, c),
                              csv_cell (table, row, (int) c));
  return g_string_free (out, FALSE);
}

static void
add (GPtrArray *out, CatalogueSheet sheet, CatalogueChangeKind kind, const CsvTable *table, guint row, const char *heading, char *before,
     char *after)
{
  CatalogueChange *change = g_new0 (CatalogueChange, 1);

  change->sheet = sheet;
  change->kind = kind;
  change->row = join (table, row, sheet, ", ");
  change->at = (int) row;
  change->heading = g_strdup (heading);
  change->before = before;
  change->after = after;
  g_ptr_array_add (out, change);
}

static void
diff_cells (GPtrArray *out, CatalogueSheet sheet, const CsvTable *before, guint old, const CsvTable *after, guint row)
{
  for (guint c = 0; c < after->head->len; c++)
    {
      const char *heading = g_ptr_array_index (after->head, c);
      const char *was = csv_cell (before, old, csv_column (before, heading)), *is = csv_cell (after, row, (int) c);
      if (strcmp (was, is) != 0)
        add (out, sheet, CATALOGUE_CELL_CHANGED, after, row, heading, g_strdup (was), g_strdup (is));
    }
  /* A heading that the new table has lost. */
  for (guint c = 0; c < before->head->len; c++)
    {
      const char *heading = g_ptr_array_index (before->head, c);
      if (csv_column (after, heading) < 0 && *csv_cell (before, old, (int) c))
        add (out, sheet, CATALOGUE_CELL_CHANGED, after, row, heading, g_strdup (csv_cell (before, old, (int) c)), g_strdup (""));
    }
}

static void
diff_sheet (GPtrArray *out, CatalogueSheet sheet, const CsvTable *before, const CsvTable *after)
{
  g_autoptr (GHashTable) old = index_rows (before, sheet), fresh = index_rows (after, sheet);
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL); /* key -> how many so far */

  for (guint row = 0; row < after->row->len; row++)
    {
      char *key = join (after, row, sheet, "\t");
      guint nth = GPOINTER_TO_UINT (g_hash_table_lookup (seen, key));
      const GArray *was = g_hash_table_lookup (old, key);
      if (was && nth < was->len)
        diff_cells (out, sheet, before, g_array_index (was, guint, nth), after, row);
      else
        add (out, sheet, CATALOGUE_ROW_ADDED, after, row, NULL, NULL, whole_row (after, row));
      g_hash_table_insert (seen, key, GUINT_TO_POINTER (nth + 1));
    }
  g_hash_table_remove_all (seen);
  for (guint row = 0; row < before->row->len; row++)
    {
      char *key = join (before, row, sheet, "\t");
      guint nth = GPOINTER_TO_UINT (g_hash_table_lookup (seen, key));
      const GArray *is = g_hash_table_lookup (fresh, key);
      if (!is || nth >= is->len)
        add (out, sheet, CATALOGUE_ROW_REMOVED, before, row, NULL, whole_row (before, row), NULL);
      g_hash_table_insert (seen, key, GUINT_TO_POINTER (nth + 1));
    }
}

GPtrArray *
catalogue_diff (CsvTable *const before[CATALOGUE_N_SHEETS], CsvTable *const after[CATALOGUE_N_SHEETS])
{
  GPtrArray *out = g_ptr_array_new_with_free_func ((GDestroyNotify) catalogue_change_free);

  for (int s = 0; s < CATALOGUE_N_SHEETS; s++)
    diff_sheet (out, (CatalogueSheet) s, before[s], after[s]);
  return out;
}

static void
row_free (gpointer data)
{
  CsvRow *row = data;

  g_ptr_array_unref (row->cell);
  g_free (row);
}

CsvTable *
catalogue_copy_table (const CsvTable *table)
{
  CsvTable *copy = g_new0 (CsvTable, 1);

  copy->name = g_strdup (table->name);
  copy->head = g_ptr_array_new_with_free_func (g_free);
  copy->row = g_ptr_array_new_with_free_func (row_free);
  copy->head_line = 1;
  for (guint c = 0; c < table->head->len; c++)
    g_ptr_array_add (copy->head, g_strdup (g_ptr_array_index (table->head, c)));
  for (guint r = 0; r < table->row->len; r++)
    {
      CsvRow *row = g_new0 (CsvRow, 1);
      row->line = (int) r + 2;
      row->cell = g_ptr_array_new_with_free_func (g_free);
      for (guint c = 0; c < table->head->len; c++)
        g_ptr_array_add (row->cell, g_strdup (csv_cell (table, r, (int) c)));
      g_ptr_array_add (copy->row, row);
    }
  return copy;
}

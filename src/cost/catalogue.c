/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/catalogue-private.h"
#include "cost/claim.h"

#include "base/table.h"
#include "data-resources.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const sheet_keys[CATALOGUE_N_SHEETS] = {
  [CATALOGUE_SHEETS] = "sheets",
  [CATALOGUE_RULE_SETS] = "rule_sets",
  [CATALOGUE_GAUGES] = "gauges",
  [CATALOGUE_CONNECTIONS] = "connections",
  [CATALOGUE_SCREWS] = "screws",
  [CATALOGUE_CLEATS] = "cleats",
  [CATALOGUE_VANES] = "vanes",
  [CATALOGUE_PROFILES] = "profiles",
  [CATALOGUE_ALLOWANCES] = "allowances",
  [CATALOGUE_CREWS] = "crews",
  [CATALOGUE_STEPS] = "steps",
  [CATALOGUE_CONDITIONS] = "conditions",
  [CATALOGUE_ITEMS] = "items",
  [CATALOGUE_METHODS] = "methods",
  [CATALOGUE_RECIPES] = "recipes",
  [CATALOGUE_BUILDUP] = "buildup",
  [CATALOGUE_STIFFNESS] = "stiffness",
  [CATALOGUE_MEMBERS] = "members",
  [CATALOGUE_JOINT_RATINGS] = "joint_ratings",
  [CATALOGUE_REINFORCEMENT] = "reinforcement",
  [CATALOGUE_TIE_RODS] = "tie_rods",
  [CATALOGUE_ROUND_GAUGES] = "round_gauges",
  [CATALOGUE_GORES] = "gores",
  [CATALOGUE_WRAPS] = "wraps",
  [CATALOGUE_LINER_PINS] = "liner_pins",
  [CATALOGUE_SEAL_CLASSES] = "seal_classes",
  [CATALOGUE_LEAKAGE] = "leakage",
  [CATALOGUE_SUPPORTS] = "supports",
  [CATALOGUE_HANGER_LOADS] = "hanger_loads",
  [CATALOGUE_GASKETS] = "gaskets",
  [CATALOGUE_PRESSURE_CLASSES] = "pressure_classes",
  [CATALOGUE_STUDIES] = "studies",
  [CATALOGUE_OBSERVATIONS] = "observations",
  [CATALOGUE_CLAIMS] = "claims",
  [CATALOGUE_BURDENS] = "burdens",
  [CATALOGUE_OVERTIME_LOSS] = "overtime_loss",
};

const char *
catalogue_sheet_key (CatalogueSheet sheet)
{
  return sheet < CATALOGUE_N_SHEETS ? sheet_keys[sheet] : "";
}

int
catalogue_sheet_find (const char *key)
{
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    if (strcmp (sheet_keys[i], key) == 0)
      return i;
  return -1;
}

int
catalogue_find_item (const Catalogue *catalogue, const char *key)
{
  return table_find (catalogue->items, key);
}

int
catalogue_find_method (const Catalogue *catalogue, const char *key)
{
  int found = table_find (catalogue->methods, key);

  for (guint i = 0; found < 0 && i < catalogue->methods->len; i++)
    if (g_ascii_strcasecmp (catalogue_method (catalogue, (int) i)->key, key) == 0)
      found = (int) i;
  return found;
}

Catalogue *
catalogue_new (CsvTable *given[CATALOGUE_N_SHEETS], GPtrArray *faults)
{
  g_autoptr (Catalogue) c = g_new0 (Catalogue, 1);
  CsvTable *table[CATALOGUE_N_SHEETS]; /* without the rows that count no longer */
  guint before = faults->len;

  g_atomic_ref_count_init (&c->refs);
  memcpy (c->table, given, sizeof c->table);
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    table[i] = catalogue_counting_rows (given[i], (CatalogueSheet) i);
  catalogue_init_arrays (c);

  DuctRuleTables rules = {
    .sheets = table[CATALOGUE_SHEETS],
    .rule_sets = table[CATALOGUE_RULE_SETS],
    .gauges = table[CATALOGUE_GAUGES],
    .connections = table[CATALOGUE_CONNECTIONS],
    .screws = table[CATALOGUE_SCREWS],
    .cleats = table[CATALOGUE_CLEATS],
    .vanes = table[CATALOGUE_VANES],
    .profiles = table[CATALOGUE_PROFILES],
    .allowances = table[CATALOGUE_ALLOWANCES],
    .stiffness = table[CATALOGUE_STIFFNESS],
    .members = table[CATALOGUE_MEMBERS],
    .joint_ratings = table[CATALOGUE_JOINT_RATINGS],
    .reinforcement = table[CATALOGUE_REINFORCEMENT],
    .tie_rods = table[CATALOGUE_TIE_RODS],
    .round_gauges = table[CATALOGUE_ROUND_GAUGES],
    .gores = table[CATALOGUE_GORES],
    .wraps = table[CATALOGUE_WRAPS],
    .liner_pins = table[CATALOGUE_LINER_PINS],
    .seal_classes = table[CATALOGUE_SEAL_CLASSES],
    .leakage = table[CATALOGUE_LEAKAGE],
    .supports = table[CATALOGUE_SUPPORTS],
    .hanger_loads = table[CATALOGUE_HANGER_LOADS],
    .gaskets = table[CATALOGUE_GASKETS],
    .pressure_classes = table[CATALOGUE_PRESSURE_CLASSES],
  };
  c->rules = duct_rules_new (&rules, faults);
  LabourSheets labour = {
    .crews = table[CATALOGUE_CREWS],
    .steps = table[CATALOGUE_STEPS],
    .conditions = table[CATALOGUE_CONDITIONS],
    .studies = table[CATALOGUE_STUDIES],
    .observations = table[CATALOGUE_OBSERVATIONS],
    .burdens = table[CATALOGUE_BURDENS],
    .overtime_loss = table[CATALOGUE_OVERTIME_LOSS],
  };
  c->labour = labour_tables_new (&labour, faults);
  c->buildup = cost_build_lines_new (table[CATALOGUE_BUILDUP], faults);
  catalogue_read_items (c, table[CATALOGUE_ITEMS], faults);
  /* Methods and recipes name connections and steps: without those every row would be a false alarm. */
  if (c->rules && c->labour)
    {
      catalogue_read_methods (c, table[CATALOGUE_METHODS], faults);
      catalogue_read_recipes (c, table[CATALOGUE_RECIPES], faults);
      catalogue_read_claims (c, table[CATALOGUE_CLAIMS], faults);
    }
  catalogue_read_retired (c, faults);
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    catalogue_counting_rows_free (table[i]);
  return faults->len == before ? g_steal_pointer (&c) : NULL;
}

Catalogue *
catalogue_ref (Catalogue *catalogue)
{
  g_atomic_ref_count_inc (&catalogue->refs);
  return catalogue;
}

void
catalogue_unref (Catalogue *catalogue)
{
  if (!g_atomic_ref_count_dec (&catalogue->refs))
    return;
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    {
      g_clear_pointer (&catalogue->retired[i], g_hash_table_unref);
      g_clear_pointer (&catalogue->table[i], csv_table_free);
    }
  g_clear_pointer (&catalogue->rules, duct_rules_unref);
  g_clear_pointer (&catalogue->labour, labour_tables_free);
  g_clear_pointer (&catalogue->buildup, g_ptr_array_unref);
  g_clear_pointer (&catalogue->claims, g_ptr_array_unref);
  g_ptr_array_unref (catalogue->items);
  g_ptr_array_unref (catalogue->methods);
  g_ptr_array_unref (catalogue->recipes);
  g_free (catalogue);
}

CsvTable *
catalogue_data (const char *name, GPtrArray *faults)
{
  g_autofree char *path = g_strdup_printf ("/seamtally/data/%s.csv", name);
  g_autofree char *file = g_strdup_printf ("%s.csv", name);
  g_autoptr (GBytes) bytes = g_resource_lookup_data (seamtally_data_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  gsize length;

  if (!bytes)
    return NULL;
  const char *text = g_bytes_get_data (bytes, &length);
  return csv_parse (text, (gssize) length, file, faults);
}

char *
catalogue_headings (CatalogueSheet sheet)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  CsvTable *table = catalogue_data (catalogue_sheet_key (sheet), faults);
  GString *line = g_string_new (NULL);

  if (table)
    csv_append_row (line, (const char *const *) table->head->pdata, table->head->len);
  g_clear_pointer (&table, csv_table_free);
  return g_string_free (line, FALSE);
}

Catalogue *
catalogue_starter (void)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  CsvTable *table[CATALOGUE_N_SHEETS];
  Catalogue *catalogue = NULL;
  gboolean whole = TRUE;

  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    {
      table[i] = catalogue_data (sheet_keys[i], faults);
      whole = whole && table[i];
    }
  if (whole)
    catalogue = catalogue_new (table, faults);
  for (guint i = 0; i < faults->len; i++)
    {
      g_autofree char *words = csv_fault_words (g_ptr_array_index (faults, i));
      g_printerr ("%s\n", words);
    }
  if (!catalogue)
    g_error ("the starter catalogue compiled into the program is broken");
  return catalogue;
}

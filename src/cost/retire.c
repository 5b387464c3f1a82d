/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/catalogue-private.h"

#include "base/table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Which cells name a row of another sheet. */
typedef struct
{
  CatalogueSheet from;
  const char *heading;
  CatalogueSheet to;
  const char *type; /* (nullable): only where the cell "type" says so */
} Reference;

static const Reference references[] = {
  { CATALOGUE_STEPS, "crew", CATALOGUE_CREWS, NULL },
  { CATALOGUE_METHODS, "connection", CATALOGUE_CONNECTIONS, NULL },
  { CATALOGUE_METHODS, "fallback", CATALOGUE_METHODS, NULL },
  { CATALOGUE_METHODS, "tooling", CATALOGUE_ITEMS, NULL },
  { CATALOGUE_RECIPES, "target", CATALOGUE_ITEMS, "item" },
  { CATALOGUE_RECIPES, "target", CATALOGUE_STEPS, "step" },
  { CATALOGUE_OBSERVATIONS, "study", CATALOGUE_STUDIES, NULL },
};

/* Key columns of what is named; NULL where rows have no name that another row or a job uses. */
static const char *const names[CATALOGUE_N_SHEETS] = {
  [CATALOGUE_RULE_SETS] = "rule_set", [CATALOGUE_CONNECTIONS] = "connection", [CATALOGUE_CREWS] = "crew",
  [CATALOGUE_STEPS] = "step",         [CATALOGUE_CONDITIONS] = "condition",   [CATALOGUE_ITEMS] = "item",
  [CATALOGUE_METHODS] = "method",     [CATALOGUE_WRAPS] = "label_in",
  [CATALOGUE_STUDIES] = "study",      [CATALOGUE_CLAIMS] = "claim",
};

const char *
catalogue_name_heading (CatalogueSheet sheet)
{
  return names[sheet];
}

static gboolean
says_retired (const char *word)
{
  return g_ascii_strcasecmp (word, CATALOGUE_RETIRED) == 0;
}

gboolean
catalogue_row_retired (const CsvTable *table, guint row)
{
  return says_retired (csv_cell (table, row, csv_column (table, CATALOGUE_RETIRED)));
}

/* Second, where it is seen beside the name of the row. */
static int
add_column (CsvTable *table)
{
  int column = MIN (1, (int) table->head->len);

  g_ptr_array_insert (table->head, column, g_strdup (CATALOGUE_RETIRED));
  for (guint i = 0; i < table->row->len; i++)
    {
      GPtrArray *cell = ((CsvRow *) g_ptr_array_index (table->row, i))->cell;
      g_ptr_array_insert (cell, MIN (column, (int) cell->len), g_strdup (""));
    }
  return column;
}

static void
drop_empty_column (CsvTable *table, int column)
{
  for (guint i = 0; i < table->row->len; i++)
    if (*csv_cell (table, i, column))
      return;
  g_ptr_array_remove_index (table->head, (guint) column);
  for (guint i = 0; i < table->row->len; i++)
    {
      GPtrArray *cell = ((CsvRow *) g_ptr_array_index (table->row, i))->cell;
      if ((guint) column < cell->len)
        g_ptr_array_remove_index (cell, (guint) column);
    }
}

void
catalogue_retire_row (CsvTable *table, guint row, gboolean retired)
{
  int column = csv_column (table, CATALOGUE_RETIRED);

  if (column < 0 && !retired)
    return;
  if (column < 0)
    column = add_column (table);
  csv_set_cell (table, row, column, retired ? CATALOGUE_RETIRED : "");
  if (!retired)
    drop_empty_column (table, column);
}

/* Keys that have a row which is not retired. */
static GHashTable *
living_keys (const CsvTable *table, int key)
{
  GHashTable *out = g_hash_table_new (g_str_hash, g_str_equal);
  int column = csv_column (table, CATALOGUE_RETIRED);

  for (guint row = 0; row < table->row->len; row++)
    if (!says_retired (csv_cell (table, row, column)))
      g_hash_table_add (out, (gpointer) csv_cell (table, row, key));
  return out;
}

CsvTable *
catalogue_counting_rows (const CsvTable *table, CatalogueSheet sheet)
{
  CsvTable *out = g_new0 (CsvTable, 1);
  int column = csv_column (table, CATALOGUE_RETIRED), key = names[sheet] ? csv_column (table, names[sheet]) : -1;
  g_autoptr (GHashTable) living = key >= 0 ? living_keys (table, key) : NULL;

  *out = *table;
  out->row = g_ptr_array_new ();
  for (guint row = 0; row < table->row->len; row++)
    if (column < 0 || !says_retired (csv_cell (table, row, column))
        || (living && !g_hash_table_contains (living, csv_cell (table, row, key))))
      g_ptr_array_add (out->row, g_ptr_array_index (table->row, row));
  return out;
}

void
catalogue_counting_rows_free (CsvTable *table)
{
  g_ptr_array_unref (table->row);
  g_free (table);
}

/* A word under the heading that is neither it nor empty would be overlooked. */
static void
check_words (const CsvTable *table, GPtrArray *faults)
{
  TableReader r = { table, faults, 0 };

  if (csv_column (table, CATALOGUE_RETIRED) < 0)
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    if (*table_cell (&r, CATALOGUE_RETIRED) && !says_retired (table_cell (&r, CATALOGUE_RETIRED)))
      table_complain (&r, CATALOGUE_RETIRED, _ ("a row is retired or it is not"), _ ("write “retired”, or leave the cell empty"));
}

static gboolean
refers (const Reference *ref, const CsvTable *table, guint row)
{
  const char *type = csv_cell (table, row, csv_column (table, "type"));

  return !catalogue_row_retired (table, row) && *csv_cell (table, row, csv_column (table, ref->heading))
         && (!ref->type || g_ascii_strcasecmp (type, ref->type) == 0);
}

static void
check_reference (const Catalogue *c, const Reference *ref, GPtrArray *faults)
{
  TableReader r = { c->table[ref->from], faults, 0 };

  for (r.row = 0; r.row < r.table->row->len; r.row++)
    {
      const char *key = table_cell (&r, ref->heading);
      g_autofree char *what = NULL;
      if (!refers (ref, r.table, r.row) || !catalogue_is_retired (c, ref->to, key))
        continue;
      what = g_strdup_printf (_ ("“%s” is retired"), key);
      table_complain (&r, ref->heading, what, _ ("name another, restore it, or retire this row too"));
    }
}

void
catalogue_read_retired (Catalogue *c, GPtrArray *faults)
{
  gboolean any = FALSE;

  for (int s = 0; s < CATALOGUE_N_SHEETS; s++)
    {
      const CsvTable *table = c->table[s];
      int key = names[s] ? csv_column (table, names[s]) : -1;
      check_words (table, faults);
      if (key < 0 || csv_column (table, CATALOGUE_RETIRED) < 0)
        continue;
      g_autoptr (GHashTable) living = living_keys (table, key);
      c->retired[s] = g_hash_table_new (g_str_hash, g_str_equal);
      for (guint row = 0; row < table->row->len; row++)
        if (!g_hash_table_contains (living, csv_cell (table, row, key)))
          {
            g_hash_table_add (c->retired[s], (gpointer) csv_cell (table, row, key));
            any = TRUE;
          }
    }
  for (gsize i = 0; any && i < G_N_ELEMENTS (references); i++)
    check_reference (c, &references[i], faults);
}

gboolean
catalogue_is_retired (const Catalogue *catalogue, CatalogueSheet sheet, const char *key)
{
  return key && catalogue->retired[sheet] && g_hash_table_contains (catalogue->retired[sheet], key);
}

int
catalogue_first_method (const Catalogue *catalogue)
{
  for (guint i = 0; i < catalogue->methods->len; i++)
    if (!catalogue_is_retired (catalogue, CATALOGUE_METHODS, catalogue_method (catalogue, (int) i)->key))
      return (int) i;
  return -1;
}

int
catalogue_first_rule_set (const Catalogue *catalogue)
{
  for (guint i = 0; i < catalogue->rules->sets->len; i++)
    if (!catalogue_is_retired (catalogue, CATALOGUE_RULE_SETS,
                               ((const DuctRuleSet *) g_ptr_array_index (catalogue->rules->sets, i))->key))
      return (int) i;
  return -1;
}

GArray *
catalogue_uses (CsvTable *const table[CATALOGUE_N_SHEETS], CatalogueSheet sheet, const char *key)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (CatalogueUse));

  for (gsize i = 0; i < G_N_ELEMENTS (references); i++)
    {
      const Reference *ref = &references[i];
      const CsvTable *from = table[ref->from];
      int column = csv_column (from, ref->heading);
      for (guint row = 0; ref->to == sheet && row < from->row->len; row++)
        if (refers (ref, from, row) && strcmp (csv_cell (from, row, column), key) == 0)
          {
            CatalogueUse use = { ref->from, row, ref->heading };
            g_array_append_val (out, use);
          }
    }
  return out;
}

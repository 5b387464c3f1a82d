/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The starter tables with cells changed, and shapes as short text; for the tests of duct, labour and cost. */

#include "cost/basis.h"

#include <math.h>
#include <string.h>

#define IN LENGTH_NM_PER_IN
#define FT LENGTH_NM_PER_FT
#define UDEG_90 G_GINT64_CONSTANT (90000000)
#define UDEG_45 G_GINT64_CONSTANT (45000000)

static inline GPtrArray *
fixture_faults (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
}

/* Every table of the starter catalogue. */
static inline void
fixture_tables (CsvTable *table[CATALOGUE_N_SHEETS])
{
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    {
      table[i] = catalogue_data (catalogue_sheet_key ((CatalogueSheet) i), NULL);
      g_assert_nonnull (table[i]);
    }
}

/* Changes the cell under @heading of the first row whose first cell is @key. */
static inline void
fixture_set (CsvTable *table, const char *key, const char *heading, const char *text)
{
  int column = csv_column (table, heading);

  g_assert_cmpint (column, >=, 0);
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

static inline Catalogue *
fixture_catalogue (CsvTable *table[CATALOGUE_N_SHEETS])
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  Catalogue *catalogue = catalogue_new (table, faults);

  g_assert_cmpuint (faults->len, ==, 0);
  g_assert_nonnull (catalogue);
  return catalogue;
}

static inline DuctShape
fixture_shape (DuctKind kind, double w, double h, double class_in)
{
  DuctShape s;

  duct_shape_init (&s, kind);
  s.w = (gint64) (w * IN + 0.5);
  s.h = (gint64) (h * IN + 0.5);
  s.pressure = (gint64) (class_in * 1000);
  return s;
}

static inline void
fixture_resolve (const DuctRules *rules, DuctShape *s)
{
  DuctProblem problem = { DUCT_DIM_NONE, NULL };

  if (duct_shape_resolve (rules, s, &problem))
    return;
  g_test_message ("refused: %s", problem.fault->what);
  g_assert_not_reached ();
}

/* Resolves and measures with a connection of the starter tables and the demo's ladder. */
static inline void
fixture_measure (const DuctRules *rules, DuctShape *s, const char *connection, DuctMeasure *m)
{
  DuctProblem problem = { DUCT_DIM_NONE, NULL };
  DuctBuild build;

  fixture_resolve (rules, s);
  g_assert_true (duct_choose_build (rules, duct_rules_find_set (rules, "demo"),
                                    duct_rules_find_connection (rules, connection), s, &build, &problem));
  g_assert_true (duct_measure (rules, s, &build, m, &problem));
}

/* These tables make no catalogue, one of the faults has @words in it, and each says what and a remedy. Takes the tables. @row: told when it
 * fails. */
static inline void
fixture_assert_refused (CsvTable *table[CATALOGUE_N_SHEETS], const char *words, gsize row)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  gboolean found = FALSE;

  g_assert_null (catalogue_new (table, faults));
  for (guint i = 0; i < faults->len; i++)
    {
      const CsvFault *fault = g_ptr_array_index (faults, i);
      g_autofree char *told = csv_fault_words (fault);
      g_test_message ("row %" G_GSIZE_FORMAT ": %s", row, told);
      found = found || strstr (told, words);
      g_assert_cmpstr (fault->what, !=, "");
      g_assert_cmpstr (fault->remedy, !=, "");
    }
  g_assert_true (found);
}

#define assert_near(x, wanted, within) g_assert_cmpfloat_with_epsilon ((x), (wanted), (within))

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* A catalogue whose reinforcement, joint ratings and tie rods are what a test says, for the rule set "demo-complete". */

#include "fixture.h"

#define STIFF_SET "demo-complete"
#define STIFF_ROWS "rule_set,pressure_in_wg,sign,side_from_in,side_to_in,spacing_ft,gauge,code\n"
#define STIFF_JOINTS "rule_set,connection,height_in,gauge,code,max_pressure_in_wg\n"
#define STIFF_RODS "rule_set,pressure_in_wg,side_to_in,code_to,rods\n"

static inline void
stiff_table (CsvTable *table[CATALOGUE_N_SHEETS], CatalogueSheet sheet, const char *text, const char *name)
{
  csv_table_free (table[sheet]);
  table[sheet] = csv_parse (text, -1, name, NULL);
  g_assert_nonnull (table[sheet]);
}

static inline Catalogue *
stiff_catalogue (const char *rows, const char *joints, const char *rods)
{
  CsvTable *table[CATALOGUE_N_SHEETS];

  fixture_tables (table);
  stiff_table (table, CATALOGUE_REINFORCEMENT, rows, "reinforcement.csv");
  stiff_table (table, CATALOGUE_JOINT_RATINGS, joints, "joint_ratings.csv");
  stiff_table (table, CATALOGUE_TIE_RODS, rods, "tie_rods.csv");
  return fixture_catalogue (table);
}

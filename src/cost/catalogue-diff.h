/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/catalogue.h"

G_BEGIN_DECLS

typedef enum
{
  CATALOGUE_ROW_ADDED,
  CATALOGUE_ROW_REMOVED,
  CATALOGUE_CELL_CHANGED,
} CatalogueChangeKind;

typedef struct
{
  CatalogueSheet sheet;
  CatalogueChangeKind kind;
  char *row;      /* which row, as one reads it: "galvanised sheet", "demo, galvanised, 2, 30" */
  int at;         /* row in the new table; in the old one where it was removed */
  char *heading;  /* of the cell, NULL for whole rows */
  char *before, *after; /* cells; of whole rows all cells, NULL where there is none */
} CatalogueChange;

void catalogue_change_free (CatalogueChange *change);

/* Every row that is only in one of two states and every cell that differs. Rows are held against each other by their key columns
 * (one or several by sheet); of rows with the same key the first of the one against the first of the other. Order counts nowhere.
 * By sheet, then by row of the new table; removed rows behind. (transfer full): GPtrArray of CatalogueChange *. */
GPtrArray *catalogue_diff (CsvTable *const before[CATALOGUE_N_SHEETS], CsvTable *const after[CATALOGUE_N_SHEETS]);

/* A copy of a table, its lines counted from 1 without gaps: row i stands in line i + 2. */
CsvTable *catalogue_copy_table (const CsvTable *table);

/* How many headings at the start of a sheet's rows are its key. */
int catalogue_n_keys (CatalogueSheet sheet);

G_END_DECLS

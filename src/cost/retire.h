/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/catalogue.h"

G_BEGIN_DECLS

/* A row that is retired stays in its sheet, with this word under the heading of the same name. What others name by key (items,
 * steps, crews, conditions, methods, connections, rule sets) is still found, so that jobs which name it are read and priced; it is
 * offered nowhere, and a row that counts may not name it. Every other retired row counts no longer. Of a crew or a step with several
 * rows single ones may be retired: with the last of them the crew or step is. */
#define CATALOGUE_RETIRED "retired"

gboolean catalogue_row_retired (const CsvTable *table, guint row);
/* Retires or restores a row; the column comes with the first and goes with the last retired row of the sheet. */
void catalogue_retire_row (CsvTable *table, guint row, gboolean retired);
/* Whether something that others name by key is retired; FALSE for what is not there. */
gboolean catalogue_is_retired (const Catalogue *catalogue, CatalogueSheet sheet, const char *key);
/* Heading under which the rows of a sheet have the name that others use; NULL where they have none. */
const char *catalogue_name_heading (CatalogueSheet sheet);
/* The first method or rule set that is offered; -1 when all are retired. */
int catalogue_first_method (const Catalogue *catalogue);
int catalogue_first_rule_set (const Catalogue *catalogue);

/* A row that counts and names something of another sheet. */
typedef struct
{
  CatalogueSheet sheet;
  guint row;
  const char *heading; /* static: under which it names it */
} CatalogueUse;

/* What names @key of @sheet, by sheet and row: GArray of CatalogueUse. (transfer full) */
GArray *catalogue_uses (CsvTable *const table[CATALOGUE_N_SHEETS], CatalogueSheet sheet, const char *key);

G_END_DECLS

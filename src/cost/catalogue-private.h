/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/retire.h"

G_BEGIN_DECLS

void catalogue_init_arrays (Catalogue *catalogue);
void catalogue_read_items (Catalogue *catalogue, const CsvTable *table, GPtrArray *faults);
void catalogue_read_methods (Catalogue *catalogue, const CsvTable *table, GPtrArray *faults);
void catalogue_read_recipes (Catalogue *catalogue, const CsvTable *table, GPtrArray *faults);
void cost_build_line_free (gpointer line);

/* retire.c. A view of the rows that are read: all but the retired ones, and those of named things that are retired whole. It borrows
 * all it holds from @table. */
CsvTable *catalogue_counting_rows (const CsvTable *table, CatalogueSheet sheet);
void catalogue_counting_rows_free (CsvTable *table);
/* Notes what is retired, and complains of rows that still name it. */
void catalogue_read_retired (Catalogue *catalogue, GPtrArray *faults);

G_END_DECLS

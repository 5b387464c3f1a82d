/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/catalogue.h"

G_BEGIN_DECLS

void catalogue_init_arrays (Catalogue *catalogue);
void catalogue_read_items (Catalogue *catalogue, const CsvTable *table, GPtrArray *faults);
void catalogue_read_methods (Catalogue *catalogue, const CsvTable *table, GPtrArray *faults);
void catalogue_read_recipes (Catalogue *catalogue, const CsvTable *table, GPtrArray *faults);
void cost_build_line_free (gpointer line);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/catalogue.h"

G_BEGIN_DECLS

/* Reads the sheet "claims" into catalogue->claims. */
void catalogue_read_claims (Catalogue *catalogue, const CsvTable *table, GPtrArray *faults);

G_END_DECLS

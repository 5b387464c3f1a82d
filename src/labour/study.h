/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "labour/labour.h"

G_BEGIN_DECLS

/* Reads the sheets "studies" and "observations" into tables->studies. */
void labour_read_studies (LabourTables *tables, const LabourSheets *sheets, GPtrArray *faults);

G_END_DECLS

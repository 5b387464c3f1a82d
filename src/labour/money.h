/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "labour/labour.h"

G_BEGIN_DECLS

/* Reads the sheets "burdens" and "overtime_loss" into tables->burdens and tables->losses; before the crews' rates are made. */
void labour_read_money (LabourTables *tables, const LabourSheets *sheets, GPtrArray *faults);

G_END_DECLS

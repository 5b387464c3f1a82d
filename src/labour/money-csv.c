/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/money.h"

void
labour_read_money (LabourTables *tables, const LabourSheets *sheets, GPtrArray *faults)
{
  (void) sheets;
  (void) faults;
  tables->burdens = g_ptr_array_new_with_free_func (g_free);
  tables->losses = g_ptr_array_new_with_free_func (g_free);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/table.h"
#include "labour/money.h"

G_BEGIN_DECLS

/* Crews, burdens and overtime losses of CSV files in the form of the catalogue's sheets; each path may be NULL. Losses may also be in
 * the form in which tables are printed: a column week and columns h50, h60 with the loss as a fraction, of which @loss_basis (nullable)
 * says what it means. NULL with the faults on stderr and *status set. */
LabourTables *cli_crew_files (const char *crews, const char *burdens, const char *losses, const char *loss_basis, int *status);
/* What an hour of output costs in each week of the losses, over a straight-time hour; @hours 0: of all weeks that the file has. */
void cli_page_output (const LabourTables *tables, double hours, double premium, LabourLossBasis basis, CliFormat format);

G_END_DECLS

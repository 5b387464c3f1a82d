/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/rules.h"

#include "base/table.h"

G_BEGIN_DECLS

/* Shared by the readers of the construction tables. */
DuctMetal duct_read_metal (const TableReader *reader);
void duct_read_origin (const TableReader *reader, char **source, DuctStatus *status);
/* Line of the table's text that the current row starts in. */
int duct_read_line (const TableReader *reader);
/* Index of the rule set in the current row's "rule_set"; -1 with a complaint. */
int duct_read_set (const TableReader *reader, const DuctRules *rules);
/* Index of the connection in the current row's "connection", -1 where it is empty or missing: any. */
int duct_read_connection (const TableReader *reader, const DuctRules *rules);
/* DuctEnd of "end", -1 for any. */
int duct_read_end (const TableReader *reader);
/* "+", "-" or "" for either: +1, -1, 0. */
int duct_read_sign (const TableReader *reader, const char *heading);

/* One reader a file: each fills its arrays of @rules (made here, with their free functions) and adds its faults. Sheets, rule
 * sets and connections have been read before. */
void duct_read_stiff_tables (DuctRules *rules, const DuctRuleTables *tables, GPtrArray *faults);   /* rules-stiff.c */
void duct_read_round_tables (DuctRules *rules, const DuctRuleTables *tables, GPtrArray *faults);   /* rules-round.c */
void duct_read_lining_tables (DuctRules *rules, const DuctRuleTables *tables, GPtrArray *faults);  /* rules-lining.c */
void duct_read_support_tables (DuctRules *rules, const DuctRuleTables *tables, GPtrArray *faults); /* rules-support.c */

G_END_DECLS

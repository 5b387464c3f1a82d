/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A table as lines of text, columns aligned in a font of one width: what a picture says, for ears, clipboards and pages. */
typedef struct _ChartTable ChartTable;

/* @right: "lrr", a letter a column: l to the left, r to the right. */
ChartTable *chart_table_new (const char *align);
void chart_table_free (ChartTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (ChartTable, chart_table_free)
/* Adds cells in order, row after row; NULL is an empty one, line breaks become blanks. The first row is the heading. */
void chart_table_add (ChartTable *table, const char *text);
void chart_table_take (ChartTable *table, char *text);
/* Lines with two blanks between columns and none at the end, a rule under the heading. (transfer full) */
char *chart_table_print (const ChartTable *table);

G_END_DECLS

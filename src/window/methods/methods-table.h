/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/methods/methods-model.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The methods as rows, the baseline first, figures in columns with the difference beneath; one row is chosen. */
#define TALLY_TYPE_METHODS_TABLE (tally_methods_table_get_type ())
G_DECLARE_FINAL_TYPE (TallyMethodsTable, tally_methods_table, TALLY, METHODS_TABLE, GtkWidget)
/* Signal "chosen" (int): the user chose a method. */

GtkWidget *tally_methods_table_new (void);
/* Shows @data (not kept): the methods of @shown and the baseline, @chosen selected. */
void tally_methods_table_set (TallyMethodsTable *table, const MethodsData *data, const gboolean *shown, int baseline, int chosen);

G_END_DECLS

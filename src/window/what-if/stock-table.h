/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/stock.h"
#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* What the job needs, what is on hand, what is to be bought and how long it takes; on hand and lead days are entered here. */
#define TALLY_TYPE_STOCK_TABLE (tally_stock_table_get_type ())
G_DECLARE_FINAL_TYPE (TallyStockTable, tally_stock_table, TALLY, STOCK_TABLE, GtkWidget)

/* (transfer floating) */
GtkWidget *tally_stock_table_new (TallySession *session);
/* @stock: of the job as it stands; not kept. */
void tally_stock_table_fill (TallyStockTable *table, const JobStock *stock, int decimals);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* From cost to price: the build-up edited in place, where the price goes, the price that is wanted, what moved since a mark, what
 * is open before it goes out, the read-out and the workbook. (transfer floating) */
GtkWidget *tally_price_view_new (TallySession *session);

/* Asks for a file and writes the bid there. */
void tally_price_write_workbook (GtkWidget *price_view);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* (transfer floating) */
GtkWidget *tally_price_view_new (TallySession *session);

/* Asks for a file and writes the bid there. */
void tally_price_write_workbook (GtkWidget *price_view);

G_END_DECLS

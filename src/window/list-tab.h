/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Tab and Shift+Tab leave the list (or row of buttons) as a whole; arrows move within it. Otherwise every row that Tab passes is chosen. (GTK has a
 * property for it from 4.18 on only.) Of lists whose rows hold nothing that takes the keys. */
void tally_list_leave_by_tab (GtkWidget *list);

G_END_DECLS

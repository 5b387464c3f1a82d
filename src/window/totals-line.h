/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The line at the foot: totals of the part looked at; what the last edit changed glows, with its difference. (transfer floating) */
GtkWidget *tally_totals_line_new (TallySession *session);
/* What the selection in the table adds up to; "" clears. */
void tally_totals_line_set_selection (GtkWidget *line, const char *text);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The take-off: a table of runs, the line above it that explains the cell, the line below it that takes a whole run.
 * (transfer floating) */
GtkWidget *tally_runs_view_new (TallySession *session);
/* Moves to the first cell at fault of the first selected run, else of the first run that is not priced. */
void tally_runs_view_show_fault (GtkWidget *view);
/* Where sum, count and average of the selection are shown. */
void tally_runs_view_set_totals (GtkWidget *view, GtkWidget *totals_line);

G_END_DECLS

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
/* Moves to a run, to its cell at fault when it has one; filters that hide it are taken off. */
void tally_runs_view_show_run (GtkWidget *view, gint64 id);
/* Puts the focus to "table", "line" or "find", also when the view is only about to be shown; "like" narrows the rows to those
 * like the cursor's, "filter" opens what narrows them by its column. */
void tally_runs_view_go (GtkWidget *view, const char *where);
/* Where sum, count and average of the selection are shown. */
void tally_runs_view_set_totals (GtkWidget *view, GtkWidget *totals_line);

G_END_DECLS

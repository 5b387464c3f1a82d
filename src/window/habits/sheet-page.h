/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/grid/grid.h"
#include "window/session.h"

G_BEGIN_DECLS

/* A grid with the line above it that names the cell and says its message. @label: what assistive technology calls the table.
 * (transfer floating); the grid is borrowed into @grid (nullable). */
GtkWidget *tally_sheet_page_new (TallyGridModel *model, const char *label, TallyGrid **grid);
/* The sheet takes the focus whenever it comes into sight, so that what is typed goes there. */
void tally_sheet_take_focus (TallyGrid *grid);

/* @content with the session's words above and over it: what was refused stays in a line on top until it is closed, the rest are
 * toasts, with undo where that is offered. (transfer floating) */
GtkWidget *tally_notice_new (TallySession *session, GtkWidget *content);

/* Whether a window with such a notice, beside @window, is being worked in: it says things itself. */
gboolean tally_notice_told_elsewhere (GtkWindow *window);

/* A window beside the main one: header with @title, Escape and Ctrl+W close it, Ctrl+Z and Ctrl+Shift+Z undo and redo where
 * there is a session. Goes with its parent. */
GtkWindow *tally_side_window_new (GtkWindow *parent, TallySession *session, const char *title, int width, int height);
/* Puts @content under the window's header; @title_widget: (nullable): in the header. */
void tally_side_window_set (GtkWindow *window, GtkWidget *title_widget, GtkWidget *content);

/* Large words at the top of a view. */
GtkWidget *tally_conclusion_new (const char *text);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/grid/grid-model.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A table for typing: draws only the visible cells, one entry over the cell being edited, frozen heads, range selection, the
 * keys of a spreadsheet. Implements GtkScrollable: put it into a GtkScrolledWindow. */
#define TALLY_TYPE_GRID (tally_grid_get_type ())
G_DECLARE_FINAL_TYPE (TallyGrid, tally_grid, TALLY, GRID, GtkWidget)
/* Signals: "cursor" (): the cell with the focus changed; "selected" (): the selection changed;
 *          "sort" (guint column): a heading was activated; "head-menu" (guint column): more is asked of a heading; "resized" (guint column): a width was changed by the user;
 *          "refused" (char *words): why something was not done, and what can be; of what a model refuses it speaks itself. */

TallyGrid *grid_new (TallyGridModel *model);
void grid_set_model (TallyGrid *grid, TallyGridModel *model);
/* Columns that stay at the start side while scrolling sideways. */
void grid_set_frozen (TallyGrid *grid, guint columns);
/* Shows an arrow in a heading; -1: none. */
void grid_set_sort_mark (TallyGrid *grid, int column, gboolean descending);
/* What assistive technology calls the table. */
void grid_set_label (TallyGrid *grid, const char *label);

void grid_get_cursor (TallyGrid *grid, guint *row, guint *column);
void grid_set_cursor (TallyGrid *grid, guint row, guint column);
/* The selected rectangle, both ends included; the cursor's cell alone where nothing else is. */
void grid_get_selection (TallyGrid *grid, guint *row0, guint *column0, guint *row1, guint *column1);
void grid_select (TallyGrid *grid, guint row0, guint column0, guint row1, guint column1);
/* Where a heading is, in the grid; to point at it. */
void grid_get_heading (TallyGrid *grid, guint column, GdkRectangle *place);
int grid_get_column_width (TallyGrid *grid, guint column);  /* px */
void grid_set_column_width (TallyGrid *grid, guint column, int px);

/* Starts editing the cursor's cell with @text, or with what stands there (NULL). */
void grid_edit (TallyGrid *grid, const char *text);
/* Copy, cut, paste, clear, fill down and right of the selection; also on their keys. */
void grid_copy (TallyGrid *grid);
void grid_paste (TallyGrid *grid);
void grid_fill_down (TallyGrid *grid);
void grid_fill_right (TallyGrid *grid);
void grid_clear (TallyGrid *grid);

G_END_DECLS

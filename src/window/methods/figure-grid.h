/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A plain table of labels: names to the left, figures to the right, headings with their unit beneath. It scrolls sideways when it is
 * too wide. */
#define TALLY_TYPE_FIGURE_GRID (tally_figure_grid_get_type ())
G_DECLARE_FINAL_TYPE (TallyFigureGrid, tally_figure_grid, TALLY, FIGURE_GRID, GtkWidget)

/* @name: for ears. (transfer floating) */
GtkWidget *tally_figure_grid_new (const char *name);
void tally_figure_grid_clear (TallyFigureGrid *grid);
/* Cells stand in the middle of their row from now on: of a table with entries in it. */
void tally_figure_grid_centre (TallyFigureGrid *grid);
/* Next column of the heading; @unit: (nullable). The first column holds names. */
void tally_figure_grid_head (TallyFigureGrid *grid, const char *title, const char *unit);
/* The same of a column of words, which are read from the left: heading and cells stand there. */
void tally_figure_grid_head_words (TallyFigureGrid *grid, const char *title, const char *unit);
/* The next row; @bold: the one that others are held against. */
void tally_figure_grid_row (TallyFigureGrid *grid, gboolean bold);
/* Next cell of the row; @below: (nullable): a smaller second line; @less: it is a saving, in the accent. (transfer none) */
GtkWidget *tally_figure_grid_cell (TallyFigureGrid *grid, const char *text, const char *below, gboolean less);
/* Next cell of the row is a widget. */
void tally_figure_grid_take (TallyFigureGrid *grid, GtkWidget *widget);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The cursor and a rectangle of cells with the cursor at one of its corners. Without a row or a column all are 0. */
typedef struct
{
  guint n_rows, n_columns;
  guint row, column;         /* the cursor: what is typed goes there */
  guint end_row, end_column; /* the other corner */
  int home;                  /* column where a walk by Tab began, for Enter to go back to; -1: none */
} GridSelection;

typedef enum
{
  GRID_LEFT,
  GRID_RIGHT,
  GRID_UP,
  GRID_DOWN
} GridDirection;

/* Whether there is something in a cell. */
typedef gboolean (*GridFilled) (guint row, guint column, gpointer data);

/* Takes a new size, with the cursor held inside. */
void grid_selection_resize (GridSelection *s, guint n_rows, guint n_columns);
gboolean grid_selection_is_empty (const GridSelection *s);
/* Puts the cursor to a cell and selects it alone. Held inside. */
void grid_selection_set (GridSelection *s, guint row, guint column);
/* Moves the corner opposite the cursor. Held inside. */
void grid_selection_extend (GridSelection *s, guint row, guint column);
void grid_selection_range (const GridSelection *s, guint *row0, guint *column0, guint *row1, guint *column1);
gboolean grid_selection_contains (const GridSelection *s, guint row, guint column);

/* With @extend the opposite corner goes, without it the cursor, alone. */
void grid_selection_move (GridSelection *s, GridDirection direction, guint steps, gboolean extend);
/* To the last filled cell of a block, or from its end to the next filled cell or the last one. */
void grid_selection_edge (GridSelection *s, GridDirection direction, gboolean extend, GridFilled filled, gpointer data);
/* To the first or last column. */
void grid_selection_line (GridSelection *s, gboolean last, gboolean extend);
/* To the first cell of all or to the last one of row @last_row. */
void grid_selection_corner (GridSelection *s, gboolean last, guint last_row, gboolean extend);

/* Tab remembers the column where it began; Enter goes to the next row of that column. */
void grid_selection_tab (GridSelection *s, gboolean forward);
void grid_selection_enter (GridSelection *s, gboolean forward);

void grid_selection_all (GridSelection *s, guint n_rows);
/* Widens the rectangle to whole rows, whole columns. */
void grid_selection_whole_rows (GridSelection *s);
void grid_selection_whole_columns (GridSelection *s, guint n_rows);

G_END_DECLS

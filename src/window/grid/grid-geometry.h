/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Where cells are, without a display: a heading row on top, a column of row numbers (the gutter) and some frozen
 * columns at the start side, and the rest of the cells, which scroll. All in px of the widget. */
typedef struct
{
  int width, height; /* of the widget */
  int row_height, head_height, gutter;
  int foot; /* empty room behind the last row and the last column */
  guint n_rows, n_columns;
  guint frozen; /* columns wanted to stay; see grid_geometry_frozen() */
  gint64 *edge; /* n_columns + 1 offsets from the first column; (owned) */
  double x, y;  /* scrolled by */
} GridGeometry;

typedef enum
{
  GRID_NOWHERE,
  GRID_CORNER,
  GRID_HEAD,
  GRID_GUTTER,
  GRID_CELL
} GridPart;

typedef struct
{
  GridPart part;
  guint row, column; /* where the part has one */
} GridHit;

typedef struct
{
  double x, y;
  int width, height;
} GridBox;

void grid_geometry_clear (GridGeometry *g);
/* @width: one for each of @n columns. */
void grid_geometry_set_widths (GridGeometry *g, const int *width, guint n);

/* Columns that do stay: as many of those wanted as leave a third of the room to the others. */
guint grid_geometry_frozen (const GridGeometry *g);
/* Where the scrolling columns begin. */
int grid_geometry_start (const GridGeometry *g);
/* What scrolls, and the part of it that can be seen at a time. */
void grid_geometry_extent (const GridGeometry *g, double *width, double *height);
void grid_geometry_page (const GridGeometry *g, double *width, double *height);

int grid_geometry_column_width (const GridGeometry *g, guint column);
double grid_geometry_column_x (const GridGeometry *g, guint column);
double grid_geometry_row_y (const GridGeometry *g, guint row);
GridBox grid_geometry_cell (const GridGeometry *g, guint row, guint column);
/* The rectangle around two cells, both included. */
GridBox grid_geometry_block (const GridGeometry *g, guint row0, guint column0, guint row1, guint column1);

GridHit grid_geometry_hit (const GridGeometry *g, double x, double y);
/* The cell under or next to a point, for a pointer dragged outside. FALSE: there is no cell. */
gboolean grid_geometry_nearest (const GridGeometry *g, double x, double y, guint *row, guint *column);
/* The column whose end edge can be dragged at this point of the heading, -1: none. */
int grid_geometry_edge_at (const GridGeometry *g, double x, double y, int slack);

/* Rows, and scrolling columns, of which a part can be seen: from @first to before @end. */
void grid_geometry_rows (const GridGeometry *g, guint *first, guint *end);
void grid_geometry_columns (const GridGeometry *g, guint *first, guint *end);
/* The scroll offsets nearest to the present ones that show the whole cell, or its beginning when it is too wide. */
void grid_geometry_reveal (const GridGeometry *g, guint row, guint column, double *x, double *y);

G_END_DECLS

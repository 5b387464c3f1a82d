/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/grid/grid-geometry.h"

#include <math.h>

void
grid_geometry_clear (GridGeometry *g)
{
  g_clear_pointer (&g->edge, g_free);
  g->n_columns = 0;
}

void
grid_geometry_set_widths (GridGeometry *g, const int *width, guint n)
{
  g_free (g->edge);
  g->edge = g_new (gint64, (gsize) n + 1);
  g->n_columns = n;
  g->edge[0] = 0;
  for (guint i = 0; i < n; i++)
    g->edge[i + 1] = g->edge[i] + MAX (width[i], 1);
}

guint
grid_geometry_frozen (const GridGeometry *g)
{
  guint frozen = MIN (g->frozen, g->n_columns);

  while (frozen > 0 && g->gutter + g->edge[frozen] > g->width * 2 / 3)
    frozen--;
  return frozen;
}

int
grid_geometry_start (const GridGeometry *g)
{
  guint frozen = grid_geometry_frozen (g);

  return g->gutter + (int) (frozen ? g->edge[frozen] : 0);
}

void
grid_geometry_extent (const GridGeometry *g, double *width, double *height)
{
  *width = g->n_columns ? (double) (g->edge[g->n_columns] - g->edge[grid_geometry_frozen (g)]) + g->foot : 0;
  *height = g->n_rows ? (double) g->n_rows * g->row_height + g->foot : 0;
}

void
grid_geometry_page (const GridGeometry *g, double *width, double *height)
{
  *width = MAX (g->width - grid_geometry_start (g), 0);
  *height = MAX (g->height - g->head_height, 0);
}

int
grid_geometry_column_width (const GridGeometry *g, guint column)
{
  return column < g->n_columns ? (int) (g->edge[column + 1] - g->edge[column]) : 0;
}

double
grid_geometry_column_x (const GridGeometry *g, guint column)
{
  double x;

  if (g->n_columns == 0)
    return g->gutter;
  column = MIN (column, g->n_columns);
  x = g->gutter + (double) g->edge[column];
  return column < grid_geometry_frozen (g) ? x : x - g->x;
}

double
grid_geometry_row_y (const GridGeometry *g, guint row)
{
  return g->head_height + ((double) row * g->row_height - g->y);
}

GridBox
grid_geometry_cell (const GridGeometry *g, guint row, guint column)
{
  return (GridBox){ grid_geometry_column_x (g, column), grid_geometry_row_y (g, row),
                    grid_geometry_column_width (g, column), g->row_height };
}

GridBox
grid_geometry_block (const GridGeometry *g, guint row0, guint column0, guint row1, guint column1)
{
  double x = grid_geometry_column_x (g, column0), y = grid_geometry_row_y (g, row0);
  double right = grid_geometry_column_x (g, column1) + grid_geometry_column_width (g, column1);
  double height = ((double) row1 - row0 + 1) * g->row_height;

  return (GridBox){ x, y, (int) MAX (right - x, 0), (int) MIN (height, G_MAXINT) };
}

/* The column at an offset from the first column's start; offset within the columns. */
static guint
column_at_offset (const GridGeometry *g, double offset)
{
  guint low = 0, high = g->n_columns;

  while (high - low > 1)
    {
      guint middle = low + (high - low) / 2;
      if ((double) g->edge[middle] <= offset)
        low = middle;
      else
        high = middle;
    }
  return low;
}

static double
offset_of (const GridGeometry *g, double x)
{
  return x < grid_geometry_start (g) ? x - g->gutter : x - g->gutter + g->x;
}

GridHit
grid_geometry_hit (const GridGeometry *g, double x, double y)
{
  GridHit hit = { GRID_NOWHERE, 0, 0 };
  gboolean in_gutter = x < g->gutter, in_head = y < g->head_height;

  if (x < 0 || y < 0 || x >= g->width || y >= g->height)
    return hit;
  if (!in_gutter)
    {
      double offset = offset_of (g, x);
      if (g->n_columns == 0 || offset >= (double) g->edge[g->n_columns])
        return hit;
      hit.column = column_at_offset (g, offset);
    }
  if (!in_head)
    {
      double row = g->row_height > 0 ? floor ((y - g->head_height + g->y) / g->row_height) : g->n_rows;
      if (row >= g->n_rows)
        return hit;
      hit.row = (guint) row;
    }
  hit.part = in_head ? (in_gutter ? GRID_CORNER : GRID_HEAD) : (in_gutter ? GRID_GUTTER : GRID_CELL);
  return hit;
}

gboolean
grid_geometry_nearest (const GridGeometry *g, double x, double y, guint *row, guint *column)
{
  double at;

  if (g->n_rows == 0 || g->n_columns == 0 || g->row_height <= 0)
    return FALSE;
  at = floor ((y - g->head_height + g->y) / g->row_height);
  *row = (guint) CLAMP (at, 0, (double) g->n_rows - 1);
  at = offset_of (g, x);
  *column = column_at_offset (g, CLAMP (at, 0, (double) g->edge[g->n_columns] - 1));
  return TRUE;
}

int
grid_geometry_edge_at (const GridGeometry *g, double x, double y, int slack)
{
  guint frozen = grid_geometry_frozen (g), first, end;

  if (y < 0 || y >= g->head_height)
    return -1;
  for (guint i = 0; i < frozen; i++)
    if (fabs (grid_geometry_column_x (g, i) + grid_geometry_column_width (g, i) - x) <= slack)
      return (int) i;
  grid_geometry_columns (g, &first, &end);
  for (guint i = first; i < end; i++)
    {
      double edge = grid_geometry_column_x (g, i) + grid_geometry_column_width (g, i);
      if (edge >= grid_geometry_start (g) && fabs (edge - x) <= slack)
        return (int) i;
    }
  return -1;
}

void
grid_geometry_rows (const GridGeometry *g, guint *first, guint *end)
{
  double width, height, from, to;

  grid_geometry_page (g, &width, &height);
  *first = *end = 0;
  if (g->row_height <= 0 || g->n_rows == 0 || height <= 0)
    return;
  from = floor (g->y / g->row_height);
  to = ceil ((g->y + height) / g->row_height);
  *first = (guint) CLAMP (from, 0, (double) g->n_rows);
  *end = (guint) CLAMP (to, *first, (double) g->n_rows);
}

void
grid_geometry_columns (const GridGeometry *g, guint *first, guint *end)
{
  guint frozen = grid_geometry_frozen (g);
  double width, height;

  grid_geometry_page (g, &width, &height);
  *first = *end = frozen;
  if (frozen >= g->n_columns || width <= 0)
    return;
  *first = MAX (frozen, column_at_offset (g, (double) g->edge[frozen] + g->x));
  *end = *first;
  while (*end < g->n_columns && (double) (g->edge[*end] - g->edge[frozen]) - g->x < width)
    (*end)++;
}

static double
reveal (double value, double from, double to, double page)
{
  if (to > value + page)
    value = to - page;
  return MAX (MIN (value, from), 0);
}

void
grid_geometry_reveal (const GridGeometry *g, guint row, guint column, double *x, double *y)
{
  guint frozen = grid_geometry_frozen (g);
  double width, height;

  grid_geometry_page (g, &width, &height);
  *x = g->x;
  *y = reveal (g->y, (double) row * g->row_height, ((double) row + 1) * g->row_height, height);
  if (column >= frozen && column < g->n_columns)
    *x = reveal (g->x, (double) (g->edge[column] - g->edge[frozen]), (double) (g->edge[column + 1] - g->edge[frozen]),
                 width);
}

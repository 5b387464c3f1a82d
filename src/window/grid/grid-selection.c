/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/grid/grid-selection.h"

static void
hold_inside (const GridSelection *s, guint *row, guint *column)
{
  *row = s->n_rows ? MIN (*row, s->n_rows - 1) : 0;
  *column = s->n_columns ? MIN (*column, s->n_columns - 1) : 0;
}

void
grid_selection_resize (GridSelection *s, guint n_rows, guint n_columns)
{
  s->n_rows = n_rows;
  s->n_columns = n_columns;
  hold_inside (s, &s->row, &s->column);
  hold_inside (s, &s->end_row, &s->end_column);
  if (s->home >= (int) n_columns)
    s->home = -1;
}

gboolean
grid_selection_is_empty (const GridSelection *s)
{
  return s->n_rows == 0 || s->n_columns == 0;
}

void
grid_selection_set (GridSelection *s, guint row, guint column)
{
  hold_inside (s, &row, &column);
  s->row = s->end_row = row;
  s->column = s->end_column = column;
  s->home = -1;
}

void
grid_selection_extend (GridSelection *s, guint row, guint column)
{
  hold_inside (s, &row, &column);
  s->end_row = row;
  s->end_column = column;
  s->home = -1;
}

void
grid_selection_range (const GridSelection *s, guint *row0, guint *column0, guint *row1, guint *column1)
{
  *row0 = MIN (s->row, s->end_row);
  *row1 = MAX (s->row, s->end_row);
  *column0 = MIN (s->column, s->end_column);
  *column1 = MAX (s->column, s->end_column);
}

gboolean
grid_selection_contains (const GridSelection *s, guint row, guint column)
{
  guint row0, column0, row1, column1;

  grid_selection_range (s, &row0, &column0, &row1, &column1);
  return !grid_selection_is_empty (s) && row >= row0 && row <= row1 && column >= column0 && column <= column1;
}

static void
go (GridSelection *s, guint row, guint column, gboolean extend)
{
  if (extend)
    grid_selection_extend (s, row, column);
  else
    grid_selection_set (s, row, column);
}

static guint
less (guint value, guint steps)
{
  return value > steps ? value - steps : 0;
}

static guint
more (guint value, guint steps)
{
  return value > G_MAXUINT - steps ? G_MAXUINT : value + steps;
}

void
grid_selection_move (GridSelection *s, GridDirection direction, guint steps, gboolean extend)
{
  guint row = extend ? s->end_row : s->row, column = extend ? s->end_column : s->column;

  switch (direction)
    {
    case GRID_LEFT: column = less (column, steps); break;
    case GRID_RIGHT: column = more (column, steps); break;
    case GRID_UP: row = less (row, steps); break;
    case GRID_DOWN: row = more (row, steps); break;
    default: break;
    }
  go (s, row, column, extend);
}

void
grid_selection_edge (GridSelection *s, GridDirection direction, gboolean extend, GridFilled filled, gpointer data)
{
  guint row = extend ? s->end_row : s->row, column = extend ? s->end_column : s->column;
  gboolean down = direction == GRID_UP || direction == GRID_DOWN, back = direction == GRID_LEFT || direction == GRID_UP;
  guint *at = down ? &row : &column, last, start = *at;
  gboolean in_block;

  if (grid_selection_is_empty (s))
    return;
  last = back ? 0 : (down ? s->n_rows : s->n_columns) - 1;
#define STEP() (*at = back ? *at - 1 : *at + 1)
  if (start == last)
    {
      go (s, row, column, extend);
      return;
    }
  in_block = filled (row, column, data);
  STEP ();
  if (in_block && filled (row, column, data))
    {
      while (*at != last)
        {
          STEP ();
          if (!filled (row, column, data))
            {
              *at = back ? *at + 1 : *at - 1;
              break;
            }
        }
    }
  else
    while (*at != last && !filled (row, column, data))
      STEP ();
#undef STEP
  go (s, row, column, extend);
}

void
grid_selection_line (GridSelection *s, gboolean last, gboolean extend)
{
  go (s, extend ? s->end_row : s->row, last ? G_MAXUINT : 0, extend);
}

void
grid_selection_corner (GridSelection *s, gboolean last, guint last_row, gboolean extend)
{
  go (s, last ? last_row : 0, last ? G_MAXUINT : 0, extend);
}

void
grid_selection_tab (GridSelection *s, gboolean forward)
{
  int home = s->home < 0 ? (int) s->column : s->home;

  grid_selection_move (s, forward ? GRID_RIGHT : GRID_LEFT, 1, FALSE);
  s->home = MIN (home, (int) s->column);
}

void
grid_selection_enter (GridSelection *s, gboolean forward)
{
  int home = s->home;

  grid_selection_move (s, forward ? GRID_DOWN : GRID_UP, 1, FALSE);
  if (home >= 0)
    grid_selection_set (s, s->row, (guint) home);
}

void
grid_selection_all (GridSelection *s, guint n_rows)
{
  grid_selection_set (s, 0, 0);
  grid_selection_extend (s, n_rows ? n_rows - 1 : 0, G_MAXUINT);
}

void
grid_selection_whole_rows (GridSelection *s)
{
  guint row = s->row, end = s->end_row;

  grid_selection_set (s, row, 0);
  grid_selection_extend (s, end, G_MAXUINT);
}

void
grid_selection_whole_columns (GridSelection *s, guint n_rows)
{
  guint column = s->column, end = s->end_column;

  grid_selection_set (s, 0, column);
  grid_selection_extend (s, n_rows ? n_rows - 1 : 0, end);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/grid/grid-selection.h"

#include <string.h>

/* Five rows of six columns, '.' for an empty cell. */
static const char *const picture[] = { "xx..xx", "x.....", "x..x..", "......", "xxxxxx" };

static gboolean
filled (guint row, guint column, gpointer data)
{
  guint *asked = data;

  g_assert_cmpuint (row, <, G_N_ELEMENTS (picture));
  g_assert_cmpuint (column, <, strlen (picture[0]));
  if (asked)
    (*asked)++;
  return picture[row][column] != '.';
}

static GridSelection
at (guint row, guint column)
{
  GridSelection s = { .home = -1 };

  grid_selection_resize (&s, 5, 6);
  grid_selection_set (&s, row, column);
  return s;
}

#define assert_range(s, r0, c0, r1, c1)                                          \
  G_STMT_START                                                                   \
  {                                                                              \
    guint row0_, column0_, row1_, column1_;                                      \
    grid_selection_range (s, &row0_, &column0_, &row1_, &column1_);              \
    g_assert_cmpuint (row0_, ==, r0);                                            \
    g_assert_cmpuint (column0_, ==, c0);                                         \
    g_assert_cmpuint (row1_, ==, r1);                                            \
    g_assert_cmpuint (column1_, ==, c1);                                         \
  }                                                                              \
  G_STMT_END

static void
test_move (void)
{
  GridSelection s = at (2, 2);

  grid_selection_move (&s, GRID_LEFT, 1, FALSE);
  assert_range (&s, 2, 1, 2, 1);
  grid_selection_move (&s, GRID_LEFT, 9, FALSE);
  assert_range (&s, 2, 0, 2, 0);
  grid_selection_move (&s, GRID_DOWN, G_MAXUINT, FALSE);
  assert_range (&s, 4, 0, 4, 0);
  grid_selection_move (&s, GRID_RIGHT, 2, FALSE);
  grid_selection_move (&s, GRID_UP, 3, FALSE);
  assert_range (&s, 1, 2, 1, 2);
}

/* The cursor stays, the other corner goes, also past the cursor. */
static void
test_extend (void)
{
  GridSelection s = at (2, 2);

  grid_selection_move (&s, GRID_DOWN, 1, TRUE);
  grid_selection_move (&s, GRID_RIGHT, 2, TRUE);
  assert_range (&s, 2, 2, 3, 4);
  grid_selection_move (&s, GRID_UP, 3, TRUE);
  assert_range (&s, 0, 2, 2, 4);
  g_assert_cmpuint (s.row, ==, 2);
  g_assert_cmpuint (s.column, ==, 2);
  g_assert_true (grid_selection_contains (&s, 1, 3));
  g_assert_false (grid_selection_contains (&s, 3, 3));
  grid_selection_move (&s, GRID_DOWN, 1, FALSE);
  assert_range (&s, 3, 2, 3, 2);
}

static void
assert_edge (guint row, guint column, GridDirection direction, guint to_row, guint to_column)
{
  GridSelection s = at (row, column);

  grid_selection_edge (&s, direction, FALSE, filled, NULL);
  assert_range (&s, to_row, to_column, to_row, to_column);
  s = at (row, column);
  grid_selection_edge (&s, direction, TRUE, filled, NULL);
  assert_range (&s, MIN (row, to_row), MIN (column, to_column), MAX (row, to_row), MAX (column, to_column));
}

static void
test_edge (void)
{
  assert_edge (0, 0, GRID_RIGHT, 0, 1); /* to the end of the block */
  assert_edge (0, 1, GRID_RIGHT, 0, 4); /* over the gap to the next block */
  assert_edge (0, 4, GRID_RIGHT, 0, 5);
  assert_edge (0, 5, GRID_RIGHT, 0, 5); /* nothing behind */
  assert_edge (1, 0, GRID_RIGHT, 1, 5); /* nothing filled behind: the last */
  assert_edge (2, 1, GRID_RIGHT, 2, 3); /* from an empty cell to the next filled one */
  assert_edge (0, 0, GRID_DOWN, 2, 0);
  assert_edge (2, 0, GRID_DOWN, 4, 0);
  assert_edge (4, 5, GRID_UP, 0, 5);
  assert_edge (4, 5, GRID_LEFT, 4, 0);
  assert_edge (2, 3, GRID_LEFT, 2, 0);
}

static void
test_edge_asks_no_more_than_needed (void)
{
  GridSelection s = at (0, 0);
  guint asked = 0;

  grid_selection_edge (&s, GRID_RIGHT, FALSE, filled, &asked);
  g_assert_cmpuint (asked, <=, 3);
}

static void
test_lines_and_corners (void)
{
  GridSelection s = at (2, 3);

  grid_selection_line (&s, FALSE, FALSE);
  assert_range (&s, 2, 0, 2, 0);
  grid_selection_line (&s, TRUE, TRUE);
  assert_range (&s, 2, 0, 2, 5);
  grid_selection_corner (&s, TRUE, 3, FALSE);
  assert_range (&s, 3, 5, 3, 5);
  grid_selection_corner (&s, FALSE, 0, TRUE);
  assert_range (&s, 0, 0, 3, 5);
  grid_selection_all (&s, 4);
  assert_range (&s, 0, 0, 3, 5);
  s = at (1, 2);
  grid_selection_extend (&s, 3, 4);
  grid_selection_whole_rows (&s);
  assert_range (&s, 1, 0, 3, 5);
  s = at (1, 2);
  grid_selection_extend (&s, 3, 4);
  grid_selection_whole_columns (&s, 4);
  assert_range (&s, 0, 2, 3, 4);
}

/* Tab, Tab, Enter: the next row begins below where the first Tab was pressed. */
static void
test_tab_and_enter (void)
{
  GridSelection s = at (1, 2);

  grid_selection_tab (&s, TRUE);
  grid_selection_tab (&s, TRUE);
  assert_range (&s, 1, 4, 1, 4);
  grid_selection_enter (&s, TRUE);
  assert_range (&s, 2, 2, 2, 2);
  grid_selection_enter (&s, TRUE);
  assert_range (&s, 3, 2, 3, 2);
  grid_selection_tab (&s, TRUE);
  grid_selection_move (&s, GRID_UP, 1, FALSE); /* any other move ends the walk */
  grid_selection_enter (&s, TRUE);
  assert_range (&s, 3, 3, 3, 3);
  grid_selection_tab (&s, TRUE);
  grid_selection_tab (&s, FALSE);
  grid_selection_tab (&s, FALSE); /* back past its beginning: that is the beginning now */
  grid_selection_enter (&s, FALSE);
  assert_range (&s, 2, 2, 2, 2);
  s = at (4, 5);
  grid_selection_tab (&s, TRUE);
  assert_range (&s, 4, 5, 4, 5);
  grid_selection_enter (&s, TRUE);
  assert_range (&s, 4, 5, 4, 5);
}

static void
test_resize (void)
{
  GridSelection s = at (4, 5);

  grid_selection_extend (&s, 1, 1);
  grid_selection_resize (&s, 3, 4);
  assert_range (&s, 1, 1, 2, 3);
  g_assert_cmpuint (s.row, ==, 2);
  grid_selection_resize (&s, 0, 4);
  assert_range (&s, 0, 1, 0, 3);
  g_assert_true (grid_selection_is_empty (&s));
  g_assert_false (grid_selection_contains (&s, 0, 1));
  grid_selection_move (&s, GRID_DOWN, 5, FALSE);
  grid_selection_edge (&s, GRID_DOWN, FALSE, filled, NULL);
  grid_selection_all (&s, 0);
  g_assert_cmpuint (s.end_row, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/grid-selection/move", test_move);
  g_test_add_func ("/grid-selection/extend", test_extend);
  g_test_add_func ("/grid-selection/edge", test_edge);
  g_test_add_func ("/grid-selection/edge-asks-no-more-than-needed", test_edge_asks_no_more_than_needed);
  g_test_add_func ("/grid-selection/lines-and-corners", test_lines_and_corners);
  g_test_add_func ("/grid-selection/tab-and-enter", test_tab_and_enter);
  g_test_add_func ("/grid-selection/resize", test_resize);
  return g_test_run ();
}

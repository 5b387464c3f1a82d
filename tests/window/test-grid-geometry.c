/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Invented sizes; what is expected is worked out by hand from them. */
#include "window/grid/grid-geometry.h"

/* Gutter 40, head 30, rows 20 high, columns 50 60 70 80 90 wide, the first frozen; a view of 300 x 130. */
static void
setup (GridGeometry *g)
{
  static const int widths[] = { 50, 60, 70, 80, 90 };

  *g = (GridGeometry){
    .width = 300, .height = 130, .row_height = 20, .head_height = 30, .gutter = 40, .n_rows = 100, .frozen = 1
  };
  grid_geometry_set_widths (g, widths, G_N_ELEMENTS (widths));
}

static void
test_places (void)
{
  GridGeometry g;
  GridBox box;
  double width, height;

  setup (&g);
  g.x = 25;
  g.y = 45;
  g_assert_cmpint (grid_geometry_start (&g), ==, 90);
  grid_geometry_extent (&g, &width, &height);
  g_assert_cmpfloat (width, ==, 300);
  g_assert_cmpfloat (height, ==, 2000);
  grid_geometry_page (&g, &width, &height);
  g_assert_cmpfloat (width, ==, 210);
  g_assert_cmpfloat (height, ==, 100);
  box = grid_geometry_cell (&g, 3, 0);
  g_assert_cmpfloat (box.x, ==, 40);
  g_assert_cmpfloat (box.y, ==, 30 + 60 - 45);
  g_assert_cmpint (box.width, ==, 50);
  box = grid_geometry_cell (&g, 3, 2);
  g_assert_cmpfloat (box.x, ==, 40 + 50 + 60 - 25);
  g_assert_cmpint (box.width, ==, 70);
  box = grid_geometry_block (&g, 1, 0, 4, 2);
  g_assert_cmpfloat (box.x, ==, 40);
  g_assert_cmpint (box.width, ==, 180 - 25);
  g_assert_cmpint (box.height, ==, 80);
  g_assert_cmpint (grid_geometry_column_width (&g, 5), ==, 0);
  grid_geometry_clear (&g);
}

static void
assert_hit (const GridGeometry *g, double x, double y, GridPart part, guint row, guint column)
{
  GridHit hit = grid_geometry_hit (g, x, y);

  g_assert_cmpint (hit.part, ==, part);
  if (part == GRID_GUTTER || part == GRID_CELL)
    g_assert_cmpuint (hit.row, ==, row);
  if (part == GRID_HEAD || part == GRID_CELL)
    g_assert_cmpuint (hit.column, ==, column);
}

static void
test_hit (void)
{
  GridGeometry g;

  setup (&g);
  g.x = 25;
  g.y = 45;
  assert_hit (&g, 0, 0, GRID_CORNER, 0, 0);
  assert_hit (&g, 39.5, 29.5, GRID_CORNER, 0, 0);
  assert_hit (&g, 40, 5, GRID_HEAD, 0, 0);
  assert_hit (&g, 89.9, 5, GRID_HEAD, 0, 0);
  assert_hit (&g, 90, 5, GRID_HEAD, 0, 1);  /* the column frozen covers the first 25 px of the next */
  assert_hit (&g, 125, 5, GRID_HEAD, 0, 2); /* 40 + 50 + 60 - 25 */
  assert_hit (&g, 5, 30, GRID_GUTTER, 2, 0);
  assert_hit (&g, 5, 44.9, GRID_GUTTER, 2, 0);
  assert_hit (&g, 5, 45, GRID_GUTTER, 3, 0);
  assert_hit (&g, 124.9, 45, GRID_CELL, 3, 1);
  assert_hit (&g, -1, 45, GRID_NOWHERE, 0, 0);
  assert_hit (&g, 300, 45, GRID_NOWHERE, 0, 0);
  assert_hit (&g, 50, 130, GRID_NOWHERE, 0, 0);
  /* Behind the last row and the last column is nothing. */
  g.n_rows = 4;
  assert_hit (&g, 50, 64.9, GRID_CELL, 3, 0);
  assert_hit (&g, 50, 65, GRID_NOWHERE, 0, 0);
  g.width = 1000;
  g.x = 0;
  assert_hit (&g, 40 + 349.9, 50, GRID_CELL, 3, 4);
  assert_hit (&g, 40 + 350, 50, GRID_NOWHERE, 0, 0);
  grid_geometry_clear (&g);
}

/* Every place of the view: what is hit there has a box around that place. */
static void
test_hit_agrees_with_boxes (void)
{
  GridGeometry g;
  guint hits = 0;

  setup (&g);
  for (g.x = 0; g.x <= 90; g.x += 13)
    for (g.y = 0; g.y < 400; g.y += 57)
      for (double x = 40; x < 300; x += 3)
        for (double y = 30; y < 130; y += 7)
          {
            GridHit hit = grid_geometry_hit (&g, x, y);
            GridBox box = grid_geometry_cell (&g, hit.row, hit.column);
            g_assert_cmpint (hit.part, ==, GRID_CELL);
            g_assert_true (x >= box.x && x < box.x + box.width && y >= box.y && y < box.y + box.height);
            hits++;
          }
  g_assert_cmpuint (hits, >, 10000);
  grid_geometry_clear (&g);
}

static void
test_visible (void)
{
  GridGeometry g;
  guint first, end;

  setup (&g);
  grid_geometry_rows (&g, &first, &end);
  g_assert_cmpuint (first, ==, 0);
  g_assert_cmpuint (end, ==, 5);
  g.y = 45; /* 15 px of row 2, then 3 to 6, 5 px of row 7 */
  grid_geometry_rows (&g, &first, &end);
  g_assert_cmpuint (first, ==, 2);
  g_assert_cmpuint (end, ==, 8);
  g.y = 1900;
  grid_geometry_rows (&g, &first, &end);
  g_assert_cmpuint (first, ==, 95);
  g_assert_cmpuint (end, ==, 100);
  grid_geometry_columns (&g, &first, &end);
  g_assert_cmpuint (first, ==, 1);
  g_assert_cmpuint (end, ==, 4); /* 60 + 70 + 80 = 210: all three, and nothing of the fifth */
  g.x = 60;
  grid_geometry_columns (&g, &first, &end);
  g_assert_cmpuint (first, ==, 2);
  g_assert_cmpuint (end, ==, 5);
  g.n_rows = 0;
  grid_geometry_rows (&g, &first, &end);
  g_assert_cmpuint (first, ==, end);
  grid_geometry_clear (&g);
  grid_geometry_columns (&g, &first, &end);
  g_assert_cmpuint (first, ==, end);
  g_assert_cmpint (grid_geometry_hit (&g, 60, 60).part, ==, GRID_NOWHERE);
}

static void
test_reveal (void)
{
  GridGeometry g;
  double x, y;

  setup (&g);
  g.x = 25;
  g.y = 45;
  grid_geometry_reveal (&g, 4, 2, &x, &y); /* seen already */
  g_assert_cmpfloat (x, ==, 25);
  g_assert_cmpfloat (y, ==, 45);
  grid_geometry_reveal (&g, 0, 0, &x, &y); /* a frozen column is always seen */
  g_assert_cmpfloat (x, ==, 25);
  g_assert_cmpfloat (y, ==, 0);
  grid_geometry_reveal (&g, 99, 4, &x, &y);
  g_assert_cmpfloat (x, ==, 90);
  g_assert_cmpfloat (y, ==, 1900);
  grid_geometry_reveal (&g, 2, 1, &x, &y); /* cut at its start */
  g_assert_cmpfloat (x, ==, 0);
  g_assert_cmpfloat (y, ==, 40);
  g.width = 120; /* no column frozen, 80 px for one of 90 that begins at 260: its beginning is shown */
  grid_geometry_reveal (&g, 2, 4, &x, &y);
  g_assert_cmpfloat (x, ==, 260);
  grid_geometry_clear (&g);
}

static void
test_frozen_gives_way (void)
{
  GridGeometry g;

  setup (&g);
  g.frozen = 5;
  g_assert_cmpuint (grid_geometry_frozen (&g), ==, 2); /* 40 + 50 + 60 = 150; with 70 more than 200 of 300 */
  g.width = 100;
  g_assert_cmpuint (grid_geometry_frozen (&g), ==, 0);
  g.width = 4000;
  g_assert_cmpuint (grid_geometry_frozen (&g), ==, 5);
  g.frozen = 9;
  g_assert_cmpuint (grid_geometry_frozen (&g), ==, 5);
  grid_geometry_clear (&g);
}

static void
test_edges (void)
{
  GridGeometry g;

  setup (&g);
  g_assert_cmpint (grid_geometry_edge_at (&g, 90, 10, 4), ==, 0);
  g_assert_cmpint (grid_geometry_edge_at (&g, 94, 10, 4), ==, 0);
  g_assert_cmpint (grid_geometry_edge_at (&g, 95, 10, 4), ==, -1);
  g_assert_cmpint (grid_geometry_edge_at (&g, 150, 10, 4), ==, 1);
  g_assert_cmpint (grid_geometry_edge_at (&g, 150, 31, 4), ==, -1); /* below the heading */
  g.x = 70; /* the edge of column 1 is hidden behind the frozen one */
  g_assert_cmpint (grid_geometry_edge_at (&g, 80, 10, 4), ==, -1);
  g_assert_cmpint (grid_geometry_edge_at (&g, 150, 10, 4), ==, 2);
  grid_geometry_clear (&g);
}

static void
test_nearest (void)
{
  GridGeometry g;
  guint row = 7, column = 7;

  setup (&g);
  g_assert_true (grid_geometry_nearest (&g, -50, -50, &row, &column));
  g_assert_cmpuint (row, ==, 0);
  g_assert_cmpuint (column, ==, 0);
  g_assert_true (grid_geometry_nearest (&g, 5000, 50000, &row, &column));
  g_assert_cmpuint (row, ==, 99);
  g_assert_cmpuint (column, ==, 4);
  g.n_rows = 0;
  g_assert_false (grid_geometry_nearest (&g, 50, 50, &row, &column));
  grid_geometry_clear (&g);
}

/* 100 000 rows are 2 400 000 px: a float has no fractions of a px left there, so offsets stay double. */
static void
test_far_down (void)
{
  GridGeometry g;

  setup (&g);
  g.n_rows = 100000000;
  g.row_height = 24;
  g.y = 2399999976.0 - 3;
  g_assert_cmpfloat (grid_geometry_row_y (&g, 99999999), ==, 33);
  g_assert_cmpuint (grid_geometry_hit (&g, 50, 34).row, ==, 99999999);
  grid_geometry_clear (&g);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/grid-geometry/places", test_places);
  g_test_add_func ("/grid-geometry/hit", test_hit);
  g_test_add_func ("/grid-geometry/hit-agrees-with-boxes", test_hit_agrees_with_boxes);
  g_test_add_func ("/grid-geometry/visible", test_visible);
  g_test_add_func ("/grid-geometry/reveal", test_reveal);
  g_test_add_func ("/grid-geometry/frozen-gives-way", test_frozen_gives_way);
  g_test_add_func ("/grid-geometry/edges", test_edges);
  g_test_add_func ("/grid-geometry/nearest", test_nearest);
  g_test_add_func ("/grid-geometry/far-down", test_far_down);
  return g_test_run ();
}

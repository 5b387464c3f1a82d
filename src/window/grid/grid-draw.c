/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/grid/grid-private.h"

#include <math.h>

/* Rows and columns drawn together: the scrolling part, or the frozen columns. */
typedef struct
{
  int part; /* index of GridRow.node */
  guint row0, row_end, column0, column_end;
  graphene_rect_t clip;
} Region;

graphene_rect_t
grid_rect (double x, double y, double width, double height)
{
  graphene_rect_t rect;

  graphene_rect_init (&rect, (float) x, (float) y, (float) width, (float) height);
  return rect;
}

static void
fill (GtkSnapshot *snapshot, const GdkRGBA *color, double x, double y, double width, double height)
{
  graphene_rect_t rect = grid_rect (x, y, width, height);

  gtk_snapshot_append_color (snapshot, color, &rect);
}

static void
draw_layout (GtkSnapshot *snapshot, PangoLayout *layout, double x, double y, const GdkRGBA *color)
{
  graphene_point_t point;

  graphene_point_init (&point, (float) x, (float) y);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &point);
  gtk_snapshot_append_layout (snapshot, layout, color);
  gtk_snapshot_restore (snapshot);
}

static void
draw_frame (GtkSnapshot *snapshot, const GridBox *box, const GdkRGBA *color, float thick)
{
  GskRoundedRect outline;
  graphene_rect_t rect = grid_rect (box->x - 1, box->y - 1, box->width + 1, box->height + 1);
  float width[4] = { thick, thick, thick, thick };
  GdkRGBA colors[4] = { *color, *color, *color, *color };

  gsk_rounded_rect_init_from_rect (&outline, &rect, 0);
  gtk_snapshot_append_border (snapshot, &outline, width, colors);
}

/* ---- cells ---- */

static const GdkRGBA *
text_color (const TallyGrid *grid, GridCellFlags flags)
{
  if (flags & GRID_CELL_FAULTY)
    return &grid->palette.warning;
  return flags & (GRID_CELL_INHERITED | GRID_CELL_DIM) ? &grid->palette.dim : &grid->palette.text;
}

/* The ground of computed cells, in one piece for all that stand below each other. */
static void
draw_grounds (TallyGrid *grid, GtkSnapshot *snapshot, const Region *region)
{
  const GridGeometry *g = &grid->geometry;

  for (guint column = region->column0; column < region->column_end; column++)
    for (guint row = region->row0; row < region->row_end; row++)
      {
        guint first = row;
        while (row < region->row_end && grid_cells_get (grid, row, column)->flags & GRID_CELL_COMPUTED)
          row++;
        if (row > first)
          fill (snapshot, &grid->palette.computed, grid_geometry_column_x (g, column), grid_geometry_row_y (g, first),
                grid_geometry_column_width (g, column), (double) (row - first) * g->row_height);
      }
}

static void
draw_lines (TallyGrid *grid, GtkSnapshot *snapshot, const Region *region)
{
  const GridGeometry *g = &grid->geometry;
  double left = grid_geometry_column_x (g, region->column0);
  double right = region->column_end > region->column0 ? grid_geometry_column_x (g, region->column_end - 1)
                                                            + grid_geometry_column_width (g, region->column_end - 1)
                                                      : left;
  double top = grid_geometry_row_y (g, region->row0), bottom = grid_geometry_row_y (g, region->row_end);

  for (guint row = region->row0; row < region->row_end; row++)
    fill (snapshot, &grid->palette.line, left, grid_geometry_row_y (g, row) + g->row_height - 1, right - left, 1);
  for (guint column = region->column0; column < region->column_end; column++)
    fill (snapshot, &grid->palette.line,
          grid_geometry_column_x (g, column) + grid_geometry_column_width (g, column) - 1, top, 1, bottom - top);
}

/* A wave below the text, or along the whole cell when there is no text to mark. */
static void
draw_wave (GtkSnapshot *snapshot, const GridBox *box, double x, double width, const GdkRGBA *color)
{
  graphene_rect_t bounds = grid_rect (x - 1, box->y + box->height - 6, width + 2, 5);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  double y = box->y + box->height - 3.5;

  gdk_cairo_set_source_rgba (cr, color);
  cairo_set_line_width (cr, 1.2);
  cairo_move_to (cr, x, y);
  for (int i = 1; i * 2.5 <= width; i++)
    cairo_line_to (cr, x + i * 2.5, y + (i % 2 ? -2 : 0));
  cairo_stroke (cr);
  cairo_destroy (cr);
}

/* A small triangle in the cell's upper end corner; made once. */
static void
draw_corner_mark (TallyGrid *grid, GtkSnapshot *snapshot, const GridBox *box)
{
  int size = MAX (6, box->height / 4);
  graphene_point_t point;

  if (!grid->corner_mark)
    {
      graphene_rect_t bounds = grid_rect (0, 0, size, size);
      cairo_t *cr;
      grid->corner_mark = gsk_cairo_node_new (&bounds);
      cr = gsk_cairo_node_get_draw_context (grid->corner_mark);
      gdk_cairo_set_source_rgba (cr, &grid->palette.accent);
      cairo_move_to (cr, 0, 0);
      cairo_line_to (cr, size, 0);
      cairo_line_to (cr, size, size);
      cairo_fill (cr);
      cairo_destroy (cr);
    }
  graphene_point_init (&point, (float) (box->x + box->width - 1 - size), (float) box->y);
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &point);
  gtk_snapshot_append_node (snapshot, grid->corner_mark);
  gtk_snapshot_restore (snapshot);
}

/* The lines between cells that a text runs over. */
static void
hide_lines_behind (TallyGrid *grid, GtkSnapshot *snapshot, guint column, const GridBox *box, double end)
{
  const GridGeometry *g = &grid->geometry;
  double edge = box->x - 1;

  for (guint i = column; i < g->n_columns; i++)
    {
      edge += grid_geometry_column_width (g, i);
      if (edge >= end)
        break;
      fill (snapshot, &grid->palette.base, edge, 0, 1, box->height - 1);
    }
}

/* From the row's upper edge; @origin: x of the region's first column. */
static void
draw_cell (TallyGrid *grid, GtkSnapshot *snapshot, guint row, guint column, double origin)
{
  const GridCell *cell = grid_cells_get (grid, row, column);
  GridBox box;
  double x;

  if (!cell->layout && !(cell->flags & (GRID_CELL_FAULTY | GRID_CELL_CAUTION | GRID_CELL_OVERRIDDEN)))
    return;
  box = (GridBox){ grid_geometry_column_x (&grid->geometry, column) - origin, 0,
                   grid_geometry_column_width (&grid->geometry, column), grid->geometry.row_height };
  x = cell->flags & GRID_CELL_FIGURE ? box.x + box.width - GRID_PAD - cell->width : box.x + GRID_PAD;
  if (cell->width > box.width)
    hide_lines_behind (grid, snapshot, column, &box, x + cell->width);
  if (cell->layout)
    draw_layout (snapshot, cell->layout, x, box.y + (box.height - cell->height) / 2, text_color (grid, cell->flags));
  if (cell->flags & (GRID_CELL_FAULTY | GRID_CELL_CAUTION))
    draw_wave (snapshot, &box, cell->layout ? x : box.x + GRID_PAD, cell->layout ? cell->width : box.width - 2 * GRID_PAD,
               text_color (grid, cell->flags));
  if (cell->flags & GRID_CELL_OVERRIDDEN)
    draw_corner_mark (grid, snapshot, &box);
}

/* Text of a column scrolled out may run on into those seen; that of a frozen one only while nothing is scrolled. */
static void
draw_run_on (TallyGrid *grid, GtkSnapshot *snapshot, guint row, const Region *region, double origin)
{
  guint least = grid->geometry.x > 0 ? grid_geometry_frozen (&grid->geometry) : 0;

  for (guint column = region->column0; column > least; column--)
    {
      const GridCell *cell = grid_cells_get (grid, row, column - 1);
      if (cell->layout)
        {
          if (cell->width > grid_geometry_column_width (&grid->geometry, column - 1))
            draw_cell (grid, snapshot, row, column - 1, origin);
          return;
        }
    }
}

static void
draw_selection (TallyGrid *grid, GtkSnapshot *snapshot, gboolean frame)
{
  const GridGeometry *g = &grid->geometry;
  gboolean focused = grid->editing || gtk_widget_has_focus (GTK_WIDGET (grid));
  guint row0, column0, row1, column1;
  GridBox all, cell;

  grid_selection_range (&grid->selection, &row0, &column0, &row1, &column1);
  all = grid_geometry_block (g, row0, column0, row1, column1);
  cell = grid_geometry_cell (g, grid->selection.row, grid->selection.column);
  if (row0 == row1 && column0 == column1)
    {
      if (frame)
        draw_frame (snapshot, &cell, focused ? &grid->palette.accent : &grid->palette.dim, focused ? 2 : 1);
      return;
    }
  if (!frame)
    {
      fill (snapshot, &grid->palette.fill, all.x, all.y, all.width, all.height);
      return;
    }
  draw_frame (snapshot, &all, &grid->palette.accent, 1);
  draw_frame (snapshot, &cell, focused ? &grid->palette.accent : &grid->palette.dim, focused ? 2 : 1);
}

/* Texts and marks of a row, drawn anew only when the row or what is seen of it has changed. */
static void
draw_row (TallyGrid *grid, GtkSnapshot *snapshot, guint row, const Region *region)
{
  GridRow *kept = grid_cells_get_row (grid, row);
  /* Run-on text of a frozen column is there or not by whether something is scrolled. */
  guint key = region->column0 | (grid->geometry.x > 0 ? 1u << 31 : 0);
  double origin = grid_geometry_column_x (&grid->geometry, region->column0);
  graphene_point_t point;

  if (kept->key[region->part] != key || kept->column_end[region->part] != region->column_end)
    {
      GtkSnapshot *part = gtk_snapshot_new ();
      if (!grid_cells_get (grid, row, region->column0)->layout)
        draw_run_on (grid, part, row, region, origin);
      for (guint column = region->column0; column < region->column_end; column++)
        draw_cell (grid, part, row, column, origin);
      g_clear_pointer (&kept->node[region->part], gsk_render_node_unref);
      kept->node[region->part] = gtk_snapshot_free_to_node (part);
      kept->key[region->part] = key;
      kept->column_end[region->part] = region->column_end;
    }
  if (!kept->node[region->part])
    return;
  graphene_point_init (&point, (float) origin, (float) grid_geometry_row_y (&grid->geometry, row));
  gtk_snapshot_save (snapshot);
  gtk_snapshot_translate (snapshot, &point);
  gtk_snapshot_append_node (snapshot, kept->node[region->part]);
  gtk_snapshot_restore (snapshot);
}

static void
draw_region (TallyGrid *grid, GtkSnapshot *snapshot, const Region *region)
{
  const GridGeometry *g = &grid->geometry;
  double y = grid_geometry_row_y (g, grid->selection.row), left, right;

  if (region->clip.size.width <= 0 || region->column0 >= region->column_end || region->row0 >= region->row_end)
    return;
  gtk_snapshot_push_clip (snapshot, &region->clip);
  draw_grounds (grid, snapshot, region);
  left = grid_geometry_column_x (g, region->column0);
  right = grid_geometry_column_x (g, region->column_end - 1) + grid_geometry_column_width (g, region->column_end - 1);
  if (grid->selection.row >= region->row0 && grid->selection.row < region->row_end)
    fill (snapshot, &grid->palette.row, left, y, right - left, g->row_height);
  draw_lines (grid, snapshot, region);
  draw_selection (grid, snapshot, FALSE);
  for (guint row = region->row0; row < region->row_end; row++)
    draw_row (grid, snapshot, row, region);
  draw_selection (grid, snapshot, TRUE);
  gtk_snapshot_pop (snapshot);
}

/* ---- heads ---- */

/* A filled triangle behind the title: up for rising, down for falling. */
static void
draw_sort_mark (TallyGrid *grid, GtkSnapshot *snapshot, double x, double y)
{
  graphene_rect_t bounds = grid_rect (x, y, 8, 5);
  cairo_t *cr = gtk_snapshot_append_cairo (snapshot, &bounds);
  double base = grid->sort_descending ? y : y + 5, tip = grid->sort_descending ? y + 5 : y;

  gdk_cairo_set_source_rgba (cr, &grid->palette.accent);
  cairo_move_to (cr, x, base);
  cairo_line_to (cr, x + 8, base);
  cairo_line_to (cr, x + 4, tip);
  cairo_fill (cr);
  cairo_destroy (cr);
}

static void
draw_heading_line (GtkSnapshot *snapshot, PangoLayout *layout, double x, double room, gboolean at_end, double y,
                   const GdkRGBA *color)
{
  int width = 0;

  if (!layout)
    return;
  pango_layout_get_pixel_size (layout, &width, NULL);
  draw_layout (snapshot, layout, at_end ? x + room - width : x, y, color);
}

static void
draw_heading (TallyGrid *grid, GtkSnapshot *snapshot, guint i, gboolean current)
{
  const GridGeometry *g = &grid->geometry;
  GridColumn *column = &g_array_index (grid->column, GridColumn, i);
  double x = grid_geometry_column_x (g, i), width = grid_geometry_column_width (g, i);
  double y = MAX (5, grid->line_height / 3), room = width - 2 * GRID_PAD;
  const GdkRGBA *color = current ? &grid->palette.accent : &grid->palette.head_text;

  if (current)
    {
      fill (snapshot, &grid->palette.row, x, 0, width, g->head_height);
      fill (snapshot, &grid->palette.accent, x, g->head_height - 3, width - 1, 2);
    }
  draw_heading_line (snapshot, column->title_layout, x + GRID_PAD, room, column->figure, y, color);
  draw_heading_line (snapshot, column->unit_layout, x + GRID_PAD, room, column->figure, y + grid->line_height,
                     &grid->palette.dim);
  if (grid->sort_column == (int) i)
    draw_sort_mark (grid, snapshot, column->figure ? x + width - GRID_PAD - 8 : x + GRID_PAD, 1);
  fill (snapshot, &grid->palette.line, x + width - 1, 3, 1, g->head_height - 6);
}

static void
draw_head (TallyGrid *grid, GtkSnapshot *snapshot, guint first, guint end, double from, double to)
{
  graphene_rect_t clip = grid_rect (from, 0, to - from, grid->geometry.head_height);
  guint row0, column0, row1, column1;

  if (to <= from)
    return;
  grid_selection_range (&grid->selection, &row0, &column0, &row1, &column1);
  gtk_snapshot_push_clip (snapshot, &clip);
  for (guint i = first; i < end; i++)
    draw_heading (grid, snapshot, i, i >= column0 && i <= column1 && !grid_selection_is_empty (&grid->selection));
  gtk_snapshot_pop (snapshot);
}

static void
draw_gutter (TallyGrid *grid, GtkSnapshot *snapshot, guint first, guint end)
{
  const GridGeometry *g = &grid->geometry;
  graphene_rect_t clip = grid_rect (0, g->head_height, g->gutter, g->height - g->head_height);
  guint row0, column0, row1, column1;

  grid_selection_range (&grid->selection, &row0, &column0, &row1, &column1);
  gtk_snapshot_push_clip (snapshot, &clip);
  fill (snapshot, &grid->palette.head, 0, g->head_height, g->gutter, g->height - g->head_height);
  for (guint row = first; row < end; row++)
    {
      const GridCell *cell = grid_cells_get_number (grid, row);
      double y = grid_geometry_row_y (g, row);
      gboolean current = row >= row0 && row <= row1;

      if (current)
        {
          fill (snapshot, &grid->palette.row, 0, y, g->gutter, g->row_height);
          fill (snapshot, &grid->palette.accent, g->gutter - 3, y, 2, g->row_height - 1);
        }
      draw_layout (snapshot, cell->layout, g->gutter - GRID_PAD - cell->width, y + (g->row_height - cell->height) / 2,
                   current ? &grid->palette.accent : &grid->palette.dim);
      fill (snapshot, &grid->palette.line, 0, y + g->row_height - 1, g->gutter, 1);
    }
  gtk_snapshot_pop (snapshot);
}

static void
draw_heads (TallyGrid *grid, GtkSnapshot *snapshot, guint column0, guint column_end)
{
  const GridGeometry *g = &grid->geometry;
  int start = grid_geometry_start (g);

  fill (snapshot, &grid->palette.head, 0, 0, g->width, g->head_height);
  draw_head (grid, snapshot, column0, column_end, start, g->width);
  draw_head (grid, snapshot, 0, grid_geometry_frozen (g), g->gutter, start);
  fill (snapshot, &grid->palette.line, 0, g->head_height - 1, g->width, 1);
}

/* Lines where something is hidden behind the frozen parts. */
static void
draw_edges (TallyGrid *grid, GtkSnapshot *snapshot)
{
  const GridGeometry *g = &grid->geometry;
  int start = grid_geometry_start (g);
  double bottom = MIN ((double) g->height, grid_geometry_row_y (g, g->n_rows));

  fill (snapshot, &grid->palette.line, g->gutter - 1, 0, 1, MAX (bottom, g->head_height));
  if (grid_geometry_frozen (g) > 0)
    fill (snapshot, g->x > 0 ? &grid->palette.dim : &grid->palette.line, start - 1, 0, 1, MAX (bottom, g->head_height));
  if (g->y > 0)
    fill (snapshot, &grid->palette.dim, 0, g->head_height - 1, g->width, 1);
}

void
grid_draw_editor_frame (TallyGrid *grid, GtkSnapshot *snapshot, const GtkAllocation *place)
{
  GridBox box = { place->x, place->y, place->width, place->height };

  draw_frame (snapshot, &box, &grid->palette.accent, 2);
}

graphene_rect_t
grid_draw_clip (TallyGrid *grid, guint column)
{
  const GridGeometry *g = &grid->geometry;
  int start = grid_geometry_start (g), left = column < grid_geometry_frozen (g) ? g->gutter : start;

  return grid_rect (left, g->head_height, MAX (g->width - left, 0), MAX (g->height - g->head_height, 0));
}

void
grid_draw (TallyGrid *grid, GtkSnapshot *snapshot)
{
  const GridGeometry *g = &grid->geometry;
  double start = grid_geometry_start (g), height = MAX (g->height - g->head_height, 0);
  Region body = { .part = 0 }, frozen;

  grid_geometry_rows (g, &body.row0, &body.row_end);
  frozen = body;
  frozen.part = 1;
  grid_geometry_columns (g, &body.column0, &body.column_end);
  frozen.column0 = 0;
  frozen.column_end = grid_geometry_frozen (g);
  body.clip = grid_rect (start, g->head_height, g->width - start, height);
  frozen.clip = grid_rect (g->gutter, g->head_height, start - g->gutter, height);
  grid_cells_trim (grid, body.row0, body.row_end);
  draw_region (grid, snapshot, &body);
  draw_region (grid, snapshot, &frozen);
  draw_gutter (grid, snapshot, body.row0, body.row_end);
  draw_heads (grid, snapshot, body.column0, body.column_end);
  draw_edges (grid, snapshot);
}

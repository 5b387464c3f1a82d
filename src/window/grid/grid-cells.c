/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is drawn of cells and headings, kept from frame to frame: shaping text is what costs, not drawing it. */
#include "config.h"

#include "window/grid/grid-private.h"

#include <math.h>

#define LONG_TEXT 400 /* characters; no cell shows more */
#define FIT_CANDIDATES 24

static void
row_free (gpointer data)
{
  GridRow *row = data;

  for (int i = 0; i < 2; i++)
    g_clear_pointer (&row->node[i], gsk_render_node_unref);
  for (guint i = 0; i < row->n; i++)
    g_clear_object (&row->cell[i].layout);
  g_clear_object (&row->number.layout);
  g_free (row);
}

void
grid_column_clear (gpointer data)
{
  GridColumn *column = data;

  g_clear_pointer (&column->title, g_free);
  g_clear_pointer (&column->unit, g_free);
  g_clear_object (&column->title_layout);
  g_clear_object (&column->unit_layout);
}

void
grid_cells_init (TallyGrid *grid)
{
  grid->rows = g_hash_table_new_full (NULL, NULL, NULL, row_free);
  grid->attributes = g_hash_table_new_full (NULL, NULL, NULL, (GDestroyNotify) pango_attr_list_unref);
  grid->column = g_array_new (FALSE, TRUE, sizeof (GridColumn));
  g_array_set_clear_func (grid->column, grid_column_clear);
}

void
grid_cells_free (TallyGrid *grid)
{
  g_clear_pointer (&grid->rows, g_hash_table_unref);
  g_clear_pointer (&grid->attributes, g_hash_table_unref);
  g_clear_pointer (&grid->column, g_array_unref);
  g_clear_pointer (&grid->corner_mark, gsk_render_node_unref);
  grid_geometry_clear (&grid->geometry);
}

/* ---- style ---- */

static GdkRGBA
mix (const GdkRGBA *a, const GdkRGBA *b, float share)
{
  return (GdkRGBA){ a->red + (b->red - a->red) * share, a->green + (b->green - a->green) * share,
                    a->blue + (b->blue - a->blue) * share, a->alpha + (b->alpha - a->alpha) * share };
}

static GdkRGBA
named (GtkStyleContext *context, const char *name, const GdkRGBA *otherwise)
{
  GdkRGBA color;

  return gtk_style_context_lookup_color (context, name, &color) ? color : *otherwise;
}

/* Relative luminance and contrast as in WCAG 2.1. */
static double
luminance (const GdkRGBA *c)
{
  double channel[3] = { c->red, c->green, c->blue };

  for (int i = 0; i < 3; i++)
    channel[i] = channel[i] <= 0.03928 ? channel[i] / 12.92 : pow ((channel[i] + 0.055) / 1.055, 2.4);
  return 0.2126 * channel[0] + 0.7152 * channel[1] + 0.0722 * channel[2];
}

static double
contrast (const GdkRGBA *a, const GdkRGBA *b)
{
  double la = luminance (a), lb = luminance (b);

  return (MAX (la, lb) + 0.05) / (MIN (la, lb) + 0.05);
}

/* A colour that is read as text on @base: nearer to @text until it has the contrast of WCAG 2.1 AA. */
static GdkRGBA
legible (const GdkRGBA *color, const GdkRGBA *base, const GdkRGBA *text)
{
  GdkRGBA result = *color;

  for (int i = 1; i <= 10 && contrast (&result, base) < 4.5; i++)
    result = mix (color, text, (float) i / 10);
  return result;
}

static void
load_palette (TallyGrid *grid)
{
  GtkStyleContext *context = gtk_widget_get_style_context (GTK_WIDGET (grid));
  GridPalette *p = &grid->palette;
  GdkRGBA window;
  /* Lines are strong in a high contrast style: it has no soft shades, so grounds are made to be seen as well. */
  gboolean strong;

  gtk_style_context_get_color (context, &p->text);
  p->base = (GdkRGBA){ 1, 1, 1, 1 };
  if (p->text.red + p->text.green + p->text.blue > 1.5f)
    p->base = (GdkRGBA){ 0.12f, 0.12f, 0.12f, 1 };
  p->base = named (context, "view_bg_color", &p->base);
  p->text.alpha = 1;
  p->accent = named (context, "accent_color", &p->text);
  p->accent = legible (&p->accent, &p->base, &p->text);
  p->warning = named (context, "warning_color", &p->text);
  p->warning = legible (&p->warning, &p->base, &p->text);
  window = named (context, "window_bg_color", &p->base);
  p->line = mix (&p->base, &p->text, 0.14f);
  p->line = named (context, "borders", &p->line);
  GdkRGBA seen = p->line;
  seen.alpha = 1;
  seen = mix (&p->base, &seen, p->line.alpha);
  strong = contrast (&seen, &p->base) > 2.2;
  p->line.alpha *= strong ? 0.6f : 0.7f;
  p->head = window;
  p->head_text = mix (&p->head, &p->text, strong ? 1.0f : 0.78f);
  p->dim = mix (&p->base, &p->text, strong ? 0.9f : 0.6f);
  p->fill = p->row = p->accent;
  p->fill.alpha = strong ? 0.24f : 0.14f;
  p->row.alpha = strong ? 0.12f : 0.07f;
  p->computed = mix (&p->accent, &p->text, 0.3f);
  p->computed = mix (&p->base, &p->computed, strong ? 0.13f : 0.06f);
}

static int
text_width (TallyGrid *grid, const char *text)
{
  g_autoptr (PangoLayout) layout = gtk_widget_create_pango_layout (GTK_WIDGET (grid), text);
  int width;

  pango_layout_get_pixel_size (layout, &width, NULL);
  return width;
}

static void
load_metrics (TallyGrid *grid)
{
  PangoContext *context = gtk_widget_get_pango_context (GTK_WIDGET (grid));
  PangoFontMetrics *metrics = pango_context_get_metrics (context, NULL, NULL);
  int line = pango_font_metrics_get_height (metrics);

  if (line <= 0)
    line = pango_font_metrics_get_ascent (metrics) + pango_font_metrics_get_descent (metrics);
  grid->line_height = PANGO_PIXELS_CEIL (line);
  grid->digit_width = MAX (PANGO_PIXELS_CEIL (pango_font_metrics_get_approximate_digit_width (metrics)),
                           PANGO_PIXELS (pango_font_metrics_get_approximate_char_width (metrics)));
  pango_font_metrics_unref (metrics);
  grid->even_digits = text_width (grid, "11111111") == text_width (grid, "00000000")
                      && text_width (grid, "77777777") == text_width (grid, "44444444");
  g_hash_table_remove_all (grid->attributes);
  /* Room above and below the line grows with the type. */
  grid->geometry.row_height = grid->line_height + MAX (6, grid->line_height * 2 / 5);
  grid->geometry.foot = grid->geometry.row_height / 2;
}

void
grid_cells_ensure_style (TallyGrid *grid)
{
  if (grid->styled)
    return;
  grid->styled = TRUE;
  load_palette (grid);
  load_metrics (grid);
  grid_cells_place_columns (grid);
}

void
grid_cells_drop_style (TallyGrid *grid)
{
  grid->styled = FALSE;
  g_clear_pointer (&grid->corner_mark, gsk_render_node_unref);
  grid_cells_drop (grid);
  for (guint i = 0; i < grid->column->len; i++)
    {
      GridColumn *column = &g_array_index (grid->column, GridColumn, i);
      g_clear_object (&column->title_layout);
      g_clear_object (&column->unit_layout);
    }
}

/* ---- rows ---- */

void
grid_cells_drop (TallyGrid *grid)
{
  g_hash_table_remove_all (grid->rows);
}

static gboolean
in_rows (gpointer key, gpointer value, gpointer data)
{
  const guint *range = data;
  guint row = GPOINTER_TO_UINT (key);

  (void) value;
  return row >= range[0] && row - range[0] < range[1];
}

void
grid_cells_drop_rows (TallyGrid *grid, guint first, guint n)
{
  guint range[2] = { first, n };

  g_hash_table_foreach_remove (grid->rows, in_rows, range);
}

static gboolean
outside_rows (gpointer key, gpointer value, gpointer data)
{
  const guint *range = data;
  guint row = GPOINTER_TO_UINT (key);

  (void) value;
  return row < range[0] || row >= range[1];
}

void
grid_cells_trim (TallyGrid *grid, guint first, guint end)
{
  guint rows = end - first, range[2] = { first > rows ? first - rows : 0, end + rows };

  if (g_hash_table_size (grid->rows) > 4 * (rows + 8))
    g_hash_table_foreach_remove (grid->rows, outside_rows, range);
}

GridRow *
grid_cells_get_row (TallyGrid *grid, guint row)
{
  GridRow *found = g_hash_table_lookup (grid->rows, GUINT_TO_POINTER (row));

  if (!found)
    {
      guint n = grid->column->len;
      found = g_malloc0 (sizeof (GridRow) + n * sizeof (GridCell));
      found->n = n;
      g_hash_table_insert (grid->rows, GUINT_TO_POINTER (row), found);
    }
  return found;
}

/* ---- cells ---- */

/* One list for each way of writing; lists are shared by layouts. */
static PangoAttrList *
attributes_for (TallyGrid *grid, GridCellFlags flags)
{
  guint key = flags & (GRID_CELL_FIGURE | GRID_CELL_INHERITED | GRID_CELL_OVERRIDDEN | GRID_CELL_BOLD | GRID_CELL_STRUCK);
  PangoAttrList *list;

  /* Features cost time in shaping: none where the font needs none. */
  if (grid->even_digits)
    key &= ~(guint) GRID_CELL_FIGURE;
  list = g_hash_table_lookup (grid->attributes, GUINT_TO_POINTER (key));
  if (list || !key)
    return list;
  list = pango_attr_list_new ();
  if (key & GRID_CELL_FIGURE)
    pango_attr_list_insert (list, pango_attr_font_features_new ("tnum=1"));
  if (key & GRID_CELL_INHERITED)
    pango_attr_list_insert (list, pango_attr_style_new (PANGO_STYLE_ITALIC));
  if (key & (GRID_CELL_OVERRIDDEN | GRID_CELL_BOLD))
    pango_attr_list_insert (list, pango_attr_weight_new (PANGO_WEIGHT_BOLD));
  if (key & GRID_CELL_STRUCK)
    pango_attr_list_insert (list, pango_attr_strikethrough_new (TRUE));
  g_hash_table_insert (grid->attributes, GUINT_TO_POINTER (key), list);
  return list;
}

static PangoLayout *
make_layout (TallyGrid *grid, const char *text, PangoAttrList *attributes)
{
  PangoLayout *layout = gtk_widget_create_pango_layout (GTK_WIDGET (grid), NULL);
  const char *end = text;

  for (int n = 0; n < LONG_TEXT && *end; n++)
    end = g_utf8_next_char (end);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_attributes (layout, attributes);
  pango_layout_set_text (layout, text, (int) (end - text));
  return layout;
}

/* Text may run on over empty cells at its end side, as a note does. */
static int
room_behind (TallyGrid *grid, guint row, guint column, int wanted)
{
  const GridGeometry *g = &grid->geometry;
  int room = 0;

  for (guint i = column + 1; i < g->n_columns && room < wanted; i++)
    {
      g_autofree char *text = grid_model_text (grid->model, row, i);
      if (*text || grid_model_flags (grid->model, row, i) & (GRID_CELL_FAULTY | GRID_CELL_OVERRIDDEN))
        break;
      room += grid_geometry_column_width (g, i);
    }
  return room;
}

static void
fit_cell (GridCell *cell, int room)
{
  if (cell->width <= room)
    return;
  pango_layout_set_width (cell->layout, MAX (room, 1) * PANGO_SCALE);
  pango_layout_set_ellipsize (cell->layout, PANGO_ELLIPSIZE_END);
  pango_layout_get_pixel_size (cell->layout, &cell->width, &cell->height);
  cell->cut = TRUE;
}

static void
load_cell (TallyGrid *grid, GridCell *cell, const char *text, GridCellFlags flags)
{
  cell->loaded = TRUE;
  cell->flags = flags;
  if (!*text)
    return;
  cell->layout = make_layout (grid, text, attributes_for (grid, flags));
  pango_layout_get_pixel_size (cell->layout, &cell->width, &cell->height);
}

const GridCell *
grid_cells_get (TallyGrid *grid, guint row, guint column)
{
  GridCell *cell = &grid_cells_get_row (grid, row)->cell[column];
  g_autofree char *text = NULL;
  GridCellFlags flags;
  int room;

  if (cell->loaded)
    return cell;
  flags = grid_model_flags (grid->model, row, column);
  text = row < grid->n_rows ? grid_model_text (grid->model, row, column) : g_strdup ("");
  load_cell (grid, cell, text, flags);
  room = grid_geometry_column_width (&grid->geometry, column) - 2 * GRID_PAD;
  if (cell->width > room && !(flags & (GRID_CELL_FIGURE | GRID_CELL_COMPUTED)))
    room += room_behind (grid, row, column, cell->width - room);
  if (cell->layout)
    fit_cell (cell, room);
  return cell;
}

const GridCell *
grid_cells_get_number (TallyGrid *grid, guint row)
{
  GridCell *cell = &grid_cells_get_row (grid, row)->number;
  char text[16];

  if (cell->loaded)
    return cell;
  if (row < grid->n_rows)
    g_snprintf (text, sizeof text, "%u", grid_model_number (grid->model, row));
  else
    g_strlcpy (text, "+", sizeof text);
  load_cell (grid, cell, text, GRID_CELL_FIGURE);
  return cell;
}

/* ---- columns ---- */

/* Whether a heading stands at the end side: it follows its cells, of which the first few are asked. */
static gboolean
holds_figures (TallyGrid *grid, guint column)
{
  for (guint row = 0; row < MIN (grid->n_rows, 8); row++)
    if (grid_model_flags (grid->model, row, column) & GRID_CELL_FIGURE)
      return TRUE;
  return grid->n_rows == 0 && grid_model_flags (grid->model, 0, column) & GRID_CELL_FIGURE;
}

void
grid_cells_load_columns (TallyGrid *grid)
{
  guint n = grid->model ? grid_model_n_columns (grid->model) : 0, old = grid->column->len;

  g_array_set_size (grid->column, n);
  for (guint i = 0; i < n; i++)
    {
      GridColumn *column = &g_array_index (grid->column, GridColumn, i);
      char *title = grid_model_title (grid->model, i), *unit = grid_model_unit (grid->model, i);
      int user_width = column->user_width;

      /* A width asked for before the columns were there is kept. */
      if (i < old && g_strcmp0 (title, column->title) != 0)
        user_width = 0;
      grid_column_clear (column);
      *column =
          (GridColumn){ .title = title, .unit = unit, .user_width = user_width, .figure = holds_figures (grid, i) };
    }
  if (grid->styled)
    grid_cells_place_columns (grid);
}

static void
shape_heading (TallyGrid *grid, GridColumn *column)
{
  g_autoptr (PangoAttrList) bold = pango_attr_list_new ();
  g_autoptr (PangoAttrList) small = pango_attr_list_new ();

  pango_attr_list_insert (bold, pango_attr_weight_new (PANGO_WEIGHT_SEMIBOLD));
  pango_attr_list_insert (small, pango_attr_scale_new (0.88));
  if (!column->title_layout && *column->title)
    column->title_layout = make_layout (grid, column->title, bold);
  if (!column->unit_layout && *column->unit)
    column->unit_layout = make_layout (grid, column->unit, small);
}

static int
heading_width (const GridColumn *column)
{
  int title = 0, unit = 0;

  if (column->title_layout)
    {
      pango_layout_set_width (column->title_layout, -1);
      pango_layout_get_pixel_size (column->title_layout, &title, NULL);
    }
  if (column->unit_layout)
    {
      pango_layout_set_width (column->unit_layout, -1);
      pango_layout_get_pixel_size (column->unit_layout, &unit, NULL);
    }
  return MAX (title, unit);
}

static void
cut_layout (PangoLayout *layout, int room)
{
  if (!layout)
    return;
  pango_layout_set_ellipsize (layout, PANGO_ELLIPSIZE_END);
  pango_layout_set_width (layout, MAX (room, 1) * PANGO_SCALE);
}

/* Digits of the highest row number, at least three so that the table does not jump at the tenth row. */
static int
gutter_width (TallyGrid *grid)
{
  int digits = 1;

  for (guint n = MAX (grid->model ? grid_model_number (grid->model, grid->n_rows) : 0, 100); n >= 10; n /= 10)
    digits++;
  return digits * grid->digit_width + 2 * GRID_PAD;
}

void
grid_cells_place_columns (TallyGrid *grid)
{
  g_autofree int *width = g_new0 (int, grid->column->len + 1);
  gboolean units = FALSE;

  for (guint i = 0; i < grid->column->len; i++)
    {
      GridColumn *column = &g_array_index (grid->column, GridColumn, i);
      int chars = (int) MIN (grid_model_width (grid->model, i), 400), least;

      shape_heading (grid, column);
      units = units || column->unit_layout;
      least = MAX (chars * grid->digit_width, heading_width (column)) + 2 * GRID_PAD;
      width[i] = column->user_width > 0 ? column->user_width : MAX (least, GRID_MIN_WIDTH);
      cut_layout (column->title_layout, width[i] - 2 * GRID_PAD);
      cut_layout (column->unit_layout, width[i] - 2 * GRID_PAD);
    }
  grid_geometry_set_widths (&grid->geometry, width, grid->column->len);
  grid->geometry.gutter = gutter_width (grid);
  grid->geometry.head_height = grid->line_height * (units ? 2 : 1) + MAX (10, grid->line_height * 2 / 3);
}

/* Keeps the longest texts; @kept rises in length. */
static void
keep_longest (GPtrArray *kept, char *text, glong length)
{
  if (kept->len == FIT_CANDIDATES)
    {
      if (length <= g_utf8_strlen (g_ptr_array_index (kept, 0), -1))
        {
          g_free (text);
          return;
        }
      g_ptr_array_remove_index (kept, 0);
    }
  guint at = 0;
  while (at < kept->len && g_utf8_strlen (g_ptr_array_index (kept, at), -1) < length)
    at++;
  g_ptr_array_insert (kept, (int) at, text);
}

int
grid_cells_fit (TallyGrid *grid, guint column)
{
  g_autoptr (GPtrArray) kept = g_ptr_array_new_with_free_func (g_free);
  GridColumn *head = &g_array_index (grid->column, GridColumn, column);
  int width, longest = 0;
  /* As bold as cells get: what is measured for one is room enough for all. */
  PangoAttrList *attributes = attributes_for (grid, GRID_CELL_BOLD | (head->figure ? GRID_CELL_FIGURE : 0));

  for (guint row = 0; row < grid->n_rows; row++)
    {
      char *text = grid_model_text (grid->model, row, column);
      keep_longest (kept, text, g_utf8_strlen (text, -1));
    }
  shape_heading (grid, head);
  longest = heading_width (head);
  for (guint i = 0; i < kept->len; i++)
    {
      g_autoptr (PangoLayout) layout = make_layout (grid, g_ptr_array_index (kept, i), attributes);
      pango_layout_get_pixel_size (layout, &width, NULL);
      longest = MAX (longest, width);
    }
  return CLAMP (longest + 2 * GRID_PAD, GRID_MIN_WIDTH, 60 * grid->digit_width);
}

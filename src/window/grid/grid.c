/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/grid/grid-private.h"

#include <glib/gi18n.h>
#include <math.h>

enum
{
  CURSOR,
  SELECTED,
  SORT,
  HEAD_MENU,
  RESIZED,
  REFUSED,
  N_SIGNALS
};
enum
{
  PROP_0,
  PROP_HADJUSTMENT,
  PROP_VADJUSTMENT,
  PROP_HSCROLL_POLICY,
  PROP_VSCROLL_POLICY
};

static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE_WITH_CODE (TallyGrid, tally_grid, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_SCROLLABLE, NULL))

/* Below the program's own style, which may better it. The entry's padding is GRID_PAD. */
static const char style[] =
    "tally-grid { font-size: 0.92em; }\n"
    "tally-grid > entry.cell { min-height: 0; min-width: 0; margin: 0; padding: 0 6px; border: none; border-radius: 0;"
    " box-shadow: none; outline: none; font-size: 1em; background-color: @view_bg_color; color: @view_fg_color; }\n";

static void
install_style (void)
{
  static gboolean installed;
  g_autoptr (GtkCssProvider) provider = NULL;

  if (installed)
    return;
  installed = TRUE;
  provider = gtk_css_provider_new ();
  gtk_css_provider_load_from_data (provider, style, -1);
  gtk_style_context_add_provider_for_display (gdk_display_get_default (), GTK_STYLE_PROVIDER (provider),
                                              GTK_STYLE_PROVIDER_PRIORITY_APPLICATION - 1);
}

/* ---- scrolling ---- */

/* Whole px: text stays sharp and lines stay one px. */
static void
take_offsets (TallyGrid *grid)
{
  if (grid->adjustment[0])
    grid->geometry.x = round (gtk_adjustment_get_value (grid->adjustment[0]));
  if (grid->adjustment[1])
    grid->geometry.y = round (gtk_adjustment_get_value (grid->adjustment[1]));
}

static void
scrolled_cb (GtkAdjustment *adjustment, TallyGrid *grid)
{
  (void) adjustment;
  take_offsets (grid);
  if (grid->editing || (grid->menu && gtk_widget_get_visible (grid->menu)))
    gtk_widget_queue_allocate (GTK_WIDGET (grid));
  gtk_widget_queue_draw (GTK_WIDGET (grid));
}

static void
set_adjustment (TallyGrid *grid, int which, GtkAdjustment *adjustment)
{
  if (adjustment && grid->adjustment[which] == adjustment)
    return;
  if (grid->adjustment[which])
    g_signal_handlers_disconnect_by_data (grid->adjustment[which], grid);
  if (!adjustment)
    adjustment = gtk_adjustment_new (0, 0, 0, 0, 0, 0);
  g_object_ref_sink (adjustment);
  g_clear_object (&grid->adjustment[which]);
  grid->adjustment[which] = adjustment;
  g_signal_connect (adjustment, "value-changed", G_CALLBACK (scrolled_cb), grid);
  gtk_widget_queue_allocate (GTK_WIDGET (grid));
}

/* Only here, as GTK asks: elsewhere it would run into a layout that is under way. */
static void
configure_adjustments (TallyGrid *grid)
{
  const GridGeometry *g = &grid->geometry;
  double extent[2], page[2];
  double step[2] = { 4.0 * grid->digit_width, g->row_height };

  grid_geometry_extent (g, &extent[0], &extent[1]);
  grid_geometry_page (g, &page[0], &page[1]);
  for (int i = 0; i < 2; i++)
    if (grid->adjustment[i])
      {
        double upper = MAX (extent[i], page[i]);
        gtk_adjustment_configure (grid->adjustment[i],
                                  CLAMP (gtk_adjustment_get_value (grid->adjustment[i]), 0, upper - page[i]), 0, upper,
                                  step[i], MAX (page[i] - step[i], step[i]), page[i]);
      }
  take_offsets (grid);
}

void
grid_reveal (TallyGrid *grid, guint row, guint column)
{
  double x, y;

  if (grid->geometry.height <= 0)
    return;
  grid_geometry_reveal (&grid->geometry, row, column, &x, &y);
  if (grid->adjustment[0])
    gtk_adjustment_set_value (grid->adjustment[0], x);
  if (grid->adjustment[1])
    gtk_adjustment_set_value (grid->adjustment[1], y);
}

/* ---- the widget ---- */

static void
tally_grid_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                    int *minimum_baseline, int *natural_baseline)
{
  TallyGrid *grid = TALLY_GRID (widget);
  const GridGeometry *g = &grid->geometry;
  double size;

  (void) for_size;
  (void) minimum_baseline;
  (void) natural_baseline;
  grid_cells_ensure_style (grid);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      size = g->gutter + (double) (g->n_columns ? g->edge[g->n_columns] : 0) + g->foot;
      *minimum = g->gutter + 4 * grid->digit_width;
    }
  else
    {
      size = g->head_height + (double) g->n_rows * g->row_height + g->foot;
      *minimum = g->head_height + g->row_height;
    }
  *natural = (int) CLAMP (size, *minimum, 32000);
}

static void
tally_grid_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TallyGrid *grid = TALLY_GRID (widget);
  GtkAllocation corner = { 0, 0, 1, 1 };
  gboolean first = grid->geometry.height <= 0;

  (void) baseline;
  grid_cells_ensure_style (grid);
  grid->geometry.width = width;
  grid->geometry.height = height;
  configure_adjustments (grid);
  if (first)
    grid_reveal (grid, grid->selection.row, grid->selection.column);
  grid_edit_allocate (grid);
  gtk_widget_measure (grid->spoken, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_size_allocate (grid->spoken, &corner, -1);
  if (grid->menu)
    gtk_popover_present (GTK_POPOVER (grid->menu));
}

static void
tally_grid_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TallyGrid *grid = TALLY_GRID (widget);
  graphene_rect_t all = grid_rect (0, 0, grid->geometry.width, grid->geometry.height);

  if (grid->geometry.width <= 0 || grid->geometry.height <= 0)
    return;
  grid_cells_ensure_style (grid);
  gtk_snapshot_push_clip (snapshot, &all);
  grid_draw (grid, snapshot);
  if (grid->editing)
    {
      graphene_rect_t clip = grid_draw_clip (grid, grid->edit_column);
      GtkAllocation place;
      gtk_snapshot_push_clip (snapshot, &clip);
      gtk_widget_snapshot_child (widget, grid->entry, snapshot);
      gtk_widget_get_allocation (grid->entry, &place);
      grid_draw_editor_frame (grid, snapshot, &place);
      gtk_snapshot_pop (snapshot);
    }
  gtk_snapshot_pop (snapshot);
}

static void
tally_grid_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  TallyGrid *grid = TALLY_GRID (widget);

  GTK_WIDGET_CLASS (tally_grid_parent_class)->css_changed (widget, change);
  if (grid->rows)
    {
      grid_cells_drop_style (grid);
      gtk_widget_queue_resize (widget);
    }
}

static void
tally_grid_system_setting_changed (GtkWidget *widget, GtkSystemSetting setting)
{
  GTK_WIDGET_CLASS (tally_grid_parent_class)->system_setting_changed (widget, setting);
  grid_cells_drop_style (TALLY_GRID (widget));
  gtk_widget_queue_resize (widget);
}

static void
scale_changed_cb (GtkWidget *widget)
{
  grid_cells_drop_style (TALLY_GRID (widget));
  gtk_widget_queue_resize (widget);
}

static void
tally_grid_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TallyGrid *grid = TALLY_GRID (object);

  switch (id)
    {
    case PROP_HADJUSTMENT:
      g_value_set_object (value, grid->adjustment[0]);
      break;
    case PROP_VADJUSTMENT:
      g_value_set_object (value, grid->adjustment[1]);
      break;
    case PROP_HSCROLL_POLICY:
      g_value_set_enum (value, (int) grid->policy[0]);
      break;
    case PROP_VSCROLL_POLICY:
      g_value_set_enum (value, (int) grid->policy[1]);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tally_grid_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  TallyGrid *grid = TALLY_GRID (object);

  switch (id)
    {
    case PROP_HADJUSTMENT:
      set_adjustment (grid, 0, g_value_get_object (value));
      break;
    case PROP_VADJUSTMENT:
      set_adjustment (grid, 1, g_value_get_object (value));
      break;
    case PROP_HSCROLL_POLICY:
      grid->policy[0] = (guint) g_value_get_enum (value);
      break;
    case PROP_VSCROLL_POLICY:
      grid->policy[1] = (guint) g_value_get_enum (value);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tally_grid_dispose (GObject *object)
{
  TallyGrid *grid = TALLY_GRID (object);

  if (grid->model)
    g_signal_handlers_disconnect_by_data (grid->model, grid);
  g_clear_object (&grid->model);
  for (int i = 0; i < 2; i++)
    {
      if (grid->adjustment[i])
        g_signal_handlers_disconnect_by_data (grid->adjustment[i], grid);
      g_clear_object (&grid->adjustment[i]);
    }
  grid->editing = FALSE;
  if (grid->entry)
    g_signal_handlers_disconnect_by_data (gtk_editable_get_delegate (GTK_EDITABLE (grid->entry)), grid);
  g_clear_pointer (&grid->entry, gtk_widget_unparent);
  grid_input_dispose (grid);
  grid_access_dispose (grid);
  G_OBJECT_CLASS (tally_grid_parent_class)->dispose (object);
}

static void
tally_grid_finalize (GObject *object)
{
  TallyGrid *grid = TALLY_GRID (object);

  grid_cells_free (grid);
  g_free (grid->edit_before);
  G_OBJECT_CLASS (tally_grid_parent_class)->finalize (object);
}

static void
tally_grid_class_init (TallyGridClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->get_property = tally_grid_get_property;
  object_class->set_property = tally_grid_set_property;
  object_class->dispose = tally_grid_dispose;
  object_class->finalize = tally_grid_finalize;
  widget_class->measure = tally_grid_measure;
  widget_class->size_allocate = tally_grid_size_allocate;
  widget_class->snapshot = tally_grid_snapshot;
  widget_class->query_tooltip = grid_access_query_tooltip;
  widget_class->css_changed = tally_grid_css_changed;
  widget_class->system_setting_changed = tally_grid_system_setting_changed;
  g_object_class_override_property (object_class, PROP_HADJUSTMENT, "hadjustment");
  g_object_class_override_property (object_class, PROP_VADJUSTMENT, "vadjustment");
  g_object_class_override_property (object_class, PROP_HSCROLL_POLICY, "hscroll-policy");
  g_object_class_override_property (object_class, PROP_VSCROLL_POLICY, "vscroll-policy");
  signals[CURSOR] = g_signal_new ("cursor", TALLY_TYPE_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SELECTED] =
      g_signal_new ("selected", TALLY_TYPE_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SORT] =
      g_signal_new ("sort", TALLY_TYPE_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[HEAD_MENU] =
      g_signal_new ("head-menu", TALLY_TYPE_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[RESIZED] =
      g_signal_new ("resized", TALLY_TYPE_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[REFUSED] =
      g_signal_new ("refused", TALLY_TYPE_GRID, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  gtk_widget_class_set_css_name (widget_class, "tally-grid");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GRID);
  grid_menu_class_init (widget_class);
}

static void
tally_grid_init (TallyGrid *grid)
{
  GtkWidget *widget = GTK_WIDGET (grid);

  install_style ();
  grid->sort_column = -1;
  grid->selection.home = -1;
  grid_cells_init (grid);
  grid_access_init (grid);
  grid_input_init (grid);
  gtk_widget_set_focusable (widget, TRUE);
  gtk_widget_set_has_tooltip (widget, TRUE);
  gtk_widget_set_overflow (widget, GTK_OVERFLOW_HIDDEN);
  gtk_widget_add_css_class (widget, "view");
  grid_set_label (grid, _ ("Table"));
  g_signal_connect (grid, "notify::scale-factor", G_CALLBACK (scale_changed_cb), NULL);
}

/* ---- model ---- */

static gboolean
takes_rows (TallyGrid *grid)
{
  for (guint i = 0; i < grid->column->len; i++)
    if (grid_model_flags (grid->model, grid->n_rows, i) & GRID_CELL_EDITABLE)
      return TRUE;
  return FALSE;
}

void
grid_refresh (TallyGrid *grid)
{
  GridSelection before = grid->selection;

  grid->n_rows = grid->model ? grid_model_n_rows (grid->model) : 0;
  grid_cells_drop (grid);
  grid_cells_load_columns (grid);
  grid->geometry.n_rows = grid->n_rows + (grid->model && takes_rows (grid) ? 1 : 0);
  grid_selection_resize (&grid->selection, grid->geometry.n_rows, grid->column->len);
  if (!grid->styled)
    grid->geometry.n_columns = 0; /* until the style is known there are no widths */
  gtk_widget_queue_resize (GTK_WIDGET (grid));
  grid_selection_done (grid, &before, FALSE);
}

static void
reset_cb (TallyGridModel *model, TallyGrid *grid)
{
  (void) model;
  /* What is being typed belonged to a row that may be another now. */
  if (!grid->committing)
    grid_edit_cancel (grid, grid->editing && gtk_widget_get_focus_child (GTK_WIDGET (grid)) == grid->entry);
  grid_refresh (grid);
}

static void
rows_changed_cb (TallyGridModel *model, guint first, guint n, TallyGrid *grid)
{
  if (grid_model_n_rows (model) != grid->n_rows)
    {
      reset_cb (model, grid);
      return;
    }
  grid_cells_drop_rows (grid, first, n);
  gtk_widget_queue_draw (GTK_WIDGET (grid));
  if (grid->selection.row >= first && grid->selection.row - first < n)
    grid_access_queue (grid);
}

void
grid_set_model (TallyGrid *grid, TallyGridModel *model)
{
  g_return_if_fail (TALLY_IS_GRID (grid));
  if (grid->model == model)
    return;
  grid_edit_cancel (grid, FALSE);
  if (grid->model)
    g_signal_handlers_disconnect_by_data (grid->model, grid);
  g_set_object (&grid->model, model);
  if (model)
    {
      g_signal_connect (model, "reset", G_CALLBACK (reset_cb), grid);
      g_signal_connect (model, "rows-changed", G_CALLBACK (rows_changed_cb), grid);
    }
  grid_refresh (grid);
}

TallyGrid *
grid_new (TallyGridModel *model)
{
  TallyGrid *grid = g_object_new (TALLY_TYPE_GRID, NULL);

  if (model)
    grid_set_model (grid, model);
  return grid;
}

gboolean
grid_cell_is_filled (guint row, guint column, gpointer data)
{
  TallyGrid *grid = data;
  g_autofree char *text = row < grid->n_rows ? grid_model_text (grid->model, row, column) : NULL;

  return text && *text;
}

/* ---- selection ---- */

void
grid_selection_done (TallyGrid *grid, const GridSelection *before, gboolean reveal)
{
  const GridSelection *s = &grid->selection;
  gboolean moved = s->row != before->row || s->column != before->column;
  gboolean selected = moved || s->end_row != before->end_row || s->end_column != before->end_column;

  gtk_widget_queue_draw (GTK_WIDGET (grid));
  if (reveal)
    grid_reveal (grid, s->end_row, s->end_column);
  grid_access_queue (grid);
  if (moved)
    g_signal_emit (grid, signals[CURSOR], 0);
  if (selected)
    g_signal_emit (grid, signals[SELECTED], 0);
}

void
grid_get_cursor (TallyGrid *grid, guint *row, guint *column)
{
  *row = grid->selection.row;
  *column = grid->selection.column;
}

void
grid_set_cursor (TallyGrid *grid, guint row, guint column)
{
  grid_select (grid, row, column, row, column);
}

void
grid_get_selection (TallyGrid *grid, guint *row0, guint *column0, guint *row1, guint *column1)
{
  grid_selection_range (&grid->selection, row0, column0, row1, column1);
}

void
grid_select (TallyGrid *grid, guint row0, guint column0, guint row1, guint column1)
{
  GridSelection before = grid->selection;

  if (grid->editing && !grid_edit_commit (grid, FALSE, TRUE))
    return;
  grid_selection_set (&grid->selection, row0, column0);
  grid_selection_extend (&grid->selection, row1, column1);
  grid_selection_done (grid, &before, TRUE);
}

/* ---- the rest of the interface ---- */

void
grid_queue_layout (TallyGrid *grid)
{
  if (grid->styled)
    grid_cells_place_columns (grid);
  gtk_widget_queue_resize (GTK_WIDGET (grid));
}

void
grid_set_frozen (TallyGrid *grid, guint columns)
{
  grid->geometry.frozen = columns;
  gtk_widget_queue_allocate (GTK_WIDGET (grid));
}

void
grid_set_sort_mark (TallyGrid *grid, int column, gboolean descending)
{
  grid->sort_column = column;
  grid->sort_descending = descending;
  gtk_widget_queue_draw (GTK_WIDGET (grid));
}

void
grid_set_label (TallyGrid *grid, const char *label)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (grid), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
}

int
grid_get_column_width (TallyGrid *grid, guint column)
{
  grid_cells_ensure_style (grid);
  return grid_geometry_column_width (&grid->geometry, column);
}

void
grid_set_column_width (TallyGrid *grid, guint column, int px)
{
  if (column >= grid->column->len)
    return;
  g_array_index (grid->column, GridColumn, column).user_width = px > 0 ? MAX (px, GRID_MIN_WIDTH) : 0;
  grid_cells_drop (grid);
  grid_queue_layout (grid);
}

void
grid_edit (TallyGrid *grid, const char *text)
{
  if (!grid_selection_is_empty (&grid->selection))
    grid_edit_open (grid, text);
}

void
grid_emit_sort (TallyGrid *grid, guint column)
{
  g_signal_emit (grid, signals[SORT], 0, column);
}

void
grid_emit_head_menu (TallyGrid *grid, guint column)
{
  g_signal_emit (grid, signals[HEAD_MENU], 0, column);
}

void
grid_get_heading (TallyGrid *grid, guint column, GdkRectangle *place)
{
  GridBox box = grid_geometry_cell (&grid->geometry, 0, column);

  *place = (GdkRectangle) { (int) box.x, 0, box.width, grid->geometry.head_height };
}

void
grid_emit_resized (TallyGrid *grid, guint column)
{
  g_signal_emit (grid, signals[RESIZED], 0, column);
}

void
grid_refuse (TallyGrid *grid, const char *words)
{
  gtk_widget_error_bell (GTK_WIDGET (grid));
  grid_access_say (grid, words);
  g_signal_emit (grid, signals[REFUSED], 0, words);
}

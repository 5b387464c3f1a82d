/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Keys and pointer. */
#include "config.h"

#include "window/grid/grid-private.h"

#include <glib/gi18n.h>
#include <math.h>

#define EDGE_SLACK 4 /* px beside a heading's edge where it can be caught */

guint
grid_modifiers (GdkModifierType state)
{
  guint modifiers = 0;

  if (state & GDK_SHIFT_MASK)
    modifiers |= GRID_KEY_SHIFT;
  if (state & GDK_CONTROL_MASK)
    modifiers |= GRID_KEY_CTRL;
  if (state & GDK_ALT_MASK)
    modifiers |= GRID_KEY_ALT;
  if (state & (GDK_SUPER_MASK | GDK_HYPER_MASK | GDK_META_MASK))
    modifiers |= GRID_KEY_OTHER;
  return modifiers;
}

/* ---- rows ---- */

/* The selected rows, without the empty one for typing. (transfer container) */
static GArray *
selected_rows (TallyGrid *grid)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (guint));
  guint row0, column0, row1, column1;

  grid_selection_range (&grid->selection, &row0, &column0, &row1, &column1);
  for (guint row = row0; row <= row1 && row < grid->n_rows; row++)
    g_array_append_val (rows, row);
  return rows;
}

static void
select_rows (TallyGrid *grid, guint row0, guint n)
{
  GridSelection before = grid->selection;
  guint column = grid->selection.column, end = grid->selection.end_column;

  grid_selection_set (&grid->selection, row0, column);
  grid_selection_extend (&grid->selection, row0 + n - 1, end);
  grid_selection_done (grid, &before, TRUE);
}

/* Why a command on the rows @first .. @first + @n - 1 cannot be; NULL: the model decides. */
static const char *
rows_refused (TallyGrid *grid, GridCommand command, guint first, guint n)
{
  if (!grid_menu_offers (grid, command))
    return command == GRID_DO_INSERT_ROWS      ? _ ("No row can be inserted in this table: change the cells of its rows")
           : command == GRID_DO_DUPLICATE_ROWS ? _ ("Rows of this table cannot be duplicated: copy and paste cells")
           : command == GRID_DO_DELETE_ROWS    ? _ ("Rows of this table cannot be deleted: clear their cells")
                                               : _ ("Rows of this table cannot be moved");
  if (command == GRID_DO_INSERT_ROWS)
    return NULL;
  if (n == 0)
    return _ ("The empty row at the end is no row yet: select rows above it");
  if (command == GRID_DO_ROWS_UP && first == 0)
    return _ ("These rows are the first ones: they can only move down");
  if (command == GRID_DO_ROWS_DOWN && first + n >= grid->n_rows)
    return _ ("These rows are the last ones: they can only move up");
  return NULL;
}

/* FALSE: the model refused. */
static gboolean
do_rows (TallyGrid *grid, GridCommand command)
{
  g_autoptr (GArray) rows = selected_rows (grid);
  const guint *list = (const guint *) (gpointer) rows->data;
  guint n = rows->len, before = grid->n_rows, first = n ? list[0] : 0;
  int by = command == GRID_DO_ROWS_UP ? -1 : 1;
  const char *refused = rows_refused (grid, command, first, n);

  if (refused)
    {
      grid_refuse (grid, refused);
      return TRUE;
    }
  if (command == GRID_DO_INSERT_ROWS)
    {
      guint at = MIN (grid->selection.row, grid->selection.end_row);
      return grid_model_insert_rows (grid->model, MIN (at, grid->n_rows), MAX (n, 1));
    }
  if (command == GRID_DO_DELETE_ROWS)
    {
      if (!grid_model_delete_rows (grid->model, list, n))
        return FALSE;
      select_rows (grid, first, 1);
      return TRUE;
    }
  if (command == GRID_DO_DUPLICATE_ROWS)
    {
      if (!grid_model_duplicate_rows (grid->model, list, n))
        return FALSE;
      if (grid->n_rows > before)
        select_rows (grid, first + n, n);
      return TRUE;
    }
  if (!grid_model_move_rows (grid->model, list, n, by))
    return FALSE;
  select_rows (grid, by < 0 ? first - 1 : first + 1, n);
  return TRUE;
}

/* ---- commands ---- */

static void
leave (TallyGrid *grid, gboolean back)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (grid));

  if (root)
    gtk_widget_child_focus (GTK_WIDGET (root), back ? GTK_DIR_TAB_BACKWARD : GTK_DIR_TAB_FORWARD);
}

/* Moves of the cursor. FALSE: @command is none. */
static gboolean
do_move (TallyGrid *grid, GridCommand command, gboolean extend)
{
  GridSelection *s = &grid->selection, before = *s;
  double width, height;
  guint page;

  grid_geometry_page (&grid->geometry, &width, &height);
  page = (guint) MAX (height / MAX (grid->geometry.row_height, 1) - 1, 1);
  switch ((guint) command)
    {
    case GRID_DO_LEFT:
      grid_selection_move (s, GRID_LEFT, 1, extend);
      break;
    case GRID_DO_RIGHT:
      grid_selection_move (s, GRID_RIGHT, 1, extend);
      break;
    case GRID_DO_UP:
      grid_selection_move (s, GRID_UP, 1, extend);
      break;
    case GRID_DO_DOWN:
      grid_selection_move (s, GRID_DOWN, 1, extend);
      break;
    case GRID_DO_EDGE_LEFT:
      grid_selection_edge (s, GRID_LEFT, extend, grid_cell_is_filled, grid);
      break;
    case GRID_DO_EDGE_RIGHT:
      grid_selection_edge (s, GRID_RIGHT, extend, grid_cell_is_filled, grid);
      break;
    case GRID_DO_EDGE_UP:
      grid_selection_edge (s, GRID_UP, extend, grid_cell_is_filled, grid);
      break;
    case GRID_DO_EDGE_DOWN:
      grid_selection_edge (s, GRID_DOWN, extend, grid_cell_is_filled, grid);
      break;
    case GRID_DO_PAGE_UP:
      grid_selection_move (s, GRID_UP, page, extend);
      break;
    case GRID_DO_PAGE_DOWN:
      grid_selection_move (s, GRID_DOWN, page, extend);
      break;
    case GRID_DO_LINE_START:
      grid_selection_line (s, FALSE, extend);
      break;
    case GRID_DO_LINE_END:
      grid_selection_line (s, TRUE, extend);
      break;
    case GRID_DO_FIRST:
      grid_selection_corner (s, FALSE, 0, extend);
      break;
    case GRID_DO_LAST:
      grid_selection_corner (s, TRUE, grid->n_rows ? grid->n_rows - 1 : 0, extend);
      break;
    case GRID_DO_NEXT:
      grid_selection_tab (s, TRUE);
      break;
    case GRID_DO_PREVIOUS:
      grid_selection_tab (s, FALSE);
      break;
    case GRID_DO_BELOW:
      grid_selection_enter (s, TRUE);
      break;
    case GRID_DO_ABOVE:
      grid_selection_enter (s, FALSE);
      break;
    case GRID_DO_SELECT_ALL:
      grid_selection_all (s, grid->n_rows);
      break;
    case GRID_DO_SELECT_ROWS:
      grid_selection_whole_rows (s);
      break;
    case GRID_DO_SELECT_COLUMNS:
      grid_selection_whole_columns (s, grid->n_rows);
      break;
    default:
      return FALSE;
    }
  grid_selection_done (grid, &before,
                       command != GRID_DO_SELECT_ALL && command != GRID_DO_SELECT_ROWS
                           && command != GRID_DO_SELECT_COLUMNS);
  return TRUE;
}

static void
open_menu_at_cursor (TallyGrid *grid)
{
  GridBox box;

  grid_reveal (grid, grid->selection.row, grid->selection.column);
  box = grid_geometry_cell (&grid->geometry, grid->selection.row, grid->selection.column);
  grid_menu_open (grid, box.x + box.width / 2, box.y + box.height);
}

gboolean
grid_do (TallyGrid *grid, GridCommand command, gboolean extend)
{
  gboolean empty = !grid->model || grid_selection_is_empty (&grid->selection);

  if (command == GRID_DO_LEAVE || command == GRID_DO_LEAVE_BACK)
    {
      leave (grid, command == GRID_DO_LEAVE_BACK);
      return TRUE;
    }
  if (empty)
    {
      /* There is nowhere else to go, and a first row may still come in. */
      if (command == GRID_DO_NEXT || command == GRID_DO_PREVIOUS)
        leave (grid, command == GRID_DO_PREVIOUS);
      else if (grid->model && command == GRID_DO_INSERT_ROWS)
        do_rows (grid, command);
      return TRUE;
    }
  if (do_move (grid, command, extend))
    return TRUE;
  switch ((guint) command)
    {
    case GRID_DO_EDIT:
      grid_edit_open (grid, NULL);
      break;
    case GRID_DO_EDIT_EMPTY:
      grid_edit_open (grid, "");
      break;
    case GRID_DO_COPY:
      grid_copy (grid);
      break;
    case GRID_DO_CUT:
      grid_cut (grid);
      break;
    case GRID_DO_PASTE:
      grid_paste (grid);
      break;
    case GRID_DO_CLEAR:
      grid_clear (grid);
      break;
    case GRID_DO_FILL_DOWN:
      grid_fill_down (grid);
      break;
    case GRID_DO_FILL_RIGHT:
      grid_fill_right (grid);
      break;
    case GRID_DO_MENU:
      open_menu_at_cursor (grid);
      break;
    case GRID_DO_INSERT_ROWS:
    case GRID_DO_DUPLICATE_ROWS:
    case GRID_DO_DELETE_ROWS:
    case GRID_DO_ROWS_UP:
    case GRID_DO_ROWS_DOWN:
      if (!do_rows (grid, command))
        gtk_widget_error_bell (GTK_WIDGET (grid));
      break;
    default:
      return FALSE;
    }
  return TRUE;
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, TallyGrid *grid)
{
  guint modifiers = grid_modifiers (state);
  gboolean extend;
  GridCommand command;

  (void) keycode;
  if (grid->editing)
    return GDK_EVENT_PROPAGATE;
  command = grid_keys_find (keyval, modifiers, FALSE, &extend);
  if (command != GRID_DO_NOTHING)
    return grid_do (grid, command, extend);
  if (!grid_keys_type (keyval, gdk_keyval_to_unicode (keyval), modifiers) || grid_selection_is_empty (&grid->selection))
    return GDK_EVENT_PROPAGATE;
  if (grid_edit_open (grid, ""))
    gtk_event_controller_key_forward (controller, GTK_WIDGET (gtk_editable_get_delegate (GTK_EDITABLE (grid->entry))));
  return GDK_EVENT_STOP;
}

/* ---- pointer ---- */

static void
set_width (TallyGrid *grid, guint column, int px)
{
  grid_set_column_width (grid, column, px);
  grid_emit_resized (grid, column);
}

/* The cell under the pointer becomes the other corner of the selection. */
static void
extend_to_pointer (TallyGrid *grid)
{
  GridSelection before = grid->selection;
  guint row, column;

  if (!grid_geometry_nearest (&grid->geometry, grid->drag_x, grid->drag_y, &row, &column))
    return;
  if (grid->drag == GRID_DRAG_ROWS)
    column = grid->selection.end_column;
  grid_selection_extend (&grid->selection, row, column);
  grid_selection_done (grid, &before, FALSE);
}

/* While the pointer is held outside the cells they scroll under it, the faster the farther. */
static gboolean
drag_tick_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  TallyGrid *grid = TALLY_GRID (widget);
  const GridGeometry *g = &grid->geometry;
  double low[2] = { grid->drag_x - grid_geometry_start (g), grid->drag_y - g->head_height };
  double high[2] = { grid->drag_x - g->width, grid->drag_y - g->height };

  (void) clock;
  (void) data;
  for (int i = 0; i < 2; i++)
    if (grid->adjustment[i] && !(i == 0 && grid->drag == GRID_DRAG_ROWS))
      {
        double by = high[i] > 0 ? high[i] : low[i] < 0 && (i == 1 || grid->drag_x < g->gutter) ? low[i] : 0;
        if (by != 0)
          gtk_adjustment_set_value (grid->adjustment[i],
                                    gtk_adjustment_get_value (grid->adjustment[i]) + CLAMP (by / 3, -40, 40));
      }
  extend_to_pointer (grid);
  return G_SOURCE_CONTINUE;
}

static void
stop_drag (TallyGrid *grid)
{
  if (grid->drag == GRID_DRAG_WIDTH)
    grid_emit_resized (grid, (guint) grid->drag_column);
  grid->drag = GRID_DRAG_NONE;
  if (grid->drag_tick)
    gtk_widget_remove_tick_callback (GTK_WIDGET (grid), grid->drag_tick);
  grid->drag_tick = 0;
}

static void
press_cells (TallyGrid *grid, const GridHit *hit, gboolean shift, int n_press)
{
  GridSelection *s = &grid->selection, before = *s;

  grid->drag = hit->part == GRID_CELL ? GRID_DRAG_CELLS : GRID_DRAG_ROWS;
  if (hit->part == GRID_CORNER)
    {
      grid->drag = GRID_DRAG_NONE;
      grid_selection_all (s, grid->n_rows);
    }
  else if (hit->part == GRID_GUTTER && shift)
    grid_selection_extend (s, hit->row, G_MAXUINT);
  else if (hit->part == GRID_GUTTER)
    {
      grid_selection_set (s, hit->row, 0);
      grid_selection_whole_rows (s);
    }
  else if (shift)
    grid_selection_extend (s, hit->row, hit->column);
  else
    grid_selection_set (s, hit->row, hit->column);
  grid_selection_done (grid, &before, hit->part == GRID_CELL);
  if (hit->part == GRID_CELL && n_press == 2 && !shift)
    {
      stop_drag (grid);
      grid_edit_open (grid, NULL);
    }
}

/* A heading sorts; with Shift it selects its column, and another one after that all between them. */
static void
press_head (TallyGrid *grid, guint column, gboolean shift)
{
  GridSelection *s = &grid->selection, before = *s;
  guint rows = MAX (grid->n_rows, 1), row0, column0, row1, column1;

  if (!shift)
    {
      grid_emit_sort (grid, column);
      return;
    }
  if (grid_selection_is_empty (s))
    return;
  grid_selection_range (s, &row0, &column0, &row1, &column1);
  if (row0 == 0 && row1 == rows - 1 && (rows > 1 || column0 != column1))
    grid_selection_extend (s, rows - 1, column);
  else
    grid_selection_set (s, 0, column);
  grid_selection_whole_columns (s, grid->n_rows);
  grid_selection_done (grid, &before, FALSE);
}

static void
pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, TallyGrid *grid)
{
  GdkModifierType state = gtk_event_controller_get_current_event_state (GTK_EVENT_CONTROLLER (gesture));
  GridHit hit = grid_geometry_hit (&grid->geometry, x, y);
  int edge = grid_geometry_edge_at (&grid->geometry, x, y, EDGE_SLACK);

  if (grid->editing && !grid_edit_commit (grid, FALSE, TRUE))
    return;
  gtk_widget_grab_focus (GTK_WIDGET (grid));
  grid->drag_from = grid->drag_x = x;
  grid->drag_y = y;
  if (edge >= 0)
    {
      grid->drag_column = edge;
      if (n_press == 2)
        {
          stop_drag (grid);
          set_width (grid, (guint) edge, grid_cells_fit (grid, (guint) edge));
          return;
        }
      grid->drag = GRID_DRAG_WIDTH;
      grid->drag_width = grid_geometry_column_width (&grid->geometry, (guint) edge);
    }
  else if (hit.part == GRID_HEAD && (n_press == 1 || state & GDK_SHIFT_MASK))
    press_head (grid, hit.column, (state & GDK_SHIFT_MASK) != 0);
  else if (hit.part != GRID_HEAD && hit.part != GRID_NOWHERE)
    press_cells (grid, &hit, (state & GDK_SHIFT_MASK) != 0, n_press);
}

static void
drag_update_cb (GtkGestureDrag *gesture, double dx, double dy, TallyGrid *grid)
{
  double x, y;

  gtk_gesture_drag_get_start_point (gesture, &x, &y);
  grid->drag_x = x + dx;
  grid->drag_y = y + dy;
  if (grid->drag == GRID_DRAG_WIDTH)
    {
      int width = grid->drag_width + (int) round (grid->drag_x - grid->drag_from);
      grid_set_column_width (grid, (guint) grid->drag_column, MAX (width, GRID_MIN_WIDTH));
    }
  else if (grid->drag != GRID_DRAG_NONE)
    {
      gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
      extend_to_pointer (grid);
      if (!grid->drag_tick)
        grid->drag_tick = gtk_widget_add_tick_callback (GTK_WIDGET (grid), drag_tick_cb, NULL, NULL);
    }
}

static void
drag_end_cb (GtkGestureDrag *gesture, double dx, double dy, TallyGrid *grid)
{
  (void) gesture;
  (void) dx;
  (void) dy;
  stop_drag (grid);
}

static void
menu_pressed_cb (GtkGestureClick *gesture, int n_press, double x, double y, TallyGrid *grid)
{
  GridHit hit = grid_geometry_hit (&grid->geometry, x, y);
  GridSelection before = grid->selection;

  (void) n_press;
  if (hit.part != GRID_CELL && hit.part != GRID_GUTTER && hit.part != GRID_HEAD)
    return;
  if (grid->editing && !grid_edit_commit (grid, FALSE, TRUE))
    return;
  gtk_gesture_set_state (GTK_GESTURE (gesture), GTK_EVENT_SEQUENCE_CLAIMED);
  gtk_widget_grab_focus (GTK_WIDGET (grid));
  if (hit.part == GRID_HEAD)
    {
      grid_emit_head_menu (grid, hit.column);
      return;
    }
  if (!grid_selection_contains (&grid->selection, hit.row, hit.part == GRID_CELL ? hit.column : grid->selection.column))
    {
      grid_selection_set (&grid->selection, hit.row, hit.column);
      if (hit.part == GRID_GUTTER)
        grid_selection_whole_rows (&grid->selection);
      grid_selection_done (grid, &before, FALSE);
    }
  grid_menu_open (grid, x, y);
}

static void
motion_cb (GtkEventControllerMotion *controller, double x, double y, TallyGrid *grid)
{
  gboolean edge = grid->drag == GRID_DRAG_WIDTH || grid_geometry_edge_at (&grid->geometry, x, y, EDGE_SLACK) >= 0;

  (void) controller;
  gtk_widget_set_cursor_from_name (GTK_WIDGET (grid), edge ? "col-resize" : NULL);
}

static void
focus_cb (GtkEventControllerFocus *controller, TallyGrid *grid)
{
  (void) controller;
  gtk_widget_queue_draw (GTK_WIDGET (grid));
}

void
grid_input_init (TallyGrid *grid)
{
  GtkWidget *widget = GTK_WIDGET (grid);
  GtkEventController *keys = gtk_event_controller_key_new (), *motion = gtk_event_controller_motion_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkGesture *click = gtk_gesture_click_new (), *drag = gtk_gesture_drag_new (), *menu = gtk_gesture_click_new ();

  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), grid);
  gtk_widget_add_controller (widget, keys);
  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), grid);
  gtk_widget_add_controller (widget, motion);
  g_signal_connect (focus, "enter", G_CALLBACK (focus_cb), grid);
  g_signal_connect (focus, "leave", G_CALLBACK (focus_cb), grid);
  gtk_widget_add_controller (widget, focus);
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (click), GDK_BUTTON_PRIMARY);
  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), grid);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (click));
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (drag), GDK_BUTTON_PRIMARY);
  g_signal_connect (drag, "drag-update", G_CALLBACK (drag_update_cb), grid);
  g_signal_connect (drag, "drag-end", G_CALLBACK (drag_end_cb), grid);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (drag));
  gtk_gesture_group (drag, click);
  gtk_gesture_single_set_button (GTK_GESTURE_SINGLE (menu), GDK_BUTTON_SECONDARY);
  g_signal_connect (menu, "pressed", G_CALLBACK (menu_pressed_cb), grid);
  gtk_widget_add_controller (widget, GTK_EVENT_CONTROLLER (menu));
}

void
grid_input_dispose (TallyGrid *grid)
{
  grid->drag = GRID_DRAG_NONE;
  if (grid->drag_tick)
    gtk_widget_remove_tick_callback (GTK_WIDGET (grid), grid->drag_tick);
  grid->drag_tick = 0;
  g_clear_pointer (&grid->menu, gtk_widget_unparent);
}

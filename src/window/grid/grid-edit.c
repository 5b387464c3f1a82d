/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The one entry that is laid over the cell being edited. */
#include "config.h"

#include "window/grid/grid-private.h"

#include <glib/gi18n.h>

gboolean
grid_is_editable (TallyGrid *grid, guint row, guint column)
{
  return grid->model && row < grid->geometry.n_rows && column < grid->column->len
         && grid_model_flags (grid->model, row, column) & GRID_CELL_EDITABLE;
}

/* ---- the entry ---- */

static void
text_changed_cb (GtkEditable *editable, TallyGrid *grid)
{
  (void) editable;
  if (grid->editing)
    gtk_widget_queue_allocate (GTK_WIDGET (grid));
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, TallyGrid *grid)
{
  GridSelection before = grid->selection;
  gboolean extend;
  GridCommand command = grid_keys_find (keyval, grid_modifiers (state), TRUE, &extend);

  (void) controller;
  (void) keycode;
  /* Half a character of an input method or a compose sequence: Enter and Escape are its own. */
  if (!grid->editing || grid->composing || command == GRID_DO_NOTHING)
    return GDK_EVENT_PROPAGATE;
  if (command == GRID_DO_CANCEL)
    {
      grid_edit_cancel (grid, TRUE);
      return GDK_EVENT_STOP;
    }
  if (!grid_edit_commit (grid, command == GRID_DO_FILL_TYPED, TRUE))
    {
      gtk_widget_error_bell (GTK_WIDGET (grid));
      return GDK_EVENT_STOP;
    }
  if (command == GRID_DO_FILL_TYPED)
    return GDK_EVENT_STOP;
  switch ((guint) command)
    {
    case GRID_DO_NEXT:
      grid_selection_tab (&grid->selection, TRUE);
      break;
    case GRID_DO_PREVIOUS:
      grid_selection_tab (&grid->selection, FALSE);
      break;
    case GRID_DO_BELOW:
      grid_selection_enter (&grid->selection, TRUE);
      break;
    case GRID_DO_ABOVE:
      grid_selection_enter (&grid->selection, FALSE);
      break;
    default:
      grid_do (grid, command, extend);
      return GDK_EVENT_STOP;
    }
  grid_selection_done (grid, &before, TRUE);
  return GDK_EVENT_STOP;
}

static void
focus_left_cb (GtkEventControllerFocus *controller, TallyGrid *grid)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (grid));
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;

  (void) controller;
  /* The window was left, not the entry: go on where one was when it is back. */
  if (focus && gtk_widget_is_ancestor (focus, GTK_WIDGET (grid)))
    return;
  grid_edit_commit (grid, FALSE, FALSE);
}

static void
preedit_changed_cb (GtkText *text, const char *preedit, TallyGrid *grid)
{
  (void) text;
  grid->composing = preedit && *preedit;
}

static void close_editor (TallyGrid *grid, gboolean take_focus);

/* What was refused does not wait in a table that is out of sight, to be written by a later move. */
static void
unmapped_cb (TallyGrid *grid)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (grid));
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;

  if (!grid->editing)
    return;
  grid->editing = FALSE; /* leaving the entry is no wish to write it once more */
  if (focus && gtk_widget_is_ancestor (focus, grid->entry))
    gtk_root_set_focus (root, NULL);
  close_editor (grid, FALSE);
}

/* Made when it is first needed: a table that is only looked at comes up sooner. */
static void
ensure_entry (TallyGrid *grid)
{
  GtkEventController *keys, *focus;

  if (grid->entry)
    return;
  keys = gtk_event_controller_key_new ();
  focus = gtk_event_controller_focus_new ();
  grid->entry = gtk_entry_new ();
  gtk_entry_set_has_frame (GTK_ENTRY (grid->entry), FALSE);
  gtk_editable_set_enable_undo (GTK_EDITABLE (grid->entry), FALSE);
  gtk_editable_set_width_chars (GTK_EDITABLE (grid->entry), 1);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (grid->entry), 1);
  gtk_widget_add_css_class (grid->entry, "cell");
  gtk_widget_set_parent (grid->entry, GTK_WIDGET (grid));
  gtk_widget_set_child_visible (grid->entry, FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (grid->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Cell"), -1);
  g_signal_connect (grid->entry, "changed", G_CALLBACK (text_changed_cb), grid);
  g_signal_connect (gtk_editable_get_delegate (GTK_EDITABLE (grid->entry)), "preedit-changed",
                    G_CALLBACK (preedit_changed_cb), grid);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), grid);
  gtk_widget_add_controller (grid->entry, keys);
  g_signal_connect (focus, "leave", G_CALLBACK (focus_left_cb), grid);
  g_signal_connect (grid, "unmap", G_CALLBACK (unmapped_cb), NULL);
  gtk_widget_add_controller (grid->entry, focus);
}

/* ---- open and close ---- */

/* Why a cell cannot be typed into. */
static char *
closed_words (TallyGrid *grid, guint row, guint column)
{
  const char *title = g_array_index (grid->column, GridColumn, column).title;

  if (!*title)
    title = _ ("This cell");
  if (grid_model_flags (grid->model, row, column) & GRID_CELL_COMPUTED)
    return g_strdup_printf (_ ("%s is computed: change what it follows from"), title);
  return g_strdup_printf (_ ("%s cannot be changed in this row: choose another cell"), title);
}

gboolean
grid_edit_open (TallyGrid *grid, const char *text)
{
  guint row = grid->selection.row, column = grid->selection.column;
  GridColumn *head;
  gboolean figure;

  if (grid->editing && !grid_edit_commit (grid, FALSE, FALSE))
    return FALSE;
  if (!grid_is_editable (grid, row, column))
    {
      g_autofree char *words = grid->model ? closed_words (grid, row, column) : NULL;
      if (words)
        grid_refuse (grid, words);
      return FALSE;
    }
  ensure_entry (grid);
  head = &g_array_index (grid->column, GridColumn, column);
  figure = (grid_model_flags (grid->model, row, column) & GRID_CELL_FIGURE) != 0;
  g_clear_pointer (&grid->edit_before, g_free);
  if (!text)
    grid->edit_before = row < grid->n_rows ? grid_model_text (grid->model, row, column) : g_strdup ("");
  grid->edit_row = row;
  grid->edit_column = column;
  grid->editing = TRUE;
  grid->composing = FALSE;
  grid_reveal (grid, row, column);
  gtk_accessible_update_property (GTK_ACCESSIBLE (grid->entry), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  *head->title ? head->title : _ ("Cell"), -1);
  gtk_editable_set_alignment (GTK_EDITABLE (grid->entry), figure ? 1 : 0);
  gtk_editable_set_text (GTK_EDITABLE (grid->entry), text ? text : grid->edit_before);
  gtk_widget_set_child_visible (grid->entry, TRUE);
  gtk_widget_queue_allocate (GTK_WIDGET (grid));
  gtk_entry_grab_focus_without_selecting (GTK_ENTRY (grid->entry));
  gtk_editable_set_position (GTK_EDITABLE (grid->entry), -1);
  return TRUE;
}

static void
close_editor (TallyGrid *grid, gboolean take_focus)
{
  /* First: moving the focus comes back here by way of the entry's focus-out. */
  grid->editing = FALSE;
  if (take_focus)
    gtk_widget_grab_focus (GTK_WIDGET (grid));
  gtk_widget_set_child_visible (grid->entry, FALSE);
  gtk_editable_set_text (GTK_EDITABLE (grid->entry), "");
  g_clear_pointer (&grid->edit_before, g_free);
  gtk_widget_queue_draw (GTK_WIDGET (grid));
}

void
grid_edit_cancel (TallyGrid *grid, gboolean take_focus)
{
  if (grid->editing)
    close_editor (grid, take_focus);
}

static char *
change_label (gsize n)
{
  return g_strdup_printf (ngettext ("change of one cell", "change of %u cells", (gulong) n), (guint) n);
}

gboolean
grid_edit_commit (TallyGrid *grid, gboolean fill, gboolean take_focus)
{
  g_autofree char *text = NULL;
  g_autofree char *label = NULL;
  g_autoptr (GArray) change = NULL;
  guint row0 = grid->edit_row, column0 = grid->edit_column, row1 = row0, column1 = column0;
  gboolean done = TRUE;

  if (!grid->editing || grid->committing)
    return !grid->editing;
  text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (grid->entry)));
  change = grid_change_new ();
  if (fill)
    grid_selection_range (&grid->selection, &row0, &column0, &row1, &column1);
  /* Opened and left as it was: an inherited value must not become an own one by looking at it. */
  if (fill || g_strcmp0 (text, grid->edit_before) != 0)
    for (guint row = row0; row <= row1; row++)
      for (guint column = column0; column <= column1; column++)
        if (!(row >= grid->n_rows && !*text))
          grid_change_add (grid, change, row, column, text);
  label = change_label (change->len);
  grid->committing = TRUE;
  if (change->len > 0)
    done = grid_change_apply (grid, change, label);
  grid->committing = FALSE;
  if (done)
    close_editor (grid, take_focus);
  return done;
}

/* ---- place ---- */

/* Over its cell, wider when the text is longer, as far as there is room. */
void
grid_edit_allocate (TallyGrid *grid)
{
  const GridGeometry *g = &grid->geometry;
  GtkAllocation allocation = { 0, 0, 0, 0 };

  if (!grid->entry)
    return;
  /* GTK wants a widget measured before it is given its place. */
  gtk_widget_measure (grid->entry, GTK_ORIENTATION_HORIZONTAL, -1, &allocation.width, NULL, NULL, NULL);
  gtk_widget_measure (grid->entry, GTK_ORIENTATION_VERTICAL, -1, &allocation.height, NULL, NULL, NULL);
  if (grid->editing)
    {
      GridBox box = grid_geometry_cell (g, grid->edit_row, grid->edit_column);
      g_autoptr (PangoLayout) layout =
          gtk_widget_create_pango_layout (grid->entry, gtk_editable_get_text (GTK_EDITABLE (grid->entry)));
      int wanted, room = g->width - (int) box.x;

      pango_layout_get_pixel_size (layout, &wanted, NULL);
      wanted += 2 * GRID_PAD + grid->digit_width;
      allocation = (GtkAllocation){ (int) box.x, (int) box.y, MAX (box.width - 1, MIN (wanted, room)), box.height };
    }
  gtk_widget_size_allocate (grid->entry, &allocation, -1);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* GTK 4.8 lets no application show cells of its own to assistive technology. So the grid's description, and a label
 * that is never drawn, say what is at the cursor; tooltips say it of what is under the pointer. */
#include "config.h"

#include "window/grid/grid-private.h"

#include <glib/gi18n.h>

static const char *
kind_words (GridCellFlags flags)
{
  if (flags & GRID_CELL_OVERRIDDEN)
    return _ ("overridden");
  if (flags & GRID_CELL_INHERITED)
    return _ ("inherited");
  return flags & GRID_CELL_COMPUTED ? _ ("computed") : NULL;
}

char *
grid_access_words (TallyGrid *grid)
{
  const GridSelection *s = &grid->selection;
  GString *out;
  GridCellFlags flags;
  GridColumn *column;
  g_autofree char *text = NULL;
  g_autofree char *message = NULL;
  guint row0, column0, row1, column1;

  if (!grid->model || grid_selection_is_empty (s))
    return g_strdup (_ ("No rows"));
  out = g_string_new (NULL);
  column = &g_array_index (grid->column, GridColumn, s->column);
  flags = grid_model_flags (grid->model, s->row, s->column);
  if (s->row < grid->n_rows)
    {
      text = grid_model_text (grid->model, s->row, s->column);
      message = grid_model_message (grid->model, s->row, s->column);
      g_string_append_printf (out, _ ("Row %u, %s"), grid_model_number (grid->model, s->row), column->title);
    }
  else
    g_string_append_printf (out, _ ("New row, %s"), column->title);
  if (*column->unit)
    g_string_append_printf (out, " (%s)", column->unit);
  g_string_append_printf (out, ", %s", text && *text ? text : _ ("empty"));
  if (kind_words (flags))
    g_string_append_printf (out, ", %s", kind_words (flags));
  if (flags & GRID_CELL_FAULTY)
    g_string_append_printf (out, ", %s", _ ("faulty"));
  else if (flags & GRID_CELL_CAUTION)
    g_string_append_printf (out, ", %s", _ ("to be looked at"));
  if (message && *message)
    g_string_append_printf (out, ": %s", message);
  grid_selection_range (s, &row0, &column0, &row1, &column1);
  if (row0 != row1 || column0 != column1)
    {
      g_string_append (out, "; ");
      g_string_append_printf (out, _ ("%u rows by %u columns selected"), row1 - row0 + 1, column1 - column0 + 1);
    }
  return g_string_free (out, FALSE);
}

void
grid_access_say (TallyGrid *grid, const char *words)
{
  g_autofree char *described = g_strdup_printf ("%s. %s", words, _ ("Control+Tab leaves the table"));

  g_clear_handle_id (&grid->spoken_idle, g_source_remove);
  if (!grid->spoken || g_strcmp0 (gtk_label_get_text (GTK_LABEL (grid->spoken)), words) == 0)
    return;
  gtk_label_set_text (GTK_LABEL (grid->spoken), words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (grid), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, described, -1);
}

static gboolean
speak_cb (gpointer data)
{
  TallyGrid *grid = data;
  g_autofree char *words = grid_access_words (grid);

  grid->spoken_idle = 0;
  grid_access_say (grid, words);
  return G_SOURCE_REMOVE;
}

/* When there is nothing better to do: a key that is held down moves the cursor faster than anyone listens. */
void
grid_access_queue (TallyGrid *grid)
{
  if (!grid->spoken_idle && grid->spoken)
    grid->spoken_idle = g_idle_add (speak_cb, grid);
}

gboolean
grid_access_query_tooltip (GtkWidget *widget, int x, int y, gboolean keyboard, GtkTooltip *tooltip)
{
  TallyGrid *grid = TALLY_GRID (widget);
  GridHit hit = { GRID_CELL, grid->selection.row, grid->selection.column };
  GridBox box;
  GdkRectangle area;
  g_autofree char *words = NULL;

  if (!grid->model || grid_selection_is_empty (&grid->selection))
    return FALSE;
  if (!keyboard)
    hit = grid_geometry_hit (&grid->geometry, x, y);
  if (hit.part != GRID_CELL && hit.part != GRID_HEAD)
    return FALSE;
  box = grid_geometry_cell (&grid->geometry, hit.row, hit.column);
  if (hit.part == GRID_HEAD)
    {
      const GridColumn *column = &g_array_index (grid->column, GridColumn, hit.column);
      words = *column->unit ? g_strdup_printf ("%s, %s", column->title, column->unit) : g_strdup (column->title);
      box.y = 0;
      box.height = grid->geometry.head_height;
    }
  else if (hit.row < grid->n_rows)
    {
      words = grid_model_message (grid->model, hit.row, hit.column);
      if ((!words || !*words) && grid_cells_get (grid, hit.row, hit.column)->cut)
        {
          g_free (words);
          words = grid_model_text (grid->model, hit.row, hit.column);
        }
    }
  if (!words || !*words)
    return FALSE;
  area = (GdkRectangle){ (int) box.x, (int) box.y, box.width, box.height };
  gtk_tooltip_set_text (tooltip, words);
  gtk_tooltip_set_tip_area (tooltip, &area);
  return TRUE;
}

void
grid_access_init (TallyGrid *grid)
{
  grid->spoken = gtk_label_new (NULL);
  /* A fixed size: new words do not make the window measure itself. */
  gtk_label_set_width_chars (GTK_LABEL (grid->spoken), 1);
  gtk_label_set_max_width_chars (GTK_LABEL (grid->spoken), 1);
  gtk_label_set_ellipsize (GTK_LABEL (grid->spoken), PANGO_ELLIPSIZE_END);
  gtk_label_set_single_line_mode (GTK_LABEL (grid->spoken), TRUE);
  gtk_widget_set_can_target (grid->spoken, FALSE);
  gtk_widget_set_parent (grid->spoken, GTK_WIDGET (grid));
}

void
grid_access_dispose (TallyGrid *grid)
{
  g_clear_handle_id (&grid->spoken_idle, g_source_remove);
  g_clear_pointer (&grid->spoken, gtk_widget_unparent);
}

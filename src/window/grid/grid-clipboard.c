/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changes of many cells: each one named edit of the model. */
#include "config.h"

#include "window/grid/grid-private.h"
#include "window/grid/grid-tsv.h"

#include <glib/gi18n.h>

#define PASTE_LIMIT 2000000 /* cells */

typedef struct
{
  guint row0, column0, row1, column1;
} Range;

static void
patch_clear (gpointer data)
{
  g_free (((GridPatchCell *) data)->text);
}

GArray *
grid_change_new (void)
{
  GArray *change = g_array_new (FALSE, FALSE, sizeof (GridPatchCell));

  g_array_set_clear_func (change, patch_clear);
  return change;
}

/* Cells that cannot be edited are left out: a row copied whole pastes back over its computed cells. Rows behind the
 * last take what the empty row takes. */
void
grid_change_add (TallyGrid *grid, GArray *change, guint row, guint column, const char *text)
{
  GridPatchCell cell = { row, column, NULL };

  if (column >= grid->column->len
      || !(grid_model_flags (grid->model, MIN (row, grid->n_rows), column) & GRID_CELL_EDITABLE))
    return;
  cell.text = g_strdup (text);
  g_array_append_val (change, cell);
}

gboolean
grid_change_apply (TallyGrid *grid, GArray *change, const char *label)
{
  return grid_model_apply (grid->model, (const GridPatchCell *) (gpointer) change->data, change->len, label);
}

/* The whole change or nothing of it. @none: why there is nothing to change. */
static gboolean
apply_or_refuse (TallyGrid *grid, GArray *change, const char *label, const char *none)
{
  if (change->len == 0)
    {
      grid_refuse (grid, none);
      return FALSE;
    }
  if (grid_change_apply (grid, change, label))
    return TRUE;
  gtk_widget_error_bell (GTK_WIDGET (grid));
  return FALSE;
}

/* The selection without the empty row for typing. FALSE: nothing of it is a row. */
static gboolean
selected_cells (TallyGrid *grid, Range *range)
{
  if (!grid->model || grid_selection_is_empty (&grid->selection))
    return FALSE;
  grid_selection_range (&grid->selection, &range->row0, &range->column0, &range->row1, &range->column1);
  if (range->row0 >= grid->n_rows)
    {
      grid_refuse (grid, _ ("The empty row at the end holds nothing yet: select cells above it"));
      return FALSE;
    }
  range->row1 = MIN (range->row1, grid->n_rows - 1);
  return TRUE;
}

/* ---- copy ---- */

static char *
text_cb (guint row, guint column, gpointer data)
{
  TallyGrid *grid = data;

  return grid_model_text (grid->model, row, column);
}

void
grid_copy (TallyGrid *grid)
{
  Range r;
  g_autofree char *text = NULL;

  if (!selected_cells (grid, &r))
    return;
  text = grid_tsv_write (r.row0, r.column0, r.row1, r.column1, text_cb, grid);
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (grid)), text);
}

static GArray *
clearing (TallyGrid *grid, const Range *r)
{
  GArray *change = grid_change_new ();

  for (guint row = r->row0; row <= r->row1; row++)
    for (guint column = r->column0; column <= r->column1; column++)
      {
        g_autofree char *text = grid_model_text (grid->model, row, column);
        /* An inherited value is not this cell's to clear. */
        if (*text && !(grid_model_flags (grid->model, row, column) & GRID_CELL_INHERITED))
          grid_change_add (grid, change, row, column, "");
      }
  return change;
}

static const char *
nothing_to_clear (void)
{
  return _ ("There is nothing to clear: these cells are empty, inherited or computed");
}

static const char *
nothing_to_change (void)
{
  return _ ("None of these cells can be changed: select cells that are typed");
}

void
grid_clear (TallyGrid *grid)
{
  Range r;
  g_autoptr (GArray) change = NULL;
  g_autofree char *label = NULL;

  if (!selected_cells (grid, &r))
    return;
  change = clearing (grid, &r);
  label = g_strdup_printf (ngettext ("clearing of one cell", "clearing of %u cells", change->len), change->len);
  apply_or_refuse (grid, change, label, nothing_to_clear ());
}

void
grid_cut (TallyGrid *grid)
{
  Range r;
  g_autoptr (GArray) change = NULL;
  g_autofree char *label = NULL;

  if (!selected_cells (grid, &r))
    return;
  grid_copy (grid);
  change = clearing (grid, &r);
  label = g_strdup_printf (ngettext ("cut of one cell", "cut of %u cells", change->len), change->len);
  apply_or_refuse (grid, change, label, nothing_to_clear ());
}

/* ---- fill ---- */

static void
fill (TallyGrid *grid, gboolean down)
{
  Range r;
  g_autoptr (GArray) change = NULL;
  g_autofree char *label = NULL;
  gboolean alone;

  if (!selected_cells (grid, &r))
    return;
  alone = down ? r.row0 == r.row1 : r.column0 == r.column1;
  /* One row or column alone takes from its neighbour. */
  if (alone && (down ? r.row0 : r.column0) == 0)
    {
      grid_refuse (grid, down ? _ ("There is no row above to fill from: select the row to fill from and those below it")
                              : _ ("There is no column before to fill from: select the one to fill from and those after it"));
      return;
    }
  change = grid_change_new ();
  for (guint row = down && !alone ? r.row0 + 1 : r.row0; row <= r.row1; row++)
    for (guint column = !down && !alone ? r.column0 + 1 : r.column0; column <= r.column1; column++)
      {
        guint from_row = down ? r.row0 - (alone ? 1 : 0) : row,
              from_column = down ? column : r.column0 - (alone ? 1 : 0);
        g_autofree char *text = grid_model_text (grid->model, from_row, from_column);
        grid_change_add (grid, change, row, column, text);
      }
  label =
      down ? g_strdup_printf (ngettext ("fill down of one cell", "fill down of %u cells", change->len), change->len)
           : g_strdup_printf (ngettext ("fill right of one cell", "fill right of %u cells", change->len), change->len);
  apply_or_refuse (grid, change, label, nothing_to_change ());
}

void
grid_fill_down (TallyGrid *grid)
{
  fill (grid, TRUE);
}

void
grid_fill_right (TallyGrid *grid)
{
  fill (grid, FALSE);
}

/* ---- paste ---- */

/* How often a block goes into what is selected: whole times only, else once. */
static guint
times (guint selected, guint block)
{
  return selected > block && selected % block == 0 ? selected / block : 1;
}

static const char *
no_text (void)
{
  return _ ("The clipboard holds no text: copy cells first");
}

static void
paste_text (TallyGrid *grid, const char *text)
{
  g_autoptr (GridTsv) tsv = grid_tsv_read (text, PASTE_LIMIT);
  g_autoptr (GArray) change = grid_change_new ();
  g_autofree char *label = NULL;
  GridSelection before = grid->selection;
  guint row0, column0, row1, column1, rows, columns, limit;

  if (!grid->model || grid_selection_is_empty (&grid->selection) || tsv->row->len == 0 || tsv->cut)
    {
      g_autofree char *words = tsv->cut ? g_strdup_printf (_ ("The clipboard holds more than %d cells: paste fewer at a time"),
                                                           PASTE_LIMIT)
                                        : NULL;
      grid_refuse (grid, tsv->cut ? words : tsv->row->len == 0 ? no_text () : nothing_to_change ());
      return;
    }
  grid_selection_range (&grid->selection, &row0, &column0, &row1, &column1);
  rows = tsv->row->len * times (row1 - row0 + 1, tsv->row->len);
  columns = tsv->n_columns * times (column1 - column0 + 1, tsv->n_columns);
  /* Without an empty row at the end the model takes no new rows. */
  limit = grid->geometry.n_rows > grid->n_rows ? G_MAXUINT : grid->n_rows;
  columns = MIN (columns, grid->column->len - column0);
  rows = MIN (rows, limit - row0);
  for (guint row = 0; row < rows; row++)
    for (guint column = 0; column < columns; column++)
      {
        const char *cell = grid_tsv_cell (tsv, row % tsv->row->len, column % tsv->n_columns);
        if (cell)
          grid_change_add (grid, change, row0 + row, column0 + column, cell);
      }
  label = g_strdup_printf (ngettext ("paste of one cell", "paste of %u cells", change->len), change->len);
  if (!apply_or_refuse (grid, change, label, nothing_to_change ()))
    return;
  grid_selection_set (&grid->selection, row0, column0);
  grid_selection_extend (&grid->selection, row0 + rows - 1, column0 + columns - 1);
  grid_selection_done (grid, &before, FALSE);
}

static void
pasted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TallyGrid) grid = data;
  g_autofree char *text = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);

  if (!gtk_widget_get_root (GTK_WIDGET (grid)))
    return; /* the window was closed meanwhile */
  if (text)
    paste_text (grid, text);
  else
    grid_refuse (grid, no_text ());
}

void
grid_paste (TallyGrid *grid)
{
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (GTK_WIDGET (grid)), NULL, pasted_cb, g_object_ref (grid));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/array-model.h"

static void tally_array_model_iface_init (TallyGridModelInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (TallyArrayModel, tally_array_model, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (TALLY_TYPE_GRID_MODEL, tally_array_model_iface_init))

static char **
new_row (guint n_columns)
{
  char **row = g_new0 (char *, n_columns + 1);

  for (guint i = 0; i < n_columns; i++)
    row[i] = g_strdup ("");
  return row;
}

static gpointer
flags_key (guint row, guint column)
{
  return GUINT_TO_POINTER (row << 8 | column);
}

static void
tally_array_model_finalize (GObject *object)
{
  TallyArrayModel *model = TALLY_ARRAY_MODEL (object);

  g_ptr_array_unref (model->row);
  g_free (model->column_flags);
  g_hash_table_unref (model->cell_flags);
  g_free (model->last_label);
  G_OBJECT_CLASS (tally_array_model_parent_class)->finalize (object);
}

static void
tally_array_model_class_init (TallyArrayModelClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_array_model_finalize;
}

static void
tally_array_model_init (TallyArrayModel *model)
{
  model->row = g_ptr_array_new_with_free_func ((GDestroyNotify) g_strfreev);
  model->cell_flags = g_hash_table_new (NULL, NULL);
}

TallyArrayModel *
array_model_new (guint n_rows, guint n_columns)
{
  TallyArrayModel *model = g_object_new (TALLY_TYPE_ARRAY_MODEL, NULL);

  model->n_columns = n_columns;
  model->column_flags = g_new0 (GridCellFlags, n_columns);
  for (guint i = 0; i < n_columns; i++)
    model->column_flags[i] = GRID_CELL_EDITABLE;
  for (guint i = 0; i < n_rows; i++)
    g_ptr_array_add (model->row, new_row (n_columns));
  return model;
}

const char *
array_model_get (TallyArrayModel *model, guint row, guint column)
{
  return row < model->row->len ? ((char **) g_ptr_array_index (model->row, row))[column] : NULL;
}

static void
set_text (TallyArrayModel *model, guint row, guint column, const char *text)
{
  char **texts = g_ptr_array_index (model->row, row);

  g_free (texts[column]);
  texts[column] = g_strdup (text);
}

void
array_model_put (TallyArrayModel *model, guint row, guint column, const char *text, GridCellFlags flags)
{
  set_text (model, row, column, text);
  if (flags)
    g_hash_table_insert (model->cell_flags, flags_key (row, column), GUINT_TO_POINTER ((guint) flags));
}

static guint
n_rows (TallyGridModel *grid)
{
  return TALLY_ARRAY_MODEL (grid)->row->len;
}

static guint
n_columns (TallyGridModel *grid)
{
  return TALLY_ARRAY_MODEL (grid)->n_columns;
}

static char *
title (TallyGridModel *grid, guint column)
{
  static const char *const titles[] = { "System", "Area",   "Drawing", "Kind",   "Size",   "Length",
                                        "Class",  "Method", "Gauge",   "Pieces", "Weight", "Cost" };

  (void) grid;
  return column < G_N_ELEMENTS (titles) ? g_strdup (titles[column]) : g_strdup_printf ("Column %u", column + 1);
}

static char *
unit (TallyGridModel *grid, guint column)
{
  static const char *const units[] = { "", "", "", "", "in", "ft", "in w.g.", "", "", "", "lb, net", "$" };

  (void) grid;
  return g_strdup (column < G_N_ELEMENTS (units) ? units[column] : "");
}

static guint
width (TallyGridModel *grid, guint column)
{
  static const guint widths[] = { 6, 8, 8, 14, 10, 8, 6, 16, 6, 6, 8, 9 };

  (void) grid;
  return column < G_N_ELEMENTS (widths) ? widths[column] : 8;
}

static char *
text (TallyGridModel *grid, guint row, guint column)
{
  TALLY_ARRAY_MODEL (grid)->texts++;
  return g_strdup (array_model_get (TALLY_ARRAY_MODEL (grid), row, column));
}

static GridCellFlags
flags (TallyGridModel *grid, guint row, guint column)
{
  TallyArrayModel *model = TALLY_ARRAY_MODEL (grid);
  guint own = GPOINTER_TO_UINT (g_hash_table_lookup (model->cell_flags, flags_key (row, column)));

  if (row >= model->row->len)
    return model->appends ? model->column_flags[column] : model->column_flags[column] & ~(guint) GRID_CELL_EDITABLE;
  return own ? (GridCellFlags) own : model->column_flags[column];
}

static char *
message (TallyGridModel *grid, guint row, guint column)
{
  return flags (grid, row, column) & GRID_CELL_FAULTY ? g_strdup ("a letter \"o\" stands among the digits; type a zero")
                                                      : NULL;
}

static gboolean
apply (TallyGridModel *grid, const GridPatchCell *cells, gsize n, const char *label)
{
  TallyArrayModel *model = TALLY_ARRAY_MODEL (grid);
  guint before = model->row->len, first = G_MAXUINT, last = 0;

  model->applied++;
  model->last_n = n;
  g_free (model->last_label);
  model->last_label = g_strdup (label);
  if (model->refuses)
    return FALSE;
  for (gsize i = 0; i < n; i++)
    {
      while (cells[i].row >= model->row->len)
        g_ptr_array_add (model->row, new_row (model->n_columns));
      set_text (model, cells[i].row, cells[i].column, cells[i].text);
      first = MIN (first, cells[i].row);
      last = MAX (last, cells[i].row);
    }
  if (model->row->len != before)
    grid_model_reset (grid);
  else
    grid_model_rows_changed (grid, first, last - first + 1);
  return TRUE;
}

static gboolean
insert_rows (TallyGridModel *grid, guint at, guint n)
{
  TallyArrayModel *model = TALLY_ARRAY_MODEL (grid);

  for (guint i = 0; i < n; i++)
    g_ptr_array_insert (model->row, (int) at, new_row (model->n_columns));
  grid_model_reset (grid);
  return TRUE;
}

static gboolean
delete_rows (TallyGridModel *grid, const guint *rows, gsize n)
{
  TallyArrayModel *model = TALLY_ARRAY_MODEL (grid);

  for (gsize i = n; i > 0; i--)
    g_ptr_array_remove_index (model->row, rows[i - 1]);
  grid_model_reset (grid);
  return TRUE;
}

static gboolean
duplicate_rows (TallyGridModel *grid, const guint *rows, gsize n)
{
  TallyArrayModel *model = TALLY_ARRAY_MODEL (grid);
  guint at = rows[n - 1] + 1;

  for (gsize i = 0; i < n; i++)
    g_ptr_array_insert (model->row, (int) (at + i), g_strdupv (g_ptr_array_index (model->row, rows[i])));
  grid_model_reset (grid);
  return TRUE;
}

static gboolean
move_rows (TallyGridModel *grid, const guint *rows, gsize n, int by)
{
  TallyArrayModel *model = TALLY_ARRAY_MODEL (grid);

  for (gsize k = 0; k < n; k++)
    {
      guint i = by < 0 ? rows[k] : rows[n - 1 - k];
      gpointer row = g_ptr_array_steal_index (model->row, i);
      g_ptr_array_insert (model->row, (int) i + by, row);
    }
  grid_model_reset (grid);
  return TRUE;
}

static void
tally_array_model_iface_init (TallyGridModelInterface *iface)
{
  iface->n_rows = n_rows;
  iface->n_columns = n_columns;
  iface->title = title;
  iface->unit = unit;
  iface->width = width;
  iface->text = text;
  iface->flags = flags;
  iface->message = message;
  iface->apply = apply;
  iface->insert_rows = insert_rows;
  iface->delete_rows = delete_rows;
  iface->duplicate_rows = duplicate_rows;
  iface->move_rows = move_rows;
}

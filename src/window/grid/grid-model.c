/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/grid/grid-model.h"

enum { RESET, ROWS_CHANGED, N_SIGNALS };

static guint signals[N_SIGNALS];

G_DEFINE_INTERFACE (TallyGridModel, tally_grid_model, G_TYPE_OBJECT)

static void
tally_grid_model_default_init (TallyGridModelInterface *iface)
{
  (void) iface;
  signals[RESET] = g_signal_new ("reset", TALLY_TYPE_GRID_MODEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                 G_TYPE_NONE, 0);
  signals[ROWS_CHANGED] = g_signal_new ("rows-changed", TALLY_TYPE_GRID_MODEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                        G_TYPE_NONE, 2, G_TYPE_UINT, G_TYPE_UINT);
}

/* Whatever a model gives can be shown. */
static char *
usable (char *text)
{
  char *valid;

  if (!text)
    return g_strdup ("");
  if (g_utf8_validate (text, -1, NULL))
    return text;
  valid = g_utf8_make_valid (text, -1);
  g_free (text);
  return valid;
}

guint
grid_model_n_rows (TallyGridModel *model)
{
  return TALLY_GRID_MODEL_GET_IFACE (model)->n_rows (model);
}

guint
grid_model_n_columns (TallyGridModel *model)
{
  return TALLY_GRID_MODEL_GET_IFACE (model)->n_columns (model);
}

char *
grid_model_title (TallyGridModel *model, guint column)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return usable (iface->title ? iface->title (model, column) : NULL);
}

char *
grid_model_unit (TallyGridModel *model, guint column)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return usable (iface->unit ? iface->unit (model, column) : NULL);
}

guint
grid_model_number (TallyGridModel *model, guint row)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return iface->number ? iface->number (model, row) : row + 1;
}

guint
grid_model_width (TallyGridModel *model, guint column)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return iface->width ? iface->width (model, column) : 10;
}

char *
grid_model_text (TallyGridModel *model, guint row, guint column)
{
  return usable (TALLY_GRID_MODEL_GET_IFACE (model)->text (model, row, column));
}

GridCellFlags
grid_model_flags (TallyGridModel *model, guint row, guint column)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return iface->flags ? iface->flags (model, row, column) : 0;
}

char *
grid_model_message (TallyGridModel *model, guint row, guint column)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);
  char *message = iface->message ? iface->message (model, row, column) : NULL;

  return message ? usable (message) : NULL;
}

gboolean
grid_model_apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return iface->apply ? iface->apply (model, cells, n, label) : FALSE;
}

gboolean
grid_model_insert_rows (TallyGridModel *model, guint at, guint n)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return iface->insert_rows ? iface->insert_rows (model, at, n) : FALSE;
}

gboolean
grid_model_delete_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return iface->delete_rows ? iface->delete_rows (model, rows, n) : FALSE;
}

gboolean
grid_model_duplicate_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return iface->duplicate_rows ? iface->duplicate_rows (model, rows, n) : FALSE;
}

gboolean
grid_model_move_rows (TallyGridModel *model, const guint *rows, gsize n, int by)
{
  TallyGridModelInterface *iface = TALLY_GRID_MODEL_GET_IFACE (model);

  return iface->move_rows ? iface->move_rows (model, rows, n, by) : FALSE;
}

void
grid_model_reset (TallyGridModel *model)
{
  g_signal_emit (model, signals[RESET], 0);
}

void
grid_model_rows_changed (TallyGridModel *model, guint first, guint n)
{
  g_signal_emit (model, signals[ROWS_CHANGED], 0, first, n);
}

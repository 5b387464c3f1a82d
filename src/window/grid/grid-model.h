/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>

G_BEGIN_DECLS

/* How a cell looks and behaves; told by shape or weight as well as by colour. */
typedef enum
{
  GRID_CELL_EDITABLE = 1 << 0,
  GRID_CELL_FIGURE = 1 << 1,     /* right-aligned, tabular digits */
  GRID_CELL_COMPUTED = 1 << 2,   /* tinted ground */
  GRID_CELL_INHERITED = 1 << 3,  /* grey and slanted */
  GRID_CELL_OVERRIDDEN = 1 << 4, /* bold with a corner mark */
  GRID_CELL_FAULTY = 1 << 5,     /* waved underline, warning colour */
  GRID_CELL_BOLD = 1 << 6,
  GRID_CELL_DIM = 1 << 7,
  GRID_CELL_CAUTION = 1 << 8,    /* waved underline, colour of the text */
  GRID_CELL_STRUCK = 1 << 9,     /* a line through the text: it counts no longer */
} GridCellFlags;

/* One cell of a change: what is to stand there. */
typedef struct
{
  guint row, column;
  char *text;
} GridPatchCell;

/* A table of text cells behind a grid. Rows are positions; a model that sorts or filters does so itself.
 * All changes go through apply(), which does all of them as one named edit or none. */
#define TALLY_TYPE_GRID_MODEL (tally_grid_model_get_type ())
G_DECLARE_INTERFACE (TallyGridModel, tally_grid_model, TALLY, GRID_MODEL, GObject)

struct _TallyGridModelInterface
{
  GTypeInterface parent;

  guint (*n_rows) (TallyGridModel *model);
  guint (*n_columns) (TallyGridModel *model);
  /* Heading and, below it in small type, the unit; either may be "". (transfer full) */
  char *(*title) (TallyGridModel *model, guint column);
  char *(*unit) (TallyGridModel *model, guint column);
  /* What a row is called, from 1; of n_rows(): the number a new row would have, none is higher. NULL: its position. */
  guint (*number) (TallyGridModel *model, guint row);
  /* Width a column starts with, in characters. */
  guint (*width) (TallyGridModel *model, guint column);
  char *(*text) (TallyGridModel *model, guint row, guint column);
  GridCellFlags (*flags) (TallyGridModel *model, guint row, guint column);
  /* What is to say about a cell, for the line above the table, the tooltip and assistive technology; NULL: nothing. */
  char *(*message) (TallyGridModel *model, guint row, guint column);
  /* @cells: n of GridPatchCell, rows >= n_rows() append rows. @label: for undo, "paste of 40 cells". FALSE: refused, nothing
   * changed (the model has said why). */
  gboolean (*apply) (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label);
  /* Row operations; NULL where a table has none. Positions rise. */
  gboolean (*insert_rows) (TallyGridModel *model, guint at, guint n);
  gboolean (*delete_rows) (TallyGridModel *model, const guint *rows, gsize n);
  gboolean (*duplicate_rows) (TallyGridModel *model, const guint *rows, gsize n);
  gboolean (*move_rows) (TallyGridModel *model, const guint *rows, gsize n, int by);
};

/* Signals: "reset" (): rows or columns are others; the grid drops all it has cached and clamps its cursor.
 *          "rows-changed" (guint first, guint n): the text or flags of these rows may be others. */

guint grid_model_n_rows (TallyGridModel *model);
guint grid_model_n_columns (TallyGridModel *model);
char *grid_model_title (TallyGridModel *model, guint column);
char *grid_model_unit (TallyGridModel *model, guint column);
guint grid_model_number (TallyGridModel *model, guint row);
guint grid_model_width (TallyGridModel *model, guint column);
char *grid_model_text (TallyGridModel *model, guint row, guint column);
GridCellFlags grid_model_flags (TallyGridModel *model, guint row, guint column);
char *grid_model_message (TallyGridModel *model, guint row, guint column);
gboolean grid_model_apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label);
gboolean grid_model_insert_rows (TallyGridModel *model, guint at, guint n);
gboolean grid_model_delete_rows (TallyGridModel *model, const guint *rows, gsize n);
gboolean grid_model_duplicate_rows (TallyGridModel *model, const guint *rows, gsize n);
gboolean grid_model_move_rows (TallyGridModel *model, const guint *rows, gsize n, int by);
void grid_model_reset (TallyGridModel *model);
void grid_model_rows_changed (TallyGridModel *model, guint first, guint n);

G_END_DECLS

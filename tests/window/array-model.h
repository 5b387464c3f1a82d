/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/grid/grid-model.h"

/* A model over an array of texts, for tests of the grid: every cell takes any text, each cell has flags of its own,
 * and every change is noted. */
#define TALLY_TYPE_ARRAY_MODEL (tally_array_model_get_type ())
G_DECLARE_FINAL_TYPE (TallyArrayModel, tally_array_model, TALLY, ARRAY_MODEL, GObject)

struct _TallyArrayModel
{
  GObject parent_instance;
  guint n_columns;
  GPtrArray *row;          /* char **, NULL-terminated, n_columns texts */
  GridCellFlags *column_flags;
  GHashTable *cell_flags;  /* row << 8 | column -> flags, instead of the column's */
  gboolean appends;        /* takes new rows */
  gboolean refuses;        /* apply() fails */
  guint applied;           /* calls of apply() */
  gsize last_n;            /* cells of the last one */
  char *last_label;
  guint texts;             /* calls of text() */
};

TallyArrayModel *array_model_new (guint n_rows, guint n_columns);
const char *array_model_get (TallyArrayModel *model, guint row, guint column);
void array_model_put (TallyArrayModel *model, guint row, guint column, const char *text, GridCellFlags flags);

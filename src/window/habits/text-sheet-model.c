/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/text-sheet-model.h"

#include <glib/gi18n.h>

typedef struct
{
  char **cell;
  char *message;
  int faulty;
} Row;

struct _TallyTextSheet
{
  GObject parent_instance;

  char **titles;
  guint n;
  GPtrArray *rows; /* Row * */
  guint *width;
  int choice;
};

static guint toggled;

static void model_init (TallyGridModelInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (TallyTextSheet, tally_text_sheet, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (TALLY_TYPE_GRID_MODEL, model_init))

static void
row_free (gpointer data)
{
  Row *row = data;

  g_strfreev (row->cell);
  g_free (row->message);
  g_free (row);
}

static const Row *
row_at (TallyGridModel *model, guint row)
{
  GPtrArray *rows = TALLY_TEXT_SHEET (model)->rows;

  return row < rows->len ? g_ptr_array_index (rows, row) : NULL;
}

static guint
n_rows (TallyGridModel *model)
{
  return TALLY_TEXT_SHEET (model)->rows->len;
}

static guint
n_columns (TallyGridModel *model)
{
  return TALLY_TEXT_SHEET (model)->n;
}

static char *
title (TallyGridModel *model, guint column)
{
  return g_strdup (TALLY_TEXT_SHEET (model)->titles[column]);
}

static char *
unit (TallyGridModel *model, guint column)
{
  (void) model;
  (void) column;
  return g_strdup ("");
}

static guint
width (TallyGridModel *model, guint column)
{
  TallyTextSheet *self = TALLY_TEXT_SHEET (model);
  guint head = (guint) g_utf8_strlen (self->titles[column], -1) + 2;

  return self->width[column] ? self->width[column] : CLAMP (head, 8u, 30u);
}

static char *
text (TallyGridModel *model, guint row, guint column)
{
  const Row *r = row_at (model, row);

  return g_strdup (r ? r->cell[column] : "");
}

static GridCellFlags
flags (TallyGridModel *model, guint row, guint column)
{
  TallyTextSheet *self = TALLY_TEXT_SHEET (model);
  const Row *r = row_at (model, row);
  GridCellFlags f = 0;

  if ((int) column == self->choice)
    f |= GRID_CELL_EDITABLE | GRID_CELL_BOLD;
  if (r && r->faulty == (int) column)
    f |= GRID_CELL_FAULTY;
  if (r && self->choice >= 0 && (int) column != self->choice && !text_sheet_chosen (self, row))
    f |= GRID_CELL_DIM;
  return f;
}

static char *
message (TallyGridModel *model, guint row, guint column)
{
  const Row *r = row_at (model, row);

  (void) column;
  return g_strdup (r ? r->message : NULL);
}

static gboolean
says_yes (const char *word)
{
  g_autofree char *clean = g_utf8_casefold (word, -1);

  g_strstrip (clean);
  return g_str_has_prefix (clean, "y") || g_str_has_prefix (clean, "x") || g_str_has_prefix (clean, "1") || g_str_equal (clean, _ ("yes"));
}

static gboolean
apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label)
{
  TallyTextSheet *self = TALLY_TEXT_SHEET (model);

  (void) label;
  for (gsize i = 0; i < n; i++)
    if ((int) cells[i].column == self->choice && cells[i].row < self->rows->len)
      text_sheet_choose (self, cells[i].row, cells[i].row, says_yes (cells[i].text));
  return TRUE;
}

static void
model_init (TallyGridModelInterface *iface)
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
}

static void
tally_text_sheet_finalize (GObject *object)
{
  TallyTextSheet *self = TALLY_TEXT_SHEET (object);

  g_strfreev (self->titles);
  g_ptr_array_unref (self->rows);
  g_free (self->width);
  G_OBJECT_CLASS (tally_text_sheet_parent_class)->finalize (object);
}

static void
tally_text_sheet_class_init (TallyTextSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_text_sheet_finalize;
  toggled = g_signal_new ("toggled", TALLY_TYPE_TEXT_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tally_text_sheet_init (TallyTextSheet *self)
{
  self->rows = g_ptr_array_new_with_free_func (row_free);
  self->choice = -1;
}

TallyTextSheet *
text_sheet_new (const char *const *titles, guint n)
{
  TallyTextSheet *self = g_object_new (TALLY_TYPE_TEXT_SHEET, NULL);

  text_sheet_set_titles (self, titles, n);
  return self;
}

void
text_sheet_set_titles (TallyTextSheet *self, const char *const *titles, guint n)
{
  g_strfreev (self->titles);
  g_free (self->width);
  self->titles = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    self->titles[i] = g_strdup (titles[i]);
  self->width = g_new0 (guint, n);
  self->n = n;
  g_ptr_array_set_size (self->rows, 0);
}

void
text_sheet_clear (TallyTextSheet *self)
{
  g_ptr_array_set_size (self->rows, 0);
}

void
text_sheet_add (TallyTextSheet *self, const char *const *cells, int faulty, const char *words)
{
  Row *row = g_new0 (Row, 1);

  row->cell = g_new0 (char *, self->n + 1);
  for (guint i = 0; i < self->n; i++)
    row->cell[i] = g_strdup (cells[i] ? cells[i] : "");
  row->faulty = faulty;
  row->message = g_strdup (words);
  g_ptr_array_add (self->rows, row);
}

void
text_sheet_done (TallyTextSheet *self)
{
  grid_model_reset (TALLY_GRID_MODEL (self));
}

void
text_sheet_set_width (TallyTextSheet *self, guint column, guint chars)
{
  self->width[column] = chars;
}

void
text_sheet_set_choice (TallyTextSheet *self, int column)
{
  self->choice = column;
}

gboolean
text_sheet_chosen (TallyTextSheet *self, guint row)
{
  return says_yes (((Row *) g_ptr_array_index (self->rows, row))->cell[self->choice]);
}

void
text_sheet_choose (TallyTextSheet *self, guint first, guint last, gboolean yes)
{
  for (guint i = first; i <= last && i < self->rows->len; i++)
    {
      Row *row = g_ptr_array_index (self->rows, i);
      g_free (row->cell[self->choice]);
      row->cell[self->choice] = g_strdup (yes ? _ ("yes") : _ ("no"));
    }
  grid_model_rows_changed (TALLY_GRID_MODEL (self), first, last - first + 1);
  g_signal_emit (self, toggled, 0);
}

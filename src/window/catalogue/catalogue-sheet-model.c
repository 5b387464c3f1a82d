/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/catalogue/catalogue-private.h"

#include "cost/retire.h"

#include <glib/gi18n.h>
#include <string.h>

struct _TallyCatalogueSheet
{
  GObject parent_instance;

  TallyDraft *draft;
  CatalogueSheet which;
  char *search;   /* case folded, "" none */
  GArray *rows;   /* guint: rows of the table that are shown */
  guint n_columns;
};

static void model_init (TallyGridModelInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (TallyCatalogueSheet, tally_catalogue_sheet, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (TALLY_TYPE_GRID_MODEL, model_init))

static const CsvTable *
table_of (TallyCatalogueSheet *self)
{
  return draft_tables (self->draft)[self->which];
}

static guint
table_row (TallyCatalogueSheet *self, guint row)
{
  return row < self->rows->len ? g_array_index (self->rows, guint, row) : G_MAXUINT;
}

static gboolean
holds (const CsvTable *table, guint row, const char *word)
{
  for (guint c = 0; c < table->head->len; c++)
    {
      g_autofree char *folded = g_utf8_casefold (csv_cell (table, row, (int) c), -1);
      if (strstr (folded, word))
        return TRUE;
    }
  return FALSE;
}

static void
select_rows (TallyCatalogueSheet *self)
{
  const CsvTable *table = table_of (self);

  self->n_columns = table->head->len;
  g_array_set_size (self->rows, 0);
  for (guint row = 0; row < table->row->len; row++)
    if (!*self->search || holds (table, row, self->search))
      g_array_append_val (self->rows, row);
}

/* ---- reading ---- */

static guint
n_rows (TallyGridModel *model)
{
  return TALLY_CATALOGUE_SHEET (model)->rows->len;
}

static guint
n_columns (TallyGridModel *model)
{
  return table_of (TALLY_CATALOGUE_SHEET (model))->head->len;
}

/* Units at the end of a heading go below it: "price_usd" is price over usd. */
static char *
split_heading (const char *heading, gboolean unit)
{
  static const char *const units[] = { "_usd", "_pct", "_in", "_ft", "_lb", "_min", "_lb_ft2" };
  gsize cut = strlen (heading);
  char *out;

  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_str_has_suffix (heading, units[i]))
      cut = MIN (cut, strlen (heading) - strlen (units[i]));
  out = unit ? g_strdup (heading + cut + (heading[cut] == '_' ? 1 : 0)) : g_strndup (heading, cut);
  g_strdelimit (out, "_", unit && strstr (out, "ft2") ? '/' : ' ');
  if (unit && g_str_equal (out, "pct"))
    strcpy (out, "%");
  if (!unit && *out)
    *out = g_ascii_toupper (*out);
  return out;
}

static char *
title (TallyGridModel *model, guint column)
{
  return split_heading (g_ptr_array_index (table_of (TALLY_CATALOGUE_SHEET (model))->head, column), FALSE);
}

static char *
unit (TallyGridModel *model, guint column)
{
  return split_heading (g_ptr_array_index (table_of (TALLY_CATALOGUE_SHEET (model))->head, column), TRUE);
}

static gboolean
is_figure (const char *text)
{
  gboolean digit = FALSE;

  for (const char *p = text; *p; p++)
    {
      if (!strchr ("0123456789.+-/ ", *p))
        return FALSE;
      digit = digit || g_ascii_isdigit (*p);
    }
  return digit;
}

#define ROOM 125   /* characters that a window of usual size has beside the list of sheets, 2 a column between them */
#define LEAST 10   /* no column is made narrower to fit, */
#define NAME 22    /* nor that of the names */

/* Wide enough for what stands there, within reason. */
static guint
natural_width (TallyGridModel *model, guint column)
{
  const CsvTable *table = table_of (TALLY_CATALOGUE_SHEET (model));
  g_autofree char *head = title (model, column);
  glong most = g_utf8_strlen (head, -1) + 1;

  for (guint row = 0; row < MIN (table->row->len, 200); row++)
    most = MAX (most, g_utf8_strlen (csv_cell (table, row, (int) column), -1));
  return (guint) CLAMP (most + 1, 6, 34);
}

/* Source and status stand last and are to be seen: the widest columns give way, but not the status. */
static guint
width (TallyGridModel *model, guint column)
{
  const CsvTable *table = table_of (TALLY_CATALOGUE_SHEET (model));
  guint n = n_columns (model), sum = 0;
  int status = csv_column (table, "status");
  g_autofree guint *wide = g_new (guint, n), *spare = g_new (guint, n);

  for (guint c = 0; c < n; c++)
    {
      guint least = c == 0 ? NAME : LEAST;
      wide[c] = natural_width (model, c);
      spare[c] = (int) c == status || wide[c] < least ? 0 : wide[c] - least;
      sum += wide[c] + 2;
    }
  for (; sum > ROOM; sum--)
    {
      guint widest = 0;
      for (guint c = 1; c < n; c++)
        widest = spare[c] > spare[widest] ? c : widest;
      if (spare[widest] == 0)
        break;
      wide[widest]--;
      spare[widest]--;
    }
  return wide[column];
}

static char *
text (TallyGridModel *model, guint row, guint column)
{
  TallyCatalogueSheet *self = TALLY_CATALOGUE_SHEET (model);
  guint at = table_row (self, row);

  return g_strdup (at == G_MAXUINT ? "" : csv_cell (table_of (self), at, (int) column));
}

static GridCellFlags
flags (TallyGridModel *model, guint row, guint column)
{
  TallyCatalogueSheet *self = TALLY_CATALOGUE_SHEET (model);
  guint at = table_row (self, row);
  GridCellFlags f = GRID_CELL_EDITABLE;

  if (at == G_MAXUINT)
    return f;
  if (is_figure (csv_cell (table_of (self), at, (int) column)))
    f |= GRID_CELL_FIGURE;
  if (draft_fault_at (self->draft, self->which, at, (int) column))
    f |= GRID_CELL_FAULTY;
  if (draft_change_at (self->draft, self->which, at, (int) column))
    f |= GRID_CELL_OVERRIDDEN;
  if (catalogue_row_retired (table_of (self), at))
    f |= (int) column == csv_column (table_of (self), CATALOGUE_RETIRED) ? GRID_CELL_BOLD : GRID_CELL_DIM | GRID_CELL_STRUCK;
  return f;
}

/* "Recipes, rows 5, 9 and others" */
static char *
where_used (const GArray *uses)
{
  g_autoptr (GString) out = g_string_new (NULL);
  guint first = 0;

  for (guint i = 0; i < uses->len; i++)
    {
      const CatalogueUse *use = &g_array_index (uses, CatalogueUse, i);
      if (i == 0 || use->sheet != g_array_index (uses, CatalogueUse, i - 1).sheet)
        {
          first = i;
          g_string_append_printf (out, _ ("%s%s, row %u"), i ? "; " : "", catalogue_sheet_title (use->sheet), use->row + 1);
        }
      else if (i - first < 6)
        g_string_append_printf (out, ", %u", use->row + 1);
      else if (i - first == 6)
        g_string_append (out, _ (" and others"));
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* What retiring a row does, or what still stands in the way. */
static char *
retired_words (TallyCatalogueSheet *self, guint at)
{
  const CsvTable *table = table_of (self);
  const char *heading = catalogue_name_heading (self->which);
  const char *key = heading ? csv_cell (table, at, csv_column (table, heading)) : NULL;
  g_autoptr (GArray) uses = key ? catalogue_uses (draft_tables (self->draft), self->which, key) : NULL;
  g_autofree char *where = NULL;

  if (!key)
    return g_strdup (_ ("retired: it counts no longer; older revisions keep it"));
  for (guint row = 0; row < table->row->len; row++)
    if (g_str_equal (csv_cell (table, row, csv_column (table, heading)), key) && !catalogue_row_retired (table, row))
      return g_strdup_printf (_ ("retired: this row of “%s” counts no longer; the others do"), key);
  if (uses->len == 0)
    return g_strdup (_ ("retired: it is offered no more; jobs that name it already keep it"));
  where = where_used (uses);
  return g_strdup_printf (ngettext ("retired, but %u row still names it (%s): let it name another, or retire it too",
                                    "retired, but %u rows still name it (%s): let them name another, or retire them too", uses->len),
                          uses->len, where);
}

static char *
message (TallyGridModel *model, guint row, guint column)
{
  TallyCatalogueSheet *self = TALLY_CATALOGUE_SHEET (model);
  guint at = table_row (self, row);
  const CsvFault *fault;
  const CatalogueChange *change;

  if (at == G_MAXUINT)
    return NULL;
  fault = draft_fault_at (self->draft, self->which, at, (int) column);
  if (fault)
    return g_strdup_printf ("%s; %s", fault->what, fault->remedy);
  if (catalogue_row_retired (table_of (self), at))
    return retired_words (self, at);
  change = draft_change_at (self->draft, self->which, at, (int) column);
  if (change && change->kind == CATALOGUE_ROW_ADDED)
    return g_strdup (_ ("new row of this draft"));
  if (change)
    return g_strdup_printf (_ ("changed in this draft; before: %s"), *change->before ? change->before : _ ("nothing"));
  return NULL;
}

/* ---- changes ---- */

static CsvRow *
row_new (guint cells)
{
  CsvRow *row = g_new0 (CsvRow, 1);

  row->cell = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < cells; i++)
    g_ptr_array_add (row->cell, g_strdup (""));
  return row;
}

static void
set_cell (CsvTable *table, guint row, guint column, const char *value)
{
  GPtrArray *cell = ((CsvRow *) g_ptr_array_index (table->row, row))->cell;

  g_free (g_ptr_array_index (cell, column));
  g_ptr_array_index (cell, column) = g_strdup (value);
}

/* Lines are numbered anew, so that a fault names its row. */
static void
replace (TallyCatalogueSheet *self, CsvTable *table)
{
  for (guint i = 0; i < table->row->len; i++)
    ((CsvRow *) g_ptr_array_index (table->row, i))->line = (int) i + 2;
  draft_replace (self->draft, self->which, table);
}

static gboolean
apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label)
{
  TallyCatalogueSheet *self = TALLY_CATALOGUE_SHEET (model);
  CsvTable *table = catalogue_copy_table (table_of (self));
  guint shown = self->rows->len, present = table->row->len;

  (void) label;
  for (gsize i = 0; i < n; i++)
    {
      guint at = cells[i].row < shown ? table_row (self, cells[i].row) : present + cells[i].row - shown;
      while (at >= table->row->len)
        g_ptr_array_add (table->row, row_new (table->head->len));
      if (cells[i].column < table->head->len)
        set_cell (table, at, cells[i].column, cells[i].text);
    }
  replace (self, table);
  return TRUE;
}

static gboolean
insert_rows (TallyGridModel *model, guint at, guint n)
{
  TallyCatalogueSheet *self = TALLY_CATALOGUE_SHEET (model);
  CsvTable *table = catalogue_copy_table (table_of (self));
  guint before = at < self->rows->len ? table_row (self, at) : table->row->len;

  for (guint i = 0; i < n; i++)
    g_ptr_array_insert (table->row, (int) before, row_new (table->head->len));
  replace (self, table);
  return TRUE;
}

static gboolean
is_new (TallyCatalogueSheet *self, guint at)
{
  for (guint c = 0; c < table_of (self)->head->len; c++)
    {
      const CatalogueChange *change = draft_change_at (self->draft, self->which, at, (int) c);
      if (change && change->kind == CATALOGUE_ROW_ADDED)
        return TRUE;
    }
  return FALSE;
}

void
catalogue_sheet_retire (TallyCatalogueSheet *self, const guint *rows, gsize n, gboolean retired)
{
  CsvTable *table = catalogue_copy_table (table_of (self));
  gboolean changed = FALSE;

  for (gsize i = n; i-- > 0;)
    {
      guint at = table_row (self, rows[i]);
      if (at >= table->row->len)
        continue;
      if (retired && is_new (self, at))
        g_ptr_array_remove_index (table->row, at);
      else if (catalogue_row_retired (table, at) != retired)
        catalogue_retire_row (table, at, retired);
      else
        continue;
      changed = TRUE;
    }
  if (changed)
    replace (self, table);
  else
    csv_table_free (table);
}

gboolean
catalogue_sheet_is_retired (TallyCatalogueSheet *self, guint row)
{
  guint at = table_row (self, row);

  return at != G_MAXUINT && catalogue_row_retired (table_of (self), at);
}

/* What was accepted once is never lost: it is retired. */
static gboolean
delete_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  catalogue_sheet_retire (TALLY_CATALOGUE_SHEET (model), rows, n, TRUE);
  return TRUE;
}

/* A copy stands right behind its row, and needs another key: its first cell says so. */
static gboolean
duplicate_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  TallyCatalogueSheet *self = TALLY_CATALOGUE_SHEET (model);
  CsvTable *table = catalogue_copy_table (table_of (self));

  for (gsize i = n; i-- > 0;)
    {
      guint at = table_row (self, rows[i]);
      CsvRow *copy;
      if (at >= table->row->len)
        continue;
      copy = row_new (table->head->len);
      g_ptr_array_insert (table->row, (int) at + 1, copy);
      for (guint c = 0; c < table->head->len; c++)
        set_cell (table, at + 1, c, csv_cell (table, at, (int) c));
      if (catalogue_n_keys (self->which) == 1 && !is_figure (csv_cell (table, at, 0)))
        {
          g_autofree char *name = g_strdup_printf (_ ("%s copy"), csv_cell (table, at, 0));
          set_cell (table, at + 1, 0, name);
        }
      if (catalogue_row_retired (table, at + 1))
        catalogue_retire_row (table, at + 1, FALSE);
    }
  replace (self, table);
  return TRUE;
}

static gboolean
move_rows (TallyGridModel *model, const guint *rows, gsize n, int by)
{
  TallyCatalogueSheet *self = TALLY_CATALOGUE_SHEET (model);
  CsvTable *table;

  if (*self->search || n == 0 || (by < 0 && rows[0] < (guint) -by) || (by > 0 && rows[n - 1] + (guint) by >= self->rows->len))
    return FALSE;
  table = catalogue_copy_table (table_of (self));
  for (gsize k = 0; k < n; k++)
    {
      guint from = by < 0 ? rows[k] : rows[n - 1 - k];
      gpointer row = g_ptr_array_steal_index (table->row, from);
      g_ptr_array_insert (table->row, (int) from + by, row);
    }
  replace (self, table);
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
  iface->insert_rows = insert_rows;
  iface->delete_rows = delete_rows;
  iface->duplicate_rows = duplicate_rows;
  iface->move_rows = move_rows;
}

/* ---- life ---- */

static void
draft_changed_cb (TallyDraft *draft, TallyCatalogueSheet *self)
{
  guint shown = self->rows->len, columns = self->n_columns;
  g_autofree guint *before = g_memdup2 (self->rows->data, shown * sizeof (guint));

  (void) draft;
  select_rows (self);
  if (columns == self->n_columns && shown == self->rows->len && (shown == 0 || memcmp (before, self->rows->data, shown * sizeof (guint)) == 0))
    {
      if (shown > 0)
        grid_model_rows_changed (TALLY_GRID_MODEL (self), 0, shown);
    }
  else
    grid_model_reset (TALLY_GRID_MODEL (self));
}

static void
tally_catalogue_sheet_finalize (GObject *object)
{
  TallyCatalogueSheet *self = TALLY_CATALOGUE_SHEET (object);

  g_object_unref (self->draft);
  g_free (self->search);
  g_array_unref (self->rows);
  G_OBJECT_CLASS (tally_catalogue_sheet_parent_class)->finalize (object);
}

static void
tally_catalogue_sheet_class_init (TallyCatalogueSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_catalogue_sheet_finalize;
}

static void
tally_catalogue_sheet_init (TallyCatalogueSheet *self)
{
  self->search = g_strdup ("");
  self->rows = g_array_new (FALSE, FALSE, sizeof (guint));
}

TallyCatalogueSheet *
catalogue_sheet_new (TallyDraft *draft)
{
  TallyCatalogueSheet *self = g_object_new (TALLY_TYPE_CATALOGUE_SHEET, NULL);

  self->draft = g_object_ref (draft);
  self->which = CATALOGUE_ITEMS;
  g_signal_connect_object (draft, "changed", G_CALLBACK (draft_changed_cb), self, 0);
  select_rows (self);
  return self;
}

void
catalogue_sheet_show (TallyCatalogueSheet *self, CatalogueSheet which)
{
  self->which = which;
  select_rows (self);
  grid_model_reset (TALLY_GRID_MODEL (self));
}

void
catalogue_sheet_search (TallyCatalogueSheet *self, const char *word)
{
  g_free (self->search);
  self->search = g_utf8_casefold (word, -1);
  select_rows (self);
  grid_model_reset (TALLY_GRID_MODEL (self));
}

guint
catalogue_sheet_count (TallyCatalogueSheet *self, CatalogueSheet which)
{
  const CsvTable *table = draft_tables (self->draft)[which];
  guint n = 0;

  for (guint row = 0; row < table->row->len; row++)
    n += !*self->search || holds (table, row, self->search) ? 1 : 0;
  return n;
}

char *
catalogue_sheet_rests (TallyCatalogueSheet *self, guint row)
{
  const CsvTable *table = table_of (self);
  guint at = table_row (self, row);
  const char *source = csv_cell (table, at, csv_column (table, "source")), *status = csv_cell (table, at, csv_column (table, "status"));

  if (at == G_MAXUINT)
    return g_strdup ("");
  return g_strdup_printf (_ ("Row %u rests on: %s · %s"), row + 1, *source ? source : _ ("no source named"),
                          *status ? status : _ ("no status"));
}

int
catalogue_sheet_find_row (TallyCatalogueSheet *self, guint at)
{
  for (guint i = 0; i < self->rows->len; i++)
    if (g_array_index (self->rows, guint, i) == at)
      return (int) i;
  return -1;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/studies/studies-private.h"

#include "cost/study-unlike.h"

#include <glib/gi18n.h>
#include <string.h>

/* Columns of the grid: those of the sheet without what is the same for all, and the worker-minutes of one. */
static const struct
{
  const char *heading; /* NULL: computed */
  const char *title, *unit;
  guint width;
  gboolean figure;
} columns[] = {
  { "date", N_ ("Date"), "", 11, FALSE },
  { "size", N_ ("Size"), N_ ("in"), 9, FALSE },
  { "lb", N_ ("Piece"), N_ ("lb"), 6, TRUE },
  { "timed", N_ ("Timed"), "", 14, FALSE },
  { "method", N_ ("Method"), "", 16, FALSE },
  { "crew_size", N_ ("Crew"), N_ ("heads"), 6, TRUE },
  { "count", N_ ("Count"), "", 6, TRUE },
  { "clock_min", N_ ("Clock"), N_ ("min"), 8, TRUE },
  { "rating_pct", N_ ("Rating"), "%", 7, TRUE },
  { NULL, N_ ("Of one"), N_ ("worker-min"), 11, TRUE },
  { "struck", N_ ("Struck because"), "", 24, FALSE },
  { "observer", N_ ("Observer"), "", 11, FALSE },
  { "note", N_ ("Note"), "", 18, FALSE },
};

struct _TallyReadings
{
  GObject parent_instance;

  TallyDraft *draft;
  char *key;
  GArray *rows;        /* guint: rows of the observations */
  LabourStudy *study;  /* (nullable) as it is read now */
  GPtrArray *studies;  /* holds it */
  LabourResult *result;
};

static void model_init (TallyGridModelInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (TallyReadings, tally_readings, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (TALLY_TYPE_GRID_MODEL, model_init))

static const CsvTable *
table_of (TallyReadings *self)
{
  return draft_tables (self->draft)[CATALOGUE_OBSERVATIONS];
}

static void
look (TallyReadings *self)
{
  const CsvTable *table = table_of (self);
  int study = csv_column (table, "study");

  g_array_set_size (self->rows, 0);
  g_clear_pointer (&self->result, labour_result_free);
  g_clear_pointer (&self->studies, g_ptr_array_unref);
  self->study = NULL;
  self->studies = studies_of_draft (self->draft);
  for (guint i = 0; i < self->studies->len; i++)
    if (g_str_equal (((LabourStudy *) g_ptr_array_index (self->studies, i))->key, self->key))
      self->study = g_ptr_array_index (self->studies, i);
  if (self->study)
    {
      self->result = labour_study_result (self->study);
      g_ptr_array_unref (cost_study_unlike (self->result, LENGTH_IN));
    }
  for (guint i = 0; *self->key && i < table->row->len; i++)
    if (g_str_equal (csv_cell (table, i, study), self->key))
      g_array_append_val (self->rows, i);
}

guint
readings_table_row (TallyReadings *self, guint row)
{
  return row < self->rows->len ? g_array_index (self->rows, guint, row) : G_MAXUINT;
}

/* The reading of a row of the grid, NULL where it is faulty or new; @at: its place in the study. */
static const LabourReading *
reading_of (TallyReadings *self, guint row, guint *at)
{
  guint wanted = readings_table_row (self, row);

  for (guint i = 0; self->study && i < self->study->readings->len; i++)
    if (((LabourReading *) g_ptr_array_index (self->study->readings, i))->row == wanted)
      {
        *at = i;
        return g_ptr_array_index (self->study->readings, i);
      }
  return NULL;
}

/* ---- the model ---- */

static guint
n_rows (TallyGridModel *model)
{
  return TALLY_READINGS (model)->rows->len;
}

static guint
n_columns (TallyGridModel *model)
{
  (void) model;
  return G_N_ELEMENTS (columns);
}

static char *
title (TallyGridModel *model, guint column)
{
  (void) model;
  return g_strdup (_ (columns[column].title));
}

static char *
unit (TallyGridModel *model, guint column)
{
  (void) model;
  return g_strdup (*columns[column].unit ? _ (columns[column].unit) : "");
}

static guint
width (TallyGridModel *model, guint column)
{
  (void) model;
  return columns[column].width;
}

static int
sheet_column (TallyReadings *self, guint column)
{
  return columns[column].heading ? csv_column (table_of (self), columns[column].heading) : -1;
}

static char *
text (TallyGridModel *model, guint row, guint column)
{
  TallyReadings *self = TALLY_READINGS (model);
  guint at = readings_table_row (self, row), place;

  if (at == G_MAXUINT)
    return g_strdup ("");
  if (!columns[column].heading)
    {
      const LabourReading *r = reading_of (self, row, &place);
      return r ? g_strdup_printf ("%.2f", r->minutes) : g_strdup ("");
    }
  return g_strdup (csv_cell (table_of (self), at, sheet_column (self, column)));
}

static GridCellFlags
flags (TallyGridModel *model, guint row, guint column)
{
  TallyReadings *self = TALLY_READINGS (model);
  GridCellFlags f = columns[column].heading ? GRID_CELL_EDITABLE : GRID_CELL_COMPUTED;
  guint at = readings_table_row (self, row), place;
  const LabourReading *r = at == G_MAXUINT ? NULL : reading_of (self, row, &place);

  if (columns[column].figure)
    f |= GRID_CELL_FIGURE;
  if (at == G_MAXUINT)
    return f;
  if (columns[column].heading && draft_fault_at (self->draft, CATALOGUE_OBSERVATIONS, at, sheet_column (self, column)))
    f |= GRID_CELL_FAULTY;
  if (r && *r->struck && g_strcmp0 (columns[column].heading, "struck") != 0)
    f |= GRID_CELL_DIM | GRID_CELL_STRUCK;
  else if (r && self->result->outlier[place] && (!columns[column].heading || g_str_equal (columns[column].heading, "clock_min")))
    f |= GRID_CELL_CAUTION | GRID_CELL_BOLD;
  return f;
}

static char *
message (TallyGridModel *model, guint row, guint column)
{
  TallyReadings *self = TALLY_READINGS (model);
  guint at = readings_table_row (self, row), place;
  const LabourReading *r = at == G_MAXUINT ? NULL : reading_of (self, row, &place);
  const CsvFault *fault = at == G_MAXUINT || !columns[column].heading
                              ? NULL
                              : draft_fault_at (self->draft, CATALOGUE_OBSERVATIONS, at, sheet_column (self, column));

  if (fault)
    return g_strdup_printf ("%s; %s", fault->what, fault->remedy);
  if (at == G_MAXUINT)
    return NULL;
  if (!r)
    return g_strdup (_ ("this reading has a fault and is left out until it is mended"));
  if (*r->struck)
    return g_strdup_printf (_ ("struck, and so not counted: %s"), r->struck);
  if (self->result->outlier[place])
    return g_strdup (_ (
        "far from the others (more than 3.5 x 1.4826 MAD from the median): look at it; it counts until you strike it"));
  if (!columns[column].heading)
    return g_strdup (_ ("clock minutes x heads / count"));
  return NULL;
}

/* What a new row starts with: what repeats is taken from the row @above (G_MAXUINT none). */
static const char *
usual_cell (TallyReadings *self, const CsvTable *table, guint column, guint above, const char *today)
{
  static const char *const repeated[] = { "observer", "crew_size", "timed", "method" };
  const char *const usual[][2] = { { "study", self->key }, { "date", today },          { "count", "1" },
                                   { "rating_pct", "100" }, { "source", "time study" }, { "status", "shop's own" },
                                   { "timed", LABOUR_WHOLE }, { "crew_size", "1" } };
  const char *head = g_ptr_array_index (table->head, column);

  for (gsize k = 0; above != G_MAXUINT && k < G_N_ELEMENTS (repeated); k++)
    if (g_str_equal (head, repeated[k]) && *csv_cell (table, above, (int) column))
      return csv_cell (table, above, (int) column);
  for (gsize k = 0; k < G_N_ELEMENTS (usual); k++)
    if (g_str_equal (head, usual[k][0]))
      return usual[k][1];
  return "";
}

static void
add_row (TallyReadings *self, CsvTable *table, guint above, const char *today)
{
  CsvRow *row = g_new0 (CsvRow, 1);

  row->line = (int) table->row->len + 2;
  row->cell = g_ptr_array_new_with_free_func (g_free);
  for (guint c = 0; c < table->head->len; c++)
    g_ptr_array_add (row->cell, g_strdup (usual_cell (self, table, c, above, today)));
  g_ptr_array_add (table->row, row);
}

static gboolean
apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label)
{
  TallyReadings *self = TALLY_READINGS (model);
  g_autofree char *today = studies_today ();
  guint shown = self->rows->len, present = table_of (self)->row->len;
  guint above = shown > 0 ? g_array_index (self->rows, guint, shown - 1) : G_MAXUINT;
  CsvTable *table;

  (void) label;
  if (!*self->key)
    return FALSE;
  table = catalogue_copy_table (table_of (self));
  studies_need_column (table, "lb");
  for (gsize i = 0; i < n; i++)
    {
      guint at = cells[i].row < shown ? g_array_index (self->rows, guint, cells[i].row) : present + cells[i].row - shown;
      const char *heading = columns[cells[i].column].heading;
      int column = heading ? csv_column (table, heading) : -1;
      while (at >= table->row->len)
        add_row (self, table, above, today);
      csv_set_cell (table, at, column, cells[i].text);
    }
  draft_replace (self->draft, CATALOGUE_OBSERVATIONS, table);
  return TRUE;
}

/* A reading is not deleted but struck; only one that is new in the draft goes. */
static gboolean
delete_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  TallyReadings *self = TALLY_READINGS (model);
  CsvTable *table = catalogue_copy_table (table_of (self));
  gboolean any = FALSE;

  for (gsize i = n; i-- > 0;)
    {
      guint at = readings_table_row (self, rows[i]);
      const CatalogueChange *change = at == G_MAXUINT ? NULL : draft_change_at (self->draft, CATALOGUE_OBSERVATIONS, at, 0);
      if (!change || change->kind != CATALOGUE_ROW_ADDED)
        continue;
      g_ptr_array_remove_index (table->row, at);
      any = TRUE;
    }
  for (guint i = 0; i < table->row->len; i++)
    ((CsvRow *) g_ptr_array_index (table->row, i))->line = (int) i + 2;
  if (any)
    draft_replace (self->draft, CATALOGUE_OBSERVATIONS, table);
  else
    csv_table_free (table);
  return any;
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
  iface->delete_rows = delete_rows;
}

/* ---- life ---- */

static void
changed_cb (TallyDraft *draft, TallyReadings *self)
{
  guint shown = self->rows->len;

  (void) draft;
  look (self);
  if (shown == self->rows->len && shown > 0)
    grid_model_rows_changed (TALLY_GRID_MODEL (self), 0, shown);
  else
    grid_model_reset (TALLY_GRID_MODEL (self));
}

static void
tally_readings_finalize (GObject *object)
{
  TallyReadings *self = TALLY_READINGS (object);

  g_clear_pointer (&self->result, labour_result_free);
  g_clear_pointer (&self->studies, g_ptr_array_unref);
  g_object_unref (self->draft);
  g_free (self->key);
  g_array_unref (self->rows);
  G_OBJECT_CLASS (tally_readings_parent_class)->finalize (object);
}

static void
tally_readings_class_init (TallyReadingsClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_readings_finalize;
}

static void
tally_readings_init (TallyReadings *self)
{
  self->key = g_strdup ("");
  self->rows = g_array_new (FALSE, FALSE, sizeof (guint));
}

TallyReadings *
readings_new (TallyDraft *draft)
{
  TallyReadings *self = g_object_new (TALLY_TYPE_READINGS, NULL);

  self->draft = g_object_ref (draft);
  g_signal_connect_object (draft, "changed", G_CALLBACK (changed_cb), self, 0);
  return self;
}

void
readings_show (TallyReadings *self, const char *key)
{
  g_free (self->key);
  self->key = g_strdup (key);
  look (self);
  grid_model_reset (TALLY_GRID_MODEL (self));
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/catalogue/catalogue-private.h"

#include <glib/gi18n.h>

typedef struct
{
  CsvTable *table[CATALOGUE_N_SHEETS]; /* NULL: not of this step */
} Step;

struct _TallyDraft
{
  GObject parent_instance;

  Catalogue *base;
  CsvTable *table[CATALOGUE_N_SHEETS];
  GPtrArray *undo, *redo;       /* Step *: the table that was there */
  GPtrArray *faults, *changes;
};

static guint changed;

G_DEFINE_FINAL_TYPE (TallyDraft, tally_draft, G_TYPE_OBJECT)

static void
step_free (gpointer data)
{
  Step *step = data;

  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    g_clear_pointer (&step->table[i], csv_table_free);
  g_free (step);
}

static void
drop_tables (TallyDraft *self)
{
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    g_clear_pointer (&self->table[i], csv_table_free);
}

static void
tally_draft_finalize (GObject *object)
{
  TallyDraft *self = TALLY_DRAFT (object);

  drop_tables (self);
  g_clear_pointer (&self->base, catalogue_unref);
  g_ptr_array_unref (self->undo);
  g_ptr_array_unref (self->redo);
  g_ptr_array_unref (self->faults);
  g_ptr_array_unref (self->changes);
  G_OBJECT_CLASS (tally_draft_parent_class)->finalize (object);
}

static void
tally_draft_class_init (TallyDraftClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_draft_finalize;
  changed = g_signal_new ("changed", TALLY_TYPE_DRAFT, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tally_draft_init (TallyDraft *self)
{
  self->undo = g_ptr_array_new_with_free_func (step_free);
  self->redo = g_ptr_array_new_with_free_func (step_free);
  self->faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  self->changes = g_ptr_array_new_with_free_func ((GDestroyNotify) catalogue_change_free);
}

/* The catalogue takes its tables: it gets copies. */
static Catalogue *
compile (TallyDraft *self, GPtrArray *faults)
{
  CsvTable *copy[CATALOGUE_N_SHEETS];

  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    copy[i] = catalogue_copy_table (self->table[i]);
  return catalogue_new (copy, faults);
}

static void
refresh (TallyDraft *self)
{
  Catalogue *catalogue;

  g_ptr_array_set_size (self->faults, 0);
  catalogue = compile (self, self->faults);
  g_clear_pointer (&catalogue, catalogue_unref);
  g_ptr_array_unref (self->changes);
  self->changes = catalogue_diff (self->base->table, self->table);
  g_signal_emit (self, changed, 0);
}

void
draft_begin (TallyDraft *self, Catalogue *base, CsvTable *const *table)
{
  drop_tables (self);
  catalogue_ref (base);
  g_clear_pointer (&self->base, catalogue_unref);
  self->base = base;
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    self->table[i] = catalogue_copy_table (table && table[i] ? table[i] : base->table[i]);
  g_ptr_array_set_size (self->undo, 0);
  g_ptr_array_set_size (self->redo, 0);
  refresh (self);
}

void
draft_reset (TallyDraft *self, Catalogue *base)
{
  draft_begin (self, base, NULL);
}

TallyDraft *
draft_new (Catalogue *base)
{
  TallyDraft *self = g_object_new (TALLY_TYPE_DRAFT, NULL);

  draft_reset (self, base);
  return self;
}

CsvTable *const *
draft_tables (TallyDraft *self)
{
  return self->table;
}

Catalogue *
draft_base (TallyDraft *self)
{
  return self->base;
}

/* Puts the tables of a step (taken) in their places; what was there is the step that takes them back. */
static void
swap (TallyDraft *self, Step *step, GPtrArray *keep)
{
  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    if (step->table[i])
      {
        CsvTable *was = self->table[i];
        self->table[i] = step->table[i];
        step->table[i] = was;
      }
  g_ptr_array_add (keep, step);
}

void
draft_replace (TallyDraft *self, CatalogueSheet sheet, CsvTable *table)
{
  Step *step = g_new0 (Step, 1);

  step->table[sheet] = table;
  swap (self, step, self->undo);
  g_ptr_array_set_size (self->redo, 0);
  refresh (self);
}

static gboolean
same_rows (const CsvTable *a, const CsvTable *b)
{
  if (a->head->len != b->head->len || a->row->len != b->row->len)
    return FALSE;
  for (guint c = 0; c < a->head->len; c++)
    if (!g_str_equal (g_ptr_array_index (a->head, c), g_ptr_array_index (b->head, c)))
      return FALSE;
  for (guint row = 0; row < a->row->len; row++)
    for (guint c = 0; c < a->head->len; c++)
      if (!g_str_equal (csv_cell (a, row, (int) c), csv_cell (b, row, (int) c)))
        return FALSE;
  return TRUE;
}

gboolean
draft_differs (TallyDraft *self, CatalogueSheet sheet)
{
  return !same_rows (self->table[sheet], self->base->table[sheet]);
}

void
draft_discard (TallyDraft *self)
{
  Step *step = g_new0 (Step, 1);

  for (int i = 0; i < CATALOGUE_N_SHEETS; i++)
    if (draft_differs (self, (CatalogueSheet) i))
      step->table[i] = catalogue_copy_table (self->base->table[i]);
  swap (self, step, self->undo);
  g_ptr_array_set_size (self->redo, 0);
  refresh (self);
}

static gboolean
step_back (TallyDraft *self, GPtrArray *from, GPtrArray *to)
{
  if (from->len == 0)
    return FALSE;
  swap (self, g_ptr_array_steal_index (from, from->len - 1), to);
  refresh (self);
  return TRUE;
}

gboolean
draft_undo (TallyDraft *self)
{
  return step_back (self, self->undo, self->redo);
}

gboolean
draft_redo (TallyDraft *self)
{
  return step_back (self, self->redo, self->undo);
}

const GPtrArray *
draft_faults (TallyDraft *self)
{
  return self->faults;
}

const GPtrArray *
draft_changes (TallyDraft *self)
{
  return self->changes;
}

static gboolean
of_sheet (TallyDraft *self, const CsvFault *fault, CatalogueSheet sheet)
{
  return g_strcmp0 (fault->file, self->table[sheet]->name) == 0;
}

guint
draft_n_faults (TallyDraft *self, CatalogueSheet sheet)
{
  guint n = 0;

  for (guint i = 0; i < self->faults->len; i++)
    n += of_sheet (self, g_ptr_array_index (self->faults, i), sheet) ? 1 : 0;
  return n;
}

const CsvFault *
draft_fault_at (TallyDraft *self, CatalogueSheet sheet, guint row, int column)
{
  int line = ((CsvRow *) g_ptr_array_index (self->table[sheet]->row, row))->line;

  for (guint i = 0; i < self->faults->len; i++)
    {
      const CsvFault *fault = g_ptr_array_index (self->faults, i);
      if (!of_sheet (self, fault, sheet) || fault->line != line)
        continue;
      /* A fault of the whole line is shown at its first cell. */
      if (column < 0 || fault->column == column + 1 || (fault->column == 0 && column == 0))
        return fault;
    }
  return NULL;
}

const CatalogueChange *
draft_change_at (TallyDraft *self, CatalogueSheet sheet, guint row, int column)
{
  const char *heading = g_ptr_array_index (self->table[sheet]->head, (guint) column);

  for (guint i = 0; i < self->changes->len; i++)
    {
      const CatalogueChange *change = g_ptr_array_index (self->changes, i);
      if (change->sheet != sheet || change->at != (int) row || change->kind == CATALOGUE_ROW_REMOVED)
        continue;
      if (change->kind == CATALOGUE_ROW_ADDED || g_strcmp0 (change->heading, heading) == 0)
        return change;
    }
  return NULL;
}

guint
draft_n_changes (TallyDraft *self, CatalogueSheet sheet)
{
  guint n = 0;

  for (guint i = 0; i < self->changes->len; i++)
    n += ((CatalogueChange *) g_ptr_array_index (self->changes, i))->sheet == sheet ? 1 : 0;
  return n;
}

Catalogue *
draft_compile (TallyDraft *self)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);

  return compile (self, faults);
}

const char *
catalogue_sheet_title (CatalogueSheet sheet)
{
  static const char *const titles[CATALOGUE_N_SHEETS] = {
    [CATALOGUE_SHEETS] = N_ ("Sheet metal"),        [CATALOGUE_RULE_SETS] = N_ ("Rule sets"),
    [CATALOGUE_GAUGES] = N_ ("Gauges"),             [CATALOGUE_CONNECTIONS] = N_ ("Connections"),
    [CATALOGUE_SCREWS] = N_ ("Screw spacing"),      [CATALOGUE_CLEATS] = N_ ("Cleat spacing"),
    [CATALOGUE_VANES] = N_ ("Vanes"),               [CATALOGUE_PROFILES] = N_ ("Flange profiles"),
    [CATALOGUE_ALLOWANCES] = N_ ("Allowances"),     [CATALOGUE_CREWS] = N_ ("Crews"),
    [CATALOGUE_STEPS] = N_ ("Steps"),               [CATALOGUE_CONDITIONS] = N_ ("Conditions"),
    [CATALOGUE_ITEMS] = N_ ("Items"),               [CATALOGUE_METHODS] = N_ ("Methods"),
    [CATALOGUE_RECIPES] = N_ ("Recipes"),           [CATALOGUE_BUILDUP] = N_ ("Build-up"),
    [CATALOGUE_STIFFNESS] = N_ ("Stiffness classes"),
    [CATALOGUE_MEMBERS] = N_ ("Stiffening members"),
    [CATALOGUE_JOINT_RATINGS] = N_ ("Stiffness of joints"),
    [CATALOGUE_REINFORCEMENT] = N_ ("Reinforcement"),
    [CATALOGUE_TIE_RODS] = N_ ("Tie rods"),
    [CATALOGUE_ROUND_GAUGES] = N_ ("Round gauges"),
    [CATALOGUE_GORES] = N_ ("Gores"),
    [CATALOGUE_WRAPS] = N_ ("Wraps"),
    [CATALOGUE_LINER_PINS] = N_ ("Liner pins"),
    [CATALOGUE_SEAL_CLASSES] = N_ ("Seal classes"),
    [CATALOGUE_LEAKAGE] = N_ ("Leakage classes"),
    [CATALOGUE_SUPPORTS] = N_ ("Supports"),
    [CATALOGUE_HANGER_LOADS] = N_ ("Hanger loads"),
    [CATALOGUE_GASKETS] = N_ ("Gaskets"),
    [CATALOGUE_PRESSURE_CLASSES] = N_ ("Pressure classes"),
    [CATALOGUE_STUDIES] = N_ ("Time studies"),
    [CATALOGUE_OBSERVATIONS] = N_ ("Readings of studies"),
    [CATALOGUE_CLAIMS] = N_ ("Claims of saving"),
    [CATALOGUE_BURDENS] = N_ ("Burden by component"),
    [CATALOGUE_OVERTIME_LOSS] = N_ ("Overtime loss"),
  };

  return _ (titles[sheet]);
}

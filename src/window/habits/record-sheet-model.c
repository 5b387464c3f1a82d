/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/record-sheet-model.h"

#include "cost/retire.h"

#include <glib/gi18n.h>
#include <string.h>

struct _TallyRecordSheet
{
  GObject parent_instance;

  TallySession *session;
  JobType type;
  guint rows;      /* as last told, */
  gboolean metric; /* and so the units of the headings */
};

static void model_init (TallyGridModelInterface *iface);
G_DEFINE_FINAL_TYPE_WITH_CODE (TallyRecordSheet, tally_record_sheet, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (TALLY_TYPE_GRID_MODEL, model_init))

static TallyJob *
job_of (TallyGridModel *model)
{
  return session_job (TALLY_RECORD_SHEET (model)->session);
}

static const JobField *
field_of (TallyGridModel *model, guint column)
{
  return &job_type_info (TALLY_RECORD_SHEET (model)->type)->field[column];
}

static const JobRecord *
record_of (TallyGridModel *model, guint row)
{
  TallyJob *job = job_of (model);
  JobType type = TALLY_RECORD_SHEET (model)->type;

  return job && row < job_n (job, type) ? job_at (job, type, row) : NULL;
}

static guint
n_rows (TallyGridModel *model)
{
  TallyJob *job = job_of (model);

  return job ? job_n (job, TALLY_RECORD_SHEET (model)->type) : 0;
}

static guint
n_columns (TallyGridModel *model)
{
  return (guint) job_type_info (TALLY_RECORD_SHEET (model)->type)->n_fields;
}

static char *
title (TallyGridModel *model, guint column)
{
  return g_strdup (_ (field_of (model, column)->title));
}

static char *
unit (TallyGridModel *model, guint column)
{
  TallyJob *job = job_of (model);
  gboolean metric = job && job_names (job)->metric;

  switch ((int) field_of (model, column)->as)
    {
    case JOB_AS_LENGTH_IN:
      return g_strdup (metric ? _ ("mm") : _ ("in"));
    case JOB_AS_LENGTH_FT:
      return g_strdup (metric ? _ ("m") : _ ("ft"));
    case JOB_AS_CLASS:
      return g_strdup (metric ? _ ("Pa") : _ ("in w.g."));
    case JOB_AS_FACTOR:
      return g_strdup (_ ("1 = as it is"));
    default:
      return g_strdup ("");
    }
}

static gboolean
is_text (JobAs as)
{
  return as == JOB_AS_TEXT || as == JOB_AS_KIND || as == JOB_AS_END || as == JOB_AS_EXPOSURE || as == JOB_AS_METAL
         || as == JOB_AS_SYSTEM || as == JOB_AS_AREA || as == JOB_AS_UNITS || as == JOB_AS_YES_NO;
}

static guint
width (TallyGridModel *model, guint column)
{
  const JobField *field = field_of (model, column);
  guint head = (guint) g_utf8_strlen (_ (field->title), -1) + 2;

  return MAX (head, field->as == JOB_AS_TEXT ? 14u : 10u);
}

/* Text of the field of this key in another record; NULL where it has none, or nothing stands there. */
static char *
text_of (TallyJob *job, const JobRecord *r, const char *key)
{
  int field = r ? job_field_find (r->type, key) : -1;
  char *words = field >= 0 && job_record_is_set (r, field) ? job_record_print (r, field, job_names (job)) : NULL;

  return words;
}

/* What holds where nothing is entered: of a cell its system, of a system the job; an area has figures that change nothing. */
static char *
inherited (TallyGridModel *model, const JobRecord *r, guint column)
{
  static const struct
  {
    JobType type;
    const char *key, *text;
  } plain[] = { { JOB_AREA, "times", "1" },         { JOB_AREA, "field_condition", "1.00" }, { JOB_AREA, "share_joints_on_floor", "0.00" },
                { JOB_SYSTEM, "metal", "galvanised" }, { JOB_SYSTEM, "exposure", "indoors" },
                { JOB_CELL, "metal", "galvanised" },   { JOB_CELL, "exposure", "indoors" } };
  TallyJob *job = job_of (model);
  const char *key = field_of (model, column)->key;
  char *words = NULL;

  if (r->type == JOB_CELL && column >= 2)
    words = text_of (job, r->num[CELL_SYSTEM] != JOB_UNSET ? job_find (job, JOB_SYSTEM, r->num[CELL_SYSTEM]) : NULL, key);
  if (!words && ((r->type == JOB_CELL && column >= 2) || (r->type == JOB_SYSTEM && strcmp (key, "name") != 0 && strcmp (key, "condition") != 0)))
    words = text_of (job, job_head (job), key);
  for (gsize i = 0; !words && i < G_N_ELEMENTS (plain); i++)
    if (plain[i].type == r->type && strcmp (plain[i].key, key) == 0)
      words = g_strdup (plain[i].text);
  return words;
}

static char *
text (TallyGridModel *model, guint row, guint column)
{
  const JobRecord *r = record_of (model, row);
  char *words;

  if (!r)
    return g_strdup ("");
  if (job_record_is_set (r, (int) column))
    return job_record_print (r, (int) column, job_names (job_of (model)));
  words = inherited (model, r, column);
  return words ? words : g_strdup ("");
}

static GridCellFlags
flags (TallyGridModel *model, guint row, guint column)
{
  const JobRecord *r = record_of (model, row);
  GridCellFlags f = GRID_CELL_EDITABLE;

  if (!is_text (field_of (model, column)->as))
    f |= GRID_CELL_FIGURE;
  if (r && job_record_raw (r, (int) column))
    f |= GRID_CELL_FAULTY;
  if (r && !job_record_is_set (r, (int) column))
    {
      g_autofree char *words = inherited (model, r, column);
      f |= words ? GRID_CELL_INHERITED : 0;
    }
  return f;
}

static char *
retired_words (const Catalogue *catalogue, CatalogueSheet sheet, const char *key)
{
  return catalogue_is_retired (catalogue, sheet, key)
             ? g_strdup_printf (_ ("“%s” is retired: it still counts here, and is not for new work"), key) : NULL;
}

/* What is to say about keys of the catalogue that a field names: those that are not there, those that are retired. */
static char *
unknown_key (TallyGridModel *model, const JobRecord *r, guint column)
{
  const Catalogue *catalogue = job_basis (job_of (model))->catalogue;
  const JobField *field = field_of (model, column);
  g_autofree char *value = NULL;

  if (field->as != JOB_AS_TEXT)
    return NULL;
  value = job_record_print (r, (int) column, job_names (job_of (model)));
  if (!*value)
    return NULL;
  if (g_str_equal (field->key, "method") && catalogue_find_method (catalogue, value) < 0)
    return g_strdup_printf (_ ("the catalogue has no method “%s”: runs that inherit it are not priced"), value);
  if ((g_str_equal (field->key, "rule_set") || g_str_equal (field->key, "supports"))
      && duct_rules_find_set (catalogue->rules, value) < 0)
    return g_strdup_printf (_ ("the catalogue has no rule set “%s”: runs that inherit it are not priced"), value);
  if (g_str_equal (field->key, "wrap") && g_ascii_strcasecmp (value, "none") != 0
      && duct_rules_find_wrap (catalogue->rules, value) < 0)
    return g_strdup_printf (_ ("the catalogue has no wrap of “%s”: runs that inherit it are not priced"), value);
  if (g_str_equal (field->key, "seal") && g_ascii_strcasecmp (value, "none") != 0
      && duct_rules_find_seal (catalogue->rules, job_head (job_of (model))->text[HEAD_EDITION], value) < 0)
    return g_strdup_printf (_ ("this edition has no seal class “%s”: runs of the system are not priced"), value);
  if (g_str_equal (field->key, "condition"))
    {
      g_auto (GStrv) words = g_strsplit (value, ";", -1);
      for (char **w = words; *w; w++)
        if (*g_strstrip (*w) && labour_find_condition (catalogue->labour, *w) < 0)
          return g_strdup_printf (_ ("the catalogue has no condition “%s”: it changes nothing"), *w);
      for (char **w = words; *w; w++)
        if (catalogue_is_retired (catalogue, CATALOGUE_CONDITIONS, *w))
          return retired_words (catalogue, CATALOGUE_CONDITIONS, *w);
    }
  if (g_str_equal (field->key, "method"))
    return retired_words (catalogue, CATALOGUE_METHODS, value);
  return g_str_equal (field->key, "rule_set") ? retired_words (catalogue, CATALOGUE_RULE_SETS, value) : NULL;
}

static char *
message (TallyGridModel *model, guint row, guint column)
{
  const JobRecord *r = record_of (model, row);
  const char *raw = r ? job_record_raw (r, (int) column) : NULL;
  g_autoptr (JobRecord) again = NULL;
  Fault *fault = NULL;
  char *words;

  if (!r)
    return NULL;
  if (!raw && flags (model, row, column) & GRID_CELL_INHERITED)
    return g_strdup (_ ("Inherited; type to override it here"));
  if (!raw)
    return unknown_key (model, r, column);
  again = job_record_copy (r);
  if (job_record_read (again, (int) column, raw, job_names (job_of (model)), &fault))
    return g_strdup (_ ("it was not understood when it was entered: enter it again"));
  words = fault_words (fault, raw);
  fault_free (fault);
  return words;
}

/* ---- changes ---- */

static int
name_field (JobType type)
{
  return type == JOB_SYSTEM ? job_field_find (type, "system") : type == JOB_AREA ? job_field_find (type, "area") : -1;
}

/* "System 3": a name that no other record has. */
static char *
free_name (TallyJob *job, JobType type, const char *stem, guint from)
{
  const JobNames *names = job_names (job);

  for (guint i = from;; i++)
    {
      char *name = g_strdup_printf ("%s %u", stem, i);
      if (names->find (names->data, type, name) == 0)
        return name;
      g_free (name);
    }
}

/* The first system and area that have no cell yet. */
static gboolean
free_cell (TallyJob *job, JobRecord *cell)
{
  for (guint s = 0; s < job_n (job, JOB_SYSTEM); s++)
    for (guint a = 0; a < job_n (job, JOB_AREA); a++)
      {
        gint64 system = job_at (job, JOB_SYSTEM, s)->id, area = job_at (job, JOB_AREA, a)->id;
        gboolean taken = FALSE;
        for (guint i = 0; i < job_n (job, JOB_CELL) && !taken; i++)
          {
            const JobRecord *other = job_at (job, JOB_CELL, i);
            taken = other->num[CELL_SYSTEM] == system && other->num[CELL_AREA] == area;
          }
        if (taken)
          continue;
        cell->num[CELL_SYSTEM] = system;
        cell->num[CELL_AREA] = area;
        return TRUE;
      }
  return FALSE;
}

/* A blank row before position @at, behind @already others of the same edit, whole enough to be kept; NULL where there is no place
 * for one. @place: a cell gets a system and area that have none yet. At the end when the order has no gap left. */
static JobRecord *
blank_row (TallyRecordSheet *self, guint at, guint already, gboolean place)
{
  TallyJob *job = session_job (self->session);
  gint64 ord = 0, step = 0;
  JobRecord *r;
  int name = name_field (self->type);

  if (!job_ord_before (job, self->type, at, already + 1, &ord, &step))
    ord = job_n (job, self->type) ? job_at (job, self->type, job_n (job, self->type) - 1)->ord + 1 + already : 0;
  r = job_record_new (self->type, job_take_id (job, self->type), ord + step * already);
  if (name >= 0)
    {
      g_autofree char *text_name = free_name (job, self->type, self->type == JOB_SYSTEM ? _ ("System") : _ ("Area"),
                                              job_n (job, self->type) + 1 + already);
      job_record_read (r, name, text_name, job_names (job), NULL);
    }
  else if (self->type == JOB_CELL && place && (already > 0 || !free_cell (job, r)))
    g_clear_pointer (&r, job_record_unref);
  return r;
}

static gboolean
refuse_row (TallyRecordSheet *self, JobEdit *edit)
{
  job_edit_free (edit);
  session_say (self->session, SESSION_REFUSED, "%s",
               self->type == JOB_CELL ? _ ("every system has its cell in every area, or there is no system or area: nothing to add")
                                      : _ ("there is no place for another row"));
  return FALSE;
}

static gboolean
apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label)
{
  TallyRecordSheet *self = TALLY_RECORD_SHEET (model);
  TallyJob *job = job_of (model);
  guint present = n_rows (model), added = 0;
  g_autoptr (GHashTable) after = g_hash_table_new (NULL, NULL); /* row + 1 -> JobRecord, borrowed from the edit */
  JobEdit *edit;

  if (!job)
    return FALSE;
  edit = job_edit_new (label);
  for (gsize i = 0; i < n; i++)
    {
      const GridPatchCell *c = &cells[i];
      JobRecord *r = g_hash_table_lookup (after, GUINT_TO_POINTER (c->row + 1));
      if (!r)
        {
          const JobRecord *before = c->row < present ? job_at (job, self->type, c->row) : NULL;
          r = before ? job_record_copy (before) : blank_row (self, present, added++, FALSE);
          if (!r)
            return refuse_row (self, edit);
          job_edit_add (edit, before ? job_record_ref (before) : NULL, r);
          g_hash_table_insert (after, GUINT_TO_POINTER (c->row + 1), r);
        }
      job_record_read (r, (int) c->column, c->text, job_names (job), NULL); /* what is not understood stays as typed */
    }
  return session_apply (self->session, edit);
}

static gboolean
insert_rows (TallyGridModel *model, guint at, guint n)
{
  TallyRecordSheet *self = TALLY_RECORD_SHEET (model);
  JobEdit *edit;

  if (!job_of (model))
    return FALSE;
  edit = job_edit_new (_ ("new row"));
  for (guint i = 0; i < n; i++)
    {
      JobRecord *r = blank_row (self, at, i, TRUE);
      if (!r)
        return refuse_row (self, edit);
      job_edit_add (edit, NULL, r);
    }
  return session_apply (self->session, edit);
}

static gboolean
delete_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  TallyRecordSheet *self = TALLY_RECORD_SHEET (model);
  g_autofree char *label = g_strdup_printf (ngettext ("deletion of %u row", "deletion of %u rows", (gulong) n), (guint) n);
  JobEdit *edit = job_edit_new (label);

  for (gsize i = 0; i < n; i++)
    if (record_of (model, rows[i]))
      job_edit_add (edit, job_record_ref (record_of (model, rows[i])), NULL);
  if (!session_apply (self->session, edit))
    return FALSE;
  session_say (self->session, SESSION_SAID_UNDO, ngettext ("%u row deleted", "%u rows deleted", (gulong) n), (guint) n);
  return TRUE;
}

static gboolean
duplicate_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  TallyRecordSheet *self = TALLY_RECORD_SHEET (model);
  TallyJob *job = job_of (model);
  int name = name_field (self->type);
  JobEdit *edit;

  if (name < 0)
    {
      session_say (self->session, SESSION_REFUSED, "%s", _ ("a system has one cell in an area: add a cell for another place instead"));
      return FALSE;
    }
  edit = job_edit_new (_ ("copy of rows"));
  for (gsize i = 0; i < n; i++)
    {
      const JobRecord *from = record_of (model, rows[i]);
      g_autofree char *stem = NULL, *text_name = NULL;
      JobRecord *r, *copy;
      if (!from)
        continue;
      r = blank_row (self, rows[n - 1] + 1, (guint) i, FALSE);
      stem = job_record_print (from, name, job_names (job));
      text_name = free_name (job, self->type, stem, 2 + (guint) i);
      copy = job_record_copy (from);
      copy->id = r->id;
      copy->ord = r->ord;
      job_record_unref (r);
      job_record_read (copy, name, text_name, job_names (job), NULL);
      job_edit_add (edit, NULL, copy);
    }
  return session_apply (self->session, edit);
}

/* The records change places; the orders stay where they are, made distinct where they are not. */
static gboolean
move_rows (TallyGridModel *model, const guint *rows, gsize n, int by)
{
  TallyRecordSheet *self = TALLY_RECORD_SHEET (model);
  TallyJob *job = job_of (model);
  guint total = n_rows (model);
  g_autoptr (GPtrArray) order = g_ptr_array_new ();
  JobEdit *edit;

  if (!job || n == 0 || (by < 0 && rows[0] < (guint) -by) || (by > 0 && rows[n - 1] + (guint) by >= total))
    return FALSE;
  for (guint i = 0; i < total; i++)
    g_ptr_array_add (order, (gpointer) job_at (job, self->type, i));
  for (gsize k = 0; k < n; k++)
    {
      guint from = by < 0 ? rows[k] : rows[n - 1 - k];
      gpointer r = g_ptr_array_steal_index (order, from);
      g_ptr_array_insert (order, (int) from + by, r);
    }
  edit = job_edit_new (_ ("move of rows"));
  for (guint i = 0; i < total; i++)
    {
      const JobRecord *before = g_ptr_array_index (order, i);
      gint64 ord = (gint64) (i + 1) * 1024;
      JobRecord *r;
      if (before->ord == ord)
        continue;
      r = job_record_copy (before);
      r->ord = ord;
      job_edit_add (edit, job_record_ref (before), r);
    }
  return session_apply (self->session, edit);
}

gboolean
record_sheet_add (TallyRecordSheet *self, const char *const *texts)
{
  TallyJob *job = session_job (self->session);
  JobEdit *edit;
  JobRecord *r;
  gint64 ord = 0, step = 0;

  if (!job)
    return FALSE;
  if (!job_ord_before (job, self->type, job_n (job, self->type), 1, &ord, &step))
    ord = G_MAXINT32;
  r = job_record_new (self->type, job_take_id (job, self->type), ord);
  for (int f = 0; f < job_type_info (self->type)->n_fields; f++)
    if (texts[f])
      job_record_read (r, f, texts[f], job_names (job), NULL);
  edit = job_edit_new (_ ("new row"));
  job_edit_add (edit, NULL, r);
  return session_apply (self->session, edit);
}

/* ---- life ---- */

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

static void
changed_cb (TallySession *session, gpointer edit, TallyRecordSheet *self)
{
  guint rows = n_rows (TALLY_GRID_MODEL (self));
  gboolean metric = session_job (session) && job_names (session_job (session))->metric;

  (void) edit;
  if (rows != self->rows || metric != self->metric)
    grid_model_reset (TALLY_GRID_MODEL (self));
  else if (rows > 0)
    grid_model_rows_changed (TALLY_GRID_MODEL (self), 0, rows);
  self->rows = rows;
  self->metric = metric;
}

static void
job_cb (TallySession *session, TallyRecordSheet *self)
{
  (void) session;
  self->rows = n_rows (TALLY_GRID_MODEL (self));
  grid_model_reset (TALLY_GRID_MODEL (self));
}

static void
tally_record_sheet_dispose (GObject *object)
{
  g_clear_object (&TALLY_RECORD_SHEET (object)->session);
  G_OBJECT_CLASS (tally_record_sheet_parent_class)->dispose (object);
}

static void
tally_record_sheet_class_init (TallyRecordSheetClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_record_sheet_dispose;
}

static void
tally_record_sheet_init (TallyRecordSheet *self)
{
  (void) self;
}

TallyRecordSheet *
record_sheet_new (TallySession *session, JobType type)
{
  TallyRecordSheet *self = g_object_new (TALLY_TYPE_RECORD_SHEET, NULL);

  self->session = g_object_ref (session);
  self->type = type;
  self->rows = n_rows (TALLY_GRID_MODEL (self));
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  return self;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/run-model-private.h"

#include "job/cell.h"
#include "job/note-line.h"
#include "window/runs/run-columns.h"
#include "window/settings.h"

#include <glib/gi18n.h>
#include <string.h>

static void
result_free (gpointer data)
{
  job_run_result_clear (data);
  g_free (data);
}

/* ---- rows ---- */

const JobRecord *
run_model_run (TallyRunModel *self, guint row)
{
  TallyJob *job = session_job (self->session);

  return job && row < self->order->len ? job_find (job, JOB_RUN, g_array_index (self->order, gint64, row)) : NULL;
}

int
run_model_row_of (TallyRunModel *self, gint64 id)
{
  if (!self->rows)
    {
      self->rows = g_hash_table_new (g_int64_hash, g_int64_equal);
      for (guint i = 0; i < self->order->len; i++)
        g_hash_table_insert (self->rows, &g_array_index (self->order, gint64, i), GUINT_TO_POINTER (i + 1));
    }
  return (int) GPOINTER_TO_UINT (g_hash_table_lookup (self->rows, &id)) - 1;
}

const JobRunResult *
run_model_result (TallyRunModel *self, const JobRecord *run)
{
  JobRunResult *result = g_hash_table_lookup (self->kept, &run->id);

  if (!result)
    {
      if (g_hash_table_size (self->kept) > MOST_KEPT)
        g_hash_table_remove_all (self->kept);
      result = g_new0 (JobRunResult, 1);
      job_compute (session_job (self->session), run, JOB_OWN_METHOD, result);
      gint64 *key = g_new (gint64, 1);
      *key = run->id;
      g_hash_table_insert (self->kept, key, result);
    }
  return result;
}

void
run_model_forget_order (TallyRunModel *self)
{
  g_clear_pointer (&self->rows, g_hash_table_unref);
}

void
run_model_refresh (TallyRunModel *self)
{
  TallyJob *job = session_job (self->session);

  run_model_forget_order (self);
  g_array_set_size (self->order, 0);
  g_hash_table_remove_all (self->kept);
  g_hash_table_remove_all (self->gone);
  self->metric = job && job_names (job)->metric;
  self->newest = 0;
  if (job)
    {
      for (guint i = 0; i < job_n (job, JOB_RUN); i++)
        self->newest = MAX (self->newest, job_at (job, JOB_RUN, i)->id);
      self->query.scope = *session_scope (self->session);
      g_autoptr (GArray) positions = job_query_run (job, &self->query);
      for (guint i = 0; i < positions->len; i++)
        {
          gint64 id = job_at (job, JOB_RUN, g_array_index (positions, guint, i))->id;
          g_array_append_val (self->order, id);
        }
    }
  grid_model_reset (TALLY_GRID_MODEL (self));
}

gboolean
run_model_sorted_or_narrowed (TallyRunModel *self)
{
  const JobQuery *q = &self->query;

  return q->sort_field >= 0 || (q->filters && q->filters->len > 0) || q->not_priced || (q->find && *q->find);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyRunModel *self)
{
  TallyJob *job = session_job (session);
  gboolean rows = !edit, around = !edit, units = job && job_names (job)->metric != self->metric;

  for (guint i = 0; edit && i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      const JobRecord *any = d->before ? d->before : d->after;
      if (any->type != JOB_RUN)
        around = TRUE;
      else if (!d->before || !d->after || d->before->ord != d->after->ord)
        rows = TRUE;
      else
        g_hash_table_remove (self->kept, &any->id);
    }
  if (around)
    g_hash_table_remove_all (self->kept);
  if (rows && edit && run_model_sorted_or_narrowed (self))
    run_model_patch_order (self, edit);
  else if (rows)
    run_model_refresh (self);
  else if (units)
    {
      /* Headings and widths are others, the rows are the same. */
      self->metric = !self->metric;
      grid_model_reset (TALLY_GRID_MODEL (self));
    }
  else if (around || edit->deltas->len > 50)
    grid_model_rows_changed (TALLY_GRID_MODEL (self), 0, self->order->len);
  else
    for (guint i = 0; i < edit->deltas->len; i++)
      {
        int row = run_model_row_of (self, g_array_index (edit->deltas, JobDelta, i).after->id);
        if (row >= 0)
          grid_model_rows_changed (TALLY_GRID_MODEL (self), (guint) row, 1);
      }
}

static void
other_cb (TallySession *session, TallyRunModel *self)
{
  (void) session;
  run_model_refresh (self);
}

/* ---- the interface ---- */

static guint
n_rows (TallyGridModel *model)
{
  return TALLY_RUN_MODEL (model)->order->len;
}

static guint
n_columns (TallyGridModel *model)
{
  return TALLY_RUN_MODEL (model)->columns->len;
}

const RunColumn *
run_model_shown_column (TallyGridModel *model, guint column)
{
  return run_column (run_model_column (TALLY_RUN_MODEL (model), column));
}

static char *
title (TallyGridModel *model, guint column)
{
  return g_strdup (_ (run_model_shown_column (model, column)->title));
}

static char *
unit (TallyGridModel *model, guint column)
{
  return g_strdup (run_column_unit (TALLY_RUN_MODEL (model)->session, run_model_shown_column (model, column)));
}

/* The place of a run in its job, whatever is shown around it. */
static guint
number (TallyGridModel *model, guint row)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  TallyJob *job = session_job (self->session);

  if (job && row < self->order->len)
    return (guint) job_position (job, g_array_index (self->order, gint64, row)) + 1;
  return job ? job_n (job, JOB_RUN) + 1 : row + 1;
}

static guint
column_width (TallyGridModel *model, guint column)
{
  return run_column_width (TALLY_RUN_MODEL (model)->session, run_model_shown_column (model, column));
}

static char *
cell_text (TallyGridModel *model, guint row, guint column)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  const JobRecord *run = run_model_run (self, row);

  return run ? run_column_text (self->session, run_model_shown_column (model, column), run, run_model_result (self, run)) : g_strdup ("");
}

/* The field of a column that is filled and not used by the run's kind, -1. Two fields stand in the column of the size. */
static int
unused_field (const RunColumn *c, const JobRecord *run)
{
  int second = job_field_find (JOB_RUN, "size2");

  if (c->field < 0)
    return -1;
  if (job_field_unused (run, c->field))
    return c->field;
  return strcmp (c->key, "size") == 0 && job_field_unused (run, second) ? second : -1;
}

static const Catalogue *
catalogue_of (TallyRunModel *self)
{
  return job_basis (session_job (self->session))->catalogue;
}

/* A cell says what is wrong in it also when something else is why the run is not priced. */
static gboolean
wrong_in_itself (TallyRunModel *self, const RunColumn *c, const JobRecord *run, char **words)
{
  TallyJob *job = session_job (self->session);
  int fields[] = { c->field, strcmp (c->key, "size") == 0 ? job_field_find (JOB_RUN, "size2") : -1 };
  Fault *fault = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (fields); i++)
    if (fields[i] >= 0 && job_cell_wrong (job, run, fields[i], words ? &fault : NULL))
      {
        if (words)
          *words = fault_words (fault, job_record_raw (run, fields[i]));
        g_clear_pointer (&fault, fault_free);
        return TRUE;
      }
  return FALSE;
}

/* Bold words across the row, whatever else stands in it dim; no ground of computed cells. */
static GridCellFlags
note_line_flags (const RunColumn *c)
{
  if (c->field < 0)
    return 0;
  return GRID_CELL_EDITABLE | (strcmp (c->key, "size") == 0 ? GRID_CELL_BOLD : GRID_CELL_DIM);
}

static GridCellFlags
cell_flags (TallyGridModel *model, guint row, guint column)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  const RunColumn *c = run_model_shown_column (model, column);
  const JobRecord *run = run_model_run (self, row);
  GridCellFlags flags = (c->figure ? GRID_CELL_FIGURE : 0) | (c->field >= 0 ? GRID_CELL_EDITABLE : GRID_CELL_COMPUTED);

  if (!run)
    return row == self->order->len && session_job (self->session) ? flags : 0;
  if (job_is_note_line (run))
    return note_line_flags (c);
  const JobRunResult *r = run_model_result (self, run);
  if (c->column == JOB_COLUMN_FIELD && job_minutes_missing (catalogue_of (self), run))
    flags |= GRID_CELL_CAUTION;
  if (c->field < 0)
    return flags;
  if (wrong_in_itself (self, c, run, NULL) || (r->fault && r->fault_field == c->field))
    flags |= GRID_CELL_FAULTY;
  g_autofree char *inherited = run_column_inherited (self->session, c, run, r);
  if (inherited)
    flags |= job_record_is_set (run, c->field) ? GRID_CELL_OVERRIDDEN : GRID_CELL_INHERITED;
  if (unused_field (c, run) >= 0)
    flags |= GRID_CELL_DIM | GRID_CELL_CAUTION;
  return flags;
}

/* Of the empty row. A job that has nothing yet is told what comes first. */
static char *
new_row_message (TallyRunModel *self)
{
  TallyJob *job = session_job (self->session);

  if (job && job_n (job, JOB_RUN) == 0 && job_n (job, JOB_SYSTEM) == 0)
    return g_strdup (_ ("Name the systems and areas first (main menu, Systems and areas), or type a run at once: here, or whole into the line "
                        "below the table (Ctrl+L)"));
  if (job && job_n (job, JOB_RUN) == 0)
    return g_strdup (_ ("Type the first run here cell by cell, or whole into the line below the table (Ctrl+L)"));
  return g_strdup (_ ("Type here to add a run; system, area and drawing come from the row above"));
}

static char *
cell_message (TallyGridModel *model, guint row, guint column)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  const RunColumn *c = run_model_shown_column (model, column);
  const JobRecord *run = run_model_run (self, row);
  const JobRunResult *r;

  if (!run)
    return row == self->order->len ? new_row_message (self) : NULL;
  if (job_is_note_line (run))
    return g_strdup (_ ("A note: nothing in this row is measured or priced; its words stand under Size"));
  r = run_model_result (self, run);
  g_autofree char *own = NULL;
  if (r->fault && r->fault_field != c->field && wrong_in_itself (self, c, run, &own))
    return g_strdup_printf (_ ("Not priced: %s"), own);
  if (r->fault)
    {
      g_autofree char *text = r->fault_field >= 0 ? job_record_print (run, r->fault_field, job_names (session_job (self->session)))
                                                  : g_strdup ("");
      g_autofree char *words = fault_words (r->fault, text);
      return c->field >= 0 && r->fault_field == c->field
               ? g_strdup_printf (_ ("Not priced: %s"), words)
               : g_strdup_printf (_ ("Not priced (%s): %s"),
                                  r->fault_field >= 0 ? _ (job_type_info (JOB_RUN)->field[r->fault_field].title) : _ ("run"), words);
    }
  if (strcmp (c->key, "method") == 0 && r->reason)
    return g_strdup_printf (_ ("%s asked for, but %s"), catalogue_method (job_basis (session_job (self->session))->catalogue, r->asked)->key,
                            r->reason);
  DuctGaugeOrigin o;
  if (strcmp (c->key, "gauge") == 0 && r->method >= 0
      && duct_build_origin (job_basis (session_job (self->session))->catalogue->rules, &r->build, &o))
    return g_strdup_printf (_ ("By rule set %s (%s)%s%s"), o.set_name, duct_status_key (o.status), *o.note ? "; " : "", o.note);
  g_autofree char *inherited = c->field >= 0 ? run_column_inherited (self->session, c, run, r) : NULL;
  if (inherited && !job_record_is_set (run, c->field))
    return g_strdup (_ ("Inherited; type to override it here"));
  return job_caution_words (catalogue_of (self), run);
}

static void
grid_model_init (TallyGridModelInterface *iface)
{
  iface->n_rows = n_rows;
  iface->n_columns = n_columns;
  iface->title = title;
  iface->unit = unit;
  iface->number = number;
  iface->width = column_width;
  iface->text = cell_text;
  iface->flags = cell_flags;
  iface->message = cell_message;
  iface->apply = run_model_apply;
  iface->insert_rows = run_model_insert_rows;
  iface->delete_rows = run_model_delete_rows;
  iface->duplicate_rows = run_model_duplicate_rows;
  iface->move_rows = run_model_move_rows;
}

G_DEFINE_FINAL_TYPE_WITH_CODE (TallyRunModel, tally_run_model, G_TYPE_OBJECT,
                               G_IMPLEMENT_INTERFACE (TALLY_TYPE_GRID_MODEL, grid_model_init))

/* ---- columns ---- */

const GArray *
run_model_columns (TallyRunModel *self)
{
  return self->columns;
}

guint
run_model_column (TallyRunModel *self, guint shown)
{
  return g_array_index (self->columns, guint, shown);
}

void
run_model_set_columns (TallyRunModel *self, const guint *columns, gsize n)
{
  g_autoptr (GString) keys = g_string_new (NULL);

  g_array_set_size (self->columns, 0);
  g_array_append_vals (self->columns, columns, (guint) n);
  for (gsize i = 0; i < n; i++)
    g_string_append_printf (keys, "%s%s", i ? ";" : "", run_column (columns[i])->key);
  settings_set ("runs", "columns", keys->str);
  grid_model_reset (TALLY_GRID_MODEL (self));
}

static void
first_columns (TallyRunModel *self)
{
  g_autofree char *kept = settings_get ("runs", "columns");
  g_auto (GStrv) keys = g_strsplit (kept ? kept : "", ";", -1);

  for (char **key = keys; *key; key++)
    {
      int found = run_column_find (*key);
      guint column = (guint) MAX (found, 0);
      if (found >= 0)
        g_array_append_val (self->columns, column);
    }
  if (self->columns->len > 0)
    return;
  int wide = settings_get_int ("window", "width", 1280) >= 1600 ? 2 : 1;
  for (guint c = 0; c < run_columns_n (); c++)
    if (run_column (c)->at_start > 0 && run_column (c)->at_start <= wide)
      g_array_append_val (self->columns, c);
}

JobQuery *
run_model_query (TallyRunModel *self)
{
  return &self->query;
}

const GArray *
run_model_shown (TallyRunModel *self)
{
  return self->order;
}

void
run_model_sum (TallyRunModel *self, guint row0, guint row1, guint column, guint *filled, guint *numbers, double *sum)
{
  const RunColumn *c = run_model_shown_column (TALLY_GRID_MODEL (self), column);
  TallyJob *job = session_job (self->session);

  *filled = *numbers = 0;
  *sum = 0;
  for (guint row = row0; row <= row1 && row < self->order->len; row++)
    {
      const JobRecord *run = run_model_run (self, row);
      g_autofree char *text = cell_text (TALLY_GRID_MODEL (self), row, column);
      double figure;
      *filled += *text != '\0';
      if (job_column_adds_up (c->column) && job_column_figure (job, run, c->column, run_model_result (self, run), &figure))
        {
          *numbers += 1;
          *sum += figure;
        }
    }
}

/* ---- life ---- */

static void
tally_run_model_finalize (GObject *object)
{
  TallyRunModel *self = TALLY_RUN_MODEL (object);

  run_model_forget_order (self);
  job_query_clear (&self->query);
  g_array_unref (self->columns);
  g_array_unref (self->order);
  g_hash_table_unref (self->kept);
  g_hash_table_unref (self->gone);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_run_model_parent_class)->finalize (object);
}

static void
tally_run_model_class_init (TallyRunModelClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_run_model_finalize;
}

static void
tally_run_model_init (TallyRunModel *self)
{
  self->columns = g_array_new (FALSE, FALSE, sizeof (guint));
  self->order = g_array_new (FALSE, FALSE, sizeof (gint64));
  self->kept = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, result_free);
  self->gone = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, NULL);
  job_query_init (&self->query);
  first_columns (self);
}

TallyRunModel *
run_model_new (TallySession *session)
{
  TallyRunModel *self = g_object_new (TALLY_TYPE_RUN_MODEL, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (other_cb), self, 0);
  g_signal_connect_object (session, "scope", G_CALLBACK (other_cb), self, 0);
  run_model_refresh (self);
  return self;
}

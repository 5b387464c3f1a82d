/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/run-model-private.h"

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

static const JobRunResult *
result_of (TallyRunModel *self, const JobRecord *run)
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

static void
forget_order (TallyRunModel *self)
{
  g_clear_pointer (&self->rows, g_hash_table_unref);
}

void
run_model_refresh (TallyRunModel *self)
{
  TallyJob *job = session_job (self->session);

  forget_order (self);
  g_array_set_size (self->order, 0);
  g_hash_table_remove_all (self->kept);
  if (job)
    {
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

  return q->sort_field >= 0 || q->filter_field >= 0 || q->not_priced || (q->find && *q->find);
}

/* Rows that come or go while a sort or filter is on: what went leaves, what came stands at the end; nothing else moves, so that
 * the table does not jump under the hands. */
static void
patch_order (TallyRunModel *self, const JobEdit *edit)
{
  TallyJob *job = session_job (self->session);
  guint kept = 0;

  for (guint i = 0; i < self->order->len; i++)
    {
      gint64 id = g_array_index (self->order, gint64, i);
      if (job_find (job, JOB_RUN, id))
        g_array_index (self->order, gint64, kept++) = id;
    }
  g_array_set_size (self->order, kept);
  forget_order (self);
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      if (!d->before && d->after->type == JOB_RUN)
        g_array_append_val (self->order, d->after->id);
    }
  forget_order (self);
  grid_model_reset (TALLY_GRID_MODEL (self));
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyRunModel *self)
{
  gboolean rows = !edit, around = !edit;

  (void) session;
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
    patch_order (self, edit);
  else if (rows)
    run_model_refresh (self);
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
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  const char *text = run_model_shown_column (model, column)->unit;
  TallyJob *job = session_job (self->session);

  if (job && job_names (job)->metric)
    text = strcmp (text, "in") == 0 ? "mm" : strcmp (text, "ft") == 0 ? "m" : strcmp (text, "in w.g.") == 0 ? "Pa" : text;
  return g_strdup (*text ? _ (text) : "");
}

static guint
column_width (TallyGridModel *model, guint column)
{
  return run_model_shown_column (model, column)->width;
}

static char *
cell_text (TallyGridModel *model, guint row, guint column)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  const JobRecord *run = run_model_run (self, row);

  return run ? run_column_text (self->session, run_model_shown_column (model, column), run, result_of (self, run)) : g_strdup ("");
}

static gboolean
is_set (const RunColumn *column, const JobRecord *run)
{
  const JobField *f = &job_type_info (JOB_RUN)->field[column->field];

  return f->as == JOB_AS_TEXT ? run->text[f->slot] != NULL : run->num[f->slot] != JOB_UNSET;
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
  const JobRunResult *r = result_of (self, run);
  if (c->field < 0)
    return flags;
  if (job_record_raw (run, c->field) || (r->fault && r->fault_field == c->field)
      || (strcmp (c->key, "size") == 0 && job_record_raw (run, job_field_find (JOB_RUN, "size2"))))
    flags |= GRID_CELL_FAULTY;
  g_autofree char *inherited = run_column_inherited (self->session, c, run, r);
  if (inherited)
    flags |= is_set (c, run) ? GRID_CELL_OVERRIDDEN : GRID_CELL_INHERITED;
  return flags;
}

static char *
cell_message (TallyGridModel *model, guint row, guint column)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  const RunColumn *c = run_model_shown_column (model, column);
  const JobRecord *run = run_model_run (self, row);
  const JobRunResult *r;

  if (!run)
    return row == self->order->len ? g_strdup (_ ("Type here to add a run; system, area and drawing come from the row above")) : NULL;
  r = result_of (self, run);
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
  if (strcmp (c->key, "gauge") == 0 && r->method >= 0 && r->build.rule_row >= 0)
    {
      const DuctRules *rules = job_basis (session_job (self->session))->catalogue->rules;
      const DuctGaugeRow *rule = g_ptr_array_index (rules->gauge_rows, (guint) r->build.rule_row);
      const DuctRuleSet *set = g_ptr_array_index (rules->sets, (guint) rule->set);
      return g_strdup_printf (_ ("By rule set %s (%s)%s%s"), set->key, duct_status_key (rule->status), *rule->note ? "; " : "", rule->note);
    }
  g_autofree char *inherited = c->field >= 0 ? run_column_inherited (self->session, c, run, r) : NULL;
  if (inherited && !is_set (c, run))
    return g_strdup (_ ("Inherited; type to override it here"));
  return NULL;
}

static void
grid_model_init (TallyGridModelInterface *iface)
{
  iface->n_rows = n_rows;
  iface->n_columns = n_columns;
  iface->title = title;
  iface->unit = unit;
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

void
run_model_sum (TallyRunModel *self, guint row0, guint column0, guint row1, guint column1, guint *filled, guint *numbers, double *sum)
{
  *filled = *numbers = 0;
  *sum = 0;
  for (guint row = row0; row <= row1 && row < self->order->len; row++)
    for (guint column = column0; column <= column1 && column < self->columns->len; column++)
      {
        g_autofree char *text = cell_text (TALLY_GRID_MODEL (self), row, column);
        g_auto (GStrv) parts = g_strsplit (text, ",", -1);
        g_autofree char *plain = g_strjoinv ("", parts);
        char *end;
        double value = g_ascii_strtod (plain, &end);
        *filled += *text != '\0';
        if (end != plain && *end == '\0')
          {
            *numbers += 1;
            *sum += value;
          }
      }
}

/* ---- life ---- */

static void
tally_run_model_finalize (GObject *object)
{
  TallyRunModel *self = TALLY_RUN_MODEL (object);

  forget_order (self);
  job_query_clear (&self->query);
  g_array_unref (self->columns);
  g_array_unref (self->order);
  g_hash_table_unref (self->kept);
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

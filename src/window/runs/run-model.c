/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/run-model.h"

#include "window/runs/run-columns.h"
#include "window/settings.h"

#include <glib/gi18n.h>
#include <string.h>

/* Computed rows are kept for what is on the screen; more than this, and all are dropped. */
#define MOST_KEPT 600

struct _TallyRunModel
{
  GObject parent_instance;

  TallySession *session;
  GArray *columns;   /* guint: shown, in order */
  GArray *order;     /* gint64: ids of the rows shown, in order */
  GHashTable *rows;  /* gint64 * (in order) -> row + 1; made when asked */
  GHashTable *kept;  /* gint64 * -> JobRunResult * */
  JobQuery query;
};

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

static gboolean
sorted_or_narrowed (TallyRunModel *self)
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
  if (rows && edit && sorted_or_narrowed (self))
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

static const RunColumn *
shown_column (TallyGridModel *model, guint column)
{
  return run_column (run_model_column (TALLY_RUN_MODEL (model), column));
}

static char *
title (TallyGridModel *model, guint column)
{
  return g_strdup (_ (shown_column (model, column)->title));
}

static char *
unit (TallyGridModel *model, guint column)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  const char *text = shown_column (model, column)->unit;
  TallyJob *job = session_job (self->session);

  if (job && job_names (job)->metric)
    text = strcmp (text, "in") == 0 ? "mm" : strcmp (text, "ft") == 0 ? "m" : strcmp (text, "in w.g.") == 0 ? "Pa" : text;
  return g_strdup (*text ? _ (text) : "");
}

static guint
column_width (TallyGridModel *model, guint column)
{
  return shown_column (model, column)->width;
}

static char *
cell_text (TallyGridModel *model, guint row, guint column)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  const JobRecord *run = run_model_run (self, row);

  return run ? run_column_text (self->session, shown_column (model, column), run, result_of (self, run)) : g_strdup ("");
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
  const RunColumn *c = shown_column (model, column);
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
  const RunColumn *c = shown_column (model, column);
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

/* A new run takes system, area and drawing from @above, or from the part that is shown. */
static JobRecord *
new_run (TallyRunModel *self, const JobRecord *above)
{
  JobRecord *run = job_record_new (JOB_RUN, job_take_id (session_job (self->session), JOB_RUN), 0);
  const JobScope *scope = session_scope (self->session);

  if (above)
    {
      run->num[RUN_SYSTEM] = above->num[RUN_SYSTEM];
      run->num[RUN_AREA] = above->num[RUN_AREA];
      job_record_set_text (run, RUN_DRAWING, above->text[RUN_DRAWING]);
    }
  if (scope->system > 0)
    run->num[RUN_SYSTEM] = scope->system;
  if (scope->area > 0)
    run->num[RUN_AREA] = scope->area;
  return run;
}

/* Puts @runs (their ord is set here) before the position of the job's list that follows @above; a used-up gap renumbers the list
 * first, as a step of its own that undo takes back too. */
static gboolean
place (TallyRunModel *self, const JobRecord *above, JobRecord **runs, guint n, JobEdit *edit)
{
  TallyJob *job = session_job (self->session);
  guint at = above ? (guint) job_position (job, above->id) + 1 : job_n (job, JOB_RUN);
  gint64 first, step;

  if (!job_ord_before (job, JOB_RUN, at, n, &first, &step))
    {
      JobEdit *renumber = job_edit_new (_ ("renumbering of the rows"));
      job_edit_renumber (job, renumber, JOB_RUN);
      if (!session_apply (self->session, renumber) || !job_ord_before (job, JOB_RUN, at, n, &first, &step))
        return FALSE;
    }
  for (guint i = 0; i < n; i++)
    {
      runs[i]->ord = first + step * (gint64) i;
      job_edit_add (edit, NULL, runs[i]);
    }
  return TRUE;
}

static int
compare_cells (gconstpointer a, gconstpointer b)
{
  const GridPatchCell *x = *(const GridPatchCell *const *) a, *y = *(const GridPatchCell *const *) b;

  if (x->row != y->row)
    return x->row < y->row ? -1 : 1;
  return x->column < y->column ? -1 : x->column > y->column;
}

/* The kind decides how a size is read, so it is read before the other cells of its row. */
static void
read_row (TallyRunModel *self, JobRecord *run, GPtrArray *cells, guint from, guint to)
{
  for (int pass = 0; pass < 2; pass++)
    for (guint i = from; i < to; i++)
      {
        const GridPatchCell *cell = g_ptr_array_index (cells, i);
        const RunColumn *c = shown_column (TALLY_GRID_MODEL (self), cell->column);
        if (c->field >= 0 && (strcmp (c->key, "kind") == 0) == (pass == 0))
          run_column_read (self->session, c, run, cell->text, NULL);
      }
}

static gboolean
apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  g_autoptr (GPtrArray) sorted = g_ptr_array_new ();
  g_autoptr (GPtrArray) fresh = g_ptr_array_new ();
  g_autoptr (JobEdit) edit = job_edit_new (label);
  const JobRecord *above;

  if (!session_job (self->session))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    g_ptr_array_add (sorted, (gpointer) &cells[i]);
  g_ptr_array_sort (sorted, compare_cells);
  above = self->order->len > 0 ? run_model_run (self, self->order->len - 1) : NULL;
  for (guint from = 0, to; from < sorted->len; from = to)
    {
      guint row = ((GridPatchCell *) g_ptr_array_index (sorted, from))->row;
      const JobRecord *before = run_model_run (self, row);
      JobRecord *after = before ? job_record_copy (before) : new_run (self, above);
      for (to = from; to < sorted->len && ((GridPatchCell *) g_ptr_array_index (sorted, to))->row == row; to++)
        ;
      read_row (self, after, sorted, from, to);
      if (before && job_record_equal (before, after))
        job_record_unref (after);
      else if (before)
        job_edit_add (edit, job_record_ref (before), after);
      else
        g_ptr_array_add (fresh, after);
    }
  if (fresh->len > 0 && !place (self, above, (JobRecord **) fresh->pdata, fresh->len, edit))
    return FALSE;
  return session_apply (self->session, g_steal_pointer (&edit));
}

gboolean
run_model_add (TallyRunModel *self, JobRecord *run, guint row, const char *label)
{
  g_autoptr (JobEdit) edit = job_edit_new (label);
  const JobRecord *above = self->order->len > 0 ? run_model_run (self, MIN (row, self->order->len - 1)) : NULL;

  if (run->id == 0)
    run->id = job_take_id (session_job (self->session), JOB_RUN);
  return place (self, above, &run, 1, edit) && session_apply (self->session, g_steal_pointer (&edit));
}

static gboolean
insert_rows (TallyGridModel *model, guint at, guint n)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  g_autofree char *label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "insertion of %u row", "insertion of %u rows", n), n);
  g_autoptr (JobEdit) edit = job_edit_new (label);
  g_autofree JobRecord **runs = g_new0 (JobRecord *, n);
  const JobRecord *above = at > 0 ? run_model_run (self, at - 1) : NULL, *here = run_model_run (self, at);

  for (guint i = 0; i < n; i++)
    runs[i] = new_run (self, above ? above : here);
  if (!above && here)
    {
      /* Before the first row. */
      gint64 first, step;
      if (!job_ord_before (session_job (self->session), JOB_RUN, (guint) job_position (session_job (self->session), here->id), n,
                           &first, &step))
        return FALSE;
      for (guint i = 0; i < n; i++)
        {
          runs[i]->ord = first + step * (gint64) i;
          job_edit_add (edit, NULL, runs[i]);
        }
    }
  else if (!place (self, above, runs, n, edit))
    return FALSE;
  return session_apply (self->session, g_steal_pointer (&edit));
}

static gboolean
delete_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  g_autofree char *label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "deletion of %u row", "deletion of %u rows", n), (guint) n);
  JobEdit *edit = job_edit_new (label);

  for (gsize i = 0; i < n; i++)
    if (run_model_run (self, rows[i]))
      job_edit_add (edit, job_record_ref (run_model_run (self, rows[i])), NULL);
  if (!session_apply (self->session, edit))
    return FALSE;
  session_say (self->session, SESSION_SAID_UNDO, g_dngettext (GETTEXT_PACKAGE, "%u row deleted", "%u rows deleted", n), (guint) n);
  return TRUE;
}

static gboolean
duplicate_rows (TallyGridModel *model, const guint *rows, gsize n)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  g_autofree char *label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "copy of %u row", "copy of %u rows", n), (guint) n);
  g_autoptr (JobEdit) edit = job_edit_new (label);
  g_autofree JobRecord **runs = g_new0 (JobRecord *, MAX (n, 1));
  guint made = 0;

  for (gsize i = 0; i < n; i++)
    if (run_model_run (self, rows[i]))
      {
        runs[made] = job_record_copy (run_model_run (self, rows[i]));
        runs[made++]->id = job_take_id (session_job (self->session), JOB_RUN);
      }
  return made > 0 && place (self, run_model_run (self, rows[n - 1]), runs, made, edit)
         && session_apply (self->session, g_steal_pointer (&edit));
}

/* Swaps the orders of the moved rows and of those they pass. */
static gboolean
move_rows (TallyGridModel *model, const guint *rows, gsize n, int by)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  guint first = rows[0], last = rows[n - 1], low = by < 0 ? first - 1 : first, high = by < 0 ? last : last + 1;
  JobEdit *edit;

  if (sorted_or_narrowed (self))
    {
      session_say (self->session, SESSION_REFUSED, _ ("Rows move in the job's own order: take sort and filter away first"));
      return FALSE;
    }
  if ((by < 0 && first == 0) || high >= self->order->len || n != last - first + 1)
    return FALSE;
  edit = job_edit_new (g_dngettext (GETTEXT_PACKAGE, "move of a row", "move of rows", n));
  for (guint row = low; row <= high; row++)
    {
      /* Each row takes the order of the place it comes to. */
      guint to = by < 0 ? (row == low ? high : row - 1) : (row == high ? low : row + 1);
      const JobRecord *before = run_model_run (self, row);
      JobRecord *after = job_record_copy (before);
      after->ord = run_model_run (self, to)->ord;
      job_edit_add (edit, job_record_ref (before), after);
    }
  return session_apply (self->session, edit);
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
  iface->apply = apply;
  iface->insert_rows = insert_rows;
  iface->delete_rows = delete_rows;
  iface->duplicate_rows = duplicate_rows;
  iface->move_rows = move_rows;
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
  for (guint c = 0; c < run_columns_n (); c++)
    if (run_column (c)->at_start)
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

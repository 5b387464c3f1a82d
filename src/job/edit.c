/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/job-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
delta_clear (gpointer data)
{
  JobDelta *delta = data;

  g_clear_pointer (&delta->before, job_record_unref);
  g_clear_pointer (&delta->after, job_record_unref);
}

JobEdit *
job_edit_new (const char *label)
{
  JobEdit *edit = g_new0 (JobEdit, 1);

  edit->label = g_strdup (label);
  edit->deltas = g_array_new (FALSE, TRUE, sizeof (JobDelta));
  g_array_set_clear_func (edit->deltas, delta_clear);
  return edit;
}

void
job_edit_free (JobEdit *edit)
{
  g_free (edit->label);
  g_array_unref (edit->deltas);
  g_free (edit);
}

void
job_edit_add (JobEdit *edit, JobRecord *before, JobRecord *after)
{
  JobDelta delta = { before, after };

  g_return_if_fail (before || after);
  g_array_append_val (edit->deltas, delta);
}

static JobEdit *
inverse (const JobEdit *edit)
{
  JobEdit *back = job_edit_new (edit->label);

  /* Last change first, so that a system is there again before what refers to it, and gone after. */
  for (guint i = edit->deltas->len; i-- > 0;)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      job_edit_add (back, d->after ? job_record_ref (d->after) : NULL, d->before ? job_record_ref (d->before) : NULL);
    }
  return back;
}

static gboolean
refuse (GError **error, JobError code, const char *what)
{
  g_set_error_literal (error, JOB_ERROR, (int) code, what);
  return FALSE;
}

gboolean
job_edit_report (const JobEdit *edit, guint done, GError **error)
{
  if (!edit->progress || edit->progress (edit->progress_data, (double) done / MAX (edit->deltas->len, 1)))
    return TRUE;
  return refuse (error, JOB_ERROR_STOPPED, _ ("stopped: nothing has changed"));
}

/* Ids that the edit leaves in the job (TRUE) or takes out (FALSE), for references from and to it. */
static GHashTable *
outcome (const JobEdit *edit, JobType type)
{
  GHashTable *out = g_hash_table_new (g_int64_hash, g_int64_equal);

  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      const JobRecord *any = d->after ? d->after : d->before;
      if (any->type == type)
        g_hash_table_insert (out, (gpointer) &any->id, GINT_TO_POINTER (d->after != NULL));
    }
  return out;
}

static gboolean
stays (TallyJob *job, GHashTable *out, JobType type, gint64 id)
{
  gpointer left;

  if (id == JOB_UNSET)
    return TRUE;
  if (g_hash_table_lookup_extended (out, &id, NULL, &left))
    return GPOINTER_TO_INT (left);
  return job_find (job, type, id) != NULL;
}

static gboolean
refers_well (TallyJob *job, GHashTable *systems, GHashTable *areas, const JobRecord *r)
{
  if (r->type == JOB_RUN)
    return stays (job, systems, JOB_SYSTEM, r->num[RUN_SYSTEM]) && stays (job, areas, JOB_AREA, r->num[RUN_AREA]);
  if (r->type == JOB_CELL)
    return stays (job, systems, JOB_SYSTEM, r->num[CELL_SYSTEM]) && stays (job, areas, JOB_AREA, r->num[CELL_AREA]);
  return TRUE;
}

/* When a system or area goes, nothing that stays may still name it. */
static gboolean
check_left_behind (TallyJob *job, const JobEdit *edit, GHashTable *systems, GHashTable *areas, GError **error)
{
  static const JobType holders[] = { JOB_RUN, JOB_CELL };
  gboolean deletes = FALSE;

  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      deletes = deletes || (!d->after && (d->before->type == JOB_SYSTEM || d->before->type == JOB_AREA));
    }
  for (gsize h = 0; deletes && h < G_N_ELEMENTS (holders); h++)
    {
      g_autoptr (GHashTable) touched = outcome (edit, holders[h]);
      for (guint i = 0; i < job->rows[holders[h]]->len; i++)
        {
          const JobRecord *r = g_ptr_array_index (job->rows[holders[h]], i);
          if (!g_hash_table_contains (touched, &r->id) && !refers_well (job, systems, areas, r))
            return refuse (error, JOB_ERROR_INVALID,
                           _ ("the system or area still has runs or cells: move or delete them first"));
        }
    }
  return TRUE;
}

/* Systems and areas are found by name: a name is there, and once, after the edit. */
static gboolean
check_names (TallyJob *job, const JobEdit *edit, JobType type, GError **error)
{
  g_autoptr (GHashTable) touched = outcome (edit, type);
  g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
  int slot = type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY;

  if (g_hash_table_size (touched) == 0)
    return TRUE;
  for (guint i = 0; i < job->rows[type]->len; i++)
    {
      const JobRecord *r = g_ptr_array_index (job->rows[type], i);
      if (!g_hash_table_contains (touched, &r->id))
        g_hash_table_add (names, r->text[slot]);
    }
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobRecord *r = g_array_index (edit->deltas, JobDelta, i).after;
      if (!r || r->type != type)
        continue;
      if (!r->text[slot])
        return refuse (error, JOB_ERROR_INVALID, _ ("a system or area needs a name"));
      if (!g_hash_table_add (names, r->text[slot]))
        return refuse (error, JOB_ERROR_INVALID, _ ("this name is taken: choose another"));
    }
  return TRUE;
}

/* Each row once: two changes of one row would both start from what it is now. */
static gboolean
check_once (const JobEdit *edit, GError **error)
{
  guint rows = 0;

  for (int t = 0; t < JOB_N_TYPES; t++)
    {
      g_autoptr (GHashTable) touched = outcome (edit, (JobType) t);
      rows += g_hash_table_size (touched);
    }
  return rows == edit->deltas->len ? TRUE : refuse (error, JOB_ERROR_INVALID, _ ("an edit names one row twice"));
}

static gboolean
same_cell (gconstpointer a, gconstpointer b)
{
  const JobRecord *x = a, *y = b;

  return x->num[CELL_SYSTEM] == y->num[CELL_SYSTEM] && x->num[CELL_AREA] == y->num[CELL_AREA];
}

static guint
hash_cell (gconstpointer a)
{
  const JobRecord *x = a;

  return (guint) ((guint64) x->num[CELL_SYSTEM] * 31 + (guint64) x->num[CELL_AREA]);
}

/* A system has one cell in an area, after the edit: what the edit itself moves away or deletes is in nobody's way. */
static gboolean
check_cells (TallyJob *job, const JobEdit *edit, GError **error)
{
  g_autoptr (GHashTable) touched = outcome (edit, JOB_CELL);
  g_autoptr (GHashTable) cells = g_hash_table_new (hash_cell, same_cell);

  if (g_hash_table_size (touched) == 0)
    return TRUE;
  for (guint i = 0; i < job->rows[JOB_CELL]->len; i++)
    {
      JobRecord *cell = g_ptr_array_index (job->rows[JOB_CELL], i);
      if (!g_hash_table_contains (touched, &cell->id))
        g_hash_table_add (cells, cell);
    }
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      JobRecord *cell = g_array_index (edit->deltas, JobDelta, i).after;
      if (cell && cell->type == JOB_CELL && !g_hash_table_add (cells, cell))
        return refuse (error, JOB_ERROR_INVALID, _ ("this system has a cell in that area already"));
    }
  return TRUE;
}

static gboolean
check_delta (TallyJob *job, const JobDelta *d, GError **error)
{
  const JobRecord *any = d->before ? d->before : d->after;
  const JobRecord *present = job_find (job, any->type, any->id);

  if (d->before && d->after && (d->before->type != d->after->type || d->before->id != d->after->id))
    return refuse (error, JOB_ERROR_INVALID, _ ("an edit cannot turn one row into another"));
  if ((d->before == NULL) != (present == NULL) || (d->before && !job_record_equal (d->before, present)))
    return refuse (error, JOB_ERROR_STALE, _ ("the row was changed meanwhile: look at it again"));
  if (any->type == JOB_HEAD && (!d->after || !d->before))
    return refuse (error, JOB_ERROR_INVALID, _ ("a job has one head record"));
  return TRUE;
}

static gboolean
check_edit (TallyJob *job, const JobEdit *edit, GError **error)
{
  g_autoptr (GHashTable) systems = outcome (edit, JOB_SYSTEM);
  g_autoptr (GHashTable) areas = outcome (edit, JOB_AREA);

  if (!check_once (edit, error) || !check_names (job, edit, JOB_SYSTEM, error)
      || !check_names (job, edit, JOB_AREA, error) || !check_cells (job, edit, error))
    return FALSE;
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      if (!check_delta (job, d, error))
        return FALSE;
      if (d->after && !refers_well (job, systems, areas, d->after))
        return refuse (error, JOB_ERROR_INVALID, _ ("there is no such system or area"));
    }
  return check_left_behind (job, edit, systems, areas, error) && job_check_labour (job, edit, error)
         && job_check_mix (job, edit, error);
}

/* Whether the basis is compiled of it: a changed figure, or the week that sets the pay. */
static gboolean
in_basis (const JobRecord *r)
{
  return r->type == JOB_CHANGE || (r->type == JOB_SETTING && g_str_has_prefix (r->text[SETTING_KEY] ? r->text[SETTING_KEY] : "", "overtime."));
}

/* Figures that only enter when totals are read: prices, rates, the build-up. */
static gboolean
only_money (const JobRecord *change)
{
  if (change->type != JOB_CHANGE)
    return TRUE;
  if (g_strcmp0 (change->text[CHANGE_OBJECT], "item") == 0)
    return g_strcmp0 (change->text[CHANGE_FIELD], "price") == 0;
  return g_strcmp0 (change->text[CHANGE_OBJECT], "step") != 0;
}

static gboolean
same_num (const JobRecord *a, const JobRecord *b, int slot)
{
  return a->num[slot] == b->num[slot];
}

/* All but the slots of @num and @text (ending with -1) are the same: what is added to a record later counts as reaching
 * construction until it is listed. */
static gboolean
same_but (const JobRecord *a, const JobRecord *b, const int *num, const int *text)
{
  const JobTypeInfo *info = job_type_info (a->type);
  gboolean same = TRUE;

  for (int i = 0; i < info->n_num; i++)
    {
      gboolean left_out = FALSE;
      for (const int *n = num; *n >= 0; n++)
        left_out = left_out || *n == i;
      same = same && (left_out || same_num (a, b, i));
    }
  for (int i = 0; i < info->n_text; i++)
    {
      gboolean left_out = FALSE;
      for (const int *n = text; *n >= 0; n++)
        left_out = left_out || *n == i;
      same = same && (left_out || a->text[i] == b->text[i]);
    }
  return same;
}

/* Whether an edit reaches only what is looked up when totals are read. */
static gboolean
keeps_quantities (const JobDelta *d)
{
  /* An area's drop is the length of its hangers. */
  static const int area_num[] = { AREA_HEIGHT, AREA_FACTOR, AREA_TIMES, AREA_FLOOR_SHARE, AREA_RAISED, AREA_REMADE, -1 };
  static const int area_text[] = { AREA_KEY, AREA_CONDITION, -1 };
  static const int head_num[] = { HEAD_UNITS, HEAD_DECIMALS, -1 };
  static const int head_text[] = { HEAD_NAME, HEAD_CLIENT, HEAD_PLACE, HEAD_ENGINEER, HEAD_CURRENCY, HEAD_CONDITION, HEAD_NOTE,
                                   HEAD_PREFER, -1 };
  const JobRecord *any = d->before ? d->before : d->after;

  if (any->type == JOB_DRAWING || any->type == JOB_SETTING || any->type == JOB_WHAT_IF || any->type == JOB_STOCK)
    return TRUE;
  if ((!d->before || !d->after) && (any->type == JOB_SYSTEM || any->type == JOB_AREA))
    return TRUE; /* no run that stays can be in it */
  if (any->type == JOB_AREA)
    return same_but (d->before, d->after, area_num, area_text);
  if (d->before && d->after && d->before->type == JOB_HEAD)
    return same_but (d->before, d->after, head_num, head_text);
  return FALSE;
}

/* The part of the job whose totals an edit of an inherited value puts out of date. */
static JobScope
reach (const JobDelta *d)
{
  const JobRecord *r = d->after ? d->after : d->before;

  if (r->type == JOB_SYSTEM)
    return (JobScope) { r->id, 0 };
  if (r->type == JOB_AREA)
    return (JobScope) { 0, r->id };
  if (r->type == JOB_CELL && r->num[CELL_SYSTEM] != JOB_UNSET && r->num[CELL_AREA] != JOB_UNSET)
    return (JobScope) { r->num[CELL_SYSTEM], r->num[CELL_AREA] };
  return (JobScope) { 0, 0 };
}

gboolean
job_compile_basis (TallyJob *job, const GPtrArray *what_if, CostBasis **basis, Fault **fault)
{
  g_autoptr (GPtrArray) changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);

  job_labour_changes (job, changes);
  for (guint i = 0; i < job->rows[JOB_CHANGE]->len; i++)
    {
      const JobRecord *r = g_ptr_array_index (job->rows[JOB_CHANGE], i);
      g_ptr_array_add (changes, cost_change_new (r->text[CHANGE_OBJECT] ? r->text[CHANGE_OBJECT] : "",
                                                 r->text[CHANGE_KEY], r->text[CHANGE_FIELD] ? r->text[CHANGE_FIELD] : "",
                                                 r->text[CHANGE_VALUE] ? r->text[CHANGE_VALUE] : ""));
    }
  for (guint i = 0; what_if && i < what_if->len; i++)
    g_ptr_array_add (changes, cost_change_copy (g_ptr_array_index (what_if, i)));
  *basis = cost_basis_new (job->catalogue, changes, NULL, fault);
  return *basis != NULL;
}

static void
move_runs (TallyJob *job, const JobEdit *edit, gboolean one_by_one, int sign)
{
  for (guint i = 0; one_by_one && i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      const JobRecord *run = sign < 0 ? d->before : d->after;
      if (run && run->type == JOB_RUN)
        job_totals_run (job, run, sign);
    }
}

/* Changes memory; cannot fail any more. Totals of runs move one by one; an edit of what runs inherit rebuilds the totals
 * of its reach once at the end. */
static void
carry_out (TallyJob *job, const JobEdit *edit, CostBasis *basis, gboolean rebuild_all)
{
  g_autoptr (GArray) rebuild = g_array_new (FALSE, FALSE, sizeof (JobScope));
  gboolean stale = FALSE, runs = FALSE;

  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      const JobRecord *any = d->before ? d->before : d->after;
      runs = runs || any->type == JOB_RUN;
      if (any->type == JOB_CHANGE || any->type == JOB_RUN)
        continue;
      stale = TRUE;
      if (!keeps_quantities (d))
        {
          JobScope scope = reach (d);
          JobDelta turned = { NULL, d->before };
          g_array_append_val (rebuild, scope);
          if (d->before && any->type == JOB_CELL) /* a cell that moved reaches its old place too */
            {
              scope = reach (&turned);
              g_array_append_val (rebuild, scope);
            }
        }
    }
  /* With lengths through fittings one row changes what another one is: all totals are reckoned anew, before and after. */
  rebuild_all = rebuild_all || job_through_on (job);
  /* Runs leave the totals while everything they inherit is as it was, and enter when all of it is as it will be. */
  gboolean one_by_one = !rebuild_all && rebuild->len == 0;
  move_runs (job, edit, one_by_one, -1);
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      job_put (job, d->before, d->after);
    }
  if (basis)
    {
      cost_basis_unref (job->basis);
      job->basis = basis;
    }
  if (stale || basis)
    job_totals_stale (job);
  move_runs (job, edit, one_by_one, 1);
  /* One part alone is rebuilt only when no run of another part changed with it. */
  if (rebuild_all || rebuild->len > 1 || (rebuild->len == 1 && runs))
    job_recompute (job);
  else if (rebuild->len == 1)
    job_totals_rebuild (job, &g_array_index (rebuild, JobScope, 0));
}

/* Removing the basis of an edit that the store refused leaves no trace: everything is checked and compiled before. */
static gboolean
perform (TallyJob *job, const JobEdit *edit, GError **error)
{
  CostBasis *basis = NULL;
  gboolean compile = FALSE, rebuild_all = FALSE;
  Fault *fault = NULL;

  if (!check_edit (job, edit, error))
    return FALSE;
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      const JobRecord *any = d->before ? d->before : d->after;
      if (!in_basis (any))
        continue;
      compile = TRUE;
      rebuild_all = rebuild_all || (d->before && !only_money (d->before)) || (d->after && !only_money (d->after));
    }
  if (compile)
    {
      /* The basis is made of the change records as they will be: put them in, compile, and take them out if that fails. */
      for (guint i = 0; i < edit->deltas->len; i++)
        {
          const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
          if (in_basis (d->before ? d->before : d->after))
            job_put (job, d->before, d->after);
        }
      gboolean compiled = job_compile_basis (job, job->what_if, &basis, &fault);
      for (guint i = edit->deltas->len; i-- > 0;)
        {
          const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
          if (in_basis (d->before ? d->before : d->after))
            job_put (job, d->after, d->before);
        }
      if (!compiled)
        {
          g_autofree char *words = fault_words (fault, NULL);
          fault_free (fault);
          return refuse (error, JOB_ERROR_INVALID, words);
        }
    }
  if (job->sink.apply && !job->sink.apply (job->sink.self, edit, error))
    {
      g_clear_pointer (&basis, cost_basis_unref);
      return FALSE;
    }
  carry_out (job, edit, basis, rebuild_all);
  return TRUE;
}

gboolean
job_apply (TallyJob *job, JobEdit *edit, GError **error)
{
  if (edit->deltas->len == 0)
    {
      job_edit_free (edit);
      return TRUE;
    }
  if (!perform (job, edit, error))
    {
      job_edit_free (edit);
      return FALSE;
    }
  g_ptr_array_add (job->undo, edit);
  g_ptr_array_set_size (job->redo, 0);
  /* Last, so that who listens finds undo and redo as they are now. */
  g_signal_emit_by_name (job, "changed", edit);
  return TRUE;
}

static gboolean
step_back (TallyJob *job, GPtrArray *from, GPtrArray *to, GError **error)
{
  g_autoptr (JobEdit) back = NULL;
  JobEdit *done;

  if (from->len == 0)
    return TRUE;
  back = inverse (g_ptr_array_index (from, from->len - 1));
  if (!perform (job, back, error))
    return FALSE;
  g_ptr_array_remove_index (from, from->len - 1);
  done = g_steal_pointer (&back);
  g_ptr_array_add (to, done);
  g_signal_emit_by_name (job, "changed", done);
  return TRUE;
}

gboolean
job_undo (TallyJob *job, GError **error)
{
  return step_back (job, job->undo, job->redo, error);
}

gboolean
job_redo (TallyJob *job, GError **error)
{
  return step_back (job, job->redo, job->undo, error);
}

const char *
job_undo_label (TallyJob *job)
{
  return job->undo->len ? ((JobEdit *) g_ptr_array_index (job->undo, job->undo->len - 1))->label : NULL;
}

const char *
job_redo_label (TallyJob *job)
{
  return job->redo->len ? ((JobEdit *) g_ptr_array_index (job->redo, job->redo->len - 1))->label : NULL;
}

gboolean
job_edit_field (TallyJob *job, JobType type, gint64 id, int field, const char *text, Fault **fault, GError **error)
{
  const JobRecord *present = job_find (job, type, id);
  g_autofree char *label = NULL;
  JobEdit *edit;
  JobRecord *after;

  if (!present)
    return refuse (error, JOB_ERROR_STALE, _ ("the row is not there any more"));
  label = g_strdup_printf (_ ("change of %s"), _ (job_type_info (type)->field[field].title));
  after = job_record_copy (present);
  job_record_read (after, field, text, &job->names, fault);
  edit = job_edit_new (label);
  job_edit_add (edit, job_record_ref (present), after);
  return job_apply (job, edit, error);
}

gboolean
job_set_what_if (TallyJob *job, const GPtrArray *changes, Fault **fault)
{
  CostBasis *basis;

  if (!job_compile_basis (job, changes, &basis, fault))
    return FALSE;
  g_ptr_array_set_size (job->what_if, 0);
  for (guint i = 0; changes && i < changes->len; i++)
    g_ptr_array_add (job->what_if, cost_change_copy (g_ptr_array_index (changes, i)));
  cost_basis_unref (job->basis);
  job->basis = basis;
  job_recompute (job);
  return TRUE;
}

gboolean
job_set_catalogue (TallyJob *job, Catalogue *catalogue, Fault **fault)
{
  Catalogue *old = job->catalogue;
  CostBasis *basis;

  job->catalogue = catalogue;
  if (!job_compile_basis (job, job->what_if, &basis, fault))
    {
      job->catalogue = old;
      return FALSE;
    }
  catalogue_ref (catalogue);
  catalogue_unref (old);
  /* Totals are as wide as the basis: drop them before it changes. */
  job_totals_forget (job);
  cost_basis_unref (job->basis);
  job->basis = basis;
  job_recompute (job);
  return TRUE;
}

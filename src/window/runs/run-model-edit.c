/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/run-model-private.h"

#include <glib/gi18n.h>
#include <string.h>

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
        const RunColumn *c = run_model_shown_column (TALLY_GRID_MODEL (self), cell->column);
        if (c->field >= 0 && (strcmp (c->key, "kind") == 0) == (pass == 0))
          run_column_read (self->session, c, run, cell->text, NULL);
      }
}

gboolean
run_model_apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label)
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

gboolean
run_model_insert_rows (TallyGridModel *model, guint at, guint n)
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

gboolean
run_model_delete_rows (TallyGridModel *model, const guint *rows, gsize n)
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

gboolean
run_model_duplicate_rows (TallyGridModel *model, const guint *rows, gsize n)
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
gboolean
run_model_move_rows (TallyGridModel *model, const guint *rows, gsize n, int by)
{
  TallyRunModel *self = TALLY_RUN_MODEL (model);
  guint first = rows[0], last = rows[n - 1], low = by < 0 ? first - 1 : first, high = by < 0 ? last : last + 1;
  JobEdit *edit;

  if (run_model_sorted_or_narrowed (self))
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

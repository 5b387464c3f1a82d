/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the selected cells come to. */
#include "config.h"

#include "window/runs/runs-private.h"

#include "job/note-line.h"
#include "window/runs/run-columns.h"
#include "window/runs/runs-view.h"
#include "window/totals-line.h"

#include <glib/gi18n.h>

#define MOST_ADDED 20000 /* rows; a wider selection is counted only */

/* Figures are added a column at a time: feet and money have no sum together. */
static char *
sum_words (TallyRunsView *self, guint row0, guint column0, guint row1, guint column1)
{
  GString *out = g_string_new (NULL);
  guint filled, numbers;
  double sum;

  for (guint i = column0; i <= column1 && row1 - row0 < MOST_ADDED; i++)
    {
      const RunColumn *c = run_column (run_model_column (self->model, i));
      const char *unit = run_column_unit (self->session, c);
      if (column0 != column1 && !job_column_adds_up (c->column))
        continue;
      run_model_sum (self->model, row0, row1, i, &filled, &numbers, &sum);
      if (column0 == column1)
        g_string_append_printf (out, _ (" · %s: %u filled"), _ (c->title), filled);
      if (numbers == 0)
        continue;
      g_autofree char *total = job_figure_print (sum, 2), *mean = job_figure_print (sum / numbers, 2);
      if (column0 == column1)
        g_string_append_printf (out, _ (", sum %s%s%s, average %s"), total, *unit ? " " : "", unit, mean);
      else
        g_string_append_printf (out, " · %s %s%s%s", _ (c->title), total, *unit ? " " : "", unit);
    }
  return g_string_free (out, FALSE);
}

static gboolean
sum_cb (gpointer data)
{
  TallyRunsView *self = data;
  guint row0, column0, row1, column1, runs = 0;

  self->sum_idle = 0;
  grid_get_selection (self->grid, &row0, &column0, &row1, &column1);
  if (!self->totals || !session_job (self->session) || column1 >= run_model_columns (self->model)->len)
    return G_SOURCE_REMOVE;
  if (row0 == row1 && column0 == column1)
    {
      tally_totals_line_set_selection (self->totals, "");
      return G_SOURCE_REMOVE;
    }
  for (guint row = row0; row <= row1; row++)
    {
      const JobRecord *run = run_model_run (self->model, row);
      runs += run && !job_is_note_line (run) ? 1 : 0;
    }
  if (runs == 0)
    {
      tally_totals_line_set_selection (self->totals, "");
      return G_SOURCE_REMOVE;
    }
  g_autofree char *sums = sum_words (self, row0, column0, row1, column1);
  g_autofree char *text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u run selected%s", "%u runs selected%s", runs), runs, sums);
  tally_totals_line_set_selection (self->totals, text);
  return G_SOURCE_REMOVE;
}

void
runs_selection_queue (TallyRunsView *self)
{
  if (self->sum_idle == 0)
    self->sum_idle = g_timeout_add (40, sum_cb, self);
}

void
runs_selection_dispose (TallyRunsView *self)
{
  g_clear_handle_id (&self->sum_idle, g_source_remove);
}

void
tally_runs_view_show_run (GtkWidget *view, gint64 id)
{
  TallyRunsView *self = TALLY_RUNS_VIEW (view);
  const GArray *columns = run_model_columns (self->model);
  int row = session_job (self->session) ? run_model_row_of (self->model, id) : -1;
  guint column = 0;
  JobRunResult r;

  if (row < 0 && session_job (self->session))
    {
      g_signal_emit_by_name (self->show_all, "clicked");
      row = run_model_row_of (self->model, id);
    }
  if (row < 0)
    return;
  if (!job_compute (session_job (self->session), run_model_run (self->model, (guint) row), JOB_OWN_METHOD, &r))
    for (guint c = 0; c < columns->len; c++)
      if (run_column (run_model_column (self->model, c))->field == r.fault_field)
        column = c;
  job_run_result_clear (&r);
  grid_set_cursor (self->grid, (guint) row, column);
  gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

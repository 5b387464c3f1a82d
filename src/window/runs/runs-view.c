/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/runs-view.h"

#include "window/runs/run-columns.h"
#include "window/runs/runs-private.h"
#include "window/settings.h"
#include "window/totals-line.h"

#include <glib/gi18n.h>
#include <string.h>

G_DEFINE_FINAL_TYPE (TallyRunsView, tally_runs_view, GTK_TYPE_BOX)

static void
show_conclusion (TallyRunsView *self)
{
  TallyJob *job = session_job (self->session);
  g_autofree char *text = NULL;
  JobTotals totals;

  if (!job)
    return;
  job_totals (job, session_scope (self->session), JOB_OWN_METHOD, &totals);
  gint64 all = totals.runs + totals.not_priced;
  g_autofree char *notes = totals.notes > 0 ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, " %d note.", " %d notes.", (gulong) totals.notes),
                                                               (int) totals.notes)
                                            : g_strdup ("");
  if (all == 0)
    text = g_strdup (job_n (job, JOB_RUN) > 0 ? _ ("No runs in this part yet.") : _ ("No runs yet."));
  else if (totals.not_priced == 0)
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d run, priced.", "%d runs, every one priced.", (gulong) all), (int) all);
  else
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d of %d runs is not priced.", "%d of %d runs are not priced.",
                                         (gulong) totals.not_priced),
                            (int) totals.not_priced, (int) all);
  g_autofree char *whole = g_strconcat (text, notes, NULL);
  gtk_label_set_label (self->conclusion, whole);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->conclusion), whole);
  job_totals_clear (&totals);
  runs_filter_show (self);
}

/* The line above the table: where the cursor is, what stands there, what is to say about it. */
static void
show_cell (TallyRunsView *self)
{
  guint row, column;
  const RunColumn *c;

  grid_get_cursor (self->grid, &row, &column);
  if (column >= run_model_columns (self->model)->len)
    return;
  c = run_column (run_model_column (self->model, column));
  g_autofree char *address = g_strdup_printf (_ ("Row %u · %s"), grid_model_number (TALLY_GRID_MODEL (self->model), row), _ (c->title));
  g_autofree char *text = grid_model_text (TALLY_GRID_MODEL (self->model), row, column);
  g_autofree char *message = grid_model_message (TALLY_GRID_MODEL (self->model), row, column);
  GridCellFlags flags = grid_model_flags (TALLY_GRID_MODEL (self->model), row, column);
  const JobRecord *run = run_model_run (self->model, row);

  self->filling = TRUE;
  gtk_label_set_label (self->address, address);
  gtk_editable_set_text (self->value, flags & GRID_CELL_INHERITED ? "" : text);
  gtk_editable_set_editable (self->value, (flags & GRID_CELL_EDITABLE) != 0);
  gtk_label_set_label (self->message, message ? message : "");
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->message), message);
  if (run && job_record_raw (run, MAX (c->field, 0)))
    gtk_widget_add_css_class (GTK_WIDGET (self->message), "faulty");
  else if (message && g_str_has_prefix (message, _ ("Not priced")))
    gtk_widget_add_css_class (GTK_WIDGET (self->message), "faulty");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self->message), "faulty");
  self->filling = FALSE;
}

static void
tell_selection (TallyRunsView *self)
{
  guint row0, column0, row1, column1;
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  grid_get_selection (self->grid, &row0, &column0, &row1, &column1);
  for (guint row = row0; row <= row1; row++)
    {
      const JobRecord *run = run_model_run (self->model, row);
      if (run)
        g_array_append_val (ids, run->id);
    }
  session_set_selection (self->session, (const gint64 *) (gpointer) ids->data, ids->len);
  runs_selection_queue (self);
}

static void
cursor_cb (TallyGrid *grid, TallyRunsView *self)
{
  (void) grid;
  show_cell (self);
}

void
runs_view_refuse (TallyRunsView *self, const char *words)
{
  gtk_label_set_label (self->message, words);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->message), words);
  gtk_widget_add_css_class (GTK_WIDGET (self->message), "faulty");
}

static void
refused_cb (TallyGrid *grid, const char *words, TallyRunsView *self)
{
  (void) grid;
  runs_view_refuse (self, words);
}

static void
selected_cb (TallyGrid *grid, TallyRunsView *self)
{
  (void) grid;
  tell_selection (self);
}

static void
show_sort_mark (TallyRunsView *self)
{
  const JobQuery *query = run_model_query (self->model);
  const GArray *columns = run_model_columns (self->model);
  int mark = -1;

  for (guint i = 0; query->sort_field >= 0 && i < columns->len; i++)
    if (run_column (g_array_index (columns, guint, i))->column == query->sort_field)
      mark = (int) i;
  grid_set_sort_mark (self->grid, mark, query->descending);
}

void
runs_view_requery (TallyRunsView *self)
{
  guint row, column;
  const JobRecord *run;
  gint64 id;
  int at;

  grid_get_cursor (self->grid, &row, &column);
  run = run_model_run (self->model, row);
  id = run ? run->id : 0;
  run_model_refresh (self->model);
  at = id > 0 ? run_model_row_of (self->model, id) : -1;
  if (at >= 0)
    grid_set_cursor (self->grid, (guint) at, column);
  show_sort_mark (self);
  show_conclusion (self);
  show_cell (self);
  tell_selection (self);
}

/* A heading: up, down, then the job's own order again. */
static void
sort_cb (TallyGrid *grid, guint column, TallyRunsView *self)
{
  JobQuery *query = run_model_query (self->model);
  const RunColumn *c = run_column (run_model_column (self->model, column));

  (void) grid;
  if (query->sort_field != c->column)
    {
      query->sort_field = c->column;
      query->descending = FALSE;
    }
  else if (!query->descending)
    query->descending = TRUE;
  else
    query->sort_field = -1;
  runs_view_requery (self);
}

static void
resized_cb (TallyGrid *grid, guint column, TallyRunsView *self)
{
  settings_set_int ("runs-width", run_column (run_model_column (self->model, column))->key, grid_get_column_width (grid, column));
}

static void
restore_widths (TallyRunsView *self)
{
  const GArray *columns = run_model_columns (self->model);

  for (guint i = 0; i < columns->len; i++)
    {
      int width = settings_get_int ("runs-width", run_column (run_model_column (self->model, i))->key, 0);
      if (width > 0)
        grid_set_column_width (self->grid, i, width);
    }
}

static void
value_activate_cb (GtkEntry *entry, TallyRunsView *self)
{
  GridPatchCell cell;
  const RunColumn *c;

  grid_get_cursor (self->grid, &cell.row, &cell.column);
  c = run_column (run_model_column (self->model, cell.column));
  g_autofree char *label = g_strdup_printf (_ ("change of %s"), _ (c->title));
  cell.text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry)));
  grid_model_apply (TALLY_GRID_MODEL (self->model), &cell, 1, label);
  g_free (cell.text);
  gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

/* ---- find, filter, columns ---- */

static gboolean
find_now_cb (gpointer data)
{
  TallyRunsView *self = data;
  JobQuery *query = run_model_query (self->model);

  self->find_wait = 0;
  g_free (query->find);
  query->find = g_strdup (gtk_editable_get_text (self->find));
  runs_view_requery (self);
  return G_SOURCE_REMOVE;
}

static void
find_cb (GtkSearchEntry *entry, TallyRunsView *self)
{
  (void) entry;
  if (self->filling)
    return;
  g_clear_handle_id (&self->find_wait, g_source_remove);
  self->find_wait = g_timeout_add (150, find_now_cb, self);
}

static void
find_done_cb (GtkSearchEntry *entry, TallyRunsView *self)
{
  (void) entry;
  gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

static void
faulty_cb (GtkToggleButton *button, TallyRunsView *self)
{
  if (self->filling)
    return;
  run_model_query (self->model)->not_priced = gtk_toggle_button_get_active (button);
  runs_view_requery (self);
}

static void
all_shown_cb (GtkPopover *popover, TallyRunsView *self)
{
  guint row, column;
  const RunColumn *c;

  (void) popover;
  grid_get_cursor (self->grid, &row, &column);
  c = run_column (run_model_column (self->model, column));
  g_autofree char *text = g_strdup_printf (_ ("%s in all %u rows shown:"), _ (c->title), grid_model_n_rows (TALLY_GRID_MODEL (self->model)));
  gtk_label_set_label (self->all_label, text);
  gtk_widget_set_sensitive (GTK_WIDGET (self->all_apply), c->field >= 0);
  gtk_widget_grab_focus (GTK_WIDGET (self->all_entry));
}

static void
all_apply_cb (gpointer source, TallyRunsView *self)
{
  guint n = grid_model_n_rows (TALLY_GRID_MODEL (self->model)), row, column;
  g_autofree GridPatchCell *cells = g_new (GridPatchCell, MAX (n, 1));

  (void) source;
  grid_get_cursor (self->grid, &row, &column);
  for (guint i = 0; i < n; i++)
    cells[i] = (GridPatchCell) { i, column, (char *) gtk_editable_get_text (self->all_entry) };
  g_autofree char *label = g_strdup_printf (_ ("change of %s in %u rows"), _ (run_column (run_model_column (self->model, column))->title), n);
  if (n > 0 && grid_model_apply (TALLY_GRID_MODEL (self->model), cells, n, label))
    session_say (self->session, SESSION_SAID_UNDO, g_dngettext (GETTEXT_PACKAGE, "%u row changed", "%u rows changed", n), n);
  gtk_popover_popdown (self->all_popover);
  gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

static void
column_toggled_cb (GtkCheckButton *check, TallyRunsView *self)
{
  guint column = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (check), "column"));
  g_autoptr (GArray) columns = g_array_new (FALSE, FALSE, sizeof (guint));
  const GArray *now = run_model_columns (self->model);
  gboolean shown = gtk_check_button_get_active (check);

  /* The order that was there stays; a new column goes to its place among all. */
  for (guint i = 0; i < now->len; i++)
    {
      guint c = g_array_index (now, guint, i);
      if (shown && c > column)
        {
          g_array_append_val (columns, column);
          shown = FALSE;
        }
      if (c != column)
        g_array_append_val (columns, c);
    }
  if (shown)
    g_array_append_val (columns, column);
  if (columns->len > 0)
    run_model_set_columns (self->model, (const guint *) (gpointer) columns->data, columns->len);
  restore_widths (self);
  show_sort_mark (self);
}

static void
fill_columns (TallyRunsView *self)
{
  const GArray *now = run_model_columns (self->model);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->columns_box))))
    gtk_box_remove (self->columns_box, child);
  for (guint i = 0; i < run_columns_n (); i++)
    {
      const RunColumn *c = run_column (i);
      const char *unit = run_column_unit (self->session, c);
      g_autofree char *text = *unit ? g_strdup_printf ("%s, %s", _ (c->title), unit) : g_strdup (_ (c->title));
      GtkWidget *check = gtk_check_button_new_with_label (text);
      gboolean shown = FALSE;
      for (guint k = 0; k < now->len; k++)
        shown = shown || g_array_index (now, guint, k) == i;
      g_object_set_data (G_OBJECT (check), "column", GUINT_TO_POINTER (i));
      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), shown);
      g_signal_connect (check, "toggled", G_CALLBACK (column_toggled_cb), self);
      gtk_box_append (self->columns_box, check);
    }
}

/* Where the units of the job are named. */
static void
show_units (TallyRunsView *self)
{
  TallyJob *job = session_job (self->session);
  const char *words = job && job_names (job)->metric ? _ ("elbow 600x300 90 @500 x3, or # a note") : _ ("elbow 24x12 90 @2 x3, or # a note");

  if (job && g_strcmp0 (gtk_entry_get_placeholder_text (GTK_ENTRY (self->line)), words) != 0)
    {
      gtk_entry_set_placeholder_text (GTK_ENTRY (self->line), words);
      fill_columns (self);
    }
}

/* ---- life ---- */

static void
changed_cb (TallySession *session, JobEdit *edit, TallyRunsView *self)
{
  (void) session;
  (void) edit;
  show_units (self);
  show_conclusion (self);
  show_cell (self);
  runs_selection_queue (self);
}

static GtkWidget *
place_of (TallyRunsView *self, const char *where)
{
  return g_strcmp0 (where, "line") == 0 ? GTK_WIDGET (self->line)
         : g_strcmp0 (where, "find") == 0 ? GTK_WIDGET (self->find)
                                          : GTK_WIDGET (self->grid);
}

/* Typing goes to the table from the start, or to where it was asked for. */
static gboolean
first_focus_cb (gpointer data)
{
  g_autoptr (TallyRunsView) self = data;

  if (self->grid && gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_grab_focus (place_of (self, self->wanted));
  self->wanted = NULL;
  return G_SOURCE_REMOVE;
}

static void
map_cb (GtkWidget *widget, gpointer data)
{
  (void) data;
  g_idle_add (first_focus_cb, g_object_ref (widget));
}

static void
scope_cb (TallySession *session, TallyRunsView *self)
{
  (void) session;
  show_conclusion (self);
  show_cell (self);
  tell_selection (self);
}

/* Another job: what was asked of the rows of the one before is asked no more, and work starts in the first cell. */
static void
job_cb (TallySession *session, TallyRunsView *self)
{
  JobQuery *query = run_model_query (self->model);

  (void) session;
  job_query_show_all (query);
  query->sort_field = -1;
  self->filling = TRUE;
  gtk_editable_set_text (self->find, "");
  gtk_toggle_button_set_active (self->faulty, FALSE);
  self->filling = FALSE;
  gtk_editable_set_text (self->line, "");
  g_clear_handle_id (&self->find_wait, g_source_remove);
  show_units (self);
  run_model_refresh (self->model);
  grid_set_cursor (self->grid, 0, 0);
  runs_view_requery (self);
}

void
tally_runs_view_go (GtkWidget *widget, const char *where)
{
  TallyRunsView *self = TALLY_RUNS_VIEW (widget);
  guint row, column;

  if (g_str_equal (where, "like"))
    runs_filter_like (self);
  else if (g_str_equal (where, "filter"))
    {
      grid_get_cursor (self->grid, &row, &column);
      runs_filter_open (self, column);
    }
  else if (gtk_widget_get_mapped (widget))
    gtk_widget_grab_focus (place_of (self, where));
  else
    self->wanted = g_intern_string (where);
}

static void
tally_runs_view_dispose (GObject *object)
{
  TallyRunsView *self = TALLY_RUNS_VIEW (object);

  g_clear_handle_id (&self->find_wait, g_source_remove);
  runs_line_dispose (self);
  runs_selection_dispose (self);
  self->grid = NULL;
  runs_filter_dispose (self);
  gtk_widget_dispose_template (GTK_WIDGET (self), TALLY_TYPE_RUNS_VIEW);
  g_clear_object (&self->model);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_runs_view_parent_class)->dispose (object);
}

static void
tally_runs_view_class_init (TallyRunsViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tally_runs_view_dispose;
  gtk_widget_class_set_template_from_resource (widget, "/seamtally/ui/runs-view.ui");
#define BIND(name) gtk_widget_class_bind_template_child (widget, TallyRunsView, name)
  BIND (conclusion);
  BIND (address);
  BIND (message);
  BIND (reading);
  BIND (all_label);
  BIND (find);
  BIND (value);
  BIND (line);
  BIND (all_entry);
  BIND (faulty);
  BIND (like);
  BIND (show_all);
  BIND (filter_bar);
  BIND (filter_words);
  BIND (filter_total);
  BIND (all_button);
  BIND (all_apply);
  BIND (all_popover);
  BIND (columns_box);
  BIND (scroll);
#undef BIND
}

static void
tally_runs_view_init (TallyRunsView *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect (self, "map", G_CALLBACK (map_cb), NULL);
  g_signal_connect (self->find, "search-changed", G_CALLBACK (find_cb), self);
  g_signal_connect (self->find, "activate", G_CALLBACK (find_done_cb), self);
  g_signal_connect (self->find, "stop-search", G_CALLBACK (find_done_cb), self);
  g_signal_connect (self->value, "activate", G_CALLBACK (value_activate_cb), self);
  runs_line_init (self);
  g_signal_connect (self->faulty, "toggled", G_CALLBACK (faulty_cb), self);
  g_signal_connect (self->all_popover, "show", G_CALLBACK (all_shown_cb), self);
  g_signal_connect (self->all_apply, "clicked", G_CALLBACK (all_apply_cb), self);
  g_signal_connect (self->all_entry, "activate", G_CALLBACK (all_apply_cb), self);
}

GtkWidget *
tally_runs_view_new (TallySession *session)
{
  TallyRunsView *self = g_object_new (TALLY_TYPE_RUNS_VIEW, NULL);

  self->session = g_object_ref (session);
  self->model = run_model_new (session);
  self->grid = grid_new (TALLY_GRID_MODEL (self->model));
  grid_set_label (self->grid, _ ("Runs"));
  gtk_scrolled_window_set_child (self->scroll, GTK_WIDGET (self->grid));
  g_signal_connect (self->grid, "cursor", G_CALLBACK (cursor_cb), self);
  g_signal_connect (self->grid, "refused", G_CALLBACK (refused_cb), self);
  g_signal_connect (self->grid, "selected", G_CALLBACK (selected_cb), self);
  g_signal_connect (self->grid, "sort", G_CALLBACK (sort_cb), self);
  g_signal_connect (self->grid, "resized", G_CALLBACK (resized_cb), self);
  runs_filter_init (self);
  fill_columns (self);
  restore_widths (self);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  g_signal_connect_object (session, "scope", G_CALLBACK (scope_cb), self, 0);
  return GTK_WIDGET (self);
}

void
tally_runs_view_set_totals (GtkWidget *view, GtkWidget *totals_line)
{
  TALLY_RUNS_VIEW (view)->totals = totals_line;
}

/* FALSE: none of the rows shown is without a price. */
static gboolean
go_to_fault (TallyRunsView *self)
{
  const GArray *selected = session_selection (self->session);
  const GArray *columns = run_model_columns (self->model);
  guint n = grid_model_n_rows (TALLY_GRID_MODEL (self->model)), from = 0;

  if (selected->len > 0)
    from = (guint) MAX (run_model_row_of (self->model, g_array_index (selected, gint64, 0)), 0);
  for (guint i = 0; i < n; i++)
    {
      guint row = (from + i) % n;
      JobRunResult r;
      gboolean priced = job_compute (session_job (self->session), run_model_run (self->model, row), JOB_OWN_METHOD, &r);
      int field = r.fault_field;
      job_run_result_clear (&r);
      if (priced)
        continue;
      for (guint c = 0; c < columns->len; c++)
        if (run_column (run_model_column (self->model, c))->field == field)
          {
            grid_set_cursor (self->grid, row, c);
            gtk_widget_grab_focus (GTK_WIDGET (self->grid));
            return TRUE;
          }
      grid_set_cursor (self->grid, row, 0);
      return TRUE;
    }
  return FALSE;
}

void
tally_runs_view_show_fault (GtkWidget *view)
{
  TallyRunsView *self = TALLY_RUNS_VIEW (view);

  if (session_job (self->session) && !go_to_fault (self))
    {
      g_signal_emit_by_name (self->show_all, "clicked");
      go_to_fault (self);
    }
}

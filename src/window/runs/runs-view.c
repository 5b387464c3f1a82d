/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/runs-view.h"

#include "job/entry.h"
#include "window/grid/grid.h"
#include "window/runs/run-columns.h"
#include "window/runs/run-model.h"
#include "window/settings.h"
#include "window/totals-line.h"

#include <glib/gi18n.h>
#include <string.h>

#define TALLY_TYPE_RUNS_VIEW (tally_runs_view_get_type ())
G_DECLARE_FINAL_TYPE (TallyRunsView, tally_runs_view, TALLY, RUNS_VIEW, GtkBox)

struct _TallyRunsView
{
  GtkBox parent_instance;

  /* Template widgets */
  GtkLabel *conclusion, *address, *message, *reading, *all_label;
  GtkEditable *find, *value, *line, *all_entry;
  GtkToggleButton *faulty, *like;
  GtkMenuButton *all_button;
  GtkButton *all_apply;
  GtkPopover *all_popover;
  GtkBox *columns_box;
  GtkScrolledWindow *scroll;

  /* Borrowed */
  TallyGrid *grid;
  GtkWidget *totals;

  /* Owned */
  TallySession *session;
  TallyRunModel *model;
  guint find_wait; /* timeout: the text is looked up when typing pauses */
  gboolean filling; /* the view itself is setting a widget */
};

G_DEFINE_FINAL_TYPE (TallyRunsView, tally_runs_view, GTK_TYPE_BOX)

static void
show_conclusion (TallyRunsView *self)
{
  TallyJob *job = session_job (self->session);
  g_autofree char *text = NULL;
  JobTotals totals;
  guint shown;

  if (!job)
    return;
  job_totals (job, session_scope (self->session), JOB_OWN_METHOD, &totals);
  shown = grid_model_n_rows (TALLY_GRID_MODEL (self->model));
  gint64 all = totals.runs + totals.not_priced;
  if (totals.not_priced == 0)
    text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d run, priced.", "%d runs, every one priced.", (gulong) all), (int) all);
  else
    text = g_strdup_printf (_ ("%d of %d runs are not priced."), (int) totals.not_priced, (int) all);
  if ((gint64) shown != all)
    {
      g_autofree char *narrowed = g_strdup_printf (_ ("%s %u shown."), text, shown);
      gtk_label_set_label (self->conclusion, narrowed);
    }
  else
    gtk_label_set_label (self->conclusion, text);
  job_totals_clear (&totals);
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
  g_autofree char *address = g_strdup_printf (_ ("Row %u · %s"), row + 1, _ (c->title));
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
  guint row0, column0, row1, column1, filled, numbers;
  g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  g_autofree char *text = NULL;
  double sum;

  grid_get_selection (self->grid, &row0, &column0, &row1, &column1);
  for (guint row = row0; row <= row1; row++)
    {
      const JobRecord *run = run_model_run (self->model, row);
      if (run)
        g_array_append_val (ids, run->id);
    }
  session_set_selection (self->session, (const gint64 *) (gpointer) ids->data, ids->len);
  if (!self->totals)
    return;
  if (row0 == row1 && column0 == column1)
    {
      tally_totals_line_set_selection (self->totals, "");
      return;
    }
  run_model_sum (self->model, row0, column0, MIN (row1, row0 + 5000), column1, &filled, &numbers, &sum);
  if (numbers > 0)
    {
      g_autofree char *total = session_figure (sum, 2, FALSE);
      g_autofree char *mean = session_figure (sum / numbers, 2, FALSE);
      text = g_strdup_printf (_ ("%u runs selected · count %u · sum %s · average %s"), ids->len, filled, total, mean);
    }
  else
    text = g_strdup_printf (_ ("%u runs selected · count %u"), ids->len, filled);
  tally_totals_line_set_selection (self->totals, text);
}

static void
cursor_cb (TallyGrid *grid, TallyRunsView *self)
{
  (void) grid;
  show_cell (self);
}

static void
selected_cb (TallyGrid *grid, TallyRunsView *self)
{
  (void) grid;
  tell_selection (self);
}

/* A heading: up, down, then the job's own order again. */
static void
sort_cb (TallyGrid *grid, guint column, TallyRunsView *self)
{
  JobQuery *query = run_model_query (self->model);
  const RunColumn *c = run_column (run_model_column (self->model, column));

  if (c->field < 0)
    {
      session_say (self->session, SESSION_SAID, _ ("Runs are sorted by what is entered, not by computed columns"));
      return;
    }
  if (query->sort_field != c->field)
    {
      query->sort_field = c->field;
      query->descending = FALSE;
    }
  else if (!query->descending)
    query->descending = TRUE;
  else
    query->sort_field = -1;
  grid_set_sort_mark (grid, query->sort_field < 0 ? -1 : (int) column, query->descending);
  run_model_refresh (self->model);
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
  run_model_refresh (self->model);
  show_conclusion (self);
  return G_SOURCE_REMOVE;
}

static void
find_cb (GtkSearchEntry *entry, TallyRunsView *self)
{
  (void) entry;
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
  run_model_query (self->model)->not_priced = gtk_toggle_button_get_active (button);
  run_model_refresh (self->model);
  show_conclusion (self);
}

static void
like_cb (GtkToggleButton *button, TallyRunsView *self)
{
  JobQuery *query = run_model_query (self->model);
  guint row, column;

  if (self->filling)
    return;
  g_clear_pointer (&query->filter_text, g_free);
  query->filter_field = -1;
  grid_get_cursor (self->grid, &row, &column);
  const RunColumn *c = run_column (run_model_column (self->model, column));
  const JobRecord *run = run_model_run (self->model, row);
  if (gtk_toggle_button_get_active (button) && run && c->field >= 0)
    {
      query->filter_field = c->field;
      query->filter_text = job_record_print (run, c->field, job_names (session_job (self->session)));
    }
  else if (gtk_toggle_button_get_active (button))
    {
      self->filling = TRUE;
      gtk_toggle_button_set_active (button, FALSE);
      self->filling = FALSE;
    }
  run_model_refresh (self->model);
  show_conclusion (self);
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
}

static void
fill_columns (TallyRunsView *self)
{
  const GArray *now = run_model_columns (self->model);

  for (guint i = 0; i < run_columns_n (); i++)
    {
      const RunColumn *c = run_column (i);
      g_autofree char *text = *c->unit ? g_strdup_printf ("%s, %s", _ (c->title), _ (c->unit)) : g_strdup (_ (c->title));
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

/* ---- the line that takes a whole run ---- */

static const JobRecord *
row_above (TallyRunsView *self)
{
  guint n = grid_model_n_rows (TALLY_GRID_MODEL (self->model));

  return n > 0 ? run_model_run (self->model, n - 1) : NULL;
}

static void
line_changed_cb (GtkEditable *editable, TallyRunsView *self)
{
  const char *text = gtk_editable_get_text (editable);
  JobEntry entry = { NULL, NULL, NULL };

  gtk_widget_remove_css_class (GTK_WIDGET (self->reading), "faulty");
  if (!*text || !session_job (self->session))
    {
      gtk_label_set_label (self->reading, _ ("What is typed here is read back before it is added"));
      return;
    }
  job_entry_read (session_job (self->session), text, row_above (self), &entry);
  if (entry.query)
    {
      g_autofree char *words = fault_words (entry.query, text);
      gtk_label_set_label (self->reading, words);
      gtk_widget_add_css_class (GTK_WIDGET (self->reading), "faulty");
    }
  else
    {
      g_autofree char *words = g_strdup_printf (_ ("→ %s · Enter adds it"), entry.reading);
      gtk_label_set_label (self->reading, words);
    }
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->reading), gtk_label_get_label (self->reading));
  job_entry_clear (&entry);
}

static void
line_activate_cb (GtkEntry *widget, TallyRunsView *self)
{
  JobEntry entry = { NULL, NULL, NULL };
  guint n = grid_model_n_rows (TALLY_GRID_MODEL (self->model));
  const JobScope *scope = session_scope (self->session);

  (void) widget;
  if (!session_job (self->session) || !*gtk_editable_get_text (self->line))
    return;
  job_entry_read (session_job (self->session), gtk_editable_get_text (self->line), row_above (self), &entry);
  if (entry.run)
    {
      JobRecord *run = g_steal_pointer (&entry.run);
      if (run->num[RUN_SYSTEM] == JOB_UNSET && scope->system > 0)
        run->num[RUN_SYSTEM] = scope->system;
      if (run->num[RUN_AREA] == JOB_UNSET && scope->area > 0)
        run->num[RUN_AREA] = scope->area;
      if (run_model_add (self->model, run, n > 0 ? n - 1 : 0, _ ("entry of a run")))
        {
          gtk_editable_set_text (self->line, "");
          /* The new row comes into sight; the line keeps the focus for the next one. */
          grid_set_cursor (self->grid, grid_model_n_rows (TALLY_GRID_MODEL (self->model)) - 1, 0);
        }
    }
  job_entry_clear (&entry);
}

/* ---- life ---- */

static void
changed_cb (TallySession *session, JobEdit *edit, TallyRunsView *self)
{
  (void) session;
  (void) edit;
  show_conclusion (self);
  show_cell (self);
}

/* Typing goes to the table from the start. */
static gboolean
first_focus_cb (gpointer data)
{
  g_autoptr (TallyRunsView) self = data;

  if (self->grid && gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_grab_focus (GTK_WIDGET (self->grid));
  return G_SOURCE_REMOVE;
}

static void
map_cb (GtkWidget *widget, gpointer data)
{
  (void) data;
  g_idle_add (first_focus_cb, g_object_ref (widget));
}

static void
other_cb (TallySession *session, TallyRunsView *self)
{
  (void) session;
  show_conclusion (self);
  show_cell (self);
  tell_selection (self);
}

static void
focus_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyRunsView *self = TALLY_RUNS_VIEW (widget);

  (void) parameter;
  if (g_str_equal (name, "runs.line"))
    gtk_widget_grab_focus (GTK_WIDGET (self->line));
  else if (g_str_equal (name, "runs.find"))
    gtk_widget_grab_focus (GTK_WIDGET (self->find));
  else if (g_str_equal (name, "runs.like"))
    gtk_toggle_button_set_active (self->like, !gtk_toggle_button_get_active (self->like));
  else
    gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

static void
tally_runs_view_dispose (GObject *object)
{
  TallyRunsView *self = TALLY_RUNS_VIEW (object);

  g_clear_handle_id (&self->find_wait, g_source_remove);
  self->grid = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), TALLY_TYPE_RUNS_VIEW);
  g_clear_object (&self->model);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_runs_view_parent_class)->dispose (object);
}

static void
tally_runs_view_class_init (TallyRunsViewClass *klass)
{
  static const char *const actions[] = { "runs.line", "runs.find", "runs.like", "runs.table" };
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
  BIND (all_button);
  BIND (all_apply);
  BIND (all_popover);
  BIND (columns_box);
  BIND (scroll);
#undef BIND
  for (gsize i = 0; i < G_N_ELEMENTS (actions); i++)
    gtk_widget_class_install_action (widget, actions[i], NULL, focus_cb);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_l, GDK_CONTROL_MASK, "runs.line", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_f, GDK_CONTROL_MASK, "runs.find", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_l, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "runs.like", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_g, GDK_CONTROL_MASK, "runs.table", NULL);
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
  g_signal_connect (self->line, "changed", G_CALLBACK (line_changed_cb), self);
  g_signal_connect (self->line, "activate", G_CALLBACK (line_activate_cb), self);
  g_signal_connect (self->faulty, "toggled", G_CALLBACK (faulty_cb), self);
  g_signal_connect (self->like, "toggled", G_CALLBACK (like_cb), self);
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
  g_signal_connect (self->grid, "selected", G_CALLBACK (selected_cb), self);
  g_signal_connect (self->grid, "sort", G_CALLBACK (sort_cb), self);
  g_signal_connect (self->grid, "resized", G_CALLBACK (resized_cb), self);
  fill_columns (self);
  restore_widths (self);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (other_cb), self, 0);
  g_signal_connect_object (session, "scope", G_CALLBACK (other_cb), self, 0);
  return GTK_WIDGET (self);
}

void
tally_runs_view_set_totals (GtkWidget *view, GtkWidget *totals_line)
{
  TALLY_RUNS_VIEW (view)->totals = totals_line;
}

void
tally_runs_view_show_fault (GtkWidget *view)
{
  TallyRunsView *self = TALLY_RUNS_VIEW (view);
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
            return;
          }
      grid_set_cursor (self->grid, row, 0);
      return;
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/runs-private.h"

#include "base/measure.h"
#include "window/runs/run-columns.h"

#include <glib/gi18n.h>
#include <string.h>

#define MOST_VALUES 300  /* in a menu; more are found by words */
#define MOST_NAMED 3     /* in the words */
#define MOST_ADDED 20000 /* rows */

/* ---- in words ---- */

static const char *
title_of (int column)
{
  for (guint i = 0; i < run_columns_n (); i++)
    if (run_column (i)->column == column)
      return _ (run_column (i)->title);
  return "";
}

static void
append (GString *out, char *words)
{
  g_string_append_printf (out, "%s%s", out->len ? "; " : "", words);
  g_free (words);
}

static char *
values_words (const JobFilter *filter)
{
  g_autoptr (GString) list = g_string_new (NULL);

  if (filter->values->len > MOST_NAMED)
    return g_strdup_printf (_ ("%s is one of %u values"), title_of (filter->column), filter->values->len);
  for (guint i = 0; i < filter->values->len; i++)
    {
      const char *value = g_ptr_array_index (filter->values, i);
      g_string_append_printf (list, "%s%s", i == 0 ? "" : _ (" or "), *value ? value : _ ("empty"));
    }
  return g_strdup_printf (_ ("%s is %s"), title_of (filter->column), list->str);
}

char *
runs_filter_words (const JobQuery *query)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; query->filters && i < query->filters->len; i++)
    {
      const JobFilter *filter = g_ptr_array_index (query->filters, i);
      if (filter->values)
        append (out, values_words (filter));
      if (filter->words)
        append (out, g_strdup_printf (_ ("%s contains “%s”"), title_of (filter->column), filter->words));
    }
  if (query->find && *query->find)
    append (out, g_strdup_printf (_ ("“%s” is found"), query->find));
  if (query->not_priced)
    append (out, g_strdup (_ ("not priced")));
  return g_string_free (out, FALSE);
}

/* What the rows shown come to. */
static char *
total_words (TallyRunsView *self)
{
  TallyJob *job = session_job (self->session);
  const CostBasis *basis = job_basis (job);
  const GArray *ids = run_model_shown (self->model);
  g_autofree JobTotals *totals = NULL;
  const JobTotals *own;
  gboolean metric = job_names (job)->metric;

  if (ids->len == 0 || ids->len > MOST_ADDED)
    return g_strdup ("");
  totals = g_new0 (JobTotals, (gsize) basis->n_methods + 1);
  job_totals_of_runs (job, (const gint64 *) (gpointer) ids->data, ids->len, totals);
  own = &totals[basis->n_methods];
  g_autoptr (BuildUp) up = buildup_new (basis, &own->sums, session_decimals (self->session));
  gint64 net = own->vector[cost_measure_slot (basis, COST_NET_MG)];
  g_autofree char *weight = job_figure_print (metric ? (double) net / 1e6 : measure_lb (net), 0);
  g_autofree char *shop = job_figure_print (num_wide_to_double (own->sums.time[1]) / COST_TIME_DEN, 1);
  g_autofree char *field = job_figure_print (num_wide_to_double (own->sums.time[0]) / COST_TIME_DEN, 1);
  g_autofree char *cost = session_money (self->session, buildup_get (up, "cost"));
  char *words = g_strdup_printf (metric ? _ ("Rows shown: net %s kg · shop %s, field %s worker-h · cost %s")
                                        : _ ("Rows shown: net %s lb · shop %s, field %s worker-h · cost %s"),
                                 weight, shop, field, cost);

  for (int i = 0; i <= basis->n_methods; i++)
    job_totals_clear (&totals[i]);
  return words;
}

static gboolean
total_cb (gpointer data)
{
  TallyRunsView *self = data;

  self->total_idle = 0;
  if (session_job (self->session) && gtk_widget_get_visible (GTK_WIDGET (self->filter_bar)))
    {
      g_autofree char *words = total_words (self);
      gtk_label_set_label (self->filter_total, words);
      gtk_widget_set_tooltip_text (GTK_WIDGET (self->filter_total), words);
    }
  return G_SOURCE_REMOVE;
}

void
runs_filter_show (TallyRunsView *self)
{
  g_autofree char *words = runs_filter_words (run_model_query (self->model));
  guint shown = run_model_shown (self->model)->len;

  gtk_widget_set_visible (GTK_WIDGET (self->filter_bar), *words != '\0');
  if (!*words)
    return;
  g_autofree char *text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u row where %s", "%u rows where %s", shown), shown, words);
  gtk_label_set_label (self->filter_words, text);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->filter_words), text);
  if (self->total_idle == 0)
    self->total_idle = g_timeout_add (60, total_cb, self);
}

/* ---- like this ---- */

void
runs_filter_like (TallyRunsView *self)
{
  JobQuery *query = run_model_query (self->model);
  guint row, column;

  grid_get_cursor (self->grid, &row, &column);
  if (!run_model_run (self->model, row))
    {
      runs_view_refuse (self, _ ("The empty row holds no value to look for: put the cursor on a run first"));
      return;
    }
  const RunColumn *c = run_column (run_model_column (self->model, column));
  const JobFilter *filter = job_query_filter_of (query, c->column);
  g_autofree char *text = grid_model_text (TALLY_GRID_MODEL (self->model), row, column);
  const char *value[] = { text };

  if (filter && filter->values && filter->values->len == 1 && g_str_equal (g_ptr_array_index (filter->values, 0), text))
    job_query_filter (query, c->column, NULL, 0, NULL);
  else
    job_query_filter (query, c->column, value, 1, NULL);
  runs_view_requery (self);
}

/* ---- the menu of a heading ---- */

/* Takes what is ticked and typed in the menu. */
static void
take_menu (TallyRunsView *self)
{
  g_autoptr (GPtrArray) values = g_ptr_array_new ();

  for (GtkWidget *w = gtk_widget_get_first_child (self->menu_values); w; w = gtk_widget_get_next_sibling (w))
    if (GTK_IS_CHECK_BUTTON (w) && gtk_check_button_get_active (GTK_CHECK_BUTTON (w)))
      g_ptr_array_add (values, g_object_get_data (G_OBJECT (w), "value"));
  job_query_filter (run_model_query (self->model), run_column (self->menu_column)->column, (const char *const *) values->pdata, values->len,
                    gtk_editable_get_text (GTK_EDITABLE (self->menu_words)));
  runs_view_requery (self);
}

static void
ticked_cb (GtkCheckButton *check, TallyRunsView *self)
{
  (void) check;
  if (!self->filling)
    take_menu (self);
}

static gboolean
words_now_cb (gpointer data)
{
  TallyRunsView *self = data;

  self->words_wait = 0;
  take_menu (self);
  return G_SOURCE_REMOVE;
}

static void
words_cb (GtkSearchEntry *entry, TallyRunsView *self)
{
  (void) entry;
  if (self->filling)
    return;
  g_clear_handle_id (&self->words_wait, g_source_remove);
  self->words_wait = g_timeout_add (150, words_now_cb, self);
}

static void
close_cb (gpointer source, TallyRunsView *self)
{
  (void) source;
  gtk_popover_popdown (GTK_POPOVER (self->menu));
}

static void
closed_cb (GtkPopover *popover, TallyRunsView *self)
{
  (void) popover;
  if (self->words_wait)
    {
      g_clear_handle_id (&self->words_wait, g_source_remove);
      take_menu (self);
    }
  if (self->grid)
    gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

static void
free_cb (GtkButton *button, TallyRunsView *self)
{
  (void) button;
  job_query_filter (run_model_query (self->model), run_column (self->menu_column)->column, NULL, 0, NULL);
  runs_view_requery (self);
  gtk_popover_popdown (GTK_POPOVER (self->menu));
}

static void
order_by (TallyRunsView *self, gboolean descending)
{
  JobQuery *query = run_model_query (self->model);

  query->sort_field = run_column (self->menu_column)->column;
  query->descending = descending;
  runs_view_requery (self);
  gtk_popover_popdown (GTK_POPOVER (self->menu));
}

static void
up_cb (GtkButton *button, TallyRunsView *self)
{
  (void) button;
  order_by (self, FALSE);
}

static void
down_cb (GtkButton *button, TallyRunsView *self)
{
  (void) button;
  order_by (self, TRUE);
}

static GtkWidget *
add_button (TallyRunsView *self, GtkWidget *box, const char *label, GCallback callback)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_set_hexpand (button, TRUE);
  g_signal_connect (button, "clicked", callback, self);
  gtk_box_append (GTK_BOX (box), button);
  return button;
}

static void
build_menu (TallyRunsView *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *order = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  GtkWidget *scrolled = gtk_scrolled_window_new (), *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  self->menu = gtk_popover_new ();
  self->menu_title = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->menu_title), 0);
  gtk_widget_add_css_class (self->menu_title, "heading");
  gtk_box_append (GTK_BOX (box), self->menu_title);
  add_button (self, order, _ ("Least first"), G_CALLBACK (up_cb));
  add_button (self, order, _ ("Most first"), G_CALLBACK (down_cb));
  gtk_box_append (GTK_BOX (box), order);
  self->menu_words = gtk_search_entry_new ();
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->menu_words), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Rows that contain"), -1);
  g_object_set (self->menu_words, "placeholder-text", _ ("Rows that contain…"), NULL);
  g_signal_connect (self->menu_words, "search-changed", G_CALLBACK (words_cb), self);
  g_signal_connect (self->menu_words, "activate", G_CALLBACK (close_cb), self);
  g_signal_connect (self->menu_words, "stop-search", G_CALLBACK (close_cb), self);
  gtk_box_append (GTK_BOX (box), self->menu_words);
  self->menu_values = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), 340);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), self->menu_values);
  gtk_box_append (GTK_BOX (box), scrolled);
  add_button (self, foot, _ ("Any value"), G_CALLBACK (free_cb));
  add_button (self, foot, _ ("Close"), G_CALLBACK (close_cb));
  gtk_box_append (GTK_BOX (box), foot);
  gtk_widget_set_size_request (box, 250, -1);
  gtk_popover_set_child (GTK_POPOVER (self->menu), box);
  gtk_popover_set_position (GTK_POPOVER (self->menu), GTK_POS_BOTTOM);
  g_signal_connect (self->menu, "closed", G_CALLBACK (closed_cb), self);
  gtk_widget_set_parent (self->menu, GTK_WIDGET (self->scroll));
}

static void
add_value (TallyRunsView *self, const JobValue *value, const JobFilter *filter)
{
  g_autofree char *label = g_strdup_printf (_ ("%s  (%u)"), *value->text ? value->text : _ ("empty"), value->n);
  GtkWidget *check = gtk_check_button_new_with_label (label);

  g_object_set_data_full (G_OBJECT (check), "value", g_strdup (value->text), g_free);
  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), filter && filter->values
                                                           && g_ptr_array_find_with_equal_func (filter->values, value->text, g_str_equal, NULL));
  g_signal_connect (check, "toggled", G_CALLBACK (ticked_cb), self);
  gtk_box_append (GTK_BOX (self->menu_values), check);
}

static void
fill_menu (TallyRunsView *self)
{
  const RunColumn *c = run_column (self->menu_column);
  const JobQuery *query = run_model_query (self->model);
  const JobFilter *filter = job_query_filter_of (query, c->column);
  g_autoptr (GPtrArray) values = job_query_values (session_job (self->session), query, c->column);
  const char *unit = run_column_unit (self->session, c);
  g_autofree char *title = *unit ? g_strdup_printf (_ ("Rows by %s, %s"), _ (c->title), unit) : g_strdup_printf (_ ("Rows by %s"), _ (c->title));
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->menu_values)))
    gtk_box_remove (GTK_BOX (self->menu_values), child);
  gtk_label_set_label (GTK_LABEL (self->menu_title), title);
  gtk_editable_set_text (GTK_EDITABLE (self->menu_words), filter && filter->words ? filter->words : "");
  for (guint i = 0; i < MIN (values->len, MOST_VALUES); i++)
    add_value (self, g_ptr_array_index (values, i), filter);
  if (values->len > MOST_VALUES)
    {
      g_autofree char *more = g_strdup_printf (_ ("and %u more: find them by words"), values->len - MOST_VALUES);
      GtkWidget *label = gtk_label_new (more);
      gtk_widget_add_css_class (label, "dim-label");
      gtk_box_append (GTK_BOX (self->menu_values), label);
    }
}

void
runs_filter_open (TallyRunsView *self, guint shown)
{
  GdkRectangle heading;
  double x, y;

  if (!session_job (self->session) || shown >= run_model_columns (self->model)->len)
    return;
  if (!self->menu)
    build_menu (self);
  self->menu_column = run_model_column (self->model, shown);
  self->filling = TRUE;
  fill_menu (self);
  self->filling = FALSE;
  grid_get_heading (self->grid, shown, &heading);
  if (gtk_widget_translate_coordinates (GTK_WIDGET (self->grid), GTK_WIDGET (self->scroll), heading.x, heading.y, &x, &y))
    {
      int room = gtk_widget_get_width (GTK_WIDGET (self->scroll));
      heading.x = CLAMP ((int) x, 0, MAX (room - 20, 0));
      heading.y = (int) y;
      heading.width = MIN (heading.width, MAX (room - heading.x, 1));
    }
  gtk_popover_set_pointing_to (GTK_POPOVER (self->menu), &heading);
  gtk_popover_popup (GTK_POPOVER (self->menu));
  gtk_widget_grab_focus (self->menu_words);
}

/* ---- life ---- */

static void
show_all_cb (GtkButton *button, TallyRunsView *self)
{
  (void) button;
  job_query_show_all (run_model_query (self->model));
  self->filling = TRUE;
  gtk_editable_set_text (self->find, "");
  gtk_toggle_button_set_active (self->faulty, FALSE);
  self->filling = FALSE;
  g_clear_handle_id (&self->find_wait, g_source_remove);
  runs_view_requery (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

static void
like_cb (GtkButton *button, TallyRunsView *self)
{
  (void) button;
  runs_filter_like (self);
  gtk_widget_grab_focus (GTK_WIDGET (self->grid));
}

static void
head_menu_cb (TallyGrid *grid, guint column, TallyRunsView *self)
{
  (void) grid;
  runs_filter_open (self, column);
}

void
runs_filter_init (TallyRunsView *self)
{
  g_signal_connect (self->show_all, "clicked", G_CALLBACK (show_all_cb), self);
  g_signal_connect (self->like, "clicked", G_CALLBACK (like_cb), self);
  g_signal_connect (self->grid, "head-menu", G_CALLBACK (head_menu_cb), self);
}

void
runs_filter_dispose (TallyRunsView *self)
{
  g_clear_handle_id (&self->words_wait, g_source_remove);
  g_clear_handle_id (&self->total_idle, g_source_remove);
  g_clear_pointer (&self->menu, gtk_widget_unparent);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/what-if/what-if-page.h"

#include "job/compare.h"
#include "job/what-if.h"
#include "window/methods/figure-grid.h"
#include "window/methods/methods-model.h"
#include "window/what-if/stock-table.h"
#include "window/what-if/what-if-set.h"
#include "window/list-tab.h"
#include "window/walk.h"
#include "window/words.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define TALLY_TYPE_WHAT_IF_PAGE (tally_what_if_page_get_type ())
G_DECLARE_FINAL_TYPE (TallyWhatIfPage, tally_what_if_page, TALLY, WHAT_IF_PAGE, GtkWidget)

struct _TallyWhatIfPage
{
  GtkWidget parent_instance;

  GtkWidget *scroll, *content, *conclusion, *about, *all; /* borrowed, but for scroll */
  GtkWidget *list, *name, *add, *add_fault, *columns;
  TallyFigureGrid *results;
  GtkWidget *set, *stock;

  /* Owned */
  TallySession *session;
  GPtrArray *names;       /* what-ifs of the job, in the order of the list */
  char *chosen;           /* (nullable) */
  gboolean stale, filling;
  guint refresh;
};

G_DEFINE_FINAL_TYPE (TallyWhatIfPage, tally_what_if_page, GTK_TYPE_WIDGET)

/* ---- results ---- */

static JobComparison *
compare (TallyWhatIfPage *self, TallyJob *job)
{
  g_autoptr (GArray) ways = g_array_new (FALSE, TRUE, sizeof (JobWay));
  JobWay way = { NULL, NULL };

  g_array_append_val (ways, way);
  for (guint i = 0; i < self->names->len; i++)
    {
      way.what_if = g_ptr_array_index (self->names, i);
      g_array_append_val (ways, way);
    }
  return job_compare (job, (const JobWay *) (gpointer) ways->data, ways->len, 0, NULL);
}

static char *
number (double x, int decimals)
{
  return methods_number (x, decimals);
}

static void
add_figure (TallyWhatIfPage *self, double value, double base, int decimals, gboolean is_base)
{
  double unit = pow (10, decimals), difference = round ((value - base) * unit) / unit;
  g_autofree char *text = number (value, decimals), *amount = number (fabs (difference), decimals);
  g_autofree char *against = is_base ? NULL : methods_difference (difference, amount);

  tally_figure_grid_cell (self->results, text, against, difference < 0);
}

static void
add_result (TallyWhatIfPage *self, const JobComparison *c, guint i)
{
  const JobWayFigures *f = job_comparison_way (c, i), *base = job_comparison_way (c, 0);
  double minor = pow (10, c->decimals);
  char date[64] = "–";

  tally_figure_grid_row (self->results, i == 0);
  if (f->fault)
    {
      g_autofree char *words = fault_words (f->fault, NULL);
      tally_figure_grid_cell (self->results, f->what_if, words, FALSE);
      return;
    }
  if (f->dated)
    g_date_strftime (date, sizeof date, "%e %b %Y", &f->finish);
  tally_figure_grid_cell (self->results, i == 0 ? _ ("The job as it stands") : f->what_if, NULL, FALSE);
  add_figure (self, (double) f->option.cost / minor, (double) base->option.cost / minor, 0, i == 0);
  add_figure (self, (double) f->option.price / minor, (double) base->option.price / minor, 0, i == 0);
  add_figure (self, f->option.shop_hours, base->option.shop_hours, 1, i == 0);
  add_figure (self, f->option.field_hours, base->option.field_hours, 1, i == 0);
  add_figure (self, f->crew_days, base->crew_days, 1, i == 0);
  tally_figure_grid_cell (self->results, date, NULL, FALSE);
}

static void
show_results (TallyWhatIfPage *self, const JobComparison *c)
{
  const char *currency = job_head (c->job)->text[HEAD_CURRENCY];

  tally_figure_grid_clear (self->results);
  tally_figure_grid_head (self->results, _ ("What if"), _ ("each run by its own method"));
  tally_figure_grid_head (self->results, _ ("Cost"), currency);
  tally_figure_grid_head (self->results, _ ("Price"), currency);
  tally_figure_grid_head (self->results, _ ("Shop"), _ ("worker-h"));
  tally_figure_grid_head (self->results, _ ("Field"), _ ("worker-h"));
  tally_figure_grid_head (self->results, _ ("Crew-days"), "");
  tally_figure_grid_head (self->results, _ ("Finish"), _ ("Mon to Fri"));
  for (guint i = 0; i < c->way->len; i++)
    add_result (self, c, i);
}

/* The one that moves the cost most, in a sentence. */
static char *
conclusion_of (const JobComparison *c)
{
  const JobWayFigures *base = job_comparison_way (c, 0), *most = NULL;
  const char *currency = job_head (c->job)->text[HEAD_CURRENCY];
  gint64 difference;

  for (guint i = 1; i < c->way->len; i++)
    {
      const JobWayFigures *f = job_comparison_way (c, i);
      if (!f->fault && (!most || ABS (f->option.cost - base->option.cost) > ABS (most->option.cost - base->option.cost)))
        most = f;
    }
  if (c->way->len < 2)
    return g_strdup (_ ("No what-if is written down yet: name one, and say which figures it changes."));
  if (!most)
    return g_strdup (_ ("None of the what-ifs can be worked out: see what is wrong beside their figures."));
  difference = most->option.cost - base->option.cost;
  if (difference == 0)
    return g_strdup (_ ("The what-ifs change nothing of the cost."));
  g_autofree char *money = number ((double) ABS (difference) / pow (10, c->decimals), 0);
  if (c->way->len == 2)
    return g_strdup_printf (difference > 0 ? _ ("“%s” costs %s %s more than the job as it stands.")
                                           : _ ("“%s” costs %s %s less than the job as it stands."),
                            most->what_if, currency ? currency : _ ("money"), money);
  return g_strdup_printf (difference > 0 ? _ ("“%s” moves the cost most: %s %s more than the job as it stands.")
                                         : _ ("“%s” moves the cost most: %s %s less than the job as it stands."),
                          most->what_if, currency ? currency : _ ("money"), money);
}

/* ---- the list ---- */

static void
row_selected_cb (GtkListBox *list, GtkListBoxRow *row, TallyWhatIfPage *self)
{
  (void) list;
  if (!row || self->filling)
    return;
  g_free (self->chosen);
  self->chosen = g_strdup (g_ptr_array_index (self->names, (guint) gtk_list_box_row_get_index (row)));
  tally_what_if_set_show (TALLY_WHAT_IF_SET (self->set), self->chosen);
}

static void
fill_list (TallyWhatIfPage *self)
{
  GtkListBoxRow *row;
  guint at = 0;

  while ((row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0)))
    gtk_list_box_remove (GTK_LIST_BOX (self->list), GTK_WIDGET (row));
  for (guint i = 0; i < self->names->len; i++)
    {
      const char *name = g_ptr_array_index (self->names, i);
      GtkWidget *label = gtk_label_new (name);
      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
      gtk_label_set_max_width_chars (GTK_LABEL (label), 30);
      gtk_widget_set_tooltip_text (label, name);
      gtk_list_box_append (GTK_LIST_BOX (self->list), label);
      tally_walk_mark (gtk_widget_get_parent (label), "cost", NULL, NULL, name, "job");
      if (g_strcmp0 (name, self->chosen) == 0)
        at = i;
    }
  gtk_widget_set_visible (self->list, self->names->len > 0);
  g_clear_pointer (&self->chosen, g_free);
  if (self->names->len > 0)
    {
      self->chosen = g_strdup (g_ptr_array_index (self->names, at));
      gtk_list_box_select_row (GTK_LIST_BOX (self->list), gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) at));
    }
}

/* A new name is looked at at once; it is kept with its first figure. */
static void
add_cb (GtkWidget *widget, TallyWhatIfPage *self)
{
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->name))));

  (void) widget;
  gtk_widget_set_visible (self->add_fault, *name == '\0');
  if (!*name)
    return;
  g_free (self->chosen);
  self->chosen = g_strdup (name);
  if (self->names->len == 0)
    {
      g_autofree char *empty = g_strdup_printf (_ ("“%s” changes nothing yet: say which figures it changes."), name);
      gtk_label_set_label (GTK_LABEL (self->conclusion), empty);
    }
  gtk_editable_set_text (GTK_EDITABLE (self->name), "");
  gtk_list_box_unselect_all (GTK_LIST_BOX (self->list));
  tally_what_if_set_show (TALLY_WHAT_IF_SET (self->set), name);
  tally_what_if_set_focus (TALLY_WHAT_IF_SET (self->set));
}

/* ---- filling ---- */

static void
fill (TallyWhatIfPage *self)
{
  TallyJob *job = session_job (self->session);
  g_autofree char *words = NULL;

  self->stale = FALSE;
  self->filling = TRUE;
  gtk_widget_set_visible (self->all, job != NULL);
  if (!job)
    {
      gtk_label_set_label (GTK_LABEL (self->conclusion), _ ("No job is open."));
      self->filling = FALSE;
      return;
    }
  g_clear_pointer (&self->names, g_ptr_array_unref);
  self->names = job_what_ifs (job);
  /* One that was just named has no figure yet and is not in the job. */
  gboolean fresh = self->chosen && !g_ptr_array_find_with_equal_func (self->names, self->chosen, g_str_equal, NULL)
                   && tally_what_if_set_is_new (TALLY_WHAT_IF_SET (self->set));
  g_autofree char *kept = fresh ? g_strdup (self->chosen) : NULL;
  fill_list (self);
  if (fresh)
    {
      gtk_list_box_unselect_all (GTK_LIST_BOX (self->list));
      g_free (self->chosen);
      self->chosen = g_steal_pointer (&kept);
    }
  g_autoptr (JobComparison) c = compare (self, job);
  words = conclusion_of (c);
  gtk_label_set_label (GTK_LABEL (self->conclusion), words);
  show_results (self, c);
  gtk_widget_set_visible (GTK_WIDGET (self->results), self->names->len > 0);
  tally_what_if_set_show (TALLY_WHAT_IF_SET (self->set), self->chosen);
  tally_stock_table_fill (TALLY_STOCK_TABLE (self->stock), &job_comparison_way (c, 0)->stock, c->decimals);
  self->filling = FALSE;
}

static gboolean
refresh_cb (gpointer data)
{
  TallyWhatIfPage *self = data;

  self->refresh = 0;
  fill (self);
  return G_SOURCE_REMOVE;
}

static void
queue_refresh (TallyWhatIfPage *self)
{
  self->stale = TRUE;
  if (self->refresh == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->refresh = g_idle_add (refresh_cb, self);
}

static void
what_if_page_map (GtkWidget *widget)
{
  TallyWhatIfPage *self = TALLY_WHAT_IF_PAGE (widget);

  if (self->stale)
    fill (self);
  GTK_WIDGET_CLASS (tally_what_if_page_parent_class)->map (widget);
}

/* ---- the widget ---- */

static void
job_cb (TallySession *session, TallyWhatIfPage *self)
{
  (void) session;
  g_clear_pointer (&self->chosen, g_free);
  queue_refresh (self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyWhatIfPage *self)
{
  (void) session;
  (void) edit;
  queue_refresh (self);
}

static void
tally_what_if_page_dispose (GObject *object)
{
  TallyWhatIfPage *self = TALLY_WHAT_IF_PAGE (object);

  g_clear_handle_id (&self->refresh, g_source_remove);
  g_clear_pointer (&self->scroll, gtk_widget_unparent);
  g_clear_pointer (&self->names, g_ptr_array_unref);
  g_clear_pointer (&self->chosen, g_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_what_if_page_parent_class)->dispose (object);
}

static void
tally_what_if_page_class_init (TallyWhatIfPageClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tally_what_if_page_dispose;
  widget->map = what_if_page_map;
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
}

static void
build_list (TallyWhatIfPage *self, GtkWidget *box)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  tally_box_add (box, tally_words_new (_ ("What-ifs of this job"), "heading"));
  self->list = tally_box_add (box, gtk_list_box_new ());
  gtk_widget_add_css_class (self->list, "methods-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("What-ifs of this job"), -1);
  tally_list_leave_by_tab (self->list);
  g_signal_connect (self->list, "row-selected", G_CALLBACK (row_selected_cb), self);
  self->name = tally_box_add (line, gtk_entry_new ());
  gtk_widget_set_hexpand (self->name, TRUE);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->name), 14);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->name), _ ("name of a new one"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->name), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Name of a new what-if"), -1);
  self->add = tally_box_add (line, gtk_button_new_with_label (_ ("New what-if")));
  g_signal_connect (self->name, "activate", G_CALLBACK (add_cb), self);
  g_signal_connect (self->add, "clicked", G_CALLBACK (add_cb), self);
  tally_box_add (box, line);
  self->add_fault = tally_box_add (box, tally_words_new (_ ("Give it a name first"), "attention"));
  gtk_widget_set_visible (self->add_fault, FALSE);
}

static void
tally_what_if_page_init (TallyWhatIfPage *self)
{
  GtkWidget *left;

  self->stale = TRUE;
  self->names = g_ptr_array_new_with_free_func (g_free);
  self->content = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12);
  gtk_widget_add_css_class (self->content, "methods-view");
  self->conclusion = tally_box_add (self->content, tally_words_new ("", "conclusion"));
  self->about = tally_box_add (self->content, tally_words_new (_ ("A what-if changes figures for an answer and leaves the job alone: prices, minutes, rates, "
                                              "conditions, crew. It is kept with the job and stands beside the methods under “Compare”."),
                                           "dim-label"));
  self->all = tally_box_add (self->content, gtk_box_new (GTK_ORIENTATION_VERTICAL, 14));
  self->results = TALLY_FIGURE_GRID (tally_box_add (self->all, tally_figure_grid_new (_ ("What-ifs"))));
  self->columns = tally_box_add (self->all, gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 30));
  left = tally_box_add (self->columns, gtk_box_new (GTK_ORIENTATION_VERTICAL, 8));
  gtk_widget_set_size_request (left, 270, -1);
  gtk_widget_set_hexpand (left, FALSE);
  build_list (self, left);
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), self->content);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->scroll), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("What if"), -1);
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
}

GtkWidget *
tally_what_if_page_new (TallySession *session)
{
  TallyWhatIfPage *self = g_object_new (TALLY_TYPE_WHAT_IF_PAGE, NULL);

  self->session = g_object_ref (session);
  self->set = tally_box_add (self->columns, tally_what_if_set_new (session));
  gtk_widget_set_hexpand (self->set, TRUE);
  self->stock = tally_box_add (self->all, tally_stock_table_new (session));
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  return GTK_WIDGET (self);
}

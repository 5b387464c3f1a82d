/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-view.h"

#include "window/chart-area.h"
#include "window/methods/methods-even.h"
#include "window/methods/methods-more.h"
#include "window/methods/methods-pictures.h"
#include "window/methods/methods-table.h"
#include "window/settings.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define TALLY_TYPE_METHODS_VIEW (tally_methods_view_get_type ())
G_DECLARE_FINAL_TYPE (TallyMethodsView, tally_methods_view, TALLY, METHODS_VIEW, GtkWidget)

struct _TallyMethodsView
{
  GtkWidget parent_instance;

  /* Template widgets */
  GtkWidget *scroll, *bar, *answers, *shown_box;
  GtkLabel *conclusion, *about, *use_note, *notes, *part_label;
  GtkToggleButton *of_job, *of_part, *of_runs;
  GtkDropDown *baseline;
  GtkMenuButton *shown_button;
  GtkButton *use;
  TallyMethodsTable *table;
  TallyChartArea *bars;
  TallyMethodsEven *even;
  TallyMethodsMore *more;

  /* Owned */
  TallySession *session;
  MethodsData *data;
  MethodsChances *chances;
  gboolean *shown;        /* n_shown */
  int n_shown;
  char *baseline_key, *chosen_key; /* (nullable) */
  gboolean stale, filling;
  guint refresh;
};

G_DEFINE_FINAL_TYPE (TallyMethodsView, tally_methods_view, GTK_TYPE_WIDGET)

/* ---- what is asked ---- */

static MethodsOf
asked_of (TallyMethodsView *self)
{
  return gtk_toggle_button_get_active (self->of_part)   ? METHODS_PART
         : gtk_toggle_button_get_active (self->of_runs) ? METHODS_RUNS
                                                        : METHODS_JOB;
}

static int
find_method (TallyMethodsView *self, const char *key)
{
  int m = self->data && key ? catalogue_find_method (self->data->basis->catalogue, key) : -1;

  return m >= 0 && self->data->offered[m] ? m : -1;
}

/* Place of a method among those that are offered, and the method of such a place; -1. */
static int
place_of (const MethodsData *data, int method)
{
  int place = 0;

  for (int m = 0; m < method; m++)
    place += data->offered[m];
  return place;
}

static int
method_at (const MethodsData *data, guint place)
{
  for (int m = 0; m < data->n; m++)
    if (data->offered[m] && place-- == 0)
      return m;
  return -1;
}

static const char *
key_of (TallyMethodsView *self, int method)
{
  return catalogue_method (self->data->basis->catalogue, method)->key;
}

/* The one chosen by the user, else the job's, else the first; -1 when there are no methods. */
static int
baseline_of (TallyMethodsView *self)
{
  int m = find_method (self, self->baseline_key);

  if (m < 0 && self->data)
    m = find_method (self, job_head (self->data->job)->text[HEAD_METHOD]);
  if (m < 0 && self->data && self->data->n > 0)
    m = MAX (method_at (self->data, 0), 0);
  if (m >= 0 && !self->baseline_key)
    self->baseline_key = g_strdup (key_of (self, m));
  return m;
}

/* The user's choice while it is shown, else the best of the others. */
static int
chosen_of (TallyMethodsView *self, int baseline)
{
  int m = find_method (self, self->chosen_key);

  if (m >= 0 && ((self->shown[m] && self->data->listed[m]) || m == baseline))
    return m;
  return baseline < 0 ? -1 : methods_best (self->data, self->shown, baseline, baseline);
}

/* ---- the controls follow the catalogue ---- */

static void queue_refresh (TallyMethodsView *self);

static void
remember_shown (TallyMethodsView *self)
{
  g_autoptr (GString) hidden = g_string_new (NULL);

  for (int m = 0; m < self->n_shown; m++)
    if (!self->shown[m] && self->data->offered[m])
      g_string_append_printf (hidden, "%s%s", hidden->len ? ";" : "", key_of (self, m));
  settings_set ("methods", "hidden", hidden->len ? hidden->str : NULL);
}

static void
check_cb (GtkCheckButton *check, TallyMethodsView *self)
{
  int m = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (check), "method"));

  if (self->filling || m >= self->n_shown)
    return;
  self->shown[m] = gtk_check_button_get_active (check);
  remember_shown (self);
  queue_refresh (self);
}

static void
fill_checks (TallyMethodsView *self)
{
  g_autofree char *hidden = settings_get ("methods", "hidden");
  g_auto (GStrv) keys = g_strsplit (hidden ? hidden : "", ";", -1);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->shown_box)))
    gtk_box_remove (GTK_BOX (self->shown_box), child);
  self->n_shown = self->data ? self->data->n : 0;
  self->shown = g_renew (gboolean, self->shown, (gsize) MAX (self->n_shown, 1));
  for (int m = 0; m < self->n_shown; m++)
    {
      child = gtk_check_button_new_with_label (methods_name (self->data, m));
      self->shown[m] = self->data->offered[m] && !g_strv_contains ((const char *const *) keys, key_of (self, m));
      gtk_check_button_set_active (GTK_CHECK_BUTTON (child), self->shown[m]);
      g_object_set_data (G_OBJECT (child), "method", GINT_TO_POINTER (m));
      g_signal_connect (child, "toggled", G_CALLBACK (check_cb), self);
      gtk_box_append (GTK_BOX (self->shown_box), child);
    }
}

/* Names and checks, when the catalogue's methods are other ones than those that stand there. */
static void
fit_controls (TallyMethodsView *self)
{
  GListModel *model = gtk_drop_down_get_model (self->baseline);
  guint n = self->data ? (guint) place_of (self->data, self->data->n) : 0;
  gboolean same = model && g_list_model_get_n_items (model) == n;
  g_autoptr (GtkStringList) names = gtk_string_list_new (NULL);

  for (guint i = 0; i < n; i++)
    {
      const char *name = methods_name (self->data, method_at (self->data, i));
      same = same && strcmp (gtk_string_list_get_string (GTK_STRING_LIST (model), i), name) == 0;
      gtk_string_list_append (names, name);
    }
  if (same && self->n_shown == (self->data ? self->data->n : 0))
    return;
  gtk_drop_down_set_model (self->baseline, G_LIST_MODEL (names));
  fill_checks (self);
}

static void
show_controls (TallyMethodsView *self, int baseline)
{
  g_autofree char *part = methods_part_name (self->session);
  g_autofree char *part_label = g_strdup_printf (_ ("Part: %s"), part);
  g_autofree char *runs_label = g_strdup_printf (_ ("Selected runs (%u)"), session_selection (self->session)->len);
  g_autofree char *shown_label = NULL;
  GtkWidget *child = gtk_widget_get_first_child (self->shown_box);
  int n = 0, all = 0;

  gtk_label_set_label (self->part_label, part_label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->of_part), GTK_ACCESSIBLE_PROPERTY_LABEL, part_label, -1);
  gtk_button_set_label (GTK_BUTTON (self->of_runs), runs_label);
  if (baseline >= 0)
    gtk_drop_down_set_selected (self->baseline, (guint) place_of (self->data, baseline));
  for (int m = 0; child && m < self->n_shown; m++, child = gtk_widget_get_next_sibling (child))
    {
      /* The baseline is always there. */
      gtk_widget_set_sensitive (child, m != baseline);
      gtk_check_button_set_active (GTK_CHECK_BUTTON (child), self->shown[m] || m == baseline);
      /* A method for the other section, rectangular or round, has nothing to say here. */
      gtk_widget_set_visible (child, self->data->listed[m] || m == baseline);
      n += m == baseline || (self->shown[m] && self->data->listed[m]);
      all += m == baseline || self->data->listed[m];
    }
  shown_label = g_strdup_printf (_ ("Methods shown: %d of %d"), n, all);
  gtk_menu_button_set_label (self->shown_button, shown_label);
}

/* ---- filling ---- */

static void
show_use (TallyMethodsView *self, int chosen)
{
  static const char *const labels[METHODS_N_OF] = { N_ ("Use for the whole job"), N_ ("Use for the part shown"),
                                                    N_ ("Use for the selected runs") };
  g_autofree char *note = NULL;

  gtk_button_set_label (self->use, _ (labels[asked_of (self)]));
  gtk_widget_set_sensitive (GTK_WIDGET (self->use), chosen >= 0);
  if (chosen >= 0)
    note = g_strdup_printf (_ ("Chosen in the table: %s. One edit; it can be undone."), methods_name (self->data, chosen));
  gtk_label_set_label (self->use_note, note ? note : "");
}

static void
show_notes (TallyMethodsView *self, int baseline, int chosen)
{
  g_autofree char *a = methods_rests (self->data, baseline);
  g_autofree char *b = chosen >= 0 && chosen != baseline ? methods_rests (self->data, chosen) : g_strdup ("");
  g_autofree char *in_force = methods_rest_in_force (self->data);
  g_autofree char *all = g_strconcat (
    in_force, *in_force ? "\n\n" : "",
    _ ("Every run by the method where it is allowed, else by its fallback. Joint: worker-minutes of the steps made at the joint, "
       "conditions included, over all joints. Hardware: flange, corners, fasteners, gasket, cleats and sealant of joints, before "
       "tax, over all joints. Tooling is bought once and stands in no price."),
    "\n\n", a, *b ? "\n\n" : "", b, NULL);

  gtk_label_set_label (self->notes, all);
}

static void
show_bars (TallyMethodsView *self)
{
  int baseline = baseline_of (self);

  if (self->data && baseline >= 0 && self->data->runs > 0)
    methods_show_bars (self->bars, self->data, self->shown, baseline, self->chances);
}

/* Likely ranges and chances have come in. */
static void
chances_cb (gpointer data)
{
  TallyMethodsView *self = data;

  show_bars (self);
  tally_methods_more_update (self->more);
}

/* The choice, and what hangs on it. */
static void
show_chosen (TallyMethodsView *self, int baseline, int chosen)
{
  tally_methods_even_set (self->even, self->data, baseline, chosen);
  methods_chances_ask (self->chances, self->data, self->shown, baseline);
  show_bars (self);
  tally_methods_more_set (self->more, self->session, self->data, self->shown, baseline, chosen, self->chances);
  show_use (self, chosen);
  show_notes (self, baseline, chosen);
}

static void
fill (TallyMethodsView *self)
{
  g_autofree char *part = methods_part_name (self->session), *words = NULL, *about = NULL;
  int baseline, chosen;
  gboolean any;

  self->stale = FALSE;
  self->filling = TRUE;
  g_clear_pointer (&self->data, methods_data_free);
  self->data = methods_data_new (self->session, asked_of (self));
  fit_controls (self);
  baseline = baseline_of (self);
  any = self->data && baseline >= 0 && self->data->runs > 0;
  chosen = any ? chosen_of (self, baseline) : -1;
  words = methods_conclusion (self->data, self->shown, baseline);
  about = any ? methods_about (self->data, baseline, part) : g_strdup ("");
  gtk_label_set_label (self->conclusion, words);
  gtk_label_set_label (self->about, about);
  gtk_widget_set_visible (GTK_WIDGET (self->about), *about != '\0');
  gtk_widget_set_visible (self->bar, self->data != NULL);
  gtk_widget_set_visible (self->answers, any);
  if (self->data)
    show_controls (self, baseline);
  if (any)
    {
      tally_methods_table_set (self->table, self->data, self->shown, baseline, chosen);
      show_chosen (self, baseline, chosen);
    }
  self->filling = FALSE;
}

/* Many edits in a row are followed once; what nobody looks at waits. */
static gboolean
refresh_cb (gpointer data)
{
  TallyMethodsView *self = data;

  self->refresh = 0;
  fill (self);
  return G_SOURCE_REMOVE;
}

static void
queue_refresh (TallyMethodsView *self)
{
  self->stale = TRUE;
  if (self->refresh == 0 && gtk_widget_get_mapped (GTK_WIDGET (self)))
    self->refresh = g_idle_add (refresh_cb, self);
}

static void
methods_map (GtkWidget *widget)
{
  TallyMethodsView *self = TALLY_METHODS_VIEW (widget);

  if (self->stale)
    fill (self);
  GTK_WIDGET_CLASS (tally_methods_view_parent_class)->map (widget);
}

/* ---- what the user does ---- */

static void
of_toggled_cb (GtkToggleButton *button, TallyMethodsView *self)
{
  if (gtk_toggle_button_get_active (button))
    queue_refresh (self);
}

static void
baseline_cb (GtkDropDown *drop_down, GParamSpec *spec, TallyMethodsView *self)
{
  int m = self->data ? method_at (self->data, gtk_drop_down_get_selected (drop_down)) : -1;

  (void) spec;
  if (self->filling || m < 0)
    return;
  g_free (self->baseline_key);
  self->baseline_key = g_strdup (key_of (self, m));
  queue_refresh (self);
}

static void
chosen_cb (TallyMethodsTable *table, int method, TallyMethodsView *self)
{
  (void) table;
  g_free (self->chosen_key);
  self->chosen_key = g_strdup (key_of (self, method));
  show_chosen (self, baseline_of (self), method);
}

static void
show_all_cb (TallyMethodsEven *even, TallyMethodsView *self)
{
  int baseline = baseline_of (self);

  if (self->data)
    tally_methods_even_set (even, self->data, baseline, chosen_of (self, baseline));
}

static void
say_used (TallyMethodsView *self, const char *name, gint64 exceptions)
{
  if (exceptions > 0)
    session_say (self->session, SESSION_SAID_UNDO,
                 g_dngettext (GETTEXT_PACKAGE, "%s is used; %" G_GINT64_FORMAT " run keeps the method on its own line",
                              "%s is used; %" G_GINT64_FORMAT " runs keep the method on their own line", (gulong) exceptions),
                 name, exceptions);
  else
    session_say (self->session, SESSION_SAID_UNDO, _ ("%s is used"), name);
}

static void
use_cb (GtkButton *button, TallyMethodsView *self)
{
  int chosen = chosen_of (self, baseline_of (self));
  TallyJob *job = session_job (self->session);
  const GArray *selection = session_selection (self->session);
  JobScope all = { 0, 0 }, scope = asked_of (self) == METHODS_PART ? *session_scope (self->session) : all;

  (void) button;
  if (!job || chosen < 0)
    return;
  /* Applying fills the view anew. */
  g_autofree char *name = g_strdup (methods_name (self->data, chosen)), *key = g_strdup (key_of (self, chosen));
  g_autofree char *label = g_strdup_printf (_ ("method “%s”"), name);
  gboolean runs = asked_of (self) == METHODS_RUNS;
  JobEdit *edit = runs ? job_edit_method_of_runs (job, (const gint64 *) (gconstpointer) selection->data, selection->len, key, label)
                       : job_edit_method (job, &scope, key, label);
  gint64 exceptions = runs ? 0 : job_method_exceptions (job, &scope, key);
  if (edit->deltas->len == 0)
    {
      job_edit_free (edit);
      if (exceptions > 0)
        session_say (self->session, SESSION_SAID,
                     _ ("%s is the method already; %" G_GINT64_FORMAT " runs have another on their own line"), name, exceptions);
      else
        session_say (self->session, SESSION_SAID, _ ("%s is the method of these runs already"), name);
      return;
    }
  if (session_apply (self->session, edit))
    say_used (self, name, exceptions);
}

/* ---- the widget ---- */

static void
job_cb (TallySession *session, TallyMethodsView *self)
{
  (void) session;
  g_clear_pointer (&self->baseline_key, g_free);
  g_clear_pointer (&self->chosen_key, g_free);
  methods_chances_ask (self->chances, NULL, NULL, -1);
  queue_refresh (self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyMethodsView *self)
{
  (void) session;
  (void) edit;
  methods_chances_stale (self->chances);
  queue_refresh (self);
}

static void
moved_cb (TallySession *session, TallyMethodsView *self)
{
  (void) session;
  queue_refresh (self);
}

static void
tally_methods_view_dispose (GObject *object)
{
  TallyMethodsView *self = TALLY_METHODS_VIEW (object);

  g_clear_handle_id (&self->refresh, g_source_remove);
  g_clear_pointer (&self->scroll, gtk_widget_unparent);
  g_clear_pointer (&self->chances, methods_chances_free);
  g_clear_pointer (&self->data, methods_data_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_methods_view_parent_class)->dispose (object);
}

static void
tally_methods_view_finalize (GObject *object)
{
  TallyMethodsView *self = TALLY_METHODS_VIEW (object);

  g_free (self->shown);
  g_free (self->baseline_key);
  g_free (self->chosen_key);
  G_OBJECT_CLASS (tally_methods_view_parent_class)->finalize (object);
}

static void
tally_methods_view_class_init (TallyMethodsViewClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tally_methods_view_dispose;
  G_OBJECT_CLASS (klass)->finalize = tally_methods_view_finalize;
  widget->map = methods_map;
  g_type_ensure (TALLY_TYPE_METHODS_TABLE);
  g_type_ensure (TALLY_TYPE_METHODS_EVEN);
  g_type_ensure (TALLY_TYPE_METHODS_MORE);
  g_type_ensure (TALLY_TYPE_CHART_AREA);
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget, "/seamtally/ui/methods-view.ui");
#define CHILD(name) gtk_widget_class_bind_template_child (widget, TallyMethodsView, name)
  CHILD (scroll);
  CHILD (bar);
  CHILD (answers);
  CHILD (shown_box);
  CHILD (conclusion);
  CHILD (about);
  CHILD (use_note);
  CHILD (notes);
  CHILD (part_label);
  CHILD (of_job);
  CHILD (of_part);
  CHILD (of_runs);
  CHILD (baseline);
  CHILD (shown_button);
  CHILD (use);
  CHILD (table);
  CHILD (bars);
  CHILD (even);
  CHILD (more);
#undef CHILD
  gtk_widget_class_bind_template_callback (widget, of_toggled_cb);
  gtk_widget_class_bind_template_callback (widget, baseline_cb);
  gtk_widget_class_bind_template_callback (widget, show_all_cb);
  gtk_widget_class_bind_template_callback (widget, use_cb);
}

static void
tally_methods_view_init (TallyMethodsView *self)
{
  self->filling = TRUE;
  gtk_widget_init_template (GTK_WIDGET (self));
  self->filling = FALSE;
  self->stale = TRUE;
  self->chances = methods_chances_new (chances_cb, self);
  tally_chart_area_set_title (self->bars, _ ("Cost by method (hatched: the baseline)"));
  g_signal_connect (self->table, "chosen", G_CALLBACK (chosen_cb), self);
}

GtkWidget *
tally_methods_view_new (TallySession *session)
{
  TallyMethodsView *self = g_object_new (TALLY_TYPE_METHODS_VIEW, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "scope", G_CALLBACK (moved_cb), self, 0);
  g_signal_connect_object (session, "selection", G_CALLBACK (moved_cb), self, 0);
  return GTK_WIDGET (self);
}

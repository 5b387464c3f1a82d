/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/window.h"

#include "window/catalogue/catalogue-window.h"
#include "window/closeout/closeout-view.h"
#include "window/detail/detail.h"
#include "window/drawings.h"
#include "window/habits/habits.h"
#include "window/hours/hours-view.h"
#include "window/import/import-window.h"
#include "window/job-map.h"
#include "window/methods/methods-view.h"
#include "window/price/price-view.h"
#include "window/runs/runs-view.h"
#include "window/settings.h"
#include "window/totals-line.h"

#include <glib/gi18n.h>

struct _TallyWindow
{
  AdwApplicationWindow parent_instance;

  /* Template widgets */
  AdwToastOverlay *toasts;
  GtkStack *views, *pages;
  GtkLabel *job_title, *job_subtitle, *undo_label, *refused_label;
  GtkButton *undo_button;
  GtkRevealer *refused;
  GtkPaned *map_paned, *detail_paned;
  GtkScrolledWindow *map_scroll;
  GtkBox *foot;

  /* Borrowed */
  GtkWidget *price, *runs, *detail, *totals;

  /* Owned */
  TallySession *session;
};

G_DEFINE_FINAL_TYPE (TallyWindow, tally_window, ADW_TYPE_APPLICATION_WINDOW)

/* ---- what the session says ---- */

static void
update_undo (TallyWindow *self)
{
  TallyJob *job = session_job (self->session);
  const char *undo = job ? job_undo_label (job) : NULL, *redo = job ? job_redo_label (job) : NULL;
  g_autofree char *label = undo ? g_strdup_printf (_ ("Undo %s"), undo) : g_strdup (_ ("Undo"));
  g_autofree char *tip = redo ? g_strdup_printf (_ ("%s (Ctrl+Z); redo %s (Ctrl+Shift+Z)"), label, redo)
                              : g_strdup_printf (_ ("%s (Ctrl+Z)"), label);

  gtk_label_set_label (self->undo_label, label);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->undo_label), tip);
  /* GTK 4.8 takes no name from the label inside. */
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->undo_button), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.undo", undo != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.redo", redo != NULL);
}

static void
update_title (TallyWindow *self)
{
  TallyJob *job = session_job (self->session);
  Store *store = session_store (self->session);
  const char *name = job ? job_head (job)->text[HEAD_NAME] : NULL;
  g_autofree char *file = store ? g_path_get_basename (store_path (store)) : g_strdup ("");
  g_autofree char *title = g_strdup_printf ("%s – Seamtally", name ? name : _ ("no job"));

  gtk_label_set_label (self->job_title, name ? name : _ ("No job"));
  gtk_label_set_label (self->job_subtitle, file);
  if (store)
    gtk_widget_set_tooltip_text (GTK_WIDGET (self->job_subtitle), store_path (store));
  gtk_window_set_title (GTK_WINDOW (self), title);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyWindow *self)
{
  (void) session;
  (void) edit;
  gtk_revealer_set_reveal_child (self->refused, FALSE);
  update_undo (self);
  update_title (self);
}

static void
job_cb (TallySession *session, TallyWindow *self)
{
  gboolean open = session_job (session) != NULL;

  gtk_stack_set_visible_child_name (self->pages, open ? "job" : "empty");
  gtk_widget_set_visible (GTK_WIDGET (self->foot), open);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.workbook", open);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.import", session_store (session) != NULL);
  if (open)
    {
      settings_set ("office", "path", store_path (session_store (session)));
      settings_set_int ("office", "job", (int) session_job_id (session));
    }
  update_undo (self);
  update_title (self);
}

static void
said_cb (TallySession *session, const char *text, int how, TallyWindow *self)
{
  AdwToast *toast;

  (void) session;
  if (how == SESSION_REFUSED)
    {
      gtk_label_set_label (self->refused_label, text);
      gtk_revealer_set_reveal_child (self->refused, TRUE);
      return;
    }
  toast = adw_toast_new (text);
  if (how == SESSION_SAID_UNDO)
    {
      adw_toast_set_button_label (toast, _ ("Undo"));
      adw_toast_set_action_name (toast, "win.undo");
    }
  adw_toast_overlay_add_toast (self->toasts, toast);
}

static void
close_refused_cb (GtkButton *button, TallyWindow *self)
{
  (void) button;
  gtk_revealer_set_reveal_child (self->refused, FALSE);
}

/* ---- actions ---- */

typedef void (*PresentFunc) (TallySession *, GtkWindow *);

static void
present_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  static const struct
  {
    const char *action;
    PresentFunc present;
  } windows[] = { { "win.jobs", tally_jobs_present },           { "win.office", tally_office_choose },
                  { "win.import", tally_import_window_present }, { "win.places", tally_places_present },
                  { "win.catalogue", tally_catalogue_window_present }, { "win.preferences", tally_preferences_present } };
  TallyWindow *self = TALLY_WINDOW (widget);

  (void) parameter;
  for (gsize i = 0; i < G_N_ELEMENTS (windows); i++)
    if (g_str_equal (name, windows[i].action))
      windows[i].present (self->session, GTK_WINDOW (self));
}

static void
page_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void) parameter;
  if (g_str_equal (name, "win.shortcuts"))
    tally_shortcuts_present (GTK_WINDOW (widget));
  else if (g_str_equal (name, "win.help"))
    tally_help_present (GTK_WINDOW (widget));
  else
    tally_about_present (GTK_WINDOW (widget));
}

static void
undo_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyWindow *self = TALLY_WINDOW (widget);

  (void) parameter;
  if (g_str_equal (name, "win.undo"))
    session_undo (self->session);
  else
    session_redo (self->session);
}

static void
view_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void) name;
  gtk_stack_set_visible_child_name (TALLY_WINDOW (widget)->views, g_variant_get_string (parameter, NULL));
}

static void
demo_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyWindow *self = TALLY_WINDOW (widget);
  g_autoptr (GError) error = NULL;

  (void) name;
  (void) parameter;
  if (!session_store (self->session) || !session_open_demo (self->session, &error))
    session_say (self->session, SESSION_REFUSED, "%s", error ? error->message : _ ("no office file is open: choose one"));
}

static void
workbook_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  (void) name;
  (void) parameter;
  tally_price_write_workbook (TALLY_WINDOW (widget)->price);
}

static void
fold_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyWindow *self = TALLY_WINDOW (widget);
  gboolean map = g_str_equal (name, "win.show-map");
  GtkWidget *pane = map ? GTK_WIDGET (self->map_scroll) : self->detail;
  gboolean show = !gtk_widget_get_visible (pane);

  (void) parameter;
  gtk_widget_set_visible (pane, show);
  settings_set_int ("window", map ? "map" : "detail", show);
}

static void
show_fault_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyWindow *self = TALLY_WINDOW (widget);

  (void) name;
  (void) parameter;
  gtk_stack_set_visible_child_name (self->views, "runs");
  tally_runs_view_show_fault (self->runs);
}

/* ---- life ---- */

static void
size_cb (TallyWindow *self)
{
  int width, height;

  gtk_window_get_default_size (GTK_WINDOW (self), &width, &height);
  settings_set_int ("window", "width", width);
  settings_set_int ("window", "height", height);
}

static gboolean
close_request (GtkWindow *window)
{
  size_cb (TALLY_WINDOW (window));
  return GTK_WINDOW_CLASS (tally_window_parent_class)->close_request (window);
}

static void
tally_window_dispose (GObject *object)
{
  TallyWindow *self = TALLY_WINDOW (object);

  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  gtk_widget_dispose_template (GTK_WIDGET (self), TALLY_TYPE_WINDOW);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_window_parent_class)->dispose (object);
}

static void
install_actions (GtkWidgetClass *widget)
{
  static const char *const presents[] = { "win.jobs", "win.office", "win.import", "win.places", "win.catalogue",
                                          "win.preferences" };
  static const char *const pages[] = { "win.shortcuts", "win.help", "win.about" };

  for (gsize i = 0; i < G_N_ELEMENTS (presents); i++)
    gtk_widget_class_install_action (widget, presents[i], NULL, present_cb);
  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    gtk_widget_class_install_action (widget, pages[i], NULL, page_cb);
  gtk_widget_class_install_action (widget, "win.undo", NULL, undo_cb);
  gtk_widget_class_install_action (widget, "win.redo", NULL, undo_cb);
  gtk_widget_class_install_action (widget, "win.view", "s", view_cb);
  gtk_widget_class_install_action (widget, "win.demo", NULL, demo_cb);
  gtk_widget_class_install_action (widget, "win.workbook", NULL, workbook_cb);
  gtk_widget_class_install_action (widget, "win.show-map", NULL, fold_cb);
  gtk_widget_class_install_action (widget, "win.show-detail", NULL, fold_cb);
  gtk_widget_class_install_action (widget, "runs.show-fault", NULL, show_fault_cb);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_z, GDK_CONTROL_MASK, "win.undo", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_z, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "win.redo", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_y, GDK_CONTROL_MASK, "win.redo", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_F1, 0, "win.help", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_F9, 0, "win.show-map", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_F9, GDK_SHIFT_MASK, "win.show-detail", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_question, GDK_CONTROL_MASK, "win.shortcuts", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_o, GDK_CONTROL_MASK, "win.jobs", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_q, GDK_CONTROL_MASK, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_e, GDK_CONTROL_MASK, "win.workbook", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_1, GDK_ALT_MASK, "win.view", "s", "runs");
  gtk_widget_class_add_binding_action (widget, GDK_KEY_2, GDK_ALT_MASK, "win.view", "s", "methods");
  gtk_widget_class_add_binding_action (widget, GDK_KEY_3, GDK_ALT_MASK, "win.view", "s", "price");
  gtk_widget_class_add_binding_action (widget, GDK_KEY_4, GDK_ALT_MASK, "win.view", "s", "hours");
  gtk_widget_class_add_binding_action (widget, GDK_KEY_5, GDK_ALT_MASK, "win.view", "s", "closeout");
}

static void
tally_window_class_init (TallyWindowClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tally_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = close_request;
  gtk_widget_class_set_template_from_resource (widget, "/seamtally/ui/window.ui");
#define BIND(name) gtk_widget_class_bind_template_child (widget, TallyWindow, name)
  BIND (toasts);
  BIND (views);
  BIND (pages);
  BIND (job_title);
  BIND (job_subtitle);
  BIND (undo_label);
  BIND (undo_button);
  BIND (refused_label);
  BIND (refused);
  BIND (map_paned);
  BIND (detail_paned);
  BIND (map_scroll);
  BIND (foot);
#undef BIND
  gtk_widget_class_bind_template_callback (widget, close_refused_cb);
  install_actions (widget);
}

static void
tally_window_init (TallyWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static void
add_views (TallyWindow *self)
{
  const struct
  {
    const char *name, *title;
    GtkWidget *view;
  } views[] = {
    { "runs", _ ("Runs"), self->runs = tally_runs_view_new (self->session) },
    { "methods", _ ("Methods"), tally_methods_view_new (self->session) },
    { "price", _ ("Price"), self->price = tally_price_view_new (self->session) },
    { "hours", _ ("Hours"), tally_hours_view_new (self->session) },
    { "closeout", _ ("Closeout"), tally_closeout_view_new (self->session) },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (views); i++)
    gtk_stack_add_titled (self->views, views[i].view, views[i].name, views[i].title);
}

TallyWindow *
tally_window_new (AdwApplication *app, TallySession *session)
{
  TallyWindow *self = g_object_new (TALLY_TYPE_WINDOW, "application", app, NULL);
  GtkWidget *start;
  int width = settings_get_int ("window", "width", 1280), height = settings_get_int ("window", "height", 800);

  self->session = g_object_ref (session);
  gtk_window_set_default_size (GTK_WINDOW (self), MAX (width, 800), MAX (height, 500));
  add_views (self);
  start = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_box_append (GTK_BOX (start), tally_job_map_new (session));
  gtk_box_append (GTK_BOX (start), tally_drawings_new (session));
  gtk_scrolled_window_set_child (self->map_scroll, start);
  self->detail = tally_detail_new (session);
  gtk_paned_set_end_child (self->detail_paned, self->detail);
  /* At 1280 the table keeps its columns: the detail pane starts folded. */
  gtk_widget_set_visible (self->detail, settings_get_int ("window", "detail", width > 1500));
  gtk_widget_set_visible (GTK_WIDGET (self->map_scroll), settings_get_int ("window", "map", TRUE));
  self->totals = tally_totals_line_new (session);
  gtk_widget_set_hexpand (self->totals, TRUE);
  gtk_box_append (self->foot, self->totals);
  tally_runs_view_set_totals (self->runs, self->totals);
  g_signal_connect (session, "job", G_CALLBACK (job_cb), self);
  g_signal_connect (session, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect (session, "said", G_CALLBACK (said_cb), self);
  job_cb (session, self);
  return self;
}

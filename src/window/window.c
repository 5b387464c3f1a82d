/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/window-private.h"

#include "window/catalogue/catalogue-window.h"
#include "window/closeout/closeout-view.h"
#include "window/detail/detail.h"
#include "window/drawings.h"
#include "window/habits/habits.h"
#include "window/habits/sheet-page.h"
#include "window/hours/hours-book.h"
#include "window/hours/hours-view.h"
#include "window/import/import-window.h"
#include "window/labour/labour-window.h"
#include "window/job-map.h"
#include "window/methods/methods-pages.h"
#include "window/price/price-view.h"
#include "window/runs/runs-view.h"
#include "window/settings.h"
#include "window/studies/studies-window.h"
#include "window/totals-line.h"
#include "window/walk.h"

#include <glib/gi18n.h>

G_DEFINE_FINAL_TYPE (TallyWindow, tally_window, ADW_TYPE_APPLICATION_WINDOW)

/* ---- what the session says ---- */

/* The section of the main menu that starts with undo. (transfer full) */
static GMenu *
undo_section (TallyWindow *self)
{
  for (int i = 0; i < g_menu_model_get_n_items (G_MENU_MODEL (self->main_menu)); i++)
    {
      g_autoptr (GMenuModel) section = g_menu_model_get_item_link (G_MENU_MODEL (self->main_menu), i, G_MENU_LINK_SECTION);
      g_autofree char *action = NULL;
      if (section && g_menu_model_get_item_attribute (section, 0, G_MENU_ATTRIBUTE_ACTION, "s", &action) && g_str_equal (action, "win.undo"))
        return G_MENU (g_steal_pointer (&section));
    }
  return NULL;
}

/* The menu names what is undone too. */
static void
name_in_menu (TallyWindow *self, const char *undo, const char *redo)
{
  g_autoptr (GMenu) section = undo_section (self);
  const char *const words[] = { undo, redo }, *const actions[] = { "win.undo", "win.redo" };

  if (section)
    g_menu_remove_all (section);
  for (gsize i = 0; section && i < G_N_ELEMENTS (words); i++)
    {
      /* An underscore would mark a letter. */
      g_auto (GStrv) parts = g_strsplit (words[i], "_", -1);
      g_autofree char *label = g_strjoinv ("__", parts);
      g_menu_append (section, label, actions[i]);
    }
}

/* One Undo for all: where hours and ticks are seen it means those, elsewhere the take-off. */
static TallyHoursBook *
book_shown (TallyWindow *self)
{
  const char *view = gtk_stack_get_visible_child_name (self->views);

  return g_strcmp0 (view, "hours") == 0 ? hours_book_of (self->session) : NULL;
}

static void
update_undo (TallyWindow *self)
{
  TallyJob *job = session_job (self->session);
  TallyHoursBook *book = book_shown (self);
  const char *undo = !job ? NULL : book ? hours_book_undo_label (book) : job_undo_label (job);
  const char *redo = job && !book ? job_redo_label (job) : NULL;
  g_autofree char *label = undo ? g_strdup_printf (_ ("Undo %s"), undo) : g_strdup (_ ("Undo"));
  g_autofree char *tip = redo ? g_strdup_printf (_ ("%s (Ctrl+Z); redo %s (Ctrl+Shift+Z)"), label, redo)
                              : g_strdup_printf (_ ("%s (Ctrl+Z)"), label);

  g_autofree char *again = redo ? g_strdup_printf (_ ("Redo %s"), redo) : g_strdup (_ ("Redo"));

  gtk_label_set_label (self->undo_label, label);
  name_in_menu (self, label, again);
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

/* What was said belongs to the edit, job and view it was said of; its button would take back another one. */
static void
hush (TallyWindow *self)
{
  gtk_revealer_set_reveal_child (self->refused, FALSE);
  if (self->toast)
    adw_toast_dismiss (self->toast);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyWindow *self)
{
  (void) session;
  (void) edit;
  hush (self);
  update_undo (self);
  update_title (self);
}

static void
book_cb (TallyHoursBook *book, TallyWindow *self)
{
  (void) book;
  update_undo (self);
}

static void
job_cb (TallySession *session, TallyWindow *self)
{
  gboolean open = session_job (session) != NULL;

  hush (self);
  if (open && job_n (session_job (session), JOB_RUN) == 0)
    gtk_stack_set_visible_child_name (self->views, "runs");
  gtk_stack_set_visible_child_name (self->pages, open ? "job" : "empty");
  gtk_widget_set_visible (GTK_WIDGET (self->foot), open);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.workbook", open);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.construction", open);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.labour", open);
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
  if (tally_notice_told_elsewhere (GTK_WINDOW (self)))
    return;
  if (how == SESSION_REFUSED || how == SESSION_REFUSED_STALE)
    {
      gtk_label_set_label (self->refused_label, text);
      gtk_widget_set_visible (GTK_WIDGET (self->reopen), how == SESSION_REFUSED_STALE);
      gtk_revealer_set_reveal_child (self->refused, TRUE);
      return;
    }
  if (self->toast)
    adw_toast_dismiss (self->toast);
  toast = adw_toast_new (text);
  g_set_weak_pointer (&self->toast, toast);
  if (how == SESSION_SAID_UNDO)
    {
      adw_toast_set_button_label (toast, _ ("Undo"));
      adw_toast_set_action_name (toast, "win.undo");
    }
  adw_toast_overlay_add_toast (self->toasts, toast);
}

static void
reopen_cb (GtkButton *button, TallyWindow *self)
{
  g_autoptr (GError) error = NULL;

  (void) button;
  if (session_job (self->session) && !session_reopen_job (self->session, &error))
    session_say (self->session, SESSION_REFUSED, "%s", error->message);
}

static void
close_refused_cb (GtkButton *button, TallyWindow *self)
{
  (void) button;
  gtk_revealer_set_reveal_child (self->refused, FALSE);
}

/* ---- actions ---- */

typedef void (*PresentFunc) (TallySession *, GtkWindow *);

static const struct
{
  const char *action;
  PresentFunc present;
} windows[] = { { "win.jobs", tally_jobs_present },           { "win.office", tally_office_choose },
                { "win.import", tally_import_window_present }, { "win.places", tally_places_present },
                { "win.catalogue", tally_catalogue_window_present }, { "win.preferences", tally_preferences_present },
                { "win.labour", tally_labour_present },
                { "win.studies", tally_studies_present }, { "win.construction", tally_construction_present }, { "win.cheapest", tally_detail_cheapest },
                { "win.unpin", tally_detail_unpin } };

static void
present_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
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
  if (g_str_equal (name, "win.undo") && book_shown (self))
    hours_book_undo (book_shown (self));
  else if (g_str_equal (name, "win.undo"))
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

/* ---- panes and places ---- */

static void
tally_window_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  TallyWindow *self = TALLY_WINDOW (widget);

  GTK_WIDGET_CLASS (tally_window_parent_class)->size_allocate (widget, width, height, baseline);
  if (width != self->width && self->detail)
    window_queue_fit (self);
}

static void
fold_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyWindow *self = TALLY_WINDOW (widget);
  guint which = g_str_equal (name, "win.show-map") ? MAP : DETAIL;
  GtkWidget *pane = which == MAP ? GTK_WIDGET (self->map_scroll) : self->detail;

  (void) parameter;
  window_wish (self, which, !gtk_widget_get_visible (pane));
  settings_set_int ("window", which == MAP ? "map" : "detail", self->wish[which]);
}

/* A total was pressed: its walk down to the sources, in the pane, which is opened for it. */
static void
explain_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyWindow *self = TALLY_WINDOW (widget);

  (void) name;
  session_set_total (self->session, g_variant_get_string (parameter, NULL));
  if (!gtk_widget_get_visible (self->detail))
    window_wish (self, DETAIL, TRUE);
}

/* The figure that has the focus, taken apart in the same way; where there is none, the cost of the job. */
static void
walk_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyWindow *self = TALLY_WINDOW (widget);
  const char *line = tally_walk_find (gtk_window_get_focus (GTK_WINDOW (self)));
  GtkWidget *page = gtk_stack_get_visible_child (self->views);
  gboolean methods = g_strcmp0 (gtk_stack_get_visible_child_name (self->views), "methods") == 0;

  (void) name;
  (void) parameter;
  if (methods)
    page = tally_methods_pages_shown (page);
  if (!line && methods)
    line = tally_walk_find (page);
  if (line)
    {
      g_object_set_data_full (G_OBJECT (self), "walked", g_strdup (line), g_free);
      g_object_set_data (G_OBJECT (self), "walked-on", page);
    }
  else if (methods && g_object_get_data (G_OBJECT (self), "walked-on") == page)
    /* Back from a run to the figure that led there; a figure of another page says nothing here. */
    line = g_object_get_data (G_OBJECT (self), "walked");
  if (session_job (self->session))
    gtk_widget_activate_action (widget, "win.explain", "s", line ? line : "cost");
}

/* Keys of the table, from wherever one is. */
static void
go_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyWindow *self = TALLY_WINDOW (widget);
  const char *where = g_variant_get_string (parameter, NULL);
  gboolean there = g_strcmp0 (gtk_stack_get_visible_child_name (self->views), "runs") == 0;

  (void) name;
  if (!session_job (self->session))
    return;
  gtk_stack_set_visible_child_name (self->views, "runs");
  /* What concerns the cell of the cursor is for who sees it. */
  tally_runs_view_go (self->runs, there || g_str_equal (where, "line") || g_str_equal (where, "find") ? where : "table");
}

static void
view_shown_cb (GtkStack *views, GParamSpec *pspec, TallyWindow *self)
{
  (void) views;
  (void) pspec;
  gtk_revealer_set_reveal_child (self->refused, FALSE);
  if (self->detail)
    {
      window_fit_panes (self);
      update_undo (self);
    }
}

static void
show_fault_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyWindow *self = TALLY_WINDOW (widget);

  (void) name;
  gtk_stack_set_visible_child_name (self->views, "runs");
  if (parameter)
    tally_runs_view_show_run (self->runs, g_variant_get_int64 (parameter));
  else
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
  g_clear_handle_id (&self->fit, g_source_remove);
  g_clear_weak_pointer (&self->toast);
  self->detail = NULL;
  gtk_widget_dispose_template (GTK_WIDGET (self), TALLY_TYPE_WINDOW);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_window_parent_class)->dispose (object);
}

static void
install_actions (GtkWidgetClass *widget)
{
  static const char *const pages[] = { "win.shortcuts", "win.help", "win.about" };

  for (gsize i = 0; i < G_N_ELEMENTS (windows); i++)
    gtk_widget_class_install_action (widget, windows[i].action, NULL, present_cb);
  for (gsize i = 0; i < G_N_ELEMENTS (pages); i++)
    gtk_widget_class_install_action (widget, pages[i], NULL, page_cb);
  gtk_widget_class_install_action (widget, "win.undo", NULL, undo_cb);
  gtk_widget_class_install_action (widget, "win.redo", NULL, undo_cb);
  gtk_widget_class_install_action (widget, "win.view", "s", view_cb);
  gtk_widget_class_install_action (widget, "win.demo", NULL, demo_cb);
  gtk_widget_class_install_action (widget, "win.workbook", NULL, workbook_cb);
  gtk_widget_class_install_action (widget, "win.show-map", NULL, fold_cb);
  gtk_widget_class_install_action (widget, "win.show-detail", NULL, fold_cb);
  gtk_widget_class_install_action (widget, "win.explain", "s", explain_cb);
  gtk_widget_class_install_action (widget, "win.walk", NULL, walk_cb);
  gtk_widget_class_install_action (widget, "win.go", "s", go_cb);
  gtk_widget_class_install_action (widget, "runs.show-fault", NULL, show_fault_cb);
  gtk_widget_class_install_action (widget, "runs.show-run", "x", show_fault_cb);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_z, GDK_CONTROL_MASK, "win.undo", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_z, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "win.redo", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_y, GDK_CONTROL_MASK, "win.redo", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_F1, 0, "win.help", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_F4, 0, "win.walk", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_F9, 0, "win.show-map", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_F9, GDK_SHIFT_MASK, "win.show-detail", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_question, GDK_CONTROL_MASK, "win.shortcuts", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_o, GDK_CONTROL_MASK, "win.jobs", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_q, GDK_CONTROL_MASK, "window.close", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_e, GDK_CONTROL_MASK, "win.workbook", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_t, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "win.studies", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_r, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "win.construction", NULL);
  gtk_widget_class_add_binding_action (widget, GDK_KEY_k, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "win.labour", NULL);
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
  widget->size_allocate = tally_window_size_allocate;
  gtk_widget_class_set_template_from_resource (widget, "/seamtally/ui/window.ui");
#define BIND(name) gtk_widget_class_bind_template_child (widget, TallyWindow, name)
  BIND (toasts);
  BIND (views);
  BIND (pages);
  BIND (job_title);
  BIND (job_subtitle);
  BIND (undo_label);
  BIND (undo_button);
  BIND (reopen);
  BIND (refused_label);
  BIND (refused);
  BIND (map_paned);
  BIND (detail_paned);
  BIND (map_scroll);
  BIND (foot);
  BIND (main_menu);
#undef BIND
  gtk_widget_class_bind_template_callback (widget, close_refused_cb);
  gtk_widget_class_bind_template_callback (widget, reopen_cb);
  install_actions (widget);
}

/* Before the widget with the focus gets them: an entry has its own use for some, a map cell none for any. */
static void
add_keys (TallyWindow *self)
{
  static const struct
  {
    guint key;
    GdkModifierType with;
    const char *where;
  } keys[] = { { GDK_KEY_l, GDK_CONTROL_MASK, "line" },
               { GDK_KEY_f, GDK_CONTROL_MASK, "find" },
               { GDK_KEY_g, GDK_CONTROL_MASK, "table" },
               { GDK_KEY_l, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "like" },
               { GDK_KEY_f, GDK_CONTROL_MASK | GDK_SHIFT_MASK, "filter" } };
  GtkEventController *controller = gtk_shortcut_controller_new ();

  gtk_event_controller_set_propagation_phase (controller, GTK_PHASE_CAPTURE);
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (controller),
                                          gtk_shortcut_new_with_arguments (gtk_keyval_trigger_new (keys[i].key, keys[i].with),
                                                                           gtk_named_action_new ("win.go"), "s", keys[i].where));
  gtk_widget_add_controller (GTK_WIDGET (self), controller);
}

static void
tally_window_init (TallyWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  add_keys (self);
  g_signal_connect (self->views, "notify::visible-child", G_CALLBACK (view_shown_cb), self);
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
    { "methods", _ ("Methods"), tally_methods_pages_new (self->session) },
    { "price", _ ("Price"), self->price = tally_price_view_new (self->session) },
    { "hours", _ ("Hours"), tally_hours_view_new (self->session) },
    { "closeout", _ ("Closeout"), tally_closeout_view_new (self->session) },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (views); i++)
    gtk_stack_add_titled (self->views, views[i].view, views[i].name, views[i].title);
}

TallySession *
tally_window_session (TallyWindow *window)
{
  return window->session;
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
  self->pane_width[MAP] = self->pane_width[DETAIL] = 300;
  self->wish[DETAIL] = settings_get_int ("window", "detail", width > 1500);
  self->wish[MAP] = settings_get_int ("window", "map", TRUE);
  window_fit_panes (self);
  self->totals = tally_totals_line_new (session);
  gtk_widget_set_hexpand (self->totals, TRUE);
  gtk_box_append (self->foot, self->totals);
  tally_runs_view_set_totals (self->runs, self->totals);
  g_signal_connect (session, "job", G_CALLBACK (job_cb), self);
  g_signal_connect (session, "changed", G_CALLBACK (changed_cb), self);
  g_signal_connect (session, "said", G_CALLBACK (said_cb), self);
  g_signal_connect_object (hours_book_of (session), "changed", G_CALLBACK (book_cb), self, 0);
  job_cb (session, self);
  return self;
}

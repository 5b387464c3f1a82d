/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/sheet-page.h"

#include <adwaita.h>
#include <glib/gi18n.h>

/* ---- a grid and its line ---- */

typedef struct
{
  TallyGrid *grid;
  TallyGridModel *model;
  GtkLabel *address, *message;
} SheetPage;

static void
update_line (SheetPage *page)
{
  guint row = 0, column = 0;
  g_autofree char *title = NULL, *text = NULL, *message = NULL, *address = NULL;

  if (grid_model_n_rows (page->model) == 0 || grid_model_n_columns (page->model) == 0)
    {
      gtk_label_set_label (page->address, _ ("No rows yet"));
      gtk_label_set_label (page->message, "");
      return;
    }
  grid_get_cursor (page->grid, &row, &column);
  if (row >= grid_model_n_rows (page->model) || column >= grid_model_n_columns (page->model))
    return;
  title = grid_model_title (page->model, column);
  text = grid_model_text (page->model, row, column);
  message = grid_model_message (page->model, row, column);
  address = g_strdup_printf (_ ("Row %u · %s"), row + 1, title);
  gtk_label_set_label (page->address, address);
  gtk_label_set_label (page->message, message ? message : text);
  if (grid_model_flags (page->model, row, column) & GRID_CELL_FAULTY)
    gtk_widget_add_css_class (GTK_WIDGET (page->message), "attention");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (page->message), "attention");
}

/* Until the cursor goes on. */
static void
refused_cb (TallyGrid *grid, const char *words, SheetPage *page)
{
  (void) grid;
  gtk_label_set_label (page->message, words);
  gtk_widget_add_css_class (GTK_WIDGET (page->message), "attention");
}

static void
rows_changed_cb (TallyGridModel *model, guint first, guint n, SheetPage *page)
{
  (void) model;
  (void) first;
  (void) n;
  update_line (page);
}

static void
page_gone (gpointer data, GObject *where)
{
  SheetPage *page = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (page->model, page);
  g_object_unref (page->model);
  g_free (page);
}

GtkWidget *
tally_sheet_page_new (TallyGridModel *model, const char *label, TallyGrid **grid)
{
  SheetPage *page = g_new0 (SheetPage, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  page->model = g_object_ref (model);
  page->grid = grid_new (model);
  page->address = GTK_LABEL (gtk_label_new (NULL));
  page->message = GTK_LABEL (gtk_label_new (NULL));
  gtk_widget_add_css_class (GTK_WIDGET (page->address), "heading");
  gtk_label_set_xalign (page->message, 0);
  gtk_label_set_ellipsize (page->message, PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (GTK_WIDGET (page->message), TRUE);
  gtk_widget_add_css_class (line, "sheet-line");
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (page->address));
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (page->message));
  grid_set_label (page->grid, label);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), GTK_WIDGET (page->grid));
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), scrolled);
  g_signal_connect_swapped (page->grid, "cursor", G_CALLBACK (update_line), page);
  g_signal_connect (page->grid, "refused", G_CALLBACK (refused_cb), page);
  g_signal_connect_swapped (model, "reset", G_CALLBACK (update_line), page);
  g_signal_connect (model, "rows-changed", G_CALLBACK (rows_changed_cb), page);
  g_object_weak_ref (G_OBJECT (box), page_gone, page);
  update_line (page);
  if (grid)
    *grid = page->grid;
  return box;
}

static gboolean
take_focus_cb (gpointer data)
{
  g_autoptr (GtkWidget) grid = data;

  if (gtk_widget_get_mapped (grid))
    gtk_widget_grab_focus (grid);
  return G_SOURCE_REMOVE;
}

/* Behind the window's own choice of a first focus. */
static void
sheet_mapped_cb (GtkWidget *grid, gpointer data)
{
  (void) data;
  g_idle_add (take_focus_cb, g_object_ref (grid));
}

void
tally_sheet_take_focus (TallyGrid *grid)
{
  g_signal_connect (grid, "map", G_CALLBACK (sheet_mapped_cb), NULL);
}

/* ---- what the session says ---- */

typedef struct
{
  TallySession *session;
  AdwToastOverlay *toasts;
  GtkRevealer *revealer;
  GtkLabel *words;
  GtkWidget *reopen;
  AdwToast *toast; /* (nullable): the one that was shown last; weak */
} Notice;

/* So that the window this one stands beside leaves it to this one to say things while it is worked in. */
static void
notice_mapped_cb (GtkWidget *toasts, gpointer data)
{
  (void) data;
  g_object_set_data (G_OBJECT (gtk_widget_get_root (toasts)), "tells", GINT_TO_POINTER (1));
}

static void
undo_cb (AdwToast *toast, TallySession *session)
{
  (void) toast;
  session_undo (session);
}

static void
said_cb (TallySession *session, const char *text, int how, Notice *n)
{
  AdwToast *toast;

  if (!gtk_widget_get_mapped (GTK_WIDGET (n->toasts)) || !gtk_window_is_active (GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (n->toasts)))))
    return;
  if (how == SESSION_REFUSED || how == SESSION_REFUSED_STALE)
    {
      gtk_label_set_label (n->words, text);
      gtk_widget_set_visible (n->reopen, how == SESSION_REFUSED_STALE);
      gtk_revealer_set_reveal_child (n->revealer, TRUE);
      return;
    }
  if (n->toast)
    adw_toast_dismiss (n->toast);
  toast = adw_toast_new (text);
  g_set_weak_pointer (&n->toast, toast);
  if (how == SESSION_SAID_UNDO)
    {
      adw_toast_set_button_label (toast, _ ("Undo"));
      g_signal_connect_object (toast, "button-clicked", G_CALLBACK (undo_cb), session, 0);
    }
  adw_toast_overlay_add_toast (n->toasts, toast);
}

static void
changed_cb (TallySession *session, gpointer edit, Notice *n)
{
  (void) session;
  (void) edit;
  gtk_revealer_set_reveal_child (n->revealer, FALSE);
  /* Its button would take back another edit. */
  if (n->toast)
    adw_toast_dismiss (n->toast);
}

static void
reopen_cb (GtkButton *button, Notice *n)
{
  g_autoptr (GError) error = NULL;

  (void) button;
  gtk_revealer_set_reveal_child (n->revealer, FALSE);
  if (session_job (n->session) && !session_reopen_job (n->session, &error))
    session_say (n->session, SESSION_REFUSED, "%s", error->message);
}

static void
close_cb (GtkButton *button, Notice *n)
{
  (void) button;
  gtk_revealer_set_reveal_child (n->revealer, FALSE);
}

static void
notice_gone (gpointer data, GObject *where)
{
  Notice *n = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (n->session, n);
  g_object_unref (n->session);
  g_clear_weak_pointer (&n->toast);
  g_free (n);
}

GtkWidget *
tally_notice_new (TallySession *session, GtkWidget *content)
{
  Notice *n = g_new0 (Notice, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *close = gtk_button_new_with_label (_ ("Close"));

  n->session = g_object_ref (session);
  n->toasts = ADW_TOAST_OVERLAY (adw_toast_overlay_new ());
  n->revealer = GTK_REVEALER (gtk_revealer_new ());
  n->words = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_wrap (n->words, TRUE);
  gtk_label_set_xalign (n->words, 0);
  gtk_widget_set_hexpand (GTK_WIDGET (n->words), TRUE);
  n->reopen = gtk_button_new_with_label (_ ("Open it again"));
  gtk_widget_set_valign (n->reopen, GTK_ALIGN_CENTER);
  gtk_widget_set_valign (close, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (close, "flat");
  gtk_widget_add_css_class (line, "refused");
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (n->words));
  gtk_box_append (GTK_BOX (line), n->reopen);
  gtk_box_append (GTK_BOX (line), close);
  gtk_revealer_set_child (n->revealer, line);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (n->revealer));
  gtk_widget_set_vexpand (content, TRUE);
  gtk_box_append (GTK_BOX (box), content);
  adw_toast_overlay_set_child (n->toasts, box);
  g_signal_connect (close, "clicked", G_CALLBACK (close_cb), n);
  g_signal_connect (n->reopen, "clicked", G_CALLBACK (reopen_cb), n);
  g_signal_connect (n->toasts, "map", G_CALLBACK (notice_mapped_cb), NULL);
  g_signal_connect (session, "said", G_CALLBACK (said_cb), n);
  g_signal_connect (session, "changed", G_CALLBACK (changed_cb), n);
  g_object_weak_ref (G_OBJECT (n->toasts), notice_gone, n);
  return GTK_WIDGET (n->toasts);
}

gboolean
tally_notice_told_elsewhere (GtkWindow *window)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *l = windows; l; l = l->next)
    if (l->data != window && GTK_IS_WINDOW (l->data) && gtk_window_is_active (l->data) && g_object_get_data (l->data, "tells"))
      return TRUE;
  return FALSE;
}

/* ---- windows ---- */

static gboolean
close_key_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) args;
  (void) data;
  gtk_window_close (GTK_WINDOW (widget));
  return TRUE;
}

static gboolean
undo_key_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) widget;
  (void) args;
  session_undo (data);
  return TRUE;
}

static gboolean
redo_key_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) widget;
  (void) args;
  session_redo (data);
  return TRUE;
}

static void
add_key (GtkEventController *keys, const char *trigger, GtkShortcutFunc func, gpointer data)
{
  GtkShortcut *shortcut = gtk_shortcut_new (gtk_shortcut_trigger_parse_string (trigger),
                                            gtk_callback_action_new (func, data, NULL));

  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys), shortcut);
}

GtkWindow *
tally_side_window_new (GtkWindow *parent, TallySession *session, const char *title, int width, int height)
{
  GtkWindow *window = GTK_WINDOW (adw_window_new ());
  GtkEventController *keys = gtk_shortcut_controller_new ();

  gtk_window_set_title (window, title);
  gtk_window_set_default_size (window, width, height);
  if (parent)
    {
      gtk_window_set_transient_for (window, parent);
      gtk_window_set_destroy_with_parent (window, TRUE);
    }
  add_key (keys, "Escape", close_key_cb, NULL);
  add_key (keys, "<Control>w", close_key_cb, NULL);
  if (session)
    {
      g_object_set_data_full (G_OBJECT (window), "session", g_object_ref (session), g_object_unref);
      add_key (keys, "<Control>z", undo_key_cb, session);
      add_key (keys, "<Control><Shift>z", redo_key_cb, session);
    }
  gtk_widget_add_controller (GTK_WIDGET (window), keys);
  return window;
}

void
tally_side_window_set (GtkWindow *window, GtkWidget *title_widget, GtkWidget *content)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *header = adw_header_bar_new ();

  if (title_widget)
    adw_header_bar_set_title_widget (ADW_HEADER_BAR (header), title_widget);
  gtk_widget_set_vexpand (content, TRUE);
  gtk_box_append (GTK_BOX (box), header);
  gtk_box_append (GTK_BOX (box), content);
  adw_window_set_content (ADW_WINDOW (window), box);
}

GtkWidget *
tally_conclusion_new (const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, "conclusion");
  return label;
}

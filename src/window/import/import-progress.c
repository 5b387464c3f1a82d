/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/import/import-private.h"

#include <glib/gi18n.h>

#define SHOWN_AFTER 300000 /* microseconds: what is done sooner shows no bar */
#define EVERY 40000        /* between two looks at the screen while an edit is kept */

static void
cancel_cb (GtkButton *button, ImportProgress *p)
{
  (void) button;
  p->cancelled = TRUE;
  gtk_widget_set_sensitive (p->cancel, FALSE);
  if (p->on_cancel)
    p->on_cancel (p->data);
}

static gboolean
look_cb (gpointer data)
{
  ImportProgress *p = data;

  if (g_get_monotonic_time () - p->since < SHOWN_AFTER)
    return G_SOURCE_CONTINUE;
  gtk_widget_set_visible (p->line, TRUE);
  if (p->share < 0)
    gtk_progress_bar_pulse (p->bar);
  else
    gtk_progress_bar_set_fraction (p->bar, p->share);
  return G_SOURCE_CONTINUE;
}

static void
gone (gpointer data, GObject *where)
{
  ImportProgress *p = data;

  (void) where;
  g_clear_handle_id (&p->timeout, g_source_remove);
  g_free (p);
}

GtkWidget *
import_progress_new (ImportProgress **progress, void (*on_cancel) (gpointer data), gpointer data)
{
  ImportProgress *p = g_new0 (ImportProgress, 1);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *bar = gtk_progress_bar_new ();

  p->line = line;
  p->words = GTK_LABEL (gtk_label_new (NULL));
  p->bar = GTK_PROGRESS_BAR (bar);
  p->cancel = gtk_button_new_with_label (_ ("Cancel"));
  p->on_cancel = on_cancel;
  p->data = data;
  gtk_widget_set_hexpand (bar, TRUE);
  gtk_widget_set_valign (bar, GTK_ALIGN_CENTER);
  gtk_widget_add_css_class (line, "import-progress");
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (p->words));
  gtk_box_append (GTK_BOX (line), bar);
  gtk_box_append (GTK_BOX (line), p->cancel);
  gtk_widget_set_visible (line, FALSE);
  g_signal_connect (p->cancel, "clicked", G_CALLBACK (cancel_cb), p);
  g_object_weak_ref (G_OBJECT (line), gone, p);
  *progress = p;
  return line;
}

void
import_progress_start (ImportProgress *p, const char *words)
{
  import_progress_stop (p);
  p->cancelled = FALSE;
  p->share = -1;
  p->since = p->looked = g_get_monotonic_time ();
  gtk_label_set_label (p->words, words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (p->bar), GTK_ACCESSIBLE_PROPERTY_LABEL, words, -1);
  gtk_progress_bar_set_fraction (p->bar, 0);
  gtk_widget_set_sensitive (p->cancel, TRUE);
  p->timeout = g_timeout_add (80, look_cb, p);
}

void
import_progress_set (ImportProgress *p, double share)
{
  p->share = share;
}

void
import_progress_stop (ImportProgress *p)
{
  g_clear_handle_id (&p->timeout, g_source_remove);
  gtk_widget_set_visible (p->line, FALSE);
}

/* ---- an edit that takes long ---- */

/* While an edit is kept the job must stay as it is: nothing but the bar and its button takes input, and no window closes. */
typedef struct
{
  ImportProgress *progress;
  GPtrArray *widgets;  /* GtkWidget *, made insensitive */
  GPtrArray *windows;  /* GtkWindow *, kept open */
} Hold;

static gboolean
close_request_cb (GtkWindow *window, Hold *hold)
{
  (void) window;
  hold->progress->cancelled = TRUE;
  return TRUE;
}

static void
hold_widget (Hold *hold, GtkWidget *widget)
{
  if (!gtk_widget_get_sensitive (widget))
    return;
  gtk_widget_set_sensitive (widget, FALSE);
  g_ptr_array_add (hold->widgets, g_object_ref (widget));
}

static void
hold_all (Hold *hold)
{
  GtkWidget *keep = hold->progress->line, *own = GTK_WIDGET (gtk_widget_get_root (keep));
  GListModel *all = gtk_window_get_toplevels ();

  hold->widgets = g_ptr_array_new_with_free_func (g_object_unref);
  hold->windows = g_ptr_array_new_with_free_func (g_object_unref);
  for (guint i = 0; i < g_list_model_get_n_items (all); i++)
    {
      GtkWidget *window = g_list_model_get_item (all, i);
      g_signal_connect (window, "close-request", G_CALLBACK (close_request_cb), hold);
      g_ptr_array_add (hold->windows, window);
      if (window != own)
        hold_widget (hold, window);
    }
  /* Of the window with the bar, all that stands beside it and its parents. */
  for (; keep && keep != own; keep = gtk_widget_get_parent (keep))
    for (GtkWidget *w = gtk_widget_get_first_child (gtk_widget_get_parent (keep)); w; w = gtk_widget_get_next_sibling (w))
      if (w != keep)
        hold_widget (hold, w);
}

static void
release_all (Hold *hold)
{
  for (guint i = 0; i < hold->widgets->len; i++)
    gtk_widget_set_sensitive (g_ptr_array_index (hold->widgets, i), TRUE);
  for (guint i = 0; i < hold->windows->len; i++)
    g_signal_handlers_disconnect_by_data (g_ptr_array_index (hold->windows, i), hold);
  g_ptr_array_unref (hold->widgets);
  g_ptr_array_unref (hold->windows);
}

/* Lets the screen and the button live for a moment. */
static gboolean
tick (gpointer data, double share)
{
  Hold *hold = data;
  ImportProgress *p = hold->progress;
  gint64 now = g_get_monotonic_time ();

  import_progress_set (p, share);
  if (now - p->looked < EVERY)
    return !p->cancelled;
  for (int i = 0; i < 100 && g_main_context_iteration (NULL, FALSE); i++)
    if (g_get_monotonic_time () - now > EVERY / 2)
      break;
  p->looked = g_get_monotonic_time ();
  return !p->cancelled;
}

gboolean
import_apply (TallySession *session, JobEdit *edit, guint runs, ImportProgress *progress)
{
  Hold hold = { .progress = progress };
  gboolean done;

  edit->progress = tick;
  edit->progress_data = &hold;
  import_progress_start (progress, _ ("Writing the runs to the office file…"));
  hold_all (&hold);
  done = session_apply (session, edit);
  release_all (&hold);
  import_progress_stop (progress);
  if (!done)
    return FALSE;
  session_say (session, SESSION_SAID_UNDO, ngettext ("%u run added", "%u runs added", runs), runs);
  return TRUE;
}

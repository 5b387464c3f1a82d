/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/list-tab.h"

static gboolean
key_cb (GtkEventController *keys, guint key, guint code, GdkModifierType state)
{
  GtkWidget *list = gtk_event_controller_get_widget (keys), *root = GTK_WIDGET (gtk_widget_get_root (list));
  gboolean back = key == GDK_KEY_ISO_Left_Tab || (state & GDK_SHIFT_MASK);

  (void) code;
  if ((key != GDK_KEY_Tab && key != GDK_KEY_KP_Tab && key != GDK_KEY_ISO_Left_Tab) || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK))
      || !GTK_IS_WINDOW (root))
    return FALSE;
  /* The search for the next one begins at the focus and passes over what cannot have it. */
  gtk_widget_set_can_focus (list, FALSE);
  g_signal_emit_by_name (root, "move-focus", back ? GTK_DIR_TAB_BACKWARD : GTK_DIR_TAB_FORWARD);
  gtk_widget_set_can_focus (list, TRUE);
  return TRUE;
}

void
tally_list_leave_by_tab (GtkWidget *list)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), NULL);
  gtk_widget_add_controller (list, keys);
}

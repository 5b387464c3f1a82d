/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/field.h"

typedef struct
{
  TallyFieldTake take;
  gpointer data;
  char *kept, *fault; /* fault: (nullable) */
} Field;

static void
field_free (gpointer data)
{
  Field *field = data;

  g_free (field->kept);
  g_free (field->fault);
  g_free (field);
}

static Field *
field_of (GtkWidget *entry)
{
  return g_object_get_data (G_OBJECT (entry), "tally-field");
}

static gboolean
is_typed (GtkWidget *entry)
{
  return !g_str_equal (field_of (entry)->kept, gtk_editable_get_text (GTK_EDITABLE (entry)));
}

static void
activate_cb (GtkWidget *entry)
{
  Field *field = field_of (entry);

  field->take (entry, field->data);
}

static void
leave_cb (GtkEventController *focus)
{
  GtkWidget *entry = gtk_event_controller_get_widget (focus);

  if (!gtk_widget_in_destruction (entry))
    activate_cb (entry);
}

static gboolean
key_cb (GtkEventController *keys, guint key)
{
  GtkWidget *entry = gtk_event_controller_get_widget (keys);

  if (key != GDK_KEY_Escape || !is_typed (entry))
    return FALSE;
  tally_field_show (entry, field_of (entry)->kept);
  activate_cb (entry);
  return TRUE;
}

/* GTK's entry takes the chord even when it has nothing to undo: it goes on to the window. */
static gboolean
undo_key_cb (GtkEventController *keys, guint key, guint code, GdkModifierType state)
{
  GtkRoot *root = gtk_widget_get_root (gtk_event_controller_get_widget (keys));

  (void) code;
  if ((key != GDK_KEY_z && key != GDK_KEY_Z) || !(state & GDK_CONTROL_MASK) || (state & GDK_ALT_MASK) || !root)
    return FALSE;
  gtk_event_controller_key_forward (GTK_EVENT_CONTROLLER_KEY (keys), GTK_WIDGET (root));
  return TRUE;
}

void
tally_field_no_undo (GtkWidget *entry)
{
  GtkEventController *keys = gtk_event_controller_key_new ();

  gtk_editable_set_enable_undo (GTK_EDITABLE (entry), FALSE);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (undo_key_cb), NULL);
  gtk_widget_add_controller (entry, keys);
}

void
tally_field_init (GtkWidget *entry, TallyFieldTake take, gpointer data)
{
  Field *field = g_new0 (Field, 1);
  GtkEventController *focus = gtk_event_controller_focus_new (), *keys = gtk_event_controller_key_new ();

  *field = (Field) { take, data, g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))), NULL };
  g_object_set_data_full (G_OBJECT (entry), "tally-field", field, field_free);
  tally_field_no_undo (entry);
  g_signal_connect (entry, "activate", G_CALLBACK (activate_cb), NULL);
  g_signal_connect (focus, "leave", G_CALLBACK (leave_cb), NULL);
  gtk_widget_add_controller (entry, focus);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), NULL);
  gtk_widget_add_controller (entry, keys);
}

void
tally_field_show (GtkWidget *entry, const char *text)
{
  Field *field = field_of (entry);
  char *kept = g_strdup (text);

  g_free (field->kept);
  field->kept = kept;
  tally_field_accept (entry);
  if (is_typed (entry))
    {
      gtk_editable_set_text (GTK_EDITABLE (entry), kept);
      gtk_editable_set_position (GTK_EDITABLE (entry), -1);
    }
}

void
tally_field_follow (GtkWidget *entry, const char *text)
{
  if (!g_str_equal (field_of (entry)->kept, text) || !is_typed (entry))
    tally_field_show (entry, text);
}

void
tally_field_refuse (GtkWidget *entry, const char *words)
{
  Field *field = field_of (entry);
  char *fault = g_strdup (words);

  g_free (field->fault);
  field->fault = fault;
  gtk_widget_add_css_class (entry, "error");
}

void
tally_field_accept (GtkWidget *entry)
{
  g_clear_pointer (&field_of (entry)->fault, g_free);
  gtk_widget_remove_css_class (entry, "error");
}

const char *
tally_field_fault (GtkWidget *entry)
{
  return field_of (entry)->fault;
}

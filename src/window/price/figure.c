/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-private.h"

#include "base/decimal.h"
#include "job/figure.h"

#include <glib/gi18n.h>

struct _TallyFigure
{
  GtkBox parent_instance;

  TallySession *session; /* owned */
  gconstpointer job;     /* the one whose figure this is, only to compare */
  char *object, *key, *field, *companion, *name;
  gboolean percent;
  gint64 value, was;

  GtkWidget *line, *before, *entry, *after, *note, *changed, *changed_words, *fault; /* children */
  gboolean faulty;       /* what stands in the entry is not the figure */
};

G_DEFINE_FINAL_TYPE (TallyFigure, tally_figure, GTK_TYPE_BOX)

static char *
print (TallyFigure *self, gint64 value)
{
  return decimal_print (value, 4, self->percent ? 0 : 2, TRUE);
}

static void
show_fault (TallyFigure *self, const char *words)
{
  self->faulty = words != NULL;
  gtk_label_set_label (GTK_LABEL (self->fault), words ? words : "");
  gtk_widget_set_visible (self->fault, words != NULL);
  if (words)
    gtk_widget_add_css_class (self->entry, "error");
  else
    gtk_widget_remove_css_class (self->entry, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_STATE_INVALID,
                               words ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words ? words : "", -1);
}

static void
show_value (TallyFigure *self)
{
  g_autofree char *text = print (self, self->value);

  show_fault (self, NULL);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), text);
}

/* NULL takes the change back, and with it that of the companion. */
static void
set_figure (TallyFigure *self, const char *value)
{
  g_autofree char *label = g_strdup_printf (value ? _ ("change of %s") : _ ("reset of %s"), self->name);
  TallyJob *job = session_job (self->session);
  JobEdit *edit = job_edit_new (label);

  job_edit_figure (job, edit, self->object, self->key, self->field, value);
  if (!value && self->companion)
    job_edit_figure (job, edit, self->object, self->key, self->companion, NULL);
  session_apply (self->session, edit);
}

/* Typing the catalogue's figure takes the change back, unless it is stated another way there. */
static gboolean
as_catalogue (TallyFigure *self, gint64 number)
{
  return number == self->was
         && !(self->companion && job_find_change (session_job (self->session), self->object, self->key, self->companion));
}

/* Takes what was typed. A text that is no figure, or one that the build-up cannot use, stays and is told beneath. */
static void
commit (TallyFigure *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autoptr (Fault) fault = NULL;
  g_autofree char *value = job_figure_read (typed, self->percent, &fault), *words = NULL;
  gint64 number = 0;

  /* The focus also leaves when another job is opened. */
  if (!session_job (self->session) || session_job (self->session) != self->job)
    return;
  if (value && decimal_parse (value, 4, &number, &fault) && number == self->value)
    {
      show_value (self);
      return;
    }
  if (!value || fault
      || !job_check_figure (session_job (self->session), self->object, self->key, self->field, value, &fault))
    {
      words = value ? g_strdup_printf (_ ("%s: this figure cannot be used; %s"), typed, fault->remedy) : fault_words (fault, typed);
      show_fault (self, words);
      return;
    }
  show_fault (self, NULL);
  set_figure (self, as_catalogue (self, number) ? NULL : value);
}

static void
activate_cb (GtkEntry *entry, TallyFigure *self)
{
  (void) entry;
  commit (self);
  gtk_editable_select_region (GTK_EDITABLE (self->entry), 0, -1);
}

static void
leave_cb (GtkEventControllerFocus *focus, TallyFigure *self)
{
  (void) focus;
  commit (self);
}

static gboolean
key_cb (GtkEventControllerKey *keys, guint value, guint code, GdkModifierType state, TallyFigure *self)
{
  g_autofree char *text = print (self, self->value);

  (void) keys;
  (void) code;
  (void) state;
  if (value != GDK_KEY_Escape || (!self->faulty && g_str_equal (text, gtk_editable_get_text (GTK_EDITABLE (self->entry)))))
    return FALSE;
  show_value (self);
  gtk_editable_select_region (GTK_EDITABLE (self->entry), 0, -1);
  return TRUE;
}

static void
reset_cb (GtkButton *button, TallyFigure *self)
{
  (void) button;
  show_value (self);
  gtk_widget_grab_focus (self->entry);
  if (session_job (self->session))
    set_figure (self, NULL);
}

static void
tally_figure_finalize (GObject *object)
{
  TallyFigure *self = TALLY_FIGURE (object);

  g_clear_object (&self->session);
  g_free (self->object);
  g_free (self->key);
  g_free (self->field);
  g_free (self->companion);
  g_free (self->name);
  G_OBJECT_CLASS (tally_figure_parent_class)->finalize (object);
}

static void
tally_figure_class_init (TallyFigureClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_figure_finalize;
}

static void
add_entry (TallyFigure *self)
{
  GtkEventController *keys = gtk_event_controller_key_new (), *focus = gtk_event_controller_focus_new ();

  self->entry = gtk_entry_new ();
  gtk_editable_set_alignment (GTK_EDITABLE (self->entry), 1);
  gtk_widget_add_css_class (self->entry, "figure");
  gtk_widget_add_css_class (self->entry, "in-place");
  g_signal_connect (self->entry, "activate", G_CALLBACK (activate_cb), self);
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_cb), self);
  g_signal_connect (focus, "leave", G_CALLBACK (leave_cb), self);
  gtk_widget_add_controller (self->entry, keys);
  gtk_widget_add_controller (self->entry, focus);
}

static void
tally_figure_init (TallyFigure *self)
{
  GtkWidget *reset = gtk_button_new_with_label (_ ("Reset"));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  self->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->before = price_label (NULL, "dim-label", 0);
  gtk_widget_add_css_class (self->before, "figure");
  self->after = price_label (NULL, "dim-label", 0);
  gtk_label_set_ellipsize (GTK_LABEL (self->after), PANGO_ELLIPSIZE_END);
  gtk_widget_set_hexpand (self->after, TRUE);
  add_entry (self);
  gtk_box_append (GTK_BOX (self->line), self->before);
  gtk_box_append (GTK_BOX (self->line), self->entry);
  gtk_box_append (GTK_BOX (self->line), self->after);
  gtk_box_append (GTK_BOX (self), self->line);

  self->note = price_label (NULL, "unit", 0);
  gtk_label_set_ellipsize (GTK_LABEL (self->note), PANGO_ELLIPSIZE_END);
  gtk_widget_set_visible (self->note, FALSE);
  gtk_box_append (GTK_BOX (self), self->note);
  self->changed = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);
  self->changed_words = price_label (NULL, "changed-words", 0);
  gtk_widget_add_css_class (reset, "flat");
  gtk_widget_add_css_class (reset, "reset");
  gtk_widget_set_valign (reset, GTK_ALIGN_CENTER);
  g_object_set_data (G_OBJECT (self), "reset", reset);
  g_signal_connect (reset, "clicked", G_CALLBACK (reset_cb), self);
  gtk_box_append (GTK_BOX (self->changed), self->changed_words);
  gtk_box_append (GTK_BOX (self->changed), reset);
  gtk_widget_set_visible (self->changed, FALSE);
  gtk_box_append (GTK_BOX (self), self->changed);
  self->fault = price_label (NULL, "fault-words", 0);
  gtk_label_set_wrap (GTK_LABEL (self->fault), TRUE);
  gtk_widget_set_visible (self->fault, FALSE);
  gtk_box_append (GTK_BOX (self), self->fault);
}

TallyFigure *
tally_figure_new (TallySession *session, const char *object, const char *key, const char *field, gboolean percent, const char *name)
{
  TallyFigure *self = g_object_new (TALLY_TYPE_FIGURE, NULL);
  g_autofree char *label = percent ? g_strdup_printf (_ ("%s, percent"), name) : g_strdup (name);
  g_autofree char *reset = g_strdup_printf (_ ("Reset %s to the catalogue's figure"), name);

  self->session = g_object_ref (session);
  self->object = g_strdup (object);
  self->key = g_strdup (key);
  self->field = g_strdup (field);
  self->name = g_strdup (name);
  self->percent = percent;
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), percent ? 7 : 10);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), percent ? 7 : 10);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_accessible_update_property (g_object_get_data (G_OBJECT (self), "reset"), GTK_ACCESSIBLE_PROPERTY_LABEL, reset, -1);
  show_value (self);
  return self;
}

void
tally_figure_set_companion (TallyFigure *self, const char *field)
{
  g_free (self->companion);
  self->companion = g_strdup (field);
}

static void
set_label (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text ? text : "");
  gtk_widget_set_visible (label, text && *text);
}

void
tally_figure_set (TallyFigure *self, gint64 value, gint64 was, const char *before, const char *after)
{
  gboolean moved = value != self->value;
  g_autofree char *was_text = print (self, was), *shown = print (self, self->value), *words = NULL;
  gboolean typing = gtk_widget_get_focus_child (self->line) != NULL
                    && !g_str_equal (gtk_editable_get_text (GTK_EDITABLE (self->entry)), shown);

  words = self->percent ? g_strdup_printf (_ ("changed, was %s %%"), was_text) : g_strdup_printf (_ ("changed, was %s"), was_text);
  self->value = value;
  self->was = was;
  self->job = session_job (self->session);
  /* What somebody is typing, or typed in vain, is theirs; a figure that was set meanwhile replaces it. */
  if (moved || (!self->faulty && !typing))
    show_value (self);
  set_label (self->before, before);
  set_label (self->after, after);
  gtk_label_set_label (GTK_LABEL (self->changed_words), words);
  gtk_widget_set_visible (self->changed, value != was);
  if (value != was)
    gtk_widget_add_css_class (self->entry, "changed");
  else
    gtk_widget_remove_css_class (self->entry, "changed");
}

void
tally_figure_add (TallyFigure *self, GtkWidget *widget)
{
  gtk_widget_set_hexpand (self->after, FALSE);
  gtk_box_insert_child_after (GTK_BOX (self->line), widget, self->after);
}

void
tally_figure_set_note (TallyFigure *self, const char *note)
{
  set_label (self->note, note);
}

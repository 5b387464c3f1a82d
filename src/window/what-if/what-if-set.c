/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/what-if/what-if-set.h"

#include "job/figure-today.h"
#include "window/methods/field.h"
#include "window/methods/figure-grid.h"
#include "window/words.h"

#include <glib/gi18n.h>
#include <string.h>

struct _TallyWhatIfSet
{
  GtkWidget parent_instance;

  GtkWidget *box, *title, *body, *fault, *use, *delete, *use_fault; /* borrowed, but for box */
  GtkWidget *object, *key, *field, *value, *today, *typed;
  TallyFigureGrid *grid;

  /* Owned */
  TallySession *session;
  char *name;          /* (nullable) */
  GPtrArray *changes;  /* CostChange *, of the rows */
  GPtrArray *entries, *outs; /* of the rows; borrowed widgets */
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (TallyWhatIfSet, tally_what_if_set, GTK_TYPE_WIDGET)

/* ---- lists to choose from ---- */

static char *
picked (GtkWidget *drop_down)
{
  GtkStringObject *item = gtk_drop_down_get_selected_item (GTK_DROP_DOWN (drop_down));

  return g_strdup (item ? gtk_string_object_get_string (item) : "");
}

static void
offer (GtkWidget *drop_down, GPtrArray *words)
{
  GtkStringList *list = gtk_string_list_new (NULL);

  for (guint i = 0; i < words->len; i++)
    gtk_string_list_append (list, g_ptr_array_index (words, i));
  gtk_drop_down_set_model (GTK_DROP_DOWN (drop_down), G_LIST_MODEL (list));
  g_object_unref (list);
  g_ptr_array_unref (words);
}

static CostChange *
picked_change (TallyWhatIfSet *self)
{
  g_autofree char *object = picked (self->object), *key = picked (self->key), *field = picked (self->field);
  g_autofree char *value = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->value))));

  return cost_change_new (object, key, field, value);
}

static void
show_today (TallyWhatIfSet *self)
{
  TallyJob *job = session_job (self->session);
  CostChange *change = picked_change (self);
  g_autofree char *value = job && *change->field ? job_figure_today (job, change, NULL) : NULL;
  g_autofree char *words = value ? g_strdup_printf (_ ("today %s"), *value ? value : _ ("none")) : g_strdup ("");

  gtk_label_set_label (GTK_LABEL (self->today), words);
  cost_change_free (change);
}

static void
field_cb (GtkDropDown *drop_down, GParamSpec *spec, TallyWhatIfSet *self)
{
  (void) drop_down;
  (void) spec;
  if (!self->filling)
    show_today (self);
}

static void
key_cb (GtkDropDown *drop_down, GParamSpec *spec, TallyWhatIfSet *self)
{
  g_autofree char *object = picked (self->object), *key = picked (self->key);
  gboolean filling = self->filling;

  (void) drop_down;
  (void) spec;
  if (!session_job (self->session))
    return;
  self->filling = TRUE;
  offer (self->field, job_figure_fields (session_job (self->session), object, key));
  self->filling = filling;
  if (!filling)
    show_today (self);
}

static void
object_cb (GtkDropDown *drop_down, GParamSpec *spec, TallyWhatIfSet *self)
{
  g_autofree char *object = picked (self->object);

  (void) drop_down;
  (void) spec;
  if (!session_job (self->session))
    return;
  self->filling = TRUE;
  offer (self->key, job_figure_keys (session_job (self->session), object));
  self->filling = FALSE;
  key_cb (NULL, NULL, self);
}

/* ---- changing ---- */

static void
say_fault (GtkWidget *label, Fault *fault)
{
  if (fault)
    {
      g_autofree char *words = fault_words (fault, NULL);
      gtk_label_set_label (GTK_LABEL (label), words);
      fault_free (fault);
    }
  gtk_widget_set_visible (label, fault != NULL);
}

/* One figure of the set; @value NULL takes it out. What cannot be used is refused in words before it is kept. */
static gboolean
put (TallyWhatIfSet *self, const CostChange *change, gboolean out, GtkWidget *label)
{
  TallyJob *job = session_job (self->session);
  g_autofree char *name = g_strdup (self->name);
  Fault *fault = NULL;
  JobEdit *edit;

  if (!job || !name)
    return FALSE;
  if (!out && !job_figure_check (job, change, &fault))
    {
      say_fault (label, fault);
      return FALSE;
    }
  gtk_widget_set_visible (label, FALSE);
  edit = job_edit_new (name);
  job_edit_what_if (job, edit, name, change, out ? NULL : change->value);
  if (edit->deltas->len == 0)
    {
      job_edit_free (edit);
      return TRUE;
    }
  return session_apply (self->session, edit);
}

static void
add_cb (GtkWidget *widget, TallyWhatIfSet *self)
{
  CostChange *change = picked_change (self);

  (void) widget;
  if (!*change->value)
    say_fault (self->fault, fault_new (0, _ ("type the value that the figure has in this what-if"), _ ("no value is given")));
  else if (put (self, change, FALSE, self->fault))
    gtk_editable_set_text (GTK_EDITABLE (self->value), "");
  cost_change_free (change);
}

static void
typed_cb (GtkEntry *entry, TallyWhatIfSet *self)
{
  Fault *fault = NULL;
  CostChange *change = cost_change_parse (gtk_editable_get_text (GTK_EDITABLE (entry)), &fault);

  if (!change)
    {
      say_fault (self->fault, fault);
      return;
    }
  if (put (self, change, FALSE, self->fault))
    gtk_editable_set_text (GTK_EDITABLE (entry), "");
  cost_change_free (change);
}

/* The entry of one row, and its label for a fault, hang on the widget. */
static const CostChange *
change_of (TallyWhatIfSet *self, GtkWidget *widget)
{
  guint i = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (widget), "row"));

  return i < self->changes->len ? g_ptr_array_index (self->changes, i) : NULL;
}

static void
value_cb (GtkEntry *entry, TallyWhatIfSet *self)
{
  const CostChange *present = change_of (self, GTK_WIDGET (entry));
  g_autofree char *value = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));
  GtkWidget *label = g_object_get_data (G_OBJECT (entry), "fault");

  if (!present || strcmp (present->value, value) == 0)
    return;
  CostChange *change = cost_change_new (present->object, present->key, present->field, value);
  put (self, change, FALSE, label);
  cost_change_free (change);
}

static void
leave_cb (GtkEventControllerFocus *focus, TallyWhatIfSet *self)
{
  if (!self->filling)
    value_cb (GTK_ENTRY (gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (focus))), self);
}

static void
out_cb (GtkButton *button, TallyWhatIfSet *self)
{
  const CostChange *present = change_of (self, GTK_WIDGET (button));

  if (!present)
    return;
  CostChange *change = cost_change_copy (present);
  put (self, change, TRUE, self->fault);
  cost_change_free (change);
}

static void
use_cb (GtkButton *button, TallyWhatIfSet *self)
{
  TallyJob *job = session_job (self->session);
  g_autofree char *name = g_strdup (self->name);
  g_autofree char *label = g_strdup_printf (_ ("what-if “%s” used"), name);
  Fault *fault = NULL;
  JobEdit *edit;

  (void) button;
  if (!job || !name)
    return;
  edit = job_edit_new (label);
  if (!job_edit_use_what_if (job, edit, name, &fault))
    {
      job_edit_free (edit);
      say_fault (self->use_fault, fault);
      return;
    }
  gtk_widget_set_visible (self->use_fault, FALSE);
  if (edit->deltas->len == 0)
    {
      job_edit_free (edit);
      session_say (self->session, SESSION_SAID, _ ("The job has all figures of “%s” already"), name);
    }
  else if (session_apply (self->session, edit))
    session_say (self->session, SESSION_SAID_UNDO, _ ("“%s” is used in this job"), name);
}

static void
delete_cb (GtkButton *button, TallyWhatIfSet *self)
{
  TallyJob *job = session_job (self->session);
  g_autofree char *name = g_strdup (self->name);
  g_autofree char *label = g_strdup_printf (_ ("what-if “%s” deleted"), name);
  JobEdit *edit;

  (void) button;
  if (!job || !name)
    return;
  edit = job_edit_new (label);
  job_edit_drop_what_if (job, edit, name);
  if (session_apply (self->session, edit))
    session_say (self->session, SESSION_SAID_UNDO, _ ("“%s” is deleted"), name);
}

/* ---- showing ---- */

static char *
figure_name (const CostChange *c)
{
  return *c->key ? g_strdup_printf ("%s.%s.%s", c->object, c->key, c->field) : g_strdup_printf ("%s.%s", c->object, c->field);
}

static void
add_row (TallyWhatIfSet *self, guint i)
{
  const CostChange *c = g_ptr_array_index (self->changes, i);
  Fault *fault = NULL;
  g_autofree char *name = figure_name (c), *today = job_figure_today (session_job (self->session), c, &fault);
  g_autofree char *spoken = g_strdup_printf (_ ("%s in this what-if"), name);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2), *entry = gtk_entry_new (), *label = gtk_label_new (NULL),
            *out = gtk_button_new_with_label (_ ("Take out"));
  GtkEventController *focus = gtk_event_controller_focus_new ();

  tally_figure_grid_row (self->grid, FALSE);
  tally_figure_grid_cell (self->grid, name, NULL, FALSE);
  tally_figure_grid_cell (self->grid, today ? (*today ? today : _ ("none")) : "–", NULL, FALSE);
  gtk_editable_set_text (GTK_EDITABLE (entry), c->value);
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 9);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 14);
  gtk_editable_set_alignment (GTK_EDITABLE (entry), 1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_object_set_data (G_OBJECT (entry), "row", GUINT_TO_POINTER (i));
  g_object_set_data (G_OBJECT (entry), "fault", label);
  g_signal_connect (entry, "activate", G_CALLBACK (value_cb), self);
  g_signal_connect (focus, "leave", G_CALLBACK (leave_cb), self);
  gtk_widget_add_controller (entry, focus);
  tally_field_no_undo (entry);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 30);
  gtk_label_set_xalign (GTK_LABEL (label), 1);
  gtk_widget_add_css_class (label, "attention");
  gtk_widget_set_visible (label, FALSE);
  /* A figure may have left the catalogue since. */
  say_fault (label, fault);
  gtk_box_append (GTK_BOX (box), entry);
  gtk_box_append (GTK_BOX (box), label);
  tally_figure_grid_take (self->grid, box);
  gtk_widget_add_css_class (out, "flat");
  gtk_widget_set_valign (out, GTK_ALIGN_CENTER);
  g_object_set_data (G_OBJECT (out), "row", GUINT_TO_POINTER (i));
  g_signal_connect (out, "clicked", G_CALLBACK (out_cb), self);
  tally_figure_grid_take (self->grid, out);
  g_ptr_array_add (self->entries, entry);
  g_ptr_array_add (self->outs, out);
}

/* The figure whose row has the keys, (nullable): they go back there when the rows are made anew. */
static char *
focused (TallyWhatIfSet *self, gboolean *button)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  GtkWidget *focus = root ? gtk_root_get_focus (root) : NULL;

  if (!focus || !gtk_widget_is_ancestor (focus, GTK_WIDGET (self->grid)))
    return NULL;
  *button = GTK_IS_BUTTON (focus);
  if (!*button && GTK_IS_TEXT (focus))
    focus = gtk_widget_get_parent (focus);
  return change_of (self, focus) ? figure_name (change_of (self, focus)) : NULL;
}

static void
focus_again (TallyWhatIfSet *self, const char *figure, gboolean button)
{
  for (guint i = 0; i < self->changes->len && i < self->entries->len; i++)
    {
      g_autofree char *name = figure_name (g_ptr_array_index (self->changes, i));
      if (g_str_equal (name, figure))
        gtk_widget_grab_focus (g_ptr_array_index (button ? self->outs : self->entries, i));
    }
}

void
tally_what_if_set_show (TallyWhatIfSet *self, const char *name)
{
  TallyJob *job = session_job (self->session);
  char *kept = g_strdup (name);
  gboolean same = g_strcmp0 (self->name, name) == 0, in_button = FALSE;
  g_autofree char *at = same ? focused (self, &in_button) : NULL;

  self->filling = TRUE;
  if (!same)
    {
      gtk_widget_set_visible (self->fault, FALSE);
      gtk_widget_set_visible (self->use_fault, FALSE);
    }
  g_free (self->name);
  self->name = kept;
  g_ptr_array_set_size (self->entries, 0);
  g_ptr_array_set_size (self->outs, 0);
  tally_figure_grid_clear (self->grid);
  g_ptr_array_set_size (self->changes, 0);
  gtk_widget_set_visible (self->body, job && self->name);
  gtk_label_set_label (GTK_LABEL (self->title), self->name ? self->name : _ ("Name a what-if to the left to begin."));
  if (job && self->name)
    {
      g_ptr_array_unref (self->changes);
      self->changes = job_what_if_changes (job, self->name);
      tally_figure_grid_head (self->grid, _ ("Figure"), NULL);
      tally_figure_grid_head (self->grid, _ ("Today"), NULL);
      tally_figure_grid_head (self->grid, _ ("In this what-if"), NULL);
      for (guint i = 0; i < self->changes->len; i++)
        add_row (self, i);
      if (!gtk_drop_down_get_model (GTK_DROP_DOWN (self->key)))
        object_cb (NULL, NULL, self);
      self->filling = FALSE;
      show_today (self);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->grid), self->changes->len > 0);
  if (at)
    focus_again (self, at, in_button);
  gtk_widget_set_sensitive (self->use, self->changes->len > 0);
  gtk_widget_set_sensitive (self->delete, self->changes->len > 0);
  self->filling = FALSE;
}

gboolean
tally_what_if_set_is_new (TallyWhatIfSet *self)
{
  return self->name && self->changes->len == 0;
}

void
tally_what_if_set_focus (TallyWhatIfSet *self)
{
  gtk_widget_grab_focus (self->object);
}

/* ---- the widget ---- */

static void
job_cb (TallySession *session, TallyWhatIfSet *self)
{
  (void) session;
  /* Another job has other areas, systems and items. */
  if (session_job (self->session) && gtk_drop_down_get_model (GTK_DROP_DOWN (self->key)))
    object_cb (NULL, NULL, self);
}

static void
tally_what_if_set_dispose (GObject *object)
{
  TallyWhatIfSet *self = TALLY_WHAT_IF_SET (object);

  self->filling = TRUE;
  g_clear_pointer (&self->name, g_free);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->changes, g_ptr_array_unref);
  g_clear_pointer (&self->entries, g_ptr_array_unref);
  g_clear_pointer (&self->outs, g_ptr_array_unref);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_what_if_set_parent_class)->dispose (object);
}

static void
tally_what_if_set_class_init (TallyWhatIfSetClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_what_if_set_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static GtkWidget *
add (GtkWidget *box, GtkWidget *child, const char *name)
{
  if (name)
    gtk_accessible_update_property (GTK_ACCESSIBLE (child), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_box_append (GTK_BOX (box), child);
  return child;
}

static GtkWidget *
list_of_strings (void)
{
  GtkWidget *drop_down = gtk_drop_down_new (NULL, gtk_property_expression_new (GTK_TYPE_STRING_OBJECT, NULL, "string"));

  gtk_drop_down_set_enable_search (GTK_DROP_DOWN (drop_down), TRUE);
  return drop_down;
}

static void
build_choice (TallyWhatIfSet *self)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *second = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6), *button;

  self->object = add (line, list_of_strings (), _ ("What kind of figure"));
  self->key = add (line, list_of_strings (), _ ("Of what"));
  gtk_widget_set_hexpand (self->key, TRUE);
  self->field = add (line, list_of_strings (), _ ("Which figure"));
  offer (self->object, job_figure_objects ());
  add (self->body, line, NULL);
  self->value = add (second, gtk_entry_new (), _ ("Value in this what-if"));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->value), _ ("value"));
  gtk_editable_set_width_chars (GTK_EDITABLE (self->value), 9);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->value), 12);
  self->today = add (second, tally_words_new ("", "dim-label"), NULL);
  gtk_label_set_wrap (GTK_LABEL (self->today), FALSE);
  button = add (second, gtk_button_new_with_label (_ ("Add figure")), NULL);
  self->typed = add (second, gtk_entry_new (), _ ("A figure as it is typed, NAME=VALUE"));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->typed), _ ("or type: rate.field=98"));
  gtk_widget_set_hexpand (self->typed, TRUE);
  add (self->body, second, NULL);
  self->fault = add (self->body, tally_words_new ("", "attention"), NULL);
  gtk_widget_set_visible (self->fault, FALSE);
  g_signal_connect (self->object, "notify::selected", G_CALLBACK (object_cb), self);
  g_signal_connect (self->key, "notify::selected", G_CALLBACK (key_cb), self);
  g_signal_connect (self->field, "notify::selected", G_CALLBACK (field_cb), self);
  g_signal_connect (self->value, "activate", G_CALLBACK (add_cb), self);
  g_signal_connect (button, "clicked", G_CALLBACK (add_cb), self);
  g_signal_connect (self->typed, "activate", G_CALLBACK (typed_cb), self);
}

static void
tally_what_if_set_init (TallyWhatIfSet *self)
{
  self->changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  self->entries = g_ptr_array_new ();
  self->outs = g_ptr_array_new ();
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
tally_what_if_set_new (TallySession *session)
{
  TallyWhatIfSet *self = g_object_new (TALLY_TYPE_WHAT_IF_SET, NULL);
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  self->session = g_object_ref (session);
  self->filling = TRUE;
  self->title = add (self->box, tally_words_new ("", "heading"), NULL);
  self->body = add (self->box, gtk_box_new (GTK_ORIENTATION_VERTICAL, 8), NULL);
  self->grid = TALLY_FIGURE_GRID (add (self->body, tally_figure_grid_new (_ ("Figures of this what-if")), NULL));
  tally_figure_grid_centre (self->grid);
  build_choice (self);
  self->use = add (line, gtk_button_new_with_label (_ ("Use in this job")), NULL);
  gtk_widget_set_tooltip_text (self->use, _ ("Writes these figures into the job, as one edit that can be undone"));
  self->delete = add (line, gtk_button_new_with_label (_ ("Delete")), NULL);
  g_signal_connect (self->use, "clicked", G_CALLBACK (use_cb), self);
  g_signal_connect (self->delete, "clicked", G_CALLBACK (delete_cb), self);
  add (self->body, line, NULL);
  self->use_fault = add (self->body, tally_words_new ("", "attention"), NULL);
  gtk_widget_set_visible (self->use_fault, FALSE);
  self->filling = FALSE;
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  return GTK_WIDGET (self);
}

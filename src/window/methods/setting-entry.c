/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/setting-entry.h"

#include "job/setting.h"
#include "window/methods/field.h"

#include <glib/gi18n.h>

#define TALLY_TYPE_SETTING_ENTRY (tally_setting_entry_get_type ())
G_DECLARE_FINAL_TYPE (TallySettingEntry, tally_setting_entry, TALLY, SETTING_ENTRY, GtkWidget)

struct _TallySettingEntry
{
  GtkWidget parent_instance;

  GtkWidget *box, *entry, *fault; /* borrowed, but for box */
  TallySession *session;
  const char *key;
  gboolean filling;
};

G_DEFINE_FINAL_TYPE (TallySettingEntry, tally_setting_entry, GTK_TYPE_WIDGET)

static const char *
kept (TallySettingEntry *self)
{
  TallyJob *job = session_job (self->session);

  return job && job_setting_held (job, self->key) ? job_setting (job, self->key) : "";
}

static void
show_fault (TallySettingEntry *self)
{
  const char *words = tally_field_fault (self->entry);

  gtk_label_set_label (GTK_LABEL (self->fault), words ? words : "");
  gtk_widget_set_visible (self->fault, words != NULL);
}

static void
take (GtkWidget *entry, gpointer data)
{
  TallySettingEntry *self = data;
  TallyJob *job = session_job (self->session);
  Fault *fault = NULL;
  g_autofree char *value = NULL;
  JobEdit *edit;

  if (!job || self->filling)
    return;
  value = job_setting_read (self->key, gtk_editable_get_text (GTK_EDITABLE (entry)), &fault);
  if (value && !job_setting_fits (job, self->key, value, &fault))
    g_clear_pointer (&value, g_free);
  if (!value)
    {
      g_autofree char *words = fault_words (fault, NULL);
      fault_free (fault);
      tally_field_refuse (entry, words);
      show_fault (self);
      return;
    }
  edit = job_edit_new (_ (job_setting_find (self->key)->title));
  job_edit_setting (job, edit, self->key, value);
  if (edit->deltas->len == 0)
    job_edit_free (edit);
  else
    session_apply (self->session, edit);
  tally_field_show (entry, kept (self));
  show_fault (self);
}

static void
job_cb (TallySession *session, TallySettingEntry *self)
{
  (void) session;
  gtk_widget_set_sensitive (GTK_WIDGET (self), session_job (self->session) != NULL);
  tally_field_show (self->entry, kept (self));
  show_fault (self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallySettingEntry *self)
{
  (void) session;
  (void) edit;
  tally_field_follow (self->entry, kept (self));
  show_fault (self);
}

static void
tally_setting_entry_dispose (GObject *object)
{
  TallySettingEntry *self = TALLY_SETTING_ENTRY (object);

  self->filling = TRUE;
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_setting_entry_parent_class)->dispose (object);
}

static void
tally_setting_entry_class_init (TallySettingEntryClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_setting_entry_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
tally_setting_entry_init (TallySettingEntry *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
tally_setting_entry_new (TallySession *session, const char *key)
{
  TallySettingEntry *self = g_object_new (TALLY_TYPE_SETTING_ENTRY, NULL);
  const JobSetting *setting = job_setting_find (key);
  GtkWidget *caption = gtk_label_new (_ (setting->title));

  self->session = g_object_ref (session);
  self->key = key;
  self->entry = gtk_entry_new ();
  self->fault = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (caption), 0);
  gtk_widget_add_css_class (caption, "unit");
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), setting->as != JOB_SETTING_NUMBER ? 13 : setting->most >= 1e6 && setting->least >= 0 ? 8 : 6);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (self->entry), setting->as != JOB_SETTING_NUMBER ? 13 : setting->most >= 1e6 && setting->least >= 0 ? 8 : 6);
  gtk_editable_set_alignment (GTK_EDITABLE (self->entry), setting->as == JOB_SETTING_NUMBER ? 1 : 0);
  gtk_widget_set_halign (self->entry, GTK_ALIGN_START);
  gtk_label_set_xalign (GTK_LABEL (self->fault), 0);
  gtk_label_set_wrap (GTK_LABEL (self->fault), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->fault), 28);
  gtk_widget_add_css_class (self->fault, "attention");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, _ (setting->title), -1);
  gtk_box_append (GTK_BOX (self->box), caption);
  gtk_box_append (GTK_BOX (self->box), self->entry);
  gtk_box_append (GTK_BOX (self->box), self->fault);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), *setting->fallback                        ? setting->fallback
                                                           : setting->as == JOB_SETTING_DATE ? _ ("year-month-day")
                                                                                             : _ ("none"));
  tally_field_init (self->entry, take, self);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  job_cb (session, self);
  return GTK_WIDGET (self);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/hours/hours-csv-read.h"

#include <glib/gi18n.h>

#define MOST_FAULTS 200

typedef struct
{
  TallySession *session; /* borrowed: it outlives its views */
  TallyHoursBook *book;
  GtkRevealer *revealer;
  GtkLabel *words, *list;
  GtkWidget *add;
  GPtrArray *entries;    /* (nullable): waiting to be added */
  gint64 job;            /* they were read for */
  GtkFileChooserNative *chooser;
} Reader;

static void
reader_free (gpointer data)
{
  Reader *r = data;

  g_clear_object (&r->chooser);
  g_clear_pointer (&r->entries, g_ptr_array_unref);
  g_object_unref (r->book);
  g_free (r);
}

static void
close_answer (Reader *r)
{
  g_clear_pointer (&r->entries, g_ptr_array_unref);
  gtk_revealer_set_reveal_child (r->revealer, FALSE);
}

static void
add_entries (Reader *r)
{
  guint n = r->entries->len;
  g_autofree char *label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "reading of %u line", "reading of %u lines", n), n);
  HoursEdit *edit = hours_edit_new (label);

  for (guint i = 0; i < n; i++)
    hours_edit_add (edit, NULL, hours_entry_copy (g_ptr_array_index (r->entries, i)));
  if (hours_book_apply (r->book, edit))
    session_say (r->session, SESSION_SAID, g_dngettext (GETTEXT_PACKAGE, "%u line read", "%u lines read", n), n);
}

static void
add_cb (GtkButton *button, Reader *r)
{
  (void) button;
  if (r->entries && session_job_id (r->session) == r->job)
    add_entries (r);
  close_answer (r);
}

static void
close_cb (GtkButton *button, Reader *r)
{
  (void) button;
  close_answer (r);
}

/* What is wrong with the file, and what can be had of it. */
static void
show_answer (Reader *r, const GPtrArray *faults)
{
  guint n = r->entries ? r->entries->len : 0;
  g_autoptr (GString) lines = g_string_new (NULL);
  g_autofree char *words = NULL, *label = NULL;

  for (guint i = 0; i < MIN (faults->len, MOST_FAULTS); i++)
    {
      g_autofree char *fault = csv_fault_words (g_ptr_array_index (faults, i));
      g_string_append_printf (lines, "%s%s", i ? "\n" : "", fault);
    }
  if (faults->len > MOST_FAULTS)
    {
      g_string_append_c (lines, '\n');
      g_string_append_printf (lines, _ ("and %u more"), faults->len - MOST_FAULTS);
    }
  words = n > 0 ? g_strdup_printf (_ ("Lines that can be used: %u. Remarks on the file: %u."), n, faults->len)
                : g_strdup (_ ("No line of the file can be used."));
  label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Add %u line", "Add %u lines", n), n);
  gtk_label_set_label (r->words, words);
  gtk_label_set_label (r->list, lines->str);
  gtk_button_set_label (GTK_BUTTON (r->add), label);
  gtk_widget_set_visible (r->add, n > 0);
  gtk_revealer_set_reveal_child (r->revealer, TRUE);
}

void
hours_csv_read (GtkWidget *button, const char *path)
{
  Reader *r = g_object_get_data (G_OBJECT (button), "reader");
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (CsvTable) table = NULL;
  gint64 batch;

  close_answer (r);
  if (!hours_book_ready (r->book))
    return;
  table = csv_read_file (path, faults, &error);
  r->job = session_job_id (r->session);
  batch = error ? 0 : store_hours_new_batch (session_store (r->session), r->job, &error);
  if (error)
    {
      session_say (r->session, SESSION_REFUSED, "%s", error->message);
      return;
    }
  if (table)
    r->entries = hours_read_csv (table, hours_book_find_area, r->book, batch, hours_book_entries (r->book), faults);
  if (faults->len > 0 || !r->entries || r->entries->len == 0)
    {
      show_answer (r, faults);
      return;
    }
  add_entries (r);
  close_answer (r);
}

static void
response_cb (GtkNativeDialog *dialog, int response, GtkWidget *button)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;

  if (path)
    hours_csv_read (button, path);
}

static void
choose_cb (GtkButton *button, Reader *r)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (button));

  g_clear_object (&r->chooser);
  r->chooser = gtk_file_chooser_native_new (_ ("Read hours from a CSV file"), GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL,
                                            GTK_FILE_CHOOSER_ACTION_OPEN, _ ("_Read"), _ ("_Cancel"));
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (r->chooser), TRUE);
  g_signal_connect_object (r->chooser, "response", G_CALLBACK (response_cb), button, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (r->chooser));
}

static GtkWidget *
answer_new (Reader *r)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *close = gtk_button_new_with_label (_ ("Leave the file")), *scrolled = gtk_scrolled_window_new ();
  GtkWidget *revealer = gtk_revealer_new ();

  r->revealer = GTK_REVEALER (revealer);
  r->words = GTK_LABEL (gtk_label_new (NULL));
  r->list = GTK_LABEL (gtk_label_new (NULL));
  r->add = gtk_button_new_with_label (_ ("Add hours"));
  gtk_label_set_xalign (r->words, 0);
  gtk_widget_set_hexpand (GTK_WIDGET (r->words), TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (r->words), "heading");
  gtk_label_set_xalign (r->list, 0);
  gtk_label_set_wrap (r->list, TRUE);
  gtk_label_set_selectable (r->list, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (r->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Lines of the file"), -1);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), GTK_WIDGET (r->list));
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_propagate_natural_height (GTK_SCROLLED_WINDOW (scrolled), TRUE);
  gtk_scrolled_window_set_max_content_height (GTK_SCROLLED_WINDOW (scrolled), 110);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (r->words));
  gtk_box_append (GTK_BOX (line), r->add);
  gtk_box_append (GTK_BOX (line), close);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), scrolled);
  gtk_widget_add_css_class (box, "refused");
  gtk_revealer_set_child (r->revealer, box);
  g_signal_connect (r->add, "clicked", G_CALLBACK (add_cb), r);
  g_signal_connect (close, "clicked", G_CALLBACK (close_cb), r);
  return revealer;
}

GtkWidget *
hours_csv_button_new (TallySession *session, GtkBox *place)
{
  GtkWidget *button = gtk_button_new_with_label (_ ("Read from CSV…"));
  Reader *r = g_new0 (Reader, 1);

  r->session = session;
  r->book = g_object_ref (hours_book_of (session));
  gtk_box_append (place, answer_new (r));
  gtk_widget_set_tooltip_text (button, _ ("Columns date (2030-01-31), area, group, hours, note"));
  g_object_set_data_full (G_OBJECT (button), "reader", r, reader_free);
  g_signal_connect (button, "clicked", G_CALLBACK (choose_cb), r);
  return button;
}

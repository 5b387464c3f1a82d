/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/habits.h"

#include "window/habits/sheet-page.h"

#include <adwaita.h>
#include <glib/gi18n.h>

/* One window that says which file is open and offers to open or make another. */

typedef struct
{
  TallySession *session;
  GtkWindow *window, *parent;
  GtkLabel *conclusion, *path;
} Office;

static void
office_gone (gpointer data, GObject *where)
{
  Office *office = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (office->session, office);
  g_object_unref (office->session);
  g_free (office);
}

static void
update (Office *office)
{
  Store *store = session_store (office->session);
  g_autoptr (GPtrArray) jobs = store ? store_jobs (store, NULL) : NULL;
  g_autofree char *words = NULL;
  guint n = jobs ? jobs->len : 0;

  if (store)
    words = g_strdup_printf (ngettext ("The office file holds %u job and the catalogue.", "The office file holds %u jobs and the catalogue.", n), n);
  gtk_label_set_label (office->conclusion, words ? words : _ ("No office file is open."));
  gtk_label_set_label (office->path, store ? store_path (store) : "");
}

static void
job_cb (TallySession *session, Office *office)
{
  (void) session;
  update (office);
}

/* A file of one job opens it; else the list of jobs is shown. */
static void
opened (Office *office)
{
  g_autoptr (GPtrArray) jobs = store_jobs (session_store (office->session), NULL);
  GtkWindow *parent = office->parent;
  TallySession *session = office->session;

  if (jobs && jobs->len == 1)
    session_open_job (session, ((StoreJobInfo *) g_ptr_array_index (jobs, 0))->id, NULL);
  /* The list of jobs may be where the user came from. */
  if (!session_job (session) && !(parent && g_object_get_data (G_OBJECT (parent), "jobs")))
    tally_jobs_present (session, parent);
  gtk_window_close (office->window);
}

static void
response_cb (GtkNativeDialog *dialog, int response, Office *office)
{
  gboolean create = gtk_file_chooser_get_action (GTK_FILE_CHOOSER (dialog)) == GTK_FILE_CHOOSER_ACTION_SAVE;
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;
  g_autoptr (GError) error = NULL;

  if (file && !path)
    session_say (office->session, SESSION_REFUSED, "%s", _ ("this place cannot be used: choose a file on this machine"));
  else if (path && create && g_file_test (path, G_FILE_TEST_EXISTS))
    session_say (office->session, SESSION_REFUSED, _ ("%s is there already: open it, or choose another name"), path);
  else if (path && !session_open_office (office->session, path, create, &error))
    session_say (office->session, SESSION_REFUSED, "%s", error->message);
  else if (path)
    opened (office);
}

static void
choose (Office *office, gboolean create)
{
  GtkFileChooserNative *dialog
    = gtk_file_chooser_native_new (create ? _ ("New office file") : _ ("Open office file"), office->window,
                                   create ? GTK_FILE_CHOOSER_ACTION_SAVE : GTK_FILE_CHOOSER_ACTION_OPEN,
                                   create ? _ ("_Make") : _ ("_Open"), _ ("_Cancel"));
  g_autofree char *usual = store_default_path (), *folder = g_path_get_dirname (usual);
  g_autoptr (GFile) start = g_file_new_for_path (folder);

  if (create)
    gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (dialog), _ ("office.seamtally"));
  gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (dialog), start, NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), office);
  /* Lives as long as the window that asked. */
  g_object_set_data_full (G_OBJECT (office->window), "chooser", dialog, g_object_unref);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

static void
open_cb (GtkButton *button, Office *office)
{
  (void) button;
  choose (office, FALSE);
}

static void
make_cb (GtkButton *button, Office *office)
{
  (void) button;
  choose (office, TRUE);
}

void
tally_office_choose (TallySession *session, GtkWindow *parent)
{
  Office *office = g_new0 (Office, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 12), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *open = gtk_button_new_with_label (_ ("Open another…")), *make = gtk_button_new_with_label (_ ("Make a new one…"));
  GtkWidget *words = gtk_label_new (_ ("An office file keeps the catalogue with its revisions, the jobs and the history of their edits. "
                                       "Every edit is on the disk as soon as it is on the screen; there is nothing to save."));

  office->session = g_object_ref (session);
  office->parent = parent;
  office->window = tally_side_window_new (parent, NULL, _ ("Office file"), 620, 300);
  office->conclusion = GTK_LABEL (tally_conclusion_new (NULL));
  office->path = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (office->path, 0);
  gtk_label_set_wrap (office->path, TRUE);
  gtk_label_set_wrap_mode (office->path, PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (office->path, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (office->path), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Path of the office file"), -1);
  gtk_label_set_wrap (GTK_LABEL (words), TRUE);
  gtk_label_set_xalign (GTK_LABEL (words), 0);
  gtk_widget_add_css_class (words, "dim-label");
  gtk_widget_add_css_class (box, "side-page");
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (office->conclusion));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (office->path));
  gtk_box_append (GTK_BOX (box), words);
  gtk_box_append (GTK_BOX (line), open);
  gtk_box_append (GTK_BOX (line), make);
  gtk_box_append (GTK_BOX (box), line);
  g_signal_connect (open, "clicked", G_CALLBACK (open_cb), office);
  g_signal_connect (make, "clicked", G_CALLBACK (make_cb), office);
  g_signal_connect (session, "job", G_CALLBACK (job_cb), office);
  g_object_weak_ref (G_OBJECT (office->window), office_gone, office);
  tally_side_window_set (office->window, NULL, tally_notice_new (session, box));
  update (office);
  gtk_widget_grab_focus (open);
  gtk_window_present (office->window);
}

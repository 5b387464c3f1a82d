/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-private.h"

#include "exchange/workbook.h"

#include <glib/gi18n.h>

#define SHOW_AFTER_MS 500
#define TICK_MS 100

/* A workbook on its way. The thread works on a copy of the job, so that editing goes on meanwhile; of what follows it touches
 * share and stop (atomic), records, catalogue, path and baseline alone. */
typedef struct
{
  TallySession *session;     /* owned */
  GtkWidget *view;           /* weak */
  AdwToastOverlay *toasts;   /* weak */
  GPtrArray *records;        /* JobRecord *, copies */
  Catalogue *catalogue;
  char *path, *baseline;
  gint share;                /* per mille */
  gint stop;
  guint tick;
  gint64 since;              /* monotonic, us */
  AdwToast *toast;           /* weak: progress */
  GtkWidget *bar;            /* of the toast */
} Work;

static void
work_free (gpointer data)
{
  Work *work = data;

  g_clear_handle_id (&work->tick, g_source_remove);
  g_clear_weak_pointer (&work->toast);
  g_clear_weak_pointer (&work->toasts);
  g_clear_weak_pointer (&work->view);
  g_clear_object (&work->session);
  g_ptr_array_unref (work->records);
  catalogue_unref (work->catalogue);
  g_free (work->path);
  g_free (work->baseline);
  g_free (work);
}

/* ---- in the thread ---- */

static gboolean
progress_cb (double share, gpointer data)
{
  Work *work = data;

  g_atomic_int_set (&work->share, (gint) (share * 1000));
  return g_atomic_int_get (&work->stop) == 0;
}

static void
write_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Work *work = data;
  GError *error = NULL;
  g_autoptr (TallyJob) job = job_new_from_records (work->catalogue, work->records, NULL, &error);
  g_autoptr (GArray) methods = NULL;
  int baseline;

  (void) source;
  (void) cancellable;
  if (!job)
    {
      g_task_return_error (task, error);
      return;
    }
  baseline = work->baseline ? MAX (catalogue_find_method (work->catalogue, work->baseline), 0) : 0;
  methods = job_methods_listed (job, baseline);
  if (workbook_write (job, (const int *) (gconstpointer) methods->data, methods->len, baseline, work->path, progress_cb, work, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

/* ---- on the screen ---- */

static void
cancel_cb (AdwToast *toast, Work *work)
{
  (void) toast;
  g_atomic_int_set (&work->stop, 1);
}

/* The toast is seen from every view. */
static void
show_progress (Work *work)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  AdwToast *toast = adw_toast_new (_ ("Writing the workbook"));

  work->bar = gtk_progress_bar_new ();
  gtk_widget_set_valign (work->bar, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (work->bar), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Writing the workbook"), -1);
  gtk_box_append (GTK_BOX (box), gtk_label_new (_ ("Writing the workbook")));
  gtk_box_append (GTK_BOX (box), work->bar);
  adw_toast_set_custom_title (toast, box);
  adw_toast_set_timeout (toast, 0);
  adw_toast_set_priority (toast, ADW_TOAST_PRIORITY_HIGH);
  adw_toast_set_button_label (toast, _ ("Cancel"));
  g_signal_connect (toast, "button-clicked", G_CALLBACK (cancel_cb), work);
  g_set_weak_pointer (&work->toast, toast);
  adw_toast_overlay_add_toast (work->toasts, toast);
}

static gboolean
tick_cb (gpointer data)
{
  Work *work = data;

  /* The window was closed: nobody waits for the workbook any more. */
  if (!work->view)
    g_atomic_int_set (&work->stop, 1);
  if (!work->toast && work->toasts && g_atomic_int_get (&work->stop) == 0
      && g_get_monotonic_time () - work->since > SHOW_AFTER_MS * 1000)
    show_progress (work);
  if (work->toast)
    gtk_progress_bar_set_fraction (GTK_PROGRESS_BAR (work->bar), g_atomic_int_get (&work->share) / 1000.0);
  return G_SOURCE_CONTINUE;
}

static void
folder_cb (AdwToast *toast, gpointer data)
{
  const char *path = g_object_get_data (G_OBJECT (toast), "path");
  g_autofree char *folder = g_path_get_dirname (path), *uri = g_filename_to_uri (folder, NULL, NULL);

  (void) data;
  if (uri)
    gtk_show_uri (NULL, uri, GDK_CURRENT_TIME);
}

static void
tell_written (Work *work)
{
  g_autofree char *name = g_path_get_basename (work->path), *shown = g_filename_display_name (name);
  g_autofree char *markup = g_markup_escape_text (shown, -1), *words = g_strdup_printf (_ ("Workbook written: %s"), markup);
  AdwToast *toast;

  if (!work->toasts)
    return;
  toast = adw_toast_new (words);
  adw_toast_set_button_label (toast, _ ("Open Folder"));
  adw_toast_set_timeout (toast, 10);
  g_object_set_data_full (G_OBJECT (toast), "path", g_strdup (work->path), g_free);
  g_signal_connect (toast, "button-clicked", G_CALLBACK (folder_cb), NULL);
  adw_toast_overlay_add_toast (work->toasts, toast);
}

static void
written_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Work *work = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;
  gboolean good = g_task_propagate_boolean (G_TASK (result), &error);

  (void) source;
  (void) data;
  g_clear_handle_id (&work->tick, g_source_remove);
  if (work->view)
    g_object_set_data (G_OBJECT (work->view), "writing", NULL);
  if (work->toast)
    {
      g_signal_handlers_disconnect_by_data (work->toast, work);
      adw_toast_dismiss (work->toast);
    }
  if (good)
    tell_written (work);
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    session_say (work->session, SESSION_SAID, "%s", _ ("The workbook was not written"));
  else
    session_say (work->session, SESSION_REFUSED, _ ("The workbook was not written: %s"), error->message);
  if (g_application_get_default ())
    g_application_release (g_application_get_default ());
}

static GPtrArray *
copy_records (TallyJob *job)
{
  GPtrArray *records = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);

  for (int type = 0; type < JOB_N_TYPES; type++)
    for (guint i = 0; i < job_n (job, (JobType) type); i++)
      g_ptr_array_add (records, job_record_copy (job_at (job, (JobType) type, i)));
  return records;
}

static void
write_to (TallySession *session, GtkWidget *view, AdwToastOverlay *toasts, const char *path)
{
  TallyJob *job = session_job (session);
  g_autoptr (GTask) task = NULL;
  Work *work;

  if (!job)
    return;
  work = g_new0 (Work, 1);
  work->session = g_object_ref (session);
  g_set_weak_pointer (&work->view, view);
  g_set_weak_pointer (&work->toasts, toasts);
  work->records = copy_records (job);
  work->catalogue = catalogue_ref (job_basis (job)->catalogue);
  work->path = g_strdup (path);
  work->baseline = g_strdup (job_head (job)->text[HEAD_METHOD]);
  work->since = g_get_monotonic_time ();
  work->tick = g_timeout_add (TICK_MS, tick_cb, work);
  g_object_set_data (G_OBJECT (view), "writing", work);
  /* The program outlives its window until the file is in its place or what there is of it is taken away. */
  if (g_application_get_default ())
    g_application_hold (g_application_get_default ());
  task = g_task_new (NULL, NULL, written_cb, NULL);
  g_task_set_task_data (task, work, work_free);
  g_task_run_in_thread (task, write_in_thread);
}

/* ---- asking for the file ---- */

typedef struct
{
  TallySession *session;
  GtkWidget *view;
  AdwToastOverlay *toasts;
} Ask;

static void
response_cb (GtkNativeDialog *dialog, int response, gpointer data)
{
  Ask *ask = data;
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;

  if (path && ask->view && ask->toasts)
    write_to (ask->session, ask->view, ask->toasts, path);
  else if (file && !path)
    session_say (ask->session, SESSION_REFUSED, "%s", _ ("The workbook cannot be written there: choose a folder of this computer"));
  g_clear_weak_pointer (&ask->view);
  g_clear_weak_pointer (&ask->toasts);
  g_object_unref (ask->session);
  g_free (ask);
  g_object_unref (dialog);
}

/* A file name from the job's: no folders, nothing hidden. */
static char *
proposed_name (TallyJob *job)
{
  const char *name = job_head (job)->text[HEAD_NAME];
  g_autofree char *plain = g_strdup (name && *name ? name : _ ("Price"));

  for (char *p = plain; *p; p++)
    if (*p == '/' || *p == '\\' || *p == ':' || g_ascii_iscntrl (*p) || (p == plain && *p == '.'))
      *p = '-';
  return g_strconcat (plain, ".xlsx", NULL);
}

void
price_workbook_write (TallySession *session, GtkWidget *view, AdwToastOverlay *toasts)
{
  GtkRoot *root = gtk_widget_get_root (view);
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  const char *documents = g_get_user_special_dir (G_USER_DIRECTORY_DOCUMENTS);
  g_autoptr (GFile) folder = NULL;
  g_autofree char *name = NULL;
  GtkFileChooserNative *dialog;
  Ask *ask;

  if (!session_job (session))
    return;
  if (g_object_get_data (G_OBJECT (view), "writing"))
    {
      session_say (session, SESSION_SAID, "%s", _ ("A workbook is being written already"));
      return;
    }
  dialog = gtk_file_chooser_native_new (_ ("Write workbook"), GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL,
                                        GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Write"), _ ("_Cancel"));
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  folder = g_file_new_for_path (documents ? documents : g_get_home_dir ());
  gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (dialog), folder, NULL);
  name = proposed_name (session_job (session));
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (dialog), name);
  gtk_file_filter_set_name (filter, _ ("Workbooks"));
  gtk_file_filter_add_pattern (filter, "*.xlsx");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (dialog), filter);
  ask = g_new0 (Ask, 1);
  ask->session = g_object_ref (session);
  g_set_weak_pointer (&ask->view, view);
  g_set_weak_pointer (&ask->toasts, toasts);
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), ask);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

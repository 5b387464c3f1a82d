/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/import/import-private.h"

#include "job/append.h"
#include "window/habits/sheet-page.h"
#include "window/habits/text-sheet-model.h"

#include <glib/gi18n.h>

/* Runs of another job, of this office or of another office file. */

#define SLICE 500 /* rows listed at a time: some milliseconds */

typedef struct
{
  TallySession *session;
  GtkWindow *window;
  GtkLabel *conclusion, *file;
  GtkDropDown *jobs;
  GtkWidget *accept, *list;
  TallyTextSheet *sheet;
  TallyGrid *grid;
  Store *other;         /* (nullable): another office file */
  GArray *ids;          /* gint64, by place in the drop-down */
  TallyJob *from;       /* (nullable): a copy in memory */
  ImportProgress *progress;
  GCancellable *opening; /* (nullable): while a thread reads the job */
  guint slice, next;    /* source and row, while the runs are listed */
  GArray *twice;        /* gboolean by run: likely here already */
} Page;

static void
stop_work (Page *page)
{
  if (page->opening)
    g_cancellable_cancel (page->opening);
  g_clear_object (&page->opening);
  g_clear_handle_id (&page->slice, g_source_remove);
  g_clear_pointer (&page->twice, g_array_unref);
}

static void
page_gone (gpointer data, GObject *where)
{
  Page *page = data;

  (void) where;
  stop_work (page);
  g_clear_object (&page->from);
  g_clear_pointer (&page->other, store_close);
  g_array_unref (page->ids);
  g_object_unref (page->sheet);
  g_object_unref (page->session);
  g_free (page);
}

static Store *
store_of (const Page *page)
{
  return page->other ? page->other : session_store (page->session);
}

/* ---- the list ---- */

static const char *const columns[] = { "system", "area", "drawing", "kind", "size", "length", "count", "item" };

static void
update_words (Page *page)
{
  guint n = page->from ? job_n (page->from, JOB_RUN) : 0, taken = 0;
  g_autofree char *words = NULL, *label = NULL;
  gboolean working = page->opening || page->slice;

  for (guint i = 0; !working && i < n; i++)
    taken += text_sheet_chosen (page->sheet, i) ? 1 : 0;
  gtk_widget_set_sensitive (page->list, !working);
  if (working)
    words = g_strdup (_ ("The runs of that job are being read. Nothing has changed yet."));
  else if (!page->from)
    words = g_strdup (_ ("Choose the job whose runs are to be added here."));
  else if (n == 0)
    words = g_strdup (_ ("This job has no runs."));
  else if (taken == n)
    words = g_strdup_printf (ngettext ("Its run is new here.", "All its %u runs are to be added.", n), n);
  else
    words = g_strdup_printf (_ ("%u of its %u runs are to be added; the others are likely here already, or were left out."), taken, n);
  gtk_label_set_label (page->conclusion, words);
  label = g_strdup_printf (ngettext ("Add %u run", "Add %u runs", taken), taken);
  gtk_button_set_label (GTK_BUTTON (page->accept), label);
  gtk_widget_set_sensitive (page->accept, taken > 0);
}

static void
add_row (Page *page, guint i)
{
  const char *cells[G_N_ELEMENTS (columns) + 2];
  const JobRecord *run = job_at (page->from, JOB_RUN, i);
  gboolean likely = g_array_index (page->twice, gboolean, i);
  char *text[G_N_ELEMENTS (columns)];

  cells[0] = likely ? _ ("no") : _ ("yes");
  for (gsize c = 0; c < G_N_ELEMENTS (columns); c++)
    cells[c + 1] = text[c] = job_record_print (run, job_field_find (JOB_RUN, columns[c]), job_names (page->from));
  cells[G_N_ELEMENTS (columns) + 1] = likely ? _ ("likely here already") : "";
  text_sheet_add (page->sheet, cells, -1,
                  likely ? _ ("a run of the same system, area, kind, size and length is in this job: write yes to add it all the same") : NULL);
  for (gsize c = 0; c < G_N_ELEMENTS (columns); c++)
    g_free (text[c]);
}

/* TRUE while there are more. */
static gboolean
add_rows (Page *page, guint n)
{
  guint all = page->from ? job_n (page->from, JOB_RUN) : 0;

  for (; n > 0 && page->next < all; n--)
    add_row (page, page->next++);
  return page->next < all;
}

static void
filled (Page *page)
{
  import_progress_stop (page->progress);
  g_clear_pointer (&page->twice, g_array_unref);
  text_sheet_done (page->sheet);
  update_words (page);
}

static gboolean
slice_cb (gpointer data)
{
  Page *page = data;

  if (add_rows (page, SLICE))
    {
      import_progress_set (page->progress, (double) page->next / job_n (page->from, JOB_RUN));
      return G_SOURCE_CONTINUE;
    }
  page->slice = 0;
  filled (page);
  return G_SOURCE_REMOVE;
}

static void
fill (Page *page)
{
  g_clear_handle_id (&page->slice, g_source_remove);
  g_clear_pointer (&page->twice, g_array_unref);
  page->next = 0;
  text_sheet_clear (page->sheet);
  if (page->from)
    page->twice = job_likely_duplicates (session_job (page->session), page->from);
  if (!add_rows (page, 2 * SLICE))
    {
      filled (page);
      return;
    }
  text_sheet_clear (page->sheet);
  text_sheet_done (page->sheet);
  page->next = 0;
  import_progress_start (page->progress, _ ("Listing the runs…"));
  /* Behind redrawing and input, so that the window lives. */
  page->slice = g_idle_add_full (G_PRIORITY_LOW, slice_cb, page, NULL);
  update_words (page);
}

static void
toggled_cb (TallyTextSheet *sheet, Page *page)
{
  (void) sheet;
  update_words (page);
}

static void
choose_rows (Page *page, gboolean yes)
{
  guint row0, column0, row1, column1;

  if (!page->from || job_n (page->from, JOB_RUN) == 0)
    return;
  grid_get_selection (page->grid, &row0, &column0, &row1, &column1);
  text_sheet_choose (page->sheet, MIN (row0, row1), MAX (row0, row1), yes);
}

static void
yes_cb (GtkButton *button, Page *page)
{
  (void) button;
  choose_rows (page, TRUE);
}

static void
no_cb (GtkButton *button, Page *page)
{
  (void) button;
  choose_rows (page, FALSE);
}

/* ---- the job ---- */

/* A job as a thread reads it, over a connection of its own. */
typedef struct
{
  char *path;
  gint64 id;
} Wanted;

static void
wanted_free (gpointer data)
{
  g_free (((Wanted *) data)->path);
  g_free (data);
}

static void
open_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Wanted *wanted = data;
  GError *error = NULL;
  g_autoptr (Store) store = store_open (wanted->path, FALSE, &error);
  g_autoptr (TallyJob) kept = store ? store_open_job (store, wanted->id, &error) : NULL;
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
  TallyJob *copy = NULL;

  (void) source;
  (void) cancellable;
  for (int type = 0; kept && type < JOB_N_TYPES; type++)
    for (guint i = 0; i < job_n (kept, (JobType) type); i++)
      g_ptr_array_add (records, job_record_copy (job_at (kept, (JobType) type, i)));
  if (kept)
    copy = job_new_from_records (job_basis (kept)->catalogue, records, NULL, &error);
  /* What is handed over belongs to this thread no more. */
  g_clear_pointer (&records, g_ptr_array_unref);
  if (copy)
    g_task_return_pointer (task, copy, g_object_unref);
  else
    g_task_return_error (task, error);
}

static void
opened_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Page *page = data;
  g_autoptr (GError) error = NULL;
  g_autoptr (TallyJob) job = g_task_propagate_pointer (G_TASK (result), &error);

  (void) source;
  /* Stopped, or the page is gone. */
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&page->opening);
  import_progress_stop (page->progress);
  if (!job)
    session_say (page->session, SESSION_REFUSED, "%s", error->message);
  if (session_job (page->session))
    page->from = g_steal_pointer (&job);
  fill (page);
}

static void
open_chosen (Page *page)
{
  guint at = gtk_drop_down_get_selected (page->jobs);
  g_autoptr (GTask) task = NULL;
  Wanted *wanted;

  stop_work (page);
  g_clear_object (&page->from);
  text_sheet_clear (page->sheet);
  text_sheet_done (page->sheet);
  if (at == GTK_INVALID_LIST_POSITION || at == 0 || at > page->ids->len || !session_job (page->session))
    {
      fill (page);
      return;
    }
  wanted = g_new0 (Wanted, 1);
  wanted->path = g_strdup (store_path (store_of (page)));
  wanted->id = g_array_index (page->ids, gint64, at - 1);
  page->opening = g_cancellable_new ();
  import_progress_start (page->progress, _ ("Reading the job…"));
  update_words (page);
  task = g_task_new (NULL, page->opening, opened_cb, page);
  g_task_set_task_data (task, wanted, wanted_free);
  g_task_run_in_thread (task, open_in_thread);
}

static void
cancel_cb (gpointer data)
{
  Page *page = data;

  if (!page->opening && !page->slice)
    return;
  stop_work (page);
  import_progress_stop (page->progress);
  gtk_drop_down_set_selected (page->jobs, 0);
}

static void
chosen_cb (GtkDropDown *drop, GParamSpec *pspec, Page *page)
{
  (void) drop;
  (void) pspec;
  open_chosen (page);
}

static void
fill_jobs (Page *page)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) list = store_of (page) ? store_jobs (store_of (page), &error) : NULL;
  GtkStringList *names = gtk_string_list_new (NULL);

  g_array_set_size (page->ids, 0);
  gtk_string_list_append (names, _ ("no job chosen"));
  for (guint i = 0; list && i < list->len; i++)
    {
      const StoreJobInfo *info = g_ptr_array_index (list, i);
      if (!page->other && info->id == session_job_id (page->session))
        continue;
      gtk_string_list_append (names, *info->name ? info->name : _ ("job without a name"));
      g_array_append_val (page->ids, info->id);
    }
  if (error)
    session_say (page->session, SESSION_REFUSED, "%s", error->message);
  gtk_label_set_label (page->file, store_of (page) ? store_path (store_of (page)) : "");
  gtk_drop_down_set_model (page->jobs, G_LIST_MODEL (names));
  g_object_unref (names);
}

static void
response_cb (GtkNativeDialog *dialog, int response, Page *page)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;
  g_autoptr (GError) error = NULL;
  Store *store;

  if (!path)
    return;
  store = store_open (path, FALSE, &error);
  if (!store)
    {
      session_say (page->session, SESSION_REFUSED, "%s", error->message);
      return;
    }
  g_clear_object (&page->from);
  g_clear_pointer (&page->other, store_close);
  page->other = store;
  fill_jobs (page);
  open_chosen (page);
}

static void
other_cb (GtkButton *button, Page *page)
{
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (_ ("Another office file"), page->window, GTK_FILE_CHOOSER_ACTION_OPEN,
                                                              _ ("_Open"), _ ("_Cancel"));

  (void) button;
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), page);
  g_object_set_data_full (G_OBJECT (page->window), "office-chooser", dialog, g_object_unref);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

static void
accept_cb (GtkButton *button, Page *page)
{
  guint n = page->from ? job_n (page->from, JOB_RUN) : 0, taken = 0;
  g_autofree gboolean *take = g_new0 (gboolean, MAX (n, 1));
  GtkWindow *window;

  (void) button;
  for (guint i = 0; i < n; i++)
    {
      take[i] = text_sheet_chosen (page->sheet, i);
      taken += take[i] ? 1 : 0;
    }
  if (taken == 0 || !session_job (page->session))
    return;
  /* With it the page may go. */
  window = g_object_ref (page->window);
  if (import_apply (page->session, job_append_runs (session_job (page->session), page->from, take), taken, page->progress))
    gtk_window_close (window);
  g_object_unref (window);
}

/* ---- the page ---- */

static GtkWidget *
foot (Page *page)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *yes = gtk_button_new_with_label (_ ("Add the selected rows")),
            *no = gtk_button_new_with_label (_ ("Leave them out"));
  GtkWidget *note = gtk_label_new (_ ("What a run inherits, it inherits from this job."));

  page->accept = gtk_button_new_with_label (_ ("Add runs"));
  gtk_widget_add_css_class (page->accept, "suggested-action");
  gtk_widget_add_css_class (note, "dim-label");
  gtk_widget_set_hexpand (note, TRUE);
  gtk_widget_add_css_class (line, "sheet-foot");
  g_signal_connect (yes, "clicked", G_CALLBACK (yes_cb), page);
  g_signal_connect (no, "clicked", G_CALLBACK (no_cb), page);
  g_signal_connect (page->accept, "clicked", G_CALLBACK (accept_cb), page);
  gtk_box_append (GTK_BOX (line), yes);
  gtk_box_append (GTK_BOX (line), no);
  gtk_box_append (GTK_BOX (line), note);
  gtk_box_append (GTK_BOX (line), page->accept);
  return line;
}

static TallyTextSheet *
sheet_new (void)
{
  const char *titles[G_N_ELEMENTS (columns) + 2] = { _ ("Add") };
  TallyTextSheet *sheet;

  for (gsize c = 0; c < G_N_ELEMENTS (columns); c++)
    titles[c + 1] = _ (job_type_info (JOB_RUN)->field[job_field_find (JOB_RUN, columns[c])].title);
  titles[G_N_ELEMENTS (columns) + 1] = _ ("Remark");
  sheet = text_sheet_new (titles, G_N_ELEMENTS (titles));
  text_sheet_set_choice (sheet, 0);
  text_sheet_set_width (sheet, 4, 15);
  text_sheet_set_width (sheet, 8, 20);
  text_sheet_set_width (sheet, 9, 22);
  return sheet;
}

GtkWidget *
import_job_page_new (TallySession *session, GtkWindow *window)
{
  Page *page = g_new0 (Page, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *words = tally_conclusion_new (NULL), *other = gtk_button_new_with_label (_ ("Another office file…"));

  page->session = g_object_ref (session);
  page->window = window;
  page->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  page->conclusion = GTK_LABEL (words);
  page->file = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_ellipsize (page->file, PANGO_ELLIPSIZE_START);
  gtk_label_set_xalign (page->file, 0);
  gtk_widget_set_hexpand (GTK_WIDGET (page->file), TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (page->file), "dim-label");
  page->jobs = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (page->jobs), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Job whose runs are added"), -1);
  page->sheet = sheet_new ();
  gtk_widget_add_css_class (words, "view-head");
  gtk_widget_add_css_class (line, "view-head");
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (page->jobs));
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (page->file));
  gtk_box_append (GTK_BOX (line), other);
  gtk_box_append (GTK_BOX (box), words);
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), import_progress_new (&page->progress, cancel_cb, page));
  page->list = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  gtk_box_append (GTK_BOX (page->list), tally_sheet_page_new (TALLY_GRID_MODEL (page->sheet), _ ("Runs of the other job"), &page->grid));
  gtk_box_append (GTK_BOX (page->list), foot (page));
  gtk_box_append (GTK_BOX (box), page->list);
  fill_jobs (page);
  fill (page);
  g_signal_connect (page->jobs, "notify::selected", G_CALLBACK (chosen_cb), page);
  g_signal_connect (page->sheet, "toggled", G_CALLBACK (toggled_cb), page);
  g_signal_connect (other, "clicked", G_CALLBACK (other_cb), page);
  g_object_weak_ref (G_OBJECT (box), page_gone, page);
  return box;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/import/import-private.h"

#include "job/append.h"
#include "window/habits/sheet-page.h"
#include "window/habits/text-sheet-model.h"

#include <glib/gi18n.h>

/* Runs of another job, of this office or of another office file. */

typedef struct
{
  TallySession *session;
  GtkWindow *window;
  GtkLabel *conclusion, *file;
  GtkDropDown *jobs;
  GtkWidget *accept;
  TallyTextSheet *sheet;
  TallyGrid *grid;
  Store *other;         /* (nullable): another office file */
  GArray *ids;          /* gint64, by place in the drop-down */
  TallyJob *from;       /* (nullable) */
} Page;

static void
page_gone (gpointer data, GObject *where)
{
  Page *page = data;

  (void) where;
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

  for (guint i = 0; i < n; i++)
    taken += text_sheet_chosen (page->sheet, i) ? 1 : 0;
  if (!page->from)
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
fill (Page *page)
{
  g_autoptr (GArray) twice = page->from ? job_likely_duplicates (session_job (page->session), page->from) : NULL;
  const char *cells[G_N_ELEMENTS (columns) + 2];

  text_sheet_clear (page->sheet);
  for (guint i = 0; page->from && i < job_n (page->from, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (page->from, JOB_RUN, i);
      gboolean likely = g_array_index (twice, gboolean, i);
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
  text_sheet_done (page->sheet);
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

static void
open_chosen (Page *page)
{
  guint at = gtk_drop_down_get_selected (page->jobs);
  g_autoptr (GError) error = NULL;

  g_clear_object (&page->from);
  if (at != GTK_INVALID_LIST_POSITION && at > 0 && at <= page->ids->len && session_job (page->session))
    {
      page->from = store_open_job (store_of (page), g_array_index (page->ids, gint64, at - 1), &error);
      if (!page->from)
        session_say (page->session, SESSION_REFUSED, "%s", error->message);
    }
  fill (page);
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

  (void) button;
  for (guint i = 0; i < n; i++)
    {
      take[i] = text_sheet_chosen (page->sheet, i);
      taken += take[i] ? 1 : 0;
    }
  if (taken == 0 || !session_job (page->session))
    return;
  if (import_apply (page->session, job_append_runs (session_job (page->session), page->from, take), taken))
    gtk_window_close (page->window);
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
  gtk_box_append (GTK_BOX (box), tally_sheet_page_new (TALLY_GRID_MODEL (page->sheet), _ ("Runs of the other job"), &page->grid));
  gtk_box_append (GTK_BOX (box), foot (page));
  fill_jobs (page);
  fill (page);
  g_signal_connect (page->jobs, "notify::selected", G_CALLBACK (chosen_cb), page);
  g_signal_connect (page->sheet, "toggled", G_CALLBACK (toggled_cb), page);
  g_signal_connect (other, "clicked", G_CALLBACK (other_cb), page);
  g_object_weak_ref (G_OBJECT (box), page_gone, page);
  return box;
}

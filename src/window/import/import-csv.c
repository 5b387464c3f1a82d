/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/import/import-private.h"

#include "exchange/runs-csv.h"
#include "window/habits/sheet-page.h"
#include "window/habits/text-sheet-model.h"

#include <glib/gi18n.h>

/* A CSV of runs: file, mapping of its columns, what comes and what does not, then one edit. */

#define MOST_SHOWN 500   /* lines of a preview */
#define MOST_FAULTS 2000 /* of the list below it */
#define SLICE 250        /* lines read at a time: some milliseconds */

typedef struct
{
  TallySession *session;
  GtkWindow *window;
  GtkLabel *conclusion;
  GtkWidget *choose, *foot, *mapping, *mapping_scroll, *sheets, *keep, *accept;
  TallyTextSheet *coming, *rejected;
  ImportProgress *progress;
  GCancellable *parsing;  /* (nullable): while the file is parsed in a thread */
  guint slice;            /* source, while lines are read */
  gboolean stale;         /* the job changed since the lines were read */
  gboolean then_add;      /* the user has accepted: add the runs when they are read anew */
  CsvTable *table;
  GPtrArray *file_faults; /* CsvFault * found while the file was read */
  RunsImport *import;
  gboolean filling;       /* the drop-downs are being made */
} Page;

static void
stop_work (Page *page)
{
  if (page->parsing)
    g_cancellable_cancel (page->parsing);
  g_clear_object (&page->parsing);
  g_clear_handle_id (&page->slice, g_source_remove);
  page->then_add = FALSE;
}

static void
drop_file (Page *page)
{
  stop_work (page);
  g_clear_pointer (&page->import, runs_import_free);
  g_clear_pointer (&page->table, csv_table_free);
  g_clear_pointer (&page->file_faults, g_ptr_array_unref);
}

static void
page_gone (gpointer data, GObject *where)
{
  Page *page = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (page->session, page);
  drop_file (page);
  g_object_unref (page->coming);
  g_object_unref (page->rejected);
  g_object_unref (page->session);
  g_free (page);
}

/* ---- what comes ---- */

/* Lines that are not whole: line -> its first fault (borrowed). Line 0: none. */
static GHashTable *
faults_by_line (const Page *page)
{
  GHashTable *out = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < page->import->faults->len; i++)
    {
      CsvFault *fault = g_ptr_array_index (page->import->faults, i);
      if (fault->line != page->table->head_line && !g_hash_table_contains (out, GINT_TO_POINTER (fault->line)))
        g_hash_table_insert (out, GINT_TO_POINTER (fault->line), fault);
    }
  return out;
}

/* What a line makes besides a run stands in front, when any line makes something. */
static void
fill_coming (Page *page, GHashTable *faulty)
{
  guint n = page->table->head->len, first;
  g_autofree const char **titles = g_new (const char *, n + 2), **cells = g_new (const char *, n + 2);
  g_autofree char *all = page->import->runs->len > 0 ? runs_import_makes_all (page->import, TRUE) : NULL;

  first = all ? 2 : 1;
  titles[0] = _ ("Line");
  titles[1] = _ ("Makes");
  for (guint c = 0; c < n; c++)
    {
      int field = page->import->field[c];
      const char *head = g_ptr_array_index (page->table->head, c);
      titles[c + first] = field >= 0 ? runs_heading_title (field) : *head ? head : "–";
    }
  text_sheet_set_titles (page->coming, titles, n + first);
  if (all)
    text_sheet_set_width (page->coming, 1, 46);
  for (guint row = 0; row < page->table->row->len && row < MOST_SHOWN; row++)
    {
      int line = ((const CsvRow *) g_ptr_array_index (page->table->row, row))->line;
      const CsvFault *fault = g_hash_table_lookup (faulty, GINT_TO_POINTER (line));
      g_autofree char *number = g_strdup_printf ("%d", line);
      g_autofree char *makes = row < page->import->runs->len ? runs_import_makes (page->import, row) : NULL;
      g_autofree char *words = fault ? g_strdup_printf ("%s; %s", fault->what, fault->remedy) : g_strdup (makes);
      cells[0] = number;
      cells[1] = makes ? makes : "";
      for (guint c = 0; c < n; c++)
        cells[c + first] = csv_cell (page->table, row, (int) c);
      text_sheet_add (page->coming, cells, fault && fault->column > 0 ? fault->column - 1 + (int) first : -1, words);
    }
  text_sheet_done (page->coming);
}

static void
add_faults (Page *page, const GPtrArray *faults)
{
  for (guint i = 0; faults && i < MIN (faults->len, MOST_FAULTS); i++)
    {
      const CsvFault *fault = g_ptr_array_index (faults, i);
      g_autofree char *line = g_strdup_printf ("%d", fault->line);
      g_autofree char *column = fault->column > 0 ? g_strdup_printf ("%d", fault->column) : g_strdup ("");
      const char *cells[] = { line, column, fault->heading ? fault->heading : "", fault->what, fault->remedy };
      text_sheet_add (page->rejected, cells, -1, fault->remedy);
    }
  if (faults && faults->len > MOST_FAULTS)
    {
      g_autofree char *more = g_strdup_printf (_ ("and %u more"), faults->len - MOST_FAULTS);
      const char *cells[] = { "", "", "", more, "" };
      text_sheet_add (page->rejected, cells, -1, NULL);
    }
}

/* What comes, what would be made besides runs, and that nothing has happened. */
static char *
conclusion (const Page *page, guint all, guint whole)
{
  g_autofree char *read = whole == all ? g_strdup_printf (ngettext ("%u line read, and it is whole.", "%u lines read, all of them whole.", all), all)
                                       : g_strdup_printf (_ ("%u lines read: %u whole, %u with faults."), all, whole, all - whole);
  g_autofree char *made = runs_import_makes_all (page->import, gtk_check_button_get_active (GTK_CHECK_BUTTON (page->keep)));

  g_autofree char *words = made ? g_strdup_printf (_ ("%s They would make %s. Nothing has changed yet."), read, made)
                                : g_strdup_printf (_ ("%s Nothing has changed yet."), read);

  /* A file says its units itself, whatever job it comes into. */
  if (session_job (page->session) && job_names (session_job (page->session))->metric)
    return g_strdup_printf (_ ("%s Figures without a unit are inches, feet and in w.g.: write 600x300 mm, 6 m, 500 Pa where they are not."),
                            words);
  return g_steal_pointer (&words);
}

static void
update (Page *page)
{
  g_autoptr (GHashTable) faulty = NULL;
  g_autofree char *words = NULL, *label = NULL;
  guint all, whole, taken;

  gboolean working = page->parsing || page->slice;

  gtk_widget_set_visible (page->mapping_scroll, page->import != NULL);
  gtk_widget_set_visible (page->sheets, page->import && !working);
  gtk_widget_set_visible (page->foot, page->import && !working);
  gtk_widget_set_sensitive (page->mapping, !working);
  gtk_widget_set_sensitive (page->choose, !working);
  if (!page->import || working)
    {
      gtk_widget_set_sensitive (page->accept, FALSE);
      return;
    }
  faulty = faults_by_line (page);
  all = page->import->runs->len;
  whole = all - MIN (all, g_hash_table_size (faulty));
  taken = gtk_check_button_get_active (GTK_CHECK_BUTTON (page->keep)) ? all : whole;
  fill_coming (page, faulty);
  text_sheet_clear (page->rejected);
  add_faults (page, page->file_faults);
  add_faults (page, page->import->faults);
  text_sheet_done (page->rejected);
  if (all == 0)
    words = g_strdup_printf (_ ("Nothing can be read from %s yet: say which column is the kind."), page->table->name);
  else
    words = conclusion (page, all, whole);
  gtk_label_set_label (page->conclusion, words);
  label = g_strdup_printf (ngettext ("Add %u run", "Add %u runs", taken), taken);
  gtk_button_set_label (GTK_BUTTON (page->accept), label);
  gtk_widget_set_sensitive (page->accept, taken > 0);
}

/* ---- reading in slices ---- */

static void
add_runs (Page *page)
{
  gboolean keep = gtk_check_button_get_active (GTK_CHECK_BUTTON (page->keep));
  JobEdit *edit = runs_import_edit (page->import, session_job (page->session), keep);
  GtkWindow *window = g_object_ref (page->window);
  guint runs = 0;

  for (guint i = 0; i < edit->deltas->len; i++)
    runs += g_array_index (edit->deltas, JobDelta, i).after->type == JOB_RUN;
  /* With it the page may go. */
  if (import_apply (page->session, edit, runs, page->progress))
    gtk_window_close (window);
  g_object_unref (window);
}

static void
read_done (Page *page)
{
  gboolean add = page->then_add;

  import_progress_stop (page->progress);
  page->stale = page->then_add = FALSE;
  update (page);
  if (add)
    add_runs (page);
}

static gboolean
slice_cb (gpointer data)
{
  Page *page = data;

  if (session_job (page->session) && runs_import_step (page->import, session_job (page->session), SLICE))
    {
      import_progress_set (page->progress, (double) page->import->runs->len / MAX (page->table->row->len, 1));
      return G_SOURCE_CONTINUE;
    }
  page->slice = 0;
  read_done (page);
  return G_SOURCE_REMOVE;
}

/* Small files are read at once. */
static void
read_lines (Page *page)
{
  g_clear_handle_id (&page->slice, g_source_remove);
  runs_import_begin (page->import);
  if (!runs_import_step (page->import, session_job (page->session), 4 * SLICE))
    {
      read_done (page);
      return;
    }
  import_progress_start (page->progress, _ ("Reading the lines…"));
  /* Behind redrawing and input, so that the window lives. */
  page->slice = g_idle_add_full (G_PRIORITY_LOW, slice_cb, page, NULL);
  gtk_label_set_label (page->conclusion, _ ("The file is being read. Nothing has changed yet."));
  update (page);
}

static void
cancel_cb (gpointer data)
{
  Page *page = data;

  if (!page->parsing && !page->slice)
    return;
  drop_file (page);
  import_progress_stop (page->progress);
  gtk_label_set_label (page->conclusion, _ ("Reading was stopped, and nothing has changed. Choose a CSV file of runs."));
  update (page);
}

/* ---- mapping ---- */

static void
mapped_cb (GtkDropDown *drop, GParamSpec *pspec, Page *page)
{
  guint column = GPOINTER_TO_UINT (g_object_get_data (G_OBJECT (drop), "column"));

  (void) pspec;
  if (page->filling || !page->import)
    return;
  page->import->field[column] = (int) gtk_drop_down_get_selected (drop) - 1;
  read_lines (page);
}

static void
fill_mapping (Page *page)
{
  const JobTypeInfo *info = job_type_info (JOB_RUN);
  GtkWidget *child;

  page->filling = TRUE;
  while ((child = gtk_widget_get_first_child (page->mapping)))
    gtk_box_remove (GTK_BOX (page->mapping), child);
  for (guint c = 0; c < page->table->head->len; c++)
    {
      const char *head = g_ptr_array_index (page->table->head, c);
      GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2), *title = gtk_label_new (*head ? head : _ ("no heading")), *drop;
      GtkStringList *fields = gtk_string_list_new (NULL);
      g_autofree char *name = g_strdup_printf (_ ("What the column %s stands for"), head);
      gtk_string_list_append (fields, _ ("ignored"));
      for (int f = 0; f <= info->n_fields; f++)
        gtk_string_list_append (fields, runs_heading_title (f));
      drop = gtk_drop_down_new (G_LIST_MODEL (fields), NULL);
      gtk_drop_down_set_selected (GTK_DROP_DOWN (drop), (guint) (page->import->field[c] + 1));
      g_object_set_data (G_OBJECT (drop), "column", GUINT_TO_POINTER (c));
      gtk_accessible_update_property (GTK_ACCESSIBLE (drop), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
      g_signal_connect (drop, "notify::selected", G_CALLBACK (mapped_cb), page);
      /* As wide as its longest choice, so that the next one stays under the mouse. */
      gtk_widget_set_size_request (drop, 220, -1);
      gtk_label_set_xalign (GTK_LABEL (title), 0);
      gtk_label_set_ellipsize (GTK_LABEL (title), PANGO_ELLIPSIZE_END);
      gtk_label_set_max_width_chars (GTK_LABEL (title), 24);
      gtk_widget_add_css_class (title, "caption");
      gtk_box_append (GTK_BOX (box), title);
      gtk_box_append (GTK_BOX (box), drop);
      gtk_box_append (GTK_BOX (page->mapping), box);
    }
  page->filling = FALSE;
}

/* ---- the file ---- */

/* What a thread makes of a file. */
typedef struct
{
  char *path;
  CsvTable *table;
  GPtrArray *faults;
} Parsed;

static void
parsed_free (gpointer data)
{
  Parsed *parsed = data;

  g_free (parsed->path);
  g_clear_pointer (&parsed->table, csv_table_free);
  g_ptr_array_unref (parsed->faults);
  g_free (parsed);
}

static void
parse_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Parsed *parsed = data;
  GError *error = NULL;

  (void) source;
  (void) cancellable;
  parsed->table = csv_read_file (parsed->path, parsed->faults, &error);
  if (error)
    g_task_return_error (task, error);
  else
    g_task_return_boolean (task, TRUE);
}

static void
parsed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  Page *page = data;
  Parsed *parsed = g_task_get_task_data (G_TASK (result));
  g_autoptr (GError) error = NULL;

  (void) source;
  g_task_propagate_boolean (G_TASK (result), &error);
  /* Stopped, or the page is gone. */
  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  g_clear_object (&page->parsing);
  import_progress_stop (page->progress);
  page->table = g_steal_pointer (&parsed->table);
  page->file_faults = g_ptr_array_ref (parsed->faults);
  if (!page->table || !session_job (page->session))
    {
      const CsvFault *first = page->file_faults->len ? g_ptr_array_index (page->file_faults, 0) : NULL;
      g_autofree char *words = first ? csv_fault_words (first) : g_strdup (error ? error->message : _ ("the file cannot be read"));
      gtk_label_set_label (page->conclusion, _ ("This file cannot be used."));
      session_say (page->session, SESSION_REFUSED, "%s", words);
      update (page);
      return;
    }
  page->import = runs_import_new (session_job (page->session), page->table);
  fill_mapping (page);
  read_lines (page);
}

static void
load (Page *page, const char *path)
{
  Parsed *parsed = g_new0 (Parsed, 1);
  g_autoptr (GTask) task = NULL;

  drop_file (page);
  parsed->path = g_strdup (path);
  parsed->faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  page->parsing = g_cancellable_new ();
  import_progress_start (page->progress, _ ("Reading the file…"));
  update (page);
  task = g_task_new (NULL, page->parsing, parsed_cb, page);
  g_task_set_task_data (task, parsed, parsed_free);
  g_task_run_in_thread (task, parse_in_thread);
}

static void
response_cb (GtkNativeDialog *dialog, int response, Page *page)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;

  if (path)
    load (page, path);
  else if (file)
    session_say (page->session, SESSION_REFUSED, "%s", _ ("this place cannot be used: choose a file on this machine"));
}

static void
choose_cb (GtkButton *button, Page *page)
{
  GtkFileChooserNative *dialog = gtk_file_chooser_native_new (_ ("Runs as CSV"), page->window, GTK_FILE_CHOOSER_ACTION_OPEN,
                                                              _ ("_Read"), _ ("_Cancel"));
  GtkFileFilter *csv = gtk_file_filter_new (), *any = gtk_file_filter_new ();

  (void) button;
  gtk_file_filter_set_name (csv, _ ("Tables as text (CSV)"));
  gtk_file_filter_add_pattern (csv, "*.csv");
  gtk_file_filter_add_pattern (csv, "*.txt");
  gtk_file_filter_set_name (any, _ ("Any file"));
  gtk_file_filter_add_pattern (any, "*");
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (dialog), csv);
  gtk_file_chooser_add_filter (GTK_FILE_CHOOSER (dialog), any);
  g_object_unref (csv);
  g_object_unref (any);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (dialog), TRUE);
  g_signal_connect (dialog, "response", G_CALLBACK (response_cb), page);
  g_object_set_data_full (G_OBJECT (page->window), "csv-chooser", dialog, g_object_unref);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (dialog));
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, Page *page)
{
  g_autofree char *path = G_VALUE_HOLDS (value, G_TYPE_FILE) ? g_file_get_path (g_value_get_object (value)) : NULL;

  (void) target;
  (void) x;
  (void) y;
  if (path)
    load (page, path);
  return path != NULL;
}

static void
accept_cb (GtkButton *button, Page *page)
{
  (void) button;
  if (!session_job (page->session) || !page->import || page->slice)
    return;
  if (!page->stale)
    {
      add_runs (page);
      return;
    }
  /* The job has changed since the preview: systems and areas are looked up anew. */
  page->then_add = TRUE;
  read_lines (page);
}

static void
keep_cb (GtkCheckButton *button, Page *page)
{
  (void) button;
  update (page);
}

static void
job_cb (TallySession *session, Page *page)
{
  if (!session_job (session))
    gtk_window_close (page->window);
  else if (page->import)
    read_lines (page);
}

static void
changed_cb (TallySession *session, gpointer edit, Page *page)
{
  (void) session;
  (void) edit;
  page->stale = TRUE;
  if (page->slice)
    read_lines (page);
}

/* ---- the page ---- */

static GtkWidget *
foot (Page *page)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  page->keep = gtk_check_button_new_with_label (_ ("Also the lines with faults, kept as typed and not priced"));
  page->accept = gtk_button_new_with_label (_ ("Add runs"));
  gtk_widget_add_css_class (page->accept, "suggested-action");
  gtk_widget_set_hexpand (page->keep, TRUE);
  gtk_widget_add_css_class (line, "sheet-foot");
  g_signal_connect (page->keep, "toggled", G_CALLBACK (keep_cb), page);
  g_signal_connect (page->accept, "clicked", G_CALLBACK (accept_cb), page);
  gtk_box_append (GTK_BOX (line), page->keep);
  gtk_box_append (GTK_BOX (line), page->accept);
  return line;
}

static GtkWidget *
titled (const char *title, GtkWidget *child)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *label = gtk_label_new (title);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "heading");
  gtk_widget_add_css_class (label, "view-head");
  gtk_box_append (GTK_BOX (box), label);
  gtk_widget_set_vexpand (child, TRUE);
  gtk_box_append (GTK_BOX (box), child);
  return box;
}

static GtkWidget *
sheets (Page *page)
{
  static const char *const titles[] = { N_ ("Line"), N_ ("Column"), N_ ("Heading"), N_ ("What is wrong"), N_ ("What to do") };
  const char *shown[G_N_ELEMENTS (titles)];
  GtkWidget *paned = gtk_paned_new (GTK_ORIENTATION_VERTICAL);

  for (gsize i = 0; i < G_N_ELEMENTS (titles); i++)
    shown[i] = _ (titles[i]);
  page->coming = text_sheet_new (shown, 1);
  page->rejected = text_sheet_new (shown, G_N_ELEMENTS (titles));
  text_sheet_set_width (page->rejected, 2, 14);
  text_sheet_set_width (page->rejected, 3, 46);
  text_sheet_set_width (page->rejected, 4, 60);
  gtk_paned_set_start_child (GTK_PANED (paned), titled (_ ("What comes"), tally_sheet_page_new (TALLY_GRID_MODEL (page->coming), _ ("What comes"), NULL)));
  gtk_paned_set_end_child (GTK_PANED (paned), titled (_ ("What is wrong"), tally_sheet_page_new (TALLY_GRID_MODEL (page->rejected), _ ("Rejected lines"), NULL)));
  gtk_paned_set_position (GTK_PANED (paned), 240);
  gtk_widget_set_vexpand (paned, TRUE);
  return paned;
}

GtkWidget *
import_csv_page_new (TallySession *session, GtkWindow *window)
{
  Page *page = g_new0 (Page, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *words = tally_conclusion_new (_ ("Choose a CSV file of runs: a line a run, headings in its first line."));
  GtkDropTarget *target = gtk_drop_target_new (G_TYPE_FILE, GDK_ACTION_COPY);

  page->session = g_object_ref (session);
  page->window = window;
  page->conclusion = GTK_LABEL (words);
  page->choose = gtk_button_new_with_label (_ ("Choose a file…"));
  gtk_widget_set_hexpand (words, TRUE);
  gtk_widget_add_css_class (head, "view-head");
  gtk_widget_set_valign (page->choose, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (head), words);
  gtk_box_append (GTK_BOX (head), page->choose);
  page->mapping = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_add_css_class (page->mapping, "view-head");
  page->mapping_scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (page->mapping_scroll), GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (page->mapping_scroll), page->mapping);
  page->sheets = sheets (page);
  gtk_box_append (GTK_BOX (box), head);
  gtk_box_append (GTK_BOX (box), import_progress_new (&page->progress, cancel_cb, page));
  gtk_box_append (GTK_BOX (box), page->mapping_scroll);
  gtk_box_append (GTK_BOX (box), page->sheets);
  page->foot = foot (page);
  gtk_box_append (GTK_BOX (box), page->foot);
  g_signal_connect (page->choose, "clicked", G_CALLBACK (choose_cb), page);
  g_signal_connect (target, "drop", G_CALLBACK (drop_cb), page);
  gtk_widget_add_controller (box, GTK_EVENT_CONTROLLER (target));
  g_signal_connect (session, "job", G_CALLBACK (job_cb), page);
  g_signal_connect (session, "changed", G_CALLBACK (changed_cb), page);
  g_object_weak_ref (G_OBJECT (box), page_gone, page);
  update (page);
  return box;
}

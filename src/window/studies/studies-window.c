/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/studies/studies-window.h"

#include "window/habits/sheet-page.h"
#include "window/list-tab.h"
#include "window/studies/studies-private.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <string.h>

typedef struct
{
  TallySession *session;
  TallyDraft *draft;
  GtkWindow *window;
  TallyReadings *readings;
  TallyGrid *grid;
  char *key;               /* (nullable): the chosen study */
  gboolean filling;
  GtkListBox *list;
  GtkLabel *conclusion, *rests, *kept, *said;
  GtkWidget *name, *add, *results, *size, *stack, *foot, *reason, *strike, *restore, *actions;
  GtkFileChooserNative *chooser;
} Window;

static void
gone (gpointer data, GObject *where)
{
  Window *w = data;

  (void) where;
  g_clear_object (&w->chooser);
  g_object_unref (w->readings);
  g_object_unref (w->draft);
  g_object_unref (w->session);
  g_free (w->key);
  g_free (w);
}

/* ---- what stands where ---- */

static GArray *
selected_rows (Window *w)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (guint));
  guint row0, column0, row1, column1;

  if (grid_model_n_rows (TALLY_GRID_MODEL (w->readings)) == 0)
    return rows;
  grid_get_selection (w->grid, &row0, &column0, &row1, &column1);
  for (guint i = MIN (row0, row1); i <= MAX (row0, row1); i++)
    {
      guint at = readings_table_row (w->readings, i);
      if (at != G_MAXUINT)
        g_array_append_val (rows, at);
    }
  return rows;
}

static void
update_strike (Window *w)
{
  const CsvTable *table = draft_tables (w->draft)[CATALOGUE_OBSERVATIONS];
  g_autoptr (GArray) rows = selected_rows (w);
  gboolean any_struck = FALSE, any_kept = FALSE;

  for (guint i = 0; i < rows->len; i++)
    {
      const char *struck = csv_cell (table, g_array_index (rows, guint, i), csv_column (table, "struck"));
      any_struck = any_struck || *struck;
      any_kept = any_kept || !*struck;
    }
  gtk_widget_set_sensitive (w->strike, any_kept && *gtk_editable_get_text (GTK_EDITABLE (w->reason)));
  gtk_widget_set_sensitive (w->restore, any_struck);
}

static void
update_list (Window *w, const GPtrArray *studies)
{
  GtkWidget *child;

  w->filling = TRUE;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (w->list))))
    gtk_list_box_remove (w->list, child);
  for (guint i = 0; i < studies->len; i++)
    {
      const LabourStudy *study = g_ptr_array_index (studies, i);
      GtkWidget *row = gtk_list_box_row_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);
      GtkWidget *name = gtk_label_new (study->key), *count;
      guint struck = 0, n = study->readings->len;
      for (guint k = 0; k < n; k++)
        struck += *((LabourReading *) g_ptr_array_index (study->readings, k))->struck ? 1 : 0;
      g_autofree char *all = g_strdup_printf (ngettext ("%u reading", "%u readings", n), n);
      g_autofree char *words = struck ? g_strdup_printf (_ ("%s, %u struck"), all, struck) : g_strdup (all);
      count = gtk_label_new (words);
      gtk_label_set_wrap (GTK_LABEL (name), TRUE);
      gtk_label_set_lines (GTK_LABEL (name), 3);
      gtk_label_set_ellipsize (GTK_LABEL (name), PANGO_ELLIPSIZE_END);
      gtk_label_set_xalign (GTK_LABEL (name), 0);
      gtk_label_set_xalign (GTK_LABEL (count), 0);
      gtk_widget_add_css_class (count, "caption");
      gtk_box_append (GTK_BOX (box), name);
      gtk_box_append (GTK_BOX (box), count);
      gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), box);
      g_object_set_data_full (G_OBJECT (row), "study", g_strdup (study->key), g_free);
      gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, study->key, -1);
      gtk_list_box_append (w->list, row);
      if (g_strcmp0 (study->key, w->key) == 0)
        gtk_list_box_select_row (w->list, GTK_LIST_BOX_ROW (row));
    }
  w->filling = FALSE;
}

/* Names of studies and counts, without which the list is the same. */
static char *
list_state (const GPtrArray *studies)
{
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < studies->len; i++)
    {
      const LabourStudy *study = g_ptr_array_index (studies, i);
      guint struck = 0;
      for (guint k = 0; k < study->readings->len; k++)
        struck += *((LabourReading *) g_ptr_array_index (study->readings, k))->struck ? 1 : 0;
      g_string_append_printf (out, "%s\n%u\n%u\n", study->key, study->readings->len, struck);
    }
  return g_string_free (out, FALSE);
}

static void
update_words (Window *w, const GPtrArray *studies)
{
  const LabourStudy *study = NULL;
  guint changes = draft_changes (w->draft)->len, faults = draft_faults (w->draft)->len;
  g_autofree char *sentence = NULL, *rests = NULL, *kept = NULL;

  for (guint i = 0; i < studies->len; i++)
    if (g_strcmp0 (((LabourStudy *) g_ptr_array_index (studies, i))->key, w->key) == 0)
      study = g_ptr_array_index (studies, i);
  sentence =
      study
          ? studies_sentence (w->draft, study)
          : g_strdup (_ (
              "No time study yet. Name one and add it: two methods, whole joints, a crew of two and a watch will do."));
  rests = study ? g_strdup_printf (_ ("Rests on: %s · %s%s%s"), *study->source ? study->source : _ ("no source named"),
                                   *study->status ? study->status : _ ("no status"), *study->note ? " · " : "", study->note)
                : g_strdup ("");
  if (faults > 0)
    kept = g_strdup_printf (ngettext ("The draft of the catalogue has %u fault, shown at its cell.",
                                      "The draft of the catalogue has %u faults, shown at their cells.", faults), faults);
  else if (changes > 0)
    kept = g_strdup_printf (
        ngettext ("Kept: %u change in the draft of the catalogue. Jobs go on as they are until it is accepted there.",
                  "Kept: %u changes in the draft of the catalogue. Jobs go on as they are until it is accepted there.",
                  changes),
        changes);
  else
    kept = g_strdup (_ ("As accepted in the catalogue."));
  gtk_label_set_label (w->conclusion, sentence);
  gtk_label_set_label (w->rests, rests);
  gtk_label_set_label (w->kept, kept);
}

static void
update (Window *w)
{
  g_autoptr (GPtrArray) studies = studies_of_draft (w->draft);
  g_autofree char *state = list_state (studies);
  gboolean known = FALSE;

  for (guint i = 0; i < studies->len; i++)
    known = known || g_strcmp0 (((LabourStudy *) g_ptr_array_index (studies, i))->key, w->key) == 0;
  if (!known)
    {
      g_free (w->key);
      w->key = studies->len > 0 ? g_strdup (((LabourStudy *) g_ptr_array_index (studies, 0))->key) : NULL;
      readings_show (w->readings, w->key ? w->key : "");
    }
  if (g_strcmp0 (state, g_object_get_data (G_OBJECT (w->list), "state")) != 0)
    {
      update_list (w, studies);
      g_object_set_data_full (G_OBJECT (w->list), "state", g_steal_pointer (&state), g_free);
    }
  update_words (w, studies);
  studies_results_show (w->results, w->key);
  studies_size_show (w->size, w->key);
  gtk_widget_set_sensitive (w->actions, w->key != NULL);
  update_strike (w);
}

static void
draft_cb (TallyDraft *draft, Window *w)
{
  (void) draft;
  update (w);
}

static void
choose (Window *w, const char *key)
{
  g_free (w->key);
  w->key = g_strdup (key);
  readings_show (w->readings, key);
  grid_set_cursor (w->grid, 0, 0);
  gtk_label_set_label (w->said, "");
  gtk_widget_set_visible (GTK_WIDGET (w->said), FALSE);
  update (w);
}

/* ---- what the user does ---- */

static void
selected_cb (GtkListBox *list, GtkListBoxRow *row, Window *w)
{
  (void) list;
  if (row && !w->filling)
    choose (w, g_object_get_data (G_OBJECT (row), "study"));
}

static void
add_cb (GtkWidget *widget, Window *w)
{
  g_autofree char *name = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (w->name)))), *key = NULL;

  (void) widget;
  if (!*name)
    {
      gtk_widget_grab_focus (w->name);
      return;
    }
  key = studies_add (w->draft, name);
  gtk_editable_set_text (GTK_EDITABLE (w->name), "");
  choose (w, key);
  for (int i = 0; gtk_list_box_get_row_at_index (w->list, i); i++)
    if (g_str_equal (g_object_get_data (G_OBJECT (gtk_list_box_get_row_at_index (w->list, i)), "study"), key))
      gtk_list_box_select_row (w->list, gtk_list_box_get_row_at_index (w->list, i));
}

static void
strike_cb (GtkWidget *widget, Window *w)
{
  g_autoptr (GArray) rows = selected_rows (w);
  g_autofree char *reason = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (w->reason))));

  if (widget != w->restore && !*reason)
    return;
  studies_strike (w->draft, (const guint *) (void *) rows->data, rows->len, widget == w->restore ? "" : reason);
  gtk_editable_set_text (GTK_EDITABLE (w->reason), "");
}

static void
reason_cb (GtkEditable *entry, Window *w)
{
  (void) entry;
  update_strike (w);
}

static void
cursor_cb (TallyGrid *grid, Window *w)
{
  (void) grid;
  update_strike (w);
}

static void
watch_cb (GtkButton *button, Window *w)
{
  (void) button;
  if (w->key)
    studies_timing_present (w->session, w->draft, w->key, w->window);
}

static void
print_cb (GtkButton *button, Window *w)
{
  (void) button;
  if (w->key)
    studies_print (w->draft, w->key, w->window, w->session);
}

static void
catalogue_cb (GtkButton *button, Window *w)
{
  (void) button;
  tally_catalogue_window_present (w->session, w->window);
}

/* What is wrong with a file stays in words below the figures. */
static void
read_file (Window *w, const char *path)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (CsvTable) file = csv_read_file (path, faults, &error);
  g_autoptr (GString) words = g_string_new (NULL);
  guint n = 0;

  if (error)
    g_string_append (words, error->message);
  else if (file && faults->len == 0 && studies_add_csv (w->draft, w->key, file, &n, faults))
    g_string_append_printf (words, ngettext ("%u reading added from the file.", "%u readings added from the file.", n), n);
  for (guint i = 0; i < MIN (faults->len, 6); i++)
    {
      g_autofree char *told = csv_fault_words (g_ptr_array_index (faults, i));
      g_string_append_printf (words, "%s%s", i ? "\n" : _ ("Nothing is read from the file: "), told);
    }
  gtk_label_set_label (w->said, words->str);
  gtk_widget_set_visible (GTK_WIDGET (w->said), TRUE);
}

static void
response_cb (GtkNativeDialog *dialog, int response, Window *w)
{
  g_autoptr (GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (dialog)) : NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;

  if (path && w->key)
    read_file (w, path);
}

static void
csv_cb (GtkButton *button, Window *w)
{
  (void) button;
  g_clear_object (&w->chooser);
  w->chooser = gtk_file_chooser_native_new (_ ("Read readings from a CSV file"), w->window,
                                            GTK_FILE_CHOOSER_ACTION_OPEN, _ ("_Read"), _ ("_Cancel"));
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (w->chooser), TRUE);
  g_signal_connect (w->chooser, "response", G_CALLBACK (response_cb), w);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (w->chooser));
}

static gboolean
undo_key_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) widget;
  (void) args;
  draft_undo (((Window *) data)->draft);
  return TRUE;
}

static gboolean
redo_key_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) widget;
  (void) args;
  draft_redo (((Window *) data)->draft);
  return TRUE;
}

static gboolean
watch_key_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) widget;
  (void) args;
  watch_cb (NULL, data);
  return TRUE;
}

static gboolean
print_key_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) widget;
  (void) args;
  print_cb (NULL, data);
  return TRUE;
}

/* What is typed into an entry is taken before everything goes. */
static gboolean
close_cb (GtkWindow *window, Window *w)
{
  gtk_window_set_focus (window, NULL);
  g_signal_handlers_disconnect_by_data (w->draft, w);
  return FALSE;
}

/* ---- the window ---- */

static GtkWidget *
button (GtkWidget *box, const char *label, GCallback callback, Window *w)
{
  GtkWidget *out = gtk_button_new_with_label (label);

  g_signal_connect (out, "clicked", callback, w);
  gtk_box_append (GTK_BOX (box), out);
  return out;
}

static GtkLabel *
words (GtkWidget *box, const char *style)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, style);
  gtk_box_append (GTK_BOX (box), label);
  return GTK_LABEL (label);
}

static GtkWidget *
side (Window *w)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6), *scrolled = gtk_scrolled_window_new ();
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 6);

  w->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_widget_add_css_class (GTK_WIDGET (w->list), "navigation-sidebar");
  gtk_widget_add_css_class (GTK_WIDGET (w->list), "studies-list");
  gtk_accessible_update_property (GTK_ACCESSIBLE (w->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Time studies"), -1);
  tally_list_leave_by_tab (GTK_WIDGET (w->list));
  g_signal_connect (w->list, "row-selected", G_CALLBACK (selected_cb), w);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), GTK_WIDGET (w->list));
  gtk_widget_set_vexpand (scrolled, TRUE);
  gtk_widget_set_size_request (box, 214, -1);
  w->name = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (w->name), 14);
  gtk_entry_set_placeholder_text (GTK_ENTRY (w->name), _ ("Name of a new study"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (w->name), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Name of a new study"), -1);
  gtk_widget_set_hexpand (w->name, TRUE);
  g_signal_connect (w->name, "activate", G_CALLBACK (add_cb), w);
  gtk_box_append (GTK_BOX (line), w->name);
  w->add = button (line, _ ("Add"), G_CALLBACK (add_cb), w);
  gtk_widget_add_css_class (line, "studies-new");
  gtk_box_append (GTK_BOX (box), scrolled);
  gtk_box_append (GTK_BOX (box), line);
  /* The entry fills the side, but the side takes no room from the figures. */
  gtk_widget_set_hexpand (box, FALSE);
  return box;
}

static GtkWidget *
readings_page (Window *w)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *sheet = tally_sheet_page_new (TALLY_GRID_MODEL (w->readings), _ ("Readings of the study"), &w->grid);

  gtk_widget_set_vexpand (sheet, TRUE);
  gtk_box_append (GTK_BOX (box), sheet);
  w->reason = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (w->reason), _ ("Why the selected readings are struck"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (w->reason), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                  _ ("Why the selected readings are struck"), -1);
  gtk_widget_set_hexpand (w->reason, TRUE);
  g_signal_connect (w->reason, "changed", G_CALLBACK (reason_cb), w);
  g_signal_connect (w->reason, "activate", G_CALLBACK (strike_cb), w);
  gtk_box_append (GTK_BOX (line), w->reason);
  w->strike = button (line, _ ("Strike"), G_CALLBACK (strike_cb), w);
  w->restore = button (line, _ ("Restore"), G_CALLBACK (strike_cb), w);
  gtk_widget_add_css_class (line, "sheet-foot");
  gtk_box_append (GTK_BOX (box), line);
  grid_set_frozen (w->grid, 2);
  g_signal_connect (w->grid, "cursor", G_CALLBACK (cursor_cb), w);
  g_signal_connect (w->grid, "selected", G_CALLBACK (cursor_cb), w);
  return box;
}

static GtkWidget *
actions (Window *w)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8),
            *watch = button (box, _ ("Stop-watch…"), G_CALLBACK (watch_cb), w);

  gtk_widget_add_css_class (watch, "suggested-action");
  gtk_widget_set_tooltip_text (watch, _ ("Ctrl+T"));
  gtk_widget_set_tooltip_text (button (box, _ ("Print a study sheet…"), G_CALLBACK (print_cb), w), _ ("Ctrl+P"));
  gtk_widget_set_tooltip_text (button (box, _ ("Read from CSV…"), G_CALLBACK (csv_cb), w),
                               _ ("Columns clock_min and what there is of date, observer, crew_size, size, timed, "
                                  "method, count, rating_pct, struck, note"));
  return box;
}

static void
add_keys (Window *w)
{
  static const struct
  {
    const char *trigger;
    GtkShortcutFunc func;
  } list[] = { { "<Control>z", undo_key_cb },
               { "<Control><Shift>z", redo_key_cb },
               { "<Control>t", watch_key_cb },
               { "<Control>p", print_key_cb } };
  GtkEventController *keys = gtk_shortcut_controller_new ();

  for (gsize i = 0; i < G_N_ELEMENTS (list); i++)
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                          gtk_shortcut_new (gtk_shortcut_trigger_parse_string (list[i].trigger),
                                                            gtk_callback_action_new (list[i].func, w, NULL)));
  gtk_widget_add_controller (GTK_WIDGET (w->window), keys);
}

static void
build (Window *w)
{
  GtkWidget *switcher = gtk_stack_switcher_new (), *page = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);
  GtkWidget *main = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *head = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  w->conclusion = GTK_LABEL (tally_conclusion_new (NULL));
  gtk_box_append (GTK_BOX (head), GTK_WIDGET (w->conclusion));
  w->rests = words (head, "line-words");
  w->actions = actions (w);
  gtk_box_append (GTK_BOX (head), w->actions);
  w->said = words (head, "line-words");
  gtk_widget_set_visible (GTK_WIDGET (w->said), FALSE);
  gtk_widget_add_css_class (head, "view-head");
  w->stack = gtk_stack_new ();
  w->results = studies_results_new (w->session, w->draft);
  w->size = studies_size_new (w->session, w->draft);
  gtk_stack_add_titled (GTK_STACK (w->stack), w->results, "results", _ ("Results"));
  gtk_stack_add_titled (GTK_STACK (w->stack), readings_page (w), "readings", _ ("Readings"));
  gtk_stack_add_titled (GTK_STACK (w->stack), w->size, "size", _ ("Over size"));
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (w->stack));
  gtk_widget_set_vexpand (w->stack, TRUE);
  w->kept = words (foot, "line-words");
  gtk_widget_set_hexpand (GTK_WIDGET (w->kept), TRUE);
  button (foot, _ ("Open the catalogue"), G_CALLBACK (catalogue_cb), w);
  gtk_widget_add_css_class (foot, "sheet-foot");
  gtk_box_append (GTK_BOX (main), head);
  gtk_box_append (GTK_BOX (main), w->stack);
  gtk_box_append (GTK_BOX (main), foot);
  gtk_widget_set_hexpand (main, TRUE);
  gtk_box_append (GTK_BOX (page), side (w));
  gtk_box_append (GTK_BOX (page), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (page), main);
  tally_side_window_set (w->window, switcher, tally_notice_new (w->session, page));
}

void
tally_studies_present (TallySession *session, GtkWindow *parent)
{
  g_autoptr (GError) error = NULL;
  TallyDraft *draft = session_store (session) ? catalogue_draft_open (session, &error) : NULL;
  Window *w;

  if (!draft)
    {
      session_say (session, SESSION_REFUSED, "%s", error ? error->message : _ ("no office file is open: choose one"));
      return;
    }
  w = g_new0 (Window, 1);
  w->session = g_object_ref (session);
  w->draft = draft;
  w->readings = readings_new (draft);
  w->window = tally_side_window_new (parent, NULL, _ ("Time studies"), 1240, 740);
  build (w);
  add_keys (w);
  g_signal_connect (draft, "changed", G_CALLBACK (draft_cb), w);
  g_signal_connect (w->window, "close-request", G_CALLBACK (close_cb), w);
  g_object_weak_ref (G_OBJECT (w->window), gone, w);
  update (w);
  gtk_window_present (w->window);
  gtk_widget_grab_focus (gtk_list_box_get_selected_row (w->list) ? GTK_WIDGET (gtk_list_box_get_selected_row (w->list)) : w->name);
}

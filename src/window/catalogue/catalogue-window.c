/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/catalogue/catalogue-window.h"

#include "window/catalogue/catalogue-private.h"
#include "window/grid/grid.h"
#include "window/habits/sheet-page.h"

#include <glib/gi18n.h>

/* Jobs larger than this are priced with the draft when asked, not at each edit. */
#define RUNS_AT_ONCE 20000

typedef struct
{
  TallySession *session;
  GtkWindow *window;
  TallyDraft *draft;
  TallyCatalogueSheet *sheet;
  TallyGrid *grid;
  GtkListBox *list;
  GtkLabel *conclusion, *effect, *stale, *rests;
  GtkEditable *search;
  GtkWidget *ask, *reason, *move, *accept, *discard, *next_fault, *retire, *explain;
  GtkLabel *row_title[CATALOGUE_N_SHEETS], *row_mark[CATALOGUE_N_SHEETS];
  guint timeout;
} Window;

/* Sheets in the order an office looks for them. */
static const CatalogueSheet order[] = {
  CATALOGUE_ITEMS,  CATALOGUE_STEPS,       CATALOGUE_RECIPES,   CATALOGUE_METHODS,  CATALOGUE_CONNECTIONS, CATALOGUE_CREWS,
  CATALOGUE_BURDENS, CATALOGUE_OVERTIME_LOSS, CATALOGUE_STUDIES, CATALOGUE_OBSERVATIONS, CATALOGUE_CLAIMS,
  CATALOGUE_CONDITIONS, CATALOGUE_BUILDUP, CATALOGUE_RULE_SETS, CATALOGUE_GAUGES,   CATALOGUE_SHEETS,      CATALOGUE_SCREWS,
  CATALOGUE_CLEATS, CATALOGUE_VANES,       CATALOGUE_PROFILES,  CATALOGUE_ALLOWANCES,
  CATALOGUE_REINFORCEMENT, CATALOGUE_STIFFNESS, CATALOGUE_MEMBERS, CATALOGUE_JOINT_RATINGS, CATALOGUE_TIE_RODS,
  CATALOGUE_ROUND_GAUGES, CATALOGUE_GORES, CATALOGUE_SUPPORTS, CATALOGUE_HANGER_LOADS, CATALOGUE_GASKETS, CATALOGUE_WRAPS,
  CATALOGUE_LINER_PINS, CATALOGUE_SEAL_CLASSES, CATALOGUE_LEAKAGE, CATALOGUE_PRESSURE_CLASSES,
};

static void
gone (gpointer data, GObject *where)
{
  Window *w = data;

  (void) where;
  g_clear_handle_id (&w->timeout, g_source_remove);
  g_signal_handlers_disconnect_by_data (w->draft, w);
  g_signal_handlers_disconnect_by_data (w->session, w);
  g_object_unref (w->sheet);
  g_object_unref (w->draft);
  g_object_unref (w->session);
  g_free (w);
}

/* ---- effect ---- */

static void
show_effect (Window *w)
{
  g_autofree char *words = catalogue_effect_words (w->session, w->draft);

  gtk_label_set_label (w->effect, words);
}

static gboolean
effect_cb (gpointer data)
{
  Window *w = data;

  w->timeout = 0;
  show_effect (w);
  return G_SOURCE_REMOVE;
}

static void
ask_cb (GtkButton *button, Window *w)
{
  (void) button;
  show_effect (w);
}

static void
queue_effect (Window *w)
{
  TallyJob *job = session_job (w->session);
  gboolean large = job && job_n (job, JOB_RUN) > RUNS_AT_ONCE;

  gtk_widget_set_visible (w->ask, large);
  if (large)
    gtk_label_set_label (w->effect, _ ("This job is large: its price with the draft is worked out when you ask."));
  else if (w->timeout == 0)
    w->timeout = g_timeout_add (250, effect_cb, w);
}

/* ---- what stands where ---- */

static GArray *
selected_rows (Window *w)
{
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (guint));
  guint row0, column0, row1, column1;

  if (grid_model_n_rows (TALLY_GRID_MODEL (w->sheet)) == 0)
    return rows;
  grid_get_selection (w->grid, &row0, &column0, &row1, &column1);
  for (guint i = MIN (row0, row1); i <= MAX (row0, row1) && i < grid_model_n_rows (TALLY_GRID_MODEL (w->sheet)); i++)
    g_array_append_val (rows, i);
  return rows;
}

/* The rows that are selected are all retired: then they can be restored. */
static gboolean
all_retired (Window *w, const GArray *rows)
{
  for (guint i = 0; i < rows->len; i++)
    if (!catalogue_sheet_is_retired (w->sheet, g_array_index (rows, guint, i)))
      return FALSE;
  return rows->len > 0;
}

static void
update_retire (Window *w)
{
  g_autoptr (GArray) rows = selected_rows (w);

  gtk_button_set_label (GTK_BUTTON (w->retire), all_retired (w, rows) ? _ ("Restore rows") : _ ("Retire rows"));
  gtk_widget_set_sensitive (w->retire, rows->len > 0);
}

static void
update_cursor (Window *w)
{
  guint row = 0, column;
  g_autofree char *words = NULL;

  grid_get_cursor (w->grid, &row, &column);
  words = grid_model_n_rows (TALLY_GRID_MODEL (w->sheet)) > 0 ? catalogue_sheet_rests (w->sheet, row) : g_strdup (_ ("No row of this sheet holds that."));
  gtk_label_set_label (w->rests, words);
  update_retire (w);
}

static void
cursor_cb (TallyGrid *grid, Window *w)
{
  (void) grid;
  update_cursor (w);
}

static void
update_rows (Window *w)
{
  gboolean searching = *gtk_editable_get_text (w->search) != '\0';

  for (int s = 0; s < CATALOGUE_N_SHEETS; s++)
    {
      guint faults = draft_n_faults (w->draft, (CatalogueSheet) s), changes = draft_n_changes (w->draft, (CatalogueSheet) s);
      guint found = searching ? catalogue_sheet_count (w->sheet, (CatalogueSheet) s) : 0;
      g_autofree char *mark = searching ? (found ? g_strdup_printf (ngettext ("%u found", "%u found", found), found) : g_strdup (""))
                              : faults ? g_strdup_printf (ngettext ("%u fault", "%u faults", faults), faults)
                              : changes ? g_strdup_printf (ngettext ("%u change", "%u changes", changes), changes)
                                        : g_strdup ("");
      gtk_label_set_label (w->row_mark[s], mark);
      gtk_widget_set_opacity (GTK_WIDGET (w->row_title[s]), searching && found == 0 ? 0.5 : 1);
      if (faults && !searching)
        gtk_widget_add_css_class (GTK_WIDGET (w->row_mark[s]), "attention");
      else
        gtk_widget_remove_css_class (GTK_WIDGET (w->row_mark[s]), "attention");
    }
}

/* The revision that the draft was begun on is no longer the newest. */
static void
update_stale (Window *w)
{
  gint64 newest, begun = catalogue_draft_revision (w->draft);
  gboolean stale = catalogue_draft_is_stale (w->draft, w->session, &newest) && draft_changes (w->draft)->len > 0;
  g_autofree char *words = NULL;

  gtk_widget_set_visible (GTK_WIDGET (w->stale), stale);
  if (!stale)
    return;
  words = g_strdup_printf (_ ("This draft was begun on revision %d, and revision %d is the newest by now. Accepted as it is, it leaves out "
                              "what was changed since: compare them first, or discard the draft."), (int) begun, (int) newest);
  gtk_label_set_label (w->stale, words);
}

static void
update (Window *w)
{
  guint faults = draft_faults (w->draft)->len, changes = draft_changes (w->draft)->len;
  g_autofree char *words = NULL;
  gboolean reason = *gtk_editable_get_text (GTK_EDITABLE (w->reason)) != '\0';

  if (faults)
    words = g_strdup_printf (ngettext ("The draft has %u fault: it can be accepted when that is settled.",
                                       "The draft has %u faults: it can be accepted when they are settled.", faults), faults);
  else if (changes)
    words = g_strdup_printf (ngettext ("A draft with %u change is kept. Jobs stay on their revision until it is accepted.",
                                       "A draft with %u changes is kept. Jobs stay on their revision until it is accepted.",
                                       changes), changes);
  else
    words = g_strdup_printf (_ ("The catalogue as accepted, revision %d. Type to make a draft."), (int) catalogue_draft_revision (w->draft));
  gtk_label_set_label (w->conclusion, words);
  gtk_widget_set_sensitive (w->accept, faults == 0 && changes > 0 && reason);
  gtk_widget_set_sensitive (w->discard, changes > 0);
  gtk_widget_set_visible (w->next_fault, faults > 0);
  update_stale (w);
  update_cursor (w);
  update_rows (w);
}

static void
draft_cb (TallyDraft *draft, Window *w)
{
  (void) draft;
  update (w);
  queue_effect (w);
}

static void
session_cb (TallySession *session, gpointer edit, Window *w)
{
  (void) session;
  (void) edit;
  queue_effect (w);
}

static void
job_cb (TallySession *session, Window *w)
{
  (void) session;
  queue_effect (w);
}

/* ---- what the user does ---- */

static void
selected_cb (GtkListBox *list, GtkListBoxRow *row, Window *w)
{
  (void) list;
  if (row)
    {
      catalogue_sheet_show (w->sheet, order[gtk_list_box_row_get_index (row)]);
      catalogue_explain_show (w->explain, order[gtk_list_box_row_get_index (row)]);
      grid_set_cursor (w->grid, 0, 0);
      update_cursor (w);
    }
}

static void
search_cb (GtkSearchEntry *entry, Window *w)
{
  catalogue_sheet_search (w->sheet, gtk_editable_get_text (GTK_EDITABLE (entry)));
  update_rows (w);
  update_cursor (w);
}

static void
show_sheet (Window *w, CatalogueSheet sheet)
{
  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    if (order[i] == sheet)
      gtk_list_box_select_row (w->list, gtk_list_box_get_row_at_index (w->list, (int) i));
}

static void
next_fault_cb (GtkButton *button, Window *w)
{
  const CsvFault *fault = draft_faults (w->draft)->len ? g_ptr_array_index (draft_faults (w->draft), 0) : NULL;

  (void) button;
  for (int s = 0; fault && s < CATALOGUE_N_SHEETS; s++)
    {
      const CsvTable *table = draft_tables (w->draft)[s];
      int row;
      if (g_strcmp0 (table->name, fault->file) != 0)
        continue;
      show_sheet (w, (CatalogueSheet) s);
      row = fault->line >= 2 ? catalogue_sheet_find_row (w->sheet, (guint) fault->line - 2) : -1;
      if (row >= 0)
        grid_set_cursor (w->grid, (guint) row, fault->column > 0 ? (guint) fault->column - 1 : 0);
      gtk_widget_grab_focus (GTK_WIDGET (w->grid));
      return;
    }
}

static void
copy_cb (GtkButton *button, Window *w)
{
  g_autoptr (GArray) rows = selected_rows (w);

  (void) button;
  if (rows->len > 0)
    grid_model_duplicate_rows (TALLY_GRID_MODEL (w->sheet), (const guint *) (void *) rows->data, rows->len);
}

static void
retire_cb (GtkButton *button, Window *w)
{
  g_autoptr (GArray) rows = selected_rows (w);

  guint columns = grid_model_n_columns (TALLY_GRID_MODEL (w->sheet)), row, column;

  (void) button;
  grid_get_cursor (w->grid, &row, &column);
  catalogue_sheet_retire (w->sheet, (const guint *) (void *) rows->data, rows->len, !all_retired (w, rows));
  if (grid_model_n_columns (TALLY_GRID_MODEL (w->sheet)) == columns || grid_model_n_rows (TALLY_GRID_MODEL (w->sheet)) == 0)
    return;
  /* The column with the word came or went: the cursor stays on its cell, and in sight. */
  if (column > 0)
    column = grid_model_n_columns (TALLY_GRID_MODEL (w->sheet)) > columns ? column + 1 : MAX (column - 1, 1);
  grid_set_cursor (w->grid, row, column);
}

static void
new_cb (GtkButton *button, Window *w)
{
  guint n = grid_model_n_rows (TALLY_GRID_MODEL (w->sheet));

  (void) button;
  grid_model_insert_rows (TALLY_GRID_MODEL (w->sheet), n, 1);
  grid_set_cursor (w->grid, grid_model_n_rows (TALLY_GRID_MODEL (w->sheet)) - 1, 0);
  gtk_widget_grab_focus (GTK_WIDGET (w->grid));
}

static void
discard_cb (GtkButton *button, Window *w)
{
  (void) button;
  catalogue_draft_discard (w->draft, w->session);
}

static void
reason_cb (GtkEditable *entry, Window *w)
{
  (void) entry;
  update (w);
}

static void
accept_cb (GtkButton *button, Window *w)
{
  const char *reason = gtk_editable_get_text (GTK_EDITABLE (w->reason));
  g_autoptr (GError) error = NULL;
  gint64 revision;

  (void) button;
  revision = catalogue_draft_accept (w->draft, w->session, reason, &error);
  if (revision == 0)
    {
      session_say (w->session, SESSION_REFUSED, "%s", error->message);
      return;
    }
  if (session_job (w->session) && gtk_check_button_get_active (GTK_CHECK_BUTTON (w->move))
      && !store_set_job_revision (session_job (w->session), revision, &error))
    session_say (w->session, SESSION_REFUSED, _ ("Revision %d is accepted, but the open job stays on its own: %s"), (int) revision,
                 error->message);
  else
    session_say (w->session, SESSION_SAID, _ ("Revision %d is accepted"), (int) revision);
  gtk_editable_set_text (GTK_EDITABLE (w->reason), "");
  session_touch (w->session);
}

/* The button is the deed; Enter leads to it, or says what is missing. */
static void
reason_done_cb (GtkEntry *entry, Window *w)
{
  (void) entry;
  if (gtk_widget_get_sensitive (w->accept))
    gtk_widget_grab_focus (w->accept);
  else if (draft_changes (w->draft)->len == 0)
    session_say (w->session, SESSION_SAID, "%s", _ ("Nothing is changed, so there is nothing to accept"));
  else if (draft_faults (w->draft)->len > 0)
    session_say (w->session, SESSION_SAID, "%s", _ ("The draft has faults: it is accepted when they are settled"));
}

static gboolean
undo_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) widget;
  (void) args;
  draft_undo (((Window *) data)->draft);
  return TRUE;
}

static gboolean
redo_cb (GtkWidget *widget, GVariant *args, gpointer data)
{
  (void) widget;
  (void) args;
  draft_redo (((Window *) data)->draft);
  return TRUE;
}

/* ---- the window ---- */

/* Prices and work first, then what rules construction. */
static void
header_cb (GtkListBoxRow *row, GtkListBoxRow *before, gpointer data)
{
  CatalogueSheet sheet = order[gtk_list_box_row_get_index (row)];
  GtkWidget *label;

  (void) before;
  (void) data;
  if (sheet != CATALOGUE_ITEMS && sheet != CATALOGUE_RULE_SETS)
    return;
  label = gtk_label_new (sheet == CATALOGUE_ITEMS ? _ ("Prices and work") : _ ("Construction"));
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "heading");
  gtk_list_box_row_set_header (row, label);
}

static GtkWidget *
sheet_list (Window *w)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  w->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_widget_add_css_class (GTK_WIDGET (w->list), "navigation-sidebar");
  gtk_widget_add_css_class (GTK_WIDGET (w->list), "catalogue-list");
  gtk_list_box_set_header_func (w->list, header_cb, NULL, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (w->list), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Sheets of the catalogue"), -1);
  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    {
      GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *title = gtk_label_new (catalogue_sheet_title (order[i]));
      GtkWidget *mark = gtk_label_new (NULL);
      gtk_label_set_xalign (GTK_LABEL (title), 0);
      gtk_widget_set_hexpand (title, TRUE);
      gtk_widget_add_css_class (mark, "caption");
      gtk_box_append (GTK_BOX (line), title);
      gtk_box_append (GTK_BOX (line), mark);
      w->row_title[order[i]] = GTK_LABEL (title);
      w->row_mark[order[i]] = GTK_LABEL (mark);
      gtk_list_box_append (w->list, line);
      gtk_accessible_update_property (GTK_ACCESSIBLE (gtk_list_box_get_row_at_index (w->list, (int) i)), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                      catalogue_sheet_title (order[i]), -1);
    }
  g_signal_connect (w->list, "row-selected", G_CALLBACK (selected_cb), w);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_widget_set_size_request (scrolled, 214, -1);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), GTK_WIDGET (w->list));
  return scrolled;
}

static GtkWidget *
button (GtkWidget *box, const char *label, GCallback callback, Window *w)
{
  GtkWidget *made = gtk_button_new_with_label (label);

  g_signal_connect (made, "clicked", callback, w);
  gtk_box_append (GTK_BOX (box), made);
  return made;
}

static GtkWidget *
head_line (Window *w)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *search = gtk_search_entry_new ();

  w->conclusion = GTK_LABEL (tally_conclusion_new (NULL));
  gtk_widget_set_hexpand (GTK_WIDGET (w->conclusion), TRUE);
  gtk_widget_add_css_class (line, "view-head");
  gtk_accessible_update_property (GTK_ACCESSIBLE (search), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Search the catalogue"), -1);
  w->search = GTK_EDITABLE (search);
  g_object_set (search, "placeholder-text", _ ("Search the catalogue"), NULL);
  g_signal_connect (search, "search-changed", G_CALLBACK (search_cb), w);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (w->conclusion));
  w->next_fault = button (line, _ ("Go to the fault"), G_CALLBACK (next_fault_cb), w);
  gtk_widget_set_valign (w->next_fault, GTK_ALIGN_START);
  gtk_widget_set_valign (search, GTK_ALIGN_START);
  gtk_widget_set_size_request (search, 212, -1);
  gtk_box_append (GTK_BOX (line), search);
  return line;
}

static GtkWidget *
stale_line (Window *w)
{
  w->stale = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (w->stale, 0);
  gtk_label_set_wrap (w->stale, TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (w->stale), "refused");
  gtk_widget_set_visible (GTK_WIDGET (w->stale), FALSE);
  return GTK_WIDGET (w->stale);
}

static GtkWidget *
foot (Window *w)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8), *first = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  GtkWidget *second = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  w->effect = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (w->effect, 1);
  gtk_label_set_wrap (w->effect, TRUE);
  gtk_widget_set_hexpand (GTK_WIDGET (w->effect), TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (w->effect), "figure");
  button (first, _ ("New row"), G_CALLBACK (new_cb), w);
  button (first, _ ("Copy rows"), G_CALLBACK (copy_cb), w);
  w->retire = button (first, _ ("Retire rows"), G_CALLBACK (retire_cb), w);
  gtk_box_append (GTK_BOX (first), GTK_WIDGET (w->effect));
  w->ask = button (first, _ ("Effect on the open job"), G_CALLBACK (ask_cb), w);
  w->reason = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (w->reason), _ ("Reason of this revision, such as “prices of March”"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (w->reason), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Reason of this revision"), -1);
  gtk_widget_set_hexpand (w->reason, TRUE);
  g_signal_connect (w->reason, "changed", G_CALLBACK (reason_cb), w);
  g_signal_connect (w->reason, "activate", G_CALLBACK (reason_done_cb), w);
  gtk_box_append (GTK_BOX (second), w->reason);
  w->move = gtk_check_button_new_with_label (_ ("The open job moves to it"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (w->move), TRUE);
  gtk_box_append (GTK_BOX (second), w->move);
  w->discard = button (second, _ ("Discard the draft"), G_CALLBACK (discard_cb), w);
  w->accept = button (second, _ ("Accept as a revision"), G_CALLBACK (accept_cb), w);
  gtk_widget_add_css_class (w->accept, "suggested-action");
  gtk_widget_add_css_class (box, "sheet-foot");
  gtk_box_append (GTK_BOX (box), first);
  gtk_box_append (GTK_BOX (box), second);
  return box;
}

static void
add_keys (Window *w)
{
  GtkEventController *keys = gtk_shortcut_controller_new ();
  static const struct
  {
    const char *trigger;
    GtkShortcutFunc func;
  } list[] = { { "<Control>z", undo_cb }, { "<Control><Shift>z", redo_cb } };

  for (gsize i = 0; i < G_N_ELEMENTS (list); i++)
    gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (keys),
                                          gtk_shortcut_new (gtk_shortcut_trigger_parse_string (list[i].trigger),
                                                            gtk_callback_action_new (list[i].func, w, NULL)));
  gtk_widget_add_controller (GTK_WIDGET (w->window), keys);
}

static void
build (Window *w)
{
  GtkWidget *switcher = gtk_stack_switcher_new (), *pages = gtk_stack_new ();
  GtkWidget *page = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0), *main = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  GtkWidget *sheet = tally_sheet_page_new (TALLY_GRID_MODEL (w->sheet), _ ("Sheet of the catalogue"), &w->grid);

  gtk_box_append (GTK_BOX (page), sheet_list (w));
  gtk_box_append (GTK_BOX (page), gtk_separator_new (GTK_ORIENTATION_VERTICAL));
  gtk_box_append (GTK_BOX (main), head_line (w));
  gtk_box_append (GTK_BOX (main), stale_line (w));
  gtk_box_append (GTK_BOX (main), w->explain = catalogue_explain_new (w->session, w->draft));
  gtk_widget_set_vexpand (sheet, TRUE);
  gtk_box_append (GTK_BOX (main), sheet);
  w->rests = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_xalign (w->rests, 0);
  gtk_label_set_ellipsize (w->rests, PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (GTK_WIDGET (w->rests), "sheet-rests");
  gtk_box_append (GTK_BOX (main), GTK_WIDGET (w->rests));
  gtk_box_append (GTK_BOX (main), foot (w));
  gtk_widget_set_hexpand (main, TRUE);
  gtk_box_append (GTK_BOX (page), main);
  gtk_stack_add_titled (GTK_STACK (pages), page, "sheets", _ ("Sheets"));
  gtk_stack_add_titled (GTK_STACK (pages), catalogue_revisions_new (w->session, w->draft), "revisions", _ ("Compare revisions"));
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (pages));
  grid_set_frozen (w->grid, 1);
  tally_sheet_take_focus (w->grid);
  g_signal_connect (w->grid, "cursor", G_CALLBACK (cursor_cb), w);
  g_signal_connect (w->grid, "selected", G_CALLBACK (cursor_cb), w);
  tally_side_window_set (w->window, switcher, tally_notice_new (w->session, pages));
}

void
tally_catalogue_window_present (TallySession *session, GtkWindow *parent)
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
  w->sheet = catalogue_sheet_new (draft);
  w->window = tally_side_window_new (parent, NULL, _ ("Catalogue"), 1240, 740);
  build (w);
  add_keys (w);
  g_signal_connect (draft, "changed", G_CALLBACK (draft_cb), w);
  g_signal_connect (session, "changed", G_CALLBACK (session_cb), w);
  g_signal_connect (session, "job", G_CALLBACK (job_cb), w);
  g_object_weak_ref (G_OBJECT (w->window), gone, w);
  gtk_list_box_select_row (w->list, gtk_list_box_get_row_at_index (w->list, 0));
  update (w);
  queue_effect (w);
  gtk_window_present (w->window);
}

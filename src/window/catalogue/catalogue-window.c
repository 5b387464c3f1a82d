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
  GtkLabel *conclusion, *effect;
  GtkWidget *ask, *reason, *move, *accept, *discard, *next_fault;
  GtkLabel *row_title[CATALOGUE_N_SHEETS], *row_mark[CATALOGUE_N_SHEETS];
  guint timeout;
} Window;

/* Sheets in the order an office looks for them. */
static const CatalogueSheet order[] = {
  CATALOGUE_ITEMS,  CATALOGUE_STEPS,       CATALOGUE_RECIPES,   CATALOGUE_METHODS,  CATALOGUE_CONNECTIONS, CATALOGUE_CREWS,
  CATALOGUE_CONDITIONS, CATALOGUE_BUILDUP, CATALOGUE_RULE_SETS, CATALOGUE_GAUGES,   CATALOGUE_SHEETS,      CATALOGUE_SCREWS,
  CATALOGUE_CLEATS, CATALOGUE_VANES,       CATALOGUE_PROFILES,  CATALOGUE_ALLOWANCES,
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

static char *
effect_words (Window *w)
{
  g_autoptr (Catalogue) catalogue = NULL;
  CatalogueFigures now, then;
  char *words = NULL;

  if (!session_job (w->session))
    return g_strdup (_ ("No job is open to try the draft on."));
  if (draft_faults (w->draft)->len > 0)
    return g_strdup (_ ("The effect is shown when the draft has no fault left."));
  catalogue = draft_compile (w->draft);
  if (!catalogue || !catalogue_effect (w->session, catalogue, &then, &words))
    return words ? words : g_strdup ("");
  catalogue_effect (w->session, NULL, &now, &words);
  g_autofree char *before = session_money (w->session, now.price), *after = session_money (w->session, then.price);
  g_autofree char *moved = session_money (w->session, ABS (then.price - now.price));
  g_autofree char *hours = session_figure (then.field_hours + then.shop_hours - now.field_hours - now.shop_hours, 1, TRUE);
  if (then.price == now.price && then.not_priced == now.not_priced)
    return g_strdup_printf (_ ("Effect on the open job: none, its price stays %s."), before);
  words = g_strdup_printf (_ ("Effect on the open job: price %s, now %s (%s%s), worker-hours %s"), after, before,
                           then.price < now.price ? "−" : "+", moved, hours);
  if (then.not_priced != now.not_priced)
    {
      g_autofree char *first = words;
      words = g_strdup_printf (_ ("%s; runs not priced: %d, now %d"), first, (int) then.not_priced, (int) now.not_priced);
    }
  return words;
}

static void
show_effect (Window *w)
{
  g_autofree char *words = effect_words (w);

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

static void
update_rows (Window *w)
{
  for (int s = 0; s < CATALOGUE_N_SHEETS; s++)
    {
      guint faults = draft_n_faults (w->draft, (CatalogueSheet) s), changes = draft_n_changes (w->draft, (CatalogueSheet) s);
      g_autofree char *mark = faults ? g_strdup_printf (ngettext ("%u fault", "%u faults", faults), faults)
                              : changes ? g_strdup_printf (ngettext ("%u change", "%u changes", changes), changes)
                                        : g_strdup ("");
      gtk_label_set_label (w->row_mark[s], mark);
      if (faults)
        gtk_widget_add_css_class (GTK_WIDGET (w->row_mark[s]), "attention");
      else
        gtk_widget_remove_css_class (GTK_WIDGET (w->row_mark[s]), "attention");
    }
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
    words = g_strdup_printf (ngettext ("A draft with %u change. Jobs keep their revision until it is accepted.",
                                       "A draft with %u changes. Jobs keep their revision until it is accepted.", changes), changes);
  else
    words = g_strdup (_ ("The catalogue as accepted. Type to make a draft."));
  gtk_label_set_label (w->conclusion, words);
  gtk_widget_set_sensitive (w->accept, faults == 0 && changes > 0 && reason);
  gtk_widget_set_sensitive (w->discard, changes > 0);
  gtk_widget_set_visible (w->next_fault, faults > 0);
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
      grid_set_cursor (w->grid, 0, 0);
    }
}

static void
search_cb (GtkSearchEntry *entry, Window *w)
{
  catalogue_sheet_search (w->sheet, gtk_editable_get_text (GTK_EDITABLE (entry)));
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

  (void) button;
  if (rows->len > 0)
    grid_model_delete_rows (TALLY_GRID_MODEL (w->sheet), (const guint *) (void *) rows->data, rows->len);
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
  while (draft_undo (w->draft))
    ;
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
  Store *store = session_store (w->session);
  const char *reason = gtk_editable_get_text (GTK_EDITABLE (w->reason));
  g_autoptr (GError) error = NULL;
  g_autoptr (Catalogue) catalogue = NULL;
  gint64 revision;

  (void) button;
  revision = store ? store_add_revision (store, draft_tables (w->draft), reason, _ ("edited in the catalogue window"), &error) : 0;
  catalogue = revision ? store_catalogue (store, revision, &error) : NULL;
  if (!catalogue)
    {
      session_say (w->session, SESSION_REFUSED, "%s", error ? error->message : _ ("no office file is open"));
      return;
    }
  if (session_job (w->session) && gtk_check_button_get_active (GTK_CHECK_BUTTON (w->move))
      && !store_set_job_revision (session_job (w->session), revision, &error))
    session_say (w->session, SESSION_REFUSED, _ ("Revision %d is accepted, but the open job stays on its own: %s"), (int) revision,
                 error->message);
  else
    session_say (w->session, SESSION_SAID, _ ("Revision %d is accepted"), (int) revision);
  gtk_editable_set_text (GTK_EDITABLE (w->reason), "");
  draft_reset (w->draft, catalogue);
  session_touch (w->session);
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

static GtkWidget *
sheet_list (Window *w)
{
  GtkWidget *scrolled = gtk_scrolled_window_new ();

  w->list = GTK_LIST_BOX (gtk_list_box_new ());
  gtk_widget_add_css_class (GTK_WIDGET (w->list), "navigation-sidebar");
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
  gtk_widget_set_size_request (scrolled, 190, -1);
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
  gtk_accessible_update_property (GTK_ACCESSIBLE (search), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Search this sheet"), -1);
  g_object_set (search, "placeholder-text", _ ("Search this sheet"), NULL);
  g_signal_connect (search, "search-changed", G_CALLBACK (search_cb), w);
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (w->conclusion));
  w->next_fault = button (line, _ ("Go to the fault"), G_CALLBACK (next_fault_cb), w);
  gtk_widget_set_valign (w->next_fault, GTK_ALIGN_START);
  gtk_widget_set_valign (search, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (line), search);
  return line;
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
  button (first, _ ("Retire rows"), G_CALLBACK (retire_cb), w);
  gtk_box_append (GTK_BOX (first), GTK_WIDGET (w->effect));
  w->ask = button (first, _ ("Effect on the open job"), G_CALLBACK (ask_cb), w);
  w->reason = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (w->reason), _ ("Reason of this revision, such as “prices of March”"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (w->reason), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Reason of this revision"), -1);
  gtk_widget_set_hexpand (w->reason, TRUE);
  g_signal_connect (w->reason, "changed", G_CALLBACK (reason_cb), w);
  gtk_box_append (GTK_BOX (second), w->reason);
  w->move = gtk_check_button_new_with_label (_ ("The open job moves to it"));
  gtk_check_button_set_active (GTK_CHECK_BUTTON (w->move), TRUE);
  gtk_box_append (GTK_BOX (second), w->move);
  w->discard = button (second, _ ("Undo all"), G_CALLBACK (discard_cb), w);
  w->accept = button (second, _ ("Accept as a revision"), G_CALLBACK (accept_cb), w);
  gtk_widget_add_css_class (w->accept, "suggested-action");
  gtk_widget_add_css_class (box, "sheet-foot");
  gtk_box_append (GTK_BOX (box), first);
  gtk_box_append (GTK_BOX (box), second);
  return box;
}

/* The draft stays with the session, so that closing the window loses nothing. */
static TallyDraft *
draft_of (TallySession *session, GError **error)
{
  TallyDraft *kept = g_object_get_data (G_OBJECT (session), "catalogue-draft");
  g_autoptr (Catalogue) base = store_catalogue (session_store (session), 0, error);

  if (!base)
    return NULL;
  if (kept && draft_base (kept) == base)
    return g_object_ref (kept);
  kept = draft_new (base);
  g_object_set_data_full (G_OBJECT (session), "catalogue-draft", g_object_ref (kept), g_object_unref);
  return kept;
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
  gtk_widget_set_vexpand (sheet, TRUE);
  gtk_box_append (GTK_BOX (main), sheet);
  gtk_box_append (GTK_BOX (main), foot (w));
  gtk_widget_set_hexpand (main, TRUE);
  gtk_box_append (GTK_BOX (page), main);
  gtk_stack_add_titled (GTK_STACK (pages), page, "sheets", _ ("Sheets"));
  gtk_stack_add_titled (GTK_STACK (pages), catalogue_revisions_new (w->session, w->draft), "revisions", _ ("Compare revisions"));
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (pages));
  grid_set_frozen (w->grid, 1);
  tally_side_window_set (w->window, switcher, tally_notice_new (w->session, pages));
}

void
tally_catalogue_window_present (TallySession *session, GtkWindow *parent)
{
  g_autoptr (GError) error = NULL;
  TallyDraft *draft = session_store (session) ? draft_of (session, &error) : NULL;
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

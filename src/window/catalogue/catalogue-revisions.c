/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/catalogue/catalogue-private.h"

#include "cost/retire.h"
#include "window/habits/sheet-page.h"
#include "window/habits/text-sheet-model.h"

#include <glib/gi18n.h>

typedef struct
{
  TallySession *session;
  TallyDraft *draft;
  GtkLabel *conclusion;
  GtkDropDown *from, *to;
  TallyTextSheet *sheet;
  GArray *ids;      /* gint64 by place in the drop-downs, newest first; the draft stands before them in @to */
  gboolean filling;
} Revisions;

static void
gone (gpointer data, GObject *where)
{
  Revisions *r = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (r->session, r);
  g_signal_handlers_disconnect_by_data (r->draft, r);
  g_object_unref (r->session);
  g_object_unref (r->draft);
  g_object_unref (r->sheet);
  g_array_unref (r->ids);
  g_free (r);
}

static gboolean
is_retirement (const CatalogueChange *change)
{
  return change->kind == CATALOGUE_CELL_CHANGED && g_str_equal (change->heading, CATALOGUE_RETIRED);
}

static char *
what_words (const CatalogueChange *change)
{
  if (change->kind != CATALOGUE_CELL_CHANGED)
    return g_strdup (change->kind == CATALOGUE_ROW_ADDED ? _ ("new row") : _ ("row gone"));
  if (is_retirement (change))
    return g_strdup (*change->after ? _ ("retired") : _ ("restored"));
  return g_strdelimit (g_strdup (change->heading), "_", ' ');
}

/* The whole of it, for the line above the table: cells may be cut. */
static char *
line_words (const CatalogueChange *change, const char *what)
{
  const char *sheet = catalogue_sheet_title (change->sheet);

  if (change->kind == CATALOGUE_CELL_CHANGED && !is_retirement (change))
    return g_strdup_printf (_ ("%s · %s · %s: %s, before %s"), sheet, change->row, what, *change->after ? change->after : _ ("nothing"),
                            *change->before ? change->before : _ ("nothing"));
  return g_strdup_printf ("%s · %s · %s", sheet, change->row, what);
}

static char *
counts (guint cells, guint rows, guint retired)
{
  g_autoptr (GPtrArray) part = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *joined = NULL;

  if (cells)
    g_ptr_array_add (part, g_strdup_printf (ngettext ("%u cell differs", "%u cells differ", cells), cells));
  if (rows)
    g_ptr_array_add (part, g_strdup_printf (ngettext ("%u row is new or gone", "%u rows are new or gone", rows), rows));
  if (retired)
    g_ptr_array_add (part, g_strdup_printf (ngettext ("%u row is retired or restored", "%u rows are retired or restored", retired),
                                            retired));
  g_ptr_array_add (part, NULL);
  joined = g_strjoinv (", ", (char **) part->pdata);
  return *joined ? g_strconcat (joined, ".", NULL) : g_strdup (_ ("Nothing differs between the two."));
}

static void
fill_list (Revisions *r, const GPtrArray *changes)
{
  guint rows = 0, cells = 0, retired = 0;
  g_autofree char *words = NULL;

  text_sheet_clear (r->sheet);
  for (guint i = 0; i < changes->len; i++)
    {
      const CatalogueChange *change = g_ptr_array_index (changes, i);
      g_autofree char *what = what_words (change), *whole = line_words (change, what);
      gboolean word = is_retirement (change);
      const char *line[] = { catalogue_sheet_title (change->sheet), change->row, what, word ? "" : change->before,
                             word ? "" : change->after };
      *(word ? &retired : change->kind == CATALOGUE_CELL_CHANGED ? &cells : &rows) += 1;
      text_sheet_add (r->sheet, line, -1, whole);
    }
  text_sheet_done (r->sheet);
  words = counts (cells, rows, retired);
  gtk_label_set_label (r->conclusion, words);
}

static void
compare (Revisions *r)
{
  guint from = gtk_drop_down_get_selected (r->from), to = gtk_drop_down_get_selected (r->to);
  g_autoptr (Catalogue) a = NULL, b = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) changes = NULL;

  if (r->filling || from >= r->ids->len || to > r->ids->len || !session_store (r->session))
    return;
  a = store_catalogue (session_store (r->session), g_array_index (r->ids, gint64, from), &error);
  if (a && to > 0)
    b = store_catalogue (session_store (r->session), g_array_index (r->ids, gint64, to - 1), &error);
  if (error)
    {
      session_say (r->session, SESSION_REFUSED, "%s", error->message);
      return;
    }
  changes = catalogue_diff (a->table, to > 0 ? b->table : draft_tables (r->draft));
  fill_list (r, changes);
}

static void
fill (Revisions *r)
{
  Store *store = session_store (r->session);
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) list = store ? store_revisions (store, &error) : NULL;
  GtkStringList *from = gtk_string_list_new (NULL), *to = gtk_string_list_new (NULL);

  r->filling = TRUE;
  g_array_set_size (r->ids, 0);
  gtk_string_list_append (to, _ ("the draft"));
  for (guint i = list ? list->len : 0; i-- > 0;)
    {
      const StoreRevision *revision = g_ptr_array_index (list, i);
      g_autofree char *day = g_strndup (revision->at, 10);
      g_autofree char *words = g_strdup_printf (_ ("revision %d, %s: %s"), (int) revision->id, day, revision->reason);
      gtk_string_list_append (from, words);
      gtk_string_list_append (to, words);
      g_array_append_val (r->ids, revision->id);
    }
  gtk_drop_down_set_model (r->from, G_LIST_MODEL (from));
  gtk_drop_down_set_model (r->to, G_LIST_MODEL (to));
  g_object_unref (from);
  g_object_unref (to);
  /* The draft against the newest; without a draft, what the newest changed. */
  if (draft_changes (r->draft)->len == 0 && r->ids->len > 1)
    {
      gtk_drop_down_set_selected (r->from, 1);
      gtk_drop_down_set_selected (r->to, 1);
    }
  r->filling = FALSE;
  compare (r);
}

static void
chosen_cb (GtkDropDown *drop, GParamSpec *pspec, Revisions *r)
{
  (void) drop;
  (void) pspec;
  compare (r);
}

static void
draft_cb (TallyDraft *draft, Revisions *r)
{
  (void) draft;
  /* A revision that was just accepted is in the list at once. */
  fill (r);
}

GtkWidget *
catalogue_revisions_new (TallySession *session, TallyDraft *draft)
{
  const char *titles[] = { _ ("Sheet"), _ ("Row"), _ ("What"), _ ("Before"), _ ("After") };
  Revisions *r = g_new0 (Revisions, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);

  r->session = g_object_ref (session);
  r->draft = g_object_ref (draft);
  r->ids = g_array_new (FALSE, FALSE, sizeof (gint64));
  r->conclusion = GTK_LABEL (tally_conclusion_new (NULL));
  r->from = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  r->to = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (r->from), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Compare this revision"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (r->to), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("with this one"), -1);
  r->sheet = text_sheet_new (titles, G_N_ELEMENTS (titles));
  text_sheet_set_width (r->sheet, 0, 14);
  text_sheet_set_width (r->sheet, 1, 42);
  text_sheet_set_width (r->sheet, 2, 16);
  text_sheet_set_width (r->sheet, 3, 33);
  text_sheet_set_width (r->sheet, 4, 33);
  gtk_widget_add_css_class (GTK_WIDGET (r->conclusion), "view-head");
  gtk_widget_add_css_class (line, "view-head");
  gtk_box_append (GTK_BOX (line), gtk_label_new (_ ("From")));
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (r->from));
  gtk_box_append (GTK_BOX (line), gtk_label_new (_ ("to")));
  gtk_box_append (GTK_BOX (line), GTK_WIDGET (r->to));
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (r->conclusion));
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), tally_sheet_page_new (TALLY_GRID_MODEL (r->sheet), _ ("Differences"), NULL));
  g_signal_connect (r->from, "notify::selected", G_CALLBACK (chosen_cb), r);
  g_signal_connect (r->to, "notify::selected", G_CALLBACK (chosen_cb), r);
  g_signal_connect (draft, "changed", G_CALLBACK (draft_cb), r);
  g_object_weak_ref (G_OBJECT (box), gone, r);
  fill (r);
  return box;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/habits.h"

#include "window/habits/record-sheet-model.h"
#include "window/habits/sheet-page.h"

#include <glib/gi18n.h>

/* One sheet: what it says, the grid, and the line that adds and deletes. */
typedef struct
{
  TallySession *session;
  TallyRecordSheet *sheet;
  TallyGrid *grid;
  JobType type;
  GtkLabel *conclusion;
  GtkWidget *name;              /* systems, areas */
  GtkDropDown *system, *area;   /* cells */
} Page;

static void
page_gone (gpointer data, GObject *where)
{
  Page *page = data;

  (void) where;
  g_signal_handlers_disconnect_by_data (page->session, page);
  g_object_unref (page->session);
  g_object_unref (page->sheet);
  g_free (page);
}

static char *
conclusion (const Page *page)
{
  TallyJob *job = session_job (page->session);
  guint n = job ? job_n (job, page->type) : 0;

  if (!job)
    return g_strdup (_ ("No job is open."));
  if (page->type == JOB_SYSTEM)
    return g_strdup_printf (ngettext ("%u system. What stands here holds for all its runs.", "%u systems. What stands here holds for all their runs.", n), n);
  if (page->type == JOB_AREA)
    return g_strdup_printf (ngettext ("%u area. Height, conditions and how often it is built.", "%u areas. Height, conditions and how often each is built.", n), n);
  return g_strdup_printf (ngettext ("%u cell: a system in one area with values of its own. An addendum that raises a class is one cell.",
                                    "%u cells: a system in one area with values of its own. An addendum that raises a class is one cell.", n), n);
}

static GtkStringList *
names_of (TallyJob *job, JobType type)
{
  GtkStringList *list = gtk_string_list_new (NULL);

  for (guint i = 0; job && i < job_n (job, type); i++)
    gtk_string_list_append (list, job_at (job, type, i)->text[type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY]);
  return list;
}

static void
refresh_names (GtkDropDown *drop, TallyJob *job, JobType type)
{
  guint at = gtk_drop_down_get_selected (drop);
  g_autoptr (GtkStringList) list = names_of (job, type);

  gtk_drop_down_set_model (drop, G_LIST_MODEL (list));
  if (at < g_list_model_get_n_items (G_LIST_MODEL (list)))
    gtk_drop_down_set_selected (drop, at);
}

static void
update (Page *page)
{
  g_autofree char *words = conclusion (page);

  gtk_label_set_label (page->conclusion, words);
  if (page->system)
    {
      refresh_names (page->system, session_job (page->session), JOB_SYSTEM);
      refresh_names (page->area, session_job (page->session), JOB_AREA);
    }
}

static void
changed_cb (TallySession *session, gpointer edit, Page *page)
{
  (void) session;
  (void) edit;
  update (page);
}

static void
job_cb (TallySession *session, Page *page)
{
  (void) session;
  update (page);
}

static const char *
chosen (GtkDropDown *drop)
{
  GtkStringObject *item = gtk_drop_down_get_selected_item (drop);

  return item ? gtk_string_object_get_string (item) : NULL;
}

static void
add_cb (GtkWidget *widget, Page *page)
{
  const JobTypeInfo *info = job_type_info (page->type);
  const char **texts = g_new0 (const char *, (gsize) info->n_fields);
  guint n = session_job (page->session) ? job_n (session_job (page->session), page->type) : 0;

  (void) widget;
  if (page->name)
    texts[0] = gtk_editable_get_text (GTK_EDITABLE (page->name));
  else
    {
      texts[job_field_find (JOB_CELL, "system")] = chosen (page->system);
      texts[job_field_find (JOB_CELL, "area")] = chosen (page->area);
    }
  if (record_sheet_add (page->sheet, texts))
    {
      if (page->name)
        gtk_editable_set_text (GTK_EDITABLE (page->name), "");
      grid_set_cursor (page->grid, n, page->name ? 1 : 2);
      gtk_widget_grab_focus (GTK_WIDGET (page->grid));
    }
  g_free (texts);
}

static void
delete_cb (GtkButton *button, Page *page)
{
  guint row0, column0, row1, column1;
  g_autoptr (GArray) rows = g_array_new (FALSE, FALSE, sizeof (guint));

  (void) button;
  if (grid_model_n_rows (TALLY_GRID_MODEL (page->sheet)) == 0)
    return;
  grid_get_selection (page->grid, &row0, &column0, &row1, &column1);
  for (guint i = MIN (row0, row1); i <= MAX (row0, row1); i++)
    g_array_append_val (rows, i);
  grid_model_delete_rows (TALLY_GRID_MODEL (page->sheet), (const guint *) (void *) rows->data, rows->len);
}

static GtkWidget *
named_drop (const char *name)
{
  GtkWidget *drop = gtk_drop_down_new (NULL, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (drop), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return drop;
}

static GtkWidget *
add_line (Page *page)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *add, *delete = gtk_button_new_with_label (_ ("Delete rows"));

  gtk_widget_add_css_class (line, "sheet-foot");
  if (page->type == JOB_CELL)
    {
      page->system = GTK_DROP_DOWN (named_drop (_ ("System of the new cell")));
      page->area = GTK_DROP_DOWN (named_drop (_ ("Area of the new cell")));
      gtk_box_append (GTK_BOX (line), GTK_WIDGET (page->system));
      gtk_box_append (GTK_BOX (line), gtk_label_new (_ ("in")));
      gtk_box_append (GTK_BOX (line), GTK_WIDGET (page->area));
      add = gtk_button_new_with_label (_ ("Add this cell"));
    }
  else
    {
      const char *hint = page->type == JOB_SYSTEM ? _ ("Name of a new system") : _ ("Name of a new area");
      page->name = gtk_entry_new ();
      gtk_entry_set_placeholder_text (GTK_ENTRY (page->name), hint);
      gtk_editable_set_width_chars (GTK_EDITABLE (page->name), 26);
      gtk_accessible_update_property (GTK_ACCESSIBLE (page->name), GTK_ACCESSIBLE_PROPERTY_LABEL, hint, -1);
      g_signal_connect (page->name, "activate", G_CALLBACK (add_cb), page);
      gtk_box_append (GTK_BOX (line), page->name);
      add = gtk_button_new_with_label (page->type == JOB_SYSTEM ? _ ("Add system") : _ ("Add area"));
    }
  g_signal_connect (add, "clicked", G_CALLBACK (add_cb), page);
  g_signal_connect (delete, "clicked", G_CALLBACK (delete_cb), page);
  gtk_box_append (GTK_BOX (line), add);
  gtk_widget_set_hexpand (delete, TRUE);
  gtk_widget_set_halign (delete, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (line), delete);
  return line;
}

static GtkWidget *
page_new (TallySession *session, JobType type, const char *label)
{
  Page *page = g_new0 (Page, 1);
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *words = tally_conclusion_new (NULL);

  page->session = g_object_ref (session);
  page->sheet = record_sheet_new (session, type);
  page->type = type;
  page->conclusion = GTK_LABEL (words);
  gtk_widget_add_css_class (words, "view-head");
  gtk_box_append (GTK_BOX (box), words);
  gtk_box_append (GTK_BOX (box), tally_sheet_page_new (TALLY_GRID_MODEL (page->sheet), label, &page->grid));
  gtk_box_append (GTK_BOX (box), add_line (page));
  grid_set_frozen (page->grid, type == JOB_CELL ? 2 : 1);
  tally_sheet_take_focus (page->grid);
  g_signal_connect (session, "changed", G_CALLBACK (changed_cb), page);
  g_signal_connect (session, "job", G_CALLBACK (job_cb), page);
  g_object_weak_ref (G_OBJECT (box), page_gone, page);
  update (page);
  return box;
}

void
tally_places_present (TallySession *session, GtkWindow *parent)
{
  GtkWindow *window = tally_side_window_new (parent, session, _ ("Systems and areas"), 1060, 560);
  GtkWidget *switcher = gtk_stack_switcher_new (), *pages = gtk_stack_new ();

  gtk_stack_add_titled (GTK_STACK (pages), page_new (session, JOB_SYSTEM, _ ("Systems")), "systems", _ ("Systems"));
  gtk_stack_add_titled (GTK_STACK (pages), page_new (session, JOB_AREA, _ ("Areas")), "areas", _ ("Areas"));
  gtk_stack_add_titled (GTK_STACK (pages), page_new (session, JOB_CELL, _ ("System by area")), "cells", _ ("System by area"));
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (pages));
  tally_side_window_set (window, switcher, tally_notice_new (session, pages));
  gtk_window_present (window);
}

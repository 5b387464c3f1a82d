/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/labour/labour-private.h"

#include "window/methods/field.h"
#include "window/words.h"

#include <glib/gi18n.h>

/* What an area says of its field work, as it is typed in "Systems and areas": the same fields, beside each other. */
static const struct
{
  const char *field, *title, *unit, *empty;
} columns[] = {
  { "field_condition", N_ ("Field factor"), N_ ("× all field minutes"), "1.00" },
  { "share_joints_on_floor", N_ ("Joints on the floor"), N_ ("share, 0 to 1"), "0" },
  { "pieces_raised_together", N_ ("Raised together"), N_ ("pieces"), "1" },
  { "share_joints_remade", N_ ("Joints remade"), N_ ("share, 0 to 1"), "0" },
};

typedef struct
{
  TallySession *session; /* borrowed: the signals go with the widget */
  GtkWidget *box, *grid, *fault;
  guint n;
  gboolean filling;
} Areas;

static gboolean
any_faulty (Areas *a)
{
  for (GtkWidget *w = gtk_widget_get_first_child (a->grid); w; w = gtk_widget_get_next_sibling (w))
    if (gtk_widget_has_css_class (w, "error"))
      return TRUE;
  return FALSE;
}

static void
take (GtkWidget *entry, Areas *a)
{
  TallyJob *job = session_job (a->session);
  const gint64 *id = g_object_get_data (G_OBJECT (entry), "area");
  int field = job_field_find (JOB_AREA, g_object_get_data (G_OBJECT (entry), "field"));
  const char *text = gtk_editable_get_text (GTK_EDITABLE (entry));
  const JobRecord *area = job && id ? job_find (job, JOB_AREA, *id) : NULL;
  Fault *fault = NULL;

  if (!area || a->filling)
    return;
  g_autofree char *was = job_record_print (area, field, job_names (job));
  if (g_str_equal (was, text))
    {
      gtk_widget_remove_css_class (entry, "error");
      gtk_widget_set_visible (a->fault, any_faulty (a));
      return;
    }
  g_autoptr (JobRecord) tried = job_record_copy (area);
  if (!job_record_read (tried, field, text, job_names (job), &fault))
    {
      g_autofree char *words = fault_words (fault, NULL), *whole = g_strdup_printf ("%s: %s", area->text[AREA_KEY], words);
      fault_free (fault);
      gtk_label_set_label (GTK_LABEL (a->fault), whole);
      gtk_widget_set_visible (a->fault, TRUE);
      gtk_widget_add_css_class (entry, "error");
      /* Below a long table the words are out of sight. */
      session_say (a->session, SESSION_REFUSED, "%s", whole);
      return;
    }
  gtk_widget_remove_css_class (entry, "error");
  gtk_widget_set_visible (a->fault, any_faulty (a));
  session_edit_field (a->session, JOB_AREA, *id, field, text, NULL);
}

static void
activate_cb (GtkEntry *entry, Areas *a)
{
  take (GTK_WIDGET (entry), a);
}

static void
leave_cb (GtkEventControllerFocus *focus, Areas *a)
{
  take (gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (focus)), a);
}

static GtkWidget *
cell_new (Areas *a, const JobRecord *area, gsize column)
{
  GtkWidget *entry = gtk_entry_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_autofree char *spoken = g_strdup_printf ("%s, %s, %s", area->text[AREA_KEY], _ (columns[column].title), _ (columns[column].unit));

  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 8);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 8);
  gtk_editable_set_alignment (GTK_EDITABLE (entry), 1);
  gtk_widget_add_css_class (entry, "figure");
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), columns[column].empty);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  g_object_set_data_full (G_OBJECT (entry), "area", g_memdup2 (&area->id, sizeof area->id), g_free);
  g_object_set_data (G_OBJECT (entry), "field", (gpointer) columns[column].field);
  g_signal_connect (entry, "activate", G_CALLBACK (activate_cb), a);
  g_signal_connect (focus, "leave", G_CALLBACK (leave_cb), a);
  gtk_widget_add_controller (entry, focus);
  tally_field_no_undo (entry);
  return entry;
}

static void
make (Areas *a, TallyJob *job)
{
  GtkWidget *child;

  a->filling = TRUE;
  while ((child = gtk_widget_get_first_child (a->grid)))
    gtk_grid_remove (GTK_GRID (a->grid), child);
  a->filling = FALSE;
  gtk_grid_attach (GTK_GRID (a->grid), tally_words_in_cell_new (_ ("Area"), "report-head"), 0, 0, 1, 1);
  for (gsize c = 0; c < G_N_ELEMENTS (columns); c++)
    {
      GtkWidget *head = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0), *title = tally_words_in_cell_new (_ (columns[c].title), "report-head");
      GtkWidget *unit = tally_words_in_cell_new (_ (columns[c].unit), "unit");
      gtk_label_set_xalign (GTK_LABEL (title), 1);
      gtk_label_set_xalign (GTK_LABEL (unit), 1);
      gtk_box_append (GTK_BOX (head), title);
      gtk_box_append (GTK_BOX (head), unit);
      gtk_grid_attach (GTK_GRID (a->grid), head, (int) c + 1, 0, 1, 1);
    }
  for (guint i = 0; i < job_n (job, JOB_AREA); i++)
    {
      const JobRecord *area = job_at (job, JOB_AREA, i);
      GtkWidget *name = tally_words_in_cell_new (area->text[AREA_KEY], NULL);
      gtk_label_set_max_width_chars (GTK_LABEL (name), 28);
      gtk_widget_set_valign (name, GTK_ALIGN_CENTER);
      gtk_grid_attach (GTK_GRID (a->grid), name, 0, (int) i + 1, 1, 1);
      for (gsize c = 0; c < G_N_ELEMENTS (columns); c++)
        gtk_grid_attach (GTK_GRID (a->grid), cell_new (a, area, c), (int) c + 1, (int) i + 1, 1, 1);
    }
  a->n = job_n (job, JOB_AREA);
}

static void
refresh (Areas *a)
{
  TallyJob *job = session_job (a->session);

  gtk_widget_set_sensitive (a->box, job != NULL);
  if (!job)
    return;
  if (a->n != job_n (job, JOB_AREA) || a->n == 0)
    make (a, job);
  a->filling = TRUE;
  for (GtkWidget *w = gtk_widget_get_first_child (a->grid); w; w = gtk_widget_get_next_sibling (w))
    {
      const gint64 *id = g_object_get_data (G_OBJECT (w), "area");
      const JobRecord *area = id ? job_find (job, JOB_AREA, *id) : NULL;
      if (!area)
        continue;
      g_autofree char *text = job_record_print (area, job_field_find (JOB_AREA, g_object_get_data (G_OBJECT (w), "field")), job_names (job));
      if (!g_str_equal (text, gtk_editable_get_text (GTK_EDITABLE (w))) && !gtk_widget_has_css_class (w, "error"))
        gtk_editable_set_text (GTK_EDITABLE (w), text);
    }
  a->filling = FALSE;
}

static void
follow_cb (GtkWidget *box)
{
  refresh (g_object_get_data (G_OBJECT (box), "areas"));
}

static void
job_cb (GtkWidget *box)
{
  Areas *a = g_object_get_data (G_OBJECT (box), "areas");

  a->n = 0;
  refresh (a);
}

GtkWidget *
labour_areas_new (TallySession *session)
{
  Areas *a = g_new0 (Areas, 1);

  a->session = session;
  a->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  a->grid = gtk_grid_new ();
  a->fault = tally_words_in_cell_new ("", "fault-words");
  gtk_widget_set_visible (a->fault, FALSE);
  gtk_grid_set_column_spacing (GTK_GRID (a->grid), 18);
  gtk_grid_set_row_spacing (GTK_GRID (a->grid), 4);
  gtk_widget_set_halign (a->grid, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (a->box), a->grid);
  gtk_box_append (GTK_BOX (a->box), a->fault);
  g_object_set_data_full (G_OBJECT (a->box), "areas", a, g_free);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), a->box, G_CONNECT_SWAPPED);
  g_signal_connect_object (session, "changed", G_CALLBACK (follow_cb), a->box, G_CONNECT_SWAPPED);
  refresh (a);
  return a->box;
}

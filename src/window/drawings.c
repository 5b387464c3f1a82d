/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/drawings.h"

#include "job/drawing.h"

#include <glib/gi18n.h>

#define TALLY_TYPE_DRAWINGS (tally_drawings_get_type ())
G_DECLARE_FINAL_TYPE (TallyDrawings, tally_drawings, TALLY, DRAWINGS, GtkBox)

struct _TallyDrawings
{
  GtkBox parent_instance;

  TallySession *session;
  GtkGrid *grid;
  guint idle;
};

G_DEFINE_FINAL_TYPE (TallyDrawings, tally_drawings, GTK_TYPE_BOX)

static const char *
key_of (gpointer widget)
{
  return g_object_get_data (G_OBJECT (widget), "drawing");
}

static void
ticked_cb (GtkCheckButton *check, TallyDrawings *self)
{
  session_apply (self->session, job_drawing_set_done (session_job (self->session), key_of (check), gtk_check_button_get_active (check)));
}

static void
reissued_cb (GtkButton *button, TallyDrawings *self)
{
  g_autofree char *key = g_strdup (key_of (button));

  if (session_apply (self->session, job_drawing_reissue (session_job (self->session), key)))
    session_say (self->session, SESSION_SAID_UNDO, _ ("%s has a new issue: its runs are to be checked"), key);
}

static void
checked_cb (GtkButton *button, TallyDrawings *self)
{
  session_apply (self->session, job_drawing_checked (session_job (self->session), key_of (button)));
}

static GtkWidget *
add_button (TallyDrawings *self, const JobDrawing *drawing, const char *label, const char *tip, GCallback callback)
{
  GtkWidget *button = gtk_button_new_with_label (label);

  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "cell");
  gtk_widget_set_tooltip_text (button, tip);
  g_object_set_data_full (G_OBJECT (button), "drawing", g_strdup (drawing->key), g_free);
  g_signal_connect (button, "clicked", callback, self);
  return button;
}

static void
add_drawing (TallyDrawings *self, const JobDrawing *drawing, int row)
{
  g_autofree char *name = drawing->issue > 1 ? g_strdup_printf (_ ("%s, issue %d"), drawing->key, (int) drawing->issue)
                                             : g_strdup (drawing->key);
  g_autofree char *count = drawing->recheck > 0 ? g_strdup_printf (_ ("%u to recheck"), drawing->recheck)
                                                : g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u run", "%u runs", drawing->runs),
                                                                   drawing->runs);
  GtkWidget *check = gtk_check_button_new_with_label (name);

  gtk_check_button_set_active (GTK_CHECK_BUTTON (check), drawing->done);
  gtk_widget_set_tooltip_text (check, _ ("Counted"));
  g_object_set_data_full (G_OBJECT (check), "drawing", g_strdup (drawing->key), g_free);
  g_signal_connect (check, "toggled", G_CALLBACK (ticked_cb), self);
  gtk_widget_set_hexpand (check, TRUE);
  gtk_grid_attach (self->grid, check, 0, row, 1, 1);
  if (drawing->recheck > 0)
    {
      GtkWidget *button = add_button (self, drawing, count, _ ("Runs counted from an older issue; press when they are checked"),
                                      G_CALLBACK (checked_cb));
      gtk_widget_add_css_class (button, "attention");
      gtk_grid_attach (self->grid, button, 1, row, 1, 1);
    }
  else
    gtk_grid_attach (self->grid, gtk_label_new (count), 1, row, 1, 1);
  gtk_grid_attach (self->grid, add_button (self, drawing, _ ("New issue"), _ ("The drawing came again: its runs are to be checked"),
                                           G_CALLBACK (reissued_cb)),
                   2, row, 1, 1);
}

static gboolean
rebuild_cb (gpointer data)
{
  TallyDrawings *self = data;
  TallyJob *job = session_job (self->session);
  g_autoptr (GPtrArray) all = job ? job_drawings (job) : NULL;
  GtkWidget *child;

  self->idle = 0;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (self->grid))))
    gtk_grid_remove (self->grid, child);
  for (guint i = 0; all && i < all->len; i++)
    add_drawing (self, g_ptr_array_index (all, i), (int) i);
  gtk_widget_set_visible (GTK_WIDGET (self), all && all->len > 0);
  return G_SOURCE_REMOVE;
}

static void
queue (TallyDrawings *self)
{
  if (self->idle == 0)
    self->idle = g_idle_add (rebuild_cb, self);
}

static void
changed_cb (TallySession *session, JobEdit *edit, TallyDrawings *self)
{
  (void) session;
  (void) edit;
  queue (self);
}

static void
job_cb (TallySession *session, TallyDrawings *self)
{
  (void) session;
  queue (self);
}

static void
tally_drawings_dispose (GObject *object)
{
  TallyDrawings *self = TALLY_DRAWINGS (object);

  g_clear_handle_id (&self->idle, g_source_remove);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (tally_drawings_parent_class)->dispose (object);
}

static void
tally_drawings_class_init (TallyDrawingsClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_drawings_dispose;
}

static void
tally_drawings_init (TallyDrawings *self)
{
  GtkWidget *head = gtk_label_new (_ ("Drawings"));

  gtk_orientable_set_orientation (GTK_ORIENTABLE (self), GTK_ORIENTATION_VERTICAL);
  gtk_widget_add_css_class (GTK_WIDGET (self), "job-map");
  gtk_widget_add_css_class (head, "heading");
  gtk_label_set_xalign (GTK_LABEL (head), 0);
  gtk_box_append (GTK_BOX (self), head);
  self->grid = GTK_GRID (gtk_grid_new ());
  gtk_grid_set_column_spacing (self->grid, 4);
  gtk_box_append (GTK_BOX (self), GTK_WIDGET (self->grid));
}

GtkWidget *
tally_drawings_new (TallySession *session)
{
  TallyDrawings *self = g_object_new (TALLY_TYPE_DRAWINGS, NULL);

  self->session = g_object_ref (session);
  g_signal_connect_object (session, "changed", G_CALLBACK (changed_cb), self, 0);
  g_signal_connect_object (session, "job", G_CALLBACK (job_cb), self, 0);
  queue (self);
  return GTK_WIDGET (self);
}

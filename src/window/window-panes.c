/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The job map and the detail pane beside the view: shown as they are wanted, and as there is room. */
#include "config.h"

#include "window/window-private.h"

#include <glib/gi18n.h>

/* px that the table, and any other view, is left with before a pane folds; the others have wide tables without columns to hide. */
#define TABLE_ROOM 620
#define VIEW_ROOM 900

static int
least_width (GtkWidget *widget)
{
  int least = 0;

  if (widget)
    gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &least, NULL, NULL, NULL);
  return least;
}

void
window_fit_panes (TallyWindow *self)
{
  GtkWidget *pane[] = { GTK_WIDGET (self->map_scroll), self->detail };
  int width = gtk_widget_get_width (GTK_WIDGET (self)), height, room, taken[2];
  gboolean show[] = { self->wish[MAP], self->wish[DETAIL] };
  guint first = 1 - self->last_wish;

  if (width <= 0)
    gtk_window_get_default_size (GTK_WINDOW (self), &width, &height);
  gboolean table = g_strcmp0 (gtk_stack_get_visible_child_name (self->views), "runs") == 0;
  room = width - MAX (least_width (gtk_stack_get_visible_child (self->views)), table ? TABLE_ROOM : VIEW_ROOM) - 4;
  for (int i = 0; i < 2; i++)
    {
      /* What is hidden measures nothing: as wide as it was. */
      if (gtk_widget_get_visible (pane[i]))
        self->pane_width[i] = least_width (pane[i]);
      taken[i] = show[i] ? self->pane_width[i] : 0;
    }
  if (taken[MAP] + taken[DETAIL] > room && show[first])
    {
      show[first] = FALSE;
      taken[first] = 0;
    }
  if (taken[MAP] + taken[DETAIL] > room)
    show[self->last_wish] = FALSE;
  for (int i = 0; i < 2; i++)
    if (gtk_widget_get_visible (pane[i]) != show[i])
      gtk_widget_set_visible (pane[i], show[i]);
  self->width = width;
}

static gboolean
fit_cb (gpointer data)
{
  TallyWindow *self = data;

  self->fit = 0;
  window_fit_panes (self);
  return G_SOURCE_REMOVE;
}

void
window_queue_fit (TallyWindow *self)
{
  if (self->fit == 0)
    self->fit = g_idle_add (fit_cb, self);
}

void
window_wish (TallyWindow *self, guint which, gboolean wanted)
{
  GtkWidget *pane[] = { GTK_WIDGET (self->map_scroll), self->detail };

  self->wish[which] = wanted;
  if (wanted)
    self->last_wish = which;
  window_fit_panes (self);
  if (wanted && !gtk_widget_get_visible (pane[which]))
    session_say (self->session, SESSION_SAID, "%s", which == MAP ? _ ("There is no room for the job map: make the window wider")
                                                                 : _ ("There is no room for the detail pane: make the window wider"));
}

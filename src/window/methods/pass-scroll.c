/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/pass-scroll.h"

#include <math.h>

static gboolean
scroll_cb (GtkEventControllerScroll *scroll, double dx, double dy, gpointer data)
{
  GtkWidget *inner = gtk_event_controller_get_widget (GTK_EVENT_CONTROLLER (scroll));
  GtkWidget *page = gtk_widget_get_ancestor (gtk_widget_get_parent (inner), GTK_TYPE_SCROLLED_WINDOW);
  GtkAdjustment *adjustment;
  double step = 1;

  (void) data;
  if (!page || dy == 0 || fabs (dx) > fabs (dy))
    return FALSE;
  adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (page));
  /* A notch of the wheel moves as far as the toolkit moves it. */
  if (gtk_event_controller_scroll_get_unit (scroll) == GDK_SCROLL_UNIT_WHEEL)
    step = pow (gtk_adjustment_get_page_size (adjustment), 2.0 / 3);
  gtk_adjustment_set_value (adjustment, gtk_adjustment_get_value (adjustment) + dy * step);
  return TRUE;
}

void
tally_pass_scroll (GtkWidget *scrolled)
{
  GtkEventController *scroll = gtk_event_controller_scroll_new (GTK_EVENT_CONTROLLER_SCROLL_BOTH_AXES);

  gtk_event_controller_set_propagation_phase (scroll, GTK_PHASE_CAPTURE);
  g_signal_connect (scroll, "scroll", G_CALLBACK (scroll_cb), NULL);
  gtk_widget_add_controller (scrolled, scroll);
}

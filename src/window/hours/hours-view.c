/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/hours/hours-view.h"

GtkWidget *
tally_hours_view_new (TallySession *session)
{
  (void) session;
  return gtk_label_new ("hours");
}

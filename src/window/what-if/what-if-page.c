/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/what-if/what-if-page.h"

GtkWidget *
tally_what_if_page_new (TallySession *session)
{
  (void) session;
  return gtk_label_new ("What if");
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/mix/mix-page.h"

GtkWidget *
tally_mix_page_new (TallySession *session)
{
  (void) session;
  return gtk_label_new ("Mix");
}

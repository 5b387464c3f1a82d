/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/risk/risk-page.h"

GtkWidget *
tally_risk_page_new (TallySession *session)
{
  (void) session;
  return gtk_label_new ("Risk");
}

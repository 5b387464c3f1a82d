/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/memo/memo-page.h"

GtkWidget *
tally_memo_page_new (TallySession *session)
{
  (void) session;
  return gtk_label_new ("Memo");
}

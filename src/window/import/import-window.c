/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/import/import-window.h"

void
tally_import_window_present (TallySession *session, GtkWindow *parent)
{
  (void) session;
  (void) parent;
}

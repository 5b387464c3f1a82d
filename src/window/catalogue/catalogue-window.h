/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* "Items", translated. */
const char *catalogue_sheet_title (CatalogueSheet sheet);

void tally_catalogue_window_present (TallySession *session, GtkWindow *parent);

G_END_DECLS

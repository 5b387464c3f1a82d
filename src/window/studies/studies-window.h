/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Time studies of the office: readings, what they say, the fit over size, the way into a step, a stop-watch and a sheet to print.
 * Everything is written into the catalogue's draft at once. */
void tally_studies_present (TallySession *session, GtkWindow *parent);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Labour of this job: what its conditions, learning and overtime come to, the choices behind them with their names, conditions of the
 * job, its systems, areas and selected runs with reason and source, what each area says of its joints, and the crews' rates as worked
 * calculations. All of it by edits of the session. */
void tally_labour_present (TallySession *session, GtkWindow *parent);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Systems by areas as a small matrix: a cell, row or column narrows the middle. (transfer floating) */
GtkWidget *tally_job_map_new (TallySession *session);

G_END_DECLS

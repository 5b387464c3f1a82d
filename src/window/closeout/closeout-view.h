/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* (transfer floating) */
GtkWidget *tally_closeout_view_new (TallySession *session);

G_END_DECLS

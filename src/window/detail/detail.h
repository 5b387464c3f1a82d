/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* (transfer floating) */
GtkWidget *tally_detail_new (TallySession *session);

/* Looks for the cheapest construction of the selected runs and pins it, or takes their pins back; one edit that can be undone, said
 * to the user. @parent is not used: the signature is that of the main window's actions. */
void tally_detail_cheapest (TallySession *session, GtkWindow *parent);
void tally_detail_unpin (TallySession *session, GtkWindow *parent);

G_END_DECLS

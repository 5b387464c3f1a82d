/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A page of the Methods view. (transfer floating) */
GtkWidget *tally_mix_page_new (TallySession *session);

G_END_DECLS

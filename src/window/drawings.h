/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The drawings of the job: counted or not, and the rows to look at again after a new issue. (transfer floating) */
GtkWidget *tally_drawings_new (TallySession *session);

G_END_DECLS

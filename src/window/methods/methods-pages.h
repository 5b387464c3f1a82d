/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The Methods view: its pages (compare, what if, mix, risk, memo) behind one row of words. (transfer floating) */
GtkWidget *tally_methods_pages_new (TallySession *session);
/* Shows a page: "compare", "what-if", "mix", "risk", "memo". */
void tally_methods_pages_show (GtkWidget *pages, const char *name);

/* The page that is shown. (transfer none) */
GtkWidget *tally_methods_pages_shown (GtkWidget *pages);

G_END_DECLS

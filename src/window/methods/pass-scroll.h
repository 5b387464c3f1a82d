/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A part of a page that scrolls sideways alone lets the wheel scroll the page. @scrolled: a GtkScrolledWindow inside another. */
void tally_pass_scroll (GtkWidget *scrolled);

G_END_DECLS

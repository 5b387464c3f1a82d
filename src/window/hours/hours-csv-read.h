/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/hours/hours-book.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The button "Read from CSV" and what it leads to. A sound file is added at once, as one batch that can be taken back; of a file
 * with faults the lines that can be used are offered and the others named. The answer stands in a line that is added to @place.
 * (transfer floating) */
GtkWidget *hours_csv_button_new (TallySession *session, GtkBox *place);
/* The same for a file that is known already. */
void hours_csv_read (GtkWidget *button, const char *path);

G_END_DECLS

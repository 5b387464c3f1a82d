/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The two sources of runs; each closes @window behind a successful edit. (transfer floating) */
GtkWidget *import_csv_page_new (TallySession *session, GtkWindow *window);
GtkWidget *import_job_page_new (TallySession *session, GtkWindow *window);

/* Applies an edit and says what came, with undo. Takes @edit. */
gboolean import_apply (TallySession *session, JobEdit *edit, guint runs);

G_END_DECLS

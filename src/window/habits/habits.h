/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Windows that every desktop program has. */
void tally_preferences_present (TallySession *session, GtkWindow *parent);
/* Puts density and colours of the preferences in force; at the start and after each change. */
void tally_preferences_apply (void);
void tally_shortcuts_present (GtkWindow *parent);
void tally_help_present (GtkWindow *parent);
void tally_about_present (GtkWindow *parent);
/* Lets the user choose an office file to open or make; opens it in the session. */
void tally_office_choose (TallySession *session, GtkWindow *parent);
/* Systems, areas and cells of the job, edited in place (a sheet each). */
void tally_places_present (TallySession *session, GtkWindow *parent);
/* What the construction of the job rests on: look-ups without an answer, rows by table, cautions. */
void tally_construction_present (TallySession *session, GtkWindow *parent);
/* The jobs of the office: open, new, duplicate, delete. */
void tally_jobs_present (TallySession *session, GtkWindow *parent);

G_END_DECLS

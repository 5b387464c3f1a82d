/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Each part is a box that follows the session by itself. (transfer floating) */

/* A setting of words as a drop-down under its title. @key: static. */
GtkWidget *labour_choice_new (TallySession *session, const char *key);
/* The overtime table by name among those of the catalogue. */
GtkWidget *labour_table_choice_new (TallySession *session);
/* Conditions of one place of the job: which place is chosen above them. */
GtkWidget *labour_conditions_new (TallySession *session);
/* Field factor, joints on the floor, pieces raised together and joints remade, a row an area. */
GtkWidget *labour_areas_new (TallySession *session);

G_END_DECLS

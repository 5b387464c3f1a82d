/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The figures of one what-if with today's value beside each; figures are added from lists or typed as NAME=VALUE. */
#define TALLY_TYPE_WHAT_IF_SET (tally_what_if_set_get_type ())
G_DECLARE_FINAL_TYPE (TallyWhatIfSet, tally_what_if_set, TALLY, WHAT_IF_SET, GtkWidget)

/* (transfer floating) */
GtkWidget *tally_what_if_set_new (TallySession *session);
/* Shows the figures of a what-if as the job has them now; of a name that the job does not have an empty one. NULL: nothing. */
void tally_what_if_set_show (TallyWhatIfSet *set, const char *name);
/* Whether what is shown has no figure yet. */
gboolean tally_what_if_set_is_new (TallyWhatIfSet *set);
/* Puts the focus where the first figure is chosen. */
void tally_what_if_set_focus (TallyWhatIfSet *set);

G_END_DECLS

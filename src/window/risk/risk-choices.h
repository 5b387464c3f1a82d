/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The choices of a risk run as controls: spread, trials, seed, confidence, base, common factors and their
 * correlations. Each is a setting of the job and one edit. (transfer floating) */
GtkWidget *tally_risk_choices_new (TallySession *session);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/methods/methods-chance.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Below the table of methods: crew-days, dates, orders and what-ifs of each way; the same broken out; what would change the answer,
 * ranked; and which method is cheapest by size and class. */
#define TALLY_TYPE_METHODS_MORE (tally_methods_more_get_type ())
G_DECLARE_FINAL_TYPE (TallyMethodsMore, tally_methods_more, TALLY, METHODS_MORE, GtkWidget)

/* @shown: by method; @chosen: -1 none; @chances: borrowed as long as the widget lives. Asked again whenever a figure has changed; a large job is worked out when the user asks. */
void tally_methods_more_set (TallyMethodsMore *self, TallySession *session, const MethodsData *data, const gboolean *shown, int baseline,
                             int chosen, const MethodsChances *chances);
/* The chances are known now. */
void tally_methods_more_update (TallyMethodsMore *self);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/methods/methods-model.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Where one method and the baseline change places: the figures as rows, the chosen one as a line. */
#define TALLY_TYPE_METHODS_EVEN (tally_methods_even_get_type ())
G_DECLARE_FINAL_TYPE (TallyMethodsEven, tally_methods_even, TALLY, METHODS_EVEN, GtkWidget)

GtkWidget *tally_methods_even_new (void);
/* @data is not kept. @method -1 or the baseline: says that another is to be chosen. */
void tally_methods_even_set (TallyMethodsEven *even, const MethodsData *data, int baseline, int method);

G_END_DECLS

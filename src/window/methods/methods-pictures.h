/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/compare.h"
#include "window/chart-area.h"
#include "window/methods/methods-chance.h"

G_BEGIN_DECLS

/* Cost and tooling of each method shown; with @chances that are known the bars go from 10 to 90 % and a mark stands at the likely. */
void methods_show_bars (TallyChartArea *area, const MethodsData *data, const gboolean *shown, int baseline, const MethodsChances *chances);
/* Ranked bars of what the gain of way @chosen over the baseline hangs on; gives the words below them. (transfer full) */
char *methods_show_drives (TallyChartArea *area, const JobComparison *comparison, guint chosen);
/* The table of winners by size and class; gives the words below it, and what its marks stand for. (transfer full) */
char *methods_show_heat (TallyChartArea *area, TallyJob *job, gboolean square, char **legend);

G_END_DECLS

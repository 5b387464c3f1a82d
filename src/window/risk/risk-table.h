/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/methods/figure-grid.h"
#include "window/risk/risk-work.h"

G_BEGIN_DECLS

/* A line a way: likely cost, quantiles with their intervals, contingency, field hours, gain and chance against the
 * baseline. Names are buttons that call @pressed (button, @data); the way stands under "way" as their data. */
void tally_risk_table_fill (TallyFigureGrid *table, const RiskAnswer *answer, GCallback pressed, gpointer data);
/* The key that explains a figure takes apart the cost of way @i, against the baseline where there is one. */
void tally_risk_mark (const RiskAnswer *answer, GtkWidget *widget, guint i);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/chart-area.h"
#include "window/risk/risk-work.h"

G_BEGIN_DECLS

/* Cumulative curves of all ways. What is drawn is copied from @answer. */
void tally_risk_curve_set (TallyChartArea *area, const RiskAnswer *answer);
/* Ranked bars of what moves the gain of a way; of the first, the baseline, its cost. */
void tally_risk_drivers_set (TallyChartArea *area, const RiskAnswer *answer, guint way);

G_END_DECLS

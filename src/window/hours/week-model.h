/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/grid/grid-model.h"
#include "window/hours/hours-book.h"

G_BEGIN_DECLS

/* A week of the time sheet: a row a code, its area and step group, seven days, the sum. The row below the last takes a new code. */
#define TALLY_TYPE_WEEK_MODEL (tally_week_model_get_type ())
G_DECLARE_FINAL_TYPE (TallyWeekModel, tally_week_model, TALLY, WEEK_MODEL, GObject)

enum { WEEK_AREA, WEEK_GROUP, WEEK_DAY, WEEK_SUM = WEEK_DAY + 7, WEEK_N_COLUMNS };

TallyWeekModel *week_model_new (TallySession *session);
/* Julian day of a Monday. */
gint64 week_model_monday (TallyWeekModel *model);
void week_model_set_monday (TallyWeekModel *model, gint64 monday);
/* Everything anew: the job is another. */
void week_model_reset (TallyWeekModel *model);
/* Hours changed. */
void week_model_refresh (TallyWeekModel *model);

G_END_DECLS

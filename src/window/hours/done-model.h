/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/grid/grid-model.h"
#include "window/hours/hours-book.h"

G_BEGIN_DECLS

/* The runs of the part looked at, with what is done of each in four columns. */
#define TALLY_TYPE_DONE_MODEL (tally_done_model_get_type ())
G_DECLARE_FINAL_TYPE (TallyDoneModel, tally_done_model, TALLY, DONE_MODEL, GObject)

enum { DONE_COLUMN_SYSTEM, DONE_COLUMN_AREA, DONE_COLUMN_RUN, DONE_COLUMN_LENGTH, DONE_COLUMN_COUNT, DONE_COLUMN_HOURS,
       DONE_COLUMN_STAGE, DONE_N_COLUMNS = DONE_COLUMN_STAGE + DONE_N_STAGES };

TallyDoneModel *done_model_new (TallySession *session);
/* The job, its runs or the part looked at changed. */
void done_model_reset (TallyDoneModel *model);
/* Ticks changed. */
void done_model_refresh (TallyDoneModel *model);
/* Sets every stage cell of a rectangle to @ppm, as one step. FALSE: refused, or no stage cell in it. */
gboolean done_model_fill (TallyDoneModel *model, guint row0, guint column0, guint row1, guint column1, gint64 ppm);

G_END_DECLS

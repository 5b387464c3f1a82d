/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/query.h"
#include "window/grid/grid-model.h"
#include "window/session.h"

G_BEGIN_DECLS

/* The runs of the session's job as a table for the grid. */
#define TALLY_TYPE_RUN_MODEL (tally_run_model_get_type ())
G_DECLARE_FINAL_TYPE (TallyRunModel, tally_run_model, TALLY, RUN_MODEL, GObject)

TallyRunModel *run_model_new (TallySession *session);

/* Which columns (indices of run_column()) are shown, in order; remembered. */
const GArray *run_model_columns (TallyRunModel *model);
void run_model_set_columns (TallyRunModel *model, const guint *columns, gsize n);
/* Column index among all, of a shown one. */
guint run_model_column (TallyRunModel *model, guint shown);

/* Order and filter; looked up at once, and again only when asked or when rows come or go. */
JobQuery *run_model_query (TallyRunModel *model);
void run_model_refresh (TallyRunModel *model);

/* The run of a row; NULL behind the last. */
const JobRecord *run_model_run (TallyRunModel *model, guint row);
int run_model_row_of (TallyRunModel *model, gint64 id);
/* One column of some rows: how many are filled, and of those that add up how many figures and their sum. */
void run_model_sum (TallyRunModel *model, guint row0, guint row1, guint column, guint *filled, guint *numbers, double *sum);
/* The runs that are shown, in order: ids (gint64). (transfer none) */
const GArray *run_model_shown (TallyRunModel *model);
/* Adds a run behind @row (or at the end) as one edit. Takes the record. */
gboolean run_model_add (TallyRunModel *model, JobRecord *run, guint row, const char *label);

G_END_DECLS

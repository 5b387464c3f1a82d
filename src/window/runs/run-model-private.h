/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/runs/run-columns.h"
#include "window/runs/run-model.h"

G_BEGIN_DECLS

/* Computed rows are kept for what is on the screen; more than this, and all are dropped. */
#define MOST_KEPT 600

struct _TallyRunModel
{
  GObject parent_instance;

  TallySession *session;
  GArray *columns;   /* guint: shown, in order */
  GArray *order;     /* gint64: ids of the rows shown, in order */
  GHashTable *rows;  /* gint64 * (in order) -> row + 1; made when asked */
  GHashTable *kept;  /* gint64 * -> JobRunResult * */
  GHashTable *gone;  /* gint64 * -> place + 1: rows that were taken away from among those shown */
  gint64 newest;     /* highest id seen: what comes with a higher one is new */
  gboolean metric;   /* units as last told */
  JobQuery query;
};

gboolean run_model_sorted_or_narrowed (TallyRunModel *model);
/* run-model-order.c: rows that come or go while a sort or filter is on */
void run_model_patch_order (TallyRunModel *model, const JobEdit *edit);
void run_model_forget_order (TallyRunModel *model);
const JobRunResult *run_model_result (TallyRunModel *model, const JobRecord *run);
const RunColumn *run_model_shown_column (TallyGridModel *model, guint column);

/* run-model-edit.c: what changes runs */
gboolean run_model_apply (TallyGridModel *model, const GridPatchCell *cells, gsize n, const char *label);
gboolean run_model_insert_rows (TallyGridModel *model, guint at, guint n);
gboolean run_model_delete_rows (TallyGridModel *model, const guint *rows, gsize n);
gboolean run_model_duplicate_rows (TallyGridModel *model, const guint *rows, gsize n);
gboolean run_model_move_rows (TallyGridModel *model, const guint *rows, gsize n, int by);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* A drawing that runs were counted from. A drawing has issues, the first is 1; a run was checked against one (1 when nothing is
 * entered). Runs checked against an older issue than the drawing's are to be looked at again. */
typedef struct
{
  char *key;
  gint64 issue;
  gboolean done;      /* all of it is counted */
  guint runs, recheck;
} JobDrawing;

/* Every drawing that a run names or a record keeps, in the order of their names. GPtrArray of JobDrawing *. */
GPtrArray *job_drawings (TallyJob *job);

/* Edits, to be applied by the caller: the drawing came in a new issue (it is no longer counted); it is counted, or not; its
 * runs were all checked against the issue it has now. */
JobEdit *job_drawing_reissue (TallyJob *job, const char *key);
JobEdit *job_drawing_set_done (TallyJob *job, const char *key, gboolean done);
JobEdit *job_drawing_checked (TallyJob *job, const char *key);

G_END_DECLS

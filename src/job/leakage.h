/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* What one part of a system may leak: all its duct of one pressure class and section. */
typedef struct
{
  gint64 system;       /* id, 0: of runs without a system */
  gint64 pressure;     /* test pressure = the static pressure class, thousandths of an inch w.g., no sign */
  gint64 pa;           /* the same: by its row of the pressure classes, else converted */
  DuctSection section; /* DUCT_RECT or DUCT_ROUND */
  gint64 area_mm2;     /* of the walls; counts and the times of the areas in it */
  int row;             /* of the leakage table, -1: no row answers */
  Fault *fault;        /* then why */
  double cl;           /* leakage class of the row; with no row these are 0 */
  double cfm;          /* allowed flow */
  double l_s;          /* the same by the pascals */
} JobLeakage;

/* Parts in the order of the systems, then by falling pressure, rectangular before round. Flexible duct, fabric connectors, doors and
 * loose vanes are no duct of a test; a tee's or transition's whole area goes with its section. (transfer full): GArray of
 * JobLeakage with its clear function. @left_out: (out) (optional): runs that could not be measured. */
GArray *job_leakage (TallyJob *job, guint *left_out);

G_END_DECLS

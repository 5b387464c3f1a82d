/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

/* Best of @n runs of an expression, in seconds: the least disturbed one. */
#define bench_best(n, expression)                     \
  __extension__ ({                                    \
    double best_ = 1e9;                               \
    for (int i_ = 0; i_ < (n); i_++)                  \
      {                                               \
        gint64 from_ = g_get_monotonic_time ();       \
        expression;                                   \
        best_ = MIN (best_, (double) (g_get_monotonic_time () - from_) / 1e6); \
      }                                               \
    best_;                                            \
  })

/* An invented job of @rows runs over 8 systems and 12 areas with the four methods of the comparison. @distinct: no two runs are
 * alike; else about 300 different ones. */
TallyJob *bench_job (guint rows, gboolean distinct);

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* Runs of @from that @to is likely to have already: system and area of the same name, same kind, size, second size and length (count
 * and the rest are not looked at). One gboolean a run of @from, in order. (transfer full) */
GArray *job_likely_duplicates (TallyJob *to, TallyJob *from);

/* One edit that adds the runs of @from with @take behind the last run of @to, and those systems and areas they name that @to has not,
 * with all their values. What the runs inherit they inherit from @to. (transfer full) */
JobEdit *job_append_runs (TallyJob *to, TallyJob *from, const gboolean *take);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* What stands between the minutes of the catalogue and those of this job, a sentence each, for beside a result: the
 * conditions with their factors and where they were named, then job_labour_words(). Empty while nothing does.
 * (transfer full): GPtrArray of char *, freed with it. */
GPtrArray *job_in_force (TallyJob *job);

G_END_DECLS

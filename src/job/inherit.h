/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* Whose value a run takes where it has none of its own. */
typedef enum
{
  JOB_FROM_CELL,
  JOB_FROM_SYSTEM,
  JOB_FROM_JOB,
  JOB_FROM_NOWHERE, /* nobody's: the default of the program, or none */
} JobOrigin;

/* What @run would have in @field (of JOB_RUN) without an entry of its own: looked up by the field's key in its cell, its system,
 * the job. @text: (out) (optional) (transfer full): as it would be typed, "" from nowhere. */
JobOrigin job_inherited (TallyJob *job, const JobRecord *run, int field, char **text);
/* "system" for JOB_FROM_SYSTEM, translated. */
const char *job_origin_words (JobOrigin origin);
/* Whether runs inherit this field at all. */
gboolean job_inherits (int field);

G_END_DECLS

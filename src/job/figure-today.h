/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/what-if.h"

G_BEGIN_DECLS

/* What a figure that a change names is in the job as it stands, as it would be typed; of bands that differ "12 / 14". NULL with a
 * fault when the job has no such figure. (transfer full) */
char *job_figure_today (TallyJob *job, const CostChange *change, Fault **fault);

/* For choosing a figure from lists: what changes can name (item, step, rate, ...), the keys there are of one ("" where it needs none),
 * and the figures of such a thing. (transfer full): GPtrArray of char *, freed with it. */
GPtrArray *job_figure_objects (void);
GPtrArray *job_figure_keys (TallyJob *job, const char *object);
GPtrArray *job_figure_fields (TallyJob *job, const char *object, const char *key);

/* Whether the job would still compute with one change. FALSE with a fault in words. */
gboolean job_figure_check (TallyJob *job, const CostChange *change, Fault **fault);

/* Adds to @edit what writes a kept what-if into the job itself: figures of the catalogue as changes of this job, columns of records,
 * settings. FALSE with a fault when one of them cannot be used; nothing is added then. */
gboolean job_edit_use_what_if (TallyJob *job, JobEdit *edit, const char *name, Fault **fault);

G_END_DECLS

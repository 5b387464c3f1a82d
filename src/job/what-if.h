/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* Figures changed for one answer, over those of the job: of the catalogue (item, step, rate, buildup as CostChange) and of the job
 * itself: system.NAME.FIELD, area.NAME.FIELD, cell.SYSTEM/AREA.FIELD, job..FIELD, setting..KEY, and of runs: run.NUMBER.FIELD. area.NAME.fit_pieces (or system., or job.) makes the last so many pieces of
 * each straight run there pieces that are cut on site; runs with fewer pieces keep what they have. */

/* Applies @changes (CostChange *) to a job of nobody else: a job_copy(), or one that is kept nowhere. FALSE with a fault that names
 * the change; the job may then have some of them. */
gboolean job_apply_figures (TallyJob *job, const GPtrArray *changes, Fault **fault);
/* The record of a cell written SYSTEM/AREA, NULL where there is none; the ids, 0 of what is not in the job. */
const JobRecord *job_find_cell_named (TallyJob *job, const char *key, gint64 *system, gint64 *area);
/* A copy of the job with the changes applied; @changes may be NULL. NULL with a fault. (transfer full) */
TallyJob *job_with (TallyJob *job, const GPtrArray *changes, LabourPoint point, Fault **fault);

/* Names of the what-ifs that the job keeps, in order of their first record. (transfer full): GPtrArray of char *, to be freed with it. */
GPtrArray *job_what_ifs (TallyJob *job);
/* The changes of one. (transfer full): GPtrArray of CostChange *. */
GPtrArray *job_what_if_changes (TallyJob *job, const char *name);
/* Adds to @edit what sets one figure of a what-if; @value NULL takes it out. Adds nothing where it says so already. */
void job_edit_what_if (TallyJob *job, JobEdit *edit, const char *name, const CostChange *change, const char *value);
/* Adds to @edit what takes a whole what-if out. */
void job_edit_drop_what_if (TallyJob *job, JobEdit *edit, const char *name);

G_END_DECLS

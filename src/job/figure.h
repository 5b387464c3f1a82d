/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* Figures of the catalogue changed for one job, named as in CostChange: object, key ("" for none), field. */

/* The record that changes a figure for this job, NULL where it stands as in the catalogue. (transfer none) */
const JobRecord *job_find_change (TallyJob *job, const char *object, const char *key, const char *field);
/* Adds to @edit what sets a figure; @value NULL takes the change back. Adds nothing where it says so already. */
void job_edit_figure (TallyJob *job, JobEdit *edit, const char *object, const char *key, const char *field, const char *value);
/* Whether the job's figures would still compile with this one set; nothing is changed. FALSE with a fault. */
gboolean job_check_figure (TallyJob *job, const char *object, const char *key, const char *field, const char *value, Fault **fault);

/* Reads what was typed for a percentage or an amount: a number, a percentage may end in "%". Gives the text that a change
 * holds (percent with four decimals, amounts too), without zeros at the end. NULL with a fault that names no key. (transfer full) */
char *job_figure_read (const char *typed, gboolean percent, Fault **fault);

G_END_DECLS

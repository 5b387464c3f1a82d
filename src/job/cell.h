/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* A run as it stands in a table: what is typed into one cell, pasted, or read from a file. Tables and files share it, so that they
 * understand the same words. */

/* Reads @text into the cell of a field of JOB_RUN. As job_record_read(), and besides: the cell of the size takes both sizes,
 * "24x12 > 18x10" (a size alone takes the second one away), and the item of a counted line; there and in the cell of the kind
 * "# words" makes a note line. The kind of the run is to be read before its size. FALSE when it is kept as typed with a fault. */
gboolean job_cell_read (JobRecord *run, int field, const char *text, const JobNames *names, Fault **fault);

/* Whether a field is wrong in itself, whatever else is wrong in the run: text that was not understood, a method that the catalogue
 * does not have, a gauge that is not of the run's metal. TRUE with @fault. */
gboolean job_cell_wrong (TallyJob *job, const JobRecord *run, int field, Fault **fault);

/* ---- cautions: a run is priced, and yet something may not be meant ---- */

/* A counted line of an item that somebody fits, without minutes: items have none of their own, so its hours are 0. What is rented
 * needs none. */
gboolean job_minutes_missing (const Catalogue *catalogue, const JobRecord *run);
/* All cautions of a run in words: fields that its kind has no use for, minutes that are missing. NULL: none. (transfer full) */
char *job_caution_words (const Catalogue *catalogue, const JobRecord *run);

G_END_DECLS

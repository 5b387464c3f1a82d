/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/record.h"

G_BEGIN_DECLS

/* A note line is a line of words between the runs, a remark or a heading: of kind "note", or without a kind and with
 * nothing but a note. It may name a system, an area and a drawing. There is nothing in it to measure or to price, so it
 * is neither priced nor "not priced"; a line with anything in it that could have been counted is none. */
gboolean job_is_note_line (const JobRecord *run);
/* Of a run of kind "note": FALSE when a field is filled that says what was counted, with the field of JOB_RUN. */
gboolean job_note_line_check (const JobRecord *run, int *field, Fault **fault);
/* Words of a note line, "" when it has none. (transfer none) */
const char *job_note_line_words (const JobRecord *run);

/* A field is unused when it is filled and the run's kind has no use for it: a length on an elbow, a price on a duct. The
 * run is priced without it, so this is a caution and no fault. */
gboolean job_field_unused (const JobRecord *run, int field);
/* All of them in words, "Length is not used by the kind “radius elbow”"; NULL when there are none. (transfer full) */
char *job_unused_words (const JobRecord *run);

G_END_DECLS

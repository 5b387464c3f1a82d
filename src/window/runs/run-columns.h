/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

G_BEGIN_DECLS

/* The columns of the run table: the fields of a run, and what is computed of it. A new computed column is one line in
 * run-columns.c. */
typedef struct
{
  const char *key;
  const char *title; /* N_() */
  const char *unit;  /* N_(), or "" */
  int field;         /* of JOB_RUN, -1 computed */
  int column;        /* the field, or a JobColumn: what sort and filter go by */
  guint width;       /* characters */
  gboolean figure;   /* right-aligned */
  int at_start;      /* shown until the user chooses: 1 always, 2 where the window is wide */
} RunColumn;

guint run_columns_n (void);
const RunColumn *run_column (guint i);
int run_column_find (const char *key);

/* Unit of the heading and width in characters, in the units of the open job; metric sizes are longer. */
const char *run_column_unit (TallySession *session, const RunColumn *column);
guint run_column_width (TallySession *session, const RunColumn *column);
/* Text of a cell. @result: of job_compute(), also when not priced. (transfer full) */
char *run_column_text (TallySession *session, const RunColumn *column, const JobRecord *run, const JobRunResult *result);
/* Reads typed text into a copy of a run: the size cell takes "24x12 > 18x10" and an item of a counted line, the kind cell any
 * clear beginning of a kind, both "# words" of a note line. FALSE when it is kept as typed with a fault. */
gboolean run_column_read (TallySession *session, const RunColumn *column, JobRecord *run, const char *text, Fault **fault);
/* What a run inherits for a column it does not set, as text; NULL when the column is not inherited. */
char *run_column_inherited (TallySession *session, const RunColumn *column, const JobRecord *run, const JobRunResult *result);

G_END_DECLS

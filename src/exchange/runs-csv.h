/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/csv.h"
#include "job/job.h"

G_BEGIN_DECLS

/* A table of runs read against the fields of JOB_RUN by heading. Nothing changes until it is accepted. */
typedef struct
{
  const CsvTable *table;   /* borrowed */
  int *field;              /* by column: field of JOB_RUN, -1 ignored; may be changed before reading */
  GPtrArray *faults;       /* CsvFault *: every line that is not whole, with line, column, reason, remedy */
  GPtrArray *runs;         /* JobRecord *: every line, also faulty ones, as typed */
  GPtrArray *new_systems;  /* JobRecord *: systems and areas that the file names and the job has not */
  GPtrArray *new_areas;
} RunsImport;

/* Maps columns by heading; a heading that is no field is a fault of line 1 naming the known ones (and is ignored), a
 * missing "kind" makes the file unusable (runs stay empty). */
RunsImport *runs_import_new (TallyJob *job, const CsvTable *table);
/* Reads every line with the present mapping. */
void runs_import_read (RunsImport *import, TallyJob *job);
/* One edit that adds new systems, areas and the runs behind the last run. @faulty: also the lines with faults, kept as
 * typed and not priced; else they are left out. */
JobEdit *runs_import_edit (RunsImport *import, TallyJob *job, gboolean faulty);
void runs_import_free (RunsImport *import);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (RunsImport, runs_import_free)

/* The demo job from the data compiled into the program, read by the same readers as an import. */
TallyJob *exchange_demo_job (Catalogue *catalogue);
/* Adds the rows of a table (systems.csv, areas.csv, cells.csv, job.csv) to a job by the fields of @type, as one edit;
 * the one row of a job.csv changes the head record. Columns "source" and "status" are ignored. With any fault (added to
 * @faults, nullable) nothing is added, and @error says how many there are. */
gboolean exchange_read_records (TallyJob *job, JobType type, const CsvTable *table, GPtrArray *faults, GError **error);
/* All runs of a job as CSV in the format of the runs file. */
char *exchange_runs_csv (TallyJob *job);

G_END_DECLS

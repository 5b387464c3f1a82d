/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/csv.h"
#include "job/job.h"

G_BEGIN_DECLS

/* The field of JOB_RUN that a heading stands for: its key, its title, or what people usually write ("qty", "gage", "length (ft)");
 * -1 for another. The number of fields itself stands for the second side of a size whose width has a column of its own. */
int runs_heading_field (const char *heading);
/* What a field, or that number, is called on a screen. (transfer none) */
const char *runs_heading_title (int field);

/* A table of runs read against the fields of JOB_RUN by heading. Nothing changes until it is accepted. */
typedef struct
{
  const CsvTable *table;   /* borrowed */
  int *field;              /* by column: field of JOB_RUN, -1 ignored; may be changed before reading */
  GPtrArray *faults;       /* CsvFault *: every line that is not whole, with line, column, reason, remedy */
  GPtrArray *runs;         /* JobRecord *: every line, also faulty ones, as typed */
  GPtrArray *new_systems;  /* JobRecord *: systems and areas that the file names and the job has not */
  GPtrArray *new_areas;
  GPtrArray *new_drawings; /* char *: that no run and no record of the job names */
} RunsImport;

/* Maps columns by heading (runs_heading_field()); one that stands for no field is a fault of line 1 naming the known ones (and is
 * ignored), a missing "kind" makes the file unusable (runs stay empty). */
RunsImport *runs_import_new (TallyJob *job, const CsvTable *table);
/* Reads every line with the present mapping. */
void runs_import_read (RunsImport *import, TallyJob *job);
/* The same in slices, for large files: begins anew, then reads so many lines at a time; TRUE while there are more. The job must not
 * have changed between: else begin again. */
void runs_import_begin (RunsImport *import);
gboolean runs_import_step (RunsImport *import, TallyJob *job, guint lines);
/* Whether a line that was read is not whole. */
gboolean runs_import_is_faulty (const RunsImport *import, guint line);
/* What a line would make that the job has not, in words: "a new system SA-9, a new area Roof"; NULL: nothing. (transfer full) */
char *runs_import_makes (const RunsImport *import, guint line);
/* The same of all lines that would be taken, "1 new system (SA-9) and 2 new areas (Roof, Level 9)"; NULL: nothing. */
char *runs_import_makes_all (const RunsImport *import, gboolean faulty);
/* One edit that adds new systems, areas and the runs behind the last run. @faulty: also the lines with faults, kept as
 * typed and not priced; else they are left out. */
JobEdit *runs_import_edit (RunsImport *import, TallyJob *job, gboolean faulty);
void runs_import_free (RunsImport *import);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (RunsImport, runs_import_free)

/* The demo job from the data compiled into the program, read by the same readers as an import. */
TallyJob *exchange_demo_job (Catalogue *catalogue);
/* The second one, of round duct. */
TallyJob *exchange_demo_round_job (Catalogue *catalogue);
/* Adds the rows of a table (systems.csv, areas.csv, cells.csv, job.csv) to a job by the fields of @type, as one edit;
 * the one row of a job.csv changes the head record. Columns "source" and "status" are ignored. With any fault (added to
 * @faults, nullable) nothing is added, and @error says how many there are. */
gboolean exchange_read_records (TallyJob *job, JobType type, const CsvTable *table, GPtrArray *faults, GError **error);
/* All runs of a job as CSV in the format of the runs file. */
char *exchange_runs_csv (TallyJob *job);

G_END_DECLS

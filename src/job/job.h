/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/buildup.h"
#include "job/record.h"

G_BEGIN_DECLS

/* One object before and after an edit: before NULL = added, after NULL = deleted. Both have the same type and id. */
typedef struct
{
  JobRecord *before; /* (nullable) */
  JobRecord *after;  /* (nullable) */
} JobDelta;

/* Told how far something has come, 0 to 1. FALSE: it is to be given up. */
typedef gboolean (*JobProgress) (gpointer data, double share);

/* The one way to change a job: a labelled list of changes that happens whole or not at all. */
typedef struct
{
  char *label;     /* translated, "paste of 40 cells" */
  GArray *deltas;  /* JobDelta */
  JobProgress progress; /* (nullable): told while the edit is kept, before anything has changed */
  gpointer progress_data;
} JobEdit;

JobEdit *job_edit_new (const char *label);
void job_edit_free (JobEdit *edit);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobEdit, job_edit_free)
/* Takes both references; either may be NULL, not both. */
void job_edit_add (JobEdit *edit, JobRecord *before, JobRecord *after);
/* For sinks, now and then: @done deltas are kept. FALSE with JOB_ERROR_STOPPED when the edit is given up. */
gboolean job_edit_report (const JobEdit *edit, guint done, GError **error);

/* Keeps edits; the store implements it. FALSE with @error: nothing was kept, the edit does not happen. */
typedef struct
{
  gboolean (*apply) (gpointer self, const JobEdit *edit, GError **error);
  gpointer self;
} JobSink;

#define JOB_ERROR (job_error_quark ())
GQuark job_error_quark (void);
typedef enum
{
  JOB_ERROR_STALE,   /* the edit was made from another state of the job */
  JOB_ERROR_INVALID, /* the edit would leave the job broken */
  JOB_ERROR_STOPPED, /* the edit was given up while it was kept: nothing has changed */
} JobError;

#define TALLY_TYPE_JOB (tally_job_get_type ())
G_DECLARE_FINAL_TYPE (TallyJob, tally_job, TALLY, JOB, GObject)
/* Signal "changed" (JobEdit *): after an edit, undo or redo, with totals up to date. */

/* A new job in memory: one head record (id 1), units inch-pound, 2 decimals, no systems. */
TallyJob *job_new (Catalogue *catalogue, const char *name);
/* A job from its stored records (GPtrArray of JobRecord *, any order; runs are put in order by ord, id). Next ids start
 * behind @last_id of each type (NULL: behind the largest present). NULL with @error when the records contradict each other
 * (no head, a run that names a system which is not there). */
TallyJob *job_new_from_records (Catalogue *catalogue, GPtrArray *records, const gint64 last_id[JOB_N_TYPES], GError **error);

/* A copy in memory that is kept nowhere and can be changed freely; records are shared, totals its own. @point: the minutes its
 * totals are made of (LABOUR_LIKELY as everywhere; low and high for what-ifs and risk). Costs a job_recompute(). */
TallyJob *job_copy (TallyJob *job, LabourPoint point);

void job_set_sink (TallyJob *job, const JobSink *sink);

const JobNames *job_names (TallyJob *job);
const JobRecord *job_head (TallyJob *job);
guint job_n (TallyJob *job, JobType type);
/* i-th in order. (transfer none) */
const JobRecord *job_at (TallyJob *job, JobType type, guint i);
const JobRecord *job_find (TallyJob *job, JobType type, gint64 id);
/* The record of a system in an area, NULL where there is none; ids. */
const JobRecord *job_find_cell (TallyJob *job, gint64 system, gint64 area);
/* Decimals of the job's currency, 0 to 4; 2 where it names none. */
int job_decimals (TallyJob *job);
/* Position of a run, -1. */
int job_position (TallyJob *job, gint64 run_id);
/* A fresh id, never used before in this job. */
gint64 job_take_id (TallyJob *job, JobType type);
/* An order value for a new row of @type before position @at (at = n: at the end), for the first of @count new rows; rows
 * follow in steps of *step. FALSE when the gap is used up: renumber with job_edit_renumber() first. */
gboolean job_ord_before (TallyJob *job, JobType type, guint at, guint count, gint64 *first, gint64 *step);
void job_edit_renumber (TallyJob *job, JobEdit *edit, JobType type);

/* Validates, keeps (sink), changes memory and totals, signals; takes the edit either way. */
gboolean job_apply (TallyJob *job, JobEdit *edit, GError **error);
gboolean job_undo (TallyJob *job, GError **error);
gboolean job_redo (TallyJob *job, GError **error);
const char *job_undo_label (TallyJob *job); /* NULL when there is nothing to undo */
const char *job_redo_label (TallyJob *job);

/* Convenience: one field of one record as an edit. A value that cannot be read is kept as typed and *fault says why; the
 * edit still happens. */
gboolean job_edit_field (TallyJob *job, JobType type, gint64 id, int field, const char *text, Fault **fault, GError **error);

/* ---- what it costs ---- */

CostBasis *job_basis (TallyJob *job);                      /* (transfer none) */
/* Adds changes of a what-if on top of the job's own (NULL: none). FALSE with a fault: nothing changes. */
gboolean job_set_what_if (TallyJob *job, const GPtrArray *changes, Fault **fault);
/* Another catalogue revision for this job, all totals anew. */
gboolean job_set_catalogue (TallyJob *job, Catalogue *catalogue, Fault **fault);
/* Rule set in force: of the system, else of the job; index into the rules, -1 when the key is unknown. */
int job_rule_set (TallyJob *job, gint64 system_id);

/* A run as it is computed now. */
typedef struct
{
  DuctShape shape;      /* resolved */
  int asked, method;    /* method indices; method -1 when not priced */
  char *reason;         /* why method differs from asked, or NULL */
  DuctBuild build;
  DuctMeasure measure;
  gint64 count;         /* thousandths; multiplies the measure */
  gint64 deducted;      /* nm that fittings took off the length entered, of one run; see lengths_through_fittings of the head */
  gint64 *vector;       /* of the whole run, count included, without the area's times; NULL when not priced */
  int fault_field;      /* field of JOB_RUN, -1 */
  Fault *fault;         /* why it is not priced, or NULL */
} JobRunResult;

void job_run_result_clear (JobRunResult *result);
/* Computes one run with @method, or with its own (JOB_OWN_METHOD). FALSE when it is not priced. Of a note line
 * (job_is_note_line()) nothing is missing: TRUE, with a vector of zeros and no method. */
#define JOB_OWN_METHOD (-1)
gboolean job_compute (TallyJob *job, const JobRecord *run, int method, JobRunResult *result);
/* The money, time and weight of one run's vector under the conditions of its cell and its area's times. */
void job_run_sums (TallyJob *job, const JobRecord *run, const gint64 *vector, CostSums *sums);

/* What multiplies a run's figures: factors on its minutes, the share of its joints made on the floor, how often its area is
 * built. Each may be NULL. */
void job_run_conditions (TallyJob *job, const JobRecord *run, LabourFactors *factors, gint64 *floor_ppm, gint64 *times);

/* Which part of a job: 0 = any. -1 = runs without a system / area. */
typedef struct
{
  gint64 system, area;
} JobScope;

typedef struct
{
  CostSums sums;
  gint64 *vector;      /* n_vector, times of the areas included */
  NumWide *slot_time;  /* n_slots: what sums.slot_time points to */
  gint64 not_priced;   /* runs */
  gint64 runs;         /* priced runs (rows) */
  gint64 notes;        /* note lines: neither of the two */
  gint64 by_fallback;  /* of them priced by another method than the one asked for, as that is not allowed on them */
  gint64 measured;     /* priced runs of the section, rectangular or round, that the method is for; counted lines are none */
} JobTotals;

void job_totals_clear (JobTotals *totals);
/* Totals with every run by @method, or by its own. Always up to date; costs a sum over systems x areas. */
void job_totals (TallyJob *job, const JobScope *scope, int method, JobTotals *totals);
/* Whether a comparison lists @method; @totals: of each of the n_methods methods. Listed are those that price a run of the section
 * that they are for; where nothing is measured, those for rectangular duct. */
gboolean job_method_listed (TallyJob *job, const JobTotals *totals, int method);
/* The methods of the whole job that are listed, @also (-1: none) among them in any case. (transfer full): GArray of int. */
GArray *job_methods_listed (TallyJob *job, int also);
/* Totals of some runs by every method: n_methods + 1 of them, the last by each run's own; clear each. Ids that the job does not
 * have, and the second of two alike, are passed over. Costs pricing each distinct shape once. */
void job_totals_of_runs (TallyJob *job, const gint64 *ids, gsize n, JobTotals *totals);
/* An edit that prices the runs of a scope by the method @key from now on: written down once, for the job, a system, or each cell
 * of the scope that has runs; runs without a system or area get it themselves. A method for round duct, where
 * rectangular runs stand in the scope too, is written on each round run instead. Other choices of systems and cells in the scope
 * are taken back, those of single runs stay. (transfer full); no delta in it: nothing would change. @label: translated. */
JobEdit *job_edit_method (TallyJob *job, const JobScope *scope, const char *key, const char *label);
/* The same for some runs, each on its own line; counted lines and notes have no method. */
JobEdit *job_edit_method_of_runs (TallyJob *job, const gint64 *ids, gsize n, const char *key, const char *label);
/* Runs of the scope that would not follow, as another method stands on their own line. */
gint64 job_method_exceptions (TallyJob *job, const JobScope *scope, const char *key);
/* Whether a method may be chosen in this job: all but retired ones, and of those what the job names already. */
gboolean job_offers_method (TallyJob *job, int method);
/* Computes everything anew into totals of its own and compares with the kept ones: FALSE (and a warning) on any
 * difference. For tests. */
gboolean job_check_totals (TallyJob *job);
/* Recomputes all totals from the records. */
void job_recompute (TallyJob *job);

G_END_DECLS

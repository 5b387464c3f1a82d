/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/labour-model.h"

G_BEGIN_DECLS

/* What holds for every run of one system in one area that names the same conditions of its own: the values runs inherit, the conditions, and the totals. */
typedef struct
{
  gint64 system, area;    /* 0: runs without one */
  char *condition;        /* (nullable) (owned): GRefString, conditions named on the runs themselves */
  gboolean counted;       /* counted lines: nothing of theirs is spent again where joints are remade */
  gboolean resolved;      /* the inherited values below are up to date */
  gint64 pressure, metal, exposure, coil, liner, drop;
  gboolean clear, fast, tested;
  int method, rule_set;   /* index, -1: none or unknown */
  int wrap, seal, supports; /* index, -1: none, -2: unknown, -3: unknown edition, or a set without supports */
  gint64 times, floor_ppm;
  LabourFactors factors;
  gint64 *vector;         /* (n_methods + 1) x n_vector; the last is each run by its own method */
  gint64 *not_priced;     /* n_methods + 1: runs */
  gint64 notes;           /* note lines, which no method counts */
  gint64 *by_fallback;    /* n_methods + 1: runs priced by another method than the one asked for */
  gint64 *measured;       /* n_methods + 1: priced runs of the section, rectangular or round, that the method is for */
} JobBucket;

struct _TallyJob
{
  GObject parent_instance;

  Catalogue *catalogue;
  CostBasis *basis;
  GPtrArray *what_if;                /* CostChange * */
  LabourPoint point;                 /* of the minutes that totals are made of: likely but in copies */
  GPtrArray *rows[JOB_N_TYPES];      /* JobRecord *, by (ord, id) */
  GHashTable *by_id[JOB_N_TYPES];    /* gint64 * (in the record) -> JobRecord * */
  gint64 last_id[JOB_N_TYPES];
  JobNames names;
  JobSink sink;
  GPtrArray *undo, *redo;            /* JobEdit * */
  GHashTable *through;               /* (nullable): what fittings take off the straights; see through.c */
  GHashTable *buckets;               /* JobBucket * set, by (system, area, condition, counted) */
  gboolean labour_known, learned_known;
  JobLabour labour;                  /* see labour-model.h; valid while labour_known */
  gint64 *learned;                   /* n_methods + 1: factor on steps at the joint, ppm; valid while learned_known */
};

/* job.c */
void job_put (TallyJob *job, JobRecord *before, JobRecord *after);
/* compute.c */
/* The bucket of a place, of a condition on the run and of counted lines or not; only those members of @key are read. */
JobBucket *job_bucket (TallyJob *job, const JobBucket *key);
JobBucket *job_bucket_of (TallyJob *job, const JobRecord *run);
/* A resolved shape (count 1) by one method: fallbacks followed, built, measured and priced into @vector. FALSE with the fault
 * (if wanted). @result: (nullable): gets method, reason, build and measure. */
gboolean job_price_shape (TallyJob *job, const JobBucket *bucket, const DuctShape *shape, int method, gint64 *vector,
                          JobRunResult *result, int *field, Fault **fault);
/* Shape, own method and count of a geometric run; FALSE with the fault (if wanted) when it cannot be priced. */
gboolean job_shape (TallyJob *job, const JobRecord *run, const JobBucket *bucket, DuctShape *shape, int *own, gint64 *count,
                    int *field, Fault **fault);
/* The method that a comparison of @method prices a shape by: a method for round duct says nothing about rectangular runs, which
 * stay with @own, the run's own. */
int job_compared_method (TallyJob *job, int method, const DuctShape *shape, int own);
gboolean job_counted_vector (TallyJob *job, const JobRecord *run, gint64 *vector, int *field, Fault **fault);
/* cell.c */
/* What is wrong with a method key (NULL: none was chosen), its remedy lists those of the catalogue; and with a gauge. */
Fault *job_method_fault (const Catalogue *catalogue, const char *key);
Fault *job_gauge_fault (void);
/* totals.c */
void job_totals_init (TallyJob *job);
void job_totals_forget (TallyJob *job); /* drops every bucket */
void job_totals_stale (TallyJob *job);  /* inherited values must be looked up again */
void job_totals_run (TallyJob *job, const JobRecord *run, int sign);
void job_totals_rebuild (TallyJob *job, const JobScope *scope);
/* labour-model.c */
/* Factor of learning on steps at the joint with every run by @method, or by its own, ppm. */
gint64 job_learned (TallyJob *job, int method);
void job_labour_stale (TallyJob *job); /* settings or the catalogue have changed */
/* What conditions named in a text, joined with ";", do to @factors. */
void job_join_conditions (TallyJob *job, LabourFactors *factors, const char *keys);
/* All factors of a bucket but learning. */
void job_resolve_factors (TallyJob *job, JobBucket *bucket);
/* The condition of a record that says a crew is new, where steps at the joint are slowed by it; NULL. */
const LabourCondition *job_new_crew (TallyJob *job, const JobRecord *record);
/* First record that names one and is not touched by @edit (nullable). */
const JobRecord *job_find_new_crew (TallyJob *job, const JobEdit *edit);
/* "the area Level 1", "run 12", "the job". (transfer full) */
char *job_record_name (TallyJob *job, const JobRecord *record);
/* The conditions of a bucket alone, without what overtime loses: what the cap is held against. */
void job_bucket_conditions (TallyJob *job, const JobBucket *key, LabourFactors *factors);
/* Adds changes of rates that follow from the week that the job works. */
void job_labour_changes (TallyJob *job, GPtrArray *changes);
/* Whether an edit names a condition or a table that the catalogue does not have, or turns learning and a new crew on together. */
gboolean job_check_labour (TallyJob *job, const JobEdit *edit, GError **error);
/* FALSE where the setting mix.not newly names a method that the catalogue does not have. */
gboolean job_check_mix (TallyJob *job, const JobEdit *edit, GError **error);
/* through.c */
/* Whether lengths were measured through fittings. */
gboolean job_through_on (TallyJob *job);
/* What the fittings take off each run of a straight row, nm; 0 when the switch is off, and on other rows. */
gint64 job_through_deducted (TallyJob *job, const JobRecord *run);
/* Records or rules have changed. */
void job_through_forget (TallyJob *job);
/* edit.c */
gboolean job_compile_basis (TallyJob *job, const GPtrArray *what_if, CostBasis **basis, Fault **fault);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/job.h"

G_BEGIN_DECLS

/* What holds for every run of one system in one area: the values runs inherit, the conditions, and the totals. */
typedef struct
{
  gint64 system, area;    /* 0: runs without one */
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
  GHashTable *buckets;               /* JobBucket * set, by (system, area) */
};

/* job.c */
void job_put (TallyJob *job, JobRecord *before, JobRecord *after);
/* compute.c */
JobBucket *job_bucket (TallyJob *job, gint64 system, gint64 area);
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

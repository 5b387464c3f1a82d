/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/compare.h"
#include "job/stock.h"

G_BEGIN_DECLS

/* One way of doing the work: a method, or each run's own, under a what-if that the job keeps, or as it stands. */
typedef struct
{
  const char *method;   /* key; NULL: each run's own */
  const char *what_if;  /* name; NULL: the job as it stands */
} JobWay;

/* Which runs: those of the scope, or (with @ids) the runs named. */
typedef struct
{
  JobScope scope;
  const gint64 *ids; /* (nullable) */
  gsize n_ids;
} JobPart;

/* What one way costs and needs over the part asked about. Money in minor units. */
typedef struct
{
  int method;             /* JOB_OWN_METHOD: each run's own */
  char *what_if;          /* (nullable) */
  char *name;             /* "Slip-on flange, bolted corners; what if “dear metal”" */
  Fault *fault;           /* why it cannot be computed; nothing below is filled then */
  TallyJob *job;          /* the job, or a copy with the what-if */
  JobTotals totals;
  CostOption option;      /* material, cost, price, tooling once, hours, minutes and hardware a joint, pieces, joints, pounds */
  gint64 labour;          /* shop and field together */
  gint64 whole;           /* cost and what is bought once: what ways are ranked by */
  double crew_days;       /* field worker-hours / (workers x hours a day) */
  gboolean dated;         /* a start is written down: the dates below are filled */
  GDate start, finish;    /* Monday to Friday, no holidays; not before the goods for joints are there, where they are ordered by date */
  JobStock stock;
} JobWayFigures;

typedef struct
{
  TallyJob *job;
  JobPart part;           /* ids: a copy */
  GPtrArray *way;         /* JobWayFigures * */
  guint baseline;
  int decimals;
} JobComparison;

/* Prices every way. @part: (nullable): the whole job. A method or what-if that is not there, or a what-if that cannot be applied,
 * leaves a fault with its way. Costs a recompute for each what-if named, and nothing but sums for the methods. (transfer full) */
JobComparison *job_compare (TallyJob *job, const JobWay *ways, gsize n, guint baseline, const JobPart *part);
void job_comparison_free (JobComparison *comparison);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobComparison, job_comparison_free)

static inline const JobWayFigures *
job_comparison_way (const JobComparison *c, guint i)
{
  return g_ptr_array_index (c->way, i);
}

/* The cheapest of the ways that can be computed, by cost and tooling, the baseline where it is as cheap. */
guint job_comparison_best (const JobComparison *comparison);

/* Crew-days of some field worker-hours under the job's settings, and the date on which that work is done when it starts on the job's
 * date: Monday to Friday, holidays are not known. FALSE where no start is written down. @not_before: (nullable). */
double job_crew_days (TallyJob *job, double field_hours);
gboolean job_field_dates (TallyJob *job, double crew_days, const GDate *not_before, GDate *start, GDate *finish);
/* The choices behind crew-days and dates in one sentence, for the screen. */
char *job_crew_words (TallyJob *job);

/* ---- broken out ---- */

typedef enum
{
  JOB_BY_SYSTEM,
  JOB_BY_AREA,
  JOB_BY_BAND,  /* longest side, by the job's setting mix.bands */
  JOB_BY_CLASS, /* pressure class, sign left out */
  JOB_N_BY,
} JobBy;

extern const char *const job_by_keys[JOB_N_BY]; /* system, area, band, class */
/* Heading of the parts, translated. */
const char *job_by_title (JobBy by);

/* Figures of one part under one way; the parts of a way add up to its whole, to the last digit kept here. */
typedef struct
{
  gint64 material, labour, cost, price; /* minor units, largest remainder */
  gint64 shop, field;                   /* hundredths of a worker-hour, largest remainder */
  gint64 pieces, joints;                /* thousandths */
  gint64 net_mg;
  gint64 net_lb10;                      /* tenths of a pound, largest remainder */
} JobPartFigures;

typedef struct
{
  JobBy by;
  guint n_parts, n_ways;
  char **part;             /* n_parts: names */
  JobPartFigures *figure;  /* n_parts x n_ways; all zero for a way with a fault */
} JobBreakout;

/* Parts without any run are left out. (transfer full) */
JobBreakout *job_break_out (const JobComparison *comparison, JobBy by);
void job_breakout_free (JobBreakout *breakout);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (JobBreakout, job_breakout_free)

static inline const JobPartFigures *
job_breakout_at (const JobBreakout *b, guint part, guint way)
{
  return &b->figure[part * b->n_ways + way];
}

/* Upper ends of the size bands (setting mix.bands) in nm, rising; what cannot be read is left out. (transfer full): gint64. */
GArray *job_size_bands (TallyJob *job);

/* What the second way gains over the first today, currency, tooling included: the difference of the figures printed. Both must be
 * without fault. */
double job_way_gain (const JobWayFigures *first, const JobWayFigures *second);

G_END_DECLS

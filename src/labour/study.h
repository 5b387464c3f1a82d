/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "labour/labour.h"

G_BEGIN_DECLS

/* Time studies: readings taken on site, what they say about an operation, and the figures of a step that come of them.
 * Everything is in worker-minutes of one: clock minutes x heads of the crew / count. Formulas: methods of work measurement
 * (observed time x rating = normal time; normal time and allowance = standard time); sources beside each function. */

/* What counts as the whole job of a joint, from the gasket to the last cleat; anything else is an element's name. */
#define LABOUR_WHOLE "whole joint"
/* Job-to-job spread until history exists, common practice, parts per million. */
#define LABOUR_JOB_SPREAD_PPM 150000

/* L1: what the allowance is a share of. Day: standard = normal / (1 - A). Normal time: standard = normal (1 + A). */
typedef enum
{
  LABOUR_DAY,
  LABOUR_NORMAL,
  LABOUR_N_ALLOWANCES,
} LabourAllowance;

/* L12: how many readings are enough. T: Student's t and the deviation with divisor n - 1. ILO: k = 2 (95.45 %) and divisor n. */
typedef enum
{
  LABOUR_T_FORM,
  LABOUR_ILO_FORM,
  LABOUR_N_FORMS,
} LabourForm;

extern const char *const labour_allowance_keys[LABOUR_N_ALLOWANCES]; /* "day", "normal" */
extern const char *const labour_form_keys[LABOUR_N_FORMS];           /* "t", "ilo" */
/* The choices in words, as they stand beside a figure: "L1: allowance as a share of the working day, N/(1 - A)". */
const char *labour_allowance_words (LabourAllowance basis);
const char *labour_form_words (LabourForm form);

typedef struct
{
  char *date, *observer; /* date as written, YYYY-MM-DD sorts */
  int crew_size;         /* heads at work while the clock ran */
  char *size;            /* duct size as written, "" not told */
  char *timed;           /* LABOUR_WHOLE or an element */
  char *method;          /* "" not told */
  double lb;             /* pounds of the piece handled, NAN not told */
  int count;             /* how many were made while the clock ran */
  double clock_min;
  double rating;         /* 1.00 = normal pace */
  double minutes;        /* worker-minutes of one, observed */
  gboolean average;      /* a mean of readings that are not given one by one */
  char *struck;          /* why it is struck; "" = kept */
  char *note, *source, *status;
  guint row;             /* of the sheet "observations" */
} LabourReading;

typedef struct
{
  char *key;
  char *step;            /* step that it is meant for, "" none yet */
  char *unit;            /* what one is: "joint", "ft", "lb" */
  double allowance;      /* fraction */
  LabourAllowance basis;
  double confidence;     /* two-sided, 0.95 */
  double accuracy;       /* relative half-width asked for, 0.05 */
  LabourForm form;
  double job_spread;     /* fraction, one standard deviation between jobs */
  double half_width;     /* asked of the mean difference of pairs, worker-minutes; 0 none asked */
  char *note, *source, *status;
  GPtrArray *readings;   /* LabourReading *, in the order of the sheet */
} LabourStudy;

/* What kept readings of unlike pieces follow (cost/study-unlike.h). */
typedef enum
{
  LABOUR_ALIKE,
  LABOUR_BY_POUNDS,
  LABOUR_BY_GIRTH,
} LabourUnlike;

/* One timed element by one method. Figures that need more readings than there are, are NAN. */
typedef struct
{
  const char *timed, *method;  /* borrowed from the first reading */
  guint n, struck;             /* readings kept; struck */
  gboolean average;            /* rests on a mean given as such */
  double mean, s;              /* observed, of the readings kept; deviation with divisor n - 1, NAN below three */
  double low, high;            /* interval of the mean by Student's t, NAN below three */
  double rating;               /* weighted by minutes, so that normal = mean x rating = mean of each reading at its own pace */
  double normal, standard;
  double error;                /* standard error of the standard time, NAN below three */
  double need_ilo, need_t;     /* readings in all, not rounded; NAN below three */
  guint more_ilo, more_t;      /* readings still needed, 0 where enough or not known */
  guint outliers;              /* kept readings that are flagged */
  LabourUnlike unlike;         /* set by cost_study_unlike() alone */
  double explained;            /* share of the sum of squares that a line over it explains */
} LabourElement;

/* All elements of one method together, or its whole joints where they were timed. */
typedef struct
{
  const char *method;    /* borrowed */
  gboolean whole;        /* of whole joints; else the sum of the elements */
  guint elements, n;     /* elements summed; the fewest readings that one of them has */
  double normal, standard;
  double scatter;        /* deviation of one observation, standard minutes: root of the sum of squares; NAN */
  double error;          /* of the mean: root of the sum of squares of the elements' errors; NAN */
  double error90;        /* the same at the 90 % point, each error times its t(0.9, n - 1); NAN */
} LabourTotal;

/* Two methods, paired by size with the same crew size. Differences are first less second, in standard worker-minutes (rating and
 * allowance in both alike); without allowance and at a rating of 100 they are those observed. */
typedef struct
{
  const char *first, *second; /* borrowed */
  char *timed;                /* LABOUR_WHOLE, an element, or the elements that are summed, "align + bolt"; NULL none */
  guint elements;             /* how many are summed; 1 for whole joints */
  GArray *pairs;              /* LabourPair */
  guint unpaired;             /* kept readings that found no partner */
  double mean, s, low, high;  /* mean NAN without a pair, the others below three */
  double need;                /* pairs in all for the half-width asked, whole; NAN unknown */
  guint more;                 /* pairs still needed */
} LabourPairs;

typedef struct
{
  const LabourReading *first, *second; /* of several elements summed: the readings of one of them, for date, size and crew */
  double first_min, second_min;        /* standard worker-minutes */
  double difference;
} LabourPair;

/* A study's answer, with the study's choices; borrowed texts are the study's. */
typedef struct
{
  const LabourStudy *study;
  GArray *elements;  /* LabourElement, in the order in which they come up */
  GArray *totals;    /* LabourTotal, one a method */
  gboolean *outlier; /* one a reading of the study */
} LabourResult;

/* ---- reading ---- */

/* Reads the sheets "studies" and "observations" into tables->studies. */
void labour_read_studies (LabourTables *tables, const LabourSheets *sheets, GPtrArray *faults);
int labour_find_study (const LabourTables *tables, const char *key);
/* The same from two sheets as they stand, also in a draft: studies and readings that are faulty are left out, each with a fault.
 * GPtrArray of LabourStudy *. (transfer full) */
GPtrArray *labour_studies_new (const CsvTable *studies, const CsvTable *observations, GPtrArray *faults);
/* The study that the source of a step names, "time study KEY, DATE" as labour_study_put() writes it; NULL: none. */
const LabourStudy *labour_study_of_source (const LabourTables *tables, const char *source);
/* A study of its own from a CSV file: columns of the sheet "observations" ("study" and what is not timed may be missing), or
 * "element,average_min,rating". NULL with @faults when a line is faulty; a file without a reading is a fault. Choices are the
 * defaults: no allowance, day basis, 95 %, 5 %, t form. (transfer full) */
LabourStudy *labour_study_from_csv (const CsvTable *table, GPtrArray *faults);
void labour_study_free (LabourStudy *study);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LabourStudy, labour_study_free)

/* ---- answers ---- */

/* Standard time by L1. Sources: Heizer and Render, work measurement (day basis); ILO, Introduction to Work Study. */
double labour_standard_time (double normal, double allowance, LabourAllowance basis);
/* Readings in all by the ILO form: (k/e sqrt (n Sx2 - Sx^2) / Sx)^2 with k = 2. Source: ILO, Introduction to Work Study. */
double labour_need_ilo (const double *x, gsize n, double accuracy);
/* Readings in all by the t form: (t s / (e mean))^2, t of n - 1; NAN below three readings. */
double labour_need_t (const double *x, gsize n, double accuracy, double confidence);
/* Flags |x - median| > 3.5 x 1.4826 MAD, and > 3.5 x 1.253314 x the mean absolute deviation from the median where MAD is 0 (Iglewicz and
 * Hoaglin's rule, both from memory); none below three readings. */
void labour_flag_outliers (const double *x, gsize n, gboolean *flag);

/* (transfer full) */
LabourResult *labour_study_result (const LabourStudy *study);
void labour_result_free (LabourResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LabourResult, labour_result_free)
/* The total of a method, NULL: none. */
const LabourTotal *labour_result_total (const LabourResult *result, const char *method);

/* Methods that have kept readings, in order of appearance: const char *, borrowed from the study. (transfer container) */
GPtrArray *labour_study_methods (const LabourStudy *study);
/* Pairs of two methods by size and crew size, in the order of date within each: of whole joints where both have them, else of the sum
 * over all elements that both have. n >= (t s / d)^2 by iteration until n is stable, d the study's half-width. (transfer full) */
LabourPairs *labour_study_pairs (const LabourStudy *study, const char *first, const char *second);
/* The same of one thing timed. (transfer full) */
LabourPairs *labour_study_pairs_of (const LabourStudy *study, const char *first, const char *second, const char *timed);
/* What both methods have kept readings of, whole joints or elements, by name: const char *, borrowed from the study.
 * (transfer container) */
GPtrArray *labour_study_common (const LabourStudy *study, const char *first, const char *second);
/* What pairs come to, in one sentence that names what was timed. (transfer full) */
char *labour_pairs_sentence (const LabourStudy *study, const LabourPairs *pairs, const char *name_a, const char *name_b);
void labour_pairs_free (LabourPairs *pairs);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (LabourPairs, labour_pairs_free)

/* The answer of a study in one sentence. @name_a, @name_b: (nullable) names of the two methods. (transfer full) */
char *labour_study_sentence (const LabourStudy *study, const char *name_a, const char *name_b);

/* ---- accepting ---- */

/* The figures of a step. Low and high stand at about the 10 % and 90 % points of the job's average: each part at its own 90 %
 * point (the mean's error times Student's t (0.9), the spread between jobs times 1.2816), joined as the root of the sum of
 * squares. The scatter of one observation is told and is not in them. */
typedef struct
{
  double low, likely, high;
  double scatter;    /* of one observation; NAN unknown */
  double error;      /* standard error of the mean; NAN unknown: low and high are the spread between jobs alone */
  double job_spread; /* fraction */
} LabourAccepted;

/* FALSE with @fault when the study has no kept reading of the method. @timed: (nullable): that element alone, else the total. */
gboolean labour_study_accept (const LabourStudy *study, const char *method, const char *timed, LabourAccepted *accepted,
                              Fault **fault);
/* What a step that rests on the study may call itself: "shop's own", but "invented demo" or "from memory" where the study or a kept
 * reading of it is. Borrowed or static. */
const char *labour_study_step_status (const LabourStudy *study);
/* Puts accepted figures into the row of a step in the sheet "steps": fixed minutes, or those a foot or pound where the study's
 * unit is "ft" or "lb"; source "time study KEY, DATE" and the status of labour_study_step_status(). FALSE with @fault, the sheet as it was: no such
 * step, bands by mass, or minutes of another kind that would be counted beside. */
gboolean labour_study_put (const LabourStudy *study, const LabourAccepted *accepted, const char *date, const char *step,
                           CsvTable *steps, Fault **fault);

G_END_DECLS

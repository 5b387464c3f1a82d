/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/study-fit.h"

G_BEGIN_DECLS

/* One band of handling with the line of its minutes over the pounds of a piece, at the mean girth of its readings. */
typedef struct
{
  LabourFitBand *band; /* borrowed from the list of bands */
  gsize n;
  double *lb, *minutes;
  GPtrArray *words;    /* char *: what each reading is */
  double girth;        /* mean, ft; NAN where feet are not in the fit */
  double at[COST_FIT_PLACES], mean[COST_FIT_PLACES], mean_half[COST_FIT_PLACES], new_half[COST_FIT_PLACES];
} CostHandling;

/* The kept readings of one method that name the pounds of the piece, in standard worker-minutes of one: fixed + a pound x pounds,
 * and a foot x girth where feet are asked for, apart for each band. */
typedef struct
{
  GPtrArray *bands;    /* LabourFitBand *, light to heavy */
  GArray *handling;    /* CostHandling, one a band */
  gboolean with_ft;
  gsize n;             /* readings in all */
  guint left_out;      /* kept readings without pounds, or without a size where feet are asked for */
} CostStudyBands;

/* Upper limits in pounds of the bands of a step, the last without one left out; empty for a step of one row. Doubles. (transfer full) */
GArray *cost_step_limits (const CsvTable *steps, const char *step);
/* NULL when no kept reading of the method names pounds. @limits: as cost_step_limits(). (transfer full) */
CostStudyBands *cost_study_bands_new (const LabourStudy *study, const char *method, const GArray *limits,
                                      gboolean with_ft, LengthUnit unit);
void cost_study_bands_free (CostStudyBands *bands);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CostStudyBands, cost_study_bands_free)
/* Puts every band that has a line, with nothing below zero, into its row of the step; the others stay as they are. How many; 0 with
 * @fault when none could or the rows of the step are not these bands. Low and high as cost_study_fit_put(). */
guint cost_study_bands_put (const CostStudyBands *bands, const LabourStudy *study, const char *date, const char *step,
                            CsvTable *steps, Fault **fault);

G_END_DECLS

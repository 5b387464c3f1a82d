/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/kind.h"
#include "labour/fit.h"
#include "labour/study.h"

G_BEGIN_DECLS

#define COST_FIT_PLACES 33 /* where a fitted line is known for its picture */

/* The kept readings of one method over the girth of the duct, in standard worker-minutes of one, and the line fitted through them:
 * minutes = fixed + a foot x girth. */
typedef struct
{
  const char *method;    /* borrowed from the study */
  gsize n;               /* readings whose size can be read */
  guint left_out;        /* kept readings without such a size */
  double *girth, *minutes;
  GPtrArray *words;      /* char *: what each is, "24x12, 2026-03-09" */
  LabourFit *fit;        /* NULL: refused */
  Fault *fault;          /* why, or NULL */
  char *doubt;           /* coefficients below zero, named; NULL none */
  double at[COST_FIT_PLACES], mean[COST_FIT_PLACES], mean_half[COST_FIT_PLACES], new_half[COST_FIT_PLACES];
} CostStudyFit;

/* One for each method of the study with kept readings, of whole joints where it has them, else of @timed (NULL: the first element
 * of the method). @unit: of bare numbers in a size. GPtrArray of CostStudyFit *. (transfer full) */
GPtrArray *cost_study_fits (const LabourStudy *study, const char *timed, LengthUnit unit);
/* Puts a fit into the row of a step: fixed minutes and minutes a foot, each with low and high at the same share of it as the mean's
 * error in the middle of the readings, joined with the spread between jobs, is of the mean (as labour_study_accept()). FALSE with
 * @fault, the sheet as it was. */
gboolean cost_study_fit_put (const CostStudyFit *fit, const LabourStudy *study, const char *date, const char *step, CsvTable *steps,
                             Fault **fault);

G_END_DECLS

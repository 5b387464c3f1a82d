/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/study-fit.h"

G_BEGIN_DECLS

/* What the fits over girth and over pounds share. */

/* Girth in feet of a size as written; FALSE when it cannot be read. */
gboolean cost_study_girth (const char *size, LengthUnit unit, double *ft);
/* What is taken of a method: whole joints where it has them, else its first element; NULL without a kept reading. Borrowed. */
const char *cost_study_timing (const LabourStudy *study, const char *method);
/* Low, likely and high of a kind of minutes ("fixed", "per_ft", "per_lb"), @share of it to either side. */
void cost_study_put_points (CsvTable *steps, guint row, const char *kind, double likely, double share);
/* How far low and high stand from likely, as a share: the error of the mean at @x and the spread between jobs, joined. */
double cost_study_share (const LabourFit *fit, const double *x, const LabourStudy *study);

G_END_DECLS

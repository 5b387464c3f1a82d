/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/kind.h"
#include "labour/study.h"

G_BEGIN_DECLS

/* Readings of unlike pieces are no sample of one figure: their mean hangs on which pieces happened to be timed, their scatter is
 * that of the pieces, and the largest look like mistakes. This looks at each element of @result whose kept readings tell the pounds
 * of their piece or else a size: when a line over them (labour_fit_new(), in observed worker-minutes) has a slope that is not zero
 * at 99.9 % by Student's t and explains at least half of the sum of squares (choice of this program), outliers are flagged anew,
 * about the line (labour_flag_outliers() of what is left), and it is said in words. Words for each such element: char *. With
 * fewer than six readings nothing is judged. @unit: of bare numbers in a size. (transfer full) */
GPtrArray *cost_study_unlike (LabourResult *result, LengthUnit unit);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/explain.h"

G_BEGIN_DECLS

/* One step or item of an average joint of a run: the steps placed at the joint and the items that serve it, whether they come
 * with the piece or are put in on site. For reading; nothing is priced from it. */
typedef struct
{
  gboolean step;
  int target;                  /* step or item */
  double quantity;             /* items: units a joint */
  double minutes;              /* steps: worker-minutes a joint, conditions included */
  double money;                /* currency units a joint */
  const char *source, *status; /* borrowed from the catalogue */
} CostJointLine;

/* Adds the lines of cost_explain() up by step and item and divides them by the joints of the run, thousandths; @total
 * (nullable) gets the sums: the minutes and hardware a joint of CostOption, of this run alone. Empty where there is no joint.
 * (transfer full): GArray of CostJointLine, steps and items in the order of the recipe. */
GArray *cost_joint_lines (const CostBasis *basis, const GArray *lines, gint64 joints, CostJointLine *total);

/* Joints of one measured run, thousandths. */
gint64 cost_joint_count (const DuctMeasure *measure);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/check.h"

#include "duct/measure.h"
#include "job/note-line.h"

#include <glib/gi18n-lib.h>

/* By DuctDim. */
static const char *const dim_keys[DUCT_DIM_NONE] = {
  [DUCT_DIM_LENGTH] = "length", [DUCT_DIM_W2] = "size2",      [DUCT_DIM_H2] = "size2",    [DUCT_DIM_ANGLE] = "angle",
  [DUCT_DIM_THROAT] = "throat", [DUCT_DIM_OFFSET] = "offset", [DUCT_DIM_SHIFT] = "shift", [DUCT_DIM_LEGS] = "legs",
  [DUCT_DIM_SIZE] = "size",     [DUCT_DIM_CLASS] = "class",   [DUCT_DIM_GAUGE] = "gauge", [DUCT_DIM_FIT] = "fit_pieces",
  [DUCT_DIM_BRANCH] = "branch", [DUCT_DIM_SHIFT2] = "shift2", [DUCT_DIM_GORES] = "gores",
};

static const int dim_slots[DUCT_N_DIMS] = {
  [DUCT_DIM_LENGTH] = RUN_LENGTH, [DUCT_DIM_W2] = RUN_W2,         [DUCT_DIM_H2] = RUN_H2,
  [DUCT_DIM_ANGLE] = RUN_ANGLE,   [DUCT_DIM_THROAT] = RUN_THROAT, [DUCT_DIM_OFFSET] = RUN_OFFSET,
  [DUCT_DIM_SHIFT] = RUN_SHIFT,   [DUCT_DIM_LEGS] = RUN_LEGS,     [DUCT_DIM_BRANCH] = RUN_BRANCH,
  [DUCT_DIM_SHIFT2] = RUN_SHIFT2, [DUCT_DIM_GORES] = RUN_GORES,
};

static gint64
or_zero (gint64 v)
{
  return v == JOB_UNSET ? 0 : v;
}

static gboolean
check_counted (const JobRecord *run, int *field, Fault **fault)
{
  if (run->text[RUN_ITEM] || run->num[RUN_PRICE] != JOB_UNSET || run->num[RUN_SHOP_MINUTES] != JOB_UNSET
      || run->num[RUN_FIELD_MINUTES] != JOB_UNSET)
    return TRUE;
  *field = job_field_find (JOB_RUN, "item");
  return fault_set (fault, fault_new (-1, _ ("enter an item of the catalogue, a price or worker-minutes"),
                                      _ ("the counted line says nothing that could be counted")));
}

/* The class is inherited more often than not: any one serves to look at the rest. */
#define SOME_CLASS 1000

gboolean
job_run_check (const DuctRules *rules, const JobRecord *run, int *field, Fault **fault)
{
  DuctProblem problem = { DUCT_DIM_NONE, NULL };
  DuctShape shape;
  const char *key = "kind";

  *field = job_field_find (JOB_RUN, "kind");
  if (job_is_note_line (run))
    return TRUE;
  if (run->num[RUN_KIND] == JOB_UNSET)
    return fault_set (fault,
                      fault_new (-1,
                                 _ ("write straight, radius elbow, mitred elbow, transition, offset, tap, end cap or "
                                    "counted; note for a line of words"),
                                 _ ("no kind is given")));
  if (run->num[RUN_KIND] == DUCT_COUNTED)
    return check_counted (run, field, fault);
  if (run->num[RUN_KIND] == DUCT_REMARK)
    return job_note_line_check (run, field, fault);

  duct_shape_init (&shape, (DuctKind) run->num[RUN_KIND]);
  shape.w = run->num[RUN_W];
  shape.h = run->num[RUN_H];
  for (int d = 0; d < DUCT_N_DIMS; d++)
    shape.dim[d] = run->num[dim_slots[d]];
  shape.pressure = SOME_CLASS;
  shape.on_edge = run->num[RUN_ON_EDGE] == 1;
  shape.first_end = (guint8) or_zero (run->num[RUN_FIRST_END]);
  shape.last_end = (guint8) or_zero (run->num[RUN_LAST_END]);
  shape.fit_pieces = (gint32) or_zero (run->num[RUN_FIT]);
  if (or_zero (run->num[RUN_COUNT]) % 1000 != 0)
    {
      *field = job_field_find (JOB_RUN, "count");
      return fault_set (fault, fault_new (-1, _ ("enter a whole number"), _ ("ductwork is counted in whole numbers")));
    }
  if (duct_shape_resolve (rules, &shape, &problem))
    return TRUE;
  if (problem.dim == DUCT_DIM_ENDS || problem.dim == DUCT_DIM_LAST_END)
    key = problem.dim == DUCT_DIM_LAST_END ? "last_end" : "first_end";
  else if (problem.dim < DUCT_DIM_NONE)
    key = dim_keys[problem.dim];
  *field = job_field_find (JOB_RUN, key);
  return fault_set (fault, g_steal_pointer (&problem.fault));
}

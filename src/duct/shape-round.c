/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

#include <glib/gi18n-lib.h>

#define MOST_SIDE (20 * LENGTH_NM_PER_FT)
#define MOST_RUN (100000 * LENGTH_NM_PER_FT)
#define MOST_FLEXIBLE (100 * LENGTH_NM_PER_FT)
#define UDEG G_GINT64_CONSTANT (1000000)
#define MOST_GORES 30

/* Conventions of this file, where no table decides:
 * - The throat radius of a round elbow defaults to 0.75 D, the least that MIL-HDBK-1003/3, 6.1.3 allows, so that the centreline
 *   radius is 1.25 D; an elbow of a centreline radius of 1.5 D is entered as a throat radius of D.
 * - A saddle tap's length is that of its shortest line, from the wall of the main to its end. */

gboolean
duct_check_diameter (const DuctRules *rules, gint64 diameter, DuctDim dim, DuctProblem *problem)
{
  gint64 least = rules->allow[DUCT_ALLOW_ROUND_LEAST].value;

  if (diameter == DUCT_UNSET)
    return duct_problem_set (problem, dim, fault_new (-1, dim == DUCT_DIM_SIZE ? _ ("enter a diameter like 12 dia")
                                                                               : _ ("enter the second diameter like 10 dia"),
                                                      _ ("no diameter is given")));
  if (diameter < least)
    {
      g_autofree char *limit = length_print_unit (least, LENGTH_STYLE_IN);
      g_autofree char *text = length_print_unit (diameter, LENGTH_STYLE_IN);
      g_autofree char *remedy = g_strdup_printf (_ ("enter %s or more, or lower the allowance “smallest round”"), limit);
      return duct_problem_set (problem, dim, fault_new (-1, remedy, _ ("a diameter of %s is below the smallest round duct"), text));
    }
  if (diameter > MOST_SIDE)
    {
      g_autofree char *text = length_print_unit (diameter, LENGTH_STYLE_IN);
      return duct_problem_set (problem, dim, fault_new (-1, _ ("check the diameter and its unit"),
                                                        _ ("a diameter of %s is over 20 ft"), text));
    }
  return TRUE;
}

/* A second size of two sides does not go with a round end. */
static gboolean
check_second (const DuctRules *rules, const DuctShape *s, DuctProblem *problem)
{
  gint64 h = s->dim[DUCT_DIM_H2];

  if (h != DUCT_UNSET && h != 0)
    return duct_problem_set (problem, DUCT_DIM_W2, fault_new (-1, _ ("enter a diameter like 10 dia"),
                                                              _ ("the second size of this kind is round")));
  return duct_check_diameter (rules, s->dim[DUCT_DIM_W2], DUCT_DIM_W2, problem);
}

static gboolean
check_elbow (DuctShape *s, DuctProblem *problem)
{
  return duct_check_dim (s, DUCT_DIM_ANGLE, _ ("angle"), 90 * UDEG, UDEG, 180 * UDEG, problem)
         && duct_check_dim (s, DUCT_DIM_THROAT, _ ("throat radius"), s->w / 4 * 3, 0, MOST_SIDE, problem);
}

/* Two end gores of half a width each and whole ones between them: a half may turn by 45 degrees at most. */
static gboolean
check_gores (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  gint64 *gores = &s->dim[DUCT_DIM_GORES], angle = s->dim[DUCT_DIM_ANGLE];

  if (*gores == DUCT_UNSET)
    {
      int row = duct_rules_gores (rules, angle, s->w);
      if (row < 0)
        return duct_problem_set (problem, DUCT_DIM_GORES,
                                 fault_new (-1, _ ("enter the number of gores, or make the turn of two elbows"),
                                            _ ("no row of the gores table answers for this angle and diameter")));
      *gores = ((const DuctGores *) g_ptr_array_index (rules->gores, (guint) row))->gores * 1000;
    }
  if (*gores % 1000 != 0)
    return duct_problem_set (problem, DUCT_DIM_GORES, fault_new (-1, _ ("enter a whole number"),
                                                                 _ ("gores are counted in whole numbers")));
  if (*gores < 2000 || angle > 90 * UDEG * (*gores / 1000 - 1))
    return duct_problem_set (problem, DUCT_DIM_GORES, fault_new (-1, _ ("enter more gores, at least 2"),
                                                                 _ ("so few gores cannot make this turn")));
  if (*gores > MOST_GORES * 1000)
    return duct_problem_set (problem, DUCT_DIM_GORES, fault_new (-1, _ ("enter at most 30"), _ ("these are too many gores")));
  return TRUE;
}

/* Lengths that have a default. */
static gboolean
check_length (const DuctRules *rules, DuctShape *s, DuctAllowance fallback, DuctProblem *problem)
{
  return duct_check_dim (s, DUCT_DIM_LENGTH, _ ("length"), rules->allow[fallback].value, LENGTH_NM_PER_MM, MOST_SIDE, problem);
}

static gboolean
check_saddle (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  if (!check_second (rules, s, problem)
      || !duct_check_dim (s, DUCT_DIM_ANGLE, _ ("angle"), 90 * UDEG, 15 * UDEG, 90 * UDEG, problem)
      || !check_length (rules, s, DUCT_ALLOW_COLLAR_LENGTH, problem))
    return FALSE;
  if (s->w > s->dim[DUCT_DIM_W2])
    return duct_problem_set (problem, DUCT_DIM_W2, fault_new (-1, _ ("enter the branch first and the main as second size"),
                                                              _ ("the branch is wider than the main that it sits on")));
  return TRUE;
}

static gboolean
check_kind (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  if (s->kind == DUCT_ROUND_DUCT || s->kind == DUCT_FLEXIBLE_DUCT)
    return duct_check_dim (s, DUCT_DIM_LENGTH, _ ("length"), DUCT_UNSET, LENGTH_NM_PER_MM,
                           s->kind == DUCT_ROUND_DUCT ? MOST_RUN : MOST_FLEXIBLE, problem);
  if (s->kind == DUCT_GORED_ELBOW)
    return check_elbow (s, problem) && check_gores (rules, s, problem);
  if (s->kind == DUCT_STAMPED_ELBOW)
    return check_elbow (s, problem);
  if (s->kind == DUCT_REDUCER)
    return check_second (rules, s, problem) && check_length (rules, s, DUCT_ALLOW_REDUCER_LENGTH, problem)
           && duct_check_dim (s, DUCT_DIM_SHIFT, _ ("shift"), 0, -MOST_SIDE, MOST_SIDE, problem);
  if (s->kind == DUCT_SADDLE_TAP)
    return check_saddle (rules, s, problem);
  if (s->kind == DUCT_SPIN_IN)
    return check_length (rules, s, DUCT_ALLOW_COLLAR_LENGTH, problem);
  if (s->kind == DUCT_DAMPER)
    return check_length (rules, s, DUCT_ALLOW_DAMPER_LENGTH, problem);
  if (s->kind == DUCT_FABRIC_CONNECTOR)
    return check_length (rules, s, DUCT_ALLOW_FABRIC_LENGTH, problem);
  return TRUE; /* a cap has nothing but its diameter */
}

gboolean
duct_resolve_round (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  if (s->h == 0 && !duct_check_diameter (rules, s->w, DUCT_DIM_SIZE, problem))
    return FALSE;
  if (!check_kind (rules, s, problem))
    return FALSE;
  /* "10 dia" leaves a second height of 0; so does a size entered otherwise. */
  if (duct_kind_info (s->kind)->second == DUCT_ROUND)
    s->dim[DUCT_DIM_H2] = 0;
  return TRUE;
}

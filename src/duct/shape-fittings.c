/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define UDEG G_GINT64_CONSTANT (1000000)

static gboolean
check_length (DuctShape *s, gint64 fallback, DuctProblem *problem)
{
  return duct_check_dim (s, DUCT_DIM_LENGTH, _ ("length"), fallback, LENGTH_NM_PER_MM, DUCT_MOST_SIDE, problem);
}

static gboolean
check_second (const DuctRules *rules, const DuctShape *s, DuctProblem *problem)
{
  return duct_check_side (rules, s->dim[DUCT_DIM_W2], DUCT_DIM_W2, problem)
         && duct_check_side (rules, s->dim[DUCT_DIM_H2], DUCT_DIM_W2, problem);
}

static gboolean
resolve_square_to_round (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  if (s->dim[DUCT_DIM_W2] == DUCT_UNSET)
    return duct_problem_set (problem, DUCT_DIM_W2,
                             fault_new (-1, _ ("enter the diameter of the round end, like 14 dia"),
                                        _ ("no second size is given")));
  return duct_check_diameter (rules, s->dim[DUCT_DIM_W2], DUCT_DIM_W2, problem)
         && check_length (s, rules->allow[DUCT_ALLOW_TRANSITION_LENGTH].value, problem)
         && duct_check_dim (s, DUCT_DIM_SHIFT, _ ("shift"), 0, -DUCT_MOST_SIDE, DUCT_MOST_SIDE, problem)
         && duct_check_dim (s, DUCT_DIM_SHIFT2, _ ("shift of height"), 0, -DUCT_MOST_SIDE, DUCT_MOST_SIDE, problem);
}

/* The branch's first side lies along the main, its second across the wall that it stands on. */
static gboolean
resolve_tee (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  gint64 collar = rules->allow[DUCT_ALLOW_TEE_BRANCH].value, along, across, wall = s->on_edge ? s->w : s->h;

  if (!check_second (rules, s, problem))
    return FALSE;
  along = s->dim[s->on_edge ? DUCT_DIM_H2 : DUCT_DIM_W2];
  across = s->dim[s->on_edge ? DUCT_DIM_W2 : DUCT_DIM_H2];
  if (!duct_check_dim (s, DUCT_DIM_BRANCH, _ ("branch length"), collar, LENGTH_NM_PER_MM, DUCT_MOST_SIDE, problem)
      || !check_length (s, along + 2 * collar, problem))
    return FALSE;
  if (across > wall)
    return duct_problem_set (problem, DUCT_DIM_W2,
                             fault_new (-1, _ ("enter a lower branch, a larger main, or turn the piece on edge"),
                                        _ ("the branch is higher than the wall of the main that it stands on")));
  if (along > s->dim[DUCT_DIM_LENGTH])
    return duct_problem_set (problem, DUCT_DIM_LENGTH,
                             fault_new (-1, _ ("make the main longer, or the branch narrower"),
                                        _ ("the branch is wider than the main of the tee is long")));
  return TRUE;
}

/* The plan of geometry-fittings.c must be one: the branches part within their length, and what runs from the trunk to
 * the far corner of a branch passes outside the crotch. */
static gboolean
resolve_wye (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  double a, a2, angle, length, crotch, ox, oy;

  if (!check_second (rules, s, problem)
      || !duct_check_dim (s, DUCT_DIM_ANGLE, _ ("angle"), 45 * UDEG, UDEG, 90 * UDEG, problem)
      || !check_length (s, rules->allow[DUCT_ALLOW_WYE_LENGTH].value, problem))
    return FALSE;
  a = (double) (s->on_edge ? s->h : s->w);
  a2 = (double) s->dim[s->on_edge ? DUCT_DIM_H2 : DUCT_DIM_W2];
  angle = (double) s->dim[DUCT_DIM_ANGLE] * (G_PI / 180e6);
  length = (double) s->dim[DUCT_DIM_LENGTH];
  crotch = a2 / 2 / sin (angle);
  ox = length * sin (angle) + a2 / 2 * cos (angle);
  oy = length * cos (angle) - a2 / 2 * sin (angle);
  if (length <= a2 / 2 / tan (angle))
    return duct_problem_set (problem, DUCT_DIM_LENGTH,
                             fault_new (-1, _ ("make it longer, the branches narrower or the angle larger"),
                                        _ ("the branches of the wye do not part within its length")));
  if (oy <= 0)
    return duct_problem_set (problem, DUCT_DIM_LENGTH,
                             fault_new (-1, _ ("make it longer, the branches narrower or the angle smaller"),
                                        _ ("a branch of the wye would reach back behind its trunk")));
  if ((ox - a / 2) * crotch + a / 2 * oy <= 0)
    return duct_problem_set (problem, DUCT_DIM_LENGTH,
                             fault_new (-1, _ ("make it longer, or the trunk narrower"),
                                        _ ("the trunk of the wye is too wide to run into its branches")));
  return TRUE;
}

static gboolean
resolve_boot (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  if (!check_length (s, rules->allow[DUCT_ALLOW_TAP_LENGTH].value, problem)
      || !duct_check_dim (s, DUCT_DIM_OFFSET, _ ("offset"), rules->allow[DUCT_ALLOW_BOOT].value, LENGTH_NM_PER_MM,
                          DUCT_MOST_SIDE, problem))
    return FALSE;
  if (s->dim[DUCT_DIM_OFFSET] > s->dim[DUCT_DIM_LENGTH])
    return duct_problem_set (problem, DUCT_DIM_OFFSET,
                             fault_new (-1, _ ("make the tap longer, or the base shorter"),
                                        _ ("a side at 45 degrees cannot reach further than the tap is long")));
  return TRUE;
}

gboolean
duct_resolve_fitting (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  const DuctFigure *allow = rules->allow;

  switch ((DuctKind) s->kind)
    {
    case DUCT_ANGLED_OFFSET:
      return check_length (s, allow[DUCT_ALLOW_OFFSET_LENGTH].value, problem)
             && duct_check_dim (s, DUCT_DIM_OFFSET, _ ("offset"), allow[DUCT_ALLOW_OFFSET_ASIDE].value,
                                LENGTH_NM_PER_MM, DUCT_MOST_SIDE, problem);
    case DUCT_SQUARE_TO_ROUND:
      return resolve_square_to_round (rules, s, problem);
    case DUCT_TEE:
      return resolve_tee (rules, s, problem);
    case DUCT_WYE:
      return resolve_wye (rules, s, problem);
    case DUCT_BOOT_TAP:
      return resolve_boot (rules, s, problem);
    case DUCT_PLENUM_BOX:
      return check_length (s, DUCT_UNSET, problem);
    case DUCT_TURNING_VANES:
      return duct_check_dim (s, DUCT_DIM_ANGLE, _ ("angle"), 90 * UDEG, UDEG, 90 * UDEG, problem);
    case DUCT_DAMPER:
      return check_length (s, allow[DUCT_ALLOW_DAMPER_LENGTH].value, problem);
    case DUCT_FABRIC_CONNECTOR:
      return check_length (s, allow[DUCT_ALLOW_FABRIC_LENGTH].value, problem);
    case DUCT_ACCESS_DOOR:
    case DUCT_STRAIGHT:
    case DUCT_RADIUS_ELBOW:
    case DUCT_MITRED_ELBOW:
    case DUCT_TRANSITION:
    case DUCT_OFFSET:
    case DUCT_TAP:
    case DUCT_END_CAP:
    case DUCT_COUNTED:
    case DUCT_REMARK:
    case DUCT_SPIN_IN:
    case DUCT_ROUND_DUCT:
    case DUCT_GORED_ELBOW:
    case DUCT_STAMPED_ELBOW:
    case DUCT_REDUCER:
    case DUCT_SADDLE_TAP:
    case DUCT_ROUND_CAP:
    case DUCT_FLEXIBLE_DUCT:
    case DUCT_N_KINDS:
    default:
      return TRUE;
    }
}

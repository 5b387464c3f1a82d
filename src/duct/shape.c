/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define MOST_SIDE DUCT_MOST_SIDE
#define MOST_RUN (100000 * LENGTH_NM_PER_FT)
#define UDEG G_GINT64_CONSTANT (1000000)

void
duct_shape_init (DuctShape *shape, DuctKind kind)
{
  memset (shape, 0, sizeof *shape);
  shape->kind = (guint8) kind;
  for (int i = 0; i < DUCT_N_DIMS; i++)
    shape->dim[i] = DUCT_UNSET;
  shape->coil = DUCT_UNSET;
  shape->sheet_pin = -1;
  shape->wrap = -1;
  shape->stiffening = DUCT_NO_STIFFENING;
}

gboolean
duct_shape_equal (const DuctShape *a, const DuctShape *b)
{
  return memcmp (a, b, sizeof *a) == 0;
}

guint
duct_shape_hash (const DuctShape *shape)
{
  guint64 words[sizeof (DuctShape) / 8], x = G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);

  G_STATIC_ASSERT (sizeof (DuctShape) % 8 == 0);
  memcpy (words, shape, sizeof words);
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      x ^= words[i];
      x *= G_GUINT64_CONSTANT (0xff51afd7ed558ccd);
      x ^= x >> 32;
    }
  return (guint) x;
}

void
duct_problem_clear (DuctProblem *problem)
{
  g_clear_pointer (&problem->fault, fault_free);
  problem->dim = DUCT_DIM_NONE;
}

gboolean
duct_problem_set (DuctProblem *problem, DuctDim dim, Fault *fault)
{
  if (problem)
    {
      problem->dim = dim;
      problem->fault = fault;
    }
  else
    fault_free (fault);
  return FALSE;
}

static char *
in_text (gint64 nm)
{
  return length_print_unit (nm, LENGTH_STYLE_IN);
}

gboolean
duct_check_side (const DuctRules *rules, gint64 side, DuctDim dim, DuctProblem *problem)
{
  /* A flange bar is the side less what the corners take; it needs some length left. */
  const DuctStep *profile = g_ptr_array_index (rules->profiles, 0);

  if (side == DUCT_UNSET)
    return duct_problem_set (problem, dim, fault_new (-1, dim == DUCT_DIM_SIZE ? _ ("enter a size like 24x12")
                                                                          : _ ("enter the second size like 18x10"),
                                                 _ ("no size is given")));
  if (side <= profile->value)
    {
      g_autofree char *text = in_text (side);
      g_autofree char *least = in_text (profile->value);
      g_autofree char *remedy = g_strdup_printf (_ ("enter sides over %s"), least);
      return duct_problem_set (problem, dim, fault_new (-1, remedy, _ ("a side of %s cannot be built"), text));
    }
  if (side > MOST_SIDE)
    {
      g_autofree char *text = in_text (side);
      return duct_problem_set (problem, dim, fault_new (-1, _ ("check the size and its unit; split a plenum into panels"),
                                                   _ ("a side of %s is over 20 ft"), text));
    }
  return TRUE;
}

/* Takes the default where nothing was entered, then holds the value between bounds (both allowed). */
gboolean
duct_check_dim (DuctShape *shape, DuctDim dim, const char *name, gint64 fallback, gint64 least, gint64 most,
           DuctProblem *problem)
{
  gint64 *v = &shape->dim[dim];

  if (*v == DUCT_UNSET)
    *v = fallback;
  if (*v == DUCT_UNSET)
    return duct_problem_set (problem, dim, fault_new (-1, _ ("enter it"), _ ("no %s is given"), name));
  /* At 0 and below the sign is what is wrong, not the size. */
  if (*v <= 0 && least > 0)
    {
      g_autofree char *remedy = g_strdup_printf (_ ("enter a positive %s"), name);
      return duct_problem_set (problem, dim, fault_new (-1, remedy, _ ("the %s is not over 0"), name));
    }
  if (*v < 0 && least == 0)
    return duct_problem_set (problem, dim,
                             fault_new (-1, _ ("enter 0 or a positive figure"), _ ("the %s is below 0"), name));
  if (*v < least)
    return duct_problem_set (problem, dim, fault_new (-1, _ ("enter a larger figure"), _ ("the %s is too small"), name));
  if (*v > most)
    return duct_problem_set (problem, dim, fault_new (-1, _ ("check the figure and its unit"), _ ("the %s is too large"),
                                                 name));
  return TRUE;
}

static gboolean
resolve_dims (const DuctRules *rules, DuctShape *s, DuctProblem *problem)
{
  const DuctFigure *allow = rules->allow;
  gint64 turning = s->on_edge ? s->h : s->w;

  switch ((DuctKind) s->kind)
    {
    case DUCT_STRAIGHT:
      return duct_check_dim (s, DUCT_DIM_LENGTH, _ ("length"), DUCT_UNSET, LENGTH_NM_PER_MM, MOST_RUN, problem);
    case DUCT_RADIUS_ELBOW:
      return duct_check_dim (s, DUCT_DIM_ANGLE, _ ("angle"), 90 * UDEG, UDEG, 180 * UDEG, problem)
             && duct_check_dim (s, DUCT_DIM_THROAT, _ ("throat radius"), turning, 0, MOST_SIDE, problem);
    case DUCT_MITRED_ELBOW:
      return duct_check_dim (s, DUCT_DIM_ANGLE, _ ("angle"), 90 * UDEG, UDEG, 90 * UDEG, problem)
             && duct_check_dim (s, DUCT_DIM_LEGS, _ ("throat legs"), allow[DUCT_ALLOW_MITRE_LEGS].value, 0, MOST_SIDE,
                           problem);
    case DUCT_TRANSITION:
      return duct_check_side (rules, s->dim[DUCT_DIM_W2], DUCT_DIM_W2, problem)
             && duct_check_side (rules, s->dim[DUCT_DIM_H2], DUCT_DIM_W2, problem)
             && duct_check_dim (s, DUCT_DIM_LENGTH, _ ("length"), allow[DUCT_ALLOW_TRANSITION_LENGTH].value,
                           LENGTH_NM_PER_MM, MOST_SIDE, problem)
             && duct_check_dim (s, DUCT_DIM_SHIFT, _ ("shift"), 0, -MOST_SIDE, MOST_SIDE, problem)
             && duct_check_dim (s, DUCT_DIM_SHIFT2, _ ("shift of height"), 0, -MOST_SIDE, MOST_SIDE, problem);
    case DUCT_OFFSET:
      if (!duct_check_dim (s, DUCT_DIM_LENGTH, _ ("length"), allow[DUCT_ALLOW_OFFSET_LENGTH].value, LENGTH_NM_PER_MM,
                      MOST_SIDE, problem)
          || !duct_check_dim (s, DUCT_DIM_OFFSET, _ ("offset"), allow[DUCT_ALLOW_OFFSET_ASIDE].value, LENGTH_NM_PER_MM,
                         MOST_SIDE, problem))
        return FALSE;
      if (s->dim[DUCT_DIM_OFFSET] >= s->dim[DUCT_DIM_LENGTH])
        return duct_problem_set (problem, DUCT_DIM_OFFSET,
                            fault_new (-1, _ ("make it longer, or use two elbows"),
                                       _ ("an offset cannot move aside as far as it is long")));
      return TRUE;
    case DUCT_TAP:
      return duct_check_dim (s, DUCT_DIM_LENGTH, _ ("length"), allow[DUCT_ALLOW_TAP_LENGTH].value, LENGTH_NM_PER_MM, MOST_SIDE,
                        problem);
    case DUCT_END_CAP:
      return TRUE;
    case DUCT_ANGLED_OFFSET:
    case DUCT_SQUARE_TO_ROUND:
    case DUCT_TEE:
    case DUCT_WYE:
    case DUCT_BOOT_TAP:
    case DUCT_PLENUM_BOX:
    case DUCT_ACCESS_DOOR:
    case DUCT_TURNING_VANES:
      return duct_resolve_fitting (rules, s, problem);
    case DUCT_DAMPER:
    case DUCT_FABRIC_CONNECTOR:
      return s->h == 0 ? duct_resolve_round (rules, s, problem) : duct_resolve_fitting (rules, s, problem);
    case DUCT_SPIN_IN:
    case DUCT_ROUND_DUCT:
    case DUCT_GORED_ELBOW:
    case DUCT_STAMPED_ELBOW:
    case DUCT_REDUCER:
    case DUCT_SADDLE_TAP:
    case DUCT_ROUND_CAP:
    case DUCT_FLEXIBLE_DUCT:
      return duct_resolve_round (rules, s, problem);
    case DUCT_COUNTED:
    case DUCT_REMARK:
    case DUCT_N_KINDS:
    default:
      return duct_problem_set (problem, DUCT_DIM_NONE,
                          fault_new (-1, _ ("enter an item"), _ ("a counted line has no geometry")));
    }
}

/* Ends that the kind does not have must be left alone: "open" on a tap's first end would be a slip. */
static gboolean
check_ends (const DuctShape *s, DuctProblem *problem)
{
  const DuctKindInfo *info = duct_kind_info (s->kind);

  if (!info->has_first && s->first_end != DUCT_END_JOINT)
    return duct_problem_set (problem, DUCT_DIM_ENDS, fault_new (-1, _ ("clear the first end"),
                                                                _ ("this kind has no first end")));
  if (!info->has_last && s->last_end != DUCT_END_JOINT)
    return duct_problem_set (problem, DUCT_DIM_LAST_END, fault_new (-1, _ ("clear the last end"),
                                                           _ ("this kind has no last end")));
  return TRUE;
}

/* Before what the kind does not use is forgotten: a second size of the wrong form would else be taken by half. */
static gboolean
check_second (const DuctShape *s, const DuctKindInfo *info, DuctProblem *problem)
{
  gint64 h2 = s->dim[DUCT_DIM_H2];

  if (info->second == DUCT_ROUND && h2 != 0 && h2 != DUCT_UNSET)
    return duct_problem_set (problem, DUCT_DIM_W2, fault_new (-1, _ ("enter a diameter like 14 dia"),
                                                              _ ("the second size of this kind is round")));
  if (info->second == DUCT_RECT && h2 == 0)
    return duct_problem_set (problem, DUCT_DIM_W2, fault_new (-1, _ ("enter two sides like 18x10, or choose a kind with a round end"),
                                                              _ ("the second size of this kind is not round")));
  return TRUE;
}

/* A kind asks for a size of two sides or for a diameter; either kind's size is called by what it is. */
static gboolean
check_section (const DuctRules *rules, const DuctShape *s, const DuctKindInfo *info, DuctProblem *problem)
{
  if (s->h == 0 && info->section == DUCT_RECT)
    return duct_problem_set (problem, DUCT_DIM_SIZE, fault_new (-1, _ ("enter two sides like 24x12, or choose a round kind"),
                                                                _ ("a round size does not go with this kind")));
  if (s->h != 0 && s->h != DUCT_UNSET && info->section == DUCT_ROUND)
    return duct_problem_set (problem, DUCT_DIM_SIZE, fault_new (-1, _ ("enter a diameter like 12 dia"),
                                                                _ ("this kind is round")));
  if (info->section == DUCT_ROUND && (s->w == DUCT_UNSET || s->h == DUCT_UNSET))
    return duct_problem_set (problem, DUCT_DIM_SIZE, fault_new (-1, _ ("enter a diameter like 12 dia"), _ ("no diameter is given")));
  /* A diameter has bounds of its own: shape-round.c. */
  return s->h == 0
         || (duct_check_side (rules, s->w, DUCT_DIM_SIZE, problem) && duct_check_side (rules, s->h, DUCT_DIM_SIZE, problem));
}

gboolean
duct_shape_resolve (const DuctRules *rules, DuctShape *shape, DuctProblem *problem)
{
  const DuctKindInfo *info = duct_kind_info (shape->kind);

  if (!check_second (shape, info, problem))
    return FALSE;
  /* What the kind does not use must not make two equal pieces look different. */
  for (int i = 0; i < DUCT_N_DIMS; i++)
    if (!(info->dims & (1u << i)))
      shape->dim[i] = DUCT_UNSET;

  if (!check_section (rules, shape, info, problem) || !resolve_dims (rules, shape, problem) || !check_ends (shape, problem))
    return FALSE;
  if (shape->pressure == 0)
    return duct_problem_set (problem, DUCT_DIM_CLASS,
                        fault_new (-1, _ ("enter a class on the run, its system or its area"), _ ("no pressure class is given")));
  if (shape->fit_pieces < 0)
    return duct_problem_set (problem, DUCT_DIM_FIT, fault_new (-1, _ ("enter how many pieces are cut on site"),
                                                          _ ("pieces to fit cannot be negative")));
  return duct_check_lining (shape, problem);
}

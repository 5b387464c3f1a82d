/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define MOST_SIDE (20 * LENGTH_NM_PER_FT)
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

static gboolean
problem_set (DuctProblem *problem, DuctDim dim, Fault *fault)
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

static gboolean
check_side (const DuctRules *rules, gint64 side, DuctDim dim, DuctProblem *problem)
{
  /* A flange bar is the side less what the corners take; it needs some length left. */
  const DuctStep *profile = g_ptr_array_index (rules->profiles, 0);

  if (side == DUCT_UNSET)
    return problem_set (problem, dim, fault_new (-1, dim == DUCT_DIM_SIZE ? _ ("enter a size like 24x12")
                                                                          : _ ("enter the second size like 18x10"),
                                                 _ ("no size is given")));
  if (side <= profile->value)
    {
      g_autofree char *text = in_text (side);
      g_autofree char *least = in_text (profile->value);
      g_autofree char *remedy = g_strdup_printf (_ ("enter sides over %s"), least);
      return problem_set (problem, dim, fault_new (-1, remedy, _ ("a side of %s cannot be built"), text));
    }
  if (side > MOST_SIDE)
    {
      g_autofree char *text = in_text (side);
      return problem_set (problem, dim, fault_new (-1, _ ("check the size and its unit; split a plenum into panels"),
                                                   _ ("a side of %s is over 20 ft"), text));
    }
  return TRUE;
}

/* Takes the default where nothing was entered, then holds the value between bounds (both allowed). */
static gboolean
check_dim (DuctShape *shape, DuctDim dim, const char *name, gint64 fallback, gint64 least, gint64 most,
           DuctProblem *problem)
{
  gint64 *v = &shape->dim[dim];

  if (*v == DUCT_UNSET)
    *v = fallback;
  if (*v == DUCT_UNSET)
    return problem_set (problem, dim, fault_new (-1, _ ("enter it"), _ ("no %s is given"), name));
  if (*v < least)
    return problem_set (problem, dim, fault_new (-1, _ ("enter a larger figure"), _ ("the %s is too small"), name));
  if (*v > most)
    return problem_set (problem, dim, fault_new (-1, _ ("check the figure and its unit"), _ ("the %s is too large"),
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
      return check_dim (s, DUCT_DIM_LENGTH, _ ("length"), DUCT_UNSET, LENGTH_NM_PER_MM, MOST_RUN, problem);
    case DUCT_RADIUS_ELBOW:
      return check_dim (s, DUCT_DIM_ANGLE, _ ("angle"), 90 * UDEG, UDEG, 180 * UDEG, problem)
             && check_dim (s, DUCT_DIM_THROAT, _ ("throat radius"), turning, 0, MOST_SIDE, problem);
    case DUCT_MITRED_ELBOW:
      return check_dim (s, DUCT_DIM_ANGLE, _ ("angle"), 90 * UDEG, UDEG, 90 * UDEG, problem)
             && check_dim (s, DUCT_DIM_LEGS, _ ("throat legs"), allow[DUCT_ALLOW_MITRE_LEGS].value, 0, MOST_SIDE,
                           problem);
    case DUCT_TRANSITION:
      return check_side (rules, s->dim[DUCT_DIM_W2], DUCT_DIM_W2, problem)
             && check_side (rules, s->dim[DUCT_DIM_H2], DUCT_DIM_W2, problem)
             && check_dim (s, DUCT_DIM_LENGTH, _ ("length"), allow[DUCT_ALLOW_TRANSITION_LENGTH].value,
                           LENGTH_NM_PER_MM, MOST_SIDE, problem)
             && check_dim (s, DUCT_DIM_SHIFT, _ ("shift"), 0, -MOST_SIDE, MOST_SIDE, problem);
    case DUCT_OFFSET:
      if (!check_dim (s, DUCT_DIM_LENGTH, _ ("length"), allow[DUCT_ALLOW_OFFSET_LENGTH].value, LENGTH_NM_PER_MM,
                      MOST_SIDE, problem)
          || !check_dim (s, DUCT_DIM_OFFSET, _ ("offset"), allow[DUCT_ALLOW_OFFSET_ASIDE].value, LENGTH_NM_PER_MM,
                         MOST_SIDE, problem))
        return FALSE;
      if (s->dim[DUCT_DIM_OFFSET] >= s->dim[DUCT_DIM_LENGTH])
        return problem_set (problem, DUCT_DIM_OFFSET,
                            fault_new (-1, _ ("make it longer, or use two elbows"),
                                       _ ("an offset cannot move aside as far as it is long")));
      return TRUE;
    case DUCT_TAP:
      return check_dim (s, DUCT_DIM_LENGTH, _ ("length"), allow[DUCT_ALLOW_TAP_LENGTH].value, LENGTH_NM_PER_MM, MOST_SIDE,
                        problem);
    case DUCT_END_CAP:
      return TRUE;
    case DUCT_COUNTED:
    case DUCT_N_KINDS:
    default:
      return problem_set (problem, DUCT_DIM_NONE,
                          fault_new (-1, _ ("enter an item"), _ ("a counted line has no geometry")));
    }
}

/* Ends that the kind does not have must be left alone: "open" on a tap's first end would be a slip. */
static gboolean
check_ends (const DuctShape *s, DuctProblem *problem)
{
  const DuctKindInfo *info = duct_kind_info (s->kind);

  if (!info->has_first && s->first_end != DUCT_END_JOINT)
    return problem_set (problem, DUCT_DIM_ENDS, fault_new (-1, _ ("clear the first end; the last end is the tap's own"),
                                                           _ ("a tap has no first end")));
  if (!info->has_last && s->last_end != DUCT_END_JOINT)
    return problem_set (problem, DUCT_DIM_LAST_END, fault_new (-1, _ ("clear the last end"),
                                                           _ ("an end cap has no last end")));
  return TRUE;
}

gboolean
duct_shape_resolve (const DuctRules *rules, DuctShape *shape, DuctProblem *problem)
{
  const DuctKindInfo *info = duct_kind_info (shape->kind);

  /* What the kind does not use must not make two equal pieces look different. */
  for (int i = 0; i < DUCT_N_DIMS; i++)
    if (!(info->dims & (1u << i)))
      shape->dim[i] = DUCT_UNSET;

  if (!check_side (rules, shape->w, DUCT_DIM_SIZE, problem) || !check_side (rules, shape->h, DUCT_DIM_SIZE, problem)
      || !resolve_dims (rules, shape, problem) || !check_ends (shape, problem))
    return FALSE;
  if (shape->pressure == 0)
    return problem_set (problem, DUCT_DIM_CLASS,
                        fault_new (-1, _ ("enter a class on the run, its system or its area"), _ ("no pressure class is given")));
  if (shape->fit_pieces < 0)
    return problem_set (problem, DUCT_DIM_FIT, fault_new (-1, _ ("enter how many pieces are cut on site"),
                                                          _ ("pieces to fit cannot be negative")));
  return TRUE;
}

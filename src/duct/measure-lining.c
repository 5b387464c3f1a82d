/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

#include <glib/gi18n-lib.h>

/* Conventions:
 * - Liner: the inside faces of a straight, its metal size less the liner on every side; of a fitting its geometric area. Bought
 *   pieces, flexible duct and loose vanes have none.
 * - Pins: sides of the metal, over the laid length; of a fitting over its centreline, with the larger of its two sizes. An end
 *   cap is a plate; a plenum box four sides and two plates.
 * - Nosing: the inside girth of a leading (first) end, where what stands before it is no lined duct, and on every piece of a fast
 *   stream.
 * - Wrap: geometric area, and the stretch-out along the centreline: (girth + stretch-out) x length for every piece of one
 *   section. Its pins hold it under the bottom, no two fixed points further apart than the spacing.
 * - Sealing: seams as the seam allowance counts them, one a piece along its centreline; a lock seam of spiral duct needs none. */

/* Area of the walls in mm2, ends open. */
static double
surface (const DuctWork *k, const DuctPlace *place)
{
  const DuctShape *s = k->shape;
  double girth = (double) duct_girth (s->w, s->h) / 1e6;

  if (duct_is_straight (s->kind))
    return girth * (double) place->length / 1e6;
  if (s->kind == DUCT_DAMPER)
    return girth * (double) s->dim[DUCT_DIM_LENGTH] / 1e6;
  return k->geometry.area_mm2;
}

/* Along the piece, in nm. */
static gint64
along (const DuctWork *k, const DuctPlace *place)
{
  if (duct_is_straight (k->shape->kind))
    return place->length;
  if (k->shape->kind == DUCT_DAMPER || k->shape->kind == DUCT_PLENUM_BOX)
    return k->shape->dim[DUCT_DIM_LENGTH];
  return duct_round (k->geometry.centreline_mm * 1e6);
}

static gint64
ceil_div (gint64 a, gint64 b)
{
  return a <= 0 ? 0 : (a + b - 1) / b;
}

/* Pins across a side of the metal. */
static gint64
pins_across (const DuctRules *rules, const DuctLinerPins *row, gint64 side)
{
  if (side <= rules->allow[DUCT_ALLOW_LINER_NO_PINS].value)
    return 0;
  return ceil_div (side - 2 * rules->allow[DUCT_ALLOW_LINER_FROM_CORNER].value, row->across_nm) + 1;
}

static gint64
pin_rows (const DuctRules *rules, const DuctLinerPins *row, gint64 length)
{
  return ceil_div (length - 2 * rules->allow[DUCT_ALLOW_LINER_EDGE].value, row->along_nm) + 1;
}

static gint64
liner_pins (const DuctWork *k, const DuctLinerPins *row, gint64 length)
{
  const DuctShape *s = k->shape;
  gboolean two = duct_kind_info (s->kind)->second == DUCT_RECT && s->dim[DUCT_DIM_H2] != DUCT_UNSET;
  gint64 w = two ? MAX (s->w, s->dim[DUCT_DIM_W2]) : s->w, h = two ? MAX (s->h, s->dim[DUCT_DIM_H2]) : s->h;
  gint64 plate = pins_across (k->rules, row, w) > 0 ? pins_across (k->rules, row, w) * pin_rows (k->rules, row, h) : 0;
  gint64 sides =
      2 * (pins_across (k->rules, row, w) + pins_across (k->rules, row, h)) * pin_rows (k->rules, row, length);

  if (s->kind == DUCT_END_CAP)
    return plate;
  return s->kind == DUCT_PLENUM_BOX ? sides + 2 * plate : sides;
}

static void
add_liner (DuctWork *k, gint64 *one, const DuctPlace *place)
{
  const DuctShape *s = k->shape;
  const GPtrArray *rows = k->rules->liner_pins;
  gint64 inner_w = s->w - 2 * s->liner, inner_h = s->h == 0 ? 0 : s->h - 2 * s->liner,
         girth = duct_girth (inner_w, inner_h);
  double mm2 =
      duct_is_straight (s->kind) ? (double) girth / 1e6 * ((double) place->length / 1e6) : k->geometry.area_mm2;
  /* The first row is the slow stream's; a fast one takes the row behind it. */
  const DuctLinerPins *row = rows->len == 0 ? NULL : g_ptr_array_index (rows, s->fast ? MIN (1, rows->len - 1) : 0);

  one[DUCT_LINER_FT2] = duct_round (mm2);
  one[DUCT_LINER_BOARD_FT2] = duct_round (mm2 * (double) s->liner / (double) LENGTH_NM_PER_IN);
  one[DUCT_ADHESIVE_FT2] = duct_round (mm2 * (row ? (double) row->adhesive_ppm / 1e6 : 1));
  if (!row)
    k->notes |= DUCT_NOTE_NO_LINER_PINS;
  else if (s->h == 0)
    k->notes |= DUCT_NOTE_ROUND_LINER;
  else
    one[DUCT_LINER_PIN] = COUNT (liner_pins (k, row, along (k, place)));
  if (s->fast)
    k->notes |= DUCT_NOTE_NOSING;
  if (duct_kind_info (s->kind)->has_first && (s->fast || (place->leads && duct_end_by_others (place->first))))
    one[DUCT_NOSING_FT] = UM (girth);
}

static void
add_wrap (DuctWork *k, gint64 *one, const DuctPlace *place)
{
  const DuctShape *s = k->shape;
  const DuctWrap *wrap = g_ptr_array_index (k->rules->wraps, (guint) s->wrap);
  gint64 extra = s->h == 0 ? wrap->round_add_nm : s->w == s->h ? wrap->square_add_nm : wrap->rect_add_nm;
  gint64 length = along (k, place), spacing = k->rules->allow[DUCT_ALLOW_WRAP_PIN_SPACING].value;
  double mm2 = surface (k, place) + (double) extra / 1e6 * ((double) length / 1e6);

  one[DUCT_WRAP_FT2] = duct_round (mm2);
  one[DUCT_WRAP_BOARD_FT2] = duct_round (mm2 * (double) wrap->thickness_nm / (double) LENGTH_NM_PER_IN);
  if (s->h > 0 && !s->riser && s->w >= k->rules->allow[DUCT_ALLOW_WRAP_PINS_FROM].value)
    one[DUCT_WRAP_PIN] = COUNT (MAX (ceil_div (s->w, spacing) - 1, 1) * ceil_div (length, spacing));
}

/* Girth of the hole that this piece needs in the wall of a duct, nm. */
static gint64
penetration (const DuctShape *s)
{
  gint64 base = duct_girth (s->w, s->h);

  switch ((int) s->kind)
    {
    case DUCT_TAP:
    case DUCT_SPIN_IN:
    case DUCT_SADDLE_TAP:
    case DUCT_ACCESS_DOOR:
      return base;
    case DUCT_BOOT_TAP:
      return base + 2 * s->dim[DUCT_DIM_OFFSET];
    default:
      return 0;
    }
}

static void
add_sealing (DuctWork *k, gint64 *one)
{
  const DuctShape *s = k->shape;
  const DuctSealClass *seal = g_ptr_array_index (k->rules->seal_classes, (guint) s->seal - 1);
  gboolean seam = duct_kind_info (s->kind)->seam && !duct_kind_info (s->kind)->bought;

  if (ABS (s->pressure) > seal->class_to)
    k->notes |= DUCT_NOTE_LOOSE_SEAL;
  if (seal->seams && seam)
    one[DUCT_SEALED_SEAM_FT] = duct_is_straight (s->kind) ? one[DUCT_SEAM] : one[DUCT_LEN_PIECE];
  /* Joints between gores lie inside the fitting: no joint of the run seals them. */
  if (seal->joints && s->kind == DUCT_GORED_ELBOW && s->dim[DUCT_DIM_GORES] > 1000)
    one[DUCT_SEALED_JOINT_FT] = UM (duct_girth (s->w, 0) * (s->dim[DUCT_DIM_GORES] / 1000 - 1));
  if (seal->walls)
    one[DUCT_SEALED_WALL_FT] = UM (penetration (s));
}

void
duct_add_lining (DuctWork *k, gint64 *one, const DuctPlace *place)
{
  const DuctShape *s = k->shape;
  gboolean vanes = s->kind == DUCT_TURNING_VANES, bought = duct_kind_info (s->kind)->bought;
  gboolean walls =
      !vanes && s->kind != DUCT_ACCESS_DOOR && s->kind != DUCT_FLEXIBLE_DUCT && s->kind != DUCT_FABRIC_CONNECTOR;

  if (s->liner > 0 && !bought && !vanes)
    add_liner (k, one, place);
  if (s->wrap >= 0 && walls)
    add_wrap (k, one, place);
  if (s->seal > 0)
    add_sealing (k, one);
  if (s->tested && walls)
    one[DUCT_TEST_FT2] = duct_round (surface (k, place));
}

gboolean
duct_check_lining (const DuctShape *s, DuctProblem *problem)
{
  const DuctKindInfo *info = duct_kind_info (s->kind);
  gint64 least = s->h == 0 ? s->w : MIN (s->w, s->h);

  if (info->second != DUCT_NO_SIZE && s->kind != DUCT_SADDLE_TAP)
    {
      least = s->dim[DUCT_DIM_W2] > 0 ? MIN (least, s->dim[DUCT_DIM_W2]) : least;
      least = s->dim[DUCT_DIM_H2] > 0 ? MIN (least, s->dim[DUCT_DIM_H2]) : least;
    }
  if (s->liner > 0 && !info->bought && s->kind != DUCT_TURNING_VANES && 2 * s->liner >= least)
    return duct_problem_set (problem, DUCT_DIM_LINER,
                             fault_new (-1, _ ("enter a thinner liner, or a larger size"),
                                        _ ("the liner fills the whole duct")));
  return TRUE;
}

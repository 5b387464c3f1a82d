/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

gint64
duct_round (double x)
{
  return (gint64) floor (x + 0.5);
}

gint64
duct_girth (gint64 w, gint64 h)
{
  return h == 0 ? duct_round (G_PI * (double) w) : 2 * (w + h);
}

gboolean
duct_is_straight (DuctKind kind)
{
  return kind == DUCT_STRAIGHT || kind == DUCT_ROUND_DUCT;
}

/* Frame screws of one bar: within the edge distance of each bar end, then at most the spacing; two at least. */
static gint64
bar_screws (const DuctWork *k, gint64 bar, gint64 spacing)
{
  gint64 between = bar - 2 * k->rules->allow[DUCT_ALLOW_SCREW_EDGE].value;
  gint64 n = between > 0 ? (between + spacing - 1) / spacing + 1 : 2;

  return MAX (n, 2);
}

/* One slip-on frame: four bars, four corners, its flange and screws. */
static void
add_frame (DuctWork *k, gint64 *one, gint64 w, gint64 h, DuctEnd end, gboolean loose)
{
  gint64 spacing = duct_rules_step_at (k->rules->screws, ABS (k->shape->pressure), k->build->connection, end)->value;
  gint64 less = k->profile->value, screws = 2 * (bar_screws (k, w - less, spacing) + bar_screws (k, h - less, spacing));

  one[DUCT_BAR] += COUNT (4);
  one[k->profile->extra ? DUCT_HEAVY_FLANGE_FT : DUCT_FLANGE_FT] += UM (2 * (w - less) + 2 * (h - less));
  one[DUCT_FRAME] += COUNT (1);
  one[DUCT_SLIPON_CORNER] += COUNT (4);
  one[DUCT_SCREW] += COUNT (screws);
  if (loose)
    {
      one[DUCT_LOOSE_FRAME] += COUNT (1);
      return;
    }
  one[DUCT_SEATED_FRAME] += COUNT (1);
  one[DUCT_LEN_SEATED_FRAME] += UM (2 * (w + h));
  one[DUCT_SHOP_SCREW] += COUNT (screws);
}

/* Cleats counted by the side, as break-away joints at fire-damper sleeves are; FALSE where no row counts so. */
static gboolean
add_counted_cleats (DuctWork *k, gint64 *one, DuctEnd end)
{
  const DuctShape *s = k->shape;
  const GPtrArray *rows = k->rules->cleats;
  gboolean asked, asked_too;
  const DuctStep *w = duct_rules_side_step (rows, ABS (s->pressure), k->build->connection, end, s->w, &asked);
  const DuctStep *h = duct_rules_side_step (rows, ABS (s->pressure), k->build->connection, end, s->h, &asked_too);

  if (asked && (!w || !h))
    k->notes |= DUCT_NOTE_BREAKAWAY;
  if (!w || !h)
    return FALSE;
  one[DUCT_CLEAT] += COUNT (2 * (w->count + h->count));
  return TRUE;
}

/* The hardware of one joint. It takes the first size of the piece that owns it. */
static void
add_joint (DuctWork *k, gint64 *one, DuctEdge edge, DuctEnd end)
{
  const DuctStep *cleats = duct_rules_step_at (k->rules->cleats, ABS (k->shape->pressure), k->build->connection, end);
  gint64 factor = duct_rules_gasket (k->rules, k->shape->pressure, k->build->connection, end);
  const DuctShape *s = k->shape;
  gint64 girth = 2 * (s->w + s->h);

  if (edge == DUCT_EDGE_SLIP_DRIVE)
    {
      one[DUCT_SD_JOINT] += COUNT (1);
      one[DUCT_SD_JOINT_FT] += UM (girth);
      one[DUCT_SLIP_FT] += UM (2 * MAX (s->w, s->h));
      one[DUCT_DRIVE_FT] += UM (2 * (MIN (s->w, s->h) + k->rules->allow[DUCT_ALLOW_DRIVE_EXTRA].value));
      return;
    }
  one[DUCT_FLANGED_JOINT] += COUNT (1);
  one[DUCT_LEN_FLANGED_JOINT] += UM (girth);
  one[DUCT_GASKET_FT] += duct_round ((double) (girth + k->rules->allow[DUCT_ALLOW_GASKET_STRIPS].value) / 1e3
                                     * ((double) factor / 1e6));
  if (add_counted_cleats (k, one, end))
    return;
  if (s->exposure == DUCT_OUTDOORS)
    {
      k->notes |= DUCT_NOTE_CLEAT_WEATHER;
      one[DUCT_CLEAT_FT] += UM (girth);
    }
  else if (!cleats || cleats->value == 0)
    {
      k->notes |= DUCT_NOTE_CLEAT_GAP;
      one[DUCT_CLEAT_FT] += UM (girth);
    }
  else
    {
      /* Corners are fixed points: no two fixed points stand a spacing or more apart. */
      if (ABS (s->pressure) < 1500)
        k->notes |= DUCT_NOTE_CLEAT_LOW;
      one[DUCT_CLEAT] += COUNT (2 * (s->w / cleats->value + s->h / cleats->value));
    }
}

/* Which end of a piece: the size that it has and the joint that may lie there depend on it. */
typedef enum
{
  END_FIRST,
  END_LAST,
  END_BRANCH,
} Which;

static void
end_size (const DuctShape *s, Which which, gint64 *w, gint64 *h)
{
  gboolean second = which == END_BRANCH || (which == END_LAST && duct_kind_info (s->kind)->second != DUCT_NO_SIZE
                                            && s->kind != DUCT_TEE && s->kind != DUCT_SADDLE_TAP);

  *w = second ? s->dim[DUCT_DIM_W2] : s->w;
  *h = !second ? s->h : s->dim[DUCT_DIM_H2] == DUCT_UNSET ? 0 : s->dim[DUCT_DIM_H2];
}

static void
add_end (DuctWork *k, gint64 *one, const DuctPlace *place, DuctEnd end, Which which, gboolean fit)
{
  const DuctShape *s = k->shape;
  gboolean first = which == END_FIRST;
  gboolean bought = duct_kind_info (s->kind)->bought;
  gint64 w, h;
  DuctEdge edge = s->kind == DUCT_STRAIGHT ? k->connection->straight_end : k->connection->fitting_end;

  end_size (s, which, &w, &h);
  if (!bought)
    one[DUCT_END_FT2] += duct_round (h == 0 ? G_PI / 4 * (double) w * (double) w / 1e12 : (double) w * (double) h / 1e12);
  if (h == 0)
    {
      duct_add_round_end (k, one, place, end, first, w);
      return;
    }
  if (duct_end_by_others (end))
    one[DUCT_END_OTHERS] += COUNT (1);
  if (!duct_end_made (end))
    return;
  if (bought)
    {
      /* Its maker made it, with a frame that suits. The joint at the first end is written here as on every piece; the one at
       * the last end is that of the next piece, or ours here when what follows is by others. */
      one[DUCT_END_OTHERS] += COUNT (1);
      if (duct_end_joint (end, first))
        add_joint (k, one, edge, end);
      return;
    }
  one[DUCT_END_MADE] += COUNT (1);
  if (edge == DUCT_EDGE_SLIP_DRIVE)
    {
      one[DUCT_SD_END] += COUNT (1);
      one[DUCT_LEN_SD_END] += UM (2 * (w + h));
    }
  else if (fit || edge == DUCT_EDGE_SLIP_ON)
    {
      /* A flange rolled from the duct's own metal cannot be cut on site: such an end takes a loose slip-on frame. */
      add_frame (k, one, w, h, end, fit);
    }
  else
    {
      one[DUCT_INTEGRAL_END] += COUNT (1);
      one[DUCT_LEN_INTEGRAL_END] += UM (2 * (w + h));
      one[DUCT_INTEGRAL_CORNER] += COUNT (4);
    }
  if (duct_end_joint (end, first))
    add_joint (k, one, edge, end);
}

static void
add_metal (DuctWork *k, gint64 *one, gint64 length)
{
  const DuctFigure *allow = k->rules->allow;
  const DuctShape *s = k->shape;

  if (s->h == 0)
    {
      duct_add_round_metal (k, one, length);
      return;
    }

  double seam = (double) allow[DUCT_ALLOW_SEAM].value / 1e6, blank;
  if (s->kind == DUCT_STRAIGHT)
    {
      double girth = 2 * ((double) s->w + (double) s->h) / 1e6;
      one[DUCT_AREA_FT2] = duct_round (girth * (double) length / 1e6);
      one[DUCT_SEAM] = one[DUCT_LEN_PIECE] = UM (length);
      blank = (girth + seam) * (double) (length + k->connection->take_up_nm) / 1e6;
      if (k->build->stiffening.short_sheet > 0)
        {
          duct_add_two_sheets (k, one, (double) (length + k->connection->take_up_nm) / 1e6);
          return;
        }
    }
  else
    {
      one[DUCT_AREA_FT2] = duct_round (k->geometry.area_mm2);
      one[DUCT_LEN_PIECE] = duct_round (k->geometry.centreline_mm * 1e3);
      blank = k->geometry.area_mm2 + (duct_kind_info (s->kind)->seam ? seam * k->geometry.centreline_mm : 0);
    }
  one[DUCT_NET_LB] = one[DUCT_PIECE_LB] = duct_round (blank * k->sheet->mg_per_mm2);
}

/* Hangers stay a fraction a piece: centreline over spacing, in thousandths. */
static void
add_hangers (DuctWork *k, gint64 *one)
{
  const DuctFigure *allow = k->rules->allow;
  const DuctShape *s = k->shape;
  gint64 spacing;

  if (!duct_kind_info (s->kind)->hung)
    return;
  spacing = allow[s->kind == DUCT_FLEXIBLE_DUCT ? DUCT_ALLOW_FLEXIBLE_HANGER : DUCT_ALLOW_HANGER_SPACING].value;
  one[DUCT_HANGER] = num_div (one[DUCT_LEN_PIECE] * 1000, UM (spacing));
  if (s->h == 0 || s->w + s->h <= allow[DUCT_ALLOW_STRAP_HALF_PERIMETER].value)
    one[DUCT_STRAP] = one[DUCT_HANGER];
  else if (s->w <= allow[DUCT_ALLOW_TRAPEZE_WIDTH].value)
    one[DUCT_TRAPEZE_TO_60] = one[DUCT_HANGER];
  else
    one[DUCT_TRAPEZE_OVER_60] = one[DUCT_HANGER];
}

static void
add_vanes (DuctWork *k, gint64 *one)
{
  gint64 length = duct_round (k->geometry.vane_mm * 1e6);
  const GPtrArray *rows = k->rules->vanes;
  const DuctStep *row = duct_rules_step (rows, length);

  if (k->shape->kind != DUCT_MITRED_ELBOW && k->shape->kind != DUCT_TURNING_VANES)
    return;
  if (!row)
    {
      row = g_ptr_array_index (rows, rows->len - 1);
      k->notes |= DUCT_NOTE_LONG_VANES;
    }
  if (row != g_ptr_array_index (rows, 0))
    k->notes |= DUCT_NOTE_DOUBLE_VANES;
  /* A hair is forgiven, so that a rail that is an exact multiple does not lose its last vane to rounding. */
  gint64 n = (gint64) floor (k->geometry.rail_mm * 1e6 / (double) row->value + 1e-9);
  one[DUCT_VANE] = COUNT (n);
  one[DUCT_VANE_FT] = UM (n * length);
  one[DUCT_RAIL_FT] = duct_round (2 * k->geometry.rail_mm * 1e3);
}

/* The hole in the main under a collar. The recipe of the plain tap has it within the step that installs a tap. */
static void
add_piercing (const DuctWork *k, gint64 *one)
{
  const DuctShape *s = k->shape;
  gint64 girth = duct_girth (s->w, s->h);

  if (s->kind != DUCT_BOOT_TAP && s->kind != DUCT_SPIN_IN)
    return;
  if (s->kind == DUCT_BOOT_TAP)
    girth += 2 * s->dim[DUCT_DIM_OFFSET]; /* the collar at its base */
  one[DUCT_PIERCING] = COUNT (1);
  one[DUCT_LEN_PIERCING] = UM (girth);
}

static void
measure_piece (DuctWork *k, const DuctPlace *place, DuctLot *lot)
{
  const DuctKindInfo *info = duct_kind_info (k->shape->kind);
  gboolean fit_last = info->has_last && duct_end_made (place->last);

  memset (lot->one, 0, sizeof lot->one);
  lot->one[DUCT_PIECE] = COUNT (1);
  if (info->bought)
    duct_add_bought (k, lot->one, place);
  else
    add_metal (k, lot->one, place->length);
  if (lot->one[DUCT_PIECE_LB] > k->rules->allow[DUCT_ALLOW_HEAVY_LIFT].value)
    lot->one[DUCT_OVER_150_LB] = COUNT (1);
  lot->length = duct_is_straight (k->shape->kind) ? place->length : lot->one[DUCT_LEN_PIECE] * 1000;
  if (place->fit)
    lot->one[DUCT_FIT_END] = COUNT (1);
  if (info->has_first)
    add_end (k, lot->one, place, place->first, END_FIRST, place->fit && !fit_last);
  if (info->has_last)
    add_end (k, lot->one, place, place->last, END_LAST, place->fit && fit_last);
  for (int i = 0; i < info->branches; i++)
    add_end (k, lot->one, place, DUCT_END_JOINT, END_BRANCH, FALSE);
  if (!duct_add_supports (k, lot->one, place))
    add_hangers (k, lot->one);
  add_vanes (k, lot->one);
  add_piercing (k, lot->one);
  duct_add_stiffening (k, lot->one, place);
  duct_add_lining (k, lot->one, place);
}

/* The whole pieces and the rest of a straight: length L, laid length l, q whole and a remainder r.
 * r = 0: q; q = 0: one of r; 0 < r < shortest: q - 1 whole and two of (l + r) / 2; else q and one of r. */
typedef struct
{
  gint64 whole, n_whole, rest, n_rest;
} Pieces;

static Pieces
divide (gint64 length, gint64 laid, gint64 shortest)
{
  gint64 q = length / laid, r = length % laid;

  if (r == 0)
    return (Pieces) { laid, q, 0, 0 };
  if (q == 0)
    return (Pieces) { laid, 0, r, 1 };
  if (r < shortest)
    return (Pieces) { laid, q - 1, (laid + r) / 2, 2 };
  return (Pieces) { laid, q, r, 1 };
}

gint64
duct_rest_length (const DuctRules *rules, gint64 length, gint64 laid)
{
  return divide (length, laid, rules->allow[DUCT_ALLOW_SHORT_PIECE].value).rest;
}

static gboolean
refuse (DuctProblem *problem, DuctDim dim, const char *remedy, const char *what)
{
  if (problem)
    *problem = (DuctProblem) { dim, fault_new (-1, remedy, "%s", what) };
  return FALSE;
}

/* Emits one lot for every stretch of like pieces: the run changes only after its first piece, where the rest pieces and
 * the pieces cut on site begin, and before its last piece. */
static gboolean
measure_straight (DuctWork *k, DuctMeasure *out, DuctProblem *problem)
{
  const DuctShape *s = k->shape;
  gint64 coil = s->coil == DUCT_UNSET ? k->connection->coil_nm : s->coil, laid = coil - k->connection->take_up_nm;

  if (laid < k->rules->allow[DUCT_ALLOW_SHORT_PIECE].value)
    return refuse (problem, DUCT_DIM_LENGTH, _ ("choose a wider coil for the system"), _ ("no piece can be made of this coil"));
  Pieces p = divide (s->dim[DUCT_DIM_LENGTH], laid, k->rules->allow[DUCT_ALLOW_SHORT_PIECE].value);
  gint64 n = p.n_whole + p.n_rest;
  if (s->fit_pieces > n)
    return refuse (problem, DUCT_DIM_FIT, _ ("enter no more than the run has pieces"),
                   _ ("more pieces are cut on site than the run has"));

  gint64 cut[] = { 0, 1, p.n_whole, n - s->fit_pieces, n - 1, n };
  gint64 at = 0;
  while (at < n)
    {
      gint64 next = n;
      for (gsize i = 0; i < G_N_ELEMENTS (cut); i++)
        if (cut[i] > at)
          next = MIN (next, cut[i]);
      DuctPlace place = {
        .length = at < p.n_whole ? p.whole : p.rest,
        .first = at == 0 ? (DuctEnd) s->first_end : DUCT_END_JOINT,
        .last = next == n && at == n - 1 ? (DuctEnd) s->last_end : DUCT_END_JOINT,
        .fit = at >= n - s->fit_pieces,
        .leads = at == 0,
      };
      DuctLot *lot = &out->lot[out->n_lots++];
      lot->n = next - at;
      measure_piece (k, &place, lot);
      /* With ends of the common kind the first piece is like the others: they are told as one lot. */
      if (out->n_lots > 1 && lot[-1].length == lot->length && memcmp (lot[-1].one, lot->one, sizeof lot->one) == 0)
        {
          lot[-1].n += lot->n;
          out->n_lots--;
        }
      at = next;
    }
  return TRUE;
}

gboolean
duct_measure (const DuctRules *rules, const DuctShape *shape, const DuctBuild *build, DuctMeasure *out,
              DuctProblem *problem)
{
  DuctWork k = { .rules = rules, .shape = shape, .build = build, .notes = shape->metal == DUCT_GALVANISED ? 0 : DUCT_NOTE_OTHER_METAL };

  out->n_lots = 0;
  k.connection = duct_rules_connection (rules, build->connection);
  k.sheet = duct_rules_sheet (rules, build->sheet);
  k.profile = duct_rules_step (rules->profiles, k.sheet->thickness_nm);
  if (!k.profile || !duct_rules_step (rules->screws, ABS (shape->pressure)))
    return refuse (problem, DUCT_DIM_CLASS, _ ("add a row to the flange profiles or screw spacings"),
                   _ ("no table row answers for this sheet and class"));

  if (duct_is_straight (shape->kind))
    {
      if (!measure_straight (&k, out, problem))
        return FALSE;
    }
  else
    {
      DuctPlace place = { 0, (DuctEnd) shape->first_end, (DuctEnd) shape->last_end, shape->fit_pieces > 0, TRUE };
      if (shape->fit_pieces > 1)
        return refuse (problem, DUCT_DIM_FIT, _ ("enter 1, or nothing"), _ ("a fitting is one piece"));
      duct_geometry (rules, shape, &k.geometry);
      out->n_lots = 1;
      out->lot[0].n = 1;
      measure_piece (&k, &place, &out->lot[0]);
    }
  if (build->not_by_set)
    k.notes |= DUCT_NOTE_NOT_BY_SET;
  if (build->round_row >= 0 && *((const DuctRoundGauge *) g_ptr_array_index (rules->round_gauges, (guint) build->round_row))->ring)
    k.notes |= DUCT_NOTE_RING;
  out->notes = k.notes;
  for (int i = 0; i < out->n_lots; i++)
    for (int slot = 0; slot < DUCT_N_SLOTS; slot++)
      if (out->lot[i].one[slot] > duct_slot_most (slot))
        return refuse (problem, DUCT_DIM_SIZE, _ ("split it into smaller pieces"), _ ("one piece is too large to build or lift"));
  return TRUE;
}

gint64
duct_lot_joints (const DuctLot *lot)
{
  return lot->one[DUCT_FLANGED_JOINT] + lot->one[DUCT_SD_JOINT] + lot->one[DUCT_COUPLED_JOINT] + lot->one[DUCT_RING_JOINT];
}

gint64
duct_measure_sum (const DuctMeasure *measure, int slot)
{
  gint64 sum = 0;

  for (int i = 0; i < measure->n_lots; i++)
    sum += measure->lot[i].n * measure->lot[i].one[slot];
  return sum;
}

const char *
duct_note_words (DuctNote note)
{
  switch (note)
    {
    case DUCT_NOTE_CLEAT_GAP:
      return _ ("6 to 10 in w.g.: no agreed spacing, continuous cleat assumed");
    case DUCT_NOTE_CLEAT_LOW:
      return _ ("below 1 1/2 in w.g. practice names no cleat spacing: the 2 in row is taken");
    case DUCT_NOTE_CLEAT_WEATHER:
      return _ ("weatherproof joints: continuous cleat");
    case DUCT_NOTE_DOUBLE_VANES:
      return _ ("vanes over 36 in: 4 in double vanes");
    case DUCT_NOTE_LONG_VANES:
      return _ ("vanes longer than the longest published vane: support them");
    case DUCT_NOTE_OTHER_METAL:
      return _ ("not galvanised: weighed by its own sheet, but priced as the sheet item of the recipe; give that item the metal's price");
    case DUCT_NOTE_LONG_FLEXIBLE:
      return _ ("flexible duct longer than a flexible run should be (published: 5 ft)");
    case DUCT_NOTE_NOT_BY_SET:
      return _ ("the gauge or construction entered is not one that the rule set's reinforcement table allows");
    case DUCT_NOTE_RING:
      return _ ("the gauge of round duct asks for stiffening rings: they are not counted and not priced");
    case DUCT_NOTE_HANGER_LOAD:
      return _ ("more hangs on a support than its table allows: closer supports or heavier hangers");
    case DUCT_NOTE_NO_SUPPORT:
      return _ ("the rule set lists supports, but none for this size: complete hangers are counted");
    case DUCT_NOTE_NO_DROP:
      return _ ("no hanger drop is entered for the area: straps and rods are counted from the top of the duct");
    case DUCT_NOTE_NO_LINER_PINS:
      return _ ("no table row gives the spacing of liner pins: none are counted");
    case DUCT_NOTE_ROUND_LINER:
      return _ ("liner in round duct: the rule of pins is for flat sides, none are counted");
    case DUCT_NOTE_NOSING:
      return _ ("fast stream: nosing on every leading edge, as above 4000 fpm; up to that only where unlined metal comes before");
    case DUCT_NOTE_LOOSE_SEAL:
      return _ ("the pressure class asks for a tighter seal class than the system's");
    case DUCT_NOTE_BREAKAWAY:
      return _ ("break-away joint with a side beyond the rows of its cleats: counted by the spacing for its pressure");
    default:
      return "";
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"
#include "duct/support.h"

/* Conventions of supports that are counted by their parts:
 * - Supports of a piece are its centreline over the spacing of its row, and the row's extra ones at an elbow, and at a branch: of
 *   a tee or wye, or on behalf of the main under a tap. They stay fractions, thousandths of a support; whole ones are for the buyer.
 * - Strap, rectangular: one each side, from the structure down the whole side, and what is turned over at its ends. Round: one
 *   sling, down both sides and around the lower half.
 * - Rods reach the top of the duct, those of a trapeze its bottom; the bar is wider than the duct by the clearance on each side.
 * - Two fixings to the structure a support.
 * - A riser stands on floors: its supports are its height over the riser spacing, and it hangs from nothing. */

static gboolean
is_elbow (DuctKind kind)
{
  return kind == DUCT_RADIUS_ELBOW || kind == DUCT_MITRED_ELBOW || kind == DUCT_GORED_ELBOW
         || kind == DUCT_STAMPED_ELBOW;
}

static gboolean
is_branch (DuctKind kind)
{
  return kind == DUCT_TEE || kind == DUCT_WYE || kind == DUCT_TAP || kind == DUCT_BOOT_TAP || kind == DUCT_SPIN_IN
         || kind == DUCT_SADDLE_TAP;
}

/* Lengths of one support, nm. */
static void
support_lengths (const DuctWork *k, const DuctHangerLoad *hanger, gint64 *strap, gint64 *rod, gint64 *bar)
{
  const DuctShape *s = k->shape;
  const DuctFigure *allow = k->rules->allow;
  gint64 high = s->h == 0 ? s->w : s->h;

  *strap = *rod = *bar = 0;
  if (hanger->form == DUCT_HANGER_STRAP)
    *strap =
        2 * (s->drop + allow[DUCT_ALLOW_STRAP_TURN].value) + (s->h == 0 ? s->w + duct_girth (s->w, 0) / 2 : 2 * high);
  else if (hanger->form == DUCT_HANGER_ROD)
    *rod = 2 * s->drop;
  else
    {
      *rod = 2 * (s->drop + high);
      *bar = s->w + 2 * allow[DUCT_ALLOW_TRAPEZE_CLEAR].value;
    }
}

/* @n thousandths of a support that takes @nm, in um. */
static gint64
share (gint64 nm, gint64 n)
{
  return duct_round ((double) nm / 1e3 * ((double) n / 1e3));
}

static void
add_parts (DuctWork *k, gint64 *one, const DuctSupport *row, gint64 n)
{
  const DuctHangerLoad *hanger = g_ptr_array_index (k->rules->hanger_loads, (guint) row->hanger);
  DuctSupportLoad load;
  gint64 strap, rod, bar;

  support_lengths (k, hanger, &strap, &rod, &bar);
  one[DUCT_SUPPORT] = n;
  one[DUCT_SUPPORT_STRAP_FT] = share (strap, n);
  one[DUCT_SUPPORT_ROD_FT] = share (rod, n);
  one[DUCT_SUPPORT_BAR_FT] = share (bar, n);
  one[DUCT_UPPER_FIXING] = 2 * n;
  if (k->shape->drop <= 0)
    k->notes |= DUCT_NOTE_NO_DROP;
  duct_support_load (k->rules, k->shape, k->sheet, row, &load);
  if (load.allowable_mg > 0 && load.each_mg > load.allowable_mg)
    k->notes |= DUCT_NOTE_HANGER_LOAD;
}

gboolean
duct_add_supports (DuctWork *k, gint64 *one, const DuctPlace *place)
{
  const DuctShape *s = k->shape;
  const DuctKind kind = (DuctKind) s->kind;
  gboolean hung = duct_kind_info (kind)->hung;
  int set = duct_support_set (s, k->build->set);
  const DuctSupport *row;
  gint64 n;

  (void) place;
  if (s->riser && hung)
    {
      one[DUCT_RISER_SUPPORT] =
          num_div (one[DUCT_LEN_PIECE] * 1000, UM (k->rules->allow[DUCT_ALLOW_RISER_SPACING].value));
      return TRUE;
    }
  if (set < 0 || (!hung && !is_branch (kind)) || !duct_rules_has_supports (k->rules, set))
    return FALSE;
  row = duct_support_row (k->rules, set, s);
  if (!row)
    {
      if (hung)
        k->notes |= DUCT_NOTE_NO_SUPPORT;
      return FALSE;
    }
  n = hung ? num_div (one[DUCT_LEN_PIECE] * 1000, UM (row->spacing_nm)) : 0;
  n += is_elbow (kind) ? row->elbow_extra : is_branch (kind) ? row->branch_extra : 0;
  if (n > 0)
    add_parts (k, one, row, n);
  return TRUE;
}

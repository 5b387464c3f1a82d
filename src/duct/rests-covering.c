/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/rests.h"
#include "duct/support.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>

/* Takes @words. */
static void
add (GArray *out, const char *table, const void *row, char *words, const char *source, DuctStatus status)
{
  DuctRest rest = { table, row, words, source ? source : "", status };

  g_array_append_val (out, rest);
}

static char *
inches (gint64 nm)
{
  return length_print_unit (nm, LENGTH_STYLE_IN);
}

static void
add_liner (GArray *out, const DuctRules *rules, const DuctShape *s)
{
  const GPtrArray *rows = rules->liner_pins;
  const DuctLinerPins *row = rows->len == 0 ? NULL : g_ptr_array_index (rows, s->fast ? MIN (1, rows->len - 1) : 0);
  g_autofree char *liner = inches (s->liner);

  if (!row)
    return;
  g_autofree char *across = inches (row->across_nm), *along = inches (row->along_nm);
  add (out, "liner_pins", row,
       g_strdup_printf (
           _ ("liner %s, stream to %d fpm: pins at most %s apart across and %s along it, adhesive on %g %%"), liner,
           (int) MIN (row->speed_to_fpm, 100000), across, along, (double) row->adhesive_ppm / 1e4),
       row->source, row->status);
}

static void
add_wrap (GArray *out, const DuctRules *rules, const DuctShape *s)
{
  const DuctWrap *row = g_ptr_array_index (rules->wraps, (guint) s->wrap);
  gint64 extra = s->h == 0 ? row->round_add_nm : s->w == s->h ? row->square_add_nm : row->rect_add_nm;
  g_autofree char *label = inches (row->thickness_nm), *wider = inches (extra), *thick = inches (row->installed_nm);

  add (out, "wraps", row,
       g_strdup_printf (_ ("wrap %s: cut %s wider than the girth of %s duct, %s thick when it is on"), label, wider,
                        s->h == 0      ? _ ("round")
                        : s->w == s->h ? _ ("square")
                                       : _ ("rectangular"),
                        thick),
       row->source, row->status);
}

static void
add_seal (GArray *out, const DuctRules *rules, const DuctShape *s)
{
  const DuctSealClass *row = g_ptr_array_index (rules->seal_classes, (guint) s->seal - 1);

  add (out, "seal_classes", row,
       g_strdup_printf (_ ("seal class %s of %s: %s%s%s"), row->key, row->edition,
                        row->joints ? _ ("transverse joints") : "", row->seams ? _ (", longitudinal seams") : "",
                        row->walls ? _ (", penetrations of the wall") : ""),
       row->source, row->status);
}

/* What hangs there and what is allowed, with its status; what it means is for the engineer. */
static void
add_load (GArray *out, const DuctRules *rules, const DuctShape *s, const DuctBuild *build, const DuctSupport *row)
{
  const DuctHangerLoad *hanger = g_ptr_array_index (rules->hanger_loads, (guint) row->hanger);
  g_autofree char *allowed = NULL;
  DuctSupportLoad load;

  duct_support_load (rules, s, duct_rules_sheet (rules, build->sheet), row, &load);
  allowed = hanger->load_mg > 0 ? g_strdup_printf (_ ("%g lb allowed"), measure_lb (hanger->load_mg))
                                : g_strdup (_ ("no load known"));
  add (out, "hanger_loads", hanger,
       g_strdup_printf (
           _ ("%s: %.1f lb of bare metal%s on a support, %.1f lb on each of two, %s; without joints, stiffening%s"),
           hanger->key, measure_lb (load.metal_mg), load.wrap_mg > 0 ? _ (" and wrap") : "", measure_lb (load.each_mg),
           allowed, load.left_out ? _ (", liner or wrap of unknown weight") : ""),
       hanger->source, hanger->status);
}

static void
add_supports (GArray *out, const DuctRules *rules, const DuctShape *s, const DuctBuild *build)
{
  int set = duct_support_set (s, build->set);
  const DuctFigure *riser = &rules->allow[DUCT_ALLOW_RISER_SPACING], *hanger = &rules->allow[DUCT_ALLOW_HANGER_SPACING];
  const DuctSupport *row = set >= 0 ? duct_support_row (rules, set, s) : NULL;
  gboolean hung = duct_kind_info (s->kind)->hung;

  if (s->riser && hung)
    {
      g_autofree char *spacing = length_print_unit (riser->value, LENGTH_STYLE_FT);
      add (out, "allowances", riser, g_strdup_printf (_ ("riser: a support every %s of height"), spacing),
           riser->source, riser->status);
      return;
    }
  if (!row)
    {
      g_autofree char *spacing = length_print_unit (hanger->value, LENGTH_STYLE_FT);
      if (hung)
        add (out, "allowances", hanger, g_strdup_printf (_ ("a complete hanger every %s"), spacing), hanger->source,
             hanger->status);
      return;
    }
  const DuctRuleSet *info = g_ptr_array_index (rules->sets, (guint) set);
  const DuctHangerLoad *kind = g_ptr_array_index (rules->hanger_loads, (guint) row->hanger);
  g_autofree char *spacing = length_print_unit (row->spacing_nm, LENGTH_STYLE_FT_IN);
  add (out, "supports", row,
       g_strdup_printf (_ ("%s: supported every %s by %s; %g more at an elbow, %g at a branch"), info->key, spacing,
                        kind->key, (double) row->elbow_extra / 1e3, (double) row->branch_extra / 1e3),
       row->source, row->status);
  if (hung)
    add_load (out, rules, s, build, row);
}

static void
add_breakaway (GArray *out, const DuctRules *rules, const DuctShape *s, const DuctBuild *build)
{
  gboolean asked;
  const DuctStep *row = duct_rules_side_step (rules->cleats, ABS (s->pressure), build->connection, DUCT_END_SLEEVE,
                                              MAX (s->w, s->h), &asked);

  if (!row || (s->first_end != DUCT_END_SLEEVE && s->last_end != DUCT_END_SLEEVE))
    return;
  g_autofree char *side = inches (row->side_to);
  add (out, "cleats", row, g_strdup_printf (_ ("joint at a sleeve: %d cleats on a side to %s"), (int) row->count, side),
       row->source, row->status);
}

static void
clear_rest (gpointer data)
{
  g_free (((DuctRest *) data)->words);
}

GArray *
duct_covering_rests (const DuctRules *rules, const DuctShape *s, const DuctBuild *build)
{
  GArray *out = g_array_new (FALSE, TRUE, sizeof (DuctRest));

  g_array_set_clear_func (out, clear_rest);
  duct_add_covering_rests (out, rules, s, build);
  return out;
}

void
duct_add_covering_rests (GArray *out, const DuctRules *rules, const DuctShape *s, const DuctBuild *build)
{
  gboolean bought = duct_kind_info (s->kind)->bought;

  if (s->liner > 0 && !bought && s->kind != DUCT_TURNING_VANES)
    add_liner (out, rules, s);
  if (s->wrap >= 0 && s->kind != DUCT_ACCESS_DOOR && s->kind != DUCT_TURNING_VANES && s->kind != DUCT_FLEXIBLE_DUCT
      && s->kind != DUCT_FABRIC_CONNECTOR)
    add_wrap (out, rules, s);
  if (s->seal > 0)
    add_seal (out, rules, s);
  add_supports (out, rules, s, build);
  if (s->h > 0)
    add_breakaway (out, rules, s, build);
}

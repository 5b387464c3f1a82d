/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/rests.h"

#include "base/measure.h"
#include "duct/stiff.h"
#include "duct/support.h"

#include <glib/gi18n-lib.h>

static void
clear_rest (gpointer data)
{
  g_free (((DuctRest *) data)->words);
}

/* Takes @words. */
static void
add (GArray *out, const char *table, const void *row, char *words, const char *source, DuctStatus status)
{
  DuctRest rest = { table, row, words, source ? source : "", status };

  g_array_append_val (out, rest);
}

static char *
class_words (gint64 class_to)
{
  g_autofree char *figure = class_to == G_MAXINT64 ? NULL : pressure_print (class_to, FALSE);

  return figure ? g_strdup_printf (_ ("class to %s in w.g."), figure) : g_strdup (_ ("any class"));
}

static char *
side_words (gint64 side)
{
  g_autofree char *figure = side == G_MAXINT64 ? NULL : length_print_unit (side, LENGTH_STYLE_IN);

  return figure ? g_strdup_printf (_ ("to %s"), figure) : g_strdup (_ ("any larger side"));
}

/* What a set with reinforcement rows rests on: both sides' rows, and the joint where a class is asked for. */
static void
add_sides (GArray *out, const DuctRules *rules, const DuctShape *shape, const DuctBuild *build)
{
  gboolean joint = FALSE;
  DuctStiffQuery q;

  for (int i = 0; i < 2; i++)
    {
      const DuctReinforcement *row = g_ptr_array_index (rules->reinforcement, (guint) build->side_row[i]);
      joint = joint || row->code >= 0;
      if (i == 0 || build->side_row[1] != build->side_row[0])
        add (out, "reinforcement", row, duct_reinforcement_words (rules, build->side_row[i]), row->source, row->status);
    }
  duct_stiff_query (&q, rules, build->set, build->connection, shape);
  int rating = joint ? duct_stiff_joint (&q, build->sheet) : -1;
  if (rating < 0)
    return;
  const DuctJointRating *row = g_ptr_array_index (rules->joint_ratings, (guint) rating);
  const DuctStiffness *code = row->code < 0 ? NULL : g_ptr_array_index (rules->stiffness, (guint) row->code);
  add (out, "joint_ratings", row, g_strdup_printf (_ ("joint %s: class %s"), duct_rules_connection (rules, build->connection)->key,
                                                   code ? code->key : _ ("none")),
       row->source, row->status);
  if (code)
    add (out, "stiffness", code, g_strdup_printf (_ ("class %s: EI %g x 1e5 lb in2"), code->key, code->ei), code->source, code->status);
}

static void
add_stiffening (GArray *out, const DuctRules *rules, const DuctBuild *build)
{
  int member = build->stiffening.spacing > 0 ? build->stiffening.member : -1;

  if (member < 0 || member >= (int) rules->members->len)
    return;
  const DuctMember *row = g_ptr_array_index (rules->members, (guint) member);
  add (out, "members", row, g_strdup_printf (_ ("%s %s: EI %g x 1e5 lb in2"), row->form, row->key, row->ei), row->source, row->status);
}

static void
add_gauge (GArray *out, const DuctRules *rules, const DuctShape *shape, const DuctBuild *build)
{
  const DuctSheet *sheet = duct_rules_sheet (rules, build->sheet);

  if (shape->h > 0 && build->side_row[0] >= 0 && build->side_row[1] >= 0 && build->rule_row < 0 && build->round_row < 0)
    {
      add_sides (out, rules, shape, build);
      return;
    }
  if (build->rule_row < 0 && build->round_row < 0)
    {
      add (out, "gauges", sheet, g_strdup_printf (_ ("gauge %s, entered on the run"), sheet->label), "", DUCT_SHOPS_OWN);
      return;
    }
  if (build->round_row >= 0)
    {
      const DuctRoundGauge *row = g_ptr_array_index (rules->round_gauges, (guint) build->round_row);
      const DuctRuleSet *set = g_ptr_array_index (rules->sets, (guint) row->set);
      g_autofree char *class_to = class_words (row->class_to), *side = side_words (row->dia_to_nm);
      add (out, "round_gauges", row, g_strdup_printf (_ ("%s: round, %s, %s: gauge %s"), set->key, class_to, side, sheet->label),
           row->source, row->status);
      return;
    }
  const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, (guint) build->rule_row);
  const DuctRuleSet *set = g_ptr_array_index (rules->sets, (guint) row->set);
  g_autofree char *class_to = class_words (row->class_to), *side = side_words (row->side_to_nm);
  add (out, "gauges", row,
       *row->note ? g_strdup_printf (_ ("%s: %s, %s: gauge %s; asks for: %s"), set->key, class_to, side, sheet->label, row->note)
                  : g_strdup_printf (_ ("%s: %s, %s: gauge %s"), set->key, class_to, side, sheet->label),
       row->source, row->status);
}

/* @upto: words of what the row goes up to, taken. */
static void
add_step (GArray *out, const char *table, const DuctStep *row, char *upto, const char *format)
{
  g_autofree char *value = row->value == 0 ? g_strdup (_ ("continuous")) : length_print_unit (row->value, LENGTH_STYLE_IN);
  g_auto (GStrv) halves = g_strsplit (format, "%s", 2);

  add (out, table, row, g_strconcat (upto, ": ", halves[0], value, halves[1], NULL), row->source, row->status);
  g_free (upto);
}

static char *
thickness_words (gint64 upto)
{
  return upto == G_MAXINT64 ? g_strdup (_ ("any thicker sheet")) : g_strdup_printf (_ ("sheet to %.4f in"), (double) upto / (double) LENGTH_NM_PER_IN);
}

static void
add_covering (GArray *out, const DuctRules *rules, const DuctShape *shape)
{
  if (shape->liner > 0 && rules->liner_pins->len > 0)
    {
      const DuctLinerPins *row = g_ptr_array_index (rules->liner_pins, shape->fast ? MIN (1, rules->liner_pins->len - 1) : 0);
      g_autofree char *across = length_print_unit (row->across_nm, LENGTH_STYLE_IN), *far = length_print_unit (row->along_nm, LENGTH_STYLE_IN);
      add (out, "liner_pins", row, g_strdup_printf (_ ("liner pins at most %s across the stream, %s along it"), across, far), row->source,
           row->status);
    }
  if (shape->wrap >= 0)
    {
      const DuctWrap *row = g_ptr_array_index (rules->wraps, (guint) shape->wrap);
      add (out, "wraps", row, g_strdup_printf (_ ("wrap of %s in: stretch-out"), row->key), row->source, row->status);
    }
  if (shape->seal > 0)
    {
      const DuctSealClass *row = g_ptr_array_index (rules->seal_classes, (guint) shape->seal - 1);
      add (out, "seal_classes", row, g_strdup_printf (_ ("seal class %s (%s)"), row->key, row->edition), row->source, row->status);
    }
}

static void
add_supports (GArray *out, const DuctRules *rules, const DuctShape *shape, const DuctBuild *build)
{
  const DuctSupport *row;

  if (!duct_kind_info (shape->kind)->hung || shape->riser)
    return;
  row = duct_support_row (rules, duct_support_set (shape, build->set), shape);
  if (row)
    {
      const DuctHangerLoad *hanger = g_ptr_array_index (rules->hanger_loads, (guint) row->hanger);
      g_autofree char *spacing = length_print_unit (row->spacing_nm, LENGTH_STYLE_IN);
      add (out, "supports", row, g_strdup_printf (_ ("supports at %s, %s"), spacing, hanger->key), row->source, row->status);
      add (out, "hanger_loads", hanger,
           hanger->load_mg > 0 ? g_strdup_printf (_ ("%s: %.0f lb"), hanger->key, measure_lb (hanger->load_mg))
                               : g_strdup_printf (_ ("%s: no load known"), hanger->key),
           hanger->source, hanger->status);
    }
  else
    {
      const DuctFigure *figure = &rules->allow[DUCT_ALLOW_HANGER_SPACING];
      g_autofree char *spacing = length_print_unit (figure->value, LENGTH_STYLE_IN);
      add (out, "allowances", figure, g_strdup_printf (_ ("complete hangers at %s"), spacing), figure->source, figure->status);
    }
}

static void
add_joint_tables (GArray *out, const DuctRules *rules, const DuctShape *shape, const DuctBuild *build)
{
  const DuctEnd ends[] = { (DuctEnd) shape->first_end, (DuctEnd) shape->last_end };
  gint64 pressure = ABS (shape->pressure);
  const DuctStep *profile = duct_rules_step (rules->profiles, duct_rules_sheet (rules, build->sheet)->thickness_nm);

  if (profile)
    add_step (out, "profiles", profile, thickness_words (profile->upto), _ ("flange bars shorter than the side by %s"));
  for (int i = 0; i < 2; i++)
    {
      const DuctStep *screws = duct_rules_step_at (rules->screws, pressure, build->connection, ends[i]);
      const DuctStep *cleats = duct_rules_step_at (rules->cleats, pressure, build->connection, ends[i]);
      if (i == 1 && ends[1] == ends[0])
        break;
      if (screws)
        add_step (out, "screws", screws, class_words (screws->upto), _ ("frame screws at %s"));
      if (cleats && shape->exposure != DUCT_OUTDOORS)
        add_step (out, "cleats", cleats, class_words (cleats->upto), _ ("cleats at %s"));
    }
}

GArray *
duct_rests (const DuctRules *rules, const DuctShape *shape, const DuctBuild *build)
{
  GArray *out = g_array_new (FALSE, TRUE, sizeof (DuctRest));
  const DuctSheet *sheet = duct_rules_sheet (rules, build->sheet);
  const DuctConnection *connection = duct_rules_connection (rules, build->connection);

  g_array_set_clear_func (out, clear_rest);
  if (duct_kind_has_gauge (shape->kind))
    {
      add_gauge (out, rules, shape, build);
      add_stiffening (out, rules, build);
      add (out, "sheets", sheet,
           g_strdup_printf (_ ("%s %s: %.3f lb/ft2"), duct_metal_key (sheet->metal), sheet->label,
                            sheet->mg_per_mm2 * MEASURE_MM2_PER_FT2 / MEASURE_MG_PER_LB),
           sheet->source, sheet->status);
    }
  add (out, "connections", connection, g_strdup_printf (_ ("connection %s"), connection->key), connection->source,
       connection->status);
  if (shape->h != 0 && !duct_kind_info (shape->kind)->bought && connection->fitting_end == DUCT_EDGE_SLIP_ON)
    add_joint_tables (out, rules, shape, build);
  if (shape->kind == DUCT_MITRED_ELBOW || shape->kind == DUCT_TURNING_VANES)
    {
      const DuctStep *row = duct_rules_step (rules->vanes, shape->on_edge ? shape->w : shape->h);
      if (row)
        add_step (out, "vanes", row, side_words (row->upto), _ ("turning vanes at %s"));
    }
  add_supports (out, rules, shape, build);
  add_covering (out, rules, shape);
  return out;
}

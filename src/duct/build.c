/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"
#include "duct/stiff.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>

static gint64
longest_side (const DuctShape *s)
{
  gint64 side = MAX (s->w, s->h);

  /* A fitting of two sizes takes its larger end. What a saddle tap names second is the main that it sits on. */
  if (s->kind != DUCT_SADDLE_TAP)
    side = MAX (side, MAX (s->dim[DUCT_DIM_W2], s->dim[DUCT_DIM_H2]));
  /* A plenum box has three sides. A boot tap is made of the gauge of its collar, like a tap: its longer base is held by the main. */
  if (s->kind == DUCT_PLENUM_BOX)
    side = MAX (side, s->dim[DUCT_DIM_LENGTH]);
  return side;
}

gboolean
duct_connection_allows (const DuctRules *rules, int connection, const DuctShape *s, char **reason)
{
  const DuctConnection *c = duct_rules_connection (rules, connection);

  if ((s->h == 0) != (c->section == DUCT_ROUND))
    {
      if (reason)
        *reason = g_strdup (s->h == 0 ? _ ("round duct") : _ ("rectangular duct"));
      return FALSE;
    }
  if (ABS (s->pressure) > c->class_to)
    {
      if (reason)
        {
          g_autofree char *limit = pressure_print_both (c->class_to);
          *reason = g_strdup_printf (_ ("class over %s"), limit);
        }
      return FALSE;
    }
  if (longest_side (s) > c->side_to_nm)
    {
      if (reason)
        {
          g_autofree char *limit = length_print_unit (c->side_to_nm, LENGTH_STYLE_IN);
          *reason = g_strdup_printf (_ ("longer side over %s"), limit);
        }
      return FALSE;
    }
  if (s->exposure == DUCT_OUTDOORS && !c->outdoors)
    {
      if (reason)
        *reason = g_strdup (_ ("outdoors"));
      return FALSE;
    }
  return TRUE;
}

static gboolean
has_metal (const DuctRules *rules, int set, DuctMetal metal)
{
  for (guint i = 0; i < rules->gauge_rows->len; i++)
    {
      const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, i);
      if (row->set == set && row->metal == metal)
        return TRUE;
    }
  return FALSE;
}

gboolean
duct_kind_has_gauge (DuctKind kind)
{
  return duct_kind_measured (kind) && kind != DUCT_FLEXIBLE_DUCT;
}

static gboolean
look_up_round (const DuctRules *rules, int set, int connection, const DuctShape *s, DuctBuild *build, Fault **fault)
{
  int seam = duct_rules_connection (rules, connection)->seam;

  build->round_row = duct_rules_round_gauge (rules, set, s->metal, s->pressure, (DuctSeam) MAX (seam, 0), longest_side (s), fault);
  if (build->round_row < 0)
    return FALSE;
  build->sheet = ((DuctRoundGauge *) g_ptr_array_index (rules->round_gauges, (guint) build->round_row))->sheet;
  return TRUE;
}

static gboolean
look_up (const DuctRules *rules, int set, const DuctShape *s, DuctBuild *build, Fault **fault)
{
  build->rule_row = duct_rules_gauge (rules, set, s->metal, s->pressure, longest_side (s), fault);
  if (build->rule_row < 0)
    return FALSE;
  build->sheet = ((DuctGaugeRow *) g_ptr_array_index (rules->gauge_rows, (guint) build->rule_row))->sheet;
  return TRUE;
}

gboolean
duct_set_answers (const DuctRules *rules, int set, int connection, const DuctShape *s, Fault **fault)
{
  const DuctRuleSet *info = g_ptr_array_index (rules->sets, (guint) set);
  const DuctConnection *c = duct_rules_connection (rules, connection);
  DuctEdge edge = duct_is_straight (s->kind) ? c->straight_end : c->fitting_end;

  if (info->edge < 0 || edge == (DuctEdge) info->edge)
    return TRUE;
  return fault ? fault_set (fault, fault_new (-1, _ ("enter the gauge on the run, or choose another rule set or connection"),
                                              _ ("the rule set “%s” has no row for ends of the kind %s; it answers only %s"), info->name,
                                              duct_edge_words (edge), duct_edge_words ((DuctEdge) info->edge)))
               : FALSE;
}

gboolean
duct_choose_build (const DuctRules *rules, int set, int connection, const DuctShape *s, DuctBuild *build,
                   DuctProblem *problem)
{
  Fault *fault = NULL, **wanted = problem ? &fault : NULL;

  build->set = set;
  build->connection = connection;
  build->rule_row = build->round_row = -1;
  build->side_row[0] = build->side_row[1] = -1;
  build->not_by_set = FALSE;
  build->stiffening = s->stiffening;
  build->sheet = duct_kind_has_gauge (s->kind) ? s->sheet_pin : 0;
  if (duct_stiff_asked (rules, set, s))
    return duct_stiff_choose (rules, s, build, problem);
  if (build->sheet < 0 && !duct_set_answers (rules, set, connection, s, wanted))
    {
      if (problem)
        *problem = (DuctProblem) { DUCT_DIM_NONE, fault };
      return FALSE;
    }
  if (build->sheet >= 0
      || (s->h == 0 ? look_up_round (rules, set, connection, s, build, wanted) : look_up (rules, set, s, build, wanted)))
    return TRUE;
  if (problem)
    *problem = (DuctProblem) { s->h == 0 || has_metal (rules, set, s->metal) ? DUCT_DIM_CLASS : DUCT_DIM_METAL, fault };
  return FALSE;
}

gboolean
duct_build_origin (const DuctRules *rules, const DuctBuild *build, DuctGaugeOrigin *origin)
{
  int set;

  if (build->round_row >= 0)
    {
      const DuctRoundGauge *row = g_ptr_array_index (rules->round_gauges, (guint) build->round_row);
      *origin = (DuctGaugeOrigin) { NULL, NULL, row->class_to, row->dia_to_nm, TRUE, row->ring_words, row->source, row->status };
      set = row->set;
    }
  else if (build->rule_row >= 0)
    {
      const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, (guint) build->rule_row);
      *origin = (DuctGaugeOrigin) { NULL, NULL, row->class_to, row->side_to_nm, FALSE, row->note, row->source, row->status };
      set = row->set;
    }
  else if (build->side_row[0] >= 0 && build->side_row[1] >= 0)
    {
      /* The weaker of the two sides' rows: the gauge rests on both. */
      const DuctReinforcement *a = g_ptr_array_index (rules->reinforcement, (guint) build->side_row[0]);
      const DuctReinforcement *b = g_ptr_array_index (rules->reinforcement, (guint) build->side_row[1]);
      const DuctReinforcement *row = b->status > a->status ? b : a;
      *origin = (DuctGaugeOrigin) { NULL, NULL, row->class_to, row->side_to_nm, FALSE, row->note, row->source, row->status };
      set = row->set;
    }
  else
    return FALSE;
  origin->set = ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->key;
  origin->set_name = ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->name;
  return TRUE;
}

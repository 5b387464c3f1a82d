/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/stiff.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/num.h"

#include <glib/gi18n-lib.h>

/* A laid length or centreline is told to a hundredth of a foot. */
static char *
feet_words (gint64 nm)
{
  g_autofree char *text = decimal_print_significant ((double) (num_div (nm * 100, LENGTH_NM_PER_FT)) / 100, 6);

  return g_strdup_printf (_ ("%s ft"), text);
}

static const DuctReinforcement *
row_at (const DuctRules *rules, int i)
{
  return g_ptr_array_index (rules->reinforcement, (guint) i);
}

static gint64
thickness (const DuctRules *rules, int sheet)
{
  return duct_rules_sheet (rules, sheet)->thickness_nm;
}

gboolean
duct_rules_has_reinforcement (const DuctRules *rules, int set, DuctMetal metal)
{
  for (guint i = 0; set >= 0 && i < rules->stiff_sheets->len; i++)
    {
      const DuctStiffSheet *named = &g_array_index (rules->stiff_sheets, DuctStiffSheet, i);
      if (named->set == set && duct_rules_sheet (rules, named->sheet)->metal == metal)
        return TRUE;
    }
  return FALSE;
}

gboolean
duct_stiff_asked (const DuctRules *rules, int set, const DuctShape *s)
{
  return s->h > 0 && !duct_kind_info (s->kind)->bought && duct_rules_has_reinforcement (rules, set, (DuctMetal) s->metal);
}

static const DuctRuleSet *
rule_set (const DuctStiffQuery *q)
{
  return g_ptr_array_index (q->rules->sets, (guint) q->set);
}

/* The class that answers: the first not below the pressure among the blocks of its sign or of either. */
static void
find_blocks (DuctStiffQuery *q)
{
  gint64 wanted = ABS (q->shape->pressure);
  int sign = q->shape->pressure < 0 ? -1 : 1;
  gboolean exact = rule_set (q)->exact_class;

  q->class_to = -1;
  q->n_blocks = 0;
  q->outside = !duct_set_answers (q->rules, q->set, q->connection, q->shape, NULL);
  for (guint i = 0; !q->outside && i < q->rules->stiff_blocks->len; i++)
    {
      const DuctStiffBlock *b = &g_array_index (q->rules->stiff_blocks, DuctStiffBlock, i);
      if (b->set != q->set || (b->sign != 0 && b->sign != sign) || b->class_to < wanted
          || (exact && b->class_to != wanted))
        continue;
      /* Blocks are in order of class. */
      if (q->class_to >= 0 && b->class_to != q->class_to)
        break;
      q->class_to = b->class_to;
      q->block[q->n_blocks++] = b;
    }
}

void
duct_stiff_query (DuctStiffQuery *q, const DuctRules *rules, int set, int connection, const DuctShape *s)
{
  gint64 w2 = s->dim[DUCT_DIM_W2], h2 = s->dim[DUCT_DIM_H2];

  *q = (DuctStiffQuery) { .rules = rules, .shape = s, .set = set, .connection = connection };
  q->side[0] = s->w;
  q->side[1] = s->h;
  if (w2 > 0)
    {
      /* A round second end has a diameter for either side. */
      q->side[0] = MAX (s->w, w2);
      q->side[1] = MAX (s->h, h2 > 0 ? h2 : w2);
    }
  find_blocks (q);
}

gint64
duct_stiff_length (const DuctRules *rules, int connection, const DuctShape *s)
{
  const DuctConnection *c = duct_rules_connection (rules, connection);
  DuctGeometry geometry;

  if (s->kind == DUCT_STRAIGHT)
    return MIN (s->dim[DUCT_DIM_LENGTH], (s->coil == DUCT_UNSET ? c->coil_nm : s->coil) - c->take_up_nm);
  if (s->kind == DUCT_END_CAP)
    return MIN (s->w, s->h);
  duct_geometry (rules, s, &geometry);
  return (gint64) (geometry.centreline_mm * 1e6 + 0.5);
}

double
duct_code_ei (const DuctRules *rules, int code)
{
  return code < 0 ? 0 : ((DuctStiffness *) g_ptr_array_index (rules->stiffness, (guint) code))->ei;
}

gboolean
duct_member_serves (const DuctRules *rules, int member, int code)
{
  const DuctMember *m = g_ptr_array_index (rules->members, (guint) member);

  return m->ei >= DUCT_MEMBER_SHARE * duct_code_ei (rules, code);
}

int
duct_stiff_sheet (const DuctStiffQuery *q, const DuctStiffening *stiffening, int sheet, int side)
{
  gboolean shorter = q->side[side] < q->side[1 - side];

  return stiffening->short_sheet > 0 && shorter && q->shape->kind == DUCT_STRAIGHT ? stiffening->short_sheet - 1 : sheet;
}

int
duct_stiff_row (const DuctStiffQuery *q, gint64 side, int sheet, gint64 spacing)
{
  gint64 up = (side + LENGTH_NM_PER_IN - 1) / LENGTH_NM_PER_IN * LENGTH_NM_PER_IN, thick = thickness (q->rules, sheet);
  DuctMetal metal = duct_rules_sheet (q->rules, sheet)->metal;
  double least = 0;
  int best = -1;

  for (guint b = 0; b < q->n_blocks; b++)
    for (guint i = q->block[b]->first; i < q->block[b]->first + q->block[b]->n; i++)
      {
        const DuctReinforcement *row = row_at (q->rules, (int) i);
        const DuctSheet *lightest = duct_rules_sheet (q->rules, row->sheet);
        if (side > row->side_to_nm || up < row->side_from_nm || spacing > row->spacing_nm || thick < lightest->thickness_nm
            || lightest->metal != metal)
          continue;
        double ei = duct_code_ei (q->rules, row->code);
        if (best < 0 || ei < least)
          {
            best = (int) i;
            least = ei;
          }
      }
  return best;
}

/* Of several heights the weakest counts: the connection does not say which it has. */
static gboolean
better_joint (const DuctRules *rules, const DuctJointRating *row, const DuctJointRating *best)
{
  gint64 mine = thickness (rules, row->sheet), other = best ? thickness (rules, best->sheet) : 0;

  if (!best || (row->set >= 0) != (best->set >= 0))
    return !best || row->set >= 0;
  if (mine != other)
    return mine > other;
  if (row->class_to != best->class_to)
    return row->class_to < best->class_to;
  return duct_code_ei (rules, row->code) < duct_code_ei (rules, best->code);
}

int
duct_stiff_joint (const DuctStiffQuery *q, int sheet)
{
  const DuctJointRating *best = NULL;
  int found = -1;

  for (guint i = 0; i < q->rules->joint_ratings->len; i++)
    {
      const DuctJointRating *row = g_ptr_array_index (q->rules->joint_ratings, i);
      if (row->connection != q->connection || (row->set >= 0 && row->set != q->set) || ABS (q->shape->pressure) > row->class_to
          || duct_rules_sheet (q->rules, row->sheet)->metal != duct_rules_sheet (q->rules, sheet)->metal
          || thickness (q->rules, row->sheet) > thickness (q->rules, sheet) || !better_joint (q->rules, row, best))
        continue;
      best = row;
      found = (int) i;
    }
  return found;
}

int
duct_stiff_rods (const DuctStiffQuery *q, gint64 side, int code, gint64 rods)
{
  gint64 least = rods + 1;
  int best = -1;

  for (guint i = 0; i < q->rules->tie_rods->len; i++)
    {
      const DuctTieRods *row = g_ptr_array_index (q->rules->tie_rods, i);
      if (row->set != q->set || ABS (q->shape->pressure) > row->class_to || side > row->side_to_nm || row->rods >= least
          || duct_code_ei (q->rules, row->code_to) < duct_code_ei (q->rules, code))
        continue;
      best = (int) i;
      least = row->rods;
    }
  return best;
}

/* By one spacing: the row, and whether the joints reach its class. */
static gboolean
check_spacing (const DuctStiffQuery *q, gint64 side, int sheet, gint64 spacing, const DuctStiffening *st, DuctSideCheck *out)
{
  const DuctRules *rules = q->rules;

  *out = (DuctSideCheck) { DUCT_STIFF_NO_ROW, duct_stiff_row (q, side, sheet, spacing), -1, -1, -1, FALSE };
  if (out->row < 0)
    return FALSE;
  int code = row_at (rules, out->row)->code;
  out->why = DUCT_STIFF_PASSES;
  if (code < 0)
    return TRUE;
  out->joint = duct_stiff_joint (q, sheet);
  if (out->joint >= 0
      && duct_code_ei (rules, ((DuctJointRating *) g_ptr_array_index (rules->joint_ratings, (guint) out->joint))->code)
             >= duct_code_ei (rules, code))
    return TRUE;
  out->joint_rods = st->joint_rods > 0 ? duct_stiff_rods (q, side, code, st->joint_rods) : -1;
  if (out->joint_rods >= 0)
    return TRUE;
  out->why = DUCT_STIFF_JOINT;
  return FALSE;
}

gboolean
duct_stiff_check (const DuctStiffQuery *q, int i, int sheet, gint64 length, const DuctStiffening *st, DuctSideCheck *out)
{
  gint64 side = q->side[i];

  sheet = duct_stiff_sheet (q, st, sheet, i);
  if (q->class_to < 0)
    {
      *out = (DuctSideCheck) { DUCT_STIFF_NO_CLASS, -1, -1, -1, -1, FALSE };
      return FALSE;
    }
  if (check_spacing (q, side, sheet, length, st, out))
    return TRUE;
  if (st->spacing <= 0 || st->spacing >= length || rule_set (q)->joints_only)
    return FALSE;
  gboolean joints = check_spacing (q, side, sheet, st->spacing, st, out);
  out->stations = TRUE;
  if (!joints)
    return FALSE;
  int code = row_at (q->rules, out->row)->code;
  if (st->member >= 0 && duct_member_serves (q->rules, st->member, code))
    return TRUE;
  out->rods = st->rods > 0 ? duct_stiff_rods (q, side, code, st->rods) : -1;
  if (out->rods >= 0)
    return TRUE;
  out->why = DUCT_STIFF_STATION;
  return FALSE;
}

/* ---- the build ---- */

static gboolean
check_both (const DuctStiffQuery *q, DuctBuild *build, gint64 length, DuctSideCheck check[2])
{
  gboolean passes = TRUE;

  for (int i = 0; i < 2; i++)
    {
      passes = duct_stiff_check (q, i, build->sheet, length, &build->stiffening, &check[i]) && passes;
      build->side_row[i] = check[i].why == DUCT_STIFF_PASSES ? check[i].row : -1;
    }
  return passes;
}

static Fault *
no_class (const DuctStiffQuery *q)
{
  const DuctRuleSet *set = rule_set (q);
  g_autofree char *asked = pressure_print_both (q->shape->pressure);
  Fault *fault = NULL;

  if (!duct_set_answers (q->rules, q->set, q->connection, q->shape, &fault))
    return fault;
  if (set->exact_class)
    return fault_new (-1, _ ("enter the gauge on the run, or choose another rule set"),
                      _ ("the rule set “%s” has no row for class %s, and another class is not taken for it"), set->name, asked);
  return fault_new (-1, _ ("enter the gauge on the run, or choose another rule set"),
                    _ ("the rule set “%s” has no row for class %s"), set->name, asked);
}

/* Which it is: sides past the end of the table, or sides that need more than their joints. */
static Fault *
no_gauge (const DuctStiffQuery *q, const DuctBuild *build, gint64 length)
{
  const DuctRuleSet *set = rule_set (q);
  int heaviest = -1;

  for (guint i = 0; i < q->rules->stiff_sheets->len; i++)
    {
      const DuctStiffSheet *named = &g_array_index (q->rules->stiff_sheets, DuctStiffSheet, i);
      if (named->set == q->set && duct_rules_sheet (q->rules, named->sheet)->metal == (DuctMetal) q->shape->metal)
        heaviest = named->sheet;
    }
  for (int i = 0; i < 2; i++)
    if (duct_stiff_row (q, q->side[i], heaviest, 0) < 0)
      {
        g_autofree char *side = length_print_unit (q->side[i], LENGTH_STYLE_IN);
        return fault_new (-1, _ ("enter the gauge on the run, or choose another rule set"),
                          _ ("the rule set “%s” has no row for a side of %s"), set->name, side);
      }
  g_autofree char *spacing = feet_words (length);
  if (set->joints_only)
    return fault_new (-1, _ ("choose its construction, or enter the gauge"),
                      _ ("the rule set “%s” allows no gauge with joints %s apart; members and rods between them do not count in it"), set->name,
                      spacing);
  if (build->stiffening.spacing > 0 || build->stiffening.joint_rods > 0)
    return fault_new (-1, _ ("choose its construction anew, or enter the gauge"),
                      _ ("the rule set “%s” allows no gauge with the construction entered"), set->name);
  return fault_new (-1, _ ("choose its construction, or enter the gauge"),
                    _ ("the rule set “%s” allows no gauge with joints %s apart and nothing between them"), set->name, spacing);
}

gboolean
duct_stiff_choose (const DuctRules *rules, const DuctShape *s, DuctBuild *build, DuctProblem *problem)
{
  gint64 length = duct_stiff_length (rules, build->connection, s);
  DuctSideCheck check[2];
  DuctStiffQuery q;

  duct_stiff_query (&q, rules, build->set, build->connection, s);
  if (s->sheet_pin >= 0)
    {
      build->sheet = s->sheet_pin;
      build->not_by_set = !check_both (&q, build, length, check);
      return TRUE;
    }
  for (guint i = 0; q.class_to >= 0 && i < rules->stiff_sheets->len; i++)
    {
      const DuctStiffSheet *named = &g_array_index (rules->stiff_sheets, DuctStiffSheet, i);
      if (named->set != q.set || duct_rules_sheet (rules, named->sheet)->metal != (DuctMetal) s->metal)
        continue;
      build->sheet = named->sheet;
      if (check_both (&q, build, length, check))
        return TRUE;
    }
  if (problem)
    *problem = q.class_to < 0 ? (DuctProblem) { q.outside ? DUCT_DIM_NONE : DUCT_DIM_CLASS, no_class (&q) }
                              : (DuctProblem) { DUCT_DIM_CONSTRUCTION, no_gauge (&q, build, length) };
  return FALSE;
}

/* ---- words ---- */

static char *
spacing_words (gint64 spacing)
{
  g_autofree char *text = spacing == G_MAXINT64 ? NULL : length_print_unit (spacing, LENGTH_STYLE_FT);

  return text ? g_strdup_printf (_ ("at %s"), text) : g_strdup (_ ("at any spacing"));
}

static const char *
code_key (const DuctRules *rules, int code)
{
  return code < 0 ? "" : ((DuctStiffness *) g_ptr_array_index (rules->stiffness, (guint) code))->key;
}

/* "line 210 of the reinforcement table: SOURCE (STATUS)" */
static char *
origin_words (const char *table, int line, const char *source, DuctStatus status)
{
  return g_strdup_printf (_ ("%s line %d: %s (%s)"), table, line, source, duct_status_key (status));
}

char *
duct_reinforcement_words (const DuctRules *rules, int i)
{
  const DuctReinforcement *row = row_at (rules, i);
  const char *set = ((DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) row->set))->key;
  g_autofree char *class_to = pressure_print (row->class_to, FALSE), *from = length_print (row->side_from_nm, LENGTH_STYLE_IN);
  g_autofree char *to = row->side_to_nm == G_MAXINT64 ? g_strdup (_ ("any")) : length_print_unit (row->side_to_nm, LENGTH_STYLE_IN);
  g_autofree char *spacing = spacing_words (row->spacing_nm);
  const char *sheet = duct_rules_sheet (rules, row->sheet)->label;

  if (row->code < 0)
    return g_strdup_printf (_ ("%s: class %s, sides %s to %s, %s: gauge %s, no stiffness asked for"), set, class_to, from, to, spacing, sheet);
  return g_strdup_printf (_ ("%s: class %s, sides %s to %s, %s: gauge %s with stiffness class %s"), set, class_to, from, to, spacing,
                          sheet, code_key (rules, row->code));
}

static void
append (GString *out, char *words)
{
  if (out->len > 0)
    g_string_append (out, "; ");
  g_string_append (out, words);
  g_free (words);
}

static void
append_joint (GString *out, const DuctStiffQuery *q, const DuctSideCheck *check, int code)
{
  const DuctRules *rules = q->rules;
  const char *key = duct_rules_connection (rules, q->connection)->key;

  if (code < 0)
    return;
  if (check->joint < 0)
    append (out, g_strdup_printf (_ ("joint %s has no rating"), key));
  else
    {
      const DuctJointRating *row = g_ptr_array_index (rules->joint_ratings, (guint) check->joint);
      g_autofree char *origin = origin_words ("joint_ratings", row->line, row->source, row->status);
      if (row->code < 0)
        append (out, g_strdup_printf (_ ("joint %s is worth nothing as a stiffener, %s"), key, origin));
      else
        append (out, g_strdup_printf (_ ("joint %s is class %s, %s"), key, code_key (rules, row->code), origin));
    }
  if (check->joint_rods < 0)
    return;
  const DuctTieRods *rods = g_ptr_array_index (rules->tie_rods, (guint) check->joint_rods);
  g_autofree char *origin = origin_words ("tie_rods", rods->line, rods->source, rods->status);
  append (out, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d tie rod at the joint, %s", "%d tie rods at the joint, %s",
                                             (gulong) rods->rods),
                                (int) rods->rods, origin));
}

static void
append_station (GString *out, const DuctStiffQuery *q, const DuctStiffening *st, const DuctSideCheck *check)
{
  const DuctRules *rules = q->rules;

  if (!check->stations)
    return;
  if (check->rods >= 0)
    {
      const DuctTieRods *rods = g_ptr_array_index (rules->tie_rods, (guint) check->rods);
      g_autofree char *origin = origin_words ("tie_rods", rods->line, rods->source, rods->status);
      append (out, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d tie rod between, %s", "%d tie rods between, %s", (gulong) rods->rods),
                                    (int) rods->rods, origin));
    }
  else if (st->member >= 0)
    {
      const DuctMember *m = g_ptr_array_index (rules->members, (guint) st->member);
      append (out, g_strdup_printf (_ ("%s %s between has EI %g x 1e5 lb in2 (%s)"), m->form, m->key, m->ei, duct_status_key (m->status)));
    }
}

char *
duct_side_words (const DuctStiffQuery *q, int i, int sheet, gint64 length, const DuctStiffening *st, const DuctSideCheck *check)
{
  g_autofree char *side = length_print_unit (q->side[i], LENGTH_STYLE_IN);
  g_autofree char *spacing = feet_words (check->stations ? st->spacing : length);
  const char *gauge = duct_rules_sheet (q->rules, duct_stiff_sheet (q, st, sheet, i))->label;
  const char *set = ((DuctRuleSet *) g_ptr_array_index (q->rules->sets, (guint) q->set))->key;
  g_autofree char *asked = pressure_print (q->shape->pressure, FALSE);

  if (check->why == DUCT_STIFF_NO_CLASS && q->outside)
    {
      g_autoptr (Fault) fault = no_class (q);
      return g_strdup (fault->what);
    }
  if (check->why == DUCT_STIFF_NO_CLASS)
    return g_strdup_printf (_ ("%s has no rows for class %s"), set, asked);
  if (check->why == DUCT_STIFF_NO_ROW)
    return g_strdup_printf (_ ("side %s: no row of %s allows gauge %s at %s"), side, set, gauge, spacing);

  const DuctReinforcement *row = row_at (q->rules, check->row);
  g_autofree char *rule = duct_reinforcement_words (q->rules, check->row);
  g_autofree char *origin = origin_words ("reinforcement", row->line, row->source, row->status);
  GString *out = g_string_new (NULL);
  append (out, g_strdup_printf (check->why == DUCT_STIFF_PASSES ? _ ("side %s passes by %s, %s") : _ ("side %s fails: %s, %s"), side,
                                rule, origin));
  append_joint (out, q, check, row->code);
  append_station (out, q, st, check);
  if (check->why == DUCT_STIFF_JOINT)
    append (out, g_strdup (_ ("the joint is not stiff enough")));
  else if (check->why == DUCT_STIFF_STATION)
    append (out, g_strdup (_ ("what stands between the joints is not stiff enough")));
  return g_string_free (out, FALSE);
}

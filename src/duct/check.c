/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/check.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const keys[DUCT_N_FINDINGS] = { "gap", "end", "overlap", "order", "missing" };

const char *
duct_finding_key (DuctFindingKind kind)
{
  return kind < DUCT_N_FINDINGS ? keys[kind] : "";
}

static void
finding_clear (gpointer data)
{
  g_free (((DuctFinding *) data)->words);
}

static void G_GNUC_PRINTF (5, 6)
found (GArray *out, DuctFindingKind kind, const char *table, int line, const char *format, ...)
{
  DuctFinding f = { kind, table, line, NULL };
  va_list args;

  va_start (args, format);
  f.words = g_strdup_vprintf (format, args);
  va_end (args);
  g_array_append_val (out, f);
}

static int
compare (gconstpointer a, gconstpointer b)
{
  const DuctFinding *x = a, *y = b;
  int table = strcmp (x->table, y->table);

  if (table != 0)
    return table;
  if (x->line != y->line)
    return x->line - y->line;
  return x->kind != y->kind ? (int) x->kind - (int) y->kind : strcmp (x->words, y->words);
}

static gint64
thickness (const DuctRules *rules, int sheet)
{
  return duct_rules_sheet (rules, sheet)->thickness_nm;
}

static char *
side_words (gint64 side)
{
  return side == G_MAXINT64 ? g_strdup (_ ("any")) : length_print_unit (side, LENGTH_STYLE_IN);
}

static char *
spacing_words (gint64 spacing)
{
  return spacing == G_MAXINT64 ? g_strdup (_ ("no spacing named")) : length_print_unit (spacing, LENGTH_STYLE_FT);
}

/* ---- gauges ---- */

/* @b: a later or larger one than @a. */
static void
check_gauge_pair (GArray *out, const DuctRules *rules, const DuctGaugeRow *a, const DuctGaugeRow *b)
{
  gboolean classes = a->class_from <= b->class_to && b->class_from <= a->class_to;
  const char *gauge = duct_rules_sheet (rules, b->sheet)->label, *other = duct_rules_sheet (rules, a->sheet)->label;
  g_autofree char *side = side_words (b->side_to_nm);
  g_autofree char *to = pressure_print (b->class_to, FALSE);

  if (a->class_to == b->class_to)
    {
      if (classes && a->side_to_nm == b->side_to_nm)
        found (out, DUCT_FINDING_OVERLAP, "gauges", b->line, _ ("class %s, side to %s stands in line %d too: the first of them decides"), to,
               side, a->line);
      else if (a->side_to_nm < b->side_to_nm && thickness (rules, b->sheet) < thickness (rules, a->sheet))
        found (out, DUCT_FINDING_ORDER, "gauges", b->line, _ ("class %s: gauge %s for sides to %s is lighter than gauge %s of the smaller sides in line %d"),
               to, gauge, side, other, a->line);
      else if (a->side_to_nm > b->side_to_nm)
        found (out, DUCT_FINDING_OVERLAP, "gauges", b->line, _ ("class %s: the row for sides to %s stands behind that of larger sides in line %d and is never reached"),
               to, side, a->line);
    }
}

/* The row that decides for a side in one class of the set. */
static const DuctGaugeRow *
deciding (const DuctRules *rules, int set, DuctMetal metal, gint64 class_to, gint64 side)
{
  for (guint i = 0; i < rules->gauge_rows->len; i++)
    {
      const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, i);
      if (row->set == set && row->metal == metal && row->class_to == class_to && side <= row->side_to_nm)
        return row;
    }
  return NULL;
}

/* Against the rows of the next class: by every side at which either changes. */
static void
check_gauge_classes (GArray *out, const DuctRules *rules, int set, DuctMetal metal, gint64 lower, gint64 higher)
{
  const DuctGaugeRow *told = NULL;
  gboolean ended = FALSE;

  for (guint i = 0; i < rules->gauge_rows->len; i++)
    {
      const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, i);
      if (row->set != set || row->metal != metal || (row->class_to != lower && row->class_to != higher))
        continue;
      const DuctGaugeRow *a = deciding (rules, set, metal, lower, row->side_to_nm);
      const DuctGaugeRow *b = deciding (rules, set, metal, higher, row->side_to_nm);
      g_autofree char *side = side_words (row->side_to_nm);
      g_autofree char *low = pressure_print (lower, FALSE);
      g_autofree char *high = pressure_print (higher, FALSE);
      if (a && b && b != told && thickness (rules, b->sheet) < thickness (rules, a->sheet))
        {
          found (out, DUCT_FINDING_ORDER, "gauges", b->line, _ ("class %s, side %s: gauge %s is lighter than gauge %s of the lower class %s in line %d"),
                 high, side, duct_rules_sheet (rules, b->sheet)->label, duct_rules_sheet (rules, a->sheet)->label, low, a->line);
          told = b;
        }
      else if ((a == NULL) != (b == NULL) && !ended)
        {
          found (out, DUCT_FINDING_END, "gauges", row->line, _ ("a side of %s has a row in class %s and none in class %s"), side,
                 a ? low : high, a ? high : low);
          ended = TRUE;
        }
    }
}

static gint64
next_gauge_class (const DuctRules *rules, int set, DuctMetal metal, gint64 above, gint64 *from, int *line)
{
  gint64 next = G_MAXINT64;

  for (guint i = 0; i < rules->gauge_rows->len; i++)
    {
      const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, i);
      if (row->set != set || row->metal != metal || row->class_to <= above || row->class_to >= next)
        continue;
      next = row->class_to;
      *from = row->class_from;
      *line = row->line;
    }
  return next;
}

static void
check_gauges (GArray *out, const DuctRules *rules, int set, DuctMetal metal)
{
  gint64 last = 0, from = 0, next;
  int line = 0;

  for (guint i = 0; i < rules->gauge_rows->len; i++)
    for (guint k = 0; k < i; k++)
      {
        const DuctGaugeRow *b = g_ptr_array_index (rules->gauge_rows, i), *a = g_ptr_array_index (rules->gauge_rows, k);
        if (a->set == set && b->set == set && a->metal == metal && b->metal == metal)
          check_gauge_pair (out, rules, a, b);
      }
  while ((next = next_gauge_class (rules, set, metal, last, &from, &line)) != G_MAXINT64)
    {
      if (last > 0 && from > last + 1)
        {
          g_autofree char *low = pressure_print (last, FALSE);
          g_autofree char *high = pressure_print (from, FALSE);
          found (out, DUCT_FINDING_GAP, "gauges", line, _ ("no row answers for classes over %s and below %s"), low, high);
        }
      if (last > 0)
        check_gauge_classes (out, rules, set, metal, last, next);
      last = next;
    }
}

/* ---- reinforcement ---- */

static const DuctReinforcement *
row_at (const DuctRules *rules, guint i)
{
  return g_ptr_array_index (rules->reinforcement, i);
}

/* Lighter or less stiff, and no more of the other: never a row that asks for more. */
static gboolean
asks_less (const DuctRules *rules, const DuctReinforcement *a, const DuctReinforcement *b)
{
  gint64 x = thickness (rules, a->sheet), y = thickness (rules, b->sheet);
  double ei = duct_code_ei (rules, a->code), other = duct_code_ei (rules, b->code);

  return x <= y && ei <= other && (x < y || ei < other);
}

static gboolean
same_metal (const DuctRules *rules, const DuctReinforcement *a, const DuctReinforcement *b)
{
  return duct_rules_sheet (rules, a->sheet)->metal == duct_rules_sheet (rules, b->sheet)->metal;
}

static gboolean
sides_meet (const DuctReinforcement *a, const DuctReinforcement *b)
{
  return a->side_from_nm <= b->side_to_nm && b->side_from_nm <= a->side_to_nm;
}

static char *
place_words (const DuctRules *rules, const DuctReinforcement *row)
{
  g_autofree char *class_to = pressure_print (row->class_to, FALSE);
  g_autofree char *from = length_print (row->side_from_nm, LENGTH_STYLE_IN), *to = side_words (row->side_to_nm);
  g_autofree char *spacing = spacing_words (row->spacing_nm);
  const char *code = row->code < 0 ? _ ("none") : ((DuctStiffness *) g_ptr_array_index (rules->stiffness, (guint) row->code))->key;

  return g_strdup_printf (_ ("class %s%s, sides %s to %s, %s: gauge %s, stiffness class %s"), row->sign > 0 ? "+" : row->sign < 0 ? "-" : "",
                          class_to, from, to, spacing, duct_rules_sheet (rules, row->sheet)->label, code);
}

/* One row against those of its own class and sign: each fault is told once, against the first row it disagrees with. */
static void
check_row (GArray *out, const DuctRules *rules, const DuctStiffBlock *block, const DuctReinforcement *row)
{
  gboolean told[3] = { FALSE, FALSE, FALSE };
  g_autofree char *place = place_words (rules, row);

  for (guint i = block->first; i < block->first + block->n; i++)
    {
      const DuctReinforcement *other = row_at (rules, i);
      if (other == row || !same_metal (rules, row, other))
        continue;
      gboolean spacing = other->spacing_nm == row->spacing_nm;
      if (!told[0] && spacing && other->side_to_nm < row->side_from_nm && asks_less (rules, row, other))
        {
          found (out, DUCT_FINDING_ORDER, "reinforcement", row->line, _ ("%s: asks less than line %d of smaller sides"), place, other->line);
          told[0] = TRUE;
        }
      if (!told[1] && other->spacing_nm < row->spacing_nm && sides_meet (row, other) && thickness (rules, row->sheet) < thickness (rules, other->sheet)
          && duct_code_ei (rules, row->code) <= duct_code_ei (rules, other->code))
        {
          found (out, DUCT_FINDING_ORDER, "reinforcement", row->line, _ ("%s: lighter than line %d of a closer spacing"), place, other->line);
          told[1] = TRUE;
        }
      if (!told[2] && spacing && other->line < row->line && sides_meet (row, other)
          && (asks_less (rules, row, other) || asks_less (rules, other, row)
              || (row->sheet == other->sheet && row->code == other->code)))
        {
          found (out, DUCT_FINDING_OVERLAP, "reinforcement", row->line, _ ("%s: line %d answers for some of these sides too"), place, other->line);
          told[2] = TRUE;
        }
    }
}

/* Against the next class of the same sign. */
static void
check_blocks (GArray *out, const DuctRules *rules, const DuctStiffBlock *lower, const DuctStiffBlock *higher)
{
  for (guint i = higher->first; i < higher->first + higher->n; i++)
    for (guint k = lower->first; k < lower->first + lower->n; k++)
      {
        const DuctReinforcement *row = row_at (rules, i), *other = row_at (rules, k);
        if (row->spacing_nm != other->spacing_nm || !sides_meet (row, other) || !same_metal (rules, row, other) || !asks_less (rules, row, other))
          continue;
        g_autofree char *place = place_words (rules, row);
        found (out, DUCT_FINDING_ORDER, "reinforcement", row->line, _ ("%s: asks less than line %d of a lower class"), place, other->line);
        break;
      }
}

/* Whether a block has a row for a side at a spacing, and the largest side that it has there. */
static gboolean
has_row (const DuctRules *rules, const DuctStiffBlock *block, gint64 side, gint64 spacing, gint64 *most, int *line)
{
  gboolean has = FALSE;

  *most = -1;
  for (guint i = block->first; i < block->first + block->n; i++)
    {
      const DuctReinforcement *row = row_at (rules, i);
      if (row->spacing_nm != spacing)
        continue;
      has = has || (side >= row->side_from_nm && side <= row->side_to_nm);
      if (row->side_to_nm > *most)
        {
          *most = row->side_to_nm;
          *line = row->line;
        }
    }
  return has;
}

/* A spacing that is left out between two others at one side; and, where no closer spacing takes over, where the rows end. */
static void
check_spacings (GArray *out, const DuctRules *rules, const DuctStiffBlock *block)
{
  g_autoptr (GHashTable) seen = g_hash_table_new (g_int64_hash, g_int64_equal);
  gint64 widest = 0, most;
  int line = 0;

  for (guint i = block->first; i < block->first + block->n; i++)
    widest = MAX (widest, row_at (rules, i)->side_to_nm);
  for (guint i = block->first; i < block->first + block->n; i++)
    {
      const DuctReinforcement *row = row_at (rules, i);
      gint64 closer = 0;
      /* The next closer spacing of the block must answer for this row's largest side as well. */
      for (guint k = block->first; k < block->first + block->n; k++)
        if (row_at (rules, k)->spacing_nm < row->spacing_nm)
          closer = MAX (closer, row_at (rules, k)->spacing_nm);
      if (closer > 0 && !has_row (rules, block, row->side_to_nm, closer, &most, &line))
        {
          g_autofree char *place = place_words (rules, row), *text = spacing_words (closer);
          found (out, DUCT_FINDING_GAP, "reinforcement", row->line, _ ("%s: the closer spacing of %s has no row for these sides"), place, text);
        }
      /* Without stiffeners any table ends where they have to begin. */
      if (row->spacing_nm == G_MAXINT64 || !g_hash_table_add (seen, (gpointer) &row->spacing_nm))
        continue;
      has_row (rules, block, widest, row->spacing_nm, &most, &line);
      if (most < widest)
        {
          g_autofree char *text = spacing_words (row->spacing_nm), *ends = side_words (most), *on = side_words (widest);
          g_autofree char *class_to = pressure_print (block->class_to, FALSE);
          found (out, DUCT_FINDING_END, "reinforcement", line, _ ("class %s%s, %s: the rows end at sides of %s, others of the class go on to %s"),
                 block->sign > 0 ? "+" : block->sign < 0 ? "-" : "", class_to, text, ends, on);
        }
    }
}

static gboolean
has_class (const DuctRules *rules, int set, gint64 class_to, int sign)
{
  for (guint i = 0; i < rules->stiff_blocks->len; i++)
    {
      const DuctStiffBlock *b = &g_array_index (rules->stiff_blocks, DuctStiffBlock, i);
      if (b->set == set && b->class_to == class_to && (b->sign == 0 || b->sign == sign))
        return TRUE;
    }
  return FALSE;
}

/* Classes of the list of pressure classes between the lowest and the highest that the set has; and one sign without the other. */
static void
check_classes (GArray *out, const DuctRules *rules, int set)
{
  const DuctRuleSet *info = g_ptr_array_index (rules->sets, (guint) set);
  gint64 low = G_MAXINT64, high = 0;

  for (guint i = 0; i < rules->stiff_blocks->len; i++)
    {
      const DuctStiffBlock *b = &g_array_index (rules->stiff_blocks, DuctStiffBlock, i);
      if (b->set != set)
        continue;
      low = MIN (low, b->class_to);
      high = MAX (high, b->class_to);
      if (b->sign != 0 && !has_class (rules, set, b->class_to, -b->sign))
        {
          g_autofree char *class_to = pressure_print (b->class_to, FALSE);
          found (out, DUCT_FINDING_GAP, "reinforcement", row_at (rules, b->first)->line,
                 b->sign > 0 ? _ ("class %s has rows for positive pressure and none for negative")
                             : _ ("class %s has rows for negative pressure and none for positive"), class_to);
        }
    }
  for (guint i = 0; i < rules->pressure_classes->len; i++)
    {
      gint64 p = ((DuctPressureClass *) g_ptr_array_index (rules->pressure_classes, i))->pressure;
      if (p <= low || p >= high || has_class (rules, set, p, 1) || has_class (rules, set, p, -1))
        continue;
      g_autofree char *class_to = pressure_print (p, FALSE);
      found (out, DUCT_FINDING_GAP, "reinforcement", 0,
             info->exact_class ? _ ("class %s has no rows, and the set takes no other class for it")
                               : _ ("class %s has no rows of its own: the next higher class answers for it"), class_to);
    }
}

/* ---- what the rows name ---- */

static double
stiffest_joint (const DuctRules *rules, int set, int connection)
{
  int edge = ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->edge;
  double most = -1;

  for (guint i = 0; i < rules->joint_ratings->len; i++)
    {
      const DuctJointRating *row = g_ptr_array_index (rules->joint_ratings, i);
      if ((row->set < 0 || row->set == set) && (edge < 0 || duct_rules_connection (rules, row->connection)->straight_end == (DuctEdge) edge)
          && (connection < 0 || row->connection == connection))
        most = MAX (most, duct_code_ei (rules, row->code));
    }
  return most;
}

static gboolean
rods_reach (const DuctRules *rules, int set, int code)
{
  for (guint i = 0; i < rules->tie_rods->len; i++)
    {
      const DuctTieRods *row = g_ptr_array_index (rules->tie_rods, i);
      if (row->set == set && duct_code_ei (rules, row->code_to) >= duct_code_ei (rules, code))
        return TRUE;
    }
  return FALSE;
}

/* Each class that the rows ask for, once, at the first row that does. Members are asked only where they may stand between joints. */
static void
check_codes (GArray *out, const DuctRules *rules, int set)
{
  gboolean joints_only = ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->joints_only;

  for (int code = 0; code < (int) rules->stiffness->len; code++)
    {
      const char *key = ((DuctStiffness *) g_ptr_array_index (rules->stiffness, (guint) code))->key;
      gboolean member = joints_only;
      int line = 0;

      for (guint i = 0; i < rules->reinforcement->len; i++)
        if (row_at (rules, i)->set == set && row_at (rules, i)->code == code)
          line = line == 0 ? row_at (rules, i)->line : MIN (line, row_at (rules, i)->line);
      if (line == 0)
        continue;
      for (int m = 0; m < (int) rules->members->len; m++)
        member = member || duct_member_serves (rules, m, code);
      if (!member)
        found (out, DUCT_FINDING_MISSING, "reinforcement", line, _ ("class %s is asked for and no member of the table reaches it"), key);
      if (stiffest_joint (rules, set, -1) < duct_code_ei (rules, code))
        found (out, DUCT_FINDING_MISSING, "reinforcement", line,
               rods_reach (rules, set, code) ? _ ("class %s is asked for and no joint is rated so stiff: tie rods at the joint only")
                                             : _ ("class %s is asked for and no joint is rated so stiff, nor do tie rods stand for it"), key);
    }
}

static void
check_connections (GArray *out, const DuctRules *rules, int set)
{
  int edge = ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->edge;

  for (int c = 0; c < (int) rules->connections->len; c++)
    {
      const DuctConnection *connection = duct_rules_connection (rules, c);
      if (connection->section == DUCT_RECT && (edge < 0 || connection->straight_end == (DuctEdge) edge) && stiffest_joint (rules, set, c) < 0)
        found (out, DUCT_FINDING_MISSING, "joint_ratings", 0, _ ("connection %s has no rating for this set: it counts as no stiffener"),
               connection->key);
    }
}

GArray *
duct_check_set (const DuctRules *rules, int set)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (DuctFinding));
  gboolean stiff = FALSE;

  g_array_set_clear_func (out, finding_clear);
  for (int m = 0; m < DUCT_N_METALS; m++)
    check_gauges (out, rules, set, (DuctMetal) m);
  for (guint i = 0; i < rules->stiff_blocks->len; i++)
    {
      const DuctStiffBlock *block = &g_array_index (rules->stiff_blocks, DuctStiffBlock, i);
      if (block->set != set)
        continue;
      stiff = TRUE;
      for (guint k = block->first; k < block->first + block->n; k++)
        check_row (out, rules, block, row_at (rules, k));
      check_spacings (out, rules, block);
      /* The next class that has this sign. */
      for (guint k = i + 1; k < rules->stiff_blocks->len; k++)
        {
          const DuctStiffBlock *next = &g_array_index (rules->stiff_blocks, DuctStiffBlock, k);
          if (next->set == set && next->class_to > block->class_to && next->sign == block->sign)
            {
              check_blocks (out, rules, block, next);
              break;
            }
        }
    }
  if (stiff)
    {
      check_classes (out, rules, set);
      check_codes (out, rules, set);
      check_connections (out, rules, set);
    }
  g_array_sort (out, compare);
  return out;
}

guint
duct_set_rows (const DuctRules *rules, int set)
{
  guint n = 0;

  for (guint i = 0; i < rules->gauge_rows->len; i++)
    n += ((DuctGaugeRow *) g_ptr_array_index (rules->gauge_rows, i))->set == set;
  for (guint i = 0; i < rules->round_gauges->len; i++)
    n += ((DuctRoundGauge *) g_ptr_array_index (rules->round_gauges, i))->set == set;
  for (guint i = 0; i < rules->reinforcement->len; i++)
    n += row_at (rules, i)->set == set;
  return n;
}

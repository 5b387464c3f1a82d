/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/rules-private.h"

#include "base/decimal.h"
#include "base/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

DuctMetal
duct_read_metal (const TableReader *r)
{
  Fault *fault = NULL;
  DuctMetal metal = DUCT_GALVANISED;

  if (!duct_metal_parse (table_cell (r, "metal"), &metal, &fault))
    table_complain_fault (r, "metal", fault);
  return metal;
}

void
duct_read_origin (const TableReader *r, char **source, DuctStatus *status)
{
  *source = g_strdup (table_cell (r, "source"));
  *status = DUCT_SHOPS_OWN;
  if (!duct_status_parse (table_cell (r, "status"), status))
    table_complain (r, "status", _ ("not a status"),
              _ ("write published, published*, computed, common practice, from memory, shop's own or invented demo"));
}

int
duct_read_line (const TableReader *r)
{
  return ((CsvRow *) g_ptr_array_index (r->table->row, r->row))->line;
}

int
duct_read_set (const TableReader *r, const DuctRules *rules)
{
  int set = duct_rules_find_set (rules, table_cell (r, "rule_set"));

  if (set < 0)
    table_complain (r, "rule_set", _ ("no such rule set"), _ ("add it to the rule sets first"));
  return set;
}

int
duct_read_sign (const TableReader *r, const char *heading)
{
  const char *cell = table_cell (r, heading);

  if (!*cell || strcmp (cell, "either") == 0)
    return 0;
  if (strcmp (cell, "+") == 0)
    return 1;
  if (strcmp (cell, "-") == 0)
    return -1;
  table_complain (r, heading, _ ("not a sign of pressure"), _ ("write +, - or leave it empty for either"));
  return 0;
}

static void
sheet_free (gpointer data)
{
  DuctSheet *sheet = data;
  g_free (sheet->label);
  g_free (sheet->source);
  g_free (sheet);
}

static void
set_free (gpointer data)
{
  DuctRuleSet *set = data;
  g_free (set->key);
  g_free (set->name);
  g_free (set->scope);
  g_free (set->source);
  g_free (set);
}

static void
row_free (gpointer data)
{
  DuctGaugeRow *row = data;
  g_free (row->note);
  g_free (row->source);
  g_free (row);
}

static void
connection_free (gpointer data)
{
  DuctConnection *connection = data;
  g_free (connection->key);
  g_free (connection->source);
  g_free (connection);
}

static void
step_free (gpointer data)
{
  DuctStep *step = data;
  g_free (step->source);
  g_free (step);
}

static void
read_sheets (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "metal", "gauge", "nom_in", "nom_lb_ft2", "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctSheet *sheet = g_new0 (DuctSheet, 1);
      gint64 lb;

      g_ptr_array_add (rules->sheets, sheet);
      sheet->metal = duct_read_metal (&r);
      sheet->label = g_strdup (table_cell (&r, "gauge"));
      sheet->thickness_nm = table_length (&r, "nom_in", 0);
      lb = table_decimal (&r, "nom_lb_ft2", 6, 0, 1, 100000000);
      sheet->mg_per_mm2 = (double) lb / 1e6 * MEASURE_MG_PER_LB / MEASURE_MM2_PER_FT2;
      duct_read_origin (&r, &sheet->source, &sheet->status);
    }
}

static const char *const edge_keys[] = { "slip-on", "integral", "slip-and-drive", "coupled", "ringed" };
static const char *const yes_no[] = { "yes", "no" };

/* How far a set reaches stands in columns that older catalogues do not have: there it answers as it always did. */
static void
read_sets (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "rule_set", "name", "scope", "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctRuleSet *set = g_new0 (DuctRuleSet, 1);
      if (duct_rules_find_set (rules, table_cell (&r, "rule_set")) >= 0)
        table_complain (&r, "rule_set", _ ("this rule set stands twice"), _ ("give each its own key"));
      set->key = g_strdup (table_cell (&r, "rule_set"));
      set->name = g_strdup (table_cell (&r, "name"));
      set->scope = g_strdup (table_cell (&r, "scope"));
      set->edge = *table_cell (&r, "connection") ? table_word (&r, "connection", edge_keys, G_N_ELEMENTS (edge_keys)) : -1;
      set->exact_class = *table_cell (&r, "exact_class") && table_word (&r, "exact_class", yes_no, 2) == 0;
      set->joints_only = *table_cell (&r, "joints_only") && table_word (&r, "joints_only", yes_no, 2) == 0;
      duct_read_origin (&r, &set->source, &set->status);
      g_ptr_array_add (rules->sets, set);
    }
}

static void
read_gauges (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "rule_set", "metal", "class_from", "class_to", "side_to_in",
                                          "gauge", "note", "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctGaugeRow *row = g_new0 (DuctGaugeRow, 1);

      g_ptr_array_add (rules->gauge_rows, row);
      row->line = duct_read_line (&r);
      row->set = duct_read_set (&r, rules);
      row->metal = duct_read_metal (&r);
      row->class_from = table_pressure (&r, "class_from", 0);
      row->class_to = table_pressure (&r, "class_to", 0);
      row->side_to_nm = table_length (&r, "side_to_in", G_MAXINT64);
      row->sheet = duct_rules_find_sheet (rules, row->metal, table_cell (&r, "gauge"));
      if (row->class_to <= 0 || row->class_from > row->class_to)
        table_complain (&r, "class_to", _ ("the class range is empty"), _ ("enter the highest class, in w.g., the row answers for"));
      if (row->sheet < 0)
        table_complain (&r, "gauge", _ ("no such sheet of this metal"), _ ("use a gauge of the sheet table"));
      row->note = g_strdup (table_cell (&r, "note"));
      duct_read_origin (&r, &row->source, &row->status);
    }
}

static DuctEdge
read_edge (const TableReader *r, const char *heading)
{
  int i = table_word (r, heading, edge_keys, G_N_ELEMENTS (edge_keys));

  return i < 0 ? DUCT_EDGE_SLIP_ON : (DuctEdge) i;
}

static void
read_connections (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "connection", "coil_in", "take_up_in", "straight_end", "fitting_end", "class_to",
                                          "side_to_in", "outdoors", "source", "status", NULL };
  static const char *const sections[] = { "rectangular", "round" };
  static const char *const seams[DUCT_N_SEAMS] = { "spiral", "longitudinal" };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctConnection *c = g_new0 (DuctConnection, 1);
      int outdoors = table_word (&r, "outdoors", yes_no, 2);
      int section = *table_cell (&r, "section") ? table_word (&r, "section", sections, 2) : 0;

      g_ptr_array_add (rules->connections, c);
      c->key = g_strdup (table_cell (&r, "connection"));
      c->coil_nm = table_length (&r, "coil_in", 0);
      c->take_up_nm = table_length (&r, "take_up_in", 0);
      c->straight_end = read_edge (&r, "straight_end");
      c->fitting_end = read_edge (&r, "fitting_end");
      c->class_to = table_pressure (&r, "class_to", G_MAXINT64);
      c->side_to_nm = table_length (&r, "side_to_in", G_MAXINT64);
      c->outdoors = outdoors != 1;
      c->section = section == 1 ? DUCT_ROUND : DUCT_RECT;
      c->seam = c->section == DUCT_ROUND ? MAX (table_word (&r, "seam", seams, DUCT_N_SEAMS), 0) : -1;
      if ((c->section == DUCT_ROUND) != (c->straight_end >= DUCT_EDGE_COUPLED)
          || (c->section == DUCT_ROUND) != (c->fitting_end >= DUCT_EDGE_COUPLED))
        table_complain (&r, "straight_end", _ ("this end does not go with the section"),
                        _ ("round: coupled or ringed; rectangular: slip-on, integral or slip-and-drive"));
      if (c->coil_nm <= c->take_up_nm || c->take_up_nm < 0)
        table_complain (&r, "coil_in", _ ("nothing is left of the coil"), _ ("enter a coil wider than the take-up"));
      duct_read_origin (&r, &c->source, &c->status);
    }
}

typedef gint64 (*ReadKey) (const TableReader *, const char *, gint64);

/* Rows rise within what they answer for: a connection, an end, and by the side or by a spacing. */
static gboolean
step_rises (const GPtrArray *rows, const DuctStep *step)
{
  for (guint i = rows->len - 1; i-- > 0;)
    {
      const DuctStep *before = g_ptr_array_index (rows, i);
      if (before->connection != step->connection || before->end != step->end || (before->side_to > 0) != (step->side_to > 0))
        continue;
      return step->upto > before->upto || (step->upto == before->upto && step->side_to > before->side_to);
    }
  return TRUE;
}

/* What a row gives: a spacing, or a count for sides up to a length. */
static void
read_step_value (const TableReader *r, const char *value, DuctStep *step)
{
  step->side_to = table_length (r, "side_to_in", 0);
  step->count = table_decimal (r, "count", 0, 0, 0, 1000);
  if (*table_cell (r, "side_to_in") || *table_cell (r, "count"))
    {
      if (step->side_to <= 0)
        table_complain (r, "side_to_in", _ ("a count needs the side that it goes up to"), _ ("enter inches, or clear the count"));
      if (!*table_cell (r, "count") || *table_cell (r, value))
        table_complain (r, "count", _ ("a row up to a side gives a count and no spacing"),
                        _ ("enter the count of a side and clear the spacing"));
    }
  else if (strcmp (table_cell (r, value), "continuous") != 0)
    {
      step->value = table_length (r, value, 0);
      if (step->value <= 0)
        table_complain (r, value, _ ("not a length over 0"), _ ("enter inches, or “continuous”"));
    }
}

/* Tables of the shape "up to this, that much", for every joint or for a connection or end alone. */
static void
read_steps (const DuctRules *rules, GPtrArray *rows, const CsvTable *table, GPtrArray *faults, const char *upto,
            const char *value, const char *extra, ReadKey key)
{
  const char *const headings[] = { upto, value, "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctStep *step = g_new0 (DuctStep, 1);

      g_ptr_array_add (rows, step);
      step->upto = key (&r, upto, G_MAXINT64);
      step->connection = duct_read_connection (&r, rules);
      step->end = duct_read_end (&r);
      read_step_value (&r, value, step);
      if (extra)
        step->extra = table_length (&r, extra, 0);
      if (!step_rises (rows, step))
        table_complain (&r, upto, _ ("the rows do not rise"), _ ("sort the rows from small to large"));
      duct_read_origin (&r, &step->source, &step->status);
    }
  if (table->row->len == 0)
    table_complain (&r, upto, _ ("the table is empty"), _ ("give it at least one row"));
}

static void
read_allowances (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "allowance", "value", "unit", "source", "status", NULL };
  static const char *const keys[DUCT_N_ALLOWANCES] = {
    [DUCT_ALLOW_SEAM] = "seam",
    [DUCT_ALLOW_SCREW_EDGE] = "screw from bar end",
    [DUCT_ALLOW_GASKET_STRIPS] = "gasket strips a joint",
    [DUCT_ALLOW_DRIVE_EXTRA] = "drive longer than side",
    [DUCT_ALLOW_TAP_FLANGE] = "tap flange",
    [DUCT_ALLOW_CAP_EDGE] = "end cap edge",
    [DUCT_ALLOW_SHORT_PIECE] = "shortest rest piece",
    [DUCT_ALLOW_HANGER_SPACING] = "hanger spacing",
    [DUCT_ALLOW_STRAP_HALF_PERIMETER] = "strap hanger to half perimeter",
    [DUCT_ALLOW_TRAPEZE_WIDTH] = "trapeze to width",
    [DUCT_ALLOW_HEAVY_LIFT] = "lift set-up above",
    [DUCT_ALLOW_MITRE_LEGS] = "mitred elbow legs",
    [DUCT_ALLOW_TRANSITION_LENGTH] = "transition length",
    [DUCT_ALLOW_OFFSET_LENGTH] = "offset length",
    [DUCT_ALLOW_OFFSET_ASIDE] = "offset aside",
    [DUCT_ALLOW_TAP_LENGTH] = "tap length",
    [DUCT_ALLOW_TEE_BRANCH] = "tee branch length",
    [DUCT_ALLOW_WYE_LENGTH] = "wye length",
    [DUCT_ALLOW_BOOT] = "boot longer at its base",
    [DUCT_ALLOW_COLLAR_LENGTH] = "collar length",
    [DUCT_ALLOW_SADDLE_FLANGE] = "saddle flange",
    [DUCT_ALLOW_DAMPER_LENGTH] = "damper length",
    [DUCT_ALLOW_FABRIC_LENGTH] = "fabric connector length",
    [DUCT_ALLOW_REDUCER_LENGTH] = "reducer length",
    [DUCT_ALLOW_SPIRAL_LAP] = "spiral lock seam",
    [DUCT_ALLOW_SPIRAL_STRIP] = "spiral strip width",
    [DUCT_ALLOW_ROUND_SCREW] = "round joint screw spacing",
    [DUCT_ALLOW_LINER_EDGE] = "liner pin from joint",
    [DUCT_ALLOW_LINER_NO_PINS] = "liner side without pins",
    [DUCT_ALLOW_LINER_FROM_CORNER] = "liner pin from corner",
    [DUCT_ALLOW_WRAP_PINS_FROM] = "wrap pins from width",
    [DUCT_ALLOW_WRAP_PIN_SPACING] = "wrap pin spacing",
    [DUCT_ALLOW_RISER_SPACING] = "riser support spacing",
    [DUCT_ALLOW_STRAP_TURN] = "strap turned at its ends",
    [DUCT_ALLOW_TRAPEZE_CLEAR] = "trapeze rod from duct",
    [DUCT_ALLOW_ROUND_LEAST] = "smallest round",
    [DUCT_ALLOW_RING_BOLT] = "ring bolt spacing",
    [DUCT_ALLOW_FLEXIBLE_RUN] = "longest flexible run",
    [DUCT_ALLOW_FLEXIBLE_HANGER] = "flexible duct hanger spacing",
  };
  /* For catalogues from before these figures: inches, as the starter's table has them. */
  static const double later[DUCT_N_ALLOWANCES] = {
    [DUCT_ALLOW_TEE_BRANCH] = 6,       [DUCT_ALLOW_WYE_LENGTH] = 36,     [DUCT_ALLOW_BOOT] = 4,
    [DUCT_ALLOW_COLLAR_LENGTH] = 4,    [DUCT_ALLOW_SADDLE_FLANGE] = 1,   [DUCT_ALLOW_DAMPER_LENGTH] = 6,
    [DUCT_ALLOW_FABRIC_LENGTH] = 6,    [DUCT_ALLOW_REDUCER_LENGTH] = 12, [DUCT_ALLOW_SPIRAL_LAP] = 0.875,
    [DUCT_ALLOW_SPIRAL_STRIP] = 5.375, [DUCT_ALLOW_ROUND_SCREW] = 15,    [DUCT_ALLOW_LINER_EDGE] = 3,
    [DUCT_ALLOW_LINER_NO_PINS] = 8,    [DUCT_ALLOW_LINER_FROM_CORNER] = 4, [DUCT_ALLOW_WRAP_PINS_FROM] = 24,
    [DUCT_ALLOW_WRAP_PIN_SPACING] = 18, [DUCT_ALLOW_RISER_SPACING] = 144,
    [DUCT_ALLOW_STRAP_TURN] = 6,       [DUCT_ALLOW_TRAPEZE_CLEAR] = 2,
    [DUCT_ALLOW_ROUND_LEAST] = 4,
    [DUCT_ALLOW_RING_BOLT] = 6,        [DUCT_ALLOW_FLEXIBLE_RUN] = 60,   [DUCT_ALLOW_FLEXIBLE_HANGER] = 48,
  };
  gboolean seen[DUCT_N_ALLOWANCES] = { FALSE };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      int i = duct_word_index (table_cell (&r, "allowance"), keys, DUCT_N_ALLOWANCES);
      Fault *fault = NULL;
      gint64 v = 0;

      if (i < 0 || seen[i])
        {
          table_complain (&r, "allowance", i < 0 ? _ ("no such allowance") : _ ("this allowance stands twice"),
                    _ ("keep each allowance of the starter table once"));
          continue;
        }
      seen[i] = TRUE;
      if (strcmp (table_cell (&r, "unit"), "lb") == 0)
        {
          if (decimal_parse (table_cell (&r, "value"), 3, &v, &fault))
            v = (gint64) ((double) v / 1e3 * MEASURE_MG_PER_LB + 0.5);
        }
      else
        {
          g_autofree char *text = g_strdup_printf ("%s %s", table_cell (&r, "value"), table_cell (&r, "unit"));
          length_parse (text, LENGTH_IN, &v, &fault);
        }
      if (fault)
        table_complain_fault (&r, "value", fault);
      else if (v <= 0 && i != DUCT_ALLOW_SEAM && i != DUCT_ALLOW_TAP_FLANGE)
        table_complain (&r, "value", _ ("must be over 0"), _ ("enter the figure and its unit"));
      rules->allow[i].value = v;
      duct_read_origin (&r, &rules->allow[i].source, &rules->allow[i].status);
    }
  for (int i = 0; i < DUCT_N_ALLOWANCES; i++)
    if (!seen[i] && i >= DUCT_ALLOW_N_FIRST)
      {
        rules->allow[i].value = (gint64) (later[i] * (double) LENGTH_NM_PER_IN + 0.5);
        rules->allow[i].source = g_strdup (_ ("not in this catalogue: the program's own figure"));
        rules->allow[i].status = DUCT_FROM_MEMORY;
      }
    else if (!seen[i])
      {
        g_autofree char *what = g_strdup_printf (_ ("the allowance “%s” is missing"), keys[i]);
        table_complain (&r, "allowance", what, _ ("add its row"));
      }
}

DuctRules *
duct_rules_new (const DuctRuleTables *t, GPtrArray *faults)
{
  DuctRules *rules = g_new0 (DuctRules, 1);
  guint before = faults->len;

  g_atomic_ref_count_init (&rules->refs);
  rules->sheets = g_ptr_array_new_with_free_func (sheet_free);
  rules->sets = g_ptr_array_new_with_free_func (set_free);
  rules->gauge_rows = g_ptr_array_new_with_free_func (row_free);
  rules->connections = g_ptr_array_new_with_free_func (connection_free);
  rules->screws = g_ptr_array_new_with_free_func (step_free);
  rules->cleats = g_ptr_array_new_with_free_func (step_free);
  rules->vanes = g_ptr_array_new_with_free_func (step_free);
  rules->profiles = g_ptr_array_new_with_free_func (step_free);

  read_sheets (rules, t->sheets, faults);
  read_sets (rules, t->rule_sets, faults);
  read_gauges (rules, t->gauges, faults);
  read_connections (rules, t->connections, faults);
  read_steps (rules, rules->screws, t->screws, faults, "class_to", "spacing_in", NULL, table_pressure);
  read_steps (rules, rules->cleats, t->cleats, faults, "class_to", "spacing_in", NULL, table_pressure);
  read_steps (rules, rules->vanes, t->vanes, faults, "vane_to_in", "pitch_in", "vane_in", table_length);
  read_steps (rules, rules->profiles, t->profiles, faults, "sheet_to_in", "bar_less_in", NULL, table_length);
  for (guint i = 0; i < rules->profiles->len; i++)
    ((DuctStep *) g_ptr_array_index (rules->profiles, i))->extra = i > 0;
  read_allowances (rules, t->allowances, faults);
  duct_read_stiff_tables (rules, t, faults);
  duct_read_round_tables (rules, t, faults);
  duct_read_lining_tables (rules, t, faults);
  duct_read_support_tables (rules, t, faults);

  if (faults->len == before)
    return rules;
  duct_rules_unref (rules);
  return NULL;
}

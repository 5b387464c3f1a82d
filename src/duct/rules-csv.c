/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/rules.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static DuctMetal
read_metal (const TableReader *r)
{
  Fault *fault = NULL;
  DuctMetal metal = DUCT_GALVANISED;

  if (!duct_metal_parse (table_cell (r, "metal"), &metal, &fault))
    table_complain_fault (r, "metal", fault);
  return metal;
}

static void
read_origin (const TableReader *r, char **source, DuctStatus *status)
{
  *source = g_strdup (table_cell (r, "source"));
  *status = DUCT_SHOPS_OWN;
  if (!duct_status_parse (table_cell (r, "status"), status))
    table_complain (r, "status", _ ("not a status"),
              _ ("write published, published*, computed, common practice, from memory, shop's own or invented demo"));
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
      sheet->metal = read_metal (&r);
      sheet->label = g_strdup (table_cell (&r, "gauge"));
      sheet->thickness_nm = table_length (&r, "nom_in", 0);
      lb = table_decimal (&r, "nom_lb_ft2", 6, 0, 1, 100000000);
      sheet->mg_per_mm2 = (double) lb / 1e6 * MEASURE_MG_PER_LB / MEASURE_MM2_PER_FT2;
      read_origin (&r, &sheet->source, &sheet->status);
    }
}

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
      read_origin (&r, &set->source, &set->status);
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
      row->set = duct_rules_find_set (rules, table_cell (&r, "rule_set"));
      if (row->set < 0)
        table_complain (&r, "rule_set", _ ("no such rule set"), _ ("add it to the rule sets first"));
      row->metal = read_metal (&r);
      row->class_from = table_pressure (&r, "class_from", 0);
      row->class_to = table_pressure (&r, "class_to", 0);
      row->side_to_nm = table_length (&r, "side_to_in", G_MAXINT64);
      row->sheet = duct_rules_find_sheet (rules, row->metal, table_cell (&r, "gauge"));
      if (row->class_to <= 0 || row->class_from > row->class_to)
        table_complain (&r, "class_to", _ ("the class range is empty"), _ ("enter the highest class, in w.g., the row answers for"));
      if (row->sheet < 0)
        table_complain (&r, "gauge", _ ("no such sheet of this metal"), _ ("use a gauge of the sheet table"));
      row->note = g_strdup (table_cell (&r, "note"));
      read_origin (&r, &row->source, &row->status);
    }
}

static DuctEdge
read_edge (const TableReader *r, const char *heading)
{
  static const char *const keys[] = { "slip-on", "integral", "slip-and-drive" };
  int i = table_word (r, heading, keys, G_N_ELEMENTS (keys));

  return i < 0 ? DUCT_EDGE_SLIP_ON : (DuctEdge) i;
}

static void
read_connections (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "connection", "coil_in", "take_up_in", "straight_end", "fitting_end", "class_to",
                                          "side_to_in", "outdoors", "source", "status", NULL };
  static const char *const answers[] = { "yes", "no" };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctConnection *c = g_new0 (DuctConnection, 1);
      int outdoors = table_word (&r, "outdoors", answers, 2);

      g_ptr_array_add (rules->connections, c);
      c->key = g_strdup (table_cell (&r, "connection"));
      c->coil_nm = table_length (&r, "coil_in", 0);
      c->take_up_nm = table_length (&r, "take_up_in", 0);
      c->straight_end = read_edge (&r, "straight_end");
      c->fitting_end = read_edge (&r, "fitting_end");
      c->class_to = table_pressure (&r, "class_to", G_MAXINT64);
      c->side_to_nm = table_length (&r, "side_to_in", G_MAXINT64);
      c->outdoors = outdoors != 1;
      if (c->coil_nm <= c->take_up_nm || c->take_up_nm < 0)
        table_complain (&r, "coil_in", _ ("nothing is left of the coil"), _ ("enter a coil wider than the take-up"));
      read_origin (&r, &c->source, &c->status);
    }
}

typedef gint64 (*ReadKey) (const TableReader *, const char *, gint64);

/* Tables of the shape "up to this, that much". */
static void
read_steps (GPtrArray *rows, const CsvTable *table, GPtrArray *faults, const char *upto, const char *value,
            const char *extra, ReadKey key)
{
  const char *const headings[] = { upto, value, "source", "status", NULL };
  gint64 last = -1;
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctStep *step = g_new0 (DuctStep, 1);

      g_ptr_array_add (rows, step);
      step->upto = key (&r, upto, G_MAXINT64);
      if (strcmp (table_cell (&r, value), "continuous") != 0)
        {
          step->value = table_length (&r, value, 0);
          if (step->value <= 0)
            table_complain (&r, value, _ ("not a length over 0"), _ ("enter inches, or “continuous”"));
        }
      if (extra)
        step->extra = table_length (&r, extra, 0);
      if (step->upto <= last)
        table_complain (&r, upto, _ ("the rows do not rise"), _ ("sort the rows from small to large"));
      last = step->upto;
      read_origin (&r, &step->source, &step->status);
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
      read_origin (&r, &rules->allow[i].source, &rules->allow[i].status);
    }
  for (int i = 0; i < DUCT_N_ALLOWANCES; i++)
    if (!seen[i])
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
  read_steps (rules->screws, t->screws, faults, "class_to", "spacing_in", NULL, table_pressure);
  read_steps (rules->cleats, t->cleats, faults, "class_to", "spacing_in", NULL, table_pressure);
  read_steps (rules->vanes, t->vanes, faults, "vane_to_in", "pitch_in", "vane_in", table_length);
  read_steps (rules->profiles, t->profiles, faults, "sheet_to_in", "bar_less_in", NULL, table_length);
  for (guint i = 0; i < rules->profiles->len; i++)
    ((DuctStep *) g_ptr_array_index (rules->profiles, i))->extra = i > 0;
  read_allowances (rules, t->allowances, faults);

  if (faults->len == before)
    return rules;
  duct_rules_unref (rules);
  return NULL;
}

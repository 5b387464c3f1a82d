/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/rules-private.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const form_keys[DUCT_N_HANGER_FORMS] = { "strap", "rod", "trapeze" };

/* ---- what a joint asks for, by connection and end ---- */

int
duct_read_connection (const TableReader *r, const DuctRules *rules)
{
  const char *key = table_cell (r, "connection");
  int connection = *key ? duct_rules_find_connection (rules, key) : -1;

  if (*key && connection < 0)
    table_complain (r, "connection", _ ("no such connection"),
                    _ ("use a connection of its table, or leave it empty for any"));
  return connection;
}

int
duct_read_end (const TableReader *r)
{
  const char *key = table_cell (r, "end");
  Fault *fault = NULL;
  DuctEnd end;

  if (!*key)
    return -1;
  if (duct_end_parse (key, &end, &fault))
    return (int) end;
  table_complain_fault (r, "end", fault);
  return -1;
}

/* How special a row for @connection and @end is on a joint: 3 both, 2 the connection, 1 the end, 0 any, -1 it is for another. */
static int
rank (int connection, int end, int of_connection, DuctEnd at_end)
{
  if ((connection >= 0 && connection != of_connection) || (end >= 0 && end != (int) at_end))
    return -1;
  return 2 * (connection >= 0) + (end >= 0);
}

const DuctStep *
duct_rules_step_at (const GPtrArray *rows, gint64 key, int connection, DuctEnd end)
{
  const DuctStep *best = NULL;
  int best_rank = -1;

  for (guint i = 0; i < rows->len; i++)
    {
      const DuctStep *row = g_ptr_array_index (rows, i);
      int r = rank (row->connection, row->end, connection, end);
      if (row->side_to == 0 && key <= row->upto && r > best_rank)
        {
          best = row;
          best_rank = r;
        }
    }
  return best;
}

const DuctStep *
duct_rules_side_step (const GPtrArray *rows, gint64 key, int connection, DuctEnd end, gint64 side_nm, gboolean *asked)
{
  const DuctStep *best = NULL;
  int best_rank = -1;

  *asked = FALSE;
  for (guint i = 0; i < rows->len; i++)
    {
      const DuctStep *row = g_ptr_array_index (rows, i);
      int r = row->side_to > 0 && key <= row->upto ? rank (row->connection, row->end, connection, end) : -1;
      *asked = *asked || r >= 0;
      if (r > best_rank && side_nm <= row->side_to)
        {
          best = row;
          best_rank = r;
        }
    }
  return best;
}

static void
gasket_free (gpointer data)
{
  DuctGasket *row = data;
  g_free (row->source);
  g_free (row);
}

static void
read_gaskets (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "connection", "end", "class_to", "item_factor", "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctGasket *row = g_new0 (DuctGasket, 1);

      for (guint i = rules->gaskets->len; i-- > 0;)
        {
          const DuctGasket *before = g_ptr_array_index (rules->gaskets, i);
          if (before->connection != duct_rules_find_connection (rules, table_cell (&r, "connection"))
              || g_strcmp0 (before->end < 0 ? "" : duct_end_key ((DuctEnd) before->end), table_cell (&r, "end")) != 0)
            continue;
          if (table_pressure (&r, "class_to", G_MAXINT64) <= before->class_to)
            table_complain (&r, "class_to", _ ("the rows do not rise"),
                            _ ("sort the rows of a joint from small to large"));
          break;
        }
      g_ptr_array_add (rules->gaskets, row);
      row->connection = duct_read_connection (&r, rules);
      row->end = duct_read_end (&r);
      row->class_to = table_pressure (&r, "class_to", G_MAXINT64);
      row->factor_ppm = table_decimal (&r, "item_factor", 6, -1, 0, 10000000);
      if (!*table_cell (&r, "item_factor"))
        table_complain (&r, "item_factor", _ ("no factor is given"),
                        _ ("enter 1 for the gasket as counted, 0 for none"));
      duct_read_origin (&r, &row->source, &row->status);
    }
}

gint64
duct_rules_gasket (const DuctRules *rules, gint64 pressure, int connection, DuctEnd end)
{
  gint64 factor = 1000000;
  int best_rank = -1;

  for (guint i = 0; i < rules->gaskets->len; i++)
    {
      const DuctGasket *row = g_ptr_array_index (rules->gaskets, i);
      int r = ABS (pressure) <= row->class_to ? rank (row->connection, row->end, connection, end) : -1;
      if (r > best_rank)
        {
          best_rank = r;
          factor = row->factor_ppm;
        }
    }
  return factor;
}

/* ---- supports ---- */

static void
load_free (gpointer data)
{
  DuctHangerLoad *row = data;
  g_free (row->key);
  g_free (row->source);
  g_free (row);
}

static void
read_loads (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "hanger", "form", "load_lb", "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctHangerLoad *row = g_new0 (DuctHangerLoad, 1);
      int form = table_word (&r, "form", form_keys, DUCT_N_HANGER_FORMS);
      gint64 lb = table_decimal (&r, "load_lb", 3, 0, 1, G_GINT64_CONSTANT (100000000));

      if (!*table_cell (&r, "hanger"))
        table_complain (&r, "hanger", _ ("the hanger has no name"), _ ("write form and size, as in rod 3/8"));
      if (table_find (rules->hanger_loads, table_cell (&r, "hanger")) >= 0)
        table_complain (&r, "hanger", _ ("this hanger stands twice"), _ ("keep each once"));
      row->key = g_strdup (table_cell (&r, "hanger"));
      row->form = (DuctHangerForm) MAX (form, 0);
      row->load_mg = (gint64) ((double) lb / 1e3 * MEASURE_MG_PER_LB + 0.5);
      duct_read_origin (&r, &row->source, &row->status);
      g_ptr_array_add (rules->hanger_loads, row);
    }
}

static void
support_free (gpointer data)
{
  DuctSupport *row = data;
  g_free (row->source);
  g_free (row);
}

/* Millionths of a foot. A third of an inch has no end in feet: what lies within half the last place of a whole sixteenth is meant
 * to be that, so that 7.833333 ft is 7 ft 10 in. */
static gint64
feet_nm (gint64 millionths)
{
  gint64 nm = millionths * (LENGTH_NM_PER_FT / 100000) / 10, step = LENGTH_NM_PER_IN / 16;
  gint64 whole = (nm + step / 2) / step * step;

  return ABS (whole - nm) <= LENGTH_NM_PER_FT / 2000000 + 1 ? whole : nm;
}

/* Rows of one set and section: a later row must answer for something that no earlier one does. */
static gboolean
support_hidden (const DuctRules *rules, const DuctSupport *row)
{
  for (guint i = 0; i < rules->supports->len; i++)
    {
      const DuctSupport *before = g_ptr_array_index (rules->supports, i);
      if (before->set == row->set && before->flexible == row->flexible
          && (before->section == row->section || before->section == DUCT_RECT_OR_ROUND)
          && before->half_perimeter_to_nm >= row->half_perimeter_to_nm && before->side_to_nm >= row->side_to_nm)
        return TRUE;
    }
  return FALSE;
}

static void
read_supports (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "rule_set", "section",     "half_perimeter_to_in", "side_to_in", "spacing_ft",
                                          "hanger",   "elbow_extra", "branch_extra",         "source",     "status",
                                          NULL };
  static const char *const sections[] = { "rectangular", "round", "flexible" };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctSupport *row = g_new0 (DuctSupport, 1);
      int section = *table_cell (&r, "section") ? table_word (&r, "section", sections, G_N_ELEMENTS (sections)) : -1;

      row->set = duct_read_set (&r, rules);
      row->section = section == 0 ? DUCT_RECT : section > 0 ? DUCT_ROUND : DUCT_RECT_OR_ROUND;
      row->flexible = section == 2;
      row->half_perimeter_to_nm = table_length (&r, "half_perimeter_to_in", G_MAXINT64);
      row->side_to_nm = table_length (&r, "side_to_in", G_MAXINT64);
      /* feet, to a thousandth */
      row->spacing_nm = feet_nm (table_decimal (&r, "spacing_ft", 6, 0, 100000, 100000000));
      if (!*table_cell (&r, "spacing_ft"))
        table_complain (&r, "spacing_ft", _ ("no spacing is given"), _ ("enter feet, from 0.1 to 100"));
      row->hanger = table_find (rules->hanger_loads, table_cell (&r, "hanger"));
      if (row->hanger < 0)
        table_complain (&r, "hanger", _ ("no such hanger"), _ ("add it to the hanger loads first"));
      row->elbow_extra = table_decimal (&r, "elbow_extra", 3, 0, 0, 10000);
      row->branch_extra = table_decimal (&r, "branch_extra", 3, 0, 0, 10000);
      if (row->half_perimeter_to_nm <= 0 || row->side_to_nm <= 0)
        table_complain (&r, row->side_to_nm <= 0 ? "side_to_in" : "half_perimeter_to_in", _ ("must be over 0"),
                        _ ("enter inches, or leave it empty for no limit"));
      if (support_hidden (rules, row))
        table_complain (&r, "half_perimeter_to_in", _ ("an earlier row answers for all of this one"),
                        _ ("sort the rows of a set from small to large"));
      duct_read_origin (&r, &row->source, &row->status);
      g_ptr_array_add (rules->supports, row);
    }
}

const DuctSupport *
duct_rules_support (const DuctRules *rules, int set, DuctSection section, gboolean flexible, gint64 half_perimeter_nm,
                    gint64 side_nm)
{
  for (guint i = 0; i < rules->supports->len; i++)
    {
      const DuctSupport *row = g_ptr_array_index (rules->supports, i);
      if (row->set == set && row->flexible == flexible
          && (row->section == section || row->section == DUCT_RECT_OR_ROUND)
          && half_perimeter_nm <= row->half_perimeter_to_nm && side_nm <= row->side_to_nm)
        return row;
    }
  return NULL;
}

/* ---- pressure classes ---- */

static void
class_free (gpointer data)
{
  DuctPressureClass *row = data;
  g_free (row->source);
  g_free (row);
}

static void
read_classes (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = {
    "class_in_wg", "class_pa", "operating_over_in_wg", "operating_up_to_in_wg", "source", "status", NULL
  };
  const DuctPressureClass *before = NULL;
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctPressureClass *row = g_new0 (DuctPressureClass, 1);

      g_ptr_array_add (rules->pressure_classes, row);
      row->pressure = table_decimal (&r, "class_in_wg", 3, 0, 1, 100000);
      row->pa = table_decimal (&r, "class_pa", 0, 0, 1, 100000);
      row->over = table_decimal (&r, "operating_over_in_wg", 3, 0, 0, 100000);
      row->up_to = table_decimal (&r, "operating_up_to_in_wg", 3, 0, 1, 100000);
      if (row->pressure == 0 || row->pa == 0)
        table_complain (&r, row->pa == 0 ? "class_pa" : "class_in_wg", _ ("no figure is given"),
                        _ ("enter the name of the class"));
      if (before && (row->pressure <= before->pressure || row->pa <= before->pa))
        table_complain (&r, "class_in_wg", _ ("the rows do not rise"), _ ("sort the rows from small to large"));
      if (row->over != (before ? before->up_to : 0) || row->up_to <= row->over)
        table_complain (&r, "operating_over_in_wg", _ ("the operating pressures leave a gap or overlap"),
                        _ ("start each class where the one above it ends"));
      duct_read_origin (&r, &row->source, &row->status);
      before = row;
    }
}

const DuctPressureClass *
duct_rules_pressure_class (const DuctRules *rules, gint64 pressure)
{
  for (guint i = 0; i < rules->pressure_classes->len; i++)
    {
      const DuctPressureClass *row = g_ptr_array_index (rules->pressure_classes, i);
      if (row->pressure == ABS (pressure))
        return row;
    }
  return NULL;
}

void
duct_read_support_tables (DuctRules *rules, const DuctRuleTables *tables, GPtrArray *faults)
{
  rules->hanger_loads = g_ptr_array_new_with_free_func (load_free);
  rules->supports = g_ptr_array_new_with_free_func (support_free);
  rules->gaskets = g_ptr_array_new_with_free_func (gasket_free);
  rules->pressure_classes = g_ptr_array_new_with_free_func (class_free);
  read_loads (rules, tables->hanger_loads, faults);
  read_supports (rules, tables->supports, faults);
  read_gaskets (rules, tables->gaskets, faults);
  read_classes (rules, tables->pressure_classes, faults);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/rules-private.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>

static const char *const seam_keys[DUCT_N_SEAMS] = { "spiral", "longitudinal" };

const char *
duct_seam_key (DuctSeam seam)
{
  return seam < DUCT_N_SEAMS ? seam_keys[seam] : "";
}

static void
round_gauge_free (gpointer data)
{
  DuctRoundGauge *row = data;

  g_free (row->ring);
  g_free (row->ring_words);
  g_free (row->source);
  g_free (row);
}

static void
gores_free (gpointer data)
{
  DuctGores *row = data;

  g_free (row->source);
  g_free (row);
}

static int
read_seam (const TableReader *r)
{
  const char *cell = table_cell (r, "seam");
  int seam;

  if (!*cell || g_ascii_strcasecmp (cell, "either") == 0)
    return -1;
  seam = duct_word_index (cell, seam_keys, DUCT_N_SEAMS);
  if (seam < 0)
    table_complain (r, "seam", _ ("not a seam of round duct"), _ ("write spiral, longitudinal, or leave it empty for either"));
  return seam;
}

/* Of two rows that answer for the same duct the second would never be found. */
static gboolean
same_cell (const DuctRoundGauge *a, const DuctRoundGauge *b)
{
  return a->set == b->set && a->metal == b->metal && a->class_to == b->class_to && a->sign == b->sign && a->seam == b->seam
         && a->dia_to_nm == b->dia_to_nm;
}

static char *
ring_words (const DuctRoundGauge *row)
{
  if (!*row->ring)
    return g_strdup ("");
  g_autofree char *spacing = length_print_unit (row->ring_spacing_nm, LENGTH_STYLE_FT);
  return g_strdup_printf (_ ("stiffening ring %s every %s: not counted and not priced"), row->ring, spacing);
}

static void
read_round_gauges (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "rule_set", "metal", "pressure_in_wg", "sign", "seam", "dia_to_in", "gauge", "ring",
                                          "ring_spacing_ft", "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctRoundGauge *row = g_new0 (DuctRoundGauge, 1);
      Fault *fault = NULL;

      row->set = duct_read_set (&r, rules);
      row->metal = duct_read_metal (&r);
      row->class_to = table_pressure (&r, "pressure_in_wg", 0);
      row->sign = duct_read_sign (&r, "sign");
      row->seam = read_seam (&r);
      row->dia_to_nm = table_length (&r, "dia_to_in", G_MAXINT64);
      row->sheet = duct_rules_find_sheet (rules, row->metal, table_cell (&r, "gauge"));
      row->ring = g_strdup (table_cell (&r, "ring"));
      if (*table_cell (&r, "ring_spacing_ft")
          && !length_parse (table_cell (&r, "ring_spacing_ft"), LENGTH_FT, &row->ring_spacing_nm, &fault))
        table_complain_fault (&r, "ring_spacing_ft", fault);
      duct_read_origin (&r, &row->source, &row->status);
      if (row->class_to <= 0)
        table_complain (&r, "pressure_in_wg", _ ("no class is given"), _ ("enter the highest class, in w.g., without a sign"));
      if (row->dia_to_nm <= 0)
        table_complain (&r, "dia_to_in", _ ("not a diameter over 0"),
                        _ ("enter the largest diameter, or leave it empty for all larger ones"));
      if (row->sheet < 0)
        table_complain (&r, "gauge", _ ("no such sheet of this metal"), _ ("use a gauge of the sheet table"));
      if ((*row->ring != '\0') != (row->ring_spacing_nm > 0))
        table_complain (&r, "ring_spacing_ft", _ ("a ring and its spacing go together"), _ ("enter both, or clear both"));
      row->ring_words = ring_words (row);
      for (guint i = 0; i < rules->round_gauges->len; i++)
        if (same_cell (row, g_ptr_array_index (rules->round_gauges, i)))
          {
            table_complain (&r, "dia_to_in", _ ("a row above answers for the same duct"), _ ("take one of the two out"));
            break;
          }
      g_ptr_array_add (rules->round_gauges, row);
    }
}

static void
read_gores (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "angle_to", "dia_to_in", "gores", "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctGores *row = g_new0 (DuctGores, 1);
      Fault *fault = NULL;

      if (!angle_parse (table_cell (&r, "angle_to"), &row->angle_to, &fault))
        table_complain_fault (&r, "angle_to", fault);
      else if (row->angle_to <= 0)
        table_complain (&r, "angle_to", _ ("not an angle over 0"), _ ("enter degrees"));
      row->dia_to_nm = table_length (&r, "dia_to_in", G_MAXINT64);
      row->gores = table_decimal (&r, "gores", 0, 0, 0, 1000);
      if (row->gores < 2 || row->gores > 30)
        table_complain (&r, "gores", _ ("not a number of gores"), _ ("enter 2 to 30"));
      duct_read_origin (&r, &row->source, &row->status);
      g_ptr_array_add (rules->gores, row);
    }
}

void
duct_read_round_tables (DuctRules *rules, const DuctRuleTables *tables, GPtrArray *faults)
{
  rules->round_gauges = g_ptr_array_new_with_free_func (round_gauge_free);
  rules->gores = g_ptr_array_new_with_free_func (gores_free);
  read_round_gauges (rules, tables->round_gauges, faults);
  read_gores (rules, tables->gores, faults);
}

/* ---- looking up ---- */

/* The row of the smallest angle not below @angle, then of the smallest diameter not below @diameter; rows in any order. */
int
duct_rules_gores (const DuctRules *rules, gint64 angle, gint64 diameter)
{
  const DuctGores *best = NULL;
  int at = -1;

  for (guint i = 0; i < rules->gores->len; i++)
    {
      const DuctGores *row = g_ptr_array_index (rules->gores, i);
      if (angle > row->angle_to || diameter > row->dia_to_nm)
        continue;
      if (best && (row->angle_to > best->angle_to || (row->angle_to == best->angle_to && row->dia_to_nm >= best->dia_to_nm)))
        continue;
      best = row;
      at = (int) i;
    }
  return at;
}

typedef struct
{
  int set;
  DuctMetal metal;
  int sign, seam;
} Asked;

static gboolean
answers (const DuctRoundGauge *row, const Asked *asked)
{
  return row->set == asked->set && row->metal == asked->metal && (row->sign == 0 || row->sign == asked->sign)
         && (row->seam < 0 || row->seam == asked->seam);
}

static char *
no_row_words (const DuctRules *rules, const Asked *asked, gint64 pressure, gint64 most, gint64 diameter, gint64 widest)
{
  const DuctRuleSet *info = g_ptr_array_index (rules->sets, (guint) asked->set);
  const char *seam = _ (duct_seam_key ((DuctSeam) asked->seam)), *sign = asked->sign < 0 ? _ ("negative") : _ ("positive");

  if (most == 0)
    return g_strdup_printf (_ ("the rule set “%s” has no rows for round %s duct of %s, %s pressure"), info->name, seam,
                            duct_metal_key (asked->metal), sign);
  if (pressure > most || (info->exact_class && widest == 0))
    {
      g_autofree char *class = pressure_print_both (pressure);
      g_autofree char *limit = pressure_print_both (most);
      return g_strdup_printf (_ ("the rule set “%s” has no row for round %s duct of class %s, %s pressure; it ends at %s"),
                              info->name, seam, class, sign, limit);
    }
  g_autofree char *size = length_print_unit (diameter, LENGTH_STYLE_IN);
  g_autofree char *limit = length_print_unit (widest, LENGTH_STYLE_IN);
  return g_strdup_printf (_ ("the rule set “%s” has no row for round %s duct of %s diameter (it ends at %s)"), info->name, seam, size,
                          limit);
}

int
duct_rules_round_gauge (const DuctRules *rules, int set, DuctMetal metal, gint64 pressure, DuctSeam seam, gint64 diameter,
                        Fault **fault)
{
  Asked asked = { set, metal, pressure < 0 ? -1 : 1, (int) seam };
  gint64 wanted = ABS (pressure), class_to = -1, most = 0, widest = 0;
  gboolean exact = ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->exact_class;
  const DuctRoundGauge *best = NULL;
  int at = -1;

  for (guint i = 0; i < rules->round_gauges->len; i++)
    {
      const DuctRoundGauge *row = g_ptr_array_index (rules->round_gauges, i);
      if (!answers (row, &asked))
        continue;
      most = MAX (most, row->class_to);
      if (exact ? row->class_to == wanted : row->class_to >= wanted && (class_to < 0 || row->class_to < class_to))
        class_to = row->class_to;
    }
  for (guint i = 0; class_to >= 0 && i < rules->round_gauges->len; i++)
    {
      const DuctRoundGauge *row = g_ptr_array_index (rules->round_gauges, i);
      if (!answers (row, &asked) || row->class_to != class_to)
        continue;
      widest = MAX (widest, row->dia_to_nm);
      if (diameter > row->dia_to_nm || (best && row->dia_to_nm >= best->dia_to_nm))
        continue;
      best = row;
      at = (int) i;
    }
  if (at < 0 && fault)
    {
      g_autofree char *words = no_row_words (rules, &asked, wanted, most, diameter, widest);
      fault_set (fault, fault_new (-1, _ ("enter the gauge on the run, or choose another rule set"), "%s", words));
    }
  return at;
}

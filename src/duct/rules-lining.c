/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/rules-private.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const answers[] = { "yes", "no" };

static void
wrap_free (gpointer data)
{
  DuctWrap *row = data;
  g_free (row->key);
  g_free (row->source);
  g_free (row);
}

static void
pins_free (gpointer data)
{
  DuctLinerPins *row = data;
  g_free (row->source);
  g_free (row);
}

static void
seal_free (gpointer data)
{
  DuctSealClass *row = data;
  g_free (row->edition);
  g_free (row->key);
  g_free (row->source);
  g_free (row);
}

static void
leakage_free (gpointer data)
{
  DuctLeakage *row = data;
  g_free (row->edition);
  g_free (row->seal);
  g_free (row->source);
  g_free (row);
}

/* A length that must stand in its cell and be over 0 (@least 1) or not below it (@least 0). */
static gint64
needed_length (const TableReader *r, const char *heading, gint64 least)
{
  gint64 nm = table_length (r, heading, -1);

  if (nm < least)
    table_complain (r, heading, *table_cell (r, heading) ? _ ("the length is too small") : _ ("no length is given"),
                    _ ("enter inches"));
  return MAX (nm, 0);
}

static void
read_wraps (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "label_in",    "installed_in", "round_add_in", "square_add_in",
                                          "rect_add_in", "source",       "status",       NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctWrap *row = g_new0 (DuctWrap, 1);
      gint64 lb = table_decimal (&r, "lb_ft2", 6, 0, 1, 100000000);

      if (duct_rules_find_wrap (rules, table_cell (&r, "label_in")) >= 0)
        table_complain (&r, "label_in", _ ("this wrap stands twice"), _ ("keep each thickness once"));
      row->key = g_strdup (table_cell (&r, "label_in"));
      row->thickness_nm = needed_length (&r, "label_in", 1);
      row->installed_nm = needed_length (&r, "installed_in", 1);
      row->round_add_nm = needed_length (&r, "round_add_in", 0);
      row->square_add_nm = needed_length (&r, "square_add_in", 0);
      row->rect_add_nm = needed_length (&r, "rect_add_in", 0);
      row->mg_per_mm2 = (double) lb / 1e6 * MEASURE_MG_PER_LB / MEASURE_MM2_PER_FT2;
      if (row->installed_nm > row->thickness_nm)
        table_complain (&r, "installed_in", _ ("wrap does not grow when it is installed"),
                        _ ("enter the compressed thickness"));
      duct_read_origin (&r, &row->source, &row->status);
      g_ptr_array_add (rules->wraps, row);
    }
}

static void
read_pins (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "speed_to_fpm", "across_in", "along_in", "source", "status", NULL };
  gint64 last = 0;
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctLinerPins *row = g_new0 (DuctLinerPins, 1);

      g_ptr_array_add (rules->liner_pins, row);
      row->speed_to_fpm = table_decimal (&r, "speed_to_fpm", 0, G_MAXINT64, 1, 100000);
      row->across_nm = needed_length (&r, "across_in", 1);
      row->along_nm = needed_length (&r, "along_in", 1);
      row->adhesive_ppm = table_decimal (&r, "adhesive_pct", 4, 1000000, 0, 1000000);
      if (row->speed_to_fpm <= last)
        table_complain (&r, "speed_to_fpm", _ ("the rows do not rise"), _ ("sort the rows from slow to fast"));
      last = row->speed_to_fpm;
      duct_read_origin (&r, &row->source, &row->status);
    }
}

static gboolean
read_yes (const TableReader *r, const char *heading)
{
  return table_word (r, heading, answers, 2) == 0;
}

static void
read_seals (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "edition",  "seal_class", "joints", "seams", "walls",
                                          "class_to", "source",     "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctSealClass *row = g_new0 (DuctSealClass, 1);
      const char *edition = table_cell (&r, "edition"), *key = table_cell (&r, "seal_class");

      if (!*edition)
        table_complain (&r, "edition", _ ("the edition is missing"), _ ("name the document and its year"));
      if (!*key || g_ascii_strcasecmp (key, "none") == 0)
        table_complain (&r, "seal_class", _ ("this is no seal class"), _ ("write its letter"));
      else if (*edition && duct_rules_find_seal (rules, edition, key) >= 0)
        table_complain (&r, "seal_class", _ ("this class of the edition stands twice"), _ ("keep each once"));
      row->edition = g_strdup (edition);
      row->key = g_strdup (key);
      row->joints = read_yes (&r, "joints");
      row->seams = read_yes (&r, "seams");
      row->walls = read_yes (&r, "walls");
      row->class_to = table_pressure (&r, "class_to", G_MAXINT64);
      duct_read_origin (&r, &row->source, &row->status);
      g_ptr_array_add (rules->seal_classes, row);
    }
  /* A shape names its seal class in a byte. */
  if (rules->seal_classes->len > 250)
    table_complain (&r, "seal_class", _ ("the table is too long"), _ ("keep at most 250 rows"));
}

static double
read_cl (const TableReader *r, const char *heading)
{
  return *table_cell (r, heading) ? (double) table_decimal (r, heading, 4, 0, 1, 10000000) / 1e4 : -1;
}

static void
read_leakage (DuctRules *rules, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "edition",  "seal_class", "class_to", "rect_cl",
                                          "round_cl", "source",     "status",   NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      DuctLeakage *row = g_new0 (DuctLeakage, 1);
      const char *edition = table_cell (&r, "edition"), *seal = table_cell (&r, "seal_class");
      gint64 class_to = table_pressure (&r, "class_to", G_MAXINT64);

      if (!*edition)
        table_complain (&r, "edition", _ ("the edition is missing"), _ ("name the document and its year"));
      if (g_ascii_strcasecmp (seal, "none") != 0 && duct_rules_find_seal (rules, edition, seal) < 0)
        table_complain (&r, "seal_class", _ ("no such seal class of this edition"),
                        _ ("add it to the seal classes, or write none"));
      for (guint i = 0; i < rules->leakage->len; i++)
        {
          const DuctLeakage *before = g_ptr_array_index (rules->leakage, i);
          if (strcmp (before->edition, edition) == 0 && g_ascii_strcasecmp (before->seal, seal) == 0
              && before->class_to >= class_to)
            table_complain (&r, "class_to", _ ("the rows do not rise"),
                            _ ("sort the rows of a seal class from small to large"));
        }
      row->edition = g_strdup (edition);
      row->seal = g_strdup (seal);
      row->class_to = class_to;
      row->rect_cl = read_cl (&r, "rect_cl");
      row->round_cl = read_cl (&r, "round_cl");
      if (row->rect_cl < 0 && row->round_cl < 0)
        table_complain (&r, "rect_cl", _ ("the row gives no leakage class"),
                        _ ("enter one for rectangular or for round duct"));
      duct_read_origin (&r, &row->source, &row->status);
      g_ptr_array_add (rules->leakage, row);
    }
}

void
duct_read_lining_tables (DuctRules *rules, const DuctRuleTables *tables, GPtrArray *faults)
{
  rules->wraps = g_ptr_array_new_with_free_func (wrap_free);
  rules->liner_pins = g_ptr_array_new_with_free_func (pins_free);
  rules->seal_classes = g_ptr_array_new_with_free_func (seal_free);
  rules->leakage = g_ptr_array_new_with_free_func (leakage_free);
  read_wraps (rules, tables->wraps, faults);
  read_pins (rules, tables->liner_pins, faults);
  read_seals (rules, tables->seal_classes, faults);
  read_leakage (rules, tables->leakage, faults);
}

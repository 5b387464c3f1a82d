/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/labour.h"
#include "labour/money.h"
#include "labour/study.h"

#include "base/measure.h"
#include "base/table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
crew_free (gpointer data)
{
  LabourCrew *crew = data;

  for (guint i = 0; i < crew->members->len; i++)
    {
      LabourMember *m = &g_array_index (crew->members, LabourMember, i);
      g_free (m->name);
      g_clear_pointer (&m->burdens, g_ptr_array_unref);
    }
  g_array_unref (crew->members);
  g_free (crew->key);
  g_free (crew->source);
  g_free (crew->status);
  g_free (crew);
}

static void
step_free (gpointer data)
{
  LabourStep *step = data;

  g_array_unref (step->bands);
  g_free (step->key);
  g_free (step->source);
  g_free (step->status);
  g_free (step);
}

static void
condition_free (gpointer data)
{
  LabourCondition *condition = data;

  g_free (condition->key);
  g_free (condition->reason);
  g_free (condition->source);
  g_free (condition->status);
  g_free (condition);
}

static void
read_crews (LabourTables *tables, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "crew", "place", "class", "heads", "wage", "fringe", "burden_pct", "flat_burden",
                                          "overtime_factor", "source", "status", NULL };
  static const char *const places[] = { "shop", "field" };
  const gint64 most = G_GINT64_CONSTANT (100000000); /* 10 000 an hour */
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      int at = labour_find_crew (tables, table_cell (&r, "crew"));
      LabourCrew *crew = at >= 0 ? g_ptr_array_index (tables->crews, (guint) at) : NULL;
      int place = table_word (&r, "place", places, G_N_ELEMENTS (places));
      gboolean shop = place == 0;
      LabourMember m = { 0 };

      if (!crew)
        {
          crew = g_new0 (LabourCrew, 1);
          crew->key = g_strdup (table_cell (&r, "crew"));
          crew->shop = shop;
          crew->members = g_array_new (FALSE, TRUE, sizeof (LabourMember));
          crew->source = g_strdup (table_cell (&r, "source"));
          crew->status = g_strdup (table_cell (&r, "status"));
          g_ptr_array_add (tables->crews, crew);
        }
      else if (crew->shop != shop)
        table_complain (&r, "place", _ ("one crew in two places"), _ ("give the lines of a crew the same place"));
      m.name = g_strdup (table_cell (&r, "class"));
      m.heads = table_decimal (&r, "heads", 3, 1000, 1, 1000000);
      m.wage = table_decimal (&r, "wage", 4, 0, 0, most);
      m.fringe = table_decimal (&r, "fringe", 4, 0, 0, most);
      m.flat = table_decimal (&r, "flat_burden", 4, 0, 0, most);
      m.burden_ppm = table_decimal (&r, "burden_pct", 4, 0, 0, 10000000);
      m.paid = table_decimal (&r, "overtime_factor", LABOUR_PAID_DECIMALS, LABOUR_PAID_ONE, LABOUR_PAID_ONE, 3 * LABOUR_PAID_ONE);
      /* Columns that came later: a sheet without them reads as before. */
      m.shift_ppm = table_decimal (&r, "shift_premium_pct", 4, 0, 0, 1000000);
      m.travel = table_decimal (&r, "travel_hour", 4, 0, 0, most);
      m.burdens = labour_burdens_of (tables, crew->key, m.name);
      g_array_append_val (crew->members, m);
    }
  for (guint i = 0; i < tables->crews->len; i++)
    {
      LabourCrew *crew = g_ptr_array_index (tables->crews, i);
      crew->rate = labour_crew_rate ((LabourMember *) crew->members->data, crew->members->len);
    }
}

static void
read_points (const TableReader *r, const char *stem, gint64 points[LABOUR_N_POINTS])
{
  static const char *const names[LABOUR_N_POINTS] = { "low", "likely", "high" };
  const gint64 most = G_GINT64_CONSTANT (10000) * 1000000000; /* 10 000 minutes */
  g_autofree char *likely = g_strdup_printf ("%s_likely_min", stem);

  points[LABOUR_LIKELY] = table_decimal (r, likely, LABOUR_MINUTE_DECIMALS, 0, 0, most);
  for (int p = 0; p < LABOUR_N_POINTS; p++)
    if (p != LABOUR_LIKELY)
      {
        g_autofree char *heading = g_strdup_printf ("%s_%s_min", stem, names[p]);
        points[p] = table_decimal (r, heading, LABOUR_MINUTE_DECIMALS, points[LABOUR_LIKELY], 0, most);
      }
  if (points[LABOUR_LOW] > points[LABOUR_LIKELY] || points[LABOUR_LIKELY] > points[LABOUR_HIGH])
    table_complain (r, likely, _ ("low, likely and high do not rise"), _ ("low may not be over likely, nor likely over high"));
}

/* An optional column: empty or absent is no. */
static gboolean
yes (const TableReader *r, const char *heading)
{
  static const char *const yes_no[] = { "no", "yes" };

  return *table_cell (r, heading) && table_word (r, heading, yes_no, 2) == 1;
}

static void
read_steps (LabourTables *tables, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "step", "group", "crew", "band_to_lb", "fixed_low_min", "fixed_likely_min",
                                          "fixed_high_min", "per_ft_low_min", "per_ft_likely_min", "per_ft_high_min",
                                          "per_lb_low_min", "per_lb_likely_min", "per_lb_high_min", "source", "status", NULL };
  LabourStep *step = NULL;
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      LabourBand band = { .upto_mg = G_MAXINT64 };
      gint64 lb = table_decimal (&r, "band_to_lb", 3, -1, 1, 100000000);

      if (!*table_cell (&r, "step"))
        {
          table_complain (&r, "step", _ ("the step has no name"), _ ("enter one"));
          continue;
        }
      if (!step || strcmp (step->key, table_cell (&r, "step")) != 0)
        {
          if (labour_find_step (tables, table_cell (&r, "step")) >= 0)
            table_complain (&r, "step", _ ("this step stands twice"), _ ("keep the bands of a step on lines one after the other"));
          step = g_new0 (LabourStep, 1);
          step->key = g_strdup (table_cell (&r, "step"));
          step->bands = g_array_new (FALSE, TRUE, sizeof (LabourBand));
          step->group = (LabourGroup) MAX (0, table_word (&r, "group", labour_group_keys, LABOUR_N_GROUPS));
          step->crew = labour_find_crew (tables, table_cell (&r, "crew"));
          if (step->crew < 0)
            table_complain (&r, "crew", _ ("no such crew"), _ ("add it to the crews first"));
          step->shared = yes (&r, "shared_when_raised_together");
          step->source = g_strdup (table_cell (&r, "source"));
          step->status = g_strdup (table_cell (&r, "status"));
          g_ptr_array_add (tables->steps, step);
        }
      if (lb >= 0)
        band.upto_mg = (gint64) ((double) lb / 1e3 * MEASURE_MG_PER_LB + 0.5);
      if (step->bands->len > 0
          && g_array_index (step->bands, LabourBand, step->bands->len - 1).upto_mg >= band.upto_mg)
        table_complain (&r, "band_to_lb", _ ("the bands do not rise"), _ ("sort them from light to heavy, the last without a limit"));
      read_points (&r, "fixed", band.fixed);
      read_points (&r, "per_ft", band.per_ft);
      read_points (&r, "per_lb", band.per_lb);
      g_array_append_val (step->bands, band);
    }
  r.row = G_MAXUINT;
  for (guint i = 0; i < tables->steps->len; i++)
    {
      step = g_ptr_array_index (tables->steps, i);
      if (g_array_index (step->bands, LabourBand, step->bands->len - 1).upto_mg != G_MAXINT64)
        {
          g_autofree char *what = g_strdup_printf (_ ("the last band of “%s” has a limit"), step->key);
          table_complain (&r, "band_to_lb", what, _ ("leave it empty, so that every piece has a band"));
        }
    }
}

static void
read_conditions (LabourTables *tables, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "condition", "factor", "places", "groups", "reason", "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      LabourCondition *c = g_new0 (LabourCondition, 1);

      g_ptr_array_add (tables->conditions, c);
      c->key = g_strdup (table_cell (&r, "condition"));
      c->factor_ppm = table_decimal (&r, "factor", 6, 0, 1, 10000000);
      c->places = table_mask (&r, "places", labour_place_keys, LABOUR_N_PLACES, "+");
      c->groups = table_mask (&r, "groups", labour_group_keys, LABOUR_N_GROUPS, "+");
      c->reason = g_strdup (table_cell (&r, "reason"));
      c->source = g_strdup (table_cell (&r, "source"));
      c->status = g_strdup (table_cell (&r, "status"));
      if (c->factor_ppm <= 0)
        table_complain (&r, "factor", _ ("a factor is over 0 and up to 10"), _ ("1.10 adds ten per cent"));
    }
}

LabourTables *
labour_tables_new (const LabourSheets *sheets, GPtrArray *faults)
{
  LabourTables *tables = g_new0 (LabourTables, 1);
  guint before = faults->len;

  tables->crews = g_ptr_array_new_with_free_func (crew_free);
  tables->steps = g_ptr_array_new_with_free_func (step_free);
  tables->conditions = g_ptr_array_new_with_free_func (condition_free);
  labour_read_money (tables, sheets, faults);
  read_crews (tables, sheets->crews, faults);
  labour_check_burdens (tables, sheets, faults);
  read_steps (tables, sheets->steps, faults);
  read_conditions (tables, sheets->conditions, faults);
  labour_read_studies (tables, sheets, faults);
  if (faults->len == before)
    return tables;
  labour_tables_free (tables);
  return NULL;
}

void
labour_tables_free (LabourTables *tables)
{
  g_ptr_array_unref (tables->crews);
  g_ptr_array_unref (tables->steps);
  g_ptr_array_unref (tables->conditions);
  g_ptr_array_unref (tables->studies);
  g_ptr_array_unref (tables->burdens);
  g_ptr_array_unref (tables->losses);
  g_free (tables);
}

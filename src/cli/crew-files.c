/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/crew-files.h"

#include "base/decimal.h"
#include "base/table.h"
#include "cli/cli.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

static const CliColumn columns[] = {
  { "loss_table", N_ ("table"), FALSE },
  { "hours_a_week", N_ ("hours a week"), TRUE },
  { "week", N_ ("week"), TRUE },
  { "loss_pct", N_ ("loss, %"), TRUE },
  { "basis", NULL, FALSE },
  { "basis_means", N_ ("means"), FALSE },
  { "time_over_base", N_ ("time / base"), TRUE },
  { "paid_over_worked", N_ ("paid / worked"), TRUE },
  { "output_hour", N_ ("output hour / straight hour"), TRUE },
  { "status", N_ ("status"), FALSE },
};

/* A bare sheet of the starter: its headings. */
static CsvTable *
bare (CatalogueSheet sheet)
{
  g_autofree char *heads = catalogue_headings (sheet);

  return csv_parse (heads, -1, catalogue_sheet_key (sheet), NULL);
}

/* Hours of a column "h50"; FALSE for another column. */
static gboolean
hours_of (const char *heading, gint64 *hours)
{
  return heading[0] == 'h' && decimal_parse (heading + 1, 3, hours, NULL) && *hours >= 1 && *hours <= 100000;
}

/* Weeks rise from row to row, so that none stands twice. */
static gboolean
printed_week (const TableReader *r, gint64 *week)
{
  gint64 before = *week;
  guint faults = r->faults->len;

  *week = table_decimal (r, "week", 0, 0, 1, 520);
  if (!*table_cell (r, "week"))
    table_complain (r, "week", _ ("the cell is empty"), _ ("enter the week, from 1"));
  else if (faults == r->faults->len && *week <= before)
    table_complain (r, "week", *week == before ? _ ("this week stands twice") : _ ("the weeks do not rise"),
                    _ ("write one row a week, from week 1 on"));
  return faults == r->faults->len;
}

/* "week,h50,h60": as an overtime loss sheet, fractions as per cent. All faults are told here, where the columns are those of the file. */
static CsvTable *
from_printed (const CsvTable *table, const char *basis, GPtrArray *faults)
{
  g_autoptr (GString) text = g_string_new ("table,hours_a_week,week,loss_pct,basis,source,status\n");
  TableReader r = { table, faults, G_MAXUINT };
  gint64 hours, week = 0, most = 950000;
  int columns_read = 0;

  for (guint c = 0; c < table->head->len; c++)
    {
      const char *heading = g_ptr_array_index (table->head, c);
      columns_read += hours_of (heading, &hours);
      if (heading[0] == 'h' && !hours_of (heading, &hours))
        table_complain (&r, heading, _ ("the heading names no hours a week"), _ ("write h and the hours, h50, from h0.001 to h100"));
    }
  if (columns_read == 0)
    table_complain (&r, "week", _ ("no column holds losses"), _ ("add one for each length of week, headed h50, h60"));
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      if (!printed_week (&r, &week))
        continue;
      for (guint c = 0; c < table->head->len; c++)
        {
          const char *heading = g_ptr_array_index (table->head, c);
          if (!hours_of (heading, &hours) || !*table_cell (&r, heading))
            continue;
          g_autofree char *percent = decimal_print (table_decimal (&r, heading, 6, 0, 0, most), 4, 0, FALSE);
          g_string_append_printf (text, "file,%s,%d,%s,%s,,\n", heading + 1, (int) week, percent, basis ? basis : "");
        }
    }
  return csv_parse (text->str, -1, table->name, faults);
}

static CsvTable *
read_sheet (const char *path, CatalogueSheet sheet, GPtrArray *faults, int *status)
{
  g_autoptr (GError) error = NULL;
  CsvTable *table = path ? csv_read_file (path, faults, &error) : bare (sheet);

  if (error)
    {
      cli_complain ("%s", error->message);
      *status = CLI_FILE;
    }
  return table ? table : bare (sheet);
}

LabourTables *
cli_crew_files (const char *crews, const char *burdens, const char *losses, const char *loss_basis, int *status)
{
  static const CatalogueSheet sheet[] = { CATALOGUE_CREWS, CATALOGUE_STEPS, CATALOGUE_CONDITIONS, CATALOGUE_STUDIES,
                                          CATALOGUE_OBSERVATIONS, CATALOGUE_BURDENS, CATALOGUE_OVERTIME_LOSS };
  const char *path[] = { crews, NULL, NULL, NULL, NULL, burdens, losses };
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  CsvTable *t[G_N_ELEMENTS (sheet)];
  LabourTables *tables = NULL;

  *status = CLI_DONE;
  for (gsize i = 0; i < G_N_ELEMENTS (sheet); i++)
    t[i] = read_sheet (path[i], sheet[i], faults, status);
  if (csv_column (t[6], "loss_pct") < 0 && csv_column (t[6], "week") >= 0)
    {
      CsvTable *printed = t[6];
      t[6] = from_printed (printed, loss_basis, faults);
      csv_table_free (printed);
    }
  if (*status == CLI_DONE && faults->len == 0)
    {
      LabourSheets sheets = { t[0], t[1], t[2], t[3], t[4], t[5], t[6] };
      tables = labour_tables_new (&sheets, faults);
    }
  cli_complain_faults (faults);
  if (!tables && *status == CLI_DONE)
    *status = CLI_FAULTS;
  for (gsize i = 0; i < G_N_ELEMENTS (sheet); i++)
    csv_table_free (t[i]);
  return tables;
}

void
cli_page_output (const LabourTables *tables, double hours, double premium, LabourLossBasis basis, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("output_hour", columns, G_N_ELEMENTS (columns));

  for (guint i = 0; i < tables->losses->len; i++)
    {
      const LabourLossRow *row = g_ptr_array_index (tables->losses, i);
      double week = (double) row->hours / 1e3, loss = (double) row->loss_ppm / 1e6;
      LabourLossBasis means = row->basis >= 0 ? (LabourLossBasis) row->basis : basis;
      double time = labour_loss_factor (loss, means), paid = (double) labour_paid (week, premium) / (double) LABOUR_PAID_ONE;
      if (hours > 0 && fabs (week - hours) > 5e-4)
        continue;
      cli_table_add (t, row->table);
      cli_table_figure (t, week, 6);
      cli_table_int (t, row->week);
      cli_table_figure (t, loss * 100, 8);
      cli_table_add (t, labour_loss_keys[means]);
      cli_table_add (t, means == LABOUR_LOSS_MULTIPLY ? _ ("time is base × (1 + loss)") : _ ("time is base / (1 − loss)"));
      cli_table_fixed (t, time, 6);
      cli_table_fixed (t, paid, 6);
      cli_table_fixed (t, paid * time, 6);
      cli_table_add (t, row->status);
    }
  cli_table_print (t, format);
  if (format == CLI_TEXT)
    cli_print ("%s\n", _ ("None of these tables is binding; the published data are few."));
}

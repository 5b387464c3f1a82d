/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/money.h"

#include "base/table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static void
burden_free (gpointer data)
{
  LabourBurden *b = data;

  g_free (b->component);
  g_free (b->crew);
  g_free (b->class);
  g_free (b->source);
  g_free (b->status);
  g_free (b);
}

static void
loss_free (gpointer data)
{
  LabourLossRow *row = data;

  g_free (row->table);
  g_free (row->source);
  g_free (row->status);
  g_free (row);
}

static void
read_burdens (LabourTables *tables, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "crew", "class", "component", "basis", "rate_pct", "amount", "cap", "hours_a_year",
                                          "on_premium", "source", "status", NULL };
  static const char *const yes_no[] = { "no", "yes" };
  const gint64 most = G_GINT64_CONSTANT (100000000); /* 10 000 an hour */
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      LabourBurden *b = g_new0 (LabourBurden, 1);

      g_ptr_array_add (tables->burdens, b);
      b->component = g_strdup (table_cell (&r, "component"));
      b->crew = g_strdup (table_cell (&r, "crew"));
      b->class = g_strdup (table_cell (&r, "class"));
      b->basis = (LabourBurdenBasis) MAX (0, table_word (&r, "basis", labour_burden_keys, LABOUR_N_BURDENS));
      b->rate_ppm = table_decimal (&r, "rate_pct", 4, 0, 0, 5000000);
      b->amount = table_decimal (&r, "amount", 4, 0, 0, most);
      b->cap = table_decimal (&r, "cap", 4, 0, 0, G_GINT64_CONSTANT (10000000) * 10000);
      b->hours = table_decimal (&r, "hours_a_year", 3, 0, 1, 8784000);
      b->on_premium = !*table_cell (&r, "on_premium") || table_word (&r, "on_premium", yes_no, 2) == 1;
      b->source = g_strdup (table_cell (&r, "source"));
      b->status = g_strdup (table_cell (&r, "status"));
      if (!*b->component)
        table_complain (&r, "component", _ ("the component has no name"), _ ("enter one, such as workers' insurance"));
      if (b->basis == LABOUR_FLAT ? b->amount == 0 : b->rate_ppm == 0)
        table_complain (&r, b->basis == LABOUR_FLAT ? "amount" : "rate_pct", _ ("the component has no figure"),
                        b->basis == LABOUR_FLAT ? _ ("enter money an hour worked, over 0")
                                                : _ ("enter a percentage of the wage, over 0"));
      if (b->basis == LABOUR_ON_WAGE_TO_CAP && (b->cap == 0 || b->hours == 0))
        table_complain (&r, b->cap == 0 ? "cap" : "hours_a_year", _ ("a yearly cap needs the cap and the hours worked a year"),
                        _ ("enter both, such as 7000 and 1800"));
    }
}

static void
read_losses (LabourTables *tables, const CsvTable *table, GPtrArray *faults)
{
  static const char *const headings[] = { "table", "hours_a_week", "week", "loss_pct", "basis", "source", "status", NULL };
  TableReader r;

  if (!table_begin (&r, table, faults, headings))
    return;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      LabourLossRow *row = g_new0 (LabourLossRow, 1);

      g_ptr_array_add (tables->losses, row);
      row->table = g_strdup (table_cell (&r, "table"));
      row->hours = table_decimal (&r, "hours_a_week", 3, 0, 1, 100000);
      row->week = (int) table_decimal (&r, "week", 0, 0, 1, 520);
      row->loss_ppm = table_decimal (&r, "loss_pct", 4, -1, 0, 950000);
      row->basis = *table_cell (&r, "basis") ? table_word (&r, "basis", labour_loss_keys, LABOUR_N_LOSSES) : -1;
      row->source = g_strdup (table_cell (&r, "source"));
      row->status = g_strdup (table_cell (&r, "status"));
      if (!*row->table)
        table_complain (&r, "table", _ ("the table has no name"), _ ("enter one; a job names it"));
      if (row->hours == 0 || row->week == 0 || row->loss_ppm < 0)
        table_complain (&r, row->hours == 0 ? "hours_a_week" : row->week == 0 ? "week" : "loss_pct", _ ("the cell is empty"),
                        _ ("a row needs hours a week, the week from 1, and the loss of output in per cent"));
    }
}

void
labour_read_money (LabourTables *tables, const LabourSheets *sheets, GPtrArray *faults)
{
  tables->burdens = g_ptr_array_new_with_free_func (burden_free);
  tables->losses = g_ptr_array_new_with_free_func (loss_free);
  read_burdens (tables, sheets->burdens, faults);
  read_losses (tables, sheets->overtime_loss, faults);
}

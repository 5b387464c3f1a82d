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

/* A row of the same table, hours and week that stands before; -1. */
static int
row_before (const LabourTables *tables, guint at)
{
  const LabourLossRow *row = g_ptr_array_index (tables->losses, at);

  for (guint i = 0; i < at; i++)
    {
      const LabourLossRow *other = g_ptr_array_index (tables->losses, i);
      if (row->week > 0 && other->week == row->week && other->hours == row->hours && strcmp (other->table, row->table) == 0)
        return (int) i;
    }
  return -1;
}

static void
check_loss (const TableReader *r, const LabourTables *tables)
{
  static const char *const needed[] = { "hours_a_week", "week", "loss_pct" };
  const CsvTable *table = r->table;

  if (!*table_cell (r, "table"))
    table_complain (r, "table", _ ("the table has no name"), _ ("enter one; a job names it"));
  /* What is out of bounds was told; only a cell without anything is empty. */
  for (gsize i = 0; i < G_N_ELEMENTS (needed); i++)
    if (!*table_cell (r, needed[i]))
      table_complain (r, needed[i], _ ("the cell is empty"),
                      _ ("a row needs hours a week, the week from 1, and the loss of output in per cent"));
  int before = row_before (tables, tables->losses->len - 1);
  if (before < 0)
    return;
  g_autofree char *what = g_strdup_printf (_ ("this week stands twice: line %d has the same table, hours and week"),
                                           ((const CsvRow *) g_ptr_array_index (table->row, (guint) before))->line);
  table_complain (r, "week", what, _ ("keep one of the two rows, or give the other its own week, hours or table"));
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
      check_loss (&r, tables);
    }
}

/* ---- burdens against the crews ---- */

/* Crews or classes, for a remedy. @crew: (nullable): of this one alone. */
static char *
list_names (const LabourTables *tables, const char *crew, gboolean classes)
{
  g_autoptr (GPtrArray) seen = g_ptr_array_new ();

  for (guint i = 0; i < tables->crews->len; i++)
    {
      const LabourCrew *c = g_ptr_array_index (tables->crews, i);
      if (!classes && !g_ptr_array_find_with_equal_func (seen, c->key, g_str_equal, NULL))
        g_ptr_array_add (seen, c->key);
      for (guint k = 0; classes && (!crew || !*crew || strcmp (crew, c->key) == 0) && k < c->members->len; k++)
        {
          char *name = g_array_index (c->members, LabourMember, k).name;
          if (!g_ptr_array_find_with_equal_func (seen, name, g_str_equal, NULL))
            g_ptr_array_add (seen, name);
        }
    }
  g_ptr_array_add (seen, NULL);
  return g_strjoinv (", ", (char **) seen->pdata);
}

static gboolean
has_class (const LabourTables *tables, const LabourBurden *b)
{
  for (guint i = 0; i < tables->crews->len; i++)
    {
      const LabourCrew *c = g_ptr_array_index (tables->crews, i);
      for (guint k = 0; (!*b->crew || strcmp (b->crew, c->key) == 0) && k < c->members->len; k++)
        if (g_ascii_strcasecmp (b->class, g_array_index (c->members, LabourMember, k).name) == 0)
          return TRUE;
    }
  return FALSE;
}

/* A burden of nobody would leave the rate too low without a word. */
static gboolean
check_reach (const TableReader *r, const LabourTables *tables, const LabourBurden *b)
{
  gboolean crew = !*b->crew || labour_find_crew (tables, b->crew) >= 0;

  if (crew && (!*b->class || has_class (tables, b)))
    return TRUE;
  g_autofree char *what = crew ? *b->crew ? g_strdup_printf (_ ("the crew “%s” has no class “%s”"), b->crew, b->class)
                                          : g_strdup_printf (_ ("no crew has the class “%s”"), b->class)
                               : g_strdup_printf (_ ("there is no crew “%s”"), b->crew);
  g_autofree char *names = list_names (tables, b->crew, crew);
  g_autofree char *remedy = crew ? g_strdup_printf (_ ("write one of: %s; or leave the cell empty for every class"), names)
                                 : g_strdup_printf (_ ("write one of: %s; or leave the cell empty for every crew"), names);
  table_complain (r, crew ? "class" : "crew", what, remedy);
  return FALSE;
}

static gboolean
meet (const char *a, const char *b)
{
  return !*a || !*b || g_ascii_strcasecmp (a, b) == 0;
}

/* One component on two rows that reach the same worker would count twice. */
static void
check_twice (const TableReader *r, const LabourTables *tables, const LabourBurden *b)
{
  for (guint i = 0; *b->component && i < r->row; i++)
    {
      const LabourBurden *other = g_ptr_array_index (tables->burdens, i);
      if (g_ascii_strcasecmp (b->component, other->component) != 0 || !meet (b->crew, other->crew) || !meet (b->class, other->class))
        continue;
      g_autofree char *what = g_strdup_printf (_ ("“%s” counts twice for the same worker: it stands on line %d too"), b->component,
                                               ((const CsvRow *) g_ptr_array_index (r->table->row, i))->line);
      table_complain (r, "component", what, _ ("keep one of the two rows, or name crew and class so that no worker has both"));
      return;
    }
}

void
labour_check_burdens (const LabourTables *tables, const LabourSheets *sheets, GPtrArray *faults)
{
  TableReader r = { sheets->burdens, faults, 0 };

  /* One record a row; fewer when the headings were not whole, which was told. */
  for (; r.row < tables->burdens->len; r.row++)
    {
      const LabourBurden *b = g_ptr_array_index (tables->burdens, r.row);
      if (check_reach (&r, tables, b))
        check_twice (&r, tables, b);
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

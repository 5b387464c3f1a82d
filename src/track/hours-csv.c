/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "track/hours.h"

#include <glib/gi18n-lib.h>

enum { COLUMN_DATE, COLUMN_AREA, COLUMN_GROUP, COLUMN_HOURS, COLUMN_NOTE, N_COLUMNS };

typedef struct
{
  const CsvTable *table;
  int column[N_COLUMNS];
  gint64 (*find_area) (gpointer data, const char *name);
  gpointer data;
  GPtrArray *faults;
} Reader;

static void
complain (const Reader *reader, int line, int column, const char *what, const char *remedy)
{
  const char *heading = column >= 0 ? g_ptr_array_index (reader->table->head, (guint) column) : NULL;

  g_ptr_array_add (reader->faults, csv_fault_new (reader->table->name, line, column + 1, heading, what, remedy));
}

/* FALSE when a heading without which nothing can be read is missing. */
static gboolean
map_columns (Reader *reader)
{
  static const char *const name[N_COLUMNS][3] = { { "date", "day", NULL },
                                                  { "area", NULL, NULL },
                                                  { "group", "step group", NULL },
                                                  { "hours", "worker-hours", NULL },
                                                  { "note", NULL, NULL } };
  gboolean whole = TRUE;

  for (int i = 0; i < N_COLUMNS; i++)
    {
      reader->column[i] = -1;
      for (int k = 0; reader->column[i] < 0 && name[i][k]; k++)
        reader->column[i] = csv_column (reader->table, name[i][k]);
      if (reader->column[i] >= 0 || i == COLUMN_AREA || i == COLUMN_NOTE)
        continue;
      g_autofree char *what = g_strdup_printf (_ ("there is no column “%s”"), name[i][0]);
      complain (reader, reader->table->head_line, -1, what, _ ("use the headings date, area, group, hours and note"));
      whole = FALSE;
    }
  for (guint c = 0; c < reader->table->head->len; c++)
    {
      const char *heading = g_ptr_array_index (reader->table->head, c);
      gboolean known = *heading == '\0';
      for (int i = 0; i < N_COLUMNS; i++)
        known = known || reader->column[i] == (int) c;
      if (known)
        continue;
      g_autofree char *what = g_strdup_printf (_ ("the heading “%s” is not known, so the column is ignored"), heading);
      complain (reader, reader->table->head_line, (int) c, what, _ ("use the headings date, area, group, hours and note"));
    }
  return whole;
}

static const char *
cell (const Reader *reader, guint row, int which)
{
  return csv_cell (reader->table, row, reader->column[which]);
}

static gboolean
take_fault (const Reader *reader, int line, int which, Fault *fault)
{
  complain (reader, line, reader->column[which], fault->what, fault->remedy);
  fault_free (fault);
  return FALSE;
}

static gboolean
read_line (const Reader *reader, guint row, int line, HoursEntry *entry)
{
  const char *area = cell (reader, row, COLUMN_AREA);
  Fault *fault = NULL;

  if (!hours_day_parse (cell (reader, row, COLUMN_DATE), &entry->day, &fault))
    return take_fault (reader, line, COLUMN_DATE, fault);
  entry->area = *area ? reader->find_area (reader->data, area) : 0;
  if (*area && entry->area == 0)
    return take_fault (reader, line, COLUMN_AREA,
                       fault_new (0, _ ("use the name of an area of this job, or leave the cell empty for the whole job"),
                                  _ ("there is no area “%s”"), area));
  if (!hours_group_parse (cell (reader, row, COLUMN_GROUP), &entry->group, &fault))
    return take_fault (reader, line, COLUMN_GROUP, fault);
  if (!hours_parse (cell (reader, row, COLUMN_HOURS), &entry->worker_mh, &fault))
    return take_fault (reader, line, COLUMN_HOURS, fault);
  if (entry->worker_mh == 0)
    return take_fault (reader, line, COLUMN_HOURS,
                       fault_new (0, _ ("enter the worker-hours, or leave the line out"), _ ("there are no hours")));
  return TRUE;
}

/* Whether a code may be used; a new one takes one of the places left. */
static gboolean
take_code (GArray *codes, const HoursEntry *entry)
{
  HoursCode code = { entry->area, entry->group };

  if (hours_find_code (codes, code.area, code.group) >= 0)
    return TRUE;
  if (codes->len >= HOURS_MOST_CODES)
    return FALSE;
  g_array_append_val (codes, code);
  return TRUE;
}

GPtrArray *
hours_read_csv (const CsvTable *table, gint64 (*find_area) (gpointer data, const char *name), gpointer data, gint64 batch,
                const GPtrArray *before, GPtrArray *faults)
{
  Reader reader = { .table = table, .find_area = find_area, .data = data, .faults = faults };
  g_autoptr (GPtrArray) out = hours_list_new ();
  g_autoptr (GArray) codes = before ? hours_codes (before) : g_array_new (FALSE, FALSE, sizeof (HoursCode));

  if (!map_columns (&reader))
    return NULL;
  for (guint row = 0; row < table->row->len; row++)
    {
      int line = ((const CsvRow *) g_ptr_array_index (table->row, row))->line;
      HoursEntry *entry = hours_entry_new (0, 0, LABOUR_GENERAL, 0, cell (&reader, row, COLUMN_NOTE));

      entry->batch = batch;
      if (!read_line (&reader, row, line, entry))
        hours_entry_free (entry);
      else if (!take_code (codes, entry))
        {
          complain (&reader, line, reader.column[COLUMN_GROUP],
                    _ ("this would be the thirteenth code (area and step group) of the job"),
                    _ ("book on a code that is in use, or leave the area empty"));
          hours_entry_free (entry);
        }
      else
        g_ptr_array_add (out, entry);
    }
  return g_steal_pointer (&out);
}

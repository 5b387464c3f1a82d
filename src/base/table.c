/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "base/table.h"

#include "base/decimal.h"
#include "base/length.h"
#include "base/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

gboolean
table_begin (TableReader *r, const CsvTable *table, GPtrArray *faults, const char *const *headings)
{
  gboolean whole = TRUE;

  *r = (TableReader) { table, faults, G_MAXUINT };
  for (; *headings; headings++)
    if (csv_column (table, *headings) < 0)
      {
        g_autofree char *what = g_strdup_printf (_ ("the column “%s” is missing"), *headings);
        table_complain (r, *headings, what, _ ("add it to the heading line"));
        whole = FALSE;
      }
  return whole;
}

const char *
table_cell (const TableReader *r, const char *heading)
{
  return csv_cell (r->table, r->row, csv_column (r->table, heading));
}

void
table_complain (const TableReader *r, const char *heading, const char *what, const char *remedy)
{
  const CsvRow *row = r->row < r->table->row->len ? g_ptr_array_index (r->table->row, r->row) : NULL;

  g_ptr_array_add (r->faults, csv_fault_new (r->table->name, row ? row->line : r->table->head_line,
                                             csv_column (r->table, heading) + 1, heading, what, remedy));
}

void
table_complain_fault (const TableReader *r, const char *heading, Fault *fault)
{
  table_complain (r, heading, fault->what, fault->remedy);
  fault_free (fault);
}

gint64
table_decimal (const TableReader *r, const char *heading, int decimals, gint64 empty, gint64 least, gint64 most)
{
  Fault *fault = NULL;
  gint64 v = empty;

  if (!*table_cell (r, heading))
    return empty;
  if (!decimal_parse (table_cell (r, heading), decimals, &v, &fault))
    {
      table_complain_fault (r, heading, fault);
      return empty;
    }
  if (v < least || v > most)
    {
      g_autofree char *low = decimal_print (least, decimals, 0, TRUE);
      g_autofree char *high = decimal_print (most, decimals, 0, TRUE);
      g_autofree char *remedy = g_strdup_printf (_ ("enter a figure from %s to %s"), low, high);
      table_complain (r, heading, _ ("out of bounds"), remedy);
      return empty;
    }
  return v;
}

gint64
table_length (const TableReader *r, const char *heading, gint64 empty)
{
  Fault *fault = NULL;
  gint64 nm = empty;

  if (*table_cell (r, heading) && !length_parse (table_cell (r, heading), LENGTH_IN, &nm, &fault))
    table_complain_fault (r, heading, fault);
  return nm;
}

gint64
table_pressure (const TableReader *r, const char *heading, gint64 empty)
{
  Fault *fault = NULL;
  gint64 v = empty;

  if (*table_cell (r, heading) && !pressure_parse (table_cell (r, heading), &v, &fault))
    table_complain_fault (r, heading, fault);
  return v;
}

static int
word_index (const char *word, const char *const *keys, gsize n)
{
  for (gsize i = 0; i < n; i++)
    if (g_ascii_strcasecmp (word, keys[i]) == 0)
      return (int) i;
  return -1;
}

static void
complain_word (const TableReader *r, const char *heading, const char *word, const char *const *keys, gsize n)
{
  g_autoptr (GString) list = g_string_new (NULL);

  for (gsize i = 0; i < n; i++)
    g_string_append_printf (list, "%s%s", i ? ", " : "", keys[i]);
  g_autofree char *what = g_strdup_printf (_ ("“%s” is not known here"), word);
  g_autofree char *remedy = g_strdup_printf (_ ("write one of: %s"), list->str);
  table_complain (r, heading, what, remedy);
}

int
table_word (const TableReader *r, const char *heading, const char *const *keys, gsize n)
{
  int i = word_index (table_cell (r, heading), keys, n);

  if (i < 0)
    complain_word (r, heading, table_cell (r, heading), keys, n);
  return i;
}

guint
table_mask (const TableReader *r, const char *heading, const char *const *keys, gsize n, const char *separator)
{
  guint mask = 0;

  if (!*table_cell (r, heading))
    return (1u << n) - 1;
  g_auto (GStrv) words = g_strsplit (table_cell (r, heading), separator, -1);
  for (char **w = words; *w; w++)
    {
      int i = word_index (g_strstrip (*w), keys, n);
      if (i < 0)
        complain_word (r, heading, *w, keys, n);
      else
        mask |= 1u << i;
    }
  return mask;
}

int
table_find (const GPtrArray *records, const char *key)
{
  for (guint i = 0; i < records->len; i++)
    if (strcmp (*(char *const *) g_ptr_array_index (records, i), key) == 0)
      return (int) i;
  return -1;
}

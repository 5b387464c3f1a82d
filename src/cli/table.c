/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/table.h"

#include "base/csv.h"
#include "base/decimal.h"
#include "exchange/jsonl.h"

#include <stdio.h>
#include <string.h>

void
cli_print (const char *format, ...)
{
  va_list args;

  va_start (args, format);
  vprintf (format, args);
  va_end (args);
}

CliTable *
cli_table_new (const char *name, const CliColumn *column, gsize n)
{
  CliTable *table = g_new0 (CliTable, 1);

  table->name = name;
  table->column = column;
  table->n = n;
  table->cell = g_ptr_array_new_with_free_func (g_free);
  return table;
}

void
cli_table_free (CliTable *table)
{
  g_ptr_array_unref (table->cell);
  g_free (table);
}

void
cli_table_take (CliTable *table, char *text)
{
  g_ptr_array_add (table->cell, text);
}

void
cli_table_add (CliTable *table, const char *text)
{
  cli_table_take (table, g_strdup (text ? text : ""));
}

void
cli_table_int (CliTable *table, gint64 value)
{
  cli_table_take (table, g_strdup_printf ("%" G_GINT64_FORMAT, value));
}

void
cli_table_figure (CliTable *table, double value, int digits)
{
  cli_table_take (table, decimal_print_significant (value, digits));
}

void
cli_table_fixed (CliTable *table, double value, int decimals)
{
  char number[64];
  g_autofree char *format = g_strdup_printf ("%%.%df", decimals);

  cli_table_take (table, g_strdup (g_ascii_formatd (number, sizeof number, format, value)));
}

/* "28322.7" as "28,322.7"; anything that is no plain number stays. */
static char *
grouped (const char *text)
{
  gsize sign = *text == '-' || *text == '+', digits = strspn (text + sign, "0123456789");
  GString *out;

  if (digits < 4 || strspn (text + sign, "0123456789.") != strlen (text + sign))
    return g_strdup (text);
  out = g_string_new_len (text, (gssize) sign);
  for (gsize i = 0; i < digits; i++)
    {
      g_string_append_c (out, text[sign + i]);
      if (i + 1 < digits && (digits - i - 1) % 3 == 0)
        g_string_append_c (out, ',');
    }
  g_string_append (out, text + sign + digits);
  return g_string_free (out, FALSE);
}

static gsize
width_of (const char *text)
{
  gsize width = 0;

  for (const char *p = text; *p; p = g_utf8_next_char (p))
    width += g_unichar_iszerowidth (g_utf8_get_char (p)) ? 0 : g_unichar_iswide (g_utf8_get_char (p)) ? 2 : 1;
  return width;
}

static void
append_padded (GString *out, const char *text, gsize width, gboolean right, gboolean last)
{
  gsize pad = width - MIN (width, width_of (text));

  if (right)
    for (gsize i = 0; i < pad; i++)
      g_string_append_c (out, ' ');
  g_string_append (out, text);
  if (!right && !last)
    for (gsize i = 0; i < pad; i++)
      g_string_append_c (out, ' ');
  if (!last)
    g_string_append (out, "  ");
}

static void
print_text (const CliTable *t)
{
  gsize rows = t->cell->len / t->n, last = 0;
  g_autofree gsize *width = g_new0 (gsize, t->n);
  g_autoptr (GPtrArray) shown = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GString) out = g_string_new (NULL);

  for (gsize i = 0; i < rows * t->n; i++)
    {
      const char *text = g_ptr_array_index (t->cell, i);
      g_ptr_array_add (shown, t->column[i % t->n].figure ? grouped (text) : g_strdup (text));
    }
  for (gsize c = 0; c < t->n; c++)
    {
      if (!t->column[c].title)
        continue;
      last = c;
      width[c] = width_of (t->column[c].title);
      for (gsize r = 0; r < rows; r++)
        width[c] = MAX (width[c], width_of (g_ptr_array_index (shown, r * t->n + c)));
    }
  for (gsize r = 0; r <= rows; r++)
    {
      for (gsize c = 0; c < t->n; c++)
        if (t->column[c].title)
          append_padded (out, r == 0 ? t->column[c].title : g_ptr_array_index (shown, (r - 1) * t->n + c), width[c],
                         t->column[c].figure, c == last);
      g_string_append_c (out, '\n');
      if (r == 0)
        {
          for (gsize c = 0; c <= last; c++)
            for (gsize i = 0; t->column[c].title && i < width[c] + (c == last ? 0 : 2); i++)
              g_string_append_c (out, i < width[c] ? '-' : ' ');
          g_string_append_c (out, '\n');
        }
    }
  cli_print ("%s", out->str);
}

static void
print_csv (const CliTable *t)
{
  g_autoptr (GString) out = g_string_new (NULL);

  for (gsize c = 0; c < t->n; c++)
    csv_append_cell (out, t->column[c].key, c == 0);
  g_string_append_c (out, '\n');
  for (guint i = 0; i < t->cell->len; i++)
    {
      csv_append_cell (out, g_ptr_array_index (t->cell, i), i % t->n == 0);
      if (i % t->n == t->n - 1)
        g_string_append_c (out, '\n');
    }
  cli_print ("%s", out->str);
}

static void
print_jsonl (const CliTable *t)
{
  g_autoptr (GString) out = g_string_new (NULL);

  for (guint i = 0; i < t->cell->len; i++)
    {
      const CliColumn *column = &t->column[i % t->n];
      const char *text = g_ptr_array_index (t->cell, i);
      if (i % t->n == 0)
        {
          jsonl_begin (out);
          jsonl_string (out, "table", t->name);
        }
      if (!*text)
        jsonl_null (out, column->key);
      else if (column->figure)
        jsonl_figure (out, column->key, text);
      else
        jsonl_string (out, column->key, text);
      if (i % t->n == t->n - 1)
        jsonl_end (out);
    }
  cli_print ("%s", out->str);
}

void
cli_table_print (const CliTable *table, CliFormat format)
{
  if (format == CLI_TEXT)
    print_text (table);
  else if (format == CLI_CSV)
    print_csv (table);
  else
    print_jsonl (table);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/text-table.h"

#include <string.h>

struct _ChartTable
{
  char *align;
  guint columns;
  GPtrArray *cell; /* char *, row after row */
};

ChartTable *
chart_table_new (const char *align)
{
  ChartTable *table = g_new0 (ChartTable, 1);

  table->align = g_strdup (align);
  table->columns = (guint) strlen (align);
  table->cell = g_ptr_array_new_with_free_func (g_free);
  return table;
}

void
chart_table_free (ChartTable *table)
{
  g_free (table->align);
  g_ptr_array_unref (table->cell);
  g_free (table);
}

void
chart_table_take (ChartTable *table, char *text)
{
  char *clean = text ? g_utf8_make_valid (text, -1) : g_strdup ("");

  g_free (text);
  g_ptr_array_add (table->cell, g_strstrip (g_strdelimit (clean, "\n\r\t", ' ')));
}

void
chart_table_add (ChartTable *table, const char *text)
{
  chart_table_take (table, g_strdup (text));
}

/* Columns that a text takes: wide letters two, marks that combine none. */
static guint
width_of (const char *text)
{
  guint width = 0;

  for (const char *p = text; *p; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      width += g_unichar_iszerowidth (c) ? 0 : g_unichar_iswide (c) ? 2 : 1;
    }
  return width;
}

static void
blanks (GString *s, guint n)
{
  for (guint i = 0; i < n; i++)
    g_string_append_c (s, ' ');
}

static void
end_line (GString *s)
{
  while (s->len > 0 && s->str[s->len - 1] == ' ')
    g_string_truncate (s, s->len - 1);
  g_string_append_c (s, '\n');
}

char *
chart_table_print (const ChartTable *table)
{
  g_autofree guint *width = g_new0 (guint, MAX (table->columns, 1));
  GString *s = g_string_new (NULL);

  for (guint i = 0; i < table->cell->len; i++)
    width[i % table->columns] = MAX (width[i % table->columns], width_of (g_ptr_array_index (table->cell, i)));
  for (guint i = 0; i < table->cell->len; i++)
    {
      guint column = i % table->columns;
      const char *text = g_ptr_array_index (table->cell, i);
      guint fill = width[column] - width_of (text);
      if (column > 0)
        blanks (s, 2);
      if (table->align[column] == 'r')
        blanks (s, fill);
      g_string_append (s, text);
      if (table->align[column] != 'r')
        blanks (s, fill);
      if (column + 1 < table->columns && i + 1 < table->cell->len)
        continue;
      end_line (s);
      if (i + 1 == table->columns)
        {
          for (guint c = 0; c < table->columns; c++)
            {
              blanks (s, c > 0 ? 2 : 0);
              for (guint k = 0; k < width[c]; k++)
                g_string_append_c (s, '-');
            }
          end_line (s);
        }
    }
  return g_string_free (s, FALSE);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/memo.h"

#include "chart/text-table.h"
#include "exchange/safe-file.h"

#include <errno.h>
#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

#define COLUMNS 80

/* Columns that a word takes: wide letters two, marks that combine none. */
static int
width_of (const char *word)
{
  int width = 0;

  for (const char *p = word; *p; p = g_utf8_next_char (p))
    width += g_unichar_iszerowidth (g_utf8_get_char (p)) ? 0 : g_unichar_iswide (g_utf8_get_char (p)) ? 2 : 1;
  return width;
}

/* Breaks words at blanks, a word wider than a line within itself. */
static void
wrap (GString *out, const char *first, const char *text)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  int indent = width_of (first), at = indent;

  g_string_append (out, first);
  for (char **w = words; *w; w++)
    {
      int width = width_of (*w);
      if (width == 0)
        continue;
      if (at > indent && at + 1 + width > COLUMNS)
        {
          g_string_append_printf (out, "\n%*s", indent, "");
          at = indent;
        }
      if (at > indent)
        {
          g_string_append_c (out, ' ');
          at++;
        }
      for (const char *p = *w; *p; p = g_utf8_next_char (p))
        {
          if (at >= COLUMNS)
            {
              g_string_append_printf (out, "\n%*s", indent, "");
              at = indent;
            }
          g_string_append_len (out, p, g_utf8_next_char (p) - p);
          at += g_unichar_iswide (g_utf8_get_char (p)) ? 2 : g_unichar_iszerowidth (g_utf8_get_char (p)) ? 0 : 1;
        }
    }
  g_string_append_c (out, '\n');
}

static void
add_rows (GString *out, const Memo *memo)
{
  g_autoptr (ChartTable) table = chart_table_new ("lrrr");
  g_autofree char *text = NULL;

  chart_table_add (table, "");
  chart_table_add (table, _ ("A"));
  chart_table_add (table, _ ("B"));
  chart_table_add (table, _ ("B less A"));
  for (guint i = 0; i < memo->row->len; i++)
    for (int k = 0; k < 4; k++)
      chart_table_add (table, ((MemoRow *) g_ptr_array_index (memo->row, i))->cell[k]);
  text = chart_table_print (table);
  g_string_append (out, text);
}

char *
memo_text (const Memo *memo)
{
  GString *out = g_string_new (NULL);

  wrap (out, "", memo->title);
  for (int i = 0; i < MIN (width_of (memo->title), COLUMNS); i++)
    g_string_append_c (out, '=');
  g_string_append (out, "\n\n");
  wrap (out, "", memo->question);
  g_string_append_c (out, '\n');
  wrap (out, "", memo->answer);
  g_string_append_c (out, '\n');
  wrap (out, _ ("A  "), memo->name[0]);
  wrap (out, _ ("B  "), memo->name[1]);
  add_rows (out, memo);
  for (guint i = 0; i < memo->section->len; i++)
    {
      const MemoSection *section = g_ptr_array_index (memo->section, i);
      g_string_append_c (out, '\n');
      wrap (out, "", section->heading);
      for (guint k = 0; k < section->line->len; k++)
        wrap (out, "- ", g_ptr_array_index (section->line, k));
    }
  g_string_append_c (out, '\n');
  wrap (out, "", memo->foot);
  return g_string_free (out, FALSE);
}

gboolean
memo_write_text (const Memo *memo, const char *path, GError **error)
{
  g_autofree char *text = memo_text (memo);
  g_autoptr (SafeFile) safe = safe_file_new (path, error);
  FILE *file = safe ? safe_file_open (safe, error) : NULL;
  gboolean good;

  if (!file)
    return FALSE;
  good = fputs (text, file) >= 0;
  good = fclose (file) == 0 && good;
  if (!good)
    {
      int saved = errno;
      g_set_error (error, G_IO_ERROR, g_io_error_from_errno (saved), _ ("%s cannot be written: %s"), path, g_strerror (saved));
      return FALSE;
    }
  return safe_file_commit (safe, error);
}

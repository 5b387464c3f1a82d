/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/grid/grid-tsv.h"

#include <string.h>

static void
append_cell (GString *out, const char *text)
{
  if (!strpbrk (text, "\t\r\n\""))
    {
      g_string_append (out, text);
      return;
    }
  g_string_append_c (out, '"');
  for (; *text; text++)
    {
      if (*text == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *text);
    }
  g_string_append_c (out, '"');
}

char *
grid_tsv_write (guint row0, guint column0, guint row1, guint column1, GridTsvText text, gpointer data)
{
  GString *out = g_string_new (NULL);
  gsize before = 0;

  for (guint row = row0; row <= row1; row++)
    {
      if (row > row0)
        g_string_append_c (out, '\n');
      before = out->len;
      for (guint column = column0; column <= column1; column++)
        {
          g_autofree char *cell = text (row, column, data);
          if (column > column0)
            g_string_append_c (out, '\t');
          append_cell (out, cell ? cell : "");
        }
    }
  if (out->len == before)
    g_string_append_c (out, '\n');
  return g_string_free (out, FALSE);
}

/* The end of the quoted cell that starts at @at, its closing mark; NULL: not a quoted cell. */
static const char *
closing_mark (const char *at)
{
  for (at++; (at = strchr (at, '"')) != NULL; at += 2)
    if (at[1] != '"')
      return strchr ("\t\r\n", at[1]) ? at : NULL; /* finds the end of the text as well */
  return NULL;
}

/* Takes one cell and leaves @at at what stands behind it. */
static char *
take_cell (const char **at)
{
  const char *end = **at == '"' ? closing_mark (*at) : NULL;
  GString *out;

  if (!end)
    {
      const char *from = *at;
      *at += strcspn (from, "\t\r\n");
      return g_strndup (from, (gsize) (*at - from));
    }
  out = g_string_sized_new ((gsize) (end - *at));
  for (const char *p = *at + 1; p < end; p++)
    {
      g_string_append_c (out, *p);
      if (*p == '"')
        p++;
    }
  *at = end + 1;
  return g_string_free (out, FALSE);
}

GridTsv *
grid_tsv_read (const char *text, gsize limit)
{
  GridTsv *tsv = g_new0 (GridTsv, 1);
  g_autofree char *valid = g_utf8_validate (text, -1, NULL) ? NULL : g_utf8_make_valid (text, -1);
  const char *at = valid ? valid : text;
  GPtrArray *row = NULL;
  gsize n = 0;

  tsv->row = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  if (g_str_has_prefix (at, "\xEF\xBB\xBF"))
    at += 3;
  while (*at || row)
    {
      if (n++ >= limit)
        {
          tsv->cut = TRUE;
          break;
        }
      if (!row)
        {
          row = g_ptr_array_new_with_free_func (g_free);
          g_ptr_array_add (tsv->row, row);
        }
      g_ptr_array_add (row, take_cell (&at));
      tsv->n_columns = MAX (tsv->n_columns, row->len);
      if (*at == '\t')
        {
          at++;
          continue;
        }
      row = NULL;
      if (*at == '\r' && at[1] == '\n')
        at++;
      if (*at)
        at++;
    }
  return tsv;
}

void
grid_tsv_free (GridTsv *tsv)
{
  g_ptr_array_unref (tsv->row);
  g_free (tsv);
}

const char *
grid_tsv_cell (const GridTsv *tsv, guint row, guint column)
{
  const GPtrArray *cells = row < tsv->row->len ? g_ptr_array_index (tsv->row, row) : NULL;

  return cells && column < cells->len ? g_ptr_array_index (cells, column) : NULL;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/csv.h"

#include <glib/gi18n.h>
#include <string.h>

#define BYTE_ORDER_MARK "\xEF\xBB\xBF"

CsvFault *
csv_fault_new (const char *file, int line, int column, const char *heading, const char *what, const char *remedy)
{
  CsvFault *fault = g_new0 (CsvFault, 1);

  fault->file = g_strdup (file != NULL ? file : "");
  fault->line = line;
  fault->column = column;
  fault->heading = g_strdup (heading);
  fault->what = g_strdup (what);
  fault->remedy = g_strdup (remedy);
  return fault;
}

void
csv_fault_free (CsvFault *fault)
{
  if (fault == NULL)
    return;
  g_free (fault->file);
  g_free (fault->heading);
  g_free (fault->what);
  g_free (fault->remedy);
  g_free (fault);
}

/* Without its parts where they are not known: no line (0), no column (0), no heading (NULL or empty). */
char *
csv_fault_words (const CsvFault *fault)
{
  g_return_val_if_fail (fault != NULL, NULL);

  if (fault->line <= 0)
    return g_strdup_printf (_("%s: %s; %s"), fault->file, fault->what, fault->remedy);
  if (fault->column <= 0)
    return g_strdup_printf (_("%s:%d: %s; %s"), fault->file, fault->line, fault->what, fault->remedy);
  if (fault->heading == NULL || *fault->heading == '\0')
    return g_strdup_printf (_("%s:%d, column %d: %s; %s"), fault->file, fault->line, fault->column, fault->what,
                            fault->remedy);
  return g_strdup_printf (_("%s:%d, column %d (%s): %s; %s"), fault->file, fault->line, fault->column, fault->heading,
                          fault->what, fault->remedy);
}

/* Where the reader stands; nothing at or behind @end is looked at. */
typedef struct
{
  const char *p;
  const char *end;
  int line;
  char separator;
  CsvTable *table;
  GPtrArray *faults;
} Reader;

/* What went wrong in one row; the row is still read to its end so that the next one is found. */
typedef enum
{
  ROW_GOOD,
  ROW_UNCLOSED,
  ROW_BEHIND_QUOTE,
} RowState;

typedef struct
{
  RowState state;
  int line;   /* of the trouble */
  int column; /* from 1 */
} RowTrouble;

static void
csv_row_free (gpointer data)
{
  CsvRow *row = data;

  if (row == NULL)
    return;
  g_ptr_array_unref (row->cell);
  g_free (row);
}

static CsvRow *
csv_row_new (int line)
{
  CsvRow *row = g_new0 (CsvRow, 1);

  row->line = line;
  row->cell = g_ptr_array_new_with_free_func (g_free);
  return row;
}

void
csv_table_free (CsvTable *table)
{
  if (table == NULL)
    return;
  g_free (table->name);
  g_ptr_array_unref (table->head);
  g_ptr_array_unref (table->row);
  g_free (table);
}

static void
report (Reader *r, int line, int column, const char *what, const char *remedy)
{
  const char *heading = NULL;

  if (r->faults == NULL)
    return;
  if (column > 0 && (guint) column <= r->table->head->len)
    heading = g_ptr_array_index (r->table->head, column - 1);
  g_ptr_array_add (r->faults, csv_fault_new (r->table->name, line, column, heading, what, remedy));
}

static gboolean
is_line_end (const Reader *r, const char *p)
{
  return p >= r->end || *p == '\n' || *p == '\r';
}

static gboolean
is_blank (const Reader *r, char c)
{
  return c == ' ' || (c == '\t' && r->separator != '\t');
}

/* Behind the line end at @p: LF, CR LF or CR. */
static const char *
behind_line_end (const Reader *r, const char *p)
{
  if (p < r->end && *p == '\r' && p + 1 < r->end && p[1] == '\n')
    return p + 2;
  return p < r->end ? p + 1 : p;
}

static const char *
find_line_end (const Reader *r, const char *p)
{
  while (!is_line_end (r, p))
    p++;
  return p;
}

/* Skips blank lines and comments; FALSE at the end of the text. */
static gboolean
next_row_start (Reader *r)
{
  while (r->p < r->end)
    {
      const char *stop = find_line_end (r, r->p), *s = r->p;

      while (s < stop && (*s == ' ' || (*s == '\t' && r->separator != '\t')))
        s++;
      if (s < stop && *r->p != '#')
        return TRUE;
      r->p = behind_line_end (r, stop);
      r->line++;
    }
  return FALSE;
}

/* The separator of the file, from the heading at r->p: what stands within quotes does not count. */
static char
find_separator (const Reader *r)
{
  guint semicolons = 0, tabs = 0;
  gboolean quoted = FALSE;

  for (const char *p = r->p; p < r->end && (quoted || !is_line_end (r, p)); p++)
    {
      if (*p == '"')
        quoted = !quoted;
      else if (quoted)
        continue;
      else if (*p == ',')
        return ',';
      else if (*p == ';')
        semicolons++;
      else if (*p == '\t')
        tabs++;
    }
  if (semicolons == 0 && tabs == 0)
    return ',';
  return tabs > semicolons ? '\t' : ';';
}

/* A quoted cell, r->p on its opening quote. */
static char *
read_quoted (Reader *r, RowTrouble *trouble, int column)
{
  GString *out = g_string_new (NULL);
  int start = r->line;
  const char *p = r->p + 1;

  for (;; p++)
    {
      if (p >= r->end)
        {
          if (trouble->state == ROW_GOOD)
            *trouble = (RowTrouble) { ROW_UNCLOSED, start, column };
          break;
        }
      if (*p == '"')
        {
          if (p + 1 >= r->end || p[1] != '"')
            {
              p++;
              break;
            }
          p++;
        }
      else if (*p == '\n' || (*p == '\r' && (p + 1 >= r->end || p[1] != '\n')))
        r->line++;
      g_string_append_c (out, *p);
    }
  while (p < r->end && is_blank (r, *p))
    p++;
  if (!is_line_end (r, p) && *p != r->separator && trouble->state == ROW_GOOD)
    *trouble = (RowTrouble) { ROW_BEHIND_QUOTE, r->line, column };
  while (!is_line_end (r, p) && *p != r->separator)
    p++;
  r->p = p;
  return g_string_free (out, FALSE);
}

static char *
read_plain (Reader *r)
{
  const char *start = r->p, *stop;

  while (!is_line_end (r, r->p) && *r->p != r->separator)
    r->p++;
  for (stop = r->p; stop > start && is_blank (r, stop[-1]); stop--)
    ;
  return g_strndup (start, (gsize) (stop - start));
}

/* One row from r->p, which is moved behind its line end. */
static CsvRow *
read_row (Reader *r, RowTrouble *trouble)
{
  CsvRow *row = csv_row_new (r->line);

  for (;;)
    {
      while (r->p < r->end && is_blank (r, *r->p))
        r->p++;
      g_ptr_array_add (row->cell, r->p < r->end && *r->p == '"' ? read_quoted (r, trouble, (int) row->cell->len + 1)
                                                                : read_plain (r));
      if (r->p >= r->end || *r->p != r->separator)
        break;
      r->p++;
    }
  r->p = behind_line_end (r, r->p);
  r->line++;
  return row;
}

static int
count_lines (const Reader *r, const char *from, const char *to)
{
  int lines = 0;

  for (const char *p = from; p < to; p++)
    if (*p == '\n' || (*p == '\r' && (p + 1 >= r->end || p[1] != '\n')))
      lines++;
  return lines;
}

/* Column, from 1, of the byte at @to of a row that starts at @from. */
static int
count_columns (const Reader *r, const char *from, const char *to)
{
  gboolean begins = TRUE, quoted = FALSE;
  int column = 1;

  for (const char *p = from; p < to; p++)
    {
      if (quoted && *p == '"' && p + 1 < r->end && p[1] == '"')
        p++;
      else if (quoted)
        quoted = *p != '"';
      else if (*p == r->separator)
        column++;
      else if (*p == '"' && begins)
        quoted = TRUE;
      begins = !quoted && (*p == r->separator || (begins && is_blank (r, *p)));
    }
  return column;
}

/* Reports what makes the row's bytes from @start to r->p unusable. */
static gboolean
bytes_are_text (Reader *r, const char *start, int line)
{
  const char *bad;
  int column;

  if (g_utf8_validate_len (start, (gsize) (r->p - start), &bad))
    return TRUE;
  line += count_lines (r, start, bad);
  column = count_columns (r, start, bad);
  if (*bad == '\0')
    report (r, line, column, _("the line holds a NUL byte"), _("save the file as comma-separated text in UTF-8"));
  else
    report (r, line, column, _("the line is not UTF-8 text"), _("save the file as comma-separated text in UTF-8"));
  return FALSE;
}

/* The next row if it can be used; NULL with a fault reported if not. */
static CsvRow *
read_good_row (Reader *r)
{
  const char *start = r->p;
  int line = r->line;
  RowTrouble trouble = { ROW_GOOD, 0, 0 };
  CsvRow *row = read_row (r, &trouble);
  gboolean good = bytes_are_text (r, start, line);

  switch (trouble.state)
    {
    case ROW_UNCLOSED:
      report (r, trouble.line, trouble.column,
              _("a quote is opened and never closed, so the rest of the file is not read"),
              _("close the cell with a quote (\"), or write a quote within quotes twice"));
      good = FALSE;
      break;
    case ROW_BEHIND_QUOTE:
      report (r, trouble.line, trouble.column, _("text follows a closing quote"),
              _("put the whole cell in quotes and write a quote within it twice"));
      good = FALSE;
      break;
    case ROW_GOOD:
    default:
      break;
    }
  if (good)
    return row;
  csv_row_free (row);
  return NULL;
}

static char *
heading_key (const char *heading)
{
  g_autofree char *copy = g_strstrip (g_strdup (heading));

  return g_utf8_casefold (copy, -1);
}

static gboolean
read_head (Reader *r)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  CsvRow *row;
  gboolean twice = FALSE;

  if (!next_row_start (r))
    {
      report (r, 1, 0, _("the file has no heading"), _("name the columns in the first line"));
      return FALSE;
    }
  r->separator = find_separator (r);
  r->table->head_line = r->line;
  row = read_good_row (r);
  if (row == NULL)
    return FALSE;
  g_ptr_array_unref (r->table->head);
  r->table->head = g_steal_pointer (&row->cell);
  g_free (row);
  for (guint i = 0; i < r->table->head->len; i++)
    {
      char *key = heading_key (g_ptr_array_index (r->table->head, i));

      if (*key == '\0')
        g_free (key);
      else if (!g_hash_table_add (seen, key))
        {
          report (r, r->table->head_line, (int) i + 1, _("the heading is given twice"),
                  _("rename or remove one of the two columns"));
          twice = TRUE;
        }
    }
  if (g_hash_table_size (seen) == 0)
    report (r, r->table->head_line, 0, _("the heading is empty"), _("name the columns in the first line"));
  return !twice && g_hash_table_size (seen) > 0;
}

static void
read_rows (Reader *r)
{
  guint columns = r->table->head->len;

  while (next_row_start (r))
    {
      CsvRow *row = read_good_row (r);

      if (row == NULL)
        continue;
      if (row->cell->len > columns)
        {
          g_autofree char *what = g_strdup_printf (_("the row has %u cells, the heading %u"), row->cell->len, columns);

          report (r, row->line, (int) columns + 1, what,
                  _("remove the extra cells, or put a cell that holds the separator in quotes"));
          csv_row_free (row);
          continue;
        }
      while (row->cell->len < columns)
        g_ptr_array_add (row->cell, g_strdup (""));
      g_ptr_array_add (r->table->row, row);
    }
}

CsvTable *
csv_parse (const char *text, gssize length, const char *name, GPtrArray *faults)
{
  g_autoptr (CsvTable) table = g_new0 (CsvTable, 1);
  gsize size = length >= 0 ? (gsize) length : text != NULL ? strlen (text) : 0;
  Reader r = { .p = text, .end = text + size, .line = 1, .separator = ',', .table = table, .faults = faults };

  table->name = g_strdup (name != NULL ? name : "");
  table->head = g_ptr_array_new_with_free_func (g_free);
  table->row = g_ptr_array_new_with_free_func (csv_row_free);
  if (size >= 3 && memcmp (text, BYTE_ORDER_MARK, 3) == 0)
    r.p += 3;
  if (!read_head (&r))
    return NULL;
  read_rows (&r);
  return g_steal_pointer (&table);
}

CsvTable *
csv_read_file (const char *path, GPtrArray *faults, GError **error)
{
  g_autofree char *text = NULL, *name = NULL;
  gsize length = 0;

  if (!g_file_get_contents (path, &text, &length, error))
    return NULL;
  name = g_filename_display_basename (path);
  return csv_parse (text, (gssize) length, name, faults);
}

/* A heading in which nothing is to be folded or stripped. */
static gboolean
is_plain (const char *heading)
{
  for (; *heading; heading++)
    if (!g_ascii_islower (*heading) && !g_ascii_isdigit (*heading) && *heading != '_')
      return FALSE;
  return TRUE;
}

int
csv_column (const CsvTable *table, const char *heading)
{
  gboolean plain = is_plain (heading);
  g_autofree char *wanted = NULL;

  /* Readers ask for every cell anew, and nearly always as it is written: folding both would take most of their time. */
  for (guint i = 0; i < table->head->len; i++)
    {
      if (g_str_equal (g_ptr_array_index (table->head, i), heading))
        return (int) i;
      plain = plain && is_plain (g_ptr_array_index (table->head, i));
    }
  if (plain)
    return -1;
  wanted = heading_key (heading);
  for (guint i = 0; i < table->head->len; i++)
    {
      g_autofree char *key = heading_key (g_ptr_array_index (table->head, i));

      if (g_str_equal (key, wanted))
        return (int) i;
    }
  return -1;
}

const char *
csv_cell (const CsvTable *table, guint row, int column)
{
  const CsvRow *it;

  if (column < 0 || row >= table->row->len)
    return "";
  it = g_ptr_array_index (table->row, row);
  return (guint) column < it->cell->len ? g_ptr_array_index (it->cell, column) : "";
}

void
csv_set_cell (CsvTable *table, guint row, int column, const char *text)
{
  GPtrArray *cell;

  if (column < 0 || row >= table->row->len)
    return;
  cell = ((CsvRow *) g_ptr_array_index (table->row, row))->cell;
  while (cell->len <= (guint) column)
    g_ptr_array_add (cell, g_strdup (""));
  g_free (g_ptr_array_index (cell, (guint) column));
  g_ptr_array_index (cell, (guint) column) = g_strdup (text);
}

/* Quotes are needed for whatever the reader would take otherwise: separators of any kind (the heading's decide),
 * quotes, line ends, blanks at an end, a comment sign or byte order mark in front. */
static gboolean
needs_quotes (const char *text, gboolean first)
{
  gsize n = strlen (text);

  if (n == 0)
    return FALSE;
  if (strpbrk (text, ",;\t\"\r\n") != NULL || text[0] == ' ' || text[n - 1] == ' ')
    return TRUE;
  return first && (text[0] == '#' || g_str_has_prefix (text, BYTE_ORDER_MARK));
}

static void
append_quoted (GString *out, const char *text)
{
  g_string_append_c (out, '"');
  for (; *text != '\0'; text++)
    {
      if (*text == '"')
        g_string_append_c (out, '"');
      g_string_append_c (out, *text);
    }
  g_string_append_c (out, '"');
}

void
csv_append_cell (GString *out, const char *text, gboolean first)
{
  if (text == NULL)
    text = "";
  if (!first)
    g_string_append_c (out, ',');
  if (needs_quotes (text, first))
    append_quoted (out, text);
  else
    g_string_append (out, text);
}

/* A row that is one empty cell is written as "", for an empty line would be skipped by the reader. */
void
csv_append_row (GString *out, const char *const *cells, gsize n)
{
  if (n == 1 && (cells[0] == NULL || *cells[0] == '\0'))
    append_quoted (out, "");
  for (gsize i = 0; i < n; i++)
    csv_append_cell (out, cells[i], i == 0);
  g_string_append_c (out, '\n');
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "base/money.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define MOST_CHARACTERS 32000 /* a cell holds 32 767 in UTF-16 */
#define LINE_POINTS 15.0

void
book_fail (Book *book, int code, const char *what)
{
  if (book->error || code == LXW_NO_ERROR)
    return;
  g_set_error (&book->error, G_IO_ERROR, G_IO_ERROR_FAILED, "%s: %s", what, lxw_strerror ((lxw_error) code));
}

/* Every cell passes here: counts the rows that the file must hold in the end. */
static void
note_row (Book *book, BookPage page, guint32 row)
{
  BookSheet *sheet = &book->sheet[page];

  if ((gint64) row > sheet->last_row)
    {
      sheet->last_row = row;
      sheet->rows++;
      sheet->lines = 1;
    }
}

/* ---- text ---- */

/* A character that XML 1.0 can hold and that no reader takes for something else. */
static gboolean
plain_character (gunichar c)
{
  return c >= 0x20 ? c != 0x7F && c < 0xFDD0 ? TRUE : c != 0x7F && (c > 0xFDEF && (c & 0xFFFE) != 0xFFFE)
                   : c == '\t' || c == '\n';
}

/* "_x0041_" in a file stands for a character by its number; text that only looks so must say so. */
static gboolean
looks_escaped (const char *p)
{
  return p[0] == '_' && p[1] == 'x' && g_ascii_isxdigit (p[2]) && g_ascii_isxdigit (p[3]) && g_ascii_isxdigit (p[4])
         && g_ascii_isxdigit (p[5]) && p[6] == '_';
}

const char *
workbook_clean_text (const char *text, GString *scratch)
{
  g_autofree char *valid = NULL;
  const char *p;
  int n = 0;

  if (!text)
    return "";
  for (p = text; *p >= 0x20 && *p < 0x7F && *p != '_'; p++)
    ;
  if (*p == '\0' && p - text <= MOST_CHARACTERS)
    return text;
  if (!g_utf8_validate (text, -1, NULL))
    text = valid = g_utf8_make_valid (text, -1);
  g_string_truncate (scratch, 0);
  for (p = text; *p; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      if (++n > MOST_CHARACTERS)
        {
          g_string_append (scratch, "…");
          break;
        }
      if (c == '\r')
        continue;
      if (looks_escaped (p))
        g_string_append (scratch, "_x005F");
      g_string_append_unichar (scratch, plain_character (c) ? c : 0xFFFD);
    }
  return scratch->str;
}

/* Lines that @text takes in @width: letters are a little narrower than the figures that widths are told in. */
static int
lines_of (const char *text, double width, BookLook look)
{
  double wide = look == AS_LEAD || look == AS_WARNING || look == AS_HEAD || look == AS_HEAD_RIGHT ? 1.12 : 0.85;

  return MAX ((int) ceil ((double) g_utf8_strlen (text, -1) * wide / MAX (width - 1, 4)), 1);
}

static void
fit_row (Book *book, BookPage page, guint32 row, int col, BookLook look, const char *text)
{
  BookSheet *sheet = &book->sheet[page];
  int lines = lines_of (text, sheet->width[col], look);

  if (lines <= sheet->lines)
    return;
  sheet->lines = lines;
  book_fail (book, worksheet_set_row (sheet->ws, row, MIN (LINE_POINTS * lines, 400), NULL), sheet->name);
}

static void
put_text (Book *book, BookPage page, guint32 row, int col, BookLook look, const char *text)
{
  const char *clean;

  if (!text || !*text)
    return;
  clean = workbook_clean_text (text, book->scratch);
  note_row (book, page, row);
  book_fail (book, worksheet_write_string (book->sheet[page].ws, row, (lxw_col_t) col, clean, book->look[look]),
             book->sheet[page].name);
}

void
book_text (Book *book, BookPage page, guint32 row, int col, BookLook look, const char *text)
{
  put_text (book, page, row, col, look, text);
  if (text && *text
      && (look == AS_WRAP || look == AS_TOTAL_WRAP || look == AS_WARNING || look == AS_HEAD || look == AS_HEAD_RIGHT))
    fit_row (book, page, row, col, look, text);
}

void
book_textf (Book *book, BookPage page, guint32 row, int col, BookLook look, const char *format, ...)
{
  g_autofree char *text = NULL;
  va_list args;

  va_start (args, format);
  text = g_strdup_vprintf (format, args);
  va_end (args);
  book_text (book, page, row, col, look, text);
}

void
book_blank (Book *book, BookPage page, guint32 row, int col, BookLook look)
{
  note_row (book, page, row);
  book_fail (book, worksheet_write_blank (book->sheet[page].ws, row, (lxw_col_t) col, book->look[look]),
             book->sheet[page].name);
}

/* ---- figures and formulas ---- */

void
book_number (Book *book, BookPage page, guint32 row, int col, BookLook look, double value)
{
  if (!isfinite (value))
    {
      book_text (book, page, row, col, AS_NOTE, _ ("no figure"));
      return;
    }
  note_row (book, page, row);
  book_fail (book, worksheet_write_number (book->sheet[page].ws, row, (lxw_col_t) col, value, book->look[look]),
             book->sheet[page].name);
}

void
book_money (Book *book, BookPage page, guint32 row, int col, BookLook look, gint64 minor)
{
  book_number (book, page, row, col, look, book_minor (book, minor));
}

void
book_formula (Book *book, BookPage page, guint32 row, int col, BookLook look, char *formula, double value)
{
  g_autofree char *text = g_strconcat ("=", formula, NULL);

  g_free (formula);
  if (!isfinite (value))
    {
      book_fail (book, LXW_ERROR_PARAMETER_VALIDATION, text);
      return;
    }
  note_row (book, page, row);
  book_fail (book,
             worksheet_write_formula_num (book->sheet[page].ws, row, (lxw_col_t) col, text, book->look[look], value),
             book->sheet[page].name);
}

void
book_formula_text (Book *book, BookPage page, guint32 row, int col, BookLook look, char *formula, const char *value)
{
  g_autofree char *text = g_strconcat ("=", formula, NULL);

  g_free (formula);
  note_row (book, page, row);
  book_fail (book,
             worksheet_write_formula_str (book->sheet[page].ws, row, (lxw_col_t) col, text, book->look[look],
                                          workbook_clean_text (value, book->scratch)),
             book->sheet[page].name);
}

/* ---- paragraphs ---- */

static void
set_height (Book *book, BookPage page, guint32 row, int last_col, BookLook look, const char *text)
{
  const BookSheet *sheet = &book->sheet[page];
  double width = 0, points = look == AS_LEAD ? LINE_POINTS * 1.2 : LINE_POINTS;

  for (int i = 0; i <= last_col; i++)
    width += sheet->width[i];
  book_fail (book, worksheet_set_row (sheet->ws, row, MIN (points * lines_of (text, width, look) + 2, 400), NULL),
             sheet->name);
}

static void
join_columns (Book *book, BookPage page, guint32 row, int first_col, int last_col, BookLook look)
{
  if (last_col <= first_col)
    return;
  note_row (book, page, row);
  book_fail (book,
             worksheet_merge_range (book->sheet[page].ws, row, (lxw_col_t) first_col, row, (lxw_col_t) last_col, "",
                                    book->look[look]),
             book->sheet[page].name);
}

void
book_paragraph (Book *book, BookPage page, guint32 row, int last_col, BookLook look, const char *text)
{
  if (!text || !*text)
    return;
  set_height (book, page, row, last_col, look, text);
  join_columns (book, page, row, 0, last_col, look);
  put_text (book, page, row, 0, look, text);
}

void
book_wide_head (Book *book, BookPage page, guint32 row, int first_col, int last_col, const char *text)
{
  join_columns (book, page, row, first_col, last_col, AS_HEAD);
  put_text (book, page, row, first_col, AS_HEAD, text);
}

/* A piece of a sentence as a text constant of a formula. */
static void
append_constant (GString *formula, const char *text, gsize length)
{
  if (formula->len > 0)
    g_string_append_c (formula, '&');
  g_string_append_c (formula, '"');
  for (gsize i = 0; i < length; i++)
    {
      g_string_append_c (formula, text[i]);
      if (text[i] == '"')
        g_string_append_c (formula, '"');
    }
  g_string_append_c (formula, '"');
}

void
book_sentence (Book *book, BookPage page, guint32 row, int last_col, BookLook look, const char *template,
               const char *const *formulas, const char *const *values)
{
  g_autoptr (GString) formula = g_string_new (NULL), value = g_string_new (NULL);
  const char *rest = template, *gap;

  for (int i = 0; (gap = strstr (rest, "{}")) != NULL && formulas[i]; i++)
    {
      if (gap > rest)
        append_constant (formula, rest, (gsize) (gap - rest));
      g_string_append_printf (formula, "%s%s", formula->len > 0 ? "&" : "", formulas[i]);
      g_string_append_len (value, rest, gap - rest);
      g_string_append (value, values[i]);
      rest = gap + 2;
    }
  if (*rest)
    append_constant (formula, rest, strlen (rest));
  g_string_append (value, rest);
  set_height (book, page, row, last_col, look, value->str);
  join_columns (book, page, row, 0, last_col, look);
  book_formula_text (book, page, row, 0, look, g_strdup (formula->str), value->str);
}

/* ---- sheets ---- */

void
book_heads (Book *book, BookPage page, guint32 row, const char *const *heads)
{
  for (int i = 0; heads[i]; i++)
    {
      gboolean right = heads[i][0] == '>';
      /* The figures below keep a narrow gap at the right, and so does their heading. */
      if (right)
        book_textf (book, page, row, i, AS_HEAD_RIGHT, "%s\u00a0", heads[i] + 1);
      else if (heads[i][0])
        book_text (book, page, row, i, AS_HEAD, heads[i]);
      else
        book_blank (book, page, row, i, AS_HEAD);
    }
}

void
book_widths (Book *book, BookPage page, const double *widths, gsize n)
{
  for (gsize i = 0; i < n; i++)
    {
      book->sheet[page].width[i] = widths[i];
      book_fail (book, worksheet_set_column (book->sheet[page].ws, (lxw_col_t) i, (lxw_col_t) i, widths[i], NULL),
                 book->sheet[page].name);
    }
}

/* Text of a page head or foot, where & starts a command. */
static char *
page_words (Book *book, const char *text, glong most)
{
  g_autoptr (GString) scratch = g_string_new (NULL);
  const char *clean = workbook_clean_text (text, scratch);
  g_autofree char *cut = g_utf8_substring (clean, 0, MIN (most, g_utf8_strlen (clean, -1)));
  g_auto (GStrv) parts = g_strsplit (cut, "&", -1);

  (void) book;
  return g_strjoinv ("&&", parts);
}

void
book_page (Book *book, BookPage page, gboolean landscape, int head_row, int frozen_cols)
{
  BookSheet *sheet = &book->sheet[page];
  const JobRecord *head = job_head (book->job);
  g_autofree char *name = page_words (book, head->text[HEAD_NAME], 90);
  g_autofree char *title = page_words (book, sheet->name, 40);
  g_autofree char *top = g_strdup_printf ("&L%s&R%s", name, title);
  g_autofree char *bottom = g_strdup_printf ("&L%s &R%s", "Seamtally " SEAMTALLY_VERSION, _ ("Page &P of &N"));

  worksheet_set_paper (sheet->ws, book->metric ? 9 : 1);
  if (landscape)
    worksheet_set_landscape (sheet->ws);
  worksheet_set_margins (sheet->ws, 0.5, 0.5, 0.75, 0.75);
  worksheet_fit_to_pages (sheet->ws, 1, 0);
  book_fail (book, worksheet_set_header (sheet->ws, top), sheet->name);
  book_fail (book, worksheet_set_footer (sheet->ws, bottom), sheet->name);
  if (head_row >= 0)
    {
      worksheet_freeze_panes (sheet->ws, (lxw_row_t) head_row + 1, (lxw_col_t) frozen_cols);
      book_fail (book, worksheet_repeat_rows (sheet->ws, (lxw_row_t) head_row, (lxw_row_t) head_row), sheet->name);
    }
}

void
book_limit_input (Book *book, BookPage page, guint32 row, int col, double least, double below)
{
  lxw_data_validation limit = {
    .validate = LXW_VALIDATION_TYPE_DECIMAL,
    .criteria = LXW_VALIDATION_CRITERIA_BETWEEN,
    .minimum_number = least,
    .maximum_number = below,
    .error_type = LXW_VALIDATION_ERROR_TYPE_STOP,
  };

  book_fail (book, worksheet_data_validation_cell (book->sheet[page].ws, row, (lxw_col_t) col, &limit),
             book->sheet[page].name);
}

/* ---- references and names ---- */

static char *
sheet_prefix (Book *book, BookPage from, BookPage page)
{
  g_auto (GStrv) parts = NULL;
  g_autofree char *doubled = NULL;

  if (from == page)
    return g_strdup ("");
  parts = g_strsplit (book->sheet[page].name, "'", -1);
  doubled = g_strjoinv ("''", parts);
  return g_strdup_printf ("'%s'!", doubled);
}

char *
book_ref (Book *book, BookPage from, BookPage page, guint32 row, int col)
{
  g_autofree char *prefix = sheet_prefix (book, from, page);

  return g_strdup_printf ("%s$%c$%u", prefix, 'A' + col, row + 1);
}

char *
book_range (Book *book, BookPage from, BookPage page, guint32 first_row, guint32 last_row, int col)
{
  g_autofree char *prefix = sheet_prefix (book, from, page);

  return g_strdup_printf ("%s$%c$%u:$%c$%u", prefix, 'A' + col, first_row + 1, 'A' + col, last_row + 1);
}

/* One to three letters and then digits only are a cell; R, C and what starts with them and digits a cell of the other
 * style. */
static gboolean
looks_like_cell (const char *name)
{
  gsize letters = strspn (name, "abcdefghijklmnopqrstuvwxyz"), digits = strspn (name + letters, "0123456789");

  if (letters <= 3 && digits > 0 && name[letters + digits] == '\0')
    return TRUE;
  if (name[0] == 'r' || name[0] == 'c')
    return name[1] == '\0' || (strspn (name, "rc0123456789") == strlen (name));
  return strcmp (name, "true") == 0 || strcmp (name, "false") == 0;
}

char *
workbook_name (const char *key)
{
  g_autoptr (GString) name = g_string_new (NULL);

  for (const char *p = key ? key : ""; *p && name->len < 100; p++)
    if (g_ascii_isalnum (*p))
      g_string_append_c (name, g_ascii_tolower (*p));
    else if (name->len > 0 && name->str[name->len - 1] != '_')
      g_string_append_c (name, '_');
  if (name->len == 0 || g_ascii_isdigit (name->str[0]) || looks_like_cell (name->str))
    g_string_prepend (name, "figure_");
  return g_string_free (g_steal_pointer (&name), FALSE);
}

void
book_define (Book *book, const char *key, BookPage page, guint32 row, int col)
{
  g_autofree char *stem = workbook_name (key), *cell = book_ref (book, BOOK_N_SHEETS, page, row, col);
  g_autofree char *formula = g_strconcat ("=", cell, NULL);
  char *name = g_strdup (stem);

  for (int n = 2; g_hash_table_contains (book->names, name); n++)
    {
      g_free (name);
      name = g_strdup_printf ("%s_no_%d", stem, n);
    }
  book_fail (book, workbook_define_name (book->book, name, formula), name);
  g_hash_table_add (book->names, name);
}

/* ---- figures in words ---- */

double
book_minor (const Book *book, gint64 minor)
{
  static const double unit[] = { 1, 10, 100, 1000, 10000 };

  return (double) minor / unit[book->decimals];
}

char *
book_money_words (const Book *book, gint64 minor)
{
  return money_print (minor, book->decimals, TRUE);
}

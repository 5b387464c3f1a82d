/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>
#include <stdlib.h>
#include <string.h>

#define GREY 0xE7E9EC
#define INPUT 0xFFF4C2
#define DARK_RED 0x9C1C1C
#define QUIET 0x555555
#define LINE 0x8A9099

/* 2000-01-01: a bid's bytes must not hang on the day it is written. */
#define FIXED_TIME ((time_t) 946684800)

enum
{
  BOLD = 1,
  GAP = 2,
  WRAP = 4,
  RIGHT = 8,
  TOP_LINE = 16,
  BOTTOM_LINE = 32,
  BOX = 64,
  AT_TOP = 128
};

/* "money" stands for the currency's decimals, filled in when the looks are made. */
static const struct
{
  guint flags;
  const char *number;
  guint32 ground, ink;
  double size;
} looks[AS_N_LOOKS] = {
  [AS_TEXT] = { AT_TOP, "@", 0, 0, 0 },
  [AS_WRAP] = { WRAP | AT_TOP, NULL, 0, 0, 0 }, /* "@" shows over 255 characters as ### */
  [AS_TEXT_RIGHT] = { RIGHT | GAP | AT_TOP, "@", 0, 0, 0 },
  [AS_BOLD] = { BOLD, NULL, 0, 0, 0 },
  [AS_TITLE] = { BOLD, NULL, 0, 0, 16 },
  [AS_LEAD] = { WRAP | AT_TOP, NULL, 0, 0, 13 },
  [AS_NOTE] = { WRAP | AT_TOP, NULL, 0, QUIET, 0 },
  [AS_WARNING] = { BOLD | WRAP | AT_TOP, NULL, 0, DARK_RED, 0 },
  [AS_LEGEND] = { WRAP | BOX | AT_TOP, NULL, INPUT, 0, 0 },
  [AS_HEAD] = { BOLD | WRAP | BOTTOM_LINE, NULL, GREY, 0, 0 },
  [AS_HEAD_RIGHT] = { BOLD | WRAP | BOTTOM_LINE | RIGHT, NULL, GREY, 0, 0 },
  [AS_WHOLE] = { AT_TOP, "#,##0_)", 0, 0, 0 },
  [AS_COUNT] = { AT_TOP, "General_)", 0, 0, 0 }, /* "0.###" would show a whole number as "3." */
  [AS_QUANTITY] = { AT_TOP, "#,##0.00_)", 0, 0, 0 },
  [AS_WEIGHT] = { AT_TOP, "#,##0.0_)", 0, 0, 0 },
  [AS_HOURS] = { AT_TOP, "#,##0.00_)", 0, 0, 0 },
  [AS_MONEY] = { AT_TOP, "money", 0, 0, 0 },
  [AS_MONEY_BOLD] = { BOLD, "money", 0, 0, 13 },
  [AS_EXACT] = { AT_TOP, "#,##0.0000_)", 0, QUIET, 0 },
  [AS_UNIT_PRICE] = { AT_TOP, "#,##0.00??_)", 0, 0, 0 },
  [AS_PERCENT] = { AT_TOP, "0.00##%_)", 0, 0, 0 },
  [AS_INPUT_PRICE] = { BOX | AT_TOP, "#,##0.00??_)", INPUT, 0, 0 },
  [AS_INPUT_PERCENT] = { BOX | AT_TOP, "0.00##%_)", INPUT, 0, 0 },
  [AS_INPUT_MONEY] = { BOX | AT_TOP, "#,##0.00??_)", INPUT, 0, 0 },
  [AS_TOTAL_TEXT] = { BOLD | TOP_LINE | AT_TOP, NULL, 0, 0, 0 },
  [AS_TOTAL_WRAP] = { WRAP | TOP_LINE | AT_TOP, NULL, 0, 0, 0 },
  [AS_TOTAL_COUNT] = { BOLD | TOP_LINE | AT_TOP, "#,##0_)", 0, 0, 0 },
  [AS_TOTAL_WEIGHT] = { BOLD | TOP_LINE | AT_TOP, "#,##0.0_)", 0, 0, 0 },
  [AS_TOTAL_HOURS] = { BOLD | TOP_LINE | AT_TOP, "#,##0.00_)", 0, 0, 0 },
  [AS_TOTAL_MONEY] = { BOLD | TOP_LINE | AT_TOP, "money", 0, 0, 0 },
  [AS_TOTAL_EXACT] = { BOLD | TOP_LINE | AT_TOP, "#,##0.0000_)", 0, QUIET, 0 },
};

static const char *const sheet_names[BOOK_N_SHEETS] = {
  N_ ("Price"),
  N_ ("Build-up"),
  N_ ("Runs"),
  N_ ("Materials"),
  N_ ("Minutes"),
  N_ ("Methods"),
  N_ ("Construction"),
  N_ ("Sources and cautions"),
};

static lxw_format *
make_look (Book *book, BookLook look, const char *money)
{
  lxw_format *format = workbook_add_format (book->book);
  guint flags = looks[look].flags;

  if (flags & BOLD)
    format_set_bold (format);
  if (flags & WRAP)
    format_set_text_wrap (format);
  format_set_align (format, flags & AT_TOP ? LXW_ALIGN_VERTICAL_TOP : LXW_ALIGN_VERTICAL_CENTER);
  if (flags & RIGHT)
    format_set_align (format, LXW_ALIGN_RIGHT);
  if (flags & GAP)
    format_set_indent (format, 1);
  if (flags & BOX)
    format_set_border (format, LXW_BORDER_HAIR);
  if (flags & TOP_LINE)
    format_set_top (format, LXW_BORDER_THIN);
  if (flags & BOTTOM_LINE)
    format_set_bottom (format, LXW_BORDER_THIN);
  if (flags & (BOX | TOP_LINE | BOTTOM_LINE))
    format_set_border_color (format, LINE);
  if (looks[look].number)
    format_set_num_format (format, strcmp (looks[look].number, "money") == 0 ? money : looks[look].number);
  if (looks[look].ground)
    format_set_bg_color (format, looks[look].ground);
  if (looks[look].ink)
    format_set_font_color (format, looks[look].ink);
  if (looks[look].size > 0)
    format_set_font_size (format, looks[look].size);
  return format;
}

/* The time that the file says it was made: what the environment asks for, for reproducible files, else a fixed one. */
static time_t
made_time (void)
{
  const char *wish = g_getenv ("SOURCE_DATE_EPOCH");
  gint64 seconds;

  if (wish && g_ascii_string_to_signed (wish, 10, 1, G_GINT64_CONSTANT (253402300799), &seconds, NULL))
    return (time_t) seconds;
  return FIXED_TIME;
}

static void
set_properties (Book *book)
{
  g_autoptr (GString) scratch = g_string_new (NULL);
  const char *name = workbook_clean_text (job_head (book->job)->text[HEAD_NAME], scratch);
  g_autofree char *title = g_utf8_substring (name, 0, MIN (200, g_utf8_strlen (name, -1)));
  g_autofree char *subject = g_strdup (_ ("Bid of a sheet-metal duct job"));
  g_autofree char *comments = g_strdup_printf (_ ("Written by Seamtally %s"), SEAMTALLY_VERSION);
  lxw_doc_properties properties = {
    .title = title,
    .subject = subject,
    .comments = comments,
    .created = made_time (),
  };

  book_fail (book, workbook_set_properties (book->book, &properties), _ ("properties"));
}

/* A translated name that the library would refuse gives way to the untranslated one. */
static const char *
sheet_name (Book *book, BookPage page)
{
  const char *name = _ (sheet_names[page]);

  if (!g_utf8_validate (name, -1, NULL) || workbook_validate_sheet_name (book->book, name) != LXW_NO_ERROR)
    return sheet_names[page];
  return name;
}

gboolean
book_open (Book *book, const char *part, const char *folder)
{
  g_autofree char *tmpdir = g_strdup (folder), *money = NULL;
  lxw_workbook_options options = { .constant_memory = LXW_TRUE, .tmpdir = tmpdir, .use_zip64 = LXW_FALSE };

  book->book = workbook_new_opt (part, &options);
  if (!book->book)
    return FALSE;
  money = book->decimals == 0 ? g_strdup ("#,##0_)") : g_strdup_printf ("#,##0.%.*s_)", book->decimals, "0000");
  for (int i = 0; i < AS_N_LOOKS; i++)
    book->look[i] = make_look (book, (BookLook) i, money);
  for (int i = 0; i < BOOK_N_SHEETS; i++)
    {
      BookSheet *sheet = &book->sheet[i];
      sheet->name = sheet_name (book, (BookPage) i);
      sheet->last_row = -1;
      sheet->ws = workbook_add_worksheet (book->book, sheet->name);
      if (!sheet->ws)
        return FALSE;
      worksheet_gridlines (sheet->ws, LXW_HIDE_ALL_GRIDLINES);
    }
  set_properties (book);
  return TRUE;
}

double
book_mass (const Book *book, gint64 mg)
{
  return book->metric ? (double) mg / 1e6 : (double) mg / MEASURE_MG_PER_LB;
}

const char *
book_mass_unit (const Book *book)
{
  return book->metric ? _ ("kg") : _ ("lb");
}

const char *
book_length_unit (const Book *book)
{
  return book->metric ? _ ("m") : _ ("ft");
}

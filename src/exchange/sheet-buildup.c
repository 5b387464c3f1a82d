/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* The build-up is data: its lines are walked once by the program for the values and once here for the formulas. */

enum
{
  COL_LABEL,
  COL_HOW,
  COL_RATE = BOOK_BUILDUP_RATE,
  COL_VALUE = BOOK_BUILDUP_VALUE,
  COL_SOURCE,
  COL_STATUS,
  N_COLS
};
enum
{
  ROW_TITLE,
  ROW_NOTE,
  ROW_LEGEND,
  ROW_HEAD = BOOK_BUILDUP_FIRST - 1
};

static const CostBuildLine *
line_at (const Book *book, guint i)
{
  return g_ptr_array_index (book->basis->buildup, i);
}

guint32
book_crew_row (const Book *book, int crew)
{
  /* a blank row, a heading, the heads */
  return BOOK_BUILDUP_FIRST + book->basis->buildup->len + 3 + (guint32) crew;
}

const char *
book_table_cell (const Book *book, CatalogueSheet sheet, const char *key_heading, const char *key, const char *heading)
{
  const CsvTable *table = book->catalogue->table[sheet];
  int key_column = csv_column (table, key_heading), column = csv_column (table, heading);

  for (guint row = 0; key_column >= 0 && row < table->row->len; row++)
    if (strcmp (csv_cell (table, row, key_column), key) == 0)
      return csv_cell (table, row, column);
  return "";
}

/* "Material + Sales tax" */
static char *
ref_labels (const Book *book, const CostBuildLine *line)
{
  GString *words = g_string_new (NULL);

  for (guint i = 0; i < line->refs->len; i++)
    g_string_append_printf (words, "%s%s", i > 0 ? " + " : "",
                            line_at (book, (guint) g_array_index (line->refs, int, i))->label);
  return g_string_free (words, FALSE);
}

static char *
how_words (const Book *book, const CostBuildLine *line)
{
  g_autofree char *of = ref_labels (book, line);

  switch (line->op)
    {
    case COST_OP_ITEMS:
      return g_strdup_printf (_ ("quantity x price, sheet “%s”"), book->sheet[BOOK_MATERIALS].name);
    case COST_OP_LABOUR:
      return g_strdup_printf (_ ("hours x rate, sheet “%s”"), book->sheet[BOOK_MINUTES].name);
    case COST_OP_RATE:
      return g_strdup_printf (_ ("rate on %s"), of);
    case COST_OP_MARKUP:
      return g_strdup_printf (_ ("markup, a share of %s"), of);
    case COST_OP_MARGIN:
      return g_strdup_printf (_ ("margin, a share of the price that includes it, on %s"), of);
    case COST_OP_AMOUNT:
      return g_strdup (_ ("amount"));
    case COST_OP_SUM:
    default:
      return g_steal_pointer (&of);
    }
}

/* "D6+D7", "0" for nothing. */
static char *
ref_sum (Book *book, const CostBuildLine *line)
{
  g_autoptr (GString) sum = g_string_new (NULL);

  for (guint i = 0; i < line->refs->len; i++)
    {
      g_autofree char *cell = book_ref (book, BOOK_BUILDUP, BOOK_BUILDUP,
                                        BOOK_BUILDUP_FIRST + (guint32) g_array_index (line->refs, int, i), COL_VALUE);
      g_string_append_printf (sum, "%s%s", i > 0 ? "+" : "", cell);
    }
  return g_strdup (sum->len > 0 ? sum->str : "0");
}

static char *
items_formula (Book *book, int group)
{
  g_autofree char *range = NULL;

  if (book->items_first[group] < 0)
    return g_strdup ("0");
  range = book_range (book, BOOK_BUILDUP, BOOK_MATERIALS, (guint32) book->items_first[group],
                      (guint32) book->items_last[group], BOOK_ITEMS_EXACT);
  return g_strdup_printf ("ROUND(SUM(%s),%d)", range, book->decimals);
}

static char *
labour_formula (Book *book, int side)
{
  guint32 first = (guint32) book->labour_first[side], last = (guint32) book->labour_last[side];
  g_autofree char *hours = NULL, *rates = NULL;

  if (book->labour_first[side] < 0)
    return g_strdup ("0");
  hours = book_range (book, BOOK_BUILDUP, BOOK_MINUTES, first, last, BOOK_MINUTES_HOURS);
  rates = book_range (book, BOOK_BUILDUP, BOOK_MINUTES, first, last, BOOK_MINUTES_RATE);
  return g_strdup_printf ("ROUND(SUMPRODUCT(%s,%s),%d)", hours, rates, book->decimals);
}

static char *
line_formula (Book *book, const CostBuildLine *line, guint32 row)
{
  g_autofree char *rate = book_ref (book, BOOK_BUILDUP, BOOK_BUILDUP, row, COL_RATE), *sum = ref_sum (book, line);

  switch (line->op)
    {
    case COST_OP_ITEMS:
      return items_formula (book, line->which);
    case COST_OP_LABOUR:
      return labour_formula (book, line->which);
    case COST_OP_RATE:
    case COST_OP_MARKUP:
      return g_strdup_printf ("ROUND((%s)*%s,%d)", sum, rate, book->decimals);
    case COST_OP_MARGIN:
      return g_strdup_printf ("ROUND((%s)*%s/(1-%s),%d)", sum, rate, rate, book->decimals);
    case COST_OP_AMOUNT:
      return g_strdup_printf ("ROUND(%s,%d)", rate, book->decimals);
    case COST_OP_SUM:
    default:
      /* Sums of rounded lines; rounded again only against the noise of binary fractions. */
      return g_strdup_printf ("ROUND(%s,%d)", sum, book->decimals);
    }
}

static void
write_rate (Book *book, const CostBuildLine *line, guint32 row)
{
  g_autofree char *name = g_strconcat (line->key, line->op == COST_OP_AMOUNT ? "_amount" : "_rate", NULL);

  if (line->op == COST_OP_AMOUNT)
    book_number (book, BOOK_BUILDUP, row, COL_RATE, AS_INPUT_MONEY, (double) line->amount / 1e4);
  else if (line->op == COST_OP_RATE || line->op == COST_OP_MARKUP || line->op == COST_OP_MARGIN)
    {
      book_number (book, BOOK_BUILDUP, row, COL_RATE, AS_INPUT_PERCENT, (double) line->rate_ppm / 1e6);
      book_limit_input (book, BOOK_BUILDUP, row, COL_RATE, -1, line->op == COST_OP_MARGIN ? 0.99 : 10);
    }
  else
    return;
  book_define (book, name, BOOK_BUILDUP, row, COL_RATE);
}

static void
write_lines (Book *book)
{
  for (guint i = 0; i < book->basis->buildup->len; i++)
    {
      const CostBuildLine *line = line_at (book, i);
      guint32 row = BOOK_BUILDUP_FIRST + i;
      gboolean sum = line->op == COST_OP_SUM;
      g_autofree char *how = how_words (book, line);
      book_text (book, BOOK_BUILDUP, row, COL_LABEL, sum ? AS_TOTAL_TEXT : AS_TEXT, line->label);
      book_text (book, BOOK_BUILDUP, row, COL_HOW, sum ? AS_TOTAL_WRAP : AS_WRAP, how);
      if (sum)
        book_blank (book, BOOK_BUILDUP, row, COL_RATE, AS_TOTAL_TEXT);
      write_rate (book, line, row);
      book_formula (book, BOOK_BUILDUP, row, COL_VALUE, sum ? AS_TOTAL_MONEY : AS_MONEY, line_formula (book, line, row),
                    book_minor (book, book->buildup->value[i]));
      book_define (book, line->key, BOOK_BUILDUP, row, COL_VALUE);
      book_text (book, BOOK_BUILDUP, row, COL_SOURCE, AS_WRAP,
                 book_table_cell (book, CATALOGUE_BUILDUP, "line", line->key, "source"));
      book_text (book, BOOK_BUILDUP, row, COL_STATUS, AS_TEXT,
                 book_table_cell (book, CATALOGUE_BUILDUP, "line", line->key, "status"));
    }
}

/* One input cell a crew; the Minutes sheet multiplies with it. */
static void
write_crews (Book *book)
{
  const GPtrArray *crews = book->catalogue->labour->crews;
  g_autofree char *rate = g_strconcat (">", _ ("Rate"), NULL);
  const char *heads[] = { _ ("Crew"), _ ("Where"), rate, "", _ ("Source"), _ ("Status"), NULL };
  guint32 row = book_crew_row (book, 0);

  book_text (book, BOOK_BUILDUP, row - 2, COL_LABEL, AS_BOLD, _ ("Rates of a worker-hour"));
  book_heads (book, BOOK_BUILDUP, row - 1, heads);
  for (guint i = 0; i < crews->len; i++, row++)
    {
      const LabourCrew *crew = g_ptr_array_index (crews, i);
      g_autofree char *name = g_strconcat ("rate_", crew->key, NULL);
      book_text (book, BOOK_BUILDUP, row, COL_LABEL, AS_TEXT, crew->key);
      book_text (book, BOOK_BUILDUP, row, COL_HOW, AS_TEXT, crew->shop ? _ ("shop") : _ ("field"));
      book_number (book, BOOK_BUILDUP, row, COL_RATE, AS_INPUT_PRICE, (double) book->basis->rate[i] / 1e4);
      book_limit_input (book, BOOK_BUILDUP, row, COL_RATE, 0, 1e6);
      book_define (book, name, BOOK_BUILDUP, row, COL_RATE);
      book_text (book, BOOK_BUILDUP, row, COL_SOURCE, AS_WRAP, crew->source);
      book_text (book, BOOK_BUILDUP, row, COL_STATUS, AS_TEXT, crew->status);
    }
}

void
book_write_buildup (Book *book)
{
  static const double widths[N_COLS] = { 28, 46, 18, 16, 28, 16 };
  g_autofree char *rate = g_strconcat (">", _ ("Rate or amount"), NULL);
  g_autofree char *value = g_strdup_printf (">%s, %s", _ ("Value"), book->currency);
  const char *heads[] = { _ ("Line"), _ ("How"), rate, value, _ ("Source of the rate"), _ ("Status"), NULL };

  book_widths (book, BOOK_BUILDUP, widths, N_COLS);
  book_text (book, BOOK_BUILDUP, ROW_TITLE, COL_LABEL, AS_TITLE, _ ("Build-up"));
  book_paragraph (
      book, BOOK_BUILDUP, ROW_NOTE, N_COLS - 1, AS_NOTE,
      _ ("From cost to price. Every line is rounded once, halves away from zero; later lines are sums or rates of "
         "rounded lines."));
  book_text (book, BOOK_BUILDUP, ROW_LEGEND, COL_LABEL, AS_LEGEND, _ ("Boxed yellow cells are yours"));
  book_text (book, BOOK_BUILDUP, ROW_LEGEND, COL_HOW, AS_BOLD,
             _ ("Change a rate or an amount there and the price follows."));
  book_heads (book, BOOK_BUILDUP, ROW_HEAD, heads);
  write_lines (book);
  write_crews (book);
  book_page (book, BOOK_BUILDUP, TRUE, ROW_HEAD, 1);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "base/money.h"

#include <glib/gi18n-lib.h>

/* Quantity x price of every item. The quantity is the exact total of the job; the price is an input cell, and the build-up
 * takes its money from here. The printed amounts are differences of the rounded running sum, so that they add up to the
 * rounded total whatever is changed. */

enum
{
  COL_ITEM,
  COL_UNIT,
  COL_QUANTITY,
  COL_PRICE,
  COL_OVERAGE,
  COL_EXACT = BOOK_ITEMS_EXACT,
  COL_SO_FAR,
  COL_PRINTED,
  COL_SOURCE,
  COL_STATUS,
  N_COLS
};

enum
{
  ROW_TITLE,
  ROW_NOTE,
  ROW_LEGEND,
  ROW_HEAD,
  ROW_FIRST
};

static const char *const group_names[COST_N_GROUPS] = { N_ ("Material"), N_ ("Rental"), N_ ("Bought once") };

static int
compare_groups (gconstpointer a, gconstpointer b)
{
  return (int) ((const BookItem *) a)->group - (int) ((const BookItem *) b)->group;
}

/* Items with a quantity, in the catalogue's order, then counted lines with a price of their own; groups together. */
static GArray *
collect_items (Book *book)
{
  GArray *items = g_array_new (FALSE, FALSE, sizeof (BookItem));

  for (int i = 0; i < book->basis->n_items; i++)
    {
      const CostItem *item = catalogue_item (book->catalogue, i);
      BookItem line = { item->key,
                        item->unit,
                        book->totals.vector[i],
                        book->basis->price[i],
                        book->basis->overage_ppm[i],
                        (NumWide) book->totals.vector[i] * book->basis->price[i],
                        item->group,
                        item->source,
                        duct_status_key (item->status) };
      if (line.quantity != 0)
        g_array_append_val (items, line);
    }
  g_array_append_vals (items, book->own->data, book->own->len);
  g_array_sort (items, compare_groups); /* stable since GLib 2.32: the order within a group is kept */
  return items;
}

static void
write_item (Book *book, const BookItem *item, guint32 row, guint32 first, NumWide before)
{
  const BookPage page = BOOK_MATERIALS;
  g_autofree char *quantity = book_ref (book, page, page, row, COL_QUANTITY);
  g_autofree char *price = book_ref (book, page, page, row, COL_PRICE);
  g_autofree char *exact = book_ref (book, page, page, row, COL_EXACT);
  g_autofree char *so_far = book_ref (book, page, page, row, COL_SO_FAR);
  g_autofree char *above = row > first ? book_ref (book, page, page, row - 1, COL_SO_FAR) : NULL;
  gint64 printed = money_round (before + item->exact, book->decimals) - money_round (before, book->decimals);

  book_text (book, page, row, COL_ITEM, AS_TEXT, item->label);
  book_text (book, page, row, COL_UNIT, AS_TEXT, item->unit);
  book_number (book, page, row, COL_QUANTITY, AS_QUANTITY, (double) item->quantity / 1e6);
  book_number (book, page, row, COL_PRICE, AS_INPUT_PRICE, (double) item->price / 1e4);
  book_limit_input (book, page, row, COL_PRICE, 0, 1e9);
  book_number (book, page, row, COL_OVERAGE, AS_PERCENT, (double) item->overage_ppm / 1e6);
  book_formula (book, page, row, COL_EXACT, AS_EXACT, g_strdup_printf ("%s*%s", quantity, price),
                num_wide_to_double (item->exact) / 1e10);
  book_formula (book, page, row, COL_SO_FAR, AS_EXACT,
                above ? g_strdup_printf ("%s+%s", above, exact) : g_strdup (exact),
                num_wide_to_double (before + item->exact) / 1e10);
  book_formula (book, page, row, COL_PRINTED, AS_MONEY,
                above ? g_strdup_printf ("ROUND(ROUND(%s,%d)-ROUND(%s,%d),%d)", so_far, book->decimals, above,
                                         book->decimals, book->decimals)
                      : g_strdup_printf ("ROUND(%s,%d)", so_far, book->decimals),
                book_minor (book, printed));
  book_text (book, page, row, COL_SOURCE, AS_WRAP, item->source);
  book_text (book, page, row, COL_STATUS, AS_TEXT, item->status);
}

/* One group with its total; gives the next free row. */
static guint32
write_group (Book *book, const GArray *items, CostGroup group, guint32 row)
{
  const BookPage page = BOOK_MATERIALS;
  guint32 first = row + 1;
  NumWide sum = 0;

  for (guint i = 0; i < items->len && !book->error; i++)
    {
      const BookItem *item = &g_array_index (items, BookItem, i);
      if (item->group != group)
        continue;
      if (book->items_first[group] < 0)
        {
          book_text (book, page, row++, COL_ITEM, AS_BOLD, _ (group_names[group]));
          book->items_first[group] = first;
        }
      write_item (book, item, row, first, sum);
      sum += item->exact;
      book->items_last[group] = row++;
    }
  if (book->items_first[group] < 0)
    return row;
  g_autofree char *range = book_range (book, page, page, first, row - 1, COL_EXACT);
  for (int col = COL_ITEM; col < N_COLS; col++)
    if (col == COL_ITEM)
      book_textf (book, page, row, col, AS_TOTAL_TEXT, _ ("%s, total"), _ (group_names[group]));
    else if (col == COL_EXACT)
      book_formula (book, page, row, col, AS_TOTAL_EXACT, g_strdup_printf ("SUM(%s)", range),
                    num_wide_to_double (sum) / 1e10);
    else if (col == COL_PRINTED)
      book_formula (book, page, row, col, AS_TOTAL_MONEY, g_strdup_printf ("ROUND(SUM(%s),%d)", range, book->decimals),
                    book_minor (book, money_round (sum, book->decimals)));
    else
      book_blank (book, page, row, col, AS_TOTAL_TEXT);
  return row + 2;
}

void
book_write_materials (Book *book)
{
  static const double widths[N_COLS] = { 34, 8, 14, 12, 10, 15, 15, 14, 34, 16 };
  g_autofree char *quantity = g_strconcat (">", _ ("Quantity"), NULL),
                  *price = g_strconcat (">", _ ("Price a unit"), NULL);
  g_autofree char *overage = g_strconcat (">", _ ("Overage in the quantity"), NULL);
  g_autofree char *exact = g_strconcat (">", _ ("Amount, exact"), NULL);
  g_autofree char *so_far = g_strconcat (">", _ ("Sum so far, exact"), NULL);
  g_autofree char *printed = g_strconcat (">", _ ("Amount, as printed"), NULL);
  const char *heads[] = { _ ("Item"),   _ ("Unit"), quantity,
                          price,        overage,    exact,
                          so_far,       printed,    _ ("Source of the price"),
                          _ ("Status"), NULL };
  g_autoptr (GArray) items = collect_items (book);
  guint32 row = ROW_FIRST;

  book_widths (book, BOOK_MATERIALS, widths, N_COLS);
  book_text (book, BOOK_MATERIALS, ROW_TITLE, COL_ITEM, AS_TITLE, _ ("Materials"));
  book_paragraph (book, BOOK_MATERIALS, ROW_NOTE, N_COLS - 1, AS_NOTE,
                  _ ("Quantities are the exact totals of all runs, overage included. Each amount is the rounded sum so "
                     "far less the "
                     "rounded sum before, so that the printed amounts add up to the total."));
  book_text (book, BOOK_MATERIALS, ROW_LEGEND, COL_ITEM, AS_LEGEND, _ ("Boxed yellow cells are yours"));
  book_text (book, BOOK_MATERIALS, ROW_LEGEND, COL_UNIT, AS_BOLD,
             _ ("Change a price there and the price of the bid follows."));
  book_heads (book, BOOK_MATERIALS, ROW_HEAD, heads);
  for (int g = 0; g < COST_N_GROUPS; g++)
    row = write_group (book, items, (CostGroup) g, row);
  book_page (book, BOOK_MATERIALS, TRUE, ROW_HEAD, 1);
}

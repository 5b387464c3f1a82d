/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "base/money.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* The whole job by each method beside the baseline, as computed. */

#define PAGE BOOK_METHODS
#define CHART_ROWS 18
#define MOST_EVENS 6 /* a method; largest effect first */

enum
{
  COL_METHOD,
  COL_PIECES,
  COL_JOINTS,
  COL_NET,
  COL_SHIPPED,
  COL_SHOP,
  COL_FIELD,
  COL_JOINT_MINUTES,
  COL_JOINT_HARDWARE,
  COL_MATERIAL,
  COL_COST,
  COL_PRICE,
  COL_DIFFERENCE,
  COL_ONCE,
  COL_NOT_PRICED,
  N_COLS
};

enum
{
  ROW_TITLE,
  ROW_LEAD,
  ROW_NOTE,
  ROW_HEAD,
  ROW_FIRST
};

typedef struct
{
  JobTotals totals;
  CostOption option;
} Column;

static void
clear_column (gpointer data)
{
  Column *column = data;

  cost_option_clear (&column->option);
  job_totals_clear (&column->totals);
}

static GArray *
collect (Book *book)
{
  GArray *columns = g_array_sized_new (FALSE, TRUE, sizeof (Column), (guint) book->n_methods);
  JobScope whole = { 0, 0 };

  g_array_set_clear_func (columns, clear_column);
  g_array_set_size (columns, (guint) book->n_methods);
  for (guint i = 0; i < columns->len; i++)
    {
      Column *column = &g_array_index (columns, Column, i);
      job_totals (book->job, &whole, book->methods[i], &column->totals);
      cost_option_init (&column->option, book->basis, book->methods[i], &column->totals.sums, column->totals.vector,
                        book->decimals);
    }
  return columns;
}

static const char *
method_name (const Book *book, int method)
{
  return method < 0 ? _ ("each run by its own method") : catalogue_method (book->catalogue, method)->name;
}

static guint
baseline_index (const Book *book)
{
  for (guint i = 0; i < book->n_methods; i++)
    if (book->methods[i] == book->baseline)
      return i;
  return 0;
}

/* "Cheapest: ..., 8,653.50 less cost than ...; tooling of 1,900.00 comes on top." */
static void
write_lead (Book *book, const GArray *columns, guint base)
{
  const Column *b = &g_array_index (columns, Column, base), *best = b;
  g_autofree char *words = NULL, *money = NULL, *once = NULL;

  for (guint i = 0; i < columns->len; i++)
    {
      const Column *c = &g_array_index (columns, Column, i);
      if (c->option.cost + c->option.once < best->option.cost + best->option.once
          && c->totals.not_priced == b->totals.not_priced)
        best = c;
    }
  money = book_money_words (book, b->option.cost + b->option.once - best->option.cost - best->option.once);
  if (best == b)
    words = g_strdup_printf (_ ("No method compared here costs less than %s, tooling included."),
                             method_name (book, b->option.method));
  else
    words = g_strdup_printf (_ ("%s costs least: %s %s less than %s, tooling included."),
                             method_name (book, best->option.method), money, book->currency,
                             method_name (book, b->option.method));
  book_paragraph (book, PAGE, ROW_LEAD, N_COLS - 1, AS_LEAD, words);
}

static void
write_heads (Book *book)
{
  const struct
  {
    const char *words, *unit;
  } heads[N_COLS] = {
    { _ ("Method"), NULL },
    { _ ("Pieces"), NULL },
    { _ ("Joints"), NULL },
    { _ ("Net"), book_mass_unit (book) },
    { _ ("Shipped"), book_mass_unit (book) },
    { _ ("Shop worker-hours"), NULL },
    { _ ("Field worker-hours"), NULL },
    { _ ("Worker-minutes a joint, on site"), NULL },
    { _ ("Hardware a joint"), NULL },
    { _ ("Material"), NULL },
    { _ ("Cost"), NULL },
    { _ ("Price"), NULL },
    { _ ("Cost less baseline"), NULL },
    { _ ("Tooling, once"), NULL },
    { _ ("Runs not priced"), NULL },
  };
  char *text[N_COLS + 1] = { NULL };

  for (int i = 0; i < N_COLS; i++)
    text[i] = g_strdup_printf ("%s%s%s%s", i > 0 ? ">" : "", heads[i].words, heads[i].unit ? ", " : "",
                               heads[i].unit ? heads[i].unit : "");
  book_heads (book, PAGE, ROW_HEAD, (const char *const *) text);
  for (int i = 0; i < N_COLS; i++)
    g_free (text[i]);
}

static void
write_option (Book *book, guint32 row, guint32 base_row, const Column *column, const Column *base)
{
  const CostOption *o = &column->option;
  g_autofree char *cost = book_ref (book, PAGE, PAGE, row, COL_COST),
                  *other = book_ref (book, PAGE, PAGE, base_row, COL_COST);

  if (row == base_row)
    book_textf (book, PAGE, row, COL_METHOD, AS_WRAP, _ ("%s (baseline)"), method_name (book, o->method));
  else
    book_text (book, PAGE, row, COL_METHOD, AS_WRAP, method_name (book, o->method));
  book_number (book, PAGE, row, COL_PIECES, AS_WHOLE, (double) o->pieces / 1000);
  book_number (book, PAGE, row, COL_JOINTS, AS_WHOLE, (double) o->joints / 1000);
  book_number (book, PAGE, row, COL_NET, AS_WEIGHT, book_mass (book, o->net_mg));
  book_number (book, PAGE, row, COL_SHIPPED, AS_WEIGHT, book_mass (book, o->shipped_mg));
  book_number (book, PAGE, row, COL_SHOP, AS_HOURS, o->shop_hours);
  book_number (book, PAGE, row, COL_FIELD, AS_HOURS, o->field_hours);
  book_number (book, PAGE, row, COL_JOINT_MINUTES, AS_HOURS, o->minutes_a_joint);
  book_number (book, PAGE, row, COL_JOINT_HARDWARE, AS_QUANTITY, o->hardware_a_joint);
  book_money (book, PAGE, row, COL_MATERIAL, AS_MONEY, o->material);
  book_money (book, PAGE, row, COL_COST, AS_MONEY, o->cost);
  book_money (book, PAGE, row, COL_PRICE, AS_MONEY, o->price);
  book_formula (book, PAGE, row, COL_DIFFERENCE, AS_MONEY,
                g_strdup_printf ("ROUND(%s-%s,%d)", cost, other, book->decimals),
                book_minor (book, o->cost - base->option.cost));
  book_money (book, PAGE, row, COL_ONCE, AS_MONEY, o->once);
  book_number (book, PAGE, row, COL_NOT_PRICED, AS_WHOLE, (double) column->totals.not_priced);
}

/* Bars of cost; each with its figure, so that nothing is told by length or colour alone. */
static void
insert_chart (Book *book, guint32 row, guint n)
{
  const char *sheet = book->sheet[PAGE].name;
  lxw_chart *chart = workbook_add_chart (book->book, LXW_CHART_BAR);
  lxw_chart_series *series = chart ? chart_add_series (chart, NULL, NULL) : NULL;
  lxw_chart_fill fill = { .color = 0x2F6E8F };
  lxw_chart_options options = { .x_scale = 2.0, .y_scale = 1.15, .x_offset = 8, .y_offset = 4 };
  g_autofree char *title = g_strdup_printf (_ ("Cost by method, %s"), book->currency);

  if (!series)
    {
      book_fail (book, LXW_ERROR_MEMORY_MALLOC_FAILED, sheet);
      return;
    }
  chart_series_set_categories (series, sheet, ROW_FIRST, COL_METHOD, (lxw_row_t) (ROW_FIRST + n - 1), COL_METHOD);
  chart_series_set_values (series, sheet, ROW_FIRST, COL_COST, (lxw_row_t) (ROW_FIRST + n - 1), COL_COST);
  chart_series_set_name (series, _ ("Cost"));
  chart_series_set_fill (series, &fill);
  chart_series_set_labels (series);
  chart_series_set_labels_num_format (series, "#,##0");
  chart_title_set_name (chart, title);
  chart_legend_set_position (chart, LXW_CHART_LEGEND_NONE);
  chart_axis_set_reverse (chart->y_axis); /* of a bar chart the categories: first method on top */
  chart_axis_set_min (chart->x_axis, 0);
  chart_axis_major_gridlines_set_visible (chart->x_axis, LXW_FALSE);
  chart_axis_set_num_format (chart->x_axis, "#,##0");
  book_fail (book, worksheet_insert_chart_opt (book->sheet[PAGE].ws, row, COL_METHOD, chart, &options), sheet);
}

static char *
even_what (const Book *book, const CostEven *even)
{
  switch (even->kind)
    {
    case COST_EVEN_FIELD_RATE:
      return g_strdup (_ ("rate of a field worker-hour"));
    case COST_EVEN_ITEM:
      return g_strdup_printf (_ ("price of %s"), catalogue_item (book->catalogue, even->target)->key);
    case COST_EVEN_STEP:
      return g_strdup_printf (_ ("minutes of %s, as a multiple of today's"),
                              catalogue_step (book->catalogue, even->target)->key);
    case COST_EVEN_TOOLING:
      return g_strdup (_ ("tooling that the difference of cost pays"));
    case COST_EVEN_JOINTS:
    default:
      return g_strdup (_ ("joints like these over which the tooling pays"));
    }
}

static guint32
write_even (Book *book, guint32 row, const char *method, const CostEven *even)
{
  g_autofree char *what = even_what (book, even);

  book_text (book, PAGE, row, COL_METHOD, AS_TEXT, method);
  book_text (book, PAGE, row, COL_PIECES, AS_TEXT, what);
  if (isfinite (even->now))
    book_number (book, PAGE, row, COL_MATERIAL, AS_UNIT_PRICE, even->now);
  if (even->equal)
    book_text (book, PAGE, row, COL_COST, AS_TEXT_RIGHT, _ ("equal already"));
  else if (even->exists && isfinite (even->even))
    book_number (book, PAGE, row, COL_COST, AS_UNIT_PRICE, even->even);
  else
    book_text (book, PAGE, row, COL_COST, AS_TEXT_RIGHT, _ ("never"));
  return row + 1;
}

static void
write_evens (Book *book, guint32 row, const GArray *columns, guint base)
{
  g_autofree char *now = g_strconcat (">", _ ("Today"), NULL),
                  *equal = g_strconcat (">", _ ("Costs are equal at"), NULL);
  const char *heads[] = { _ ("Against the baseline"), "", "", "", "", "", "", "", "", now, equal, NULL };

  book_text (book, PAGE, row++, COL_METHOD, AS_BOLD,
             _ ("Where a method and the baseline change places, on cost and tooling"));
  book_heads (book, PAGE, row, heads);
  book_wide_head (book, PAGE, row++, COL_PIECES, COL_JOINT_HARDWARE,
                  _ ("When this one figure moves and all others stay"));
  for (guint i = 0; i < columns->len; i++)
    {
      const CostOption *option = &g_array_index (columns, Column, i).option;
      g_autoptr (GArray) evens = NULL;
      if (i == base)
        continue;
      evens = cost_break_evens (book->basis, &g_array_index (columns, Column, base).option, option);
      for (guint k = 0, items = 0; k < evens->len; k++)
        {
          const CostEven *even = &g_array_index (evens, CostEven, k);
          gboolean listed = even->kind == COST_EVEN_ITEM || even->kind == COST_EVEN_STEP;
          if (listed && (!even->exists || items++ >= MOST_EVENS))
            continue;
          row = write_even (book, row, method_name (book, option->method), even);
        }
    }
}

void
book_write_methods (Book *book)
{
  static const double widths[N_COLS] = { 48, 9, 9, 11, 11, 10, 10, 12, 11, 13, 14, 14, 13, 12, 9 };
  g_autoptr (GArray) columns = collect (book);
  guint base = baseline_index (book);
  guint32 row = ROW_FIRST + columns->len;

  book_widths (book, PAGE, widths, N_COLS);
  book_text (book, PAGE, ROW_TITLE, COL_METHOD, AS_TITLE, _ ("Methods"));
  if (columns->len > 0)
    {
      write_lead (book, columns, base);
      book_paragraph (book, PAGE, ROW_NOTE, N_COLS - 1, AS_NOTE,
                      _ ("As computed; this sheet does not follow changes made in this workbook. Every run by the "
                         "method named, or by the "
                         "one it falls back to where it may not be used."));
      write_heads (book);
      for (guint i = 0; i < columns->len; i++)
        write_option (book, ROW_FIRST + i, ROW_FIRST + base, &g_array_index (columns, Column, i),
                      &g_array_index (columns, Column, base));
      insert_chart (book, row + 1, columns->len);
      if (columns->len > 1)
        write_evens (book, row + CHART_ROWS + 2, columns, base);
    }
  book_page (book, PAGE, TRUE, columns->len > 0 ? ROW_HEAD : -1, 1);
}

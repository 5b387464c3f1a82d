/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "base/decimal.h"
#include "base/money.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* The face of the bid. Price and cost are live; quantities and breakouts are as computed and say so. */

#define PAGE BOOK_PRICE
#define LAST_COL 6

enum
{
  COL_LABEL,
  COL_SHOP,
  COL_FIELD,
  COL_NET,
  COL_SHIPPED,
  COL_COST,
  COL_PRICE
};

/* The line that is the price: the one with that key, else the last. */
static int
price_line (const Book *book)
{
  int line = buildup_find (book->basis, "price");

  return line >= 0 ? line : (int) book->buildup->n - 1;
}

static char *
line_ref (Book *book, int line)
{
  return book_ref (book, PAGE, BOOK_BUILDUP, BOOK_BUILDUP_FIRST + (guint32) line, BOOK_BUILDUP_VALUE);
}

static void
write_conclusion (Book *book, guint32 row)
{
  int price = price_line (book), cost = buildup_find (book->basis, "cost");
  g_autofree char *price_ref = line_ref (book, price), *cost_ref = cost >= 0 ? line_ref (book, cost) : NULL;
  g_autofree char *price_formula = g_strdup_printf ("FIXED(%s,%d)", price_ref, book->decimals);
  g_autofree char *cost_formula = g_strdup_printf ("FIXED(%s,%d)", cost >= 0 ? cost_ref : price_ref, book->decimals);
  g_autofree char *price_words = book_money_words (book, book->buildup->value[price]);
  g_autofree char *cost_words = book_money_words (book, book->buildup->value[cost >= 0 ? cost : price]);
  const char *formulas[] = { price_formula, cost_formula, NULL }, *values[] = { price_words, cost_words, NULL };
  g_autofree char *runs = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%" G_GINT64_FORMAT " run",
                                                        "%" G_GINT64_FORMAT " runs", (gulong) book->totals.runs),
                                           book->totals.runs);
  g_autofree char *template =
      book->totals.not_priced > 0
          ? g_strdup_printf (
              _ ("The price is {} %s on a cost of {}, for %s; it is not complete, since %" G_GINT64_FORMAT
                 " are not priced."),
              book->currency, runs, book->totals.not_priced)
          : g_strdup_printf (_ ("The price is {} %s on a cost of {}, for %s; none is left unpriced."), book->currency,
                             runs);

  book_sentence (book, PAGE, row, LAST_COL, AS_LEAD, template, formulas, values);
}

/* Client, place and so on; a fact that was not entered is left out. */
static guint32
write_facts (Book *book, guint32 row)
{
  static const char *const keys[] = { "client", "place", "engineer", "note" };
  const JobRecord *head = job_head (book->job);
  const JobTypeInfo *info = job_type_info (JOB_HEAD);

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      int field = job_field_find (JOB_HEAD, keys[i]);
      g_autofree char *text = job_record_print (head, field, job_names (book->job));
      if (!*text)
        continue;
      book_text (book, PAGE, row, COL_LABEL, AS_TEXT, _ (info->field[field].title));
      book_text (book, PAGE, row++, COL_LABEL + 1, AS_TEXT, text);
    }
  return row;
}

static guint32
write_figure (Book *book, guint32 row, const char *label, BookLook look, double value, const char *unit)
{
  book_text (book, PAGE, row, COL_LABEL, AS_TEXT, label);
  book_number (book, PAGE, row, COL_LABEL + 1, look, value);
  book_text (book, PAGE, row, COL_LABEL + 2, AS_TEXT, unit);
  return row + 1;
}

/* The live price, what the program computed, and the difference. */
static guint32
write_price (Book *book, guint32 row)
{
  int price = price_line (book), cost = buildup_find (book->basis, "cost");
  g_autofree char *live = book_ref (book, PAGE, PAGE, row, 1), *computed = book_ref (book, PAGE, PAGE, row + 1, 1);

  book_text (book, PAGE, row, COL_LABEL, AS_BOLD, _ ("Price"));
  book_formula (book, PAGE, row, 1, AS_MONEY_BOLD, line_ref (book, price),
                book_minor (book, book->buildup->value[price]));
  book_text (book, PAGE, row++, 2, AS_BOLD, book->currency);
  book_text (book, PAGE, row, COL_LABEL, AS_TEXT, _ ("Price as computed"));
  book_money (book, PAGE, row++, 1, AS_MONEY, book->buildup->value[price]);
  book_text (book, PAGE, row, COL_LABEL, AS_TEXT, _ ("Changed in this workbook by"));
  book_formula (book, PAGE, row++, 1, AS_MONEY, g_strdup_printf ("ROUND(%s-%s,%d)", live, computed, book->decimals), 0);
  if (cost >= 0)
    {
      book_text (book, PAGE, row, COL_LABEL, AS_TEXT, _ ("Cost"));
      book_formula (book, PAGE, row++, 1, AS_MONEY, line_ref (book, cost),
                    book_minor (book, book->buildup->value[cost]));
    }
  return row;
}

static guint32
write_quantities (Book *book, guint32 row)
{
  const gint64 *v = book->totals.vector;
  const CostBasis *b = book->basis;

  row = write_figure (book, row, _ ("Runs priced"), AS_WHOLE, (double) book->totals.runs, NULL);
  row = write_figure (book, row, _ ("Runs not priced"), AS_WHOLE, (double) book->totals.not_priced, NULL);
  row = write_figure (book, row, _ ("Pieces"), AS_WHOLE, (double) v[cost_measure_slot (b, COST_PIECES)] / 1000, NULL);
  row = write_figure (book, row, _ ("Joints"), AS_WHOLE, (double) v[cost_measure_slot (b, COST_JOINTS)] / 1000, NULL);
  row = write_figure (book, row, _ ("Net installed weight"), AS_WEIGHT,
                      book_mass (book, v[cost_measure_slot (b, COST_NET_MG)]), book_mass_unit (book));
  row = write_figure (book, row, _ ("Shipped weight"), AS_WEIGHT,
                      book_mass (book, v[cost_measure_slot (b, COST_SHIPPED_MG)]), book_mass_unit (book));
  row = write_figure (book, row, _ ("Shop"), AS_HOURS, num_wide_to_double (book->totals.sums.time[1]) / COST_TIME_DEN,
                      _ ("worker-hours"));
  return write_figure (book, row, _ ("Field"), AS_HOURS, num_wide_to_double (book->totals.sums.time[0]) / COST_TIME_DEN,
                       _ ("worker-hours"));
}

/* ---- breakouts ---- */

typedef struct
{
  char *name;
  JobTotals totals;
} Part;

static void
clear_part (gpointer data)
{
  Part *part = data;

  g_free (part->name);
  job_totals_clear (&part->totals);
}

static void
add_part (Book *book, GArray *parts, JobType type, gint64 id, const char *name)
{
  JobScope scope = { type == JOB_SYSTEM ? id : 0, type == JOB_AREA ? id : 0 };
  Part part = { 0 };

  job_totals (book->job, &scope, JOB_OWN_METHOD, &part.totals);
  if (part.totals.runs == 0 && part.totals.not_priced == 0)
    {
      job_totals_clear (&part.totals);
      return;
    }
  part.name = g_strdup (name);
  g_array_append_val (parts, part);
}

static GArray *
collect_parts (Book *book, JobType type)
{
  GArray *parts = g_array_new (FALSE, FALSE, sizeof (Part));

  g_array_set_clear_func (parts, clear_part);
  for (guint i = 0; i < job_n (book->job, type); i++)
    {
      const JobRecord *record = job_at (book->job, type, i);
      const char *key = record->text[type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY];
      const char *name = type == JOB_SYSTEM ? record->text[SYSTEM_NAME] : NULL;
      g_autofree char *words = name ? g_strdup_printf ("%s, %s", key, name) : g_strdup (key);
      add_part (book, parts, type, record->id, words);
    }
  add_part (book, parts, type, -1, type == JOB_SYSTEM ? _ ("without a system") : _ ("without an area"));
  return parts;
}

static void
write_part (Book *book, guint32 row, const Part *part, gint64 cost, gint64 price)
{
  const gint64 *v = part->totals.vector;

  book_text (book, PAGE, row, COL_LABEL, AS_TEXT, part->name);
  book_number (book, PAGE, row, COL_SHOP, AS_HOURS, num_wide_to_double (part->totals.sums.time[1]) / COST_TIME_DEN);
  book_number (book, PAGE, row, COL_FIELD, AS_HOURS, num_wide_to_double (part->totals.sums.time[0]) / COST_TIME_DEN);
  book_number (book, PAGE, row, COL_NET, AS_WEIGHT, book_mass (book, v[cost_measure_slot (book->basis, COST_NET_MG)]));
  book_number (book, PAGE, row, COL_SHIPPED, AS_WEIGHT,
               book_mass (book, v[cost_measure_slot (book->basis, COST_SHIPPED_MG)]));
  book_money (book, PAGE, row, COL_COST, AS_MONEY, cost);
  book_money (book, PAGE, row, COL_PRICE, AS_MONEY, price);
}

/* Sums of the columns and whether they are the computed figures of the job. */
static guint32
write_part_sums (Book *book, guint32 row, guint32 first, gint64 cost, gint64 price)
{
  const JobTotals *t = &book->totals;
  const struct
  {
    int col;
    BookLook look;
    double value;
  } sums[] = {
    { COL_SHOP, AS_TOTAL_HOURS, num_wide_to_double (t->sums.time[1]) / COST_TIME_DEN },
    { COL_FIELD, AS_TOTAL_HOURS, num_wide_to_double (t->sums.time[0]) / COST_TIME_DEN },
    { COL_NET, AS_TOTAL_WEIGHT, book_mass (book, t->vector[cost_measure_slot (book->basis, COST_NET_MG)]) },
    { COL_SHIPPED, AS_TOTAL_WEIGHT, book_mass (book, t->vector[cost_measure_slot (book->basis, COST_SHIPPED_MG)]) },
    { COL_COST, AS_TOTAL_MONEY, book_minor (book, cost) },
    { COL_PRICE, AS_TOTAL_MONEY, book_minor (book, price) },
  };
  g_autofree char *cost_cell = book_ref (book, PAGE, PAGE, row, COL_COST),
                  *price_cell = book_ref (book, PAGE, PAGE, row, COL_PRICE);
  g_autofree char *cost_text = money_print (cost, book->decimals, FALSE),
                  *price_text = money_print (price, book->decimals, FALSE);

  book_text (book, PAGE, row, COL_LABEL, AS_TOTAL_TEXT, _ ("Sum"));
  for (gsize i = 0; i < G_N_ELEMENTS (sums); i++)
    {
      g_autofree char *range = book_range (book, PAGE, PAGE, first, row - 1, sums[i].col);
      book_formula (book, PAGE, row, sums[i].col, sums[i].look, g_strdup_printf ("SUM(%s)", range), sums[i].value);
    }
  book_formula_text (book, PAGE, row + 1, COL_LABEL, AS_BOLD,
                     g_strdup_printf ("IF(AND(ROUND(%s-(%s),%d)=0,ROUND(%s-(%s),%d)=0),\"%s\",\"%s\")", cost_cell,
                                      cost_text, book->decimals, price_cell, price_text, book->decimals,
                                      _ ("The parts add up to the computed cost and price."),
                                      _ ("The parts do not add up to the computed cost and price.")),
                     _ ("The parts add up to the computed cost and price."));
  return row + 2;
}

static guint32
write_breakout (Book *book, guint32 row, JobType type)
{
  g_autofree char *shop = g_strconcat (">", _ ("Shop worker-hours"), NULL),
                  *field = g_strconcat (">", _ ("Field worker-hours"), NULL);
  g_autofree char *net = g_strdup_printf (">%s, %s", _ ("Net"), book_mass_unit (book));
  g_autofree char *shipped = g_strdup_printf (">%s, %s", _ ("Shipped"), book_mass_unit (book));
  g_autofree char *cost_head = g_strconcat (">", _ ("Cost"), NULL), *price_head = g_strconcat (">", _ ("Price"), NULL);
  const char *heads[] = {
    type == JOB_SYSTEM ? _ ("By system") : _ ("By area"), shop, field, net, shipped, cost_head, price_head, NULL
  };
  g_autoptr (GArray) parts = collect_parts (book, type);
  g_autofree CostSums *sums = g_new0 (CostSums, MAX (parts->len, 1));
  g_autofree gint64 *split = NULL;
  int price = price_line (book), cost = buildup_find (book->basis, "cost");
  guint32 first = row + 1;

  if (parts->len == 0)
    return row;
  if (cost < 0)
    cost = price;
  for (guint i = 0; i < parts->len; i++)
    sums[i] = g_array_index (parts, Part, i).totals.sums;
  split = buildup_break_out (book->buildup, sums, parts->len);
  book_heads (book, PAGE, row++, heads);
  for (guint i = 0; i < parts->len; i++)
    write_part (book, row++, &g_array_index (parts, Part, i), split[(gsize) cost * parts->len + i],
                split[(gsize) price * parts->len + i]);
  return write_part_sums (book, row, first, book->buildup->value[cost], book->buildup->value[price]) + 1;
}

/* ---- what must be said beside the price ---- */

/* Tooling of the methods in use, each once. */
static guint32
write_tooling (Book *book, guint32 row)
{
  g_autofree gboolean *wanted = g_new0 (gboolean, (gsize) book->basis->n_items + 1);

  for (int i = 0; i < book->basis->n_methods * DUCT_N_KINDS; i++)
    {
      int once = catalogue_method (book->catalogue, i / DUCT_N_KINDS)->once_item;
      if (book->used_method[i] && once >= 0)
        wanted[once] = TRUE;
    }
  for (int i = 0; i < book->basis->n_items; i++)
    {
      g_autofree char *price = decimal_print (book->basis->price[i], 4, 2, TRUE), *words = NULL;
      if (!wanted[i])
        continue;
      words = g_strdup_printf (_ ("Bought once, beside the price and not in it: %s, %s %s."),
                               catalogue_item (book->catalogue, i)->key, price, book->currency);
      book_paragraph (book, PAGE, row++, LAST_COL, AS_WRAP, words);
    }
  return row;
}

static guint32
write_warnings (Book *book, guint32 row)
{
  guint demo = book_count_status (book, DUCT_INVENTED_DEMO), memory = book_count_status (book, DUCT_FROM_MEMORY);

  if (book->totals.not_priced > 0)
    {
      g_autofree char *words =
          g_strdup_printf (g_dngettext (GETTEXT_PACKAGE,
                                        "%" G_GINT64_FORMAT
                                        " run is not priced and not in the price; the sheet Runs says why.",
                                        "%" G_GINT64_FORMAT
                                        " runs are not priced and not in the price; the sheet Runs says why.",
                                        (gulong) book->totals.not_priced),
                           book->totals.not_priced);
      book_paragraph (book, PAGE, row++, LAST_COL, AS_WARNING, words);
    }
  if (demo + memory > 0)
    {
      g_autofree char *words =
          memory == 0
              ? g_strdup_printf (
                  _ ("This price rests on %u invented demo figures, of %u in all: replace them by the shop's own "
                     "before it is used."),
                  demo, book->figures->len)
              : g_strdup_printf (
                  _ ("This price rests on %u invented demo figures and %u from memory, of %u in all: replace them by "
                     "the shop's own before it is used."),
                  demo, memory, book->figures->len);
      book_paragraph (book, PAGE, row++, LAST_COL, AS_WARNING, words);
    }
  return row;
}

void
book_write_price (Book *book)
{
  static const double widths[] = { 34, 15, 15, 15, 15, 16, 16 };
  const char *name = job_head (book->job)->text[HEAD_NAME];
  guint32 row = 0;

  book_widths (book, PAGE, widths, G_N_ELEMENTS (widths));
  book_text (book, PAGE, row++, COL_LABEL, AS_TITLE, name ? name : _ ("Price"));
  write_conclusion (book, row++);
  row = write_warnings (book, row);
  row = write_facts (book, row + 1) + 1;
  row = write_price (book, row) + 1;
  row = write_quantities (book, row) + 1;
  book_paragraph (book, PAGE, row++, LAST_COL, AS_NOTE,
                  _ ("Quantities and breakouts as computed; they do not follow changes made in this workbook. Each "
                     "line of the build-up "
                     "is shared out by what a part puts into it, to the last unit of the currency."));
  row = write_breakout (book, row, JOB_SYSTEM);
  row = write_breakout (book, row, JOB_AREA);
  row = write_tooling (book, row);
  book_paragraph (book, PAGE, row, LAST_COL, AS_NOTE,
                  _ ("The specification, the engineer of record, the local code and licensed practice govern; see "
                     "Sources and cautions."));
  book_page (book, PAGE, FALSE, -1, 0);
}

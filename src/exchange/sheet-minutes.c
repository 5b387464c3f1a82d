/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "base/money.h"

#include <glib/gi18n-lib.h>

/* Worker-hours of every step at every place, conditions included, times the hourly rate of its crew, which is an input cell
 * of the Build-up sheet. Printed amounts as on Materials. */

enum
{
  COL_STEP,
  COL_PLACE,
  COL_BOOKED,
  COL_CREW,
  COL_MINUTES,
  COL_HOURS = BOOK_MINUTES_HOURS,
  COL_RATE = BOOK_MINUTES_RATE,
  COL_EXACT = BOOK_MINUTES_EXACT,
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
  ROW_NOTE2,
  ROW_HEAD,
  ROW_FIRST
};

const char *
book_place_name (LabourPlace place)
{
  static const char *const names[LABOUR_N_PLACES] = {
    N_ ("shop"), N_ ("site, on the floor"), N_ ("site, in the air"), N_ ("site, at the joint"), N_ ("site, cut to fit"),
  };

  return _ (names[place]);
}

static const char *
group_name (LabourGroup group)
{
  static const char *const names[LABOUR_N_GROUPS] = {
    N_ ("fabricate"), N_ ("deliver"), N_ ("hang and join"), N_ ("seal and test"), N_ ("general"),
  };

  return _ (names[group]);
}

static const LabourCrew *
crew_of (const Book *book, const CostSlot *slot)
{
  return g_ptr_array_index (book->catalogue->labour->crews, (guint) slot->crew);
}

/* Exact money in 1e-10 of a fraction over COST_LABOUR_DEN, rounded once to the currency: the same as the build-up does. */
static gint64
labour_minor (const Book *book, NumWide money)
{
  NumWide power = 1;
  gint64 minor = 0;

  for (int i = 0; i < book->decimals; i++)
    power *= 10;
  num_narrow (num_wide_div (money * power, COST_LABOUR_DEN), &minor);
  return minor;
}

static void
write_source (Book *book, guint32 row, const CostSlot *slot)
{
  const LabourStep *step = slot->step >= 0 ? catalogue_step (book->catalogue, slot->step) : NULL;

  book_text (book, BOOK_MINUTES, row, COL_SOURCE, AS_WRAP, step ? step->source : _ ("entered on the runs"));
  book_text (book, BOOK_MINUTES, row, COL_STATUS, AS_TEXT, step ? step->status : "shop's own");
}

static void
write_slot (Book *book, const CostSlot *slot, guint32 row, guint32 first, NumWide time, NumWide before)
{
  const BookPage page = BOOK_MINUTES;
  const LabourStep *step = slot->step >= 0 ? catalogue_step (book->catalogue, slot->step) : NULL;
  const double den = num_wide_to_double (COST_LABOUR_DEN);
  g_autofree char *hours = book_ref (book, page, page, row, COL_HOURS);
  g_autofree char *rate = book_ref (book, page, page, row, COL_RATE);
  g_autofree char *exact = book_ref (book, page, page, row, COL_EXACT);
  g_autofree char *so_far = book_ref (book, page, page, row, COL_SO_FAR);
  g_autofree char *above = row > first ? book_ref (book, page, page, row - 1, COL_SO_FAR) : NULL;
  NumWide money = time * book->basis->rate[slot->crew];
  double worker_hours = num_wide_to_double (time) / COST_TIME_DEN;

  if (slot->shared)
    book_textf (book, page, row, COL_STEP, AS_TEXT, _ ("%s: fixed minutes shared by pieces raised together"), step->key);
  else
    book_text (book, page, row, COL_STEP, AS_TEXT, step ? step->key : _ ("minutes entered on counted lines"));
  book_text (book, page, row, COL_PLACE, AS_TEXT, book_place_name (slot->place));
  book_text (book, page, row, COL_BOOKED, AS_TEXT, group_name (slot->group));
  book_text (book, page, row, COL_CREW, AS_TEXT, crew_of (book, slot)->key);
  book_formula (book, page, row, COL_MINUTES, AS_WEIGHT, g_strdup_printf ("%s*60", hours), worker_hours * 60);
  book_number (book, page, row, COL_HOURS, AS_HOURS, worker_hours);
  book_formula (book, page, row, COL_RATE, AS_UNIT_PRICE,
                book_ref (book, page, BOOK_BUILDUP, book_crew_row (book, slot->crew), BOOK_BUILDUP_RATE),
                (double) book->basis->rate[slot->crew] / 1e4);
  book_formula (book, page, row, COL_EXACT, AS_EXACT, g_strdup_printf ("%s*%s", hours, rate),
                num_wide_to_double (money) / den);
  book_formula (book, page, row, COL_SO_FAR, AS_EXACT,
                above ? g_strdup_printf ("%s+%s", above, exact) : g_strdup (exact),
                num_wide_to_double (before + money) / den);
  book_formula (book, page, row, COL_PRINTED, AS_MONEY,
                above ? g_strdup_printf ("ROUND(ROUND(%s,%d)-ROUND(%s,%d),%d)", so_far, book->decimals, above,
                                         book->decimals, book->decimals)
                      : g_strdup_printf ("ROUND(%s,%d)", so_far, book->decimals),
                book_minor (book, labour_minor (book, before + money) - labour_minor (book, before)));
  write_source (book, row, slot);
}

static void
write_total (Book *book, gboolean shop, guint32 row, guint32 first, NumWide time, NumWide money)
{
  const BookPage page = BOOK_MINUTES;
  g_autofree char *hours = book_range (book, page, page, first, row - 1, COL_HOURS);
  g_autofree char *minutes = book_range (book, page, page, first, row - 1, COL_MINUTES);
  g_autofree char *exact = book_range (book, page, page, first, row - 1, COL_EXACT);
  double worker_hours = num_wide_to_double (time) / COST_TIME_DEN;

  for (int col = 0; col < N_COLS; col++)
    if (col == COL_STEP)
      book_text (book, page, row, col, AS_TOTAL_TEXT, shop ? _ ("Shop, total") : _ ("Field, total"));
    else if (col == COL_MINUTES)
      book_formula (book, page, row, col, AS_TOTAL_WEIGHT, g_strdup_printf ("SUM(%s)", minutes), worker_hours * 60);
    else if (col == COL_HOURS)
      book_formula (book, page, row, col, AS_TOTAL_HOURS, g_strdup_printf ("SUM(%s)", hours), worker_hours);
    else if (col == COL_EXACT)
      book_formula (book, page, row, col, AS_TOTAL_EXACT, g_strdup_printf ("SUM(%s)", exact),
                    num_wide_to_double (money) / num_wide_to_double (COST_LABOUR_DEN));
    else if (col == COL_PRINTED)
      book_formula (book, page, row, col, AS_TOTAL_MONEY, g_strdup_printf ("ROUND(SUM(%s),%d)", exact, book->decimals),
                    book_minor (book, labour_minor (book, money)));
    else
      book_blank (book, page, row, col, AS_TOTAL_TEXT);
}

/* Shop or field; gives the next free row. */
static guint32
write_side (Book *book, const NumWide *times, gboolean shop, guint32 row)
{
  guint32 first = row + 1;
  NumWide time = 0, money = 0;

  for (int s = 0; s < book->basis->n_slots; s++)
    {
      const CostSlot *slot = &book->basis->slots[s];
      if (times[s] == 0 || crew_of (book, slot)->shop != shop)
        continue;
      if (book->labour_first[shop] < 0)
        {
          book_text (book, BOOK_MINUTES, row++, COL_STEP, AS_BOLD, shop ? _ ("Shop") : _ ("Field"));
          book->labour_first[shop] = first;
        }
      write_slot (book, slot, row, first, times[s], money);
      time += times[s];
      money += times[s] * book->basis->rate[slot->crew];
      book->labour_last[shop] = row++;
    }
  /* Two ways to the same figure: step by step here, side by side in the totals. */
  if (money != book->totals.sums.labour[shop] || time != book->totals.sums.time[shop])
    book_fail (book, LXW_ERROR_PARAMETER_VALIDATION,
               _ ("the hours of the steps do not add up to the hours of the job"));
  if (book->labour_first[shop] < 0)
    return row;
  write_total (book, shop, row, first, time, money);
  return row + 2;
}

void
book_write_minutes (Book *book)
{
  static const double widths[N_COLS] = { 34, 20, 15, 10, 14, 12, 11, 15, 15, 14, 30, 16 };
  g_autofree char *minutes = g_strconcat (">", _ ("Worker-minutes"), NULL),
                  *hours = g_strconcat (">", _ ("Worker-hours"), NULL);
  g_autofree char *rate = g_strconcat (">", _ ("Rate an hour"), NULL),
                  *exact = g_strconcat (">", _ ("Amount, exact"), NULL);
  g_autofree char *so_far = g_strconcat (">", _ ("Sum so far, exact"), NULL);
  g_autofree char *printed = g_strconcat (">", _ ("Amount, as printed"), NULL);
  const char *heads[] = {
    _ ("Step"), _ ("Where"), _ ("Booked against"),        _ ("Crew"),   minutes, hours, rate, exact,
    so_far,     printed,     _ ("Source of the minutes"), _ ("Status"), NULL
  };
  const NumWide *times = book->totals.slot_time;
  g_autofree char *rates = g_strdup_printf (_ ("The rates are input cells of the sheet “%s”: change them there."),
                                            book->sheet[BOOK_BUILDUP].name);
  guint32 row = ROW_FIRST;

  book_widths (book, BOOK_MINUTES, widths, N_COLS);
  book_text (book, BOOK_MINUTES, ROW_TITLE, COL_STEP, AS_TITLE, _ ("Minutes"));
  book_paragraph (book, BOOK_MINUTES, ROW_NOTE, N_COLS - 1, AS_NOTE,
                  _ ("Worker-minutes: two people busy nine minutes are 18. Conditions of job, areas, systems and runs, learning, "
                     "remade joints and all typical floors are included. The hours are as computed; the money follows the rates."));
  book_text (book, BOOK_MINUTES, ROW_NOTE2, COL_STEP, AS_BOLD, rates);
  book_heads (book, BOOK_MINUTES, ROW_HEAD, heads);
  row = write_side (book, times, TRUE, row);
  write_side (book, times, FALSE, row);
  book_page (book, BOOK_MINUTES, TRUE, ROW_HEAD, 1);
}

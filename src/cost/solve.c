/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/solve.h"

#include "base/money.h"

#include <glib/gi18n-lib.h>

static const CostBuildLine *
line_at (const CostBasis *basis, int i)
{
  return g_ptr_array_index (basis->buildup, (guint) i);
}

int
cost_price_line (const CostBasis *basis)
{
  int line = buildup_find (basis, "price");

  return line >= 0 ? line : (int) basis->buildup->len - 1;
}

int
cost_profit_line (const CostBasis *basis)
{
  int line = buildup_find (basis, "profit");

  for (int i = (int) basis->buildup->len - 1; line < 0 && i >= 0; i--)
    if (line_at (basis, i)->op == COST_OP_MARKUP || line_at (basis, i)->op == COST_OP_MARGIN)
      line = i;
  return line;
}

/* By how much every line moves when line @from moves by one. */
static double *
follow (const CostBasis *basis, int from)
{
  double *d = g_new0 (double, MAX (basis->buildup->len, 1));

  for (int i = 0; i < (int) basis->buildup->len; i++)
    {
      const CostBuildLine *line = line_at (basis, i);
      double rate = (double) line->rate_ppm / 1e6;
      for (guint k = 0; k < line->refs->len; k++)
        d[i] += d[g_array_index (line->refs, int, k)];
      if (line->op == COST_OP_RATE || line->op == COST_OP_MARKUP)
        d[i] *= rate;
      else if (line->op == COST_OP_MARGIN)
        d[i] *= rate / (1 - rate);
      if (i == from)
        d[i] = 1;
    }
  return d;
}

int
cost_adjustment_line (const CostBasis *basis)
{
  int line = buildup_find (basis, "adjustment"), price = cost_price_line (basis);

  if (line >= 0 && line_at (basis, line)->op == COST_OP_AMOUNT)
    return line;
  for (int i = price - 1; i > cost_profit_line (basis); i--)
    if (line_at (basis, i)->op == COST_OP_AMOUNT)
      {
        g_autofree double *moves = follow (basis, i);
        if (moves[price] > 0)
          return i;
      }
  return -1;
}

static gint64
share (gint64 part, gint64 whole)
{
  gint64 ppm = 0;

  if (whole < 0)
    return share (-part, -whole);
  num_mul_div (part, 1000000, whole, &ppm);
  return ppm;
}

gint64
cost_markup_of_margin (gint64 margin_ppm)
{
  return share (margin_ppm, 1000000 - margin_ppm);
}

gint64
cost_margin_of_markup (gint64 markup_ppm)
{
  return share (markup_ppm, 1000000 + markup_ppm);
}

void
cost_profit (const BuildUp *up, CostProfit *out)
{
  int profit = cost_profit_line (up->basis), adjustment = cost_adjustment_line (up->basis), line = cost_price_line (up->basis);
  gint64 price = line >= 0 ? up->value[line] : 0;

  *out = (CostProfit) { 0, 0, 0 };
  if (profit < 0)
    out->profit = price - buildup_get (up, "cost");
  else
    out->profit = up->value[profit] + (adjustment >= 0 ? up->value[adjustment] : 0);
  out->margin_ppm = share (out->profit, price);
  out->markup_ppm = share (out->profit, price - out->profit);
}

gint64
cost_crew_rate (const CostBasis *basis, const CostSums *sums, gboolean shop, gboolean *mixed)
{
  const GPtrArray *crews = basis->catalogue->labour->crews;
  gint64 rate = -1;
  gboolean different = FALSE;

  for (guint i = 0; i < crews->len; i++)
    {
      const LabourCrew *crew = g_ptr_array_index (crews, i);
      if (crew->shop != shop)
        continue;
      different = different || (rate >= 0 && basis->rate[i] != rate);
      rate = rate < 0 ? basis->rate[i] : rate;
    }
  if (different && sums->time[shop ? 1 : 0] > 0)
    num_narrow (num_wide_div (sums->labour[shop ? 1 : 0], sums->time[shop ? 1 : 0]), &rate);
  if (mixed)
    *mixed = different;
  return MAX (rate, 0);
}

/* ten-thousandths an hour, not rounded */
static double
field_rate (const CostBasis *basis, const CostSums *sums)
{
  if (sums->time[0] > 0)
    return num_wide_to_double (sums->labour[0]) / num_wide_to_double (sums->time[0]);
  return (double) cost_crew_rate (basis, sums, FALSE, NULL);
}

double
cost_field_hour (const CostBasis *basis, const CostSums *sums)
{
  int cost = buildup_find (basis, "cost");
  double factor = 0;

  for (int i = 0; i < (int) basis->buildup->len; i++)
    if (line_at (basis, i)->op == COST_OP_LABOUR && line_at (basis, i)->which == 0)
      {
        g_autofree double *moves = follow (basis, i);
        factor = MAX (factor, cost >= 0 ? moves[cost] : 1);
      }
  return field_rate (basis, sums) / 1e4 * (factor > 0 ? factor : 1);
}

/* The same basis with another amount on one line; only its build-up is looked at. */
static BuildUp *
with_amount (const CostBasis *basis, const CostSums *sums, int decimals, int index, gint64 amount)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  CostBuildLine line = *line_at (basis, index);
  CostBasis what = *basis;
  BuildUp *up;

  line.amount = amount;
  for (guint i = 0; i < basis->buildup->len; i++)
    g_ptr_array_add (lines, (int) i == index ? &line : g_ptr_array_index (basis->buildup, i));
  what.buildup = lines;
  up = buildup_new (&what, sums, decimals);
  up->basis = basis;
  return up;
}

#define MOST_AMOUNT 1e14 /* as the figure itself allows */

static gboolean
too_large (Fault **fault)
{
  return fault_set (fault, fault_new (-1, _ ("type the price of the whole job in its currency"), _ ("this price is too far off")));
}

gboolean
cost_solve_price (const CostBasis *basis, const CostSums *sums, int decimals, gint64 wanted, CostSolution *out, Fault **fault)
{
  int line = cost_adjustment_line (basis), price = cost_price_line (basis);
  g_autofree double *moves = line >= 0 ? follow (basis, line) : NULL;
  double unit = 1e4; /* ten-thousandths a minor unit */
  gint64 amount, best_off = G_MAXINT64;

  if (line < 0 || moves[price] <= 0)
    return fault_set (fault, fault_new (-1, _ ("add an amount behind the profit to the catalogue's build-up"),
                                        _ ("the build-up has no final adjustment that the price follows")));
  for (int i = 0; i < decimals; i++)
    unit /= 10;
  if ((double) wanted > MOST_AMOUNT / unit || (double) wanted < -MOST_AMOUNT / unit)
    return too_large (fault);
  amount = line_at (basis, line)->amount;
  *out = (CostSolution) { .line = line };
  /* One step reaches it when nothing but sums stands behind the line; a rounded rate behind it needs some more. */
  for (int round = 0; round < 8 && best_off != 0; round++)
    {
      g_autoptr (BuildUp) up = with_amount (basis, sums, decimals, line, amount);
      gint64 off = wanted - up->value[price];
      double step = (double) off * unit / moves[price], next = (double) amount + step;
      if (ABS (off) < best_off)
        {
          best_off = ABS (off);
          out->adjustment = amount;
          out->price = up->value[price];
          cost_profit (up, &out->left);
        }
      if (!(next >= -MOST_AMOUNT && next <= MOST_AMOUNT))
        return too_large (fault);
      /* Whole minor units, since the line is rounded to them. */
      amount = (gint64) (num_div ((gint64) next, (gint64) unit) * (gint64) unit);
    }
  double hour = cost_field_hour (basis, sums), minor = 1e4 / unit;
  out->overrun_hours = hour > 0 ? (double) out->left.profit / minor / hour : 0;
  return TRUE;
}

int
cost_count_items (const CostBasis *basis, const gint64 *vector, CostGroup group)
{
  int n = 0;

  for (int i = 0; i < basis->n_items; i++)
    n += vector[i] != 0 && catalogue_item (basis->catalogue, i)->group == group;
  return n;
}

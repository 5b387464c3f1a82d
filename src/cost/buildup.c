/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/buildup.h"

#include "base/money.h"

#include <string.h>

gint64
cost_slot_factor (const CostSlot *slot, const LabourFactors *factors, gint64 floor_ppm)
{
  const gint64 *ppm = factors->ppm[slot->group];
  gint64 f = ppm[slot->place];

  if (slot->place == LABOUR_JOINT)
    {
      f = num_div (factors->floor_joint[slot->group] * floor_ppm + f * (1000000 - floor_ppm), 1000000);
      if (factors->learned != 1000000)
        num_mul_div (f, factors->learned, 1000000, &f);
      if (factors->remade != 0)
        num_mul_div (f, 1000000 + factors->remade, 1000000, &f);
    }
  /* n pieces raised together spend the fixed minutes of one: (n - 1) / n of them are saved. */
  return slot->shared ? -num_div (f * (factors->raised - 1), factors->raised) : f;
}

gint64
cost_item_quantity (const CostItem *item, gint64 quantity, const LabourFactors *factors)
{
  gint64 more = 0;

  if (!item->again || factors->remade == 0)
    return quantity;
  num_mul_div (quantity, factors->remade, 1000000, &more);
  return quantity + more;
}

void
cost_sums_add (CostSums *sums, const CostBasis *b, const gint64 *vector, const LabourFactors *factors, gint64 floor_ppm,
               gint64 times)
{
  const GPtrArray *crews = b->catalogue->labour->crews;

  for (int i = 0; i < b->n_items; i++)
    {
      /* Most of a run's items and steps are none. */
      if (vector[i] == 0)
        continue;
      const CostItem *item = catalogue_item (b->catalogue, i);
      NumWide money = (NumWide) cost_item_quantity (item, vector[i], factors) * b->price[i] * times;
      sums->items[item->group] += money;
      if (item->use == COST_USE_JOINT || item->use == COST_USE_BOLT || item->use == COST_USE_FASTENER)
        sums->joint_hardware += money;
    }
  for (int i = 0; i < b->n_slots; i++)
    {
      if (vector[b->n_items + i] == 0)
        continue;
      const CostSlot *slot = &b->slots[i];
      gboolean shop = ((LabourCrew *) g_ptr_array_index (crews, (guint) slot->crew))->shop;
      NumWide time = (NumWide) vector[b->n_items + i] * cost_slot_factor (slot, factors, floor_ppm) * times;
      sums->time[shop] += time;
      sums->labour[shop] += time * b->rate[slot->crew];
      if (slot->place == LABOUR_JOINT)
        sums->joint_time += time;
      if (sums->slot_time)
        sums->slot_time[i] += time;
    }
  sums->items[COST_MATERIAL] += (NumWide) vector[cost_measure_slot (b, COST_OWN_MATERIAL)] * times;
  sums->items[COST_RENTAL] += (NumWide) vector[cost_measure_slot (b, COST_OWN_RENTAL)] * times;
}

static gint64
sum_refs (const CostBuildLine *line, const gint64 *value)
{
  gint64 sum = 0;

  for (guint i = 0; i < line->refs->len; i++)
    sum += value[g_array_index (line->refs, int, i)];
  return sum;
}

static NumWide
power_of_ten (int n)
{
  NumWide p = 1;

  while (n-- > 0)
    p *= 10;
  return p;
}

static gint64
line_value (const CostBuildLine *line, const CostSums *sums, const gint64 *value, int decimals)
{
  gint64 out = 0;

  switch (line->op)
    {
    case COST_OP_ITEMS:
      return money_round (sums->items[line->which], decimals);
    case COST_OP_LABOUR:
      num_narrow (num_wide_div (sums->labour[line->which] * power_of_ten (decimals), COST_LABOUR_DEN), &out);
      return out;
    case COST_OP_RATE:
    case COST_OP_MARKUP:
      return money_rate (sum_refs (line, value), line->rate_ppm);
    case COST_OP_MARGIN:
      num_mul_div (sum_refs (line, value), line->rate_ppm, 1000000 - line->rate_ppm, &out);
      return out;
    case COST_OP_AMOUNT:
      return money_round ((NumWide) line->amount * 1000000, decimals);
    case COST_OP_SUM:
    default:
      return sum_refs (line, value);
    }
}

BuildUp *
buildup_new (const CostBasis *basis, const CostSums *sums, int decimals)
{
  BuildUp *up = g_new0 (BuildUp, 1);

  up->basis = basis;
  up->decimals = decimals;
  up->n = basis->buildup->len;
  up->value = g_new0 (gint64, up->n);
  for (gsize i = 0; i < up->n; i++)
    up->value[i] = line_value (g_ptr_array_index (basis->buildup, i), sums, up->value, decimals);
  return up;
}

void
buildup_free (BuildUp *buildup)
{
  g_free (buildup->value);
  g_free (buildup);
}

int
buildup_find (const CostBasis *basis, const char *key)
{
  for (guint i = 0; i < basis->buildup->len; i++)
    if (strcmp (((CostBuildLine *) g_ptr_array_index (basis->buildup, i))->key, key) == 0)
      return (int) i;
  return -1;
}

gint64
buildup_get (const BuildUp *buildup, const char *key)
{
  int i = buildup_find (buildup->basis, key);

  return i < 0 ? 0 : buildup->value[i];
}

/* What each part puts into a line: its own money for items and labour, else what it has in the lines referred to. A line that
 * refers to nothing (an amount) goes by cost. */
static void
part_weights (const BuildUp *whole, const CostSums *parts, gsize n, gsize index, const gint64 *split, NumWide *weight)
{
  const CostBuildLine *line = g_ptr_array_index (whole->basis->buildup, index);
  int cost = buildup_find (whole->basis, "cost");

  for (gsize p = 0; p < n; p++)
    {
      weight[p] = 0;
      if (line->op == COST_OP_ITEMS)
        weight[p] = parts[p].items[line->which];
      else if (line->op == COST_OP_LABOUR)
        weight[p] = parts[p].labour[line->which];
      else if (line->op == COST_OP_AMOUNT && cost >= 0 && (gsize) cost < index)
        weight[p] = split[(gsize) cost * n + p];
      for (guint i = 0; i < line->refs->len; i++)
        weight[p] += split[(gsize) g_array_index (line->refs, int, i) * n + p];
      weight[p] = MAX (weight[p], 0);
    }
}

gint64 *
buildup_break_out (const BuildUp *whole, const CostSums *parts, gsize n)
{
  gint64 *split = g_new0 (gint64, MAX (whole->n * n, 1));
  g_autofree NumWide *weight = g_new0 (NumWide, MAX (n, 1));

  for (gsize i = 0; n > 0 && i < whole->n; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (whole->basis->buildup, i);
      if (line->op == COST_OP_SUM)
        {
          for (guint k = 0; k < line->refs->len; k++)
            for (gsize p = 0; p < n; p++)
              split[i * n + p] += split[(gsize) g_array_index (line->refs, int, k) * n + p];
          continue;
        }
      part_weights (whole, parts, n, i, split, weight);
      num_apportion (whole->value[i], weight, n, split + i * n);
    }
  return split;
}

double
buildup_smooth (const CostBasis *basis, const CostSums *sums, int index)
{
  g_autofree double *value = g_new0 (double, basis->buildup->len);

  for (int i = 0; i <= index; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (basis->buildup, (guint) i);
      double sum = 0, rate = (double) line->rate_ppm / 1e6;
      for (guint k = 0; k < line->refs->len; k++)
        sum += value[g_array_index (line->refs, int, k)];
      if (line->op == COST_OP_ITEMS)
        value[i] = num_wide_to_double (sums->items[line->which]) / 1e10;
      else if (line->op == COST_OP_LABOUR)
        value[i] = num_wide_to_double (sums->labour[line->which]) / num_wide_to_double (COST_LABOUR_DEN);
      else if (line->op == COST_OP_RATE || line->op == COST_OP_MARKUP)
        value[i] = sum * rate;
      else if (line->op == COST_OP_MARGIN)
        value[i] = sum * rate / (1 - rate);
      else if (line->op == COST_OP_AMOUNT)
        value[i] = (double) line->amount / 1e4;
      else
        value[i] = sum;
    }
  return value[index];
}

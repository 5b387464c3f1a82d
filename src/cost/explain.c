/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/explain.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static void
explain_step (const CostBasis *b, const CostLine *line, const CostCoef *coef, const gint64 *one,
              const LabourFactors *factors, gint64 floor_ppm, CostExplainLine *e)
{
  const CostRecipeLine *recipe = g_ptr_array_index (b->catalogue->recipes, (guint) line->recipe);
  const LabourStep *step = catalogue_step (b->catalogue, recipe->target);
  const GArray *bands = g_ptr_array_index (b->bands, (guint) recipe->target);
  const CostSlot *slot = &b->slots[line->slot - b->n_items];
  LabourPoint point = LABOUR_LIKELY;
  guint k = 0;

  /* The band is the one whose coefficients were used. */
  while (&g_array_index (b->coefs[point], CostCoef, line->first + k) != coef)
    k++;
  const LabourBand *band = &g_array_index (bands, LabourBand, k);
  num_mul_div (band->fixed[point], recipe->fixed_ppm, 1000000, &e->fixed);
  e->shared = slot->shared;
  e->per_ft = slot->shared ? 0 : band->per_ft[point];
  e->per_lb = slot->shared ? 0 : band->per_lb[point];
  e->length = e->per_ft ? one[line->length] : 0;
  e->mass = e->per_lb ? one[line->mass] : 0;
  e->factor_ppm = cost_slot_factor (slot, factors, floor_ppm);
  e->lost_ppm = factors->lost[slot->place == LABOUR_SHOP];
  e->learned_ppm = slot->place == LABOUR_JOINT ? factors->learned : 1000000;
  e->remade_ppm = 1000000 + (slot->place == LABOUR_JOINT ? factors->remade : 0);
  e->money = (NumWide) e->amount * e->pieces * e->factor_ppm * b->rate[slot->crew];
  e->source = step->source;
  e->status = step->status;
}

static void
explain_item (const CostBasis *b, const LabourFactors *factors, CostExplainLine *e)
{
  const CostItem *item = catalogue_item (b->catalogue, e->target);

  e->overage_ppm = b->overage_ppm[e->target];
  e->price = b->price[e->target];
  e->lost_ppm = e->learned_ppm = e->remade_ppm = 1000000;
  e->factor_ppm = 1000000 + (item->again ? factors->remade : 0);
  e->money = (NumWide) cost_item_quantity (item, e->amount * e->pieces, factors) * e->price;
  e->source = item->source;
  e->status = duct_status_key (item->status);
}

GArray *
cost_explain (const CostBasis *basis, int method, DuctKind kind, const DuctMeasure *measure,
              const LabourFactors *factors, gint64 floor_ppm)
{
  const GArray *lines = basis->lines[method * DUCT_N_KINDS + (int) kind];
  GArray *out = g_array_new (FALSE, TRUE, sizeof (CostExplainLine));

  for (int l = 0; l < measure->n_lots; l++)
    for (guint i = 0; i < lines->len; i++)
      {
        const CostLine *line = &g_array_index (lines, CostLine, i);
        const CostRecipeLine *recipe = g_ptr_array_index (basis->catalogue->recipes, (guint) line->recipe);
        const DuctLot *lot = &measure->lot[l];
        const CostCoef *coef = cost_line_coef (basis, line, LABOUR_LIKELY, lot->one[DUCT_PIECE_LB]);
        CostExplainLine e = {
          .lot = l,
          .pieces = lot->n,
          .driver = recipe->driver,
          .count = lot->one[recipe->driver],
          .num = recipe->num,
          .den = recipe->den,
          .step = recipe->step,
          .target = recipe->target,
          .place = recipe->place,
          .amount = cost_line_amount (line, coef, lot->one),
        };

        /* Lines of a measure go with an item's own line. A driver that this piece has none of says nothing. */
        if (line->slot >= basis->n_items + basis->n_slots || (e.count == 0 && e.amount == 0))
          continue;
        if (e.step)
          explain_step (basis, line, coef, lot->one, factors, floor_ppm, &e);
        else
          explain_item (basis, factors, &e);
        /* Nothing is shared where each piece goes up by itself. */
        if (!e.shared || e.factor_ppm != 0)
          g_array_append_val (out, e);
      }
  return out;
}

/* A figure of a driver in the unit it is read in, "28", "11.125 ft", "35.4025 lb"; metric where the item is sold so. */
static char *
figure (DuctUnit unit, gint64 value, const char *item_unit)
{
  double x = (double) value / 1e3;
  const char *word = "";

  if (unit == DUCT_UNIT_LENGTH)
    {
      gboolean metric = strcmp (item_unit, "m") == 0;
      x = metric ? (double) value / 1e6 : measure_ft (value);
      word = metric ? " m" : " ft";
    }
  else if (unit == DUCT_UNIT_MASS)
    {
      gboolean metric = strcmp (item_unit, "kg") == 0;
      x = metric ? (double) value / 1e6 : measure_lb (value);
      word = metric ? " kg" : " lb";
    }
  else if (unit == DUCT_UNIT_AREA)
    {
      gboolean metric = strcmp (item_unit, "m2") == 0;
      /* Known to a whole mm2. */
      x = metric ? (double) value / 1e6 : round (measure_ft2 (value) * 1e4) / 1e4;
      word = metric ? " m2" : " ft2";
    }
  g_autofree char *text = decimal_print_significant (x, 7);
  return g_strconcat (text, word, NULL);
}

/* " x 4", " x 2/5": the amount of a recipe line, nothing where it is one. */
static void
append_amount (GString *out, const CostExplainLine *line)
{
  if (line->num == line->den)
    return;
  g_string_append_printf (out, " x %" G_GINT64_FORMAT, line->num);
  if (line->den != 1)
    g_string_append_printf (out, "/%" G_GINT64_FORMAT, line->den);
}

/* One term of a step's minutes, "6 ft x 0.4 min", with a plus in front of all but the first. */
static void
append_term (GString *out, guint *n, DuctUnit unit, gint64 quantity, gint64 minutes)
{
  if (minutes == 0)
    return;
  g_autofree char *text = figure (unit, quantity, "");
  g_autofree char *each = decimal_print (minutes, LABOUR_MINUTE_DECIMALS, 0, FALSE);
  g_string_append (out, (*n)++ > 0 ? " + " : "");
  g_string_append_printf (out, _ ("%s x %s min"), text, each);
}

/* A factor on minutes by what it comes from: " x 1.1 for conditions x 0.93 for learning". */
static void
append_parts (GString *out, const CostExplainLine *line)
{
  /* Each product was rounded to a millionth: what is left is known to one digit less. */
  double conditions = (double) line->factor_ppm / 1e6 / ((double) line->lost_ppm / 1e6) / ((double) line->learned_ppm / 1e6)
                      / ((double) line->remade_ppm / 1e6);
  gint64 rest = (gint64) round (conditions * 1e5) * 10;
  g_autofree char *named = decimal_print (rest, 6, 2, FALSE), *lost = decimal_print (line->lost_ppm, 6, 2, FALSE);
  g_autofree char *learned = decimal_print (line->learned_ppm, 6, 2, FALSE), *remade = decimal_print (line->remade_ppm, 6, 2, FALSE);

  if (rest != 1000000)
    g_string_append_printf (out, _ (" x %s for conditions"), named);
  if (line->lost_ppm != 1000000)
    g_string_append_printf (out, _ (" x %s for loss of output in overtime"), lost);
  if (line->learned_ppm != 1000000)
    g_string_append_printf (out, _ (" x %s for learning"), learned);
  if (line->remade_ppm != 1000000)
    g_string_append_printf (out, _ (" x %s for joints remade"), remade);
}

static void
append_factors (GString *out, const CostExplainLine *line)
{
  g_autofree char *factor = decimal_print (line->factor_ppm, 6, 2, FALSE);

  if (line->factor_ppm == 1000000)
    return;
  if (line->shared)
    g_string_append_printf (out, _ (" x %s, shared by pieces raised together"), factor);
  else if (!line->step)
    g_string_append_printf (out, _ (" x %s for joints remade"), factor);
  else if (line->lost_ppm == 1000000 && line->learned_ppm == 1000000 && line->remade_ppm == 1000000)
    g_string_append_printf (out, _ (" x %s for conditions"), factor);
  else
    append_parts (out, line);
}

/* "; x 4 pieces x 1.1 conditions x 92.00 = 33.9204": from one piece to the money of the lot. @money in 1e-10. */
static void
append_money (GString *out, const CostExplainLine *line, gint64 price, const char *unit, NumWide money)
{
  g_autofree char *each = decimal_print (price, MONEY_PRICE_DECIMALS, 2, TRUE);
  g_autofree char *sum = decimal_print (money_round (money, MONEY_PRICE_DECIMALS), MONEY_PRICE_DECIMALS, 2, TRUE);

  g_string_append (out, ";");
  if (line->pieces != 1)
    g_string_append_printf (out, _ (" x %d pieces"), (int) line->pieces);
  append_factors (out, line);
  if (strcmp (unit, "each") == 0)
    g_string_append_printf (out, _ (" x %s each = %s"), each, sum);
  else
    g_string_append_printf (out, _ (" x %s a %s = %s"), each, unit, sum);
}

static void
step_words (const CostBasis *b, const CostExplainLine *line, GString *out)
{
  const LabourStep *step = catalogue_step (b->catalogue, line->target);
  /* 1 ms is 1/60 000 of a minute: thousandths are enough to read. */
  g_autofree char *minutes = decimal_print (num_div (line->amount, 60), 3, 3, FALSE);
  GString *terms = g_string_new (NULL);
  guint n = 0;

  append_term (terms, &n, duct_driver_info (line->driver)->unit == DUCT_UNIT_AREA ? DUCT_UNIT_AREA : DUCT_UNIT_COUNT, line->count,
               line->fixed);
  append_term (terms, &n, DUCT_UNIT_LENGTH, line->length, line->per_ft);
  append_term (terms, &n, DUCT_UNIT_MASS, line->mass, line->per_lb);
  g_string_append_printf (out, _ ("%s (%s): "), step->key, labour_place_key (line->place));
  if (n > 1 && line->num != line->den)
    g_string_append_printf (out, "(%s)", terms->str);
  else
    g_string_append (out, n > 0 ? terms->str : "0");
  g_string_free (terms, TRUE);
  append_amount (out, line);
  g_string_append_printf (out, _ (" = %s worker-minutes a piece"), minutes);
  append_money (out, line, b->rate[step->crew], _ ("worker-hour"),
                num_wide_div (line->money, COST_LABOUR_DEN / 10000 / 1000000));
}

static void
item_words (const CostBasis *b, const CostExplainLine *line, GString *out)
{
  const CostItem *item = catalogue_item (b->catalogue, line->target);
  g_autofree char *count = figure (duct_driver_info (line->driver)->unit, line->count, item->unit);
  gboolean area = duct_driver_info (line->driver)->unit == DUCT_UNIT_AREA;
  /* Areas are known to a whole mm2: more digits of square feet would be those of that rounding. */
  g_autofree char *quantity = area ? decimal_print (num_div (line->amount, 100), MONEY_QUANTITY_DECIMALS - 2, 0, FALSE)
                                   : decimal_print (line->amount, MONEY_QUANTITY_DECIMALS, 0, FALSE);

  g_string_append_printf (out, "%s: %s", item->key, count);
  append_amount (out, line);
  if (line->overage_ppm > 0)
    {
      g_autofree char *over = decimal_print (1000000 + line->overage_ppm, 6, 2, FALSE);
      g_string_append_printf (out, _ (" x %s for overage"), over);
    }
  if (strcmp (item->unit, "each") == 0)
    g_string_append_printf (out, _ (" = %s a piece"), quantity);
  else
    g_string_append_printf (out, _ (" = %s %s a piece"), quantity, item->unit);
  append_money (out, line, line->price, item->unit, line->money);
}

char *
cost_explain_words (const CostBasis *basis, const CostExplainLine *line)
{
  GString *out = g_string_new (NULL);

  if (line->step)
    step_words (basis, line, out);
  else
    item_words (basis, line, out);
  return g_string_free (out, FALSE);
}

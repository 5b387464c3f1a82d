/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/basis-change.h"

#include "base/decimal.h"
#include "cost/catalogue-private.h"
#include "labour/money.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* "item.screw.price", "rate.field": as it was written. */
static char *
change_name (const CostChange *change)
{
  return g_strdup_printf ("%s%s%s.%s", change->object, *change->key ? "." : "", change->key, change->field);
}

/* @least to @most, both in the unit of @decimals. */
static gboolean
parse_figure (const CostChange *change, int decimals, gint64 least, gint64 most, gint64 *out, Fault **fault)
{
  g_autofree char *name = change_name (change);
  g_autoptr (Fault) inner = NULL;

  if (!decimal_parse (change->value, decimals, out, &inner))
    return fault_set (fault, fault_new (-1, inner->remedy, _ ("%s cannot be “%s”: %s"), name, change->value, inner->what));
  if (*out < least || *out > most)
    {
      g_autofree char *low = decimal_print (least, decimals, 0, TRUE), *high = decimal_print (most, decimals, 0, TRUE);
      g_autofree char *remedy = g_strdup_printf (_ ("enter a figure from %s to %s"), low, high);
      return fault_set (fault, fault_new (-1, remedy, _ ("%s cannot be “%s”"), name, change->value));
    }
  return TRUE;
}

static gboolean
unknown (const CostChange *change, Fault **fault)
{
  g_autofree char *name = change_name (change);

  return fault_set (fault, fault_new (-1, _ ("use a key of the catalogue and one of the fields price, overage, low, likely, high, "
                                             "rate, amount"),
                                      _ ("there is no figure “%s”"), name));
}

static gboolean
change_item (CostBasis *b, const CostChange *change, Fault **fault)
{
  int i = catalogue_find_item (b->catalogue, change->key);

  if (i < 0)
    return unknown (change, fault);
  if (strcmp (change->field, "price") == 0)
    return parse_figure (change, 4, 0, G_GINT64_CONSTANT (100000000000), &b->price[i], fault);
  if (strcmp (change->field, "overage") == 0)
    return parse_figure (change, 4, 0, 1000000, &b->overage_ppm[i], fault);
  return unknown (change, fault);
}

/* A figure of a step that a change names: "likely" is the fixed part, "likely_per_ft" and "likely_per_lb" the others. */
typedef enum
{
  PART_FIXED,
  PART_PER_FT,
  PART_PER_LB,
} Part;

static gint64 *
part_of (LabourBand *band, Part part)
{
  return part == PART_FIXED ? band->fixed : part == PART_PER_FT ? band->per_ft : band->per_lb;
}

/* FALSE when the change names no figure of a step that there is. */
static gboolean
step_figure (const CostBasis *b, const CostChange *change, int *step, int *point, Part *part)
{
  static const char *const points[LABOUR_N_POINTS] = { "low", "likely", "high" };
  const char *rest;

  *step = labour_find_step (b->catalogue->labour, change->key);
  *point = -1;
  for (int p = 0; p < LABOUR_N_POINTS; p++)
    if (g_str_has_prefix (change->field, points[p]))
      *point = p;
  if (*step < 0 || *point < 0)
    return FALSE;
  rest = change->field + strlen (points[*point]);
  *part = !*rest ? PART_FIXED : strcmp (rest, "_per_ft") == 0 ? PART_PER_FT : PART_PER_LB;
  return *part != PART_PER_LB || strcmp (rest, "_per_lb") == 0;
}

/* Reaches every handling band of the step. The likely minutes carry the two others along as far as low <= likely <= high asks for; low
 * and high carry nothing: check_step() looks at them when all changes are in, as the likely may still come. */
static gboolean
change_step (CostBasis *b, const CostChange *change, Fault **fault)
{
  int step, point;
  Part part;
  gint64 v;

  if (!step_figure (b, change, &step, &point, &part))
    return unknown (change, fault);
  if (!parse_figure (change, LABOUR_MINUTE_DECIMALS, 0, G_GINT64_CONSTANT (10000) * 1000000000, &v, fault))
    return FALSE;
  GArray *bands = g_ptr_array_index (b->bands, (guint) step);
  for (guint k = 0; k < bands->len; k++)
    {
      gint64 *figure = part_of (&g_array_index (bands, LabourBand, k), part);
      figure[point] = v;
      if (point == LABOUR_LIKELY)
        {
          figure[LABOUR_LOW] = MIN (figure[LABOUR_LOW], v);
          figure[LABOUR_HIGH] = MAX (figure[LABOUR_HIGH], v);
        }
    }
  return TRUE;
}

/* Low above likely or high below it: refused with the nearest figure that every band takes. */
static gboolean
check_step (CostBasis *b, const CostChange *change, Fault **fault)
{
  gint64 nearest = -1;
  int step, point;
  Part part;

  if (strcmp (change->object, "step") != 0 || !step_figure (b, change, &step, &point, &part) || point == LABOUR_LIKELY)
    return TRUE;
  GArray *bands = g_ptr_array_index (b->bands, (guint) step);
  gboolean low = point == LABOUR_LOW, crosses = FALSE;
  for (guint k = 0; k < bands->len; k++)
    {
      const gint64 *figure = part_of (&g_array_index (bands, LabourBand, k), part);
      gint64 likely = figure[LABOUR_LIKELY];
      crosses = crosses || (low ? figure[point] > likely : figure[point] < likely);
      nearest = nearest < 0 ? likely : low ? MIN (nearest, likely) : MAX (nearest, likely);
    }
  if (!crosses)
    return TRUE;
  g_autofree char *name = change_name (change), *figure = decimal_print (nearest, LABOUR_MINUTE_DECIMALS, 0, FALSE);
  g_autofree char *remedy = g_strdup_printf (low ? _ ("enter at most %s, or change the likely minutes too")
                                                 : _ ("enter at least %s, or change the likely minutes too"),
                                             figure);
  if (bands->len > 1)
    return fault_set (fault, fault_new (-1, remedy, low ? _ ("%s cannot be “%s”: a change reaches all %u handling bands of the step, and "
                                                             "in one of them the likely minutes are below it")
                                                        : _ ("%s cannot be “%s”: a change reaches all %u handling bands of the step, and "
                                                             "in one of them the likely minutes are above it"),
                                        name, change->value, bands->len));
  return fault_set (fault, fault_new (-1, remedy, low ? _ ("%s cannot be “%s”: the likely minutes are %s, and low is never above them")
                                                      : _ ("%s cannot be “%s”: the likely minutes are %s, and high is never below them"),
                                      name, change->value, figure));
}

static gboolean
change_rate (CostBasis *b, const CostChange *change, Fault **fault)
{
  const GPtrArray *crews = b->catalogue->labour->crews;
  gboolean shop = strcmp (change->field, "shop") == 0, found = FALSE;
  gint64 v;

  if (!parse_figure (change, 4, 0, G_GINT64_CONSTANT (100000000), &v, fault))
    return FALSE;
  for (guint i = 0; i < crews->len; i++)
    {
      const LabourCrew *crew = g_ptr_array_index (crews, i);
      /* rate.field and rate.shop reach every crew there; rate.CREW.hour one crew. */
      gboolean side = !*change->key && (shop || strcmp (change->field, "field") == 0) && crew->shop == shop;
      gboolean one = strcmp (change->field, "hour") == 0 && strcmp (crew->key, change->key) == 0;
      if (side || one)
        {
          b->rate[i] = v;
          found = TRUE;
        }
    }
  return found ? TRUE : unknown (change, fault);
}

static gboolean
change_buildup (CostBasis *b, const CostChange *change, Fault **fault)
{
  for (guint i = 0; i < b->buildup->len; i++)
    {
      CostBuildLine *line = g_ptr_array_index (b->buildup, i);
      if (strcmp (line->key, change->key) != 0)
        continue;
      gboolean rated = line->op == COST_OP_RATE || line->op == COST_OP_MARKUP || line->op == COST_OP_MARGIN;
      if (rated && strcmp (change->field, "rate") == 0)
        return parse_figure (change, 4, -10000000, line->op == COST_OP_MARGIN ? 999999 : 10000000, &line->rate_ppm, fault);
      if (rated && line->op != COST_OP_RATE && strcmp (change->field, "op") == 0)
        {
          /* profit as a share of the cost below or of the price */
          gboolean margin = strcmp (change->value, "margin") == 0;
          if (!margin && strcmp (change->value, "markup") != 0)
            return unknown (change, fault);
          if (margin && line->rate_ppm >= 1000000)
            return fault_set (fault, fault_new (0, _ ("lower the rate first"), _ ("a margin is below 100 %%")));
          line->op = margin ? COST_OP_MARGIN : COST_OP_MARKUP;
          return TRUE;
        }
      if (line->op == COST_OP_AMOUNT && strcmp (change->field, "amount") == 0)
        return parse_figure (change, 4, -G_GINT64_CONSTANT (100000000000000), G_GINT64_CONSTANT (100000000000000),
                             &line->amount, fault);
      break;
    }
  return unknown (change, fault);
}

/* "overtime.field.paid": paid hours over hours worked of every crew there, in the place of its own; what is on the wage follows. */
static gboolean
change_overtime (CostBasis *b, const CostChange *change, Fault **fault)
{
  const GPtrArray *crews = b->catalogue->labour->crews;
  gboolean shop = strcmp (change->key, "shop") == 0;
  gint64 paid;

  if ((!shop && strcmp (change->key, "field") != 0) || strcmp (change->field, "paid") != 0)
    return unknown (change, fault);
  if (!parse_figure (change, LABOUR_PAID_DECIMALS, LABOUR_PAID_ONE, 3 * LABOUR_PAID_ONE, &paid, fault))
    return FALSE;
  for (guint i = 0; i < crews->len; i++)
    {
      const LabourCrew *crew = g_ptr_array_index (crews, i);
      if (crew->shop == shop)
        b->rate[i] = labour_crew_rate_for (crew, paid);
    }
  return TRUE;
}

static gboolean
apply_change (CostBasis *b, const CostChange *change, Fault **fault)
{
  if (strcmp (change->object, "item") == 0)
    return change_item (b, change, fault);
  if (strcmp (change->object, "step") == 0)
    return change_step (b, change, fault);
  if (strcmp (change->object, "rate") == 0)
    return change_rate (b, change, fault);
  if (strcmp (change->object, "buildup") == 0)
    return change_buildup (b, change, fault);
  if (strcmp (change->object, "overtime") == 0)
    return change_overtime (b, change, fault);
  return unknown (change, fault);
}

gboolean
cost_basis_change (CostBasis *b, const GPtrArray *changes, Fault **fault)
{
  for (guint i = 0; changes && i < changes->len; i++)
    {
      if (!apply_change (b, g_ptr_array_index (changes, i), fault))
        return FALSE;
      g_ptr_array_add (b->changes, cost_change_copy (g_ptr_array_index (changes, i)));
    }
  for (guint i = 0; changes && i < changes->len; i++)
    if (!check_step (b, g_ptr_array_index (changes, i), fault))
      return FALSE;
  return TRUE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/basis.h"

#include "base/num.h"
#include "cost/basis-change.h"
#include "cost/catalogue-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Whether a recipe line has fixed minutes that pieces raised together spend once. */
static gboolean
shares (const CostBasis *b, const CostRecipeLine *line)
{
  return catalogue_step (b->catalogue, line->target)->shared && (line->place == LABOUR_AIR || line->place == LABOUR_FLOOR);
}

static int
slot_of (CostBasis *b, GArray *slots, int step, LabourPlace place, gboolean shared)
{
  for (guint i = 0; i < slots->len; i++)
    {
      const CostSlot *slot = &g_array_index (slots, CostSlot, i);
      if (slot->step == step && slot->place == place && slot->shared == shared)
        return (int) i;
    }
  const LabourStep *info = catalogue_step (b->catalogue, step);
  CostSlot slot = { step, place, info->group, info->crew, shared };
  g_array_append_val (slots, slot);
  return (int) slots->len - 1;
}

static gboolean
find_slots (CostBasis *b, Fault **fault)
{
  g_autoptr (GArray) slots = g_array_new (FALSE, TRUE, sizeof (CostSlot));
  const GPtrArray *crews = b->catalogue->labour->crews;

  for (guint i = 0; i < b->catalogue->recipes->len; i++)
    {
      const CostRecipeLine *line = g_ptr_array_index (b->catalogue->recipes, i);
      if (!line->step)
        continue;
      const LabourStep *step = catalogue_step (b->catalogue, line->target);
      const LabourCrew *crew = g_ptr_array_index (crews, (guint) step->crew);
      if (crew->shop != (line->place == LABOUR_SHOP))
        return fault_set (fault, fault_new (-1, _ ("give the step a crew of that place, or the recipe line another place"),
                                            _ ("recipe part “%s” has the step “%s” at “%s”, but its crew works elsewhere"),
                                            line->part, step->key, labour_place_key (line->place)));
      slot_of (b, slots, line->target, line->place, FALSE);
      if (shares (b, line))
        slot_of (b, slots, line->target, line->place, TRUE);
    }
  /* Minutes entered on counted lines go to the first crew of their side. */
  for (int shop = 0; shop < 2; shop++)
    {
      CostSlot slot = { -1, shop ? LABOUR_SHOP : LABOUR_FLOOR, LABOUR_GENERAL, -1, FALSE };
      for (guint i = 0; i < crews->len && slot.crew < 0; i++)
        if (((LabourCrew *) g_ptr_array_index (crews, i))->shop == (shop == 1))
          slot.crew = (int) i;
      if (slot.crew < 0)
        return fault_set (fault, fault_new (-1, _ ("add one to the crews"), shop ? _ ("there is no shop crew")
                                                                                 : _ ("there is no field crew")));
      b->counted_slot[shop] = (int) slots->len;
      g_array_append_val (slots, slot);
    }
  b->n_slots = (int) slots->len;
  b->slots = (CostSlot *) g_array_free (g_steal_pointer (&slots), FALSE);
  b->n_vector = b->n_items + b->n_slots + COST_N_MEASURES;
  return TRUE;
}

/* a / b as a coefficient; FALSE when it does not fit. */
static gboolean
coefficient (NumWide a, NumWide b, gint64 *out)
{
  return num_narrow (num_wide_div (a, b), out);
}

/* The most a line can give on one piece must stay below 2^62, so that the loop needs no checks. */
static gboolean
proved (const CostLine *line, const CostCoef *k)
{
  NumWide most = (NumWide) k->a * duct_slot_most (line->count) + (NumWide) k->b * duct_slot_most (line->length)
                 + (NumWide) k->c * duct_slot_most (line->mass);
  return most < ((NumWide) 1 << 62);
}

static gboolean
too_large (const CostRecipeLine *recipe, Fault **fault)
{
  return fault_set (fault, fault_new (-1, _ ("lower the amount or the minutes of this line"),
                                      _ ("recipe part “%s”: the line on “%s” is too large to compute exactly"), recipe->part,
                                      duct_driver_info (recipe->driver)->key));
}

/* Driver units in one catalogue unit (ft, lb, ft2, or m, kg, m2 where the item is sold so), as a fraction. */
static void
driver_scale (DuctUnit unit, const char *item_unit, NumWide *num, NumWide *den)
{
  *num = 1;
  *den = 1000; /* counts in thousandths */
  if (unit == DUCT_UNIT_LENGTH)
    *den = strcmp (item_unit, "m") == 0 ? 1000000 : 304800;
  else if (unit == DUCT_UNIT_MASS)
    {
      gboolean kg = strcmp (item_unit, "kg") == 0;
      *num = kg ? 1 : 100;
      *den = kg ? 1000000 : 45359237;
    }
  else if (unit == DUCT_UNIT_AREA)
    {
      gboolean m2 = strcmp (item_unit, "m2") == 0;
      *num = m2 ? 1 : 100;
      *den = m2 ? 1000000 : 9290304;
    }
}

static void
append_line (CostBasis *b, GArray *lines, CostLine *line, const CostCoef *coef)
{
  line->first = b->coefs[0]->len;
  line->n_coefs = 1;
  for (int p = 0; p < LABOUR_N_POINTS; p++)
    g_array_append_val (b->coefs[p], *coef);
  g_array_append_val (lines, *line);
}

/* An item line, and beside it the lines of the measures that the item feeds. */
static gboolean
compile_item (CostBasis *b, GArray *lines, int recipe_index, Fault **fault)
{
  const CostRecipeLine *recipe = g_ptr_array_index (b->catalogue->recipes, (guint) recipe_index);
  const CostItem *item = catalogue_item (b->catalogue, recipe->target);
  CostLine line = { .slot = recipe->target, .count = (gint16) recipe->driver, .recipe = recipe_index };
  CostCoef coef = { .upto_mg = G_MAXINT64 };
  NumWide num, den, net;

  driver_scale (duct_driver_info (recipe->driver)->unit, item->unit, &num, &den);
  net = num * recipe->num * COST_DEN; /* units of the item a driver unit, x den, x COST_DEN */
  den *= recipe->den;
  if (!coefficient (net * (1000000 + b->overage_ppm[recipe->target]), den, &coef.a) || !proved (&line, &coef))
    return too_large (recipe, fault);
  append_line (b, lines, &line, &coef);
  if (item->mg_per_unit > 0)
    {
      line.slot = cost_measure_slot (b, COST_SHIPPED_MG);
      if (!coefficient (net * item->mg_per_unit, den, &coef.a) || !proved (&line, &coef))
        return too_large (recipe, fault);
      append_line (b, lines, &line, &coef);
    }
  if (item->use == COST_USE_BOLT || item->use == COST_USE_FASTENER)
    {
      line.slot = cost_measure_slot (b, item->use == COST_USE_BOLT ? COST_BOLTS : COST_FASTENERS);
      if (!coefficient (net * 1000, den, &coef.a) || !proved (&line, &coef))
        return too_large (recipe, fault);
      append_line (b, lines, &line, &coef);
    }
  return TRUE;
}

/* Which slots of a lot a step on this driver multiplies; a fault when the step asks for what the driver does not carry. */
static gboolean
step_slots (const CostRecipeLine *recipe, const GArray *bands, const char *key, CostLine *line, Fault **fault)
{
  const DuctDriverInfo *driver = duct_driver_info (recipe->driver);
  gboolean fixed = FALSE, per_ft = FALSE, per_lb = FALSE;

  for (guint i = 0; i < bands->len; i++)
    {
      const LabourBand *band = &g_array_index (bands, LabourBand, i);
      fixed = fixed || band->fixed[LABOUR_HIGH] > 0;
      per_ft = per_ft || band->per_ft[LABOUR_HIGH] > 0;
      per_lb = per_lb || band->per_lb[LABOUR_HIGH] > 0;
    }
  /* Fixed minutes on an area are minutes a square foot. */
  line->count = (gint16) (driver->unit == DUCT_UNIT_COUNT || driver->unit == DUCT_UNIT_AREA ? (int) recipe->driver : -1);
  line->length = (gint16) (driver->unit == DUCT_UNIT_LENGTH ? (int) recipe->driver : driver->length_slot);
  line->mass = (gint16) (driver->unit == DUCT_UNIT_MASS ? (int) recipe->driver : driver->mass_slot);
  if ((fixed && line->count < 0) || (per_ft && line->length < 0) || (per_lb && line->mass < 0))
    return fault_set (fault, fault_new (-1, _ ("use a driver that carries it, or clear those minutes"),
                                        _ ("the step “%s” has minutes %s, but the driver “%s” carries none"), key,
                                        fixed && line->count < 0     ? _ ("a count")
                                        : per_ft && line->length < 0 ? _ ("a foot")
                                                                     : _ ("a pound"),
                                        driver->key));
  line->count = MAX (line->count, 0);
  line->length = MAX (line->length, 0);
  line->mass = MAX (line->mass, 0);
  return TRUE;
}

/* Beside a step's line the fixed part of it alone; smaller in every coefficient, so it fits where that one fits. */
static void
append_shared (CostBasis *b, GArray *lines, const CostLine *whole, int slot)
{
  CostLine line = *whole;

  line.slot = b->n_items + slot;
  line.first = b->coefs[0]->len;
  for (int p = 0; p < LABOUR_N_POINTS; p++)
    for (int i = 0; i < whole->n_coefs; i++)
      {
        CostCoef k = g_array_index (b->coefs[p], CostCoef, whole->first + (guint) i);
        k.b = k.c = 0;
        g_array_append_val (b->coefs[p], k);
      }
  g_array_append_val (lines, line);
}

static gboolean
compile_step (CostBasis *b, GArray *lines, GArray *slots, int recipe_index, Fault **fault)
{
  const CostRecipeLine *recipe = g_ptr_array_index (b->catalogue->recipes, (guint) recipe_index);
  const GArray *bands = g_ptr_array_index (b->bands, (guint) recipe->target);
  CostLine line = { .recipe = recipe_index, .first = b->coefs[0]->len, .n_coefs = (gint16) bands->len };
  gboolean area = duct_driver_info (recipe->driver)->unit == DUCT_UNIT_AREA;
  NumWide unit, units;

  driver_scale (area ? DUCT_UNIT_AREA : DUCT_UNIT_COUNT, "", &unit, &units);
  line.slot = b->n_items + slot_of (b, slots, recipe->target, recipe->place, FALSE);
  if (!step_slots (recipe, bands, catalogue_step (b->catalogue, recipe->target)->key, &line, fault))
    return FALSE;
  for (guint i = 0; i < bands->len; i++)
    for (int p = 0; p < LABOUR_N_POINTS; p++)
      {
        const LabourBand *band = &g_array_index (bands, LabourBand, i);
        CostCoef k = { .upto_mg = band->upto_mg };
        /* 1e-9 minute = 6e-5 ms */
        NumWide scale = (NumWide) 6 * recipe->num * COST_DEN, den = (NumWide) 100000 * recipe->den;
        if (!coefficient (scale * band->fixed[p] * unit * recipe->fixed_ppm, den * units * 1000000, &k.a)
            || !coefficient (scale * band->per_ft[p], den * 304800, &k.b)
            || !coefficient (scale * band->per_lb[p] * 100, den * 45359237, &k.c) || !proved (&line, &k))
          return too_large (recipe, fault);
        g_array_append_val (b->coefs[p], k);
      }
  g_array_append_val (lines, line);
  if (shares (b, recipe))
    append_shared (b, lines, &line, slot_of (b, slots, recipe->target, recipe->place, TRUE));
  return TRUE;
}

/* Whether runs of a kind are ever priced by a method: round kinds by the methods whose connection is round, the others by the rest. */
static gboolean
made_by (const Catalogue *catalogue, int method, DuctKind kind)
{
  DuctSection section = duct_kind_info (kind)->section;
  int connection = catalogue_method (catalogue, method)->connection;

  return duct_kind_measured (kind)
         && (section == DUCT_RECT_OR_ROUND || section == duct_rules_connection (catalogue->rules, connection)->section);
}

static gboolean
compile_methods (CostBasis *b, Fault **fault)
{
  g_autoptr (GArray) slots = g_array_new (FALSE, TRUE, sizeof (CostSlot));

  g_array_append_vals (slots, b->slots, (guint) b->n_slots);
  b->n_methods = (int) b->catalogue->methods->len;
  b->lines = g_new0 (GArray *, (gsize) b->n_methods * DUCT_N_KINDS);
  for (int i = 0; i < b->n_methods * DUCT_N_KINDS; i++)
    b->lines[i] = g_array_new (FALSE, TRUE, sizeof (CostLine));
  for (int m = 0; m < b->n_methods; m++)
    for (guint i = 0; i < b->catalogue->recipes->len; i++)
      {
        const CostRecipeLine *recipe = g_ptr_array_index (b->catalogue->recipes, i);
        if (!g_strv_contains ((const char *const *) catalogue_method (b->catalogue, m)->parts, recipe->part))
          continue;
        for (int kind = 0; kind < DUCT_N_KINDS; kind++)
          {
            GArray *lines = b->lines[m * DUCT_N_KINDS + kind];
            if (made_by (b->catalogue, m, (DuctKind) kind) && (recipe->kinds & (1u << kind))
                && !(recipe->step ? compile_step (b, lines, slots, (int) i, fault) : compile_item (b, lines, (int) i, fault)))
              return FALSE;
          }
      }
  return TRUE;
}

/* The loop reads one stream of lines instead of lines and coefficients apart. */
static void
make_fast (CostBasis *b)
{
  int n = b->n_methods * DUCT_N_KINDS;

  for (int p = 0; p < LABOUR_N_POINTS; p++)
    {
      b->fast[p] = g_new0 (CostFast *, (gsize) n);
      for (int i = 0; i < n; i++)
        {
          b->fast[p][i] = g_new0 (CostFast, MAX (b->lines[i]->len, 1));
          for (guint k = 0; k < b->lines[i]->len; k++)
            {
              const CostLine *line = &g_array_index (b->lines[i], CostLine, k);
              const CostCoef *coef = &g_array_index (b->coefs[p], CostCoef, line->first);
              b->fast[p][i][k] = (CostFast) { coef->a, coef->b, coef->c, (guint16) line->count, (guint16) line->length,
                                              (guint16) line->mass, (guint16) line->slot, (guint16) line->n_coefs, (guint16) k };
            }
        }
    }
}

static GPtrArray *
copy_buildup (const GPtrArray *lines)
{
  GPtrArray *copy = g_ptr_array_new_with_free_func (cost_build_line_free);

  for (guint i = 0; i < lines->len; i++)
    {
      CostBuildLine *line = g_memdup2 (g_ptr_array_index (lines, i), sizeof (CostBuildLine));
      line->key = g_strdup (line->key);
      line->label = g_strdup (line->label);
      line->refs = g_array_copy (line->refs);
      g_ptr_array_add (copy, line);
    }
  return copy;
}

static gboolean
compile (CostBasis *b, const GPtrArray *changes, const CsvTable *buildup, Fault **fault)
{
  const Catalogue *catalogue = b->catalogue;

  b->n_items = (int) catalogue->items->len;
  b->price = g_new0 (gint64, (gsize) b->n_items);
  b->overage_ppm = g_new0 (gint64, (gsize) b->n_items);
  for (int i = 0; i < b->n_items; i++)
    {
      b->price[i] = catalogue_item (catalogue, i)->price;
      b->overage_ppm[i] = catalogue_item (catalogue, i)->overage_ppm;
    }
  b->rate = g_new0 (gint64, catalogue->labour->crews->len);
  for (guint i = 0; i < catalogue->labour->crews->len; i++)
    b->rate[i] = ((LabourCrew *) g_ptr_array_index (catalogue->labour->crews, i))->rate;
  for (guint i = 0; i < catalogue->labour->steps->len; i++)
    g_ptr_array_add (b->bands, g_array_copy (catalogue_step (catalogue, (int) i)->bands));
  if (buildup)
    {
      g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
      b->buildup = cost_build_lines_new (buildup, faults);
      if (!b->buildup)
        {
          g_autofree char *words = csv_fault_words (g_ptr_array_index (faults, 0));
          return fault_set (fault, fault_new (-1, _ ("correct the build-up"), "%s", words));
        }
    }
  else
    b->buildup = copy_buildup (catalogue->buildup);
  b->changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  if (!cost_basis_change (b, changes, fault))
    return FALSE;
  if (!find_slots (b, fault) || !compile_methods (b, fault))
    return FALSE;
  make_fast (b);
  return TRUE;
}

CostBasis *
cost_basis_new (Catalogue *catalogue, const GPtrArray *changes, const CsvTable *buildup, Fault **fault)
{
  g_autoptr (CostBasis) b = g_new0 (CostBasis, 1);

  g_atomic_ref_count_init (&b->refs);
  b->catalogue = catalogue_ref (catalogue);
  b->bands = g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
  for (int p = 0; p < LABOUR_N_POINTS; p++)
    b->coefs[p] = g_array_new (FALSE, TRUE, sizeof (CostCoef));
  return compile (b, changes, buildup, fault) ? g_steal_pointer (&b) : NULL;
}

CostBasis *
cost_basis_ref (CostBasis *basis)
{
  g_atomic_ref_count_inc (&basis->refs);
  return basis;
}

void
cost_basis_unref (CostBasis *basis)
{
  if (!g_atomic_ref_count_dec (&basis->refs))
    return;
  for (int i = 0; basis->lines && i < basis->n_methods * DUCT_N_KINDS; i++)
    g_array_unref (basis->lines[i]);
  for (int p = 0; p < LABOUR_N_POINTS; p++)
    {
      for (int i = 0; basis->fast[p] && i < basis->n_methods * DUCT_N_KINDS; i++)
        g_free (basis->fast[p][i]);
      g_free (basis->fast[p]);
    }
  for (int p = 0; p < LABOUR_N_POINTS; p++)
    g_array_unref (basis->coefs[p]);
  g_clear_pointer (&basis->buildup, g_ptr_array_unref);
  g_clear_pointer (&basis->changes, g_ptr_array_unref);
  g_ptr_array_unref (basis->bands);
  catalogue_unref (basis->catalogue);
  g_free (basis->lines);
  g_free (basis->slots);
  g_free (basis->price);
  g_free (basis->overage_ppm);
  g_free (basis->rate);
  g_free (basis);
}

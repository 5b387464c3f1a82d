/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Runs priced with the starter tables, and the piece worked by hand. */

#include "fixture.h"

static Catalogue *starter;

static inline CostBasis *
basis_new (const char *const *changes)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  Fault *fault = NULL;
  CostBasis *basis;

  for (; changes && *changes; changes++)
    g_ptr_array_add (list, cost_change_parse (*changes, &fault));
  g_assert_null (fault);
  basis = cost_basis_new (starter, list, NULL, &fault);
  g_assert_null (fault);
  return basis;
}

static inline gint64 *
price (const CostBasis *basis, const char *method, DuctShape *s, LabourPoint point)
{
  int m = catalogue_find_method (basis->catalogue, method);
  gint64 *vector = g_new (gint64, basis->n_vector);
  DuctMeasure measure;

  fixture_measure (basis->catalogue->rules, s,
                   duct_rules_connection (basis->catalogue->rules, catalogue_method (basis->catalogue, m)->connection)
                       ->key,
                   &measure);
  cost_price_measure (basis, m, (DuctKind) s->kind, &measure, point, vector);
  return vector;
}

/* 24x12, class 2, 24 gauge, 5 ft, one joint. */
static inline DuctShape
hand_piece (void)
{
  DuctShape s = fixture_shape (DUCT_STRAIGHT, 24, 12, 2);

  s.dim[DUCT_DIM_LENGTH] = 5 * FT;
  return s;
}

static inline double
minutes (const CostBasis *basis, const gint64 *vector, const char *step, LabourPlace place)
{
  int key = labour_find_step (basis->catalogue->labour, step);

  g_assert_cmpint (key, >=, 0);
  for (int i = 0; i < basis->n_slots; i++)
    if (basis->slots[i].step == key && basis->slots[i].place == place && !basis->slots[i].shared)
      return (double) vector[basis->n_items + i] / 60000;
  g_assert_not_reached ();
  return 0;
}

static inline double
quantity (const CostBasis *basis, const gint64 *vector, const char *item)
{
  int key = catalogue_find_item (basis->catalogue, item);

  g_assert_cmpint (key, >=, 0);
  return (double) vector[key] / 1e6;
}

/* Half a millisecond a step. */
#define MINUTE (0.5 / 60000 + 1e-12)

#define LB (6.125 * 5 * 1.156) /* 35.402: girth and seam x length x lb/ft2 of 24 gauge */

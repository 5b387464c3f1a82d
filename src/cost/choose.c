/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/choose.h"

static void
candidate_clear (gpointer data)
{
  g_clear_pointer (&((CostCandidate *) data)->candidate.fault, fault_free);
}

/* Candidates come in order of gauge and parts; sorting keeps it among equals. */
static int
compare (gconstpointer a, gconstpointer b)
{
  const CostCandidate *x = a, *y = b;

  if (x->priced != y->priced)
    return x->priced ? -1 : 1;
  if (!x->priced)
    return 0;
  if (x->cost != y->cost)
    return x->cost < y->cost ? -1 : 1;
  return x->net_mg == y->net_mg ? 0 : x->net_mg < y->net_mg ? -1 : 1;
}

typedef struct
{
  const CostBasis *basis;
  int method, line;
  const LabourFactors *factors;
  gint64 floor_ppm;
  gint64 *vector;
  double fixed; /* what the line comes to without any run */
} Pricing;

static void
price (const Pricing *p, const DuctShape *shape, CostCandidate *c)
{
  DuctMeasure measure;
  CostSums sums = { 0 };
  DuctShape built;

  c->cost = 0;
  c->net_mg = 0;
  c->priced = FALSE;
  if (!c->candidate.allowed)
    return;
  duct_candidate_shape (&c->candidate, shape, &built);
  if (!duct_measure (p->basis->catalogue->rules, &built, &c->candidate.build, &measure, NULL))
    return;
  cost_price_measure (p->basis, p->method, (DuctKind) shape->kind, &measure, LABOUR_LIKELY, p->vector);
  cost_sums_add (&sums, p->basis, p->vector, p->factors, p->floor_ppm, 1);
  c->cost = buildup_smooth (p->basis, &sums, p->line) - p->fixed;
  c->net_mg = p->vector[cost_measure_slot (p->basis, COST_NET_MG)];
  c->priced = TRUE;
}

CostChoice *
cost_choose (const CostBasis *basis, int method, int set, const DuctShape *shape, const DuctWishes *wishes,
             const LabourFactors *factors, gint64 floor_ppm, gboolean refused)
{
  int connection = catalogue_method (basis->catalogue, method)->connection;
  g_autoptr (GArray) found = duct_candidates (basis->catalogue->rules, set, connection, shape, wishes, refused);
  g_autofree gint64 *vector = g_new (gint64, (gsize) basis->n_vector);
  CostChoice *choice = g_new0 (CostChoice, 1);
  CostSums none = { 0 };
  Pricing pricing = { basis, method, buildup_find (basis, "cost"), factors, floor_ppm, vector, 0 };

  pricing.fixed = buildup_smooth (basis, &none, pricing.line);
  choice->list = g_array_new (FALSE, FALSE, sizeof (CostCandidate));
  g_array_set_clear_func (choice->list, candidate_clear);
  for (guint i = 0; i < found->len; i++)
    {
      DuctCandidate *from = &g_array_index (found, DuctCandidate, i);
      CostCandidate c = { .candidate = *from };
      from->fault = NULL;
      price (&pricing, shape, &c);
      g_array_append_val (choice->list, c);
    }
  g_array_sort (choice->list, compare);
  choice->best = choice->list->len > 0 && cost_choice_at (choice, 0)->priced ? 0 : -1;
  return choice;
}

void
cost_choice_free (CostChoice *choice)
{
  g_array_unref (choice->list);
  g_free (choice);
}

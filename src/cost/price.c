/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/basis.h"

#include <string.h>

const CostCoef *
cost_line_coef (const CostBasis *basis, const CostLine *line, LabourPoint point, gint64 piece_mg)
{
  const CostCoef *coef = &g_array_index (basis->coefs[point], CostCoef, line->first);

  for (gint16 i = 1; i < line->n_coefs && piece_mg > coef->upto_mg; i++)
    coef++;
  return coef;
}

/* Measures that are sums of drivers. */
static const struct
{
  CostMeasure measure;
  int slot[4]; /* behind the first: -1 or 0 none */
} plain[] = {
  { COST_PIECES, { DUCT_PIECE, -1 } },
  { COST_JOINTS, { DUCT_FLANGED_JOINT, DUCT_SD_JOINT, DUCT_COUPLED_JOINT, DUCT_RING_JOINT } },
  { COST_FLANGED_JOINTS, { DUCT_FLANGED_JOINT, -1 } },
  { COST_SD_JOINTS, { DUCT_SD_JOINT, -1 } },
  { COST_ENDS, { DUCT_END_MADE, -1 } },
  { COST_ENDS_OTHERS, { DUCT_END_OTHERS, -1 } },
  { COST_FRAMES, { DUCT_FRAME, -1 } },
  { COST_CORNERS, { DUCT_SLIPON_CORNER, DUCT_INTEGRAL_CORNER, -1 } },
  { COST_BARS, { DUCT_BAR, -1 } },
  { COST_FLANGE_UM, { DUCT_FLANGE_FT, DUCT_HEAVY_FLANGE_FT } },
  { COST_GASKET_UM, { DUCT_GASKET_FT, -1 } },
  { COST_CLEATS, { DUCT_CLEAT, -1 } },
  { COST_CLEAT_UM, { DUCT_CLEAT_FT, -1 } },
  { COST_SCREWS, { DUCT_SCREW, DUCT_ROUND_SCREW, -1 } },
  { COST_HANGERS, { DUCT_HANGER, DUCT_SUPPORT } },
  { COST_AREA_MM2, { DUCT_AREA_FT2, -1 } },
  { COST_NET_MG, { DUCT_NET_LB, -1 } },
  { COST_SHIPPED_MG, { DUCT_NET_LB, -1 } }, /* the lines of the items add to it */
};

/* cost_line_amount() on the loop's own copy of the line. */
static inline gint64
fast_amount (const CostBasis *basis, const GArray *lines, const CostFast *f, LabourPoint point, const gint64 *one)
{
  if (G_UNLIKELY (f->bands > 1))
    {
      const CostLine *line = &g_array_index (lines, CostLine, f->line);
      return cost_line_amount (line, cost_line_coef (basis, line, point, one[DUCT_PIECE_LB]), one);
    }
  gint64 x = f->a * one[f->count] + f->b * one[f->length] + f->c * one[f->mass];
  return (gint64) (((guint64) x + COST_DEN / 2) / COST_DEN);
}

void
cost_price_measure (const CostBasis *basis, int method, DuctKind kind, const DuctMeasure *measure, LabourPoint point,
                    gint64 *vector)
{
  const GArray *lines = basis->lines[method * DUCT_N_KINDS + (int) kind];
  const CostFast *fast = basis->fast[point][method * DUCT_N_KINDS + (int) kind];
  guint n = lines->len;
  gint64 *measures = vector + basis->n_items + basis->n_slots;

  memset (vector, 0, sizeof (gint64) * (gsize) basis->n_vector);
  measures[COST_RUNS] = 1000;
  for (int l = 0; l < measure->n_lots; l++)
    {
      const DuctLot *lot = &measure->lot[l];
      for (guint i = 0; i < n; i++)
        vector[fast[i].slot] += lot->n * fast_amount (basis, lines, &fast[i], point, lot->one);
      for (gsize i = 0; i < G_N_ELEMENTS (plain); i++)
        {
          gint64 one = lot->one[plain[i].slot[0]];
          for (gsize j = 1; j < G_N_ELEMENTS (plain[i].slot) && plain[i].slot[j] > 0; j++)
            one += lot->one[plain[i].slot[j]];
          measures[plain[i].measure] += lot->n * one;
        }
    }
}

int
cost_section_method (const CostBasis *basis, int method, const DuctShape *shape)
{
  const CostMethod *info = catalogue_method (basis->catalogue, method);

  if (shape->h == 0 && info->round >= 0
      && duct_rules_connection (basis->catalogue->rules, info->connection)->section != DUCT_ROUND)
    return info->round;
  return method;
}

int
cost_effective_method (const CostBasis *basis, int method, const DuctShape *shape, char **reason)
{
  int m = cost_section_method (basis, method, shape);

  if (reason)
    *reason = NULL;
  while (m >= 0)
    {
      const CostMethod *info = catalogue_method (basis->catalogue, m);
      /* Only the first refusal is told: it is the one about the method that was asked for. */
      if (duct_connection_allows (basis->catalogue->rules, info->connection, shape,
                                  reason && !*reason ? reason : NULL))
        return m;
      m = info->fallback;
    }
  return -1;
}

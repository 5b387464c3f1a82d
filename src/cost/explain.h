/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/buildup.h"

G_BEGIN_DECLS

/* One recipe line on one lot: the figures multiply and add to the figure explained. */
typedef struct
{
  int lot;            /* of the measure */
  gint64 pieces;      /* like pieces in the lot */
  DuctDriver driver;
  gint64 count;       /* driver on one piece: thousandths, um, mm2 or mg by its unit */
  gint64 length, mass; /* carried and used by the step, um, mg; 0 when not used */
  gint64 num, den;    /* the line's amount */
  gboolean step;
  gboolean shared;    /* what pieces raised together save of the fixed minutes: factor_ppm is below 0 */
  int target;         /* step or item */
  LabourPlace place;
  gint64 fixed, per_ft, per_lb; /* steps: 1e-9 minutes, as in force, the recipe's factor on the fixed part included */
  gint64 overage_ppm, price;    /* items: as in force; price in ten-thousandths */
  gint64 amount;      /* of one piece: millionths of a unit, or worker ms before conditions */
  gint64 factor_ppm;  /* conditions on it, loss of output, learning and remakes included; of items 1 000 000 and what remade joints take
                         again */
  gint64 lost_ppm, learned_ppm, remade_ppm; /* steps: what of that factor is loss of output, learning, joints made once more */
  NumWide money;      /* of the lot (all its pieces): items 1e-10; steps ms x ppm x rate, over COST_LABOUR_DEN */
  const char *source, *status;  /* of the step or item; borrowed from the catalogue */
} CostExplainLine;

/* Every line of one measured run (count 1) at the likely minutes, but those whose driver the piece has none of.
 * (transfer full): GArray of CostExplainLine; amounts are those of cost_price_measure() to the last digit. */
GArray *cost_explain (const CostBasis *basis, int method, DuctKind kind, const DuctMeasure *measure,
                      const LabourFactors *factors, gint64 floor_ppm);

/* One line of arithmetic in words, for the terminal and the detail pane; English units unless the item is sold by
 * metre, kilogram or square metre: "slip-on flange: 11.125 ft x 1.06 for overage = 11.7925 ft a piece; x 4 pieces x
 * 1.18 a ft = 55.6606". */
char *cost_explain_words (const CostBasis *basis, const CostExplainLine *line);

G_END_DECLS

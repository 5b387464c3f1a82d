/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/rests.h"

#include <string.h>

gboolean
cost_status_weak (DuctStatus status)
{
  return status == DUCT_INVENTED_DEMO || status == DUCT_FROM_MEMORY;
}

void
cost_rests (const CostBasis *basis, const gint64 *vector, CostRests rests[DUCT_N_STATUSES])
{
  g_autofree gboolean *seen = g_new0 (gboolean, basis->catalogue->labour->steps->len);

  memset (rests, 0, sizeof (CostRests) * DUCT_N_STATUSES);
  for (int i = 0; i < basis->n_items; i++)
    if (vector[i] != 0 && catalogue_item (basis->catalogue, i)->group != COST_ONCE)
      {
        CostRests *r = &rests[catalogue_item (basis->catalogue, i)->status];
        r->items++;
        r->money += (NumWide) vector[i] * basis->price[i];
      }
  for (int i = 0; i < basis->n_slots; i++)
    {
      int step = basis->slots[i].step;
      DuctStatus status = DUCT_SHOPS_OWN;
      if (step < 0 || vector[basis->n_items + i] == 0)
        continue;
      duct_status_parse (catalogue_step (basis->catalogue, step)->status, &status);
      if (!seen[step])
        rests[status].steps++;
      seen[step] = TRUE;
      rests[status].ms += vector[basis->n_items + i];
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/labour.h"

#include "base/table.h"

#include <string.h>

const char *const labour_place_keys[LABOUR_N_PLACES] = { "shop", "floor", "air", "joint", "site fit" };
const char *const labour_group_keys[LABOUR_N_GROUPS] = { "fabricate", "deliver", "hang and join", "seal and test",
                                                         "general" };

const char *
labour_place_key (LabourPlace place)
{
  return place < LABOUR_N_PLACES ? labour_place_keys[place] : "";
}

gboolean
labour_place_parse (const char *text, LabourPlace *place)
{
  for (int i = 0; i < LABOUR_N_PLACES; i++)
    if (strcmp (text, labour_place_keys[i]) == 0)
      {
        *place = (LabourPlace) i;
        return TRUE;
      }
  return FALSE;
}

const char *
labour_group_key (LabourGroup group)
{
  return group < LABOUR_N_GROUPS ? labour_group_keys[group] : "";
}

void
labour_factors_init (LabourFactors *factors)
{
  for (int g = 0; g < LABOUR_N_GROUPS; g++)
    {
      for (int p = 0; p < LABOUR_N_PLACES; p++)
        factors->ppm[g][p] = 1000000;
      factors->floor_joint[g] = 1000000;
    }
  factors->learned = 1000000;
  factors->lost[0] = factors->lost[1] = 1000000;
  factors->remade = 0;
  factors->raised = 1;
}

static void
join_one (gint64 *ppm, gint64 factor, LabourJoin join)
{
  if (join == LABOUR_JOIN_SUM)
    *ppm = MAX (*ppm + factor - 1000000, 1);
  else
    num_mul_div (*ppm, factor, 1000000, ppm);
}

void
labour_factors_join (LabourFactors *factors, const LabourCondition *condition, LabourJoin join)
{
  const guint joint = 1u << LABOUR_JOINT;

  for (int g = 0; g < LABOUR_N_GROUPS; g++)
    {
      if (!(condition->groups & (1u << g)))
        continue;
      for (int p = 0; p < LABOUR_N_PLACES; p++)
        {
          guint reached_by = p == LABOUR_JOINT ? joint | (1u << LABOUR_AIR) : 1u << p;
          if (condition->places & reached_by)
            join_one (&factors->ppm[g][p], condition->factor_ppm, join);
        }
      if (condition->places & (joint | (1u << LABOUR_FLOOR)))
        join_one (&factors->floor_joint[g], condition->factor_ppm, join);
    }
}

void
labour_factors_apply (LabourFactors *factors, const LabourCondition *condition)
{
  labour_factors_join (factors, condition, LABOUR_JOIN_PRODUCT);
}

int
labour_find_step (const LabourTables *tables, const char *key)
{
  return table_find (tables->steps, key);
}

int
labour_find_crew (const LabourTables *tables, const char *key)
{
  return table_find (tables->crews, key);
}

int
labour_find_condition (const LabourTables *tables, const char *key)
{
  return table_find (tables->conditions, key);
}

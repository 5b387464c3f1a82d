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

NumWide
labour_member_hour (const LabourMember *m)
{
  /* Ten-thousandths x ppm = 1e-10; the two factors are applied one after the other, each rounded at 1e-10. */
  NumWide wage = num_wide_div ((NumWide) m->wage * m->paid_ppm * (1000000 + m->burden_ppm), 1000000);

  return wage + (NumWide) (m->fringe + m->flat) * 1000000;
}

gint64
labour_crew_rate (const LabourMember *members, gsize n)
{
  NumWide sum = 0, heads = 0;
  gint64 rate = 0;

  for (gsize i = 0; i < n; i++)
    {
      sum += labour_member_hour (&members[i]) * members[i].heads;
      heads += members[i].heads;
    }
  if (heads > 0)
    num_narrow (num_wide_div (sum, heads * 1000000), &rate);
  return rate;
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
}

void
labour_factors_apply (LabourFactors *factors, const LabourCondition *condition)
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
            num_mul_div (factors->ppm[g][p], condition->factor_ppm, 1000000, &factors->ppm[g][p]);
        }
      if (condition->places & (joint | (1u << LABOUR_FLOOR)))
        num_mul_div (factors->floor_joint[g], condition->factor_ppm, 1000000, &factors->floor_joint[g]);
    }
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

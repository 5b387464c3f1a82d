/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure.h"

#include "base/measure.h"

#include <glib/gi18n-lib.h>

static gint64
longest_side (const DuctShape *s)
{
  gint64 side = MAX (s->w, s->h);

  /* A transition takes its larger end. */
  if (s->kind == DUCT_TRANSITION)
    side = MAX (side, MAX (s->dim[DUCT_DIM_W2], s->dim[DUCT_DIM_H2]));
  return side;
}

gboolean
duct_connection_allows (const DuctRules *rules, int connection, const DuctShape *s, char **reason)
{
  const DuctConnection *c = duct_rules_connection (rules, connection);

  if (ABS (s->pressure) > c->class_to)
    {
      if (reason)
        {
          g_autofree char *limit = pressure_print (c->class_to, FALSE);
          *reason = g_strdup_printf (_ ("class over %s in w.g."), limit);
        }
      return FALSE;
    }
  if (longest_side (s) > c->side_to_nm)
    {
      if (reason)
        {
          g_autofree char *limit = length_print_unit (c->side_to_nm, LENGTH_STYLE_IN);
          *reason = g_strdup_printf (_ ("longer side over %s"), limit);
        }
      return FALSE;
    }
  if (s->exposure == DUCT_OUTDOORS && !c->outdoors)
    {
      if (reason)
        *reason = g_strdup (_ ("outdoors"));
      return FALSE;
    }
  return TRUE;
}

gboolean
duct_choose_build (const DuctRules *rules, int set, int connection, const DuctShape *s, DuctBuild *build,
                   DuctProblem *problem)
{
  Fault *fault = NULL;

  build->connection = connection;
  build->rule_row = -1;
  build->sheet = s->sheet_pin;
  if (s->sheet_pin >= 0)
    return TRUE;
  build->rule_row = duct_rules_gauge (rules, set, s->metal, s->pressure, longest_side (s), problem ? &fault : NULL);
  if (build->rule_row < 0)
    {
      if (problem)
        *problem = (DuctProblem) { DUCT_DIM_CLASS, fault };
      return FALSE;
    }
  build->sheet = ((DuctGaugeRow *) g_ptr_array_index (rules->gauge_rows, (guint) build->rule_row))->sheet;
  return TRUE;
}

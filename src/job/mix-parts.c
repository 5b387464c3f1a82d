/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a mix comes to, taken apart so that its figures can be added up. */
#include "config.h"

#include "job/mix.h"

#include <glib/gi18n-lib.h>

static void
add_part (GArray *parts, char *name, const char *key, gint64 cost, gint64 hours)
{
  JobMixPart part = { name, key, cost, hours };

  g_array_append_val (parts, part);
}

static void
part_clear (gpointer data)
{
  g_free (((JobMixPart *) data)->name);
}

/* Half away from zero, to a multiple. */
static gint64
to_unit (gint64 x, gint64 unit)
{
  return (x >= 0 ? x + unit / 2 : x - unit / 2) / unit * unit;
}

GArray *
job_mix_parts (const JobMix *of, const CostMix *mix, const CostMixPlan *plan)
{
  GArray *parts = g_array_new (FALSE, FALSE, sizeof (JobMixPart));
  gint64 unit = 1, ms = of ? COST_MIX_HOUR / 100 : 1, sign = mix->maximise ? -1 : 1, groups = 0, hours = 0;

  for (int i = of ? of->decimals : 4; i < 4; i++)
    unit *= 10;
  g_array_set_clear_func (parts, part_clear);
  for (guint g = 0; g < mix->n_groups; g++)
    {
      gsize at = (gsize) g * mix->n_methods + plan->method[g];
      groups += to_unit (mix->cost[at], unit);
      hours += to_unit (mix->hours[at], ms);
    }
  gint64 whole = to_unit (plan->cost + (of ? of->rest_cost : 0), unit), whole_hours = to_unit (plan->hours, ms);
  gint64 joints = sign * to_unit (plan->boundary_cost, unit), setup = sign * to_unit (plan->setup, unit);
  gint64 joint_hours = to_unit (plan->unmated * mix->boundary_hours, ms);
  gboolean rest = of && (of->rest_cost != 0 || mix->rest_hours != 0);

  add_part (parts, g_strdup (_ ("the groups")), "groups", rest ? groups : whole - joints - setup,
            rest ? hours : whole_hours - joint_hours);
  if (plan->unmated > 0)
    add_part (parts,
              g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d joint between unlike connections",
                                            "%d joints between unlike connections", (gulong) plan->unmated),
                               (int) plan->unmated), "joints", joints, joint_hours);
  if (plan->setup > 0)
    add_part (parts, g_strdup (_ ("set-up (tooling)")), "setup", setup, 0);
  if (rest)
    {
      g_autofree char *left_out = job_mix_left_out (of);
      add_part (parts, *left_out ? g_strdup_printf (_ ("not part of the choice: %s"), left_out)
                          : g_strdup (_ ("not part of the choice")),
                "rest", whole - groups - joints - setup, whole_hours - hours - joint_hours);
    }
  add_part (parts, g_strdup (_ ("together")), "whole", whole, whole_hours);
  return parts;
}

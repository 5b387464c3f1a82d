/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/joint.h"

static gboolean
at_joint (const CostBasis *basis, const CostExplainLine *line)
{
  CostUse use;

  if (line->step)
    return line->place == LABOUR_JOINT;
  use = catalogue_item (basis->catalogue, line->target)->use;
  return use == COST_USE_JOINT || use == COST_USE_BOLT || use == COST_USE_FASTENER;
}

static CostJointLine *
line_of (GArray *out, const CostExplainLine *line)
{
  CostJointLine added = { .step = line->step, .target = line->target, .source = line->source, .status = line->status };

  for (guint i = 0; i < out->len; i++)
    {
      CostJointLine *present = &g_array_index (out, CostJointLine, i);
      if (present->step == line->step && present->target == line->target)
        return present;
    }
  g_array_append_val (out, added);
  return &g_array_index (out, CostJointLine, out->len - 1);
}

GArray *
cost_joint_lines (const CostBasis *basis, const GArray *lines, gint64 joints, CostJointLine *total)
{
  GArray *out = g_array_new (FALSE, TRUE, sizeof (CostJointLine));
  double n = (double) joints / 1000;

  if (total)
    *total = (CostJointLine) { .target = -1 };
  for (guint i = 0; joints > 0 && i < lines->len; i++)
    {
      const CostExplainLine *line = &g_array_index (lines, CostExplainLine, i);
      CostJointLine *sum;
      double amount = (double) (line->amount * line->pieces), money, minutes = 0;

      if (!at_joint (basis, line))
        continue;
      sum = line_of (out, line);
      if (line->step)
        {
          minutes = amount * (double) line->factor_ppm / 6e10 / n;
          money = num_wide_to_double (line->money) / num_wide_to_double (COST_LABOUR_DEN) / n;
        }
      else
        {
          sum->quantity += amount / 1e6 / n;
          money = num_wide_to_double (line->money) / 1e10 / n;
        }
      sum->minutes += minutes;
      sum->money += money;
      if (total)
        {
          total->minutes += minutes;
          total->money += money;
        }
    }
  return out;
}

gint64
cost_joint_count (const DuctMeasure *measure)
{
  gint64 n = 0;

  for (int i = 0; i < measure->n_lots; i++)
    n += measure->lot[i].n * duct_lot_joints (&measure->lot[i]);
  return n;
}

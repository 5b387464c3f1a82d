/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/leakage.h"

#include "base/measure.h"
#include "duct/leakage.h"

#include <glib/gi18n-lib.h>

static void
leakage_clear (gpointer data)
{
  JobLeakage *part = data;

  g_clear_pointer (&part->fault, fault_free);
}

static JobLeakage *
part_of (GArray *parts, gint64 system, gint64 pressure, DuctSection section)
{
  JobLeakage fresh = { .system = system, .pressure = pressure, .section = section, .row = -1 };

  for (guint i = 0; i < parts->len; i++)
    {
      JobLeakage *part = &g_array_index (parts, JobLeakage, i);
      if (part->system == system && part->pressure == pressure && part->section == section)
        return part;
    }
  g_array_append_val (parts, fresh);
  return &g_array_index (parts, JobLeakage, parts->len - 1);
}

/* The walls of a run as a leakage test counts them, whether or not one is priced. */
static gint64
walls (TallyJob *job, const JobRunResult *r)
{
  DuctShape shape = r->shape;
  DuctMeasure measure;

  shape.tested = 1;
  if (!duct_measure (job_basis (job)->catalogue->rules, &shape, &r->build, &measure, NULL))
    return 0;
  return duct_measure_sum (&measure, DUCT_TEST_FT2) * (r->count / 1000);
}

static void
answer (TallyJob *job, JobLeakage *part)
{
  const DuctRules *rules = job_basis (job)->catalogue->rules;
  const JobRecord *system = part->system ? job_find (job, JOB_SYSTEM, part->system) : NULL;
  const char *seal = system ? system->text[SYSTEM_SEAL] : NULL;
  const DuctPressureClass *named = duct_rules_pressure_class (rules, part->pressure);

  part->pa = named ? named->pa : (gint64) ((double) part->pressure * MEASURE_MPA_PER_INWG / 1e6 + 0.5);
  if (!seal)
    {
      part->fault = fault_new (-1, _ ("enter a seal class at the system, or none for unsealed duct"), "%s",
                               _ ("no seal class is named for the system"));
      return;
    }
  part->row =
      duct_leakage_row (rules, job_head (job)->text[HEAD_EDITION], seal, part->pressure, part->section, &part->fault);
  if (part->row < 0)
    return;
  const DuctLeakage *row = g_ptr_array_index (rules->leakage, (guint) part->row);
  part->cl = part->section == DUCT_ROUND ? row->round_cl : row->rect_cl;
  part->cfm = duct_leakage_allowed (part->cl, (double) part->pressure / 1e3, part->area_mm2);
  part->l_s = duct_leakage_flow_si (part->cl, (double) part->pa) * (double) part->area_mm2 / 1e6;
}

/* Systems in their order, those without one last. */
static int
by_order (gconstpointer a, gconstpointer b, gpointer data)
{
  const JobLeakage *x = a, *y = b;
  const JobRecord *systems[] = { job_find (data, JOB_SYSTEM, x->system), job_find (data, JOB_SYSTEM, y->system) };

  if (x->system != y->system)
    {
      if (!systems[0] || !systems[1])
        return systems[0] ? -1 : 1;
      return systems[0]->ord != systems[1]->ord ? (systems[0]->ord < systems[1]->ord ? -1 : 1)
             : x->system < y->system            ? -1
                                                : 1;
    }
  if (x->pressure != y->pressure)
    return x->pressure > y->pressure ? -1 : 1;
  return (int) x->section - (int) y->section;
}

GArray *
job_leakage (TallyJob *job, guint *left_out)
{
  GArray *parts = g_array_new (FALSE, TRUE, sizeof (JobLeakage));
  guint lost = 0;

  g_array_set_clear_func (parts, leakage_clear);
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      gint64 system = run->num[RUN_SYSTEM] == JOB_UNSET ? 0 : run->num[RUN_SYSTEM], mm2, times;
      JobRunResult r;

      if (run->num[RUN_KIND] == DUCT_REMARK)
        continue;
      if (!job_compute (job, run, JOB_OWN_METHOD, &r))
        lost++;
      else if (r.method >= 0 && (mm2 = walls (job, &r)) > 0)
        {
          job_run_conditions (job, run, NULL, NULL, &times);
          part_of (parts, system, ABS (r.shape.pressure), r.shape.h == 0 ? DUCT_ROUND : DUCT_RECT)->area_mm2 +=
              mm2 * times;
        }
      job_run_result_clear (&r);
    }
  g_array_sort_with_data (parts, by_order, job);
  for (guint i = 0; i < parts->len; i++)
    answer (job, &g_array_index (parts, JobLeakage, i));
  if (left_out)
    *left_out = lost;
  return parts;
}

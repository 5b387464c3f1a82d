/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What stands between the minutes of the catalogue and those of a run, on the terminal. */
#include "config.h"

#include "cli/explain-answer.h"

#include "base/decimal.h"
#include "duct/rules.h"
#include "job/labour-model.h"

#include <glib/gi18n.h>

#define PLAIN 1000000

static void
add_fact (CliTable *t, const char *what, char *value, const char *source, const char *status)
{
  cli_table_add (t, what);
  cli_table_take (t, value);
  cli_table_add (t, source);
  cli_table_add (t, status);
}

static char *
factor_text (gint64 ppm)
{
  return decimal_print (ppm, 6, 2, FALSE);
}

/* Conditions on the minutes, where each was named, with its reason. */
static void
add_conditions (CliTable *t, TallyJob *job, const JobRecord *run)
{
  g_autoptr (GArray) uses = job_conditions_of (job, run);

  for (guint i = 0; i < uses->len; i++)
    {
      const JobConditionUse *use = &g_array_index (uses, JobConditionUse, i);
      g_autofree char *factor = factor_text (use->factor_ppm), *what = g_strdup_printf (_ ("condition of the %s"), use->from);
      add_fact (t, what, g_strdup_printf ("%s x %s: %s", use->key, factor, use->reason), use->source, use->status);
    }
}

static void
add_overtime (CliTable *t, TallyJob *job)
{
  const JobLabour *l = job_labour (job);
  const char *where = l->shop_too ? _ ("shop and field") : _ ("the field");

  if (l->paid != LABOUR_PAID_ONE)
    {
      g_autofree char *paid = labour_paid_print (l->paid);
      add_fact (t, _ ("overtime"), g_strdup_printf (_ ("x %s on the wage in %s: %g h a week"), paid, where, l->hours), _ ("settings of the job"),
                duct_status_key (DUCT_SHOPS_OWN));
    }
  if (l->lost)
    {
      g_autofree char *lost = factor_text (l->loss.factor_ppm);
      add_fact (t, _ ("loss of output"), g_strdup_printf (_ ("x %s on the minutes in %s: %d weeks of %g h by the table “%s”"), lost, where,
                                                          l->weeks, l->hours, l->table),
                _ ("settings of the job"), duct_status_key (DUCT_SHOPS_OWN));
    }
}

void
cli_explain_labour (CliTable *t, TallyJob *job, const JobRecord *run)
{
  const JobLabour *l = job_labour (job);
  LabourFactors factors;
  gint64 floor_ppm, joints, learned = job_learning (job, JOB_OWN_METHOD, &joints);

  job_run_conditions (job, run, &factors, &floor_ppm, NULL);
  add_conditions (t, job, run);
  if (floor_ppm > 0)
    add_fact (t, _ ("joints on the floor"), g_strdup_printf (_ ("%.4g %% of the joints of the area are made on the floor, the others in the air"),
                                                             (double) floor_ppm / 1e4),
              _ ("entered for the area"), duct_status_key (DUCT_SHOPS_OWN));
  add_overtime (t, job);
  if (l->learning != LABOUR_LEARNING_NONE)
    {
      g_autofree char *factor = factor_text (learned);
      add_fact (t, _ ("learning"), g_strdup_printf (_ ("x %s on steps at the joint: %s, %g %% left at each doubling, over %d joints of the job"),
                                                    factor, labour_learning_say (l->learning), l->slope * 100, (int) joints),
                _ ("settings of the job"), duct_status_key (DUCT_SHOPS_OWN));
    }
  if (factors.remade > 0)
    {
      g_autofree char *factor = factor_text (PLAIN + factors.remade);
      add_fact (t, _ ("joints remade"), g_strdup_printf (_ ("x %s on steps at the joint and on what a joint takes again: %.4g %% are made once more"),
                                                         factor, (double) factors.remade / 1e4),
                _ ("entered for the area"), duct_status_key (DUCT_SHOPS_OWN));
    }
  if (factors.raised > 1)
    add_fact (t, _ ("raised together"), g_strdup_printf (_ ("%d pieces share the fixed minutes of raising"), (int) factors.raised),
              _ ("entered for the area"), duct_status_key (DUCT_SHOPS_OWN));
}

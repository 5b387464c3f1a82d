/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The joint of a run taken apart: its lines add up to what the totals keep for joints. Figures: the demo job (invented demo). */
#include "cost/joint.h"
#include "exchange/runs-csv.h"

#include <math.h>

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) starter = catalogue_starter ();

  return exchange_demo_job (starter);
}

static GArray *
joint_of (TallyJob *job, const JobRecord *run, const JobRunResult *r, CostJointLine *total)
{
  LabourFactors factors;
  gint64 floor_ppm;

  job_run_conditions (job, run, &factors, &floor_ppm, NULL);
  g_autoptr (GArray) lines = cost_explain (job_basis (job), r->method, (DuctKind) r->shape.kind, &r->measure, &factors, floor_ppm);
  return cost_joint_lines (job_basis (job), lines, cost_joint_count (&r->measure), total);
}

/* Every run of the demo by every method: minutes and hardware of its joints as job_run_sums() has them. */
static void
test_sums (void)
{
  g_autoptr (TallyJob) job = demo ();
  guint held = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    for (int method = 0; method < job_basis (job)->n_methods; method++)
      {
        const JobRecord *run = job_at (job, JOB_RUN, i);
        CostJointLine total;
        CostSums sums;
        JobRunResult r;
        gint64 times;

        if (job_compute (job, run, method, &r) && r.method >= 0 && cost_joint_count (&r.measure) > 0)
          {
            g_autoptr (GArray) lines = joint_of (job, run, &r, &total);
            double hardware = 0, labour = 0, joints = (double) cost_joint_count (&r.measure) / 1000, all;

            job_run_conditions (job, run, NULL, NULL, &times);
            all = joints * (double) r.count / 1000 * (double) times;
            job_run_sums (job, run, r.vector, &sums);
            for (guint k = 0; k < lines->len; k++)
              {
                const CostJointLine *line = &g_array_index (lines, CostJointLine, k);
                *(line->step ? &labour : &hardware) += line->money;
              }
            g_assert_cmpfloat_with_epsilon (total.money, hardware + labour, 1e-6);
            g_assert_cmpfloat_with_epsilon (total.minutes * all, num_wide_to_double (sums.joint_time) / (COST_TIME_DEN / 60),
                                            1e-6 * all);
            g_assert_cmpfloat_with_epsilon (hardware * all, num_wide_to_double (sums.joint_hardware) / 1e10, 1e-6 * all);
            held++;
          }
        job_run_result_clear (&r);
      }
  g_assert_cmpuint (held, >, 100);
}

/* Run 1, bolted: four bolts at 1.3 worker-minutes and 0.36 each; on the job the area's 1.10 on field minutes (invented demo). */
static void
test_hand (void)
{
  g_autoptr (TallyJob) job = demo ();
  const JobRecord *run = job_at (job, JOB_RUN, 0);
  int bolt = catalogue_find_item (job_basis (job)->catalogue, "bolt and nut 3/8 x 1");
  int step = labour_find_step (job_basis (job)->catalogue->labour, "bolt and nut"), seen = 0;
  JobRunResult r;

  g_assert_true (job_compute (job, run, JOB_OWN_METHOD, &r));
  g_assert_cmpint (cost_joint_count (&r.measure), ==, 3000);
  g_autoptr (GArray) lines = joint_of (job, run, &r, NULL);
  for (guint i = 0; i < lines->len; i++)
    {
      const CostJointLine *line = &g_array_index (lines, CostJointLine, i);
      if (!line->step && line->target == bolt)
        {
          g_assert_cmpfloat_with_epsilon (line->quantity, 4, 1e-9);
          g_assert_cmpfloat_with_epsilon (line->money, 4 * 0.36, 1e-9);
          seen++;
        }
      if (line->step && line->target == step)
        {
          g_assert_cmpfloat_with_epsilon (line->minutes, 4 * 1.3 * 1.10, 1e-6);
          seen++;
        }
    }
  g_assert_cmpint (seen, ==, 2);
  job_run_result_clear (&r);
}

/* Without joints there are no lines. */
static void
test_none (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (GArray) none = g_array_new (FALSE, FALSE, sizeof (CostExplainLine));
  CostJointLine total;
  g_autoptr (GArray) lines = cost_joint_lines (job_basis (job), none, 0, &total);

  g_assert_cmpuint (lines->len, ==, 0);
  g_assert_cmpfloat (total.money, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/joint/sums", test_sums);
  g_test_add_func ("/joint/hand", test_hand);
  g_test_add_func ("/joint/none", test_none);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/runs-csv.h"
#include "fixture.h"
#include "job/explain-answer.h"
#include "job/what-if.h"

/* Figures of the comparison taken apart, on the demo job (invented demo). What holds is exact: parts add up to the figure, the parts
 * of a difference to the difference, the other way round it is the same with the other sign, runs carry all of it. */

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

static const JobWay ways[] = { { "slip-on-driven", NULL }, { "slip-on-bolted", NULL }, { "slip-and-drive", NULL }, { NULL, NULL } };

static JobComparison *
compare (TallyJob *job)
{
  JobComparison *c = job_compare (job, ways, G_N_ELEMENTS (ways), 1, NULL);

  for (guint i = 0; i < c->way->len; i++)
    g_assert_null (job_comparison_way (c, i)->fault);
  return c;
}

static void
figures_of (TallyJob *job, JobFigure figure[5])
{
  static const char *const text[] = { "cost", "field-hours", "minutes-a-joint", "step:bolt and nut", "item:driven fastener" };

  for (int i = 0; i < 5; i++)
    g_assert_true (job_figure_parse (job, text[i], &figure[i], NULL));
}

static double
sum_of (const JobAnswer *a, int k)
{
  double sum = 0;

  for (guint i = 0; i < a->part->len; i++)
    sum += job_answer_part (a, i)->amount[k];
  return sum;
}

static void
test_adds_up (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobComparison) c = compare (job);
  JobFigure figure[5];

  figures_of (job, figure);
  for (int f = 0; f < 5; f++)
    for (guint w = 0; w < c->way->len; w++)
      {
        g_autoptr (JobAnswer) a = job_answer_new (c, w, -1, &figure[f]);
        g_assert_cmpfloat (fabs (sum_of (a, 0) - a->whole[0]), <, 1e-6);
        for (guint i = 0; i < a->part->len; i++)
          {
            const JobAnswerPart *p = job_answer_part (a, i);
            g_assert_cmpint (p->kind, !=, JOB_PART_REST); /* the demo has nothing that is in no item or step */
            g_assert_true (p->kind == JOB_PART_COUNTED || *p->source);
            g_assert_true (i == 0 || fabs (job_answer_part (a, i - 1)->amount[0]) >= fabs (p->amount[0]));
          }
      }
}

/* Of the demo: the build-up says 171,444.68 against 174,857.16, so 3,412.49 without rounding, and after 1,900 of tooling the 1,512 of
 * demo.md. Hours, minutes and hardware of a joint are those of the comparison. */
static void
test_difference (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobComparison) c = compare (job);
  JobFigure figure[5];

  figures_of (job, figure);
  for (int f = 0; f < 5; f++)
    for (guint x = 0; x < c->way->len; x++)
      for (guint y = 0; y < c->way->len; y++)
        {
          g_autoptr (JobAnswer) a = job_answer_new (c, x, (int) y, &figure[f]), b = job_answer_new (c, y, (int) x, &figure[f]);
          g_assert_cmpfloat (fabs (sum_of (a, 0) - sum_of (a, 1) - (a->whole[0] - a->whole[1])), <, 1e-6);
          g_assert_cmpfloat (fabs (job_answer_of (a, a->whole) + job_answer_of (b, b->whole)), <, 1e-9);
          g_assert_cmpuint (a->part->len, ==, b->part->len);
          g_assert_true (x != y || a->part->len == 0);
        }
  g_autoptr (JobAnswer) cost = job_answer_new (c, 0, 1, &figure[0]);
  g_assert_cmpfloat (fabs (job_answer_of (cost, cost->whole) + 3412.49), <, 0.01);
  /* The answer is exact, the gain that of build-ups whose lines are rounded to the cent. */
  g_assert_cmpfloat (fabs (job_answer_of (cost, cost->whole) + job_answer_of (cost, cost->once) + job_way_gain (job_comparison_way (c, 1), job_comparison_way (c, 0))),
                     <, 0.02);
  g_assert_cmpstr (job_answer_part (cost, 0)->name, ==, "align and clamp");
  g_autoptr (JobAnswer) hours = job_answer_new (c, 0, -1, &figure[1]);
  g_assert_cmpfloat (fabs (hours->whole[0] - job_comparison_way (c, 0)->option.field_hours), <, 1e-9);
  g_autofree char *words = job_answer_sentence (job, cost);
  g_assert_nonnull (strstr (words, "-3,412"));
  g_assert_nonnull (strstr (words, "align and clamp"));
}

/* Every run by itself: together the figure. Only without learning does a run by itself have the factor of the whole. */
static void
test_runs (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobComparison) c = compare (job);
  JobFigure figure[5];

  figures_of (job, figure);
  for (int f = 0; f < 5; f++)
    {
      g_autoptr (JobAnswer) a = job_answer_new (c, 0, 1, &figure[f]);
      g_autoptr (GArray) runs = job_answer_runs (c, 0, 1, &figure[f]);
      double sum[2] = { 0 };
      g_assert_cmpuint (runs->len, >, 10);
      for (guint i = 0; i < runs->len; i++)
        {
          const JobAnswerRun *r = &g_array_index (runs, JobAnswerRun, i);
          sum[0] += r->amount[0];
          sum[1] += r->amount[1];
          g_assert_cmpint (job_at (job, JOB_RUN, r->position)->id, ==, r->id);
          if (i > 0)
            {
              const JobAnswerRun *before = &g_array_index (runs, JobAnswerRun, i - 1);
              g_assert_cmpfloat (fabs (before->amount[0] - before->amount[1]), >=, fabs (r->amount[0] - r->amount[1]) - 1e-12);
            }
        }
      g_assert_cmpfloat (fabs (sum[0] - sum[1] - job_answer_of (a, a->whole)), <, 1e-5);
    }
}

/* A part of the job, and the same under a doubled price (changed in the job): twice the part of that item. */
static void
test_part (void)
{
  g_autoptr (TallyJob) job = demo ();
  JobPart part = { .scope = { job_at (job, JOB_SYSTEM, 0)->id, 0 } };
  g_autoptr (JobComparison) c = job_compare (job, ways, 2, 0, &part), all = compare (job);
  JobFigure cost = { JOB_FIGURE_COST, -1 };
  g_autoptr (JobAnswer) a = job_answer_new (c, 0, -1, &cost), whole = job_answer_new (all, 0, -1, &cost);
  g_autoptr (GArray) runs = job_answer_runs (c, 0, -1, &cost);

  g_assert_cmpfloat (a->whole[0], <, whole->whole[0]);
  g_assert_cmpfloat (a->whole[0], >, 0);
  for (guint i = 0; i < runs->len; i++)
    g_assert_cmpint (job_at (job, JOB_RUN, g_array_index (runs, JobAnswerRun, i).position)->num[RUN_SYSTEM], ==, part.scope.system);
}

/* A what-if against the job as it stands: a doubled price is all of the difference, and it is as large as the item's part. */
static void
test_what_if (void)
{
  g_autoptr (TallyJob) job = demo ();
  int item = catalogue_find_item (job_basis (job)->catalogue, "gasket butyl");
  CostChange *change = cost_change_new ("item", "gasket butyl", "price", "0.42"); /* 0.21, invented demo */
  const JobWay two[] = { { NULL, "dear gasket" }, { NULL, NULL } };
  JobFigure cost = { JOB_FIGURE_COST, -1 };
  JobEdit *edit = job_edit_new ("what if");

  job_edit_what_if (job, edit, "dear gasket", change, change->value);
  cost_change_free (change);
  g_assert_true (job_apply (job, edit, NULL));
  g_autoptr (JobComparison) c = job_compare (job, two, 2, 1, NULL);
  g_autoptr (JobAnswer) a = job_answer_new (c, 0, 1, &cost);
  g_assert_cmpuint (a->part->len, ==, 1);
  const JobAnswerPart *p = job_answer_part (a, 0);
  g_assert_cmpint (p->target, ==, item);
  g_assert_cmpfloat (fabs (p->amount[0] - 2 * p->amount[1]), <, 1e-6);
  g_assert_cmpfloat (fabs (job_answer_of (a, a->whole) - p->amount[1]), <, 1e-6);
  g_assert_cmpfloat (p->quantity[0], ==, p->quantity[1]);
}

/* A step whose minutes came of a study leads to its readings. */
static void
test_study (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  JobFigure hours = { JOB_FIGURE_FIELD_HOURS, -1 };
  int found = 0;

  fixture_tables (table);
  fixture_set (table[CATALOGUE_STEPS], "bolt and nut", "source", "time study whole joints: bolts against driven fasteners, 2026-03-09");
  g_autoptr (Catalogue) catalogue = fixture_catalogue (table);
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  g_autoptr (JobComparison) c = compare (job);
  g_autoptr (JobAnswer) a = job_answer_new (c, 1, -1, &hours);
  for (guint i = 0; i < a->part->len; i++)
    {
      const JobAnswerPart *p = job_answer_part (a, i);
      if (!p->study)
        continue;
      found++;
      g_assert_cmpstr (p->name, ==, "bolt and nut");
      g_assert_cmpuint (p->study->readings->len, >, 2);
    }
  g_assert_cmpint (found, ==, 1);
}

static void
test_refused (void)
{
  static const char *const bad[] = { "", "costs", "step:", "step:no such step", "item:no such item", "item", "Cost" };
  g_autoptr (TallyJob) job = demo ();

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      Fault *fault = NULL;
      JobFigure figure;
      g_assert_false (job_figure_parse (job, bad[i], &figure, &fault));
      g_assert_nonnull (fault);
      g_autofree char *words = fault_words (fault, bad[i]);
      g_assert_true (strlen (words) > 20);
      fault_free (fault);
    }
}

/* Nothing in the job: nothing to explain, and no division by no joints. */
static void
test_empty (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = job_new (catalogue, "empty");
  g_autoptr (JobComparison) c = compare (job);
  JobFigure figure[5];

  figures_of (job, figure);
  for (int f = 0; f < 5; f++)
    {
      g_autoptr (JobAnswer) a = job_answer_new (c, 0, 1, &figure[f]);
      g_autoptr (GArray) runs = job_answer_runs (c, 0, 1, &figure[f]);
      g_autofree char *words = job_answer_sentence (job, a);
      g_assert_cmpuint (a->part->len + runs->len, ==, 0);
      g_assert_nonnull (strstr (words, "do not differ"));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/explain-answer/adds-up", test_adds_up);
  g_test_add_func ("/job/explain-answer/difference", test_difference);
  g_test_add_func ("/job/explain-answer/runs", test_runs);
  g_test_add_func ("/job/explain-answer/part", test_part);
  g_test_add_func ("/job/explain-answer/what-if", test_what_if);
  g_test_add_func ("/job/explain-answer/study", test_study);
  g_test_add_func ("/job/explain-answer/refused", test_refused);
  g_test_add_func ("/job/explain-answer/empty", test_empty);
  return g_test_run ();
}

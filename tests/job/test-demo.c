/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The whole invented demo job against the table that an independent program gave for it: counts exact, the rest within 0.01 %.
 * Source of every figure here: invented demo. */
#include "base/measure.h"
#include "exchange/runs-csv.h"
#include "job/job.h"

#include <string.h>

typedef struct
{
  const char *method;
  int pieces, joints, flanged, frames;
  double net_lb, shipped_lb, shop_h, field_h, material, cost, price;
} Expected;

/* invented demo: the whole job, likely */
static const Expected table[] = {
  { "slip-on-bolted", 607, 534, 534, 1133, 28322.7, 33754.3, 425.02, 819.68, 55380.79, 174857.16, 207590.42 },
  { "slip-on-driven", 607, 534, 534, 1133, 28322.7, 33754.3, 425.02, 758.48, 58078.65, 171444.67, 203539.11 },
  { "integral-bolted", 636, 563, 563, 347, 29736.3, 31951.8, 321.32, 853.50, 49168.13, 164627.64, 195445.94 },
  { "slip-and-drive", 615, 542, 296, 613, 28424.6, 32848.8, 357.08, 811.98, 52360.17, 166203.95, 197317.33 },
  { "slip-and-drive-driven", 615, 542, 296, 613, 28424.6, 32848.8, 357.08, 776.20, 53847.19, 164111.74, 194833.46 },
};

typedef struct
{
  JobTotals totals;
  BuildUp *up;
} Result;

static void
read_result (TallyJob *job, int method, Result *r)
{
  JobScope all = { 0, 0 };

  job_totals (job, &all, method, &r->totals);
  r->up = buildup_new (job_basis (job), &r->totals.sums, 2);
}

static void
clear_result (Result *r)
{
  buildup_free (r->up);
  job_totals_clear (&r->totals);
}

static gint64
measure (TallyJob *job, const Result *r, CostMeasure m)
{
  return r->totals.vector[cost_measure_slot (job_basis (job), m)];
}

static void
assert_within (double x, double wanted)
{
  g_assert_cmpfloat_with_epsilon (x, wanted, wanted * 1e-4);
}

static void
test_table (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);

  g_assert_cmpuint (job_n (job, JOB_RUN), ==, 115);
  for (gsize i = 0; i < G_N_ELEMENTS (table); i++)
    {
      const Expected *e = &table[i];
      Result r;
      read_result (job, catalogue_find_method (catalogue, e->method), &r);
      g_test_message ("%s", e->method);
      g_assert_cmpint (r.totals.not_priced, ==, 0);
      g_assert_cmpint (measure (job, &r, COST_PIECES), ==, e->pieces * 1000);
      g_assert_cmpint (measure (job, &r, COST_JOINTS), ==, e->joints * 1000);
      g_assert_cmpint (measure (job, &r, COST_FLANGED_JOINTS), ==, e->flanged * 1000);
      g_assert_cmpint (measure (job, &r, COST_FRAMES), ==, e->frames * 1000);
      assert_within (measure_lb (measure (job, &r, COST_NET_MG)), e->net_lb);
      assert_within (measure_lb (measure (job, &r, COST_SHIPPED_MG)), e->shipped_lb);
      assert_within (num_wide_to_double (r.totals.sums.time[1]) / COST_TIME_DEN, e->shop_h);
      assert_within (num_wide_to_double (r.totals.sums.time[0]) / COST_TIME_DEN, e->field_h);
      assert_within ((double) buildup_get (r.up, "material") / 100, e->material);
      assert_within ((double) buildup_get (r.up, "cost") / 100, e->cost);
      assert_within ((double) buildup_get (r.up, "price") / 100, e->price);
      clear_result (&r);
    }
}

/* Ends made 1,133 + 2 by others = 2 x 534 joints + 67 unmatched: 73 taps +1, the first straights at two units +1 each, 8 caps
 * -1 (invented demo). */
static void
test_ends (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  Result r;

  read_result (job, JOB_OWN_METHOD, &r);
  g_assert_cmpint (measure (job, &r, COST_ENDS), ==, 1133000);
  g_assert_cmpint (measure (job, &r, COST_ENDS_OTHERS), ==, 2000);
  g_assert_cmpint (measure (job, &r, COST_ENDS) + measure (job, &r, COST_ENDS_OTHERS) - 2 * measure (job, &r, COST_JOINTS), ==,
                   67000);
  clear_result (&r);
}

/* The addendum raises one cell from class 4 to 6; ten runs inherit it: +630.8 lb, +1.65 shop h, +12.71 field h, price
 * +2,799.76, bolted (invented demo). Undone, the price is back to the cent. */
static void
test_addendum (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  const JobNames *names = job_names (job);
  gint64 system = names->find (names->data, JOB_SYSTEM, "SA-1"), area = names->find (names->data, JOB_AREA, "Level 1"), id = 0;
  Result before, after, undone;
  Fault *fault = NULL;

  for (guint i = 0; i < job_n (job, JOB_CELL); i++)
    {
      const JobRecord *cell = job_at (job, JOB_CELL, i);
      if (cell->num[CELL_SYSTEM] == system && cell->num[CELL_AREA] == area)
        id = cell->id;
    }
  g_assert_cmpint (id, >, 0);
  read_result (job, JOB_OWN_METHOD, &before);
  g_assert_true (job_edit_field (job, JOB_CELL, id, job_field_find (JOB_CELL, "class"), "6", &fault, NULL));
  g_assert_null (fault);
  g_assert_true (job_check_totals (job));
  read_result (job, JOB_OWN_METHOD, &after);
  assert_within (measure_lb (measure (job, &after, COST_NET_MG) - measure (job, &before, COST_NET_MG)), 630.8);
  g_assert_cmpfloat_with_epsilon (num_wide_to_double (after.totals.sums.time[1] - before.totals.sums.time[1]) / COST_TIME_DEN, 1.65,
                                  0.005);
  g_assert_cmpfloat_with_epsilon (num_wide_to_double (after.totals.sums.time[0] - before.totals.sums.time[0]) / COST_TIME_DEN,
                                  12.71, 0.005);
  g_assert_cmpfloat_with_epsilon ((double) (buildup_get (after.up, "price") - buildup_get (before.up, "price")) / 100, 2799.76, 0.03);
  g_assert_true (job_undo (job, NULL));
  read_result (job, JOB_OWN_METHOD, &undone);
  g_assert_cmpint (buildup_get (undone.up, "price"), ==, buildup_get (before.up, "price"));
  clear_result (&before);
  clear_result (&after);
  clear_result (&undone);
}

/* Every build-up line breaks out over the cells of the job to the cent. */
static void
test_parts_add_up (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  CostSums parts[9];
  JobTotals totals[9];
  gsize n = 0;
  Result whole;

  for (guint s = 0; s < job_n (job, JOB_SYSTEM); s++)
    for (guint a = 0; a < job_n (job, JOB_AREA); a++)
      {
        JobScope scope = { job_at (job, JOB_SYSTEM, s)->id, job_at (job, JOB_AREA, a)->id };
        job_totals (job, &scope, JOB_OWN_METHOD, &totals[n]);
        parts[n] = totals[n].sums;
        n++;
      }
  read_result (job, JOB_OWN_METHOD, &whole);
  g_autofree gint64 *split = buildup_break_out (whole.up, parts, n);
  for (gsize line = 0; line < whole.up->n; line++)
    {
      gint64 sum = 0;
      for (gsize p = 0; p < n; p++)
        sum += split[line * n + p];
      g_assert_cmpint (sum, ==, whole.up->value[line]);
    }
  while (n-- > 0)
    job_totals_clear (&totals[n]);
  clear_result (&whole);
}

/* Switching the method changes pieces and pounds: another connection is another geometry. */
static void
test_method_changes_geometry (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  Result slip_on, integral;

  read_result (job, catalogue_find_method (catalogue, "slip-on-bolted"), &slip_on);
  read_result (job, catalogue_find_method (catalogue, "integral-bolted"), &integral);
  g_assert_cmpint (measure (job, &slip_on, COST_PIECES), <, measure (job, &integral, COST_PIECES));
  g_assert_cmpint (measure (job, &slip_on, COST_NET_MG), <, measure (job, &integral, COST_NET_MG));
  clear_result (&slip_on);
  clear_result (&integral);
}

/* The vectors of all runs add up to the totals, to the last digit. */
static void
test_runs_add_up (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  int width = job_basis (job)->n_vector;

  for (int m = JOB_OWN_METHOD; m < job_basis (job)->n_methods; m++)
    {
      g_autofree gint64 *sum = g_new0 (gint64, (gsize) width);
      Result whole;
      read_result (job, m, &whole);
      for (guint i = 0; i < job_n (job, JOB_RUN); i++)
        {
          JobRunResult r;
          g_assert_true (job_compute (job, job_at (job, JOB_RUN, i), m, &r));
          for (int k = 0; k < width; k++)
            sum[k] += r.vector[k];
          job_run_result_clear (&r);
        }
      g_assert_true (memcmp (sum, whole.totals.vector, sizeof (gint64) * (gsize) width) == 0);
      clear_result (&whole);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/demo/table", test_table);
  g_test_add_func ("/job/demo/ends", test_ends);
  g_test_add_func ("/job/demo/addendum", test_addendum);
  g_test_add_func ("/job/demo/parts-add-up", test_parts_add_up);
  g_test_add_func ("/job/demo/method-changes-geometry", test_method_changes_geometry);
  g_test_add_func ("/job/demo/runs-add-up", test_runs_add_up);
  return g_test_run ();
}

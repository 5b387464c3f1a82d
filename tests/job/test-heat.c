/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/runs-csv.h"
#include "job/heat.h"

#include <math.h>
#include <string.h>

/* The cheapest method by size and class on the demo job (invented demo). */

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

/* Each field against the least of all costs, asked one by one. */
static void
test_least (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobHeat) heat = job_heat (job, FALSE, NULL);
  int n = job_basis (job)->n_methods;
  g_autofree double *cost = g_new (double, (gsize) n);

  g_assert_cmpuint (heat->n_sizes, ==, 12);
  for (guint k = 0; k < heat->n_classes; k++)
    for (guint s = 0; s < heat->n_sizes; s++)
      {
        const JobHeatCell *cell = job_heat_at (heat, k, s);
        double least = INFINITY, next = INFINITY;
        int allowed = 0;
        job_heat_cost (job, heat, heat->longer[s], heat->shorter[s], heat->pressure[k], cost);
        for (int m = 0; m < n; m++)
          {
            if (isnan (cost[m]))
              continue;
            allowed++;
            next = fmin (next, fmax (cost[m], least));
            least = fmin (least, cost[m]);
          }
        g_assert_cmpint (cell->allowed, ==, allowed);
        g_assert_cmpint (allowed, >, 0);
        g_assert_true (cell->cost == least);
        g_assert_true (cost[cell->winner] == least);
        g_assert_true (allowed < 2 ? cell->second < 0 : cell->margin == next - least);
      }
}

/* Slip and drive is for small duct to class 2 (invented demo: to 18 in): beyond, it is no candidate, and never a winner. */
static void
test_limits (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobHeat) heat = job_heat (job, FALSE, NULL);
  int drive = catalogue_find_method (job_basis (job)->catalogue, "slip-and-drive");
  g_autofree double *cost = g_new (double, (gsize) job_basis (job)->n_methods);
  guint within = 0;

  for (guint k = 0; k < heat->n_classes; k++)
    for (guint s = 0; s < heat->n_sizes; s++)
      {
        gboolean small = heat->longer[s] <= 18 * LENGTH_NM_PER_IN && heat->pressure[k] <= 2000;
        job_heat_cost (job, heat, heat->longer[s], heat->shorter[s], heat->pressure[k], cost);
        g_assert_true (isnan (cost[drive]) == !small);
        within += small ? 1 : 0;
      }
  g_assert_cmpuint (within, ==, 9);
}

/* One piece of the worked example (invented demo): 24x12, class 2, slip-on, bolted, 5 ft. Shop 28.566 and field 66.791 worker-minutes
 * under a condition of 1.00; 35.402 lb of sheet. Priced here by hand from the invented prices. */
static void
test_piece (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobHeat) heat = job_heat (job, FALSE, NULL);
  g_autofree double *cost = g_new (double, (gsize) job_basis (job)->n_methods);
  int bolted = catalogue_find_method (job_basis (job)->catalogue, "slip-on-bolted");
  double sheet = 35.402 * 1.08 * .98, flange = 2 * (72 - 4 * 1.3125) / 12 * 1.06 * 1.18, corners = 8 * .58, bolts = 4 * .36,
         gasket = 82.0 / 12 * 1.05 * .21, cleats = 2 * .38, screws = 28 * .035, sealant = .1 * 5.20, strap = .625 * 9.40,
         film = 4 * .09, label = .06;
  double material = sheet + flange + corners + bolts + gasket + cleats + screws + sealant + strap + film + label;
  /* Level 2, where most joints are, has a condition of 1.05 on the field. */
  double labour = 28.566 / 60 * 68 + 66.791 * 1.05 / 60 * 92 * 1.12;

  g_assert_cmpstr (heat->where, ==, "SA-1, Level 2");
  job_heat_cost (job, heat, 24 * LENGTH_NM_PER_IN, 12 * LENGTH_NM_PER_IN, 2000, cost);
  g_assert_cmpfloat (fabs (cost[bolted] * 5 - (material * 1.0725 + labour)), <, 0.02);
}

/* A job without rules prices nothing, and says so. */
static void
test_none (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = job_new (catalogue, "empty");
  g_autoptr (JobHeat) heat = job_heat (job, TRUE, NULL);
  g_autofree char *words = job_heat_words (job, heat);

  for (guint i = 0; i < heat->n_classes * heat->n_sizes; i++)
    g_assert_cmpint (heat->cell[i].winner, ==, -1);
  g_assert_cmpint (heat->longer[3], ==, heat->shorter[3]);
  g_assert_nonnull (strstr (words, "rule set"));
}

/* A letter means the same method in every picture: its place in the catalogue. Equal costs are told as a tie. */
static void
test_marks (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (GArray) one = g_array_new (FALSE, FALSE, sizeof (int));
  int method = catalogue_find_method (job_basis (job)->catalogue, "slip-on-driven");
  g_array_append_val (one, method);
  g_autoptr (JobHeat) all = job_heat (job, FALSE, NULL), alone = job_heat (job, FALSE, one);
  g_autofree char *first = job_heat_mark (all, method), *second = job_heat_mark (alone, method), *wanted = NULL;

  wanted = g_strdup_printf ("%c", 'A' + (char) method);
  g_assert_cmpstr (first, ==, wanted);
  g_assert_cmpstr (second, ==, wanted);
  for (guint i = 0; i < all->n_classes * all->n_sizes; i++)
    g_assert_true (job_heat_ties (&all->cell[i]) == (all->cell[i].second >= 0 && round (all->cell[i].margin * 100) == 0));
  g_assert_false (job_heat_ties (&alone->cell[0]));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/heat/least", test_least);
  g_test_add_func ("/job/heat/limits", test_limits);
  g_test_add_func ("/job/heat/piece", test_piece);
  g_test_add_func ("/job/heat/marks", test_marks);
  g_test_add_func ("/job/heat/none", test_none);
  return g_test_run ();
}

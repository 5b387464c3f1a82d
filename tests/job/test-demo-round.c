/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The second demo job, of round duct: some rows worked by hand, each with its figures beside it, and the whole against the sum of its
 * rows. Which methods a comparison lists. Every price, minute and size here: invented demo. */
#include "base/measure.h"
#include "exchange/runs-csv.h"
#include "job/job.h"

#include <math.h>
#include <string.h>

static Catalogue *starter;

/* The n-th row of a kind and first size. */
static const JobRecord *
find (TallyJob *job, DuctKind kind, double d, int nth)
{
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      if (run->num[RUN_KIND] == (gint64) kind && run->num[RUN_W] == (gint64) (d * (double) LENGTH_NM_PER_IN) && nth-- == 0)
        return run;
    }
  g_assert_not_reached ();
  return NULL;
}

typedef struct
{
  double lb, shop_min, field_min, material; /* of the row in the job, conditions of its area included */
} Hand;

static void
assert_hand (TallyJob *job, const JobRecord *run, const char *method, const char *gauge, Hand hand)
{
  const CostBasis *basis = job_basis (job);
  JobRunResult r;
  CostSums sums;

  g_assert_true (job_compute (job, run, JOB_OWN_METHOD, &r));
  g_assert_cmpstr (catalogue_method (starter, r.method)->key, ==, method);
  g_assert_cmpint (r.asked, ==, r.method);
  g_assert_cmpstr (duct_rules_sheet (starter->rules, r.build.sheet)->label, ==, gauge);
  job_run_sums (job, run, r.vector, &sums);
  g_test_message ("%.4f lb, %.4f shop, %.4f field, %.4f material", measure_lb (r.vector[cost_measure_slot (basis, COST_NET_MG)]),
                  num_wide_to_double (sums.time[1]) / COST_TIME_DEN * 60, num_wide_to_double (sums.time[0]) / COST_TIME_DEN * 60,
                  num_wide_to_double (sums.items[COST_MATERIAL]) / 1e10);
  g_assert_cmpfloat_with_epsilon (measure_lb (r.vector[cost_measure_slot (basis, COST_NET_MG)]), hand.lb, 0.002);
  g_assert_cmpfloat_with_epsilon (num_wide_to_double (sums.time[1]) / COST_TIME_DEN * 60, hand.shop_min, 0.01);
  g_assert_cmpfloat_with_epsilon (num_wide_to_double (sums.time[0]) / COST_TIME_DEN * 60, hand.field_min, 0.01);
  g_assert_cmpfloat_with_epsilon (num_wide_to_double (sums.items[COST_MATERIAL]) / 1e10, hand.material, 0.01);
  job_run_result_clear (&r);
}

/* 54 ft of 16 in spiral at -4 in w.g., couplings, in the hall (field minutes x 1.10).
 * Pieces 5 of 120 in and one of 48; girth g = pi x 16 / 12 ft; 24 gauge (1.156 lb/ft2), lock seam 7/8 in a strip of 5 3/8.
 * Joints 6, couplings 5; screws ceil (50.27 / 15) = 4 a circle: 4 x (1 + 2 x 5) = 44; hangers 54 / 8 = 6.75. */
static void
test_spiral_run (void)
{
  g_autoptr (TallyJob) job = exchange_demo_round_job (starter);
  double g = G_PI * 16 / 12, lb = g * 54 * 1.156 * (1 + 0.875 / 5.375);
  Hand hand = { .lb = lb };

  /* wind 2.5 a piece, .3 a foot, .03 a pound; label and load 1.5 a piece */
  hand.shop_min = 6 * 2.5 + 54 * .3 + lb * .03 + 6 * 1.5;
  /* receive 6 + .10 a pound; anchors 8 and hang 12 a hanger; raise 12 + a pound by the piece's mass (56.3 lb and 22.5: to 60 lb .25);
   * joints 5 + .7 a foot, seal .5 a foot, screws .2; punch, clean and cover 4 a piece */
  hand.field_min = 1.10 * (6 * 6 + lb * .10 + 6.75 * 20 + 6 * 12 + lb * .25 + 6 * 5 + 6 * g * .7 + 6 * g * .5 + 44 * .2 + 6 * 4);
  /* sheet .98 + 8 %; strap sets 9.40; couplings 1.45 a foot + 3 %; screws .035; tubes .08 a joint at 5.20; labels .06; film .09 on the
   * open faces */
  hand.material = lb * 1.08 * .98 + 6.75 * 9.40 + 5 * g * 1.03 * 1.45 + 44 * .035 + 6 * .08 * 5.20 + 6 * .06
                  + 12 * G_PI / 4 * pow (16.0 / 12, 2) * .09;
  assert_hand (job, find (job, DUCT_ROUND_DUCT, 16, 0), "round-coupled", "24", hand);
}

/* 14 ft of 24 in spiral at 2 in w.g. with rings, on the roof: pieces of 120 and 48 in, 4 rings, 2 joints; girth 2 pi ft; bolts
 * ceil (75.40 / 6) = 13 a joint. */
static void
test_ringed_run (void)
{
  g_autoptr (TallyJob) job = exchange_demo_round_job (starter);
  double g = 2 * G_PI, lb = g * 14 * 1.156 * (1 + 0.875 / 5.375);
  double big = lb * 120 / 168, small = lb - big; /* 84.5 lb: to 150 lb .35 a pound */
  Hand hand = { .lb = lb };

  hand.shop_min = 2 * 2.5 + 14 * .3 + lb * .03 + 2 * 1.5 + 4 * (2 + g * .4);
  hand.field_min = 2 * 6 + lb * .10 + 1.75 * 20 + 2 * 12 + big * .35 + small * .25 + 2 * (g * .45 + 4 + g * .4) + 26 * 1.3 + 2 * 4;
  hand.material = lb * 1.08 * .98 + 1.75 * 9.40 + 4 * g * 1.04 * 2.60 + 26 * .36 + 2 * g * 1.05 * .21 + 2 * .06 + 4 * G_PI * .09;
  assert_hand (job, find (job, DUCT_ROUND_DUCT, 24, 0), "round-ringed", "24", hand);
}

/* Five gored elbows 8 in, 90 degrees, throat 8 (Rc 12 in), five gores: centreline 8 x 12 tan (11.25) = 19.0956 in; 26 gauge (class -4
 * to 10 in); seam 1 1/2 in along the centreline; hangers in thousandths a piece: 0.199. */
static void
test_gored_elbows (void)
{
  g_autoptr (TallyJob) job = exchange_demo_round_job (starter);
  double g = G_PI * 8 / 12, line = 8 * 12 * tan (11.25 * G_PI / 180) / 12, lb = (g * line + 1.5 / 12 * line) * 0.906;
  Hand hand = { .lb = 5 * lb };

  hand.shop_min = 5 * (5 * (2 + g * .45) + 5 * (1.8 + g * .8) + 1.5);
  hand.field_min = 1.10 * 5 * (6 + lb * .10 + .199 * 20 + 12 + lb * .25 + 5 + g * 1.2 + 3 * .2 + 4);
  hand.material = 5 * (lb * 1.08 * .98 + .199 * 9.40 + 3 * .035 + .08 * 5.20 + .06 + 2 * G_PI / 4 * 4.0 / 9 * .09);
  assert_hand (job, find (job, DUCT_GORED_ELBOW, 8, 0), "round-coupled", "26", hand);
}

/* Ten flexible ducts 10 in, 4 ft: no sheet; two clamps each; one hanger each (4 ft apart); 10.472 ft2 each. */
static void
test_flexible (void)
{
  g_autoptr (TallyJob) job = exchange_demo_round_job (starter);
  double g = G_PI * 10 / 12;
  Hand hand = { .lb = 0 };

  hand.shop_min = 10 * 1.5;
  hand.field_min = 1.10 * 10 * (6 + 20 + 12 + 8 + 4 * 1 + 2 * (1.2 + g * .25) + .5 * 4);
  hand.material = 10 * (g * 4 * 1.05 * 2.10 + 2 * .85 + 9.40 + .06);
  assert_hand (job, find (job, DUCT_FLEXIBLE_DUCT, 10, 0), "round-coupled", "30", hand);
}

/* Everything is priced; the job is the sum of its rows under each method that is listed; the kept totals are those made anew. */
static void
test_whole (void)
{
  g_autoptr (TallyJob) job = exchange_demo_round_job (starter);
  JobScope all = { 0, 0 };

  g_assert_cmpuint (job_n (job, JOB_RUN), ==, 25);
  for (int m = JOB_OWN_METHOD; m < job_basis (job)->n_methods; m++)
    {
      JobTotals totals;
      CostSums sum = { 0 };
      job_totals (job, &all, m, &totals);
      g_assert_cmpint (totals.not_priced, ==, 0);
      g_assert_cmpint (totals.by_fallback, ==, 0);
      g_assert_cmpint (totals.runs, ==, 25);
      for (guint i = 0; i < job_n (job, JOB_RUN); i++)
        {
          const JobRecord *run = job_at (job, JOB_RUN, i);
          JobRunResult r;
          CostSums one;
          g_assert_true (job_compute (job, run, m, &r));
          job_run_sums (job, run, r.vector, &one);
          for (int s = 0; s < 2; s++)
            sum.time[s] += one.time[s];
          sum.items[COST_MATERIAL] += one.items[COST_MATERIAL];
          job_run_result_clear (&r);
        }
      g_assert_true (sum.time[0] == totals.sums.time[0] && sum.time[1] == totals.sums.time[1]);
      g_assert_true (sum.items[COST_MATERIAL] == totals.sums.items[COST_MATERIAL]);
      job_totals_clear (&totals);
    }
  g_assert_true (job_check_totals (job));
}

static char *
listed (TallyJob *job, int also)
{
  g_autoptr (GArray) methods = job_methods_listed (job, also);
  GString *out = g_string_new (NULL);

  for (guint i = 0; i < methods->len; i++)
    g_string_append_printf (out, "%s%s", i ? " " : "", catalogue_method (starter, g_array_index (methods, int, i))->key);
  return g_string_free (out, FALSE);
}

static const JobRecord *
add_run (TallyJob *job, DuctKind kind, double w, double h, const char *method)
{
  JobEdit *edit = job_edit_new ("add");
  JobRecord *run = job_record_new (JOB_RUN, job_take_id (job, JOB_RUN), 1000000 + job_n (job, JOB_RUN));

  run->num[RUN_KIND] = kind;
  run->num[RUN_W] = (gint64) (w * (double) LENGTH_NM_PER_IN);
  run->num[RUN_H] = (gint64) (h * (double) LENGTH_NM_PER_IN);
  run->num[RUN_LENGTH] = 20 * LENGTH_NM_PER_FT;
  run->num[RUN_CLASS] = 2000;
  if (method)
    job_record_set_text (run, RUN_METHOD, method);
  gint64 id = run->id;
  job_edit_add (edit, NULL, run);
  g_assert_true (job_apply (job, edit, NULL));
  return job_find (job, JOB_RUN, id);
}

#define RECTANGULAR "slip-on-bolted slip-on-driven integral-bolted slip-and-drive slip-and-drive-driven"
#define ROUND "round-coupled round-ringed longitudinal-coupled"

/* A method is listed where it prices a run of its own section. */
static void
test_listed (void)
{
  g_autoptr (TallyJob) round = exchange_demo_round_job (starter), plain = exchange_demo_job (starter);
  g_autoptr (TallyJob) empty = job_new (starter, "empty");
  g_autofree char *a = listed (round, -1), *b = listed (plain, -1), *c = listed (empty, -1);
  g_autofree char *d = listed (plain, catalogue_find_method (starter, "round-ringed"));

  g_assert_cmpstr (a, ==, ROUND);
  g_assert_cmpstr (b, ==, RECTANGULAR);
  g_assert_cmpstr (c, ==, RECTANGULAR);
  g_assert_cmpstr (d, ==, RECTANGULAR " round-ringed");
  add_run (plain, DUCT_ROUND_DUCT, 12, 0, NULL);
  g_autofree char *e = listed (plain, -1);
  g_assert_cmpstr (e, ==, RECTANGULAR " " ROUND);
}

/* A round run under a method for rectangular duct goes by that method's round one, and is no fallback; a rectangular run stays with its
 * own method while round ones are compared. */
static void
test_mixed (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  int bolted = catalogue_find_method (starter, "slip-on-bolted"), ringed = catalogue_find_method (starter, "round-ringed");
  JobScope all = { 0, 0 };
  JobTotals before, own, rings;
  JobRunResult r;

  job_totals (job, &all, bolted, &before);
  const JobRecord *run = add_run (job, DUCT_ROUND_DUCT, 12, 0, "slip-on-driven");
  g_assert_true (job_compute (job, run, bolted, &r));
  g_assert_cmpstr (catalogue_method (starter, r.method)->key, ==, "round-coupled");
  g_assert_cmpint (r.asked, ==, r.method);
  g_assert_null (r.reason);
  job_run_result_clear (&r);
  job_totals (job, &all, JOB_OWN_METHOD, &own);
  job_totals (job, &all, ringed, &rings);
  g_assert_cmpint (own.by_fallback, ==, 0);
  g_assert_cmpint (own.not_priced, ==, 0);
  g_assert_cmpint (rings.not_priced, ==, 0);
  g_assert_cmpint (rings.measured, ==, 1);
  /* the rectangular runs of the demo go by their own method, slip-on-bolted, so frames and flanged joints are those of before */
  for (int m = COST_FRAMES; m <= COST_CORNERS; m++)
    g_assert_cmpint (rings.vector[cost_measure_slot (job_basis (job), (CostMeasure) m)], ==,
                     before.vector[cost_measure_slot (job_basis (job), (CostMeasure) m)]);
  g_assert_cmpint (rings.vector[cost_measure_slot (job_basis (job), COST_JOINTS)], ==,
                   before.vector[cost_measure_slot (job_basis (job), COST_JOINTS)] + 2000);
  g_assert_true (job_check_totals (job));
  /* used for the whole job, a method for round duct reaches the round run alone */
  gint64 id = run->id;
  JobEdit *use = job_edit_method (job, &all, "round-ringed", "use");
  g_assert_cmpuint (use->deltas->len, ==, 1);
  g_assert_cmpint (job_method_exceptions (job, &all, "round-ringed"), ==, 0);
  g_assert_true (job_apply (job, use, NULL));
  g_assert_cmpstr (job_find (job, JOB_RUN, id)->text[RUN_METHOD], ==, "round-ringed");
  JobTotals used;
  job_totals (job, &all, JOB_OWN_METHOD, &used);
  g_assert_cmpint (used.not_priced, ==, 0);
  g_assert_true (used.sums.items[COST_MATERIAL] == rings.sums.items[COST_MATERIAL]);
  job_totals_clear (&used);
  /* a method for round duct that is asked for on a rectangular run of its own is refused in words */
  run = add_run (job, DUCT_STRAIGHT, 24, 12, "round-ringed");
  g_assert_false (job_compute (job, run, JOB_OWN_METHOD, &r));
  g_assert_nonnull (strstr (r.fault->what, "rectangular"));
  job_run_result_clear (&r);
  job_totals_clear (&before);
  job_totals_clear (&own);
  job_totals_clear (&rings);
}

/* The width of coil of a system is that of its sheet: spiral duct still comes in 10 ft. A bare figure in the size cell of a round kind is
 * a diameter. */
static void
test_cells (void)
{
  g_autoptr (TallyJob) job = exchange_demo_round_job (starter);
  const JobRecord *run = find (job, DUCT_ROUND_DUCT, 16, 0);
  gint64 id = run->id;
  Fault *fault = NULL;
  JobRunResult r;

  g_assert_true (job_edit_field (job, JOB_SYSTEM, run->num[RUN_SYSTEM], job_field_find (JOB_SYSTEM, "piece_coil_in"), "60", &fault, NULL));
  g_assert_true (job_compute (job, job_find (job, JOB_RUN, id), JOB_OWN_METHOD, &r));
  g_assert_cmpint (duct_measure_sum (&r.measure, DUCT_PIECE), ==, 6000);
  job_run_result_clear (&r);
  g_assert_true (job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "size"), "18", &fault, NULL));
  g_assert_null (fault);
  run = job_find (job, JOB_RUN, id);
  g_assert_cmpint (run->num[RUN_W], ==, 18 * LENGTH_NM_PER_IN);
  g_assert_cmpint (run->num[RUN_H], ==, 0);
  g_autofree char *text = job_record_print (run, job_field_find (JOB_RUN, "size"), job_names (job));
  g_assert_cmpstr (text, ==, "18 dia");
  run = find (job, DUCT_REDUCER, 16, 0);
  id = run->id;
  g_assert_true (job_edit_field (job, JOB_RUN, id, job_field_find (JOB_RUN, "size2"), "300 mm", &fault, NULL));
  g_assert_null (fault);
  g_assert_cmpint (job_find (job, JOB_RUN, id)->num[RUN_H2], ==, 0);
  g_assert_cmpint (job_find (job, JOB_RUN, id)->num[RUN_W2], ==, 300 * LENGTH_NM_PER_MM);
  /* before a kind is known it may be either */
  JobRecord *bare = job_record_new (JOB_RUN, 0, 0);
  g_assert_false (job_record_read (bare, job_field_find (JOB_RUN, "size"), "18", job_names (job), &fault));
  g_assert_nonnull (strstr (fault->remedy, "12 dia"));
  fault_free (fault);
  job_record_unref (bare);
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/job/demo-round/spiral-run", test_spiral_run);
  g_test_add_func ("/job/demo-round/ringed-run", test_ringed_run);
  g_test_add_func ("/job/demo-round/gored-elbows", test_gored_elbows);
  g_test_add_func ("/job/demo-round/flexible", test_flexible);
  g_test_add_func ("/job/demo-round/whole", test_whole);
  g_test_add_func ("/job/demo-round/listed", test_listed);
  g_test_add_func ("/job/demo-round/mixed", test_mixed);
  g_test_add_func ("/job/demo-round/cells", test_cells);
  status = g_test_run ();
  catalogue_unref (starter);
  return status;
}

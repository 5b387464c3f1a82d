/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Risk of the demo job. Its figures are invented demo; what it must come to was told by an independent run of
 * 200,000 trials, or follows from exact means. */
#include "exchange/runs-csv.h"
#include "fixture.h"
#include "job/risk.h"
#include "job/setting.h"

#include <math.h>

static Catalogue *starter;

static JobRisk *
risk_of (TallyJob *job, const char *a, const char *b)
{
  JobRiskAsk ask[] = { { a, NULL, NULL }, { b, NULL, NULL } };
  g_autoptr (Fault) fault = NULL;
  JobRisk *risk = job_risk_new (job, ask, b ? 2 : 1, &fault);

  g_assert_null (fault);
  g_assert_nonnull (risk);
  return risk;
}

static void
set (TallyJob *job, const char *key, const char *value)
{
  JobEdit *edit = job_edit_new ("setting");

  job_edit_setting (job, edit, key, value);
  g_assert_true (job_apply (job, edit, NULL));
}

/* Invented demo: driven fasteners pay their tooling of 1,900 in 77 % of the trials with every joint flanged, in 57 %
 * where small duct goes to slip and drive, to 3 points; the likely gains after tooling are 1,512 and 192. */
static void
test_demo_question (void)
{
  static const struct
  {
    const char *bolted, *driven;
    double chance, gain;
    const char *word;
  } rows[] = { { "slip-on-bolted", "slip-on-driven", 0.77, 1512, "likely" },
               { "slip-and-drive", "slip-and-drive-driven", 0.57, 192, "not clear: run the trial" } };
  g_autoptr (TallyJob) job = exchange_demo_job (starter);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (JobRisk) risk = risk_of (job, rows[i].bolted, rows[i].driven);
      g_autoptr (RiskResult) result = job_risk_run (risk, NULL, NULL, NULL);
      g_autofree char *sentence = job_risk_sentence (risk, result);
      JobRiskGain gain;
      g_assert_cmpuint (risk_result_trials (result), ==, 100000);
      job_risk_gain (risk, result, 1, &gain);
      assert_near (gain.beats.less, rows[i].chance, 0.03);
      assert_near (gain.gain, rows[i].gain, 1);
      g_assert_cmpstr (job_verdict_say (gain.verdict), ==, rows[i].word);
      g_assert_nonnull (strstr (sentence, rows[i].word));
      assert_near (gain.beats.less + gain.beats.more + gain.beats.tie, 1, 1e-12);
      g_assert_cmpfloat (gain.low.value, <, gain.middle.value);
      g_assert_cmpfloat (gain.middle.value, <, gain.high.value);
      /* Nine in ten clear, three in four likely. */
      g_assert_cmpint (job_verdict (&(RiskBeats){ .less = 0.9, .more = 0.1 }), ==, JOB_VERDICT_CLEAR);
      g_assert_cmpint (job_verdict (&(RiskBeats){ .less = 0.899, .more = 0.101 }), ==, JOB_VERDICT_LIKELY);
      g_assert_cmpint (job_verdict (&(RiskBeats){ .less = 0.749, .more = 0.251 }), ==, JOB_VERDICT_NOT_CLEAR);
    }
}

static double
hours_of (TallyJob *job, int method, int side)
{
  JobScope all = { 0, 0 };
  JobTotals t;

  job_totals (job, &all, method, &t);
  double hours = num_wide_to_double (t.sums.time[side]) / COST_TIME_DEN;
  job_totals_clear (&t);
  return hours;
}

/* Exact means: PERT of a step's three totals is (low + 4 likely + high) / 6, so that the field's mean hours are that
 * of the three job totals times the mean (0.88 + 4 + 1.20) / 6 of the crew factor; the money by the rates and the
 * build-up of the demo. */
static void
test_means (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter), low = job_copy (job, LABOUR_LOW),
                       high = job_copy (job, LABOUR_HIGH);
  g_autoptr (JobRisk) risk = risk_of (job, "slip-on-driven", NULL);
  g_autoptr (RiskResult) result = job_risk_run (risk, NULL, NULL, NULL);
  const JobRiskWay *way = job_risk_way (risk, 0);
  const RiskSample *cost = risk_result_sample (result, way->cost), *hours = risk_result_sample (result, way->hours);
  double mean[2];

  for (int side = 0; side < 2; side++)
    mean[side] =
        (hours_of (low, way->method, side) + 4 * hours_of (job, way->method, side) + hours_of (high, way->method, side))
        / 6;
  mean[0] *= (0.88 + 4 + 1.2) / 6;
  assert_near (hours->mean, mean[0], 4 * hours->error);
  /* material 58,078.65 with 7.25 % tax, rental 168 whatever the minutes; tooling 1,900 */
  JobScope all = { 0, 0 };
  JobTotals t;
  job_totals (job, &all, way->method, &t);
  double material = num_wide_to_double (t.sums.items[COST_MATERIAL]) / 1e10,
         rental = num_wide_to_double (t.sums.items[COST_RENTAL]) / 1e10;
  job_totals_clear (&t);
  assert_near (material, 58078.65, 6);
  assert_near (cost->mean, material * 1.0725 + mean[1] * 68 + mean[0] * 92 * 1.12 + rental + 1900, 4 * cost->error);
  /* Every input at its likely value is the printed cost, to the cents that its lines round. */
  assert_near (risk_problem_likely (risk->problem, way->cost), way->likely, 0.03);
  assert_near (way->likely, 171444.67 + 1900, 18);
  assert_near (risk_problem_likely (risk->problem, way->hours), 758.48, 0.08);
}

static void
test_contingency (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  double over[2];

  for (int mean = 0; mean < 2; mean++)
    {
      set (job, "risk.base", mean ? "mean" : "likely");
      g_autoptr (JobRisk) risk = risk_of (job, "slip-on-bolted", NULL);
      g_autoptr (RiskResult) result = job_risk_run (risk, NULL, NULL, NULL);
      g_auto (GStrv) choices = job_risk_choices (risk);
      g_autofree char *all = g_strjoinv ("\n", choices);
      JobRiskContingency c;
      job_risk_contingency (risk, result, 0, &c);
      over[mean] = c.contingency;
      assert_near (c.base, mean ? risk_result_sample (result, 0)->mean : 174857.16, mean ? 1e-9 : 18);
      assert_near (c.quantile, risk_sample_quantile (risk_result_sample (result, 0), 0.8).value, 1e-9);
      assert_near (c.base + c.contingency, c.quantile, 1e-6);
      g_assert_nonnull (strstr (all, mean ? "over the mean cost" : "over the likely cost"));
      g_assert_nonnull (strstr (all, "L3"));
      g_assert_nonnull (strstr (all, "L10"));
      g_assert_nonnull (strstr (all, "sampled once a trial for all methods"));
      g_assert_nonnull (strstr (all, "invented or remembered"));
    }
  /* Low, likely and high lean to the high side: the mean lies above the likely cost. */
  g_assert_cmpfloat (over[0], >, over[1]);
}

/* Swap the methods and every difference changes its sign; the same method twice is zero everywhere; a third one
 * changes nothing. */
static void
test_symmetry (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  set (job, "risk.trials", "5000");
  g_autoptr (JobRisk) ab = risk_of (job, "slip-on-bolted", "slip-on-driven"),
                      ba = risk_of (job, "slip-on-driven", "slip-on-bolted");
  g_autoptr (JobRisk) same = risk_of (job, "integral-bolted", "integral-bolted");
  const JobRiskAsk three[] = { { "integral-bolted", NULL, NULL },
                               { "slip-on-bolted", NULL, NULL },
                               { "slip-on-driven", NULL, NULL } };
  g_autoptr (JobRisk) all = job_risk_new (job, three, 3, NULL);
  g_autoptr (RiskResult) r1 = job_risk_run (ab, NULL, NULL, NULL), r2 = job_risk_run (ba, NULL, NULL, NULL);
  g_autoptr (RiskResult) r3 = job_risk_run (same, NULL, NULL, NULL), r4 = job_risk_run (all, NULL, NULL, NULL);
  JobRiskGain g1, g2, g3;

  job_risk_gain (ab, r1, 1, &g1);
  job_risk_gain (ba, r2, 1, &g2);
  job_risk_gain (same, r3, 1, &g3);
  g_assert_cmpfloat (g1.gain, ==, -g2.gain);
  g_assert_cmpfloat (g1.mean, ==, -g2.mean);
  g_assert_cmpfloat (g1.beats.less, ==, g2.beats.more);
  assert_near (g1.low.value, -g2.high.value, 1e-9);
  g_assert_cmpint (g1.verdict, ==, g2.verdict);
  g_assert_cmpfloat (g3.gain, ==, 0);
  g_assert_cmpfloat (g3.low.value, ==, 0);
  g_assert_cmpfloat (g3.high.value, ==, 0);
  g_assert_cmpfloat (g3.beats.tie, ==, 1);
  g_assert_cmpint (g3.verdict, ==, JOB_VERDICT_EQUAL);
  g_autofree char *sentence = job_risk_sentence (same, r3);
  g_assert_nonnull (strstr (sentence, "the same in every trial"));
  for (gsize i = 0; i < 5000; i++)
    g_assert_cmpfloat (risk_result_values (r1, job_risk_way (ab, 0)->cost)[i], ==,
                       risk_result_values (r4, job_risk_way (all, 1)->cost)[i]);
}

static double
mean_cost (TallyJob *job, double *sd)
{
  g_autoptr (JobRisk) risk = risk_of (job, "slip-on-bolted", NULL);
  g_autoptr (RiskResult) result = job_risk_run (risk, NULL, NULL, NULL);

  *sd = risk_result_sample (result, 0)->sd;
  return risk_result_sample (result, 0)->mean;
}

/* The metal's factor moves the sheet's money with its tax; the schedule site general and rental; same seed, so that
 * the other draws stay. */
static void
test_factors (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  int sheet = catalogue_find_item (starter, "galvanised sheet");
  JobScope all = { 0, 0 };
  JobTotals t;
  double sd0, sd1, sd2, sd3, plain = mean_cost (job, &sd0), metal, scheduled;

  job_totals (job, &all, catalogue_find_method (starter, "slip-on-bolted"), &t);
  double money = (double) t.vector[sheet] * (double) job_basis (job)->price[sheet] / 1e10;
  double rental = num_wide_to_double (t.sums.items[COST_RENTAL]) / 1e10;
  job_totals_clear (&t);
  set (job, "risk.metal_low", "0.9");
  set (job, "risk.metal_high", "1.3");
  metal = mean_cost (job, &sd1);
  /* mean of PERT (0.9, 1, 1.3) is 6.2 / 6; its deviation sqrt (0.1333 x 0.2667 / 7) = 0.07127 */
  assert_near (metal - plain, money * 1.0725 * (6.2 / 6 - 1), 4 * money * 1.0725 * 0.07127 / sqrt (1e5));
  assert_near (sd1 * sd1 - sd0 * sd0, pow (money * 1.0725 * 0.07127, 2), 0.02 * sd0 * sd0);
  set (job, "risk.metal_low", NULL);
  set (job, "risk.metal_high", NULL);
  set (job, "risk.schedule_high", "1.6");
  scheduled = mean_cost (job, &sd2);
  /* mean field hours x 92 x 12 %, and rental, by 5.6 / 5 - hence mean of PERT (1, 1, 1.6) = 1.1 */
  g_autoptr (TallyJob) low = job_copy (job, LABOUR_LOW), high = job_copy (job, LABOUR_HIGH);
  int m = catalogue_find_method (starter, "slip-on-bolted");
  double hours = (hours_of (low, m, 0) + 4 * hours_of (job, m, 0) + hours_of (high, m, 0)) / 6 * (0.88 + 4 + 1.2) / 6;
  assert_near (scheduled - plain, (hours * 92 * 0.12 + rental) * 0.1, 10);
  /* A slow crew that is also late: together they spread wider. */
  set (job, "risk.field_schedule", "0.8");
  mean_cost (job, &sd3);
  g_assert_cmpfloat (sd3, >, sd2 * 1.01);
}

/* An item with a low and a high; a what-if keeps the range in proportion and shares the draws. */
static void
test_prices (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  g_autoptr (Catalogue) catalogue = NULL;
  g_autoptr (GPtrArray) changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  g_autoptr (Fault) fault = NULL;

  fixture_tables (table);
  fixture_set (table[CATALOGUE_ITEMS], "galvanised sheet", "low_usd", "0.88");
  fixture_set (table[CATALOGUE_ITEMS], "galvanised sheet", "high_usd", "1.28");
  catalogue = fixture_catalogue (table);
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  g_ptr_array_add (changes, cost_change_new ("item", "galvanised sheet", "price", "1.96"));
  set (job, "risk.trials", "20000");
  const JobRiskAsk ask[] = { { "slip-on-bolted", NULL, NULL }, { "slip-on-bolted", "sheet twice as dear", changes } };
  g_autoptr (JobRisk) risk = job_risk_new (job, ask, 2, &fault);
  g_assert_null (fault);
  g_assert_cmpuint (risk->ranged, ==, 1);
  int input = risk_problem_find_input (risk->problem, "price: galvanised sheet");
  g_assert_cmpint (input, >=, 0);
  g_autofree char *words = job_risk_input_say (risk, input);
  g_assert_cmpstr (words, ==, "price of galvanised sheet");
  g_autoptr (RiskResult) result = job_risk_run (risk, NULL, NULL, NULL);
  JobRiskGain gain;
  job_risk_gain (risk, result, 1, &gain);
  g_assert_cmpstr (job_risk_way (risk, 1)->name, ==, "sheet twice as dear");
  g_assert_cmpfloat (gain.beats.more, ==, 1);
  g_assert_cmpint (gain.verdict, ==, JOB_VERDICT_CLEAR);
  /* The dearer sheet costs what the sheet costs once more: 0.88, 0.98, 1.28 a pound at the same draw. */
  JobScope all = { 0, 0 };
  JobTotals t;
  job_totals (job, &all, catalogue_find_method (catalogue, "slip-on-bolted"), &t);
  double pounds = (double) t.vector[catalogue_find_item (catalogue, "galvanised sheet")] / 1e6 * 1.0725;
  job_totals_clear (&t);
  g_assert_cmpfloat (-gain.low.value, <, pounds * 1.28);
  g_assert_cmpfloat (-gain.high.value, >, pounds * 0.88);
  assert_near (-gain.mean, pounds * (0.88 + 4 * 0.98 + 1.28) / 6, 4 * gain.error);
}

static void
assert_refused (TallyJob *job, const JobRiskAsk *ask, const char *words, const char *remedy)
{
  g_autoptr (Fault) fault = NULL;

  g_assert_null (job_risk_new (job, ask, 1, &fault));
  g_test_message ("%s; %s", fault->what, fault->remedy);
  g_assert_nonnull (strstr (fault->what, words));
  g_assert_nonnull (strstr (fault->remedy, remedy));
}

static void
test_refused (void)
{
  g_autoptr (TallyJob) job = exchange_demo_job (starter);
  const JobRiskAsk right = { "slip-on-bolted", NULL, NULL }, wrong = { "welded", NULL, NULL };
  static const char *const none[] = { "risk.shop_low", "risk.metal_low", NULL };

  assert_refused (job, &wrong, "no method “welded”", "name a method");
  set (job, "risk.field_low", "1.1");
  assert_refused (job, &right, "field crew", "1, 1.1, 1.2");
  set (job, "risk.field_low", "0.88");
  for (int i = 0; none[i]; i++)
    set (job, none[i], "0.9");
  set (job, "risk.field_shop", "0.9");
  set (job, "risk.field_metal", "0.9");
  set (job, "risk.shop_metal", "-0.9");
  /* 1 - 2 x 0.9 = -0.8 is the smallest eigenvalue: 1 / 1.8 = 0.555 */
  assert_refused (job, &right, "smallest eigenvalue is -0.800000", "at most 0.555");
}

/* No run, no job to lose money on: every figure zero but what stands there anyway, and no complaint. */
static void
test_empty (void)
{
  g_autoptr (TallyJob) job = job_new (starter, "Empty");
  g_autoptr (JobRisk) risk = risk_of (job, "slip-on-bolted", "slip-on-driven");
  g_autoptr (RiskResult) result = job_risk_run (risk, NULL, NULL, NULL);
  JobRiskGain gain;

  job_risk_gain (risk, result, 1, &gain);
  g_assert_cmpfloat (gain.gain, ==, -1900); /* the tooling alone */
  g_assert_cmpfloat (gain.beats.more, ==, 1);
}

/* Low, likely and high of a common factor stay in order where they are typed (the demo's field crew: 0.88, 1, 1.2, invented demo); the remedy is
 * the nearest value that fits. */
static void
test_fits (void)
{
  static const struct
  {
    const char *key, *value, *remedy;
  } bad[] = { { "risk.field_low", "1.01", "at most 1 here" },       { "risk.field_likely", "1.3", "at most 1.2 here" },
              { "risk.field_likely", "0.8", "at least 0.88 here" }, { "risk.shop_high", "0.99", "at least 1 here" },
              { "risk.metal_low", "1.0001", "at most 1 here" } };
  static const char *const good[][2] = { { "risk.field_low", "1" }, { "risk.field_low", "" }, { "risk.field_high", "9" },
                                         { "risk.seed", "7" },      { "mix.not", "" } };
  g_autoptr (TallyJob) job = exchange_demo_job (starter);

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      Fault *fault = NULL;
      g_assert_false (job_setting_fits (job, bad[i].key, bad[i].value, &fault));
      g_assert_true (g_str_has_prefix (fault->remedy, bad[i].remedy));
      fault_free (fault);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    g_assert_true (job_setting_fits (job, good[i][0], good[i][1], NULL));
  /* Back to the default, too, where that is out of order by then. */
  set (job, "risk.field_high", "2");
  set (job, "risk.field_likely", "1.5");
  g_assert_false (job_setting_fits (job, "risk.field_high", "", NULL));
  g_assert_true (job_setting_fits (job, "risk.field_likely", "", NULL));
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/job-risk/demo-question", test_demo_question);
  g_test_add_func ("/job-risk/means", test_means);
  g_test_add_func ("/job-risk/contingency", test_contingency);
  g_test_add_func ("/job-risk/symmetry", test_symmetry);
  g_test_add_func ("/job-risk/factors", test_factors);
  g_test_add_func ("/job-risk/prices", test_prices);
  g_test_add_func ("/job-risk/refused", test_refused);
  g_test_add_func ("/job-risk/empty", test_empty);
  g_test_add_func ("/job-risk/fits", test_fits);
  status = g_test_run ();
  catalogue_unref (starter);
  return status;
}

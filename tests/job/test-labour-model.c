/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Learning and overtime of a job. The demo job and its figures are invented; what is held against is exact or worked out here. */
#include "job/labour.h"

/* Learning and a new crew never both: whichever comes second is refused with words that name both. */
static void
test_new_crew (void)
{
  g_autoptr (TallyJob) job = demo ();
  GError *error = NULL;
  gint64 level = area_id (job, "Level 1");

  g_assert_true (set_setting (job, "learning.model", "unit", NULL));
  g_assert_false (set_field (job, JOB_AREA, level, "condition", "high work; new crew", &error));
  g_assert_nonnull (strstr (error->message, "new crew"));
  g_assert_nonnull (strstr (error->message, "unit curve"));
  g_clear_error (&error);
  g_assert_false (set_field (job, JOB_RUN, job_at (job, JOB_RUN, 3)->id, "condition", "new crew", &error));
  g_clear_error (&error);
  g_assert_true (set_setting (job, "learning.model", "none", NULL));
  g_assert_true (set_field (job, JOB_AREA, level, "condition", "high work; new crew", NULL));
  g_assert_false (set_setting (job, "learning.model", "cumulative-average", &error));
  g_assert_nonnull (strstr (error->message, "Level 1"));
  g_clear_error (&error);
  /* An old file that holds both is read, and says so. */
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
  for (int t = 0; t < JOB_N_TYPES; t++)
    for (guint i = 0; i < job_n (job, (JobType) t); i++)
      g_ptr_array_add (records, job_record_ref ((JobRecord *) job_at (job, (JobType) t, i)));
  JobRecord *both = job_record_new (JOB_SETTING, 4711, 4711);
  job_record_set_text (both, SETTING_KEY, "learning.model");
  job_record_set_text (both, SETTING_VALUE, "unit");
  g_ptr_array_add (records, both);
  g_autoptr (TallyJob) old = job_new_from_records (job_basis (job)->catalogue, records, NULL, &error);
  g_assert_no_error (error);
  g_autoptr (GPtrArray) cautions = job_labour_cautions (old);
  g_assert_cmpuint (cautions->len, ==, 1);
  g_assert_nonnull (strstr (cautions->pdata[0], "new crew"));
}

/* Learning multiplies the steps at the joint, over the joints of each method by itself, and nothing else. 534 joints by slip-on, 563 by
 * integral flange (demo.md); slope 90 %, minutes are the average of the first 1000: (534 / 1000)^log2(0.9), computed here. */
static void
test_learning (void)
{
  g_autoptr (TallyJob) job = demo ();
  const Catalogue *c = job_basis (job)->catalogue;
  static const struct
  {
    const char *method;
    double joints;
  } rows[] = { { "slip-on-bolted", 534 }, { "integral-bolted", 563 }, { "slip-and-drive", 542 } };

  g_assert_true (set_setting (job, "learning.known", "1000", NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      int m = catalogue_find_method (c, rows[i].method);
      JobTotals plain = totals_of (job, m), with, same;
      gint64 joints, ppm;
      g_assert_true (set_setting (job, "learning.model", "cumulative-average", NULL));
      ppm = job_learning (job, m, &joints);
      g_assert_cmpint (joints, ==, (gint64) rows[i].joints);
      assert_near ((double) ppm / 1e6, pow (rows[i].joints / 1000, log2 (0.9)), 6e-7);
      with = totals_of (job, m);
      assert_near (num_wide_to_double (with.sums.joint_time) / num_wide_to_double (plain.sums.joint_time), (double) ppm / 1e6, 1e-6);
      g_assert_true (with.sums.time[0] - time_at (job, &with, LABOUR_JOINT) == plain.sums.time[0] - time_at (job, &plain, LABOUR_JOINT));
      g_assert_true (with.sums.labour[1] == plain.sums.labour[1]);
      /* A slope of 100 % changes nothing. */
      g_assert_true (set_setting (job, "learning.slope", "100", NULL));
      same = totals_of (job, m);
      g_assert_true (same.sums.labour[0] == plain.sums.labour[0]);
      g_assert_true (job_check_totals (job));
      g_assert_true (set_setting (job, "learning.slope", "", NULL));
      g_assert_true (set_setting (job, "learning.model", "", NULL));
      job_totals_clear (&plain);
      job_totals_clear (&with);
      job_totals_clear (&same);
    }
  /* Known after the 50 joints of the default: the plateau is reached, so the unit curve adds what the first 50 take on top, 8.253363 joints
   * (computed, see test-learning.c), and the cumulative average nothing; no method falls below its entered minutes. */
  g_assert_true (set_setting (job, "learning.known", "", NULL));
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      int m = catalogue_find_method (c, rows[i].method);
      g_assert_true (set_setting (job, "learning.model", "cumulative-average", NULL));
      g_assert_cmpint (job_learning (job, m, NULL), ==, 1000000);
      g_assert_true (set_setting (job, "learning.model", "unit", NULL));
      assert_near ((double) job_learning (job, m, NULL) / 1e6, 1 + 8.253363 / rows[i].joints, 6e-7);
    }
  g_autoptr (GPtrArray) words = job_labour_words (job);
  gboolean said = FALSE;
  for (guint i = 0; i < words->len; i++)
    said = said || strstr (words->pdata[i], "the entered minutes are those of joint 50 and hold from there on");
  g_assert_true (said);
  /* Parts of the job learn over all of its joints, so that they add up to it. */
  g_assert_true (set_setting (job, "learning.model", "unit", NULL));
  JobTotals whole = totals_of (job, JOB_OWN_METHOD);
  NumWide sum = 0, runs = 0;
  for (guint i = 0; i < job_n (job, JOB_AREA); i++)
    {
      JobScope scope = { 0, job_at (job, JOB_AREA, i)->id };
      JobTotals part;
      job_totals (job, &scope, JOB_OWN_METHOD, &part);
      sum += part.sums.labour[0];
      job_totals_clear (&part);
    }
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      JobRunResult r;
      CostSums one;
      if (job_compute (job, job_at (job, JOB_RUN, i), JOB_OWN_METHOD, &r))
        {
          job_run_sums (job, job_at (job, JOB_RUN, i), r.vector, &one);
          runs += one.labour[0];
        }
      job_run_result_clear (&r);
    }
  g_assert_true (sum == whole.sums.labour[0]);
  g_assert_true (runs == whole.sums.labour[0]);
  job_totals_clear (&whole);
}

/* The starter catalogue with the published table of losses (source 8 of methods.md), as an office would enter it. */
static Catalogue *
with_losses (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  g_autoptr (GString) text = g_string_new ("table,hours_a_week,week,loss_pct,basis,source,status\n");
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "overtime_loss_weeks.csv", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (CsvTable) weeks = csv_read_file (path, NULL, &error);

  g_assert_no_error (error);
  for (guint i = 0; i < weeks->row->len; i++)
    g_string_append_printf (text, "printed,50,%s,%.4f,,,published\n", csv_cell (weeks, i, 0),
                            100 * g_ascii_strtod (csv_cell (weeks, i, 1), NULL));
  fixture_tables (table);
  csv_table_free (table[CATALOGUE_OVERTIME_LOSS]);
  table[CATALOGUE_OVERTIME_LOSS] = csv_parse (text->str, -1, "overtime_loss", NULL);
  return fixture_catalogue (table);
}

/* A 50-hour week at time and a half: 46.00 wage becomes 50.60, the rate 96.60, in the field alone; the hours stay. With the table 4 weeks
 * lose (5 + 7 + 8 + 9) / 4 = 7.25 %: hours / 0.9275, or x 1.0725 where the job says so (labelled choice L5). */
static void
test_overtime (void)
{
  g_autoptr (Catalogue) catalogue = with_losses ();
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  int field = labour_find_crew (catalogue->labour, "field"), shop = labour_find_crew (catalogue->labour, "shop");
  JobTotals plain = totals_of (job, JOB_OWN_METHOD), paid, lost, times;

  g_assert_true (set_setting (job, "overtime.hours", "50", NULL));
  g_assert_cmpint (job_basis (job)->rate[field], ==, 966000);
  g_assert_cmpint (job_basis (job)->rate[shop], ==, 680000);
  paid = totals_of (job, JOB_OWN_METHOD);
  g_assert_true (paid.sums.time[0] == plain.sums.time[0]);
  g_assert_true (paid.sums.labour[0] == plain.sums.labour[0] / 920000 * 966000);
  g_assert_true (set_setting (job, "overtime.weeks", "4", NULL));
  g_assert_true (set_setting (job, "overtime.table", "printed", NULL));
  lost = totals_of (job, JOB_OWN_METHOD);
  assert_near (num_wide_to_double (lost.sums.time[0]) / num_wide_to_double (plain.sums.time[0]), 1 / 0.9275, 1e-6);
  g_assert_true (lost.sums.time[1] == plain.sums.time[1]);
  g_assert_true (set_setting (job, "overtime.loss", "multiply", NULL));
  times = totals_of (job, JOB_OWN_METHOD);
  assert_near (num_wide_to_double (times.sums.time[0]) / num_wide_to_double (plain.sums.time[0]), 1.0725, 1e-6);
  g_autoptr (GPtrArray) words = job_labour_words (job);
  g_assert_cmpuint (words->len, ==, 2);
  g_assert_nonnull (strstr (words->pdata[0], "premium 10.00 % on hours worked, 9.09 % of the total pay"));
  g_assert_nonnull (strstr (words->pdata[1], "None of these tables is binding"));
  g_assert_nonnull (strstr (words->pdata[1], "base × (1 + loss)"));
  /* Shop too, when the job says so. */
  g_assert_true (set_setting (job, "overtime.places", "shop+field", NULL));
  g_assert_cmpint (job_basis (job)->rate[shop], ==, 748000); /* 68.00 x 1.1, all of it on wage */
  g_assert_true (job_check_totals (job));
  /* Hours without rows: nothing is lost, and the job says why. */
  g_assert_true (set_setting (job, "overtime.hours", "55", NULL));
  g_autoptr (GPtrArray) cautions = job_labour_cautions (job);
  g_assert_cmpuint (cautions->len, ==, 1);
  g_assert_nonnull (strstr (cautions->pdata[0], "50"));
  /* A rate entered for the job goes before what the week makes of it. */
  for (int i = 0; i < 6; i++)
    g_assert_true (job_undo (job, NULL));
  g_assert_cmpint (job_basis (job)->rate[field], ==, 920000);
  job_totals_clear (&paid);
  paid = totals_of (job, JOB_OWN_METHOD);
  g_assert_true (paid.sums.labour[0] == plain.sums.labour[0]);
  job_totals_clear (&plain);
  job_totals_clear (&paid);
  job_totals_clear (&lost);
  job_totals_clear (&times);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/labour-model/new-crew", test_new_crew);
  g_test_add_func ("/labour-model/learning", test_learning);
  g_test_add_func ("/labour-model/overtime", test_overtime);
  return g_test_run ();
}

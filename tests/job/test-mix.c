/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The mix of the open job. The demo job is an invented demo. */
#include "cost/compare.h"
#include "exchange/runs-csv.h"
#include "job/mix.h"
#include "job/setting.h"

#include <math.h>
#include <string.h>

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

static void
set (TallyJob *job, const char *key, const char *value)
{
  JobEdit *edit = job_edit_new (key);

  job_edit_setting (job, edit, key, value);
  g_assert_true (job_apply (job, edit, NULL));
}

/* Cost and tooling of a method as the compare page has them, and field hours. */
static double
compared (TallyJob *job, int method, double *hours)
{
  JobScope all = { 0, 0 };
  JobTotals totals;
  CostOption option;

  job_totals (job, &all, method, &totals);
  cost_option_init (&option, job_basis (job), method, &totals.sums, totals.vector, 2);
  double cost = (double) (option.cost + option.once) / 100;
  *hours = option.field_hours;
  cost_option_clear (&option);
  job_totals_clear (&totals);
  return cost;
}

/* The demo has no round duct, so one method everywhere is a column of the compare page (demo.md, "The whole job, likely"; lines
 * there are rounded to cents one by one, groups here to ten-thousandths). */
static void
test_one_method (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMix) mix = job_mix_new (job, NULL);

  g_assert_nonnull (mix);
  g_assert_cmpuint (mix->method->len, ==, 5);
  g_assert_cmpint (mix->counted, ==, 11);
  g_assert_cmpint (mix->not_priced, ==, 0);
  g_autofree guint *method = g_new0 (guint, mix->mix->n_groups);
  for (guint m = 0; m < mix->method->len; m++)
    {
      double hours, cost = compared (job, g_array_index (mix->method, int, m), &hours);
      for (guint g = 0; g < mix->mix->n_groups; g++)
        method[g] = m;
      g_autoptr (CostMixPlan) plan = cost_mix_plan_new (mix->mix, method);
      g_assert_nonnull (plan);
      g_assert_cmpint (plan->unmated, ==, 0);
      g_assert_cmpfloat_with_epsilon ((double) job_mix_cost (mix, plan) / 1e4, cost, 0.05);
      g_assert_cmpfloat_with_epsilon ((double) plan->hours / (double) COST_MIX_HOUR, hours, 1e-4);
    }
}

static void
test_never_dearer (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMix) mix = job_mix_new (job, NULL);
  g_autoptr (CostMixReport) report = cost_mix_report_new (mix->mix, NULL, NULL);
  const CostMixPlan *best;

  g_assert_nonnull (report);
  g_assert_true (report->best->proven);
  best = report->best->plan->pdata[0];
  g_assert_cmpint (best->cost, <=, report->one_free->cost);
  for (guint m = 0; m < mix->method->len; m++)
    {
      double hours;
      g_assert_cmpfloat ((double) job_mix_cost (mix, best) / 1e4, <=,
                         compared (job, g_array_index (mix->method, int, m), &hours) + 0.05);
    }
  g_assert_cmpint (job_mix_cost (mix, best), <=, mix->own_cost + 500);
  /* A tighter limit never makes it cheaper. */
  double limit = (double) report->least_hours / (double) COST_MIX_HOUR + 5;
  g_autofree char *typed = g_strdup_printf ("%.1f", limit);
  set (job, "mix.hours", typed);
  g_autoptr (JobMix) tight = job_mix_new (job, NULL);
  g_autoptr (CostMixReport) again = cost_mix_report_new (tight->mix, NULL, NULL);
  const CostMixPlan *kept = again->best->plan->pdata[0];
  g_assert_cmpint (kept->cost, >=, best->cost);
  g_assert_cmpfloat ((double) kept->hours / (double) COST_MIX_HOUR, <=, limit + 1e-3);
}

/* The edit makes the job what the plan says: cost less what boundary joints take, in one step back and forth. */
static void
test_use (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMix) mix = job_mix_new (job, NULL);
  g_autoptr (CostMixResult) result = cost_mix_solve (mix->mix, NULL);
  const CostMixPlan *best = result->plan->pdata[0];
  double hours, before = compared (job, JOB_OWN_METHOD, &hours);
  JobEdit *edit = job_edit_mix (job, mix, best, "mix");

  g_assert_cmpuint (edit->deltas->len, >, 0);
  g_assert_true (job_apply (job, edit, NULL));
  g_autoptr (JobMix) after = job_mix_new (job, NULL);
  g_assert_cmpfloat_with_epsilon ((double) after->own_cost / 1e4, (double) job_mix_cost (mix, best) / 1e4, 0.1);
  g_assert_cmpfloat_with_epsilon ((double) after->own_hours, (double) best->hours, 1000);
  for (guint g = 0; g < after->group->len; g++)
    g_assert_cmpint (job_mix_group (after, g)->own, ==, (int) best->method[g]);
  edit = job_edit_mix (job, after, best, "mix");
  g_assert_cmpuint (edit->deltas->len, ==, 0);
  job_edit_free (edit);
  g_assert_true (job_check_totals (job));
  g_assert_true (job_undo (job, NULL));
  g_assert_cmpfloat (compared (job, JOB_OWN_METHOD, &hours), ==, before);
}

static void
test_limits (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (Fault) fault = NULL;

  set (job, "mix.weeks", "2");
  set (job, "mix.hours", "900");
  g_autoptr (JobMix) mix = job_mix_new (job, NULL);
  /* 2 weeks x 4 workers x 8 hours x 5 days. */
  g_assert_cmpfloat (mix->limit_hours, ==, 320);
  g_assert_null (cost_mix_report_new (mix->mix, NULL, &fault));
  g_assert_nonnull (strstr (fault->what, "within 320 hours; the least is "));
  set (job, "mix.weeks", NULL);
  set (job, "mix.methods", "1");
  g_autoptr (JobMix) one = job_mix_new (job, NULL);
  g_autoptr (CostMixResult) result = cost_mix_solve (one->mix, NULL);
  g_assert_cmpuint (((CostMixPlan *) result->plan->pdata[0])->methods, ==, 1);
}

static void
test_not (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMix) mix = job_mix_new (job, NULL);
  g_autoptr (CostMixResult) result = cost_mix_solve (mix->mix, NULL);
  const CostMixPlan *best = result->plan->pdata[0];
  int method = g_array_index (mix->method, int, best->method[0]);
  JobEdit *edit = job_edit_new ("not");

  job_edit_mix_not (job, edit, job_mix_group (mix, 0), method, TRUE);
  g_assert_true (job_apply (job, edit, NULL));
  g_assert_true (job_mix_forbids (job, job_mix_group (mix, 0), method));
  g_assert_false (job_mix_forbids (job, job_mix_group (mix, 1), method));
  g_autoptr (JobMix) less = job_mix_new (job, NULL);
  g_autoptr (CostMixResult) other = cost_mix_solve (less->mix, NULL);
  const CostMixPlan *second = other->plan->pdata[0];
  g_assert_cmpuint (second->method[0], !=, best->method[0]);
  g_assert_cmpint (second->cost, >=, best->cost);
  edit = job_edit_new ("allow");
  job_edit_mix_not (job, edit, job_mix_group (mix, 0), method, FALSE);
  g_assert_true (job_apply (job, edit, NULL));
  g_assert_cmpstr (job_setting (job, "mix.not"), ==, "");
  set (job, "mix.not", "nowhere/x/2/18 = slip-and-drive");
  g_autoptr (JobMix) told = job_mix_new (job, NULL);
  g_assert_cmpuint (told->said->len, ==, 1);
}

/* What would be passed over is refused where it is entered. */
static void
test_settings_refused (void)
{
  static const char *const bad[][3] = {
    { "mix.not", "foo = bar", "names no group" },      { "mix.not", "SA-1/Level 1/2/18", "names no group" },
    { "mix.not", "SA-1/Level 1/2/18 =", "names no group" }, { "mix.bands", "abc", "no size" },
    { "mix.bands", "18 0", "no size" },                { "mix.bands", "30 18", "does not end above" },
    { "mix.bands", "18 18", "does not end above" },
  };
  g_autoptr (TallyJob) job = demo ();

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_assert_null (job_setting_read (bad[i][0], bad[i][1], &fault));
      g_assert_nonnull (strstr (fault->what, bad[i][2]));
      g_assert_true (*fault->remedy);
    }
  g_autofree char *bands = job_setting_read ("mix.bands", "18 30; 54", NULL),
                  *not = job_setting_read ("mix.not", "SA-1/Level 1/2/18 = slip-and-drive, slip-on-bolted;", NULL);
  g_assert_nonnull (bands);
  g_assert_nonnull (not);
  JobEdit *edit = job_edit_new ("not");
  g_autoptr (GError) error = NULL;
  job_edit_setting (job, edit, "mix.not", "SA-1/Level 1/2/18 = no-such-method");
  g_assert_false (job_apply (job, edit, &error));
  g_assert_nonnull (strstr (error->message, "there is no method “no-such-method”"));
}

/* Groups, joints, set-up and what is not part of the choice come to the whole: of the invented demo, 8,082.67 and 27.70 h
 * stood nowhere. */
static void
test_parts (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMix) mix = job_mix_new (job, NULL);
  g_autoptr (CostMixResult) result = cost_mix_solve (mix->mix, NULL);
  const CostMixPlan *best = result->plan->pdata[0];
  g_autoptr (GArray) parts = job_mix_parts (mix, mix->mix, best);
  const JobMixPart *whole = &g_array_index (parts, JobMixPart, parts->len - 1);
  gint64 cost = 0, hours = 0, groups = 0;

  for (guint i = 0; i + 1 < parts->len; i++)
    {
      cost += g_array_index (parts, JobMixPart, i).cost;
      hours += g_array_index (parts, JobMixPart, i).hours;
    }
  g_assert_cmpint (cost, ==, whole->cost);
  g_assert_cmpint (hours, ==, whole->hours);
  g_assert_cmpint (whole->cost, ==, (job_mix_cost (mix, best) + 50) / 100 * 100);
  g_assert_cmpint (whole->hours, ==, (best->hours + 18000) / 36000 * 36000);
  for (guint g = 0; g < mix->group->len; g++)
    groups += (mix->mix->cost[(gsize) g * mix->mix->n_methods + best->method[g]] + 50) / 100 * 100;
  g_assert_cmpint (g_array_index (parts, JobMixPart, 0).cost, ==, groups);
  const JobMixPart *rest = &g_array_index (parts, JobMixPart, parts->len - 2);
  g_assert_cmpstr (rest->key, ==, "rest");
  g_assert_nonnull (strstr (rest->name, "counted lines"));
  /* to the cents that 24 groups may round by */
  g_assert_cmpint (ABS (rest->cost - mix->rest_cost), <, 50 * 26);
  g_assert_cmpint (rest->cost % 100, ==, 0);
}

static gboolean
says (const GPtrArray *sentences, const char *words)
{
  for (guint i = 0; i < sentences->len; i++)
    if (strstr (g_ptr_array_index (sentences, i), words))
      return TRUE;
  return FALSE;
}

/* What the answer hangs on is said beside it. */
static void
test_choices (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMix) mix = job_mix_new (job, NULL);
  g_autoptr (GPtrArray) choices = job_mix_choices (job, mix);

  g_assert_true (says (choices, "follow one another"));
  g_assert_true (says (choices, "(common practice); a joint"));
  g_assert_true (says (choices, "11 counted lines"));
  g_assert_true (says (choices, "invented demo"));
  set (job, "mix.boundary_money", "0");
  set (job, "mix.boundary_minutes", "0");
  g_autoptr (JobMix) bare = job_mix_new (job, NULL);
  g_autoptr (GPtrArray) own = job_mix_choices (job, bare);
  g_assert_true (says (own, "(the job's own); a joint"));
  g_assert_cmpint (bare->mix->boundary_cost, ==, 0);
  /* Joints that cost nothing never make the best mix dearer. */
  g_autoptr (CostMixResult) with = cost_mix_solve (mix->mix, NULL), without = cost_mix_solve (bare->mix, NULL);
  g_assert_cmpint (((CostMixPlan *) without->plan->pdata[0])->cost, <=, ((CostMixPlan *) with->plan->pdata[0])->cost);
}

/* The conclusion says by size and class what goes where, what is saved, and that it is proven. */
static void
test_words (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobMix) mix = job_mix_new (job, NULL);
  g_autoptr (CostMixReport) report = cost_mix_report_new (mix->mix, NULL, NULL);
  g_autofree char *words = job_mix_conclusion (mix, report);

  g_assert_nonnull (strstr (words, "up to 18 in"));
  g_assert_nonnull (strstr (words, "less than the best single method"));
  g_assert_nonnull (strstr (words, "proven"));
  g_assert_null (strstr (words, "more field hour"));
}

static void
test_nothing (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = job_new (catalogue, "empty");
  g_autoptr (Fault) fault = NULL;

  g_assert_null (job_mix_new (job, &fault));
  g_assert_true (*fault->what && *fault->remedy);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job-mix/one-method", test_one_method);
  g_test_add_func ("/job-mix/never-dearer", test_never_dearer);
  g_test_add_func ("/job-mix/use", test_use);
  g_test_add_func ("/job-mix/limits", test_limits);
  g_test_add_func ("/job-mix/not", test_not);
  g_test_add_func ("/job-mix/settings-refused", test_settings_refused);
  g_test_add_func ("/job-mix/parts", test_parts);
  g_test_add_func ("/job-mix/choices", test_choices);
  g_test_add_func ("/job-mix/words", test_words);
  g_test_add_func ("/job-mix/nothing", test_nothing);
  return g_test_run ();
}

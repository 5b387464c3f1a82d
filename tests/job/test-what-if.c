/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/compare.h"
#include "exchange/runs-csv.h"
#include "job/setting.h"
#include "job/what-if.h"

/* Settings and what-ifs of the demo job (invented demo). What holds is exact: a copy is the job, a change made and taken back leaves
 * no trace. */

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

static gint64
cost_of (TallyJob *job)
{
  JobScope all = { 0, 0 };
  JobTotals totals;

  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  g_autoptr (BuildUp) up = buildup_new (job_basis (job), &totals.sums, 2);
  job_totals_clear (&totals);
  return buildup_get (up, "cost");
}

static GPtrArray *
changes_of (const char *text)
{
  GPtrArray *changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);

  g_ptr_array_add (changes, cost_change_parse (text, NULL));
  return changes;
}

static void
test_copy (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (TallyJob) low = job_copy (job, LABOUR_LOW), same = job_copy (job, LABOUR_LIKELY), high = job_copy (job, LABOUR_HIGH);

  g_assert_cmpint (cost_of (same), ==, cost_of (job));
  g_assert_cmpint (cost_of (low), <, cost_of (job));
  g_assert_cmpint (cost_of (high), >, cost_of (job));
  g_assert_true (job_check_totals (high));
}

static void
test_changes (void)
{
  static const char *const texts[] = { "item.galvanised sheet.price=1.10", "area.Level 1.field_condition=1.30", "rate.field=100",
                                       "cell.SA-1/Level 1.class=6", "job..condition=high work" };
  g_autoptr (TallyJob) job = demo ();
  gint64 before = cost_of (job);

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GPtrArray) changes = changes_of (texts[i]);
      Fault *fault = NULL;
      g_autoptr (TallyJob) with = job_with (job, changes, LABOUR_LIKELY, &fault);
      g_assert_null (fault);
      g_assert_nonnull (with);
      g_assert_cmpint (cost_of (with), >, before);
      g_assert_cmpint (cost_of (job), ==, before);
    }
}

static void
test_refused (void)
{
  static const char *const texts[] = { "item.no such thing.price=1", "area.Nowhere.times=2", "area.Plant.times=many",
                                       "setting.risk.trials=5", "setting.no.such=1" };
  g_autoptr (TallyJob) job = demo ();

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (GPtrArray) changes = changes_of (texts[i]);
      Fault *fault = NULL;
      g_assert_null (job_with (job, changes, LABOUR_LIKELY, &fault));
      g_assert_nonnull (fault);
      g_assert_nonnull (fault->remedy);
      fault_free (fault);
    }
}

static void
test_settings (void)
{
  g_autoptr (TallyJob) job = demo ();
  JobEdit *edit = job_edit_new ("cap");
  g_autofree char *value = job_setting_read ("conditions.cap", " 1.50 ", NULL);
  Fault *fault = NULL;

  g_assert_cmpfloat (job_setting_number (job, "conditions.cap"), ==, 2);
  g_assert_cmpfloat (job_setting_number (job, "risk.field_high"), ==, 1.2); /* the demo's own */
  g_assert_cmpint (job_setting_word (job, "spread"), ==, 0);
  job_edit_setting (job, edit, "conditions.cap", value);
  g_assert_true (job_apply (job, edit, NULL));
  g_assert_cmpstr (job_setting (job, "conditions.cap"), ==, "1.5");
  g_assert_true (job_undo (job, NULL));
  g_assert_false (job_setting_held (job, "conditions.cap"));
  g_assert_null (job_setting_read ("conditions.cap", "0", &fault));
  g_assert_nonnull (fault);
  g_clear_pointer (&fault, fault_free);
  g_assert_null (job_setting_read ("crew.start", "2027-02-30", &fault));
  g_assert_nonnull (fault);
  g_clear_pointer (&fault, fault_free);
  g_assert_null (job_setting_read ("spread", "normal", &fault));
  g_assert_nonnull (fault);
  g_clear_pointer (&fault, fault_free);
}

/* Every default can be read as what it is, and every text of a list has its words. */
static void
test_defaults (void)
{
  gsize n;
  const JobSetting *all = job_settings (&n);

  for (gsize i = 0; i < n; i++)
    {
      Fault *fault = NULL;
      g_autofree char *read = job_setting_read (all[i].key, all[i].fallback, &fault);
      g_assert_null (fault);
      g_assert_nonnull (read);
      for (int w = 0; all[i].as == JOB_SETTING_WORD && all[i].words[w]; w++)
        g_assert_nonnull (all[i].say[w]);
    }
}

static void
test_kept (void)
{
  g_autoptr (TallyJob) job = demo ();
  JobEdit *edit = job_edit_new ("dearer metal");
  g_autoptr (GPtrArray) metal = changes_of ("item.galvanised sheet.price=1.10");
  g_autoptr (GPtrArray) rate = changes_of ("rate.field=99");

  job_edit_what_if (job, edit, "dearer", g_ptr_array_index (metal, 0), "1.10");
  job_edit_what_if (job, edit, "dearer", g_ptr_array_index (rate, 0), "99");
  g_assert_true (job_apply (job, edit, NULL));
  g_autoptr (GPtrArray) names = job_what_ifs (job);
  g_assert_cmpuint (names->len, ==, 1);
  g_autoptr (GPtrArray) kept = job_what_if_changes (job, "dearer");
  g_assert_cmpuint (kept->len, ==, 2);
  edit = job_edit_new ("taken out");
  job_edit_drop_what_if (job, edit, "dearer");
  g_assert_true (job_apply (job, edit, NULL));
  g_assert_cmpuint (job_n (job, JOB_WHAT_IF), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/what-if/copy", test_copy);
  g_test_add_func ("/job/what-if/changes", test_changes);
  g_test_add_func ("/job/what-if/refused", test_refused);
  g_test_add_func ("/job/what-if/settings", test_settings);
  g_test_add_func ("/job/what-if/defaults", test_defaults);
  g_test_add_func ("/job/what-if/kept", test_kept);
  return g_test_run ();
}

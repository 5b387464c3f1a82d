/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/runs-csv.h"
#include "job/compare.h"
#include "job/figure-today.h"
#include "job/setting.h"

#include <string.h>

/* What a figure is today, the lists to choose one from, and a what-if that becomes the job's own (demo job, invented demo). */

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  return exchange_demo_job (catalogue);
}

static void
test_today (void)
{
  static const struct
  {
    const char *name, *today; /* invented demo */
  } cases[] = { { "item.driven fastener.price", "1.30" },
                { "item.driven fastener.overage", "2" },
                { "step.bolt and nut.likely", "1.3" },
                { "step.raise and hold.likely_per_lb", "0.25 / 0.35 / 0.5" },
                { "rate.field", "92.00" },
                { "rate.shop.hour", "68.00" },
                { "buildup.overhead.rate", "12" },
                { "buildup.adjustment.amount", "0.00" },
                { "area.Plant.field_condition", "1.10" },
                { "system.SA-1.method", "slip-on-bolted" },
                { "cell.SA-1/Level 1.metal", "" },
                { "job..currency", "USD" },
                { "setting.crew.heads", "4" },
                { "setting.spread", "pert" } };
  g_autoptr (TallyJob) job = demo ();

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = g_strconcat (cases[i].name, "=0", NULL);
      CostChange *change = cost_change_parse (text, NULL);
      Fault *fault = NULL;
      g_autofree char *today = job_figure_today (job, change, &fault);
      g_assert_null (fault);
      g_assert_cmpstr (today, ==, cases[i].today);
      cost_change_free (change);
    }
}

static void
test_unknown (void)
{
  static const char *const names[] = { "item.no such.price=1", "item.screw.colour=1", "step.screw.likely=1", "rate.roof=1",
                                       "buildup.cost.rate=1", "area.Cellar.times=1", "cell.SA-1.metal=1", "setting.no.such=1",
                                       "weather.today.rain=1" };
  g_autoptr (TallyJob) job = demo ();

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      CostChange *change = cost_change_parse (names[i], NULL);
      Fault *fault = NULL;
      g_assert_null (job_figure_today (job, change, &fault));
      g_assert_nonnull (fault);
      g_assert_true (*fault->what && *fault->remedy);
      g_clear_pointer (&fault, fault_free);
      g_assert_false (job_figure_check (job, change, &fault));
      g_assert_nonnull (fault);
      fault_free (fault);
      cost_change_free (change);
    }
}

/* Everything that the lists offer is a figure of this job. */
static void
test_lists (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (GPtrArray) objects = job_figure_objects ();
  guint n = 0;

  for (guint o = 0; o < objects->len; o++)
    {
      const char *object = g_ptr_array_index (objects, o);
      g_autoptr (GPtrArray) keys = job_figure_keys (job, object);
      g_assert_cmpuint (keys->len, >, 0);
      for (guint k = 0; k < keys->len; k++)
        {
          g_autoptr (GPtrArray) fields = job_figure_fields (job, object, g_ptr_array_index (keys, k));
          for (guint f = 0; f < fields->len; f++)
            {
              CostChange *change = cost_change_new (object, g_ptr_array_index (keys, k), g_ptr_array_index (fields, f), "1");
              g_autofree char *today = job_figure_today (job, change, NULL);
              if (!today)
                g_test_message ("%s.%s.%s", object, change->key, change->field);
              g_assert_nonnull (today);
              cost_change_free (change);
              n++;
            }
        }
    }
  g_assert_cmpuint (n, >, 200);
}

static void
keep (TallyJob *job, const char *name, const char *text)
{
  JobEdit *edit = job_edit_new (name);
  CostChange *change = cost_change_parse (text, NULL);

  job_edit_what_if (job, edit, name, change, change->value);
  cost_change_free (change);
  g_assert_true (job_apply (job, edit, NULL));
}

static gint64
cost_of (TallyJob *job, const char *what_if)
{
  const JobWay way = { NULL, what_if };
  g_autoptr (JobComparison) c = job_compare (job, &way, 1, 0, NULL);

  g_assert_null (job_comparison_way (c, 0)->fault);
  return job_comparison_way (c, 0)->option.cost;
}

/* Used, the job costs what the what-if said; one undo and it is as before. Two columns of one area are one change of that record. */
static void
test_use (void)
{
  static const char *const texts[] = { "item.galvanised sheet.price=1.20", "rate.field=98", "area.Level 1.field_condition=1.15",
                                       "area.Level 1.times=2", "cell.SA-1/Plant.class=6", "setting.crew.heads=6" };
  g_autoptr (TallyJob) job = demo ();
  gint64 before = cost_of (job, NULL), wanted;
  JobEdit *edit = job_edit_new ("use");

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    keep (job, "all of it", texts[i]);
  wanted = cost_of (job, "all of it");
  g_assert_cmpint (wanted, >, before);
  g_assert_cmpint (cost_of (job, NULL), ==, before);
  g_assert_true (job_edit_use_what_if (job, edit, "all of it", NULL));
  g_assert_cmpuint (edit->deltas->len, ==, 5);
  g_assert_true (job_apply (job, edit, NULL));
  g_assert_cmpint (cost_of (job, NULL), ==, wanted);
  g_assert_cmpstr (job_setting (job, "crew.heads"), ==, "6");
  g_assert_true (job_check_totals (job));
  g_assert_true (job_undo (job, NULL));
  g_assert_cmpint (cost_of (job, NULL), ==, before);
}

/* What cannot be used leaves the edit empty and says why. */
static void
test_refused (void)
{
  g_autoptr (TallyJob) job = demo ();
  g_autoptr (JobEdit) edit = job_edit_new ("use");
  Fault *fault = NULL;

  keep (job, "broken", "rate.field=98");
  keep (job, "broken", "item.galvanised sheet.price=much");
  g_assert_false (job_edit_use_what_if (job, edit, "broken", &fault));
  g_assert_nonnull (strstr (fault->what, "galvanised sheet"));
  g_assert_cmpuint (edit->deltas->len, ==, 0);
  fault_free (fault);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/figure-today/today", test_today);
  g_test_add_func ("/job/figure-today/unknown", test_unknown);
  g_test_add_func ("/job/figure-today/lists", test_lists);
  g_test_add_func ("/job/figure-today/use", test_use);
  g_test_add_func ("/job/figure-today/refused", test_refused);
  return g_test_run ();
}

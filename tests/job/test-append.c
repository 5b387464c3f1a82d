/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Runs of one job put behind those of another. Figures: the demo job (invented demo). */
#include "exchange/runs-csv.h"
#include "job/append.h"

static TallyJob *
demo (void)
{
  g_autoptr (Catalogue) starter = catalogue_starter ();

  return exchange_demo_job (starter);
}

static gint64
price (TallyJob *job)
{
  const JobScope all = { 0, 0 };
  JobTotals totals;
  gint64 value;

  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  g_autoptr (BuildUp) b = buildup_new (job_basis (job), &totals.sums, 2);
  value = buildup_get (b, "price");
  job_totals_clear (&totals);
  return value;
}

/* A job that gets every run of the demo, its cells and head, costs what the demo costs: 207,590.42 (invented demo). */
static void
test_whole (void)
{
  g_autoptr (TallyJob) from = demo (), to = demo ();
  guint n = job_n (from, JOB_RUN), systems = job_n (from, JOB_SYSTEM);
  g_autofree gboolean *take = g_new (gboolean, n);
  JobEdit *clear = job_edit_new ("clear");

  for (guint i = 0; i < n; i++)
    {
      take[i] = TRUE;
      job_edit_add (clear, job_record_ref (job_at (to, JOB_RUN, i)), NULL);
    }
  g_assert_true (job_apply (to, clear, NULL));
  g_assert_cmpuint (job_n (to, JOB_RUN), ==, 0);
  g_assert_true (job_apply (to, job_append_runs (to, from, take), NULL));
  g_assert_cmpuint (job_n (to, JOB_RUN), ==, n);
  g_assert_cmpuint (job_n (to, JOB_SYSTEM), ==, systems);
  g_assert_cmpint (price (to), ==, 20759042);
  g_assert_true (job_check_totals (to));
  g_assert_true (job_undo (to, NULL));
  g_assert_cmpuint (job_n (to, JOB_RUN), ==, 0);
}

/* Systems and areas that are not there come with the runs that name them, others not. */
static void
test_places (void)
{
  g_autoptr (Catalogue) starter = catalogue_starter ();
  g_autoptr (TallyJob) from = demo (), to = job_new (starter, "empty");
  guint n = job_n (from, JOB_RUN);
  g_autofree gboolean *take = g_new0 (gboolean, n);
  const JobRecord *run, *there = job_at (from, JOB_RUN, 0);

  take[0] = TRUE;
  g_assert_true (job_apply (to, job_append_runs (to, from, take), NULL));
  g_assert_cmpuint (job_n (to, JOB_RUN), ==, 1);
  g_assert_cmpuint (job_n (to, JOB_SYSTEM), ==, 1);
  g_assert_cmpuint (job_n (to, JOB_AREA), ==, 1);
  run = job_at (to, JOB_RUN, 0);
  g_assert_cmpint (run->num[RUN_SYSTEM], ==, job_at (to, JOB_SYSTEM, 0)->id);
  g_assert_cmpstr (job_at (to, JOB_SYSTEM, 0)->text[SYSTEM_KEY], ==,
                   job_find (from, JOB_SYSTEM, there->num[RUN_SYSTEM])->text[SYSTEM_KEY]);
  g_assert_cmpint (run->num[RUN_W], ==, there->num[RUN_W]);
}

/* All of a copy look like duplicates; one with another length or in another area does not, one with another count does. */
static void
test_duplicates (void)
{
  g_autoptr (TallyJob) from = demo (), to = demo ();
  const struct
  {
    guint run;
    const char *key, *text;
    gboolean alike;
  } changes[] = { { 0, "length", "99", FALSE }, { 3, "size", "10x10", FALSE }, { 8, "count", "7", TRUE }, { 9, "class", "1", TRUE },
                  { 11, "system", "", FALSE } };

  g_autoptr (GArray) all = job_likely_duplicates (to, from);
  g_assert_cmpuint (all->len, ==, job_n (from, JOB_RUN));
  for (guint i = 0; i < all->len; i++)
    g_assert_true (g_array_index (all, gboolean, i));
  for (gsize c = 0; c < G_N_ELEMENTS (changes); c++)
    g_assert_true (job_edit_field (from, JOB_RUN, job_at (from, JOB_RUN, changes[c].run)->id, job_field_find (JOB_RUN, changes[c].key),
                                   changes[c].text, NULL, NULL));
  g_autoptr (GArray) some = job_likely_duplicates (to, from);
  for (gsize c = 0; c < G_N_ELEMENTS (changes); c++)
    g_assert_cmpint (g_array_index (some, gboolean, changes[c].run), ==, changes[c].alike);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/append/whole", test_whole);
  g_test_add_func ("/append/places", test_places);
  g_test_add_func ("/append/duplicates", test_duplicates);
  return g_test_run ();
}

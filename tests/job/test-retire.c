/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A job on a catalogue with retired rows. The demo job and the starter catalogue are an invented demo. */
#include "cost/retire.h"
#include "exchange/runs-csv.h"
#include "fixture.h"
#include "job/entry.h"

static void
retire (CsvTable *table, const char *key)
{
  for (guint row = 0; row < table->row->len; row++)
    if (strcmp (csv_cell (table, row, 0), key) == 0)
      catalogue_retire_row (table, row, TRUE);
}

static Catalogue *
catalogue_without (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];

  fixture_tables (table);
  retire (table[CATALOGUE_METHODS], "slip-on-driven");
  retire (table[CATALOGUE_METHODS], "slip-and-drive-driven"); /* falls back to it */
  retire (table[CATALOGUE_ITEMS], "volume damper");
  retire (table[CATALOGUE_CONDITIONS], "high work");
  return fixture_catalogue (table);
}

static gint64
price_of (TallyJob *job)
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

static void
set (TallyJob *job, JobType type, guint i, const char *key, const char *text)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (job_edit_field (job, type, job_at (job, type, i)->id, job_field_find (type, key), text, NULL, &error));
  g_assert_no_error (error);
}

/* What a job names is priced as before, to the cent, and nothing else is offered. */
static void
test_job (void)
{
  g_autoptr (Catalogue) old = catalogue_starter (), fresh = catalogue_without ();
  g_autoptr (TallyJob) job = exchange_demo_job (old), other = exchange_demo_job (fresh);
  int driven = catalogue_find_method (old, "slip-on-driven");
  int n = 0;

  g_assert_cmpint (price_of (job), ==, price_of (other));
  g_assert_true (job_offers_method (job, driven));
  g_assert_false (job_offers_method (other, driven));
  for (int m = 0; m < job_basis (other)->n_methods; m++)
    n += job_offers_method (other, m);
  g_assert_cmpint (n, ==, job_basis (other)->n_methods - 2);
  g_autoptr (GArray) listed = job_methods_listed (other, -1);
  for (guint i = 0; i < listed->len; i++)
    g_assert_cmpint (g_array_index (listed, int, i), !=, driven);

  set (job, JOB_SYSTEM, 0, "method", "slip-on-driven");
  set (other, JOB_SYSTEM, 0, "method", "slip-on-driven");
  set (job, JOB_AREA, 0, "condition", "high work");
  set (other, JOB_AREA, 0, "condition", "high work");
  g_assert_cmpint (price_of (job), ==, price_of (other));
  g_assert_true (job_offers_method (other, driven));
  g_assert_true (job_check_totals (other));
}

/* The line of entry knows an item or method no more once it is retired. */
static void
test_entry (void)
{
  g_autoptr (Catalogue) old = catalogue_starter (), fresh = catalogue_without ();
  g_autoptr (TallyJob) job = exchange_demo_job (old), other = exchange_demo_job (fresh);
  const JobRecord *above = job_at (job, JOB_RUN, 0);
  JobEntry entry;

  job_entry_read (job, "counted volume damper x2", above, &entry);
  g_assert_nonnull (entry.run);
  g_assert_cmpstr (entry.run->text[RUN_ITEM], ==, "volume damper");
  job_entry_clear (&entry);
  job_entry_read (other, "counted volume damper x2", job_at (other, JOB_RUN, 0), &entry);
  g_assert_true (!entry.run || g_strcmp0 (entry.run->text[RUN_ITEM], "volume damper") != 0);
  job_entry_clear (&entry);
  job_entry_read (other, "counted leakage test x2", job_at (other, JOB_RUN, 0), &entry);
  g_assert_nonnull (entry.run);
  job_entry_clear (&entry);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/retire/job", test_job);
  g_test_add_func ("/job/retire/entry", test_entry);
  return g_test_run ();
}

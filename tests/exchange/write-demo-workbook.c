/* SPDX-License-Identifier: GPL-3.0-or-later */
/* For test-recalc.py: writes the demo job (invented demo) as a workbook and prints its price and cost in minor units.
 *
 *     write-demo-workbook OUT.xlsx [--set CHANGE]... [--margin] [--decimals N] [--hostile] [--times N]
 *
 * --margin makes the build-up's profit a margin; --hostile adds runs whose words look like formulas; --times gives an area
 * typical floors. */

#include "fixture.h"

#include "exchange/runs-csv.h"
#include "exchange/workbook.h"
#include "job/what-if.h"

static void
edit (TallyJob *job, JobRecord *before, JobRecord *after)
{
  JobEdit *change = job_edit_new ("set up");
  g_autoptr (GError) error = NULL;

  job_edit_add (change, before, after);
  if (!job_apply (job, change, &error))
    g_error ("%s", error->message);
}

static void
set_number (TallyJob *job, const JobRecord *record, int slot, gint64 value)
{
  JobRecord *after = job_record_copy (record);

  after->num[slot] = value;
  edit (job, job_record_ref (record), after);
}

static void
add_hostile (TallyJob *job)
{
  const char *const words[] = { "=1+1", "+2", "-3", "@SUM(A1)", "_x0041_", "<&\">'" };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      gint64 id = job_take_id (job, JOB_RUN);
      JobRecord *run = job_record_new (JOB_RUN, id, id * 1000000);
      run->num[RUN_KIND] = DUCT_COUNTED;
      run->num[RUN_PRICE] = 12345 + (gint64) i;
      job_record_set_text (run, RUN_NOTE, words[i]);
      job_record_set_text (run, RUN_DRAWING, words[i]);
      edit (job, NULL, run);
    }
}

int
main (int argc, char **argv)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  g_autoptr (GPtrArray) changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  gboolean hostile = FALSE;
  gint64 decimals = -1, times = -1;
  const int methods[] = { 0, 1, 2, 3, 4 };
  g_autoptr (GError) error = NULL;
  Fault *fault = NULL;

  g_assert_cmpint (argc, >, 1);
  fixture_tables (table);
  for (int i = 2; i < argc; i++)
    if (g_str_equal (argv[i], "--margin"))
      fixture_set (table[CATALOGUE_BUILDUP], "profit", "op", "margin");
    else if (g_str_equal (argv[i], "--hostile"))
      hostile = TRUE;
    else if (g_str_equal (argv[i], "--decimals"))
      decimals = g_ascii_strtoll (argv[++i], NULL, 10);
    else if (g_str_equal (argv[i], "--times"))
      times = g_ascii_strtoll (argv[++i], NULL, 10);
    else if (g_str_equal (argv[i], "--set") && i + 1 < argc)
      g_ptr_array_add (changes, cost_change_parse (argv[++i], NULL));
    else
      g_error ("unknown option %s", argv[i]);

  g_autoptr (Catalogue) catalogue = fixture_catalogue (table);
  g_autoptr (TallyJob) job = exchange_demo_job (catalogue);
  if (decimals >= 0)
    set_number (job, job_head (job), HEAD_DECIMALS, decimals);
  if (times >= 0)
    set_number (job, job_at (job, JOB_AREA, 1), AREA_TIMES, times);
  if (hostile)
    add_hostile (job);
  if (!job_apply_figures (job, changes, &fault))
    g_error ("%s", fault->what);
  if (!workbook_write (job, methods, G_N_ELEMENTS (methods), 0, argv[1], NULL, NULL, &error))
    g_error ("%s", error->message);

  JobScope whole = { 0, 0 };
  JobTotals totals;
  job_totals (job, &whole, JOB_OWN_METHOD, &totals);
  g_autoptr (BuildUp) up = buildup_new (job_basis (job), &totals.sums, decimals >= 0 ? (int) decimals : 2);
  g_print ("%" G_GINT64_FORMAT " %" G_GINT64_FORMAT "\n", buildup_get (up, "price"), buildup_get (up, "cost"));
  job_totals_clear (&totals);
  return 0;
}

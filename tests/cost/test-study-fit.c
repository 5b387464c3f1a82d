/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings over the girth of the duct, and what of the fit goes into a step. */
#include "fixture.h"

#include "cost/study-bands.h"
#include "cost/study-fit.h"
#include "cost/study-unlike.h"

static LabourStudy *
study_of (const char *text)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  g_autoptr (CsvTable) table = csv_parse (text, -1, "readings.csv", faults);
  LabourStudy *study = labour_study_from_csv (table, faults);

  g_assert_cmpuint (faults->len, ==, 0);
  return study;
}

/* Computed: minutes on 2 + 0.5 girth exactly; girths 5, 6, 8, 10 ft and 600 x 300 mm. */
static const char exact[] = "size,clock_min,struck\n20x10,4.5,\n24x12,5,\n32x16,6,\n40x20,7,\n600 mm x 300 mm,4.952756,\n"
                            "no size,9,\n24x12,99,wrong button\n";

static void
test_exact (void)
{
  g_autoptr (LabourStudy) study = study_of (exact);
  g_autoptr (GPtrArray) fits = cost_study_fits (study, NULL, LENGTH_IN);
  const CostStudyFit *f = g_ptr_array_index (fits, 0);

  g_assert_cmpuint (fits->len, ==, 1);
  g_assert_nonnull (f->fit);
  g_assert_cmpuint (f->n, ==, 5);
  g_assert_cmpuint (f->left_out, ==, 1);
  assert_near (f->girth[0], 5, 1e-9);
  assert_near (f->girth[4], 1800 / 304.8, 1e-9);
  assert_near (f->fit->b[0], 2, 1e-5);
  assert_near (f->fit->b[1], 0.5, 1e-6);
  assert_near (f->at[0], 5, 1e-9);
  assert_near (f->mean[COST_FIT_PLACES - 1], 7, 1e-5);
  g_assert_null (f->doubt);
}

/* The allowance reaches every minute: on the day basis half a day doubles the line. */
static void
test_standard (void)
{
  g_autoptr (LabourStudy) study = study_of (exact);

  study->allowance = 0.5;
  g_autoptr (GPtrArray) fits = cost_study_fits (study, NULL, LENGTH_IN);
  assert_near (((CostStudyFit *) g_ptr_array_index (fits, 0))->fit->b[1], 1, 1e-6);
}

static void
test_refused (void)
{
  g_autoptr (LabourStudy) few = study_of ("size,clock_min\n20x10,4.5\n24x12,5\n32x16,6\n");
  g_autoptr (LabourStudy) one = study_of ("size,clock_min\n24x12,5\n24x12,6\n24x12,5\n24x12,5.5\n");
  g_autoptr (LabourStudy) falling = study_of ("size,clock_min\n20x10,9\n24x12,8\n32x16,6\n40x20,4\n48x24,2.1\n");
  g_autoptr (GPtrArray) a = cost_study_fits (few, NULL, LENGTH_IN), b = cost_study_fits (one, NULL, LENGTH_IN);
  g_autoptr (GPtrArray) c = cost_study_fits (falling, NULL, LENGTH_IN);
  g_autoptr (CsvTable) steps = catalogue_data ("steps", NULL);
  g_autoptr (Fault) fault = NULL;

  g_assert_nonnull (strstr (((CostStudyFit *) g_ptr_array_index (a, 0))->fault->what, "too few points: 3"));
  g_assert_nonnull (strstr (((CostStudyFit *) g_ptr_array_index (b, 0))->fault->what, "no spread"));
  g_assert_nonnull (strstr (((CostStudyFit *) g_ptr_array_index (c, 0))->doubt, "minutes a foot"));
  g_assert_false (cost_study_fit_put (g_ptr_array_index (c, 0), falling, "", "align and clamp", steps, &fault));
  g_assert_nonnull (strstr (fault->what, "below zero"));
}

static const char *
cell (const CsvTable *table, guint row, const char *heading)
{
  return csv_cell (table, row, csv_column (table, heading));
}

/* Without scatter low and high are the spread between jobs: 1.2816 x 15 % each way. */
static void
test_put (void)
{
  g_autoptr (LabourStudy) study = study_of (exact);
  g_autoptr (GPtrArray) fits = cost_study_fits (study, NULL, LENGTH_IN);
  g_autoptr (CsvTable) steps = catalogue_data ("steps", NULL);
  g_autoptr (Fault) fault = NULL;
  guint row = 0;

  g_assert_true (cost_study_fit_put (g_ptr_array_index (fits, 0), study, "2026-03-20", "align and clamp", steps, &fault));
  while (strcmp (cell (steps, row, "step"), "align and clamp") != 0)
    row++;
  assert_near (g_ascii_strtod (cell (steps, row, "fixed_likely_min"), NULL), 2, 1e-4);
  assert_near (g_ascii_strtod (cell (steps, row, "per_ft_likely_min"), NULL), 0.5, 1e-4);
  assert_near (g_ascii_strtod (cell (steps, row, "fixed_low_min"), NULL), 2 * (1 - 1.2815515655446004 * 0.15), 2e-4);
  assert_near (g_ascii_strtod (cell (steps, row, "per_ft_high_min"), NULL), 0.5 * (1 + 1.2815515655446004 * 0.15), 2e-4);
  g_assert_cmpstr (cell (steps, row, "source"), ==, "time study readings.csv, fit over girth, 2026-03-20");
  g_assert_false (cost_study_fit_put (g_ptr_array_index (fits, 0), study, "", "raise and hold", steps, &fault));
}

/* Invented demo; girths of 5, 4 and 3 ft. */
static const char handled[] =
    "size,lb,clock_min\n20x10,20,12.1\n20x10,31,13.4\n16x8,18,12.9\n20x10,44,15.2\n12x6,38,14.1\n20x10,55,16.8\n"
    "20x10,70,18.3\n20x10,95,21.9\n16x8,88,20.4\n20x10,120,24.7\n12x6,118,23.0\n20x10,148,27.9\n16x8,131,25.5\n"
    "20x10,170,35.1\n20x10,190,38.2\n16x8,210,41.0\n20x10,,50\n";

/* Estimates and half-width computed in exact rational arithmetic, t with 25 digits; the third band has too few pieces. */
static void
test_bands (void)
{
  static const double b[2][3] = { { 9.992997413545359, 0.03351853625826229, 0.11474279145512022 },
                                  { 7.046739101250302, 0.6227345546973588, 0.12086760402029839 } };
  g_autoptr (LabourStudy) study = study_of (handled);
  g_autoptr (CsvTable) steps = catalogue_data ("steps", NULL);
  g_autoptr (GArray) limits = cost_step_limits (steps, "raise and hold"), none = cost_step_limits (steps, "drive fastener");
  g_autoptr (CostStudyBands) bands = cost_study_bands_new (study, "", limits, TRUE, LENGTH_IN);
  g_autoptr (Fault) fault = NULL;

  g_assert_cmpuint (limits->len, ==, 2);
  g_assert_cmpuint (none->len, ==, 0);
  g_assert_cmpuint (bands->n, ==, 16);
  g_assert_cmpuint (bands->left_out, ==, 1);
  for (guint i = 0; i < 2; i++)
    {
      const CostHandling *h = &g_array_index (bands->handling, CostHandling, i);
      for (int j = 0; j < 3; j++)
        assert_near (h->band->fit->b[j] / b[i][j], 1, 1e-9);
      assert_near (h->mean[0], b[i][0] + b[i][1] * h->girth + b[i][2] * h->at[0], 1e-9);
    }
  const CostHandling *heavy = &g_array_index (bands->handling, CostHandling, 2);
  g_assert_null (heavy->band->fit);
  g_assert_nonnull (strstr (heavy->band->fault->what, "too few points: 3"));
  /* two rows of the step get their figures, the third stays */
  g_assert_cmpuint (cost_study_bands_put (bands, study, "", "raise and hold", steps, &fault), ==, 2);
  guint row = 0;
  while (strcmp (cell (steps, row, "step"), "raise and hold") != 0)
    row++;
  assert_near (g_ascii_strtod (cell (steps, row, "per_lb_likely_min"), NULL), b[0][2], 1e-4);
  assert_near (g_ascii_strtod (cell (steps, row + 1, "per_ft_likely_min"), NULL), b[1][1], 1e-4);
  g_assert_cmpstr (cell (steps, row + 2, "status"), ==, "invented demo");
  g_assert_cmpuint (cost_study_bands_put (bands, study, "", "drive fastener", steps, &fault), ==, 0);
  g_assert_nonnull (strstr (fault->what, "no row for a band"));
}

/* The demo's pieces, invented demo: near 0.25, 0.35 and 0.5 a pound; without pounds there is nothing to fit. */
static void
test_demo_bands (void)
{
  static const double wanted[] = { 0.25, 0.35, 0.5 };
  g_autoptr (Catalogue) starter = catalogue_starter ();
  const LabourStudy *study = g_ptr_array_index (starter->labour->studies, 2);
  g_autoptr (GArray) limits = cost_step_limits (starter->table[CATALOGUE_STEPS], study->step);
  g_autoptr (CostStudyBands) bands = cost_study_bands_new (study, "", limits, FALSE, LENGTH_IN);
  const LabourStudy *whole = g_ptr_array_index (starter->labour->studies, 0);

  for (guint i = 0; i < 3; i++)
    {
      const CostHandling *h = &g_array_index (bands->handling, CostHandling, i);
      g_assert_nonnull (h->band->fit);
      assert_near (h->band->fit->b[1], wanted[i], 0.12);
    }
  g_assert_null (cost_study_bands_new (whole, "slip-on-bolted", limits, FALSE, LENGTH_IN));
}

/* The demo's study, invented demo: both lines rise with the girth or are said to fall. */
static void
test_demo (void)
{
  g_autoptr (Catalogue) starter = catalogue_starter ();
  const LabourStudy *study = g_ptr_array_index (starter->labour->studies, 0);
  g_autoptr (GPtrArray) fits = cost_study_fits (study, NULL, LENGTH_IN);

  g_assert_cmpuint (fits->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    {
      const CostStudyFit *f = g_ptr_array_index (fits, i);
      g_assert_cmpuint (f->n, ==, 9);
      g_assert_nonnull (f->fit);
    }
}

/* Readings of unlike pieces, computed: 0.25 min a pound and a fixed 2, with a known wobble; the two heaviest fit the line and are no
 * outliers, the one that is four minutes off it is. The same minutes without pounds are a sample like any other. */
static void
test_unlike (void)
{
  static const double wobble[] = { 0.2, -0.3, 0.1, -0.2, 0.3, 4, -0.1, 0.2, -0.2, 0.1, -0.1 };
  static const double lb[] = { 10, 11, 12, 13, 14, 15, 16, 17, 18, 60, 61 };
  g_autoptr (GString) with = g_string_new ("lb,clock_min\n"), without = g_string_new ("clock_min\n");

  for (gsize i = 0; i < G_N_ELEMENTS (lb); i++)
    {
      g_string_append_printf (with, "%g,%.4f\n", lb[i], 2 + 0.25 * lb[i] + wobble[i]);
      g_string_append_printf (without, "%.4f\n", 2 + 0.25 * lb[i] + wobble[i]);
    }
  g_autoptr (LabourStudy) a = study_of (with->str), b = study_of (without->str);
  g_autoptr (LabourResult) told = labour_study_result (a), untold = labour_study_result (b);
  g_assert_true (told->outlier[10] && !told->outlier[5]);
  g_autoptr (GPtrArray) words = cost_study_unlike (told, LENGTH_IN), none = cost_study_unlike (untold, LENGTH_IN);
  const LabourElement *e = &g_array_index (told->elements, LabourElement, 0);
  g_assert_cmpuint (words->len, ==, 1);
  g_assert_cmpint (e->unlike, ==, LABOUR_BY_POUNDS);
  g_assert_cmpfloat (fabs (e->explained - 0.9347160), <, 1e-6);
  g_assert_false (told->outlier[9] || told->outlier[10]);
  g_assert_true (told->outlier[5]);
  g_assert_cmpuint (e->outliers, ==, 1);
  g_assert_cmpuint (none->len, ==, 0);
  g_assert_true (untold->outlier[10]);
}

/* Alike: pounds that say nothing of the minutes leave the answer alone (computed). */
static void
test_alike (void)
{
  g_autoptr (LabourStudy) study = study_of ("lb,clock_min\n10,5\n20,6\n30,5\n40,6\n50,5\n60,6\n70,5\n");
  g_autoptr (LabourResult) result = labour_study_result (study);
  g_autoptr (GPtrArray) words = cost_study_unlike (result, LENGTH_IN);

  g_assert_cmpuint (words->len, ==, 0);
  g_assert_cmpint (g_array_index (result->elements, LabourElement, 0).unlike, ==, LABOUR_ALIKE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/cost/study-fit/exact", test_exact);
  g_test_add_func ("/cost/study-fit/standard", test_standard);
  g_test_add_func ("/cost/study-fit/refused", test_refused);
  g_test_add_func ("/cost/study-fit/put", test_put);
  g_test_add_func ("/cost/study-fit/demo", test_demo);
  g_test_add_func ("/cost/study-fit/unlike", test_unlike);
  g_test_add_func ("/cost/study-fit/alike", test_alike);
  g_test_add_func ("/cost/study-fit/bands", test_bands);
  g_test_add_func ("/cost/study-fit/demo-bands", test_demo_bands);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Least squares against certified values, minutes in bands of handling against exact arithmetic, and what is refused. */
#include "fixture.h"

#include "labour/fit.h"

/* Relative, as GSL's own tests ask of these sets. */
#define assert_certified(x, wanted) assert_near ((x) / (wanted), 1, 1e-10)

typedef struct
{
  const char *file;
  gsize powers;
  gboolean intercept;
  double b[3], se[3], s, r2, ess, rss, f;
} Certified;

/* Published: NIST StRD, linear regression, certified values. */
static const Certified sets[] = {
  { "nist_norris.csv", 1, TRUE, { -0.262323073774029, 1.00211681802045 }, { 0.232818234301152, 0.429796848199937e-3 },
    0.884796396144373, 0.999993745883712, 4255954.13232369, 26.6173985294224, 5436385.54079785 },
  { "nist_pontius.csv", 2, TRUE, { 0.673565789473684e-3, 0.732059160401003e-6, -0.316081871345029e-14 },
    { 0.107938612033077e-3, 0.157817399981659e-9, 0.486652849992036e-16 }, 0.205177424076185e-3, 0.999999900178537,
    15.6040343244198, 0.155761768796992e-5, 185330865.995752 },
  { "nist_noint1.csv", 1, FALSE, { 2.07438016528926 }, { 0.165289256198347e-1 }, 3.56753034006338, 0.999365492298663,
    200457.727272727, 127.272727272727, 15750.25 },
  { "nist_noint2.csv", 1, FALSE, { 0.727272727272727 }, { 0.420827318078432e-1 }, 0.369274472937998, 0.993348115299335,
    40.7272727272727, 0.272727272727273, 298.666666666667 },
};

static void
test_certified (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (sets); i++)
    {
      const Certified *c = &sets[i];
      g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", c->file, NULL);
      g_autoptr (GPtrArray) faults = fixture_faults ();
      g_autoptr (CsvTable) table = csv_read_file (path, faults, NULL);
      g_assert_nonnull (table);
      gsize n = table->row->len, k = c->powers;
      g_autofree double *y = g_new (double, n), *x = g_new (double, n * k);
      for (guint row = 0; row < n; row++)
        {
          y[row] = g_ascii_strtod (csv_cell (table, row, 0), NULL);
          for (gsize j = 0; j < k; j++)
            x[row * k + j] = g_ascii_strtod (csv_cell (table, row, 1), NULL) * (j ? x[row * k + j - 1] : 1);
        }
      g_autoptr (LabourFit) fit = labour_fit_new (y, x, n, k, c->intercept, NULL, NULL);
      g_assert_nonnull (fit);
      g_test_message ("%s", c->file);
      for (gsize j = 0; j < fit->p; j++)
        {
          assert_certified (fit->b[j], c->b[j]);
          assert_certified (fit->se[j], c->se[j]);
        }
      assert_certified (fit->s, c->s);
      assert_certified (fit->r2, c->r2);
      assert_certified (fit->ess, c->ess);
      assert_certified (fit->rss, c->rss);
      assert_certified (fit->f, c->f);
    }
}

/* Invented demo: minutes, feet, pounds of pieces, in bands to 60, to 150 and over. */
static const double minutes[] = { 12.1, 13.4, 12.9, 15.2, 14.1, 16.8, 18.3, 21.9, 20.4, 24.7, 23.0, 27.9, 25.5, 35.1, 38.2, 41.0 };
static const double ft[] = { 5, 5, 4, 5, 3, 5, 5, 5, 4, 5, 3, 5, 4, 5, 5, 4 };
static const double lb[] = { 20, 31, 18, 44, 38, 55, 70, 95, 88, 120, 118, 148, 131, 170, 190, 210 };

/* Estimates, deviations and half-widths computed in exact rational arithmetic, square roots and t with 25 digits. */
static void
test_bands (void)
{
  static const double limits[] = { 60, 150 };
  static const double b[2][3] = { { 9.992997413545359, 0.03351853625826229, 0.11474279145512022 },
                                  { 7.046739101250302, 0.6227345546973588, 0.12086760402029839 } };
  static const double se[2][3] = { { 1.440070146903174, 0.306038777257514, 0.01795059477292136 },
                                   { 0.8204170027529094, 0.14111257942237565, 0.004119644792155806 } };
  static const double at[2][4] = { { 40, 14.750301753041478, 0.9138588281377833, 2.019814466162166 },
                                   { 100, 22.247172276766936, 0.3707886056342925, 0.8364828764598255 } };
  g_autoptr (GPtrArray) bands = labour_fit_bands (minutes, ft, lb, G_N_ELEMENTS (minutes), limits, 2, NULL);

  g_assert_cmpuint (bands->len, ==, 3);
  for (guint i = 0; i < 2; i++)
    {
      const LabourFitBand *band = g_ptr_array_index (bands, i);
      double x0[] = { 5, at[i][0] };
      g_assert_nonnull (band->fit);
      g_assert_null (band->fault);
      g_assert_null (band->doubt);
      g_assert_cmpuint (band->n, ==, i ? 7 : 6);
      for (int j = 0; j < 3; j++)
        {
          assert_near (band->fit->b[j] / b[i][j], 1, 1e-11);
          assert_near (band->fit->se[j] / se[i][j], 1, 1e-11);
        }
      LabourBandAt here = labour_fit_at (band->fit, x0, 0.95);
      assert_near (here.mean, at[i][1], 1e-10);
      assert_near (here.mean_half, at[i][2], 1e-9);
      assert_near (here.new_half, at[i][3], 1e-9);
    }
  /* three pieces are too few for three coefficients, and that is said */
  const LabourFitBand *heavy = g_ptr_array_index (bands, 2);
  g_assert_null (heavy->fit);
  g_assert_nonnull (strstr (heavy->fault->what, "too few points: 3"));
}

static void
assert_no_fit (const double *y, const double *x, gsize n, gsize k, gboolean intercept, const char *words)
{
  static const char *const names[] = { "ft", "lb" };
  Fault *fault = NULL;

  g_assert_null (labour_fit_new (y, x, n, k, intercept, names, &fault));
  g_assert_nonnull (strstr (fault->what, words));
  g_assert_cmpstr (fault->remedy, !=, "");
  fault_free (fault);
}

static void
test_refused (void)
{
  const double y[] = { 1, 2, 3, 4, 5 }, same[] = { 7, 7, 7, 7, 7 }, twice[] = { 1, 2, 2, 4, 3, 6, 4, 8, 5, 10 };
  const double bad[] = { 1, 2, NAN, 4, 5 }, x[] = { 1, 2, 4, 5, 9 };
  static const double falling[] = { 150, 60 };
  Fault *fault = NULL;

  assert_no_fit (y, x, 3, 1, TRUE, "too few points: 3, and a fit of 2 coefficients needs 4");
  assert_no_fit (y, same, 5, 1, TRUE, "“ft” has no spread");
  assert_no_fit (y, twice, 5, 2, FALSE, "“lb” has no spread");
  assert_no_fit (y, bad, 5, 1, TRUE, "point 3 is no number");
  assert_no_fit (bad, x, 5, 1, TRUE, "point 3 is no number");
  assert_no_fit (y, x, 5, 0, FALSE, "nothing to fit");
  g_assert_null (labour_fit_bands (minutes, ft, lb, 16, falling, 2, &fault));
  g_assert_nonnull (strstr (fault->what, "do not rise"));
  fault_free (fault);
}

/* Heavier pieces that take less: named, not hidden. */
static void
test_below_zero (void)
{
  const double y[] = { 20, 18, 16.1, 14, 12 }, pounds[] = { 10, 20, 30, 40, 50 };
  g_autoptr (GPtrArray) bands = labour_fit_bands (y, NULL, pounds, 5, NULL, 0, NULL);
  const LabourFitBand *band = g_ptr_array_index (bands, 0);

  g_assert_cmpuint (bands->len, ==, 1);
  g_assert_nonnull (band->fit);
  g_assert_nonnull (strstr (band->doubt, "minutes a pound"));
  g_assert_null (strstr (band->doubt, "fixed"));
}

/* Points on a line: the line, no scatter, a band of no width. Scaling a column scales its coefficient alone. */
static void
test_exact (void)
{
  double y[8], x[8], scaled[8];
  g_autoptr (LabourFit) fit = NULL, other = NULL;

  for (int i = 0; i < 8; i++)
    {
      x[i] = i * i;
      scaled[i] = x[i] * 1e9;
      y[i] = 3 + 0.25 * x[i];
    }
  fit = labour_fit_new (y, x, 8, 1, TRUE, NULL, NULL);
  other = labour_fit_new (y, scaled, 8, 1, TRUE, NULL, NULL);
  assert_near (fit->b[0], 3, 1e-12);
  assert_near (fit->b[1], 0.25, 1e-13);
  assert_near (fit->r2, 1, 1e-12);
  assert_near (labour_fit_at (fit, x + 3, 0.95).mean_half, 0, 1e-12);
  assert_near (other->b[1] * 1e9, 0.25, 1e-13);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/labour/fit/certified", test_certified);
  g_test_add_func ("/labour/fit/bands", test_bands);
  g_test_add_func ("/labour/fit/refused", test_refused);
  g_test_add_func ("/labour/fit/below-zero", test_below_zero);
  g_test_add_func ("/labour/fit/exact", test_exact);
  return g_test_run ();
}

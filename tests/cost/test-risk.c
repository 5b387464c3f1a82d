/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Simulation against exact results: what has a closed form or was integrated apart from this program is met within
 * four standard errors at a fixed seed. Values are computed unless a source is named. */
#include "cost/risk.h"

#include "cost/spread.h"

#include <math.h>
#include <string.h>

#define near(x, wanted, within) g_assert_cmpfloat_with_epsilon ((x), (wanted), (within))
#define TRIALS 100000

static const double path[][3] = { { 5, 8, 17 }, { 3, 5, 7 }, { 4, 6, 8 }, { 3, 4, 5 } };

static RiskResult *
run (const RiskProblem *p, gsize trials, guint64 seed)
{
  RiskRun how = { trials, seed, NULL, NULL };
  g_autoptr (Fault) fault = NULL;
  RiskResult *result = risk_run (p, &how, &fault);

  g_assert_null (fault);
  g_assert_nonnull (result);
  return result;
}

/* The four activities of the published example on its critical path (Russell and Taylor), summed. */
static RiskProblem *
path_problem (SpreadKind kind)
{
  RiskProblem *p = risk_problem_new ();
  int total = risk_problem_add_response (p, "total", 0);

  for (int i = 0; i < 4; i++)
    {
      g_autofree char *name = g_strdup_printf ("activity %d", i);
      Spread s = { kind, path[i][0], path[i][1], path[i][2] };
      RiskTerm term;
      risk_term_init (&term, p, risk_problem_add_input (p, name, &s, NULL), 1);
      risk_problem_add_term (p, total, &term);
    }
  return p;
}

static double
skewness (const RiskSample *s)
{
  double cube = 0;

  for (gsize i = 0; i < s->n; i++)
    cube += pow ((s->sorted[i] - s->mean) / s->sd, 3);
  return cube / (double) s->n;
}

/* Convolution: exact rational for the triangular row, a grid for the beta row. Standard errors of quantiles need the
 * density there; those of the triangular row are given, the beta row's are the differences of its neighbours. */
static void
test_sum (void)
{
  static const double p[] = { 0.05, 0.1, 0.2, 0.5, 0.8, 0.9, 0.95 }, at[] = { 24, 26, 28 };
  static const struct
  {
    SpreadKind kind;
    double mean, variance, q[7], density[7], below[3], skew;
  } rows[] = {
    { SPREAD_TRIANGULAR,
      25,
      8,
      { 20.748476, 21.496705, 22.487163, 24.744688, 27.516698, 28.950304, 30.020169 },
      { 0.055, 0.082014, 0.115, 0.131358, 0.083024, 0.056500, 0.037 },
      { 0.399449, 0.652807, 0.837963 },
      0.309359 },
    { SPREAD_PERT,
      24,
      5.857143,
      { 20.325249, 20.984790, 21.862565, 23.822013, 26.085224, 27.297053, 28.268921 },
      { 0.065, 0.095, 0.135, 0.155, 0.100, 0.064, 0.042 },
      { 0.527680, 0.791266, 0.938561 },
      0.322495 },
  };

  for (gsize r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      g_autoptr (RiskProblem) problem = path_problem (rows[r].kind);
      g_autoptr (RiskResult) result = run (problem, TRIALS, 1);
      const RiskSample *s = risk_result_sample (result, 0);
      double mean, variance, low, high, last = -INFINITY;
      g_assert_true (risk_problem_moments (problem, 0, &mean, &variance));
      near (mean, rows[r].mean, 1e-12);
      near (variance, rows[r].variance, 5e-7);
      near (s->mean, rows[r].mean, 4 * sqrt (rows[r].variance / TRIALS));
      near (s->error, sqrt (rows[r].variance / TRIALS), 1e-4);
      near (s->sd * s->sd, rows[r].variance, 4 * rows[r].variance * sqrt (2.2 / TRIALS));
      near (skewness (s), rows[r].skew, 4 * sqrt (6.0 / TRIALS));
      for (gsize i = 0; i < G_N_ELEMENTS (p); i++)
        {
          RiskQuantile q = risk_sample_quantile (s, p[i]);
          near (q.value, rows[r].q[i], 4 * sqrt (p[i] * (1 - p[i]) / TRIALS) / rows[r].density[i]);
          g_assert_cmpfloat (q.low, <, q.value);
          g_assert_cmpfloat (q.high, >, q.value);
          g_assert_cmpfloat (q.value, >, last);
          last = q.value;
        }
      for (int i = 0; i < 3; i++)
        {
          double share = rows[r].below[i];
          near (risk_sample_below (s, at[i], &low, &high), share, 4 * sqrt (share * (1 - share) / TRIALS));
          g_assert_cmpfloat (low, <, high);
        }
      g_assert_cmpfloat (risk_problem_likely (problem, 0), ==, 23);
      /* Contingency of the triangular sum: P80 less mean 2.516698, less the sum of likely values 4.516698. */
      if (rows[r].kind == SPREAD_TRIANGULAR)
        {
          near (risk_sample_quantile (s, 0.8).value - 25, 2.516698, 4 * 0.015235);
          near (risk_sample_quantile (s, 0.8).value - risk_problem_likely (problem, 0), 4.516698, 4 * 0.015235);
        }
    }
}

/* Intervals of quantiles hold the exact value in about 95 of 100 runs: binomial, two-sided 0.1 %, 200 seeds: at
 * least 180. */
static void
test_coverage (void)
{
  g_autoptr (RiskProblem) problem = path_problem (SPREAD_TRIANGULAR);
  int hits = 0;

  for (guint64 seed = 1; seed <= 200; seed++)
    {
      g_autoptr (RiskResult) result = run (problem, 1000, seed);
      RiskQuantile q = risk_sample_quantile (risk_result_sample (result, 0), 0.8);
      hits += q.low <= 27.5166976398 && 27.5166976398 <= q.high;
    }
  g_assert_cmpint (hits, >=, 180);
  g_assert_cmpint (hits, <=, 199);
}

static void
test_common_cause (void)
{
  static const double rows[][2] = { { 0.3, 11.922499 }, { 0.5, 14.537498 }, { 0.999999999, 21.074997 } };
  static const int inputs[] = { 0, 1, 2, 3 };

  for (gsize r = 0; r < G_N_ELEMENTS (rows); r++)
    {
      g_autoptr (RiskProblem) problem = path_problem (SPREAD_TRIANGULAR);
      double matrix[16], mean, variance;
      for (int i = 0; i < 16; i++)
        matrix[i] = i % 5 == 0 ? 1 : rows[r][0];
      g_assert_true (risk_problem_correlate (problem, inputs, 4, matrix, NULL));
      g_assert_false (risk_problem_moments (problem, 0, &mean, &variance));
      near (mean, 25, 1e-12);
      near (variance, rows[r][1], 2e-6);
      if (rows[r][0] > 0.9)
        continue;
      /* Rank correlation makes that of the values a little smaller: within 3 %. */
      g_autoptr (RiskResult) result = run (problem, TRIALS, 1);
      const RiskSample *s = risk_result_sample (result, 0);
      near (s->sd * s->sd / rows[r][1], 1, 0.03);
      near (s->mean, 25, 4 * s->error);
      /* P80 would be understated without it. */
      g_assert_cmpfloat (risk_sample_quantile (s, 0.8).low, >, 27.5166976398);
    }
}

/* Independent: shares of variance 81.25, 8.333333, 8.333333, 2.083333 %. */
static void
test_drivers (void)
{
  static const double wanted[] = { 0.8125, 0.08333333, 0.08333333, 0.02083333 };
  g_autoptr (RiskProblem) problem = path_problem (SPREAD_TRIANGULAR);
  g_autoptr (RiskResult) result = run (problem, 1000, 1);
  const double weight = 1;
  RiskDriversHow how;
  g_autoptr (GArray) drivers = risk_result_drivers (result, &weight, &how);

  g_assert_cmpint (how, ==, RISK_DRIVERS_EXACT);
  g_assert_cmpuint (drivers->len, ==, 4);
  for (guint i = 0; i < 4; i++)
    {
      near (g_array_index (drivers, RiskDriver, i).share, wanted[i], 5e-9);
      g_assert_cmpint (g_array_index (drivers, RiskDriver, i).input, ==, (int) i);
    }
}

/* Y = F (X1 + X2) + 10, independent: mean and variance from the moments of products. First-order shares: of F (E
 * X)^2 var F, of Xi (E F)^2 var Xi. */
static void
test_product (void)
{
  static const Spread f = { SPREAD_PERT, 0.88, 1, 1.2 }, a = { SPREAD_PERT, 10, 12, 20 },
                      b = { SPREAD_TRIANGULAR, 1, 2, 6 };
  g_autoptr (RiskProblem) problem = risk_problem_new ();
  int factor = risk_problem_add_input (problem, "factor", &f, NULL), y = risk_problem_add_response (problem, "y", 10);
  int x[] = { risk_problem_add_input (problem, "a", &a, NULL), risk_problem_add_input (problem, "b", &b, NULL) };
  double ef = spread_mean (&f), vf = spread_variance (&f), ex = spread_mean (&a) + spread_mean (&b);
  double vx = spread_variance (&a) + spread_variance (&b), variance = ex * ex * vf + ef * ef * vx + vf * vx, mean,
         unknown;
  const double weight = 1;
  RiskDriversHow how;

  for (int i = 0; i < 2; i++)
    {
      RiskTerm term;
      risk_term_init (&term, problem, x[i], 1);
      term.common[0] = factor;
      risk_problem_add_term (problem, y, &term);
    }
  g_assert_false (risk_problem_moments (problem, y, &mean, &unknown));
  near (mean, 10 + ef * ex, 1e-12);
  g_assert_true (isnan (unknown));
  g_autoptr (RiskResult) result = run (problem, TRIALS, 1);
  const RiskSample *s = risk_result_sample (result, y);
  near (s->mean, 10 + ef * ex, 4 * s->error);
  near (s->sd * s->sd / variance, 1, 4 * sqrt (2.2 / TRIALS));
  g_autoptr (GArray) drivers = risk_result_drivers (result, &weight, &how);
  g_assert_cmpint (how, ==, RISK_DRIVERS_FIRST);
  for (guint i = 0; i < drivers->len; i++)
    {
      const RiskDriver *d = &g_array_index (drivers, RiskDriver, i);
      double wanted = d->input == factor ? ex * ex * vf
                      : d->input == x[0] ? ef * ef * spread_variance (&a)
                      : d->input == x[1] ? ef * ef * spread_variance (&b)
                                         : vf * vx;
      near (d->share, wanted / variance, 0.02);
    }
  g_assert_cmpuint (drivers->len, >=, 3);
}

/* Of correlated inputs each takes in what moves with it: two alike inputs at rank correlation 0.8 explain about (1 +
 * 0.79)^2 / (2 + 2 x 0.79) = 90 % each. Two independent ones in the same run keep their own. */
static void
test_drivers_ranked (void)
{
  static const Spread s = { SPREAD_TRIANGULAR, 0, 5, 10 };
  static const double matrix[] = { 1, 0.8, 0.8, 1 };
  g_autoptr (RiskProblem) problem = risk_problem_new ();
  const int inputs[] = { risk_problem_add_input (problem, "a", &s, NULL),
                         risk_problem_add_input (problem, "b", &s, NULL) };
  int y = risk_problem_add_response (problem, "y", 0);
  const double weight = 1;
  RiskDriversHow how;

  for (int i = 0; i < 2; i++)
    {
      RiskTerm term;
      risk_term_init (&term, problem, inputs[i], 1);
      risk_problem_add_term (problem, y, &term);
    }
  g_assert_true (risk_problem_correlate (problem, inputs, 2, matrix, NULL));
  g_autoptr (RiskResult) result = run (problem, TRIALS, 3);
  g_autoptr (GArray) drivers = risk_result_drivers (result, &weight, &how);
  g_assert_cmpint (how, ==, RISK_DRIVERS_RANKED);
  g_assert_cmpuint (drivers->len, ==, 2);
  for (guint i = 0; i < 2; i++)
    near (g_array_index (drivers, RiskDriver, i).share, 0.895, 0.02);
}

/* Sums of 12 symmetric triangulars are close to normal: (24, 5) against (26, 4), P = Phi (2/3) = 0.747507. Their
 * excess kurtosis of -0.025 moves it by 0.0006. */
static void
test_beats (void)
{
  g_autoptr (RiskProblem) problem = risk_problem_new ();
  int x = risk_problem_add_response (problem, "x", 0), y = risk_problem_add_response (problem, "y", 0);

  for (int i = 0; i < 24; i++)
    {
      g_autofree char *name = g_strdup_printf ("part %d", i);
      double middle = i < 12 ? 2 : 26 / 12.0, half = i < 12 ? sqrt (2.5) : sqrt (2);
      Spread s = { SPREAD_TRIANGULAR, middle - half, middle, middle + half };
      RiskTerm term;
      risk_term_init (&term, problem, risk_problem_add_input (problem, name, &s, NULL), 1);
      risk_problem_add_term (problem, i < 12 ? x : y, &term);
    }
  g_autoptr (RiskResult) result = run (problem, TRIALS, 1);
  RiskBeats beats = risk_result_beats (result, x, y), back = risk_result_beats (result, y, x);
  near (beats.less, 0.747507, 0.0006 + 4 * sqrt (0.747507 * 0.252493 / TRIALS));
  near (beats.less + beats.more + beats.tie, 1, 1e-12);
  g_assert_cmpfloat (beats.less, ==, back.more);
  g_assert_cmpfloat (beats.more, ==, back.less);
  g_assert_cmpfloat (beats.low, <, beats.less);
  g_assert_cmpfloat (beats.high, >, beats.less);
}

/* Swapped responses: every difference changes its sign. The same twice: zero everywhere. Draws hang on an input's
 * name and the seed alone: other inputs and responses change nothing. */
static void
test_same_draws (void)
{
  g_autoptr (RiskProblem) alone = path_problem (SPREAD_PERT), more = path_problem (SPREAD_PERT);
  static const Spread extra = { SPREAD_PERT, 1, 2, 9 };
  int twin = risk_problem_add_response (more, "twin", 0), third = risk_problem_add_response (more, "third", 3);
  int input = risk_problem_add_input (more, "extra", &extra, NULL);
  RiskTerm term;

  for (int i = 0; i < 4; i++)
    {
      risk_term_init (&term, more, i, 1);
      risk_problem_add_term (more, twin, &term);
    }
  risk_term_init (&term, more, input, 1);
  risk_problem_add_term (more, third, &term);
  g_autoptr (RiskResult) a = run (alone, 5000, 9), b = run (more, 5000, 9), c = run (more, 5000, 10);
  g_assert_true (memcmp (risk_result_values (a, 0), risk_result_values (b, 0), sizeof (double) * 5000) == 0);
  g_assert_cmpfloat (risk_result_values (b, 0)[0], !=, risk_result_values (c, 0)[0]);
  g_autoptr (RiskSample) zero = risk_result_difference (b, 0, twin);
  RiskBeats beats = risk_result_beats (b, 0, twin);
  g_assert_cmpfloat (zero->sorted[0], ==, 0);
  g_assert_cmpfloat (zero->sorted[4999], ==, 0);
  g_assert_cmpfloat (zero->mean, ==, 0);
  g_assert_cmpfloat (zero->sd, ==, 0);
  g_assert_cmpfloat (beats.tie, ==, 1);
  g_autoptr (RiskSample) forth = risk_result_difference (b, 0, third), back = risk_result_difference (b, third, 0);
  for (gsize i = 0; i < 5000; i++)
    g_assert_cmpfloat (forth->sorted[i], ==, -back->sorted[4999 - i]);
  g_assert_cmpfloat (forth->mean, ==, -back->mean);
}

/* A term with figures of its own takes them at the same share as the input's draw: twice the range, twice the
 * deviation, and a negative coefficient falls as the other rises. */
static void
test_own_figures (void)
{
  static const Spread s = { SPREAD_PERT, 1, 2, 5 };
  g_autoptr (RiskProblem) problem = risk_problem_new ();
  int input = risk_problem_add_input (problem, "x", &s, NULL);
  int a = risk_problem_add_response (problem, "a", 0), b = risk_problem_add_response (problem, "b", 0);
  RiskTerm term;

  risk_term_init (&term, problem, input, 1);
  risk_problem_add_term (problem, a, &term);
  term.spread = (Spread){ SPREAD_PERT, 12, 14, 20 };
  term.coefficient = -1;
  risk_problem_add_term (problem, b, &term);
  g_autoptr (RiskResult) result = run (problem, 2000, 1);
  for (gsize i = 0; i < 2000; i++)
    near (risk_result_values (result, b)[i], -10 - 2 * risk_result_values (result, a)[i], 1e-12);
}

static gboolean
stop_half (gpointer data, double share)
{
  double *most = data;

  g_assert_cmpfloat (share, >=, *most);
  *most = share;
  return share < 0.5;
}

static void
test_refused (void)
{
  g_autoptr (RiskProblem) problem = path_problem (SPREAD_PERT), empty = risk_problem_new ();
  static const Spread wrong = { SPREAD_PERT, 3, 2, 5 }, right = { SPREAD_PERT, 1, 2, 5 };
  g_autoptr (Fault) order = NULL, twice = NULL, few = NULL, many = NULL, nothing = NULL, stopped = NULL;
  double most = 0;
  RiskRun how = { 1, 1, NULL, NULL };

  g_assert_cmpint (risk_problem_add_input (problem, "cleat", &wrong, &order), ==, -1);
  g_assert_nonnull (strstr (order->what, "cleat: low 3 is above likely 2"));
  g_assert_cmpint (risk_problem_add_input (problem, "activity 0", &right, &twice), ==, -1);
  g_assert_nonnull (strstr (twice->what, "stands twice"));
  g_assert_null (risk_run (problem, &how, &few));
  g_assert_nonnull (strstr (few->remedy, "at least 2"));
  how.trials = 1 + RISK_MOST_VALUES;
  g_assert_null (risk_run (problem, &how, &many));
  g_assert_nonnull (strstr (many->remedy, "at most 40000000"));
  how.trials = 1000;
  g_assert_null (risk_run (empty, &how, &nothing));
  g_assert_nonnull (nothing);
  how = (RiskRun){ TRIALS, 1, stop_half, &most };
  g_assert_null (risk_run (problem, &how, &stopped));
  g_assert_null (stopped);
  g_assert_cmpfloat (most, >=, 0.5);
}

static RiskProblem *
read (const char *text, const char *complaint)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (CsvTable) table = csv_parse (text, -1, "problem.csv", faults);
  RiskProblem *problem = risk_problem_read (table, SPREAD_PERT, faults);

  if (!complaint)
    g_assert_cmpuint (faults->len, ==, 0);
  else
    {
      g_autofree char *words = NULL;
      g_assert_cmpuint (faults->len, >, 0);
      words = csv_fault_words (g_ptr_array_index (faults, 0));
      g_test_message ("%s", words);
      g_assert_nonnull (strstr (words, complaint));
      g_assert_null (problem);
    }
  return problem;
}

static void
test_read (void)
{
  g_autoptr (RiskProblem) a =
      read ("name,low,likely,high,spread,common,A,B\nsteel,1,2,3,triangular,,10,\nhours,5,6,9,,crew,2,-1\n"
            "crew,.9,1,1.2,,,,\n",
            NULL);
  g_autoptr (RiskProblem) b = read ("activity,low,likely,high,on_critical_path\n1,5,8,17,1\n2,7,10,13,0\n", NULL);

  g_assert_cmpint (risk_problem_n_inputs (a), ==, 3);
  g_assert_cmpint (risk_problem_n_responses (a), ==, 2);
  g_assert_cmpint (risk_problem_input_spread (a, 0)->kind, ==, SPREAD_TRIANGULAR);
  g_assert_cmpfloat (risk_problem_likely (a, 0), ==, 10 * 2 + 2 * 6 * 1);
  g_assert_cmpfloat (risk_problem_likely (a, 1), ==, -6);
  g_assert_cmpint (risk_problem_n_inputs (b), ==, 1);
  g_assert_cmpfloat (risk_problem_likely (b, 0), ==, 8);
  read ("name,low,likely,high\na,3,2,5\n", "a: low 3 is above likely 2");
  read ("name,low,likely,high\na,1,2,5\na,1,2,5\n", "stands twice");
  read ("name,low,likely\na,1,2\n", "high");
  read ("name,low,likely,high\n", "no row");
  read ("name,low,likely,high\na,1,x,5\n", "likely");
  read ("name,low,likely,high,common\na,1,2,5,b\n", "no other row has this name");
  read ("name,low,likely,high,common\na,1,2,5,a\n", "no other row has this name");
  /* a ring, which came to 0; a chain, of which the second factor was left out */
  read ("name,low,likely,high,common\nk,1,2,3,j\nj,1,2,3,k\n", "“j” has a common factor itself, “k”");
  read ("name,low,likely,high,common\na,1,2,3,b\nb,1,2,3,c\nc,1,2,3,\n", "“b” has a common factor itself, “c”");
  read ("name,low,likely,high,common,A\na,1,2,3,b,\nb,1,2,3,c,\nc,1,2,3,,1\n", "“b” has a common factor itself");
  read ("name,low,likely,high,spread\na,1,2,5,normal\n", "is not a spread");
}

static void
test_read_correlation (void)
{
  static const char *const rows[][2] = {
    { "1,0.9\n0.9,1\n", NULL },
    { "# a comment\n1,0.5\n0.4,1\n", "not symmetric" },
    { "1,0.5\n0.5\n", "row 2 of the matrix has 1 figures" },
    { "1,0.5\n", "1 rows and 2 columns" },
    { "1,x\n0,1\n", "row 1, column 2" },
    { "1,0,0,0,0\n0,1,0,0,0\n0,0,1,0,0\n0,0,0,1,0\n0,0,0,0,1\n", "the problem only 4" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (RiskProblem) problem = path_problem (SPREAD_PERT);
      g_autoptr (Fault) fault = NULL;
      g_assert_cmpint (risk_problem_read_correlation (problem, rows[i][0], &fault), ==, rows[i][1] == NULL);
      g_assert_cmpint (risk_problem_is_correlated (problem), ==, rows[i][1] == NULL);
      if (rows[i][1])
        g_assert_nonnull (strstr (fault->what, rows[i][1]));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/risk/sum", test_sum);
  g_test_add_func ("/risk/coverage", test_coverage);
  g_test_add_func ("/risk/common-cause", test_common_cause);
  g_test_add_func ("/risk/drivers", test_drivers);
  g_test_add_func ("/risk/product", test_product);
  g_test_add_func ("/risk/drivers-ranked", test_drivers_ranked);
  g_test_add_func ("/risk/beats", test_beats);
  g_test_add_func ("/risk/same-draws", test_same_draws);
  g_test_add_func ("/risk/own-figures", test_own_figures);
  g_test_add_func ("/risk/refused", test_refused);
  g_test_add_func ("/risk/read", test_read);
  g_test_add_func ("/risk/read-correlation", test_read_correlation);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Iman, Conover 1982. The example of 20 trials and 4 inputs lies in tests/data (computed apart from this program). */
#include "cost/rank-correlation.h"

#include "base/csv.h"

#include <math.h>
#include <string.h>

#define near(x, wanted, within) g_assert_cmpfloat_with_epsilon ((x), (wanted), (within))

#define N 20
#define K 4

static const double target[K * K] = { 1, 0.8, 0.5, 0, 0.8, 1, 0.4, 0.2, 0.5, 0.4, 1, -0.3, 0, 0.2, -0.3, 1 };

typedef struct
{
  double x[K][N], s[K][N], y[K][N];
  guint rank[K][N], order[K][N];
} Example;

static double
cell (const CsvTable *table, guint row, const char *name, int j)
{
  g_autofree char *heading = g_strdup_printf ("%s%d", name, j + 1);
  int column = csv_column (table, heading);

  g_assert_cmpint (column, >=, 0);
  return g_ascii_strtod (csv_cell (table, row, column), NULL);
}

static void
read_example (Example *e)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "iman_conover_20x4.csv", NULL);
  g_autoptr (CsvTable) table = csv_read_file (path, NULL, NULL);

  g_assert_nonnull (table);
  g_assert_cmpuint (table->row->len, ==, N);
  for (guint i = 0; i < N; i++)
    for (int j = 0; j < K; j++)
      {
        e->x[j][i] = cell (table, i, "x", j);
        e->s[j][i] = cell (table, i, "s", j);
        e->y[j][i] = cell (table, i, "y", j);
        e->rank[j][i] = (guint) cell (table, i, "rank_m", j);
        e->order[j][i] = (guint) cell (table, i, "rank_out", j);
      }
}

static void
check_pairs (double *const *x, const double *wanted)
{
  int at = 0;

  for (int i = 0; i < K; i++)
    for (int j = i + 1; j < K; j++)
      near (rank_correlation_of (x[i], x[j], N), wanted[at++], 6e-7);
}

static double
variance_of_sums (double *const *x, double *mean)
{
  double square = 0;

  *mean = 0;
  for (int i = 0; i < N; i++)
    *mean += (x[0][i] + x[1][i] + x[2][i] + x[3][i]) / N;
  for (int i = 0; i < N; i++)
    square += pow (x[0][i] + x[1][i] + x[2][i] + x[3][i] - *mean, 2);
  return square / (N - 1);
}

static void
test_example (void)
{
  static const double e_wanted[] = { 0.103091, -0.103326, 0.125617, -0.303190, 0.172252, 0.311374 };
  static const double p_wanted[] = {
    1, 0, 0, 0, 0.8, 0.6, 0, 0, 0.5, 0, 0.866025, 0, 0, 0.333333, -0.346410, 0.876863
  };
  static const double before[] = { -0.184962, 0.120301, -0.036090, -0.252632, 0.469173, -0.057143 };
  static const double after[] = { 0.828571, 0.538346, 0.078195, 0.406015, 0.278195, -0.285714 };
  Example x;
  double e[K * K], p[K * K], s0[N], s1[N], s2[N], s3[N], mean;
  guint o0[N], o1[N], o2[N], o3[N];
  double *columns[K], *s[K] = { s0, s1, s2, s3 };
  guint *order[K] = { o0, o1, o2, o3 };
  const guint *rank[K];
  RankCorrelationSteps steps = { e, p, s, order };
  int at = 0;

  read_example (&x);
  for (int j = 0; j < K; j++)
    {
      columns[j] = x.x[j];
      rank[j] = x.rank[j];
    }
  check_pairs (columns, before);
  near (variance_of_sums (columns, &mean), 38.007287, 6e-7);
  near (mean, 72.134695, 6e-7);
  g_assert_true (rank_correlate (columns, N, K, target, rank, &steps, NULL));
  for (int i = 0; i < K; i++)
    for (int j = i + 1; j < K; j++)
      near (e[i * K + j], e_wanted[at++], 6e-7);
  for (int i = 0; i < K * K; i++)
    near (p[i], p_wanted[i], 6e-7);
  for (int j = 0; j < K; j++)
    for (int i = 0; i < N; i++)
      {
        near (s[j][i], x.s[j][i], 6e-11);
        g_assert_cmpuint (order[j][i], ==, x.order[j][i]);
        g_assert_cmpfloat (columns[j][i], ==, x.y[j][i]);
      }
  check_pairs (columns, after);
  near (variance_of_sums (columns, &mean), 37.180906, 6e-7);
  near (mean, 72.134695, 6e-7);
}

/* ---- properties on many trials ---- */

#define MANY 100000

static void
shuffle (GRand *random, guint *rank, gsize n)
{
  for (gsize i = 0; i < n; i++)
    {
      gsize at = (gsize) g_rand_int_range (random, 0, (gint32) i + 1);
      rank[i] = rank[at];
      rank[at] = (guint) i + 1;
    }
}

static int
compare (gconstpointer a, gconstpointer b)
{
  const double *x = a, *y = b;

  return *x < *y ? -1 : *x > *y;
}

static double
pearson (const double *x, const double *y, gsize n)
{
  double mx = 0, my = 0, xx = 0, yy = 0, xy = 0;

  for (gsize i = 0; i < n; i++)
    {
      mx += x[i] / (double) n;
      my += y[i] / (double) n;
    }
  for (gsize i = 0; i < n; i++)
    {
      xx += (x[i] - mx) * (x[i] - mx);
      yy += (y[i] - my) * (y[i] - my);
      xy += (x[i] - mx) * (y[i] - my);
    }
  return xy / sqrt (xx * yy);
}

/* Columns keep their values; corr (S) is the target to 1e-12; rank correlations stand at (6 / pi) asin (c / 2) of
 * the target within 4 standard errors, and within 0.02 of the target itself; increasing transforms commute. */
static void
test_many (void)
{
  g_autoptr (GRand) random = g_rand_new_with_seed (7);
  double *x[K], *y[K], *sorted[K], *s[K];
  guint *rank[K];
  RankCorrelationSteps steps = { .s = s };

  for (int j = 0; j < K; j++)
    {
      x[j] = g_new (double, MANY);
      y[j] = g_new (double, MANY);
      s[j] = g_new (double, MANY);
      rank[j] = g_new (guint, MANY);
      for (int i = 0; i < MANY; i++)
        {
          x[j][i] = g_rand_double (random);
          y[j][i] = exp (3 * x[j][i]);
        }
      sorted[j] = g_memdup2 (x[j], sizeof (double) * MANY);
      qsort (sorted[j], MANY, sizeof (double), compare);
      shuffle (random, rank[j], MANY);
    }
  g_assert_true (rank_correlate (x, MANY, K, target, (const guint *const *) rank, &steps, NULL));
  g_assert_true (rank_correlate (y, MANY, K, target, (const guint *const *) rank, NULL, NULL));
  for (int i = 0; i < K; i++)
    for (int j = 0; j < i; j++)
      {
        double c = target[i * K + j], found = rank_correlation_of (x[i], x[j], MANY);
        near (pearson (s[i], s[j], MANY), c, 1e-12);
        near (found, 6 / G_PI * asin (c / 2), 4 / sqrt (MANY));
        near (found, c, 0.02);
      }
  for (int j = 0; j < K; j++)
    {
      for (int i = 0; i < MANY; i++)
        g_assert_cmpfloat (y[j][i], ==, exp (3 * x[j][i]));
      qsort (x[j], MANY, sizeof (double), compare);
      g_assert_true (memcmp (x[j], sorted[j], sizeof (double) * MANY) == 0);
      g_free (x[j]);
      g_free (y[j]);
      g_free (s[j]);
      g_free (sorted[j]);
      g_free (rank[j]);
    }
}

/* Independent scores (their correlation is exactly zero: the second column is symmetric about the middle of the
 * first) and the target of independence: the order is that of the scores. */
static void
test_identity (void)
{
  static const double none[] = { 1, 0, 0, 1 };
  double a[] = { 5, 1, 3, 4 }, b[] = { 40, 30, 10, 20 };
  double *x[] = { a, b };
  const guint r0[] = { 1, 2, 3, 4 }, r1[] = { 2, 4, 1, 3 };
  const guint *rank[] = { r0, r1 };
  double e[4], p[4];
  RankCorrelationSteps steps = { .e = e, .p = p };

  g_assert_true (rank_correlate (x, 4, 2, none, rank, &steps, NULL));
  near (e[1], 0, 1e-12);
  g_assert_cmpfloat (a[0], ==, 1);
  g_assert_cmpfloat (a[3], ==, 5);
  g_assert_cmpfloat (b[0], ==, 20);
  g_assert_cmpfloat (b[1], ==, 40);
  g_assert_cmpfloat (b[2], ==, 10);
}

static void
test_refused (void)
{
  static const struct
  {
    double c[9];
    gsize n;
    const char *words, *remedy;
  } rows[] = {
    { { 1, 0.5, 0, 0.4, 1, 0, 0, 0, 1 }, 100, "not symmetric", "same figure" },
    { { 1, 0, 0, 0, 0.9, 0, 0, 0, 1 }, 100, "row 2 has 0.9", "write 1" },
    { { 1, 1.2, 0, 1.2, 1, 0, 0, 0, 1 }, 100, "no correlation", "1 is the most" },
    /* eigenvalues of the last: 1 - 0.9 sqrt 2 = -0.272792 is the smallest; 1 / 1.272792 = 0.785674 */
    { { 1, 0.9, 0, 0.9, 1, 0.9, 0, 0.9, 1 }, 100, "eigenvalue is -0.272792", "at most 0.785" },
    { { 1, 0, 0, 0, 1, 0, 0, 0, 1 }, 3, "3 trials", "at least 4" },
    { { 1, NAN, 0, NAN, 1, 0, 0, 0, 1 }, 100, "symmetric", "same figure" },
  };

  near (rank_correlation_least_eigenvalue (target, K), 0.175198, 6e-7);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_assert_false (rank_correlation_check (rows[i].c, 3, rows[i].n, &fault));
      g_test_message ("%s: %s", fault->what, fault->remedy);
      g_assert_nonnull (strstr (fault->what, rows[i].words));
      g_assert_nonnull (strstr (fault->remedy, rows[i].remedy));
    }
  /* The remedy is feasible. */
  static const double shrunk[] = { 1, 0.9 * 0.785, 0, 0.9 * 0.785, 1, 0.9 * 0.785, 0, 0.9 * 0.785, 1 };
  g_assert_true (rank_correlation_check (shrunk, 3, 100, NULL));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rank-correlation/example", test_example);
  g_test_add_func ("/rank-correlation/many", test_many);
  g_test_add_func ("/rank-correlation/identity", test_identity);
  g_test_add_func ("/rank-correlation/refused", test_refused);
  return g_test_run ();
}

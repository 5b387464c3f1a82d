/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/risk-pages.h"

#include "cli/cli.h"
#include "cost/rank-correlation.h"

#include <glib/gi18n.h>
#include <math.h>

/* Columns of draws with the ranks of their scores. */
typedef struct
{
  gsize n;
  int k;
  double **x, **before, **s;
  guint **rank, **order;
} Columns;

static void
columns_clear (Columns *c)
{
  for (int j = 0; j < c->k; j++)
    {
      g_free (c->x[j]);
      g_free (c->before[j]);
      g_free (c->s[j]);
      g_free (c->rank[j]);
      g_free (c->order[j]);
    }
  g_free (c->x);
  g_free (c->before);
  g_free (c->s);
  g_free (c->rank);
  g_free (c->order);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Columns, columns_clear)

static void
columns_init (Columns *c, gsize n, int k)
{
  *c = (Columns){ n,
                  k,
                  g_new0 (double *, (gsize) k),
                  g_new0 (double *, (gsize) k),
                  g_new0 (double *, (gsize) k),
                  g_new0 (guint *, (gsize) k),
                  g_new0 (guint *, (gsize) k) };
  for (int j = 0; j < k; j++)
    {
      c->x[j] = g_new0 (double, n);
      c->before[j] = g_new0 (double, n);
      c->s[j] = g_new0 (double, n);
      c->rank[j] = g_new0 (guint, n);
      c->order[j] = g_new0 (guint, n);
    }
}

/* Ranks of the file, each a permutation of 1 to n; without such columns shuffled, always alike. */
static gboolean
read_ranks (Columns *c, const CsvTable *table, int j)
{
  g_autofree char *heading = g_strdup_printf ("rank_m%d", j + 1);
  g_autofree gboolean *seen = g_new0 (gboolean, c->n + 1);
  g_autoptr (GRand) random = g_rand_new_with_seed ((guint32) j + 1);
  int column = csv_column (table, heading);

  for (gsize i = 0; i < c->n && column >= 0; i++)
    {
      guint64 rank = 0;
      if (!g_ascii_string_to_unsigned (csv_cell (table, (guint) i, column), 10, 1, c->n, &rank, NULL) || seen[rank])
        {
          cli_complain (
              _ ("%s, line %d: “%s” is no rank that is still free; write each whole number from 1 to %" G_GSIZE_FORMAT
                 " once"),
              heading, ((CsvRow *) g_ptr_array_index (table->row, i))->line, csv_cell (table, (guint) i, column), c->n);
          return FALSE;
        }
      seen[rank] = TRUE;
      c->rank[j][i] = (guint) rank;
    }
  for (gsize i = 0; i < c->n && column < 0; i++)
    {
      gsize at = (gsize) g_rand_int_range (random, 0, (gint32) i + 1);
      c->rank[j][i] = c->rank[j][at];
      c->rank[j][at] = (guint) i + 1;
    }
  return TRUE;
}

static gboolean
read_columns (Columns *c, const CsvTable *table)
{
  for (int j = 0; j < c->k; j++)
    {
      g_autofree char *heading = g_strdup_printf ("x%d", j + 1);
      int column = csv_column (table, heading);
      if (column < 0)
        {
          cli_complain (_ ("the matrix has %d inputs, but there is no column %s; add it or make the matrix smaller"),
                        c->k, heading);
          return FALSE;
        }
      for (gsize i = 0; i < c->n; i++)
        {
          const char *cell = csv_cell (table, (guint) i, column);
          char *end;
          c->x[j][i] = c->before[j][i] = g_ascii_strtod (cell, &end);
          if (end == cell || *end || !isfinite (c->x[j][i]))
            {
              cli_complain (_ ("%s, line %d: “%s” is no number; write one like 2.5"), heading,
                            ((CsvRow *) g_ptr_array_index (table->row, i))->line, cell);
              return FALSE;
            }
        }
      if (!read_ranks (c, table, j))
        return FALSE;
    }
  return TRUE;
}

static void
print_correlations (const Columns *c, const double *target, const double *e, CliFormat format)
{
  static const CliColumn columns[] = {
    { "row", N_ ("input"), TRUE },
    { "column", N_ ("and"), TRUE },
    { "target", N_ ("asked"), TRUE },
    { "scores", N_ ("scores drawn"), TRUE },
    { "before", N_ ("rank correlation before"), TRUE },
    { "after", N_ ("after"), TRUE },
  };
  g_autoptr (CliTable) t = cli_table_new ("correlations", columns, G_N_ELEMENTS (columns));
  double largest = 0;

  for (int i = 0; i < c->k; i++)
    for (int j = i + 1; j < c->k; j++)
      {
        double after = rank_correlation_of (c->x[i], c->x[j], c->n), wanted = target[i * c->k + j];
        cli_table_int (t, i + 1);
        cli_table_int (t, j + 1);
        cli_table_fixed (t, wanted, 6);
        cli_table_fixed (t, e[i * c->k + j], 6);
        cli_table_fixed (t, rank_correlation_of (c->before[i], c->before[j], c->n), 6);
        cli_table_fixed (t, after, 6);
        largest = MAX (largest, fabs (after - wanted));
      }
  if (format == CLI_TEXT)
    cli_print (_ ("Rank correlations in order by Iman and Conover: the largest gap to what was asked is %.6f.\n\n"),
               largest);
  cli_table_print (t, format);
  if (format != CLI_JSONL)
    cli_print ("\n");
}

static void
add_sums (CliTable *t, const char *when, double **x, gsize n, int k)
{
  double mean = 0, square = 0;

  for (int pass = 0; pass < 2; pass++)
    for (gsize i = 0; i < n; i++)
      {
        double sum = 0;
        for (int j = 0; j < k; j++)
          sum += x[j][i];
        if (pass == 0)
          mean += sum / (double) n;
        else
          square += (sum - mean) * (sum - mean);
      }
  cli_table_add (t, when);
  cli_table_fixed (t, mean, 6);
  cli_table_fixed (t, square / (double) (n - 1), 6);
}

static void
print_rows (const Columns *c, CliFormat format)
{
  static const CliColumn columns[] = {
    { "row", N_ ("row"), TRUE },     { "input", N_ ("input"), TRUE }, { "x", N_ ("before"), TRUE },
    { "score", N_ ("score"), TRUE }, { "rank", N_ ("rank"), TRUE },   { "y", N_ ("after"), TRUE },
  };
  g_autoptr (CliTable) t = cli_table_new ("rows", columns, G_N_ELEMENTS (columns));

  for (gsize i = 0; i < c->n; i++)
    for (int j = 0; j < c->k; j++)
      {
        cli_table_int (t, (gint64) i + 1);
        cli_table_int (t, j + 1);
        cli_table_figure (t, c->before[j][i], 10);
        cli_table_fixed (t, c->s[j][i], 10);
        cli_table_int (t, c->order[j][i]);
        cli_table_figure (t, c->x[j][i], 10);
      }
  cli_table_print (t, format);
}

int
cli_page_sample (const CsvTable *table, const char *matrix, CliFormat format)
{
  static const CliColumn columns[] = { { "when", N_ ("sums of the rows"), FALSE },
                                       { "mean", N_ ("mean"), TRUE },
                                       { "variance", N_ ("variance"), TRUE } };
  g_autoptr (CliTable) sums = cli_table_new ("sums", columns, G_N_ELEMENTS (columns));
  g_auto (Columns) c = { 0 };
  g_autofree double *target = NULL, *e = NULL;
  Fault *fault = NULL;
  gboolean done;
  int k = 0;

  target = risk_matrix_read (matrix, &k, &fault);
  done = target && rank_correlation_check (target, k, table->row->len, &fault);
  if (done)
    {
      columns_init (&c, table->row->len, k);
      e = g_new0 (double, (gsize) k *(gsize) k);
      if (!read_columns (&c, table))
        return CLI_FAULTS;
      RankCorrelationSteps steps = { .e = e, .s = c.s, .order = c.order };
      done = rank_correlate (c.x, c.n, k, target, (const guint *const *) c.rank, &steps, &fault);
    }
  if (!done)
    {
      g_autofree char *words = fault_words (fault, NULL);
      cli_complain ("%s", words);
      fault_free (fault);
      return CLI_FAULTS;
    }
  print_correlations (&c, target, e, format);
  add_sums (sums, _ ("before"), c.before, c.n, k);
  add_sums (sums, _ ("after"), c.x, c.n, k);
  cli_table_print (sums, format);
  if (format != CLI_JSONL)
    cli_print ("\n");
  if (format != CLI_TEXT)
    print_rows (&c, format);
  return CLI_DONE;
}

/* ---- quantiles ---- */

static int
by_size (gconstpointer a, gconstpointer b)
{
  const double *x = a, *y = b;

  return *x < *y ? -1 : *x > *y;
}

/* The column in order; NULL when a cell is no number. */
static double *
sorted_column (const CsvTable *table, guint column)
{
  g_autofree double *x = g_new (double, table->row->len + 1);

  for (guint i = 0; i < table->row->len; i++)
    {
      const char *cell = csv_cell (table, i, (int) column);
      char *end;
      x[i] = g_ascii_strtod (cell, &end);
      if (end == cell || *end || !isfinite (x[i]))
        return NULL;
    }
  qsort (x, table->row->len, sizeof *x, by_size);
  return g_steal_pointer (&x);
}

/* @p: share. Ranks count from 1; where a small sample has no bound on a side the cell is empty. */
static void
add_quantile (CliTable *t, const char *name, const double *x, gsize n, double p)
{
  QuantileOrder order;

  quantile_order (n, p, RISK_INTERVAL, &order);
  cli_table_add (t, name);
  cli_table_figure (t, p * 100, 6);
  cli_table_figure (t, quantile_of_sorted (x, n, p), 10);
  if (order.l >= 1)
    cli_table_figure (t, x[order.l - 1], 10);
  else
    cli_table_add (t, "");
  if (order.u <= n)
    cli_table_figure (t, x[order.u - 1], 10);
  else
    cli_table_add (t, "");
  cli_table_int (t, (gint64) order.l);
  cli_table_int (t, (gint64) order.u);
  cli_table_fixed (t, order.coverage * 100, 4);
}

int
cli_page_quantiles (const CsvTable *table, char **asked, CliFormat format)
{
  static const CliColumn columns[] = {
    { "of", N_ ("of"), FALSE },          { "percent", N_ ("%"), TRUE },   { "value", N_ ("at most"), TRUE },
    { "low", N_ ("from (95 %)"), TRUE }, { "high", N_ ("to"), TRUE },     { "from_rank", N_ ("from rank"), TRUE },
    { "to_rank", N_ ("to rank"), TRUE }, { "coverage_percent", N_ ("coverage, %"), TRUE },
  };
  static const double points[] = { 0.1, 0.25, 0.5, 0.8, 0.9 };
  g_autoptr (CliTable) t = cli_table_new ("quantiles", columns, G_N_ELEMENTS (columns));
  gsize n = table->row->len;
  int found = 0;

  for (guint c = 0; n > 0 && c < table->head->len; c++)
    {
      g_autofree double *x = sorted_column (table, c);
      const char *name = g_ptr_array_index (table->head, c);
      found += x != NULL;
      for (gsize k = 0; x && k < G_N_ELEMENTS (points); k++)
        add_quantile (t, name, x, n, points[k]);
      for (char **w = asked; x && w && *w; w++)
        {
          char *end;
          double p = g_ascii_strtod (*w, &end);
          if (end == *w || *end || !(p >= 0 && p <= 100))
            {
              cli_complain (_ ("--quantile: “%s” is no share; write one from 0 to 100"), *w);
              return CLI_USAGE;
            }
          add_quantile (t, name, x, n, p / 100);
        }
    }
  if (found == 0)
    {
      cli_complain (_ ("no column of the file is all numbers; write a heading and a figure a line"));
      return CLI_FAULTS;
    }
  if (format == CLI_TEXT)
    cli_print (_ ("Quantiles of %" G_GSIZE_FORMAT " values by linear interpolation at 1 + (n − 1) p (L10, type 7), "
                  "intervals from order statistics.\n\n"),
               n);
  cli_table_print (t, format);
  if (format == CLI_TEXT)
    cli_print (_ ("The whole curve is within %.4f of the true one (95 %%, Dvoretzky, Kiefer, Wolfowitz).\n"),
               quantile_band (n, RISK_INTERVAL));
  return CLI_DONE;
}

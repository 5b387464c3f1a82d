/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cost/spread.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_cdf.h>
#include <gsl/gsl_sf_gamma.h>
#include <math.h>
#include <string.h>

const char *const spread_keys[SPREAD_N_KINDS] = { "pert", "pert-classical", "triangular" };

const char *
spread_say (SpreadKind kind)
{
  static const char *const say[SPREAD_N_KINDS] = {
    N_ ("PERT, exact beta"),
    N_ ("PERT, variance of a sixth of the range, drawn from the beta of that mean and variance"), N_ ("triangular")
  };

  return _ (say[kind]);
}

gboolean
spread_parse (const char *text, SpreadKind *kind, Fault **fault)
{
  for (int i = 0; i < SPREAD_N_KINDS; i++)
    if (g_ascii_strcasecmp (text, spread_keys[i]) == 0)
      {
        *kind = (SpreadKind) i;
        return TRUE;
      }
  return fault_set (fault,
                    fault_new (0, _ ("write pert, pert-classical or triangular"), _ ("“%s” is not a spread"), text));
}

gboolean
spread_check (const Spread *s, const char *name, Fault **fault)
{
  const char *of = name && *name ? name : _ ("the figure");
  double low = MIN (s->low, MIN (s->likely, s->high)), high = MAX (s->low, MAX (s->likely, s->high));
  double middle = s->low + s->likely + s->high - low - high;
  g_autofree char *remedy = NULL;

  if (!isfinite (s->low) || !isfinite (s->likely) || !isfinite (s->high))
    return fault_set (fault, fault_new (-1, _ ("enter low, likely and high"),
                                        _ ("%s: low, likely and high are not all numbers"), of));
  if (s->low <= s->likely && s->likely <= s->high)
    return TRUE;
  remedy = g_strdup_printf (_ ("put them in order: %.10g, %.10g, %.10g"), low, middle, high);
  if (s->low > s->likely)
    return fault_set (fault, fault_new (-1, remedy, _ ("%s: low %.10g is above likely %.10g"), of, s->low, s->likely));
  return fault_set (fault, fault_new (-1, remedy, _ ("%s: likely %.10g is above high %.10g"), of, s->likely, s->high));
}

/* ---- moments ---- */

double
spread_mean (const Spread *s)
{
  if (s->kind == SPREAD_TRIANGULAR)
    return (s->low + s->likely + s->high) / 3;
  return (s->low + 4 * s->likely + s->high) / 6;
}

double
spread_variance (const Spread *s)
{
  double r = s->high - s->low, mean = spread_mean (s);

  if (s->kind == SPREAD_PERT_CLASSICAL)
    return r * r / 36;
  if (s->kind == SPREAD_PERT)
    return (mean - s->low) * (s->high - mean) / 7;
  /* From the differences: the sum of squares would lose digits of figures that are large beside their range. */
  double left = s->likely - s->low, right = s->high - s->likely;
  return (left * left + left * right + right * right) / 18;
}

/* alpha and beta of a shape with likely at @m of 0 to 1. */
static void
shape_of (SpreadKind kind, double m, double *alpha, double *beta)
{
  double mean = (4 * m + 1) / 6, sum = kind == SPREAD_PERT ? 6 : 36 * mean * (1 - mean) - 1;

  *alpha = mean * sum;
  *beta = (1 - mean) * sum;
}

double
spread_below (const Spread *s, double x)
{
  double alpha, beta, r = s->high - s->low;

  if (x < s->low)
    return 0;
  if (x >= s->high)
    return 1;
  if (s->kind == SPREAD_TRIANGULAR)
    return x <= s->likely && s->likely > s->low ? (x - s->low) * (x - s->low) / (r * (s->likely - s->low))
                                                : 1 - (s->high - x) * (s->high - x) / (r * (s->high - s->likely));
  shape_of (s->kind, (s->likely - s->low) / r, &alpha, &beta);
  return gsl_cdf_beta_P ((x - s->low) / r, alpha, beta);
}

static double
triangular (double m, double u)
{
  return u <= m ? sqrt (u * m) : 1 - sqrt ((1 - u) * (1 - m));
}

/* Inverse of the beta at @u from a guess: Newton's steps, kept between bounds that close in. */
static double
beta_inverse (double u, double alpha, double beta, double guess)
{
  double norm = gsl_sf_lnbeta (alpha, beta), low = 0, high = 1, x = guess;

  for (int i = 0; i < 200; i++)
    {
      double off = gsl_cdf_beta_P (x, alpha, beta) - u, density, step, next;
      if (off > 0)
        high = x;
      else
        low = x;
      density = exp ((alpha - 1) * log (x) + (beta - 1) * log1p (-x) - norm);
      /* Halley's step: Newton's with the bend of the curve. */
      step = off / density;
      step /= 1 - CLAMP (0.5 * step * ((alpha - 1) / x - (beta - 1) / (1 - x)), -0.5, 0.5);
      next = x - step;
      /* Its error is of the third order: behind a step this small there is none. */
      if (fabs (step) <= 1e-6 * MIN (x, 1 - x))
        return CLAMP (next, low, high);
      if (!(next > low && next < high))
        next = (low + high) / 2;
      if (high - low <= 1e-16 * high)
        return next;
      x = next;
    }
  return x;
}

double
spread_quantile (const Spread *s, double p)
{
  double r = s->high - s->low, alpha, beta, guess;

  if (!(r > 0) || p <= 0)
    return s->low;
  if (p >= 1)
    return s->high;
  if (s->kind == SPREAD_TRIANGULAR)
    return s->low + r * triangular ((s->likely - s->low) / r, p);
  shape_of (s->kind, (s->likely - s->low) / r, &alpha, &beta);
  /* The smaller tail keeps its digits. */
  if (p > 0.5)
    {
      guess = exp ((log ((1 - p) * beta) + gsl_sf_lnbeta (alpha, beta)) / beta);
      return s->high - r * beta_inverse (1 - p, beta, alpha, CLAMP (guess, 1e-300, 0.5));
    }
  guess = exp ((log (p * alpha) + gsl_sf_lnbeta (alpha, beta)) / alpha);
  return s->low + r * beta_inverse (p, alpha, beta, CLAMP (guess, 1e-300, 0.5));
}

/* ---- tables ---- */

#define CELLS 32 /* in each halving; a power of two */
#define CELL_BITS 5
#define HALVINGS 32 /* 2^-33 to 2^-1 */
#define N (CELLS * HALVINGS)
#define LEAST (1.0 / 8589934592.0) /* 2^-33 */

typedef struct
{
  double c[4]; /* cubic in the place within the cell, 0 to 1 */
} Cell;

struct _SpreadTable
{
  gboolean plain;  /* triangular */
  double likely;   /* 0 to 1 */
  double first[2]; /* at 2^-33 from either end */
  Cell side[2][N]; /* [0] by u, [1] by 1 - u: distances from the near end */
};

gint64
spread_shape (const Spread *s)
{
  double r = s->high - s->low;

  if (!(r > 0))
    return -1;
  return (gint64) s->kind * 2000000 + (gint64) ((s->likely - s->low) / r * 1e6 + 0.5);
}

/* Node i of a side: 2^-33 times powers of two, with equal steps between them. Exact. */
static double
node (int i)
{
  return ldexp (1 + (double) (i % CELLS) / CELLS, i / CELLS - HALVINGS - 1);
}

/* One side marched from its end, each inverse guessed from the one before. */
static void
fill_side (Cell *cell, double *first, double alpha, double beta)
{
  double norm = gsl_sf_lnbeta (alpha, beta);
  double t = node (0), x = beta_inverse (t, alpha, beta, CLAMP (exp ((log (t * alpha) + norm) / alpha), 1e-300, 0.5));
  double slope = exp (norm - (alpha - 1) * log (x) - (beta - 1) * log1p (-x));

  *first = x;
  for (int i = 0; i < N; i++)
    {
      double t1 = node (i + 1), h = t1 - t;
      /* The inverse is nearly a power of the share. */
      double guess = x * pow (t1 / t, t * slope / x);
      double x1 = beta_inverse (t1, alpha, beta, CLAMP (guess, x, 1 - 1e-15));
      double slope1 = exp (norm - (alpha - 1) * log (x1) - (beta - 1) * log1p (-x1));
      double a = slope * h, b = slope1 * h, rise = x1 - x;
      cell[i] = (Cell){ { x, a, 3 * rise - 2 * a - b, a + b - 2 * rise } };
      t = t1;
      x = x1;
      slope = slope1;
    }
}

SpreadTable *
spread_table_new (const Spread *s)
{
  SpreadTable *table = g_new0 (SpreadTable, 1);
  double alpha, beta;

  table->plain = s->kind == SPREAD_TRIANGULAR;
  table->likely = (double) (spread_shape (s) % 2000000) / 1e6;
  if (table->plain)
    return table;
  shape_of (s->kind, table->likely, &alpha, &beta);
  fill_side (table->side[0], &table->first[0], alpha, beta);
  fill_side (table->side[1], &table->first[1], beta, alpha);
  return table;
}

void
spread_table_free (SpreadTable *table)
{
  g_free (table);
}

/* Distance from the near end at a share @t from it. Cells are found in the bits of @t: sign 0, exponent, first bits
 * behind it. */
static inline double
look_up (const SpreadTable *table, int side, double t)
{
  union
  {
    double x;
    guint64 bits;
  } u = { .x = t };
  const guint64 low = (G_GUINT64_CONSTANT (1023) - 33) << CELL_BITS,
                rest = (G_GUINT64_CONSTANT (1) << (52 - CELL_BITS)) - 1;
  gint64 i = (gint64) (u.bits >> (52 - CELL_BITS)) - (gint64) low;
  double f = (double) (u.bits & rest) / (double) (rest + 1);

  if (G_UNLIKELY (i < 0))
    return table->first[side] * (t / LEAST);
  if (G_UNLIKELY (i >= N))
    {
      i = N - 1;
      f = 1;
    }
  const double *c = table->side[side][i].c;
  return c[0] + f * (c[1] + f * (c[2] + f * c[3]));
}

void
spread_table_fill (const SpreadTable *table, const double *u, double *place, gsize n)
{
  if (table->plain)
    for (gsize i = 0; i < n; i++)
      place[i] = triangular (table->likely, u[i]);
  else
    for (gsize i = 0; i < n; i++)
      place[i] = u[i] <= 0.5 ? look_up (table, 0, u[i]) : 1 - look_up (table, 1, 1 - u[i]);
}

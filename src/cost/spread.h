/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/fault.h"

G_BEGIN_DECLS

/* What stands for a figure told as low, likely and high (labelled choice L3). With r = high - low:
 *
 * PERT: the beta on low to high with alpha = 1 + 4 (likely - low) / r and beta = 1 + 4 (high - likely) / r; mean
 * mu = (low + 4 likely + high) / 6, variance (mu - low) (high - mu) / 7.
 *
 * PERT classical: the same mean and the variance (r / 6)^2 of the published project-network method, which names no
 * shape; drawn is the beta on low to high that has this mean and this variance. Its mode is the likely value where
 * that lies in the middle or near 0.15 or 0.85 of the range, and not quite elsewhere.
 *
 * Triangular: mean (low + likely + high) / 3, variance
 * (low^2 + likely^2 + high^2 - low likely - low high - likely high) / 18. */
typedef enum
{
  SPREAD_PERT,
  SPREAD_PERT_CLASSICAL,
  SPREAD_TRIANGULAR,
  SPREAD_N_KINDS,
} SpreadKind;

/* As written in files, by the setting "spread" and on the command line. */
extern const char *const spread_keys[SPREAD_N_KINDS];
/* What a kind means in words for a reader, translated. */
const char *spread_say (SpreadKind kind);
/* FALSE with a fault that lists the words. */
gboolean spread_parse (const char *text, SpreadKind *kind, Fault **fault);

typedef struct
{
  SpreadKind kind;
  double low, likely, high; /* low = high: a constant; likely may stand at an end */
} Spread;

/* FALSE with a fault that names @name: low above likely, likely above high, a figure that is no number. The remedy
 * tells the nearest three figures that are in order. @name: (nullable). */
gboolean spread_check (const Spread *spread, const char *name, Fault **fault);

double spread_mean (const Spread *spread);
double spread_variance (const Spread *spread);
/* Share of the figures at @x and below. */
double spread_below (const Spread *spread, double x);
/* The figure below which a share @p lies, 0 <= @p <= 1, to double precision. */
double spread_quantile (const Spread *spread, double p);

/* The inverse of one shape as a table on 0 to 1, so that a draw is a look-up. Shapes are those of a kind with the
 * likely value at the nearest millionth of the range. Within each halving of u and of 1 - u down to 2^-33 there are
 * 32 equal cells, each with a cubic that has the values and slopes of the inverse at its ends: within 1e-7 of the
 * range everywhere. The values in it come from library functions that may differ in their last digits from machine
 * to machine, far below any digit that is printed. The triangular spread needs no table: its inverse is a square
 * root, which IEEE 754 rounds alike everywhere. */
typedef struct _SpreadTable SpreadTable;

/* The shape's number, by which equal shapes are known: kind and millionths of likely within the range; -1 for a
 * constant. */
gint64 spread_shape (const Spread *spread);
/* (transfer full). @spread must not be a constant. */
SpreadTable *spread_table_new (const Spread *spread);
void spread_table_free (SpreadTable *table);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpreadTable, spread_table_free)
/* The place in the range, 0 to 1, for each of @n shares 0 <= u <= 1. */
void spread_table_fill (const SpreadTable *table, const double *u, double *place, gsize n);

G_END_DECLS

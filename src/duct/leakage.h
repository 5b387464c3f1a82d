/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/measure.h"

G_BEGIN_DECLS

/* Allowed leakage F = CL x P^0.65, F in cfm a 100 ft2, P in inches w.g. (SMACNA leakage manual, as reprinted in a duct leakage
 * tester manual, 2015: published*). @in_wg: either sign. */
double duct_leakage_flow (double cl, double in_wg);
/* The same in l/s a m2 with pascals: f = k p^0.65, k = duct_leakage_k (). */
double duct_leakage_flow_si (double cl, double pa);
/* k of a leakage class: CL x 0.0014068 (computed: 1 cfm = 0.4719474 l/s, 100 ft2 = 9.290304 m2, 1 in w.g. = 249.089 Pa). */
double duct_leakage_k (double cl);
/* Allowed flow of an area (mm2), in cfm. */
double duct_leakage_allowed (double cl, double in_wg, gint64 mm2);

/* A class of EN 1507 and EN 12237; A leaks most (published), the limits are from memory. */
typedef struct
{
  const char *key;
  double k;           /* l/s a m2 at 1 Pa, exponent 0.65 */
  DuctStatus status;
} DuctEuroClass;

#define DUCT_N_EURO_CLASSES 4

/* (transfer none); in order from A. */
const DuctEuroClass *duct_euro_class (int i);
/* The leakage class that it stands for: k / 0.0014068. */
double duct_euro_cl (const DuctEuroClass *euro);

/* The row of the leakage table for a seal class ("none": not sealed) of an edition (NULL or "": the first of the table) at a
 * static pressure class (thousandths of an inch w.g., either sign) on rectangular or round duct: that of the lowest class of
 * the edition that is not below the pressure. A tighter seal than that row's does not by itself give a lower figure, so the row
 * of the pressure stands; a looser one is not answered. -1 with @fault. */
int duct_leakage_row (const DuctRules *rules, const char *edition, const char *seal, gint64 pressure, DuctSection section,
                      Fault **fault);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/fault.h"

G_BEGIN_DECLS

/* Exact by definition: the international pound (1959) and foot. */
#define MEASURE_MG_PER_LB 453592.37
#define MEASURE_MM2_PER_FT2 92903.04
#define MEASURE_UM_PER_FT 304800
#define MEASURE_MM2_PER_IN2 645.16
/* 1 inch of water, 4 C: 249.089 Pa (trade convention). */
#define MEASURE_MPA_PER_INWG 249089

double measure_ft2 (gint64 mm2);
double measure_lb (gint64 mg);
double measure_ft (gint64 um);

/* Pressure class: thousandths of an inch water gauge, sign kept. Accepts "2", "-1/2", "+4", "0.5", "1 1/2", with an
 * optional unit "in", "in w.g.", "in wg", "\""; and pascal: "500 Pa", "-0.25 kPa". A pascal figure that is the metric
 * name of a class (125, 250, 500, 750, 1000, 1500, 2500 Pa for 1/2, 1, 2, 3, 4, 6, 10 in w.g.) is that class; any other
 * is converted by 249.089 and rounded to thousandths. 0 and absurd figures (over 100 in w.g.) are refused. */
gboolean pressure_parse (const char *text, gint64 *milli_inwg, Fault **fault);
/* The same where a figure without a unit is meant in pascals (@pascal), as in a metric job: "500" is 500 Pa. A bare figure under
 * 25 is refused there, as inches meant by it would become a class of next to nothing. */
gboolean pressure_parse_bare (const char *text, gboolean pascal, gint64 *milli_inwg, Fault **fault);
/* "-1/2", "2", "1 1/2", "1.25". @pascal: "-125 Pa" with the metric class name where there is one. */
char *pressure_print (gint64 milli_inwg, gboolean pascal);
/* For words that are read in jobs of either kind: "2 in w.g. (500 Pa)". */
char *pressure_print_both (gint64 milli_inwg);

/* Angle in microdegrees: "90", "45 deg", "22.5°". Over 0 to 180. */
gboolean angle_parse (const char *text, gint64 *udeg, Fault **fault);
/* The figure alone, without a degree sign: "22.5". */
char *angle_print (gint64 udeg);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

#include <math.h>

#define MM(nm) ((double) (nm) / 1e6)

/* Points of a sum round a circle. The integrands are periodic and smooth but at the two points where a branch is as wide as its
 * main; there the error is that of the trapezoid rule, some millionths. */
#define AROUND 720

/* @n gores of two halves at the ends: 2 (n - 1) halves, each a cylinder cut aslant of a mean length Rc tan (th / (2 (n - 1))). */
static void
gored_elbow (double d, double theta, double throat, gint64 gores, DuctGeometry *g)
{
  double radius = throat + d / 2, halves = 2 * (double) (gores - 1);

  g->centreline_mm = halves * radius * tan (theta / halves);
  g->area_mm2 = G_PI * d * g->centreline_mm;
}

/* Torus sector: pi D th Rc (theorem of Pappus). */
static void
smooth_elbow (double d, double theta, double throat, DuctGeometry *g)
{
  g->centreline_mm = theta * (throat + d / 2);
  g->area_mm2 = G_PI * d * g->centreline_mm;
}

/* The straight lines between equal angles of the two circles. Centred: pi (r1 + r2) sqrt (L^2 + (r1 - r2)^2). With the second
 * centre aside by e: (r1 + r2) / 2 times the integral over the circle of sqrt (L^2 + (r2 - r1 + e cos t)^2). */
static void
reducer (double d1, double d2, double length, double aside, DuctGeometry *g)
{
  double r1 = d1 / 2, r2 = d2 / 2, sum = 0;
  int n = aside == 0 ? 1 : AROUND;

  for (int i = 0; i < n; i++)
    {
      double slope = r2 - r1 + (aside == 0 ? 0 : aside * cos (2 * G_PI * i / n));
      sum += sqrt (length * length + slope * slope);
    }
  g->area_mm2 = G_PI * (r1 + r2) * sum / n;
  g->centreline_mm = hypot (length, aside);
}

/* A branch of radius r on a main of radius R, their axes crossing at the angle a. The line of the branch at the angle t round it
 * is as long as the shortest one (@length) and (R - sqrt (R^2 - (r sin t)^2) + r cos a (1 - cos t)) / sin a more. The flange is
 * a band of the width f beside the hole; the main unrolls into a plane and the hole there is convex, so the band measures
 * p f + pi f^2 (Steiner), p being the outline of the hole. */
static void
saddle_tap (double d, double main, double theta, double length, double flange, DuctGeometry *g)
{
  double r = d / 2, R = main / 2, c = cos (theta), s = sin (theta), more = 0, outline = 0, x0 = 0, y0 = 0;

  for (int i = 0; i <= AROUND; i++)
    {
      double t = 2 * G_PI * i / AROUND, across = MIN (r * fabs (sin (t)), R), deep = sqrt (R * R - across * across);
      double along = (deep + r * cos (t) * c) / s, x = along * c + r * cos (t) * s, y = R * asin (r * sin (t) / R);
      if (i > 0)
        {
          more += (R - deep + r * c * (1 - cos (t))) / s;
          outline += hypot (x - x0, y - y0);
        }
      x0 = x;
      y0 = y;
    }
  more /= AROUND;
  g->area_mm2 = G_PI * d * (length + more) + outline * flange + G_PI * flange * flange;
  g->centreline_mm = length + r * c / s;
}

void
duct_geometry_round (const DuctRules *rules, const DuctShape *s, DuctGeometry *g)
{
  double d = MM (s->w), length = MM (s->dim[DUCT_DIM_LENGTH]), throat = MM (s->dim[DUCT_DIM_THROAT]);
  double theta = (double) s->dim[DUCT_DIM_ANGLE] * (G_PI / 180e6);

  if (s->kind == DUCT_GORED_ELBOW)
    gored_elbow (d, theta, throat, s->dim[DUCT_DIM_GORES] / 1000, g);
  else if (s->kind == DUCT_STAMPED_ELBOW)
    smooth_elbow (d, theta, throat, g);
  else if (s->kind == DUCT_REDUCER)
    reducer (d, MM (s->dim[DUCT_DIM_W2]), length, MM (s->dim[DUCT_DIM_SHIFT]), g);
  else if (s->kind == DUCT_SADDLE_TAP)
    saddle_tap (d, MM (s->dim[DUCT_DIM_W2]), theta, length, MM (rules->allow[DUCT_ALLOW_SADDLE_FLANGE].value), g);
  else if (s->kind == DUCT_ROUND_CAP)
    {
      double whole = d + 2 * MM (rules->allow[DUCT_ALLOW_CAP_EDGE].value);
      g->area_mm2 = G_PI / 4 * whole * whole;
    }
  else
    {
      /* Duct, and spin-ins: the bead that holds them is not counted. */
      g->centreline_mm = length;
      g->area_mm2 = G_PI * d * length;
    }
}

gint64
duct_equivalent_diameter (gint64 w, gint64 h)
{
  double a = (double) w, b = (double) h;

  return duct_round (1.30 * pow (a * b, 0.625) / pow (a + b, 0.25));
}

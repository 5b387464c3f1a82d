/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Shapes of round duct in inches and degrees. */

#include "fixture.h"

static Catalogue *starter;

#define FT2 92903.04 /* mm2 */

static inline gint64
nm (double in)
{
  return (gint64) floor (in * IN + 0.5);
}

static inline DuctShape
round_shape (DuctKind kind, double d, double class_in)
{
  return fixture_shape (kind, d, 0, class_in);
}

static inline DuctShape
duct (double d, double class_in, double length_in)
{
  DuctShape s = round_shape (DUCT_ROUND_DUCT, d, class_in);

  s.dim[DUCT_DIM_LENGTH] = nm (length_in);
  return s;
}

static inline DuctShape
elbow (DuctKind kind, double d, double angle, double throat, int gores)
{
  DuctShape s = round_shape (kind, d, 2);

  s.dim[DUCT_DIM_ANGLE] = (gint64) (angle * 1e6);
  s.dim[DUCT_DIM_THROAT] = nm (throat);
  if (gores > 0)
    s.dim[DUCT_DIM_GORES] = gores * 1000;
  return s;
}

static inline DuctShape
reducer (double d1, double d2, double length, double aside)
{
  DuctShape s = round_shape (DUCT_REDUCER, d1, 2);

  s.dim[DUCT_DIM_W2] = nm (d2);
  s.dim[DUCT_DIM_H2] = 0;
  s.dim[DUCT_DIM_LENGTH] = nm (length);
  s.dim[DUCT_DIM_SHIFT] = nm (aside);
  return s;
}

static inline DuctShape
saddle (double d, double main, double angle, double length)
{
  DuctShape s = round_shape (DUCT_SADDLE_TAP, d, 2);

  s.dim[DUCT_DIM_W2] = nm (main);
  s.dim[DUCT_DIM_ANGLE] = (gint64) (angle * 1e6);
  s.dim[DUCT_DIM_LENGTH] = nm (length);
  return s;
}

static inline double
area (DuctShape s)
{
  DuctGeometry g;

  fixture_resolve (starter->rules, &s);
  duct_geometry (starter->rules, &s, &g);
  return g.area_mm2 / FT2;
}

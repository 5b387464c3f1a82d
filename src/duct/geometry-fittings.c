/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"

#include <math.h>

#define MM(nm) ((double) (nm) / 1e6)

/* Throughout: A is the side in the plane of the bend, offset or branch (of the first size W, on edge H), B the
 * other. */

/* End planes parallel, two walls sheared, two slanted: 2 A L + 2 B sqrt (L2 + d2). */
static void
angled_offset (double a, double b, double length, double aside, DuctGeometry *g)
{
  g->centreline_mm = hypot (length, aside);
  g->area_mm2 = 2 * a * length + 2 * b * g->centreline_mm;
}

/* One corner of a square to round: a cone with its tip in the corner of the rectangle over the quarter of the circle
 * that lies beyond. @x, @y: from the tip to the centre of the circle; @from: where the quarter begins. With P on the
 * circle the area is half the integral of |(P - tip) x P'|, which is r / 2 times that of sqrt (L2 + (r + x cos t + y
 * sin t)2); it has no closed form for a circle out of the middle, so it is summed by Simpson's rule. The limit of
 * ever finer fans of triangles. */
static double
corner_cone (double x, double y, double radius, double length, double from)
{
  const int n = 48;
  double sum = 0, step = G_PI_2 / n;

  for (int i = 0; i <= n; i++)
    {
      double t = from + step * i, reach = radius + x * cos (t) + y * sin (t);
      sum += (i == 0 || i == n ? 1 : i % 2 ? 4 : 2) * sqrt (length * length + reach * reach);
    }
  return radius / 2 * sum * step / 3;
}

/* Four flat triangles, each on one side of the rectangle with its tip in the quarter point of the circle that faces it,
 * and four corner cones between them. @x, @y: the centre of the circle from that of the rectangle. */
static void
square_to_round (double a, double b, double diameter, double length, double x, double y, DuctGeometry *g)
{
  double r = diameter / 2, area = 0;

  for (int side = -1; side <= 1; side += 2)
    {
      double over = side * y + r - b / 2, beside = side * x + r - a / 2;
      area += a / 2 * hypot (length, over) + b / 2 * hypot (length, beside);
    }
  area += corner_cone (x - a / 2, y - b / 2, r, length, 0);
  area += corner_cone (x + a / 2, y - b / 2, r, length, G_PI_2);
  area += corner_cone (x + a / 2, y + b / 2, r, length, G_PI);
  area += corner_cone (x - a / 2, y + b / 2, r, length, 3 * G_PI_2);
  g->area_mm2 = area;
  g->centreline_mm = length;
}

/* Convention: the main is a straight of length L whose wall of height B has the opening a2 x b2 cut out; the branch
 * stands on that wall, square to it, with its side a2 along the main. 2 (A + B) L - a2 b2 + 2 (a2 + b2) branch. Both
 * have a seam, so the centreline is that of the main and that of the branch. */
static void
tee (double a, double b, double a2, double b2, double length, double branch, DuctGeometry *g)
{
  g->area_mm2 = 2 * (a + b) * length - a2 * b2 + 2 * (a2 + b2) * branch;
  g->centreline_mm = length + branch;
}

typedef struct
{
  double x, y, z;
} Point;

static double
triangle (Point p, Point q, Point r)
{
  double ux = q.x - p.x, uy = q.y - p.y, uz = q.z - p.z, vx = r.x - p.x, vy = r.y - p.y, vz = r.z - p.z;
  double x = uy * vz - uz * vy, y = uz * vx - ux * vz, z = ux * vy - uy * vx;

  return sqrt (x * x + y * y + z * z) / 2;
}

/* Convention, in the plane of A, y along the trunk: both branches leave the middle of the trunk's end at th to its axis
 * and end square to their own, L along it; the ends are a2 x b2. Their inner walls meet on the axis in the crotch, a2 /
 * (2 sin th) from the trunk, and are L - a2 / (2 tan th) long; the outer walls run straight from the trunk's edges to
 * the outer edges of the ends. Each cheek is flat from the trunk's end to the crotch, at the trunk's height, then two
 * triangles a branch, bent along the line from the crotch to the outer corner, down or up to the branch's height. */
static void
wye (double a, double b, double a2, double b2, double theta, double length, DuctGeometry *g)
{
  double s = sin (theta), c = cos (theta), crotch = a2 / 2 / s;
  const Point trunk = { a / 2, 0, b / 2 }, fork = { 0, crotch, b / 2 };
  const Point outer = { length * s + a2 / 2 * c, length * c - a2 / 2 * s, b2 / 2 };
  const Point inner = { length * s - a2 / 2 * c, length * c + a2 / 2 * s, b2 / 2 };
  double heel = (b + b2) / 2 * hypot (outer.x - trunk.x, outer.y - trunk.y);
  double throat = (b + b2) / 2 * hypot (inner.x - fork.x, inner.y - fork.y);
  double cheek = a * crotch / 2 + 2 * (triangle (trunk, outer, fork) + triangle (outer, inner, fork));

  g->area_mm2 = 2 * (cheek + heel + throat);
  g->centreline_mm = 2 * length;
}

/* Convention: a collar A x B of length L whose one wall of height B leaves it at 45 degrees, o from the main, so that
 * the base is longer by o; the flange lies on the main all round the base, its corner squares not counted as at a tap.
 * Cheeks 2 (A L + o2 / 2), straight wall B L, sloped wall B (L - o) + B o sqrt 2, flange 2 (A + o + B) f. */
static void
boot_tap (double a, double b, double length, double longer, double flange, DuctGeometry *g)
{
  g->centreline_mm = length + flange;
  g->area_mm2 = 2 * a * length + longer * longer + b * length + b * (length - longer + longer * G_SQRT2)
                + 2 * (a + longer + b) * flange;
}

void
duct_geometry_fitting (const DuctRules *rules, const DuctShape *s, DuctGeometry *g)
{
  double w = MM (s->w), h = MM (s->h), a = s->on_edge ? h : w, b = s->on_edge ? w : h,
         length = MM (s->dim[DUCT_DIM_LENGTH]);
  double w2 = MM (s->dim[DUCT_DIM_W2]), h2 = MM (s->dim[DUCT_DIM_H2]), a2 = s->on_edge ? h2 : w2,
         b2 = s->on_edge ? w2 : h2;
  double theta = (double) s->dim[DUCT_DIM_ANGLE] * (G_PI / 180e6);

  switch ((int) s->kind)
    {
    case DUCT_ANGLED_OFFSET:
      angled_offset (a, b, length, MM (s->dim[DUCT_DIM_OFFSET]), g);
      break;
    case DUCT_SQUARE_TO_ROUND:
      square_to_round (a, b, w2, length, MM (s->dim[DUCT_DIM_SHIFT]), MM (s->dim[DUCT_DIM_SHIFT2]), g);
      break;
    case DUCT_TEE:
      tee (a, b, a2, b2, length, MM (s->dim[DUCT_DIM_BRANCH]), g);
      break;
    case DUCT_WYE:
      wye (a, b, a2, b2, theta, length, g);
      break;
    case DUCT_BOOT_TAP:
      boot_tap (a, b, length, MM (s->dim[DUCT_DIM_OFFSET]), MM (rules->allow[DUCT_ALLOW_TAP_FLANGE].value), g);
      break;
    case DUCT_PLENUM_BOX:
      /* Six walls; its openings are the piercings of the taps that stand on it. */
      g->centreline_mm = length;
      g->area_mm2 = 2 * (w * h + h * length + length * w);
      break;
    case DUCT_TURNING_VANES:
      /* As in a mitred elbow of this size; no sheet. */
      g->rail_mm = a / cos (theta / 2);
      g->vane_mm = b;
      break;
    default:
      break;
    }
}

/* Both legs of a bend of centreline radius @radius. */
static double
bend_legs (double radius, double theta)
{
  return theta <= G_PI_2 ? 2 * radius * tan (theta / 2) : 4 * radius * tan (theta / 4);
}

gint64
duct_through_length (const DuctRules *rules, const DuctShape *s)
{
  double theta = (double) s->dim[DUCT_DIM_ANGLE] * (G_PI / 180e6), across = MM (s->on_edge && s->h != 0 ? s->h : s->w);
  DuctGeometry g;

  switch ((int) s->kind)
    {
    case DUCT_RADIUS_ELBOW:
    case DUCT_GORED_ELBOW:
    case DUCT_STAMPED_ELBOW:
      return duct_round (bend_legs (MM (s->dim[DUCT_DIM_THROAT]) + across / 2, theta) * 1e6);
    case DUCT_MITRED_ELBOW:
      duct_geometry (rules, s, &g);
      return duct_round (g.centreline_mm * 1e6);
    case DUCT_TRANSITION:
    case DUCT_OFFSET:
    case DUCT_ANGLED_OFFSET:
    case DUCT_SQUARE_TO_ROUND:
    case DUCT_TEE:
    case DUCT_WYE:
    case DUCT_REDUCER:
    case DUCT_DAMPER:
    case DUCT_FABRIC_CONNECTOR:
      return MAX (s->dim[DUCT_DIM_LENGTH], 0);
    default:
      return 0;
    }
}

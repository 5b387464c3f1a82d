/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fittings beyond elbow, ogee offset and tap: true areas, bounds, ends. The figures are geometry, computed: inside
 * dimensions, zero thickness, no seams, ends open. Beside them stands an independent reckoning: every wall as a
 * mesh of triangles, laid between edges that the tests build themselves. Default lengths and the gauge ladder are
 * invented demo. */
#include "fixture.h"

static Catalogue *starter;

typedef struct
{
  double x, y, z;
} Point;

static double
triangle (Point a, Point b, Point c)
{
  Point u = { b.x - a.x, b.y - a.y, b.z - a.z }, v = { c.x - a.x, c.y - a.y, c.z - a.z };

  return 0.5 * sqrt (pow (u.y * v.z - u.z * v.y, 2) + pow (u.z * v.x - u.x * v.z, 2) + pow (u.x * v.y - u.y * v.x, 2));
}

static Point
between (Point a, Point b, double t)
{
  return (Point){ a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t, a.z + (b.z - a.z) * t };
}

/* A wall between the edges a-b and d-c, as n x n cells of two triangles; flat walls come out exactly. */
static double
mesh_wall (Point a, Point b, Point c, Point d, int n)
{
  double sum = 0;

  for (int i = 0; i < n; i++)
    for (int j = 0; j < n; j++)
      {
        double t = (double) i / n, u = (double) (i + 1) / n, s = (double) j / n, r = (double) (j + 1) / n;
        Point p = between (between (a, b, t), between (d, c, t), s),
              q = between (between (a, b, u), between (d, c, u), s);
        Point v = between (between (a, b, u), between (d, c, u), r),
              w = between (between (a, b, t), between (d, c, t), r);
        sum += triangle (p, q, v) + triangle (p, v, w);
      }
  return sum;
}

static void
corners (Point p[4], double y, double x, double z, double a, double b)
{
  p[0] = (Point){ x - a / 2, y, z - b / 2 };
  p[1] = (Point){ x + a / 2, y, z - b / 2 };
  p[2] = (Point){ x + a / 2, y, z + b / 2 };
  p[3] = (Point){ x - a / 2, y, z + b / 2 };
}

static double
mesh_sleeve (const Point p[4], const Point q[4], int n)
{
  double sum = 0;

  for (int k = 0; k < 4; k++)
    sum += mesh_wall (p[k], p[(k + 1) % 4], q[(k + 1) % 4], q[k], n);
  return sum;
}

static double
mesh_transition (double w1, double h1, double w2, double h2, double length, double x, double z)
{
  Point p[4], q[4];

  corners (p, 0, 0, 0, w1, h1);
  corners (q, length, x, z, w2, h2);
  return mesh_sleeve (p, q, 3);
}

/* Fans of @n triangles a quarter from each corner of the rectangle, and the flat triangles between them. */
static double
fan (double a, double b, double diameter, double length, double x, double z, int n, double *flat)
{
  static const int sx[4] = { 1, -1, -1, 1 }, sz[4] = { 1, 1, -1, -1 };
  double r = diameter / 2, cones = 0;

  *flat = 0;
  for (int k = 0; k < 4; k++)
    {
      Point tip = { sx[k] * a / 2, 0, sz[k] * b / 2 }, next = { sx[(k + 1) % 4] * a / 2, 0, sz[(k + 1) % 4] * b / 2 };
      Point quarter = { x + r * cos (G_PI_2 * (k + 1)), length, z + r * sin (G_PI_2 * (k + 1)) };
      for (int i = 0; i < n; i++)
        {
          double t = G_PI_2 * (k + (double) i / n), u = G_PI_2 * (k + (double) (i + 1) / n);
          cones += triangle (tip, (Point){ x + r * cos (t), length, z + r * sin (t) },
                             (Point){ x + r * cos (u), length, z + r * sin (u) });
        }
      *flat += triangle (tip, next, quarter);
    }
  return cones;
}

/* Four walls of the main, the one at x = a / 2 in the nine fields around and without the opening, and the branch
 * on it. */
static double
mesh_tee (double a, double b, double a2, double b2, double length, double branch)
{
  double y[4] = { 0, (length - a2) / 2, (length + a2) / 2, length }, z[4] = { -b / 2, -b2 / 2, b2 / 2, b / 2 }, sum = 0;
  Point p[4], q[4], m[4], e[4];

  corners (p, 0, 0, 0, a, b);
  corners (q, length, 0, 0, a, b);
  for (int k = 0; k < 4; k++)
    if (k != 1)
      sum += mesh_wall (p[k], p[(k + 1) % 4], q[(k + 1) % 4], q[k], 2);
  for (int i = 0; i < 3; i++)
    for (int j = 0; j < 3; j++)
      if (i != 1 || j != 1)
        sum += mesh_wall ((Point){ a / 2, y[i], z[j] }, (Point){ a / 2, y[i + 1], z[j] },
                          (Point){ a / 2, y[i + 1], z[j + 1] }, (Point){ a / 2, y[i], z[j + 1] }, 1);
  for (int k = 0; k < 4; k++)
    {
      m[k] = (Point){ a / 2, y[1 + (k == 1 || k == 2)], z[1 + (k >= 2)] };
      e[k] = m[k];
      e[k].x += branch;
    }
  return sum + mesh_sleeve (m, e, 2);
}

/* One branch to the right, the other is its mirror image. The crotch is found by halving along the branch's inner
 * wall. */
static double
mesh_wye (double a, double b, double a2, double b2, double theta, double length)
{
  Point along = { sin (theta), cos (theta), 0 }, across = { cos (theta), -sin (theta), 0 }, middle = { 0, 0, 0 };
  Point end = { length * along.x, length * along.y, 0 }, out, in, crotch, trunk = { a / 2, 0, b / 2 };
  double low = -10 * length, high = length, sum;

  out = (Point){ end.x + across.x * a2 / 2, end.y + across.y * a2 / 2, b2 / 2 };
  in = (Point){ end.x - across.x * a2 / 2, end.y - across.y * a2 / 2, b2 / 2 };
  for (int i = 0; i < 200; i++)
    {
      double t = (low + high) / 2, x = in.x - (length - t) * along.x;
      *(x > 0 ? &high : &low) = t;
    }
  crotch = (Point){ 0, in.y - (length - high) * along.y, b / 2 };
  middle.z = b / 2;
  /* cheek: flat to the crotch, then bent from the crotch to the outer corner */
  sum = mesh_wall (middle, trunk, crotch, middle, 40) + mesh_wall (trunk, out, crotch, trunk, 40)
        + mesh_wall (out, in, crotch, out, 40);
#define DOWN(p) ((Point){ (p).x, (p).y, -(p).z })
  sum = 2 * sum + mesh_wall (DOWN (trunk), DOWN (out), out, trunk, 3)
        + mesh_wall (DOWN (crotch), DOWN (in), in, crotch, 3);
#undef DOWN
  return 2 * sum;
}

/* Cheeks as polygons by the surveyor's formula, walls as rectangles, the flange as the frame around the base without
 * corners. */
static double
mesh_boot (double a, double b, double length, double longer, double flange)
{
  double x[5] = { 0, a + longer, a, a, 0 }, y[5] = { 0, 0, longer, length, length }, cheek = 0, walls = 0,
         base = a + longer;

  for (int i = 0; i < 5; i++)
    {
      int j = (i + 1) % 5;
      cheek += (x[i] * y[j] - x[j] * y[i]) / 2;
      if (i == 1 || i == 2 || i == 4) /* neither the base nor the end */
        walls += b * hypot (x[j] - x[i], y[j] - y[i]);
    }
  return 2 * cheek + walls + (base + 2 * flange) * (b + 2 * flange) - base * b - 4 * flange * flange;
}

/* ---- shapes ---- */

static double
area_in2 (DuctShape *s, double *centreline_in)
{
  DuctGeometry g;

  fixture_resolve (starter->rules, s);
  duct_geometry (starter->rules, s, &g);
  if (centreline_in)
    *centreline_in = g.centreline_mm / 25.4;
  return g.area_mm2 / 645.16;
}

static gint64
nm (double in)
{
  return (gint64) floor (in * IN + 0.5);
}

static DuctShape
shape (DuctKind kind, double w, double h, double w2, double h2, double length)
{
  DuctShape s = fixture_shape (kind, w, h, 2);

  if (w2 > 0)
    s.dim[DUCT_DIM_W2] = nm (w2);
  if (h2 > 0)
    s.dim[DUCT_DIM_H2] = nm (h2);
  if (length > 0)
    s.dim[DUCT_DIM_LENGTH] = nm (length);
  return s;
}

/* ---- figures of the trade's conventions, computed there ---- */

static void
test_angled_offset (void)
{
  DuctShape s = shape (DUCT_ANGLED_OFFSET, 24, 12, 0, 0, 36);
  double line;

  s.dim[DUCT_DIM_OFFSET] = 12 * IN;
  assert_near (area_in2 (&s, &line) / 144, 18.325, 0.0005);
  assert_near (line, 37.947, 0.0005); /* sqrt (36^2 + 12^2) */
  s.on_edge = TRUE;
  assert_near (area_in2 (&s, NULL) / 144, 18.649, 0.0005);
}

/* Concentric, two sides flat, one side flat; a side is flat when the centre moves by half the difference. */
static void
test_transition (void)
{
  DuctShape s = shape (DUCT_TRANSITION, 24, 12, 16, 10, 24), one = shape (DUCT_TRANSITION, 24, 12, 16, 12, 24);

  assert_near (area_in2 (&s, NULL) / 144, 10.390, 0.0005);
  g_assert_cmpint (s.dim[DUCT_DIM_SHIFT2], ==, 0);
  for (int side = 0; side < 4; side++)
    {
      s.dim[DUCT_DIM_SHIFT] = nm (side % 2 ? -4 : 4);
      s.dim[DUCT_DIM_SHIFT2] = nm (side / 2 ? -1 : 1);
      assert_near (area_in2 (&s, NULL) / 144, 10.444, 0.0005);
    }
  one.dim[DUCT_DIM_SHIFT] = nm (4);
  assert_near (area_in2 (&one, NULL) / 144, 10.775, 0.0005);
}

/* 24x12 to 14 dia, 12 long, and the totals of fans of N triangles a quarter, which the area is the limit of. */
static void
test_square_to_round (void)
{
  static const struct
  {
    int n;
    double ft2;
  } fans[] = { { 3, 5.0622 }, { 4, 5.0655 }, { 6, 5.0680 }, { 8, 5.0689 }, { 12, 5.0696 }, { 24, 5.0700 } };
  DuctShape s = shape (DUCT_SQUARE_TO_ROUND, 24, 12, 14, 0, 12);
  double flat, cones, line, area = area_in2 (&s, &line);

  for (gsize i = 0; i < G_N_ELEMENTS (fans); i++)
    {
      cones = fan (24, 12, 14, 12, 0, 0, fans[i].n, &flat);
      assert_near ((cones + flat) / 144, fans[i].ft2, 0.00005);
      g_assert_cmpfloat (cones + flat, <, area);
    }
  assert_near (flat / 144, 3.0903, 0.00005);
  assert_near ((area - flat) / 144, 1.9799, 0.00005);
  assert_near (area / 144, 5.0702, 0.00005);
  assert_near (line, 12, 1e-9);
}

static void
test_plenum_box (void)
{
  DuctShape s = shape (DUCT_PLENUM_BOX, 24, 12, 0, 0, 18);

  assert_near (area_in2 (&s, NULL) / 144, 13.000, 1e-9);
}

/* By hand. Tee: 2 (24 + 12) 30 less 12 x 8, and 2 (12 + 8) 6 = 2304. Boot tap 12x8, 6 long, base 4 longer, flange
 * 1: 2 (72 + 8) + 48 + 8 (2 + 4 sqrt 2) + 2 (16 + 8). Wye 24x12 into two of 12x12 at 45 degrees, 24 long: crotch
 * at 6 sqrt 2. */
static void
test_by_hand (void)
{
  DuctShape t = shape (DUCT_TEE, 24, 12, 12, 8, 30), boot = shape (DUCT_BOOT_TAP, 12, 8, 0, 0, 6);
  DuctShape y = shape (DUCT_WYE, 24, 12, 12, 12, 24);
  double line, root = sqrt (0.5), ox = 30 * root, oy = 18 * root, plan;

  t.dim[DUCT_DIM_BRANCH] = 6 * IN;
  assert_near (area_in2 (&t, &line), 2304, 1e-6);
  assert_near (line, 36, 1e-9);
  boot.dim[DUCT_DIM_OFFSET] = 4 * IN;
  assert_near (area_in2 (&boot, &line), 160 + 48 + 8 * (2 + 4 * sqrt (2)) + 48, 1e-6);
  assert_near (line, 7, 1e-9);
  y.dim[DUCT_DIM_ANGLE] = UDEG_45;
  /* Plan of one half by the surveyor's formula: axis, trunk's edge, outer corner, inner corner, crotch. */
  plan = (12 * oy - ox * 0 + ox * 30 * root - 18 * root * oy + 18 * root * 12 * root - 0 * 30 * root) / 2;
  assert_near (area_in2 (&y, &line), 4 * plan + 2 * 12 * hypot (ox - 12, oy) + 2 * 12 * (24 - 6), 1e-5);
  assert_near (line, 48, 1e-9);
}

/* ---- against meshes ---- */

static double
draw (GRand *rand, double from, double to)
{
  return g_rand_double_range (rand, from, to);
}

static void
assert_part (double x, double wanted, double part)
{
  assert_near (x / wanted, 1, part);
}

static void
test_random_sleeves (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (31);

  for (int i = 0; i < 60; i++)
    {
      double w = draw (rand, 4, 60), h = draw (rand, 4, 60), w2 = draw (rand, 4, 60), h2 = draw (rand, 4, 60);
      double length = draw (rand, 6, 80), x = draw (rand, -30, 30), z = draw (rand, -30, 30), a, b, flat;
      DuctShape t = shape (DUCT_TRANSITION, w, h, w2, h2, length),
                q = shape (DUCT_SQUARE_TO_ROUND, w, h, w2, 0, length);
      DuctShape o = shape (DUCT_ANGLED_OFFSET, w, h, 0, 0, length);

      t.on_edge = q.on_edge = o.on_edge = g_rand_boolean (rand) ? 1 : 0;
      a = t.on_edge ? h : w;
      b = t.on_edge ? w : h;
      t.dim[DUCT_DIM_SHIFT] = q.dim[DUCT_DIM_SHIFT] = nm (x);
      t.dim[DUCT_DIM_SHIFT2] = q.dim[DUCT_DIM_SHIFT2] = nm (z);
      o.dim[DUCT_DIM_OFFSET] = nm (fabs (x) + 1);
      assert_part (area_in2 (&t, NULL), mesh_transition (a, b, t.on_edge ? h2 : w2, t.on_edge ? w2 : h2, length, x, z),
                   1e-6);
      assert_part (area_in2 (&o, NULL), mesh_transition (a, b, a, b, length, fabs (x) + 1, 0), 1e-6);
      double cones = fan (a, b, w2, length, x, z, 2000, &flat);
      assert_part (area_in2 (&q, NULL), cones + flat, 1e-6);
    }
}

static void
test_random_branches (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (32);
  int wyes = 0;

  for (int i = 0; i < 300; i++)
    {
      double w = draw (rand, 8, 60), h = draw (rand, 8, 60), length = draw (rand, 12, 90), edge = g_rand_boolean (rand);
      double a = edge > 0 ? h : w, b = edge > 0 ? w : h, a2 = draw (rand, 4, length), b2 = draw (rand, 4, b),
             branch = draw (rand, 1, 30);
      double degrees = draw (rand, 20, 75), wide = draw (rand, 4, 40), deep = draw (rand, 4, 40),
             longer = draw (rand, 0.5, 12);
      DuctShape t = shape (DUCT_TEE, w, h, edge > 0 ? b2 : a2, edge > 0 ? a2 : b2, length),
                boot = shape (DUCT_BOOT_TAP, w, h, 0, 0, length);
      DuctShape y = shape (DUCT_WYE, w, h, edge > 0 ? deep : wide, edge > 0 ? wide : deep, length);

      t.on_edge = y.on_edge = boot.on_edge = edge > 0;
      t.dim[DUCT_DIM_BRANCH] = nm (branch);
      assert_part (area_in2 (&t, NULL), mesh_tee (a, b, a2, b2, length, branch), 1e-6);
      boot.dim[DUCT_DIM_OFFSET] = nm (longer);
      assert_part (area_in2 (&boot, NULL), mesh_boot (a, b, length, longer, 1), 1e-6);
      y.dim[DUCT_DIM_ANGLE] = (gint64) (degrees * 1e6);
      if (!duct_shape_resolve (starter->rules, &y, NULL))
        continue;
      wyes++;
      assert_part (area_in2 (&y, NULL), mesh_wye (a, b, wide, deep, degrees * G_PI / 180, length), 1e-6);
    }
  g_assert_cmpint (wyes, >, 60);
}

/* A tee whose branch fills its wall, cut off at the wall, is the main without that wall; a boot tap almost without a
 * base is a tap; a square that a circle of its side follows lies between the cylinder and the prism. */
static void
test_limits (void)
{
  DuctShape t = shape (DUCT_TEE, 24, 12, 30, 12, 30), boot = shape (DUCT_BOOT_TAP, 12, 8, 0, 0, 6),
            tap = shape (DUCT_TAP, 12, 8, 0, 0, 6);
  DuctShape q = shape (DUCT_SQUARE_TO_ROUND, 20, 20, 20, 0, 24);
  double bound = area_in2 (&q, NULL);

  t.dim[DUCT_DIM_BRANCH] = LENGTH_NM_PER_MM;
  assert_near (area_in2 (&t, NULL), 2 * 36 * 30 - 30 * 12 + 2 * 42 / 25.4, 1e-4);
  boot.dim[DUCT_DIM_OFFSET] = LENGTH_NM_PER_MM;
  assert_near (area_in2 (&boot, NULL) / area_in2 (&tap, NULL), 1, 0.01);
  g_assert_cmpfloat (bound, >, G_PI * 20 * 24);
  g_assert_cmpfloat (bound, <, 80 * 24);
}

/* ---- bounds ---- */

static void
assert_refused (DuctShape s, DuctDim dim)
{
  DuctProblem problem = { DUCT_DIM_NONE, NULL };

  g_assert_false (duct_shape_resolve (starter->rules, &s, &problem));
  g_assert_cmpint (problem.dim, ==, dim);
  g_assert_cmpstr (problem.fault->what, !=, "");
  g_assert_cmpstr (problem.fault->remedy, !=, "");
  duct_problem_clear (&problem);
}

static DuctShape
with (DuctShape s, DuctDim dim, gint64 v)
{
  s.dim[dim] = v;
  return s;
}

static void
test_refused (void)
{
  const DuctShape t = shape (DUCT_TEE, 24, 12, 12, 8, 30), y = shape (DUCT_WYE, 24, 12, 12, 12, 24);
  const DuctShape q = shape (DUCT_SQUARE_TO_ROUND, 24, 12, 14, 0, 12), boot = shape (DUCT_BOOT_TAP, 12, 8, 0, 0, 6);
  DuctShape s;

  assert_refused (shape (DUCT_TEE, 24, 12, 0, 0, 30), DUCT_DIM_W2);
  assert_refused (shape (DUCT_TEE, 24, 12, 12, 13, 30), DUCT_DIM_W2); /* higher than the wall */
  assert_refused (with (t, DUCT_DIM_LENGTH, 11 * IN), DUCT_DIM_LENGTH);
  assert_refused (with (t, DUCT_DIM_BRANCH, 0), DUCT_DIM_BRANCH);
  assert_refused (with (t, DUCT_DIM_H2, 0), DUCT_DIM_W2);              /* a round branch */
  assert_refused (with (y, DUCT_DIM_LENGTH, 5 * IN), DUCT_DIM_LENGTH); /* branches do not part */
  assert_refused (with (y, DUCT_DIM_ANGLE, 90 * G_GINT64_CONSTANT (1000000)), DUCT_DIM_LENGTH);
  assert_refused (with (y, DUCT_DIM_ANGLE, 91 * G_GINT64_CONSTANT (1000000)), DUCT_DIM_ANGLE);
  s = with (shape (DUCT_WYE, 90, 12, 12, 12, 7), DUCT_DIM_ANGLE, UDEG_45);
  assert_refused (s, DUCT_DIM_LENGTH); /* trunk too wide */
  assert_refused (shape (DUCT_SQUARE_TO_ROUND, 24, 12, 0, 0, 12), DUCT_DIM_W2);
  assert_refused (with (q, DUCT_DIM_H2, 10 * IN), DUCT_DIM_W2);
  assert_refused (with (q, DUCT_DIM_SHIFT2, 300 * IN), DUCT_DIM_SHIFT2);
  assert_refused (with (boot, DUCT_DIM_OFFSET, 7 * IN), DUCT_DIM_OFFSET);
  assert_refused (with (boot, DUCT_DIM_OFFSET, 0), DUCT_DIM_OFFSET);
  assert_refused (shape (DUCT_PLENUM_BOX, 24, 12, 0, 0, 0), DUCT_DIM_LENGTH);
  assert_refused (shape (DUCT_ANGLED_OFFSET, 24, 12, 0, 0, 300), DUCT_DIM_LENGTH);
  assert_refused (with (shape (DUCT_TURNING_VANES, 24, 12, 0, 0, 0), DUCT_DIM_ANGLE, 91 * G_GINT64_CONSTANT (1000000)),
                  DUCT_DIM_ANGLE);
  s = shape (DUCT_PLENUM_BOX, 24, 12, 0, 0, 18);
  s.first_end = DUCT_END_OPEN;
  assert_refused (s, DUCT_DIM_ENDS);
  s = y;
  s.last_end = DUCT_END_OPEN;
  assert_refused (s, DUCT_DIM_LAST_END);
  s = shape (DUCT_TEE, 24, 12, 12, 8, 30);
  s.h = 0;
  assert_refused (s, DUCT_DIM_SIZE);
}

/* Lengths that nobody entered (invented demo); a tee's main goes on by a collar on either side of its branch. */
static void
test_defaults (void)
{
  static const struct
  {
    DuctKind kind;
    double w2, h2;
    DuctDim dim;
    double in;
  } rows[] = {
    { DUCT_ANGLED_OFFSET, 0, 0, DUCT_DIM_LENGTH, 48 },
    { DUCT_ANGLED_OFFSET, 0, 0, DUCT_DIM_OFFSET, 12 },
    { DUCT_SQUARE_TO_ROUND, 14, 0, DUCT_DIM_LENGTH, 30 },
    { DUCT_TEE, 10, 8, DUCT_DIM_LENGTH, 22 },
    { DUCT_TEE, 10, 8, DUCT_DIM_BRANCH, 6 },
    { DUCT_WYE, 12, 12, DUCT_DIM_LENGTH, 36 },
    { DUCT_BOOT_TAP, 0, 0, DUCT_DIM_OFFSET, 4 },
    { DUCT_BOOT_TAP, 0, 0, DUCT_DIM_LENGTH, 6 },
    { DUCT_DAMPER, 0, 0, DUCT_DIM_LENGTH, 6 },
    { DUCT_FABRIC_CONNECTOR, 0, 0, DUCT_DIM_LENGTH, 6 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DuctShape s = shape (rows[i].kind, 24, 12, rows[i].w2, rows[i].h2, 0);
      fixture_resolve (starter->rules, &s);
      g_test_message ("row %d", (int) i);
      g_assert_cmpint (s.dim[rows[i].dim], ==, nm (rows[i].in));
    }
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/fittings/angled-offset", test_angled_offset);
  g_test_add_func ("/fittings/transition", test_transition);
  g_test_add_func ("/fittings/square-to-round", test_square_to_round);
  g_test_add_func ("/fittings/plenum-box", test_plenum_box);
  g_test_add_func ("/fittings/by-hand", test_by_hand);
  g_test_add_func ("/fittings/random-sleeves", test_random_sleeves);
  g_test_add_func ("/fittings/random-branches", test_random_branches);
  g_test_add_func ("/fittings/limits", test_limits);
  g_test_add_func ("/fittings/refused", test_refused);
  g_test_add_func ("/fittings/defaults", test_defaults);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Areas of round duct and equivalent diameters. The source of each figure stands beside it; those without one are computed from
 * geometry, here by another way than in the program: meshes of triangles, and a hole found by halving. */
#include "duct/round.h"

/* ---- areas ---- */

/* Computed, from pi D x 2 (n - 1) Rc tan (90 / (2 (n - 1))): 12 dia, Rc 18. */
static void
test_gored (void)
{
  assert_near (area (elbow (DUCT_GORED_ELBOW, 12, 90, 12, 3)), 7.808, 0.0005);
  assert_near (area (elbow (DUCT_GORED_ELBOW, 12, 90, 12, 4)), 7.576, 0.0005);
  assert_near (area (elbow (DUCT_GORED_ELBOW, 12, 90, 12, 5)), 7.499, 0.0005);
  assert_near (area (elbow (DUCT_GORED_ELBOW, 12, 90, 12, 7)), 7.445, 0.0005);
}

/* Computed, pi D th Rc: 12 dia, Rc 18. Many gores come to the same. */
static void
test_smooth (void)
{
  assert_near (area (elbow (DUCT_STAMPED_ELBOW, 12, 90, 12, 0)), 7.402, 0.0005);
  assert_near (area (elbow (DUCT_GORED_ELBOW, 12, 90, 12, 30)), 7.402, 0.003);
}

typedef void (*Surface) (const double *k, double u, double v, double *p);

/* A surface as triangles between the points of a grid. */
static double
mesh (Surface surface, const double *k, int n)
{
  double all = 0;

  for (int i = 0; i < n; i++)
    for (int j = 0; j < n; j++)
      {
        double p[4][3], c[3], a[3], b[3];
        surface (k, (double) i / n, (double) j / n, p[0]);
        surface (k, (double) (i + 1) / n, (double) j / n, p[1]);
        surface (k, (double) (i + 1) / n, (double) (j + 1) / n, p[2]);
        surface (k, (double) i / n, (double) (j + 1) / n, p[3]);
        for (int t = 0; t < 2; t++)
          {
            for (int x = 0; x < 3; x++)
              {
                a[x] = p[t + 1][x] - p[0][x];
                b[x] = p[t + 2][x] - p[0][x];
              }
            c[0] = a[1] * b[2] - a[2] * b[1];
            c[1] = a[2] * b[0] - a[0] * b[2];
            c[2] = a[0] * b[1] - a[1] * b[0];
            all += sqrt (c[0] * c[0] + c[1] * c[1] + c[2] * c[2]) / 2;
          }
      }
  return all;
}

/* k: r1, r2, length, aside */
static void
cone (const double *k, double u, double v, double *p)
{
  double t = 2 * G_PI * v, r = k[0] + (k[1] - k[0]) * u;

  p[0] = r * cos (t) + k[3] * u;
  p[1] = r * sin (t);
  p[2] = k[2] * u;
}

/* Computed: 16 to 12, L 12, centred 3.716 ft2; any other by its own mesh. */
static void
test_reducer (void)
{
  assert_near (area (reducer (16, 12, 12, 0)), 3.716, 0.0005);
  static const double rows[][4] = { { 16, 12, 12, 2 }, { 16, 12, 12, -2 }, { 20, 8, 15, 6 }, { 30, 12, 3, 9 }, { 12, 12, 12, 4 } };
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const double k[] = { rows[i][0] / 2, rows[i][1] / 2, rows[i][2], rows[i][3] };
      double wanted = mesh (cone, k, 600) / 144;
      assert_near (area (reducer (rows[i][0], rows[i][1], rows[i][2], rows[i][3])), wanted, wanted * 2e-5);
    }
}

/* A branch as the points where its lines leave the main and end. k: r, R, angle, length of the shortest line. The place where a
 * line leaves the main is found by halving on the equation of the main. */
static double
leaves (const double *k, double t)
{
  double r = k[0], R = k[1], c = cos (k[2]), s = sin (k[2]), low = -10 * R, high = 10 * (R + r) / s;

  for (int i = 0; i < 80; i++)
    {
      double at = (low + high) / 2, y = r * sin (t), z = at * s - r * cos (t) * c;
      /* outside the main on its upper side */
      if (z > 0 && y * y + z * z > R * R)
        high = at;
      else
        low = at;
    }
  return high;
}

static void
branch (const double *k, double u, double v, double *p)
{
  double t = 2 * G_PI * v, r = k[0], c = cos (k[2]), s = sin (k[2]), from = leaves (k, t), to = leaves (k, 0) + k[3];

  /* The end plane stands square to the branch; its nearest line is the one at t = 0. */
  double along = from + (to - from) * u;
  p[0] = along * c + r * cos (t) * s;
  p[1] = r * sin (t);
  p[2] = along * s - r * cos (t) * c;
}

/* Twice the area inside a closed line of @n points. */
static double
inside (const double *x, const double *y, int n)
{
  double all = 0;

  for (int i = 0; i < n; i++)
    all += x[i] * y[(i + 1) % n] - x[(i + 1) % n] * y[i];
  return all;
}

/* The flange: the hole's outline unrolled with the main, moved outwards by @f point by point, and the area between the two. */
static double
band (const double *k, double f)
{
  enum { N = 4000 };
  static double x[N], y[N], out_x[N], out_y[N];

  for (int i = 0; i < N; i++)
    {
      double t = 2 * G_PI * i / N, at = leaves (k, t);
      x[i] = at * cos (k[2]) + k[0] * cos (t) * sin (k[2]);
      y[i] = k[1] * asin (CLAMP (k[0] * sin (t) / k[1], -1, 1));
    }
  for (int i = 0; i < N; i++)
    {
      double dx = x[(i + 1) % N] - x[(i + N - 1) % N], dy = y[(i + 1) % N] - y[(i + N - 1) % N], l = hypot (dx, dy);
      out_x[i] = x[i] + f * dy / l;
      out_y[i] = y[i] - f * dx / l;
    }
  return (inside (out_x, out_y, N) - inside (x, y, N)) / 2;
}

static void
test_saddle (void)
{
  static const double rows[][4] = { { 8, 16, 90, 4 }, { 12, 24, 45, 4 }, { 10, 12, 60, 3 }, { 4, 40, 30, 2 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      const double k[] = { rows[i][0] / 2, rows[i][1] / 2, rows[i][2] * G_PI / 180, rows[i][3] };
      double wanted = (mesh (branch, k, 400) + band (k, 1)) / 144;
      g_test_message ("saddle %g on %g at %g", rows[i][0], rows[i][1], rows[i][2]);
      assert_near (area (saddle (rows[i][0], rows[i][1], rows[i][2], rows[i][3])), wanted, wanted * 2e-4);
    }
  /* Equal diameters, square: lines of L + R (1 - |cos t|), so 2 pi R L + R^2 (2 pi - 4); the hole unrolls to two arcs of a cosine. */
  double R = 6, outline = 0, last = R;
  for (int i = 1; i <= 20000; i++)
    {
      double y = R * G_PI / 2 * i / 20000, x = R * cos (y / R);
      outline += 4 * hypot (x - last, R * G_PI / 2 / 20000);
      last = x;
    }
  double wanted = (2 * G_PI * R * 4 + R * R * (2 * G_PI - 4) + outline + G_PI) / 144;
  assert_near (area (saddle (12, 12, 90, 4)), wanted, wanted * 2e-5);
}

/* Computed: a disc with a turned edge of 1 in all round (common practice), a collar pi D L. */
static void
test_cap_and_collar (void)
{
  DuctShape spin = round_shape (DUCT_SPIN_IN, 8, 2);

  assert_near (area (round_shape (DUCT_ROUND_CAP, 12, 2)), G_PI * 7 * 7 / 144, 1e-6);
  assert_near (area (spin), G_PI * 8 * 4 / 144, 1e-6); /* collar of 4 in: invented demo */
  spin.dim[DUCT_DIM_LENGTH] = nm (6);
  assert_near (area (spin), G_PI * 8 * 6 / 144, 1e-6);
}

/* ---- equivalent diameters ---- */

/* Huebscher 1948 as the ASHRAE Handbook Fundamentals 2001 gives it (computed to three places), and the table of circular equivalents of
 * the Heating, Ventilating, Air Conditioning Guide 1956, chapter 32. */
static void
test_equivalent (void)
{
  static const struct
  {
    double w, h, formula, guide;
  } rows[] = { { 12, 6, 9.140, 9.1 },    { 12, 12, 13.118, 13.1 }, { 20, 10, 15.234, 15.2 }, { 24, 6, 12.406, 12.4 },
               { 24, 12, 18.280, 18.3 }, { 30, 12, 20.222, 20.2 }, { 36, 12, 21.918, 21.9 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      double d = (double) duct_equivalent_diameter (nm (rows[i].w), nm (rows[i].h)) / IN;
      assert_near (d, rows[i].formula, 0.0006);
      assert_near (d, rows[i].guide, 0.05);
      g_assert_cmpint (duct_equivalent_diameter (nm (rows[i].h), nm (rows[i].w)), ==, duct_equivalent_diameter (nm (rows[i].w), nm (rows[i].h)));
    }
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/duct/round-geometry/gored", test_gored);
  g_test_add_func ("/duct/round-geometry/smooth", test_smooth);
  g_test_add_func ("/duct/round-geometry/reducer", test_reducer);
  g_test_add_func ("/duct/round-geometry/saddle", test_saddle);
  g_test_add_func ("/duct/round-geometry/cap-and-collar", test_cap_and_collar);
  g_test_add_func ("/duct/round-geometry/equivalent", test_equivalent);
  status = g_test_run ();
  catalogue_unref (starter);
  return status;
}

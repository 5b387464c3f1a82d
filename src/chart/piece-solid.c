/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/piece-private.h"

#include <math.h>

#define TURN (M_PI / 180)

static Point3
between (Point3 a, Point3 b, double t)
{
  return (Point3) { a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t, a.z + (b.z - a.z) * t };
}

/* ---- shapes ---- */

/* A section of @w by @h about @x, @y whose side looks along @turn (radians, 0: across the flow). */
static void
add_section (Solid *solid, double x, double y, double turn, double w, double h)
{
  double nx = cos (turn) * w / 2, ny = sin (turn) * w / 2;
  Section *s = &solid->section[solid->n++];

  s->corner[0] = (Point3) { x - nx, y - ny, -h / 2 };
  s->corner[1] = (Point3) { x + nx, y + ny, -h / 2 };
  s->corner[2] = (Point3) { x + nx, y + ny, h / 2 };
  s->corner[3] = (Point3) { x - nx, y - ny, h / 2 };
}

static void
add_mark (Solid *solid, PieceDim dim, Point3 from, Point3 to, gboolean line)
{
  solid->mark[solid->n_marks++] = (Mark) { dim, from, to, line };
}

static void
add_extra (Solid *solid, Point3 a, Point3 b)
{
  if (solid->n_extra == (int) G_N_ELEMENTS (solid->extra))
    return;
  solid->extra[solid->n_extra][0] = a;
  solid->extra[solid->n_extra++][1] = b;
}

static void
mark_size (Solid *solid)
{
  const Section *first = &solid->section[0];

  add_mark (solid, PIECE_WIDTH, first->corner[0], first->corner[1], TRUE);
  add_mark (solid, PIECE_HEIGHT, first->corner[0], first->corner[3], TRUE);
}

static void
make_straight (Solid *solid, double w, double h, double length)
{
  double most = MAX (w, h), drawn = CLAMP (length, 0.5 * most, 2.2 * most);

  add_section (solid, 0, 0, 0, w, h);
  add_section (solid, 0, drawn, 0, w, h);
  mark_size (solid);
  add_mark (solid, PIECE_LENGTH, solid->section[0].corner[1], solid->section[1].corner[1], TRUE);
}

/* Turns to the right in plan: the centre of the arc lies on the right of the first end. */
static void
make_radius_elbow (Solid *solid, double w, double h, double throat, double angle)
{
  const int n = 20;
  double radius = throat + w / 2, cx = radius, turn = angle * TURN;
  Point3 centre = { cx, 0, h / 2 };

  for (int i = 0; i <= n; i++)
    {
      double a = turn * i / n;
      add_section (solid, cx - radius * cos (a), radius * sin (a), -a, w, h);
    }
  mark_size (solid);
  if (throat > 0)
    {
      add_mark (solid, PIECE_THROAT, solid->section[0].corner[2], centre, TRUE);
      add_extra (solid, centre, solid->section[n].corner[2]);
    }
  add_mark (solid, PIECE_ANGLE, centre, solid->section[n].corner[2], FALSE);
}

static void
make_mitred_elbow (Solid *solid, const Piece *piece, double w, double h, double legs, double angle)
{
  double turn = angle * TURN, half = turn / 2, bend = w / 2 * tan (half), reach = legs + bend;
  double slant = w / cos (half), x2 = reach * sin (turn), y2 = reach * cos (turn);

  add_section (solid, 0, -reach, 0, w, h);
  add_section (solid, 0, 0, -half, slant, h);
  add_section (solid, x2, y2, -turn, w, h);
  mark_size (solid);
  add_mark (solid, PIECE_LEGS, solid->section[0].corner[2], solid->section[1].corner[2], TRUE);
  add_mark (solid, PIECE_ANGLE, solid->section[1].corner[2], solid->section[2].corner[2], FALSE);
  /* Vanes as short marks across the mitre on the top wall; not more than can be told apart. */
  for (int i = 0; i < MIN (piece->vanes, 12); i++)
    {
      Point3 at = between (solid->section[1].corner[3], solid->section[1].corner[2], (i + 1.0) / (MIN (piece->vanes, 12) + 1.0));
      double r = w * 0.09;
      add_extra (solid, (Point3) { at.x - r * 0.3, at.y - r, at.z },
                 (Point3) { at.x + r * sin (turn), at.y + r * cos (turn), at.z });
    }
}

static void
make_transition (Solid *solid, double w, double h, double w2, double h2, double length, double shift)
{
  double most = MAX (MAX (w, h), MAX (w2, h2)), drawn = CLAMP (length, 0.4 * most, 2 * most);

  add_section (solid, 0, 0, 0, w, h);
  add_section (solid, CLAMP (shift, -2 * most, 2 * most), drawn, 0, w2, h2);
  mark_size (solid);
  add_mark (solid, PIECE_LENGTH, solid->section[0].corner[1], solid->section[1].corner[1], TRUE);
  add_mark (solid, PIECE_WIDTH2, solid->section[1].corner[3], solid->section[1].corner[2], TRUE);
  add_mark (solid, PIECE_HEIGHT2, solid->section[1].corner[1], solid->section[1].corner[2], TRUE);
  if (fabs (shift) > 0)
    add_mark (solid, PIECE_ASIDE, solid->section[0].corner[3], solid->section[1].corner[3], FALSE);
}

static void
make_offset (Solid *solid, double w, double h, double length, double aside)
{
  const int n = 20;
  double most = MAX (w, h), drawn = CLAMP (length, 0.5 * most, 3 * most), side = CLAMP (aside, -2 * most, 2 * most);

  for (int i = 0; i <= n; i++)
    {
      double t = (double) i / n, slope = side * M_PI / 2 * sin (M_PI * t) / drawn;
      add_section (solid, side * (1 - cos (M_PI * t)) / 2, drawn * t, -atan (slope), w, h);
    }
  mark_size (solid);
  add_mark (solid, PIECE_LENGTH, solid->section[0].corner[1], (Point3) { w / 2, drawn, -h / 2 }, TRUE);
  add_mark (solid, PIECE_ASIDE, (Point3) { -w / 2, drawn, h / 2 }, solid->section[n].corner[3], TRUE);
}

/* The collar leaves the wall of its parent, which is drawn in thin lines. */
static void
make_tap (Solid *solid, double w, double h, double length)
{
  double most = MAX (w, h), drawn = CLAMP (length, 0.35 * most, 1.5 * most), lip = 0.1 * most;
  double x = w / 2 + 2.5 * lip, z = h / 2 + 2.5 * lip;
  const Point3 wall[4] = { { -x, drawn, -z }, { x, drawn, -z }, { x, drawn, z }, { -x, drawn, z } };
  double lx = w / 2 + lip, lz = h / 2 + lip;
  const Point3 edge[4] = { { -lx, drawn, -lz }, { lx, drawn, -lz }, { lx, drawn, lz }, { -lx, drawn, lz } };

  add_section (solid, 0, 0, 0, w, h);
  add_section (solid, 0, drawn, 0, w, h);
  for (int i = 0; i < 4; i++)
    {
      add_extra (solid, wall[i], wall[(i + 1) % 4]);
      add_extra (solid, edge[i], edge[(i + 1) % 4]);
    }
  mark_size (solid);
  add_mark (solid, PIECE_LENGTH, solid->section[0].corner[1], solid->section[1].corner[1], TRUE);
}

static void
make_end_cap (Solid *solid, double w, double h)
{
  add_section (solid, 0, 0, 0, w, h);
  add_section (solid, 0, 0.18 * MAX (w, h), 0, w, h);
  mark_size (solid);
}

/* A dimension within reason of the larger side; 0 and nonsense become @otherwise. */
static double
figure (const Piece *piece, PieceDim dim, double most, double otherwise)
{
  double x = piece->dim[dim];

  return isfinite (x) && x > 0 ? MIN (x, most) : otherwise;
}

gboolean
piece_make_solid (const Piece *piece, Solid *solid)
{
  double w = figure (piece, PIECE_WIDTH, 1e9, 0), h = figure (piece, PIECE_HEIGHT, 1e9, 0), most = MAX (w, h), w2, h2, aside;

  if (!(w > 0) || !(h > 0))
    return FALSE;
  /* A very flat duct still shows two sides. */
  w = MAX (w, most / 12);
  h = MAX (h, most / 12);
  w2 = CLAMP (figure (piece, PIECE_WIDTH2, 1e9, w), most / 12, 6 * most);
  h2 = CLAMP (figure (piece, PIECE_HEIGHT2, 1e9, h), most / 12, 6 * most);
  aside = isfinite (piece->dim[PIECE_ASIDE]) ? CLAMP (piece->dim[PIECE_ASIDE], -1e9, 1e9) : 0;
  switch (piece->kind)
    {
    case PIECE_STRAIGHT:
      make_straight (solid, w, h, figure (piece, PIECE_LENGTH, 1e9, 2 * most));
      return TRUE;
    case PIECE_RADIUS_ELBOW:
      make_radius_elbow (solid, w, h, figure (piece, PIECE_THROAT, 2 * most, 0), figure (piece, PIECE_ANGLE, 180, 90));
      return TRUE;
    case PIECE_MITRED_ELBOW:
      make_mitred_elbow (solid, piece, w, h, figure (piece, PIECE_LEGS, most, most / 6), figure (piece, PIECE_ANGLE, 120, 90));
      return TRUE;
    case PIECE_TRANSITION:
      make_transition (solid, w, h, w2, h2, figure (piece, PIECE_LENGTH, 1e9, most), aside);
      return TRUE;
    case PIECE_OFFSET:
      make_offset (solid, w, h, figure (piece, PIECE_LENGTH, 1e9, 2 * most), aside);
      return TRUE;
    case PIECE_TAP:
      make_tap (solid, w, h, figure (piece, PIECE_LENGTH, 1e9, most / 3));
      return TRUE;
    case PIECE_END_CAP:
      make_end_cap (solid, w, h);
      return TRUE;
    case PIECE_N_KINDS:
    default:
      return FALSE;
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/piece-private.h"

#include <math.h>

#define TURN (M_PI / 180)

static Point3
between (Point3 a, Point3 b, double t)
{
  return (Point3){ a.x + (b.x - a.x) * t, a.y + (b.y - a.y) * t, a.z + (b.z - a.z) * t };
}

/* ---- parts ---- */

Part *
piece_add_part (Solid *solid, const Piece *piece, int corners)
{
  Part *part = &solid->part[solid->n++];

  part->corners = corners;
  part->ridges = corners == 4 ? 0xf : 0;
  part->first_end = part->last_end = TRUE;
  part->first_made = piece->first_made;
  part->last_made = piece->last_made;
  return part;
}

void
piece_add_section (Part *part, Point3 centre, Point3 right, Point3 up)
{
  static const double side[4] = { -1, 1, 1, -1 }, rise[4] = { -1, -1, 1, 1 };
  Section *s = &part->section[part->n++];

  for (int i = 0; i < part->corners; i++)
    {
      double turn = 2 * M_PI * i / part->corners, a = part->corners == 4 ? side[i] : cos (turn),
             b = part->corners == 4 ? rise[i] : sin (turn);
      s->corner[i] = (Point3){ centre.x + a * right.x + b * up.x, centre.y + a * right.y + b * up.y,
                               centre.z + a * right.z + b * up.z };
    }
}

void
piece_add_across (Part *part, double x, double y, double z, double w, double h)
{
  piece_add_section (part, (Point3){ x, y, z }, (Point3){ w / 2, 0, 0 }, (Point3){ 0, 0, h / 2 });
}

void
piece_add_turned (Part *part, double x, double y, double turn, double w, double h)
{
  piece_add_section (part, (Point3){ x, y, 0 }, (Point3){ cos (turn) * w / 2, sin (turn) * w / 2, 0 },
                     (Point3){ 0, 0, h / 2 });
}

void
piece_add_mark (Solid *solid, PieceDim dim, Point3 from, Point3 to, gboolean line)
{
  solid->mark[solid->n_marks++] = (Mark){ dim, from, to, line };
}

void
piece_add_extra (Solid *solid, Point3 from, Point3 to, gboolean behind, gboolean strong)
{
  if (solid->n_extra < MOST_EXTRAS)
    solid->extra[solid->n_extra++] = (Extra){ from, to, behind, strong };
}

void
piece_mark_size (Solid *solid)
{
  const Part *part = &solid->part[0];
  const Point3 *c = part->section[0].corner;

  if (part->corners == 4)
    {
      piece_add_mark (solid, PIECE_WIDTH, c[0], c[1], TRUE);
      piece_add_mark (solid, PIECE_HEIGHT, c[0], c[3], TRUE);
    }
  else
    {
      double low = c[part->corners * 3 / 4].z;
      piece_add_mark (solid, PIECE_WIDTH, (Point3){ c[part->corners / 2].x, c[part->corners / 2].y, low },
                      (Point3){ c[0].x, c[0].y, low }, TRUE);
    }
}

void
piece_add_wall (Solid *solid, double y, double left, double right, double h)
{
  double lip = 0.1 * MAX (right - left, h);

  for (int i = 1; i <= 5; i += 3)
    {
      double out = lip * (i == 1 ? 1 : 2.5), x0 = left - out, x1 = right + out, z = h / 2 + out;
      const Point3 edge[4] = { { x0, y, -z }, { x1, y, -z }, { x1, y, z }, { x0, y, z } };
      for (int k = 0; k < 4; k++)
        piece_add_extra (solid, edge[k], edge[(k + 1) % 4], TRUE, FALSE);
    }
}

/* ---- shapes ---- */

static void
make_straight (Solid *solid, const Piece *piece, double w, double h, double length)
{
  double most = MAX (w, h), drawn = CLAMP (length, 0.5 * most, 2.2 * most);
  Part *p = piece_add_part (solid, piece, 4);

  piece_add_across (p, 0, 0, 0, w, h);
  piece_add_across (p, 0, drawn, 0, w, h);
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[1], p->section[1].corner[1], TRUE);
}

/* Turns to the right in plan: the centre of the arc lies on the right of the first end. */
static void
make_radius_elbow (Solid *solid, const Piece *piece, double w, double h, double throat, double angle)
{
  const int n = 20;
  double radius = throat + w / 2, cx = radius, turn = angle * TURN;
  Point3 centre = { cx, 0, h / 2 };
  Part *p = piece_add_part (solid, piece, 4);

  for (int i = 0; i <= n; i++)
    {
      double a = turn * i / n;
      piece_add_turned (p, cx - radius * cos (a), radius * sin (a), -a, w, h);
    }
  piece_mark_size (solid);
  if (throat > 0)
    {
      piece_add_mark (solid, PIECE_THROAT, p->section[0].corner[2], centre, TRUE);
      piece_add_extra (solid, centre, p->section[n].corner[2], FALSE, FALSE);
    }
  piece_add_mark (solid, PIECE_ANGLE, centre, p->section[n].corner[2], FALSE);
}

static void
make_mitred_elbow (Solid *solid, const Piece *piece, double w, double h, double legs, double angle)
{
  double turn = angle * TURN, half = turn / 2, bend = w / 2 * tan (half), reach = legs + bend;
  double slant = w / cos (half), x2 = reach * sin (turn), y2 = reach * cos (turn);
  Part *p = piece_add_part (solid, piece, 4);

  piece_add_turned (p, 0, -reach, 0, w, h);
  piece_add_turned (p, 0, 0, -half, slant, h);
  piece_add_turned (p, x2, y2, -turn, w, h);
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LEGS, p->section[0].corner[2], p->section[1].corner[2], TRUE);
  piece_add_mark (solid, PIECE_ANGLE, p->section[1].corner[2], p->section[2].corner[2], FALSE);
  /* Vanes as short marks across the mitre on the top wall; not more than can be told apart. */
  for (int i = 0; i < MIN (piece->vanes, 12); i++)
    {
      Point3 at =
          between (p->section[1].corner[3], p->section[1].corner[2], (i + 1.0) / (MIN (piece->vanes, 12) + 1.0));
      double r = w * 0.09;
      piece_add_extra (solid, (Point3){ at.x - r * 0.3, at.y - r, at.z },
                       (Point3){ at.x + r * sin (turn), at.y + r * cos (turn), at.z }, FALSE, TRUE);
    }
}

static void
make_transition (Solid *solid, const Piece *piece, double w, double h, double w2, double h2, double length,
                 double shift, double lift)
{
  double most = MAX (MAX (w, h), MAX (w2, h2)), drawn = CLAMP (length, 0.4 * most, 2 * most);
  Part *p = piece_add_part (solid, piece, 4);

  piece_add_across (p, 0, 0, 0, w, h);
  piece_add_across (p, CLAMP (shift, -2 * most, 2 * most), drawn, CLAMP (lift, -2 * most, 2 * most), w2, h2);
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[1], p->section[1].corner[1], TRUE);
  piece_add_mark (solid, PIECE_WIDTH2, p->section[1].corner[3], p->section[1].corner[2], TRUE);
  piece_add_mark (solid, PIECE_HEIGHT2, p->section[1].corner[1], p->section[1].corner[2], TRUE);
  if (fabs (shift) > 0)
    piece_add_mark (solid, PIECE_ASIDE, p->section[0].corner[3], p->section[1].corner[3], FALSE);
  if (fabs (lift) > 0)
    piece_add_mark (solid, PIECE_LIFT, p->section[0].corner[2], p->section[1].corner[2], FALSE);
}

static void
make_offset (Solid *solid, const Piece *piece, double w, double h, double length, double aside)
{
  const int n = 20;
  double most = MAX (w, h), drawn = CLAMP (length, 0.5 * most, 3 * most), side = CLAMP (aside, -2 * most, 2 * most);
  Part *p = piece_add_part (solid, piece, 4);

  for (int i = 0; i <= n; i++)
    {
      double t = (double) i / n, slope = side * M_PI / 2 * sin (M_PI * t) / drawn;
      piece_add_turned (p, side * (1 - cos (M_PI * t)) / 2, drawn * t, -atan (slope), w, h);
    }
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[1], (Point3){ w / 2, drawn, -h / 2 }, TRUE);
  piece_add_mark (solid, PIECE_ASIDE, (Point3){ -w / 2, drawn, h / 2 }, p->section[n].corner[3], TRUE);
}

/* The collar leaves the wall of its parent, which is drawn in thin lines. */
static void
make_tap (Solid *solid, const Piece *piece, double w, double h, double length)
{
  double most = MAX (w, h), drawn = CLAMP (length, 0.35 * most, 1.5 * most);
  Part *p = piece_add_part (solid, piece, 4);

  piece_add_across (p, 0, 0, 0, w, h);
  piece_add_across (p, 0, drawn, 0, w, h);
  piece_add_wall (solid, drawn, -w / 2, w / 2, h);
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[1], p->section[1].corner[1], TRUE);
}

static void
make_end_cap (Solid *solid, const Piece *piece, double w, double h)
{
  Part *p = piece_add_part (solid, piece, 4);

  p->closed = TRUE;
  piece_add_across (p, 0, 0, 0, w, h);
  piece_add_across (p, 0, 0.18 * MAX (w, h), 0, w, h);
  piece_mark_size (solid);
}

double
piece_figure (const Piece *piece, PieceDim dim, double most, double otherwise)
{
  double x = piece->dim[dim];

  return isfinite (x) && x > 0 ? MIN (x, most) : otherwise;
}

static double
signed_figure (const Piece *piece, PieceDim dim)
{
  return isfinite (piece->dim[dim]) ? CLAMP (piece->dim[dim], -1e9, 1e9) : 0;
}

gboolean
piece_make_solid (const Piece *piece, Solid *solid)
{
  double w = piece_figure (piece, PIECE_WIDTH, 1e9, 0), h = piece_figure (piece, PIECE_HEIGHT, 1e9, 0),
         most = MAX (w, h), w2, h2, aside;
  gboolean round = piece->kind >= PIECE_ROUND_DUCT
                   || (h <= 0 && (piece->kind == PIECE_DAMPER || piece->kind == PIECE_FABRIC_CONNECTOR));

  if (!(w > 0) || (!(h > 0) && !round) || piece->kind >= PIECE_N_KINDS)
    return FALSE;
  if (round)
    {
      piece_make_round (solid, piece, w);
      return TRUE;
    }
  /* A very flat duct still shows two sides. */
  w = MAX (w, most / 12);
  h = MAX (h, most / 12);
  w2 = CLAMP (piece_figure (piece, PIECE_WIDTH2, 1e9, w), most / 12, 6 * most);
  h2 = CLAMP (piece_figure (piece, PIECE_HEIGHT2, 1e9, h), most / 12, 6 * most);
  aside = signed_figure (piece, PIECE_ASIDE);
  switch ((int) piece->kind)
    {
    case PIECE_STRAIGHT:
      make_straight (solid, piece, w, h, piece_figure (piece, PIECE_LENGTH, 1e9, 2 * most));
      break;
    case PIECE_RADIUS_ELBOW:
      make_radius_elbow (solid, piece, w, h, piece_figure (piece, PIECE_THROAT, 2 * most, 0),
                         piece_figure (piece, PIECE_ANGLE, 180, 90));
      break;
    case PIECE_MITRED_ELBOW:
      make_mitred_elbow (solid, piece, w, h, piece_figure (piece, PIECE_LEGS, most, most / 6),
                         piece_figure (piece, PIECE_ANGLE, 120, 90));
      break;
    case PIECE_TRANSITION:
      make_transition (solid, piece, w, h, w2, h2, piece_figure (piece, PIECE_LENGTH, 1e9, most), aside,
                       signed_figure (piece, PIECE_LIFT));
      break;
    case PIECE_OFFSET:
      make_offset (solid, piece, w, h, piece_figure (piece, PIECE_LENGTH, 1e9, 2 * most), aside);
      break;
    case PIECE_TAP:
      make_tap (solid, piece, w, h, piece_figure (piece, PIECE_LENGTH, 1e9, most / 3));
      break;
    case PIECE_END_CAP:
      make_end_cap (solid, piece, w, h);
      break;
    default:
      piece_make_fitting (solid, piece, w, h);
      break;
    }
  return TRUE;
}

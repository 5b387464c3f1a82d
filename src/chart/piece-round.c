/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/piece-private.h"

#include <math.h>

#define TURN (M_PI / 180)

/* The dimension line of a length stands beside the right of the cylinder. */
static void
mark_length (Solid *solid, double d, double x, double length)
{
  piece_add_mark (solid, PIECE_LENGTH, (Point3){ d / 2, 0, -d / 2 * 0.6 }, (Point3){ x + d / 2, length, -d / 2 * 0.6 },
                  TRUE);
}

/* The lock seam winds round the duct: what of it is seen. */
static void
add_spiral (Solid *solid, double d, double length)
{
  const int n = 96;
  const double turns = 4;

  for (int i = 0; i < n; i++)
    {
      double a = 2 * M_PI * turns * i / n, b = 2 * M_PI * turns * (i + 1) / n;
      const Point3 p = { cos (a), 0, sin (a) }, q = { cos (b), 0, sin (b) };
      if (piece_seen (p) && piece_seen (q))
        piece_add_extra (solid, (Point3){ p.x * d / 2, length * i / n, p.z * d / 2 },
                         (Point3){ q.x * d / 2, length * (i + 1) / n, q.z * d / 2 }, FALSE, FALSE);
    }
}

static void
make_duct (Solid *solid, const Piece *piece, double d)
{
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, 2 * d), 0.6 * d, 2.4 * d);
  Part *p = piece_add_part (solid, piece, CIRCLE);

  piece_add_across (p, 0, 0, 0, d, d);
  piece_add_across (p, 0, length, 0, d, d);
  if (piece->spiral)
    add_spiral (solid, d, length);
  else
    piece_add_extra (solid, (Point3){ d / 2 * 0.5, 0, d / 2 * 0.866 }, (Point3){ d / 2 * 0.5, length, d / 2 * 0.866 },
                     FALSE, FALSE);
  piece_mark_size (solid);
  mark_length (solid, d, 0, length);
}

/* Sections on the seams of a gored elbow lie aslant: ellipses, longer in the plane of the bend. */
static void
make_elbow (Solid *solid, const Piece *piece, double d)
{
  double throat = piece_figure (piece, PIECE_THROAT, 3 * d, 0.5 * d), radius = throat + d / 2;
  double turn = piece_figure (piece, PIECE_ANGLE, 180, 90) * TURN;
  gboolean gored = piece->kind == PIECE_GORED_ELBOW;
  int gores = CLAMP (piece->gores, 2, 12), n = gored ? gores : 20;
  Part *p = piece_add_part (solid, piece, CIRCLE);
  double half = turn / (2 * (gores - 1));
  Point3 centre = { radius, 0, d / 2 };

  /* A bend of two gores is drawn with its mitre too, be it ever so sharp. */
  half = MIN (half, 80 * TURN);
  for (int i = 0; i <= n; i++)
    {
      gboolean end = i == 0 || i == n;
      double at = i == 0 ? 0 : i == n ? turn : gored ? turn * (2 * i - 1) / (2 * (gores - 1)) : turn * i / n;
      double more = end || !gored ? 1 : 1 / cos (half);
      piece_add_turned (p, radius - radius * more * cos (at), radius * more * sin (at), -at, d * more, d);
    }
  p->rings = gored;
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_THROAT, (Point3){ d / 2, 0, d / 2 }, centre, TRUE);
  piece_add_extra (solid, centre, (Point3){ radius - throat * cos (turn), throat * sin (turn), d / 2 }, FALSE, FALSE);
  piece_add_mark (solid, PIECE_ANGLE, centre, (Point3){ radius - throat * cos (turn), throat * sin (turn), d / 2 },
                  FALSE);
}

static void
make_reducer (Solid *solid, const Piece *piece, double d)
{
  double d2 = CLAMP (piece_figure (piece, PIECE_WIDTH2, 1e9, 0.7 * d), d / 10, 4 * d), most = MAX (d, d2), x = 0;
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, d), 0.4 * most, 2 * most);
  Part *p = piece_add_part (solid, piece, CIRCLE);

  if (isfinite (piece->dim[PIECE_ASIDE]))
    x = CLAMP (piece->dim[PIECE_ASIDE], -2 * most, 2 * most);
  piece_add_across (p, 0, 0, 0, d, d);
  piece_add_across (p, x, length, 0, d2, d2);
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, (Point3){ d / 2, 0, -d / 2 * 0.6 }, (Point3){ d / 2, length, -d / 2 * 0.6 },
                  TRUE);
  piece_add_mark (solid, PIECE_WIDTH2, (Point3){ x - d2 / 2, length, d2 / 2 }, (Point3){ x + d2 / 2, length, d2 / 2 },
                  TRUE);
  if (fabs (x) > 0)
    piece_add_mark (solid, PIECE_ASIDE, (Point3){ -d / 2, 0, 0 }, (Point3){ x - d2 / 2, length, 0 }, FALSE);
}

/* The collar rises from a main that runs away from who looks; its foot follows the main's wall. */
static void
make_saddle (Solid *solid, const Piece *piece, double d)
{
  double main_d = CLAMP (piece_figure (piece, PIECE_WIDTH2, 1e9, 1.6 * d), d, 4 * d), big = main_d / 2, r = d / 2,
         top = 0;
  double turn = CLAMP (piece_figure (piece, PIECE_ANGLE, 90, 90), 30, 90) * TURN, c = cos (turn), s = sin (turn);
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, d / 2), 0.3 * d, 2 * d), reach = d / s + 0.5 * d;
  Part *main = piece_add_part (solid, piece, CIRCLE), *p = piece_add_part (solid, piece, CIRCLE);
  double foot[CIRCLE];

  main->pale = TRUE;
  main->first_made = main->last_made = FALSE;
  piece_add_across (main, 0, -reach, 0, main_d, main_d);
  piece_add_across (main, 0, reach, 0, main_d, main_d);
  p->n = 2;
  p->first_end = FALSE;
  for (int i = 0; i < CIRCLE; i++)
    {
      double a = 2 * M_PI * i / CIRCLE, x = r * cos (a);
      foot[i] = (sqrt (MAX (big * big - x * x, 0)) - r * sin (a) * c) / s;
      top = MAX (top, foot[i]);
    }
  for (int i = 0; i < CIRCLE; i++)
    for (int end = 0; end < 2; end++)
      {
        double a = 2 * M_PI * i / CIRCLE, t = (end ? top + length : foot[i]) - big / s, up = r * sin (a);
        p->section[end].corner[i] = (Point3){ r * cos (a), -up * s + t * c, up * c + t * s + big };
      }
  piece_add_mark (solid, PIECE_WIDTH, p->section[1].corner[CIRCLE / 2], p->section[1].corner[0], TRUE);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[0], p->section[1].corner[0], TRUE);
  piece_add_mark (solid, PIECE_WIDTH2, (Point3){ -big, -reach, -big }, (Point3){ big, -reach, -big }, TRUE);
  if (turn < 89.9 * TURN)
    piece_add_mark (solid, PIECE_ANGLE, p->section[0].corner[CIRCLE / 4], p->section[1].corner[CIRCLE / 4], FALSE);
}

static void
make_spin_in (Solid *solid, const Piece *piece, double d)
{
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, d / 3), 0.35 * d, 1.5 * d);
  Part *p = piece_add_part (solid, piece, CIRCLE);

  piece_add_across (p, 0, 0, 0, d, d);
  piece_add_across (p, 0, length * 0.88, 0, d, d);
  piece_add_across (p, 0, length * 0.94, 0, d * 1.08, d * 1.08); /* the bead that holds it in the wall */
  piece_add_across (p, 0, length, 0, d, d);
  p->rings = TRUE;
  p->last_made = FALSE;
  piece_add_wall (solid, length, -d / 2, d / 2, d);
  piece_mark_size (solid);
  mark_length (solid, d, 0, length);
}

static void
make_cap (Solid *solid, const Piece *piece, double d)
{
  Part *p = piece_add_part (solid, piece, CIRCLE);

  p->closed = TRUE;
  piece_add_across (p, 0, 0, 0, d, d);
  piece_add_across (p, 0, 0.2 * d, 0, d, d);
  piece_mark_size (solid);
}

/* Ribbed, and not quite straight. */
static void
make_flexible (Solid *solid, const Piece *piece, double d)
{
  const int n = MOST_SECTIONS - 1;
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, 2.4 * d), d, 2.6 * d);
  Part *p = piece_add_part (solid, piece, CIRCLE);

  for (int i = 0; i <= n; i++)
    {
      double t = (double) i / n, wide = i % 2 ? 0.93 : 1;
      piece_add_turned (p, 0.3 * d * (1 - cos (M_PI * t)) / 2, t * length, -0.3 * sin (M_PI * t), d * wide, d * wide);
    }
  p->rings = TRUE;
  piece_mark_size (solid);
  mark_length (solid, d, 0.3 * d, length);
}

static void
make_damper (Solid *solid, const Piece *piece, double d)
{
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, d / 2), 0.3 * d, d);
  Part *p = piece_add_part (solid, piece, CIRCLE);

  piece_add_across (p, 0, 0, 0, d, d);
  piece_add_across (p, 0, length, 0, d, d);
  /* the blade, half open, on its shaft */
  for (int i = 0; i < CIRCLE; i++)
    {
      double a = 2 * M_PI * i / CIRCLE, b = 2 * M_PI * (i + 1) / CIRCLE, r = d / 2 * 0.93;
      piece_add_extra (solid, (Point3){ r * cos (a), 0, r * 0.72 * sin (a) },
                       (Point3){ r * cos (b), 0, r * 0.72 * sin (b) }, FALSE, FALSE);
    }
  piece_add_extra (solid, (Point3){ -d / 2, 0, 0 }, (Point3){ d / 2, 0, 0 }, FALSE, TRUE);
  piece_add_extra (solid, (Point3){ d / 2, length / 2, 0 }, (Point3){ d * 0.62, length / 2, 0 }, FALSE, TRUE);
  piece_add_extra (solid, (Point3){ d * 0.62, length / 2, 0 }, (Point3){ d * 0.62, length * 0.1, 0.16 * d }, FALSE,
                   TRUE);
  piece_mark_size (solid);
  mark_length (solid, d, 0, length);
}

static void
make_fabric (Solid *solid, const Piece *piece, double d)
{
  static const double at[7] = { 0, 0.22, 0.36, 0.5, 0.64, 0.78, 1 }, wide[7] = { 1, 1, 0.93, 1, 0.93, 1, 1 };
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, d / 2), 0.4 * d, d);
  Part *p = piece_add_part (solid, piece, CIRCLE);

  for (int i = 0; i < 7; i++)
    piece_add_across (p, 0, at[i] * length, 0, d * wide[i], d * wide[i]);
  p->rings = TRUE;
  piece_mark_size (solid);
  mark_length (solid, d, 0, length);
}

void
piece_make_round (Solid *solid, const Piece *piece, double d)
{
  switch ((int) piece->kind)
    {
    case PIECE_ROUND_DUCT:
      make_duct (solid, piece, d);
      break;
    case PIECE_GORED_ELBOW:
    case PIECE_STAMPED_ELBOW:
      make_elbow (solid, piece, d);
      break;
    case PIECE_REDUCER:
      make_reducer (solid, piece, d);
      break;
    case PIECE_SADDLE_TAP:
      make_saddle (solid, piece, d);
      break;
    case PIECE_SPIN_IN:
      make_spin_in (solid, piece, d);
      break;
    case PIECE_ROUND_CAP:
      make_cap (solid, piece, d);
      break;
    case PIECE_FLEXIBLE_DUCT:
      make_flexible (solid, piece, d);
      break;
    case PIECE_DAMPER:
      make_damper (solid, piece, d);
      break;
    case PIECE_FABRIC_CONNECTOR:
      make_fabric (solid, piece, d);
      break;
    default:
      break;
    }
}

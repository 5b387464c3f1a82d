/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/piece-private.h"

#include <math.h>

#define TURN (M_PI / 180)

static void
make_angled_offset (Solid *solid, const Piece *piece, double w, double h, double length, double aside)
{
  double most = MAX (w, h), drawn = CLAMP (length, 0.5 * most, 2.5 * most),
         side = CLAMP (aside, -1.6 * most, 1.6 * most);
  Part *p = piece_add_part (solid, piece, 4);

  piece_add_across (p, 0, 0, 0, w, h);
  piece_add_across (p, side, drawn, 0, w, h);
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[1], (Point3){ w / 2, drawn, -h / 2 }, TRUE);
  piece_add_mark (solid, PIECE_ASIDE, (Point3){ -w / 2, drawn, h / 2 }, p->section[1].corner[3], TRUE);
}

/* Four fans of seven points from the corners to the quarters of the circle; the walls between two fans are flat
 * triangles. */
static void
make_square_to_round (Solid *solid, const Piece *piece, double w, double h)
{
  static const double side[4] = { 1, -1, -1, 1 }, rise[4] = { 1, 1, -1, -1 };
  double most = MAX (w, h), d = CLAMP (piece_figure (piece, PIECE_WIDTH2, 1e9, most), most / 8, 3 * most),
         bound = 1.5 * most;
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, most), 0.4 * most, 2 * most), x = 0, z = 0;
  Part *p = piece_add_part (solid, piece, 28);
  const Point3 *c;

  if (isfinite (piece->dim[PIECE_ASIDE]))
    x = CLAMP (piece->dim[PIECE_ASIDE], -bound, bound);
  if (isfinite (piece->dim[PIECE_LIFT]))
    z = CLAMP (piece->dim[PIECE_LIFT], -bound, bound);
  p->n = 2;
  for (int k = 0; k < 28; k++)
    {
      double turn = M_PI / 2 * (k / 7 + (double) (k % 7) / 6);
      p->section[0].corner[k] = (Point3){ side[k / 7] * w / 2, 0, rise[k / 7] * h / 2 };
      p->section[1].corner[k] = (Point3){ x + d / 2 * cos (turn), length, z + d / 2 * sin (turn) };
      if (k % 7 == 0 || k % 7 == 6)
        p->ridges |= 1u << k;
    }
  c = p->section[0].corner;
  piece_add_mark (solid, PIECE_WIDTH, c[14], c[21], TRUE);
  piece_add_mark (solid, PIECE_HEIGHT, c[14], c[7], TRUE);
  piece_add_mark (solid, PIECE_LENGTH, c[21], (Point3){ w / 2, length, -h / 2 }, TRUE);
  piece_add_mark (solid, PIECE_WIDTH2, (Point3){ x - d / 2, length, z + d / 2 },
                  (Point3){ x + d / 2, length, z + d / 2 }, TRUE);
  if (fabs (x) > 0)
    piece_add_mark (solid, PIECE_ASIDE, c[7], p->section[1].corner[14], FALSE);
  if (fabs (z) > 0)
    piece_add_mark (solid, PIECE_LIFT, c[0], p->section[1].corner[0], FALSE);
}

/* The branch comes towards who looks, so it is drawn over the main. */
static void
make_tee (Solid *solid, const Piece *piece, double w, double h)
{
  double most = MAX (w, h), w2 = CLAMP (piece_figure (piece, PIECE_WIDTH2, 1e9, w), most / 12, 2 * most);
  double h2 = CLAMP (piece_figure (piece, PIECE_HEIGHT2, 1e9, h), most / 14, h);
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, 1.5 * w2), 1.05 * w2, MAX (1.05 * w2, 2.5 * most));
  double out = CLAMP (piece_figure (piece, PIECE_BRANCH, 1e9, most / 4), most / 6, 1.5 * most);
  Part *main = piece_add_part (solid, piece, 4), *p = piece_add_part (solid, piece, 4);
  const Point3 right = { 0, -w2 / 2, 0 }, up = { 0, 0, h2 / 2 };

  piece_add_across (main, 0, 0, 0, w, h);
  piece_add_across (main, 0, length, 0, w, h);
  piece_add_section (p, (Point3){ w / 2, length / 2, 0 }, right, up);
  piece_add_section (p, (Point3){ w / 2 + out, length / 2, 0 }, right, up);
  p->first_end = FALSE;
  p->last_made = TRUE;
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, main->section[0].corner[3], main->section[1].corner[3], TRUE);
  piece_add_mark (solid, PIECE_WIDTH2, p->section[1].corner[1], p->section[1].corner[0], TRUE);
  piece_add_mark (solid, PIECE_HEIGHT2, p->section[1].corner[0], p->section[1].corner[3], TRUE);
  piece_add_mark (solid, PIECE_BRANCH, p->section[0].corner[1], p->section[1].corner[1], TRUE);
}

static void
add_plan (Part *p, Point left, Point right, double h)
{
  piece_add_section (p, (Point3){ (left.x + right.x) / 2, (left.y + right.y) / 2, 0 },
                     (Point3){ (right.x - left.x) / 2, (right.y - left.y) / 2, 0 }, (Point3){ 0, 0, h / 2 });
}

/* Half of a wye: from the trunk's half to the crotch, then to the branch's end. @side: -1 left, 1 right. */
static void
add_branch (Solid *solid, const Piece *piece, double side, Point trunk, Point crotch, Point outer, Point inner,
            double h, double h2)
{
  Part *p = piece_add_part (solid, piece, 4);
  const Point axis = { 0, 0 }, t = { side * trunk.x, trunk.y }, o = { side * outer.x, outer.y },
              i = { side * inner.x, inner.y };

  add_plan (p, side > 0 ? axis : t, side > 0 ? t : axis, h);
  add_plan (p, side > 0 ? crotch : t, side > 0 ? t : crotch, h);
  add_plan (p, side > 0 ? i : o, side > 0 ? o : i, h2);
  p->hidden[0] = side > 0 ? 1u << 3 : 1u << 1;
  p->bare[0] = side > 0 ? (1u << 3) | (1u << 0) : (1u << 1) | (1u << 2);
  p->first_end = FALSE;
  p->last_made = TRUE;
}

static void
make_wye (Solid *solid, const Piece *piece, double w, double h)
{
  double most = MAX (w, h), w2 = CLAMP (piece_figure (piece, PIECE_WIDTH2, 1e9, w / 2), most / 12, 1.5 * most);
  double h2 = CLAMP (piece_figure (piece, PIECE_HEIGHT2, 1e9, h), most / 14, 1.5 * most);
  double turn = CLAMP (piece_figure (piece, PIECE_ANGLE, 90, 45), 20, 70) * TURN, s = sin (turn), c = cos (turn);
  double least = MAX (w2 / 2 / tan (turn), w2 / 2 * tan (turn)) * 1.15 + 0.1 * w;
  double length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, 1.5 * most), least, MAX (least, 2.5 * most));
  const Point trunk = { w / 2, 0 }, crotch = { 0, w2 / 2 / s };
  const Point outer = { length * s + w2 / 2 * c, length * c - w2 / 2 * s },
              inner = { length * s - w2 / 2 * c, length * c + w2 / 2 * s };
  const Section *end;
  Part *p;

  add_branch (solid, piece, -1, trunk, crotch, outer, inner, h, h2);
  add_branch (solid, piece, 1, trunk, crotch, outer, inner, h, h2);
  p = piece_add_part (solid, piece, 4); /* the trunk's end */
  piece_add_across (p, 0, 0, 0, w, h);
  p->last_end = FALSE;
  piece_add_mark (solid, PIECE_WIDTH, p->section[0].corner[0], p->section[0].corner[1], TRUE);
  piece_add_mark (solid, PIECE_HEIGHT, p->section[0].corner[0], p->section[0].corner[3], TRUE);
  end = &solid->part[1].section[2];
  piece_add_mark (solid, PIECE_WIDTH2, end->corner[3], end->corner[2], TRUE);
  piece_add_mark (solid, PIECE_HEIGHT2, end->corner[1], end->corner[2], TRUE);
  piece_add_extra (solid, (Point3){ 0, 0, h / 2 }, (Point3){ -length * s, length * c, h2 / 2 }, FALSE, FALSE);
  piece_add_extra (solid, (Point3){ 0, 0, h / 2 }, (Point3){ 0, crotch.y, h / 2 }, FALSE, FALSE);
  piece_add_mark (solid, PIECE_LENGTH, (Point3){ 0, 0, h / 2 }, (Point3){ -length * s, length * c, h2 / 2 }, FALSE);
  piece_add_mark (solid, PIECE_ANGLE, (Point3){ 0, crotch.y, h / 2 }, (Point3){ 0, MAX (inner.y, crotch.y), h / 2 },
                  FALSE);
}

static void
make_boot_tap (Solid *solid, const Piece *piece, double w, double h)
{
  double most = MAX (w, h), length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, most / 2), 0.35 * most, 1.5 * most);
  double longer = CLAMP (piece_figure (piece, PIECE_ASIDE, 1e9, most / 4), 0.08 * most, length);
  Part *p = piece_add_part (solid, piece, 4);

  piece_add_across (p, 0, 0, 0, w, h);
  if (longer < length)
    piece_add_across (p, 0, length - longer, 0, w, h);
  piece_add_across (p, longer / 2, length, 0, w + longer, h);
  p->last_made = FALSE;
  piece_add_wall (solid, length, -w / 2, w / 2 + longer, h);
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[3], p->section[p->n - 1].corner[3], TRUE);
  piece_add_mark (solid, PIECE_ASIDE, (Point3){ w / 2, length, -h / 2 }, p->section[p->n - 1].corner[1], TRUE);
}

static void
make_plenum_box (Solid *solid, const Piece *piece, double w, double h)
{
  double most = MAX (w, h), length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, most), most / 8, 2.2 * most);
  Part *p = piece_add_part (solid, piece, 4);

  p->closed = TRUE;
  p->first_made = p->last_made = FALSE;
  piece_add_across (p, 0, 0, 0, w, h);
  piece_add_across (p, 0, length, 0, w, h);
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[1], p->section[1].corner[1], TRUE);
}

/* A leaf in its frame, two hinges and a catch. */
static void
make_access_door (Solid *solid, const Piece *piece, double w, double h)
{
  double most = MAX (w, h), frame = 0.07 * MIN (w, h) + 0.02 * most, thick = 0.08 * most, x = w / 2 - frame,
         z = h / 2 - frame;
  const Point3 leaf[4] = { { -x, 0, -z }, { x, 0, -z }, { x, 0, z }, { -x, 0, z } };
  Part *p = piece_add_part (solid, piece, 4);

  p->closed = TRUE;
  p->first_made = p->last_made = FALSE;
  piece_add_across (p, 0, 0, 0, w, h);
  piece_add_across (p, 0, thick, 0, w, h);
  for (int i = 0; i < 4; i++)
    piece_add_extra (solid, leaf[i], leaf[(i + 1) % 4], FALSE, FALSE);
  for (int i = -1; i <= 1; i += 2)
    piece_add_extra (solid, (Point3){ -x, 0, i * z * 0.6 - z * 0.14 }, (Point3){ -x, 0, i * z * 0.6 + z * 0.14 }, FALSE,
                     TRUE);
  piece_add_extra (solid, (Point3){ x - 2 * frame, 0, 0 }, (Point3){ x, 0, 0 }, FALSE, TRUE);
  piece_mark_size (solid);
}

/* A short casing; the blades stand half open, their axes across the width. */
static void
make_damper (Solid *solid, const Piece *piece, double w, double h)
{
  double most = MAX (w, h), length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, most / 3), 0.25 * most, most);
  int blades = (int) CLAMP (h / most * 5, 1, 4);
  Part *p = piece_add_part (solid, piece, 4);

  piece_add_across (p, 0, 0, 0, w, h);
  piece_add_across (p, 0, length, 0, w, h);
  for (int i = 0; i < blades; i++)
    {
      double z = h * ((i + 0.5) / blades - 0.5), half = 0.32 * h / blades, x = w / 2 * 0.94;
      const Point3 blade[4] = { { -x, 0, z - half }, { x, 0, z - half }, { x, 0, z + half }, { -x, 0, z + half } };
      for (int k = 0; k < 4; k++)
        piece_add_extra (solid, blade[k], blade[(k + 1) % 4], FALSE, FALSE);
      piece_add_extra (solid, (Point3){ -x, 0, z }, (Point3){ x, 0, z }, FALSE, TRUE);
    }
  /* the quadrant outside */
  piece_add_extra (solid, (Point3){ w / 2, length / 2, 0 }, (Point3){ w / 2 + 0.12 * most, length / 2, 0 }, FALSE,
                   TRUE);
  piece_add_extra (solid, (Point3){ w / 2 + 0.12 * most, length / 2, 0 },
                   (Point3){ w / 2 + 0.12 * most, length * 0.1, 0.16 * most }, FALSE, TRUE);
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[3], p->section[1].corner[3], TRUE);
}

/* Metal edges and folded cloth between them. */
static void
make_fabric (Solid *solid, const Piece *piece, double w, double h)
{
  static const double at[7] = { 0, 0.22, 0.36, 0.5, 0.64, 0.78, 1 }, wide[7] = { 1, 1, 0.93, 1, 0.93, 1, 1 };
  double most = MAX (w, h), length = CLAMP (piece_figure (piece, PIECE_LENGTH, 1e9, most / 3), 0.4 * most, most);
  Part *p = piece_add_part (solid, piece, 4);

  for (int i = 0; i < 7; i++)
    piece_add_across (p, 0, at[i] * length, 0, w * wide[i], h * wide[i]);
  p->rings = TRUE;
  piece_mark_size (solid);
  piece_add_mark (solid, PIECE_LENGTH, p->section[0].corner[1], p->section[6].corner[1], TRUE);
}

/* Two rails and the vanes between them, for a bend to the left; the corner of the elbow that they are for in thin
 * lines. */
static void
make_vanes (Solid *solid, const Piece *piece, double w, double h)
{
  double turn = piece_figure (piece, PIECE_ANGLE, 90, 90) * TURN, half = turn / 2, r = w * 0.11;
  double ex = w / 2, ey = w / 2 * tan (half);
  int n = CLAMP (piece->vanes, 2, 8);

  for (int z = -1; z <= 1; z += 2)
    for (int beside = -1; beside <= 1; beside += 2) /* a rail is a flat bar */
      piece_add_extra (solid, (Point3){ -ex - beside * 0.02 * w, -ey + beside * 0.02 * w, z * h / 2 },
                       (Point3){ ex - beside * 0.02 * w, ey + beside * 0.02 * w, z * h / 2 }, FALSE, TRUE);
  for (int i = 0; i < n; i++)
    {
      double t = 2 * (i + 0.5) / n - 1, x = t * ex, y = t * ey;
      const Point3 bow[3] = { { x + r * 0.3, y - r, 0 }, { x, y, 0 }, { x - r * sin (turn), y + r * cos (turn), 0 } };
      for (int k = 0; k < 3; k++)
        {
          if (k != 1)
            piece_add_extra (solid, (Point3){ bow[k].x, bow[k].y, -h / 2 }, (Point3){ bow[k].x, bow[k].y, h / 2 },
                             FALSE, FALSE);
          for (int z = -1; z <= 1 && k < 2; z += 2)
            piece_add_extra (solid, (Point3){ bow[k].x, bow[k].y, z * h / 2 },
                             (Point3){ bow[k + 1].x, bow[k + 1].y, z * h / 2 }, FALSE, FALSE);
        }
    }
  piece_add_extra (solid, (Point3){ -ex, -ey - 2 * r, -h / 2 }, (Point3){ ex, -ey - 2 * r, -h / 2 }, TRUE, FALSE);
  piece_add_extra (solid, (Point3){ ex, -ey - 2 * r, -h / 2 }, (Point3){ ex, ey, -h / 2 }, TRUE, FALSE);
  piece_add_extra (solid, (Point3){ -ex, -ey - 2 * r, -h / 2 }, (Point3){ -ex, -ey, -h / 2 }, TRUE, FALSE);
  piece_add_extra (solid, (Point3){ ex, ey, -h / 2 }, (Point3){ ex, ey, h / 2 }, TRUE, FALSE);
  piece_add_mark (solid, PIECE_WIDTH, (Point3){ -ex, -ey - 2 * r, -h / 2 }, (Point3){ ex, -ey - 2 * r, -h / 2 }, TRUE);
  piece_add_mark (solid, PIECE_HEIGHT, (Point3){ ex, ey, -h / 2 }, (Point3){ ex, ey, h / 2 }, TRUE);
  piece_add_mark (solid, PIECE_ANGLE, (Point3){ -ex, -ey, h / 2 }, (Point3){ -ex, -ey + 2 * r, h / 2 }, FALSE);
}

void
piece_make_fitting (Solid *solid, const Piece *piece, double w, double h)
{
  double most = MAX (w, h), aside = isfinite (piece->dim[PIECE_ASIDE]) ? CLAMP (piece->dim[PIECE_ASIDE], -1e9, 1e9) : 0;

  switch ((int) piece->kind)
    {
    case PIECE_ANGLED_OFFSET:
      make_angled_offset (solid, piece, w, h, piece_figure (piece, PIECE_LENGTH, 1e9, 2 * most), aside);
      break;
    case PIECE_SQUARE_TO_ROUND:
      make_square_to_round (solid, piece, w, h);
      break;
    case PIECE_TEE:
      make_tee (solid, piece, w, h);
      break;
    case PIECE_WYE:
      make_wye (solid, piece, w, h);
      break;
    case PIECE_BOOT_TAP:
      make_boot_tap (solid, piece, w, h);
      break;
    case PIECE_PLENUM_BOX:
      make_plenum_box (solid, piece, w, h);
      break;
    case PIECE_ACCESS_DOOR:
      make_access_door (solid, piece, w, h);
      break;
    case PIECE_DAMPER:
      make_damper (solid, piece, w, h);
      break;
    case PIECE_FABRIC_CONNECTOR:
      make_fabric (solid, piece, w, h);
      break;
    case PIECE_TURNING_VANES:
      make_vanes (solid, piece, w, h);
      break;
    default:
      break;
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/piece.h"

#include <math.h>
#include <pango/pangocairo.h>
#include <stdlib.h>

/* A piece is a row of rectangular sections along its centreline, seen from the front, above and the left: x to the side, y
 * along the flow, z up. */

#define MOST_SECTIONS 26
#define TURN (M_PI / 180)

typedef struct
{
  double x, y, z;
} Point3;

typedef struct
{
  double x, y;
} Point;

typedef struct
{
  Point3 corner[4]; /* left bottom, right bottom, right top, left top; seen along the flow */
} Section;

/* Where a dimension is written: a line between two points of the piece. */
typedef struct
{
  PieceDim dim;
  Point3 from, to;
  gboolean line;    /* with a dimension line beside it */
} Mark;

typedef struct
{
  Section section[MOST_SECTIONS];
  int n;
  Mark mark[PIECE_N_DIMS];
  int n_marks;
  Point3 extra[16][2]; /* thin lines: vanes, the wall a tap sits on */
  int n_extra;
} Solid;

typedef struct
{
  double scale, dx, dy;
} View;

/* Turned by 30 degrees, seen 24 degrees from above. */
static Point
project (const View *view, Point3 p)
{
  const double c = 0.8660254, s = 0.5, up = 0.9135455, down = 0.4067366;
  double x = p.x * c + p.y * s, away = p.y * c - p.x * s;

  return (Point) { view->dx + view->scale * x, view->dy - view->scale * (p.z * up + away * down) };
}

/* Larger is farther away. */
static double
depth (Point3 p)
{
  return (p.y * 0.8660254 - p.x * 0.5) * 0.9135455 - p.z * 0.4067366;
}

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
  add_section (solid, 0, 0, 0, w, h);
  add_section (solid, 0, drawn, 0, w, h);
  const double lx = w / 2 + lip, lz = h / 2 + lip;
  const Point3 edge[4] = { { -lx, drawn, -lz }, { lx, drawn, -lz }, { lx, drawn, lz }, { -lx, drawn, lz } };

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

static gboolean
make_solid (const Piece *piece, Solid *solid)
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

/* ---- fitting into the box ---- */

static void
widen (Point p, Point *low, Point *high)
{
  low->x = MIN (low->x, p.x);
  low->y = MIN (low->y, p.y);
  high->x = MAX (high->x, p.x);
  high->y = MAX (high->y, p.y);
}

static gboolean
fit (const Solid *solid, double width, double height, double side, double line, View *view)
{
  const View unit = { 1, 0, 0 };
  Point low = { INFINITY, INFINITY }, high = { -INFINITY, -INFINITY };
  double free_w = width - 2 * side, free_h = height - 2 * line;

  for (int i = 0; i < solid->n; i++)
    for (int c = 0; c < 4; c++)
      widen (project (&unit, solid->section[i].corner[c]), &low, &high);
  for (int i = 0; i < solid->n_extra; i++)
    for (int c = 0; c < 2; c++)
      widen (project (&unit, solid->extra[i][c]), &low, &high);
  if (!(free_w > 8) || !(free_h > 8) || !(high.x > low.x) || !(high.y > low.y))
    return FALSE;
  view->scale = MIN (free_w / (high.x - low.x), free_h / (high.y - low.y));
  view->dx = width / 2 - view->scale * (low.x + high.x) / 2;
  view->dy = height / 2 - view->scale * (low.y + high.y) / 2;
  return isfinite (view->scale) && view->scale > 0;
}

/* ---- faces ---- */

typedef struct
{
  Point p[4];      /* p0-p1 and p3-p2 run along the flow */
  double depth;
  double shade;    /* 0 paper, 1 accent */
  gboolean turned; /* its back is seen */
  gboolean first, last; /* cross edge at p0-p3, p1-p2 */
} Face;

static int
farther_first (const void *a, const void *b)
{
  const Face *x = a, *y = b;

  return x->depth > y->depth ? -1 : x->depth < y->depth;
}

static gboolean
is_turned (const Point *p)
{
  double area = 0;

  for (int i = 0; i < 4; i++)
    area += p[i].x * p[(i + 1) % 4].y - p[(i + 1) % 4].x * p[i].y;
  return area > 0;
}

static void
colour (cairo_t *cr, const PieceLooks *looks, double shade)
{
  cairo_set_source_rgb (cr, looks->paper.r + (looks->accent.r - looks->paper.r) * shade,
                        looks->paper.g + (looks->accent.g - looks->paper.g) * shade,
                        looks->paper.b + (looks->accent.b - looks->paper.b) * shade);
}

static void
ink (cairo_t *cr, const ChartColour *c, double line)
{
  cairo_set_source_rgb (cr, c->r, c->g, c->b);
  cairo_set_line_width (cr, line);
}

static void
polygon (cairo_t *cr, const Point *p)
{
  cairo_move_to (cr, p[0].x, p[0].y);
  for (int i = 1; i < 4; i++)
    cairo_line_to (cr, p[i].x, p[i].y);
  cairo_close_path (cr);
}

static void
stroke_line (cairo_t *cr, Point a, Point b)
{
  cairo_move_to (cr, a.x, a.y);
  cairo_line_to (cr, b.x, b.y);
  cairo_stroke (cr);
}

static int
make_faces (const Solid *solid, const View *view, Face *face)
{
  /* bottom, right, top, left: the light comes from above */
  static const double shades[4] = { 0.30, 0.20, 0.08, 0.16 };
  int n = 0;

  for (int side = 0; side < 4; side++)
    for (int i = 0; i + 1 < solid->n; i++)
      {
        const Section *a = &solid->section[i], *b = &solid->section[i + 1];
        int next = (side + 1) % 4;
        const Point3 q[4] = { a->corner[side], b->corner[side], b->corner[next], a->corner[next] };
        Face *f = &face[n++];

        f->depth = 0;
        for (int k = 0; k < 4; k++)
          {
            f->p[k] = project (view, q[k]);
            f->depth += depth (q[k]) / 4;
          }
        f->turned = is_turned (f->p);
        f->shade = f->turned ? 0.36 : shades[side];
        f->first = i == 0;
        f->last = i + 2 == solid->n;
        if (i > 0 && face[n - 2].turned != f->turned)
          f->first = face[n - 2].last = TRUE; /* the silhouette of a bent wall */
      }
  return n;
}

static void
draw_faces (cairo_t *cr, const Solid *solid, const View *view, const PieceLooks *looks)
{
  Face face[4 * MOST_SECTIONS];
  int n = make_faces (solid, view, face);

  qsort (face, (size_t) n, sizeof *face, farther_first);
  for (int pass = 0; pass < 2; pass++)
    for (int i = 0; i < n; i++)
      {
        const Face *f = &face[i];
        if (f->turned != (pass == 0))
          continue;
        polygon (cr, f->p);
        colour (cr, looks, f->shade);
        cairo_fill_preserve (cr);
        cairo_set_line_width (cr, 0.6); /* closes the hair between neighbours */
        cairo_stroke (cr);
        ink (cr, &looks->ink, f->turned ? 0.7 : 1.1);
        stroke_line (cr, f->p[0], f->p[1]);
        stroke_line (cr, f->p[3], f->p[2]);
        if (f->first)
          stroke_line (cr, f->p[0], f->p[3]);
        if (f->last)
          stroke_line (cr, f->p[1], f->p[2]);
      }
}

static void
draw_end (cairo_t *cr, const View *view, const Section *section, gboolean made, const PieceLooks *looks)
{
  Point p[4];

  for (int i = 0; i < 4; i++)
    p[i] = project (view, section->corner[i]);
  polygon (cr, p);
  ink (cr, made ? &looks->accent : &looks->ink, made ? 3 : 1.1);
  cairo_stroke (cr);
}

static void
fill_end (cairo_t *cr, const View *view, const Section *section, const PieceLooks *looks, double shade)
{
  Point p[4];

  for (int i = 0; i < 4; i++)
    p[i] = project (view, section->corner[i]);
  polygon (cr, p);
  colour (cr, looks, shade);
  cairo_fill (cr);
}

static gboolean
faces_us (const View *view, const Section *section)
{
  Point p[4];

  for (int i = 0; i < 4; i++)
    p[i] = project (view, section->corner[i]);
  return is_turned (p);
}

static void
draw_solid (cairo_t *cr, const Piece *piece, const Solid *solid, const View *view, const PieceLooks *looks)
{
  const Section *first = &solid->section[0], *last = &solid->section[solid->n - 1];
  gboolean last_seen = faces_us (view, last);

  if (piece->kind == PIECE_TAP)
    {
      ink (cr, &looks->dim, 0.8);
      for (int i = 0; i < solid->n_extra; i++)
        stroke_line (cr, project (view, solid->extra[i][0]), project (view, solid->extra[i][1]));
    }
  if (!last_seen)
    draw_end (cr, view, last, piece->last_made, looks);
  draw_faces (cr, solid, view, looks);
  if (last_seen)
    {
      fill_end (cr, view, last, looks, 0.36);
      draw_end (cr, view, last, piece->last_made, looks);
    }
  fill_end (cr, view, first, looks, piece->kind == PIECE_END_CAP ? 0.12 : 0);
  draw_end (cr, view, first, piece->first_made, looks);
  if (piece->kind != PIECE_TAP)
    {
      ink (cr, piece->kind == PIECE_MITRED_ELBOW ? &looks->accent : &looks->dim, 1);
      for (int i = 0; i < solid->n_extra; i++)
        stroke_line (cr, project (view, solid->extra[i][0]), project (view, solid->extra[i][1]));
    }
}

/* ---- dimensions ---- */

typedef struct
{
  double x, y, w, h;
} Box;

static gboolean
overlap (const Box *a, const Box *b)
{
  return a->x < b->x + b->w && b->x < a->x + a->w && a->y < b->y + b->h && b->y < a->y + a->h;
}

/* Into the box, then down and up in turn until no words are covered; where there is no room the words stay over others. */
static void
settle (Box *box, const Box *others, int n, double width, double height)
{
  double y0 = CLAMP (box->y, 0, MAX (height - box->h, 0));

  box->x = CLAMP (box->x, 0, MAX (width - box->w, 0));
  for (int step = 0; step < 24; step++)
    {
      gboolean clear = TRUE;
      box->y = CLAMP (y0 + (step % 2 ? -1 : 1) * ((step + 1) / 2) * box->h * 0.5, 0, MAX (height - box->h, 0));
      for (int i = 0; i < n; i++)
        clear = clear && !overlap (box, &others[i]);
      if (clear)
        return;
    }
  box->y = y0;
}

/* Moves a dimension line off the piece, away from the middle of the picture. */
static Point
outward (Point a, Point b, Point middle)
{
  double nx = -(b.y - a.y), ny = b.x - a.x, length = hypot (nx, ny);
  double mx = (a.x + b.x) / 2 - middle.x, my = (a.y + b.y) / 2 - middle.y;

  if (!(length > 0))
    return (Point) { 0, 1 };
  if (nx * mx + ny * my < 0)
    nx = -nx, ny = -ny;
  return (Point) { nx / length, ny / length };
}

static void
draw_marks (cairo_t *cr, const Piece *piece, const Solid *solid, const View *view, const PieceLooks *looks, double width, double height)
{
  g_autoptr (PangoLayout) layout = pango_cairo_create_layout (cr);
  const Point middle = { width / 2, height / 2 };
  Box box[PIECE_N_DIMS];
  int n = 0;

  if (looks->font)
    pango_layout_set_font_description (layout, looks->font);
  for (int i = 0; i < solid->n_marks; i++)
    {
      const Mark *m = &solid->mark[i];
      Point a = project (view, m->from), b = project (view, m->to), out = outward (a, b, middle);
      double reach = m->line ? 7 : 0;
      int w, h;

      if (!piece->text[m->dim])
        continue;
      a = (Point) { a.x + out.x * reach, a.y + out.y * reach };
      b = (Point) { b.x + out.x * reach, b.y + out.y * reach };
      ink (cr, &looks->dim, 1);
      if (m->line)
        {
          stroke_line (cr, a, b);
          stroke_line (cr, (Point) { a.x - out.x * 3, a.y - out.y * 3 }, (Point) { a.x + out.x * 3, a.y + out.y * 3 });
          stroke_line (cr, (Point) { b.x - out.x * 3, b.y - out.y * 3 }, (Point) { b.x + out.x * 3, b.y + out.y * 3 });
        }
      pango_layout_set_text (layout, piece->text[m->dim], -1);
      pango_layout_get_pixel_size (layout, &w, &h);
      Point at = { (a.x + b.x) / 2 + out.x * 5, (a.y + b.y) / 2 + out.y * 5 };
      box[n] = (Box) { at.x - w / 2.0 + out.x * w / 2.0, at.y - h / 2.0 + out.y * h / 2.0, w, h };
      settle (&box[n], box, n, width, height);
      cairo_rectangle (cr, box[n].x - 1, box[n].y, box[n].w + 2, box[n].h);
      cairo_set_source_rgba (cr, looks->paper.r, looks->paper.g, looks->paper.b, 0.8);
      cairo_fill (cr);
      ink (cr, &looks->dim, 1);
      cairo_move_to (cr, box[n].x, box[n].y);
      pango_cairo_show_layout (cr, layout);
      n++;
    }
}

/* Room for the widest words at either side, and for a line of them above and below. */
static void
margins (cairo_t *cr, const Piece *piece, const PieceLooks *looks, double *side, double *line)
{
  g_autoptr (PangoLayout) layout = pango_cairo_create_layout (cr);

  *side = *line = 0;
  if (looks->font)
    pango_layout_set_font_description (layout, looks->font);
  for (int i = 0; i < PIECE_N_DIMS; i++)
    {
      int w, h;
      if (!piece->text[i])
        continue;
      pango_layout_set_text (layout, piece->text[i], -1);
      pango_layout_get_pixel_size (layout, &w, &h);
      *side = MAX (*side, w + 14.0);
      *line = MAX (*line, h + 10.0);
    }
}

void
piece_draw (cairo_t *cr, const Piece *piece, const PieceLooks *looks, double width, double height)
{
  Solid solid = { .n = 0 };
  double side, line;
  View view;

  if (!make_solid (piece, &solid))
    return;
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  margins (cr, piece, looks, &side, &line);
  if (fit (&solid, width, height, MIN (side, width / 3.2), line, &view))
    {
      draw_solid (cr, piece, &solid, &view, looks);
      draw_marks (cr, piece, &solid, &view, looks, width, height);
    }
  cairo_restore (cr);
}

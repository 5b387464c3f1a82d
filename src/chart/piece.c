/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/piece-private.h"

#include <math.h>
#include <pango/pangocairo.h>
#include <stdlib.h>

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

  return (Point){ view->dx + view->scale * x, view->dy - view->scale * (p.z * up + away * down) };
}

/* Larger is farther away. */
static double
depth (Point3 p)
{
  return (p.y * 0.8660254 - p.x * 0.5) * 0.9135455 - p.z * 0.4067366;
}

gboolean
piece_seen (Point3 n)
{
  return depth (n) < 0;
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

  for (int k = 0; k < solid->n; k++)
    for (int i = 0; i < solid->part[k].n; i++)
      for (int c = 0; c < solid->part[k].corners; c++)
        widen (project (&unit, solid->part[k].section[i].corner[c]), &low, &high);
  for (int i = 0; i < solid->n_extra; i++)
    {
      widen (project (&unit, solid->extra[i].from), &low, &high);
      widen (project (&unit, solid->extra[i].to), &low, &high);
    }
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
  Point p[4]; /* p0-p1 and p3-p2 run along the flow */
  double depth;
  double shade;    /* 0 paper, 1 accent */
  gboolean turned; /* its back is seen */
  gboolean hidden;
  gboolean first, last; /* cross edge at p0-p3, p1-p2 */
  gboolean near, far;   /* edge at p0-p1, p3-p2 */
} Face;

static int
farther_first (const void *a, const void *b)
{
  const Face *x = a, *y = b;

  return x->depth > y->depth ? -1 : x->depth < y->depth;
}

static gboolean
is_turned (const Point *p, int n)
{
  double area = 0;

  for (int i = 0; i < n; i++)
    area += p[i].x * p[(i + 1) % n].y - p[(i + 1) % n].x * p[i].y;
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
polygon (cairo_t *cr, const Point *p, int n)
{
  cairo_move_to (cr, p[0].x, p[0].y);
  for (int i = 1; i < n; i++)
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

static Point3
middle_of (const Section *s, int corners)
{
  Point3 m = { 0, 0, 0 };

  for (int i = 0; i < corners; i++)
    m = (Point3){ m.x + s->corner[i].x / corners, m.y + s->corner[i].y / corners, m.z + s->corner[i].z / corners };
  return m;
}

/* The light comes from above: what looks up is bright, what looks down dark. */
static double
shade_of (const Point3 *q, Point3 inside)
{
  Point3 u = { q[2].x - q[0].x, q[2].y - q[0].y, q[2].z - q[0].z },
         v = { q[3].x - q[1].x, q[3].y - q[1].y, q[3].z - q[1].z };
  Point3 n = { u.y * v.z - u.z * v.y, u.z * v.x - u.x * v.z, u.x * v.y - u.y * v.x };
  Point3 out = { (q[0].x + q[2].x) / 2 - inside.x, (q[0].y + q[2].y) / 2 - inside.y, (q[0].z + q[2].z) / 2 - inside.z };
  double length = sqrt (n.x * n.x + n.y * n.y + n.z * n.z), side = n.x * out.x + n.y * out.y + n.z * out.z < 0 ? -1 : 1;

  return length > 0 ? 0.19 + side * (0.02 * n.x - 0.11 * n.z) / length : 0.19;
}

/* Face @side * (n - 1) + i is that of @side between the sections i and i + 1. */
static int
make_faces (const Part *part, const View *view, Face *face)
{
  int n = 0;

  for (int side = 0; side < part->corners; side++)
    for (int i = 0; i + 1 < part->n; i++)
      {
        const Section *a = &part->section[i], *b = &part->section[i + 1];
        int next = (side + 1) % part->corners;
        const Point3 q[4] = { a->corner[side], b->corner[side], b->corner[next], a->corner[next] };
        const Point3 m = middle_of (a, part->corners), o = middle_of (b, part->corners);
        Face *f = &face[n++];

        f->depth = 0;
        for (int k = 0; k < 4; k++)
          {
            f->p[k] = project (view, q[k]);
            f->depth += depth (q[k]) / 4;
          }
        f->turned = is_turned (f->p, 4);
        f->shade = f->turned ? 0.36 : shade_of (q, (Point3){ (m.x + o.x) / 2, (m.y + o.y) / 2, (m.z + o.z) / 2 });
        f->hidden = (part->hidden[i] >> side) & 1;
        f->first = i == 0 || part->rings;
        f->last = i + 2 == part->n || part->rings;
        f->near = (part->ridges >> side) & 1;
        f->far = (part->ridges >> next) & 1;
        if (i > 0 && face[n - 2].turned != f->turned)
          f->first = face[n - 2].last = TRUE; /* the silhouette of a bent wall */
      }
  return n;
}

/* The silhouette along the flow, and lines that are to be left out. */
static void
mark_ridges (const Part *part, Face *face)
{
  for (int side = 0; side < part->corners; side++)
    for (int i = 0; i + 1 < part->n; i++)
      {
        int next = (side + 1) % part->corners;
        Face *f = &face[side * (part->n - 1) + i], *beside = &face[next * (part->n - 1) + i];
        if (f->turned != beside->turned)
          f->far = beside->near = TRUE;
        if ((part->bare[i] >> next) & 1)
          f->far = FALSE;
        if ((part->bare[i] >> side) & 1)
          f->near = FALSE;
      }
}

static void
draw_face (cairo_t *cr, const Part *part, const Face *f, const PieceLooks *looks)
{
  polygon (cr, f->p, 4);
  colour (cr, looks, part->pale ? f->shade * 0.3 : f->shade);
  cairo_fill_preserve (cr);
  cairo_set_line_width (cr, 0.6); /* closes the hair between neighbours */
  cairo_stroke (cr);
  ink (cr, part->pale ? &looks->dim : &looks->ink, f->turned || part->pale ? 0.7 : 1.1);
  if (f->near)
    stroke_line (cr, f->p[0], f->p[1]);
  if (f->far)
    stroke_line (cr, f->p[3], f->p[2]);
  if (f->first)
    stroke_line (cr, f->p[0], f->p[3]);
  if (f->last)
    stroke_line (cr, f->p[1], f->p[2]);
}

static void
draw_faces (cairo_t *cr, const Part *part, const View *view, const PieceLooks *looks)
{
  Face face[MOST_CORNERS * MOST_SECTIONS];
  int n = make_faces (part, view, face);

  mark_ridges (part, face);
  qsort (face, (size_t) n, sizeof *face, farther_first);
  for (int pass = 0; pass < 2; pass++)
    for (int i = 0; i < n; i++)
      if (!face[i].hidden && face[i].turned == (pass == 0))
        draw_face (cr, part, &face[i], looks);
}

static void
end_path (cairo_t *cr, const Part *part, const View *view, const Section *section, Point *p)
{
  for (int i = 0; i < part->corners; i++)
    p[i] = project (view, section->corner[i]);
  polygon (cr, p, part->corners);
}

static void
draw_end (cairo_t *cr, const Part *part, const View *view, const Section *section, gboolean made,
          const PieceLooks *looks)
{
  Point p[MOST_CORNERS] = { { 0, 0 } };

  end_path (cr, part, view, section, p);
  ink (cr, made ? &looks->accent : part->pale ? &looks->dim : &looks->ink, made ? 3 : part->pale ? 0.7 : 1.1);
  cairo_stroke (cr);
}

static void
fill_end (cairo_t *cr, const Part *part, const View *view, const Section *section, const PieceLooks *looks,
          double shade)
{
  Point p[MOST_CORNERS] = { { 0, 0 } };

  end_path (cr, part, view, section, p);
  colour (cr, looks, shade);
  cairo_fill (cr);
}

static gboolean
faces_us (const Part *part, const View *view, const Section *section)
{
  Point p[MOST_CORNERS] = { { 0, 0 } };

  for (int i = 0; i < part->corners; i++)
    p[i] = project (view, section->corner[i]);
  return is_turned (p, part->corners);
}

static void
draw_part (cairo_t *cr, const Part *part, const View *view, const PieceLooks *looks)
{
  const Section *first = &part->section[0], *last = &part->section[part->n - 1];
  gboolean last_seen = faces_us (part, view, last);

  if (part->last_end && !last_seen)
    draw_end (cr, part, view, last, part->last_made, looks);
  draw_faces (cr, part, view, looks);
  if (part->last_end && last_seen)
    {
      fill_end (cr, part, view, last, looks, part->closed ? 0.2 : 0.36);
      draw_end (cr, part, view, last, part->last_made, looks);
    }
  if (part->first_end)
    {
      fill_end (cr, part, view, first, looks, part->closed ? 0.12 : 0);
      draw_end (cr, part, view, first, part->first_made, looks);
    }
}

static void
draw_extras (cairo_t *cr, const Solid *solid, const View *view, const PieceLooks *looks, gboolean behind)
{
  for (int i = 0; i < solid->n_extra; i++)
    {
      const Extra *e = &solid->extra[i];
      if (e->behind != behind)
        continue;
      ink (cr, e->strong ? &looks->accent : &looks->dim, e->strong ? 1.4 : behind ? 0.8 : 1);
      stroke_line (cr, project (view, e->from), project (view, e->to));
    }
}

static void
draw_solid (cairo_t *cr, const Solid *solid, const View *view, const PieceLooks *looks)
{
  draw_extras (cr, solid, view, looks, TRUE);
  for (int i = 0; i < solid->n; i++)
    draw_part (cr, &solid->part[i], view, looks);
  draw_extras (cr, solid, view, looks, FALSE);
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

/* Into the box, then down and up in turn until no words are covered; where there is no room the words stay over
 * others. */
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
    return (Point){ 0, 1 };
  if (nx * mx + ny * my < 0)
    nx = -nx, ny = -ny;
  return (Point){ nx / length, ny / length };
}

static void
draw_marks (cairo_t *cr, const Piece *piece, const Solid *solid, const View *view, const PieceLooks *looks,
            double width, double height)
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
      a = (Point){ a.x + out.x * reach, a.y + out.y * reach };
      b = (Point){ b.x + out.x * reach, b.y + out.y * reach };
      ink (cr, &looks->dim, 1);
      if (m->line)
        {
          stroke_line (cr, a, b);
          stroke_line (cr, (Point){ a.x - out.x * 3, a.y - out.y * 3 }, (Point){ a.x + out.x * 3, a.y + out.y * 3 });
          stroke_line (cr, (Point){ b.x - out.x * 3, b.y - out.y * 3 }, (Point){ b.x + out.x * 3, b.y + out.y * 3 });
        }
      pango_layout_set_text (layout, piece->text[m->dim], -1);
      pango_layout_get_pixel_size (layout, &w, &h);
      Point at = { (a.x + b.x) / 2 + out.x * 5, (a.y + b.y) / 2 + out.y * 5 };
      box[n] = (Box){ at.x - w / 2.0 + out.x * w / 2.0, at.y - h / 2.0 + out.y * h / 2.0, w, h };
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
  g_autofree Solid *solid = g_new0 (Solid, 1);
  double side, line;
  View view;

  if (!piece_make_solid (piece, solid))
    return;
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  margins (cr, piece, looks, &side, &line);
  if (fit (solid, width, height, MIN (side, width / 3.2), line, &view))
    {
      draw_solid (cr, solid, &view, looks);
      draw_marks (cr, piece, solid, &view, looks, width, height);
    }
  cairo_restore (cr);
}

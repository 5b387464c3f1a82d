/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/piece.h"

G_BEGIN_DECLS

/* A piece is one part or more, each a row of sections along its centreline, seen from the front, above and the left: x
 * to the side, y along the flow of the first part, z up. Sections are rectangles or circles of many corners. */

#define MOST_CORNERS 28
#define MOST_SECTIONS 26
#define MOST_PARTS 3
#define MOST_EXTRAS 160
#define CIRCLE 24

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
  Point3 corner
      [MOST_CORNERS]; /* rectangle: left bottom, right bottom, right top, left top, seen along the flow; circles so too */
} Section;

typedef struct
{
  Section section[MOST_SECTIONS];
  int n, corners;
  guint32 ridges; /* bit a corner: its line along the flow is an edge; the others show where the wall turns away */
  guint32 hidden[MOST_SECTIONS]; /* bit a side: there is no wall up to the next section */
  guint32 bare[MOST_SECTIONS];   /* bit a corner: no line up to the next section */
  gboolean rings;                /* there is a seam at every section */
  gboolean first_end, last_end;  /* it has an end there */
  gboolean first_made, last_made;
  gboolean closed; /* the ends are walls */
  gboolean pale;   /* not part of the piece: what it sits on */
} Part;

/* Where a dimension is written: a line between two points of the piece. */
typedef struct
{
  PieceDim dim;
  Point3 from, to;
  gboolean line; /* with a dimension line beside it */
} Mark;

/* Thin lines: vanes, seams, the wall a tap sits on. */
typedef struct
{
  Point3 from, to;
  gboolean behind, strong;
} Extra;

typedef struct
{
  Part part[MOST_PARTS]; /* the farther one first */
  int n;
  Mark mark[PIECE_N_DIMS];
  int n_marks;
  Extra extra[MOST_EXTRAS];
  int n_extra;
} Solid;

/* The piece as parts; FALSE when there is no size to draw. @solid must be clear. */
gboolean piece_make_solid (const Piece *piece, Solid *solid);

/* ---- shared by the makers: piece-solid.c ---- */

/* A new part with both ends, made as the piece says; @corners: 4, or CIRCLE. */
Part *piece_add_part (Solid *solid, const Piece *piece, int corners);
/* A section about @centre; @right and @up are half its sides, or its radii. */
void piece_add_section (Part *part, Point3 centre, Point3 right, Point3 up);
/* A section across the flow of @w by @h, or of the diameter @w. */
void piece_add_across (Part *part, double x, double y, double z, double w, double h);
/* Turned by @turn (radians) in plan. */
void piece_add_turned (Part *part, double x, double y, double turn, double w, double h);
void piece_add_mark (Solid *solid, PieceDim dim, Point3 from, Point3 to, gboolean line);
void piece_add_extra (Solid *solid, Point3 from, Point3 to, gboolean behind, gboolean strong);
/* Width and height at the first end of the first part, or its diameter. */
void piece_mark_size (Solid *solid);
/* The wall of a main at @y, around a collar of @w by @h. */
void piece_add_wall (Solid *solid, double y, double left, double right, double h);
/* Whether a surface with this outward normal is seen. */
gboolean piece_seen (Point3 normal);
/* A dimension within reason; 0 and nonsense become @otherwise. */
double piece_figure (const Piece *piece, PieceDim dim, double most, double otherwise);

/* piece-fittings.c, piece-round.c: @w, @h > 0 and within a reasonable proportion. */
void piece_make_fitting (Solid *solid, const Piece *piece, double w, double h);
void piece_make_round (Solid *solid, const Piece *piece, double d);

G_END_DECLS

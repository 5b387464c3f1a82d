/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/piece.h"

G_BEGIN_DECLS

/* A piece is a row of rectangular sections along its centreline, seen from the front, above and the left: x to the side, y
 * along the flow, z up. */

#define MOST_SECTIONS 26

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

/* The piece as sections; FALSE when there is no size to draw. @solid must be clear. */
gboolean piece_make_solid (const Piece *piece, Solid *solid);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "chart/chart.h"

G_BEGIN_DECLS

typedef enum
{
  PIECE_STRAIGHT,
  PIECE_RADIUS_ELBOW,
  PIECE_MITRED_ELBOW,
  PIECE_TRANSITION,
  PIECE_OFFSET,
  PIECE_TAP,
  PIECE_END_CAP,
  PIECE_ANGLED_OFFSET,
  PIECE_SQUARE_TO_ROUND, /* width2: the diameter of its second end */
  PIECE_TEE,
  PIECE_WYE,
  PIECE_BOOT_TAP,        /* aside: how much longer its base is */
  PIECE_PLENUM_BOX,
  PIECE_ACCESS_DOOR,
  PIECE_DAMPER,          /* this and the fabric connector: round where the height is 0 */
  PIECE_FABRIC_CONNECTOR,
  PIECE_TURNING_VANES,
  PIECE_ROUND_DUCT,      /* of the round kinds the width is the diameter */
  PIECE_GORED_ELBOW,
  PIECE_STAMPED_ELBOW,
  PIECE_REDUCER,
  PIECE_SADDLE_TAP,      /* width2: the diameter of the main that it sits on */
  PIECE_SPIN_IN,
  PIECE_ROUND_CAP,
  PIECE_FLEXIBLE_DUCT,
  PIECE_N_KINDS,
} PieceKind;

/* Dimensions that can be written at the picture. */
typedef enum
{
  PIECE_WIDTH,
  PIECE_HEIGHT,
  PIECE_WIDTH2,
  PIECE_HEIGHT2,
  PIECE_LENGTH,
  PIECE_ANGLE,
  PIECE_THROAT,
  PIECE_ASIDE,  /* of an offset, or the shift of a transition */
  PIECE_LEGS,
  PIECE_BRANCH,
  PIECE_LIFT,   /* shift in the direction of the height */
  PIECE_N_DIMS,
} PieceDim;

/* One piece of duct as a picture: figures in any one unit of length, the angle in degrees; dimensions that the kind has not
 * are ignored. Proportions are true as far as the picture stays readable: a long straight is drawn shorter. */
typedef struct
{
  PieceKind kind;
  double dim[PIECE_N_DIMS];
  const char *text[PIECE_N_DIMS]; /* "width 24" as it stands at the dimension; NULL: not written */
  gboolean first_made, last_made; /* the end has a frame or edge of ours: drawn strong */
  int vanes;                      /* of a mitred elbow, or loose */
  int gores;
  gboolean spiral;                /* round duct with a spiral seam */
} Piece;

typedef struct
{
  ChartColour ink, accent, paper, dim; /* edges; made ends and shades; the ground; dimension lines and words */
  const PangoFontDescription *font;    /* (nullable): of the words */
} PieceLooks;

/* Draws into the box 0, 0, @width, @height and never outside it. Any figures will do: what cannot be drawn is left out. */
void piece_draw (cairo_t *cr, const Piece *piece, const PieceLooks *looks, double width, double height);

/* The dimensions that are written at the picture and where they stand, as lines of text. (transfer full) */
char *piece_table (const Piece *piece);

G_END_DECLS

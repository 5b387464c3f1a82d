/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/rules.h"

G_BEGIN_DECLS

/* What a recipe can be written against. Counts are kept in thousandths, lengths in micrometres, areas in mm2, masses in
 * mg, each for one piece and rounded once. A counted driver also carries a length and a mass where a step's minutes a
 * foot or a pound make sense: see duct_driver_info(). Adding a driver: here, in driver.c and in measure.c. */
typedef enum
{
  DUCT_NET_LB,          /* sheet with seams and take-up, no overage */
  DUCT_PIECE,           /* carries: centreline, net mass */
  DUCT_SEAM,            /* laid length of straights */
  DUCT_BAR,
  DUCT_FLANGE_FT,       /* light slip-on flange, net */
  DUCT_HEAVY_FLANGE_FT,
  DUCT_FRAME,           /* slip-on frames, loose ones too */
  DUCT_SEATED_FRAME,    /* seated in the shop; carries the girth of its end */
  DUCT_SCREW,
  DUCT_SHOP_SCREW,      /* screws driven in the shop, not those of loose frames */
  DUCT_SLIPON_CORNER,
  DUCT_INTEGRAL_CORNER,
  DUCT_INTEGRAL_END,    /* carries the girth of its end */
  DUCT_SD_END,          /* slip-and-drive edges of an end; carries its girth */
  DUCT_FLANGED_JOINT,   /* carries the girth of the joint */
  DUCT_SD_JOINT,        /* carries the girth of the joint */
  DUCT_GASKET_FT,
  DUCT_CLEAT,           /* 6 in cleats */
  DUCT_CLEAT_FT,        /* continuous cleat */
  DUCT_SLIP_FT,
  DUCT_DRIVE_FT,
  DUCT_SD_JOINT_FT,     /* girth of slip-and-drive joints */
  DUCT_HANGER,          /* = strap + trapezes, a fraction a piece */
  DUCT_STRAP,
  DUCT_TRAPEZE_TO_60,
  DUCT_TRAPEZE_OVER_60,
  DUCT_OVER_150_LB,     /* 1 for a piece heavier than a hand lift */
  DUCT_VANE,
  DUCT_VANE_FT,
  DUCT_RAIL_FT,
  DUCT_END_FT2,         /* open face of every end, for film */
  DUCT_FIT_END,         /* cut to fit on site */
  DUCT_LOOSE_FRAME,     /* frame shipped loose for such an end */
  DUCT_END_MADE,        /* ends made by us */
  DUCT_END_OTHERS,      /* ends made by others that a joint of ours closes */
  DUCT_AREA_FT2,        /* geometric area: no seams, no take-up, no allowances */
  DUCT_PIECE_LB,        /* handled weight of the metal: net sheet, or the weight of a bought piece */
  /* stiffening between the joints */
  DUCT_MEMBER,          /* carries: length, mass */
  DUCT_MEMBER_LB,
  DUCT_TIE_ROD,         /* carries its length */
  /* what is bought whole */
  DUCT_DOOR,
  DUCT_DOOR_FT2,
  DUCT_DAMPER_PIECE,    /* carries its girth */
  DUCT_DAMPER_FT2,
  DUCT_PIERCING,        /* hole cut in a main for a collar; carries the girth of the collar */
  /* round and flexible */
  DUCT_COUPLING,        /* carries the girth */
  DUCT_COUPLED_JOINT,   /* carries the girth */
  DUCT_RING,            /* flanged ring on an end; carries the girth */
  DUCT_RING_FT,
  DUCT_RING_JOINT,      /* carries the girth */
  DUCT_ROUND_SCREW,
  DUCT_GORE,            /* carries the girth */
  DUCT_ROUND_FT2,       /* area of bought round pieces */
  DUCT_FLEXIBLE,        /* carries the length */
  DUCT_FLEXIBLE_FT2,    /* girth x length */
  DUCT_CLAMP,           /* carries the girth */
  DUCT_FABRIC_FT,       /* girth of fabric connectors */
  /* lining, wrap, sealing */
  DUCT_LINER_FT2,
  DUCT_ADHESIVE_FT2,
  DUCT_LINER_PIN,
  DUCT_NOSING_FT,
  DUCT_WRAP_FT2,        /* as cut, with the stretch-out allowance */
  DUCT_WRAP_PIN,
  DUCT_SEALED_SEAM_FT,  /* longitudinal seams, in the shop */
  DUCT_SEALED_JOINT_FT, /* transverse joints beyond what a joint's own recipe seals */
  DUCT_SEALED_WALL_FT,  /* penetrations of the wall */
  DUCT_TEST_FT2,        /* area of a leakage test */
  /* supports by a rule set that lists their parts */
  DUCT_SUPPORT,         /* sets counted by parts, a fraction a piece; carries nothing */
  DUCT_SUPPORT_STRAP_FT,
  DUCT_SUPPORT_ROD_FT,
  DUCT_SUPPORT_BAR_FT,  /* trapeze */
  DUCT_UPPER_FIXING,    /* to the structure */
  DUCT_RISER_SUPPORT,
  DUCT_RING_BOLT,       /* of the joints of flanged rings */
  DUCT_COUPLING_FT,     /* girth of couplings */
  DUCT_LINER_BOARD_FT2, /* liner area x thickness in inches */
  DUCT_WRAP_BOARD_FT2,  /* wrap area as cut x thickness on the label in inches */
  DUCT_N_DRIVERS,
} DuctDriver;

/* Slots of a lot: the drivers, then the lengths that counted drivers carry. */
typedef enum
{
  DUCT_LEN_PIECE = DUCT_N_DRIVERS,
  DUCT_LEN_SEATED_FRAME,
  DUCT_LEN_INTEGRAL_END,
  DUCT_LEN_SD_END,
  DUCT_LEN_FLANGED_JOINT,
  DUCT_LEN_MEMBER,
  DUCT_LEN_TIE_ROD,
  DUCT_LEN_DAMPER,
  DUCT_LEN_PIERCING,
  DUCT_LEN_COUPLED_JOINT,
  DUCT_LEN_RING_JOINT,
  DUCT_LEN_GORE,
  DUCT_LEN_FLEXIBLE,
  DUCT_LEN_CLAMP,
  DUCT_N_SLOTS,
} DuctSlot;

typedef enum
{
  DUCT_UNIT_COUNT,
  DUCT_UNIT_LENGTH,
  DUCT_UNIT_AREA,
  DUCT_UNIT_MASS,
} DuctUnit;

typedef struct
{
  const char *key;   /* as written in recipes */
  const char *name;  /* N_() */
  DuctUnit unit;
  int length_slot;   /* of the length carried, -1 none */
  int mass_slot;     /* of the mass carried, -1 none */
  gint64 most;       /* no piece has more: bound of the proof against overflow */
} DuctDriverInfo;

const DuctDriverInfo *duct_driver_info (DuctDriver driver);
/* -1 when there is no such driver. */
int duct_driver_find (const char *key);
/* Largest value a slot can hold on one piece. */
gint64 duct_slot_most (int slot);

/* How a run is to be built, where that is not left to the rule set's plain gauge. */
typedef struct
{
  gint64 spacing;     /* nm, the most between joint and member, or members; DUCT_UNSET: nothing between the joints */
  gint16 member;      /* index into the rules' members, -1 none */
  gint16 rods;        /* tie rods at each station between the joints */
  gint16 joint_rods;  /* tie rods at each joint */
  gint16 short_sheet; /* index + 1 of the sheet of a straight's two shorter sides, 0: one gauge all round */
} DuctStiffening;

#define DUCT_NO_STIFFENING ((DuctStiffening) { DUCT_UNSET, -1, 0, 0, 0 })

/* One run as geometry. Plain data without gaps: cleared with duct_shape_init(), compared by duct_shape_equal(). Lengths in
 * nm, DUCT_UNSET where a default of the kind is meant. */
typedef struct
{
  gint64 w, h;     /* of the metal; h = 0: a diameter */
  gint64 dim[DUCT_N_DIMS];
  gint64 pressure; /* thousandths of an inch w.g., with sign */
  gint64 coil;     /* width of coil for straight pieces, DUCT_UNSET: the connection's */
  gint64 liner;    /* thickness of the liner, 0 none */
  gint64 drop;     /* from the structure to the top of the duct, 0 not known */
  DuctStiffening stiffening;
  gint32 fit_pieces;
  gint16 sheet_pin; /* index of a sheet entered on the run, -1: by the rule set */
  gint16 wrap;      /* index into the rules' wraps, -1 none */
  guint8 kind, metal, exposure, on_edge, first_end, last_end;
  guint8 seal;      /* 0 none named, else index into the rules' seal classes + 1 */
  guint8 riser;     /* stands upright: supported at floors */
  guint8 tested;    /* a leakage test is priced */
  guint8 fast;      /* stream over the speed up to which liner pins stand wide */
  guint8 supports;  /* 0: supports by the rule set of the gauge, else index of the set that tells them + 1 */
  guint8 zero[5];
} DuctShape;

void duct_shape_init (DuctShape *shape, DuctKind kind);
gboolean duct_shape_equal (const DuctShape *a, const DuctShape *b);
guint duct_shape_hash (const DuctShape *shape);

/* A fault of a shape and the dimension it lies in. */
typedef struct
{
  DuctDim dim;
  Fault *fault;
} DuctProblem;

void duct_problem_clear (DuctProblem *problem);

/* Fills in the defaults of the kind and checks every bound: sides over 1 5/16 in and up to 20 ft, lengths, an offset shorter
 * than its length, angles over 0 to 90 (mitred) or 180 degrees. FALSE with @problem filled. */
gboolean duct_shape_resolve (const DuctRules *rules, DuctShape *shape, DuctProblem *problem);

/* How a run is built. */
typedef struct
{
  int set;      /* rule set whose supports are taken, -1 none */
  int connection;
  int sheet;
  int rule_row;  /* of the gauge in the rules' gauge_rows, -1 when it is not from there */
  int round_row; /* of the gauge in the rules' round_gauges, -1 when it is not from there */
  DuctStiffening stiffening;
  int side_row[2];     /* rows of the reinforcement table that admit the sides W and H, -1 none: see duct/stiff.h */
  gboolean not_by_set; /* entered by hand, and the set's reinforcement table does not allow it */
} DuctBuild;

/* Whether a connection may be used on a (resolved) shape; the reason in words when not. */
gboolean duct_connection_allows (const DuctRules *rules, int connection, const DuctShape *shape, char **reason);

/* Gauge by the rule set, or the pinned sheet; round duct by the round rows of the set, by the seam of the connection. Flexible
 * duct, which is made of no sheet, is never refused for want of a row: it gets the first sheet, which nothing is weighed by. */
gboolean duct_choose_build (const DuctRules *rules, int set, int connection, const DuctShape *shape, DuctBuild *build,
                            DuctProblem *problem);

/* Whether a set answers pieces whose ends are made as this connection makes them; @fault: why it does not. */
gboolean duct_set_answers (const DuctRules *rules, int set, int connection, const DuctShape *shape, Fault **fault);

/* Where a gauge comes from; borrowed from the rules. */
typedef struct
{
  const char *set, *set_name; /* key and name of the rule set */
  gint64 class_to; /* thousandths of an inch w.g. */
  gint64 side_to;  /* nm, the diameter of round duct; G_MAXINT64 without limit */
  gboolean round;
  const char *note; /* what the row asks for beside the gauge, or "" */
  const char *source;
  DuctStatus status;
} DuctGaugeOrigin;

/* FALSE: no row was looked up, as the gauge was entered on the run or the piece has no sheet of ours. */
gboolean duct_build_origin (const DuctRules *rules, const DuctBuild *build, DuctGaugeOrigin *origin);
/* Whether a gauge says anything of a kind: of all that are measured but flexible duct. */
gboolean duct_kind_has_gauge (DuctKind kind);

/* How the "construction" cell of a run is written: "48 in pieces; 1 1/2x1 1/2x1/8 at 2.5 ft; 1 rod", each part optional. Without
 * a member the spacing stands behind the rods, "2 rods at 2.5 ft"; "1 rod at joints" and "24 ga on shorter sides" are parts too.
 * The width is that of the coil, of which the connection takes its share. @metal: of a gauge in it. @coil: DUCT_UNSET when no
 * width of coil stands in it. "plain" (nothing beside the gauge) and "own gauge" (entered by hand, kept when chosen anew) are read
 * and mean nothing here. What was printed is read back to the same figures. */
gboolean duct_stiffening_parse (const DuctRules *rules, const char *text, DuctMetal metal, DuctStiffening *stiffening, gint64 *coil, Fault **fault);
char *duct_stiffening_print (const DuctRules *rules, const DuctStiffening *stiffening, gint64 coil);

/* Cautions that a measurement brings with it, as bits. */
typedef enum
{
  DUCT_NOTE_CLEAT_GAP = 1 << 0,      /* over 6 to 10 in w.g. */
  DUCT_NOTE_CLEAT_LOW = 1 << 1,      /* below 1.5 in w.g. practice names no spacing */
  DUCT_NOTE_CLEAT_WEATHER = 1 << 2,
  DUCT_NOTE_DOUBLE_VANES = 1 << 3,
  DUCT_NOTE_LONG_VANES = 1 << 4,     /* longer than the longest published vane */
  DUCT_NOTE_OTHER_METAL = 1 << 5,    /* the recipes know one sheet */
  DUCT_NOTE_LONG_FLEXIBLE = 1 << 6,  /* longer than the allowance for a flexible run */
  DUCT_NOTE_HANGER_LOAD = 1 << 7,        /* more on a hanger than the table allows */
  DUCT_NOTE_NO_SUPPORT = 1 << 8,         /* the set lists supports, but none for this size */
  DUCT_NOTE_NO_DROP = 1 << 9,            /* straps and rods without the way to the structure */
  DUCT_NOTE_NO_LINER_PINS = 1 << 10,     /* no row of pins */
  DUCT_NOTE_ROUND_LINER = 1 << 11,       /* the rule of pins is for flat sides */
  DUCT_NOTE_NOSING = 1 << 12,            /* fast stream */
  DUCT_NOTE_LOOSE_SEAL = 1 << 13,        /* the class asks for a tighter seal */
  DUCT_NOTE_BREAKAWAY = 1 << 14,         /* side longer than the rows of break-away joints */
  DUCT_NOTE_NOT_BY_SET = 1 << 15,     /* entered, but not allowed by the set's reinforcement table */
  DUCT_NOTE_RING = 1 << 16,           /* the gauge of round duct asks for stiffening rings */
} DuctNote;
/* How many bits are in use. Not a bit itself, so it stands outside the list. */
#define DUCT_N_NOTES 17

/* Words of one note bit. */
const char *duct_note_words (DuctNote note);

typedef struct
{
  gint64 n;                  /* like pieces in one run */
  gint64 length;             /* nm laid, of straights; else the centreline */
  gint64 one[DUCT_N_SLOTS];  /* of one piece */
} DuctLot;

typedef struct
{
  int n_lots;
  guint notes;
  DuctLot lot[8];
} DuctMeasure;

/* Measures one run (count 1) of a resolved shape. Pure: no allocation, no state; FALSE only with a problem that words can
 * tell (too many pieces cut on site, a piece too heavy). */
gboolean duct_measure (const DuctRules *rules, const DuctShape *shape, const DuctBuild *build, DuctMeasure *out,
                       DuctProblem *problem);

/* Joints of any make that one piece brings, thousandths. */
gint64 duct_lot_joints (const DuctLot *lot);
/* Sum over the lots of a slot, times nothing else. */
gint64 duct_measure_sum (const DuctMeasure *measure, int slot);

/* Area (mm2) of all walls from end plane to end plane, inside dimensions, zero thickness, no seams, no flanges, ends open, and
 * centreline (mm), of one fitting or of a straight of its whole length. */
typedef struct
{
  double area_mm2;
  double centreline_mm;
  double vane_mm, rail_mm;  /* mitred elbows: length of one vane, of one rail */
} DuctGeometry;

/* Diameter (nm) of the round duct that loses as much pressure at the same flow as the rectangle @w x @h (nm): 1.30 (w h)^0.625 /
 * (w + h)^0.25, Huebscher 1948, as the ASHRAE Handbook Fundamentals 2001 gives it. */
gint64 duct_equivalent_diameter (gint64 w, gint64 h);

/* How much of a length measured straight through it a fitting takes up, in nm, for a take-off along the centrelines; 0 for what
 * does not stand in the line. @shape must be resolved. The convention:
 * - an elbow: its two legs from the end planes to where the centrelines meet, 2 R tan (th / 2), mitred 2 legs + A tan (th / 2);
 *   over 90 degrees as two bends of half the angle, since the centrelines then meet too far away;
 * - transition, offset, square to round, reducer, damper, fabric connector: end plane to end plane along the line;
 * - a tee: the length of its main; its branch is measured from the end of its collar;
 * - a wye: the length of a branch, whose centreline begins in the trunk's end plane. */
gint64 duct_through_length (const DuctRules *rules, const DuctShape *shape);

/* @shape must be resolved. */
void duct_geometry (const DuctRules *rules, const DuctShape *shape, DuctGeometry *out);

G_END_DECLS

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

/* One run as geometry. Plain data without padding that matters: cleared with duct_shape_init(), compared by
 * duct_shape_equal(). Lengths in nm, DUCT_UNSET where a default of the kind is meant. */
typedef struct
{
  gint64 w, h;
  gint64 dim[DUCT_N_DIMS];
  gint64 pressure; /* thousandths of an inch w.g., with sign */
  gint64 coil;     /* width of coil for straight pieces, DUCT_UNSET: the connection's */
  gint32 fit_pieces;
  gint16 sheet_pin; /* index of a sheet entered on the run, -1: by the rule set */
  guint8 kind, metal, exposure, on_edge, first_end, last_end;
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
  int connection;
  int sheet;
  int rule_row; /* of the gauge, -1 when the gauge was entered */
} DuctBuild;

/* Whether a connection may be used on a (resolved) shape; the reason in words when not. */
gboolean duct_connection_allows (const DuctRules *rules, int connection, const DuctShape *shape, char **reason);

/* Gauge by the rule set, or the pinned sheet. */
gboolean duct_choose_build (const DuctRules *rules, int set, int connection, const DuctShape *shape, DuctBuild *build,
                            DuctProblem *problem);

/* Cautions that a measurement brings with it, as bits. */
typedef enum
{
  DUCT_NOTE_CLEAT_GAP = 1 << 0,      /* over 6 to 10 in w.g. */
  DUCT_NOTE_CLEAT_LOW = 1 << 1,      /* below 1.5 in w.g. practice names no spacing */
  DUCT_NOTE_CLEAT_WEATHER = 1 << 2,
  DUCT_NOTE_DOUBLE_VANES = 1 << 3,
  DUCT_NOTE_LONG_VANES = 1 << 4,     /* longer than the longest published vane */
  DUCT_NOTE_OTHER_METAL = 1 << 5,    /* the recipes know one sheet */
  DUCT_N_NOTES = 6,
} DuctNote;

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

/* @shape must be resolved. */
void duct_geometry (const DuctRules *rules, const DuctShape *shape, DuctGeometry *out);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/csv.h"
#include "duct/kind.h"

G_BEGIN_DECLS

/* Where a figure comes from; printed beside every result that rests on it. */
typedef enum
{
  DUCT_PUBLISHED,
  DUCT_PUBLISHED_SECONDARY, /* only a secondary copy was seen */
  DUCT_COMPUTED,
  DUCT_COMMON_PRACTICE,
  DUCT_FROM_MEMORY,
  DUCT_SHOPS_OWN,
  DUCT_INVENTED_DEMO,
  DUCT_N_STATUSES,
} DuctStatus;

const char *duct_status_key (DuctStatus status);
gboolean duct_status_parse (const char *text, DuctStatus *status);

typedef struct
{
  DuctMetal metal;
  char *label;          /* gauge number, or the thickness in inches where a metal is bought by it */
  gint64 thickness_nm;  /* nominal */
  double mg_per_mm2;    /* nominal weight */
  char *source;
  DuctStatus status;
} DuctSheet;

typedef struct
{
  int set;
  DuctMetal metal;
  gint64 class_from, class_to; /* thousandths of an inch w.g., inclusive, sign left out */
  gint64 side_to_nm;
  int sheet;
  char *note;          /* reinforcement the row asks for, in words, or "" */
  char *source;
  DuctStatus status;
  int line;            /* of the table's text */
} DuctGaugeRow;

typedef struct
{
  char *key, *name, *scope;
  int edge;             /* DuctEdge: only pieces whose ends are made so are answered; -1 any */
  gboolean exact_class; /* a class without rows of its own is not answered by the next higher one */
  gboolean joints_only; /* spacing counts from joint to joint: what stands between them makes no closer spacing */
  char *source;
  DuctStatus status;
} DuctRuleSet;

/* The seam of round duct. */
typedef enum
{
  DUCT_SEAM_SPIRAL,
  DUCT_SEAM_LONGITUDINAL,
  DUCT_N_SEAMS,
} DuctSeam;

/* How an end is made. */
typedef enum
{
  DUCT_EDGE_SLIP_ON,
  DUCT_EDGE_INTEGRAL,
  DUCT_EDGE_SLIP_DRIVE,
  DUCT_EDGE_COUPLED,  /* round: slips onto the next piece, two lengths of duct by a coupling */
  DUCT_EDGE_RINGED,   /* round: flanged ring */
} DuctEdge;

typedef struct
{
  char *key;
  gint64 coil_nm;      /* default width of the coil that a straight piece is made from */
  gint64 take_up_nm;   /* of a straight's blank, lost in forming both ends */
  DuctEdge straight_end, fitting_end;
  gint64 class_to;     /* thousandths of an inch w.g.; G_MAXINT64 where there is no limit */
  gint64 side_to_nm;   /* longer side; G_MAXINT64 where there is no limit */
  gboolean outdoors;   /* may be used outdoors */
  DuctSection section; /* DUCT_RECT or DUCT_ROUND */
  int seam;            /* DuctSeam of round duct, -1 for rectangular */
  char *source;
  DuctStatus status;
} DuctConnection;

typedef struct
{
  gint64 upto;    /* class in thousandths of an inch w.g., length in nm, or sheet thickness in nm */
  gint64 value;   /* nm; 0 = continuous */
  gint64 extra;   /* vanes: nominal vane width in nm; flange profiles: 1 for the heavy profile */
  int connection; /* index, -1 any; screws and cleats */
  int end;        /* DuctEnd, -1 any; screws and cleats */
  gint64 side_to; /* cleats counted by the side instead of by a spacing: nm, 0 none */
  gint64 count;   /* of such a row: a side */
  char *source;
  DuctStatus status;
} DuctStep;

/* ---- stiffening: rules-stiff.c ---- */

/* Bending stiffness that a code letter stands for. */
typedef struct
{
  char *key;   /* "A" */
  double ei;   /* 1e5 lb in2 */
  char *source;
  DuctStatus status;
} DuctStiffness;

/* An angle or channel fixed across a side between the joints. */
typedef struct
{
  char *key;   /* "1 1/2x1 1/2x1/8" */
  char *form;
  double ei;   /* 1e5 lb in2, computed or of a table */
  double mg_per_mm;
  char *source;
  DuctStatus status;
} DuctMember;

/* What a joint is worth as a stiffener. */
typedef struct
{
  int connection;
  gint64 height_nm;
  int sheet;        /* lightest duct sheet the row answers for */
  int code;         /* index into the stiffness classes, -1: worth nothing */
  gint64 class_to;  /* thousandths of an inch w.g. */
  char *source;
  DuctStatus status;
  int set;          /* -1: any */
  int line;
} DuctJointRating;

/* One cell of a reinforcement table: at this class, side and spacing the lightest sheet and the code it needs. */
typedef struct
{
  int set;
  gint64 class_to;
  int sign;          /* +1, -1, 0 either */
  gint64 side_from_nm, side_to_nm;
  gint64 spacing_nm; /* most; G_MAXINT64 where no spacing is named */
  int sheet;
  int code;          /* index into the stiffness classes, -1: none needed */
  char *source;
  DuctStatus status;
  char *note;        /* what the source says beyond the code, or "" */
  int line;
} DuctReinforcement;

/* A stretch of the reinforcement rows (which are sorted) that are of one set, class and sign. */
typedef struct
{
  int set, sign;
  gint64 class_to;
  guint first, n;
} DuctStiffBlock;

/* A sheet that the reinforcement rows of a set name. */
typedef struct
{
  int set, sheet;
} DuctStiffSheet;

/* Tie rods that may stand for a member of a code up to code_to. */
typedef struct
{
  int set;
  gint64 class_to, side_to_nm;
  int code_to;       /* index into the stiffness classes */
  gint64 rods;       /* at a station across the side */
  char *source;
  DuctStatus status;
  int line;
} DuctTieRods;

/* ---- round: rules-round.c ---- */

typedef struct
{
  int set;
  DuctMetal metal;
  gint64 class_to;
  int sign;        /* +1, -1, 0 either */
  int seam;        /* DuctSeam, -1 either */
  gint64 dia_to_nm;
  int sheet;
  char *ring;      /* stiffening ring the row asks for, in words, or "" */
  char *ring_words; /* it with its spacing, and that it is not counted; or "" */
  gint64 ring_spacing_nm;
  char *source;
  DuctStatus status;
} DuctRoundGauge;

typedef struct
{
  gint64 angle_to; /* microdegrees */
  gint64 dia_to_nm;
  gint64 gores;
  char *source;
  DuctStatus status;
} DuctGores;

/* ---- lining, wrap, sealing: rules-lining.c ---- */

typedef struct
{
  char *key;       /* label thickness in inches: "1.5" */
  gint64 thickness_nm; /* as on the label */
  gint64 installed_nm, round_add_nm, square_add_nm, rect_add_nm;
  double mg_per_mm2;   /* 0: not known */
  char *source;
  DuctStatus status;
} DuctWrap;

typedef struct
{
  gint64 speed_to_fpm;
  gint64 across_nm, along_nm;
  gint64 adhesive_ppm; /* cover of the liner */
  char *source;
  DuctStatus status;
} DuctLinerPins;

typedef struct
{
  char *edition, *key; /* "A" */
  gboolean joints, seams, walls;
  gint64 class_to; /* highest class that it is enough for; G_MAXINT64 where there is no limit */
  char *source;
  DuctStatus status;
} DuctSealClass;

typedef struct
{
  char *edition, *seal;
  gint64 class_to;
  double rect_cl, round_cl; /* cfm per 100 ft2 at 1 in w.g.; below 0: no row */
  char *source;
  DuctStatus status;
} DuctLeakage;

/* ---- supports and gaskets: rules-support.c ---- */

typedef struct
{
  int set;
  DuctSection section; /* DUCT_RECT, DUCT_ROUND, DUCT_RECT_OR_ROUND */
  gboolean flexible;   /* the row answers for flexible duct, and no other does */
  gint64 half_perimeter_to_nm, side_to_nm;
  gint64 spacing_nm;
  int hanger;            /* index into the hanger loads */
  gint64 elbow_extra, branch_extra; /* supports beside each, in thousandths */
  char *source;
  DuctStatus status;
} DuctSupport;

typedef enum
{
  DUCT_HANGER_STRAP,
  DUCT_HANGER_ROD,
  DUCT_HANGER_TRAPEZE,
  DUCT_N_HANGER_FORMS,
} DuctHangerForm;

typedef struct
{
  char *key;             /* "strap 1x22", "rod 3/8" */
  DuctHangerForm form;
  gint64 load_mg;        /* allowable on one strap or rod, 0 not known */
  char *source;
  DuctStatus status;
} DuctHangerLoad;

typedef struct
{
  int connection;        /* -1 any */
  int end;               /* DuctEnd, -1 any */
  gint64 class_to;
  gint64 factor_ppm;     /* on the gasket's length */
  char *source;
  DuctStatus status;
} DuctGasket;

typedef struct
{
  gint64 pressure;       /* thousandths of an inch w.g. */
  gint64 pa;
  gint64 over, up_to;    /* operating, thousandths of an inch w.g. */
  char *source;
  DuctStatus status;
} DuctPressureClass;

/* Single figures, data/allowances.csv. Lengths in nm, the mass in mg. */
typedef enum
{
  DUCT_ALLOW_SEAM,
  DUCT_ALLOW_SCREW_EDGE,
  DUCT_ALLOW_GASKET_STRIPS,
  DUCT_ALLOW_DRIVE_EXTRA,
  DUCT_ALLOW_TAP_FLANGE,
  DUCT_ALLOW_CAP_EDGE,
  DUCT_ALLOW_SHORT_PIECE,
  DUCT_ALLOW_HANGER_SPACING,
  DUCT_ALLOW_STRAP_HALF_PERIMETER,
  DUCT_ALLOW_TRAPEZE_WIDTH,
  DUCT_ALLOW_HEAVY_LIFT,
  DUCT_ALLOW_MITRE_LEGS,
  DUCT_ALLOW_TRANSITION_LENGTH,
  DUCT_ALLOW_OFFSET_LENGTH,
  DUCT_ALLOW_OFFSET_ASIDE,
  DUCT_ALLOW_TAP_LENGTH,
  DUCT_ALLOW_N_FIRST, /* the ones above every catalogue has; the ones below have a default, so that older catalogues read */
  DUCT_ALLOW_TEE_BRANCH = DUCT_ALLOW_N_FIRST,
  DUCT_ALLOW_WYE_LENGTH,
  DUCT_ALLOW_BOOT,             /* how much longer a boot tap is at its base */
  DUCT_ALLOW_COLLAR_LENGTH,    /* spin-ins and saddle taps */
  DUCT_ALLOW_SADDLE_FLANGE,
  DUCT_ALLOW_DAMPER_LENGTH,
  DUCT_ALLOW_FABRIC_LENGTH,
  DUCT_ALLOW_REDUCER_LENGTH,
  DUCT_ALLOW_SPIRAL_LAP,       /* sheet in the lock seam of spiral duct, per width of strip */
  DUCT_ALLOW_SPIRAL_STRIP,     /* width of the strip that spiral duct is wound from */
  DUCT_ALLOW_ROUND_SCREW,      /* spacing of the screws of a round joint; three at least */
  DUCT_ALLOW_LINER_EDGE,       /* pins from a transverse edge */
  DUCT_ALLOW_LINER_NO_PINS,    /* sides up to this need none */
  DUCT_ALLOW_LINER_FROM_CORNER,
  DUCT_ALLOW_WRAP_PINS_FROM,   /* widths from this are pinned underneath */
  DUCT_ALLOW_WRAP_PIN_SPACING,
  DUCT_ALLOW_RISER_SPACING,
  DUCT_ALLOW_ROUND_LEAST,      /* smallest diameter of round duct */
  DUCT_ALLOW_RING_BOLT,        /* spacing of the bolts of flanged rings; four at least */
  DUCT_ALLOW_FLEXIBLE_RUN,     /* longest flexible duct without a caution */
  DUCT_ALLOW_FLEXIBLE_HANGER,  /* spacing of its hangers */
  DUCT_ALLOW_STRAP_TURN,       /* of a strap, at the structure and under the duct together */
  DUCT_ALLOW_TRAPEZE_CLEAR,    /* rod of a trapeze from the side of the duct */
  DUCT_N_ALLOWANCES,
} DuctAllowance;

typedef struct
{
  gint64 value;
  char *source;
  DuctStatus status;
} DuctFigure;

/* Everything that construction needs to know; immutable once read, shared by reference. */
typedef struct
{
  gatomicrefcount refs;
  GPtrArray *sheets;      /* DuctSheet * */
  GPtrArray *sets;        /* DuctRuleSet * */
  GPtrArray *gauge_rows;  /* DuctGaugeRow *, in file order: by class, then side */
  GPtrArray *connections; /* DuctConnection * */
  GPtrArray *screws;      /* DuctStep *: spacing of frame screws by class */
  GPtrArray *cleats;      /* DuctStep *: spacing of cleats by class */
  GPtrArray *vanes;       /* DuctStep *: pitch of turning vanes by vane length */
  GPtrArray *profiles;    /* DuctStep *: what a bar is shorter than the side, by sheet thickness */
  DuctFigure allow[DUCT_N_ALLOWANCES];
  GPtrArray *stiffness; /* DuctStiffness * */
  GPtrArray *members; /* DuctMember * */
  GPtrArray *joint_ratings; /* DuctJointRating * */
  GPtrArray *reinforcement; /* DuctReinforcement * */
  GPtrArray *tie_rods; /* DuctTieRods * */
  GArray *stiff_blocks; /* DuctStiffBlock */
  GArray *stiff_sheets; /* DuctStiffSheet: by set, the thinnest first */
  GPtrArray *round_gauges; /* DuctRoundGauge * */
  GPtrArray *gores; /* DuctGores * */
  GPtrArray *wraps; /* DuctWrap * */
  GPtrArray *liner_pins; /* DuctLinerPins * */
  GPtrArray *seal_classes; /* DuctSealClass * */
  GPtrArray *leakage; /* DuctLeakage * */
  GPtrArray *supports; /* DuctSupport * */
  GPtrArray *hanger_loads; /* DuctHangerLoad * */
  GPtrArray *gaskets; /* DuctGasket * */
  GPtrArray *pressure_classes; /* DuctPressureClass * */
} DuctRules;

/* The tables a DuctRules is read from; the names are those of the files in data/ without ".csv". */
typedef struct
{
  const CsvTable *sheets, *rule_sets, *gauges, *connections, *screws, *cleats, *vanes, *profiles, *allowances;
  const CsvTable *stiffness, *members, *joint_ratings, *reinforcement, *tie_rods;
  const CsvTable *round_gauges, *gores;
  const CsvTable *wraps, *liner_pins, *seal_classes, *leakage;
  const CsvTable *supports, *hanger_loads, *gaskets, *pressure_classes;
} DuctRuleTables;

/* Reads and checks every table. Returns NULL when any fault was found; all of them are added to @faults (CsvFault *). */
DuctRules *duct_rules_new (const DuctRuleTables *tables, GPtrArray *faults);
DuctRules *duct_rules_ref (DuctRules *rules);
void duct_rules_unref (DuctRules *rules);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DuctRules, duct_rules_unref)

int duct_rules_find_set (const DuctRules *rules, const char *key);
int duct_rules_find_connection (const DuctRules *rules, const char *key);
int duct_rules_find_sheet (const DuctRules *rules, DuctMetal metal, const char *label);

/* By its key, and of the edition (NULL or "": the first edition of the table). */
int duct_rules_find_seal (const DuctRules *rules, const char *edition, const char *key);
/* Whether the tables of seal classes or leakage have an edition; NULL or "" is the first one. */
gboolean duct_rules_has_edition (const DuctRules *rules, const char *edition);
int duct_rules_find_wrap (const DuctRules *rules, const char *key);
int duct_rules_find_member (const DuctRules *rules, const char *key);
/* Whether a rule set lists supports by parts (else hangers come complete, as the allowances say). */
gboolean duct_rules_has_supports (const DuctRules *rules, int set);

static inline const DuctSheet *
duct_rules_sheet (const DuctRules *rules, int i)
{
  return g_ptr_array_index (rules->sheets, (guint) i);
}

static inline const DuctConnection *
duct_rules_connection (const DuctRules *rules, int i)
{
  return g_ptr_array_index (rules->connections, (guint) i);
}

/* The row of a set that answers for a class (thousandths of an inch w.g., either sign) and a longest side; -1 with the
 * reason when none does. The class takes the first class of the set not below it, a side between rows the next row up. */
int duct_rules_gauge (const DuctRules *rules, int set, DuctMetal metal, gint64 pressure, gint64 side_nm, Fault **fault);
/* The set that a job starts with where nobody chose one: the first that answers galvanised duct of class 2 in w.g. with a side of
 * 60 in (common practice), else the first; -1 when there is none. */
int duct_rules_start_set (const DuctRules *rules);

/* The row of a set that answers for round duct: of this class (thousandths of an inch w.g.; its sign chooses among rows of a sign),
 * seam and diameter; -1 with the reason when none does. The class takes the first class of such rows not below it, a diameter the
 * first diameter not below it; a row without sign or seam answers for either. */
int duct_rules_round_gauge (const DuctRules *rules, int set, DuctMetal metal, gint64 pressure, DuctSeam seam, gint64 diameter,
                            Fault **fault);
/* Row of the gores table for an elbow (microdegrees, nm): the smallest angle not below it, then the smallest diameter; -1. */
int duct_rules_gores (const DuctRules *rules, gint64 angle, gint64 diameter);
const char *duct_seam_key (DuctSeam seam);
/* "roll-formed integral flange", translated. */
const char *duct_edge_words (DuctEdge edge);
/* What a set keeps to beside its scope, of the optional columns of its table: "only roll-formed integral flange; ..."; "" nothing.
 * (transfer full) */
char *duct_set_limits (const DuctRules *rules, int set);

/* First row whose @upto is not below @key; NULL past the last. Rows for one connection or end alone are passed over. */
const DuctStep *duct_rules_step (const GPtrArray *rows, gint64 key);
/* The same for a connection and an end, where the most special rows that answer go first: those of the connection at that end,
 * then of the connection, of the end, and the general ones. Rows that count by the side are passed over. */
const DuctStep *duct_rules_step_at (const GPtrArray *rows, gint64 key, int connection, DuctEnd end);
/* The row that counts by the side for a side of @side_nm; NULL with *asked set when there are such rows for this joint but all
 * end below the side, NULL and *asked FALSE when there are none. */
const DuctStep *duct_rules_side_step (const GPtrArray *rows, gint64 key, int connection, DuctEnd end, gint64 side_nm,
                                      gboolean *asked);
/* Factor on the length of gasket of a joint, ppm: of the most special row that answers; 1 000 000 where none does. */
gint64 duct_rules_gasket (const DuctRules *rules, gint64 pressure, int connection, DuctEnd end);

/* The row of supports of a set that answers for a half perimeter and a longer side (a diameter: half its girth and itself);
 * NULL when none does. */
const DuctSupport *duct_rules_support (const DuctRules *rules, int set, DuctSection section, gboolean flexible,
                                       gint64 half_perimeter_nm, gint64 side_nm);
/* The row of a class, either sign; NULL when @pressure is no class of the table. */
const DuctPressureClass *duct_rules_pressure_class (const DuctRules *rules, gint64 pressure);

G_END_DECLS

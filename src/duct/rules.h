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
} DuctGaugeRow;

typedef struct
{
  char *key, *name, *scope;
  char *source;
  DuctStatus status;
} DuctRuleSet;

/* How an end is made. */
typedef enum
{
  DUCT_EDGE_SLIP_ON,
  DUCT_EDGE_INTEGRAL,
  DUCT_EDGE_SLIP_DRIVE,
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
  char *source;
  DuctStatus status;
} DuctConnection;

typedef struct
{
  gint64 upto;    /* class in thousandths of an inch w.g., length in nm, or sheet thickness in nm */
  gint64 value;   /* nm; 0 = continuous */
  gint64 extra;   /* vanes: nominal vane width in nm; flange profiles: 1 for the heavy profile */
  char *source;
  DuctStatus status;
} DuctStep;

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
} DuctRules;

/* The tables a DuctRules is read from; the names are those of the files in data/ without ".csv". */
typedef struct
{
  const CsvTable *sheets, *rule_sets, *gauges, *connections, *screws, *cleats, *vanes, *profiles, *allowances;
} DuctRuleTables;

/* Reads and checks every table. Returns NULL when any fault was found; all of them are added to @faults (CsvFault *). */
DuctRules *duct_rules_new (const DuctRuleTables *tables, GPtrArray *faults);
DuctRules *duct_rules_ref (DuctRules *rules);
void duct_rules_unref (DuctRules *rules);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (DuctRules, duct_rules_unref)

int duct_rules_find_set (const DuctRules *rules, const char *key);
int duct_rules_find_connection (const DuctRules *rules, const char *key);
int duct_rules_find_sheet (const DuctRules *rules, DuctMetal metal, const char *label);

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

/* First row whose @upto is not below @key; NULL past the last. */
const DuctStep *duct_rules_step (const GPtrArray *rows, gint64 key);

G_END_DECLS

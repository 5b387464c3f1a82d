/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/measure.h"
#include "labour/labour.h"

G_BEGIN_DECLS

/* The sheets a catalogue consists of; keys are the names of the files in data/ without ".csv". Each is a table of text
 * cells with headings; the compiled Catalogue is made from them and from nothing else, so that a starter file, an import
 * and a stored revision are read and checked by the same code. */
typedef enum
{
  CATALOGUE_SHEETS,
  CATALOGUE_RULE_SETS,
  CATALOGUE_GAUGES,
  CATALOGUE_CONNECTIONS,
  CATALOGUE_SCREWS,
  CATALOGUE_CLEATS,
  CATALOGUE_VANES,
  CATALOGUE_PROFILES,
  CATALOGUE_ALLOWANCES,
  CATALOGUE_CREWS,
  CATALOGUE_STEPS,
  CATALOGUE_CONDITIONS,
  CATALOGUE_ITEMS,
  CATALOGUE_METHODS,
  CATALOGUE_RECIPES,
  CATALOGUE_BUILDUP,
  CATALOGUE_STIFFNESS,
  CATALOGUE_MEMBERS,
  CATALOGUE_JOINT_RATINGS,
  CATALOGUE_REINFORCEMENT,
  CATALOGUE_TIE_RODS,
  CATALOGUE_ROUND_GAUGES,
  CATALOGUE_GORES,
  CATALOGUE_WRAPS,
  CATALOGUE_LINER_PINS,
  CATALOGUE_SEAL_CLASSES,
  CATALOGUE_LEAKAGE,
  CATALOGUE_SUPPORTS,
  CATALOGUE_HANGER_LOADS,
  CATALOGUE_GASKETS,
  CATALOGUE_PRESSURE_CLASSES,
  CATALOGUE_STUDIES,
  CATALOGUE_OBSERVATIONS,
  CATALOGUE_CLAIMS,
  CATALOGUE_BURDENS,
  CATALOGUE_OVERTIME_LOSS,
  CATALOGUE_N_SHEETS,
} CatalogueSheet;

const char *catalogue_sheet_key (CatalogueSheet sheet);
int catalogue_sheet_find (const char *key);

typedef enum
{
  COST_MATERIAL,
  COST_RENTAL,  /* untaxed */
  COST_ONCE,    /* tooling: beside a comparison, in no bid */
  COST_N_GROUPS,
} CostGroup;

/* What an item serves, for "hardware a joint" and the counts of a measurement. */
typedef enum
{
  COST_USE_OTHER,
  COST_USE_SHEET,
  COST_USE_JOINT,    /* flange, corners, fasteners, gasket, cleats, sealant of joints */
  COST_USE_BOLT,     /* joint hardware too */
  COST_USE_FASTENER, /* joint hardware too */
  COST_USE_HANGER,
  COST_N_USES,
} CostUse;

typedef struct
{
  char *key, *unit;
  gint64 price;       /* ten-thousandths a unit */
  gint64 low, high;   /* likewise: what the price may come to; both the price where none is told */
  gint64 overage_ppm;
  CostGroup group;
  CostUse use;
  gint64 mg_per_unit; /* adds to the shipped weight */
  gboolean again;     /* spent once more on a joint that is remade */
  char *source;
  DuctStatus status;
} CostItem;

typedef struct
{
  char *key;
  char *name;
  int connection;
  int fallback;       /* method used where the connection is not allowed, -1 none */
  int round;          /* method used on round duct by a method for rectangular duct, -1 none */
  GStrv parts;        /* recipe parts, in order */
  int once_item;      /* tooling bought once, -1 none */
  char *source;
  DuctStatus status;
} CostMethod;

typedef struct
{
  char *part;
  guint kinds;        /* bit 1 << DuctKind */
  DuctDriver driver;
  gint64 num, den;    /* amount a driver unit (piece, ft, lb, ft2) */
  gint64 fixed_ppm;   /* factor on the fixed minutes */
  gboolean step;      /* target is a step, else an item */
  int target;
  LabourPlace place;
  char *source;
  DuctStatus status;
} CostRecipeLine;

typedef enum
{
  COST_OP_ITEMS,   /* money of an item group */
  COST_OP_LABOUR,  /* hours x rates, shop or field */
  COST_OP_RATE,    /* rate of other lines */
  COST_OP_SUM,
  COST_OP_MARKUP,  /* share of the lines below */
  COST_OP_MARGIN,  /* share of the price that includes it */
  COST_OP_AMOUNT,
} CostOp;

typedef struct
{
  char *key, *label;
  CostOp op;
  int which;        /* ITEMS: CostGroup; LABOUR: 1 shop, 0 field */
  GArray *refs;     /* int: earlier lines */
  gint64 rate_ppm;
  gint64 amount;    /* ten-thousandths */
} CostBuildLine;

/* An accepted or draft state of every table; immutable, ref-counted. */
typedef struct
{
  gatomicrefcount refs;
  CsvTable *table[CATALOGUE_N_SHEETS]; /* what it was read from */
  GHashTable *retired[CATALOGUE_N_SHEETS]; /* keys of what is retired, NULL: none; see catalogue_is_retired() */
  DuctRules *rules;
  LabourTables *labour;
  GPtrArray *items;    /* CostItem * */
  GPtrArray *methods;  /* CostMethod * */
  GPtrArray *recipes;  /* CostRecipeLine * */
  GPtrArray *buildup;  /* CostBuildLine * */
  GPtrArray *claims;   /* CostClaim *, see claim.h; NULL while labour is faulty */
} Catalogue;

/* Takes the tables (each must be there). NULL with @faults (CsvFault *) when anything is wrong. */
Catalogue *catalogue_new (CsvTable *table[CATALOGUE_N_SHEETS], GPtrArray *faults);
/* The starter catalogue compiled into the program. Never NULL: a fault in it is a bug and aborts. */
Catalogue *catalogue_starter (void);
Catalogue *catalogue_ref (Catalogue *catalogue);
void catalogue_unref (Catalogue *catalogue);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Catalogue, catalogue_unref)

/* A data file compiled into the program, "demo-runs" for data/demo-runs.csv; NULL when there is none. */
CsvTable *catalogue_data (const char *name, GPtrArray *faults);

/* The heading line of a sheet as the starter has it, a CSV text without rows. */
char *catalogue_headings (CatalogueSheet sheet);

/* Indices by key, -1 when absent. */
int catalogue_find_item (const Catalogue *catalogue, const char *key);
/* A method's key in any case; as it is written first. */
int catalogue_find_method (const Catalogue *catalogue, const char *key);

static inline const CostItem *
catalogue_item (const Catalogue *catalogue, int i)
{
  return g_ptr_array_index (catalogue->items, (guint) i);
}

static inline const CostMethod *
catalogue_method (const Catalogue *catalogue, int i)
{
  return g_ptr_array_index (catalogue->methods, (guint) i);
}

static inline const LabourStep *
catalogue_step (const Catalogue *catalogue, int i)
{
  return g_ptr_array_index (catalogue->labour->steps, (guint) i);
}

/* Builds the lines of a build-up from its table (also a job's own). NULL with faults. */
GPtrArray *cost_build_lines_new (const CsvTable *table, GPtrArray *faults);

G_END_DECLS

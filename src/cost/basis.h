/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/catalogue.h"

G_BEGIN_DECLS

/* Figures changed for one job or one answer, over the catalogue: "item.driven fastener.price" = "1.10". */
typedef struct
{
  char *object; /* item, step, rate, buildup */
  char *key;
  char *field;
  char *value;
} CostChange;

CostChange *cost_change_new (const char *object, const char *key, const char *field, const char *value);
CostChange *cost_change_copy (const CostChange *change);
void cost_change_free (CostChange *change);
/* Reads "item.KEY.price=1.10", "step.KEY.likely=0.4", "rate.field=95", "buildup.overhead.rate=10". The object stands before the
 * first dot, the field behind the last one. The minutes of a step are changed in all of its handling bands; its likely minutes carry low
 * and high along as far as needed, low and high that cross the likely minutes are refused. */
CostChange *cost_change_parse (const char *text, Fault **fault);

/* Every quantity of a priced run stands in one vector: items in millionths of their unit, steps in worker milliseconds before
 * conditions (one slot a step and place), then these measures. */
typedef enum
{
  COST_PIECES,
  COST_JOINTS,
  COST_FLANGED_JOINTS,
  COST_SD_JOINTS,
  COST_ENDS,           /* made by us */
  COST_ENDS_OTHERS,
  COST_FRAMES,
  COST_CORNERS,        /* all */
  COST_BARS,
  COST_FLANGE_UM,      /* light and heavy slip-on flange, net */
  COST_GASKET_UM,
  COST_BOLTS,          /* net of overage */
  COST_FASTENERS,
  COST_CLEATS,
  COST_CLEAT_UM,
  COST_SCREWS,
  COST_HANGERS,        /* thousandths, fractions kept */
  COST_AREA_MM2,
  COST_NET_MG,
  COST_SHIPPED_MG,
  COST_RUNS,           /* priced */
  COST_OWN_MATERIAL,   /* 1e-10 of the currency: counted lines with a price of their own */
  COST_OWN_RENTAL,
  COST_N_MEASURES,
} CostMeasure;         /* counts in thousandths */

/* A step at a place; step -1 are the minutes entered on counted lines. */
typedef struct
{
  int step;
  LabourPlace place;
  LabourGroup group;
  int crew;
  gboolean shared; /* the fixed minutes of the step's own slot once more, for what pieces that are raised together save of them:
                      its factor is never above 0, and 0 where each piece goes up by itself */
} CostSlot;

typedef struct
{
  gint64 upto_mg;
  gint64 a, b, c; /* of count (1/1000), carried length (um), carried mass (mg); over COST_DEN */
} CostCoef;

#define COST_DEN G_GINT64_CONSTANT (100000000)

/* A compiled recipe line. */
typedef struct
{
  int slot;         /* in the vector; measures (shipped weight, bolts) have lines of their own beside the item's */
  gint16 count, length, mass; /* slots of the lot; where there is none the coefficient is 0 */
  gint16 n_coefs;   /* bands of piece mass */
  guint first;      /* into coefs */
  int recipe;       /* index into the catalogue's recipes, for explaining */
} CostLine;

/* A line of one point as the pricing loop reads it: all of it side by side. */
typedef struct
{
  gint64 a, b, c;               /* of the first band */
  guint16 count, length, mass;  /* slots of the lot */
  guint16 slot;                 /* in the vector */
  guint16 bands;                /* more than 1: look the coefficients up */
  guint16 line;                 /* index among the lines */
} CostFast;

/* Immutable, ref-counted snapshot of every figure an answer rests on. */
typedef struct
{
  gatomicrefcount refs;
  Catalogue *catalogue;
  GPtrArray *changes;     /* CostChange *, applied in order */
  int n_items, n_slots;   /* the vector: n_items, n_slots, COST_N_MEASURES */
  int n_vector;
  gint64 *price;          /* by item, ten-thousandths */
  gint64 *overage_ppm;    /* by item */
  gint64 *rate;           /* by crew, ten-thousandths an hour */
  GPtrArray *bands;       /* by step: GArray of LabourBand, changes applied */
  CostSlot *slots;
  int counted_slot[2];    /* [0] field, [1] shop: slot numbers (0-based among the slots) */
  int n_methods;
  GArray **lines;         /* [method * DUCT_N_KINDS + kind]: CostLine */
  GArray *coefs[LABOUR_N_POINTS]; /* CostCoef, three arrays of one shape */
  CostFast **fast[LABOUR_N_POINTS]; /* as lines: the same lines for the loop, by point */
  GPtrArray *buildup;     /* CostBuildLine *, the job's own or the catalogue's, changes applied */
} CostBasis;

/* Compiles. @changes: (nullable): CostChange * applied in order. @buildup: (nullable): a build-up table instead of the
 * catalogue's. NULL with a fault that names the change or the recipe line: an unknown key, a figure out of bounds, a recipe
 * whose products would not fit 64 bits. */
CostBasis *cost_basis_new (Catalogue *catalogue, const GPtrArray *changes, const CsvTable *buildup, Fault **fault);
CostBasis *cost_basis_ref (CostBasis *basis);
void cost_basis_unref (CostBasis *basis);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CostBasis, cost_basis_unref)

static inline int
cost_measure_slot (const CostBasis *basis, CostMeasure measure)
{
  return basis->n_items + basis->n_slots + (int) measure;
}

/* What one line gives on one piece: millionths of the item's unit, or worker milliseconds. Rounded once. The bounds were
 * proved when the recipe was compiled. */
static inline gint64
cost_line_amount (const CostLine *line, const CostCoef *coef, const gint64 *one)
{
  gint64 x = coef->a * one[line->count] + coef->b * one[line->length] + coef->c * one[line->mass];

  /* Never negative; unsigned division by a constant is the cheaper one. */
  return (gint64) (((guint64) x + COST_DEN / 2) / COST_DEN);
}

/* The coefficients for a piece of this mass. */
const CostCoef *cost_line_coef (const CostBasis *basis, const CostLine *line, LabourPoint point, gint64 piece_mg);

/* Prices one measured run (count 1) with a method; adds nothing, fills @vector (n_vector) whole. */
void cost_price_measure (const CostBasis *basis, int method, DuctKind kind, const DuctMeasure *measure, LabourPoint point,
                         gint64 *vector);

/* The method that stands for @method on a round @shape when it is one for rectangular duct; @method itself otherwise. */
int cost_section_method (const CostBasis *basis, int method, const DuctShape *shape);

/* Takes cost_section_method() and follows the fallbacks of @method until its connection is allowed on @shape (resolved); the method itself mostly.
 * @reason: (out) (optional): words, when the answer differs from @method, or -1 when nothing is allowed. */
int cost_effective_method (const CostBasis *basis, int method, const DuctShape *shape, char **reason);

G_END_DECLS

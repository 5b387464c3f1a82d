/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/buildup.h"

G_BEGIN_DECLS

/* One way of connecting the duct, over a whole scope. */
typedef struct
{
  int method;             /* -1: every run by its own */
  CostSums sums;          /* copied */
  const gint64 *vector;   /* borrowed, n_vector */
  BuildUp *buildup;       /* owned */
  gint64 material, cost, price; /* minor units, from the build-up */
  gint64 once;            /* tooling, minor units, beside the build-up */
  double shop_hours, field_hours;   /* worker-hours under conditions */
  double minutes_a_joint;           /* worker-minutes of the steps placed at the joint, conditions included */
  double hardware_a_joint;          /* currency units: flange, corners, fasteners, gasket, cleats, sealant */
  gint64 pieces, joints;            /* thousandths */
  gint64 net_mg, shipped_mg;
} CostOption;

/* Fills one option from sums and their vector; clear with cost_option_clear(). The tooling is that of the method; with
 * method -1 that of every method whose own items or steps stand in the vector. */
void cost_option_init (CostOption *option, const CostBasis *basis, int method, const CostSums *sums, const gint64 *vector,
                       int decimals);
void cost_option_clear (CostOption *option);

/* What @b gains over @a today, currency, tooling included: the difference of the two build-ups as they are printed. Solving goes by
 * costs before any rounding, which may be a part of a cent apart. */
double cost_option_gain (const CostOption *a, const CostOption *b);

/* Where two methods change places when one figure moves and all others stay (methods of linear break-even: cost
 * difference is linear in each price, rate and step). On cost (the build-up line "cost") plus tooling. */
typedef enum
{
  COST_EVEN_FIELD_RATE, /* currency an hour: the composite field rate */
  COST_EVEN_ITEM,       /* currency a unit of one item */
  COST_EVEN_STEP,       /* multiple of today's minutes of one step */
  COST_EVEN_TOOLING,    /* currency: the tooling that the difference of cost pays */
  COST_EVEN_JOINTS,     /* joints like these over which the tooling pays */
} CostEvenKind;

typedef struct
{
  CostEvenKind kind;
  int target;        /* item or step index, -1 */
  gboolean exists;   /* FALSE: they never change places on this figure at zero or above, or are equal on it throughout */
  gboolean equal;    /* the difference is exactly zero already */
  double now, even;  /* figure today and where cost is equal; NAN when it does not exist. Tooling, joints: of the one that
                        needs more tooling */
  double gain, slope; /* what the second gains over the first today, tooling included, currency; and its change a unit of the
                        figure */
} CostEven;

/* The gain when the figure alone is changed to @figure; zero at even->even. */
double cost_even_gain (const CostEven *even, double figure);

/* Of @b against the baseline @a; the same the other way round. Field rate, tooling and joints first; then items and
 * steps: only those whose quantities differ between the two, largest effect on cost first. Steps only when both sums
 * carry slot_time. (transfer full): GArray of CostEven. */
GArray *cost_break_evens (const CostBasis *basis, const CostOption *a, const CostOption *b);

/* Two ways of closing one joint, A by hand and B with dearer hardware: hardware money, worker-minutes; wage an hour;
 * set-up once of B over A (negative where A needs it); fasteners a joint. */
typedef struct
{
  double hardware_a, minutes_a, hardware_b, minutes_b, wage, setup, fasteners;
} CostJointPair;

typedef struct
{
  double cost_a, cost_b, difference; /* a joint, A less B */
  double wage;              /* at which both cost the same; NAN none */
  double hardware_b;        /* a joint */
  double fastener_b;        /* hardware_b over the fasteners */
  double minutes_b;
  double least_saving;      /* share of A's minutes that B must save at least */
  double joints;            /* over which the set-up pays; INFINITY never, NAN when equal */
} CostJointEven;

/* c_X = h_X + t_X w / 60 and the points where c_A = c_B: w* = 60 (h_B - h_A) / (t_A - t_B), and so on for each
 * figure alone; joints = setup / (c_A - c_B). Linear break-even; nothing is rounded. */
void cost_joint_even (const CostJointPair *pair, CostJointEven *even);

G_END_DECLS

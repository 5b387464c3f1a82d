/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/csv.h"
#include "base/fault.h"

G_BEGIN_DECLS

/* Which method where: every group gets one method, at the least money under limits.
 *
 *     min  sum c(g,m) x(g,m) + set-up of every method used + what joints between unlike neighbours cost
 *     sum over m of x(g,m) = 1;  x <= y;  hours <= limit;  sum y <= most methods;  use of a method <= its capacity;  all 0 or 1
 *
 * Source: Methods for Seamtally, section 10. Money is whole ten-thousandths of the currency, hours whole worker-milliseconds, use
 * and capacity whole thousandths, so that ties and limits are exact. */

/* No such pair, no limit. */
#define COST_MIX_NONE G_MAXINT64
#define COST_MIX_HOUR G_GINT64_CONSTANT (3600000)
#define COST_MIX_MONEY 10000
/* Largest numbers that are taken. */
#define COST_MIX_MOST_GROUPS 20000
#define COST_MIX_MOST_METHODS 30

/* Groups that meet in some joints. A joint costs more where the connections of its two methods do not mate. */
typedef struct
{
  guint a, b;
  gint64 joints;
  gint64 *
      unmated; /* (nullable) owned: joints that do not mate, [method of a * n_methods + method of b]; NULL: all joints where
                      the connections of two methods differ, none where they are alike */
} CostMixBoundary;

typedef struct
{
  guint n_groups, n_methods;
  char **group, **method; /* names */
  gint64 *cost;           /* [group * n_methods + method]; COST_MIX_NONE: not allowed there */
  gint64 *hours;          /* the same shape */
  gint64 *setup;          /* by method, not below 0 */
  int *tool;              /* by method: methods of one number share the dearest of their set-ups; -1: its own */
  int *connection;        /* by method */
  int *same;        /* (nullable) [group * n_methods + method]: methods of one number are one and the same thing on that
                                group (by a fallback), with equal cost, hours, use and joints: as an answer they count once.
                                Not together with capacities */
  gint64 *use;      /* [group * n_methods + method] */
  gint64 *capacity; /* by method; COST_MIX_NONE: without end */
  GArray *boundary; /* CostMixBoundary */
  gint64 boundary_cost, boundary_hours; /* of one joint that does not mate */
  gint64 most_hours;                    /* COST_MIX_NONE: no limit */
  gint64 rest_hours;  /* beside the groups: count against the limit, and are in every sum of hours told */
  guint most_methods; /* 0: no limit */
  gboolean maximise;  /* cost is a gain: most of it, set-up and boundaries taken off */
} CostMix;

/* Nothing allowed yet: every cost COST_MIX_NONE, no limits, every connection its method's number. Names are empty. */
CostMix *cost_mix_new (guint n_groups, guint n_methods);
CostMix *cost_mix_copy (const CostMix *mix);
void cost_mix_free (CostMix *mix);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CostMix, cost_mix_free)
void cost_mix_set_group (CostMix *mix, guint group, const char *name);
void cost_mix_set_method (CostMix *mix, guint method, const char *name);
/* Joints between two groups; takes @unmated. Joints of a group with itself are passed over. */
void cost_mix_add_boundary (CostMix *mix, guint a, guint b, gint64 joints, gint64 *unmated);
/* Whether it can be solved: figures in bounds, a method for every group. FALSE with a fault that names the place. */
gboolean cost_mix_check (const CostMix *mix, Fault **fault);

/* One method a group, and what that comes to. */
typedef struct
{
  guint *method;                        /* by group */
  gint64 cost, hours;                   /* set-up and boundaries included; with maximise the gain */
  gint64 setup, boundary_cost, unmated; /* parts of it; joints that do not mate */
  guint methods;                        /* used */
} CostMixPlan;

void cost_mix_plan_free (CostMixPlan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CostMixPlan, cost_mix_plan_free)
/* Figures of an assignment, whether or not it keeps the limits. NULL when a pair is not allowed. (transfer full) */
CostMixPlan *cost_mix_plan_new (const CostMix *mix, const guint *method);
/* Whether a plan keeps hours, number of methods and capacities. */
gboolean cost_mix_keeps (const CostMix *mix, const CostMixPlan *plan);

/* The least change of @plan that gives one group another method and keeps the limits: that method, -1 when there is none; @more: what
 * it costs more (with maximise gains less), set-up and boundaries included. */
int cost_mix_next_best (const CostMix *mix, const CostMixPlan *plan, guint group, gint64 *more);

/* Told now and then how far it has come, 0 to 1, and the best so far (nullable). FALSE: stop, and keep the best so far. */
typedef gboolean (*CostMixProgress) (gpointer data, double share, const CostMixPlan *best);

typedef struct
{
  guint wanted;             /* so many best assignments, 1 to 16; 0: 2 */
  double seconds;           /* at most; 0: no end */
  CostMixProgress progress; /* (nullable) */
  gpointer data;
} CostMixHow;

typedef struct
{
  GPtrArray *plan;  /* CostMixPlan *, best first; different assignments. Empty: nothing keeps the limits */
  gint64 bound;     /* no assignment is better than this: proven */
  gboolean proven;  /* the first plan is the best, and so are the others in their order */
  gboolean stopped; /* by progress or the clock */
  double hour; /* money units an hour of the limit on the margin, of the relaxation of the best set of methods: a local
                         guide; NAN without a limit that binds */
} CostMixResult;

void cost_mix_result_free (CostMixResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CostMixResult, cost_mix_result_free)
/* Exact: sets of methods best first by Lagrangian bounds, each closed by dynamic programming over the groups with the same bounds.
 * @mix must pass cost_mix_check(). @how: (nullable). (transfer full) */
CostMixResult *cost_mix_solve (const CostMix *mix, const CostMixHow *how);

/* The linear relaxation (x, y between 0 and 1; boundaries and the sharing of tools left out), by GLPK: its value and what one more
 * hour changes it by (at most 0), money units. FALSE: no limit, none feasible, or over 2,000 pairs. */
gboolean cost_mix_relax (const CostMix *mix, double *value, double *hour);

/* All that is said about one mix. */
typedef struct
{
  CostMixResult *best;   /* under all limits */
  gint64 least_hours;    /* that the number of methods and the capacities allow; COST_MIX_NONE: unknown */
  CostMixPlan *more;     /* (nullable): the best with one more hour */
  gint64 hour_saves;     /* solved, not read off a dual; 0 without a limit */
  double hour_relaxed;   /* what the relaxation says an hour saves, NAN unknown */
  double relaxed;        /* its value, NAN unknown */
  CostMixPlan *free;     /* (nullable): the best without the limit on hours */
  CostMixPlan *one;      /* (nullable): the best single method under the limit; NULL: none keeps it */
  CostMixPlan *one_free; /* (nullable): the best single method, limit on hours or not */
  gboolean stopped;
} CostMixReport;

void cost_mix_report_free (CostMixReport *report);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (CostMixReport, cost_mix_report_free)
/* Solves the mix and its neighbours. NULL with a fault: a check failed, or nothing keeps the limits; it then names the nearest
 * limit that can be kept. Stopped: what was found so far, NULL with a fault when that is nothing. */
CostMixReport *cost_mix_report_new (const CostMix *mix, const CostMixHow *how, Fault **fault);

/* Reads a table of groups. Columns: group; cost_M and hours_M of each method M (an empty cost: not allowed; hours may be missing:
 * 0, but not where @hours_needed as there is a limit on them); use_M (thousandths exact; may be missing: 1). Rows whose group is named setup, capacity, tool or connection say that of each
 * method in its cost column. Columns next and joints (both or none): how many joints lead to the group named. Other columns are
 * passed over. NULL with @faults (CsvFault *). (transfer full) */
CostMix *cost_mix_read (const CsvTable *table, gboolean hours_needed, GPtrArray *faults);
/* Reads a table "store, w1, w2, ...": the cost of every pair, a row "capacity" says how many stores a place can serve. Every place
 * that is used costs @fixed once. */
CostMix *cost_mix_read_places (const CsvTable *table, gint64 fixed, GPtrArray *faults);
/* Reads a generalised assignment: lines of '#' passed over; numbers of agents and jobs; money of each job by agent; use of each job
 * by agent; capacities. */
CostMix *cost_mix_read_assignment (const char *text, const char *name, GPtrArray *faults);

G_END_DECLS

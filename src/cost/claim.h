/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/compare.h"

G_BEGIN_DECLS

/* What somebody says that a method saves: a share of the minutes of some steps of the way it replaces. A claim must say which steps
 * it means: half of two steps may be a third of the joint and a tenth of the piece. */
typedef struct
{
  char *key;
  GArray *steps;    /* int: the steps that it names, of the way that is replaced */
  gint64 cut_ppm;   /* share of their minutes that is said to go */
  int method;       /* whose claim it is */
  char *note;
  char *source;
  DuctStatus status;
} CostClaim;

/* Reads the sheet "claims" into catalogue->claims. Steps are joined by "|". */
void catalogue_read_claims (Catalogue *catalogue, const CsvTable *table, GPtrArray *faults);
/* -1 when there is none of that key. */
int catalogue_find_claim (const Catalogue *catalogue, const char *key);
/* The first claim for a method, -1. */
int catalogue_claim_of_method (const Catalogue *catalogue, int method);

/* A saving in worker-minutes, conditions included, and what share it is of three things that a claim may mean. */
typedef struct
{
  double minutes;             /* saved a joint of the baseline */
  double of_steps, of_joint, of_piece; /* shares: of the steps named, of all made at the joint, of all minutes in the field */
  double gain;                /* currency, tooling included: what the method gains over the baseline */
} CostSaving;

typedef struct
{
  gboolean applies;           /* the baseline has minutes of the steps named */
  double steps_minutes, joint_minutes, piece_minutes; /* a joint of the baseline: steps named, joint, field */
  CostSaving own;             /* by the method's own minutes; its gain is that of the build-ups as printed */
  CostSaving claimed;         /* with the baseline's minutes at the joint, those named cut as claimed; unrounded */
  double slope;               /* currency that the gain changes by a minute saved a joint of the steps named */
  double least;               /* share of the named steps that must go for the method to pay; 0 and less: it pays without any; over 1:
                                 not even without those steps; NAN: it does not hang on them */
} CostClaimResult;

/* Holds @method against @baseline by a claim. Both options need slot_time. What is compared is the work at the joint; hardware and
 * tooling are those of the method in either case. Costs are linear in the cut, so the least saving is a closed form. */
void cost_claim_result (const CostClaim *claim, const CostOption *baseline, const CostOption *method, CostClaimResult *result);

G_END_DECLS

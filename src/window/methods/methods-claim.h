/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/claim.h"
#include "window/methods/methods-model.h"

G_BEGIN_DECLS

/* A claim made for a method, held against its own minutes and against a time study of the two where there is one. */
typedef struct
{
  const CostClaim *claim;
  CostClaimResult result;
  CostEven even;         /* kind COST_EVEN_STEP, target METHODS_CLAIM: worker-minutes saved a joint */
  gboolean studied;
  double trial, trial_low, trial_high; /* NAN ends: too few pairs for an interval */
  guint pairs;
} MethodsClaim;

#define METHODS_CLAIM (-2) /* target of that break-even */

/* FALSE: nobody claims anything for @method, or the baseline has no minutes of the steps named. */
gboolean methods_claim (const MethodsData *data, int baseline, int method, MethodsClaim *claim);
/* What it comes to, in words. (transfer full) */
char *methods_claim_words (const MethodsData *data, const MethodsClaim *claim);
/* "own trial 6.5 (4.8 to 8.2), 9 pairs"; NULL: not studied. (transfer full) */
char *methods_claim_trial (const MethodsClaim *claim);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/risk.h"
#include "window/methods/methods-model.h"

G_BEGIN_DECLS

/* How sure the comparison is: the job's risk settings sampled for all methods on the same draws, off the main loop. Of the whole job
 * alone. */
typedef struct
{
  int method;
  double chance;       /* to be cheaper than the baseline, tooling included */
  JobVerdict verdict;  /* of the one of the two that is likely cheaper */
  gboolean gains;      /* likely cheaper than the baseline */
  double low, high;    /* cost and tooling at 10 and 90 %, currency */
} MethodsChance;

typedef struct MethodsChances MethodsChances;

/* @done is called in the main loop when new chances are there. */
MethodsChances *methods_chances_new (void (*done) (gpointer owner), gpointer owner);
void methods_chances_free (MethodsChances *chances);
/* Gives up what runs and asks anew, where the figures, the methods shown or the baseline are others than before. @data NULL, or of a
 * part: nothing is asked. */
void methods_chances_ask (MethodsChances *chances, const MethodsData *data, const gboolean *shown, int baseline);
/* The job has changed: what is asked next is asked anew. */
void methods_chances_stale (MethodsChances *chances);
/* NULL while it is not known. */
const MethodsChance *methods_chances_of (const MethodsChances *chances, int method);
/* What they rest on, in a sentence: trials, seed, spread; "" while nothing is known. */
const char *methods_chances_words (const MethodsChances *chances);

G_END_DECLS

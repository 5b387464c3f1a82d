/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/stiff.h"

G_BEGIN_DECLS

/* What a job wishes of its construction, "least gauge; fixed pieces; no rods". */
typedef struct
{
  gboolean least_gauge; /* only the lightest gauge that is allowed in some way */
  gboolean two_gauges;  /* the two shorter sides of a straight may be lighter; else one gauge for all four sides */
  gboolean fixed;       /* straights of one width of coil: @coil, else the one that the run has */
  gboolean no_rods;     /* no tie rods inside the duct */
  gint64 coil;          /* nm, DUCT_UNSET */
} DuctWishes;

#define DUCT_NO_WISHES ((DuctWishes) { FALSE, FALSE, FALSE, FALSE, DUCT_UNSET })

/* Parts joined with ";": "least gauge", "one gauge" (the default), "two gauges", "fixed pieces", "48 in pieces", "no rods" (or
 * "no rods inside"). */
gboolean duct_wishes_parse (const char *text, DuctWishes *wishes, Fault **fault);
char *duct_wishes_print (const DuctWishes *wishes);

/* One way to build a piece or a run. */
typedef struct
{
  DuctBuild build;        /* with the stiffening */
  gint64 coil;            /* width of coil that is pinned with it, of straights; DUCT_UNSET */
  gint64 length;          /* joint to joint, nm */
  gboolean allowed;
  gboolean by_wish;       /* refused by a wish of the job only */
  DuctSideCheck check[2]; /* where the set has reinforcement rows: how each side passes, or why not */
  Fault *fault;           /* (nullable): why a set without such rows refuses */
} DuctCandidate;

/* Every way to build a resolved @shape with a connection that the tables allow, the lightest gauge and the fewest parts first.
 * Left out are only ways that cost more metal and more parts than another one at any prices: a heavier sheet where a lighter one
 * passes by its joints alone, more rods or a heavier member than pass. Members are taken by weight. The shape's own stiffening is
 * not looked at; a pinned gauge is kept. Widths of coil are the run's own, 48 and 60 in (published*: trade training page and
 * magazine on coil lines).
 * @refused: also those that fail, one for each gauge, coil and spacing. (transfer full): GArray of DuctCandidate. */
GArray *duct_candidates (const DuctRules *rules, int set, int connection, const DuctShape *shape, const DuctWishes *wishes,
                         gboolean refused);

/* @shape as the candidate builds it: gauge, coil and stiffening pinned. */
void duct_candidate_shape (const DuctCandidate *candidate, const DuctShape *shape, DuctShape *out);
/* "24 ga; 60 in pieces; 2x2x1/8 at 2.5 ft" */
char *duct_candidate_print (const DuctRules *rules, const DuctCandidate *candidate);
/* The rule that admits or refuses it, with row, source and status. @shape: the one asked about. */
char *duct_candidate_words (const DuctRules *rules, const DuctShape *shape, const DuctCandidate *candidate);

G_END_DECLS

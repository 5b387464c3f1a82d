/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/measure.h"

G_BEGIN_DECLS

/* One row of a table that a measurement rested on. */
typedef struct
{
  const char *table;  /* key of the sheet, "gauges" */
  const void *row;    /* the record, to tell rows apart; an address within the rules */
  char *words;        /* what the row answered, (transfer full) */
  const char *source; /* (transfer none), "" when the figure was entered on the run */
  DuctStatus status;
} DuctRest;

/* Adds the rows of liner, wrap, sealing, supports and joints at sleeves to @out, an array of DuctRest. Part of duct_rests(). */
void duct_add_covering_rests (GArray *out, const DuctRules *rules, const DuctShape *shape, const DuctBuild *build);
/* The same as an array of its own. (transfer full) */
GArray *duct_covering_rests (const DuctRules *rules, const DuctShape *shape, const DuctBuild *build);
/* Every table row that a built shape rested on. GArray of DuctRest with its clear function. (transfer full) */
GArray *duct_rests (const DuctRules *rules, const DuctShape *shape, const DuctBuild *build);

G_END_DECLS

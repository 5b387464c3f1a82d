/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/stiff.h"

G_BEGIN_DECLS

typedef enum
{
  DUCT_FINDING_GAP,     /* a side, class, sign or spacing between others that no row answers for */
  DUCT_FINDING_END,     /* sides past which one class or spacing stops while another goes on */
  DUCT_FINDING_OVERLAP, /* two rows answer for the same, and one of them never decides */
  DUCT_FINDING_ORDER,   /* lighter as the side, the pressure or the spacing grows, with nothing stiffer in return */
  DUCT_FINDING_MISSING, /* a class that no joint or no member of the tables reaches, a connection without a rating */
  DUCT_N_FINDINGS,
} DuctFindingKind;

const char *duct_finding_key (DuctFindingKind kind);

typedef struct
{
  DuctFindingKind kind;
  const char *table; /* "gauges" */
  int line;          /* of the table's text, 0: of the table as a whole */
  char *words;       /* translated */
} DuctFinding;

/* What is odd about a rule set, in order of table and line; of the reinforcement table it is counted as in order when a lighter
 * sheet goes with a stiffer class or a closer spacing. A finding is for a human to judge: published tables have some. (transfer
 * full): GArray of DuctFinding. */
GArray *duct_check_set (const DuctRules *rules, int set);
/* Rows of a set in the gauge, round gauge and reinforcement tables. */
guint duct_set_rows (const DuctRules *rules, int set);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/measure.h"

G_BEGIN_DECLS

/* What the reinforcement table of a rule set says about the sides of a piece. The rules of reading (excerpts of the SMACNA standard's
 * reading guide): each side is looked up by its own length; a row answers for its spacing and all closer ones, for its gauge and
 * all heavier ones; every joint on a side must reach the row's class, and so must every member between the joints; spacing counts
 * from joint to joint, joint to member, or member to member. A side between two whole inches takes the row of the next inch. The
 * class takes the first class of the set not below it, and rows of its sign or of either. A set may keep to less: to one kind of
 * ends, to its own classes, or to spacings from joint to joint alone (DuctRuleSet). */

/* A member passes with 2 % less than the class asks for: the classes themselves are rounded. */
#define DUCT_MEMBER_SHARE 0.98

typedef struct
{
  const DuctRules *rules;
  const DuctShape *shape;
  int set, connection;
  gint64 side[2];           /* W and H; of a fitting of two sizes the larger ones */
  gboolean outside;         /* the set does not answer this connection */
  gint64 class_to;          /* of the rows that answer, -1: none */
  guint n_blocks;
  const DuctStiffBlock *block[2]; /* rows of the sign, rows of either sign */
} DuctStiffQuery;

/* Whether a set has reinforcement rows of a metal, so that a side's spacing and stiffeners matter. */
gboolean duct_rules_has_reinforcement (const DuctRules *rules, int set, DuctMetal metal);
/* Whether the question is asked of a piece: rectangular duct and fittings of our own metal. */
gboolean duct_stiff_asked (const DuctRules *rules, int set, const DuctShape *shape);

/* @shape must be resolved and outlive @query. */
void duct_stiff_query (DuctStiffQuery *query, const DuctRules *rules, int set, int connection, const DuctShape *shape);
/* Joint to joint, nm: of a straight the laid length, at most the run's; of an end cap its shorter side; else the centreline. */
gint64 duct_stiff_length (const DuctRules *rules, int connection, const DuctShape *shape);

/* EI of a class in 1e5 lb in2, 0 for -1. */
double duct_code_ei (const DuctRules *rules, int code);
gboolean duct_member_serves (const DuctRules *rules, int member, int code);
/* The sheet that a side is made of. */
int duct_stiff_sheet (const DuctStiffQuery *query, const DuctStiffening *stiffening, int sheet, int side);
/* Row that asks for the least class among those that allow a side of this sheet at this spacing; -1. */
int duct_stiff_row (const DuctStiffQuery *query, gint64 side_nm, int sheet, gint64 spacing);
/* Rating of the connection's joint on this sheet: the row of the heaviest sheet not above it; -1: worth nothing. */
int duct_stiff_joint (const DuctStiffQuery *query, int sheet);
/* Row with the fewest rods, at most @rods, that stand for a member of a class across a side; -1. */
int duct_stiff_rods (const DuctStiffQuery *query, gint64 side_nm, int code, gint64 rods);

typedef enum
{
  DUCT_STIFF_PASSES,
  DUCT_STIFF_NO_CLASS,   /* the set has no rows of this class and sign, or does not answer the connection */
  DUCT_STIFF_NO_ROW,     /* no row allows this side, gauge and spacing */
  DUCT_STIFF_JOINT,      /* the joint is not stiff enough */
  DUCT_STIFF_STATION,    /* the member or the rods between the joints are not */
} DuctStiffWhy;

/* How one side passes, or why not. Indices of rows, -1: none was needed. */
typedef struct
{
  DuctStiffWhy why;
  int row;          /* reinforcement: that admits the side, or whose class was not reached */
  int joint;        /* joint rating of the connection */
  int joint_rods;   /* tie rods that hold the side at the joints */
  int rods;         /* tie rods between the joints */
  gboolean stations; /* the side needs what stands between the joints */
} DuctSideCheck;

/* @length: joint to joint. A side that passes by its joints alone needs no stations. Pure. */
gboolean duct_stiff_check (const DuctStiffQuery *query, int side, int sheet, gint64 length, const DuctStiffening *stiffening,
                           DuctSideCheck *out);

/* Fills the sheet, the rows and not_by_set of @build for a set with reinforcement rows: the lightest gauge of the set that passes
 * with the stiffening entered (none: with the joints alone), or the pinned gauge, held against the table. FALSE with the fault:
 * no gauge passes, its construction has to be chosen. */
gboolean duct_stiff_choose (const DuctRules *rules, const DuctShape *shape, DuctBuild *build, DuctProblem *problem);

/* Words of the rule behind a side: "48 in: 22 ga and class E at 5 ft; invented for the demo, line 210 (invented demo)". */
char *duct_reinforcement_words (const DuctRules *rules, int row);
/* Why a side passes or not. @side: of @query. (transfer full) */
char *duct_side_words (const DuctStiffQuery *query, int side, int sheet, gint64 length, const DuctStiffening *stiffening,
                       const DuctSideCheck *check);

G_END_DECLS

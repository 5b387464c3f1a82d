/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/csv.h"
#include "base/fault.h"
#include "base/num.h"

G_BEGIN_DECLS

/* Where a step is done. "joint" is floor or air by the area's share of joints made on the floor. */
typedef enum
{
  LABOUR_SHOP,
  LABOUR_FLOOR,
  LABOUR_AIR,
  LABOUR_JOINT,
  LABOUR_SITE_FIT,
  LABOUR_N_PLACES,
} LabourPlace;

extern const char *const labour_place_keys[LABOUR_N_PLACES]; /* as written in files */
const char *labour_place_key (LabourPlace place);
gboolean labour_place_parse (const char *text, LabourPlace *place);

/* Step groups: what hours are booked against. */
typedef enum
{
  LABOUR_FABRICATE,
  LABOUR_DELIVER,
  LABOUR_HANG_AND_JOIN,
  LABOUR_SEAL_AND_TEST,
  LABOUR_GENERAL,
  LABOUR_N_GROUPS,
} LabourGroup;

extern const char *const labour_group_keys[LABOUR_N_GROUPS];
const char *labour_group_key (LabourGroup group);

/* Uncertainty of the job's average minutes, not the scatter of single joints. */
typedef enum
{
  LABOUR_LOW,
  LABOUR_LIKELY,
  LABOUR_HIGH,
  LABOUR_N_POINTS,
} LabourPoint;

/* Worker-minutes are kept in 1e-9 minutes ("nanominutes"), per count, per foot or per pound. */
#define LABOUR_MINUTE_DECIMALS 9

typedef struct
{
  gint64 upto_mg; /* inclusive, mass of the whole piece; G_MAXINT64 for the last band */
  gint64 fixed[LABOUR_N_POINTS];
  gint64 per_ft[LABOUR_N_POINTS];
  gint64 per_lb[LABOUR_N_POINTS];
} LabourBand;

typedef struct
{
  char *key;
  LabourGroup group;
  int crew;          /* index into the crews; decides shop or field and the rate */
  GArray *bands;     /* LabourBand, rising */
  gboolean shared;   /* its fixed minutes are spent once for pieces that are raised together */
  char *source;
  char *status;      /* as written */
} LabourStep;

/* Paid hours over hours worked are kept to twelve decimals. */
#define LABOUR_PAID_ONE G_GINT64_CONSTANT (1000000000000)
#define LABOUR_PAID_DECIMALS 12

/* One line of a crew. Money in ten-thousandths an hour. */
typedef struct
{
  char *name;            /* class of worker */
  gint64 heads;          /* thousandths */
  gint64 wage, fringe, flat; /* fringe and flat burden an hour worked */
  gint64 burden_ppm;     /* percentages on wage, together */
  gint64 paid;           /* paid hours over hours worked, 1e-12: LABOUR_PAID_ONE without overtime */
  gint64 shift_ppm;      /* premium of the shift, on the wage */
  gint64 travel;         /* travel and subsistence, an hour worked */
  GPtrArray *burdens;    /* (nullable): LabourBurden * that reach this class, beside burden_ppm and flat; see money.h */
} LabourMember;

typedef struct
{
  char *key;
  gboolean shop;
  GArray *members;  /* LabourMember */
  gint64 rate;      /* composite, ten-thousandths an hour */
  char *source;
  char *status;
} LabourCrew;

/* All-in cost of one hour worked by a class, in 1e-10 of the currency unit:
 * wage x (1 + shift premium) x paid/worked x (1 + percentages) + fringes + flat + travel; components of burden that do not reach the
 * premium part of overtime are on the straight wage, those to a yearly cap K at h hours a year are p min (K / h, wage) (the mean over
 * the year). Source: EI 01D010 Construction Cost Estimates, section 5. */
NumWide labour_member_hour (const LabourMember *member);
/* Composite rate of a crew: hours weighted by heads, rounded half away from zero to ten-thousandths an hour. */
gint64 labour_crew_rate (const LabourMember *members, gsize n);

/* A factor on minutes with its reason; which places and groups it reaches are bit masks. */
typedef struct
{
  char *key;
  gint64 factor_ppm;
  guint places, groups;
  char *reason;
  char *source;
  char *status;
} LabourCondition;

/* Factors by group and place, ppm. A joint is made in the air or on the floor: a condition on either place reaches the joints
 * made there, one on "joint" both, and each reaches a joint once. */
typedef struct
{
  gint64 ppm[LABOUR_N_GROUPS][LABOUR_N_PLACES]; /* LABOUR_JOINT: joints made in the air */
  gint64 floor_joint[LABOUR_N_GROUPS];          /* joints made on the floor */
  gint64 learned;                               /* ppm on steps at the joint: learning over the joints of the job */
  gint64 lost[2];                               /* ppm that overtime loses, in the field and in the shop: stands in the factors above
                                                   already and is kept to be told */
  gint64 remade;                                /* ppm: share of the joints that are made once more */
  gint64 raised;                                /* pieces that go up together, from 1 */
} LabourFactors;

/* How several conditions make one factor. */
typedef enum
{
  LABOUR_JOIN_PRODUCT, /* f = f1 x f2, each product rounded to whole ppm */
  LABOUR_JOIN_SUM,     /* f = 1 + (f1 - 1) + (f2 - 1), not below a millionth */
  LABOUR_N_JOINS,
} LabourJoin;

/* Every factor 1, nothing remade, each piece raised by itself. */
void labour_factors_init (LabourFactors *factors);
/* Multiplies in (product rule), rounding each product to whole ppm. */
void labour_factors_apply (LabourFactors *factors, const LabourCondition *condition);
/* The same by either rule; over all scopes one rule holds, so call it from labour_factors_init() on with the same @join. */
void labour_factors_join (LabourFactors *factors, const LabourCondition *condition, LabourJoin join);

typedef struct
{
  GPtrArray *crews;      /* LabourCrew * */
  GPtrArray *steps;      /* LabourStep * */
  GPtrArray *conditions; /* LabourCondition * */
  GPtrArray *studies;    /* LabourStudy *, see study.h */
  GPtrArray *burdens;    /* LabourBurden *, see money.h */
  GPtrArray *losses;     /* LabourLossRow *, see money.h */
} LabourTables;

/* The sheets that labour is read from; all must be there, but may have no row. */
typedef struct
{
  const CsvTable *crews, *steps, *conditions, *studies, *observations, *burdens, *overtime_loss;
} LabourSheets;

/* Reads the sheets; NULL with faults added when anything is wrong (low > likely > high included). */
LabourTables *labour_tables_new (const LabourSheets *sheets, GPtrArray *faults);
void labour_tables_free (LabourTables *tables);
int labour_find_step (const LabourTables *tables, const char *key);
int labour_find_crew (const LabourTables *tables, const char *key);
int labour_find_condition (const LabourTables *tables, const char *key);

G_END_DECLS

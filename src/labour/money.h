/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "labour/labour.h"

G_BEGIN_DECLS

/* Payroll burden, component by component, beside the one percentage and the one flat figure of a crew's line. */
typedef enum
{
  LABOUR_ON_WAGE,        /* a percentage of the pay */
  LABOUR_ON_WAGE_TO_CAP, /* a percentage of the pay up to so much a year */
  LABOUR_FLAT,           /* money an hour worked */
  LABOUR_N_BURDENS,
} LabourBurdenBasis;

extern const char *const labour_burden_keys[LABOUR_N_BURDENS]; /* wage, wage to a cap, flat */

typedef struct LabourBurden
{
  char *component;
  char *crew, *class; /* "": every crew, every class of worker */
  LabourBurdenBasis basis;
  gint64 rate_ppm;    /* of the wage */
  gint64 amount;      /* FLAT: ten-thousandths an hour worked */
  gint64 cap;         /* TO_CAP: ten-thousandths a year */
  gint64 hours;       /* TO_CAP: hours worked a year, thousandths */
  gboolean on_premium; /* reaches the premium part of overtime too */
  char *source, *status;
} LabourBurden;

/* What a loss of output means (labelled choice L5). */
typedef enum
{
  LABOUR_LOSS_DIVIDE,   /* time = base / (1 - loss) */
  LABOUR_LOSS_MULTIPLY, /* time = base x (1 + loss) */
  LABOUR_N_LOSSES,
} LabourLossBasis;

extern const char *const labour_loss_keys[LABOUR_N_LOSSES]; /* divide, multiply */

/* One line of a table of overtime losses. No such table is binding; none comes with the program. */
typedef struct
{
  char *table;
  gint64 hours;    /* a week, thousandths */
  int week;        /* from 1 */
  gint64 loss_ppm;
  int basis;       /* LabourLossBasis, -1: the table does not say */
  char *source, *status;
} LabourLossRow;

/* Reads the sheets "burdens" and "overtime_loss" into tables->burdens and tables->losses; before the crews' rates are made. */
void labour_read_money (LabourTables *tables, const LabourSheets *sheets, GPtrArray *faults);
/* When the crews are read: complains, with line and column, of a burden whose crew or class there is not, and of a component that two rows
 * count for the same worker. */
void labour_check_burdens (const LabourTables *tables, const LabourSheets *sheets, GPtrArray *faults);
/* The burdens that reach a class of a crew: LabourBurden *, borrowed. NULL: none. (transfer container) */
GPtrArray *labour_burdens_of (const LabourTables *tables, const char *crew, const char *class);

/* ---- a week's pay ---- */

/* Hours of a week that are paid at straight time (common practice). */
#define LABOUR_STRAIGHT_WEEK 40

/* Paid hours over hours worked, 1e-12 (LABOUR_PAID_ONE is 1; a third of an hour must not cost digits of the rate): H worked, those beyond
 * 40 paid @premium times. LABOUR_PAID_ONE up to 40 hours. Source: EI 01D010 Construction Cost Estimates, section 5. */
gint64 labour_paid (double hours, double premium);
/* Six decimals of it, two at least: "1.083333". (transfer full) */
char *labour_paid_print (gint64 paid);
/* The premium's share (labelled choice L6): on the hours worked, paid / H - 1; on the total pay, (paid - H) / paid. */
double labour_premium_on_hours (gint64 paid);
double labour_premium_on_pay (gint64 paid);
/* "5x10", "50", "40.5": hours of a week; FALSE with a fault. Over 0 and up to 100. */
gboolean labour_week_parse (const char *text, double *hours, Fault **fault);

/* ---- loss of output ---- */

/* time over base for a loss, 0 <= loss < 1. */
double labour_loss_factor (double loss, LabourLossBasis basis);

typedef struct
{
  double loss;            /* mean of the weeks */
  LabourLossBasis basis;  /* as the table says, else as asked for */
  gboolean basis_is_tables;
  int weeks, weeks_known; /* behind the last week of the table its last loss goes on */
  gint64 factor_ppm;      /* on minutes */
  const char *source, *status; /* of the table's first row used; borrowed */
} LabourLoss;

/* The mean loss of @weeks weeks of @hours by the table @key: with output (1 - l) in each week, W weeks take W / sum (1 - l) of their
 * work, so losses are averaged, not factors. @basis: for a table that does not say. FALSE with a fault that lists the tables, or the
 * hours that the table has. */
gboolean labour_loss_average (const LabourTables *tables, const char *key, double hours, int weeks, LabourLossBasis basis,
                              LabourLoss *loss, Fault **fault);

/* ---- worked calculations ---- */

/* Money of one hour of a class, taken apart, 1e-10 of the currency. */
typedef struct
{
  NumWide pay;       /* wage, shift premium and overtime's premium */
  NumWide on_wage;   /* percentages of it */
  NumWide capped;    /* percentages to a yearly cap */
  NumWide flat;      /* fringes, flat burden, travel and subsistence */
} LabourHour;

/* @paid: in the place of the member's own; 0: its own. */
void labour_member_parts (const LabourMember *member, gint64 paid, LabourHour *parts);
/* As labour_crew_rate() with another week. */
gint64 labour_crew_rate_for (const LabourCrew *crew, gint64 paid);
/* The rate in words, one line a member and one for the whole: "foreman: 46.20 x 1.1 paid hours an hour worked = 50.82; x 1.2285 burden
 * on wage = 62.43237; + 17.95 flat = 80.38237 an hour". What it leaves out (site general) is the last line.
 * (transfer full): GPtrArray of char *, freed with it. */
GPtrArray *labour_crew_worked (const LabourCrew *crew, gint64 paid);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cost/sensitivity.h"
#include "job/compare.h"

G_BEGIN_DECLS

/* What would change the answer: one figure moved at a time, how far the gain of one way over another swings, and where its sign
 * turns. */
typedef enum
{
  JOB_DRIVE_STEP,        /* multiple of the minutes of one step, from its low to its high */
  JOB_DRIVE_ITEM,        /* price of one item, 10 % either way */
  JOB_DRIVE_FIELD_RATE,  /* 10 % either way */
  JOB_DRIVE_SHOP_RATE,
  JOB_DRIVE_FIELD_CREW,  /* factor on all field minutes, the job's settings risk.field_low and _high */
  JOB_DRIVE_SHOP_CREW,
  JOB_DRIVE_TOOLING,     /* once, 10 % either way */
  JOB_DRIVE_AREA,        /* the field factor of one area, 10 % either way */
  JOB_DRIVE_CONDITION,   /* a condition of the job, an area or a system: without it, and as it stands */
  JOB_DRIVE_FLOOR,       /* share of joints made on the floor, all areas: none to half */
  JOB_DRIVE_RAISED,      /* pieces raised together, all areas: one to three */
  JOB_DRIVE_REMADE,      /* share of joints remade, all areas: none to a tenth */
  JOB_DRIVE_FIT,         /* pieces cut to fit on site, one more on every straight run */
  JOB_N_DRIVES,
} JobDriveKind;

typedef struct
{
  JobDriveKind kind;
  int target;        /* item or step, -1 */
  char *name;        /* "minutes of “bolt and nut”" */
  char *unit;        /* "times today's minutes" */
  char *range;       /* what the two ends are: "its low to high", "10 % either way (common practice)" */
  CostSwing swing;
  gboolean closed;   /* even is a closed form; else a straight line through the two ends */
} JobDrive;

void job_drive_free (JobDrive *drive);

/* Every figure on which the gain of @second over @first hangs, widest swing first; those that move nothing are left out.
 * @comparison: both ways are of it, without fault, of one what-if or of two. Steps, floor, fit and remakes cost some recomputes.
 * (transfer full): JobDrive *. */
GPtrArray *job_sensitivity (const JobComparison *comparison, guint first, guint second);
/* "gains from 120 to 1,900; turns at 3.2": a drive in words. */
char *job_drive_words (const JobDrive *drive, int decimals);

G_END_DECLS

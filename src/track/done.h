/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/fault.h"

G_BEGIN_DECLS

/* How far a run has come. */
typedef enum
{
  DONE_FABRICATED,
  DONE_HUNG,   /* delivered and hung */
  DONE_JOINED,
  DONE_TESTED, /* sealed and tested */
  DONE_N_STAGES,
} DoneStage;

#define DONE_ALL 1000000

/* One stage of one run: the share that is done, and the day it was ticked (Julian day). */
typedef struct
{
  gint64 run;
  DoneStage stage;
  gint64 ppm; /* 0 to DONE_ALL; 0: not ticked */
  gint64 day;
} DoneTick;

/* For the user, translated: "fabricated". */
const char *done_stage_name (DoneStage stage);

/* Ticks by run: gint64 -> the shares of its stages. */
typedef GHashTable DoneTable;
/* @ticks: GArray of DoneTick. A tick of a run that the job no longer has does no harm. (transfer full) */
DoneTable *done_table_new (const GArray *ticks);
/* Shares as ticked; all 0 for a run without ticks. */
void done_table_get (DoneTable *table, gint64 run, gint64 ppm[DONE_N_STAGES]);
/* What is done as a whole: a stage is done at least as far as every later one, since nothing is joined that does not hang and
 * nothing hangs that was not made. */
void done_effective (const gint64 ticked[DONE_N_STAGES], gint64 ppm[DONE_N_STAGES]);

/* "x", "yes", "done" and "all" are the whole, "" and "no" nothing; else a percentage, "50", "62.5 %". */
gboolean done_parse (const char *text, gint64 *ppm, Fault **fault);
/* "✓" for the whole, "" for nothing, else "62.5 %". */
char *done_print (gint64 ppm);

G_END_DECLS

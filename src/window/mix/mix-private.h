/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "job/mix.h"
#include "window/chart-area.h"
#include "window/methods/figure-grid.h"
#include "window/session.h"

G_BEGIN_DECLS

/* A problem with its answer, as the page shows it. */
typedef struct
{
  JobMix *mix;
  CostMixReport *report;
} MixAnswer;

/* "A", "B" ... of the methods in the order of the catalogue, as in other pictures. (transfer full): by method of the problem. */
char **mix_letters (const JobMix *mix);
/* Called when a method is to be allowed or forbidden on a group. */
typedef void (*MixAllow) (gpointer data, guint group, guint method, gboolean allow);
/* Groups with their method, figures and what else could be there, the dearest first; no more than @most rows (0: all). Gives how
 * many rows are left out. */
guint mix_show_groups (TallyFigureGrid *grid, TallySession *session, const MixAnswer *answer, guint most,
                       MixAllow allow, gpointer data);
/* What stands beside the answer: limits, what an hour saves, single methods, next best. */
void mix_show_figures (TallyFigureGrid *grid, const MixAnswer *answer);
/* What the answer comes to, taken apart: groups, joints, set-up, what is not part of the choice. */
void mix_show_parts (TallyFigureGrid *grid, const MixAnswer *answer);
/* What changes against the job as it stands, by method. */
void mix_show_changes (TallyFigureGrid *grid, const MixAnswer *answer);
/* The picture: method of each group, by place and class over size. Gives the words of its letters. (transfer full) */
char *mix_show_picture (TallyChartArea *area, TallyJob *job, const MixAnswer *answer);

G_END_DECLS

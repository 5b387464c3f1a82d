/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include "job/explain-answer.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Figures of the comparison that one key (F4) walks down from: a widget says which figure it shows, the window finds the widget that
 * has the focus or one around it, and the detail pane takes the figure apart. */

/* Says what @widget shows. @figure as job_figure_parse() reads it ("cost", "field-hours", "step:NAME"); NULL: nothing. @method NULL:
 * every run by its own; @against: (nullable) key of the method that it is held against; @what_if: (nullable), of both, and without
 * @against held against the job as it stands; @part: "job", "part"
 * (what the job map narrows to) or "runs" (those selected). */
void tally_walk_mark (GtkWidget *widget, const char *figure, const char *method, const char *against, const char *what_if,
                       const char *part);
/* The same for a break-even or a cause of spread: item and step by name, the field rate as field hours, all else as cost. @even: kind and
 * target. */
void tally_walk_mark_even (GtkWidget *widget, TallyJob *job, const CostEven *even, const char *method, const char *against, const char *part);
/* Takes such a line. */
void tally_walk_take (GtkWidget *widget, char *line);
/* The figure behind a break-even: item and step by name, the field rate as field hours, all else as cost. (transfer full) */
char *tally_walk_figure (TallyJob *job, CostEvenKind kind, int target);
/* Such a line by itself, as tally_chart_area_set_walks() takes them. (transfer full) */
char *tally_walk_line (const char *figure, const char *method, const char *against, const char *what_if, const char *part);
/* What @widget or the nearest one around it shows, as a line for session_set_total(); NULL: nothing. (transfer none) */
const char *tally_walk_find (GtkWidget *widget);

/* The parts of such a line. */
typedef struct
{
  char **word; /* owned */
  const char *figure, *method, *against, *what_if, *part; /* method, against, what_if: (nullable) */
} TallyWalk;

/* FALSE for a line of another kind, as "cost" or "price". Clear with tally_walk_clear(). */
gboolean tally_walk_read (const char *line, TallyWalk *figure);
void tally_walk_clear (TallyWalk *figure);

G_END_DECLS

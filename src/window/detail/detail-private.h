/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include "chart/piece.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The run that is explained; all borrowed. */
typedef struct
{
  TallySession *session;
  TallyJob *job;
  const JobRecord *run;
  guint number;               /* in the job, from 1 */
  gboolean priced;
  const JobRunResult *result;
} DetailRun;

/* ---- parts ---- */

GtkWidget *detail_box (int spacing);
/* Adds a heading with a line above it. */
void detail_heading (GtkWidget *box, const char *text);
/* Adds words that wrap; @css: space-separated classes or NULL. Returns the label. */
GtkWidget *detail_words (GtkWidget *box, const char *css, const char *format, ...) G_GNUC_PRINTF (3, 4);
/* A table: the first column wraps at the start, the others are figures at the end. */
GtkWidget *detail_table (GtkWidget *box);
/* Adds a row of @n cells; NULL leaves a cell out. @css for all of them or NULL. */
void detail_table_row (GtkWidget *table, const char *css, const char *const *cells, int n);
/* Adds an expander whose content is made when it is opened. @open keeps the state over rebuilding. */
typedef void (*DetailFill) (GtkWidget *box, gpointer data);
GtkWidget *detail_expander (GtkWidget *box, const char *title, gboolean *open, DetailFill fill, gpointer data, GDestroyNotify free_data);
/* A figure with thousands commas and @digits places. */
char *detail_fixed (double x, int digits);
/* Colours of the theme in force. */
void detail_looks (GtkWidget *widget, PieceLooks *looks);
/* "published", a mark with a border; nothing for "". */
GtkWidget *detail_status (const char *status);

/* ---- sections ---- */

/* Title, fault, picture, build. */
void detail_add_head (GtkWidget *box, const DetailRun *r);
/* The ways to build the run, with what pins and unpins them. */
void detail_add_choices (GtkWidget *box, const DetailRun *r, gboolean *open);
/* A line each for liner, wrap, seal and supports, where they apply. */
void detail_add_covering (GtkWidget *box, const DetailRun *r);
void detail_add_lots (GtkWidget *box, const DetailRun *r);
void detail_add_joint (GtkWidget *box, const DetailRun *r);
void detail_add_methods (GtkWidget *box, const DetailRun *r);
void detail_add_lines (GtkWidget *box, const DetailRun *r, gboolean *open);
/* The build-up of the part shown, or of some runs (@ids, NULL: none), each line taken apart down to its sources. @asked: (nullable):
 * a line that is opened and marked; returned for the pane to scroll to, NULL when there is none. */
GtkWidget *detail_add_walk (GtkWidget *box, TallySession *session, const GArray *ids, const char *asked, GHashTable *open);

/* A figure of the comparison (window/walk.h) taken apart. FALSE, and nothing added, when @line is none. */
gboolean detail_add_answer (GtkWidget *box, TallySession *session, const char *line, GHashTable *open);

/* Overrides stay as widgets, so that typing in them is not disturbed by what it changes. */
typedef struct _DetailOverrides DetailOverrides;
DetailOverrides *detail_overrides_new (GtkWidget *box, TallySession *session);
void detail_overrides_update (DetailOverrides *o, const DetailRun *r);
void detail_overrides_free (DetailOverrides *o);

G_END_DECLS

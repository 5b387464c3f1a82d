/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the files of the view share; nobody else includes this. */

#include "window/grid/grid.h"
#include "window/runs/run-model.h"

G_BEGIN_DECLS

#define TALLY_TYPE_RUNS_VIEW (tally_runs_view_get_type ())
G_DECLARE_FINAL_TYPE (TallyRunsView, tally_runs_view, TALLY, RUNS_VIEW, GtkBox)

struct _TallyRunsView
{
  GtkBox parent_instance;

  /* Template widgets */
  GtkLabel *conclusion, *address, *message, *reading, *all_label, *filter_words, *filter_total;
  GtkEditable *find, *value, *line, *all_entry;
  GtkToggleButton *faulty;
  GtkMenuButton *all_button;
  GtkButton *all_apply, *like, *show_all;
  GtkPopover *all_popover;
  GtkBox *columns_box, *filter_bar;
  GtkScrolledWindow *scroll;

  /* Borrowed */
  TallyGrid *grid;
  GtkWidget *totals;

  /* runs-filter.c: what opens below a heading */
  GtkWidget *menu; /* (nullable) */
  GtkWidget *menu_title, *menu_words, *menu_values;
  guint menu_column; /* of run_column() */

  /* Owned */
  TallySession *session;
  TallyRunModel *model;
  const char *wanted;     /* (nullable): where the focus is to go when the view is shown */
  guint find_wait;        /* timeouts: the text is looked up when typing pauses, */
  guint words_wait;
  guint line_wait;        /* a line that was left unfinished is told what it lacks, */
  guint sum_idle;         /* and the selection is added up when it stands */
  guint total_idle;
  gboolean filling;       /* the view itself is setting a widget */
};

/* runs-view.c */
/* Shows the rows anew after the query changed, the cursor staying on its run where that is still shown. */
void runs_view_requery (TallyRunsView *self);
/* Says in the line above the table what could not be done, until the cursor goes on. */
void runs_view_refuse (TallyRunsView *self, const char *words);

/* runs-line.c */
void runs_line_init (TallyRunsView *self);
void runs_line_dispose (TallyRunsView *self);

/* runs-selection.c */
/* Tells the totals line, in a moment, what the selection comes to. */
void runs_selection_queue (TallyRunsView *self);
void runs_selection_dispose (TallyRunsView *self);

/* runs-filter.c */
void runs_filter_init (TallyRunsView *self);
void runs_filter_dispose (TallyRunsView *self);
/* Shows which rows are shown, in words, and what they come to. */
void runs_filter_show (TallyRunsView *self);
/* Opens the menu of a heading (a shown column). */
void runs_filter_open (TallyRunsView *self, guint shown);
/* Only rows like the cursor's in its column, or free again. */
void runs_filter_like (TallyRunsView *self);
/* In words, "Class is 2 or -2; not priced"; "" where nothing narrows the rows. (transfer full) */
char *runs_filter_words (const JobQuery *query);

G_END_DECLS

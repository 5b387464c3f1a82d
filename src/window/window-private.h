/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* What the files of the window share; nobody else includes this. */

#include "window/window.h"

G_BEGIN_DECLS

/* The panes at the sides. */
enum { MAP, DETAIL };

struct _TallyWindow
{
  AdwApplicationWindow parent_instance;

  /* Template widgets */
  AdwToastOverlay *toasts;
  GtkStack *views, *pages;
  GtkLabel *job_title, *job_subtitle, *undo_label, *refused_label;
  GtkButton *undo_button, *reopen;
  GtkRevealer *refused;
  GtkPaned *map_paned, *detail_paned;
  GtkScrolledWindow *map_scroll;
  GtkBox *foot;
  GMenu *main_menu;

  /* Borrowed */
  GtkWidget *price, *runs, *detail, *totals;

  /* Owned */
  TallySession *session;
  AdwToast *toast;    /* (nullable): the one that was shown last; weak */
  gboolean wish[2];   /* whether the job map, the detail pane are wanted; where there is no room they are folded */
  guint last_wish;    /* which of them was asked for last */
  int pane_width[2];  /* as last measured */
  int width;          /* for which the panes were fitted */
  guint fit;          /* idle */
};

/* window-panes.c */
/* Shows the panes that are wanted as far as the view between them keeps its room; the one asked for last goes last. */
void window_fit_panes (TallyWindow *self);
/* The same in a moment: not while sizes are being given out. */
void window_queue_fit (TallyWindow *self);
/* Shows a pane, or folds it. Where there is no room for it, that is said. */
void window_wish (TallyWindow *self, guint which, gboolean wanted);

G_END_DECLS

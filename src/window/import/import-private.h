/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The two sources of runs; each closes @window behind a successful edit. (transfer floating) */
GtkWidget *import_csv_page_new (TallySession *session, GtkWindow *window);
GtkWidget *import_job_page_new (TallySession *session, GtkWindow *window);

/* A line with what is being done, how far it is, and a button that stops it; seen only when it takes longer than a moment. */
typedef struct
{
  GtkWidget *line, *cancel;
  GtkLabel *words;
  GtkProgressBar *bar;
  gboolean cancelled;
  double share;          /* below 0: not known */
  gint64 since, looked;
  guint timeout;
  void (*on_cancel) (gpointer data);
  gpointer data;
} ImportProgress;

/* @on_cancel: (nullable): called when the button is pressed. @progress is borrowed and goes with the widget. (transfer floating) */
GtkWidget *import_progress_new (ImportProgress **progress, void (*on_cancel) (gpointer data), gpointer data);
void import_progress_start (ImportProgress *progress, const char *words);
void import_progress_set (ImportProgress *progress, double share);
void import_progress_stop (ImportProgress *progress);

/* Applies an edit and says what came, with undo. Takes @edit. Large ones show how far they are in @progress and can be stopped there:
 * then nothing has changed. */
gboolean import_apply (TallySession *session, JobEdit *edit, guint runs, ImportProgress *progress);

G_END_DECLS

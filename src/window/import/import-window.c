/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/import/import-window.h"

#include "window/habits/sheet-page.h"
#include "window/import/import-private.h"

#include <glib/gi18n.h>

void
tally_import_window_present (TallySession *session, GtkWindow *parent)
{
  GtkWindow *window = tally_side_window_new (parent, session, _ ("Import runs"), 1120, 700);
  GtkWidget *switcher = gtk_stack_switcher_new (), *pages = gtk_stack_new ();

  if (!session_job (session))
    {
      GtkWidget *words = tally_conclusion_new (_ ("No job is open: open or make one, then import runs into it."));
      gtk_widget_add_css_class (words, "side-page");
      tally_side_window_set (window, NULL, words);
      gtk_window_present (window);
      return;
    }
  gtk_stack_add_titled (GTK_STACK (pages), import_csv_page_new (session, window), "csv", _ ("From a CSV file"));
  gtk_stack_add_titled (GTK_STACK (pages), import_job_page_new (session, window), "job", _ ("From another job"));
  gtk_stack_switcher_set_stack (GTK_STACK_SWITCHER (switcher), GTK_STACK (pages));
  tally_side_window_set (window, switcher, tally_notice_new (session, pages));
  gtk_window_present (window);
}

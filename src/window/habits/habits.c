/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/habits.h"

#include <adwaita.h>
#include <glib/gi18n.h>

void
tally_shortcuts_present (GtkWindow *parent)
{
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource ("/seamtally/ui/shortcuts.ui");
  GtkWindow *window = GTK_WINDOW (gtk_builder_get_object (builder, "shortcuts"));

  if (parent)
    {
      gtk_window_set_transient_for (window, parent);
      gtk_window_set_destroy_with_parent (window, TRUE);
    }
  gtk_window_present (window);
}

void
tally_about_present (GtkWindow *parent)
{
  GtkWidget *about = adw_about_window_new ();

  adw_about_window_set_application_name (ADW_ABOUT_WINDOW (about), _ ("Seamtally"));
  adw_about_window_set_version (ADW_ABOUT_WINDOW (about), SEAMTALLY_VERSION);
  adw_about_window_set_comments (ADW_ABOUT_WINDOW (about),
                                 _ ("Prices sheet-metal duct: from the run to its pieces, joints and worker-minutes, and from there to the price."));
  adw_about_window_set_license_type (ADW_ABOUT_WINDOW (about), GTK_LICENSE_GPL_3_0);
  if (parent)
    gtk_window_set_transient_for (GTK_WINDOW (about), parent);
  gtk_window_present (GTK_WINDOW (about));
}

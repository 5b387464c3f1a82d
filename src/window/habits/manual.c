/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/habits/habits.h"

#include "window/habits/sheet-page.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <string.h>

/* The manual page is plain text: "# heading", "- point", "key | what it does", else a paragraph. */

static GtkWidget *
words (const char *text, const char *css)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_NONE);
  if (css)
    gtk_widget_add_css_class (label, css);
  return label;
}

static void
add_pair (GtkWidget *box, const char *line)
{
  g_auto (GStrv) part = g_strsplit (line, " | ", 2);
  GtkWidget *row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *name = words (part[0], "manual-key"), *what = words (part[1], NULL);

  gtk_widget_set_size_request (name, 190, -1);
  gtk_label_set_yalign (GTK_LABEL (name), 0);
  gtk_widget_set_hexpand (what, TRUE);
  gtk_box_append (GTK_BOX (row), name);
  gtk_box_append (GTK_BOX (row), what);
  gtk_box_append (GTK_BOX (box), row);
}

static void
add_line (GtkWidget *box, const char *line)
{
  if (g_str_has_prefix (line, "# "))
    gtk_box_append (GTK_BOX (box), words (line + 2, "title-2"));
  else if (g_str_has_prefix (line, "- "))
    {
      g_autofree char *point = g_strconcat ("•  ", line + 2, NULL);
      gtk_box_append (GTK_BOX (box), words (point, NULL));
    }
  else if (strstr (line, " | "))
    add_pair (box, line);
  else if (*line)
    gtk_box_append (GTK_BOX (box), words (line, NULL));
}

void
tally_help_present (GtkWindow *parent)
{
  GtkWindow *window = tally_side_window_new (parent, NULL, _ ("Manual"), 760, 760);
  GtkWidget *scrolled = gtk_scrolled_window_new (), *clamp = adw_clamp_new (), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  g_autoptr (GBytes) bytes = g_resources_lookup_data ("/seamtally/ui/help.txt", G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  g_autofree char *text = bytes ? g_strndup (g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes)) : g_strdup ("");
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  gtk_widget_add_css_class (box, "side-page");
  for (char **line = lines; *line; line++)
    add_line (box, *line);
  adw_clamp_set_child (ADW_CLAMP (clamp), box);
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scrolled), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scrolled), clamp);
  gtk_widget_set_focusable (scrolled, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (scrolled), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Manual page"), -1);
  tally_side_window_set (window, NULL, scrolled);
  gtk_widget_grab_focus (scrolled);
  gtk_window_present (window);
}

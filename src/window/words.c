/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/words.h"

GtkWidget *
tally_words_new (const char *text, const char *css)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (css)
    gtk_widget_add_css_class (label, css);
  return label;
}

GtkWidget *
tally_words_in_cell_new (const char *text, const char *css)
{
  GtkWidget *label = tally_words_new (text, css);

  gtk_label_set_yalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  return label;
}

GtkWidget *
tally_box_add (GtkWidget *box, GtkWidget *child)
{
  gtk_box_append (GTK_BOX (box), child);
  return child;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Words from the start side that wrap where the room ends; @css: (nullable): a class. (transfer floating) */
GtkWidget *tally_words_new (const char *text, const char *css);
/* The same for a cell of a table: at the top of its row, and within a word where that has to be. (transfer floating) */
GtkWidget *tally_words_in_cell_new (const char *text, const char *css);

/* Appends and gives back the child, to be kept. */
GtkWidget *tally_box_add (GtkWidget *box, GtkWidget *child);

G_END_DECLS

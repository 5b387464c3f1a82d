/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* An entry that shows a figure kept elsewhere. What is typed is taken over by Enter or when the focus leaves; Escape takes it back.
 * It has no undo of its own: Ctrl+Z is the job's. */
typedef void (*TallyFieldTake) (GtkWidget *entry, gpointer data);

/* @take: reads the text and keeps it, or says what is wrong and calls tally_field_refuse(). Called after Escape too, with the text
 * that is kept, so that words about a fault go. @data outlives the entry. */
void tally_field_init (GtkWidget *entry, TallyFieldTake take, gpointer data);
/* Only without an undo of its own: of entries that take over and follow by themselves. */
void tally_field_no_undo (GtkWidget *entry);
/* @text is what is kept now. Text that was typed and is not taken over stays, with its mark, as long as what is kept is the same. */
void tally_field_follow (GtkWidget *entry, const char *text);
/* @text is what is kept now and what is shown, whatever was typed: of another job. */
void tally_field_show (GtkWidget *entry, const char *text);
/* The text cannot be used: it stays, marked, until it is mended. @words: what is wrong with it. */
void tally_field_refuse (GtkWidget *entry, const char *words);
void tally_field_accept (GtkWidget *entry);
/* What tally_field_refuse() said, NULL: nothing is wrong. */
const char *tally_field_fault (GtkWidget *entry);

G_END_DECLS

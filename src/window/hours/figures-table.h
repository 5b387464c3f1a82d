/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A table to read: headings with their unit below, a row of words and figures each, lines between. */
typedef struct
{
  const char *title, *unit; /* translated; unit may be "" */
  gboolean figure;          /* right-aligned, tabular digits */
} FiguresColumn;

/* (transfer floating) */
GtkWidget *figures_table_new (const char *label);
/* Drops everything and sets headings. */
void figures_table_begin (GtkWidget *table, const FiguresColumn *column, int n);
/* @text: n; "" stands for nothing. @bold: a sum. @attention: column whose words call for attention, -1 none. */
void figures_table_add (GtkWidget *table, const char *const *text, gboolean bold, int attention);

G_END_DECLS

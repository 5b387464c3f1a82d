/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/hours/figures-table.h"

#define WORDS_MOST 22 /* characters that words keep when there is little room */

/* What a table knows of itself. */
typedef struct
{
  int n, rows;
  gboolean figure[16];
} Shape;

static Shape *
shape_of (GtkWidget *table)
{
  return g_object_get_data (G_OBJECT (table), "shape");
}

GtkWidget *
figures_table_new (const char *label)
{
  GtkWidget *table = gtk_grid_new ();

  g_object_set_data_full (G_OBJECT (table), "shape", g_new0 (Shape, 1), g_free);
  gtk_widget_add_css_class (table, "figures-table");
  gtk_accessible_update_property (GTK_ACCESSIBLE (table), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  return table;
}

static GtkWidget *
put (GtkWidget *table, int column, int row, const char *text, const char *style)
{
  const Shape *shape = shape_of (table);
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), shape->figure[column] ? 1 : 0);
  gtk_label_set_ellipsize (GTK_LABEL (label), shape->figure[column] ? PANGO_ELLIPSIZE_NONE : PANGO_ELLIPSIZE_END);
  if (!shape->figure[column])
    gtk_label_set_width_chars (GTK_LABEL (label), (int) MIN (g_utf8_strlen (text, -1), WORDS_MOST));
  gtk_widget_set_hexpand (label, TRUE);
  if (shape->figure[column])
    gtk_widget_add_css_class (label, "figure");
  gtk_widget_add_css_class (label, style);
  gtk_grid_attach (GTK_GRID (table), label, column, row, 1, 1);
  return label;
}

void
figures_table_begin (GtkWidget *table, const FiguresColumn *column, int n)
{
  Shape *shape = shape_of (table);
  GtkWidget *child;
  gboolean units = FALSE;

  g_return_if_fail (n <= (int) G_N_ELEMENTS (shape->figure));
  while ((child = gtk_widget_get_first_child (table)))
    gtk_grid_remove (GTK_GRID (table), child);
  shape->n = n;
  for (int i = 0; i < n; i++)
    units = units || *column[i].unit;
  shape->rows = 2;
  for (int i = 0; i < n; i++)
    {
      shape->figure[i] = column[i].figure;
      GtkWidget *title = put (table, i, 0, column[i].title, "title");
      if (units)
        gtk_widget_add_css_class (put (table, i, 1, column[i].unit, "head"), "unit");
      else
        gtk_widget_add_css_class (title, "head");
    }
}

void
figures_table_add (GtkWidget *table, const char *const *text, gboolean bold, int attention)
{
  Shape *shape = shape_of (table);
  int row = shape->rows++;

  for (int i = 0; i < shape->n; i++)
    {
      GtkWidget *label = put (table, i, row, text[i], "cell");
      if (bold)
        gtk_widget_add_css_class (label, "sum");
      if (i == attention)
        gtk_widget_add_css_class (label, "attention");
      if (!shape->figure[i])
        gtk_widget_set_tooltip_text (label, *text[i] ? text[i] : NULL);
    }
}

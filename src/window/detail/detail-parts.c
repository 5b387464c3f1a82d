/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/detail/detail-private.h"

#include "base/decimal.h"
#include "base/num.h"

#include <math.h>

GtkWidget *
detail_box (int spacing)
{
  return gtk_box_new (GTK_ORIENTATION_VERTICAL, spacing);
}

static void
add_classes (GtkWidget *widget, const char *css)
{
  g_auto (GStrv) words = g_strsplit (css ? css : "", " ", -1);

  for (char **w = words; *w; w++)
    if (**w)
      gtk_widget_add_css_class (widget, *w);
}

void
detail_heading (GtkWidget *box, const char *text)
{
  GtkWidget *line = gtk_separator_new (GTK_ORIENTATION_HORIZONTAL), *label = gtk_label_new (text);

  gtk_widget_set_margin_top (line, 6);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, "heading");
  gtk_box_append (GTK_BOX (box), line);
  gtk_box_append (GTK_BOX (box), label);
}

GtkWidget *
detail_words (GtkWidget *box, const char *css, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_autofree char *text = g_strdup_vprintf (format, args);
  va_end (args);
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_NONE);
  add_classes (label, css);
  gtk_box_append (GTK_BOX (box), label);
  return label;
}

GtkWidget *
detail_table (GtkWidget *box)
{
  GtkWidget *table = gtk_grid_new ();

  gtk_grid_set_column_spacing (GTK_GRID (table), 10);
  gtk_grid_set_row_spacing (GTK_GRID (table), 2);
  gtk_box_append (GTK_BOX (box), table);
  return table;
}

void
detail_table_row (GtkWidget *table, const char *css, const char *const *cells, int n)
{
  int row = GPOINTER_TO_INT (g_object_get_data (G_OBJECT (table), "rows"));

  for (int i = 0; i < n; i++)
    {
      GtkWidget *label;
      if (!cells[i])
        continue;
      label = gtk_label_new (cells[i]);
      gtk_label_set_xalign (GTK_LABEL (label), i == 0 ? 0 : 1);
      gtk_label_set_yalign (GTK_LABEL (label), 0);
      if (i == 0)
        {
          gtk_label_set_wrap (GTK_LABEL (label), TRUE);
          gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
          gtk_widget_set_hexpand (label, TRUE);
        }
      else
        gtk_widget_add_css_class (label, "figure");
      add_classes (label, css);
      gtk_grid_attach (GTK_GRID (table), label, i, row, 1, 1);
    }
  g_object_set_data (G_OBJECT (table), "rows", GINT_TO_POINTER (row + 1));
}

/* ---- expanders ---- */

typedef struct
{
  gboolean *open;
  DetailFill fill;
  gpointer data;
  GDestroyNotify free_data;
} Expanding;

static void
expanding_free (gpointer data, GClosure *closure)
{
  Expanding *e = data;

  (void) closure;
  if (e->free_data)
    e->free_data (e->data);
  g_free (e);
}

static void
expanded_cb (GtkExpander *expander, GParamSpec *pspec, Expanding *e)
{
  gboolean open = gtk_expander_get_expanded (expander);

  (void) pspec;
  if (e->open)
    *e->open = open;
  if (open && !gtk_expander_get_child (expander))
    {
      GtkWidget *box = detail_box (3);
      gtk_widget_set_margin_start (box, 8);
      e->fill (box, e->data);
      gtk_expander_set_child (expander, box);
    }
}

GtkWidget *
detail_expander (GtkWidget *box, const char *title, gboolean *open, DetailFill fill, gpointer data, GDestroyNotify free_data)
{
  GtkWidget *expander = gtk_expander_new (title);
  Expanding *e = g_new (Expanding, 1);

  *e = (Expanding) { open, fill, data, free_data };
  g_signal_connect_data (expander, "notify::expanded", G_CALLBACK (expanded_cb), e, expanding_free, 0);
  gtk_accessible_update_property (GTK_ACCESSIBLE (expander), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  gtk_box_append (GTK_BOX (box), expander);
  if (open && *open)
    gtk_expander_set_expanded (GTK_EXPANDER (expander), TRUE);
  return expander;
}

/* ---- figures and looks ---- */

char *
detail_fixed (double x, int digits)
{
  gint64 whole;

  if (!num_from_double (x * pow (10, digits), &whole))
    return g_strdup ("–");
  return decimal_print (whole, digits, digits, TRUE);
}

static ChartColour
look_up (GtkWidget *widget, const char *name, GdkRGBA otherwise)
{
  GdkRGBA c = otherwise;

  gtk_style_context_lookup_color (gtk_widget_get_style_context (widget), name, &c);
  return (ChartColour) { (double) c.red, (double) c.green, (double) c.blue, (double) c.alpha };
}

static ChartColour
mix (ChartColour a, ChartColour b, double t)
{
  return (ChartColour) { a.r + (b.r - a.r) * t, a.g + (b.g - a.g) * t, a.b + (b.b - a.b) * t, 1 };
}

void
detail_looks (GtkWidget *widget, PieceLooks *looks)
{
  GdkRGBA fg;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &fg);
  looks->paper = look_up (widget, "window_bg_color", (GdkRGBA) { 1, 1, 1, 1 });
  looks->accent = look_up (widget, "accent_color", fg);
  /* The theme's ink is translucent: laid on the ground once, so that lines crossing do not show. */
  looks->ink = mix (looks->paper, (ChartColour) { (double) fg.red, (double) fg.green, (double) fg.blue, 1 }, 0.85);
  /* On a dark ground the accent is lifted, so that made ends stand out as they do on a light one. */
  if (looks->paper.r + looks->paper.g + looks->paper.b < 1.2)
    looks->accent = mix (looks->accent, looks->ink, 0.4);
  looks->dim = mix (looks->paper, looks->ink, 0.72);
  looks->font = NULL;
}

GtkWidget *
detail_status (const char *status)
{
  GtkWidget *label = gtk_label_new (status);

  gtk_widget_add_css_class (label, "status-mark");
  gtk_widget_set_halign (label, GTK_ALIGN_START);
  gtk_widget_set_visible (label, status && *status);
  return label;
}

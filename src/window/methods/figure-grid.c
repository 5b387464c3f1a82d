/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/figure-grid.h"

#include "window/methods/pass-scroll.h"

/* Longer words are broken into lines, here and not by the label: a table must know its height before its width. */
#define NAME_CHARS 24
#define HEAD_CHARS 16
#define BELOW_CHARS 44

struct _TallyFigureGrid
{
  GtkWidget parent_instance;

  GtkWidget *scroll, *grid; /* borrowed, but for scroll */
  int columns, row, column;
  guint64 words; /* a bit a column: of words, to the left */
  gboolean bold, centre;
};

G_DEFINE_FINAL_TYPE (TallyFigureGrid, tally_figure_grid, GTK_TYPE_WIDGET)

static void
tally_figure_grid_dispose (GObject *object)
{
  g_clear_pointer (&TALLY_FIGURE_GRID (object)->scroll, gtk_widget_unparent);
  G_OBJECT_CLASS (tally_figure_grid_parent_class)->dispose (object);
}

static void
tally_figure_grid_class_init (TallyFigureGridClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_figure_grid_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
tally_figure_grid_init (TallyFigureGrid *self)
{
  self->words = 1;
  self->grid = gtk_grid_new ();
  gtk_grid_set_column_spacing (GTK_GRID (self->grid), 14);
  gtk_grid_set_row_spacing (GTK_GRID (self->grid), 5);
  gtk_widget_set_halign (self->grid, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->grid, "figure-grid");
  self->scroll = gtk_scrolled_window_new ();
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroll), GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroll), self->grid);
  tally_pass_scroll (self->scroll);
  gtk_widget_set_parent (self->scroll, GTK_WIDGET (self));
}

GtkWidget *
tally_figure_grid_new (const char *name)
{
  TallyFigureGrid *self = g_object_new (TALLY_TYPE_FIGURE_GRID, NULL);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self->grid), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->scroll), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return GTK_WIDGET (self);
}

void
tally_figure_grid_clear (TallyFigureGrid *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->grid)))
    gtk_grid_remove (GTK_GRID (self->grid), child);
  self->columns = self->row = self->column = 0;
  self->words = 1;
}

void
tally_figure_grid_centre (TallyFigureGrid *self)
{
  self->centre = TRUE;
}

/* Lines of about so many characters, broken at blanks. */
static char *
folded (const char *text, glong chars)
{
  g_auto (GStrv) words = g_strsplit (text, " ", -1);
  g_autoptr (GString) out = g_string_new (NULL);
  glong line = 0;

  for (char **w = words; *w; w++)
    {
      glong length = g_utf8_strlen (*w, -1);
      if (w != words)
        g_string_append (out, line + 1 + length > chars ? "\n" : " ");
      line = w != words && line + 1 + length <= chars ? line + 1 + length : length;
      g_string_append (out, *w);
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

static GtkWidget *
label (const char *text, glong chars, float xalign, const char *class)
{
  g_autofree char *lines = folded (text, chars);
  GtkWidget *w = gtk_label_new (lines);

  gtk_label_set_xalign (GTK_LABEL (w), xalign);
  gtk_label_set_justify (GTK_LABEL (w), xalign > 0.5f ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT);
  if (class)
    gtk_widget_add_css_class (w, class);
  return w;
}

static void
attach (TallyFigureGrid *self, GtkWidget *widget)
{
  gtk_grid_attach (GTK_GRID (self->grid), widget, self->column++, self->row, 1, 1);
}

static gboolean
is_words (const TallyFigureGrid *self, int column)
{
  return column < 64 && (self->words >> column & 1);
}

void
tally_figure_grid_head_words (TallyFigureGrid *self, const char *title, const char *unit)
{
  if (self->columns < 64)
    self->words |= G_GUINT64_CONSTANT (1) << self->columns;
  tally_figure_grid_head (self, title, unit);
}

void
tally_figure_grid_head (TallyFigureGrid *self, const char *title, const char *unit)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  float xalign = is_words (self, self->columns) ? 0 : 1;
  GtkWidget *name = label (title, HEAD_CHARS, xalign, "column");

  gtk_box_append (GTK_BOX (box), name);
  if (unit)
    gtk_box_append (GTK_BOX (box), label (unit, BELOW_CHARS, xalign, "unit"));
  gtk_widget_set_valign (box, GTK_ALIGN_END);
  self->columns++;
  attach (self, box);
}

void
tally_figure_grid_row (TallyFigureGrid *self, gboolean bold)
{
  self->row++;
  self->column = 0;
  self->bold = bold;
}

GtkWidget *
tally_figure_grid_cell (TallyFigureGrid *self, const char *text, const char *below, gboolean less)
{
  gboolean name = is_words (self, self->column);
  GtkWidget *box = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "accessible-role", GTK_ACCESSIBLE_ROLE_GROUP, NULL);
  GtkWidget *w = label (text, NAME_CHARS, name ? 0 : 1, name ? NULL : "figure");

  if (self->bold)
    gtk_widget_add_css_class (w, "strong");
  if (self->centre)
    gtk_widget_set_valign (box, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (box), w);
  if (below && *below)
    {
      w = label (below, BELOW_CHARS, name ? 0 : 1, name ? "unit" : "difference");
      if (less)
        gtk_widget_add_css_class (w, "less");
      gtk_box_append (GTK_BOX (box), w);
    }
  attach (self, box);
  return box;
}

void
tally_figure_grid_take (TallyFigureGrid *self, GtkWidget *widget)
{
  attach (self, widget);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/chart-area.h"

#include <adwaita.h>
#include <glib/gi18n.h>
#include <math.h>

/* ---- the picture alone ---- */

#define TALLY_TYPE_PICTURE (tally_picture_get_type ())
G_DECLARE_FINAL_TYPE (TallyPicture, tally_picture, TALLY, PICTURE, GtkWidget)

struct _TallyPicture
{
  GtkWidget parent_instance;

  TallyChartHeight height;
  TallyChartDraw draw;
  gpointer data;
  GDestroyNotify free;
};

G_DEFINE_FINAL_TYPE (TallyPicture, tally_picture, GTK_TYPE_WIDGET)

static ChartColour
colour_of (const GdkRGBA *c, double alpha)
{
  return (ChartColour) { c->red, c->green, c->blue, c->alpha * alpha };
}

void
tally_chart_area_set_spots (TallyChartArea *area, TallyChartSpots spots)
{
  (void) area;
  (void) spots;
}

void
tally_chart_palette (GtkWidget *widget, ChartPalette *palette)
{
  GtkStyleContext *style = gtk_widget_get_style_context (widget);
  gboolean high = adw_style_manager_get_high_contrast (adw_style_manager_get_for_display (gtk_widget_get_display (widget)));
  GdkRGBA text, accent, warning;

  gtk_style_context_get_color (style, &text);
  if (!gtk_style_context_lookup_color (style, "accent_color", &accent))
    accent = text;
  if (!gtk_style_context_lookup_color (style, "warning_color", &warning))
    warning = text;
  palette->text = colour_of (&text, 1);
  palette->dim = colour_of (&text, high ? 1 : 0.7);
  palette->line = colour_of (&text, high ? 0.8 : 0.35);
  palette->accent = colour_of (&accent, 1);
  palette->accent_fill = colour_of (&accent, high ? 0.5 : 0.35);
  palette->warning = colour_of (&warning, 1);
}

static void
picture_clear (TallyPicture *self)
{
  if (self->free && self->data)
    self->free (self->data);
  self->data = NULL;
  self->free = NULL;
  self->draw = NULL;
  self->height = NULL;
}

static void
picture_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  TallyPicture *self = TALLY_PICTURE (widget);
  int width = gtk_widget_get_width (widget), height = gtk_widget_get_height (widget);
  ChartPalette palette;
  ChartPaper paper = { .palette = &palette, .context = gtk_widget_get_pango_context (widget) };

  if (!self->draw || width <= 0 || height <= 0)
    return;
  tally_chart_palette (widget, &palette);
  paper.cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  self->draw (&paper, width, self->data);
  cairo_destroy (paper.cr);
}

static void
picture_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline,
                 int *natural_baseline)
{
  TallyPicture *self = TALLY_PICTURE (widget);
  ChartPaper paper = { .palette = &chart_ink, .context = gtk_widget_get_pango_context (widget) };

  *minimum_baseline = *natural_baseline = -1;
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = 160;
      *natural = 480;
      return;
    }
  *minimum = *natural = self->height ? (int) ceil (self->height (&paper, for_size > 0 ? for_size : 480, self->data)) : 0;
}

static GtkSizeRequestMode
picture_mode (GtkWidget *widget)
{
  (void) widget;
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
tally_picture_dispose (GObject *object)
{
  picture_clear (TALLY_PICTURE (object));
  G_OBJECT_CLASS (tally_picture_parent_class)->dispose (object);
}

static void
tally_picture_class_init (TallyPictureClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tally_picture_dispose;
  widget->snapshot = picture_snapshot;
  widget->measure = picture_measure;
  widget->get_request_mode = picture_mode;
  gtk_widget_class_set_accessible_role (widget, GTK_ACCESSIBLE_ROLE_IMG);
  gtk_widget_class_set_css_name (widget, "chart");
}

static void
tally_picture_init (TallyPicture *self)
{
  (void) self;
}

/* ---- title, button, picture or table ---- */

struct _TallyChartArea
{
  GtkWidget parent_instance;

  GtkWidget *box, *title, *button, *stack, *table; /* borrowed, but for box */
  TallyPicture *picture;
};

G_DEFINE_FINAL_TYPE (TallyChartArea, tally_chart_area, GTK_TYPE_WIDGET)

static void
toggled_cb (GtkToggleButton *button, TallyChartArea *self)
{
  gboolean table = gtk_toggle_button_get_active (button);

  gtk_button_set_label (GTK_BUTTON (button), table ? _ ("As a picture") : _ ("As a table"));
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), table ? "table" : "picture");
}

static void
tally_chart_area_dispose (GObject *object)
{
  g_clear_pointer (&TALLY_CHART_AREA (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (tally_chart_area_parent_class)->dispose (object);
}

static void
tally_chart_area_class_init (TallyChartAreaClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tally_chart_area_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static void
tally_chart_area_init (TallyChartArea *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12), *scroll = gtk_scrolled_window_new ();

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  self->title = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->title), 0);
  gtk_label_set_wrap (GTK_LABEL (self->title), TRUE);
  gtk_widget_set_hexpand (self->title, TRUE);
  gtk_widget_add_css_class (self->title, "heading");
  self->button = gtk_toggle_button_new_with_label (_ ("As a table"));
  gtk_widget_add_css_class (self->button, "flat");
  gtk_widget_add_css_class (self->button, "as-table");
  gtk_widget_set_valign (self->button, GTK_ALIGN_START);
  g_signal_connect (self->button, "toggled", G_CALLBACK (toggled_cb), self);
  gtk_box_append (GTK_BOX (head), self->title);
  gtk_box_append (GTK_BOX (head), self->button);
  gtk_box_append (GTK_BOX (self->box), head);

  self->picture = g_object_new (TALLY_TYPE_PICTURE, NULL);
  self->table = gtk_label_new (NULL);
  gtk_label_set_selectable (GTK_LABEL (self->table), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->table), 0);
  gtk_label_set_yalign (GTK_LABEL (self->table), 0);
  gtk_widget_add_css_class (self->table, "monospace");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroll), GTK_POLICY_AUTOMATIC, GTK_POLICY_NEVER);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroll), self->table);
  self->stack = gtk_stack_new ();
  gtk_stack_set_vhomogeneous (GTK_STACK (self->stack), FALSE);
  gtk_stack_add_named (GTK_STACK (self->stack), GTK_WIDGET (self->picture), "picture");
  gtk_stack_add_named (GTK_STACK (self->stack), scroll, "table");
  gtk_box_append (GTK_BOX (self->box), self->stack);
}

GtkWidget *
tally_chart_area_new (const char *title)
{
  TallyChartArea *self = g_object_new (TALLY_TYPE_CHART_AREA, NULL);

  tally_chart_area_set_title (self, title);
  return GTK_WIDGET (self);
}

void
tally_chart_area_set_title (TallyChartArea *self, const char *title)
{
  g_autofree char *of = g_strdup_printf (_ ("As a table: %s"), title ? title : "");

  gtk_label_set_label (GTK_LABEL (self->title), title ? title : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, title ? title : "", -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, of, -1);
}

void
tally_chart_area_set (TallyChartArea *self, TallyChartHeight height, TallyChartDraw draw, gpointer data, GDestroyNotify free,
                      const char *table)
{
  picture_clear (self->picture);
  self->picture->height = height;
  self->picture->draw = draw;
  self->picture->data = data;
  self->picture->free = free;
  gtk_label_set_label (GTK_LABEL (self->table), table ? table : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, table ? table : "", -1);
  gtk_widget_queue_resize (GTK_WIDGET (self->picture));
}

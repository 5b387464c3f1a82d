/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/chart-area.h"

#include "job/figures-note.h"
#include "window/chart-picture.h"
#include "window/window.h"

#include <adwaita.h>
#include <glib/gi18n.h>

#define BELOW_WORDS 12 /* px */
#define SETTLED 260    /* ms after which words have their height and GTK has slid to the focus */

static ChartColour
colour_of (const GdkRGBA *c, double alpha)
{
  return (ChartColour) { c->red, c->green, c->blue, c->alpha * alpha };
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

/* ---- title, buttons, picture or table, the words of a spot ---- */

struct _TallyChartArea
{
  GtkWidget parent_instance;

  GtkWidget *box, *title, *button, *keep, *stack, *table, *words; /* borrowed, but for box */
  TallyPicture *picture;
  char *note; /* (nullable) */
  guint scrolling;
};

G_DEFINE_FINAL_TYPE (TallyChartArea, tally_chart_area, GTK_TYPE_WIDGET)

static void
tell (TallyChartArea *self, const char *words)
{
  gtk_label_set_label (GTK_LABEL (self->words), words ? words : "");
  gtk_widget_set_tooltip_text (self->words, words && *words ? words : NULL);
  gtk_widget_set_visible (self->words, (words && *words) || tally_picture_has_spots (self->picture));
}

/* Picture and words together into sight, once they have their place; the words when there is no room for both. */
static gboolean
scroll_cb (gpointer data)
{
  TallyChartArea *self = data;
  GtkWidget *scroll = gtk_widget_get_ancestor (GTK_WIDGET (self), GTK_TYPE_SCROLLED_WINDOW);
  double x, top, bottom;

  self->scrolling = 0;
  /* Where only a pointer goes nothing moves. */
  if (!scroll || !gtk_widget_has_focus (GTK_WIDGET (self->picture))
      || !gtk_widget_translate_coordinates (self->stack, scroll, 0, 0, &x, &top)
      || !gtk_widget_translate_coordinates (self->words, scroll, 0, gtk_widget_get_height (self->words), &x, &bottom))
    return G_SOURCE_REMOVE;
  GtkAdjustment *down = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroll));
  double at = gtk_adjustment_get_value (down), page = gtk_adjustment_get_page_size (down);
  bottom += BELOW_WORDS;
  gtk_adjustment_clamp_page (down, at + MAX (top, bottom - page), at + bottom);
  return G_SOURCE_REMOVE;
}

static void
spot_cb (TallyPicture *picture, const char *words, TallyChartArea *self)
{
  tell (self, words);
  (void) picture;
  if (words && self->scrolling == 0)
    self->scrolling = g_timeout_add (SETTLED, scroll_cb, self);
}

static void
toggled_cb (GtkToggleButton *button, TallyChartArea *self)
{
  gboolean table = gtk_toggle_button_get_active (button);

  gtk_button_set_label (GTK_BUTTON (button), table ? _ ("As a picture") : _ ("As a table"));
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), table ? "table" : "picture");
  tell (self, NULL);
}

/* What stands under the picture in a file. (transfer full) */
static char *
note_of (TallyChartArea *self)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  TallyJob *job = TALLY_IS_WINDOW (root) ? session_job (tally_window_session (TALLY_WINDOW (root))) : NULL;

  if (self->note)
    return g_strdup (self->note);
  return job ? job_figures_note (job) : NULL;
}

static void
copy_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyChartArea *self = TALLY_CHART_AREA (widget);
  g_autofree char *note = note_of (self);
  g_autofree char *text = g_strdup_printf ("%s\n\n%s%s%s%s", gtk_label_get_label (GTK_LABEL (self->title)),
                                           gtk_label_get_label (GTK_LABEL (self->table)), note ? "\n" : "", note ? note : "",
                                           note ? "\n" : "");

  (void) name;
  (void) parameter;
  gdk_clipboard_set_text (gtk_widget_get_clipboard (widget), text);
  tell (self, _ ("Copied as text"));
}

static void
save_cb (GtkWidget *widget, const char *name, GVariant *parameter)
{
  TallyChartArea *self = TALLY_CHART_AREA (widget);
  g_autofree char *note = note_of (self);

  (void) parameter;
  tally_chart_save (self, self->picture, gtk_label_get_label (GTK_LABEL (self->title)), note, g_str_equal (name, "chart.pdf"), tell);
}

static void
tally_chart_area_dispose (GObject *object)
{
  g_clear_handle_id (&TALLY_CHART_AREA (object)->scrolling, g_source_remove);
  g_clear_pointer (&TALLY_CHART_AREA (object)->box, gtk_widget_unparent);
  g_clear_pointer (&TALLY_CHART_AREA (object)->note, g_free);
  G_OBJECT_CLASS (tally_chart_area_parent_class)->dispose (object);
}

static void
tally_chart_area_class_init (TallyChartAreaClass *klass)
{
  GtkWidgetClass *widget = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tally_chart_area_dispose;
  gtk_widget_class_set_layout_manager_type (widget, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_install_action (widget, "chart.copy", NULL, copy_cb);
  gtk_widget_class_install_action (widget, "chart.png", NULL, save_cb);
  gtk_widget_class_install_action (widget, "chart.pdf", NULL, save_cb);
}

static GtkWidget *
make_head (TallyChartArea *self)
{
  GtkWidget *head = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 4);
  g_autoptr (GMenu) menu = g_menu_new ();

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
  g_menu_append (menu, _ ("Copy as text"), "chart.copy");
  g_menu_append (menu, _ ("Save as PNG…"), "chart.png");
  g_menu_append (menu, _ ("Save as PDF…"), "chart.pdf");
  self->keep = gtk_menu_button_new ();
  gtk_menu_button_set_label (GTK_MENU_BUTTON (self->keep), _ ("Copy or save"));
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (self->keep), G_MENU_MODEL (menu));
  gtk_menu_button_set_has_frame (GTK_MENU_BUTTON (self->keep), FALSE);
  gtk_widget_add_css_class (self->keep, "chart-keep");
  gtk_widget_set_valign (self->keep, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (head), self->title);
  gtk_box_append (GTK_BOX (head), self->button);
  gtk_box_append (GTK_BOX (head), self->keep);
  return head;
}

static void
tally_chart_area_init (TallyChartArea *self)
{
  GtkWidget *scroll = gtk_scrolled_window_new ();

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_box_append (GTK_BOX (self->box), make_head (self));
  self->picture = TALLY_PICTURE (tally_picture_new ());
  g_signal_connect (self->picture, "spot", G_CALLBACK (spot_cb), self);
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
  /* Two lines that keep their place, so that nothing moves while a pointer passes. */
  self->words = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->words), 0);
  gtk_label_set_yalign (GTK_LABEL (self->words), 0);
  gtk_label_set_wrap (GTK_LABEL (self->words), TRUE);
  gtk_label_set_lines (GTK_LABEL (self->words), 2);
  gtk_label_set_ellipsize (GTK_LABEL (self->words), PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (self->words, "chart-words");
  gtk_widget_add_css_class (self->words, "figure");
  gtk_widget_set_visible (self->words, FALSE);
  gtk_box_append (GTK_BOX (self->box), self->words);
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
  g_autofree char *keep = g_strdup_printf (_ ("Copy or save: %s"), title ? title : "");

  gtk_label_set_label (GTK_LABEL (self->title), title ? title : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_LABEL, title ? title : "", -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->button), GTK_ACCESSIBLE_PROPERTY_LABEL, of, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->keep), GTK_ACCESSIBLE_PROPERTY_LABEL, keep, -1);
}

void
tally_chart_area_set_note (TallyChartArea *self, const char *note)
{
  g_free (self->note);
  self->note = g_strdup (note);
}

void
tally_chart_area_set (TallyChartArea *self, TallyChartHeight height, TallyChartDraw draw, gpointer data, GDestroyNotify free,
                      const char *table)
{
  tally_picture_set (self->picture, height, draw, data, free);
  gtk_label_set_label (GTK_LABEL (self->table), table ? table : "");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, table ? table : "", -1);
  tell (self, NULL);
}

void
tally_chart_area_set_spots (TallyChartArea *self, TallyChartSpots spots)
{
  tally_picture_set_spots (self->picture, spots);
  gtk_widget_set_visible (self->words, spots != NULL);
}

void
tally_chart_area_set_walks (TallyChartArea *self, GPtrArray *lines)
{
  tally_picture_set_walks (self->picture, lines);
}

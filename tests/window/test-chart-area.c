/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture in the window: keys and pointer walk over its values and say them; it is copied as text; and the marks by which one key
 * finds the figure of a widget. Figures invented for the demo. */
#include "chart/bars.h"
#include "window/chart-area.h"
#include "window/walk.h"

#include <adwaita.h>
#include <math.h>
#include <string.h>

static const ChartBar bar[] = {
  { "by hand", 174857, "174,857", NAN, NAN, TRUE },
  { "driven fasteners", 171445, "171,445", NAN, NAN, FALSE },
  { "slip and drive", 166204, "166,204", NAN, NAN, FALSE },
};
static const ChartBars bars = { bar, G_N_ELEMENTS (bar), "cost, USD", "method" };

static double
height (const ChartPaper *paper, double width, gpointer data)
{
  return chart_bars_height (paper, data, width);
}

static void
draw (const ChartPaper *paper, double width, gpointer data)
{
  chart_bars_draw (paper, data, width);
}

static GPtrArray *
spots (const ChartPaper *paper, double width, gpointer data)
{
  return chart_bars_spots (paper, data, width);
}

/* The first widget below with a CSS name or class. */
static GtkWidget *
find (GtkWidget *root, const char *name)
{
  for (GtkWidget *child = gtk_widget_get_first_child (root); child; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = strcmp (gtk_widget_get_css_name (child), name) == 0 || gtk_widget_has_css_class (child, name) ? child : find (child, name);
      if (found)
        return found;
    }
  return NULL;
}

static GtkEventController *
controller_of (GtkWidget *widget, GType type)
{
  g_autoptr (GListModel) list = gtk_widget_observe_controllers (widget);

  for (guint i = 0; i < g_list_model_get_n_items (list); i++)
    {
      g_autoptr (GtkEventController) c = g_list_model_get_item (list, i);
      if (G_TYPE_CHECK_INSTANCE_TYPE (c, type))
        return c; /* the widget keeps it */
    }
  g_assert_not_reached ();
}

static gboolean
press (GtkWidget *picture, guint keyval, GdkModifierType state)
{
  gboolean taken = FALSE;

  g_signal_emit_by_name (controller_of (picture, GTK_TYPE_EVENT_CONTROLLER_KEY), "key-pressed", keyval, 0u, state, &taken);
  return taken;
}

static void
point (GtkWidget *picture, double x, double y)
{
  g_signal_emit_by_name (controller_of (picture, GTK_TYPE_EVENT_CONTROLLER_MOTION), "motion", x, y);
}

static void
iterate (void)
{
  gint64 until = g_get_monotonic_time () + 300000;

  while (g_get_monotonic_time () < until)
    g_main_context_iteration (NULL, FALSE);
}

typedef struct
{
  GtkWidget *window, *area, *picture, *words;
} Place;

static void
set_up (Place *p, gconstpointer data)
{
  (void) data;
  p->window = gtk_window_new ();
  p->area = tally_chart_area_new ("Cost by method");
  gtk_window_set_default_size (GTK_WINDOW (p->window), 700, 400);
  gtk_window_set_child (GTK_WINDOW (p->window), p->area);
  tally_chart_area_set (TALLY_CHART_AREA (p->area), height, draw, (gpointer) &bars, NULL, "the table\n");
  tally_chart_area_set_spots (TALLY_CHART_AREA (p->area), spots);
  gtk_window_present (GTK_WINDOW (p->window));
  iterate ();
  p->picture = find (p->area, "chart");
  p->words = find (p->area, "chart-words");
  g_assert_cmpint (gtk_widget_get_width (p->picture), >, 400);
}

static void
tear_down (Place *p, gconstpointer data)
{
  (void) data;
  gtk_window_destroy (GTK_WINDOW (p->window));
}

static void
check (Place *p, const char *words)
{
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (p->words)), ==, words);
}

static void
test_keys (Place *p, gconstpointer data)
{
  (void) data;
  g_assert_true (gtk_widget_get_focusable (p->picture));
  g_assert_true (press (p->picture, GDK_KEY_Home, 0));
  check (p, "by hand (baseline): 174,857 (cost, USD)");
  press (p->picture, GDK_KEY_Right, 0);
  check (p, "driven fasteners: 171,445 (cost, USD)");
  press (p->picture, GDK_KEY_Down, 0);
  check (p, "slip and drive: 166,204 (cost, USD)");
  press (p->picture, GDK_KEY_Down, 0);
  check (p, "slip and drive: 166,204 (cost, USD)");
  press (p->picture, GDK_KEY_Up, 0);
  press (p->picture, GDK_KEY_Left, 0);
  check (p, "by hand (baseline): 174,857 (cost, USD)");
  press (p->picture, GDK_KEY_End, 0);
  check (p, "slip and drive: 166,204 (cost, USD)");
  /* Keys of others stay theirs. */
  g_assert_false (press (p->picture, GDK_KEY_Right, GDK_CONTROL_MASK));
  g_assert_false (press (p->picture, GDK_KEY_Tab, 0));
  check (p, "slip and drive: 166,204 (cost, USD)");
  /* The same data anew: the place stays, its words are the new ones. */
  ChartBar dearer[] = { bar[0], bar[1], bar[2] };
  ChartBars other = { dearer, 3, "cost, USD", "method" };
  dearer[2].text = "170,000";
  dearer[2].value = 170000;
  tally_chart_area_set (TALLY_CHART_AREA (p->area), height, draw, &other, NULL, "");
  tally_chart_area_set_spots (TALLY_CHART_AREA (p->area), spots);
  check (p, "slip and drive: 170,000 (cost, USD)");
  tally_chart_area_set (TALLY_CHART_AREA (p->area), height, draw, (gpointer) &bars, NULL, "");
  g_assert_false (press (p->picture, GDK_KEY_Home, 0)); /* no spots were said */
  check (p, "");
}

static void
test_pointer (Place *p, gconstpointer data)
{
  ChartPaper paper = { .palette = &chart_ink, .context = gtk_widget_get_pango_context (p->picture) };
  g_autoptr (GPtrArray) list = chart_bars_spots (&paper, &bars, gtk_widget_get_width (p->picture));

  (void) data;
  for (guint i = 0; i < list->len; i++)
    {
      const ChartSpot *s = g_ptr_array_index (list, i);
      point (p->picture, s->box.x + s->box.w / 2, s->box.y + s->box.h / 2);
      check (p, s->words);
    }
  g_signal_emit_by_name (controller_of (p->picture, GTK_TYPE_EVENT_CONTROLLER_MOTION), "leave");
  check (p, "");
}

static void
test_copy (Place *p, gconstpointer data)
{
  GdkContentProvider *content;
  GValue value = G_VALUE_INIT;

  (void) data;
  tally_chart_area_set_note (TALLY_CHART_AREA (p->area), "invented for the demo");
  g_assert_true (gtk_widget_activate_action (p->area, "chart.copy", NULL));
  check (p, "Copied as text");
  content = gdk_clipboard_get_content (gtk_widget_get_clipboard (p->area));
  g_value_init (&value, G_TYPE_STRING);
  g_assert_true (gdk_content_provider_get_value (content, &value, NULL));
  g_assert_cmpstr (g_value_get_string (&value), ==, "Cost by method\n\nthe table\n\ninvented for the demo\n");
  g_value_unset (&value);
}

/* The nearest mark around a widget, and its words back. */
static void
test_walk (Place *p, gconstpointer data)
{
  TallyWalk walk;

  (void) data;
  g_assert_null (tally_walk_find (p->picture));
  tally_walk_mark (p->area, "cost", "driven", "by hand", NULL, "part");
  g_assert_true (tally_walk_read (tally_walk_find (p->picture), &walk));
  g_assert_cmpstr (walk.figure, ==, "cost");
  g_assert_cmpstr (walk.method, ==, "driven");
  g_assert_cmpstr (walk.against, ==, "by hand");
  g_assert_null (walk.what_if);
  g_assert_cmpstr (walk.part, ==, "part");
  tally_walk_clear (&walk);
  tally_walk_mark (p->picture, "step:drive: fastener", NULL, NULL, "dear metal", NULL);
  g_assert_true (tally_walk_read (tally_walk_find (p->picture), &walk));
  g_assert_cmpstr (walk.figure, ==, "step:drive: fastener");
  g_assert_null (walk.method);
  g_assert_null (walk.against);
  g_assert_cmpstr (walk.what_if, ==, "dear metal");
  g_assert_cmpstr (walk.part, ==, "job");
  tally_walk_clear (&walk);
  /* A way against itself is one way. */
  tally_walk_mark (p->picture, "cost", "driven", "driven", NULL, "job");
  g_assert_true (tally_walk_read (tally_walk_find (p->picture), &walk));
  g_assert_null (walk.against);
  tally_walk_clear (&walk);
  tally_walk_mark (p->picture, NULL, NULL, NULL, NULL, NULL);
  g_assert_nonnull (tally_walk_find (p->picture)); /* that of the area */
  g_assert_false (tally_walk_read ("cost", &walk));
  g_assert_false (tally_walk_read (NULL, &walk));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  adw_init ();
  g_test_add ("/window/chart-area/keys", Place, NULL, set_up, test_keys, tear_down);
  g_test_add ("/window/chart-area/pointer", Place, NULL, set_up, test_pointer, tear_down);
  g_test_add ("/window/chart-area/copy", Place, NULL, set_up, test_copy, tear_down);
  g_test_add ("/window/chart-area/walk", Place, NULL, set_up, test_walk, tear_down);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/chart-picture.h"

#include "chart/spots.h"
#include "window/walk.h"

#include <math.h>

#define NEAR 14.0 /* px from a spot that still mean it */

struct _TallyPicture
{
  GtkWidget parent_instance;

  TallyChartHeight height;
  TallyChartDraw draw;
  TallyChartSpots make_spots;
  gpointer data;
  GDestroyNotify free;

  GPtrArray *spots; /* (nullable): of @spots_width */
  GPtrArray *walks; /* (nullable): char *, a line a spot */
  int spots_width;
  int current;      /* -1 none */
  double pointer_x, pointer_y; /* in the window, as last seen */
};

G_DEFINE_FINAL_TYPE (TallyPicture, tally_picture, GTK_TYPE_WIDGET)

static guint spot_signal;

static void
forget_spots (TallyPicture *self)
{
  g_clear_pointer (&self->spots, g_ptr_array_unref);
  self->spots_width = 0;
}

static const GPtrArray *
spots_now (TallyPicture *self)
{
  int width = gtk_widget_get_width (GTK_WIDGET (self));
  ChartPaper paper = { .palette = &chart_ink, .context = gtk_widget_get_pango_context (GTK_WIDGET (self)) };

  if (self->spots && self->spots_width != width)
    forget_spots (self);
  if (!self->spots && self->make_spots && width > 0)
    {
      self->spots = self->make_spots (&paper, width, self->data);
      self->spots_width = width;
    }
  return self->spots;
}

/* The figure of the spot, for the key that walks down from it. */
static void
mark (TallyPicture *self)
{
  const char *line = self->walks && self->current >= 0 && self->current < (int) self->walks->len
                       ? g_ptr_array_index (self->walks, (guint) self->current)
                       : NULL;

  tally_walk_take (GTK_WIDGET (self), g_strdup (line));
}

static void
go_to (TallyPicture *self, int to)
{
  const GPtrArray *spots = spots_now (self);
  const ChartSpot *spot;

  if (!spots || to >= (int) spots->len)
    to = -1;
  spot = to >= 0 ? g_ptr_array_index (spots, (guint) to) : NULL;
  if (to == self->current)
    return;
  self->current = to;
  mark (self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_VALUE_TEXT, spot ? spot->words : "", -1);
  gtk_widget_queue_draw (GTK_WIDGET (self));
  g_signal_emit (self, spot_signal, 0, spot ? spot->words : NULL);
}

/* ---- pointer and keys ---- */

static void
motion_cb (GtkEventControllerMotion *motion, double x, double y, TallyPicture *self)
{
  GtkWidget *root = GTK_WIDGET (gtk_widget_get_root (GTK_WIDGET (self)));
  int at = chart_spots_at (spots_now (self), x, y, NEAR);
  double rx = x, ry = y;

  (void) motion;
  /* When the page scrolls under a pointer that rests, the keys keep their place. */
  gtk_widget_translate_coordinates (GTK_WIDGET (self), root, x, y, &rx, &ry);
  if (rx == self->pointer_x && ry == self->pointer_y)
    return;
  self->pointer_x = rx;
  self->pointer_y = ry;
  if (at >= 0)
    go_to (self, at);
}

static void
leave_cb (GtkEventControllerMotion *motion, TallyPicture *self)
{
  (void) motion;
  if (!gtk_widget_has_focus (GTK_WIDGET (self)))
    go_to (self, -1);
}

/* What was pressed is what the key that takes a figure apart goes by. */
static void
pressed_cb (GtkGestureClick *click, int n, double x, double y, TallyPicture *self)
{
  (void) click;
  (void) n;
  (void) x;
  (void) y;
  if (self->walks)
    gtk_widget_grab_focus (GTK_WIDGET (self));
}

static void
enter_cb (GtkEventControllerFocus *focus, TallyPicture *self)
{
  (void) focus;
  if (self->current < 0)
    go_to (self, chart_spots_walk (spots_now (self), -1, CHART_FIRST));
}

static void
gone_cb (GtkEventControllerFocus *focus, TallyPicture *self)
{
  (void) focus;
  go_to (self, -1);
}

static gboolean
key_cb (GtkEventControllerKey *key, guint keyval, guint code, GdkModifierType state, TallyPicture *self)
{
  const GPtrArray *spots = spots_now (self);
  ChartWalk walk;

  (void) key;
  (void) code;
  if (!spots || spots->len == 0 || (state & (GDK_CONTROL_MASK | GDK_ALT_MASK | GDK_SHIFT_MASK)))
    return FALSE;
  switch (keyval)
    {
    case GDK_KEY_Left:
    case GDK_KEY_KP_Left:
      walk = CHART_PREVIOUS;
      break;
    case GDK_KEY_Right:
    case GDK_KEY_KP_Right:
      walk = CHART_NEXT;
      break;
    case GDK_KEY_Up:
    case GDK_KEY_KP_Up:
      walk = CHART_ABOVE;
      break;
    case GDK_KEY_Down:
    case GDK_KEY_KP_Down:
      walk = CHART_BELOW;
      break;
    case GDK_KEY_Home:
    case GDK_KEY_KP_Home:
      walk = CHART_FIRST;
      break;
    case GDK_KEY_End:
    case GDK_KEY_KP_End:
      walk = CHART_LAST;
      break;
    default:
      return FALSE;
    }
  go_to (self, chart_spots_walk (spots, self->current, walk));
  return TRUE;
}

/* ---- drawing ---- */

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
  paper.cr = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (-4, -4, (float) width + 8, (float) height + 8));
  self->draw (&paper, width, self->data);
  if (self->current >= 0)
    {
      const GPtrArray *spots = spots_now (self);
      if (spots && self->current < (int) spots->len)
        chart_spot_ring (&paper, g_ptr_array_index (spots, (guint) self->current), width, height);
    }
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
picture_clear (TallyPicture *self)
{
  forget_spots (self);
  if (self->free && self->data)
    self->free (self->data);
  self->data = NULL;
  self->free = NULL;
  self->draw = NULL;
  self->height = NULL;
  self->make_spots = NULL;
  g_clear_pointer (&self->walks, g_ptr_array_unref);
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
  spot_signal = g_signal_new ("spot", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
tally_picture_init (TallyPicture *self)
{
  GtkEventController *motion = gtk_event_controller_motion_new (), *key = gtk_event_controller_key_new ();
  GtkEventController *focus = gtk_event_controller_focus_new ();
  GtkGesture *click = gtk_gesture_click_new ();

  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  self->current = -1;
  g_signal_connect (motion, "motion", G_CALLBACK (motion_cb), self);
  g_signal_connect (motion, "leave", G_CALLBACK (leave_cb), self);
  g_signal_connect (key, "key-pressed", G_CALLBACK (key_cb), self);
  g_signal_connect (focus, "enter", G_CALLBACK (enter_cb), self);
  g_signal_connect (focus, "leave", G_CALLBACK (gone_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);
  gtk_widget_add_controller (GTK_WIDGET (self), key);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}

GtkWidget *
tally_picture_new (void)
{
  return g_object_new (TALLY_TYPE_PICTURE, NULL);
}

void
tally_picture_set (TallyPicture *self, TallyChartHeight height, TallyChartDraw draw, gpointer data, GDestroyNotify free)
{
  picture_clear (self);
  self->height = height;
  self->draw = draw;
  self->data = data;
  self->free = free;
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

void
tally_picture_set_spots (TallyPicture *self, TallyChartSpots spots)
{
  int was = self->current;

  forget_spots (self);
  self->make_spots = spots;
  gtk_widget_set_focusable (GTK_WIDGET (self), spots != NULL);
  /* The words of a place that stays may have changed. */
  self->current = -1;
  if (was >= 0)
    go_to (self, was);
  if (was >= 0 && self->current < 0)
    g_signal_emit (self, spot_signal, 0, NULL);
}

void
tally_picture_set_walks (TallyPicture *self, GPtrArray *lines)
{
  g_clear_pointer (&self->walks, g_ptr_array_unref);
  self->walks = lines;
  mark (self);
}

gboolean
tally_picture_has_spots (TallyPicture *self)
{
  return self->make_spots != NULL;
}

gboolean
tally_picture_get (TallyPicture *self, TallyChartHeight *height, TallyChartDraw *draw, gpointer *data)
{
  *height = self->height;
  *draw = self->draw;
  *data = self->data;
  return self->draw && self->height;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/price/price-private.h"

#define GAP 24

struct _TallyPairLayout
{
  GtkLayoutManager parent_instance;
};

G_DEFINE_FINAL_TYPE (TallyPairLayout, tally_pair_layout, GTK_TYPE_LAYOUT_MANAGER)

typedef struct
{
  GtkWidget *child[2];
  int least[2];
} Pair;

static void
read_pair (GtkWidget *widget, Pair *pair)
{
  GtkWidget *child = gtk_widget_get_first_child (widget);

  *pair = (Pair) { { NULL, NULL }, { 0, 0 } };
  for (int i = 0; i < 2 && child; i++, child = gtk_widget_get_next_sibling (child))
    {
      pair->child[i] = child;
      gtk_widget_measure (child, GTK_ORIENTATION_HORIZONTAL, -1, &pair->least[i], NULL, NULL, NULL);
    }
}

#define FIRST_SHARE 0.56

/* Widths side by side, in fixed shares as far as both have enough; FALSE: no room. */
static gboolean
split (const Pair *pair, int width, int *first, int *second)
{
  int both = width - GAP;

  if (both < pair->least[0] + pair->least[1])
    return FALSE;
  *first = CLAMP ((int) (both * FIRST_SHARE), pair->least[0], both - pair->least[1]);
  *second = width - GAP - *first;
  return TRUE;
}

static int
height_of (GtkWidget *child, int width)
{
  int least, natural;

  gtk_widget_measure (child, GTK_ORIENTATION_VERTICAL, width, &least, &natural, NULL, NULL);
  return natural;
}

static void
pair_measure (GtkLayoutManager *layout, GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
              int *minimum_baseline, int *natural_baseline)
{
  Pair pair;
  int first, second;

  (void) layout;
  *minimum_baseline = *natural_baseline = -1;
  read_pair (widget, &pair);
  if (orientation == GTK_ORIENTATION_HORIZONTAL)
    {
      *minimum = MAX (pair.least[0], pair.least[1]);
      *natural = pair.least[0] + GAP + pair.least[1];
      return;
    }
  if (for_size < 0)
    for_size = pair.least[0] + GAP + pair.least[1];
  if (split (&pair, for_size, &first, &second))
    *natural = MAX (height_of (pair.child[0], first), height_of (pair.child[1], second));
  else
    *natural = height_of (pair.child[0], for_size) + GAP + height_of (pair.child[1], for_size);
  *minimum = *natural;
}

static void
pair_allocate (GtkLayoutManager *layout, GtkWidget *widget, int width, int height, int baseline)
{
  Pair pair;
  int first, second;

  (void) layout;
  (void) baseline;
  read_pair (widget, &pair);
  if (split (&pair, width, &first, &second))
    {
      gtk_widget_size_allocate (pair.child[0], &(GtkAllocation) { 0, 0, first, height }, -1);
      gtk_widget_size_allocate (pair.child[1], &(GtkAllocation) { first + GAP, 0, second, height }, -1);
      return;
    }
  first = height_of (pair.child[0], width);
  gtk_widget_size_allocate (pair.child[0], &(GtkAllocation) { 0, 0, width, first }, -1);
  gtk_widget_size_allocate (pair.child[1], &(GtkAllocation) { 0, first + GAP, width, MAX (height - first - GAP, 0) }, -1);
}

static GtkSizeRequestMode
pair_mode (GtkLayoutManager *layout, GtkWidget *widget)
{
  (void) layout;
  (void) widget;
  return GTK_SIZE_REQUEST_HEIGHT_FOR_WIDTH;
}

static void
tally_pair_layout_class_init (TallyPairLayoutClass *klass)
{
  GtkLayoutManagerClass *layout = GTK_LAYOUT_MANAGER_CLASS (klass);

  layout->measure = pair_measure;
  layout->allocate = pair_allocate;
  layout->get_request_mode = pair_mode;
}

static void
tally_pair_layout_init (TallyPairLayout *self)
{
  (void) self;
}

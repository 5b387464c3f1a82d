/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "chart/spots.h"

#include <math.h>

static const ChartBox *
box_of (const GPtrArray *spots, int i)
{
  const ChartSpot *spot = g_ptr_array_index (spots, (guint) i);

  return &spot->box;
}

static double
middle_x (const ChartBox *b)
{
  return b->x + b->w / 2;
}

static double
middle_y (const ChartBox *b)
{
  return b->y + b->h / 2;
}

/* The nearest above or below, counting a step aside three times as far as a step that way. */
static int
across (const GPtrArray *spots, int from, int way)
{
  const ChartBox *here = box_of (spots, from);
  double best = INFINITY;
  int found = -1;

  for (int i = 0; i < (int) spots->len; i++)
    {
      const ChartBox *b = box_of (spots, i);
      double down = (middle_y (b) - middle_y (here)) * way, aside = fabs (middle_x (b) - middle_x (here));
      if (i == from || down <= 1)
        continue;
      if (b->x < chart_box_end (here) && here->x < chart_box_end (b))
        aside = MIN (aside, 1);
      if (down + 3 * aside < best)
        {
          best = down + 3 * aside;
          found = i;
        }
    }
  return found;
}

int
chart_spots_walk (const GPtrArray *spots, int from, ChartWalk walk)
{
  int n = spots ? (int) spots->len : 0, to;

  if (n == 0)
    return -1;
  if (from < 0 || from >= n)
    return walk == CHART_LAST || walk == CHART_PREVIOUS ? n - 1 : 0;
  switch (walk)
    {
    case CHART_FIRST:
      return 0;
    case CHART_LAST:
      return n - 1;
    case CHART_ABOVE:
    case CHART_BELOW:
      to = across (spots, from, walk == CHART_BELOW ? 1 : -1);
      if (to >= 0)
        return to;
      if (across (spots, from, walk == CHART_BELOW ? -1 : 1) >= 0)
        return from; /* the end of a column */
      to = from + (walk == CHART_BELOW ? 1 : -1);
      return CLAMP (to, 0, n - 1);
    case CHART_NEXT:
      return MIN (from + 1, n - 1);
    case CHART_PREVIOUS:
    default:
      return MAX (from - 1, 0);
    }
}

int
chart_spots_at (const GPtrArray *spots, double x, double y, double near)
{
  double best = INFINITY, closest = near;
  int found = -1, by = -1;

  for (int i = 0; spots && i < (int) spots->len; i++)
    {
      const ChartBox *b = box_of (spots, i);
      double dx = MAX (MAX (b->x - x, x - chart_box_end (b)), 0), dy = MAX (MAX (b->y - y, y - b->y - b->h), 0);
      double away = hypot (dx, dy);
      if (away <= 0 && b->w * b->h < best)
        {
          best = b->w * b->h;
          found = i;
        }
      else if (away <= closest)
        {
          closest = away;
          by = i;
        }
    }
  return found >= 0 ? found : by;
}

void
chart_spot_ring (const ChartPaper *paper, const ChartSpot *spot, double width, double height)
{
  const ChartColour *c = &paper->palette->text;
  double x0 = MAX (spot->box.x - 4, 1), y0 = MAX (spot->box.y - 4, 1);
  double x1 = MIN (chart_box_end (&spot->box) + 4, width - 1), y1 = MIN (spot->box.y + spot->box.h + 4, height - 1);

  if (!(x1 > x0) || !(y1 > y0))
    return;
  cairo_new_path (paper->cr);
  cairo_set_source_rgba (paper->cr, c->r, c->g, c->b, c->a);
  cairo_set_line_width (paper->cr, 2);
  cairo_rectangle (paper->cr, x0, y0, x1 - x0, y1 - y0);
  cairo_stroke (paper->cr);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Places in pictures that say their words: one for each datum, inside the picture, with its value; the walk over them by key and
 * pointer; and that neighbours differ in grey. Figures invented for the demo. */
#include "chart/spots.h"

#include "chart/bars.h"
#include "chart/line.h"
#include "chart/matrix.h"
#include "chart/series.h"
#include "chart/stack.h"
#include "chart/swing.h"
#include "paper.h"

static const ChartBar bar[] = {
  { "by hand", 174857, "174,857", NAN, NAN, TRUE },
  { "driven fasteners", 171445, "171,445", NAN, NAN, FALSE },
  { "none priced", NAN, "not priced", NAN, NAN, FALSE },
};
static const ChartBars bars = { bar, G_N_ELEMENTS (bar), "cost, USD", "method" };
static const ChartBar ranged_bar[] = { { "by hand", 156.8, "156.8", 149, 166, TRUE }, { "driven", 153.2, "153.2", 146.5, 161.5, FALSE } };
static const ChartBars ranged = { ranged_bar, 2, "cost, thousand USD", "method" };
static const ChartMark mark[] = { { 92, "today 92.00", FALSE } };
static const ChartLine line = { .at = 92, .gain = 3412, .slope = 60, .low = NAN, .high = NAN, .crossing = 35.13,
                                .crossing_words = "pays above 35.13", .mark = mark, .n_marks = 1, .figure = "field rate, USD an hour",
                                .words = "field rate", .gain_words = "gain, USD" };
static const ChartField field[] = { { "26", 0.1, FALSE, FALSE }, { "26", 0.1, FALSE, FALSE }, { "24", 0.5, TRUE, FALSE },
                                    { "24", 0.5, FALSE, FALSE }, { "22", 1, FALSE, FALSE },   { NULL, 0, FALSE, FALSE } };
static const char *const row[] = { "1", "2" }, *const column[] = { "12", "24", "48" };
static const ChartMatrix matrix = { field, 2, 3, row, column, "class", "side", "differs" };
static const ChartPart part[] = { { "material", 51.3, "51.3" }, { "field", 80.4, "80.4" }, { "adjustment", -0.1, "-0.1" } };
static const ChartStack stack = { part, G_N_ELEMENTS (part) };
static const ChartSwingBar swing_bar[] = {
  { "price of the fastener", 5200, 1600, "0.50", "1.80" },
  { "minutes of driving", 4400, 2100, NULL, NULL },
  { "floor share", 3900, NAN, "30 %", NULL },
  { "both ways alike", 3600, 3900, "low", "high" },
};
static const ChartSwing swing = { swing_bar, G_N_ELEMENTS (swing_bar), 3412, "saving, USD", "cause", NULL, NULL };

static const char *
words_of (const GPtrArray *spots, guint i)
{
  return ((ChartSpot *) g_ptr_array_index (spots, i))->words;
}

/* So many spots, each with an extent, inside the picture. */
static void
check_inside (const GPtrArray *spots, guint n, double width, double height)
{
  g_assert_cmpuint (spots->len, ==, n);
  for (guint i = 0; i < n; i++)
    {
      const ChartSpot *s = g_ptr_array_index (spots, i);
      g_assert_true (s->box.w > 0 && s->box.h > 0);
      g_assert_cmpfloat (s->box.x, >=, -5);
      g_assert_cmpfloat (chart_box_end (&s->box), <=, width + 5);
      g_assert_cmpfloat (s->box.y, >=, -5);
      g_assert_cmpfloat (s->box.y + s->box.h, <=, height + 5);
      g_assert_true (g_utf8_validate (s->words, -1, NULL));
    }
}

static void
test_bars (void)
{
  Sheet sheet;

  sheet_init (&sheet, 10, 10);
  for (double width = 900; width > 200; width -= 130)
    {
      g_autoptr (GPtrArray) spots = chart_bars_spots (&sheet.paper, &bars, width);
      g_autoptr (GPtrArray) two = chart_bars_spots (&sheet.paper, &ranged, width);
      check_inside (spots, 3, width, chart_bars_height (&sheet.paper, &bars, width));
      check_inside (two, 2, width, chart_bars_height (&sheet.paper, &ranged, width));
      g_assert_cmpstr (words_of (spots, 0), ==, "by hand (baseline): 174,857 (cost, USD)");
      g_assert_cmpstr (words_of (spots, 2), ==, "none priced: not priced (cost, USD)");
      g_assert_cmpstr (words_of (two, 1), ==, "driven: likely 153.2, from 146.50 to 161.50 (cost, thousand USD)");
    }
  sheet_clear (&sheet);
}

/* Ticks, the mark and the crossing in order; the gain at the crossing is none: 3412 + 60 (35.13 - 92) = -0.2 (computed). */
static void
test_line (void)
{
  Sheet sheet;
  guint marked = 0, crossed = 0;
  double before = -INFINITY;

  sheet_init (&sheet, 10, 10);
  g_autoptr (GPtrArray) spots = chart_line_spots (&sheet.paper, &line, 700);
  check_inside (spots, spots->len, 700, chart_line_height (&sheet.paper, &line, 700));
  g_assert_cmpuint (spots->len, >, 4);
  for (guint i = 0; i < spots->len; i++)
    {
      const ChartSpot *s = g_ptr_array_index (spots, i);
      g_assert_cmpfloat (s->box.x, >=, before);
      before = s->box.x;
      marked += strstr (s->words, "USD an hour 92.00: gain, USD 3,412.00; today 92.00") != NULL;
      crossed += strstr (s->words, "USD an hour 35.13: gain, USD -0.20; pays above 35.13") != NULL;
    }
  g_assert_cmpuint (marked, ==, 1);
  g_assert_cmpuint (crossed, ==, 1);
  sheet_clear (&sheet);
}

static void
test_matrix (void)
{
  Sheet sheet;

  sheet_init (&sheet, 10, 10);
  g_autoptr (GPtrArray) spots = chart_matrix_spots (&sheet.paper, &matrix, 600);
  check_inside (spots, 6, 600, chart_matrix_height (&sheet.paper, &matrix, 600));
  g_assert_cmpstr (words_of (spots, 2), ==, "class 1, side 48: 24, differs");
  g_assert_cmpstr (words_of (spots, 4), ==, "class 2, side 24: 22");
  g_assert_cmpstr (words_of (spots, 5), ==, "class 2, side 48: none");
  /* Down and up a column, along a row over its end. */
  g_assert_cmpint (chart_spots_walk (spots, 1, CHART_BELOW), ==, 4);
  g_assert_cmpint (chart_spots_walk (spots, 4, CHART_ABOVE), ==, 1);
  g_assert_cmpint (chart_spots_walk (spots, 4, CHART_BELOW), ==, 4);
  g_assert_cmpint (chart_spots_walk (spots, 2, CHART_NEXT), ==, 3);
  sheet_clear (&sheet);
}

/* 51.3 of 131.7 is 39.0 % (computed). A part below zero is found at its words. */
static void
test_stack (void)
{
  Sheet sheet;

  sheet_init (&sheet, 10, 10);
  g_autoptr (GPtrArray) spots = chart_stack_spots (&sheet.paper, &stack, 600);
  check_inside (spots, 3, 600, chart_stack_height (&sheet.paper, &stack, 600));
  g_assert_cmpstr (words_of (spots, 0), ==, "material: 51.3, 39.0 % of the whole");
  g_assert_cmpstr (words_of (spots, 2), ==, "adjustment: -0.1");
  /* All but the last stand in one row: down goes on all the same. */
  g_assert_cmpint (chart_spots_walk (spots, 0, CHART_BELOW), !=, 0);
  sheet_clear (&sheet);
}

/* The ends of the bars on the scale, their words outside and apart, and the same figures in spots and table. */
static void
test_swing (void)
{
  Sheet sheet;

  sheet_init (&sheet, 10, 10);
  for (double width = 1000; width >= 240; width -= 40)
    {
      g_autoptr (GPtrArray) spots = chart_swing_spots (&sheet.paper, &swing, width);
      ChartSwingPlan plan;
      chart_swing_plan (&sheet.paper, &swing, width, &plan);
      check_inside (spots, 7, width, chart_swing_height (&sheet.paper, &swing, width));
      g_assert_cmpfloat (fabs (chart_box_end (&plan.low[0]) - chart_scale_at (&plan.scale, 5200)), <, 1e-9);
      g_assert_cmpfloat (fabs (plan.low[0].x - plan.centre_x), <, 1e-9);
      g_assert_cmpfloat (fabs (plan.high[0].x - chart_scale_at (&plan.scale, 1600)), <, 1e-9);
      g_assert_cmpfloat (plan.high[2].w, ==, 0);
      /* Both ends on one side: one over the other. */
      g_assert_false (boxes_touch (&plan.low[3], &plan.high[3]));
      for (gsize i = 0; i < swing.n; i++)
        {
          g_assert_false (boxes_touch (&plan.low_words[i], &plan.high_words[i]));
          g_assert_false (boxes_touch (&plan.low_words[i], &plan.name[i]));
          g_assert_false (boxes_touch (&plan.high_words[i], &plan.name[i]));
          g_assert_cmpfloat (chart_box_end (&plan.low_words[i]), <=, width + 0.01);
        }
      chart_swing_plan_clear (&plan);
    }
  g_autoptr (GPtrArray) spots = chart_swing_spots (&sheet.paper, &swing, 800);
  g_autofree char *table = chart_swing_table (&swing);
  g_assert_cmpstr (words_of (spots, 0), ==, "price of the fastener, at its low end: 5,200.00 (0.50) (saving, USD)");
  g_assert_cmpstr (words_of (spots, 1), ==, "price of the fastener, at its high end: 1,600.00 (1.80) (saving, USD)");
  g_assert_nonnull (strstr (table, "5,200.00 (0.50)"));
  g_assert_nonnull (strstr (table, "3,412.00"));
  sheet_clear (&sheet);
}

static void
test_swing_hostile (void)
{
  Sheet sheet;

  sheet_init (&sheet, 300, 400);
  for (gsize i = 0; i < G_N_ELEMENTS (hostile); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (hostile); k++)
      {
        const ChartSwingBar one[] = { { "\xff", hostile[i], hostile[k], "<b>", NULL } };
        ChartSwing s = { one, 1, hostile[k], "", "", NULL, NULL };
        chart_swing_draw (&sheet.paper, &s, i % 2 ? 300 : 7);
        g_autofree char *table = chart_swing_table (&s);
        g_autoptr (GPtrArray) spots = chart_swing_spots (&sheet.paper, &s, 300);
        g_assert_cmpuint (spots->len, <=, 2);
      }
  ChartSwing none = { NULL, 0, 0, "", "", NULL, NULL };
  chart_swing_draw (&sheet.paper, &none, 100);
  sheet_clear (&sheet);
}

static void
test_walk (void)
{
  g_autoptr (GPtrArray) spots = chart_spots_new ();
  Sheet sheet;

  g_assert_cmpint (chart_spots_walk (spots, -1, CHART_FIRST), ==, -1);
  g_assert_cmpint (chart_spots_walk (NULL, 3, CHART_NEXT), ==, -1);
  chart_spots_add (spots, &(ChartBox) { 0, 0, 100, 100 }, g_strdup ("large"));
  chart_spots_add (spots, &(ChartBox) { 40, 40, 20, 20 }, g_strdup ("small, within"));
  chart_spots_add (spots, &(ChartBox) { 200, 0, 10, 10 }, g_strdup ("aside"));
  g_assert_cmpint (chart_spots_walk (spots, -1, CHART_NEXT), ==, 0);
  g_assert_cmpint (chart_spots_walk (spots, -1, CHART_PREVIOUS), ==, 2);
  g_assert_cmpint (chart_spots_walk (spots, 0, CHART_PREVIOUS), ==, 0);
  g_assert_cmpint (chart_spots_walk (spots, 2, CHART_NEXT), ==, 2);
  g_assert_cmpint (chart_spots_walk (spots, 1, CHART_LAST), ==, 2);
  g_assert_cmpint (chart_spots_at (spots, 50, 50, 0), ==, 1);
  g_assert_cmpint (chart_spots_at (spots, 10, 50, 0), ==, 0);
  g_assert_cmpint (chart_spots_at (spots, 150, 50, 5), ==, -1);
  g_assert_cmpint (chart_spots_at (spots, 193, 5, 10), ==, 2);
  /* The ring is drawn, and stays in the picture. */
  sheet_init (&sheet, 220, 120);
  chart_spot_ring (&sheet.paper, g_ptr_array_index (spots, 2), 220, 120);
  g_assert_cmphex (sheet_pixel (&sheet, 205, 1), !=, 0xffffff);
  g_assert_cmphex (sheet_pixel (&sheet, 205, 5), ==, 0xffffff);
  sheet_clear (&sheet);
}

/* Mean lightness, 0 to 255, of a field of the surface. Weights of red, green and blue: ITU-R BT.709. */
static double
lightness (Sheet *sheet, int x, int y, int w, int h)
{
  double sum = 0;

  for (int i = 0; i < w; i++)
    for (int k = 0; k < h; k++)
      {
        guint32 p = sheet_pixel (sheet, x + i, y + k);
        sum += 0.2126 * (p >> 16) + 0.7152 * ((p >> 8) & 255) + 0.0722 * (p & 255);
      }
  return sum / (w * h);
}

/* In grey print parts beside each other differ by 12 of 255 at least, any two series by 24, neighbours by 40. */
static void
test_grey (void)
{
  Sheet sheet;
  double grey[CHART_N_FILLS], shade[CHART_N_SERIES];

  sheet_init (&sheet, 600, 200);
  sheet.paper.palette = &chart_ink;
  for (int i = 0; i < CHART_N_FILLS; i++)
    {
      chart_fill (&sheet.paper, &(ChartBox) { 100 * i, 0, 90, 80 }, (ChartFill) i);
      grey[i] = lightness (&sheet, 100 * i + 2, 2, 86, 76);
    }
  for (int i = 0; i < CHART_N_FILLS; i++)
    {
      g_test_message ("fill %d: %.0f", i, grey[i]);
      g_assert_cmpfloat (fabs (grey[i] - grey[(i + 1) % CHART_N_FILLS]), >, 12);
    }
  for (guint i = 0; i < CHART_N_SERIES; i++)
    {
      ChartColour c = chart_series_colour (&chart_ink, i);
      cairo_set_source_rgba (sheet.paper.cr, c.r, c.g, c.b, c.a);
      cairo_rectangle (sheet.paper.cr, 100 * i, 100, 90, 80);
      cairo_fill (sheet.paper.cr);
      shade[i] = lightness (&sheet, (int) (100 * i + 2), 102, 86, 76);
    }
  for (guint i = 0; i < CHART_N_SERIES; i++)
    for (guint k = 0; k < i; k++)
      g_assert_cmpfloat (fabs (shade[i] - shade[k]), >, 24);
  for (guint i = 0; i + 1 < CHART_N_SERIES; i++)
    g_assert_cmpfloat (fabs (shade[i] - shade[i + 1]), >, 40);
  sheet_clear (&sheet);
}

/* Each mark puts ink about its point and none far off, and no two cover the same pixels. */
static void
test_marks (void)
{
  Sheet sheet[CHART_N_SERIES];

  for (guint s = 0; s < CHART_N_SERIES; s++)
    {
      int inked = 0;
      sheet_init (&sheet[s], 40, 40);
      chart_series_mark (&sheet[s].paper, s, 20, 20, 12);
      for (int x = 0; x < 40; x++)
        for (int y = 0; y < 40; y++)
          if (sheet_pixel (&sheet[s], x, y) != 0xffffff)
            {
              inked++;
              g_assert_true (abs (x - 20) <= 9 && abs (y - 20) <= 9);
            }
      g_assert_cmpint (inked, >, 20);
      for (guint k = 0; k < s; k++)
        {
          int differ = 0;
          for (int x = 0; x < 40; x++)
            for (int y = 0; y < 40; y++)
              differ += (sheet_pixel (&sheet[s], x, y) == 0xffffff) != (sheet_pixel (&sheet[k], x, y) == 0xffffff);
          g_assert_cmpint (differ, >, 15);
        }
    }
  for (guint s = 0; s < CHART_N_SERIES; s++)
    {
      const double xy[] = { 2, 2, 20, 30, 38, 4 };
      chart_series_path (&sheet[s].paper, s, xy, 3, 2);
      g_assert_cmpint (cairo_get_dash_count (sheet[s].paper.cr), ==, 0);
      sheet_clear (&sheet[s]);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/spots/bars", test_bars);
  g_test_add_func ("/chart/spots/line", test_line);
  g_test_add_func ("/chart/spots/matrix", test_matrix);
  g_test_add_func ("/chart/spots/stack", test_stack);
  g_test_add_func ("/chart/spots/swing", test_swing);
  g_test_add_func ("/chart/spots/swing-hostile", test_swing_hostile);
  g_test_add_func ("/chart/spots/walk", test_walk);
  g_test_add_func ("/chart/spots/grey", test_grey);
  g_test_add_func ("/chart/spots/marks", test_marks);
  return g_test_run ();
}

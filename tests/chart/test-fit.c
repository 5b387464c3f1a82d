/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings with their fitted line and its bands. Figures invented for the demo. */
#include "chart/fit.h"

#include "paper.h"

static const double x[] = { 5, 6, 7, 8, 9 }, y[] = { 19, 20, 20.5, 22, 22.5 };
static const double at[] = { 5, 7, 9 }, mean[] = { 19, 20.8, 22.6 }, mean_half[] = { 0.6, 0.4, 0.6 },
                    new_half[] = { 1.2, 1.1, 1.2 };
static const char *const words[] = { "20x10", "24x12", "30x12", "30x18", "36x18" };
static const ChartFitSeries bolts = { "bolted corners", x, y, words, 5, at, mean, mean_half, new_half, 3 };
static const ChartFit one = { &bolts, 1, "girth, ft", "worker-minutes", "filled: mean; dashed: one more" };

/* A point is where its figures say, the band is filled around the line and not beyond it. */
static void
test_places (void)
{
  ChartFitPlan plan;
  Sheet sheet;

  sheet_init (&sheet, 500, 400);
  chart_fit_plan (&sheet.paper, &one, 500, &plan);
  g_assert_cmpfloat (plan.x.low, <=, 5);
  g_assert_cmpfloat (plan.x.high, >=, 9);
  g_assert_cmpfloat (plan.y.low, <=, 19 - 1.2);
  g_assert_cmpfloat (plan.y.high, >=, 22.6 + 1.2);
  g_assert_cmpfloat (plan.height, <, 400);
  chart_fit_draw (&sheet.paper, &one, 500);
  double px = chart_scale_at (&plan.x, 6), py = chart_scale_at (&plan.y, 20);
  g_assert_cmphex (sheet_pixel (&sheet, px, py), !=, 0xffffff);
  /* midway between marks: line, filled band, dashed edge, nothing outside */
  double lx = chart_scale_at (&plan.x, 6.5), line = chart_scale_at (&plan.y, 20.35);
  double inside = chart_scale_at (&plan.y, 20.35 + 0.3), outside = chart_scale_at (&plan.y, 20.35 + 0.8);
  guint32 of_line = sheet_pixel (&sheet, lx, line), of_band = sheet_pixel (&sheet, lx, inside);
  g_assert_cmphex (of_line, !=, of_band);
  g_assert_cmphex (of_band, !=, 0xffffff);
  g_assert_cmphex (sheet_pixel (&sheet, lx, outside), ==, 0xffffff);
  chart_fit_plan_clear (&plan);
  sheet_clear (&sheet);
}

static void
test_spots (void)
{
  Sheet sheet;
  ChartFitPlan plan;

  sheet_init (&sheet, 500, 400);
  chart_fit_plan (&sheet.paper, &one, 500, &plan);
  g_autoptr (GPtrArray) spots = chart_fit_spots (&sheet.paper, &one, 500);
  g_assert_cmpuint (spots->len, ==, 5);
  const ChartSpot *spot = g_ptr_array_index (spots, 1);
  g_assert_cmpstr (spot->words, ==, "bolted corners, 24x12: worker-minutes 20.00 at girth, ft 6.00");
  g_assert_cmpfloat (fabs (spot->box.x + spot->box.w / 2 - chart_scale_at (&plan.x, 6)), <, 1e-9);
  chart_fit_plan_clear (&plan);
  sheet_clear (&sheet);
}

/* No words stand on each other or leave the picture, whatever the width. */
static void
test_words (void)
{
  ChartFitSeries two[] = { bolts, bolts };
  ChartFit fit = { two, 2, "girth, ft", "worker-minutes", NULL };
  Sheet sheet;

  two[1].name = "driven corner fasteners";
  sheet_init (&sheet, 10, 10);
  for (int width = 900; width >= 80; width -= 20)
    {
      ChartFitPlan plan;
      chart_fit_plan (&sheet.paper, &fit, width, &plan);
      g_assert_false (boxes_touch (&plan.key[0], &plan.key[1]));
      for (int i = 0; i < 2; i++)
        g_assert_true (plan.key[i].w > 0 && chart_box_end (&plan.key[i]) <= width + 0.01
                       && plan.key[i].y + plan.key[i].h <= plan.top);
      for (int i = 0; i < chart_scale_n_ticks (&plan.x); i++)
        for (int k = 0; k < i; k++)
          g_assert_false (boxes_touch (&plan.x_tick[i], &plan.x_tick[k]));
      for (int i = 0; i < chart_scale_n_ticks (&plan.y); i++)
        for (int k = 0; k < i; k++)
          g_assert_false (boxes_touch (&plan.y_tick[i], &plan.y_tick[k]));
      chart_fit_plan_clear (&plan);
    }
  sheet_clear (&sheet);
}

/* In grey the two series differ by their marks: their pixels are not the same picture. */
static void
test_marks (void)
{
  static const double where[] = { 7 }, first[] = { 20 }, second[] = { 24 };
  ChartFitSeries two[] = { { "a", where, first, NULL, 1, NULL, NULL, NULL, NULL, 0 },
                           { "b", where, second, NULL, 1, NULL, NULL, NULL, NULL, 0 } };
  ChartFit fit = { two, 2, "x", "y", NULL };
  ChartFitPlan plan;
  Sheet sheet;
  int differ = 0;

  sheet_init (&sheet, 400, 400);
  chart_fit_plan (&sheet.paper, &fit, 400, &plan);
  chart_fit_draw (&sheet.paper, &fit, 400);
  for (int dx = -5; dx <= 5; dx++)
    for (int dy = -5; dy <= 5; dy++)
      differ += (sheet_pixel (&sheet, chart_scale_at (&plan.x, 7) + dx, chart_scale_at (&plan.y, 20) + dy) == 0xffffff)
                != (sheet_pixel (&sheet, chart_scale_at (&plan.x, 7) + dx, chart_scale_at (&plan.y, 24) + dy) == 0xffffff);
  g_assert_cmpint (differ, >, 5);
  chart_fit_plan_clear (&plan);
  sheet_clear (&sheet);
}

static void
test_hostile (void)
{
  Sheet sheet;

  sheet_init (&sheet, 300, 400);
  for (gsize i = 0; i < G_N_ELEMENTS (hostile); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (hostile); k++)
      {
        const double hx[] = { hostile[i], 1 }, hy[] = { hostile[k], 2 };
        ChartFitSeries s = { NULL, hx, hy, NULL, 2, hx, hy, hy, hx, 2 };
        ChartFit fit = { &s, 1, "x", "y", NULL }, none = { NULL, 0, "x", "y", NULL };
        ChartFitPlan plan;
        chart_fit_plan (&sheet.paper, &fit, 300, &plan);
        g_assert_true (plan.height > 0 && plan.height < 1000);
        chart_fit_plan_clear (&plan);
        chart_fit_draw (&sheet.paper, &fit, 300);
        chart_fit_draw (&sheet.paper, &none, hostile[i]);
        g_autoptr (GPtrArray) spots = chart_fit_spots (&sheet.paper, &fit, 300);
        for (guint n = 0; n < spots->len; n++)
          g_assert_true (isfinite (((ChartSpot *) g_ptr_array_index (spots, n))->box.x));
        g_autofree char *table = chart_fit_table (&fit);
        g_assert_cmpstr (table, !=, "");
      }
  sheet_clear (&sheet);
}

static void
test_table (void)
{
  g_autofree char *table = chart_fit_table (&one);

  g_assert_nonnull (strstr (table, "fit, bolted corners         7.00           20.80      20.40  21.20          19.70  21.90\n"));
  g_assert_nonnull (strstr (table, "24x12, bolted corners       6.00           20.00\n"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/fit/places", test_places);
  g_test_add_func ("/chart/fit/spots", test_spots);
  g_test_add_func ("/chart/fit/words", test_words);
  g_test_add_func ("/chart/fit/marks", test_marks);
  g_test_add_func ("/chart/fit/hostile", test_hostile);
  g_test_add_func ("/chart/fit/table", test_table);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Bars: their ends on the scale, their words apart, on a surface. Figures invented for the demo. */
#include "chart/bars.h"

#include "paper.h"

static const ChartBar plain[] = {
  { "Slip-on flange, bolted corners", 174857, "174,857", NAN, NAN, TRUE },
  { "Slip-on flange, driven corner fasteners", 171445, "171,445", NAN, NAN, FALSE },
  { "Roll-formed integral flange", 164628, "164,628", NAN, NAN, FALSE },
  { "none priced", NAN, "not priced", NAN, NAN, FALSE },
};
static const ChartBars bars = { plain, G_N_ELEMENTS (plain), "cost, USD", "method" };

static void
test_ends (void)
{
  ChartBarsPlan plan;
  Sheet sheet;

  sheet_init (&sheet, 900, 300);
  chart_bars_plan (&sheet.paper, &bars, 900, &plan);
  g_assert_false (plan.above);
  for (gsize i = 0; i < 3; i++)
    {
      g_assert_cmpfloat (fabs (plan.bar[i].x - chart_scale_at (&plan.scale, 0)), <, 1e-9);
      g_assert_cmpfloat (fabs (chart_box_end (&plan.bar[i]) - chart_scale_at (&plan.scale, plain[i].value)), <, 1e-9);
      g_assert_true (isnan (plan.mark[i]));
    }
  g_assert_cmpfloat (plan.bar[3].w, ==, 0);

  /* On the surface: filled up to the end, nothing behind it; the baseline is hatched, so not filled. */
  chart_bars_draw (&sheet.paper, &bars, 900);
  double middle = plan.bar[1].y + plan.bar[1].h / 2, end = chart_box_end (&plan.bar[1]);
  g_assert_cmphex (sheet_pixel (&sheet, end - 4, middle), ==, 0x00ff00);
  g_assert_cmphex (sheet_pixel (&sheet, plan.bar[1].x + 4, middle), ==, 0x00ff00);
  g_assert_cmphex (sheet_pixel (&sheet, end + 4, middle), ==, 0xffffff);
  int white = 0, green = 0, blue = 0;
  for (double x = plan.bar[0].x + 2; x < chart_box_end (&plan.bar[0]) - 2; x++)
    {
      guint32 pixel = sheet_pixel (&sheet, x, plan.bar[0].y + plan.bar[0].h / 2);
      white += pixel == 0xffffff;
      green += pixel == 0x00ff00;
      blue += pixel != 0xffffff;
    }
  g_assert_cmpint (green, ==, 0);
  g_assert_cmpint (white, >, 50);
  g_assert_cmpint (blue, >, 50);
  chart_bars_plan_clear (&plan);
  sheet_clear (&sheet);
}

static void
test_range (void)
{
  static const ChartBar ranged[] = { { "a", 156.8, "156.8", 149, 166, TRUE }, { "b", 153.2, "153.2", 146.5, 161.5, FALSE } };
  ChartBars r = { ranged, 2, "cost, thousand", "method" };
  ChartBarsPlan plan;
  Sheet sheet;

  sheet_init (&sheet, 600, 200);
  chart_bars_plan (&sheet.paper, &r, 600, &plan);
  g_assert_cmpfloat (plan.scale.low, >, 100); /* nothing starts at zero, so zero need not be shown */
  for (gsize i = 0; i < 2; i++)
    {
      g_assert_cmpfloat (fabs (plan.bar[i].x - chart_scale_at (&plan.scale, ranged[i].low)), <, 1e-9);
      g_assert_cmpfloat (fabs (chart_box_end (&plan.bar[i]) - chart_scale_at (&plan.scale, ranged[i].high)), <, 1e-9);
      g_assert_cmpfloat (fabs (plan.mark[i] - chart_scale_at (&plan.scale, ranged[i].value)), <, 1e-9);
    }
  chart_bars_draw (&sheet.paper, &r, 600);
  g_assert_cmphex (sheet_pixel (&sheet, round (plan.mark[1]) - 0.5, plan.bar[1].y + 8), !=, 0x00ff00);
  chart_bars_plan_clear (&plan);
  sheet_clear (&sheet);
}

/* With ranges the headings are short, the unit stands once, and the value is called by its name where the bar ends at another. */
static void
test_range_words (void)
{
  static const ChartBar ranged[] = { { "a", 174857, "174,857", 170001.5, 1180002, TRUE }, { "b", 171445, "171,445", -1650, 178000, FALSE } };
  ChartBars r = { ranged, 2, "cost and tooling, USD: 10 to 90 % of the trials, and likely", "method" };
  g_autofree char *table = chart_bars_table (&r);
  ChartBarsPlan plan;
  Sheet sheet;
  double w;

  g_assert_cmpstr (table, ==,
                   "cost and tooling, USD: 10 to 90 % of the trials, and likely\n"
                   "method         likely         low          high\n"
                   "------------  -------  ----------  ------------\n"
                   "a (baseline)  174,857  170,001.50  1,180,002.00\n"
                   "b             171,445   -1,650.00    178,000.00\n");
  sheet_init (&sheet, 900, 200);
  chart_text_size (&sheet.paper, "likely 174,857", CHART_BOLD, &w, NULL);
  chart_bars_plan (&sheet.paper, &r, 900, &plan);
  g_assert_cmpfloat (fabs (plan.value[0].w - w), <, 1e-9);
  g_autoptr (GPtrArray) spots = chart_bars_spots (&sheet.paper, &r, 900);
  g_assert_true (g_str_has_prefix (((ChartSpot *) g_ptr_array_index (spots, 0))->words, "a (baseline): likely 174,857, from 170,001.50"));
  chart_bars_plan_clear (&plan);
  sheet_clear (&sheet);
}

static void
test_negative (void)
{
  static const ChartBar both[] = { { "gain", 30, "30", NAN, NAN, FALSE }, { "loss", -20, "-20", NAN, NAN, FALSE } };
  ChartBars b = { both, 2, "gain", "method" };
  ChartBarsPlan plan;
  Sheet sheet;

  sheet_init (&sheet, 600, 200);
  chart_bars_plan (&sheet.paper, &b, 600, &plan);
  double zero = chart_scale_at (&plan.scale, 0);
  g_assert_cmpfloat (fabs (plan.bar[0].x - zero), <, 1e-9);
  g_assert_cmpfloat (fabs (chart_box_end (&plan.bar[1]) - zero), <, 1e-9);
  g_assert_cmpfloat (fabs (plan.bar[1].x - chart_scale_at (&plan.scale, -20)), <, 1e-9);
  chart_bars_plan_clear (&plan);
  sheet_clear (&sheet);
}

/* No words over other words or out of the picture, from wide to absurdly narrow. */
static void
test_apart (void)
{
  Sheet sheet;

  sheet_init (&sheet, 10, 10);
  for (int width = 1200; width >= 60; width -= 20)
    {
      ChartBarsPlan plan;
      chart_bars_plan (&sheet.paper, &bars, width, &plan);
      for (gsize i = 0; i < bars.n; i++)
        for (gsize k = 0; k < bars.n; k++)
          {
            g_assert_false (boxes_touch (&plan.name[i], &plan.value[k]));
            g_assert_false (boxes_touch (&plan.name[i], &plan.bar[k]));
            g_assert_false (i != k && boxes_touch (&plan.name[i], &plan.name[k]));
          }
      for (int i = 0; i < plan.n_ticks; i++)
        for (int k = 0; k < i; k++)
          g_assert_false (boxes_touch (&plan.tick[i], &plan.tick[k]));
      for (gsize i = 0; i < bars.n; i++)
        {
          g_assert_cmpfloat (chart_box_end (&plan.name[i]), <=, width + 0.01);
          if (width >= 120)
            g_assert_cmpfloat (chart_box_end (&plan.value[i]), <=, width + 0.01);
        }
      g_assert_cmpfloat (plan.height, ==, chart_bars_height (&sheet.paper, &bars, width));
      chart_bars_plan_clear (&plan);
    }
  sheet_clear (&sheet);
}

static void
test_hostile (void)
{
  Sheet sheet;

  sheet_init (&sheet, 400, 300);
  for (gsize i = 0; i < G_N_ELEMENTS (hostile); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (hostile); k++)
      {
        const ChartBar two[] = { { "", hostile[i], NULL, NAN, NAN, FALSE },
                                 { "\xff\xfe bad", hostile[k], "x", hostile[i], hostile[k], TRUE } };
        ChartBars b = { two, 2, NULL, NULL };
        ChartBarsPlan plan;
        chart_bars_plan (&sheet.paper, &b, 400, &plan);
        for (int j = 0; j < 2; j++)
          g_assert_true (plan.bar[j].x >= 0 && plan.bar[j].w >= 0 && chart_box_end (&plan.bar[j]) <= 400);
        chart_bars_plan_clear (&plan);
        chart_bars_draw (&sheet.paper, &b, 400);
        g_autofree char *table = chart_bars_table (&b);
        g_assert_true (g_utf8_validate (table, -1, NULL));
      }
  ChartBars none = { NULL, 0, "", "" };
  chart_bars_draw (&sheet.paper, &none, 400);
  chart_bars_draw (&sheet.paper, &bars, NAN);
  chart_bars_draw (&sheet.paper, &bars, -5);
  sheet_clear (&sheet);
}

static void
test_table (void)
{
  g_autofree char *table = chart_bars_table (&bars);

  g_assert_cmpstr (table, ==,
                   "method                                      cost, USD\n"
                   "-----------------------------------------  ----------\n"
                   "Slip-on flange, bolted corners (baseline)     174,857\n"
                   "Slip-on flange, driven corner fasteners       171,445\n"
                   "Roll-formed integral flange                   164,628\n"
                   "none priced                                not priced\n");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/bars/ends", test_ends);
  g_test_add_func ("/chart/bars/range", test_range);
  g_test_add_func ("/chart/bars/range-words", test_range_words);
  g_test_add_func ("/chart/bars/negative", test_negative);
  g_test_add_func ("/chart/bars/apart", test_apart);
  g_test_add_func ("/chart/bars/hostile", test_hostile);
  g_test_add_func ("/chart/bars/table", test_table);
  return g_test_run ();
}

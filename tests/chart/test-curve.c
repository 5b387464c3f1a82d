/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cumulative curves: points lie where the figures say, lines differ without colour, names stand beside them. Figures
 * invented for the demo. */
#include "chart/curve.h"
#include "chart/series.h"

#include "paper.h"

static const double share[] = { 0.005, 0.1, 0.5, 0.9, 0.995 }, marks[] = { 0.1, 0.5, 0.8, 0.9 };
static const double dear[] = { 160, 170, 180, 190, 200 }, cheap[] = { 150, 160, 168, 180, 190 };
static const double low[] = { 169, 179, 186, 189 }, high[] = { 171, 181, 188, 191 };
static const ChartCurveLine lines[] = { { "bolted", dear, low, high, 0 }, { "driven", cheap, NULL, NULL, 1 } };
static const ChartCurve demo = { lines, 2, share, 5, marks, 4, "cost, thousand USD", "method" };

static void
test_points (void)
{
  ChartCurvePlan plan;
  Sheet sheet;

  sheet_init (&sheet, 800, 320);
  chart_curve_plan (&sheet.paper, &demo, 800, &plan);
  /* 10 % of the first line is 170, the second point; 80 % is three quarters of the way from 180 to 190 */
  g_assert_cmpfloat (fabs (plan.at_x[0] - chart_scale_at (&plan.x, 170)), <, 1e-9);
  g_assert_cmpfloat (fabs (plan.at_x[2] - chart_scale_at (&plan.x, 187.5)), <, 1e-9);
  g_assert_cmpfloat (fabs (plan.at_y[2] - (plan.bottom - 0.8 * (plan.bottom - plan.top))), <, 1e-9);
  for (gsize k = 0; k < 2; k++)
    for (gsize i = 1; i < 5; i++)
      {
        g_assert_cmpfloat (plan.point[k][2 * i], >, plan.point[k][2 * i - 2]);
        g_assert_cmpfloat (plan.point[k][2 * i + 1], <, plan.point[k][2 * i - 1]);
      }
  chart_curve_draw (&sheet.paper, &demo, 800);
  /* the first line's mark at 50 % is a disc of the accent */
  g_assert_cmphex (sheet_pixel (&sheet, plan.at_x[1], plan.at_y[1]), ==, 0x0000ff);
  chart_curve_plan_clear (&plan, &demo);
  sheet_clear (&sheet);
}

/* At every width names, shares and ticks are in the picture and meet no other; each name at the side is level with
 * its own line. */
static void
test_words (void)
{
  Sheet sheet;

  sheet_init (&sheet, 10, 10);
  for (int width = 1200; width >= 120; width -= 20)
    {
      ChartCurvePlan plan;
      chart_curve_plan (&sheet.paper, &demo, width, &plan);
      g_assert_false (boxes_touch (&plan.label[0], &plan.label[1]));
      for (gsize k = 0; k < 2; k++)
        {
          g_assert_true (plan.label[k].x >= 0 && chart_box_end (&plan.label[k]) <= width + 0.01);
          g_assert_true (plan.label[k].y >= 0 && plan.label[k].y + plan.label[k].h <= plan.height + 0.01);
          g_assert_true (isnan (plan.lead_y[k]) == (width < 520));
          if (!isnan (plan.lead_y[k]))
            {
              /* from the end of the line, and not level: it cannot be taken for a line of the grid */
              g_assert_cmpfloat (fabs (plan.lead_x[k] - plan.point[k][8]), <, 1e-9);
              g_assert_cmpfloat (plan.lead_y[k] - plan.point[k][9], >, 6);
              g_assert_cmpfloat (plan.lead_x[k], >=, plan.x.from);
              g_assert_cmpfloat (plan.lead_x[k], <=, plan.label[k].x);
            }
        }
      for (gsize i = 0; i < 4; i++)
        for (gsize k = 0; k < i; k++)
          g_assert_false (boxes_touch (&plan.y_tick[i], &plan.y_tick[k]));
      for (int i = 0; i < chart_scale_n_ticks (&plan.x); i++)
        for (int k = 0; k < i; k++)
          g_assert_false (boxes_touch (&plan.x_tick[i], &plan.x_tick[k]));
      chart_curve_plan_clear (&plan, &demo);
    }
  sheet_clear (&sheet);
}

static void
test_hostile (void)
{
  Sheet sheet;

  sheet_init (&sheet, 700, 400);
  for (gsize i = 0; i < G_N_ELEMENTS (hostile); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (hostile); k++)
      {
        const double value[] = { hostile[i], hostile[k] }, shares[] = { hostile[k], hostile[i] };
        const ChartCurveLine line[] = { { NULL, value, value, value, 7 }, { "x", value, NULL, NULL, 3 } };
        const ChartCurve curve = { line, 2, shares, 2, shares, 2, NULL, NULL };
        g_autofree char *table = chart_curve_table (&curve);
        g_autoptr (GPtrArray) spots = chart_curve_spots (&sheet.paper, &curve, 700);
        double height = chart_curve_height (&sheet.paper, &curve, 700);
        g_assert_true (height > 0 && height < 1000);
        g_assert_cmpuint (spots->len, ==, 4);
        g_assert_cmpstr (table, !=, "");
        chart_curve_draw (&sheet.paper, &curve, 700);
      }
  const ChartCurve none = { NULL, 0, NULL, 0, marks, 4, "cost", "method" };
  chart_curve_draw (&sheet.paper, &none, hostile[5]);
  sheet_clear (&sheet);
}

static void
test_table_and_spots (void)
{
  g_autofree char *table = chart_curve_table (&demo);
  Sheet sheet;

  g_assert_cmpstr (table, ==,
                   "method; cost, thousand USD at most    10 %    50 %    80 %    90 %\n"
                   "----------------------------------  ------  ------  ------  ------\n"
                   "bolted                              170.00  180.00  187.50  190.00\n"
                   "driven                              160.00  168.00  177.00  180.00\n");
  sheet_init (&sheet, 10, 10);
  g_autoptr (GPtrArray) spots = chart_curve_spots (&sheet.paper, &demo, 800);
  g_assert_cmpuint (spots->len, ==, 8);
  g_assert_cmpstr (((ChartSpot *) spots->pdata[2])->words, ==,
                   "bolted: in 80 % at most 187.50, that figure between 186.00 and 188.00 (cost, thousand USD)");
  g_assert_cmpstr (((ChartSpot *) spots->pdata[4])->words, ==, "driven: in 10 % at most 160.00 (cost, thousand USD)");
  sheet_clear (&sheet);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/curve/points", test_points);
  g_test_add_func ("/chart/curve/words", test_words);
  g_test_add_func ("/chart/curve/hostile", test_hostile);
  g_test_add_func ("/chart/curve/table-and-spots", test_table_and_spots);
  return g_test_run ();
}

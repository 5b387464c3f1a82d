/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The break-even line: where it crosses, where its words stand. Figures invented for the demo. */
#include "chart/line.h"

#include "paper.h"

static const ChartMark today = { 92, "today 92.00", FALSE };

/* Gains 1,000 at 92 and 20 less for each above: nothing at 142. */
static const ChartLine falling = { .at = 92, .gain = 1000, .slope = -20, .low = NAN, .high = NAN, .crossing = 142,
                                   .crossing_words = "pays below 142.00", .mark = &today, .n_marks = 1,
                                   .figure = "field rate, USD an hour", .words = "field rate; line: gain", .gain_words = "gain, USD" };

static void
test_crossing (void)
{
  ChartLinePlan plan;
  Sheet sheet;

  sheet_init (&sheet, 500, 260);
  chart_line_plan (&sheet.paper, &falling, 500, &plan);
  g_assert_cmpfloat (fabs (plan.cross_x - chart_scale_at (&plan.x, 142)), <, 1e-9);
  g_assert_cmpfloat (fabs (plan.mark_x[0] - chart_scale_at (&plan.x, 92)), <, 1e-9);
  /* the point lies on the line between its ends */
  double share = (plan.cross_x - plan.x0) / (plan.x1 - plan.x0);
  g_assert_cmpfloat (fabs (plan.y0 + share * (plan.y1 - plan.y0) - plan.zero_y), <, 1e-6);
  g_assert_cmpfloat (plan.x.low, <=, 0);
  g_assert_cmpfloat (plan.x.high, >, 142);
  chart_line_draw (&sheet.paper, &falling, 500);
  g_assert_cmphex (sheet_pixel (&sheet, plan.cross_x, plan.zero_y), ==, 0x0000ff);
  g_assert_cmphex (sheet_pixel (&sheet, plan.cross_x, plan.zero_y - 12), ==, 0xffffff);
  chart_line_plan_clear (&plan);
  sheet_clear (&sheet);
}

static gboolean
line_enters (const ChartLinePlan *plan, const ChartBox *box)
{
  for (double x = box->x; x <= chart_box_end (box); x++)
    {
      double y = plan->y0 + (x - plan->x0) / (plan->x1 - plan->x0) * (plan->y1 - plan->y0);
      if (y > box->y && y < box->y + box->h)
        return TRUE;
    }
  return FALSE;
}

/* The words of the crossing keep off the line where there is room, and in the picture always. */
static void
test_words (void)
{
  Sheet sheet;

  sheet_init (&sheet, 10, 10);
  for (int rising = 0; rising < 2; rising++)
    for (int width = 900; width >= 80; width -= 20)
      {
        ChartLine line = falling;
        ChartLinePlan plan;
        line.slope = rising ? 20 : -20;
        line.crossing = rising ? 42 : 142;
        chart_line_plan (&sheet.paper, &line, width, &plan);
        g_assert_true (plan.cross_label.x >= 0 && chart_box_end (&plan.cross_label) <= width + 0.01);
        g_assert_true (plan.cross_label.y >= plan.top - 0.01
                       && plan.cross_label.y + plan.cross_label.h <= plan.bottom + 0.01);
        if (width >= 400)
          g_assert_false (line_enters (&plan, &plan.cross_label));
        for (int i = 0; i < chart_scale_n_ticks (&plan.x); i++)
          for (int k = 0; k < i; k++)
            g_assert_false (boxes_touch (&plan.x_tick[i], &plan.x_tick[k]));
        for (int i = 0; i < chart_scale_n_ticks (&plan.y); i++)
          for (int k = 0; k < i; k++)
            g_assert_false (boxes_touch (&plan.y_tick[i], &plan.y_tick[k]));
        chart_line_plan_clear (&plan);
      }
  sheet_clear (&sheet);
}

/* Marks close to each other stand in rows; one that is out of the picture is not drawn at its edge. */
static void
test_marks (void)
{
  static const ChartMark marks[] = { { 10, "today 10", FALSE }, { 10.2, "own trial 10.2", FALSE }, { 9.9, "claim 9.9", TRUE },
                                     { 500, "far away", FALSE } };
  ChartLine line = falling;
  ChartLinePlan plan;
  Sheet sheet;

  line.mark = marks;
  line.n_marks = 4;
  line.low = 0;
  line.high = 20;
  line.crossing = 15;
  sheet_init (&sheet, 400, 300);
  chart_line_plan (&sheet.paper, &line, 400, &plan);
  for (int i = 0; i < 3; i++)
    for (int k = 0; k < i; k++)
      g_assert_false (boxes_touch (&plan.mark_label[i], &plan.mark_label[k]));
  g_assert_true (isnan (plan.mark_x[3]));
  chart_line_draw (&sheet.paper, &line, 400);
  chart_line_plan_clear (&plan);
  sheet_clear (&sheet);
}

static void
test_hostile (void)
{
  Sheet sheet;

  sheet_init (&sheet, 300, 300);
  for (gsize i = 0; i < G_N_ELEMENTS (hostile); i++)
    for (gsize k = 0; k < G_N_ELEMENTS (hostile); k++)
      {
        ChartMark mark = { hostile[k], NULL, TRUE };
        ChartLine line = { .at = hostile[i], .gain = hostile[k], .slope = hostile[i], .low = hostile[i], .high = hostile[k],
                           .crossing = hostile[k], .crossing_words = "x", .mark = &mark, .n_marks = 1 };
        ChartLinePlan plan;
        chart_line_plan (&sheet.paper, &line, 300, &plan);
        g_assert_true (isfinite (plan.y0) && isfinite (plan.y1) && plan.y0 >= plan.top - 0.01 && plan.y0 <= plan.bottom + 0.01);
        g_assert_true (plan.height > 0 && plan.height < 1000);
        chart_line_plan_clear (&plan);
        chart_line_draw (&sheet.paper, &line, 300);
        g_autofree char *table = chart_line_table (&line);
        g_assert_cmpstr (table, !=, "");
      }
  sheet_clear (&sheet);
}

static void
test_table (void)
{
  g_autofree char *table = chart_line_table (&falling);

  g_assert_cmpstr (table, ==,
                   "field rate, USD an hour  gain, USD\n"
                   "-----------------------  ---------  -----------------\n"
                   "                   0.00   2,840.00\n"
                   "                  50.00   1,840.00\n"
                   "                  92.00   1,000.00  today 92.00\n"
                   "                 100.00     840.00\n"
                   "                 142.00       0.00  pays below 142.00\n"
                   "                 150.00    -160.00\n"
                   "                 200.00  -1,160.00\n");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/line/crossing", test_crossing);
  g_test_add_func ("/chart/line/words", test_words);
  g_test_add_func ("/chart/line/marks", test_marks);
  g_test_add_func ("/chart/line/hostile", test_hostile);
  g_test_add_func ("/chart/line/table", test_table);
  return g_test_run ();
}

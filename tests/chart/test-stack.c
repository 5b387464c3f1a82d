/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the price goes: parts of one bar, their words beneath; and the text table. Figures invented for the demo. */
#include "chart/stack.h"

#include "chart/text-table.h"
#include "paper.h"

static const ChartPart parts[] = {
  { "material and tax", 51.3, "51.3" }, { "shop", 28.7, "28.7" },        { "field and site", 80.4, "80.4" },
  { "overhead", 19.9, "19.9" },         { "profit", 10.7, "10.7" },      { "final adjustment", -0.1, "-0.1" },
  { "a thin part", 0.2, "0.2" },        { "another thin one", 0.1, "0.1" },
};
static const ChartStack stack = { parts, G_N_ELEMENTS (parts) };

/* The parts fill the width in proportion and in order; what is below zero has no place. */
static void
test_parts (void)
{
  ChartStackPlan plan;
  Sheet sheet;
  double x = 0, whole = 51.3 + 28.7 + 80.4 + 19.9 + 10.7 + 0.2 + 0.1;

  sheet_init (&sheet, 640, 200);
  chart_stack_plan (&sheet.paper, &stack, 640, &plan);
  for (gsize i = 0; i < stack.n; i++)
    {
      g_assert_cmpfloat (fabs (plan.bar[i].x - x), <, 1e-9);
      g_assert_cmpfloat (fabs (plan.bar[i].w - 640 * MAX (parts[i].value, 0) / whole), <, 1e-9);
      x += plan.bar[i].w;
    }
  g_assert_cmpfloat (fabs (x - 640), <, 1e-9);

  /* Each looks another way: filled, hatched, empty. */
  chart_stack_draw (&sheet.paper, &stack, 640);
  int filled[3] = { 0 }, white[3] = { 0 };
  for (int i = 0; i < 3; i++)
    for (double at = plan.bar[i].x + 2; at < chart_box_end (&plan.bar[i]) - 2; at++)
      {
        guint32 pixel = sheet_pixel (&sheet, at, 17);
        filled[i] += pixel == 0x00ff00;
        white[i] += pixel == 0xffffff;
      }
  g_assert_cmpint (filled[0], >, 100);
  g_assert_cmpint (white[0], ==, 0);
  g_assert_cmpint (filled[1], ==, 0);
  g_assert_cmpint (white[1], >, 20);
  g_assert_cmpint (filled[2], ==, 0);
  g_assert_cmpint (white[2], >=, (int) plan.bar[2].w - 6);
  chart_stack_plan_clear (&plan);
  sheet_clear (&sheet);
}

static void
test_apart (void)
{
  Sheet sheet;

  sheet_init (&sheet, 10, 10);
  for (int width = 1200; width >= 100; width -= 10)
    {
      ChartStackPlan plan;
      chart_stack_plan (&sheet.paper, &stack, width, &plan);
      for (gsize i = 0; i < stack.n; i++)
        {
          g_assert_true (plan.label[i].x >= 0 && chart_box_end (&plan.label[i]) <= width + 0.01);
          g_assert_cmpfloat (plan.label[i].y + plan.label[i].h, <=, plan.height);
          for (gsize k = 0; k < i; k++)
            g_assert_false (boxes_touch (&plan.label[i], &plan.label[k]));
        }
      g_assert_cmpfloat (plan.height, ==, chart_stack_height (&sheet.paper, &stack, width));
      chart_stack_plan_clear (&plan);
    }
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
        const ChartPart two[] = { { NULL, hostile[i], "\xff" }, { "b", hostile[k], NULL } };
        ChartStack s = { two, 2 };
        ChartStackPlan plan;
        chart_stack_plan (&sheet.paper, &s, 300, &plan);
        g_assert_true (plan.bar[0].w >= 0 && plan.bar[1].w >= 0 && plan.bar[0].w + plan.bar[1].w <= 300 + 1e-6);
        chart_stack_plan_clear (&plan);
        chart_stack_draw (&sheet.paper, &s, 300);
        g_autofree char *table = chart_stack_table (&s);
        g_assert_true (g_utf8_validate (table, -1, NULL));
      }
  ChartStack none = { NULL, 0 };
  chart_stack_draw (&sheet.paper, &none, 300);
  chart_stack_draw (&sheet.paper, &stack, 0);
  sheet_clear (&sheet);
}

static void
test_table (void)
{
  g_autoptr (ChartTable) table = chart_table_new ("lr");
  static const char *const cells[] = { "what", "USD", "naïve\nline", "1.50", "日本", "-200.00", NULL, "" };

  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    chart_table_add (table, cells[i]);
  g_autofree char *text = chart_table_print (table);
  /* A wide letter takes two columns, a line break becomes a blank, no line ends in blanks. */
  g_assert_cmpstr (text, ==,
                   "what            USD\n"
                   "----------  -------\n"
                   "naïve line     1.50\n"
                   "日本        -200.00\n"
                   "\n");
  g_autofree char *shares = chart_stack_table (&(ChartStack) { parts, 2 });
  g_assert_cmpstr (shares, ==,
                   "part              amount   share\n"
                   "----------------  ------  ------\n"
                   "material and tax    51.3  64.1 %\n"
                   "shop                28.7  35.9 %\n");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/stack/parts", test_parts);
  g_test_add_func ("/chart/stack/apart", test_apart);
  g_test_add_func ("/chart/stack/hostile", test_hostile);
  g_test_add_func ("/chart/text-table", test_table);
  return g_test_run ();
}

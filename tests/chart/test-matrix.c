/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Fields by row and column: bands of like neighbours, marked and empty ones; and the text table. Figures invented for the demo. */
#include "chart/matrix.h"

#include "paper.h"

static const ChartField fields[] = {
  { "26", 0.1, FALSE, FALSE }, { "26", 0.1, FALSE, FALSE }, { "24", 0.5, TRUE, FALSE },
  { "24", 0.5, FALSE, FALSE }, { "22", 1, FALSE, FALSE },   { NULL, 0, FALSE, FALSE },
};
static const char *const rows[] = { "1", "2" }, *const columns[] = { "12", "24", "48" };
static const ChartMatrix matrix = { fields, 2, 3, rows, columns, "class", "side, in", "differs" };

static void
test_table (void)
{
  g_autofree char *text = chart_matrix_table (&matrix);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);

  g_assert_true (g_str_has_prefix (lines[0], "class; columns: side, in"));
  g_assert_nonnull (strstr (lines[2], "24*"));
  g_assert_nonnull (strstr (lines[3], "none"));
}

/* Two like neighbours are one band without a gap; a change leaves one; where nothing answers it is hatched, not filled. */
static void
test_bands (void)
{
  Sheet sheet;
  double height;
  int white_like = 0, white_change = 0;

  sheet_init (&sheet, 600, 200);
  height = chart_matrix_height (&sheet.paper, &matrix, 600);
  g_assert_cmpfloat (height, >, 40);
  g_assert_cmpfloat (height, <, 200);
  chart_matrix_draw (&sheet.paper, &matrix, 600);
  /* Just under the top edge of the first row's bands, above its words: from the middle of a column to the middle of the next. */
  double y;
  for (y = 0; y < height; y++)
    if (sheet_pixel (&sheet, 400, y) != 0xffffff && sheet_pixel (&sheet, 200, y) != 0xffffff)
      break;
  y += 2;
  double names = 0;
  while (sheet_pixel (&sheet, names, y) == 0xffffff)
    names++;
  double column = (600 - names) / 3;
  for (double x = names + column * 0.5; x < names + column * 1.5; x++)
    white_like += sheet_pixel (&sheet, x, y) == 0xffffff;
  for (double x = names + column * 1.5; x < names + column * 2.5; x++)
    white_change += sheet_pixel (&sheet, x, y) == 0xffffff;
  g_assert_cmpint (white_like, ==, 0);
  g_assert_cmpint (white_change, >, 0);
  sheet_clear (&sheet);
}

static void
test_hostile (void)
{
  static const ChartMatrix empty = { NULL, 0, 0, NULL, NULL, "class", "side", NULL };
  static const ChartField one[] = { { "a very long word that no field can hold at all", 7, TRUE, FALSE } };
  static const char *const name[] = { "<b>&" };
  static const ChartMatrix narrow = { one, 1, 1, name, name, "", "", NULL };
  Sheet sheet;

  sheet_init (&sheet, 100, 200);
  for (double width = 0; width < 100; width += 9)
    {
      chart_matrix_draw (&sheet.paper, &empty, width);
      chart_matrix_draw (&sheet.paper, &narrow, width);
    }
  sheet_clear (&sheet);
}

/* Where there is nothing to answer a field is blank; where an answer is missing it is not. */
static void
test_absent (void)
{
  static const ChartField two[] = { { "A", 0.5, FALSE, FALSE }, { NULL, 0, FALSE, TRUE }, { NULL, 0, FALSE, FALSE } };
  static const char *const one[] = { "1" };
  const ChartMatrix m = { two, 1, 3, one, columns, "class", "side, in", NULL };
  Sheet sheet;
  int ink[3] = { 0 };

  sheet_init (&sheet, 600, 200);
  g_autoptr (GPtrArray) spots = chart_matrix_spots (&sheet.paper, &m, 600);
  chart_matrix_draw (&sheet.paper, &m, 600);
  for (guint i = 0; i < 3; i++)
    {
      const ChartBox *box = &((ChartSpot *) g_ptr_array_index (spots, i))->box;
      for (double x = box->x + 4; x < chart_box_end (box) - 4; x++)
        ink[i] += sheet_pixel (&sheet, x, box->y + box->h / 2) != 0xffffff;
    }
  g_assert_cmpint (ink[0], >, 20);
  g_assert_cmpint (ink[1], ==, 0);
  g_assert_cmpint (ink[2], >, 20);
  sheet_clear (&sheet);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/chart/matrix/table", test_table);
  g_test_add_func ("/chart/matrix/bands", test_bands);
  g_test_add_func ("/chart/matrix/hostile", test_hostile);
  g_test_add_func ("/chart/matrix/absent", test_absent);
  return g_test_run ();
}

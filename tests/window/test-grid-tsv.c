/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fuzz.h"
#include "window/grid/grid-tsv.h"

/* Cells in a readable form: | between cells, / behind rows. */
static char *
shown (const char *text, gsize limit)
{
  g_autoptr (GridTsv) tsv = grid_tsv_read (text, limit);
  GString *out = g_string_new (NULL);

  for (guint row = 0; row < tsv->row->len; row++)
    {
      guint n = ((GPtrArray *) g_ptr_array_index (tsv->row, row))->len;
      for (guint column = 0; column < n; column++)
        g_string_append_printf (out, "%s%s", column ? "|" : "", grid_tsv_cell (tsv, row, column));
      g_string_append_c (out, '/');
      g_assert_null (grid_tsv_cell (tsv, row, n));
      g_assert_cmpuint (n, <=, tsv->n_columns);
    }
  if (tsv->cut)
    g_string_append (out, "cut");
  return g_string_free (out, FALSE);
}

static void
assert_read (const char *text, const char *expected)
{
  g_autofree char *found = shown (text, 1000);

  g_assert_cmpstr (found, ==, expected);
}

static void
test_read (void)
{
  assert_read ("", "");
  assert_read ("24x12", "24x12/");
  assert_read ("a\tb\nc\td", "a|b/c|d/");
  assert_read ("a\tb\nc\td\n", "a|b/c|d/"); /* a line end at the end starts no row */
  assert_read ("a\r\nb\r\n", "a/b/");
  assert_read ("a\rb\r", "a/b/");
  assert_read ("\n", "/");
  assert_read ("\n\n", "//");
  assert_read ("\t", "|/");
  assert_read ("a\t\n\tb", "a|/|b/");
  assert_read ("a\tb\tc\nd\ne\tf", "a|b|c/d/e|f/"); /* ragged */
  assert_read ("\xEF\xBB\xBF" "a\tb", "a|b/");
  assert_read (" a \t b ", " a | b /"); /* what blanks mean is not the clipboard's to say */
}

static void
test_quotes (void)
{
  assert_read ("\"a\tb\"\tc", "a\tb|c/");
  assert_read ("\"a\nb\"\nc", "a\nb/c/");
  assert_read ("\"a\"\"b\"", "a\"b/");
  assert_read ("\"\"", "/");
  assert_read ("\"\"\"\"", "\"/");
  assert_read ("\"a\"\r\n\"b\"\r\n", "a/b/");
  /* A mark that does not quote a whole cell is a mark: inches. */
  assert_read ("24\"\t12\"", "24\"|12\"/");
  assert_read ("\"ab\"c\td", "\"ab\"c|d/");
  assert_read ("\"open\tb\nc", "\"open|b/c/");
  assert_read ("\"\t\"x", "\"|\"x/");
}

static void
test_hostile (void)
{
  g_autofree char *limited = shown ("a\tb\nc\td\ne", 3);
  g_autofree char *all = shown ("a\tb\nc", 3);

  g_assert_cmpstr (limited, ==, "a|b/c/cut");
  g_assert_cmpstr (all, ==, "a|b/c/");
  assert_read ("a\xFF" "b\tc", "a\xEF\xBF\xBD" "b|c/"); /* U+FFFD */
}

/* 1 MB of marks in any arrangement that makes a reader look back or ahead is read at once. */
static void
test_many_marks (void)
{
  static const char *const parts[] = { "\"", "\"\t", "\"a\t", "\"\"\"\t", "\"\"\n", "\"a\"\"b\t" };

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      GString *text = g_string_new (NULL);
      gint64 from;
      while (text->len < 1000000)
        g_string_append (text, parts[i]);
      from = g_get_monotonic_time ();
      grid_tsv_free (grid_tsv_read (text->str, G_MAXSIZE));
      g_assert_cmpint (g_get_monotonic_time () - from, <, 20 * G_USEC_PER_SEC); /* quadratic: minutes */
      g_string_free (text, TRUE);
    }
}

typedef struct
{
  guint n_columns;
  GPtrArray *text;
} Block;

static char *
block_text (guint row, guint column, gpointer data)
{
  Block *block = data;

  return g_strdup (g_ptr_array_index (block->text, row * block->n_columns + column));
}

static void
test_write (void)
{
  static const char *const texts[] = { "a", "24\"", "x\ty", "", "two\nlines", "\"" };
  Block block = { 3, g_ptr_array_new () };
  g_autofree char *all = NULL;
  g_autofree char *one = NULL;
  g_autofree char *empty = NULL;

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    g_ptr_array_add (block.text, (gpointer) texts[i]);
  all = grid_tsv_write (0, 0, 1, 2, block_text, &block);
  g_assert_cmpstr (all, ==, "a\t\"24\"\"\"\t\"x\ty\"\n\t\"two\nlines\"\t\"\"\"\"");
  one = grid_tsv_write (0, 0, 0, 0, block_text, &block);
  g_assert_cmpstr (one, ==, "a");
  empty = grid_tsv_write (1, 0, 1, 0, block_text, &block);
  g_assert_cmpstr (empty, ==, "\n");
  g_ptr_array_unref (block.text);
}

static char *
random_cell (GRand *rand)
{
  static const char *const pieces[] = { "\"", "\"\"", "\t", "\n", "\r", "\r\n", "a", "24", " ", "\xE2\x80\xB3" };
  GString *out = g_string_new (NULL);

  for (int n = g_rand_int_range (rand, 0, 5); n > 0; n--)
    g_string_append (out, pieces[g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (pieces))]);
  return g_string_free (out, FALSE);
}

/* What is copied is what is pasted, whatever stands in the cells. */
static void
test_round_trip (void)
{
  GRand *rand = g_rand_new_with_seed (20240611);

  for (int round = 0; round < FUZZ_ROUNDS; round++)
    {
      guint rows = (guint) g_rand_int_range (rand, 1, 5), columns = (guint) g_rand_int_range (rand, 1, 5);
      Block block = { columns, g_ptr_array_new_with_free_func (g_free) };
      g_autofree char *text = NULL;
      g_autoptr (GridTsv) tsv = NULL;

      for (guint i = 0; i < rows * columns; i++)
        g_ptr_array_add (block.text, random_cell (rand));
      text = grid_tsv_write (0, 0, rows - 1, columns - 1, block_text, &block);
      tsv = grid_tsv_read (text, G_MAXSIZE);
      g_assert_cmpuint (tsv->row->len, ==, rows);
      g_assert_cmpuint (tsv->n_columns, ==, columns);
      for (guint i = 0; i < rows * columns; i++)
        g_assert_cmpstr (grid_tsv_cell (tsv, i / columns, i % columns), ==, g_ptr_array_index (block.text, i));
      g_ptr_array_unref (block.text);
    }
  g_rand_free (rand);
}

/* Any bytes give cells of valid text, no more than there are separators, and no read behind the end. */
static void
test_fuzz (void)
{
  GRand *rand = g_rand_new_with_seed (7);

  for (int round = 0; round < FUZZ_ROUNDS; round++)
    {
      g_autofree char *text = fuzz_text (rand);
      g_autoptr (GridTsv) tsv = grid_tsv_read (text, G_MAXSIZE);
      gsize most = 1, cells = 0;

      for (const char *p = text; *p; p++)
        most += strchr ("\t\r\n", *p) != NULL;
      for (guint row = 0; row < tsv->row->len; row++)
        for (guint column = 0; grid_tsv_cell (tsv, row, column); column++)
          {
            g_assert_true (g_utf8_validate (grid_tsv_cell (tsv, row, column), -1, NULL));
            cells++;
          }
      g_assert_cmpuint (cells, <=, most);
      g_assert_true ((cells == 0) == (*text == '\0'));
    }
  g_rand_free (rand);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/grid-tsv/read", test_read);
  g_test_add_func ("/grid-tsv/quotes", test_quotes);
  g_test_add_func ("/grid-tsv/hostile", test_hostile);
  g_test_add_func ("/grid-tsv/many-marks", test_many_marks);
  g_test_add_func ("/grid-tsv/write", test_write);
  g_test_add_func ("/grid-tsv/round-trip", test_round_trip);
  g_test_add_func ("/grid-tsv/fuzz", test_fuzz);
  return g_test_run ();
}

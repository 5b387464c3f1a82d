/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/csv.h"

#include "fuzz.h"

#include <glib/gstdio.h>

static GPtrArray *
faults_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
}

/* The table as one line of text: "head|head / cell|cell / ...", with line numbers in front of rows. */
static char *
show (const CsvTable *table)
{
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, "%d:", table->head_line);
  for (guint i = 0; i < table->head->len; i++)
    g_string_append_printf (out, "%s%s", i > 0 ? "|" : "", (char *) g_ptr_array_index (table->head, i));
  for (guint k = 0; k < table->row->len; k++)
    {
      const CsvRow *row = g_ptr_array_index (table->row, k);

      g_string_append_printf (out, " / %d:", row->line);
      for (guint i = 0; i < row->cell->len; i++)
        g_string_append_printf (out, "%s%s", i > 0 ? "|" : "", (char *) g_ptr_array_index (row->cell, i));
    }
  return g_string_free (out, FALSE);
}

/* Good text: RFC 4180 and the leniencies of csv.h. */
static void
test_good (void)
{
  static const struct
  {
    const char *text;
    const char *shown;
  } rows[] = {
    { "a,b\n1,2\n", "1:a|b / 2:1|2" },
    { "a,b\r\n1,2\r\n3,4", "1:a|b / 2:1|2 / 3:3|4" },
    { "a,b\r1,2\r", "1:a|b / 2:1|2" },
    { "\xEF\xBB\xBF" "a,b\n1,2\n", "1:a|b / 2:1|2" },
    { "\xEF\xBB\xBF\"a\",b\n", "1:a|b" },
    { "a;b\n1,5;2\n", "1:a|b / 2:1,5|2" },
    { "a\tb\n1\t 2\n\t\n", "1:a|b / 2:1|2 / 3:|" },
    { "\"a;b\"\n1\n", "1:a;b / 2:1" },
    { "a;\"b,c\"\n1;2\n", "1:a|b,c / 2:1|2" },
    { "a;b,c\n1;2,3\n", "1:a;b|c / 2:1;2|3" },
    { "# note\n\n  \na,b\n# x,y,z\n1,2\n\n3,4\n", "4:a|b / 6:1|2 / 8:3|4" },
    { " a , b \n 1 , \" 2 \" \n", "1:a|b / 2:1| 2 " },
    { "a,b\n\"x \"\"y\"\"\",\"l1\nl2\"\nnext,1\n", "1:a|b / 2:x \"y\"|l1\nl2 / 4:next|1" },
    { "a,b\n\"l1\r\nl2\",2\r\n3,4\r\n", "1:a|b / 2:l1\r\nl2|2 / 4:3|4" },
    { "a,b\n24\" duct,5' 6\"\n", "1:a|b / 2:24\" duct|5' 6\"" },
    { "a,b,c\n1\n1,2\n", "1:a|b|c / 2:1|| / 3:1|2|" },
    { "a,,\n1,2,3\n", "1:a|| / 2:1|2|3" },
    { "a\n\"\"\n\"#1\"\n", "1:a / 2: / 3:#1" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GPtrArray) faults = faults_new ();
      g_autoptr (CsvTable) table = csv_parse (rows[i].text, -1, "t.csv", faults);
      g_autofree char *shown = NULL;

      g_test_message ("row %d", (int) i);
      g_assert_nonnull (table);
      g_assert_cmpuint (faults->len, ==, 0);
      shown = show (table);
      g_assert_cmpstr (shown, ==, rows[i].shown);
    }
}

/* Bad text, all that is said about it, and what is left of the table (NULL: none). */
static void
test_bad (void)
{
  static const struct
  {
    const char *text;
    gssize length;
    const char *words;
    const char *shown;
  } rows[] = {
    { "", -1, "t.csv:1: the file has no heading", NULL },
    { "# only\n\n", -1, "t.csv:1: the file has no heading", NULL },
    { ",,\n1,2,3\n", -1, "t.csv:1: the heading is empty", NULL },
    { "a,b, A \n", -1, "t.csv:1, column 3 (A): the heading is given twice", NULL },
    { "a,b\n1,2,3\n4,5\n", -1, "t.csv:2, column 3: the row has 3 cells, the heading 2", "1:a|b / 3:4|5" },
    { "a,b\n1,2,\n", -1, "t.csv:2, column 3: the row has 3 cells, the heading 2", "1:a|b" },
    { "a,b\n1,2\n3,\"x\n4,5\n", -1, "t.csv:3, column 2 (b): a quote is opened and never closed", "1:a|b / 2:1|2" },
    { "a,\"b\n1,2\n", -1, "t.csv:1, column 2: a quote is opened and never closed", NULL },
    { "a,b\n\"x\"y,2\n3,4\n", -1, "t.csv:2, column 1 (a): text follows a closing quote", "1:a|b / 3:3|4" },
    { "a,b\n\"l\nl\"y,2\n3,4\n", -1, "t.csv:3, column 1 (a): text follows a closing quote", "1:a|b / 4:3|4" },
    { "a,b\nx,\xE9\n3,4\n", -1, "t.csv:2, column 2 (b): the line is not UTF-8 text", "1:a|b / 3:3|4" },
    { "a,b\n\"x,\"\"y,\",\xE9\n3,4\n", -1, "t.csv:2, column 2 (b): the line is not UTF-8 text", "1:a|b / 3:3|4" },
    { "a,b\nx,\"l\n\xE9\"\n3,4\n", -1, "t.csv:3, column 2 (b): the line is not UTF-8 text", "1:a|b / 4:3|4" },
    { "\xFF\xFE" "a,b\n", -1, "t.csv:1, column 1: the line is not UTF-8 text", NULL },
    { "a,b\nx\0y,2\n3,4\n", 14, "t.csv:2, column 1 (a): the line holds a NUL byte", "1:a|b / 3:3|4" },
    { "a,b\n1,2\xC3", -1, "t.csv:2, column 2 (b): the line is not UTF-8 text", "1:a|b" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GPtrArray) faults = faults_new ();
      g_autoptr (CsvTable) table = csv_parse (rows[i].text, rows[i].length, "t.csv", faults);
      g_autofree char *words = NULL, *shown = NULL;

      g_test_message ("row %d: %s", (int) i, rows[i].words);
      g_assert_cmpuint (faults->len, ==, 1);
      words = csv_fault_words (g_ptr_array_index (faults, 0));
      g_assert_true (g_str_has_prefix (words, rows[i].words));
      g_assert_cmpuint (strlen (strrchr (words, ';')), >, 10);
      shown = table != NULL ? show (table) : NULL;
      g_assert_cmpstr (shown, ==, rows[i].shown);
    }
}

static void
test_fault_words (void)
{
  static const struct
  {
    int line;
    int column;
    const char *heading;
    const char *words;
  } rows[] = {
    { 12, 3, "Side", "f.csv:12, column 3 (Side): bad; mend it" },
    { 12, 3, NULL, "f.csv:12, column 3: bad; mend it" },
    { 12, 0, NULL, "f.csv:12: bad; mend it" },
    { 0, 0, NULL, "f.csv: bad; mend it" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CsvFault *fault = csv_fault_new ("f.csv", rows[i].line, rows[i].column, rows[i].heading, "bad", "mend it");
      g_autofree char *words = csv_fault_words (fault);

      g_assert_cmpstr (words, ==, rows[i].words);
      csv_fault_free (fault);
    }
  csv_fault_free (NULL);
  csv_table_free (NULL);
}

static void
test_columns (void)
{
  g_autoptr (CsvTable) table = csv_parse ("Side,Length ft,Größe\n24,10,7\n", -1, "t", NULL);

  g_assert_cmpint (csv_column (table, "side"), ==, 0);
  g_assert_cmpint (csv_column (table, "  LENGTH FT "), ==, 1);
  g_assert_cmpint (csv_column (table, "GRÖSSE"), ==, 2);
  g_assert_cmpint (csv_column (table, "none"), ==, -1);
  g_assert_cmpstr (csv_cell (table, 0, 1), ==, "10");
  g_assert_cmpstr (csv_cell (table, 0, -1), ==, "");
  g_assert_cmpstr (csv_cell (table, 0, 3), ==, "");
  g_assert_cmpstr (csv_cell (table, 1, 0), ==, "");
}

static void
test_read_file (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) faults = faults_new ();
  g_autofree char *dir = g_dir_make_tmp ("csv-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (dir, "run.csv", NULL);
  g_autoptr (CsvTable) table = NULL, none = NULL;

  g_assert_true (g_file_set_contents (path, "a,b\n1,2,3\n4,5\n", -1, NULL));
  table = csv_read_file (path, faults, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (table->name, ==, "run.csv");
  g_assert_cmpuint (table->row->len, ==, 1);
  g_assert_cmpuint (faults->len, ==, 1);
  g_assert_cmpint (g_unlink (path), ==, 0);
  none = csv_read_file (path, faults, &error);
  g_assert_null (none);
  g_assert_error (error, G_FILE_ERROR, G_FILE_ERROR_NOENT);
  g_rmdir (dir);
}

static void
test_writer (void)
{
  static const char *const cells[] = { "plain", "a,b", "say \"x\"", " lead", "trail ", "l1\nl2", "", "5;6" };
  static const char *const comment[] = { "#1", "#2" };
  static const char *const empty[] = { "" };
  g_autoptr (GString) out = g_string_new (NULL);

  csv_append_row (out, cells, G_N_ELEMENTS (cells));
  csv_append_row (out, comment, 2);
  csv_append_row (out, empty, 1);
  g_assert_cmpstr (out->str, ==,
                   "plain,\"a,b\",\"say \"\"x\"\"\",\" lead\",\"trail \",\"l1\nl2\",,\"5;6\"\n\"#1\",#2\n\"\"\n");
}

/* Cells of awkward pieces, written and read back the same. Headings are numbered so that none is given twice. */
static void
test_round_trip (void)
{
  static const char *const pieces[] = { ",", ";", "\t", "\"", "\n", "\r", "\r\n", " ",
                                        "#", "a", "0", "é", "\xEF\xBB\xBF", "'" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (14);

  for (int round = 0; round < 3000; round++)
    {
      gsize columns = (gsize) g_rand_int_range (rand, 1, 6), lines = (gsize) g_rand_int_range (rand, 1, 6);
      g_autoptr (GPtrArray) wanted = g_ptr_array_new_with_free_func (g_free), faults = faults_new ();
      g_autoptr (GString) out = g_string_new (NULL);
      g_autoptr (CsvTable) table = NULL;

      for (gsize i = 0; i < columns * lines; i++)
        {
          GString *cell = g_string_new (NULL);

          for (int n = g_rand_int_range (rand, 0, 5); n > 0; n--)
            g_string_append (cell, pieces[g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (pieces))]);
          if (i < columns)
            g_string_append_printf (cell, "%d", (int) i);
          g_ptr_array_add (wanted, g_string_free (cell, FALSE));
        }
      for (gsize k = 0; k < lines; k++)
        csv_append_row (out, (const char *const *) wanted->pdata + k * columns, columns);
      table = csv_parse (out->str, (gssize) out->len, "t", faults);
      g_assert_cmpuint (faults->len, ==, 0);
      g_assert_cmpuint (table->row->len, ==, lines - 1);
      g_assert_cmpuint (table->head->len, ==, columns);
      for (gsize i = 0; i < columns; i++)
        g_assert_cmpstr (g_ptr_array_index (table->head, i), ==, g_ptr_array_index (wanted, i));
      for (gsize i = columns; i < columns * lines; i++)
        g_assert_cmpstr (csv_cell (table, (guint) (i / columns) - 1, (int) (i % columns)), ==,
                         g_ptr_array_index (wanted, i));
    }
}

static void
test_any_bytes (void)
{
  static const char *const pieces[] = { ",", ";", "\t", "\"", "\n", "\r", "a",
                                        "b", "#", " ", "\xC3", "\xA9", "\xEF\xBB\xBF" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (15);
  int tables = 0;

  for (int round = 0; round < FUZZ_ROUNDS; round++)
    {
      g_autoptr (GPtrArray) faults = faults_new ();
      g_autoptr (GString) text = g_string_new (NULL);
      g_autoptr (CsvTable) table = NULL;
      g_autofree char *exact = NULL;

      for (int n = g_rand_int_range (rand, 0, 30); n > 0; n--)
        if (g_rand_int_range (rand, 0, 8) == 0)
          g_string_append_c (text, (char) g_rand_int_range (rand, 0, 256));
        else
          g_string_append (text, pieces[g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (pieces))]);
      /* No NUL behind it: the length alone ends the text. */
      exact = g_memdup2 (text->str, text->len);
      table = csv_parse (exact, (gssize) text->len, "t", faults);
      g_assert_true (table != NULL || faults->len > 0);
      for (guint i = 0; i < faults->len; i++)
        {
          const CsvFault *fault = g_ptr_array_index (faults, i);
          g_autofree char *words = csv_fault_words (fault);

          g_assert_true (g_utf8_validate (words, -1, NULL));
          g_assert_cmpint (fault->line, >=, 1);
          g_assert_cmpint (fault->line, <=, 31);
          g_assert_cmpstr (fault->remedy, !=, "");
        }
      tables += table != NULL;
      for (guint k = 0; table != NULL && k < table->row->len; k++)
        for (int i = 0; i < (int) table->head->len; i++)
          g_assert_true (g_utf8_validate (csv_cell (table, k, i), -1, NULL));
    }
  g_assert_cmpint (tables, >, 1000);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/csv/good", test_good);
  g_test_add_func ("/csv/bad", test_bad);
  g_test_add_func ("/csv/fault-words", test_fault_words);
  g_test_add_func ("/csv/columns", test_columns);
  g_test_add_func ("/csv/read-file", test_read_file);
  g_test_add_func ("/csv/writer", test_writer);
  g_test_add_func ("/csv/round-trip", test_round_trip);
  g_test_add_func ("/csv/any-bytes", test_any_bytes);
  return g_test_run ();
}

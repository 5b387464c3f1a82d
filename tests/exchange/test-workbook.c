/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The workbook of the demo job (invented demo). What a spreadsheet program makes of it is checked by test-recalc.py. */
#include "exchange/runs-csv.h"
#include "exchange/read-back.h"
#include "exchange/workbook-private.h"

#include <gio/gio.h>
#include <glib/gstdio.h>
#include <locale.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <zip.h>

typedef struct
{
  TallyJob *job;
  char *folder, *path;
} Desk;

static const int methods[] = { 0, 1, 2, 3, 4 };

static void
set_up (Desk *desk, gconstpointer data)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();

  (void) data;
  desk->job = exchange_demo_job (catalogue);
  desk->folder = g_dir_make_tmp ("workbook-XXXXXX", NULL);
  desk->path = g_build_filename (desk->folder, "bid.xlsx", NULL);
}

static int
clear_folder (const char *folder, gboolean empty)
{
  g_autoptr (GDir) dir = g_dir_open (folder, 0, NULL);
  const char *name;
  int n = 0;

  while ((name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      n++;
      if (empty)
        g_remove (path);
    }
  return n;
}

static void
tear_down (Desk *desk, gconstpointer data)
{
  (void) data;
  clear_folder (desk->folder, TRUE);
  g_rmdir (desk->folder);
  g_object_unref (desk->job);
  g_free (desk->folder);
  g_free (desk->path);
}

static void
write_it (Desk *desk, const char *path)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (workbook_write (desk->job, methods, G_N_ELEMENTS (methods), 0, path, NULL, NULL, &error));
  g_assert_no_error (error);
}

static GBytes *
bytes_of (const char *path)
{
  char *data;
  gsize length;

  g_assert_true (g_file_get_contents (path, &data, &length, NULL));
  return g_bytes_new_take (data, length);
}

/* Text of a part of the file. */
static char *
part_of (const char *path, const char *name)
{
  zip_t *zip = zip_open (path, ZIP_RDONLY | ZIP_CHECKCONS, NULL);
  zip_stat_t info;
  zip_file_t *part;
  char *text;

  g_assert_nonnull (zip);
  g_assert_cmpint (zip_stat (zip, name, 0, &info), ==, 0);
  part = zip_fopen (zip, name, 0);
  g_assert_nonnull (part);
  text = g_malloc0 (info.size + 1);
  g_assert_cmpint ((int) zip_fread (part, text, info.size), ==, (int) info.size);
  zip_fclose (part);
  zip_discard (zip);
  return text;
}

static char *
sheet_of (const char *path, BookPage page)
{
  g_autofree char *name = g_strdup_printf ("xl/worksheets/sheet%d.xml", (int) page + 1);

  return part_of (path, name);
}

static void
assert_well_formed (const char *xml)
{
  const GMarkupParser nothing = { 0 };
  g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&nothing, 0, NULL, NULL);
  g_autoptr (GError) error = NULL;

  g_markup_parse_context_parse (context, xml, -1, &error);
  g_assert_no_error (error);
  g_markup_parse_context_end_parse (context, &error);
  g_assert_no_error (error);
}

/* Every part, not the sheets alone. */
static void
assert_all_well_formed (const char *path)
{
  zip_t *zip = zip_open (path, ZIP_RDONLY, NULL);

  g_assert_nonnull (zip);
  g_assert_cmpint ((int) zip_get_num_entries (zip, 0), >, BOOK_N_SHEETS);
  for (zip_int64_t i = 0; i < zip_get_num_entries (zip, 0); i++)
    {
      g_autofree char *xml = part_of (path, zip_get_name (zip, (zip_uint64_t) i, 0));
      assert_well_formed (xml);
    }
  zip_discard (zip);
}

static void
add_run (Desk *desk, const char *drawing, const char *note)
{
  JobEdit *edit = job_edit_new ("set up");
  gint64 id = job_take_id (desk->job, JOB_RUN);
  JobRecord *run = job_record_new (JOB_RUN, id, id * 1000000);
  g_autoptr (GError) error = NULL;

  run->num[RUN_KIND] = DUCT_COUNTED;
  run->num[RUN_PRICE] = 10000;
  job_record_set_text (run, RUN_DRAWING, drawing);
  job_record_set_text (run, RUN_NOTE, note);
  job_edit_add (edit, NULL, run);
  g_assert_true (job_apply (desk->job, edit, &error));
  g_assert_no_error (error);
}

/* ---- tests ---- */

/* The price is that of the table of the invented demo job, which an independent program computed. */
static void
test_whole (Desk *desk, gconstpointer data)
{
  (void) data;
  write_it (desk, desk->path);
  g_assert_cmpint (clear_folder (desk->folder, FALSE), ==, 1); /* no part left */
  assert_all_well_formed (desk->path);
  g_autofree char *price = sheet_of (desk->path, BOOK_PRICE), *runs = sheet_of (desk->path, BOOK_RUNS);
  g_autofree char *book = part_of (desk->path, "xl/workbook.xml");
  g_assert_nonnull (strstr (price, "<v>207590.42</v>"));
  g_assert_nonnull (strstr (price, "<v>174857.16</v>"));
  g_assert_nonnull (strstr (book, "name=\"price\""));
  g_assert_nonnull (strstr (book, "name=\"tax_rate\""));
  g_assert_nonnull (strstr (book, "name=\"rate_field\""));
  g_assert_nonnull (strstr (runs, "state=\"frozen\""));
  g_assert_null (strstr (runs, "NOT PRICED"));
}

static void
test_same_bytes (Desk *desk, gconstpointer data)
{
  g_autofree char *other = g_build_filename (desk->folder, "other.xlsx", NULL);
  g_autoptr (GBytes) first = NULL, second = NULL, third = NULL;
  zip_t *zip;

  (void) data;
  write_it (desk, desk->path);
  g_usleep (1100000); /* a time of the clock in seconds would now differ */
  write_it (desk, other);
  first = bytes_of (desk->path);
  second = bytes_of (other);
  g_assert_true (g_bytes_equal (first, second));

  zip = zip_open (desk->path, ZIP_RDONLY, NULL);
  for (zip_int64_t i = 0; i < zip_get_num_entries (zip, 0); i++)
    {
      zip_stat_t info;
      zip_stat_index (zip, (zip_uint64_t) i, 0, &info);
      g_assert_cmpint (info.mtime, <, 946684800); /* 2000-01-01: no clock was read */
    }
  zip_discard (zip);

  g_setenv ("SOURCE_DATE_EPOCH", "1000000000", TRUE);
  write_it (desk, other);
  g_unsetenv ("SOURCE_DATE_EPOCH");
  third = bytes_of (other);
  g_assert_false (g_bytes_equal (first, third));
  g_autofree char *core = part_of (other, "docProps/core.xml");
  g_assert_nonnull (strstr (core, "2001-09-09T01:46:40Z"));
}

static void
test_text_stays_text (Desk *desk, gconstpointer data)
{
  const char *const words[] = { "=1+1", "+1", "-1", "@SUM(A1)", "=HYPERLINK(\"x\")" };

  (void) data;
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    add_run (desk, words[i], words[i]);
  write_it (desk, desk->path);
  g_autofree char *runs = sheet_of (desk->path, BOOK_RUNS), *materials = sheet_of (desk->path, BOOK_MATERIALS);
  for (gsize i = 0; i < G_N_ELEMENTS (words) - 1; i++)
    {
      g_autofree char *cell = g_strdup_printf ("t=\"inlineStr\"><is><t>%s</t></is>", words[i]);
      g_autofree char *line = g_strdup_printf ("t=\"inlineStr\"><is><t>%s (run", words[i]);
      g_assert_nonnull (strstr (runs, cell));
      g_assert_nonnull (strstr (materials, line));
    }
  g_assert_null (strstr (runs, "<f>1+1"));
  g_assert_null (strstr (runs, "<f>HYPERLINK"));
}

static void
test_bad_text (Desk *desk, gconstpointer data)
{
  (void) data;
  add_run (desk, "a\xff\xfe z", "bell \a, escape \x1b, \xed\xa0\x80 half of a pair, \xef\xbf\xbf no character");
  write_it (desk, desk->path);
  for (int i = 0; i < BOOK_N_SHEETS; i++)
    {
      g_autofree char *xml = sheet_of (desk->path, (BookPage) i);
      g_assert_true (g_utf8_validate (xml, -1, NULL));
      assert_well_formed (xml);
      for (const char *p = xml; *p; p++)
        g_assert_true ((guchar) *p >= 0x20 || *p == '\n' || *p == '\t' || *p == '\r');
    }
}

static void
test_clean_text (void)
{
  g_autoptr (GString) scratch = g_string_new (NULL);
  g_autofree char *long_text = g_strnfill (40000, 'x');

  g_assert_cmpstr (workbook_clean_text ("plain", scratch), ==, "plain");
  g_assert_cmpstr (workbook_clean_text (NULL, scratch), ==, "");
  g_assert_cmpstr (workbook_clean_text ("größer", scratch), ==, "größer");
  g_assert_cmpstr (workbook_clean_text ("a\xff"
                                        "b",
                                        scratch),
                   ==,
                   "a\xef\xbf\xbd"
                   "b");
  g_assert_cmpstr (workbook_clean_text ("a\x01"
                                        "b",
                                        scratch),
                   ==,
                   "a\xef\xbf\xbd"
                   "b");
  g_assert_cmpstr (workbook_clean_text ("a\xef\xbf\xbf"
                                        "b",
                                        scratch),
                   ==,
                   "a\xef\xbf\xbd"
                   "b"); /* U+FFFF */
  g_assert_cmpstr (workbook_clean_text ("a\xef\xb7\x90"
                                        "b",
                                        scratch),
                   ==,
                   "a\xef\xbf\xbd"
                   "b"); /* U+FDD0 */
  g_assert_cmpstr (workbook_clean_text ("\xf0\x9f\x98\x80", scratch), ==, "\xf0\x9f\x98\x80");
  g_assert_cmpstr (workbook_clean_text ("a\r\nb\tc", scratch), ==, "a\nb\tc");
  g_assert_cmpstr (workbook_clean_text ("_x0041_", scratch), ==, "_x005F_x0041_");
  g_assert_cmpstr (workbook_clean_text ("_x004_ _", scratch), ==, "_x004_ _");
  g_assert_cmpint ((int) g_utf8_strlen (workbook_clean_text (long_text, scratch), -1), <=, 32767);
  g_assert_true (g_str_has_suffix (workbook_clean_text (long_text, scratch), "…"));
}

/* Rules for defined names: Office Open XML, ECMA-376 part 1, 18.2.5: no cell reference in either style, letters first. */
static void
test_names (void)
{
  const struct
  {
    const char *key, *name;
  } cases[] = {
    { "tax", "tax" },
    { "AB12", "figure_ab12" },
    { "tax1", "figure_tax1" },
    { "rate1", "rate1" },
    { "r", "figure_r" },
    { "c", "figure_c" },
    { "R1C1", "figure_r1c1" },
    { "r2", "figure_r2" },
    { "rc", "figure_rc" },
    { "9 lives", "figure_9_lives" },
    { "", "figure_" },
    { "überstunden", "berstunden" },
    { "site  general!", "site_general_" },
    { "TRUE", "figure_true" },
    { "rental", "rental" },
    { "cost", "cost" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *name = workbook_name (cases[i].key);
      g_assert_cmpstr (name, ==, cases[i].name);
    }
}

/* Stops at the call whose number is told. */
static gboolean
stop_at (double share, gpointer data)
{
  int *left = data;

  g_assert_cmpfloat (share, >=, 0);
  g_assert_cmpfloat (share, <=, 1);
  return --*left > 0;
}

static void
test_cancel (Desk *desk, gconstpointer data)
{
  int calls = 0;

  (void) data;
  g_assert_true (g_file_set_contents (desk->path, "the bid of yesterday", -1, NULL));
  for (int at = 1; at <= 3; at++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) kept = NULL;
      int left = at;
      g_assert_false (workbook_write (desk->job, methods, G_N_ELEMENTS (methods), 0, desk->path, stop_at, &left,
                                      &error));
      g_assert_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
      g_assert_cmpint (left, ==, 0);
      g_assert_cmpint (clear_folder (desk->folder, FALSE), ==, 1);
      kept = bytes_of (desk->path);
      g_assert_cmpint ((int) g_bytes_get_size (kept), ==, 20);
      calls++;
    }
  g_assert_cmpint (calls, ==, 3);
}

static void
test_bad_place (Desk *desk, gconstpointer data)
{
  g_autofree char *path = g_build_filename (desk->folder, "no folder", "bid.xlsx", NULL);
  g_autoptr (GError) error = NULL;

  (void) data;
  g_assert_false (workbook_write (desk->job, methods, G_N_ELEMENTS (methods), 0, path, NULL, NULL, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND);
  g_assert_nonnull (strstr (error->message, "bid.xlsx"));
  g_assert_cmpint (clear_folder (desk->folder, FALSE), ==, 0);
}

/* A disk that fills up, by a limit on the size of files: whatever the limit, the answer is an error and the old file, or a
 * whole new one. */
static void
test_full_disk (Desk *desk, gconstpointer data)
{
  struct rlimit before, limit;
  int failed = 0;

  (void) data;
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  signal (SIGXFSZ, SIG_IGN);
  for (rlim_t size = 1000; size < 160000; size += 4000)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GBytes) kept = NULL;
      gboolean good;
      g_assert_true (g_file_set_contents (desk->path, "the bid of yesterday", -1, NULL));
      limit = before;
      limit.rlim_cur = size;
      setrlimit (RLIMIT_FSIZE, &limit);
      good = workbook_write (desk->job, methods, G_N_ELEMENTS (methods), 0, desk->path, NULL, NULL, &error);
      setrlimit (RLIMIT_FSIZE, &before);
      g_assert_cmpint (clear_folder (desk->folder, FALSE), ==, 1);
      kept = bytes_of (desk->path);
      if (good)
        assert_all_well_formed (desk->path);
      else
        {
          g_assert_nonnull (error);
          g_assert_cmpint ((int) g_bytes_get_size (kept), ==, 20);
          failed++;
        }
    }
  g_assert_cmpint (failed, >, 2);
  g_test_message ("%d of the limits were too small", failed);
}

/* The check of the finished file finds a missing row, a cut file and a changed byte. */
static void
test_check_rows (Desk *desk, gconstpointer data)
{
  guint64 rows[BOOK_N_SHEETS];
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GError) error = NULL;
  gsize length;
  char *copy;

  (void) data;
  write_it (desk, desk->path);
  for (int i = 0; i < BOOK_N_SHEETS; i++)
    {
      g_autofree char *xml = sheet_of (desk->path, (BookPage) i);
      rows[i] = 0;
      for (const char *p = xml; (p = strstr (p, "</row>")) != NULL; p++)
        rows[i]++;
    }
  g_assert_true (workbook_check_rows (desk->path, rows, BOOK_N_SHEETS, &error));
  for (int i = 0; i < BOOK_N_SHEETS; i++)
    {
      rows[i]++;
      g_assert_false (workbook_check_rows (desk->path, rows, BOOK_N_SHEETS, NULL));
      rows[i]--;
    }
  bytes = bytes_of (desk->path);
  copy = g_memdup2 (g_bytes_get_data (bytes, &length), g_bytes_get_size (bytes));
  g_assert_true (g_file_set_contents (desk->path, copy, (gssize) length * 2 / 3, NULL));
  g_assert_false (workbook_check_rows (desk->path, rows, BOOK_N_SHEETS, NULL));
  copy[length / 3] = (char) (copy[length / 3] ^ 0x10);
  g_assert_true (g_file_set_contents (desk->path, copy, (gssize) length, NULL));
  g_assert_false (workbook_check_rows (desk->path, rows, BOOK_N_SHEETS, &error));
  g_assert_error (error, G_IO_ERROR, G_IO_ERROR_NO_SPACE);
  g_free (copy);
}

static void
test_not_priced (Desk *desk, gconstpointer data)
{
  JobEdit *edit = job_edit_new ("set up");
  const JobRecord *first = job_at (desk->job, JOB_RUN, 0);
  JobRecord *after = job_record_copy (first);

  (void) data;
  after->num[RUN_W] = after->num[RUN_H] = JOB_UNSET;
  job_edit_add (edit, job_record_ref (first), after);
  g_assert_true (job_apply (desk->job, edit, NULL));
  write_it (desk, desk->path);
  g_autofree char *runs = sheet_of (desk->path, BOOK_RUNS), *price = sheet_of (desk->path, BOOK_PRICE);
  g_assert_nonnull (strstr (runs, "NOT PRICED: "));
  g_assert_nonnull (strstr (price, "1 run is not priced"));
  g_assert_nonnull (strstr (price, "it is not complete"));
}

/* A note is a line of words on the sheet of runs, and nothing anywhere else. */
static void
test_note_line (Desk *desk, gconstpointer data)
{
  JobEdit *edit = job_edit_new ("set up");
  gint64 id = job_take_id (desk->job, JOB_RUN);
  JobRecord *run = job_record_new (JOB_RUN, id, id * 1000000);

  (void) data;
  run->num[RUN_KIND] = DUCT_REMARK;
  job_record_set_text (run, RUN_NOTE, "=riser by others");
  job_edit_add (edit, NULL, run);
  write_it (desk, desk->path);
  g_autofree char *price_before = sheet_of (desk->path, BOOK_PRICE);
  g_assert_true (job_apply (desk->job, edit, NULL));
  write_it (desk, desk->path);
  g_autofree char *runs = sheet_of (desk->path, BOOK_RUNS), *price = sheet_of (desk->path, BOOK_PRICE);
  g_assert_cmpstr (price, ==, price_before);
  g_assert_null (strstr (runs, "NOT PRICED: "));
  /* The number of the row, its kind and its words: no amounts. Six rows stand above the first run. */
  g_autofree char *start = g_strdup_printf ("<row r=\"%d\"", 7 + job_position (desk->job, id));
  g_assert_nonnull (strstr (runs, start));
  g_auto (GStrv) rows = g_strsplit (strstr (runs, start) + 1, "<row ", 2);
  g_auto (GStrv) cells = g_strsplit (rows[0], "<c ", -1);
  g_assert_cmpuint (g_strv_length (cells), ==, 4);
  g_assert_nonnull (strstr (rows[0], "=riser by others"));
  g_assert_null (strstr (rows[0], "<f>"));
}

static void
test_empty_job (Desk *desk, gconstpointer data)
{
  g_autoptr (Catalogue) catalogue = catalogue_starter ();
  g_autoptr (TallyJob) job = job_new (catalogue, "Nothing yet");
  g_autoptr (GError) error = NULL;

  (void) data;
  g_assert_true (workbook_write (job, NULL, 0, -1, desk->path, NULL, NULL, &error));
  g_assert_no_error (error);
  assert_all_well_formed (desk->path);
}

/* Sets a locale with a decimal comma: one of the machine's, else one made in @folder. */
static gboolean
set_decimal_comma (const char *folder)
{
  const char *const names[] = {
    "de_DE.UTF-8", "fr_FR.UTF-8", "de_AT.UTF-8", "nl_NL.UTF-8", "es_ES.UTF-8", "it_IT.UTF-8"
  };
  g_autofree char *made = g_build_filename (folder, "de_DE.UTF-8", NULL);
  const char *const make[] = { "localedef", "-i", "de_DE", "-f", "UTF-8", made, NULL };
  int status = -1;

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (setlocale (LC_NUMERIC, names[i]))
      return TRUE;
#ifdef __SANITIZE_ADDRESS__
  return FALSE; /* the C library itself loses the path of made locales */
#endif
  g_setenv ("LOCPATH", folder, TRUE);
  return g_spawn_sync (NULL, (char **) make, NULL,
                       G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL | G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL, NULL,
                       NULL, &status, NULL)
         && setlocale (LC_NUMERIC, "de_DE.UTF-8");
}

static void
remove_tree (const char *path)
{
  g_autoptr (GDir) dir = g_dir_open (path, 0, NULL);
  const char *name;

  while (dir && (name = g_dir_read_name (dir)) != NULL)
    {
      g_autofree char *below = g_build_filename (path, name, NULL);
      remove_tree (below);
    }
  g_remove (path);
}

/* A locale with a decimal comma must not reach the file. */
static void
test_decimal_comma (Desk *desk, gconstpointer data)
{
  g_autofree char *other = g_build_filename (desk->folder, "other.xlsx", NULL),
                  *before = g_strdup (setlocale (LC_NUMERIC, NULL));
  g_autofree char *locales = g_build_filename (desk->folder, "locales", NULL);
  g_autoptr (GBytes) first = NULL, second = NULL;

  (void) data;
  write_it (desk, desk->path);
  g_mkdir (locales, 0700);
  if (!set_decimal_comma (locales))
    {
      remove_tree (locales);
      g_test_skip ("no locale with a decimal comma is installed, and none can be made");
      return;
    }
  g_assert_cmpstr (localeconv ()->decimal_point, ==, ",");
  write_it (desk, other);
  g_assert_cmpstr (localeconv ()->decimal_point, ==, ","); /* left as it was */
  setlocale (LC_NUMERIC, before);
  remove_tree (locales);
  first = bytes_of (desk->path);
  second = bytes_of (other);
  g_assert_true (g_bytes_equal (first, second));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function) g_test_add ("/workbook/" name, Desk, NULL, set_up, function, tear_down)
  g_test_add_func ("/workbook/text is made clean", test_clean_text);
  g_test_add_func ("/workbook/names never look like cells", test_names);
  ADD ("whole, with the demo's price", test_whole);
  ADD ("the same job gives the same bytes", test_same_bytes);
  ADD ("words that start like a formula", test_text_stays_text);
  ADD ("bytes that are no text", test_bad_text);
  ADD ("cancelled at each call", test_cancel);
  ADD ("a folder that is not there", test_bad_place);
  ADD ("a disk that fills up", test_full_disk);
  ADD ("the check of the finished file", test_check_rows);
  ADD ("a run that is not priced", test_not_priced);
  ADD ("a note between the runs", test_note_line);
  ADD ("an empty job", test_empty_job);
  ADD ("a decimal comma", test_decimal_comma);
  return g_test_run ();
}

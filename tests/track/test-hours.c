/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time sheets: days, hours, the file reader, the weekly sheet, ticks. All data here is invented demo. */
#include "track/done.h"
#include "track/week.h"

#include <string.h>

static gint64
day_of (const char *text)
{
  gint64 day = 0;
  Fault *fault = NULL;

  g_assert_true (hours_day_parse (text, &day, &fault));
  return day;
}

/* ISO 8601. 2000-01-01 was a Saturday; GDate counts from 0001-01-01, a Monday (GLib manual). */
static void
test_days (void)
{
  static const char *const bad[] = { "", "2030", "2030-1-1", "2030-02-30", "30-01-2030", "2030/01/01", "1989-12-31", "2200-01-01",
                                     "2030-01-01x", "20300101" };
  g_autofree char *printed = hours_day_print (day_of (" 2030-01-31 "));
  g_autofree char *monday = hours_day_print (hours_monday (day_of ("2000-01-01")));
  g_autofree char *same = hours_day_print (hours_monday (day_of ("1999-12-27")));

  g_assert_cmpint (day_of ("2000-01-01"), ==, 730120);
  g_assert_cmpint (day_of ("2001-03-01") - day_of ("2000-03-01"), ==, 365);
  g_assert_cmpint (day_of ("2000-03-01") - day_of ("2000-02-28"), ==, 2);
  g_assert_cmpstr (printed, ==, "2030-01-31");
  g_assert_cmpstr (monday, ==, "1999-12-27");
  g_assert_cmpstr (same, ==, "1999-12-27");
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (Fault) fault = NULL;
      gint64 day;
      g_assert_false (hours_day_parse (bad[i], &day, &fault));
      g_assert_true (fault && *fault->what && *fault->remedy);
    }
}

static void
test_figures (void)
{
  static const struct
  {
    const char *text;
    gint64 mh;
    const char *printed;
  } good[] = { { "7.5", 7500, "7.5" },   { "7:30", 7500, "7.5" },  { "", 0, "" },  { "0", 0, "" },
               { ":20", 333, "0.333" },  { "10000", 10000000, "10000" }, { " 8 ", 8000, "8" } };
  static const char *const bad[] = { "-1", "-1:30", "8h", "7:60", "7:5", "10000.001", "7,5", "1:2:3", "99999999999999999:00" };
  gint64 mh;

  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_autofree char *printed = NULL;
      g_assert_true (hours_parse (good[i].text, &mh, NULL));
      g_assert_cmpint (mh, ==, good[i].mh);
      printed = hours_print (mh);
      g_assert_cmpstr (printed, ==, good[i].printed);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_test_message ("%s", bad[i]);
      g_assert_false (hours_parse (bad[i], &mh, &fault));
      g_assert_true (fault && *fault->remedy);
    }
}

static void
test_groups (void)
{
  LabourGroup group;

  for (int i = 0; i < LABOUR_N_GROUPS; i++)
    {
      g_assert_true (hours_group_parse (labour_group_keys[i], &group, NULL));
      g_assert_cmpint ((int) group, ==, i);
    }
  g_assert_true (hours_group_parse (" HANG ", &group, NULL));
  g_assert_cmpint (group, ==, LABOUR_HANG_AND_JOIN);
  g_assert_false (hours_group_parse ("", &group, NULL));
  g_assert_false (hours_group_parse ("paint", &group, NULL));
}

/* ---- the file reader ---- */

static gint64
find_area (gpointer data, const char *name)
{
  (void) data;
  return g_ascii_strcasecmp (name, "Level 1") == 0 ? 4 : g_ascii_strcasecmp (name, "Plant") == 0 ? 7 : 0;
}

static GPtrArray *
read_text (const char *text, const GPtrArray *before, GPtrArray *faults)
{
  g_autoptr (CsvTable) table = csv_parse (text, -1, "sheet.csv", faults);

  g_assert_nonnull (table);
  return hours_read_csv (table, find_area, NULL, 3, before, faults);
}

static GPtrArray *
faults_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
}

static void
test_csv (void)
{
  g_autoptr (GPtrArray) faults = faults_new ();
  g_autoptr (GPtrArray) entries = read_text ("Date,area,Group,hours,note,foreman\n"
                                             "2030-01-07,Level 1,hang and join,16,\"two, one day\",x\n"
                                             "2030-01-08,,deliver,7:30,,\n"
                                             "2030-02-30,,deliver,1,,\n"
                                             "2030-01-08,Cellar,deliver,1,,\n"
                                             "2030-01-08,,paint,1,,\n"
                                             "2030-01-08,,deliver,much,,\n"
                                             "2030-01-08,,deliver,,,\n"
                                             "2030-01-09,plant,fab,4,,\n",
                                             NULL, faults);
  static const struct
  {
    int line, column;
  } expected[] = { { 1, 6 }, { 4, 1 }, { 5, 2 }, { 6, 3 }, { 7, 4 }, { 8, 4 } };
  const HoursEntry *first, *last;

  g_assert_cmpuint (entries->len, ==, 3);
  first = g_ptr_array_index (entries, 0);
  last = g_ptr_array_index (entries, 2);
  g_assert_cmpint (first->day, ==, day_of ("2030-01-07"));
  g_assert_cmpint (first->area, ==, 4);
  g_assert_cmpint (first->group, ==, LABOUR_HANG_AND_JOIN);
  g_assert_cmpint (first->worker_mh, ==, 16000);
  g_assert_cmpstr (first->note, ==, "two, one day");
  g_assert_cmpint (first->batch, ==, 3);
  g_assert_cmpint (((HoursEntry *) g_ptr_array_index (entries, 1))->area, ==, 0);
  g_assert_cmpint (((HoursEntry *) g_ptr_array_index (entries, 1))->worker_mh, ==, 7500);
  g_assert_cmpint (last->area, ==, 7);
  g_assert_cmpint (last->group, ==, LABOUR_FABRICATE);

  g_assert_cmpuint (faults->len, ==, G_N_ELEMENTS (expected));
  for (guint i = 0; i < faults->len; i++)
    {
      const CsvFault *fault = g_ptr_array_index (faults, i);
      g_assert_cmpint (fault->line, ==, expected[i].line);
      g_assert_cmpint (fault->column, ==, expected[i].column);
      g_assert_true (*fault->remedy != '\0');
    }
}

static void
test_csv_headings (void)
{
  g_autoptr (GPtrArray) faults = faults_new ();

  g_assert_null (read_text ("date,hours\n2030-01-07,4\n", NULL, faults));
  g_assert_cmpuint (faults->len, ==, 1);
  g_assert_nonnull (strstr (((CsvFault *) g_ptr_array_index (faults, 0))->what, "group"));
  /* Area and note may be left out; semicolons and other words are understood. */
  g_autoptr (GPtrArray) entries = read_text ("day;step group;worker-hours\n2030-01-07;seal;4\n", NULL, faults);
  g_assert_cmpuint (entries->len, ==, 1);
  g_assert_cmpuint (faults->len, ==, 1);
}

/* Three areas of five groups would be fifteen codes; the thirteenth is refused, whether the twelve come from the file or not. */
static void
test_csv_codes (void)
{
  g_autoptr (GPtrArray) faults = faults_new (), before = hours_list_new (), entries = NULL;

  for (int i = 0; i < HOURS_MOST_CODES - 1; i++)
    g_ptr_array_add (before, hours_entry_new (740000, i / LABOUR_N_GROUPS, (LabourGroup) (i % LABOUR_N_GROUPS), 1000, NULL));
  entries = read_text ("date,area,group,hours\n2030-01-07,Plant,general,4\n2030-01-07,Plant,deliver,4\n2030-01-08,Plant,general,1\n"
                       "2030-01-08,,general,1\n", before, faults);
  g_assert_cmpuint (entries->len, ==, 3);
  g_assert_cmpuint (faults->len, ==, 1);
  g_assert_cmpint (((CsvFault *) g_ptr_array_index (faults, 0))->line, ==, 3);
}

/* ---- the weekly sheet ---- */

static HoursEntry *
add (GPtrArray *entries, gint64 id, gint64 day, gint64 area, LabourGroup group, gint64 mh, const char *note)
{
  HoursEntry *entry = hours_entry_new (day, area, group, mh, note);

  entry->id = id;
  g_ptr_array_add (entries, entry);
  return entry;
}

static void
test_week_set (void)
{
  g_autoptr (GPtrArray) entries = hours_list_new (), after = NULL, back = NULL;
  g_autoptr (HoursEdit) edit = NULL, inverse = NULL;
  const WeekCell cells[] = { { 4, LABOUR_DELIVER, 1001, 9000 },      /* two entries become one */
                             { 4, LABOUR_DELIVER, 1002, 2000 },      /* right already */
                             { 4, LABOUR_DELIVER, 1003, 0 },         /* cleared */
                             { 4, LABOUR_GENERAL, 1001, 500 },       /* new */
                             { 0, LABOUR_DELIVER, 1001, 0 } };       /* nothing there */

  add (entries, 1, 1001, 4, LABOUR_DELIVER, 5000, "lorry");
  add (entries, 2, 1001, 4, LABOUR_DELIVER, 3000, "hoist");
  add (entries, 3, 1002, 4, LABOUR_DELIVER, 2000, "");
  add (entries, 4, 1003, 4, LABOUR_DELIVER, 1000, "");
  edit = week_set (entries, cells, G_N_ELEMENTS (cells), "hours");
  g_assert_cmpuint (edit->deltas->len, ==, 4);
  after = hours_edit_preview (edit, entries);
  g_assert_cmpuint (after->len, ==, 3);
  g_assert_cmpint (hours_sum (after, 4, LABOUR_DELIVER, 1001, 1001), ==, 9000);
  g_assert_cmpstr (((HoursEntry *) g_ptr_array_index (after, 0))->note, ==, "lorry; hoist");
  g_assert_cmpint (hours_sum (after, 4, LABOUR_DELIVER, 1002, 1003), ==, 2000);
  g_assert_cmpint (hours_sum (after, -1, -1, 1001, 1003), ==, 11500);

  g_array_index (edit->deltas, HoursDelta, 3).after->id = 9; /* as the office file gives it */
  ((HoursEntry *) g_ptr_array_index (after, 2))->id = 9;
  inverse = hours_edit_inverse (edit);
  back = hours_edit_preview (inverse, after);
  g_assert_cmpuint (back->len, ==, 4);
  for (guint i = 0; i < entries->len; i++)
    {
      const HoursEntry *wanted = g_ptr_array_index (entries, i);
      gboolean found = FALSE;
      for (guint k = 0; k < back->len; k++)
        found = found || hours_entry_equal (wanted, g_ptr_array_index (back, k));
      g_assert_true (found);
    }
}

static void
test_week_move (void)
{
  const HoursCode from = { 4, LABOUR_DELIVER }, to = { 0, LABOUR_GENERAL };
  g_autoptr (GPtrArray) entries = hours_list_new (), after = NULL;
  g_autoptr (HoursEdit) edit = NULL;

  add (entries, 1, 1001, 4, LABOUR_DELIVER, 5000, "");
  add (entries, 2, 1007, 4, LABOUR_DELIVER, 3000, "");
  add (entries, 3, 1008, 4, LABOUR_DELIVER, 2000, "");
  edit = week_move (entries, &from, &to, 1001, "other code");
  after = hours_edit_preview (edit, entries);
  g_assert_cmpint (hours_sum (after, 0, LABOUR_GENERAL, 1001, 1007), ==, 8000);
  g_assert_cmpint (hours_sum (after, 4, LABOUR_DELIVER, 1001, 1008), ==, 2000);
}

static void
test_week_codes (void)
{
  g_autoptr (GPtrArray) entries = hours_list_new ();
  g_autoptr (HoursEdit) edit = NULL, same = NULL;
  g_autoptr (GArray) codes = NULL;
  g_autoptr (Fault) fault = NULL;
  const WeekCell more = { 9, LABOUR_GENERAL, 1001, 1000 }, known = { 0, LABOUR_GENERAL, 1001, 1000 };

  for (int i = 0; i < HOURS_MOST_CODES; i++)
    add (entries, i + 1, 1001, 3 - i / LABOUR_N_GROUPS - 1, (LabourGroup) (LABOUR_N_GROUPS - 1 - i % LABOUR_N_GROUPS), 1000, "");
  codes = hours_codes (entries);
  g_assert_cmpuint (codes->len, ==, HOURS_MOST_CODES);
  g_assert_cmpint (g_array_index (codes, HoursCode, 0).area, ==, 0);
  g_assert_cmpint (g_array_index (codes, HoursCode, HOURS_MOST_CODES - 1).area, ==, 2);
  edit = week_set (entries, &more, 1, "x");
  g_assert_false (week_check (edit, entries, &fault));
  g_assert_true (*fault->remedy != '\0');
  same = week_set (entries, &known, 1, "x");
  g_assert_true (week_check (same, entries, NULL));
}

/* ---- ticks ---- */

static void
test_done_text (void)
{
  static const struct
  {
    const char *text;
    gint64 ppm;
    const char *printed;
  } good[] = { { "x", 1000000, "\xE2\x9C\x93" }, { "YES", 1000000, "\xE2\x9C\x93" }, { "100 %", 1000000, "\xE2\x9C\x93" },
               { "\xE2\x9C\x93", 1000000, "\xE2\x9C\x93" }, { "", 0, "" }, { "no", 0, "" }, { "0", 0, "" },
               { "50", 500000, "50 %" }, { "62.5 %", 625000, "62.5 %" } };
  static const char *const bad[] = { "half", "101", "-1", "%", "50 % %" };
  gint64 ppm;

  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_autofree char *printed = NULL;
      g_assert_true (done_parse (good[i].text, &ppm, NULL));
      g_assert_cmpint (ppm, ==, good[i].ppm);
      printed = done_print (ppm);
      g_assert_cmpstr (printed, ==, good[i].printed);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_assert_false (done_parse (bad[i], &ppm, &fault));
      g_assert_true (*fault->remedy != '\0');
    }
}

static void
test_done_effective (void)
{
  static const gint64 ticked[][DONE_N_STAGES] = { { 0, 0, 0, 1000000 }, { 1000000, 0, 500000, 0 }, { 100000, 0, 0, 0 } };
  static const gint64 wanted[][DONE_N_STAGES] = { { 1000000, 1000000, 1000000, 1000000 }, { 1000000, 500000, 500000, 0 },
                                                  { 100000, 0, 0, 0 } };
  gint64 ppm[DONE_N_STAGES];

  for (gsize i = 0; i < G_N_ELEMENTS (ticked); i++)
    {
      done_effective (ticked[i], ppm);
      for (int k = 0; k < DONE_N_STAGES; k++)
        g_assert_cmpint (ppm[k], ==, wanted[i][k]);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, run) g_test_add_func ("/track/hours/" name, run)
  ADD ("days", test_days);
  ADD ("figures", test_figures);
  ADD ("groups", test_groups);
  ADD ("csv", test_csv);
  ADD ("csv-headings", test_csv_headings);
  ADD ("csv-codes", test_csv_codes);
  ADD ("week-set", test_week_set);
  ADD ("week-move", test_week_move);
  ADD ("week-codes", test_week_codes);
  ADD ("done-text", test_done_text);
  ADD ("done-effective", test_done_effective);
#undef ADD
  return g_test_run ();
}

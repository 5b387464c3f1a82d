/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Time studies: the printed examples, pairs, outliers, what a step gets, and bad input. */
#include "fixture.h"

#include "labour/fit.h"
#include "labour/study.h"

#define READING_HEAD                                                                                                   \
  "study,date,observer,crew_size,size,timed,method,count,clock_min,rating_pct,struck,note,source,status\n"
#define STUDY_HEAD "study,step,unit,allowance_pct,allowance_basis,confidence_pct,accuracy_pct,note,source,status\n"

static CsvTable *
csv (const char *text, const char *name)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  CsvTable *table = csv_parse (text, -1, name, faults);

  g_assert_cmpuint (faults->len, ==, 0);
  return table;
}

static LabourStudy *
study_of (const char *text)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  g_autoptr (CsvTable) table = csv (text, "readings.csv");
  LabourStudy *study = labour_study_from_csv (table, faults);

  g_assert_cmpuint (faults->len, ==, 0);
  g_assert_nonnull (study);
  return study;
}

/* The file is refused, with these words and a remedy at this line and column. */
static void
assert_refused (const char *text, const char *words, int line, int column)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  g_autoptr (CsvTable) table = csv (text, "readings.csv");

  g_assert_null (labour_study_from_csv (table, faults));
  g_assert_cmpuint (faults->len, >, 0);
  const CsvFault *fault = g_ptr_array_index (faults, 0);
  g_assert_nonnull (strstr (fault->what, words));
  g_assert_cmpstr (fault->remedy, !=, "");
  g_assert_cmpint (fault->line, ==, line);
  g_assert_cmpint (fault->column, ==, column);
}

static const LabourElement *
element (const LabourResult *result, guint i)
{
  g_assert_cmpuint (i, <, result->elements->len);
  return &g_array_index (result->elements, LabourElement, i);
}

static const LabourTotal *
total (const LabourResult *result, guint i)
{
  g_assert_cmpuint (i, <, result->totals->len);
  return &g_array_index (result->totals, LabourTotal, i);
}

/* Three elements, published: 15.360000 normal, 18.07 standard at 15 % of the day (attributed to Heizer and Render); 17.664000 on
 * normal time is computed. */
static void
test_elements (void)
{
  g_autoptr (LabourStudy) study = study_of ("element,average_min,rating\nA,9.5,1.20\nB,2.2,1.05\nC,1.5,1.10\n");
  const double normal[] = { 11.4, 2.31, 1.65 };

  study->allowance = 0.15;
  g_autoptr (LabourResult) day = labour_study_result (study);
  for (guint i = 0; i < 3; i++)
    assert_near (element (day, i)->normal, normal[i], 1e-12);
  assert_near (total (day, 0)->normal, 15.36, 1e-12);
  assert_near (total (day, 0)->standard, 18.070588, 5e-7);
  g_assert_true (isnan (total (day, 0)->error) && isnan (element (day, 0)->s));
  study->basis = LABOUR_NORMAL;
  g_autoptr (LabourResult) share = labour_study_result (study);
  assert_near (total (share, 0)->standard, 17.664, 1e-12);
}

/* Readings of element A, published: 8, 10, 9, 21 (struck), 11 give 9.5. */
static void
test_struck (void)
{
  g_autoptr (LabourStudy) study =
      study_of ("timed,clock_min,rating_pct,struck\nA,8,120,\nA,10,120,\nA,9,120,\nA,21,120,unusual\nA,11,120,\n");
  g_autoptr (LabourResult) result = labour_study_result (study);
  const LabourElement *e = element (result, 0);

  g_assert_cmpuint (e->n, ==, 4);
  g_assert_cmpuint (e->struck, ==, 1);
  assert_near (e->mean, 9.5, 1e-12);
  assert_near (e->normal, 11.4, 1e-12);
}

/* 18.75 min at 0.96, computed: 18 normal, 21.176471 and 20.7 standard at 15 %. */
static void
test_basis (void)
{
  assert_near (labour_standard_time (18.75 * 0.96, 0.15, LABOUR_DAY), 21.176471, 5e-7);
  assert_near (labour_standard_time (18.75 * 0.96, 0.15, LABOUR_NORMAL), 20.7, 1e-12);
  assert_near (labour_standard_time (18, 0, LABOUR_DAY), 18, 1e-12);
  assert_near (labour_standard_time (18, 0, LABOUR_NORMAL), 18, 1e-12);
}

/* ILO form: the readings and the rounded answers are published (9; 4 at 10 %), the digits computed. t form computed. */
static void
test_needed (void)
{
  const double a[] = { 7, 6, 7, 7, 6 }, b[] = { 8, 7, 8, 9, 7 };
  g_autoptr (LabourStudy) study = study_of ("clock_min\n7\n6\n7\n7\n6\n");
  g_autoptr (LabourResult) result = labour_study_result (study);
  const LabourElement *e = element (result, 0);

  assert_near (labour_need_ilo (a, 5, 0.05), 8.815427, 5e-7);
  assert_near (labour_need_ilo (b, 5, 0.10), 3.681788, 5e-7);
  assert_near (labour_need_ilo (b, 5, 0.05), 14.727153, 5e-7);
  assert_near (labour_need_t (a, 5, 0.05, 0.95), 21.235943, 5e-7);
  assert_near (labour_t (0.975, 4), 2.776445105197794, 1e-12);
  g_assert_cmpuint (e->more_ilo, ==, 9 - 5);
  g_assert_cmpuint (e->more_t, ==, 22 - 5);
  assert_near (e->mean, 6.6, 1e-12);
  assert_near (e->s, 0.547722558, 5e-10);
  assert_near (e->low, 5.919913, 5e-7);
  assert_near (e->high, 7.280087, 5e-7);
}

/* Fewer than three readings: no deviation, no interval, and words that say so. */
static void
test_few (void)
{
  g_autoptr (LabourStudy) study = study_of ("clock_min\n7\n6\n");
  g_autoptr (LabourResult) result = labour_study_result (study);
  g_autofree char *words = labour_study_sentence (study, NULL, NULL);
  const LabourElement *e = element (result, 0);

  assert_near (e->mean, 6.5, 1e-12);
  g_assert_true (isnan (e->s) && isnan (e->low) && isnan (e->high) && isnan (e->need_ilo) && isnan (e->need_t));
  g_assert_cmpuint (e->more_t + e->more_ilo, ==, 0);
  g_assert_nonnull (strstr (words, "fewer than three readings"));
}

/* Worker-minutes of one: two heads, 9 minutes, 3 joints are 6. Rating: the mean of each reading at its own pace. Computed. */
static void
test_worker_minutes (void)
{
  g_autoptr (LabourStudy) study = study_of ("crew_size,count,clock_min,rating_pct\n2,3,9,100\n2,1,4,110\n1,2,14,90\n");
  g_autoptr (LabourResult) result = labour_study_result (study);
  const LabourElement *e = element (result, 0);

  assert_near (((LabourReading *) g_ptr_array_index (study->readings, 0))->minutes, 6, 1e-12);
  assert_near (e->mean, 7, 1e-12);
  assert_near (e->normal, (6 + 8 * 1.1 + 7 * 0.9) / 3, 1e-12);
  assert_near (e->rating * e->mean, e->normal, 1e-12);
}

/* Iglewicz and Hoaglin's rule (from memory): 21 among 8 to 11 is flagged and stays in the mean. Computed: median 10, MAD 1,
 * bound 5.1891. */
static void
test_outliers (void)
{
  const double x[] = { 8, 10, 9, 21, 11 }, edge[] = { 8, 10, 9, 15.18, 11 };
  gboolean flag[5];
  g_autoptr (LabourStudy) study = study_of ("clock_min\n8\n10\n9\n21\n11\n");
  g_autoptr (LabourResult) result = labour_study_result (study);

  labour_flag_outliers (x, 5, flag);
  g_assert_true (flag[3] && !flag[0] && !flag[1] && !flag[2] && !flag[4]);
  labour_flag_outliers (edge, 5, flag);
  g_assert_false (flag[3]);
  g_assert_true (result->outlier[3]);
  g_assert_cmpuint (element (result, 0)->outliers, ==, 1);
  assert_near (element (result, 0)->mean, 59. / 5, 1e-12);
}

/* ---- pairs ---- */

/* Differences 6.0 7.5 5.2 8.1 6.9 4.4 7.7 6.3 6.4 in three sizes, dates out of order. */
static const char paired[] = "date,crew_size,size,method,clock_min\n"
                             "2026-01-02,2,24x12,A,10\n2026-01-01,2,24x12,A,9.5\n2026-01-03,2,24x12,A,9\n"
                             "2026-01-01,2,24x12,B,6.5\n2026-01-02,2,24x12,B,6.25\n2026-01-03,2,24x12,B,6.4\n"
                             "2026-01-01,2,30x14,A,11\n2026-01-02,2,30x14,A,11\n2026-01-03,2,30x14,A,11\n"
                             "2026-01-01,2,30x14,B,6.95\n2026-01-02,2,30x14,B,7.55\n2026-01-03,2,30x14,B,8.8\n"
                             "2026-01-01,2,36x16,A,12\n2026-01-02,2,36x16,A,12\n2026-01-03,2,36x16,A,12\n"
                             "2026-01-01,2,36x16,B,8.15\n2026-01-02,2,36x16,B,8.85\n2026-01-03,2,36x16,B,8.8\n"
                             "2026-01-04,3,36x16,A,12\n"  /* no partner: another crew */
                             "2026-01-04,2,48x20,B,12\n"; /* no partner: another size */

/* Mean, deviation, interval and pairs needed computed with 25 digits. */
static void
test_pairs (void)
{
  const double wanted[] = { 6.0, 7.5, 5.2, 8.1, 6.9, 4.4, 7.7, 6.3, 6.4 };
  g_autoptr (LabourStudy) study = study_of (paired);

  study->half_width = 0.5;
  g_autoptr (LabourPairs) p = labour_study_pairs (study, "A", "B");
  g_autoptr (LabourPairs) turned = labour_study_pairs (study, "B", "A");
  g_assert_cmpuint (p->pairs->len, ==, 9);
  g_assert_cmpuint (p->unpaired, ==, 2);
  for (guint i = 0; i < 9; i++)
    {
      gboolean found = FALSE;
      for (guint k = 0; k < 9; k++)
        found = found || fabs (g_array_index (p->pairs, LabourPair, k).difference - wanted[i]) < 1e-9;
      g_assert_true (found);
    }
  assert_near (p->mean, 6.5, 1e-12);
  assert_near (p->s, 1.2020815280171308, 1e-12);
  assert_near (p->low, 5.5759983418466510, 1e-10);
  assert_near (p->high, 7.4240016581533490, 1e-10);
  assert_near (p->need, 25, 1e-12);
  g_assert_cmpuint (p->more, ==, 16);
  /* swapped: every sign, nothing else */
  assert_near (turned->mean, -p->mean, 1e-12);
  assert_near (turned->low, -p->high, 1e-12);
  assert_near (turned->need, p->need, 1e-12);
  study->half_width = 1;
  g_autoptr (LabourPairs) enough = labour_study_pairs (study, "A", "B");
  assert_near (enough->need, 9, 1e-12);
  g_assert_cmpuint (enough->more, ==, 0);
  study->half_width = 0.25;
  g_autoptr (LabourPairs) fine = labour_study_pairs (study, "A", "B");
  assert_near (fine->need, 92, 1e-12);
}

/* Rating and allowance reach both alike: half a day of allowance doubles every difference. */
static void
test_pairs_standard (void)
{
  g_autoptr (LabourStudy) study = study_of (paired);

  study->allowance = 0.5;
  study->half_width = 1;
  g_autoptr (LabourPairs) p = labour_study_pairs (study, "A", "B");
  assert_near (p->mean, 13, 1e-12);
  assert_near (p->need, 25, 1e-12);
}

static void
test_sentence (void)
{
  g_autoptr (LabourStudy) study = study_of (paired);
  g_autoptr (LabourStudy) same = study_of ("size,method,clock_min\na,A,5\na,B,5\nb,A,6\nb,B,6\nc,A,7\nc,B,7\n");

  study->half_width = 0.5;
  g_autofree char *words = labour_study_sentence (study, "bolts", "fasteners");
  g_assert_cmpstr (
      words, ==,
      "fasteners: saves 6.5 worker-minutes a joint (5.6 to 7.4) against bolts, 9 pairs; 16 more pairs would "
      "bring it within 0.5 min.");
  g_autofree char *equal = labour_study_sentence (same, NULL, NULL);
  g_assert_nonnull (strstr (equal, "No clear difference"));
}

/* ---- struck and flagged ---- */

/* Readings to the whole minute: MAD is 0, and 3.5 x 1.253314 x the mean absolute deviation decides (from memory). 7 6 7 7 6: 3.5 x
 * 1.253314 x 0.4 = 1.75 flags none; with a 20 in their place 3.5 x 1.253314 x 2.6 = 11.4 flags it alone. */
static void
test_flags_without_mad (void)
{
  const double even[] = { 7, 6, 7, 7, 6 }, far[] = { 7, 7, 7, 7, 20 }, same[] = { 7, 7, 7 };
  gboolean flag[5];

  labour_flag_outliers (even, 5, flag);
  for (int i = 0; i < 5; i++)
    g_assert_false (flag[i]);
  labour_flag_outliers (far, 5, flag);
  for (int i = 0; i < 5; i++)
    g_assert_true (flag[i] == (i == 4));
  labour_flag_outliers (same, 3, flag);
  g_assert_false (flag[0] || flag[1] || flag[2]);
}

/* "no", "0" and nothing keep a reading; a reason strikes it. */
static void
test_struck_words (void)
{
  g_autoptr (LabourStudy) study = study_of ("size,method,clock_min,struck\na,A,5,no\na,A,6,0\na,A,7,\na,A,8,No\na,A,50,interrupted\n");
  g_autoptr (LabourResult) result = labour_study_result (study);

  g_assert_cmpuint (element (result, 0)->n, ==, 4);
  g_assert_cmpuint (element (result, 0)->struck, ==, 1);
  assert_near (element (result, 0)->mean, 6.5, 1e-12);
}

/* ---- accepting ---- */

/* 7, 6, 7, 7, 6 with 15 % of the day and 15 % from job to job; computed with 25 digits. */
static void
test_accept (void)
{
  g_autoptr (LabourStudy) study = study_of ("clock_min\n7\n6\n7\n7\n6\n");
  g_autoptr (LabourStudy) few = study_of ("clock_min\n7\n6\n");
  g_autoptr (Fault) fault = NULL;
  LabourAccepted a;

  study->allowance = 0.15;
  g_assert_true (labour_study_accept (study, "", NULL, &a, &fault));
  assert_near (a.likely, 7.764705882352941, 1e-12);
  assert_near (a.error, 0.288175263856844, 1e-12);
  assert_near (a.scatter, 0.644379479417842, 1e-12);
  assert_near (a.low, 6.208055031105910, 1e-10);
  assert_near (a.high, 9.321356733599972, 1e-10);
  /* two readings: the spread between jobs alone */
  g_assert_true (labour_study_accept (few, "", LABOUR_WHOLE, &a, &fault));
  g_assert_true (isnan (a.error) && isnan (a.scatter));
  assert_near (a.high - a.likely, 1.2815515655446004 * 0.15 * 6.5, 1e-12);
  g_assert_false (labour_study_accept (few, "nobody's", NULL, &a, &fault));
  g_assert_nonnull (strstr (fault->what, "nobody's"));
}

static const char *
cell (const CsvTable *table, guint row, const char *heading)
{
  return csv_cell (table, row, csv_column (table, heading));
}

static void
test_put (void)
{
  g_autoptr (CsvTable) steps = catalogue_data ("steps", NULL);
  g_autoptr (LabourStudy) study = study_of ("clock_min\n7\n6\n7\n7\n6\n");
  LabourAccepted a;
  Fault *fault = NULL;
  guint row = 0;

  g_assert_true (labour_study_accept (study, "", NULL, &a, NULL));
  while (strcmp (cell (steps, row, "step"), "drive fastener") != 0)
    row++;
  g_assert_true (labour_study_put (study, &a, "2026-03-20", "drive fastener", steps, &fault));
  g_assert_cmpstr (cell (steps, row, "fixed_likely_min"), ==, "6.60");
  g_assert_cmpstr (cell (steps, row, "source"), ==, "time study readings.csv, 2026-03-20");
  g_assert_cmpstr (cell (steps, row, "status"), ==, "shop's own");
  g_assert_cmpfloat (g_ascii_strtod (cell (steps, row, "fixed_low_min"), NULL), <, 6.6);
  g_assert_cmpfloat (g_ascii_strtod (cell (steps, row, "fixed_high_min"), NULL), >, 6.6);
  /* what would be counted twice, bands, and no such step are refused */
  static const struct
  {
    const char *step, *words;
  } refused[] = { { "align and clamp", "a foot" }, { "raise and hold", "bands" }, { "no step", "no step" } };
  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      g_assert_false (labour_study_put (study, &a, "", refused[i].step, steps, &fault));
      g_assert_nonnull (strstr (fault->what, refused[i].words));
      g_assert_cmpstr (fault->remedy, !=, "");
      g_clear_pointer (&fault, fault_free);
    }
  /* the sheet is still one that a catalogue takes */
  CsvTable *table[CATALOGUE_N_SHEETS];
  fixture_tables (table);
  csv_table_free (table[CATALOGUE_STEPS]);
  table[CATALOGUE_STEPS] = g_steal_pointer (&steps);
  g_autoptr (Catalogue) catalogue = fixture_catalogue (table);
  const LabourStep *step = catalogue_step (catalogue, labour_find_step (catalogue->labour, "drive fastener"));
  g_assert_cmpint (g_array_index (step->bands, LabourBand, 0).fixed[LABOUR_LIKELY], ==, G_GINT64_CONSTANT (6600000000));
}

/* ---- sheets ---- */

/* The demo's study, invented demo: near the demo's 19.9 and 13.4 worker-minutes a joint; one reading struck, one flagged. */
static void
test_demo (void)
{
  g_autoptr (Catalogue) starter = catalogue_starter ();
  const LabourStudy *whole = g_ptr_array_index (starter->labour->studies, 0);
  const LabourStudy *parts = g_ptr_array_index (starter->labour->studies, 1);
  g_autoptr (LabourPairs) p = labour_study_pairs (whole, "slip-on-bolted", "slip-on-driven");
  g_autoptr (LabourResult) result = labour_study_result (whole), flagged = labour_study_result (parts);

  g_assert_cmpuint (p->pairs->len, ==, 9);
  assert_near (p->mean, 6.5, 0.1);
  assert_near (total (result, 0)->standard, 20.5, 1);
  assert_near (total (result, 1)->standard, 14, 1);
  g_assert_cmpuint (element (result, 0)->struck, ==, 1);
  g_assert_cmpuint (element (flagged, 0)->outliers, ==, 1);
  g_assert_cmpint (labour_find_study (starter->labour, parts->key), ==, 1);
  g_autofree char *source = g_strdup_printf ("time study %s, 2026-03-20", parts->key);
  g_assert_true (labour_study_of_source (starter->labour, source) == parts);
  /* what rests on invented readings says so wherever it goes */
  g_autoptr (CsvTable) steps = catalogue_data ("steps", NULL);
  LabourAccepted a;
  guint row = 0;
  g_assert_true (labour_study_accept (parts, "slip-on-driven", NULL, &a, NULL));
  g_assert_true (labour_study_put (parts, &a, "2026-03-24", "drive fastener", steps, NULL));
  while (strcmp (cell (steps, row, "step"), "drive fastener") != 0)
    row++;
  g_assert_cmpstr (cell (steps, row, "status"), ==, "invented demo");
  g_assert_null (labour_study_of_source (starter->labour, "time study of somebody else, 2026-03-20"));
}

static void
test_faults (void)
{
  static const struct
  {
    const char *study, *reading, *words;
  } rows[] = {
    { "s,,joint,15,day,95,5,,,\ns,,joint,15,day,95,5,,,", "", "stands twice" },
    { ",,joint,15,day,95,5,,,", "", "no name" },
    { "s,,joint,95,day,95,5,,,", "", "out of bounds" },
    { "s,,joint,15,week,95,5,,,", "", "" },
    { "s,,joint,15,day,100,5,,,", "", "out of bounds" },
    { "s,,joint,15,day,95,5,,,", "t,2026-01-01,,1,,,,1,5,,,,,", "no such study" },
    { "s,,joint,15,day,95,5,,,", "s,2026-02-30,,1,,,,1,5,,,,,", "not a date" },
    { "s,,joint,15,day,95,5,,,", "s,,,1,,,,1,,,,,,", "minutes are missing" },
    { "s,,joint,15,day,95,5,,,", "s,,,0,,,,1,5,,,,,", "out of bounds" },
    { "s,,joint,15,day,95,5,,,", "s,,,,,,,1,5,,,,,", "figure is missing" },
    { "s,,joint,15,day,95,5,,,", "s,,,1,,,,1,5,0,,,,", "out of bounds" },    /* a rating of 0 */
    { "s,,joint,15,day,95,5,,,", "s,,,1,,,,1,5,1001,,,,", "out of bounds" }, /* above 10 */
    { "s,,joint,15,day,95,5,,,", "s,,,1,,,,1,-5,,,,,", "out of bounds" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GPtrArray) faults = fixture_faults ();
      g_autofree char *a = g_strdup_printf (STUDY_HEAD "%s\n", rows[i].study),
                      *b = g_strdup_printf (READING_HEAD "%s\n", rows[i].reading);
      g_autoptr (CsvTable) studies = csv (a, "studies.csv"), readings = csv (b, "observations.csv");
      g_autoptr (GPtrArray) out = labour_studies_new (studies, readings, faults);
      g_test_message ("row %zu", i);
      g_assert_cmpuint (faults->len, ==, 1);
      g_assert_nonnull (strstr (((CsvFault *) g_ptr_array_index (faults, 0))->what, rows[i].words));
      g_assert_cmpuint (out->len, <=, 1);
    }
  assert_refused ("clock_min\n", "no reading", 1, 1);
  assert_refused ("timed,clock_min\nA,5\nA,five\n", "", 3, 2);
  assert_refused ("timed,rating_pct\nA,100\n", "missing", 1, 0);
  assert_refused ("element,average_min,rating\nA,,1\n", "missing", 2, 2);
}

/* An empty study answers in words, and nothing crashes. */
static void
test_empty (void)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  g_autoptr (CsvTable) studies = csv (STUDY_HEAD "s,,joint,15,day,95,5,,,\n", "studies.csv"),
                       none = csv (READING_HEAD, "observations.csv");
  g_autoptr (CsvTable) struck = csv (READING_HEAD "s,,,1,,,,1,5,,no reason,,,\n", "observations.csv");
  g_autoptr (GPtrArray) empty = labour_studies_new (studies, none, faults),
                        all_struck = labour_studies_new (studies, struck, faults);
  g_autofree char *words = labour_study_sentence (g_ptr_array_index (empty, 0), NULL, NULL);
  g_autofree char *told = labour_study_sentence (g_ptr_array_index (all_struck, 0), NULL, NULL);
  LabourAccepted a;

  g_assert_cmpuint (faults->len, ==, 0);
  g_assert_nonnull (strstr (words, "No reading yet"));
  g_assert_nonnull (strstr (told, "Every reading is struck"));
  g_assert_false (labour_study_accept (g_ptr_array_index (all_struck, 0), "", NULL, &a, NULL));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/study/flags-without-mad", test_flags_without_mad);
  g_test_add_func ("/study/struck-words", test_struck_words);
  g_test_add_func ("/labour/study/elements", test_elements);
  g_test_add_func ("/labour/study/struck", test_struck);
  g_test_add_func ("/labour/study/basis", test_basis);
  g_test_add_func ("/labour/study/needed", test_needed);
  g_test_add_func ("/labour/study/few", test_few);
  g_test_add_func ("/labour/study/worker-minutes", test_worker_minutes);
  g_test_add_func ("/labour/study/outliers", test_outliers);
  g_test_add_func ("/labour/study/pairs", test_pairs);
  g_test_add_func ("/labour/study/pairs-standard", test_pairs_standard);
  g_test_add_func ("/labour/study/sentence", test_sentence);
  g_test_add_func ("/labour/study/accept", test_accept);
  g_test_add_func ("/labour/study/put", test_put);
  g_test_add_func ("/labour/study/demo", test_demo);
  g_test_add_func ("/labour/study/faults", test_faults);
  g_test_add_func ("/labour/study/empty", test_empty);
  return g_test_run ();
}

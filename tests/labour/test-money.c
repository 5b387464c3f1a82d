/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Wage, burden by component, overtime: premium on wage and loss of output. */
#include "fixture.h"

#include "base/money.h"
#include "labour/money.h"

#include <string.h>

#define CREW_HEAD "crew,place,class,heads,wage,fringe,burden_pct,flat_burden,overtime_factor,source,status\n"
#define CREW_HEAD_NEW                                                                                                           \
  "crew,place,class,heads,wage,fringe,burden_pct,flat_burden,overtime_factor,shift_premium_pct,travel_hour,source,status\n"
#define BURDEN_HEAD "crew,class,component,basis,rate_pct,amount,cap,hours_a_year,on_premium,source,status\n"
#define LOSS_HEAD "table,hours_a_week,week,loss_pct,basis,source,status\n"

static LabourTables *
tables_new (const char *crews, const char *burdens, const char *losses, GPtrArray *faults)
{
  g_autoptr (CsvTable) a = csv_parse (crews, -1, "crews.csv", faults);
  g_autoptr (CsvTable) b = csv_parse (burdens, -1, "burdens.csv", faults);
  g_autoptr (CsvTable) c = csv_parse (losses, -1, "overtime_loss.csv", faults);
  char *heads[4] = { catalogue_headings (CATALOGUE_STEPS), catalogue_headings (CATALOGUE_CONDITIONS),
                                catalogue_headings (CATALOGUE_STUDIES), catalogue_headings (CATALOGUE_OBSERVATIONS) };
  CsvTable *bare[4];
  for (int i = 0; i < 4; i++)
    bare[i] = csv_parse (heads[i], -1, "bare.csv", faults);
  LabourSheets sheets = { .crews = a, .steps = bare[0], .conditions = bare[1], .studies = bare[2], .observations = bare[3],
                          .burdens = b, .overtime_loss = c };
  LabourTables *tables = labour_tables_new (&sheets, faults);
  for (int i = 0; i < 4; i++)
    {
      csv_table_free (bare[i]);
      g_free (heads[i]);
    }
  return tables;
}

static LabourTables *
good (const char *crews, const char *burdens, const char *losses)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  LabourTables *tables = tables_new (crews, burdens, losses, faults);

  for (guint i = 0; i < faults->len; i++)
    {
      g_autofree char *words = csv_fault_words (g_ptr_array_index (faults, i));
      g_test_message ("%s", words);
    }
  g_assert_nonnull (tables);
  return tables;
}

static double
hour (const LabourTables *tables, guint member, gint64 paid)
{
  const LabourCrew *crew = g_ptr_array_index (tables->crews, 0);
  LabourHour h;

  labour_member_parts (&g_array_index (crew->members, LabourMember, member), paid, &h);
  return num_wide_to_double (h.pay + h.on_wage + h.capped + h.flat) / 1e10;
}

/* 4a and its table: paid hours over hours worked and the premium on both bases (labelled choice L6). 48 h: published (EI 01D010 Example
 * 5-1, source 7 of methods.md); the rest computed. */
static void
test_premium (void)
{
  static const struct
  {
    const char *week;
    double premium, paid, on_hours, on_pay;
  } rows[] = { { "5x9", 1.5, 47.5, 5.555556, 5.263158 },    { "6x8", 1.5, 52, 8.333333, 7.692308 },
               { "5x10", 1.5, 55, 10, 9.090909 },           { "6x10", 1.5, 70, 16.666667, 14.285714 },
               { "7x10", 1.5, 85, 21.428571, 17.647059 },   { "5x10", 2, 60, 20, 16.666667 },
               { "40", 1.5, 40, 0, 0 },                     { "48", 1.5, 52, 8.333333, 7.692308 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      Fault *fault = NULL;
      double hours = 0;
      g_assert_true (labour_week_parse (rows[i].week, &hours, &fault));
      gint64 paid = labour_paid (hours, rows[i].premium);
      assert_near ((double) paid / 1e12, rows[i].paid / hours, 5.1e-13);
      assert_near (100 * labour_premium_on_hours (paid), rows[i].on_hours, 5.1e-7);
      assert_near (100 * labour_premium_on_pay (paid), rows[i].on_pay, 5.1e-7);
    }
}

#define BURDENS_4B                                                                                                              \
  BURDEN_HEAD ",,payroll tax,wage,7.65,,,,yes,,\n,,workers' insurance,wage,3.20,,,,yes,,\n,,state fund,wage,0.60,,,,yes,,\n"    \
              ",,liability,wage,11.40,,,,yes,,\n,,small tools,flat,,1.85,,,,,\n"
#define CREWS_4B                                                                                                                \
  CREW_HEAD "gang,field,foreman,1,46.20,16.10,,,,,\ngang,field,journeyman,4,41.25,16.10,,,,,\n"                                 \
            "gang,field,apprentice,1,24.75,9.40,,,,,\n"

/* 4b, computed from illustrative wages: the burden by component, a 50-hour week. */
static void
test_components (void)
{
  LabourTables *tables = good (CREWS_4B, BURDENS_4B, LOSS_HEAD);
  const LabourCrew *gang = g_ptr_array_index (tables->crews, 0);
  gint64 paid = labour_paid (50, 1.5);

  assert_near (hour (tables, 0, paid), 80.382370, 1e-9);
  assert_near (hour (tables, 1, paid), 73.6931875, 1e-9);
  assert_near (hour (tables, 2, paid), 44.6959125, 1e-9);
  g_assert_cmpint (labour_crew_rate_for (gang, paid), ==, 699752); /* 69.975172 */
  g_autoptr (GPtrArray) worked = labour_crew_worked (gang, paid);
  g_assert_nonnull (strstr (worked->pdata[0], "46.20 x 1.10 paid hours an hour worked = 50.82; x 1.2285 "));
  g_assert_nonnull (strstr (worked->pdata[0], "= 80.38237 an hour worked"));
  g_assert_nonnull (strstr (worked->pdata[3], "crew of 6: 419.8510325 an hour; composite 69.975172 a worker-hour"));
  /* A 48-hour week, 52 / 48 paid: 6 heads at 46.20, 41.25 and 24.75 come to 235.95 x 13/12 x 1.2285 + 6 x 17.95 - 6.70 (computed
   * exactly): 415.0199..., a sixth of it 69.169993; the factor cut to six decimals gave 69.169977. */
  double exact = (235.95 * 13 / 12 * 1.2285 + 6 * 17.95 - 6.70) / 6;
  double found = (hour (tables, 0, labour_paid (48, 1.5)) + 4 * hour (tables, 1, labour_paid (48, 1.5))
                  + hour (tables, 2, labour_paid (48, 1.5))) / 6;
  assert_near (exact, 69.169993, 2e-6);
  assert_near (found, exact, 1e-9);
  g_autoptr (GPtrArray) at_48 = labour_crew_worked (gang, labour_paid (48, 1.5));
  g_assert_nonnull (strstr (at_48->pdata[3], "composite 69.169993 a worker-hour"));
  g_assert_nonnull (strstr (at_48->pdata[0], "x 1.083333 paid hours an hour worked"));
  /* Without overtime the wage alone is dearer by its burden: 46.20 x 1.2285 + 17.95. */
  assert_near (hour (tables, 0, 0), 46.20 * 1.2285 + 17.95, 1e-9);
  labour_tables_free (tables);
}

/* A component that does not reach the premium part: 50-hour week, 3.20 % on 46.20 instead of on 50.82. Computed. */
static void
test_on_premium (void)
{
  LabourTables *tables = good (CREWS_4B, BURDEN_HEAD "gang,foreman,workers' insurance,wage,3.20,,,,no,,\n", LOSS_HEAD);

  assert_near (hour (tables, 0, 11 * LABOUR_PAID_ONE / 10), 50.82 + 0.032 * 46.20 + 16.10, 1e-9);
  /* Only the class that is named. */
  assert_near (hour (tables, 1, 11 * LABOUR_PAID_ONE / 10), 45.375 + 16.10, 1e-9);
  labour_tables_free (tables);
}

/* 4c, computed: 3.2 % to 7,000 a year, wage 41.25, 1,800 h: 224.00 a year, 0.124444 an hour, 0.301684 % of the wage. */
static void
test_cap (void)
{
  LabourTables *tables = good (CREW_HEAD "gang,field,hand,1,41.25,,,,,,\n",
                               BURDEN_HEAD ",,unemployment,wage to a cap,3.2,,7000,1800,yes,,\n", LOSS_HEAD);
  double capped = hour (tables, 0, 0) - 41.25;

  assert_near (capped, 0.124444, 5e-7);
  assert_near (capped * 1800, 224, 1e-6);
  assert_near (100 * capped / 41.25, 0.301684, 5e-7);
  labour_tables_free (tables);
  /* A cap above what is earned in the year caps nothing: 3.2 % of 41.25. */
  tables = good (CREW_HEAD "gang,field,hand,1,41.25,,,,,,\n", BURDEN_HEAD ",,unemployment,wage to a cap,3.2,,74250,1800,yes,,\n",
                 LOSS_HEAD);
  assert_near (hour (tables, 0, 0) - 41.25, 0.032 * 41.25, 1e-9);
  labour_tables_free (tables);
}

/* Shift premium is on the wage and carries its burden; travel is money an hour. Computed. A sheet without these columns is the test
 * above. */
static void
test_shift_and_travel (void)
{
  LabourTables *tables = good (CREW_HEAD_NEW "night,field,hand,1,40,10,20,,,10,3.25,,\n", BURDEN_HEAD, LOSS_HEAD);

  assert_near (hour (tables, 0, 0), 40 * 1.1 * 1.2 + 10 + 3.25, 1e-9);
  assert_near (hour (tables, 0, 11 * LABOUR_PAID_ONE / 10), 40 * 1.1 * 1.1 * 1.2 + 10 + 3.25, 1e-9);
  labour_tables_free (tables);
}

/* The published table of losses by week (tests/data/overtime_loss_weeks.csv; source 8 of methods.md, its Table 9) in the program's own
 * form, as an office would enter it. */
static char *
published_losses (const char *basis)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "overtime_loss_weeks.csv", NULL);
  g_autoptr (CsvTable) table = csv_read_file (path, faults, &error);
  GString *out = g_string_new (LOSS_HEAD);

  g_assert_no_error (error);
  g_assert_cmpuint (table->row->len, ==, 16);
  for (guint i = 0; i < table->row->len; i++)
    for (int c = 1; c < 5; c++)
      {
        const char *heading = g_ptr_array_index (table->head, (guint) c);
        g_string_append_printf (out, "printed,%s,%s,%.4f,%s,,published\n", heading + 1, csv_cell (table, i, 0),
                                100 * g_ascii_strtod (csv_cell (table, i, c), NULL), basis);
      }
  return g_string_free (out, FALSE);
}

/* Section 5, computed: cost of an output hour of a 50-hour week at time and a half in weeks 1, 4 and 8 of the published table, time =
 * base / (1 - loss): 1.157895, 1.208791, 1.428571 of the straight-time hour. */
static void
test_output_hour (void)
{
  g_autofree char *rows = published_losses ("divide");
  LabourTables *tables = good (CREWS_4B, BURDEN_HEAD, rows);
  static const struct
  {
    int week;
    double loss, cost;
  } weeks[] = { { 1, 0.05, 1.157895 }, { 4, 0.09, 1.208791 }, { 8, 0.23, 1.428571 } };

  for (gsize i = 0; i < G_N_ELEMENTS (weeks); i++)
    {
      LabourLoss up, before;
      g_assert_true (labour_loss_average (tables, "printed", 50, weeks[i].week, LABOUR_LOSS_MULTIPLY, &up, NULL));
      g_assert_true (labour_loss_average (tables, "printed", 50, weeks[i].week - 1, LABOUR_LOSS_MULTIPLY, &before, NULL));
      /* The loss of one week is what it adds to the sum. */
      double loss = up.loss * weeks[i].week - before.loss * (weeks[i].week - 1);
      assert_near (loss, weeks[i].loss, 1e-9);
      g_assert_cmpint (up.basis, ==, LABOUR_LOSS_DIVIDE); /* the table says so */
      g_assert_true (up.basis_is_tables);
      assert_near ((double) labour_paid (50, 1.5) / 1e12 * labour_loss_factor (loss, up.basis), weeks[i].cost, 5e-7);
    }
  /* 16 weeks at 84 h: 7.70 in all; the mean is divided, not the factors averaged. Behind the table's end its last loss goes on. */
  LabourLoss l;
  g_assert_true (labour_loss_average (tables, "printed", 84, 16, LABOUR_LOSS_DIVIDE, &l, NULL));
  assert_near (l.loss, (0.25 + 0.30 + 0.35 + 0.40 + 0.45 + 0.50 + 0.53 + 0.56 + 0.57 + 0.58 + 0.59 + 0.60 + 0.61 + 0.62 + 0.63 + 0.64) / 16,
               1e-12);
  g_assert_true (labour_loss_average (tables, "printed", 84, 18, LABOUR_LOSS_DIVIDE, &l, NULL));
  g_assert_cmpint (l.weeks_known, ==, 16);
  labour_tables_free (tables);
}

/* Labelled choice L5, computed. */
static void
test_loss_basis (void)
{
  static const double rows[][3] = { { 0.05, 1.052632, 1.05 }, { 0.10, 1.111111, 1.10 }, { 0.15, 1.176471, 1.15 },
                                    { 0.25, 1.333333, 1.25 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      assert_near (labour_loss_factor (rows[i][0], LABOUR_LOSS_DIVIDE), rows[i][1], 5e-7);
      assert_near (labour_loss_factor (rows[i][0], LABOUR_LOSS_MULTIPLY), rows[i][2], 5e-7);
    }
}

/* What cannot be used is told with what there is. */
static void
test_losses_refused (void)
{
  g_autofree char *rows = published_losses ("");
  LabourTables *tables = good (CREWS_4B, BURDEN_HEAD, rows), *none = good (CREWS_4B, BURDEN_HEAD, LOSS_HEAD);
  g_autoptr (Fault) hours = NULL, key = NULL, empty = NULL;
  LabourLoss l;

  g_assert_false (labour_loss_average (tables, "printed", 55, 4, LABOUR_LOSS_DIVIDE, &l, &hours));
  g_assert_nonnull (strstr (hours->remedy, "50, 60, 72, 84"));
  g_assert_cmpint (l.factor_ppm, ==, 1000000);
  g_assert_false (labour_loss_average (tables, "other", 50, 4, LABOUR_LOSS_DIVIDE, &l, &key));
  g_assert_nonnull (strstr (key->remedy, "printed"));
  g_assert_false (labour_loss_average (none, "printed", 50, 4, LABOUR_LOSS_DIVIDE, &l, &empty));
  g_assert_nonnull (strstr (empty->remedy, "none comes with the program"));
  /* A table that does not say takes what is asked for. */
  g_assert_true (labour_loss_average (tables, "printed", 50, 1, LABOUR_LOSS_MULTIPLY, &l, NULL));
  g_assert_cmpint (l.factor_ppm, ==, 1050000);
  labour_tables_free (tables);
  labour_tables_free (none);
}

static void
test_sheets_refused (void)
{
  static const struct
  {
    const char *burdens, *losses, *what;
  } rows[] = {
    { BURDEN_HEAD ",,x,wage to a cap,3.2,,7000,,yes,,\n", LOSS_HEAD, "yearly cap" },
    { BURDEN_HEAD ",,x,wage,,,,,yes,,\n", LOSS_HEAD, "no figure" },
    { BURDEN_HEAD ",,,wage,2,,,,yes,,\n", LOSS_HEAD, "no name" },
    { BURDEN_HEAD ",,x,of the moon,2,,,,yes,,\n", LOSS_HEAD, "not known here" },
    { BURDEN_HEAD, LOSS_HEAD "a,50,1,100,,,\n", "out of bounds" },
    { BURDEN_HEAD, LOSS_HEAD "a,50,,10,,,\n", "empty" },
    { BURDEN_HEAD, LOSS_HEAD ",50,1,10,,,\n", "no name" },
    /* A burden of nobody, and one that counts twice for a worker. */
    { BURDEN_HEAD "gong,,x,wage,2,,,,yes,,\n", LOSS_HEAD, "burdens.csv:2, column 1 (crew): there is no crew “gong”" },
    { BURDEN_HEAD ",foremen,x,wage,2,,,,yes,,\n", LOSS_HEAD, "column 2 (class): no crew has the class “foremen”" },
    { BURDEN_HEAD "gang,foremen,x,wage,2,,,,yes,,\n", LOSS_HEAD, "the crew “gang” has no class “foremen”" },
    { BURDEN_HEAD ",,x,wage,2,,,,yes,,\n,,X,wage,2,,,,yes,,\n", LOSS_HEAD, "burdens.csv:3, column 3 (component): “X” counts twice" },
    { BURDEN_HEAD "gang,,x,wage,2,,,,yes,,\n,foreman,x,wage,3,,,,yes,,\n", LOSS_HEAD, "burdens.csv:3, column 3 (component): “x” counts twice" },
    { BURDEN_HEAD, LOSS_HEAD "a,50,1,10,,,\na,50,2,12,,,\na,50.0,1,90,,,\n", "overtime_loss.csv:4, column 3 (week): this week stands twice: line 2" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GPtrArray) faults = fixture_faults ();
      g_assert_null (tables_new (CREWS_4B, rows[i].burdens, rows[i].losses, faults));
      g_assert_cmpuint (faults->len, ==, 1); /* one cell, one fault */
      g_autofree char *words = csv_fault_words (g_ptr_array_index (faults, 0));
      g_test_message ("%s", words);
      g_assert_nonnull (strstr (words, rows[i].what));
    }
  /* Two classes may each have their own share of a component, two tables the same weeks. */
  labour_tables_free (good (CREWS_4B, BURDEN_HEAD ",foreman,x,wage,2,,,,yes,,\ngang,journeyman,x,wage,3,,,,yes,,\n",
                            LOSS_HEAD "a,50,1,10,,,\na,60,1,10,,,\nb,50,1,10,,,\n"));
}

/* Nothing is on by default: the program ships neither burdens nor losses. */
static void
test_starter_is_bare (void)
{
  g_autoptr (Catalogue) starter = catalogue_starter ();

  g_assert_cmpuint (starter->labour->burdens->len, ==, 0);
  g_assert_cmpuint (starter->labour->losses->len, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/money/premium", test_premium);
  g_test_add_func ("/money/components", test_components);
  g_test_add_func ("/money/on-premium", test_on_premium);
  g_test_add_func ("/money/cap", test_cap);
  g_test_add_func ("/money/shift-and-travel", test_shift_and_travel);
  g_test_add_func ("/money/output-hour", test_output_hour);
  g_test_add_func ("/money/loss-basis", test_loss_basis);
  g_test_add_func ("/money/losses-refused", test_losses_refused);
  g_test_add_func ("/money/sheets-refused", test_sheets_refused);
  g_test_add_func ("/money/starter-is-bare", test_starter_is_bare);
  return g_test_run ();
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Crews, steps, conditions: rates, masks and the faults of their tables. */
#include "fixture.h"

#include "base/money.h"

#define CREW_HEAD "crew,place,class,heads,wage,fringe,burden_pct,flat_burden,overtime_factor,source,status\n"
#define STEP_HEAD                                                                                                      \
  "step,group,crew,band_to_lb,fixed_low_min,fixed_likely_min,fixed_high_min,per_ft_low_min,per_ft_likely_min,per_ft_"  \
  "high_min,"                                                                                                          \
  "per_lb_low_min,per_lb_likely_min,per_lb_high_min,source,status\n"
#define CONDITION_HEAD "condition,factor,places,groups,reason,source,status\n"
#define CREWS CREW_HEAD "shop,shop,worker,1,60,,,,,,\nfield,field,worker,1,70,,,,,,\n"

static LabourTables *
tables_new (const char *crews, const char *steps, const char *conditions, GPtrArray *faults)
{
  g_autoptr (CsvTable) a = csv_parse (crews, -1, "crews.csv", faults);
  g_autoptr (CsvTable) b = csv_parse (steps, -1, "steps.csv", faults);
  g_autoptr (CsvTable) c = csv_parse (conditions, -1, "conditions.csv", faults);
  g_autoptr (CsvTable) studies = csv_parse ("study,step,unit,allowance_pct,allowance_basis,confidence_pct,accuracy_pct,note,"
                                            "source,status\n", -1, "studies.csv", faults);
  g_autoptr (CsvTable) readings = csv_parse ("study,date,observer,crew_size,size,timed,method,count,clock_min,rating_pct,struck,"
                                             "note,source,status\n", -1, "observations.csv", faults);
  g_autoptr (CsvTable) burdens = csv_parse ("crew,class,component,basis,rate_pct,amount,cap,hours_a_year,on_premium,source,"
                                            "status\n", -1, "burdens.csv", faults);
  g_autoptr (CsvTable) losses = csv_parse ("table,hours_a_week,week,loss_pct,basis,source,status\n", -1, "overtime_loss.csv",
                                           faults);
  LabourSheets sheets = { .crews = a, .steps = b, .conditions = c, .studies = studies, .observations = readings,
                          .burdens = burdens, .overtime_loss = losses };

  return labour_tables_new (&sheets, faults);
}

static LabourTables *
good_tables (const char *crews, const char *steps, const char *conditions)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  LabourTables *tables = tables_new (crews, steps, conditions, faults);

  g_assert_cmpuint (faults->len, ==, 0);
  g_assert_nonnull (tables);
  return tables;
}

/* ---- rates ---- */

/* Overtime by paid hours over hours worked: 48 h at time and a half beyond 40 are 52 paid, 8.33 % on hours worked.
 * Source: EI 01D010 Construction Cost Estimates, section 5, Example 5-1; the other weeks computed. */
static void
test_overtime (void)
{
  static const struct
  {
    double worked, paid, premium;
  } rows[] = { { 45, 47.5, 5.555556 }, { 48, 52, 8.333333 },  { 50, 55, 10.000000 },
               { 60, 70, 16.666667 },  { 70, 85, 21.428571 }, { 50, 60, 20.000000 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *crew =
          g_strdup_printf (CREW_HEAD "field,field,worker,1,100,,,,%.6f,,\n", rows[i].paid / rows[i].worked);
      LabourTables *tables = good_tables (crew, STEP_HEAD, CONDITION_HEAD);
      const LabourCrew *c = g_ptr_array_index (tables->crews, 0);
      double hour = num_wide_to_double (labour_member_hour (&g_array_index (c->members, LabourMember, 0))) / 1e10;
      /* a factor keeps six decimals */
      assert_near (hour - 100, rows[i].premium, 0.00006);
      g_assert_cmpint (c->rate, ==, (gint64) floor ((100 + rows[i].premium) * 1e4 + 0.5));
      labour_tables_free (tables);
    }
}

/* Composite rate, computed from illustrative wages: 50-hour week (x 1.1 on the wage), 7.65 + 3.20 + 0.60 + 11.40 =
 * 22.85 % on wage, fringes, 1.85 flat. */
static void
test_composite (void)
{
  static const char crews[] = CREW_HEAD "gang,field,foreman,1,46.20,16.10,22.85,1.85,1.1,,\n"
                                        "gang,field,journeyman,4,41.25,16.10,22.85,1.85,1.1,,\n"
                                        "gang,field,apprentice,1,24.75,9.40,22.85,1.85,1.1,,\n";
  /* 50.820000 x 1.2285 + 17.95; 45.375 x 1.2285 + 17.95; 27.225 x 1.2285 + 11.25 */
  static const char *const hour[] = { "80.3823700000", "73.6931875000", "44.6959125000" };
  LabourTables *tables = good_tables (crews, STEP_HEAD, CONDITION_HEAD);
  const LabourCrew *gang = g_ptr_array_index (tables->crews, 0);
  NumWide sum = 0;

  g_assert_cmpuint (tables->crews->len, ==, 1);
  g_assert_cmpuint (gang->members->len, ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      const LabourMember *m = &g_array_index (gang->members, LabourMember, i);
      g_autofree char *text = num_wide_print (labour_member_hour (m), MONEY_EXACT_DECIMALS);
      g_assert_cmpstr (text, ==, hour[i]);
      sum += labour_member_hour (m) * m->heads / 1000;
    }
  g_autofree char *an_hour = num_wide_print (sum, MONEY_EXACT_DECIMALS);
  g_assert_cmpstr (an_hour, ==, "419.8510325000");
  assert_near (num_wide_to_double (sum) / 6e10, 69.975172, 0.0000005);
  g_assert_cmpint (gang->rate, ==, 699752); /* 69.975172 to four decimals before it multiplies hours */
  labour_tables_free (tables);
}

/* The demo's crews, invented demo: 68.00 and 46.00 + 24.50 + 21.50 = 92.00; half a helper beside a hand is weighted
 * by heads. */
static void
test_rates (void)
{
  g_autoptr (Catalogue) starter = catalogue_starter ();
  LabourTables *tables =
      good_tables (CREW_HEAD "a,shop,hand,1,60,,,,,,\na,shop,helper,.5,30,,,,,,\n", STEP_HEAD, CONDITION_HEAD);

  g_assert_cmpint (((LabourCrew *) g_ptr_array_index (starter->labour->crews, 0))->rate, ==, 680000);
  g_assert_cmpint (((LabourCrew *) g_ptr_array_index (starter->labour->crews, 1))->rate, ==, 920000);
  g_assert_cmpint (((LabourCrew *) g_ptr_array_index (tables->crews, 0))->rate, ==, 500000);
  labour_tables_free (tables);
}

/* Whatever the heads, a composite lies between its members; heads scaled alike change nothing. */
static void
test_random_crews (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (41);

  for (int i = 0; i < 2000; i++)
    {
      LabourMember m[4], twice[4];
      gsize n = (gsize) g_rand_int_range (rand, 1, 5);
      double low = INFINITY, high = 0;
      for (gsize k = 0; k < n; k++)
        {
          m[k] = (LabourMember){ NULL,
                                 g_rand_int_range (rand, 1, 20000),
                                 g_rand_int_range (rand, 0, 2000000),
                                 g_rand_int_range (rand, 0, 500000),
                                 g_rand_int_range (rand, 0, 100000),
                                 g_rand_int_range (rand, 0, 900000),
                                 g_rand_int_range (rand, 1000000, 2000000), 0, 0, NULL };
          twice[k] = m[k];
          twice[k].heads *= 2;
          double hour = num_wide_to_double (labour_member_hour (&m[k])) / 1e6;
          double plain = (double) m[k].wage * (double) m[k].paid / 1e12 * (1 + (double) m[k].burden_ppm / 1e6)
                         + (double) (m[k].fringe + m[k].flat);
          assert_near (hour, plain, 0.001);
          low = MIN (low, hour);
          high = MAX (high, hour);
        }
      gint64 rate = labour_crew_rate (m, n);
      g_assert_cmpfloat ((double) rate, >=, low - 0.5001);
      g_assert_cmpfloat ((double) rate, <=, high + 0.5001);
      g_assert_cmpint (labour_crew_rate (twice, n), ==, rate);
    }
}

/* ---- steps ---- */

/* Minutes are kept to a thousand-millionth; low and high that are left out are the likely ones; bands follow each
 * other. */
static void
test_steps (void)
{
  LabourTables *tables = good_tables (CREWS,
                                      STEP_HEAD "cut,fabricate,shop,,.35,.5,.8,,,,,,,,\n"
                                                "raise,hang and join,field,60,8,12,19,,,,.17,.25,.4,,\n"
                                                "raise,hang and join,field,,8,12,19,,,,,.123456789,,,\n",
                                      CONDITION_HEAD);
  const LabourStep *cut = g_ptr_array_index (tables->steps, 0), *raise = g_ptr_array_index (tables->steps, 1);
  const LabourBand *band = &g_array_index (raise->bands, LabourBand, 1);

  g_assert_cmpuint (tables->steps->len, ==, 2);
  g_assert_cmpint (labour_find_step (tables, "raise"), ==, 1);
  g_assert_cmpint (labour_find_step (tables, "rise"), ==, -1);
  g_assert_cmpint (cut->group, ==, LABOUR_FABRICATE);
  g_assert_cmpint (cut->crew, ==, labour_find_crew (tables, "shop"));
  g_assert_cmpint (g_array_index (cut->bands, LabourBand, 0).fixed[LABOUR_LOW], ==, 350000000);
  g_assert_cmpint (g_array_index (cut->bands, LabourBand, 0).fixed[LABOUR_HIGH], ==, 800000000);
  g_assert_cmpint (g_array_index (cut->bands, LabourBand, 0).upto_mg, ==, G_MAXINT64);
  g_assert_cmpuint (raise->bands->len, ==, 2);
  g_assert_cmpint (g_array_index (raise->bands, LabourBand, 0).upto_mg, ==, 27215542); /* 60 lb */
  for (int p = 0; p < LABOUR_N_POINTS; p++)
    g_assert_cmpint (band->per_lb[p], ==, 123456789);
  labour_tables_free (tables);
}

/* ---- conditions ---- */

static void
test_conditions (void)
{
  LabourTables *tables = good_tables (CREWS, STEP_HEAD,
                                      CONDITION_HEAD "high work,1.15,air+joint,,lift,,\n"
                                                     "congested,1.20,air,hang and join,others in the way,,\n"
                                                     "everywhere,0.5,,,learned,,\n");
  LabourFactors f;

  labour_factors_init (&f);
  for (int g = 0; g < LABOUR_N_GROUPS; g++)
    for (int p = 0; p < LABOUR_N_PLACES; p++)
      g_assert_cmpint (f.ppm[g][p], ==, 1000000);
  for (int i = 0; i < 2; i++)
    labour_factors_apply (&f, g_ptr_array_index (tables->conditions, (guint) i));
  for (int g = 0; g < LABOUR_N_GROUPS; g++)
    for (int p = 0; p < LABOUR_N_PLACES; p++)
      {
        gboolean air = p == LABOUR_AIR || p == LABOUR_JOINT; /* a joint of ppm is one made in the air */
        gint64 wanted = !air ? 1000000 : g == LABOUR_HANG_AND_JOIN ? 1380000 /* 1.15 x 1.20 */ : 1150000;
        g_assert_cmpint (f.ppm[g][p], ==, wanted);
        /* "congested" is a matter of the air alone, "high work" names joints wherever they are made */
        g_assert_cmpint (f.floor_joint[g], ==, 1150000);
      }
  labour_factors_apply (&f,
                        g_ptr_array_index (tables->conditions, (guint) labour_find_condition (tables, "everywhere")));
  g_assert_cmpint (f.ppm[LABOUR_HANG_AND_JOIN][LABOUR_AIR], ==, 690000);
  g_assert_cmpint (f.ppm[LABOUR_FABRICATE][LABOUR_SHOP], ==, 500000);
  g_assert_cmpint (f.ppm[LABOUR_GENERAL][LABOUR_SITE_FIT], ==, 500000);
  /* once, although air and joint are both named */
  g_assert_cmpint (f.ppm[LABOUR_HANG_AND_JOIN][LABOUR_JOINT], ==, 690000);
  g_assert_cmpint (f.floor_joint[LABOUR_HANG_AND_JOIN], ==, 575000);
  labour_tables_free (tables);
}

static void
test_places (void)
{
  for (int i = 0; i < LABOUR_N_PLACES; i++)
    {
      LabourPlace place = LABOUR_N_PLACES;
      g_assert_true (labour_place_parse (labour_place_key ((LabourPlace) i), &place));
      g_assert_cmpint (place, ==, i);
    }
  LabourPlace place;
  g_assert_false (labour_place_parse ("roof", &place));
  g_assert_cmpstr (labour_place_key (LABOUR_N_PLACES), ==, "");
  g_assert_cmpstr (labour_group_key (LABOUR_SEAL_AND_TEST), ==, "seal and test");
}

/* ---- broken tables ---- */

static void
test_faults (void)
{
  static const struct
  {
    const char *crews, *steps, *conditions, *words;
  } rows[] = {
    { "crew,place,class\n", STEP_HEAD, CONDITION_HEAD, "crews.csv:1: the column “heads” is missing" },
    { CREW_HEAD "a,roof,x,1,1,,,,,,\n", STEP_HEAD, CONDITION_HEAD, "crews.csv:2, column 2 (place)" },
    { CREW_HEAD "a,shop,x,1,1,,,,,,\na,field,y,1,1,,,,,,\n", STEP_HEAD, CONDITION_HEAD,
      "crews.csv:3, column 2 (place): one crew in two" },
    { CREW_HEAD "a,shop,x,0,1,,,,,,\n", STEP_HEAD, CONDITION_HEAD, "crews.csv:2, column 4 (heads)" },
    { CREW_HEAD "a,shop,x,1,forty,,,,,,\n", STEP_HEAD, CONDITION_HEAD, "crews.csv:2, column 5 (wage)" },
    { CREW_HEAD "a,shop,x,1,-40,,,,,,\n", STEP_HEAD, CONDITION_HEAD, "crews.csv:2, column 5 (wage)" },
    { CREW_HEAD "a,shop,x,1,40,,,,0.9,,\n", STEP_HEAD, CONDITION_HEAD, "crews.csv:2, column 9 (overtime_factor)" },
    { CREWS, STEP_HEAD "cut,fabricate,shop,,3,2,4,,,,,,,,\n", CONDITION_HEAD,
      "steps.csv:2, column 6 (fixed_likely_min): low, likely and high do not rise" },
    { CREWS, STEP_HEAD "cut,fabricate,shop,,1,2,1.5,,,,,,,,\n", CONDITION_HEAD,
      "column 6 (fixed_likely_min): low, likely" },
    { CREWS, STEP_HEAD "cut,fabricate,shop,,,,,3,2,4,,,,,\n", CONDITION_HEAD,
      "column 9 (per_ft_likely_min): low, likely" },
    { CREWS, STEP_HEAD "cut,fabricate,shop,,,,,,,,.1,.2,.1,,\n", CONDITION_HEAD,
      "column 12 (per_lb_likely_min): low, likely" },
    { CREWS, STEP_HEAD "cut,fabricate,roof,,1,2,3,,,,,,,,\n", CONDITION_HEAD,
      "steps.csv:2, column 3 (crew): no such crew" },
    { CREWS, STEP_HEAD "cut,chop,shop,,1,2,3,,,,,,,,\n", CONDITION_HEAD, "steps.csv:2, column 2 (group)" },
    { CREWS, STEP_HEAD ",fabricate,shop,,1,2,3,,,,,,,,\n", CONDITION_HEAD, "steps.csv:2, column 1 (step)" },
    { CREWS, STEP_HEAD "cut,fabricate,shop,,1,x,3,,,,,,,,\n", CONDITION_HEAD,
      "steps.csv:2, column 6 (fixed_likely_min)" },
    { CREWS,
      STEP_HEAD "a,fabricate,shop,,1,2,3,,,,,,,,\nb,fabricate,shop,,1,2,3,,,,,,,,\na,fabricate,shop,,1,2,3,,,,,,,,\n",
      CONDITION_HEAD, "steps.csv:4, column 1 (step): this step stands twice" },
    { CREWS, STEP_HEAD "a,fabricate,shop,60,1,2,3,,,,,,,,\na,fabricate,shop,50,1,2,3,,,,,,,,\n", CONDITION_HEAD,
      "steps.csv:3, column 4 (band_to_lb): the bands do not rise" },
    { CREWS, STEP_HEAD "a,fabricate,shop,60,1,2,3,,,,,,,,\n", CONDITION_HEAD, "the last band of “a” has a limit" },
    { CREWS, STEP_HEAD, CONDITION_HEAD "c,0,,,,,\n", "conditions.csv:2, column 2 (factor)" },
    { CREWS, STEP_HEAD, CONDITION_HEAD "c,,,,,,\n", "conditions.csv:2, column 2 (factor)" },
    { CREWS, STEP_HEAD, CONDITION_HEAD "c,1.1,roof+air,,,,\n", "conditions.csv:2, column 3 (places)" },
    { CREWS, STEP_HEAD, CONDITION_HEAD "c,1.1,,hang,,,\n", "conditions.csv:2, column 4 (groups)" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GPtrArray) faults = fixture_faults ();
      gboolean found = FALSE;
      g_test_message ("row %d", (int) i);
      g_assert_null (tables_new (rows[i].crews, rows[i].steps, rows[i].conditions, faults));
      for (guint k = 0; k < faults->len; k++)
        {
          g_autofree char *words = csv_fault_words (g_ptr_array_index (faults, k));
          g_test_message ("%s", words);
          found = found || strstr (words, rows[i].words);
        }
      g_assert_true (found);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/labour/overtime", test_overtime);
  g_test_add_func ("/labour/composite", test_composite);
  g_test_add_func ("/labour/rates", test_rates);
  g_test_add_func ("/labour/random-crews", test_random_crews);
  g_test_add_func ("/labour/steps", test_steps);
  g_test_add_func ("/labour/conditions", test_conditions);
  g_test_add_func ("/labour/places", test_places);
  g_test_add_func ("/labour/faults", test_faults);
  return g_test_run ();
}

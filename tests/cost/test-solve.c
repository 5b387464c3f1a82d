/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From a wanted price back to adjustment, profit and overrun. Build-ups and hours are invented demo; the rules are sourced. */
#include "fixture.h"

#include "base/money.h"
#include "cost/solve.h"

static Catalogue *starter;

#define HEAD "line,label,op,of,rate_pct,amount\n"

static CostBasis *
basis_new (const char *buildup, const char *changes)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  g_autoptr (CsvTable) table = buildup ? csv_parse (buildup, -1, "buildup.csv", NULL) : NULL;
  g_autoptr (Fault) fault = NULL;
  g_auto (GStrv) words = g_strsplit (changes ? changes : "", "; ", -1);
  CostBasis *basis;

  for (char **w = words; *w; w++)
    g_ptr_array_add (list, cost_change_parse (*w, NULL));
  basis = cost_basis_new (starter, list, table, &fault);
  g_assert_null (fault);
  return basis;
}

/* Worker-hours as the sums keep them, and their money at a rate in currency units. */
static void
set_labour (CostSums *sums, int side, double hours, double rate)
{
  sums->time[side] = (NumWide) (hours * 3600000 + 0.5) * 1000000;
  sums->labour[side] = sums->time[side] * (gint64) (rate * 10000 + 0.5);
}

/* The sums of test-buildup.c's demo: price 207,068.07, profit 11,720.83, field at 92.00 with 12 % site general. */
static CostSums
demo_sums (void)
{
  CostSums sums = { .items = { (NumWide) 553807900 * 1000000, (NumWide) 16800000 * 1000000, 0 } };

  set_labour (&sums, 0, 819.5, 92);
  set_labour (&sums, 1, 425, 68);
  return sums;
}

/* Source: contractor-finance article on markup and margin, January 2026: 80,000 at 20 % is 96,000 as a markup, 100,000 as a
 * margin; 20 % markup = 16.666667 % margin, 20 % margin = 25 % markup. */
static void
test_ways (void)
{
  static const char table[] = HEAD "cost,Cost,amount,,,80000\nprofit,Profit,markup,cost,20,\nprice,Price,sum,cost+profit,,\n";
  static const struct
  {
    const char *change;
    gint64 price, markup, margin;
  } rows[] = { { NULL, 9600000, 200000, 166667 }, { "buildup.profit.op=margin", 10000000, 250000, 200000 } };
  CostSums none = { 0 };

  g_assert_cmpint (cost_margin_of_markup (200000), ==, 166667);
  g_assert_cmpint (cost_markup_of_margin (200000), ==, 250000);
  g_assert_cmpint (cost_margin_of_markup (cost_markup_of_margin (-50000)), ==, -50000);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (CostBasis) basis = basis_new (table, rows[i].change);
      g_autoptr (BuildUp) up = buildup_new (basis, &none, 2);
      CostProfit profit;
      cost_profit (up, &profit);
      g_assert_cmpint (up->value[cost_price_line (basis)], ==, rows[i].price);
      g_assert_cmpint (profit.profit, ==, rows[i].price - 8000000);
      g_assert_cmpint (profit.markup_ppm, ==, rows[i].markup);
      g_assert_cmpint (profit.margin_ppm, ==, rows[i].margin);
    }
}

/* 205,000.00 wanted: 2,068.07 come off, 11,720.83 - 2,068.07 = 9,652.76 of profit is left, 4.7087 % of the price; a field hour
 * costs 92.00 x 1.12 = 103.04, so it pays 93.68 worker-hours. Figures invented demo, arithmetic by hand. */
static void
test_demo (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL, NULL);
  CostSums sums = demo_sums ();
  CostSolution s;

  g_assert_true (cost_solve_price (basis, &sums, 2, 20500000, &s, NULL));
  g_assert_cmpint (s.line, ==, buildup_find (basis, "adjustment"));
  g_assert_cmpint (s.adjustment, ==, -20680700);
  g_assert_cmpint (s.price, ==, 20500000);
  g_assert_cmpint (s.left.profit, ==, 965276);
  g_assert_cmpint (s.left.margin_ppm, ==, 47087);
  assert_near (cost_field_hour (basis, &sums), 103.04, 1e-9);
  assert_near (s.overrun_hours, 9652.76 / 103.04, 1e-9);

  /* Under cost and overhead there is nothing left to pay an overrun with. */
  g_assert_true (cost_solve_price (basis, &sums, 2, 19000000, &s, NULL));
  g_assert_cmpint (s.left.profit, ==, 1172083 - 1706807);
  g_assert_cmpfloat (s.overrun_hours, <, 0);
}

/* An adjustment that stands already is replaced, not added to. */
static void
test_present_adjustment (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL, "buildup.adjustment.amount=-500.125");
  CostSums sums = demo_sums ();
  CostSolution s;

  g_assert_true (cost_solve_price (basis, &sums, 2, 20500000, &s, NULL));
  g_assert_cmpint (s.adjustment, ==, -20680700);
  g_assert_cmpint (s.price, ==, 20500000);
}

/* Random sums, prices and changes: setting what was solved gives the price that was told, to the unit of the currency. */
static void
test_round_trip (void)
{
  static const char *const tables[] = {
    NULL,
    /* a bond as a rate behind the adjustment: not every price can be hit, the nearest is told */
    HEAD "material,,items,material,,\nfield,,labour,field,,\nhelp,,rate,field,9,\ncost,,sum,material+field+help,,\nprofit,,margin,cost,8.5,\n"
         "last,,amount,,,0\nbase,,sum,cost+profit+last,,\nbond,,rate,base,1.5,\nprice,,sum,base+bond,,\n",
  };
  g_autoptr (GRand) rand = g_rand_new_with_seed (81);

  for (int round = 0; round < 400; round++)
    {
      int decimals = g_rand_int_range (rand, 0, 3);
      const char *table = tables[round % 2];
      g_autoptr (CostBasis) basis = basis_new (table, NULL);
      CostSums sums = { .items = { (NumWide) g_rand_int (rand) * 100000000 } };
      gint64 wanted = g_rand_int_range (rand, 0, 2000000000);
      CostSolution s;
      set_labour (&sums, 0, g_rand_double_range (rand, 0, 5000), 92);
      g_assert_true (cost_solve_price (basis, &sums, decimals, wanted, &s, NULL));
      g_autofree char *amount = num_wide_print (s.adjustment, 4);
      g_autofree char *change = g_strdup_printf ("buildup.%s.amount=%s", table ? "last" : "adjustment", amount);
      g_autoptr (CostBasis) made = basis_new (table, change);
      g_autoptr (BuildUp) up = buildup_new (made, &sums, decimals);
      g_assert_cmpint (buildup_get (up, "price"), ==, s.price);
      g_assert_cmpint (ABS (s.price - wanted), <=, table ? 1 : 0);
      if (!table)
        g_assert_cmpint (s.left.profit, ==, wanted - buildup_get (up, "cost") - buildup_get (up, "overhead"));
    }
}

/* Rates that follow field labour outside the cost are no part of its hour: oh_field is overhead. Wages illustrative, 41.25 x
 * 1.2765 + 16.10 = 68.755625 an hour; two rates within the cost add up. */
static void
test_field_hour (void)
{
  g_autoptr (CostBasis) plain = basis_new (HEAD "field,,labour,field,,\ncost,,sum,field,,\noh_field,,rate,field,18,\n"
                                                "profit,,margin,cost+oh_field,8.5,\nprice,,sum,cost+oh_field+profit,,\n", NULL);
  g_autoptr (CostBasis) two = basis_new (HEAD "field,,labour,field,,\ngeneral,,rate,field,10,\nsafety,,rate,field+general,2,\n"
                                              "cost,,sum,field+general+safety,,\nprice,,sum,cost,,\n", NULL);
  CostSums sums = { 0 };

  set_labour (&sums, 0, 684, 68.7556);
  assert_near (cost_field_hour (plain, &sums), 68.7556, 1e-9);
  assert_near (cost_field_hour (two, &sums), 68.7556 * 1.1 * 1.02, 1e-9);
  /* No field hours yet: the first field crew's rate, 92.00 in the starter tables (invented demo). */
  sums = (CostSums) { 0 };
  assert_near (cost_field_hour (plain, &sums), 92, 1e-9);
}

/* One rate everywhere is told as it stands; the average of two is that of their hours: (10 x 50 + 30 x 90) / 40 = 80. */
static void
test_crew_rate (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL, "rate.shop=71.25");
  CsvTable *table[CATALOGUE_N_SHEETS];
  CostSums sums = { 0 };
  gboolean mixed = TRUE;

  g_assert_cmpint (cost_crew_rate (basis, &sums, TRUE, &mixed), ==, 712500);
  g_assert_false (mixed);
  g_assert_cmpint (cost_crew_rate (basis, &sums, FALSE, NULL), ==, 920000); /* invented demo */

  fixture_tables (table);
  csv_table_free (table[CATALOGUE_CREWS]);
  table[CATALOGUE_CREWS] = csv_parse ("crew,place,class,heads,wage,fringe,burden_pct,flat_burden,overtime_factor,source,status\n"
                                      "shop,shop,a,1,68,,,,,x,invented demo\nfield,field,b,1,50,,,,,x,invented demo\n"
                                      "raising,field,c,1,90,,,,,x,invented demo\n", -1, "crews.csv", NULL);
  g_autoptr (Catalogue) two = fixture_catalogue (table);
  g_autoptr (CostBasis) different = cost_basis_new (two, NULL, NULL, NULL);
  sums.time[0] = 40;
  sums.labour[0] = 10 * 500000 + 30 * 900000;
  g_assert_cmpint (cost_crew_rate (different, &sums, FALSE, &mixed), ==, 800000);
  g_assert_true (mixed);
}

static void
test_faults (void)
{
  static const char *const tables[] = {
    HEAD "cost,,amount,,,80000\nprofit,,markup,cost,20,\nprice,,sum,cost+profit,,\n",                        /* no amount behind the profit */
    HEAD "cost,,amount,,,1\nprofit,,markup,cost,20,\nadjustment,,amount,,,0\nprice,,sum,cost+profit,,\n",    /* the price does not count it */
  };
  g_autoptr (CostBasis) basis = basis_new (NULL, NULL);
  CostSums sums = demo_sums ();
  CostSolution s;

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    {
      g_autoptr (CostBasis) lacking = basis_new (tables[i], NULL);
      g_autoptr (Fault) fault = NULL;
      g_assert_false (cost_solve_price (lacking, &sums, 2, 100, &s, &fault));
      g_assert_nonnull (strstr (fault->what, "no final adjustment"));
    }
  for (int sign = -1; sign <= 1; sign += 2)
    {
      g_autoptr (Fault) fault = NULL;
      g_assert_false (cost_solve_price (basis, &sums, 2, sign * G_GINT64_CONSTANT (900000000000000000), &s, &fault));
      g_assert_nonnull (strstr (fault->what, "too far off"));
    }
}

static void
test_count_items (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL, NULL);
  g_autofree gint64 *vector = g_new0 (gint64, (gsize) basis->n_vector);
  int material = 0, rental = 0;

  for (int i = 0; i < basis->n_items; i += 2)
    {
      vector[i] = 1;
      material += catalogue_item (basis->catalogue, i)->group == COST_MATERIAL;
      rental += catalogue_item (basis->catalogue, i)->group == COST_RENTAL;
    }
  vector[cost_measure_slot (basis, COST_PIECES)] = 5000;
  g_assert_cmpint (material, >, 0);
  g_assert_cmpint (cost_count_items (basis, vector, COST_MATERIAL), ==, material);
  g_assert_cmpint (cost_count_items (basis, vector, COST_RENTAL), ==, rental);
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/solve/ways", test_ways);
  g_test_add_func ("/solve/demo", test_demo);
  g_test_add_func ("/solve/present-adjustment", test_present_adjustment);
  g_test_add_func ("/solve/round-trip", test_round_trip);
  g_test_add_func ("/solve/field-hour", test_field_hour);
  g_test_add_func ("/solve/crew-rate", test_crew_rate);
  g_test_add_func ("/solve/faults", test_faults);
  g_test_add_func ("/solve/count-items", test_count_items);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From cost to price. Lines and wages of the layered build-up are illustrative, its values computed in decimal
 * arithmetic. */
#include "fixture.h"

#include "base/money.h"
#include "cost/buildup.h"

static Catalogue *starter;

#define HEAD "line,label,op,of,rate_pct,amount\n"

/* A basis with a build-up of its own and changes separated by "; " (NULL: none). */
static CostBasis *
basis_new (const char *buildup, const char *changes, Fault **fault)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  g_autoptr (CsvTable) table = buildup ? csv_parse (buildup, -1, "buildup.csv", NULL) : NULL;
  g_auto (GStrv) words = g_strsplit (changes ? changes : "", "; ", -1);

  for (char **w = words; *w; w++)
    g_ptr_array_add (list, cost_change_parse (*w, NULL));
  return cost_basis_new (starter, list, table, fault);
}

static CostBasis *
good_basis (const char *buildup, const char *changes)
{
  g_autoptr (Fault) fault = NULL;
  CostBasis *basis = basis_new (buildup, changes, &fault);

  g_assert_null (fault);
  return basis;
}

/* Hours at a rate in ten-thousandths, as the sums keep them. */
static NumWide
labour (double hours, gint64 rate)
{
  return (NumWide) (hours * 3600000 + 0.5) * 1000000 * rate;
}

static NumWide
currency (double amount)
{
  return (NumWide) (amount * 10000 + (amount < 0 ? -0.5 : 0.5)) * 1000000;
}

static void
assert_line (const BuildUp *up, const char *key, const char *wanted)
{
  g_autofree char *text = money_print (buildup_get (up, key), up->decimals, TRUE);

  g_test_message ("%s %s", key, text);
  g_assert_cmpint (buildup_find (up->basis, key), >=, 0);
  g_assert_cmpstr (text, ==, wanted);
}

/* ---- the layered build-up ---- */

static const char layered[] = HEAD "metal,Sheet metal,items,material,,\n"
                                   "connectors,Connectors and fasteners,amount,,,4286.35\n"
                                   "sundries,\"Sealant, gasket, hangers\",amount,,,3117.48\n"
                                   "material,Material,sum,metal+connectors+sundries,,\n"
                                   "tax,Sales tax,rate,material,7.25,\n"
                                   "shop,Shop labour,labour,shop,,\n"
                                   "field,Field labour,labour,field,,\n"
                                   "sub,Subcontract,amount,,,12500\n"
                                   "rental,Rentals,items,rental,,\n"
                                   "cost,Cost,sum,material+tax+shop+field+sub+rental,,\n"
                                   "oh_material,,rate,material+tax,6,\n"
                                   "oh_shop,,rate,shop,32,\n"
                                   "oh_field,,rate,field,18,\n"
                                   "oh_sub,,rate,sub,4,\n"
                                   "oh_rental,,rate,rental,5,\n"
                                   "overhead,Overhead,sum,oh_material+oh_shop+oh_field+oh_sub+oh_rental,,\n"
                                   "base,Cost and overhead,sum,cost+overhead,,\n"
                                   "profit,Profit,margin,base,8.5,\n"
                                   "price,Price before bond,sum,base+profit,,\n";

static CostSums
layered_sums (void)
{
  CostSums sums = { 0 };

  sums.items[COST_MATERIAL] = (NumWide) 18432600000 * 9175; /* 18,432.60 lb x 0.9175 */
  sums.items[COST_RENTAL] = currency (2340);
  sums.labour[1] = labour (312.5, 638676); /* 38.40 x 1.2765 + 14.85 = 63.8676 */
  sums.labour[0] = labour (684, 687556);   /* 41.25 x 1.2765 + 16.10 = 68.755625 */
  return sums;
}

/* Computed: each line once to the cent, half away from zero; profit as a margin of 8.5 %. */
static void
test_layered (void)
{
  static const struct
  {
    const char *key, *value;
  } rows[] = {
    { "metal", "16,911.91" },      { "material", "24,315.74" }, { "tax", "1,762.89" },      { "shop", "19,958.63" },
    { "field", "47,028.83" },      { "sub", "12,500.00" },      { "rental", "2,340.00" },   { "cost", "107,906.09" },
    { "oh_material", "1,564.72" }, { "oh_shop", "6,386.76" },   { "oh_field", "8,465.19" }, { "oh_sub", "500.00" },
    { "oh_rental", "117.00" },     { "overhead", "17,033.67" }, { "base", "124,939.76" },   { "profit", "11,606.43" },
    { "price", "136,546.19" },
  };
  g_autoptr (CostBasis) basis = good_basis (layered, NULL);
  CostSums sums = layered_sums ();
  g_autoptr (BuildUp) up = buildup_new (basis, &sums, 2);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    assert_line (up, rows[i].key, rows[i].value);
  g_assert_cmpint (buildup_find (basis, "bond"), ==, -1);
  g_assert_cmpint (buildup_get (up, "bond"), ==, 0);
  /* Without rounding of lines the same price to some cents: 136,546.1798 where lines keep ten-thousandths. */
  assert_near (buildup_smooth (basis, &sums, buildup_find (basis, "price")), 136546.18, 0.01);
}

/* Computed: the same with a markup of 8.5 %. */
static void
test_markup (void)
{
  g_autoptr (CostBasis) basis = good_basis (layered, "buildup.profit.op=markup");
  CostSums sums = layered_sums ();
  g_autoptr (BuildUp) up = buildup_new (basis, &sums, 2);

  assert_line (up, "base", "124,939.76");
  assert_line (up, "profit", "10,619.88");
  assert_line (up, "price", "135,559.64");
}

/* 80,000 at 20 % markup is 96,000, at 20 % margin 100,000: public contractor-finance article on markup and margin. u
 * = m / (1 - m): 20 % margin is 25 % markup, 20 % markup 16.666667 % margin (computed). */
static void
test_margin_and_markup (void)
{
  static const char plain[] = HEAD "cost,,amount,,,80000\nprofit,,markup,cost,20,\nprice,,sum,cost+profit,,\n";
  static const struct
  {
    const char *changes, *price;
  } rows[] = {
    { "buildup.profit.rate=20", "96,000.00" },
    { "buildup.profit.op=margin", "100,000.00" },
    { "buildup.profit.rate=25", "100,000.00" },
    { "buildup.profit.op=margin; buildup.profit.rate=16.6667", "96,000.04" }, /* four decimals of a per cent */
    { "buildup.profit.rate=0", "80,000.00" },
    { "buildup.profit.op=margin; buildup.profit.rate=-25", "64,000.00" },
    { "buildup.cost.amount=0", "0.00" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (CostBasis) basis = good_basis (plain, rows[i].changes);
      CostSums sums = { 0 };
      g_autoptr (BuildUp) up = buildup_new (basis, &sums, 2);
      assert_line (up, "price", rows[i].price);
    }
}

/* Half away from zero, as published for decimal rounding: 2.00005 -> 2.0001, 0.125 -> 0.13, 0.135 -> 0.14; labour of
 * exactly half a cent goes up. Decimals are the currency's. */
static void
test_rounding (void)
{
  static const char plain[] = HEAD "cost,,items,material,,\nshop,,labour,shop,,\nprice,,sum,cost+shop,,\n";
  static const struct
  {
    gint64 exact; /* 1e-10 */
    int decimals;
    const char *value;
  } rows[] = {
    { 20000500000, 4, "2.0001" }, { 20001500000, 4, "2.0002" }, { -20000500000, 4, "-2.0001" },
    { 1250000000, 2, "0.13" },    { 1350000000, 2, "0.14" },    { -1250000000, 2, "-0.13" },
    { 1249999999, 2, "0.12" },    { 5000000000, 0, "1" },       { 12345000000, 3, "1.235" },
  };
  g_autoptr (CostBasis) basis = good_basis (plain, NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CostSums sums = { .items[COST_MATERIAL] = rows[i].exact };
      g_autoptr (BuildUp) up = buildup_new (basis, &sums, rows[i].decimals);
      assert_line (up, "cost", rows[i].value);
    }
  /* 312.5 h x 63.8676 = 19,958.625 exactly */
  CostSums sums = { .labour[1] = labour (312.5, 638676) };
  g_autoptr (BuildUp) cents = buildup_new (basis, &sums, 2), mills = buildup_new (basis, &sums, 3),
                      whole = buildup_new (basis, &sums, 0);
  assert_line (cents, "shop", "19,958.63");
  assert_line (mills, "shop", "19,958.625");
  assert_line (whole, "shop", "19,959");
  sums.labour[1]--;
  g_autoptr (BuildUp) below = buildup_new (basis, &sums, 2);
  assert_line (below, "shop", "19,958.62");
}

/* ---- breakouts ---- */

/* Computed: largest remainder: 136,546.17 in 7 equal parts are four of 19,506.60 and three of 19,506.59; 100.00 in
 * three 33.34, 33.33, 33.33. */
static void
test_equal_parts (void)
{
  static const char plain[] = HEAD "cost,,items,material,,\nprice,,sum,cost,,\n";
  g_autoptr (CostBasis) basis = good_basis (plain, NULL);
  static const struct
  {
    double total;
    gsize n;
    gint64 part[7];
  } rows[] = {
    { 136546.17, 7, { 1950660, 1950660, 1950660, 1950660, 1950659, 1950659, 1950659 } },
    { 100, 3, { 3334, 3333, 3333 } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CostSums sums = { 0 }, parts[7];
      sums.items[COST_MATERIAL] = currency (rows[i].total);
      memset (parts, 0, sizeof parts);
      g_autoptr (BuildUp) up = buildup_new (basis, &sums, 2);
      for (gsize p = 0; p < rows[i].n; p++)
        parts[p].items[COST_MATERIAL] = sums.items[COST_MATERIAL] / (NumWide) rows[i].n;
      g_autofree gint64 *split = buildup_break_out (up, parts, rows[i].n);
      for (gsize line = 0; line < 2; line++)
        for (gsize p = 0; p < rows[i].n; p++)
          g_assert_cmpint (split[line * rows[i].n + p], ==, rows[i].part[p]);
    }
}

static CostSums
random_sums (GRand *rand)
{
  CostSums sums = { 0 };

  for (int g = 0; g < 2; g++)
    {
      if (g_rand_int_range (rand, 0, 5) > 0)
        sums.items[g] = (NumWide) g_rand_int (rand) * g_rand_int_range (rand, 1, 1000000);
      if (g_rand_int_range (rand, 0, 5) > 0)
        sums.labour[g] = (NumWide) g_rand_int (rand) * g_rand_int_range (rand, 1, 2000000) * 920000;
    }
  return sums;
}

static void
add_sums (CostSums *to, const CostSums *part)
{
  for (int g = 0; g < COST_N_GROUPS; g++)
    to->items[g] += part->items[g];
  for (int g = 0; g < 2; g++)
    to->labour[g] += part->labour[g];
}

/* The parts of every line add up to the line, sums of lines are sums of their parts, and own money is split to the
 * cent. */
static void
test_break_out_random (void)
{
  static const char *const changes[] = { NULL, "buildup.adjustment.amount=-500",
                                         "buildup.adjustment.amount=1234.56; buildup.profit.op=margin" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (51);

  for (int round = 0; round < 300; round++)
    {
      gsize n = (gsize) g_rand_int_range (rand, 1, 12);
      g_autoptr (CostBasis) basis =
          good_basis (round % 4 == 3 ? layered : NULL, round % 4 == 3 ? NULL : changes[round % 4]);
      g_autofree CostSums *parts = g_new0 (CostSums, n);
      CostSums all = { 0 };
      for (gsize p = 0; p < n; p++)
        {
          parts[p] = random_sums (rand);
          add_sums (&all, &parts[p]);
        }
      g_autoptr (BuildUp) up = buildup_new (basis, &all, 2);
      g_autofree gint64 *split = buildup_break_out (up, parts, n);
      for (gsize i = 0; i < up->n; i++)
        {
          const CostBuildLine *line = g_ptr_array_index (basis->buildup, i);
          gint64 sum = 0;
          for (gsize p = 0; p < n; p++)
            {
              gint64 refs = 0;
              sum += split[i * n + p];
              for (guint k = 0; k < line->refs->len; k++)
                refs += split[(gsize) g_array_index (line->refs, int, k) * n + p];
              if (line->op == COST_OP_SUM)
                g_assert_cmpint (split[i * n + p], ==, refs);
              if (line->op == COST_OP_ITEMS)
                assert_near ((double) split[i * n + p], num_wide_to_double (parts[p].items[line->which]) / 1e8, 1.51);
            }
          g_assert_cmpint (sum, ==, up->value[i]);
        }
    }
}

/* The smooth line strays from the printed one by half a cent a line at most, so by less than the number of lines in
 * cents. */
static void
test_smooth (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (52);
  g_autoptr (CostBasis) basis = good_basis (NULL, NULL);

  for (int i = 0; i < 500; i++)
    {
      CostSums sums = random_sums (rand);
      g_autoptr (BuildUp) up = buildup_new (basis, &sums, 2);
      for (gsize k = 0; k < up->n; k++)
        assert_near (buildup_smooth (basis, &sums, (int) k), (double) up->value[k] / 100, 0.01 * (double) up->n);
    }
}

/* The demo's build-up, invented demo: price = (1 + 12 %) x (1 + 6 %) of the cost, each line to the cent. */
static void
test_demo (void)
{
  g_autoptr (CostBasis) basis = good_basis (NULL, NULL);
  CostSums sums = { .items = { currency (55380.79), currency (1680), currency (1900) },
                    .labour = { labour (819.5, 920000), labour (425, 680000) } };
  g_autoptr (BuildUp) up = buildup_new (basis, &sums, 2);

  assert_line (up, "material", "55,380.79");
  assert_line (up, "tax", "4,015.11"); /* 4,015.107275 */
  assert_line (up, "shop", "28,900.00");
  assert_line (up, "field", "75,394.00");
  assert_line (up, "general", "9,047.28");
  assert_line (up, "rental", "1,680.00");    /* untaxed */
  assert_line (up, "cost", "174,417.18");    /* the tooling stands beside it */
  assert_line (up, "overhead", "20,930.06"); /* 20,930.0616 */
  assert_line (up, "profit", "11,720.83");   /* 6 % of 195,347.24 = 11,720.8344 */
  assert_line (up, "price", "207,068.07");
}

/* ---- broken build-ups ---- */

static void
test_faults (void)
{
  static const struct
  {
    const char *table, *words;
  } rows[] = {
    { HEAD "cost,,amount,,,1\n", "the build-up needs the lines “cost” and “price”" },
    { HEAD "cost,,amount,,,1\nprice,,sum,cost+profit,,\nprofit,,rate,cost,1,\n",
      "buildup.csv:3, column 4 (of): there is no line “profit” above" },
    { HEAD "cost,,amount,,,1\ncost,,amount,,,1\nprice,,sum,cost,,\n",
      "buildup.csv:3, column 1 (line): this key stands twice" },
    { HEAD "cost,,amount,,,1\nprofit,,margin,cost,100,\nprice,,sum,cost+profit,,\n",
      "buildup.csv:3, column 5 (rate_pct): a margin is below 100 %" },
    { HEAD "cost,,times,,,1\nprice,,sum,cost,,\n", "buildup.csv:2, column 3 (op)" },
    { HEAD "cost,,amount,,,1\nprofit,,rate,,6,\nprice,,sum,cost+profit,,\n",
      "buildup.csv:3, column 4 (of): the line names no other lines" },
    { HEAD "cost,,items,labour,,\nprice,,sum,cost,,\n", "buildup.csv:2, column 4 (of)" },
    { HEAD "cost,,labour,air,,\nprice,,sum,cost,,\n", "buildup.csv:2, column 4 (of)" },
    { HEAD "cost,,amount,,,much\nprice,,sum,cost,,\n", "buildup.csv:2, column 6 (amount)" },
    { HEAD ",,amount,,,1\nprice,,amount,,,1\n", "buildup.csv:2, column 1 (line): the row has no key" },
    { "line,label\ncost,\n", "buildup.csv:1: the column “op” is missing" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Fault) fault = NULL;
      g_assert_null (basis_new (rows[i].table, NULL, &fault));
      g_assert_nonnull (fault);
      g_test_message ("%s; %s", fault->what, fault->remedy);
      g_assert_nonnull (strstr (fault->what, rows[i].words));
    }
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/buildup/layered", test_layered);
  g_test_add_func ("/buildup/markup", test_markup);
  g_test_add_func ("/buildup/margin-and-markup", test_margin_and_markup);
  g_test_add_func ("/buildup/rounding", test_rounding);
  g_test_add_func ("/buildup/equal-parts", test_equal_parts);
  g_test_add_func ("/buildup/break-out-random", test_break_out_random);
  g_test_add_func ("/buildup/smooth", test_smooth);
  g_test_add_func ("/buildup/demo", test_demo);
  g_test_add_func ("/buildup/faults", test_faults);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}

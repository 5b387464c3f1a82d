/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cost/mix.h"

#include <math.h>
#include <string.h>

/* ---- fixtures ---- */

static char *
data_path (const char *name)
{
  return g_build_filename (g_getenv ("G_TEST_SRCDIR"), "data", name, NULL);
}

static CsvTable *
data_table (const char *name)
{
  g_autofree char *path = data_path (name);
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  CsvTable *table = csv_read_file (path, faults, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (faults->len, ==, 0);
  return table;
}

/* mix_12x4.csv: set-up costs and limits stand in its comment. */
static CostMix *
twelve (double hours, guint most)
{
  static const gint64 setup[] = { 0, 450, 800, 300 };
  g_autoptr (CsvTable) table = data_table ("mix_12x4.csv");
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  CostMix *mix = cost_mix_read (table, FALSE, faults);

  g_assert_nonnull (mix);
  g_assert_cmpuint (mix->n_groups, ==, 12);
  g_assert_cmpuint (mix->n_methods, ==, 4);
  for (guint m = 0; m < 4; m++)
    mix->setup[m] = setup[m] * COST_MIX_MONEY;
  mix->most_hours = hours > 0 ? (gint64) round (hours * 1e4) * 360 : COST_MIX_NONE;
  mix->most_methods = most;
  return mix;
}

static char *
letters (const CostMix *mix, const CostMixPlan *plan)
{
  GString *out = g_string_new (NULL);

  for (guint g = 0; g < mix->n_groups; g++)
    g_string_append (out, mix->method[plan->method[g]]);
  return g_string_free (out, FALSE);
}

static void
check_plan (const CostMix *mix, const CostMixPlan *plan, gint64 cents, double hours, const char *methods)
{
  g_autofree char *found = letters (mix, plan);

  g_assert_cmpint (plan->cost, ==, cents * 100);
  g_assert_cmpint (plan->hours, ==, (gint64) round (hours * 10) * 360000);
  if (methods)
    g_assert_cmpstr (found, ==, methods);
}

/* Methods for Seamtally 10a; status there: computed by complete enumeration and again by GLPK. */
static void
test_twelve (void)
{
  static const struct
  {
    double limit;
    guint most;
    gint64 cents;
    double hours;
    const char *methods;
  } rows[] = {
    { 105, 2, 1178900, 104.8, "AAAAABBBBBBB" }, { 105, 1, 1274800, 102.8, "BBBBBBBBBBBB" },
    { 105, 3, 1174740, 104.6, "AAAAABBDDDDD" }, { 105, 4, 1174740, 104.6, "AAAAABBDDDDD" },
    { 105, 0, 1174740, 104.6, "AAAAABBDDDDD" }, { 104, 2, 1193860, 103.4, "AAAABBBBBBBB" },
    { 106, 2, 1171010, 106.0, "AAAAAABBBBBB" }, { 107, 2, 1116570, 107.0, "AAAAAAADDDDD" },
    { 120, 2, 1116570, 107.0, "AAAAAAADDDDD" }, { 0, 1, 1121010, 115.3, "AAAAAAAAAAAA" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (CostMix) mix = twelve (rows[i].limit, rows[i].most);
      g_autoptr (CostMixResult) result = cost_mix_solve (mix, NULL);
      g_assert_true (result->proven);
      g_assert_false (result->stopped);
      check_plan (mix, result->plan->pdata[0], rows[i].cents, rows[i].hours, rows[i].methods);
      g_assert_cmpint (result->bound, ==, rows[i].cents * 100);
    }
}

/* 10a: the optimum and the four behind it, and the best without the pair A, B. */
static void
test_next_best (void)
{
  static const struct
  {
    gint64 cents;
    double hours;
    const char *methods;
  } rows[] = { { 1178900, 104.8, "AAAAABBBBBBB" },
               { 1185970, 104.6, "AAAABABBBBBB" },
               { 1188580, 104.6, "AAAABBABBBBB" },
               { 1191600, 104.1, "AAABABBBBBBB" },
               { 1192860, 105.0, "AAAABBBBABBB" } };
  CostMixHow how = { .wanted = 5 };
  g_autoptr (CostMix) mix = twelve (105, 2);
  g_autoptr (CostMixResult) result = cost_mix_solve (mix, &how);
  gint64 another = G_MAXINT64;

  g_assert_true (result->proven);
  g_assert_cmpuint (result->plan->len, ==, 5);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    check_plan (mix, result->plan->pdata[i], rows[i].cents, rows[i].hours, rows[i].methods);
  /* Any pair but A and B: B taken away, then A. */
  for (guint gone = 0; gone < 2; gone++)
    {
      g_autoptr (CostMix) other = twelve (105, 2);
      for (guint g = 0; g < 12; g++)
        other->cost[g * 4 + gone] = COST_MIX_NONE;
      g_autoptr (CostMixResult) best = cost_mix_solve (other, NULL);
      if (best->plan->len > 0)
        another = MIN (another, ((CostMixPlan *) best->plan->pdata[0])->cost);
    }
  g_assert_cmpint (another, ==, 1233890 * 100);
}

/* 10a: what stands beside the optimum. */
static void
test_report (void)
{
  g_autoptr (CostMix) mix = twelve (105, 2);
  g_autoptr (CostMixReport) report = cost_mix_report_new (mix, NULL, NULL);

  g_assert_nonnull (report);
  check_plan (mix, report->best->plan->pdata[0], 1178900, 104.8, NULL);
  g_assert_cmpint (report->hour_saves, ==, 7890 * 100);
  check_plan (mix, report->more, 1171010, 106.0, "AAAAAABBBBBB");
  check_plan (mix, report->free, 1116570, 107.0, "AAAAAAADDDDD");
  check_plan (mix, report->one, 1274800, 102.8, NULL);
  check_plan (mix, report->one_free, 1121010, 115.3, NULL);
  g_assert_cmpint (report->least_hours, ==, (gint64) 876 * 360000);
  g_assert_cmpfloat_with_epsilon (report->relaxed / COST_MIX_MONEY, 11316.92791, 5e-6);
  g_assert_cmpfloat_with_epsilon (report->hour_relaxed / COST_MIX_MONEY, -77.1628, 5e-5);
  /* The step from 106 to 107 saves 544.40: the set flips. */
  g_autoptr (CostMix) later = twelve (106, 2);
  g_autoptr (CostMixReport) next = cost_mix_report_new (later, NULL, NULL);
  g_assert_cmpint (next->hour_saves, ==, 54440 * 100);
}

/* 10a: least feasible hours with two methods 87.6. */
static void
test_infeasible (void)
{
  g_autoptr (CostMix) mix = twelve (87.5, 2);
  g_autoptr (Fault) fault = NULL;

  g_assert_null (cost_mix_report_new (mix, NULL, &fault));
  g_assert_cmpstr (fault->what, ==, "no mix of at most 2 methods keeps within 87.5 hours; the least is 87.6");
  g_assert_nonnull (strstr (fault->remedy, "87.6"));
  mix->most_hours = (gint64) 876 * 360000;
  g_autoptr (CostMixReport) kept = cost_mix_report_new (mix, NULL, NULL);
  g_assert_nonnull (kept);
}

/* CSPLib problem 034 (Van Hentenryck): optimum 383. A copy in circulation has 100 for the first cost: 383 as well. */
static void
test_places (void)
{
  static const guint expected[] = { 5, 2, 5, 1, 5, 2, 2, 3, 2, 3 };
  g_autoptr (CsvTable) table = data_table ("warehouse_location_034.csv");
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (CostMix) mix = cost_mix_read_places (table, 30 * COST_MIX_MONEY, faults);
  g_autoptr (CostMixResult) result = NULL;

  g_assert_nonnull (mix);
  result = cost_mix_solve (mix, NULL);
  g_assert_true (result->proven);
  const CostMixPlan *plan = result->plan->pdata[0];
  g_assert_cmpint (plan->cost, ==, 383 * COST_MIX_MONEY);
  g_assert_cmpuint (plan->methods, ==, 4);
  for (guint g = 0; g < 10; g++)
    g_assert_cmpuint (plan->method[g] + 1, ==, expected[g]);
  mix->cost[0] = 100 * COST_MIX_MONEY;
  g_autoptr (CostMixResult) copy = cost_mix_solve (mix, NULL);
  g_assert_cmpint (((CostMixPlan *) copy->plan->pdata[0])->cost, ==, 383 * COST_MIX_MONEY);
}

/* OR-Library gap1, c515-2: maximum 327 (published); minimum of the same data 269 (computed). */
static void
test_assignment (void)
{
  g_autofree char *path = data_path ("gap_c515_2.txt"), *text = NULL;
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_assert_true (g_file_get_contents (path, &text, NULL, NULL));
  g_autoptr (CostMix) mix = cost_mix_read_assignment (text, "gap", faults);

  g_assert_nonnull (mix);
  g_autoptr (CostMixResult) least = cost_mix_solve (mix, NULL);
  g_assert_true (least->proven);
  g_assert_cmpint (((CostMixPlan *) least->plan->pdata[0])->cost, ==, 269 * COST_MIX_MONEY);
  mix->maximise = TRUE;
  g_autoptr (CostMixResult) most = cost_mix_solve (mix, NULL);
  g_assert_true (most->proven);
  g_assert_cmpint (((CostMixPlan *) most->plan->pdata[0])->cost, ==, 327 * COST_MIX_MONEY);
  g_assert_cmpint (most->bound, ==, 327 * COST_MIX_MONEY);
}

/* ---- exhaustive search on random small jobs ---- */

static CostMix *
random_mix (GRand *rand)
{
  guint n = (guint) g_rand_int_range (rand, 1, 7), m = (guint) g_rand_int_range (rand, 1, 5);
  CostMix *mix = cost_mix_new (n, m);
  gint64 span = g_rand_boolean (rand) ? 6 : 100000; /* small figures for ties */
  gint64 hours = 0;

  for (guint g = 0; g < n; g++)
    {
      guint sure = (guint) g_rand_int_range (rand, 0, (gint32) m);
      for (guint k = 0; k < m; k++)
        if (k == sure || g_rand_int_range (rand, 0, 5) > 0)
          {
            mix->cost[g * m + k] = g_rand_int_range (rand, 0, (gint32) span);
            mix->hours[g * m + k] = g_rand_int_range (rand, 0, (gint32) span);
            mix->use[g * m + k] = g_rand_int_range (rand, 1, 5);
            hours += mix->hours[g * m + k];
          }
    }
  for (guint k = 0; k < m; k++)
    {
      mix->setup[k] = g_rand_boolean (rand) ? g_rand_int_range (rand, 0, (gint32) span) : 0;
      mix->connection[k] = g_rand_int_range (rand, 0, 3);
      if (g_rand_int_range (rand, 0, 3) == 0)
        mix->tool[k] = g_rand_int_range (rand, 0, 2);
    }
  if (g_rand_boolean (rand))
    for (guint i = 0; i < n; i++)
      {
        gint64 *table = NULL;
        if (g_rand_int_range (rand, 0, 3) == 0)
          {
            table = g_new (gint64, m * m);
            for (guint k = 0; k < m * m; k++)
              table[k] = g_rand_int_range (rand, 0, 4);
          }
        cost_mix_add_boundary (mix, (guint) g_rand_int_range (rand, 0, (gint32) n),
                               (guint) g_rand_int_range (rand, 0, (gint32) n), g_rand_int_range (rand, 0, 4), table);
      }
  mix->boundary_cost = g_rand_int_range (rand, 0, (gint32) span);
  mix->boundary_hours = g_rand_int_range (rand, 0, (gint32) span);
  if (g_rand_int_range (rand, 0, 3) > 0)
    mix->most_hours = hours * g_rand_int_range (rand, 10, 60) / 100;
  if (g_rand_int_range (rand, 0, 3) == 0)
    mix->most_methods = (guint) g_rand_int_range (rand, 1, 4);
  if (g_rand_int_range (rand, 0, 3) == 0)
    for (guint k = 0; k < m; k++)
      if (g_rand_boolean (rand))
        mix->capacity[k] = g_rand_int_range (rand, 0, 12);
  mix->maximise = g_rand_int_range (rand, 0, 4) == 0;
  return mix;
}

/* Makes two methods one thing on some groups: figures and joints alike, connections told by tables alone. */
static void
make_twins (CostMix *mix, GRand *rand)
{
  guint m = mix->n_methods;

  for (guint k = 0; k < m; k++)
    mix->capacity[k] = COST_MIX_NONE;
  mix->same = g_new (int, mix->n_groups *m);
  for (guint i = 0; i < mix->n_groups * m; i++)
    mix->same[i] = (int) (i % m);
  for (guint i = 0; i < mix->boundary->len; i++)
    {
      CostMixBoundary *b = &g_array_index (mix->boundary, CostMixBoundary, i);
      if (!b->unmated)
        b->unmated = g_new0 (gint64, m * m);
    }
  for (guint g = 0; g < mix->n_groups; g++)
    {
      guint x = (guint) g_rand_int_range (rand, 0, (gint32) m), y = (guint) g_rand_int_range (rand, 0, (gint32) m);
      if (mix->cost[g * m + x] == COST_MIX_NONE)
        continue;
      mix->same[g * m + y] = mix->same[g * m + x];
      mix->cost[g * m + y] = mix->cost[g * m + x];
      mix->hours[g * m + y] = mix->hours[g * m + x];
      for (guint i = 0; i < mix->boundary->len; i++)
        {
          CostMixBoundary *b = &g_array_index (mix->boundary, CostMixBoundary, i);
          for (guint k = 0; k < m; k++)
            {
              if (b->a == g)
                b->unmated[y * m + k] = b->unmated[x * m + k];
              if (b->b == g)
                b->unmated[k * m + y] = b->unmated[k * m + x];
            }
        }
    }
}

static int
by_value (gconstpointer a, gconstpointer b)
{
  gint64 x = *(const gint64 *) a, y = *(const gint64 *) b;

  return x < y ? -1 : x > y;
}

/* Values of every assignment that keeps the limits, best first; the fewest hours without that limit. */
static GArray *
every_value (const CostMix *mix, gint64 *least)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (gint64));
  guint method[8] = { 0 }, at;
  /* Of assignments that are the same work the best counts. */
  g_autoptr (GHashTable) best = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  GHashTableIter iter;
  gint64 *kept;

  *least = COST_MIX_NONE;
  do
    {
      g_autoptr (CostMixPlan) plan = cost_mix_plan_new (mix, method);
      if (plan)
        {
          gint64 value = mix->maximise ? -plan->cost : plan->cost, hours = plan->hours;
          g_autoptr (GString) work = g_string_new (NULL);
          for (guint g = 0; g < mix->n_groups; g++)
            g_string_append_printf (work, "%d ",
                                    mix->same ? mix->same[g * mix->n_methods + method[g]] : (int) method[g]);
          kept = g_hash_table_lookup (best, work->str);
          if (cost_mix_keeps (mix, plan) && (!kept || value < *kept))
            g_hash_table_insert (best, g_strdup (work->str), g_memdup2 (&value, sizeof value));
          plan->hours = 0;
          if (cost_mix_keeps (mix, plan))
            *least = MIN (*least, hours);
        }
      for (at = 0; at < mix->n_groups && ++method[at] == mix->n_methods; at++)
        method[at] = 0;
    }
  while (at < mix->n_groups);
  g_hash_table_iter_init (&iter, best);
  while (g_hash_table_iter_next (&iter, NULL, (gpointer *) &kept))
    g_array_append_vals (out, kept, 1);
  g_array_sort (out, by_value);
  return out;
}

static void
test_every (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (7);
  guint infeasible = 0, bounded = 0;

  for (int round = 0; round < 6000; round++)
    {
      g_autoptr (CostMix) mix = random_mix (rand);
      CostMixHow how = { .wanted = (guint) g_rand_int_range (rand, 1, 5) };
      gint64 least;
      if (round % 3 == 0)
        make_twins (mix, rand);
      g_autoptr (GArray) values = every_value (mix, &least);
      g_assert_true (cost_mix_check (mix, NULL));
      g_autoptr (CostMixResult) result = cost_mix_solve (mix, &how);
      g_assert_true (result->proven);
      g_assert_cmpuint (result->plan->len, ==, MIN (values->len, how.wanted));
      for (guint i = 0; i < result->plan->len; i++)
        {
          const CostMixPlan *plan = result->plan->pdata[i];
          g_assert_cmpint (mix->maximise ? -plan->cost : plan->cost, ==, g_array_index (values, gint64, i));
        }
      infeasible += values->len == 0;
      bounded += mix->boundary->len > 0;
      if (round % 20 > 0)
        continue;
      g_autoptr (Fault) fault = NULL;
      g_autoptr (CostMixReport) report = cost_mix_report_new (mix, &how, &fault);
      g_assert_true ((report != NULL) == (values->len > 0));
      if (report)
        g_assert_cmpint (report->least_hours, ==, least);
      else
        g_assert_true (*fault->what && *fault->remedy);
    }
  /* The draw must hold both kinds. */
  g_assert_cmpuint (infeasible, >, 50);
  g_assert_cmpuint (bounded, >, 1000);
}

/* ---- larger jobs, and giving up ---- */

static CostMix *
large_mix (guint n, guint m, gboolean chain)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (n);
  CostMix *mix = cost_mix_new (n, m);
  gint64 hours = 0;

  for (guint g = 0; g < n; g++)
    for (guint k = 0; k < m; k++)
      {
        mix->cost[g * m + k] = g_rand_int_range (rand, 1000000, 9000000);
        mix->hours[g * m + k] = g_rand_int_range (rand, 1000000, 9000000) * (gint64) (m - k) / m;
        hours += mix->hours[g * m + k];
      }
  for (guint k = 0; k < m; k++)
    mix->setup[k] = 5000000 * (gint64) k;
  for (guint g = 1; chain && g < n; g++)
    cost_mix_add_boundary (mix, g - 1, g, g_rand_int_range (rand, 0, 3), NULL);
  mix->boundary_cost = 300000;
  mix->boundary_hours = 1200000;
  mix->most_hours = hours / m / 2;
  return mix;
}

typedef struct
{
  int left;
  double share;
} Patience;

static gboolean
patience_ends (gpointer data, double share, const CostMixPlan *best)
{
  Patience *p = data;

  (void) best;
  g_assert_cmpfloat (share, >=, p->share);
  p->share = share;
  return p->left-- > 0;
}

static void
test_stop (void)
{
  Patience patience = { 2, 0 };
  CostMixHow how = { 2, 0, patience_ends, &patience }, calm = { .wanted = 2 };
  g_autoptr (CostMix) mix = large_mix (3000, 4, TRUE);
  g_autoptr (CostMixResult) stopped = cost_mix_solve (mix, &how), whole = cost_mix_solve (mix, &calm);

  g_assert_true (whole->proven);
  gint64 best = ((CostMixPlan *) whole->plan->pdata[0])->cost;
  g_assert_true (stopped->stopped);
  g_assert_false (stopped->proven);
  /* What is said to be proven holds, and what was found keeps the limits. */
  g_assert_cmpint (stopped->bound, <=, best);
  if (stopped->plan->len > 0)
    {
      const CostMixPlan *plan = stopped->plan->pdata[0];
      g_assert_true (cost_mix_keeps (mix, plan));
      g_assert_cmpint (plan->cost, >=, best);
    }
}

/* ---- bad input ---- */

static void
test_bad_tables (void)
{
  static const char *const bad[] = {
    "name,cost_A\n1,2\n",        "group,price\n1,2\n",
    "group,cost_A\n1,two\n",     "group,cost_A,hours_A\n1,2,1.00001\n",
    "group,cost_A,next\n1,2,\n", "group,cost_A,next,joints\n1,2,9,1\n",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
      g_autoptr (CsvTable) table = csv_parse (bad[i], -1, "bad", faults);
      g_assert_null (cost_mix_read (table, FALSE, faults));
      g_assert_cmpuint (faults->len, ==, 1);
      g_assert_true (*((CsvFault *) faults->pdata[0])->remedy);
    }
}

/* Under a limit on hours a method without them was taken to need none. */
static void
test_hours_needed (void)
{
  static const struct
  {
    const char *text, *complaint;
    int line, column;
  } bad[] = { { "group,cost_A,hours_A\none,2,1\ntwo,3,\n", "the cell is empty", 3, 3 },
              { "group,cost_A,hours_A,cost_B\none,2,1,3\n", "no column “hours_B”", 1, 0 } };

  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
      g_autoptr (CsvTable) table = csv_parse (bad[i].text, -1, "bad", faults);
      g_autoptr (CostMix) free = cost_mix_read (table, FALSE, faults);
      g_assert_nonnull (free);
      g_assert_null (cost_mix_read (table, TRUE, faults));
      g_assert_cmpuint (faults->len, ==, 1);
      const CsvFault *fault = faults->pdata[0];
      g_assert_nonnull (strstr (fault->what, bad[i].complaint));
      g_assert_cmpint (fault->line, ==, bad[i].line);
      g_assert_cmpint (fault->column, ==, bad[i].column);
    }
}

/* 19.08 h a group: the least is 38.16 h, which was told as 38.2; that limit itself can be kept. Computed. */
static void
test_least_hours (void)
{
  g_autoptr (CostMix) mix = cost_mix_new (2, 1);
  g_autoptr (Fault) fault = NULL;

  for (guint g = 0; g < 2; g++)
    {
      mix->cost[g] = 1;
      mix->hours[g] = COST_MIX_HOUR * 1908 / 100;
    }
  mix->most_hours = COST_MIX_HOUR * 38;
  g_assert_null (cost_mix_report_new (mix, NULL, &fault));
  g_assert_cmpstr (fault->what, ==, "no mix keeps within 38 hours; the least is 38.16");
  mix->most_hours = COST_MIX_HOUR * 3816 / 100;
  g_autoptr (CostMixReport) kept = cost_mix_report_new (mix, NULL, NULL);
  g_assert_nonnull (kept);
}

static void
test_bad_figures (void)
{
  g_autoptr (CostMix) mix = cost_mix_new (2, 2);
  g_autoptr (Fault) none = NULL, below = NULL;

  cost_mix_set_group (mix, 0, "plant");
  g_assert_false (cost_mix_check (mix, &none));
  g_assert_cmpstr (none->what, ==, "no method is allowed on group “plant”");
  for (guint i = 0; i < 4; i++)
    mix->cost[i] = 1;
  mix->hours[1] = -1;
  g_assert_false (cost_mix_check (mix, &below));
  g_assert_nonnull (strstr (below->what, "below 0"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/mix/twelve-groups", test_twelve);
  g_test_add_func ("/mix/next-best", test_next_best);
  g_test_add_func ("/mix/report", test_report);
  g_test_add_func ("/mix/infeasible", test_infeasible);
  g_test_add_func ("/mix/places", test_places);
  g_test_add_func ("/mix/assignment", test_assignment);
  g_test_add_func ("/mix/every-assignment", test_every);
  g_test_add_func ("/mix/stop", test_stop);
  g_test_add_func ("/mix/bad-tables", test_bad_tables);
  g_test_add_func ("/mix/hours-needed", test_hours_needed);
  g_test_add_func ("/mix/least-hours", test_least_hours);
  g_test_add_func ("/mix/bad-figures", test_bad_figures);
  return g_test_run ();
}

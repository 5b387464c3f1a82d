/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Two ways beside each other and where they change places. Prices and minutes of the starter tables are invented
 * demo. */
#include "fixture.h"

#include "base/money.h"
#include "cost/compare.h"

static Catalogue *starter;

/* ---- the closed form for one joint ---- */

/* Computed from illustrative figures: wage 68.40; A four bolts, 12.8 min and 2.48; B four driven fasteners, 7.6 min
 * and 6.10; set-up 1,450. */
static const CostJointPair pair = { 2.48, 12.8, 6.10, 7.6, 68.40, 1450, 4 };

static void
test_joint (void)
{
  CostJointEven e;

  cost_joint_even (&pair, &e);
  assert_near (e.cost_a, 17.072000, 5e-7);
  assert_near (e.cost_b, 14.764000, 5e-7);
  assert_near (e.difference, 2.308000, 5e-7);
  assert_near (e.wage, 41.769231, 5e-7);
  assert_near (e.hardware_b, 8.408000, 5e-7);
  assert_near (e.fastener_b, 2.102000, 5e-7);
  assert_near (e.minutes_b, 9.624561, 5e-7);
  assert_near (e.least_saving * 100, 24.808114, 5e-7);
  assert_near (e.joints, 628.249567, 5e-7);
  assert_near (ceil (e.joints), 629, 1e-9);
}

static CostJointPair
swapped (const CostJointPair *p)
{
  /* The set-up belongs to the other one now. */
  return (CostJointPair){ p->hardware_b, p->minutes_b, p->hardware_a, p->minutes_a, p->wage, -p->setup, p->fasteners };
}

/* Swapping flips the sign of the difference and leaves the wage and the joints; each figure put in makes both cost
 * the same. */
static void
test_joint_random (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (61);

  for (int i = 0; i < 2000; i++)
    {
      CostJointPair p = { g_rand_double_range (rand, 0, 10),
                          g_rand_double_range (rand, 1, 30),
                          g_rand_double_range (rand, 0, 10),
                          g_rand_double_range (rand, 1, 30),
                          g_rand_double_range (rand, 10, 150),
                          g_rand_double_range (rand, 1, 9000),
                          4 };
      CostJointPair other = swapped (&p), at = p;
      CostJointEven e, o, check;
      cost_joint_even (&p, &e);
      cost_joint_even (&other, &o);
      assert_near (e.difference, -o.difference, 1e-12);
      g_assert_true (isnan (e.wage) == isnan (o.wage));
      g_assert_true (isinf (e.joints) == isinf (o.joints));
      g_assert_true (isinf (e.joints) == (e.difference < 0));
      if (!isinf (e.joints))
        {
          assert_near (e.joints / o.joints, 1, 1e-9);
          assert_near (e.joints * e.difference, p.setup, 1e-6);
        }
      if (!isnan (e.wage))
        {
          assert_near (e.wage, o.wage, 1e-6 * (1 + e.wage));
          at.wage = e.wage;
          cost_joint_even (&at, &check);
          assert_near (check.difference, 0, 1e-9 * (1 + check.cost_a));
        }
      at = p;
      at.hardware_b = e.hardware_b;
      cost_joint_even (&at, &check);
      assert_near (check.difference, 0, 1e-9);
      at = p;
      at.minutes_b = e.minutes_b;
      cost_joint_even (&at, &check);
      assert_near (check.difference, 0, 1e-9);
    }
}

/* A difference of exactly zero is "equal", not infinity; no saving of minutes, no wage. */
static void
test_joint_edges (void)
{
  CostJointPair same = { 2, 10, 2, 10, 60, 1000, 4 }, dearer = { 2, 10, 3, 10, 60, 1000, 4 },
                worse = { 2, 10, 3, 12, 60, 1000, 0 };
  CostJointEven e;

  cost_joint_even (&same, &e);
  g_assert_true (e.difference == 0);
  g_assert_true (isnan (e.joints));
  g_assert_true (isnan (e.wage));
  cost_joint_even (&dearer, &e);
  g_assert_true (isinf (e.joints));
  g_assert_true (isnan (e.wage));
  cost_joint_even (&worse, &e);
  g_assert_true (isinf (e.joints));
  g_assert_true (isnan (e.wage)); /* only a wage below zero would do */
  g_assert_true (isnan (e.fastener_b));
}

/* ---- options over a scope ---- */

typedef struct
{
  CostBasis *basis;
  gint64 *vector;
  NumWide *time;
  CostOption option;
} Scope;

static CostBasis *
basis_new (const char *changes)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  g_autoptr (Fault) fault = NULL;
  g_auto (GStrv) words = g_strsplit (changes ? changes : "", "; ", -1);
  CostBasis *basis;

  for (char **w = words; *w; w++)
    g_ptr_array_add (list, cost_change_parse (*w, NULL));
  basis = cost_basis_new (starter, list, NULL, &fault);
  if (fault)
    g_test_message ("%s: %s", changes, fault->what);
  g_assert_null (fault);
  return basis;
}

/* Adds one run, @times, under a condition on all that is done in the field. */
static void
add_run (Scope *scope, int method, DuctShape s, gint64 field_ppm, gint64 times, CostSums *sums)
{
  g_autofree gint64 *one = g_new (gint64, scope->basis->n_vector);
  LabourCondition field = { .factor_ppm = field_ppm, .places = ~(1u << LABOUR_SHOP), .groups = ~0u };
  LabourFactors factors;
  DuctMeasure m;

  fixture_resolve (starter->rules, &s);
  method = cost_effective_method (scope->basis, method, &s, NULL);
  fixture_measure (starter->rules, &s,
                   duct_rules_connection (starter->rules, catalogue_method (starter, method)->connection)->key, &m);
  cost_price_measure (scope->basis, method, (DuctKind) s.kind, &m, LABOUR_LIKELY, one);
  labour_factors_init (&factors);
  labour_factors_apply (&factors, &field);
  cost_sums_add (sums, scope->basis, one, &factors, 300000, times);
  for (int i = 0; i < scope->basis->n_vector; i++)
    scope->vector[i] += one[i] * times;
}

static DuctShape
straight (double w, double h, double class_in, double length_ft)
{
  DuctShape s = fixture_shape (DUCT_STRAIGHT, w, h, class_in);

  s.dim[DUCT_DIM_LENGTH] = (gint64) (length_ft * FT + 0.5);
  return s;
}

static Scope *
scope_new (const char *method, const char *changes, gboolean hand)
{
  Scope *scope = g_new0 (Scope, 1);
  int m = catalogue_find_method (starter, method);
  CostSums sums = { 0 };

  scope->basis = basis_new (changes);
  scope->vector = g_new0 (gint64, scope->basis->n_vector);
  sums.slot_time = scope->time = g_new0 (NumWide, scope->basis->n_slots);
  if (hand)
    add_run (scope, m, straight (24, 12, 2, 5), 1000000, 1, &sums);
  else
    {
      add_run (scope, m, straight (60, 30, 4, 46), 1100000, 1, &sums);
      add_run (scope, m, straight (24, 12, 2, 113.5), 1000000, 3, &sums);
      add_run (scope, m, straight (16, 12, 1, 77), 1050000, 4, &sums);
      add_run (scope, m, fixture_shape (DUCT_RADIUS_ELBOW, 24, 12, 2), 1000000, 7, &sums);
      add_run (scope, m, fixture_shape (DUCT_MITRED_ELBOW, 96, 48, 6), 1100000, 1, &sums);
      add_run (scope, m, fixture_shape (DUCT_TAP, 12, 8, 2), 1000000, 20, &sums);
      add_run (scope, m, fixture_shape (DUCT_OFFSET, 14, 10, 1), 1050000, 2, &sums);
    }
  cost_option_init (&scope->option, scope->basis, m, &sums, scope->vector, 2);
  return scope;
}

static void
scope_free (Scope *scope)
{
  cost_option_clear (&scope->option);
  cost_basis_unref (scope->basis);
  g_free (scope->vector);
  g_free (scope->time);
  g_free (scope);
}

/* Cost with tooling, unrounded. */
static double
cost_of (const Scope *s)
{
  return buildup_smooth (s->basis, &s->option.sums, buildup_find (s->basis, "cost")) + (double) s->option.once / 100;
}

/* The piece worked by hand: 19.900 and 13.400 minutes a joint, 28.566 shop, 66.791 and 60.291 field (invented demo). */
static void
test_option (void)
{
  Scope *bolted = scope_new ("slip-on-bolted", NULL, TRUE), *driven = scope_new ("slip-on-driven", NULL, TRUE);
  const CostOption *a = &bolted->option, *b = &driven->option;

  assert_near (a->minutes_a_joint, 19.9, 1e-9);
  assert_near (b->minutes_a_joint, 13.4, 1e-9);
  assert_near (a->shop_hours * 60, 28.566, 0.0005);
  assert_near (a->field_hours * 60, 66.791, 0.0005);
  assert_near (b->field_hours * 60, 60.291, 0.0005);
  /* joint hardware: flange 13.91515, screws 0.98, gasket 1.50675, cleats 0.76, sealant 0.52; corners and bolts 6.08,
   * or 11.064 */
  assert_near (a->hardware_a_joint, 17.6819 + 6.08, 1e-6);
  assert_near (b->hardware_a_joint, 17.6819 + 11.064, 1e-6);
  g_assert_cmpint (a->material, ==, 6753);
  g_assert_cmpint (b->material, ==, 7251);
  g_assert_cmpint (a->once, ==, 0);
  g_assert_cmpint (b->once, ==, 190000);
  g_assert_cmpint (a->joints, ==, 1000);
  g_assert_cmpint (a->pieces, ==, 1000);
  assert_near ((double) a->net_mg / 453592.37, 35.4025, 1e-4);
  assert_near ((double) a->shipped_mg / 453592.37, 43.12125, 1e-4);
  /* 67.53 + 4.90 + 32.37 + 102.41 + 12.29 = 219.50, 245.84, 14.75 a unit: each line to the cent */
  g_assert_cmpint (a->cost, ==, 6753 + 490 + 3237 + 10241 + 1229);
  g_assert_cmpint (a->price, ==, buildup_get (a->buildup, "price"));
  scope_free (bolted);
  scope_free (driven);
}

/* Every run by its own method: the tooling counts when something stands there that only its methods use. */
static void
test_mix_tooling (void)
{
  Scope *bolted = scope_new ("slip-on-bolted", NULL, FALSE), *driven = scope_new ("slip-and-drive-driven", NULL, FALSE);
  CostOption mix;

  cost_option_init (&mix, bolted->basis, -1, &bolted->option.sums, bolted->vector, 2);
  g_assert_cmpint (mix.once, ==, 0);
  g_assert_cmpint (mix.cost, ==, bolted->option.cost);
  cost_option_clear (&mix);
  cost_option_init (&mix, driven->basis, -1, &driven->option.sums, driven->vector, 2);
  g_assert_cmpint (mix.once, ==, 190000);
  cost_option_clear (&mix);
  scope_free (bolted);
  scope_free (driven);
}

/* Place among the break-evens, -1. */
static int
find (const GArray *evens, CostEvenKind kind, const char *key)
{
  int target = kind == COST_EVEN_ITEM   ? catalogue_find_item (starter, key)
               : kind == COST_EVEN_STEP ? labour_find_step (starter->labour, key)
                                        : -1;

  for (guint i = 0; i < evens->len; i++)
    if (g_array_index (evens, CostEven, i).kind == kind && g_array_index (evens, CostEven, i).target == target)
      return (int) i;
  return -1;
}

static CostEven
even_of (const GArray *evens, CostEvenKind kind, const char *key)
{
  int i = find (evens, kind, key);

  g_assert_cmpint (i, >=, 0);
  return g_array_index (evens, CostEven, i);
}

/* Worked by hand on one piece, no tooling: material 4.984 dearer, with 7.25 % tax 5.34534; 6.5 minutes at 92 an
 * hour, with 12 % site general 11.162667 less; so 5.817327 a joint. The rate at which they are equal is 5.34534 x 60
 * / (6.5 x 1.12) = 44.055; a fastener may cost 1.30 + 5.817327 / (4.08 x 1.0725) = 2.62943; driving and aligning may
 * take longer. */
static void
test_hand (void)
{
  Scope *a = scope_new ("slip-on-bolted", "item.driver tooling and training.price=0", TRUE);
  Scope *b = scope_new ("slip-on-driven", "item.driver tooling and training.price=0", TRUE);
  g_autoptr (GArray) evens = cost_break_evens (b->basis, &a->option, &b->option);
  static const struct
  {
    CostEvenKind kind;
    const char *key;
    double now, even;
  } rows[] = {
    { COST_EVEN_FIELD_RATE, NULL, 92, 44.05500 },
    { COST_EVEN_ITEM, "driven fastener", 1.30, 2.629431 },
    { COST_EVEN_ITEM, "corner for driven fasteners", 0.72, 0.72 + 5.817327 / (8 * 1.0725) },
    { COST_EVEN_STEP, "align for driven fasteners", 1, 1 + 5.817327 / (5.3 * 92 / 60 * 1.12) },
    { COST_EVEN_STEP, "drive fastener", 1, 1 + 5.817327 / (1.8 * 92 / 60 * 1.12) },
    { COST_EVEN_STEP, "align and clamp", 1, 1 - 5.817327 / (8.4 * 92 / 60 * 1.12) },
    { COST_EVEN_STEP, "bolt and nut", 1, 1 - 5.817327 / (5.2 * 92 / 60 * 1.12) },
    { COST_EVEN_TOOLING, NULL, 0, 5.817327 },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      CostEven e = even_of (evens, rows[i].kind, rows[i].key);
      g_test_message ("row %d", (int) i);
      g_assert_true (e.exists);
      g_assert_false (e.equal);
      assert_near (e.now, rows[i].now, 1e-9);
      /* The tooling that pays is the saving as the build-ups print it, each line to the cent. */
      assert_near (e.even, rows[i].even, rows[i].kind == COST_EVEN_TOOLING ? 0.01 : 2e-6);
    }
  /* Bolts and their corners are used by A only: cheaper ones would have to cost less than nothing to catch up. */
  g_assert_false (even_of (evens, COST_EVEN_ITEM, "bolt and nut 3/8 x 1").exists);
  g_assert_false (even_of (evens, COST_EVEN_ITEM, "corner for bolts").exists);
  g_assert_false (even_of (evens, COST_EVEN_JOINTS, NULL).exists);            /* nothing to pay off */
  g_assert_cmpint (find (evens, COST_EVEN_ITEM, "galvanised sheet"), ==, -1); /* alike in both */
  g_assert_cmpint (find (evens, COST_EVEN_STEP, "cleat"), ==, -1);
  g_assert_cmpuint (evens->len, ==, 3 + 4 + 4);
  scope_free (a);
  scope_free (b);

  /* With the tooling of 1,900 it takes 1900 / 5.817327 = 326.611 such joints. */
  a = scope_new ("slip-on-bolted", NULL, TRUE);
  b = scope_new ("slip-on-driven", NULL, TRUE);
  g_autoptr (GArray) tooled = cost_break_evens (b->basis, &a->option, &b->option);
  assert_near (even_of (tooled, COST_EVEN_JOINTS, NULL).now, 1, 1e-12);
  assert_near (even_of (tooled, COST_EVEN_JOINTS, NULL).even, 326.6105, 0.001);
  assert_near (even_of (tooled, COST_EVEN_TOOLING, NULL).now, 1900, 1e-9);
  assert_near (even_of (tooled, COST_EVEN_TOOLING, NULL).even, 5.817327, 0.01);
  scope_free (a);
  scope_free (b);
}

/* Multiplies the likely minutes of a step by @k, as changes; only for steps of one band. */
static char *
step_change (int step, double k)
{
  static const char *const rest[] = { "", "_per_ft", "_per_lb" };
  const LabourStep *info = catalogue_step (starter, step);
  const LabourBand *band = &g_array_index (info->bands, LabourBand, 0);
  const gint64 *figures[] = { band->fixed, band->per_ft, band->per_lb };
  GString *out = g_string_new (NULL);

  for (int i = 0; i < 3; i++)
    if (figures[i][LABOUR_LIKELY] > 0)
      g_string_append_printf (out, "%sstep.%s.likely%s=%.9f", out->len ? "; " : "", info->key, rest[i],
                              (double) figures[i][LABOUR_LIKELY] * k / 1e9);
  return g_string_free (out, FALSE);
}

/* The change that sets a figure to its break-even; NULL where none can be written. */
static char *
even_change (const CostEven *e)
{
  switch (e->kind)
    {
    case COST_EVEN_FIELD_RATE:
      return g_strdup_printf ("rate.field=%.4f", e->even);
    case COST_EVEN_ITEM:
      return g_strdup_printf ("item.%s.price=%.4f", catalogue_item (starter, e->target)->key, e->even);
    case COST_EVEN_STEP:
      /* a thousand times the minutes of a step would be refused */
      return catalogue_step (starter, e->target)->bands->len == 1 && e->even < 100 ? step_change (e->target, e->even)
                                                                                   : NULL;
    case COST_EVEN_TOOLING:
      /* Where neither needs any there is no price to change. */
      return e->now > 0 ? g_strdup_printf ("item.driver tooling and training.price=%.4f", e->even) : NULL;
    case COST_EVEN_JOINTS:
    default:
      return NULL;
    }
}

static const char *const pairs[][2] = {
  { "slip-on-bolted", "slip-on-driven" },  { "slip-on-driven", "slip-on-bolted" },
  { "slip-on-bolted", "integral-bolted" }, { "slip-on-driven", "slip-and-drive-driven" },
  { "integral-bolted", "slip-on-driven" }, { "slip-and-drive", "slip-on-driven" },
};

/* A break-even really balances: the catalogue changed to it and everything priced anew gives equal cost with
 * tooling, but for what the changed figure was rounded to write it down. */
static void
test_balances (void)
{
  int checked = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      Scope *a = scope_new (pairs[i][0], NULL, FALSE), *b = scope_new (pairs[i][1], NULL, FALSE);
      g_autoptr (GArray) evens = cost_break_evens (a->basis, &a->option, &b->option);
      for (guint k = 0; k < evens->len; k++)
        {
          const CostEven *e = &g_array_index (evens, CostEven, k);
          g_autofree char *change = e->exists && (e->kind != COST_EVEN_ITEM || e->even < 1e7) ? even_change (e) : NULL;
          if (!change)
            continue;
          Scope *x = scope_new (pairs[i][0], change, FALSE), *y = scope_new (pairs[i][1], change, FALSE);
          double was = cost_of (a) - cost_of (b), slope = fabs (e->even - e->now) > 1e-9 ? was / (e->even - e->now) : 0;
          /* half of the last digit a price or rate is written with; whole milliseconds of a step on each piece */
          double loose =
              e->kind == COST_EVEN_STEP ? 0.02 : fabs (slope) * 0.00005 + (e->kind == COST_EVEN_TOOLING ? 0.006 : 1e-4);
          g_test_message ("%s to %s: %s leaves %.6f of %.2f", pairs[i][0], pairs[i][1], change,
                          cost_of (x) - cost_of (y), was);
          g_assert_cmpfloat (fabs (was), >, 100);
          assert_near (cost_of (x) - cost_of (y), 0, loose);
          checked++;
          scope_free (x);
          scope_free (y);
        }
      CostEven joints = even_of (evens, COST_EVEN_JOINTS, NULL);
      if (joints.exists)
        {
          double saving =
              fabs (cost_of (a) - (double) a->option.once / 100 - cost_of (b) + (double) b->option.once / 100);
          assert_near (saving * joints.even / joints.now, 1900, 1e-6);
        }
      scope_free (a);
      scope_free (b);
    }
  g_assert_cmpint (checked, >, 40);
}

/* Swapping the two leaves every break-even as it is; the largest effect comes first. */
static void
test_swap (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      Scope *a = scope_new (pairs[i][0], NULL, FALSE), *b = scope_new (pairs[i][1], NULL, FALSE);
      g_autoptr (GArray) there = cost_break_evens (a->basis, &a->option, &b->option);
      g_autoptr (GArray) back = cost_break_evens (a->basis, &b->option, &a->option);
      g_assert_cmpuint (there->len, ==, back->len);
      for (guint k = 0; k < there->len; k++)
        {
          const CostEven *e = &g_array_index (there, CostEven, k), *o = &g_array_index (back, CostEven, k);
          g_assert_cmpint (e->kind, ==, o->kind);
          g_assert_cmpint (e->target, ==, o->target);
          g_assert_true (e->exists == o->exists && e->equal == o->equal);
          assert_near (e->now, o->now, 1e-9);
          /* what one gains the other loses, today and at every figure; at the break-even nothing */
          assert_near (e->gain, cost_of (a) - cost_of (b), e->kind == COST_EVEN_TOOLING ? 0.05 : 1e-6);
          assert_near (e->gain, -o->gain, 1e-9 * (1 + fabs (e->gain)));
          assert_near (e->slope, -o->slope, 1e-9 * (1 + fabs (e->slope)));
          assert_near (cost_even_gain (e, e->now), e->gain, 1e-12);
          if (e->exists)
            {
              assert_near (e->even, o->even, 1e-9 * (1 + fabs (e->even)));
              assert_near (cost_even_gain (e, e->even), 0, 1e-6);
            }
          else
            g_assert_true (isnan (e->even));
        }
      assert_near (cost_of (a) - cost_of (b), -(cost_of (b) - cost_of (a)), 1e-12);
      scope_free (a);
      scope_free (b);
    }
}

static void
test_order (void)
{
  Scope *a = scope_new ("slip-on-bolted", NULL, TRUE), *b = scope_new ("slip-on-driven", NULL, TRUE);
  g_autoptr (GArray) evens = cost_break_evens (a->basis, &a->option, &b->option);
  /* 8.4, 5.3, 5.2, 1.8 minutes at 92 with 12 %: 14.43, 9.10, 8.93, 3.09; 5.76, 5.304, 4.64, 1.44 of items with 7.25
   * %: 6.18, 5.69, 4.98, 1.54 */
  static const char *const order[] = { "align and clamp", "align for driven fasteners",
                                       "bolt and nut",    "corner for driven fasteners",
                                       "driven fastener", "corner for bolts",
                                       "drive fastener",  "bolt and nut 3/8 x 1" };

  g_assert_cmpint (g_array_index (evens, CostEven, 0).kind, ==, COST_EVEN_FIELD_RATE);
  g_assert_cmpint (g_array_index (evens, CostEven, 1).kind, ==, COST_EVEN_TOOLING);
  g_assert_cmpint (g_array_index (evens, CostEven, 2).kind, ==, COST_EVEN_JOINTS);
  g_assert_cmpuint (evens->len, ==, 3 + G_N_ELEMENTS (order));
  for (guint k = 0; k < G_N_ELEMENTS (order); k++)
    {
      const CostEven *e = &g_array_index (evens, CostEven, 3 + k);
      g_assert_cmpstr (e->kind == COST_EVEN_ITEM ? catalogue_item (starter, e->target)->key
                                                 : catalogue_step (starter, e->target)->key,
                       ==, order[k]);
    }
  scope_free (a);
  scope_free (b);
}

/* The same method twice: all differences are zero, so "equal" and no break-even anywhere. */
static void
test_same (void)
{
  Scope *a = scope_new ("slip-on-driven", NULL, FALSE);
  g_autoptr (GArray) evens = cost_break_evens (a->basis, &a->option, &a->option);

  g_assert_cmpuint (evens->len, ==, 3);
  for (guint k = 0; k < evens->len; k++)
    {
      const CostEven *e = &g_array_index (evens, CostEven, k);
      g_assert_true (e->equal);
      g_assert_false (e->exists);
      g_assert_true (isnan (e->even));
    }
  scope_free (a);
}

/* Equal cost by different ways: today's figures are the break-evens. 1.12 x 60 of field labour against 1.0725 x
 * 62.657... of material would not be exact, so the build-up is plain here. */
static void
test_equal (void)
{
  static const char plain[] = "line,label,op,of,rate_pct,amount\nmaterial,,items,material,,\nfield,,labour,field,,\n"
                              "fee,,amount,,,100\ncost,,sum,material+field+fee,,\nprice,,sum,cost,,\n";
  g_autoptr (CsvTable) table = csv_parse (plain, -1, "buildup.csv", NULL);
  g_autoptr (CostBasis) basis = cost_basis_new (starter, NULL, table, NULL);
  g_autofree gint64 *va = g_new0 (gint64, basis->n_vector), *vb = g_new0 (gint64, basis->n_vector);
  int item = catalogue_find_item (starter, "vane rail"); /* 2.10 */
  CostSums a = { 0 }, b = { 0 };
  CostOption x, y;

  /* A: 100 ft of rail, 210.00. B: nothing but 2 1/2 hours at 84.00. */
  va[item] = 100000000;
  a.items[COST_MATERIAL] = (NumWide) va[item] * basis->price[item];
  b.time[0] = (NumWide) 9000000 * 1000000;
  b.labour[0] = b.time[0] * 840000;
  cost_option_init (&x, basis, 0, &a, va, 2);
  cost_option_init (&y, basis, 0, &b, vb, 2);
  g_assert_cmpint (x.cost, ==, 31000);
  g_assert_cmpint (y.cost, ==, 31000);
  g_autoptr (GArray) evens = cost_break_evens (basis, &x, &y);
  CostEven rate = even_of (evens, COST_EVEN_FIELD_RATE, NULL), rail = even_of (evens, COST_EVEN_ITEM, "vane rail");
  g_assert_true (rate.equal && rate.exists && rail.equal && rail.exists);
  assert_near (rate.now, 84, 1e-9);
  assert_near (rate.even, 84, 1e-9);
  assert_near (rail.even, 2.10, 1e-9);
  g_assert_cmpuint (evens->len, ==, 4); /* no slot_time: no steps */
  cost_option_clear (&x);
  cost_option_clear (&y);
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/compare/joint", test_joint);
  g_test_add_func ("/compare/joint-random", test_joint_random);
  g_test_add_func ("/compare/joint-edges", test_joint_edges);
  g_test_add_func ("/compare/option", test_option);
  g_test_add_func ("/compare/mix-tooling", test_mix_tooling);
  g_test_add_func ("/compare/hand", test_hand);
  g_test_add_func ("/compare/balances", test_balances);
  g_test_add_func ("/compare/swap", test_swap);
  g_test_add_func ("/compare/order", test_order);
  g_test_add_func ("/compare/same", test_same);
  g_test_add_func ("/compare/equal", test_equal);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A figure taken apart: what is shown multiplies and adds to what is priced, to the last digit. */
#include "fixture.h"

#include "cost/explain.h"

static Catalogue *starter;

static CostBasis *
basis_new (const char *change)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  CostBasis *basis;

  if (change)
    g_ptr_array_add (list, cost_change_parse (change, NULL));
  basis = cost_basis_new (starter, list, NULL, NULL);
  g_assert_nonnull (basis);
  return basis;
}

static GArray *
explain (const CostBasis *basis, const char *method, DuctShape *s, const LabourFactors *factors, gint64 floor_ppm,
         DuctMeasure *m)
{
  int at = catalogue_find_method (starter, method);

  fixture_measure (starter->rules, s,
                   duct_rules_connection (starter->rules, catalogue_method (starter, at)->connection)->key, m);
  return cost_explain (basis, at, (DuctKind) s->kind, m, factors, floor_ppm);
}

static DuctShape
straight (double w, double h, double class_in, double length_ft)
{
  DuctShape s = fixture_shape (DUCT_STRAIGHT, w, h, class_in);

  s.dim[DUCT_DIM_LENGTH] = (gint64) (length_ft * FT + 0.5);
  return s;
}

/* Place of the first line on a step or an item, -1. */
static int
find (const GArray *lines, gboolean step, const char *key)
{
  int target = step ? labour_find_step (starter->labour, key) : catalogue_find_item (starter, key);

  for (guint i = 0; i < lines->len; i++)
    {
      const CostExplainLine *line = &g_array_index (lines, CostExplainLine, i);
      if (line->step == step && line->target == target)
        return (int) i;
    }
  return -1;
}

static CostExplainLine
line_of (const GArray *lines, gboolean step, const char *key)
{
  int i = find (lines, step, key);

  g_assert_cmpint (i, >=, 0);
  return g_array_index (lines, CostExplainLine, i);
}

/* The piece worked by hand, invented demo: 24x12, one piece, two frames: assemble frame 2.2 x 2 = 4.4 worker-minutes
 * in the shop. */
static void
test_hand (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  DuctShape s = straight (24, 12, 2, 5);
  LabourFactors even;
  DuctMeasure m;

  labour_factors_init (&even);
  g_autoptr (GArray) lines = explain (basis, "slip-on-bolted", &s, &even, 0, &m);
  const CostExplainLine frame = line_of (lines, TRUE, "assemble frame");
  g_assert_cmpint (frame.pieces, ==, 1);
  g_assert_cmpint (frame.driver, ==, DUCT_FRAME);
  g_assert_cmpint (frame.count, ==, 2000);
  g_assert_cmpint (frame.fixed, ==, G_GINT64_CONSTANT (2200000000));
  g_assert_cmpint (frame.per_ft, ==, 0);
  g_assert_cmpint (frame.length, ==, 0);
  g_assert_cmpint (frame.place, ==, LABOUR_SHOP);
  g_assert_cmpint (frame.amount, ==, 264000); /* 4.4 min */
  g_assert_cmpint (frame.factor_ppm, ==, 1000000);
  g_assert_cmpstr (frame.status, ==, "invented demo");
  g_assert_true (frame.money == (NumWide) 264000 * 1000000 * 680000);

  /* 18 steps and 11 items: nothing that the piece has none of */
  g_assert_cmpuint (lines->len, ==, 18 + 11);
  g_assert_cmpint (find (lines, TRUE, "drive fastener"), ==, -1);
  g_assert_cmpint (find (lines, TRUE, "lift set-up"), ==, -1);
  g_assert_cmpint (find (lines, FALSE, "cleat continuous"), ==, -1);
}

static void
assert_words (const CostBasis *basis, const GArray *lines, gboolean step, const char *key, const char *wanted)
{
  CostExplainLine line = line_of (lines, step, key);
  g_autofree char *words = cost_explain_words (basis, &line);

  g_assert_cmpstr (words, ==, wanted);
}

/* Amounts by hand as in the invented demo: 2.2 x 2 x 68 / 60 = 4.9867; 8.4 at 92 is 12.88; 11 1/8 ft x 1.06 x 1.18. */
static void
test_words (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  DuctShape s = straight (24, 12, 2, 5), run = straight (24, 12, 2, 15), tap = fixture_shape (DUCT_TAP, 12, 8, 2);
  LabourFactors even, hard;
  DuctMeasure m;

  labour_factors_init (&even);
  labour_factors_init (&hard);
  labour_factors_apply (&hard, &(LabourCondition){ .factor_ppm = 1100000, .places = 1u << LABOUR_AIR, .groups = ~0u });

  g_autoptr (GArray) one = explain (basis, "slip-on-bolted", &s, &even, 0, &m);
  assert_words (basis, one, TRUE, "assemble frame",
                "assemble frame (shop): 2 x 2.2 min = 4.400 worker-minutes a piece; x 68.00 a worker-hour = 4.9867");
  assert_words (basis, one, TRUE, "align and clamp",
                "align and clamp (joint): 1 x 6 min + 6 ft x 0.4 min = 8.400 worker-minutes a piece; x 92.00 a "
                "worker-hour = 12.88");
  assert_words (basis, one, TRUE, "bolt and nut",
                "bolt and nut (joint): 1 x 1.3 min x 4 = 5.200 worker-minutes a piece; x 92.00 a worker-hour = 7.9733");
  assert_words (basis, one, FALSE, "slip-on flange",
                "slip-on flange: 11.125 ft x 1.06 for overage = 11.7925 ft a piece; x 1.18 a ft = 13.9152");
  assert_words (basis, one, FALSE, "sealant tube", "sealant tube: 1 x 1/10 = 0.1 a piece; x 5.20 each = 0.52");

  /* Three like pieces are one lot. */
  g_autoptr (GArray) three = explain (basis, "slip-on-bolted", &run, &hard, 0, &m);
  g_assert_cmpint (m.n_lots, ==, 1);
  assert_words (
      basis, three, TRUE, "assemble frame",
      "assemble frame (shop): 2 x 2.2 min = 4.400 worker-minutes a piece; x 3 pieces x 68.00 a worker-hour = 14.96");

  g_autoptr (GArray) branch = explain (basis, "slip-on-bolted", &tap, &hard, 0, &m);
  assert_words (basis, branch, TRUE, "punch, clean and cover",
                "punch, clean and cover (air): 1 x 4 min x 1/2 = 2.000 worker-minutes a piece; x 1.10 for conditions x "
                "92.00 a worker-hour = 3.3733");

  /* Each part of a factor by its own name, computed: 1.1 x 1.25 x 0.8 x 1.05 = 1.155; 5.2 min at 92 x 1.155 = 9.2092. Two ends of 24 x 12 in
   * are 4 ft2 of film: areas in the digits that they are known to. */
  labour_factors_apply (&hard, &(LabourCondition){ .factor_ppm = 1250000, .places = 1u << LABOUR_AIR, .groups = ~0u });
  hard.lost[0] = 1250000;
  hard.learned = 800000;
  hard.remade = 50000;
  g_autoptr (GArray) parts = explain (basis, "slip-on-bolted", &s, &hard, 0, &m);
  assert_words (basis, parts, TRUE, "bolt and nut",
                "bolt and nut (joint): 1 x 1.3 min x 4 = 5.200 worker-minutes a piece; x 1.10 for conditions x 1.25 for loss of output in "
                "overtime x 0.80 for learning x 1.05 for joints remade x 92.00 a worker-hour = 9.2092");
  assert_words (basis, parts, TRUE, "assemble frame",
                "assemble frame (shop): 2 x 2.2 min = 4.400 worker-minutes a piece; x 68.00 a worker-hour = 4.9867");
  assert_words (basis, parts, FALSE, "end film", "end film: 4 ft2 = 4 ft2 a piece; x 0.09 a ft2 = 0.36");
}

static const char *const methods[] = { "slip-on-bolted", "slip-on-driven", "integral-bolted", "slip-and-drive",
                                       "slip-and-drive-driven" };

/* The amount again from the figures shown: (fixed x count + per foot x feet + per pound x pounds) x amount for a
 * step, driver x amount with overage for an item; each within its last digit and the hundred-millionths that
 * coefficients keep. */
static void
assert_figures (const CostExplainLine *e)
{
  double amount = (double) e->num / (double) e->den;

  if (e->step)
    {
      double min = ((double) e->fixed * (double) e->count / 1e3 + (double) e->per_ft * (double) e->length / 304800
                    + (double) e->per_lb * (double) e->mass / 453592.37)
                   / 1e9 * amount;
      double loose = 0.51 + 0.5e-8 * (double) (e->count + e->length + e->mass);
      assert_near ((double) e->amount, min * 60000, loose);
    }
  else
    {
      DuctUnit unit = duct_driver_info (e->driver)->unit;
      double units = (double) e->count
                     / (unit == DUCT_UNIT_LENGTH ? 304800.0
                        : unit == DUCT_UNIT_MASS ? 453592.37
                        : unit == DUCT_UNIT_AREA ? 92903.04
                                                 : 1000.0);
      assert_near ((double) e->amount, units * amount * (1e6 + (double) e->overage_ppm),
                   0.51 + 0.5e-8 * (double) e->count);
    }
  g_assert_nonnull (e->source);
  g_assert_nonnull (e->status);
}

/* Over every kind and method: the lines' amounts are cost_price_measure()'s, their money cost_sums_add()'s. */
static void
test_adds_up (void)
{
  static const char *const changes[] = { NULL, "step.raise and hold.likely_per_lb=0.31",
                                         "item.driven fastener.price=1.10", "item.galvanised sheet.overage=12.5" };
  g_autoptr (GRand) rand = g_rand_new_with_seed (71);

  for (int i = 0; i < 400; i++)
    {
      g_autoptr (CostBasis) basis = basis_new (changes[i % 4]);
      g_autofree gint64 *vector = g_new (gint64, basis->n_vector), *sum = g_new0 (gint64, basis->n_vector);
      DuctShape s = fixture_shape ((DuctKind) (i % DUCT_COUNTED), g_rand_int_range (rand, 6, 80),
                                   g_rand_int_range (rand, 6, 80), g_rand_int_range (rand, 1, 7));
      gint64 floor_ppm = g_rand_int_range (rand, 0, 1000001);
      NumWide items[COST_N_GROUPS] = { 0 }, labour[2] = { 0 };
      CostSums sums = { 0 };
      LabourFactors f;
      DuctMeasure m;

      if (s.kind == DUCT_STRAIGHT)
        s.dim[DUCT_DIM_LENGTH] = g_rand_int_range (rand, 1, 1000) * IN;
      if (s.kind == DUCT_STRAIGHT && s.dim[DUCT_DIM_LENGTH] > 70 * IN)
        s.fit_pieces = g_rand_int_range (rand, 0, 2);
      s.dim[DUCT_DIM_W2] = g_rand_int_range (rand, 6, 80) * IN;
      s.dim[DUCT_DIM_H2] = g_rand_int_range (rand, 6, 80) * IN;
      s.exposure = i % 5 == 0 ? DUCT_OUTDOORS : DUCT_INDOORS;
      labour_factors_init (&f);
      for (int g = 0; g < LABOUR_N_GROUPS; g++)
        {
          for (int p = 0; p < LABOUR_N_PLACES; p++)
            f.ppm[g][p] = g_rand_int_range (rand, 800000, 1500000);
          f.floor_joint[g] = g_rand_int_range (rand, 800000, 1500000);
        }
      f.learned = g_rand_int_range (rand, 700000, 1200000);
      f.raised = g_rand_int_range (rand, 2, 5);
      f.remade = 0; /* quantities remade are rounded once a cell */
      const char *method = methods[i % 5];
      g_autoptr (GArray) lines = explain (basis, method, &s, &f, floor_ppm, &m);
      cost_price_measure (basis, catalogue_find_method (starter, method), (DuctKind) s.kind, &m, LABOUR_LIKELY, vector);
      cost_sums_add (&sums, basis, vector, &f, floor_ppm, 1);

      for (guint k = 0; k < lines->len; k++)
        {
          const CostExplainLine *e = &g_array_index (lines, CostExplainLine, k);
          int slot = e->target;
          assert_figures (e);
          g_assert_cmpint (e->pieces, ==, m.lot[e->lot].n);
          g_assert_cmpint (e->count, ==, m.lot[e->lot].one[e->driver]);
          for (int n = 0; e->step && n < basis->n_slots; n++)
            if (basis->slots[n].step == e->target && basis->slots[n].place == e->place && basis->slots[n].shared == e->shared)
              slot = basis->n_items + n;
          g_assert_true (!e->step || slot >= basis->n_items);
          sum[slot] += e->amount * e->pieces;
          if (e->step)
            labour[e->place == LABOUR_SHOP] += e->money;
          else
            items[catalogue_item (starter, e->target)->group] += e->money;
          g_autofree char *words = cost_explain_words (basis, e);
          g_assert_true (g_utf8_validate (words, -1, NULL) && strstr (words, " = "));
        }
      for (int k = 0; k < basis->n_items + basis->n_slots; k++)
        g_assert_cmpint (sum[k], ==, vector[k]);
      for (int g = 0; g < COST_N_GROUPS; g++)
        g_assert_true (items[g] == sums.items[g]);
      for (int g = 0; g < 2; g++)
        g_assert_true (labour[g] == sums.labour[g]);
    }
}

/* Figures in force are those changed for this answer, and the band is that of the piece. */
static void
test_in_force (void)
{
  g_autoptr (CostBasis) basis = basis_new ("step.raise and hold.likely_per_lb=0.31"), plain = basis_new (NULL);
  DuctShape s = straight (84, 42, 2, 5);
  LabourFactors even;
  DuctMeasure m;

  labour_factors_init (&even);
  g_autoptr (GArray) changed = explain (basis, "slip-on-bolted", &s, &even, 0, &m);
  g_autoptr (GArray) before = explain (plain, "slip-on-bolted", &s, &even, 0, &m);
  g_assert_cmpint (line_of (changed, TRUE, "raise and hold").per_lb, ==, 310000000);
  g_assert_cmpint (line_of (before, TRUE, "raise and hold").per_lb, ==, 500000000); /* above 150 lb */
  g_assert_cmpint (line_of (before, TRUE, "raise and hold").mass, ==, m.lot[0].one[DUCT_NET_LB]);
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/explain/hand", test_hand);
  g_test_add_func ("/explain/words", test_words);
  g_test_add_func ("/explain/adds-up", test_adds_up);
  g_test_add_func ("/explain/in-force", test_in_force);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A claim of saving, and the parts of a cost that follow one figure. Prices and minutes of the starter tables are invented demo. */
#include "fixture.h"

#include "cost/claim.h"
#include "cost/sensitivity.h"

static Catalogue *starter;

/* One option over one piece: 24x12, class 2, 5 ft, one joint (the worked piece, invented demo). */
typedef struct
{
  CostBasis *basis;
  gint64 *vector;
  NumWide *time;
  CostOption option;
} Piece;

static void
piece_init (Piece *p, const char *method, const char *change)
{
  g_autoptr (GPtrArray) changes = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  int m = catalogue_find_method (starter, method);
  LabourFactors factors;
  CostSums sums = { 0 };
  DuctMeasure measure;
  DuctShape s;

  if (change)
    g_ptr_array_add (changes, cost_change_parse (change, NULL));
  p->basis = cost_basis_new (starter, changes, NULL, NULL);
  p->vector = g_new0 (gint64, p->basis->n_vector);
  p->time = sums.slot_time = g_new0 (NumWide, p->basis->n_slots);
  duct_shape_init (&s, DUCT_STRAIGHT);
  s.w = 24 * IN;
  s.h = 12 * IN;
  s.dim[DUCT_DIM_LENGTH] = 5 * FT;
  s.pressure = 2000;
  fixture_resolve (starter->rules, &s);
  fixture_measure (starter->rules, &s, duct_rules_connection (starter->rules, catalogue_method (starter, m)->connection)->key, &measure);
  cost_price_measure (p->basis, m, DUCT_STRAIGHT, &measure, LABOUR_LIKELY, p->vector);
  labour_factors_init (&factors);
  cost_sums_add (&sums, p->basis, p->vector, &factors, 0, 1);
  cost_option_init (&p->option, p->basis, m, &sums, p->vector, 4);
}

static void
piece_clear (Piece *p)
{
  cost_option_clear (&p->option);
  g_free (p->vector);
  g_free (p->time);
  cost_basis_unref (p->basis);
}

static const CostClaim *
claim (void)
{
  int at = catalogue_find_claim (starter, "halves align and bolt");

  g_assert_cmpint (at, >=, 0);
  return g_ptr_array_index (starter->claims, (guint) at);
}

/* The worked piece (invented demo): 48 % off align-and-bolt, 33 % off the joint, 10 % off the piece on site. */
static void
test_shares (void)
{
  CostClaimResult r;
  Piece a, b;

  piece_init (&a, "slip-on-bolted", NULL);
  piece_init (&b, "slip-on-driven", NULL);
  cost_claim_result (claim (), &a.option, &b.option, &r);
  g_assert_true (r.applies);
  /* align 8.4 + bolts 5.2; joint 19.9; piece 66.791; driven joint 13.4 */
  assert_near (r.steps_minutes, 13.6, 0.001);
  assert_near (r.joint_minutes, 19.9, 0.001);
  assert_near (r.piece_minutes, 66.791, 0.001);
  assert_near (r.own.minutes, 6.5, 0.001);
  assert_near (r.own.of_steps, 0.48, 0.005);
  assert_near (r.own.of_joint, 0.33, 0.005);
  assert_near (r.own.of_piece, 0.10, 0.005);
  /* Half of the two steps, as claimed. */
  assert_near (r.claimed.minutes, 6.8, 0.001);
  assert_near (r.claimed.of_steps, 0.5, 1e-9);
  assert_near (r.claimed.of_joint, 6.8 / 19.9, 1e-4);
  /* 0.3 minutes more saved, at 92.00 and 12 % site general on it (invented demo) */
  assert_near (r.claimed.gain - r.own.gain, 0.3 / 60 * 92 * 1.12, 0.006); /* the own gain is that of rounded build-ups */
  piece_clear (&a);
  piece_clear (&b);
}

/* At the least saving the method pays just so: the closed form against the gain priced with that cut. Computed: with tooling of nothing
 * the joint alone must save what its hardware costs more. */
static void
test_least (void)
{
  Piece a, b;
  CostClaimResult r, at;
  CostClaim cut = *claim ();
  double hardware;

  piece_init (&a, "slip-on-bolted", "item.driver tooling and training.price=0");
  piece_init (&b, "slip-on-driven", "item.driver tooling and training.price=0");
  cost_claim_result (claim (), &a.option, &b.option, &r);
  g_assert_true (r.least > 0 && r.least < 1);
  /* t* x rate = dearer hardware, as in the form for one joint: 60 (h_B - h_A) / w, with tax on the one and site general on the other */
  hardware = cost_part_whole (&b.option) - cost_part_labour (&b.option, FALSE) - cost_part_labour (&b.option, TRUE)
             - (cost_part_whole (&a.option) - cost_part_labour (&a.option, FALSE) - cost_part_labour (&a.option, TRUE));
  assert_near (r.least, hardware / (r.steps_minutes / 60 * 92 * 1.12), 1e-6);
  cut.cut_ppm = (gint64) round (r.least * 1e6);
  cost_claim_result (&cut, &a.option, &b.option, &at);
  assert_near (at.claimed.gain, 0, 0.0001);
  piece_clear (&a);
  piece_clear (&b);
}

/* Of a method against itself nothing is saved, and a baseline without the steps named has no answer. */
static void
test_none (void)
{
  Piece a, b;
  CostClaimResult r;

  piece_init (&a, "slip-on-bolted", NULL);
  piece_init (&b, "slip-on-driven", NULL);
  cost_claim_result (claim (), &a.option, &a.option, &r);
  g_assert_true (r.own.minutes == 0 && r.own.gain == 0);
  assert_near (r.least, 0, 1e-12);
  cost_claim_result (claim (), &b.option, &a.option, &r);
  g_assert_false (r.applies);
  g_assert_true (isnan (r.least));
  piece_clear (&a);
  piece_clear (&b);
}

/* Parts that follow figures add up to the cost: items, and the labour of shop and field; the steps to the labour. */
static void
test_parts (void)
{
  Piece p;
  double sum, steps = 0;

  piece_init (&p, "slip-on-driven", NULL);
  sum = cost_part_labour (&p.option, FALSE) + cost_part_labour (&p.option, TRUE);
  for (guint s = 0; s < starter->labour->steps->len; s++)
    steps += cost_part_step (&p.option, (int) s, NULL);
  assert_near (steps, sum, 1e-9);
  for (int i = 0; i < p.basis->n_items; i++)
    if (catalogue_item (starter, i)->group != COST_ONCE)
      sum += cost_part_item (&p.option, i);
  assert_near (sum + 1900, cost_part_whole (&p.option), 1e-6);
  piece_clear (&p);
}

/* Computed: gain 100 at a figure of 10, 25 less a unit: zero at 14. */
static void
test_swing (void)
{
  CostSwing s;

  cost_swing_linear (&s, 8, 10, 12, 100, -25);
  g_assert_true (s.turns);
  assert_near (s.even, 14, 1e-12);
  assert_near (s.gain_low, 150, 1e-12);
  assert_near (s.gain_high, 50, 1e-12);
  assert_near (cost_swing_width (&s), 100, 1e-12);
  /* Below zero is no figure; no slope, no turn. */
  cost_swing_linear (&s, 8, 10, 12, 100, 5);
  g_assert_false (s.turns);
  g_assert_true (isnan (s.even));
  cost_swing_linear (&s, 8, 10, 12, 100, 0);
  g_assert_false (s.turns);
  g_assert_true (cost_swing_width (&s) == 0);
}

static void
assert_refused (const char *heading, const char *text, const char *words, gsize row)
{
  CsvTable *table[CATALOGUE_N_SHEETS];

  fixture_tables (table);
  fixture_set (table[CATALOGUE_CLAIMS], "halves align and bolt", heading, text);
  fixture_assert_refused (table, words, row);
}

static void
test_bad_rows (void)
{
  assert_refused ("steps", "hope", "no step “hope”", 1);
  assert_refused ("steps", "", "must name the steps", 2);
  assert_refused ("cut_pct", "", "how much it saves", 3);
  assert_refused ("cut_pct", "120", "cut_pct", 4);
  assert_refused ("method", "glue", "no such method", 5);
  assert_refused ("claim", "", "no key", 6);
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/cost/claim/shares", test_shares);
  g_test_add_func ("/cost/claim/least", test_least);
  g_test_add_func ("/cost/claim/none", test_none);
  g_test_add_func ("/cost/claim/parts", test_parts);
  g_test_add_func ("/cost/claim/swing", test_swing);
  g_test_add_func ("/cost/claim/bad-rows", test_bad_rows);
  status = g_test_run ();
  catalogue_unref (starter);
  return status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Round duct: weights, gores, gauges, joints, tables. The source of each figure stands beside it; areas and counts without one are
 * computed from geometry. */
#include "duct/round.h"

#define LBS 453592.37

static double
sum (const DuctMeasure *m, int slot)
{
  return (double) duct_measure_sum (m, slot);
}

#define assert_count(m, slot, n) g_assert_cmpint (duct_measure_sum ((m), (slot)), ==, (gint64) (n) *1000)

/* ---- weights ---- */

static void
measure (DuctShape *s, const char *connection, DuctMeasure *m)
{
  fixture_measure (starter->rules, s, connection, m);
}

/* Bare metal a foot (computed from the nominal weights of ASTM A924): round 12 in 26 ga 2.846 lb, 20 in 24 ga 6.053, 36 in 22 ga
 * 13.251. Spiral takes 7/8 in of lock seam a strip of 5 3/8 in, longitudinal 1 1/2 in of seam (invented demo). */
static void
test_weights (void)
{
  static const struct
  {
    double d;
    const char *gauge;
    double lb_ft2, lb_ft;
  } rows[] = { { 12, "26", 0.906, 2.846 }, { 20, "24", 1.156, 6.053 }, { 36, "22", 1.406, 13.251 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DuctShape s = duct (rows[i].d, 2, 120);
      DuctMeasure m;
      s.sheet_pin = (gint16) duct_rules_find_sheet (starter->rules, DUCT_GALVANISED, rows[i].gauge);
      measure (&s, "spiral-coupled", &m);
      assert_near (sum (&m, DUCT_AREA_FT2) / FT2 * rows[i].lb_ft2, 10 * rows[i].lb_ft, 0.006);
      assert_near (sum (&m, DUCT_NET_LB) / LBS, 10 * rows[i].lb_ft * (1 + 0.875 / 5.375), 0.007);
      g_assert_cmpint (duct_measure_sum (&m, DUCT_SEAM), ==, 0);
      s = duct (rows[i].d, 2, 120);
      s.sheet_pin = (gint16) duct_rules_find_sheet (starter->rules, DUCT_GALVANISED, rows[i].gauge);
      measure (&s, "longitudinal-coupled", &m);
      assert_near (sum (&m, DUCT_NET_LB) / LBS, 10 * (rows[i].lb_ft + 1.5 / 12 * rows[i].lb_ft2), 0.006);
      assert_near (sum (&m, DUCT_SEAM) / 304800, 10, 1e-6);
      g_assert_cmpint (duct_measure_sum (&m, DUCT_PIECE_LB), ==, duct_measure_sum (&m, DUCT_NET_LB));
    }
}

/* ---- defaults and bounds ---- */

static void
assert_refused (DuctShape s, DuctDim dim, const char *word)
{
  DuctProblem problem = { DUCT_DIM_NONE, NULL };

  g_assert_false (duct_shape_resolve (starter->rules, &s, &problem));
  g_test_message ("%s; %s", problem.fault->what, problem.fault->remedy ? problem.fault->remedy : "");
  g_assert_cmpint (problem.dim, ==, dim);
  g_assert_nonnull (strstr (problem.fault->what, word));
  g_assert_nonnull (problem.fault->remedy);
  duct_problem_clear (&problem);
}

/* Unified Facilities Guide Specification 15801N, welded industrial duct, pieces up to 16 in diameter / over. */
static void
test_gores (void)
{
  static const struct
  {
    double angle;
    int to_16, over;
  } rows[] = { { 90, 5, 6 }, { 60, 4, 5 }, { 45, 3, 4 }, { 30, 3, 3 }, { 15, 2, 2 }, { 75, 5, 6 }, { 22.5, 3, 3 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    for (int over = 0; over < 2; over++)
      {
        DuctShape s = elbow (DUCT_GORED_ELBOW, over ? 16.5 : 16, rows[i].angle, 12, 0);
        fixture_resolve (starter->rules, &s);
        g_assert_cmpint (s.dim[DUCT_DIM_GORES], ==, 1000 * (over ? rows[i].over : rows[i].to_16));
      }
  assert_refused (elbow (DUCT_GORED_ELBOW, 12, 120, 12, 0), DUCT_DIM_GORES, "gores table");
  assert_refused (elbow (DUCT_GORED_ELBOW, 12, 120, 12, 2), DUCT_DIM_GORES, "gores");
  assert_refused (elbow (DUCT_GORED_ELBOW, 12, 30, 12, 1), DUCT_DIM_GORES, "gores");
  assert_refused (elbow (DUCT_GORED_ELBOW, 12, 30, 12, 31), DUCT_DIM_GORES, "gores");
  DuctShape half = elbow (DUCT_GORED_ELBOW, 12, 30, 12, 0);
  half.dim[DUCT_DIM_GORES] = 4500;
  assert_refused (half, DUCT_DIM_GORES, "whole");
}

/* MIL-HDBK-1003/3: smallest round duct 4 in, throat radius at least 0.75 D (taken as the default). */
static void
test_defaults (void)
{
  DuctShape s = round_shape (DUCT_GORED_ELBOW, 12, 2);

  fixture_resolve (starter->rules, &s);
  g_assert_cmpint (s.dim[DUCT_DIM_ANGLE], ==, UDEG_90);
  g_assert_cmpint (s.dim[DUCT_DIM_THROAT], ==, 9 * IN);
  g_assert_cmpint (s.dim[DUCT_DIM_GORES], ==, 5000);
  s = duct (4, 2, 120);
  fixture_resolve (starter->rules, &s);
  assert_refused (duct (3.99, 2, 120), DUCT_DIM_SIZE, "smallest");
  assert_refused (reducer (12, 3, 12, 0), DUCT_DIM_W2, "smallest");
  assert_refused (duct (12, 2, 0), DUCT_DIM_LENGTH, "length");
  assert_refused (saddle (16, 12, 90, 4), DUCT_DIM_W2, "wider");
  assert_refused (saddle (8, 12, 10, 4), DUCT_DIM_ANGLE, "angle");
  assert_refused (round_shape (DUCT_ROUND_DUCT, 12, 2), DUCT_DIM_LENGTH, "length");
  assert_refused (fixture_shape (DUCT_ROUND_DUCT, 24, 12, 2), DUCT_DIM_SIZE, "round");
  assert_refused (fixture_shape (DUCT_RADIUS_ELBOW, 24, 0, 2), DUCT_DIM_SIZE, "round");
  s = round_shape (DUCT_REDUCER, 16, 2);
  assert_refused (s, DUCT_DIM_W2, "diameter");
  s.dim[DUCT_DIM_W2] = nm (12);
  s.dim[DUCT_DIM_H2] = nm (8);
  assert_refused (s, DUCT_DIM_W2, "round");
  s = duct (0, 2, 120);
  assert_refused (s, DUCT_DIM_SIZE, "diameter");
  s.w = s.h = DUCT_UNSET;
  assert_refused (s, DUCT_DIM_SIZE, "diameter");
}

/* ---- gauges ---- */

static const char *
gauge_of (const char *set, const char *connection, DuctMetal metal, double class_in, double d)
{
  DuctShape s = duct (d, class_in, 120);
  DuctProblem problem = { DUCT_DIM_NONE, NULL };
  DuctBuild build;
  DuctGaugeOrigin origin;

  s.metal = metal;
  fixture_resolve (starter->rules, &s);
  if (!duct_choose_build (starter->rules, duct_rules_find_set (starter->rules, set),
                          duct_rules_find_connection (starter->rules, connection), &s, &build, &problem))
    {
      g_test_message ("%s", problem.fault->what);
      g_assert_nonnull (strstr (problem.fault->what, ((DuctRuleSet *) g_ptr_array_index (starter->rules->sets, (guint)
                                                      duct_rules_find_set (starter->rules, set)))->name));
      g_assert_nonnull (problem.fault->remedy);
      g_assert_cmpint (problem.dim, ==, DUCT_DIM_CLASS);
      duct_problem_clear (&problem);
      return NULL;
    }
  g_assert_cmpint (build.rule_row, ==, -1);
  g_assert_true (duct_build_origin (starter->rules, &build, &origin));
  g_assert_true (origin.round);
  g_assert_cmpstr (origin.set, ==, set);
  return duct_rules_sheet (starter->rules, build.sheet)->label;
}

static void
test_published_gauges (void)
{
  static const struct
  {
    const char *set;
    DuctMetal metal;
    double class_in, d;
    const char *gauge; /* NULL: no row */
  } rows[] = {
    /* International Mechanical Code, Table 603.4: 0.013 in = 30 ga, 0.016 = 28, 0.019 = 26, 0.024 = 24 */
    { "dwelling-code", DUCT_GALVANISED, 0.5, 11, "30" },
    { "dwelling-code", DUCT_GALVANISED, 0.5, 12, "28" },
    { "dwelling-code", DUCT_GALVANISED, 0.5, 18, "28" },
    { "dwelling-code", DUCT_GALVANISED, 0.5, 20, "26" },
    { "dwelling-code", DUCT_GALVANISED, 1, 11, "30" },
    { "dwelling-code", DUCT_GALVANISED, -1, 14, "28" },
    { "dwelling-code", DUCT_GALVANISED, 1, 16, "26" },
    { "dwelling-code", DUCT_GALVANISED, 1, 18, "24" },
    { "dwelling-code", DUCT_GALVANISED, 1, 20, "24" },
    { "dwelling-code", DUCT_GALVANISED, 1, 20.5, NULL },
    { "dwelling-code", DUCT_GALVANISED, 2, 10, NULL },
    { "dwelling-code", DUCT_ALUMINIUM, 0.5, 11, "0.018" },
    { "dwelling-code", DUCT_ALUMINIUM, 0.5, 12, "0.023" },
    { "dwelling-code", DUCT_ALUMINIUM, 0.5, 20, "0.027" },
    { "dwelling-code", DUCT_ALUMINIUM, 1, 15, "0.027" },
    { "dwelling-code", DUCT_ALUMINIUM, 1, 18, "0.034" },
    { "dwelling-code", DUCT_STAINLESS, 1, 10, NULL },
    /* A Hand Book for the Mechanical Designer: to 8 in 24, 24 in 22, 48 in 20, 72 in 18 */
    { "handbook-general", DUCT_GALVANISED, 2, 8, "24" },
    { "handbook-general", DUCT_GALVANISED, 2, 9, "22" },
    { "handbook-general", DUCT_GALVANISED, -2, 24, "22" },
    { "handbook-general", DUCT_GALVANISED, 1, 48, "20" },
    { "handbook-general", DUCT_GALVANISED, 2, 72, "18" },
    { "handbook-general", DUCT_GALVANISED, 2, 73, NULL },
    /* open engineering data page: general, industrial exhaust */
    { "round-general", DUCT_GALVANISED, 2, 6, "26" },
    { "round-general", DUCT_GALVANISED, 2, 19, "26" },
    { "round-general", DUCT_GALVANISED, 2, 20, "24" },
    { "round-general", DUCT_GALVANISED, 2, 30, "22" },
    { "round-general", DUCT_GALVANISED, 2, 49, "20" },
    { "round-general", DUCT_GALVANISED, 2, 50, "18" },
    { "round-exhaust", DUCT_GALVANISED, -2, 8, "24" },
    { "round-exhaust", DUCT_GALVANISED, -2, 14, "22" },
    { "round-exhaust", DUCT_GALVANISED, -2, 15, "20" },
    { "round-exhaust", DUCT_GALVANISED, -2, 30, "18" },
    { "round-exhaust", DUCT_GALVANISED, -2, 31, "16" },
    { "round-exhaust", DUCT_GALVANISED, -3, 10, NULL },
    /* The traditional shop gauges name no round duct. */
    { "traditional", DUCT_GALVANISED, 2, 10, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_test_message ("%s %g in class %g", rows[i].set, rows[i].d, rows[i].class_in);
      g_assert_cmpstr (gauge_of (rows[i].set, "spiral-coupled", rows[i].metal, rows[i].class_in, rows[i].d), ==, rows[i].gauge);
      g_assert_cmpstr (gauge_of (rows[i].set, "longitudinal-coupled", rows[i].metal, rows[i].class_in, rows[i].d), ==, rows[i].gauge);
    }
}

/* The demo's ladder (invented demo) is whole to class 10 for both signs and seams, and never lighter for a larger duct, a higher class,
 * a negative sign or a longitudinal seam. */
static void
test_demo_ladder (void)
{
  static const double classes[] = { 0.5, 1, 2, 3, 4, 6, 10 };
  static const char *const connections[] = { "spiral-coupled", "longitudinal-coupled" };
  int before[2][2][80], now = 0;

  memset (before, 0, sizeof before);
  for (gsize c = 0; c < G_N_ELEMENTS (classes); c++)
    for (int seam = 0; seam < 2; seam++)
      for (int sign = 0; sign < 2; sign++)
        for (int d = 4, last = 0; d < 80; d++, last = now)
          {
            const char *gauge = gauge_of ("demo", connections[seam], DUCT_GALVANISED, sign ? -classes[c] : classes[c], d);
            g_assert_nonnull (gauge);
            now = 100 - atoi (gauge); /* a larger number is lighter */
            g_assert_cmpint (now, >=, last);
            g_assert_cmpint (now, >=, before[seam][sign][d]);
            before[seam][sign][d] = now;
            if (sign)
              g_assert_cmpint (now, >=, before[seam][0][d]);
            if (seam)
              g_assert_cmpint (now, >=, before[0][sign][d]);
          }
  g_assert_null (gauge_of ("demo", "spiral-ringed", DUCT_GALVANISED, 11, 12));
  g_assert_null (gauge_of ("demo", "spiral-ringed", DUCT_BLACK, 2, 12));
}

/* ---- joints ---- */

/* Spacing 15 in (invented demo), three screws at least (International Mechanical Code, round joints): 8 in 3, 14 in 3 (girth 43.98),
 * 15 in 4 (47.12), 24 in 6 (75.40). A fitting's joint is screwed once. */
static void
test_screws (void)
{
  static const struct
  {
    double d;
    int screws;
  } rows[] = { { 4, 3 }, { 8, 3 }, { 14, 3 }, { 15, 4 }, { 24, 6 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DuctShape s = elbow (DUCT_GORED_ELBOW, rows[i].d, 90, rows[i].d, 5), run = duct (rows[i].d, 2, 30 * 12);
      DuctMeasure m;
      measure (&s, "spiral-coupled", &m);
      assert_count (&m, DUCT_COUPLED_JOINT, 1);
      assert_count (&m, DUCT_COUPLING, 0);
      assert_count (&m, DUCT_ROUND_SCREW, rows[i].screws);
      assert_count (&m, DUCT_GORE, 5);
      assert_near (sum (&m, DUCT_LEN_GORE) / 25400, 5 * G_PI * rows[i].d, 0.001);
      /* three lengths of 10 ft: the first slips over the fitting before it, two couplings are screwed on both sides */
      measure (&run, "spiral-coupled", &m);
      assert_count (&m, DUCT_PIECE, 3);
      assert_count (&m, DUCT_COUPLED_JOINT, 3);
      assert_count (&m, DUCT_COUPLING, 2);
      assert_near (sum (&m, DUCT_COUPLING_FT) / 25400, 2 * G_PI * rows[i].d, 0.001);
      assert_count (&m, DUCT_ROUND_SCREW, (1 + 2 * 2) * rows[i].screws);
    }
}

/* Rings: two a piece, a joint takes gasket of its girth and bolts at 6 in (invented demo), four at least: 12 in 7 (37.70 / 6). */
static void
test_rings (void)
{
  DuctShape run = duct (12, 2, 25 * 12), small = round_shape (DUCT_ROUND_CAP, 4, 2);
  DuctMeasure m;

  measure (&run, "spiral-ringed", &m);
  assert_count (&m, DUCT_PIECE, 3);
  assert_count (&m, DUCT_RING, 6);
  assert_near (sum (&m, DUCT_RING_FT) / 25400, 6 * G_PI * 12, 0.001);
  assert_count (&m, DUCT_RING_JOINT, 3);
  assert_near (sum (&m, DUCT_LEN_RING_JOINT) / 25400, 3 * G_PI * 12, 0.001);
  assert_near (sum (&m, DUCT_GASKET_FT) / 25400, 3 * G_PI * 12, 0.001);
  assert_count (&m, DUCT_RING_BOLT, 21);
  assert_count (&m, DUCT_COUPLED_JOINT, 0);
  assert_count (&m, DUCT_ROUND_SCREW, 0);
  measure (&small, "spiral-ringed", &m); /* girth 12.57 */
  assert_count (&m, DUCT_RING_BOLT, 4);
  assert_count (&m, DUCT_RING, 1);
}

/* A reducer has each end at its own diameter; its joint takes the first. */
static void
test_ends_of_reducer (void)
{
  DuctShape s = reducer (16, 12, 12, 0);
  DuctMeasure m;

  measure (&s, "spiral-ringed", &m);
  assert_near (sum (&m, DUCT_RING_FT) / 25400, G_PI * 28, 0.001);
  assert_near (sum (&m, DUCT_LEN_RING_JOINT) / 25400, G_PI * 16, 0.001);
  assert_near (sum (&m, DUCT_END_FT2) / FT2, G_PI / 4 * (256 + 144) / 144, 2e-5);
}

/* Longest flexible run 5 ft: MIL-HDBK-1003/3, 6.1.3.4, and a note to the California Mechanical Code. Two clamps a length. */
static void
test_flexible (void)
{
  DuctShape s = round_shape (DUCT_FLEXIBLE_DUCT, 10, 2), other;
  DuctMeasure m;

  s.dim[DUCT_DIM_LENGTH] = nm (60);
  s.last_end = DUCT_END_EQUIPMENT;
  other = s;
  measure (&s, "spiral-coupled", &m);
  g_assert_cmphex (m.notes & DUCT_NOTE_LONG_FLEXIBLE, ==, 0);
  assert_count (&m, DUCT_FLEXIBLE, 1);
  assert_near (sum (&m, DUCT_LEN_FLEXIBLE) / 25400, 60, 0.001);
  assert_near (sum (&m, DUCT_FLEXIBLE_FT2) / FT2, G_PI * 10 / 12 * 5, 2e-5);
  assert_count (&m, DUCT_CLAMP, 2);
  assert_near (sum (&m, DUCT_LEN_CLAMP) / 25400, 2 * G_PI * 10, 0.001);
  assert_count (&m, DUCT_COUPLED_JOINT, 2);
  assert_count (&m, DUCT_ROUND_SCREW, 0);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_NET_LB), ==, 0);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_END_MADE), ==, 0);
  /* hung every 4 ft (Standard Work Specifications): 5 ft 1 1/4 */
  g_assert_cmpint (duct_measure_sum (&m, DUCT_HANGER), ==, 1250);
  other.dim[DUCT_DIM_LENGTH] = nm (61);
  measure (&other, "spiral-ringed", &m);
  g_assert_cmphex (m.notes & DUCT_NOTE_LONG_FLEXIBLE, ==, DUCT_NOTE_LONG_FLEXIBLE);
  assert_count (&m, DUCT_CLAMP, 2);
  assert_count (&m, DUCT_RING_JOINT, 0);
  g_assert_nonnull (strstr (duct_note_words (DUCT_NOTE_LONG_FLEXIBLE), "5 ft"));
}

/* Bought pieces have no sheet and no ends of ours. A stamped elbow is handled as its area of the sheet asked for: 12 dia, Rc 18, class 2,
 * 26 gauge (invented demo): 7.402 ft2 x 0.906. */
static void
test_bought (void)
{
  DuctShape stamped = elbow (DUCT_STAMPED_ELBOW, 12, 90, 12, 0), damper = round_shape (DUCT_DAMPER, 12, 2);
  DuctShape fabric = round_shape (DUCT_FABRIC_CONNECTOR, 24, 2);
  DuctMeasure m;

  measure (&stamped, "spiral-coupled", &m);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_NET_LB), ==, 0);
  assert_near (sum (&m, DUCT_ROUND_FT2) / FT2, 7.402, 0.0005);
  assert_near (sum (&m, DUCT_PIECE_LB) / LBS, 7.402 * 0.906, 0.001);
  assert_count (&m, DUCT_END_OTHERS, 2);
  assert_count (&m, DUCT_END_MADE, 0);
  assert_count (&m, DUCT_COUPLED_JOINT, 1);
  measure (&stamped, "spiral-ringed", &m);
  assert_count (&m, DUCT_RING, 0);
  assert_count (&m, DUCT_RING_JOINT, 1);
  measure (&damper, "spiral-coupled", &m);
  assert_count (&m, DUCT_DAMPER_PIECE, 1);
  assert_near (sum (&m, DUCT_DAMPER_FT2) / FT2, G_PI / 4, 2e-5);
  assert_near (sum (&m, DUCT_LEN_DAMPER) / 304800, G_PI, 1e-5);
  assert_count (&m, DUCT_COUPLED_JOINT, 1);
  measure (&fabric, "spiral-coupled", &m);
  assert_near (sum (&m, DUCT_FABRIC_FT) / 304800, 2 * G_PI, 1e-5);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_DAMPER_PIECE), ==, 0);
}

/* Random runs: pieces add up to the length, joints and couplings to the pieces, and every inner end has its partner. */
static void
test_runs (void)
{
  static const char *const connections[] = { "spiral-coupled", "spiral-ringed", "longitudinal-coupled" };

  for (int i = 0; i < 600; i++)
    {
      double d = g_test_rand_int_range (16, 240) / 4.0, length = g_test_rand_int_range (1, 64000) / 16.0;
      const char *connection = connections[i % 3];
      double stock = i % 3 == 2 ? 60 : 120;
      DuctShape s = duct (d, g_test_rand_bit () ? 2 : -4, length);
      gint64 laid = 0, pieces, joints;
      DuctMeasure m;

      measure (&s, connection, &m);
      pieces = duct_measure_sum (&m, DUCT_PIECE) / 1000;
      for (int l = 0; l < m.n_lots; l++)
        {
          laid += m.lot[l].n * m.lot[l].length;
          g_assert_cmpint (m.lot[l].length, <=, nm (stock));
        }
      g_assert_cmpint (ABS (laid - nm (length)), <=, 1);
      g_assert_cmpint (pieces, ==, MAX ((gint64) ceil (length / stock - 1e-9), 1));
      joints = (duct_measure_sum (&m, DUCT_COUPLED_JOINT) + duct_measure_sum (&m, DUCT_RING_JOINT)) / 1000;
      g_assert_cmpint (joints, ==, pieces);
      if (i % 3 == 1)
        assert_count (&m, DUCT_RING, 2 * pieces);
      else
        assert_count (&m, DUCT_COUPLING, pieces - 1);
      /* The first joint has its partner in the row before, the last end in the row behind. */
      g_assert_cmpint (duct_measure_sum (&m, DUCT_END_MADE) + duct_measure_sum (&m, DUCT_END_OTHERS) - 2000 * joints, ==, 0);
      assert_near (sum (&m, DUCT_AREA_FT2) / FT2, G_PI * d * length / 144, 1e-5 * (double) pieces + 1e-4);
    }
}

/* A branch brings its hole and no first end. */
static void
test_branches (void)
{
  DuctShape s = saddle (8, 16, 90, 4), spin = round_shape (DUCT_SPIN_IN, 8, 2);
  DuctMeasure m;

  measure (&s, "spiral-coupled", &m);
  assert_count (&m, DUCT_PIERCING, 1);
  assert_near (sum (&m, DUCT_LEN_PIERCING) / 25400, G_PI * 8, 0.001);
  assert_count (&m, DUCT_END_MADE, 1);
  assert_count (&m, DUCT_COUPLED_JOINT, 0);
  measure (&spin, "spiral-coupled", &m);
  assert_count (&m, DUCT_PIERCING, 1);
  assert_count (&m, DUCT_END_MADE, 1);
  /* The gauge is that of the branch, not of the main: 8 in class 2 positive spiral 26 (invented demo), whatever the main. */
  s = saddle (8, 60, 90, 4);
  measure (&s, "spiral-coupled", &m);
  assert_near (sum (&m, DUCT_NET_LB) / LBS, (area (saddle (8, 60, 90, 4)) + 1.5 / 12 * 4 / 12) * 0.906, 0.002);
}

/* ---- tables ---- */

/* One cell changed; every fault names line and heading and says what to do. */
static void
assert_fault (CatalogueSheet sheet, const char *key, const char *heading, const char *text, const char *complained)
{
  g_autoptr (GPtrArray) faults = fixture_faults ();
  CsvTable *table[CATALOGUE_N_SHEETS];
  g_autoptr (Catalogue) catalogue = NULL;
  gboolean found = FALSE;

  fixture_tables (table);
  fixture_set (table[sheet], key, heading, text);
  catalogue = catalogue_new (table, faults);
  g_assert_null (catalogue);
  for (guint i = 0; i < faults->len; i++)
    {
      const CsvFault *f = g_ptr_array_index (faults, i);
      g_test_message ("%s:%d %s: %s; %s", f->file, f->line, f->heading, f->what, f->remedy);
      g_assert_cmpint (f->line, >, 1);
      g_assert_true (f->remedy && *f->remedy);
      found = found || g_strcmp0 (f->heading, complained) == 0;
    }
  g_assert_true (found);
}

static void
test_reader_faults (void)
{
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "rule_set", "nowhere", "rule_set");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "metal", "tin", "metal");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "pressure_in_wg", "", "pressure_in_wg");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "pressure_in_wg", "-2", "pressure_in_wg");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "pressure_in_wg", "two", "pressure_in_wg");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "sign", "plus", "sign");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "seam", "glued", "seam");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "dia_to_in", "0", "dia_to_in");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "dia_to_in", "26", "dia_to_in"); /* as a row below it has */
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "gauge", "27", "gauge");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "ring", "angle", "ring_spacing_ft");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "ring_spacing_ft", "x", "ring_spacing_ft");
  assert_fault (CATALOGUE_ROUND_GAUGES, "demo", "status", "sure", "status");
  assert_fault (CATALOGUE_GORES, "90", "angle_to", "0", "angle_to");
  assert_fault (CATALOGUE_GORES, "90", "angle_to", "right", "angle_to");
  assert_fault (CATALOGUE_GORES, "90", "gores", "1", "gores");
  assert_fault (CATALOGUE_GORES, "90", "gores", "", "gores");
  assert_fault (CATALOGUE_GORES, "90", "dia_to_in", "wide", "dia_to_in");
  assert_fault (CATALOGUE_CONNECTIONS, "spiral-coupled", "seam", "", "seam");
  assert_fault (CATALOGUE_CONNECTIONS, "spiral-coupled", "section", "oval", "section");
  assert_fault (CATALOGUE_CONNECTIONS, "spiral-coupled", "straight_end", "slip-on", "straight_end");
  assert_fault (CATALOGUE_METHODS, "slip-on-bolted", "round", "integral-bolted", "round");
}

/* Rows of one sign or seam alone are kept apart; a ring's spacing is in feet. Figures: invented demo. */
static void
test_sign_and_seam (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  g_autoptr (Catalogue) catalogue = NULL;
  g_autoptr (GPtrArray) faults = fixture_faults ();
  const char *text = "rule_set,metal,pressure_in_wg,sign,seam,dia_to_in,gauge,ring,ring_spacing_ft,source,status\n"
                     "demo,galvanised,4,-,,30,18,band,6,x,invented demo\n"
                     "demo,galvanised,4,+,spiral,40,22,,,x,invented demo\n"
                     "demo,galvanised,4,+,spiral,20,26,,,x,invented demo\n"
                     "demo,galvanised,2,+,longitudinal,20,24,,,x,invented demo\n";
  const DuctRules *rules;
  int row;

  fixture_tables (table);
  g_clear_pointer (&table[CATALOGUE_ROUND_GAUGES], csv_table_free);
  table[CATALOGUE_ROUND_GAUGES] = csv_parse (text, -1, "round_gauges", faults);
  catalogue = catalogue_new (table, faults);
  g_assert_nonnull (catalogue);
  rules = catalogue->rules;
#define ROW(pressure, seam, d) \
  duct_rules_round_gauge (rules, duct_rules_find_set (rules, "demo"), DUCT_GALVANISED, (pressure) * 1000, (seam), nm (d), NULL)
  row = ROW (-2, DUCT_SEAM_LONGITUDINAL, 30);
  g_assert_cmpint (row, ==, 0);
  g_assert_cmpint (((DuctRoundGauge *) g_ptr_array_index (rules->round_gauges, 0))->ring_spacing_nm, ==, 6 * FT);
  g_assert_cmpint (ROW (-4, DUCT_SEAM_SPIRAL, 30.5), ==, -1);
  /* the smallest diameter that holds it, whatever the order of the rows */
  g_assert_cmpint (ROW (3, DUCT_SEAM_SPIRAL, 20), ==, 2);
  g_assert_cmpint (ROW (3, DUCT_SEAM_SPIRAL, 20.5), ==, 1);
  g_assert_cmpint (ROW (1, DUCT_SEAM_LONGITUDINAL, 8), ==, 3);
  g_assert_cmpint (ROW (3, DUCT_SEAM_LONGITUDINAL, 8), ==, -1);
#undef ROW
}

int
main (int argc, char **argv)
{
  int status;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/duct/round/weights", test_weights);
  g_test_add_func ("/duct/round/gores", test_gores);
  g_test_add_func ("/duct/round/defaults", test_defaults);
  g_test_add_func ("/duct/round/published-gauges", test_published_gauges);
  g_test_add_func ("/duct/round/demo-ladder", test_demo_ladder);
  g_test_add_func ("/duct/round/screws", test_screws);
  g_test_add_func ("/duct/round/rings", test_rings);
  g_test_add_func ("/duct/round/reducer-ends", test_ends_of_reducer);
  g_test_add_func ("/duct/round/flexible", test_flexible);
  g_test_add_func ("/duct/round/bought", test_bought);
  g_test_add_func ("/duct/round/runs", test_runs);
  g_test_add_func ("/duct/round/branches", test_branches);
  g_test_add_func ("/duct/round/reader-faults", test_reader_faults);
  g_test_add_func ("/duct/round/sign-and-seam", test_sign_and_seam);
  status = g_test_run ();
  catalogue_unref (starter);
  return status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From drivers to quantities, minutes and money. Prices, minutes and the piece worked by hand are invented demo; its
 * weight rests on the published sheet table. */
#include "priced.h"

#include "cost/buildup.h"

static double
side_minutes (const CostBasis *basis, const gint64 *vector, gboolean shop, gboolean joint)
{
  gint64 ms = 0;

  for (int i = 0; i < basis->n_slots; i++)
    if (!basis->slots[i].shared && (basis->slots[i].place == LABOUR_SHOP) == shop && (!joint || basis->slots[i].place == LABOUR_JOINT))
      ms += vector[basis->n_items + i];
  return (double) ms / 60000;
}

typedef struct
{
  const char *key;
  double amount;
  LabourPlace place;
} Line;

static void
assert_steps (const CostBasis *basis, const gint64 *vector, const Line *lines, gsize n, double *sum)
{
  *sum = 0;
  for (gsize i = 0; i < n; i++)
    {
      g_test_message ("%s", lines[i].key);
      /* The weight is rounded to milligrams before it multiplies. */
      assert_near (minutes (basis, vector, lines[i].key, lines[i].place), lines[i].amount, 2 * MINUTE);
      *sum += lines[i].amount;
    }
}

static const Line shop_lines[] = {
  { "shear, notch and brake straight", 3.5 + 0.04 * LB, LABOUR_SHOP }, /* 4.916 */
  { "close seam", 0.35 * 5, LABOUR_SHOP },                             /* 1.750 */
  { "cut flange", 8 * 0.5, LABOUR_SHOP },                              /* 4.000: 8 bars */
  { "assemble frame", 2 * 2.2, LABOUR_SHOP },                          /* 4.400: 2 frames */
  { "seat frame", 2 * (2 + 0.2 * 6), LABOUR_SHOP },                    /* 6.400: girth 6 ft */
  { "fasten screw", 28 * 0.2, LABOUR_SHOP },                           /* 5.600: 2 x (4 + 3) a frame */
  { "label and load", 1.5, LABOUR_SHOP },                              /* 1.500 */
};

static const Line field_lines[] = {
  { "receive and distribute", 6 + 0.1 * LB, LABOUR_FLOOR }, /* 9.540 */
  { "set hanger anchors", 0.625 * 8, LABOUR_AIR },          /* 5/8 of 20.0 = 12.500 */
  { "hang and level", 0.625 * 12, LABOUR_AIR },
  { "raise and hold", 12 + 0.25 * LB, LABOUR_AIR }, /* 20.851: to 60 lb */
  { "gasket turn", 0.45 * 6, LABOUR_JOINT },        /* 2.700 */
  { "corner strip", 4 * 0.2, LABOUR_JOINT },        /* 0.800 */
  { "cleat", 2 * 0.5, LABOUR_JOINT },               /* 1.000 */
  { "seal corners", 1.8, LABOUR_JOINT },            /* 1.800 */
  { "punch, clean and cover", 4, LABOUR_AIR },      /* 4.000 */
};

static const Line bolted_lines[] = {
  { "align and clamp", 6 + 0.4 * 6, LABOUR_JOINT }, /* 8.400 */
  { "bolt and nut", 4 * 1.3, LABOUR_JOINT },        /* 5.200 */
};

static const Line driven_lines[] = {
  { "align for driven fasteners", 3.5 + 0.3 * 6, LABOUR_JOINT }, /* 5.300 */
  { "drive fastener", 4 * 0.45, LABOUR_JOINT },                  /* 1.800 */
};

/* The minutes printed for the piece: 28.566 shop, 66.791 and 60.291 field, joint 19.900 and 13.400. */
static void
test_hand_minutes (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  DuctShape s = hand_piece ();
  g_autofree gint64 *bolted = price (basis, "slip-on-bolted", &s, LABOUR_LIKELY);
  g_autofree gint64 *driven = price (basis, "slip-on-driven", &s, LABOUR_LIKELY);
  double shop, field, joint;

  assert_steps (basis, bolted, shop_lines, G_N_ELEMENTS (shop_lines), &shop);
  assert_steps (basis, driven, shop_lines, G_N_ELEMENTS (shop_lines), &shop);
  assert_near (shop, 28.566, 0.0005);
  assert_near (side_minutes (basis, bolted, TRUE, FALSE), 28.566, 0.0005);
  assert_near (side_minutes (basis, driven, TRUE, FALSE), 28.566, 0.0005);
  assert_steps (basis, bolted, field_lines, G_N_ELEMENTS (field_lines), &field);
  assert_steps (basis, driven, field_lines, G_N_ELEMENTS (field_lines), &field);

  assert_steps (basis, bolted, bolted_lines, G_N_ELEMENTS (bolted_lines), &joint);
  assert_near (field + joint, 66.791, 0.0005);
  assert_near (side_minutes (basis, bolted, FALSE, FALSE), 66.791, 0.0005);
  assert_near (side_minutes (basis, bolted, FALSE, TRUE), 19.900, 1e-9);
  assert_near (minutes (basis, bolted, "drive fastener", LABOUR_JOINT), 0, 1e-12);

  assert_steps (basis, driven, driven_lines, G_N_ELEMENTS (driven_lines), &joint);
  assert_near (field + joint, 60.291, 0.0005);
  assert_near (side_minutes (basis, driven, FALSE, FALSE), 60.291, 0.0005);
  assert_near (side_minutes (basis, driven, FALSE, TRUE), 13.400, 1e-9);
  /* 48 % off align-and-bolt, 33 % off the joint, 10 % off the piece on site */
  assert_near (1 - (5.3 + 1.8) / (8.4 + 5.2), 0.48, 0.005);
  assert_near (1 - side_minutes (basis, driven, FALSE, TRUE) / side_minutes (basis, bolted, FALSE, TRUE), 0.33, 0.005);
  assert_near (1 - side_minutes (basis, driven, FALSE, FALSE) / side_minutes (basis, bolted, FALSE, FALSE), 0.10,
               0.005);
}

/* Every item of the piece; what is not named is nothing. Quantities by hand, overage included. */
static void
test_hand_items (void)
{
  static const Line common[] = {
    { "galvanised sheet", LB * 1.08, 0 },       /* 38.2347 lb */
    { "slip-on flange", 133.5 / 12 * 1.06, 0 }, /* 11.7925 ft */
    { "screw", 28, 0 },
    { "label", 1, 0 },
    { "end film", 4, 0 },                    /* two faces of 2 ft2 */
    { "strap hanger set", 0.625, 0 },        /* W + H = 36 */
    { "gasket butyl", 82.0 / 12 * 1.05, 0 }, /* 7.175 ft */
    { "cleat 6 in metal", 2, 0 },
    { "sealant tube", 0.1, 0 },
  };
  static const Line own[2][2] = {
    { { "corner for bolts", 8, 0 }, { "bolt and nut 3/8 x 1", 4, 0 } },
    { { "corner for driven fasteners", 8, 0 }, { "driven fastener", 4 * 1.02, 0 } },
  };
  static const char *const method[] = { "slip-on-bolted", "slip-on-driven" };
  /* by hand, in currency: 37.470006 + 13.91515 + 0.98 + 0.06 + 0.36 + 5.875 + 1.50675 + 0.76 + 0.52 = 61.446906; then
   * corners 4.64 and bolts 1.44, or corners 5.76 and fasteners 5.304 */
  static const double money[] = { 67.526906, 72.510906 };
  g_autoptr (CostBasis) basis = basis_new (NULL);

  for (int m = 0; m < 2; m++)
    {
      DuctShape s = hand_piece ();
      g_autofree gint64 *vector = price (basis, method[m], &s, LABOUR_LIKELY);
      LabourFactors even;
      CostSums sums = { 0 };
      int items = 0;
      for (gsize i = 0; i < G_N_ELEMENTS (common); i++)
        assert_near (quantity (basis, vector, common[i].key), common[i].amount, i == 4 ? 2e-5 : 2e-6);
      for (int i = 0; i < 2; i++)
        assert_near (quantity (basis, vector, own[m][i].key), own[m][i].amount, 1e-9);
      for (int i = 0; i < basis->n_items; i++)
        items += vector[i] != 0;
      g_assert_cmpint (items, ==, (int) G_N_ELEMENTS (common) + 2);
      labour_factors_init (&even);
      cost_sums_add (&sums, basis, vector, &even, 0, 1);
      assert_near (num_wide_to_double (sums.items[COST_MATERIAL]) / 1e10, money[m], 0.00001);
      /* all but sheet, label, film and hanger serve the joint */
      assert_near (num_wide_to_double (sums.joint_hardware) / 1e10, money[m] - 37.470006 - 0.06 - 0.36 - 5.875,
                   0.00001);
      assert_near (num_wide_to_double (sums.labour[1]) / num_wide_to_double (COST_LABOUR_DEN), 28.566 * 68 / 60, 0.001);
      assert_near (num_wide_to_double (sums.labour[0]) / num_wide_to_double (COST_LABOUR_DEN),
                   (m ? 60.291 : 66.791) * 92 / 60, 0.001);
    }
}

static gint64
measure_of (const CostBasis *basis, const gint64 *vector, CostMeasure measure)
{
  return vector[cost_measure_slot (basis, measure)];
}

static void
test_hand_measures (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  DuctShape s = hand_piece ();
  g_autofree gint64 *bolted = price (basis, "slip-on-bolted", &s, LABOUR_LIKELY);
  g_autofree gint64 *driven = price (basis, "slip-on-driven", &s, LABOUR_LIKELY);
  static const struct
  {
    CostMeasure measure;
    gint64 value;
  } rows[] = { { COST_PIECES, 1000 },       { COST_JOINTS, 1000 },       { COST_FLANGED_JOINTS, 1000 },
               { COST_SD_JOINTS, 0 },       { COST_ENDS, 2000 },         { COST_ENDS_OTHERS, 0 },
               { COST_FRAMES, 2000 },       { COST_CORNERS, 8000 },      { COST_BARS, 8000 },
               { COST_FLANGE_UM, 3390900 }, { COST_GASKET_UM, 2082800 }, { COST_CLEATS, 2000 },
               { COST_SCREWS, 28000 },      { COST_HANGERS, 625 },       { COST_RUNS, 1000 },
               { COST_OWN_MATERIAL, 0 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_test_message ("row %d", (int) i);
      g_assert_cmpint (measure_of (basis, bolted, rows[i].measure), ==, rows[i].value);
      g_assert_cmpint (measure_of (basis, driven, rows[i].measure), ==, rows[i].value);
    }
  g_assert_cmpint (measure_of (basis, bolted, COST_BOLTS), ==, 4000);
  g_assert_cmpint (measure_of (basis, bolted, COST_FASTENERS), ==, 0);
  g_assert_cmpint (measure_of (basis, driven, COST_BOLTS), ==, 0);
  g_assert_cmpint (measure_of (basis, driven, COST_FASTENERS), ==, 4000); /* net of overage */
  /* net 35.402; shipped with 11 1/8 ft of flange at 0.55 and 8 corners at 0.20 lb, without overage */
  assert_near ((double) measure_of (basis, bolted, COST_NET_MG) / 453592.37, LB, 1e-5);
  assert_near ((double) measure_of (basis, bolted, COST_SHIPPED_MG) / 453592.37, LB + 11.125 * 0.55 + 8 * 0.2, 1e-5);
  assert_near ((double) measure_of (basis, bolted, COST_AREA_MM2) / 92903.04, 30, 1e-4);
}

/* Measures that add up two kinds of hardware: heavy flange on 18 gauge, the corners of rolled flanges. */
static void
test_other_measures (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  DuctShape heavy = fixture_shape (DUCT_STRAIGHT, 60, 12, 6), rolled = hand_piece ();

  heavy.dim[DUCT_DIM_LENGTH] = 5 * FT;
  g_autofree gint64 *a = price (basis, "slip-on-bolted", &heavy, LABOUR_LIKELY);
  g_autofree gint64 *b = price (basis, "integral-bolted", &rolled, LABOUR_LIKELY);
  /* two frames of 2 x (58 11/16 + 10 11/16) = 138 3/4 in */
  g_assert_cmpint (measure_of (basis, a, COST_FLANGE_UM), ==, 7048500);
  assert_near (quantity (basis, a, "slip-on flange heavy"), 277.5 / 12 * 1.06, 1e-6);
  assert_near (quantity (basis, a, "slip-on flange"), 0, 1e-9);
  /* 5 ft of 56 1/4 in pieces: r = 3 3/4 is too short, so two pieces; 4 ends of 4 corners */
  g_assert_cmpint (measure_of (basis, b, COST_PIECES), ==, 2000);
  g_assert_cmpint (measure_of (basis, b, COST_CORNERS), ==, 16000);
  g_assert_cmpint (measure_of (basis, b, COST_FRAMES), ==, 0);
  assert_near (quantity (basis, b, "corner for integral flange"), 16, 1e-9);
}

/* The band of the whole piece sets the rate of all its pounds: to 60, to 150 inclusive, above. */
static void
test_bands (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  static const struct
  {
    double w, h, lb, per_lb;
    int lift;
  } rows[] = {
    { 24, 12, 6.125 * 5 * 1.156, 0.25, 0 },  /* 35.4 */
    { 40, 20, 10.125 * 5 * 1.406, 0.35, 0 }, /* 71.2 */
    { 84, 42, 21.125 * 5 * 1.656, 0.50, 1 }, /* 174.9 */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DuctShape s = fixture_shape (DUCT_STRAIGHT, rows[i].w, rows[i].h, 2);
      s.dim[DUCT_DIM_LENGTH] = 5 * FT;
      g_autofree gint64 *vector = price (basis, "slip-on-bolted", &s, LABOUR_LIKELY);
      assert_near (minutes (basis, vector, "raise and hold", LABOUR_AIR), 12 + rows[i].per_lb * rows[i].lb, 2 * MINUTE);
      assert_near (minutes (basis, vector, "lift set-up", LABOUR_AIR), rows[i].lift * 25, 1e-9);
    }
  /* at the edge: the first coefficients up to and with the limit, the next above it */
  for (int m = 0; m < basis->n_methods; m++)
    {
      const GArray *lines = basis->lines[m * DUCT_N_KINDS + DUCT_STRAIGHT];
      for (guint i = 0; i < lines->len; i++)
        {
          const CostLine *line = &g_array_index (lines, CostLine, i);
          const CostCoef *first = &g_array_index (basis->coefs[LABOUR_LIKELY], CostCoef, line->first);
          if (line->n_coefs < 3)
            continue;
          g_assert_true (cost_line_coef (basis, line, LABOUR_LIKELY, 1) == first);
          g_assert_cmpint (first->upto_mg, ==, 27215542);   /* 60 lb */
          g_assert_cmpint (first[1].upto_mg, ==, 68038856); /* 150 lb */
          g_assert_true (cost_line_coef (basis, line, LABOUR_LIKELY, 27215542) == first);
          g_assert_true (cost_line_coef (basis, line, LABOUR_LIKELY, 27215543) == first + 1);
          g_assert_true (cost_line_coef (basis, line, LABOUR_LIKELY, 68038856) == first + 1);
          g_assert_true (cost_line_coef (basis, line, LABOUR_LIKELY, G_MAXINT64) == first + 2);
        }
    }
}

/* A factor on the fixed part only: an offset 1.3, a tap 0.35 of 10 and 16 minutes; amounts that are fractions: a tap
 * is half a punch, 0.4 of a raise. */
static void
test_factors_and_fractions (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  DuctShape tap = fixture_shape (DUCT_TAP, 12, 8, 2), drive = fixture_shape (DUCT_STRAIGHT, 16, 12, 1);
  g_autofree gint64 *vector = price (basis, "slip-on-bolted", &tap, LABOUR_LIKELY);
  double lb = (2.0 * 20 / 12 + 0.125) * 7 / 12 * 0.906;

  assert_near (minutes (basis, vector, "lay out and cut fitting", LABOUR_SHOP), 0.35 * 10 + 0.15 * lb, 2 * MINUTE);
  assert_near (minutes (basis, vector, "form and assemble fitting", LABOUR_SHOP), 0.35 * 16 + 0.45 * lb, 2 * MINUTE);
  assert_near (minutes (basis, vector, "raise and hold", LABOUR_AIR), 0.4 * (12 + 0.25 * lb), 2 * MINUTE);
  assert_near (minutes (basis, vector, "install tap", LABOUR_AIR), 18, 1e-9);
  assert_near (minutes (basis, vector, "punch, clean and cover", LABOUR_AIR), 2, 1e-9);
  assert_near (quantity (basis, vector, "sealant tube"), 0.1, 1e-9);
  /* a joint's girth over 481 ft of band a gallon (computed: 231 / (0.020 x 144) x 6): 56 in */
  drive.dim[DUCT_DIM_LENGTH] = 4 * FT;
  g_autofree gint64 *sd = price (basis, "slip-and-drive", &drive, LABOUR_LIKELY);
  assert_near (quantity (basis, sd, "sealant"), 56.0 / 12 / 481, 0.6e-6);
  assert_near (minutes (basis, sd, "join slip and drive", LABOUR_JOINT), 9 + 0.8 * 56 / 12, MINUTE);
}

static DuctShape
random_shape (GRand *rand)
{
  DuctShape s = fixture_shape ((DuctKind) g_rand_int_range (rand, 0, DUCT_COUNTED), g_rand_int_range (rand, 6, 80),
                               g_rand_int_range (rand, 6, 80), g_rand_int_range (rand, 1, 7));

  if (s.kind == DUCT_STRAIGHT)
    s.dim[DUCT_DIM_LENGTH] = g_rand_int_range (rand, 1, 2000) * (IN / 2);
  if (s.kind == DUCT_TRANSITION)
    {
      s.dim[DUCT_DIM_W2] = g_rand_int_range (rand, 6, 80) * IN;
      s.dim[DUCT_DIM_H2] = g_rand_int_range (rand, 6, 80) * IN;
    }
  s.exposure = g_rand_int_range (rand, 0, 4) == 0 ? DUCT_OUTDOORS : DUCT_INDOORS;
  return s;
}

static DuctShape
random_round (GRand *rand)
{
  static const DuctKind kinds[] = { DUCT_ROUND_DUCT, DUCT_GORED_ELBOW, DUCT_REDUCER, DUCT_ROUND_CAP, DUCT_SPIN_IN };
  DuctShape s = fixture_shape (kinds[g_rand_int_range (rand, 0, G_N_ELEMENTS (kinds))], g_rand_int_range (rand, 4, 60), 0,
                               g_rand_int_range (rand, 1, 7));

  if (s.kind == DUCT_ROUND_DUCT)
    s.dim[DUCT_DIM_LENGTH] = g_rand_int_range (rand, 1, 2000) * (IN / 2);
  if (s.kind == DUCT_REDUCER)
    s.dim[DUCT_DIM_W2] = g_rand_int_range (rand, 4, 60) * IN;
  return s;
}

/* A run is the exact sum of its pieces; low, likely and high rise; nothing is negative. */
static void
test_linear (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  g_autoptr (GRand) rand = g_rand_new_with_seed (31);
  g_autofree gint64 *whole = g_new (gint64, basis->n_vector), *part = g_new (gint64, basis->n_vector);
  g_autofree gint64 *sum = g_new (gint64, basis->n_vector), *low = g_new (gint64, basis->n_vector);
  g_autofree gint64 *high = g_new (gint64, basis->n_vector);

  for (int i = 0; i < 300; i++)
    {
      int method = i % basis->n_methods, runs = cost_measure_slot (basis, COST_RUNS);
      const DuctConnection *c = duct_rules_connection (starter->rules, catalogue_method (starter, method)->connection);
      DuctShape s = c->section == DUCT_ROUND ? random_round (rand) : random_shape (rand);
      const char *connection = c->key;
      DuctMeasure m, one = { .n_lots = 1 };
      fixture_measure (starter->rules, &s, connection, &m);
      cost_price_measure (basis, method, (DuctKind) s.kind, &m, LABOUR_LIKELY, whole);
      cost_price_measure (basis, method, (DuctKind) s.kind, &m, LABOUR_LOW, low);
      cost_price_measure (basis, method, (DuctKind) s.kind, &m, LABOUR_HIGH, high);
      memset (sum, 0, sizeof (gint64) * (gsize) basis->n_vector);
      for (int l = 0; l < m.n_lots; l++)
        {
          one.lot[0] = m.lot[l];
          one.lot[0].n = 1;
          cost_price_measure (basis, method, (DuctKind) s.kind, &one, LABOUR_LIKELY, part);
          for (int k = 0; k < basis->n_vector; k++)
            sum[k] += part[k] * m.lot[l].n;
        }
      sum[runs] = 1000;
      for (int k = 0; k < basis->n_vector; k++)
        {
          g_assert_cmpint (sum[k], ==, whole[k]);
          g_assert_cmpint (whole[k], >=, 0);
          g_assert_cmpint (low[k], <=, whole[k]);
          g_assert_cmpint (high[k], >=, whole[k]);
        }
      /* what is bought covers what is built */
      assert_near ((double) whole[catalogue_find_item (starter, "galvanised sheet")] / 1e6,
                   1.08 * (double) whole[cost_measure_slot (basis, COST_NET_MG)] / 453592.37, 1e-4);
    }
}

/* cost_sums_add: conditions and times multiply minutes exactly; a joint's place mixes floor and air. */
static void
test_sums (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  DuctShape s = hand_piece ();
  g_autofree gint64 *vector = price (basis, "slip-on-bolted", &s, LABOUR_LIKELY);
  g_autofree NumWide *time = g_new0 (NumWide, basis->n_slots);
  LabourCondition lift = { .factor_ppm = 1200000, .places = 1u << LABOUR_AIR, .groups = (1u << LABOUR_N_GROUPS) - 1 };
  LabourCondition people = { .factor_ppm = 1100000,
                             .places = 1u << LABOUR_FLOOR,
                             .groups = (1u << LABOUR_N_GROUPS) - 1 };
  LabourFactors even, hard;
  CostSums once = { 0 }, thrice = { .slot_time = time }, harder = { 0 };
  NumWide all = 0;

  labour_factors_init (&even);
  labour_factors_init (&hard);
  labour_factors_apply (&hard, &lift);
  labour_factors_apply (&hard, &people);
  cost_sums_add (&once, basis, vector, &even, 0, 1);
  cost_sums_add (&thrice, basis, vector, &even, 0, 3);
  for (int i = 0; i < 2; i++)
    {
      g_assert_true (thrice.items[i] == 3 * once.items[i]);
      g_assert_true (thrice.labour[i] == 3 * once.labour[i]);
      g_assert_true (thrice.time[i] == 3 * once.time[i]);
    }
  for (int i = 0; i < basis->n_slots; i++)
    all += time[i];
  g_assert_true (all == thrice.time[0] + thrice.time[1]);
  /* a quarter of the joints on the floor: 0.25 x 1.1 + 0.75 x 1.2 = 1.175 on the joint; 9.540 on the floor, 37.351
   * in the air */
  cost_sums_add (&harder, basis, vector, &hard, 250000, 1);
  assert_near (num_wide_to_double (harder.joint_time) / num_wide_to_double (once.joint_time), 1.175, 1e-12);
  assert_near (num_wide_to_double (harder.time[0]) / 6e10, 19.9 * 1.175 + 9.54025 * 1.1 + 37.350625 * 1.2, 0.0002);
  g_assert_true (harder.time[1] == once.time[1]); /* the shop knows no conditions of the site */
  g_assert_true (harder.items[0] == once.items[0]);
  /* A condition that names floor, air and joint multiplies a joint once, wherever it is made. */
  for (gint64 floor_ppm = 0; floor_ppm <= 1000000; floor_ppm += 250000)
    {
      LabourCondition site = { .factor_ppm = 1120000,
                               .places = (1u << LABOUR_N_PLACES) - 1,
                               .groups = (1u << LABOUR_N_GROUPS) - 1 };
      LabourFactors f;
      CostSums sums = { 0 };
      labour_factors_init (&f);
      labour_factors_apply (&f, &site);
      cost_sums_add (&sums, basis, vector, &f, floor_ppm, 1);
      for (int side = 0; side < 2; side++)
        g_assert_true (sums.time[side] * 100 == once.time[side] * 112);
    }
}

/* Slip and drive falls back where it is not allowed, with the reason of the first refusal. */
static void
test_fallback (void)
{
  g_autoptr (CostBasis) basis = basis_new (NULL);
  int driven = catalogue_find_method (starter, "slip-and-drive-driven");
  DuctShape small = fixture_shape (DUCT_STRAIGHT, 16, 12, 2), wide = fixture_shape (DUCT_STRAIGHT, 24, 12, 2);
  g_autofree char *none = NULL, *reason = NULL;

  small.dim[DUCT_DIM_LENGTH] = wide.dim[DUCT_DIM_LENGTH] = FT;
  fixture_resolve (starter->rules, &small);
  fixture_resolve (starter->rules, &wide);
  g_assert_cmpint (cost_effective_method (basis, driven, &small, &none), ==, driven);
  g_assert_null (none);
  g_assert_cmpint (cost_effective_method (basis, driven, &wide, &reason), ==,
                   catalogue_find_method (starter, "slip-on-driven"));
  g_assert_cmpstr (reason, ==, "longer side over 18 in");
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/price/hand-minutes", test_hand_minutes);
  g_test_add_func ("/price/hand-items", test_hand_items);
  g_test_add_func ("/price/hand-measures", test_hand_measures);
  g_test_add_func ("/price/other-measures", test_other_measures);
  g_test_add_func ("/price/bands", test_bands);
  g_test_add_func ("/price/factors-and-fractions", test_factors_and_fractions);
  g_test_add_func ("/price/linear", test_linear);
  g_test_add_func ("/price/sums", test_sums);
  g_test_add_func ("/price/fallback", test_fallback);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}

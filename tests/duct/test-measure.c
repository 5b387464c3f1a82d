/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces, joints and their hardware. Counts and lengths are geometry and common practice unless a line says
 * otherwise; seam, take-up, the screw spacings, the shortest rest piece and the gauge ladder are invented demo. */
#include "fixture.h"

static Catalogue *starter;

static double
inches (const DuctMeasure *m, int slot)
{
  return (double) duct_measure_sum (m, slot) / 25400;
}

static double
pounds (const DuctMeasure *m)
{
  return (double) duct_measure_sum (m, DUCT_NET_LB) / 453592.37;
}

/* Counts come in thousandths. */
#define assert_count(m, slot, n) g_assert_cmpint (duct_measure_sum ((m), (slot)), ==, (gint64) (n) *1000)

static DuctShape
straight (double w, double h, double class_in, double length_in)
{
  DuctShape s = fixture_shape (DUCT_STRAIGHT, w, h, class_in);

  s.dim[DUCT_DIM_LENGTH] = (gint64) (length_in * IN + 0.5);
  return s;
}

static void
measure (DuctShape *s, const char *connection, DuctMeasure *m)
{
  fixture_measure (starter->rules, s, connection, m);
}

/* ---- one joint ---- */

/* 24x12 slip-on, worked by hand: frames 2, corners 8, bars 8 of side less 1 5/16 (22 11/16 and 10 11/16), flange 66
 * 3/4 a frame; gasket 72 + 4 x 2 1/2; cleats 2 at 2 in w.g. (common practice). */
static void
test_joint (void)
{
  DuctShape s = straight (24, 12, 2, 60);
  DuctMeasure m;

  measure (&s, "slip-on", &m);
  assert_count (&m, DUCT_PIECE, 1);
  assert_count (&m, DUCT_FLANGED_JOINT, 1);
  assert_count (&m, DUCT_FRAME, 2);
  assert_count (&m, DUCT_SEATED_FRAME, 2);
  assert_count (&m, DUCT_SLIPON_CORNER, 8);
  assert_count (&m, DUCT_BAR, 8);
  assert_count (&m, DUCT_SD_JOINT, 0);
  assert_near (inches (&m, DUCT_FLANGE_FT), 133.5, 0.001);
  assert_near (inches (&m, DUCT_HEAVY_FLANGE_FT), 0, 0.001);
  assert_near (inches (&m, DUCT_GASKET_FT), 82, 0.001);
  assert_count (&m, DUCT_CLEAT, 2);
  assert_near (inches (&m, DUCT_CLEAT_FT), 0, 0.001);
  assert_near (inches (&m, DUCT_LEN_SEATED_FRAME), 144, 0.001);
  assert_near (inches (&m, DUCT_LEN_FLANGED_JOINT), 72, 0.001);
  g_assert_cmpint (((DuctStep *) g_ptr_array_index (starter->rules->profiles, 0))->value, ==, 21 * IN / 16);
  /* two open faces of 2 ft2 */
  assert_near ((double) duct_measure_sum (&m, DUCT_END_FT2) / 92903.04, 4, 0.00002);
}

/* n = ceil ((c - 1.5) / s) + 1 a bar (computed): 32, 28, 20 a joint of two frames at 6, 8, 12 in. Which class asks
 * for which spacing is invented demo: 12 to class 1, 8 to class 3, 6 above. */
static void
test_screws (void)
{
  static const struct
  {
    double class_in;
    int screws;
  } rows[] = { { 0.5, 20 }, { 1, 20 }, { 2, 28 }, { -3, 28 }, { 4, 32 }, { 6, 32 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DuctShape s = straight (24, 12, rows[i].class_in, 60), small = straight (2, 2, rows[i].class_in, 60);
      DuctMeasure m;
      measure (&s, "slip-on", &m);
      assert_count (&m, DUCT_SCREW, rows[i].screws);
      assert_count (&m, DUCT_SHOP_SCREW, rows[i].screws);
      /* a bar shorter than the two edge distances still takes two */
      measure (&small, "slip-on", &m);
      assert_count (&m, DUCT_SCREW, 16);
    }
}

/* Corners are fixed points, n a side = floor (side / spacing) (computed from common practice's spacings). */
static void
test_cleats (void)
{
  static const struct
  {
    double w, h, class_in;
    int cleats;
    guint notes;
  } rows[] = {
    { 24, 12, 2, 2, 0 },
    { 24, 24, 2, 4, 0 },
    { 54, 18, 3, 8, 0 },
    { 96, 48, 4, 24, 0 },
    { 96, 48, -6, 24, 0 },
    { 23.9, 12, 2, 0, 0 },
    { 24, 12, 1, 2, DUCT_NOTE_CLEAT_LOW },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DuctShape s = straight (rows[i].w, rows[i].h, rows[i].class_in, 60);
      DuctMeasure m;
      g_test_message ("row %d", (int) i);
      measure (&s, "slip-on", &m);
      assert_count (&m, DUCT_CLEAT, rows[i].cleats);
      g_assert_cmpint (duct_measure_sum (&m, DUCT_CLEAT_FT), ==, 0);
      g_assert_cmphex (m.notes, ==, rows[i].notes);
    }
}

/* Weatherproof joints and classes over 6: a continuous cleat of the joint's girth, with a note (common practice;
 * over 6 to 10 the closer reading). */
static void
test_continuous_cleat (void)
{
  DuctShape out = straight (24, 12, 2, 60), high = straight (24, 12, 10, 60);
  DuctMeasure m;

  out.exposure = DUCT_OUTDOORS;
  measure (&out, "slip-on", &m);
  assert_count (&m, DUCT_CLEAT, 0);
  assert_near (inches (&m, DUCT_CLEAT_FT), 72, 0.001);
  g_assert_cmphex (m.notes, ==, DUCT_NOTE_CLEAT_WEATHER);

  high.sheet_pin = (gint16) duct_rules_find_sheet (starter->rules, DUCT_GALVANISED, "18");
  measure (&high, "slip-on", &m);
  assert_count (&m, DUCT_CLEAT, 0);
  assert_near (inches (&m, DUCT_CLEAT_FT), 72, 0.001);
  g_assert_cmphex (m.notes, ==, DUCT_NOTE_CLEAT_GAP);
  g_assert_nonnull (strstr (duct_note_words (DUCT_NOTE_CLEAT_GAP),
                            "6 to 10 in w.g.: no agreed spacing, continuous cleat assumed"));
  /* heavy profile on 18 gauge (invented demo, inside a data sheet's range) */
  assert_near (inches (&m, DUCT_HEAVY_FLANGE_FT), 133.5, 0.001);
  assert_near (inches (&m, DUCT_FLANGE_FT), 0, 0.001);
}

/* Slips on the longer sides, drives on the shorter ones with 2 in over (invented demo). 16x10: slip 32, drive 24,
 * girth 52. */
static void
test_slip_and_drive (void)
{
  DuctShape s = straight (10, 16, 1, 57.875);
  DuctMeasure m;

  measure (&s, "slip-and-drive", &m);
  assert_count (&m, DUCT_SD_JOINT, 1);
  assert_count (&m, DUCT_SD_END, 2);
  assert_count (&m, DUCT_FLANGED_JOINT, 0);
  assert_count (&m, DUCT_FRAME, 0);
  assert_near (inches (&m, DUCT_SLIP_FT), 32, 0.001);
  assert_near (inches (&m, DUCT_DRIVE_FT), 24, 0.001);
  assert_near (inches (&m, DUCT_SD_JOINT_FT), 52, 0.001);
  assert_near (inches (&m, DUCT_LEN_SD_END), 104, 0.001);
  assert_near (inches (&m, DUCT_GASKET_FT), 0, 0.001);
}

/* The demo's rule for slip and drive: class to 2, longer side of both sizes to 18 in, indoors. */
static void
test_allowed (void)
{
  int slip = duct_rules_find_connection (starter->rules, "slip-and-drive");
  DuctShape good = straight (18, 18, -2, 60), high = straight (12, 12, 3, 60), low = straight (12, 12, -3, 60),
            wide = straight (12, 18.5, 1, 60);
  DuctShape out = straight (12, 12, 1, 60), grows = fixture_shape (DUCT_TRANSITION, 12, 12, 1);
  struct
  {
    DuctShape *shape;
    const char *words;
  } rows[] = { { &good, NULL },
               { &high, "class over 2 in w.g. (500 Pa)" },
               { &low, "class over 2 in w.g. (500 Pa)" },
               { &wide, "longer side over 18 in" },
               { &out, "outdoors" },
               { &grows, "longer side over 18 in" } };

  out.exposure = DUCT_OUTDOORS;
  grows.dim[DUCT_DIM_W2] = 20 * IN;
  grows.dim[DUCT_DIM_H2] = 12 * IN;
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *reason = NULL;
      fixture_resolve (starter->rules, rows[i].shape);
      g_assert_true (duct_connection_allows (starter->rules, slip, rows[i].shape, &reason) == (rows[i].words == NULL));
      g_assert_cmpstr (reason, ==, rows[i].words);
      g_assert_true (duct_connection_allows (starter->rules, duct_rules_find_connection (starter->rules, "slip-on"),
                                             rows[i].shape, NULL));
    }
}

/* ---- whole runs ---- */

/* 24x12, 20 ft, 60 in pieces, 2 in w.g.: 4 pieces, 4 joints of which 3 lie inside, 120 ft2, 138.7 lb in 24 ga
 * (computed; bare metal, so with a seam of nothing). */
static void
test_run (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  DuctShape s = straight (24, 12, 2, 240), inside;
  DuctMeasure m;

  fixture_tables (table);
  fixture_set (table[CATALOGUE_ALLOWANCES], "seam", "value", "0");
  g_autoptr (Catalogue) bare = fixture_catalogue (table);
  inside = s;
  fixture_measure (bare->rules, &s, "slip-on", &m);
  assert_count (&m, DUCT_PIECE, 4);
  assert_count (&m, DUCT_FLANGED_JOINT, 4);
  assert_near ((double) duct_measure_sum (&m, DUCT_AREA_FT2) / 92903.04, 120, 0.0001);
  assert_near (pounds (&m), 138.72, 0.0001);
  inside.first_end = inside.last_end = DUCT_END_RAW;
  fixture_measure (bare->rules, &inside, "slip-on", &m);
  assert_count (&m, DUCT_FLANGED_JOINT, 3);
  assert_count (&m, DUCT_END_MADE, 6);
}

typedef struct
{
  const char *connection;
  double length;
  int n[2];
  double piece[2];
} Division;

/* r = 0: q; q = 0: one of r; 0 < r < 6: q - 1 whole and two of (l + r) / 2; else q and one of r. Laid lengths 60, 56
 * 1/4 (60 less 3 3/4) and 57 7/8 (60 less 2 1/8): invented demo. */
static void
test_division (void)
{
  static const Division rows[] = {
    { "slip-on", 240, { 4, 0 }, { 60, 0 } },
    { "slip-on", 48, { 0, 1 }, { 60, 48 } },
    { "slip-on", 5, { 0, 1 }, { 60, 5 } },
    { "slip-on", 245, { 3, 2 }, { 60, 32.5 } },
    { "slip-on", 62, { 0, 2 }, { 60, 31 } },
    { "slip-on", 246, { 4, 1 }, { 60, 6 } },
    { "slip-on", 299, { 4, 1 }, { 60, 59 } },
    { "integral", 240, { 4, 1 }, { 56.25, 15 } },
    { "integral", 225, { 4, 0 }, { 56.25, 0 } },
    { "integral", 230, { 3, 2 }, { 56.25, 30.625 } },
    { "slip-and-drive", 120, { 1, 2 }, { 57.875, 31.0625 } },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DuctShape s = straight (16, 10, 1, rows[i].length);
      int n[2] = { 0, 0 };
      DuctMeasure m;
      g_test_message ("row %d", (int) i);
      measure (&s, rows[i].connection, &m);
      for (int l = 0; l < m.n_lots; l++)
        {
          gboolean whole = m.lot[l].length == (gint64) (rows[i].piece[0] * IN);
          n[whole ? 0 : 1] += (int) m.lot[l].n;
          assert_near ((double) m.lot[l].length / IN, rows[i].piece[whole ? 0 : 1], 1e-6);
        }
      g_assert_cmpint (n[0], ==, rows[i].n[0]);
      g_assert_cmpint (n[1], ==, rows[i].n[1]);
    }
}

/* Two runs of 26 ft are one of 52 ft within one piece; so is any run cut in two. Lengths of pieces add up to the
 * run. */
static void
test_halves (void)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (21);

  for (int i = 0; i < 500; i++)
    {
      double length = i == 0 ? 312 : g_rand_double_range (rand, 0.1, 2000);
      DuctShape half = straight (24, 12, 2, length), whole = straight (24, 12, 2, length);
      const char *connection = i % 2 ? "integral" : "slip-on";
      gint64 seam = 0, more;
      DuctMeasure m, both;

      whole.dim[DUCT_DIM_LENGTH] = 2 * half.dim[DUCT_DIM_LENGTH];
      measure (&half, connection, &m);
      measure (&whole, connection, &both);
      more = 2 * duct_measure_sum (&m, DUCT_PIECE) - duct_measure_sum (&both, DUCT_PIECE);
      g_assert_true (more == 0 || more == 1000);
      if (i == 0)
        g_assert_cmpint (more, ==, 1000); /* 6 + 6 pieces against 11 */
      for (int l = 0; l < both.n_lots; l++)
        seam += both.lot[l].n * both.lot[l].length;
      g_assert_cmpint (ABS (seam - whole.dim[DUCT_DIM_LENGTH]), <=, 1); /* an odd nanometre halved */
      g_assert_cmpint (both.n_lots, <=, 8);
      assert_near ((double) duct_measure_sum (&both, DUCT_AREA_FT2) / (72 * 645.16 * 2 * length), 1, 1e-3);
    }
}

static void
assert_refused (DuctShape *s, DuctDim dim, const char *words)
{
  DuctProblem problem = { DUCT_DIM_NONE, NULL };
  DuctBuild build = { .set = -1, .connection = duct_rules_find_connection (starter->rules, "slip-on"), .rule_row = -1, .round_row = -1, .stiffening = DUCT_NO_STIFFENING, .side_row = { -1, -1 } };
  DuctMeasure m;
  gboolean refused =
      !duct_shape_resolve (starter->rules, s, &problem) || !duct_measure (starter->rules, s, &build, &m, &problem);

  g_assert_true (refused);
  g_test_message ("%s; %s", problem.fault->what, problem.fault->remedy);
  g_assert_cmpint (problem.dim, ==, dim);
  g_assert_nonnull (strstr (problem.fault->what, words));
  g_assert_cmpstr (problem.fault->remedy, !=, "");
  duct_problem_clear (&problem);
}

static void
test_refused (void)
{
  DuctShape s = fixture_shape (DUCT_TAP, 12, 8, 2);

  s.first_end = DUCT_END_OPEN;
  assert_refused (&s, DUCT_DIM_ENDS, "no first end");
  s = fixture_shape (DUCT_END_CAP, 12, 8, 2);
  s.last_end = DUCT_END_OPEN;
  assert_refused (&s, DUCT_DIM_LAST_END, "no last end");
  s = straight (24, 12, 2, 240);
  s.fit_pieces = 5;
  assert_refused (&s, DUCT_DIM_FIT, "than the run has");
  s = fixture_shape (DUCT_RADIUS_ELBOW, 24, 12, 2);
  s.fit_pieces = 2;
  assert_refused (&s, DUCT_DIM_FIT, "one piece");
  s = straight (1.3125, 12, 2, 240);
  assert_refused (&s, DUCT_DIM_SIZE, "cannot be built");
  s = straight (241, 12, 2, 240);
  assert_refused (&s, DUCT_DIM_SIZE, "over 20 ft");
  s = straight (24, 12, 0, 240);
  assert_refused (&s, DUCT_DIM_CLASS, "pressure class");
  s = fixture_shape (DUCT_STRAIGHT, 24, 12, 2);
  assert_refused (&s, DUCT_DIM_LENGTH, "no length");
  s = fixture_shape (DUCT_TRANSITION, 24, 12, 2);
  assert_refused (&s, DUCT_DIM_W2, "no size");
  s = straight (240, 240, 2, 12 * 700);
  s.coil = 700 * FT;
  assert_refused (&s, DUCT_DIM_SIZE, "too large to build");
  s = straight (24, 12, 2, 240);
  s.coil = 5 * IN;
  assert_refused (&s, DUCT_DIM_LENGTH, "no piece can be made");
}

/* ---- pieces cut on site: the last of the run, one end with a loose slip-on frame (invented demo) ---- */

static void
test_site_fit (void)
{
  DuctShape s = straight (24, 12, 2, 240), integral, raw, drive;
  DuctMeasure m;

  s.fit_pieces = 1;
  integral = raw = s;
  drive = straight (16, 12, 1, 240);
  drive.fit_pieces = 1;

  measure (&s, "slip-on", &m);
  assert_count (&m, DUCT_FIT_END, 1);
  assert_count (&m, DUCT_LOOSE_FRAME, 1);
  assert_count (&m, DUCT_FRAME, 8);
  assert_count (&m, DUCT_SEATED_FRAME, 7);
  assert_count (&m, DUCT_SCREW, 8 * 14);
  assert_count (&m, DUCT_SHOP_SCREW, 7 * 14);
  assert_count (&m, DUCT_BAR, 32);
  assert_count (&m, DUCT_SLIPON_CORNER, 32);
  assert_count (&m, DUCT_FLANGED_JOINT, 4);
  /* it is the last piece */
  g_assert_cmpint (m.lot[m.n_lots - 1].n, ==, 1);
  g_assert_cmpint (m.lot[m.n_lots - 1].one[DUCT_LOOSE_FRAME], ==, 1000);
  g_assert_cmpint (m.lot[0].one[DUCT_LOOSE_FRAME], ==, 0);

  /* A rolled flange cannot be cut: that end falls back to a slip-on frame. 20 ft in pieces of 56 1/4: 5. */
  measure (&integral, "integral", &m);
  assert_count (&m, DUCT_PIECE, 5);
  assert_count (&m, DUCT_INTEGRAL_END, 9);
  assert_count (&m, DUCT_INTEGRAL_CORNER, 36);
  assert_count (&m, DUCT_FRAME, 1);
  assert_count (&m, DUCT_SLIPON_CORNER, 4);
  assert_count (&m, DUCT_LOOSE_FRAME, 1);
  assert_count (&m, DUCT_SEATED_FRAME, 0);
  assert_count (&m, DUCT_END_MADE, 10);

  /* A raw last end cannot carry the frame, so the first end of that piece does. */
  raw.last_end = DUCT_END_RAW;
  measure (&raw, "slip-on", &m);
  assert_count (&m, DUCT_FRAME, 7);
  assert_count (&m, DUCT_LOOSE_FRAME, 1);
  assert_count (&m, DUCT_FLANGED_JOINT, 4);

  /* Slip-and-drive edges have no frame to leave loose. */
  measure (&drive, "slip-and-drive", &m);
  assert_count (&m, DUCT_FIT_END, 1);
  assert_count (&m, DUCT_LOOSE_FRAME, 0);
}

/* Integral: rolled on straights, slip-on frames on fittings. */
static void
test_integral (void)
{
  DuctShape run = straight (24, 12, 2, 56.25), elbow = fixture_shape (DUCT_RADIUS_ELBOW, 24, 12, 2);
  DuctMeasure m;

  measure (&run, "integral", &m);
  assert_count (&m, DUCT_INTEGRAL_END, 2);
  assert_count (&m, DUCT_INTEGRAL_CORNER, 8);
  assert_near (inches (&m, DUCT_LEN_INTEGRAL_END), 144, 0.001); /* girths whole, no corner taken off */
  assert_count (&m, DUCT_FRAME, 0);
  assert_count (&m, DUCT_SCREW, 0);
  assert_count (&m, DUCT_FLANGED_JOINT, 1);
  /* blank = laid + 3 3/4 = 60 in: as heavy as the 5 ft slip-on piece */
  assert_near (pounds (&m), 35.4025, 0.0001);
  assert_near ((double) duct_measure_sum (&m, DUCT_AREA_FT2) / 92903.04, 28.125, 0.0001);
  measure (&elbow, "integral", &m);
  assert_count (&m, DUCT_INTEGRAL_END, 0);
  assert_count (&m, DUCT_FRAME, 2);
  assert_count (&m, DUCT_FLANGED_JOINT, 1);
}

/* Each end of a transition is built at its own size; the joint takes the first size of the piece that owns it. 24x12
 * to 16x10: frames of 66 3/4 and 2 x (14 11/16 + 8 11/16) = 46 3/4; screws 14 and, at 8 in, 2 x (3 + 2) = 10. */
static void
test_two_sizes (void)
{
  DuctShape s = fixture_shape (DUCT_TRANSITION, 24, 12, 2);
  DuctMeasure m;

  s.dim[DUCT_DIM_W2] = 16 * IN;
  s.dim[DUCT_DIM_H2] = 10 * IN;
  measure (&s, "slip-on", &m);
  assert_near (inches (&m, DUCT_FLANGE_FT), 66.75 + 46.75, 0.001);
  assert_near (inches (&m, DUCT_LEN_SEATED_FRAME), 72 + 52, 0.001);
  assert_count (&m, DUCT_SCREW, 14 + 10);
  assert_near (inches (&m, DUCT_GASKET_FT), 82, 0.001);
  assert_near (inches (&m, DUCT_LEN_FLANGED_JOINT), 72, 0.001);
  assert_near ((double) duct_measure_sum (&m, DUCT_END_FT2) / 92903.04, 2 + 160.0 / 144, 0.00002);
}

/* ---- hangers, gauges, weights ---- */

/* Spacing 8 ft (City of Zephyrhills, section 15890); 5 ft are 625 thousandths. Strap while W + H <= 72, else trapeze
 * to 60 in of width or above (invented demo). */
static void
test_hangers (void)
{
  static const struct
  {
    double w, h;
    int slot;
  } rows[] = { { 24, 12, DUCT_STRAP },
               { 48, 24, DUCT_STRAP },
               { 48, 24.5, DUCT_TRAPEZE_TO_60 },
               { 60, 30, DUCT_TRAPEZE_TO_60 },
               { 60.5, 30, DUCT_TRAPEZE_OVER_60 },
               { 30, 61, DUCT_TRAPEZE_TO_60 } };
  static const DuctKind bare[] = { DUCT_TAP, DUCT_END_CAP };
  DuctShape elbow = fixture_shape (DUCT_RADIUS_ELBOW, 24, 12, 2);
  DuctMeasure m;

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DuctShape s = straight (rows[i].w, rows[i].h, 2, 60);
      g_test_message ("row %d", (int) i);
      measure (&s, "slip-on", &m);
      g_assert_cmpint (duct_measure_sum (&m, DUCT_HANGER), ==, 625);
      g_assert_cmpint (duct_measure_sum (&m, rows[i].slot), ==, 625);
      g_assert_cmpint (duct_measure_sum (&m, DUCT_STRAP) + duct_measure_sum (&m, DUCT_TRAPEZE_TO_60)
                           + duct_measure_sum (&m, DUCT_TRAPEZE_OVER_60),
                       ==, 625);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (bare); i++)
    {
      DuctShape s = fixture_shape (bare[i], 24, 12, 2);
      measure (&s, "slip-on", &m);
      g_assert_cmpint (duct_measure_sum (&m, DUCT_HANGER), ==, 0);
    }
  /* an elbow by its centreline: 36 in x pi/2 over 96 in */
  measure (&elbow, "slip-on", &m);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_HANGER), ==, 589);
  /* The laid length hangs, not the blank: 56 1/4 over 96. */
  DuctShape laid = straight (24, 12, 2, 56.25);
  measure (&laid, "integral", &m);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_HANGER), ==, 586);
}

static const char *
gauge_of (DuctShape *s)
{
  DuctBuild build;

  fixture_resolve (starter->rules, s);
  g_assert_true (duct_choose_build (starter->rules, duct_rules_find_set (starter->rules, "demo"), 0, s, &build, NULL));
  return duct_rules_sheet (starter->rules, build.sheet)->label;
}

/* A transition takes its larger end, a tap its own size, an entered gauge stands; the ladder is invented demo. */
static void
test_gauge (void)
{
  DuctShape grows = fixture_shape (DUCT_TRANSITION, 12, 12, 2), shrinks, tap = fixture_shape (DUCT_TAP, 12, 8, 2);
  DuctShape tall = straight (10, 40, 2, 60), pinned = straight (24, 12, 2, 60);

  grows.dim[DUCT_DIM_W2] = 40 * IN;
  grows.dim[DUCT_DIM_H2] = 10 * IN;
  g_assert_cmpstr (gauge_of (&grows), ==, "22");
  shrinks = fixture_shape (DUCT_TRANSITION, 40, 10, 2);
  shrinks.dim[DUCT_DIM_W2] = shrinks.dim[DUCT_DIM_H2] = 12 * IN;
  g_assert_cmpstr (gauge_of (&shrinks), ==, "22");
  g_assert_cmpstr (gauge_of (&tap), ==, "26");
  g_assert_cmpstr (gauge_of (&tall), ==, "22");
  pinned.sheet_pin = (gint16) duct_rules_find_sheet (starter->rules, DUCT_GALVANISED, "16");
  g_assert_cmpstr (gauge_of (&pinned), ==, "16");
}

/* Computed from the sheet weights (published) with the 1 1/2 in seam (invented demo): a straight (girth + 1 1/2) x
 * blank x lb/ft2; a fitting (area + 1 1/2 in x centreline) x lb/ft2; an end cap has no seam. */
static void
test_weights (void)
{
  DuctShape piece = straight (24, 12, 2, 60), elbow = fixture_shape (DUCT_RADIUS_ELBOW, 24, 12, 2), edge = elbow;
  DuctShape cap = fixture_shape (DUCT_END_CAP, 24, 12, 2), tap = fixture_shape (DUCT_TAP, 12, 8, 2);
  DuctShape big = straight (96, 48, 6, 60);
  DuctMeasure m;

  measure (&piece, "slip-on", &m);
  assert_near (pounds (&m), 6.125 * 5 * 1.156, 0.00001); /* 35.402 */
  assert_count (&m, DUCT_OVER_150_LB, 0);
  assert_near (inches (&m, DUCT_SEAM), 60, 0.001);
  /* The turning side is the throat: 24 in, centreline 36; on edge 12 in, centreline 18. */
  measure (&elbow, "slip-on", &m);
  assert_near (pounds (&m), (6 + 0.125) * 3 * G_PI_2 * 1.156, 0.0001);
  assert_near (inches (&m, DUCT_SEAM), 0, 0.001); /* a driver of straights only */
  edge.on_edge = 1;
  measure (&edge, "slip-on", &m);
  assert_near (pounds (&m), (6 + 0.125) * 1.5 * G_PI_2 * 1.156, 0.0001);
  measure (&cap, "slip-on", &m);
  assert_near (pounds (&m), 26.0 * 14 / 144 * 1.156, 0.0001);
  measure (&tap, "slip-on", &m);
  assert_near (pounds (&m), (2.0 * 20 / 12 + 0.125) * 7 / 12 * 0.906, 0.0001);
  measure (&big, "slip-on", &m);
  assert_near (pounds (&m), 24.125 * 5 * 2.156, 0.0001);
  assert_count (&m, DUCT_OVER_150_LB, 1);
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/duct-measure/joint", test_joint);
  g_test_add_func ("/duct-measure/screws", test_screws);
  g_test_add_func ("/duct-measure/cleats", test_cleats);
  g_test_add_func ("/duct-measure/continuous-cleat", test_continuous_cleat);
  g_test_add_func ("/duct-measure/slip-and-drive", test_slip_and_drive);
  g_test_add_func ("/duct-measure/allowed", test_allowed);
  g_test_add_func ("/duct-measure/run", test_run);
  g_test_add_func ("/duct-measure/division", test_division);
  g_test_add_func ("/duct-measure/halves", test_halves);
  g_test_add_func ("/duct-measure/refused", test_refused);
  g_test_add_func ("/duct-measure/site-fit", test_site_fit);
  g_test_add_func ("/duct-measure/integral", test_integral);
  g_test_add_func ("/duct-measure/two-sizes", test_two_sizes);
  g_test_add_func ("/duct-measure/hangers", test_hangers);
  g_test_add_func ("/duct-measure/gauge", test_gauge);
  g_test_add_func ("/duct-measure/weights", test_weights);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}

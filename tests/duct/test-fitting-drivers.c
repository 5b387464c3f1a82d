/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What fittings beyond elbow, ogee offset and tap count: ends and joints, what comes whole, vanes, holes, weight,
 * gauge, and what they take up of a length. Geometry and the project's own rules of counting; default lengths are
 * invented demo. */
#include "fixture.h"

static Catalogue *starter;

static double
area_in2 (DuctShape *s, double *centreline_in)
{
  DuctGeometry g;

  fixture_resolve (starter->rules, s);
  duct_geometry (starter->rules, s, &g);
  if (centreline_in)
    *centreline_in = g.centreline_mm / 25.4;
  return g.area_mm2 / 645.16;
}

static gint64
nm (double in)
{
  return (gint64) floor (in * IN + 0.5);
}

static DuctShape
shape (DuctKind kind, double w, double h, double w2, double h2, double length)
{
  DuctShape s = fixture_shape (kind, w, h, 2);

  if (w2 > 0)
    s.dim[DUCT_DIM_W2] = nm (w2);
  if (h2 > 0)
    s.dim[DUCT_DIM_H2] = nm (h2);
  if (length > 0)
    s.dim[DUCT_DIM_LENGTH] = nm (length);
  return s;
}

#define assert_count(m, slot, n) g_assert_cmpint (duct_measure_sum ((m), (slot)), ==, (gint64) (n) *1000)

static void
measure (DuctShape *s, const char *connection, DuctMeasure *m)
{
  fixture_measure (starter->rules, s, connection, m);
}

/* The last end of a tee is the main's; its branch and those of a wye wait for the next piece like a last end. */
static void
test_ends (void)
{
  static const struct
  {
    DuctKind kind;
    int first, last, branches; /* rectangular ends made by us */
  } rows[] = {
    { DUCT_ANGLED_OFFSET, 1, 1, 0 }, { DUCT_TEE, 1, 1, 1 },        { DUCT_WYE, 1, 0, 2 },
    { DUCT_BOOT_TAP, 0, 1, 0 },      { DUCT_PLENUM_BOX, 0, 0, 0 }, { DUCT_TURNING_VANES, 0, 0, 0 },
    { DUCT_ACCESS_DOOR, 0, 0, 0 },
  };
  static const char *const connection[] = { "slip-on", "integral", "slip-and-drive" };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    for (int end = 0; end < DUCT_N_ENDS; end++)
      for (int c = 0; c < 3; c++)
        {
          DuctShape s = shape (rows[i].kind, 16, 12, rows[i].branches ? 8 : 0, rows[i].branches ? 8 : 0,
                               rows[i].branches ? 30 : 12);
          gboolean made = duct_end_made ((DuctEnd) end), others = duct_end_by_others ((DuctEnd) end);
          int joint = c == 2 ? DUCT_SD_JOINT : DUCT_FLANGED_JOINT;
          gint64 face = 0;
          DuctMeasure m;

          if (rows[i].first)
            s.first_end = (guint8) end;
          if (rows[i].last)
            s.last_end = (guint8) end;
          g_test_message ("%s, %s, %s", duct_kind_info (rows[i].kind)->key, duct_end_key ((DuctEnd) end),
                          connection[c]);
          measure (&s, connection[c], &m);
          assert_count (&m, DUCT_END_MADE, (rows[i].first + rows[i].last) * made + rows[i].branches);
          assert_count (&m, DUCT_END_OTHERS, (rows[i].first + rows[i].last) * others);
          assert_count (&m, joint, rows[i].first * (others || end == DUCT_END_JOINT) + rows[i].last * others);
          g_assert_cmpint (duct_measure_sum (&m, DUCT_FRAME) + duct_measure_sum (&m, DUCT_INTEGRAL_END)
                               + duct_measure_sum (&m, DUCT_SD_END),
                           ==, duct_measure_sum (&m, DUCT_END_MADE));
          for (int k = 0; k < rows[i].first + rows[i].last + rows[i].branches; k++)
            face += duct_measure_sum (&m, DUCT_END_FT2) > 0 ? (k < rows[i].first + rows[i].last ? 16 * 12 : 8 * 8) : 0;
          assert_near ((double) duct_measure_sum (&m, DUCT_END_FT2), (double) face * 645.16, 2);
        }
}

/* Ends of what comes whole are its maker's: no frame of ours. Joints stay where the rule puts them, at the first end
 * and wherever others follow, so that made ends and ends by others are twice the joints along a line. */
static void
test_bought_ends (void)
{
  static const DuctKind line[] = { DUCT_STRAIGHT,         DUCT_DAMPER, DUCT_STRAIGHT,
                                   DUCT_FABRIC_CONNECTOR, DUCT_TEE,    DUCT_DAMPER };
  static const char *const connection[] = { "slip-on", "integral", "slip-and-drive" };

  for (int c = 0; c < 3; c++)
    {
      gint64 joints = 0, made = 0, others = 0;
      int joint = c == 2 ? DUCT_SD_JOINT : DUCT_FLANGED_JOINT;

      for (gsize i = 0; i < G_N_ELEMENTS (line); i++)
        {
          DuctShape s = shape (line[i], 16, 12, line[i] == DUCT_TEE ? 8 : 0, line[i] == DUCT_TEE ? 8 : 0, 40);
          DuctMeasure m;

          if (i == 0)
            s.first_end = DUCT_END_EQUIPMENT;
          if (i + 1 == G_N_ELEMENTS (line))
            s.last_end = DUCT_END_EQUIPMENT;
          measure (&s, connection[c], &m);
          joints += duct_measure_sum (&m, joint);
          made += duct_measure_sum (&m, DUCT_END_MADE);
          others += duct_measure_sum (&m, DUCT_END_OTHERS);
          if (!duct_kind_info (line[i])->bought)
            continue;
          assert_count (&m, DUCT_END_MADE, 0);
          assert_count (&m, DUCT_FRAME, 0);
          assert_count (&m, DUCT_INTEGRAL_END, 0);
          assert_count (&m, DUCT_SD_END, 0);
          assert_count (&m, joint, i + 1 == G_N_ELEMENTS (line) ? 2 : 1);
          g_assert_cmpint (duct_measure_sum (&m, DUCT_NET_LB), ==, 0);
        }
      /* the tee's branch is the one end that nothing meets */
      g_assert_cmpint (made + others - 2 * joints, ==, 1000);
    }
}

static void
test_bought (void)
{
  DuctShape door = shape (DUCT_ACCESS_DOOR, 18, 12, 0, 0, 0), damper = shape (DUCT_DAMPER, 24, 12, 0, 0, 0);
  DuctShape fabric = shape (DUCT_FABRIC_CONNECTOR, 24, 12, 0, 0, 0);
  DuctMeasure m;

  measure (&door, "slip-on", &m);
  assert_count (&m, DUCT_DOOR, 1);
  assert_near ((double) duct_measure_sum (&m, DUCT_DOOR_FT2), 1.5 * 92903.04, 1);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_AREA_FT2), ==, 0);
  measure (&damper, "slip-on", &m);
  assert_count (&m, DUCT_DAMPER_PIECE, 1);
  assert_near ((double) duct_measure_sum (&m, DUCT_DAMPER_FT2), 2 * 92903.04, 1);
  assert_near ((double) duct_measure_sum (&m, DUCT_LEN_DAMPER), 72 * 25400, 1);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_HANGER), >, 0);
  measure (&fabric, "slip-on", &m);
  assert_near ((double) duct_measure_sum (&m, DUCT_FABRIC_FT), 72 * 25400, 1);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_HANGER), ==, 0);
}

/* As in a mitred elbow of the same size, without its sheet. Figures: rail 24 sqrt 2, n = floor (rail / 2 1/8) = 15. */
static void
test_vanes (void)
{
  DuctShape s = shape (DUCT_TURNING_VANES, 24, 12, 0, 0, 0), elbow = shape (DUCT_MITRED_ELBOW, 24, 12, 0, 0, 0);
  DuctMeasure m, e;

  measure (&s, "slip-on", &m);
  measure (&elbow, "slip-on", &e);
  assert_count (&m, DUCT_VANE, 15);
  assert_near ((double) duct_measure_sum (&m, DUCT_RAIL_FT) / 25400, 2 * 33.941, 0.001);
  for (int slot = DUCT_VANE; slot <= DUCT_RAIL_FT; slot++)
    g_assert_cmpint (duct_measure_sum (&m, slot), ==, duct_measure_sum (&e, slot));
  g_assert_cmpint (duct_measure_sum (&m, DUCT_NET_LB), ==, 0);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_AREA_FT2), ==, 0);
  g_assert_cmpint (duct_measure_sum (&m, DUCT_HANGER), ==, 0);
}

/* One hole for a boot tap, as large as its base; none for the plain tap, whose own step cuts it. */
static void
test_piercing (void)
{
  DuctShape boot = shape (DUCT_BOOT_TAP, 12, 8, 0, 0, 6), tap = shape (DUCT_TAP, 12, 8, 0, 0, 6),
            box = shape (DUCT_PLENUM_BOX, 24, 12, 0, 0, 18);
  DuctMeasure m;

  boot.dim[DUCT_DIM_OFFSET] = 4 * IN;
  measure (&boot, "slip-on", &m);
  assert_count (&m, DUCT_PIERCING, 1);
  assert_near ((double) duct_measure_sum (&m, DUCT_LEN_PIERCING), 48 * 25400, 1);
  measure (&tap, "slip-on", &m);
  assert_count (&m, DUCT_PIERCING, 0);
  measure (&box, "slip-on", &m);
  assert_count (&m, DUCT_PIERCING, 0);
}

/* Net sheet is the area and the seam's allowance along the centreline. */
static void
test_weight (void)
{
  DuctShape shapes[] = { shape (DUCT_TEE, 24, 12, 12, 8, 30), shape (DUCT_WYE, 24, 12, 12, 12, 36),
                         shape (DUCT_PLENUM_BOX, 24, 12, 0, 0, 18), shape (DUCT_ANGLED_OFFSET, 24, 12, 0, 0, 36),
                         shape (DUCT_BOOT_TAP, 12, 8, 0, 0, 6) };

  for (gsize i = 0; i < G_N_ELEMENTS (shapes); i++)
    {
      DuctShape *s = &shapes[i];
      int sheet = duct_rules_find_sheet (starter->rules, DUCT_GALVANISED, "22");
      DuctMeasure m;
      double line, area, seam = duct_kind_info (s->kind)->seam ? 1.5 : 0;

      s->sheet_pin = (gint16) sheet;
      area = area_in2 (s, &line);
      measure (s, "slip-on", &m);
      assert_near ((double) duct_measure_sum (&m, DUCT_NET_LB) / 453592.37, (area + seam * line) / 144 * 1.406, 0.01);
      assert_near ((double) duct_measure_sum (&m, DUCT_AREA_FT2), area * 645.16, 1);
      g_assert_cmpint (duct_measure_sum (&m, DUCT_LEN_PIECE), ==, (gint64) floor (line * 25400 + 0.5));
    }
}

static int
sheet_of (const DuctShape *shape, const char *set)
{
  DuctShape s = *shape;
  DuctBuild build;

  fixture_resolve (starter->rules, &s);
  g_assert_true (duct_choose_build (starter->rules, duct_rules_find_set (starter->rules, set),
                                    duct_rules_find_connection (starter->rules, "slip-on"), &s, &build, NULL));
  return build.sheet;
}

/* The larger end governs: City of Zephyrhills, Florida, section 15890: 24 ga to 30 in, 22 ga to 54 in. A tap takes the
 * row of its own size, be its main heavier or not. */
static void
test_gauge (void)
{
  static const struct
  {
    DuctKind kind;
    double w, h, w2, h2, length;
    const char *gauge;
  } rows[] = {
    { DUCT_TEE, 30, 20, 12, 12, 0, "24" },
    { DUCT_TEE, 30, 20, 40, 12, 0, "22" },
    { DUCT_WYE, 30, 20, 16, 20, 0, "24" },
    { DUCT_WYE, 30, 20, 16, 31, 0, "22" },
    { DUCT_SQUARE_TO_ROUND, 30, 20, 31, 0, 0, "22" },
    { DUCT_SQUARE_TO_ROUND, 30, 20, 20, 0, 0, "24" },
    { DUCT_PLENUM_BOX, 30, 20, 0, 0, 40, "22" },
    { DUCT_PLENUM_BOX, 30, 20, 0, 0, 30, "24" },
    { DUCT_BOOT_TAP, 30, 20, 0, 0, 0, "24" },
    { DUCT_BOOT_TAP, 31, 20, 0, 0, 0, "22" },
    { DUCT_ANGLED_OFFSET, 31, 20, 0, 0, 0, "22" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      DuctShape s = shape (rows[i].kind, rows[i].w, rows[i].h, rows[i].w2, rows[i].h2, rows[i].length);
      g_test_message ("row %d", (int) i);
      g_assert_cmpint (sheet_of (&s, "city-low-pressure"), ==,
                       duct_rules_find_sheet (starter->rules, DUCT_GALVANISED, rows[i].gauge));
    }
}

/* What a fitting takes up of a length measured along the centrelines: legs to where they meet, R = throat + A / 2. */
static void
test_through (void)
{
  DuctShape elbow = shape (DUCT_RADIUS_ELBOW, 24, 12, 0, 0, 0), mitred = shape (DUCT_MITRED_ELBOW, 24, 12, 0, 0, 0);
  DuctShape tee = shape (DUCT_TEE, 24, 12, 10, 8, 0), tap = shape (DUCT_TAP, 12, 8, 0, 0, 0);

#define THROUGH(s) (fixture_resolve (starter->rules, &(s)), (double) duct_through_length (starter->rules, &(s)) / IN)
  elbow.dim[DUCT_DIM_THROAT] = 6 * IN;
  assert_near (THROUGH (elbow), 36, 1e-6); /* two legs of R = 18 */
  elbow.on_edge = TRUE;
  assert_near (THROUGH (elbow), 24, 1e-6); /* R = 12 */
  elbow.dim[DUCT_DIM_ANGLE] = UDEG_45;
  assert_near (THROUGH (elbow), 24 * tan (G_PI / 8), 1e-6);
  elbow.dim[DUCT_DIM_ANGLE] = 2 * UDEG_90;
  assert_near (THROUGH (elbow), 48, 1e-6);  /* two bends of 90 degrees */
  assert_near (THROUGH (mitred), 36, 1e-6); /* legs of 6 and half of 24, twice */
  assert_near (THROUGH (tee), 22, 1e-6);
  assert_near (THROUGH (tap), 0, 1e-9);
#undef THROUGH
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/fitting-drivers/ends", test_ends);
  g_test_add_func ("/fitting-drivers/bought-ends", test_bought_ends);
  g_test_add_func ("/fitting-drivers/bought", test_bought);
  g_test_add_func ("/fitting-drivers/vanes", test_vanes);
  g_test_add_func ("/fitting-drivers/piercing", test_piercing);
  g_test_add_func ("/fitting-drivers/weight", test_weight);
  g_test_add_func ("/fitting-drivers/gauge", test_gauge);
  g_test_add_func ("/fitting-drivers/through", test_through);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}

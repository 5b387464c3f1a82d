/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Leakage classes and allowed flow. Formula, classes and pressures: SMACNA (2nd edition 1995; leakage manual, Table 4-1) as a
 * duct leakage tester manual, 2015, reprints them (published*); flows by the formula are computed. */
#include "duct/leakage.h"
#include "fixture.h"

#include "base/measure.h"

static Catalogue *starter;

/* F = CL P^0.65 in cfm a 100 ft2 (computed). */
static void
test_flow (void)
{
  static const struct
  {
    double cl, in_wg, f;
  } rows[] = { { 24, 1, 24.000 }, { 24, 2, 37.660 }, { 12, 2, 18.830 }, { 12, 3, 24.508 },
               { 6, 2, 9.415 },   { 6, 4, 14.774 },  { 3, 4, 7.387 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      assert_near (duct_leakage_flow (rows[i].cl, rows[i].in_wg), rows[i].f, 0.0005);
      assert_near (duct_leakage_flow (rows[i].cl, -rows[i].in_wg), rows[i].f, 0.0005);
    }
  /* 600 ft2 of CL 24 at 1 in: 144 cfm */
  assert_near (duct_leakage_allowed (24, 1, 600 * G_GINT64_CONSTANT (9290304) / 100), 144, 0.001);
}

/* k of f = k p^0.65, l/s a m2 with pascals (computed). */
static void
test_metric (void)
{
  static const double rows[][2] = { { 48, 0.06753 }, { 24, 0.03376 }, { 12, 0.01688 }, { 6, 0.00844 }, { 3, 0.00422 } };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    assert_near (duct_leakage_k (rows[i][0]), rows[i][1], 0.000005);
  assert_near (duct_leakage_k (1), 0.0014068, 0.00000005);
  /* The two systems of units agree: 1 cfm is 0.3048^3 / 60 m3/s, 100 ft2 are 9.290304 m2. */
  for (double p = 0.1; p < 12; p += 0.37)
    assert_near (duct_leakage_flow_si (7, p * 249.089) * 9.290304 / (0.3048 * 0.3048 * 0.3048 / 60 * 1000),
                 duct_leakage_flow (7, p), 1e-6);
}

/* EN 1507, EN 12237: A leaks most (European ventilation information centre, published); limits from memory, their leakage class
 * and the flow at 400 Pa computed. */
static void
test_european (void)
{
  static const struct
  {
    const char *key;
    double k, cl, at_400;
  } rows[] = {
    { "A", 0.027, 19.2, 1.327 }, { "B", 0.009, 6.4, 0.442 }, { "C", 0.003, 2.13, 0.147 }, { "D", 0.001, 0.71, 0.049 }
  };

  for (int i = 0; i < DUCT_N_EURO_CLASSES; i++)
    {
      const DuctEuroClass *euro = duct_euro_class (i);
      g_assert_cmpstr (euro->key, ==, rows[i].key);
      assert_near (euro->k, rows[i].k, 1e-9);
      assert_near (duct_euro_cl (euro), rows[i].cl, 0.01 * rows[i].cl);
      assert_near (duct_leakage_flow_si (duct_euro_cl (euro), 400), rows[i].at_400, 0.0006);
      g_assert_cmpint (euro->status, ==, DUCT_FROM_MEMORY);
    }
}

/* Which row answers, or the words of why none does. */
static void
test_rows (void)
{
  static const struct
  {
    const char *edition, *seal;
    double class_in, rect, round; /* -1: no row */
    const char *words;
    DuctStatus status;
  } rows[] = {
    { NULL, "C", 0.5, 24, 12, NULL, DUCT_PUBLISHED_SECONDARY },
    { "SMACNA 1995", "C", -2, 24, 12, NULL, DUCT_PUBLISHED_SECONDARY },
    { "SMACNA 1995", "b", 3, 12, 6, NULL, DUCT_PUBLISHED_SECONDARY },
    { "SMACNA 1995", "A", 4, 6, 3, NULL, DUCT_PUBLISHED_SECONDARY },
    { "", "A", 10, 6, 3, NULL, DUCT_PUBLISHED_SECONDARY },
    /* a tighter seal at a lower pressure does not by itself give the lower class */
    { NULL, "A", 2, 24, 12, NULL, DUCT_PUBLISHED_SECONDARY },
    { NULL, "B", 1, 24, 12, NULL, DUCT_PUBLISHED_SECONDARY },
    { NULL, "A", 3, 12, 6, NULL, DUCT_PUBLISHED_SECONDARY },
    { NULL, "none", 2, 48, -1, "round duct of class 2", DUCT_PUBLISHED_SECONDARY },
    { NULL, "none", 6, 48, -1, "round", DUCT_PUBLISHED_SECONDARY },
    { NULL, "C", 3, -1, -1, "too loose for class 3", DUCT_PUBLISHED },
    { NULL, "B", 4, -1, -1, "asks for A", DUCT_PUBLISHED },
    { NULL, "D", 1, -1, -1, "no row for seal class D", DUCT_PUBLISHED },
    { "of next year", "A", 1, -1, -1, "of next year", DUCT_PUBLISHED },
    { "ASHRAE 90.1-2010", "A", 4, 4, 4, NULL, DUCT_FROM_MEMORY },
    { "ASHRAE 90.1-2010", "C", 2, -1, -1, "seal class C", DUCT_FROM_MEMORY },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    for (int round = 0; round < 2; round++)
      {
        double wanted = round ? rows[i].round : rows[i].rect;
        g_autoptr (Fault) fault = NULL;
        int at = duct_leakage_row (starter->rules, rows[i].edition, rows[i].seal, (gint64) (rows[i].class_in * 1000),
                                   round ? DUCT_ROUND : DUCT_RECT, &fault);
        g_test_message ("row %d: %s", (int) i, fault ? fault->what : "answered");
        if (wanted < 0)
          {
            g_assert_cmpint (at, ==, -1);
            g_assert_nonnull (strstr (fault->what, rows[i].words));
            g_assert_cmpstr (fault->remedy, !=, "");
            continue;
          }
        g_assert_cmpint (at, >=, 0);
        g_assert_null (fault);
        const DuctLeakage *row = g_ptr_array_index (starter->rules->leakage, (guint) at);
        assert_near (round ? row->round_cl : row->rect_cl, wanted, 1e-9);
        g_assert_cmpint (row->status, ==, rows[i].status);
      }
}

/* More pressure never asks for less, whatever the seal: the flow allowed at a class grows with neither seal nor class. */
static void
test_order (void)
{
  static const char *const seals[] = { "C", "B", "A" };

  for (int round = 0; round < 2; round++)
    for (gint64 p = 100; p <= 10000; p += 100)
      {
        double least = G_MAXDOUBLE;
        for (gsize i = 0; i < G_N_ELEMENTS (seals); i++)
          {
            int at = duct_leakage_row (starter->rules, NULL, seals[i], p, round ? DUCT_ROUND : DUCT_RECT, NULL);
            const DuctLeakage *row = at < 0 ? NULL : g_ptr_array_index (starter->rules->leakage, (guint) at);
            double cl = !row ? G_MAXDOUBLE : round ? row->round_cl : row->rect_cl;
            /* what a seal class answers, a tighter one answers alike */
            g_assert_true (least == G_MAXDOUBLE || fabs (cl - least) < 1e-9);
            least = cl;
          }
        g_assert_cmpfloat (least, <, G_MAXDOUBLE);
      }
}

/* Classes and their metric names as printed up to 4 in (published*), 6 and 10 in rounded alike (computed). */
static void
test_pressure_classes (void)
{
  static const struct
  {
    double in_wg, over, up_to;
    int pa;
  } rows[] = { { 0.5, 0, 0.5, 125 }, { 1, 0.5, 1, 250 }, { 2, 1, 2, 500 },   { 3, 2, 3, 750 },
               { 4, 3, 4, 1000 },    { 6, 4, 6, 1500 },  { 10, 6, 10, 2500 } };

  g_assert_cmpuint (starter->rules->pressure_classes->len, ==, G_N_ELEMENTS (rows));
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      gint64 milli = (gint64) (rows[i].in_wg * 1000), back;
      const DuctPressureClass *row = duct_rules_pressure_class (starter->rules, -milli);
      g_autofree char *pa = g_strdup_printf ("%d Pa", rows[i].pa);
      g_autofree char *text = pressure_print (milli, TRUE);
      g_assert_nonnull (row);
      g_assert_cmpint (row->pa, ==, rows[i].pa);
      g_assert_cmpint (row->over, ==, (gint64) (rows[i].over * 1000));
      g_assert_cmpint (row->up_to, ==, (gint64) (rows[i].up_to * 1000));
      g_assert_cmpint (row->status, ==, DUCT_PUBLISHED_SECONDARY);
      /* what is typed and printed in a metric job is this row: 500 Pa is 2 in w.g., not 2.007 */
      g_assert_cmpstr (text, ==, pa);
      g_assert_true (pressure_parse (pa, &back, NULL));
      g_assert_cmpint (back, ==, milli);
    }
  g_assert_null (duct_rules_pressure_class (starter->rules, 2007));
}

int
main (int argc, char **argv)
{
  int answer;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/leakage/flow", test_flow);
  g_test_add_func ("/leakage/metric", test_metric);
  g_test_add_func ("/leakage/european", test_european);
  g_test_add_func ("/leakage/rows", test_rows);
  g_test_add_func ("/leakage/order", test_order);
  g_test_add_func ("/leakage/pressure-classes", test_pressure_classes);
  answer = g_test_run ();
  catalogue_unref (starter);
  return answer;
}

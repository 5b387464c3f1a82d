/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a rule set keeps to: its connection, its own classes, spacings from joint to joint; rings of round duct that are named and
 * not counted; spacing of supports; texts of construction. */
#include "duct/candidates.h"

#include "stiff-fixture.h"

static Catalogue *starter;

static gboolean
choose (const Catalogue *c, DuctShape *s, const char *set, const char *connection, DuctBuild *build, char **what)
{
  DuctProblem problem = { DUCT_DIM_NONE, NULL };

  fixture_resolve (c->rules, s);
  gboolean good = duct_choose_build (c->rules, duct_rules_find_set (c->rules, set), duct_rules_find_connection (c->rules, connection), s,
                                     build, &problem);
  if (what)
    *what = good ? NULL : g_strdup (problem.fault->what);
  duct_problem_clear (&problem);
  return good;
}

static DuctShape
straight (double w, double h, double class_in, double coil_in)
{
  DuctShape s = fixture_shape (DUCT_STRAIGHT, w, h, class_in);

  s.dim[DUCT_DIM_LENGTH] = 20 * FT;
  s.coil = (gint64) (coil_in * IN);
  return s;
}

/* Errata sheet to the 3rd edition (2005) of the SMACNA duct construction standards: roll-formed integral flange, straight duct, class
 * 1 of either sign. 48 in side: 5 ft 22 ga, 4 ft 24 ga (published). Nothing else is answered. */
static void
test_errata (void)
{
  DuctShape s = straight (48, 12, 1, 60), four = straight (48, 12, -1, 48), half = straight (48, 12, 0.5, 60);
  DuctShape elbow = fixture_shape (DUCT_RADIUS_ELBOW, 48, 12, 1), pinned = straight (48, 12, 1, 60);
  g_autofree char *slip = NULL, *low = NULL, *bend = NULL;
  DuctBuild build;

  g_assert_true (choose (starter, &s, "integral-1in", "integral", &build, NULL));
  g_assert_cmpstr (duct_rules_sheet (starter->rules, build.sheet)->label, ==, "22");
  g_assert_true (choose (starter, &four, "integral-1in", "integral", &build, NULL));
  g_assert_cmpstr (duct_rules_sheet (starter->rules, build.sheet)->label, ==, "24");
  g_assert_false (choose (starter, &s, "integral-1in", "slip-on", &build, &slip));
  g_assert_nonnull (strstr (slip, "Roll-formed integral flange, 1 in w.g."));
  g_assert_nonnull (strstr (slip, "slip-on flange"));
  g_assert_false (choose (starter, &half, "integral-1in", "integral", &build, &low));
  g_assert_nonnull (strstr (low, "no row for class 1/2"));
  g_assert_false (choose (starter, &elbow, "integral-1in", "integral", &build, &bend));
  g_assert_nonnull (strstr (bend, "Roll-formed integral flange, 1 in w.g."));
  /* A gauge entered by hand is kept, with the note. */
  pinned.sheet_pin = (gint16) duct_rules_find_sheet (starter->rules, DUCT_GALVANISED, "22");
  g_assert_true (choose (starter, &pinned, "integral-1in", "slip-on", &build, NULL));
  g_assert_true (build.not_by_set);
  g_assert_true (choose (starter, &pinned, "integral-1in", "integral", &build, NULL));
  g_assert_false (build.not_by_set);
}

/* A member at 4 ft makes no 5 ft piece into a row of 4 ft: at 60 in a 5 ft piece needs more at its joints by the sheet. */
static void
test_joints_only (void)
{
  int set = duct_rules_find_set (starter->rules, "integral-1in");
  DuctShape s = straight (60, 12, 1, 63.75);
  DuctWishes wishes = DUCT_NO_WISHES;
  guint allowed = 0;

  fixture_resolve (starter->rules, &s);
  g_autoptr (GArray) found = duct_candidates (starter->rules, set, duct_rules_find_connection (starter->rules, "integral"), &s, &wishes, FALSE);
  for (guint i = 0; i < found->len; i++)
    {
      const DuctCandidate *c = &g_array_index (found, DuctCandidate, i);
      allowed += c->allowed ? 1 : 0;
      g_assert_cmpint (c->build.stiffening.spacing, <=, 0);
      if (c->allowed && c->length > 4 * FT)
        g_assert_cmpint (duct_rules_sheet (starter->rules, c->build.sheet)->thickness_nm, >,
                         duct_rules_sheet (starter->rules, duct_rules_find_sheet (starter->rules, DUCT_GALVANISED, "22"))->thickness_nm);
    }
  g_assert_cmpuint (allowed, >, 0);
  /* Entered by hand it is refused too. */
  DuctStiffQuery q;
  DuctSideCheck check;
  DuctStiffening st = DUCT_NO_STIFFENING;
  st.spacing = 4 * FT;
  st.member = (gint16) duct_rules_find_member (starter->rules, "2x2x1/4");
  duct_stiff_query (&q, starter->rules, set, duct_rules_find_connection (starter->rules, "integral"), &s);
  g_assert_false (duct_stiff_check (&q, 0, duct_rules_find_sheet (starter->rules, DUCT_GALVANISED, "22"), 5 * FT, &st, &check));
  g_assert_false (check.stations);
}

/* A catalogue whose rule sets stand without these columns answers as before: any connection, the next class up, members between. */
static void
test_older (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  GString *text = g_string_new ("rule_set,name,scope,source,status\n");
  DuctShape s = straight (48, 12, 0.5, 60);
  DuctBuild build;

  fixture_tables (table);
  for (guint i = 0; i < starter->rules->sets->len; i++)
    g_string_append_printf (text, "%s,name %u,,,invented demo\n", ((DuctRuleSet *) g_ptr_array_index (starter->rules->sets, i))->key, i);
  stiff_table (table, CATALOGUE_RULE_SETS, text->str, "rule_sets.csv");
  g_string_free (text, TRUE);
  g_autoptr (Catalogue) c = fixture_catalogue (table);
  g_assert_true (choose (c, &s, "integral-1in", "slip-on", &build, NULL));
  g_autofree char *none = duct_set_limits (c->rules, duct_rules_find_set (c->rules, "integral-1in"));
  g_assert_cmpstr (none, ==, "");
  g_autofree char *limits = duct_set_limits (starter->rules, duct_rules_find_set (starter->rules, "integral-1in"));
  g_assert_nonnull (strstr (limits, "roll-formed integral flange"));
}

/* invented demo: a row of round duct that asks for a ring. */
static void
test_ring (void)
{
  CsvTable *table[CATALOGUE_N_SHEETS];
  DuctShape s = fixture_shape (DUCT_ROUND_DUCT, 30, 0, 2);
  DuctGaugeOrigin origin;
  DuctMeasure m;
  DuctBuild build;

  fixture_tables (table);
  stiff_table (table, CATALOGUE_ROUND_GAUGES,
               "rule_set,metal,pressure_in_wg,sign,seam,dia_to_in,gauge,ring,ring_spacing_ft,source,status\n"
               "demo,galvanised,2,,,24,24,,,,invented demo\ndemo,galvanised,2,,,36,24,1x1x1/8,6,,invented demo\n", "round_gauges.csv");
  g_autoptr (Catalogue) c = fixture_catalogue (table);
  s.dim[DUCT_DIM_LENGTH] = 10 * FT;
  g_assert_true (choose (c, &s, "demo", "spiral-ringed", &build, NULL));
  g_assert_true (duct_build_origin (c->rules, &build, &origin));
  g_assert_nonnull (strstr (origin.note, "1x1x1/8 every 6 ft"));
  g_assert_nonnull (strstr (origin.note, "not counted"));
  g_assert_true (duct_measure (c->rules, &s, &build, &m, NULL));
  g_assert_cmpuint (m.notes & DUCT_NOTE_RING, ==, DUCT_NOTE_RING);
  g_assert_nonnull (strstr (duct_note_words (DUCT_NOTE_RING), "not priced"));
  s.w = 20 * IN;
  g_assert_true (choose (c, &s, "demo", "spiral-ringed", &build, NULL));
  g_assert_true (duct_measure (c->rules, &s, &build, &m, NULL));
  g_assert_cmpuint (m.notes & DUCT_NOTE_RING, ==, 0);
}

/* Steelworker, Volume 2, NAVEDTRA 14251, chapter 2 (published): supports at most 7 ft 10 in apart, which no decimal of feet is. */
static void
test_spacing (void)
{
  const DuctSupport *row = duct_rules_support (starter->rules, duct_rules_find_set (starter->rules, "navy-supports"), DUCT_RECT, FALSE,
                                               36 * IN, 24 * IN);

  g_assert_nonnull (row);
  g_assert_cmpint (row->spacing_nm, ==, 94 * IN);
}

static void
test_texts (void)
{
  g_autoptr (Fault) fault = NULL;
  DuctStiffening st;
  DuctWishes w;
  gint64 coil;

  g_assert_true (duct_wishes_parse ("least gauge; no rods inside", &w, NULL));
  g_assert_true (w.no_rods && w.least_gauge);
  g_assert_false (duct_stiffening_parse (starter->rules, "22 ga; 48 in pieces", DUCT_GALVANISED, &st, &coil, &fault));
  g_assert_nonnull (strstr (fault->remedy, "gauge column"));
  g_assert_false (duct_rules_has_edition (starter->rules, "no such edition"));
  g_assert_true (duct_rules_has_edition (starter->rules, NULL));
}

int
main (int argc, char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/duct/limits/errata", test_errata);
  g_test_add_func ("/duct/limits/joints-only", test_joints_only);
  g_test_add_func ("/duct/limits/older", test_older);
  g_test_add_func ("/duct/limits/ring", test_ring);
  g_test_add_func ("/duct/limits/spacing", test_spacing);
  g_test_add_func ("/duct/limits/texts", test_texts);
  result = g_test_run ();
  catalogue_unref (starter);
  return result;
}

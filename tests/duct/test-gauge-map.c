/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which gauge a rule set answers over sides and classes, against the published rows themselves and against direct look-ups of every
 * field; and one map against another, against a count of its own. */
#include "duct/gauge-map.h"

#include "duct/stiff.h"
#include "stiff-fixture.h"

static Catalogue *starter;

static const char *
at (const DuctRules *rules, const DuctGaugeMap *map, double class_in, double side_in)
{
  for (gsize c = 0; c < map->n_classes; c++)
    for (gsize k = 0; k < map->n_sides; k++)
      if (map->class_to[c] == (gint64) (class_in * 1000) && map->side_to[k] == (gint64) (side_in * IN))
        {
          int sheet = map->sheet[c * map->n_sides + k];
          return sheet < 0 ? "none" : duct_rules_sheet (rules, sheet)->label;
        }
  return "no such field";
}

static void
map_one (const char *set, DuctMetal metal, DuctMapOf of, DuctGaugeMap *map)
{
  int index = duct_rules_find_set (starter->rules, set);

  g_assert_cmpint (index, >=, 0);
  duct_gauge_maps (starter->rules, &index, 1, metal, of, map);
}

/* Errata sheet to the 3rd edition (2005) of the SMACNA duct construction standards, roll-formed integral flange, class 1, 5 ft coil
 * stock: to 30 in 26 ga, to 42 in 24, 48 and 54 in 22, nothing at the joint; at 60 in it asks for tie rods at the joint, which a map
 * of plain joints has not; 72 in 18 ga. One pressure only. */
static void
test_published_integral (void)
{
  const struct
  {
    double side;
    const char *gauge;
  } rows[] = { { 30, "26" }, { 36, "24" }, { 42, "24" }, { 48, "22" }, { 54, "22" }, { 60, "none" }, { 72, "18" } };
  DuctGaugeMap map;

  map_one ("integral-1in", DUCT_GALVANISED, DUCT_MAP_RECTANGULAR, &map);
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_cmpstr (at (starter->rules, &map, 1, rows[i].side), ==, rows[i].gauge);
  g_assert_cmpstr (at (starter->rules, &map, 2, 48), ==, "none");
  /* Nor is class 1/2 answered by class 1. */
  g_assert_cmpstr (at (starter->rules, &map, 0.5, 30), ==, "none");
  duct_gauge_map_clear (&map);
}

/* Zephyrhills specification 99184, class to 2 in w.g.: 18 and 30 in 24 ga, 42 and 54 in 22, 60 and 84 in 20, 96 in and over 18. */
static void
test_published_city (void)
{
  DuctGaugeMap map;

  map_one ("city-low-pressure", DUCT_GALVANISED, DUCT_MAP_RECTANGULAR, &map);
  for (double class_in = 0.5; class_in <= 2; class_in *= 2)
    {
      g_assert_cmpstr (at (starter->rules, &map, class_in, 18), ==, "24");
      g_assert_cmpstr (at (starter->rules, &map, class_in, 54), ==, "22");
      g_assert_cmpstr (at (starter->rules, &map, class_in, 84), ==, "20");
      g_assert_cmpstr (at (starter->rules, &map, class_in, 96), ==, "18");
      g_assert_cmpstr (at (starter->rules, &map, class_in, 120), ==, "18");
    }
  g_assert_cmpstr (at (starter->rules, &map, 3, 18), ==, "none");
  duct_gauge_map_clear (&map);
}

/* International Mechanical Code, Table 603.4, round duct of dwellings, class 1/2: galvanised 11 in 30 ga, 14 in 28, 20 in 26; aluminium
 * 11 in 0.018 in, 14 in 0.023. The table ends at 20 in. */
static void
test_published_round (void)
{
  DuctGaugeMap map;

  map_one ("dwelling-code", DUCT_GALVANISED, DUCT_MAP_SPIRAL, &map);
  g_assert_cmpstr (at (starter->rules, &map, 0.5, 11), ==, "30");
  g_assert_cmpstr (at (starter->rules, &map, 0.5, 14), ==, "28");
  g_assert_cmpstr (at (starter->rules, &map, 0.5, 20), ==, "26");
  g_assert_cmpstr (at (starter->rules, &map, 0.5, 120), ==, "none");
  duct_gauge_map_clear (&map);
  map_one ("dwelling-code", DUCT_ALUMINIUM, DUCT_MAP_LONGITUDINAL, &map);
  g_assert_cmpstr (at (starter->rules, &map, 0.5, 11), ==, "0.018");
  g_assert_cmpstr (at (starter->rules, &map, 0.5, 14), ==, "0.023");
  duct_gauge_map_clear (&map);
}

/* What a run of that size would get: a square straight of one 5 ft piece with slip-on joints, or with the joints that alone the set
 * answers: the errata sheet is of the roll-formed integral flange, so that a slip-on joint gets nothing from it. */
static int
direct (const DuctRules *rules, int set, DuctMapOf of, DuctMetal metal, gint64 class_to, gint64 side)
{
  int own = ((DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->edge;
  const char *connection = of == DUCT_MAP_RECTANGULAR ? (own == DUCT_EDGE_INTEGRAL ? "integral" : "slip-on") : of == DUCT_MAP_SPIRAL ? "spiral-ringed" : "longitudinal-coupled";
  DuctShape s = fixture_shape (of == DUCT_MAP_RECTANGULAR ? DUCT_STRAIGHT : DUCT_ROUND_DUCT, 0, 0, 0);
  DuctProblem problem = { DUCT_DIM_NONE, NULL };
  DuctBuild build;

  s.w = side;
  s.h = of == DUCT_MAP_RECTANGULAR ? side : 0;
  s.pressure = class_to;
  s.metal = (guint8) metal;
  s.dim[DUCT_DIM_LENGTH] = 5 * FT;
  if (of == DUCT_MAP_RECTANGULAR)
    s.coil = 5 * FT + duct_rules_connection (rules, duct_rules_find_connection (rules, connection))->take_up_nm;
  fixture_resolve (rules, &s);
  if (duct_choose_build (rules, set, duct_rules_find_connection (rules, connection), &s, &build, &problem))
    return build.sheet;
  duct_problem_clear (&problem);
  return -1;
}

/* Every field of every set that has one, of all metals. */
static void
test_direct (void)
{
  const DuctRules *rules = starter->rules;
  guint fields = 0, answered = 0, stiff = 0;

  for (int set = 0; set < (int) rules->sets->len; set++)
    for (int metal = 0; metal < DUCT_N_METALS; metal++)
      for (int of = 0; of < DUCT_N_MAPS; of++)
        {
          DuctGaugeMap map;
          duct_gauge_maps (rules, &set, 1, (DuctMetal) metal, (DuctMapOf) of, &map);
          for (gsize c = 0; c < map.n_classes; c++)
            for (gsize k = 0; k < map.n_sides; k++)
              {
                int sheet = map.sheet[c * map.n_sides + k];
                g_assert_cmpint (sheet, ==, direct (rules, set, (DuctMapOf) of, (DuctMetal) metal, map.class_to[c], map.side_to[k]));
                fields++;
                answered += sheet >= 0 ? 1 : 0;
                stiff += sheet >= 0 && of == 0 && duct_rules_has_reinforcement (rules, set, (DuctMetal) metal) ? 1 : 0;
              }
          duct_gauge_map_clear (&map);
        }
  g_test_message ("%u fields, %u answered, %u by reinforcement rows", fields, answered, stiff);
  g_assert_cmpuint (answered, >, 200);
  g_assert_cmpuint (answered, <, fields);
  g_assert_cmpuint (stiff, >, 50);
}

/* Two invented sets in one table: one row each, so that every kind of field is there and can be counted on the fingers. */
static void
test_compare (void)
{
  const char *rows = "rule_set,metal,class_from,class_to,side_to_in,gauge,note,source,status\n"
                     "demo,galvanised,,1,24,26,,,invented demo\ndemo,galvanised,,1,48,22,,,invented demo\ndemo,galvanised,,4,24,22,,,invented demo\n"
                     "traditional,galvanised,,2,24,24,,,invented demo\ntraditional,galvanised,,2,60,24,,,invented demo\n";
  CsvTable *table[CATALOGUE_N_SHEETS];

  fixture_tables (table);
  csv_table_free (table[CATALOGUE_GAUGES]);
  table[CATALOGUE_GAUGES] = csv_parse (rows, -1, "gauges.csv", NULL);
  g_autoptr (Catalogue) catalogue = fixture_catalogue (table);
  int sets[] = { duct_rules_find_set (catalogue->rules, "demo"), duct_rules_find_set (catalogue->rules, "traditional") };
  DuctGaugeMap map[2];

  duct_gauge_maps (catalogue->rules, sets, 2, DUCT_GALVANISED, DUCT_MAP_RECTANGULAR, map);
  /* Sides 24, 48, 60, 120; classes 1/2, 1, 2, 3, 4, 6, 10. */
  g_assert_cmpuint (map[0].n_sides, ==, 4);
  g_assert_cmpuint (map[0].n_classes, ==, 7);
  g_assert_cmpuint (map[1].n_sides, ==, 4);
  DuctMapDifference d = duct_gauge_map_compare (catalogue->rules, &map[0], &map[1]);
  g_assert_cmpuint (d.fields, ==, 28);
  g_assert_cmpuint (d.lighter, ==, 2); /* 24 in at 1/2 and 1: 26 against 24 */
  g_assert_cmpuint (d.heavier, ==, 3); /* 48 in at 1/2 and 1, 24 in at 2: 22 against 24 */
  g_assert_cmpuint (d.alone, ==, 2);   /* 24 in at 3 and 4 */
  g_assert_cmpuint (d.other, ==, 4);   /* 60 in at 1/2, 1, 2; 48 in at 2 */
  g_assert_cmpuint (d.silent, ==, 17);
  guint marked = 0;
  for (gsize i = 0; i < d.fields; i++)
    marked += duct_gauge_map_differs (catalogue->rules, &map[0], &map[1], i) ? 1 : 0;
  g_assert_cmpuint (marked, ==, 2 + 3);
  g_autofree char *words = duct_gauge_map_words ("demo", "traditional", &d);
  g_assert_cmpstr (words, ==,
                   "demo is heavier than traditional in 3 of 28 fields, lighter in 2; demo alone answers in 2, traditional alone in 4.");

  DuctMapDifference back = duct_gauge_map_compare (catalogue->rules, &map[1], &map[0]);
  g_assert_cmpuint (back.heavier, ==, d.lighter);
  g_assert_cmpuint (back.alone, ==, d.other);
  DuctMapDifference self = duct_gauge_map_compare (catalogue->rules, &map[0], &map[0]);
  g_assert_cmpuint (self.heavier + self.lighter + self.alone + self.other, ==, 0);
  duct_gauge_map_clear (&map[0]);
  duct_gauge_map_clear (&map[1]);
}

/* One reinforcement table: 24 ga passes at 5 ft only where the joint reaches the class that its row asks for. */
static void
test_stiff_joint (void)
{
  g_autoptr (Catalogue) catalogue = stiff_catalogue (STIFF_ROWS STIFF_SET ",2,,0,24,5,26,\n" STIFF_SET ",2,,25,48,5,24,E\n" STIFF_SET
                                                                          ",2,,25,48,4,26,\n" STIFF_SET ",2,,49,60,5,22,I\n",
                                                     STIFF_JOINTS STIFF_SET ",slip-on,1 3/8,26,D,\n" STIFF_SET ",slip-on,1 3/8,24,E,\n",
                                                     STIFF_RODS);
  int set = duct_rules_find_set (catalogue->rules, STIFF_SET);
  DuctGaugeMap map;

  duct_gauge_maps (catalogue->rules, &set, 1, DUCT_GALVANISED, DUCT_MAP_RECTANGULAR, &map);
  g_assert_cmpstr (at (catalogue->rules, &map, 2, 24), ==, "26");
  g_assert_cmpstr (at (catalogue->rules, &map, 2, 48), ==, "24"); /* not 26, which is for joints 4 ft apart */
  g_assert_cmpstr (at (catalogue->rules, &map, 2, 60), ==, "none");
  g_assert_cmpstr (at (catalogue->rules, &map, 3, 24), ==, "none");
  duct_gauge_map_clear (&map);
}

int
main (int argc, char **argv)
{
  int result;

  g_test_init (&argc, &argv, NULL);
  starter = catalogue_starter ();
  g_test_add_func ("/duct/gauge-map/published-integral", test_published_integral);
  g_test_add_func ("/duct/gauge-map/published-city", test_published_city);
  g_test_add_func ("/duct/gauge-map/published-round", test_published_round);
  g_test_add_func ("/duct/gauge-map/direct", test_direct);
  g_test_add_func ("/duct/gauge-map/compare", test_compare);
  g_test_add_func ("/duct/gauge-map/stiff-joint", test_stiff_joint);
  result = g_test_run ();
  catalogue_unref (starter);
  return result;
}

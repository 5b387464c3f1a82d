/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/gauge-map.h"

#include "base/length.h"
#include "duct/stiff.h"

#include <glib/gi18n-lib.h>

/* Every set is asked at these, so that classes that it does not answer show as empty. */
static const gint64 classes[] = { 500, 1000, 2000, 3000, 4000, 6000, 10000 };

#define WIDEST (120 * LENGTH_NM_PER_IN)

static gint
compare (gconstpointer a, gconstpointer b)
{
  gint64 x = *(const gint64 *) a, y = *(const gint64 *) b;

  return (x > y) - (x < y);
}

/* How far joints are apart where a set asks for it: pieces of 5 ft coil, the trade's usual stock (common practice). */
#define APART (5 * LENGTH_NM_PER_FT)

const char *
duct_map_of_words (DuctMapOf of)
{
  static const char *const words[DUCT_N_MAPS] = { N_ ("rectangular duct"), N_ ("round duct, spiral seam"),
                                                  N_ ("round duct, longitudinal seam") };

  return _ (words[of]);
}

static void
add_side (GArray *sides, gint64 side)
{
  if (side <= 0)
    return;
  side = MIN (side, WIDEST);
  for (guint i = 0; i < sides->len; i++)
    if (g_array_index (sides, gint64, i) == side)
      return;
  g_array_append_val (sides, side);
}

/* Every limit that the set names. */
static void
add_sides (GArray *sides, const DuctRules *rules, int set, DuctMetal metal, DuctMapOf of)
{
  for (guint i = 0; of != DUCT_MAP_RECTANGULAR && i < rules->round_gauges->len; i++)
    {
      const DuctRoundGauge *row = g_ptr_array_index (rules->round_gauges, i);
      if (row->set == set && row->metal == metal)
        add_side (sides, row->dia_to_nm);
    }
  if (of != DUCT_MAP_RECTANGULAR)
    return;
  for (guint i = 0; i < rules->gauge_rows->len; i++)
    {
      const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, i);
      if (row->set == set && row->metal == metal)
        add_side (sides, row->side_to_nm);
    }
  for (guint i = 0; i < rules->reinforcement->len; i++)
    {
      const DuctReinforcement *row = g_ptr_array_index (rules->reinforcement, i);
      if (row->set == set && duct_rules_sheet (rules, row->sheet)->metal == metal)
        add_side (sides, row->side_to_nm);
    }
}

/* The first connection for rectangular duct with slip-on flanges, or with the ends that alone the set answers; -1. */
static int
connection_of (const DuctRules *rules, int set)
{
  int edge = ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->edge;

  for (guint i = 0; i < rules->connections->len; i++)
    {
      const DuctConnection *c = g_ptr_array_index (rules->connections, i);
      if (c->section == DUCT_RECT && c->straight_end == (DuctEdge) (edge < 0 ? DUCT_EDGE_SLIP_ON : edge))
        return (int) i;
    }
  return -1;
}

/* As a run would: a square straight of one piece, since the shorter sides of a longer one ask for no more. */
static int
stiff_answer (const DuctRules *rules, int set, DuctMetal metal, gint64 class_to, gint64 side)
{
  DuctBuild build = { .set = set, .connection = connection_of (rules, set), .sheet = -1, .rule_row = -1, .round_row = -1,
                      .stiffening = DUCT_NO_STIFFENING };
  DuctShape s;

  if (build.connection < 0)
    return -1;
  duct_shape_init (&s, DUCT_STRAIGHT);
  s.w = s.h = side;
  s.dim[DUCT_DIM_LENGTH] = APART;
  s.coil = APART + duct_rules_connection (rules, build.connection)->take_up_nm;
  s.pressure = class_to;
  s.metal = (guint8) metal;
  if (!duct_shape_resolve (rules, &s, NULL) || !duct_stiff_choose (rules, &s, &build, NULL))
    return -1;
  return build.sheet;
}

static int
answer (const DuctRules *rules, int set, DuctMetal metal, DuctMapOf of, gint64 class_to, gint64 side)
{
  int row;

  if (of != DUCT_MAP_RECTANGULAR)
    {
      row = duct_rules_round_gauge (rules, set, metal, class_to, of == DUCT_MAP_SPIRAL ? DUCT_SEAM_SPIRAL : DUCT_SEAM_LONGITUDINAL, side,
                                    NULL);
      return row < 0 ? -1 : ((DuctRoundGauge *) g_ptr_array_index (rules->round_gauges, (guint) row))->sheet;
    }
  if (duct_rules_has_reinforcement (rules, set, metal))
    return stiff_answer (rules, set, metal, class_to, side);
  row = duct_rules_gauge (rules, set, metal, class_to, side, NULL);
  return row < 0 ? -1 : ((DuctGaugeRow *) g_ptr_array_index (rules->gauge_rows, (guint) row))->sheet;
}

void
duct_gauge_maps (const DuctRules *rules, const int *sets, int n_sets, DuctMetal metal, DuctMapOf of, DuctGaugeMap *maps)
{
  g_autoptr (GArray) sides = g_array_new (FALSE, FALSE, sizeof (gint64));

  add_side (sides, WIDEST);
  for (int s = 0; s < n_sets; s++)
    add_sides (sides, rules, sets[s], metal, of);
  g_array_sort (sides, compare);

  for (int s = 0; s < n_sets; s++)
    {
      DuctGaugeMap *map = &maps[s];
      map->n_classes = G_N_ELEMENTS (classes);
      map->n_sides = sides->len;
      map->class_to = g_memdup2 (classes, sizeof classes);
      map->side_to = g_memdup2 (sides->data, sides->len * sizeof (gint64));
      map->sheet = g_new (int, map->n_classes * map->n_sides);
      for (gsize c = 0; c < map->n_classes; c++)
        for (gsize k = 0; k < map->n_sides; k++)
          map->sheet[c * map->n_sides + k] = answer (rules, sets[s], metal, of, map->class_to[c], map->side_to[k]);
    }
}

void
duct_gauge_map_clear (DuctGaugeMap *map)
{
  g_clear_pointer (&map->class_to, g_free);
  g_clear_pointer (&map->side_to, g_free);
  g_clear_pointer (&map->sheet, g_free);
}

/* ---- against another ---- */

static gint64
thickness (const DuctRules *rules, const DuctGaugeMap *map, gsize field)
{
  return map->sheet[field] < 0 ? -1 : duct_rules_sheet (rules, map->sheet[field])->thickness_nm;
}

gboolean
duct_gauge_map_differs (const DuctRules *rules, const DuctGaugeMap *map, const DuctGaugeMap *other, gsize field)
{
  gint64 a = thickness (rules, map, field), b = thickness (rules, other, field);

  return a >= 0 && b >= 0 && a != b;
}

DuctMapDifference
duct_gauge_map_compare (const DuctRules *rules, const DuctGaugeMap *map, const DuctGaugeMap *other)
{
  DuctMapDifference d = { .fields = (guint) (map->n_classes * map->n_sides) };

  for (gsize i = 0; i < d.fields; i++)
    {
      gint64 a = thickness (rules, map, i), b = thickness (rules, other, i);
      if (a < 0 && b < 0)
        d.silent++;
      else if (b < 0)
        d.alone++;
      else if (a < 0)
        d.other++;
      else if (a > b)
        d.heavier++;
      else if (a < b)
        d.lighter++;
    }
  return d;
}

char *
duct_gauge_map_words (const char *set, const char *other, const DuctMapDifference *d)
{
  if (d->silent == d->fields)
    return g_strdup_printf (_ ("Neither %s nor %s has a row for this."), set, other);
  if (d->heavier + d->lighter + d->alone + d->other == 0)
    return g_strdup_printf (_ ("%s and %s answer alike in all %u fields."), set, other, d->fields);
  g_autofree char *first = NULL, *second = NULL;
  if (d->heavier > 0 && d->lighter > 0)
    first = g_strdup_printf (_ ("%s is heavier than %s in %u of %u fields, lighter in %u"), set, other, d->heavier, d->fields, d->lighter);
  else if (d->heavier > 0)
    first = g_strdup_printf (_ ("%s is heavier than %s in %u of %u fields, nowhere lighter"), set, other, d->heavier, d->fields);
  else if (d->lighter > 0)
    first = g_strdup_printf (_ ("%s is lighter than %s in %u of %u fields, nowhere heavier"), set, other, d->lighter, d->fields);
  else
    first = g_strdup_printf (_ ("%s is nowhere heavier or lighter than %s in %u fields"), set, other, d->fields);
  if (d->alone > 0 && d->other > 0)
    second = g_strdup_printf (_ ("%s alone answers in %u, %s alone in %u"), set, d->alone, other, d->other);
  else if (d->alone + d->other > 0)
    second = g_strdup_printf (_ ("%s alone answers in %u"), d->alone > 0 ? set : other, d->alone + d->other);
  return second ? g_strdup_printf ("%s; %s.", first, second) : g_strdup_printf ("%s.", first);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "duct/rules.h"

G_BEGIN_DECLS

/* What is asked of the sets. */
typedef enum
{
  DUCT_MAP_RECTANGULAR,  /* by the longer side */
  DUCT_MAP_SPIRAL,       /* round, by the diameter */
  DUCT_MAP_LONGITUDINAL,
  DUCT_N_MAPS,
} DuctMapOf;

/* "round duct, spiral seam", translated. */
const char *duct_map_of_words (DuctMapOf of);

/* Which gauge a rule set answers over sides and classes. */
typedef struct
{
  gsize n_classes, n_sides;
  gint64 *class_to;  /* thousandths of an inch w.g., rising; positive pressure */
  gint64 *side_to;   /* nm, rising; diameters of round duct */
  int *sheet;        /* [class * n_sides + side]: index, -1 no row answers */
} DuctGaugeMap;

/* Classes 1/2 to 10 of the trade; sides: every limit that one of the @n_sets sets names up to 120 in, so that no change is missed.
 * One map a set, all with the same classes and sides. A set with reinforcement rows answers by the lightest gauge that passes with
 * joints 5 ft apart and nothing between them: slip-on ones, or of the one kind that the set answers. @maps: n_sets to fill; clear each. */
void duct_gauge_maps (const DuctRules *rules, const int *sets, int n_sets, DuctMetal metal, DuctMapOf of, DuctGaugeMap *maps);
void duct_gauge_map_clear (DuctGaugeMap *map);

/* How the fields of one map differ from those of another over the same classes and sides. */
typedef struct
{
  guint fields;
  guint heavier, lighter; /* the first is, by thickness */
  guint alone, other;     /* only the first answers, only the other */
  guint silent;           /* neither answers */
} DuctMapDifference;

DuctMapDifference duct_gauge_map_compare (const DuctRules *rules, const DuctGaugeMap *map, const DuctGaugeMap *other);
/* Whether both answer a field, with different gauges: one of those that are counted as heavier or lighter. */
gboolean duct_gauge_map_differs (const DuctRules *rules, const DuctGaugeMap *map, const DuctGaugeMap *other, gsize field);
/* "demo is heavier than traditional in 14 of 63 fields, lighter in 3; demo alone answers in 20." (transfer full) */
char *duct_gauge_map_words (const char *set, const char *other, const DuctMapDifference *difference);

G_END_DECLS

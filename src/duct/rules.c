/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/rules.h"

#include "base/measure.h"
#include "base/table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const char *const status_keys[DUCT_N_STATUSES] = {
  "published", "published*", "computed", "common practice", "from memory", "shop's own", "invented demo",
};

const char *
duct_status_key (DuctStatus status)
{
  return status < DUCT_N_STATUSES ? status_keys[status] : "";
}

gboolean
duct_status_parse (const char *text, DuctStatus *status)
{
  int i = duct_word_index (text, status_keys, DUCT_N_STATUSES);

  if (i >= 0)
    *status = (DuctStatus) i;
  return i >= 0;
}

DuctRules *
duct_rules_ref (DuctRules *rules)
{
  g_atomic_ref_count_inc (&rules->refs);
  return rules;
}

void
duct_rules_unref (DuctRules *rules)
{
  if (!g_atomic_ref_count_dec (&rules->refs))
    return;
  g_ptr_array_unref (rules->sheets);
  g_ptr_array_unref (rules->sets);
  g_ptr_array_unref (rules->gauge_rows);
  g_ptr_array_unref (rules->connections);
  g_ptr_array_unref (rules->screws);
  g_ptr_array_unref (rules->cleats);
  g_ptr_array_unref (rules->vanes);
  g_ptr_array_unref (rules->profiles);
  g_clear_pointer (&rules->stiffness, g_ptr_array_unref);
  g_clear_pointer (&rules->members, g_ptr_array_unref);
  g_clear_pointer (&rules->joint_ratings, g_ptr_array_unref);
  g_clear_pointer (&rules->reinforcement, g_ptr_array_unref);
  g_clear_pointer (&rules->tie_rods, g_ptr_array_unref);
  g_clear_pointer (&rules->stiff_blocks, g_array_unref);
  g_clear_pointer (&rules->stiff_sheets, g_array_unref);
  g_clear_pointer (&rules->round_gauges, g_ptr_array_unref);
  g_clear_pointer (&rules->gores, g_ptr_array_unref);
  g_clear_pointer (&rules->wraps, g_ptr_array_unref);
  g_clear_pointer (&rules->liner_pins, g_ptr_array_unref);
  g_clear_pointer (&rules->seal_classes, g_ptr_array_unref);
  g_clear_pointer (&rules->leakage, g_ptr_array_unref);
  g_clear_pointer (&rules->supports, g_ptr_array_unref);
  g_clear_pointer (&rules->hanger_loads, g_ptr_array_unref);
  g_clear_pointer (&rules->gaskets, g_ptr_array_unref);
  g_clear_pointer (&rules->pressure_classes, g_ptr_array_unref);
  for (int i = 0; i < DUCT_N_ALLOWANCES; i++)
    g_free (rules->allow[i].source);
  g_free (rules);
}

int
duct_rules_find_set (const DuctRules *rules, const char *key)
{
  return table_find (rules->sets, key);
}

int
duct_rules_find_connection (const DuctRules *rules, const char *key)
{
  return table_find (rules->connections, key);
}

int
duct_rules_find_wrap (const DuctRules *rules, const char *key)
{
  gint64 wanted;

  if (!length_parse (key, LENGTH_IN, &wanted, NULL))
    return table_find (rules->wraps, key);
  /* "1 1/2" and "1.5" name the same wrap. */
  for (guint i = 0; i < rules->wraps->len; i++)
    if (((DuctWrap *) g_ptr_array_index (rules->wraps, i))->thickness_nm == wanted)
      return (int) i;
  return -1;
}

int
duct_rules_find_member (const DuctRules *rules, const char *key)
{
  return table_find (rules->members, key);
}

int
duct_rules_find_seal (const DuctRules *rules, const char *edition, const char *key)
{
  const char *first = rules->seal_classes->len > 0 ? ((DuctSealClass *) g_ptr_array_index (rules->seal_classes, 0))->edition : "";
  const char *wanted = edition && *edition ? edition : first;

  for (guint i = 0; i < rules->seal_classes->len; i++)
    {
      const DuctSealClass *row = g_ptr_array_index (rules->seal_classes, i);
      if (g_ascii_strcasecmp (row->key, key) == 0 && strcmp (row->edition, wanted) == 0)
        return (int) i;
    }
  return -1;
}

gboolean
duct_rules_has_edition (const DuctRules *rules, const char *edition)
{
  gboolean found = !edition || !*edition;

  for (guint i = 0; !found && i < rules->seal_classes->len; i++)
    found = strcmp (((DuctSealClass *) g_ptr_array_index (rules->seal_classes, i))->edition, edition) == 0;
  for (guint i = 0; !found && i < rules->leakage->len; i++)
    found = strcmp (((DuctLeakage *) g_ptr_array_index (rules->leakage, i))->edition, edition) == 0;
  return found;
}

gboolean
duct_rules_has_supports (const DuctRules *rules, int set)
{
  for (guint i = 0; i < rules->supports->len; i++)
    if (((DuctSupport *) g_ptr_array_index (rules->supports, i))->set == set)
      return TRUE;
  return FALSE;
}

int
duct_rules_find_sheet (const DuctRules *rules, DuctMetal metal, const char *label)
{
  g_autofree char *bare = g_strdup (label);
  gint64 wanted, have;
  gboolean number;

  /* "24 ga", "24 gauge" */
  if (strstr (bare, "ga"))
    *strstr (bare, "ga") = '\0';
  label = g_strstrip (bare);
  number = length_parse (label, LENGTH_IN, &wanted, NULL);

  for (guint i = 0; i < rules->sheets->len; i++)
    {
      const DuctSheet *sheet = duct_rules_sheet (rules, (int) i);
      if (sheet->metal != metal)
        continue;
      if (strcmp (sheet->label, label) == 0)
        return (int) i;
      /* ".032" and "0.032" name the same sheet. */
      if (number && length_parse (sheet->label, LENGTH_IN, &have, NULL) && have == wanted)
        return (int) i;
    }
  return -1;
}

const char *
duct_edge_words (DuctEdge edge)
{
  static const char *const words[] = { N_ ("slip-on flange"), N_ ("roll-formed integral flange"), N_ ("slip and drive"),
                                       N_ ("coupled round joint"), N_ ("ringed round joint") };

  return _ (words[edge]);
}

char *
duct_set_limits (const DuctRules *rules, int i)
{
  const DuctRuleSet *set = g_ptr_array_index (rules->sets, (guint) i);
  GString *out = g_string_new (NULL);

  if (set->edge >= 0)
    g_string_append_printf (out, _ ("answers pieces with ends of one kind only: %s"), duct_edge_words ((DuctEdge) set->edge));
  if (set->exact_class)
    g_string_append_printf (out, "%s%s", out->len > 0 ? "; " : "", _ ("a class without rows of its own is not answered"));
  if (set->joints_only)
    g_string_append_printf (out, "%s%s", out->len > 0 ? "; " : "", _ ("spacing counts from joint to joint"));
  return g_string_free (out, FALSE);
}

/* What most work stays below (common practice). */
#define ORDINARY_CLASS 2000
#define ORDINARY_SIDE (60 * LENGTH_NM_PER_IN)

int
duct_rules_start_set (const DuctRules *rules)
{
  for (guint i = 0; i < rules->sets->len; i++)
    if (duct_rules_gauge (rules, (int) i, DUCT_GALVANISED, ORDINARY_CLASS, ORDINARY_SIDE, NULL) >= 0)
      return (int) i;
  return rules->sets->len > 0 ? 0 : -1;
}

const DuctStep *
duct_rules_step (const GPtrArray *rows, gint64 key)
{
  for (guint i = 0; i < rows->len; i++)
    {
      const DuctStep *row = g_ptr_array_index (rows, i);
      if (key <= row->upto && row->connection < 0 && row->end < 0 && row->side_to == 0)
        return row;
    }
  return NULL;
}

/* The class of a set that answers @pressure: the first one not below it; -1 when there is none. Below the lowest class
 * that the set names the set does not answer either (class_from). */
static gint64
answering_class (const DuctRules *rules, int set, DuctMetal metal, gint64 pressure, gint64 *most)
{
  gboolean exact = ((const DuctRuleSet *) g_ptr_array_index (rules->sets, (guint) set))->exact_class;
  gint64 best = -1;

  *most = 0;
  for (guint i = 0; i < rules->gauge_rows->len; i++)
    {
      const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, i);
      if (row->set != set || row->metal != metal)
        continue;
      if (exact && row->class_to != pressure)
        {
          *most = MAX (*most, row->class_to);
          continue;
        }
      *most = MAX (*most, row->class_to);
      if (pressure <= row->class_to && pressure >= row->class_from && (best < 0 || row->class_to < best))
        best = row->class_to;
    }
  return best;
}

int
duct_rules_gauge (const DuctRules *rules, int set, DuctMetal metal, gint64 pressure, gint64 side_nm, Fault **fault)
{
  const DuctRuleSet *info = g_ptr_array_index (rules->sets, (guint) set);
  gint64 most, wanted = ABS (pressure), class_to = answering_class (rules, set, metal, wanted, &most), widest = 0;

  for (guint i = 0; class_to >= 0 && i < rules->gauge_rows->len; i++)
    {
      const DuctGaugeRow *row = g_ptr_array_index (rules->gauge_rows, i);
      if (row->set != set || row->metal != metal || row->class_to != class_to)
        continue;
      if (side_nm <= row->side_to_nm)
        return (int) i;
      widest = MAX (widest, row->side_to_nm);
    }
  if (!fault)
    return -1;

  g_autofree char *words = NULL;
  if (most == 0)
    words = g_strdup_printf (_ ("the rule set “%s” has no rows for %s"), info->name, duct_metal_key (metal));
  else if (class_to < 0)
    {
      g_autofree char *asked = pressure_print_both (wanted);
      g_autofree char *limit = pressure_print_both (most);
      words = g_strdup_printf (_ ("the rule set “%s” has no row for class %s; its highest class is %s"), info->name, asked, limit);
    }
  else
    {
      g_autofree char *side = length_print_unit (side_nm, LENGTH_STYLE_IN);
      g_autofree char *limit = length_print_unit (widest, LENGTH_STYLE_IN);
      words = g_strdup_printf (_ ("the rule set “%s” has no row for a side of %s (it ends at %s)"), info->name, side, limit);
    }
  fault_set (fault, fault_new (-1, _ ("enter the gauge on the run, or choose another rule set"), "%s", words));
  return -1;
}

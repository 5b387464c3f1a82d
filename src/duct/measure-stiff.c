/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/measure-private.h"
#include "duct/stiff.h"

#include <glib/gi18n-lib.h>
#include <string.h>

void
duct_add_two_sheets (DuctWork *k, gint64 *one, double blank_mm)
{
  const DuctShape *s = k->shape;
  const DuctSheet *shorter = duct_rules_sheet (k->rules, k->build->stiffening.short_sheet - 1);
  double seam = (double) k->rules->allow[DUCT_ALLOW_SEAM].value / 1e6;
  double longer_mm = 2 * (double) MAX (s->w, s->h) / 1e6 + seam, shorter_mm = 2 * (double) MIN (s->w, s->h) / 1e6;

  one[DUCT_NET_LB] = one[DUCT_PIECE_LB]
      = duct_round (longer_mm * blank_mm * k->sheet->mg_per_mm2 + shorter_mm * blank_mm * shorter->mg_per_mm2);
}

/* Members lie on both faces of the side, each as long as the side; a rod runs to the face opposite and serves both. A station is
 * counted only on the sides that do not pass by the joints alone; where the set has no table to tell, on all four. */
static void
add_side (const DuctWork *k, gint64 *one, gint64 side, gint64 other, gint64 stations, gint64 joint_rods)
{
  const DuctStiffening *st = &k->build->stiffening;
  gint64 rods = st->rods * stations + joint_rods;

  if (stations > 0 && st->member >= 0)
    {
      const DuctMember *m = g_ptr_array_index (k->rules->members, (guint) st->member);
      one[DUCT_MEMBER] += COUNT (2 * stations);
      one[DUCT_LEN_MEMBER] += UM (2 * stations * side);
      one[DUCT_MEMBER_LB] += duct_round ((double) (2 * stations * side) / 1e6 * m->mg_per_mm);
    }
  one[DUCT_TIE_ROD] += COUNT (rods);
  one[DUCT_LEN_TIE_ROD] += UM (rods * other);
}

void
duct_add_stiffening (DuctWork *k, gint64 *one, const DuctPlace *place)
{
  const DuctStiffening *st = &k->build->stiffening;
  const DuctShape *s = k->shape;
  gint64 joints = (one[DUCT_FLANGED_JOINT] + one[DUCT_SD_JOINT]) / 1000, length;
  DuctStiffQuery q;

  if ((st->spacing <= 0 && st->joint_rods <= 0) || s->h <= 0 || duct_kind_info (s->kind)->bought)
    return;
  length = s->kind == DUCT_STRAIGHT ? place->length : duct_stiff_length (k->rules, k->build->connection, s);
  gint64 between = st->spacing > 0 && length > st->spacing ? (length + st->spacing - 1) / st->spacing - 1 : 0;
  gboolean asked = duct_stiff_asked (k->rules, k->build->set, s);
  duct_stiff_query (&q, k->rules, k->build->set, k->build->connection, s);
  for (int i = 0; i < 2; i++)
    {
      DuctSideCheck check = { .stations = TRUE, .joint_rods = 0 };
      if (asked)
        {
          duct_stiff_check (&q, i, k->build->sheet, length, st, &check);
          /* Entered by hand and not allowed: what was entered is counted. */
          if (check.why != DUCT_STIFF_PASSES)
            check = (DuctSideCheck) { .stations = TRUE, .joint_rods = 0 };
        }
      add_side (k, one, q.side[i], q.side[1 - i], check.stations ? between : 0,
                check.joint_rods >= 0 ? st->joint_rods * joints : 0);
    }
}

/* ---- as text ---- */

typedef struct
{
  const DuctRules *rules;
  DuctMetal metal;
  DuctStiffening st;
  gint64 coil;
  gboolean rods;
} Reading;

static gboolean
refuse (Fault **fault, const char *part)
{
  return fault_set (fault, fault_new (-1, _ ("write it like “48 in pieces; 2x2x1/8 at 2.5 ft; 1 rod”, or clear it"),
                                      _ ("“%s” is not understood as construction"), part));
}

/* "48 in" in front of a word. */
static gboolean
read_width (Reading *r, const char *text, Fault **fault)
{
  if (r->coil != DUCT_UNSET || !length_parse (text, LENGTH_IN, &r->coil, fault))
    return fault && *fault ? FALSE : refuse (fault, text);
  if (r->coil <= 0 || r->coil > 20 * LENGTH_NM_PER_FT)
    return fault_set (fault, fault_new (-1, _ ("enter the width of the coil, like 48 in"), _ ("no piece is made of a coil of %s"), text));
  return TRUE;
}

static gboolean
read_spacing (Reading *r, const char *text, Fault **fault)
{
  if (r->st.spacing != DUCT_UNSET)
    return refuse (fault, text);
  if (!length_parse (text, LENGTH_FT, &r->st.spacing, fault))
    return FALSE;
  if (r->st.spacing < LENGTH_NM_PER_IN)
    return fault_set (fault, fault_new (-1, _ ("enter the spacing, like 2.5 ft"), _ ("a spacing of %s is too close"), text));
  return TRUE;
}

/* "2 rods", "2 rods at 2.5 ft", "1 rod at joints". @rest: behind the figure. */
static gboolean
read_rods (Reading *r, gint64 n, const char *rest, const char *part, Fault **fault)
{
  const char *at = strstr (rest, " at ");

  if (n < 1 || n > 50)
    return fault_set (fault, fault_new (-1, _ ("enter 1 to 50 rods, or none"), _ ("“%s” is no number of tie rods"), part));
  if (at && (strcmp (at, " at joints") == 0 || strcmp (at, " at joint") == 0))
    {
      r->st.joint_rods = (gint16) n;
      return TRUE;
    }
  if (r->rods)
    return refuse (fault, part);
  r->rods = TRUE;
  r->st.rods = (gint16) n;
  return !at || read_spacing (r, at + 4, fault);
}

static gboolean
read_short (Reading *r, const char *gauge, Fault **fault)
{
  int sheet = duct_rules_find_sheet (r->rules, r->metal, gauge);

  if (sheet < 0)
    return fault_set (fault, fault_new (-1, _ ("enter a gauge of the sheet table"), _ ("there is no gauge “%s” of this metal"), gauge));
  r->st.short_sheet = (gint16) (sheet + 1);
  return TRUE;
}

static gboolean
read_member (Reading *r, const char *part, Fault **fault)
{
  const char *at = strstr (part, " at ");
  g_autofree char *key = at ? g_strndup (part, (gsize) (at - part)) : NULL;

  if (!at || r->st.member >= 0)
    return refuse (fault, part);
  r->st.member = (gint16) duct_rules_find_member (r->rules, g_strstrip (key));
  if (r->st.member < 0)
    return fault_set (fault, fault_new (-1, _ ("use a member of the table of members"), _ ("there is no member “%s”"), key));
  return read_spacing (r, at + 4, fault);
}

static gboolean
read_part (Reading *r, const char *part, Fault **fault)
{
  static const char pieces[] = " pieces", shorter[] = " on shorter sides";
  char *end;
  gint64 n = g_ascii_strtoll (part, &end, 10);

  /* Words that say how the pin came about: nothing stands beside the gauge; the gauge was entered by hand. */
  if (strcmp (part, "plain") == 0 || strcmp (part, "own gauge") == 0)
    return TRUE;
  if (g_str_has_suffix (part, pieces))
    {
      g_autofree char *width = g_strndup (part, strlen (part) - strlen (pieces));
      return read_width (r, width, fault);
    }
  if (g_str_has_suffix (part, shorter))
    {
      g_autofree char *gauge = g_strndup (part, strlen (part) - strlen (shorter));
      return read_short (r, gauge, fault);
    }
  if (end > part && (g_str_has_prefix (end, " rod ") || g_str_has_prefix (end, " rods ") || strcmp (end, " rod") == 0
                     || strcmp (end, " rods") == 0))
    return read_rods (r, n, end, part, fault);
  if (duct_rules_find_sheet (r->rules, r->metal, part) >= 0 || g_str_has_suffix (part, " ga"))
    return fault_set (fault, fault_new (-1, _ ("enter it in the gauge column, and leave it out here"), _ ("“%s” is a gauge"), part));
  return read_member (r, part, fault);
}

gboolean
duct_stiffening_parse (const DuctRules *rules, const char *text, DuctMetal metal, DuctStiffening *stiffening, gint64 *coil,
                       Fault **fault)
{
  g_auto (GStrv) parts = g_strsplit (text, ";", -1);
  Reading r = { rules, metal, DUCT_NO_STIFFENING, DUCT_UNSET, FALSE };
  Fault *inner = NULL;
  gboolean good = TRUE;

  for (char **p = parts; good && *p; p++)
    good = !*g_strstrip (*p) || read_part (&r, *p, &inner);
  if (good && r.st.spacing == DUCT_UNSET && r.st.rods > 0)
    good = fault_set (&inner, fault_new (-1, _ ("write “1 rod at 2.5 ft”, or “1 rod at joints”"), _ ("it is not said where the rods stand")));
  if (!good)
    return fault_set (fault, inner);
  *stiffening = r.st;
  *coil = r.coil;
  return TRUE;
}

char *
duct_stiffening_print (const DuctRules *rules, const DuctStiffening *st, gint64 coil)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  if (coil != DUCT_UNSET)
    {
      g_autofree char *width = length_print_unit (coil, LENGTH_STYLE_IN);
      g_ptr_array_add (parts, g_strdup_printf ("%s pieces", width));
    }
  if (st->spacing > 0)
    {
      g_autofree char *spacing = length_print_unit (st->spacing, LENGTH_STYLE_FT);
      const char *key = st->member < 0 ? NULL : ((DuctMember *) g_ptr_array_index (rules->members, (guint) st->member))->key;
      if (key)
        g_ptr_array_add (parts, g_strdup_printf ("%s at %s", key, spacing));
      if (st->rods > 0)
        g_ptr_array_add (parts, g_strdup_printf ("%d %s%s%s", st->rods, st->rods == 1 ? "rod" : "rods", key ? "" : " at ",
                                                 key ? "" : spacing));
    }
  if (st->joint_rods > 0)
    g_ptr_array_add (parts, g_strdup_printf ("%d %s at joints", st->joint_rods, st->joint_rods == 1 ? "rod" : "rods"));
  if (st->short_sheet > 0)
    g_ptr_array_add (parts, g_strdup_printf ("%s%s on shorter sides", duct_rules_sheet (rules, st->short_sheet - 1)->label,
                                             strchr (duct_rules_sheet (rules, st->short_sheet - 1)->label, '.') ? "" : " ga"));
  g_ptr_array_add (parts, NULL);
  return g_strjoinv ("; ", (char **) parts->pdata);
}

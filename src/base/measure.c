/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/measure.h"

#include "base/decimal.h"
#include "base/num.h"
#include "base/scan.h"

#include <glib/gi18n.h>

#define MOST_MILLI_INWG 100000
#define LEAST_BARE_PA 25

/* Pressure classes and their metric names, as pressure-class tables of duct construction standards print them up to
 * 4 in w.g.; 6 and 10 in rounded in the same way. */
static const struct
{
  gint64 milli_inwg;
  gint64 pa;
} classes[] = {
  { 500, 125 }, { 1000, 250 }, { 2000, 500 }, { 3000, 750 }, { 4000, 1000 }, { 6000, 1500 }, { 10000, 2500 },
};

double
measure_ft2 (gint64 mm2)
{
  return (double) mm2 / MEASURE_MM2_PER_FT2;
}

double
measure_lb (gint64 mg)
{
  return (double) mg / MEASURE_MG_PER_LB;
}

double
measure_ft (gint64 um)
{
  return (double) um / MEASURE_UM_PER_FT;
}

/* A unit as typed, without blanks, stops and case, a typographic inch mark made plain. */
static char *
plain_unit (const char *p)
{
  static const char *const inch_marks[] = { "''", "\u2033", "\u201d", "\u201c", "\"", NULL };
  GString *out = g_string_new (NULL);

  for (p = scan_blanks (p); *p != '\0'; p = scan_blanks (p))
    {
      const char *behind = scan_any (p, inch_marks);

      if (behind != NULL)
        g_string_append_c (out, '"');
      else if (*p != '.')
        g_string_append_c (out, g_ascii_tolower (*p));
      p = behind != NULL ? behind : p + 1;
    }
  return g_string_free (out, FALSE);
}

/* num / den pascals (positive) in thousandths of an inch. */
static NumWide
pascal_to_milli (NumWide num, NumWide den)
{
  for (gsize i = 0; i < G_N_ELEMENTS (classes); i++)
    if (num == classes[i].pa * den)
      return classes[i].milli_inwg;
  return num_wide_div (num * 1000000, den * MEASURE_MPA_PER_INWG);
}

/* The figure in thousandths of an inch, by its unit at @p. */
static gboolean
apply_pressure_unit (const char *text, const char *start, const char *p, const ScanValue *value, gboolean pascal,
                     NumWide *milli, Fault **fault)
{
  static const char *const inch[] = { "", "in", "inch", "inches", "\"", "inwg", "inchwg", "incheswg", "\"wg", "wg",
                                      "inwc", "\"wc", "wc", NULL };
  g_autofree char *unit = plain_unit (p);
  const char *at = scan_blanks (p);

  if (pascal && *unit == '\0' && *at != '.')
    {
      if (value->num != 0 && value->num < LEAST_BARE_PA * value->den)
        return fault_set (fault, fault_new (scan_at (text, start), _("type pascals, as in 500, or add in w.g. behind inches"),
                                            _("no pressure class is that low in pascals")));
      *milli = pascal_to_milli (value->num, value->den);
      return TRUE;
    }
  if (*at != '.' && g_strv_contains (inch, unit))
    {
      if (value->num * 1000 % value->den != 0)
        return fault_set (fault, fault_new (scan_at (text, start), _("type at most 3 digits behind the point"),
                                            _("the pressure is finer than a thousandth of an inch")));
      *milli = value->num * 1000 / value->den;
      return TRUE;
    }
  if (*at != '.' && g_str_equal (unit, "pa"))
    *milli = pascal_to_milli (value->num, value->den);
  else if (*at != '.' && g_str_equal (unit, "kpa"))
    *milli = pascal_to_milli (value->num * 1000, value->den);
  else
    return fault_set (fault, scan_unexpected (text, at, _("type a pressure as in -1/2, 2 in w.g. or 500 Pa")));
  return TRUE;
}

gboolean
pressure_parse (const char *text, gint64 *milli_inwg, Fault **fault)
{
  return pressure_parse_bare (text, FALSE, milli_inwg, fault);
}

gboolean
pressure_parse_bare (const char *text, gboolean pascal, gint64 *milli_inwg, Fault **fault)
{
  const char *p, *start;
  ScanValue value;
  NumWide milli = 0;
  gboolean negative;

  if (text == NULL)
    text = "";
  p = start = scan_sign (scan_blanks (text), &negative);
  if (!g_ascii_isdigit (*p) && *p != '.')
    return fault_set (fault, scan_unexpected (text, p, _("type a pressure as in -1/2, 2 in w.g. or 500 Pa")));
  if (!scan_value (text, &p, &value, fault) || !apply_pressure_unit (text, start, p, &value, pascal, &milli, fault))
    return FALSE;
  if (milli == 0)
    return fault_set (fault, fault_new (scan_at (text, start), _("type the pressure class, as in 1/2 or -2"),
                                        _("a pressure class cannot be zero")));
  if (milli > MOST_MILLI_INWG)
    return fault_set (fault, fault_new (scan_at (text, start), _("type at most 100 in w.g., or add Pa behind pascals"),
                                        _("the pressure is too large")));
  *milli_inwg = (gint64) (negative ? -milli : milli);
  return TRUE;
}

/* Pascals: the metric name of a class, else the fewest decimals that read back to the same figure. */
static char *
print_pascal (gint64 milli_inwg)
{
  gint64 size = ABS (milli_inwg);
  const char *sign = milli_inwg < 0 ? "-" : "";
  NumWide scale = 1;
  int decimals = 0;

  for (gsize i = 0; i < G_N_ELEMENTS (classes); i++)
    if (classes[i].milli_inwg == size)
      return g_strdup_printf ("%s%" G_GINT64_FORMAT " Pa", sign, classes[i].pa);
  for (;; decimals++, scale *= 10)
    {
      NumWide pa = num_wide_div ((NumWide) size * MEASURE_MPA_PER_INWG * scale, 1000000);

      if (decimals == 3 || pascal_to_milli (pa, scale) == size)
        {
          g_autofree char *figure = num_wide_print (pa, decimals);

          return g_strconcat (sign, figure, " Pa", NULL);
        }
    }
}

char *
pressure_print (gint64 milli_inwg, gboolean pascal)
{
  gint64 size = ABS (milli_inwg);

  if (pascal)
    return print_pascal (milli_inwg);
  if (size % 1000 != 500)
    return decimal_print (milli_inwg, 3, 0, FALSE);
  if (size < 1000)
    return g_strdup (milli_inwg < 0 ? "-1/2" : "1/2");
  return g_strdup_printf ("%" G_GINT64_FORMAT " 1/2", milli_inwg / 1000);
}

char *
pressure_print_both (gint64 milli_inwg)
{
  g_autofree char *inches = pressure_print (milli_inwg, FALSE), *pascals = print_pascal (milli_inwg);

  return g_strdup_printf (_("%s in w.g. (%s)"), inches, pascals);
}

gboolean
angle_parse (const char *text, gint64 *udeg, Fault **fault)
{
  static const char *const degree[] = { "", "deg", "degree", "degrees", "\u00b0", "\u00ba", NULL };
  g_autofree char *unit = NULL;
  const char *p, *start, *at;
  ScanValue value;
  gboolean negative;
  NumWide angle;

  if (text == NULL)
    text = "";
  p = start = scan_sign (scan_blanks (text), &negative);
  if (!g_ascii_isdigit (*p) && *p != '.')
    return fault_set (fault, scan_unexpected (text, p, _("type an angle in degrees, as in 90 or 22.5")));
  if (!scan_value (text, &p, &value, fault))
    return FALSE;
  at = scan_blanks (p);
  unit = plain_unit (p);
  if (!g_strv_contains (degree, unit) || *at == '.')
    return fault_set (fault, scan_unexpected (text, at, _("type an angle in degrees, as in 90 or 22.5")));
  if (negative || value.num == 0 || value.num > 180 * value.den)
    return fault_set (fault, fault_new (scan_at (text, start), _("type an angle above 0 and up to 180 degrees"),
                                        _("the angle is out of range")));
  angle = value.num * 1000000;
  if (angle % value.den != 0)
    return fault_set (fault, fault_new (scan_at (text, start), _("type at most 6 digits behind the point"),
                                        _("the angle is finer than a millionth of a degree")));
  *udeg = (gint64) (angle / value.den);
  return TRUE;
}

char *
angle_print (gint64 udeg)
{
  return decimal_print (udeg, 6, 0, FALSE);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/length.h"

#include "base/num.h"
#include "base/scan.h"

#include <glib/gi18n.h>
#include <string.h>

/* 1/64 in, the finest mark of a tape. */
#define NM_PER_64TH (LENGTH_NM_PER_IN / 64)

typedef enum
{
  UNIT_NONE,
  UNIT_IN,
  UNIT_FT,
  UNIT_MM,
  UNIT_CM,
  UNIT_M,
} Unit;

static const gint64 nm_per_unit[] = {
  [UNIT_NONE] = 0,
  [UNIT_IN] = LENGTH_NM_PER_IN,
  [UNIT_FT] = LENGTH_NM_PER_FT,
  [UNIT_MM] = LENGTH_NM_PER_MM,
  [UNIT_CM] = 10 * LENGTH_NM_PER_MM,
  [UNIT_M] = LENGTH_NM_PER_M,
};

/* Marks end by themselves; words must not run on into another letter. Longest first. */
static const char *const in_marks[] = { "\"", "''", "\u2033", "\u2032\u2032", "\u201d", "\u201c",
                                        "\u2019\u2019", NULL };
static const char *const ft_marks[] = { "'", "\u2032", "\u2019", NULL };
static const char *const in_words[] = { "inches", "inch", "in", NULL };
static const char *const ft_words[] = { "foot", "feet", "ft", NULL };
static const char *const mm_words[] = { "millimetres", "millimeters", "millimetre", "millimeter", "mm", NULL };
static const char *const cm_words[] = { "centimetres", "centimeters", "centimetre", "centimeter", "cm", NULL };
static const char *const m_words[] = { "metres", "meters", "metre", "meter", "m", NULL };

static const struct
{
  const char *const *words;
  Unit unit;
} unit_words[] = {
  { in_words, UNIT_IN }, { ft_words, UNIT_FT }, { mm_words, UNIT_MM }, { cm_words, UNIT_CM }, { m_words, UNIT_M },
};

static const char *
length_remedy (void)
{
  return _("type a length such as 24, 12 1/2, 2'-6\" or 600 mm");
}

/* The "x" between two sizes is no part of a unit: "24inx12in". */
static gboolean
word_ends (const char *p)
{
  return !g_ascii_isalpha (*p) || *p == 'x' || *p == 'X';
}

/* The unit at *p, which is moved behind it and a word's stop ("ft."); UNIT_NONE when there is none. */
static Unit
read_unit (const char **p)
{
  const char *behind;

  if ((behind = scan_any (*p, in_marks)) != NULL)
    {
      *p = behind;
      return UNIT_IN;
    }
  if ((behind = scan_any (*p, ft_marks)) != NULL)
    {
      *p = behind;
      return UNIT_FT;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (unit_words); i++)
    {
      behind = scan_any (*p, unit_words[i].words);
      if (behind == NULL || !word_ends (behind))
        continue;
      if (*behind == '.' && (unit_words[i].unit == UNIT_IN || unit_words[i].unit == UNIT_FT) &&
          word_ends (behind + 1) && !g_ascii_isdigit (behind[1]))
        behind++;
      *p = behind;
      return unit_words[i].unit;
    }
  return UNIT_NONE;
}

static NumWide
value_nm (const ScanValue *value, Unit unit)
{
  return num_wide_div (value->num * nm_per_unit[unit], value->den);
}

/* A number without an inch mark behind feet is inches when it hangs on them ("2'-6", "2'6"), or stands alone behind a
 * blank ("2' 6"). It is left where something else may be meant: "20 ft 2 elbows", "40 ft 24x12". */
static gboolean
bare_inches (const char *behind, gboolean hangs_on)
{
  const char *next = scan_blanks (behind);

  if (hangs_on && next == behind)
    return word_ends (next);
  return *next == '\0' || strchr (",;)", *next) != NULL || (hangs_on && !g_ascii_isalpha (*next));
}

/* The inches behind feet, if any, are added to @nm and *p is moved behind them. */
static gboolean
read_inches (const char *text, const char **p, NumWide *nm, Fault **fault)
{
  static const char *const dashes[] = { "-", "\u2010", "\u2011", "\u2013", NULL };
  const char *s = scan_blanks (*p), *dash = scan_any (s, dashes), *behind;
  gboolean hangs_on = s == *p || dash != NULL;
  ScanValue value;

  if (dash != NULL)
    s = scan_blanks (dash);
  if (!g_ascii_isdigit (*s) && !(*s == '.' && g_ascii_isdigit (s[1])))
    return TRUE;
  if (!scan_value (text, &s, &value, fault))
    return FALSE;
  behind = scan_blanks (s);
  switch (read_unit (&behind))
    {
    case UNIT_IN:
      s = behind;
      break;
    case UNIT_NONE:
      if (!bare_inches (s, hangs_on))
        return TRUE;
      break;
    case UNIT_FT:
    case UNIT_MM:
    case UNIT_CM:
    case UNIT_M:
    default:
      return TRUE;
    }
  *nm += value_nm (&value, UNIT_IN);
  *p = s;
  return TRUE;
}

static Unit
default_unit (LengthUnit unit)
{
  switch (unit)
    {
    case LENGTH_FT:
      return UNIT_FT;
    case LENGTH_MM:
      return UNIT_MM;
    case LENGTH_M:
      return UNIT_M;
    case LENGTH_IN:
    default:
      return UNIT_IN;
    }
}

gboolean
length_parse_prefix (const char *text, LengthUnit unit, gint64 *nm, const char **end, Fault **fault)
{
  const char *p, *start, *behind;
  ScanValue value;
  NumWide total;
  gboolean negative;
  Unit read;

  if (text == NULL)
    text = "";
  p = start = scan_sign (scan_blanks (text), &negative);
  if (!g_ascii_isdigit (*p) && *p != '.')
    return fault_set (fault, scan_unexpected (text, p, length_remedy ()));
  if (!scan_value (text, &p, &value, fault))
    return FALSE;
  behind = scan_blanks (p);
  read = read_unit (&behind);
  if (read != UNIT_NONE)
    p = behind;
  total = value_nm (&value, read != UNIT_NONE ? read : default_unit (unit));
  if (read == UNIT_FT && !read_inches (text, &p, &total, fault))
    return FALSE;
  if (!num_narrow (negative ? -total : total, nm))
    return fault_set (fault, fault_new (scan_at (text, start), _("type a smaller length"),
                                        _("the length is too large")));
  if (end != NULL)
    *end = scan_blanks (p);
  return TRUE;
}

gboolean
length_parse (const char *text, LengthUnit unit, gint64 *nm, Fault **fault)
{
  const char *end;
  gint64 value;

  if (text == NULL)
    text = "";
  if (!length_parse_prefix (text, unit, &value, &end, fault))
    return FALSE;
  if (*end != '\0')
    return fault_set (fault, scan_unexpected (text, end, length_remedy ()));
  *nm = value;
  return TRUE;
}

/* The shortest decimal figure that reads back to the same nanometres: 8 decimals of an inch and 9 of a foot or metre
 * are always enough, for half of the last place is then less than half a nanometre. */
static void
append_decimal (GString *out, NumWide nm, gint64 nm_per)
{
  NumWide scale = 1, figure = 0;
  int decimals = 0;

  for (;; decimals++, scale *= 10)
    {
      figure = num_wide_div (nm * scale, nm_per);
      if (num_wide_div (figure * nm_per, scale) == nm || decimals == 9)
        break;
    }
  {
    g_autofree char *text = num_wide_print (figure, decimals);

    g_string_append (out, text);
  }
}

/* Inches with a tape's fraction where the length is a whole number of 64ths, else as a decimal. @nm >= 0.
 * @behind_feet: a zero stands before the fraction, as drawings write it: 2'-0 1/2". */
static void
append_inches (GString *out, NumWide nm, gboolean behind_feet)
{
  NumWide whole;
  int over, under = 64;

  if (nm % NM_PER_64TH != 0)
    {
      append_decimal (out, nm, LENGTH_NM_PER_IN);
      return;
    }
  whole = nm / LENGTH_NM_PER_IN;
  over = (int) (nm % LENGTH_NM_PER_IN / NM_PER_64TH);
  for (; over != 0 && over % 2 == 0; over /= 2)
    under /= 2;
  behind_feet = behind_feet || whole != 0;
  if (behind_feet || over == 0)
    g_string_append_printf (out, "%" G_GINT64_FORMAT, (gint64) whole);
  if (over != 0)
    g_string_append_printf (out, "%s%d/%d", behind_feet ? " " : "", over, under);
}

gboolean
length_is_metric (gint64 nm)
{
  return nm % 396875 != 0 && nm % 100000 == 0;
}

char *
length_print (gint64 nm, LengthStyle style)
{
  /* 600 mm entered in an inch-pound job reads better as 600 mm than as 23.62204724. */
  if (length_is_metric (nm) && (style == LENGTH_STYLE_IN || style == LENGTH_STYLE_FT))
    return length_print_unit (nm, style == LENGTH_STYLE_IN ? LENGTH_STYLE_MM : LENGTH_STYLE_M);

  GString *out = g_string_new (nm < 0 ? "-" : NULL);
  NumWide size = nm < 0 ? -(NumWide) nm : nm;

  switch (style)
    {
    case LENGTH_STYLE_FT:
      append_decimal (out, size, LENGTH_NM_PER_FT);
      break;
    case LENGTH_STYLE_FT_IN:
      if (size >= LENGTH_NM_PER_FT)
        g_string_append_printf (out, "%" G_GINT64_FORMAT "'-", (gint64) (size / LENGTH_NM_PER_FT));
      append_inches (out, size % LENGTH_NM_PER_FT, size >= LENGTH_NM_PER_FT);
      g_string_append_c (out, '"');
      break;
    case LENGTH_STYLE_MM:
      append_decimal (out, size, LENGTH_NM_PER_MM);
      break;
    case LENGTH_STYLE_M:
      append_decimal (out, size, LENGTH_NM_PER_M);
      break;
    case LENGTH_STYLE_IN:
    default:
      append_inches (out, size, FALSE);
      break;
    }
  return g_string_free (out, FALSE);
}

char *
length_print_unit (gint64 nm, LengthStyle style)
{
  g_autofree char *figure = length_print (nm, style);

  if (length_is_metric (nm) && (style == LENGTH_STYLE_IN || style == LENGTH_STYLE_FT))
    return g_steal_pointer (&figure); /* has its unit already */
  switch (style)
    {
    case LENGTH_STYLE_FT:
      return g_strconcat (figure, " ft", NULL);
    case LENGTH_STYLE_FT_IN:
      return g_steal_pointer (&figure);
    case LENGTH_STYLE_MM:
      return g_strconcat (figure, " mm", NULL);
    case LENGTH_STYLE_M:
      return g_strconcat (figure, " m", NULL);
    case LENGTH_STYLE_IN:
    default:
      return g_strconcat (figure, " in", NULL);
    }
}

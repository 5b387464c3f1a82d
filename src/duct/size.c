/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "duct/kind.h"

#include "base/decimal.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Steps over "x", "X", U+00D7, "*" or "by"; NULL when none of them stands at @p. */
static const char *
skip_by (const char *p)
{
  while (g_ascii_isspace (*p))
    p++;
  if (*p == 'x' || *p == 'X' || *p == '*')
    return p + 1;
  if (g_str_has_prefix (p, "×"))
    return p + strlen ("×");
  if (g_ascii_strncasecmp (p, "by", 2) == 0)
    return p + 2;
  return NULL;
}

static gboolean
shift_fault (Fault *inner, int by, Fault **fault)
{
  if (inner->at >= 0)
    inner->at += by;
  return fault_set (fault, inner);
}

/* Whether a unit stands in the text: a written unit gives the same length whatever the default. */
static gboolean
has_unit (const char *text)
{
  gint64 as_in, as_mm;

  return length_parse (text, LENGTH_IN, &as_in, NULL) && length_parse (text, LENGTH_MM, &as_mm, NULL) && as_in == as_mm;
}

/* What stands behind the last digit: the unit as it was written. */
static const char *
unit_of (const char *text)
{
  const char *end = text + strlen (text);

  while (end > text && !g_ascii_isdigit (end[-1]) && end[-1] != '.')
    end--;
  return end;
}

/* "600x300 mm", "60 cm x 30": a unit at one figure serves the other, bare one too. */
static gboolean
with_unit_of (const char *bare, const char *other, gint64 *nm)
{
  g_autofree char *both = g_strconcat (bare, unit_of (other), NULL);

  return length_parse (both, LENGTH_IN, nm, NULL);
}

/* "12 dia", "dia 12", "300 mm round": the figure without the word for round, or NULL when none stands there. */
static char *
without_round_word (const char *text)
{
  static const char *const words[] = { "diameter", "dia.", "dia", "round", "rd", "⌀", "ø", "Ø" };
  g_autofree char *bare = g_strstrip (g_strdup (text));

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      gsize n = strlen (words[i]), len = strlen (bare);
      if (len <= n)
        continue;
      if (g_ascii_strncasecmp (bare, words[i], n) == 0)
        return g_strstrip (g_strdup (bare + n));
      if (g_ascii_strcasecmp (bare + len - n, words[i]) == 0)
        return g_strstrip (g_strndup (bare, len - n));
    }
  return NULL;
}

gboolean
duct_size_parse (const char *text, LengthUnit unit, gint64 *w, gint64 *h, Fault **fault)
{
  Fault *inner = NULL;
  const char *end, *second;
  gint64 first, other;
  g_autofree char *diameter = without_round_word (text);

  if (diameter)
    {
      if (!length_parse (diameter, unit, &first, &inner))
        return fault_set (fault, inner);
      *w = first;
      *h = 0;
      return TRUE;
    }
  if (!length_parse_prefix (text, unit, &first, &end, &inner))
    return fault_set (fault, inner);
  second = skip_by (end);
  if (!second)
    return fault_set (fault, fault_new ((int) (end - text), _ ("write both sides, like 24x12, or a diameter, like 12 dia"),
                                        *end ? _ ("a size needs an “x” between its two sides")
                                             : _ ("a size needs two sides")));
  if (!length_parse (second, unit, &other, &inner))
    return shift_fault (inner, (int) (second - text), fault);

  g_autofree char *head = g_strstrip (g_strndup (text, (gsize) (end - text)));
  if (has_unit (second) && !has_unit (head))
    with_unit_of (head, second, &first);
  else if (has_unit (head) && !has_unit (second))
    {
      g_autofree char *tail = g_strstrip (g_strdup (second));
      with_unit_of (tail, head, &other);
    }
  *w = first;
  *h = other;
  return TRUE;
}

char *
duct_size_print (gint64 w, gint64 h, LengthStyle style)
{
  gboolean metric = style == LENGTH_STYLE_IN && length_is_metric (w) && length_is_metric (h);

  if (h == 0)
    {
      g_autofree char *diameter = length_print (w, style);
      return g_strdup_printf ("%s dia", diameter);
    }

  if (metric)
    {
      g_autofree char *size = duct_size_print (w, h, LENGTH_STYLE_MM);
      return g_strdup_printf ("%s mm", size);
    }
  /* One side alone in another unit would be read as the unit of both. */
  if (style == LENGTH_STYLE_IN && (length_is_metric (w) || length_is_metric (h)))
    {
      g_autofree char *x = decimal_print_significant ((double) w / (double) LENGTH_NM_PER_IN, 15);
      g_autofree char *y = decimal_print_significant ((double) h / (double) LENGTH_NM_PER_IN, 15);
      return g_strdup_printf ("%sx%s", x, y);
    }
  g_autofree char *a = length_print (w, style);
  g_autofree char *b = length_print (h, style);

  return g_strdup_printf ("%sx%s", a, b);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/scan.h"

#include <glib/gi18n.h>
#include <string.h>

/* 10^28 times the 10^9 nm of a metre stays within 128 bits. */
#define MOST_DIGITS 28
/* Whole part of a mixed figure, times a 6-digit denominator, times 10^9, likewise. */
#define MOST_WHOLE_DIGITS 18
#define MOST_FRACTION_DIGITS 6

static const char *const blank_words[] = { "\u00a0", "\u202f", "\u2009", NULL };
static const char *const minus_words[] = { "\u2212", "-", NULL };
static const char *const dash_words[] = { "-", "\u2010", "\u2011", "\u2013", NULL };
static const char *const slash_words[] = { "/", "\u2044", NULL };

int
scan_at (const char *text, const char *p)
{
  return (int) MIN (p - text, G_MAXINT);
}

const char *
scan_any (const char *p, const char *const *words)
{
  for (; *words != NULL; words++)
    {
      gsize n = strlen (*words);

      if (g_ascii_strncasecmp (p, *words, n) == 0)
        return p + n;
    }
  return NULL;
}

const char *
scan_blanks (const char *p)
{
  for (;;)
    {
      const char *behind = g_ascii_isspace (*p) ? p + 1 : scan_any (p, blank_words);

      if (behind == NULL)
        return p;
      p = behind;
    }
}

const char *
scan_sign (const char *p, gboolean *negative)
{
  const char *behind = scan_any (p, minus_words);

  *negative = behind != NULL;
  if (behind == NULL && *p == '+')
    behind = p + 1;
  return behind != NULL ? scan_blanks (behind) : p;
}

#define MOST_SHOWN 20 /* characters of a word that is quoted */

Fault *
scan_unexpected (const char *text, const char *p, const char *remedy)
{
  gunichar c = g_utf8_get_char_validated (p, -1);
  const char *end = p;

  if (*p == '\0')
    return fault_new (*scan_blanks (text) == '\0' ? -1 : scan_at (text, p), remedy, _("a number is missing"));
  if (*p == ',')
    return fault_new (scan_at (text, p), _("use a point for decimals, as in 12.5"), _("a comma cannot stand here"));
  if (*p == '.')
    return fault_new (scan_at (text, p), _("keep one decimal point"), _("there is a second point"));
  if (c == (gunichar) -1 || c == (gunichar) -2 || !g_unichar_isprint (c))
    return fault_new (scan_at (text, p), remedy, _("a character that cannot be shown is not understood"));
  /* The rest of the word; what cannot be shown ends it. */
  for (int n = 0; n < MOST_SHOWN && c != 0 && c < (gunichar) -2 && g_unichar_isgraph (c); n++)
    {
      end = g_utf8_next_char (end);
      c = g_utf8_get_char_validated (end, -1);
    }
  if (end == p)
    end = g_utf8_next_char (p);
  g_autofree char *shown = g_strndup (p, (gsize) (end - p));
  return fault_new (scan_at (text, p), remedy, _("“%s” is not understood"), shown);
}

static gboolean
too_long (const char *text, const char *p, Fault **fault)
{
  return fault_set (fault, fault_new (scan_at (text, p), _("type a shorter number"),
                                      _("the number has too many digits")));
}

/* Digits of a whole number; leading zeros do not count towards @most. *p stays when there is none. */
static gboolean
scan_whole (const char *text, const char **p, int most, NumWide *out, int *significant, Fault **fault)
{
  const char *s = *p;

  *out = 0;
  *significant = 0;
  for (; g_ascii_isdigit (*s); s++)
    {
      if (*out != 0 || *s != '0')
        (*significant)++;
      if (*significant > most)
        return too_long (text, s, fault);
      *out = *out * 10 + (*s - '0');
    }
  *p = s;
  return TRUE;
}

/* The digits behind the point at *p, into @out, whose den becomes a power of ten. */
static void
scan_decimals (const char **p, ScanValue *out, int significant)
{
  const char *s = *p + 1;
  gboolean full = FALSE;
  int places = 0;

  for (; g_ascii_isdigit (*s); s++)
    {
      if (out->num != 0 || *s != '0')
        significant++;
      full = full || significant > MOST_DIGITS || ++places > MOST_DIGITS;
      if (full)
        continue;
      out->num = out->num * 10 + (*s - '0');
      out->den *= 10;
    }
  *p = s;
}

/* The slash behind @p when digits stand behind it: what makes a fraction. */
static const char *
fraction_slash (const char *p)
{
  const char *behind;

  p = scan_blanks (p);
  behind = scan_any (p, slash_words);
  return behind;
}

/* Where the fraction of a mixed figure starts behind its whole number: behind blanks or a dash, digits and a slash. */
static const char *
mixed_start (const char *p)
{
  const char *start = scan_blanks (p), *dash = scan_any (start, dash_words), *s;

  if (dash != NULL)
    start = dash;
  else if (start == p)
    return NULL;
  for (s = start; g_ascii_isdigit (*s); s++)
    ;
  return s > start && scan_any (s, slash_words) != NULL ? start : NULL;
}

/* Denominator at *p. */
static gboolean
scan_denominator (const char *text, const char **p, NumWide *out, Fault **fault)
{
  const char *start = *p = scan_blanks (*p);
  int significant;

  if (!g_ascii_isdigit (*start))
    return fault_set (fault, scan_unexpected (text, start, _("type the lower number of the fraction, as in 1/2")));
  if (!scan_whole (text, p, MOST_FRACTION_DIGITS, out, &significant, fault))
    return FALSE;
  if (*out == 0)
    return fault_set (fault, fault_new (scan_at (text, start), _("type a lower number of 1 or more, as in 1/2"),
                                        _("the fraction divides by zero")));
  return TRUE;
}

/* The fraction at @start behind a whole number: "1/2" of "12 1/2". */
static gboolean
scan_mixed (const char *text, const char **p, const char *start, ScanValue *out, Fault **fault)
{
  const char *s = start;
  NumWide over, under;
  int significant;

  if (!scan_whole (text, &s, MOST_FRACTION_DIGITS, &over, &significant, fault))
    return FALSE;
  s = fraction_slash (s);
  if (!scan_denominator (text, &s, &under, fault))
    return FALSE;
  if (over >= under)
    return fault_set (fault, fault_new (scan_at (text, start), _("type a fraction below 1, as in 12 1/2"),
                                        _("the fraction behind the whole number is not below 1")));
  out->num = out->num * under + over;
  out->den = under;
  *p = s;
  return TRUE;
}

gboolean
scan_value (const char *text, const char **p, ScanValue *out, Fault **fault)
{
  const char *start = *p, *s = start, *next;
  int significant;

  out->den = 1;
  if (!scan_whole (text, &s, MOST_DIGITS, &out->num, &significant, fault))
    return FALSE;
  if (*s == '.' && (s > start || g_ascii_isdigit (s[1])))
    {
      scan_decimals (&s, out, significant);
      *p = s;
      return TRUE;
    }
  if (s == start)
    {
      if (*s == '.')
        return fault_set (fault, fault_new (scan_at (text, s), _("type digits before or behind it, as in 0.5"),
                                            _("a point stands without digits")));
      return fault_set (fault, scan_unexpected (text, s, _("type a number, as in 24 or 12 1/2")));
    }
  next = fraction_slash (s);
  if (next != NULL)
    {
      if (significant > MOST_WHOLE_DIGITS)
        return too_long (text, start, fault);
      if (!scan_denominator (text, &next, &out->den, fault))
        return FALSE;
      *p = next;
      return TRUE;
    }
  next = mixed_start (s);
  if (next != NULL)
    {
      if (significant > MOST_WHOLE_DIGITS)
        return too_long (text, start, fault);
      return scan_mixed (text, p, next, out, fault);
    }
  *p = s;
  return TRUE;
}

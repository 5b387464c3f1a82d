/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/decimal.h"

#include "base/num.h"
#include "base/scan.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MOST_DIGITS 18

/* mantissa / 10^decimals, both of at most 18 digits; @behind_point is NULL without a point. */
typedef struct
{
  gint64 mantissa;
  int decimals;
  int significant;
  const char *behind_point;
} Number;

static gint64
power_of_ten (int n)
{
  gint64 out = 1;

  while (n-- > 0)
    out *= 10;
  return out;
}

static gboolean
too_many_digits (const char *text, const char *p, Fault **fault)
{
  return fault_set (fault, fault_new (scan_at (text, p), _("type at most 18 digits"),
                                      _("the number has too many digits")));
}

/* One more digit; FALSE when the 18 are used up. Zeros in front are free. */
static gboolean
take_digit (Number *number, int digit)
{
  if (number->mantissa != 0 || digit != 0)
    number->significant++;
  if (number->significant > MOST_DIGITS)
    return FALSE;
  number->mantissa = number->mantissa * 10 + digit;
  return TRUE;
}

/* Is the comma at @p between thousands? @before: digits between it and the start at @first, if it is the first comma;
 * the three digits before any later one were seen when the comma before it was. */
static gboolean
thousands_comma (const char *p, int before, gboolean first_comma, const char *first)
{
  if (first_comma && (before < 1 || before > 3 || *first == '0'))
    return FALSE;
  return g_ascii_isdigit (p[1]) && g_ascii_isdigit (p[2]) && g_ascii_isdigit (p[3]) && !g_ascii_isdigit (p[4]);
}

static gboolean
wrong_comma (const char *text, const char *p, Fault **fault)
{
  return fault_set (fault, fault_new (scan_at (text, p),
                                      _("use a point for decimals (12.5) and commas only between thousands (1,900.00)"),
                                      _("a comma cannot stand here")));
}

static gboolean
read_whole (const char *text, const char **p, Number *number, Fault **fault)
{
  const char *first = *p, *s = first;
  int before = 0;
  gboolean first_comma = TRUE;

  for (;; s++)
    {
      if (g_ascii_isdigit (*s))
        {
          if (!take_digit (number, *s - '0'))
            return too_many_digits (text, s, fault);
          before = MIN (before + 1, 4);
        }
      else if (*s == ',')
        {
          if (!thousands_comma (s, before, first_comma, first))
            return wrong_comma (text, s, fault);
          first_comma = FALSE;
        }
      else
        break;
    }
  *p = s;
  return TRUE;
}

/* Digits behind the point. Zeros are held back until another digit follows, so that closing zeros never count. */
static gboolean
read_decimals (const char *text, const char **p, Number *number, Fault **fault)
{
  const char *s = *p;
  int zeros = 0;

  for (; g_ascii_isdigit (*s); s++)
    {
      if (*s == '0')
        {
          zeros = MIN (zeros + 1, MOST_DIGITS + 1);
          continue;
        }
      if (number->decimals + zeros + 1 > MOST_DIGITS)
        return too_many_digits (text, s, fault);
      for (number->decimals += zeros + 1; zeros > 0; zeros--)
        if (!take_digit (number, 0))
          return too_many_digits (text, s, fault);
      if (!take_digit (number, *s - '0'))
        return too_many_digits (text, s, fault);
    }
  *p = s;
  return TRUE;
}

/* An unsigned number at *p, which is moved behind it. */
static gboolean
read_number (const char *text, const char **p, Number *number, Fault **fault)
{
  const char *start = *p;

  memset (number, 0, sizeof *number);
  if (!read_whole (text, p, number, fault))
    return FALSE;
  if (**p == '.')
    {
      gboolean bare = *p == start;

      number->behind_point = ++*p;
      if (bare && **p != '.' && !g_ascii_isdigit (**p))
        return fault_set (fault, fault_new (scan_at (text, start), _("type digits before or behind it, as in 0.5"),
                                            _("a point stands without digits")));
      if (!read_decimals (text, p, number, fault))
        return FALSE;
      if (**p == ',')
        return wrong_comma (text, *p, fault);
    }
  else if (*p == start)
    return fault_set (fault, scan_unexpected (text, *p, _("type a number, as in 12 or 0.98")));
  return TRUE;
}

static gboolean
expect_end (const char *text, const char *p, Fault **fault)
{
  p = scan_blanks (p);
  if (*p == '\0')
    return TRUE;
  if (g_ascii_isdigit (*p))
    return fault_set (fault, fault_new (scan_at (text, p), _("type one number without blanks in it"),
                                        _("a second number follows")));
  return fault_set (fault, scan_unexpected (text, p, _("type digits only, with a point for decimals")));
}

gboolean
decimal_parse (const char *text, int decimals, gint64 *out, Fault **fault)
{
  const char *p, *start;
  Number number;
  gboolean negative;
  gint64 value;

  g_return_val_if_fail (decimals >= 0 && decimals <= MOST_DIGITS, FALSE);

  if (text == NULL)
    text = "";
  p = start = scan_sign (scan_blanks (text), &negative);
  if (!read_number (text, &p, &number, fault) || !expect_end (text, p, fault))
    return FALSE;
  if (number.decimals > decimals)
    {
      g_autofree char *remedy = decimals == 0 ? g_strdup (_("type a whole number"))
                                              : g_strdup_printf (ngettext ("type at most %d digit behind the point",
                                                                           "type at most %d digits behind the point",
                                                                           (gulong) decimals), decimals);

      return fault_set (fault, fault_new (scan_at (text, number.behind_point) + decimals, remedy,
                                          _("there are too many digits behind the point")));
    }
  if (!num_mul_div (number.mantissa, power_of_ten (decimals - number.decimals), 1, &value))
    return fault_set (fault, fault_new (scan_at (text, start), _("type a smaller number"),
                                        _("the number is too large")));
  *out = negative ? -value : value;
  return TRUE;
}

static NumWide
common_divisor (NumWide a, NumWide b)
{
  while (b != 0)
    {
      NumWide r = a % b;

      a = b;
      b = r;
    }
  return a;
}

gboolean
decimal_parse_ratio (const char *text, gint64 *num, gint64 *den, Fault **fault)
{
  static const char *const slashes[] = { "/", "\u2044", NULL };
  const char *p, *start, *slash;
  Number over, under = { .mantissa = 1 };
  NumWide a, b, divisor;
  gboolean negative;

  if (text == NULL)
    text = "";
  p = start = scan_sign (scan_blanks (text), &negative);
  if (!read_number (text, &p, &over, fault))
    return FALSE;
  slash = scan_any (scan_blanks (p), slashes);
  if (slash != NULL)
    {
      const char *below = p = scan_blanks (slash);

      if (!read_number (text, &p, &under, fault))
        return FALSE;
      if (under.mantissa == 0)
        return fault_set (fault, fault_new (scan_at (text, below), _("type a lower number other than 0, as in 1/481"),
                                            _("the fraction divides by zero")));
    }
  if (!expect_end (text, p, fault))
    return FALSE;
  a = (NumWide) over.mantissa * power_of_ten (under.decimals);
  b = (NumWide) under.mantissa * power_of_ten (over.decimals);
  divisor = common_divisor (a, b);
  if (!num_narrow (negative ? -(a / divisor) : a / divisor, num) || !num_narrow (b / divisor, den))
    return fault_set (fault, fault_new (scan_at (text, start), _("type fewer digits"),
                                        _("the fraction has too many digits")));
  return TRUE;
}

char *
decimal_print (gint64 value, int decimals, int min_decimals, gboolean group)
{
  g_autofree char *plain = num_wide_print (value, decimals);
  const char *digits = plain + (value < 0);
  const char *point = strchr (digits, '.');
  gsize whole = point != NULL ? (gsize) (point - digits) : strlen (digits);
  gsize shown = point != NULL ? strlen (point + 1) : 0;
  GString *out = g_string_new (value < 0 ? "-" : NULL);

  min_decimals = MAX (min_decimals, 0);
  while (point != NULL && shown > (gsize) min_decimals && point[shown] == '0')
    shown--;
  for (gsize i = 0; i < whole; i++)
    {
      if (group && i > 0 && (whole - i) % 3 == 0)
        g_string_append_c (out, ',');
      g_string_append_c (out, digits[i]);
    }
  if (shown > 0 || min_decimals > 0)
    g_string_append_c (out, '.');
  if (point != NULL)
    g_string_append_len (out, point + 1, (gssize) shown);
  for (gsize i = shown; i < (gsize) min_decimals; i++)
    g_string_append_c (out, '0');
  return g_string_free (out, FALSE);
}

char *
decimal_print_significant (double value, int digits)
{
  char format[16], text[64], figure[32];
  int power, n = 0;
  GString *out;

  if (!isfinite (value))
    return g_strdup ("null");
  g_snprintf (format, sizeof format, "%%.%de", CLAMP (digits, 1, 17) - 1);
  g_ascii_formatd (text, sizeof text, format, fabs (value));
  for (const char *s = text; *s != 'e'; s++)
    if (g_ascii_isdigit (*s))
      figure[n++] = *s;
  power = atoi (strchr (text, 'e') + 1);
  while (n > 0 && figure[n - 1] == '0')
    n--;
  if (n == 0)
    return g_strdup ("0");
  out = g_string_new (value < 0 ? "-" : NULL);
  if (power < 0)
    {
      g_string_append (out, "0.");
      for (int i = -1; i > power; i--)
        g_string_append_c (out, '0');
      g_string_append_len (out, figure, n);
      return g_string_free (out, FALSE);
    }
  for (int i = 0; i <= power || i < n; i++)
    {
      if (i == power + 1)
        g_string_append_c (out, '.');
      g_string_append_c (out, i < n ? figure[i] : '0');
    }
  return g_string_free (out, FALSE);
}

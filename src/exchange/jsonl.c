/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/jsonl.h"

#include "base/decimal.h"

#include <string.h>

/* RFC 8259, section 7: the quote, the backslash and the control characters below U+0020 must be escaped. */
static void
append_string (GString *out, const char *text)
{
  static const char named[] = "\b\t\n\f\r\"\\", letters[] = "btnfr\"\\";
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  g_string_append_c (out, '"');
  for (const char *p = valid; *p; p++)
    {
      const char *at = strchr (named, *p);
      if (at)
        g_string_append_printf (out, "\\%c", letters[at - named]);
      else if ((guchar) *p < 0x20)
        g_string_append_printf (out, "\\u%04x", (guint) (guchar) *p);
      else
        g_string_append_c (out, *p);
    }
  g_string_append_c (out, '"');
}

static void
append_key (GString *out, const char *key)
{
  if (out->len > 0 && out->str[out->len - 1] != '{')
    g_string_append_c (out, ',');
  append_string (out, key);
  g_string_append_c (out, ':');
}

void
jsonl_begin (GString *out)
{
  g_string_append_c (out, '{');
}

void
jsonl_end (GString *out)
{
  g_string_append (out, "}\n");
}

void
jsonl_string (GString *out, const char *key, const char *value)
{
  append_key (out, key);
  if (value)
    append_string (out, value);
  else
    g_string_append (out, "null");
}

void
jsonl_number (GString *out, const char *key, double value, int digits)
{
  g_autofree char *text = decimal_print_significant (value, digits);

  append_key (out, key);
  g_string_append (out, text);
}

void
jsonl_figure (GString *out, const char *key, const char *digits)
{
  append_key (out, key);
  g_string_append (out, digits);
}

void
jsonl_int (GString *out, const char *key, gint64 value)
{
  append_key (out, key);
  g_string_append_printf (out, "%" G_GINT64_FORMAT, value);
}

void
jsonl_bool (GString *out, const char *key, gboolean value)
{
  append_key (out, key);
  g_string_append (out, value ? "true" : "false");
}

void
jsonl_null (GString *out, const char *key)
{
  append_key (out, key);
  g_string_append (out, "null");
}

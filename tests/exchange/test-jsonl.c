/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "exchange/jsonl.h"

#include <math.h>

static void
test_object (void)
{
  g_autoptr (GString) out = g_string_new (NULL);

  jsonl_begin (out);
  jsonl_string (out, "name", "supply");
  jsonl_number (out, "feet", 46.5, 9);
  jsonl_number (out, "small", 1.5e-7, 9);
  jsonl_number (out, "large", 1.25e20, 9);
  jsonl_number (out, "none", NAN, 9);
  jsonl_int (out, "least", G_MININT64);
  jsonl_bool (out, "priced", TRUE);
  jsonl_null (out, "note");
  jsonl_string (out, "text", NULL);
  jsonl_end (out);
  jsonl_begin (out);
  jsonl_end (out);
  g_assert_cmpstr (out->str, ==,
                   "{\"name\":\"supply\",\"feet\":46.5,\"small\":0.00000015,\"large\":125000000000000000000,\"none\":null,"
                   "\"least\":-9223372036854775808,\"priced\":true,\"note\":null,\"text\":null}\n{}\n");
}

/* RFC 8259, section 7: quote, backslash and everything below U+0020 are escaped; the rest may stand as it is. */
static void
test_escapes (void)
{
  static const struct
  {
    const char *text, *json;
  } cases[] = {
    { "24\" duct", "24\\\" duct" }, { "a\\b", "a\\\\b" },       { "a\nb\r\t", "a\\nb\\r\\t" },
    { "\b\f", "\\b\\f" },           { "\x01\x1f", "\\u0001\\u001f" }, { "90° Ärger → {}[],:", "90° Ärger → {}[],:" },
    { "a\xff" "b", "a\xEF\xBF\xBD" "b" }, { "{", "{" },         { "\x7f", "\x7f" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GString) out = g_string_new (NULL);
      g_autofree char *expected = g_strdup_printf ("{\"%s\":\"%s\",\"b\":1}\n", cases[i].json, cases[i].json);

      jsonl_begin (out);
      jsonl_string (out, cases[i].text, cases[i].text);
      jsonl_int (out, "b", 1);
      jsonl_end (out);
      g_assert_cmpstr (out->str, ==, expected);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/exchange/jsonl/object", test_object);
  g_test_add_func ("/exchange/jsonl/escapes", test_escapes);
  return g_test_run ();
}

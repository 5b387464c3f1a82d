/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fault.h"

#include <string.h>

static void
test_new_copy (void)
{
  g_autoptr (Fault) fault = fault_new (3, "type digits", "“%s” is not understood", "x");
  g_autoptr (Fault) copy = fault_copy (fault);

  g_assert_cmpint (fault->at, ==, 3);
  g_assert_cmpstr (fault->what, ==, "“x” is not understood");
  g_assert_cmpstr (copy->what, ==, fault->what);
  g_assert_cmpstr (copy->remedy, ==, "type digits");
  g_assert_true (copy->what != fault->what);
  g_assert_cmpint (copy->at, ==, 3);
  g_assert_null (fault_copy (NULL));
}

static void
test_remedy_never_empty (void)
{
  g_autoptr (Fault) none = fault_new (-7, NULL, "wrong");
  g_autoptr (Fault) empty = fault_new (0, "", "wrong");

  g_assert_cmpint (none->at, ==, -1);
  g_assert_cmpuint (strlen (none->remedy), >, 0);
  g_assert_cmpuint (strlen (empty->remedy), >, 0);
}

static void
test_set (void)
{
  Fault *out = NULL;

  g_assert_false (fault_set (NULL, fault_new (0, "r", "freed when nobody wants it")));
  g_assert_false (fault_set (&out, fault_new (0, "r", "kept")));
  g_assert_cmpstr (out->what, ==, "kept");
  fault_free (out);
  fault_free (NULL);
}

/* The word around the place is quoted; "é½" is 2 + 2 bytes. */
static void
test_words (void)
{
  static const struct
  {
    int at;
    const char *text;
    const char *words;
  } rows[] = {
    { 0, "abc", "bad: mend it" }, /* the one word there is */
    { 2, "abc", "bad (“abc”): mend it" },
    { 3, "abc", "bad: mend it" }, /* behind the end */
    { 0, "abc def", "bad (“abc”): mend it" },
    { 4, "abc def", "bad (“def”): mend it" },
    { 5, "abc def", "bad (“def”): mend it" },
    { 3, "abc def", "bad (“def”): mend it" }, /* between words */
    { 5, "é½ é½x", "bad (“é½x”): mend it" },
    { 9, "é½ é½x", "bad (“é½x”): mend it" },
    { 6, "a few bad ones", "bad: mend it" }, /* named already */
    { 2, "x abcdefghijklmnopqrstuvwxyzabcdefg", "bad (“abcdefghijklmnopqrstuvwxyzabcd…”): mend it" },
    { 100, "ab", "bad: mend it" },
    { -1, "abc", "bad: mend it" },
    { 2, NULL, "bad: mend it" },
    { 1, "\xFF\xFEx", "bad: mend it" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (Fault) fault = fault_new (rows[i].at, "mend it", "bad");
      g_autofree char *words = fault_words (fault, rows[i].text);

      g_assert_cmpstr (words, ==, rows[i].words);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/fault/new-copy", test_new_copy);
  g_test_add_func ("/fault/remedy-never-empty", test_remedy_never_empty);
  g_test_add_func ("/fault/set", test_set);
  g_test_add_func ("/fault/words", test_words);
  return g_test_run ();
}

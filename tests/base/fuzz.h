/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Arbitrary text for the readers: half of it any bytes, half of it pieces that the readers know, in any order. */

#include "base/fault.h"

#include <glib.h>
#include <string.h>

#define FUZZ_ROUNDS 20000

/* NUL-terminated, in a buffer of just that size so that a memory checker sees a read behind its end. */
static inline char *
fuzz_text (GRand *rand)
{
  static const char *const pieces[] = {
    "0", "1", "12", "64", "999", "000000", "18446744073709551616", ".", ",", "/", "-", "+", "\xE2\x88\x92", " ", "\t",
    "'", "\"", "''", "\xE2\x80\xB2", "\xE2\x80\xB3", "\xE2\x80", "\xFF", "x", "in", "ft", "feet", "mm", "cm", "m", "Pa",
    "kPa", "w.g.", "deg", "\xC2\xB0", "\xC2", "\xC2\xA0", "1/2", "12 1/2", "2'-6 1/2\"", ";", "\n", "\r", "#", "a",
  };
  GString *out = g_string_new (NULL);
  int n = g_rand_int_range (rand, 0, 12);
  char *exact;

  if (g_rand_boolean (rand))
    for (int i = 0; i < n; i++)
      g_string_append (out, pieces[g_rand_int_range (rand, 0, (gint32) G_N_ELEMENTS (pieces))]);
  else
    for (int i = 0; i < n; i++)
      g_string_append_c (out, (char) g_rand_int_range (rand, 1, 256));
  exact = g_memdup2 (out->str, out->len + 1);
  g_string_free (out, TRUE);
  return exact;
}

/* A refusal names a place within the text, what is wrong and what to do, all of it text that can be shown. */
static inline void
assert_fault_usable (const Fault *fault, const char *text)
{
  g_autofree char *words = NULL;

  g_assert_nonnull (fault);
  g_assert_cmpint (fault->at, >=, -1);
  g_assert_cmpint (fault->at, <=, (int) strlen (text));
  g_assert_cmpstr (fault->what, !=, "");
  g_assert_cmpstr (fault->remedy, !=, "");
  words = fault_words (fault, text);
  g_assert_true (g_utf8_validate (words, -1, NULL));
}

/* A whole number of up to 63 bits, every size alike often. */
static inline gint64
fuzz_int64 (GRand *rand)
{
  guint64 bits = (guint64) g_rand_int (rand) << 32 | g_rand_int (rand);
  gint64 value = (gint64) (bits >> g_rand_int_range (rand, 1, 64));

  return g_rand_boolean (rand) ? value : -value;
}

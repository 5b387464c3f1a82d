/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * Fault:
 * @at: byte offset of the first offending character in the text that was read, or -1
 * @what: what is wrong, translated, without a final stop
 * @remedy: what to do about it, translated, without a final stop; never empty
 *
 * Something a user typed or a file held that cannot be used. A fault is an answer, not a failure of the
 * program: functions that read user data return it instead of a GError, which is kept for input and output.
 */
typedef struct
{
  int at;
  char *what;
  char *remedy;
} Fault;

/* A fault with formatted words: fault_new (at, "remedy", "what %s", ...). */
Fault *fault_new (int at, const char *remedy, const char *what_format, ...) G_GNUC_PRINTF (3, 4);
Fault *fault_copy (const Fault *fault);
void fault_free (Fault *fault);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (Fault, fault_free)

/* Hands @fault to @out when the caller wants it, frees it otherwise. Always returns FALSE, so that a parser can
 * `return fault_set (out, fault_new (...));`. */
gboolean fault_set (Fault **out, Fault *fault);

/* "what (“word”): remedy"; the word is the one around the place. It is left out where it says nothing: @at is -1
 * or behind the text, the text is NULL, that word alone, or no UTF-8, or what is wrong names it already.
 * @text: (nullable): the text that was read. (transfer full) */
char *fault_words (const Fault *fault, const char *text);

G_END_DECLS

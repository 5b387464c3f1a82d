/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* JSON Lines: one object a line (RFC 8259), appended to a string. Between jsonl_begin() and jsonl_end() each call adds
 * one member; keys are not checked for being given twice. */
void jsonl_begin (GString *out);
/* Ends the object and the line. */
void jsonl_end (GString *out);

/* UTF-8 is kept as it is; what is not UTF-8 is replaced by U+FFFD. NULL gives null. */
void jsonl_string (GString *out, const char *key, const char *value);
/* To @digits significant digits, never with an exponent; no number gives null. */
void jsonl_number (GString *out, const char *key, double value, int digits);
/* A number that is written already, "35.4025"; the caller answers for its form. */
void jsonl_figure (GString *out, const char *key, const char *digits);
void jsonl_int (GString *out, const char *key, gint64 value);
void jsonl_bool (GString *out, const char *key, gboolean value);
void jsonl_null (GString *out, const char *key);

G_END_DECLS

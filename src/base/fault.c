/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/fault.h"

#include <glib/gi18n.h>
#include <string.h>

/* Both texts are copied. An empty remedy would leave the user alone with the trouble, so a general one stands in. */
Fault *
fault_new (int at, const char *remedy, const char *what_format, ...)
{
  Fault *fault = g_new0 (Fault, 1);
  va_list args;

  fault->at = at < 0 ? -1 : at;
  fault->remedy = g_strdup (remedy != NULL && *remedy != '\0' ? remedy : _("correct it and try again"));
  va_start (args, what_format);
  fault->what = g_strdup_vprintf (what_format, args);
  va_end (args);
  return fault;
}

Fault *
fault_copy (const Fault *fault)
{
  Fault *copy;

  if (fault == NULL)
    return NULL;
  copy = g_new0 (Fault, 1);
  copy->at = fault->at;
  copy->what = g_strdup (fault->what);
  copy->remedy = g_strdup (fault->remedy);
  return copy;
}

void
fault_free (Fault *fault)
{
  if (fault == NULL)
    return;
  g_free (fault->what);
  g_free (fault->remedy);
  g_free (fault);
}

gboolean
fault_set (Fault **out, Fault *fault)
{
  if (out != NULL)
    *out = fault;
  else
    fault_free (fault);
  return FALSE;
}

/* The word around byte @at: *from and *to are set to its ends. FALSE when there is none, or @text is no UTF-8. */
static gboolean
word_around (const char *text, int at, const char **from, const char **to)
{
  const char *p = text;

  if (!g_utf8_validate (text, -1, NULL))
    return FALSE;
  *from = *to = text;
  for (; *p; p = g_utf8_next_char (p))
    {
      gboolean blank = g_unichar_isspace (g_utf8_get_char (p));
      if (blank && p - text > at)
        break;
      if (blank)
        *from = g_utf8_next_char (p);
    }
  *to = p;
  return *to > *from && at < *to - text;
}

#define MOST_QUOTED 30 /* characters */

/* People say which word is wrong, not how many letters stand before it. */
char *
fault_words (const Fault *fault, const char *text)
{
  const char *from, *to;

  g_return_val_if_fail (fault != NULL, NULL);

  if (fault->at < 0 || text == NULL || !word_around (text, fault->at, &from, &to))
    return g_strdup_printf (_("%s: %s"), fault->what, fault->remedy);

  g_autofree char *word = g_strndup (from, (gsize) (to - from));
  /* A value that is one word needs no telling where, nor does a word that is named already. */
  if (strstr (fault->what, word) || (fault->at == 0 && !*to))
    return g_strdup_printf (_("%s: %s"), fault->what, fault->remedy);
  if (g_utf8_strlen (word, -1) > MOST_QUOTED)
    {
      char *cut = g_utf8_substring (word, 0, MOST_QUOTED);
      g_free (word);
      word = g_strconcat (cut, "…", NULL);
      g_free (cut);
    }
  return g_strdup_printf (_("%s (“%s”): %s"), fault->what, word, fault->remedy);
}

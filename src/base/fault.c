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

/* The character number, from 1, of byte @at. Bytes that only continue a UTF-8 character are not counted, which also
 * gives a sensible place in text that is not valid UTF-8. */
static int
place_of (const char *text, int at)
{
  int place = 1;

  for (int i = 0; i < at && text[i] != '\0'; i++)
    if (((guchar) text[i + 1] & 0xC0) != 0x80)
      place++;
  return place;
}

char *
fault_words (const Fault *fault, const char *text)
{
  g_return_val_if_fail (fault != NULL, NULL);

  if (fault->at < 0 || text == NULL)
    return g_strdup_printf (_("%s: %s"), fault->what, fault->remedy);
  return g_strdup_printf (_("%s at place %d: %s"), fault->what, place_of (text, fault->at), fault->remedy);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/entry-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

static const struct
{
  const char *text;
  EntryWord word;
} words[] = {
  { "straight", { ENTRY_KIND, 0, DUCT_STRAIGHT, NULL } },
  { "straights", { ENTRY_KIND, 0, DUCT_STRAIGHT, NULL } },
  { "str", { ENTRY_KIND, 0, DUCT_STRAIGHT, NULL } },
  { "elbow", { ENTRY_KIND, 0, DUCT_RADIUS_ELBOW, NULL } },
  { "elbows", { ENTRY_KIND, 0, DUCT_RADIUS_ELBOW, NULL } },
  { "ell", { ENTRY_KIND, 0, DUCT_RADIUS_ELBOW, NULL } },
  { "el", { ENTRY_KIND, 0, DUCT_RADIUS_ELBOW, NULL } },
  { "radius elbow", { ENTRY_KIND, 0, DUCT_RADIUS_ELBOW, NULL } },
  { "radius elbows", { ENTRY_KIND, 0, DUCT_RADIUS_ELBOW, NULL } },
  { "mitre", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "mitred", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "miter", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "mitered", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "mitred elbow", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "mitred elbows", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "mitered elbow", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "mitered elbows", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "mitre elbow", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "miter elbow", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
  { "transition", { ENTRY_KIND, 0, DUCT_TRANSITION, NULL } },
  { "transitions", { ENTRY_KIND, 0, DUCT_TRANSITION, NULL } },
  { "trans", { ENTRY_KIND, 0, DUCT_TRANSITION, NULL } },
  { "tr", { ENTRY_KIND, 0, DUCT_TRANSITION, NULL } },
  { "offset", { ENTRY_KIND, 0, DUCT_OFFSET, NULL } },
  { "offsets", { ENTRY_KIND, 0, DUCT_OFFSET, NULL } },
  { "off", { ENTRY_KIND, 0, DUCT_OFFSET, NULL } },
  { "tap", { ENTRY_KIND, 0, DUCT_TAP, NULL } },
  { "taps", { ENTRY_KIND, 0, DUCT_TAP, NULL } },
  { "cap", { ENTRY_KIND, 0, DUCT_END_CAP, NULL } },
  { "caps", { ENTRY_KIND, 0, DUCT_END_CAP, NULL } },
  { "end cap", { ENTRY_KIND, 0, DUCT_END_CAP, NULL } },
  { "end caps", { ENTRY_KIND, 0, DUCT_END_CAP, NULL } },
  { "count", { ENTRY_KIND, 0, DUCT_COUNTED, NULL } },
  { "counted", { ENTRY_KIND, 0, DUCT_COUNTED, NULL } },
  { "indoors", { ENTRY_SET, RUN_EXPOSURE, DUCT_INDOORS, NULL } },
  { "outdoors", { ENTRY_SET, RUN_EXPOSURE, DUCT_OUTDOORS, NULL } },
  { "galvanised", { ENTRY_SET, RUN_METAL, DUCT_GALVANISED, NULL } },
  { "galvanized", { ENTRY_SET, RUN_METAL, DUCT_GALVANISED, NULL } },
  { "galv", { ENTRY_SET, RUN_METAL, DUCT_GALVANISED, NULL } },
  { "black steel", { ENTRY_SET, RUN_METAL, DUCT_BLACK, NULL } },
  { "black", { ENTRY_SET, RUN_METAL, DUCT_BLACK, NULL } },
  { "stainless steel", { ENTRY_SET, RUN_METAL, DUCT_STAINLESS, NULL } },
  { "stainless", { ENTRY_SET, RUN_METAL, DUCT_STAINLESS, NULL } },
  { "aluminium", { ENTRY_SET, RUN_METAL, DUCT_ALUMINIUM, NULL } },
  { "aluminum", { ENTRY_SET, RUN_METAL, DUCT_ALUMINIUM, NULL } },
  { "on edge", { ENTRY_SET, RUN_ON_EDGE, 1, NULL } },
  { "first", { ENTRY_END_OF, RUN_FIRST_END, 0, NULL } },
  { "first end", { ENTRY_END_OF, RUN_FIRST_END, 0, NULL } },
  { "last", { ENTRY_END_OF, RUN_LAST_END, 0, NULL } },
  { "last end", { ENTRY_END_OF, RUN_LAST_END, 0, NULL } },
  { "joint", { ENTRY_END, 0, DUCT_END_JOINT, NULL } },
  { "equipment", { ENTRY_END, 0, DUCT_END_EQUIPMENT, NULL } },
  { "flexible connector", { ENTRY_END, 0, DUCT_END_FLEXIBLE, NULL } },
  { "flexible", { ENTRY_END, 0, DUCT_END_FLEXIBLE, NULL } },
  { "sleeve", { ENTRY_END, 0, DUCT_END_SLEEVE, NULL } },
  { "open", { ENTRY_END, 0, DUCT_END_OPEN, NULL } },
  { "raw", { ENTRY_END, 0, DUCT_END_RAW, NULL } },
  { "long", { ENTRY_DIM, RUN_LENGTH, 0, NULL } },
  { "length", { ENTRY_DIM, RUN_LENGTH, 0, NULL } },
  { "r", { ENTRY_DIM, RUN_THROAT, 0, NULL } },
  { "throat", { ENTRY_DIM, RUN_THROAT, 0, NULL } },
  { "aside", { ENTRY_DIM, RUN_OFFSET, 0, NULL } },
  { "shift", { ENTRY_DIM, RUN_SHIFT, 0, NULL } },
  { "legs", { ENTRY_DIM, RUN_LEGS, 0, NULL } },
  { "to", { ENTRY_TO, 0, 0, NULL } },
  { "ga", { ENTRY_GAUGE, 0, 0, NULL } },
  { "gauge", { ENTRY_GAUGE, 0, 0, NULL } },
  { "class", { ENTRY_CLASS, 0, 0, NULL } },
  { "drawing", { ENTRY_DRAWING, 0, 0, NULL } },
  { "dwg", { ENTRY_DRAWING, 0, 0, NULL } },
  { "fit", { ENTRY_FIGURE_OF, RUN_FIT, 0, NULL } },
  { "price", { ENTRY_FIGURE_OF, RUN_PRICE, 0, NULL } },
  { "shop", { ENTRY_FIGURE_OF, RUN_SHOP_MINUTES, 0, NULL } },
  { "field", { ENTRY_FIGURE_OF, RUN_FIELD_MINUTES, 0, NULL } },
  { "system", { ENTRY_NAMED, RUN_SYSTEM, 0, NULL } },
  { "area", { ENTRY_NAMED, RUN_AREA, 0, NULL } },
};

const char *
job_entry_blanks (const char *p)
{
  for (;;)
    {
      if (*p && g_unichar_isspace (g_utf8_get_char (p)))
        p = g_utf8_next_char (p);
      else if (*p == ',' && (p[1] == '\0' || g_unichar_isspace (g_utf8_get_char (p + 1))))
        p++;
      else
        return p;
    }
}

gboolean
job_entry_is_end (const char *p)
{
  return *p == '\0' || job_entry_blanks (p) != p;
}

const char *
job_entry_word_end (const char *p)
{
  while (!job_entry_is_end (p))
    p = g_utf8_next_char (p);
  return p;
}

char *
job_entry_word_at (const char *at)
{
  const char *end = at;

  for (int n = 0; n < 30 && !job_entry_is_end (end); n++)
    end = g_utf8_next_char (end);
  return g_strndup (at, (gsize) (end - at));
}

/* Behind @key when the text at @p starts with it, in any case and with any blanks between its words, and a word ends
 * there; else NULL. */
static const char *
match_text (const char *p, const char *key)
{
  const char *k;

  if (!*key)
    return NULL;
  for (k = key; *k; k = g_utf8_next_char (k))
    {
      gunichar c = g_utf8_get_char (k);
      const char *behind = p;

      if (c == ' ')
        while (*behind && g_unichar_isspace (g_utf8_get_char (behind)))
          behind = g_utf8_next_char (behind);
      else if (*p && g_unichar_tolower (g_utf8_get_char (p)) == g_unichar_tolower (c))
        behind = g_utf8_next_char (p);
      if (behind == p)
        return NULL;
      p = behind;
    }
  return job_entry_is_end (p) ? p : NULL;
}

/* Takes the candidate when it is longer than what was found before. */
static void
consider (const char *p, const char *key, const EntryWord *word, EntryWord *best, const char **end)
{
  const char *behind = key ? match_text (p, key) : NULL;

  if (behind && behind > *end)
    {
      *end = behind;
      *best = *word;
    }
}

/* @slot: RUN_SYSTEM, RUN_AREA, or -1 for both. */
static void
match_names (const EntryScan *s, const char *p, int slot, EntryWord *best, const char **end)
{
  static const struct
  {
    JobType type;
    int text, num;
  } named[] = { { JOB_SYSTEM, SYSTEM_KEY, RUN_SYSTEM }, { JOB_AREA, AREA_KEY, RUN_AREA } };

  for (gsize t = 0; t < G_N_ELEMENTS (named); t++)
    for (guint i = 0; (slot < 0 || slot == named[t].num) && i < job_n (s->job, named[t].type); i++)
      {
        const JobRecord *r = job_at (s->job, named[t].type, i);
        EntryWord word = { ENTRY_SET, named[t].num, r->id, NULL };
        consider (p, r->text[named[t].text], &word, best, end);
      }
}

EntryWord
job_entry_match_name (const EntryScan *s, const char *p, int slot, const char **end)
{
  EntryWord best = { ENTRY_NO_WORD, 0, 0, NULL };

  *end = p;
  match_names (s, p, slot, &best, end);
  return best;
}

static void
match_items (const EntryScan *s, const char *p, EntryWord *best, const char **end)
{
  for (guint i = 0; i < s->catalogue->items->len; i++)
    {
      const CostItem *item = g_ptr_array_index (s->catalogue->items, i);
      EntryWord word = { ENTRY_ITEM, 0, 0, item->key };
      consider (p, item->key, &word, best, end);
    }
}

EntryWord
job_entry_match (const EntryScan *s, const char *p, gboolean item_first, const char **end)
{
  EntryWord best = { ENTRY_NO_WORD, 0, 0, NULL };

  *end = p;
  if (item_first)
    {
      match_items (s, p, &best, end);
      if (best.type != ENTRY_NO_WORD)
        return best;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    consider (p, words[i].text, &words[i].word, &best, end);
  /* The kinds also in the user's language. */
  for (int k = 0; k < DUCT_N_KINDS; k++)
    {
      EntryWord word = { ENTRY_KIND, 0, k, NULL };
      consider (p, _ (duct_kind_info ((DuctKind) k)->name), &word, &best, end);
    }
  match_names (s, p, -1, &best, end);
  for (guint i = 0; i < s->catalogue->methods->len; i++)
    {
      const CostMethod *method = g_ptr_array_index (s->catalogue->methods, i);
      EntryWord word = { ENTRY_METHOD, 0, 0, method->key };
      consider (p, method->key, &word, &best, end);
    }
  match_items (s, p, &best, end);
  return best;
}

char *
job_entry_near_items (const EntryScan *s, const char *p)
{
  g_autofree char *word = job_entry_word_at (p);
  g_autofree char *low = g_utf8_casefold (word, -1);
  g_autoptr (GString) out = g_string_new (NULL);
  int n = 0;

  /* One or two letters are in nearly every item. */
  for (guint i = 0; i < s->catalogue->items->len && g_utf8_strlen (word, -1) > 2 && n < 4; i++)
    {
      const CostItem *item = g_ptr_array_index (s->catalogue->items, i);
      g_autofree char *key = g_utf8_casefold (item->key, -1);
      if (strstr (key, low))
        g_string_append_printf (out, "%s“%s”", n++ ? ", " : "", item->key);
    }
  return n ? g_strdup (out->str) : NULL;
}

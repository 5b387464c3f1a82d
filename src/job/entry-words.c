/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/entry-private.h"

#include "cost/retire.h"

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
  { "duct", { ENTRY_KIND, 0, DUCT_STRAIGHT, NULL } },
  { "elbow", { ENTRY_KIND, 0, DUCT_RADIUS_ELBOW, NULL } },
  { "bend", { ENTRY_KIND, 0, DUCT_RADIUS_ELBOW, NULL } },
  { "bends", { ENTRY_KIND, 0, DUCT_RADIUS_ELBOW, NULL } },
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
  { "square elbow", { ENTRY_KIND, 0, DUCT_MITRED_ELBOW, NULL } },
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
  { "round", { ENTRY_KIND, 0, DUCT_ROUND_DUCT, NULL } },
  { "round duct", { ENTRY_KIND, 0, DUCT_ROUND_DUCT, NULL } },
  { "spiral", { ENTRY_KIND, 0, DUCT_ROUND_DUCT, NULL } },
  { "spiral duct", { ENTRY_KIND, 0, DUCT_ROUND_DUCT, NULL } },
  { "gored", { ENTRY_KIND, 0, DUCT_GORED_ELBOW, NULL } },
  { "gored elbows", { ENTRY_KIND, 0, DUCT_GORED_ELBOW, NULL } },
  { "stamped", { ENTRY_KIND, 0, DUCT_STAMPED_ELBOW, NULL } },
  { "stamped elbows", { ENTRY_KIND, 0, DUCT_STAMPED_ELBOW, NULL } },
  { "red", { ENTRY_KIND, 0, DUCT_REDUCER, NULL } },
  { "reducers", { ENTRY_KIND, 0, DUCT_REDUCER, NULL } },
  { "saddle", { ENTRY_KIND, 0, DUCT_SADDLE_TAP, NULL } },
  { "saddles", { ENTRY_KIND, 0, DUCT_SADDLE_TAP, NULL } },
  { "saddle taps", { ENTRY_KIND, 0, DUCT_SADDLE_TAP, NULL } },
  { "spin", { ENTRY_KIND, 0, DUCT_SPIN_IN, NULL } },
  { "spin in", { ENTRY_KIND, 0, DUCT_SPIN_IN, NULL } },
  { "spin-ins", { ENTRY_KIND, 0, DUCT_SPIN_IN, NULL } },
  { "round caps", { ENTRY_KIND, 0, DUCT_ROUND_CAP, NULL } },
  { "flex", { ENTRY_KIND, 0, DUCT_FLEXIBLE_DUCT, NULL } },
  { "flex duct", { ENTRY_KIND, 0, DUCT_FLEXIBLE_DUCT, NULL } },
  { "fabric", { ENTRY_KIND, 0, DUCT_FABRIC_CONNECTOR, NULL } },
  { "fabric connectors", { ENTRY_KIND, 0, DUCT_FABRIC_CONNECTOR, NULL } },
  { "tees", { ENTRY_KIND, 0, DUCT_TEE, NULL } },
  { "wyes", { ENTRY_KIND, 0, DUCT_WYE, NULL } },
  { "boot", { ENTRY_KIND, 0, DUCT_BOOT_TAP, NULL } },
  { "boots", { ENTRY_KIND, 0, DUCT_BOOT_TAP, NULL } },
  { "boot taps", { ENTRY_KIND, 0, DUCT_BOOT_TAP, NULL } },
  { "plenum", { ENTRY_KIND, 0, DUCT_PLENUM_BOX, NULL } },
  { "plenums", { ENTRY_KIND, 0, DUCT_PLENUM_BOX, NULL } },
  { "plenum boxes", { ENTRY_KIND, 0, DUCT_PLENUM_BOX, NULL } },
  { "door", { ENTRY_KIND, 0, DUCT_ACCESS_DOOR, NULL } },
  { "doors", { ENTRY_KIND, 0, DUCT_ACCESS_DOOR, NULL } },
  { "dampers", { ENTRY_KIND, 0, DUCT_DAMPER, NULL } },
  { "vanes", { ENTRY_KIND, 0, DUCT_TURNING_VANES, NULL } },
  { "angled", { ENTRY_KIND, 0, DUCT_ANGLED_OFFSET, NULL } },
  { "angled offsets", { ENTRY_KIND, 0, DUCT_ANGLED_OFFSET, NULL } },
  { "sq to rd", { ENTRY_KIND, 0, DUCT_SQUARE_TO_ROUND, NULL } },
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
  { "branch", { ENTRY_DIM, RUN_BRANCH, 0, NULL } },
  { "to", { ENTRY_TO, 0, 0, NULL } },
  { "on", { ENTRY_TO, 0, 0, NULL } },
  { "dia", { ENTRY_ROUND, 0, 0, NULL } },
  { "diameter", { ENTRY_ROUND, 0, 0, NULL } },
  { "ga", { ENTRY_GAUGE, 0, 0, NULL } },
  { "gauge", { ENTRY_GAUGE, 0, 0, NULL } },
  { "class", { ENTRY_CLASS, 0, 0, NULL } },
  { "drawing", { ENTRY_DRAWING, 0, 0, NULL } },
  { "dwg", { ENTRY_DRAWING, 0, 0, NULL } },
  { "gores", { ENTRY_FIGURE_OF, RUN_GORES, 0, NULL } },
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

const char *
job_entry_behind_note (const char *p)
{
  const char *const keys[] = { "note", "remark", _ (duct_kind_info (DUCT_REMARK)->name) };
  const char *behind;

  if (*p == '#')
    return p + 1;
  if (g_ascii_strncasecmp (p, "note:", 5) == 0)
    return p + 5;
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if ((behind = match_text (p, keys[i])))
      return behind;
  return NULL;
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

/* Drawings that the job knows: its own list, and those that runs name. Not beside a system or area of the same name. */
static void
match_drawings (const EntryScan *s, const char *p, EntryWord *best, const char **end)
{
  EntryWord word = { ENTRY_DRAWING_NAME, RUN_DRAWING, 0, NULL };
  const char *last = NULL;

  for (guint i = 0; i < job_n (s->job, JOB_DRAWING); i++)
    {
      word.key = job_at (s->job, JOB_DRAWING, i)->text[DRAWING_KEY];
      consider (p, word.key, &word, best, end);
    }
  for (guint i = 0; i < job_n (s->job, JOB_RUN); i++)
    {
      word.key = job_at (s->job, JOB_RUN, i)->text[RUN_DRAWING];
      /* Equal texts are one text, and the runs of a drawing stand together. */
      if (word.key != last)
        consider (p, word.key, &word, best, end);
      last = word.key;
    }
}

EntryWord
job_entry_match_drawing (const EntryScan *s, const char *p, const char **end)
{
  EntryWord best = { ENTRY_NO_WORD, 0, 0, NULL };

  *end = p;
  match_drawings (s, p, &best, end);
  return best;
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
      if (!catalogue_is_retired (s->catalogue, CATALOGUE_ITEMS, item->key))
        consider (p, item->key, &word, best, end);
    }
}

/* The field that a word of the grammar has a value for. */
static gboolean
is_word_of (const EntryWord *word, JobAs as)
{
  switch ((int) as)
    {
    case JOB_AS_KIND:
      return word->type == ENTRY_KIND;
    case JOB_AS_END:
      return word->type == ENTRY_END;
    case JOB_AS_METAL:
      return word->type == ENTRY_SET && word->slot == RUN_METAL;
    case JOB_AS_EXPOSURE:
      return word->type == ENTRY_SET && word->slot == RUN_EXPOSURE;
    default:
      return FALSE;
    }
}

/* The one kind whose words begin with @text, in any case. */
static gboolean
clear_beginning (const char *text, gint64 *value)
{
  gsize n = strlen (text);
  int found = -1;

  for (int k = 0; k < DUCT_N_KINDS; k++)
    if (g_ascii_strncasecmp (duct_kind_info ((DuctKind) k)->key, text, n) == 0)
      {
        if (found >= 0)
          return FALSE;
        found = k;
      }
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (words[i].word.type == ENTRY_KIND && g_ascii_strncasecmp (words[i].text, text, n) == 0)
      {
        if (found >= 0 && words[i].word.value != found)
          return FALSE;
        found = (int) words[i].word.value;
      }
  *value = found;
  return found >= 0;
}

gboolean
job_word_read (JobAs as, const char *text, gint64 *value)
{
  g_autofree char *clean = NULL;
  const char *end;

  if (as != JOB_AS_KIND && as != JOB_AS_END && as != JOB_AS_METAL && as != JOB_AS_EXPOSURE)
    return FALSE;
  clean = g_strstrip (g_strdup (text));
  if (!*clean)
    return FALSE;
  if (as == JOB_AS_KIND && g_ascii_strcasecmp (clean, "remark") == 0)
    {
      *value = DUCT_REMARK;
      return TRUE;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (is_word_of (&words[i].word, as) && (end = match_text (clean, words[i].text)) && !*end)
      {
        *value = words[i].word.value;
        return TRUE;
      }
  return as == JOB_AS_KIND && clear_beginning (clean, value);
}

/* "straig", "mit": a kind that is clear by its beginning, unless it may be an item; one or two letters may be anything. */
static gboolean
begins_kind (const EntryScan *s, const char *p, gint64 *kind, const char **end)
{
  const char *behind = job_entry_word_end (p);
  g_autofree char *word = g_strndup (p, (gsize) (behind - p)), *near = NULL;

  if (g_utf8_strlen (word, -1) < 3 || !clear_beginning (word, kind) || *kind == DUCT_REMARK)
    return FALSE;
  near = job_entry_near_items (s, p);
  if (near)
    return FALSE;
  *end = behind;
  return TRUE;
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
      /* A note is a line of its own. */
      if (k != DUCT_REMARK)
        consider (p, _ (duct_kind_info ((DuctKind) k)->name), &word, &best, end);
    }
  match_names (s, p, -1, &best, end);
  for (guint i = 0; i < s->catalogue->methods->len; i++)
    {
      const CostMethod *method = g_ptr_array_index (s->catalogue->methods, i);
      EntryWord word = { ENTRY_METHOD, 0, 0, method->key };
      if (!catalogue_is_retired (s->catalogue, CATALOGUE_METHODS, method->key))
        consider (p, method->key, &word, &best, end);
    }
  match_items (s, p, &best, end);
  match_drawings (s, p, &best, end);
  if (best.type == ENTRY_NO_WORD && begins_kind (s, p, &best.value, end))
    best.type = ENTRY_KIND;
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
      if (strstr (key, low) && !catalogue_is_retired (s->catalogue, CATALOGUE_ITEMS, item->key))
        g_string_append_printf (out, "%s“%s”", n++ ? ", " : "", item->key);
    }
  return n ? g_strdup (out->str) : NULL;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/entry-private.h"

#include "base/decimal.h"
#include "base/measure.h"

#include <glib/gi18n-lib.h>
#include <string.h>

gboolean
job_entry_set_num (EntryScan *s, int slot, gint64 value, const char *at)
{
  if (s->at_num[slot] >= 0)
    {
      g_autofree char *word = job_entry_word_at (at);
      return job_entry_query (s, at, _ ("leave one of the two out"), _ ("with “%s” this is given twice"), word);
    }
  s->at_num[slot] = (int) (at - s->line);
  s->run->num[slot] = value;
  return TRUE;
}

gboolean
job_entry_set_text (EntryScan *s, int slot, const char *value, const char *at)
{
  if (s->at_text[slot] >= 0)
    {
      g_autofree char *word = job_entry_word_at (at);
      return job_entry_query (s, at, _ ("leave one of the two out"), _ ("with “%s” this is given twice"), word);
    }
  s->at_text[slot] = (int) (at - s->line);
  job_record_set_text (s->run, slot, value);
  return TRUE;
}

static LengthUnit
small_unit (const EntryScan *s)
{
  return s->metric ? LENGTH_MM : LENGTH_IN;
}

gboolean
job_entry_starts_figure (const char *p)
{
  return g_ascii_isdigit (*p) || (*p == '.' && g_ascii_isdigit (p[1]));
}

/* Behind "x", "X", "*" or "×"; NULL when none stands at @p. */
const char *
job_entry_behind_times (const char *p)
{
  if (*p == 'x' || *p == 'X' || *p == '*')
    return p + 1;
  return g_str_has_prefix (p, "×") ? p + strlen ("×") : NULL;
}

gboolean
job_entry_read_count (EntryScan *s, const char *at, const char *figure, const char *end)
{
  gint64 count;
  Fault *fault = NULL;

  g_autofree char *text = g_strndup (figure, (gsize) (end - figure));
  if (!decimal_parse (text, 3, &count, &fault))
    {
      fault_free (fault);
      return job_entry_query (s, at, _ ("write how many behind an x, like x3"), _ ("“%s” is no count"), text);
    }
  if (count <= 0 || count > G_GINT64_CONSTANT (1000000000))
    return job_entry_query (s, at, _ ("write a count from 1 to 1,000,000, like x3"), _ ("the count is out of bounds"));
  s->p = end;
  return job_entry_set_num (s, RUN_COUNT, count, at);
}

/* The words that may follow a pressure. */
static const char *
behind_pressure_unit (const char *p)
{
  static const char *const units[] = { "in", "in.", "inch", "\"", "w.g.", "wg", "w.c.", "wc", "pa", "kpa" };

  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    if (g_ascii_strncasecmp (p, units[i], strlen (units[i])) == 0 && job_entry_is_end (p + strlen (units[i])))
      return p + strlen (units[i]);
  return NULL;
}

gboolean
job_entry_read_class (EntryScan *s, const char *at, const char *from)
{
  const char *start = job_entry_blanks (from), *end = job_entry_word_end (start), *next;
  Fault *fault = NULL;
  gint64 pressure;

  if (start == end)
    return job_entry_query (s, at, s->metric ? _ ("write it behind the @, like @500 or @-125") : _ ("write it behind the @, like @2 or @-1/2"),
                            _ ("the pressure class is missing"));
  if (job_entry_starts_figure (next = job_entry_blanks (end)) && next[strspn (next, "0123456789")] == '/')
    return job_entry_query (s, next, _ ("write a mixed figure with a hyphen, like @1-1/2, or as a decimal, like @1.5"),
                            _ ("this may or may not belong to the class"));
  while ((next = behind_pressure_unit (job_entry_blanks (end))) != NULL)
    end = next;
  g_autofree char *text = g_strndup (start, (gsize) (end - start));
  if (!pressure_parse_bare (text, s->metric, &pressure, &fault))
    return job_entry_query_fault (s, start, fault);
  s->p = end;
  return job_entry_set_num (s, RUN_CLASS, pressure, at);
}

static gboolean
is_gauge (const EntryScan *s, const char *start, const char *end)
{
  g_autofree char *label = g_strndup (start, (gsize) (end - start));

  for (guint i = 0; i < s->catalogue->rules->sheets->len; i++)
    if (strcmp (((const DuctSheet *) g_ptr_array_index (s->catalogue->rules->sheets, i))->label, label) == 0)
      return TRUE;
  return FALSE;
}

gboolean
job_entry_read_gauge (EntryScan *s, const char *at, const char *start, const char *end)
{
  g_autofree char *label = g_strndup (start, (gsize) (end - start));
  const GPtrArray *sheets = s->catalogue->rules->sheets;
  g_autoptr (GString) known = g_string_new (NULL);

  if (is_gauge (s, start, end))
    return job_entry_set_text (s, RUN_GAUGE, label, at);
  for (guint i = 0; i < sheets->len; i++)
    {
      const DuctSheet *sheet = g_ptr_array_index (sheets, i);
      if (sheet->metal == DUCT_GALVANISED)
        g_string_append_printf (known, "%s%s", known->len ? ", " : "", sheet->label);
    }
  g_autofree char *remedy = g_strdup_printf (_ ("write one of the sheet table; galvanised: %s"), known->str);
  if (start == end)
    return job_entry_query (s, at, remedy, _ ("the gauge is missing"));
  return job_entry_query (s, start, remedy, _ ("there is no gauge “%s”"), label);
}

static gboolean
has_second_size (const EntryScan *s)
{
  gint64 kind = s->run->num[RUN_KIND];

  return kind != JOB_UNSET && duct_kind_info ((DuctKind) kind)->second != DUCT_NO_SIZE;
}

/* A size from s->p, whose "x" ends at @times. */
static gboolean
read_size (EntryScan *s, const char *times)
{
  int slot = s->second_size || s->at_num[RUN_W] >= 0 ? RUN_W2 : RUN_W;
  const char *end, *from = s->p;
  gint64 w, h;
  Fault *fault = NULL;

  if (!length_parse_prefix (times, small_unit (s), &h, &end, &fault))
    return job_entry_query_fault (s, times, fault);
  if (job_entry_behind_times (end) && end[-1] != ' ')
    return job_entry_query (s, end, _ ("write a count behind a blank, like 24x12 x3"), _ ("a size has two sides"));
  if (slot == RUN_W2 && !s->second_size && !has_second_size (s))
    return job_entry_query (s, from, _ ("leave one out; a transition is written like trans 24x12 > 18x10"),
                            _ ("this is a second size"));
  g_autofree char *text = g_strndup (from, (gsize) (end - from));
  if (!duct_size_parse (text, small_unit (s), &w, &h, &fault))
    return job_entry_query_fault (s, from, fault);
  s->p = end;
  s->second_size = FALSE;
  if (!job_entry_set_num (s, slot, w, from))
    return FALSE;
  s->run->num[slot + 1] = h;
  s->at_num[slot + 1] = s->at_num[slot];
  return TRUE;
}

const char *
job_entry_behind_dia (const char *p)
{
  static const char *const signs[] = { "ø", "Ø", "⌀" }, *const words[] = { "diameter", "dia.", "dia" };

  p = job_entry_blanks (p);
  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    if (g_str_has_prefix (p, signs[i]))
      return p + strlen (signs[i]);
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_ascii_strncasecmp (p, words[i], strlen (words[i])) == 0 && job_entry_is_end (p + strlen (words[i])))
      return p + strlen (words[i]);
  return NULL;
}

/* A diameter is a size with a height of 0; the second one of a line is the second size. */
static gboolean
set_diameter (EntryScan *s, gint64 nm, const char *at)
{
  int slot = s->second_size || s->at_num[RUN_W] >= 0 ? RUN_W2 : RUN_W;

  s->second_size = FALSE;
  if (!job_entry_set_num (s, slot, nm, at))
    return FALSE;
  s->run->num[slot + 1] = 0;
  s->at_num[slot + 1] = s->at_num[slot];
  return TRUE;
}

gboolean
job_entry_read_diameter (EntryScan *s, const char *at)
{
  const char *end;
  Fault *fault = NULL;
  gint64 nm;

  s->p = job_entry_blanks (s->p);
  if (!job_entry_starts_figure (s->p))
    return job_entry_query (s, at, _ ("write it like 12 dia"), _ ("the diameter is missing"));
  if (!length_parse_prefix (s->p, small_unit (s), &nm, &end, &fault))
    return job_entry_query_fault (s, s->p, fault);
  s->p = end;
  return set_diameter (s, nm, at);
}

/* What an "x" behind a figure that ends at @raw_end means; *times is set behind it when it makes a size. FALSE: asked
 * back. */
static gboolean
weigh_times (EntryScan *s, const char *raw_end, const char *end, const char **times)
{
  const char *behind = job_entry_behind_times (end), *next;
  gboolean wants_size = s->at_num[RUN_W] < 0 || s->second_size;

  *times = NULL;
  if (!behind && g_ascii_strncasecmp (end, "by", 2) == 0 && job_entry_starts_figure (job_entry_blanks (end + 2)))
    behind = end + 2;
  if (!behind)
    return TRUE;
  next = job_entry_blanks (behind);
  if (!job_entry_starts_figure (next))
    return job_entry_query (s, end, _ ("write both sides of a size, like 24x12, or a count, like x3"),
                            _ ("nothing follows the x"));
  if (raw_end == end)
    *times = behind;
  else if (next != behind && wants_size)
    *times = behind;
  else if (wants_size && s->run->num[RUN_KIND] != DUCT_COUNTED)
    return job_entry_query (s, end,
                            _ ("write a size without blanks, like 24x12, and a count behind the size or in front: 3 "
                               "elbow 90"),
                            _ ("this may be the second side or a count"));
  else if (next != behind)
    return job_entry_query (s, end, _ ("write a count without a blank, like x3"),
                            _ ("this may be a count or a second size"));
  return TRUE;
}

static EntryMark
mark_of (const char *text)
{
  gint64 as_in, as_mm;

  if (!length_parse (text, LENGTH_IN, &as_in, NULL) || !length_parse (text, LENGTH_MM, &as_mm, NULL) || as_in != as_mm)
    return ENTRY_BARE;
  return as_in == 0 && g_ascii_isdigit (text[strlen (text) - 1]) ? ENTRY_BARE : ENTRY_LENGTH;
}

static const char *
behind_degrees (const char *p)
{
  static const char *const words[] = { "degrees", "degree", "deg" };

  if (g_str_has_prefix (p, "°"))
    return p + strlen ("°");
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_ascii_strncasecmp (p, words[i], strlen (words[i])) == 0 && job_entry_is_end (p + strlen (words[i])))
      return p + strlen (words[i]);
  return NULL;
}

/* A bare number before the kind or an item is a count: "3 elbow", "5 access door 12 in". */
static gboolean
is_leading_count (const EntryScan *s, EntryMark mark, const char *end)
{
  const char *behind;
  EntryWordType next;

  if (mark != ENTRY_BARE || s->at_num[RUN_COUNT] >= 0 || s->at_num[RUN_W] >= 0 || s->figures->len > 0
      || s->at_text[RUN_ITEM] >= 0)
    return FALSE;
  if (s->at_num[RUN_KIND] >= 0)
    return s->run->num[RUN_KIND] == DUCT_COUNTED;
  next = job_entry_match (s, end, TRUE, &behind).type;
  return next == ENTRY_KIND || next == ENTRY_ITEM;
}

/* A figure at s->p; @slot: the dimension that a word before it named, or -1. */
gboolean
job_entry_read_figure (EntryScan *s, const char *at, int slot)
{
  const char *from = s->p, *end, *raw_end, *times, *behind;
  EntryFigure figure = { .part = (int) (at - s->line), .at = (int) (from - s->line), .slot = slot };
  Fault *fault = NULL;
  gint64 nm;

  if (!length_parse_prefix (from, small_unit (s), &nm, &end, &fault))
    return job_entry_query_fault (s, from, fault);
  for (raw_end = end; raw_end > from && g_unichar_isspace (g_utf8_get_char (g_utf8_prev_char (raw_end)));)
    raw_end = g_utf8_prev_char (raw_end);
  if (slot < 0 && (behind = job_entry_behind_dia (end)) != NULL)
    {
      s->p = behind;
      return set_diameter (s, nm, from);
    }
  if (slot < 0)
    {
      if (!weigh_times (s, raw_end, end, &times))
        return FALSE;
      if (times)
        return read_size (s, times);
    }
  g_autofree char *text = g_strndup (from, (gsize) (raw_end - from));
  figure.mark = mark_of (text);
  figure.end = (int) (raw_end - s->line);
  if (figure.mark == ENTRY_BARE && (behind = behind_degrees (end)) != NULL)
    {
      figure.mark = ENTRY_ANGLE;
      end = behind;
    }
  else if (figure.mark == ENTRY_BARE && job_entry_match (s, end, FALSE, &behind).type == ENTRY_GAUGE)
    {
      const char *next = job_entry_blanks (behind);
      gboolean before = is_gauge (s, from, raw_end), after = is_gauge (s, next, job_entry_word_end (next));
      if (before && after)
        return job_entry_query (s, from, _ ("write the length with its unit, like 20ft, or the gauge last"),
                                _ ("this may be the gauge, or a length before it"));
      if (before || !job_entry_starts_figure (next))
        {
          s->p = behind;
          return job_entry_read_gauge (s, from, from, raw_end);
        }
    }
  if (figure.mark == ENTRY_BARE && slot < 0 && is_leading_count (s, figure.mark, end))
    return job_entry_read_count (s, from, from, raw_end);
  if (!job_entry_is_end (end) && end == raw_end && figure.mark != ENTRY_ANGLE)
    {
      g_autofree char *word = job_entry_word_at (from);
      return job_entry_query (s, from,
                              _ ("write a figure and its unit, like 46 ft, 30in or 90 deg, and a blank behind it"),
                              _ ("“%s” is not understood"), word);
    }
  g_array_append_val (s->figures, figure);
  s->p = end;
  return TRUE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/entry-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* One run as one line. Words in any case; parts in any order, blanks (or a comma and a blank) between them.
 *
 *   line     = { part } [ "note:" text ] | ( "#" | "note" | "note:" ) text        # second floor
 *   part     = kind | size | second | count | figure | class | gauge | end | dimension | word | item | place
 *   kind     = "straight" | "str" | [ "radius" ] ( "elbow" | "ell" | "el" ) | ( "mitred" | "mitre" ) [ "elbow" ]
 *            | "transition" | "trans" | "tr" | "offset" | "off" | "tap" | [ "end" ] "cap" | "count" | "counted"
 *              (also in the plural, and as the program's language has them; without a kind, a size and a length are a
 *              straight)
 *            | "round" | "spiral" | "gored" | "stamped" | "reducer" | "saddle" | "spin-in" | "flex" | "tee" | "boot"
 *            | "plenum" | "door" | "damper" and the full names of all kinds; a round size makes a straight, a cap or a
 *              transition the round kind of it
 *   size     = length "x" length                            24x12   24 x 12   600x300 mm   2'-6" x 12"
 *            | length ( "dia" | "ø" ) | ( "dia" | "ø" ) length     12 dia   300 mm dia   ø12
 *   second   = [ ">" | "to" | "on" ] size                   the other end; a branch, or the main of a saddle
 *   count    = "x" number                                   x3; also a bare number before the kind or an item: 3 elbow
 *   figure   = length | angle                               what it is follows from the kind:
 *                straight: its length, bare numbers in feet (metres in a metric job)
 *                elbows: the angle, bare numbers in degrees
 *                transition, tap, fittings of round duct, counted: its length, with a unit
 *                round and flexible duct: its length, like a straight
 *                offset: its length, then how far it moves aside, both with a unit
 *   angle    = number ( "deg" | "°" )
 *   class    = ( "@" | "class" ) [ sign ] number [ unit ]   @2   @-1/2   @500 Pa
 *   gauge    = ( "ga" | "gauge" ) name | number "ga"        ga 22
 *   end      = ( "first" | "last" ) [ "end" ] ( "joint" | "equipment" | "flexible" [ "connector" ] | "sleeve" | "open"
 *            | "raw" )
 *   dimension= ( "r" | "throat" | "legs" | "aside" | "shift" | "long" | "length" | "branch" ) length        r14
 *   word     = "outdoors" | "indoors" | "on edge" | a metal | the key of a method | ( "fit" | "gores" ) number | "drawing" text
 *            | "price" number | "shop" minutes | "field" minutes
 *   item     = the key of an item of the catalogue: makes a counted line. Right behind "count N" it goes before other
 *              words
 *   place    = [ "system" ] name | [ "area" ] name | [ "dwg" ] name of a drawing that the job knows
 *
 * A line that starts with "#" or "note" is a note line: its text is taken as it stands.
 *
 * A blank before and none behind, as in "24 x12", may be a side or a count: that is asked, as is all else that could mean
 * two things. System, area and drawing that are not given are those of the row above, and so is the size. */

gboolean
job_entry_query (EntryScan *s, const char *at, const char *remedy, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_autofree char *what = g_strdup_vprintf (format, args);
  va_end (args);
  if (!s->query)
    s->query = fault_new ((int) (at - s->line), remedy, "%s", what);
  return FALSE;
}

gboolean
job_entry_query_fault (EntryScan *s, const char *from, Fault *fault)
{
  const char *at = from + MAX (fault->at, 0);

  job_entry_query (s, at, fault->remedy, "%s", fault->what);
  fault_free (fault);
  return FALSE;
}

/* The figure that must follow a word such as "r" or "legs". */
static gboolean
read_dimension (EntryScan *s, const char *at, int slot)
{
  s->p = job_entry_blanks (s->p);
  /* A transition may be shifted to either side. */
  if (slot == RUN_SHIFT && (*s->p == '-' || *s->p == '+') ? job_entry_starts_figure (s->p + 1)
                                                          : job_entry_starts_figure (s->p))
    return job_entry_read_figure (s, at, slot);
  g_autofree char *word = job_entry_word_at (at);
  return job_entry_query (s, at, _ ("write the figure behind it, like r14 or legs 6"),
                          _ ("“%s” stands without its figure"), word);
}

static gboolean
read_field_figure (EntryScan *s, const char *at, int slot)
{
  static const struct
  {
    int slot;
    const char *key;
  } keys[] = { { RUN_FIT, "fit_pieces" },
               { RUN_PRICE, "price" },
               { RUN_GORES, "gores" },
               { RUN_SHOP_MINUTES, "shop_minutes" },
               { RUN_FIELD_MINUTES, "field_minutes" } };
  const char *start = job_entry_blanks (s->p), *end = job_entry_word_end (start), *minutes;
  g_autoptr (JobRecord) scratch = job_record_new (JOB_RUN, 0, 0);
  Fault *fault = NULL;
  int field = -1;

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (keys[i].slot == slot)
      field = job_field_find (JOB_RUN, keys[i].key);
  g_autofree char *text = g_strndup (start, (gsize) (end - start));
  if (start == end || !job_record_read (scratch, field, text, job_names (s->job), &fault))
    {
      g_autofree char *word = job_entry_word_at (at);
      g_clear_pointer (&fault, fault_free);
      return job_entry_query (s, start == end ? at : start,
                              _ ("write a plain number behind it, like price 950 or field 60"),
                              _ ("the figure of “%s” is not understood"), word);
    }
  minutes = job_entry_blanks (end);
  if ((slot == RUN_SHOP_MINUTES || slot == RUN_FIELD_MINUTES) && g_ascii_strncasecmp (minutes, "min", 3) == 0
      && job_entry_is_end (minutes + 3))
    end = minutes + 3;
  s->p = end;
  return job_entry_set_num (s, slot, scratch->num[slot], at);
}

static gboolean
read_end (EntryScan *s, const char *at, int slot)
{
  const char *start = job_entry_blanks (s->p), *end;
  EntryWord word = job_entry_match (s, start, FALSE, &end);

  if (word.type != ENTRY_END)
    return job_entry_query (s, *start ? start : at,
                            _ ("write joint, equipment, flexible connector, sleeve, open or raw, like first equipment"),
                            _ ("what this end joins is missing"));
  s->p = end;
  return job_entry_set_num (s, slot, word.value, at);
}

static gboolean
read_named (EntryScan *s, const char *at, int slot)
{
  const char *start = job_entry_blanks (s->p), *end;
  EntryWord word = job_entry_match_name (s, start, slot, &end);
  g_autofree char *name = job_entry_word_at (start);

  if (word.type == ENTRY_NO_WORD)
    return job_entry_query (s, *start ? start : at, _ ("write the name of one that the job has, or add it first"),
                            slot == RUN_SYSTEM ? _ ("there is no system “%s”") : _ ("there is no area “%s”"), name);
  s->p = end;
  return job_entry_set_num (s, slot, word.value, at);
}

static gboolean
read_drawing (EntryScan *s, const char *at)
{
  const char *start = job_entry_blanks (s->p), *end = job_entry_word_end (start), *known;

  if (start == end)
    return job_entry_query (s, at, _ ("write its number, like drawing M-201"), _ ("the drawing is missing"));
  /* A name of several words is one that is there. */
  job_entry_match_drawing (s, start, &known);
  end = MAX (end, known);
  g_autofree char *text = g_strndup (start, (gsize) (end - start));
  s->p = end;
  return job_entry_set_text (s, RUN_DRAWING, text, at);
}

static gboolean
read_second (EntryScan *s, const char *at)
{
  s->p = job_entry_blanks (s->p);
  if (!job_entry_starts_figure (s->p))
    return job_entry_query (s, at, _ ("write a transition like trans 24x12 > 18x10"), _ ("the second size is missing"));
  s->second_size = TRUE;
  if (!job_entry_read_figure (s, at, -1))
    return FALSE;
  if (s->second_size) /* it was a figure and no size */
    return job_entry_query (s, at, _ ("write a transition like trans 24x12 > 18x10"), _ ("the second size is missing"));
  return TRUE;
}

static gboolean
read_item (EntryScan *s, const char *at, const char *key)
{
  if (s->at_num[RUN_KIND] >= 0 && s->run->num[RUN_KIND] != DUCT_COUNTED)
    return job_entry_query (s, at,
                            _ ("enter it as a line of its own, like 5 access door 12 in, or write text behind note:"),
                            _ ("“%s” is an item and no part of this kind"), key);
  if (s->at_num[RUN_KIND] < 0 && !job_entry_set_num (s, RUN_KIND, DUCT_COUNTED, at))
    return FALSE;
  return job_entry_set_text (s, RUN_ITEM, key, at);
}

static gboolean
not_understood (EntryScan *s, const char *at)
{
  g_autofree char *word = job_entry_word_at (at), *near = job_entry_near_items (s, at), *remedy = NULL;

  if (near)
    remedy = g_strdup_printf (_ ("items that hold it: %s; write one in full, or write text behind note:"), near);
  return job_entry_query (
      s, at,
      near ? remedy
           : _ ("write a kind (elbow, mitre, trans, offset, tap, cap), a size like 24x12, a figure, or "
                "text behind note:"),
      _ ("“%s” is not understood"), word);
}

/* "r14", "ga22": a word and its figure in one. */
static gboolean
is_glued (const char *p, const char *word)
{
  gsize n = strlen (word);

  return g_ascii_strncasecmp (p, word, n) == 0 && job_entry_starts_figure (p + n);
}

static gboolean
read_word (EntryScan *s)
{
  const char *at = s->p, *end, *start;
  gboolean item_first = s->at_num[RUN_KIND] >= 0 && s->run->num[RUN_KIND] == DUCT_COUNTED && s->at_num[RUN_COUNT] >= 0
                        && s->at_text[RUN_ITEM] < 0;
  EntryWord word = job_entry_match (s, at, item_first, &end);

  if (word.type == ENTRY_NO_WORD && is_glued (at, "r"))
    word = (EntryWord) { ENTRY_DIM, RUN_THROAT, 0, NULL }, end = at + 1;
  else if (word.type == ENTRY_NO_WORD && is_glued (at, "ga"))
    word = (EntryWord) { ENTRY_GAUGE, 0, 0, NULL }, end = at + 2;
  /* "flexible connector" is how an end is made and also an item. */
  if (word.type == ENTRY_END && (s->at_num[RUN_KIND] < 0 || s->run->num[RUN_KIND] == DUCT_COUNTED))
    word = job_entry_match (s, at, TRUE, &end);
  s->p = end;
  switch (word.type)
    {
    case ENTRY_KIND:
      return job_entry_set_num (s, RUN_KIND, word.value, at);
    case ENTRY_SET:
      return job_entry_set_num (s, word.slot, word.value, at);
    case ENTRY_END:
      return job_entry_query (s, at, _ ("say which end, like first equipment or last open"),
                              _ ("this is how an end is made"));
    case ENTRY_END_OF:
      return read_end (s, at, word.slot);
    case ENTRY_DIM:
      return read_dimension (s, at, word.slot);
    case ENTRY_TO:
      return read_second (s, at);
    case ENTRY_ROUND:
      return job_entry_read_diameter (s, at);
    case ENTRY_GAUGE:
      start = job_entry_blanks (end);
      s->p = job_entry_word_end (start);
      return job_entry_read_gauge (s, at, start, s->p);
    case ENTRY_CLASS:
      return job_entry_read_class (s, at, end);
    case ENTRY_DRAWING:
      return read_drawing (s, at);
    case ENTRY_DRAWING_NAME:
      return job_entry_set_text (s, RUN_DRAWING, word.key, at);
    case ENTRY_FIGURE_OF:
      return read_field_figure (s, at, word.slot);
    case ENTRY_NAMED:
      return read_named (s, at, word.slot);
    case ENTRY_METHOD:
      return job_entry_set_text (s, RUN_METHOD, word.key, at);
    case ENTRY_ITEM:
      return read_item (s, at, word.key);
    case ENTRY_NO_WORD:
    default:
      return not_understood (s, at);
    }
}

/* One part at s->p, which is no blank and not the end. */
static gboolean
read_part (EntryScan *s)
{
  static const char *const arrows[] = { "->", ">", "→" };
  const char *at = s->p, *times = job_entry_behind_times (at), *behind;

  for (gsize i = 0; i < G_N_ELEMENTS (arrows); i++)
    if (g_str_has_prefix (at, arrows[i]))
      {
        s->p = at + strlen (arrows[i]);
        return read_second (s, at);
      }
  if (g_ascii_strncasecmp (at, "note:", 5) == 0)
    {
      g_autofree char *note = g_strstrip (g_strdup (at + 5));
      s->p = at + strlen (at);
      return job_entry_set_text (s, RUN_NOTE, note, at);
    }
  if ((behind = job_entry_behind_dia (at)) && job_entry_starts_figure (job_entry_blanks (behind)))
    {
      s->p = behind;
      return job_entry_read_diameter (s, at);
    }
  if (*at == '@')
    return job_entry_read_class (s, at, at + 1);
  if (times && job_entry_starts_figure (job_entry_blanks (times)))
    {
      const char *figure = job_entry_blanks (times);
      return job_entry_read_count (s, at, figure, job_entry_word_end (figure));
    }
  if (job_entry_starts_figure (at))
    return job_entry_read_figure (s, at, -1);
  if ((*at == '-' || *at == '+') && job_entry_starts_figure (at + 1))
    return job_entry_query (s, at, _ ("write a pressure class behind @, like @-2"),
                            _ ("a figure with a sign has no place here"));
  return read_word (s);
}

/* A line of words; system, area and drawing are those of the row above. */
static gboolean
read_note_line (EntryScan *s, const char *behind, const JobRecord *above)
{
  g_autofree char *words = g_strstrip (g_strdup (behind));

  if (!*words)
    return job_entry_query (s, s->p, _ ("write them behind it, like # second floor"), _ ("the words of the note are missing"));
  s->run->num[RUN_KIND] = DUCT_REMARK;
  job_record_set_text (s->run, RUN_NOTE, words);
  job_entry_take_place (s, above);
  return TRUE;
}

void
job_entry_read (TallyJob *job, const char *line, const JobRecord *above, JobEntry *entry)
{
  EntryScan s = {
    .job = job, .catalogue = job_basis (job)->catalogue, .metric = job_names (job)->metric, .line = line, .p = line
  };
  gboolean understood = TRUE;
  const char *bad, *note;

  *entry = (JobEntry) { 0 };
  if (!g_utf8_validate (line, -1, &bad))
    {
      entry->query = fault_new ((int) (bad - line), _ ("type the line again"), _ ("this is not UTF-8 text"));
      return;
    }
  s.run = job_record_new (JOB_RUN, 0, 0);
  s.figures = g_array_new (FALSE, FALSE, sizeof (EntryFigure));
  memset (s.at_num, -1, sizeof s.at_num);
  memset (s.at_text, -1, sizeof s.at_text);
  s.p = job_entry_blanks (s.p);
  note = job_entry_behind_note (s.p);
  for (; !note && understood && *s.p; s.p = job_entry_blanks (s.p))
    understood = read_part (&s);
  if (understood && (note ? read_note_line (&s, note, above) : job_entry_fill (&s, above)))
    {
      entry->reading = job_entry_reading (&s);
      entry->run = s.run;
    }
  else
    {
      entry->query = s.query;
      job_record_unref (s.run);
    }
  g_array_unref (s.figures);
}

void
job_entry_clear (JobEntry *entry)
{
  g_clear_pointer (&entry->run, job_record_unref);
  g_clear_pointer (&entry->reading, g_free);
  g_clear_pointer (&entry->query, fault_free);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* The parts of the one-line entry: entry.c goes through the line, entry-figure.c reads what holds figures,
 * entry-words.c knows the words, entry-fill.c gives the figures their places by the kind, entry-reading.c says what was
 * understood. */

#include "job/entry.h"

G_BEGIN_DECLS

typedef enum
{
  ENTRY_BARE,   /* "46" */
  ENTRY_LENGTH, /* "46 ft": a unit says what it is */
  ENTRY_ANGLE,  /* "90 deg" */
} EntryMark;

/* A figure whose meaning depends on the kind. Byte offsets into the line. */
typedef struct
{
  int part;    /* where the part starts: the word before the figure, if any */
  int at, end; /* the figure with its unit */
  EntryMark mark;
  int slot; /* RUN_*, when a word before it says which dimension it is, else -1 */
} EntryFigure;

/* What a word of the line is. */
typedef enum
{
  ENTRY_NO_WORD,
  ENTRY_KIND,      /* value: DuctKind */
  ENTRY_SET,       /* num[slot] = value */
  ENTRY_END,       /* an end's kind without "first" or "last"; value: DuctEnd */
  ENTRY_END_OF,    /* "first", "last"; slot */
  ENTRY_DIM,       /* the next figure is slot */
  ENTRY_TO,        /* the second size follows */
  ENTRY_ROUND,     /* the next figure is a diameter */
  ENTRY_GAUGE,
  ENTRY_CLASS,
  ENTRY_DRAWING,   /* the next word is one */
  ENTRY_DRAWING_NAME, /* key */
  ENTRY_FIGURE_OF, /* the next word is read as the field of slot: price, minutes, pieces to fit */
  ENTRY_NAMED,     /* "system", "area": the next word is a name; slot */
  ENTRY_METHOD,    /* key */
  ENTRY_ITEM,      /* key */
} EntryWordType;

typedef struct
{
  EntryWordType type;
  int slot;
  gint64 value;
  const char *key; /* borrowed */
} EntryWord;

typedef struct
{
  TallyJob *job;
  const Catalogue *catalogue;
  gboolean metric;
  const char *line; /* valid UTF-8 */
  const char *p;
  JobRecord *run;
  GArray *figures;            /* EntryFigure */
  int at_num[RUN_N_NUM];      /* where a value was given, -1 */
  int at_text[RUN_N_TEXT];
  gboolean second_size;       /* ">" stands before p */
  gboolean size_from_above;
  Fault *query;
} EntryScan;

/* Asks back at @at; always FALSE. */
gboolean job_entry_query (EntryScan *s, const char *at, const char *remedy, const char *format, ...)
  G_GNUC_PRINTF (4, 5);
/* The same with the fault of a reader of @from, whose places are counted from there. Takes the fault. */
gboolean job_entry_query_fault (EntryScan *s, const char *from, Fault *fault);
/* The word at @at as the line has it, cut when it is long. */
char *job_entry_word_at (const char *at);

/* Behind blanks of any kind, and commas that end a word. */
const char *job_entry_blanks (const char *p);
gboolean job_entry_is_end (const char *p);
const char *job_entry_word_end (const char *p);
/* The longest word or name that starts at @p; *end is set behind it. At equal length the words of the grammar win.
 * @item_first: an item of the catalogue wins whatever its length. */
EntryWord job_entry_match (const EntryScan *s, const char *p, gboolean item_first, const char **end);
/* The name of a system or area alone; @slot: RUN_SYSTEM or RUN_AREA. */
EntryWord job_entry_match_name (const EntryScan *s, const char *p, int slot, const char **end);
/* A drawing that the job knows; key. */
EntryWord job_entry_match_drawing (const EntryScan *s, const char *p, const char **end);
/* Behind what makes a line a note when it stands at the start; NULL when there is no such mark. */
const char *job_entry_behind_note (const char *p);
/* Some items that hold the word at @p, for a remedy; NULL when none does. */
char *job_entry_near_items (const EntryScan *s, const char *p);

/* All of these: FALSE when it was asked back. @at: where the part starts, for what is asked. */
gboolean job_entry_set_num (EntryScan *s, int slot, gint64 value, const char *at);
gboolean job_entry_set_text (EntryScan *s, int slot, const char *value, const char *at);
gboolean job_entry_starts_figure (const char *p);
/* Behind "x", "X", "*" or "×"; NULL when none stands at @p. */
const char *job_entry_behind_times (const char *p);
/* Behind the word for a diameter ("dia", "diameter", "ø") at @p, blanks before it passed over; NULL when there is none. */
const char *job_entry_behind_dia (const char *p);
/* A diameter at s->p, behind the word for it. */
gboolean job_entry_read_diameter (EntryScan *s, const char *at);
/* A count from @figure to @end. */
gboolean job_entry_read_count (EntryScan *s, const char *at, const char *figure, const char *end);
/* A pressure class at @from, behind its mark. */
gboolean job_entry_read_class (EntryScan *s, const char *at, const char *from);
/* A gauge from @start to @end; s->p is behind it already. */
gboolean job_entry_read_gauge (EntryScan *s, const char *at, const char *start, const char *end);
/* A figure or a size at s->p; @slot: the dimension that a word before it named, or -1. */
gboolean job_entry_read_figure (EntryScan *s, const char *at, int slot);
/* System, area and drawing of the row above, where the line names none. */
void job_entry_take_place (EntryScan *s, const JobRecord *above);
gboolean job_entry_fill (EntryScan *s, const JobRecord *above);
char *job_entry_reading (const EntryScan *s);

G_END_DECLS

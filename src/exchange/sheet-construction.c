/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include "job/construction.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* What the construction rests on: look-ups without an answer first, then the rows by table, then cautions. */

enum
{
  COL_WORDS,
  COL_STATUS,
  COL_RUNS,
  COL_NET,
  COL_SOURCE,
  N_COLS
};

#define PAGE BOOK_CONSTRUCTION

static guint32
heading (Book *book, guint32 row, const char *words)
{
  book_text (book, PAGE, row + 1, COL_WORDS, AS_BOLD, words);
  return row + 2;
}

static guint32
write_unanswered (Book *book, guint32 row, const JobConstruction *c)
{
  const char *heads[] = { _ ("Run"), _ ("Row on Runs"), "", "", _ ("No answer, and what to do"), NULL };

  if (c->unanswered->len == 0)
    return row;
  row = heading (book, row, _ ("Not built: no table answered"));
  book_heads (book, PAGE, row++, heads);
  for (guint i = 0; i < c->unanswered->len; i++)
    {
      const JobUnanswered *u = g_ptr_array_index (c->unanswered, i);
      g_autofree char *run = job_construction_run (book->job, u->run);
      book_text (book, PAGE, row, COL_WORDS, AS_WRAP, run);
      book_number (book, PAGE, row, COL_STATUS, AS_WHOLE, job_position (book->job, u->run) + 1);
      book_textf (book, PAGE, row++, COL_SOURCE, AS_WRAP, *u->remedy ? "%s; %s" : "%s%s", u->what, u->remedy);
    }
  return row;
}

/* The name of a catalogue table as a heading: "joint_ratings" is "joint ratings". */
static char *
table_words (const char *key)
{
  return g_strdelimit (g_strdup (key), "_", ' ');
}

static guint32
write_rests (Book *book, guint32 row, const JobConstruction *c)
{
  g_autofree char *net = g_strdup_printf (">%s, %s", _ ("Net"), book_mass_unit (book));
  g_autofree char *runs = g_strconcat (">", _ ("Runs"), NULL);
  const char *heads[] = { _ ("Row"), _ ("Status"), runs, net, _ ("Source"), NULL };
  const char *table = NULL;

  if (c->rests->len == 0)
    return row;
  row = heading (book, row, _ ("What the construction rests on, table by table"));
  book_heads (book, PAGE, row++, heads);
  for (guint i = 0; i < c->rests->len; i++)
    {
      const JobRest *rest = g_ptr_array_index (c->rests, i);
      if (g_strcmp0 (table, rest->table) != 0)
        {
          g_autofree char *words = table_words (rest->table);
          book_text (book, PAGE, row++, COL_WORDS, AS_BOLD, words);
        }
      table = rest->table;
      book_text (book, PAGE, row, COL_WORDS, AS_WRAP, rest->words);
      book_text (book, PAGE, row, COL_STATUS, AS_TEXT, book_status_name (rest->status));
      book_number (book, PAGE, row, COL_RUNS, AS_WHOLE, rest->runs);
      book_number (book, PAGE, row, COL_NET, AS_WEIGHT, book_mass (book, rest->net_mg));
      book_text (book, PAGE, row++, COL_SOURCE, AS_WRAP, rest->source);
    }
  book_paragraph (book, PAGE, row++, N_COLS - 1, AS_NOTE,
                  _ ("Weight of the runs that rest on a row, areas' times left out; a run rests on rows of several tables, so the weights "
                     "of different tables do not add up."));
  return row;
}

static guint32
write_cautions (Book *book, guint32 row, const JobConstruction *c)
{
  row = heading (book, row, _ ("Cautions"));
  for (guint i = 0; i < c->cautions->len; i++)
    {
      const JobCaution *caution = &g_array_index (c->cautions, JobCaution, i);
      g_autofree char *words = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u run: %s", "%u runs: %s", caution->runs), caution->runs,
                                                duct_note_words (caution->note));
      book_paragraph (book, PAGE, row++, N_COLS - 1, AS_WRAP, words);
    }
  book_paragraph (book, PAGE, row++, N_COLS - 1, AS_WARNING, job_construction_caution ());
  return row;
}

void
book_write_construction (Book *book)
{
  static const double widths[N_COLS] = { 62, 20, 9, 13, 56 };
  g_autoptr (JobConstruction) c = job_construction (book->job);
  g_autofree char *words = job_construction_words (c);
  guint32 row = 0;

  book_widths (book, PAGE, widths, N_COLS);
  book_text (book, PAGE, row++, COL_WORDS, AS_TITLE, _ ("Construction"));
  book_paragraph (book, PAGE, row++, N_COLS - 1, AS_LEAD, words);
  row = write_unanswered (book, row, c);
  row = write_rests (book, row, c);
  write_cautions (book, row, c);
  book_page (book, PAGE, TRUE, -1, 0);
}

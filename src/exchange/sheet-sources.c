/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/workbook-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

enum
{
  COL_WHAT,
  COL_FIGURE,
  COL_SOURCE,
  COL_STATUS,
  N_COLS
};

#define PAGE BOOK_SOURCES

/* How figures were made where more than one way is right. */
static const char *const choices[] = {
  N_ ("Rounding: each line of the build-up once, to the decimals of the currency, halves away from zero, as a "
      "spreadsheet's ROUND does."),
  N_ ("Quantities and minutes are rounded on one piece (millionths of a unit, thousandths of a second); money is not "
      "rounded before the build-up."),
  N_ ("Markup is a share of cost; margin is a share of the price that includes it: 20 % markup is 16.67 % margin. The "
      "build-up says which one it uses."),
  N_ ("Where a method may not be used on a run (class, size, outdoors), the run takes the method it falls back to; the "
      "Runs sheet says where."),
  N_ ("Minutes are the likely ones of the job's average. Low and high are the uncertainty of that average, not the "
      "scatter of single joints."),
  N_ ("Tooling that is bought once stands beside a comparison and is in no price."),
  N_ ("Overage is in the quantities that are bought, not in the net weight. Shipped weight adds flange, corners, slips "
      "and drives without overage."),
};

/* Own words after US construction rules, 29 CFR 1926; paragraph numbers from memory except where said. */
static const char *const cautions[] = {
  N_ ("The specification, the engineer of record, the local code and licensed practice govern. A gauge, a spacing or a "
      "connection on these sheets is an estimator's reading of the rule set named above and no permission to build."),
  N_ ("A rule set's rows are a least; the specification or the engineer may ask for more. Reinforcement that a row "
      "names in words is not priced unless it stands on the Materials sheet."),
  N_ ("Work 6 ft or more above a lower level needs protection against falls: 29 CFR 1926.501 (from memory; for "
      "dwellings 1926.501(b)(13), published: OSHA letter of interpretation, 7 July 2003). On scaffolds above 10 ft: "
      "1926.451(g)(1) (published: the same letter)."),
  N_ ("Ladders reach 3 ft past the landing, their foot at a quarter of the working length: 1926.1053(b) (from memory). "
      "Lifts: 1926.453; tie off in boom lifts (from memory)."),
  N_ ("Edges of sheet cut: gloves and sleeves. Eyes and face are protected when sawing, drilling and driving: "
      "1926.102; tools 1926.300 to .302; noise 1926.52 and .101 (from memory)."),
  N_ ("Drilling anchors into concrete sets free silica dust: 1926.1153 and its Table 1 (from memory). Sealants and "
      "adhesives: safety data sheet and ventilation, 1926.59. Welding or grinding galvanised metal gives zinc fume: "
      "1926.353 (from memory)."),
  N_ ("Machines in the shop are guarded (29 CFR 1910.212) and locked out for service (1910.147) (from memory). Nobody "
      "stands under a duct that is hoisted; rigging: 1926.251 (from memory)."),
  N_ ("Duct is not hung from pipes, ceilings or other duct (published: Unified Facilities Guide Specification "
      "15801N)."),
};

static guint32
heading (Book *book, guint32 row, const char *words)
{
  book_text (book, PAGE, row + 1, COL_WHAT, AS_BOLD, words);
  return row + 2;
}

static guint32
paragraphs (Book *book, guint32 row, const char *const *words, gsize n)
{
  for (gsize i = 0; i < n; i++)
    book_paragraph (book, PAGE, row++, N_COLS - 1, AS_WRAP, _ (words[i]));
  return row;
}

/* Each rule set that a system uses, once. */
static guint32
write_rule_sets (Book *book, guint32 row)
{
  const GPtrArray *sets = book->catalogue->rules->sets;
  g_autofree gboolean *used = g_new0 (gboolean, MAX (sets->len, 1));

  for (guint i = 0; i <= job_n (book->job, JOB_SYSTEM); i++)
    {
      gint64 system = i == 0 ? 0 : job_at (book->job, JOB_SYSTEM, i - 1)->id;
      int set = i == 0 && job_n (book->job, JOB_SYSTEM) > 0 ? -1 : job_rule_set (book->job, system);
      if (set >= 0)
        used[set] = TRUE;
    }
  row = heading (book, row, _ ("Rule sets in force: gauges by class and size"));
  for (guint i = 0; i < sets->len; i++)
    {
      const DuctRuleSet *set = g_ptr_array_index (sets, i);
      DuctStatus status = set->status;
      if (!used[i])
        continue;
      g_autofree char *limits = duct_set_limits (book->catalogue->rules, (int) i);
      g_autofree char *words = g_strdup_printf (_ ("%s. %s%s%s%s Source: %s. Status: %s."), set->name, set->scope,
                                                *limits ? _ (" Limits: ") : "", limits, *limits ? "." : "", set->source, book_status_name (status));
      book_paragraph (book, PAGE, row++, N_COLS - 1, AS_WRAP, words);
    }
  return row;
}

static guint32
write_counts (Book *book, guint32 row)
{
  row = heading (book, row, _ ("How many figures this bid rests on, by status"));
  for (int s = 0; s < DUCT_N_STATUSES; s++)
    {
      guint n = book_count_status (book, (DuctStatus) s);
      if (n == 0)
        continue;
      book_text (book, PAGE, row, COL_WHAT, AS_TEXT, book_status_name ((DuctStatus) s));
      book_number (book, PAGE, row++, COL_FIGURE, AS_WHOLE, n);
    }
  return row;
}

static guint32
write_changes (Book *book, guint32 row)
{
  const GPtrArray *changes = book->basis->changes;

  if (!changes || changes->len == 0)
    return row;
  row = heading (book, row, _ ("Figures changed for this job; they go before those listed below"));
  for (guint i = 0; i < changes->len; i++)
    {
      const CostChange *change = g_ptr_array_index (changes, i);
      book_textf (book, PAGE, row, COL_WHAT, AS_TEXT, "%s, %s: %s", change->object, change->key, change->field);
      book_text (book, PAGE, row++, COL_FIGURE, AS_TEXT, change->value);
    }
  return row;
}

static guint32
write_notes (Book *book, guint32 row)
{
  if (book->notes == 0)
    return row;
  row = heading (book, row, _ ("Met while measuring this job"));
  for (int bit = 0; bit < DUCT_N_NOTES; bit++)
    if (book->notes & (1u << bit))
      book_paragraph (book, PAGE, row++, N_COLS - 1, AS_WRAP, duct_note_words ((DuctNote) (1 << bit)));
  return row;
}

static guint32
write_figures (Book *book, guint32 row)
{
  const char *heads[] = { _ ("What"), _ ("Figure"), _ ("Source"), _ ("Status"), NULL };
  const char *section = NULL;

  row = heading (book, row, _ ("The figures one by one"));
  book_heads (book, PAGE, row++, heads);
  for (guint i = 0; i < book->figures->len; i++)
    {
      const BookFigure *figure = &g_array_index (book->figures, BookFigure, i);
      DuctStatus status = DUCT_SHOPS_OWN;
      duct_status_parse (figure->status, &status);
      if (g_strcmp0 (section, figure->section) != 0)
        book_text (book, PAGE, row++, COL_WHAT, AS_BOLD, section = figure->section);
      book_text (book, PAGE, row, COL_WHAT, AS_WRAP, figure->what);
      book_text (book, PAGE, row, COL_FIGURE, AS_WRAP, figure->figure);
      book_text (book, PAGE, row, COL_SOURCE, AS_WRAP, figure->source);
      book_text (book, PAGE, row++, COL_STATUS, AS_TEXT, book_status_name (status));
    }
  return row;
}

void
book_write_sources (Book *book)
{
  static const double widths[N_COLS] = { 58, 30, 52, 24 };
  guint32 row = 0;

  book_widths (book, PAGE, widths, N_COLS);
  book_text (book, PAGE, row++, COL_WHAT, AS_TITLE, _ ("Sources and cautions"));
  book_paragraph (book, PAGE, row, N_COLS - 1, AS_WARNING, _ (cautions[0]));
  row = write_rule_sets (book, row + 1);
  row = write_counts (book, row);
  row = write_changes (book, row);
  row = write_notes (book, row);
  row = heading (book, row, _ ("Choices that change a result"));
  row = paragraphs (book, row, choices, G_N_ELEMENTS (choices));
  row = heading (book, row, _ ("Cautions"));
  row = paragraphs (book, row, cautions + 1, G_N_ELEMENTS (cautions) - 1);
  write_figures (book, row);
  book_page (book, PAGE, TRUE, -1, 0);
}

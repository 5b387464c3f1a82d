/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/decimal.h"
#include "base/table.h"
#include "labour/learning.h"

#include <glib/gi18n.h>
#include <string.h>

static const CliColumn columns[] = {
  { "model", NULL, FALSE },
  { "model_name", N_ ("model"), FALSE },
  { "first_h", N_ ("first unit, h"), TRUE },
  { "slope_pct", N_ ("slope, %"), TRUE },
  { "units", N_ ("units"), TRUE },
  { "unit_h", N_ ("last unit, h"), TRUE },
  { "average_h", N_ ("average, h"), TRUE },
  { "total_h", N_ ("total, h"), TRUE },
  { "from", N_ ("from unit"), TRUE },
  { "to", N_ ("to unit"), TRUE },
  { "between_h", N_ ("those units, h"), TRUE },
};

/* One question. Hours in millionths, slope in ten-thousandths of a per cent. */
typedef struct
{
  LabourLearning model;
  gint64 first, slope, units, from, to; /* from and to 0: not asked */
} Question;

static gboolean
model_of (const char *text, LabourLearning *model)
{
  return labour_learning_parse (text, model) && *model != LABOUR_LEARNING_NONE;
}

static void
add_answer (CliTable *t, const Question *q)
{
  double first = (double) q->first / 1e6, slope = (double) q->slope / 1e6;
  double total = labour_learning_total (q->model, first, slope, q->units);

  cli_table_add (t, labour_learning_keys[q->model]);
  cli_table_add (t, labour_learning_say (q->model));
  cli_table_figure (t, first, 12);
  cli_table_figure (t, slope * 100, 8);
  cli_table_int (t, q->units);
  cli_table_fixed (t, labour_learning_unit (q->model, first, slope, q->units), 6);
  cli_table_fixed (t, total / (double) q->units, 6);
  cli_table_fixed (t, total, 6);
  if (q->from > 0)
    {
      cli_table_int (t, q->from);
      cli_table_int (t, q->to);
      cli_table_fixed (t, labour_learning_between (q->model, first, slope, q->from, q->to), 6);
    }
  else
    for (int i = 0; i < 3; i++)
      cli_table_add (t, "");
}

/* A figure of an option; FALSE with a message. */
static gboolean
figure (const char *name, const char *text, int decimals, gint64 least, gint64 most, gint64 *out)
{
  Fault *fault = NULL;

  if (!text)
    return TRUE;
  if (!decimal_parse (text, decimals, out, &fault))
    {
      g_autofree char *words = fault_words (fault, text);
      fault_free (fault);
      cli_complain ("--%s: %s", name, words);
      return FALSE;
    }
  if (*out >= least && *out <= most)
    return TRUE;
  g_autofree char *low = decimal_print (least, decimals, 0, TRUE), *high = decimal_print (most, decimals, 0, TRUE);
  cli_complain (_ ("--%s: enter a figure from %s to %s, not %s"), name, low, high, text);
  return FALSE;
}

#define MOST_HOURS G_GINT64_CONSTANT (1000000000000) /* a million hours */
#define MOST_UNITS G_GINT64_CONSTANT (100000000)

/* The mean of n units falls faster than 1 / n: each unit would take less than nothing. */
static gboolean
below_sense (const Question *q)
{
  return q->model == LABOUR_LEARNING_CUMULATIVE_AVERAGE && q->slope > 0 && q->slope < 500000;
}

/* A row of a file: its own figures, else those of the options. */
static void
read_row (const TableReader *r, Question *q)
{
  if (*table_cell (r, "model") && !model_of (table_cell (r, "model"), &q->model))
    table_complain (r, "model", _ ("no such model"), _ ("write unit or cumulative-average"));
  q->first = table_decimal (r, "first", 6, q->first, 1, MOST_HOURS);
  q->slope = table_decimal (r, "slope", 4, q->slope, 10000, 1000000);
  q->units = table_decimal (r, "units", 0, q->units, 1, MOST_UNITS);
  q->from = table_decimal (r, "from", 0, q->from, 1, MOST_UNITS);
  q->to = table_decimal (r, "to", 0, q->from > 0 && q->to == 0 ? q->units : q->to, 1, MOST_UNITS);
  if (q->first <= 0 || q->slope <= 0 || q->units <= 0)
    table_complain (r, q->units <= 0 ? "units" : q->first <= 0 ? "first" : "slope", _ ("the figure is missing"),
                    _ ("fill the cell, or give it for all rows: --first, --slope, --units"));
  if (below_sense (q))
    table_complain (r, *table_cell (r, "slope") ? "slope" : "units", _ ("below 50 % the cumulative average has no meaning: more units would "
                                                                       "take less in all"),
                    _ ("enter a slope from 50 to 100, or take the unit curve"));
  if (q->from > q->to)
    table_complain (r, "from", _ ("the first unit asked for is behind the last"), _ ("exchange the two"));
}

static int
answer_file (const char *path, const Question *given, CliTable *t)
{
  static const char *const headings[] = { "units", NULL };
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  g_autoptr (CsvTable) table = csv_read_file (path, faults, &error);
  TableReader r;

  if (error)
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  if (table && table_begin (&r, table, faults, headings))
    for (r.row = 0; r.row < table->row->len; r.row++)
      {
        Question q = *given;
        guint before = faults->len;
        read_row (&r, &q);
        if (faults->len == before)
          add_answer (t, &q);
      }
  cli_complain_faults (faults);
  return faults->len > 0 ? CLI_FAULTS : CLI_DONE;
}

static gboolean
whole_question (const Question *q)
{
  if (q->first <= 0 || q->slope <= 0 || q->units <= 0)
    cli_complain (_ ("learn needs --first HOURS, --slope PCT and --units N, or a file with the column units"));
  else if (below_sense (q))
    cli_complain (_ ("--slope: below 50 %% the cumulative average has no meaning, as more units would take less in all: enter 50 to 100, or "
                     "take --model unit"));
  else if (q->from > q->to)
    cli_complain (_ ("--from is behind --to: exchange the two"));
  else
    return TRUE;
  return FALSE;
}

int
cli_learn (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_autofree char *model = NULL, *first = NULL, *slope = NULL, *units = NULL, *from = NULL, *to = NULL;
  const GOptionEntry more[] = {
    { "model", 0, 0, G_OPTION_ARG_STRING, &model, N_ ("unit (Crawford, the default) or cumulative-average (Wright)"), N_ ("MODEL") },
    { "first", 0, 0, G_OPTION_ARG_STRING, &first, N_ ("Hours of the first unit"), N_ ("HOURS") },
    { "slope", 0, 0, G_OPTION_ARG_STRING, &slope, N_ ("What is left at each doubling, per cent"), N_ ("PCT") },
    { "units", 0, 0, G_OPTION_ARG_STRING, &units, N_ ("How many units"), N_ ("N") },
    { "from", 0, 0, G_OPTION_ARG_STRING, &from, N_ ("Also the hours of the units from this one on"), N_ ("A") },
    { "to", 0, 0, G_OPTION_ARG_STRING, &to, N_ ("to this one; the last one unless named"), N_ ("B") },
    G_OPTION_ENTRY_NULL,
  };
  Question q = { .model = LABOUR_LEARNING_UNIT };
  int status = CLI_DONE;

  if (!cli_options_read (&o, argc, argv, _ ("--first HOURS --slope PCT --units N | FILE.csv"),
                         _ ("Hours of a number of like units by a learning curve: of the last one, on average and in all, summed exactly. "
                            "The two models are not the same number for the same crew, so the model is always named. A file has the column "
                            "units, and may have model, first, slope, from and to."),
                         more))
    return o.status;
  if (!cli_options_no_job (&o, "learn"))
    return CLI_USAGE;
  if (model && !model_of (model, &q.model))
    {
      cli_complain (_ ("--model: write unit or cumulative-average, not “%s”"), model);
      return CLI_USAGE;
    }
  if (!figure ("first", first, 6, 1, MOST_HOURS, &q.first) || !figure ("slope", slope, 4, 10000, 1000000, &q.slope)
      || !figure ("units", units, 0, 1, MOST_UNITS, &q.units) || !figure ("from", from, 0, 1, MOST_UNITS, &q.from)
      || !figure ("to", to, 0, 1, MOST_UNITS, &q.to))
    return CLI_USAGE;
  if (q.from > 0 && q.to == 0)
    q.to = q.units;
  else if (q.to > 0 && q.from == 0)
    q.from = 1;
  g_autoptr (CliTable) t = cli_table_new ("learn", columns, G_N_ELEMENTS (columns));
  if (g_strv_length (o.rest) == 1)
    status = answer_file (o.rest[0], &q, t);
  else if (o.rest[0] || !whole_question (&q))
    return CLI_USAGE;
  else
    add_answer (t, &q);
  if (t->cell->len > 0)
    cli_table_print (t, cli_options_format (&o));
  return status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A figure of the comparison taken apart, on the terminal. */
#include "config.h"

#include "cli/explain-answer.h"

#include "base/money.h"
#include "job/explain-answer.h"

#include <glib/gi18n.h>
#include <math.h>

#define MOST_RUNS 12 /* in text; all in other forms */

static void
gap (CliFormat format)
{
  if (format != CLI_JSONL)
    cli_print ("\n");
}

static const CliColumn part_columns[] = {
  { "part", N_ ("item or step"), FALSE },  { "type", NULL, FALSE },
  { "place", N_ ("where"), FALSE },        { "quantity", N_ ("quantity"), TRUE },
  { "unit", N_ ("unit"), FALSE },          { "rate", N_ ("at"), TRUE },
  { "amount", N_ ("amount"), TRUE },       { "share", N_ ("share %"), TRUE },
  { "source", N_ ("source"), FALSE },      { "status", N_ ("status"), FALSE },
};

static const CliColumn two_columns[] = {
  { "part", N_ ("item or step"), FALSE },  { "type", NULL, FALSE },
  { "place", N_ ("where"), FALSE },        { "quantity", N_ ("quantity"), TRUE },
  { "against_quantity", N_ ("against"), TRUE }, { "unit", N_ ("unit"), FALSE },
  { "amount", N_ ("amount"), TRUE },       { "against_amount", N_ ("against"), TRUE },
  { "difference", N_ ("difference"), TRUE }, { "source", N_ ("source"), FALSE },
  { "status", N_ ("status"), FALSE },
};

static const char *
type_of (const JobAnswerPart *p)
{
  static const char *const word[] = { "item", "step", "counted", "amounts", "rest" };

  return word[p->kind];
}

static void
add_rate (CliTable *t, double rate)
{
  if (isnan (rate))
    cli_table_add (t, "");
  else
    cli_table_fixed (t, rate, 4);
}

static void
add_part (CliTable *t, const JobAnswer *a, const JobAnswerPart *p)
{
  gboolean labour = p->kind == JOB_PART_STEP || (p->kind == JOB_PART_COUNTED && *p->unit);

  cli_table_add (t, p->name);
  cli_table_add (t, type_of (p));
  cli_table_add (t, labour ? (p->shop ? _ ("shop") : _ ("field")) : "");
  cli_table_fixed (t, p->quantity[0], 4);
  if (a->against)
    cli_table_fixed (t, p->quantity[1], 4);
  cli_table_add (t, p->unit);
  if (!a->against)
    add_rate (t, p->rate[0]);
  cli_table_fixed (t, p->amount[0], 4);
  if (a->against)
    {
      cli_table_fixed (t, p->amount[1], 4);
      cli_table_fixed (t, p->amount[0] - p->amount[1], 4);
    }
  else
    cli_table_fixed (t, a->whole[0] != 0 ? p->amount[0] / a->whole[0] * 100 : 0, 1);
  cli_table_add (t, p->source);
  cli_table_add (t, p->status);
}

/* What the parts add up to: the figure itself, without rounding. */
static void
add_sum (CliTable *t, const JobAnswer *a, const char *unit)
{
  double sum[2] = { 0 };

  for (guint i = 0; i < a->part->len; i++)
    for (int k = 0; k < 2; k++)
      sum[k] += job_answer_part (a, i)->amount[k];
  cli_table_add (t, a->against ? _ ("all that differs") : _ ("all"));
  cli_table_add (t, "sum");
  for (int i = 0; i < (a->against ? 3 : 2); i++)
    cli_table_add (t, "");
  cli_table_add (t, unit);
  if (!a->against)
    cli_table_add (t, "");
  cli_table_fixed (t, sum[0], 4);
  if (a->against)
    {
      cli_table_fixed (t, sum[1], 4);
      cli_table_fixed (t, sum[0] - sum[1], 4);
    }
  else
    cli_table_fixed (t, 100, 1);
  cli_table_add (t, "");
  cli_table_add (t, "");
}

static const CliColumn line_columns[] = {
  { "line", N_ ("build-up line"), FALSE },
  { "value", N_ ("value"), TRUE },
  { "against", N_ ("against"), TRUE },
  { "difference", N_ ("difference"), TRUE },
};

/* The build-up as printed, down to the line @to. */
static void
page_lines (const JobComparison *c, gboolean against, const char *to, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("buildup", line_columns, against ? 4 : 2);
  const BuildUp *up = job_comparison_way (c, 0)->option.buildup, *other = against ? job_comparison_way (c, 1)->option.buildup : NULL;
  int last = buildup_find (up->basis, to);

  for (int i = 0; i <= last; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (up->basis->buildup, (guint) i);
      int there = other ? buildup_find (other->basis, line->key) : -1;
      gint64 value = there >= 0 ? other->value[there] : 0;
      cli_table_add (t, line->label);
      cli_table_take (t, money_print (up->value[i], up->decimals, FALSE));
      if (!against)
        continue;
      cli_table_take (t, money_print (value, up->decimals, FALSE));
      cli_table_take (t, money_print (up->value[i] - value, up->decimals, FALSE));
    }
  cli_table_print (t, format);
}

static const CliColumn run_columns[] = {
  { "run", N_ ("run"), TRUE },         { "what", N_ ("line"), FALSE },           { "amount", N_ ("amount"), TRUE },
  { "against", N_ ("against"), TRUE }, { "difference", N_ ("difference"), TRUE },
};

static void
page_runs (TallyJob *job, const JobComparison *c, const JobAnswer *a, CliFormat format)
{
  g_autoptr (GArray) runs = job_answer_runs (c, 0, a->against ? 1 : -1, &a->figure);
  g_autoptr (CliTable) t = cli_table_new ("runs", run_columns, a->against ? 5 : 3);
  guint n = format == CLI_TEXT ? MIN (runs->len, MOST_RUNS) : runs->len;

  for (guint i = 0; i < n; i++)
    {
      const JobAnswerRun *run = &g_array_index (runs, JobAnswerRun, i);
      cli_table_int (t, run->position + 1);
      cli_table_take (t, cli_run_name (job, job_at (job, JOB_RUN, run->position), run->position + 1));
      cli_table_fixed (t, run->amount[0], 4);
      if (!a->against)
        continue;
      cli_table_fixed (t, run->amount[1], 4);
      cli_table_fixed (t, run->amount[0] - run->amount[1], 4);
    }
  cli_table_print (t, format);
  if (n < runs->len)
    cli_print (g_dngettext (GETTEXT_PACKAGE, "and %u run more; --csv or --jsonl lists all\n", "and %u runs more; --csv or --jsonl lists all\n",
                            runs->len - n),
               runs->len - n);
  if (format == CLI_TEXT && n > 0)
    cli_print (_ ("“explain %u” walks on from the first of them to its recipe lines.\n"), g_array_index (runs, JobAnswerRun, 0).position + 1);
}

static const CliColumn study_columns[] = {
  { "study", N_ ("time study"), FALSE }, { "date", N_ ("date"), FALSE },     { "observer", N_ ("observer"), FALSE },
  { "crew", N_ ("crew"), TRUE },         { "size", N_ ("size"), FALSE },     { "timed", N_ ("timed"), FALSE },
  { "method", N_ ("method"), FALSE },    { "count", N_ ("count"), TRUE },    { "clock", N_ ("clock min"), TRUE },
  { "rating", N_ ("rating"), TRUE },     { "minutes", N_ ("worker-min"), TRUE }, { "struck", N_ ("struck"), FALSE },
};

/* The readings behind the minutes of a step that a time study gave. */
static void
page_studies (const JobAnswer *a, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("readings", study_columns, G_N_ELEMENTS (study_columns));
  gboolean any = FALSE;

  for (guint i = 0; i < a->part->len; i++)
    {
      const LabourStudy *study = job_answer_part (a, i)->study;
      for (guint k = 0; study && k < study->readings->len; k++)
        {
          const LabourReading *r = g_ptr_array_index (study->readings, k);
          any = TRUE;
          cli_table_add (t, study->key);
          cli_table_add (t, r->date);
          cli_table_add (t, r->observer);
          cli_table_int (t, r->crew_size);
          cli_table_add (t, r->size);
          cli_table_add (t, r->timed);
          cli_table_add (t, r->method);
          cli_table_int (t, r->count);
          cli_table_fixed (t, r->clock_min, 2);
          cli_table_fixed (t, r->rating, 2);
          cli_table_fixed (t, r->minutes, 3);
          cli_table_add (t, r->struck);
        }
    }
  if (!any)
    return;
  gap (format);
  cli_table_print (t, format);
}

static const CliColumn figure_columns[] = {
  { "figure", N_ ("figure"), FALSE }, { "way", N_ ("way"), FALSE },           { "value", N_ ("value"), TRUE },
  { "unit", N_ ("unit"), FALSE },     { "tooling", N_ ("tooling, once"), TRUE },
};

static void
page_figure (TallyJob *job, const JobAnswer *a, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("figure", figure_columns, G_N_ELEMENTS (figure_columns));
  g_autofree char *title = job_figure_title (job, &a->figure);

  for (int k = 0; k < (a->against ? 3 : 1); k++)
    {
      cli_table_add (t, title);
      cli_table_add (t, k < 2 ? a->name[k] : _ ("difference"));
      cli_table_fixed (t, k < 2 ? a->whole[k] : a->whole[0] - a->whole[1], 4);
      cli_table_add (t, job_figure_unit (job, &a->figure));
      cli_table_fixed (t, k < 2 ? a->once[k] : a->once[0] - a->once[1], 2);
    }
  cli_table_print (t, format);
}

int
cli_explain_answer (TallyJob *job, const char *figure_text, const char *method, const char *against, const char *what_if, CliFormat format)
{
  /* A what-if alone is held against the job as it stands. */
  const JobWay ways[] = { { method, what_if }, { against ? against : method, against ? what_if : NULL } };
  gboolean two = against || what_if;
  g_autoptr (JobComparison) c = NULL;
  g_autoptr (JobAnswer) a = NULL;
  g_autoptr (CliTable) t = NULL;
  JobFigure figure;
  Fault *fault = NULL;

  if (!job_figure_parse (job, figure_text, &figure, &fault))
    {
      g_autofree char *words = fault_words (fault, figure_text);
      cli_complain ("--figure: %s", words);
      fault_free (fault);
      return CLI_USAGE;
    }
  if ((method && cli_method (job, method) < 0) || (against && cli_method (job, against) < 0))
    return CLI_USAGE;
  c = job_compare (job, ways, two ? 2 : 1, 0, NULL);
  for (guint i = 0; i < c->way->len; i++)
    if (job_comparison_way (c, i)->fault)
      {
        g_autofree char *words = fault_words (job_comparison_way (c, i)->fault, what_if);
        cli_complain ("%s", words);
        return CLI_USAGE;
      }
  a = job_answer_new (c, 0, two ? 1 : -1, &figure);
  if (format == CLI_TEXT)
    {
      g_autofree char *sentence = job_answer_sentence (job, a);
      cli_print ("%s\n\n", sentence);
    }
  page_figure (job, a, format);
  if (format == CLI_TEXT && job_figure_line (&figure))
    cli_print ("%s\n", _ ("Unrounded, as its parts add up to it; the build-up below rounds each line, so the two may be a cent or two apart."));
  gap (format);
  if (job_figure_line (&figure))
    {
      page_lines (c, a->against, figure.kind == JOB_FIGURE_PRICE ? "price" : "cost", format);
      gap (format);
    }
  t = two ? cli_table_new ("parts", two_columns, G_N_ELEMENTS (two_columns)) : cli_table_new ("parts", part_columns, G_N_ELEMENTS (part_columns));
  for (guint i = 0; i < a->part->len; i++)
    add_part (t, a, job_answer_part (a, i));
  add_sum (t, a, job_figure_unit (job, &figure));
  cli_table_print (t, format);
  page_studies (a, format);
  gap (format);
  page_runs (job, c, a, format);
  return a->not_priced[0] > 0 || a->not_priced[1] > 0 ? CLI_FAULTS : CLI_DONE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "exchange/memo.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

/* The reading of a fault, and the exit status. */
static int
complain (Fault *fault)
{
  g_autofree char *words = fault_words (fault, NULL);

  cli_complain ("%s", words);
  fault_free (fault);
  return CLI_USAGE;
}

static const CliColumn figure_columns[] = {
  /* As they stand on the page, some of them two figures. */
  { "figure", N_ ("figure"), FALSE }, { "baseline", N_ ("baseline"), FALSE }, { "method", N_ ("method"), FALSE },
  { "difference", N_ ("difference"), FALSE },
};

static const CliColumn line_columns[] = { { "section", N_ ("section"), FALSE }, { "line", N_ ("line"), FALSE } };

static const CliColumn answer_columns[] = {
  { "baseline", N_ ("baseline"), FALSE }, { "method", N_ ("method"), FALSE }, { "gain", N_ ("likely gain"), TRUE },
  { "gain10", N_ ("10 %"), TRUE },        { "gain90", N_ ("90 %"), TRUE },    { "chance", N_ ("cheaper, %"), TRUE },
  { "verdict", N_ ("verdict"), FALSE },   { "trials", N_ ("trials"), TRUE },  { "seed", N_ ("seed"), TRUE },
  { "answer", N_ ("answer"), FALSE },
};

/* The same as tables, for programs. */
static void
print_tables (TallyJob *job, const Memo *memo, CliFormat format)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  g_autoptr (CliTable) answer = cli_table_new ("memo", answer_columns, G_N_ELEMENTS (answer_columns));
  g_autoptr (CliTable) figures = cli_table_new ("figures", figure_columns, G_N_ELEMENTS (figure_columns));
  g_autoptr (CliTable) lines = cli_table_new ("lines", line_columns, G_N_ELEMENTS (line_columns));

  cli_table_add (answer, catalogue_method (catalogue, memo->method[0])->key);
  cli_table_add (answer, catalogue_method (catalogue, memo->method[1])->key);
  cli_table_fixed (answer, memo->gain, 2);
  cli_table_fixed (answer, memo->risk.low.value, 2);
  cli_table_fixed (answer, memo->risk.high.value, 2);
  cli_table_fixed (answer, memo->risk.beats.less * 100, 3);
  cli_table_add (answer, memo->sure ? job_verdict_say (memo->risk.verdict) : "");
  cli_table_int (answer, (gint64) memo->trials);
  cli_table_int (answer, (gint64) memo->seed);
  cli_table_add (answer, memo->answer);
  for (guint i = 0; i < memo->row->len; i++)
    for (int k = 0; k < 4; k++)
      cli_table_add (figures, ((MemoRow *) g_ptr_array_index (memo->row, i))->cell[k]);
  for (guint i = 0; i < memo->section->len; i++)
    {
      const MemoSection *section = g_ptr_array_index (memo->section, i);
      for (guint k = 0; k < section->line->len; k++)
        {
          cli_table_add (lines, section->heading);
          cli_table_add (lines, g_ptr_array_index (section->line, k));
        }
    }
  cli_table_print (answer, format);
  if (format != CLI_JSONL)
    cli_print ("\n");
  cli_table_print (figures, format);
  if (format != CLI_JSONL)
    cli_print ("\n");
  cli_table_print (lines, format);
}

static gboolean
read_paper (const char *word, MemoPaper *paper)
{
  *paper = memo_paper ();
  if (!word)
    return TRUE;
  if (g_ascii_strcasecmp (word, "a4") == 0)
    *paper = MEMO_A4;
  else if (g_ascii_strcasecmp (word, "letter") == 0)
    *paper = MEMO_LETTER;
  else
    {
      cli_complain (_ ("--paper cannot be “%s”; use A4 or letter"), word);
      return FALSE;
    }
  return TRUE;
}

static int
write_to (const Memo *memo, MemoPaper paper, const char *path)
{
  g_autoptr (GError) error = NULL;
  gboolean pdf = g_str_has_suffix (path, ".pdf");

  if (!pdf && !g_str_has_suffix (path, ".txt"))
    {
      cli_complain (_ ("“%s”: name a file that ends in .pdf or .txt"), path);
      return CLI_USAGE;
    }
  if (!(pdf ? memo_write_pdf (memo, paper, path, &error) : memo_write_text (memo, path, &error)))
    {
      cli_complain ("%s", error->message);
      return CLI_FILE;
    }
  return CLI_DONE;
}

/* A day that there is, as YYYY-MM-DD. */
static gboolean
is_date (const char *text)
{
  int year, month, day;

  return g_regex_match_simple ("^[0-9]{4}-[0-9]{2}-[0-9]{2}$", text, G_REGEX_DOLLAR_ENDONLY, 0)
         && sscanf (text, "%4d-%2d-%2d", &year, &month, &day) == 3 && year > 0 && month > 0 && month <= 12 && day > 0
         && g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year);
}

/* The revision of the office's catalogue that the job is on; 0: the job is of no office. */
static gint64
revision_of (const CliOptions *o)
{
  g_autofree char *path = o->job ? cli_options_office (o) : NULL;
  g_autoptr (Store) store = path ? store_open (path, FALSE, NULL) : NULL;
  gint64 id = store ? store_find_job (store, o->job) : 0;
  g_autoptr (GPtrArray) jobs = id > 0 ? store_jobs (store, NULL) : NULL;

  for (guint i = 0; jobs && i < jobs->len; i++)
    {
      const StoreJobInfo *info = g_ptr_array_index (jobs, i);
      if (info->id == id)
        return info->revision;
    }
  return 0;
}

int
cli_memo (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_autofree char *output = NULL, *paper_word = NULL, *date = NULL;
  const GOptionEntry more[] = {
    { "baseline", 0, 0, G_OPTION_ARG_STRING, &o.baseline, N_ ("Method the other is held against"), N_ ("KEY") },
    { "output", 0, 0, G_OPTION_ARG_FILENAME, &output, N_ ("A file that ends in .pdf or .txt, instead of the terminal"), N_ ("FILE") },
    { "paper", 0, 0, G_OPTION_ARG_STRING, &paper_word, N_ ("A4 or letter (default: by the locale)"), N_ ("WORD") },
    { "date", 0, 0, G_OPTION_ARG_STRING, &date, N_ ("Date of the memo (default: today)"), N_ ("YYYY-MM-DD") },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  g_autoptr (TallyJob) job = NULL;
  g_autoptr (JobRisk) risk = NULL;
  g_autoptr (RiskResult) result = NULL;
  g_autoptr (Memo) memo = NULL;
  Fault *fault = NULL;
  MemoPaper paper;
  CliFormat format;
  int status = CLI_DONE;

  if (!cli_options_read (&o, argc, argv, "--demo | --runs FILE | --job NAME [--baseline KEY] [--method KEY] [--output FILE]",
                         _ ("The decision on one page: which of two methods to take, what it saves and how sure that is, where it turns, "
                            "what to order, and what it rests on. Without --method: the cheapest of the others."),
                         more))
    return o.status;
  if (o.rest[0] || !read_paper (paper_word, &paper))
    {
      if (o.rest[0])
        cli_complain (_ ("memo takes no word “%s”"), o.rest[0]);
      return CLI_USAGE;
    }
  if (date && !is_date (date))
    {
      cli_complain (_ ("--date cannot be “%s”; write a day of the calendar like 2027-03-01"), date);
      return CLI_USAGE;
    }
  if (!date)
    date = g_date_time_format (now, "%F");
  /* --method names the other way here and not that of the runs. */
  g_autofree char *method = g_steal_pointer (&o.method);
  job = cli_options_job (&o);
  if (!job)
    return o.status;
  MemoAsk ask = { o.baseline, method, date, revision_of (&o) };
  risk = memo_risk (job, &ask, &fault);
  result = risk ? job_risk_run (risk, NULL, NULL, &fault) : NULL;
  memo = result ? memo_new (job, &ask, risk, result, &fault) : NULL;
  if (!memo)
    return complain (fault);
  format = cli_options_format (&o);
  if (output)
    status = write_to (memo, paper, output);
  else if (format != CLI_TEXT)
    print_tables (job, memo, format);
  else
    {
      g_autofree char *text = memo_text (memo);
      cli_print ("%s", text);
    }
  /* Runs that are not priced stand in no figure of the memo: told, and in the exit status, as other commands do. */
  if (cli_complain_not_priced (job, 0) > 0 && status == CLI_DONE)
    status = CLI_FAULTS;
  return status == CLI_DONE ? o.status : status;
}

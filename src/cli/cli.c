/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include <glib/gi18n.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

static const CliCommand commands[] = {
  { "demo", cli_demo, N_ ("prices the invented demo job and writes its workbook") },
  { "measure", cli_measure, N_ ("measures each run of a CSV file") },
  { "price", cli_price, N_ ("prices a job: totals by system and area, build-up, runs not priced") },
  { "choose", cli_choose, N_ ("finds the cheapest construction that the rule set allows, and pins it") },
  { "rules", cli_rules, N_ ("lists the rule sets, checks one for gaps and what is out of order, or imports a table") },
  { "compare", cli_compare, N_ ("sets the methods side by side, with what the difference hangs on") },
  { "risk", cli_risk, N_ ("what a job may come to, and the chance that one method beats another") },
  { "memo", cli_memo, N_ ("the decision between two methods on one page, as text or PDF") },
  { "explain", cli_explain, N_ ("walks a run or the price down to its figures and their sources") },
  { "construction", cli_construction, N_ ("reports which table and status each run's construction rests on") },
  { "study", cli_study, N_ ("answers a time study: normal and standard time, intervals, readings and pairs still needed") },
  { "fit", cli_fit, N_ ("fits minutes over size, or any columns, by least squares") },
  { "mix", cli_mix, N_ ("which method where: the cheapest mix under limits on hours and methods, proven") },
  { "leakage", cli_leakage, N_ ("what each system may leak, by seal class and pressure") },
  { "learn", cli_learn, N_ ("hours of many like units by a learning curve") },
  { "crew", cli_crew, N_ ("the hourly rate of a crew as a worked calculation") },
  { "workbook", cli_workbook, N_ ("writes the bid as a workbook") },
  { "import", cli_import, N_ ("reads runs from a CSV file into a job of an office file") },
  { "jobs", cli_jobs, N_ ("lists, creates, duplicates or deletes the jobs of an office file") },
};

void
cli_complain (const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_autofree char *text = g_strdup_vprintf (format, args);
  va_end (args);
  g_printerr ("seamtally: %s\n", text);
}

void
cli_complain_faults (const GPtrArray *faults)
{
  for (guint i = 0; i < faults->len; i++)
    {
      g_autofree char *words = csv_fault_words (g_ptr_array_index (faults, i));
      cli_complain ("%s", words);
    }
}

static void
print_help (void)
{
  cli_print ("%s\n\n", _ ("Usage: seamtally COMMAND [OPTION...]   (seamtally COMMAND --help tells more)"));
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    cli_print ("  %-12s %s\n", commands[i].name, _ (commands[i].summary));
  cli_print ("  %-12s %s\n", "window", _ ("opens the window (also without a command, where there is a display)"));
  cli_print ("\n%s\n", _ ("Exit status: 0 done, 1 done with faults in the input, 2 wrong usage, 3 a file could not be read or "
                        "written."));
}

int
cli_main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  /* Figures are printed and read the same everywhere. */
  setlocale (LC_NUMERIC, "C");
  bindtextdomain (GETTEXT_PACKAGE, SEAMTALLY_LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);

  if (argc < 2)
    {
      print_help ();
      return CLI_USAGE;
    }
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0 || strcmp (argv[1], "help") == 0)
    {
      print_help ();
      return CLI_DONE;
    }
  if (strcmp (argv[1], "--version") == 0)
    {
      cli_print ("seamtally %s\n", SEAMTALLY_VERSION);
      return CLI_DONE;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (commands); i++)
    if (strcmp (argv[1], commands[i].name) == 0)
      {
        int status = commands[i].run (argc - 1, argv + 1);
        if (fflush (stdout) == 0 && !ferror (stdout))
          return status;
        cli_complain (_ ("the output could not be written"));
        return CLI_FILE;
      }
  cli_complain (_ ("there is no command “%s”; seamtally --help lists them"), argv[1]);
  return CLI_USAGE;
}

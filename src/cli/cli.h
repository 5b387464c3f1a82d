/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "cli/table.h"
#include "exchange/runs-csv.h"
#include "job/compare.h"
#include "job/job.h"

G_BEGIN_DECLS

/* Exit statuses. */
enum
{
  CLI_DONE = 0,
  CLI_FAULTS = 1, /* done, with faults in the input */
  CLI_USAGE = 2,
  CLI_FILE = 3,   /* a file could not be read or written */
};

typedef struct
{
  const char *name;
  int (*run) (int argc, char **argv);
  const char *summary; /* N_() */
} CliCommand;

int cli_main (int argc, char **argv);

int cli_demo (int argc, char **argv);
int cli_measure (int argc, char **argv);
int cli_price (int argc, char **argv);
int cli_choose (int argc, char **argv);
int cli_rules (int argc, char **argv);
int cli_compare (int argc, char **argv);
int cli_explain (int argc, char **argv);
int cli_construction (int argc, char **argv);
int cli_workbook (int argc, char **argv);
int cli_import (int argc, char **argv);
int cli_jobs (int argc, char **argv);
int cli_leakage (int argc, char **argv);
int cli_mix (int argc, char **argv);
int cli_risk (int argc, char **argv);
int cli_memo (int argc, char **argv);
int cli_learn (int argc, char **argv);
int cli_crew (int argc, char **argv);
int cli_study (int argc, char **argv);
int cli_fit (int argc, char **argv);

/* Options that most commands share, and the job they lead to. */
typedef struct
{
  gboolean demo, demo_round, csv, jsonl;
  char *runs, *office, *job;
  char *method, *rules, *baseline, *output;
  char **set;
  GStrv rest;         /* words that are no options */
  int status;         /* CLI_DONE, or CLI_FAULTS after faults in the input */
} CliOptions;

/* Reads the options of a command; @more: its own options (NULL-terminated) or NULL. FALSE when the command has ended (help was
 * asked, or wrong usage was told): return options->status. */
gboolean cli_options_read (CliOptions *options, int argc, char **argv, const char *usage, const char *about,
                           const GOptionEntry *more);
void cli_options_clear (CliOptions *options);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (CliOptions, cli_options_clear)
CliFormat cli_options_format (const CliOptions *options);
/* For a command that answers from a file or its own options alone: FALSE with a message when an option was given that names or changes a
 * job, as it would change nothing. */
gboolean cli_options_no_job (const CliOptions *options, const char *command);
/* Opens the job that --demo, --demo-round, --runs or --office with --job name, applies --method, --rules and --set in memory. NULL with the reason
 * on stderr: return options->status. The job is detached from its file. */
TallyJob *cli_options_job (CliOptions *options);
/* The method that --baseline names, else the job's own, else the first; -1 with a message. */
int cli_options_baseline (const CliOptions *options, TallyJob *job);
/* Path of the office file in use. */
char *cli_options_office (const CliOptions *options);

/* "seamtally: ..." on stderr. */
void cli_complain (const char *format, ...) G_GNUC_PRINTF (1, 2);
/* Adds a run for every line of a file that could not even be taken apart (@faults of the reader), so that totals say that
 * something is not priced. FALSE with @error. */
gboolean cli_keep_lost_lines (TallyJob *job, const GPtrArray *faults, GError **error);
/* Tells on stderr which runs from position @first on are not priced, and why; their number. */
guint cli_complain_not_priced (TallyJob *job, guint first);
/* Every fault of a file on stderr. */
void cli_complain_faults (const GPtrArray *faults);

/* Index of a method named by an option; -1 with a message that lists the keys. */
int cli_method (TallyJob *job, const char *key);
/* One-line name of a run: "run 12, straight 24x12". */
char *cli_run_name (TallyJob *job, const JobRecord *run, guint number);

/* Pages shared by demo, price and compare. */
void cli_page_totals (TallyJob *job, CliFormat format);
void cli_page_buildup (TallyJob *job, CliFormat format);
/* Rows of a CSV file into a table of the office's catalogue, as one new revision: o->rest is "import", the table's key, the file.
 * Nothing is written while anything is faulty. @reason: (nullable). Gives the exit status. */
int cli_rules_import (const CliOptions *o, const char *reason, gboolean replace);
/* The choices of the labour model that move this job's figures, and what is to be known of them; nothing where all are plain. */
void cli_page_labour (TallyJob *job, CliFormat format);
/* What the count brought to say: methods that fell back and why, cleats assumed, and the like, by how many runs. */
void cli_page_notes (TallyJob *job, CliFormat format);
/* Runs that are not priced; their number. */
guint cli_page_not_priced (TallyJob *job, CliFormat format);
void cli_page_rests (TallyJob *job, CliFormat format);
void cli_page_compare (TallyJob *job, int baseline, CliFormat format);

/* What compare is asked beside the methods. */
typedef struct
{
  int baseline;
  char **what_ifs;      /* (nullable): names; every method under each of them too */
  int by;               /* a JobBy, -1: not broken out */
  const char *claim;    /* (nullable): key */
  const char *of;       /* (nullable): key of the method that sensitivity asks about; NULL: the best */
  gboolean sensitivity, heat, stock, chance;
} CliCompare;

/* A copy of @column without the heading of "what_if" in text where no what-if is asked for. */
CliColumn *cli_way_columns (const CliColumn *column, gsize n, gboolean what_ifs);
/* FALSE with a message when a what-if or a claim cannot be used. */
gboolean cli_page_compare_with (TallyJob *job, const CliCompare *ask, CliFormat format);
/* The cheapest of the ways under one what-if (NULL: as the job stands), the baseline's method where it is as cheap. */
guint cli_best_under (const JobComparison *comparison, const char *what_if);
/* Parts of that page: crew-days, dates and orders of each way; and what else was asked. */
void cli_page_crew (const JobComparison *comparison, CliFormat format);
gboolean cli_page_answers (const JobComparison *comparison, const CliCompare *ask, CliFormat format);

G_END_DECLS

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"
#include "cli/crew-files.h"

#include "base/decimal.h"
#include "job/labour-model.h"
#include "labour/money.h"
#include "store/store.h"

#include <glib/gi18n.h>
#include <string.h>

static const CliColumn columns[] = {
  { "crew", N_ ("crew"), FALSE },
  { "place", N_ ("where"), FALSE },
  { "members", N_ ("members"), FALSE },
  { "heads", N_ ("heads"), TRUE },
  { "hours_a_week", N_ ("hours a week"), TRUE },
  { "paid_over_worked", N_ ("paid / worked"), TRUE },
  { "premium_on_hours_pct", N_ ("premium on hours worked, %"), TRUE },
  { "premium_on_pay_pct", N_ ("premium on total pay, %"), TRUE },
  { "crew_hour", N_ ("crew, an hour"), TRUE },
  { "composite", N_ ("composite, a worker-hour"), TRUE },
  { "rate", N_ ("priced at"), TRUE },
  { "source", NULL, FALSE },
  { "status", N_ ("status"), FALSE },
};

static const CliColumn worked_columns[] = {
  { "crew", N_ ("crew"), FALSE },
  { "worked", N_ ("worked calculation"), FALSE },
};

/* The week that is asked about. */
typedef struct
{
  gboolean asked;
  double hours, premium;
  gint64 paid; /* 0: as the crews' own sheet says */
} Week;

/* The rate that the job named puts in the place of the computed one; -1: none. */
static gint64
own_rate (TallyJob *job, guint crew)
{
  gint64 rate = job ? job_basis (job)->rate[crew] : -1;

  return job && rate != job_crew_rate (job, (int) crew) ? rate : -1;
}

/* @own: own_rate(). */
static void
add_crew (CliTable *t, CliTable *worked, const LabourCrew *crew, const Week *week, gint64 own)
{
  g_autoptr (GString) members = g_string_new (NULL);
  g_autoptr (GPtrArray) lines = labour_crew_worked (crew, week->paid);
  gint64 heads = 0, paid = week->paid;
  double sum = 0;

  for (guint i = 0; i < crew->members->len; i++)
    {
      const LabourMember *m = &g_array_index (crew->members, LabourMember, i);
      g_autofree char *n = decimal_print (m->heads, 3, 0, FALSE);
      LabourHour h;
      labour_member_parts (m, week->paid, &h);
      sum += num_wide_to_double (h.pay + h.on_wage + h.capped + h.flat) / 1e10 * (double) m->heads / 1e3;
      heads += m->heads;
      if (paid == 0)
        paid = m->paid;
      g_string_append_printf (members, "%s%s %s", members->len ? " + " : "", n, m->name);
    }
  cli_table_add (t, crew->key);
  cli_table_add (t, crew->shop ? _ ("shop") : _ ("field"));
  cli_table_add (t, members->str);
  cli_table_take (t, decimal_print (heads, 3, 0, FALSE));
  if (week->asked)
    cli_table_figure (t, week->hours, 6);
  else
    cli_table_add (t, "");
  cli_table_fixed (t, (double) paid / (double) LABOUR_PAID_ONE, 6);
  cli_table_fixed (t, 100 * labour_premium_on_hours (paid), 6);
  cli_table_fixed (t, 100 * labour_premium_on_pay (paid), 6);
  cli_table_fixed (t, sum, 6);
  cli_table_fixed (t, sum / ((double) heads / 1e3), 6);
  g_autofree char *rate = decimal_print (own >= 0 ? own : labour_crew_rate_for (crew, week->paid), 4, 2, FALSE);
  cli_table_add (t, rate);
  cli_table_add (t, crew->source);
  cli_table_add (t, crew->status);
  for (guint i = 0; i < lines->len; i++)
    {
      cli_table_add (worked, crew->key);
      cli_table_add (worked, lines->pdata[i]);
    }
  if (own >= 0)
    {
      cli_table_add (worked, crew->key);
      cli_table_take (worked, g_strdup_printf (_ ("this job prices the hour at %s: the rate was changed for it"), rate));
    }
}

/* The catalogue of the job that is named, of the office file, else the starter. */
static Catalogue *
open_catalogue (CliOptions *o, TallyJob **job)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (Store) store = NULL;
  Catalogue *catalogue;

  if (o->demo || o->demo_round || o->runs || o->job)
    {
      *job = cli_options_job (o);
      return *job ? catalogue_ref (job_basis (*job)->catalogue) : NULL;
    }
  if (!o->office)
    return catalogue_starter ();
  store = store_open (o->office, FALSE, &error);
  catalogue = store ? store_catalogue (store, 0, &error) : NULL;
  if (!catalogue)
    {
      cli_complain ("%s", error->message);
      o->status = CLI_FILE;
    }
  return catalogue;
}

/* --hours and --premium, else the week of the job. */
static gboolean
read_week (const char *hours, const char *premium, TallyJob *job, Week *week)
{
  Fault *fault = NULL;
  gint64 times = 1500000;

  *week = (Week) { .hours = LABOUR_STRAIGHT_WEEK, .premium = 1.5 };
  if ((hours && !labour_week_parse (hours, &week->hours, &fault)) || (premium && !decimal_parse (premium, 6, &times, &fault)))
    {
      g_autofree char *words = fault_words (fault, NULL);
      fault_free (fault);
      cli_complain ("%s: %s", hours && week->hours <= 0 ? "--hours" : "--hours, --premium", words);
      return FALSE;
    }
  if (times < 1000000 || times > 3000000)
    {
      cli_complain (_ ("--premium: enter what an overtime hour is paid, from 1 to 3 times the wage"));
      return FALSE;
    }
  week->premium = (double) times / 1e6;
  week->asked = hours != NULL;
  if (!hours && job && job_labour (job)->paid != LABOUR_PAID_ONE)
    *week = (Week) { TRUE, job_labour (job)->hours, job_labour (job)->premium, 0 };
  if (week->asked)
    week->paid = labour_paid (week->hours, week->premium);
  return TRUE;
}

/* Files instead of a catalogue. */
typedef struct
{
  char *crews, *burdens, *losses, *loss;
} Files;

static void
files_clear (Files *f)
{
  g_free (f->crews);
  g_free (f->burdens);
  g_free (f->losses);
  g_free (f->loss);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Files, files_clear)

static gboolean
loss_basis (const char *text, LabourLossBasis *basis)
{
  *basis = LABOUR_LOSS_DIVIDE;
  for (int i = 0; text && i < LABOUR_N_LOSSES; i++)
    if (strcmp (text, labour_loss_keys[i]) == 0)
      {
        *basis = (LabourLossBasis) i;
        return TRUE;
      }
  if (text)
    cli_complain (_ ("--loss: write divide, for time = base / (1 - loss), or multiply, for time = base x (1 + loss), not “%s”"), text);
  return !text;
}

/* The crews of some tables, or the one named. FALSE when there is none of that name. */
static gboolean
page_crews (const LabourTables *tables, TallyJob *job, const char *key, const Week *week, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("crew", columns, G_N_ELEMENTS (columns));
  g_autoptr (CliTable) worked = cli_table_new ("crew_worked", worked_columns, G_N_ELEMENTS (worked_columns));

  if (key && labour_find_crew (tables, key) < 0)
    {
      cli_complain (_ ("there is no crew “%s”; seamtally crew lists them"), key);
      return FALSE;
    }
  for (guint i = 0; i < tables->crews->len; i++)
    {
      const LabourCrew *crew = g_ptr_array_index (tables->crews, i);
      if (!key || strcmp (crew->key, key) == 0)
        add_crew (t, worked, crew, week, own_rate (job, i));
    }
  cli_table_print (t, format);
  if (format != CLI_JSONL)
    cli_print ("\n");
  cli_table_print (worked, format);
  return TRUE;
}

static int
page_files (const Files *f, const char *key, const Week *week, LabourLossBasis basis, CliFormat format)
{
  LabourTables *tables;
  gboolean found = TRUE;
  int status;

  tables = cli_crew_files (f->crews, f->burdens, f->losses, f->loss, &status);
  if (!tables)
    return status;
  if (f->crews)
    found = page_crews (tables, NULL, key, week, format);
  if (found && f->crews && f->losses && format != CLI_JSONL)
    cli_print ("\n");
  if (found && f->losses)
    cli_page_output (tables, week->asked ? week->hours : 0, week->premium, basis, format);
  labour_tables_free (tables);
  return found ? CLI_DONE : CLI_USAGE;
}

/* What would be taken without changing anything is refused. */
static gboolean
goes_together (const CliOptions *o, const Files *f, const char *hours, const char *premium)
{
  gboolean job = o->demo || o->demo_round || o->runs || o->job;

  if (f->crews || f->losses)
    {
      if (f->loss && !f->losses)
        cli_complain (_ ("--loss goes with --losses: name the file"));
      else
        return cli_options_no_job (o, f->crews ? "crew --crews" : "crew --losses");
    }
  else if (f->loss)
    cli_complain (_ ("--loss goes with --losses: name the file"));
  else if (premium && !hours)
    cli_complain (_ ("--premium goes with --hours: name the working week"));
  else if (!job && ((o->set && *o->set) || o->method || o->rules))
    cli_complain (_ ("--set, --method and --rules change a job: name it with --demo, --runs, or --office and --job"));
  else
    return TRUE;
  return FALSE;
}

int
cli_crew (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_auto (Files) f = { 0 };
  g_autoptr (TallyJob) job = NULL;
  g_autoptr (Catalogue) catalogue = NULL;
  g_autofree char *hours = NULL, *premium = NULL;
  const GOptionEntry more[] = {
    { "hours", 0, 0, G_OPTION_ARG_STRING, &hours, N_ ("Working week: days x hours a day, or hours"), N_ ("5x10") },
    { "premium", 0, 0, G_OPTION_ARG_STRING, &premium, N_ ("Pay of an hour beyond 40, times the wage (1.5)"), N_ ("TIMES") },
    { "crews", 0, 0, G_OPTION_ARG_FILENAME, &f.crews, N_ ("Crews of a CSV file with the headings of the catalogue's sheet"), N_ ("FILE") },
    { "burdens", 0, 0, G_OPTION_ARG_FILENAME, &f.burdens, N_ ("Components of burden beside them"), N_ ("FILE") },
    { "losses", 0, 0, G_OPTION_ARG_FILENAME, &f.losses,
      N_ ("Losses of output by week: what an hour of output costs. The catalogue's sheet, or week, h50, h60 as fractions"), N_ ("FILE") },
    { "loss", 0, 0, G_OPTION_ARG_STRING, &f.loss, N_ ("What a loss means: divide (the default) or multiply"), N_ ("WORD") },
    G_OPTION_ENTRY_NULL,
  };
  LabourLossBasis basis;
  Week week;

  if (!cli_options_read (&o, argc, argv, _ ("[KEY]"),
                         _ ("The hourly rate of each crew, or of one, as a worked calculation: wage, shift and overtime premium, burden by "
                            "component, fringes, travel and subsistence. Crews of the starter catalogue, of the office file, of the job "
                            "named, or of files. Site general is no part of it: it is a line of the build-up."),
                         more))
    return o.status;
  if (g_strv_length (o.rest) > 1)
    {
      cli_complain (_ ("crew takes one crew"));
      return CLI_USAGE;
    }
  if (f.burdens && !f.crews)
    {
      cli_complain (_ ("--burdens goes with --crews: name both files"));
      return CLI_USAGE;
    }
  if (!loss_basis (f.loss, &basis) || !goes_together (&o, &f, hours, premium))
    return CLI_USAGE;
  if (f.crews || f.losses)
    return read_week (hours, premium, NULL, &week) ? page_files (&f, o.rest[0], &week, basis, cli_options_format (&o)) : CLI_USAGE;
  catalogue = open_catalogue (&o, &job);
  if (!catalogue)
    return o.status;
  if (!read_week (hours, premium, job, &week))
    return CLI_USAGE;
  return page_crews (catalogue->labour, job, o.rest[0], &week, cli_options_format (&o)) ? o.status : CLI_USAGE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "job/what-if.h"

#include <glib/gi18n.h>
#include <string.h>

/* "NAME: item.X.price=1.1; setting.crew.heads=6": a what-if for this answer, kept in the job in memory. */
static char *
define_what_if (TallyJob *job, const char *text, Fault **fault)
{
  const char *colon = strchr (text, ':');
  g_autofree char *name = colon ? g_strstrip (g_strndup (text, (gsize) (colon - text))) : NULL;
  g_auto (GStrv) words = g_strsplit (colon ? colon + 1 : "", ";", -1);
  JobEdit *edit;
  guint n = 0;

  if (!name || !*name)
    {
      fault_set (fault, fault_new (0, _ ("write it like \"dear metal: item.galvanised sheet.price=1.20; rate.field=98\""),
                                   _ ("“%s” names no what-if"), text));
      return NULL;
    }
  edit = job_edit_new (name);
  for (char **w = words; *w; w++)
    {
      CostChange *change;
      if (!*g_strstrip (*w))
        continue;
      change = cost_change_parse (*w, fault);
      if (!change)
        {
          job_edit_free (edit);
          return NULL;
        }
      job_edit_what_if (job, edit, name, change, change->value);
      cost_change_free (change);
      n++;
    }
  if (n == 0)
    {
      job_edit_free (edit);
      fault_set (fault, fault_new (0, _ ("write figures behind the colon, parted by semicolons"), _ ("“%s” changes nothing"), name));
      return NULL;
    }
  /* Kept nowhere: the job of a command is detached from its file. */
  job_apply (job, edit, NULL);
  return g_steal_pointer (&name);
}

static gboolean
define_what_ifs (TallyJob *job, char **texts, GPtrArray *names)
{
  for (char **t = texts; t && *t; t++)
    {
      Fault *fault = NULL;
      char *name = define_what_if (job, *t, &fault);
      if (!name)
        {
          g_autofree char *words = fault_words (fault, NULL);
          fault_free (fault);
          cli_complain ("--set-what-if: %s", words);
          return FALSE;
        }
      if (g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
        g_free (name);
      else
        g_ptr_array_add (names, name);
    }
  return TRUE;
}

static gboolean
read_by (const char *word, int *by)
{
  *by = -1;
  for (int i = 0; word && i < JOB_N_BY; i++)
    if (g_ascii_strcasecmp (word, job_by_keys[i]) == 0)
      *by = i;
  if (!word || *by >= 0)
    return TRUE;
  cli_complain (_ ("--by cannot be “%s”; use system, area, band or class"), word);
  return FALSE;
}

int
cli_compare (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_auto (GStrv) what_if = NULL, set_what_if = NULL;
  g_autofree char *by = NULL, *claim = NULL, *of = NULL;
  g_autoptr (GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  CliCompare ask = { 0 };
  const GOptionEntry more[] = {
    { "baseline", 0, 0, G_OPTION_ARG_STRING, &o.baseline, N_ ("Method the others are held against"), N_ ("KEY") },
    { "what-if", 0, 0, G_OPTION_ARG_STRING_ARRAY, &what_if, N_ ("Every method under this what-if of the job too"), N_ ("NAME") },
    { "set-what-if", 0, 0, G_OPTION_ARG_STRING_ARRAY, &set_what_if, N_ ("The same with a what-if that is written here"),
      N_ ("\"NAME: FIGURE=VALUE; ...\"") },
    { "by", 0, 0, G_OPTION_ARG_STRING, &by, N_ ("Broken out by system, area, band (of sizes) or class"), N_ ("WHAT") },
    { "claim", 0, 0, G_OPTION_ARG_STRING, &claim, N_ ("What a claim of saving comes to"), N_ ("KEY") },
    { "sensitivity", 0, 0, G_OPTION_ARG_NONE, &ask.sensitivity, N_ ("What would change the answer, ranked"), NULL },
    { "of", 0, 0, G_OPTION_ARG_STRING, &of, N_ ("The method that sensitivity asks about (default: the best)"), N_ ("KEY") },
    { "chance", 0, 0, G_OPTION_ARG_NONE, &ask.chance, N_ ("How sure: the chance of each way to beat the baseline"), NULL },
    { "heat", 0, 0, G_OPTION_ARG_NONE, &ask.heat, N_ ("The cheapest method by size and class"), NULL },
    { "stock", 0, 0, G_OPTION_ARG_NONE, &ask.stock, N_ ("What the cheapest way needs beyond stock on hand"), NULL },
    G_OPTION_ENTRY_NULL,
  };
  g_autoptr (TallyJob) job = NULL;
  CliFormat format;
  guint faults;

  if (!cli_options_read (&o, argc, argv, "--demo | --runs FILE | --job NAME",
                         _ ("Sets all methods side by side against a baseline: money, hours, minutes and hardware a joint, pieces, "
                            "pounds, crew-days, and the figures at which they change places."),
                         more))
    return o.status;
  if (o.rest[0])
    {
      cli_complain (_ ("compare takes no word “%s”"), o.rest[0]);
      return CLI_USAGE;
    }
  if (!read_by (by, &ask.by))
    return CLI_USAGE;
  job = cli_options_job (&o);
  if (!job)
    return o.status;
  ask.baseline = cli_options_baseline (&o, job);
  if (ask.baseline < 0 || (of && cli_method (job, of) < 0))
    return CLI_USAGE;
  for (char **w = what_if; w && *w; w++)
    g_ptr_array_add (names, g_strdup (*w));
  if (!define_what_ifs (job, set_what_if, names))
    return CLI_USAGE;
  g_ptr_array_add (names, NULL);
  ask.what_ifs = (char **) names->pdata;
  ask.claim = claim;
  ask.of = of;
  ask.sensitivity = ask.sensitivity || of;
  format = cli_options_format (&o);
  if (!cli_page_compare_with (job, &ask, format))
    return CLI_USAGE;
  if (format != CLI_JSONL)
    cli_print ("\n");
  cli_page_labour (job, format);
  faults = cli_page_not_priced (job, format);
  return faults > 0 ? CLI_FAULTS : o.status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/measure.h"
#include "duct/leakage.h"
#include "job/leakage.h"

#include <glib/gi18n.h>
#include <math.h>

static const CliColumn part_columns[] = {
  { "system", N_ ("system"), FALSE },
  { "section", N_ ("section"), FALSE },
  { "class", N_ ("class"), FALSE },
  { "test_pa", N_ ("test Pa"), TRUE },
  { "seal", N_ ("seal"), FALSE },
  { "cl", N_ ("leakage class"), TRUE },
  { "area_ft2", N_ ("area ft2"), TRUE },
  { "allowed_cfm", N_ ("allowed cfm"), TRUE },
  { "area_m2", N_ ("area m2"), TRUE },
  { "allowed_l_s", N_ ("allowed l/s"), TRUE },
  { "tested", N_ ("test priced"), FALSE },
  { "edition", N_ ("edition"), FALSE },
  { "source", N_ ("source"), FALSE },
  { "status", N_ ("status"), FALSE },
  { "fault", N_ ("why no figure stands"), FALSE },
};

static void
add_part (CliTable *t, TallyJob *job, const JobLeakage *part)
{
  const DuctRules *rules = job_basis (job)->catalogue->rules;
  const JobRecord *system = part->system ? job_find (job, JOB_SYSTEM, part->system) : NULL;
  const DuctLeakage *row = part->row >= 0 ? g_ptr_array_index (rules->leakage, (guint) part->row) : NULL;

  cli_table_add (t, system ? system->text[SYSTEM_KEY] : "–");
  cli_table_add (t, part->section == DUCT_ROUND ? _ ("round") : _ ("rectangular"));
  cli_table_take (t, pressure_print (part->pressure, job_names (job)->metric));
  cli_table_int (t, part->pa);
  cli_table_add (t, system && system->text[SYSTEM_SEAL] ? system->text[SYSTEM_SEAL] : "");
  if (row)
    cli_table_figure (t, part->cl, 6);
  else
    cli_table_add (t, "");
  cli_table_fixed (t, measure_ft2 (part->area_mm2), 1);
  if (row)
    cli_table_fixed (t, part->cfm, 1);
  else
    cli_table_add (t, "");
  cli_table_fixed (t, (double) part->area_mm2 / 1e6, 2);
  if (row)
    cli_table_fixed (t, part->l_s, 2);
  else
    cli_table_add (t, "");
  cli_table_add (t, system && system->num[SYSTEM_TESTED] == 1 ? _ ("yes") : _ ("no"));
  cli_table_add (t, row ? row->edition : "");
  cli_table_add (t, row ? row->source : "");
  cli_table_add (t, row ? duct_status_key (row->status) : "");
  cli_table_take (t, part->fault ? fault_words (part->fault, NULL) : g_strdup (""));
}

static const CliColumn euro_columns[] = {
  { "euro_class", N_ ("EN 1507, EN 12237"), FALSE },
  { "limit", N_ ("l/s a m2 at 1 Pa"), TRUE },
  { "at_400_pa", N_ ("at 400 Pa"), TRUE },
  { "cl", N_ ("as leakage class"), TRUE },
  { "status", N_ ("status"), FALSE },
};

/* The European ladder, to read a specification by; no run rests on it. */
static void
page_euro (CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("european_classes", euro_columns, G_N_ELEMENTS (euro_columns));

  for (int i = 0; i < DUCT_N_EURO_CLASSES; i++)
    {
      const DuctEuroClass *euro = duct_euro_class (i);
      cli_table_add (t, euro->key);
      cli_table_figure (t, euro->k, 3);
      cli_table_fixed (t, duct_leakage_flow_si (duct_euro_cl (euro), 400), 3);
      cli_table_fixed (t, duct_euro_cl (euro), 2);
      cli_table_add (t, duct_status_key (euro->status));
    }
  cli_table_print (t, format);
}

int
cli_leakage (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_autoptr (TallyJob) job = NULL;
  guint left_out;

  if (!cli_options_read (
          &o, argc, argv, _ ("[JOB]"),
          _ ("What each system may leak by its seal class, its pressure class and the edition that the job names: F = "
             "CL P^0.65, F in cfm a 100 ft2, P in inches w.g."),
          NULL))
    return o.status;
  if (g_strv_length (o.rest) == 1 && !o.job && !o.runs && !o.demo)
    o.job = g_strdup (o.rest[0]);
  else if (o.rest[0])
    {
      cli_complain (_ ("leakage takes one job"));
      return CLI_USAGE;
    }
  job = cli_options_job (&o);
  if (!job)
    return o.status;
  g_autoptr (GArray) parts = job_leakage (job, &left_out);
  g_autoptr (CliTable) table = cli_table_new ("leakage", part_columns, G_N_ELEMENTS (part_columns));
  for (guint i = 0; i < parts->len; i++)
    add_part (table, job, &g_array_index (parts, JobLeakage, i));
  cli_table_print (table, cli_options_format (&o));
  if (cli_options_format (&o) != CLI_JSONL)
    cli_print ("\n");
  page_euro (cli_options_format (&o));
  if (cli_options_format (&o) == CLI_TEXT)
    cli_print ("\n%s\n", _ ("The test pressure is the pressure class. The job's specification says which edition, "
                            "pressure and share of the "
                            "duct are tested; sealant needs its time to cure first (48 hours by one maker's sheet)."));
  if (left_out > 0)
    cli_complain_not_priced (job, 0);
  return left_out > 0 ? CLI_FAULTS : o.status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "job/cell.h"
#include "job/note-line.h"

#include <glib/gi18n.h>
#include <string.h>

static const CliColumn columns[] = {
  { "run", N_ ("run"), TRUE },
  { "kind", N_ ("kind"), FALSE },
  { "size", N_ ("size"), FALSE },
  { "method", N_ ("method"), FALSE },
  { "method_asked", NULL, FALSE },
  { "method_reason", NULL, FALSE },
  { "gauge", N_ ("gauge"), TRUE },
  { "gauge_status", NULL, FALSE },
  { "pieces", N_ ("pieces"), TRUE },
  { "joints", N_ ("joints"), TRUE },
  { "ends", N_ ("ends"), TRUE },
  { "ends_by_others", N_ ("by others"), TRUE },
  { "unmatched", N_ ("unmatched"), TRUE },
  { "frames", N_ ("frames"), TRUE },
  { "corners", N_ ("corners"), TRUE },
  { "bars", NULL, TRUE },
  { "flange_ft", N_ ("flange ft"), TRUE },
  { "gasket_ft", N_ ("gasket ft"), TRUE },
  { "bolts", N_ ("bolts"), TRUE },
  { "fasteners", N_ ("fasteners"), TRUE },
  { "cleats", N_ ("cleats"), TRUE },
  { "cleat_ft", N_ ("cleat ft"), TRUE },
  { "screws", N_ ("screws"), TRUE },
  { "hangers", N_ ("hangers"), TRUE },
  { "area_ft2", N_ ("area ft2"), TRUE },
  { "net_lb", N_ ("net lb"), TRUE },
  { "shipped_lb", N_ ("shipped lb"), TRUE },
  { "note", N_ ("note"), FALSE },
  { "fault", N_ ("fault"), FALSE },
};

/* Measures between "pieces" and "shipped_lb", in the order of the columns. */
static const struct
{
  CostMeasure measure;
  double unit;
} figures[] = {
  { COST_PIECES, 1000 },       { COST_JOINTS, 1000 },    { COST_ENDS, 1000 },     { COST_ENDS_OTHERS, 1000 },
  { COST_N_MEASURES, 1000 },   { COST_FRAMES, 1000 },    { COST_CORNERS, 1000 },  { COST_BARS, 1000 },
  { COST_FLANGE_UM, 304800 },  { COST_GASKET_UM, 304800 }, { COST_BOLTS, 1000 },  { COST_FASTENERS, 1000 },
  { COST_CLEATS, 1000 },       { COST_CLEAT_UM, 304800 }, { COST_SCREWS, 1000 },  { COST_HANGERS, 1000 },
  { COST_AREA_MM2, MEASURE_MM2_PER_FT2 }, { COST_NET_MG, MEASURE_MG_PER_LB }, { COST_SHIPPED_MG, MEASURE_MG_PER_LB },
};

static char *
note_words (const JobRunResult *r)
{
  g_autoptr (GString) words = g_string_new (NULL);

  for (guint bit = 0; bit < DUCT_N_NOTES; bit++)
    if (r->measure.notes & (1u << bit))
      g_string_append_printf (words, "%s%s", words->len ? "; " : "", duct_note_words ((DuctNote) (1u << bit)));
  return g_strdup (words->str);
}

static void
add_figures (CliTable *t, TallyJob *job, const JobRunResult *r, gboolean blank)
{
  const CostBasis *basis = job_basis (job);
#define V(m) r->vector[cost_measure_slot (basis, m)]

  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    if (blank)
      cli_table_add (t, "");
    else
      cli_table_figure (t, (double) (figures[i].measure == COST_N_MEASURES ? V (COST_ENDS) + V (COST_ENDS_OTHERS) - 2 * V (COST_JOINTS)
                                                                           : V (figures[i].measure))
                             / figures[i].unit,
                        figures[i].unit == 1000 ? 12 : 6);
#undef V
}

static void
add_row (CliTable *t, TallyJob *job, const JobRecord *run, guint number, const JobRunResult *r)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  const JobNames *names = job_names (job);
  const DuctRules *rules = catalogue->rules;
  gboolean duct = r->vector && r->method >= 0, gauge = duct && duct_kind_has_gauge ((DuctKind) r->shape.kind);
  DuctGaugeOrigin origin;
  gboolean ruled = duct && duct_build_origin (rules, &r->build, &origin);
  int size = job_field_find (JOB_RUN, "size");

  cli_table_int (t, number);
  cli_table_take (t, job_record_print (run, job_field_find (JOB_RUN, "kind"), names));
  cli_table_take (t, job_record_print (run, size, names));
  cli_table_add (t, duct ? catalogue_method (catalogue, r->method)->key : "");
  cli_table_add (t, r->asked >= 0 ? catalogue_method (catalogue, r->asked)->key : "");
  cli_table_add (t, r->reason);
  cli_table_add (t, gauge ? duct_rules_sheet (rules, r->build.sheet)->label : "");
  cli_table_add (t, !gauge ? "" : ruled ? duct_status_key (origin.status) : _ ("entered"));
  add_figures (t, job, r, !r->vector || job_is_note_line (run));
  if (duct)
    {
      g_autofree char *notes = note_words (r);
      const char *rule = ruled ? origin.note : "";
      g_autofree char *used = r->reason ? g_strdup_printf (_ ("%s asked: %s"), catalogue_method (catalogue, r->asked)->key, r->reason)
                                        : g_strdup ("");
      g_autofree char *unused = job_caution_words (catalogue, run);
      const char *parts[] = { used, notes, unused ? unused : "", rule };
      g_autoptr (GString) all = g_string_new (NULL);
      for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
        if (*parts[i])
          g_string_append_printf (all, "%s%s", all->len ? "; " : "", parts[i]);
      cli_table_add (t, all->str);
    }
  else if (job_is_note_line (run))
    cli_table_add (t, job_note_line_words (run));
  else
    {
      g_autofree char *unused = job_caution_words (catalogue, run);
      cli_table_add (t, unused);
    }
  if (r->fault)
    {
      const char *field = r->fault_field >= 0 ? job_type_info (JOB_RUN)->field[r->fault_field].key : NULL;
      g_autofree char *text = r->fault_field >= 0 ? job_record_print (run, r->fault_field, names) : g_strdup ("");
      g_autofree char *words = fault_words (r->fault, text);
      cli_table_take (t, field ? g_strdup_printf ("%s: %s", field, words) : g_strdup (words));
    }
  else
    cli_table_add (t, "");
}

int
cli_measure (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_autoptr (TallyJob) job = NULL;
  guint faults = 0;

  if (!cli_options_read (&o, argc, argv, _ ("RUNS.csv"),
                         _ ("Measures each run with the starter catalogue: pieces, joints, hardware and weights of the whole run."),
                         NULL))
    return o.status;
  if (g_strv_length (o.rest) == 1 && !o.runs && !o.demo && !o.job)
    o.runs = g_strdup (o.rest[0]);
  else if (o.rest[0])
    {
      cli_complain (_ ("measure takes one file of runs"));
      return CLI_USAGE;
    }
  job = cli_options_job (&o);
  if (!job)
    return o.status;

  g_autoptr (CliTable) table = cli_table_new ("measure", columns, G_N_ELEMENTS (columns));
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      JobRunResult r;
      faults += !job_compute (job, run, JOB_OWN_METHOD, &r);
      add_row (table, job, run, i + 1, &r);
      job_run_result_clear (&r);
    }
  cli_table_print (table, cli_options_format (&o));
  if (faults > 0)
    cli_complain_not_priced (job, 0);
  return faults > 0 ? CLI_FAULTS : o.status;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "cost/rests.h"
#include "job/cell.h"
#include "job/note-line.h"

#include <glib/gi18n.h>
#include <string.h>

static const CliColumn total_columns[] = {
  { "system", N_ ("system"), FALSE },       { "area", N_ ("area"), FALSE },
  { "runs", N_ ("runs"), TRUE },            { "not_priced", N_ ("not priced"), TRUE },
  { "pieces", N_ ("pieces"), TRUE },        { "joints", N_ ("joints"), TRUE },
  { "net_lb", N_ ("net lb"), TRUE },        { "shipped_lb", N_ ("shipped lb"), TRUE },
  { "shop_hours", N_ ("shop h"), TRUE },    { "field_hours", N_ ("field h"), TRUE },
  { "material", N_ ("material"), TRUE },    { "cost", N_ ("cost"), TRUE },
  { "price", N_ ("price"), TRUE },
};

/* One part of a job in the table of totals. */
typedef struct
{
  char *system, *area;
  JobTotals totals;
} Part;

static void
part_free (gpointer data)
{
  Part *part = data;

  g_free (part->system);
  g_free (part->area);
  job_totals_clear (&part->totals);
  g_free (part);
}

static void
add_part (GPtrArray *parts, TallyJob *job, const char *system, const char *area, JobScope scope)
{
  Part *part = g_new0 (Part, 1);

  part->system = g_strdup (system);
  part->area = g_strdup (area);
  job_totals (job, &scope, JOB_OWN_METHOD, &part->totals);
  if (part->totals.runs + part->totals.not_priced > 0)
    g_ptr_array_add (parts, part);
  else
    part_free (part);
}

/* Every system x area that holds runs, also those without a system or an area. */
static GPtrArray *
all_parts (TallyJob *job)
{
  GPtrArray *parts = g_ptr_array_new_with_free_func (part_free);

  for (guint s = 0; s <= job_n (job, JOB_SYSTEM); s++)
    for (guint a = 0; a <= job_n (job, JOB_AREA); a++)
      {
        const JobRecord *system = s < job_n (job, JOB_SYSTEM) ? job_at (job, JOB_SYSTEM, s) : NULL;
        const JobRecord *area = a < job_n (job, JOB_AREA) ? job_at (job, JOB_AREA, a) : NULL;
        add_part (parts, job, system ? system->text[SYSTEM_KEY] : "–", area ? area->text[AREA_KEY] : "–",
                  (JobScope) { system ? system->id : -1, area ? area->id : -1 });
      }
  return parts;
}

static void
add_total_row (CliTable *t, TallyJob *job, const char *system, const char *area, const JobTotals *totals, gint64 material,
               gint64 cost, gint64 price)
{
  const CostBasis *basis = job_basis (job);
  int decimals = job_decimals (job);
#define V(m) totals->vector[cost_measure_slot (basis, m)]

  cli_table_add (t, system);
  cli_table_add (t, area);
  cli_table_int (t, totals->runs);
  cli_table_int (t, totals->not_priced);
  cli_table_int (t, V (COST_PIECES) / 1000);
  cli_table_int (t, V (COST_JOINTS) / 1000);
  cli_table_fixed (t, measure_lb (V (COST_NET_MG)), 1);
  cli_table_fixed (t, measure_lb (V (COST_SHIPPED_MG)), 1);
  cli_table_fixed (t, num_wide_to_double (totals->sums.time[1]) / COST_TIME_DEN, 2);
  cli_table_fixed (t, num_wide_to_double (totals->sums.time[0]) / COST_TIME_DEN, 2);
  cli_table_take (t, money_print (material, decimals, FALSE));
  cli_table_take (t, money_print (cost, decimals, FALSE));
  cli_table_take (t, money_print (price, decimals, FALSE));
#undef V
}

void
cli_page_totals (TallyJob *job, CliFormat format)
{
  const CostBasis *basis = job_basis (job);
  g_autoptr (GPtrArray) parts = all_parts (job);
  g_autoptr (CliTable) table = cli_table_new ("totals", total_columns, G_N_ELEMENTS (total_columns));
  g_autofree CostSums *sums = g_new0 (CostSums, MAX (parts->len, 1));
  JobScope all = { 0, 0 };
  JobTotals whole;

  job_totals (job, &all, JOB_OWN_METHOD, &whole);
  g_autoptr (BuildUp) up = buildup_new (basis, &whole.sums, job_decimals (job));
  for (guint i = 0; i < parts->len; i++)
    sums[i] = ((Part *) g_ptr_array_index (parts, i))->totals.sums;
  /* The parts of each line add up to the line, to the cent. */
  g_autofree gint64 *split = buildup_break_out (up, sums, parts->len);
  gsize n = parts->len, material = (gsize) MAX (buildup_find (basis, "material"), 0),
        cost = (gsize) buildup_find (basis, "cost"), price = (gsize) buildup_find (basis, "price");
  for (guint i = 0; i < parts->len; i++)
    {
      const Part *part = g_ptr_array_index (parts, i);
      add_total_row (table, job, part->system, part->area, &part->totals, split[material * n + i], split[cost * n + i],
                     split[price * n + i]);
    }
  add_total_row (table, job, _ ("all"), "", &whole, up->value[material], up->value[cost], up->value[price]);
  cli_table_print (table, format);
  job_totals_clear (&whole);
}

static const CliColumn build_columns[] = {
  { "line", NULL, FALSE },
  { "label", N_ ("build-up"), FALSE },
  { "rate_pct", N_ ("%"), TRUE },
  { "amount", N_ ("amount"), TRUE },
};

void
cli_page_buildup (TallyJob *job, CliFormat format)
{
  const CostBasis *basis = job_basis (job);
  g_autoptr (CliTable) table = cli_table_new ("buildup", build_columns, G_N_ELEMENTS (build_columns));
  JobScope all = { 0, 0 };
  JobTotals whole;

  job_totals (job, &all, JOB_OWN_METHOD, &whole);
  g_autoptr (BuildUp) up = buildup_new (basis, &whole.sums, job_decimals (job));
  for (guint i = 0; i < basis->buildup->len; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (basis->buildup, i);
      gboolean rated = line->op == COST_OP_RATE || line->op == COST_OP_MARKUP || line->op == COST_OP_MARGIN;
      cli_table_add (table, line->key);
      cli_table_take (table, line->op == COST_OP_MARGIN ? g_strdup_printf (_ ("%s (share of the price)"), _ (line->label))
                             : line->op == COST_OP_MARKUP ? g_strdup_printf (_ ("%s (share of what stands above)"), _ (line->label))
                                                          : g_strdup (_ (line->label)));
      cli_table_take (table, rated ? decimal_print (line->rate_ppm, 4, 2, FALSE) : g_strdup (""));
      cli_table_take (table, money_print (up->value[i], up->decimals, FALSE));
    }
  cli_table_print (table, format);
  job_totals_clear (&whole);
}

static const CliColumn fault_columns[] = {
  { "run", N_ ("run"), TRUE },
  { "what", N_ ("line"), FALSE },
  { "field", N_ ("cell"), FALSE },
  { "fault", N_ ("why it is not priced, and the remedy"), FALSE },
};

guint
cli_page_not_priced (TallyJob *job, CliFormat format)
{
  g_autoptr (CliTable) table = cli_table_new ("not_priced", fault_columns, G_N_ELEMENTS (fault_columns));
  guint n = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      JobRunResult r;
      if (!job_compute (job, run, JOB_OWN_METHOD, &r))
        {
          g_autofree char *text = r.fault_field >= 0 ? job_record_print (run, r.fault_field, job_names (job)) : g_strdup ("");
          cli_table_int (table, i + 1);
          cli_table_take (table, cli_run_name (job, run, i + 1));
          cli_table_add (table, r.fault_field >= 0 ? job_type_info (JOB_RUN)->field[r.fault_field].key : "");
          cli_table_take (table, fault_words (r.fault, text));
          n++;
        }
      job_run_result_clear (&r);
    }
  if (n > 0)
    cli_table_print (table, format);
  else if (format == CLI_TEXT)
    cli_print ("%s\n", _ ("Every run is priced."));
  return n;
}

static const CliColumn rest_columns[] = {
  { "status", N_ ("status of the figures"), FALSE },
  { "items", N_ ("items"), TRUE },
  { "steps", N_ ("steps"), TRUE },
  { "money", N_ ("material and rental"), TRUE },
  { "hours", N_ ("worker-hours before conditions"), TRUE },
  { "gauges", N_ ("runs with a gauge of it"), TRUE },
};

/* Runs by the status of the rule that gave their gauge. */
static void
count_gauges (TallyJob *job, gint64 gauges[DUCT_N_STATUSES])
{
  const DuctRules *rules = job_basis (job)->catalogue->rules;

  memset (gauges, 0, sizeof (gint64) * DUCT_N_STATUSES);
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      JobRunResult r;
      DuctGaugeOrigin origin;
      if (job_compute (job, job_at (job, JOB_RUN, i), JOB_OWN_METHOD, &r) && r.method >= 0
          && duct_kind_has_gauge ((DuctKind) r.shape.kind))
        gauges[duct_build_origin (rules, &r.build, &origin) ? origin.status : DUCT_SHOPS_OWN]++;
      job_run_result_clear (&r);
    }
}

void
cli_page_rests (TallyJob *job, CliFormat format)
{
  g_autoptr (CliTable) table = cli_table_new ("rests_on", rest_columns, G_N_ELEMENTS (rest_columns));
  CostRests rests[DUCT_N_STATUSES];
  gint64 gauges[DUCT_N_STATUSES];
  JobScope all = { 0, 0 };
  gboolean weak = FALSE;
  JobTotals whole;

  job_totals (job, &all, JOB_OWN_METHOD, &whole);
  cost_rests (job_basis (job), whole.vector, rests);
  count_gauges (job, gauges);
  for (int s = 0; s < DUCT_N_STATUSES; s++)
    {
      if (rests[s].items + rests[s].steps + gauges[s] == 0)
        continue;
      weak = weak || cost_status_weak ((DuctStatus) s);
      cli_table_add (table, duct_status_key ((DuctStatus) s));
      cli_table_int (table, rests[s].items);
      cli_table_int (table, rests[s].steps);
      cli_table_take (table, money_print (money_round (rests[s].money, 2), 2, FALSE));
      cli_table_fixed (table, num_wide_to_double (rests[s].ms) / 3.6e6, 2);
      cli_table_int (table, gauges[s]);
    }
  cli_table_print (table, format);
  if (format == CLI_TEXT && weak)
    cli_print ("%s\n", _ ("This price rests on invented or remembered figures: replace them with your own before a bid rests on it."));
  if (format == CLI_TEXT)
    cli_print ("%s\n", _ ("The specification, the engineer of record, the local code and licensed practice govern; they may ask for "
                          "more than any row here."));
  job_totals_clear (&whole);
}

static const CliColumn note_columns[] = {
  { "runs", N_ ("runs"), TRUE },
  { "note", N_ ("what to know"), FALSE },
};

void
cli_page_notes (TallyJob *job, CliFormat format)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  g_autoptr (CliTable) table = cli_table_new ("notes", note_columns, G_N_ELEMENTS (note_columns));
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GPtrArray) order = g_ptr_array_new ();

  cli_page_labour (job, format);
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
      char *unused;
      JobRunResult r;
      if (job_compute (job, job_at (job, JOB_RUN, i), JOB_OWN_METHOD, &r) && r.method >= 0)
        {
          if (r.reason)
            g_ptr_array_add (words, g_strdup_printf (_ ("%s instead of %s: %s"), catalogue_method (catalogue, r.method)->key,
                                                     catalogue_method (catalogue, r.asked)->key, r.reason));
          for (guint bit = 0; bit < DUCT_N_NOTES; bit++)
            if (r.measure.notes & (1u << bit))
              g_ptr_array_add (words, g_strdup (duct_note_words ((DuctNote) (1u << bit))));
        }
      if (r.vector && (unused = job_caution_words (catalogue, job_at (job, JOB_RUN, i))))
        g_ptr_array_add (words, unused);
      job_run_result_clear (&r);
      for (guint k = 0; k < words->len; k++)
        {
          const char *word = g_ptr_array_index (words, k);
          guint n = GPOINTER_TO_UINT (g_hash_table_lookup (seen, word));
          char *key = g_strdup (word);
          if (n == 0)
            g_ptr_array_add (order, key);
          g_hash_table_insert (seen, key, GUINT_TO_POINTER (n + 1));
        }
    }
  for (guint i = 0; i < order->len; i++)
    {
      cli_table_int (table, GPOINTER_TO_UINT (g_hash_table_lookup (seen, g_ptr_array_index (order, i))));
      cli_table_add (table, g_ptr_array_index (order, i));
    }
  if (order->len > 0)
    {
      cli_table_print (table, format);
      if (format != CLI_JSONL)
        cli_print ("\n");
    }
}

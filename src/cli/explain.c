/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"
#include "cli/explain-answer.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "cost/explain.h"
#include "duct/rests.h"
#include "job/note-line.h"

#include <glib/gi18n.h>
#include <stdlib.h>
#include <string.h>

static void
gap (CliFormat format)
{
  if (format != CLI_JSONL)
    cli_print ("\n");
}

static double
money_of (const CostExplainLine *line)
{
  return num_wide_to_double (line->money) / (line->step ? num_wide_to_double (COST_LABOUR_DEN) : 1e10);
}

/* ---- one run ---- */

static const CliColumn build_columns[] = {
  { "what", N_ ("what"), FALSE },
  { "value", N_ ("value"), FALSE },
  { "source", N_ ("source"), FALSE },
  { "status", N_ ("status"), FALSE },
};

static void
add_fact (CliTable *t, const char *what, char *value, const char *source, const char *status)
{
  cli_table_add (t, what);
  cli_table_take (t, value);
  cli_table_add (t, source);
  cli_table_add (t, status);
}

/* Liner, wrap, sealing and supports, each with the row it rests on. */
static void
add_covering (CliTable *t, const DuctRules *rules, const JobRunResult *r)
{
  static const struct
  {
    const char *table, *what;
  } names[] = { { "liner_pins", N_ ("liner") },         { "wraps", N_ ("wrap") },
                { "seal_classes", N_ ("sealing") },     { "supports", N_ ("supports") },
                { "hanger_loads", N_ ("hanger load") }, { "allowances", N_ ("supports") },
                { "cleats", N_ ("cleats at a sleeve") } };
  g_autoptr (GArray) rests = duct_covering_rests (rules, &r->shape, &r->build);

  for (guint i = 0; i < rests->len; i++)
    {
      const DuctRest *rest = &g_array_index (rests, DuctRest, i);
      for (gsize k = 0; k < G_N_ELEMENTS (names); k++)
        if (strcmp (names[k].table, rest->table) == 0)
          add_fact (t, _ (names[k].what), g_strdup (rest->words), rest->source, duct_status_key (rest->status));
    }
}

static void
page_build (TallyJob *job, const JobRecord *run, const JobRunResult *r, CliFormat format)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  const DuctRules *rules = catalogue->rules;
  const CostMethod *method = catalogue_method (catalogue, r->method);
  const DuctConnection *connection = duct_rules_connection (rules, r->build.connection);
  const DuctSheet *sheet = duct_rules_sheet (rules, r->build.sheet);
  g_autoptr (CliTable) t = cli_table_new ("build", build_columns, G_N_ELEMENTS (build_columns));
  g_autofree char *class_text = pressure_print (r->shape.pressure, FALSE), *unused = job_unused_words (run);
  DuctGaugeOrigin origin;

  add_fact (t, _ ("method"), r->reason ? g_strdup_printf (_ ("%s (asked: %s; %s)"), method->key,
                                                          catalogue_method (catalogue, r->asked)->key, r->reason)
                                       : g_strdup (method->key),
            method->source, duct_status_key (method->status));
  add_fact (t, _ ("connection"), g_strdup (connection->key), connection->source, duct_status_key (connection->status));
  add_fact (t, _ ("class, in w.g."), g_steal_pointer (&class_text), "", "");
  if (r->shape.h > 0)
    {
      gint64 in = 2 * r->shape.liner; /* clear of the liner */
      double d = (double) duct_equivalent_diameter (r->shape.w - in, r->shape.h - in) / (double) LENGTH_NM_PER_IN;
      add_fact (t, _ ("round duct of equal friction"), g_strdup_printf (_ ("%.1f in diameter"), d),
                _ ("Huebscher 1948, as the ASHRAE Handbook Fundamentals 2001 gives it: 1.30 (ab)^0.625 / (a + b)^0.25"),
                duct_status_key (DUCT_PUBLISHED));
    }
  if (duct_build_origin (rules, &r->build, &origin))
    {
      g_autofree char *side = origin.side_to == G_MAXINT64 ? g_strdup (_ ("(no limit)")) : length_print_unit (origin.side_to, LENGTH_STYLE_IN);
      g_autofree char *to = pressure_print (origin.class_to, FALSE);
      add_fact (t, _ ("gauge"),
                g_strdup_printf (origin.round ? _ ("%s: rule set %s, class to %s, diameter to %s%s%s")
                                              : _ ("%s: rule set %s, class to %s, longest side to %s%s%s"),
                                 sheet->label, origin.set, to, side, *origin.note ? "; " : "", origin.note),
                origin.source, duct_status_key (origin.status));
    }
  else if (duct_kind_has_gauge ((DuctKind) r->shape.kind))
    add_fact (t, _ ("gauge"), g_strdup_printf (_ ("%s: entered on the run"), sheet->label), "", "");
  if (duct_kind_has_gauge ((DuctKind) r->shape.kind))
    add_fact (t, _ ("sheet"), g_strdup_printf ("%s %s", duct_metal_key (sheet->metal), sheet->label), sheet->source, duct_status_key (sheet->status));
  if (r->deducted != 0)
    {
      LengthStyle style = job_names (job)->metric ? LENGTH_STYLE_MM : LENGTH_STYLE_FT_IN;
      g_autofree char *less = length_print_unit (r->deducted, style);
      g_autofree char *laid = length_print_unit (r->shape.dim[DUCT_DIM_LENGTH], style);
      add_fact (t, _ ("length through fittings"), g_strdup_printf (_ ("%s taken off for the fittings, %s laid"), less, laid), "", "");
    }
  add_covering (t, rules, r);
  for (guint bit = 0; bit < DUCT_N_NOTES; bit++)
    if (r->measure.notes & (1u << bit))
      add_fact (t, _ ("note"), g_strdup (duct_note_words ((DuctNote) (1u << bit))), "", "");
  if (unused)
    add_fact (t, _ ("note"), g_strdup (unused), "", "");
  cli_explain_labour (t, job, run);
  cli_table_print (t, format);
}

static const CliColumn lot_columns[] = {
  { "lot", N_ ("lot"), TRUE },          { "pieces", N_ ("like pieces"), TRUE },
  { "laid_in", N_ ("laid or centre in"), TRUE }, { "net_lb", N_ ("net lb each"), TRUE },
  { "ends", N_ ("ends"), TRUE },        { "frames", N_ ("frames"), TRUE },
  { "joints", N_ ("joints"), TRUE },    { "screws", N_ ("screws"), TRUE },
  { "hangers", N_ ("hangers"), TRUE },
};

static void
page_lots (const JobRunResult *r, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("lots", lot_columns, G_N_ELEMENTS (lot_columns));

  for (int i = 0; i < r->measure.n_lots; i++)
    {
      const DuctLot *lot = &r->measure.lot[i];
      cli_table_int (t, i + 1);
      cli_table_int (t, lot->n);
      cli_table_figure (t, (double) lot->length / (double) LENGTH_NM_PER_IN, 7);
      cli_table_fixed (t, measure_lb (lot->one[DUCT_NET_LB]), 3);
      cli_table_int (t, lot->one[DUCT_END_MADE] / 1000);
      cli_table_int (t, lot->one[DUCT_FRAME] / 1000);
      cli_table_int (t, duct_lot_joints (lot) / 1000);
      cli_table_int (t, (lot->one[DUCT_SCREW] + lot->one[DUCT_ROUND_SCREW]) / 1000);
      cli_table_figure (t, (double) (lot->one[DUCT_HANGER] + lot->one[DUCT_SUPPORT]) / 1000, 6);
    }
  cli_table_print (t, format);
}

static const CliColumn line_columns[] = {
  { "lot", N_ ("lot"), TRUE },
  { "place", N_ ("place"), FALSE },
  { "driver", N_ ("driver"), FALSE },
  { "target", NULL, FALSE },
  { "type", NULL, FALSE },
  { "words", N_ ("line"), FALSE },
  { "piece_minutes", N_ ("min a piece"), TRUE },
  { "piece_quantity", NULL, TRUE },
  { "unit", NULL, FALSE },
  { "pieces", NULL, TRUE },
  { "factor", N_ ("factor"), TRUE },
  { "money", N_ ("money"), TRUE },
  { "source", N_ ("source"), FALSE },
  { "status", N_ ("status"), FALSE },
};

static void
add_line (CliTable *t, const CostBasis *basis, const CostExplainLine *line)
{
  g_autofree char *factor = decimal_print (line->factor_ppm, 6, 2, FALSE);

  cli_table_int (t, line->lot + 1);
  cli_table_add (t, labour_place_key (line->place));
  cli_table_add (t, duct_driver_info (line->driver)->key);
  cli_table_add (t, line->step ? catalogue_step (basis->catalogue, line->target)->key
                               : catalogue_item (basis->catalogue, line->target)->key);
  cli_table_add (t, line->step ? "step" : "item");
  cli_table_take (t, cost_explain_words (basis, line));
  if (line->step)
    cli_table_fixed (t, (double) line->amount / 60000, 3);
  else
    cli_table_add (t, "");
  if (line->step)
    cli_table_add (t, "");
  else
    cli_table_take (t, decimal_print (line->amount, 6, 0, FALSE));
  cli_table_add (t, line->step ? "" : catalogue_item (basis->catalogue, line->target)->unit);
  cli_table_int (t, line->pieces);
  cli_table_add (t, line->step ? factor : "");
  cli_table_fixed (t, money_of (line), 4);
  cli_table_add (t, line->source);
  cli_table_add (t, line->status);
}

static const CliColumn sum_columns[] = {
  { "sum", N_ ("sum of the run"), FALSE },
  { "one", N_ ("one run"), TRUE },
  { "count", N_ ("count"), TRUE },
  { "times", N_ ("times of the area"), TRUE },
  { "all", N_ ("in the job"), TRUE },
};

static void
add_sum (CliTable *t, const char *what, double one, gint64 count, gint64 times, double all)
{
  g_autofree char *n = decimal_print (count, 3, 0, FALSE);

  cli_table_add (t, what);
  cli_table_fixed (t, one, 3);
  cli_table_add (t, n);
  cli_table_int (t, times);
  cli_table_fixed (t, all, 3);
}

/* What the lines add up to, and what of it stands in the job's totals (from the priced vector, so that the two can be held
 * against each other). */
static void
page_sums (TallyJob *job, const JobRecord *run, const JobRunResult *r, const GArray *lines, CliFormat format)
{
  const LabourTables *labour = job_basis (job)->catalogue->labour;
  g_autoptr (CliTable) t = cli_table_new ("sums", sum_columns, G_N_ELEMENTS (sum_columns));
  double minutes[2] = { 0 }, conditioned[2] = { 0 }, labour_money[2] = { 0 }, material = 0;
  gint64 times;
  CostSums sums;

  for (guint i = 0; i < lines->len; i++)
    {
      const CostExplainLine *line = &g_array_index (lines, CostExplainLine, i);
      if (line->step)
        {
          const LabourStep *step = catalogue_step (job_basis (job)->catalogue, line->target);
          gboolean shop = ((LabourCrew *) g_ptr_array_index (labour->crews, (guint) step->crew))->shop;
          double ms = (double) (line->amount * line->pieces);
          minutes[shop] += line->shared ? 0 : ms / 60000;
          conditioned[shop] += ms * (double) line->factor_ppm / 6e10;
          labour_money[shop] += money_of (line);
        }
      else
        material += money_of (line);
    }
  job_run_conditions (job, run, NULL, NULL, &times);
  job_run_sums (job, run, r->vector, &sums);
  add_sum (t, _ ("shop worker-minutes"), minutes[1], r->count, times, num_wide_to_double (sums.time[1]) / 6e10);
  add_sum (t, _ ("field worker-minutes before conditions"), minutes[0], r->count, times,
           minutes[0] * (double) r->count / 1000 * (double) times);
  add_sum (t, _ ("field worker-minutes"), conditioned[0], r->count, times, num_wide_to_double (sums.time[0]) / 6e10);
  add_sum (t, _ ("shop labour, money"), labour_money[1], r->count, times,
           num_wide_to_double (sums.labour[1]) / num_wide_to_double (COST_LABOUR_DEN));
  add_sum (t, _ ("field labour, money"), labour_money[0], r->count, times,
           num_wide_to_double (sums.labour[0]) / num_wide_to_double (COST_LABOUR_DEN));
  add_sum (t, _ ("material, money"), material, r->count, times, num_wide_to_double (sums.items[COST_MATERIAL]) / 1e10);
  cli_table_print (t, format);
}

/* A counted line is a product or two: there are no lots and no recipe. */
static void
explain_counted (TallyJob *job, const JobRecord *run, const JobRunResult *r, CliFormat format)
{
  const CostBasis *basis = job_basis (job);
  const Catalogue *catalogue = basis->catalogue;
  int item = run->text[RUN_ITEM] ? catalogue_find_item (catalogue, run->text[RUN_ITEM]) : -1;
  gint64 own = r->vector[cost_measure_slot (basis, COST_OWN_MATERIAL)] + r->vector[cost_measure_slot (basis, COST_OWN_RENTAL)];
  g_autoptr (CliTable) t = cli_table_new ("counted", build_columns, G_N_ELEMENTS (build_columns));
  g_autoptr (CliTable) sums = cli_table_new ("sums", sum_columns, G_N_ELEMENTS (sum_columns));
  double each = 1000.0 / (double) r->count;
  gint64 times;
  CostSums all;

  if (item >= 0 && own == 0)
    {
      const CostItem *info = catalogue_item (catalogue, item);
      g_autofree char *price = decimal_print (basis->price[item], 4, 2, FALSE);
      g_autofree char *quantity = decimal_print (r->vector[item], 6, 0, FALSE);
      add_fact (t, info->key, g_strdup_printf (_ ("%s %s at %s"), quantity, info->unit, price), info->source,
                duct_status_key (info->status));
    }
  for (int f = 0; f < job_type_info (JOB_RUN)->n_fields; f++)
    {
      const JobField *field = &job_type_info (JOB_RUN)->field[f];
      if (field->as != JOB_AS_TEXT
          && (field->slot == RUN_PRICE || field->slot == RUN_SHOP_MINUTES || field->slot == RUN_FIELD_MINUTES
              || field->slot == RUN_LENGTH)
          && run->num[field->slot] != JOB_UNSET)
        add_fact (t, _ (field->title), job_record_print (run, f, job_names (job)), _ ("entered on the run"), "");
    }
  cli_table_print (t, format);
  gap (format);
  job_run_conditions (job, run, NULL, NULL, &times);
  job_run_sums (job, run, r->vector, &all);
  for (int shop = 1; shop >= 0; shop--)
    {
      double minutes = (double) r->vector[basis->n_items + basis->counted_slot[shop]] / 60000;
      double conditioned = num_wide_to_double (all.time[shop]) / 6e10, money = num_wide_to_double (all.labour[shop])
                                                                              / num_wide_to_double (COST_LABOUR_DEN);
      if (!shop)
        add_sum (sums, _ ("field worker-minutes before conditions"), minutes * each, r->count, times, minutes * (double) times);
      add_sum (sums, shop ? _ ("shop worker-minutes") : _ ("field worker-minutes"), conditioned * each / (double) times, r->count,
               times, conditioned);
      add_sum (sums, shop ? _ ("shop labour, money") : _ ("field labour, money"), money * each / (double) times, r->count, times,
               money);
    }
  for (int g = 0; g <= COST_RENTAL; g++)
    {
      double money = num_wide_to_double (all.items[g]) / 1e10;
      if (money != 0)
        add_sum (sums, g == COST_RENTAL ? _ ("rental, money") : _ ("material, money"), money * each / (double) times, r->count, times,
                 money);
    }
  cli_table_print (sums, format);
}

static void
explain_note (const JobRecord *run, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("note", build_columns, G_N_ELEMENTS (build_columns));

  add_fact (t, _ ("note"), g_strdup (job_note_line_words (run)), _ ("nothing to measure or to price"), "");
  cli_table_print (t, format);
}

static int
explain_run (TallyJob *job, guint number, CliFormat format)
{
  const JobRecord *run = job_at (job, JOB_RUN, number - 1);
  g_autofree char *name = cli_run_name (job, run, number);
  const JobNames *names = job_names (job);
  LabourFactors factors;
  gint64 floor_ppm;
  JobRunResult r;

  if (format == CLI_TEXT)
    {
      const char *system = names->name (names->data, JOB_SYSTEM, run->num[RUN_SYSTEM]);
      const char *area = names->name (names->data, JOB_AREA, run->num[RUN_AREA]);
      cli_print ("%s (%s, %s)\n\n", name, system ? system : "–", area ? area : "–");
    }
  if (!job_compute (job, run, JOB_OWN_METHOD, &r))
    {
      g_autofree char *text = r.fault_field >= 0 ? job_record_print (run, r.fault_field, names) : g_strdup ("");
      g_autofree char *words = fault_words (r.fault, text);
      cli_complain (_ ("%s is not priced: %s"), name, words);
      job_run_result_clear (&r);
      return CLI_FAULTS;
    }
  if (job_is_note_line (run))
    explain_note (run, format);
  else if (r.method < 0)
    explain_counted (job, run, &r, format);
  else
    {
      g_autoptr (CliTable) t = cli_table_new ("lines", line_columns, G_N_ELEMENTS (line_columns));
      job_run_conditions (job, run, &factors, &floor_ppm, NULL);
      g_autoptr (GArray) lines = cost_explain (job_basis (job), r.method, (DuctKind) r.shape.kind, &r.measure, &factors, floor_ppm);
      page_build (job, run, &r, format);
      gap (format);
      page_lots (&r, format);
      gap (format);
      for (guint i = 0; i < lines->len; i++)
        add_line (t, job_basis (job), &g_array_index (lines, CostExplainLine, i));
      cli_table_print (t, format);
      gap (format);
      page_sums (job, run, &r, lines, format);
    }
  job_run_result_clear (&r);
  return CLI_DONE;
}

/* ---- the price ---- */

static const CliColumn walk_columns[] = {
  { "line", N_ ("build-up line"), FALSE }, { "target", N_ ("item or step"), FALSE },
  { "place", N_ ("place"), FALSE },        { "quantity", N_ ("quantity"), TRUE },
  { "unit", N_ ("unit"), FALSE },          { "rate", N_ ("at"), TRUE },
  { "amount", N_ ("amount"), TRUE },       { "source", NULL, FALSE },
  { "status", N_ ("status"), FALSE },
};

static void
add_walk (CliTable *t, const char *line, const char *target, const char *place, double quantity, const char *unit,
          gint64 rate, double amount, const char *source, const char *status)
{
  cli_table_add (t, line);
  cli_table_add (t, target);
  cli_table_add (t, place);
  cli_table_fixed (t, quantity, 4);
  cli_table_add (t, unit);
  cli_table_take (t, decimal_print (rate, 4, 2, FALSE));
  cli_table_fixed (t, amount, 4);
  cli_table_add (t, source);
  cli_table_add (t, status);
}

static void
walk_items (CliTable *t, const CostBasis *basis, const JobTotals *totals, const CostBuildLine *line)
{
  CostMeasure own = line->which == COST_RENTAL ? COST_OWN_RENTAL : COST_OWN_MATERIAL;
  gint64 money = totals->vector[cost_measure_slot (basis, own)];

  for (int i = 0; i < basis->n_items; i++)
    {
      const CostItem *item = catalogue_item (basis->catalogue, i);
      if ((int) item->group == line->which && totals->vector[i] != 0)
        add_walk (t, line->key, item->key, "", (double) totals->vector[i] / 1e6, item->unit, basis->price[i],
                  num_wide_to_double ((NumWide) totals->vector[i] * basis->price[i]) / 1e10, item->source,
                  duct_status_key (item->status));
    }
  if (money != 0 && line->which != COST_ONCE)
    add_walk (t, line->key, _ ("counted lines with a price of their own"), "", 1, "", num_div (money, 1000000), (double) money / 1e10,
              _ ("entered on the runs"), "");
}

static void
walk_labour (CliTable *t, const CostBasis *basis, const JobTotals *totals, const CostBuildLine *line)
{
  for (int i = 0; i < basis->n_slots; i++)
    {
      const CostSlot *slot = &basis->slots[i];
      const LabourStep *step = slot->step >= 0 ? catalogue_step (basis->catalogue, slot->step) : NULL;
      const LabourCrew *crew = g_ptr_array_index (basis->catalogue->labour->crews, (guint) slot->crew);
      double hours = num_wide_to_double (totals->slot_time[i]) / COST_TIME_DEN;
      if (crew->shop != (line->which == 1) || totals->slot_time[i] == 0)
        continue;
      add_walk (t, line->key, step ? step->key : _ ("minutes of counted lines"), labour_place_key (slot->place), hours, _ ("h"),
                basis->rate[slot->crew],
                num_wide_to_double (totals->slot_time[i] * basis->rate[slot->crew]) / num_wide_to_double (COST_LABOUR_DEN),
                step ? step->source : _ ("entered on the runs"), step ? step->status : "");
    }
}

static int
explain_price (TallyJob *job, CliFormat format)
{
  const CostBasis *basis = job_basis (job);
  g_autoptr (CliTable) t = cli_table_new ("walk", walk_columns, G_N_ELEMENTS (walk_columns));
  JobScope all = { 0, 0 };
  JobTotals totals;

  job_totals (job, &all, JOB_OWN_METHOD, &totals);
  for (guint i = 0; i < basis->buildup->len; i++)
    {
      const CostBuildLine *line = g_ptr_array_index (basis->buildup, i);
      if (line->op == COST_OP_ITEMS)
        walk_items (t, basis, &totals, line);
      else if (line->op == COST_OP_LABOUR)
        walk_labour (t, basis, &totals, line);
    }
  cli_page_buildup (job, format);
  gap (format);
  cli_table_print (t, format);
  gap (format);
  job_totals_clear (&totals);
  return cli_page_not_priced (job, format) > 0 ? CLI_FAULTS : CLI_DONE;
}

/* ---- one item or step over the runs ---- */

static const CliColumn run_columns[] = {
  { "run", N_ ("run"), TRUE },
  { "what", N_ ("line"), FALSE },
  { "quantity", N_ ("quantity"), TRUE },
  { "unit", N_ ("unit"), FALSE },
};

/* Quantity of an item, or worker-minutes of a step under conditions, that one run puts into the job. */
static double
share_of_run (TallyJob *job, const JobRecord *run, const gint64 *vector, int item, int step)
{
  const CostBasis *basis = job_basis (job);
  LabourFactors factors;
  gint64 floor_ppm, times;
  double sum = 0;

  job_run_conditions (job, run, &factors, &floor_ppm, &times);
  if (item >= 0)
    return (double) (cost_item_quantity (catalogue_item (basis->catalogue, item), vector[item], &factors) * times) / 1e6;
  for (int i = 0; i < basis->n_slots; i++)
    if (basis->slots[i].step == step)
      sum += (double) vector[basis->n_items + i] * (double) cost_slot_factor (&basis->slots[i], &factors, floor_ppm) / 6e10
             * (double) times;
  return sum;
}

static int
explain_target (TallyJob *job, const char *word, CliFormat format)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  int item = g_str_has_prefix (word, "item.") ? catalogue_find_item (catalogue, word + 5) : -1;
  int step = g_str_has_prefix (word, "step.") ? labour_find_step (catalogue->labour, word + 5) : -1;
  g_autoptr (CliTable) t = cli_table_new ("runs", run_columns, G_N_ELEMENTS (run_columns));
  double sum = 0;

  if (item < 0 && step < 0)
    {
      cli_complain (_ ("“%s” is neither the number of a run nor item.KEY or step.KEY of the catalogue"), word);
      return CLI_USAGE;
    }
  const char *unit = item >= 0 ? catalogue_item (catalogue, item)->unit : _ ("worker-min");
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (job, JOB_RUN, i);
      JobRunResult r;
      double share = job_compute (job, run, JOB_OWN_METHOD, &r) ? share_of_run (job, run, r.vector, item, step) : 0;
      job_run_result_clear (&r);
      if (share == 0)
        continue;
      sum += share;
      cli_table_int (t, i + 1);
      cli_table_take (t, cli_run_name (job, run, i + 1));
      cli_table_fixed (t, share, 3);
      cli_table_add (t, unit);
    }
  cli_table_add (t, "");
  cli_table_add (t, _ ("all"));
  cli_table_fixed (t, sum, 3);
  cli_table_add (t, unit);
  cli_table_print (t, format);
  return CLI_DONE;
}

int
cli_explain (int argc, char **argv)
{
  g_auto (CliOptions) o = { 0 };
  g_autofree char *figure = NULL, *against = NULL, *what_if = NULL;
  g_autoptr (TallyJob) job = NULL;
  const GOptionEntry more[] = {
    { "figure", 0, 0, G_OPTION_ARG_STRING, &figure, N_ ("A figure of the comparison: cost, price, field-hours, shop-hours, crew-days, minutes-a-joint, hardware-a-joint, step:NAME, item:NAME"),
      N_ ("FIGURE") },
    { "against", 0, 0, G_OPTION_ARG_STRING, &against, N_ ("What it differs in from this method, step by step and item by item"), N_ ("KEY") },
    { "what-if", 0, 0, G_OPTION_ARG_STRING, &what_if, N_ ("Both under this what-if of the job; without --against: what it changes"), N_ ("NAME") },
    G_OPTION_ENTRY_NULL,
  };
  const char *word;
  int status;

  if (!cli_options_read (&o, argc, argv, "[RUN | item.KEY | step.KEY] --demo | --runs FILE | --job NAME",
                         _ ("Walks a figure down to what it is made of: a run (its number in the list) to its lots, recipe lines and "
                            "sources; an item or step to its runs; a figure of the comparison to its items, steps and runs; without a "
                            "word, the price to its items and steps."),
                         more))
    return o.status;
  if (g_strv_length (o.rest) > 1)
    {
      cli_complain (_ ("explain takes one run, item or step"));
      return CLI_USAGE;
    }
  if ((against || what_if) && !figure)
    figure = g_strdup ("cost");
  if (figure && o.rest[0])
    {
      cli_complain (_ ("explain takes a figure or the word “%s”, not both"), o.rest[0]);
      return CLI_USAGE;
    }
  job = cli_options_job (&o);
  if (!job)
    return o.status;
  word = o.rest[0];
  if (figure)
    status = cli_explain_answer (job, figure, o.method, against, what_if, cli_options_format (&o));
  else if (!word)
    status = explain_price (job, cli_options_format (&o));
  else if (strspn (word, "0123456789") == strlen (word))
    {
      guint64 number = g_ascii_strtoull (word, NULL, 10);
      if (number < 1 || number > job_n (job, JOB_RUN))
        {
          cli_complain (_ ("there is no run %s; the job has runs 1 to %u"), word, job_n (job, JOB_RUN));
          return CLI_USAGE;
        }
      status = explain_run (job, (guint) number, cli_options_format (&o));
    }
  else
    status = explain_target (job, word, cli_options_format (&o));
  return status == CLI_DONE ? o.status : status;
}

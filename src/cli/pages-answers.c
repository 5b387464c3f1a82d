/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "chart/matrix.h"
#include "cost/claim.h"
#include "job/heat.h"
#include "job/risk.h"
#include "job/sensitivity.h"
#include "job/what-if.h"

#include <glib/gi18n.h>
#include <math.h>

#define MOST_DRIVES 12 /* rows of text; programs get them all */

static const char *
key_of (const JobWayFigures *f)
{
  return f->method >= 0 ? catalogue_method (job_basis (f->job)->catalogue, f->method)->key : "";
}

static void
gap (CliFormat format)
{
  if (format != CLI_JSONL)
    cli_print ("\n");
}

/* A figure that may not be there. */
static void
add_number (CliTable *t, double x, int decimals)
{
  if (isfinite (x))
    cli_table_fixed (t, x, decimals);
  else
    cli_table_add (t, "");
}

static void
add_date (CliTable *t, gboolean there, const GDate *date)
{
  char text[32] = "";

  if (there)
    g_date_strftime (text, sizeof text, "%Y-%m-%d", date);
  cli_table_add (t, text);
}

CliColumn *
cli_way_columns (const CliColumn *column, gsize n, gboolean what_ifs)
{
  CliColumn *out = g_memdup2 (column, sizeof *column * n);

  for (gsize i = 0; i < n; i++)
    if (!what_ifs && g_str_equal (out[i].key, "what_if"))
      out[i].title = NULL;
  return out;
}

static gboolean
has_what_ifs (const JobComparison *c)
{
  for (guint i = 0; i < c->way->len; i++)
    if (job_comparison_way (c, i)->what_if)
      return TRUE;
  return FALSE;
}

guint
cli_best_under (const JobComparison *c, const char *what_if)
{
  int baseline = job_comparison_way (c, c->baseline)->method;
  guint best = c->way->len;

  for (guint i = 0; i < c->way->len; i++)
    {
      const JobWayFigures *f = job_comparison_way (c, i), *b = best < c->way->len ? job_comparison_way (c, best) : NULL;
      if (f->fault || g_strcmp0 (f->what_if, what_if) != 0)
        continue;
      if (!b || f->whole < b->whole || (f->whole == b->whole && f->method == baseline))
        best = i;
    }
  return best < c->way->len ? best : c->baseline;
}

/* What a page leaves out where what-ifs are asked for too. */
static void
say_as_it_stands (const JobComparison *c, CliFormat format)
{
  if (format == CLI_TEXT && has_what_ifs (c))
    cli_print ("%s\n", _ ("For the job as it stands, without the what-if; --set asks it of changed figures."));
}

/* ---- crew, dates, orders ---- */

static const CliColumn crew_columns[] = {
  { "method", N_ ("method"), FALSE },
  { "what_if", N_ ("what if"), FALSE },
  { "crew_days", N_ ("crew-days"), TRUE },
  { "start", N_ ("start"), FALSE },
  { "finish", N_ ("finish"), FALSE },
  { "stock_used", N_ ("stock used"), TRUE },
  { "cash", N_ ("cash to spend"), TRUE },
  { "lead_days", N_ ("longest lead, days"), TRUE },
  { "joints_from_day", N_ ("joints from day"), TRUE },
};

void
cli_page_crew (const JobComparison *c, CliFormat format)
{
  g_autofree CliColumn *columns = cli_way_columns (crew_columns, G_N_ELEMENTS (crew_columns), has_what_ifs (c));
  g_autoptr (CliTable) t = cli_table_new ("crew", columns, G_N_ELEMENTS (crew_columns));
  g_autofree char *words = job_crew_words (c->job);

  for (guint i = 0; i < c->way->len; i++)
    {
      const JobWayFigures *f = job_comparison_way (c, i);
      cli_table_add (t, key_of (f));
      cli_table_add (t, f->what_if);
      add_number (t, f->crew_days, 1);
      add_date (t, f->dated, &f->start);
      add_date (t, f->dated, &f->finish);
      cli_table_take (t, money_print (f->stock.value_used, c->decimals, FALSE));
      cli_table_take (t, money_print (f->whole - f->stock.value_used, c->decimals, FALSE));
      cli_table_take (t, f->stock.lead_days >= 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, f->stock.lead_days) : g_strdup (""));
      cli_table_take (t, f->stock.joint_days >= 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, f->stock.joint_days) : g_strdup (""));
    }
  cli_table_print (t, format);
  if (format == CLI_TEXT)
    cli_print ("%s\n%s\n", words,
               _ ("Stock on hand is used first and counts at its price, as it is not free: the cost stays, the cash to spend is lower by "
                  "it, before tax. Lead times are calendar days from the order; an item without one counts as at hand."));
  gap (format);
}

static const CliColumn stock_columns[] = {
  { "method", N_ ("method"), FALSE },
  { "item", N_ ("item"), FALSE },
  { "unit", N_ ("unit"), FALSE },
  { "need", N_ ("need"), TRUE },
  { "on_hand", N_ ("on hand"), TRUE },
  { "buy", N_ ("to buy"), TRUE },
  { "value", N_ ("at its price"), TRUE },
  { "lead_days", N_ ("lead, days"), TRUE },
};

static void
page_stock (const JobComparison *c, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("stock", stock_columns, G_N_ELEMENTS (stock_columns));
  const JobWayFigures *f = job_comparison_way (c, cli_best_under (c, NULL));

  for (guint i = 0; i < f->stock.line->len; i++)
    {
      const JobStockLine *line = &g_array_index (f->stock.line, JobStockLine, i);
      const CostItem *item = catalogue_item (job_basis (f->job)->catalogue, line->item);
      cli_table_add (t, key_of (f));
      cli_table_add (t, item->key);
      cli_table_add (t, item->unit);
      cli_table_fixed (t, (double) line->need / 1e6, 2);
      cli_table_fixed (t, (double) line->on_hand / 1e6, 2);
      cli_table_fixed (t, (double) line->buy / 1e6, 2);
      cli_table_take (t, money_print (line->value_buy, c->decimals, FALSE));
      cli_table_take (t, line->lead_days >= 0 ? g_strdup_printf ("%" G_GINT64_FORMAT, line->lead_days) : g_strdup (""));
    }
  gap (format);
  if (format == CLI_TEXT)
    cli_print (_ ("What %s needs, beyond stock on hand\n"), f->name);
  say_as_it_stands (c, format);
  cli_table_print (t, format);
}

/* ---- broken out ---- */

static const CliColumn part_columns[] = {
  { "by", NULL, FALSE },
  { "part", N_ ("part"), FALSE },
  { "method", N_ ("method"), FALSE },
  { "what_if", N_ ("what if"), FALSE },
  { "pieces", N_ ("pieces"), TRUE },
  { "joints", N_ ("joints"), TRUE },
  { "net_lb", N_ ("net lb"), TRUE },
  { "shop_hours", N_ ("shop h"), TRUE },
  { "field_hours", N_ ("field h"), TRUE },
  { "material", N_ ("material"), TRUE },
  { "labour", N_ ("labour"), TRUE },
  { "cost", N_ ("cost"), TRUE },
  { "price", N_ ("price"), TRUE },
  { "cost_difference", N_ ("cost less baseline"), TRUE },
};

static void
page_parts (const JobComparison *c, JobBy by, CliFormat format)
{
  g_autofree CliColumn *columns = cli_way_columns (part_columns, G_N_ELEMENTS (part_columns), has_what_ifs (c));
  g_autoptr (CliTable) t = cli_table_new ("parts", columns, G_N_ELEMENTS (part_columns));
  g_autoptr (JobBreakout) b = job_break_out (c, by);

  for (guint p = 0; p < b->n_parts; p++)
    for (guint w = 0; w < b->n_ways; w++)
      {
        const JobPartFigures *f = job_breakout_at (b, p, w), *base = job_breakout_at (b, p, c->baseline);
        cli_table_add (t, job_by_keys[by]);
        cli_table_add (t, b->part[p]);
        cli_table_add (t, key_of (job_comparison_way (c, w)));
        cli_table_add (t, job_comparison_way (c, w)->what_if);
        cli_table_int (t, f->pieces / 1000);
        cli_table_int (t, f->joints / 1000);
        cli_table_fixed (t, (double) f->net_lb10 / 10, 1);
        cli_table_fixed (t, (double) f->shop / 100, 2);
        cli_table_fixed (t, (double) f->field / 100, 2);
        cli_table_take (t, money_print (f->material, c->decimals, FALSE));
        cli_table_take (t, money_print (f->labour, c->decimals, FALSE));
        cli_table_take (t, money_print (f->cost, c->decimals, FALSE));
        cli_table_take (t, money_print (f->price, c->decimals, FALSE));
        cli_table_take (t, money_print (f->cost - base->cost, c->decimals, FALSE));
      }
  gap (format);
  if (format == CLI_TEXT)
    cli_print (_ ("%s: parts add up to the whole to the last digit (largest remainder), so like parts of two ways may differ by one in it; "
                  "tooling, bought once, is in none\n"),
               job_by_title (by));
  cli_table_print (t, format);
}

/* ---- a claim ---- */

static const CliColumn claim_columns[] = {
  { "claim", N_ ("claim"), FALSE },
  { "method", N_ ("method"), FALSE },
  { "minutes_by", N_ ("minutes"), FALSE },
  { "saved_minutes", N_ ("saved min/joint"), TRUE },
  { "of_steps_pct", N_ ("% of the steps named"), TRUE },
  { "of_joint_pct", N_ ("% of the joint"), TRUE },
  { "of_piece_pct", N_ ("% of the field"), TRUE },
  { "gain", N_ ("gain, tooling included"), TRUE },
  { "least_pct", N_ ("pays from, % of the steps"), TRUE },
};

static void
add_saving (CliTable *t, const CostClaim *claim, const char *method, const char *by, const CostSaving *s, double least, int decimals)
{
  cli_table_add (t, claim->key);
  cli_table_add (t, method);
  cli_table_add (t, by);
  add_number (t, s->minutes, 3);
  add_number (t, s->of_steps * 100, 1);
  add_number (t, s->of_joint * 100, 1);
  add_number (t, s->of_piece * 100, 1);
  add_number (t, s->gain, decimals);
  add_number (t, least * 100, 2);
}

static gboolean
page_claim (const JobComparison *c, const char *key, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("claim", claim_columns, G_N_ELEMENTS (claim_columns));
  const Catalogue *catalogue = job_basis (c->job)->catalogue;
  const JobWayFigures *base = job_comparison_way (c, c->baseline), *way = NULL;
  int at = catalogue_find_claim (catalogue, key);
  const CostClaim *claim = at >= 0 ? g_ptr_array_index (catalogue->claims, (guint) at) : NULL;
  CostClaimResult r;

  for (guint i = 0; claim && i < c->way->len && !way; i++)
    if (job_comparison_way (c, i)->method == claim->method && !job_comparison_way (c, i)->what_if)
      way = job_comparison_way (c, i);
  if (!claim || !way)
    {
      g_autoptr (GString) keys = g_string_new (NULL);
      for (guint i = 0; i < catalogue->claims->len; i++)
        g_string_append_printf (keys, "%s%s", i ? ", " : "", ((CostClaim *) g_ptr_array_index (catalogue->claims, i))->key);
      cli_complain (claim ? _ ("the method of the claim “%s” is not compared here") : _ ("there is no claim “%s”; the catalogue has: %s"),
                    key, keys->str);
      return FALSE;
    }
  cost_claim_result (claim, &base->option, &way->option, &r);
  gap (format);
  if (!r.applies)
    {
      cli_complain (_ ("the claim “%s” names steps that %s has no minutes of: choose another baseline"), key, base->name);
      return FALSE;
    }
  say_as_it_stands (c, format);
  add_saving (t, claim, key_of (way), _ ("own"), &r.own, r.least, c->decimals);
  add_saving (t, claim, key_of (way), _ ("as claimed"), &r.claimed, r.least, c->decimals);
  if (format == CLI_TEXT)
    cli_print (_ ("The claim “%s” for %s against %s (%s, %s). A joint of the baseline: %.2f min of the steps named, %.2f at the joint, "
                  "%.2f in the field.\n"),
               claim->key, way->name, base->name, claim->source, duct_status_key (claim->status), r.steps_minutes, r.joint_minutes,
               r.piece_minutes);
  cli_table_print (t, format);
  if (format == CLI_TEXT)
    cli_print ("%s\n", _ ("A claim must say which of the three shares it means. “Pays from”: the least share of the steps named that must "
                          "go; 0 and less: it pays without any saving. The gain as claimed is not rounded to build-up lines."));
  return TRUE;
}

/* ---- chance ---- */

static const CliColumn chance_columns[] = {
  { "method", N_ ("method"), FALSE },
  { "what_if", N_ ("what if"), FALSE },
  { "chance_pct", N_ ("beats the baseline, %"), TRUE },
  { "verdict", N_ ("verdict"), FALSE },
  { "gain", N_ ("gain, likely"), TRUE },
  { "gain_10", N_ ("gain 10 %"), TRUE },
  { "gain_50", N_ ("50 %"), TRUE },
  { "gain_90", N_ ("90 %"), TRUE },
};

/* The ways under one what-if (NULL: as the job stands) as the risk of the job asks for them, the baseline first, under the same.
 * @ways: their indices. */
static JobRisk *
risk_of (const JobComparison *c, const char *what_if, GArray *ways, Fault **fault)
{
  g_autoptr (GArray) asks = g_array_new (FALSE, TRUE, sizeof (JobRiskAsk));
  g_autoptr (GPtrArray) changes = what_if ? job_what_if_changes (c->job, what_if) : NULL;
  int baseline = job_comparison_way (c, c->baseline)->method;

  for (guint i = 0; i < c->way->len; i++)
    {
      const JobWayFigures *f = job_comparison_way (c, i);
      JobRiskAsk ask = { key_of (f), f->name, changes };
      if (g_strcmp0 (f->what_if, what_if) != 0)
        continue;
      if (f->method == baseline)
        {
          g_array_prepend_val (asks, ask);
          g_array_prepend_val (ways, i);
        }
      else
        {
          g_array_append_val (asks, ask);
          g_array_append_val (ways, i);
        }
    }
  return job_risk_new (c->job, (const JobRiskAsk *) (gpointer) asks->data, asks->len, fault);
}

static gboolean
chance_under (CliTable *t, const JobComparison *c, const char *what_if, char ***choices)
{
  g_autoptr (GArray) ways = g_array_new (FALSE, FALSE, sizeof (guint));
  Fault *fault = NULL;
  g_autoptr (JobRisk) risk = risk_of (c, what_if, ways, &fault);
  g_autoptr (RiskResult) result = risk ? job_risk_run (risk, NULL, NULL, &fault) : NULL;

  if (!result)
    {
      g_autofree char *words = fault ? fault_words (fault, NULL) : g_strdup (_ ("the risk cannot be worked out"));
      g_clear_pointer (&fault, fault_free);
      cli_complain ("%s", words);
      return FALSE;
    }
  for (guint k = 1; k < risk->ways->len; k++)
    {
      const JobWayFigures *f = job_comparison_way (c, g_array_index (ways, guint, k));
      JobRiskGain gain;
      job_risk_gain (risk, result, k, &gain);
      cli_table_add (t, key_of (f));
      cli_table_add (t, f->what_if);
      add_number (t, gain.beats.less * 100, 1);
      cli_table_add (t, job_verdict_say (gain.verdict));
      add_number (t, gain.gain, c->decimals);
      add_number (t, gain.low.value, c->decimals);
      add_number (t, gain.middle.value, c->decimals);
      add_number (t, gain.high.value, c->decimals);
    }
  if (!*choices)
    *choices = job_risk_choices (risk);
  return TRUE;
}

static gboolean
page_chance (const JobComparison *c, const CliCompare *ask, CliFormat format)
{
  gboolean what_ifs = has_what_ifs (c);
  g_autofree CliColumn *columns = cli_way_columns (chance_columns, G_N_ELEMENTS (chance_columns), what_ifs);
  g_autoptr (CliTable) t = cli_table_new ("chance", columns, G_N_ELEMENTS (chance_columns));
  g_auto (GStrv) choices = NULL;

  if (!chance_under (t, c, NULL, &choices))
    return FALSE;
  for (char **w = ask->what_ifs; w && *w; w++)
    if (!chance_under (t, c, *w, &choices))
      return FALSE;
  gap (format);
  if (format == CLI_TEXT)
    cli_print (what_ifs ? _ ("How sure: chance to cost less than %s, under the same what-if, tooling included, on the same draws; the verdict "
                             "is on the likely cheaper of the two\n")
                        : _ ("How sure: chance to cost less than %s, tooling included, on the same draws; the verdict is on the likely cheaper "
                             "of the two\n"),
               job_comparison_way (c, c->baseline)->name);
  cli_table_print (t, format);
  for (char **w = choices; w && *w && format == CLI_TEXT; w++)
    cli_print ("%s\n", *w);
  return TRUE;
}

/* ---- sensitivity ---- */

static const CliColumn drive_columns[] = {
  { "method", N_ ("method"), FALSE },
  { "figure", N_ ("figure"), FALSE },
  { "unit", N_ ("unit"), FALSE },
  { "low", N_ ("from"), TRUE },
  { "now", N_ ("now"), TRUE },
  { "high", N_ ("to"), TRUE },
  { "gain_low", N_ ("gain from"), TRUE },
  { "gain_high", N_ ("gain to"), TRUE },
  { "swing", N_ ("swing"), TRUE },
  { "turns_at", N_ ("sign turns at"), TRUE },
  { "range", N_ ("the two ends are"), FALSE },
};

/* The way asked about: @of, or the best, or where the baseline is best the cheapest of the others. */
static guint
second_way (const JobComparison *c, const char *of)
{
  guint best = cli_best_under (c, NULL), other = c->way->len;

  for (guint i = 0; of && i < c->way->len; i++)
    if (!job_comparison_way (c, i)->what_if && g_ascii_strcasecmp (key_of (job_comparison_way (c, i)), of) == 0)
      return i;
  for (guint i = 0; best == c->baseline && i < c->way->len; i++)
    if (i != c->baseline && !job_comparison_way (c, i)->what_if
        && (other == c->way->len || job_comparison_way (c, i)->whole < job_comparison_way (c, other)->whole))
      other = i;
  return best != c->baseline ? best : other;
}

static void
page_sensitivity (const JobComparison *c, guint second, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("sensitivity", drive_columns, G_N_ELEMENTS (drive_columns));
  g_autoptr (GPtrArray) drives = NULL;
  const JobWayFigures *f;

  if (second >= c->way->len)
    return;
  f = job_comparison_way (c, second);
  drives = job_sensitivity (c, c->baseline, second);
  for (guint i = 0; i < drives->len && (format != CLI_TEXT || i < MOST_DRIVES); i++)
    {
      const JobDrive *d = g_ptr_array_index (drives, i);
      cli_table_add (t, key_of (f));
      cli_table_add (t, d->name);
      cli_table_add (t, d->unit);
      add_number (t, d->swing.low, 4);
      add_number (t, d->swing.now, 4);
      add_number (t, d->swing.high, 4);
      add_number (t, d->swing.gain_low, c->decimals);
      add_number (t, d->swing.gain_high, c->decimals);
      add_number (t, cost_swing_width (&d->swing), c->decimals);
      add_number (t, d->swing.even, 4);
      cli_table_add (t, d->range);
    }
  gap (format);
  say_as_it_stands (c, format);
  if (format == CLI_TEXT)
    cli_print (_ ("What the gain of %s over %s hangs on, one figure at a time, widest swing first; today %.*f, tooling included\n"), f->name,
               job_comparison_way (c, c->baseline)->name, c->decimals, job_way_gain (job_comparison_way (c, c->baseline), f));
  cli_table_print (t, format);
  if (format == CLI_TEXT && drives->len > MOST_DRIVES)
    cli_print (g_dngettext (GETTEXT_PACKAGE, "and %u figure more; --csv or --jsonl has all\n", "and %u figures more; --csv or --jsonl has all\n",
                            drives->len - MOST_DRIVES),
               drives->len - MOST_DRIVES);
}

/* ---- heat table ---- */

static const CliColumn heat_columns[] = {
  { "class_in_wg", N_ ("class"), TRUE },     { "longer_in", N_ ("longer side"), TRUE }, { "shorter_in", N_ ("shorter side"), TRUE },
  { "winner", N_ ("cheapest"), FALSE },      { "cost_a_foot", N_ ("cost/ft"), TRUE },   { "second", N_ ("second"), FALSE },
  { "margin_a_foot", N_ ("by, /ft"), TRUE }, { "allowed", N_ ("methods allowed"), TRUE },
};

static void
heat_rows (TallyJob *job, const JobHeat *heat, CliFormat format)
{
  g_autoptr (CliTable) t = cli_table_new ("heat", heat_columns, G_N_ELEMENTS (heat_columns));
  const Catalogue *catalogue = job_basis (job)->catalogue;

  for (guint k = 0; k < heat->n_classes; k++)
    for (guint s = 0; s < heat->n_sizes; s++)
      {
        const JobHeatCell *cell = job_heat_at (heat, k, s);
        cli_table_fixed (t, (double) heat->pressure[k] / 1e3, 3);
        cli_table_fixed (t, (double) heat->longer[s] / (double) LENGTH_NM_PER_IN, 0);
        cli_table_fixed (t, (double) heat->shorter[s] / (double) LENGTH_NM_PER_IN, 0);
        cli_table_add (t, cell->winner >= 0 ? catalogue_method (catalogue, cell->winner)->key : "");
        add_number (t, cell->cost, 4);
        cli_table_add (t, cell->second >= 0 ? catalogue_method (catalogue, cell->second)->key : "");
        add_number (t, cell->margin, 4);
        cli_table_int (t, cell->allowed);
      }
  cli_table_print (t, format);
}

static void
heat_text (TallyJob *job, const JobHeat *heat)
{
  gsize n = heat->n_classes * heat->n_sizes;
  g_autofree ChartField *field = g_new0 (ChartField, n);
  g_auto (GStrv) text = g_new0 (char *, n + 1), rows = g_new0 (char *, (gsize) heat->n_classes + 1),
                 columns = g_new0 (char *, (gsize) heat->n_sizes + 1);
  g_autofree char *table = NULL;

  for (gsize i = 0; i < n; i++)
    {
      text[i] = job_heat_mark (heat, heat->cell[i].winner);
      field[i].text = text[i];
    }
  for (guint k = 0; k < heat->n_classes; k++)
    rows[k] = pressure_print (heat->pressure[k], FALSE);
  for (guint s = 0; s < heat->n_sizes; s++)
    columns[s] = g_strdup_printf ("%.0fx%.0f", (double) heat->longer[s] / (double) LENGTH_NM_PER_IN,
                                  (double) heat->shorter[s] / (double) LENGTH_NM_PER_IN);
  const ChartMatrix matrix = { .field = field,
                               .rows = heat->n_classes,
                               .columns = heat->n_sizes,
                               .row = (const char *const *) rows,
                               .column = (const char *const *) columns,
                               .corner = _ ("class, in w.g."),
                               .axis = _ ("size, in") };
  table = chart_matrix_table (&matrix);
  cli_print ("%s\n", table);
  for (guint i = 0; i < heat->methods->len; i++)
    {
      int m = g_array_index (heat->methods, int, i);
      g_autofree char *mark = job_heat_mark (heat, m);
      cli_print ("%s  %s\n", mark, catalogue_method (job_basis (job)->catalogue, m)->name);
    }
}

static void
page_heat (const JobComparison *c, CliFormat format)
{
  TallyJob *job = c->job;
  g_autoptr (JobHeat) heat = job_heat (job, FALSE, NULL);
  g_autofree char *words = job_heat_words (job, heat);

  gap (format);
  say_as_it_stands (c, format);
  if (format == CLI_TEXT)
    {
      cli_print ("%s\n", words);
      if (heat->methods->len > 0)
        heat_text (job, heat);
    }
  else
    heat_rows (job, heat, format);
}

gboolean
cli_page_answers (const JobComparison *c, const CliCompare *ask, CliFormat format)
{
  if (ask->stock)
    page_stock (c, format);
  if (ask->by >= 0)
    page_parts (c, (JobBy) ask->by, format);
  if (ask->claim && !page_claim (c, ask->claim, format))
    return FALSE;
  if (ask->chance && !page_chance (c, ask, format))
    return FALSE;
  if (ask->sensitivity)
    page_sensitivity (c, second_way (c, ask->of), format);
  if (ask->heat)
    page_heat (c, format);
  return TRUE;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "cost/compare.h"
#include "job/compare.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

static const CliColumn option_columns[] = {
  { "method", N_ ("method"), FALSE },
  { "name", NULL, FALSE },
  { "what_if", N_ ("what if"), FALSE },
  { "not_priced", N_ ("not priced"), TRUE },
  { "other_method", N_ ("runs by its fallback"), TRUE },
  { "pieces", N_ ("pieces"), TRUE },
  { "joints", N_ ("joints"), TRUE },
  { "net_lb", N_ ("net lb"), TRUE },
  { "shipped_lb", N_ ("shipped lb"), TRUE },
  { "shop_hours", N_ ("shop h"), TRUE },
  { "field_hours", N_ ("field h"), TRUE },
  { "minutes_a_joint", N_ ("min/joint"), TRUE },
  { "hardware_a_joint", N_ ("hardware/joint"), TRUE },
  { "material", N_ ("material"), TRUE },
  { "labour", N_ ("labour"), TRUE },
  { "cost", N_ ("cost"), TRUE },
  { "price", N_ ("price"), TRUE },
  { "tooling", N_ ("tooling"), TRUE },
  { "cost_difference", N_ ("cost less baseline"), TRUE },
  { "difference_with_tooling", N_ ("and tooling"), TRUE },
};

static const CliColumn even_columns[] = {
  { "method", N_ ("method"), FALSE },
  { "figure", N_ ("what the difference hangs on"), FALSE },
  { "unit", N_ ("unit"), FALSE },
  { "now", N_ ("now"), TRUE },
  { "even", N_ ("equal at"), TRUE },
};

/* How many runs a method cannot be used on. */
static gint64
count_fallbacks (TallyJob *job, int method)
{
  gint64 n = 0;

  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      JobRunResult r;
      if (job_compute (job, job_at (job, JOB_RUN, i), method, &r) && r.method >= 0 && r.method != r.asked)
        n++;
      job_run_result_clear (&r);
    }
  return n;
}

static void
add_way (CliTable *t, const JobWayFigures *f, const JobWayFigures *base)
{
  const CostOption *o = &f->option;
  const CostMethod *method = catalogue_method (job_basis (f->job)->catalogue, o->method);
  int decimals = o->buildup->decimals;

  cli_table_add (t, method->key);
  cli_table_add (t, method->name);
  cli_table_add (t, f->what_if);
  cli_table_int (t, f->totals.not_priced);
  cli_table_int (t, count_fallbacks (f->job, o->method));
  cli_table_int (t, o->pieces / 1000);
  cli_table_int (t, o->joints / 1000);
  cli_table_fixed (t, measure_lb (o->net_mg), 1);
  cli_table_fixed (t, measure_lb (o->shipped_mg), 1);
  cli_table_fixed (t, o->shop_hours, 2);
  cli_table_fixed (t, o->field_hours, 2);
  cli_table_fixed (t, o->minutes_a_joint, 2);
  cli_table_fixed (t, o->hardware_a_joint, 2);
  cli_table_take (t, money_print (o->material, decimals, FALSE));
  cli_table_take (t, money_print (f->labour, decimals, FALSE));
  cli_table_take (t, money_print (o->cost, decimals, FALSE));
  cli_table_take (t, money_print (o->price, decimals, FALSE));
  cli_table_take (t, money_print (o->once, decimals, FALSE));
  cli_table_take (t, money_print (o->cost - base->option.cost, decimals, FALSE));
  cli_table_take (t, money_print (f->whole - base->whole, decimals, FALSE));
}

static char *
even_name (TallyJob *job, const CostEven *even, const char **unit)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  const char *currency = job_head (job)->text[HEAD_CURRENCY] ? job_head (job)->text[HEAD_CURRENCY] : "";

  *unit = currency;
  switch (even->kind)
    {
    case COST_EVEN_FIELD_RATE:
      return g_strdup (_ ("field rate an hour"));
    case COST_EVEN_ITEM:
      return g_strdup_printf (_ ("price of %s"), catalogue_item (catalogue, even->target)->key);
    case COST_EVEN_STEP:
      *unit = _ ("x its minutes");
      return g_strdup_printf (_ ("minutes of “%s”"), catalogue_step (catalogue, even->target)->key);
    case COST_EVEN_TOOLING:
      return g_strdup (_ ("tooling, once"));
    case COST_EVEN_JOINTS:
    default:
      *unit = _ ("joints");
      return g_strdup (_ ("joints like these"));
    }
}

/* Three items and three steps a method: the list is sorted by effect, and more would hide the answer. Gives how many are left out. */
static guint
add_evens (CliTable *t, TallyJob *job, const CostOption *base, const CostOption *o, gboolean all)
{
  g_autoptr (GArray) evens = cost_break_evens (job_basis (job), base, o);
  int shown[COST_EVEN_JOINTS + 1] = { 0 };
  guint left = 0;

  for (guint i = 0; i < evens->len; i++)
    {
      const CostEven *even = &g_array_index (evens, CostEven, i);
      const char *unit;
      if (!all && (shown[even->kind]++ >= 3 || (!even->exists && !even->equal)))
        {
          left++;
          continue;
        }
      g_autofree char *name = even_name (job, even, &unit);
      cli_table_add (t, catalogue_method (job_basis (job)->catalogue, o->method)->key);
      cli_table_add (t, name);
      cli_table_add (t, unit);
      if (isfinite (even->now))
        cli_table_fixed (t, even->now, even->kind == COST_EVEN_ITEM ? 4 : 2);
      else
        cli_table_add (t, "");
      if (even->exists && isfinite (even->even))
        cli_table_fixed (t, even->even, even->kind == COST_EVEN_ITEM ? 4 : 2);
      else
        cli_table_add (t, "");
    }
  return left;
}

/* The answer in one plain sentence, before any table, and one for each what-if: methods are held against each other under the same
 * assumptions, and what the assumption itself moves is told apart. */
static void
print_conclusion (const JobComparison *c)
{
  const JobWayFigures *base = job_comparison_way (c, c->baseline), *b = job_comparison_way (c, cli_best_under (c, NULL));
  g_autofree char *money = money_print (base->whole - b->whole, c->decimals, TRUE);

  if (b == base)
    cli_print (_ ("Cheapest: %s; no other way saves anything against it, tooling included."), b->name);
  else
    cli_print (_ ("Cheapest: %s; likely %s less cost than %s, tooling included."), b->name, money, base->name);
  cli_print ("\n");
  for (guint i = 0; i < c->way->len; i++)
    {
      const JobWayFigures *first = job_comparison_way (c, i), *best;
      /* The baseline stands once under every what-if. */
      if (!first->what_if || first->method != base->method)
        continue;
      best = job_comparison_way (c, cli_best_under (c, first->what_if));
      g_autofree char *gain = money_print (first->whole - best->whole, c->decimals, TRUE);
      g_autofree char *moved = money_print (ABS (first->whole - base->whole), c->decimals, TRUE);
      const CostMethod *m = catalogue_method (job_basis (c->job)->catalogue, best->method);
      if (best == first)
        cli_print (_ ("Under “%s”: no other way saves anything against %s under the same."), first->what_if, base->name);
      else
        cli_print (_ ("Under “%s”: cheapest is %s; likely %s less cost than %s under the same, tooling included."), first->what_if,
                   *m->name ? m->name : m->key, gain, base->name);
      cli_print (first->whole <= base->whole ? _ (" “%s” itself takes %s off %s.") : _ (" “%s” itself puts %s on %s."), first->what_if,
                 moved, base->name);
      cli_print ("\n");
    }
}

/* Every method that a comparison lists, as it stands and under each what-if; the baseline first. */
static JobComparison *
compare (TallyJob *job, const CliCompare *ask)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  g_autoptr (GArray) listed = job_methods_listed (job, ask->baseline), ways = g_array_new (FALSE, FALSE, sizeof (JobWay));
  guint baseline = 0;

  for (guint set = 0; set <= (ask->what_ifs ? g_strv_length (ask->what_ifs) : 0); set++)
    for (guint i = 0; i < listed->len; i++)
      {
        int m = g_array_index (listed, int, i);
        JobWay way = { catalogue_method (catalogue, m)->key, set > 0 ? ask->what_ifs[set - 1] : NULL };
        if (set == 0 && m == ask->baseline)
          baseline = ways->len;
        g_array_append_val (ways, way);
      }
  return job_compare (job, (const JobWay *) (gpointer) ways->data, ways->len, baseline, NULL);
}

gboolean
cli_page_compare_with (TallyJob *job, const CliCompare *ask, CliFormat format)
{
  g_autofree CliColumn *columns = cli_way_columns (option_columns, G_N_ELEMENTS (option_columns), ask->what_ifs && ask->what_ifs[0]);
  g_autoptr (CliTable) table = cli_table_new ("methods", columns, G_N_ELEMENTS (option_columns));
  g_autoptr (CliTable) evens = cli_table_new ("break_even", even_columns, G_N_ELEMENTS (even_columns));
  g_autoptr (JobComparison) c = compare (job, ask);
  const JobWayFigures *base = job_comparison_way (c, c->baseline);
  guint left = 0;

  for (guint i = 0; i < c->way->len; i++)
    {
      const JobWayFigures *f = job_comparison_way (c, i);
      if (f->fault)
        {
          g_autofree char *words = fault_words (f->fault, NULL);
          cli_complain ("%s: %s", f->name, words);
          return FALSE;
        }
      add_way (table, f, base);
      /* Of a what-if the figures are other ones: it has its own break-evens, asked by that name alone. */
      if (i != c->baseline && !f->what_if)
        left += add_evens (evens, job, &base->option, &f->option, format != CLI_TEXT);
    }
  if (format == CLI_TEXT)
    print_conclusion (c);
  cli_table_print (table, format);
  if (format == CLI_TEXT)
    cli_print ("%s\n\n",
               _ ("Every run by the method where it may be used, else by its fallback. Hardware a joint: flange, corners, fasteners, "
                  "gasket, cleats, screws and sealant over all joints; minutes a joint: worker-minutes of the steps at the joint."));
  else if (format == CLI_CSV)
    cli_print ("\n");
  cli_page_crew (c, format);
  cli_table_print (evens, format);
  if (left > 0)
    cli_print (g_dngettext (GETTEXT_PACKAGE, "and %u figure more, or without such a point; --csv or --jsonl has all\n",
                            "and %u figures more, or without such a point; --csv or --jsonl has all\n", left),
               left);
  return cli_page_answers (c, ask, format);
}

void
cli_page_compare (TallyJob *job, int baseline, CliFormat format)
{
  const CliCompare ask = { .baseline = baseline, .by = -1 };

  cli_page_compare_with (job, &ask, format);
}

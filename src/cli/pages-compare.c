/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "cli/cli.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "cost/compare.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

static const CliColumn option_columns[] = {
  { "method", N_ ("method"), FALSE },
  { "name", NULL, FALSE },
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
add_option (CliTable *t, TallyJob *job, const CostOption *o, const CostOption *base, gint64 not_priced)
{
  const CostMethod *method = catalogue_method (job_basis (job)->catalogue, o->method);
  int decimals = o->buildup->decimals;

  cli_table_add (t, method->key);
  cli_table_add (t, method->name);
  cli_table_int (t, not_priced);
  cli_table_int (t, count_fallbacks (job, o->method));
  cli_table_int (t, o->pieces / 1000);
  cli_table_int (t, o->joints / 1000);
  cli_table_fixed (t, measure_lb (o->net_mg), 1);
  cli_table_fixed (t, measure_lb (o->shipped_mg), 1);
  cli_table_fixed (t, o->shop_hours, 2);
  cli_table_fixed (t, o->field_hours, 2);
  cli_table_fixed (t, o->minutes_a_joint, 2);
  cli_table_fixed (t, o->hardware_a_joint, 2);
  cli_table_take (t, money_print (o->material, decimals, FALSE));
  cli_table_take (t, money_print (o->cost, decimals, FALSE));
  cli_table_take (t, money_print (o->price, decimals, FALSE));
  cli_table_take (t, money_print (o->once, decimals, FALSE));
  cli_table_take (t, money_print (o->cost - base->cost, decimals, FALSE));
  cli_table_take (t, money_print (o->cost + o->once - base->cost - base->once, decimals, FALSE));
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

/* Three items and three steps a method: the list is sorted by effect, and more would hide the answer. */
static void
add_evens (CliTable *t, TallyJob *job, const CostOption *base, const CostOption *o, gboolean all)
{
  g_autoptr (GArray) evens = cost_break_evens (job_basis (job), base, o);
  int shown[COST_EVEN_JOINTS + 1] = { 0 };

  for (guint i = 0; i < evens->len; i++)
    {
      const CostEven *even = &g_array_index (evens, CostEven, i);
      const char *unit;
      if (!all && (shown[even->kind]++ >= 3 || (!even->exists && !even->equal)))
        continue;
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
}

/* The answer in one plain sentence, before any table. */
static void
print_conclusion (TallyJob *job, const CostOption *options, const JobTotals *totals, int n, int baseline)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  int best = baseline;

  for (int m = 0; m < n; m++)
    if (job_method_listed (job, totals, m) && options[m].cost + options[m].once < options[best].cost + options[best].once)
      best = m;
  if (best == baseline)
    {
      cli_print (_ ("Cheapest: %s; no other method saves anything against it, tooling included."),
                 catalogue_method (catalogue, best)->name);
    }
  else
    {
      gint64 saves = options[baseline].cost + options[baseline].once - options[best].cost - options[best].once;
      g_autofree char *money = money_print (saves, options[best].buildup->decimals, TRUE);
      cli_print (_ ("Cheapest: %s; likely %s less cost than %s, tooling included."), catalogue_method (catalogue, best)->name,
                 money, catalogue_method (catalogue, baseline)->name);
    }
  cli_print ("\n");
}

void
cli_page_compare (TallyJob *job, int baseline, CliFormat format)
{
  const CostBasis *basis = job_basis (job);
  int n = basis->n_methods;
  g_autofree CostOption *options = g_new0 (CostOption, (gsize) n);
  g_autofree JobTotals *totals = g_new0 (JobTotals, (gsize) n);
  g_autoptr (CliTable) table = cli_table_new ("methods", option_columns, G_N_ELEMENTS (option_columns));
  g_autoptr (CliTable) evens = cli_table_new ("break_even", even_columns, G_N_ELEMENTS (even_columns));
  gint64 decimals = job_head (job)->num[HEAD_DECIMALS];
  JobScope all = { 0, 0 };

  for (int m = 0; m < n; m++)
    {
      job_totals (job, &all, m, &totals[m]);
      cost_option_init (&options[m], basis, m, &totals[m].sums, totals[m].vector,
                        decimals == JOB_UNSET ? 2 : (int) CLAMP (decimals, 0, 4));
    }
  if (format == CLI_TEXT)
    print_conclusion (job, options, totals, n, baseline);
  for (int m = 0; m < n; m++)
    {
      if (m != baseline && !job_method_listed (job, totals, m))
        continue;
      add_option (table, job, &options[m], &options[baseline], totals[m].not_priced);
      if (m != baseline)
        add_evens (evens, job, &options[baseline], &options[m], format != CLI_TEXT);
    }
  cli_table_print (table, format);
  if (format == CLI_TEXT)
    cli_print ("%s\n\n",
               _ ("Every run by the method where it may be used, else by its fallback. Hardware a joint: flange, corners, fasteners, "
                  "gasket, cleats, screws and sealant over all joints; minutes a joint: worker-minutes of the steps at the joint."));
  else if (format == CLI_CSV)
    cli_print ("\n");
  cli_table_print (evens, format);
  for (int m = 0; m < n; m++)
    {
      cost_option_clear (&options[m]);
      job_totals_clear (&totals[m]);
    }
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/risk.h"

#include "cost/compare.h"
#include "cost/rests.h"
#include "job/in-force.h"
#include "job/setting.h"
#include "job/what-if.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define FIELD 0
#define SHOP 1

/* The common factors of the settings, in the order of the settings' correlations. */
enum
{
  FACTOR_FIELD,
  FACTOR_SHOP,
  FACTOR_METAL,
  FACTOR_SCHEDULE,
  N_FACTORS
};

static const struct
{
  const char *key, *input,
      *say; /* in risk.KEY_low; name of the input (never translated: its draws hang on it); in words */
} factors[N_FACTORS] = {
  { "field", "factor: field crew", N_ ("field crew") },
  { "shop", "factor: shop", N_ ("shop") },
  { "metal", "factor: metal price", N_ ("metal price") },
  { "schedule", "factor: schedule", N_ ("schedule") },
};

#define STEP "step: "
#define PRICE "price: "

/* What the build-up's line "cost" gains by one currency unit of a source, apart from and through what the schedule
 * moves. */
typedef struct
{
  double constant;               /* that line for empty sums */
  double plain[4], scheduled[4]; /* by source */
} Slopes;

enum
{
  MATERIAL,
  RENTAL,
  FIELD_LABOUR,
  SHOP_LABOUR
};

/* One way while its terms are made. */
typedef struct
{
  JobRisk *risk;
  JobRiskWay *way;
  TallyJob *job; /* at the likely minutes */
  JobTotals total[LABOUR_N_POINTS];
  Slopes slopes;
  int factor[N_FACTORS]; /* inputs */
} Maker;

/* ---- the build-up as slopes ---- */

static double
line_of (const CostBasis *basis, int source)
{
  CostSums sums = { 0 };

  if (source == MATERIAL || source == RENTAL)
    sums.items[source == MATERIAL ? COST_MATERIAL : COST_RENTAL] = (NumWide) 1000000 * G_GINT64_CONSTANT (10000000000);
  else if (source >= 0)
    sums.labour[source == SHOP_LABOUR] = COST_LABOUR_DEN * 1000000;
  return buildup_smooth (basis, &sums, buildup_find (basis, "cost"));
}

/* The line is linear in its sources, so that a million more of each tells all. Site general is told apart by a
 * build-up in which its line is nothing. */
static void
find_slopes (const CostBasis *basis, Slopes *slopes)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new ();
  int general = buildup_find (basis, "general");
  CostBasis without = *basis;
  CostBuildLine nothing;

  for (guint i = 0; i < basis->buildup->len; i++)
    g_ptr_array_add (lines, g_ptr_array_index (basis->buildup, i));
  if (general >= 0)
    {
      nothing = *(CostBuildLine *) g_ptr_array_index (lines, (guint) general);
      nothing.op = COST_OP_AMOUNT;
      nothing.amount = 0;
      lines->pdata[general] = &nothing;
    }
  without.buildup = lines;
  slopes->constant = line_of (basis, -1);
  for (int s = 0; s < 4; s++)
    {
      double all = (line_of (basis, s) - slopes->constant) / 1e6;
      double plain = (line_of (&without, s) - line_of (&without, -1)) / 1e6;
      slopes->plain[s] = s == RENTAL ? 0 : plain;
      slopes->scheduled[s] = s == RENTAL ? all : all - plain;
    }
}

/* ---- terms ---- */

/* A term of the cost in both parts, the one that the schedule moves and the one that it does not. */
static void
add_cost (Maker *m, const RiskTerm *term, int source, int common)
{
  RiskProblem *p = m->risk->problem;
  RiskTerm t = *term;

  t.common[0] = common;
  t.common[1] = -1;
  t.coefficient = term->coefficient * m->slopes.plain[source];
  if (t.coefficient != 0)
    risk_problem_add_term (p, m->way->cost, &t);
  t.coefficient = term->coefficient * m->slopes.scheduled[source];
  t.common[common < 0 ? 0 : 1] = m->factor[FACTOR_SCHEDULE];
  if (fabs (t.coefficient) > fabs (term->coefficient) * 1e-12)
    risk_problem_add_term (p, m->way->cost, &t);
}

static void
add_constant (Maker *m, double money, int source, int common)
{
  RiskTerm term;

  risk_term_init (&term, m->risk->problem, -1, money);
  if (money != 0)
    add_cost (m, &term, source, common);
}

/* Worker-hours of a slot at one point. */
static double
slot_hours (const Maker *m, LabourPoint point, int slot)
{
  return num_wide_to_double (m->total[point].slot_time[slot]) / COST_TIME_DEN;
}

static gboolean
is_shop (const CostBasis *basis, const CostSlot *slot)
{
  return ((LabourCrew *) g_ptr_array_index (basis->catalogue->labour->crews, (guint) slot->crew))->shop;
}

/* One step: all its slots are of its crew. FALSE with a fault. */
static gboolean
add_step (Maker *m, int step, Fault **fault)
{
  const CostBasis *basis = job_basis (m->job);
  const LabourStep *info = catalogue_step (basis->catalogue, step);
  g_autofree char *name = g_strconcat (STEP, info->key, NULL);
  RiskProblem *p = m->risk->problem;
  double hours[LABOUR_N_POINTS] = { 0 };
  RiskTerm term;
  Spread s = { .kind = m->risk->spread };
  int input, side = FIELD, common;

  for (int i = 0; i < basis->n_slots; i++)
    if (basis->slots[i].step == step)
      {
        side = is_shop (basis, &basis->slots[i]) ? SHOP : FIELD;
        for (int k = 0; k < LABOUR_N_POINTS; k++)
          hours[k] += slot_hours (m, (LabourPoint) k, i);
      }
  if (!(hours[LABOUR_LIKELY] > 0) && !(hours[LABOUR_HIGH] > 0))
    return TRUE;
  s.low = MIN (hours[LABOUR_LOW], hours[LABOUR_LIKELY]);
  s.likely = hours[LABOUR_LIKELY];
  s.high = MAX (hours[LABOUR_HIGH], hours[LABOUR_LIKELY]);
  input = risk_problem_find_input (p, name);
  if (input < 0)
    input = risk_problem_add_input (p, name, &s, fault);
  if (input < 0)
    return FALSE;
  risk_term_init (&term, p, input, 1);
  term.spread = s;
  common = m->factor[side == SHOP ? FACTOR_SHOP : FACTOR_FIELD];
  if (side == FIELD)
    {
      term.common[0] = common;
      risk_problem_add_term (p, m->way->hours, &term);
    }
  term.coefficient = (double) basis->rate[info->crew] / 1e4;
  add_cost (m, &term, side == SHOP ? SHOP_LABOUR : FIELD_LABOUR, common);
  return TRUE;
}

/* Steps, then what no step carries: minutes of counted lines, which have no low and high. */
static gboolean
add_labour (Maker *m, Fault **fault)
{
  const CostBasis *basis = job_basis (m->job);
  const CostSums *sums = &m->total[LABOUR_LIKELY].sums;
  double money[2] = { 0 };

  for (int i = 0; i < (int) basis->catalogue->labour->steps->len; i++)
    if (!add_step (m, i, fault))
      return FALSE;
  for (int i = 0; i < basis->n_slots; i++)
    if (basis->slots[i].step >= 0)
      money[is_shop (basis, &basis->slots[i])] +=
          slot_hours (m, LABOUR_LIKELY, i) * (double) basis->rate[basis->slots[i].crew] / 1e4;
    else if (!is_shop (basis, &basis->slots[i]) && m->total[LABOUR_LIKELY].slot_time[i] > 0)
      {
        RiskTerm term;
        risk_term_init (&term, m->risk->problem, -1, slot_hours (m, LABOUR_LIKELY, i));
        term.common[0] = m->factor[FACTOR_FIELD];
        risk_problem_add_term (m->risk->problem, m->way->hours, &term);
      }
  for (int side = 0; side < 2; side++)
    {
      double whole = num_wide_to_double (sums->labour[side]) / num_wide_to_double (COST_LABOUR_DEN),
             rest = whole - money[side];
      /* What is left is counted lines; less than a thousand-millionth is the rounding of binary sums. */
      if (fabs (rest) > whole * 1e-12)
        add_constant (m, rest, side == SHOP ? SHOP_LABOUR : FIELD_LABOUR,
                      m->factor[side == SHOP ? FACTOR_SHOP : FACTOR_FIELD]);
    }
  return TRUE;
}

/* Items of use "sheet" go with the metal's price; an item whose price has a low and a high is an input. What joints
 * remade use once more stays at the likely price. */
static gboolean
add_items (Maker *m, Fault **fault)
{
  const CostBasis *basis = job_basis (m->job);
  const gint64 *vector = m->total[LABOUR_LIKELY].vector;
  RiskProblem *p = m->risk->problem;
  double rest[2];

  for (int g = 0; g < 2; g++)
    rest[g] = num_wide_to_double (m->total[LABOUR_LIKELY].sums.items[g == 0 ? COST_MATERIAL : COST_RENTAL]) / 1e10;
  for (int i = 0; i < basis->n_items; i++)
    {
      const CostItem *item = catalogue_item (basis->catalogue, i);
      double quantity = (double) vector[i] / 1e6, price = (double) basis->price[i] / 1e4;
      int group = item->group == COST_MATERIAL ? 0 : 1,
          common = item->use == COST_USE_SHEET ? m->factor[FACTOR_METAL] : -1;
      /* A price changed for the job or by a what-if keeps the catalogue's range in proportion. */
      double scale = item->price > 0 ? price / ((double) item->price / 1e4) : 1;
      Spread s = { m->risk->spread, (double) item->low / 1e4 * scale, price, (double) item->high / 1e4 * scale };
      RiskTerm term;

      if (quantity == 0 || item->group == COST_ONCE || (item->low == item->high && common < 0))
        continue;
      rest[group] -= quantity * price;
      if (item->low == item->high)
        {
          add_constant (m, quantity * price, group == 0 ? MATERIAL : RENTAL, common);
          continue;
        }
      g_autofree char *name = g_strconcat (PRICE, item->key, NULL);
      int input = risk_problem_find_input (p, name);
      if (input < 0)
        {
          input = risk_problem_add_input (p, name, &s, fault);
          m->risk->ranged++;
        }
      if (input < 0)
        return FALSE;
      risk_term_init (&term, p, input, quantity);
      term.spread = s;
      add_cost (m, &term, group == 0 ? MATERIAL : RENTAL, common);
    }
  add_constant (m, rest[0], MATERIAL, -1);
  add_constant (m, rest[1], RENTAL, -1);
  return TRUE;
}

/* ---- one way ---- */

/* Names, and the cost as the build-up prints it. */
static void
fill_way (Maker *m, const JobRiskAsk *ask, int method)
{
  const CostBasis *basis = job_basis (m->job);
  int decimals = job_decimals (m->job);
  JobRiskWay *way = m->way;
  CostOption option;

  way->method = method;
  way->key = method >= 0 ? g_strdup (catalogue_method (basis->catalogue, method)->key) : NULL;
  way->what_if = ask->changes ? g_strdup (ask->name) : NULL;
  way->name = g_strdup (ask->name     ? ask->name
                        : method >= 0 ? catalogue_method (basis->catalogue, method)->name
                                      : _ ("Each run by its own"));
  cost_option_init (&option, basis, method, &m->total[LABOUR_LIKELY].sums, m->total[LABOUR_LIKELY].vector, decimals);
  way->once = (double) option.once / pow (10, decimals);
  way->likely = (double) (option.cost + option.once) / pow (10, decimals);
  way->likely_hours = option.field_hours;
  way->not_priced = m->total[LABOUR_LIKELY].not_priced;
  cost_option_clear (&option);
}

static gboolean
make_way (JobRisk *risk, const int *factor, TallyJob *const jobs[LABOUR_N_POINTS], const JobRiskAsk *ask, Fault **fault)
{
  Maker m = { .risk = risk, .way = g_new0 (JobRiskWay, 1), .job = jobs[LABOUR_LIKELY] };
  const Catalogue *catalogue = job_basis (m.job)->catalogue;
  int method = ask->method ? catalogue_find_method (catalogue, ask->method) : JOB_OWN_METHOD;
  g_autofree char *hours = NULL;
  JobScope all = { 0, 0 };
  gboolean done;

  g_ptr_array_add (risk->ways, m.way);
  if (ask->method && method < 0)
    return fault_set (fault,
                      fault_new (-1, _ ("name a method of the catalogue"), _ ("there is no method “%s”"), ask->method));
  if (buildup_find (job_basis (m.job), "cost") < 0)
    return fault_set (fault,
                      fault_new (-1, _ ("give the build-up a line “cost”"), _ ("the build-up has no line “cost”")));
  memcpy (m.factor, factor, sizeof m.factor);
  for (int k = 0; k < LABOUR_N_POINTS; k++)
    job_totals (jobs[k], &all, method, &m.total[k]);
  find_slopes (job_basis (m.job), &m.slopes);
  fill_way (&m, ask, method);
  hours = g_strdup_printf ("%s: hours", m.way->name);
  m.way->cost = risk_problem_add_response (risk->problem, m.way->name, m.slopes.constant + m.way->once);
  m.way->hours = risk_problem_add_response (risk->problem, hours, 0);
  done = add_labour (&m, fault) && add_items (&m, fault);
  for (int k = 0; k < LABOUR_N_POINTS; k++)
    job_totals_clear (&m.total[k]);
  return done;
}

/* ---- the settings ---- */

static gboolean
add_factors (JobRisk *risk, TallyJob *job, int *factor, Fault **fault)
{
  static const char *const points[] = { "low", "likely", "high" };
  g_autoptr (GString) words = g_string_new (NULL);

  for (int f = 0; f < N_FACTORS; f++)
    {
      double x[3];
      for (int k = 0; k < 3; k++)
        {
          g_autofree char *key = g_strdup_printf ("risk.%s_%s", factors[f].key, points[k]);
          x[k] = job_setting_number (job, key);
        }
      Spread s = { risk->spread, x[0], x[1], x[2] };
      g_autofree char *title = g_strdup_printf (_ ("common factor “%s”"), _ (factors[f].say));
      if (!spread_check (&s, title, fault))
        return FALSE;
      factor[f] = risk_problem_add_input (risk->problem, factors[f].input, &s, fault);
      risk->money_factors =
          risk->money_factors || ((f == FACTOR_METAL || f == FACTOR_SCHEDULE) && (s.high > s.low || s.likely != 1));
      if (s.high > s.low || s.likely != 1)
        g_string_append_printf (words, _ ("%s%s %.4g, %.4g, %.4g"), words->len ? "; " : "", _ (factors[f].say), s.low,
                                s.likely, s.high);
    }
  risk->factors = g_strdup (words->str);
  return TRUE;
}

/* Correlations among the factors that move; none while all are zero. */
static gboolean
add_correlation (JobRisk *risk, TallyJob *job, const int *factor, Fault **fault)
{
  int moving[N_FACTORS], inputs[N_FACTORS], k = 0;
  double matrix[N_FACTORS * N_FACTORS];
  g_autoptr (GString) words = g_string_new (risk->factors);
  gboolean any = FALSE;
  Fault *inner = NULL;

  for (int f = 0; f < N_FACTORS; f++)
    {
      const Spread *s = risk_problem_input_spread (risk->problem, factor[f]);
      if (s->high > s->low)
        {
          inputs[k] = factor[f];
          moving[k++] = f;
        }
    }
  for (int i = 0; i < k; i++)
    for (int j = 0; j <= i; j++)
      {
        g_autofree char *key = g_strdup_printf ("risk.%s_%s", factors[moving[j]].key, factors[moving[i]].key);
        double rho = i == j ? 1 : job_setting_number (job, key);
        matrix[i * k + j] = matrix[j * k + i] = rho;
        if (i != j && rho != 0)
          g_string_append_printf (words, _ ("; rank correlation of %s and %s %.3g"), _ (factors[moving[j]].say),
                                  _ (factors[moving[i]].say), rho);
        any = any || (i != j && rho != 0);
      }
  g_free (risk->factors);
  risk->factors = g_strdup (words->str);
  if (!any || risk_problem_correlate (risk->problem, inputs, k, matrix, &inner))
    return TRUE;
  fault_set (fault, fault_new (-1, inner->remedy, _ ("rank correlations of the common factors: %s"), inner->what));
  fault_free (inner);
  return FALSE;
}

static void
count_rests (JobRisk *risk, TallyJob *job, const JobRiskAsk *ask, gsize n)
{
  const CostBasis *basis = job_basis (job);
  JobScope all = { 0, 0 };

  for (gsize i = 0; i < n; i++)
    {
      int method = ask[i].method ? catalogue_find_method (basis->catalogue, ask[i].method) : JOB_OWN_METHOD;
      CostRests rests[DUCT_N_STATUSES];
      guint steps = 0, prices = 0, weak_steps = 0, weak_prices = 0;
      JobTotals t;
      job_totals (job, &all, method, &t);
      cost_rests (basis, t.vector, rests);
      for (int s = 0; s < DUCT_N_STATUSES; s++)
        {
          steps += (guint) rests[s].steps;
          prices += (guint) rests[s].items;
          weak_steps += cost_status_weak ((DuctStatus) s) ? (guint) rests[s].steps : 0;
          weak_prices += cost_status_weak ((DuctStatus) s) ? (guint) rests[s].items : 0;
        }
      risk->steps = MAX (risk->steps, steps);
      risk->prices = MAX (risk->prices, prices);
      risk->weak_steps = MAX (risk->weak_steps, weak_steps);
      risk->weak_prices = MAX (risk->weak_prices, weak_prices);
      job_totals_clear (&t);
    }
}

static void
way_free (gpointer data)
{
  JobRiskWay *way = data;

  g_free (way->key);
  g_free (way->name);
  g_free (way->what_if);
  g_free (way);
}

/* The ways of the job as it is share its copies; a what-if has its own. */
static gboolean
make_ways (JobRisk *risk, TallyJob *job, const int *factor, const JobRiskAsk *ask, gsize n, Fault **fault)
{
  g_autoptr (TallyJob) low = NULL, high = NULL;

  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (TallyJob) a = NULL, b = NULL, c = NULL;
      if (ask[i].changes)
        {
          a = job_with (job, ask[i].changes, LABOUR_LOW, fault);
          b = a ? job_with (job, ask[i].changes, LABOUR_LIKELY, fault) : NULL;
          c = b ? job_with (job, ask[i].changes, LABOUR_HIGH, fault) : NULL;
          if (!c)
            return FALSE;
        }
      else if (!low)
        {
          low = job_copy (job, LABOUR_LOW);
          high = job_copy (job, LABOUR_HIGH);
        }
      TallyJob *const jobs[] = { a ? a : low, b ? b : job, c ? c : high };
      if (!make_way (risk, factor, jobs, &ask[i], fault))
        return FALSE;
    }
  return TRUE;
}

JobRisk *
job_risk_new (TallyJob *job, const JobRiskAsk *ask, gsize n, Fault **fault)
{
  g_autoptr (JobRisk) risk = g_new0 (JobRisk, 1);
  int factor[N_FACTORS];

  risk->problem = risk_problem_new ();
  risk->in_force = job_in_force (job);
  risk->ways = g_ptr_array_new_with_free_func (way_free);
  risk->spread = (SpreadKind) job_setting_word (job, "spread");
  risk->trials = (gsize) job_setting_number (job, "risk.trials");
  risk->seed = (guint64) job_setting_number (job, "risk.seed");
  risk->confidence = job_setting_number (job, "risk.confidence") / 100;
  risk->over_mean = job_setting_word (job, "risk.base") == 1;
  risk->decimals = job_decimals (job);
  risk->currency = g_strdup (job_head (job)->text[HEAD_CURRENCY] ? job_head (job)->text[HEAD_CURRENCY] : "");
  if (!add_factors (risk, job, factor, fault) || !add_correlation (risk, job, factor, fault)
      || !make_ways (risk, job, factor, ask, n, fault))
    return NULL;
  count_rests (risk, job, ask, n);
  return g_steal_pointer (&risk);
}

void
job_risk_free (JobRisk *risk)
{
  risk_problem_free (risk->problem);
  g_ptr_array_unref (risk->ways);
  g_free (risk->currency);
  g_free (risk->factors);
  g_ptr_array_unref (risk->in_force);
  g_free (risk);
}

RiskResult *
job_risk_run (const JobRisk *risk, RiskProgress progress, gpointer data, Fault **fault)
{
  RiskRun run = { risk->trials, risk->seed, progress, data };

  return risk_run (risk->problem, &run, fault);
}

char *
job_risk_input_say (const JobRisk *risk, int input)
{
  const char *name = input < 0 ? NULL : risk_problem_input_name (risk->problem, input);

  if (!name)
    return g_strdup (_ ("several together"));
  for (int f = 0; f < N_FACTORS; f++)
    if (strcmp (name, factors[f].input) == 0)
      return g_strdup_printf (_ ("common factor: %s"), _ (factors[f].say));
  if (g_str_has_prefix (name, STEP))
    return g_strdup_printf (_ ("minutes of “%s”"), name + strlen (STEP));
  return g_strdup_printf (_ ("price of %s"), g_str_has_prefix (name, PRICE) ? name + strlen (PRICE) : name);
}

char *
job_risk_input_figure (const JobRisk *risk, int input)
{
  const char *name = input < 0 ? NULL : risk_problem_input_name (risk->problem, input);

  if (name && g_str_has_prefix (name, STEP))
    return g_strconcat ("step:", name + strlen (STEP), NULL);
  if (name && g_str_has_prefix (name, PRICE))
    return g_strconcat ("item:", name + strlen (PRICE), NULL);
  if (name && strcmp (name, factors[FACTOR_FIELD].input) == 0)
    return g_strdup ("field-hours");
  return g_strdup (name && strcmp (name, factors[FACTOR_SHOP].input) == 0 ? "shop-hours" : "cost");
}

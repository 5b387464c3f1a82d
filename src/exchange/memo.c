/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/memo-private.h"

#include "base/money.h"
#include "job/setting.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MOST_BARS 6

/* ---- words ---- */

char *
memo_figure (double value, int decimals, gboolean sign)
{
  double units = isfinite (value) ? CLAMP (value * pow (10, decimals), -1e17, 1e17) : 0;
  g_autofree char *text = money_print (llround (units), decimals, TRUE);

  return g_strconcat (sign && llround (units) > 0 ? "+" : "", text, NULL);
}

char *
memo_money (double amount, gboolean sign)
{
  return memo_figure (amount, 0, sign);
}

char *
memo_name (const char *name)
{
  g_autofree char *valid = g_utf8_make_valid (name && *name ? name : _ ("without a name"), -1);
  g_autofree char *cut = NULL;

  g_strdelimit (valid, "\n\r\t", ' ');
  if (g_utf8_strlen (valid, -1) <= MEMO_MOST_NAME)
    return g_steal_pointer (&valid);
  cut = g_utf8_substring (valid, 0, MEMO_MOST_NAME - 1);
  return g_strconcat (cut, "…", NULL);
}

/* A figure and its per cent sign stay in one line. Takes @words. */
static char *
together (char *words)
{
  g_auto (GStrv) parts = g_strsplit (words, " %", -1);

  g_free (words);
  return g_strjoinv ("\302\240%", parts);
}

static void
row_free (gpointer data)
{
  MemoRow *row = data;

  for (int i = 0; i < 4; i++)
    g_free (row->cell[i]);
  g_free (row);
}

static void
section_free (gpointer data)
{
  MemoSection *section = data;

  g_free (section->heading);
  g_ptr_array_unref (section->line);
  g_free (section);
}

MemoSection *
memo_add_section (Memo *memo, const char *heading)
{
  MemoSection *section = g_new0 (MemoSection, 1);

  section->heading = g_strdup (heading);
  section->line = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (memo->section, section);
  return section;
}

void
memo_add_line (MemoSection *section, char *line)
{
  if (line && *line)
    g_ptr_array_add (section->line, together (line));
  else
    g_free (line);
}

static const char *
keep (Memo *memo, char *words)
{
  g_ptr_array_add (memo->keep, words);
  return words;
}

/* ---- which two ---- */

static double
whole_of (TallyJob *job, int method)
{
  JobScope all = { 0, 0 };
  CostOption option;
  JobTotals totals;
  double whole;

  job_totals (job, &all, method, &totals);
  cost_option_init (&option, job_basis (job), method, &totals.sums, totals.vector, job_decimals (job));
  whole = (double) option.cost + (double) option.once;
  cost_option_clear (&option);
  job_totals_clear (&totals);
  return whole;
}

gboolean
memo_methods (TallyJob *job, const MemoAsk *ask, int *baseline, int *method, Fault **fault)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  const char *own = job_head (job)->text[HEAD_METHOD], *asked[] = { ask->baseline ? ask->baseline : own, ask->method };
  int found[2];
  double best = INFINITY;

  for (int i = 0; i < 2; i++)
    {
      found[i] = asked[i] && *asked[i] ? catalogue_find_method (catalogue, asked[i]) : -1;
      if (found[i] < 0 && asked[i] && *asked[i] && (i == 1 || ask->baseline))
        return fault_set (fault, fault_new (-1, _ ("“compare” lists the methods by their keys"), _ ("there is no method “%s”"), asked[i]));
    }
  *baseline = found[0] >= 0 ? found[0] : 0;
  *method = found[1];
  if (*method >= 0 && *method == *baseline)
    return fault_set (fault, fault_new (-1, _ ("name another one"), _ ("a method is not held against itself")));
  if (*method >= 0)
    return TRUE;
  g_autoptr (GArray) listed = job_methods_listed (job, *baseline);
  for (guint i = 0; i < listed->len; i++)
    {
      int m = g_array_index (listed, int, i);
      double whole = m == *baseline ? INFINITY : whole_of (job, m);
      if (whole < best)
        {
          best = whole;
          *method = m;
        }
    }
  if (*method < 0)
    return fault_set (fault, fault_new (-1, _ ("add one to the catalogue"), _ ("there is no second method to hold against")));
  return TRUE;
}

/* A page of zeros would say nothing. */
static gboolean
has_runs (TallyJob *job, Fault **fault)
{
  return job_n (job, JOB_RUN) > 0
         || fault_set (fault, fault_new (-1, _ ("enter or import its runs first"), _ ("this job has no runs yet")));
}

JobRisk *
memo_risk (TallyJob *job, const MemoAsk *ask, Fault **fault)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  JobRiskAsk asks[MOST_BARS] = { 0 };
  int baseline, method;
  gsize n = 2;

  if (!memo_methods (job, ask, &baseline, &method, fault) || !has_runs (job, fault))
    return NULL;
  asks[0].method = catalogue_method (catalogue, baseline)->key;
  asks[1].method = catalogue_method (catalogue, method)->key;
  g_autoptr (GArray) listed = job_methods_listed (job, baseline);
  for (guint i = 0; i < listed->len && n < MOST_BARS; i++)
    {
      int m = g_array_index (listed, int, i);
      if (m != baseline && m != method)
        asks[n++].method = catalogue_method (catalogue, m)->key;
    }
  return job_risk_new (job, asks, n, fault);
}

/* ---- the answer ---- */

static void
say_answer (const MemoMaker *m)
{
  Memo *memo = m->memo;
  g_autofree char *gain = memo_money (fabs (memo->gain), FALSE);
  const char *better = memo->name[m->choice], *other = memo->name[1 - m->choice];
  double once = (double) job_comparison_way (m->comparison, (guint) m->choice)->option.once / pow (10, m->comparison->decimals);
  g_autofree char *tooling = memo_money (once, FALSE);
  g_autofree char *after = once > 0 ? g_strdup_printf (_ (" after tooling of %s"), tooling) : g_strdup (_ (", tooling included"));

  memo->question = g_strdup_printf (_ ("Which way of connecting the duct: “%s” or “%s”?"), memo->name[0], memo->name[1]);
  if (fabs (memo->gain) < 0.5)
    {
      memo->answer = g_strdup_printf (_ ("“%s” and “%s” cost the same."), memo->name[0], memo->name[1]);
      return;
    }
  if (!memo->sure)
    {
      memo->answer = g_strdup_printf (_ ("%s “%s”: it saves a likely %s %s%s against “%s”. How sure that is was not computed."),
                                      m->choice ? _ ("Take") : _ ("Stay with"), better, m->currency, gain, after, other);
      return;
    }
  /* The interval of what the choice saves: for the baseline that of the gain with its sign turned. */
  g_autofree char *low = memo_money (m->choice ? memo->risk.low.value : -memo->risk.high.value, FALSE);
  g_autofree char *high = memo_money (m->choice ? memo->risk.high.value : -memo->risk.low.value, FALSE);
  g_autofree char *chance = memo_figure (memo->risk.better.less * 100, 1, FALSE);
  g_autofree char *least = memo_figure (memo->risk.better.low * 100, 1, FALSE), *most = memo_figure (memo->risk.better.high * 100, 1, FALSE);
  const char *lead = memo->risk.verdict == JOB_VERDICT_NOT_CLEAR ? _ ("Decide after a trial;") : m->choice ? _ ("Take") : _ ("Stay with");
  memo->answer
    = g_strdup_printf (_ ("%s “%s”: it saves a likely %s %s%s against “%s” (10 to 90 %%: %s to %s) and is cheaper in %s %% of the trials "
                          "(95 %% interval %s to %s): %s."),
                       lead, better, m->currency, gain, after, other, low, high, chance, least, most, job_verdict_say (memo->risk.verdict));
}

/* Where neither of the two is the cheapest of all, that is said. */
static void
say_cheapest (const MemoMaker *m)
{
  const Catalogue *catalogue = job_basis (m->job)->catalogue;
  g_autoptr (GArray) listed = job_methods_listed (m->job, m->memo->method[0]);
  double minor = pow (10, m->comparison->decimals), best = (double) job_comparison_way (m->comparison, (guint) m->choice)->whole;
  int cheapest = -1;

  for (guint i = 0; i < listed->len; i++)
    {
      int method = g_array_index (listed, int, i);
      double whole = whole_of (m->job, method);
      if (method != m->memo->method[0] && method != m->memo->method[1] && whole < best)
        {
          best = whole;
          cheapest = method;
        }
    }
  if (cheapest < 0)
    return;
  const CostMethod *method = catalogue_method (catalogue, cheapest);
  g_autofree char *name = memo_name (*method->name ? method->name : method->key), *money = memo_money (best / minor, FALSE);
  char *longer = g_strdup_printf (_ ("%s Of all methods “%s” costs least, %s %s."), m->memo->answer, name, m->currency, money);
  g_free (m->memo->answer);
  m->memo->answer = longer;
}

/* ---- figures of both ---- */

static void
add_row (Memo *memo, const char *name, double a, double b, int decimals, gboolean differ)
{
  MemoRow *row = g_new0 (MemoRow, 1);

  row->cell[0] = g_strdup (name);
  row->cell[1] = memo_figure (a, decimals, FALSE);
  row->cell[2] = memo_figure (b, decimals, FALSE);
  row->cell[3] = differ ? memo_figure (b - a, decimals, TRUE) : g_strdup ("");
  g_ptr_array_add (memo->row, row);
}

/* Hours and the like, whose difference stands nowhere else: that of the two as printed. */
static void
add_count (Memo *memo, const char *name, double a, double b, int decimals)
{
  double unit = pow (10, decimals);

  add_row (memo, name, round (a * unit) / unit, round (b * unit) / unit, decimals, TRUE);
}

static void
add_range (Memo *memo, const char *name, const RiskSample *a, const RiskSample *b)
{
  MemoRow *row = g_new0 (MemoRow, 1);
  const RiskSample *sample[] = { a, b };

  row->cell[0] = g_strdup (name);
  for (int i = 0; i < 2; i++)
    {
      g_autofree char *low = memo_money (risk_sample_quantile (sample[i], 0.1).value, FALSE);
      g_autofree char *high = memo_money (risk_sample_quantile (sample[i], 0.9).value, FALSE);
      row->cell[1 + i] = g_strdup_printf (_ ("%s to %s"), low, high);
    }
  row->cell[3] = g_strdup ("");
  g_ptr_array_add (memo->row, row);
}

static void
add_rows (const MemoMaker *m)
{
  Memo *memo = m->memo;
  const JobWayFigures *a = job_comparison_way (m->comparison, 0), *b = job_comparison_way (m->comparison, 1);
  double minor = pow (10, m->comparison->decimals);
  g_autofree char *cost = g_strdup_printf (_ ("Cost, %s"), m->currency), *hardware = g_strdup_printf (_ ("Hardware a joint, %s"), m->currency);

  add_row (memo, cost, (double) a->option.cost / minor, (double) b->option.cost / minor, 0, TRUE);
  add_row (memo, _ ("Tooling, once"), (double) a->option.once / minor, (double) b->option.once / minor, 0, TRUE);
  if (memo->sure)
    {
      g_autofree char *over = g_strdup_printf (_ ("Contingency to %g %%"), m->risk->confidence * 100);
      JobRiskContingency first, second;
      add_range (memo, _ ("Cost with tooling, 10 to 90 %"), risk_result_sample (m->result, job_risk_way (m->risk, 0)->cost),
                 risk_result_sample (m->result, job_risk_way (m->risk, 1)->cost));
      job_risk_contingency (m->risk, m->result, 0, &first);
      job_risk_contingency (m->risk, m->result, 1, &second);
      add_row (memo, over, first.contingency, second.contingency, 0, TRUE);
    }
  add_count (memo, _ ("Field worker-hours"), a->option.field_hours, b->option.field_hours, 1);
  add_count (memo, _ ("Shop worker-hours"), a->option.shop_hours, b->option.shop_hours, 1);
  add_count (memo, _ ("Worker-minutes a joint"), a->option.minutes_a_joint, b->option.minutes_a_joint, 2);
  add_count (memo, hardware, a->option.hardware_a_joint, b->option.hardware_a_joint, 2);
  g_autofree char *crew = g_strdup_printf (_ ("Crew-days, %g workers of %g h"), job_setting_number (m->job, "crew.heads"),
                                           job_setting_number (m->job, "crew.day_hours"));
  add_count (memo, crew, a->crew_days, b->crew_days, 1);
}

/* ---- pictures ---- */

static void
add_bars (const MemoMaker *m)
{
  Memo *memo = m->memo;
  guint n = memo->sure ? m->risk->ways->len : 2;
  ChartBar *bar = g_new0 (ChartBar, n);

  for (guint i = 0; i < n; i++)
    {
      double value;
      if (memo->sure)
        {
          const JobRiskWay *way = job_risk_way (m->risk, i);
          const RiskSample *sample = risk_result_sample (m->result, way->cost);
          value = way->likely;
          bar[i] = (ChartBar) { .name = keep (memo, memo_name (way->name)), .value = value, .low = risk_sample_quantile (sample, 0.1).value,
                                .high = risk_sample_quantile (sample, 0.9).value };
        }
      else
        {
          const JobWayFigures *way = job_comparison_way (m->comparison, i);
          value = (double) way->whole / pow (10, m->comparison->decimals);
          bar[i] = (ChartBar) { .name = keep (memo, memo_name (way->name)), .value = value, .low = NAN, .high = NAN };
        }
      bar[i].text = keep (memo, memo_money (value, FALSE));
      bar[i].baseline = i == 0;
    }
  g_ptr_array_add (memo->keep, bar);
  memo->bars = (ChartBars) { .bar = bar, .n = n, .axis = keep (memo, g_strdup_printf (_ ("cost and tooling, %s"), m->currency)), .name = _ ("method") };
  memo->bars_title = g_strdup (memo->sure ? _ ("Cost with tooling: likely, and 10 to 90 % of the trials") : _ ("Cost with tooling"));
}

/* Where the gain turns: on the field rate where it does, else on the figure that matters most. */
static void
add_line (const MemoMaker *m)
{
  Memo *memo = m->memo;
  const JobWayFigures *a = job_comparison_way (m->comparison, 0), *b = job_comparison_way (m->comparison, 1);
  g_autoptr (GArray) evens = cost_break_evens (job_basis (m->job), &a->option, &b->option);
  const CostEven *even = NULL;

  for (guint i = 0; i < evens->len; i++)
    {
      const CostEven *e = &g_array_index (evens, CostEven, i);
      if (e->exists && e->kind != COST_EVEN_TOOLING && e->kind != COST_EVEN_JOINTS && (!even || (e->kind == COST_EVEN_FIELD_RATE)))
        even = e;
    }
  if (!even)
    return;
  g_autofree char *now = memo_figure (even->now, memo_even_decimals (even), FALSE);
  const char *name = keep (memo, memo_even_name (m, even));
  ChartMark *mark = g_new0 (ChartMark, 1);
  mark->at = even->now;
  mark->words = keep (memo, g_strdup_printf (_ ("today %s"), now));
  g_ptr_array_add (memo->keep, mark);
  memo->line = (ChartLine) { .at = even->now,
                             .gain = even->gain,
                             .slope = even->slope,
                             .low = NAN,
                             .high = NAN,
                             .crossing = even->even,
                             .crossing_words = keep (memo, memo_even_words (even)),
                             .mark = mark,
                             .n_marks = 1,
                             .figure = name,
                             .words = keep (memo, g_strdup_printf (_ ("%s; line: gain in %s"), name, m->currency)),
                             .gain_words = keep (memo, g_strdup_printf (_ ("gain, %s"), m->currency)) };
  memo->line_title = g_strdup_printf (_ ("When does “%s” pay?"), memo->name[1]);
  memo->has_line = TRUE;
}

/* ---- the whole ---- */

static void
add_foot (const MemoMaker *m)
{
  Memo *memo = m->memo;
  g_autofree char *trials = memo_figure ((double) memo->trials, 0, FALSE);
  g_autofree char *catalogue = m->ask->revision > 0 ? g_strdup_printf (_ ("catalogue revision %" G_GINT64_FORMAT), m->ask->revision)
                                                    : g_strdup (_ ("starter catalogue"));
  g_autofree char *draws = memo->sure ? g_strdup_printf (_ ("%s trials, seed %" G_GUINT64_FORMAT), trials, memo->seed) : g_strdup (_ ("no trials"));

  memo->foot = g_strdup_printf (_ ("%s · %s · %s · Seamtally %s"), memo->date, catalogue, draws, SEAMTALLY_VERSION);
}

Memo *
memo_new (TallyJob *job, const MemoAsk *ask, const JobRisk *risk, const RiskResult *result, Fault **fault)
{
  const char *currency = job_head (job)->text[HEAD_CURRENCY];
  const Catalogue *catalogue = job_basis (job)->catalogue;
  g_autofree char *job_name = memo_name (job_head (job)->text[HEAD_NAME]);
  g_autoptr (JobComparison) c = NULL;
  int method[2];

  if (!memo_methods (job, ask, &method[0], &method[1], fault) || !has_runs (job, fault))
    return NULL;
  const JobWay ways[] = { { catalogue_method (catalogue, method[0])->key, NULL }, { catalogue_method (catalogue, method[1])->key, NULL } };
  c = job_compare (job, ways, 2, 0, NULL);
  Memo *memo = g_new0 (Memo, 1);
  MemoMaker m = { job, ask, c, risk, result, currency && *currency ? currency : _ ("money"), 0, memo };
  memo->row = g_ptr_array_new_with_free_func (row_free);
  memo->section = g_ptr_array_new_with_free_func (section_free);
  memo->keep = g_ptr_array_new_with_free_func (g_free);
  memo->title = g_strdup_printf (_ ("Decision memo: %s"), job_name);
  memo->date = g_strdup (ask->date ? ask->date : "");
  for (int i = 0; i < 2; i++)
    {
      memo->method[i] = method[i];
      memo->name[i] = memo_name (job_comparison_way (c, (guint) i)->name);
    }
  memo->gain = job_way_gain (job_comparison_way (c, 0), job_comparison_way (c, 1));
  m.choice = memo->gain > 0;
  memo->sure = risk && result && risk->ways->len >= 2;
  if (memo->sure)
    {
      job_risk_gain (risk, result, 1, &memo->risk);
      memo->trials = risk->trials;
      memo->seed = risk->seed;
    }
  say_answer (&m);
  say_cheapest (&m);
  memo->answer = together (memo->answer);
  add_rows (&m);
  add_bars (&m);
  add_line (&m);
  memo_add_lists (&m);
  add_foot (&m);
  return memo;
}

void
memo_free (Memo *memo)
{
  g_ptr_array_unref (memo->row);
  g_ptr_array_unref (memo->section);
  g_ptr_array_unref (memo->keep);
  g_free (memo->name[0]);
  g_free (memo->name[1]);
  g_free (memo->title);
  g_free (memo->question);
  g_free (memo->answer);
  g_free (memo->foot);
  g_free (memo->date);
  g_free (memo->bars_title);
  g_free (memo->line_title);
  g_free (memo);
}

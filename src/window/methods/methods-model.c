/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/methods/methods-model.h"

#include "base/money.h"
#include "cost/rests.h"
#include "job/in-force.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#define MOST_IN_FORCE 2 /* sentences above the table; all of them stand beneath it */

/* ---- figures ---- */

static void
fill_totals (TallySession *session, MethodsData *data)
{
  JobScope all = { 0, 0 };
  const JobScope *scope = data->of == METHODS_PART ? session_scope (session) : &all;
  const GArray *selection = session_selection (session);

  if (data->of == METHODS_RUNS)
    {
      job_totals_of_runs (data->job, (const gint64 *) (gconstpointer) selection->data, selection->len, data->totals);
      return;
    }
  for (int m = 0; m <= data->n; m++)
    job_totals (data->job, scope, m < data->n ? m : JOB_OWN_METHOD, &data->totals[m]);
}

MethodsData *
methods_data_new (TallySession *session, MethodsOf of)
{
  TallyJob *job = session_job (session);
  MethodsData *data;

  if (!job)
    return NULL;
  data = g_new0 (MethodsData, 1);
  data->job = g_object_ref (job);
  data->basis = cost_basis_ref (job_basis (job));
  data->of = of;
  data->n = data->basis->n_methods;
  data->offered = g_new0 (gboolean, (gsize) MAX (data->n, 1));
  for (int m = 0; m < data->n; m++)
    data->offered[m] = job_offers_method (job, m);
  data->totals = g_new0 (JobTotals, (gsize) data->n + 1);
  data->option = g_new0 (CostOption, (gsize) data->n + 1);
  data->decimals = session_decimals (session);
  data->currency = g_strdup (job_head (job)->text[HEAD_CURRENCY] ? job_head (job)->text[HEAD_CURRENCY] : _ ("money"));
  fill_totals (session, data);
  for (int m = 0; m <= data->n; m++)
    cost_option_init (&data->option[m], data->basis, m < data->n ? m : -1, &data->totals[m].sums, data->totals[m].vector,
                      data->decimals);
  data->listed = g_new0 (gboolean, (gsize) data->n + 1);
  for (int m = 0; m < data->n; m++)
    data->listed[m] = job_method_listed (job, data->totals, m);
  data->runs = data->totals[data->n].runs + data->totals[data->n].not_priced;
  return data;
}

void
methods_data_free (MethodsData *data)
{
  for (int m = 0; m <= data->n; m++)
    {
      cost_option_clear (&data->option[m]);
      job_totals_clear (&data->totals[m]);
    }
  g_free (data->offered);
  g_free (data->option);
  g_free (data->listed);
  g_free (data->totals);
  g_free (data->currency);
  cost_basis_unref (data->basis);
  g_object_unref (data->job);
  g_free (data);
}

const char *
methods_name (const MethodsData *data, int method)
{
  const CostMethod *m = catalogue_method (data->basis->catalogue, method);

  return m->name && *m->name ? m->name : m->key;
}

gint64
methods_whole (const MethodsData *data, int method)
{
  return data->option[method].cost + data->option[method].once;
}

int
methods_best (const MethodsData *data, const gboolean *shown, int baseline, int without)
{
  int best = baseline == without ? -1 : baseline;

  for (int m = 0; m < data->n; m++)
    if (m != without && ((shown[m] && data->listed[m]) || m == baseline)
        && (best < 0 || methods_whole (data, m) < methods_whole (data, best)))
      best = m;
  return best;
}

/* ---- words ---- */

char *
methods_number (double x, int decimals)
{
  gint64 whole;

  if (!isfinite (x) || !num_from_double (x * pow (10, decimals), &whole))
    return g_strdup ("");
  return money_print (whole, decimals, TRUE);
}

char *
methods_money (const MethodsData *data, gint64 minor)
{
  return methods_number ((double) minor / pow (10, data->decimals), 0);
}

char *
methods_difference (double difference, const char *text)
{
  if (difference == 0)
    return g_strdup (_ ("same"));
  return difference < 0 ? g_strdup_printf (_ ("%s less"), text) : g_strdup_printf (_ ("%s more"), text);
}

static char *
hours_words (double difference)
{
  g_autofree char *text = methods_number (fabs (difference), 1);

  if (fabs (difference) < 0.05)
    return g_strdup (_ ("the same field hours"));
  return difference < 0 ? g_strdup_printf (_ ("%s fewer field hours"), text) : g_strdup_printf (_ ("%s more field hours"), text);
}

static char *
saving_sentence (const MethodsData *data, int best, int baseline)
{
  g_autofree char *money = money_print (methods_whole (data, baseline) - methods_whole (data, best), data->decimals, TRUE);
  g_autofree char *hours = hours_words (data->option[best].field_hours - data->option[baseline].field_hours);

  return g_strdup_printf (_ ("%s is cheapest: likely %s %s less cost than %s, tooling included, with %s."),
                          methods_name (data, best), data->currency, money, methods_name (data, baseline), hours);
}

/* Runs that stand in no figure; worse where they are not the same for the two. */
static char *
not_priced_sentence (const MethodsData *data, int best, int baseline)
{
  gint64 a = data->totals[baseline].not_priced, b = data->totals[best].not_priced;

  if (a == 0 && b == 0)
    return g_strdup ("");
  if (a == b)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, " %" G_GINT64_FORMAT " run is not priced and stands in no figure.",
                                         " %" G_GINT64_FORMAT " runs are not priced and stand in no figure.", (gulong) a),
                            a);
  return g_strdup_printf (_ (" Not comparable as it stands: %" G_GINT64_FORMAT " runs are not priced by the one, %" G_GINT64_FORMAT
                             " by the baseline."),
                          b, a);
}

char *
methods_conclusion (const MethodsData *data, const gboolean *shown, int baseline)
{
  int best;

  if (!data)
    return g_strdup (_ ("No job is open."));
  if (data->n == 0)
    return g_strdup (_ ("The catalogue has no methods to compare."));
  if (data->runs == 0)
    return g_strdup (data->of == METHODS_RUNS ? _ ("No runs are selected: select some under Runs, and they are compared here.")
                                              : _ ("There are no runs to compare here yet."));
  best = methods_best (data, shown, baseline, -1);
  if (data->totals[best].runs == 0)
    return g_strdup (_ ("Nothing can be compared yet: none of these runs is priced."));
  g_autofree char *rest = not_priced_sentence (data, best, baseline);
  g_autofree char *first
    = best == baseline ? g_strdup_printf (_ ("%s is cheapest: no other method shown saves anything, tooling included."),
                                          methods_name (data, baseline))
                       : saving_sentence (data, best, baseline);
  return g_strconcat (first, rest, NULL);
}

char *
methods_part_name (TallySession *session)
{
  const JobScope *scope = session_scope (session);
  TallyJob *job = session_job (session);
  const JobRecord *system = job && scope->system > 0 ? job_find (job, JOB_SYSTEM, scope->system) : NULL;
  const JobRecord *area = job && scope->area > 0 ? job_find (job, JOB_AREA, scope->area) : NULL;
  const char *s = system ? system->text[SYSTEM_KEY] : scope->system < 0 ? _ ("no system") : NULL;
  const char *a = area ? area->text[AREA_KEY] : scope->area < 0 ? _ ("no area") : NULL;

  if (!s && !a)
    return g_strdup (_ ("whole job"));
  return s && a ? g_strdup_printf ("%s, %s", s, a) : g_strdup (s ? s : a);
}

char *
methods_in_force (const MethodsData *data, guint most)
{
  g_autoptr (GPtrArray) words = job_in_force (data->job);
  g_autoptr (GString) out = g_string_new (NULL);

  for (guint i = 0; i < MIN (words->len, most); i++)
    g_string_append_printf (out, "%s%s", i > 0 ? " " : "", (const char *) g_ptr_array_index (words, i));
  if (words->len > most)
    g_string_append_printf (out, g_dngettext (GETTEXT_PACKAGE, " %u more is named below.", " %u more are named below.", words->len - most),
                            words->len - most);
  return g_string_free (g_steal_pointer (&out), FALSE);
}

char *
methods_rest_in_force (const MethodsData *data)
{
  g_autofree char *all = methods_in_force (data, G_MAXUINT), *above = methods_in_force (data, MOST_IN_FORCE);

  return g_strdup (strcmp (all, above) == 0 ? "" : all);
}

char *
methods_about (const MethodsData *data, int baseline, const char *part)
{
  if (!data || data->n == 0)
    return g_strdup ("");
  const char *what = data->of == METHODS_JOB ? _ ("Whole job") : data->of == METHODS_RUNS ? _ ("Selected runs") : part;
  g_autofree char *runs
    = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%" G_GINT64_FORMAT " run", "%" G_GINT64_FORMAT " runs", (gulong) data->runs),
                       data->runs);
  g_autofree char *held = g_strdup_printf (_ ("%s · %s · each method held against %s"), what, runs, methods_name (data, baseline));
  g_autofree char *in_force = methods_in_force (data, MOST_IN_FORCE);
  return g_strconcat (held, *in_force ? "\n" : "", in_force, NULL);
}

static const char *
status_words (DuctStatus status)
{
  switch (status)
    {
    case DUCT_INVENTED_DEMO:
      return _ ("invented for the demo");
    case DUCT_FROM_MEMORY:
      return _ ("from memory");
    case DUCT_COMMON_PRACTICE:
      return _ ("common practice");
    case DUCT_SHOPS_OWN:
      return _ ("the shop's own");
    case DUCT_COMPUTED:
      return _ ("computed");
    case DUCT_PUBLISHED:
    case DUCT_PUBLISHED_SECONDARY:
      return _ ("published");
    case DUCT_N_STATUSES:
    default:
      return "";
    }
}

char *
methods_rests (const MethodsData *data, int method)
{
  CostRests rests[DUCT_N_STATUSES];
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);
  gboolean weak = FALSE;

  cost_rests (data->basis, data->totals[method].vector, rests);
  for (int s = 0; s < DUCT_N_STATUSES; s++)
    {
      int n = rests[s].items + rests[s].steps;
      if (n == 0)
        continue;
      weak = weak || cost_status_weak ((DuctStatus) s);
      /* TRANSLATORS: a number of figures and their status, "45 invented demo" */
      g_ptr_array_add (parts, g_strdup_printf (_ ("%d %s"), n, status_words ((DuctStatus) s)));
    }
  if (parts->len == 0)
    return g_strdup ("");
  g_ptr_array_add (parts, NULL);
  g_autofree char *list = g_strjoinv (", ", (char **) parts->pdata);
  return g_strdup_printf (weak ? _ ("%s rests on prices and minutes that a bid must name when it rests on them: %s.")
                               : _ ("%s rests on these prices and minutes: %s."),
                          methods_name (data, method), list);
}

/* ---- break-evens ---- */

char *
methods_even_name (const MethodsData *data, const CostEven *even)
{
  const Catalogue *catalogue = data->basis->catalogue;

  switch (even->kind)
    {
    case COST_EVEN_FIELD_RATE:
      return g_strdup (_ ("field rate"));
    case COST_EVEN_ITEM:
      return g_strdup_printf (_ ("price of %s"), catalogue_item (catalogue, even->target)->key);
    case COST_EVEN_STEP:
      return g_strdup_printf (_ ("minutes of “%s”"), catalogue_step (catalogue, even->target)->key);
    case COST_EVEN_TOOLING:
      return g_strdup (_ ("tooling"));
    case COST_EVEN_JOINTS:
    default:
      return g_strdup (_ ("joints like these"));
    }
}

char *
methods_even_unit (const MethodsData *data, const CostEven *even)
{
  const Catalogue *catalogue = data->basis->catalogue;
  const char *unit;

  switch (even->kind)
    {
    case COST_EVEN_FIELD_RATE:
      return g_strdup_printf (_ ("%s an hour"), data->currency);
    case COST_EVEN_ITEM:
      unit = catalogue_item (catalogue, even->target)->unit;
      return strcmp (unit, "each") == 0 ? g_strdup_printf (_ ("%s each"), data->currency)
                                        : g_strdup_printf (_ ("%s a %s"), data->currency, unit);
    case COST_EVEN_STEP:
      return g_strdup (_ ("times today's minutes"));
    case COST_EVEN_TOOLING:
      return g_strdup_printf (_ ("%s once"), data->currency);
    case COST_EVEN_JOINTS:
    default:
      return g_strdup (_ ("joints"));
    }
}

char *
methods_even_figure (const CostEven *even, double figure)
{
  return methods_number (figure, even->kind == COST_EVEN_JOINTS ? 0 : even->kind == COST_EVEN_ITEM && fabs (figure) < 10 ? 3 : 2);
}

char *
methods_even_words (const CostEven *even)
{
  if (even->exists && isfinite (even->even))
    {
      g_autofree char *at = methods_even_figure (even, even->even);
      return g_strdup_printf (even->slope > 0 ? _ ("pays above %s") : _ ("pays below %s"), at);
    }
  if (even->equal)
    return g_strdup (_ ("costs the same"));
  return g_strdup (even->gain > 0 ? _ ("pays at any figure") : _ ("never pays on this alone"));
}

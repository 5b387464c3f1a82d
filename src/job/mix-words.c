/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/mix-private.h"

#include "base/decimal.h"
#include "base/measure.h"
#include "base/money.h"
#include "job/compare.h"
#include "job/figures-note.h"
#include "job/in-force.h"
#include "job/job-private.h"
#include "job/labour-model.h"
#include "job/setting.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* ---- methods not allowed on a group: "SA-1/Level 1/2/18 = slip-and-drive, integral-bolted; ..." ---- */

typedef void (*NotVisitor) (gpointer data, const char *group, char **methods);

static void
visit_not (TallyJob *job, NotVisitor visit, gpointer data)
{
  g_auto (GStrv) parts = g_strsplit (job_setting (job, "mix.not"), ";", -1);

  for (char **p = parts; *p; p++)
    {
      char *equal = strchr (*p, '=');
      if (!equal)
        {
          if (*g_strstrip (*p))
            visit (data, *p, NULL);
          continue;
        }
      *equal = '\0';
      g_auto (GStrv) methods = g_strsplit (equal + 1, ",", -1);
      for (char **m = methods; *m; m++)
        g_strstrip (*m);
      visit (data, g_strstrip (*p), methods);
    }
}

static gboolean
named (char **methods, const char *key)
{
  for (char **m = methods; m && *m; m++)
    if (g_ascii_strcasecmp (*m, key) == 0)
      return TRUE;
  return FALSE;
}

static gboolean
same_group (const char *text, const JobMixGroup *group)
{
  g_autofree char *a = g_utf8_casefold (text, -1), *b = g_utf8_casefold (group->key, -1);

  return strcmp (a, b) == 0;
}

typedef struct
{
  const JobMixGroup *group;
  const char *method;
  gboolean found;
} Ask;

static void
ask_cb (gpointer data, const char *group, char **methods)
{
  Ask *ask = data;

  ask->found = ask->found || (named (methods, ask->method) && same_group (group, ask->group));
}

gboolean
job_mix_forbids (TallyJob *job, const JobMixGroup *group, int method)
{
  Ask ask = { group, catalogue_method (job_basis (job)->catalogue, method)->key, FALSE };

  if (*job_setting (job, "mix.not"))
    visit_not (job, ask_cb, &ask);
  return ask.found;
}

typedef struct
{
  Ask ask;
  gboolean forbid, done;
  GString *out;
} Write;

static void
append_not (GString *out, const char *group, char **methods, const char *less, const char *more)
{
  guint n = 0;
  GString *list = g_string_new (NULL);

  for (char **m = methods; m && *m; m++)
    if (**m && (!less || g_ascii_strcasecmp (*m, less) != 0))
      g_string_append_printf (list, "%s%s", n++ > 0 ? ", " : "", *m);
  if (more)
    g_string_append_printf (list, "%s%s", n++ > 0 ? ", " : "", more);
  if (n > 0)
    g_string_append_printf (out, "%s%s = %s", out->len > 0 ? "; " : "", group, list->str);
  g_string_free (list, TRUE);
}

static void
write_cb (gpointer data, const char *group, char **methods)
{
  Write *w = data;
  gboolean here = same_group (group, w->ask.group),
           more = here && w->forbid && !w->done && !named (methods, w->ask.method);

  append_not (w->out, group, methods, here && !w->forbid ? w->ask.method : NULL, more ? w->ask.method : NULL);
  w->done = w->done || here;
}

void
job_edit_mix_not (TallyJob *job, JobEdit *edit, const JobMixGroup *group, int method, gboolean forbid)
{
  g_autoptr (GString) out = g_string_new (NULL);
  Write w = { { group, catalogue_method (job_basis (job)->catalogue, method)->key, FALSE }, forbid, FALSE, out };

  visit_not (job, write_cb, &w);
  if (forbid && !w.done)
    append_not (out, group->key, NULL, NULL, w.ask.method);
  job_edit_setting (job, edit, "mix.not", out->str);
}

typedef struct
{
  TallyJob *job;
  JobMix *mix;
} Unknown;

static void
unknown_cb (gpointer data, const char *group, char **methods)
{
  const Unknown *u = data;
  gboolean known = FALSE;

  for (guint g = 0; g < u->mix->group->len; g++)
    known = known || same_group (group, job_mix_group (u->mix, g));
  if (!known)
    g_ptr_array_add (u->mix->said, g_strdup_printf (_ ("methods not allowed: there is no group “%s” now"), group));
  for (char **m = methods; m && *m; m++)
    if (**m && catalogue_find_method (job_basis (u->job)->catalogue, *m) < 0)
      g_ptr_array_add (u->mix->said, g_strdup_printf (_ ("methods not allowed: there is no method “%s”"), *m));
}

void
job_mix_say_unknown (TallyJob *job, JobMix *mix)
{
  Unknown unknown = { job, mix };

  visit_not (job, unknown_cb, &unknown);
}

gboolean
job_check_mix (TallyJob *job, const JobEdit *edit, GError **error)
{
  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      if (!d->after || d->after->type != JOB_SETTING || g_strcmp0 (d->after->text[SETTING_KEY], "mix.not") != 0)
        continue;
      const char *before = d->before && d->before->text[SETTING_VALUE] ? d->before->text[SETTING_VALUE] : "";
      g_auto (GStrv) parts = g_strsplit (d->after->text[SETTING_VALUE] ? d->after->text[SETTING_VALUE] : "", ";", -1);
      for (char **p = parts; *p; p++)
        {
          const char *equal = strchr (*p, '=');
          g_auto (GStrv) methods = g_strsplit (equal ? equal + 1 : "", ",", -1);
          for (char **m = methods; *m; m++)
            /* One that was there before stands: the catalogue may have lost it since. */
            if (*g_strstrip (*m) && catalogue_find_method (job_basis (job)->catalogue, *m) < 0 && !strstr (before, *m))
              {
                g_set_error (error, JOB_ERROR, JOB_ERROR_INVALID,
                             _ ("methods not allowed: there is no method “%s”; name one of the catalogue"), *m);
                return FALSE;
              }
        }
    }
  return TRUE;
}

/* ---- the answer as an edit ---- */

JobEdit *
job_edit_mix (TallyJob *job, const JobMix *mix, const CostMixPlan *plan, const char *label)
{
  JobEdit *edit = job_edit_new (label);

  for (guint m = 0; m < mix->method->len; m++)
    {
      int method = g_array_index (mix->method, int, m);
      g_autoptr (GArray) ids = g_array_new (FALSE, FALSE, sizeof (gint64));
      for (guint g = 0; g < mix->group->len; g++)
        {
          const JobMixGroup *group = job_mix_group (mix, g);
          for (guint i = 0; plan->method[g] == m && i < group->runs->len; i++)
            {
              gint64 id = g_array_index (group->runs, gint64, i);
              const JobRecord *run = job_find (job, JOB_RUN, id);
              JobRunResult result;
              if (!run)
                continue;
              job_compute (job, run, JOB_OWN_METHOD, &result);
              if (result.asked != method)
                g_array_append_val (ids, id);
              job_run_result_clear (&result);
            }
        }
      g_autoptr (JobEdit) part =
          job_edit_method_of_runs (job, (const gint64 *) (gpointer) ids->data, ids->len,
                                   catalogue_method (job_basis (job)->catalogue, method)->key, label);
      for (guint i = 0; i < part->deltas->len; i++)
        {
          const JobDelta *d = &g_array_index (part->deltas, JobDelta, i);
          job_edit_add (edit, d->before ? job_record_ref (d->before) : NULL,
                        d->after ? job_record_ref (d->after) : NULL);
        }
    }
  return edit;
}

/* ---- words ---- */

static void
add_words (GString *out, gint64 n, char *words)
{
  if (n > 0)
    g_string_append_printf (out, "%s%s", out->len > 0 ? ", " : "", words);
  g_free (words);
}

char *
job_mix_left_out (const JobMix *mix)
{
  GString *out = g_string_new (NULL);

  add_words (out, mix->round,
             g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d round run", "%d round runs", (gulong) mix->round), (int) mix->round));
  add_words (out, mix->counted,
             g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d counted line", "%d counted lines",
                                           (gulong) mix->counted), (int) mix->counted));
  add_words (out, mix->not_priced,
             g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d run that is not priced", "%d runs that are not priced",
                                           (gulong) mix->not_priced), (int) mix->not_priced));
  return g_string_free (out, FALSE);
}

/* What the figures of all methods that were weighed rest on. */
static char *
rests_words (TallyJob *job, const JobMix *mix)
{
  int n = job_basis (job)->n_vector;
  g_autofree gint64 *vector = g_new0 (gint64, (gsize) n);
  JobScope all = { 0, 0 };
  JobFiguresNote note;

  for (guint m = 0; m < mix->method->len; m++)
    {
      JobTotals totals;
      job_totals (job, &all, g_array_index (mix->method, int, m), &totals);
      for (int i = 0; i < n; i++)
        vector[i] = MAX (vector[i], totals.vector[i]);
      job_totals_clear (&totals);
    }
  job_figures_count (job, vector, &note);
  return job_figures_words (&note);
}

GPtrArray *
job_mix_choices (TallyJob *job, const JobMix *mix)
{
  GPtrArray *out = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *left_out = job_mix_left_out (mix);
  const char *status = job_setting_held (job, "mix.boundary_money") || job_setting_held (job, "mix.boundary_minutes")
                           ? _ ("the job's own")
                           : _ ("common practice");
  gint64 joints = 0;

  for (guint i = 0; i < mix->mix->boundary->len; i++)
    joints += g_array_index (mix->mix->boundary, CostMixBoundary, i).joints;
  g_ptr_array_add (
      out, g_strdup (_ ("Groups: rectangular runs of one system, area, pressure class and band of the longest side.")));
  g_ptr_array_add (
      out, g_strdup_printf (
               _ ("Rows that follow one another in a system and area count as connected, round duct between them parts "
                  "them (common practice); so %d joints stand between groups."), (int) joints));
  g_autofree char *money =
      decimal_print ((gint64) round (job_setting_number (job, "mix.boundary_money") * 1e4), 4, 2, TRUE);
  g_ptr_array_add (out, g_strdup_printf (_ ("A joint between two connections takes %s of hardware and %g field minutes more (%s); a joint "
                                            "that one method makes to its own fallback carries that in the method's figures."),
                                         money, job_setting_number (job, "mix.boundary_minutes"), status));
  g_ptr_array_add (out,
                   g_strdup (_ ("Set-up is the tooling of a method, once; methods with the same tooling share it.")));
  if (*left_out)
    g_ptr_array_add (out, g_strdup_printf (_ ("Not part of the choice, in all sums as they stand: %s."), left_out));
  g_ptr_array_add (out, g_strdup (_ ("Sums here are unrounded; a build-up rounds each line and may differ by a cent.")));
  g_autoptr (GPtrArray) in_force = job_in_force (job);
  for (guint i = 0; i < in_force->len; i++)
    g_ptr_array_add (out, g_strdup (in_force->pdata[i]));
  if (job_labour (job)->learning != LABOUR_LEARNING_NONE)
    g_ptr_array_add (out, g_strdup (_ ("Learning is taken as if the whole job were built by each method.")));
  g_autofree char *rests = rests_words (job, mix);
  g_ptr_array_add (out, g_strdup_printf (_ ("Behind the methods that were weighed: %s."), rests));
  for (guint i = 0; i < mix->said->len; i++)
    g_ptr_array_add (out, g_strdup_printf ("%s.", (const char *) g_ptr_array_index (mix->said, i)));
  return out;
}

/* The one method of every group of a band, -1: none there, -2: several. */
static int
method_of_band (const JobMix *mix, const CostMixPlan *plan, guint band)
{
  int method = -1;

  for (guint g = 0; g < mix->group->len; g++)
    if (job_mix_group (mix, g)->band == band)
      method = method == -1 || method == (int) plan->method[g] ? (int) plan->method[g] : -2;
  return method;
}

static guint
bands_end (const JobMix *mix)
{
  guint end = 0;

  for (guint g = 0; g < mix->group->len; g++)
    end = MAX (end, job_mix_group (mix, g)->band + 1);
  return end;
}

/* Band ends by index, read off the names of groups: the settings may have changed since. */
static char *
words_by_band (const JobMix *mix, const CostMixPlan *plan, const GArray *bands)
{
  GString *out = g_string_new (NULL);
  guint end = bands_end (mix);

  for (guint from = 0, to; from < end; from = to)
    {
      int method = method_of_band (mix, plan, from);
      to = from + 1;
      if (method == -2)
        {
          g_string_free (out, TRUE);
          return NULL;
        }
      if (method == -1)
        continue;
      while (to < end && (method_of_band (mix, plan, to) == method || method_of_band (mix, plan, to) == -1))
        to++;
      g_autofree char *size = job_mix_band_words (bands, from, to == end ? bands->len : to - 1);
      g_string_append_printf (out, "%s%s %s", out->len > 0 ? "; " : "", mix->mix->method[method], size);
    }
  return g_string_free (out, FALSE);
}

/* Bands and classes that groups span: of the method, or of all (@method -1). */
typedef struct
{
  guint from, to;
  gint64 low, high;
} Span;

static Span
span_of (const JobMix *mix, const CostMixPlan *plan, int method)
{
  Span s = { G_MAXUINT, 0, G_MAXINT64, 0 };

  for (guint g = 0; g < mix->group->len; g++)
    {
      const JobMixGroup *group = job_mix_group (mix, g);
      if (method >= 0 && plan->method[g] != (guint) method)
        continue;
      s.from = MIN (s.from, group->band);
      s.to = MAX (s.to, group->band);
      s.low = MIN (s.low, group->pressure);
      s.high = MAX (s.high, group->pressure);
    }
  return s;
}

static char *
class_words (const Span *s, const Span *all)
{
  g_autofree char *low = pressure_print (s->low, FALSE), *high = pressure_print (s->high, FALSE);

  if (s->low == all->low && s->high == all->high)
    return g_strdup ("");
  if (s->low == all->low)
    return g_strdup_printf (_ (", to class %s"), high);
  if (s->high == all->high)
    return g_strdup_printf (_ (", from class %s"), low);
  return s->low == s->high ? g_strdup_printf (_ (", class %s"), low)
                           : g_strdup_printf (_ (", class %s to %s"), low, high);
}

/* Of two methods the one that has just a range of sizes and classes, the other "elsewhere". NULL: neither has. */
static char *
words_by_span (const JobMix *mix, const CostMixPlan *plan)
{
  Span all = span_of (mix, plan, -1);
  guint other = 0;

  if (plan->methods != 2)
    return NULL;
  for (guint m = 0; m < mix->mix->n_methods; m++)
    {
      Span s = span_of (mix, plan, (int) m);
      gboolean alone = s.from != G_MAXUINT;
      for (guint g = 0; g < mix->group->len && alone; g++)
        {
          const JobMixGroup *group = job_mix_group (mix, g);
          gboolean inside =
              group->band >= s.from && group->band <= s.to && group->pressure >= s.low && group->pressure <= s.high;
          if (plan->method[g] != m)
            other = plan->method[g];
          alone = plan->method[g] == m || !inside;
        }
      if (!alone)
        continue;
      g_autofree char *class = class_words (&s, &all);
      g_autofree char *size = s.from == all.from && s.to == all.to
                                  ? g_strdup ("")
                                  : job_mix_band_words (mix->bands, s.from == all.from ? 0 : s.from,
                                                        s.to == all.to ? mix->bands->len : s.to);
      return g_strdup_printf (_ ("%s %s%s; %s elsewhere"), mix->mix->method[m], size, class, mix->mix->method[other]);
    }
  return NULL;
}

char *
job_mix_words (const JobMix *mix, const CostMixPlan *plan)
{
  g_autofree guint *groups = g_new0 (guint, mix->mix->n_methods);
  GString *out;

  for (guint g = 0; g < mix->group->len; g++)
    groups[plan->method[g]]++;
  if (plan->methods == 1)
    return g_strdup_printf (_ ("%s everywhere"), mix->mix->method[plan->method[0]]);
  g_autofree char *bands = words_by_band (mix, plan, mix->bands);
  if (bands)
    return g_steal_pointer (&bands);
  g_autofree char *span = words_by_span (mix, plan);
  if (span)
    return g_steal_pointer (&span);
  out = g_string_new (NULL);
  for (guint m = 0; m < mix->mix->n_methods; m++)
    if (groups[m] > 0)
      {
        g_autofree char *words =
            g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s on %u group", "%s on %u groups", groups[m]),
                             mix->mix->method[m], groups[m]);
        g_string_append_printf (out, "%s%s", out->len > 0 ? "; " : "", words);
      }
  return g_string_free (out, FALSE);
}

char *
job_mix_money (const JobMix *mix, gint64 units)
{
  return money_print (money_round ((NumWide) units * 1000000, mix->decimals), mix->decimals, TRUE);
}

/* A sentence is read, not added up. */
static char *
whole_money (gint64 units)
{
  return money_print (money_round ((NumWide) units * 1000000, 0), 0, TRUE);
}

static void
say_against_one (GString *out, const CostMixReport *report, const CostMixPlan *best)
{
  const CostMixPlan *one = report->one;

  if (best->methods == 1)
    g_string_append (out, _ ("; no mix of methods is cheaper"));
  else if (one)
    {
      g_autofree char *less = whole_money (one->cost - best->cost);
      g_string_append_printf (out, _ ("; %s less than the best single method"), less);
    }
  else if (!report->stopped)
    g_string_append (out, _ ("; no single method keeps the limits"));
}

char *
job_mix_beside (const JobMix *mix, const CostMixPlan *plan)
{
  g_autofree char *tooling = job_mix_money (mix, plan->setup), *joints = job_mix_money (mix, plan->boundary_cost);

  if (plan->setup > 0 && plan->boundary_cost > 0)
    return g_strdup_printf (
        _ ("Of it %s is tooling and %s joints between unlike connections: both stand beside the bid."), tooling,
        joints);
  if (plan->setup > 0)
    return g_strdup_printf (_ ("Of it %s is tooling, which stands beside the bid."), tooling);
  if (plan->boundary_cost > 0)
    return g_strdup_printf (_ ("Of it %s is for joints between unlike connections, which stand beside the bid."),
                            joints);
  return g_strdup ("");
}

char *
job_mix_conclusion (const JobMix *mix, const CostMixReport *report)
{
  const CostMixPlan *best = g_ptr_array_index (report->best->plan, 0);
  g_autofree char *words = job_mix_words (mix, best), *money = whole_money (job_mix_cost (mix, best));
  GString *out = g_string_new (NULL);

  g_string_append_printf (out, _ ("%s: cost %s with tooling"), words, money);
  say_against_one (out, report, best);
  if (report->best->proven)
    g_string_append (out, _ ("; proven, nothing is cheaper."));
  else
    {
      g_autofree char *gap = job_mix_money (mix, best->cost - report->best->bound);
      g_string_append_printf (out, _ ("; stopped early, nothing is more than %s cheaper."), gap);
    }
  if (!isnan (mix->limit_hours) && report->more)
    {
      g_autofree char *saves = job_mix_money (mix, report->hour_saves);
      if (report->hour_saves > 0)
        g_string_append_printf (out, _ (" One more field hour would save %s."), saves);
      else
        g_string_append (out, _ (" One more field hour would save nothing."));
    }
  return g_string_free (out, FALSE);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/compare.h"

#include "base/money.h"
#include "job/setting.h"
#include "job/what-if.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#define MOST_DAYS 1e5 /* beyond, a date says nothing */

/* ---- crew and calendar ---- */

double
job_crew_days (TallyJob *job, double field_hours)
{
  double day = job_setting_number (job, "crew.heads") * job_setting_number (job, "crew.day_hours");

  return day > 0 ? field_hours / day : NAN;
}

static gboolean
read_date (TallyJob *job, const char *key, GDate *date)
{
  const char *text = job_setting (job, key);
  int year, month, day;

  g_date_clear (date, 1);
  if (sscanf (text, "%4d-%2d-%2d", &year, &month, &day) != 3 || year < 1 || month < 1 || month > 12 || day < 1
      || !g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year))
    return FALSE;
  g_date_set_dmy (date, (GDateDay) day, (GDateMonth) month, (GDateYear) year);
  return TRUE;
}

static void
next_weekday (GDate *date)
{
  while (g_date_get_weekday (date) > G_DATE_FRIDAY)
    g_date_add_days (date, 1);
}

gboolean
job_field_dates (TallyJob *job, double crew_days, const GDate *not_before, GDate *start, GDate *finish)
{
  guint more;

  if (!read_date (job, "crew.start", start) || !isfinite (crew_days) || crew_days < 0 || crew_days > MOST_DAYS)
    return FALSE;
  if (not_before && g_date_compare (not_before, start) > 0)
    *start = *not_before;
  next_weekday (start);
  /* A day that is begun is a day; an hour's rounding is none. */
  more = (guint) MAX (ceil (crew_days - 1e-9), 1) - 1;
  *finish = *start;
  g_date_add_days (finish, more / 5 * 7);
  for (more %= 5; more > 0; more--)
    {
      g_date_add_days (finish, 1);
      next_weekday (finish);
    }
  return TRUE;
}

char *
job_crew_words (TallyJob *job)
{
  return g_strdup_printf (_ ("Crew-days: field worker-hours over %g workers of %g hours a day. Days are Monday to Friday, holidays are "
                             "not known; a day that is begun counts."),
                          job_setting_number (job, "crew.heads"), job_setting_number (job, "crew.day_hours"));
}

/* ---- one way ---- */

static void
way_free (gpointer data)
{
  JobWayFigures *f = data;

  cost_option_clear (&f->option);
  job_totals_clear (&f->totals);
  job_stock_clear (&f->stock);
  g_clear_pointer (&f->fault, fault_free);
  g_clear_object (&f->job);
  g_free (f->what_if);
  g_free (f->name);
  g_free (f);
}

static char *
way_name (TallyJob *job, const JobWay *way, int method)
{
  const CostMethod *m = method >= 0 ? catalogue_method (job_basis (job)->catalogue, method) : NULL;
  const char *name = m ? (*m->name ? m->name : m->key) : way->method ? way->method : _ ("Each run by its own method");

  return way->what_if ? g_strdup_printf (_ ("%s; what if “%s”"), name, way->what_if) : g_strdup (name);
}

/* The job under a what-if: one copy for all ways that ask for it. */
static TallyJob *
job_under (JobComparison *c, const char *what_if, Fault **fault)
{
  g_autoptr (GPtrArray) names = NULL, changes = NULL;

  if (!what_if)
    return g_object_ref (c->job);
  for (guint i = 0; i < c->way->len; i++)
    {
      const JobWayFigures *f = job_comparison_way (c, i);
      if (f->job && g_strcmp0 (f->what_if, what_if) == 0)
        return g_object_ref (f->job);
    }
  names = job_what_ifs (c->job);
  if (!g_ptr_array_find_with_equal_func (names, what_if, g_str_equal, NULL))
    {
      g_ptr_array_add (names, NULL);
      g_autofree char *list = g_strjoinv (", ", (char **) names->pdata);
      g_autofree char *remedy = *list ? g_strdup_printf (_ ("the job keeps these: %s"), list)
                                      : g_strdup (_ ("the job keeps none; write one down first"));
      fault_set (fault, fault_new (-1, remedy, _ ("there is no what-if “%s”"), what_if));
      return NULL;
    }
  changes = job_what_if_changes (c->job, what_if);
  return job_with (c->job, changes, LABOUR_LIKELY, fault);
}

static void
part_totals (TallyJob *job, const JobPart *part, int method, JobTotals *totals)
{
  int n = job_basis (job)->n_methods, wanted = method < 0 ? n : method;
  g_autofree JobTotals *all = NULL;

  if (!part->ids)
    {
      job_totals (job, &part->scope, method, totals);
      return;
    }
  all = g_new0 (JobTotals, (gsize) n + 1);
  job_totals_of_runs (job, part->ids, part->n_ids, all);
  for (int m = 0; m <= n; m++)
    if (m != wanted)
      job_totals_clear (&all[m]);
  *totals = all[wanted];
}

static gint64
labour_of (const BuildUp *up, const CostSums *sums)
{
  gint64 labour = 0;
  gboolean any = FALSE;

  for (guint i = 0; i < up->n; i++)
    if (((CostBuildLine *) g_ptr_array_index (up->basis->buildup, i))->op == COST_OP_LABOUR)
      {
        labour += up->value[i];
        any = TRUE;
      }
  /* A build-up of the office's own may have no line of labour. */
  return any ? labour
             : (gint64) round (num_wide_to_double (sums->labour[0] + sums->labour[1]) / num_wide_to_double (COST_LABOUR_DEN)
                               * pow (10, up->decimals));
}

static void
fill_dates (JobWayFigures *f)
{
  GDate goods;
  gboolean ordered = f->stock.joint_days >= 0 && read_date (f->job, "stock.ordered", &goods);

  if (ordered)
    g_date_add_days (&goods, (guint) MIN (f->stock.joint_days, 100000));
  f->crew_days = job_crew_days (f->job, f->option.field_hours);
  f->dated = job_field_dates (f->job, f->crew_days, ordered ? &goods : NULL, &f->start, &f->finish);
}

static void
add_way (JobComparison *c, const JobWay *way)
{
  JobWayFigures *f = g_new0 (JobWayFigures, 1);
  const Catalogue *catalogue = job_basis (c->job)->catalogue;

  f->method = way->method ? catalogue_find_method (catalogue, way->method) : JOB_OWN_METHOD;
  f->what_if = g_strdup (way->what_if);
  f->name = way_name (c->job, way, f->method);
  if (way->method && f->method < 0)
    f->fault = fault_new (-1, _ ("use the key of a method of the catalogue"), _ ("there is no method “%s”"), way->method);
  else
    f->job = job_under (c, way->what_if, &f->fault);
  g_ptr_array_add (c->way, f);
  if (!f->job)
    return;
  part_totals (f->job, &c->part, f->method, &f->totals);
  cost_option_init (&f->option, job_basis (f->job), f->method, &f->totals.sums, f->totals.vector, c->decimals);
  f->labour = labour_of (f->option.buildup, &f->totals.sums);
  f->whole = f->option.cost + f->option.once;
  job_stock_init (&f->stock, f->job, job_basis (f->job), f->totals.vector, f->method, c->decimals);
  fill_dates (f);
}

JobComparison *
job_compare (TallyJob *job, const JobWay *ways, gsize n, guint baseline, const JobPart *part)
{
  JobComparison *c = g_new0 (JobComparison, 1);

  c->job = g_object_ref (job);
  c->way = g_ptr_array_new_with_free_func (way_free);
  c->baseline = baseline;
  c->decimals = job_decimals (job);
  if (part)
    c->part = *part;
  if (c->part.ids)
    c->part.ids = g_memdup2 (part->ids, sizeof (gint64) * MAX (part->n_ids, 1));
  for (gsize i = 0; i < n; i++)
    add_way (c, &ways[i]);
  return c;
}

void
job_comparison_free (JobComparison *c)
{
  g_ptr_array_unref (c->way);
  g_free ((gint64 *) c->part.ids);
  g_object_unref (c->job);
  g_free (c);
}

guint
job_comparison_best (const JobComparison *c)
{
  guint best = c->baseline;

  for (guint i = 0; i < c->way->len; i++)
    {
      const JobWayFigures *f = job_comparison_way (c, i), *b = job_comparison_way (c, best);
      if (!f->fault && (b->fault || f->whole < b->whole))
        best = i;
    }
  return best;
}

double
job_way_gain (const JobWayFigures *first, const JobWayFigures *second)
{
  return cost_option_gain (&first->option, &second->option);
}

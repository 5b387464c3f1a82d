/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/explain-answer.h"

#include "base/money.h"
#include "cost/sensitivity.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Differences of sums of binary fractions that should be zero. */
#define NOTHING 1e-7

/* ---- figures ---- */

gboolean
job_figure_parse (TallyJob *job, const char *text, JobFigure *figure, Fault **fault)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;
  static const char *const word[] = { "cost", "field-hours", "minutes-a-joint", "price", "shop-hours", "crew-days", "hardware-a-joint" };

  for (int i = 0; i < (int) G_N_ELEMENTS (word); i++)
    if (strcmp (text, word[i]) == 0)
      {
        *figure = (JobFigure) { (JobFigureKind) i, -1 };
        return TRUE;
      }
  if (g_str_has_prefix (text, "step:"))
    *figure = (JobFigure) { JOB_FIGURE_STEP, labour_find_step (catalogue->labour, text + 5) };
  else if (g_str_has_prefix (text, "item:"))
    *figure = (JobFigure) { JOB_FIGURE_ITEM, catalogue_find_item (catalogue, text + 5) };
  else
    {
      fault_set (fault, fault_new (-1, _ ("use cost, price, field-hours, shop-hours, crew-days, minutes-a-joint, hardware-a-joint, "
                                             "step:NAME or item:NAME"),
                                   _ ("there is no figure “%s”"), text));
      return FALSE;
    }
  if (figure->target >= 0)
    return TRUE;
  fault_set (fault, fault_new (-1, _ ("write its name as the catalogue has it; “explain” without a word lists them"),
                               figure->kind == JOB_FIGURE_STEP ? _ ("there is no step “%s”") : _ ("there is no item “%s”"), text + 5));
  return FALSE;
}

gboolean
job_figure_line (const JobFigure *figure)
{
  return figure->kind == JOB_FIGURE_COST || figure->kind == JOB_FIGURE_PRICE;
}

const char *
job_figure_unit (TallyJob *job, const JobFigure *figure)
{
  const char *currency = job_head (job)->text[HEAD_CURRENCY];

  switch (figure->kind)
    {
    case JOB_FIGURE_COST:
    case JOB_FIGURE_PRICE:
    case JOB_FIGURE_HARDWARE_A_JOINT:
      return currency && *currency ? currency : _ ("money");
    case JOB_FIGURE_CREW_DAYS:
      return _ ("crew-days");
    case JOB_FIGURE_MINUTES_A_JOINT:
      return _ ("worker-min a joint");
    case JOB_FIGURE_ITEM:
      return catalogue_item (job_basis (job)->catalogue, figure->target)->unit;
    case JOB_FIGURE_FIELD_HOURS:
    case JOB_FIGURE_SHOP_HOURS:
    case JOB_FIGURE_STEP:
    default:
      return _ ("worker-h");
    }
}

char *
job_figure_title (TallyJob *job, const JobFigure *figure)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;

  switch (figure->kind)
    {
    case JOB_FIGURE_COST:
      return g_strdup_printf (_ ("cost, %s"), job_figure_unit (job, figure));
    case JOB_FIGURE_FIELD_HOURS:
      return g_strdup (_ ("field hours"));
    case JOB_FIGURE_MINUTES_A_JOINT:
      return g_strdup (_ ("minutes a joint"));
    case JOB_FIGURE_PRICE:
      return g_strdup_printf (_ ("price, %s"), job_figure_unit (job, figure));
    case JOB_FIGURE_SHOP_HOURS:
      return g_strdup (_ ("shop hours"));
    case JOB_FIGURE_CREW_DAYS:
      return g_strdup (_ ("crew-days"));
    case JOB_FIGURE_HARDWARE_A_JOINT:
      return g_strdup_printf (_ ("hardware a joint, %s"), job_figure_unit (job, figure));
    case JOB_FIGURE_STEP:
      return g_strdup_printf (_ ("hours of “%s”"), catalogue_step (catalogue, figure->target)->key);
    case JOB_FIGURE_ITEM:
    default:
      return g_strdup_printf (_ ("%s of “%s”"), job_figure_unit (job, figure), catalogue_item (catalogue, figure->target)->key);
    }
}

/* ---- parts ---- */

/* The study whose figures a step bears: the source says so when it was accepted. */
static const LabourStudy *
study_of (const Catalogue *catalogue, const LabourStep *step)
{
  for (guint i = 0; catalogue->labour->studies && i < catalogue->labour->studies->len; i++)
    {
      const LabourStudy *study = g_ptr_array_index (catalogue->labour->studies, i);
      g_autofree char *source = g_strdup_printf ("time study %s", study->key);
      if (g_str_has_prefix (step->source, source))
        return study;
    }
  return NULL;
}

const LabourStudy *
job_answer_study (TallyJob *job, int step)
{
  const Catalogue *catalogue = job_basis (job)->catalogue;

  return study_of (catalogue, catalogue_step (catalogue, step));
}

static JobAnswerPart *
part_new (JobPartKind kind, int target, const char *name, const char *unit, const char *source, const char *status)
{
  JobAnswerPart *part = g_new0 (JobAnswerPart, 1);

  part->kind = kind;
  part->target = target;
  part->name = g_strdup (name);
  part->unit = unit;
  part->source = source;
  part->status = status;
  part->rate[0] = part->rate[1] = NAN;
  return part;
}

static void
part_free (gpointer data)
{
  JobAnswerPart *part = data;

  g_free (part->name);
  g_free (part);
}

static double
joints_of (const JobWayFigures *w)
{
  return (double) w->option.joints / 1e3;
}

/* What some sums put into the line of the build-up that is the figure. */
static double
line_of (const CostBasis *basis, const JobFigure *figure, const CostSums *sums)
{
  static const CostSums empty;
  int line = buildup_find (basis, "price");

  if (figure->kind != JOB_FIGURE_PRICE || line < 0)
    return cost_part_of_sums (basis, sums);
  return buildup_smooth (basis, sums, line) - buildup_smooth (basis, &empty, line);
}

/* Worker-hours of the field to crew-days, under the job of that way; 0 where there is no day. */
static double
days_of (const JobWayFigures *w, double field_hours)
{
  double days = job_crew_days (w->job, field_hours);

  return isfinite (days) ? days : 0;
}

static gboolean
serves_joint (const CostItem *item)
{
  return item->use == COST_USE_JOINT || item->use == COST_USE_BOLT || item->use == COST_USE_FASTENER;
}

static double
item_amount (const JobWayFigures *w, const JobFigure *figure, int item, double quantity)
{
  const CostBasis *basis = w->option.buildup->basis;
  const CostItem *info = catalogue_item (basis->catalogue, item);
  double price = (double) basis->price[item] / 1e4;
  CostSums money = { 0 };

  if (figure->kind == JOB_FIGURE_HARDWARE_A_JOINT)
    return serves_joint (info) && joints_of (w) > 0 ? quantity * price / joints_of (w) : 0;
  if (!job_figure_line (figure))
    return quantity;
  money.items[info->group] = (NumWide) w->totals.vector[item] * basis->price[item];
  return line_of (basis, figure, &money);
}

static void
fill_item (const JobWayFigures *w, const JobFigure *figure, JobAnswerPart *part, int k)
{
  const CostBasis *basis = w->option.buildup->basis;

  part->quantity[k] = (double) w->totals.vector[part->target] / 1e6;
  part->rate[k] = (double) basis->price[part->target] / 1e4;
  part->amount[k] = item_amount (w, figure, part->target, part->quantity[k]);
}

/* A step, or with -1 the minutes of counted lines, of the field or of the shop. */
static void
fill_step (const JobWayFigures *w, const JobFigure *figure, JobAnswerPart *part, int k)
{
  const CostBasis *basis = w->option.buildup->basis;
  double joints = (double) w->option.joints / 1e3, hours = 0, at_joint = 0;
  CostSums money = { 0 };

  for (int s = 0; s < basis->n_slots; s++)
    {
      const CostSlot *slot = &basis->slots[s];
      const LabourCrew *crew = g_ptr_array_index (basis->catalogue->labour->crews, (guint) slot->crew);
      NumWide time = w->totals.slot_time[s];
      if (slot->step != part->target || crew->shop != part->shop || time == 0)
        continue;
      hours += num_wide_to_double (time) / COST_TIME_DEN;
      at_joint += slot->place == LABOUR_JOINT ? num_wide_to_double (time) / COST_TIME_DEN * 60 : 0;
      money.labour[crew->shop] += time * basis->rate[slot->crew];
      part->rate[k] = (double) basis->rate[slot->crew] / 1e4;
    }
  part->quantity[k] = hours;
  if (job_figure_line (figure))
    part->amount[k] = line_of (basis, figure, &money);
  else if (figure->kind == JOB_FIGURE_MINUTES_A_JOINT)
    part->amount[k] = joints > 0 ? at_joint / joints : 0;
  else if (figure->kind == JOB_FIGURE_STEP)
    part->amount[k] = hours;
  else if (part->shop == (figure->kind == JOB_FIGURE_SHOP_HOURS))
    part->amount[k] = figure->kind == JOB_FIGURE_CREW_DAYS ? days_of (w, hours) : hours;
}

/* Prices of their own on counted lines. */
static void
fill_counted (const JobWayFigures *w, const JobFigure *figure, JobAnswerPart *part, int k)
{
  const CostBasis *basis = w->option.buildup->basis;
  CostSums money = { 0 };

  money.items[COST_MATERIAL] = w->totals.vector[cost_measure_slot (basis, COST_OWN_MATERIAL)];
  money.items[COST_RENTAL] = w->totals.vector[cost_measure_slot (basis, COST_OWN_RENTAL)];
  part->amount[k] = line_of (basis, figure, &money);
}

static double
whole_of (const JobWayFigures *w, const JobFigure *figure)
{
  const CostBasis *basis = w->option.buildup->basis;
  int line = buildup_find (basis, figure->kind == JOB_FIGURE_PRICE ? "price" : "cost");
  double hours = 0;

  switch (figure->kind)
    {
    case JOB_FIGURE_COST:
    case JOB_FIGURE_PRICE:
      return line >= 0 ? buildup_smooth (basis, &w->option.sums, line) : 0;
    case JOB_FIGURE_FIELD_HOURS:
      return w->option.field_hours;
    case JOB_FIGURE_MINUTES_A_JOINT:
      return w->option.minutes_a_joint;
    case JOB_FIGURE_SHOP_HOURS:
      return w->option.shop_hours;
    case JOB_FIGURE_CREW_DAYS:
      return days_of (w, w->option.field_hours);
    case JOB_FIGURE_HARDWARE_A_JOINT:
      return w->option.hardware_a_joint;
    case JOB_FIGURE_ITEM:
      return (double) w->totals.vector[figure->target] / 1e6;
    case JOB_FIGURE_STEP:
    default:
      for (int s = 0; s < basis->n_slots; s++)
        if (basis->slots[s].step == figure->target)
          hours += num_wide_to_double (w->totals.slot_time[s]) / COST_TIME_DEN;
      return hours;
    }
}

/* Keeps a part that is not nothing. */
static void
keep (JobAnswer *a, JobAnswerPart *part)
{
  if (fabs (part->amount[0]) > NOTHING || fabs (part->amount[1]) > NOTHING)
    g_ptr_array_add (a->part, part);
  else
    part_free (part);
}

static void
add_items (JobAnswer *a, const JobWayFigures *const w[2], int n)
{
  const Catalogue *catalogue = w[0]->option.buildup->basis->catalogue;

  for (int i = 0; i < (int) catalogue->items->len; i++)
    {
      const CostItem *item = catalogue_item (catalogue, i);
      JobAnswerPart *part;
      if (!job_figure_line (&a->figure) && a->figure.kind != JOB_FIGURE_HARDWARE_A_JOINT && !(a->figure.kind == JOB_FIGURE_ITEM && a->figure.target == i))
        continue;
      part = part_new (JOB_PART_ITEM, i, item->key, item->unit, item->source, duct_status_key (item->status));
      for (int k = 0; k < n; k++)
        fill_item (w[k], &a->figure, part, k);
      keep (a, part);
    }
}

static void
add_steps (JobAnswer *a, const JobWayFigures *const w[2], int n)
{
  const Catalogue *catalogue = w[0]->option.buildup->basis->catalogue;

  if (a->figure.kind == JOB_FIGURE_ITEM || a->figure.kind == JOB_FIGURE_HARDWARE_A_JOINT)
    return;
  for (int i = -1; i < (int) catalogue->labour->steps->len; i++)
    for (int shop = 0; shop < 2; shop++)
      {
        const LabourStep *step = i >= 0 ? catalogue_step (catalogue, i) : NULL;
        JobAnswerPart *part;
        if (a->figure.kind == JOB_FIGURE_STEP && a->figure.target != i)
          continue;
        part = part_new (step ? JOB_PART_STEP : JOB_PART_COUNTED, i,
                         step ? step->key : shop ? _ ("shop minutes of counted lines") : _ ("field minutes of counted lines"),
                         _ ("worker-h"), step ? step->source : _ ("entered on the runs"), step ? step->status : "");
        part->shop = shop;
        part->study = step ? study_of (catalogue, step) : NULL;
        for (int k = 0; k < n; k++)
          fill_step (w[k], &a->figure, part, k);
        keep (a, part);
      }
}

/* Prices on counted lines, amounts of the build-up, and what is left. */
static void
add_others (JobAnswer *a, const JobWayFigures *const w[2], int n)
{
  static const CostSums empty;
  JobAnswerPart *part = part_new (JOB_PART_COUNTED, -1, _ ("counted lines with a price of their own"), "", _ ("entered on the runs"), "");
  JobAnswerPart *amounts = part_new (JOB_PART_AMOUNTS, -1, _ ("amounts in the build-up"), "", _ ("entered in the build-up"), "");
  JobAnswerPart *rest = part_new (JOB_PART_REST, -1, _ ("what is in no item or step"), "", "", "");

  for (int k = 0; k < n && job_figure_line (&a->figure); k++)
    {
      const CostBasis *basis = w[k]->option.buildup->basis;
      int line = buildup_find (basis, a->figure.kind == JOB_FIGURE_PRICE ? "price" : "cost");
      fill_counted (w[k], &a->figure, part, k);
      amounts->amount[k] = line >= 0 ? buildup_smooth (basis, &empty, line) : 0;
    }
  keep (a, part);
  keep (a, amounts);
  for (int k = 0; k < n; k++)
    {
      rest->amount[k] = a->whole[k];
      for (guint i = 0; i < a->part->len; i++)
        rest->amount[k] -= job_answer_part (a, i)->amount[k];
    }
  keep (a, rest);
}

static int
by_size (gconstpointer x, gconstpointer y, gpointer data)
{
  const JobAnswer *a = data;
  const JobAnswerPart *p = *(JobAnswerPart *const *) x, *q = *(JobAnswerPart *const *) y;
  double d = fabs (job_answer_of (a, q->amount)) - fabs (job_answer_of (a, p->amount));

  return d < 0 ? -1 : d > 0 ? 1 : strcmp (p->name, q->name);
}

JobAnswer *
job_answer_new (const JobComparison *comparison, guint way, int against, const JobFigure *figure)
{
  const JobWayFigures *w[2] = { job_comparison_way (comparison, way), against >= 0 ? job_comparison_way (comparison, (guint) against) : NULL };
  JobAnswer *a = g_new0 (JobAnswer, 1);
  int n = w[1] ? 2 : 1;

  a->figure = *figure;
  a->against = n == 2;
  a->part = g_ptr_array_new_with_free_func (part_free);
  for (int k = 0; k < n; k++)
    {
      a->name[k] = g_strdup (w[k]->name);
      a->whole[k] = whole_of (w[k], figure);
      a->once[k] = (double) w[k]->option.once / pow (10, comparison->decimals);
      a->not_priced[k] = w[k]->totals.not_priced;
    }
  add_items (a, w, n);
  add_steps (a, w, n);
  add_others (a, w, n);
  for (guint i = a->part->len; a->against && i-- > 0;)
    if (fabs (job_answer_of (a, job_answer_part (a, i)->amount)) < NOTHING)
      g_ptr_array_remove_index (a->part, i);
  g_ptr_array_sort_with_data (a->part, by_size, a);
  return a;
}

void
job_answer_free (JobAnswer *a)
{
  g_ptr_array_unref (a->part);
  g_free (a->name[0]);
  g_free (a->name[1]);
  g_free (a);
}

/* ---- runs ---- */

/* What a run's vector puts into the figure. */
static double
run_amount (const JobWayFigures *w, const JobFigure *figure, const JobRecord *run, const gint64 *vector)
{
  const CostBasis *basis = job_basis (w->job);
  double joints = (double) w->option.joints / 1e3, sum = 0;
  LabourFactors factors;
  gint64 floor_ppm, times;
  CostSums sums;

  if (figure->kind < JOB_FIGURE_STEP)
    {
      job_run_sums (w->job, run, vector, &sums);
      if (job_figure_line (figure))
        return line_of (basis, figure, &sums);
      if (figure->kind == JOB_FIGURE_FIELD_HOURS || figure->kind == JOB_FIGURE_SHOP_HOURS)
        return num_wide_to_double (sums.time[figure->kind == JOB_FIGURE_SHOP_HOURS]) / COST_TIME_DEN;
      if (figure->kind == JOB_FIGURE_CREW_DAYS)
        return days_of (w, num_wide_to_double (sums.time[0]) / COST_TIME_DEN);
      if (figure->kind == JOB_FIGURE_HARDWARE_A_JOINT)
        return joints > 0 ? num_wide_to_double (sums.joint_hardware) / 1e10 / joints : 0;
      return joints > 0 ? num_wide_to_double (sums.joint_time) / COST_TIME_DEN * 60 / joints : 0;
    }
  job_run_conditions (w->job, run, &factors, &floor_ppm, &times);
  if (figure->kind == JOB_FIGURE_ITEM)
    return (double) (cost_item_quantity (catalogue_item (basis->catalogue, figure->target), vector[figure->target], &factors) * times) / 1e6;
  for (int s = 0; s < basis->n_slots; s++)
    if (basis->slots[s].step == figure->target)
      sum += (double) vector[basis->n_items + s] * (double) cost_slot_factor (&basis->slots[s], &factors, floor_ppm) / COST_TIME_DEN
             * (double) times;
  return sum;
}

static gboolean
in_part (const JobPart *part, const JobRecord *run)
{
  gint64 system = run->num[RUN_SYSTEM], area = run->num[RUN_AREA];

  for (gsize i = 0; part->ids && i < part->n_ids; i++)
    if (part->ids[i] == run->id)
      return TRUE;
  if (part->ids)
    return FALSE;
  return (part->scope.system == 0 || (part->scope.system < 0 ? system <= 0 : system == part->scope.system))
         && (part->scope.area == 0 || (part->scope.area < 0 ? area <= 0 : area == part->scope.area));
}

typedef struct
{
  gboolean against;
} Order;

static int
runs_by_size (gconstpointer x, gconstpointer y, gpointer data)
{
  const JobAnswerRun *p = x, *q = y;
  gboolean against = ((Order *) data)->against;
  double a = fabs (against ? p->amount[0] - p->amount[1] : p->amount[0]), b = fabs (against ? q->amount[0] - q->amount[1] : q->amount[0]);

  return b < a ? -1 : b > a ? 1 : p->position < q->position ? -1 : 1;
}

GArray *
job_answer_runs (const JobComparison *comparison, guint way, int against, const JobFigure *figure)
{
  const JobWayFigures *w[2] = { job_comparison_way (comparison, way), against >= 0 ? job_comparison_way (comparison, (guint) against) : NULL };
  GArray *runs = g_array_new (FALSE, FALSE, sizeof (JobAnswerRun));
  Order order = { w[1] != NULL };

  for (guint i = 0; i < job_n (comparison->job, JOB_RUN); i++)
    {
      const JobRecord *run = job_at (comparison->job, JOB_RUN, i);
      JobAnswerRun one = { .id = run->id, .position = i };
      if (!in_part (&comparison->part, run))
        continue;
      for (int k = 0; k < (w[1] ? 2 : 1); k++)
        {
          const JobRecord *there = job_find (w[k]->job, JOB_RUN, run->id);
          JobRunResult r;
          if (!there)
            continue;
          if (job_compute (w[k]->job, there, w[k]->method, &r))
            one.amount[k] = run_amount (w[k], figure, there, r.vector);
          job_run_result_clear (&r);
        }
      if (fabs (w[1] ? one.amount[0] - one.amount[1] : one.amount[0]) > NOTHING)
        g_array_append_val (runs, one);
    }
  g_array_sort_with_data (runs, runs_by_size, &order);
  return runs;
}

/* ---- words ---- */

/* With thousands commas. */
static char *
figure_words (const JobFigure *figure, double value, gboolean sign)
{
  int decimals = job_figure_line (figure) ? 0 : figure->kind == JOB_FIGURE_MINUTES_A_JOINT || figure->kind == JOB_FIGURE_HARDWARE_A_JOINT ? 2 : 1;
  double units = CLAMP (value * pow (10, decimals), -1e17, 1e17);
  g_autofree char *words = money_print (llround (units), decimals, TRUE);

  return g_strconcat (sign && llround (units) > 0 ? "+" : "", words, NULL);
}

char *
job_answer_sentence (TallyJob *job, const JobAnswer *a)
{
  const JobAnswerPart *first = a->part->len > 0 ? job_answer_part (a, 0) : NULL;
  g_autofree char *title = job_figure_title (job, &a->figure);
  g_autofree char *whole = figure_words (&a->figure, job_answer_of (a, a->whole), a->against);
  g_autofree char *amount = first ? figure_words (&a->figure, job_answer_of (a, first->amount), a->against) : NULL;

  if (!first)
    return a->against ? g_strdup_printf (_ ("%s and %s do not differ in %s."), a->name[0], a->name[1], title)
                      : g_strdup_printf (_ ("There is no %s in %s."), title, a->name[0]);
  if (a->part->len == 1 || a->figure.kind >= JOB_FIGURE_STEP)
    return a->against ? g_strdup_printf (_ ("%s less %s, %s: %s."), a->name[0], a->name[1], title, whole)
                      : g_strdup_printf (_ ("%s, %s: %s."), a->name[0], title, whole);
  if (!a->against)
    return g_strdup_printf (_ ("%s, %s: %s; the largest part, %s, is “%s”."), a->name[0], title, whole, amount, first->name);
  return g_strdup_printf (_ ("%s less %s, %s: %s; the largest part, %s, is “%s”."), a->name[0], a->name[1], title, whole, amount, first->name);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/sensitivity.h"

#include "base/decimal.h"
#include "base/money.h"
#include "job/setting.h"
#include "job/what-if.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define NOTHING 0.005 /* currency: a swing below it is none */
#define EITHER_WAY 0.10

void
job_drive_free (JobDrive *drive)
{
  g_free (drive->name);
  g_free (drive->unit);
  g_free (drive->range);
  g_free (drive);
}

typedef struct
{
  const JobComparison *c;
  const JobWayFigures *a, *b;
  double gain, today; /* before any rounding, for solving; as printed */
  GPtrArray *out;
} Ask;

static void
take (Ask *ask, JobDriveKind kind, int target, char *name, char *unit, char *range, const CostSwing *swing, gboolean closed)
{
  JobDrive *d = g_new0 (JobDrive, 1);

  *d = (JobDrive) { kind, target, name, unit, range, *swing, closed };
  if (cost_swing_width (swing) < NOTHING)
    job_drive_free (d);
  else
    g_ptr_array_add (ask->out, d);
}

static char *
either_way (void)
{
  return g_strdup (_ ("10 % either way (common practice)"));
}

static const char *
currency_of (const Ask *ask)
{
  const char *currency = job_head (ask->c->job)->text[HEAD_CURRENCY];

  return currency ? currency : _ ("money");
}

static char *
price_unit (const Ask *ask, const char *unit)
{
  return strcmp (unit, "each") == 0 ? g_strdup_printf (_ ("%s each"), currency_of (ask))
                                    : g_strdup_printf (_ ("%s a %s"), currency_of (ask), unit);
}

/* ---- linear in the figure ---- */

/* A figure that parts of both costs follow in proportion. @part: those of the first less the second, today. */
static void
take_share (Ask *ask, JobDriveKind kind, int target, double now, double low, double high, double part, char *name, char *unit,
            char *range)
{
  CostSwing swing;

  cost_swing_linear (&swing, low, now, high, ask->gain, now > 0 ? part / now : 0);
  take (ask, kind, target, name, unit, range, &swing, TRUE);
}

static void
ask_items (Ask *ask)
{
  const CostBasis *basis = ask->b->option.buildup->basis;

  for (int i = 0; i < basis->n_items; i++)
    {
      const CostItem *item = catalogue_item (basis->catalogue, i);
      double now = (double) basis->price[i] / 1e4;
      double part = cost_part_item (&ask->a->option, i) - cost_part_item (&ask->b->option, i);
      if (item->group == COST_ONCE || now <= 0 || part == 0)
        continue;
      take_share (ask, JOB_DRIVE_ITEM, i, now, now * (1 - EITHER_WAY), now * (1 + EITHER_WAY), part,
                  g_strdup_printf (_ ("price of %s"), item->key), price_unit (ask, item->unit),
                  either_way ());
    }
}

static double
rate_now (const JobWayFigures *f, gboolean shop)
{
  double time = num_wide_to_double (f->option.sums.time[shop]);

  return time > 0 ? num_wide_to_double (f->option.sums.labour[shop]) / time / 1e4 : 0;
}

static void
ask_labour (Ask *ask)
{
  static const char *const keys[2][2] = { { "risk.field_low", "risk.field_high" }, { "risk.shop_low", "risk.shop_high" } };

  for (int shop = 0; shop < 2; shop++)
    {
      double part = cost_part_labour (&ask->a->option, shop) - cost_part_labour (&ask->b->option, shop);
      double now = rate_now (ask->b, shop);
      take_share (ask, shop ? JOB_DRIVE_SHOP_RATE : JOB_DRIVE_FIELD_RATE, -1, now, now * (1 - EITHER_WAY), now * (1 + EITHER_WAY),
                  part, g_strdup (shop ? _ ("shop rate") : _ ("field rate")), g_strdup_printf (_ ("%s an hour"), currency_of (ask)),
                  either_way ());
      take_share (ask, shop ? JOB_DRIVE_SHOP_CREW : JOB_DRIVE_FIELD_CREW, -1, 1, job_setting_number (ask->c->job, keys[shop][0]),
                  job_setting_number (ask->c->job, keys[shop][1]), part,
                  g_strdup (shop ? _ ("pace of the shop") : _ ("pace of the field crew")), g_strdup (_ ("times the minutes")),
                  g_strdup (_ ("low to high of the job's risk settings")));
    }
}

static void
ask_tooling (Ask *ask)
{
  double unit = pow (10, ask->c->decimals), a = (double) ask->a->option.once / unit, b = (double) ask->b->option.once / unit;
  double now = fabs (a - b);

  CostSwing swing;

  if (now <= 0)
    return;
  /* Money against money: the point is the saving as it is printed. */
  cost_swing_linear (&swing, now * (1 - EITHER_WAY), now, now * (1 + EITHER_WAY), ask->today, (a - b) / now);
  take (ask, JOB_DRIVE_TOOLING, -1, g_strdup (_ ("tooling")), g_strdup_printf (_ ("%s once"), currency_of (ask)), either_way (), &swing,
        TRUE);
}

/* Totals of a way's runs, from another copy of its job. */
static void
totals_in (const JobComparison *c, TallyJob *job, int method, JobTotals *totals)
{
  int n = job_basis (job)->n_methods, wanted = method < 0 ? n : method;
  g_autofree JobTotals *all = NULL;

  if (!c->part.ids)
    {
      job_totals (job, &c->part.scope, method, totals);
      return;
    }
  all = g_new0 (JobTotals, (gsize) n + 1);
  job_totals_of_runs (job, c->part.ids, c->part.n_ids, all);
  for (int m = 0; m <= n; m++)
    if (m != wanted)
      job_totals_clear (&all[m]);
  *totals = all[wanted];
}

/* The minutes of every step at their low and high ends, by slot, of both ways. */
static void
ask_steps (Ask *ask)
{
  static const LabourPoint points[2] = { LABOUR_LOW, LABOUR_HIGH };
  const CostBasis *basis = ask->b->option.buildup->basis;
  JobTotals ends[2][2]; /* low and high; a and b */

  if (!ask->a->option.sums.slot_time || !ask->b->option.sums.slot_time)
    return;
  for (int p = 0; p < 2; p++)
    {
      g_autoptr (TallyJob) a = job_copy (ask->a->job, points[p]);
      g_autoptr (TallyJob) b = ask->b->job == ask->a->job ? g_object_ref (a) : job_copy (ask->b->job, points[p]);
      totals_in (ask->c, a, ask->a->method, &ends[p][0]);
      totals_in (ask->c, b, ask->b->method, &ends[p][1]);
    }
  for (guint s = 0; s < basis->catalogue->labour->steps->len; s++)
    {
      double part = cost_part_step (&ask->a->option, (int) s, NULL) - cost_part_step (&ask->b->option, (int) s, NULL), gain[2];
      double today = cost_part_step (&ask->b->option, (int) s, NULL), multiple[2];
      CostSwing swing;
      if (today == 0)
        today = cost_part_step (&ask->a->option, (int) s, NULL);
      for (int p = 0; p < 2; p++)
        {
          double a = cost_part_step (&ask->a->option, (int) s, ends[p][0].slot_time);
          double b = cost_part_step (&ask->b->option, (int) s, ends[p][1].slot_time);
          gain[p] = ask->gain + (a - b) - part;
          multiple[p] = today != 0 ? (cost_part_step (&ask->b->option, (int) s, NULL) != 0 ? b : a) / today : 1;
        }
      cost_swing_linear (&swing, multiple[0], 1, multiple[1], ask->gain, part);
      swing.gain_low = gain[0];
      swing.gain_high = gain[1];
      take (ask, JOB_DRIVE_STEP, (int) s, g_strdup_printf (_ ("minutes of “%s”"), catalogue_step (basis->catalogue, (int) s)->key),
            g_strdup (_ ("times today's minutes")), g_strdup (_ ("its own low to high")), &swing, TRUE);
    }
  for (int p = 0; p < 2; p++)
    for (int w = 0; w < 2; w++)
      job_totals_clear (&ends[p][w]);
}

/* ---- figures that change quantities: the job is computed anew ---- */

/* Whether a copy of the job could be changed. */
typedef gboolean (*Alter) (TallyJob *job, double figure, gpointer data);

static gboolean
gain_with (const Ask *ask, Alter alter, double figure, gpointer data, double *gain)
{
  const JobWayFigures *way[2] = { ask->a, ask->b };
  double whole[2];
  g_autoptr (TallyJob) kept = NULL;

  for (int w = 0; w < 2; w++)
    {
      g_autoptr (TallyJob) job
        = w == 1 && way[1]->job == way[0]->job ? g_object_ref (kept) : job_copy (way[w]->job, LABOUR_LIKELY);
      JobTotals totals;
      CostOption option;
      if (job != kept && !alter (job, figure, data))
        return FALSE;
      totals_in (ask->c, job, way[w]->method, &totals);
      cost_option_init (&option, job_basis (job), way[w]->method, &totals.sums, totals.vector, ask->c->decimals);
      whole[w] = cost_part_whole (&option);
      cost_option_clear (&option);
      job_totals_clear (&totals);
      if (w == 0)
        kept = g_steal_pointer (&job);
    }
  *gain = whole[0] - whole[1];
  return TRUE;
}

static void
take_altered (Ask *ask, JobDriveKind kind, double low, double now, double high, Alter alter, gpointer data, char *name, char *unit,
              char *range)
{
  CostSwing swing = { 0 };
  double gain_low = ask->today, gain_high = ask->today;

  if ((low != now && !gain_with (ask, alter, low, data, &gain_low))
      || (high != now && !gain_with (ask, alter, high, data, &gain_high)))
    {
      g_free (name);
      g_free (unit);
      g_free (range);
      return;
    }
  /* A straight line through the two ends. */
  cost_swing_linear (&swing, low, low, high, gain_low, (gain_high - gain_low) / (high - low));
  swing.now = now;
  swing.gain = ask->today;
  take (ask, kind, -1, name, unit, range, &swing, FALSE);
}

static gboolean
apply_fields (TallyJob *job, JobType type, const char *field, gint64 only, double figure)
{
  int f = job_field_find (type, field);
  g_autofree char *text = g_strdup_printf ("%.6f", figure);
  JobEdit *edit = job_edit_new (field);

  for (guint i = 0; i < job_n (job, type); i++)
    {
      const JobRecord *r = job_at (job, type, i);
      JobRecord *after;
      if (only != 0 && r->id != only)
        continue;
      after = job_record_copy (r);
      if (job_type_info (type)->field[f].as == JOB_AS_WHOLE)
        after->num[job_type_info (type)->field[f].slot] = (gint64) figure;
      else
        job_record_read (after, f, text, job_names (job), NULL);
      job_edit_add (edit, job_record_ref ((JobRecord *) r), after);
    }
  return job_apply (job, edit, NULL);
}

static gboolean
alter_floor (TallyJob *job, double figure, gpointer data)
{
  (void) data;
  return apply_fields (job, JOB_AREA, "share_joints_on_floor", 0, figure);
}

static gboolean
alter_remade (TallyJob *job, double figure, gpointer data)
{
  (void) data;
  return apply_fields (job, JOB_AREA, "share_joints_remade", 0, figure);
}

static gboolean
alter_raised (TallyJob *job, double figure, gpointer data)
{
  (void) data;
  return apply_fields (job, JOB_AREA, "pieces_raised_together", 0, figure);
}

static gboolean
alter_area (TallyJob *job, double figure, gpointer data)
{
  return apply_fields (job, JOB_AREA, "field_condition", *(const gint64 *) data, figure);
}

/* One more piece cut on site on each straight run that has two or more joints to give. */
static gboolean
alter_fit (TallyJob *job, double figure, gpointer data)
{
  JobEdit *edit = job_edit_new ("fit_pieces");

  (void) data;
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      const JobRecord *r = job_at (job, JOB_RUN, i);
      JobRecord *after;
      JobRunResult before, now;
      gboolean priced;
      if (r->num[RUN_KIND] != DUCT_STRAIGHT || r->num[RUN_H] == 0)
        continue;
      after = job_record_copy (r);
      after->num[RUN_FIT] = MAX (r->num[RUN_FIT], 0) + (gint64) figure;
      /* A run that is too short for it, or may not have it, stays as it is. */
      priced = job_compute (job, r, JOB_OWN_METHOD, &before) && job_compute (job, after, JOB_OWN_METHOD, &now);
      job_run_result_clear (&before);
      if (priced)
        job_run_result_clear (&now);
      if (priced)
        job_edit_add (edit, job_record_ref ((JobRecord *) r), after);
      else
        job_record_unref (after);
    }
  return job_apply (job, edit, NULL);
}

/* ---- conditions ---- */

typedef struct
{
  JobType type;
  gint64 id;
  int slot;
  const char *key; /* taken out */
} Without;

static gboolean
alter_condition (TallyJob *job, double figure, gpointer data)
{
  const Without *w = data;
  const JobRecord *r = job_find (job, w->type, w->id);
  JobRecord *after;
  JobEdit *edit;
  g_autoptr (GString) rest = g_string_new (NULL);
  g_auto (GStrv) words = g_strsplit (r->text[w->slot], ";", -1);

  (void) figure;
  for (char **word = words; *word; word++)
    if (g_ascii_strcasecmp (g_strstrip (*word), w->key) != 0 && **word)
      g_string_append_printf (rest, "%s%s", rest->len ? ";" : "", *word);
  after = job_record_copy (r);
  job_record_set_text (after, w->slot, rest->len ? rest->str : NULL);
  edit = job_edit_new ("condition");
  job_edit_add (edit, job_record_ref ((JobRecord *) r), after);
  return job_apply (job, edit, NULL);
}

static void
ask_conditions_of (Ask *ask, JobType type, int slot, int name_slot)
{
  for (guint i = 0; i < job_n (ask->a->job, type); i++)
    {
      const JobRecord *r = job_at (ask->a->job, type, i);
      g_auto (GStrv) words = g_strsplit (r->text[slot] ? r->text[slot] : "", ";", -1);
      for (char **w = words; *w; w++)
        {
          Without without = { type, r->id, slot, g_strstrip (*w) };
          const GPtrArray *conditions = job_basis (ask->a->job)->catalogue->labour->conditions;
          int at = labour_find_condition (job_basis (ask->a->job)->catalogue->labour, *w);
          if (at < 0)
            continue;
          double factor = (double) ((LabourCondition *) g_ptr_array_index (conditions, (guint) at))->factor_ppm / 1e6;
          if (factor == 1)
            continue;
          take_altered (ask, JOB_DRIVE_CONDITION, 1, factor, factor, alter_condition, &without,
                        g_strdup_printf (_ ("condition “%s” of %s"), *w,
                                         name_slot >= 0 && r->text[name_slot] ? r->text[name_slot] : _ ("the job")),
                        g_strdup (_ ("factor")), g_strdup (_ ("without it, and as it stands")));
        }
    }
}

/* Money of the field hours of one area, which its own factor multiplies. */
static double
field_of_area (const Ask *ask, const JobWayFigures *f, gint64 area)
{
  JobScope scope = { ask->c->part.scope.system, area };
  JobTotals totals;
  CostSums part = { 0 };

  job_totals (f->job, &scope, f->method, &totals);
  part.labour[0] = totals.sums.labour[0];
  job_totals_clear (&totals);
  return cost_part_of_sums (job_basis (f->job), &part);
}

/* Where conditions multiply, the field hours of an area follow its factor in proportion; where they add, or runs were picked out, the
 * job is asked. */
static void
ask_area (Ask *ask, gint64 id, double now, const char *key)
{
  double low = now * (1 - EITHER_WAY), high = now * (1 + EITHER_WAY);
  char *name = g_strdup_printf (_ ("field factor of %s"), key), *unit = g_strdup (_ ("factor"));
  gint64 only = ask->c->part.scope.area;

  if (ask->c->part.ids || job_setting_word (ask->a->job, "conditions.join") != 0 || job_setting_word (ask->b->job, "conditions.join") != 0)
    take_altered (ask, JOB_DRIVE_AREA, low, now, high, alter_area, &id, name, unit, either_way ());
  else
    take_share (ask, JOB_DRIVE_AREA, -1, now, low, high,
                only != 0 && only != id ? 0 : field_of_area (ask, ask->a, id) - field_of_area (ask, ask->b, id), name, unit,
                either_way ());
}

static void
ask_areas (Ask *ask)
{
  TallyJob *job = ask->a->job;
  double floor = 0, remade = 0;
  gint64 raised = 1, n = 0;

  for (guint i = 0; i < job_n (job, JOB_AREA); i++)
    {
      const JobRecord *r = job_at (job, JOB_AREA, i);
      double now = r->num[AREA_FACTOR] == JOB_UNSET ? 1 : (double) r->num[AREA_FACTOR] / 1e6;
      ask_area (ask, r->id, now, r->text[AREA_KEY]);
      floor += r->num[AREA_FLOOR_SHARE] == JOB_UNSET ? 0 : (double) r->num[AREA_FLOOR_SHARE] / 1e6;
      remade += r->num[AREA_REMADE] == JOB_UNSET ? 0 : (double) r->num[AREA_REMADE] / 1e6;
      raised = MAX (raised, r->num[AREA_RAISED] == JOB_UNSET ? 1 : r->num[AREA_RAISED]);
      n++;
    }
  if (n == 0)
    return;
  take_altered (ask, JOB_DRIVE_FLOOR, 0, floor / (double) n, 0.5, alter_floor, NULL, g_strdup (_ ("share of joints made on the floor")),
                g_strdup (_ ("share, all areas")), g_strdup (_ ("none to half")));
  take_altered (ask, JOB_DRIVE_REMADE, 0, remade / (double) n, 0.1, alter_remade, NULL, g_strdup (_ ("share of joints remade")),
                g_strdup (_ ("share, all areas")), g_strdup (_ ("none to a tenth")));
  take_altered (ask, JOB_DRIVE_RAISED, 1, (double) raised, 3, alter_raised, NULL, g_strdup (_ ("pieces raised together")),
                g_strdup (_ ("pieces, all areas")), g_strdup (_ ("one to three")));
}

static int
by_swing (gconstpointer a, gconstpointer b)
{
  const JobDrive *x = *(JobDrive *const *) a, *y = *(JobDrive *const *) b;
  double wx = cost_swing_width (&x->swing), wy = cost_swing_width (&y->swing);

  if (wx != wy)
    return wx > wy ? -1 : 1;
  return x->kind != y->kind ? (int) x->kind - (int) y->kind : x->target - y->target;
}

GPtrArray *
job_sensitivity (const JobComparison *c, guint first, guint second)
{
  Ask ask = { c, job_comparison_way (c, first), job_comparison_way (c, second), 0, 0, NULL };

  ask.out = g_ptr_array_new_with_free_func ((GDestroyNotify) job_drive_free);
  if (ask.a->fault || ask.b->fault)
    return ask.out;
  ask.gain = cost_part_whole (&ask.a->option) - cost_part_whole (&ask.b->option);
  ask.today = job_way_gain (ask.a, ask.b);
  ask_items (&ask);
  ask_labour (&ask);
  ask_tooling (&ask);
  ask_steps (&ask);
  ask_areas (&ask);
  ask_conditions_of (&ask, JOB_HEAD, HEAD_CONDITION, -1);
  ask_conditions_of (&ask, JOB_AREA, AREA_CONDITION, AREA_KEY);
  ask_conditions_of (&ask, JOB_SYSTEM, SYSTEM_CONDITION, SYSTEM_KEY);
  take_altered (&ask, JOB_DRIVE_FIT, 0, 0, 1, alter_fit, NULL, g_strdup (_ ("ends cut to fit on site")),
                g_strdup (_ ("more a straight run")), g_strdup (_ ("none to one")));
  g_ptr_array_sort (ask.out, by_swing);
  return ask.out;
}

char *
job_drive_words (const JobDrive *d, int decimals)
{
  double unit = pow (10, decimals);
  g_autofree char *low = money_print ((gint64) round (d->swing.gain_low * unit), decimals, TRUE);
  g_autofree char *high = money_print ((gint64) round (d->swing.gain_high * unit), decimals, TRUE);

  if (!d->swing.turns)
    return g_strdup_printf (_ ("%s: gain from %s to %s; its sign does not turn on this alone"), d->name, low, high);
  return g_strdup_printf (_ ("%s: gain from %s to %s; its sign turns at %.3g"), d->name, low, high, d->swing.even);
}

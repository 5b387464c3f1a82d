/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "track/standing.h"

#include <math.h>
#include <string.h>

#define MH_PER_HOUR 1000.0

/* Worker time, ms x ppm of conditions; of the group hang and join what is done at the joint stands apart. */
typedef struct
{
  gint64 run;
  gboolean priced;
  NumWide group[LABOUR_N_GROUPS];
  NumWide joint;
} RunTime;

/* One area. */
typedef struct
{
  NumWide estimated[LABOUR_N_GROUPS]; /* ms x ppm */
  NumWide earned[LABOUR_N_GROUPS];    /* ms x ppm x four times the share done in ppm */
  gint64 spent[LABOUR_N_GROUPS];      /* thousandths of an hour */
} Row;

struct _Standing
{
  GHashTable *run;   /* gint64 -> RunTime */
  GHashTable *area;  /* gint64 -> Row */
  GArray *order;     /* gint64: areas with a figure */
  gint64 not_priced;
};

Standing *
standing_new (void)
{
  Standing *standing = g_new0 (Standing, 1);

  standing->run = g_hash_table_new_full (g_int64_hash, g_int64_equal, NULL, g_free);
  standing->area = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  standing->order = g_array_new (FALSE, FALSE, sizeof (gint64));
  return standing;
}

void
standing_free (Standing *standing)
{
  if (!standing)
    return;
  g_hash_table_unref (standing->run);
  g_hash_table_unref (standing->area);
  g_array_unref (standing->order);
  g_free (standing);
}

void
standing_forget (Standing *standing)
{
  g_hash_table_remove_all (standing->run);
}

/* ---- one run ---- */

static void
add_slots (const CostBasis *basis, const NumWide *slot_time, NumWide group[LABOUR_N_GROUPS], NumWide *joint)
{
  for (int i = 0; i < basis->n_slots; i++)
    {
      const CostSlot *slot = &basis->slots[i];
      group[slot->group] += slot_time[i];
      if (joint && slot->group == LABOUR_HANG_AND_JOIN && slot->place == LABOUR_JOINT)
        *joint += slot_time[i];
    }
}

static const RunTime *
time_of (Standing *standing, TallyJob *job, const JobRecord *run)
{
  RunTime *time = g_hash_table_lookup (standing->run, &run->id);
  const CostBasis *basis = job_basis (job);
  JobRunResult result;

  if (time)
    return time;
  time = g_new0 (RunTime, 1);
  time->run = run->id;
  time->priced = job_compute (job, run, JOB_OWN_METHOD, &result);
  if (time->priced)
    {
      g_autofree NumWide *slot_time = g_new0 (NumWide, (gsize) basis->n_slots);
      CostSums sums = { .slot_time = slot_time };
      LabourFactors factors;
      gint64 floor_ppm, times;

      job_run_conditions (job, run, &factors, &floor_ppm, &times);
      cost_sums_add (&sums, basis, result.vector, &factors, floor_ppm, times);
      add_slots (basis, slot_time, time->group, &time->joint);
    }
  job_run_result_clear (&result);
  g_hash_table_insert (standing->run, &time->run, time);
  return time;
}

gboolean
standing_run (Standing *standing, TallyJob *job, const JobRecord *run, double hours[DONE_N_STAGES])
{
  const RunTime *time = time_of (standing, job, run);
  double quarter = num_wide_to_double (time->group[LABOUR_GENERAL]) / 4;
  NumWide hung = time->group[LABOUR_DELIVER] + time->group[LABOUR_HANG_AND_JOIN] - time->joint;

  hours[DONE_FABRICATED] = (num_wide_to_double (time->group[LABOUR_FABRICATE]) + quarter) / COST_TIME_DEN;
  hours[DONE_HUNG] = (num_wide_to_double (hung) + quarter) / COST_TIME_DEN;
  hours[DONE_JOINED] = (num_wide_to_double (time->joint) + quarter) / COST_TIME_DEN;
  hours[DONE_TESTED] = (num_wide_to_double (time->group[LABOUR_SEAL_AND_TEST]) + quarter) / COST_TIME_DEN;
  return time->priced;
}

/* ---- the job ---- */

static Row *
row_of (Standing *standing, gint64 area)
{
  Row *row = g_hash_table_lookup (standing->area, &area);

  if (!row)
    {
      row = g_new0 (Row, 1);
      g_hash_table_insert (standing->area, g_memdup2 (&area, sizeof area), row);
    }
  return row;
}

static void
add_estimate (Standing *standing, TallyJob *job, gint64 area)
{
  JobScope scope = { 0, area == 0 ? -1 : area };
  JobTotals totals;

  job_totals (job, &scope, JOB_OWN_METHOD, &totals);
  add_slots (job_basis (job), totals.slot_time, row_of (standing, area)->estimated, NULL);
  standing->not_priced += totals.not_priced;
  job_totals_clear (&totals);
}

static void
add_earned (Standing *standing, TallyJob *job, const GArray *ticks)
{
  g_autoptr (GHashTable) table = done_table_new (ticks);
  GHashTableIter iter;
  const gint64 *id;

  g_hash_table_iter_init (&iter, table);
  while (g_hash_table_iter_next (&iter, (gpointer *) &id, NULL))
    {
      const JobRecord *run = job_find (job, JOB_RUN, *id);
      gint64 ticked[DONE_N_STAGES], done[DONE_N_STAGES], all = 0;
      const RunTime *time;
      Row *row;

      if (!run)
        continue;
      done_table_get (table, *id, ticked);
      done_effective (ticked, done);
      time = time_of (standing, job, run);
      row = row_of (standing, run->num[RUN_AREA] == JOB_UNSET ? 0 : run->num[RUN_AREA]);
      for (int i = 0; i < DONE_N_STAGES; i++)
        all += done[i];
      row->earned[LABOUR_FABRICATE] += time->group[LABOUR_FABRICATE] * done[DONE_FABRICATED] * 4;
      row->earned[LABOUR_DELIVER] += time->group[LABOUR_DELIVER] * done[DONE_HUNG] * 4;
      row->earned[LABOUR_HANG_AND_JOIN] += ((time->group[LABOUR_HANG_AND_JOIN] - time->joint) * done[DONE_HUNG]
                                            + time->joint * done[DONE_JOINED])
                                           * 4;
      row->earned[LABOUR_SEAL_AND_TEST] += time->group[LABOUR_SEAL_AND_TEST] * done[DONE_TESTED] * 4;
      row->earned[LABOUR_GENERAL] += time->group[LABOUR_GENERAL] * all;
    }
}

static gboolean
has_figure (const Row *row)
{
  for (int i = 0; row && i < LABOUR_N_GROUPS; i++)
    if (row->estimated[i] || row->earned[i] || row->spent[i])
      return TRUE;
  return FALSE;
}

static int
compare_ids (gconstpointer a, gconstpointer b)
{
  gint64 x = *(const gint64 *) a, y = *(const gint64 *) b;

  return (x > y) - (x < y);
}

static void
put_in_order (Standing *standing, TallyJob *job)
{
  g_autoptr (GArray) gone = g_array_new (FALSE, FALSE, sizeof (gint64));
  GHashTableIter iter;
  const gint64 *id;
  gint64 none = 0;

  g_array_set_size (standing->order, 0);
  if (has_figure (g_hash_table_lookup (standing->area, &none)))
    g_array_append_val (standing->order, none);
  for (guint i = 0; i < job_n (job, JOB_AREA); i++)
    {
      const gint64 *area = &job_at (job, JOB_AREA, i)->id;
      if (has_figure (g_hash_table_lookup (standing->area, area)))
        g_array_append_val (standing->order, *area);
    }
  g_hash_table_iter_init (&iter, standing->area);
  while (g_hash_table_iter_next (&iter, (gpointer *) &id, NULL))
    if (*id != 0 && !job_find (job, JOB_AREA, *id))
      g_array_append_val (gone, *id);
  g_array_sort (gone, compare_ids);
  g_array_append_vals (standing->order, gone->data, gone->len);
}

void
standing_update (Standing *standing, TallyJob *job, const GPtrArray *hours, const GArray *ticks)
{
  g_hash_table_remove_all (standing->area);
  standing->not_priced = 0;
  add_estimate (standing, job, 0);
  for (guint i = 0; i < job_n (job, JOB_AREA); i++)
    add_estimate (standing, job, job_at (job, JOB_AREA, i)->id);
  add_earned (standing, job, ticks);
  for (guint i = 0; i < hours->len; i++)
    {
      const HoursEntry *entry = g_ptr_array_index (hours, i);
      row_of (standing, entry->area)->spent[entry->group] += entry->worker_mh;
    }
  put_in_order (standing, job);
}

const GArray *
standing_areas (const Standing *standing)
{
  return standing->order;
}

gint64
standing_not_priced (const Standing *standing)
{
  return standing->not_priced;
}

static void
add_code (GArray *codes, gint64 area, LabourGroup group, const Earned *figures)
{
  StandingCode code = { area, group, *figures };

  if (figures->bac > 0 || figures->ev > 0 || figures->ac > 0)
    g_array_append_val (codes, code);
}

GArray *
standing_codes (const Standing *standing)
{
  GArray *codes = g_array_new (FALSE, FALSE, sizeof (StandingCode));

  for (int group = 0; group < LABOUR_N_GROUPS; group++)
    {
      Earned rest = { .pv = (double) NAN };
      for (guint i = 0; i < standing->order->len; i++)
        {
          gint64 area = g_array_index (standing->order, gint64, i);
          Earned e;
          standing_get (standing, area, group, &e);
          if (area != 0 && e.ac > 0)
            {
              add_code (codes, area, (LabourGroup) group, &e);
              continue;
            }
          rest.bac += e.bac;
          rest.ev += e.ev;
          rest.ac += e.ac;
        }
      add_code (codes, 0, (LabourGroup) group, &rest);
    }
  return codes;
}

gboolean
standing_comparable (const Standing *standing, gint64 area)
{
  const gint64 none = 0;
  const Row *row = g_hash_table_lookup (standing->area, &area), *whole = g_hash_table_lookup (standing->area, &none);

  if (area == 0)
    {
      for (guint i = 0; i < standing->order->len; i++)
        {
          gint64 other = g_array_index (standing->order, gint64, i);
          if (other != 0 && !standing_comparable (standing, other))
            return FALSE;
        }
      return TRUE;
    }
  for (int group = 0; row && whole && group < LABOUR_N_GROUPS; group++)
    if (row->earned[group] > 0 && row->spent[group] == 0 && whole->spent[group] > 0)
      return FALSE;
  return TRUE;
}

void
standing_accuracy (const Standing *standing, Accuracy *out)
{
  g_autoptr (GArray) codes = standing_codes (standing);
  g_autofree AccuracyPair *pair = g_new0 (AccuracyPair, codes->len + 1);

  for (guint i = 0; i < codes->len; i++)
    {
      const Earned *e = &g_array_index (codes, StandingCode, i).figures;
      pair[i] = (AccuracyPair) { e->ev, e->ac };
    }
  accuracy_of (pair, codes->len, out);
}

void
standing_get (const Standing *standing, gint64 area, int group, Earned *out)
{
  NumWide estimated = 0, earned = 0;
  gint64 spent = 0;
  GHashTableIter iter;
  const gint64 *id;
  const Row *row;

  g_hash_table_iter_init (&iter, standing->area);
  while (g_hash_table_iter_next (&iter, (gpointer *) &id, (gpointer *) &row))
    for (int i = 0; i < LABOUR_N_GROUPS; i++)
      if ((area < 0 || *id == area) && (group < 0 || i == group))
        {
          estimated += row->estimated[i];
          earned += row->earned[i];
          spent += row->spent[i];
        }
  out->bac = num_wide_to_double (estimated) / COST_TIME_DEN;
  out->ev = num_wide_to_double (earned) / (COST_TIME_DEN * 4 * DONE_ALL);
  out->ac = (double) spent / MH_PER_HOUR;
  out->pv = (double) NAN;
}

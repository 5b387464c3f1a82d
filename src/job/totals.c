/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/job-private.h"
#include "job/note-line.h"

#include <string.h>

static guint
bucket_hash (gconstpointer key)
{
  const JobBucket *b = key;

  return (guint) (b->system * 1000003 + b->area) ^ (guint) (GPOINTER_TO_SIZE (b->condition) >> 4) ^ (b->counted ? 0x5a5a5a5au : 0);
}

static gboolean
bucket_equal (gconstpointer a, gconstpointer b)
{
  const JobBucket *x = a, *y = b;

  /* Texts of records are interned, and the bucket holds its own. */
  return x->system == y->system && x->area == y->area && x->condition == y->condition && !x->counted == !y->counted;
}

static void
bucket_free (gpointer data)
{
  JobBucket *b = data;

  g_clear_pointer (&b->condition, g_ref_string_release);
  g_free (b->vector);
  g_free (b->not_priced);
  g_free (b->by_fallback);
  g_free (b->measured);
  g_free (b);
}

void
job_totals_init (TallyJob *job)
{
  job->buckets = g_hash_table_new_full (bucket_hash, bucket_equal, bucket_free, NULL);
}

void
job_totals_forget (TallyJob *job)
{
  g_hash_table_remove_all (job->buckets);
  job_labour_stale (job);
}

void
job_totals_stale (TallyJob *job)
{
  GHashTableIter iter;
  JobBucket *b;

  g_hash_table_iter_init (&iter, job->buckets);
  while (g_hash_table_iter_next (&iter, (gpointer *) &b, NULL))
    b->resolved = FALSE;
  job_labour_stale (job);
}

static void
add_vector (gint64 *to, const gint64 *vector, gint64 times, int n)
{
  for (int i = 0; i < n; i++)
    to[i] += vector[i] * times;
}

/* Room to price one shape: a vector a method, a measurement a connection (methods share connections). */
typedef struct
{
  gint64 *vector;
  DuctMeasure *measure;
  gint8 *state;    /* by connection: 0 not measured yet, 1 measured, -1 cannot be */
  int *effective;  /* by method, the run's own last */
  gboolean *priced;
} Scratch;

static Scratch
scratch_new (TallyJob *job)
{
  gsize methods = (gsize) job->basis->n_methods + 1, connections = job->catalogue->rules->connections->len;

  return (Scratch) { g_new (gint64, methods * (gsize) job->basis->n_vector), g_new (DuctMeasure, connections),
                     g_new (gint8, connections), g_new (int, methods), g_new (gboolean, methods) };
}

static void
scratch_clear (Scratch *scratch)
{
  g_free (scratch->vector);
  g_free (scratch->measure);
  g_free (scratch->state);
  g_free (scratch->effective);
  g_free (scratch->priced);
}

/* As job_price_shape(), but a connection that several methods share is measured once. */
static gboolean
price_method (TallyJob *job, const JobBucket *b, const DuctShape *shape, int method, Scratch *scratch)
{
  const CostBasis *basis = job->basis;
  int connection = catalogue_method (basis->catalogue, method)->connection;
  gint8 *state = &scratch->state[connection];

  if (*state == 0)
    {
      const DuctRules *rules = job->catalogue->rules;
      DuctBuild build;
      *state = (b->rule_set >= 0 || shape->sheet_pin >= 0)
                       && duct_choose_build (rules, b->rule_set, connection, shape, &build, NULL)
                       && duct_measure (rules, shape, &build, &scratch->measure[connection], NULL)
                   ? 1
                   : -1;
    }
  if (*state > 0)
    cost_price_measure (basis, method, (DuctKind) shape->kind, &scratch->measure[connection], job->point,
                        scratch->vector + (gsize) method * (gsize) basis->n_vector);
  return *state > 0;
}

/* Whether a method is for the section of a shape. */
static gboolean
is_for (const CostBasis *basis, int method, const DuctShape *shape)
{
  int connection = catalogue_method (basis->catalogue, method)->connection;

  return (duct_rules_connection (basis->catalogue->rules, connection)->section == DUCT_ROUND) == (shape->h == 0);
}

int
job_compared_method (TallyJob *job, int method, const DuctShape *shape, int own)
{
  return shape->h != 0 && !is_for (job->basis, method, shape) ? own : method;
}

/* Adds one shape, @count times over @rows runs, to a bucket under every method. Methods that fall back to the same method on
 * this shape are priced once. */
static void
add_shape (TallyJob *job, JobBucket *b, const DuctShape *shape, int own, gint64 count, gint64 rows, Scratch *scratch)
{
  const CostBasis *basis = job->basis;
  int n = basis->n_methods, width = basis->n_vector, runs = cost_measure_slot (basis, COST_RUNS);
  int *effective = scratch->effective;

  memset (scratch->state, 0, job->catalogue->rules->connections->len);
  for (int m = 0; m <= n; m++)
    {
      int same = 0;
      int asked = m < n ? job_compared_method (job, m, shape, own) : own;
      effective[m] = cost_effective_method (basis, asked, shape, NULL);
      while (same < m && effective[same] != effective[m])
        same++;
      scratch->priced[m] = same < m ? scratch->priced[same]
                                    : effective[m] >= 0 && price_method (job, b, shape, effective[m], scratch);
      if (!scratch->priced[m])
        {
          b->not_priced[m] += rows;
          continue;
        }
      gint64 *to = b->vector + (gsize) m * (gsize) width, kept = to[runs];
      add_vector (to, scratch->vector + (gsize) effective[m] * (gsize) width, count, width);
      to[runs] = kept + rows * 1000;
      if (effective[m] != cost_section_method (basis, asked, shape))
        b->by_fallback[m] += rows;
      if (is_for (basis, m < n ? m : own, shape))
        b->measured[m] += rows;
    }
}

static void
add_flat (TallyJob *job, JobBucket *b, const gint64 *vector, gint64 sign)
{
  int n = job->basis->n_methods, width = job->basis->n_vector;

  for (int m = 0; m <= n; m++)
    if (vector)
      add_vector (b->vector + (gsize) m * (gsize) width, vector, sign, width);
    else
      b->not_priced[m] += sign;
}

static void
add_run (TallyJob *job, const JobRecord *run, int sign, Scratch *scratch)
{
  JobBucket *b = job_bucket_of (job, run);
  DuctShape shape;
  gint64 count;
  int own;

  if (job_is_note_line (run))
    b->notes += sign;
  else if (run->num[RUN_KIND] == DUCT_COUNTED)
    add_flat (job, b, job_counted_vector (job, run, scratch->vector, NULL, NULL) ? scratch->vector : NULL, sign);
  else if (job_shape (job, run, b, &shape, &own, &count, NULL, NULL))
    add_shape (job, b, &shape, own, count / 1000 * sign, sign, scratch);
  else
    add_flat (job, b, NULL, sign);
}

void
job_totals_run (TallyJob *job, const JobRecord *run, int sign)
{
  Scratch scratch = scratch_new (job);

  add_run (job, run, sign, &scratch);
  scratch_clear (&scratch);
  job->learned_known = FALSE;
}

/* Like runs of one bucket, so that each distinct shape is measured and priced once. */
typedef struct
{
  DuctShape shape;
  JobBucket *bucket;
  int own;
  gint64 count, rows;
} Group;

static guint
group_hash (gconstpointer key)
{
  const Group *g = key;

  return duct_shape_hash (&g->shape) ^ (guint) (GPOINTER_TO_SIZE (g->bucket) >> 4) ^ ((guint) g->own << 20);
}

static gboolean
group_equal (gconstpointer a, gconstpointer b)
{
  const Group *x = a, *y = b;

  return x->bucket == y->bucket && x->own == y->own && duct_shape_equal (&x->shape, &y->shape);
}

static gboolean
in_scope (const JobScope *scope, gint64 system, gint64 area)
{
  return (scope->system == 0 || (scope->system < 0 ? system == 0 : system == scope->system))
         && (scope->area == 0 || (scope->area < 0 ? area == 0 : area == scope->area));
}

static void
clear_buckets (TallyJob *job, const JobScope *scope)
{
  gsize n = (gsize) job->basis->n_methods + 1;
  GHashTableIter iter;
  JobBucket *b;

  g_hash_table_iter_init (&iter, job->buckets);
  while (g_hash_table_iter_next (&iter, (gpointer *) &b, NULL))
    if (in_scope (scope, b->system, b->area))
      {
        memset (b->vector, 0, sizeof (gint64) * n * (gsize) job->basis->n_vector);
        memset (b->not_priced, 0, sizeof (gint64) * n);
        memset (b->by_fallback, 0, sizeof (gint64) * n);
        memset (b->measured, 0, sizeof (gint64) * n);
        b->notes = 0;
      }
}

/* Adds @n runs, those in @scope (NULL: all). */
static void
add_runs (TallyJob *job, gpointer const *runs, guint n, const JobScope *scope)
{
  g_autoptr (GHashTable) groups = g_hash_table_new (group_hash, group_equal);
  Scratch scratch = scratch_new (job);
  /* One block for all groups; entries of the table point into it, so it must not move. */
  g_autofree Group *block = g_new (Group, MAX (n, 1));
  gsize n_groups = 0;

  for (guint i = 0; i < n; i++)
    {
      const JobRecord *run = runs[i];
      Group *group = &block[n_groups], *known;
      JobBucket *b = job_bucket_of (job, run);
      gint64 count;

      if (scope && !in_scope (scope, b->system, b->area))
        continue;
      if (run->num[RUN_KIND] == DUCT_COUNTED || job_is_note_line (run)
          || !job_shape (job, run, b, &group->shape, &group->own, &count, NULL, NULL))
        {
          add_run (job, run, 1, &scratch);
          continue;
        }
      group->bucket = b;
      group->count = count / 1000;
      group->rows = 1;
      known = g_hash_table_lookup (groups, group);
      if (known)
        {
          known->count += group->count;
          known->rows++;
        }
      else
        {
          g_hash_table_add (groups, group);
          n_groups++;
        }
    }
  for (gsize i = 0; i < n_groups; i++)
    add_shape (job, block[i].bucket, &block[i].shape, block[i].own, block[i].count, block[i].rows, &scratch);
  scratch_clear (&scratch);
}

void
job_totals_rebuild (TallyJob *job, const JobScope *scope)
{
  job->learned_known = FALSE;
  clear_buckets (job, scope);
  add_runs (job, job->rows[JOB_RUN]->pdata, job->rows[JOB_RUN]->len, scope);
}

void
job_recompute (TallyJob *job)
{
  JobScope all = { 0, 0 };

  job_totals_forget (job);
  job_through_forget (job);
  job_totals_rebuild (job, &all);
}

void
job_totals_clear (JobTotals *totals)
{
  g_clear_pointer (&totals->vector, g_free);
  g_clear_pointer (&totals->slot_time, g_free);
}

/* Quantities times what repeats, and what remade joints take again. */
static void
add_quantities (JobTotals *totals, const CostBasis *basis, const gint64 *vector, const JobBucket *b)
{
  add_vector (totals->vector, vector, b->times, basis->n_vector);
  for (int i = 0; b->factors.remade != 0 && i < basis->n_items; i++)
    if (vector[i] != 0)
      totals->vector[i] += (cost_item_quantity (catalogue_item (basis->catalogue, i), vector[i], &b->factors) - vector[i]) * b->times;
}

void
job_totals (TallyJob *job, const JobScope *scope, int method, JobTotals *totals)
{
  const CostBasis *basis = job->basis;
  int column = method == JOB_OWN_METHOD ? basis->n_methods : method, width = basis->n_vector;
  gint64 learned = job_learned (job, method);
  GHashTableIter iter;
  JobBucket *b;

  memset (totals, 0, sizeof *totals);
  totals->vector = g_new0 (gint64, (gsize) width);
  totals->slot_time = totals->sums.slot_time = g_new0 (NumWide, (gsize) basis->n_slots);
  g_hash_table_iter_init (&iter, job->buckets);
  while (g_hash_table_iter_next (&iter, (gpointer *) &b, NULL))
    {
      if (!in_scope (scope, b->system, b->area))
        continue;
      const JobBucket *resolved = job_bucket (job, b);
      const gint64 *vector = b->vector + (gsize) column * (gsize) width;
      LabourFactors factors = resolved->factors;
      factors.learned = learned;
      cost_sums_add (&totals->sums, basis, vector, &factors, resolved->floor_ppm, resolved->times);
      add_quantities (totals, basis, vector, resolved);
      totals->runs += vector[cost_measure_slot (basis, COST_RUNS)] / 1000;
      totals->not_priced += b->not_priced[column];
      totals->notes += b->notes;
      totals->by_fallback += b->by_fallback[column];
      totals->measured += b->measured[column];
    }
}

gboolean
job_method_listed (TallyJob *job, const JobTotals *totals, int method)
{
  int connection = catalogue_method (job->catalogue, method)->connection;

  if (!job_offers_method (job, method))
    return FALSE;
  for (int m = 0; m < job->basis->n_methods; m++)
    if (totals[m].measured > 0)
      return totals[method].measured > 0;
  return duct_rules_connection (job->catalogue->rules, connection)->section != DUCT_ROUND;
}

GArray *
job_methods_listed (TallyJob *job, int also)
{
  int n = job->basis->n_methods;
  g_autofree JobTotals *totals = g_new0 (JobTotals, (gsize) MAX (n, 1));
  GArray *out = g_array_new (FALSE, FALSE, sizeof (int));
  JobScope all = { 0, 0 };

  for (int m = 0; m < n; m++)
    job_totals (job, &all, m, &totals[m]);
  for (int m = 0; m < n; m++)
    if (m == also || job_method_listed (job, totals, m))
      g_array_append_val (out, m);
  for (int m = 0; m < n; m++)
    job_totals_clear (&totals[m]);
  return out;
}

void
job_totals_of_runs (TallyJob *job, const gint64 *ids, gsize n, JobTotals *totals)
{
  g_autoptr (GPtrArray) runs = g_ptr_array_new ();
  g_autoptr (GHashTable) seen = g_hash_table_new (NULL, NULL);
  GHashTable *kept = job->buckets;
  JobScope all = { 0, 0 };

  for (gsize i = 0; i < n; i++)
    {
      const JobRecord *run = job_find (job, JOB_RUN, ids[i]);
      if (run && g_hash_table_add (seen, (gpointer) run))
        g_ptr_array_add (runs, (gpointer) run);
    }
  /* Buckets of their own for these runs, so that they are added by the same code as the whole job; learning goes on over all of its
   * joints, so that is looked up before. */
  job_learned (job, JOB_OWN_METHOD);
  job_totals_init (job);
  add_runs (job, runs->pdata, runs->len, NULL);
  for (int m = 0; m <= job->basis->n_methods; m++)
    job_totals (job, &all, m < job->basis->n_methods ? m : JOB_OWN_METHOD, &totals[m]);
  g_hash_table_unref (job->buckets);
  job->buckets = kept;
}

gboolean
job_check_totals (TallyJob *job)
{
  GHashTable *kept = job->buckets;
  gsize n = (gsize) job->basis->n_methods + 1, bytes = sizeof (gint64) * n * (gsize) job->basis->n_vector;
  gboolean same = TRUE;
  GHashTableIter iter;
  JobBucket *b;

  job_totals_init (job);
  job_recompute (job);
  /* A bucket that lost its last run stays behind with zeros; one that is missing is the same as zeros. */
  g_hash_table_iter_init (&iter, kept);
  while (g_hash_table_iter_next (&iter, (gpointer *) &b, NULL))
    {
      const JobBucket *anew = job_bucket (job, b);
      same = same && anew->notes == b->notes && memcmp (anew->vector, b->vector, bytes) == 0
             && memcmp (anew->not_priced, b->not_priced, sizeof (gint64) * n) == 0
             && memcmp (anew->by_fallback, b->by_fallback, sizeof (gint64) * n) == 0
             && memcmp (anew->measured, b->measured, sizeof (gint64) * n) == 0;
    }
  g_hash_table_iter_init (&iter, job->buckets);
  while (g_hash_table_iter_next (&iter, (gpointer *) &b, NULL))
    if (!g_hash_table_contains (kept, b))
      for (gsize i = 0; i < n; i++)
        same = same && b->not_priced[i] == 0 && b->notes == 0
               && b->vector[i * (gsize) job->basis->n_vector + (gsize) cost_measure_slot (job->basis, COST_RUNS)] == 0;
  g_hash_table_unref (kept);
  return same;
}

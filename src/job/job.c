/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/job-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define ORD_STEP (G_GINT64_CONSTANT (1) << 20)

G_DEFINE_QUARK (tally-job-error-quark, job_error)
G_DEFINE_FINAL_TYPE (TallyJob, tally_job, G_TYPE_OBJECT)

static void
tally_job_finalize (GObject *object)
{
  TallyJob *job = TALLY_JOB (object);

  job_totals_forget (job);
  job_through_forget (job);
  g_free (job->learned);
  g_hash_table_unref (job->buckets);
  for (int t = 0; t < JOB_N_TYPES; t++)
    {
      g_hash_table_unref (job->by_id[t]);
      g_ptr_array_unref (job->rows[t]);
    }
  g_ptr_array_unref (job->undo);
  g_ptr_array_unref (job->redo);
  g_ptr_array_unref (job->what_if);
  g_clear_pointer (&job->basis, cost_basis_unref);
  g_clear_pointer (&job->catalogue, catalogue_unref);
  G_OBJECT_CLASS (tally_job_parent_class)->finalize (object);
}

static void
tally_job_class_init (TallyJobClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tally_job_finalize;
  g_signal_new ("changed", TALLY_TYPE_JOB, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_POINTER);
}

static gint64
find_name (gpointer data, JobType type, const char *name)
{
  TallyJob *job = data;
  int slot = type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY;
  gint64 close = 0;

  /* "sa-1" is understood where only "SA-1" is there. */
  for (guint i = 0; i < job->rows[type]->len; i++)
    {
      const JobRecord *record = g_ptr_array_index (job->rows[type], i);
      if (g_strcmp0 (record->text[slot], name) == 0)
        return record->id;
      if (close == 0 && record->text[slot] && g_ascii_strcasecmp (record->text[slot], name) == 0)
        close = record->id;
    }
  return close;
}

static const char *
name_of (gpointer data, JobType type, gint64 id)
{
  const JobRecord *record = job_find (data, type, id);

  return record ? record->text[type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY] : NULL;
}

static void
tally_job_init (TallyJob *job)
{
  for (int t = 0; t < JOB_N_TYPES; t++)
    {
      job->rows[t] = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
      job->by_id[t] = g_hash_table_new (g_int64_hash, g_int64_equal);
    }
  job->undo = g_ptr_array_new_with_free_func ((GDestroyNotify) job_edit_free);
  job->redo = g_ptr_array_new_with_free_func ((GDestroyNotify) job_edit_free);
  job->what_if = g_ptr_array_new_with_free_func ((GDestroyNotify) cost_change_free);
  job->point = LABOUR_LIKELY;
  job->names = (JobNames) { find_name, name_of, job, FALSE };
  job_totals_init (job);
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const JobRecord *x = *(JobRecord *const *) a, *y = *(JobRecord *const *) b;

  if (x->ord != y->ord)
    return x->ord < y->ord ? -1 : 1;
  return x->id < y->id ? -1 : x->id > y->id;
}

/* First position whose row is not before (ord, id). */
static guint
lower_bound (const GPtrArray *rows, const JobRecord *record)
{
  guint low = 0, high = rows->len;

  while (low < high)
    {
      guint mid = (low + high) / 2;
      if (compare_rows (&rows->pdata[mid], &record) < 0)
        low = mid + 1;
      else
        high = mid;
    }
  return low;
}

/* Replaces, adds or removes one record in memory; takes a reference of its own on @after. */
void
job_put (TallyJob *job, JobRecord *before, JobRecord *after)
{
  JobType type = before ? before->type : after->type;
  GPtrArray *rows = job->rows[type];

  job_through_forget (job);
  if (before && after && before->ord == after->ord)
    {
      guint at = lower_bound (rows, before);
      g_hash_table_remove (job->by_id[type], &before->id);
      g_hash_table_insert (job->by_id[type], &after->id, after);
      /* The row may hold the last reference on the record it replaces. */
      job_record_ref (after);
      job_record_unref (rows->pdata[at]);
      rows->pdata[at] = after;
    }
  else
    {
      if (before)
        {
          g_hash_table_remove (job->by_id[type], &before->id);
          g_ptr_array_remove_index (rows, lower_bound (rows, before));
        }
      if (after)
        {
          g_ptr_array_insert (rows, (int) lower_bound (rows, after), job_record_ref (after));
          g_hash_table_insert (job->by_id[type], &after->id, after);
          job->last_id[type] = MAX (job->last_id[type], after->id);
        }
    }
  if (type == JOB_HEAD && after)
    job->names.metric = after->num[HEAD_UNITS] == 1;
}

TallyJob *
job_new (Catalogue *catalogue, const char *name)
{
  g_autoptr (JobRecord) head = job_record_new (JOB_HEAD, 1, 0);
  g_autoptr (GPtrArray) records = g_ptr_array_new ();
  TallyJob *job;

  job_record_set_text (head, HEAD_NAME, name);
  job_record_set_text (head, HEAD_CURRENCY, "USD");
  head->num[HEAD_UNITS] = 0;
  head->num[HEAD_DECIMALS] = 2;
  g_ptr_array_add (records, head);
  job = job_new_from_records (catalogue, records, NULL, NULL);
  g_assert (job); /* one head record is a whole job */
  return job;
}

static gboolean
broken (GError **error, const char *what)
{
  g_set_error_literal (error, JOB_ERROR, JOB_ERROR_INVALID, what);
  return FALSE;
}

static gboolean
known (TallyJob *job, JobType type, gint64 id)
{
  return id == JOB_UNSET || g_hash_table_contains (job->by_id[type], &id);
}

static gboolean
check_references (TallyJob *job, GError **error)
{
  for (guint i = 0; i < job->rows[JOB_SYSTEM]->len; i++)
    {
      const JobRecord *r = g_ptr_array_index (job->rows[JOB_SYSTEM], i);
      if (!r->text[SYSTEM_KEY] || find_name (job, JOB_SYSTEM, r->text[SYSTEM_KEY]) != r->id)
        return broken (error, _ ("two systems have one name, or one has none"));
    }
  for (guint i = 0; i < job->rows[JOB_AREA]->len; i++)
    {
      const JobRecord *r = g_ptr_array_index (job->rows[JOB_AREA], i);
      if (!r->text[AREA_KEY] || find_name (job, JOB_AREA, r->text[AREA_KEY]) != r->id)
        return broken (error, _ ("two areas have one name, or one has none"));
    }
  for (guint i = 0; i < job->rows[JOB_RUN]->len; i++)
    {
      const JobRecord *run = g_ptr_array_index (job->rows[JOB_RUN], i);
      if (!known (job, JOB_SYSTEM, run->num[RUN_SYSTEM]) || !known (job, JOB_AREA, run->num[RUN_AREA]))
        return broken (error, _ ("a run names a system or area that is not there"));
    }
  for (guint i = 0; i < job->rows[JOB_CELL]->len; i++)
    {
      const JobRecord *cell = g_ptr_array_index (job->rows[JOB_CELL], i);
      if (!known (job, JOB_SYSTEM, cell->num[CELL_SYSTEM]) || !known (job, JOB_AREA, cell->num[CELL_AREA]))
        return broken (error, _ ("a cell names a system or area that is not there"));
    }
  return TRUE;
}

TallyJob *
job_new_from_records (Catalogue *catalogue, GPtrArray *records, const gint64 last_id[JOB_N_TYPES], GError **error)
{
  g_autoptr (TallyJob) job = g_object_new (TALLY_TYPE_JOB, NULL);
  Fault *fault = NULL;

  job->catalogue = catalogue_ref (catalogue);
  for (guint i = 0; i < records->len; i++)
    {
      JobRecord *record = g_ptr_array_index (records, i);
      if (g_hash_table_contains (job->by_id[record->type], &record->id))
        {
          broken (error, _ ("the job holds a record twice"));
          return NULL;
        }
      g_ptr_array_add (job->rows[record->type], job_record_ref (record));
      g_hash_table_insert (job->by_id[record->type], &record->id, record);
      job->last_id[record->type] = MAX (job->last_id[record->type], record->id);
    }
  for (int t = 0; t < JOB_N_TYPES; t++)
    {
      g_ptr_array_sort (job->rows[t], compare_rows);
      if (last_id)
        job->last_id[t] = MAX (job->last_id[t], last_id[t]);
    }
  if (job->rows[JOB_HEAD]->len != 1)
    {
      broken (error, _ ("the job has no head record, or two"));
      return NULL;
    }
  if (!check_references (job, error))
    return NULL;
  job->names.metric = job_head (job)->num[HEAD_UNITS] == 1;
  if (!job_compile_basis (job, NULL, &job->basis, &fault))
    {
      g_autofree char *words = fault_words (fault, NULL);
      fault_free (fault);
      broken (error, words);
      return NULL;
    }
  job_recompute (job);
  return g_steal_pointer (&job);
}

TallyJob *
job_copy (TallyJob *job, LabourPoint point)
{
  g_autoptr (TallyJob) copy = g_object_new (TALLY_TYPE_JOB, NULL);

  copy->catalogue = catalogue_ref (job->catalogue);
  copy->basis = cost_basis_ref (job->basis);
  copy->point = point;
  copy->names.metric = job->names.metric;
  for (int t = 0; t < JOB_N_TYPES; t++)
    {
      copy->last_id[t] = job->last_id[t];
      for (guint i = 0; i < job->rows[t]->len; i++)
        {
          JobRecord *record = g_ptr_array_index (job->rows[t], i);
          g_ptr_array_add (copy->rows[t], job_record_ref (record));
          g_hash_table_insert (copy->by_id[t], &record->id, record);
        }
    }
  for (guint i = 0; i < job->what_if->len; i++)
    g_ptr_array_add (copy->what_if, cost_change_copy (g_ptr_array_index (job->what_if, i)));
  job_recompute (copy);
  return g_steal_pointer (&copy);
}

void
job_set_sink (TallyJob *job, const JobSink *sink)
{
  job->sink = sink ? *sink : (JobSink) { NULL, NULL };
}

const JobNames *
job_names (TallyJob *job)
{
  return &job->names;
}

const JobRecord *
job_head (TallyJob *job)
{
  return g_ptr_array_index (job->rows[JOB_HEAD], 0);
}

guint
job_n (TallyJob *job, JobType type)
{
  return job->rows[type]->len;
}

const JobRecord *
job_at (TallyJob *job, JobType type, guint i)
{
  g_return_val_if_fail (i < job->rows[type]->len, NULL);
  return g_ptr_array_index (job->rows[type], i);
}

const JobRecord *
job_find (TallyJob *job, JobType type, gint64 id)
{
  return g_hash_table_lookup (job->by_id[type], &id);
}

const JobRecord *
job_find_cell (TallyJob *job, gint64 system, gint64 area)
{
  for (guint i = 0; i < job->rows[JOB_CELL]->len; i++)
    {
      const JobRecord *cell = g_ptr_array_index (job->rows[JOB_CELL], i);
      if (cell->num[CELL_SYSTEM] == system && cell->num[CELL_AREA] == area)
        return cell;
    }
  return NULL;
}

int
job_decimals (TallyJob *job)
{
  gint64 decimals = job_head (job)->num[HEAD_DECIMALS];

  return decimals == JOB_UNSET ? 2 : (int) CLAMP (decimals, 0, 4);
}

int
job_position (TallyJob *job, gint64 run_id)
{
  const JobRecord *run = job_find (job, JOB_RUN, run_id);

  return run ? (int) lower_bound (job->rows[JOB_RUN], run) : -1;
}

gint64
job_take_id (TallyJob *job, JobType type)
{
  return ++job->last_id[type];
}

gboolean
job_ord_before (TallyJob *job, JobType type, guint at, guint count, gint64 *first, gint64 *step)
{
  const GPtrArray *rows = job->rows[type];
  gint64 below = at > 0 && rows->len > 0 ? ((JobRecord *) g_ptr_array_index (rows, MIN (at, rows->len) - 1))->ord : 0;

  if (at >= rows->len)
    *step = ORD_STEP;
  else
    *step = (((JobRecord *) g_ptr_array_index (rows, at))->ord - below) / ((gint64) count + 1);
  *first = below + *step;
  return *step >= 1;
}

void
job_edit_renumber (TallyJob *job, JobEdit *edit, JobType type)
{
  for (guint i = 0; i < job->rows[type]->len; i++)
    {
      JobRecord *row = g_ptr_array_index (job->rows[type], i), *moved = job_record_copy (row);
      moved->ord = ((gint64) i + 1) * ORD_STEP;
      job_edit_add (edit, job_record_ref (row), moved);
    }
}

CostBasis *
job_basis (TallyJob *job)
{
  return job->basis;
}

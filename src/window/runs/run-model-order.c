/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/runs/run-model-private.h"

/* Rows that come or go while a sort or filter is on: what went leaves, what comes back stands where it was, what is new stands
 * behind the row it follows in the job; nothing else moves, so that the table does not jump under the hands. */

typedef struct
{
  gint64 id;
  guint place; /* in the order shown, among what is there */
  guint at;    /* in the job */
} Coming;

static gint64 *
copy_id (gint64 id)
{
  gint64 *key = g_new (gint64, 1);

  *key = id;
  return key;
}

/* Takes away what the job has no more, and keeps in mind where it stood. */
static void
take_away (TallyRunModel *self, TallyJob *job)
{
  guint kept = 0;

  for (guint i = 0; i < self->order->len; i++)
    {
      gint64 id = g_array_index (self->order, gint64, i);
      if (job_find (job, JOB_RUN, id))
        g_array_index (self->order, gint64, kept++) = id;
      else
        g_hash_table_insert (self->gone, copy_id (id), GUINT_TO_POINTER (i + 1));
    }
  g_array_set_size (self->order, kept);
  run_model_forget_order (self);
}

/* Where a row stood, else behind the nearest row above it in the job that is shown. */
static guint
place_of (TallyRunModel *self, TallyJob *job, gint64 id, guint at)
{
  guint stood = GPOINTER_TO_UINT (g_hash_table_lookup (self->gone, &id));

  if (stood > 0)
    return stood - 1;
  while (at > 0)
    {
      int row = run_model_row_of (self, job_at (job, JOB_RUN, --at)->id);
      if (row >= 0)
        return (guint) row + 1;
    }
  return self->query.sort_field >= 0 ? self->order->len : 0;
}

static int
compare_coming (gconstpointer a, gconstpointer b)
{
  const Coming *x = a, *y = b;

  if (x->place != y->place)
    return x->place < y->place ? -1 : 1;
  return x->at < y->at ? -1 : x->at > y->at;
}

/* Of what comes, rows that stood here before and new ones are shown whatever the filter says, as they are in the user's hands. */
static GArray *
coming (TallyRunModel *self, TallyJob *job, const JobEdit *edit)
{
  GArray *out = g_array_new (FALSE, FALSE, sizeof (Coming));

  for (guint i = 0; i < edit->deltas->len; i++)
    {
      const JobDelta *d = &g_array_index (edit->deltas, JobDelta, i);
      if (d->before || d->after->type != JOB_RUN)
        continue;
      if (d->after->id <= self->newest && !g_hash_table_contains (self->gone, &d->after->id)
          && !job_query_holds (job, &self->query, d->after))
        continue;
      self->newest = MAX (self->newest, d->after->id);
      Coming row = { .id = d->after->id, .at = (guint) job_position (job, d->after->id) };
      row.place = place_of (self, job, row.id, row.at);
      g_array_append_val (out, row);
    }
  g_array_sort (out, compare_coming);
  return out;
}

/* Places of rows that stood here count the rows that went with them; those of new ones do not. As both rise, one walk does. */
static void
put_in (TallyRunModel *self, const GArray *rows)
{
  g_autoptr (GArray) order = g_array_sized_new (FALSE, FALSE, sizeof (gint64), self->order->len + rows->len);
  guint next = 0;

  for (guint i = 0; i <= self->order->len; i++)
    {
      while (next < rows->len)
        {
          const Coming *row = &g_array_index (rows, Coming, next);
          guint here = g_hash_table_contains (self->gone, &row->id) ? order->len : i;
          if (row->place > here && i < self->order->len)
            break;
          g_array_append_val (order, row->id);
          next++;
        }
      if (i < self->order->len)
        g_array_append_val (order, g_array_index (self->order, gint64, i));
    }
  g_array_set_size (self->order, 0);
  g_array_append_vals (self->order, order->data, order->len);
  for (guint i = 0; i < rows->len; i++)
    g_hash_table_remove (self->gone, &g_array_index (rows, Coming, i).id);
}

void
run_model_patch_order (TallyRunModel *self, const JobEdit *edit)
{
  TallyJob *job = session_job (self->session);

  take_away (self, job);
  g_autoptr (GArray) rows = coming (self, job, edit);
  put_in (self, rows);
  run_model_forget_order (self);
  grid_model_reset (TALLY_GRID_MODEL (self));
}

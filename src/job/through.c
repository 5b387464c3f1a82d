/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/job-private.h"

/* Lengths through fittings. A straight may be measured along the centrelines, through its elbows and other fittings;
 * what they take up (duct_through_length()) is then not duct. Each fitting is taken off the straight that it follows:
 * the nearest straight row above it in the same system and area, or, where there is none above, the first below. A row
 * stands for several runs where its count says so: the fittings of all of them are shared out evenly over the runs of
 * the straight row. What cannot be measured takes nothing off. */

gboolean
job_through_on (TallyJob *job)
{
  return job_head (job)->num[HEAD_THROUGH] == 1;
}

void
job_through_forget (TallyJob *job)
{
  g_clear_pointer (&job->through, g_hash_table_unref);
}

static gint64
whole_count (const JobRecord *run)
{
  gint64 count = run->num[RUN_COUNT] == JOB_UNSET ? 1000 : run->num[RUN_COUNT];

  return count > 0 && count % 1000 == 0 ? count / 1000 : 0;
}

/* The straight rows of one system in one area, as far as the walk has come. */
typedef struct
{
  const JobRecord *straight; /* the last one, NULL before the first */
  NumWide taken;             /* of all its runs; before the first straight, what waits for it */
} Line;

static void
close_line (TallyJob *job, const Line *line)
{
  gint64 one;

  if (!line->straight || line->taken <= 0
      || !num_narrow (num_wide_div (line->taken, whole_count (line->straight)), &one))
    return;
  g_hash_table_insert (job->through, g_memdup2 (&line->straight->id, sizeof (gint64)), g_memdup2 (&one, sizeof one));
}

static void
walk_row (TallyJob *job, GHashTable *lines, const JobRecord *run)
{
  JobBucket *b = job_bucket_of (job, run);
  Line *line = g_hash_table_lookup (lines, b);
  DuctShape shape;
  gint64 count;
  int own;

  if (!line)
    {
      line = g_new0 (Line, 1);
      g_hash_table_insert (lines, b, line);
    }
  if (run->num[RUN_KIND] == DUCT_STRAIGHT || run->num[RUN_KIND] == DUCT_ROUND_DUCT)
    {
      if (whole_count (run) == 0)
        return;
      if (line->straight)
        {
          close_line (job, line);
          line->taken = 0;
        }
      line->straight = run;
    }
  else if (run->num[RUN_KIND] != JOB_UNSET && duct_kind_measured ((DuctKind) run->num[RUN_KIND])
           && job_shape (job, run, b, &shape, &own, &count, NULL, NULL) && count > 0)
    line->taken += (NumWide) duct_through_length (job->catalogue->rules, &shape) * (count / 1000);
}

static void
build (TallyJob *job)
{
  g_autoptr (GHashTable) lines = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  GHashTableIter iter;
  Line *line;

  job->through = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  for (guint i = 0; i < job->rows[JOB_RUN]->len; i++)
    walk_row (job, lines, g_ptr_array_index (job->rows[JOB_RUN], i));
  g_hash_table_iter_init (&iter, lines);
  while (g_hash_table_iter_next (&iter, NULL, (gpointer *) &line))
    close_line (job, line);
}

gint64
job_through_deducted (TallyJob *job, const JobRecord *run)
{
  const gint64 *found;

  if (!job_through_on (job) || (run->num[RUN_KIND] != DUCT_STRAIGHT && run->num[RUN_KIND] != DUCT_ROUND_DUCT))
    return 0;
  if (!job->through)
    build (job);
  found = g_hash_table_lookup (job->through, &run->id);
  return found ? *found : 0;
}

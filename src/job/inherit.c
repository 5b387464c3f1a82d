/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/inherit.h"

#include <glib/gi18n-lib.h>

static const JobType holders[] = { [JOB_FROM_CELL] = JOB_CELL, [JOB_FROM_SYSTEM] = JOB_SYSTEM, [JOB_FROM_JOB] = JOB_HEAD };

static const JobRecord *
cell_of (TallyJob *job, const JobRecord *run)
{
  for (guint i = 0; i < job_n (job, JOB_CELL); i++)
    {
      const JobRecord *cell = job_at (job, JOB_CELL, i);
      if (cell->num[CELL_SYSTEM] == run->num[RUN_SYSTEM] && cell->num[CELL_AREA] == run->num[RUN_AREA])
        return cell;
    }
  return NULL;
}

gboolean
job_inherits (int field)
{
  static const char *const keys[] = { "class", "metal", "exposure", "method", "liner", "wrap" };
  const char *key = job_type_info (JOB_RUN)->field[field].key;

  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    if (g_str_equal (keys[i], key))
      return TRUE;
  return FALSE;
}

JobOrigin
job_inherited (TallyJob *job, const JobRecord *run, int field, char **text)
{
  const char *key = job_type_info (JOB_RUN)->field[field].key;
  const JobRecord *record[] = { cell_of (job, run),
                                run->num[RUN_SYSTEM] == JOB_UNSET ? NULL : job_find (job, JOB_SYSTEM, run->num[RUN_SYSTEM]),
                                job_head (job) };

  for (int i = JOB_FROM_CELL; job_inherits (field) && i < JOB_FROM_NOWHERE; i++)
    {
      int at = job_field_find (holders[i], key);
      g_autofree char *value = NULL;

      /* What could not be read there is nobody's value: the next one answers. */
      if (!record[i] || at < 0 || job_record_raw (record[i], at))
        continue;
      value = job_record_print (record[i], at, job_names (job));
      if (!*value)
        continue;
      if (text)
        *text = g_steal_pointer (&value);
      return (JobOrigin) i;
    }
  if (text)
    *text = g_strdup ("");
  return JOB_FROM_NOWHERE;
}

const char *
job_origin_words (JobOrigin origin)
{
  switch (origin)
    {
    case JOB_FROM_CELL:
      return _ ("system in this area");
    case JOB_FROM_SYSTEM:
      return _ ("system");
    case JOB_FROM_JOB:
      return _ ("job");
    case JOB_FROM_NOWHERE:
    default:
      return _ ("no entry");
    }
}

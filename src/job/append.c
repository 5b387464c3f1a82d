/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/append.h"

#include "job/note-line.h"

#include <glib/gi18n-lib.h>

/* What two runs must share to look like one, as one text. Lengths count, however they were written. */
static char *
likeness (TallyJob *job, const JobRecord *run)
{
  static const char *const typed[] = { "system", "area", "kind", "size", "size2", "length" };
  GString *out = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (typed); i++)
    {
      int field = job_field_find (JOB_RUN, typed[i]);
      const JobField *info = &job_type_info (JOB_RUN)->field[field];
      if (info->as == JOB_AS_SIZE)
        g_string_append_printf (out, "%" G_GINT64_FORMAT "x%" G_GINT64_FORMAT, run->num[info->slot], run->num[info->slot + 1]);
      else if (info->as == JOB_AS_LENGTH_FT)
        g_string_append_printf (out, "%" G_GINT64_FORMAT, run->num[info->slot]);
      else
        {
          g_autofree char *text = job_record_print (run, field, job_names (job));
          g_autofree char *folded = g_utf8_casefold (text, -1);
          g_string_append (out, folded);
        }
      /* What could not be read is alike only to the same text. */
      if (job_record_raw (run, field))
        g_string_append (out, job_record_raw (run, field));
      g_string_append_c (out, '\t');
    }
  if (run->text[RUN_ITEM])
    g_string_append (out, run->text[RUN_ITEM]);
  /* Of a note line there is nothing but its words. */
  if (job_is_note_line (run))
    g_string_append (out, job_note_line_words (run));
  return g_string_free (out, FALSE);
}

GArray *
job_likely_duplicates (TallyJob *to, TallyJob *from)
{
  g_autoptr (GHashTable) present = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GArray *out = g_array_sized_new (FALSE, TRUE, sizeof (gboolean), job_n (from, JOB_RUN));

  for (guint i = 0; i < job_n (to, JOB_RUN); i++)
    g_hash_table_add (present, likeness (to, job_at (to, JOB_RUN, i)));
  for (guint i = 0; i < job_n (from, JOB_RUN); i++)
    {
      g_autofree char *key = likeness (from, job_at (from, JOB_RUN, i));
      gboolean twice = g_hash_table_contains (present, key);
      g_array_append_val (out, twice);
    }
  return out;
}

/* ---- adding ---- */

typedef struct
{
  TallyJob *to, *from;
  JobEdit *edit;
  GHashTable *made[JOB_N_TYPES]; /* id there -> id here, as pointers to gint64 */
  guint added[JOB_N_TYPES];
} Append;

/* Id here of a system or area there, made when it is new. */
static gint64
place_here (Append *a, JobType type, gint64 id)
{
  const JobRecord *there = id == JOB_UNSET ? NULL : job_find (a->from, type, id);
  const JobNames *names = job_names (a->to);
  gint64 *kept, here, ord = 0, step = 0;
  JobRecord *added;

  if (!there)
    return JOB_UNSET;
  kept = g_hash_table_lookup (a->made[type], &id);
  if (kept)
    return *kept;
  here = names->find (names->data, type, there->text[type == JOB_SYSTEM ? SYSTEM_KEY : AREA_KEY]);
  if (here == 0)
    {
      here = job_take_id (a->to, type);
      job_ord_before (a->to, type, G_MAXUINT, 1, &ord, &step);
      added = job_record_copy (there);
      added->id = here;
      added->ord = ord + (gint64) a->added[type]++ * step;
      job_edit_add (a->edit, NULL, added);
    }
  g_hash_table_insert (a->made[type], g_memdup2 (&id, sizeof id), g_memdup2 (&here, sizeof here));
  return here;
}

JobEdit *
job_append_runs (TallyJob *to, TallyJob *from, const gboolean *take)
{
  Append a = { .to = to, .from = from };
  guint n = 0, done = 0;
  g_autofree char *label = NULL;
  gint64 ord = 0, step = 0;

  for (guint i = 0; i < job_n (from, JOB_RUN); i++)
    n += take[i] ? 1 : 0;
  label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "append of %u run", "append of %u runs", n), n);
  a.edit = job_edit_new (label);
  a.made[JOB_SYSTEM] = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  a.made[JOB_AREA] = g_hash_table_new_full (g_int64_hash, g_int64_equal, g_free, g_free);
  job_ord_before (to, JOB_RUN, G_MAXUINT, n, &ord, &step);
  for (guint i = 0; i < job_n (from, JOB_RUN); i++)
    {
      const JobRecord *there = job_at (from, JOB_RUN, i);
      JobRecord *run;
      if (!take[i])
        continue;
      run = job_record_copy (there);
      run->id = job_take_id (to, JOB_RUN);
      run->ord = ord + (gint64) done++ * step;
      run->num[RUN_SYSTEM] = place_here (&a, JOB_SYSTEM, there->num[RUN_SYSTEM]);
      run->num[RUN_AREA] = place_here (&a, JOB_AREA, there->num[RUN_AREA]);
      job_edit_add (a.edit, NULL, run);
    }
  g_hash_table_unref (a.made[JOB_SYSTEM]);
  g_hash_table_unref (a.made[JOB_AREA]);
  return a.edit;
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "job/cell.h"

#include "job/job-private.h"
#include "job/note-line.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* ---- reading ---- */

static gboolean
is_size (int field)
{
  const JobField *f = &job_type_info (JOB_RUN)->field[field];

  return f->as == JOB_AS_SIZE && f->slot == RUN_W;
}

/* "# second floor" in the cell of the kind or the size makes the line a note; what is typed where a note's words stand is
 * its words, unless a line that has no kind yet gets a size. */
static const char *
understood_note (const JobRecord *run, int field, const char *text)
{
  gboolean kind = job_type_info (JOB_RUN)->field[field].as == JOB_AS_KIND, size = is_size (field);
  const char *start = text;
  gint64 w, h;

  while (g_ascii_isspace (*start))
    start++;
  if ((kind || size) && *start == '#')
    return start + 1;
  if (size && job_is_note_line (run)
      && (run->num[RUN_KIND] == DUCT_REMARK || !duct_size_parse (text, LENGTH_IN, &w, &h, NULL)))
    return text;
  return NULL;
}

/* What parts two sizes, as in the line of entry; *behind is set behind it. NULL: there is one size. */
static const char *
second_size (const char *text, const char **behind)
{
  static const char *const marks[] = { "->", ">", "→", " to ", " on " };

  for (const char *p = text; *p; p = g_utf8_next_char (p))
    for (gsize i = 0; i < G_N_ELEMENTS (marks); i++)
      if (g_ascii_strncasecmp (p, marks[i], strlen (marks[i])) == 0)
        {
          *behind = p + strlen (marks[i]);
          return p;
        }
  return NULL;
}

gboolean
job_cell_read (JobRecord *run, int field, const char *text, const JobNames *names, Fault **fault)
{
  const char *note = understood_note (run, field, text), *mark, *behind;
  int second;

  if (note)
    {
      run->num[RUN_KIND] = DUCT_REMARK;
      job_record_set_raw (run, job_field_find (JOB_RUN, "kind"), NULL);
      return job_record_read (run, job_field_find (JOB_RUN, "note"), note, names, fault);
    }
  if (!is_size (field))
    return job_record_read (run, field, text, names, fault);
  if (run->num[RUN_KIND] == DUCT_COUNTED)
    return job_record_read (run, job_field_find (JOB_RUN, "item"), text, names, fault);
  second = job_field_find (JOB_RUN, "size2");
  mark = second_size (text, &behind);
  if (!mark)
    {
      /* What was typed is the whole cell: a second size that is not in it is not meant any more. */
      job_record_read (run, second, "", names, NULL);
      return job_record_read (run, field, text, names, fault);
    }
  g_autofree char *first = g_strstrip (g_strndup (text, (gsize) (mark - text))), *last = g_strstrip (g_strdup (behind));
  if (!job_record_read (run, field, first, names, fault))
    {
      job_record_read (run, second, last, names, NULL);
      return FALSE;
    }
  return job_record_read (run, second, last, names, fault);
}

/* ---- what is wrong in a cell ---- */

gboolean
job_cell_wrong (TallyJob *job, const JobRecord *run, int field, Fault **fault)
{
  const JobField *f = &job_type_info (JOB_RUN)->field[field];
  const char *raw = job_record_raw (run, field);
  const JobBucket *b;

  if (raw)
    {
      g_autoptr (JobRecord) again = job_record_copy (run);
      if (fault && job_record_read (again, field, raw, job_names (job), fault))
        fault_set (fault, fault_new (0, _ ("enter it again"), _ ("“%s” was not understood when it was entered"), raw));
      return TRUE;
    }
  if (f->as != JOB_AS_TEXT || run->num[RUN_KIND] == JOB_UNSET || !duct_kind_measured ((DuctKind) run->num[RUN_KIND]))
    return FALSE;
  b = job_bucket_of (job, run);
  if (f->slot == RUN_METHOD && run->text[RUN_METHOD] && catalogue_find_method (job->catalogue, run->text[RUN_METHOD]) < 0)
    {
      if (fault)
        fault_set (fault, job_method_fault (job->catalogue, run->text[RUN_METHOD]));
      return TRUE;
    }
  if (f->slot == RUN_GAUGE && run->text[RUN_GAUGE])
    {
      gint64 metal = run->num[RUN_METAL] != JOB_UNSET ? run->num[RUN_METAL] : b->metal;
      if (duct_rules_find_sheet (job->catalogue->rules, (DuctMetal) metal, run->text[RUN_GAUGE]) >= 0)
        return FALSE;
      if (fault)
        fault_set (fault, job_gauge_fault ());
      return TRUE;
    }
  return FALSE;
}

Fault *
job_gauge_fault (void)
{
  return fault_new (0, _ ("enter a gauge of the sheet table, or clear it"), _ ("there is no such gauge of this metal"));
}

Fault *
job_method_fault (const Catalogue *catalogue, const char *key)
{
  g_autoptr (GString) keys = g_string_new (NULL);

  for (guint i = 0; i < catalogue->methods->len; i++)
    g_string_append_printf (keys, "%s%s", i ? ", " : "", catalogue_method (catalogue, (int) i)->key);
  g_autofree char *remedy = g_strdup_printf (_ ("choose one of: %s"), keys->str);
  return key ? fault_new (0, remedy, _ ("there is no method “%s”"), key)
             : fault_new (-1, remedy, _ ("no method, or one that the catalogue does not have, is chosen for this system"));
}

/* ---- cautions ---- */

gboolean
job_minutes_missing (const Catalogue *catalogue, const JobRecord *run)
{
  int item;

  if (run->num[RUN_KIND] != DUCT_COUNTED || !run->text[RUN_ITEM] || run->num[RUN_SHOP_MINUTES] != JOB_UNSET
      || run->num[RUN_FIELD_MINUTES] != JOB_UNSET)
    return FALSE;
  item = catalogue_find_item (catalogue, run->text[RUN_ITEM]);
  return item < 0 || catalogue_item (catalogue, item)->group == COST_MATERIAL;
}

char *
job_caution_words (const Catalogue *catalogue, const JobRecord *run)
{
  if (job_minutes_missing (catalogue, run))
    return g_strdup (_ ("no minutes: 0.0 h; enter minutes of shop or field, 0 when there are none"));
  return job_unused_words (run);
}

/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "exchange/runs-csv.h"
#include "job/labour-model.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* ---- tables of systems, areas, cells and the job itself ---- */

static gboolean
is_provenance (const char *heading)
{
  g_autofree char *word = g_strstrip (g_ascii_strdown (heading, -1));

  return strcmp (word, "source") == 0 || strcmp (word, "status") == 0;
}

static void
complain (const CsvTable *table, GPtrArray *faults, int line, int column, const char *what, const char *remedy)
{
  const char *heading = column >= 0 ? g_ptr_array_index (table->head, (guint) column) : NULL;

  g_ptr_array_add (faults, csv_fault_new (table->name, line, column + 1, heading, what, remedy));
}

/* Field by column, -1 for where a figure comes from. */
static int *
map_columns (JobType type, const CsvTable *table, GPtrArray *faults)
{
  const JobTypeInfo *info = job_type_info (type);
  int *field = g_new (int, table->head->len);
  g_autoptr (GString) known = g_string_new (NULL);

  for (int i = 0; i < info->n_fields; i++)
    g_string_append_printf (known, "%s%s", i ? ", " : "", info->field[i].key);
  for (guint c = 0; c < table->head->len; c++)
    {
      const char *heading = g_ptr_array_index (table->head, c);
      field[c] = job_field_find (type, heading);
      if (field[c] >= 0 || is_provenance (heading))
        continue;
      g_autofree char *what = g_strdup_printf (_ ("the heading “%s” is not known"), heading);
      g_autofree char *remedy = g_strdup_printf (_ ("use one of: %s"), known->str);
      complain (table, faults, table->head_line, (int) c, what, remedy);
    }
  return field;
}

/* What tells two rows of a type apart; NULL when any number may be alike. Text for messages. */
static char *
identity (const JobRecord *record)
{
  switch (record->type)
    {
    case JOB_SYSTEM:
      return g_strdup (record->text[SYSTEM_KEY] ? record->text[SYSTEM_KEY] : "");
    case JOB_AREA:
      return g_strdup (record->text[AREA_KEY] ? record->text[AREA_KEY] : "");
    case JOB_CELL:
      return g_strdup_printf ("%" G_GINT64_FORMAT " x %" G_GINT64_FORMAT, record->num[CELL_SYSTEM],
                              record->num[CELL_AREA]);
    case JOB_DRAWING:
      return g_strdup (record->text[DRAWING_KEY] ? record->text[DRAWING_KEY] : "");
    case JOB_SETTING:
      return g_strdup (record->text[SETTING_KEY] ? record->text[SETTING_KEY] : "");
    case JOB_STOCK:
      return g_strdup (record->text[STOCK_ITEM] ? record->text[STOCK_ITEM] : "");
    case JOB_HEAD:
    case JOB_WHAT_IF:
    case JOB_CHANGE:
    case JOB_RUN:
    case JOB_N_TYPES:
    default:
      return NULL;
    }
}

static void
check_identity (const CsvTable *table, const CsvRow *row, const JobRecord *record, GHashTable *seen, GPtrArray *faults)
{
  g_autofree char *own = identity (record);

  if (!own)
    return;
  if (*own == '\0')
    complain (table, faults, row->line, -1, _ ("the row has no name"), _ ("enter one"));
  else if (record->type == JOB_CELL && (record->num[CELL_SYSTEM] == JOB_UNSET || record->num[CELL_AREA] == JOB_UNSET))
    complain (table, faults, row->line, -1, _ ("the row names no system or no area"), _ ("enter both"));
  else if (!g_hash_table_add (seen, g_strdup (own)))
    complain (table, faults, row->line, -1, _ ("the job or a row before has this already"),
              _ ("leave the row out, or give it another name"));
}

/* The row as an edit of the job. */
static void
read_row (TallyJob *job, const CsvTable *table, guint at, const int *field, JobRecord *record, GHashTable *seen,
          GPtrArray *faults)
{
  const CsvRow *row = g_ptr_array_index (table->row, at);
  /* The headings say feet and inches, whatever the units of the job. */
  JobNames names = *job_names (job);
  guint before = faults->len;

  names.metric = FALSE;
  for (guint c = 0; c < table->head->len; c++)
    {
      Fault *fault = NULL;
      if (field[c] < 0)
        continue;
      gboolean conditions = strcmp (job_type_info (record->type)->field[field[c]].key, "condition") == 0;
      const char *cell = csv_cell (table, at, (int) c);
      if (job_record_read (record, field[c], cell, &names, &fault)
          && (!conditions || !*cell || job_conditions_known (job, cell, &fault)))
        continue;
      complain (table, faults, row->line, (int) c, fault->what, fault->remedy);
      fault_free (fault);
    }
  if (faults->len == before)
    check_identity (table, row, record, seen, faults);
}

static void
read_rows (TallyJob *job, JobType type, const CsvTable *table, JobEdit *edit, GPtrArray *faults)
{
  g_autoptr (GHashTable) seen = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autofree int *field = map_columns (type, table, faults);
  gint64 ord = 0, step = 0;

  for (guint i = 0; i < job_n (job, type); i++)
    {
      char *own = identity (job_at (job, type, i));
      if (own)
        g_hash_table_add (seen, own);
    }
  if (type == JOB_HEAD && table->row->len != 1)
    {
      complain (table, faults, table->head_line, -1, _ ("a job is one row"), _ ("keep one row under the heading"));
      return;
    }
  job_ord_before (job, type, G_MAXUINT, table->row->len, &ord, &step);
  for (guint i = 0; i < table->row->len; i++)
    {
      JobRecord *before = type == JOB_HEAD ? job_record_ref (job_head (job)) : NULL;
      JobRecord *record =
          before ? job_record_copy (before) : job_record_new (type, job_take_id (job, type), ord + (gint64) i * step);
      read_row (job, table, i, field, record, seen, faults);
      job_edit_add (edit, before, record);
    }
}

static gboolean
refuse (const CsvTable *table, const GPtrArray *faults, GError **error)
{
  g_autofree char *first = csv_fault_words (g_ptr_array_index (faults, 0));

  g_set_error (error, JOB_ERROR, JOB_ERROR_INVALID,
               g_dngettext (GETTEXT_PACKAGE, "%s: %u fault; %s", "%s: %u faults, the first: %s", faults->len),
               table->name, faults->len, first);
  return FALSE;
}

/* Copies of those of @from. */
static void
append_faults (GPtrArray *to, const GPtrArray *from)
{
  for (guint i = 0; i < from->len; i++)
    {
      const CsvFault *f = g_ptr_array_index (from, i);
      g_ptr_array_add (to, csv_fault_new (f->file, f->line, f->column, f->heading, f->what, f->remedy));
    }
}

gboolean
exchange_read_records (TallyJob *job, JobType type, const CsvTable *table, GPtrArray *faults, GError **error)
{
  g_autoptr (GPtrArray) own = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (JobEdit) edit = NULL;

  if (type == JOB_RUN)
    {
      g_autoptr (RunsImport) import = runs_import_new (job, table);
      runs_import_read (import, job);
      append_faults (own, import->faults);
      edit = runs_import_edit (import, job, FALSE);
    }
  else
    {
      g_autofree char *label = g_strdup_printf (_ ("rows of %s"), table->name);
      edit = job_edit_new (label);
      read_rows (job, type, table, edit, own);
    }
  if (faults)
    append_faults (faults, own);
  if (own->len > 0)
    return refuse (table, own, error);
  return job_apply (job, g_steal_pointer (&edit), error);
}

/* ---- the demo ---- */

typedef struct
{
  const char *name; /* of the table in the data compiled in; NULL ends the list */
  JobType type;
} DemoPart;

static TallyJob *
demo_job (Catalogue *catalogue, const DemoPart *parts)
{
  g_autoptr (TallyJob) built = job_new (catalogue, _ ("Demo"));
  g_autoptr (GPtrArray) records = g_ptr_array_new_with_free_func ((GDestroyNotify) job_record_unref);
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);
  g_autoptr (GError) error = NULL;
  TallyJob *job;

  for (gsize i = 0; parts[i].name; i++)
    {
      g_autoptr (CsvTable) table = catalogue_data (parts[i].name, faults);
      if (!table || faults->len > 0 || !exchange_read_records (built, parts[i].type, table, NULL, &error))
        g_error ("%s: %s", parts[i].name, error ? error->message : "no table");
    }
  /* A job that was opened has nothing to undo. */
  for (int type = 0; type < JOB_N_TYPES; type++)
    for (guint i = 0; i < job_n (built, (JobType) type); i++)
      g_ptr_array_add (records, job_record_ref (job_at (built, (JobType) type, i)));
  job = job_new_from_records (catalogue, records, NULL, &error);
  if (!job)
    g_error ("demo: %s", error->message);
  return job;
}

TallyJob *
exchange_demo_job (Catalogue *catalogue)
{
  static const DemoPart parts[] = { { "demo-job", JOB_HEAD },   { "demo-systems", JOB_SYSTEM }, { "demo-areas", JOB_AREA },
                                    { "demo-cells", JOB_CELL }, { "demo-runs", JOB_RUN }, { "demo-settings", JOB_SETTING },       { NULL, JOB_N_TYPES } };

  return demo_job (catalogue, parts);
}

TallyJob *
exchange_demo_round_job (Catalogue *catalogue)
{
  static const DemoPart parts[] = { { "demo2-job", JOB_HEAD },   { "demo2-systems", JOB_SYSTEM },
                                    { "demo2-areas", JOB_AREA }, { "demo2-runs", JOB_RUN },
                                    { NULL, JOB_N_TYPES } };

  return demo_job (catalogue, parts);
}

/* ---- runs out ---- */

char *
exchange_runs_csv (TallyJob *job)
{
  const JobTypeInfo *info = job_type_info (JOB_RUN);
  GString *out = g_string_new (NULL);
  /* The format has inches and feet; what was entered in metric units is printed with them. */
  JobNames names = *job_names (job);

  names.metric = FALSE;
  for (int f = 0; f < info->n_fields; f++)
    csv_append_cell (out, info->field[f].key, f == 0);
  g_string_append_c (out, '\n');
  for (guint i = 0; i < job_n (job, JOB_RUN); i++)
    {
      for (int f = 0; f < info->n_fields; f++)
        {
          g_autofree char *text = job_record_print (job_at (job, JOB_RUN, i), f, &names);
          csv_append_cell (out, text, f == 0);
        }
      g_string_append_c (out, '\n');
    }
  return g_string_free (out, FALSE);
}

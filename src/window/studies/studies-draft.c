/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "window/studies/studies-private.h"

#include "base/table.h"
#include "cost/study-unlike.h"

#include <glib/gi18n.h>
#include <string.h>

char *
studies_today (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();

  return g_date_time_format (now, "%Y-%m-%d");
}

GPtrArray *
studies_of_draft (TallyDraft *draft)
{
  g_autoptr (GPtrArray) faults = g_ptr_array_new_with_free_func ((GDestroyNotify) csv_fault_free);

  return labour_studies_new (draft_tables (draft)[CATALOGUE_STUDIES], draft_tables (draft)[CATALOGUE_OBSERVATIONS], faults);
}

static void
set_cell (CsvTable *table, guint row, const char *heading, const char *text)
{
  csv_set_cell (table, row, csv_column (table, heading), text ? text : "");
}

static guint
add_row (CsvTable *table)
{
  CsvRow *row = g_new0 (CsvRow, 1);

  row->cell = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; i < table->head->len; i++)
    g_ptr_array_add (row->cell, g_strdup (""));
  row->line = (int) table->row->len + 2;
  g_ptr_array_add (table->row, row);
  return table->row->len - 1;
}

/* The column is there in the starter; an office that began before it gets it. */
void
studies_need_column (CsvTable *table, const char *heading)
{
  if (csv_column (table, heading) >= 0)
    return;
  g_ptr_array_add (table->head, g_strdup (heading));
  for (guint i = 0; i < table->row->len; i++)
    g_ptr_array_add (((CsvRow *) g_ptr_array_index (table->row, i))->cell, g_strdup (""));
}

static int
find_row (const CsvTable *table, const char *key)
{
  for (guint i = 0; i < table->row->len; i++)
    if (g_str_equal (csv_cell (table, i, csv_column (table, "study")), key))
      return (int) i;
  return -1;
}

int
studies_find_row (TallyDraft *draft, const char *key)
{
  return find_row (draft_tables (draft)[CATALOGUE_STUDIES], key);
}

char *
studies_add (TallyDraft *draft, const char *name)
{
  CsvTable *table = catalogue_copy_table (draft_tables (draft)[CATALOGUE_STUDIES]);
  char *key = g_strdup (name);
  static const char *const cells[][2] = { { "unit", "joint" },          { "allowance_pct", "0" }, { "allowance_basis", "day" },
                                          { "confidence_pct", "95" },   { "accuracy_pct", "5" },  { "needed_form", "t" },
                                          { "job_spread_pct", "15" },   { "source", "time study" }, { "status", "shop's own" } };
  guint row;

  for (int n = 2; find_row (table, key) >= 0; n++)
    {
      g_free (key);
      key = g_strdup_printf ("%s %d", name, n);
    }
  row = add_row (table);
  set_cell (table, row, "study", key);
  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    set_cell (table, row, cells[i][0], cells[i][1]);
  draft_replace (draft, CATALOGUE_STUDIES, table);
  return key;
}

void
studies_set (TallyDraft *draft, const char *key, const char *heading, const char *text)
{
  int row = studies_find_row (draft, key);
  CsvTable *table;

  if (row < 0 || g_str_equal (csv_cell (draft_tables (draft)[CATALOGUE_STUDIES], (guint) row,
                                        csv_column (draft_tables (draft)[CATALOGUE_STUDIES], heading)), text))
    return;
  table = catalogue_copy_table (draft_tables (draft)[CATALOGUE_STUDIES]);
  studies_need_column (table, heading);
  set_cell (table, (guint) row, heading, text);
  draft_replace (draft, CATALOGUE_STUDIES, table);
}

guint
studies_add_reading (TallyDraft *draft, const char *key, const StudiesEntry *entry)
{
  CsvTable *table = catalogue_copy_table (draft_tables (draft)[CATALOGUE_OBSERVATIONS]);
  guint row = add_row (table);
  const char *const cells[][2] = { { "study", key },
                                   { "date", entry->date },
                                   { "observer", entry->observer },
                                   { "crew_size", entry->crew_size },
                                   { "size", entry->size },
                                   { "lb", entry->lb },
                                   { "timed", entry->timed },
                                   { "method", entry->method },
                                   { "count", entry->count },
                                   { "clock_min", entry->clock_min },
                                   { "rating_pct", entry->rating },
                                   { "struck", entry->struck },
                                   { "note", entry->note },
                                   { "source", "time study" },
                                   { "status", "shop's own" } };

  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    set_cell (table, row, cells[i][0], cells[i][1]);
  draft_replace (draft, CATALOGUE_OBSERVATIONS, table);
  return row;
}

void
studies_remove_reading (TallyDraft *draft, guint row)
{
  CsvTable *table = catalogue_copy_table (draft_tables (draft)[CATALOGUE_OBSERVATIONS]);

  if (row < table->row->len)
    g_ptr_array_remove_index (table->row, row);
  for (guint i = 0; i < table->row->len; i++)
    ((CsvRow *) g_ptr_array_index (table->row, i))->line = (int) i + 2;
  draft_replace (draft, CATALOGUE_OBSERVATIONS, table);
}

void
studies_strike (TallyDraft *draft, const guint *rows, gsize n, const char *reason)
{
  CsvTable *table = catalogue_copy_table (draft_tables (draft)[CATALOGUE_OBSERVATIONS]);

  for (gsize i = 0; i < n; i++)
    if (rows[i] < table->row->len)
      set_cell (table, rows[i], "struck", reason);
  draft_replace (draft, CATALOGUE_OBSERVATIONS, table);
}

gboolean
studies_add_csv (TallyDraft *draft, const char *key, const CsvTable *file, guint *n, GPtrArray *faults)
{
  static const char *const columns[] = { "date", "observer", "size", "lb", "method", "rating_pct", "struck", "note", NULL };
  LabourStudy *study = labour_study_from_csv (file, faults);
  g_autofree char *today = studies_today ();
  CsvTable *table;

  if (!study)
    return FALSE;
  table = catalogue_copy_table (draft_tables (draft)[CATALOGUE_OBSERVATIONS]);
  studies_need_column (table, "lb");
  *n = study->readings->len;
  for (guint i = 0; i < study->readings->len; i++)
    {
      const LabourReading *r = g_ptr_array_index (study->readings, i);
      g_autofree char *crew = g_strdup_printf ("%d", r->crew_size), *count = g_strdup_printf ("%d", r->count);
      char minutes[G_ASCII_DTOSTR_BUF_SIZE], rating[G_ASCII_DTOSTR_BUF_SIZE];
      guint row = add_row (table);
      for (gsize c = 0; columns[c]; c++)
        set_cell (table, row, columns[c], csv_cell (file, r->row, csv_column (file, columns[c])));
      if (!*r->date)
        set_cell (table, row, "date", today);
      set_cell (table, row, "study", key);
      set_cell (table, row, "crew_size", crew);
      set_cell (table, row, "count", count);
      set_cell (table, row, "timed", r->timed);
      set_cell (table, row, "clock_min", g_ascii_formatd (minutes, sizeof minutes, "%.6g", r->clock_min));
      set_cell (table, row, "rating_pct", g_ascii_formatd (rating, sizeof rating, "%.6g", r->rating * 100));
      set_cell (table, row, "source", file->name);
      set_cell (table, row, "status", *r->status ? r->status : "shop's own");
    }
  labour_study_free (study);
  draft_replace (draft, CATALOGUE_OBSERVATIONS, table);
  return TRUE;
}

const char *
studies_method_name (TallyDraft *draft, const char *key)
{
  const CsvTable *methods = draft_tables (draft)[CATALOGUE_METHODS];

  for (guint i = 0; i < methods->row->len; i++)
    if (g_str_equal (csv_cell (methods, i, csv_column (methods, "method")), key))
      return csv_cell (methods, i, csv_column (methods, "name"));
  return key;
}

char *
studies_sentence (TallyDraft *draft, const LabourStudy *study)
{
  g_autoptr (GPtrArray) methods = labour_study_methods (study);
  const char *a = methods->len > 0 ? studies_method_name (draft, g_ptr_array_index (methods, 0)) : NULL;
  const char *b = methods->len > 1 ? studies_method_name (draft, g_ptr_array_index (methods, 1)) : NULL;

  g_autoptr (LabourResult) result = labour_study_result (study);
  g_ptr_array_unref (cost_study_unlike (result, LENGTH_IN));
  /* Two methods are paired by size; of one, a mean over unlike pieces is no answer. */
  for (guint i = 0; methods->len < 2 && i < result->elements->len; i++)
    {
      const LabourElement *e = &g_array_index (result->elements, LabourElement, i);
      if (e->unlike == LABOUR_BY_POUNDS)
        return g_strdup_printf (_ ("“%s” follows the pounds of the piece, which explain %.0f %% of its spread: see “Over size”."),
                                e->timed, e->explained * 100);
      if (e->unlike == LABOUR_BY_GIRTH)
        return g_strdup_printf (_ ("“%s” follows the girth of the duct, which explains %.0f %% of its spread: see “Over size”."), e->timed,
                                e->explained * 100);
    }
  return labour_study_sentence (study, a, b);
}

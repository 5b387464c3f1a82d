/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "labour/study.h"

#include "base/table.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

const char *const labour_allowance_keys[LABOUR_N_ALLOWANCES] = { "day", "normal" };
const char *const labour_form_keys[LABOUR_N_FORMS] = { "t", "ilo" };

const char *
labour_allowance_words (LabourAllowance basis)
{
  return basis == LABOUR_NORMAL ? _ ("L1: allowance as a share of normal time, N (1 + A)")
                                : _ ("L1: allowance as a share of the working day, N / (1 - A)");
}

const char *
labour_form_words (LabourForm form)
{
  return form == LABOUR_ILO_FORM ? _ ("L12: readings needed by the ILO form, k = 2 (95.45 %), deviation with divisor n")
                                 : _ ("L12: readings needed by Student's t, deviation with divisor n - 1");
}

static void
reading_free (gpointer data)
{
  LabourReading *r = data;

  g_free (r->date);
  g_free (r->observer);
  g_free (r->size);
  g_free (r->timed);
  g_free (r->method);
  g_free (r->struck);
  g_free (r->note);
  g_free (r->source);
  g_free (r->status);
  g_free (r);
}

void
labour_study_free (LabourStudy *study)
{
  g_free (study->key);
  g_free (study->step);
  g_free (study->unit);
  g_free (study->note);
  g_free (study->source);
  g_free (study->status);
  g_ptr_array_unref (study->readings);
  g_free (study);
}

static LabourStudy *
study_new (const char *key)
{
  LabourStudy *study = g_new0 (LabourStudy, 1);

  study->key = g_strdup (key);
  study->confidence = 0.95;
  study->accuracy = 0.05;
  study->job_spread = LABOUR_JOB_SPREAD_PPM / 1e6;
  study->readings = g_ptr_array_new_with_free_func (reading_free);
  return study;
}

/* A word or the first of the keys where the cell is empty or absent. */
static int
optional_word (const TableReader *r, const char *heading, const char *const *keys, gsize n)
{
  return *table_cell (r, heading) ? MAX (table_word (r, heading, keys, n), 0) : 0;
}

/* Optional columns came later: an absent one is an empty one. */
static LabourStudy *
read_study (const TableReader *r)
{
  LabourStudy *study = study_new (table_cell (r, "study"));

  study->step = g_strdup (table_cell (r, "step"));
  study->unit = g_strdup (*table_cell (r, "unit") ? table_cell (r, "unit") : "joint");
  study->allowance = (double) table_decimal (r, "allowance_pct", 4, 0, 0, 900000) / 1e6;
  study->basis = (LabourAllowance) optional_word (r, "allowance_basis", labour_allowance_keys, LABOUR_N_ALLOWANCES);
  study->confidence = (double) table_decimal (r, "confidence_pct", 4, 950000, 500000, 999900) / 1e6;
  study->accuracy = (double) table_decimal (r, "accuracy_pct", 4, 50000, 1000, 1000000) / 1e6;
  study->form = (LabourForm) optional_word (r, "needed_form", labour_form_keys, LABOUR_N_FORMS);
  study->job_spread = (double) table_decimal (r, "job_spread_pct", 4, LABOUR_JOB_SPREAD_PPM, 0, 1000000) / 1e6;
  study->half_width = (double) table_decimal (r, "half_width_min", 6, 0, 1, G_GINT64_CONSTANT (1000000000)) / 1e6;
  study->note = g_strdup (table_cell (r, "note"));
  study->source = g_strdup (table_cell (r, "source"));
  study->status = g_strdup (table_cell (r, "status"));
  return study;
}

/* "2026-03-09": sorts as it is written. */
static gboolean
is_date (const char *text)
{
  GDate date;
  int y, m, d, end = 0;

  if (sscanf (text, "%4d-%2d-%2d%n", &y, &m, &d, &end) != 3 || end != 10 || text[end] || y < 1900 || m < 1 || m > 12 || d < 1)
    return FALSE;
  g_date_clear (&date, 1);
  return g_date_valid_dmy ((GDateDay) d, (GDateMonth) m, (GDateYear) y);
}

static gint64
read_count (const TableReader *r, const char *heading, gint64 most)
{
  gint64 n = table_decimal (r, heading, 0, 1, 1, most);

  if (csv_column (r->table, heading) >= 0 && !*table_cell (r, heading))
    table_complain (r, heading, _ ("the figure is missing"), _ ("enter a whole number, 1 and up"));
  return n;
}

/* Why a reading is struck is words; a plain no is none. */
static gboolean
not_struck (const char *cell)
{
  static const char *const no[] = { "", "no", "n", "0", "false", "-" };

  for (gsize i = 0; i < G_N_ELEMENTS (no); i++)
    if (g_ascii_strcasecmp (cell, no[i]) == 0)
      return TRUE;
  return FALSE;
}

/* @clock: heading of the minutes. NULL after a complaint. */
static LabourReading *
read_reading (const TableReader *r, const char *clock)
{
  LabourReading *reading = g_new0 (LabourReading, 1);
  guint before = r->faults->len;
  const char *date = table_cell (r, "date");

  reading->date = g_strdup (date);
  if (*date && !is_date (date))
    table_complain (r, "date", _ ("not a date"), _ ("write year-month-day, as 2026-03-09"));
  reading->observer = g_strdup (table_cell (r, "observer"));
  reading->crew_size = (int) read_count (r, "crew_size", 100);
  reading->size = g_strdup (table_cell (r, "size"));
  reading->timed = g_strdup (*table_cell (r, "timed") ? table_cell (r, "timed") : LABOUR_WHOLE);
  reading->method = g_strdup (table_cell (r, "method"));
  reading->count = (int) read_count (r, "count", 100000);
  reading->clock_min = (double) table_decimal (r, clock, 6, 0, 1, G_GINT64_CONSTANT (100000000000)) / 1e6;
  if (!*table_cell (r, clock))
    table_complain (r, clock, _ ("the minutes are missing"), _ ("enter the minutes on the clock"));
  reading->rating = (double) table_decimal (r, "rating_pct", 4, 1000000, 10000, 10000000) / 1e6;
  /* A later column: it may be absent. */
  reading->lb = *table_cell (r, "lb") ? (double) table_decimal (r, "lb", 3, 0, 1, G_GINT64_CONSTANT (100000000)) / 1e3 : NAN;
  reading->struck = g_strdup (not_struck (table_cell (r, "struck")) ? "" : table_cell (r, "struck"));
  reading->note = g_strdup (table_cell (r, "note"));
  reading->source = g_strdup (table_cell (r, "source"));
  reading->status = g_strdup (table_cell (r, "status"));
  reading->minutes = reading->clock_min * reading->crew_size / reading->count;
  reading->row = r->row;
  if (r->faults->len == before)
    return reading;
  reading_free (reading);
  return NULL;
}

static LabourStudy *
find_study (const GPtrArray *studies, const char *key)
{
  int at = table_find (studies, key);

  return at >= 0 ? g_ptr_array_index (studies, (guint) at) : NULL;
}

GPtrArray *
labour_studies_new (const CsvTable *studies, const CsvTable *observations, GPtrArray *faults)
{
  static const char *const headings[] = { "study", "step", "unit", "allowance_pct", "allowance_basis", "confidence_pct",
                                          "accuracy_pct", "note", "source", "status", NULL };
  static const char *const columns[] = { "study", "date", "observer", "crew_size", "size", "timed", "method", "count", "clock_min",
                                         "rating_pct", "struck", "note", "source", "status", NULL };
  GPtrArray *out = g_ptr_array_new_with_free_func ((GDestroyNotify) labour_study_free);
  TableReader r;

  if (!table_begin (&r, studies, faults, headings))
    return out;
  for (r.row = 0; r.row < studies->row->len; r.row++)
    {
      if (!*table_cell (&r, "study"))
        table_complain (&r, "study", _ ("the study has no name"), _ ("enter one"));
      else if (find_study (out, table_cell (&r, "study")))
        table_complain (&r, "study", _ ("this study stands twice"), _ ("give each its own name"));
      else
        g_ptr_array_add (out, read_study (&r));
    }
  if (!table_begin (&r, observations, faults, columns))
    return out;
  for (r.row = 0; r.row < observations->row->len; r.row++)
    {
      LabourStudy *study = find_study (out, table_cell (&r, "study"));
      LabourReading *reading = read_reading (&r, "clock_min");
      if (!study)
        table_complain (&r, "study", _ ("no such study"), _ ("add it to the time studies first"));
      if (study && reading)
        g_ptr_array_add (study->readings, reading);
      else if (reading)
        reading_free (reading);
    }
  return out;
}

void
labour_read_studies (LabourTables *tables, const LabourSheets *sheets, GPtrArray *faults)
{
  tables->studies = labour_studies_new (sheets->studies, sheets->observations, faults);
}

int
labour_find_study (const LabourTables *tables, const char *key)
{
  return table_find (tables->studies, key);
}

const LabourStudy *
labour_study_of_source (const LabourTables *tables, const char *source)
{
  const char *key = g_str_has_prefix (source, "time study ") ? source + strlen ("time study ") : NULL;

  for (guint i = 0; key && i < tables->studies->len; i++)
    {
      const LabourStudy *study = g_ptr_array_index (tables->studies, i);
      gsize n = strlen (study->key);
      if (strncmp (key, study->key, n) == 0 && (key[n] == '\0' || key[n] == ','))
        return study;
    }
  return NULL;
}

/* ---- a file of its own ---- */

static LabourReading *
read_average (const TableReader *r)
{
  LabourReading *reading = g_new0 (LabourReading, 1);

  reading->date = g_strdup ("");
  reading->observer = g_strdup ("");
  reading->size = g_strdup ("");
  reading->method = g_strdup ("");
  reading->struck = g_strdup ("");
  reading->note = g_strdup ("");
  reading->source = g_strdup ("");
  reading->status = g_strdup ("");
  reading->timed = g_strdup (table_cell (r, "element"));
  reading->crew_size = 1;
  reading->count = 1;
  reading->average = TRUE;
  reading->lb = NAN;
  reading->clock_min = (double) table_decimal (r, "average_min", 6, 0, 1, G_GINT64_CONSTANT (100000000000)) / 1e6;
  if (!*table_cell (r, "average_min"))
    table_complain (r, "average_min", _ ("the minutes are missing"), _ ("enter the average of the readings kept"));
  reading->rating = (double) table_decimal (r, "rating", 6, 1000000, 10000, 10000000) / 1e6;
  reading->minutes = reading->clock_min;
  reading->row = r->row;
  return reading;
}

LabourStudy *
labour_study_from_csv (const CsvTable *table, GPtrArray *faults)
{
  static const char *const averages[] = { "element", "average_min", "rating", NULL };
  gboolean plain = csv_column (table, "average_min") >= 0;
  const char *clock = csv_column (table, "clock_min") < 0 && csv_column (table, "minutes") >= 0 ? "minutes" : "clock_min";
  const char *const readings[] = { clock, NULL };
  guint before = faults->len;
  g_autoptr (LabourStudy) study = study_new (table->name);
  TableReader r;

  study->step = g_strdup ("");
  study->unit = g_strdup ("");
  study->note = g_strdup ("");
  study->source = g_strdup (table->name);
  study->status = g_strdup ("");
  if (!table_begin (&r, table, faults, plain ? averages : readings))
    return NULL;
  for (r.row = 0; r.row < table->row->len; r.row++)
    {
      LabourReading *reading = plain ? read_average (&r) : read_reading (&r, clock);
      if (reading)
        g_ptr_array_add (study->readings, reading);
    }
  r.row = G_MAXUINT;
  if (table->row->len == 0 && faults->len == before)
    table_complain (&r, plain ? "average_min" : clock, _ ("the file has no reading"), _ ("add a line for each reading"));
  return faults->len == before ? g_steal_pointer (&study) : NULL;
}
